//! What C sees of a kernel and its points lies where the library has it: asserted here, where the fields can be named.

use core::mem::{align_of, offset_of, size_of};

use super::{gw_adjustable_kernel, gw_kernel, gw_large_kernel, gw_linear_point, gw_point};
use crate::fixed::{AdjustableKernel, Kernel, LinearPoint, OperatingPoint};
use crate::sample::{Flags, InputRange, Span};

/// Same size, same alignment, and every field at its place with its type.
macro_rules! same {
    ($ours:ty, $theirs:ty: $($field:ident)*; $($span:ident($origin:ident, $last:ident))*) => {
        const _: () = {
            const fn same_type<T>(_: &T, _: &T) {}
            assert!(size_of::<$ours>() == size_of::<$theirs>());
            assert!(align_of::<$ours>() == align_of::<$theirs>());
            assert!(offset_of!($ours, flags) == offset_of!($theirs, flags));
            $(
                assert!(offset_of!($ours, $field) == offset_of!($theirs, $field));
                let _ = |ours: &$ours, theirs: &$theirs| same_type(&ours.$field, &theirs.$field);
            )*
            $(
                assert!(offset_of!($ours, $span) + offset_of!(InputRange, origin) == offset_of!($theirs, $origin));
                assert!(offset_of!($ours, $span) + offset_of!(InputRange, last) == offset_of!($theirs, $last));
            )*
        };
    };
}

// Flags are a word, and a range is two numbers.
const _: () = assert!(size_of::<Flags>() == 4 && align_of::<Flags>() == 4 && size_of::<InputRange>() == 8);

same!(
    Kernel<4, 1>, gw_kernel:
    thermal code_scale strain_limit temperature_scale bits factor curvature thermal_offset gain;
    codes(code_origin, code_last) temperatures(temperature_origin, temperature_last)
);
same!(
    Kernel<5, 3>, gw_large_kernel:
    thermal code_scale strain_limit temperature_scale bits factor curvature thermal_offset gain;
    codes(code_origin, code_last) temperatures(temperature_origin, temperature_last)
);
same!(OperatingPoint, gw_point: gain code_scale curvature bits thermal strain_limit; codes(code_origin, code_last));
same!(
    LinearPoint, gw_linear_point: gain code_scale bits offset thermal;
    codes(code_origin, code_last) clear(clear_origin, clear_last)
);

// The kernel in it is asserted above; a span is a word, and what only the product needs takes no room.
const _: () = {
    type Ours = AdjustableKernel<4, 1>;
    type Theirs = gw_adjustable_kernel;
    const fn same_type<T>(_: &T, _: &T) {}
    assert!(size_of::<Ours>() == size_of::<Theirs>() && align_of::<Ours>() == align_of::<Theirs>());
    assert!(size_of::<Span>() == 4 && align_of::<Span>() == 4);
    assert!(offset_of!(Ours, gain) == offset_of!(Theirs, gain));
    assert!(offset_of!(Ours, curvature) == offset_of!(Theirs, curvature));
    assert!(offset_of!(Ours, thermal.descending) == offset_of!(Theirs, thermal));
    assert!(offset_of!(Ours, kernel) == offset_of!(Theirs, kernel));
    assert!(offset_of!(Ours, codes.0) == offset_of!(Theirs, balance_low));
    assert!(offset_of!(Ours, codes.1) == offset_of!(Theirs, balance_high));
    assert!(offset_of!(Ours, spans.0) == offset_of!(Theirs, span_low));
    assert!(offset_of!(Ours, spans.1) == offset_of!(Theirs, span_high));
    assert!(offset_of!(Ours, middle) == offset_of!(Theirs, middle));
    assert!(offset_of!(Ours, left_out) == offset_of!(Theirs, left_out));
    assert!(offset_of!(Ours, shift) == offset_of!(Theirs, shift));
    let _ = |ours: &Ours, theirs: &Theirs| {
        same_type(&ours.gain, &theirs.gain);
        same_type(&ours.curvature, &theirs.curvature);
        same_type(&ours.thermal.descending, &theirs.thermal);
        same_type(&ours.codes, &(theirs.balance_low, theirs.balance_high));
        same_type(&ours.middle, &theirs.middle);
        same_type(&ours.left_out, &theirs.left_out);
        same_type(&ours.shift, &theirs.shift);
    };
};
