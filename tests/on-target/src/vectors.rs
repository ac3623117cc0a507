//! The committed results of `tests/data`, read from the host while they are replayed.

use core::ffi::CStr;

use firmware::lines::Lines;
use gaugewright::fixed::Temperature;

use crate::channels::{CHANNELS, FIXED, IN_VECTORS, SINGLE};

pub const CHANNELS_FILE: &CStr = c"tests/data/vectors.csv";
pub const PATHS_FILE: &CStr = c"tests/data/paths.csv";

/// Reports how many of the lines that are meant agree. A line that cannot be read does not agree.
pub fn replay(file: &CStr, is_meant: impl Fn(&str) -> bool, agrees: impl Fn(&str) -> Option<bool>) {
    let (mut agreeing, mut all) = (0, 0);
    if let Ok(mut lines) = Lines::open(file) {
        let mut is_header = true;
        while let Some(line) = lines.next_line() {
            if line.starts_with('#') || core::mem::take(&mut is_header) || !is_meant(line) {
                continue;
            }
            all += 1;
            if agrees(line) == Some(true) {
                agreeing += 1;
            } else {
                defmt::error!("vectors: {=str}", line);
            }
        }
    }
    defmt::println!("vectors {=u32} of {=u32}", agreeing, all);
}

/// A line of `paths.csv`: a path, three numbers, four words in hexadecimal digits.
pub fn path_agrees(line: &str, bits: impl Fn(&str, [i32; 3]) -> Option<[u32; 4]>) -> Option<bool> {
    let mut cells = line.split(',');
    let path = cells.next()?;
    let mut number = || cells.next()?.parse::<i32>().ok();
    let inputs = [number()?, number()?, number()?];
    let mut word = || u32::from_str_radix(cells.next()?, 16).ok();
    Some(bits(path, inputs)? == [word()?, word()?, word()?, word()?])
}

/// A line of `vectors.csv`.
pub fn channel_agrees(line: &str) -> Option<bool> {
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
