//! One temperature of a channel.

use super::pointer::{LayoutCompatible, as_ref, for_each};
use super::reading::{null_reading, packed};
use super::*;
use crate::fixed::OperatingPoint;

/// A kernel at one temperature. GW_NO_POINT, and no zeros, is what to begin with: its readings have GW_FLAG_NULL.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_point {
    /// Numbers as the library has them.
    pub words: [u32; 9],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_point {
    type Viewed = OperatingPoint;
}

/// Strain for a code at the temperature of the point. Any code.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::kernel();
/// # let point = unsafe { gw_kernel_at(&kernel, 35 << 20) };
/// // Safe: it lives here.
/// let packed = unsafe { gw_point_reading_packed(&point, 123_456) };
/// assert!((packed as u32 as i32) > 0 && packed >> 32 == 0);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_point_reading_packed(point: *const gw_point, code: i32) -> gw_packed_reading {
    // SAFETY: as required of the caller.
    let Some(point) = (unsafe { as_ref(point) }) else { return null_reading() };
    let Some(reading) = point.viewed().code_within(code) else { return outside(point, code) };
    if point.viewed().is_within(reading.strain) { packed(reading) } else { beyond(packed(reading)) }
}

// Out of line and called last, so that the usual call needs no frame.
#[cold]
#[inline(never)]
fn outside(point: &gw_point, code: i32) -> gw_packed_reading {
    packed(point.viewed().reading(code))
}

#[cold]
#[inline(never)]
const fn beyond(reading: gw_packed_reading) -> gw_packed_reading {
    reading | (GW_FLAG_STRAIN_OUTSIDE as u64) << 32
}

/// A block of samples: the same bits as one call each.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::kernel();
/// # let point = unsafe { gw_kernel_at(&kernel, 35 << 20) };
/// let mut readings = [gw_reading::default(); 2];
/// // Safe: there are two of each.
/// let status = unsafe { gw_point_readings(&point, [0, 1_000].as_ptr(), readings.as_mut_ptr(), 2) };
/// assert!(status == GW_STATUS_OK && readings[1].strain > readings[0].strain);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_point_readings(
    point: *const gw_point,
    codes: *const i32,
    readings: *mut gw_reading,
    count: usize,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(point) = (unsafe { as_ref(point) }) else { return GW_STATUS_NULL };
    // SAFETY: as required of the caller.
    unsafe { for_each([codes], readings, count, |[code]| point.viewed().reading(code).into()) }
}

/// What a null kernel has instead of a point: strain 0 and its flag for every code.
#[cold]
#[inline(never)]
pub(super) const fn null_point() -> gw_point {
    // Flags; then the bits of a converter and every code.
    gw_point { words: [GW_FLAG_NULL, 0, 0, 0, 32, 0, i32::MAX as u32, 0, 0] }
}
