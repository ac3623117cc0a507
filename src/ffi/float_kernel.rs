//! Kernels in single precision, and their point.

use super::pointer::{LayoutCompatible, as_ref, for_each};
use super::reading::{null_reading, packed};
use super::*;
use crate::fixed::Temperature;
use crate::float::{CompensatedKernel, Kernel, OperatingPoint, Reading};

/// Strain and flags of one sample in floating point.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[repr(C)]
pub struct gw_float_reading {
    /// A ratio: 1e-6 is a microstrain.
    pub strain: f32,
    /// As in gw_reading.
    pub flags: u32,
}

impl From<Reading<f32>> for gw_float_reading {
    fn from(reading: Reading<f32>) -> Self {
        Self { strain: reading.strain, flags: reading.flags.word() as u32 }
    }
}

/// The usual package in single precision, for a processor that has it in hardware. Codes and temperatures are those of the
/// other kernels. Made by the host, with its error bound.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_float_kernel {
    /// Numbers as the library has them.
    pub words: [u32; 17],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_float_kernel {
    type Viewed = Kernel<f32, 4, 1>;
}

/// As gw_float_kernel, for every channel of one temperature.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_large_float_kernel {
    /// Numbers as the library has them.
    pub words: [u32; 21],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_large_float_kernel {
    type Viewed = Kernel<f32, 5, 3, 1>;
}

/// The usual package of two temperatures in single precision.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_float_compensated_kernel {
    /// Numbers as the library has them.
    pub words: [u32; 26],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_float_compensated_kernel {
    type Viewed = CompensatedKernel<f32, 4, 1>;
}

/// As gw_float_compensated_kernel, for every channel of two temperatures.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_large_float_compensated_kernel {
    /// Numbers as the library has them.
    pub words: [u32; 31],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_large_float_compensated_kernel {
    type Viewed = CompensatedKernel<f32, 5, 3, 1>;
}

/// What is left of such a kernel while the temperature stays.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_float_point {
    /// Numbers as the library has them.
    pub words: [u32; 9],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_float_point {
    type Viewed = OperatingPoint<f32>;
}

/// Strain for a code and a temperature, in one call.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{example::CHANNEL, ffi::*};
/// let kernel = gw_float_kernel::of(CHANNEL.float32());
/// // Safe: it lives here.
/// let packed = unsafe { gw_float_kernel_reading_packed(&kernel, 123_456, 35 << 20) };
/// assert!(f32::from_bits(packed as u32) > 0.0 && packed >> 32 == 0);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_float_kernel_reading_packed(
    kernel: *const gw_float_kernel,
    code: i32,
    temperature: i32,
) -> gw_packed_reading {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_reading() };
    packed(kernel.viewed().reading(code, Temperature::from_bits(temperature)))
}

/// The constants of one temperature: as gw_kernel_at.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{example::CHANNEL, ffi::*};
/// let kernel = gw_float_kernel::of(CHANNEL.float32());
/// // Safe: both live here.
/// let point = unsafe { gw_float_kernel_at(&kernel, 35 << 20) };
/// assert!(f32::from_bits(unsafe { gw_float_point_reading_packed(&point, 123_456) } as u32) > 0.0);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_float_kernel_at(
    kernel: *const gw_float_kernel,
    temperature: i32,
) -> gw_float_point {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_float_point() };
    gw_float_point::of(kernel.viewed().at(Temperature::from_bits(temperature)))
}

/// As gw_kernel_readings.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{example::CHANNEL, ffi::*};
/// let kernel = gw_float_kernel::of(CHANNEL.float32());
/// let (codes, temperatures) = ([0, 1_000], [20 << 20; 2]);
/// let mut readings = [gw_float_reading::default(); 2];
/// // Safe: there are two of each.
/// let status = unsafe {
///     gw_float_kernel_readings(&kernel, codes.as_ptr(), temperatures.as_ptr(), readings.as_mut_ptr(), 2)
/// };
/// assert!(status == GW_STATUS_OK && readings[1].strain > readings[0].strain);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_float_kernel_readings(
    kernel: *const gw_float_kernel,
    codes: *const i32,
    temperatures: *const i32,
    readings: *mut gw_float_reading,
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

/// As gw_float_kernel_reading_packed.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_float_kernel_reading_packed(
    kernel: *const gw_large_float_kernel,
    code: i32,
    temperature: i32,
) -> gw_packed_reading {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_reading() };
    packed(kernel.viewed().reading(code, Temperature::from_bits(temperature)))
}

/// As gw_float_kernel_at.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_float_kernel_at(
    kernel: *const gw_large_float_kernel,
    temperature: i32,
) -> gw_float_point {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_float_point() };
    gw_float_point::of(kernel.viewed().at(Temperature::from_bits(temperature)))
}

/// As gw_float_kernel_readings.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_float_kernel_readings(
    kernel: *const gw_large_float_kernel,
    codes: *const i32,
    temperatures: *const i32,
    readings: *mut gw_float_reading,
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

/// As gw_compensated_kernel_reading_packed.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_float_compensated_kernel_reading_packed(
    kernel: *const gw_float_compensated_kernel,
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
pub unsafe extern "C" fn gw_float_compensated_kernel_at(
    kernel: *const gw_float_compensated_kernel,
    temperature: i32,
    compensating: i32,
) -> gw_float_point {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_float_point() };
    gw_float_point::of(
        kernel.viewed().at(Temperature::from_bits(temperature), Temperature::from_bits(compensating)),
    )
}

/// As gw_compensated_kernel_readings.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_float_compensated_kernel_readings(
    kernel: *const gw_float_compensated_kernel,
    codes: *const i32,
    temperatures: *const i32,
    compensating: *const i32,
    readings: *mut gw_float_reading,
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
pub unsafe extern "C" fn gw_large_float_compensated_kernel_reading_packed(
    kernel: *const gw_large_float_compensated_kernel,
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
pub unsafe extern "C" fn gw_large_float_compensated_kernel_at(
    kernel: *const gw_large_float_compensated_kernel,
    temperature: i32,
    compensating: i32,
) -> gw_float_point {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_float_point() };
    gw_float_point::of(
        kernel.viewed().at(Temperature::from_bits(temperature), Temperature::from_bits(compensating)),
    )
}

/// As gw_compensated_kernel_readings.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_float_compensated_kernel_readings(
    kernel: *const gw_large_float_compensated_kernel,
    codes: *const i32,
    temperatures: *const i32,
    compensating: *const i32,
    readings: *mut gw_float_reading,
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

/// Strain for a code at the temperature of the point. Any code.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{example::CHANNEL, ffi::*};
/// let kernel = gw_float_kernel::of(CHANNEL.float32());
/// let point = gw_float_point::of(CHANNEL.float32::<4, 1, 0>().at(gaugewright::fixed::Temperature::from_bits(35 << 20)));
/// // Safe: both live here.
/// let both = unsafe { (gw_float_point_reading_packed(&point, 7), gw_float_kernel_reading_packed(&kernel, 7, 35 << 20)) };
/// assert!((f32::from_bits(both.0 as u32) - f32::from_bits(both.1 as u32)).abs() < 1e-9);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_float_point_reading_packed(
    point: *const gw_float_point,
    code: i32,
) -> gw_packed_reading {
    // SAFETY: as required of the caller.
    let Some(point) = (unsafe { as_ref(point) }) else { return null_reading() };
    packed(point.viewed().reading(code))
}

/// A block of samples: the same bits as one call each.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_float_point_readings(
    point: *const gw_float_point,
    codes: *const i32,
    readings: *mut gw_float_reading,
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
const fn null_float_point() -> gw_float_point {
    let every_code = (i32::MIN as u32, u32::MAX);
    // With a thermal output of -0, so that -0 does not become the strain.
    gw_float_point { words: [every_code.0, every_code.1, 0, 0, 0, 1 << 31, 0, 32, GW_FLAG_NULL] }
}
