//! A fitted curve over its temperatures, without units.

use super::run::chebyshev;
use super::solution::Solution;
use crate::error::{Error, Field, within};
use crate::numeric::coverage_factor;
use crate::units::{Celsius, Percent};

/// The variable of a fit: -1 to 1 over the temperatures declared.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Place {
    pub middle: f64,
    pub half: f64,
}

impl Place {
    pub fn between(low: f64, high: f64) -> Self {
        Self { middle: 0.5 * (low + high), half: 0.5 * (high - low) }
    }

    pub fn of(&self, temperature: f64) -> f64 {
        (temperature - self.middle) / self.half
    }

    /// Row j: what the coefficient of the j-th Chebyshev polynomial adds to each power of the degrees above `about`.
    /// A change of variable, exact but for rounding.
    pub fn powers<const TERMS: usize>(&self, about: f64) -> [[f64; TERMS]; TERMS] {
        let mut rows = [[0.0; TERMS]; TERMS];
        // In powers of x, whole numbers ...
        for j in 0..TERMS {
            if j < 2 {
                rows[j][j] = 1.0;
                continue;
            }
            for k in 0..TERMS {
                let twice = if k > 0 { 2.0 * rows[j - 1][k - 1] } else { 0.0 };
                rows[j][k] = twice - rows[j - 2][k];
            }
        }
        let offset = about - self.middle;
        for row in &mut rows {
            // ... of the degrees above the middle ...
            let mut scale = 1.0;
            for coefficient in row.iter_mut() {
                *coefficient /= scale;
                scale *= self.half;
            }
            // ... and of those above `about`.
            for end in 0..TERMS {
                for k in (end..TERMS - 1).rev() {
                    row[k] += offset * row[k + 1];
                }
            }
        }
        rows
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Curve<const TERMS: usize> {
    pub solution: Solution<TERMS>,
    pub place: Place,
    /// The lowest and the highest temperature of the points, C.
    pub low: f64,
    pub high: f64,
    /// The square of the uncertainty of a point of mean weight, in rows of weight one.
    pub mean_square: f64,
    pub weighted: bool,
}

impl<const TERMS: usize> Curve<TERMS> {
    /// The weights of the coefficients for the value at a temperature, which is refused outside of the points.
    pub fn weights(&self, temperature: Celsius) -> Result<[f64; TERMS], Error> {
        within(Field::Temperature, temperature.0, self.low, self.high)?;
        Ok(chebyshev(self.place.of(temperature.0)))
    }

    /// Those for the rise since another temperature.
    pub fn weights_since(&self, since: Option<f64>, temperature: Celsius) -> Result<[f64; TERMS], Error> {
        let mut weights = self.weights(temperature)?;
        if let Some(since) = since {
            let at = self.weights(Celsius(since))?;
            weights.iter_mut().zip(at).for_each(|(weight, at)| *weight -= at);
        }
        Ok(weights)
    }

    /// Coefficients of the powers of the degrees above `about`.
    pub fn coefficients(&self, about: f64) -> [f64; TERMS] {
        let columns = self.columns(about);
        columns.map(|weights| self.solution.value(&weights))
    }

    /// Covariance of those coefficients.
    pub fn covariance(&self, about: f64, since: Option<f64>) -> [[f64; TERMS]; TERMS] {
        let mut columns = self.columns(about);
        if let Some(since) = since {
            let at: [f64; TERMS] = chebyshev(self.place.of(since));
            columns[0].iter_mut().zip(at).for_each(|(weight, at)| *weight -= at);
        }
        columns.map(|one| columns.map(|other| self.solution.covariance(&one, &other)))
    }

    /// The weights that make each power's coefficient.
    fn columns(&self, about: f64) -> [[f64; TERMS]; TERMS] {
        let rows: [[f64; TERMS]; TERMS] = self.place.powers(about);
        core::array::from_fn(|k| core::array::from_fn(|j| rows[j][k]))
    }

    /// Standard deviation of a point of mean weight about a curve of so many terms.
    pub fn residual(&self, terms: usize) -> f64 {
        libm::sqrt(self.solution.variance_with(terms) * self.mean_square)
    }

    pub fn standard_uncertainty(&self, weights: &[f64; TERMS]) -> f64 {
        libm::sqrt(self.solution.variance_of(weights))
    }

    pub fn confidence(&self, weights: &[f64; TERMS], coverage: Percent) -> Result<f64, Error> {
        Ok(self.factor(coverage)? * self.standard_uncertainty(weights))
    }

    pub fn prediction(&self, weights: &[f64; TERMS], coverage: Percent) -> Result<f64, Error> {
        let one = self.solution.variance * self.mean_square;
        Ok(self.factor(coverage)? * libm::sqrt(self.solution.variance_of(weights) + one))
    }

    fn factor(&self, coverage: Percent) -> Result<f64, Error> {
        coverage_factor(coverage, self.solution.degrees_of_freedom())
    }

    /// Observed scatter over that of the uncertainties given.
    pub fn scatter_ratio(&self) -> Option<f64> {
        self.weighted.then(|| libm::sqrt(self.solution.variance))
    }
}
