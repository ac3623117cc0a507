//! What a channel reads without load, by everything that says so: the code of its balance, the codes at rest before the run, and the run
//! itself where it is in the channel's own column. All of them at one temperature, by the slope of the run's curve.

use crate::bench::Bench;
use crate::fitted::Fitted;
use crate::installation::Installation;
use crate::job::{Job, RunSource};
use crate::omission::NEAR;
use crate::run::Value;
use gaugewright::Error;
use gaugewright::units::Celsius;

/// Of a temperature that nothing is stated of, as a standard uncertainty, C (common practice, no source).
const TEMPERATURE: f64 = 1.0;
/// Two zeros are apart where their difference is more standard uncertainties than this.
const MOST: f64 = 3.0;

pub struct Zeros {
    /// At this temperature.
    pub celsius: f64,
    pub zeros: Vec<Zero>,
    /// How far `at_rest_codes` may be off as their temperature is not stated, in microstrain.
    pub open: Option<f64>,
}

/// Indicated strain in microstrain, and its standard uncertainty.
pub struct Zero {
    pub by: &'static str,
    pub microstrain: f64,
    pub uncertainty: f64,
    /// What it may be off besides, either way.
    limit: f64,
}

impl Zeros {
    /// None where no temperature is stated at which they could be compared.
    ///
    /// # Errors
    /// What the library refuses, and codes at rest at a temperature outside of the run.
    pub fn of(
        job: &Job,
        bench: &Bench,
        fitted: &Fitted,
        installation: &Installation,
    ) -> Result<Option<Self>, String> {
        let (low, high) = fitted.curve.temperatures();
        if let Some(at) = job.at_rest_temperature.filter(|at| !(low.0..=high.0).contains(at)) {
            let (low, high) = (low.0, high.0);
            return Err(format!(
                "at_rest_temperature_c is {at}, allowed: {low} to {high}, the temperatures of the run"
            ));
        }
        Self::compared(job, bench, fitted, installation).map_err(|error| error.to_string())
    }

    fn compared(
        job: &Job,
        bench: &Bench,
        fitted: &Fitted,
        installation: &Installation,
    ) -> Result<Option<Self>, Error> {
        let Some(celsius) = job.description.balanced_at().map(|at| at.0).or(job.at_rest_temperature) else {
            return Ok(None);
        };
        let words = job.description.uncertainty.as_ref();
        let stated = job.temperature_uncertainty().unwrap_or(TEMPERATURE);
        let run = Curve { fitted, scale: fitted.gauge_factor.0 / bench.instrument_factor.0 };
        // Of a reading that was taken once, as a point of the run is.
        let scatter = run.scale * fitted.curve.residual_standard_deviation().0;
        let hysteresis = |celsius: f64| run.scale * fitted.half_of_hysteresis(Celsius(celsius));
        let mut zeros = Vec::new();
        if let Some(balance) = &job.description.balance {
            // Of codes, or of what an instrument shows.
            let of_codes =
                words.and_then(|it| it.balance_noise_codes).unwrap_or(0.0) * bench.microstrain_per_code;
            let noise = words.and_then(|it| it.balance_noise_microstrain).unwrap_or(of_codes);
            let apart = words.and_then(|it| it.balance_temperature_c).unwrap_or(stated);
            zeros.push(Zero {
                by: "[channel.balance]",
                microstrain: bench.indicated(Value::Code(job.description.balance_code(balance))).0,
                uncertainty: noise
                    .hypot(run.change(celsius, apart)?)
                    .hypot(hysteresis(celsius))
                    .hypot(scatter),
                limit: 0.0,
            });
        }
        let mut open = None;
        if let Some(mean) = installation.sound_rest() {
            let at = job.at_rest_temperature.unwrap_or(celsius);
            let limit = match job.at_rest_temperature {
                None => *open.insert(run.change(celsius, NEAR)?),
                Some(_) => 0.0,
            };
            zeros.push(Zero {
                by: "at_rest_codes",
                microstrain: bench.indicated(Value::Code(mean.code)).0 - run.more(celsius, at)?,
                uncertainty: (mean.uncertainty() * bench.microstrain_per_code)
                    .hypot(run.change(at, stated)?)
                    .hypot(hysteresis(at))
                    .hypot(scatter),
                limit,
            });
        }
        // The zero of another instrument is not the channel's.
        if matches!(job.run_source, RunSource::OwnColumn) {
            zeros.push(Zero {
                by: "the run",
                microstrain: fitted.curve.at(Celsius(celsius))?.0,
                uncertainty: fitted
                    .curve
                    .standard_uncertainty(Celsius(celsius))?
                    .0
                    .hypot(run.change(celsius, stated)?)
                    .hypot(hysteresis(celsius)),
                limit: 0.0,
            });
        }
        Ok(Some(Self { celsius, zeros, open }))
    }

    /// Each two that are farther apart than their uncertainties allow, a sentence each.
    pub fn findings(&self) -> Vec<String> {
        let pairs = self
            .zeros
            .iter()
            .enumerate()
            .flat_map(|(k, one)| self.zeros[k + 1..].iter().map(move |other| (one, other)));
        let mut findings = Vec::new();
        for (one, other) in pairs {
            let apart = (one.microstrain - other.microstrain).abs();
            let allowed = MOST * one.uncertainty.hypot(other.uncertainty) + one.limit + other.limit;
            if apart > allowed {
                let rest = if one.limit + other.limit > 0.0 {
                    format!("; at_rest_temperature_c is not stated, so {NEAR} C from balance are allowed for")
                } else {
                    String::new()
                };
                findings.push(format!(
                    "two zeros contradict each other, in microstrain at {} C: {one} and {other} are {apart:.2} apart, allowed: \
                     {allowed:.2}{rest}",
                    self.celsius
                ));
            }
        }
        findings
    }
}

impl std::fmt::Display for Zero {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // What rounds to zero has no sign.
        let shown = (100.0 * self.microstrain).round() / 100.0 + 0.0;
        write!(f, "{shown:.2} by {} (standard uncertainty {:.2})", self.by, self.uncertainty)
    }
}

/// The run's, in the scale of the channel.
struct Curve<'a> {
    fitted: &'a Fitted,
    scale: f64,
}

impl Curve<'_> {
    /// At a temperature more than at another one.
    fn more(&self, from: f64, to: f64) -> Result<f64, Error> {
        let [from, to] = [from, to].map(|celsius| self.fitted.curve.at(Celsius(celsius)));
        Ok(self.scale * (to?.0 - from?.0))
    }

    /// For so many degrees either way, as far as the run goes.
    fn change(&self, at: f64, degrees: f64) -> Result<f64, Error> {
        let (low, high) = self.fitted.curve.temperatures();
        let ends = [at - degrees, at + degrees].map(|end| self.more(at, end.clamp(low.0, high.0)));
        let [below, above] = ends;
        Ok(below?.abs().max(above?.abs()))
    }
}
