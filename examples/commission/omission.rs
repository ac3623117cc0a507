//! What it would cost to leave a correction out, by the library's `significance`; and what the mismatch would be if the
//! package's curve were taken, which needs the part's expansion over temperature.

use crate::advice::{material, on_the_part, since_balance};
use crate::budget::Inputs;
use crate::places::{PIECES, evenly, place_of_largest};
use gaugewright::Error;
use gaugewright::commissioning::matching::RotatedCurve;
use gaugewright::commissioning::significance::CorrectionStep;
use gaugewright::units::{Celsius, Microstrain};

/// Near balance: as far as this, C.
pub const NEAR: f64 = 10.0;
/// What is less than this part of the expanded uncertainty may be left out: as one more contribution it would raise that
/// by 2 %.
pub const NEGLIGIBLE: f64 = 0.2;

pub struct Omission {
    pub what: &'static str,
    /// Near balance, and over all that the channel declares; none where there is nothing of the kind.
    pub near: Option<Worst>,
    pub everywhere: Option<Worst>,
}

/// The largest error of it, in microstrain.
#[derive(Clone, Copy)]
pub struct Worst {
    pub microstrain: f64,
    pub may_be_left_out: bool,
}

/// A window of temperatures, and what may be off there.
struct Window {
    low: f64,
    high: f64,
    tolerance: f64,
}

/// For strains up to the budgets' load either way.
///
/// # Errors
/// What the library refuses.
pub fn omissions(inputs: &Inputs) -> Result<Vec<Omission>, Error> {
    let (low, high) = inputs.commissioned.channel.temperatures();
    let balance = inputs.job.description.balanced_at().map_or(24.0, |at| at.0);
    let near =
        Window::of(inputs, (balance - NEAR).clamp(low.0, high.0), (balance + NEAR).clamp(low.0, high.0))?;
    let everywhere = Window::of(inputs, low.0, high.0)?;
    let channel = inputs.commissioned.channel.strain_within(Microstrain(inputs.load()));
    let significance = |window: &Window| channel.significance(Celsius(window.low), Celsius(window.high));
    let found = [significance(&near)?, significance(&everywhere)?];
    let of_effect = |effect: CorrectionStep| {
        let worst = |index: usize, window: &Window| {
            let omission = found[index].of(effect)?;
            Some(Worst {
                microstrain: omission.error.0.abs(),
                may_be_left_out: omission.bound.0 <= window.tolerance,
            })
        };
        Omission { what: effect.name(), near: worst(0, &near), everywhere: worst(1, &everywhere) }
    };
    let mut omissions: Vec<Omission> = [
        CorrectionStep::ThermalOutput,
        CorrectionStep::GaugeFactor,
        CorrectionStep::NonLinearity,
        CorrectionStep::Leads,
    ]
    .map(of_effect)
    .into();
    omissions.push(Omission {
        what: "mismatch, by the package",
        near: near.mismatch(inputs)?,
        everywhere: everywhere.mismatch(inputs)?,
    });
    Ok(omissions)
}

impl Window {
    fn of(inputs: &Inputs, low: f64, high: f64) -> Result<Self, Error> {
        let mut window = Self { low, high, tolerance: f64::INFINITY };
        for celsius in evenly(low, high, PIECES) {
            let expanded = inputs.at(celsius, inputs.load())?.expanded;
            window.tolerance = window.tolerance.min(NEGLIGIBLE * expanded);
        }
        Ok(window)
    }

    /// None where the package has no curve or nothing is said of the part.
    fn mismatch(&self, inputs: &Inputs) -> Result<Option<Worst>, Error> {
        let Inputs { job, bench, .. } = inputs;
        let is_matched = job.description.gauge.matched_expansion_ppm_per_c.is_some();
        let Some(gauge) = bench.package.filter(|_| is_matched && job.part.is_some()) else { return Ok(None) };
        let as_measured = RotatedCurve::new(gauge, material(job)).measured_on(material(job));
        let [part, measured] = [on_the_part(job, gauge), as_measured]
            .map(|curve| since_balance(curve, job, bench.instrument_factor));
        let error = |at: Celsius| {
            let more = part.thermal_output(at)?.0 - measured.thermal_output(at)?.0;
            let factor = bench.gauge.gauge_factor_at(at).0;
            Ok((more * bench.instrument_factor.0 / factor).abs())
        };
        let microstrain = error(place_of_largest(Celsius(self.low), Celsius(self.high), error)?)?;
        Ok(Some(Worst { microstrain, may_be_left_out: microstrain <= self.tolerance }))
    }
}
