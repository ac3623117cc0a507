//! Kernels of two temperatures, in both sizes.

use super::point::null_point;
use super::pointer::{LayoutCompatible, as_ref, for_each};
use super::reading::{null_reading, packed};
use super::*;
use crate::Flags;
use crate::fixed::{CompensatedKernel, Temperature};

/// The constants of a half bridge whose compensating gauge has a temperature of its own, of the usual package. Made by the
/// host.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_compensated_kernel {
    /// Numbers as the library has them.
    pub words: [u32; 24],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_compensated_kernel {
    type Viewed = CompensatedKernel<4, 1>;
}

/// As gw_compensated_kernel, for every channel of two temperatures.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_large_compensated_kernel {
    /// Numbers as the library has them.
    pub words: [u32; 29],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_large_compensated_kernel {
    type Viewed = CompensatedKernel<5, 3, 1>;
}

/// Strain for a code and the temperatures of the gauge that measures and of the one that compensates. Either outside its
/// range is flagged.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{example::COMPENSATED, ffi::*};
/// let kernel = gw_compensated_kernel::of(COMPENSATED.fixed());
/// // Safe: it lives here.
/// let packed = unsafe { gw_compensated_kernel_reading_packed(&kernel, 1_234, 30 << 20, 31 << 20) };
/// assert_eq!(packed >> 32, 0);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_compensated_kernel_reading_packed(
    kernel: *const gw_compensated_kernel,
    code: i32,
    temperature: i32,
    compensating: i32,
) -> gw_packed_reading {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_reading() };
    packed(kernel.viewed().reading(
        code,
        Temperature::from_bits(temperature),
        Temperature::from_bits(compensating),
    ))
}

/// The constants of one pair of temperatures: as gw_kernel_at.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{example::COMPENSATED, ffi::*};
/// let kernel = gw_compensated_kernel::of(COMPENSATED.fixed());
/// // Safe: both live here.
/// let point = unsafe { gw_compensated_kernel_at(&kernel, 30 << 20, 31 << 20) };
/// let one = unsafe { gw_point_reading_packed(&point, 1_234) };
/// assert_eq!(one >> 32, 0);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_compensated_kernel_at(
    kernel: *const gw_compensated_kernel,
    temperature: i32,
    compensating: i32,
) -> gw_point {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_point() };
    let (temperature, compensating) =
        (Temperature::from_bits(temperature), Temperature::from_bits(compensating));
    match kernel.viewed().point_within(temperature, compensating) {
        Ok(point) => gw_point::of(point),
        Err(compensation) => outside(kernel.viewed(), temperature, compensation),
    }
}

/// As gw_kernel_readings, with both temperatures of each sample.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{example::COMPENSATED, ffi::*};
/// let kernel = gw_compensated_kernel::of(COMPENSATED.fixed());
/// let (codes, temperatures) = ([0, 1_000], [30 << 20; 2]);
/// let mut readings = [gw_reading::default(); 2];
/// // Safe: there are two of each.
/// let status = unsafe {
///     let both = temperatures.as_ptr();
///     gw_compensated_kernel_readings(&kernel, codes.as_ptr(), both, both, readings.as_mut_ptr(), 2)
/// };
/// assert!(status == GW_STATUS_OK && readings[1].strain > readings[0].strain);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_compensated_kernel_readings(
    kernel: *const gw_compensated_kernel,
    codes: *const i32,
    temperatures: *const i32,
    compensating: *const i32,
    readings: *mut gw_reading,
    count: usize,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return GW_STATUS_NULL };
    let reading = |[code, temperature, compensating]: [i32; 3]| {
        kernel
            .viewed()
            .reading(code, Temperature::from_bits(temperature), Temperature::from_bits(compensating))
            .into()
    };
    // SAFETY: as required of the caller.
    unsafe { for_each([codes, temperatures, compensating], readings, count, reading) }
}

/// As gw_compensated_kernel_reading_packed.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_compensated_kernel_reading_packed(
    kernel: *const gw_large_compensated_kernel,
    code: i32,
    temperature: i32,
    compensating: i32,
) -> gw_packed_reading {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_reading() };
    packed(kernel.viewed().reading(
        code,
        Temperature::from_bits(temperature),
        Temperature::from_bits(compensating),
    ))
}

/// As gw_compensated_kernel_at.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_compensated_kernel_at(
    kernel: *const gw_large_compensated_kernel,
    temperature: i32,
    compensating: i32,
) -> gw_point {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_point() };
    let (temperature, compensating) =
        (Temperature::from_bits(temperature), Temperature::from_bits(compensating));
    match kernel.viewed().point_within(temperature, compensating) {
        Ok(point) => gw_point::of(point),
        Err(compensation) => outside(kernel.viewed(), temperature, compensation),
    }
}

/// As gw_compensated_kernel_readings.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_compensated_kernel_readings(
    kernel: *const gw_large_compensated_kernel,
    codes: *const i32,
    temperatures: *const i32,
    compensating: *const i32,
    readings: *mut gw_reading,
    count: usize,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return GW_STATUS_NULL };
    let reading = |[code, temperature, compensating]: [i32; 3]| {
        kernel
            .viewed()
            .reading(code, Temperature::from_bits(temperature), Temperature::from_bits(compensating))
            .into()
    };
    // SAFETY: as required of the caller.
    unsafe { for_each([codes, temperatures, compensating], readings, count, reading) }
}

// Out of line, as that of a kernel of one temperature.
#[inline(never)]
fn outside<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
    kernel: &CompensatedKernel<DEGREE, FACTOR, PRODUCT>,
    temperature: Temperature,
    compensation: (i32, Flags),
) -> gw_point {
    gw_point::of(kernel.point_outside(temperature, compensation))
}
