//! Which degree a fitted curve has.

use super::run::BLOCK;
use super::solution::check_terms;
use super::triangle::Triangle;
use crate::error::{Error, Field, within};
use crate::numeric::{Float, coverage_factor};
use crate::units::Percent;

/// The degree of a fitted curve: given, or chosen by a criterion.
///
/// The criterion is the F-test for one coefficient. The curves of all degrees up to the highest are nested, and in the
/// orthogonal factor each degree takes a part of its own from the sum of squares, which if the degree is not needed is
/// nothing but scatter: that part over the residual variance of the highest degree is then distributed as F with one
/// degree of freedom over those left. The degree is the highest whose part is significant at the level given; lower ones
/// stay in, significant or not. A degree too high is so chosen with a probability of the level at most, for each degree
/// above the right one.
///
/// Not significant either is what the rounding of the arithmetic may have made. In `f32` that is worth some
/// thousandths of a microstrain.
///
/// What is not judged is whether a coefficient is worth having: with many points the smallest effect is significant.
/// [`FittedThermalOutput::residual_standard_deviation_with`](super::FittedThermalOutput::residual_standard_deviation_with)
/// shows what each degree achieves.
///
/// ```
/// use gaugewright::{commissioning::fit::Degree, units::Percent};
/// assert_eq!(Degree::BY_SIGNIFICANCE, Degree::Significant { highest: 5, level: Percent(1.0) });
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Degree {
    /// This one, from 0 to 5 for thermal output and to 3 for a gauge factor.
    Exactly(usize),
    /// The highest one that is significant.
    Significant {
        /// None above is tried. Where the points do not determine it (too few, or at too few temperatures), the highest
        /// that they do determine takes its place.
        highest: usize,
        /// Probability of taking chance for a coefficient, 0.01 to 50 %.
        level: Percent,
    },
}

impl Degree {
    /// Any degree that thermal output may have, at a level of 1 %.
    ///
    /// ```
    /// use gaugewright::commissioning::fit::Degree;
    /// assert!(matches!(Degree::BY_SIGNIFICANCE, Degree::Significant { .. }));
    /// ```
    pub const BY_SIGNIFICANCE: Self = Self::Significant { highest: 5, level: Percent(1.0) };

    /// The number of terms.
    pub(crate) fn terms<T: Float, const TERMS: usize>(
        self,
        triangle: &Triangle<f64, TERMS>,
        points: u32,
    ) -> Result<usize, Error> {
        let (Self::Exactly(highest) | Self::Significant { highest, .. }) = self;
        within(Field::FitDegree, highest as f64, 0.0, (TERMS - 1) as f64)?;
        let Self::Significant { level, .. } = self else {
            check_terms::<T, TERMS>(triangle, points, highest + 1)?;
            return Ok(highest + 1);
        };
        within(Field::SignificanceLevel, level.0, 0.01, 50.0)?;
        let mut most = highest + 1;
        while let Err(error) = check_terms::<T, TERMS>(triangle, points, most) {
            // A curve has two terms at least to be determined by the points.
            if most <= 2 {
                return Err(error);
            }
            most -= 1;
        }

        let freedom = points - most as u32;
        let variance = triangle.residual_squares(most) / f64::from(freedom);
        let factor = coverage_factor(Percent(100.0 - level.0), freedom)?;
        // Each row adds a rounding of what has been summed up so far, and these add up as scatter does. It is all there is
        // to see where the points have no scatter of their own, and in `f32` after a hundred thousand of them.
        let blocks = points / BLOCK;
        let rows = f64::from(points.min(BLOCK)) + f64::from(blocks) * TERMS as f64;
        let rounding = 4.0 * T::STEP * T::STEP * rows * triangle.residual_squares(0);
        let by_chance = (factor * factor * variance).max(rounding);
        let mut terms = most;
        while terms > 1 && triangle.right[terms - 1] * triangle.right[terms - 1] <= by_chance {
            terms -= 1;
        }
        Ok(terms)
    }
}
