//! How well a strain that the commissioned channel gives is known, by the library's `uncertainty`: what comes out here is named
//! for the chamber.
//!
//! | contribution | of |
//! |---|---|
//! | reading | one sample; where it is not stated the scatter of the run, hysteresis in it |
//! | temperature | the thermometer, in both corrections at once |
//! | curve | the fitted curve since balance |
//! | hysteresis | half of what falling shows more at that temperature, as a limit either way; at balance the same, as one of two values |
//! | span | what the shunt leaves open; of a run in the channel's own codes it is in the curve too, and counted twice |
//! | gauge factor | what the package says |
//! | its slope | the loaded run; without one what the package says |
//! | arithmetic | the proven bounds of kernel and circuit, as limits either way |

use crate::bench::{Bench, Commissioned};
use crate::fitted::{Fitted, OfThermalOutput};
use crate::installation::Installation;
use crate::job::Job;
use crate::loaded::Loaded;
use crate::places::evenly;
use gaugewright::Error;
use gaugewright::uncertainty::{self, Input};
use gaugewright::units::{Celsius, Microstrain, Percent, PercentPer100C};
use std::path::Path;

pub const CONTRIBUTIONS: [&str; 8] = [
    "reading",
    "temperature",
    "curve",
    "hysteresis",
    "span",
    "gauge factor",
    "gauge factor's slope",
    "arithmetic",
];

/// Of a strain at a temperature, in microstrain.
pub struct Budget {
    pub celsius: f64,
    pub strain: f64,
    /// In the order of [`CONTRIBUTIONS`], one standard deviation each.
    pub contributions: [f64; CONTRIBUTIONS.len()],
    /// Of all.
    pub combined: f64,
    /// Of Student's t, with degrees of freedom by Welch and Satterthwaite.
    pub coverage_factor: f64,
    pub expanded: f64,
}

/// What the contributions come from.
pub struct Inputs<'a> {
    pub job: &'a Job,
    pub bench: &'a Bench,
    pub installation: &'a Installation,
    pub fitted: &'a Fitted,
    pub loaded: Option<&'a Loaded>,
    pub commissioned: &'a Commissioned,
}

/// The standard uncertainties that go in, and where they are from.
pub struct Stated {
    pub reading: (f64, &'static str),
    pub temperature: (f64, &'static str),
    pub span_percent: Option<f64>,
    pub gauge_factor_percent: Option<f64>,
    pub slope_percent_per_100_c: Option<f64>,
}

/// For what is not stated.
pub const NOT_STATED: &str = "not stated: taken as exact";

impl Inputs<'_> {
    pub fn stated(&self) -> Stated {
        let words = &self.job.uncertainty;
        Stated {
            reading: match words.reading_microstrain {
                Some(reading) => (reading, "stated"),
                // In the scale of the channel.
                None => {
                    (self.scale() * self.fitted.curve.residual_standard_deviation().0, "the run's scatter")
                }
            },
            temperature: match (words.temperature_c, self.job.temperature_uncertainty()) {
                (Some(temperature), _) => (temperature, "stated"),
                (None, Some(implied)) => (implied, "temperature_error_c over the square root of 3"),
                (None, None) => (0.0, NOT_STATED),
            },
            span_percent: self
                .installation
                .shunted
                .as_ref()
                .map(|shunted| 100.0 * shunted.standard_uncertainty()),
            gauge_factor_percent: words.gauge_factor_percent,
            slope_percent_per_100_c: words.gauge_factor_slope_percent_per_100_c,
        }
    }

    /// From the scale of the run to that of the channel.
    fn scale(&self) -> f64 {
        self.fitted.gauge_factor.0 / self.bench.instrument_factor.0
    }

    /// # Errors
    /// A temperature outside of the run, and what the library refuses.
    pub fn at(&self, celsius: f64, strain: f64) -> Result<Budget, Error> {
        let stated = self.stated();
        let at = Celsius(celsius);
        // Two causes of one input, in the scale that the curve is stated for.
        let OfThermalOutput { curve, hysteresis, both, degrees } = self.fitted.uncertainty(at)?;
        let (slope, slope_degrees) = self.slope(at)?;
        let mut inputs = uncertainty::StandardUncertainties::for_channel(self.commissioned.channel)
            .of_gauge_factor(Percent(stated.gauge_factor_percent.unwrap_or(0.0)))
            .of_gauge_factor_slope(slope)
            .of_ratio(Percent(stated.span_percent.unwrap_or(0.0)))
            .of_temperature(Celsius(stated.temperature.0))
            .of_thermal_output(Microstrain(both))
            // Rounding is in the scatter of readings.
            .noise(stated.reading.0 / self.bench.microstrain_per_code)
            .quantisation(0.0)
            .kernel_bound(self.commissioned.kernel_error);
        if curve > 0.0 {
            inputs = inputs.degrees_of_freedom(Input::ThermalOutput, degrees);
        }
        if let Some(degrees) = slope_degrees {
            inputs = inputs.degrees_of_freedom(Input::GaugeFactorSlope, degrees);
        }
        let budget = inputs.budget(Microstrain(strain), at)?;
        let of = |input| budget.contribution(input).uncertainty.0;
        let part = |cause: f64| if both > 0.0 { of(Input::ThermalOutput) * cause / both } else { 0.0 };
        let expanded = budget.expanded(self.job.coverage)?;
        Ok(Budget {
            celsius,
            strain,
            contributions: [
                of(Input::Noise),
                of(Input::Temperature),
                part(curve),
                part(hysteresis),
                of(Input::Ratio),
                of(Input::GaugeFactor),
                of(Input::GaugeFactorSlope),
                of(Input::Kernel).hypot(of(Input::Circuit)),
            ],
            combined: budget.combined().0,
            coverage_factor: expanded.coverage_factor,
            expanded: expanded.uncertainty.0,
        })
    }

    /// The slope that is worth the uncertainty of the gauge factor's change at a temperature, and its degrees of freedom where it comes
    /// from points: that of the loaded run, or the stated one.
    fn slope(&self, at: Celsius) -> Result<(PercentPer100C, Option<f64>), Error> {
        let Some(loaded) = self.loaded else {
            let stated = self.stated().slope_percent_per_100_c.unwrap_or(0.0);
            return Ok((PercentPer100C(stated), None));
        };
        let slope = loaded.slope_uncertainty(at)?;
        Ok((slope, Some(f64::from(loaded.curve.degrees_of_freedom()))))
    }

    /// The strain that budgets are made for beside none.
    pub fn load(&self) -> f64 {
        self.job.description.strain_within_microstrain.map_or(1_000.0, |limit| limit.min(1_000.0))
    }

    /// The coldest, balance (or the middle without one), the hottest of what the channel declares.
    ///
    /// # Errors
    /// As [`at`](Self::at).
    pub fn three(&self, strain: f64) -> Result<[Budget; 3], Error> {
        let (low, high) = self.commissioned.channel.temperatures();
        let balance = self.job.description.balanced_at();
        let middle = balance.map_or(0.5 * (low.0 + high.0), |at| at.0).clamp(low.0, high.0);
        Ok([self.at(low.0, strain)?, self.at(middle, strain)?, self.at(high.0, strain)?])
    }

    /// From end to end of what the channel declares, without load and with.
    ///
    /// # Errors
    /// As [`at`](Self::at).
    pub fn across(&self) -> Result<Vec<Budget>, Error> {
        const PIECES: u32 = 40;
        let (low, high) = self.commissioned.channel.temperatures();
        let mut budgets = Vec::new();
        for strain in [0.0, self.load()] {
            for celsius in evenly(low.0, high.0, PIECES) {
                budgets.push(self.at(celsius, strain)?);
            }
        }
        Ok(budgets)
    }
}

/// Writes `budget.csv`: what [`Inputs::across`] gives.
///
/// # Errors
/// If the file cannot be written.
pub fn write(path: &Path, budgets: &[Budget]) -> Result<(), Box<dyn std::error::Error>> {
    let mut file = csv::Writer::from_path(path)?;
    let named = CONTRIBUTIONS.map(|name| format!("{}_microstrain", name.replace("'s", "").replace(' ', "_")));
    file.write_field("temperature_c")?;
    file.write_field("strain_microstrain")?;
    for name in &named {
        file.write_field(name)?;
    }
    file.write_record(["combined_microstrain", "coverage_factor", "expanded_microstrain"])?;
    for budget in budgets {
        let numbers = [budget.celsius, budget.strain].into_iter().chain(budget.contributions).chain([
            budget.combined,
            budget.coverage_factor,
            budget.expanded,
        ]);
        file.write_record(numbers.map(|number| format!("{number:.6}")))?;
    }
    Ok(file.flush()?)
}
