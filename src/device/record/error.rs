//! Why bytes are no record.

use crate::error::Error;
use core::fmt::{Display, Formatter, Result};

/// Why bytes are not the record that was asked for.
///
/// ```
/// use gaugewright::device::record::RecordError;
/// let error = RecordError::Version { version: 7, format: 1 };
/// assert_eq!(error.to_string(), "a record of version 7 with numbers of format 1, where this program has version 1 and format 1");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum RecordError {
    /// Too few bytes, or too many.
    Length {
        /// Bytes that there are.
        found: usize,
        /// Bytes that the record has.
        expected: usize,
    },
    /// The bytes do not begin as a record does: storage that was never written, or something else.
    NoRecord {
        /// The first bytes.
        found: [u8; 4],
    },
    /// A record of another version of this library.
    Version {
        /// Version of the layout: this library has [`VERSION`](super::VERSION).
        version: u16,
        /// Format of the numbers of kernels: this library has [`fixed::FORMAT`](crate::fixed::FORMAT).
        format: u16,
    },
    /// A record of another kind of kernel, or of one with other sizes.
    Kind {
        /// The number of its kind (1 to 4, in the order of the documentation of [`RecordedKernel`](super::RecordedKernel)) and those of its type.
        found: [u8; 4],
        /// The numbers of the type that was asked for.
        expected: [u8; 4],
    },
    /// The bytes have changed since they were written.
    Checksum {
        /// CRC-32 of the bytes.
        found: u32,
        /// The bits that were written.
        expected: u32,
    },
    /// A number is out of its range, or the kernel has a value that would not fit its register.
    Invalid(Error),
    /// The name is no text in UTF-8, or does not end with zeros.
    Name,
    /// The kernel does not give an answer that is known: another program or processor, or a kernel that was changed.
    SelfTest {
        /// Number of the answer, from 0.
        answer: usize,
        /// Result and bits of flags here.
        found: (i32, u32),
        /// Result and bits of flags that are known.
        expected: (i32, u32),
    },
}

impl From<Error> for RecordError {
    fn from(error: Error) -> Self {
        Self::Invalid(error)
    }
}

impl Display for RecordError {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        match self {
            Self::Length { found, expected } => write!(f, "{found} bytes, where the record has {expected}"),
            Self::NoRecord { found } => write!(f, "no record: the first bytes are {found:02x?}"),
            Self::Version { version, format } => write!(
                f,
                "a record of version {version} with numbers of format {format}, where this program has version {} and format {}",
                super::VERSION,
                crate::fixed::FORMAT
            ),
            Self::Kind { found, expected } => {
                write!(f, "a record of kind and sizes {found:?}, where {expected:?} was asked for")
            }
            Self::Checksum { found, expected } => {
                write!(f, "the checksum is 0x{found:08x}, where 0x{expected:08x} was written")
            }
            Self::Invalid(error) => Display::fmt(error, f),
            Self::Name => f.write_str("the name is no text in UTF-8, or does not end with zeros"),
            Self::SelfTest { answer, found, expected } => write!(
                f,
                "known answer {answer} is {} with flags 0x{:x}, expected: {} with flags 0x{:x}",
                found.0, found.1, expected.0, expected.1
            ),
        }
    }
}

impl core::error::Error for RecordError {}
