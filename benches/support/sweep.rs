//! Samples spread over a channel's declared range, and how far each path is from the exact model there.

use gaugewright::fixed::Temperature;
use gaugewright::units::{Celsius, Nanostrain, Strain};
use gaugewright::{Channel, reference};

const SAMPLES: usize = 200_000;

/// The one temperature of the split paths.
pub const POINT: Temperature = Temperature::from_bits(60 << 20);

/// Codes, each with its temperature.
#[derive(Default)]
pub struct Inputs {
    pub codes: Vec<i32>,
    pub temperatures: Vec<Temperature>,
}

/// Strain and temperature spread evenly over the declared range. Pairs that drive the converter to a rail are
/// passed over.
#[derive(Default)]
pub struct Samples {
    pub spread: Inputs,
    /// Of `spread`.
    exact: Vec<f64>,
    /// Strains spread alike, all at one temperature.
    pub at_point: Inputs,
}

impl Samples {
    /// The same samples every time. `rail` is the largest code of the converter, `strain_limit` in
    /// microstrain.
    pub fn of(channel: &Channel, strain_limit: f64, rail: i32) -> Self {
        let model = reference::Model::new(channel).expect("the channel is in order");
        let (low, high) = channel.temperatures();
        // A code's worth inside the limit, so that rounding cannot lead out.
        let limit = (strain_limit - 0.01) * 1e-6;
        let code_at = |strain: f64, temperature: Temperature| {
            let code = model.code_for(Strain(strain), temperature.celsius());
            (code.abs() < f64::from(rail - 1)).then(|| code.round() as i32)
        };
        let mut random = Random(20_261_125);
        let mut samples = Self::default();
        while samples.exact.len() < SAMPLES {
            let celsius = Celsius(low.0 + random.unit() * (high.0 - low.0));
            let temperature = Temperature::from_celsius(celsius).expect("inside the format");
            let strain = (2.0 * random.unit() - 1.0) * limit;
            if let Some(code) = code_at(strain, temperature) {
                samples.spread.add(code, temperature);
                samples.exact.push(model.strain(code, temperature).0);
            }
            if let Some(code) = code_at(strain, POINT) {
                samples.at_point.add(code, POINT);
            }
        }
        samples
    }

    /// The largest distance of `strain` from the exact model.
    fn worst(&self, strain: impl Fn(i32, Temperature) -> f64) -> Nanostrain {
        let inputs = self.spread.codes.iter().zip(&self.spread.temperatures);
        let errors = inputs
            .zip(&self.exact)
            .map(|((&code, &temperature), exact)| (strain(code, temperature) - exact).abs());
        Nanostrain(errors.fold(0.0, f64::max) * 1e9)
    }
}

impl Inputs {
    fn add(&mut self, code: i32, temperature: Temperature) {
        self.codes.push(code);
        self.temperatures.push(temperature);
    }

    /// The first so many, as arrays.
    pub fn first<const N: usize>(&self) -> ([i32; N], [Temperature; N]) {
        (std::array::from_fn(|i| self.codes[i]), std::array::from_fn(|i| self.temperatures[i]))
    }
}

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
        let worst = samples.worst(strain);
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

/// `SplitMix64` (Steele, Lea and Flood, 2014).
struct Random(u64);

impl Random {
    /// Evenly from 0 to 1.
    fn unit(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 * (-53f64).exp2()
    }
}
