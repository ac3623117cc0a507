//! The flight, flown by the logger of `examples/firmware` or by the one in C: its figures against those of the host's replay.

use std::path::Path;

use crate::cores::Core;
use crate::emulator::Firmware;
use crate::results::{Line, differences};

/// `folder` holds `target/flight.stream`; `numbers` is what the replay made of the same flight.
pub fn check(core: &Core, elf: &Path, folder: &Path, numbers: &str) -> Result<(Line, String), String> {
    let report = Firmware { core, elf: elf.to_owned() }.report_in(folder, &[])?;
    let summary = judge(core.name, &report, numbers)?;
    let end = report.last().ok_or("no report")?;
    let end = Line::parse("flight", core.name, end)?;
    if end.figure("lost") != Some(0.0) {
        return Err(format!("{}: rows were lost: {end}", core.name));
    }
    Ok((end, summary))
}

/// The lines of figures of a report: as many as those of the replay, and the same.
pub fn judge(core: &str, report: &[String], numbers: &str) -> Result<String, String> {
    let found: Vec<_> =
        report.iter().filter(|line| line.starts_with("numbers ")).map(String::as_str).collect();
    let expected: Vec<_> = numbers.lines().collect();
    let different = differences(&format!("{core}: numbers of the replay"), &expected, &found);
    if !different.is_empty() {
        return Err(different.join("\n"));
    }
    Ok(format!("{core}: {} lines of figures, as the replay's to the bit", found.len()))
}
