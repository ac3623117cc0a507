//! Kernels in records: their numbers as words, and whether every value of a reading fits its register.

use super::compensated::{CompensatedKernel, Second};
use super::{Kernel, PRODUCT_SHIFT, Temperature};
use crate::error::{Error, Field, Quantity, at_most, whole_within};
use crate::sample::{Flags, InputRange, KnownAnswer, Reader, Stored, Writer, number, two_thirds};

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<DEGREE, FACTOR, PRODUCT> {
    /// Three readings for a self-test: the lowest code at the lowest temperature, the highest at the highest, and the code and
    /// temperature at two thirds of their ranges. In a constant they are those of the computer that built the firmware.
    ///
    /// ```
    /// use gaugewright::{device::record::KnownAnswer, example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// static ANSWERS: [KnownAnswer; 3] = KERNEL.known_answers();
    /// assert_eq!(ANSWERS[1].code, KERNEL.codes().1);
    /// ```
    #[must_use]
    pub const fn known_answers(&self) -> [KnownAnswer; 3] {
        let ((code_low, code_high), (low, high)) = (self.codes(), self.temperatures());
        let middle = two_thirds(low.to_bits(), high.to_bits());
        [
            self.made_answer(KnownAnswer::asked(code_low, low.to_bits(), 0)),
            self.made_answer(KnownAnswer::asked(code_high, high.to_bits(), 0)),
            self.made_answer(KnownAnswer::asked(two_thirds(code_low, code_high), middle, 0)),
        ]
    }

    /// Out of line: three readings, each with its own copy of the arithmetic, would take a Cortex-M0 a kilobyte more.
    #[inline(never)]
    const fn made_answer(&self, asked: KnownAnswer) -> KnownAnswer {
        self.known_answer(asked)
    }

    const fn known_answer(&self, asked: KnownAnswer) -> KnownAnswer {
        let reading = self.reading(asked.code, Temperature::from_bits(asked.temperature));
        asked.answered(reading.strain.to_bits(), reading.flags.bits())
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    /// Three readings for a self-test: as [`Kernel::known_answers`], the compensating gauge at the highest, the lowest and two thirds
    /// of its own range.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, fixed};
    /// static KERNEL: fixed::CompensatedKernel = CHANNEL.fixed();
    /// let answers = KERNEL.known_answers();
    /// assert!(answers[0].compensating > answers[1].compensating);
    /// ```
    #[must_use]
    pub const fn known_answers(&self) -> [KnownAnswer; 3] {
        let ((code_low, code_high), (low, high)) = (self.kernel.codes(), self.kernel.temperatures());
        let (coldest, hottest) = (self.second.temperatures.low(), self.second.temperatures.high());
        let (code, middle) = (two_thirds(code_low, code_high), two_thirds(low.to_bits(), high.to_bits()));
        [
            self.known_answer(KnownAnswer::asked(code_low, low.to_bits(), hottest)),
            self.known_answer(KnownAnswer::asked(code_high, high.to_bits(), coldest)),
            self.known_answer(KnownAnswer::asked(code, middle, two_thirds(coldest, hottest))),
        ]
    }

    const fn known_answer(&self, asked: KnownAnswer) -> KnownAnswer {
        let own = Temperature::from_bits(asked.temperature);
        let reading = self.reading(asked.code, own, Temperature::from_bits(asked.compensating));
        asked.answered(reading.strain.to_bits(), reading.flags.bits())
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Stored
    for Kernel<DEGREE, FACTOR, PRODUCT>
{
    const KIND: [u8; 4] = [1, DEGREE as u8, FACTOR as u8, PRODUCT as u8];
    const WORDS: usize = 9 + DEGREE + FACTOR + PRODUCT;

    fn put(&self, words: &mut Writer<'_>) {
        put_range(words, self.codes);
        put_range(words, self.temperatures);
        words.numbers(&[self.strain_limit, self.bits.into(), self.gain, self.curvature, self.thermal_offset]);
        words.numbers(&self.thermal);
        words.numbers(&self.factor);
        words.numbers(&self.product);
    }

    fn take(words: &mut Reader<'_>) -> Result<Self, Error> {
        let kernel = take_kernel(words)?;
        check_fit(&kernel, None)?;
        Ok(kernel)
    }

    fn answers(&self) -> [KnownAnswer; 3] {
        self.known_answers()
    }

    fn answer(&self, asked: &KnownAnswer) -> KnownAnswer {
        self.known_answer(*asked)
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Stored
    for CompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    const KIND: [u8; 4] = [2, DEGREE as u8, FACTOR as u8, PRODUCT as u8];
    const WORDS: usize = Kernel::<DEGREE, FACTOR, PRODUCT>::WORDS + 3 + DEGREE;

    fn put(&self, words: &mut Writer<'_>) {
        self.kernel.put(words);
        put_range(words, self.second.temperatures);
        words.numbers(&[self.second.thermal_offset]);
        words.numbers(&self.second.thermal);
    }

    fn take(words: &mut Reader<'_>) -> Result<Self, Error> {
        let kernel = take_kernel(words)?;
        let (temperatures, temperature_scale) = take_temperatures(words)?;
        let thermal_offset = words.number();
        let second = Second {
            temperatures,
            thermal: words.numbers(),
            thermal_offset,
            temperature_scale: temperature_scale.into(),
        };
        check_fit(&kernel, Some(&second))?;
        Ok(Self { kernel, second })
    }

    fn answers(&self) -> [KnownAnswer; 3] {
        self.known_answers()
    }

    fn answer(&self, asked: &KnownAnswer) -> KnownAnswer {
        self.known_answer(*asked)
    }
}

fn put_range(words: &mut Writer<'_>, range: InputRange) {
    words.numbers(&[range.low(), range.high()]);
}

/// The numbers, each in its own range. Scales follow from the ranges and are not stored.
fn take_kernel<const D: usize, const F: usize, const P: usize>(
    words: &mut Reader<'_>,
) -> Result<Kernel<D, F, P>, Error> {
    let codes: [i32; 2] = words.numbers();
    let (temperatures, temperature_scale) = take_temperatures(words)?;
    let strain_limit = words.number();
    let bits = words.number();
    whole_within(Field::ConverterBits, bits, 8, 32)?;
    let codes = code_range(codes, bits)?;
    at_most(Quantity::StrainValue, strain_limit as u32, i32::MAX as u32)?;
    let [gain, curvature, thermal_offset] = words.numbers();
    Ok(Kernel {
        thermal: words.numbers(),
        code_scale: codes.scale_factor(),
        codes,
        strain_limit,
        flags: Flags::CLEAR,
        temperature_scale,
        bits: bits as u16,
        factor: words.numbers(),
        curvature,
        temperatures,
        thermal_offset,
        gain,
        product: words.numbers(),
    })
}

/// A range of codes between the rails of so many bits, which a window leaves out.
fn code_range([low, high]: [i32; 2], bits: i32) -> Result<InputRange, Error> {
    let rail = i32::MAX >> (32 - bits);
    whole_within(Field::HighestCode, high, !rail + 1, rail - 1)?;
    whole_within(Field::LowestCode, low, !rail + 1, high)?;
    Ok(InputRange::new(low, high))
}

/// A range of temperatures, and what spreads it over a register.
fn take_temperatures(words: &mut Reader<'_>) -> Result<(InputRange, u16), Error> {
    let [low, high] = words.numbers();
    let celsius = |steps: i64| number(steps, 20);
    if high < low {
        let (low, high) = (celsius(low.into()), celsius(high.into()));
        return Err(Error::Reversed { field: Field::TemperatureHigh, low, high });
    }
    let range = InputRange::new(low, high);
    // Scales from 65 536 up are those of widths below a sixteenth of a degree.
    if range.width() < 1 << 16 {
        let (field, value) = (Field::TemperatureWidth, celsius(range.width().into()));
        return Err(Error::Invalid { field, value, low: 0.0625, high: 4095.0 });
    }
    Ok((range, range.scale_factor() as u16))
}

/// Refuses a kernel in which a value of an input in range may not fit an `i32`, or a factor of a short product 31 bits: the
/// arithmetic of a reading and of a point, on magnitudes.
fn check_fit<const D: usize, const F: usize, const P: usize>(
    kernel: &Kernel<D, F, P>,
    second: Option<&Second<D>>,
) -> Result<(), Error> {
    let mut most = Magnitudes { largest: 0, largest_factor: 0 };
    let factor = most.horner(&kernel.factor);
    let l = most.mla(factor, INPUT, 0);
    most.check(Quantity::GaugeFactorConstant)?;
    let own = most.polynomial(&kernel.thermal, kernel.thermal_offset);
    let other = second.map_or(0, |second| most.polynomial(&second.thermal, second.thermal_offset));
    most.check(Quantity::ThermalOutputConstant)?;
    let gain = kernel.gain.unsigned_abs();
    let p = most.mla(INPUT, kernel.curvature.unsigned_abs(), 0);
    let product = match kernel.product.as_slice() {
        [factor, ..] => factor.unsigned_abs(),
        [] => 0,
    };
    most.reading(gain, p, l, own, other, product);
    most.point(gain, p, l, own, other, product);
    most.check(Quantity::StrainValue)
}

/// Largest magnitude of an input that is spread over a register.
const INPUT: u32 = 1 << 31;
/// Largest magnitude of a value: a strain is at least two steps away from the ends of an `i32`.
const LARGEST: u32 = (1 << 31) - 3;
/// Largest magnitude of the factors of a short product.
const LARGEST_FACTOR: u32 = 1 << 30;

/// The largest magnitudes met. Sums saturate, so that what is too large stays so.
struct Magnitudes {
    largest: u32,
    largest_factor: u32,
}

impl Magnitudes {
    fn sum(&mut self, a: u32, b: u32) -> u32 {
        let sum = a.saturating_add(b);
        self.largest = self.largest.max(sum);
        sum
    }

    // Out of line: some sixty products at each start of a logger, whose flash is worth more than their time.
    #[inline(never)]
    fn mla(&mut self, a: u32, b: u32, c: u32) -> u32 {
        // A product of either sign is rounded down: its magnitude grows by one at most.
        let product = ((u64::from(a) * u64::from(b)) >> 32) as u32;
        let product = self.sum(product, 1);
        self.sum(product, c)
    }

    #[inline(never)]
    fn mla_small(&mut self, a: u32, b: u32, c: u32) -> u32 {
        self.largest_factor = self.largest_factor.max(a).max(b);
        self.mla(a, b, c)
    }

    #[inline(never)]
    fn horner(&mut self, descending: &[i32]) -> u32 {
        descending.iter().fold(0, |sum, constant| self.mla(sum, INPUT, constant.unsigned_abs()))
    }

    #[inline(never)]
    fn polynomial(&mut self, descending: &[i32], offset: i32) -> u32 {
        let sum = self.horner(descending);
        self.mla(sum, INPUT, offset.unsigned_abs())
    }

    #[inline(never)]
    fn times_factor(&mut self, strain: u32, factor: u32) -> u32 {
        let product = self.mla(strain, factor, 0);
        let shifted = product.saturating_mul(1 << PRODUCT_SHIFT);
        self.sum(shifted, 0)
    }

    /// `strain_inside` of a kernel.
    fn reading(&mut self, gain: u32, p: u32, l: u32, own: u32, other: u32, product: u32) {
        let signal = self.mla(INPUT, gain, 0);
        let own_change = self.mla(own, p, own);
        let turned = self.times_factor(signal, product);
        let turned = self.sum(p, turned);
        let both = self.sum(own_change, other);
        let both = self.mla(other, turned, both);
        let numerator = self.sum(signal, both);
        let change = self.times_factor(own_change, product);
        let p = self.sum(p, change);
        let sum = self.sum(l, p);
        let u = self.mla_small(p, l, sum);
        let u2 = self.mla_small(u, u, 0);
        let strain = self.mla(numerator, u, numerator);
        let strain = self.mla(strain, u2, strain);
        let high = self.mla(strain, u2, 0);
        self.mla(high, u2, strain);
    }

    /// `point` of a kernel, and `strain_inside` of an operating point.
    fn point(&mut self, gain: u32, p: u32, l: u32, own: u32, other: u32, product: u32) {
        let change = self.times_factor(own, product);
        let share = self.times_factor(other, product);
        let gain = self.mla(gain, share, gain);
        let sum = self.sum(l, change);
        let l = self.mla_small(l, change, sum);
        let l2 = self.mla_small(l, l, 1);
        let even = self.even(l2);
        let sum = self.sum(l, even);
        let s = self.mla_small(even, l, sum);
        let gain = self.mla(gain, s, gain);
        let thermal = self.sum(own, other);
        let thermal = self.mla(thermal, s, thermal);
        let thermal = self.sum(thermal, 1);
        let gain = self.mla(gain, p, gain);
        let p2 = self.mla_small(p, p, 1);
        let even = self.even(p2);
        let gain = self.mla(gain, even, gain);
        self.mla(INPUT, gain, thermal);
    }

    /// Of the square: even powers up to the sixth, or what is less.
    #[inline(never)]
    fn even(&mut self, square: u32) -> u32 {
        let even = self.mla_small(square, square, square);
        self.mla_small(even, square, square)
    }

    fn check(&self, quantity: Quantity) -> Result<(), Error> {
        at_most(quantity, self.largest, LARGEST)?;
        at_most(Quantity::Divisor, self.largest_factor, LARGEST_FACTOR)
    }
}
