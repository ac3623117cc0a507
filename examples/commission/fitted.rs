//! The curve through the points of the run, and what is known of its error.

use crate::job::Job;
use crate::places::{PIECES, evenly, seven};
use crate::run::Point;
use gaugewright::commissioning::fit::{Degree, Direction, FittedThermalOutput, Hysteresis, ThermalOutputFit};
use gaugewright::error::Field;
use gaugewright::uncertainty::welch_satterthwaite;
use gaugewright::units::{Celsius, GaugeFactor, Microstrain, Percent};
use gaugewright::{Error, ThermalOutput};
use host::figures::ends;

/// What the library asks for, C.
const LEAST_SPREAD: f64 = 0.1;

pub struct Fitted {
    /// As read, with a constant of its own.
    pub curve: FittedThermalOutput,
    /// Counted from its value at balance.
    pub since_balance: FittedThermalOutput,
    /// Of the readings.
    pub gauge_factor: GaugeFactor,
    /// As a gauge package has it.
    pub package: ThermalOutput,
    /// An error where one direction alone does not determine a curve.
    pub hysteresis: Result<Hysteresis, Error>,
    pub points: Vec<Point>,
    fit: ThermalOutputFit<f64>,
    /// Half of the hysteresis at balance, in microstrain; zero without a balance.
    half_at_balance: f64,
}

/// Standard uncertainties of thermal output at a temperature, in microstrain in the scale that the curve is stated for.
pub struct OfThermalOutput {
    pub curve: f64,
    pub hysteresis: f64,
    pub both: f64,
    /// Degrees of freedom of both.
    pub degrees: f64,
}

/// Degree, and what the points are off if the curve has no higher one.
pub type Scatter = (usize, Microstrain);

impl Fitted {
    /// # Errors
    /// What the library refuses, and a balance outside of the run.
    pub fn of(job: &Job, gauge_factor: GaugeFactor, points: Vec<Point>) -> Result<Self, String> {
        let (low, high) = ends(points.iter().map(|point| point.temperature.0));
        let plain = |error: Error| error.to_string();
        if high - low < LEAST_SPREAD {
            return Err(format!(
                "its temperatures lie within {LEAST_SPREAD} C: there is no curve to be seen"
            ));
        }
        let mut fit = ThermalOutputFit::<f64>::between(Celsius(low), Celsius(high)).map_err(plain)?;
        for point in &points {
            fit.observe(point.sweep, point.temperature, point.reading)
                .map_err(|error| format!("line {}: {error}", point.line))?;
        }
        let curve = fit.solve(job.degree).map_err(|error| match (job.degree, error) {
            (Degree::Significant { .. }, Error::Invalid { field: Field::FitPoints, .. }) => {
                format!("{error}; fewer do not choose a degree: --degree states one")
            }
            _ => error.to_string(),
        })?;
        // Without a balance the channel takes the curve as it stands.
        let balance = job.description.balanced_at();
        let since_balance = match balance {
            Some(at) => curve.balanced_at(at).map_err(|_| {
                format!(
                    "the channel is balanced at {} C, outside of the run, {low} to {high} C: nothing is known there",
                    at.0
                )
            })?,
            None => curve,
        };
        let mut fitted = Self {
            curve,
            since_balance,
            gauge_factor,
            package: curve.thermal_output(gauge_factor).map_err(plain)?,
            hysteresis: fit.hysteresis(curve.degree()),
            points,
            fit,
            half_at_balance: 0.0,
        };
        fitted.half_at_balance = balance.map_or(0.0, |at| fitted.half_of_hysteresis(at));
        Ok(fitted)
    }

    /// What falling reads more than rising, and its standard uncertainty; at the nearest temperature that both have. Nothing where it
    /// is not known.
    pub fn hysteresis_at(&self, celsius: Celsius) -> Option<(Microstrain, Microstrain)> {
        let (low, high) = self.hysteresis.as_ref().ok()?.between;
        let nearest = Celsius(celsius.0.clamp(low.0, high.0));
        self.fit.hysteresis_at(self.curve.degree(), nearest).ok()
    }

    /// How far a reading is off the curve by hysteresis at most, in microstrain. What is found of it is uncertain itself.
    pub fn half_of_hysteresis(&self, at: Celsius) -> f64 {
        let found = self.hysteresis_at(at);
        found.map_or(0.0, |(more, uncertainty)| 0.5 * more.0.hypot(uncertainty.0))
    }

    /// # Errors
    /// A temperature outside of the run.
    pub fn uncertainty(&self, at: Celsius) -> Result<OfThermalOutput, Error> {
        let curve = self.since_balance.standard_uncertainty(at)?.0;
        // A reading lies anywhere between falling and rising. The balance that is subtracted from all of them was read once, on one
        // of the two: half of the difference above the curve or below it, and that is its standard deviation.
        let hysteresis = (self.half_of_hysteresis(at) / 3.0f64.sqrt()).hypot(self.half_at_balance);
        let both = curve.hypot(hysteresis);
        // The curve is the only input that is estimated from few points.
        let degrees = welch_satterthwaite(both, [(curve, f64::from(self.curve.degrees_of_freedom()))]);
        Ok(OfThermalOutput { curve, hysteresis, both, degrees })
    }

    /// What the points are off for each degree up to that of the curve.
    pub fn scatter(&self) -> impl Iterator<Item = Scatter> {
        (0..=self.curve.degree())
            .filter_map(|degree| Some((degree, self.curve.residual_standard_deviation_with(degree).ok()?)))
    }

    pub fn residual(&self, point: &Point) -> f64 {
        // A point lies within the points.
        self.curve.at(point.temperature).map_or(f64::NAN, |curve| point.reading.0 - curve.0)
    }

    /// The point that is farthest from the curve, and how far.
    pub fn worst(&self) -> Option<(&Point, f64)> {
        let with_residual = self.points.iter().map(|point| (point, self.residual(point)));
        with_residual.max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()))
    }

    pub fn count(&self, sweep: Direction) -> usize {
        self.points.iter().filter(|point| point.sweep == sweep).count()
    }

    /// Seven temperatures from end to end, whole degrees where there is room.
    pub fn places(&self) -> impl Iterator<Item = f64> + use<> {
        seven(self.curve.temperatures())
    }

    /// From the least to the most that the curve shows.
    pub fn span(&self) -> f64 {
        let (low, high) = self.curve.temperatures();
        let at = |celsius| Some(self.curve.at(Celsius(celsius)).ok()?.0);
        let (least, most) = ends(evenly(low.0, high.0, PIECES).filter_map(at));
        most - least
    }

    /// Of the curve since balance, at this probability.
    pub fn band(&self, celsius: f64, coverage: Percent) -> f64 {
        self.since_balance.confidence_band(Celsius(celsius), coverage).map_or(f64::NAN, |half| half.0)
    }
}
