//! What it would cost to leave a correction out: the largest error over a window, of loads up to a limit either way.
//!
//! Found by computing the strain with and without it, at 241 temperatures of the window.

use crate::bench::{Bench, Commissioned, without_leads};
use crate::budget::Inputs;
use crate::job::Job;
use gaugewright::expansion::Expansion;
use gaugewright::matching::RotatedCurve;
use gaugewright::units::{Celsius, ExpansionPerCelsius, Microstrain};
use gaugewright::{Error, reference};

/// Near balance: as far as this, C.
pub const NEAR: f64 = 10.0;
/// What is less than this part of the expanded uncertainty may be left out: as one more contribution it would raise that
/// by 2 %.
pub const NEGLIGIBLE: f64 = 0.2;

pub struct Omission {
    pub what: &'static str,
    /// Near balance, and over all that the channel declares; none where the circuit has nothing of the kind.
    pub near: Option<Worst>,
    pub everywhere: Option<Worst>,
}

/// The largest error of it.
#[derive(Clone, Copy)]
pub struct Worst {
    pub microstrain: f64,
    /// The largest part of the expanded uncertainty that it is, at one temperature and load.
    pub of_expanded: f64,
}

impl Worst {
    pub fn is_negligible(&self) -> bool {
        self.of_expanded < NEGLIGIBLE
    }
}

/// What is left out.
#[derive(Clone, Copy)]
enum Correction {
    ThermalOutput,
    GaugeFactor,
    Curvature,
    Leads,
    Mismatch,
}

const ALL: [(Correction, &str); 5] = [
    (Correction::ThermalOutput, "thermal output"),
    (Correction::GaugeFactor, "gauge factor at temperature"),
    (Correction::Curvature, "curvature of the bridge"),
    (Correction::Leads, "desensitisation by the leads"),
    (Correction::Mismatch, "mismatch, by the package"),
];

/// Models to compare.
struct Compared<'a> {
    inputs: &'a Inputs<'a>,
    with: reference::Model,
    without_leads: Option<reference::Model>,
}

/// # Errors
/// What the library refuses.
pub fn omissions(inputs: &Inputs) -> Result<Vec<Omission>, Error> {
    let Commissioned { channel, .. } = inputs.commissioned;
    let bare = without_leads(&inputs.commissioned.description);
    let compared = Compared {
        inputs,
        with: reference::Model::new(channel)?,
        without_leads: bare.map(|channel| reference::Model::new(&channel)).transpose()?,
    };
    let (low, high) = channel.temperatures();
    let balance = inputs.job.description.balance.as_ref().map_or(24.0, |balance| balance.temperature_c);
    let near = ((balance - NEAR).max(low.0), (balance + NEAR).min(high.0));
    ALL.into_iter()
        .map(|(correction, what)| {
            Ok(Omission {
                what,
                near: compared.worst(correction, near)?,
                everywhere: compared.worst(correction, (low.0, high.0))?,
            })
        })
        .collect()
}

impl Compared<'_> {
    fn worst(&self, correction: Correction, (low, high): (f64, f64)) -> Result<Option<Worst>, Error> {
        const PIECES: u32 = 240;
        let load = self.inputs.load();
        let mut worst: Option<Worst> = None;
        for piece in 0..=PIECES {
            let share = f64::from(piece) / f64::from(PIECES);
            let celsius = low * (1.0 - share) + high * share;
            for strain in [-load, 0.0, load] {
                let Some(error) = self.error(correction, celsius, strain)? else {
                    return Ok(None);
                };
                let of_expanded = error.abs() / self.inputs.at(celsius, strain)?.expanded;
                let before = worst.unwrap_or(Worst { microstrain: 0.0, of_expanded: 0.0 });
                worst = Some(Worst {
                    microstrain: before.microstrain.max(error.abs()),
                    of_expanded: before.of_expanded.max(of_expanded),
                });
            }
        }
        Ok(worst)
    }

    /// Of the strain at a temperature, in microstrain.
    fn error(&self, correction: Correction, celsius: f64, strain: f64) -> Result<Option<f64>, Error> {
        let Inputs { job, bench, .. } = self.inputs;
        let at = Celsius(celsius);
        let code = self.with.code_for(Microstrain(strain).strain(), at);
        let steps = self.with.steps(code, at);
        let to_mechanical = bench.instrument_factor.0 / steps.gauge_factor.0;
        let indicated = steps.indicated.microstrain().0;
        Ok(match correction {
            Correction::ThermalOutput => Some(to_mechanical * steps.thermal_output.microstrain().0),
            Correction::GaugeFactor => {
                let reference = job.description.gauge.reference_temperature_c.unwrap_or(24.0);
                let there = bench.gauge.gauge_factor_at(Celsius(reference)).0;
                Some(strain * (steps.gauge_factor.0 / there - 1.0))
            }
            // A straight line from balance, as steep as the bridge is there.
            Correction::Curvature => job.description.bridge.as_ref().map(|_| {
                let shown = |code: f64| self.with.steps(code, at).indicated.microstrain().0;
                let balance = bench.balance_code;
                let step = 0.01 * (code - balance);
                let slope = if step == 0.0 {
                    0.0
                } else {
                    (shown(balance + step) - shown(balance - step)) / (2.0 * step)
                };
                to_mechanical * (slope * (code - balance) - indicated)
            }),
            Correction::Leads => self
                .without_leads
                .as_ref()
                .map(|bare| to_mechanical * (bare.steps(code, at).indicated.microstrain().0 - indicated)),
            Correction::Mismatch => mismatch(job, bench, celsius)?.map(|error| to_mechanical * error),
        })
    }
}

/// What the part's own expansion adds to the package's curve since balance; none where the package has no curve or nothing is
/// said of the part.
fn mismatch(job: &Job, bench: &Bench, celsius: f64) -> Result<Option<f64>, Error> {
    let matched = job.description.gauge.matched_expansion_ppm_per_c.map(ExpansionPerCelsius::ppm);
    let (Some(gauge), Some(part), Some(matched)) = (bench.package, job.part.as_ref(), matched) else {
        return Ok(None);
    };
    let nominal = Expansion::coefficient(matched);
    let material = job.package_material.as_ref().map_or(nominal, |material| material.expansion());
    let output = |specimen: Expansion| -> Result<f64, Error> {
        let curve = RotatedCurve::new(gauge, specimen).measured_on(material);
        let curve = curve.instrument_gauge_factor(bench.instrument_factor);
        let curve = match &job.description.balance {
            Some(balance) => curve.balanced_at(Celsius(balance.temperature_c)),
            None => curve,
        };
        Ok(curve.thermal_output(Celsius(celsius))?.0)
    };
    Ok(Some(output(part.expansion())? - output(material)?))
}
