//! Words as converters and thermometers send them, decoded without a bus.

use core::fmt::{Display, Formatter, Result as Written};

use super::Coding;
use super::checksum::Checksum;
use crate::error::{Error, Field, try_const, within};

/// Bytes of one transfer to a code: a [`WordLayout`](super::WordLayout) that was checked. Plain data, no bus.
///
/// ```
/// use gaugewright::device::acquisition::{Coding, Fault, Word, WordLayout};
/// const WORD: Word = WordLayout::new(24, Coding::TwosComplement).refuse_all_ones().word();
/// assert_eq!(WORD.bytes(), 3);
/// assert_eq!(WORD.decode(&[0x00, 0x01, 0x00]), Ok(256));
/// assert_eq!(WORD.decode(&[0x00, 0x01]), Err(Fault::Length { given: 2, needed: 3 }));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Word {
    pub(super) bits: u8,
    pub(super) coding: Coding,
    pub(super) least_first: bool,
    pub(super) first: u8,
    pub(super) shift: u8,
    pub(super) value_bytes: u8,
    pub(super) bytes: u8,
    pub(super) status: Option<Bits>,
    pub(super) ready: Option<Bits>,
    pub(super) checksum: Option<Checksum>,
    pub(super) no_data: Option<u32>,
    pub(super) refuse_all_ones: bool,
    pub(super) refuse_all_zeros: bool,
}

/// Bits of one byte that have a good value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Bits {
    byte: u8,
    mask: u8,
    good: u8,
}

impl Bits {
    /// Of a transfer of so many bytes: the byte, the mask and the good value, if any are stated.
    pub(super) const fn try_new(
        stated: Option<(usize, u8, u8)>,
        bytes: usize,
    ) -> Result<Option<Self>, Error> {
        let Some((byte, mask, good)) = stated else { return Ok(None) };
        try_const!(within(Field::StatusByte, byte as f64, 0.0, bytes as f64 - 1.0));
        try_const!(Field::StatusMask.check(mask as f64));
        try_const!(Field::StatusOutsideMask.check((good & !mask) as f64));
        Ok(Some(Self { byte: byte as u8, mask, good }))
    }

    /// The bits under the mask, and whether they are good.
    fn of(self, bytes: &[u8]) -> (u8, bool) {
        let found = bytes.get(usize::from(self.byte)).map_or(!self.good, |byte| *byte) & self.mask;
        (found, found == self.good)
    }
}

impl Word {
    /// Bytes of the longest transfer.
    ///
    /// ```
    /// assert_eq!(gaugewright::device::acquisition::Word::MOST_BYTES, 32);
    /// ```
    pub const MOST_BYTES: usize = 32;

    /// Bytes of a transfer, 1 to [`MOST_BYTES`](Self::MOST_BYTES).
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// assert_eq!(WordLayout::new(12, Coding::Unsigned).word().bytes(), 2);
    /// ```
    #[must_use]
    pub const fn bytes(&self) -> usize {
        self.bytes as usize
    }

    /// The code in the bytes of a transfer. Every string of bytes gives a code or an error; nothing panics.
    ///
    /// # Errors
    /// The first [`Fault`] of these, in this order: length, all ones, all zeros, checksum, not ready, status, no data.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// let word = WordLayout::new(12, Coding::OffsetBinary).word();
    /// // The four bits above the value are not looked at.
    /// assert_eq!(word.decode(&[0xf0, 0x00]), Ok(-2048));
    /// ```
    pub fn decode(&self, bytes: &[u8]) -> Result<i32, Fault> {
        let needed = self.bytes();
        if bytes.len() != needed {
            return Err(Fault::Length { given: bytes.len(), needed });
        }
        if self.refuse_all_ones && bytes.iter().all(|byte| *byte == 0xff) {
            return Err(Fault::AllOnes);
        }
        if self.refuse_all_zeros && bytes.iter().all(|byte| *byte == 0) {
            return Err(Fault::AllZeros);
        }
        if let Some(checksum) = &self.checksum {
            let (covered, stated) =
                bytes.split_at_checked(bytes.len() - checksum.bytes()).unwrap_or((bytes, &[]));
            let (computed, received) = (checksum.of(covered), self.number(stated));
            if computed != received {
                return Err(Fault::Checksum { computed, received });
            }
        }
        if self.ready.is_some_and(|ready| !ready.of(bytes).1) {
            return Err(Fault::NotReady);
        }
        if let Some((found, false)) = self.status.map(|status| status.of(bytes)) {
            return Err(Fault::Status { found });
        }
        let (_, from_value) = bytes.split_at_checked(usize::from(self.first)).unwrap_or((bytes, &[]));
        let (value, _) = from_value.split_at_checked(self.value_bytes.into()).unwrap_or((from_value, &[]));
        let unused = 32 - self.bits;
        // On the left of a word of 32 bits, so that the bits above the value fall out.
        let left = self.number(value) >> self.shift << unused;
        if self.no_data.is_some_and(|pattern| left >> unused == pattern) {
            return Err(Fault::NoData);
        }
        Ok(match self.coding {
            Coding::TwosComplement => left as i32 >> unused,
            Coding::OffsetBinary => (left ^ 0x8000_0000) as i32 >> unused,
            Coding::Unsigned => (left >> unused) as i32,
        })
    }

    /// As [`decode`](Self::decode), and `None` where it is worth looking again.
    pub(super) fn new_code<E>(&self, bytes: &[u8]) -> Result<Option<i32>, crate::device::Error<E>> {
        match self.decode(bytes) {
            Ok(code) => Ok(Some(code)),
            Err(Fault::NotReady) => Ok(None),
            Err(fault) => Err(crate::device::Error::Word(fault)),
        }
    }

    /// Up to four bytes as a number.
    fn number(&self, bytes: &[u8]) -> u32 {
        let add = |sum: u32, byte: &u8| sum << 8 | u32::from(*byte);
        if self.least_first { bytes.iter().rev().fold(0, add) } else { bytes.iter().fold(0, add) }
    }
}

/// Why the bytes of a transfer are no sample.
///
/// ```
/// use gaugewright::device::acquisition::Fault;
/// assert_eq!(Fault::AllZeros.to_string(), "every bit is zero: the line is stuck low");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Fault {
    /// The transfer has another length.
    Length {
        /// Its bytes.
        given: usize,
        /// Bytes of the word.
        needed: usize,
    },
    /// Every bit is one.
    AllOnes,
    /// Every bit is zero.
    AllZeros,
    /// The checksum is not that of the bytes before it.
    Checksum {
        /// Of the bytes.
        computed: u32,
        /// The number that was sent.
        received: u32,
    },
    /// The bits that show a new value do not show one.
    NotReady,
    /// Status bits do not have their good value.
    Status {
        /// The bits under the mask.
        found: u8,
    },
    /// The value is the pattern that means "no data".
    NoData,
    /// The data line of a converter that is clocked by pulses is low after the last one, where the converter drives it high.
    DataLineLow,
}

impl Display for Fault {
    fn fmt(&self, f: &mut Formatter<'_>) -> Written {
        match *self {
            Self::Length { given, needed } => write!(f, "the transfer has {given} bytes, the word {needed}"),
            Self::AllOnes => f.write_str("every bit is one: the line is stuck high, or nothing is connected"),
            Self::AllZeros => f.write_str("every bit is zero: the line is stuck low"),
            Self::Checksum { computed, received } => {
                write!(f, "the checksum is {received:#x}, that of the bytes is {computed:#x}")
            }
            Self::NotReady => f.write_str("no new value is ready"),
            Self::Status { found } => {
                write!(f, "the status bits are {found:#04x}, which is not their good value")
            }
            Self::NoData => f.write_str("the value is the pattern that means no data"),
            Self::DataLineLow => f.write_str("the data line is low where the converter drives it high"),
        }
    }
}

impl core::error::Error for Fault {}
