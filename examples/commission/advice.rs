//! Which of the matches on offer would have suited the part best, by the curve that was measured on it.

use crate::fitted::Fitted;
use crate::job::{Job, Material};
use crate::places::{PIECES, evenly, place_of_largest};
use gaugewright::commissioning::expansion::Expansion;
use gaugewright::commissioning::matching::{Choice, Extremes, Residual, RotatedCurve, Selection, Turn};
use gaugewright::units::{Celsius, ExpansionPerCelsius, GaugeFactor, Microstrain, MicrostrainPerCelsius};
use gaugewright::{Error, Gauge};
use host::contradictions::in_millionths;

pub struct Advice {
    pub present: ExpansionPerCelsius,
    pub window: (Celsius, Celsius),
    /// How far the temperature may be off, either way.
    pub error: Celsius,
    pub offers: Vec<Offer>,
    pub least_slope: Choice<MicrostrainPerCelsius>,
    pub least_span: Choice<Microstrain>,
    pub least_residual: Choice<Microstrain>,
}

/// One match, and what it would leave over the window.
pub struct Offer {
    pub matched: ExpansionPerCelsius,
    /// Against the curve that was measured.
    pub turn: Turn,
    pub extremes: Extremes,
    pub steepest: (Celsius, MicrostrainPerCelsius),
    pub residual: Residual,
    /// Over the temperatures of the run: the line of a plot.
    pub curve: Vec<(f64, f64)>,
}

impl Offer {
    /// Without the digits that come of a change of unit.
    pub fn ppm(&self) -> f64 {
        in_millionths(self.matched.0 * 1e6)
    }
}

/// The package's curve, turned by what the part expands more.
pub struct Expected {
    /// Over the temperatures that both have.
    pub curve: Vec<(f64, f64)>,
    /// Measured less expected where that is largest, and where.
    pub largest: (Celsius, Microstrain),
}

/// None where nothing is on offer.
///
/// # Errors
/// What the library refuses: a window that reaches out of the run, an expansion that is not known there.
pub fn advise(
    job: &Job,
    fitted: &Fitted,
    gauge: Gauge,
    error: Celsius,
    channel: (Celsius, Celsius),
) -> Result<Option<Advice>, Error> {
    let Some(ppm) = job.description.gauge.matched_expansion_ppm_per_c.filter(|_| !job.offers.is_empty())
    else {
        return Ok(None);
    };
    let present = ExpansionPerCelsius::ppm(ppm);
    // The curve is that of the gauge on the part, whatever that expands: only what the matches differ turns it.
    let part = Expansion::coefficient(present);
    let measured = since_balance(
        RotatedCurve::new(gauge.matched_to(present).thermal_output(fitted.package), part),
        job,
        fitted.gauge_factor,
    );
    let (low, high) = fitted.curve.temperatures();
    // A temperature that is off has to stay within what is known.
    let window = job
        .window
        .unwrap_or((Celsius(channel.0.0.max(low.0 + error.0)), Celsius(channel.1.0.min(high.0 - error.0))));
    let selection = Selection::of_matches(&measured, &job.offers);
    let mut offers = Vec::new();
    for (index, &matched) in job.offers.iter().enumerate() {
        let curve = selection.curve(index)?;
        offers.push(Offer {
            matched,
            turn: curve.turn(window.0, window.1)?,
            extremes: curve.extremes(window.0, window.1)?,
            steepest: curve.steepest(window.0, window.1)?,
            residual: curve.residual(window.0, window.1, error)?,
            curve: line(&curve, low, high)?,
        });
    }
    Ok(Some(Advice {
        present,
        window,
        error,
        offers,
        least_slope: selection.least_slope(window.0, window.1)?,
        least_span: selection.least_span(window.0, window.1)?,
        least_residual: selection.least_residual(window.0, window.1, error)?,
    }))
}

/// What the package said beforehand of the gauge on this part; none without a package's curve.
///
/// # Errors
/// What the library refuses, above all an expansion that is not known at the reference temperature.
pub fn expected(job: &Job, fitted: &Fitted, package: Option<Gauge>) -> Result<Option<Expected>, Error> {
    let Some(gauge) = package else {
        return Ok(None);
    };
    let curve = since_balance(on_the_part(job, gauge), job, fitted.gauge_factor);
    let (low, high) = fitted.curve.temperatures();
    let range = curve.range();
    let (low, high) = (Celsius(low.0.max(range.0.0)), Celsius(high.0.min(range.1.0)));
    let difference = |at: Celsius| Ok(fitted.since_balance.at(at)?.0 - curve.thermal_output(at)?.0);
    let at = place_of_largest(low, high, |at| Ok(f64::abs(difference(at)?)))?;
    let largest = (at, Microstrain(difference(at)?));
    Ok(Some(Expected { curve: line(&curve, low, high)?, largest }))
}

/// The package's curve, turned by what the part expands more. Where nothing is said of the part it is taken to be what the gauge is
/// matched to.
pub fn on_the_part(job: &Job, gauge: Gauge) -> RotatedCurve<'_> {
    let material = material(job);
    let part = job.part.as_ref().map_or(material, Material::expansion);
    RotatedCurve::new(gauge, part).measured_on(material)
}

/// What the package's curve was measured on: where nothing is said of it, what the gauge is matched to.
pub fn material(job: &Job) -> Expansion<'_> {
    let matched = job.description.gauge.matched_expansion_ppm_per_c.map(ExpansionPerCelsius::ppm);
    let nominal = Expansion::coefficient(matched.unwrap_or(ExpansionPerCelsius(0.0)));
    job.package_material.as_ref().map_or(nominal, Material::expansion)
}

pub fn since_balance<'a>(curve: RotatedCurve<'a>, job: &Job, instrument: GaugeFactor) -> RotatedCurve<'a> {
    let curve = curve.instrument_gauge_factor(instrument);
    match job.description.balanced_at() {
        Some(at) => curve.balanced_at(at),
        None => curve,
    }
}

fn line(curve: &RotatedCurve, low: Celsius, high: Celsius) -> Result<Vec<(f64, f64)>, Error> {
    let at = |celsius: f64| Ok((celsius, curve.thermal_output(Celsius(celsius))?.0));
    evenly(low.0, high.0, PIECES).map(at).collect()
}
