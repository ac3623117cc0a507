//! Sizes in a linked firmware.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use object::elf::{SHF_ALLOC, SHF_WRITE};
use object::{Architecture, Object, ObjectSection, ObjectSymbol, SectionFlags, SectionKind, SymbolKind};

use crate::emulator::at;

/// What the linker made of a firmware.
pub struct Sizes {
    /// By address.
    functions: BTreeMap<u64, Function>,
    /// Code and constants, and the first values of variables.
    pub flash: u64,
    /// Of these, the constants.
    pub constants: u64,
    /// Variables.
    pub ram: u64,
    /// Version of the compiler that built it.
    pub compiler: String,
}

struct Function {
    name: String,
    bytes: u64,
    /// Addresses that its calls and jumps lead to.
    targets: Vec<u64>,
}

/// Code of a path, in bytes.
pub struct Code {
    /// What runs for inputs in range.
    pub within: u64,
    /// What is called besides when something is not.
    pub outside: u64,
    /// All of it, with the routines of the compiler's own library.
    pub linked: u64,
    /// Something in it may panic.
    pub can_panic: bool,
}

impl Sizes {
    pub fn of(elf: &Path) -> Result<Self, String> {
        let bytes = fs::read(elf).map_err(at(elf))?;
        let file = object::File::parse(&*bytes).map_err(|error| format!("{}: {error}", elf.display()))?;
        let is_arm = file.architecture() == Architecture::Arm;
        let mut functions = BTreeMap::new();
        for symbol in file.symbols().filter(|symbol| symbol.kind() == SymbolKind::Text && symbol.size() > 0) {
            // Of Thumb functions the lowest bit of the address is set.
            let address = symbol.address() & !1;
            let code = symbol
                .section_index()
                .and_then(|section| {
                    file.section_by_index(section).ok()?.data_range(address, symbol.size()).ok()?
                })
                .unwrap_or(&[]);
            let targets = if is_arm { thumb_targets(address, code) } else { riscv_targets(address, code) };
            let name = format!("{:#}", rustc_demangle::demangle(symbol.name().unwrap_or("")));
            functions.insert(address, Function { name, bytes: symbol.size(), targets });
        }
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
        let comment = file.section_by_name(".comment").and_then(|section| section.data().ok()).unwrap_or(&[]);
        let comment = String::from_utf8_lossy(comment).into_owned();
        let compiler = comment.split("rustc version ").nth(1).and_then(|rest| rest.split([' ', '\0']).next());
        let compiler = compiler.ok_or_else(|| format!("{}: names no compiler", elf.display()))?.to_owned();
        Ok(Self { functions, flash, constants, ram, compiler })
    }

    /// The code of a function and of everything of the library and its peers that it calls. Routines of the compiler's
    /// own library count in `linked` alone. A way out of the range is told by the names of the library's functions for it.
    pub fn code(&self, name: &str) -> Result<Code, String> {
        let start = self.address(name)?;
        let bytes = |reached: &BTreeSet<u64>| {
            reached.iter().map(|address| self.functions[address].bytes).sum::<u64>()
        };
        let within = bytes(&self.reached(start, is_within));
        let all = bytes(&self.reached(start, is_counted));
        let linked = self.reached(start, |_| true);
        let can_panic = linked.iter().any(|address| self.functions[address].name.contains("panicking"));
        Ok(Code { within, outside: all - within, linked: bytes(&linked), can_panic })
    }

    /// Where a function begins.
    pub fn address(&self, name: &str) -> Result<u64, String> {
        let start = self.functions.iter().find(|(_, function)| function.name == name);
        start.map(|(&address, _)| address).ok_or_else(|| format!("no function {name}"))
    }

    /// A function and what it calls of the library and its peers for inputs in range: addresses and bytes.
    pub fn functions_within(&self, name: &str) -> Result<Vec<(u64, u64)>, String> {
        let reached = self.reached(self.address(name)?, is_within);
        Ok(reached.into_iter().map(|address| (address, self.functions[&address].bytes)).collect())
    }

    fn reached(&self, start: u64, enters: impl Fn(&str) -> bool) -> BTreeSet<u64> {
        let (mut seen, mut open) = (BTreeSet::from([start]), vec![start]);
        while let Some(address) = open.pop() {
            for target in &self.functions[&address].targets {
                if self.functions.get(target).is_some_and(|callee| enters(&callee.name))
                    && seen.insert(*target)
                {
                    open.push(*target);
                }
            }
        }
        seen
    }
}

fn is_counted(name: &str) -> bool {
    name.contains("gaugewright") || name.contains("peers")
}

fn is_within(name: &str) -> bool {
    is_counted(name) && !name.contains("outside") && !name.contains("beyond")
}

fn halfwords(code: &[u8]) -> Vec<u32> {
    code.as_chunks::<2>().0.iter().map(|&pair| u32::from(u16::from_le_bytes(pair))).collect()
}

/// `bits` of a number, with its sign, from its lowest `count` bits.
fn signed(bits: u32, count: u32) -> i64 {
    i64::from((bits << (32 - count)) as i32 >> (32 - count))
}

/// Where the 32-bit branches of Thumb code lead: `bl`, `b.w` with and without condition (Armv7-M Architecture Reference
/// Manual, A7.7.12 and A7.7.18). Short ones do not leave a function; constants between the code may look like branches,
/// but hardly to the start of a function.
fn thumb_targets(address: u64, code: &[u8]) -> Vec<u64> {
    let words = halfwords(code);
    let mut targets = Vec::new();
    let mut i = 0;
    while i < words.len() {
        let first = words[i];
        if first >> 11 < 0b11101 {
            // A short unconditional branch may be a tail call.
            if first >> 11 == 0b11100 {
                targets.push(to(address, i, 4 + (signed(first, 11) << 1)));
            }
            i += 1;
            continue;
        }
        let second = words.get(i + 1).copied().unwrap_or(0);
        if first >> 11 == 0b11110 && second >> 15 == 1 {
            let (sign, j1, j2) = (first >> 10 & 1, second >> 13 & 1, second >> 11 & 1);
            let is_far = second >> 12 & 1 == 1;
            let offset = if is_far {
                let (i1, i2) = (1 ^ j1 ^ sign, 1 ^ j2 ^ sign);
                signed(sign << 24 | i1 << 23 | i2 << 22 | (first & 0x3ff) << 12 | (second & 0x7ff) << 1, 25)
            } else {
                signed(sign << 20 | j2 << 19 | j1 << 18 | (first & 0x3f) << 12 | (second & 0x7ff) << 1, 21)
            };
            targets.push(to(address, i, 4 + offset));
        }
        i += 2;
    }
    targets
}

/// Where the jumps of RISC-V code lead: `jal`, `c.j`, `c.jal`, and `auipc` with `jalr` (The RISC-V Instruction Set Manual,
/// volume I, chapters 2 and 16).
fn riscv_targets(address: u64, code: &[u8]) -> Vec<u64> {
    let words = halfwords(code);
    let mut targets = Vec::new();
    let mut i = 0;
    while i < words.len() {
        let first = words[i];
        if first & 3 != 3 {
            if first & 3 == 1 && matches!(first >> 13, 0b001 | 0b101) {
                let bit = |from: u32, to: u32| (first >> from & 1) << to;
                let offset =
                    bit(12, 11) | bit(11, 4) | bit(10, 9) | bit(9, 8) | bit(8, 10) | bit(7, 6) | bit(6, 7);
                let offset = offset | (first >> 3 & 7) << 1 | bit(2, 5);
                targets.push(to(address, i, signed(offset, 12)));
            }
            i += 1;
            continue;
        }
        let word =
            |at: usize| words.get(at).copied().unwrap_or(0) | words.get(at + 1).copied().unwrap_or(0) << 16;
        let instruction = word(i);
        match instruction & 0x7f {
            0x6f => {
                let offset = (instruction >> 31) << 20
                    | (instruction >> 12 & 0xff) << 12
                    | (instruction >> 20 & 1) << 11
                    | (instruction >> 21 & 0x3ff) << 1;
                targets.push(to(address, i, signed(offset, 21)));
            }
            0x17 if word(i + 2) & 0x7f == 0x67 => {
                let offset = i64::from((instruction & 0xffff_f000) as i32) + signed(word(i + 2) >> 20, 12);
                targets.push(to(address, i, offset));
            }
            _ => {}
        }
        i += 2;
    }
    targets
}

fn to(address: u64, halfword: usize, offset: i64) -> u64 {
    (address + 2 * halfword as u64).wrapping_add_signed(offset)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Instructions as `llvm-objdump` shows them, with the targets that it names.
    #[test]
    fn branches_are_decoded() {
        // 0x100a: f7ff fe77  bl 0xcfc
        assert_eq!(thumb_targets(0x100a, &[0xff, 0xf7, 0x77, 0xfe]), [0xcfc]);
        // nop, then the same two bytes further on.
        assert_eq!(thumb_targets(0x1008, &[0x00, 0xbf, 0xff, 0xf7, 0x77, 0xfe]), [0xcfc]);
        // jal ra, 8 and back; c.j 16; a `ret` leads nowhere.
        assert_eq!(riscv_targets(0x8000_0000, &[0xef, 0x00, 0x80, 0x00]), [0x8000_0008]);
        assert_eq!(riscv_targets(0x8000_0100, &[0xef, 0xf0, 0x9f, 0xff]), [0x8000_00f8]);
        assert_eq!(riscv_targets(0x8000_0000, &[0x01, 0xa8]), [0x8000_0010]);
        assert!(riscv_targets(0x8000_0000, &[0x82, 0x80]).is_empty());
        // auipc ra, 1; jalr -16(ra)
        let pair = [0x97, 0x10, 0x00, 0x00, 0xe7, 0x80, 0x00, 0xff];
        assert_eq!(riscv_targets(0x8000_0000, &pair)[0], 0x8000_0ff0);
    }
}
