//! Sizes in a linked firmware.

use std::collections::HashMap;
use std::fs;
use std::path::Path;

use object::{Object, ObjectSection, ObjectSymbol, SectionKind, SymbolKind};

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
        let total = |kinds: &[SectionKind]| {
            let sections = file.sections().filter(|section| section.address() != 0 || section.name() == Ok(".vector_table"));
            sections.filter(|section| kinds.contains(&section.kind())).map(|section| section.size()).sum()
        };
        use SectionKind::{Data, ReadOnlyData, Text, UninitializedData};
        Ok(Self { functions, flash: total(&[Text, ReadOnlyData, Data]), ram: total(&[Data, UninitializedData]) })
    }

    /// Bytes of a function with this name.
    pub fn function(&self, name: &str) -> Result<u64, String> {
        self.functions.get(name).copied().ok_or_else(|| format!("no function {name}"))
    }

    /// Bytes of all functions whose name has both parts.
    pub fn functions(&self, first: &str, second: &str) -> u64 {
        let matching = self.functions.iter().filter(|(name, _)| name.contains(first) && name.contains(second));
        matching.map(|(_, size)| size).sum()
    }
}
