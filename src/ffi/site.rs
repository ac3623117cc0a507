//! On site, before the first measurement: faults of the wiring from a reading at rest, and the span from a shunt.

use core::ffi::c_char;

use super::pointer::{LayoutCompatible, as_ref, finish, write};
use super::*;
use crate::fixed::Span;
use crate::installation::{FAULT_TEXTS, Fault, ShuntCheck, Verdict, WiringCheck};

/// Codes at rest of a bridge in order, and of each fault that its circuit can have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct gw_wiring_check {
    /// Numbers as the library has them.
    pub words: [u32; 46],
}

/// The change of code that a shunt should make.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_shunt_check {
    /// Numbers as the library has them.
    pub words: [u32; 6],
}

// SAFETY: intervals of two words, and fourteen faults of two bytes, half a word and an interval; the size leaves no padding.
unsafe impl LayoutCompatible for gw_wiring_check {
    type Viewed = WiringCheck;
}

// SAFETY: two intervals of two words, and two words; the size leaves no padding.
unsafe impl LayoutCompatible for gw_shunt_check {
    type Viewed = ShuntCheck;
}

/// The gauge of arm 1 is open; of arms 2 to 4: the next three numbers.
pub const GW_FAULT_ARM_OPEN: u32 = 1;
/// The gauge of arm 1 is shorted; of arms 2 to 4: the next three numbers.
pub const GW_FAULT_ARM_SHORTED: u32 = 5;
/// The lead between the gauge of arm 1 and the excitation is broken; of arms 2 to 4: the next three numbers.
pub const GW_FAULT_ARM_LEAD_BROKEN: u32 = 9;
/// A lead to the excitation of a full bridge is broken.
pub const GW_FAULT_EXCITATION_LEAD_BROKEN: u32 = 13;
/// A lead to the output is broken.
pub const GW_FAULT_OUTPUT_LEAD_BROKEN: u32 = 14;
/// OUT+ and OUT- (or the excitation) are exchanged.
pub const GW_FAULT_REVERSED: u32 = 15;
/// Faults are numbers below this one.
pub const GW_FAULTS: usize = 16;

/// The circuit cannot have the fault.
pub const GW_VERDICT_NONE: u32 = 0;
/// The fault would give this reading.
pub const GW_VERDICT_CONSISTENT: u32 = 1;
/// The fault would give another reading.
pub const GW_VERDICT_EXCLUDED: u32 = 2;
/// The fault leaves the output undetermined, or a reading at rest does not depend on it.
pub const GW_VERDICT_INCONCLUSIVE: u32 = 3;

/// What a reading at rest says of the wiring.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_report {
    /// Switch: 1 where a bridge with resistors within the tolerance can give the mean; never at a rail.
    pub healthy: u32,
    /// Switch: 1 where the mean is at or beyond a rail.
    pub at_rail: u32,
    /// A GW_VERDICT_... for each fault, at the place of its number.
    pub verdicts: [u8; GW_FAULTS],
}

const _: () = {
    use crate::channel::Arm;
    assert!(GW_FAULT_ARM_OPEN == Fault::ArmOpen(Arm::One).number() as u32);
    assert!(GW_FAULT_ARM_SHORTED == Fault::ArmShorted(Arm::One).number() as u32);
    assert!(GW_FAULT_ARM_LEAD_BROKEN == Fault::ArmLeadBroken(Arm::One).number() as u32);
    assert!(GW_FAULT_EXCITATION_LEAD_BROKEN == Fault::ExcitationLeadBroken.number() as u32);
    assert!(GW_FAULT_OUTPUT_LEAD_BROKEN == Fault::OutputLeadBroken.number() as u32);
    assert!(GW_FAULT_REVERSED == Fault::Reversed.number() as u32);
};

/// What codes of the unloaded channel say of the wiring (the temperature of `codes` is not used). GW_STATUS_INVALID for a
/// mean of no or more than 65 536 codes.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{example::STRUT, ffi::*, units::Percent};
/// let check = gw_wiring_check::of(STRUT.wiring_check(Percent(0.5)));
/// let (mut report, mut error) = (gw_report::default(), gw_error::default());
/// // Safe: all of them live here.
/// let codes = gw_zero { sum: -790_080, count: 64, temperature: 0 };
/// assert_eq!(unsafe { gw_wiring_report(&check, &codes, &mut report, &mut error) }, GW_STATUS_OK);
/// assert_eq!((report.healthy, report.at_rail), (1, 0));
/// let codes = gw_zero { sum: 8_388_607, count: 1, temperature: 0 };
/// assert_eq!(unsafe { gw_wiring_report(&check, &codes, &mut report, &mut error) }, GW_STATUS_OK);
/// assert_eq!(u32::from(report.verdicts[GW_FAULT_ARM_OPEN as usize]), GW_VERDICT_CONSISTENT);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_wiring_report(
    check: *const gw_wiring_check,
    codes: *const gw_zero,
    report: *mut gw_report,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    let given = unsafe { as_ref(check).zip(as_ref(codes)) };
    let made = given.map(|(check, codes)| {
        check.viewed().report(codes.value().codes).map(|found| {
            let mut made = gw_report {
                healthy: found.healthy.into(),
                at_rail: found.at_rail.into(),
                ..Default::default()
            };
            for (fault, verdict) in found.verdicts() {
                let verdict = match verdict {
                    Verdict::Consistent => GW_VERDICT_CONSISTENT,
                    Verdict::Excluded => GW_VERDICT_EXCLUDED,
                    Verdict::Inconclusive => GW_VERDICT_INCONCLUSIVE,
                };
                if let Some(place) = made.verdicts.get_mut(usize::from(fault.number())) {
                    *place = verdict as u8;
                }
            }
            made
        })
    });
    // SAFETY: as required of the caller.
    unsafe { finish(made, report, error) }
}

/// A fault in words, from its number; "unknown fault" for a number that is none. Lives forever.
///
/// ```
/// # use std::ffi::CStr;
/// use gaugewright::ffi::*;
/// // Safe: a text of the library, with its end.
/// let text = unsafe { CStr::from_ptr(gw_fault_text(GW_FAULT_ARM_SHORTED + 1)) };
/// assert_eq!(text, c"arm 2 shorted");
/// ```
#[unsafe(no_mangle)]
pub extern "C" fn gw_fault_text(fault: u32) -> *const c_char {
    let text = FAULT_TEXTS.get(fault as usize).unwrap_or(&FAULT_TEXTS[0]);
    text.as_ptr()
}

/// The changes of code that the shunt can make within its tolerance and the declared spans: from `low` to `high`.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{channel::Arm, example::STRUT, ffi::*, fixed::Span, installation::Shunt, units::Ohms};
/// let shunt = Shunt::at_gauge(Arm::One, Ohms(100_000.0));
/// let check = gw_shunt_check::of(shunt.code_check(&STRUT, (Span::ONE, Span::ONE)));
/// let (mut low, mut high) = (0, 0);
/// // Safe: all of them live here.
/// assert_eq!(unsafe { gw_shunt_expected(&check, &mut low, &mut high) }, GW_STATUS_OK);
/// assert!(low == high - 1 && high < 0); // compression; rounded outwards
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_shunt_expected(
    check: *const gw_shunt_check,
    low: *mut i32,
    high: *mut i32,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(check) = (unsafe { as_ref(check) }) else { return GW_STATUS_NULL };
    if low.is_null() || high.is_null() {
        return GW_STATUS_NULL;
    }
    let change = check.viewed().change();
    // SAFETY: as required of the caller.
    unsafe {
        write(low, change.lowest);
        write(high, change.highest)
    }
}

/// The span (Q31, for gw_kernel_adjust) from codes of the unloaded channel without the shunt and with it; each mean is rounded down
/// to 2^-14 of a code. GW_STATUS_INVALID for a mean of no or more than 65 536 codes or at a rail, a change that the shunt cannot
/// make, and a span outside 0.8 to 1.25.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{channel::Arm, error::Field, example::STRUT, ffi::*, fixed::Span, installation::Shunt, units::*};
/// let shunt = Shunt::at_instrument(Arm::Two, Ohms(100_000.0)).tolerance(Percent(0.1));
/// let check = gw_shunt_check::of(shunt.code_check(&STRUT, (Span::from_ratio(0.99), Span::from_ratio(1.01))));
/// let without = gw_zero { sum: -790_080, count: 64, temperature: 0 };
/// let with = gw_zero { sum: 59_881_920, ..without };
/// let (mut span, mut error) = (0, gw_error::default());
/// // Safe: all of them live here.
/// assert_eq!(unsafe { gw_shunt_span(&check, &without, &with, &mut span, &mut error) }, GW_STATUS_OK);
/// assert!((f64::from(span) / f64::from(GW_SPAN_ONE) - 1.0).abs() < 0.01);
/// // Exchanged, the change has the wrong sign.
/// assert_eq!(unsafe { gw_shunt_span(&check, &with, &without, &mut span, &mut error) }, GW_STATUS_INVALID);
/// assert_eq!(error.field, Field::ShuntChange.number());
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_shunt_span(
    check: *const gw_shunt_check,
    without: *const gw_zero,
    with: *const gw_zero,
    span: *mut u32,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    let given = unsafe { as_ref(check).zip(as_ref(without)).zip(as_ref(with)) };
    let found = given.map(|((check, without), with)| {
        check.viewed().span(without.value().codes, with.value().codes).map(Span::to_bits)
    });
    // SAFETY: as required of the caller.
    unsafe { finish(found, span, error) }
}
