//! The gauge factor against temperature, from a run in which a known strain is applied.
//!
//! What a load shows is the reading with it less what would be read without it. Thermal output is subtracted by the curve of the
//! unloaded run; what that leaves of the readings without load, before and after in time, is subtracted too. So hysteresis, creep
//! of the zero and errors of the curve are in both and cancel as far as they do not change between two readings.

use crate::bench::Bench;
use crate::fitted::Fitted;
use crate::job::Job;
use crate::judgement::critical;
use crate::run::Point;
use gaugewright::Error;
use gaugewright::commissioning::fit::{Degree, FittedGaugeFactor, GaugeFactorFit};
use gaugewright::numeric::coverage_factor;
use gaugewright::units::{Celsius, GaugeFactor, Microstrain, Percent, PercentPer100C};
use host::channel_file::Basis;
use host::figures::ends;
use std::path::{Path, PathBuf};

/// A gauge factor that is farther from the package's was read with another load than is stated (common practice, no source).
const MOST_OFF: f64 = 0.05;

pub struct Loaded {
    pub path: PathBuf,
    pub curve: FittedGaugeFactor,
    /// That of the package.
    pub reference: Celsius,
    /// At the reference temperature, by the load.
    pub gauge_factor: GaugeFactor,
    /// Points with load, and readings without.
    pub counts: (usize, usize),
    /// The least and the most that was applied.
    pub applied: (f64, f64),
    /// Lines of rows beyond the temperatures of the unloaded run, which are not used.
    pub beyond: Vec<u64>,
    /// The largest residual, as a part of the gauge factor, and its line.
    pub worst: (f64, u64),
    worst_at: Celsius,
    /// Of the package, as it is stated.
    pub stated: f64,
    /// The same in the field of this load, where the channel states its ratio of strains.
    package: GaugeFactor,
}

impl Loaded {
    /// # Errors
    /// What the library refuses, with the line where it is of one.
    pub fn of(
        job: &Job,
        bench: &Bench,
        fitted: &Fitted,
        path: &Path,
        points: &[Point],
    ) -> Result<Self, String> {
        let plain = |error: Error| error.to_string();
        let (coldest, hottest) = fitted.curve.temperatures();
        let is_known = |point: &&Point| (coldest.0..=hottest.0).contains(&point.temperature.0);
        let beyond = points.iter().filter(|point| !is_known(point)).map(|point| point.line).collect();
        let (unloaded, loaded): (Vec<Point>, Vec<Point>) =
            points.iter().filter(is_known).partition(|point| point.applied.0 == 0.0);
        let (low, high) = ends(loaded.iter().map(|point| point.temperature.0));
        if loaded.is_empty() {
            return Err("there is no row with load at a temperature of the unloaded run".to_string());
        }
        let mut fit = GaugeFactorFit::<f64>::between(Celsius(low), Celsius(high)).map_err(plain)?;
        let mut ratios = Vec::new();
        let zeros: Vec<(f64, f64)> =
            unloaded.iter().map(|point| (point.time, fitted.residual(point))).collect();
        for point in &loaded {
            let shown = fitted.residual(point) - zero_at(&zeros, point.time);
            let shown =
                Microstrain(shown / resistance(job, bench, fitted, point.temperature).map_err(plain)?);
            fit.observe(point.sweep, point.temperature, point.applied, shown)
                .map_err(|error| format!("line {}: {error}", point.line))?;
            ratios.push((point, shown.0 / point.applied.0));
        }
        let degree = Degree::Significant { highest: 3, level: Percent(1.0) };
        let curve = fit.solve(degree).map_err(plain)?;
        let reference = job.reference();
        let scale = bench.run_factor;
        let gauge_factor = curve.gauge_factor_at(reference, scale).map_err(plain)?;
        let stated = job.description.gauge.gauge_factor;
        // That of the field of this load, where the channel states its ratio of strains.
        let package = match job.description.strain_ratio {
            Some(ratio) => bench.gauge.gauge_factor_in_field(ratio).map_err(plain)?,
            None => GaugeFactor(stated),
        };
        // What a gauge does not take is refused here.
        curve.given_to(bench.gauge).map_err(plain)?;
        let (mut worst, mut worst_at) = ((0.0, 0), reference);
        for (point, ratio) in ratios {
            let at = curve.gauge_factor_at(point.temperature, GaugeFactor(1.0)).map_err(plain)?;
            let off = ratio / at.0 - 1.0;
            if off.abs() > f64::abs(worst.0) {
                (worst, worst_at) = ((off, point.line), point.temperature);
            }
        }
        Ok(Self {
            path: path.to_path_buf(),
            curve,
            reference,
            gauge_factor,
            counts: (loaded.len(), unloaded.len()),
            beyond,
            applied: ends(loaded.iter().map(|point| point.applied.0)),
            worst,
            worst_at,
            stated,
            package,
        })
    }

    /// What is wrong with the load and with its points.
    pub fn findings(&self) -> Vec<String> {
        self.other_load().into_iter().chain(self.odd_point()).collect()
    }

    /// The farthest point, where chance does not put one of so many as far away: Student's t of the residual against the scatter of
    /// the others. What the curve follows of the point is left out of it, so that less is found rather than more.
    fn odd_point(&self) -> Option<String> {
        let freedom = self.curve.degrees_of_freedom();
        let (off, line) = self.worst;
        let own = off * self.curve.gauge_factor_at(self.worst_at, GaugeFactor(1.0)).ok()?.0;
        let deviations = (own / self.curve.residual_standard_deviation()).abs();
        let rest = f64::from(freedom) - deviations * deviations;
        let student =
            if rest > 0.0 { deviations * (f64::from(freedom - 1) / rest).sqrt() } else { f64::INFINITY };
        (freedom >= 3 && student > critical(self.counts.0, freedom - 1)).then(|| {
            format!(
                "line {line}: the load shows {:.2} % {} than by the other points, {student:.1} standard deviations; a \
                 # before the line leaves it out",
                100.0 * off.abs(),
                if off < 0.0 { "less" } else { "more" }
            )
        })
    }

    fn other_load(&self) -> Option<String> {
        let off = self.gauge_factor.0 / self.package.0 - 1.0;
        (off.abs() > MOST_OFF).then(|| {
            format!(
                "the loaded run gives a gauge factor of {:.3} at {} C, {:+.1} % off the package's {}{}: the strain that is \
                 applied is not the one that is stated",
                self.gauge_factor.0,
                self.reference.0,
                100.0 * off,
                self.stated,
                self.in_its_field()
            )
        })
    }

    /// The package's gauge factor in the field of this load, in words; nothing where it is the stated one.
    pub fn in_its_field(&self) -> String {
        let GaugeFactor(package) = self.package;
        if package == self.stated {
            String::new()
        } else {
            format!(", {package:.4} at the stated strain_ratio")
        }
    }

    /// Relative change for the degrees above the reference temperature to the powers of one to the degree of the curve.
    pub fn change(&self) -> Vec<f64> {
        let all = self.curve.change_from(self.reference).unwrap_or_default();
        all[..self.curve.degree().max(1)].to_vec()
    }

    /// In percent, where it is a straight line.
    pub fn slope(&self) -> Option<PercentPer100C> {
        match self.change()[..] {
            [slope] => Some(PercentPer100C(slope * 1e4)),
            _ => None,
        }
    }

    /// Standard uncertainty of the change at a temperature, from the scatter of the points.
    ///
    /// # Errors
    /// A temperature outside of the points.
    pub fn standard_uncertainty(&self, celsius: Celsius) -> Result<Percent, Error> {
        let coverage = Percent(95.0);
        let half = self.curve.confidence_band(self.reference, celsius, coverage)?;
        Ok(Percent(half.0 / coverage_factor(coverage, self.curve.degrees_of_freedom())?))
    }

    /// The slope that is worth this uncertainty at a temperature; nothing changes at the reference temperature.
    ///
    /// # Errors
    /// A temperature outside of the points.
    pub fn slope_uncertainty(&self, celsius: Celsius) -> Result<PercentPer100C, Error> {
        let apart = (celsius.0 - self.reference.0).abs();
        let change = self.standard_uncertainty(celsius)?.0;
        Ok(PercentPer100C(if apart < 1e-6 { 0.0 } else { 100.0 * change / apart }))
    }
}

/// What the gauge's resistance without load is, over that which its factor refers to.
fn resistance(job: &Job, bench: &Bench, fitted: &Fitted, celsius: Celsius) -> Result<f64, Error> {
    Ok(match job.description.gauge.gauge_factor_refers_to {
        Basis::UnloadedGauge => 1.0 + fitted.since_balance.at(celsius)?.0 * 1e-6 * bench.run_factor.0,
        Basis::AtBalance | Basis::FreeFoil => 1.0,
    })
}

/// Between the readings without load that are before and after in time; of the nearest where there is one of them; nothing where
/// there is none.
fn zero_at(zeros: &[(f64, f64)], time: f64) -> f64 {
    let next = zeros.partition_point(|zero| zero.0 < time);
    match (next.checked_sub(1).map(|before| zeros[before]), zeros.get(next)) {
        (Some(before), Some(after)) => {
            let share = (time - before.0) / (after.0 - before.0);
            before.1 + share * (after.1 - before.1)
        }
        (Some(only), None) => only.1,
        (None, Some(only)) => only.1,
        (None, None) => 0.0,
    }
}
