//! The measured curve beside the one that the foil and the part predict, and what the measured one says of the foil, by the library's
//! `prediction`.

use crate::budget::Inputs;
use crate::fitted::Fitted;
use crate::places::seven;
use gaugewright::Error;
use gaugewright::commissioning::prediction::{FoilMeasurement, FoilResistance, Prediction};
use gaugewright::units::{Celsius, Percent};

pub struct Predicted {
    /// Where the channel file states the resistance of the foil; at temperatures that run, foil and part have in common. Empty where
    /// that of balance is none of them.
    pub rows: Option<Vec<Row>>,
    /// What the run says of the foil: relative change of resistance in powers of the degrees above the reference temperature from one
    /// on, and the standard uncertainty of each: expansions, gauge factor and the scatter of the run.
    pub foil: Vec<(f64, f64)>,
    /// What such powers leave out of it at most, as microstrain: tables of expansion have corners.
    pub left_out: f64,
    /// Over these temperatures.
    pub window: (f64, f64),
}

/// Thermal output since balance at a temperature, in microstrain.
pub struct Row {
    pub celsius: f64,
    pub predicted: f64,
    /// Standard uncertainty of the prediction, and of the measured curve.
    pub uncertainties: (f64, f64),
    pub measured: f64,
}

impl Row {
    pub fn difference(&self) -> f64 {
        self.measured - self.predicted
    }

    /// In standard deviations of prediction and curve together; zero where nothing differs, as at balance.
    pub fn deviations(&self) -> f64 {
        let both = self.uncertainties.0.hypot(self.uncertainties.1);
        if self.difference() == 0.0 { 0.0 } else { self.difference().abs() / both }
    }
}

impl Predicted {
    /// None where nothing is stated of the foil.
    ///
    /// # Errors
    /// What the library refuses.
    pub fn of(inputs: &Inputs) -> Result<Option<Self>, Error> {
        let Inputs { job, bench, fitted, .. } = inputs;
        let (Some(foil), Some(part)) = (&job.foil, &job.part) else { return Ok(None) };
        let stated = inputs.stated();
        let factor = Percent(stated.gauge_factor_percent.unwrap_or(0.0));
        let (grid, part) = (foil.material.expansion(), part.expansion());
        let (low, high) = fitted.curve.temperatures();
        let known = (grid.range(), part.range());
        let window = (low.0.max(known.0.0.0).max(known.1.0.0), high.0.min(known.0.1.0).min(known.1.1.0));
        let measurement = FoilMeasurement::new(bench.gauge, grid, part).gauge_factor_uncertainty(factor);
        let curve = measurement.of_curve(&fitted.package, Celsius(window.0), Celsius(window.1))?;
        let rows = foil.resistance.map(|resistance| -> Result<Vec<Row>, Error> {
            let prediction = Prediction::new(bench.gauge, resistance, grid, part)
                .stated_for(fitted.gauge_factor)
                .gauge_factor_uncertainty(factor)
                .temperature_uncertainty(Celsius(stated.temperature.0));
            let (from, to) = prediction.range();
            let (low, high) = (low.0.max(from.0), high.0.min(to.0));
            // Without a balance both are counted from the middle of what is known.
            let balance = job.description.balanced_at().map_or(0.5 * (low + high), |at| at.0);
            if !(low..=high).contains(&balance) {
                return Ok(Vec::new());
            }
            let zero = prediction.thermal_output(Celsius(balance))?.0;
            let measured_zero = fitted.curve.at(Celsius(balance))?.0;
            let zero_uncertainty = prediction.uncertainty(Celsius(balance))?.combined().0;
            let row = |celsius: f64| {
                let at = Celsius(celsius);
                Ok(Row {
                    celsius,
                    predicted: prediction.thermal_output(at)?.0 - zero,
                    // Taken as independent, which is too much rather than too little: they have the sign of the distance in common.
                    uncertainties: (
                        prediction.uncertainty(at)?.combined().0.hypot(zero_uncertainty),
                        fitted.since_balance.standard_uncertainty(at)?.0,
                    ),
                    measured: fitted.curve.at(at)?.0 - measured_zero,
                })
            };
            seven((Celsius(low), Celsius(high))).map(row).collect()
        });
        let scatter = scatter(fitted, job.reference().0);
        let coefficients = curve.foil.coefficients().into_iter();
        let foil = coefficients.zip(curve.uncertainty.into_iter().zip(scatter));
        let foil = foil.map(|(term, (stated, scatter))| (term, stated.hypot(scatter))).collect();
        let left_out = curve.left_out / fitted.gauge_factor.0 * 1e6;
        Ok(Some(Self { rows: rows.transpose()?, foil, left_out, window }))
    }
}

/// Standard uncertainty of the coefficients by the scatter of the run, to first order: those of the fitted curve about the reference
/// temperature, as a change of resistance.
fn scatter(fitted: &Fitted, reference: f64) -> [f64; FoilResistance::TERMS] {
    let covariance = fitted.curve.covariance();
    // What a coefficient of the power `from` about 0 C adds to that of the power `to` about the reference temperature.
    let share = |from: usize, to: usize| -> f64 {
        let binomial: f64 = (1..=to).map(|k| (from - to + k) as f64 / k as f64).product();
        binomial * reference.powi((from - to) as i32)
    };
    std::array::from_fn(|index| {
        let to = index + 1;
        let powers = || to..covariance.len();
        let terms = powers().flat_map(|i| powers().map(move |j| (i, j)));
        let variance: f64 = terms.map(|(i, j)| share(i, to) * share(j, to) * covariance[i][j]).sum();
        fitted.gauge_factor.0 * 1e-6 * variance.max(0.0).sqrt()
    })
}
