//! Every circuit in the words of a channel file, and what is refused.

use super::{channels, problems, read, results};
use crate::report::Summary;
use approx::assert_abs_diff_eq;
use host::circuit::ThermalOutput;

/// A channel with this bridge, and nothing that says what thermal output is.
fn plain(bridge: &str) -> String {
    format!(
        r#"
[[channel]]
name = "part"
code_column = "code"
temperature_column = "warm"
strain_within_microstrain = 2000
temperature_within_c = [-40, 60]
[channel.bridge]
gauge_ohm = 350
{bridge}
[channel.converter]
bits = 24
full_scale_ratio = 0.0078125
[channel.gauge]
gauge_factor = 2.0
"#
    )
}

const CURVE: &str =
    "thermal_output = { unit = \"C\", coefficients = [-24.0, 1.0], fitted_between = [-50, 90] }\n";

/// A channel with this bridge and a curve.
fn curved(bridge: &str) -> String {
    plain(bridge) + CURVE
}

const HALF: &str = "circuit = \"half compensated\"\nlead_ohm = 0";

/// A half bridge with these lines about its compensating gauge.
fn compensated(second: &str) -> String {
    curved(HALF) + "[channel.compensating]\ntemperature_column = \"cold\"\n" + second
}

#[test]
fn every_circuit_has_its_words() {
    // Codes for a ratio of 1/2000, and the strain they are worth: at a gauge factor of 2 half of 4 r / (1 - 2 r),
    // 4 r / (1 + nu - 2 (1 - nu) r), 2 r, r, 2 r / (1 + nu - (1 - nu) r) and 2 r / (1 - r).
    let code = 536_871;
    let r = f64::from(code) / 8_388_608.0 / 128.0;
    let nu = 0.3;
    for (bridge, words, cancels, signal) in [
        ("circuit = \"quarter\"", "quarter bridge", false, 4.0 * r / (1.0 - 2.0 * r)),
        ("wiring = \"quarter\"", "quarter bridge", false, 4.0 * r / (1.0 - 2.0 * r)),
        (
            "circuit = \"quarter two-wire\"\nlead_ohm = 3.5",
            "quarter bridge",
            false,
            4.0 * r / (1.0 - 2.0 * r) * 1.02,
        ),
        (
            "circuit = \"quarter three-wire\"\nlead_ohm = 3.5",
            "quarter bridge",
            false,
            4.0 * r / (1.0 - 2.0 * r) * 1.01,
        ),
        (HALF, "half bridge, compensated", true, 4.0 * r / (1.0 - 2.0 * r)),
        (
            "circuit = \"half axial and transverse\"\nlead_ohm = 0\npoisson_ratio = 0.3",
            "half bridge, axial and transverse",
            true,
            4.0 * r / (1.0 + nu - 2.0 * (1.0 - nu) * r),
        ),
        ("circuit = \"half bending\"\nlead_ohm = 0", "half bridge, bending", true, 2.0 * r),
        ("circuit = \"half bending\"\nlead_ohm = 0\nreversed = true", "half bridge, bending", true, -2.0 * r),
        ("circuit = \"full bending\"\nlead_ohm = 0", "full bridge, bending", true, r),
        ("circuit = \"full bending\"\nlead_ohm = 3.5", "full bridge, bending", true, r * 1.02),
        ("circuit = \"full torsion\"\nremote_sense = true", "full bridge, torsion", true, r),
        (
            "circuit = \"full torsion\"\nlead_ohm = 3.5\nremote_sense = true\ninput_ohm = 1e15\noutput_lead_ohm = 1",
            "full bridge, torsion",
            true,
            r,
        ),
        (
            "circuit = \"full axial and transverse\"\nlead_ohm = 0\npoisson_ratio = 0.3",
            "full bridge, axial and transverse",
            true,
            2.0 * r / (1.0 + nu - (1.0 - nu) * r),
        ),
        (
            "circuit = \"opposite arms\"\nlead_ohm = 0",
            "two gauges in opposite arms",
            false,
            2.0 * r / (1.0 - r),
        ),
    ] {
        let channels = channels(&curved(bridge)).unwrap();
        let channel = &channels[0];
        let expected = if cancels { ThermalOutput::Cancels } else { ThermalOutput::Shows };
        assert_eq!(channel.thermal_output, expected, "{bridge}");
        // 40 C: this curve has 16 microstrain there.
        let samples = format!("t,code,warm\n0,{code},24\n1,{code},40\n");
        let (results, figures, told) = results(&samples, &channels);
        assert!(told.is_empty());
        let [cool, warm] = [0, 1].map(|row| results.clear_row(row).unwrap().mechanical);
        assert!((cool - signal / 2.0 * 1e6).abs() < 1e-2, "{bridge}: {cool}");
        let shown = if cancels { 0.0 } else { 16.0 };
        assert!((cool - warm - shown).abs() < 1e-2, "{bridge}: {warm}");

        let summary = Summary { channel, figures: &figures, time_column: "t" }.to_string();
        assert!(summary.contains(&format!("circuit        {words}\n")), "{summary}");
        assert_eq!(summary.contains("thermal output cancels"), cancels);
        assert!(summary.contains("circuit error  0.00 nanostrain"));
        // No curve is needed where it would not be used.
        assert_eq!(problems(&plain(bridge)).is_empty(), cancels, "{bridge}");
    }
}

#[test]
fn keys_that_a_circuit_does_not_take_are_told() {
    for (bridge, expected) in [
        (
            "circuit = \"half bending\"",
            "\"quarter three-wire\", \"quarter two-wire\" and the half bridges need lead_ohm, \"quarter\" has none",
        ),
        (
            "circuit = \"full bending\"",
            "full bridges and \"opposite arms\" need lead_ohm of the excitation's leads, or remote_sense = true",
        ),
        (
            "circuit = \"half bending\"\nlead_ohm = 1\nremote_sense = true",
            "remote_sense goes with full bridges and \"opposite arms\": this bridge is completed at the instrument",
        ),
        (
            "circuit = \"full bending\"\nlead_ohm = 1\noutput_lead_ohm = 1",
            "output_lead_ohm matters beside input_ohm only: without, no current flows there",
        ),
        (
            "circuit = \"quarter two-wire\"\nlead_ohm = 1\noutput_lead_ohm = 1\ninput_ohm = 1e6",
            "this circuit has no lead to the output: leave output_lead_ohm out",
        ),
        (
            "circuit = \"full axial and transverse\"\nlead_ohm = 1",
            "an axial and a transverse gauge need poisson_ratio, of the part",
        ),
        (
            "circuit = \"full torsion\"\nlead_ohm = 1\npoisson_ratio = 0.3",
            "poisson_ratio goes with an axial and a transverse gauge: this circuit has no transverse gauge",
        ),
    ] {
        assert_eq!(problems(&curved(bridge)), [format!(": channel \"part\": {expected}")]);
    }
    let told = problems(&curved("circuit = \"full\"\nlead_ohm = 1"));
    assert!(
        told[0].contains("unknown variant `full`, expected one of") && told[0].contains("`full torsion`")
    );
    let told = problems(&curved("circuit = \"quarter\"\nwiring = \"quarter\""));
    assert!(told[0].contains("duplicate field `circuit`"), "{told:?}");
    let told =
        problems(&curved("circuit = \"half axial and transverse\"\nlead_ohm = 0\npoisson_ratio = 0.7"));
    let key = "(poisson_ratio of [channel.bridge])";
    assert_eq!(
        told,
        [format!(": channel \"part\": Poisson ratio of the specimen is 0.7, allowed: 0 to 0.5 {key}")]
    );
}

#[test]
fn a_curve_or_a_range_that_is_needed_is_told() {
    assert_eq!(
        problems(&plain("circuit = \"quarter\"")),
        [
            ": channel \"part\": needs [channel.gauge.thermal_output]: thermal output does not cancel in this channel"
        ]
    );
    let endless = plain(HALF).replace("temperature_within_c = [-40, 60]", "");
    assert_eq!(
        problems(&endless),
        [": channel \"part\": needs temperature_within_c, since there is no [channel.gauge.thermal_output] \
          that would say how far it goes"]
    );
}

#[test]
fn two_temperatures_are_both_used() {
    let balance = "[channel.balance]\ncode = 0\ntemperature_c = 20\n";
    let file = compensated("same_gauge = true\nbalance_temperature_c = 18\n") + balance;
    let channels = channels(&file).unwrap();
    let channel = &channels[0];
    assert_eq!(channel.thermal_output, ThermalOutput::Difference);
    let text = "\
t,code,warm,cold
0,0,20,18
1,0,50,30
2,0,50,hot
3,0,50,95
4,0,50,9999
";
    let (results, figures, told) = results(text, &channels);
    assert_eq!(told, ["4: cold: not a number: \"hot\"", "6: cold: not within -2047 to 2047 C: \"9999\""]);
    assert!(results.row(0).unwrap().mechanical.abs() < 1e-3);
    // 30 microstrain since balance here, 12 there.
    let warm = results.clear_row(1).unwrap();
    assert_abs_diff_eq!(warm.thermal_output, 18.0, epsilon = 1e-9);
    assert_abs_diff_eq!(warm.mechanical, -18.0, epsilon = 1e-3);
    assert!(results.row(2).is_none() && results.row(4).is_none());
    // Held at the 90 C that its curve was fitted on.
    let outside = results.row(3).unwrap();
    assert!(outside.flags.contains(gaugewright::Flags::TEMPERATURE_OUTSIDE));
    assert_abs_diff_eq!(outside.thermal_output, -42.0, epsilon = 1e-9);
    assert_abs_diff_eq!(outside.mechanical, 42.0, epsilon = 1e-3);
    assert!(figures.worst_against_model().unwrap().0 < 0.5);

    let (samples, _) = read("t,code,warm\n0,0,20\n", &channels);
    assert!(samples.err().unwrap().contains("there is no column \"cold\""));
}

#[test]
fn another_gauge_may_compensate() {
    let file = compensated("[channel.compensating.gauge]\ngauge_factor = 2.1\n")
        + &CURVE.replace("1.0]", "2.0]").replace("-24.0", "-48.0");
    let channels = channels(&file).unwrap();
    let (results, ..) = results("t,code,warm,cold\n0,0,34,26\n", &channels);
    // Not balanced: 10 microstrain of one, 4 of the other.
    assert_abs_diff_eq!(results.row(0).unwrap().thermal_output, 6.0, epsilon = 1e-9);
}

#[test]
fn compensating_gauges_that_do_not_fit_are_told() {
    let same = "same_gauge = true\n";
    for (file, expected) in [
        (
            compensated(same).replace("half compensated", "half bending"),
            "[channel.compensating] goes with circuit = \"half compensated\"",
        ),
        (
            compensated(""),
            "[channel.compensating] needs one of same_gauge = true and [channel.compensating.gauge]",
        ),
        (
            compensated(same) + "[channel.compensating.gauge]\ngauge_factor = 2\n" + CURVE,
            "same_gauge = true and [channel.compensating.gauge] exclude each other",
        ),
        (
            compensated("[channel.compensating.gauge]\ngauge_factor = 2\n"),
            "needs [channel.compensating.gauge.thermal_output]: at two temperatures it does not cancel",
        ),
        (
            compensated(&format!("{same}balance_temperature_c = 20\n")),
            "balance_temperature_c of [channel.compensating] needs [channel.balance]",
        ),
        (
            compensated(&format!("{same}temperature_within_c = [-60, 60]\n")),
            "temperature_within_c of [channel.compensating] is -60 to 60 C, \
             the curve is fitted between -50 and 90 C",
        ),
        (
            compensated(same).replace(CURVE, ""),
            "needs [channel.gauge.thermal_output]: thermal output does not cancel in this channel",
        ),
    ] {
        assert_eq!(problems(&file), [format!(": channel \"part\": {expected}")]);
    }
}

/// What the library refuses is told with its key, and where two keys have one name in the library by the value.
#[test]
fn errors_of_the_library_name_the_key() {
    let second = "[channel.compensating.gauge]\ngauge_factor = 2.1\n";
    let two = compensated(second) + CURVE;
    let own_factor = "gauge_factor = 2.0\n";
    assert!(two.contains(own_factor), "{two}");
    let lead = "lead_ohm = 1\n";
    let quarter = format!("circuit = \"quarter three-wire\"\n{lead}");
    let uncertain = |words: &str| curved(&quarter) + &format!("[channel.uncertainty]\n{words}\n");
    for (file, value, keys) in [
        (
            two.replace("gauge_factor = 2.1", "gauge_factor = 0.01"),
            "0.01",
            "gauge_factor of [channel.compensating.gauge]",
        ),
        (two.replacen(own_factor, "gauge_factor = 0.01\n", 1), "0.01", "gauge_factor of [channel.gauge]"),
        (
            two.replace("gauge_factor = 2.1", "gauge_factor = 0.01").replacen(
                own_factor,
                "gauge_factor = 0.01\n",
                1,
            ),
            "0.01",
            "gauge_factor of [channel.gauge] or gauge_factor of [channel.compensating.gauge]",
        ),
        (curved(&quarter.replace(lead, "lead_ohm = -1\n")), "-1", "lead_ohm of [channel.bridge]"),
        (
            curved(&format!("{quarter}input_ohm = 1e7\noutput_lead_ohm = -2")),
            "-2",
            "output_lead_ohm of [channel.bridge]",
        ),
        (curved(&format!("{quarter}input_ohm = 10")), "10", "input_ohm of [channel.bridge]"),
        (
            curved(&quarter).replace("[-24.0, 1.0]", "[40000.0, 1.0]"),
            "",
            "full_scale_ratio of [channel.converter] or code of [channel.balance] or coefficients of [channel.gauge.thermal_output]",
        ),
        (uncertain("lead_ohm = -0.1"), "-0.1", "lead_ohm"),
        (uncertain("gauge_factor_percent = 60"), "60", "gauge_factor_percent"),
        (uncertain("noise_codes = -1"), "-1", "noise_codes"),
        (uncertain("noise_codes = 1\ndegrees_of_freedom = { noise_codes = 0 }"), "0", "degrees_of_freedom"),
    ] {
        let told = problems(&file);
        let [told] = &told[..] else { panic!("{told:?}\n{file}") };
        assert!(value.is_empty() || told.contains(&format!(" is {value}, allowed: ")), "{told}");
        assert!(told.ends_with(&format!(" ({keys})")), "{told} has not {keys}");
    }
}
