//! Sizes in a linked firmware.

use std::fs;
use std::path::Path;

use object::elf::{SHF_ALLOC, SHF_WRITE};
use object::{Object, ObjectSection, ObjectSymbol, SectionFlags, SectionKind, SymbolKind};

use crate::emulator::at;

/// The name as it stands in the source, without the compiler's number.
fn demangle(name: &str) -> String {
    format!("{:#}", rustc_demangle::demangle(name))
}

/// What the linker made of a firmware.
pub struct Sizes {
    /// By name; one generic function may be there several times.
    functions: Vec<(String, u64)>,
    /// Code and constants, and the first values of variables.
    pub flash: u64,
    /// Of these, the constants.
    pub constants: u64,
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
            .filter_map(|symbol| Some((demangle(symbol.name().ok()?), symbol.size())))
            .collect();
        let (mut flash, mut constants, mut ram) = (0, 0, 0);
        for section in file.sections() {
            let SectionFlags::Elf { sh_flags, .. } = section.flags() else { continue };
            let is = |flag| sh_flags & u64::from(flag) != 0;
            // Some linker scripts make a section of what is left for the stack.
            if !is(SHF_ALLOC) || section.name() == Ok(".stack") {
                continue;
            }
            if section.kind() != SectionKind::UninitializedData {
                flash += section.size();
            }
            if section.name() == Ok(".rodata") {
                constants += section.size();
            }
            if is(SHF_WRITE) {
                ram += section.size();
            }
        }
        Ok(Self { functions, flash, constants, ram })
    }

    /// Bytes of a function with this name.
    pub fn function(&self, name: &str) -> Result<u64, String> {
        let found = self.functions.iter().find(|(known, _)| known == name);
        found.map(|(_, size)| *size).ok_or_else(|| format!("no function {name}"))
    }

    /// Bytes of all functions whose name has each of these in it.
    pub fn matching(&self, parts: &[&str]) -> u64 {
        let has_all = |name: &str| parts.iter().all(|part| name.contains(part));
        self.functions.iter().filter(|(name, _)| has_all(name)).map(|(_, size)| *size).sum()
    }
}
