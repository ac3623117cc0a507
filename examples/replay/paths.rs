//! `numbers.txt`: every path through the kernels over the samples of each channel, in exact figures.

use gaugewright::{fixed, float};
use host::numbers::{Numbers, SAMPLES_PER_POINT};
use host::results::Results;
use host::setup::Channel;

/// As they stand in the file; `numbers.rs` says what they are.
const PATHS: [&str; 4] = ["fixed", "fixed-point", "f32", "f32-point"];

/// The figures of one channel, in the order of the paths, and what is in force on those that are split.
pub struct Paths {
    numbers: [Numbers; 4],
    points: Option<(fixed::OperatingPoint, float::OperatingPoint<f32>)>,
    /// So many samples the points have served.
    served: usize,
}

impl Paths {
    /// Before the first sample.
    pub const fn new() -> Self {
        Self { numbers: [Numbers::new(); 4], points: None, served: 0 }
    }

    /// Adds the next samples.
    pub fn add(&mut self, channel: &Channel, results: &Results) {
        let series = &results.series;
        let (fixed, single) = (&channel.mechanical, &channel.single);
        let [called, split, single_called, single_split] = &mut self.numbers;
        for row in results.usable_rows() {
            let (code, temperature) = (series.codes[row], series.temperatures[row]);
            // A kernel with one temperature does not look at it.
            let compensating = series.compensating.get(row).copied().unwrap_or(temperature);
            if self.served == SAMPLES_PER_POINT {
                (self.points, self.served) = (None, 0);
            }
            self.served += 1;
            let (point, single_point) = self.points.get_or_insert_with(|| {
                (fixed.at(temperature, compensating), single.at(temperature, compensating))
            });
            called.add_fixed(fixed.reading(code, temperature, compensating));
            split.add_fixed(point.reading(code));
            single_called.add_single(single.reading(code, temperature, compensating));
            single_split.add_single(single_point.reading(code));
        }
    }

    /// In the order of the paths.
    pub fn numbers(&self) -> &[Numbers; 4] {
        &self.numbers
    }
}

/// The whole file.
pub fn text<'a>(channels: impl Iterator<Item = (&'a Channel, &'a Paths)>) -> String {
    let mut text = String::new();
    for (channel, paths) in channels {
        for (name, numbers) in PATHS.iter().zip(paths.numbers()) {
            text += &format!("numbers {} {name} {numbers}\n", channel.name);
        }
    }
    text
}
