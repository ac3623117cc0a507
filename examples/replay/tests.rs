//! A channel file and samples as a user would write them, good and bad.

mod blocks;
mod circuits;
mod flights;
mod numbers;
mod sensors;
mod temperature_error;
mod uncertainty;

use approx::assert_abs_diff_eq;
use gaugewright::Flags;
use host::channel_file::{Problem, parse};
use host::figures::Figures;
use host::rejected::Rejection;
use host::results::Results;
use host::rows::rising;
use host::samples::{Layout, Samples};
use host::setup::{Channel, set_up};

const CODES: &str = r#"
[[channel]]
name = "boom"
code_column = "code"
temperature_column = "gauge_F"
temperature_unit = "F"
strain_within_microstrain = 3000
[channel.gauge]
gauge_factor = 2.065
thermal_output = { unit = "C", coefficients = [-24.0, 1.0], fitted_between = [-50, 90] }
[channel.bridge]
wiring = "quarter three-wire"
gauge_ohm = 350
lead_ohm = 1.2
[channel.converter]
bits = 16
full_scale_millivolts_per_volt = 7.8125
"#;

const READINGS: &str = r#"
[[channel]]
name = "shown"
strain_column = "reading"
temperature_column = "gauge_F"
temperature_unit = "F"
true_strain_column = "true"
strain_within_microstrain = 3000
[channel.gauge]
gauge_factor = 2.1
thermal_output = { unit = "C", coefficients = [-24.0, 1.0], fitted_between = [-50, 90] }
[channel.instrument]
step_microstrain = 0.1
gauge_factor = 2.0
"#;

fn channels(text: &str) -> Result<Vec<Channel>, Vec<String>> {
    let text = format!("time_column = \"t\"\n{text}");
    let told = |problems: Vec<Problem>| problems.iter().map(ToString::to_string).collect();
    parse(&text).and_then(set_up).map_err(told)
}

/// Without their lines.
fn problems(text: &str) -> Vec<String> {
    let told = channels(text).err().unwrap_or_default();
    let rest = |problem: &String| {
        let rest = problem.trim_start_matches(|letter: char| letter == ':' || letter.is_ascii_digit());
        format!(":{rest}")
    };
    told.iter().map(rest).collect()
}

#[test]
fn what_is_wrong_with_a_channel_is_told_with_its_line() {
    let told = channels(&(CODES.replace("1.2", "-1") + &READINGS.replace("= 3000", "= -1"))).err().unwrap();
    assert!(told[0].starts_with(":3: channel \"boom\": lead resistance"), "{told:?}");
    let second = 3 + CODES.lines().count();
    assert!(told[1].starts_with(&format!(":{second}: channel \"shown\": ")), "{told:?}");
}

/// All rows as one block, and what is rejected.
fn read(text: &str, channels: &[Channel]) -> (Result<Samples, String>, Vec<String>) {
    let layout = match Layout::of(text.as_bytes(), "t", channels) {
        Ok(layout) => layout,
        Err(told) => return (Err(told), Vec::new()),
    };
    let below = &text.as_bytes()[layout.bytes as usize..];
    let rising = rising(&layout.times(below).unwrap());
    let mut samples = layout.samples(below, Some(&rising)).unwrap();
    let in_file = |rejection: Rejection| Rejection { line: layout.lines + rejection.line, ..rejection };
    let told = samples.rejections.drain(..).map(in_file).map(|rejection| rejection.to_string());
    let told = told.collect();
    (Ok(samples), told)
}

/// The results of the first channel, their figures, and what is rejected.
fn results(text: &str, channels: &[Channel]) -> (Results, Figures, Vec<String>) {
    let (samples, told) = read(text, channels);
    let mut samples = samples.unwrap();
    let results = Results::of(&channels[0], samples.series.remove(0)).unwrap();
    let figures = figures(&samples.times, &results);
    (results, figures, told)
}

/// Of the rows of one channel.
fn figures(times: &[f64], results: &Results) -> Figures {
    let mut figures = Figures::default();
    figures.add(times, results);
    figures
}

#[test]
fn the_demonstration_is_a_channel_file_without_problems() {
    let file = parse(crate::demo::CHANNELS).unwrap();
    let channels = set_up(file).unwrap();
    let names: Vec<&str> = channels.iter().map(|channel| channel.name.as_str()).collect();
    assert_eq!(names, host::simulation::channels());
}

#[test]
fn the_demonstration_is_balanced_as_the_ground_crew_wrote() {
    let file = parse(crate::demo::CHANNELS).unwrap();
    for (channel, note) in file.channels.iter().zip(host::simulation::balance_codes()) {
        let balance = channel.balance.as_ref().unwrap();
        assert_eq!(balance.code, Some(f64::from(note.code)), "{}", note.channel);
        assert_eq!(balance.temperature_c, note.celsius, "{}", note.channel);
        let second = channel.compensating.as_ref();
        let block = second.and_then(|second| second.balance_temperature_c);
        assert_eq!(block, note.block_celsius, "{}", note.channel);
    }
}

#[test]
fn every_channel_is_told_what_the_library_refuses() {
    let bad = CODES.replace("1.2", "-1");
    let worse = READINGS.replace("step_microstrain = 0.1", "step_microstrain = 1e9");
    assert_eq!(
        problems(&(bad + &worse)),
        [
            ": channel \"boom\": lead resistance (ohm) is -1, allowed: 0 to 350 (lead_ohm of [channel.bridge])",
            ": channel \"shown\": strain per count (microstrain) is 1000000000, allowed: 0.000001 to 1000 \
             (step_microstrain of [channel.instrument])",
        ]
    );
}

#[test]
fn keys_that_exclude_each_other_are_told() {
    let both = CODES.replace("code_column = \"code\"", "code_column = \"c\"\nstrain_column = \"s\"");
    assert_eq!(problems(&both)[0], ": channel \"boom\": code_column and strain_column exclude each other");
    let twice = format!("{CODES}{CODES}");
    assert_eq!(problems(&twice), [": channel \"boom\": another channel has this name"]);
    let no_lead = CODES.replace("lead_ohm = 1.2", "");
    assert!(problems(&no_lead)[0].contains("need lead_ohm"));
}

/// Ratios where millionths of them are asked for, and V/V where it is mV/V: refused with the unit, and zero is not.
#[test]
fn values_of_another_unit_are_told() {
    let gauge = "gauge_factor = 2.065\n";
    let specimen = "gauge_factor = 2.065\nmatched_expansion_ppm_per_c = 23.0\n";
    let uncertain = |words: &str| format!("uncertainty = {{ {words} }}\nstrain_within");
    let codes = |from: &str, to: &str| problems(&CODES.replacen(from, to, 1));
    let readings = |from: &str, to: &str| problems(&READINGS.replacen(from, to, 1));
    let curve = "coefficients = [-24.0, 1.0]";
    for (told, words) in [
        (
            codes(gauge, &specimen.replace("23.0", "23e-6")),
            "matched_expansion_ppm_per_c of [channel.gauge] is 0.000023 ppm per C, allowed: 0, or 0.01 or more either way; \
             0.000023 per C are 23 ppm per C",
        ),
        (
            problems(&CODES.replacen(gauge, specimen, 1).replacen(
                "strain_within",
                "specimen_expansion_ppm_per_c = -10.1e-6\nstrain_within",
                1,
            )),
            "specimen_expansion_ppm_per_c is -0.0000101 ppm per C, allowed: 0, or 0.01 or more either way; -0.0000101 per C \
             are -10.1 ppm per C",
        ),
        (
            codes(curve, "coefficients = [-24e-6, 1e-6]"),
            "coefficients of [channel.gauge.thermal_output]: 7.400e-5 microstrain at most between -50 and 90 C, allowed: 0, \
             or 0.01 or more somewhere; the unit is microstrain, and not strain",
        ),
        (
            codes(
                gauge,
                &format!(
                    "{gauge}gauge_factor_refers_to = \"free foil\"\nforced_strain_microstrain = [0, 8.35e-6]\n"
                ),
            ),
            "forced_strain_microstrain of [channel.gauge]: 8.350e-4 microstrain at most between -100 and 100 C, \
             allowed: 0, or 0.01 or more somewhere; the unit is microstrain, and not strain",
        ),
        (
            codes("full_scale_millivolts_per_volt = 7.8125", "full_scale_millivolts_per_volt = 0.0078125"),
            "full_scale_millivolts_per_volt is 0.0078125, allowed: 0.05 or more; 0.0078125 V/V are 7.8125 mV/V",
        ),
        (
            codes("strain_within", &uncertain("expansion_ppm_per_c = 0.3e-6")),
            "expansion_ppm_per_c of [channel.uncertainty] is 0.0000003, allowed: 0, or 0.0001 or more; \
             a ratio of 0.0000003 is 0.3 ppm per C",
        ),
        (
            readings("strain_within", &uncertain("noise_microstrain = 2e-7")),
            "noise_microstrain of [channel.uncertainty] is 0.0000002, allowed: 0, or 0.0001 or more; \
             a ratio of 0.0000002 is 0.2 microstrain",
        ),
    ] {
        let [told] = &told[..] else { panic!("{told:?}") };
        assert!(told.ends_with(&format!("\": {words}")), "{told}");
    }
    assert_eq!(codes(gauge, &specimen.replace("23.0", "0.01")), [""; 0]);
    assert_eq!(codes(gauge, &specimen.replace("23.0", "0")), [""; 0]);
    assert_eq!(codes(curve, "coefficients = [0.0, 0.0]"), [""; 0]);
    assert_eq!(codes("strain_within", &uncertain("expansion_ppm_per_c = 0")), [""; 0]);
}

#[test]
fn zero_and_span_on_site_have_ranges_that_can_be() {
    let told = |channel: &str, range: &str| {
        let keys = format!("on_site = {{ balance_code_within = [{range}] }}\nstrain_within");
        problems(&channel.replacen("strain_within", &keys, 1))
    };
    assert_eq!(told(CODES, "-1000, 1000"), [""; 0]);
    for (range, wrong) in [("0.5, 1000", "0.5"), ("0, 3e9", "3000000000"), ("nan, 0", "NaN")] {
        let whole = format!("has {wrong}, allowed: whole numbers that 32 bits can hold");
        let expected = format!(": channel \"boom\": balance_code_within of [channel.on_site] {whole}");
        assert_eq!(told(CODES, range), [expected]);
    }
    assert_eq!(told(READINGS, "0, 1"), [": channel \"shown\": [channel.on_site] goes with code_column"]);
    let span = told(CODES, "0, 1], span_correction_within = [0.5, 1").concat();
    let key = "(span_correction_within of [channel.on_site])";
    let expected = format!("zero and span on site: span correction is 0.5, allowed: 0.8 to 1.25 {key}");
    assert!(span.contains(&expected), "{span}");
    let strict = CODES.replace("strain_within", "error_within_nanostrain = 0.282\nstrain_within");
    let missed = told(&strict, "-8000, 8000").concat();
    assert!(missed.contains("zero and span on site: the error bound is 0.28"), "{missed}");
}

#[test]
fn an_error_limit_that_is_exceeded_is_told() {
    let strict = CODES.replace("strain_within", "error_within_nanostrain = 0.01\nstrain_within");
    let told = &problems(&strict)[0];
    assert!(told.contains("the limit is 0.01") && told.ends_with(" (error_within_nanostrain)"), "{told}");
}

#[test]
fn bad_cells_are_told_with_their_line_and_the_rest_is_used() {
    let channels = channels(&format!("{CODES}{READINGS}")).unwrap();
    let text = "\
# a comment

t,code,gauge_F,reading,true
0,100,75.2,12.3,12.3
# another
1,12.5,75.2,abc,
2,,inf,1,1

3,3,9999,1.55,1
3,3,75.2,1,1
4,3,75.2,1
5,40,75.2,400000000,x
6,32767,75.2,1,1";
    for text in [text.to_string(), text.replace('\n', "\r\n"), format!("\u{feff}{text}\n")] {
        let (samples, told) = read(&text, &channels);
        assert_eq!(
            told,
            [
                "6: code: not a whole number: \"12.5\"",
                "6: reading: not a number: \"abc\"",
                "7: code: missing",
                "7: gauge_F: not finite: \"inf\"",
                "9: gauge_F: not within -2047 to 2047 C: \"9999\"",
                "9: reading: not a whole number of the instrument's steps: \"1.55\"",
                "10: t: out of order: the times around it rise without it: \"3\"",
                "11: whole row: not as many cells as the header has: \"4 cells\"",
                "12: reading: beyond 32 bits: \"400000000\"",
                "12: true: not a number: \"x\"",
            ]
        );
        let samples = samples.unwrap();
        assert_eq!(samples.times.len(), 8);
        let [codes, readings] = samples.series.try_into().ok().unwrap();
        let results = Results::of(&channels[0], codes).unwrap();
        assert_eq!(results.usable_rows().collect::<Vec<_>>(), [0, 6, 7]);
        let flags = figures(&samples.times, &results).flags;
        let at_rail = Flags::ALL.iter().position(|(flag, _)| *flag == Flags::CODE_AT_RAIL).unwrap();
        assert_eq!(flags[at_rail], (1, Some(6.0)));
        // 24 C is where this curve is zero: what is left is the bridge.
        let first = results.row(0).unwrap();
        assert!(first.thermal_output.abs() < 1e-9);
        assert_abs_diff_eq!(first.mechanical, first.indicated, epsilon = 1e-3);

        // The instrument's gauge factor is 2.0, the gauge's 2.1.
        let results = Results::of(&channels[1], readings).unwrap();
        let first = results.row(0).unwrap();
        assert_abs_diff_eq!(first.indicated, 12.3, epsilon = 1e-3);
        assert_abs_diff_eq!(first.mechanical, 12.3 * 2.0 / 2.1, epsilon = 1e-3);
        let comparison = figures(&samples.times, &results).comparison().unwrap();
        assert_eq!(comparison.rows, 2);
        assert!(comparison.differences[0].worst < 1e-3);
    }
}

#[test]
fn columns_that_are_missing_are_all_named() {
    let channels = channels(&format!("{CODES}{READINGS}")).unwrap();
    let (samples, _) = read("t,gauge_F,true,true\n0,1,2,3\n", &channels);
    assert_eq!(
        samples.err().unwrap(),
        "line 1: there is no column \"code\"; there is no column \"reading\"; two columns are named \"true\"; \
         its columns are: t, gauge_F, true, true"
    );
}
