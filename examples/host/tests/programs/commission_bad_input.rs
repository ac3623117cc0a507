//! Commissioning of one's own files: forms that a channel file may have, and what is wrong told with file and line.

use crate::run::{COMMISSIONED, KEEL, Run, run_in};
use support::program::{fresh, number, numbers};

/// Lines count from here: the quotes are followed by one that is empty.
const CHANNELS: &str = r#"
time_column = "t"

[[channel]]
name = "bracket"
code_column = "code"
temperature_column = "warm"
temperature_unit = "F"
strain_within_microstrain = 3000
gauge = { gauge_factor = 2.085, matched_expansion_ppm_per_c = 11 }
bridge = { circuit = "quarter three-wire", gauge_ohm = 350, lead_ohm = 1.2 }
converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
balance = { code = 1000, temperature_c = 20 }

[channel.commissioning]
offered_matches_ppm_per_c = [8.3, 14.7]
"#;
/// Of `[[channel]]`.
const CHANNEL_LINE: usize = 4;

const FILE: &str = "results/commissioned.toml";

/// Codes of a straight curve, 100 a degree Celsius, with scatter of some ten; from 0 to 40 C and back, in Fahrenheit.
fn run_file() -> String {
    let mut text = "# a run\nt,warm,code\n".to_owned();
    for (row, celsius) in (0..=10).map(|k| 4 * k).chain((0..10).rev().map(|k| 4 * k + 2)).enumerate() {
        let scatter = [3, -7, 5, 1, -4, 9, -6][row % 7];
        text +=
            &format!("{row},{},{}\n", f64::from(celsius) * 1.8 + 32.0, 1000 + 100 * (celsius - 20) + scatter);
    }
    text
}

fn run(name: &str, channels: &str, samples: &str, options: &[&str]) -> Run {
    let files = [("channels.toml", channels), ("run.csv", samples)];
    let arguments = [&["channels.toml", "run.csv", "--out", "results"], options].concat();
    crate::run::run("commission", &format!("commission {name}"), &files, &arguments)
}

#[test]
fn a_channel_in_one_line_each_without_a_package() {
    let own = run("own", CHANNELS, &run_file(), &[]).gives(0);
    let said = &own.output;
    assert!(said.contains("21 points, 11 rising, 10 falling"), "{said}");
    assert!(said.contains("the channel file has no curve to compare with"));
    // 100 codes of 2^-30 V/V, times 4 over the gauge factor, with leads; by hand.
    let slope = 100.0 / 8_388_608.0 / 128.0 * 4.0 * (1.0 + 1.2 / 350.0) / 2.085 * 1e6;
    let coefficients = own.coefficients(FILE, 0);
    assert_eq!(coefficients.len(), 2, "{coefficients:?}");
    assert!((coefficients[1] / slope - 1.0).abs() < 0.005, "{coefficients:?} {slope}");
    let curve = &own.gauge(FILE)["thermal_output"];
    assert_eq!(curve["stated_for_gauge_factor"].as_float(), Some(2.085));
    let text = own.file(FILE);
    // All that was there is there, but for the table that is new.
    for line in CHANNELS.lines().filter(|line| !line.starts_with("gauge =")) {
        assert!(text.contains(line), "{line} is lost");
    }
    let replayed = run_in(&own.folder, "replay", &[FILE, "run.csv", "--out", "replayed"]).gives(0);
    for row in replayed.table("replayed/corrected.csv") {
        let strain: f64 = row["bracket_mechanical_microstrain"].parse().unwrap();
        assert!(strain.abs() < 12.0 * slope / 100.0 && row["bracket_flags"].is_empty(), "{row:?}");
    }
}

/// A run with raw readings of a sensor in place of temperatures: ohms of platinum by IEC 60751 behind a pair of leads, millivolts of type K
/// by the NIST ITS-90 Thermocouple Database against a cold junction that is not at 0 C.
#[test]
fn temperatures_of_sensors_that_are_read_raw() {
    // Every ten degrees: by the standards, of tests/data.
    let platinum = support::data("platinum");
    let couple = support::data("thermocouple_emf");
    let ohms = |celsius: f64| {
        let row = platinum.iter().find(|row| row.number("t_degC") == celsius).unwrap();
        row.number("r_ohm_exact")
    };
    let millivolts = |celsius: f64| {
        let row = couple.iter().find(|row| row.text("type") == "K" && row.number("t_degC") == celsius);
        row.unwrap().number("emf_mV")
    };
    let steps = |k: usize| if k <= 18 { -80.0 + 10.0 * k as f64 } else { 100.0 - 10.0 * (k - 18) as f64 };
    let channels = |sensor: &str| {
        let bare = CHANNELS.replace("temperature_column = \"warm\"\ntemperature_unit = \"F\"\n", "");
        format!("{bare}[channel.sensor]\n{sensor}")
    };
    let pair = "kind = \"platinum\"\nohm_column = \"ohm\"\nnominal_ohm = 100\nleads = \"three\"\npair_column = \"beside\"";
    let cold = "kind = \"thermocouple\"\nmillivolt_column = \"mv\"\nthermocouple_type = \"K\"\ncold_junction_column = \"beside\"";
    for (name, sensor, words, column) in [
        ("platinum", pair, "platinum of 100 ohm, three leads, from ohms of column \"ohm\"", "ohm"),
        ("thermocouple", cold, "thermocouple of type K, from millivolts of column \"mv\"", "mv"),
    ] {
        let mut samples = format!("t,{column},beside,code\n");
        for k in 0..37 {
            let (celsius, scatter) = (steps(k), [3.0, -7.0, 5.0, 1.0, -4.0][k % 5]);
            // Leads that warm up; a cold junction at one of the temperatures of the table.
            let (read, beside) = match column {
                "ohm" => (ohms(celsius) + 1.6 + 0.01 * k as f64, 1.6 + 0.01 * k as f64),
                _ => (millivolts(celsius) - millivolts(20.0), 20.0),
            };
            samples += &format!("{k},{read},{beside},{}\n", 1000.0 + 100.0 * (celsius - 20.0) + scatter);
        }
        let taken = run(name, &channels(sensor), &samples, &[]).gives(0);
        let said = &taken.output;
        assert!(said.contains(words), "{words} is not in\n{said}");
        for (k, point) in taken.table("results/points.csv").iter().enumerate() {
            let celsius = number(point, "temperature_c");
            assert!((celsius - steps(k)).abs() < 2e-6, "{name}: {celsius} at {}", steps(k));
        }
        // A reading that no temperature has is named and left out.
        let wrong: String = samples
            .lines()
            .map(|line| match line.strip_prefix("1,").and_then(|rest| rest.split_once(',')) {
                Some((_, rest)) => format!("1,99999,{rest}\n"),
                None => format!("{line}\n"),
            })
            .collect();
        let taken = run(&format!("{name} wrong"), &channels(sensor), &wrong, &[]).gives(3);
        assert!(taken.errors.contains(&format!("run.csv:3: {column}: ")), "{}", taken.errors);
        assert!(taken.output.contains("36 points") && taken.has("results/rejected.csv"));
    }
}

#[test]
fn one_direction_one_degree_one_channel_of_several() {
    let half: String = run_file().lines().take(13).map(|line| format!("{line}\n")).collect();
    let second = CHANNELS.split("[[channel]]").nth(1).unwrap().replace("\"bracket\"", "\"other\"");
    let two = format!("{CHANNELS}\n[[channel]]{second}");
    let second = run("second", &two, &half, &["--channel", "other", "--degree", "2"]).gives(0);
    let said = &second.output;
    for words in ["11 points, 11 rising, 0 falling", "2, as asked for", "hysteresis     not known"] {
        assert!(said.contains(words), "{words} is not in\n{said}");
    }
    // The first has no curve yet, so the file would not do for a replay.
    let told = "still wrong for a replay:4: channel \"bracket\": needs [channel.gauge.thermal_output]";
    assert!(said.contains(told), "{said}");
    let arguments = [FILE, "run.csv", "--channel", "bracket", "--out", "both"];
    let both = run_in(&second.folder, "commission", &arguments).gives(0);
    assert!(!both.output.contains("still wrong"));
    let arguments = ["both/commissioned.toml", "run.csv", "--out", "replayed"];
    assert!(run_in(&second.folder, "replay", &arguments).gives(0).output.contains("\nother\n"));
}

/// Two gauges on one part, in one run: by hand, the second shows twice the codes of the first at another gauge factor.
#[test]
fn several_channels_of_a_part_in_one_run() {
    let second = CHANNELS.split("[[channel]]").nth(1).unwrap();
    let second = second
        .replace("\"bracket\"", "\"Rib, left\"")
        .replace("\"code\"", "\"twice\"")
        .replace("gauge_factor = 2.085", "gauge_factor = 2.12")
        .replace("code = 1000", "code = 2000");
    let bare = CHANNELS.split("[[channel]]").nth(1).unwrap().replace("\"bracket\"", "\"spare\"");
    let bare = bare.split("[channel.commissioning]").next().unwrap();
    let three = format!("{CHANNELS}\n[[channel]]{second}\n[[channel]]{bare}");
    let with_twice = |by: &dyn Fn(usize, i32) -> i32| -> String {
        let lines = run_file();
        let lines = lines.lines().enumerate().map(|(line, text)| match line {
            0 => format!("{text}\n"),
            1 => format!("{text},twice\n"),
            _ => {
                let code: i32 = text.rsplit(',').next().unwrap().parse().unwrap();
                format!("{text},{}\n", by(line + 1, 2 * code))
            }
        });
        lines.collect()
    };
    // The third has no [channel.commissioning], so it is not asked for.
    let plain = with_twice(&|_, code| code);
    let several = run("several", &three, &plain, &[]).gives(0).without("results/report.txt");
    let said = &several.output;
    assert!(said.contains("bracket\n  channels ") && said.contains("\nRib, left\n  channels "), "{said}");
    for name in ["bracket_report.txt", "rib__left_report.txt", "rib__left_curve.svg", "bracket_budget.csv"] {
        assert!(several.has(&format!("results/{name}")), "{name}");
    }
    let slope = |channel: usize| several.coefficients(FILE, channel)[1];
    let ratio = slope(1) / slope(0);
    // Twice the codes over the gauge factors; the bend of the bridge is some parts in a million here.
    assert!((ratio / (2.0 * 2.085 / 2.12) - 1.0).abs() < 1e-4, "{ratio}");
    assert!(several.channel(FILE, 2)["gauge"].get("thermal_output").is_none());

    // Something wrong with one of them: the one file is not written.
    let odd = with_twice(&|line, code| if line == 9 { code + 900 } else { code });
    let wrong = run("several, one wrong", &three, &odd, &[]).gives(4).without(FILE);
    assert!(wrong.errors.contains("run.csv: line 9: "), "{}", wrong.errors);
    assert!(wrong.has("results/bracket_report.txt"));

    // One by name, and both by name.
    let one = run("one of several", &three, &plain, &["--channel", "Rib, left"]).gives(0);
    assert!(one.has("results/report.txt") && !one.output.contains("bracket\n  channels "));
    let both = ["--channel", "bracket", "--channel", "spare"];
    assert!(run("two by name", &three, &plain, &both).gives(0).has("results/spare_report.txt"));
}

#[test]
fn what_the_command_line_says_goes_before() {
    let options = ["--matches", "11,12.5", "--window", "5,25", "--part", "11.8", "--coverage", "99"];
    let said = run("options", CHANNELS, &run_file(), &options).gives(0).output;
    for words in ["match, on this part from 5 to 25 C", "\n  12.5 ", "band of 99 %", "expanded, 99 %"] {
        assert!(said.contains(words), "{words} is not in\n{said}");
    }
    assert!(!said.contains("\n  13 "));
}

/// A standard uncertainty of 0.5 C is a limit of 0.87; the window stays as far inside of the run.
#[test]
fn what_is_not_said_follows_from_the_rest() {
    let stated = CHANNELS
        .replace("[channel.commissioning]", "[channel.commissioning]\nuncertainty.temperature_c = 0.5");
    let said = run("implied", &stated, &run_file(), &[]).gives(0).output;
    let line = said.lines().find(|line| line.starts_with("match, on this part from")).unwrap();
    let [low, high, ..] = numbers(line, "match, on this part from")[..] else { panic!("{line}") };
    assert!((low - 0.866).abs() < 0.005 && (high - 39.134).abs() < 0.005, "{line}");
    assert!(said.contains("for a temperature that is 0.87 C off, either way"), "{said}");
    // Where nothing is said of the reading, it is the scatter of the run.
    let reading = numbers(&said, "reading ")[0];
    assert!((reading - numbers(&said, "scatter   ")[0]).abs() < 1e-3, "{said}");
    // Without a word on the thermometer there is nothing to compare.
    let said = run("silent", CHANNELS, &run_file(), &[]).output;
    assert!(said.contains("not stated: taken as exact") && !said.contains("left *"), "{said}");
    assert!(said.contains("match, on this part from 0 to 40 C"), "{said}");
}

#[test]
fn temperatures_beyond_the_run_are_taken_back_and_told() {
    let wide = CHANNELS.replace("strain_within", "temperature_within_c = [-10, 30]\nstrain_within");
    let wide = run("wide", &wide, &run_file(), &[]).gives(0);
    assert!(wide.output.contains("temperature_within_c: -10 to 30 C before, now 0 to 30 C"));
    let written = wide.file(FILE);
    assert!(written.contains("temperature_within_c = [0.0, 30.0]"), "{written}");
}

#[test]
fn bad_rows_are_named_and_the_rest_is_used() {
    let run_text = run_file()
        .replace("\n3,", "\n3.x,") // line 6
        .replace("\n5,68,1009", "\n5,hot,1009") // line 8
        .replace("\n7,82.4,", "\n7,82.4,8388607,") // line 10
        .replace("\n9,96.8,", "\n9,96.8,0.5"); // line 12
    let run_text = run_text.replace("\n11,100.4,2796", "\n11,100.4,8388607"); // line 14
    let taken = run("rows", CHANNELS, &run_text, &[]).gives(3);
    let said = &taken.errors;
    for words in [
        "run.csv:6: t: not a number: \"3.x\"",
        "run.csv:8: warm: not a number: \"hot\"",
        "run.csv:10: whole row: not as many cells as the header has: \"4 cells\"",
        "run.csv:12: code: not a whole number: \"0.5",
        "run.csv:14: code: at a rail of the converter, or beyond: \"8388607\"",
    ] {
        assert!(said.contains(words), "{words:?} is not in\n{said}\n{run_text}");
    }
    assert!(taken.output.contains("16 points"), "{}", taken.output);
    let rejected = taken.table("results/rejected.csv");
    let lines: Vec<&str> = rejected.iter().map(|row| row["line"].as_str()).collect();
    assert_eq!(lines, ["6", "8", "10", "12", "14"]);
}

#[test]
fn bad_channel_files_are_told_with_their_lines() {
    let header = "[channel.commissioning]\n";
    for (name, change, to, expected) in [
        ("form", "code = 1000", "code = ", "13: "),
        ("key", "offered_matches", "offered_match", "16: channel \"bracket\": unknown field `offered_match"),
        ("word", "[8.3, 14.7]", "\"nine\"", "16: channel \"bracket\": invalid type"),
        (
            "lead",
            "lead_ohm = 1.2",
            "lead_ohm = -1.2",
            "lead resistance (ohm) is -1.2, allowed: 0 to 350 (lead_ohm of [channel.bridge])",
        ),
        ("circuit", "quarter three-wire", "half bending", "there is no thermal output to commission"),
        (
            "matched",
            ", matched_expansion_ppm_per_c = 11",
            "",
            "matches on offer need matched_expansion_ppm_per_c",
        ),
        (
            "ppm",
            "[8.3, 14.7]",
            "[9, 1e9]",
            "one of offered_matches_ppm_per_c is 1000000000, allowed: -1000 to 1000 ppm per C",
        ),
        (
            "column alone",
            header,
            "run_strain_column = \"code\"\n",
            "run_strain_column and run_gauge_factor go together",
        ),
        (
            "factor",
            header,
            "run_strain_column = \"code\"\nrun_gauge_factor = 0\n",
            "run_gauge_factor is 0, allowed: 0.1 to 500",
        ),
        (
            "window",
            header,
            "window_c = [30, 10]\n",
            "window_c is 30 to 10 C: the first has to be below the second",
        ),
        (
            "wide window",
            header,
            "window_c = [10, 80]\n",
            "upper end of the temperature window (C) is 80, allowed: 0 to 40 (window_c of [channel.commissioning], --window)",
        ),
        (
            "part",
            header,
            "part = { mean_table = [[0, 11], [50, 12]] }\n",
            "[channel.commissioning.part]: needs ppm_per_c, or table, or mean_table and mean_from_c",
        ),
        (
            "part table",
            header,
            "part = { table = [[0, 11], [0, 12]] }\n",
            "[channel.commissioning.part]: temperature of a point of an expansion table (C) is 0, allowed: 0.001 to 2047 (table)",
        ),
        (
            "part in parts of one",
            header,
            "part = { ppm_per_c = 10.1e-6 }\n",
            "[channel.commissioning.part]: ppm_per_c is 0.0000101 ppm per C, allowed: 0, or 0.01 or more either way",
        ),
        (
            "table in parts of one",
            header,
            "part = { table = [[0, 11e-6], [50, 12e-6]] }\n",
            "[channel.commissioning.part]: the largest of table is 0.000012 ppm per C, allowed: ",
        ),
        (
            "uncertainty in parts of one",
            header,
            "part = { ppm_per_c = 10.1, standard_uncertainty_ppm_per_c = 0.2e-6 }\n",
            "[channel.commissioning.part]: standard_uncertainty_ppm_per_c is 0.0000002, allowed: 0, or 0.0001",
        ),
        (
            "offers in parts of one",
            "[8.3, 14.7]",
            "[8.3, 14.7e-6]",
            "one of offered_matches_ppm_per_c is 0.0000147 ppm per C, allowed: 0, or 0.01",
        ),
        (
            "reading in strain",
            header,
            "uncertainty = { reading_microstrain = 0.5e-6 }\n",
            "reading_microstrain of [channel.commissioning.uncertainty] is 0.0000005, allowed: 0, or 0.0001",
        ),
        (
            "material",
            header,
            "package_material = {}\n",
            "[channel.commissioning.package_material]: needs ppm_per_c",
        ),
        (
            "uncertainty",
            header,
            "uncertainty = { temperature_c = -1 }\n",
            "[channel.commissioning.uncertainty]: temperature_c is -1, allowed: 0 to 100",
        ),
    ] {
        // A key below the header, or another text in the place of one.
        let to = if change == header { format!("{header}{to}") } else { to.to_string() };
        let changed = CHANNELS.replace(change, &to);
        assert_ne!(changed, CHANNELS, "{name} changes nothing");
        // Of a line, or of the channel.
        let expected = if expected.starts_with('1') {
            format!("channels.toml:{expected}")
        } else {
            format!("channels.toml:{CHANNEL_LINE}: channel \"bracket\": {expected}")
        };
        run(name, &changed, &run_file(), &[]).refuses(&expected);
    }
}

/// A table of expansion may pass through zero, and a run without any scatter leaves rounding, which a replay takes.
#[test]
fn what_is_nearly_zero_and_may_be() {
    let header = "[channel.commissioning]\n";
    let table = "part = { table = [[0, -1], [20, 0.004], [50, 1]] }\n";
    let channels = CHANNELS.replace(header, &format!("{header}{table}"));
    let exact: String = "t,warm,read\n".to_string()
        + &(0..16)
            .map(|k| format!("{k},{},{}\n", 32.0 + 4.5 * f64::from(k), 0.5 * f64::from(k)))
            .collect::<String>();
    let read = "run_strain_column = \"read\"\nrun_gauge_factor = 2\nuncertainty.temperature_c = 0.1\n";
    let written = run("nearly zero", &(channels + read), &exact, &[]).gives(0).file(FILE);
    assert!(written.contains("thermal_output_microstrain = 0.0,"), "{written}");
}

/// A balance that is 5 microstrain off the run contradicts it, unless it is as uncertain as that.
#[test]
fn a_balance_of_an_instrument_is_as_uncertain_as_it_is_stated() {
    let bridge = CHANNELS.find("bridge = ").unwrap()..CHANNELS.find("balance = ").unwrap();
    let shown = CHANNELS
        .replace(&CHANNELS[bridge], "instrument = { step_microstrain = 0.1, gauge_factor = 2.0 }\n")
        .replace("code_column = \"code\"", "strain_column = \"read\"")
        .replace("code = 1000", "reading_microstrain = 9");
    let rows = (0..16).map(f64::from).map(|k| format!("{k},{},{}\n", 32.0 + 4.5 * k, 0.5 * k));
    let samples = format!("t,warm,read\n{}", rows.collect::<String>());
    for (stated, code) in
        [("", 4), ("balance_noise_microstrain = 0.5", 4), ("balance_noise_microstrain = 3", 0)]
    {
        let balance = format!("uncertainty = {{ {stated} }}\nbalance = ");
        let run = run("balance of an instrument", &shown.replace("balance = ", &balance), &samples, &[])
            .gives(code);
        let words = "two zeros contradict each other, in microstrain at 20 C: 0.00 by [channel.balance]";
        assert_eq!(run.errors.contains(words), code == 4, "{}", run.errors);
    }
}

#[test]
fn another_zero_needs_a_balance() {
    let unbalanced = CHANNELS.replace("balance = { code = 1000, temperature_c = 20 }\n", "").replace(
        "[channel.commissioning]",
        "[channel.commissioning]\nrun_strain_column = \"code\"\nrun_gauge_factor = 2",
    );
    run("unbalanced", &unbalanced, &run_file(), &[])
        .refuses("channels.toml:4: channel \"bracket\": run_strain_column needs [channel.balance]");
}

#[test]
fn a_run_that_does_not_do_is_told() {
    let header = "t,warm,code\n";
    let rows = |rows: &str| format!("{header}{rows}");
    for (name, run_text, expected) in [
        ("empty", String::new(), "run.csv:1: there is no header in it"),
        (
            "columns",
            "\n# none\nt,warm,codes\n0,50,1\n".to_owned(),
            "run.csv:3: there is no column \"code\"; its columns are: t, warm, codes",
        ),
        ("twice", "t,warm,code,warm\n0,50,1,50\n".to_owned(), "run.csv:1: two columns are named \"warm\""),
        ("no rows", rows(""), "run.csv: there is no row in it that can be used"),
        (
            "few",
            rows("0,50,1\n1,90,2\n"),
            "run.csv: number of points of the fit is 2, allowed: 6 or more; fewer do not choose a degree: --degree states one",
        ),
        ("equal", rows("0,68,1\n1,68,2\n2,68,4\n3,68,3\n"), "run.csv: its temperatures lie within 0.1 C"),
        (
            "balance",
            rows("0,70,1\n1,80,2\n2,90,4\n3,100,3\n4,110,5\n5,120,7\n"),
            "run.csv: the channel is balanced at 20 C, outside of the run",
        ),
        ("hot", rows("0,50,1\n1,9999,2\n2,90,4\n"), "run.csv:3: warm: not within -2047 to 2047 C: \"9999\""),
        (
            "back",
            rows("0,50,1\n0,60,2\n2,90,4\n"),
            "run.csv:3: t: out of order: the times around it rise without it: \"0\"",
        ),
    ] {
        run(name, CHANNELS, &run_text, &[]).refuses(expected);
    }
}

#[test]
fn a_file_of_several_wants_a_name() {
    let second = CHANNELS.split("[[channel]]").nth(1).unwrap().replace("\"bracket\"", "\"other\"");
    let two = format!("{CHANNELS}\n[[channel]]{second}");
    let two = two.replace("[channel.commissioning]\noffered_matches_ppm_per_c = [8.3, 14.7]\n", "");
    for (options, expected) in [
        (&[][..], "channels.toml: say with --channel which ones are commissioned"),
        (
            &["--channel", "third"],
            "channels.toml: there is no channel \"third\"; its channels are: bracket, other",
        ),
    ] {
        run("several of no name", &two, &run_file(), options).refuses(expected);
    }
}

#[test]
fn nothing_of_the_users_is_overwritten() {
    let folder = fresh("commission overwrite");
    std::fs::write(folder.join("commissioned.toml"), CHANNELS).unwrap();
    std::fs::write(folder.join("run.csv"), run_file()).unwrap();
    let refused = run_in(&folder, "commission", &["commissioned.toml", "run.csv", "--out", "."]).gives(1);
    assert!(refused.errors.contains("commissioned.toml: would be overwritten"), "{}", refused.errors);
    assert_eq!(refused.file("commissioned.toml"), CHANNELS);

    std::fs::write(folder.join("chamber.csv"), "mine").unwrap();
    let refused = run_in(&folder, "commission", &["--out", "."]).gives(1);
    assert!(refused.errors.contains("chamber.csv: is there already"), "{}", refused.errors);
    assert_eq!(refused.file("chamber.csv"), "mine");
}

/// The name of the run stands in comments of what is written, where a line end would end them.
#[cfg(unix)]
#[test]
fn the_name_of_a_run_may_hold_anything() {
    let files = [("keel.toml", KEEL), ("a\n[run].csv", &COMMISSIONED.file("chamber.csv"))];
    let arguments = ["keel.toml", "a\n[run].csv", "--out", "results"];
    let named = crate::run::run("commission", "commission name of run", &files, &arguments).gives(0);
    for (file, comment) in
        [(FILE, "# Fitted to a [run].csv: "), ("results/commissioned.rs", "// Thermal output of ")]
    {
        let text = named.file(file);
        let line = text.lines().find(|line| line.contains("itted to a [run].csv"));
        assert!(line.is_some_and(|line| line.starts_with(comment)), "{text}");
    }
}

#[test]
fn files_that_are_not_there() {
    for (arguments, missing) in
        [(["none.toml", "run.csv"], "none.toml: "), (["channels.toml", "none.csv"], "none.csv: ")]
    {
        let files = [("channels.toml", CHANNELS)];
        crate::run::run("commission", "commission missing", &files, &arguments).refuses(missing);
    }
}

#[test]
fn help_and_usage() {
    let commission = |arguments: &[&str]| crate::run::run("commission", "commission usage", &[], arguments);
    let said = commission(&["--help"]).gives(0).output;
    for words in [
        "--window",
        "--matches",
        "commissioned.toml",
        "Exit status",
        "licensed engineer",
        "Up and down",
        "A line of the loaded run is left out by a #",
    ] {
        assert!(said.contains(words), "--help does not say {words}:\n{said}");
    }
    for wrong in [&["--nonsense"][..], &["channels.toml"], &["--window", "cold,hot"], &["--degree", "-1"]] {
        commission(wrong).gives(2);
    }
    for (wrong, expected) in [
        (["--degree", "6"], "--degree is 6, allowed: 0 to 5"),
        (["--coverage", "10"], "--coverage is 10, allowed: 50 to 99.9 percent"),
        (["--window", "1,2,3"], "--window takes two temperatures"),
        (["--part", "10.1e-6"], "--part is 0.0000101 ppm per C, allowed: 0, or 0.01 or more either way"),
        (["--part", "nan"], "--part is NaN, allowed: -1000 to 1000 ppm per C"),
        (["--matches", "9,1e-5"], "one of --matches is 0.00001 ppm per C, allowed: 0, or 0.01 or more"),
    ] {
        let errors = commission(&wrong).gives(1).errors;
        assert!(errors.contains(expected), "{errors}");
    }
}
