//! The channel as it is before the run, and what it makes of a reading.

use crate::job::{Job, RunSource};
use crate::run::Value;
use gaugewright::units::{Celsius, GaugeFactor, Microstrain, Nanostrain, Ratio};
use gaugewright::{Channel, Converter, Gauge, reference};
use host::channel_file::{self, ChannelFile, Description, Problem, Scale, ThermalOutput};
use host::describe::{Described, describe, gauge};
use host::keys::{told, told_on_site};
use host::on_site::spans;
use host::setup::{self, Columns};

pub struct Bench {
    pub columns: Columns,
    /// As before the run; without a curve of its own where the package has none.
    pub channel: Channel,
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
    /// Of indicated strain, at balance; of a step where an instrument shows strain.
    pub microstrain_per_code: f64,
    /// The smallest and the largest code of the converter, where there is one.
    pub rails: Option<(f64, f64)>,
}

impl Bench {
    /// # Errors
    /// What the channel file says twice or not at all, and what the library refuses.
    pub fn of(job: &Job) -> Result<Self, Vec<Problem>> {
        let description = &job.description;
        let problem = |text| description.problem(text);
        let Described { channel, columns, .. } = if description.gauge.thermal_output.is_some() {
            describe(description)
        } else {
            describe(&with_flat_curve(description))
        }
        .map_err(|texts| texts.into_iter().map(problem).collect::<Vec<_>>())?;
        let refused = |error| vec![problem(told(description, error))];
        let model = reference::Model::new(&channel).map_err(refused)?;
        // The whole of it is compiled with the curve of the run; what has nothing to do with that is told before.
        for span in description.on_site.iter().flat_map(spans) {
            let with_span = reference::Model::new(&channel.span_correction(span));
            with_span.map_err(|error| vec![problem(told_on_site(error))])?;
        }
        let balance = description.balance.as_ref().map_or(0.0, |balance| description.balance_code(balance));
        let indicated = |code: f64| model.steps(code, Celsius(0.0)).indicated.microstrain().0;
        let microstrain_per_code = (0.5 * (indicated(balance + 1.0) - indicated(balance - 1.0))).abs();
        let instrument_factor = description.instrument_factor();
        let package = gauge(&description.gauge);
        let bits = description.converter.as_ref().map(|converter| converter.bits);
        let rails = bits.map(|bits| Converter::bipolar(bits, Ratio(1.0)).rails());
        Ok(Self {
            columns,
            channel,
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
            microstrain_per_code,
            rails: rails.map(|(low, high)| (f64::from(low), f64::from(high))),
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

/// The channel as it is written, after the run.
pub struct Commissioned {
    pub channel: Channel,
    /// What the kernel's arithmetic can make of a strain.
    pub kernel_error: Nanostrain,
    /// What is wrong with the other channels of the file: perhaps their runs are still to come.
    pub others: Vec<Problem>,
}

/// The channel at this place of a file, compiled as a replay would.
///
/// # Errors
/// As a replay's.
pub fn commissioned(text: &str, index: usize) -> Result<Commissioned, Vec<Problem>> {
    let missing = || vec![Problem::of_file("the channel is missing")];
    let file = channel_file::parse(text)?;
    let description = file.channels.get(index).cloned().ok_or_else(missing)?;
    let only = ChannelFile {
        time_column: file.time_column.clone(),
        channels: vec![description.clone()],
        rosettes: Vec::new(),
    };
    let ready = setup::set_up(only)?;
    let compiled = ready.first().ok_or_else(missing)?;
    let kernel_error = compiled.mechanical.error_bound().max();
    let told =
        |texts: Vec<String>| texts.into_iter().map(|text| description.problem(text)).collect::<Vec<_>>();
    let Described { channel, .. } = describe(&description).map_err(told)?;
    let others = setup::set_up(file).err().unwrap_or_default();
    Ok(Commissioned { channel, kernel_error, others })
}

/// A channel without a curve of its own, for what does not depend on one: it has to have some.
fn with_flat_curve(description: &Description) -> Description {
    let balance = description.balanced_at().map_or(0.0, |at| at.0);
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
