//! The checksum of a word, whose algorithm was checked.

use crc::Algorithm;

use crate::error::{Error, Field, try_const, within};

/// An algorithm as it is computed with: the register lies on the left of 32 bits, whatever its width.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Checksum {
    polynomial: u32,
    start: u32,
    xor_out: u32,
    bytes: u8,
    reflected_in: bool,
    reflected_out: bool,
}

impl Checksum {
    pub(super) const fn try_new(algorithm: &Algorithm<u32>) -> Result<Self, Error> {
        let Algorithm { width, poly, init, refin, refout, xorout, check, .. } = *algorithm;
        try_const!(within(Field::ChecksumBits, width as f64, 8.0, 32.0));
        let bytes = width.div_ceil(8);
        let whole = 8.0 * bytes as f64;
        try_const!(within(Field::ChecksumBits, width as f64, whole, whole));
        let unused = 32 - width;
        let checksum = Self {
            polynomial: poly << unused,
            start: init << unused,
            xor_out: xorout,
            bytes,
            reflected_in: refin,
            reflected_out: refout,
        };
        let found = checksum.of(b"123456789") as f64;
        try_const!(within(Field::ChecksumCheck, check as f64, found, found));
        Ok(checksum)
    }

    /// Bytes of the checksum, 1 to 4.
    pub(super) const fn bytes(&self) -> usize {
        self.bytes as usize
    }

    /// Of bytes. A reflected algorithm takes the bits of each byte in reverse.
    pub(super) const fn of(&self, mut bytes: &[u8]) -> u32 {
        let mut register = self.start;
        while let [byte, rest @ ..] = bytes {
            let byte = if self.reflected_in { byte.reverse_bits() } else { *byte };
            register ^= (byte as u32) << 24;
            let mut bit = 0;
            while bit < 8 {
                register = (register << 1) ^ ((register as i32 >> 31) as u32 & self.polynomial);
                bit += 1;
            }
            bytes = rest;
        }
        let unused = 32 - 8 * self.bytes as u32;
        (if self.reflected_out { register.reverse_bits() } else { register >> unused }) ^ self.xor_out
    }
}
