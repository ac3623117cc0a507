//! What may be left out for an error that is allowed.

use super::effect::{CorrectionStep, CorrectionSteps};
use super::{Omission, Significance};
use crate::error::{Error, Field};
use crate::units::Microstrain;

/// What may be left out together.
///
/// ```
/// use gaugewright::{commissioning::significance::CorrectionStep, units::*};
/// # let channel = gaugewright::example::CHANNEL.strain_within(Microstrain(1_000.0));
/// let may = channel.significance(Celsius(20.0), Celsius(60.0))?.negligible_within(Microstrain(2.0))?;
/// assert!(may.steps.contains(CorrectionStep::NonLinearity) && !may.steps.contains(CorrectionStep::ThermalOutput));
/// assert!(may.sum.0 <= 2.0 && may.together.bound.0 <= 2.0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Negligible {
    /// What may be left out.
    pub steps: CorrectionSteps,
    /// The sum of their bounds, mismatch not counted where thermal output contains it.
    pub sum: Microstrain,
    /// What leaving out all of them at once costs.
    pub together: Omission,
}

impl Significance {
    /// As many steps as may be left out, so that the sum of their errors' bounds keeps what is allowed, 0 to 1 000 000
    /// microstrain, and so does the bound of all at once; of several such sets, the one with the smallest sum. Errors
    /// of opposite signs are not set against each other.
    ///
    /// # Errors
    /// [`Error::Invalid`] for an allowed error out of range.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, units::*};
    /// use gaugewright::commissioning::significance::CorrectionSteps;
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).gauge_factor_slope(PercentPer100C(1.0))
    /// #     .matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// # let channel = Channel::new(gauge, Bridge::quarter_two_wire(Ohms(120.0), Ohms(0.3)),
    /// #     Converter::bipolar(24, Ratio(0.01))).specimen(ExpansionPerCelsius::ppm(12.0)).strain_within(Microstrain(1_000.0));
    /// let significance = channel.significance(Celsius(-40.0), Celsius(80.0))?;
    /// assert_eq!(significance.negligible_within(Microstrain(0.5))?.steps, CorrectionSteps::NONE);
    /// assert_eq!(significance.negligible_within(Microstrain(1_000.0))?.steps.count(), 5);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn negligible_within(&self, allowed: Microstrain) -> Result<Negligible, Error> {
        Field::AllowedError.check(allowed.0)?;
        let mut refused: u32 = 0;
        loop {
            let (mut best, mut least) = (CorrectionSteps::NONE, 0.0);
            let mut number = 0;
            while number < CorrectionSteps::SETS {
                let steps = CorrectionSteps::numbered(number);
                let sum = self.sum(steps);
                let better = steps.count() > best.count() || (steps.count() == best.count() && sum < least);
                if refused & 1 << number == 0 && sum <= allowed.0 && better {
                    (best, least) = (steps, sum);
                }
                number += 1;
            }
            let together = self.together(best)?;
            // Each scales the others, so that all at once can be a little more than the sum.
            if together.bound.0 <= allowed.0 || best.is_empty() {
                return Ok(Negligible { steps: best, sum: Microstrain(least), together });
            }
            refused |= 1 << best.number();
        }
    }

    /// Of the bounds; infinite with an effect that is not known.
    const fn sum(&self, steps: CorrectionSteps) -> f64 {
        let mut sum = 0.0;
        let mut k = 0;
        while k < CorrectionStep::ALL.len() {
            let effect = CorrectionStep::ALL[k];
            let contained =
                matches!(effect, CorrectionStep::Mismatch) && steps.contains(CorrectionStep::ThermalOutput);
            if steps.contains(effect) && !contained {
                sum += match self.of(effect) {
                    Some(omission) => omission.bound.0,
                    None => f64::INFINITY,
                };
            }
            k += 1;
        }
        sum
    }
}
