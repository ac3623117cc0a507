//! A budget: the uncertainty of one strain by what it comes from.

use super::circuit::CIRCUIT;
use super::input::Input;
use super::inputs::StandardUncertainties;
use super::kernel::{OTHERS, UncertaintyKernel};
use crate::error::Error;
use crate::numeric::coverage_factor;
use crate::units::{Celsius, Microstrain, Percent};

/// What one input contributes.
///
/// ```
/// use gaugewright::{uncertainty::{Input, StandardUncertainties}, units::*};
/// # let channel = gaugewright::example::FLAT_FINEST;
/// let inputs = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(0.5)).of_thermal_output(Microstrain(5.0));
/// let contribution = inputs.budget(Microstrain(1_000.0), Celsius(20.0))?.contribution(Input::GaugeFactor);
/// assert!((contribution.effect.0 + 5.0).abs() < 1e-9 && (contribution.share.0 - 50.0).abs() < 1e-6);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Contribution {
    /// The input.
    pub input: Input,
    /// By how much strain moves with one standard uncertainty more of it; with the sign.
    pub effect: Microstrain,
    /// The same without the sign: its standard uncertainty in the strain.
    pub uncertainty: Microstrain,
    /// Its share of the combined variance. Zero where there is none.
    pub share: Percent,
    /// Degrees of freedom of its uncertainty; infinite where it is exact.
    pub degrees_of_freedom: f64,
}

/// An expanded uncertainty.
///
/// ```
/// use gaugewright::{uncertainty::{Input, StandardUncertainties}, units::*};
/// # let channel = gaugewright::example::FLAT_FINEST;
/// let inputs = StandardUncertainties::for_channel(channel).noise(100.0).degrees_of_freedom(Input::Noise, 10.0);
/// let expanded = inputs.budget(Microstrain(0.0), Celsius(20.0))?.expanded(Percent(95.0))?;
/// assert!((expanded.coverage_factor - 2.228).abs() < 1e-3);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Expanded {
    /// Half width of the interval: coverage factor times combined standard uncertainty.
    pub uncertainty: Microstrain,
    /// Student's t for the effective degrees of freedom, rounded down to a whole number (GUM G.6.4).
    pub coverage_factor: f64,
    /// The probability that the interval is for.
    pub coverage: Percent,
}

/// The uncertainty of a strain, by what it comes from.
///
/// ```
/// use gaugewright::{uncertainty::{Input, StandardUncertainties}, units::*};
/// # let channel = gaugewright::example::FLAT_FINEST;
/// let budget = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(0.5)).budget(Microstrain(1_000.0), Celsius(20.0))?;
/// let largest = budget.contributions().max_by(|one, other| one.share.0.total_cmp(&other.share.0)).unwrap();
/// assert!(largest.input == Input::GaugeFactor && largest.share.0 > 99.0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Budget {
    strain: Microstrain,
    temperature: Celsius,
    /// In the order of [`Input::ALL`].
    effects: [f64; Input::COUNT],
    degrees: [f64; Input::COUNT],
    parts: [f64; 2],
}

/// Effective degrees of freedom of a combined standard uncertainty (Welch and Satterthwaite, GUM G.4.1): its fourth power over the sum of
/// those of the contributions, each over its degrees of freedom.
///
/// Contributions are standard uncertainties with degrees of freedom, which count without their signs; all in one unit. Those of infinitely
/// many may be left out. The result is infinite where every contribution has infinitely many degrees of freedom. Round it down to a whole
/// number before Student's t is taken of it ([`coverage_factor`], GUM G.6.4). A contribution of zero or fewer degrees of freedom is not checked.
///
/// ```
/// use gaugewright::uncertainty::welch_satterthwaite;
/// // Two alike, of which one is known by five readings: four times its four degrees.
/// let degrees = welch_satterthwaite(f64::sqrt(2.0), [(1.0, 4.0), (1.0, f64::INFINITY)]);
/// assert!((degrees - 16.0).abs() < 1e-12);
/// assert_eq!(welch_satterthwaite(2.0, []), f64::INFINITY);
/// ```
#[must_use]
pub fn welch_satterthwaite(combined: f64, contributions: impl IntoIterator<Item = (f64, f64)>) -> f64 {
    // Not `sum`, whose zero has a sign.
    let sum = contributions.into_iter().fold(0.0, |sum, (uncertainty, degrees)| {
        let part = if combined > 0.0 { uncertainty / combined } else { 0.0 };
        sum + part * part * part * part / degrees
    });
    1.0 / sum
}

impl Budget {
    pub(super) fn of(
        inputs: &StandardUncertainties,
        strain: Microstrain,
        temperature: Celsius,
    ) -> Result<Self, Error> {
        let (kernel, rows) = UncertaintyKernel::<f64, 1>::of(inputs)?;
        kernel.check(temperature)?;
        let at = kernel.constants(temperature.0);
        let e = strain.0 * 1e-6;
        let y = at.factor * e + at.thermal[0];
        let mut effects = [0.0; Input::COUNT];
        let mut parts = [0.0; 2];
        for (input, [a, b]) in OTHERS.into_iter().zip(at.others) {
            effects[input as usize] = (a + b * e) * 1e6;
            if input == Input::Temperature {
                parts = [a * 1e6, b * e * 1e6];
            }
        }
        for (input, [a, b, c]) in CIRCUIT.into_iter().zip(rows) {
            effects[input as usize] = (a + y * (b + y * c)) / at.factor * 1e6;
        }
        Ok(Self { strain, temperature, effects, degrees: inputs.degrees, parts })
    }

    /// The strain it is the budget of.
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// assert_eq!(StandardUncertainties::for_channel(channel).budget(Microstrain(7.0), Celsius(20.0))?.strain(), Microstrain(7.0));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn strain(&self) -> Microstrain {
        self.strain
    }

    /// The temperature it is the budget of.
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// assert_eq!(StandardUncertainties::for_channel(channel).budget(Microstrain(7.0), Celsius(20.0))?.temperature(), Celsius(20.0));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn temperature(&self) -> Celsius {
        self.temperature
    }

    /// What one input contributes.
    ///
    /// ```
    /// use gaugewright::{uncertainty::{Input, StandardUncertainties}, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let budget = StandardUncertainties::for_channel(channel).of_ratio(Percent(1.0)).budget(Microstrain(200.0), Celsius(20.0))?;
    /// assert!((budget.contribution(Input::Ratio).uncertainty.0 - 2.0).abs() < 0.001);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn contribution(&self, input: Input) -> Contribution {
        let effect = self.effects[input as usize];
        let combined = self.combined().0;
        let part = if combined > 0.0 { effect / combined } else { 0.0 };
        Contribution {
            input,
            effect: Microstrain(effect),
            uncertainty: Microstrain(effect.abs()),
            share: Percent(100.0 * part * part),
            degrees_of_freedom: self.degrees[input as usize],
        }
    }

    /// All contributions, those of nothing too, in the order of [`Input::ALL`].
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let budget = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(0.5)).noise(1.0).budget(Microstrain(900.0), Celsius(20.0))?;
    /// let shares: f64 = budget.contributions().map(|contribution| contribution.share.0).sum();
    /// assert!((shares - 100.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn contributions(&self) -> impl Iterator<Item = Contribution> + '_ {
        Input::ALL.into_iter().map(|input| self.contribution(input))
    }

    /// What the temperature's contribution is made of: through thermal output, and through the gauge factor. They are one
    /// input's, so they add up with their signs to its [`effect`](Contribution::effect).
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, uncertainty::{Input, StandardUncertainties}, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)).gauge_factor_slope(PercentPer100C(1.0)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// let budget = StandardUncertainties::for_channel(channel).of_temperature(Celsius(2.0)).budget(Microstrain(-3_000.0), Celsius(24.0))?;
    /// let (output, factor) = budget.of_temperature();
    /// assert!((output.0 + 2.0).abs() < 1e-9 && (factor.0 - 0.6).abs() < 1e-9);
    /// assert!((budget.contribution(Input::Temperature).effect.0 + 1.4).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn of_temperature(&self) -> (Microstrain, Microstrain) {
        (Microstrain(self.parts[0]), Microstrain(self.parts[1]))
    }

    /// Combined standard uncertainty: the root of the sum of squares (GUM 5.1.2).
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let inputs = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(0.3)).of_thermal_output(Microstrain(4.0));
    /// assert!((inputs.budget(Microstrain(1_000.0), Celsius(20.0))?.combined().0 - 5.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn combined(&self) -> Microstrain {
        Microstrain(libm::sqrt(self.effects.iter().map(|effect| effect * effect).sum()))
    }

    /// Effective degrees of freedom (Welch and Satterthwaite, GUM G.4.1); infinite where no contribution has any end of
    /// them.
    ///
    /// ```
    /// use gaugewright::{uncertainty::{Input, StandardUncertainties}, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// // Two alike, of which one is known by five readings: four times its four degrees.
    /// let inputs = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(0.3)).of_thermal_output(Microstrain(3.0))
    ///     .degrees_of_freedom(Input::ThermalOutput, 4.0);
    /// let degrees = inputs.budget(Microstrain(1_000.0), Celsius(20.0))?.effective_degrees_of_freedom();
    /// assert!((degrees - 16.0).abs() < 1e-6);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn effective_degrees_of_freedom(&self) -> f64 {
        welch_satterthwaite(self.combined().0, self.effects.into_iter().zip(self.degrees))
    }

    /// Expanded uncertainty for a coverage probability of 1 to 99.99 %.
    ///
    /// # Errors
    /// [`Error::Invalid`]: coverage out of range.
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let budget = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(0.5)).budget(Microstrain(1_000.0), Celsius(20.0))?;
    /// let expanded = budget.expanded(Percent(95.0))?;
    /// assert!((expanded.coverage_factor - 1.960).abs() < 1e-3 && (expanded.uncertainty.0 - 9.80).abs() < 0.01);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn expanded(&self, coverage: Percent) -> Result<Expanded, Error> {
        let degrees = self.effective_degrees_of_freedom();
        // Infinity converts to the largest integer. Below one only by rounding.
        let coverage_factor = coverage_factor(coverage, (degrees as u32).max(1))?;
        Ok(Expanded {
            uncertainty: Microstrain(coverage_factor * self.combined().0),
            coverage_factor,
            coverage,
        })
    }
}

/// A line for each contribution that is not zero, the largest first, and the combined uncertainty.
impl core::fmt::Display for Budget {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let mut order = Input::ALL;
        order.sort_unstable_by(|a, b| {
            let size = |input: &Input| self.effects[*input as usize].abs();
            size(b).total_cmp(&size(a)).then((*a as usize).cmp(&(*b as usize)))
        });
        write!(f, "{:.3} at {}", self.strain, self.temperature)?;
        for input in order {
            let Contribution { uncertainty, share, .. } = self.contribution(input);
            if uncertainty.0 > 0.0 {
                write!(f, "\n{:<26} {:>10.4} microstrain {:>6.2} %", input.name(), uncertainty.0, share.0)?;
            }
        }
        write!(f, "\n{:<26} {:>10.4} microstrain", "combined", self.combined().0)
    }
}
