//! Which degree a fitted curve has.

use super::run::BLOCK;
use super::solution::{check_points, check_terms};
use super::triangle::Triangle;
use crate::error::{Error, Field, within};
use crate::numeric::{Float, coverage_factor};
use crate::units::Percent;

/// The degree of a fitted curve: given, or chosen by a criterion.
///
/// The criterion is the F-test for one coefficient. The curves of all degrees up to the highest are nested, and in the
/// orthogonal factor each degree takes a part of its own from the sum of squares, which if the degree is not needed is
/// nothing but scatter: that part over the residual variance of the highest degree tried is then distributed as F with one
/// degree of freedom over those left. The degree is the highest whose part is significant at the level given; lower ones
/// stay in, significant or not. A degree too high is so chosen with a probability of the level at most, for each degree
/// above the right one.
///
/// Two rules keep a choice honest where points are few:
///
/// - **Three degrees of freedom stay in reserve** at the highest degree tried: with one or two the scatter is known so badly
///   that next to nothing is significant. So `n` points try degrees up to `n - 4`, and fewer than six choose nothing and are
///   refused ([`Field::FitPoints`]): there would not be two degrees to choose from. A degree that is stated
///   ([`Exactly`](Self::Exactly)) needs no reserve; its band is wide where degrees of freedom are few.
/// - **The degree chosen is at least one.** A constant is zero since balance, with a band of zero, which no run shows. A slope
///   that is not significant stays in, and its uncertainty in the band.
///
/// How often a parabola is found in points at even distances, by the height of its middle over its ends in standard deviations
/// of the scatter, and how often a straight line is taken for something higher (%, of 4000 simulated runs each):
///
/// | points | height 3 | height 5 | height 10 | a line taken for more |
/// |---|---|---|---|---|
/// | 4, 5 | - | - | - | - |
/// | 6 | 16 | 45 | 96 | 1 |
/// | 7 | 18 | 47 | 97 | 2 |
/// | 8 | 20 | 51 | 98 | 2 |
/// | 9 | 20 | 54 | 98 | 3 |
/// | 10 | 31 | 77 | 100 | 3 |
/// | 12 | 52 | 96 | 100 | 3 |
/// | 15 | 72 | 100 | 100 | 4 |
/// | 20 | 91 | 100 | 100 | 4 |
/// | 30 | 99 | 100 | 100 | 4 |
/// | 50 | 100 | 100 | 100 | 4 |
///
/// Not significant either is what the rounding of the arithmetic may have made. In `f32` that is worth some
/// thousandths of a microstrain.
///
/// What is not judged is whether a coefficient is worth having: with many points the smallest effect is significant.
/// [`FittedThermalOutput::residual_standard_deviation_with`](super::FittedThermalOutput::residual_standard_deviation_with)
/// shows what each degree achieves.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Degree {
    /// This one, from 0 to 5 for thermal output and to 3 for a gauge factor.
    Exactly(usize),
    /// The highest one that is significant, at least one.
    Significant {
        /// None above is tried. Where the points are too few for it, or at too few temperatures, the highest that they
        /// determine with three degrees of freedom takes its place.
        highest: usize,
        /// Probability of taking chance for a coefficient, 0.01 to 50 %.
        level: Percent,
    },
}

/// Degrees of freedom that a choice keeps at the highest degree it tries.
const RESERVE: usize = 3;

/// The highest power of the variable, which is -1 to 1 over the temperatures declared, loses as many binary digits as its degree
/// times the logarithm of `range`: 25 of 53 at most in `f64`, 10 of 24 in `f32`.
fn check_range<T: Float>(range: f64, degree: usize) -> Result<(), Error> {
    let digits = if T::STEP < 1e-10 { 25.0 } else { 10.0 };
    within(Field::FitRange, range, 1.0, libm::exp2(digits / degree.max(1) as f64))
}

impl Degree {
    /// Any degree that thermal output may have, chosen by F-tests at this level: 0.01 to 50 %; 1 % is usual.
    ///
    /// ```
    /// use gaugewright::{commissioning::fit::Degree, units::Percent};
    /// assert_eq!(Degree::by_f_test(Percent(1.0)), Degree::Significant { highest: 5, level: Percent(1.0) });
    /// ```
    #[must_use]
    pub const fn by_f_test(level: Percent) -> Self {
        Self::Significant { highest: 5, level }
    }

    /// The number of terms, for temperatures declared `range` times as wide as the points lie.
    pub(crate) fn terms<T: Float, const TERMS: usize>(
        self,
        triangle: &Triangle<f64, TERMS>,
        points: u32,
        range: f64,
    ) -> Result<usize, Error> {
        let (Self::Exactly(highest) | Self::Significant { highest, .. }) = self;
        within(Field::FitDegree, highest as f64, 0.0, (TERMS - 1) as f64)?;
        let Self::Significant { level, .. } = self else {
            check_points(points, highest + 1)?;
            check_range::<T>(range, highest)?;
            check_terms::<T, TERMS>(triangle, points, highest + 1)?;
            return Ok(highest + 1);
        };
        Field::SignificanceLevel.check(level.0)?;
        // Two degrees at least to choose from, where there are two.
        let least = highest.min(2) + 1 + RESERVE;
        within(Field::FitPoints, f64::from(points), least as f64, f64::INFINITY)?;
        let mut most = (highest + 1).min(points as usize - RESERVE);
        check_range::<T>(range, most - 1)?;
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
        while terms > 2 && triangle.right[terms - 1] * triangle.right[terms - 1] <= by_chance {
            terms -= 1;
        }
        Ok(terms)
    }
}
