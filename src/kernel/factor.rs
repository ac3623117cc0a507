//! The gauge factor as a polynomial of temperature, also where it refers to the free foil.

use crate::channel::Gauge;
use crate::numeric::{Interval, PLACES, Polynomial, powers_through};

/// What strain on the unloaded gauge is multiplied by.
///
/// Of a gauge factor `F` that refers to the free foil it is `F / (1 + F f)`, where `f` is the forced strain: smooth, as `F f` is
/// some thousandths, so that a short polynomial is close to it.
pub(super) struct Factor {
    /// Against degrees Celsius.
    pub polynomial: Polynomial,
    /// The largest error of the polynomial in the range, over the gauge factor.
    pub left_out: f64,
}

/// Degrees of `F` and of `f` are three at most, that of the polynomial five: room for `(1 + F f)` times it.
const TERMS: usize = 12;

/// Pieces of the range in which the error is enclosed.
const PIECES: usize = 64;

impl Factor {
    /// The highest degree there is.
    pub const MOST: usize = Polynomial::TERMS - 1;

    pub const fn of(gauge: &Gauge, (low, high): (f64, f64), degree: usize) -> Self {
        match gauge.forced() {
            None => Self::plain(gauge),
            Some(forced) => Self::of_free_foil(&gauge.factor_polynomial(), &forced, (low, high), degree),
        }
    }

    /// The gauge factor itself.
    pub const fn plain(gauge: &Gauge) -> Self {
        Self { polynomial: gauge.factor_polynomial(), left_out: 0.0 }
    }

    // Out of line, and once for kernels of all types.
    #[cold]
    #[inline(never)]
    const fn of_free_foil(
        factor: &Polynomial,
        forced: &Polynomial,
        (low, high): (f64, f64),
        degree: usize,
    ) -> Self {
        // From -1 to 1.
        let (middle, half) = (low + (high - low) / 2.0, (high - low) / 2.0);
        let factor = factor.substitute(middle, half);
        let foil = one_plus_product(&factor, &forced.substitute(middle, half));
        let polynomial = economised(&factor, &foil, degree);

        // F - P (1 + F f), over F.
        let error = residue(&factor, &polynomial, &foil) / factor.enclose(Interval::new(-1.0, 1.0)).low;
        Self { polynomial: polynomial.substitute(-middle / half, 1.0 / half), left_out: error }
    }
}

/// The largest magnitude, from -1 to 1, of `numerator - polynomial divisor`: what a polynomial in place of the fraction is off, times
/// the divisor.
const fn residue(numerator: &Polynomial, polynomial: &Polynomial, divisor: &[f64; TERMS]) -> f64 {
    let mut left = [0.0; TERMS];
    let mut i = 0;
    while i < Polynomial::TERMS {
        left[i] += numerator.coefficients()[i];
        let mut j = 0;
        while i + j < TERMS {
            left[i + j] -= polynomial.coefficients()[i] * divisor[j];
            j += 1;
        }
        i += 1;
    }
    largest(&left)
}

/// A polynomial in place of a fraction from -1 to 1, and the most that it is off.
pub(super) const fn through_fraction((numerator, divisor): &(Polynomial, Polynomial)) -> (Polynomial, f64) {
    let mut values = [0.0; Polynomial::TERMS];
    let mut terms = [0.0; TERMS];
    let mut k = 0;
    while k < values.len() {
        values[k] = numerator.at(PLACES[k]) / divisor.at(PLACES[k]);
        terms[k] = divisor.coefficients()[k];
        k += 1;
    }
    let polynomial = Polynomial::new(powers_through(&PLACES, values));
    let smallest = divisor.enclose(Interval::new(-1.0, 1.0)).reciprocal().magnitude();
    (polynomial, residue(numerator, &polynomial, &terms) * smallest)
}

const fn one_plus_product(factor: &Polynomial, forced: &Polynomial) -> [f64; TERMS] {
    let mut foil = [0.0; TERMS];
    foil[0] = 1.0;
    let mut i = 0;
    while i < Polynomial::TERMS {
        let mut j = 0;
        while j < Polynomial::TERMS {
            foil[i + j] += factor.coefficients()[i] * forced.coefficients()[j];
            j += 1;
        }
        i += 1;
    }
    foil
}

/// A polynomial through the values of the quotient, without its Chebyshev terms above a degree.
const fn economised(factor: &Polynomial, foil: &[f64; TERMS], degree: usize) -> Polynomial {
    let mut values = [0.0; Polynomial::TERMS];
    let mut k = 0;
    while k < values.len() {
        let x = Interval::point(PLACES[k]);
        values[k] = factor.at(PLACES[k]) / enclose(foil, x).middle();
        k += 1;
    }
    let mut c = powers_through(&PLACES, values);
    // Each power less its Chebyshev polynomial over that one's highest coefficient: what is left has lower powers only.
    if degree < 5 {
        (c[3], c[1], c[5]) = (c[3] + c[5] * 1.25, c[1] - c[5] * 0.3125, 0.0);
    }
    if degree < 4 {
        (c[2], c[0], c[4]) = (c[2] + c[4], c[0] - c[4] * 0.125, 0.0);
    }
    if degree < 3 {
        (c[1], c[3]) = (c[1] + c[3] * 0.75, 0.0);
    }
    if degree < 2 {
        (c[0], c[2]) = (c[0] + c[2] * 0.5, 0.0);
    }
    Polynomial::new(c)
}

/// Values over an interval, by Horner's rule.
const fn enclose(terms: &[f64; TERMS], over: Interval) -> Interval {
    let mut value = Interval::point(0.0);
    let mut k = TERMS;
    while k > 0 {
        k -= 1;
        value = value.times(over).plus(Interval::point(terms[k]));
    }
    value
}

/// The largest magnitude from -1 to 1: in each piece the value in its middle and what the slope can add.
const fn largest(terms: &[f64; TERMS]) -> f64 {
    let mut slope = [0.0; TERMS];
    // The coefficients are rounded, a few times each.
    let mut rounding = 0.0;
    let mut k = 0;
    while k < TERMS {
        if k > 0 {
            slope[k - 1] = k as f64 * terms[k];
        }
        rounding += 8.0 * f64::EPSILON * terms[k].abs();
        k += 1;
    }
    let mut largest = 0.0;
    let mut i = 0;
    while i < PIECES {
        let low = -1.0 + 2.0 * i as f64 / PIECES as f64;
        let piece = Interval::new(low, low + 2.0 / PIECES as f64);
        let middle = Interval::point(piece.middle());
        let value =
            enclose(terms, middle).plus(enclose(&slope, piece).times(piece.minus(middle))).magnitude();
        // A NaN must not pass for small.
        largest = if value <= largest { largest } else { value };
        i += 1;
    }
    largest + rounding
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::channel::{ForcedStrain, GaugeFactorBasis};
    use crate::units::{GaugeFactor, PercentPer100C};

    const RANGE: (f64, f64) = (-80.0, 120.0);

    /// What is left out is never less than at any of 4001 temperatures, and not twice as much; each degree leaves less.
    #[test]
    fn what_a_degree_leaves_out() {
        let gauge =
            Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07)).gauge_factor_basis(
                GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree([0.0, 8.35, 3.6e-3, -1e-6])),
            );
        let mut before = f64::INFINITY;
        for degree in 1..=Factor::MOST {
            let Factor { polynomial, left_out } = Factor::of(&gauge, RANGE, degree);
            assert!(polynomial.degree() <= degree);
            let mut seen: f64 = 0.0;
            for k in 0..=4000 {
                let celsius = RANGE.0 + (RANGE.1 - RANGE.0) * f64::from(k) / 4000.0;
                let d = celsius - 24.0;
                let forced = 1e-6 * d * (8.35 + d * (3.6e-3 - d * 1e-6));
                let factor = 2.065 * (1.0 + 1.07e-4 * d);
                seen = seen.max((polynomial.at(celsius) * (1.0 + factor * forced) / factor - 1.0).abs());
            }
            assert!(seen <= left_out + 1e-15 && left_out < 2.0 * seen + 2e-14, "{degree}: {seen} {left_out}");
            assert!(left_out < before, "{degree}");
            before = left_out;
        }
    }

    #[test]
    fn a_gauge_factor_that_refers_to_another_resistance_is_itself() {
        let gauge = Gauge::new(GaugeFactor(2.0)).gauge_factor_basis(GaugeFactorBasis::UnloadedGauge);
        let factor = Factor::of(&gauge, RANGE, 1);
        assert_eq!((factor.polynomial, factor.left_out), (gauge.factor_polynomial(), 0.0));
    }
}
