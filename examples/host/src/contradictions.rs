//! Keys of a channel that exclude each other, keys that others call for, and values that have to be in another unit.

use crate::channel_file::on_site::OnSite;
use crate::channel_file::uncertainty::Uncertainty;
use crate::channel_file::{Basis, Circuit, Compensating, Curvature, Description, Gauge, Scale};
use crate::circuit::{self, ThermalOutput};
use crate::on_site::arm;
use crate::sensor;

/// What is wrong if it is, in words.
type Rule = (bool, &'static str);

/// All of them.
pub fn contradictions(description: &Description) -> Vec<String> {
    let mut rules = source(description).to_vec();
    rules.extend(temperature(description));
    rules.extend(description.sensor.iter().flat_map(sensor::contradictions));
    rules.extend(gauge(&description.gauge));
    if let Some(bridge) = &description.bridge {
        rules.extend(circuit::contradictions(bridge));
    }
    rules.extend(thermal_output(description));
    if let Some(on_site) = &description.on_site {
        rules.extend(of_site(description, on_site));
    }
    if let Some(words) = &description.uncertainty {
        rules.extend(uncertainty(description, words));
    }
    if let Some(second) = &description.compensating {
        rules.extend(compensating(description, second));
    }
    let mut problems: Vec<String> =
        rules.into_iter().filter(|(wrong, _)| *wrong).map(|(_, text)| text.to_string()).collect();
    problems.extend(values(description));
    problems.extend(units(description));
    problems
}

/// Values that the library does not see as the file has them.
fn values(description: &Description) -> Vec<String> {
    let mut problems = Vec::new();
    let is_number_above_zero = |value: f64| value > 0.0 && value.is_finite();
    let of_sensor = description.sensor.as_ref().and_then(|sensor| sensor.converter.as_ref());
    if let Some(converter) = of_sensor.filter(|converter| !(8..=32).contains(&converter.bits)) {
        problems.push(format!("bits of [channel.sensor.converter] is {}, allowed: 8 to 32", converter.bits));
    }
    for (key, value) in [
        (
            "full_scale_ratio of [channel.sensor.converter]",
            of_sensor.and_then(|converter| converter.full_scale_ratio),
        ),
        (
            "full_scale_millivolts of [channel.sensor.converter]",
            of_sensor.and_then(|converter| converter.full_scale_millivolts),
        ),
        ("error_within_nanostrain", description.error_within_nanostrain),
        ("temperature_error_c", description.temperature_error_c),
        // A step of zero would hide behind a balance that is not a number.
        (
            "step_microstrain of [channel.instrument]",
            description.instrument.as_ref().map(|shown| shown.step_microstrain),
        ),
    ] {
        if let Some(value) = value.filter(|value| !is_number_above_zero(*value)) {
            problems.push(format!("{key} is {value}, allowed: a number above 0"));
        }
    }
    // In steps of the instrument it would be another number.
    if let Some(words) = &description.uncertainty {
        for (key, value) in [
            ("noise_microstrain", words.noise_microstrain),
            ("quantisation_microstrain", words.quantisation_microstrain),
            ("balance_noise_microstrain", words.balance_noise_microstrain),
        ] {
            if let Some(value) = value.filter(|value| !(*value >= 0.0 && value.is_finite())) {
                problems.push(format!("{key} of [channel.uncertainty] is {value}, allowed: 0 or more"));
            }
        }
    }
    if let Some(on_site) = &description.on_site {
        let is_code = |code: &f64| f64::from(*code as i32) == *code;
        if let Some(code) = on_site.balance_code_within.iter().find(|code| !is_code(code)) {
            problems.push(format!(
                "balance_code_within of [channel.on_site] has {code}, allowed: whole numbers that 32 bits can hold"
            ));
        }
        if let Some(shunt) = on_site.shunt.as_ref().filter(|shunt| arm(shunt).is_none()) {
            problems
                .push(format!("arm of a shunt in [channel.on_site] is {}, allowed: 1, 2, 3 or 4", shunt.arm));
        }
    }
    problems
}

/// Values that are no more than a millionth part of what is usual, as strain and expansion are without "micro" and "ppm", and a full scale
/// in V/V.
fn units(description: &Description) -> Vec<String> {
    let second = description.compensating.as_ref();
    let second_gauge = second.and_then(|second| second.gauge.as_ref());
    let mut problems = Vec::new();
    for (key, ppm) in [
        ("specimen_expansion_ppm_per_c", description.specimen_expansion_ppm_per_c),
        ("matched_expansion_ppm_per_c of [channel.gauge]", description.gauge.matched_expansion_ppm_per_c),
        (
            "specimen_expansion_ppm_per_c of [channel.compensating]",
            second.and_then(|it| it.specimen_expansion_ppm_per_c),
        ),
        (
            "matched_expansion_ppm_per_c of [channel.compensating.gauge]",
            second_gauge.and_then(|it| it.matched_expansion_ppm_per_c),
        ),
    ] {
        problems.extend(ppm.and_then(|ppm| not_in_ppm(key, &[ppm])));
    }
    for (table, gauge) in
        [("[channel.gauge", Some(&description.gauge)), ("[channel.compensating.gauge", second_gauge)]
    {
        let Some(gauge) = gauge else { continue };
        if let Some(curve) = &gauge.thermal_output {
            let key = format!("coefficients of {table}.thermal_output]");
            let unit = if matches!(curve.unit, Scale::Celsius) { "C" } else { "F" };
            problems.extend(curve_not_in_microstrain(&key, &curve.coefficients, curve.fitted_between, unit));
        }
        let forced = gauge.forced_strain_microstrain.as_deref().unwrap_or_default();
        let key = format!("forced_strain_microstrain of {table}]");
        problems.extend(curve_not_in_microstrain(&key, forced, [-100.0, 100.0], "C"));
    }
    let full_scale = description.converter.as_ref().and_then(|it| it.full_scale_millivolts_per_volt);
    if let Some(millivolts) = full_scale.filter(|it| *it > 0.0 && *it < LEAST_FULL_SCALE) {
        problems.push(format!(
            "full_scale_millivolts_per_volt is {millivolts}, allowed: {LEAST_FULL_SCALE} or more; {millivolts} V/V are {} mV/V",
            in_millionths(millivolts * 1e3)
        ));
    }
    if let Some(words) = &description.uncertainty {
        for (key, unit, value) in [
            ("expansion_ppm_per_c", PPM, words.expansion_ppm_per_c),
            ("thermal_output_microstrain", MICROSTRAIN, words.thermal_output_microstrain),
            (
                "thermal_output_slope_microstrain_per_c",
                "microstrain per C",
                words.thermal_output_slope_microstrain_per_c,
            ),
            ("noise_microstrain", MICROSTRAIN, words.noise_microstrain),
            ("quantisation_microstrain", MICROSTRAIN, words.quantisation_microstrain),
            ("balance_noise_microstrain", MICROSTRAIN, words.balance_noise_microstrain),
        ] {
            let key = format!("{key} of [channel.uncertainty]");
            problems.extend(value.and_then(|value| uncertainty_not_in_millionths(&key, unit, value)));
        }
    }
    problems
}

/// Units of an uncertainty whose value is in millionths.
pub const PPM: &str = "ppm per C";
pub const MICROSTRAIN: &str = "microstrain";

/// Expansions of solids are zero or larger (common practice, no source), in ppm per C.
const LEAST_EXPANSION: f64 = 0.01;
/// Thermal output and forced strain are zero or larger somewhere, in microstrain.
const LEAST_OUTPUT: f64 = 0.01;
/// No uncertainty of an expansion or a strain is known so well, in millionths.
pub const LEAST_UNCERTAINTY: f64 = 1e-4;
/// A full scale is not below 100 microstrain of a quarter bridge at a gauge factor of 2 (common practice, no source), in mV/V.
const LEAST_FULL_SCALE: f64 = 0.05;

/// Expansions under this key, one or a table of them, that have to be in another unit than ppm per C; a table may pass through zero.
pub fn not_in_ppm(key: &str, values: &[f64]) -> Option<String> {
    let size = |value: &f64| value.abs();
    let largest = values.iter().copied().max_by(|one, other| size(one).total_cmp(&size(other)))?;
    (largest != 0.0 && largest.abs() < LEAST_EXPANSION).then(|| {
        format!(
            "{key} is {largest} ppm per C, allowed: 0, or {LEAST_EXPANSION} or more either way; {largest} per C are {} ppm per C",
            in_millionths(largest * 1e6)
        )
    })
}

/// An uncertainty that has to be in another unit.
pub fn uncertainty_not_in_millionths(key: &str, unit: &str, value: f64) -> Option<String> {
    (value > 0.0 && value < LEAST_UNCERTAINTY).then(|| {
        format!(
            "{key} is {value}, allowed: 0, or {LEAST_UNCERTAINTY} or more; a ratio of {value} is {} {unit}",
            in_millionths(value * 1e6)
        )
    })
}

/// A polynomial of the temperature that has to be in another unit than microstrain.
fn curve_not_in_microstrain(
    key: &str,
    coefficients: &[f64],
    [low, high]: [f64; 2],
    unit: &str,
) -> Option<String> {
    let at = |degrees: f64| coefficients.iter().rev().fold(0.0, |sum, term| sum * degrees + term);
    let temperatures = (0..=20).map(|piece| low + (high - low) * f64::from(piece) / 20.0);
    let largest = temperatures.map(|degrees| at(degrees).abs()).fold(0.0, f64::max);
    (largest > 0.0 && largest < LEAST_OUTPUT).then(|| {
        format!(
            "{key}: {largest:.3e} microstrain at most between {low} and {high} {unit}, allowed: 0, or {LEAST_OUTPUT} or more \
             somewhere; the unit is microstrain, and not strain"
        )
    })
}

/// Without the digits that come of a change of unit.
pub fn in_millionths(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

/// What the samples are, and what goes with that.
fn source(description: &Description) -> [Rule; 15] {
    let codes = description.code_column.is_some();
    let readings = description.strain_column.is_some();
    let has_bridge = description.bridge.is_some();
    let has_converter = description.converter.is_some();
    let instrument = description.instrument.as_ref();
    let left_in = instrument.is_some_and(|shown| shown.bridge_curvature == Curvature::LeftIn);
    let balance = description.balance.as_ref();
    let has_balance_code = balance.is_some_and(|balance| balance.code.is_some());
    let has_balance_reading = balance.is_some_and(|balance| balance.reading_microstrain.is_some());
    let is_across = description.bridge.as_ref().is_some_and(circuit::has_transverse_gauge);
    let sensitive = description.gauge.transverse_sensitivity_percent.is_some_and(|percent| percent != 0.0);
    [
        (!codes && !readings, "needs one of code_column and strain_column"),
        (codes && readings, "code_column and strain_column exclude each other"),
        (codes && !has_bridge, "code_column needs [channel.bridge]"),
        (codes && !has_converter, "code_column needs [channel.converter]"),
        (codes && instrument.is_some(), "[channel.instrument] goes with strain_column"),
        (readings && instrument.is_none(), "strain_column needs [channel.instrument]"),
        (readings && has_converter, "[channel.converter] goes with code_column"),
        (readings && left_in && !has_bridge, "bridge_curvature = \"left in\" needs [channel.bridge]"),
        (
            readings && !left_in && has_bridge,
            "strain_column takes [channel.bridge] only with bridge_curvature = \"left in\"",
        ),
        (
            readings && description.strain_within_microstrain.is_none(),
            "strain_column needs strain_within_microstrain",
        ),
        (
            instrument.is_some() && description.instrument_gauge_factor.is_some(),
            "instrument_gauge_factor is said twice: [channel.instrument] has its gauge_factor",
        ),
        (
            balance.is_some() && codes && (!has_balance_code || has_balance_reading),
            "[channel.balance] of a code_column needs code, and no reading_microstrain",
        ),
        (
            balance.is_some() && readings && (has_balance_code || !has_balance_reading),
            "[channel.balance] of a strain_column needs reading_microstrain, and no code",
        ),
        (
            description.strain_ratio.is_some() && description.gauge.transverse_sensitivity_percent.is_none(),
            "strain_ratio needs transverse_sensitivity_percent of [channel.gauge]",
        ),
        (
            is_across && sensitive && description.strain_ratio.is_none(),
            "transverse_sensitivity_percent needs strain_ratio where a gauge lies across the load: minus poisson_ratio",
        ),
    ]
}

/// Where the temperature comes from.
fn temperature(description: &Description) -> [Rule; 2] {
    let (column, sensor) = (description.temperature_column.is_some(), description.sensor.is_some());
    [
        (!column && !sensor, "needs one of temperature_column and [channel.sensor]"),
        (column && sensor, "temperature_column and [channel.sensor] exclude each other"),
    ]
}

fn gauge(gauge: &Gauge) -> [Rule; 5] {
    let curve = gauge.gauge_factor_polynomial.as_ref();
    let forced = gauge.forced_strain_microstrain.as_ref();
    let free_foil = gauge.gauge_factor_refers_to == Basis::FreeFoil;
    [
        (
            curve.is_some() && gauge.gauge_factor_slope_percent_per_100_c.is_some(),
            "gauge_factor_slope_percent_per_100_c and gauge_factor_polynomial exclude each other",
        ),
        (
            curve.is_some_and(|curve| !(1..=3).contains(&curve.len())),
            "gauge_factor_polynomial has one to three numbers",
        ),
        (
            free_foil && forced.is_none(),
            "gauge_factor_refers_to = \"free foil\" needs forced_strain_microstrain",
        ),
        (
            !free_foil && forced.is_some(),
            "forced_strain_microstrain goes with gauge_factor_refers_to = \"free foil\"",
        ),
        (
            forced.is_some_and(|curve| !(1..=4).contains(&curve.len())),
            "forced_strain_microstrain has one to four numbers",
        ),
    ]
}

/// Where there has to be a curve, and what there has to be without.
fn thermal_output(description: &Description) -> [Rule; 2] {
    let has_curve = description.gauge.thermal_output.is_some();
    let cancels = ThermalOutput::of(description) == ThermalOutput::Cancels;
    [
        (
            !cancels && !has_curve,
            "needs [channel.gauge.thermal_output]: thermal output does not cancel in this channel",
        ),
        (
            cancels && !has_curve && description.temperature_within_c.is_none(),
            "needs temperature_within_c, since there is no [channel.gauge.thermal_output] that would say \
             how far it goes",
        ),
    ]
}

/// Zero and span on site.
fn of_site(description: &Description, on_site: &OnSite) -> [Rule; 2] {
    let has_check = on_site.resistor_tolerance_percent.is_some() || on_site.shunt.is_some();
    [
        (description.code_column.is_none(), "[channel.on_site] goes with code_column"),
        (
            has_check && description.compensating.is_some(),
            "resistor_tolerance_percent and shunt of [channel.on_site] do not go with [channel.compensating]",
        ),
    ]
}

/// Standard uncertainties.
fn uncertainty(description: &Description, words: &Uncertainty) -> [Rule; 5] {
    let has_bridge = description.bridge.is_some();
    let degrees = words.degrees_of_freedom.as_ref();
    let of_codes = [words.noise_codes, words.quantisation_codes, words.balance_noise_codes];
    let of_readings =
        [words.noise_microstrain, words.quantisation_microstrain, words.balance_noise_microstrain];
    let of_bridge = [words.lead_ohm, words.lead_temperature_c, words.poisson_ratio];
    [
        (
            description.compensating.is_some(),
            "[channel.uncertainty] does not go with [channel.compensating]: the library has no budget of a channel \
             whose two gauges have a temperature each",
        ),
        (
            degrees.is_some_and(|degrees| degrees.degrees_of_freedom.is_some()),
            "degrees_of_freedom of [channel.uncertainty] have none of their own",
        ),
        (
            description.code_column.is_none() && of_codes.iter().any(Option::is_some),
            "noise_codes, quantisation_codes and balance_noise_codes of [channel.uncertainty] go with code_column",
        ),
        (
            description.strain_column.is_none() && of_readings.iter().any(Option::is_some),
            "noise_microstrain, quantisation_microstrain and balance_noise_microstrain of [channel.uncertainty] go with \
             strain_column",
        ),
        (
            !has_bridge && of_bridge.iter().any(Option::is_some),
            "lead_ohm, lead_temperature_c and poisson_ratio of [channel.uncertainty] need [channel.bridge]",
        ),
    ]
}

/// A compensating gauge, and the channel that it is in.
fn compensating(description: &Description, second: &Compensating) -> Vec<Rule> {
    let is_half = description.bridge.as_ref().is_some_and(|it| it.circuit == Circuit::HalfCompensated);
    let package = second.gauge.as_ref();
    let mut rules = vec![
        (!is_half, "[channel.compensating] goes with circuit = \"half compensated\""),
        (
            !second.same_gauge && package.is_none(),
            "[channel.compensating] needs one of same_gauge = true and [channel.compensating.gauge]",
        ),
        (
            second.same_gauge && package.is_some(),
            "same_gauge = true and [channel.compensating.gauge] exclude each other",
        ),
        (
            second.balance_temperature_c.is_some() && description.balance.is_none(),
            "balance_temperature_c of [channel.compensating] needs [channel.balance]",
        ),
        (
            package.is_some_and(|package| package.thermal_output.is_none()),
            "needs [channel.compensating.gauge.thermal_output]: at two temperatures it does not cancel",
        ),
    ];
    rules.extend(package.map(gauge).into_iter().flatten());
    rules
}
