//! What commissioning says of wiring, shunt and leads before the run, against the formulas of a bridge by hand (voltage dividers; what a
//! shunt does to a quarter bridge on three leads is common practice, no source).

use crate::run::{COMMISSIONED, KEEL, Run};
use support::keel::Truth;

/// The keel: ohms, code and ratio at balance.
const GAUGE: f64 = 350.0;
const LEAD: f64 = 2.5;
const RATIO: f64 = 454_192.0 / 8_388_608.0 / 128.0;

/// What the output gives for a gauge, its completion and leads: as far as the divider of gauge and completion goes.
fn ratio(gauge: f64, completion: f64, lead: f64) -> f64 {
    (gauge + lead) / (gauge + completion + 2.0 * lead) - 0.5
}

/// The completion that gives the ratio at balance.
fn completion() -> f64 {
    (GAUGE + LEAD) / (RATIO + 0.5) - GAUGE - 2.0 * LEAD
}

/// Codes more with a shunt between the terminals of output and excitation: its current passes the lead of the output.
fn change(shunt: f64) -> f64 {
    let upper = 1.0 / (1.0 / (completion() + LEAD) + 1.0 / (shunt + LEAD));
    let middle = (GAUGE + LEAD) / (GAUGE + LEAD + upper);
    let output = middle + (1.0 - middle) * LEAD / (shunt + LEAD);
    (output - 0.5 - RATIO) * 128.0 * 8_388_608.0
}

/// The number before these words.
fn before(said: &str, words: &str) -> f64 {
    let start = said.split(words).next().filter(|start| start.len() < said.len());
    let start = start.unwrap_or_else(|| panic!("{words:?} is not in\n{said}"));
    let cell = start.trim_end().rsplit([' ', '(', ':']).next().unwrap();
    cell.parse().unwrap_or_else(|_| panic!("{cell:?} before {words:?}"))
}

#[test]
fn the_demonstration_is_in_order_and_says_what_the_bridge_does() {
    let said = COMMISSIONED.words();
    assert!(said.contains("a bridge in order, with resistors within"), "{said}");
    let expected = before(&said, "codes (");
    assert!((expected - change(100_000.0)).abs() < 0.1, "{expected} {}", change(100_000.0));
    // What the resistor's tolerance does, by the same formula, in the microstrain of a gauge factor of 2.045.
    let tolerance = before(&said, "by that tolerance)");
    let by_hand = before(&said, "microstrain, within") * (change(99_900.0) / change(100_000.0) - 1.0);
    assert!((tolerance - by_hand).abs() < 0.006, "{tolerance} {by_hand}");
    let observed = before(&said, "codes, standard uncertainty");
    let span = before(&said, "by the shunt; 1 stays");
    assert!((span - expected / observed).abs() < 1e-6, "{span}");
    // The shunt has 0.03 % more than it says, and the bridge is out of balance by its gauge, not by its completion: 4 times the ratio.
    assert!((span - (1.0 + 3e-4 - 4.0 * RATIO + 3.4e-4)).abs() < 5e-5, "{span}");
    assert!((before(&said, "because the resistor that") - 400.0 * RATIO).abs() < 6e-4);

    // Copper gains 0.39 % a degree (common practice, no source).
    let warm = LEAD * 1.0039;
    let to_strain = |lead: f64| {
        let sum = GAUGE + completion() + 2.0 * lead;
        2.045 * GAUGE * (completion() + lead) / (sum * sum)
    };
    let shown = (ratio(GAUGE, completion(), warm) - RATIO) / to_strain(LEAD) * 1e6;
    let leads = before(&said, "microstrain, -0.0028 % of sensitivity");
    assert!((leads - shown).abs() < 1e-4, "{leads} {shown}");
    let sensitivity = 100.0 * (to_strain(warm) / to_strain(LEAD) - 1.0);
    assert!((sensitivity + 0.0028).abs() < 6e-5, "{sensitivity}");
}

/// The keel with other values of these keys, or without, commissioned from the demonstration's run.
fn keel(name: &str, changes: &[(&str, String)], more: &[&str]) -> Run {
    let mut channels = KEEL.to_string();
    for (key, value) in changes {
        let start = channels.find(&format!("\n{key} = ")).unwrap() + 1;
        let end = start + channels[start..].find('\n').unwrap();
        channels.replace_range(start..end, value);
    }
    crate::run::keel(&format!("commission installation {name}"), &channels, more)
}

#[test]
fn a_fault_is_named_and_keeps_the_file_from_being_written() {
    let at_rest = |codes: &str| ("at_rest_codes", format!("at_rest_codes = {codes}"));
    let shunted = |codes: &str| ("shunted_codes", format!("shunted_codes = {codes}"));
    let nothing = |key: &'static str| (key, String::new());
    let open = [at_rest("[454192, 8388607]"), nothing("shunted_codes")];
    for (name, changes, words) in [
        ("open", open.clone(), "explained by: arm 1 open, lead of arm 1 broken"),
        ("shorted", [at_rest("[-8388608]"), nothing("shunted_codes")], "explained by: arm 1 shorted"),
        // A gauge of 2.5 % more: nothing that the wiring does.
        (
            "odd",
            [at_rest("[7000000]"), nothing("shunted_codes")],
            "no fault of the wiring explains it; the gauge of arm 1 alone would be +2.4",
        ),
        ("reversed", [at_rest("[454192]"), shunted("[-502144]")], "the wrong sign, as where OUT+ and OUT-"),
        (
            "off",
            [at_rest("[454192]"), shunted("[454200]")],
            "the shunt is not connected, or nothing is excited",
        ),
        ("little", [at_rest("[454192]"), shunted("[1400000]")], "span correction is 1.0111"),
        ("rail", [at_rest("[454192]"), shunted("[8388607]")], "code with the shunt is 8388607, allowed: "),
        (
            "one apart",
            [at_rest("[454190, 454194, 654193]"), shunted("[1411515]")],
            "of the span stay open (0.10 % at most): one of them does not belong there",
        ),
    ] {
        let run = keel(name, &changes, &[]);
        let said = run.words();
        assert!(said.contains(words), "{name}: {words:?} is not in\n{said}");
        run.refused();
    }
    // A rail is no wrong sign.
    let said = keel("at a rail", &[at_rest("[8388607]")], &[]).words();
    assert!(
        said.contains("balance code is 8388607, allowed: ") && !said.contains("the wrong sign"),
        "{said}"
    );
    assert!(keel("accepted", &open, &["--accept"]).gives(4).has("commissioned.toml"));
}

/// A microstrain of the keel, in codes: a quarter bridge with leads of 2.5 ohm.
fn codes(microstrain: f64) -> f64 {
    (microstrain * 2.045e-6 / 4.0 / (1.0 + LEAD / GAUGE) * 128.0 * 8_388_608.0).round()
}

/// The code of the balance, the codes at rest and a run in codes are compared, at the temperature of the balance.
#[test]
fn zeros_that_contradict_each_other_are_told_with_both_values() {
    let at_rest = |by: f64| ("at_rest_codes", format!("at_rest_codes = [{}]", 454_192.0 + codes(by)));
    let at = |celsius: &str| ("at_rest_temperature_c", format!("at_rest_temperature_c = {celsius}"));
    let balance = |by: f64| ("code", format!("code = {}", 454_192.0 + codes(by)));
    let nothing = |key: &'static str| (key, String::new());
    let own = || [nothing("run_strain_column"), nothing("run_gauge_factor")];
    let pair = |one: &str, other: &str| [format!(" by {one} (standard"), format!(" by {other} (standard")];
    let (stated, rest, run) = ("[channel.balance]", "at_rest_codes", "the run");
    let no_shunt = nothing("shunted_codes");
    let cold = Truth::new().output(2.0, 2.045);
    assert!(cold < -30.0, "{cold}");
    for (name, mut changes, is_own, pairs) in [
        ("sound", vec![at_rest(3.0)], true, vec![]),
        ("rest", vec![at_rest(20.0)], true, vec![pair(stated, rest), pair(rest, run)]),
        ("rest alone", vec![at_rest(-20.0)], false, vec![pair(stated, rest)]),
        ("balance", vec![at_rest(0.0), balance(25.0)], true, vec![pair(stated, rest), pair(stated, run)]),
        // Where its temperature is stated the thermal output from there to balance is no contradiction; where it is not, that of 10 C
        // is allowed for.
        ("cold", vec![at_rest(cold), at("2")], true, vec![]),
        ("cold, not stated", vec![at_rest(-15.0), nothing("at_rest_temperature_c")], true, vec![]),
        (
            "not stated",
            vec![at_rest(-60.0), nothing("at_rest_temperature_c")],
            false,
            vec![pair(stated, rest)],
        ),
    ] {
        changes.push(no_shunt.clone());
        changes.extend(own().into_iter().filter(|_| is_own));
        let run = keel(&format!("zero {name}"), &changes, &[]).gives(if pairs.is_empty() { 0 } else { 4 });
        let said = run.words();
        let start = "keel.toml:7: channel \"fitting_keel\": two zeros contradict each other, ";
        let found: Vec<&str> = run.errors.lines().filter(|line| line.starts_with(start)).collect();
        assert_eq!(found.len(), pairs.len(), "{name}: {said}");
        for (line, [one, other]) in found.iter().zip(&pairs) {
            assert!(line.contains("microstrain at 19.75 C: "), "{line}");
            assert!(
                line.contains(one) && line.contains(other) && line.contains(" apart, allowed: "),
                "{line}"
            );
        }
        assert_eq!(run.has("commissioned.toml"), pairs.is_empty(), "{name}");
        let words = "at_rest_temperature_c is not stated, so 10 C from balance are allowed for";
        assert_eq!(said.contains(words), name == "not stated", "{name}: {said}");
    }
    // Both values and how far they are apart.
    let said = keel("zero figures", &[at_rest(20.0), no_shunt], &[]).words();
    let words = said.split("19.75 C: 0.00 by [channel.balance] (standard uncertainty ").nth(1).unwrap();
    assert!(
        words.contains(") and 20.00 by at_rest_codes (") && words.contains(" are 20.00 apart, "),
        "{said}"
    );
}

/// A converter that shows 0.6 % too little: the span is corrected in the file, and in the codes of the run.
#[test]
fn a_span_that_the_shunt_does_not_explain_is_written() {
    let observed = (change(100_000.0) / 1.006).round();
    let changes = [
        ("shunted_codes", format!("shunted_codes = [{}]", 454_192.0 + observed)),
        ("span_correction_within", "span_correction_within = [0.99, 1.01]".to_string()),
        ("at_rest_codes", "at_rest_codes = [454192]".to_string()),
        ("run_strain_column", String::new()),
        ("run_gauge_factor", String::new()),
    ];
    let span_of =
        |run: &Run| run.channel("commissioned.toml", 0)["converter"].get("span_correction")?.as_float();
    let corrected = keel("span", &changes, &[]).gives(0);
    let said = corrected.words();
    assert!(said.contains("1.006000 in place of 1;"), "{said}");
    let span = span_of(&corrected).unwrap();
    assert!((span - 1.006).abs() < 2e-6, "{span}");
    // Firmware takes the same number.
    let constant = corrected.file("commissioned.rs");
    assert!(constant.ends_with(&format!("\npub const SPAN_CORRECTION: f64 = {span:?};\n")), "{constant}");
    // All codes count 0.6 % more, apart from what the bridge bends.
    let as_it_is = keel("span as it is", &changes[3..], &[]).gives(0);
    assert!(!as_it_is.file("commissioned.rs").contains("SPAN_CORRECTION") && span_of(&as_it_is).is_none());
    let slope = |run: &Run| run.coefficients("commissioned.toml", 0)[1];
    assert!((slope(&corrected) / slope(&as_it_is) - 1.006).abs() < 2e-4);
}

/// A converter that shows 3 % too little and whose file says so: the shunt confirms the span, without a range of spans as well; and
/// the demonstration's codes, which want a span of 1, are then refused.
#[test]
fn a_stated_span_is_judged_as_it_is_stated() {
    let stated = "full_scale_millivolts_per_volt = 7.8125\nspan_correction = 1.03".to_string();
    let observed = (change(100_000.0) / 1.03).round();
    let changes = [
        ("full_scale_millivolts_per_volt", stated),
        ("span_correction_within", String::new()),
        ("at_rest_codes", "at_rest_codes = [454192]".to_string()),
        ("shunted_codes", format!("shunted_codes = [{}]", 454_192.0 + observed)),
    ];
    let run = keel("stated span", &changes, &[]).gives(0);
    let span = before(&run.words(), "by the shunt; 1.03 stays");
    assert!((span / 1.03 - 1.0).abs() < 2e-3, "{span}");
    let file = run.file("commissioned.toml");
    assert!(file.contains("\nspan_correction = 1.03\n"), "{file}");
    let run = keel("other than the stated span", &changes[..3], &[]);
    let said = run.words();
    assert!(said.contains("with the shunt, span correction is 0.998"), "{said}");
    assert!(said.contains("allowed: 1.02") && said.contains(" to 1.03"), "{said}");
    run.refused();
}

#[test]
fn what_the_codes_are_compared_with_has_to_be_stated() {
    let nothing = |key: &'static str| (key, String::new());
    for (name, changes, words) in [
        ("no shunt", vec![nothing("shunt")], "shunted_codes needs shunt of [channel.on_site]"),
        ("no rest", vec![nothing("at_rest_codes")], "shunted_codes needs at_rest_codes"),
        ("no rest, warm", vec![nothing("at_rest_codes")], "at_rest_temperature_c needs at_rest_codes"),
        (
            "hot rest",
            vec![("at_rest_temperature_c", "at_rest_temperature_c = 150".to_string())],
            "at_rest_temperature_c is 150, allowed: -85.99",
        ),
        (
            "nothing",
            vec![nothing("shunt"), nothing("resistor_tolerance_percent"), nothing("shunted_codes")],
            "at_rest_codes needs resistor_tolerance_percent or shunt of [channel.on_site]",
        ),
        (
            "none",
            vec![("at_rest_codes", "at_rest_codes = []".to_string())],
            "at_rest_codes has 0 codes, allowed: 1 to 65536",
        ),
        (
            "small shunt",
            vec![("shunt", "shunt = { arm = 2, ohm = 5, at = \"instrument\" }".to_string())],
            "shunt of [channel.on_site]: shunt resistance (ohm) is 5, allowed: ",
        ),
        (
            "wide span",
            vec![("span_correction_within", "span_correction_within = [0.998, 1.5]".to_string())],
            "keel.toml:7: channel \"fitting_keel\": span correction is 1.5, allowed: 0.8 to 1.25 \
             (span_correction_within of [channel.on_site])",
        ),
        (
            "narrow limit",
            vec![(
                "strain_within_microstrain",
                "strain_within_microstrain = 5000\nerror_within_nanostrain = 0.01".to_string(),
            )],
            "keel.toml:7: channel \"fitting_keel\": with the curve of the run, the kernel's error bound is 0.",
        ),
        (
            "wide",
            vec![("resistor_tolerance_percent", "resistor_tolerance_percent = 30".to_string())],
            "resistor_tolerance_percent of [channel.on_site]: ",
        ),
    ] {
        let said = keel(name, &changes, &[]).gives(1).without("commissioned.toml").errors;
        assert!(said.contains(words), "{name}: {said}");
    }
    // None of it is asked for: it is said.
    let changes =
        ["shunt", "resistor_tolerance_percent", "shunted_codes", "at_rest_codes", "at_rest_temperature_c"]
            .map(nothing);
    let said = keel("silent", &changes, &[]).gives(0).words();
    assert!(said.contains("at rest not checked: at_rest_codes is not stated"), "{said}");
    assert!(
        said.contains("zero not compared: that takes two of [channel.balance], at_rest_codes and"),
        "{said}"
    );
    assert!(said.contains("shunt not checked: shunted_codes is not stated"), "{said}");
    assert!(said.contains("span not stated: taken as exact gauge factor"), "{said}");
}
