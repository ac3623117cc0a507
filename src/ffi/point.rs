//! One temperature of a channel.

use super::pointer::{LayoutCompatible, as_ref, write};
use super::reading::{null_reading, packed};
use super::*;
use crate::fixed::{LinearPoint, OperatingPoint};

/// What is left of a kernel, of either size, while the temperature stays.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_point {
    /// Flags of every reading: those of the temperature.
    pub flags: u32,
    /// Strain (Q34) per `d`, times 2^32, times the kernel's gauge factor over that at this temperature.
    pub gain: i32,
    /// `d` per code; odd.
    pub code_scale: u32,
    /// Curvature of the kernel (a factor of `d`) with its sign turned.
    pub curvature: i32,
    /// Bits of the converter.
    pub bits: u8,
    /// The lowest code in range, plus 2^31.
    pub code_origin: i32,
    /// The highest code in range, less `code_origin`.
    pub code_last: i32,
    /// Thermal output with its sign turned, Q34.
    pub thermal: i32,
    /// Readings beyond this either way are flagged, Q34.
    pub strain_limit: i32,
}

/// The same for a bridge that is linear.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_linear_point {
    /// Strain (Q34) per `d`, times 2^32: as in gw_point.
    pub gain: i32,
    /// `d` per code; odd.
    pub code_scale: u32,
    /// The lowest code in range, plus 2^31.
    pub code_origin: i32,
    /// The highest code in range, less `code_origin`.
    pub code_last: i32,
    /// Bits of the converter.
    pub bits: u8,
    /// Flags of every reading whose code is in the next range.
    pub flags: u32,
    /// `d` of the lowest code in the next range, plus 2^31.
    pub offset: i32,
    /// The lowest code whose strain is in range, plus 2^31.
    pub clear_origin: i32,
    /// The highest code whose strain is in range, less `clear_origin`.
    pub clear_last: i32,
    /// Thermal output with its sign turned, Q34.
    pub thermal: i32,
}

const _: () = {
    assert!(size_of::<gw_point>() == 36 && align_of::<gw_point>() == 4);
    assert!(size_of::<gw_linear_point>() == 40 && align_of::<gw_linear_point>() == 4);
};

// SAFETY: asserted in ffi/layout.rs.
unsafe impl LayoutCompatible for gw_point {
    type Viewed = OperatingPoint;
}

// SAFETY: asserted in ffi/layout.rs.
unsafe impl LayoutCompatible for gw_linear_point {
    type Viewed = LinearPoint;
}

/// Strain for a code at the temperature of the point. Any code. In C, `gw_point_reading` of the header gives it
/// as a struct, for nothing.
///
/// # Safety
/// `point` is null or points to its type.
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
    packed(point.viewed().reading(code))
}

/// A block of samples: the same bits as one call each.
///
/// # Safety
/// `point` is null or points to its type; `codes` is null or points to `count` numbers, `readings` to room for
/// `count` readings that nobody else uses.
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
    if codes.is_null() || readings.is_null() {
        return GW_STATUS_NULL;
    }
    for i in 0..count {
        // SAFETY: not null, and `i` is below `count`.
        unsafe { readings.add(i).write(gw_reading::of(point.viewed().reading(codes.add(i).read()))) };
    }
    GW_STATUS_OK
}

/// The same point for a bridge that is linear (GW_STATUS_NOT_LINEAR if it is not): the same bits and flags for
/// half the instructions. Worth making where a temperature stays for more than twenty (Cortex-M0) to seventy
/// samples (M4).
///
/// # Safety
/// Each pointer is null or points to its type; `linear` (not initialised, if need be) to room that nobody else uses.
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
    let Some(made) = point.viewed().linear() else { return GW_STATUS_NOT_LINEAR };
    let mut made = gw_linear_point::of(made);
    if point.flags & GW_FLAG_NULL != 0 {
        // The window of a null kernel's point is all codes, one more than `linear` can count: it takes them for none and adds
        // that the strain is outside.
        made.flags = point.flags;
    }
    // SAFETY: as required of the caller.
    unsafe { write(linear, made) }
}

/// Strain for a code at the temperature of the point. Any code. In C, `gw_linear_point_reading` of the header
/// gives it as a struct, for nothing.
///
/// # Safety
/// `point` is null or points to its type.
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
/// `point` is null or points to its type; `codes` is null or points to `count` numbers, `readings` to room for
/// `count` readings that nobody else uses.
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
    if codes.is_null() || readings.is_null() {
        return GW_STATUS_NULL;
    }
    for i in 0..count {
        // SAFETY: not null, and `i` is below `count`.
        unsafe { readings.add(i).write(linear_reading(point, codes.add(i).read())) };
    }
    GW_STATUS_OK
}

/// What a null kernel has instead of a point: strain 0 and its flag for every code.
#[cold]
#[inline(never)]
pub(super) const fn null_point() -> gw_point {
    gw_point {
        flags: GW_FLAG_NULL,
        gain: 0,
        code_scale: 0,
        curvature: 0,
        bits: 32,
        // Every code.
        code_origin: 0,
        code_last: i32::MAX,
        thermal: 0,
        strain_limit: 0,
    }
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
    let reading = gw_reading::of(point.viewed().reading(code));
    gw_reading { flags: reading.flags | point.flags & GW_FLAG_NULL, ..reading }
}
