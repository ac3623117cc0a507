//! What there is to know of a kernel: its ranges and its error bound.

use super::pointer::{LayoutCompatible, as_ref, write};
use super::*;
use crate::fixed::Kernel;
use crate::kernel::ErrorBound;

/// Ranges of a kernel, ends included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_ranges {
    /// Lowest code.
    pub code_low: i32,
    /// Highest code.
    pub code_high: i32,
    /// Lowest temperature, Q20 degrees Celsius.
    pub temperature_low: i32,
    /// Highest temperature, Q20 degrees Celsius.
    pub temperature_high: i32,
}

impl gw_ranges {
    pub(super) const fn of<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
        kernel: &Kernel<DEGREE, FACTOR, PRODUCT>,
    ) -> Self {
        let ((code_low, code_high), (cold, hot)) = (kernel.codes(), kernel.temperatures());
        Self { code_low, code_high, temperature_low: cold.to_bits(), temperature_high: hot.to_bits() }
    }
}

/// The largest errors of a kernel, for codes and temperatures in range.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[repr(C)]
pub struct gw_bound {
    /// Of a reading in one call, nanostrain.
    pub reading: f64,
    /// Of a reading of a point, nanostrain.
    pub point: f64,
}

impl gw_bound {
    pub(super) const fn of(bound: &ErrorBound) -> Self {
        Self { reading: bound.reading.total.0, point: bound.point.total.0 }
    }
}

/// Ranges in which the kernel corrects; what is beyond is clamped to them and flagged.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::kernel();
/// let mut ranges = gw_ranges::default();
/// // Safe: both live here.
/// assert_eq!(unsafe { gw_kernel_ranges(&kernel, &mut ranges) }, GW_STATUS_OK);
/// assert_eq!(ranges.temperature_high, 90 << 20);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_ranges(kernel: *const gw_kernel, ranges: *mut gw_ranges) -> gw_status {
    // SAFETY: as required of the caller.
    match unsafe { as_ref(kernel) } {
        // SAFETY: as required of the caller.
        Some(kernel) => unsafe { write(ranges, gw_ranges::of(kernel.viewed())) },
        None => GW_STATUS_NULL,
    }
}

/// As gw_kernel_ranges.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_ranges(
    kernel: *const gw_large_kernel,
    ranges: *mut gw_ranges,
) -> gw_status {
    // SAFETY: as required of the caller.
    match unsafe { as_ref(kernel) } {
        // SAFETY: as required of the caller.
        Some(kernel) => unsafe { write(ranges, gw_ranges::of(kernel.viewed())) },
        None => GW_STATUS_NULL,
    }
}

/// The largest error of the kernel's arithmetic, in double precision. Of a kernel that is not whole the numbers mean nothing,
/// and may be NaN or infinite.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::kernel();
/// let mut bound = gw_bound::default();
/// // Safe: both live here.
/// assert_eq!(unsafe { gw_kernel_error_bound(&kernel, &mut bound) }, GW_STATUS_OK);
/// assert!(bound.reading < 0.5 && bound.point < 0.5);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_error_bound(kernel: *const gw_kernel, bound: *mut gw_bound) -> gw_status {
    // SAFETY: as required of the caller.
    match unsafe { as_ref(kernel) } {
        // SAFETY: as required of the caller.
        Some(kernel) => unsafe { write(bound, gw_bound::of(&kernel.viewed().error_bound())) },
        None => GW_STATUS_NULL,
    }
}

/// As gw_kernel_error_bound.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_error_bound(
    kernel: *const gw_large_kernel,
    bound: *mut gw_bound,
) -> gw_status {
    // SAFETY: as required of the caller.
    match unsafe { as_ref(kernel) } {
        // SAFETY: as required of the caller.
        Some(kernel) => unsafe { write(bound, gw_bound::of(&kernel.viewed().error_bound())) },
        None => GW_STATUS_NULL,
    }
}
