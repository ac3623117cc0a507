//! A smooth curve as a polynomial of degree five: through it at six places.

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

/// How many temperatures a polynomial is compared at.
const COMPARED: usize = 240;

/// The temperature at a place, or at any other part of the way from -1 at the low end to 1 at the high one.
pub(crate) const fn temperature_at(place: f64, low: f64, high: f64) -> f64 {
    let temperature = low + (high - low) * (1.0 + place) / 2.0;
    if temperature > high { high } else { temperature }
}

/// The temperatures, one after the other, that a polynomial is compared at.
pub(crate) const fn compared_at(k: usize, low: f64, high: f64) -> Option<f64> {
    if k > COMPARED { None } else { Some(temperature_at(k as f64 * 2.0 / COMPARED as f64 - 1.0, low, high)) }
}

/// The polynomial, against temperature above `about`, that has these values at the places. In between it is worked
/// out from -1 to 1, where powers do not drown each other.
pub(crate) const fn through(values: [f64; Polynomial::TERMS], low: f64, high: f64, about: f64) -> Polynomial {
    // Newton's divided differences.
    let mut differences = values;
    let mut order = 1;
    while order < Polynomial::TERMS {
        let mut k = Polynomial::TERMS - 1;
        while k >= order {
            differences[k] = (differences[k] - differences[k - 1]) / (PLACES[k] - PLACES[k - order]);
            k -= 1;
        }
        order += 1;
    }
    // Multiplied out, from the innermost bracket.
    let mut terms = [0.0; Polynomial::TERMS];
    let mut k = Polynomial::TERMS;
    while k > 0 {
        k -= 1;
        let mut j = Polynomial::TERMS - 1;
        while j > 0 {
            terms[j] = terms[j - 1] - terms[j] * PLACES[k];
            j -= 1;
        }
        terms[0] = differences[k] - terms[0] * PLACES[k];
    }
    let half = (high - low) / 2.0;
    let middle = low + half;
    Polynomial::new(terms).substitute((about - middle) / half, 1.0 / half)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_polynomial_of_degree_five_comes_back() {
        let given = Polynomial::new([-43.2, 3.17, -0.0629, 2.5e-4, -1.7e-7, 6e-11]);
        let (low, high, about) = (-200.0, 300.0, 24.0);
        let values = PLACES.map(|place| given.at(temperature_at(place, low, high) - about));
        let found = through(values, low, high, about);
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
        assert!(compared_at(0, -7.0, 3.0) == Some(-7.0) && compared_at(COMPARED, -7.0, 3.0) == Some(3.0));
        assert!(compared_at(COMPARED + 1, -7.0, 3.0).is_none());
    }
}
