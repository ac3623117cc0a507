//! The kernel with room for every channel, in 76 bytes. Written out beside `kernel.rs`: cbindgen does not see functions and
//! structs that a macro makes.

use super::build::build;
use super::kernel::outside;
use super::point::null_point;
use super::pointer::{LayoutCompatible, as_ref, write};
use super::reading::{null_reading, packed};
use super::*;
use crate::fixed::{Kernel, Temperature};

/// The constants of any channel: thermal output up to degree 5, gauge factor up to a cubic. Otherwise as gw_kernel; a
/// few instructions more a reading.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_large_kernel {
    /// Thermal output with its sign turned, the highest power first: that of `x` in 2^-35, each next one doubled.
    pub thermal: [i32; 5],
    /// `d` per code; odd.
    pub code_scale: u32,
    /// The lowest code in range, plus 2^31.
    pub code_origin: i32,
    /// The highest code in range, less `code_origin`.
    pub code_last: i32,
    /// Readings beyond this either way are flagged, Q34.
    pub strain_limit: i32,
    /// Flags of every reading: 0.
    pub flags: u32,
    /// `x` per step of a Q20 temperature; odd.
    pub temperature_scale: u16,
    /// Bits of the converter.
    pub bits: u8,
    /// Change of gauge factor with its sign turned, the highest power first: that of `x` in 2^-33, each next one
    /// doubled.
    pub factor: [i32; 3],
    /// Bridge divisor less one (2^-32) per `d`, times 2^32, with its sign turned.
    pub curvature: i32,
    /// The lowest temperature in range, Q20 degrees Celsius, plus 2^31.
    pub temperature_origin: i32,
    /// The highest temperature in range, Q20, less `temperature_origin`.
    pub temperature_last: i32,
    /// Constant term of thermal output, Q34.
    pub thermal_offset: i32,
    /// Strain (Q34) per `d`, times 2^32.
    pub gain: i32,
}

const _: () = assert!(size_of::<gw_large_kernel>() == 76 && align_of::<gw_large_kernel>() == 4);

// SAFETY: asserted in ffi/layout.rs.
unsafe impl LayoutCompatible for gw_large_kernel {
    type Viewed = Kernel<5, 3>;
}

/// Compiles a channel to a kernel, which is written if the status is GW_STATUS_OK and left alone otherwise.
/// `error` may be null; else it is written in any case. Takes double precision, in software where the core has
/// none: some 50 KB of code (35 KB optimised for size) and 7 million instructions on a Cortex-M0, 3 million on an
/// M4. For channels that are entered or balanced on the target; a kernel that is known beforehand is better made
/// by the host (`replay --c-header`).
///
/// # Safety
/// Each pointer is null or points to its type; `kernel` (not initialised, if need be) and `error` to room that
/// nobody else uses.
///
/// ```
/// use gaugewright::{error::Field, ffi::*};
/// # let channel = example::channel();
/// let (mut kernel, mut error) = (gw_large_kernel::default(), gw_error::default());
/// // Safe: all of them live here.
/// let status = unsafe { gw_large_kernel_build(&channel, &mut kernel, &mut error) };
/// assert_eq!((status, error), (GW_STATUS_OK, gw_error::default()));
///
/// let wrong = gw_channel { lead_resistance: -1.0, ..channel };
/// let status = unsafe { gw_large_kernel_build(&wrong, &mut kernel, &mut error) };
/// assert_eq!((status, error.field, error.low), (GW_STATUS_INVALID, Field::LeadResistance.number(), 0.0));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_build(
    channel: *const gw_channel,
    kernel: *mut gw_large_kernel,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { build(channel, kernel, error) }
}

/// Seals a kernel: its format and checksum, to be kept beside it where it is stored.
///
/// # Safety
/// Each pointer is null or points to its type; `seal` (not initialised, if need be) to room that nobody else uses.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::large_kernel();
/// let mut seal = gw_seal::default();
/// // Safe: both live here.
/// assert_eq!(unsafe { gw_large_kernel_seal(&kernel, &mut seal) }, GW_STATUS_OK);
/// assert_eq!(seal.format, GW_KERNEL_FORMAT);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_seal(
    kernel: *const gw_large_kernel,
    seal: *mut gw_seal,
) -> gw_status {
    // SAFETY: as required of the caller.
    match unsafe { as_ref(kernel) } {
        // SAFETY: as required of the caller.
        Some(kernel) => unsafe { write(seal, gw_seal::of(kernel.viewed().checksum())) },
        None => GW_STATUS_NULL,
    }
}

/// Looks whether a kernel is whole: of this library's format, and the one that was sealed. `error` may be null. A
/// kernel that is not whole gives defined readings that mean nothing.
///
/// # Safety
/// Each pointer is null or points to its type; `error` to room that nobody else uses.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::large_kernel();
/// # let mut seal = gw_seal::default();
/// # assert_eq!(unsafe { gw_large_kernel_seal(&kernel, &mut seal) }, GW_STATUS_OK);
/// let mut error = gw_error::default();
/// // Safe: all of them live here.
/// assert_eq!(unsafe { gw_large_kernel_check(&kernel, &seal, &mut error) }, GW_STATUS_OK);
/// kernel.gain ^= 1;
/// assert_eq!(unsafe { gw_large_kernel_check(&kernel, &seal, &mut error) }, GW_STATUS_CHECKSUM);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_check(
    kernel: *const gw_large_kernel,
    seal: *const gw_seal,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    let told = match unsafe { (as_ref(kernel), as_ref(seal)) } {
        (Some(kernel), Some(seal)) => seal.check(kernel.viewed().checksum()),
        _ => gw_error::NULL,
    };
    // SAFETY: as required of the caller.
    unsafe { write(error, told) };
    told.code
}

/// Strain for a code and a temperature in Q20 degrees Celsius, in one call. Any code and any temperature. In C,
/// `gw_large_kernel_reading` of the header gives it as a struct, for nothing.
///
/// # Safety
/// `kernel` is null or points to its type.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::large_kernel();
/// // Safe: it lives here.
/// let packed = unsafe { gw_large_kernel_reading_packed(&kernel, 123_456, 35 << 20) };
/// let (strain, flags) = (packed as u32 as i32, (packed >> 32) as u32);
/// assert!(strain > 0 && flags == 0);
/// assert_eq!(unsafe { gw_large_kernel_reading_packed(std::ptr::null(), 0, 0) } >> 32, u64::from(GW_FLAG_NULL));
/// ```
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

/// The constants of one temperature (Q20 degrees Celsius), for as many codes as it stays. Outside the declared range they are
/// those of the nearest end, and flagged. Those of a null pointer give strain 0 with GW_FLAG_NULL for every code.
///
/// # Safety
/// `kernel` is null or points to its type.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::large_kernel();
/// // Safe: both live here.
/// let point = unsafe { gw_large_kernel_at(&kernel, 35 << 20) };
/// let packed = unsafe { gw_point_reading_packed(&point, 123_456) };
/// assert_eq!(packed >> 32, 0);
/// ```
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

/// A block of samples, each with its temperature: the same bits as one call each.
///
/// # Safety
/// `kernel` is null or points to its type; `codes` and `temperatures` are null or point to `count` numbers each,
/// `readings` to room for `count` readings that nobody else uses.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::large_kernel();
/// let (codes, temperatures) = ([0, 1_000], [20 << 20; 2]);
/// let mut readings = [gw_reading::default(); 2];
/// // Safe: there are two of each.
/// let status = unsafe {
///     gw_large_kernel_readings(&kernel, codes.as_ptr(), temperatures.as_ptr(), readings.as_mut_ptr(), 2)
/// };
/// assert!(status == GW_STATUS_OK && readings[1].strain > readings[0].strain);
/// ```
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
    if codes.is_null() || temperatures.is_null() || readings.is_null() {
        return GW_STATUS_NULL;
    }
    for i in 0..count {
        // SAFETY: not null, and `i` is below `count`.
        unsafe {
            let (code, temperature) = (codes.add(i).read(), temperatures.add(i).read());
            let reading = kernel.viewed().reading(code, Temperature::from_bits(temperature));
            readings.add(i).write(gw_reading::of(reading));
        }
    }
    GW_STATUS_OK
}

/// Ranges in which the kernel corrects; what is beyond is clamped to them and flagged.
///
/// # Safety
/// Each pointer is null or points to its type; `ranges` (not initialised, if need be) to room that nobody else uses.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::large_kernel();
/// let mut ranges = gw_ranges::default();
/// // Safe: both live here.
/// assert_eq!(unsafe { gw_large_kernel_ranges(&kernel, &mut ranges) }, GW_STATUS_OK);
/// assert_eq!(ranges.temperature_high, 90 << 20);
/// ```
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

/// The largest error of the kernel's arithmetic, in double precision (in software where the core has none). Of a
/// kernel that is not whole the numbers mean nothing, and may be NaN or infinite.
///
/// # Safety
/// Each pointer is null or points to its type; `bound` (not initialised, if need be) to room that nobody else uses.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::large_kernel();
/// let mut bound = gw_bound::default();
/// // Safe: both live here.
/// assert_eq!(unsafe { gw_large_kernel_error_bound(&kernel, &mut bound) }, GW_STATUS_OK);
/// assert!(bound.reading < 0.5 && bound.point < 0.5);
/// ```
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
