//! Thermometers from the converter's code: a platinum resistor or a thermistor, and a thermocouple.

use core::ffi::c_char;

use super::message::{Writer, name_flags};
use super::pointer::{LayoutCompatible, as_ref, write};
use super::*;
use crate::fixed::Temperature;
use crate::temperature::{
    NO_READING, Reading, ResistanceKernel, SensorPair, ThermocoupleKernel, ThermometerFlags,
};

/// A temperature and its flags.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_temperature_reading {
    /// Q20 degrees Celsius, as every kernel takes it.
    pub temperature: i32,
    /// GW_THERMOMETER_... or-ed together; 0 if all was in order.
    pub flags: u32,
}

impl gw_temperature_reading {
    /// What has flags that no sensor raises is not usable.
    pub(super) fn of_rust(self) -> Reading {
        let flags = ThermometerFlags::of_word(self.flags).unwrap_or(ThermometerFlags::OPEN);
        Reading { temperature: Temperature::from_bits(self.temperature), flags }
    }
}

/// The temperature is outside the thermometer's range, and given as that of the nearest end.
pub const GW_THERMOMETER_OUTSIDE: u32 = 1;
/// The sensor is shorted. The temperature has no meaning.
pub const GW_THERMOMETER_SHORTED: u32 = 2;
/// The sensor is open: the code is at a rail of the converter. The temperature has no meaning.
pub const GW_THERMOMETER_OPEN: u32 = 4;
/// The cold junction is outside its range; its EMF is that of the nearest end.
pub const GW_THERMOMETER_COLD_JUNCTION_OUTSIDE: u32 = 8;
/// The last usable reading is older than allowed; this is its temperature.
pub const GW_THERMOMETER_STALE: u32 = 16;
/// One of two sensors is not usable; this is the temperature of the other.
pub const GW_THERMOMETER_ONE_SENSOR: u32 = 32;
/// There is no usable reading yet. The temperature is 0 and has no meaning.
pub const GW_THERMOMETER_NO_READING: u32 = 0x4000_0000;
/// The pointer was null. The temperature is 0 and has no meaning.
pub const GW_THERMOMETER_NULL: u32 = 0x8000_0000;

const _: () = {
    assert!(GW_THERMOMETER_OUTSIDE == ThermometerFlags::OUTSIDE.bits() as u32);
    assert!(GW_THERMOMETER_SHORTED == ThermometerFlags::SHORTED.bits() as u32);
    assert!(GW_THERMOMETER_OPEN == ThermometerFlags::OPEN.bits() as u32);
    assert!(GW_THERMOMETER_COLD_JUNCTION_OUTSIDE == ThermometerFlags::COLD_JUNCTION_OUTSIDE.bits() as u32);
    assert!(GW_THERMOMETER_STALE == ThermometerFlags::STALE.bits() as u32);
    assert!(GW_THERMOMETER_ONE_SENSOR == ThermometerFlags::ONE_SENSOR.bits() as u32);
    assert!(GW_THERMOMETER_NO_READING == NO_READING);
};

/// Temperature in the low half, flags in the high one.
pub type gw_packed_temperature = u64;

#[inline(always)]
pub(super) const fn packed_temperature(reading: Reading) -> gw_packed_temperature {
    reading.temperature.to_bits() as u32 as u64 | (reading.flags.bits() as u64) << 32
}

/// No temperature, and why. Out of line: a jump over it is all that the usual call pays.
#[cold]
#[inline(never)]
pub(super) const fn no_temperature(flag: u32) -> gw_packed_temperature {
    (flag as u64) << 32
}

/// A platinum resistor or a thermistor behind a converter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct gw_resistance_thermometer {
    /// Numbers as the library has them.
    pub words: [u32; 85],
}

/// A thermocouple behind a converter.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct gw_thermocouple {
    /// Numbers as the library has them.
    pub words: [u32; 348],
}

// SAFETY: integers of four bytes, and of one byte and three that fill a word.
unsafe impl LayoutCompatible for gw_resistance_thermometer {
    type Viewed = ResistanceKernel<i32, 16>;
}

// SAFETY: as above.
unsafe impl LayoutCompatible for gw_thermocouple {
    type Viewed = ThermocoupleKernel<i32, 64, 4>;
}

/// Temperature for a code, any code. Flags: OUTSIDE, SHORTED, OPEN.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let thermometer = example::resistance_thermometer();
/// // A Pt100 beside 4096 ohm, 24 bits with a gain of 8: 100 ohm, and an open sensor. Safe: it lives here.
/// let read = |code| unsafe { gw_resistance_thermometer_reading_packed(&thermometer, code) };
/// assert!((read(1_638_400) as i32).abs() < GW_STEPS_PER_DEGREE / 1000);
/// assert_eq!((read(8_388_607) >> 32) as u32, GW_THERMOMETER_OPEN);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_resistance_thermometer_reading_packed(
    thermometer: *const gw_resistance_thermometer,
    code: i32,
) -> gw_packed_temperature {
    // SAFETY: as required of the caller.
    let Some(thermometer) = (unsafe { as_ref(thermometer) }) else {
        return no_temperature(GW_THERMOMETER_NULL);
    };
    match thermometer.viewed().reading_within(code) {
        Some(reading) => packed_temperature(reading),
        None => outside(thermometer, code),
    }
}

/// Out of line and called last, so that the usual call needs no frame.
#[cold]
#[inline(never)]
fn outside(thermometer: &gw_resistance_thermometer, code: i32) -> gw_packed_temperature {
    packed_temperature(thermometer.viewed().reading(code))
}

/// The lowest and the highest code of the range, ends included.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let thermometer = example::resistance_thermometer();
/// let (mut low, mut high) = (0, 0);
/// // Safe: all of them live here.
/// assert_eq!(unsafe { gw_resistance_thermometer_codes(&thermometer, &mut low, &mut high) }, GW_STATUS_OK);
/// assert!(low < 1_638_400 && 1_638_400 < high); // 0 C
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_resistance_thermometer_codes(
    thermometer: *const gw_resistance_thermometer,
    low: *mut i32,
    high: *mut i32,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(thermometer) = (unsafe { as_ref(thermometer) }) else { return GW_STATUS_NULL };
    if low.is_null() || high.is_null() {
        return GW_STATUS_NULL;
    }
    let (first, last) = thermometer.viewed().codes();
    // SAFETY: as required of the caller.
    unsafe {
        write(low, first);
        write(high, last)
    }
}

/// Temperature of the hot junction for a code and the temperature of the cold one (Q20 degrees Celsius), any of both. Flags:
/// OUTSIDE, OPEN, COLD_JUNCTION_OUTSIDE. Those of the cold junction's own thermometer are left to the caller.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let thermocouple = example::thermocouple();
/// // Type K, 24 bits for 78.125 mV: 4.000 mV beside a cold junction at 25 C. Safe: it lives here.
/// let packed = unsafe { gw_thermocouple_reading_packed(&thermocouple, 429_497, 25 * GW_STEPS_PER_DEGREE) };
/// assert_eq!((packed as i32 / GW_STEPS_PER_DEGREE, packed >> 32), (121, 0));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_thermocouple_reading_packed(
    thermocouple: *const gw_thermocouple,
    code: i32,
    cold_junction: i32,
) -> gw_packed_temperature {
    // SAFETY: as required of the caller.
    let Some(thermocouple) = (unsafe { as_ref(thermocouple) }) else {
        return no_temperature(GW_THERMOMETER_NULL);
    };
    packed_temperature(thermocouple.viewed().reading(code, Temperature::from_bits(cold_junction)))
}

/// Temperature at a gauge between two sensors, `fraction` (Q16, 0 to 65536; more is 65536, and flagged OUTSIDE) of the way from the
/// first to the second, with the flags of both; ONE_SENSOR where one is not usable. A null pointer and no reading count as OPEN.
///
/// ```
/// use gaugewright::ffi::*;
/// let at = |celsius, flags| gw_temperature_reading { temperature: celsius * GW_STEPS_PER_DEGREE, flags };
/// let packed = gw_sensor_pair_reading_packed(65536 / 4, at(20, 0), at(40, 0));
/// assert_eq!((packed as i32, packed >> 32), (25 * GW_STEPS_PER_DEGREE, 0));
/// let packed = gw_sensor_pair_reading_packed(65536 / 4, at(20, 0), at(0, GW_THERMOMETER_SHORTED));
/// assert_eq!((packed as i32, (packed >> 32) as u32), (20 * GW_STEPS_PER_DEGREE, GW_THERMOMETER_ONE_SENSOR));
/// let packed = gw_sensor_pair_reading_packed(65537, at(20, 0), at(40, 0));
/// assert_eq!((packed as i32, (packed >> 32) as u32), (40 * GW_STEPS_PER_DEGREE, GW_THERMOMETER_OUTSIDE));
/// ```
#[unsafe(no_mangle)]
pub extern "C" fn gw_sensor_pair_reading_packed(
    fraction: u32,
    first: gw_temperature_reading,
    second: gw_temperature_reading,
) -> gw_packed_temperature {
    let mut reading = SensorPair::at_share(fraction).reading(first.of_rust(), second.of_rust());
    if fraction > 65536 {
        reading.flags |= ThermometerFlags::OUTSIDE;
    }
    packed_temperature(reading)
}

/// As gw_flags_message, for the flags of a temperature; 160 bytes are enough.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// let mut buffer = [0u8; 128];
/// let flags = GW_THERMOMETER_OUTSIDE | GW_THERMOMETER_STALE;
/// // Safe: the buffer lives here.
/// let length = unsafe { gw_thermometer_flags_message(flags, buffer.as_mut_ptr().cast(), buffer.len()) };
/// assert_eq!(&buffer[..length], b"temperature outside, stale");
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_thermometer_flags_message(flags: u32, buffer: *mut c_char, size: usize) -> usize {
    // SAFETY: as required of the caller.
    let Some(writer) = (unsafe { Writer::to(buffer, size) }) else { return 0 };
    let of_rust = ThermometerFlags::ALL.map(|(flag, name)| (flag.bits().into(), name));
    let of_c = [(GW_THERMOMETER_NO_READING, "no reading yet"), (GW_THERMOMETER_NULL, "null pointer")];
    name_flags(writer, flags, of_rust.into_iter().chain(of_c))
}
