//! First-order filters: against the noise of a sensor, and for a sensor that is slower than the gauge.

use crate::error::{Error, Field, try_const, within};
use crate::numeric::exp;
use crate::sample::Temperature;
use crate::units::Seconds;

/// A first-order low pass against noise: it follows a step by 63 % in its time constant, and so adds a lag of its own.
///
/// It keeps 32 bits behind the temperature's last step, so that it comes to rest at its input and not short of it.
///
/// ```
/// use gaugewright::{fixed::Temperature, temperature::LowPass, units::Seconds};
///
/// let mut low_pass = LowPass::new(Seconds(10.0), Seconds(0.5))?;
/// low_pass.next(Temperature::from_bits(20 << 20));
/// for _ in 0..20 {
///     low_pass.next(Temperature::from_bits(30 << 20));
/// }
/// let after = low_pass.next(Temperature::from_bits(30 << 20)).celsius().0;
/// assert!((after - (30.0 - 10.0 * (-10.5_f64 / 10.0).exp())).abs() < 1e-5);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct LowPass {
    /// Of the way to the input that each interval covers, in 2^-32.
    share: u32,
    /// In 2^-52 C; none before the first.
    state: Option<i64>,
}

impl LowPass {
    /// For temperatures that come at an interval from a microsecond to 10^6 s, and a time constant from 0 (which passes
    /// everything) to 10^5 intervals (which is then kept to a part in 80 000).
    ///
    /// # Errors
    /// [`Error::Invalid`]: a time out of range.
    ///
    /// ```
    /// use gaugewright::{temperature::LowPass, units::Seconds};
    /// assert!(LowPass::new(Seconds(-1.0), Seconds(1.0)).is_err());
    /// ```
    pub const fn new(time_constant: Seconds, interval: Seconds) -> Result<Self, Error> {
        try_const!(Field::SamplingInterval.check(interval.0));
        try_const!(within(Field::TimeConstant, time_constant.0, 0.0, 1e5 * interval.0));
        // Beyond fifty time constants, and for a time constant of zero, nothing is left: of a negative zero too.
        let intervals = (interval.0 / time_constant.0).abs();
        let left = if intervals < 50.0 { exp(-intervals) } else { 0.0 };
        let share = (1.0 - left) * 4_294_967_296.0;
        Ok(Self {
            share: if share >= 4_294_967_294.5 { u32::MAX } else { (share + 0.5) as u32 },
            state: None,
        })
    }

    /// The filtered temperature after another interval. The first is taken as it is.
    ///
    /// ```
    /// use gaugewright::{fixed::Temperature, temperature::LowPass, units::Seconds};
    /// let mut none = LowPass::new(Seconds(0.0), Seconds(1.0))?;
    /// let t = Temperature::from_bits(12_345);
    /// assert_eq!(none.next(t), t);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn next(&mut self, temperature: Temperature) -> Temperature {
        Temperature::from_bits(rounded(self.follow(temperature)))
    }

    /// In 2^-52 C.
    const fn follow(&mut self, temperature: Temperature) -> i64 {
        let input = (temperature.to_bits() as i64) << 32;
        let state = match self.state {
            Some(state) if self.share < u32::MAX => state.wrapping_add(share_of(input, state, self.share)),
            _ => input,
        };
        self.state = Some(state);
        state
    }
}

/// `(input - state) share` modulo 2^64, which added to the state lies between both, but for the last bit: the difference by its high and its
/// low word.
const fn share_of(input: i64, state: i64, share: u32) -> i64 {
    // Both lie in +-2^63; halves of them do not overflow, and the last bit is far below a step.
    let half = (input >> 1) - (state >> 1);
    let (high, low) = (half >> 32, half & 0xffff_ffff);
    (high * share as i64 + ((low as u64 * share as u64) >> 32) as i64).wrapping_mul(2)
}

const fn rounded(state: i64) -> i32 {
    // Half a step may lead beyond the last one.
    let up = (state >> 31) + 1;
    let steps = up >> 1;
    if steps > i32::MAX as i64 { i32::MAX } else { steps as i32 }
}

/// For a sensor that is slower than the gauge: the temperature that it lags behind. A sensor of first order lags by its
/// time constant times the slope of its temperature, so that product is added. Noise is amplified by time constant over
/// interval; the low pass in front reduces it.
///
/// ```
/// use gaugewright::{fixed::Temperature, temperature::LagCompensator, units::{Celsius, Seconds}};
///
/// // A sensor in its sheath, with a time constant of 8 s, read twice a second while the part warms by 0.1 C a second.
/// let mut lag = LagCompensator::new(Seconds(8.0), Seconds(0.0), Seconds(0.5))?;
/// let mut shown = 20.0;
/// let mut error = 0.0;
/// for i in 0..200 {
///     let part = 20.0 + 0.05 * f64::from(i);
///     shown += (part - shown) * (1.0 - (-0.5_f64 / 8.0).exp());
///     error = lag.next(Temperature::from_celsius(Celsius(shown))?).celsius().0 - part;
/// }
/// assert!(shown < 29.95 - 0.7 && error.abs() < 0.03);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct LagCompensator {
    low_pass: LowPass,
    /// Time constant over interval, in 2^-8.
    intervals: u32,
}

impl LagCompensator {
    /// For a sensor's time constant up to 10 000 times the interval, to the nearest 256th of an interval, and the time constant of
    /// the low pass in front, 0 for none.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a time out of range.
    ///
    /// ```
    /// use gaugewright::{temperature::LagCompensator, units::Seconds};
    /// assert!(LagCompensator::new(Seconds(20_001.0), Seconds(5.0), Seconds(2.0)).is_err());
    /// ```
    pub const fn new(time_constant: Seconds, low_pass: Seconds, interval: Seconds) -> Result<Self, Error> {
        let low_pass = try_const!(LowPass::new(low_pass, interval));
        try_const!(within(Field::TimeConstant, time_constant.0, 0.0, 1e4 * interval.0));
        Ok(Self { low_pass, intervals: (time_constant.0 / interval.0 * 256.0 + 0.5) as u32 })
    }

    /// The compensated temperature after another interval, clamped to the ends of the format. The first is taken as it
    /// is.
    ///
    /// ```
    /// use gaugewright::{fixed::Temperature, temperature::LagCompensator, units::Seconds};
    /// let mut lag = LagCompensator::new(Seconds(3.0), Seconds(0.0), Seconds(1.0))?;
    /// lag.next(Temperature::from_bits(20 << 20));
    /// assert_eq!(lag.next(Temperature::from_bits(21 << 20)), Temperature::from_bits(24 << 20));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn next(&mut self, temperature: Temperature) -> Temperature {
        let before = self.low_pass.state;
        let now = self.low_pass.follow(temperature);
        let Some(before) = before else { return temperature };
        // In 2^-28 C and so below 2^40; by less than 2^22 intervals in 2^-8.
        let change = (now >> 24) - (before >> 24);
        let ahead = (now >> 24) + ((change * self.intervals as i64) >> 8);
        let steps = ((ahead >> 7) + 1) >> 1;
        let (low, high) = (i32::MIN as i64, i32::MAX as i64);
        Temperature::from_bits(if steps < low {
            i32::MIN
        } else if steps > high {
            i32::MAX
        } else {
            steps as i32
        })
    }
}
