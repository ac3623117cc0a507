//! Commissioning, run as a program: the demonstration against the physics that its run was made of, and its result in a
//! replay.

use crate::run::{COMMISSIONED, KEEL, Run, rows, run, run_in};
use approx::assert_abs_diff_eq;
use std::sync::LazyLock;
use support::keel::{BALANCE, Truth};
use support::program::{Row, check, fresh, number, numbers, text};

/// The curve of the channel file since balance.
fn written_curve(run: &Run) -> (impl Fn(f64) -> f64 + use<>, f64, [f64; 2]) {
    let curve = &run.gauge("commissioned.toml")["thermal_output"];
    let numbers = |name: &str| -> Vec<f64> {
        let numbers = curve[name].as_array().unwrap();
        numbers.iter().map(|number| number.as_float().unwrap()).collect()
    };
    let coefficients = numbers("coefficients");
    let at = move |celsius: f64| coefficients.iter().rev().fold(0.0, |sum, term| sum * celsius + term);
    let fitted = numbers("fitted_between");
    let balance = at(BALANCE);
    (
        move |celsius| at(celsius) - balance,
        curve["stated_for_gauge_factor"].as_float().unwrap(),
        [fitted[0], fitted[1]],
    )
}

#[test]
fn the_fitted_curve_is_the_true_one_within_its_band() {
    let (said, truth) = (&COMMISSIONED.output, Truth::new());
    let (curve, factor, [low, high]) = written_curve(&COMMISSIONED);
    assert_eq!(factor, 2.0);
    // The programme ends at -86 and 106 C, and the thermometer is off by hundredths.
    assert!((low + 86.0).abs() < 0.05 && (high - 106.0).abs() < 0.05, "{low} {high}");
    let rows = rows(said, "thermal output since balance");
    assert_eq!(rows.len(), 7);
    for [celsius, output, band, loop_there, its_uncertainty] in rows {
        assert!((output - curve(celsius)).abs() < 0.02, "{celsius}: {output}");
        assert!(
            (output - truth.output(celsius, factor)).abs() <= band + 0.005,
            "{celsius}: {output} +- {band}"
        );
        // Made: 3 microstrain in the middle of -86 and 106 C, nothing at the ends; found by two curves of the scatter of 0.6.
        let made = 3.0 * (1.0 - ((celsius - 10.0) / 96.0_f64).powi(2));
        assert!(
            (loop_there - made).abs() < 3.0 * its_uncertainty,
            "{celsius}: {loop_there} +- {its_uncertainty}"
        );
        assert!((0.15..0.7).contains(&its_uncertainty), "{its_uncertainty}");
        // A band that covers anything says nothing: residuals of 1.4 in five terms of 49 points.
        assert!(band < 2.2, "{band}");
    }
    // Made: 3 microstrain more at 10 C, half of it either way and nothing at the ends.
    let hysteresis = numbers(said, "hysteresis");
    let uncertainty = numbers(said, "(standard uncertainty")[0];
    assert!((hysteresis[0] - 3.0).abs() < 3.0 * uncertainty, "{hysteresis:?} {uncertainty}");
    assert_abs_diff_eq!(hysteresis[1], 10.0, epsilon = 35.0);
    assert!((0.1..0.5).contains(&uncertainty));
    // As many points as the programme has dwells: 14 down, 24 up, 11 down.
    assert!(said.contains("49 points, 24 rising, 25 falling; cells rejected: 0"), "{said}");
}

#[test]
fn points_are_those_of_the_run() {
    let [points, run] = ["points.csv", "chamber.csv"].map(|name| COMMISSIONED.table(name));
    assert_eq!(points.len(), run.len());
    let mut squares = 0.0;
    for (index, (point, row)) in points.iter().zip(&run).enumerate() {
        // Three lines of comment and a header stand before.
        assert_eq!(number(point, "line"), index as f64 + 5.0);
        for (one, other) in [
            ("time", "time_s"),
            ("temperature_c", "fitting_keel_celsius"),
            ("reading_microstrain", "fitting_keel_reading_microstrain"),
        ] {
            assert_eq!(number(point, one), number(row, other));
        }
        let residual = number(point, "residual_microstrain");
        let gap = number(point, "reading_microstrain") - number(point, "curve_microstrain");
        assert_abs_diff_eq!(residual, gap, epsilon = 2e-4);
        squares += residual * residual;
    }
    // 49 points, five coefficients.
    let deviation = (squares / 44.0).sqrt();
    assert_abs_diff_eq!(deviation, numbers(&COMMISSIONED.output, "scatter   ")[0], epsilon = 1e-3);
}

/// The spans of the fan, from the physics: what a match differs turns the true curve.
#[test]
fn matches_are_compared_as_the_true_curve_says() {
    let (said, truth) = (&COMMISSIONED.output, Truth::new());
    let part = &said[said.find("\nmatch, on this part from -75 to 45 C").unwrap()..];
    let at = |matched: f64, celsius: f64| {
        let turned = (9.0 - matched) * truth.factor_at(celsius) / 2.0;
        truth.output(celsius, 2.0) + turned * (celsius - 24.0)
    };
    let mut spans = Vec::new();
    for (label, matched, turn) in [
        ("6.4", 6.4, "counter-clockwise"),
        ("9", 9.0, "not: it is this one"),
        ("10.6", 10.6, "clockwise"),
        ("13.1", 13.1, "clockwise"),
    ] {
        let line = part.lines().find(|line| line.trim_start().starts_with(&format!("{label}  "))).unwrap();
        assert!(line.contains(&format!(" {turn} ")), "{line}");
        let outputs = || (0..=1200).map(|k| at(matched, -75.0 + 0.1 * f64::from(k)));
        let span = outputs().fold(f64::MIN, f64::max) - outputs().fold(f64::MAX, f64::min);
        let steepest = (0..=1199)
            .map(|k| -75.0 + 0.1 * f64::from(k))
            .map(|celsius| 10.0 * (at(matched, celsius + 0.1) - at(matched, celsius)))
            .fold(0.0, |most: f64, slope| if slope.abs() > most.abs() { slope } else { most });
        let figures: Vec<f64> = line.split_whitespace().filter_map(|word| word.parse().ok()).collect();
        let [_, said_span, said_slope, left] = figures[..] else { panic!("{line}") };
        // The bands at both ends of the window.
        assert!((said_span - span).abs() < 2.5, "{matched}: {said_span} {span}");
        assert!((said_slope - steepest).abs() < 0.2, "{matched}: {said_slope} {steepest}");
        // 0.2 C at the steepest place; the curve bends by less than 0.3 a degree squared.
        assert!((left - 0.2 * said_slope).abs() < 0.04, "{matched}: {left}");
        spans.push((said_span, label));
    }
    let (second, least) = (spans[2], spans[3]);
    assert!(spans.iter().all(|(span, _)| *span >= least.0));
    let said = part.lines().find_map(|line| line.trim().strip_prefix("least span")).unwrap().trim();
    let start = format!("{}: {:.2} microstrain; ", least.1, least.0);
    let (margin, from) = said.strip_prefix(start.as_str()).unwrap().split_once(" less than ").unwrap();
    assert_eq!(from, second.1);
    // The table's two spans are rounded, and so is their difference.
    let margin: f64 = margin.parse().unwrap();
    assert!((margin - (second.0 - least.0)).abs() < 0.0151, "{said}");
}

/// The expanded uncertainty of the demonstration without load, between the rows of the table.
fn expanded(celsius: f64) -> f64 {
    static ROWS: LazyLock<Vec<(f64, f64)>> = LazyLock::new(|| {
        let budgets = COMMISSIONED.table("budget.csv");
        let unloaded = budgets.iter().filter(|row| number(row, "strain_microstrain") == 0.0);
        unloaded.map(|row| (number(row, "temperature_c"), number(row, "expanded_microstrain"))).collect()
    });
    let pair = ROWS.windows(2).find(|pair| (pair[0].0..=pair[1].0).contains(&celsius));
    let pair = pair.unwrap_or_else(|| panic!("{celsius} C is not in the table"));
    let share = (celsius - pair[0].0) / (pair[1].0 - pair[0].0);
    pair[0].1 + share * (pair[1].1 - pair[0].1)
}

/// Replays a run of the demonstration with a channel file; gives temperature and mechanical strain of every row without a flag.
fn replayed(channels: &str, samples: &str, folder: &str) -> Vec<(f64, f64)> {
    let samples = COMMISSIONED.path(samples);
    let files = [("channels.toml", channels)];
    let run = run("replay", folder, &files, &["channels.toml", &samples, "--out", "."]).gives(0);
    let rows = run.table("corrected.csv");
    let clear = rows.iter().filter(|row| row["fitting_keel_flags"].is_empty());
    let of_row = |row: &Row| {
        (number(row, "fitting_keel_temperature_c"), number(row, "fitting_keel_mechanical_microstrain"))
    };
    clear.map(of_row).collect()
}

/// How many rows of the later run are within the stated uncertainty with this channel file, and the largest part of it that one comes to.
fn of_later_run(channels: &str, folder: &str) -> (usize, f64) {
    let rows = replayed(channels, "later.csv", folder);
    assert_eq!(rows.len(), 600);
    let parts = || rows.iter().map(|(celsius, strain)| strain.abs() / expanded(*celsius));
    (parts().filter(|part| *part <= 1.0).count(), parts().fold(0.0, f64::max))
}

#[test]
fn a_replay_of_a_later_run_stays_within_the_stated_uncertainty() {
    let (within, _) = of_later_run(&COMMISSIONED.file("commissioned.toml"), "commission later");
    assert!(within >= 570, "{within} of 600 within an uncertainty of 95 %");
    // The package's curve as it stands: out by the part's own expansion.
    let package = KEEL.replace("specimen_expansion_ppm_per_c = 10.1 ", "#");
    let (within, _) = of_later_run(&package, "commission before");
    assert!(within < 300, "{within}");
}

/// Half of the hysteresis is in the balance too, where it is read while the temperature falls or rises.
#[test]
fn a_later_run_stays_within_the_uncertainty_with_a_balance_of_either_branch() {
    let keel = COMMISSIONED.file("commissioned.toml");
    // Made: 3 microstrain at 10 C and nothing at -86 and 106 C. A microstrain is so many codes of a quarter bridge with leads of 2.5 ohm.
    let half = 1.5 * (1.0 - ((BALANCE - 10.0) / 96.0_f64).powi(2));
    let codes = half * 2.045e-6 / 4.0 / (1.0 + 2.5 / 350.0) * 128.0 * 8_388_608.0;
    for (branch, code) in [("falling", 454_192.0 + codes), ("rising", 454_192.0 - codes)] {
        let moved = keel.replace("\ncode = 454192\n", &format!("\ncode = {code:.0}\n"));
        assert_ne!(moved, keel);
        let (within, worst) = of_later_run(&moved, &format!("commission later {branch}"));
        assert!(within >= 570, "{branch}: {within} of 600 within an uncertainty of 95 %");
        // Nor is it boasted: the strain comes to a good part of it.
        assert!(worst > 0.7, "{branch}: {worst}");
    }
}

/// The curve that firmware takes is the one of the channel file, and a kernel is made of it while the firmware compiles.
#[test]
fn firmware_takes_the_curve_as_a_constant() {
    let constant = COMMISSIONED.file("commissioned.rs");
    let curve = &COMMISSIONED.gauge("commissioned.toml")["thermal_output"];
    let between = curve["fitted_between"].as_array().unwrap();
    let terms = curve["coefficients"].as_array().unwrap();
    for number in terms.iter().chain(between).map(|number| number.as_float().unwrap()) {
        assert!(constant.contains(&format!("{number:?}")), "{number} is not in\n{constant}");
    }
    let firmware = |error_limit: &str| {
        format!(
            "{constant}
use gaugewright::units::{{Microstrain, Nanostrain, Ohms, PercentPer100C, Ratio}};
use gaugewright::{{Bridge, Channel, Converter, Gauge, fixed}};
const KEEL: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.045)).gauge_factor_slope(PercentPer100C(0.91)).thermal_output(MEASURED),
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(2.5)),
    Converter::bipolar(24, Ratio(1.0 / 128.0)),
)
.balanced(454_192.0, Celsius(19.75))
.strain_within(Microstrain(5_000.0));
static KERNEL: fixed::Kernel = KEEL.fixed_within(Nanostrain({error_limit}));
fn main() {{
    let _ = KERNEL;
}}
"
        )
    };
    let right = check("commissioned", &firmware("0.5"));
    assert!(right.status.success(), "{}", text(&right.stderr));
    // And what is checked there is checked.
    assert!(!check("commissioned_wrong", &firmware("0.001")).status.success());
}

/// The logger's own codes of the same run, in place of the chamber's instrument.
#[test]
fn the_channels_own_column_does_as_well() {
    let codes = KEEL
        .replace("run_strain_column = \"fitting_keel_reading_microstrain\"\n", "")
        .replace("run_gauge_factor = 2.0\n", "");
    let (folder, chamber) = (fresh("commission codes"), COMMISSIONED.path("chamber.csv"));
    let commissioned = |channels: &str, more: &[&str]| {
        // In one folder, where a file that is not written is not left from before.
        std::fs::write(folder.join("keel.toml"), channels).unwrap();
        run_in(&folder, "commission", &[&["keel.toml", &chamber, "--out", "."], more].concat())
    };
    let sound = commissioned(&codes, &[]).gives(0).file("commissioned.toml");
    // A package in the wrong unit: the run contradicts it, and does not need it.
    let wrong = codes.replace("unit = \"C\"", "unit = \"F\"");
    let Run { output: said, errors: told, .. } =
        &commissioned(&wrong, &[]).gives(4).without("commissioned.toml");
    assert!(told.contains("with the package's coefficients in Celsius it would be 1"), "{told}");
    assert!(told.contains("check whether unit of [channel.gauge.thermal_output] has to be \"C\""), "{told}");
    let noted = "with coefficients in Celsius it would be 0.0: check their unit";
    assert!(said.contains(noted) && !COMMISSIONED.output.contains("  note "), "{said}");
    let accepted = commissioned(&wrong, &["--accept"]).gives(4);
    assert_eq!(accepted.file("commissioned.toml"), sound);
    let (curve, factor, _) = written_curve(&accepted);
    assert_eq!(factor, 2.045);
    let truth = Truth::new();
    for celsius in [-80.0, -50.0, 0.0, 50.0, 100.0] {
        // Bands of 2 microstrain at most, see above.
        assert!(
            (curve(celsius) - truth.output(celsius, factor)).abs() < 2.0,
            "{celsius}: {}",
            curve(celsius)
        );
    }
    let rows = replayed(&sound, "chamber.csv", "commission compared");
    // Two points are beyond the 100 C that the channel declares, three below its -80 C.
    assert!(rows.len() >= 44, "{}", rows.len());
    assert!(rows.iter().all(|(_, strain)| strain.abs() < 5.0));
}

#[test]
fn a_second_time_gives_the_same() {
    let again = run("commission", "commission again", &[], &["--out", "."]).gives(0);
    for name in ["chamber.csv", "later.csv", "commissioned.toml", "points.csv", "budget.csv", "curve.svg"] {
        assert_eq!(COMMISSIONED.file(name), again.file(name), "{name}");
    }
}

#[test]
fn the_report_is_written_cautious_and_not_too_wide() {
    let said = &COMMISSIONED.output;
    assert_eq!(COMMISSIONED.code, Some(0), "{}", COMMISSIONED.errors);
    assert_eq!(COMMISSIONED.file("report.txt"), *said);
    for words in
        ["simulated, no such part", "licensed engineer", "codes that apply", "nothing is said beyond"]
    {
        assert!(said.contains(words), "the report does not say {words:?}");
    }
    for line in said.lines() {
        assert!(line.chars().count() <= 100, "{line}");
    }
    // Every step on the way is told, on the other stream.
    let steps = &COMMISSIONED.errors;
    for step in
        ["making", "reading the run", "fitting", "comparing matches", "reckoning the uncertainty", "writing"]
    {
        assert!(steps.contains(step), "nothing of {step} in\n{steps}");
    }
}

/// The demonstration's run with its readings changed, commissioned.
fn changed(folder: &str, change: impl Fn(usize, f64) -> f64, more: &[&str]) -> Run {
    changed_points(folder, KEEL, |row, celsius, reading| (celsius, change(row, reading)), more)
}

/// The same with temperatures that are changed too, and a channel file.
fn changed_points(
    folder: &str,
    channels: &str,
    change: impl Fn(usize, f64, f64) -> (f64, f64),
    more: &[&str],
) -> Run {
    let mut row = 0;
    let chamber = COMMISSIONED.file("chamber.csv");
    let lines = chamber.lines().map(|line| {
        let cells: Vec<&str> = line.split(',').collect();
        let Some(reading) = cells.get(2).and_then(|cell| cell.parse::<f64>().ok()) else {
            return format!("{line}\n");
        };
        row += 1;
        let (celsius, reading) = change(row - 1, cells[1].parse().unwrap(), reading);
        format!("{},{celsius},{reading},{},{}\n", cells[0], cells[3], cells[4])
    });
    let files = [("run.csv", &*lines.collect::<String>()), ("keel.toml", channels)];
    run("commission", folder, &files, &[&["keel.toml", "run.csv", "--out", "."], more].concat())
}

/// A point that does not belong to the run, a load midway, a drift, hysteresis: named, with a status of its own, and no channel file
/// unless it is asked for.
#[test]
fn a_run_with_something_wrong_is_not_taken() {
    // Line 4 is the header. The scatter of a sound run is 1.4 microstrain, hysteresis in it, and 0.6 without.
    let at = |from: usize, by: f64| {
        move |row: usize, reading: f64| if row >= from { reading + by } else { reading }
    };
    let said = changed("commission outlier", |row, r| if row == 30 { r + 9.5 } else { r }, &[]).refused();
    assert!(said.contains("line 35:") && !said.contains("  commissioned.toml"), "{said}");
    assert!(said.contains("standard deviations") && said.contains("--accept"));
    let said = changed("commission load", at(24, 40.0), &[]).refused();
    let step = said.split("from line 29 on the readings show ").nth(1).unwrap_or_else(|| panic!("{said}"));
    let step: Vec<&str> = step.split_whitespace().take(3).collect();
    let size: f64 = step[0].parse().unwrap();
    assert!((size - 40.0).abs() < 2.0 && step[1..] == ["microstrain", "more"], "{said}");
    let accepted = changed("commission accepted", at(24, -40.0), &["--accept"]).gives(4);
    assert!(accepted.output.contains("less") && accepted.has("commissioned.toml"), "{}", accepted.output);
    let said = changed("commission drift", |row, r| r + 0.5 * row as f64, &[]).refused();
    assert!(said.contains("drift, or a bond that moved"), "{said}");
    // A small step and a point, either of which makes the scatter wide that the other is looked at with.
    for (step, point) in [(1.7, 0.0), (0.0, 3.4), (1.7, 3.4)] {
        let both =
            |row: usize, r: f64| r + if row >= 8 { step } else { 0.0 } + if row == 30 { point } else { 0.0 };
        let said = changed("commission small step", both, &[]).refused();
        assert_eq!(said.contains("from line 13 on the readings show "), step > 0.0, "{said}");
        assert_eq!(said.contains("  line 35: "), point > 0.0, "{said}");
    }
    // Rising from row 14 to row 37.
    let loose = |row: usize, r: f64| if (14..38).contains(&row) { r } else { r + 60.0 };
    let said = changed("commission hysteresis", loose, &[]).refused();
    assert!(said.contains("wrong"), "{said}");
}

/// A point that is named is left out when it is asked for, and then all that is said is said without it.
#[test]
fn a_named_point_is_left_out_when_asked() {
    let odd = |row: usize, r: f64| if row == 30 || row == 8 { r + 9.5 } else { r };
    let said = changed("commission two odd", odd, &[]).refused();
    assert!(said.contains("line 35: ") && said.contains("line 13: "), "{said}");
    // One of them: the other is still wrong.
    let said = changed("commission one left out", odd, &["--leave-out", "35"]).refused();
    assert!(said.contains("  wrong          line 13: "), "{said}");
    let run = changed("commission left out", odd, &["--leave-out", "35,13,35"]).gives(0);
    let said = &run.output;
    assert!(said.contains("47 points, ") && said.contains("  left out       line 13, as --leave-out asks: "));
    let words = run.words();
    assert!(
        words.contains("off the curve without it; with it: ") && words.contains("than the other points say"),
        "{said}"
    );
    let comment = "degree 4, residual standard deviation 1.";
    let written = run.file("commissioned.toml");
    let line = written.lines().find(|line| line.starts_with("# Fitted to run.csv: 47 points")).unwrap();
    assert!(line.contains(comment) && line.ends_with("microstrain. Left out: lines 13, 35."), "{line}");
    let constant = run.file("commissioned.rs");
    assert!(constant.lines().next().unwrap().ends_with("Left out: lines 13, 35."), "{constant}");
    let points = run.table("points.csv");
    assert!(points.len() == 47 && points.iter().all(|point| point["line"] != "35" && point["line"] != "13"));
    // The curve is that of the run without the two lines.
    let (curve, _, _) = written_curve(&run);
    let (sound, _, _) = written_curve(&changed("commission nothing odd", |_, r| r, &[]));
    for celsius in [-80.0, -20.0, 50.0, 100.0] {
        assert!((curve(celsius) - sound(celsius)).abs() < 0.8, "{celsius}");
    }

    // A point that nothing is wrong with is not left out without a word.
    let of_sound = |more: &[&str]| changed("commission sound left out", |_, r| r, more);
    let run = of_sound(&["--leave-out", "30"]);
    let words = run.words();
    assert!(words.contains("line 30 is left out, and no check reports it as an outlier"), "{words}");
    run.refused();
    let run = of_sound(&["--leave-out", "30", "--accept"]).gives(4);
    assert!(run.has("commissioned.toml"), "{}", run.output);
    // The hottest one: the curve of the others does not reach it.
    let run = of_sound(&["--leave-out", "42", "--accept"]).gives(4);
    let said = &run.output;
    let line = said.lines().find(|line| line.contains("line 42, as --leave-out asks: ")).unwrap();
    assert!(line.contains("106.") && !line.contains("NaN"), "{said}");
    assert!(run.words().contains(" C, beyond the other points"), "{said}");
    of_sound(&["--leave-out", "4"]).gives(1);
}

/// A run that contradicts the package is not taken, and the slip that explains it is named; on a part whose expansion is not stated too.
#[test]
fn a_run_that_contradicts_the_package_is_not_taken() {
    let keel = KEEL;
    let [part, material, foil, uncertainty] =
        ["part]", "package_material]", "foil]", "uncertainty]"].map(|name| {
            keel.find(&format!("\n[channel.commissioning.{name}")).unwrap_or_else(|| panic!("{name}"))
        });
    let before = keel[..part].replace("specimen_expansion_ppm_per_c = 10.1 ", "#");
    let unstated = format!("{before}{}{}", &keel[material..foil], &keel[uncertainty..]);
    let in_fahrenheit = |celsius: f64| celsius * 1.8 + 32.0;
    // The run then reaches from -65 to 41 C, less far than the window.
    let declared = keel
        .replace("code_column", "temperature_unit = \"F\"\ncode_column")
        .replace("window_c", "# window_c");
    let same = |_, celsius, reading| (celsius, reading);
    type Change<'a> = &'a dyn Fn(usize, f64, f64) -> (f64, f64);
    let reversed: Change = &|_, celsius, reading| (celsius, -reading);
    let hot: Change = &|_, celsius, reading| (in_fahrenheit(celsius), reading);
    for (name, channels, change, more, words) in [
        ("reversed", keel, reversed, &[][..], "with the opposite sign of all readings it would be 1"),
        (
            "reversed, no part",
            &unstated,
            reversed,
            &[],
            "with the opposite sign of all readings it would be ",
        ),
        ("hot", keel, hot, &[], "with the temperatures of the run in Fahrenheit it would be 1"),
        ("hot, no part", &unstated, hot, &[], "with the temperatures of the run in Fahrenheit it would be "),
        ("declared", &declared, &same, &[], "with the temperatures of the run in Celsius it would be 1"),
        (
            "part",
            keel,
            &same,
            &["--part", "16"],
            "check that the package is that of this gauge, and the expansion",
        ),
    ] {
        let run = changed_points(&format!("commission {name}"), channels, change, more);
        let words_said = run.words();
        let said = run.refused();
        assert!(words_said.contains("the run contradicts the package: its curve is "), "{name}: {said}");
        assert!(words_said.contains(words), "{name}: {words:?} is not in\n{said}");
        // What stays is the scatter of a lot: 28 microstrain at the cold end.
        let left = words_said.split("it would be ").nth(1).map(|rest| rest.split(':').next().unwrap());
        assert!(left.is_none_or(|left| left.parse::<f64>().unwrap() < 20.0), "{name}: {left:?}");
        let more: Vec<&str> = more.iter().copied().chain(["--accept"]).collect();
        assert!(
            changed_points("commission contradicts", channels, change, &more)
                .gives(4)
                .has("commissioned.toml")
        );
    }
    // The part's expansion may be off by what alloys of one name differ, and where it is not stated by anything.
    let steep: Change = &|_, celsius, reading| (celsius, reading + 14.0 * celsius);
    for (name, channels, change, more) in [
        ("other alloy", keel, &same as Change, &["--part", "11.5"][..]),
        ("other metal, no part", &unstated, steep, &[]),
        ("same metal, no part", &unstated, &same, &[]),
    ] {
        let run = changed_points(&format!("commission {name}"), channels, change, more).gives(0);
        assert!(run.has("commissioned.toml"), "{name}");
    }
}

/// A line that is odd in one of two channels is left out of both, and that is no finding of the other.
#[test]
fn a_line_of_two_channels_is_left_out_for_one_of_them() {
    let second = KEEL[KEEL.find("[[channel]]").unwrap()..]
        .replace("name = \"fitting_keel\"", "name = \"fitting_port\"")
        .replace("fitting_keel_reading_microstrain", "fitting_port_reading_microstrain");
    let mut row = 0;
    let chamber = COMMISSIONED.file("chamber.csv");
    let lines = chamber.lines().map(|line| match line.split(',').nth(2).map(str::parse::<f64>) {
        Some(Ok(reading)) => {
            row += 1;
            format!("{line},{}\n", if row == 31 { reading + 9.5 } else { reading })
        }
        Some(Err(_)) => format!("{line},fitting_port_reading_microstrain\n"),
        None => format!("{line}\n"),
    });
    let samples: String = lines.collect();
    let files = [("keel.toml", &*format!("{KEEL}\n{second}")), ("run.csv", &*samples)];
    let commissioned = |more: &[&str]| {
        let arguments = [&["keel.toml", "run.csv", "--out", "out"], more].concat();
        run("commission", "commission line of two", &files, &arguments)
    };
    let said = commissioned(&[]).gives(4).words();
    assert!(said.contains("line 35: "), "{said}");
    let said = commissioned(&["--leave-out", "35"]).gives(0).output;
    assert_eq!(said.matches("  left out       line 35, as --leave-out asks: ").count(), 2, "{said}");
    let said = commissioned(&["--leave-out", "35,30"]).gives(4).words();
    assert!(said.contains("line 30 is left out, and no check reports it"), "{said}");
}

/// Chance is taken for something wrong in a run of a hundred.
#[test]
fn a_sound_run_is_taken() {
    let wrong = (0..40).filter(|seed| {
        let mut random = support::Random(1_000 + seed);
        let noise: Vec<f64> = (0..49).map(|_| 0.5 * random.normal()).collect();
        let run = changed("commission sound", |row, r| r + noise[row], &[]);
        assert!(run.code == Some(0) || run.output.contains("  wrong "), "{:?}", run.code);
        run.code == Some(4)
    });
    assert!(wrong.count() <= 2);
}

/// What the README of the program shows of the demonstration is what it says.
#[test]
fn readme_shows_the_report() {
    let shown = support::document("examples/commission/README.md");
    let shown = shown.split("```text\n").nth(1).unwrap().split("```").next().unwrap();
    let mut lines = COMMISSIONED.output.lines();
    for line in shown.lines().filter(|line| *line != "...") {
        assert!(lines.any(|other| other == line), "the report does not say, or not in this order: {line}");
    }
    assert!(shown.lines().count() > 20);
}
