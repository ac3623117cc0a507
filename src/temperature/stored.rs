//! Kernels of thermometers in records: their numbers as words, and whether every value of a reading fits its register.

use super::curve::{Bound, Curve, NODES};
use super::{ResistanceKernel, ThermocoupleKernel};
use crate::error::{Error, Field, Quantity, at_most, whole_within};
use crate::sample::{KnownAnswer, Reader, Stored, Temperature, Writer, two_thirds};

impl<const PIECES: usize> ResistanceKernel<i32, PIECES> {
    /// Three readings for a self-test: the lowest and the highest code of the range, and the one at two thirds.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// # let t = ResistanceThermometer::platinum(
    /// #     Platinum::iec60751(Ohms(100.0)), Converter::bipolar(24, Ratio(1.0 / 8.0)), Ohms(4096.0));
    /// let kernel = t.try_fixed::<16>()?;
    /// assert_eq!(kernel.known_answers()[1].code, kernel.codes().1);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn known_answers(&self) -> [KnownAnswer; 3] {
        let (low, high) = self.codes();
        [
            self.known_answer(KnownAnswer::asked(low, 0, 0)),
            self.known_answer(KnownAnswer::asked(high, 0, 0)),
            self.known_answer(KnownAnswer::asked(two_thirds(low, high), 0, 0)),
        ]
    }

    const fn known_answer(&self, asked: KnownAnswer) -> KnownAnswer {
        let reading = self.reading(asked.code);
        asked.answered(reading.temperature.to_bits(), reading.flags.bits())
    }
}

impl<const HOT: usize, const COLD: usize> ThermocoupleKernel<i32, HOT, COLD> {
    /// Three readings for a self-test: the lowest EMF of the range with the cold junction at its lowest temperature, the highest
    /// with it at its highest, and both at two thirds of their ranges, each at the nearest code inside.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// # let converter = Converter::bipolar(24, Ratio(1.0 / 32.0));
    /// # let kernel = ThermocoupleInput::new(Thermocouple::K, converter, Millivolts(2500.0)).try_fixed::<64, 4>()?;
    /// assert!(kernel.known_answers().iter().all(|answer| answer.flags == 0));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn known_answers(&self) -> [KnownAnswer; 3] {
        let (low, high) = (self.hot.low, self.hot.high());
        let (coldest, hottest) = (self.cold.low, self.cold.high());
        let cold_junction = two_thirds(coldest, hottest);
        let middle = self.code(two_thirds(low, high), cold_junction);
        [
            self.known_answer(KnownAnswer::asked(self.code(low, coldest).wrapping_add(1), coldest, 0)),
            self.known_answer(KnownAnswer::asked(self.code(high, hottest), hottest, 0)),
            self.known_answer(KnownAnswer::asked(middle, cold_junction, 0)),
        ]
    }

    /// Of an EMF against 0 C in steps, rounded down.
    const fn code(&self, emf: i32, cold_junction: i32) -> i32 {
        let (from_low, _) = self.cold.above(cold_junction);
        emf.wrapping_sub(self.cold.value(from_low)) >> (30 - self.bits)
    }

    const fn known_answer(&self, asked: KnownAnswer) -> KnownAnswer {
        let reading = self.reading(asked.code, Temperature::from_bits(asked.temperature));
        asked.answered(reading.temperature.to_bits(), reading.flags.bits())
    }
}

impl<const PIECES: usize> Stored for ResistanceKernel<i32, PIECES> {
    const KIND: [u8; 4] = [3, PIECES.trailing_zeros() as u8, 0, 0];
    const WORDS: usize = 2 + Curve::<i32, PIECES>::WORDS;

    fn put(&self, words: &mut Writer<'_>) {
        words.word(self.bound.with_bits(self.bits));
        words.numbers(&[self.shorted]);
        self.curve.put(words);
    }

    fn take(words: &mut Reader<'_>) -> Result<Self, Error> {
        let (bound, bits) = Bound::take(words, 32)?;
        let shorted = words.number();
        let rail = i32::MAX >> (32 - u32::from(bits));
        Ok(Self { curve: Curve::take(words, (-rail, rail), i32::MAX)?, shorted, bits, bound })
    }

    fn answers(&self) -> [KnownAnswer; 3] {
        self.known_answers()
    }

    fn answer(&self, asked: &KnownAnswer) -> KnownAnswer {
        self.known_answer(*asked)
    }
}

impl<const HOT: usize, const COLD: usize> Stored for ThermocoupleKernel<i32, HOT, COLD> {
    const KIND: [u8; 4] = [4, HOT.trailing_zeros() as u8, COLD.trailing_zeros() as u8, 0];
    const WORDS: usize = 1 + Curve::<i32, HOT>::WORDS + Curve::<i32, COLD>::WORDS;

    fn put(&self, words: &mut Writer<'_>) {
        words.word(self.bound.with_bits(self.bits));
        self.hot.put(words);
        self.cold.put(words);
    }

    fn take(words: &mut Reader<'_>) -> Result<Self, Error> {
        let (bound, bits) = Bound::take(words, 30)?;
        let hot = Curve::take(words, (i32::MIN, i32::MAX), i32::MAX)?;
        // A code is at most 2^29 steps of EMF, and the sum with the cold junction's has to fit.
        let cold = Curve::take(words, (i32::MIN, i32::MAX), i32::MAX - (1 << 29))?;
        Ok(Self { hot, cold, scale: 1 << (30 - bits), bits, bound })
    }

    fn answers(&self) -> [KnownAnswer; 3] {
        self.known_answers()
    }

    fn answer(&self, asked: &KnownAnswer) -> KnownAnswer {
        self.known_answer(*asked)
    }
}

impl Bound {
    /// In one word with the converter's bits.
    fn with_bits(self, bits: u8) -> u32 {
        let [high, middle, low] = self.0;
        u32::from_be_bytes([high, middle, low, bits])
    }

    fn take(words: &mut Reader<'_>, most_bits: i32) -> Result<(Self, u8), Error> {
        let [high, middle, low, bits] = words.word().to_be_bytes();
        whole_within(Field::ConverterBits, bits.into(), 8, most_bits)?;
        // A number that is positive and finite has an exponent below the last one, and no sign.
        if u32::from_be_bytes([0, high, middle, low]) >= 0x7f_8000 {
            return Err(Field::TemperatureError.missing());
        }
        Ok((Self([high, middle, low]), bits))
    }
}

impl<const PIECES: usize> Curve<i32, PIECES> {
    const WORDS: usize = 2 + NODES * PIECES;

    const fn high(&self) -> i32 {
        self.low.wrapping_add(self.span as i32)
    }

    fn put(&self, words: &mut Writer<'_>) {
        words.numbers(&[self.low, self.high()]);
        for piece in &self.pieces {
            words.numbers(piece);
        }
    }

    /// Refuses inputs beyond `allowed`, and constants of which a sum on the way could be larger than `largest`.
    fn take(words: &mut Reader<'_>, allowed: (i32, i32), largest: i32) -> Result<Self, Error> {
        const {
            assert!(
                PIECES.is_power_of_two() && PIECES >= 2 && PIECES <= 256,
                "pieces come in powers of two, 2 to 256"
            )
        };
        let [low, high] = words.numbers();
        whole_within(Field::HighestCode, high, allowed.0, allowed.1)?;
        whole_within(Field::LowestCode, low, allowed.0, high)?;
        let span = high.wrapping_sub(low) as u32;
        if !(PIECES as u32..=1 << 31).contains(&span) {
            let (low, high) = (PIECES as f64, 2_147_483_648.0);
            return Err(Error::Invalid { field: Field::ThermometerCodes, value: span.into(), low, high });
        }
        let mut curve = Self { low, span, scale: u32::MAX / span, pieces: [[0; NODES]; PIECES] };
        for piece in &mut curve.pieces {
            *piece = words.numbers();
            let sum = piece.iter().rev().fold(0_u32, |sum, constant| {
                // Half of it, rounded up, and one that a product may round down.
                (sum / 2 + 2).saturating_add(constant.unsigned_abs())
            });
            at_most(Quantity::CurveConstant, sum, largest as u32)?;
        }
        Ok(curve)
    }
}
