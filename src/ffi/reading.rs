//! Readings, as C gets them.

use core::ffi::c_char;

use super::message::Writer;
use crate::Flags;
use crate::fixed;

/// Strain and flags of one sample.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_reading {
    /// In Q34 (steps of 0.058 nanostrain), from -2^31 to 2^31 - 1. Where a flag is raised, the flag says what
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

/// The names of all flags that are set, separated by ", ", into a buffer of the caller: "clear" for 0; bits that are no
/// flag by their number, as "unknown 0x00000010". Always ended by a zero byte if `size` is not 0, cut off where it does
/// not fit (128 bytes are enough). Gives the length of the whole text without its end; 0 if the pointer is null.
///
/// # Safety
/// `buffer` is null or points to `size` bytes that nobody else uses.
///
/// ```
/// use gaugewright::ffi::*;
/// let mut buffer = [0u8; 128];
/// let flags = GW_FLAG_CODE_AT_RAIL | GW_FLAG_TEMPERATURE_OUTSIDE;
/// // Safe: the buffer lives here.
/// let length = unsafe { gw_flags_message(flags, buffer.as_mut_ptr().cast(), buffer.len()) };
/// assert_eq!(&buffer[..length], b"code at rail, temperature outside");
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_flags_message(flags: u32, buffer: *mut c_char, size: usize) -> usize {
    // SAFETY: as required of the caller.
    let Some(writer) = (unsafe { Writer::to(buffer, size) }) else { return 0 };
    let of_rust = Flags::ALL.map(|(flag, name)| (flag.word() as u32, name));
    name_flags(writer, flags, of_rust.into_iter().chain([(GW_FLAG_NULL, "null pointer")]))
}

/// Writes the names of the flags that are set, and bits that are no flag by their number; gives the length of all.
pub(super) fn name_flags(
    mut writer: Writer,
    flags: u32,
    names: impl Iterator<Item = (u32, &'static str)>,
) -> usize {
    let mut unnamed = flags;
    let mut separator = "";
    let mut item = |text: &str| {
        writer.text(separator.as_bytes());
        writer.text(text.as_bytes());
        separator = ", ";
    };
    for (flag, name) in names {
        if flags & flag != 0 {
            item(name);
            unnamed &= !flag;
        }
    }
    if flags == 0 {
        item("clear");
    }
    if unnamed != 0 {
        item("unknown 0x");
        for place in (0..8).rev() {
            let digit = (unnamed >> (4 * place) & 15) as u8;
            writer.text(&[if digit < 10 { b'0' + digit } else { b'a' + digit - 10 }]);
        }
    }
    writer.end()
}
