//! Keys of a channel that exclude each other, and keys that others call for.

use crate::channel_file::{Curvature, Description, Wiring};

/// All of them, in words.
pub fn contradictions(description: &Description) -> Vec<String> {
    let codes = description.code_column.is_some();
    let readings = description.strain_column.is_some();
    let has_bridge = description.bridge.is_some();
    let has_converter = description.converter.is_some();
    let instrument = description.instrument.as_ref();
    let left_in = instrument.is_some_and(|shown| shown.bridge_curvature == Curvature::LeftIn);
    let balance = description.balance.as_ref();
    let has_balance_code = balance.is_some_and(|balance| balance.code.is_some());
    let has_balance_reading = balance.is_some_and(|balance| balance.reading_microstrain.is_some());
    let gauge = &description.gauge;
    let curve = gauge.gauge_factor_polynomial.as_ref();
    let step = instrument.map_or(1.0, |shown| shown.step_microstrain);
    let promise = description.error_within_nanostrain.unwrap_or(0.5);
    let lead = description.bridge.as_ref().map(|bridge| (bridge.wiring, bridge.lead_ohm.is_some()));
    [
        (codes == readings, "needs one of code_column and strain_column"),
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
            // A step of zero would hide behind a balance that is not a number.
            instrument.is_some() && !(step > 0.0 && step.is_finite()),
            "step_microstrain is a number above 0",
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
            curve.is_some() && gauge.gauge_factor_slope_percent_per_100_c.is_some(),
            "gauge_factor_slope_percent_per_100_c and gauge_factor_polynomial exclude each other",
        ),
        (
            curve.is_some_and(|curve| !(1..=3).contains(&curve.len())),
            "gauge_factor_polynomial has one to three numbers",
        ),
        (
            lead.is_some_and(|(wiring, given)| given == (wiring == Wiring::Quarter)),
            "\"quarter three-wire\" and \"quarter two-wire\" need lead_ohm, \"quarter\" has none",
        ),
        (!(promise > 0.0 && promise.is_finite()), "error_within_nanostrain is a number above 0"),
    ]
    .into_iter()
    .filter(|(wrong, _)| *wrong)
    .map(|(_, text)| text.to_string())
    .collect()
}
