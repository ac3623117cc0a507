//! How well a strain that the commissioned channel gives is known: the contributions of its inputs to first order (GUM,
//! JCGM 100:2008, 5.1.2), each as a standard uncertainty of mechanical strain.
//!
//! `s` is the instrument's gauge factor over that of the gauge at temperature `T`, `e` the mechanical strain.
//!
//! | contribution | of | through |
//! |---|---|---|
//! | reading | one sample, in the scale of indicated strain | `s` |
//! | temperature | the thermometer, in both corrections at once | `-s TO'(T) - e F'(T) / F(T)` |
//! | curve | the fitted curve since balance | `s` |
//! | hysteresis | half of what falling shows more, as a limit either way | `s / sqrt 3` |
//! | gauge factor | the package's value | `e / F` |
//! | its slope | the package's change with temperature | `e (T - T_r)` |
//! | arithmetic | the kernel's proven bound, as a limit either way | `1 / sqrt 3` |

use crate::bench::{Bench, Commissioned};
use crate::fitted::Fitted;
use crate::job::Job;
use gaugewright::Error;
use gaugewright::fit::coverage_factor;
use gaugewright::units::{Celsius, Percent};

pub const CONTRIBUTIONS: [&str; 7] =
    ["reading", "temperature", "curve", "hysteresis", "gauge factor", "gauge factor's slope", "arithmetic"];

/// Where one of them stands in the list.
const CURVE: usize = 2;

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
    pub fitted: &'a Fitted,
    pub commissioned: &'a Commissioned,
}

/// The standard uncertainties that go in, and where they are from.
pub struct Stated {
    pub reading: (f64, &'static str),
    pub temperature: (f64, &'static str),
    pub gauge_factor_percent: f64,
    pub slope_percent_per_100_c: f64,
}

impl Inputs<'_> {
    pub fn stated(&self) -> Stated {
        let words = &self.job.uncertainty;
        let limit = self.job.description.temperature_error_c;
        Stated {
            reading: match words.reading_microstrain {
                Some(reading) => (reading, "stated"),
                // In the scale of the channel.
                None => {
                    (self.scale() * self.fitted.curve.residual_standard_deviation().0, "the run's scatter")
                }
            },
            temperature: match (words.temperature_c, limit) {
                (Some(temperature), _) => (temperature, "stated"),
                (None, Some(limit)) => {
                    (limit / 3.0f64.sqrt(), "temperature_error_c over the square root of 3")
                }
                (None, None) => (0.0, "not stated: taken for exact"),
            },
            gauge_factor_percent: words.gauge_factor_percent.unwrap_or(0.0),
            slope_percent_per_100_c: words.gauge_factor_slope_percent_per_100_c.unwrap_or(0.0),
        }
    }

    /// From the scale of the run to that of the channel.
    fn scale(&self) -> f64 {
        self.fitted.gauge_factor.0 / self.bench.instrument_factor.0
    }

    /// # Errors
    /// A temperature outside of the run.
    pub fn at(&self, celsius: f64, strain: f64) -> Result<Budget, Error> {
        let stated = self.stated();
        let gauge = &self.bench.gauge;
        let at = Celsius(celsius);
        let factor = gauge.gauge_factor_at(at).0;
        let to_mechanical = self.bench.instrument_factor.0 / factor;
        // Both curves are polynomials of degree five at most: a central difference leaves less than 1e-7.
        let half = 1.0 / 128.0;
        let factor_slope = (gauge.gauge_factor_at(Celsius(celsius + half)).0
            - gauge.gauge_factor_at(Celsius(celsius - half)).0)
            / (2.0 * half);
        let output_slope = self.scale() * self.fitted.package.slope_at(at);
        let hysteresis = self.fitted.hysteresis.as_ref().map_or(0.0, |found| found.largest.0.abs());
        let reference = Celsius(self.job.description.gauge.reference_temperature_c.unwrap_or(24.0));
        let at_reference = gauge.gauge_factor_at(reference).0;
        let third = 3.0f64.sqrt();
        let contributions = [
            to_mechanical * stated.reading.0,
            (to_mechanical * output_slope + strain * factor_slope / factor).abs() * stated.temperature.0,
            to_mechanical * self.scale() * self.fitted.since_balance.standard_uncertainty(at)?.0,
            to_mechanical * self.scale() * 0.5 * hysteresis / third,
            strain.abs() * stated.gauge_factor_percent / 100.0,
            strain.abs() * stated.slope_percent_per_100_c / 1e4
                * (celsius - reference.0).abs()
                * at_reference
                / factor,
            self.commissioned.error_nanostrain * 1e-3 / third,
        ];
        let combined = contributions.iter().map(|it| it * it).sum::<f64>().sqrt();
        // The curve is the only one that is estimated from few points. A million stands for no end of them.
        let share = contributions[CURVE] / combined;
        let freedom = f64::from(self.fitted.curve.degrees_of_freedom()) / share.powi(4);
        let degrees_of_freedom = if freedom < 1e6 { freedom as u32 } else { 1_000_000 };
        let coverage_factor = coverage_factor(self.job.coverage, degrees_of_freedom)?;
        Ok(Budget {
            celsius,
            strain,
            contributions,
            combined,
            coverage_factor,
            expanded: coverage_factor * combined,
        })
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
        let balance = self.job.description.balance.as_ref().map(|balance| balance.temperature_c);
        let middle = balance.unwrap_or(0.5 * (low.0 + high.0)).clamp(low.0, high.0);
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
            for piece in 0..=PIECES {
                let share = f64::from(piece) / f64::from(PIECES);
                budgets.push(self.at(low.0 * (1.0 - share) + high.0 * share, strain)?);
            }
        }
        Ok(budgets)
    }

    pub fn coverage(&self) -> Percent {
        self.job.coverage
    }
}

/// `budget.csv`: what [`Inputs::across`] gives.
pub mod table {
    use super::{Budget, CONTRIBUTIONS};
    use std::error::Error;
    use std::path::Path;

    /// # Errors
    /// If the file cannot be written.
    pub fn write(path: &Path, budgets: &[Budget]) -> Result<(), Box<dyn Error>> {
        let mut file = csv::Writer::from_path(path)?;
        let named =
            CONTRIBUTIONS.map(|name| format!("{}_microstrain", name.replace("'s", "").replace(' ', "_")));
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
}
