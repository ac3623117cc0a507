//! Channels of the library from those of a channel file, checked and compiled to fixed-point kernels.

use crate::channel_file::{ChannelFile, Description, Problem, Scale};
use crate::describe::{describe, gauge};
use gaugewright::units::{Celsius, Microstrain, Nanostrain};
use gaugewright::{Correction, Gauge, fixed, reference};

/// Room for every channel that the library takes.
pub type Kernel = fixed::Kernel<5, 3>;

/// A channel ready to run.
pub struct Channel {
    pub name: String,
    pub columns: Columns,
    pub temperature_unit: Scale,
    /// Of one count, where the samples are strain readings instead of codes.
    pub step_microstrain: Option<f64>,
    pub gauge: Gauge,
    pub balanced_at: Option<Celsius>,
    pub temperatures: (Celsius, Celsius),
    /// Indicated strain.
    pub indicated: Kernel,
    /// The same with thermal output subtracted.
    pub less_thermal_output: Kernel,
    /// Mechanical strain.
    pub mechanical: Kernel,
    /// The whole correction in double precision.
    pub model: reference::Model,
}

/// Names of columns in the samples file.
pub struct Columns {
    pub value: String,
    pub temperature: String,
    pub true_strain: Option<String>,
}

/// Checks and compiles every channel.
///
/// # Errors
/// What is wrong with each of them.
pub fn set_up(file: ChannelFile) -> Result<Vec<Channel>, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut channels: Vec<Channel> = Vec::new();
    let mut names: Vec<String> = Vec::new();
    for description in file.channels {
        let name = description.name.clone();
        let mut problem = |text: String| {
            problems.push(Problem { line: None, channel: Some(format!("{name:?}")), text });
        };
        if name.trim().is_empty() || name.chars().any(char::is_control) || name.len() > 60 {
            problem("a name is 1 to 60 printable characters".to_string());
        }
        if names.contains(&name) {
            problem("another channel has this name".to_string());
        }
        match compile(description) {
            Ok(channel) => channels.push(channel),
            Err(texts) => texts.into_iter().for_each(&mut problem),
        }
        names.push(name);
    }
    if problems.is_empty() { Ok(channels) } else { Err(problems) }
}

fn compile(description: Description) -> Result<Channel, Vec<String>> {
    let promise = description.error_within_nanostrain.unwrap_or(0.5);
    let (channel, columns) = describe(&description)?;
    let plain = |error: gaugewright::Error| error.to_string();
    let on_the_way = |error: gaugewright::Error| format!("indicated strain that goes with it: {error}");
    let compiled = || {
        let model = reference::Model::new(&channel).map_err(plain)?;
        let indicated = channel.correction(Correction::None);
        let less_thermal_output = channel.correction(Correction::ThermalOutput);
        let (indicated, less_thermal_output) = match description.strain_within_microstrain {
            Some(limit) => {
                let (without, with) = limits_on_the_way(&channel, &model, &description, limit);
                (indicated.strain_within(without), less_thermal_output.strain_within(with))
            }
            None => (indicated, less_thermal_output),
        };
        Ok(Channel {
            name: description.name.clone(),
            columns,
            temperature_unit: description.temperature_unit,
            step_microstrain: description.instrument.as_ref().map(|shown| shown.step_microstrain),
            gauge: gauge(&description.gauge),
            balanced_at: description.balance.as_ref().map(|at| Celsius(at.temperature_c)),
            temperatures: channel.temperatures(),
            mechanical: channel.try_fixed_within(Nanostrain(promise)).map_err(plain)?,
            indicated: indicated.try_fixed().map_err(on_the_way)?,
            less_thermal_output: less_thermal_output.try_fixed().map_err(on_the_way)?,
            model,
        })
    };
    compiled().map_err(|text: String| vec![text])
}

/// The largest indicated strain, and the largest with thermal output subtracted, that the declared
/// mechanical strain can come with: so that the two are not flagged where mechanical strain is in range.
fn limits_on_the_way(
    channel: &gaugewright::Channel,
    model: &reference::Model,
    description: &Description,
    limit: f64,
) -> (Microstrain, Microstrain) {
    const PIECES: u32 = 500;
    let (low, high) = channel.temperatures();
    let instrument_factor = description.instrument_gauge_factor.unwrap_or_else(|| {
        let shown = description.instrument.as_ref();
        shown.map_or(description.gauge.gauge_factor, |shown| shown.gauge_factor)
    });
    let gauge = gauge(&description.gauge);
    let mut largest = (limit, limit);
    for piece in 0..=PIECES {
        let temperature = Celsius(low.0 + (high.0 - low.0) * f64::from(piece) / f64::from(PIECES));
        let strain = limit * gauge.gauge_factor_at(temperature).0 / instrument_factor;
        let thermal = model.thermal_output(temperature).microstrain().0.abs();
        largest = (largest.0.max(strain + thermal), largest.1.max(strain));
    }
    // One microstrain covers what the curves do between two of the points; the library has a limit too.
    let declared = |strain: f64| Microstrain((strain + 1.0).min(62_500.0));
    (declared(largest.0), declared(largest.1))
}
