//! The recorded run that README shows, against this one.

use std::fmt::Write;
use std::fs;
use std::path::Path;

use crate::cores::CORES;
use crate::cycles;
use crate::emulator::at;
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

/// Rows of the table of instructions: the words in front, and the kernel.
const ROWS: [(&str, &str); 34] = [
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
    ("fixed, one call, worst flagged", "fixed_reading flagged"),
];

/// Rows of the table of blocks: the words in front, the kernel, the figure.
const BLOCKS: [(&str, &str, &str); 34] = [
    ("fixed, `OperatingPoint`, in place, 256", "fixed_point_in_place", "instructions"),
    ("fixed, `OperatingPoint`, in place, 16", "fixed_point_in_place", "sixteen"),
    ("fixed, `OperatingPoint`, in place, 256, all flagged", "fixed_point_in_place", "flagged"),
    ("fixed, `LinearPoint`, in place, 256", "fixed_point_linear_in_place", "instructions"),
    ("fixed, `LinearPoint`, in place, 16", "fixed_point_linear_in_place", "sixteen"),
    ("fixed, `LinearPoint`, in place, 256, all flagged", "fixed_point_linear_in_place", "flagged"),
    ("fixed, `OperatingPoint`, `readings`, 256", "fixed_point_block", "instructions"),
    ("fixed, `OperatingPoint`, `readings`, 16", "fixed_point_block", "sixteen"),
    ("fixed, `OperatingPoint`, `readings`, 256, all flagged", "fixed_point_block", "flagged"),
    ("fixed, `LinearPoint`, `readings`, 256", "fixed_point_linear_block", "instructions"),
    ("fixed, `LinearPoint`, `readings`, 16", "fixed_point_linear_block", "sixteen"),
    ("fixed, `LinearPoint`, `readings`, 256, all flagged", "fixed_point_linear_block", "flagged"),
    ("fixed, a temperature each, 256", "fixed_block", "instructions"),
    ("fixed, a temperature each, 16", "fixed_block", "sixteen"),
    ("fixed, a temperature each, 256, all flagged", "fixed_block", "flagged"),
    ("fixed, two temperatures each, 256", "fixed_compensated_block", "instructions"),
    ("fixed, two temperatures each, 16", "fixed_compensated_block", "sixteen"),
    ("fixed, two temperatures each, 256, all flagged", "fixed_compensated_block", "flagged"),
    ("`f32`, `OperatingPoint`, 256", "f32_point_block", "instructions"),
    ("`f32`, `OperatingPoint`, 16", "f32_point_block", "sixteen"),
    ("`f32`, `OperatingPoint`, 256, all flagged", "f32_point_block", "flagged"),
    ("`f32`, a temperature each, 256", "f32_block", "instructions"),
    ("`f32`, a temperature each, 16", "f32_block", "sixteen"),
    ("`f32`, a temperature each, 256, all flagged", "f32_block", "flagged"),
    ("`f32`, two temperatures each, 256", "f32_compensated_block", "instructions"),
    ("`f32`, two temperatures each, 16", "f32_compensated_block", "sixteen"),
    ("`f32`, two temperatures each, 256, all flagged", "f32_compensated_block", "flagged"),
    ("naive `f64`, a temperature each, 256", "peer_naive_double_block", "instructions"),
    ("naive `f64`, a temperature each, 16", "peer_naive_double_block", "sixteen"),
    ("naive `f32`, a temperature each, 256", "peer_naive_single_block", "instructions"),
    ("naive `f32`, a temperature each, 16", "peer_naive_single_block", "sixteen"),
    ("table of 64, linear bridge, a temperature each, 256", "peer_table_block", "instructions"),
    ("table of 64, linear bridge, a temperature each, 16", "peer_table_block", "sixteen"),
    ("the newest point of a queue, in place, 256", "corrector_block", "instructions"),
];

/// Rows of the table of bytes: the words in front, the kernel, the figure.
const BYTES: [(&str, &str, &str); 25] = [
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

/// Rows of the table of the logger that is set up on site, which runs on some cores: the words in front, the form, the figure.
const SITE: [(&str, &str, &str); 12] = [
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

/// Where the tables end in the rows of all.
const ROWS_END: usize = ROWS.len();
const BLOCKS_END: usize = ROWS_END + BLOCKS.len();
const CYCLES_END: usize = BLOCKS_END + 2 * cycles::PATHS.len();
const BYTES_END: usize = CYCLES_END + BYTES.len();

/// Words, and a figure for each core.
pub type Row = (String, Vec<Option<f64>>);

/// Rows of the table of cycles: the words in front, the kernel, the figure.
fn cycle_rows() -> impl Iterator<Item = (String, &'static str, &'static str)> {
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

/// The recorded figures of a row, in the order of the cores.
fn row<'a>(text: &'a str, words: &str) -> Option<impl Iterator<Item = Option<f64>> + 'a> {
    let start = format!("| {words} | ");
    let row = text.lines().find_map(|line| line.strip_prefix(&start))?;
    Some(row.trim_end_matches(" |").split(" | ").map(|cell| cell.parse().ok()))
}

/// The rows of all tables, each with its figures.
fn rows(lines: &[Line]) -> Vec<Row> {
    let figures = |kernel: &str, name: &str| {
        let of = |core: &str| lines.iter().find(|line| line.kernel == kernel && line.core == core);
        CORES.iter().map(|core| of(core.name).and_then(|line| line.figure(name))).collect::<Vec<_>>()
    };
    let instructions = ROWS.iter().map(|(words, kernel)| match kernel.split_once(' ') {
        Some((kernel, name)) => ((*words).to_owned(), figures(kernel, name)),
        None => ((*words).to_owned(), figures(kernel, "instructions")),
    });
    let named = |rows: &'static [(&str, &str, &str)]| {
        rows.iter().map(|(words, kernel, name)| ((*words).to_owned(), *kernel, *name))
    };
    let rest = named(&BLOCKS).chain(cycle_rows()).chain(named(&BYTES)).chain(named(&SITE));
    let rest = rest.map(|(words, kernel, name)| (words, figures(kernel, name)));
    instructions.chain(rest).collect()
}

/// Writes the file from a run over all cores.
pub fn write(lines: &[Line], compilers: &[String]) -> Result<(), String> {
    let [compiler, others @ ..] = compilers else { return Err("nothing was built".into()) };
    if let Some(other) = others.iter().find(|other| *other != compiler) {
        return Err(format!("built by {compiler} and by {other}: no record of both"));
    }
    let mut text = format!(
        "# A recorded run on seven cores\n\nCompiler {compiler}, `opt-level = 3`, QEMU. `tests/on-target/run --record` writes this.\n\n\
         Cycles are those of the M0+, M3 and M4 by their manuals, without wait states; of the others they are estimates by the scheduling \
         models of LLVM {}.\n",
        cycles::version()?,
    );
    for (i, (words, figures)) in rows(lines).iter().enumerate() {
        let table = match i {
            0 => Some("instructions a call"),
            ROWS_END => Some("instructions a sample of a block"),
            BLOCKS_END => Some("cycles"),
            CYCLES_END => Some("bytes"),
            BYTES_END => Some("the logger that is set up on site"),
            _ => None,
        };
        if let Some(what) = table {
            text += &format!("\n{}", header(what));
        }
        let everywhere = i < BLOCKS_END || (CYCLES_END..BYTES_END).contains(&i);
        if figures.iter().all(Option::is_none) || everywhere && figures.contains(&None) {
            return Err(format!("not on every core: {words}"));
        }
        let figures: Vec<_> =
            figures.iter().map(|figure| figure.map_or("-".into(), |n| n.to_string())).collect();
        let _ = writeln!(text, "| {words} | {} |", figures.join(" | "));
    }
    fs::write(FILE, text).map_err(at(Path::new(FILE)))
}

fn read() -> Result<String, String> {
    fs::read_to_string(FILE).map_err(at(Path::new(FILE)))
}

/// The recorded rows of cycles, in the order of the cores.
pub fn cycles() -> Result<Vec<Row>, String> {
    let text = read()?;
    let figures = |(words, _, _): (String, _, _)| {
        let row = row(&text, &words).ok_or_else(|| format!("{FILE} has no row {words}"))?.collect();
        Ok((words, row))
    };
    cycle_rows().map(figures).collect()
}

/// How far figures may be from the recorded ones: not at all with the compiler of the record, a tenth with another.
pub fn tolerance(compilers: &[String]) -> Result<f64, String> {
    let text = read()?;
    let same = compilers.iter().all(|compiler| text.contains(&format!("Compiler {compiler},")));
    Ok(if same { 0.0 } else { OTHER_COMPILER })
}

/// What differs from the recorded run.
pub fn compare(lines: &[Line], tolerance: f64) -> Result<Vec<String>, String> {
    let text = read()?;
    let same_models = text.contains(&format!("LLVM {}.", cycles::version()?));
    let mut different = Vec::new();
    for (i, (words, figures)) in rows(lines).into_iter().enumerate() {
        let tolerance = match i {
            BYTES_END.. => tolerance.max(BY_TIMER),
            BLOCKS_END..CYCLES_END if !same_models => tolerance.max(OTHER_COMPILER),
            BLOCKS_END..CYCLES_END => tolerance.max(BY_ORDER),
            _ => tolerance,
        };
        let Some(then) = row(&text, &words) else {
            different.push(format!("{FILE} has no row {words}"));
            continue;
        };
        for ((now, then), core) in figures.into_iter().zip(then).zip(&CORES) {
            // A core that was not run has nothing to compare.
            let Some(now) = now else { continue };
            let one_cycle = if (BLOCKS_END..CYCLES_END).contains(&i) { 1.0 } else { 0.0 };
            if then.is_none_or(|then| (now - then).abs() > (tolerance * then).max(one_cycle)) {
                different.push(format!("{words} on {}: {now}, recorded {then:?}", core.name));
            }
        }
    }
    Ok(different)
}
