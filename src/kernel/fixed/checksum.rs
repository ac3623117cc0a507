//! A number that tells a kernel from any other: for one that is stored, sent or built into a firmware of another language.

use super::{AdjustableKernel, Kernel};

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
        !self.after(!0)
    }

    /// The remainder with the kernel's numbers more.
    const fn after(&self, crc: u32) -> u32 {
        let sizes = (DEGREE as u32) << 16 | FACTOR as u32;
        let crc = words(words(word(crc, sizes), &self.thermal), &self.factor);
        let rest = [
            self.code_scale as i32,
            self.codes.origin,
            self.codes.last,
            self.strain_limit,
            self.flags.word(),
            self.temperature_scale as i32,
            self.bits as i32,
            self.curvature,
            self.temperatures.origin,
            self.temperatures.last,
            self.thermal_offset,
            self.gain,
        ];
        words(crc, &rest)
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    AdjustableKernel<DEGREE, FACTOR, PRODUCT>
{
    /// CRC-32 over the numbers, as [`Kernel::checksum`]: those of the kernel, then the others in their order in C. A number of 64 bits
    /// counts as two words, the lower half first.
    ///
    /// ```
    /// use gaugewright::{example::STRUT, fixed::*};
    /// const fn to(code: i32) -> AdjustableKernel {
    ///     STRUT.fixed_adjustable((-code, code), (Span::ONE, Span::ONE))
    /// }
    /// static ON_SITE: AdjustableKernel = to(2_000_000);
    /// static OTHER: AdjustableKernel = to(1_000_000);
    /// assert_ne!(ON_SITE.checksum(), OTHER.checksum());
    /// ```
    #[must_use]
    pub const fn checksum(&self) -> u32 {
        let crc = words(self.kernel.after(!0), &self.kernel.product);
        let crc = long_words(long_words(crc, &self.gain), &self.curvature);
        let crc = long_words(long_words(crc, &self.thermal.descending), &self.thermal.middle);
        let crc = long_words(crc, &self.factor);
        let [of_gain, of_curvature] = self.left_out;
        let rest = [
            self.codes.0,
            self.codes.1,
            self.spans.0.to_bits() as i32,
            self.spans.1.to_bits() as i32,
            self.middle,
            of_gain as i32,
            of_curvature as i32,
            self.shift as i32,
        ];
        !words(crc, &rest)
    }
}

const fn words(mut crc: u32, numbers: &[i32]) -> u32 {
    let mut k = 0;
    while k < numbers.len() {
        crc = word(crc, numbers[k] as u32);
        k += 1;
    }
    crc
}

const fn long_words(mut crc: u32, numbers: &[i64]) -> u32 {
    let mut k = 0;
    while k < numbers.len() {
        crc = word(word(crc, numbers[k] as u32), (numbers[k] >> 32) as u32);
        k += 1;
    }
    crc
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
