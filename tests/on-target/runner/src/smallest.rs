//! Flash and RAM of the smallest logger, and what a channel more adds to it.

use std::path::Path;

use gaugewright::{fixed, float};

use crate::cores::Core;
use crate::elf::Sizes;
use crate::results::Line;

/// Bytes of RAM that a channel has in the smallest logger: code, temperature, strain, flags.
const SLOT: u64 = 16;

/// Bytes of code that may come or go because another number stands in it.
const ANOTHER_NUMBER: u64 = 8;

/// The four firmwares lie in `folder`.
pub fn check(core: &Core, folder: &Path) -> Result<(Vec<Line>, Vec<String>), String> {
    let (mut lines, mut wrong) = (Vec::new(), Vec::new());
    for (arithmetic, kernel) in
        [("fixed", size_of::<fixed::Kernel>()), ("f32", size_of::<float::Kernel<f32>>())]
    {
        let of = |channels| Sizes::of(&folder.join(format!("smallest-{arithmetic}-{channels}")));
        let (one, sixteen) = (of(1)?, of(16)?);
        for (channels, sizes) in [(1, &one), (16, &sixteen)] {
            let name = format!("smallest_{arithmetic}_{channels}");
            lines.push(Line::parse(&name, core.name, &format!("flash={} ram={}", sizes.flash, sizes.ram))?);
        }
        let growth = [
            ("constants", one.constants, sixteen.constants, 15 * kernel as u64),
            ("RAM", one.ram, sixteen.ram, 15 * SLOT),
        ];
        for (memory, one, sixteen, expected) in growth {
            if sixteen != one + expected {
                wrong.push(format!(
                    "{arithmetic} {}: 15 channels more take {memory} from {one} to {sixteen} bytes, not {expected} more",
                    core.name
                ));
            }
        }
        // The same code but for what the compiler makes of another number of channels.
        let code = [&one, &sixteen].map(|sizes| sizes.flash - sizes.constants);
        if code[0].abs_diff(code[1]) > ANOTHER_NUMBER {
            wrong.push(format!("{arithmetic} {}: code of {} bytes becomes {}", core.name, code[0], code[1]));
        }
    }
    Ok((lines, wrong))
}
