//! Statuses and errors, and their words.

use core::ffi::{CStr, c_char};

use super::choices::*;
use super::facts::GW_KERNEL_FORMAT;
use crate::device::record::{self, RecordError};
use crate::error::{Error, ErrorPart, Field, KernelPath, Quantity};
use crate::units::Nanostrain;

/// How a call went: GW_STATUS_OK or another GW_STATUS_... .
pub type gw_status = u32;

/// It went well.
pub const GW_STATUS_OK: gw_status = 0;
/// A pointer is null; nothing was written but the error.
pub const GW_STATUS_NULL: gw_status = 1;
/// An input is missing, not finite or out of range: `field` says which, `value` what it is (NaN: missing), `low`
/// and `high` what is allowed.
pub const GW_STATUS_INVALID: gw_status = 2;
/// The channel is sound but a number of its kernel does not fit: `field` is a GW_QUANTITY_..., `value` its
/// magnitude, `high` the largest that fits.
pub const GW_STATUS_OVERFLOW: gw_status = 3;
/// The error bound is larger than the error limit: `field` is its largest GW_PART_..., `value` the bound and `high`
/// the limit, both in nanostrain; `low` is the GW_PATH_... whose bound it is.
pub const GW_STATUS_BOUND: gw_status = 4;
/// A choice is none of those that there are: `field` is a GW_CHOICE_..., `value` what was given, `low` and `high`
/// the first and last that there are.
pub const GW_STATUS_CHOICE: gw_status = 5;
/// The kernel was made for another format: `value` is its format, `high` that of the library.
pub const GW_STATUS_FORMAT: gw_status = 6;
/// The kernel is not the one that was sealed: `value` is its checksum, `high` the sealed one.
pub const GW_STATUS_CHECKSUM: gw_status = 7;
/// The bridge is not linear, so that its point has no shorter path.
pub const GW_STATUS_NOT_LINEAR: gw_status = 8;

/// The upper end of a range lies below its lower one: `field` is the upper end, `value` what it is, and `low` the lower
/// end.
pub const GW_STATUS_REVERSED: gw_status = 9;

/// As many bytes are no such record, or have no room for it: `value` is their number, `high` that of the record.
pub const GW_STATUS_RECORD_LENGTH: gw_status = 10;
/// The bytes do not begin as a record does, as in storage that was never written: `value` is what their first four are as a number,
/// the lowest byte first, `high` what they are in a record.
pub const GW_STATUS_NO_RECORD: gw_status = 11;
/// A record of another version: `value` is its version, `high` that of the library.
pub const GW_STATUS_RECORD_VERSION: gw_status = 12;
/// A record of another kind of kernel: `value` is its kind and sizes, a byte each, as a number, the lowest byte first, `high`
/// what they are for the kernel that was asked for.
pub const GW_STATUS_RECORD_KIND: gw_status = 13;
/// A record whose bytes have changed: `value` is their checksum, `high` the one that was written.
pub const GW_STATUS_RECORD_CHECKSUM: gw_status = 14;
/// The name in a record, or for one, is no text in UTF-8, or does not end with zeros.
pub const GW_STATUS_RECORD_NAME: gw_status = 15;
/// A known answer has another strain here: `low` is the number of the answer, from 0, `value` the strain here and `high` the
/// known one, both in Q34.
pub const GW_STATUS_SELF_TEST: gw_status = 16;
/// A known answer has the same strain here and other flags: `low` is the number of the answer, from 0, `value` are the flags here
/// and `high` the known ones.
pub const GW_STATUS_SELF_TEST_FLAGS: gw_status = 17;

/// Why a call was refused. After GW_STATUS_OK all of it is 0.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[repr(C)]
pub struct gw_error {
    /// What kind of error.
    pub code: gw_status,
    /// What it is about: a GW_FIELD_..., GW_QUANTITY_..., GW_PART_... or GW_CHOICE_...; 0 if nothing.
    pub field: u32,
    /// Its value, in the unit that the name of `field` states.
    pub value: f64,
    /// The smallest value allowed, in the same unit; see the status.
    pub low: f64,
    /// The largest value allowed, in the same unit; see the status.
    pub high: f64,
}

const _: () = assert!(size_of::<gw_error>() == 32);

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
                (GW_STATUS_FORMAT, format.into(), GW_KERNEL_FORMAT)
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
        GW_STATUS_FORMAT => c"the kernel was made for another format of the library",
        GW_STATUS_CHECKSUM => c"the kernel is not the one that was sealed",
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
        _ => c"unknown",
    })
}
