//! The measurement model in double precision, straight from the resistors and the package: what the
//! kernels are checked against, and what a host may compute with when speed does not matter.
//!
//! It shares no formula with the kernels: the bridge is solved for the resistance of the gauge by
//! Kirchhoff's current law, thermal output is evaluated in the package's own scale, and each step of the
//! correction is a line. Its own rounding stays below 1e-5 nanostrain.

use crate::bridge::Bridge;
use crate::channel::{Channel, Correction, MismatchScale, Source};
use crate::error::Error;
use crate::fixed::Temperature;
use crate::units::{Celsius, GaugeFactor, Strain};

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
}

/// A quarter bridge whose unknown resistors have been found from its balance.
struct Network {
    completion_arm: f64,
    upper: f64,
    lower: f64,
    /// Part of the ratio at balance that no resistor explains.
    offset: f64,
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
        Ok(Self { channel: *channel })
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
        let balance = self.channel.balance_code();
        match self.channel.source {
            Source::Readings(instrument) => balance + indicated / (instrument.step * 1e-6),
            Source::Codes(bridge, converter) => {
                let network = Network::at_balance(&bridge, balance * converter.ratio_per_code());
                let gauge = bridge.gauge * (1.0 + self.channel.instrument_factor * indicated);
                network.ratio(&bridge, gauge) / converter.ratio_per_code()
            }
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
        let balance = self.channel.balance_code();
        match self.channel.source {
            Source::Readings(instrument) => (code - balance) * instrument.step * 1e-6,
            Source::Codes(bridge, converter) => {
                let network = Network::at_balance(&bridge, balance * converter.ratio_per_code());
                let gauge = network.gauge_for(&bridge, code * converter.ratio_per_code());
                (gauge / bridge.gauge - 1.0) / self.channel.instrument_factor
            }
        }
    }
}

impl Network {
    /// Finds what the channel does not say about its resistors from the ratio at balance.
    fn at_balance(bridge: &Bridge, ratio: f64) -> Self {
        let (upper, lower) = bridge.reference.unwrap_or((bridge.gauge, bridge.gauge));
        let arm = bridge.gauge + bridge.gauge_arm_leads();
        let mut network = Self { completion_arm: f64::NAN, upper, lower, offset: 0.0 };
        match bridge.completion {
            None => {
                // All currents at OUT+, for an excitation of one volt: what comes down the completion arm
                // goes through the gauge arm and the input.
                let (plus, current) = network.output_nodes(bridge, ratio);
                network.completion_arm = (1.0 - plus) / (plus / arm + current);
            }
            Some(completion) => {
                network.completion_arm = completion + bridge.completion_arm_leads();
                if bridge.reference.is_none() {
                    // The sum of the reference half stays what it is, its division moves.
                    network.solve_division(bridge, arm, ratio);
                } else {
                    network.offset = ratio - network.ratio(bridge, bridge.gauge);
                }
            }
        }
        network
    }

    /// Voltage at OUT+ and current through the input, from the reference half bridge up: `ratio` is the
    /// voltage across the input.
    fn output_nodes(&self, bridge: &Bridge, ratio: f64) -> (f64, f64) {
        let current = bridge.input.map_or(0.0, |input| ratio / input);
        // OUT-: the input's current adds to what the reference half bridge divides.
        let minus = (1.0 / self.upper + current) / (1.0 / self.upper + 1.0 / self.lower);
        (minus + ratio + current * bridge.output_lead(), current)
    }

    /// The division of the reference half bridge that gives this ratio at balance. Only the division
    /// counts where no current is drawn; the source resistance of the half is that of two equal
    /// resistors of the gauge's resistance, as stated.
    fn solve_division(&mut self, bridge: &Bridge, arm: f64, ratio: f64) {
        let current = bridge.input.map_or(0.0, |input| ratio / input);
        // OUT+ from its own half bridge, loaded by the input's current.
        let plus = (1.0 / self.completion_arm - current) / (1.0 / self.completion_arm + 1.0 / arm);
        let minus = plus - ratio - current * bridge.output_lead();
        let source = self.upper * self.lower / (self.upper + self.lower);
        let open = minus - current * source;
        // Two resistors with this open voltage and this source resistance.
        self.upper = source / open;
        self.lower = source / (1.0 - open);
    }

    /// The resistance of the gauge that gives this ratio.
    fn gauge_for(&self, bridge: &Bridge, ratio: f64) -> f64 {
        let ratio = ratio - self.offset;
        let (plus, current) = self.output_nodes(bridge, ratio);
        let down = (1.0 - plus) / self.completion_arm;
        plus / (down - current) - bridge.gauge_arm_leads()
    }

    /// The ratio that this resistance of the gauge gives: Kirchhoff's current law at the two outputs.
    fn ratio(&self, bridge: &Bridge, gauge: f64) -> f64 {
        let arm = gauge + bridge.gauge_arm_leads();
        let from_plus = 1.0 / self.completion_arm + 1.0 / arm;
        let from_minus = 1.0 / self.upper + 1.0 / self.lower;
        let open = (1.0 / self.completion_arm) / from_plus - (1.0 / self.upper) / from_minus;
        let inside = 1.0 / from_plus + 1.0 / from_minus + bridge.output_lead();
        let across = bridge.input.map_or(open, |input| open * input / (input + inside));
        across + self.offset
    }
}
