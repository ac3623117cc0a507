//! The recorded run that README shows, against this one.

use std::fmt::Write;
use std::fs;
use std::path::Path;

use crate::cores::CORES;
use crate::cycles;
use crate::emulator::{at, read};
use crate::results::Line;

const FILE: &str = "tests/on-target/recorded.md";

/// How far another compiler's figures may be from the recorded ones.
const OTHER_COMPILER: f64 = 0.1;

/// How far figures of the logger that is set up on site may be: it counts by ticks of its timer, among which its other interrupts
/// come. (Its budgets hold all the same.)
const BY_TIMER: f64 = 0.03;

/// How far cycles may be: by one, or by this share. With the folder that a firmware is built in the compiler changes the order of some
/// instructions, and with it what a model makes of them, though not how many they are.
const BY_ORDER: f64 = 0.03;

/// A row: the words in front, the kernel, the figure.
type Row<W = &'static str> = (W, &'static str, &'static str);

/// Instructions of a call: the words in front, and the kernel.
const CALLS: [(&str, &str); 33] = [
    ("fixed, one call", "fixed_reading"),
    ("fixed, `at`", "fixed_at"),
    ("fixed, `OperatingPoint`", "fixed_point"),
    ("fixed, `LinearPoint`", "fixed_point_linear"),
    ("fixed, `linear`, making one", "fixed_linear"),
    ("fixed, two temperatures", "fixed_compensated"),
    ("fixed, one call with the product", "fixed_product"),
    ("fixed, two temperatures with the product", "fixed_product_compensated"),
    ("fixed, `Kernel<5, 3, 1>`", "fixed_reading_any"),
    ("`f32`, one call", "f32_reading"),
    ("`f32`, `at`", "f32_at"),
    ("`f32`, `OperatingPoint`", "f32_point"),
    ("platinum, fixed", "platinum_fixed"),
    ("platinum, `f32`", "platinum_f32"),
    ("thermocouple, fixed", "thermocouple_fixed"),
    ("thermocouple, `f32`", "thermocouple_f32"),
    ("a word of five bytes, checksum included", "word"),
    ("a thermometer's register", "temperature_register"),
    ("a sample at the newest point of a queue", "corrector_reading"),
    ("a kernel for a zero and a span", "fixed_adjusted"),
    ("the same, two temperatures with the product", "fixed_adjusted_compensated"),
    ("a record read and tested", "record_read"),
    ("a record of two temperatures with the product", "record_read_compensated"),
    ("its self-test alone", "record_self_test"),
    ("a check of the wiring", "wiring_check"),
    ("a span by a shunt", "shunt_check"),
    ("a point of a fit, `f32`", "fit_f32"),
    ("uncertainty, `at`, `f32`", "uncertainty_at"),
    ("uncertainty, `f32`", "uncertainty_f32"),
    ("uncertainty, fixed", "uncertainty_fixed"),
    ("naive `f64`", "peer_naive_double"),
    ("naive `f32`", "peer_naive_single"),
    ("table of 64, linear bridge", "peer_table"),
];

/// Instructions of a sample of a block: the words in front, and the kernel.
const BLOCKS: [(&str, &str); 12] = [
    ("fixed, `OperatingPoint`, in place", "fixed_point_in_place"),
    ("fixed, `LinearPoint`, in place", "fixed_point_linear_in_place"),
    ("fixed, `OperatingPoint`, `readings`", "fixed_point_block"),
    ("fixed, `LinearPoint`, `readings`", "fixed_point_linear_block"),
    ("fixed, a temperature each", "fixed_block"),
    ("fixed, two temperatures each", "fixed_compensated_block"),
    ("`f32`, `OperatingPoint`", "f32_point_block"),
    ("`f32`, a temperature each", "f32_block"),
    ("`f32`, two temperatures each", "f32_compensated_block"),
    ("naive `f64`, a temperature each", "peer_naive_double_block"),
    ("naive `f32`, a temperature each", "peer_naive_single_block"),
    ("table of 64, linear bridge, a temperature each", "peer_table_block"),
];

/// The three figures of a block. Peers have no flags.
const OF_A_BLOCK: [(&str, &str); 3] =
    [("256", "instructions"), ("16", "sixteen"), ("256, all flagged", "flagged")];

/// Bytes.
const BYTES: [Row; 25] = [
    ("code of fixed, one call", "fixed_reading", "code"),
    ("its way out of the range", "fixed_reading", "outside"),
    ("code of fixed, `at`", "fixed_at", "code"),
    ("code of fixed, `OperatingPoint`", "fixed_point", "code"),
    ("its way out of the range, besides", "fixed_point", "outside"),
    ("stack of fixed, one call", "fixed_reading", "stack"),
    ("stack of fixed, `OperatingPoint`", "fixed_point", "stack"),
    ("code of a kernel for a zero and a span, routines included", "fixed_adjusted", "linked"),
    ("the same of two temperatures with the product", "fixed_adjusted_compensated", "linked"),
    ("code of a record read and tested, routines included", "record_read", "linked"),
    ("stack of it", "record_read", "stack"),
    ("code of a check of the wiring, routines included", "wiring_check", "linked"),
    ("constants of a check of the wiring", "wiring_check", "kernel"),
    ("code of a span by a shunt, routines included", "shunt_check", "linked"),
    ("constants of a span by a shunt", "shunt_check", "kernel"),
    ("a fit, `f32`", "fit_f32", "kernel"),
    ("stack of a point of a fit", "fit_f32", "stack"),
    ("constants of uncertainty, `f32`", "uncertainty_at", "kernel"),
    ("those of a temperature", "uncertainty_f32", "kernel"),
    ("stack of uncertainty, `at`", "uncertainty_at", "stack"),
    ("stack of uncertainty, fixed", "uncertainty_fixed", "stack"),
    ("smallest logger, flash, 1 channel", "smallest_fixed_1", "flash"),
    ("smallest logger, flash, 16 channels", "smallest_fixed_16", "flash"),
    ("the same in `f32`, 1 channel", "smallest_f32_1", "flash"),
    ("the same in `f32`, 16 channels", "smallest_f32_16", "flash"),
];

/// The logger that is set up on site, which runs on some cores.
const SITE: [Row; 12] = [
    ("instructions of loading eight records", "field", "load"),
    ("of a scan of eight channels and one temperature", "field", "scan"),
    ("of eight zeros", "field", "zero"),
    ("of storing eight records", "field", "save"),
    ("flash in bytes", "field", "flash"),
    ("RAM in bytes, stack not included", "field", "ram"),
    ("stack in bytes", "field", "stack"),
    ("on an executor: instructions of a scan", "field_async", "scan"),
    ("of storing eight records there", "field_async", "save"),
    ("flash in bytes there", "field_async", "flash"),
    ("RAM in bytes there", "field_async", "ram"),
    ("stack in bytes there", "field_async", "stack"),
];

/// A table of the record.
struct Table {
    what: &'static str,
    rows: Vec<Row<String>>,
    /// How far a figure may be from the recorded one: by this share of it, or by so many.
    tolerance: (f64, f64),
    /// Each row has a figure on each core.
    is_whole: bool,
}

/// All of them; the models of the cores are those of the record, or others.
fn tables(same_models: bool) -> [Table; 5] {
    fn owned((words, kernel, name): Row) -> Row<String> {
        (words.to_owned(), kernel, name)
    }
    let calls = CALLS.into_iter().map(|(words, kernel)| (words, kernel, "instructions"));
    let calls = calls.chain([("fixed, one call, worst flagged", "fixed_reading", "flagged")]);
    let blocks = BLOCKS.into_iter().flat_map(|(words, kernel)| {
        let is_peer = kernel.starts_with("peer");
        let figures = OF_A_BLOCK.into_iter().filter(move |(_, name)| !is_peer || *name != "flagged");
        figures.map(move |(samples, name)| (format!("{words}, {samples}"), kernel, name))
    });
    let newest = owned(("the newest point of a queue, in place, 256", "corrector_block", "instructions"));
    let table = |what, rows, tolerance, is_whole| Table { what, rows, tolerance, is_whole };
    let of_models = if same_models { BY_ORDER } else { OTHER_COMPILER };
    [
        table("instructions a call", calls.map(owned).collect(), (0.0, 0.0), true),
        table("instructions a sample of a block", blocks.chain([newest]).collect(), (0.0, 0.0), true),
        table("cycles", cycle_rows().collect(), (of_models, 1.0), false),
        table("bytes", BYTES.map(owned).to_vec(), (0.0, 0.0), true),
        table("the logger that is set up on site", SITE.map(owned).to_vec(), (BY_TIMER, 0.0), false),
    ]
}

fn cycle_rows() -> impl Iterator<Item = Row<String>> {
    cycles::PATHS.iter().flat_map(|(words, kernel, _)| {
        [("at least", "cycles"), ("at most", "cycles-most")]
            .map(|(which, name)| (format!("{words}, {which}"), *kernel, name))
    })
}

/// The head of a table with a column for each core.
pub fn header(what: &str) -> String {
    let names: Vec<_> = CORES.iter().map(|core| core.name).collect();
    format!("| {what} | {} |\n|{}\n", names.join(" | "), "---|".repeat(CORES.len() + 1))
}

/// The figures of a row in this run, in the order of the cores.
fn figures(lines: &[Line], (_, kernel, name): &Row<String>) -> [Option<f64>; CORES.len()] {
    CORES.each_ref().map(|core| {
        let line = lines.iter().find(|line| line.kernel == *kernel && line.core == core.name);
        line.and_then(|line| line.figure(name))
    })
}

/// The recorded figures of a row, in the order of the cores.
fn recorded(text: &str, (words, ..): &Row<String>) -> Result<Vec<Option<f64>>, String> {
    let start = format!("| {words} | ");
    let row = text.lines().find_map(|line| line.strip_prefix(&start));
    let row = row.ok_or_else(|| format!("{FILE} has no row {words}"))?;
    Ok(row.trim_end_matches(" |").split(" | ").map(|cell| cell.parse().ok()).collect())
}

/// The tables of a run over all cores.
fn shown(lines: &[Line]) -> Result<String, String> {
    let mut text = String::new();
    for Table { what, rows, is_whole, .. } in tables(true) {
        text += &format!("\n{}", header(what));
        for row in rows {
            let figures = figures(lines, &row);
            if figures.iter().all(Option::is_none) || is_whole && figures.contains(&None) {
                return Err(format!("not on every core: {}", row.0));
            }
            let figures = figures.map(|figure| figure.map_or("-".into(), |n| n.to_string()));
            let _ = writeln!(text, "| {} | {} |", row.0, figures.join(" | "));
        }
    }
    Ok(text)
}

/// Writes the file from a run over all cores.
pub fn write(lines: &[Line], compilers: &[String]) -> Result<(), String> {
    let [compiler, others @ ..] = compilers else { return Err("nothing was built".into()) };
    if let Some(other) = others.iter().find(|other| *other != compiler) {
        return Err(format!("built by {compiler} and by {other}: no record of both"));
    }
    let head = format!(
        "# A recorded run on seven cores\n\nCompiler {compiler}, `opt-level = 3`, QEMU. `tests/on-target/run --record` writes this.\n\n\
         Cycles are those of the M0+, M3 and M4 by their manuals, without wait states; of the others they are estimates by the scheduling \
         models of LLVM {}.\n",
        cycles::version()?,
    );
    fs::write(FILE, head + &shown(lines)?).map_err(at(Path::new(FILE)))
}

/// The words of a recorded row, and its figures in the order of the cores.
pub type Recorded = (String, Vec<Option<f64>>);

/// The recorded cycles.
pub fn cycles() -> Result<Vec<Recorded>, String> {
    let text = read(Path::new(FILE))?;
    cycle_rows().map(|row| recorded(&text, &row).map(|figures| (row.0, figures))).collect()
}

/// How far figures may be from the recorded ones: not at all with the compiler of the record, a tenth with another.
pub fn tolerance(compilers: &[String]) -> Result<f64, String> {
    let text = read(Path::new(FILE))?;
    let same = compilers.iter().all(|compiler| text.contains(&format!("Compiler {compiler},")));
    Ok(if same { 0.0 } else { OTHER_COMPILER })
}

/// What differs from the recorded run.
pub fn compare(lines: &[Line], tolerance: f64) -> Result<Vec<String>, String> {
    let text = read(Path::new(FILE))?;
    let same_models = text.contains(&format!("LLVM {}.", cycles::version()?));
    Ok(different(&text, lines, tolerance, same_models))
}

fn different(text: &str, lines: &[Line], tolerance: f64, same_models: bool) -> Vec<String> {
    let mut different = Vec::new();
    for Table { rows, tolerance: (share, least), .. } in tables(same_models) {
        let share = tolerance.max(share);
        for row in rows {
            let then = match recorded(text, &row) {
                Ok(then) => then,
                Err(missing) => {
                    different.push(missing);
                    continue;
                }
            };
            for ((now, then), core) in figures(lines, &row).into_iter().zip(then).zip(&CORES) {
                // A core that was not run has nothing to compare.
                let Some(now) = now else { continue };
                if then.is_none_or(|then| (now - then).abs() > (share * then).max(least)) {
                    different.push(format!("{} on {}: {now}, recorded {then:?}", row.0, core.name));
                }
            }
        }
    }
    different
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A run with a figure for each row on each core.
    fn run() -> Vec<Line> {
        let mut lines: Vec<Line> = Vec::new();
        for (_, kernel, name) in tables(true).into_iter().flat_map(|table| table.rows) {
            for core in &CORES {
                let known = lines.iter().position(|line| line.kernel == kernel && line.core == core.name);
                let line = match known {
                    Some(place) => &mut lines[place],
                    None => {
                        lines.push(Line::parse(kernel, core.name, "").unwrap());
                        lines.last_mut().unwrap()
                    }
                };
                if line.figure(name).is_none() {
                    line.set(0, name, 100.0);
                }
            }
        }
        lines
    }

    #[test]
    fn a_figure_that_differs_is_seen() {
        let lines = run();
        let text = shown(&lines).unwrap();
        assert!(different(&text, &lines, 0.0, true).is_empty());
        let found = |kernel: &str, name: &str, figure: f64, tolerance: f64| {
            let mut lines = lines.clone();
            let line = lines.iter_mut().find(|line| line.kernel == kernel && line.core == "M4F").unwrap();
            line.figures.iter_mut().find(|(known, _)| known == name).unwrap().1 = figure;
            different(&text, &lines, tolerance, true).len()
        };
        for (kernel, name, within, beyond) in [
            ("fixed_reading", "instructions", 100.0, 101.0),
            ("fixed_reading", "flagged", 100.0, 99.0),
            ("fixed_block", "sixteen", 100.0, 101.0),
            ("fixed_reading", "code", 100.0, 98.0),
            ("fixed_at", "cycles", 103.0, 104.0),
            ("field", "scan", 97.0, 96.0),
        ] {
            assert_eq!(
                (found(kernel, name, within, 0.0), found(kernel, name, beyond, 0.0)),
                (0, 1),
                "{name}"
            );
        }
        // Another compiler.
        assert_eq!(
            (found("fixed_at", "instructions", 110.0, 0.1), found("fixed_at", "instructions", 111.0, 0.1)),
            (0, 1)
        );
        // A row that is not recorded, and one that was not measured.
        assert_eq!(different(&text.replace("| fixed, `at` |", "| fixed |"), &lines, 0.0, true).len(), 1);
        let fewer: Vec<_> = lines.iter().filter(|line| line.kernel != "fixed_at").cloned().collect();
        assert!(shown(&fewer).is_err());
    }
}
