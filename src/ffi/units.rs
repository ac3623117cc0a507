//! To and from the two formats.

use crate::fixed;

/// Steps of a temperature in one degree Celsius: a thermometer that counts sixteenths of a degree gives
/// counts * (GW_STEPS_PER_DEGREE / 16), for counts of -32768 to 32767.
pub const GW_STEPS_PER_DEGREE: i32 = 1048576;

const _: () = assert!(GW_STEPS_PER_DEGREE == fixed::Temperature::PER_DEGREE);

/// A temperature in Q20 degrees Celsius from thousandths of a degree Celsius, rounded down. Beyond +-2047 C it is that of the
/// nearest end, which no kernel's range contains, so that it is flagged. Takes a 64-bit division: once a
/// temperature, not once a sample.
///
/// ```
/// use gaugewright::ffi::*;
/// assert_eq!(gw_temperature_from_millicelsius(-40_000), -40 * GW_STEPS_PER_DEGREE);
/// assert_eq!(gw_temperature_from_millicelsius(i32::MAX), 2047 * GW_STEPS_PER_DEGREE);
/// ```
#[unsafe(no_mangle)]
pub extern "C" fn gw_temperature_from_millicelsius(thousandths: i32) -> i32 {
    let low = -2_047_000;
    let clamped = if thousandths < low {
        low
    } else if thousandths > -low {
        -low
    } else {
        thousandths
    };
    match fixed::Temperature::from_millicelsius(clamped) {
        Ok(temperature) => temperature.to_bits(),
        // It is in range.
        Err(_) => 0,
    }
}

/// Strain in nanostrain, rounded down: 1 nanostrain is 17.18 steps.
///
/// ```
/// assert_eq!(gaugewright::ffi::gw_nanostrain(17_179_869), 999_999);
/// ```
#[unsafe(no_mangle)]
pub extern "C" fn gw_nanostrain(strain: i32) -> i32 {
    fixed::Strain::from_bits(strain).nanostrain()
}
