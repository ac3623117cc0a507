//! Statuses and their errors, and their words.

use core::ffi::{CStr, c_char};

use super::choices::*;
use super::seal::GW_FORMAT;
use super::status::*;
use crate::device::record::{self, RecordError};
use crate::error::{Error, ErrorPart, Field, KernelPath, Quantity};
use crate::units::Nanostrain;

/// An input is missing, not finite or out of range: `value` is not from `low` to `high`.
pub const GW_STATUS_INVALID: gw_status = 2;
/// A number of the kernel does not fit: a GW_QUANTITY_..., its magnitude, and the largest that fits.
pub const GW_STATUS_OVERFLOW: gw_status = 3;
/// The error bound exceeds the limit (nanostrain): the largest GW_PART_..., the bound, the GW_PATH_... in `low`, the limit.
pub const GW_STATUS_BOUND: gw_status = 4;
/// A choice is none of those that there are: a GW_CHOICE_..., what was given, the first and last that there are.
pub const GW_STATUS_CHOICE: gw_status = 5;
/// Constants of another format: theirs, and in `high` that of the library.
pub const GW_STATUS_FORMAT: gw_status = 6;
/// The constants are not those that were sealed: their checksum, and in `high` the sealed one.
pub const GW_STATUS_CHECKSUM: gw_status = 7;
/// The bridge is not linear, so that its point has no shorter path.
pub const GW_STATUS_NOT_LINEAR: gw_status = 8;
/// The upper end of a range, `value`, lies below its lower one, `low`.
pub const GW_STATUS_REVERSED: gw_status = 9;
/// As many bytes are no such record, or have no room for it: `high` is the record's.
pub const GW_STATUS_RECORD_LENGTH: gw_status = 10;
/// The bytes begin as no record does: their first four as a number, lowest first, and in `high` those of a record.
pub const GW_STATUS_NO_RECORD: gw_status = 11;
/// A record of another version: `high` is that of the library.
pub const GW_STATUS_RECORD_VERSION: gw_status = 12;
/// A record of another kind: kind and sizes, a byte each, as a number, and in `high` those asked for.
pub const GW_STATUS_RECORD_KIND: gw_status = 13;
/// A record whose bytes have changed: their checksum, and in `high` the one that was written.
pub const GW_STATUS_RECORD_CHECKSUM: gw_status = 14;
/// The name in a record, or for one, is no text in UTF-8, or does not end with zeros.
pub const GW_STATUS_RECORD_NAME: gw_status = 15;
/// A known answer, the number `low` from 0, has another strain here (Q34), and in `high` the known one.
pub const GW_STATUS_SELF_TEST: gw_status = 16;
/// A known answer has the same strain here and other flags: as above.
pub const GW_STATUS_SELF_TEST_FLAGS: gw_status = 17;

impl gw_error {
    pub(super) const OK: Self = Self { code: GW_STATUS_OK, field: 0, value: 0.0, low: 0.0, high: 0.0 };
    pub(super) const NULL: Self = Self { code: GW_STATUS_NULL, ..Self::OK };

    pub(super) const fn of(error: &Error) -> Self {
        match *error {
            Error::Invalid { field, value, low, high } => {
                Self { code: GW_STATUS_INVALID, field: field.number(), value, low, high }
            }
            Error::Reversed { field, low, high } => {
                Self { code: GW_STATUS_REVERSED, field: field.number(), value: high, low, high: 0.0 }
            }
            Error::Overflow { quantity, value, limit } => {
                Self { code: GW_STATUS_OVERFLOW, field: quantity.number(), value, low: 0.0, high: limit }
            }
            Error::Bound { limit, bound, path, dominant } => Self {
                code: GW_STATUS_BOUND,
                field: dominant.number(),
                value: bound.0,
                low: path.number() as f64,
                high: limit.0,
            },
            // What follows comes from thermometers and blocks of Rust, which C does not call.
            Error::TemperatureBound { limit, bound } => {
                Self { code: GW_STATUS_BOUND, field: 0, value: bound.0, low: 0.0, high: limit.0 }
            }
            Error::BlockLength { samples, other } => Self {
                code: GW_STATUS_INVALID,
                field: 0,
                value: samples as f64,
                low: other as f64,
                high: other as f64,
            },
        }
    }

    pub(super) fn of_record(error: &RecordError) -> Self {
        let counted = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
        let (code, found, expected) = match *error {
            RecordError::Length { found, expected } => {
                (GW_STATUS_RECORD_LENGTH, counted(found), counted(expected))
            }
            RecordError::NoRecord { found } => {
                (GW_STATUS_NO_RECORD, u32::from_le_bytes(found), u32::from_le_bytes(record::MARK))
            }
            RecordError::Version { version: record::VERSION, format } => {
                (GW_STATUS_FORMAT, format.into(), GW_FORMAT)
            }
            RecordError::Version { version, .. } => {
                (GW_STATUS_RECORD_VERSION, version.into(), record::VERSION.into())
            }
            RecordError::Kind { found, expected } => {
                (GW_STATUS_RECORD_KIND, u32::from_le_bytes(found), u32::from_le_bytes(expected))
            }
            RecordError::Checksum { found, expected } => (GW_STATUS_RECORD_CHECKSUM, found, expected),
            RecordError::Name => (GW_STATUS_RECORD_NAME, 0, 0),
            RecordError::Invalid(ref error) => return Self::of(error),
            RecordError::SelfTest { answer, found: (result, flags), expected } => {
                let low = f64::from(counted(answer));
                if result != expected.0 {
                    let (value, high) = (f64::from(result), f64::from(expected.0));
                    return Self { code: GW_STATUS_SELF_TEST, field: 0, value, low, high };
                }
                let told = Self::differs(GW_STATUS_SELF_TEST_FLAGS, flags, expected.1);
                return Self { low, ..told };
            }
        };
        Self::differs(code, found, expected)
    }

    /// Two whole numbers, of which one was found and the other expected.
    pub(super) fn differs(code: gw_status, value: u32, high: u32) -> Self {
        Self { code, value: f64::from(value), high: f64::from(high), ..Self::OK }
    }

    /// The error of the library that it was made from; none if its numbers are those of no such error.
    pub(super) fn original(&self) -> Option<Error> {
        let &Self { code, field, value, low, high } = self;
        match code {
            GW_STATUS_INVALID => Some(Error::Invalid { field: Field::of_number(field)?, value, low, high }),
            GW_STATUS_REVERSED => Some(Error::Reversed { field: Field::of_number(field)?, low, high: value }),
            GW_STATUS_OVERFLOW => {
                Some(Error::Overflow { quantity: Quantity::of_number(field)?, value, limit: high })
            }
            GW_STATUS_BOUND => Some(Error::Bound {
                limit: Nanostrain(high),
                bound: Nanostrain(value),
                path: KernelPath::of_number(low as u32)?,
                dominant: ErrorPart::of_number(field)?,
            }),
            _ => None,
        }
    }
}

impl From<Error> for gw_error {
    fn from(error: Error) -> Self {
        Self::of(&error)
    }
}

impl From<RecordError> for gw_error {
    fn from(error: RecordError) -> Self {
        Self::of_record(&error)
    }
}

/// What a status means; "unknown status" for a number that is none. Lives forever.
///
/// ```
/// # use std::ffi::CStr;
/// use gaugewright::ffi::*;
/// // Safe: a text of the library, with its end.
/// let text = unsafe { CStr::from_ptr(gw_status_text(GW_STATUS_NULL)) };
/// assert_eq!(text, c"a pointer is null");
/// ```
#[unsafe(no_mangle)]
pub extern "C" fn gw_status_text(status: gw_status) -> *const c_char {
    status_text(status).as_ptr()
}

pub(super) const fn status_text(status: gw_status) -> &'static CStr {
    match status {
        GW_STATUS_OK => c"ok",
        GW_STATUS_NULL => c"a pointer is null",
        GW_STATUS_INVALID => c"an input is missing or out of range",
        GW_STATUS_OVERFLOW => c"a number of the kernel does not fit",
        GW_STATUS_BOUND => c"the kernel's error bound is larger than the error limit",
        GW_STATUS_CHOICE => c"a choice is none of those that there are",
        GW_STATUS_FORMAT => c"the constants were made for another format of the library",
        GW_STATUS_CHECKSUM => c"the constants are not those that were sealed",
        GW_STATUS_NOT_LINEAR => c"the bridge is not linear",
        GW_STATUS_REVERSED => c"a range is reversed",
        GW_STATUS_RECORD_LENGTH => c"the bytes are too few or too many for the record",
        GW_STATUS_NO_RECORD => c"the bytes are no record",
        GW_STATUS_RECORD_VERSION => c"a record of another version",
        GW_STATUS_RECORD_KIND => c"a record of another kind of kernel",
        GW_STATUS_RECORD_CHECKSUM => c"the bytes of the record have changed",
        GW_STATUS_RECORD_NAME => c"the name is no text in UTF-8, or does not end with zeros",
        GW_STATUS_SELF_TEST => c"a known answer has another strain",
        GW_STATUS_SELF_TEST_FLAGS => c"a known answer has other flags",
        _ => c"unknown status",
    }
}

/// Name of what an error is about, with its unit, from the `field` of a gw_error; "" for 0, "unknown" for a
/// number that is none. Lives forever.
///
/// ```
/// # use std::ffi::CStr;
/// use gaugewright::{error::Field, ffi::*};
/// // Safe: a text of the library, with its end.
/// let text = unsafe { CStr::from_ptr(gw_name_text(Field::LeadResistance.number())) };
/// assert_eq!(text, c"lead resistance (ohm)");
/// ```
#[unsafe(no_mangle)]
pub extern "C" fn gw_name_text(field: u32) -> *const c_char {
    name_text(field).as_ptr()
}

pub(super) fn name_text(field: u32) -> &'static CStr {
    if field == 0 {
        return c"";
    }
    let of_error = Field::of_number(field)
        .map(Field::c_name)
        .or_else(|| Quantity::of_number(field).map(Quantity::c_name))
        .or_else(|| ErrorPart::of_number(field).map(ErrorPart::c_name))
        .or_else(|| KernelPath::of_number(field).map(KernelPath::c_name));
    of_error.unwrap_or(match field {
        GW_CHOICE_CIRCUIT => c"circuit",
        GW_CHOICE_CONVERTER => c"kind of converter",
        GW_CHOICE_SCALE => c"temperature scale of the thermal output",
        GW_CHOICE_MISMATCH_SCALE => c"scale of the mismatch",
        GW_CHOICE_CORRECTION => c"correction",
        GW_CHOICE_BASIS => c"basis of the gauge factor",
        _ => c"unknown",
    })
}
