//! Temperatures from what sensors gave: every kind in the words of a channel file, what is refused, and the flight.

use super::{channels, problems, read};
use crate::demo;
use approx::assert_abs_diff_eq;
use host::samples::{Layout, Samples};
use host::setup::set_up;
use host::stream::Header;
use host::{channel_file, simulation, stream_of_csv};

/// A channel with this sensor; its column is `raw`, and what is beside it `beside`.
fn with(sensor: &str) -> String {
    format!(
        r#"
[[channel]]
name = "part"
code_column = "code"
[channel.gauge]
gauge_factor = 2.0
thermal_output = {{ unit = "C", coefficients = [-24.0, 1.0], fitted_between = [-50, 90] }}
[channel.bridge]
circuit = "quarter"
gauge_ohm = 350
[channel.converter]
bits = 24
full_scale_ratio = 0.0078125
[channel.sensor]
{sensor}
"#
    )
}

const PLATINUM: &str = "kind = \"platinum\"\nnominal_ohm = 100\nohm_column = \"raw\"\nleads = ";
const THERMOCOUPLE: &str = "kind = \"thermocouple\"\nthermocouple_type = \"K\"\nmillivolt_column = \"raw\"\n";
const THERMISTOR: &str = "kind = \"thermistor\"\nohm_column = \"raw\"\n";
const BETA: &str = "nominal_ohm = 10000\nbeta_kelvin = 3950\n";
const STEINHART_HART: &str = "steinhart_hart = [1.004e-3, 2.5e-4, 6.1e-8]\n";
const OHM_CODES: &str =
    "[channel.sensor.converter]\nbits = 24\nfull_scale_ratio = 0.5\nreference_ohm = 400\n";
/// The thermistor's share of the reference voltage, which may be all of it.
const SHARE_CODES: &str =
    "[channel.sensor.converter]\nbits = 24\nfull_scale_ratio = 2\nreference_ohm = 30000\ndivider = true\n";
const MILLIVOLT_CODES: &str = "[channel.sensor.converter]\nbits = 16\nfull_scale_millivolts = 32.768\n";

fn samples(sensor: &str, raw: &str, beside: &str) -> (Samples, Vec<String>) {
    let channels = channels(&with(sensor)).unwrap_or_else(|problems| panic!("{sensor}\n{problems:?}"));
    let (samples, told) = read(&format!("t,code,raw,beside\n0,0,{raw},{beside}\n"), &channels);
    (samples.unwrap(), told)
}

/// Ohms of 100 ohm of platinum from 0 C up, by the equation, and of it below.
fn platinum(t: f64) -> f64 {
    100.0 * (1.0 + 3.9083e-3 * t - 5.775e-7 * t * t)
}

#[test]
fn every_kind_of_sensor_gives_its_temperature() {
    let ohms = |t: f64, leads: f64| (platinum(t) + leads).to_string();
    let codes = |sensor: &str| sensor.replace("ohm_column", "code_column");
    // Half of full scale times 400 ohm is 2^23 codes.
    let code = |t: f64| (platinum(t) / 200.0 * 8_388_608.0).round().to_string();
    let own = "\"four\"\ncallendar_van_dusen = [3.9e-3, 0, 0]";
    let in_codes = THERMOCOUPLE.replace("millivolt_column", "code_column");
    for (sensor, raw, beside, expected, within) in [
        (format!("{PLATINUM}\"four\""), ohms(40.0, 0.0), "", 40.0, 1e-6),
        (format!("{PLATINUM}\"three\"\npair_ohm = 1.5"), ohms(40.0, 1.5), "", 40.0, 1e-6),
        (format!("{PLATINUM}\"three\"\npair_column = \"beside\""), ohms(40.0, 1.75), "1.75", 40.0, 1e-6),
        (format!("{PLATINUM}\"two\"\nlead_ohm = 0.75"), ohms(40.0, 1.5), "", 40.0, 1e-6),
        (format!("{PLATINUM}{own}"), "107.8".into(), "", 20.0, 1e-6),
        // Rounded to 0.01 ohm as IEC 60751 prints it (tests/data/platinum.csv).
        (format!("{PLATINUM}\"four\""), "80.31".into(), "", -50.0, 0.02),
        (codes(&format!("{PLATINUM}\"four\"\n{OHM_CODES}")), code(40.0), "", 40.0, 1e-4),
        (format!("{THERMISTOR}{BETA}"), "10000".into(), "", 25.0, 1e-6),
        // 10 000 of 40 000 ohm are a quarter, of a full scale of two.
        (codes(&format!("{THERMISTOR}{BETA}{SHARE_CODES}")), "1048576".into(), "", 25.0, 1e-6),
        (format!("{THERMISTOR}{BETA}nominal_temperature_c = 20"), "10000".into(), "", 20.0, 1e-6),
        (format!("{THERMISTOR}{BETA}leads = \"two\"\nlead_ohm = 50"), "10100".into(), "", 25.0, 1e-6),
        // 1 over a + b L + c L^3 with L = ln 10000, by hand.
        (format!("{THERMISTOR}{STEINHART_HART}"), "10000".into(), "", 24.9796, 1e-3),
        // By the NIST ITS-90 tables (tests/data/thermocouple_tables.csv): 1.000 mV at 25 C, 2.436 at 60.
        (format!("{THERMOCOUPLE}cold_junction_c = 25"), "1.436".into(), "", 60.0, 0.02),
        (format!("{THERMOCOUPLE}cold_junction_column = \"beside\""), "1.436".into(), "25", 60.0, 0.02),
        (format!("{in_codes}cold_junction_c = 25\n{MILLIVOLT_CODES}"), "1436".into(), "", 60.0, 0.02),
    ] {
        let (samples, told) = samples(&sensor, &raw, beside);
        assert_eq!(told, [""; 0], "{sensor}");
        let found = samples.series[0].temperatures[0].celsius().0;
        assert!((found - expected).abs() < within, "{sensor}: {found}");
    }
}

#[test]
fn a_cold_junction_is_in_the_unit_of_the_channel() {
    let sensor = with(&format!("{THERMOCOUPLE}cold_junction_column = \"beside\""));
    let channels =
        channels(&sensor.replace("\ncode_column", "\ntemperature_unit = \"F\"\ncode_column")).unwrap();
    let (samples, _) = read("t,code,raw,beside\n0,0,0,68\n", &channels);
    let found = samples.unwrap().series[0].temperatures[0].celsius().0;
    assert_abs_diff_eq!(found, 20.0, epsilon = 1e-5);
}

#[test]
fn a_reading_that_the_sensor_cannot_give_is_told_with_its_line() {
    let three = format!("{PLATINUM}\"three\"\npair_column = \"beside\"");
    let cold = format!("{THERMOCOUPLE}cold_junction_column = \"beside\"");
    let coded = format!("{PLATINUM}\"four\"\n{OHM_CODES}").replace("ohm_column", "code_column");
    let share = format!("{THERMISTOR}{BETA}{SHARE_CODES}").replace("ohm_column", "code_column");
    for (sensor, raw, beside, expected) in [
        (&three, "inf", "1.5", "raw: not finite"),
        (&three, "", "1.5", "raw: missing"),
        (&three, "open", "1.5", "raw: not a number"),
        (&three, "110", "-1", "beside: lead resistance (ohm) is -1, allowed: 0 to 20000"),
        (&three, "110", "", "beside: missing"),
        (&three, "1", "1.5", "raw: measured resistance (ohm) is 1, allowed: 1.5 to 100000000"),
        (&three, "5.5", "1.5", "raw: resistance of the temperature sensor (ohm) is 4, allowed: 18.52"),
        (&three, "1e6", "1.5", "raw: resistance of the temperature sensor (ohm) is 999998.5, allowed: 18.52"),
        (&three, "1e9", "1.5", "raw: measured resistance (ohm) is 1000000000, allowed: 1.5 to 100000000"),
        (&cold, "80", "25", "raw: thermocouple EMF (mV) is 80, allowed: "),
        (&cold, "1", "-300", "beside: cold junction temperature (C) is -300, allowed: -270 to 1372"),
        (&cold, "1", "warm", "beside: not a number"),
        (&coded, "12.5", "", "raw: not a whole number"),
        (&coded, "8388607", "", "raw: at a rail of the sensor's converter, or beyond"),
        (&coded, "-8388608", "", "raw: at a rail of the sensor's converter, or beyond"),
        (&coded, "9e9", "", "raw: at a rail of the sensor's converter, or beyond"),
        // More than all of the reference voltage.
        (&share, "4194305", "", "raw: sensor voltage over reference voltage is "),
        (&share, "4194304", "", "raw: sensor voltage over reference voltage is "),
        (&coded, "-5", "", "raw: sensor voltage over reference voltage is "),
        (&coded, "5", "", "raw: resistance of the temperature sensor (ohm) is "),
    ] {
        let (samples, told) = samples(sensor, raw, beside);
        assert_eq!(told.len(), 1, "{raw} {beside}: {told:?}");
        assert!(told[0].starts_with(&format!("2: {expected}")), "{raw} {beside}: {told:?}");
        assert!(samples.series[0].rejected[0]);
        assert_eq!(samples.series[0].temperatures[0].to_bits(), 0);
    }
    // Both at once are both told.
    let (_, told) = samples(&three, "x", "y");
    assert_eq!(told, ["2: raw: not a number: \"x\"", "2: beside: not a number: \"y\""]);
}

#[test]
fn columns_of_a_sensor_have_to_be_there() {
    let three = channels(&with(&format!("{PLATINUM}\"three\"\npair_column = \"beside\""))).unwrap();
    let (samples, _) = read("t,code\n0,0\n", &three);
    let told = samples.err().unwrap();
    assert!(
        told.starts_with("line 1: there is no column \"raw\"; there is no column \"beside\"; its columns"),
        "{told}"
    );
}

#[test]
fn what_contradicts_itself_names_the_key() {
    let four = format!("{PLATINUM}\"four\"\n");
    let cold = format!("{THERMOCOUPLE}cold_junction_c = 20\n");
    let beta = format!("{THERMISTOR}{BETA}");
    let coded = format!("{four}{OHM_CODES}").replace("ohm_column", "code_column");
    let coded_cold = format!("{cold}{MILLIVOLT_CODES}").replace("millivolt_column", "code_column");
    for (sensor, expected) in [
        (
            four.replace("ohm_column", "code_column"),
            "code_column of [channel.sensor] needs [channel.sensor.converter]",
        ),
        (
            format!("{four}{OHM_CODES}"),
            "[channel.sensor.converter] goes with code_column of [channel.sensor]",
        ),
        (
            format!("{four}code_column = \"raw\"\n{OHM_CODES}"),
            "ohm_column and code_column of [channel.sensor] exclude each other",
        ),
        (
            four.replace("ohm_column = \"raw\"", ""),
            "[channel.sensor] needs one of ohm_column and code_column",
        ),
        (
            cold.replace("millivolt_column = \"raw\"", ""),
            "[channel.sensor] needs one of millivolt_column and code_column",
        ),
        (format!("{four}millivolt_column = \"raw\""), "millivolt_column goes with kind = \"thermocouple\""),
        (format!("{cold}ohm_column = \"raw\""), "ohm_column goes with kind = \"platinum\" or \"thermistor\""),
        (four.replace("nominal_ohm = 100\n", ""), "kind = \"platinum\" needs nominal_ohm"),
        (
            four.replace("leads = \"four\"\n", ""),
            "kind = \"platinum\" needs leads: \"two\", \"three\" or \"four\"",
        ),
        (format!("{four}tolerance_class = \"A\""), "tolerance_class and element go together"),
        (format!("{four}element = \"film\""), "tolerance_class and element go together"),
        (
            format!(
                "{four}tolerance_class = \"A\"\nelement = \"film\"\ncallendar_van_dusen = [3.9e-3, 0, 0]"
            ),
            "tolerance_class is about the standard's equation: with callendar_van_dusen say temperature_error_c",
        ),
        (THERMISTOR.to_string(), "kind = \"thermistor\" needs one of steinhart_hart and beta_kelvin"),
        (format!("{beta}{STEINHART_HART}"), "steinhart_hart and beta_kelvin exclude each other"),
        (beta.replace("nominal_ohm = 10000\n", ""), "beta_kelvin needs nominal_ohm"),
        (
            format!("{THERMISTOR}{STEINHART_HART}nominal_ohm = 10000"),
            "nominal_ohm and nominal_temperature_c of a thermistor go with beta_kelvin",
        ),
        (cold.replace("thermocouple_type = \"K\"\n", ""), "kind = \"thermocouple\" needs thermocouple_type"),
        (
            THERMOCOUPLE.to_string(),
            "kind = \"thermocouple\" needs one of cold_junction_column and cold_junction_c",
        ),
        (
            format!("{cold}cold_junction_column = \"beside\""),
            "cold_junction_column and cold_junction_c exclude each other",
        ),
        (format!("{cold}nominal_ohm = 100"), "nominal_ohm goes with kind = \"platinum\" or \"thermistor\""),
        (format!("{cold}leads = \"four\""), "leads goes with kind = \"platinum\" or \"thermistor\""),
        (
            format!("{beta}callendar_van_dusen = [3.9e-3, 0, 0]"),
            "callendar_van_dusen goes with kind = \"platinum\"",
        ),
        (format!("{beta}tolerance_class = \"A\""), "tolerance_class and element go with kind = \"platinum\""),
        (format!("{four}{STEINHART_HART}"), "steinhart_hart goes with kind = \"thermistor\""),
        (format!("{four}beta_kelvin = 3950"), "beta_kelvin goes with kind = \"thermistor\""),
        (
            format!("{four}nominal_temperature_c = 25"),
            "nominal_temperature_c goes with kind = \"thermistor\"",
        ),
        (format!("{four}thermocouple_type = \"K\""), "thermocouple_type goes with kind = \"thermocouple\""),
        (
            format!("{four}cold_junction_c = 20"),
            "cold_junction_column and cold_junction_c go with kind = \"thermocouple\"",
        ),
        (format!("{PLATINUM}\"two\""), "leads = \"two\" needs lead_ohm"),
        (format!("{four}lead_ohm = 1"), "lead_ohm of [channel.sensor] goes with leads = \"two\""),
        (format!("{PLATINUM}\"three\""), "leads = \"three\" needs one of pair_column and pair_ohm"),
        (
            format!("{PLATINUM}\"three\"\npair_ohm = 1\npair_column = \"beside\""),
            "pair_column and pair_ohm exclude each other",
        ),
        (format!("{four}pair_ohm = 1"), "pair_column and pair_ohm go with leads = \"three\""),
        (coded.replace("bits = 24", "bits = 7"), "bits of [channel.sensor.converter] is 7, allowed: 8 to 32"),
        (
            coded.replace("reference_ohm = 400\n", ""),
            "[channel.sensor.converter] of a resistance needs full_scale_ratio and reference_ohm, \
             and no full_scale_millivolts",
        ),
        (
            format!("{coded_cold}divider = true"),
            "divider of [channel.sensor.converter] goes with kind = \"platinum\" or \"thermistor\"",
        ),
        (
            coded_cold + "reference_ohm = 400",
            "[channel.sensor.converter] of a thermocouple needs full_scale_millivolts, \
             and neither full_scale_ratio nor reference_ohm",
        ),
        (
            coded.replace("full_scale_ratio = 0.5", "full_scale_ratio = 0"),
            "full_scale_ratio of [channel.sensor.converter] is 0, allowed: a number above 0",
        ),
    ] {
        assert_eq!(problems(&with(&sensor)), [format!(": channel \"part\": {expected}")], "{sensor}");
    }
}

#[test]
fn what_the_library_refuses_is_told() {
    for (sensor, expected) in [
        (
            format!("{PLATINUM}\"four\"").replace("100", "0"),
            "resistance of the temperature sensor at 0 C (ohm) is 0",
        ),
        (format!("{PLATINUM}\"two\"\nlead_ohm = -1"), "lead resistance (ohm) is -1, allowed: 0 to 10000"),
        (
            format!("{PLATINUM}\"three\"\npair_ohm = nan"),
            "lead resistance (ohm) is missing or not a number, allowed: 0 to 20000",
        ),
        (format!("{THERMISTOR}{BETA}").replace("3950", "39"), "thermistor beta (K) is 39"),
        (format!("{THERMOCOUPLE}cold_junction_c = -400"), "cold junction temperature (C) is -400"),
        (
            format!("{PLATINUM}\"four\"\n{OHM_CODES}")
                .replace("= 400", "= 0")
                .replace("ohm_column", "code_column"),
            "reference resistor (ohm) is 0",
        ),
    ] {
        let told = problems(&with(&sensor));
        let expected = format!(": channel \"part\": [channel.sensor]: {expected}");
        assert!(told.len() == 1 && told[0].starts_with(&expected), "{expected}\n{told:?}");
    }
    let told = problems(&with(&format!("{PLATINUM}\"five\"")));
    assert!(told[0].contains("unknown variant `five`, expected one of `two`, `three`, `four`"), "{told:?}");
    let told = problems(&with(&format!("{PLATINUM}\"four\"\nohms = 3")));
    assert!(told[0].contains("unknown field `ohms`"), "{told:?}");
}

#[test]
fn one_thermometer_is_needed() {
    let needed = [": channel \"part\": needs one of temperature_column and [channel.sensor]"];
    let sensor = with(&format!("{PLATINUM}\"four\""));
    assert_eq!(
        problems(&sensor.replace("\ncode_column", "\ntemperature_column = \"t\"\ncode_column")),
        [": channel \"part\": temperature_column and [channel.sensor] exclude each other"]
    );
    assert_eq!(problems(sensor.split("[channel.sensor]").next().unwrap()), needed);
}

/// What firmware gets as a stream, and what is replayed here: the same codes and temperatures, to the bit.
#[test]
fn the_stream_of_the_flight_holds_what_is_replayed() {
    let mut csv = Vec::new();
    simulation::write_rows(&mut csv, simulation::Noise::Flown, &mut |_| ()).unwrap();
    let stream = stream_of_csv::stream(csv.as_slice()).unwrap();
    let (header, rows) = stream.split_first_chunk().unwrap();
    assert_eq!(Header::from_bytes(header).unwrap().rows, 52_000);
    let mut numbers = rows.chunks_exact(4).map(|bytes| i32::from_le_bytes(bytes.try_into().unwrap()));

    let channels = set_up(channel_file::parse(demo::CHANNELS).unwrap()).unwrap();
    let layout = Layout::of(csv.as_slice(), "time_s", &channels).unwrap();
    let samples = layout.samples(&csv[layout.bytes as usize..], None).unwrap();
    assert_eq!(samples.rejections.len(), 0);
    for row in 0..samples.times.len() {
        for (channel, series) in channels.iter().zip(&samples.series) {
            let mut next = || numbers.next().unwrap();
            assert_eq!(next(), series.codes[row], "{}", channel.name);
            assert_eq!(next(), series.temperatures[row].to_bits(), "{} in row {row}", channel.name);
            if let Some(block) = series.compensating.get(row) {
                assert_eq!(next(), block.to_bits(), "{}", channel.name);
            }
        }
    }
    assert_eq!(numbers.next(), None);
}
