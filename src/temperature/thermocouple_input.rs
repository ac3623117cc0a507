//! A thermocouple behind a converter: EMFs are summed in integers, then turned to a temperature.

use super::Thermocouple;
use super::curve::{Bound, Curve, CurveConstants, Fit};
use super::forms::forms;
use super::reading::{Reading, ThermometerFlags};
use super::source::Source;
use crate::error::{Error, Field, Quantity, fits, ordered, try_const, within};
use crate::sample::{Converter, Temperature};
use crate::units::{Celsius, Millivolts};

/// A thermocouple and what turns its EMF into codes.
///
/// ```
/// use gaugewright::{Converter, fixed::Temperature, units::*};
/// use gaugewright::temperature::{Thermocouple, ThermocoupleInput, ThermocoupleKernel};
///
/// // A gain of 32 and a reference of 2.5 V: full scale is 78.125 mV.
/// const SKIN: ThermocoupleInput = ThermocoupleInput::new(
///     Thermocouple::K,
///     Converter::bipolar(24, Ratio(1.0 / 32.0)),
///     Millivolts(2500.0),
/// )
/// .between(Celsius(-200.0), Celsius(300.0));
///
/// // Does not compile if it could be further than a hundredth of a degree from the reference function.
/// static KERNEL: ThermocoupleKernel<i32, 32, 4> = SKIN.fixed_within(Celsius(0.01));
///
/// let cold_junction = Temperature::from_bits(25 << 20);
/// let reading = KERNEL.reading(429_497, cold_junction); // 4.000 mV
/// assert!(reading.flags.is_clear());
/// let exact = Thermocouple::K.temperature_with_cold_junction(Millivolts(4.0), Celsius(25.0))?;
/// assert!((reading.temperature.celsius().0 - exact.0).abs() < 0.01);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ThermocoupleInput {
    thermocouple: Thermocouple,
    converter: Converter,
    reference: Millivolts,
    low: Celsius,
    high: Celsius,
    coldest_junction: Celsius,
    hottest_junction: Celsius,
}

/// A thermocouple's constants: from a code and the temperature of the cold junction to that of the hot one.
///
/// `T` is `i32`, for integers only, or `f32` (the EMFs are summed in integers all the same). `HOT` and `COLD` are numbers
/// of pieces, powers of two from 2 to 256, of 20 bytes each.
///
/// **In:** a code, and the cold junction's temperature in Q20 degrees Celsius. **Out:** temperature in Q20 degrees Celsius
/// (`i32`) or in degrees Celsius (`f32`), and [`ThermometerFlags`]. **Domain:** every pair of `i32`; nothing panics, an input
/// out of range is clamped to the range and flagged. **Error:** [`error_bound`](Self::error_bound). **Cost:** eleven
/// products, no division.
///
/// ```
/// use gaugewright::{Converter, temperature::*, units::*};
/// # const T: ThermocoupleInput = ThermocoupleInput::new(
/// #     Thermocouple::T, Converter::bipolar(24, Ratio(1.0 / 64.0)), Millivolts(2500.0));
/// static KERNEL: ThermocoupleKernel<i32, 16, 4> = T.fixed();
/// assert_eq!(core::mem::size_of_val(&KERNEL), 2 * 12 + (16 + 4) * 20 + 8);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct ThermocoupleKernel<T, const HOT: usize, const COLD: usize> {
    pub(super) hot: Curve<T, HOT>,
    pub(super) cold: Curve<i32, COLD>,
    /// Steps of EMF in a code, a power of two.
    pub(super) scale: i32,
    pub(super) bits: u8,
    pub(super) bound: Bound,
}

/// Full scale in steps of EMF: half of what is there for the sum with the cold junction.
const FULL: f64 = 536_870_912.0;

/// Where type B has its lowest EMF, C.
const TYPE_B_TURNS: f64 = 21.02;

impl ThermocoupleInput {
    /// A thermocouple on a converter of 8 to 30 bits whose reference voltage is `reference`: full scale is an EMF of the
    /// converter's full-scale ratio times that voltage, 0.1 to 1000 mV. The declared range has to lie between the rails at
    /// every temperature of the cold junction. Without [`between`](Self::between): -200 C (J -210, R and S -50, B 250) to
    /// the top of the type's range, as published inverses have it; without [`cold_junction`](Self::cold_junction): -40 to
    /// 85 C (B: 0 to 85 C).
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// // 2.048 V and a gain of 32: 64 mV.
    /// let converter = Converter::bipolar(16, Ratio(1.0 / 32.0));
    /// let t = ThermocoupleInput::new(Thermocouple::K, converter, Millivolts(2048.0));
    /// assert!(t.try_fixed::<64, 4>()?.error_bound().0 < 0.01);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn new(thermocouple: Thermocouple, converter: Converter, reference: Millivolts) -> Self {
        let (low, coldest) = match thermocouple {
            Thermocouple::J => (-210.0, -40.0),
            Thermocouple::R | Thermocouple::S => (-50.0, -40.0),
            Thermocouple::B => (250.0, 0.0),
            _ => (-200.0, -40.0),
        };
        Self {
            thermocouple,
            converter,
            reference,
            low: Celsius(low),
            high: thermocouple.range().1,
            coldest_junction: Celsius(coldest),
            hottest_junction: Celsius(85.0),
        }
    }

    /// The range of temperature that is measured: a narrow one needs fewer pieces.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// # let converter = Converter::bipolar(24, Ratio(1.0 / 32.0));
    /// let t = ThermocoupleInput::new(Thermocouple::K, converter, Millivolts(2500.0));
    /// let narrow = t.between(Celsius(-100.0), Celsius(200.0));
    /// let bound = |t: ThermocoupleInput| t.fixed::<16, 4>().error_bound().0;
    /// assert!(bound(narrow) < bound(t) / 50.0);
    /// ```
    #[must_use]
    pub const fn between(mut self, low: Celsius, high: Celsius) -> Self {
        self.low = low;
        self.high = high;
        self
    }

    /// The range of temperature of the cold junction.
    ///
    /// ```
    /// use gaugewright::{Converter, fixed::Temperature, temperature::*, units::*};
    /// # let converter = Converter::bipolar(24, Ratio(1.0 / 32.0));
    /// let t = ThermocoupleInput::new(Thermocouple::K, converter, Millivolts(2500.0))
    ///     .cold_junction(Celsius(0.0), Celsius(50.0));
    /// let kernel = t.try_fixed::<32, 4>()?;
    /// let too_hot = kernel.reading(0, Temperature::from_bits(51 << 20));
    /// assert_eq!(too_hot.flags, ThermometerFlags::COLD_JUNCTION_OUTSIDE);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn cold_junction(mut self, coldest: Celsius, hottest: Celsius) -> Self {
        self.coldest_junction = coldest;
        self.hottest_junction = hottest;
        self
    }

    const fn steps_per_millivolt(&self) -> f64 {
        FULL / self.full_scale()
    }

    /// In millivolts.
    const fn full_scale(&self) -> f64 {
        self.reference.0 * self.converter.full_scale
    }

    const fn hot<const HOT: usize>(&self, fit: &mut Fit<HOT>) -> Result<(), Error> {
        // Two bits are left for the sum with the cold junction.
        try_const!(self.converter.check_at_sensor(30.0));
        try_const!(within(Field::FullScaleEmf, self.full_scale(), 0.1, 1e3));
        let (lowest, highest) = self.thermocouple.invertible_range();
        try_const!(within(Field::TemperatureHigh, self.high.0, lowest.0, highest.0));
        try_const!(ordered(Field::TemperatureHigh, self.low.0, self.high.0));
        try_const!(within(Field::TemperatureLow, self.low.0, lowest.0, self.high.0));
        let low = try_const!(self.thermocouple.emf(self.low)).0;
        let high = try_const!(self.thermocouple.emf(self.high)).0;
        try_const!(self.check_full_scale(low, high));
        let (first, last) = (low * self.steps_per_millivolt(), high * self.steps_per_millivolt());
        try_const!(fits(Quantity::ThermocoupleEmf, first, 2.0 * FULL));
        try_const!(fits(Quantity::ThermocoupleEmf, last, 2.0 * FULL));
        let millivolts = 1.0 / self.steps_per_millivolt();
        let source = Source::Hot { thermocouple: self.thermocouple, millivolts, low, high };
        // Within a step of the ends; the step is a fraction of a code.
        fit.make(&source, first as i32, last as i32)
    }

    /// The lowest and the highest EMF of the cold junction.
    const fn cold_emfs(&self) -> Result<(f64, f64), Error> {
        let (lowest, highest) = self.thermocouple.range();
        let (coldest, hottest) = (self.coldest_junction.0, self.hottest_junction.0);
        try_const!(within(Field::ColdJunctionTemperature, hottest, lowest.0, highest.0));
        try_const!(ordered(Field::ColdJunctionTemperature, coldest, hottest));
        try_const!(within(Field::ColdJunctionTemperature, coldest, lowest.0, hottest));
        let ends = (
            try_const!(self.thermocouple.emf(self.coldest_junction)).0,
            try_const!(self.thermocouple.emf(self.hottest_junction)).0,
        );
        if !matches!(self.thermocouple, Thermocouple::B) {
            return Ok(ends);
        }
        // Type B falls before it rises.
        let turn = coldest.max(TYPE_B_TURNS.min(hottest));
        let least = try_const!(self.thermocouple.emf(Celsius(turn))).0;
        Ok((least, ends.0.max(ends.1)))
    }

    /// The converter measures the EMF of the hot junction, `low` to `high`, less that of the cold one: all of it has to lie
    /// between the rails, or a temperature in range would read as an open thermocouple.
    const fn check_full_scale(&self, low: f64, high: f64) -> Result<(), Error> {
        let (coldest, hottest) = try_const!(self.cold_emfs());
        let rail = self.converter.rails().1 as f64 + 1.0;
        // The last code below the upper rail, and the first above the lower one.
        let upwards = (high - coldest) * (rail / (rail - 2.0));
        let downwards = (hottest - low) * (rail / (rail - 1.0));
        within(Field::FullScaleEmf, self.full_scale(), upwards.max(downwards).max(0.1), 1e3)
    }

    const fn cold<const COLD: usize>(&self, fit: &mut Fit<COLD>) -> Result<(), Error> {
        let (coldest, hottest) = (self.coldest_junction.0, self.hottest_junction.0);
        let emfs = try_const!(self.cold_emfs());
        let codes = self.steps_per_millivolt();
        try_const!(fits(Quantity::ThermocoupleEmf, emfs.0 * codes, FULL));
        try_const!(fits(Quantity::ThermocoupleEmf, emfs.1 * codes, FULL));
        let source = Source::Cold { thermocouple: self.thermocouple, codes, low: coldest, high: hottest };
        let per_degree = Temperature::PER_DEGREE as f64;
        fit.make(&source, (coldest * per_degree) as i32, (hottest * per_degree) as i32)
    }

    /// For tests and proofs: by how many steps of temperature a step of EMF counts in the bound.
    #[doc(hidden)]
    pub const fn steepest<const HOT: usize>(&self) -> Result<f64, Error> {
        let mut fit = Fit::<HOT>::EMPTY;
        try_const!(self.hot(&mut fit));
        Ok(fit.steepest)
    }

    const fn integers<const HOT: usize, const COLD: usize>(
        &self,
    ) -> Result<ThermocoupleKernel<i32, HOT, COLD>, Error> {
        let mut fit = Fit::<HOT>::EMPTY;
        try_const!(self.hot(&mut fit));
        let (hot, steps) = try_const!(fit.integers());
        self.with_cold(hot, steps, fit.steepest)
    }

    const fn singles<const HOT: usize, const COLD: usize>(
        &self,
    ) -> Result<ThermocoupleKernel<f32, HOT, COLD>, Error> {
        let mut fit = Fit::<HOT>::EMPTY;
        try_const!(self.hot(&mut fit));
        let (hot, steps) = fit.singles(1.0 / Temperature::PER_DEGREE as f64);
        self.with_cold(hot, steps, fit.steepest)
    }

    /// Adds the cold junction to a curve that is off by so many `steps`; what the cold curve is off counts by the slope of
    /// the hot one.
    const fn with_cold<T: Copy, const HOT: usize, const COLD: usize>(
        &self,
        hot: Curve<T, HOT>,
        steps: f64,
        steepest: f64,
    ) -> Result<ThermocoupleKernel<T, HOT, COLD>, Error> {
        let mut fit = Fit::<COLD>::EMPTY;
        try_const!(self.cold(&mut fit));
        let (cold, cold_steps) = try_const!(fit.integers());
        let bits = self.converter.bits;
        let bound = Bound::of(steps + cold_steps * steepest);
        Ok(ThermocoupleKernel { hot, cold, scale: 1 << (30 - bits), bits: bits as u8, bound })
    }
}

forms!(
    ThermocoupleInput,
    ThermocoupleKernel[HOT, COLD],
    "64, 4",
    "const T: ThermocoupleInput = ThermocoupleInput::new(
    Thermocouple::K, Converter::bipolar(24, Ratio(1.0 / 32.0)), Millivolts(2500.0));",
    "[`Error::Invalid`], [`Error::Reversed`]: a range that the type does not have, a full scale that does not cover it at
every temperature of the cold junction, or a number of pieces that is no power of two from 2 to 256; [`Error::Overflow`]: an EMF
against 0 C beyond twice the converter's full scale, or a cold junction's beyond it."
);

impl<T, const HOT: usize, const COLD: usize> ThermocoupleKernel<T, HOT, COLD> {
    /// The largest error of this kernel against the reference functions of ITS-90, in degrees, for every EMF and cold junction
    /// of the ranges: both curves (compared at 832 places or 13 in each piece, with a quarter of the difference as allowance for
    /// what lies between) and the rounding of every operation. It includes neither the resolution of the code nor the
    /// thermocouple's tolerance.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// let converter = Converter::bipolar(24, Ratio(1.0 / 32.0));
    /// let t = ThermocoupleInput::new(Thermocouple::E, converter, Millivolts(2560.0));
    /// assert!(t.try_fixed::<64, 4>()?.error_bound().0 < 0.02);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> Celsius {
        self.bound.celsius()
    }

    /// The sum of both EMFs as a place of the hot curve, and what was out of range.
    #[inline(always)]
    const fn sum(&self, code: i32, cold_junction: Temperature) -> (u32, ThermometerFlags) {
        let (from_low, cold_outside) = self.cold.above(cold_junction.to_bits());
        // Of any bits, as C may give them.
        let rail = i32::MAX.wrapping_shr(32_u32.wrapping_sub(self.bits as u32));
        let at_rail = code >= rail || code <= !rail;
        let code = if at_rail { if code < 0 { !rail } else { rail } } else { code };
        // Neither is more than full scale, and there is room for twice that.
        let emf = code.wrapping_mul(self.scale).wrapping_add(self.cold.value(from_low));
        let (from_low, outside) = self.hot.above(emf);
        // An open thermocouple has no temperature to be outside of a range.
        let flags = if at_rail { ThermometerFlags::OPEN } else { ThermometerFlags::OUTSIDE.when(outside) };
        (from_low, flags.union(ThermometerFlags::COLD_JUNCTION_OUTSIDE.when(cold_outside)))
    }
}

impl<const HOT: usize, const COLD: usize> ThermocoupleKernel<i32, HOT, COLD> {
    /// For tests and proofs: both curves, the steps of EMF in a code, and the upper rail.
    #[doc(hidden)]
    pub const fn constants(&self) -> (CurveConstants<HOT>, CurveConstants<COLD>, i32, i32) {
        (self.hot.constants(), self.cold.constants(), self.scale, i32::MAX >> (32 - self.bits as u32))
    }

    /// Temperature of the hot junction for a code and the temperature of the cold one.
    ///
    /// ```
    /// use gaugewright::{Converter, fixed::Temperature, temperature::*, units::*};
    /// # let converter = Converter::bipolar(24, Ratio(1.0 / 32.0));
    /// # let kernel = ThermocoupleInput::new(Thermocouple::K, converter, Millivolts(2500.0)).try_fixed::<64, 4>()?;
    /// let cold = Temperature::from_bits(25 << 20);
    /// assert_eq!(kernel.reading(8_388_607, cold).flags, ThermometerFlags::OPEN);
    /// assert_eq!(kernel.reading(-1_000_000, cold).flags, ThermometerFlags::OUTSIDE);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[inline]
    pub const fn reading(&self, code: i32, cold_junction: Temperature) -> Reading {
        let (from_low, flags) = self.sum(code, cold_junction);
        Reading { temperature: Temperature::from_bits(self.hot.value(from_low)), flags }
    }
}

impl<const HOT: usize, const COLD: usize> ThermocoupleKernel<f32, HOT, COLD> {
    /// Temperature of the hot junction, in degrees Celsius, for a code and the temperature of the cold one.
    ///
    /// ```
    /// use gaugewright::{Converter, temperature::*, units::*};
    /// # let converter = Converter::bipolar(24, Ratio(1.0 / 32.0));
    /// # let kernel = ThermocoupleInput::new(Thermocouple::K, converter, Millivolts(2500.0)).try_float32::<64, 4>()?;
    /// // A cold junction at 25 C, as an `f32` thermometer gives it.
    /// let cold = Reading { temperature: 25.0_f32, flags: ThermometerFlags::CLEAR }.to_fixed()?;
    /// let reading = kernel.reading(429_497, cold.temperature); // 4.000 mV
    /// assert!(reading.flags.is_clear() && (reading.temperature - 121.96).abs() < 0.02);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[inline]
    pub const fn reading(&self, code: i32, cold_junction: Temperature) -> Reading<f32> {
        let (from_low, flags) = self.sum(code, cold_junction);
        Reading { temperature: self.hot.value(from_low), flags }
    }
}
