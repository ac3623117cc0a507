//! The committed vectors of `tests/data/vectors.csv`, read from the host while they are replayed.

use firmware::lines::Lines;
use gaugewright::fixed::Temperature;

use on_target::channels::{CHANNELS, FIXED, IN_VECTORS, SINGLE};

const FILE: &core::ffi::CStr = c"tests/data/vectors.csv";

/// Lines that agree, and lines there are. A line that cannot be read does not agree.
pub fn replay() -> (u32, u32) {
    let Ok(mut lines) = Lines::open(FILE) else { return (0, 0) };
    let (mut agreeing, mut all) = (0, 0);
    while let Some(line) = lines.next_line() {
        if line.starts_with('#') || line.starts_with("channel,") {
            continue;
        }
        all += 1;
        if agrees(line) == Some(true) {
            agreeing += 1;
        } else {
            defmt::error!("vectors: {=str}", line);
        }
    }
    (agreeing, all)
}

fn agrees(line: &str) -> Option<bool> {
    let mut cells = line.split(',');
    let name = cells.next()?;
    let channel = CHANNELS[..IN_VECTORS].iter().position(|(known, _)| *known == name)?;
    let mut number = || cells.next()?.parse::<i32>().ok();
    let (code, temperature) = (number()?, Temperature::from_bits(number()?));
    let (strain, flags, split) = (number()?, number()?, number()?);
    let mut bits = || u32::from_str_radix(cells.next()?, 16).ok();
    let (single, single_split) = (bits()?, bits()?);

    let reading = FIXED[channel].reading(code, temperature);
    let point = FIXED[channel].at(temperature).reading(code);
    Some(
        reading.strain.to_bits() == strain
            && i32::from(reading.flags.bits()) == flags
            && point.strain.to_bits() == split
            && SINGLE[channel].reading(code, temperature).strain.to_bits() == single
            && SINGLE[channel].at(temperature).reading(code).strain.to_bits() == single_split,
    )
}
