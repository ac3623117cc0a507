//! What an error of the temperature makes of the strain.

use crate::channel_file::Description;
use crate::circuit::ThermalOutput;
use crate::figures::{Extremes, Moment};
use crate::results::Results;
use crate::sensor;
use crate::setup::Channel;
use gaugewright::fixed::Temperature;
use gaugewright::temperature::{PlatinumElement, ToleranceClass};
use gaugewright::units::Celsius;
use std::fmt::{self, Display, Formatter};

/// How far the temperature of the gauge that measures may be off, either way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TemperatureError {
    /// In degrees, as the channel file says.
    Stated(f64),
    /// By what the standard lets a platinum sensor be off.
    Tolerance(ToleranceClass, PlatinumElement),
}

/// One row: slopes in microstrain per degree, the error in degrees and in microstrain.
pub struct Chained {
    pub time: f64,
    pub celsius: f64,
    /// None where the class of the sensor does not hold.
    pub error: Option<f64>,
    pub thermal_output_slope: f64,
    /// Of mechanical strain for the row's code, with what the gauge factor adds.
    pub strain_slope: f64,
}

impl TemperatureError {
    /// None if the file does not say.
    pub fn of(description: &Description) -> Option<Self> {
        let class = || description.sensor.as_ref().and_then(sensor::tolerance);
        let stated = description.temperature_error_c.map(Self::Stated);
        stated.or_else(|| class().map(|(class, element)| Self::Tolerance(class, element)))
    }

    /// In degrees; none where the class does not hold.
    fn at(self, celsius: f64) -> Option<f64> {
        match self {
            Self::Stated(error) => Some(error),
            Self::Tolerance(class, element) => class.tolerance(element, Celsius(celsius)).ok().map(|it| it.0),
        }
    }

    /// The row where thermal output is steepest, if it does not cancel, among those without a flag, and its slope there.
    pub fn steepest(self, channel: &Channel, results: &Results) -> Option<(usize, f64)> {
        if channel.thermal_output == ThermalOutput::Cancels {
            return None;
        }
        let series = &results.series;
        let steepness = |row: usize| {
            let second = series.compensating.get(row).copied();
            slope(series.temperatures[row], second, |at| thermal_output(channel, at)).abs()
        };
        results
            .clear_rows()
            .map(|(row, _)| (row, steepness(row)))
            .reduce(|best, next| if next.1 > best.1 { next } else { best })
    }

    /// At the coldest and the hottest row, and at the one where thermal output is steepest, if it does not cancel,
    /// among those without a flag.
    pub fn chain(
        self,
        channel: &Channel,
        extremes: &Extremes,
        steepest: Option<Moment>,
    ) -> Vec<(&'static str, Chained)> {
        let at = |moment: Moment| {
            let celsius = moment.temperature.celsius().0;
            let code = f64::from(moment.code);
            let (own, second) = (moment.temperature, moment.compensating);
            Chained {
                time: moment.time,
                celsius,
                error: self.at(celsius),
                thermal_output_slope: slope(own, second, |at| thermal_output(channel, at)),
                strain_slope: slope(own, second, |at| strain(channel, code, at)),
            }
        };
        [("coldest", Some(extremes.coldest)), ("hottest", Some(extremes.hottest)), ("steepest", steepest)]
            .into_iter()
            .filter_map(|(what, moment)| Some((what, at(moment?))))
            .collect()
    }
}

impl Chained {
    /// Of the strain, in microstrain, either way.
    pub fn strain_error(&self) -> Option<f64> {
        self.error.map(|error| (error * self.strain_slope).abs())
    }
}

/// Of the gauge that measures, and of the one that compensates where it has a temperature of its own.
type Temperatures = (f64, Option<f64>);

fn thermal_output(channel: &Channel, (own, compensating): Temperatures) -> f64 {
    compensating.map_or_else(|| channel.measuring_output(own), |second| channel.output(own, second))
}

fn strain(channel: &Channel, code: f64, (own, compensating): Temperatures) -> f64 {
    let steps = channel.model.steps(code, Celsius(own), Celsius(compensating.unwrap_or(own)));
    steps.mechanical.microstrain().0
}

/// Change per degree of the gauge that measures, by a central difference: curves of degree 5 at most leave less than
/// 1e-7 in it.
fn slope(own: Temperature, second: Option<Temperature>, of: impl Fn(Temperatures) -> f64) -> f64 {
    const HALF: f64 = 1.0 / 128.0;
    let own = own.celsius().0;
    let second = second.map(|second| second.celsius().0);
    (of((own + HALF, second)) - of((own - HALF, second))) / (2.0 * HALF)
}

/// Where it is from.
impl Display for TemperatureError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Stated(_) => f.write_str("stated"),
            Self::Tolerance(class, element) => {
                let element = match element {
                    PlatinumElement::WireWound => "wire wound",
                    PlatinumElement::Film => "film",
                };
                write!(f, "tolerance of class {class:?}, {element}")
            }
        }
    }
}
