//! Whether a correction is needed at all: the largest error that leaving out each of its steps makes, over a window of
//! temperatures and the channel's declared strain.
//!
//! The steps, and what leaving one out means; the error is what is then computed less the mechanical strain `e`, with its
//! sign: positive where the reading comes out too high.
//!
//! | left out | what is computed instead | error |
//! |---|---|---|
//! | [thermal output](CorrectionStep::ThermalOutput) | indicated strain, brought to the gauge factor at temperature | `TO(T) F_i / F(T)`; the whole of it, rotation and balance included |
//! | [mismatch](CorrectionStep::Mismatch) | the package curve is subtracted as if the specimen were what the gauge is matched to | `(a_s - a_m)(T - T_r)` times the factor of [`MismatchScale`](crate::channel::MismatchScale), less the same at balance, over `F(T)` |
//! | [gauge factor](CorrectionStep::GaugeFactor) | thermal output is subtracted, strain stays at the instrument's factor: [`Correction::ThermalOutput`](crate::Correction::ThermalOutput) | `e (F(T) / F_i - 1)`; an instrument that is set to another factor than the package's is in it |
//! | [non-linearity](CorrectionStep::NonLinearity) | a straight line from change of ratio to strain, with the bridge's slope at balance | `-(F e)^2 / 2 F` for a quarter bridge, to first order; the signal of thermal output bends it too |
//! | [leads](CorrectionStep::Leads) | the bridge's own curve for the same ratio at balance, all leads zero | `-e R_L / R` for three leads, to first order, and the same of thermal output |
//!
//! Each alone, all the others made. Errors of [several together](Significance::together) are computed together.
//!
//! Near room temperature some of it can be left out, and at the extremes nothing, as the two halves of this example say. The
//! gauge is invented, as all gauges of this documentation.
//!
//! ```
//! use gaugewright::{commissioning::significance::{CorrectionStep, CorrectionSteps}, units::*};
//! use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput};
//!
//! const CHANNEL: Channel = Channel::new(
//!     Gauge::new(GaugeFactor(2.085))
//!         .gauge_factor_slope(PercentPer100C(0.94))
//!         .matched_to(ExpansionPerCelsius::ppm(11.0))
//!         .thermal_output(
//!             ThermalOutput::celsius([-43.2121, 3.16913, -0.0628625, 2.48734e-4, -1.69725e-7])
//!                 .stated_for(GaugeFactor(2.0))
//!                 .between(Celsius(-200.0), Celsius(300.0)),
//!         ),
//!     Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
//!     Converter::bipolar(24, Ratio(1.0 / 64.0)),
//! )
//! .specimen(ExpansionPerCelsius::ppm(10.6))
//! .balanced(0.0, Celsius(22.0))
//! .strain_within(Microstrain(1_000.0));
//!
//! let allowed = Microstrain(6.0);
//! let in_the_hall = CHANNEL.significance(Celsius(15.0), Celsius(35.0))?;
//! let may = in_the_hall.negligible_within(allowed)?;
//! assert_eq!(may.steps, CorrectionSteps::NONE.with(CorrectionStep::GaugeFactor).with(CorrectionStep::NonLinearity).with(CorrectionStep::Leads));
//! assert!(may.sum.0 < 5.6 && may.together.error.0 < -5.2);
//!
//! let everywhere = CHANNEL.significance(Celsius(-150.0), Celsius(250.0))?;
//! assert!(everywhere.negligible_within(allowed)?.steps.is_empty());
//! for (effect, error) in [
//!     (CorrectionStep::ThermalOutput, -2_717.4),
//!     (CorrectionStep::Mismatch, -91.2),
//!     (CorrectionStep::GaugeFactor, 21.2),
//!     (CorrectionStep::NonLinearity, -14.2),
//!     (CorrectionStep::Leads, 12.7),
//! ] {
//!     assert!((everywhere.of(effect).unwrap().error.0 - error).abs() < 0.05);
//! }
//! // Leads and bridge are worst in compression, which thermal output in the cold adds to.
//! let leads = everywhere.of(CorrectionStep::Leads).unwrap();
//! assert!(leads.temperature == Celsius(-150.0) && leads.strain.0 < 0.0 && (leads.percent.0 - 1.27).abs() < 0.01);
//! # Ok::<(), gaugewright::Error>(())
//! ```
#![doc = include_str!("significance/design.md")]

mod allowance;
mod bound;
mod effect;
mod omitted;

pub use allowance::Negligible;
pub use effect::{CorrectionStep, CorrectionSteps};

use crate::channel::Channel;
use crate::error::{Error, Field, ordered, try_const, within};
use crate::units::{Celsius, Microstrain, Percent};
use omitted::Ready;

/// The largest error of leaving something out.
///
/// ```
/// use gaugewright::{units::*, commissioning::significance::Omission};
/// let omission = Omission {
///     error: Microstrain(-5.0),
///     strain: Microstrain(2_000.0),
///     temperature: Celsius(90.0),
///     bound: Microstrain(5.01),
///     percent: Percent(-0.25),
/// };
/// assert!(omission.error.0.abs() <= omission.bound.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Omission {
    /// The largest error found, with its sign: what is computed less the mechanical strain.
    pub error: Microstrain,
    /// The mechanical strain at which it is made; the positive end of the declared range where strain does not matter.
    pub strain: Microstrain,
    /// The temperature of the gauge at which it is made.
    pub temperature: Celsius,
    /// No error of this omission, anywhere in the window and the declared strain, is larger than this, without its sign:
    /// by interval arithmetic.
    pub bound: Microstrain,
    /// The error as a part of the declared strain.
    pub percent: Percent,
}

impl Omission {
    /// The error as a part of another reading than the end of the declared range.
    ///
    /// # Errors
    /// [`Error::Invalid`] for a reading that is not 0.001 to 1 000 000 microstrain, either way: of zero there is no
    /// part.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::significance::Omission};
    /// # let omission = Omission { error: Microstrain(-5.0), strain: Microstrain(2_000.0), temperature: Celsius(90.0),
    /// #     bound: Microstrain(5.01), percent: Percent(-0.25) };
    /// assert_eq!(omission.percent_of(Microstrain(500.0))?, Percent(-1.0));
    /// assert_eq!(omission.percent_of(Microstrain(-500.0))?, Percent(1.0));
    /// assert!(omission.percent_of(Microstrain(0.0)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn percent_of(&self, reading: Microstrain) -> Result<Percent, Error> {
        try_const!(Field::PercentReading.check(reading.0.abs()));
        Ok(Percent(100.0 * self.error.0 / reading.0))
    }
}

/// What leaving out each step of a channel's correction costs, over a window of temperatures; see
/// [`Channel::significance`].
///
/// ```
/// use gaugewright::{commissioning::significance::CorrectionStep, units::*};
/// # let channel = gaugewright::example::CHANNEL.strain_within(Microstrain(1_000.0));
/// let significance = channel.significance(Celsius(20.0), Celsius(30.0))?;
/// // 6 C from the reference temperature, a microstrain a degree for a gauge factor of 2.0; the gauge's is 2.1.
/// let omission = significance.of(CorrectionStep::ThermalOutput).unwrap();
/// assert!((omission.error.0.abs() - 6.0 * 2.0 / 2.1).abs() < 0.1 && omission.temperature == Celsius(30.0));
/// // The gauge is on the material that it is matched to.
/// assert_eq!(significance.of(CorrectionStep::Mismatch).unwrap().error.0, 0.0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Significance {
    ready: Ready,
    omissions: [Option<Omission>; CorrectionStep::ALL.len()],
}

impl Channel {
    /// The largest error of leaving out each step of the full correction while the gauge is between these two temperatures
    /// and mechanical strain within the declared range; the channel's own [`Correction`](crate::Correction) does not matter.
    ///
    /// Searched at 1025 temperatures, and from every one that is worse than its neighbours by golden section; at each
    /// the worst strain is known in closed form. And enclosed, by interval arithmetic on pieces of window and strain range:
    /// what is found and the [bound](Omission::bound) have the true maximum of the model between them, and are within a
    /// hundredth and a nanostrain of each other. What is found is by the kernels' map of the bridge; what that leaves out of the
    /// network, with leads and without (see [`circuit_error`](Self::circuit_error)), is added to the bound.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds; [`Error::Invalid`] for a window that is not inside the channel's
    /// [temperatures](Self::temperatures), or a channel without a declared strain range; [`Error::Reversed`] for a window whose upper end lies below its lower one; [`Error::Overflow`] for a strain range
    /// beyond what a bridge can follow.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, units::*};
    /// use gaugewright::commissioning::significance::CorrectionStep;
    /// let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(
    ///     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let channel = Channel::new(gauge, Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)))
    ///     .strain_within(Microstrain(1_000.0));
    /// let significance = channel.significance(Celsius(20.0), Celsius(30.0))?;
    /// let thermal_output = significance.of(CorrectionStep::ThermalOutput).unwrap();
    /// assert!((thermal_output.error.0 - 6.0).abs() < 1e-9 && thermal_output.temperature == Celsius(30.0));
    /// assert!((thermal_output.percent.0 - 0.6).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn significance(&self, low: Celsius, high: Celsius) -> Result<Significance, Error> {
        self.check()?;
        let Some(reach) = self.strain_limit else { return Err(Field::StrainRange.missing()) };
        let range = self.temperatures();
        ordered(Field::WindowHigh, low.0, high.0)?;
        within(Field::WindowHigh, high.0, range.0.0, range.1.0)?;
        within(Field::WindowLow, low.0, range.0.0, high.0)?;
        let ready = Ready::of(self, reach.strain().0, (low.0, high.0))?;
        let mut omissions = [None; CorrectionStep::ALL.len()];
        let mut k = 0;
        while k < CorrectionStep::ALL.len() {
            let effect = CorrectionStep::ALL[k];
            if ready.knows_bridge() || !effect.is_of_bridge() {
                omissions[k] = Some(omission(&ready, CorrectionSteps::NONE.with(effect))?);
            }
            k += 1;
        }
        Ok(Significance { ready, omissions })
    }
}

fn omission(ready: &Ready, left_out: CorrectionSteps) -> Result<Omission, Error> {
    let (strain, temperature) = ready.worst(left_out)?;
    let error = ready.error(left_out, strain, temperature);
    Ok(Omission {
        error: Microstrain(error * 1e6),
        strain: Microstrain(strain * 1e6),
        temperature: Celsius(temperature),
        bound: Microstrain(ready.bound(left_out, error.abs()) * (1e6 * (1.0 + f64::EPSILON))),
        percent: Percent(100.0 * error / ready.reach),
    })
}

impl Significance {
    /// What leaving out this step alone costs. Of a step that the channel does not have (thermal output where it cancels,
    /// mismatch on the matched material, leads of no resistance) error and bound are zero. `None` for non-linearity and leads behind an
    /// instrument's readings, whose bridge is not known.
    ///
    /// ```
    /// use gaugewright::{Channel, Gauge, Instrument, ThermalOutput, units::*};
    /// use gaugewright::commissioning::significance::CorrectionStep;
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let channel = Channel::from_readings(gauge, Instrument::showing(Microstrain(1.0), GaugeFactor(2.02)))
    ///     .strain_within(Microstrain(1_000.0));
    /// let significance = channel.significance(Celsius(20.0), Celsius(30.0))?;
    /// assert!(significance.of(CorrectionStep::Leads).is_none());
    /// // The instrument is set to one percent more than the gauge has.
    /// let gauge_factor = significance.of(CorrectionStep::GaugeFactor).unwrap();
    /// assert!((gauge_factor.percent.0 - 100.0 * (2.0 / 2.02 - 1.0)).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn of(&self, effect: CorrectionStep) -> Option<Omission> {
        self.omissions[effect as usize]
    }

    /// The end of the declared strain range: the reading that percentages are of.
    ///
    /// ```
    /// use gaugewright::units::*;
    /// # let channel = gaugewright::example::CHANNEL.strain_within(Microstrain(1_000.0));
    /// let significance = channel.significance(Celsius(20.0), Celsius(30.0))?;
    /// assert!((significance.reading().0 - 1_000.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn reading(&self) -> Microstrain {
        Microstrain(self.ready.reach * 1e6)
    }

    /// What leaving out all of these at once costs: not the sum, as signs differ and each scales the others. Thermal
    /// output contains mismatch.
    ///
    /// # Errors
    /// [`Error::Invalid`] for non-linearity or leads behind an instrument's readings.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, example, units::*};
    /// use gaugewright::commissioning::significance::*;
    /// let bridge = Bridge::quarter_three_wire(Ohms(120.0), Ohms(0.3));
    /// let channel = Channel::new(example::GAUGE, bridge, Converter::bipolar(24, Ratio(0.01))).strain_within(Microstrain(1_000.0));
    /// let significance = channel.significance(Celsius(20.0), Celsius(30.0))?;
    /// let bridge = significance.together(CorrectionSteps::NONE.with(CorrectionStep::NonLinearity).with(CorrectionStep::Leads))?;
    /// // A quarter of a percent of the leads, a tenth of the bridge: both read low in tension.
    /// assert!((bridge.percent.0 + 0.35).abs() < 0.01 && bridge.strain.0 > 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn together(&self, effects: CorrectionSteps) -> Result<Omission, Error> {
        if effects.has_bridge() && !self.ready.knows_bridge() {
            return Err(Field::Bridge.missing());
        }
        omission(&self.ready, effects)
    }
}
