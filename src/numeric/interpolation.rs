//! A smooth curve as a polynomial of degree five, and what the polynomial is off.

use crate::error::Error;
use crate::numeric::Polynomial;
use core::f64::consts::FRAC_1_SQRT_2;

/// Where, between -1 and 1: the zeros of the sixth Chebyshev polynomial, which keep the error nearly as small as
/// degree five can.
pub(crate) const PLACES: [f64; Polynomial::TERMS] = [
    -0.965_925_826_289_068_3,
    -FRAC_1_SQRT_2,
    -0.258_819_045_102_520_74,
    0.258_819_045_102_520_74,
    FRAC_1_SQRT_2,
    0.965_925_826_289_068_3,
];

/// How many temperatures two curves are compared at, less one.
const COMPARED: usize = 240;

/// The temperature at a place, or at any other part of the way from -1 at the low end to 1 at the high one.
fn temperature_at(place: f64, (low, high): (f64, f64)) -> f64 {
    (low + (high - low) * (1.0 + place) / 2.0).min(high)
}

/// The polynomial, against temperature above `about`, that has the values of a curve at six temperatures. In between it is
/// worked out from -1 to 1, where powers do not drown each other.
pub(crate) fn polynomial_through(
    curve: impl Fn(f64) -> Result<f64, Error>,
    (low, high): (f64, f64),
    about: f64,
) -> Result<Polynomial, Error> {
    let mut values = [0.0; Polynomial::TERMS];
    for (value, place) in values.iter_mut().zip(PLACES) {
        *value = curve(temperature_at(place, (low, high)))?;
    }
    let half = (high - low) / 2.0;
    let middle = low + half;
    let terms = powers_through(&PLACES, values);
    Ok(Polynomial::new(terms).substitute((about - middle) / half, 1.0 / half))
}

/// The coefficients, in ascending powers, of the polynomial that has these values at the places: Newton's divided
/// differences, multiplied out.
pub(crate) const fn powers_through<const N: usize>(places: &[f64; N], values: [f64; N]) -> [f64; N] {
    let mut differences = values;
    let mut order = 1;
    while order < N {
        let mut k = N - 1;
        while k >= order {
            differences[k] = (differences[k] - differences[k - 1]) / (places[k] - places[k - order]);
            k -= 1;
        }
        order += 1;
    }
    // From the innermost bracket.
    let mut terms = [0.0; N];
    let mut k = N;
    while k > 0 {
        k -= 1;
        let mut j = N - 1;
        while j > 0 {
            terms[j] = terms[j - 1] - terms[j] * places[k];
            j -= 1;
        }
        terms[0] = differences[k] - terms[0] * places[k];
    }
    terms
}

/// The largest difference of two curves at temperatures that lie close together.
pub(crate) fn largest_difference(
    one: impl Fn(f64) -> Result<f64, Error>,
    other: impl Fn(f64) -> f64,
    window: (f64, f64),
) -> Result<f64, Error> {
    let mut largest = 0.0f64;
    for k in 0..=COMPARED {
        let temperature = temperature_at(k as f64 * 2.0 / COMPARED as f64 - 1.0, window);
        largest = largest.max((one(temperature)? - other(temperature)).abs());
    }
    Ok(largest)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_polynomial_of_degree_five_comes_back() {
        let given = Polynomial::new([-43.2, 3.17, -0.0629, 2.5e-4, -1.7e-7, 6e-11]);
        let (window, about) = ((-200.0, 300.0), 24.0);
        let found =
            polynomial_through(|temperature| Ok(given.at(temperature - about)), window, about).unwrap();
        for (found, given) in found.coefficients().iter().zip(given.coefficients()) {
            assert!((found / given - 1.0).abs() < 1e-10, "{found}, not {given}");
        }
    }

    #[test]
    fn places_are_where_the_polynomial_of_chebyshev_is_zero() {
        for x in PLACES {
            let square = x * x;
            let value = 32.0 * square * square * square - 48.0 * square * square + 18.0 * square - 1.0;
            assert!(value.abs() < 1e-14, "{value}");
        }
    }

    #[test]
    fn curves_are_compared_from_end_to_end() {
        let window = (-7.0, 3.0);
        for end in [-7.0, 3.0] {
            let peak = |temperature: f64| Ok(if temperature == end { 1.0 } else { 0.0 });
            assert_eq!(largest_difference(peak, |_| 0.25, window), Ok(0.75));
        }
        assert_eq!(largest_difference(Ok, |_| 0.0, window), Ok(7.0));
        let refused = Error::BlockLength { samples: 1, other: 2 };
        assert_eq!(largest_difference(|_| Err(refused), |_| 0.0, window), Err(refused));
    }
}
