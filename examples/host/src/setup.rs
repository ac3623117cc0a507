//! Channels of the library from those of a channel file, checked and compiled to kernels.

use crate::channel_file::{ChannelFile, Description, Problem, Scale};
use crate::circuit::{ThermalOutput, bridge};
use crate::describe::{
    Described, compensating_package, curve_notes, describe, description_hash, fitted, gauge,
};
use crate::kernel::{Kernel, Model, Single, smallest};
use crate::keys::told;
use crate::on_site::{ranges, wiring_check};
use crate::rosette;
use crate::sensor::Sensor;
use crate::temperature_error::TemperatureError;
use crate::uncertainty::{Live, Stated, stated};
use gaugewright::units::{Celsius, Microstrain, Nanostrain};
use gaugewright::{Circuit, CompensatingGauge, Correction, Error, Gauge};

/// A channel ready to run.
pub struct Channel {
    pub name: String,
    pub columns: Columns,
    pub temperature_unit: Scale,
    pub temperature_error: Option<TemperatureError>,
    /// Of one count, where the samples are strain readings instead of codes.
    pub step_microstrain: Option<f64>,
    /// None where the samples are readings of an instrument that has taken its curvature out.
    pub circuit: Option<Circuit>,
    pub thermal_output: ThermalOutput,
    pub gauge: Gauge,
    /// Of curves that may be declared in the wrong unit, as lines of a report.
    pub curve_notes: Vec<String>,
    pub balanced_at: Option<Celsius>,
    pub temperatures: (Celsius, Celsius),
    /// With a temperature of its own.
    pub compensating: Option<Compensating>,
    /// What the kernels' map leaves out of the circuit, and their polynomial of the gauge factor.
    pub circuit_error: Nanostrain,
    /// What the gauge factor refers to, in words.
    pub gauge_factor_refers_to: &'static str,
    /// Of all that the channel was described with.
    pub description_hash: u64,
    /// Where the file states uncertainties.
    pub uncertainty: Option<Uncertainty>,
    /// Indicated strain.
    pub indicated: Kernel,
    /// The same with thermal output subtracted.
    pub less_thermal_output: Kernel,
    /// Mechanical strain.
    pub mechanical: Kernel,
    /// The same in single precision.
    pub single: Single,
    /// The whole correction in double precision.
    pub model: Model,
}

/// What the file states of uncertainties, and the kernels that give that of each sample.
pub struct Uncertainty {
    pub stated: Stated,
    pub live: Live,
    /// Of the kernel, with what it leaves out of the bridge.
    pub error_limit: Nanostrain,
}

/// A compensating gauge.
pub struct Compensating {
    pub temperatures: (Celsius, Celsius),
    /// As far as anything was balanced.
    pub balanced_at: Option<Celsius>,
}

impl Channel {
    /// Thermal output of the gauge that measures, in the scale of indicated strain, in microstrain; zero where
    /// it cancels.
    pub fn measuring_output(&self, celsius: f64) -> f64 {
        self.model.thermal_outputs(Celsius(celsius), Celsius(celsius)).0.microstrain().0
    }

    /// The same of the gauge that compensates, if it has a temperature of its own.
    pub fn compensating_output(&self, celsius: f64) -> f64 {
        self.model.thermal_outputs(Celsius(celsius), Celsius(celsius)).1.microstrain().0
    }

    /// Thermal output in the samples at the temperatures of both gauges; the second counts only where the
    /// compensating gauge has one of its own.
    pub fn output(&self, celsius: f64, compensating: f64) -> f64 {
        let (own, second) = self.model.thermal_outputs(Celsius(celsius), Celsius(compensating));
        own.microstrain().0 - second.microstrain().0
    }
}

/// What gives the temperature of the gauge.
pub enum Thermometer {
    /// A column of temperatures.
    Column(String),
    /// A sensor that is read raw.
    Sensor(Sensor),
}

impl Thermometer {
    /// Names of one column or two.
    pub fn columns(&self) -> impl Iterator<Item = &str> {
        let (first, second) = match self {
            Self::Column(name) => (name, None),
            Self::Sensor(sensor) => (&sensor.column, sensor.beside_column.as_deref()),
        };
        [first.as_str()].into_iter().chain(second)
    }
}

/// Where the samples of a channel stand in their file.
pub struct Columns {
    pub value: String,
    pub temperature: Thermometer,
    pub compensating: Option<String>,
    pub true_strain: Option<String>,
}

/// Checks and compiles every channel.
///
/// # Errors
/// What is wrong with each of them.
pub fn set_up(file: ChannelFile) -> Result<Vec<Channel>, Vec<Problem>> {
    let mut problems = rosette::problems(&file);
    let mut channels: Vec<Channel> = Vec::new();
    let mut names: Vec<String> = Vec::new();
    for description in file.channels {
        let mut problem = |text: &str| problems.push(description.problem(text));
        if !is_name(&description.name) {
            problem(NOT_A_NAME);
        }
        if names.contains(&description.name) {
            problem("another channel has this name");
        }
        match compile(&description) {
            Ok(channel) => channels.push(channel),
            Err(texts) => texts.iter().for_each(|text| problem(text)),
        }
        names.push(description.name);
    }
    if problems.is_empty() { Ok(channels) } else { Err(problems) }
}

/// What is told of a name that is none.
pub const NOT_A_NAME: &str = "a name is 1 to 60 printable characters";

pub fn is_name(name: &str) -> bool {
    !name.trim().is_empty() && !name.chars().any(char::is_control) && name.len() <= 60
}

fn compile(description: &Description) -> Result<Channel, Vec<String>> {
    let Described { channel, compensating: second, columns } = describe(description)?;
    let error_limit = description.error_limit();
    let plain = |error: Error| told(description, error);
    let on_the_way = |error| format!("indicated strain that goes with it: {}", plain(error));
    let in_single = |error| format!("in single precision: {}", plain(error));
    let compiled = || {
        let model = Model::of(&channel, second).map_err(plain)?;
        let mechanical = Kernel::within(&channel, second, error_limit).map_err(plain)?;
        // What only firmware uses is to be sound all the same.
        if let Some(on_site) = &description.on_site {
            smallest(&channel, second, error_limit, Some(ranges(&channel, on_site)?))?;
            wiring_check(&channel, on_site)?;
        }
        let uncertainty = stated(description, &channel)?
            .map(|stated| Ok(Uncertainty { live: Live::of(&stated)?, stated, error_limit }))
            .transpose()
            .map_err(|error| format!("[channel.uncertainty]: {}", plain(error)))?;
        let mut ready = Channel {
            name: description.name.clone(),
            columns,
            temperature_unit: description.temperature_unit,
            temperature_error: TemperatureError::of(description),
            step_microstrain: description.instrument.as_ref().map(|shown| shown.step_microstrain),
            circuit: description.bridge.as_ref().map(|it| bridge(it).circuit()),
            thermal_output: ThermalOutput::of(description),
            gauge: gauge(&description.gauge),
            curve_notes: curve_notes(description),
            balanced_at: description.balanced_at(),
            temperatures: channel.temperatures(),
            compensating: compensating(description),
            circuit_error: left_out(&channel, second).map_err(plain)?,
            gauge_factor_refers_to: description.gauge.gauge_factor_refers_to.words(),
            description_hash: description_hash(&channel, second),
            uncertainty,
            indicated: mechanical,
            less_thermal_output: mechanical,
            mechanical,
            single: Single::of(&channel, second).map_err(in_single)?,
            model,
        };
        let mut indicated = channel.correction(Correction::None);
        let mut less_thermal_output = channel.correction(Correction::ThermalOutput);
        if let Some(limit) = description.strain_within_microstrain {
            let (without, with) = limits_on_the_way(&ready, description, limit);
            indicated = indicated.strain_within(without);
            less_thermal_output = less_thermal_output.strain_within(with);
        }
        ready.indicated = Kernel::of(&indicated, second).map_err(on_the_way)?;
        ready.less_thermal_output = Kernel::of(&less_thermal_output, second).map_err(on_the_way)?;
        Ok(ready)
    };
    compiled().map_err(|text: String| vec![text])
}

/// By kernels that have room for every channel.
fn left_out(channel: &gaugewright::Channel, second: Option<CompensatingGauge>) -> Result<Nanostrain, Error> {
    let (circuit, factor) = match second {
        None => (channel.circuit_error()?, channel.gauge_factor_error(3)?),
        Some(second) => {
            let channel = channel.compensated_by(second);
            (channel.circuit_error()?, channel.gauge_factor_error(3)?)
        }
    };
    Ok(Nanostrain(circuit.0 + factor.0))
}

fn compensating(description: &Description) -> Option<Compensating> {
    let second = description.compensating.as_ref()?;
    let [low, high] = match second.temperature_within_c {
        Some(within) => within.map(Celsius),
        None => fitted(compensating_package(description, second).thermal_output.as_ref()?),
    };
    let own = second.balance_temperature_c.map(Celsius);
    let balanced_at = description.balanced_at().map(|balance| own.unwrap_or(balance));
    Some(Compensating { temperatures: (low, high), balanced_at })
}

/// The largest indicated strain, and the largest with thermal output subtracted, that the declared
/// mechanical strain can come with: so that the two are not flagged where mechanical strain is in range.
fn limits_on_the_way(channel: &Channel, description: &Description, limit: f64) -> (Microstrain, Microstrain) {
    let second = channel.compensating.as_ref();
    let compensation = second.map_or(0.0, |second| {
        let outputs = across(second.temperatures).map(|celsius| channel.compensating_output(celsius).abs());
        outputs.fold(0.0, f64::max)
    });
    let mut largest = (limit, limit);
    for celsius in across(channel.temperatures) {
        let strain =
            limit * channel.gauge.gauge_factor_at(Celsius(celsius)).0 / description.instrument_factor().0;
        let thermal = channel.measuring_output(celsius).abs() + compensation;
        largest = (largest.0.max(strain + thermal), largest.1.max(strain));
    }
    // One microstrain covers what the curves do between two of the points; the library has a limit too.
    let declared = |strain: f64| Microstrain((strain + 1.0).min(62_500.0));
    (declared(largest.0), declared(largest.1))
}

/// Temperatures from end to end.
fn across((low, high): (Celsius, Celsius)) -> impl Iterator<Item = f64> {
    const PIECES: u32 = 500;
    (0..=PIECES).map(move |piece| low.0 + (high.0 - low.0) * f64::from(piece) / f64::from(PIECES))
}
