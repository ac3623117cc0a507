//! Readings, as C gets them.

use core::ffi::c_char;

use crate::Flags;
use crate::fixed;

/// Strain and flags of one sample.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_reading {
    /// In steps of 2^-34 (0.058 nanostrain), from -2^31 to 2^31 - 1. Where a flag is raised, the flag says what
    /// it is.
    pub strain: i32,
    /// GW_FLAG_... or-ed together; 0 if all was in range.
    pub flags: u32,
}

/// The temperature lies outside the declared range: the strain is that of the range's nearest end.
pub const GW_FLAG_TEMPERATURE_OUTSIDE: u32 = 1;
/// The strain lies outside the declared range. It is right until the code leaves the window of that range;
/// beyond, it is that of the window's nearest end.
pub const GW_FLAG_STRAIN_OUTSIDE: u32 = 2;
/// The code is at or beyond a rail of the converter: an open or shorted gauge, a broken lead, or too much signal. The
/// strain says nothing.
pub const GW_FLAG_CODE_AT_RAIL: u32 = 4;
/// The pointer to the kernel or point was null: the strain is 0 and says nothing.
pub const GW_FLAG_NULL: u32 = 0x8000_0000;

const _: () = {
    assert!(GW_FLAG_TEMPERATURE_OUTSIDE == Flags::TEMPERATURE_OUTSIDE.bits() as u32);
    assert!(GW_FLAG_STRAIN_OUTSIDE == Flags::STRAIN_OUTSIDE.bits() as u32);
    assert!(GW_FLAG_CODE_AT_RAIL == Flags::CODE_AT_RAIL.bits() as u32);
};

/// A reading in one number: strain in the low half, flags in the high one. A struct of two words would be
/// returned through memory.
pub type gw_packed_reading = u64;

#[inline(always)]
pub(super) const fn packed(reading: fixed::Reading) -> gw_packed_reading {
    reading.strain.to_bits() as u32 as u64 | (reading.flags.word() as u64) << 32
}

/// The reading of a null pointer. Out of line: a jump over it is all that the usual call pays.
#[cold]
#[inline(never)]
pub(super) const fn null_reading() -> gw_packed_reading {
    (GW_FLAG_NULL as u64) << 32
}

impl gw_reading {
    pub(super) const fn of(reading: fixed::Reading) -> Self {
        Self { strain: reading.strain.to_bits(), flags: reading.flags.word() as u32 }
    }
}

/// Name of one flag, "clear" for 0, "unknown" for anything else; lives forever.
///
/// ```
/// # use std::ffi::CStr;
/// # use gaugewright::ffi::*;
/// // Safe: a text of the library, with its end.
/// let text = unsafe { CStr::from_ptr(gw_flag_text(GW_FLAG_CODE_AT_RAIL)) };
/// assert_eq!(text, c"code at rail");
/// ```
#[unsafe(no_mangle)]
pub extern "C" fn gw_flag_text(flag: u32) -> *const c_char {
    let text = match flag {
        0 => c"clear",
        GW_FLAG_TEMPERATURE_OUTSIDE => c"temperature outside",
        GW_FLAG_STRAIN_OUTSIDE => c"strain outside",
        GW_FLAG_CODE_AT_RAIL => c"code at rail",
        GW_FLAG_NULL => c"null pointer",
        _ => c"unknown",
    };
    text.as_ptr()
}
