//! The measurement model in double precision, straight from the resistors and the package: what the
//! kernels are checked against, and what a host may compute with when speed does not matter.
//!
//! It shares no formula with the kernels: the bridge is solved by Kirchhoff's current law at its nodes, and
//! backwards by iteration, thermal output is evaluated in the package's own scale, and each step of the
//! correction is a line. Against exact arithmetic its own rounding stays below 1e-6 nanostrain.

mod network;
pub(crate) mod nodal;

use crate::channel::{
    Arm, Bonded, Channel, CompensatedChannel, CompensatingGauge, Correction, Gauge, GaugeFactorBasis,
    MismatchScale, Source,
};
use crate::error::Error;
use crate::sample::Temperature;
use crate::units::{Celsius, GaugeFactor, Ratio, Strain};
use network::Network;

/// The steps from a reading to mechanical strain.
///
/// ```
/// use gaugewright::{reference, units::*};
/// # let channel = gaugewright::example::CHANNEL;
/// let steps = reference::Model::new(&channel)?.steps(0.0, Celsius(34.0));
/// assert_eq!(steps.indicated.0, 0.0);
/// assert!((steps.thermal_output.microstrain().0 - 10.0 * 2.0 / 2.1).abs() < 1e-9);
/// assert!((steps.mechanical.0 + steps.thermal_output.0).abs() < 1e-15);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Steps {
    /// Strain as the instrument shows it, at the instrument gauge factor.
    pub indicated: Strain,
    /// Thermal output since balance, in the scale of indicated strain.
    pub thermal_output: Strain,
    /// Gauge factor at the temperature of the gauge, for the ratio of strains where one is stated.
    pub gauge_factor: GaugeFactor,
    /// Mechanical strain: thermal output subtracted, then brought to the gauge factor at temperature.
    pub mechanical: Strain,
}

/// A channel's model in `f64`.
///
/// ```
/// use gaugewright::{reference, units::*};
/// # let channel = gaugewright::example::FLAT;
/// let model = reference::Model::new(&channel)?;
/// // A quarter bridge of gauge factor 2 gives e = 4 r / (1 - 2 r) / 2.
/// let r = 0.01 * 1600.0 / 32768.0;
/// let strain = model.steps(1600.0, Celsius(24.0)).mechanical;
/// assert!((strain.0 - 2.0 * r / (1.0 - 2.0 * r)).abs() < 1e-15);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Model {
    channel: Channel,
    /// Of a channel of codes, with the resistors that it does not state found from its balance.
    network: Option<Network>,
}

impl Model {
    /// The model of a channel that is in order.
    ///
    /// # Errors
    /// What [`Channel::check`] finds.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, reference, units::*};
    /// let channel = Channel::new(
    ///     Gauge::new(GaugeFactor(0.0)),
    ///     Bridge::quarter_ideal(Ohms(120.0)),
    ///     Converter::bipolar(16, Ratio(0.01)),
    /// );
    /// assert!(reference::Model::new(&channel).is_err());
    /// ```
    pub fn new(channel: &Channel) -> Result<Self, Error> {
        channel.check()?;
        Ok(Self::checked(channel))
    }

    fn checked(channel: &Channel) -> Self {
        let network = match channel.source {
            Source::Readings(_) => None,
            Source::Codes(bridge, _) => Some(Network::at_balance(&bridge, channel.balance_ratio().0)),
        };
        Self { channel: *channel, network }
    }

    /// Strain for a code and a temperature, corrected as far as the channel states: what a kernel gives
    /// for the same inputs, but exact to `f64`. Nothing is clamped to the declared ranges; NaN for a
    /// code that no resistance of the gauges gives.
    ///
    /// ```
    /// use gaugewright::{fixed, reference};
    /// # let channel = gaugewright::example::FLAT;
    /// let model = reference::Model::new(&channel)?;
    /// assert_eq!(model.strain(0, fixed::Temperature::from_bits(0)).0, 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn strain(&self, code: i32, temperature: Temperature) -> Strain {
        self.corrected(&self.steps(f64::from(code), temperature.celsius()))
    }

    fn corrected(&self, steps: &Steps) -> Strain {
        match self.channel.correction {
            Correction::None => steps.indicated,
            Correction::ThermalOutput => Strain(steps.indicated.0 - steps.thermal_output.0),
            Correction::Full => steps.mechanical,
        }
    }

    /// Every step, for a code (or a mean of codes) and a temperature.
    ///
    /// ```
    /// use gaugewright::{reference, units::*};
    /// # let channel = gaugewright::example::FLAT;
    /// let steps = reference::Model::new(&channel)?.steps(100.5, Celsius(20.0));
    /// assert!(steps.indicated.0 > 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn steps(&self, code: f64, temperature: Celsius) -> Steps {
        self.steps_with(code, temperature, self.thermal_output(temperature))
    }

    fn steps_with(&self, code: f64, temperature: Celsius, thermal_output: Strain) -> Steps {
        let indicated = self.indicated(code);
        let gauge_factor = self.channel.gauge.gauge_factor_at(temperature);
        let by_load = (indicated - thermal_output.0) * self.channel.instrument_factor;
        let mechanical = by_load / self.slope(temperature, thermal_output);
        Steps { indicated: Strain(indicated), thermal_output, gauge_factor, mechanical: Strain(mechanical) }
    }

    /// Change of resistance, over that at balance, for a strain by load: gauge factor times the resistance that it refers to.
    fn slope(&self, temperature: Celsius, thermal_output: Strain) -> f64 {
        let factor = self.channel.gauge.gauge_factor_at(temperature).0;
        let unloaded = 1.0 + thermal_output.0 * self.channel.instrument_factor;
        match self.channel.gauge.basis {
            GaugeFactorBasis::AtBalance => factor,
            GaugeFactorBasis::UnloadedGauge => factor * unloaded,
            GaugeFactorBasis::FreeFoil(_) => {
                let free = unloaded / (1.0 + factor * self.forced_strain(temperature));
                factor * free
            }
        }
    }

    /// What the foil of the unloaded gauge sees of the strain that the specimen forces on it.
    fn forced_strain(&self, temperature: Celsius) -> f64 {
        let gauge = &self.channel.gauge;
        let GaugeFactorBasis::FreeFoil(forced) = gauge.basis else { return 0.0 };
        let d = temperature.0 - gauge.reference;
        let [a, b, c, e] = forced.coefficients;
        1e-6 * (a + b * d + c * d * d + e * d * d * d) * seen_of_both_ways(gauge)
    }

    /// The whole way back: the code, not rounded, that a mechanical strain gives at a temperature. The
    /// network is solved forwards, so a reading corrected and put back checks both.
    ///
    /// ```
    /// use gaugewright::{reference, units::*};
    /// # let channel = gaugewright::example::CHANNEL;
    /// let model = reference::Model::new(&channel)?;
    /// let strain = model.steps(1234.0, Celsius(60.0)).mechanical;
    /// assert!((model.code_for(strain, Celsius(60.0)) - 1234.0).abs() < 1e-7);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn code_for(&self, mechanical: Strain, temperature: Celsius) -> f64 {
        self.code_with(mechanical, temperature, self.thermal_output(temperature))
    }

    fn code_with(&self, mechanical: Strain, temperature: Celsius, thermal_output: Strain) -> f64 {
        let slope = self.slope(temperature, thermal_output);
        let signal = mechanical.0 * slope + thermal_output.0 * self.channel.instrument_factor;
        match &self.network {
            Some(network) => self.channel.code(Ratio(network.ratio(signal))),
            None => self.channel.balance_code() + signal / self.reading_step(),
        }
    }

    /// Thermal output since balance, in the scale of indicated strain.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, reference, units::*};
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
        if !self.channel.shows_thermal_output() {
            return Strain(0.0);
        }
        Strain(self.thermal_signal(&self.channel.measuring(), temperature) / self.channel.instrument_factor)
    }

    /// Relative change of resistance of a gauge with temperature since balance.
    fn thermal_signal(&self, bonded: &Bonded, temperature: Celsius) -> f64 {
        let now = self.thermal_signal_from_reference(bonded, temperature);
        let then = bonded.balance.map(|then| self.thermal_signal_from_reference(bonded, Celsius(then)));
        let then = then.unwrap_or(0.0);
        match self.channel.gauge.basis {
            GaugeFactorBasis::AtBalance => now - then,
            // A part of the resistance at balance.
            _ => (now - then) / (1.0 + then),
        }
    }

    /// Package curve and rotation.
    fn thermal_signal_from_reference(&self, bonded: &Bonded, temperature: Celsius) -> f64 {
        let gauge = &bonded.gauge;
        let stated = gauge.thermal_output.stated_for;
        let package = gauge.thermal_output.at(temperature).0 * 1e-6 * stated;
        let free = bonded.mismatch * (temperature.0 - gauge.reference);
        let both_ways = seen_of_both_ways(gauge);
        let rotation = match self.channel.mismatch {
            MismatchScale::GaugeFactorAtTemperature => {
                free * gauge.gauge_factor_at(temperature).0 * both_ways
            }
            MismatchScale::GaugeFactorAtReference => free * gauge.factor * both_ways,
            MismatchScale::StatedGaugeFactor => free * stated,
        };
        package + rotation
    }

    /// Strain as the instrument shows it.
    fn indicated(&self, code: f64) -> f64 {
        let signal = match &self.network {
            Some(network) => network.signal_for(self.channel.ratio(code).0),
            None => (code - self.channel.balance_code()) * self.reading_step(),
        };
        signal / self.channel.instrument_factor
    }

    /// Indicated strain for an output ratio of the bridge.
    pub(crate) fn indicated_for(&self, ratio: f64) -> f64 {
        self.network.as_ref().map_or(f64::NAN, |network| network.signal_for(ratio))
            / self.channel.instrument_factor
    }

    /// The output ratio, by the nodes of the whole circuit, of a gauge that has changed by `signal` and with a
    /// shunt (arm, ohms, behind the leads) or without.
    pub(crate) fn shunted(&self, shunt: Option<(Arm, f64, bool)>, signal: f64) -> Option<f64> {
        self.network.as_ref()?.shunted(shunt, signal)
    }

    /// Gauge factor times strain for a count of an instrument's reading.
    fn reading_step(&self) -> f64 {
        match self.channel.source {
            Source::Readings(instrument) => instrument.step * 1e-6 * self.channel.instrument_factor,
            Source::Codes(..) => f64::NAN,
        }
    }
}

/// What a grid sees of one strain in both directions: its axial share and, through its transverse sensitivity, the other; the
/// gauge factor was calibrated with a transverse strain of minus the beam's Poisson ratio (ASTM E251).
fn seen_of_both_ways(gauge: &Gauge) -> f64 {
    let kt = gauge.transverse_sensitivity;
    (1.0 + kt) / (1.0 + kt * -gauge.calibration_poisson)
}

/// The model of a channel whose compensating gauge has a temperature of its own.
///
/// ```
/// use gaugewright::{example::COMPENSATED, reference, units::*};
/// let model = reference::CompensatedModel::new(&COMPENSATED)?;
/// // Ten degrees of a curve that rises by one a degree, stated for a gauge factor of 2; that of the gauge is 2.1.
/// let steps = model.steps(0.0, Celsius(40.0), Celsius(30.0));
/// assert!((steps.thermal_output.microstrain().0 - 10.0 * 2.0 / 2.1).abs() < 1e-9);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct CompensatedModel {
    model: Model,
    compensating: CompensatingGauge,
}

impl CompensatedModel {
    /// The model of a channel that is in order.
    ///
    /// # Errors
    /// What [`CompensatedChannel::check`] finds.
    ///
    /// ```
    /// use gaugewright::{CompensatingGauge, example::*, reference};
    /// let quarter = CHANNEL.compensated_by(CompensatingGauge::new(GAUGE));
    /// assert!(reference::CompensatedModel::new(&quarter).is_err());
    /// ```
    pub fn new(channel: &CompensatedChannel) -> Result<Self, Error> {
        channel.check()?;
        Ok(Self { model: Model::checked(&channel.channel), compensating: channel.compensating })
    }

    /// As [`Model::strain`], with both temperatures.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED, fixed, reference};
    /// let model = reference::CompensatedModel::new(&COMPENSATED)?;
    /// let warm = fixed::Temperature::from_bits(40 << 20);
    /// assert_eq!(model.strain(0, warm, warm).0, 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn strain(&self, code: i32, temperature: Temperature, compensating: Temperature) -> Strain {
        let steps = self.steps(f64::from(code), temperature.celsius(), compensating.celsius());
        self.model.corrected(&steps)
    }

    /// As [`Model::steps`], with both temperatures: thermal output is the difference of the two.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED, reference, units::*};
    /// let model = reference::CompensatedModel::new(&COMPENSATED)?;
    /// assert_eq!(model.steps(0.0, Celsius(40.0), Celsius(40.0)).thermal_output.0, 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn steps(&self, code: f64, temperature: Celsius, compensating: Celsius) -> Steps {
        self.model.steps_with(code, temperature, self.thermal_difference(temperature, compensating))
    }

    /// As [`Model::code_for`], with both temperatures.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED, reference, units::*};
    /// let model = reference::CompensatedModel::new(&COMPENSATED)?;
    /// assert!(model.code_for(Strain(0.0), Celsius(9.0), Celsius(9.0)).abs() < 1e-6);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn code_for(&self, mechanical: Strain, temperature: Celsius, compensating: Celsius) -> f64 {
        self.model.code_with(mechanical, temperature, self.thermal_difference(temperature, compensating))
    }

    /// Thermal output of the gauge that measures and of the compensating gauge since balance, in the scale of indicated
    /// strain: the samples show the first less the second.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED, reference, units::*};
    /// let model = reference::CompensatedModel::new(&COMPENSATED)?;
    /// let (measuring, compensating) = model.thermal_outputs(Celsius(40.0), Celsius(40.0));
    /// assert_eq!(measuring, compensating);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn thermal_outputs(&self, temperature: Celsius, compensating: Celsius) -> (Strain, Strain) {
        let channel = &self.model.channel;
        let strain = |bonded: Bonded, temperature| {
            Strain(self.model.thermal_signal(&bonded, temperature) / channel.instrument_factor)
        };
        let second = self.compensating.bonded(channel.balance);
        (strain(channel.measuring(), temperature), strain(second, compensating))
    }

    fn thermal_difference(&self, temperature: Celsius, compensating: Celsius) -> Strain {
        let (measuring, compensating) = self.thermal_outputs(temperature, compensating);
        let difference = measuring.0 - compensating.0;
        match self.model.channel.gauge.basis {
            GaugeFactorBasis::AtBalance => Strain(difference),
            // The bridge has the ratio of the two resistances.
            _ => Strain(difference / (1.0 + compensating.0 * self.model.channel.instrument_factor)),
        }
    }
}
