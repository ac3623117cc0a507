//! The main job, run as a program: the demo flight, and a user's own files with things wrong in them.

use crate::run::{Run, header, run_in, words};
use gaugewright::Converter;
use gaugewright::ffi::{LayoutCompatible, gw_resistance_thermometer, gw_thermocouple};
use gaugewright::temperature::{
    Platinum, ResistanceThermometer, SensorLeads, Thermistor, Thermocouple, ThermocoupleInput,
};
use gaugewright::units::{Celsius, Kelvin, Millivolts, Ohms, Ratio};
use std::collections::HashMap;
use std::process::Stdio;
use support::program::{fresh, number, numbers, program};

/// The output from a channel's heading on: the first line with a label is that channel's.
fn part<'a>(output: &'a str, channel: &str) -> &'a str {
    let start = output.find(&format!("\n{channel}\n")).unwrap_or_else(|| panic!("nothing of {channel}"));
    &output[start + 1..]
}

#[test]
fn the_demo_flight_comes_out_as_the_true_strain() {
    let demo = crate::run::run("replay", "demo", &[], &["--out", "."]).gives(0);
    let said = &demo.output;
    // What is left after full correction: the products that the model leaves out, noise and the
    // thermometer's steps. The true strain comes from a simulation that shares nothing with the library.
    for (channel, uncorrected, corrected) in [
        ("strut_north", 500.0, 2.0),
        ("strut_south", 500.0, 3.0),
        ("fitting_crown", 500.0, 2.0),
        ("fitting_keel", 500.0, 2.0),
        ("valve_body", 100.0, 0.2),
        ("strut_spare", 50.0, 4.0),
        ("boom_root", 5.0, 2.0),
        ("tie_rod", 3.0, 1.0),
    ] {
        let part = part(said, channel);
        // The figures of a line: when it was worst, the worst, the root mean square.
        let figure = |label, which: usize| numbers(part, label)[which];
        let (worst, rms) = (1, 2);
        assert!(figure("no correction", worst) > uncorrected, "{channel}");
        assert!(figure("full correction", worst) < corrected, "{channel}");
        assert!(figure("full correction", rms) < 0.6, "{channel}");
        for which in [worst, rms] {
            let none = figure("no correction", which);
            let full = figure("full correction", which);
            assert!(none > full, "{channel}: {none} {full}");
            // Where it cancels in the bridge it must not be subtracted.
            if !part.lines().nth(2).unwrap().contains("cancels") {
                let subtracted = figure("thermal output subtracted", which);
                assert!(none > subtracted && subtracted > full, "{channel}: {none} {subtracted} {full}");
            }
        }
        assert!(numbers(part, "error seen")[0] <= numbers(part, "error bound")[0], "{channel}");
    }
    // The faults of the flight, and nothing else.
    let flags = |channel: &str, label: &str| *numbers(part(said, channel), label).last().unwrap();
    assert_eq!(flags("strut_south", "code at rail"), 20.0);
    assert!((300.0..340.0).contains(&flags("valve_body", "temperature outside")));
    assert_eq!(flags("strut_north", "strain outside"), 0.0);
    raw_sensors_are_in_the_summary(said);
    uncertainties_are_in_the_summary(said);
    assert_eq!(flags("strut_north", "code at rail"), 0.0);
    // What README shows of it: three rows below their heads, all of one channel.
    let readme = support::document("README.md");
    let shown = readme.split("```text\n").nth(1).unwrap().split("```").next().unwrap();
    assert_eq!(shown.lines().count(), 4);
    assert!(part(said, "strut_north").contains(shown), "README shows, and replay does not say:\n{shown}");

    let corrected = demo.file("corrected.csv");
    assert_eq!(rows(&corrected).len(), 52_001);
    let picture = demo.file("replay.svg");
    for words in [
        "strut_north",
        "valve_body",
        "microstrain",
        "gauge temperature, C",
        "thermal output",
        "temperature",
        "95 %",
        "expanded uncertainty",
    ] {
        assert!(picture.contains(words), "the picture does not say {words}");
    }
    assert!(picture.len() < 2_000_000);
    let exact = demo.file("numbers.txt");
    exact_figures_agree(&exact, &corrected);

    // Again, from the data made before: the same, but for the time it took.
    let again = run_in(&demo.folder, "replay", &["--out", "."]);
    let before_timing = |said: &str| said.split("\ntiming").next().unwrap().to_owned();
    assert_eq!(before_timing(&again.output), before_timing(said));
    assert_eq!(again.file("numbers.txt"), exact);
}

/// Two of the demo's temperatures come from raw readings, and these two say how far they may be off.
fn raw_sensors_are_in_the_summary(said: &str) {
    for (channel, sensor, (fixed, a_degree), slopes) in [
        // The curves' slopes at the ends, in microstrain a degree, by hand from the packages' polynomials and gauge factors.
        ("strut_south", "platinum of 100 ohm, three leads, from ohms", (0.15, 0.002), [13.9, -1.6]),
        ("valve_body", "thermocouple of type K, from millivolts", (1.5, 0.0), [1.8, -0.8]),
    ] {
        let part = part(said, channel).split("difference from the true strain").next().unwrap();
        assert!(part.contains(&format!("\n  sensor         {sensor}\n")), "{part}");
        let part = &part[part.find("error of the temperature").unwrap()..];
        for (label, slope) in ["coldest", "hottest"].into_iter().zip(slopes) {
            let [_, celsius, off, thermal_output, strain, microstrain] = numbers(part, label)[..] else {
                panic!("{part}");
            };
            assert!((off - fixed - a_degree * celsius.abs()).abs() < 0.006, "{part}");
            assert!((thermal_output - slope).abs() < 0.06, "{part}");
            // What is subtracted falls on the strain the other way round, a little changed by the gauge factor.
            assert!((strain / -thermal_output - 1.0).abs() < 0.15, "{part}");
            assert!((microstrain - (off * strain).abs()).abs() < 0.006 * strain.abs() + 0.006, "{part}");
        }
        assert_eq!(numbers(part, "steepest"), numbers(part, "coldest"));
    }
    assert_eq!(said.matches("error of the temperature").count(), 2);
    assert_eq!(said.matches("\n  sensor ").count(), 2);
}

/// Two channels state uncertainties. The flight is better than they say: the truth is always within the band.
fn uncertainties_are_in_the_summary(said: &str) {
    assert_eq!(said.matches("\n  uncertainty of mechanical strain (GUM, first order)\n").count(), 2);
    for (channel, not_stated, clear) in [("strut_north", 3, "52000 of 52000"), ("valve_body", 10, "")] {
        let part = part(said, channel).split("difference from the true strain").next().unwrap();
        assert_eq!(part.matches(" not stated: taken as exact\n").count(), not_stated, "{part}");
        assert!(part.contains(&format!("  true strain within it     {clear}")), "{part}");
        assert!(part.contains(" samples: 100.0 %\n"), "{part}");
    }
    let budget = |channel| part(said, channel).split("uncertainty of mechanical strain").nth(1).unwrap();
    // The shock, by hand: half a percent of 3435 microstrain, with 50 degrees of freedom, is most of it.
    let [in_percent, degrees, microstrain, share] = numbers(budget("strut_north"), "gauge factor  ")[..]
    else {
        panic!("{}", budget("strut_north"))
    };
    assert!((in_percent, degrees) == (0.5, 50.0) && (microstrain - 17.18).abs() < 0.01 && share > 96.0);
    // 1.5 C either way is 0.866 C as a standard uncertainty.
    assert_eq!(numbers(budget("valve_body"), "temperature  ")[0], 0.866);
}

/// The lines of `numbers.txt` of the demo among themselves and against `corrected.csv`.
fn exact_figures_agree(exact: &str, corrected: &str) {
    const MICROSTRAIN_PER_STEP: f64 = 1e6 / 17_179_869_184.0;
    // Four decimals stand in corrected.csv.
    const ROUNDED: f64 = 0.000_05 + 1e-9;
    // A temperature up to four rows old. Seen: 0.76, where the keel's largest strain falls on a thermal output that is
    // 0.13 C late and changes by 5.6 microstrain a degree; in the mean 0.002, of valve_body, whose fault warms fast.
    const STALE: (f64, f64) = (1.0, 0.005);
    // Seen: 0.0003 and 0.00007. Neighbouring numbers of f32 are 0.0002 apart at 3400 microstrain.
    const SINGLE: (f64, f64) = (0.001, 0.000_2);

    let mut rows = corrected.lines().filter(|line| !line.starts_with('#')).map(|line| line.split(','));
    let names: Vec<&str> = rows.next().unwrap().collect();
    let rows: Vec<Vec<&str>> = rows.map(Iterator::collect).collect();
    let mut lines = exact.lines();
    for channel in [
        "strut_north",
        "strut_south",
        "fitting_crown",
        "fitting_keel",
        "valve_body",
        "strut_spare",
        "boom_root",
        "tie_rod",
    ] {
        let paths = ["fixed", "fixed-point", "f32", "f32-point"].map(|path| {
            let line = lines.next().unwrap_or_else(|| panic!("no line of {channel} {path}"));
            let parts = line.strip_prefix(&format!("numbers {channel} {path} "));
            let parts = parts.unwrap_or_else(|| panic!("not of {channel} {path}: {line}"));
            parts.split(' ').map(|part| part.split_once('=').unwrap()).collect::<HashMap<_, _>>()
        });
        let figure = |path: usize, name: &str| paths[path][name].parse::<f64>().unwrap();
        let strain = |path, name| figure(path, name) * MICROSTRAIN_PER_STEP;
        let mean = |path| strain(path, "sum") / figure(path, "clear");
        for path in 0..4 {
            assert_eq!(figure(path, "samples"), 52_000.0);
            assert_eq!(figure(path, "rail"), if channel == "strut_south" { 20.0 } else { 0.0 });
            assert_eq!(figure(path, "strain"), 0.0);
            let flagged = figure(path, "temperature") + figure(path, "rail");
            assert_eq!(figure(path, "clear"), 52_000.0 - flagged, "{channel}");
            assert_eq!(figure(path, "temperature") > 300.0, channel == "valve_body");
        }

        let column = |what: &str| {
            let name = format!("{channel}_{what}");
            names.iter().position(|other| *other == name).unwrap()
        };
        let (value, flags) = (column("mechanical_microstrain"), column("flags"));
        let clear: Vec<f64> =
            rows.iter().filter(|row| row[flags].is_empty()).map(|row| row[value].parse().unwrap()).collect();
        assert_eq!(figure(0, "clear"), clear.len() as f64);
        for (found, expected) in [
            (strain(0, "least"), clear.iter().copied().fold(f64::INFINITY, f64::min)),
            (strain(0, "greatest"), clear.iter().copied().fold(f64::NEG_INFINITY, f64::max)),
            (mean(0), clear.iter().sum::<f64>() / clear.len() as f64),
        ] {
            assert!((found - expected).abs() < ROUNDED, "{channel}: {found} {expected}");
        }

        for (one, other, (extremes, means)) in [(0, 1, STALE), (0, 2, SINGLE), (1, 3, SINGLE)] {
            for name in ["least", "greatest"] {
                let apart = (strain(one, name) - strain(other, name)).abs();
                assert!(apart < extremes, "{channel}: {name} of {one} and {other}: {apart}");
            }
            let apart = (mean(one) - mean(other)).abs();
            assert!(apart < means, "{channel}: mean of {one} and {other}: {apart}");
            assert_ne!(paths[one]["hash"], paths[other]["hash"], "{channel}");
        }
    }
    assert_eq!(lines.next(), None);
}

const CHANNELS: &str = r#"
time_column = "t"

[[channel]]
name = "bracket"
code_column = "code"
temperature_column = "warm"
temperature_unit = "F"
strain_within_microstrain = 3000

[channel.gauge]
gauge_factor = 2.085
gauge_factor_slope_percent_per_100_c = 0.94

[channel.gauge.thermal_output]
unit = "C"
coefficients = [-43.2121, 3.16913, -0.0628625, 0.000248734, -1.69725e-7]
fitted_between = [-200, 300]

[channel.bridge]
wiring = "quarter three-wire"
gauge_ohm = 350
lead_ohm = 1.2

[channel.converter]
bits = 24
full_scale_millivolts_per_volt = 7.8125
"#;

const ARGUMENTS: [&str; 4] = ["channels.toml", "samples.csv", "--out", "results"];
const CORRECTED: &str = "results/corrected.csv";

fn run(name: &str, channels: &str, samples: impl AsRef<[u8]>) -> Run {
    let folder = fresh(name);
    std::fs::write(folder.join("channels.toml"), channels).unwrap();
    std::fs::write(folder.join("samples.csv"), samples).unwrap();
    run_in(&folder, "replay", &ARGUMENTS)
}

/// The lines of a file but for comments, the header first.
fn rows(text: &str) -> Vec<&str> {
    text.lines().filter(|line| !line.starts_with('#')).collect()
}

/// The numbers of a row.
fn cells(text: &str, row: usize) -> Vec<f64> {
    rows(text)[1 + row].split(',').filter_map(|cell| cell.parse().ok()).collect()
}

#[test]
fn files_of_ones_own() {
    let own = run("own", CHANNELS, "t,code,warm\n0,0,75.2\n1,100000,75.2\n2,-100000,212\n").gives(0);
    let corrected = own.file(CORRECTED);
    assert_eq!(rows(&corrected).len(), 4);
    // 100 000 codes at the reference temperature: 4 r / (1 - 2 r) (1 + 1.2/350) / 2.085, by hand.
    let r: f64 = 100_000.0 / 8_388_608.0 / 128.0;
    let expected = 4.0 * r / (1.0 - 2.0 * r) * (1.0 + 1.2 / 350.0) / 2.085 * 1e6;
    assert!(cells(&corrected, 1).iter().any(|cell| (cell - expected).abs() < 0.1), "{expected}\n{corrected}");

    // Its curve is zero at 24 C; read as Fahrenheit, it is not, which is noted.
    assert!(!own.output.contains("  note "));
    let wrong = CHANNELS.replace("unit = \"C\"", "unit = \"F\"");
    let said = run("wrong unit", &wrong, "t,code,warm\n0,0,75.2\n").output;
    assert!(said.contains("\n  note           thermal output is "), "{said}");
    assert!(said.contains("with coefficients in Celsius it would be "), "{said}");

    // A span that a shunt calibration found: one percent more strain, but for the bridge's curvature.
    let spanned = CHANNELS.replace("bits = 24", "bits = 24\nspan_correction = 1.01");
    let corrected = run("span", &spanned, "t,code,warm\n0,0,75.2\n1,100000,75.2\n").gives(0).file(CORRECTED);
    let is_more = |cell: &f64| (cell / expected - 1.01).abs() < 1e-4;
    assert!(cells(&corrected, 1).iter().any(is_more), "{expected} times 1.01\n{corrected}");
    // Half of it again would be a fault of the wiring.
    let wrong = CHANNELS.replace("bits = 24", "bits = 24\nspan_correction = 1.5");
    let errors = run("wrong span", &wrong, "t,code,warm\n0,0,75.2\n").errors;
    assert!(errors.contains("span correction is 1.5, allowed: 0.8 to 1.25"), "{errors}");
}

#[test]
fn bad_rows_are_named_counted_and_kept() {
    let samples = "t,code,warm\n0,10,75\n1,ten,75\n2,20,hot\n3,99999999999,75\n4,30\n5,40,80\n";
    let run = run("bad rows", CHANNELS, samples).gives(3);
    let said = &run.errors;
    for line in [3, 4, 5, 6] {
        assert!(said.contains(&format!("samples.csv:{line}:")), "nothing of line {line} in\n{said}");
    }
    assert_eq!(rows(&run.file(CORRECTED)).len(), 7);
    assert_eq!(run.file("results/rejected.csv").lines().count(), 5);
    let exact = run.file("results/numbers.txt");
    assert_eq!(exact.lines().filter(|line| line.contains(" samples=2 ")).count(), 4, "{exact}");
}

/// A channel without one clear sample is no success, although nothing was rejected: the curve ends at 572 F.
#[test]
fn a_channel_or_rosette_without_a_clear_sample_is_named() {
    let second = CHANNELS.split_once("[[channel]]").unwrap().1;
    let second = second.replace("\"bracket\"", "\"hot one\"").replace("\"warm\"", "\"hot\"");
    let two = format!("{CHANNELS}[[channel]]{second}");
    let clear = "t,code,warm,hot\n0,0,75.2,75.2\n1,10,75.2,900\n";
    let said = run("one of two clear", &two, clear).gives(0).output;
    assert!(!said.contains("no sample without a flag"), "{said}");

    let flagged = "t,code,warm,hot\n0,0,75.2,900\n1,10,75.2,901\n";
    let none = run("none of one clear", &two, flagged).gives(3);
    assert_eq!(none.errors, "samples.csv: \"hot one\" has no sample without a flag\n");
    assert!(none.output.contains("\n               no sample without a flag: hot one\n"), "{}", none.output);
    assert!(none.has(CORRECTED));

    // Each channel has a clear sample, but not at one time.
    let pair = format!(
        "{two}[[rosette]]\nname = \"cross\"\nchannels = [\"bracket\", \"hot one\"]\nangles_degrees = [0, 90]\n"
    );
    let samples = "t,code,warm,hot\n0,0,75.2,900\n1,10,900,75.2\n";
    let told = run("rosette without a clear row", &pair, samples).gives(3).errors;
    assert_eq!(told, "samples.csv: \"cross\" has no sample without a flag\n");
}

/// Rows of a good file: time, code, temperature.
fn good(rows: usize) -> Vec<String> {
    (0..rows).map(|row| format!("{row},{},75.2", 10 * row)).collect()
}

fn file(rows: &[String]) -> String {
    format!("t,code,warm\n{}\n", rows.join("\n"))
}

/// What is absurd among good rows costs itself and nothing else: a time far ahead or far back, a clock set back, a time twice, a
/// stray quote.
#[test]
fn one_bad_row_costs_itself() {
    for (name, line, row, rejected) in [
        ("ahead", 20, "1e9,180,75.2", 1),
        ("back", 20, "-1e9,180,75.2", 1),
        ("twice", 20, "17,180,75.2", 1),
        ("quote", 20, "18,\"180,75.2", 1),
        ("quote at the end", 20, "18,180,75.2\"", 1),
        // As many of the one run as of the other: the first stays.
        ("set back", 500, "0,0,75.2\n1,1,75.2\n2,2,75.2", 3),
    ] {
        let mut rows = good(1000);
        rows[line - 2] = row.to_string();
        let run = run(&format!("bad row {name}"), CHANNELS, file(&rows)).gives(3);
        assert!(run.errors.contains(&format!("samples.csv:{line}:")), "{name}: {}", run.errors);
        let list = run.file("results/rejected.csv");
        assert_eq!(list.lines().count(), 1 + rejected, "{name}: {list}");
    }
    // The first of all, before which nothing rises.
    let mut rows = good(1000);
    rows[0] = "5e8,0,75.2".to_string();
    let said = run("bad first row", CHANNELS, file(&rows)).errors;
    assert!(said.contains("samples.csv:2: t: out of order"), "{said}");
}

/// A file of another form is told once, with what is expected, and nothing is written.
#[test]
fn files_of_another_form_are_told_once() {
    let utf_16 = |text: &str, mark: bool| {
        let mark = mark.then_some(0xfeff);
        mark.into_iter().chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect::<Vec<u8>>()
    };
    let plain = file(&good(100));
    for (name, bytes, expected) in [
        ("semicolons", plain.replace(',', ";").into_bytes(), "separated by semicolons; expected: commas"),
        ("tabs", plain.replace(',', "\t").into_bytes(), "separated by tabs; expected: commas"),
        (
            "decimal commas",
            plain.replace(",75.2", ",\"75,2\"").into_bytes(),
            "decimal commas; expected: decimal points",
        ),
        (
            "bare commas",
            plain.replace("75.2", "75,2").into_bytes(),
            "decimal commas; expected: decimal points",
        ),
        ("utf16", utf_16(&plain, true), "looks like UTF-16; expected: UTF-8"),
        ("utf16 without a mark", utf_16(&plain, false), "looks like UTF-16; expected: UTF-8"),
        (
            "dates",
            plain.replace("\n0,", "\n2031-05-06T07:08:09Z,").into_bytes(),
            "dates (\"2031-05-06T07:08:09Z\"); expected: a number that rises",
        ),
        ("headless", plain.replace("t,code,warm\n", "").into_bytes(), "no header"),
        (
            "channels",
            CHANNELS.as_bytes().to_vec(),
            "looks like a channel file (TOML); expected: the channel file first",
        ),
        ("no rows", b"t,code,warm\n# none yet\n".to_vec(), "there are no rows of samples in it"),
        ("all bad", file(&good(100)).replace("75.2", "warm").into_bytes(), "no row of it can be used"),
    ] {
        let folder = fresh(&format!("form {name}"));
        std::fs::create_dir_all(folder.join("results")).unwrap();
        std::fs::write(folder.join(CORRECTED), "of an earlier run").unwrap();
        std::fs::write(folder.join("channels.toml"), CHANNELS).unwrap();
        std::fs::write(folder.join("samples.csv"), bytes).unwrap();
        let run = run_in(&folder, "replay", &ARGUMENTS).gives(1);
        let said = &run.errors;
        assert!(said.contains(expected) && said.lines().count() < 6, "{name}: {said}");
        // What was there is as it was, and nothing is beside it.
        let left = std::fs::read_dir(folder.join("results")).unwrap();
        let left: Vec<_> = left.map(|entry| entry.unwrap().file_name()).collect();
        assert_eq!(left, ["corrected.csv"], "{name}");
        assert_eq!(run.file(CORRECTED), "of an earlier run", "{name}");
    }
    // What does no harm is taken.
    for (name, text_of) in [("mark", format!("\u{feff}{plain}")), ("returns", plain.replace('\n', "\r\n"))] {
        run(&format!("form {name}"), CHANNELS, text_of).gives(0);
    }
}

/// A long CSV in the place of the channel file is told at once.
#[test]
fn files_in_the_wrong_order_are_told_at_once() {
    let start = std::time::Instant::now();
    let said = run("exchanged", &file(&good(100_000)), CHANNELS).gives(1).errors;
    let expected = "channels.toml: it looks like samples (CSV); expected: the channel file first";
    assert!(said.contains(expected), "{said}");
    // Any other long file, and one with much wrong in it.
    let said = run("long", &"x = 1\n".repeat(300_000), CHANNELS).errors;
    assert!(said.contains("too long for a channel file"), "{said}");
    let much = format!("a = 1\n{}", "= = =\n".repeat(3_000));
    let said = run("much", &much, file(&good(3))).gives(1).errors;
    assert!(said.lines().count() <= 6 && said.contains(" more"), "{said}");
    assert!(start.elapsed().as_secs() < 20);
}

/// A record is read twice, which a pipe cannot be.
#[cfg(unix)]
#[test]
fn samples_from_a_pipe_are_refused() {
    let directory = fresh("pipe");
    std::fs::write(directory.join("channels.toml"), CHANNELS).unwrap();
    let arguments = ["channels.toml", "/dev/stdin", "--out", "results"];
    let mut replay = program("replay");
    replay.current_dir(&directory).args(arguments).stdin(Stdio::piped());
    let output = replay.output().unwrap();
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("/dev/stdin: it is no file on a disk, and samples are read twice"), "{said}");
    assert_eq!(std::fs::read_dir(directory.join("results")).unwrap().count(), 0);
}

/// The most memory in kilobytes that a record of so many rows takes, every hundredth of which is set back.
#[cfg(target_os = "linux")]
fn most_memory(rows: usize) -> u64 {
    let directory = fresh(&format!("memory {rows}"));
    let mut record = good(rows);
    (7..rows).step_by(100).for_each(|row| record[row] = record[row - 5].clone());
    // With a column that is not used, so that a block has few rows.
    let record = format!("t,code,warm,note\n{}", record.join(&format!(",{}\n", "-".repeat(60))));
    std::fs::write(directory.join("channels.toml"), CHANNELS).unwrap();
    std::fs::write(directory.join("samples.csv"), record + ",\n").unwrap();
    let mut running = program("replay")
        .current_dir(&directory)
        .args(ARGUMENTS)
        // Of glibc: without, each thread takes from the system for itself, now more and now less.
        .env("MALLOC_ARENA_MAX", "1")
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let status = format!("/proc/{}/status", running.id());
    let mut most = 0;
    while running.try_wait().unwrap().is_none() {
        let status = std::fs::read_to_string(&status).unwrap_or_default();
        let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
        let now = line.and_then(|line| line.trim().trim_end_matches(" kB").parse::<u64>().ok());
        most = most.max(now.unwrap_or(0));
        std::thread::sleep(std::time::Duration::from_millis(1));
    }
    assert!(directory.join("results/corrected.csv").exists());
    std::fs::remove_dir_all(directory).unwrap();
    most
}

/// What a record takes beyond a few blocks must not grow with it. Eight bytes kept of each row would be 2400 kilobytes more here; seen
/// from run to run: 600.
#[cfg(target_os = "linux")]
#[test]
fn memory_does_not_grow_with_the_record() {
    let (short, long) = (most_memory(100_000), most_memory(400_000));
    assert!(short > 2_000, "{short} kilobytes");
    assert!(long < short + 1_200, "{short} kilobytes, of four times the rows {long}");
}

/// An interrupted run leaves the files of the one before as they were, and the next cleans up.
#[test]
fn what_is_unfinished_is_not_under_the_files_names() {
    let run = run("whole", CHANNELS, file(&good(100))).gives(0);
    let whole = run.file(CORRECTED);
    std::fs::write(run.folder.join("samples.csv"), file(&good(400_000))).unwrap();
    let mut replay = program("replay");
    let mut running = replay.current_dir(&run.folder).args(ARGUMENTS).stdout(Stdio::null()).spawn().unwrap();
    let unfinished = run.folder.join("results/unfinished/corrected.csv");
    while !std::fs::metadata(&unfinished).is_ok_and(|file| file.len() > 100_000) {
        assert!(running.try_wait().unwrap().is_none(), "it was done before it could be interrupted");
        std::thread::yield_now();
    }
    running.kill().unwrap();
    running.wait().unwrap();
    assert_eq!(run.file(CORRECTED), whole);
    std::fs::write(run.folder.join("samples.csv"), file(&good(50))).unwrap();
    let run = run_in(&run.folder, "replay", &ARGUMENTS).gives(0).without("results/unfinished");
    assert_ne!(run.file(CORRECTED), whole);
}

/// The channel of this file with a thermocouple in place of its thermometer.
#[test]
fn a_sensor_of_ones_own() {
    let sensor = "[channel.sensor]\nkind = \"thermocouple\"\nmillivolt_column = \"mv\"\n\
                  thermocouple_type = \"T\"\ncold_junction_column = \"box\"\n";
    let channels = CHANNELS.replace("temperature_column = \"warm\"\n", "") + sensor;
    // The box in Fahrenheit, as the channel says: 32 is 0 C. The NIST ITS-90 table of type T has 1.033 mV at 26 C.
    let samples = "t,code,mv,box\n0,0,1.033,32\n1,0,0,78.8\n2,0,999,32\n3,0,open,32\n4,0,0,9999\n";
    let run_of_sensor = run("sensor", &channels, samples).gives(3);
    let said = &run_of_sensor.errors;
    for words in [
        "samples.csv:4: mv: thermocouple EMF (mV) is 999, allowed: -6.2575",
        "samples.csv:5: mv: not a number: \"open\"",
        "samples.csv:6: box: cold junction temperature (C) is 5537.2",
    ] {
        assert!(said.contains(words), "{words:?} is not in\n{said}");
    }
    let corrected = run_of_sensor.file(CORRECTED);
    let rows: Vec<Vec<&str>> = corrected.lines().skip(1).map(|line| line.split(',').collect()).collect();
    for row in &rows[..2] {
        assert!((row[1].parse::<f64>().unwrap() - 26.0).abs() < 0.02, "{row:?}");
    }
    // The reason has a comma of its own.
    assert!(rows[2][5].starts_with("\"rejected: thermocouple EMF"), "{:?}", rows[2]);

    let said = run("two thermometers", &(CHANNELS.to_owned() + sensor), samples).gives(1).errors;
    assert!(said.contains("temperature_column and [channel.sensor] exclude each other"), "{said}");
}

/// Sensors that are read as codes are constants of C, the library's own; others are left out with the reason.
#[test]
fn thermometers_as_constants_of_c() {
    let converter = Converter::bipolar(24, Ratio(0.5));
    let platinum = ResistanceThermometer::platinum(Platinum::iec60751(Ohms(100.0)), converter, Ohms(400.0))
        .leads(SensorLeads::TwoWire { there: Ohms(0.8), back: Ohms(0.8) })
        .between(Celsius(-30.0), Celsius(100.0));
    let beta = Thermistor::beta(Ohms(10_000.0), Celsius(25.0), Kelvin(3950.0));
    let thermistor =
        ResistanceThermometer::thermistor(beta, Converter::bipolar(24, Ratio(1.0)), Ohms(10_000.0))
            .in_divider()
            .between(Celsius(-30.0), Celsius(100.0));
    let couple =
        ThermocoupleInput::new(Thermocouple::T, Converter::bipolar(20, Ratio(1.0)), Millivolts(78.125))
            .between(Celsius(-30.0), Celsius(100.0))
            .cold_junction(Celsius(-40.0), Celsius(95.0));
    let header_of = |name: &str, sensor: &str| {
        let channels = CHANNELS
            .replace("temperature_column = \"warm\"\n", "temperature_within_c = [-30, 100]\n")
            + "[channel.sensor]\n"
            + sensor;
        let (run, written) = header(&format!("thermometer {name}"), &channels);
        run.gives(0);
        written
    };
    let ohms = "code_column = \"w\"\nnominal_ohm = 100\nleads = \"two\"\nlead_ohm = 0.8\n\
                converter = { bits = 24, full_scale_ratio = 0.5, reference_ohm = 400 }\n";
    let beads = "code_column = \"w\"\nnominal_ohm = 10000\nbeta_kelvin = 3950\n\
                 converter = { bits = 24, full_scale_ratio = 1, reference_ohm = 10000, divider = true }\n";
    let millivolts = "code_column = \"w\"\nthermocouple_type = \"T\"\ncold_junction_c = 95\n\
                      converter = { bits = 20, full_scale_millivolts = 78.125 }\n";
    let (platinum, thermistor, couple) =
        (platinum.fixed(), thermistor.fixed(), couple.try_fixed::<64, 4>().unwrap());
    let resistance = "gw_resistance_thermometer thermometer_bracket";
    for (name, sensor, constant, expected, bound) in [
        (
            "platinum",
            ohms,
            resistance,
            gw_resistance_thermometer::of(platinum).words.to_vec(),
            platinum.error_bound(),
        ),
        (
            "thermistor",
            beads,
            resistance,
            gw_resistance_thermometer::of(thermistor).words.to_vec(),
            thermistor.error_bound(),
        ),
        (
            "thermocouple",
            millivolts,
            "gw_thermocouple thermometer_bracket",
            gw_thermocouple::of(couple).words.to_vec(),
            couple.error_bound(),
        ),
    ] {
        let written = header_of(name, &format!("kind = {name:?}\n{sensor}"));
        assert_eq!(words(&written, constant), expected, "{name}");
        assert!(written.contains("static const gw_seal thermometer_bracket_seal = {1u, 0x"), "{written}");
        assert!(written.contains(", from codes, for -30 to 100 C, "), "{written}");
        let stated = written.split_once("its arithmetic: ").unwrap().1.split(' ').next().unwrap();
        let above = stated.parse::<f64>().unwrap() - bound.0;
        assert!((0.0..2e-6).contains(&above), "{name}: {stated} of {bound:?}");
    }
    for (name, sensor, why) in [
        (
            "ohms",
            "kind = \"platinum\"\nohm_column = \"w\"\nnominal_ohm = 100\nleads = \"four\"\n",
            "as its sensor is not read as codes",
        ),
        (
            "measured pair",
            &format!(
                "kind = \"platinum\"\n{}",
                ohms.replace("\"two\"\nlead_ohm = 0.8", "\"three\"\npair_column = \"p\"")
            ),
            "as its pair of leads is measured with each reading: state pair_ohm",
        ),
        (
            "thermistor in series",
            &format!("kind = \"thermistor\"\n{}", beads.replace("10000, divider = true", "5e5")),
            "the thermometer's error bound is 6.31",
        ),
        (
            "small full scale",
            &format!("kind = \"platinum\"\n{}", ohms.replace("reference_ohm = 400", "reference_ohm = 200")),
            "code at the upper end of the thermometer's range is ",
        ),
    ] {
        let written = header_of(name, sensor);
        let (_, left_out) = written.split_once("\n// Thermometer: left out, ").unwrap();
        assert!(left_out.lines().next().unwrap().contains(why), "{left_out}");
        assert!(written.contains("kernel_bracket = {") && !written.contains("thermometer_bracket"));
    }
}

#[test]
fn bad_channel_files_say_what_is_wrong() {
    for (name, change, to, expected) in [
        ("lead", "lead_ohm = 1.2", "lead_ohm = -1.2", "lead resistance (ohm) is -1.2, allowed: 0 to 350"),
        (
            "three temperatures",
            "strain_within_microstrain = 3000",
            "strain_within_microstrain = 3000\ntemperature_within_c = [-50, 90, 100]",
            "invalid length 3, expected 2 numbers",
        ),
        (
            "one end",
            "fitted_between = [-200, 300]",
            "fitted_between = [-200]",
            "invalid length 1, expected 2 numbers",
        ),
        (
            "ratio of strains",
            "strain_within_microstrain = 3000",
            "strain_within_microstrain = 3000\nstrain_ratio = 1.0",
            "strain_ratio needs transverse_sensitivity_percent of [channel.gauge]",
        ),
        ("bits", "bits = 24", "bits = 99", "converter bits is 99, allowed: 8 to 32"),
        ("key", "gauge_ohm", "gauge_ohms", "gauge_ohms"),
        ("type", "lead_ohm = 1.2", "lead_ohm = \"long\"", "lead_ohm"),
        ("column", "\"code\"", "\"codes\"", "codes"),
    ] {
        let said = run(name, &CHANNELS.replace(change, to), "t,code,warm\n0,0,75\n").gives(1).errors;
        assert!(said.contains(expected), "{name}: {expected:?} is not in\n{said}");
    }
    // The gauge across would be taken for one that the strain along it does nothing to.
    let across = CHANNELS
        .replace("quarter three-wire", "half axial and transverse")
        .replace("gauge_ohm", "poisson_ratio = 0.3\ngauge_ohm")
        .replace("gauge_factor = ", "transverse_sensitivity_percent = 1\ngauge_factor = ");
    let said = run("gauge across", &across, "t,code,warm\n0,0,75\n").gives(1).errors;
    let expected = "needs strain_ratio where a gauge lies across the load: minus poisson_ratio";
    assert!(said.contains(expected), "{said}");
    let stated = across.replace("temperature_unit", "strain_ratio = -0.3\ntemperature_unit");
    run("gauge across, stated", &stated, "t,code,warm\n0,0,75\n").gives(0);
}

#[test]
fn kernels_as_constants_of_c() {
    const HEADER: &str = "my kernels.h";
    let folder = fresh("constants of C");
    let replay = |arguments: &[&str]| run_in(&folder, "replay", arguments);
    std::fs::write(folder.join("samples.csv"), "t,code,warm\n0,0,75.2\n").unwrap();
    let header = |channels: &str| {
        std::fs::write(folder.join("channels.toml"), channels).unwrap();
        let run = replay(&[&ARGUMENTS[..], &["--c-header", HEADER]].concat());
        let written = std::fs::read_to_string(folder.join(HEADER)).unwrap_or_default();
        let _ = std::fs::remove_file(folder.join(HEADER));
        (run.code, run.errors, written)
    };
    let (status, said, written) = header(CHANNELS);
    assert_eq!(status, Some(0), "{said}");
    // What tests/c/run compiles and checks; here that it says what it is.
    for words in [
        "#ifndef GW_MY_KERNELS_H\n",
        "//   strain_within_microstrain = 3000\n",
        "static const gw_kernel kernel_bracket = {{\n",
        "static const gw_seal kernel_bracket_seal = {1u, 0x",
        "static const gw_float_kernel float_kernel_bracket = {{\n",
        "// Largest error in single precision, proven: ",
        "and -200 to 300 C.\n",
        "static const uint64_t description_bracket = 0x",
    ] {
        assert!(written.contains(words), "{words:?} is not in\n{written}");
    }
    let bound = written.split_once("proven: ").unwrap().1.split(' ').next().unwrap();
    assert!((0.2..0.5).contains(&bound.parse::<f64>().unwrap()));
    // The report names the same description.
    let hash = written.split_once("description_bracket = ").unwrap().1.split("ull").next().unwrap();
    let report = replay(&ARGUMENTS).output;
    assert!(report.contains(hash), "{hash} is not in\n{report}");
    // Constants alone need no samples; then they are all that is written.
    let alone = ["channels.toml", "--out", "alone", "--c-header", HEADER];
    let alone = replay(&alone).gives(0).without("alone");
    assert_eq!(alone.file(HEADER), written);
    assert!(alone.output.contains(HEADER), "{}", alone.output);
    let said = replay(&["channels.toml"]).gives(2).errors;
    assert!(said.contains("SAMPLES.csv") && said.contains("--c-header"), "{said}");
    // Zero and span on site: constants beside the kernel, with a seal of their own; a range that cannot be is told.
    let on_site = |range: &str| {
        let keys = format!("on_site = {{ balance_code_within = [{range}] }}\n[channel.gauge]\n");
        header(&CHANNELS.replace("[channel.gauge]\n", &keys))
    };
    let (status, said, written) = on_site("-500000, 500000");
    assert_eq!(status, Some(0), "{said}");
    for words in [
        "static const gw_known_answer answers_bracket[GW_KNOWN_ANSWERS] = {\n    {",
        "for balance codes -500000 to 500000 and spans of 1.000000 to 1.000000.\n",
        "static const gw_adjustable_kernel adjustable_bracket = {{\n",
        "static const gw_seal adjustable_bracket_seal = {1u, 0x",
    ] {
        assert!(written.contains(words), "{words:?} is not in\n{written}");
    }
    let (status, said, written) = on_site("5, -5");
    assert!(
        status == Some(1) && written.is_empty() && said.contains("zero and span on site: balance code is -5")
    );
    // Degree five takes the large kernel, and any name will do.
    let five =
        CHANNELS.replace("-1.69725e-7]", "-1.69725e-7, 1e-13] # fifth").replace("bracket", "int \u{e9}*/");
    let (_, _, written) = header(&five);
    assert!(written.contains("static const gw_large_kernel kernel_int____ = {{\n"), "{written}");
    assert!(!written.contains("fifth"));
    let (status, _, written) = header(
        &five.replace("[channel.gauge]\n", "on_site = { balance_code_within = [0, 9] }\n[channel.gauge]\n"),
    );
    assert!(
        status == Some(0) && written.contains("// Zero and span on site: left out, C has it for"),
        "{written}"
    );

    let twice = CHANNELS.to_owned() + CHANNELS.split_once("\"t\"\n").unwrap().1;
    let twice = twice.replacen("\"bracket\"", "\"a b\"", 1).replacen("\"bracket\"", "\"a_b\"", 1);
    let (status, said, written) = header(&twice);
    assert!(
        status == Some(1) && written.is_empty() && said.contains("another channel is a_b in C"),
        "{said}"
    );
    // The channel file is not written over, and samples that cannot be read leave no header.
    std::fs::write(folder.join("channels.toml"), CHANNELS).unwrap();
    let refused = replay(&["channels.toml", "--c-header", "channels.toml"]).gives(1);
    assert_eq!(refused.file("channels.toml"), CHANNELS);
    replay(&["channels.toml", "absent.csv", "--out", "results", "--c-header", HEADER])
        .gives(1)
        .without(HEADER);
    let missed = CHANNELS.replace("[channel.gauge]\n", "error_within_nanostrain = 0.2\n[channel.gauge]\n");
    let (status, said, written) = header(&missed);
    assert!(
        status == Some(1) && written.is_empty() && said.contains("the limit is 0.2 nanostrain"),
        "{said}"
    );
}

#[test]
fn help_and_usage() {
    let replay = |argument: &str| crate::run::run("replay", "replay usage", &[], &[argument]);
    let said = replay("--help").gives(0).output;
    for words in ["--out", "numbers.txt", "Exit", "has no sample without a flag", "licensed"] {
        assert!(said.contains(words), "--help does not say {words}:\n{said}");
    }
    replay("--nonsense").gives(2);
}

/// Rosettes of two, three and four of the same channels: columns and summary against Mohr's circle of a state that is chosen, with
/// what grids of a transverse sensitivity of 1 % show of it. The fourth grid of the star shows 40 microstrain too much.
#[test]
fn rosettes_of_channels() {
    let (x, y, shear) = (800.0, -200.0, 300.0);
    let shown = |degrees: f64| {
        let (sine, cosine) = (2.0 * degrees.to_radians()).sin_cos();
        let along = (x + y) / 2.0 + (x - y) / 2.0 * cosine + shear / 2.0 * sine;
        (along + 0.01 * (x + y - along)) / (1.0 - 0.285 * 0.01)
    };
    let mut channels = String::from("time_column = \"t\"\n");
    for name in ["a", "b", "c", "d", "e", "f"] {
        channels += &format!(
            "[[channel]]\nname = \"{name}\"\nstrain_column = \"{name}\"\ntemperature_column = \"warm\"\n\
             strain_within_microstrain = 3000\n[channel.instrument]\nstep_microstrain = 0.001\ngauge_factor = 2.0\n\
             [channel.gauge]\ngauge_factor = 2.0\ntransverse_sensitivity_percent = 1.0\n\
             thermal_output = {{ unit = \"C\", coefficients = [0.0], fitted_between = [0, 50] }}\n"
        );
    }
    channels += "[[rosette]]\nname = \"star\"\nchannels = [\"a\", \"b\", \"c\", \"d\"]\nangles_degrees = [0, 45, 90, 135]\n\
                 grid_uncertainty_microstrain = 2\nalignment_uncertainty_degrees = 1\n\
                 [[rosette]]\nname = \"delta\"\nchannels = [\"a\", \"e\", \"f\"]\nlayout = \"delta\"\n\
                 [[rosette]]\nname = \"pair\"\nchannels = [\"a\", \"c\"]\nangles_degrees = [0, 90]\n\
                 [[rosette]]\nname = \"known\"\nchannels = [\"a\", \"c\"]\nangles_degrees = [0, 90]\n\
                 grid_uncertainty_microstrain = 2\n\
                 [[rosette]]\nname = \"turned\"\nchannels = [\"a\", \"e\", \"f\"]\nlayout = \"delta\"\n\
                 angle_uncertainty_degrees = 0.1\n\
                 [[rosette]]\nname = \"five\"\nchannels = [\"a\", \"b\", \"c\", \"d\", \"e\"]\n\
                 angles_degrees = [0, 45, 90, 135, 60]\ngrid_uncertainty_microstrain = 2\n";
    // Nothing, the state, a cell that is not there, a strain beyond the limit.
    let cells = [(0.0, 0.0), (45.0, 0.0), (90.0, 0.0), (135.0, 40.0), (60.0, 0.0), (120.0, 0.0)];
    let row = |angle_and_error: (f64, f64)| format!(",{:.3}", shown(angle_and_error.0) + angle_and_error.1);
    let state = cells.map(row).concat();
    let lost = state.split_once(',').unwrap().1.split_once(',').unwrap().1;
    let samples =
        format!("t,warm,a,b,c,d,e,f\n0,20,0,0,0,0,0,0\n1,20{state}\n2,20,,{lost}\n3,20,3500,0,0,0,0,0\n");
    let rosettes = run("rosettes", &channels, &samples).gives(3);
    let said = &rosettes.output;
    let corrected = rosettes.file(CORRECTED);
    let table: Vec<Vec<&str>> = corrected.lines().map(|line| line.split(',').collect()).collect();
    let cell = |row: usize, column: &str| {
        let place = table[0].iter().position(|name| *name == column);
        table[row + 1][place.unwrap_or_else(|| panic!("no {column} in {:?}", table[0]))]
    };
    let near = |row, column: &str, expected: f64, within: f64| {
        let found: f64 = cell(row, column).parse().unwrap();
        assert!((found - expected).abs() <= within, "{column}: {found}, not {expected}");
    };
    let (mean, radius) = ((x + y) / 2.0, f64::hypot((x - y) / 2.0, shear / 2.0));
    let direction = 0.5 * (shear / 2.0).atan2((x - y) / 2.0).to_degrees();
    near(1, "delta_first_microstrain", mean + radius, 0.005);
    near(1, "delta_second_microstrain", mean - radius, 0.005);
    near(1, "delta_direction_degrees", direction, 0.001);
    // The mean of the star takes half of the 10 microstrain that its pairs differ by, and the shear 20.
    near(1, "star_first_microstrain", mean + 10.0 + f64::hypot((x - y) / 2.0, shear / 2.0 - 20.0), 0.3);
    near(1, "star_residual_in_standard_uncertainties", 10.0, 0.05);
    near(1, "pair_first_microstrain", x, 0.005);
    near(1, "pair_second_microstrain", y, 0.005);
    assert_eq!(cell(1, "pair_direction_degrees"), "0.0000");
    assert!(!table[0].contains(&"delta_residual_in_standard_uncertainties"));
    for rosette in ["star", "delta", "pair"] {
        assert_eq!(cell(0, &format!("{rosette}_direction_degrees")), "");
        assert_eq!(cell(1, &format!("{rosette}_flags")), "");
        assert_eq!(cell(2, &format!("{rosette}_flags")), "rejected: a grid");
        assert_eq!(cell(2, &format!("{rosette}_first_microstrain")), "");
        assert_eq!(cell(3, &format!("{rosette}_flags")), "strain outside");
    }

    let of = |rosette: &str, label: &str| numbers(part(said, rosette), label);
    let [time, first, second, degrees] = of("delta", "largest shear")[..] else { panic!("{said}") };
    assert!(time == 1.0 && (first - mean - radius).abs() < 0.01 && (second - mean + radius).abs() < 0.01);
    assert!((degrees - direction).abs() < 0.01);
    // Each with its uncertainty: of a grid's 2 microstrain, and of the degree that it may be turned by.
    let [_, _, uncertain, _, _, _, turned] = of("star", "largest strain")[..] else { panic!("{said}") };
    assert!((1.0..2.0).contains(&uncertain) && (1.0..1.1).contains(&turned), "{said}");
    // Four residuals are equal in standard uncertainties, so no grid is named; of five the wrong one is.
    assert!(
        part(said, "star").contains("  residual       10.0 standard uncertainties at most, at 1\n"),
        "{said}"
    );
    // By 40 microstrain, that is, and not where all show the same state.
    let contradict = "  wrong          the grids contradict each other";
    assert!(part(said, "star").contains(contradict), "{said}");
    let agreeing = cells.map(|(degrees, _)| row((degrees, 0.0))).concat();
    let samples = format!("t,warm,a,b,c,d,e,f\n1,20{agreeing}\n");
    let agreed = run("rosettes agree", &channels, &samples).output;
    assert!(agreed.contains("  residual       0.0 standard") && !agreed.contains(contradict), "{agreed}");
    assert!(part(said, "star").contains("  +- is one standard uncertainty"), "{said}");
    let lines = |rosette: &'static str| {
        part(said, rosette).lines().skip(1).take_while(|line| !line.starts_with(char::is_alphabetic))
    };
    let residual = lines("five").find(|line| line.starts_with("  residual")).unwrap();
    assert!(residual.ends_with(" standard uncertainties at most, of d at 1"), "{residual}");
    // What is not stated beside what is, of each; and no uncertainty of a direction that was not measured.
    let not_stated = |rosette: &'static str| -> Vec<String> {
        let found = lines(rosette).filter(|line| line.ends_with(": not stated: taken as exact"));
        found
            .map(|line| line.trim_start_matches("  uncertainty    ").split(':').next().unwrap().into())
            .collect()
    };
    assert_eq!(not_stated("star"), ["angles of the grids"]);
    assert_eq!(not_stated("five"), ["angles of the grids", "alignment"]);
    assert_eq!(not_stated("turned"), ["strains of the grids", "alignment"]);
    assert_eq!(not_stated("known"), ["angles of the grids", "alignment"]);
    assert!(not_stated("delta").is_empty() && not_stated("pair").is_empty(), "{said}");
    for rosette in ["pair", "known"] {
        assert_eq!(lines(rosette).filter(|line| line.ends_with(" 0.00 stated")).count(), 3, "{said}");
    }
    assert!(part(said, "pair").contains("without the 1 of 3 rows that have a flag"), "{said}");
}

/// A gauge a quarter of the way from one sensor to another, in Fahrenheit; and a platinum sensor whose measuring current heats it by
/// 0.04 C at 100 ohm (1 mA, 2.5 mW/C: by hand). Where a sensor of the pair gives nothing the sample is rejected.
#[test]
fn pairs_of_sensors_and_heated_sensors() {
    let channel = |name: &str, sensor: &str| {
        format!(
            "[[channel]]\nname = \"{name}\"\nstrain_column = \"reading\"\ntemperature_unit = \"F\"\n\
             strain_within_microstrain = 3000\ninstrument = {{ step_microstrain = 0.1, gauge_factor = 2.0 }}\n\
             [channel.gauge]\ngauge_factor = 2.0\n\
             thermal_output = {{ unit = \"C\", coefficients = [0.0, 10.0], fitted_between = [-50, 50] }}\n\
             [channel.sensor]\n{sensor}"
        )
    };
    let pair = "kind = \"pair\"\nfirst_column = \"one\"\nsecond_column = \"other\"\nfraction_of_way = 0.25\n";
    let heated = "kind = \"platinum\"\nohm_column = \"ohm\"\nnominal_ohm = 100\nleads = \"four\"\n\
                  measuring_current_milliamperes = 1\ndissipation_milliwatts_per_c = 2.5\n";
    let file = format!("time_column = \"t\"\n{}{}", channel("between", pair), channel("heated", heated));
    let samples = "t,reading,one,other,ohm\n0,100,32,68,100\n1,100,32,,107.7935\n";
    let both = run("pair and heat", &file, samples).gives(3);
    let said = &both.output;
    let rows = both.table(CORRECTED);
    let near = |row: usize, column: &str, expected: f64| {
        let found = number(&rows[row], column);
        assert!((found - expected).abs() < 1e-3, "{column}: {found}, not {expected}");
    };
    // Five degrees from 0 to 20 C, at ten microstrain a degree.
    near(0, "between_temperature_c", 5.0);
    near(0, "between_mechanical_microstrain", 50.0);
    near(0, "heated_temperature_c", -0.04);
    near(0, "heated_mechanical_microstrain", 100.4);
    // IEC 60751 has 107.7935 ohm at 20 C; the heat grows with the resistance.
    near(1, "heated_temperature_c", 20.0 - 0.04 * 1.077935);
    assert!(rows[1]["between_flags"].starts_with("rejected: "), "{:?}", rows[1]);
    assert!(part(said, "between").contains("sensor         two, the gauge at 0.25 of the way"), "{said}");
    assert!(part(said, "heated").contains("four leads, less the heat of 1 mA, from ohms"), "{said}");

    for (from, to, expected) in [
        (
            "fraction_of_way = 0.25",
            "fraction_of_way = 1.5",
            "fraction of the way between two sensors is 1.5, allowed: 0 to 1",
        ),
        ("second_column = \"other\"\n", "", "needs first_column, second_column and fraction_of_way"),
        (
            "kind = \"pair\"",
            "kind = \"pair\"\nleads = \"four\"",
            "takes nothing but first_column, second_column and",
        ),
        ("dissipation_milliwatts_per_c = 2.5\n", "", "and dissipation_milliwatts_per_c go together"),
        (
            "dissipation_milliwatts_per_c = 2.5",
            "dissipation_milliwatts_per_c = 0",
            "dissipation constant (mW/C) is 0, allowed: 0.000001 to",
        ),
        ("leads = \"four\"", "leads = \"four\"\nfirst_column = \"one\"", "go with kind = \"pair\""),
    ] {
        assert!(file.contains(from), "{from}");
        let said = run("pair and heat, wrong", &file.replacen(from, to, 1), samples).gives(1).errors;
        assert!(said.contains(expected), "{expected:?} is not in\n{said}");
    }
}
