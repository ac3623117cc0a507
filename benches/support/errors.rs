//! How far each path is from the exact model.

use super::samples::{SAMPLES, Samples};
use gaugewright::fixed::Temperature;
use gaugewright::units::Nanostrain;

/// Worst error and certified bound, path by path.
pub struct Errors {
    title: String,
    lines: Vec<(&'static str, Nanostrain, Option<Nanostrain>)>,
}

impl Errors {
    /// No path yet.
    pub fn new(title: &str) -> Self {
        Self { title: title.to_owned(), lines: Vec::new() }
    }

    /// Measures a path, whose `strain` is a plain ratio.
    ///
    /// # Panics
    /// If it misses its bound.
    pub fn add(
        &mut self,
        path: &'static str,
        bound: Option<Nanostrain>,
        samples: &Samples,
        strain: impl Fn(i32, Temperature) -> f64,
    ) {
        let worst = worst(samples, strain);
        if let Some(bound) = bound {
            // What the double-precision model may itself be off.
            let reference = 1e-4;
            assert!(
                worst.0 <= bound.0 + reference,
                "{path}: {} nanostrain, the bound is {}",
                worst.0,
                bound.0
            );
        }
        self.lines.push((path, worst, bound));
    }

    /// The name of a path with its worst error.
    pub fn label(&self, path: &str) -> String {
        let line = self.lines.iter().find(|line| line.0 == path);
        let (path, worst, _) = line.expect("every path was measured");
        format!("{path} ({} nanostrain)", short(*worst))
    }
}

impl std::fmt::Display for Errors {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "{} channel, worst of {SAMPLES} samples\n{:<20} {:>12} {:>17}  nanostrain",
            self.title, "", "worst error", "certified bound",
        )?;
        for (path, worst, bound) in &self.lines {
            let bound = bound.map_or("none".to_owned(), short);
            write!(f, "\n{path:<20} {:>12} {bound:>17}", short(*worst))?;
        }
        Ok(())
    }
}

/// Three digits or so.
fn short(error: Nanostrain) -> String {
    match error.0 {
        // The double-precision model resolves no better.
        e if e < 1e-4 => "<0.0001".to_owned(),
        e if e < 1.0 => format!("{e:.3}"),
        e if e < 10.0 => format!("{e:.2}"),
        e => format!("{e:.0}"),
    }
}

/// The largest distance of `strain` from the exact model.
fn worst(samples: &Samples, strain: impl Fn(i32, Temperature) -> f64) -> Nanostrain {
    let inputs = samples.spread.codes.iter().zip(&samples.spread.temperatures);
    let errors = inputs
        .zip(&samples.exact)
        .map(|((&code, &temperature), exact)| (strain(code, temperature) - exact).abs());
    Nanostrain(errors.fold(0.0, f64::max) * 1e9)
}
