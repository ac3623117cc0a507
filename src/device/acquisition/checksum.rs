//! The checksum of a word, by the package `crc` in the three types that it has algorithms in.

use crc::{Algorithm, Crc, Table};

use crate::error::{Error, Field, try_const, within};

/// An algorithm, which lives as long as the firmware.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Checksum {
    Of8(&'static Algorithm<u8>),
    Of16(&'static Algorithm<u16>),
    Of32(&'static Algorithm<u32>),
}

impl Checksum {
    /// A width of whole bytes, and a check value that is the algorithm's.
    pub(super) const fn check(&self) -> Result<(), Error> {
        let (most, check) = match self {
            Self::Of8(algorithm) => (8.0, algorithm.check as u32),
            Self::Of16(algorithm) => (16.0, algorithm.check as u32),
            Self::Of32(algorithm) => (32.0, algorithm.check),
        };
        let width = self.width() as f64;
        try_const!(within(Field::ChecksumBits, width, 8.0, most));
        let whole = 8.0 * self.width().div_ceil(8) as f64;
        try_const!(within(Field::ChecksumBits, width, whole, whole));
        let found = self.of(b"123456789") as f64;
        within(Field::ChecksumCheck, check as f64, found, found)
    }

    const fn width(&self) -> u8 {
        match self {
            Self::Of8(algorithm) => algorithm.width,
            Self::Of16(algorithm) => algorithm.width,
            Self::Of32(algorithm) => algorithm.width,
        }
    }

    /// Bytes of the checksum, 1 to 4.
    pub(super) const fn bytes(&self) -> usize {
        self.width() as usize / 8
    }

    /// Of bytes. Without a table: it would cost up to a kilobyte for each width.
    pub(super) const fn of(&self, bytes: &[u8]) -> u32 {
        match self {
            Self::Of8(algorithm) => Crc::<u8, Table<0>>::new(algorithm).checksum(bytes) as u32,
            Self::Of16(algorithm) => Crc::<u16, Table<0>>::new(algorithm).checksum(bytes) as u32,
            Self::Of32(algorithm) => Crc::<u32, Table<0>>::new(algorithm).checksum(bytes),
        }
    }
}
