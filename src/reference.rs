//! The measurement model in double precision, straight from the resistors and the package: what the
//! kernels are checked against, and what a host may compute with when speed does not matter.
//!
//! It shares no formula with the kernels: the bridge is solved by Kirchhoff's current law at its nodes, and
//! backwards by iteration, thermal output is evaluated in the package's own scale, and each step of the
//! correction is a line. Its own rounding stays below 1e-5 nanostrain.

mod network;

use crate::channel::{Channel, Correction, MismatchScale, Source};
use crate::error::Error;
use crate::fixed::Temperature;
use crate::units::{Celsius, GaugeFactor, Strain};
use network::Network;

/// The steps from a reading to mechanical strain.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, reference, units::*};
/// # let channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
/// let steps = reference::Model::new(&channel)?.steps(0.0, Celsius(34.0));
/// assert_eq!(steps.indicated.0, 0.0);
/// assert!((steps.thermal_output.microstrain().0 - 10.0 * 2.0 / 2.1).abs() < 1e-9);
/// assert!((steps.mechanical.0 + steps.thermal_output.0).abs() < 1e-15);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steps {
    /// Strain as the instrument shows it, at the instrument gauge factor.
    pub indicated: Strain,
    /// Thermal output since balance, in the scale of indicated strain.
    pub thermal_output: Strain,
    /// Gauge factor at the temperature of the gauge.
    pub gauge_factor: GaugeFactor,
    /// Mechanical strain: thermal output subtracted, then brought to the gauge factor at temperature.
    pub mechanical: Strain,
}

/// A channel's model in `f64`.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, reference, units::*};
/// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)).thermal_output(
/// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
/// let model = reference::Model::new(&channel)?;
/// // A quarter bridge of gauge factor 2 gives e = 4 r / (1 - 2 r) / 2.
/// let r = 0.01 * 1600.0 / 32768.0;
/// let strain = model.steps(1600.0, Celsius(24.0)).mechanical;
/// assert!((strain.0 - 2.0 * r / (1.0 - 2.0 * r)).abs() < 1e-15);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Model {
    channel: Channel,
    /// Of a channel of codes, with what it does not say about its resistors found from its balance.
    network: Option<Network>,
}

impl Model {
    /// The model of a channel that is in order.
    ///
    /// # Errors
    /// What [`Channel::check`] finds.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, reference, units::*};
    /// let channel = Channel::new(
    ///     Gauge::new(GaugeFactor(0.0)),
    ///     Bridge::quarter_ideal(Ohms(120.0)),
    ///     Converter::bipolar(16, Ratio(0.01)),
    /// );
    /// assert!(reference::Model::new(&channel).is_err());
    /// ```
    pub fn new(channel: &Channel) -> Result<Self, Error> {
        channel.check()?;
        let network = match channel.source {
            Source::Readings(_) => None,
            Source::Codes(bridge, converter) => {
                Some(Network::at_balance(&bridge, channel.balance_code() * converter.ratio_per_code()))
            }
        };
        Ok(Self { channel: *channel, network })
    }

    /// Strain for a code and a temperature, corrected as far as the channel says: what a kernel gives
    /// for the same inputs, but exact to `f64`. Nothing is held at the ends of the declared ranges.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, reference, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// let model = reference::Model::new(&channel)?;
    /// assert_eq!(model.strain(0, fixed::Temperature::from_bits(0)).0, 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn strain(&self, code: i32, temperature: Temperature) -> Strain {
        let steps = self.steps(f64::from(code), temperature.celsius());
        match self.channel.correction {
            Correction::None => steps.indicated,
            Correction::ThermalOutput => Strain(steps.indicated.0 - steps.thermal_output.0),
            Correction::Full => steps.mechanical,
        }
    }

    /// Every step, for a code (or a mean of codes) and a temperature.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, reference, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// let steps = reference::Model::new(&channel)?.steps(100.5, Celsius(20.0));
    /// assert!(steps.indicated.0 > 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn steps(&self, code: f64, temperature: Celsius) -> Steps {
        let indicated = self.indicated(code);
        let thermal_output = self.thermal_output(temperature).0;
        let gauge_factor = self.channel.gauge.gauge_factor_at(temperature);
        let mechanical = (indicated - thermal_output) * self.channel.instrument_factor / gauge_factor.0;
        Steps {
            indicated: Strain(indicated),
            thermal_output: Strain(thermal_output),
            gauge_factor,
            mechanical: Strain(mechanical),
        }
    }

    /// The whole way back: the code, not rounded, that a mechanical strain gives at a temperature. The
    /// network is solved forwards, so a reading corrected and put back checks both.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, reference, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// let model = reference::Model::new(&channel)?;
    /// let strain = model.steps(1234.0, Celsius(60.0)).mechanical;
    /// assert!((model.code_for(strain, Celsius(60.0)) - 1234.0).abs() < 1e-7);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn code_for(&self, mechanical: Strain, temperature: Celsius) -> f64 {
        let factor = self.channel.gauge.gauge_factor_at(temperature).0;
        let indicated =
            mechanical.0 * factor / self.channel.instrument_factor + self.thermal_output(temperature).0;
        let signal = self.channel.instrument_factor * indicated;
        match (self.channel.source, &self.network) {
            (Source::Codes(_, converter), Some(network)) => {
                network.ratio(signal) / converter.ratio_per_code()
            }
            _ => self.channel.balance_code() + signal / self.reading_step(),
        }
    }

    /// Thermal output since balance, in the scale of indicated strain.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, reference, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.0)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)))
    /// #     .balanced(0.0, Celsius(20.0));
    /// let model = reference::Model::new(&channel)?;
    /// assert!((model.thermal_output(Celsius(30.0)).microstrain().0 - 10.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn thermal_output(&self, temperature: Celsius) -> Strain {
        let now = self.thermal_output_from_reference(temperature);
        let then = match self.channel.balance {
            Some(balance) => self.thermal_output_from_reference(Celsius(balance.temperature)),
            None => 0.0,
        };
        Strain(now - then)
    }

    /// Package curve and rotation, in the scale of indicated strain.
    fn thermal_output_from_reference(&self, temperature: Celsius) -> f64 {
        if !self.channel.shows_thermal_output() {
            return 0.0;
        }
        let gauge = &self.channel.gauge;
        let stated = gauge.thermal_output.stated_for;
        let package = gauge.thermal_output.at(temperature).0 * 1e-6 * stated;
        let free = self.channel.mismatch_expansion() * (temperature.0 - gauge.reference);
        let rotation = match self.channel.mismatch {
            MismatchScale::GaugeFactorAtTemperature => {
                free * gauge.gauge_factor_at(temperature).0 * self.channel.equibiaxial_gain()
            }
            MismatchScale::GaugeFactorAtReference => free * gauge.factor * self.channel.equibiaxial_gain(),
            MismatchScale::StatedGaugeFactor => free * stated,
        };
        (package + rotation) / self.channel.instrument_factor
    }

    /// Strain as the instrument shows it.
    fn indicated(&self, code: f64) -> f64 {
        let signal = match (self.channel.source, &self.network) {
            (Source::Codes(_, converter), Some(network)) => {
                network.signal_for(code * converter.ratio_per_code())
            }
            _ => (code - self.channel.balance_code()) * self.reading_step(),
        };
        signal / self.channel.instrument_factor
    }

    /// Gauge factor times strain for a count of an instrument's reading.
    fn reading_step(&self) -> f64 {
        match self.channel.source {
            Source::Readings(instrument) => instrument.step * 1e-6 * self.channel.instrument_factor,
            Source::Codes(..) => f64::NAN,
        }
    }
}
