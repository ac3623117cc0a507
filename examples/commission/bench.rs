//! The channel as it is before the run, and what it makes of a reading.

use crate::channel_file::{self, Description, Problem, Scale, ThermalOutput};
use crate::describe::{describe, gauge};
use crate::job::{Job, RunSource};
use crate::run::Value;
use crate::setup::{self, Columns};
use gaugewright::units::{Celsius, GaugeFactor, Microstrain};
use gaugewright::{Channel, Gauge, reference};

pub struct Bench {
    pub columns: Columns,
    /// Of the channel file, without a curve.
    pub gauge: Gauge,
    /// The same with the package's curve, if it has one.
    pub package: Option<Gauge>,
    /// What the channel's indicated strain is expressed with.
    pub instrument_factor: GaugeFactor,
    /// The same of the run.
    pub run_factor: GaugeFactor,
    /// How far the temperature may be off, either way; zero where it is not said.
    pub error: Celsius,
    model: reference::Model,
    /// The smallest and the largest code of the converter, of codes.
    pub rails: Option<(f64, f64)>,
}

impl Bench {
    /// # Errors
    /// What the channel file says twice or not at all, and what the library refuses.
    pub fn of(job: &Job) -> Result<Self, Vec<Problem>> {
        let description = &job.description;
        let problem = |text: String| problem(description, text);
        let problems = |texts: Vec<String>| texts.into_iter().map(problem).collect::<Vec<_>>();
        let (channel, columns) = if description.gauge.thermal_output.is_some() {
            describe(description)
        } else {
            describe(&with_flat_curve(description))
        }
        .map_err(problems)?;
        let refused = |error: gaugewright::Error| vec![problem(error.to_string())];
        let model = reference::Model::new(&channel).map_err(refused)?;
        let instrument_factor = GaugeFactor(description.instrument_gauge_factor.unwrap_or_else(|| {
            let shown = description.instrument.as_ref();
            shown.map_or(description.gauge.gauge_factor, |shown| shown.gauge_factor)
        }));
        let package = gauge(&description.gauge);
        let bits = description.converter.as_ref().map(|converter| converter.bits);
        Ok(Self {
            columns,
            gauge: package,
            package: description.gauge.thermal_output.as_ref().map(|_| package),
            instrument_factor,
            run_factor: match &job.run_source {
                RunSource::Strain(_, factor) => *factor,
                RunSource::OwnColumn => instrument_factor,
            },
            error: Celsius(description.temperature_error_c.unwrap_or_else(|| {
                // A limit either way, from one standard deviation.
                job.uncertainty.temperature_c.map_or(0.0, |uncertainty| uncertainty * 3.0f64.sqrt())
            })),
            model,
            rails: bits.map(|bits| {
                let half = 2.0f64.powi(bits as i32 - 1);
                (-half, half - 1.0)
            }),
        })
    }

    /// Indicated strain.
    pub fn indicated(&self, value: Value) -> Microstrain {
        match value {
            Value::Strain(strain) => strain,
            // It does not depend on the temperature.
            Value::Code(code) => self.model.steps(code, Celsius(0.0)).indicated.microstrain(),
        }
    }
}

/// The channel of a file as the library has it, with every channel of the file compiled as a replay would.
///
/// # Errors
/// As a replay's.
pub fn channel_of(text: &str, index: usize) -> Result<Channel, Vec<Problem>> {
    let read = || channel_file::parse(text);
    setup::set_up(read()?)?;
    let file = read()?;
    let description = file.channels.get(index).ok_or_else(Vec::new)?;
    let told = |texts: Vec<String>| texts.into_iter().map(|text| problem(description, text)).collect::<Vec<_>>();
    describe(description).map(|(channel, _)| channel).map_err(told)
}

fn problem(description: &Description, text: String) -> Problem {
    Problem { line: Some(description.line), channel: Some(format!("{:?}", description.name)), text }
}

/// A channel without a curve of its own, for what does not depend on one: it has to have some.
fn with_flat_curve(description: &Description) -> Description {
    let balance = description.balance.as_ref().map_or(0.0, |balance| balance.temperature_c);
    let [low, high] = description.temperature_within_c.unwrap_or([balance - 1.0, balance + 1.0]);
    let curve = ThermalOutput {
        unit: Scale::Celsius,
        coefficients: vec![0.0],
        stated_for_gauge_factor: None,
        fitted_between: [low.min(balance), high.max(balance)],
    };
    let mut description = description.clone();
    description.gauge.thermal_output = Some(curve);
    description
}
