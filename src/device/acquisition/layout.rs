//! The description of a word, checked while the firmware is compiled.

use crc::Algorithm;

use super::Word;
use super::checksum::Checksum;
use super::word::Bits;
use crate::error::{Error, Field, try_const, unwrap_const, within};

/// How the bits of a value stand for a code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Coding {
    /// Two's complement: all ones are -1.
    TwosComplement,
    /// Offset binary: all zeros are the lowest code, `-2^(bits - 1)`.
    OffsetBinary,
    /// No sign, of at most 31 bits: the codes are the upper half of those of a bipolar converter of one bit more, as which
    /// [`Converter::bipolar`](crate::Converter::bipolar) describes it.
    Unsigned,
}

/// The description of a [`Word`]: what a converter or a thermometer sends in one transfer.
///
/// A value of `bits` bits lies in one to four bytes that follow each other; the transfer may have other bytes before and after
/// it. Without further calls the value is at the end of the bytes that it needs, the most significant byte comes first, and
/// nothing else is sent.
///
/// ```
/// use gaugewright::device::acquisition::{Coding, Word, WordLayout};
///
/// // A status byte whose three upper bits are zero when all is well, then 24 bits in two's complement.
/// const WORD: Word = WordLayout::new(24, Coding::TwosComplement).at_byte(1).status(0, 0xe0, 0).word();
/// assert_eq!(WORD.decode(&[0x05, 0xff, 0xff, 0xfe]), Ok(-2));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct WordLayout {
    bits: u32,
    coding: Coding,
    least_first: bool,
    first: usize,
    shift: u32,
    /// Of the whole transfer; 0 for as many as are needed.
    bytes: usize,
    /// A byte, the mask of its bits, and their good value.
    status: Option<(usize, u8, u8)>,
    ready: Option<(usize, u8, u8)>,
    #[cfg_attr(feature = "defmt", defmt(Debug2Format))]
    checksum: Option<Algorithm<u32>>,
    no_data: Option<u32>,
    refuse_all_ones: bool,
    refuse_all_zeros: bool,
}

impl WordLayout {
    /// A value of 2 to 32 bits (31 without a sign).
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// let word = WordLayout::new(16, Coding::OffsetBinary).word();
    /// assert_eq!(word.decode(&[0x80, 0x01]), Ok(1));
    /// ```
    #[must_use]
    pub const fn new(bits: u32, coding: Coding) -> Self {
        Self {
            bits,
            coding,
            least_first: false,
            first: 0,
            shift: 0,
            bytes: 0,
            status: None,
            ready: None,
            checksum: None,
            no_data: None,
            refuse_all_ones: false,
            refuse_all_zeros: false,
        }
    }

    /// So many bits lie below the value in its last byte (its first one, if the least significant comes first): 4 for 12 bits
    /// aligned left in two bytes. Value and these bits together have at most 32; what they are is not looked at.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// let left = WordLayout::new(12, Coding::TwosComplement).shifted(4).word();
    /// assert_eq!(left.decode(&[0x7f, 0xff]), Ok(2047));
    /// ```
    #[must_use]
    pub const fn shifted(mut self, bits_below: u32) -> Self {
        self.shift = bits_below;
        self
    }

    /// The first byte of the value, counted from 0.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// // The second channel of a converter that sends two at a time.
    /// let second = WordLayout::new(16, Coding::TwosComplement).at_byte(2).word();
    /// assert_eq!(second.decode(&[0, 1, 0, 2]), Ok(2));
    /// ```
    #[must_use]
    pub const fn at_byte(mut self, first: usize) -> Self {
        self.first = first;
        self
    }

    /// Bytes of the whole transfer, up to [`Word::MOST_BYTES`], where bytes come after the value.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// let first = WordLayout::new(16, Coding::TwosComplement).transfer_bytes(4).word();
    /// assert_eq!((first.decode(&[0, 1, 0, 2]), first.bytes()), (Ok(1), 4));
    /// ```
    #[must_use]
    pub const fn transfer_bytes(mut self, bytes: usize) -> Self {
        self.bytes = bytes;
        self
    }

    /// The least significant byte comes first, in the value and in a checksum.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// let word = WordLayout::new(16, Coding::TwosComplement).least_significant_first().word();
    /// assert_eq!(word.decode(&[0x01, 0x80]), Ok(-32767));
    /// ```
    #[must_use]
    pub const fn least_significant_first(mut self) -> Self {
        self.least_first = true;
        self
    }

    /// The bits of a byte under `mask` have to be `good`, or the word is a [`Fault::Status`](super::Fault::Status): faults of the sensor or the
    /// reference, overload. Bytes are counted from 0.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, Fault, WordLayout};
    /// // 14 bits on the left of two bytes, and two fault bits below them.
    /// let word = WordLayout::new(14, Coding::TwosComplement).shifted(2).status(1, 0b11, 0).word();
    /// assert_eq!(word.decode(&[0x00, 0x15]), Err(Fault::Status { found: 1 }));
    /// ```
    #[must_use]
    pub const fn status(mut self, byte: usize, mask: u8, good: u8) -> Self {
        self.status = Some((byte, mask, good));
        self
    }

    /// The bits of a byte under `mask` are `ready` when the value is new, or the word is [`Fault::NotReady`](super::Fault::NotReady), after which a
    /// source looks again.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, Fault, WordLayout};
    /// let word = WordLayout::new(16, Coding::TwosComplement).at_byte(1).ready(0, 0x80, 0).word();
    /// assert_eq!(word.decode(&[0x80, 0, 7]), Err(Fault::NotReady));
    /// assert_eq!(word.decode(&[0x00, 0, 7]), Ok(7));
    /// ```
    #[must_use]
    pub const fn ready(mut self, byte: usize, mask: u8, ready: u8) -> Self {
        self.ready = Some((byte, mask, ready));
        self
    }

    /// The last bytes of the transfer are a checksum of all bytes before them: 8, 16, 24 or 32 bits wide. The package `crc` has
    /// algorithms of 24 and 32 bits in this type, those of 8 bits are for [`checksum_u8`](Self::checksum_u8), those of 16 bits for
    /// [`checksum_u16`](Self::checksum_u16). The `check` of an algorithm has to be its checksum of the characters 123456789, which
    /// finds a mistyped polynomial. Where a checksum covers bytes that were sent to the converter, state the register after these
    /// as `init`.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// let word = WordLayout::new(16, Coding::TwosComplement).checksum(&crc::CRC_32_ISO_HDLC).word();
    /// assert_eq!(word.bytes(), 6);
    /// ```
    #[must_use]
    pub const fn checksum(mut self, algorithm: &Algorithm<u32>) -> Self {
        self.checksum = Some(*algorithm);
        self
    }

    /// As [`checksum`](Self::checksum), 8 bits wide.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, Fault, WordLayout};
    /// let word = WordLayout::new(16, Coding::TwosComplement).checksum_u8(&crc::CRC_8_SMBUS).word();
    /// assert_eq!(word.decode(&[0x12, 0x34, 0xf1]), Ok(0x1234));
    /// assert_eq!(word.decode(&[0x12, 0x35, 0xf1]), Err(Fault::Checksum { computed: 0xf6, received: 0xf1 }));
    /// ```
    #[must_use]
    pub const fn checksum_u8(self, algorithm: &Algorithm<u8>) -> Self {
        let Algorithm { width, poly, init, refin, refout, xorout, check, residue } = *algorithm;
        self.checksum(&Algorithm {
            width,
            poly: poly as u32,
            init: init as u32,
            refin,
            refout,
            xorout: xorout as u32,
            check: check as u32,
            residue: residue as u32,
        })
    }

    /// As [`checksum`](Self::checksum), 16 bits wide.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// let word = WordLayout::new(16, Coding::TwosComplement).checksum_u16(&crc::CRC_16_KERMIT).word();
    /// assert_eq!(word.bytes(), 4);
    /// ```
    #[must_use]
    pub const fn checksum_u16(self, algorithm: &Algorithm<u16>) -> Self {
        let Algorithm { width, poly, init, refin, refout, xorout, check, residue } = *algorithm;
        self.checksum(&Algorithm {
            width,
            poly: poly as u32,
            init: init as u32,
            refin,
            refout,
            xorout: xorout as u32,
            check: check as u32,
            residue: residue as u32,
        })
    }

    /// Bits of the value that mean "no data", before they are decoded.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, Fault, WordLayout};
    /// let word = WordLayout::new(16, Coding::TwosComplement).no_data(0x8000).word();
    /// assert_eq!(word.decode(&[0x80, 0x00]), Err(Fault::NoData));
    /// ```
    #[must_use]
    pub const fn no_data(mut self, pattern: u32) -> Self {
        self.no_data = Some(pattern);
        self
    }

    /// A transfer of ones only is [`Fault::AllOnes`](super::Fault::AllOnes): the line is stuck high, or no converter is there. Without a checksum or
    /// status bits beside it, the one code that looks like it is refused too (-1 in two's complement).
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, Fault, WordLayout};
    /// let word = WordLayout::new(16, Coding::TwosComplement).refuse_all_ones().word();
    /// assert_eq!(word.decode(&[0xff, 0xff]), Err(Fault::AllOnes));
    /// ```
    #[must_use]
    pub const fn refuse_all_ones(mut self) -> Self {
        self.refuse_all_ones = true;
        self
    }

    /// A transfer of zeros only is [`Fault::AllZeros`](super::Fault::AllZeros): the line is stuck low. As with
    /// [`refuse_all_ones`](Self::refuse_all_ones), the one code that looks like it may be refused too (0 in two's complement).
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, Fault, WordLayout};
    /// let word = WordLayout::new(16, Coding::OffsetBinary).refuse_all_zeros().word();
    /// assert_eq!(word.decode(&[0, 0]), Err(Fault::AllZeros));
    /// ```
    #[must_use]
    pub const fn refuse_all_zeros(mut self) -> Self {
        self.refuse_all_zeros = true;
        self
    }

    /// The word, for constants in firmware.
    ///
    /// # Panics
    /// Where [`try_word`](Self::try_word) gives an error: the build stops with its words.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, Word, WordLayout};
    /// const WORD: Word = WordLayout::new(24, Coding::TwosComplement).word();
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn word(self) -> Word {
        unwrap_const(self.try_word())
    }

    /// The word, after a check of the description.
    ///
    /// # Errors
    /// [`Error::Invalid`]: more bits than an `i32` or four bytes hold, a value, status or checksum that does not lie in the
    /// transfer, a status that cannot be good, a pattern that the value cannot have, a `check` that is not the checksum's.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{Coding, WordLayout};
    /// let error = WordLayout::new(32, Coding::Unsigned).try_word().unwrap_err();
    /// assert_eq!(error.to_string(), "bits of a word is 32, allowed: 2 to 31");
    /// ```
    pub const fn try_word(mut self) -> Result<Word, Error> {
        let most_bits = if matches!(self.coding, Coding::Unsigned) { 31.0 } else { 32.0 };
        try_const!(within(Field::WordBits, self.bits as f64, 2.0, most_bits));
        try_const!(within(Field::WordShift, self.shift as f64, 0.0, 32.0 - self.bits as f64));
        let value_bytes = (self.bits + self.shift).div_ceil(8) as usize;
        let (checksum, checksum_bytes) = match &self.checksum {
            None => (None, 0),
            Some(algorithm) => {
                let checksum = try_const!(Checksum::try_new(algorithm));
                (Some(checksum), checksum.bytes())
            }
        };
        let needed = self.first.saturating_add(value_bytes + checksum_bytes);
        if self.bytes == 0 {
            self.bytes = needed;
        }
        // The order of the limits is that of a sum which may be too large itself.
        try_const!(within(Field::TransferBytes, needed as f64, 1.0, Word::MOST_BYTES as f64));
        try_const!(within(Field::TransferBytes, self.bytes as f64, needed as f64, Word::MOST_BYTES as f64));
        let status = try_const!(Bits::try_new(self.status, self.bytes));
        let ready = try_const!(Bits::try_new(self.ready, self.bytes));
        if let Some(pattern) = self.no_data {
            let highest = u32::MAX >> (32 - self.bits);
            try_const!(within(Field::NoDataPattern, pattern as f64, 0.0, highest as f64));
        }
        // All numbers were checked: none is above 32.
        Ok(Word {
            bits: self.bits as u8,
            coding: self.coding,
            least_first: self.least_first,
            first: self.first as u8,
            shift: self.shift as u8,
            value_bytes: value_bytes as u8,
            bytes: self.bytes as u8,
            status,
            ready,
            checksum,
            no_data: self.no_data,
            refuse_all_ones: self.refuse_all_ones,
            refuse_all_zeros: self.refuse_all_zeros,
        })
    }
}
