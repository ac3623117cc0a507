//! What can be wrong with a channel or a sensor, exactly: which quantity, its value, and what would be allowed.

mod message;
mod named;
mod names;

pub use message::BuildMessage;
pub(crate) use named::named;
pub use names::{ErrorPart, Field, KernelPath, Quantity};

use crate::units::{Celsius, Nanostrain};

/// Why a channel, or a reading of a temperature sensor, was refused.
///
/// Everything is a number: no text is stored, so it costs a target nothing until it is printed.
///
/// ```
/// use gaugewright::{Error, error::Field};
/// let error = Error::Invalid { field: Field::LeadResistance, value: -1.0, low: 0.0, high: 1e4 };
/// assert_eq!(error.to_string(), "lead resistance (ohm) is -1, allowed: 0 to 10000");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum Error {
    /// An input is missing, not finite or outside what is allowed.
    Invalid {
        /// Which input.
        field: Field,
        /// Its value in the unit that the field's name states (NaN where it is missing).
        value: f64,
        /// The smallest value allowed, in the same unit.
        low: f64,
        /// The largest value allowed, in the same unit.
        high: f64,
    },
    /// The upper end of a range lies below its lower one.
    Reversed {
        /// The upper end, or the quantity where both ends have one name.
        field: Field,
        /// The lower end as it was given, in the unit that the field's name states.
        low: f64,
        /// The upper end as it was given, in the same unit.
        high: f64,
    },
    /// The channel is sound but a number of its kernel does not fit.
    Overflow {
        /// Which number.
        quantity: Quantity,
        /// Its magnitude, in the unit that the name of the quantity states, else a plain number.
        value: f64,
        /// The largest magnitude that fits, in the same units.
        limit: f64,
    },
    /// The kernel's error bound is larger than the error limit.
    Bound {
        /// The error limit that the caller gave.
        limit: Nanostrain,
        /// What holds, the circuit's share included.
        bound: Nanostrain,
        /// The path whose bound it is.
        path: KernelPath,
        /// Its largest part.
        dominant: ErrorPart,
    },
    /// The error bound of a thermometer's kernel is larger than the error limit.
    TemperatureBound {
        /// The error limit that the caller gave.
        limit: Celsius,
        /// What holds.
        bound: Celsius,
    },
    /// Two slices of a block call differ in length.
    BlockLength {
        /// Number of samples given.
        samples: usize,
        /// Number of entries in the other slice.
        other: usize,
    },
}

/// The words of [`Error::build_message`].
impl core::fmt::Display for Error {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.build_message().as_str())
    }
}

/// The same words; the names of fields and quantities stay on the host.
#[cfg(feature = "defmt")]
impl defmt::Format for Error {
    fn format(&self, f: defmt::Formatter<'_>) {
        let mut rest = BuildMessage::EMPTY;
        self.after_name(&mut rest);
        match self {
            Self::Invalid { field, .. } | Self::Reversed { field, .. } => {
                defmt::write!(f, "{}{=str}", field, rest.as_str());
            }
            Self::Overflow { quantity, .. } => defmt::write!(f, "{}{=str}", quantity, rest.as_str()),
            Self::Bound { .. } | Self::TemperatureBound { .. } | Self::BlockLength { .. } => {
                defmt::write!(f, "{=str}", rest.as_str());
            }
        }
    }
}

impl core::error::Error for Error {}

/// `?` for `const fn`.
macro_rules! try_const {
    ($result:expr) => {
        match $result {
            Ok(value) => value,
            Err(error) => return Err(error),
        }
    };
}
pub(crate) use try_const;

/// `Ok` if `low <= value <= high`; a NaN is refused with the rest. For fields whose range depends on other inputs;
/// [`Field::check`] has the others.
pub(crate) const fn within(field: Field, value: f64, low: f64, high: f64) -> Result<(), Error> {
    if value >= low && value <= high { Ok(()) } else { Err(Error::Invalid { field, value, low, high }) }
}

/// The same of a whole number, compared in integers: comparing in double precision takes a small core a kilobyte.
/// [`Field::check_whole`] has the fields whose range is in the table.
#[cfg(feature = "record")]
pub(crate) const fn whole_within(field: Field, value: i32, low: i32, high: i32) -> Result<(), Error> {
    if value >= low && value <= high { Ok(()) } else { Err(outside(field, value, low, high)) }
}

#[cfg(feature = "record")]
#[cold]
#[inline(never)]
const fn outside(field: Field, value: i32, low: i32, high: i32) -> Error {
    Error::Invalid { field, value: value as f64, low: low as f64, high: high as f64 }
}

/// The temperatures that any range may have, in degrees Celsius: from absolute zero to the most that Q20 holds.
pub(crate) const TEMPERATURES: (f64, f64) = (-273.15, 2047.0);

/// `Ok` if the upper end of a range is not below its lower one. What is infinite or not a number is left to [`within`].
pub(crate) const fn ordered(field: Field, low: f64, high: f64) -> Result<(), Error> {
    if high < low && low.is_finite() && high.is_finite() {
        Err(Error::Reversed { field, low, high })
    } else {
        Ok(())
    }
}

/// `Ok` if both ends of a range lie within `least` and `most`, and the upper one is not below the lower one.
pub(crate) const fn range_within(
    (low_field, low): (Field, f64),
    (high_field, high): (Field, f64),
    (least, most): (f64, f64),
) -> Result<(), Error> {
    try_const!(within(low_field, low, least, most));
    try_const!(ordered(high_field, low, high));
    within(high_field, high, low, most)
}

/// The value, or the end of the range that it lies beyond by no more than `rounding`: for ends that are computed.
pub(crate) const fn within_rounding(
    field: Field,
    value: f64,
    (low, high): (f64, f64),
    rounding: f64,
) -> Result<f64, Error> {
    // Of an infinite value the rounding may be infinite too.
    if value < low && value >= low - rounding && value.is_finite() {
        return Ok(low);
    }
    if value > high && value <= high + rounding && value.is_finite() {
        return Ok(high);
    }
    try_const!(within(field, value, low, high));
    Ok(value)
}

/// `Ok` if the magnitude is within the limit; a NaN is not.
pub(crate) const fn fits(quantity: Quantity, value: f64, limit: f64) -> Result<(), Error> {
    if value.abs() <= limit { Ok(()) } else { Err(Error::Overflow { quantity, value: value.abs(), limit }) }
}

/// The same of a whole number of a kernel, in integers as [`whole_within`].
#[cfg(feature = "record")]
pub(crate) fn at_most(quantity: Quantity, value: u32, limit: u32) -> Result<(), Error> {
    if value <= limit { Ok(()) } else { Err(too_large(quantity, value, limit)) }
}

#[cfg(feature = "record")]
#[cold]
#[inline(never)]
fn too_large(quantity: Quantity, value: u32, limit: u32) -> Error {
    Error::Overflow { quantity, value: value.into(), limit: limit.into() }
}

/// The value, or the build stops with the error's words.
#[track_caller]
pub(crate) const fn unwrap_const<T: Copy>(result: Result<T, Error>) -> T {
    match result {
        Ok(value) => value,
        Err(error) => panic!("{}", error.build_message().as_str()),
    }
}

/// A text with its end, for C.
#[cfg(feature = "ffi")]
pub(crate) const fn c_text(text: &'static str) -> &'static core::ffi::CStr {
    match core::ffi::CStr::from_bytes_with_nul(text.as_bytes()) {
        Ok(text) => text,
        Err(_) => c"",
    }
}
