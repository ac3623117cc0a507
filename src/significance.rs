//! Is a correction needed at all: the largest error of leaving one out, over a window of temperatures and a range of
//! strains.
//!
//! | left out | what is computed instead | its error |
//! |---|---|---|
//! | thermal output | signal over gauge factor, as if temperature did nothing but change the gauge factor | `TO / F` |
//! | gauge factor at temperature | the package's, everywhere | `e (F(T) / F_0 - 1)` |
//! | bridge non-linearity | the slope at balance for every code | `-h y^2 / (1 + h y) / F` |
//! | lead desensitisation | the bridge without its leads, balanced at the same code | the map without less the map with them, over `F` |
//! | mismatch | the package curve as if the specimen were what it was measured on | its share of `TO / F` |
//!
//! with `y = F(T) e + TO(T)` the signal, `h` the bend of the bridge and `TO` thermal output since balance, as a signal. One is left out at
//! a time, the others are made. Mismatch is a part of thermal output, and in its figure too.
//!
//! Each is searched: the strains at which it can be largest are the ends of the range (all errors are straight, or bent one
//! way, in strain; where a bend has a top inside, that one is tried too), the temperatures 1025 even ones, and from the best
//! of them by golden section. What was found is there to be had: [`Omission::largest`]. That nothing larger
//! was missed is shown by interval arithmetic over 256 pieces of the window: [`Omission::bound`]. The true maximum lies
//! between the two.
//!
//! # Near room temperature, and at the extremes
//!
//! ```
//! use gaugewright::significance::{Effect, Significance};
//! use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, units::*};
//!
//! let channel = Channel::new(
//!     Gauge::new(GaugeFactor(2.065))
//!         .gauge_factor_slope(PercentPer100C(1.07))
//!         .thermal_output(
//!             ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
//!                 .stated_for(GaugeFactor(2.0))
//!                 .between(Celsius(-200.0), Celsius(300.0)),
//!         ),
//!     Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
//!     Converter::bipolar(24, Ratio(1.0 / 64.0)),
//! )
//! .balanced(0.0, Celsius(24.0));
//! let reading = Microstrain(1_000.0);
//!
//! // In the workshop, to one percent of the reading: the leads and the bridge may be left out, and the gauge factor at
//! // temperature. Only thermal output is near the limit.
//! let workshop = Significance::of(&channel, (Celsius(20.0), Celsius(30.0)), reading)?;
//! assert!(workshop.of_effect(Effect::GaugeFactor).percent.0 < 0.1);
//! assert!(workshop.of_effect(Effect::Nonlinearity).percent.0 < 0.3);
//! assert!(workshop.may_be_left_out(Effect::LeadDesensitisation, Microstrain(10.0)));
//! assert!(workshop.may_be_left_out(Effect::ThermalOutput, Microstrain(10.0)));
//!
//! // From liquid nitrogen to a hot engine: none may be, to a tenth of a percent of the reading.
//! let extremes = Significance::of(&channel, (Celsius(-196.0), Celsius(280.0)), reading)?;
//! assert!(extremes.of_effect(Effect::ThermalOutput).largest.0 > 1_000.0);
//! for effect in [Effect::ThermalOutput, Effect::GaugeFactor, Effect::Nonlinearity, Effect::LeadDesensitisation] {
//!     assert!(!extremes.may_be_left_out(effect, Microstrain(1.0)));
//! }
//! println!("{extremes}");
//! # Ok::<(), gaugewright::Error>(())
//! ```

mod search;

use crate::channel::{Channel, STRAIN_RANGE};
use crate::error::{Error, Field, named, within};
use crate::units::{Celsius, Microstrain, Percent};
use search::Ready;

named! {
    /// What a computation may leave out.
    ///
    /// ```
    /// use gaugewright::significance::Effect;
    /// assert_eq!(Effect::Nonlinearity.to_string(), "bridge non-linearity");
    /// ```
    Effect, "assert_eq!(gaugewright::significance::Effect::Mismatch.name(), \"mismatch\");" {
        /// Thermal output since balance, mismatch in it.
        ThermalOutput => "thermal output",
        /// Gauge factor at temperature.
        GaugeFactor => "gauge factor at temperature",
        /// Bend of the bridge.
        Nonlinearity => "bridge non-linearity",
        /// What the leads take from the sensitivity.
        LeadDesensitisation => "lead desensitisation",
        /// Expansion of the specimen other than the gauge is matched to.
        Mismatch => "mismatch",
    }
}

impl Effect {
    /// All of them, in the order of a [`Significance`].
    ///
    /// ```
    /// use gaugewright::significance::Effect;
    /// assert_eq!(Effect::ALL[0], Effect::ThermalOutput);
    /// ```
    pub const ALL: [Self; 5] = [
        Self::ThermalOutput,
        Self::GaugeFactor,
        Self::Nonlinearity,
        Self::LeadDesensitisation,
        Self::Mismatch,
    ];
}

/// The largest error of leaving one effect out.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, significance::*, units::*};
/// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
/// let window = (Celsius(20.0), Celsius(34.0));
/// let omission = Significance::of(&channel, window, Microstrain(500.0))?.of_effect(Effect::ThermalOutput);
/// assert!((omission.largest.0 - 10.0).abs() < 1e-9 && omission.temperature == Celsius(34.0));
/// assert!((omission.percent.0 - 2.0).abs() < 1e-9);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Omission {
    /// What is left out.
    pub effect: Effect,
    /// The largest error that was found, without its sign.
    pub largest: Microstrain,
    /// The same as a part of a reading at the end of the strain range.
    pub percent: Percent,
    /// Where: the temperature, and the strain.
    pub temperature: Celsius,
    /// See there.
    pub strain: Microstrain,
    /// No error in the window is larger.
    pub bound: Microstrain,
}

/// The largest errors of leaving corrections out, over a window of temperatures and a range of strains.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, significance::*, units::*};
/// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)).thermal_output(
/// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
/// let window = (Celsius(0.0), Celsius(50.0));
/// let significance = Significance::of(&channel, window, Microstrain(1_000.0))?;
/// for omission in significance.omissions() {
///     println!("{}: {:.3}, {:.3}", omission.effect, omission.largest, omission.percent);
/// }
/// // A quarter bridge reads a thousand microstrain one too low; nothing else is needed.
/// assert!((significance.of_effect(Effect::Nonlinearity).largest.0 - 1.0).abs() < 0.01);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Significance {
    omissions: [Omission; Effect::ALL.len()],
}

impl Significance {
    /// For a window inside the channel's temperatures and strains up to `strain` either way. What the channel says of its
    /// own [`Correction`](crate::Correction) is not looked at: the comparison is with the full one.
    ///
    /// # Errors
    /// What [`Channel::check`] finds; [`Error::Invalid`] for a compensating gauge with a temperature of its own, a window that is
    /// not inside the channel's temperatures, or strain outside 1 to 62 500 microstrain; [`Error::Overflow`] where the bridge
    /// has no such strain.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, significance::*, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// assert!(Significance::of(&channel, (Celsius(0.0), Celsius(95.0)), Microstrain(1_000.0)).is_err());
    /// ```
    pub fn of(channel: &Channel, window: (Celsius, Celsius), strain: Microstrain) -> Result<Self, Error> {
        let ready = Ready::of(channel)?;
        let (low, high) = channel.temperatures();
        within(Field::WindowLow, window.0.0, low.0, high.0)?;
        within(Field::WindowHigh, window.1.0, window.0.0, high.0)?;
        within(Field::StrainRange, strain.0, STRAIN_RANGE.0, STRAIN_RANGE.1)?;
        let mut omissions = [None; Effect::ALL.len()];
        for (omission, effect) in omissions.iter_mut().zip(Effect::ALL) {
            *omission = Some(ready.omission(effect, (window.0.0, window.1.0), strain)?);
        }
        let nothing = |effect| Omission {
            effect,
            largest: Microstrain(0.0),
            percent: Percent(0.0),
            temperature: window.0,
            strain,
            bound: Microstrain(0.0),
        };
        Ok(Self { omissions: core::array::from_fn(|k| omissions[k].unwrap_or(nothing(Effect::ALL[k]))) })
    }

    /// All effects, in the order of [`Effect::ALL`].
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, significance::*, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// let significance = Significance::of(&channel, (Celsius(0.0), Celsius(50.0)), Microstrain(100.0))?;
    /// assert_eq!(significance.omissions().len(), 5);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn omissions(&self) -> &[Omission; Effect::ALL.len()] {
        &self.omissions
    }

    /// One effect.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, significance::*, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// let significance = Significance::of(&channel, (Celsius(0.0), Celsius(50.0)), Microstrain(100.0))?;
    /// assert_eq!(significance.of_effect(Effect::Mismatch).largest, Microstrain(0.0));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn of_effect(&self, effect: Effect) -> Omission {
        self.omissions[effect as usize]
    }

    /// Leaving this one out costs no more than `tolerance` anywhere in the window: its [`bound`](Omission::bound) says so.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, significance::*, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// let significance = Significance::of(&channel, (Celsius(0.0), Celsius(50.0)), Microstrain(1_000.0))?;
    /// assert!(significance.may_be_left_out(Effect::Nonlinearity, Microstrain(1.1)));
    /// assert!(!significance.may_be_left_out(Effect::Nonlinearity, Microstrain(0.9)));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn may_be_left_out(&self, effect: Effect, tolerance: Microstrain) -> bool {
        self.of_effect(effect).bound.0 <= tolerance.0
    }
}

/// A line for each effect.
impl core::fmt::Display for Significance {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("left out                       microstrain  % of reading     at C")?;
        for omission in &self.omissions {
            write!(
                f,
                "\n{:<30} {:>11.3}  {:>12.4} {:>8.1}",
                omission.effect.name(),
                omission.largest.0,
                omission.percent.0,
                omission.temperature.0
            )?;
        }
        Ok(())
    }
}
