//! An error in a sentence.

use core::ffi::c_char;

use super::error::{name_text, status_text};
use super::pointer::as_ref;
use super::*;
use crate::Flags;
use crate::error::BuildMessage;

/// An error in a sentence, with its numbers, into a buffer of the caller. Always ended by a zero byte if `size`
/// is not 0, cut off where it does not fit (256 bytes are enough). Gives the length of the whole sentence without
/// its end; 0 if a pointer is null. It links the printing of doubles, which is large: where there is no room for that,
/// gw_status_text and gw_name_text have the words alone; one of them links the words of both.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{error::Field, ffi::*};
/// let error = gw_error {
///     code: GW_STATUS_INVALID, field: Field::LeadResistance.number(), value: -1.0, low: 0.0, high: 1e4,
/// };
/// let mut buffer = [0u8; 128];
/// // Safe: both point to values of this function.
/// let length = unsafe { gw_error_message(&error, buffer.as_mut_ptr().cast(), buffer.len()) };
/// assert_eq!(&buffer[..length], b"lead resistance (ohm) is -1, allowed: 0 to 10000");
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_error_message(error: *const gw_error, buffer: *mut c_char, size: usize) -> usize {
    // SAFETY: as required of the caller.
    let Some(error) = (unsafe { as_ref(error) }) else { return 0 };
    // SAFETY: as required of the caller.
    let Some(mut writer) = (unsafe { Writer::to(buffer, size) }) else { return 0 };
    match sentence(error) {
        Some(words) => writer.text(words.as_str().as_bytes()),
        None => writer.text(status_text(error.code).to_bytes()),
    }
    writer.end()
}

/// The names of all flags that are set, separated by ", ", into a buffer of the caller: "clear" for 0; bits that are no
/// flag by their number, as "unknown 0x00000010". Always ended by a zero byte if `size` is not 0, cut off where it does
/// not fit (128 bytes are enough). Gives the length of the whole text without its end; 0 if the pointer is null.
///
/// # Safety
/// As the head of the header says.
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

/// The names of the flags that are set, and bits that are no flag by their number; gives the length of all.
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

/// What there is to say beside the status; none if the numbers of the error are none that there are.
fn sentence(error: &gw_error) -> Option<BuildMessage> {
    let &gw_error { code, field, value, low, high } = error;
    let mut words = BuildMessage::EMPTY;
    match code {
        GW_STATUS_CHOICE => {
            words.text(name_text(field).to_str().ok()?).text(" is ").number(value);
            words.text(", there are ").number(low).text(" to ").number(high);
        }
        GW_STATUS_FORMAT => {
            words.text("the constants' format is ").number(value);
            words.text(", that of the library is ").number(high);
        }
        GW_STATUS_CHECKSUM => {
            words.text("the checksum of the constants is ").number(value);
            words.text(", the sealed one is ").number(high);
        }
        GW_STATUS_RECORD_LENGTH => {
            words.number(value).text(" bytes, where the record has ").number(high);
        }
        GW_STATUS_NO_RECORD => {
            words.text("no record: the first bytes are the number ").number(value);
            words.text(", those of a record ").number(high);
        }
        GW_STATUS_RECORD_VERSION => {
            words.text("a record of version ").number(value);
            words.text(", that of the library is ").number(high);
        }
        GW_STATUS_RECORD_KIND => {
            words.text("a record of kind and sizes ").number(value);
            words.text(", the kernel's are ").number(high);
        }
        GW_STATUS_RECORD_CHECKSUM => {
            words.text("the record's checksum is ").number(value);
            words.text(", the written one is ").number(high);
        }
        GW_STATUS_SELF_TEST | GW_STATUS_SELF_TEST_FLAGS => {
            words.text("known answer ").number(low);
            words.text(if code == GW_STATUS_SELF_TEST { " is " } else { " has the flags " });
            words.number(value).text(", expected: ").number(high);
        }
        _ => return Some(error.original()?.build_message()),
    }
    Some(words)
}

/// Puts bytes into a buffer of C as far as they fit.
pub(super) struct Writer {
    /// Room for `size` bytes that nobody else uses.
    buffer: *mut c_char,
    size: usize,
    /// Of all, whether they fit or not.
    length: usize,
}

impl Writer {
    /// None if the pointer is null.
    ///
    /// # Safety
    /// The pointer is null, or points to `size` bytes that nobody else uses as long as the writer exists.
    pub(super) unsafe fn to(buffer: *mut c_char, size: usize) -> Option<Self> {
        if buffer.is_null() { None } else { Some(Self { buffer, size, length: 0 }) }
    }

    /// Out of line: inlined at every use, a list of flags is five times as long.
    #[inline(never)]
    pub(super) fn text(&mut self, text: &[u8]) {
        for &byte in text {
            if self.length + 1 < self.size {
                // SAFETY: within `size`, one byte of which is left for the end.
                unsafe { self.buffer.add(self.length).write(byte as c_char) };
            }
            self.length += 1;
        }
    }

    /// Writes the end; gives the length of all.
    pub(super) fn end(self) -> usize {
        if self.size > 0 {
            let last = if self.length < self.size { self.length } else { self.size - 1 };
            // SAFETY: below `size`.
            unsafe { self.buffer.add(last).write(0) };
        }
        self.length
    }
}
