//! Zero and span on site: the kernel of a measured balance, in integers.

use super::pointer::{LayoutCompatible, as_ref, finish};
use super::*;
use crate::fixed::{AdjustableKernel, MeanCode, Span, Temperature, Zero};

/// A span correction of one, Q31.
pub const GW_SPAN_ONE: u32 = 2147483648;

const _: () = assert!(GW_SPAN_ONE == Span::ONE.to_bits());

/// Codes of the unloaded channel as their sum and how many they are, and the temperature at which they were read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_zero {
    /// Sum of the codes. Leave out codes whose reading has GW_FLAG_CODE_AT_RAIL.
    pub sum: i64,
    /// How many codes: 1 to 65 536; 0 in the record of a kernel without a measured zero.
    pub count: u32,
    /// Temperature of the gauge, Q20 degrees Celsius.
    pub temperature: i32,
}

impl gw_zero {
    pub(super) const fn value(self) -> Zero {
        let Self { sum, count, temperature } = self;
        Zero { codes: MeanCode { sum, count }, temperature: Temperature::from_bits(temperature) }
    }
}

/// The constants from which gw_kernel_adjust computes the kernel of a measured zero and span. Made by the host for a channel
/// whose file has a table `[channel.on_site]`; the zero of others is that of the file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_adjustable_kernel {
    /// Numbers as the library has them.
    pub words: [u64; 28],
}

// SAFETY: integers alone, which leave no gap.
unsafe impl LayoutCompatible for gw_adjustable_kernel {
    type Viewed = AdjustableKernel<4, 1>;
}

/// The kernel for a zero and a span (Q31, GW_SPAN_ONE where none was found), in integers alone: some 10 000 instructions on a
/// Cortex-M0. Let it make a kernel of its own and copy that where no interrupt reads; points made before are of the old one.
/// GW_STATUS_INVALID for a balance code or a span outside what `[channel.on_site]` declares, a balance temperature outside
/// the channel's range, and a mean of no or more than 65 536 codes.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{error::Field, example::STRUT, ffi::*, fixed::Span};
/// let kernel = STRUT.fixed_adjustable((-2_150_000, 2_150_000), (Span::ONE, Span::ONE));
/// let adjustable = gw_adjustable_kernel::of(kernel);
/// # let (mut kernel, mut error) = (gw_kernel::default(), gw_error::default());
/// // The sum of 64 codes of the unloaded channel, at 18.5 C.
/// let zero = gw_zero { sum: -790_080, count: 64, temperature: 37 * (GW_STEPS_PER_DEGREE / 2) };
/// // Safe: all of them live here.
/// let status = unsafe { gw_kernel_adjust(&adjustable, &zero, GW_SPAN_ONE, &mut kernel, &mut error) };
/// assert_eq!(status, GW_STATUS_OK);
/// let packed = unsafe { gw_kernel_reading_packed(&kernel, -12_345, zero.temperature) };
/// assert_eq!(gw_nanostrain(packed as u32 as i32), 0);
///
/// let status = unsafe { gw_kernel_adjust(&adjustable, &zero, GW_SPAN_ONE / 2, &mut kernel, &mut error) };
/// assert_eq!((status, error.field, error.value), (GW_STATUS_INVALID, Field::SpanCorrection.number(), 0.5));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_adjust(
    adjustable: *const gw_adjustable_kernel,
    zero: *const gw_zero,
    span: u32,
    kernel: *mut gw_kernel,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    let given = unsafe { as_ref(adjustable).zip(as_ref(zero)) };
    let adjusted = given.map(|(adjustable, zero)| {
        adjustable.viewed().with(zero.value(), Span::from_bits(span)).map(gw_kernel::of)
    });
    // SAFETY: as required of the caller.
    unsafe { finish(adjusted, kernel, error) }
}

/// A span from a shunt calibration: expected over observed change of code, Q31, rounded towards one; sums of equally many codes do
/// as well. It is written if the status is GW_STATUS_OK; GW_STATUS_INVALID where there is no ratio from 0.8 to 1.25.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// let (mut span, mut error) = (0, gw_error::default());
/// // Safe: both live here.
/// assert_eq!(unsafe { gw_span_of_codes(10_000, 9_900, &mut span, &mut error) }, GW_STATUS_OK);
/// assert!((f64::from(span) / f64::from(GW_SPAN_ONE) - 1.0 / 0.99).abs() < 1e-9);
/// assert_eq!(unsafe { gw_span_of_codes(10_000, 0, &mut span, &mut error) }, GW_STATUS_INVALID);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_span_of_codes(
    expected: i64,
    observed: i64,
    span: *mut u32,
    error: *mut gw_error,
) -> gw_status {
    let found = Span::of_codes(expected, observed).map(Span::to_bits);
    // SAFETY: as required of the caller.
    unsafe { finish(Some(found), span, error) }
}
