//! Fixed point: integers only, a few dozen bytes of constants, one bound for every input.
//!
//! **In:** a code (`i32`) and a temperature ([`Temperature`], 2^-20 C). **Out:** strain
//! ([`Strain`], 2^-34) and [`Flags`]. **Domain:** every pair of `i32`: nothing panics, no intermediate
//! of an input in range wraps, and an input out of range is held at the end of its range and flagged.
//! **Error:** [`Kernel::error_bound`] for codes and temperatures in range; a third to a half of a nanostrain for
//! usual channels, of which the tests see about half. On average it is nearly zero: what the products round down
//! is made up for. **Cost:** no division, no shift by a run-time amount, no product wider than 32 by 32 bits.
//!
//! One primitive does the work: the high word of a product, plus a third number,
//! `mla(a, b, c) = floor(a b / 2^32) + c`. That is one instruction on a Cortex-M4 and two on cores with
//! a long multiply; on a Cortex-M0 it is written as four short products. Results are the same bits
//! everywhere.
//!
//! With `d` the code from balance, `x` the temperature over the declared range and all constants scaled
//! once, when the channel is compiled:
//!
//! ```text
//! signal        G = d g                     in the scale of strain
//! curvature     p = d h                     1 - p is the bridge's divisor
//! gauge factor  l = x (l1 + x (l2 + ...))   1 + l is the factor over its value in mid range
//! thermal       t = c0 + x (c1 + x ( ...))
//! strain          = (G - t (1 - p)) / ((1 - p)(1 + l)),    1 - u = (1 - p)(1 + l)
//! 1 / (1 - u)     = (1 + u)(1 + u^2)(1 + u^4) / (1 - u^8)
//! ```
//!
//! The last factor is left out: at `u = 0.06` it is worth 0.006 nanostrain in 35 000 microstrain, and it is
//! part of the bound.

mod arithmetic;
mod bound;
mod compensated;
mod compile;
mod point;
#[cfg(test)]
mod tests;

pub use crate::formats::{Strain, Temperature};
pub use compensated::CompensatedKernel;
pub use point::Point;

pub(crate) use arithmetic::mul;
use arithmetic::{mla, square};

use super::block::fill;
use super::reading::Flags;
use super::window::{code_flags, hold, same_length};
use crate::error::Error;

/// What a fixed-point kernel returns.
///
/// ```
/// use gaugewright::{Flags, fixed};
/// let reading = fixed::Reading { strain: fixed::Strain::from_bits(0), flags: Flags::CLEAR };
/// assert_eq!(reading.checked().map(|strain| strain.nanostrain()), Some(0));
/// ```
pub type Reading = super::reading::Reading<Strain>;

/// The constants of one channel, in integers.
///
/// `DEGREE` is the highest degree of thermal output and `FACTOR` that of the gauge factor that the type
/// has room for (1 to 5, 1 to 3). The default fits the usual package: degree 4 and a slope. A channel that
/// needs more does not compile to it, and the message says so; `Kernel<5, 3>` takes every channel.
///
/// The value is plain data: copy it, keep it in flash, share it with an interrupt. It is made by
/// [`Channel::fixed`](crate::Channel::fixed) and its like.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, units::*};
/// use gaugewright::fixed::{self, Temperature};
///
/// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
/// static KERNEL: fixed::Kernel = CHANNEL.fixed();
///
/// let reading = KERNEL.reading(123_456, Temperature::from_bits(35 << 20));
/// assert!(reading.flags.is_clear());
/// assert!(reading.strain.nanostrain() > 0);
/// assert_eq!(core::mem::size_of_val(&KERNEL), 64);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct Kernel<const DEGREE: usize = 4, const FACTOR: usize = 1> {
    temperature_low: i32,
    temperature_span: u32,
    code_low: i32,
    code_span: u32,
    /// `d = (code - code_low) code_scale + code_offset`, exact.
    code_scale: i32,
    code_offset: i32,
    /// Strain (2^-34) per `d`, times 2^32.
    gain: i32,
    /// Divisor (2^-32) per `d`, times 2^32.
    curvature: i32,
    /// `l1, l2, ...`: gauge-factor change, 2^-33 and each next one doubled.
    factor: [i32; FACTOR],
    /// `c1, c2, ...`: thermal output, 2^-35 and each next one doubled.
    thermal: [i32; DEGREE],
    /// `c0`, in 2^-34, with the mean of what the products drop worked in.
    thermal_offset: i32,
    /// Readings beyond this either way are flagged, 2^-34.
    strain_limit: i32,
    /// `x = (temperature - temperature_low) temperature_scale - 2^31`, exact.
    temperature_scale: u16,
    bits: u8,
}

impl<const DEGREE: usize, const FACTOR: usize> Kernel<DEGREE, FACTOR> {
    /// Strain for a code and a temperature, in one call.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Flags, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let reading = KERNEL.reading(8_388_607, fixed::Temperature::from_bits(0));
    /// assert_eq!(reading.flags, Flags::CODE_AT_RAIL);
    /// ```
    #[inline]
    pub const fn reading(&self, code: i32, temperature: Temperature) -> Reading {
        self.reading_against(code, temperature, 0)
    }

    /// A reading with this much of thermal output compensated in the bridge.
    #[inline(always)]
    const fn reading_against(&self, code: i32, temperature: Temperature, compensation: i32) -> Reading {
        let from_low = temperature.to_bits().wrapping_sub(self.temperature_low) as u32;
        let code_from_low = code.wrapping_sub(self.code_low) as u32;
        if from_low > self.temperature_span || code_from_low > self.code_span {
            return self.reading_outside(code, temperature, compensation);
        }
        self.reading_inside(code_from_low, from_low, compensation)
    }

    /// The constants of one temperature.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Flags, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let too_hot = KERNEL.at(fixed::Temperature::from_bits(120 << 20));
    /// assert_eq!(too_hot.reading(0).flags, Flags::TEMPERATURE_OUTSIDE);
    /// ```
    #[inline]
    #[must_use]
    pub const fn at(&self, temperature: Temperature) -> Point {
        self.at_against(temperature, 0)
    }

    #[inline(always)]
    const fn at_against(&self, temperature: Temperature, compensation: i32) -> Point {
        let from_low = temperature.to_bits().wrapping_sub(self.temperature_low) as u32;
        if from_low > self.temperature_span {
            let held = hold(temperature.to_bits(), self.temperature_low, self.temperature_span);
            return self.point(held, compensation, true);
        }
        self.point(from_low, compensation, false)
    }

    /// A block of samples, each with its temperature: the same bits as one call of
    /// [`reading`](Self::reading) each.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if the three slices differ in length; nothing is written then.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Flags, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let codes = [0, 1_000, -1_000];
    /// let temperatures = [fixed::Temperature::from_bits(20 << 20); 3];
    /// let mut readings = [KERNEL.reading(0, temperatures[0]); 3];
    /// KERNEL.readings(&codes, &temperatures, &mut readings)?;
    /// assert_eq!(readings[1], KERNEL.reading(1_000, temperatures[1]));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn readings(
        &self,
        codes: &[i32],
        temperatures: &[Temperature],
        readings: &mut [Reading],
    ) -> Result<(), Error> {
        same_length(codes.len(), temperatures.len())?;
        same_length(codes.len(), readings.len())?;
        let inside = |code: i32, temperature: Temperature| {
            let from_low = temperature.to_bits().wrapping_sub(self.temperature_low) as u32;
            let code_from_low = code.wrapping_sub(self.code_low) as u32;
            let strain = self.strain_inside(code_from_low, from_low, 0);
            let held = (from_low > self.temperature_span) | (code_from_low > self.code_span);
            (Strain::from_bits(strain), held | is_outside(strain, self.strain_limit))
        };
        let any = |c, t| self.reading(c, t);
        fill(VECTORS, (codes, temperatures), readings, Flags::CLEAR, inside, any);
        Ok(())
    }

    /// The lowest and highest code that the kernel corrects: what the declared strain needs at some declared
    /// temperature and the converter gives. Codes beyond are held there and flagged.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// // No strain range was declared: everything between the rails.
    /// assert_eq!(KERNEL.codes(), (-32_767, 32_766));
    /// ```
    #[must_use]
    pub const fn codes(&self) -> (i32, i32) {
        (self.code_low, self.code_low.wrapping_add(self.code_span as i32))
    }

    /// The lowest and highest temperature that the kernel corrects.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// assert_eq!(KERNEL.temperatures().1.celsius(), Celsius(90.0));
    /// ```
    #[must_use]
    pub const fn temperatures(&self) -> (Temperature, Temperature) {
        let high = self.temperature_low.wrapping_add(self.temperature_span as i32);
        (Temperature::from_bits(self.temperature_low), Temperature::from_bits(high))
    }

    /// Both inputs are in range.
    #[inline(always)]
    const fn reading_inside(&self, code_from_low: u32, from_low: u32, compensation: i32) -> Reading {
        let strain = self.strain_inside(code_from_low, from_low, compensation);
        flagged(strain, self.strain_limit, Flags::CLEAR)
    }

    #[inline(always)]
    const fn strain_inside(&self, code_from_low: u32, from_low: u32, compensation: i32) -> i32 {
        let x = position(from_low, self.temperature_scale);
        let d = distance(code_from_low, self.code_scale, self.code_offset);
        let p = mul(d, self.curvature);
        let l = self.factor_change(x);
        let u = mla(p, l, p.wrapping_sub(l));
        let thermal = self.thermal_output(x).wrapping_sub(compensation);
        let signal = mul(d, self.gain);
        let numerator = mla(thermal, p, signal.wrapping_sub(thermal));
        let u2 = square(u);
        let u4 = square(u2);
        let strain = mla(numerator, u, numerator);
        let strain = mla(strain, u2, strain);
        mla(strain, u4, strain)
    }

    /// At least one input is out of range.
    #[cold]
    #[inline(never)]
    const fn reading_outside(&self, code: i32, temperature: Temperature, compensation: i32) -> Reading {
        let held_code = hold(code, self.code_low, self.code_span);
        let held = hold(temperature.to_bits(), self.temperature_low, self.temperature_span);
        let reading = self.reading_inside(held_code, held, compensation);
        let outside = Flags::TEMPERATURE_OUTSIDE
            .when(held != temperature.to_bits().wrapping_sub(self.temperature_low) as u32);
        let flags = code_flags(code, self.code_low, self.code_span, self.bits, reading.flags);
        Reading { strain: reading.strain, flags: flags.and(outside) }
    }

    /// Gauge factor over its value in mid range, less one, in 2^-32.
    #[inline(always)]
    const fn factor_change(&self, x: i32) -> i32 {
        mul(horner(&self.factor, x), x)
    }

    /// Thermal output in 2^-34, at the gauge factor of mid range.
    #[inline(always)]
    const fn thermal_output(&self, x: i32) -> i32 {
        mla(horner(&self.thermal, x), x, self.thermal_offset)
    }

    #[inline(always)]
    const fn point(&self, from_low: u32, compensation: i32, temperature_outside: bool) -> Point {
        let x = position(from_low, self.temperature_scale);
        let l = self.factor_change(x);
        let thermal = self.thermal_output(x).wrapping_sub(compensation);
        // 1 / (1 + l) = 1 + s, with s = (l^2 - l)(1 + l^2)(1 + l^4) / (1 - l^8).
        let l2 = square(l);
        let l4 = square(l2);
        let s = mla(l, l, l.wrapping_neg());
        let s = mla(s, l2, s);
        let s = mla(s, l4, s);
        Point {
            code_low: self.code_low,
            code_span: self.code_span,
            code_scale: self.code_scale,
            code_offset: self.code_offset,
            gain: mla(self.gain, s, self.gain),
            curvature: self.curvature,
            thermal: mla(thermal, s, thermal).wrapping_add(POINT_OFFSET),
            strain_limit: self.strain_limit,
            bits: self.bits,
            temperature_outside,
        }
    }
}

/// The target has vectors with a signed product of 32 by 32 bits. Plain x86-64 has only the unsigned one, and
/// what stands in for the signed is slower than one sample at a time.
const VECTORS: bool = cfg!(any(target_feature = "sse4.1", target_feature = "neon"));

/// What [`Kernel::thermal_offset`] carries for the mean of what the products of the one-call path drop,
/// in 2^-34.
const DROPPED_BY_READING: i32 = 2;

/// What a point's thermal output needs besides, its path having other products.
const POINT_OFFSET: i32 = 1;

/// Temperature over its range: -1 to (almost) 1, in 2^-31.
#[inline(always)]
const fn position(from_low: u32, scale: u16) -> i32 {
    from_low.wrapping_mul(scale as u32).wrapping_add(1 << 31) as i32
}

/// `c1 + x (c2 + x (...))`, every constant in twice the steps of the one before.
#[inline(always)]
const fn horner<const N: usize>(ascending: &[i32; N], x: i32) -> i32 {
    let mut k = N - 1;
    let mut sum = ascending[k];
    while k > 0 {
        k -= 1;
        sum = mla(sum, x, ascending[k]);
    }
    sum
}

/// The code from base, scaled up to use all of an `i32`. Exact.
#[inline(always)]
const fn distance(code_from_low: u32, scale: i32, offset: i32) -> i32 {
    (code_from_low as i32).wrapping_mul(scale).wrapping_add(offset)
}

#[inline(always)]
const fn flagged(strain: i32, limit: i32, flags: Flags) -> Reading {
    let outside = Flags::STRAIN_OUTSIDE.when(is_outside(strain, limit));
    Reading { strain: Strain::from_bits(strain), flags: flags.and(outside) }
}

#[inline(always)]
const fn is_outside(strain: i32, limit: i32) -> bool {
    strain.wrapping_add(limit) as u32 > 2 * limit as u32
}
