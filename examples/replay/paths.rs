//! `numbers.txt`: every path through the kernels over the samples of each channel, in exact figures.

use gaugewright::fixed::Temperature;
use host::numbers::{Numbers, SAMPLES_PER_POINT};
use host::results::Results;
use host::setup::Channel;
use std::fmt::Write;
use std::io;
use std::path::Path;

/// As they stand in the file; `numbers.rs` says what they are.
const PATHS: [&str; 4] = ["fixed", "fixed-point", "f32", "f32-point"];

/// # Errors
/// If the file cannot be written.
pub fn write(path: &Path, channels: &[(&Channel, &Results)]) -> io::Result<()> {
    let mut text = String::new();
    for (channel, results) in channels {
        for (name, numbers) in PATHS.iter().zip(numbers(channel, results)) {
            writeln!(text, "numbers {} {name} {numbers}", channel.name).map_err(io::Error::other)?;
        }
    }
    std::fs::write(path, text)
}

/// What a kernel is given.
struct Sample {
    code: i32,
    temperature: Temperature,
    compensating: Temperature,
}

/// In the order of the paths.
pub fn numbers(channel: &Channel, results: &Results) -> [Numbers; 4] {
    let series = results.series;
    let sample = |row: usize| {
        let temperature = series.temperatures[row];
        Sample {
            code: series.codes[row],
            temperature,
            // A kernel with one temperature does not look at it.
            compensating: series.compensating.get(row).copied().unwrap_or(temperature),
        }
    };
    let samples: Vec<Sample> = results.usable_rows().map(sample).collect();
    let (fixed, single) = (&channel.mechanical, &channel.single);
    let mut numbers = [Numbers::new(); 4];
    let [called, split, single_called, single_split] = &mut numbers;
    for served in samples.chunks(SAMPLES_PER_POINT) {
        let Sample { temperature, compensating, .. } = served[0];
        let point = fixed.at(temperature, compensating);
        let single_point = single.at(temperature, compensating);
        for &Sample { code, temperature, compensating } in served {
            called.add_fixed(fixed.reading(code, temperature, compensating));
            split.add_fixed(point.reading(code));
            single_called.add_single(single.reading(code, temperature, compensating));
            single_split.add_single(single_point.reading(code));
        }
    }
    numbers
}
