//! The logger that is set up on site (`examples/firmware/src/field`) in QEMU. The runner is the other end of its buses and of its serial
//! line; where the board has flash that outlives the emulator, it also cuts the power.

mod client;
mod power_cuts;
mod site;
mod world;

use std::fs;
use std::path::Path;

use crate::cores::Core;
use crate::elf::Sizes;
use crate::emulator::at;
use crate::results::Line;

/// Bytes of the file of the flash: the board takes no other.
const FLASH: usize = 32 << 20;

/// Erased flash in a file of this folder.
fn erased(here: &Path) -> Result<(), String> {
    let image = here.join("flash.img");
    fs::write(&image, vec![0xff; FLASH]).map_err(at(&image))
}

/// Every form of the logger that was built for this core; prints what was seen, and gives the figures.
pub fn check(core: &Core, folder: &Path) -> Result<Vec<Line>, String> {
    let flash = core.emulator.contains(&"virt");
    let mut lines = Vec::new();
    for form in ["field", "field_async"] {
        let elf = folder.join(form);
        if !elf.exists() {
            continue;
        }
        let here = folder.join(format!("{form}-site"));
        fs::create_dir_all(&here).map_err(at(&here))?;
        if flash {
            erased(&here)?;
        }
        let of = |error| format!("{form} on {}: {error}", core.name);
        let (summary, figures) = site::check(core, &elf, &here, flash).map_err(of)?;
        println!("{summary}");
        let Sizes { flash, ram, .. } = Sizes::of(&elf)?;
        lines.push(Line::parse(form, core.name, &format!("{figures} flash={flash} ram={ram}"))?);
    }
    if flash && !lines.is_empty() {
        println!("{}", power_cuts::check(core, folder)?);
    }
    Ok(lines)
}
