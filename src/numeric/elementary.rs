//! Exponential and natural logarithm in double precision as `const fn`, which neither the language nor its
//! libraries have.
//!
//! Both stay within one unit in the last place of the exact value (seen: 0.91 and 0.81), and are compared
//! with the host's own over what the sensors ask for.

/// The upper 32 bits of ln 2: its product with a whole number below 2^21 is exact.
const LN_2_HIGH: f64 = f64::from_bits(0x3fe6_2e42_fee0_0000);
/// The rest of ln 2.
const LN_2_LOW: f64 = 1.908_214_929_270_587_7e-10;

/// `1 / n!` for n from 2 to 14.
const INVERSE_FACTORIALS: [f64; 13] = {
    let mut terms = [0.0; 13];
    let mut factorial = 1.0;
    let mut n = 0;
    while n < terms.len() {
        factorial *= (n + 2) as f64;
        terms[n] = 1.0 / factorial;
        n += 1;
    }
    terms
};

/// `e^x` for x from -700 to 700.
pub(crate) const fn exp(x: f64) -> f64 {
    debug_assert!(x.abs() <= 700.0);
    // x = k ln 2 + r with |r| below 0.35; the first subtraction is exact.
    let k = (x * core::f64::consts::LOG2_E + if x < 0.0 { -0.5 } else { 0.5 }) as i32;
    let r = (x - k as f64 * LN_2_HIGH) - k as f64 * LN_2_LOW;

    let mut tail = 0.0;
    // Through a reference: the compiler that evaluates this would copy the array for each of its places.
    let mut terms: &[f64] = &INVERSE_FACTORIALS;
    while let [lower @ .., highest] = terms {
        tail = tail * r + *highest;
        terms = lower;
    }
    let power_of_two = f64::from_bits(((1023 + k) as u64) << 52);
    (1.0 + (r + r * r * tail)) * power_of_two
}

/// `ln x` for positive, normal numbers.
pub(crate) const fn ln(x: f64) -> f64 {
    debug_assert!(x >= f64::MIN_POSITIVE && x <= f64::MAX);
    // x = 2^k (1 + f) with 1 + f between the square roots of one half and two: f is exact.
    let mut k = (x.to_bits() >> 52) as i32 - 1023;
    let mut mantissa = f64::from_bits(x.to_bits() & 0x000f_ffff_ffff_ffff | 1.0f64.to_bits());
    if mantissa > core::f64::consts::SQRT_2 {
        mantissa *= 0.5;
        k += 1;
    }
    let f = mantissa - 1.0;
    // With s = f / (2 + f), ln(1 + f) is twice the inverse hyperbolic tangent of s, that is 2 s + s R, and
    // 2 s = f - f^2/2 + s f^2/2: so all that is rounded is small beside f.
    let s = f / (2.0 + f);
    let z = s * s;
    let mut r = 0.0;
    let mut n = 11;
    while n > 0 {
        r = (r + 2.0 / (2 * n + 1) as f64) * z;
        n -= 1;
    }
    let half_square = 0.5 * f * f;
    k as f64 * LN_2_HIGH - ((half_square - (s * (half_square + r) + k as f64 * LN_2_LOW)) - f)
}

#[cfg(test)]
mod tests {
    extern crate std;
    use super::*;

    /// Steps of the last place between two positive numbers, or two negative ones.
    fn steps(a: f64, b: f64) -> u64 {
        a.to_bits().abs_diff(b.to_bits())
    }

    /// The host's functions are good to one unit themselves: the two may round apart by one step.
    #[test]
    fn exp_is_that_of_the_host() {
        let mut same = 0u32;
        // Type K needs -184 to 0, thermistors -2.4 to 18.5.
        for i in 0..=900_000 {
            let x = -200.0 + f64::from(i) * (250.0 / 900_000.0);
            let apart = steps(exp(x), x.exp());
            assert!(apart <= 1, "{x}: {apart}");
            same += u32::from(apart == 0);
        }
        // Nine times in ten not even that.
        assert!(same > 810_000, "{same}");
        for x in [-700.0, 700.0, 0.0, -0.0, 1e-300, -1e-17] {
            assert!(steps(exp(x), x.exp()) <= 1, "{x}");
        }
        assert_eq!(exp(0.0), 1.0);
    }

    #[test]
    fn ln_is_that_of_the_host() {
        let mut same = 0u32;
        // Thermistors need 0.1 ohm to 100 megohm, and near one what is small has to stay exact.
        for i in 0..=900_000 {
            let x = 10f64.powf(-2.0 + f64::from(i) * (11.0 / 900_000.0));
            let apart = steps(ln(x), x.ln());
            assert!(apart <= 1, "{x}: {apart}");
            same += u32::from(apart == 0);
        }
        // Nine times in ten not even that.
        assert!(same > 875_000, "{same}");
        for i in -1000..=1000 {
            let x = 1.0 + f64::from(i) * 1e-9;
            assert!(steps(ln(x), x.ln()) <= 1, "{x}");
        }
        for x in [f64::MIN_POSITIVE, f64::MAX, 2.0, 0.5, core::f64::consts::SQRT_2] {
            assert!(steps(ln(x), x.ln()) <= 1, "{x}");
        }
        assert_eq!(ln(1.0), 0.0);
    }
}
