//! What a kernel is in a record: words of 32 bits, and readings whose results are known.

use crate::error::Error;

/// A reading whose result travels with a kernel.
///
/// ```
/// use gaugewright::{example::CHANNEL, fixed::{self, Temperature}};
/// static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// let [lowest, ..] = KERNEL.known_answers();
/// let reading = KERNEL.reading(lowest.code, Temperature::from_bits(lowest.temperature));
/// assert_eq!((reading.strain.to_bits(), u32::from(reading.flags.bits())), (lowest.result, lowest.flags));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct KnownAnswer {
    /// Code of the converter.
    pub code: i32,
    /// Temperature of the gauge that measures, or of a thermocouple's cold junction, Q20 degrees Celsius; 0 where none is asked for.
    pub temperature: i32,
    /// Temperature of the compensating gauge, Q20 degrees Celsius; 0 where none is asked for.
    pub compensating: i32,
    /// Strain in Q34, or temperature in Q20 degrees Celsius.
    pub result: i32,
    /// Bits of the reading's flags.
    pub flags: u32,
}

impl KnownAnswer {
    /// What a kernel is asked, without an answer.
    pub(crate) const fn asked(code: i32, temperature: i32, compensating: i32) -> Self {
        Self { code, temperature, compensating, result: 0, flags: 0 }
    }

    /// The same with this one.
    pub(crate) const fn answered(self, result: i32, flags: u8) -> Self {
        Self { result, flags: flags as u32, ..self }
    }
}

/// What a record holds of a kernel. Seen by the library alone.
pub trait Stored: Copy {
    /// The kind of kernel, and the sizes of its type.
    const KIND: [u8; 4];
    /// Words of 32 bits.
    const WORDS: usize;

    fn put(&self, words: &mut Writer<'_>);

    /// The kernel of these words, if every value of a reading of it fits its register.
    fn take(words: &mut Reader<'_>) -> Result<Self, Error>;

    fn answers(&self) -> [KnownAnswer; 3];

    /// What the kernel answers to the inputs of an answer.
    fn answer(&self, asked: &KnownAnswer) -> KnownAnswer;
}

/// Bytes that are filled one number after the other, little endian.
pub struct Writer<'a>(pub &'a mut [u8]);

impl Writer<'_> {
    /// Nothing where no room is left: the length was checked before the first one.
    pub fn bytes<const N: usize>(&mut self, bytes: [u8; N]) {
        if let Some((first, rest)) = core::mem::take(&mut self.0).split_first_chunk_mut() {
            *first = bytes;
            self.0 = rest;
        }
    }

    #[inline(never)]
    pub fn word(&mut self, word: u32) {
        self.bytes(word.to_le_bytes());
    }

    pub fn numbers(&mut self, numbers: &[i32]) {
        for number in numbers {
            self.word(*number as u32);
        }
    }
}

/// Bytes that are read one number after the other, little endian.
pub struct Reader<'a>(pub &'a [u8]);

impl Reader<'_> {
    /// Zeros where none are left: the length was checked before the first one.
    pub fn bytes<const N: usize>(&mut self) -> [u8; N] {
        let Some((first, rest)) = self.0.split_first_chunk() else { return [0; N] };
        self.0 = rest;
        *first
    }

    // Out of line, so that a kernel of many numbers is no long code.
    #[inline(never)]
    pub fn word(&mut self) -> u32 {
        u32::from_le_bytes(self.bytes())
    }

    pub fn number(&mut self) -> i32 {
        self.word() as i32
    }

    pub fn numbers<const N: usize>(&mut self) -> [i32; N] {
        let mut numbers = [0; N];
        for number in &mut numbers {
            *number = self.number();
        }
        numbers
    }
}

/// Two thirds of the way from the lower end of a range to the upper one.
pub(crate) const fn two_thirds(low: i32, high: i32) -> i32 {
    let width = high.wrapping_sub(low) as u32;
    low.wrapping_add((width / 3 * 2) as i32)
}
