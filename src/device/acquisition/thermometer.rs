//! Thermometers: from what a source gives to a temperature.

use super::Source;
use crate::device;
use crate::error::{Error, Field, ordered, try_const, unwrap_const, within};
use crate::sample::{Temperature, mla};
use crate::temperature::{Reading, ResistanceKernel, ThermocoupleKernel, ThermometerFlags};
use crate::units::Celsius;

/// A thermometer whose register holds a temperature: so many degrees for each step. What is wrong with the sensor is in
/// status bits, which the [`Word`](super::Word) checks.
///
/// **In:** a code. **Out:** temperature in Q20 degrees Celsius, and [`ThermometerFlags::OUTSIDE`] where it lies outside the
/// declared range, whose nearest end it is then. **Domain:** every `i32`. **Error:** half a Q20 step and `code` times 2^-45 C;
/// none where a step and the temperature at code 0 are whole numbers of Q20 steps.
///
/// ```
/// use gaugewright::device::acquisition::{CodeThermometer, TemperatureRegister};
/// use gaugewright::units::Celsius;
///
/// // Sixteenths of a degree.
/// const REGISTER: TemperatureRegister = TemperatureRegister::new(Celsius(0.0625), Celsius(-55.0), Celsius(125.0));
/// assert_eq!(REGISTER.temperature(-395).temperature.celsius(), Celsius(-24.6875));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct TemperatureRegister {
    /// Q20 degrees, whole.
    step: i32,
    /// What a step has besides, in 2^-52 C.
    step_rest: i32,
    /// The temperature at code 0 and half a Q20 step, which rounds to the nearest: whole Q20 degrees, rounded down.
    at_zero: i32,
    /// What that has besides, in 2^-52 C.
    at_zero_rest: u32,
    first: i32,
    last: i32,
}

/// Steps of 2^-44 C in a degree.
const FINE: f64 = (1u64 << 44) as f64;
/// The smallest step of a register, C.
const LEAST_STEP: f64 = 1e-6;

impl TemperatureRegister {
    /// Code 0 is 0 C, a step 1e-6 to 128 C and at most the width of the range; for temperatures from `low` to `high` within +-2047 C,
    /// one of which at least has a code of 32 bits.
    ///
    /// # Panics
    /// Where [`try_with_offset`](Self::try_with_offset) gives an error: the build stops with its words.
    ///
    /// ```
    /// use gaugewright::{device::acquisition::TemperatureRegister, units::Celsius};
    /// const REGISTER: TemperatureRegister =
    ///     TemperatureRegister::new(Celsius(1.0 / 128.0), Celsius(-40.0), Celsius(150.0));
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn new(step: Celsius, low: Celsius, high: Celsius) -> Self {
        unwrap_const(Self::try_with_offset(step, Celsius(0.0), low, high))
    }

    /// As [`new`](Self::new), with another temperature at code 0.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a step or a temperature out of range, or a range of less than 1e-6 C; [`Error::Reversed`]: a range
    /// whose upper end lies below its lower one.
    ///
    /// ```
    /// use gaugewright::device::acquisition::{CodeThermometer, TemperatureRegister};
    /// use gaugewright::units::Celsius;
    /// // 175 C for 65 535 steps, from -45 C.
    /// let step = Celsius(175.0 / 65_535.0);
    /// let register = TemperatureRegister::try_with_offset(step, Celsius(-45.0), Celsius(-45.0), Celsius(130.0))?;
    /// assert!((register.temperature(26_214).temperature.celsius().0 - 25.0).abs() < 1e-6);
    /// assert!(TemperatureRegister::try_with_offset(Celsius(0.0), Celsius(0.0), Celsius(0.0), Celsius(1.0)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn try_with_offset(
        step: Celsius,
        at_zero: Celsius,
        low: Celsius,
        high: Celsius,
    ) -> Result<Self, Error> {
        try_const!(within(Field::Temperature, at_zero.0, -2047.0, 2047.0));
        let (fine_step, zero) = (fine(step.0), fine(at_zero.0));
        // One code at least lies in the range: the last codes reach it, and a step is not wider. (A step out of range is refused below.)
        let reach = if step.0 >= LEAST_STEP && step.0 <= 128.0 {
            fine_step as f64 / FINE * i32::MAX as f64
        } else {
            f64::INFINITY
        };
        try_const!(within(Field::TemperatureLow, low.0, -2047.0, 2047f64.min(at_zero.0 + reach)));
        try_const!(ordered(Field::TemperatureHigh, low.0, high.0));
        try_const!(within(Field::TemperatureHigh, high.0, low.0.max(at_zero.0 - reach), 2047.0));
        try_const!(within(Field::TemperatureWidth, high.0 - low.0, LEAST_STEP, 4094.0));
        try_const!(within(Field::RegisterStep, step.0, LEAST_STEP, 128f64.min(high.0 - low.0)));
        // The codes in the range, ends included; their temperatures are then far below 2^63.
        let first = at_least(fine(low.0) - zero, fine_step);
        let last = -at_least(zero - fine(high.0), fine_step);
        // There is one but for the rounding of the numbers above, far below a step of Q20.
        let last = if last < first { first } else { last };
        let step_rest = ((fine_step << 40) >> 32) as i32;
        let rounded = (zero + (1 << 23)) << 8;
        Ok(Self {
            step: ((fine_step - (step_rest >> 8) as i64) >> 24) as i32,
            step_rest,
            at_zero: (rounded >> 32) as i32,
            at_zero_rest: rounded as u32,
            first,
            last,
        })
    }
}

/// In 2^-44 C, to the nearest.
const fn fine(degrees: f64) -> i64 {
    let scaled = degrees * FINE;
    (if scaled < 0.0 { scaled - 0.5 } else { scaled + 0.5 }) as i64
}

/// The least whole number of steps that is not below `distance`, or the end of an `i32` but one.
const fn at_least(distance: i64, step: i64) -> i32 {
    let steps = distance.div_euclid(step) + (distance.rem_euclid(step) != 0) as i64;
    if steps > i32::MAX as i64 {
        i32::MAX
    } else if steps < -(i32::MAX as i64) {
        -i32::MAX
    } else {
        steps as i32
    }
}

/// A thermometer that needs a code and nothing else: a [`TemperatureRegister`], or the kernel of a platinum resistor or a
/// thermistor ([`ResistanceKernel`]) in integers or `f32`.
///
/// ```
/// use gaugewright::device::acquisition::CodeThermometer;
/// use gaugewright::{Converter, temperature::*, units::*};
/// static KERNEL: ResistanceKernel<i32, 16> = ResistanceThermometer::platinum(
///     Platinum::iec60751(Ohms(100.0)), Converter::bipolar(24, Ratio(1.0 / 8.0)), Ohms(4096.0)).fixed();
/// assert_eq!(KERNEL.temperature(2_000_000), KERNEL.reading(2_000_000));
/// ```
pub trait CodeThermometer {
    /// The temperature that a code stands for, with its flags.
    fn temperature(&self, code: i32) -> Reading;
}

impl CodeThermometer for TemperatureRegister {
    fn temperature(&self, code: i32) -> Reading {
        let clamped = code.max(self.first).min(self.last);
        // The high word of a sum of 64 bits, without one: those are slow to multiply on the smallest cores.
        let low = clamped.wrapping_mul(self.step_rest) as u32;
        let carry = low.overflowing_add(self.at_zero_rest).1;
        let high = mla(clamped, self.step_rest, self.at_zero).wrapping_add(i32::from(carry));
        Reading {
            temperature: Temperature::from_bits(clamped.wrapping_mul(self.step).wrapping_add(high)),
            flags: ThermometerFlags::OUTSIDE.when(clamped != code),
        }
    }
}

impl<const PIECES: usize> CodeThermometer for ResistanceKernel<i32, PIECES> {
    fn temperature(&self, code: i32) -> Reading {
        self.reading(code)
    }
}

impl<const PIECES: usize> CodeThermometer for ResistanceKernel<f32, PIECES> {
    fn temperature(&self, code: i32) -> Reading {
        let reading = self.reading(code);
        // No kernel gives a temperature that the format does not hold; it would have no meaning.
        let none = Reading { temperature: Temperature::from_bits(0), flags: ThermometerFlags::OPEN };
        reading.to_fixed().unwrap_or(none)
    }
}

/// A source of codes with what turns them into temperatures: a source of temperatures.
///
/// ```
/// use embedded_hal_mock::eh1::{delay::NoopDelay, i2c};
/// use gaugewright::device::acquisition::{
///     Coding, I2cSource, Source, TemperatureRegister, Thermometer, Word, WordLayout,
/// };
/// use gaugewright::units::Celsius;
///
/// // 13 bits on the left of two bytes, in sixteenths of a degree.
/// const WORD: Word = WordLayout::new(13, Coding::TwosComplement).shifted(3).word();
/// const REGISTER: TemperatureRegister = TemperatureRegister::new(Celsius(0.0625), Celsius(-55.0), Celsius(150.0));
/// # let bus = i2c::Mock::new(&[i2c::Transaction::write_read(0x48, vec![0x00], vec![0x0c, 0x88])]);
/// # let mut bus_after = bus.clone();
/// let mut thermometer = Thermometer {
///     kernel: &REGISTER,
///     source: I2cSource::new(bus, 0x48, NoopDelay::new(), &WORD).command(&[0x00]),
/// };
/// let reading = thermometer.read()?;
/// assert!(reading.flags.is_clear());
/// assert_eq!(reading.temperature.celsius(), Celsius(25.0625));
/// # bus_after.done();
/// # Ok::<(), gaugewright::device::Error<embedded_hal::i2c::ErrorKind>>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct Thermometer<'a, K, S> {
    /// What turns codes into temperatures.
    pub kernel: &'a K,
    /// Where the codes come from.
    pub source: S,
}

impl<K: CodeThermometer, S: Source<Value = i32>> Source for Thermometer<'_, K, S> {
    type Value = Reading;
    type Bus = S::Bus;

    fn read(&mut self) -> Result<Reading, device::Error<S::Bus>> {
        Ok(self.kernel.temperature(self.source.read()?))
    }
}

#[cfg(feature = "embedded-hal-async")]
impl<K: CodeThermometer, S: super::AsyncSource<Value = i32>> super::AsyncSource for Thermometer<'_, K, S> {
    type Value = Reading;
    type Bus = S::Bus;

    async fn read_async(&mut self) -> Result<Reading, device::Error<S::Bus>> {
        Ok(self.kernel.temperature(self.source.read_async().await?))
    }
}

/// A thermocouple: a source of codes, and the thermometer at the cold junction, which is read first.
///
/// If the thermometer at the cold junction is open or shorted, so is the reading. If it raises any other flag, the reading has
/// [`ThermometerFlags::COLD_JUNCTION_OUTSIDE`].
///
/// ```
/// use gaugewright::device::{Error, acquisition::{Source, ThermocoupleThermometer}};
/// use gaugewright::{Converter, fixed::Temperature, temperature::*, units::*};
/// # struct Emf;
/// # impl Source for Emf {
/// #     type Value = i32;
/// #     type Bus = ();
/// #     fn read(&mut self) -> Result<i32, Error<()>> { Ok(429_497) }
/// # }
/// # struct Junction;
/// # impl Source for Junction {
/// #     type Value = Reading;
/// #     type Bus = ();
/// #     fn read(&mut self) -> Result<Reading, Error<()>> {
/// #         Ok(Reading { temperature: Temperature::from_bits(25 << 20), flags: ThermometerFlags::CLEAR })
/// #     }
/// # }
/// static KERNEL: ThermocoupleKernel<i32, 32, 4> = ThermocoupleInput::new(
///     Thermocouple::K, Converter::bipolar(24, Ratio(1.0 / 32.0)), Millivolts(2500.0))
///     .between(Celsius(-200.0), Celsius(300.0))
///     .fixed_within(Celsius(0.01));
/// // `Emf` is a source of codes, and `Junction` one of temperatures.
/// let mut thermometer = ThermocoupleThermometer { kernel: &KERNEL, source: Emf, cold_junction: Junction };
/// let reading = thermometer.read()?;
/// assert_eq!(reading, KERNEL.reading(429_497, Temperature::from_bits(25 << 20)));
/// # Ok::<(), Error<()>>(())
/// ```
#[derive(Clone, Copy, Debug)]
pub struct ThermocoupleThermometer<'a, S, C, const HOT: usize, const COLD: usize> {
    /// What turns codes and cold junctions into temperatures.
    pub kernel: &'a ThermocoupleKernel<i32, HOT, COLD>,
    /// Where the codes come from.
    pub source: S,
    /// Where the temperature of the cold junction comes from.
    pub cold_junction: C,
}

impl<S, C, const HOT: usize, const COLD: usize> ThermocoupleThermometer<'_, S, C, HOT, COLD> {
    const fn reading(&self, code: i32, cold: Reading) -> Reading {
        let reading = self.kernel.reading(code, cold.temperature);
        let of_cold = if cold.flags.is_usable() {
            ThermometerFlags::COLD_JUNCTION_OUTSIDE.when(!cold.flags.is_clear())
        } else {
            cold.flags
        };
        Reading { temperature: reading.temperature, flags: reading.flags.union(of_cold) }
    }
}

impl<S, C, const HOT: usize, const COLD: usize> Source for ThermocoupleThermometer<'_, S, C, HOT, COLD>
where
    S: Source<Value = i32>,
    C: Source<Value = Reading, Bus = S::Bus>,
{
    type Value = Reading;
    type Bus = S::Bus;

    fn read(&mut self) -> Result<Reading, device::Error<S::Bus>> {
        let cold = self.cold_junction.read()?;
        let code = self.source.read()?;
        Ok(self.reading(code, cold))
    }
}

#[cfg(feature = "embedded-hal-async")]
impl<S, C, const HOT: usize, const COLD: usize> super::AsyncSource
    for ThermocoupleThermometer<'_, S, C, HOT, COLD>
where
    S: super::AsyncSource<Value = i32>,
    C: super::AsyncSource<Value = Reading, Bus = S::Bus>,
{
    type Value = Reading;
    type Bus = S::Bus;

    async fn read_async(&mut self) -> Result<Reading, device::Error<S::Bus>> {
        let cold = self.cold_junction.read_async().await?;
        let code = self.source.read_async().await?;
        Ok(self.reading(code, cold))
    }
}
