//! Sizes in a linked firmware.

use std::collections::HashMap;
use std::fs;
use std::path::Path;

use object::elf::{SHF_ALLOC, SHF_WRITE};
use object::{Object, ObjectSection, ObjectSymbol, SectionFlags, SectionKind, SymbolKind};

use crate::emulator::at;

/// What the linker made of a firmware.
pub struct Sizes {
    functions: HashMap<String, u64>,
    /// Code and constants, and the first values of variables.
    pub flash: u64,
    /// Variables.
    pub ram: u64,
}

impl Sizes {
    pub fn of(elf: &Path) -> Result<Self, String> {
        let bytes = fs::read(elf).map_err(at(elf))?;
        let file = object::File::parse(&*bytes).map_err(|error| format!("{}: {error}", elf.display()))?;
        let functions = file
            .symbols()
            .filter(|symbol| symbol.kind() == SymbolKind::Text)
            .filter_map(|symbol| Some((symbol.name().ok()?.to_owned(), symbol.size())))
            .collect();
        let (mut flash, mut ram) = (0, 0);
        for section in file.sections() {
            let SectionFlags::Elf { sh_flags, .. } = section.flags() else { continue };
            let is = |flag| sh_flags & u64::from(flag) != 0;
            if !is(SHF_ALLOC) {
                continue;
            }
            if section.kind() != SectionKind::UninitializedData {
                flash += section.size();
            }
            if is(SHF_WRITE) {
                ram += section.size();
            }
        }
        Ok(Self { functions, flash, ram })
    }

    /// Bytes of a function with this name.
    pub fn function(&self, name: &str) -> Result<u64, String> {
        self.functions.get(name).copied().ok_or_else(|| format!("no function {name}"))
    }

    /// Bytes of each function whose name has this in it.
    pub fn matching(&self, part: &str) -> Vec<u64> {
        self.functions.iter().filter(|(name, _)| name.contains(part)).map(|(_, size)| *size).collect()
    }
}
