//! Flash and RAM of the smallest logger, and what a channel more adds to it.

use std::path::Path;

use gaugewright::{fixed, float};

use crate::cores::Core;
use crate::elf::Sizes;
use crate::results::Line;

/// Bytes of RAM that a channel has in the smallest logger: code, temperature, strain, flags.
const SLOT: u64 = 16;

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
        let growth = [(sixteen.flash - one.flash, 15 * kernel as u64), (sixteen.ram - one.ram, 15 * SLOT)];
        for ((grown, expected), memory) in growth.into_iter().zip(["flash", "RAM"]) {
            if grown != expected {
                wrong.push(format!(
                    "{arithmetic} {}: 15 channels take {grown} bytes of {memory}, not {expected}",
                    core.name
                ));
            }
        }
    }
    Ok((lines, wrong))
}
