//! The kernel with room for every channel, in 80 bytes. Written out beside `kernel.rs`: cbindgen does not see functions and
//! structs that a macro makes.

use super::kernel::outside;
use super::point::null_point;
use super::pointer::{LayoutCompatible, as_ref, for_each};
use super::reading::{null_reading, packed};
use super::*;
use crate::fixed::{Kernel, Temperature};

/// As gw_kernel, for every channel of one temperature: degree 5, a cubic gauge factor, a gauge factor of the unloaded gauge or
/// of the free foil.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_large_kernel {
    /// Numbers as the library has them.
    pub words: [u32; 20],
}

// SAFETY: integers or `f32` alone, of four bytes each or filling them.
unsafe impl LayoutCompatible for gw_large_kernel {
    type Viewed = Kernel<5, 3, 1>;
}

/// As gw_kernel_reading_packed.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_reading_packed(
    kernel: *const gw_large_kernel,
    code: i32,
    temperature: i32,
) -> gw_packed_reading {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_reading() };
    packed(kernel.viewed().reading(code, Temperature::from_bits(temperature)))
}

/// As gw_kernel_at.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_at(kernel: *const gw_large_kernel, temperature: i32) -> gw_point {
    // SAFETY: as required of the caller.
    let Some(kernel) = (unsafe { as_ref(kernel) }) else { return null_point() };
    let (kernel, temperature) = (kernel.viewed(), Temperature::from_bits(temperature));
    match kernel.point_within(temperature) {
        Some(point) => gw_point::of(point),
        None => outside(kernel, temperature),
    }
}

/// As gw_kernel_readings.
///
/// # Safety
/// As the head of the header says.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_readings(
    kernel: *const gw_large_kernel,
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
