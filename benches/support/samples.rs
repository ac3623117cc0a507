//! Samples spread over a channel's declared range, with their exact strain.

use gaugewright::fixed::Temperature;
use gaugewright::units::{Celsius, Strain};
use gaugewright::{Channel, reference};

pub const SAMPLES: usize = 200_000;

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
    pub exact: Vec<f64>,
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
}

impl Inputs {
    fn add(&mut self, code: i32, temperature: Temperature) {
        self.codes.push(code);
        self.temperatures.push(temperature);
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
