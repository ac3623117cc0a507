//! One temperature of a channel whose bridge is linear.

use super::pointer::{LayoutCompatible, as_ref, for_each};
use super::reading::{null_reading, packed};
use super::*;
use crate::Flags;
use crate::fixed::LinearPoint;

/// As gw_point, for a bridge that is linear.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_linear_point {
    /// Numbers as the library has them.
    pub words: [u32; 10],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_linear_point {
    type Viewed = LinearPoint;
}

/// The same point for a bridge that is linear (GW_STATUS_NOT_LINEAR if it is not): the same bits and flags for
/// half the instructions. Worth making where a temperature stays for more than twenty (Cortex-M0) to seventy
/// samples (M4).
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::linear_kernel();
/// # let point = unsafe { gw_kernel_at(&kernel, 35 << 20) };
/// let mut linear = gw_linear_point::default();
/// // Safe: both live here.
/// assert_eq!(unsafe { gw_point_linear(&point, &mut linear) }, GW_STATUS_OK);
/// let both = unsafe { [gw_point_reading_packed(&point, 7), gw_linear_point_reading_packed(&linear, 7)] };
/// assert_eq!(both[0], both[1]);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_point_linear(point: *const gw_point, linear: *mut gw_linear_point) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(point) = (unsafe { as_ref(point) }) else { return GW_STATUS_NULL };
    if linear.is_null() {
        return GW_STATUS_NULL;
    }
    let Some(mut made) = point.viewed().linear() else { return GW_STATUS_NOT_LINEAR };
    if is_null(point.viewed().flags) {
        // The window of a null kernel's point is all codes, one more than `linear` can count: it takes them for none and adds
        // that the strain is outside.
        made.flags = point.viewed().flags;
    }
    // SAFETY: as required of the caller.
    unsafe { gw_linear_point::write(linear, made) }
}

/// Strain for a code at the temperature of the point. Any code.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::linear_kernel();
/// # let point = unsafe { gw_kernel_at(&kernel, 35 << 20) };
/// # let mut linear = gw_linear_point::default();
/// # assert_eq!(unsafe { gw_point_linear(&point, &mut linear) }, GW_STATUS_OK);
/// # let point = linear;
/// // Safe: it lives here.
/// let packed = unsafe { gw_linear_point_reading_packed(&point, 123_456) };
/// assert!((packed as u32 as i32) > 0 && packed >> 32 == 0);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_linear_point_reading_packed(
    point: *const gw_linear_point,
    code: i32,
) -> gw_packed_reading {
    // SAFETY: as required of the caller.
    let Some(point) = (unsafe { as_ref(point) }) else { return null_reading() };
    match point.viewed().reading_within(code) {
        Some(reading) => packed(reading),
        None => linear_outside(point, code),
    }
}

/// A block of samples: the same bits as one call each.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::linear_kernel();
/// # let point = unsafe { gw_kernel_at(&kernel, 35 << 20) };
/// # let mut linear = gw_linear_point::default();
/// # assert_eq!(unsafe { gw_point_linear(&point, &mut linear) }, GW_STATUS_OK);
/// # let point = linear;
/// let mut readings = [gw_reading::default(); 2];
/// // Safe: there are two of each.
/// let status = unsafe { gw_linear_point_readings(&point, [0, 1_000].as_ptr(), readings.as_mut_ptr(), 2) };
/// assert!(status == GW_STATUS_OK && readings[1].strain > readings[0].strain);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_linear_point_readings(
    point: *const gw_linear_point,
    codes: *const i32,
    readings: *mut gw_reading,
    count: usize,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(point) = (unsafe { as_ref(point) }) else { return GW_STATUS_NULL };
    // SAFETY: as required of the caller.
    unsafe { for_each([codes], readings, count, |[code]| linear_reading(point, code)) }
}

/// Out of line, so that the usual call ends without one.
#[cold]
#[inline(never)]
fn linear_outside(point: &gw_linear_point, code: i32) -> gw_packed_reading {
    let gw_reading { strain, flags } = linear_reading(point, code);
    u64::from(strain as u32) | u64::from(flags) << 32
}

/// A linear point of Rust keeps the flag of the temperature for a code out of range; that of C has the mark of a null kernel too.
#[inline(always)]
fn linear_reading(point: &gw_linear_point, code: i32) -> gw_reading {
    let reading = gw_reading::from(point.viewed().reading(code));
    let null = if is_null(point.viewed().flags) { GW_FLAG_NULL } else { 0 };
    gw_reading { flags: reading.flags | null, ..reading }
}

/// It is the point of a null pointer.
#[inline(always)]
const fn is_null(flags: Flags) -> bool {
    flags.word() as u32 & GW_FLAG_NULL != 0
}
