//! A number that tells a kernel from any other: for one that is stored, sent or built into a firmware of another language.

use super::Kernel;

/// Of the numbers of a kernel and their meaning; changes when a kernel of old bytes would give other readings.
///
/// ```
/// assert_eq!(gaugewright::fixed::FORMAT, 1);
/// ```
pub const FORMAT: u32 = 1;

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<DEGREE, FACTOR, PRODUCT> {
    /// CRC-32 (that of Ethernet) over the kernel's numbers: sizes, thermal output, gauge factor, then the others. Every number
    /// counts as four bytes, little endian, the same on every machine. It sees every
    /// single error burst of up to 32 bits; it is no protection against intent.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed, units::*};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// static OTHER: fixed::Kernel = CHANNEL.balanced(1.0, Celsius(20.0)).fixed();
    /// assert_ne!(KERNEL.checksum(), OTHER.checksum());
    /// ```
    #[must_use]
    pub const fn checksum(&self) -> u32 {
        let sizes = (DEGREE as u32) << 16 | FACTOR as u32;
        let mut crc = word(!0, sizes);
        let mut k = 0;
        while k < DEGREE {
            crc = word(crc, self.thermal[k] as u32);
            k += 1;
        }
        k = 0;
        while k < FACTOR {
            crc = word(crc, self.factor[k] as u32);
            k += 1;
        }
        let rest = [
            self.code_scale,
            self.codes.origin as u32,
            self.codes.last as u32,
            self.strain_limit as u32,
            self.flags.word() as u32,
            self.temperature_scale as u32,
            self.bits as u32,
            self.curvature as u32,
            self.temperatures.origin as u32,
            self.temperatures.last as u32,
            self.thermal_offset as u32,
            self.gain as u32,
        ];
        k = 0;
        while k < rest.len() {
            crc = word(crc, rest[k]);
            k += 1;
        }
        !crc
    }
}

/// The remainder with four bytes more. By bits: a table would cost a target a kilobyte, and this is no path for samples. Not
/// inlined: it is called some twenty times.
#[inline(never)]
const fn word(crc: u32, word: u32) -> u32 {
    let mut crc = crc ^ word;
    let mut bit = 0;
    while bit < 32 {
        crc = (crc >> 1) ^ if crc & 1 == 1 { 0xedb8_8320 } else { 0 };
        bit += 1;
    }
    crc
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_is_the_usual_remainder() {
        // The check value of CRC-32 is that of "123456789"; of its first eight digits:
        let eight = !word(word(!0, u32::from_le_bytes(*b"1234")), u32::from_le_bytes(*b"5678"));
        let mut crc = !0u32;
        for byte in *b"12345678" {
            crc ^= u32::from(byte);
            for _ in 0..8 {
                crc = if crc & 1 == 1 { (crc >> 1) ^ 0xedb8_8320 } else { crc >> 1 };
            }
        }
        assert_eq!(eight, !crc);
        crc ^= u32::from(b'9');
        for _ in 0..8 {
            crc = if crc & 1 == 1 { (crc >> 1) ^ 0xedb8_8320 } else { crc >> 1 };
        }
        assert_eq!(!crc, 0xcbf4_3926);
    }
}
