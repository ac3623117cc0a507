//! What is known of a channel's inputs.

use super::budget::Budget;
use super::input::Input;
use super::kernel::UncertaintyKernel;
use crate::channel::{Channel, Source};
use crate::error::{Error, Field, within};
use crate::units::{
    Celsius, ExpansionPerCelsius, Microstrain, MicrostrainPerCelsius, Nanostrain, Ohms, Percent,
    PercentPer100C,
};

/// A channel with the standard uncertainties of its inputs. What is not given is taken as exact, but for the rounding of a sample to a code
/// ([`quantisation`](Self::quantisation)).
///
/// All are **standard** uncertainties, one standard deviation: a limit `a` that is given without more is `a / sqrt(3)`, an
/// expanded uncertainty is divided by its coverage factor. Nothing is checked until it is used.
///
/// ```
/// use gaugewright::{uncertainty::StandardUncertainties, units::*};
/// # let channel = gaugewright::example::CHANNEL;
/// let inputs = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(0.5)).of_temperature(Celsius(2.0));
/// let budget = inputs.budget(Microstrain(1_000.0), Celsius(24.0))?;
/// // Half a percent of the strain, and two degrees of a curve that rises by one a degree for a gauge factor of 2.
/// assert!((budget.combined().0 - 5.0f64.hypot(2.0 * 2.0 / 2.1)).abs() < 1e-6);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct StandardUncertainties {
    pub(super) channel: Channel,
    /// In the order of [`Input::ALL`]; of the bounds, their half widths.
    pub(super) each: [f64; Input::COUNT],
    pub(super) degrees: [f64; Input::COUNT],
}

/// A setter with the documentation that all of them share.
macro_rules! stated {
    ($($(#[$doc:meta])* $name:ident($unit:ty, $example:literal) $input:ident = |$value:ident| $number:expr;)*) => {
        impl StandardUncertainties {
            $(
                $(#[$doc])*
                ///
                /// ```
                /// # use gaugewright::{Bridge, Channel, Converter, Gauge, uncertainty::StandardUncertainties, units::*};
                /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)), Bridge::quarter_ideal(Ohms(120.0)),
                /// #     Converter::bipolar(16, Ratio(0.01)));
                #[doc = concat!("let inputs = StandardUncertainties::for_channel(channel).", stringify!($name), "(", $example, ");")]
                /// ```
                #[must_use]
                pub const fn $name(mut self, $value: $unit) -> Self {
                    self.each[Input::$input as usize] = $number;
                    self
                }
            )*
        }
    };
}

stated! {
    /// Of the package's gauge factor, as a part of it: 0 to 50 %.
    of_gauge_factor(Percent, "Percent(0.5)") GaugeFactor = |uncertainty| uncertainty.fraction();
    /// Of the slope of gauge factor against temperature: 0 to 100 %/100 C.
    of_gauge_factor_slope(PercentPer100C, "PercentPer100C(0.1)") GaugeFactorSlope = |uncertainty| uncertainty.0;
    /// Of the gauge's temperature, apart from what it shares with the temperature at balance: 0 to 500 C.
    of_temperature(Celsius, "Celsius(0.3)") Temperature = |uncertainty| uncertainty.0;
    /// Of the temperature at balance, apart from what it shares with later ones: 0 to 500 C. No effect where the channel
    /// has no balance.
    of_balance_temperature(Celsius, "Celsius(0.3)") BalanceTemperature = |uncertainty| uncertainty.0;
    /// Of the thermometer, where its error is the same at balance and after: 0 to 500 C. Much of it cancels where the
    /// curve is equally steep at both.
    of_thermometer(Celsius, "Celsius(0.5)") Thermometer = |uncertainty| uncertainty.0;
    /// Of thermal output since balance, in the scale that the curve is stated for: 0 to 100 000 microstrain. A fit of a chamber run
    /// states it itself ([`of_thermal_output_fit`](StandardUncertainties::of_thermal_output_fit)).
    of_thermal_output(Microstrain, "Microstrain(5.0)") ThermalOutput = |uncertainty| uncertainty.0;
    /// Of thermal output, for each degree from balance (or from the reference temperature, where there is no balance): 0
    /// to 10 000 microstrain/C. That is how packages state the scatter of a lot.
    of_thermal_output_slope(MicrostrainPerCelsius, "MicrostrainPerCelsius(0.15)") ThermalOutputSlope
        = |uncertainty| uncertainty.0;
    /// Of the expansion of the specimen less that of the material the curve was measured on: 0 to 1e-3 /C.
    of_expansion(ExpansionPerCelsius, "ExpansionPerCelsius::ppm(0.3)") Expansion = |uncertainty| uncertainty.0;
    /// Of the resistance of a lead, all leads alike: 0 to 10 000 ohm. Refused where there is no bridge.
    of_lead_resistance(Ohms, "Ohms(0.05)") LeadResistance = |uncertainty| uncertainty.0;
    /// Of the rise of the leads' temperature since balance: 0 to 200 C, of copper. Refused where there is no bridge.
    of_lead_temperature(Celsius, "Celsius(10.0)") LeadTemperature = |uncertainty| uncertainty.0;
    /// Of the specimen's Poisson ratio: 0 to 0.5. Refused where there is no bridge, no effect where it has no transverse
    /// gauge.
    of_poisson_ratio(f64, "0.01") PoissonRatio = |uncertainty| uncertainty;
    /// Of the output ratio that a code stands for, as a part of it: 0 to 50 %. Excitation where it is not the converter's
    /// reference, gain, and what a shunt calibration leaves.
    of_ratio(Percent, "Percent(0.02)") Ratio = |uncertainty| uncertainty.fraction();
    /// Standard deviation of a sample, in codes (or counts of an instrument). Rounding to a code counts beside it
    /// ([`quantisation`](Self::quantisation)).
    noise(f64, "40.0") Noise = |codes| codes;
    /// How far a sample may be from the signal by its rounding alone, in codes (or counts of an instrument): 0.5 by default, as of
    /// a converter or an instrument that rounds to the nearest. A rectangular distribution of this half width, so 0.29 codes as a standard
    /// uncertainty (GUM F.2.2.1). 1 where the lower bits of a code are cut off, half a code in the mean with them. 0 where the noise was
    /// found from the scatter of codes: rounding is in it then, and twice in the budget otherwise (4 % of a noise of one code, less of
    /// more). A balance that is a single code has 0.29 codes of it in [`balance_noise`](Self::balance_noise).
    quantisation(f64, "0.0") Quantisation = |codes| codes;
    /// Standard uncertainty of the code at balance: that of a mean, if it was one.
    balance_noise(f64, "2.0") BalanceNoise = |codes| codes;
    /// Error bound of the kernel that makes the readings ([`ErrorBound::max`](crate::kernel::ErrorBound::max)): 0 to 0.1
    /// strain. A rectangular distribution of this half width.
    kernel_bound(Nanostrain, "Nanostrain(0.4)") Kernel = |bound| bound.0;
}

impl StandardUncertainties {
    /// A channel whose inputs are taken as exact, but for half a code of rounding, until uncertainties are given.
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT;
    /// let half_a_code = StandardUncertainties::for_channel(channel).budget(Microstrain(0.0), Celsius(24.0))?;
    /// // A code of this converter is worth 0.61 microstrain, which is divided by the square root of 12.
    /// assert!((half_a_code.combined().0 - 0.6104 / 12f64.sqrt()).abs() < 1e-4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn for_channel(channel: Channel) -> Self {
        Self { channel, each: [0.0; Input::COUNT], degrees: [f64::INFINITY; Input::COUNT] }.quantisation(0.5)
    }

    /// Degrees of freedom of an input's uncertainty: 1 or more, and infinitely many by default. A mean of `n`
    /// readings has `n - 1`; an uncertainty that is itself known to a part `q` only has `1 / (2 q^2)` (GUM G.4.2).
    ///
    /// ```
    /// use gaugewright::uncertainty::{Input, StandardUncertainties};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let inputs = StandardUncertainties::for_channel(channel).balance_noise(2.5).degrees_of_freedom(Input::BalanceNoise, 9.0);
    /// ```
    #[must_use]
    pub const fn degrees_of_freedom(mut self, input: Input, degrees: f64) -> Self {
        self.degrees[input as usize] = degrees;
        self
    }

    /// The budget of a strain at a temperature, in `f64`.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, a temperature out of the channel's range, or a strain beyond 125 000 microstrain.
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let inputs = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(1.0));
    /// let budget = inputs.budget(Microstrain(500.0), Celsius(24.0))?;
    /// assert!((budget.combined().0 - 5.0).abs() < 1e-9);
    /// assert!(inputs.budget(Microstrain(500.0), Celsius(95.0)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn budget(&self, strain: Microstrain, temperature: Celsius) -> Result<Budget, Error> {
        Field::Strain.check(strain.0)?;
        Budget::of(self, strain, temperature)
    }

    /// In the unit of the kernels: strain as a plain ratio, bounds turned to standard uncertainties.
    pub(super) fn standard(&self, input: Input) -> f64 {
        let value = self.each[input as usize];
        match input {
            Input::Kernel => rectangular(value * 1e-9),
            Input::Quantisation => rectangular(value),
            _ => value,
        }
    }

    /// Of what the map leaves out of the bridge.
    pub(super) fn standard_of_circuit(&self) -> Result<f64, Error> {
        match self.channel.source {
            Source::Codes(..) => Ok(rectangular(self.channel.circuit_error()?.0 * 1e-9)),
            Source::Readings(_) => Ok(0.0),
        }
    }

    /// Checks the channel and every uncertainty.
    ///
    /// # Errors
    /// What [`Channel::check`] finds; [`Error::Invalid`] for an uncertainty that is negative, not finite or larger than allowed, degrees of freedom below one, or an uncertainty of a bridge
    /// where there is none.
    ///
    /// ```
    /// use gaugewright::{Error, error::Field, uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let refused = StandardUncertainties::for_channel(channel).of_temperature(Celsius(-1.0)).check();
    /// assert!(matches!(refused, Err(Error::Invalid { field: Field::TemperatureUncertainty, .. })));
    /// ```
    pub fn check(&self) -> Result<(), Error> {
        self.channel.check()?;
        for (k, input) in Input::ALL.into_iter().enumerate() {
            let (field, scale) = input.field();
            match input {
                // That of a stress has another limit.
                Input::PoissonRatio => within(field, self.each[k] * scale, 0.0, 0.5)?,
                _ => field.check(self.each[k] * scale)?,
            }
            Field::DegreesOfFreedom.check(self.degrees[k])?;
            let of_bridge =
                matches!(input, Input::LeadResistance | Input::LeadTemperature | Input::PoissonRatio);
            if of_bridge && self.each[k] > 0.0 && matches!(self.channel.source, Source::Readings(_)) {
                return Err(Field::Bridge.missing());
            }
        }
        Ok(())
    }

    /// The constants of the device, in `f64`.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, [`Error::Overflow`] where the gauge factor needs a constant that `PRODUCT` of zero has no
    /// room for, and what [`Channel::circuit_error`] gives.
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let point = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(1.0)).try_float64::<0>()?.at(Celsius(20.0))?;
    /// assert!((point.standard(500e-6) - 5e-6).abs() < 1e-12);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn try_float64<const PRODUCT: usize>(&self) -> Result<UncertaintyKernel<f64, PRODUCT>, Error> {
        Ok(UncertaintyKernel::of(self)?.0)
    }

    /// The constants of the device, in `f32`. Against [`try_float64`](Self::try_float64) a standard uncertainty is within 2 parts
    /// in a million (sampled: random channels, uncertainties and strains).
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, [`Error::Overflow`] where the gauge factor needs a constant that `PRODUCT` of zero has no
    /// room for, and what [`Channel::circuit_error`] gives.
    ///
    /// ```
    /// use gaugewright::{uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let point = StandardUncertainties::for_channel(channel).of_gauge_factor(Percent(1.0)).try_float32::<0>()?.at(Celsius(20.0))?;
    /// assert!((point.standard(500e-6) - 5e-6).abs() < 1e-11);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn try_float32<const PRODUCT: usize>(&self) -> Result<UncertaintyKernel<f32, PRODUCT>, Error> {
        Ok(UncertaintyKernel::of(self)?.0.single())
    }
}

/// Standard uncertainty of what is anywhere within these limits alike (GUM 4.3.7).
fn rectangular(half_width: f64) -> f64 {
    half_width / libm::sqrt(3.0)
}
