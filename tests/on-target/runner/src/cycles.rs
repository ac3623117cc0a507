//! Cycles of a path: the instructions that QEMU executed, priced one by one.
//!
//! QEMU logs every block of instructions that it starts in the functions of a path. For the cores whose manuals state what each instruction
//! takes, these are added up: Arm's Technical Reference Manuals of the Cortex-M0+ (DDI 0484), M3 (DDI 0337) and M4 (DDI 0439), their tables of
//! instruction timing, from memory. Where a manual gives a range there are two sums: with the shortest multiplications, loads that follow each
//! other in one cycle each and branches that refill the pipeline in one; and with the longest. The code of the M0 is priced as an M0+ with the
//! multiplier of one cycle. Assumed are no wait states, and no interrupt.
//!
//! For the others the same instructions go through the scheduling model that LLVM has of the core (`llvm-mca`): an estimate.

use std::collections::BTreeMap;
use std::fs;
use std::io::Write;
use std::process::{Command, Stdio};

use crate::cores::Core;
use crate::elf::Sizes;
use crate::emulator::{Firmware, at, read};
use crate::recorded::{Recorded, header};
use crate::results::Line;

/// Paths that are priced: those that a loop calls for each sample, temperature or half-buffer, without routines of the compiler's library. The
/// words in front of their rows, the kernel, and the samples of a call.
pub const PATHS: [(&str, &str, usize); 11] = [
    ("fixed, one call", "fixed_reading", 1),
    ("fixed, `at`", "fixed_at", 1),
    ("fixed, `OperatingPoint`", "fixed_point", 1),
    ("fixed, `LinearPoint`", "fixed_point_linear", 1),
    ("fixed, two temperatures", "fixed_compensated", 1),
    ("a sample of a block in place, `OperatingPoint`", "fixed_point_in_place", 256),
    ("a sample of a block in place, `LinearPoint`", "fixed_point_linear_in_place", 256),
    ("`f32`, one call", "f32_reading", 1),
    ("`f32`, `OperatingPoint`", "f32_point", 1),
    ("platinum, fixed", "platinum_fixed", 1),
    ("thermocouple, fixed", "thermocouple_fixed", 1),
];

/// Calls of a path that are looked at: the first ones are those of the count, with as many inputs in range, and as many blocks.
const CALLS: usize = 32;
const BLOCK_CALLS: usize = 8;

const CONDITIONS: [&str; 14] =
    ["eq", "ne", "hs", "lo", "mi", "pl", "vs", "vc", "hi", "ls", "ge", "lt", "gt", "le"];

/// One instruction, as QEMU disassembles it.
#[derive(Clone, Debug, PartialEq)]
struct Instruction {
    address: u64,
    mnemonic: String,
    operands: String,
}

/// What ran of a firmware.
#[derive(Default)]
struct Executed {
    /// By the address of the first instruction.
    blocks: BTreeMap<u64, Vec<Instruction>>,
    /// By path: for each call the addresses of the blocks that it went through.
    calls: BTreeMap<String, Vec<Vec<u64>>>,
}

/// Those of a firmware.
fn paths_in(sizes: &Sizes) -> impl Iterator<Item = &'static str> {
    PATHS.iter().map(|(_, path, _)| *path).filter(|path| sizes.address(path).is_ok())
}

/// Paths that were not priced on a core, though their count has no routine in it.
pub fn unpriced(core: &Core, lines: &[Line]) -> Vec<String> {
    let is_priced =
        |path: &str| lines.iter().any(|line| line.kernel == path && line.figure("cycles").is_some());
    let unpriced = PATHS.iter().filter(|(_, path, _)| !path.starts_with("f32") && !is_priced(path));
    unpriced.map(|(_, path, _)| format!("{}: no cycles of {path}", core.name)).collect()
}

/// Starts the firmware once more and gives the log of the paths' functions. What runs out of range is left out.
fn logged(firmware: &Firmware<'_>, sizes: &Sizes) -> Result<String, String> {
    let mut ranges = Vec::new();
    for path in paths_in(sizes) {
        for (address, bytes) in sizes.functions_within(path)? {
            ranges.push(format!("{address:#x}+{bytes:#x}"));
        }
    }
    // The firmware looks for this file where it is started, and makes few calls where it is.
    let folder = firmware.elf.with_extension("logged");
    let flag = folder.join("calls-are-logged");
    fs::create_dir_all(&folder).map_err(at(&folder))?;
    fs::write(&flag, "").map_err(at(&flag))?;
    let options = ["-d", "exec,nochain,in_asm", "-dfilter", &ranges.join(","), "-D", "executed.txt"];
    firmware.report_in(&folder, &options)?;
    let log = read(&folder.join("executed.txt"))?;
    fs::remove_dir_all(&folder).map_err(at(&folder))?;
    Ok(log)
}

/// Adds cycles to the lines of a core, from the log of its firmware.
pub fn add(firmware: &Firmware<'_>, sizes: &Sizes, lines: &mut [Line]) -> Result<(), String> {
    let core = firmware.core;
    let call = Instruction::call(core);
    let starts =
        paths_in(sizes).map(|path| Ok((sizes.address(path)?, path))).collect::<Result<Vec<_>, String>>()?;
    let executed = Executed::read(&logged(firmware, sizes)?, &starts)?;
    for line in lines.iter_mut().filter(|line| line.core == core.name) {
        let Some((_, path, samples)) = PATHS.iter().find(|(_, path, _)| *path == line.kernel) else {
            continue;
        };
        // QEMU does not write floating point of RISC-V as LLVM reads it: no estimate.
        let is_unknown = path.starts_with("f32") && core.target.starts_with("riscv");
        if is_unknown || sizes.address(path).is_err() || line.figure("cycles").is_some() {
            continue;
        }
        let calls = executed.calls.get(*path).ok_or_else(|| format!("no call of {path} is logged"))?;
        let calls: Vec<_> = calls
            .iter()
            .take(if *samples > 1 { BLOCK_CALLS } else { CALLS })
            .map(|blocks| [vec![(&call, true)], executed.instructions(blocks)].concat())
            .collect();
        let samples = (calls.len() * samples) as f64;
        let logged = (calls.iter().map(Vec::len).sum::<usize>() as f64 / samples).round();
        let counted = line.figure("instructions").ok_or("no instructions")?;
        // Routines of the compiler's library are not logged, and what the caller does for the place of a large result.
        let unseen = counted - logged;
        if !(0.0..=2.0).contains(&unseen) {
            if line.kernel.starts_with("f32") && unseen > 0.0 {
                continue;
            }
            return Err(format!("{path} {}: {logged} instructions are logged, {counted} counted", core.name));
        }
        let (least, most) = match price_of(core.name) {
            Some(price) => calls.iter().fold((0, 0), |(least, most), call| {
                let sum = cycles(call, price);
                (least + sum.0, most + sum.1)
            }),
            None => {
                let sum = estimate(core, &calls)?;
                (sum, sum)
            }
        };
        let place = line.figures.len();
        let mean = |cycles: u32| (f64::from(cycles) / samples).round();
        line.set(place, "cycles", mean(least));
        line.set(place + 1, "cycles-most", mean(most));
    }
    Ok(())
}

impl Executed {
    /// From QEMU's log, with the address at which each path starts.
    fn read(log: &str, starts: &[(u64, &str)]) -> Result<Self, String> {
        let mut executed = Self::default();
        let mut ran = Vec::new();
        let mut block: Vec<Instruction> = Vec::new();
        for line in log.lines() {
            if let Some(words) = line.strip_prefix("Trace ") {
                // `0: HOST [FLAGS/ADDRESS/...] NAME`
                let address = words.split('/').nth(1).and_then(|word| u64::from_str_radix(word, 16).ok());
                ran.push(address.ok_or_else(|| format!("a line of QEMU's log: {line}"))?);
            } else if line.starts_with("Stopped execution of TB chain before ") {
                // The time slice ended first: that block did not run, and has another line when it does.
                ran.pop();
            } else if let Some(instruction) = Instruction::read(line) {
                block.push(instruction);
            } else if let Some(first) = block.first() {
                // Near the end of its time slice QEMU makes a shorter block: the longest is kept.
                let known = executed.blocks.entry(first.address).or_default();
                if known.len() < block.len() {
                    *known = std::mem::take(&mut block);
                }
                block.clear();
            }
        }
        let mut path = None;
        for address in ran {
            let start = starts.iter().find(|(start, _)| *start == address);
            path = start.map(|(_, name)| *name).or(path);
            // What is called in range by a path and by others too.
            let Some(path) = path else { continue };
            let calls = executed.calls.entry(path.to_owned()).or_default();
            if start.is_some() {
                calls.push(Vec::new());
            }
            calls.last_mut().ok_or("a call without a start")?.push(address);
        }
        Ok(executed)
    }

    /// Of one call, each with whether it is followed by another than the one behind it.
    fn instructions(&self, call: &[u64]) -> Vec<(&Instruction, bool)> {
        let mut all = Vec::new();
        for (k, start) in call.iter().enumerate() {
            let block = self.blocks.get(start).map_or(&[][..], Vec::as_slice);
            let next = call.get(k + 1).copied();
            for (i, instruction) in block.iter().enumerate() {
                match block.get(i + 1) {
                    // The rest was executed as a block of its own.
                    Some(behind) if Some(behind.address) == next => {
                        all.push((instruction, false));
                        break;
                    }
                    Some(_) => all.push((instruction, false)),
                    None => {
                        let follows = next.is_some_and(|next| {
                            next > instruction.address && next <= instruction.address + 4
                        });
                        all.push((instruction, !follows));
                    }
                }
            }
        }
        all
    }
}

impl Instruction {
    /// That of the caller, which counts too.
    fn call(core: &Core) -> Self {
        let (mnemonic, operands) =
            if core.target.starts_with("riscv") { ("jal", "ra, 4") } else { ("bl", "#4") };
        Self { address: 0, mnemonic: mnemonic.to_owned(), operands: operands.to_owned() }
    }

    /// `0x0002a9fc:  b5b0       push     {r4, r5, r7, lr}`
    fn read(line: &str) -> Option<Self> {
        let (address, rest) = line.strip_prefix("0x")?.split_once(':')?;
        let mut words = rest.split_whitespace().skip_while(|word| {
            // Of Thumb two halves, of RISC-V one word.
            word.len() >= 4 && word.bytes().all(|byte| byte.is_ascii_hexdigit())
        });
        let mnemonic = words.next()?.to_owned();
        let operands = words.collect::<Vec<_>>().join(" ");
        let operands =
            operands.split(" #").next().filter(|_| operands.contains(" # ")).unwrap_or(&operands).to_owned();
        Some(Self { address: u64::from_str_radix(address, 16).ok()?, mnemonic, operands })
    }

    /// Registers of a list.
    fn listed(&self) -> u32 {
        let list = self.operands.split(['{', '}']).nth(1).unwrap_or("");
        list.split(',')
            .map(|part| match part.split_once('-') {
                Some((first, last)) => {
                    let number =
                        |name: &str| name.trim().trim_start_matches(char::is_alphabetic).parse().unwrap_or(0);
                    number(last) + 1 - number(first)
                }
                None => 1,
            })
            .sum()
    }

    fn is(&self, names: &[&str]) -> bool {
        names.iter().any(|name| self.mnemonic.starts_with(name))
    }

    fn is_branch(&self) -> bool {
        let name = self.mnemonic.trim_end_matches(".w").trim_end_matches(".n");
        ["b", "bl", "bx", "blx"]
            .iter()
            .filter_map(|start| name.strip_prefix(start))
            .any(|rest| rest.is_empty() || CONDITIONS.contains(&rest))
            || self.is(&["cbz", "cbnz"])
    }

    fn is_multiple(&self) -> bool {
        self.is(&["ldm", "stm", "push", "pop", "vldm", "vstm", "vpush", "vpop", "ldrd", "strd"])
    }

    fn is_single_access(&self) -> bool {
        !self.is_multiple() && self.is(&["ldr", "str", "vldr", "vstr"])
    }

    fn accesses(&self) -> u32 {
        if self.is(&["ldrd", "strd"]) { 2 } else { self.listed() }
    }
}

/// Least and most cycles of an instruction, whether the one behind it does not follow, and whether one that accesses memory went before.
type Price = fn(&Instruction, bool, bool) -> (u32, u32);

fn price_of(core: &str) -> Option<Price> {
    match core {
        "M0" => Some(cortex_m0_plus),
        "M3" => Some(cortex_m3),
        "M4F" => Some(cortex_m4),
        _ => None,
    }
}

fn cycles(call: &[(&Instruction, bool)], price: Price) -> (u32, u32) {
    let mut after_access = false;
    let mut sum = (0, 0);
    for (instruction, is_taken) in call {
        let (least, most) = price(instruction, *is_taken, after_access);
        sum = (sum.0 + least, sum.1 + most);
        after_access = instruction.is_single_access();
    }
    sum
}

fn cortex_m0_plus(instruction: &Instruction, is_taken: bool, _: bool) -> (u32, u32) {
    let cycles = if instruction.is_branch() {
        match (instruction.mnemonic.as_str(), is_taken) {
            (_, false) => 1,
            ("bl", true) => 3,
            (_, true) => 2,
        }
    } else if instruction.is_multiple() {
        1 + instruction.accesses() + if is_taken { 2 } else { 0 }
    } else if instruction.is_single_access() {
        2
    } else {
        1
    };
    (cycles, cycles)
}

fn cortex_m3(instruction: &Instruction, is_taken: bool, after_access: bool) -> (u32, u32) {
    if instruction.is(&["smull", "umull"]) {
        (3, 5)
    } else if instruction.is(&["smlal", "umlal"]) {
        (4, 7)
    } else if instruction.is(&["mla", "mls"]) {
        (2, 2)
    } else {
        cortex_m4(instruction, is_taken, after_access)
    }
}

fn cortex_m4(instruction: &Instruction, is_taken: bool, after_access: bool) -> (u32, u32) {
    let refill = if is_taken { (1, 3) } else { (0, 0) };
    if instruction.is_branch() {
        (1 + refill.0, 1 + refill.1)
    } else if instruction.is_multiple() {
        let accesses = 1 + instruction.accesses();
        (accesses + refill.0, accesses + refill.1)
    } else if instruction.is_single_access() {
        (if after_access { 1 } else { 2 }, 2)
    } else if instruction.is(&["sdiv", "udiv"]) {
        (2, 12)
    } else if instruction.is(&["vdiv", "vsqrt"]) {
        (14, 14)
    } else if instruction.is(&["vmla", "vmls", "vnmla", "vnmls", "vfma", "vfms", "vfnma", "vfnms"]) {
        (3, 3)
    } else if instruction.mnemonic.starts_with("it") {
        // Folded into the instruction before it, if that has a half word.
        (0, 1)
    } else {
        (1, 1)
    }
}

/// What the model reads. It has no conditions: the instruction that states them is left out, and those that it is for are without.
fn assembly(call: &[(&Instruction, bool)]) -> String {
    let (mut text, mut conditional) = (String::new(), 0);
    for (instruction, _) in call {
        let Instruction { mnemonic, operands, .. } = instruction;
        if mnemonic.starts_with("it") {
            conditional = mnemonic.len() - 1;
            continue;
        }
        let (name, width) =
            mnemonic.split_once('.').map_or((mnemonic.as_str(), ""), |(name, width)| (name, width));
        // A branch among them ends them early.
        let plain = CONDITIONS.iter().find_map(|condition| name.strip_suffix(condition));
        let (name, left) = match plain {
            Some(plain) if conditional > 0 => (plain, conditional - 1),
            _ => (name, 0),
        };
        conditional = left;
        // What is called would be taken for a hundred cycles, and is here besides.
        let name = if name == "bl" { "b" } else { name };
        let point = if width.is_empty() { "" } else { "." };
        let operands = match (operands.rfind('#'), operands.split_once(',')) {
            // Where a branch leads to is not of this text.
            (Some(place), _) if instruction.is_branch() => format!("{}#4", &operands[..place]),
            // QEMU has the whole number, LLVM its upper twenty bits.
            (_, Some((register, number))) if name == "lui" => {
                let number: i64 = number.parse().unwrap_or_default();
                format!("{register},{}", (number >> 12) & 0xf_ffff)
            }
            _ => operands.clone(),
        };
        text += &format!("{name}{point}{width} {operands}\n");
    }
    text
}

/// That of the scheduling models.
pub fn version() -> Result<String, String> {
    let output =
        Command::new("llvm-mca").arg("--version").output().map_err(|error| format!("llvm-mca: {error}"))?;
    let said = String::from_utf8_lossy(&output.stdout);
    let version = said.split("LLVM version ").nth(1).and_then(|rest| rest.split_whitespace().next());
    version.map(str::to_owned).ok_or_else(|| format!("llvm-mca tells no version: {said}"))
}

/// Cycles of the calls one after the other, on the compiler tools' model of the core. Without the caller's own instruction: the model
/// takes what is called for a hundred cycles.
fn estimate(core: &Core, calls: &[Vec<(&Instruction, bool)>]) -> Result<u32, String> {
    let (triple, processor) = match core.name {
        "M7" => ("thumbv7em-none-eabihf", "cortex-m7"),
        "M33" => ("thumbv8m.main-none-eabihf", "cortex-m33"),
        // The model of a core with one issue and five stages.
        _ => ("riscv32", "sifive-e31"),
    };
    let text: String = calls.iter().map(|call| assembly(&call[1..])).collect();
    let mut child = Command::new("llvm-mca")
        .args([&format!("-mtriple={triple}"), &format!("-mcpu={processor}")])
        .args(["-mattr=+m,+a,+f,+c"].iter().filter(|_| triple == "riscv32"))
        .args(["-iterations=1", "-resource-pressure=0", "-instruction-info=0"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .map_err(|error| format!("llvm-mca: {error}"))?;
    child
        .stdin
        .take()
        .ok_or("no input")?
        .write_all(text.as_bytes())
        .map_err(|error| format!("llvm-mca: {error}"))?;
    let output = child.wait_with_output().map_err(|error| format!("llvm-mca: {error}"))?;
    let said = String::from_utf8_lossy(&output.stdout);
    let figure =
        |name: &str| said.lines().find_map(|line| line.strip_prefix(name)?.trim().parse::<usize>().ok());
    // A line that it cannot read it leaves out, with success.
    let instructions = text.lines().count();
    match (figure("Instructions:"), figure("Total Cycles:")) {
        (Some(found), Some(cycles)) if found == instructions && output.status.success() => Ok(cycles as u32),
        _ => Err(format!(
            "llvm-mca on {}, of {instructions} instructions: {said}{}",
            core.name,
            String::from_utf8_lossy(&output.stderr)
        )),
    }
}

/// The recorded cycles as microseconds at a clock, and as samples a second of one channel and of sixteen, if the core does nothing else.
pub fn at_clock(megahertz: f64, rows: &[Recorded]) -> String {
    let mut text = header(&format!("at {megahertz} MHz"));
    type Unit = (&'static str, fn(f64, f64) -> f64);
    let units: [Unit; 3] = [
        ("microseconds", |cycles, megahertz| cycles / megahertz),
        ("thousand samples a second", |cycles, megahertz| 1e3 * megahertz / cycles),
        ("thousand scans of 16 channels a second", |cycles, megahertz| 1e3 * megahertz / cycles / 16.0),
    ];
    for (words, cycles) in rows {
        for (unit, figure) in units {
            let cells = cycles.iter().map(|cycles| match cycles {
                Some(cycles) => format!("{:.3}", figure(*cycles, megahertz)),
                None => "-".to_owned(),
            });
            text += &format!("| {words}, {unit} | {} |\n", cells.collect::<Vec<_>>().join(" | "));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(line: &str) -> Instruction {
        Instruction::read(&format!("0x00000100:  b5b0       {line}")).unwrap()
    }

    fn price(price: Price, lines: &[(&str, bool)]) -> (u32, u32) {
        let instructions: Vec<_> = lines.iter().map(|(line, is_taken)| (read(line), *is_taken)).collect();
        cycles(
            &instructions.iter().map(|(instruction, is_taken)| (instruction, *is_taken)).collect::<Vec<_>>(),
            price,
        )
    }

    #[test]
    fn lines_of_the_log_are_read() {
        let thumb = Instruction::read("0x0002aa00:  e9d0 3c0c  ldrd     r3, ip, [r0, #0x30]").unwrap();
        assert_eq!((thumb.address, thumb.mnemonic.as_str()), (0x2aa00, "ldrd"));
        assert_eq!(thumb.operands, "r3, ip, [r0, #0x30]");
        let riscv = Instruction::read("0x80001234:  02b50533          mul             a0,a0,a1").unwrap();
        assert_eq!((riscv.mnemonic.as_str(), riscv.operands.as_str()), ("mul", "a0,a0,a1"));
        let branch =
            Instruction::read("0x80001238:  00b56463          bltu            a0,a1,8 # 0x80001240").unwrap();
        assert_eq!(branch.operands, "a0,a1,8");
        assert_eq!(Instruction::read("IN: fixed_reading"), None);
        assert_eq!(read("pop {r4, r5, r7, pc}").listed(), 4);
        assert_eq!(read("stm r0!, {r2-r4, r6}").listed(), 4);
        for (line, is_branch) in [
            ("beq #0x10", true),
            ("bl #0x10", true),
            ("bx lr", true),
            ("cbz r0, #0x10", true),
            ("bics r0, r1", false),
            ("bfi r0, r1, #0, #2", false),
            ("ble.w #0x10", true),
        ] {
            assert_eq!(read(line).is_branch(), is_branch, "{line}");
        }
    }

    /// Sums by hand, of the tables that the head of this file names.
    #[test]
    fn instructions_are_priced() {
        let call = [
            ("push {r4, lr}", false),
            ("ldr r1, [r0]", false),
            ("ldr r2, [r0, #4]", false),
            ("muls r1, r2", false),
            ("bne #0x10", false),
            ("adds r0, r1, r2", false),
            ("pop {r4, pc}", true),
        ];
        assert_eq!(price(cortex_m0_plus, &call), (15, 15));
        assert_eq!(price(cortex_m3, &call), (13, 16));
        let long = [
            ("smull r0, r1, r2, r3", false),
            ("smlal r0, r1, r2, r3", false),
            ("mla r0, r1, r2, r3", false),
            ("b #0x10", true),
        ];
        assert_eq!(price(cortex_m3, &long), (11, 18));
        assert_eq!(price(cortex_m4, &long), (5, 7));
        assert_eq!(
            price(
                cortex_m4,
                &[("it ls", false), ("vmla.f32 s0, s1, s2", false), ("vdiv.f32 s0, s1, s2", false)]
            ),
            (17, 18)
        );
        assert_eq!(price(cortex_m0_plus, &[("bl #0x10", true), ("bx lr", true)]), (5, 5));
    }

    #[test]
    fn conditions_are_left_out_of_what_a_model_reads() {
        let lines = [
            "ittt gt",
            "ldrdgt r3, lr, [r0, #0x14]",
            "subgt.w ip, r1, r3",
            "cmpgt ip, lr",
            "ble #0x2aa20",
            "it ls",
            "popls {r4, pc}",
        ];
        let instructions = lines.map(read);
        let call = instructions.each_ref().map(|instruction| (instruction, false));
        let expected = "ldrd r3, lr, [r0, #0x14]\nsub.w ip, r1, r3\ncmp ip, lr\nble #4\npop {r4, pc}\n";
        assert_eq!(assembly(&call), expected);
        let upper = read("lui a5,-2147483648");
        assert_eq!(assembly(&[(&upper, false)]), "lui a5,524288\n");
    }

    #[test]
    fn cycles_are_times_at_a_clock() {
        let text = at_clock(48.0, &[("point".to_owned(), vec![Some(96.0), None])]);
        let rows: Vec<_> = text.lines().skip(2).collect();
        assert_eq!(rows[0], "| point, microseconds | 2.000 | - |");
        assert_eq!(rows[1], "| point, thousand samples a second | 500.000 | - |");
        assert_eq!(rows[2], "| point, thousand scans of 16 channels a second | 31.250 | - |");
    }

    /// What QEMU names and does not run, as its time slice ends, counts once.
    #[test]
    fn a_block_that_was_stopped_is_not_executed() {
        let log = [
            "IN: path",
            "0x00000010:  b5b0       push     {r4, lr}",
            "",
            "IN: ",
            "0x00000012:  bd10       pop      {r4, pc}",
            "",
            "Trace 0: 0x7f [00/10/01/ff] path",
            "Stopped execution of TB chain before 0x7f [10] path",
            "Trace 0: 0x7f [00/10/01/ff] path",
            "Trace 0: 0x8f [00/12/01/ff] path",
            "Stopped execution of TB chain before 0x8f [12] path",
            "Trace 0: 0x8f [00/12/01/ff] path",
        ]
        .join("\n");
        let executed = Executed::read(&log, &[(0x10, "path")]).unwrap();
        assert_eq!(executed.calls["path"], [[0x10, 0x12]]);
        assert_eq!(executed.instructions(&executed.calls["path"][0]).len(), 2);
        // Without the line it would be twice.
        let running = log.replace("Stopped", "Begun");
        assert_eq!(Executed::read(&running, &[(0x10, "path")]).unwrap().calls["path"].len(), 2);
    }

    /// A block that was left early counts as far as it was executed; one that was left at its end took its branch.
    #[test]
    fn blocks_are_followed() {
        let at = |address, mnemonic: &str| Instruction {
            address,
            mnemonic: mnemonic.to_owned(),
            operands: String::new(),
        };
        let first = vec![at(0, "push"), at(2, "adds"), at(4, "adds"), at(6, "beq")];
        let executed = Executed {
            blocks: BTreeMap::from([
                (0, first),
                (4, vec![at(4, "adds"), at(6, "beq")]),
                (20, vec![at(20, "bx")]),
            ]),
            calls: BTreeMap::new(),
        };
        let taken: Vec<_> =
            executed.instructions(&[0, 4, 20]).iter().map(|(it, taken)| (it.address, *taken)).collect();
        assert_eq!(taken, [(0, false), (2, false), (4, false), (6, true), (20, true)]);
        let not_taken = executed.instructions(&[0, 8]);
        assert_eq!(not_taken.last().map(|(it, taken)| (it.address, *taken)), Some((6, false)));
    }
}
