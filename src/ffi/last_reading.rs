//! The last usable temperature of a sensor, and its age.

use core::mem::offset_of;

use super::pointer::{LayoutCompatible, as_ref};
use super::thermometer::{no_temperature, packed_temperature};
use super::*;
use crate::temperature::LastReading;

/// The last usable temperature of a sensor that is read less often than the bridge. Time is a counter that wraps, of any
/// unit. Yours to keep; gw_last_reading_start makes it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_last_reading {
    /// A reading is stale when it is older, in units of the counter.
    pub limit: u32,
    /// Q20 degrees Celsius.
    pub temperature: i32,
    /// GW_THERMOMETER_... of that reading.
    pub flags: u32,
    /// Time of that reading, in units of the counter.
    pub updated_at: u32,
    /// Readings that were not usable, so far.
    pub unusable: u32,
}

const _: () = {
    assert!(offset_of!(LastReading, limit) == offset_of!(gw_last_reading, limit));
    assert!(offset_of!(LastReading, temperature) == offset_of!(gw_last_reading, temperature));
    assert!(offset_of!(LastReading, flags) == offset_of!(gw_last_reading, flags));
    assert!(offset_of!(LastReading, updated_at) == offset_of!(gw_last_reading, updated_at));
    assert!(offset_of!(LastReading, unusable) == offset_of!(gw_last_reading, unusable));
};

// SAFETY: asserted above; a temperature is a number, as all the others.
unsafe impl LayoutCompatible for gw_last_reading {
    type Viewed = LastReading;
}

/// Starts without a reading. A reading that is older than `limit` will be stale.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// let mut last = gw_last_reading::default();
/// // Safe: it lives here.
/// let packed = unsafe {
///     gw_last_reading_start(&mut last, 50);
///     gw_last_reading_at_packed(&mut last, 7)
/// };
/// assert_eq!((packed >> 32) as u32, GW_THERMOMETER_NO_READING);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_last_reading_start(last: *mut gw_last_reading, limit: u32) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { gw_last_reading::write(last, LastReading::new(limit)) }
}

/// A new reading and its time. One that is open, shorted, of a null pointer or no reading is counted, not kept.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut last = gw_last_reading::default();
/// let reading = gw_temperature_reading { temperature: 20 * GW_STEPS_PER_DEGREE, flags: 0 };
/// let open = gw_temperature_reading { temperature: 0, flags: GW_THERMOMETER_OPEN };
/// // Safe: it lives here.
/// unsafe {
///     gw_last_reading_start(&mut last, 50);
///     gw_last_reading_update(&mut last, reading, 10);
///     gw_last_reading_update(&mut last, open, 30);
/// }
/// assert_eq!((last.temperature, last.updated_at, last.unusable), (reading.temperature, 10, 1));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_last_reading_update(
    last: *mut gw_last_reading,
    reading: gw_temperature_reading,
    now: u32,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(mut kept) = (unsafe { as_ref(last) }).map(|last| *last.viewed()) else {
        return GW_STATUS_NULL;
    };
    kept.update(reading.of_rust(), now);
    // SAFETY: as required of the caller.
    unsafe { gw_last_reading::write(last, kept) }
}

/// The last usable temperature, with its flags, and STALE if it is too old; NO_READING before the first. Call it at least
/// once in UINT32_MAX - `limit` of the counter. A time before the reading is stale, too.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut last = gw_last_reading::default();
/// let reading = gw_temperature_reading { temperature: 20 * GW_STEPS_PER_DEGREE, flags: 0 };
/// // Safe: it lives here.
/// let (fresh, stale) = unsafe {
///     gw_last_reading_start(&mut last, 50);
///     gw_last_reading_update(&mut last, reading, 10);
///     (gw_last_reading_at_packed(&mut last, 60), gw_last_reading_at_packed(&mut last, 61))
/// };
/// assert_eq!((fresh as i32, fresh >> 32), (reading.temperature, 0));
/// assert_eq!((stale as i32, (stale >> 32) as u32), (reading.temperature, GW_THERMOMETER_STALE));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_last_reading_at_packed(
    last: *mut gw_last_reading,
    now: u32,
) -> gw_packed_temperature {
    // SAFETY: as required of the caller.
    let Some(mut kept) = (unsafe { as_ref(last) }).map(|last| *last.viewed()) else {
        return no_temperature(GW_THERMOMETER_NULL);
    };
    let Some(reading) = kept.at(now) else { return no_temperature(GW_THERMOMETER_NO_READING) };
    // SAFETY: not null; the rest as required of the caller.
    unsafe { gw_last_reading::write(last, kept) };
    packed_temperature(reading)
}
