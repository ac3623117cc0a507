//! The kernel of the usual package, in 64 bytes.

use super::point::null_point;
use super::pointer::{LayoutCompatible, as_ref, for_each};
use super::reading::{null_reading, packed};
use super::*;
use crate::fixed::{Kernel, Temperature};

/// The constants of one channel whose thermal output has degree 4 at most and whose gauge factor has a slope: the usual
/// package (for others the host writes a gw_large_kernel). Plain data: copy it, keep it in flash, share it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_kernel {
    /// Numbers as the library has them.
    pub words: [u32; 16],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_kernel {
    type Viewed = Kernel<4, 1>;
}

/// Strain for a code and a temperature, in one call. Any code and any temperature.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::kernel();
/// // Safe: it lives here.
/// let packed = unsafe { gw_kernel_reading_packed(&kernel, 123_456, 35 << 20) };
/// let (strain, flags) = (packed as u32 as i32, (packed >> 32) as u32);
/// assert!(strain > 0 && flags == 0);
/// assert_eq!(unsafe { gw_kernel_reading_packed(std::ptr::null(), 0, 0) } >> 32, u64::from(GW_FLAG_NULL));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_reading_packed(
    kernel: *const gw_kernel,
    code: i32,
    temperature: i32,
) -> gw_packed_reading {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_reading() };
    packed(kernel.viewed().reading(code, Temperature::from_bits(temperature)))
}

/// The point of one temperature, for as many codes as it stays. Outside the declared range it is that of the nearest
/// end, and flagged; of a null pointer it is GW_NO_POINT.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::kernel();
/// // Safe: both live here.
/// let point = unsafe { gw_kernel_at(&kernel, 35 << 20) };
/// let packed = unsafe { gw_point_reading_packed(&point, 123_456) };
/// assert_eq!(packed >> 32, 0);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_at(kernel: *const gw_kernel, temperature: i32) -> gw_point {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_point() };
    let (kernel, temperature) = (kernel.viewed(), Temperature::from_bits(temperature));
    match kernel.point_within(temperature) {
        Some(point) => gw_point::of(point),
        None => outside(kernel, temperature),
    }
}

/// A block of samples, each with its temperature: the same bits as one call each. Every column has `count` numbers.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::kernel();
/// let (codes, temperatures) = ([0, 1_000], [20 << 20; 2]);
/// let mut readings = [gw_reading::default(); 2];
/// // Safe: there are two of each.
/// let status = unsafe {
///     gw_kernel_readings(&kernel, codes.as_ptr(), temperatures.as_ptr(), readings.as_mut_ptr(), 2)
/// };
/// assert!(status == GW_STATUS_OK && readings[1].strain > readings[0].strain);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_readings(
    kernel: *const gw_kernel,
    codes: *const i32,
    temperatures: *const i32,
    readings: *mut gw_reading,
    count: usize,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return GW_STATUS_NULL };
    let reading = |[code, temperature]: [i32; 2]| {
        kernel.viewed().reading(code, Temperature::from_bits(temperature)).into()
    };
    // SAFETY: as required of the caller.
    unsafe { for_each([codes, temperatures], readings, count, reading) }
}

/// Out of line, so that the usual call makes the point in registers. Not marked as cold: the compiler for Thumb
/// would make every instruction of the usual call conditional.
#[inline(never)]
pub(super) fn outside<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
    kernel: &Kernel<DEGREE, FACTOR, PRODUCT>,
    temperature: Temperature,
) -> gw_point {
    gw_point::of(kernel.at(temperature))
}
