//! The coefficients of a least-squares problem, and how well they are known.

use super::triangle::Triangle;
use crate::error::{Error, Field, within};
use crate::numeric::Float;

/// A column of which less than this many rounding steps is its own leaves its coefficient three digits or fewer.
const STEPS: f64 = 1024.0;

#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct Solution<const TERMS: usize> {
    triangle: Triangle<f64, TERMS>,
    coefficients: [f64; TERMS],
    pub terms: usize,
    pub points: u32,
    /// Of a row of weight one.
    pub variance: f64,
}

/// One more than terms: without a degree of freedom nothing is known of the scatter.
pub(crate) fn check_points(points: u32, terms: usize) -> Result<(), Error> {
    within(Field::FitPoints, f64::from(points), (terms + 1) as f64, f64::INFINITY)
}

/// Terms are too many for the points, or for where they lie.
pub(crate) fn check_terms<T: Float, const TERMS: usize>(
    triangle: &Triangle<f64, TERMS>,
    points: u32,
    terms: usize,
) -> Result<(), Error> {
    check_points(points, terms)?;
    for column in 0..terms {
        within(Field::FitIndependence, triangle.independence(column), STEPS * T::STEP, 1.0)?;
    }
    Ok(())
}

impl<const TERMS: usize> Solution<TERMS> {
    /// For terms that [`check_terms`] has passed.
    pub fn of(triangle: &Triangle<f64, TERMS>, points: u32, terms: usize) -> Self {
        let freedom = f64::from(points) - terms as f64;
        Self {
            triangle: *triangle,
            coefficients: triangle.solve(terms),
            terms,
            points,
            variance: triangle.residual_squares(terms) / freedom,
        }
    }

    pub fn degrees_of_freedom(&self) -> u32 {
        self.points - self.terms as u32
    }

    /// The variance of a row of weight one if only this many terms had been fitted.
    pub fn variance_with(&self, terms: usize) -> f64 {
        self.triangle.residual_squares(terms) / (f64::from(self.points) - terms as f64)
    }

    /// A weighted sum of the coefficients.
    pub fn value(&self, weights: &[f64; TERMS]) -> f64 {
        weights.iter().zip(self.coefficients).map(|(w, c)| w * c).sum()
    }

    /// Covariance of two weighted sums of the coefficients.
    pub fn covariance(&self, one: &[f64; TERMS], other: &[f64; TERMS]) -> f64 {
        let (v, w) = (self.triangle.spread(one, self.terms), self.triangle.spread(other, self.terms));
        self.variance * v.iter().zip(w).map(|(v, w)| v * w).sum::<f64>()
    }

    /// Variance of a weighted sum of the coefficients.
    pub fn variance_of(&self, weights: &[f64; TERMS]) -> f64 {
        self.covariance(weights, weights)
    }
}
