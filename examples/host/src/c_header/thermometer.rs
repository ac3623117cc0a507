//! The thermometer of a channel as a constant of C.

use super::{constants, in_comment, up};
use crate::sensor::{Live, Sensor};
use gaugewright::Error;
use gaugewright::ffi::{LayoutCompatible, gw_resistance_thermometer, gw_thermocouple};
use gaugewright::units::Celsius;

/// A sensor that is read as codes, for the temperatures of its channel: with its seal behind it, and its range and error bound in
/// a comment. A comment alone where C has no constants for it. `name` is any text.
pub fn thermometer(name: &str, sensor: &Sensor, range: (Celsius, Celsius)) -> String {
    match sensor
        .within(range)
        .and_then(|live| written(name, sensor, range, live).map_err(|it| it.to_string()))
    {
        Ok(text) => text,
        Err(why) => format!("// Thermometer: left out, {}.\n", in_comment(&why)),
    }
}

fn written(
    name: &str,
    sensor: &Sensor,
    (low, high): (Celsius, Celsius),
    live: Live,
) -> Result<String, Error> {
    let (beside, bound, text) = match live {
        Live::Resistance(thermometer) => {
            let kernel = thermometer.try_fixed()?;
            let (first, last) = kernel.codes();
            let words = gw_resistance_thermometer::of(kernel);
            (
                format!("codes {first} to {last}"),
                kernel.error_bound(),
                constants("gw_resistance_thermometer", "thermometer", name, &words),
            )
        }
        Live::Thermocouple(input, (coldest, hottest)) => {
            let kernel = input.try_fixed()?;
            let words = gw_thermocouple::of(kernel);
            (
                format!("cold junction {} to {} C", coldest.0, hottest.0),
                kernel.error_bound(),
                constants("gw_thermocouple", "thermometer", name, &words),
            )
        }
    };
    let bound = up(bound.0, 6);
    Ok(format!(
        "// Thermometer: {sensor}, for {} to {} C, {beside}.\n\
         // Error bound of its arithmetic: {bound:.6} C.\n{text}",
        low.0, high.0
    ))
}
