//! Cosine and sine of twice an angle, in const fn.

/// `(cos 2a, sin 2a)` of an angle in degrees, within 2e-16; exact at multiples of 45 degrees.
///
/// The remainder of a division is exact, so what is left of the angle is too: it is turned to radians last,
/// where it is an eighth of a turn at most and the series need ten terms.
pub(crate) const fn double_angle(degrees: f64) -> (f64, f64) {
    let twice = (degrees + degrees) % 360.0;
    let quarters = (if twice < 0.0 { twice / 90.0 - 0.5 } else { twice / 90.0 + 0.5 }) as i32;
    let x = (twice - 90.0 * quarters as f64) * (core::f64::consts::PI / 180.0);
    let (cosine, sine) = (series(x, 0), x * series(x, 1));
    match quarters.rem_euclid(4) {
        0 => (cosine, sine),
        1 => (-sine, cosine),
        2 => (-cosine, -sine),
        _ => (sine, -cosine),
    }
}

/// `1 - x^2 / ((n + 1)(n + 2)) + ...`: the cosine for `n` 0, the sine over `x` for `n` 1.
const fn series(x: f64, n: u32) -> f64 {
    let mut sum = 1.0;
    let mut k = 10;
    while k > 0 {
        let last = (2 * k + n) as f64;
        sum = 1.0 - x * x / ((last - 1.0) * last) * sum;
        k -= 1;
    }
    sum
}

#[cfg(test)]
mod tests {
    extern crate std;
    use super::double_angle;

    #[test]
    fn against_the_system_library() {
        for k in -7200..=7200 {
            let degrees = f64::from(k) * 0.05;
            let (cosine, sine) = double_angle(degrees);
            // The library is given an argument that is rounded: 2.3e-15 for the largest of 13 radians.
            let exact = (2.0 * degrees).to_radians();
            assert!((cosine - exact.cos()).abs() < 3e-15 && (sine - exact.sin()).abs() < 3e-15, "{degrees}");
            assert!((cosine * cosine + sine * sine - 1.0).abs() < 6e-16, "{degrees}");
        }
    }

    #[test]
    fn multiples_of_45_are_exact_and_60_is_as_good_as_f64() {
        for (degrees, exact) in [
            (0.0, (1.0, 0.0)),
            (45.0, (0.0, 1.0)),
            (90.0, (-1.0, 0.0)),
            (-45.0, (0.0, -1.0)),
            (360.0, (1.0, 0.0)),
        ] {
            assert_eq!(double_angle(degrees), exact);
        }
        for (degrees, sign) in [(60.0, 1.0), (120.0, -1.0), (-60.0, -1.0), (240.0, 1.0)] {
            let (cosine, sine) = double_angle(degrees);
            assert!(
                (cosine + 0.5).abs() < 2e-16 && (sine - sign * 0.75f64.sqrt()).abs() < 2e-16,
                "{degrees}"
            );
        }
    }
}
