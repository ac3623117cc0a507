//! What C sees of a kernel and its points lies where the library has it: asserted here, where the fields can be named.

use core::mem::{align_of, offset_of, size_of};

use super::{gw_kernel, gw_large_kernel, gw_linear_point, gw_point};
use crate::fixed::{Kernel, LinearPoint, OperatingPoint};
use crate::sample::{Flags, InputRange};

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
