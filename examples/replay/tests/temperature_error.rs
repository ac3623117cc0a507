//! What an error of the temperature makes of the strain, against slopes by hand.

use super::{channels, problems, results};
use crate::report::Summary;

/// Thermal output of 0.5 (t - 24)^2 microstrain for a gauge factor of 2, a gauge factor of 2 (1 + (t - 24) / 1000), an
/// instrument at 2 (steep, so that the arithmetic is off a little more than usual), and these lines about the channel and its sensor.
fn curved(lines: &str, sensor: &str) -> String {
    format!(
        r#"
[[channel]]
name = "part"
strain_column = "reading"
strain_within_microstrain = 3000
error_within_nanostrain = 1
{lines}
[channel.gauge]
gauge_factor = 2.0
gauge_factor_slope_percent_per_100_c = 10
thermal_output = {{ unit = "C", coefficients = [288.0, -24.0, 0.5], fitted_between = [-100, 90] }}
[channel.instrument]
step_microstrain = 1
gauge_factor = 2.0
{sensor}
"#
    )
}

const COLUMN: &str = "temperature_column = \"c\"\n";

fn summary(file: &str, samples: &str) -> String {
    let channels = channels(file).unwrap();
    let (_, figures, told) = results(samples, &channels);
    assert_eq!(told, [""; 0]);
    Summary { channel: &channels[0], figures: &figures, time_column: "t" }.to_string()
}

/// The cells of a line of the table, behind its name.
fn line<'a>(summary: &'a str, what: &str) -> Vec<&'a str> {
    let start = summary.find("error of the temperature").unwrap();
    let line = summary[start..].lines().find(|line| line.trim_start().starts_with(what)).unwrap();
    line.split_whitespace().skip(1).collect()
}

#[test]
fn slopes_are_those_of_the_curve_and_of_the_gauge_factor() {
    let file = curved(&format!("{COLUMN}temperature_error_c = 0.5"), "");
    let said = summary(&file, "t,c,reading\n0,34,1000\n1,54,1000\n2,-16,500\n3,24,0\n4,95,0\n");
    // Thermal output: d. Strain: (e - d^2 / 2) / (1 + d / 1000), so -(d + strain / 1000) / (1 + d / 1000).
    let strain = |e: f64, d: f64| (e - d * d / 2.0) / (1.0 + d / 1000.0);
    let slope = |e: f64, d: f64| -(d + strain(e, d) / 1000.0) / (1.0 + d / 1000.0);
    for (what, time, celsius, e) in
        [("hottest", "1", 54.0, 1000.0), ("coldest", "2", -16.0, 500.0), ("steepest", "2", -16.0, 500.0)]
    {
        let d = celsius - 24.0;
        let of_strain: f64 = slope(e, d);
        let expected = [
            time.to_string(),
            format!("{celsius:.2}"),
            "0.50".to_string(),
            format!("{d:.3}"),
            format!("{of_strain:.3}"),
            format!("{:.2}", (0.5 * of_strain).abs()),
        ];
        assert_eq!(line(&said, what), expected, "{said}");
    }
    assert!(said.contains("error of the temperature (stated)"));
    assert!(said.lines().all(|line| line.len() <= 100), "{said}");
}

#[test]
fn the_tolerance_of_a_platinum_sensor_is_taken_where_it_holds() {
    let sensor =
        "[channel.sensor]\nkind = \"platinum\"\nohm_column = \"c\"\nnominal_ohm = 100\nleads = \"four\"\n";
    let class = format!("{sensor}tolerance_class = \"B\"\nelement = \"film\"\n");
    // 100 ohm is 0 C, 70 ohm below the -50 C where the class ends.
    let samples = "t,c,reading\n0,100,0\n1,70,5000\n";
    let said = summary(&curved("", &class), samples);
    assert!(said.contains("error of the temperature (tolerance of class B, film)"), "{said}");
    assert!(said.contains("sensor         platinum of 100 ohm, four leads, from ohms"), "{said}");
    assert_eq!(line(&said, "hottest")[2], "0.30");
    let cold = line(&said, "coldest");
    assert_eq!((cold[2], cold[5]), ("unknown", "unknown"));
    // What is stated counts before a class.
    let said = summary(&curved("temperature_error_c = 0.05", &class), samples);
    assert!(said.contains("error of the temperature (stated)"));
    assert_eq!(line(&said, "coldest")[2], "0.05");
    // Neither: nothing is said.
    for file in [curved("", sensor), curved(COLUMN, "")] {
        let said = summary(&file, "t,c,reading\n0,80,2500\n");
        assert!(said.contains("coldest") && !said.contains("error of the temperature"), "{said}");
    }
}

/// Where thermal output cancels, the gauge factor is left.
#[test]
fn a_bridge_that_cancels_has_no_steepest_place() {
    let bridge = "[channel.bridge]\ncircuit = \"half bending\"\ngauge_ohm = 350\nlead_ohm = 0\n\
                  [channel.converter]\nbits = 24\nfull_scale_ratio = 0.0078125\n";
    let file = curved(&format!("{COLUMN}temperature_error_c = 2"), "");
    let start = file.find("[channel.instrument]").unwrap();
    let file = file[..start].replace("strain_column", "code_column") + bridge;
    let said = summary(&file, "t,c,reading\n0,24,1000000\n1,44,1000000\n");
    let part = &said[said.find("error of the temperature").unwrap()..];
    assert!(!part.contains("steepest"));
    // e / (1 + d / 1000) at d = 0, where e is the ratio over gauge factor 2 times 2.
    let strain = 1e6 / 8_388_608.0 / 128.0 * 1e6;
    let cold = line(&said, "coldest");
    assert_eq!(cold[3], "cancels");
    assert_eq!(cold[4], format!("{:.3}", -strain / 1000.0));
    assert_eq!(cold[5], format!("{:.2}", 2.0 * strain / 1000.0));
}

#[test]
fn an_error_that_is_none_is_told() {
    for (error, shown) in [("0", "0"), ("-0.1", "-0.1"), ("nan", "NaN"), ("inf", "inf")] {
        assert_eq!(
            problems(&curved(&format!("{COLUMN}temperature_error_c = {error}"), "")),
            [format!(": channel \"part\": temperature_error_c is {shown}, allowed: a number above 0")]
        );
    }
}
