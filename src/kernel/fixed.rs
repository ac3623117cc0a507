//! Fixed point: integers only, a few dozen bytes of constants, one bound for every input.
//!
//! **In:** a code (`i32`) and a temperature ([`Temperature`], Q20 degrees Celsius). **Out:** strain
//! ([`Strain`], Q34) and [`Flags`]. **Domain:** every pair of `i32`: nothing panics, no intermediate
//! of an input in range wraps, and an input out of range is clamped to its range and flagged.
//! **Error:** [`Kernel::error_bound`] for codes and temperatures in range; a third to a half of a nanostrain for
//! usual channels, of which the tests see about half. On average it is nearly zero: what the products round down
//! is made up for. **Cost:** no division, no shift by a run-time amount, no product wider than 32 by 32 bits.
//!
//! One primitive does the work: the high word of a product, plus a third number,
//! `mla(a, b, c) = floor(a b / 2^32) + c`. That is one instruction on a Cortex-M4 and two on cores with
//! a long multiply; on a Cortex-M0 it is written as four short products. Results are the same bits
//! everywhere.
//!
//! With `d` the code over its window, `x` the temperature over the declared range and all constants scaled
//! once, when the channel is compiled (their signs are such that there is nothing to subtract but in `u`):
//!
//! ```text
//! signal        G = d g                     in the scale of strain, zero in the middle of the window
//! curvature     p = d h                     1 + p is the bridge's divisor
//! gauge factor  l = x (l1 + x (l2 + ...))   1 - l is the factor over its value in mid range
//! thermal       t = c0 + x (c1 + x ( ...))  of the middle of the window, less thermal output
//! strain          = (G + t (1 + p)) / ((1 + p)(1 - l)),    1 - u = (1 + p)(1 - l)
//! 1 / (1 - u)     = (1 + u)(1 + u^2)(1 + u^4) / (1 - u^8)
//! ```
//!
//! Where the gauge factor refers to the unloaded gauge or the free foil
//! ([`GaugeFactorBasis`](crate::channel::GaugeFactorBasis)), strain is also divided by `1 + tau`, the change of the unloaded gauge. `t` is
//! then in a unit in which that is `1 - F t`, with the gauge factor `F` of mid range, so that one product and one constant
//! do it: `(1 + p)(1 + tau) = (1 + p) - F t (1 + p)`, whose last part the numerator has already.
//!
//! The last factor is left out: at `u = 0.06` it is worth 0.006 nanostrain in 35 000 microstrain, and it is
//! part of the bound.

mod adjustable;
mod bound;
mod compensated;
mod compile;
mod constants;
mod error_limit;
mod linear;
mod point;
#[cfg(feature = "record")]
mod stored;
#[cfg(test)]
mod tests;
#[cfg(feature = "ffi")]
mod within;

pub use crate::sample::{MeanCode, Span, Strain, Temperature};
pub use adjustable::{AdjustableCompensatedKernel, AdjustableKernel, Zero};
pub use compensated::CompensatedKernel;
pub use constants::FORMAT;
#[doc(hidden)]
pub use constants::{CompensatedConstants, Constants};
pub use linear::LinearPoint;
pub use point::OperatingPoint;

use super::block::fill;
use crate::error::Error;
use crate::sample::{
    Flags, InputRange, code_flags, mla, mla_mixed, mla_small, mul, same_length, scale, square, unraised,
};

/// What a fixed-point kernel returns.
///
/// ```
/// use gaugewright::{Flags, fixed};
/// let reading = fixed::Reading { strain: fixed::Strain::from_bits(0), flags: Flags::CLEAR };
/// assert_eq!(reading.checked().map(|strain| strain.nanostrain()), Some(0));
/// ```
pub type Reading = crate::sample::Reading<Strain>;

/// The constants of one channel, in integers.
///
/// `DEGREE` is the highest degree of thermal output and `FACTOR` that of the gauge factor that the type
/// has room for (1 to 5, 1 to 3). The default fits the usual package: degree 4 and a slope. `PRODUCT` is 1 where the gauge
/// factor refers to the unloaded gauge or the free foil ([`GaugeFactorBasis`](crate::channel::GaugeFactorBasis)), else 0: with 1 the
/// kernel is 4 bytes larger, and a call has one product more. A channel that
/// needs more does not compile to it, and the message names what is too small; `Kernel<5, 3>` takes every channel of the default basis,
/// `Kernel<5, 3, 1>` all. For a channel of the default basis it gives the same bits as `Kernel<5, 3>`; of two temperatures it rounds
/// once more.
///
/// The value is plain data: copy it, keep it in flash, share it with an interrupt. It is made by
/// [`Channel::fixed`](crate::Channel::fixed) and its like.
///
/// ```
/// use gaugewright::{example::CHANNEL, fixed::{self, Temperature}};
///
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
pub struct Kernel<const DEGREE: usize = 4, const FACTOR: usize = 1, const PRODUCT: usize = 0> {
    // The order is worth up to a quarter of the instructions: in this one they are loaded in pairs, when needed.
    /// `c4, c3, ...`: thermal output with its sign turned, `c1` in 2^-35 and each next one doubled.
    pub(crate) thermal: [i32; DEGREE],
    /// `d = offset code_scale`, exact.
    pub(crate) code_scale: u32,
    pub(crate) codes: InputRange,
    /// Readings beyond this either way are flagged, Q34.
    pub(crate) strain_limit: i32,
    /// Flags of every reading in range: none, but the compiler does not know.
    pub(crate) flags: Flags,
    /// `x = offset temperature_scale`, exact.
    pub(crate) temperature_scale: u16,
    pub(crate) bits: u16,
    /// `l3, l2, ...`: gauge-factor change with its sign turned, `l1` in 2^-33 and each next one doubled.
    pub(crate) factor: [i32; FACTOR],
    /// Divisor (2^-32) per `d`, times 2^32, with its sign turned.
    pub(crate) curvature: i32,
    pub(crate) temperatures: InputRange,
    /// `c0`, in Q34, with the mean of what the products drop worked in.
    pub(crate) thermal_offset: i32,
    /// Strain (Q34) per `d`, times 2^32.
    pub(crate) gain: i32,
    /// Gauge factor of mid range in 2^-28, with its sign turned.
    pub(crate) product: [i32; PRODUCT],
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<DEGREE, FACTOR, PRODUCT> {
    /// Strain for a code and a temperature, in one call.
    ///
    /// ```
    /// use gaugewright::{Flags, example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
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
        let at = self.temperatures.offset(temperature.to_bits());
        let offset = self.codes.offset(code);
        if !self.temperatures.contains(at) || !self.codes.contains(offset) {
            return self.reading_outside(code, temperature, compensation);
        }
        checked(self.strain_inside(offset, at, compensation), self.strain_limit, self.flags)
    }

    /// The constants of one temperature. Outside the declared range they are those of the nearest end, and flagged; strains
    /// may then differ from those of a point at that end by a step or two.
    ///
    /// ```
    /// use gaugewright::{Flags, example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let too_hot = KERNEL.at(fixed::Temperature::from_bits(120 << 20));
    /// assert_eq!(too_hot.reading(0).flags, Flags::TEMPERATURE_OUTSIDE);
    /// ```
    #[inline]
    #[must_use]
    pub const fn at(&self, temperature: Temperature) -> OperatingPoint {
        self.at_against(temperature, 0)
    }

    #[inline(always)]
    const fn at_against(&self, temperature: Temperature, compensation: i32) -> OperatingPoint {
        let at = self.temperatures.offset(temperature.to_bits());
        if !self.temperatures.contains(at) {
            return self.point_outside(temperature, compensation);
        }
        self.point(at, compensation)
    }

    /// A block of samples, each with its temperature: the same bits as one call of
    /// [`reading`](Self::reading) each.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if the three slices differ in length; nothing is written then.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
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
            let at = self.temperatures.offset(temperature.to_bits());
            let offset = self.codes.offset(code);
            let strain = self.strain_inside(offset, at, 0);
            let clamped = !self.temperatures.contains(at) | !self.codes.contains(offset);
            (Strain::from_bits(strain), clamped | is_outside(strain, self.strain_limit))
        };
        let any = |c, t| self.reading(c, t);
        fill(VECTORS, (codes, temperatures), readings, Flags::CLEAR, inside, any);
        Ok(())
    }

    /// The lowest and highest code that the kernel corrects: what the declared strain needs at some declared
    /// temperature and the converter gives. Codes beyond are clamped to them and flagged.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// // No strain range was declared: everything between the rails.
    /// assert_eq!(KERNEL.codes(), (-8_388_607, 8_388_606));
    /// ```
    #[must_use]
    pub const fn codes(&self) -> (i32, i32) {
        (self.codes.low(), self.codes.high())
    }

    /// The lowest and highest temperature that the kernel corrects.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed, units::*};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// assert_eq!(KERNEL.temperatures().1.celsius(), Celsius(90.0));
    /// ```
    #[must_use]
    pub const fn temperatures(&self) -> (Temperature, Temperature) {
        let (low, high) = (self.temperatures.low(), self.temperatures.high());
        (Temperature::from_bits(low), Temperature::from_bits(high))
    }

    /// Both inputs are in range.
    #[inline(always)]
    const fn strain_inside(&self, offset: i32, at: i32, compensation: i32) -> i32 {
        let x = scale(at, self.temperature_scale as u32);
        let d = scale(offset, self.code_scale);
        let own = self.thermal_output(x);
        let thermal = own.wrapping_add(compensation);
        let l = self.factor_change(x);
        let p = mul(d, self.curvature);
        let (numerator, p) = match self.product.as_slice() {
            [] => (mla_mixed(thermal, p, mla(d, self.gain, thermal)), p),
            [factor, ..] => {
                let signal = mul(d, self.gain);
                let own = mla_mixed(own, p, own);
                // The compensating gauge's share is of the bridge's other divisor.
                let other = p.wrapping_sub(times_factor(signal, *factor));
                let both = mla(compensation, other, own.wrapping_add(compensation));
                (signal.wrapping_add(both), p.wrapping_add(times_factor(own, *factor)))
            }
        };
        let u = mla_mixed(l, p, l.wrapping_sub(p));
        let u2 = square(u, unraised(self.flags));
        let strain = mla_mixed(numerator, u, numerator);
        let strain = mla_mixed(strain, u2, strain);
        mla_mixed(mla_mixed(strain, u2, 0), u2, strain)
    }

    /// At least one input is out of range.
    #[cold]
    #[inline(never)]
    const fn reading_outside(&self, code: i32, temperature: Temperature, compensation: i32) -> Reading {
        let at = self.temperatures.clamp(temperature.to_bits());
        let offset = self.codes.clamp(code);
        let reading = checked(self.strain_inside(offset, at, compensation), self.strain_limit, self.flags);
        let outside = Flags::TEMPERATURE_OUTSIDE.when(at != self.temperatures.offset(temperature.to_bits()));
        let flags = code_flags(code, self.codes.low(), self.codes.width(), self.bits as u32, reading.flags);
        Reading { strain: reading.strain, flags: flags.union(outside) }
    }

    /// Gauge factor over its value in mid range, less one, in 2^-32 and with its sign turned.
    #[inline(always)]
    const fn factor_change(&self, x: i32) -> i32 {
        mul(horner(&self.factor, x), x)
    }

    /// Thermal output in Q34 with its sign turned, at the gauge factor of mid range.
    #[inline(always)]
    const fn thermal_output(&self, x: i32) -> i32 {
        mla(horner(&self.thermal, x), x, self.thermal_offset)
    }

    #[inline(always)]
    const fn point(&self, at: i32, compensation: i32) -> OperatingPoint {
        let x = scale(at, self.temperature_scale as u32);
        let l = self.factor_change(x);
        let thermal = self.thermal_output(x);
        let (gain, l) = match self.product.as_slice() {
            [] => (self.gain, l),
            [factor, ..] => {
                let change = times_factor(thermal, *factor);
                let other = times_factor(compensation, *factor).wrapping_neg();
                (mla(self.gain, other, self.gain), mla_small(l, change, l.wrapping_sub(change)))
            }
        };
        let thermal = thermal.wrapping_add(compensation);
        // 1 / (1 - l) = 1 + s, with s = (1 + l)(1 + l^2 + l^4 + l^6) - 1.
        let l2 = square(l, unraised(self.flags));
        let even = mla_small(l2, l2, l2);
        let even = mla_small(even, l2, l2);
        let s = mla_small(even, l, l.wrapping_add(even));
        OperatingPoint {
            flags: Flags::CLEAR,
            gain: mla(gain, s, gain),
            code_scale: self.code_scale,
            curvature: self.curvature.wrapping_neg(),
            bits: self.bits as u32,
            codes: self.codes,
            thermal: mla(thermal, s, thermal).wrapping_sub(POINT_OFFSET),
            strain_limit: self.strain_limit,
        }
    }

    // Not marked as cold: a compiler that knows makes the other way conditional, every instruction of it.
    #[inline(never)]
    const fn point_outside(&self, temperature: Temperature, compensation: i32) -> OperatingPoint {
        self.point(self.temperatures.clamp(temperature.to_bits()), compensation)
            .flagged(Flags::TEMPERATURE_OUTSIDE)
    }
}

/// A reading of inputs in range.
#[inline(always)]
const fn checked(strain: i32, limit: i32, flags: Flags) -> Reading {
    if is_outside(strain, limit) {
        return beyond(Strain::from_bits(strain), flags);
    }
    Reading { strain: Strain::from_bits(strain), flags }
}

#[inline(always)]
const fn is_outside(strain: i32, limit: i32) -> bool {
    strain.wrapping_add(limit) as u32 > (limit as u32).wrapping_mul(2)
}

/// Out of line, so that the usual reading does not pay for it.
#[cold]
#[inline(never)]
const fn beyond(strain: Strain, flags: Flags) -> Reading {
    Reading { strain, flags: flags.union(Flags::STRAIN_OUTSIDE) }
}

/// The target has vectors with a signed product of 32 by 32 bits. Plain x86-64 has only the unsigned one, and
/// what stands in for the signed is slower than one sample at a time.
const VECTORS: bool = cfg!(any(target_feature = "sse4.1", target_feature = "neon"));

/// What [`Kernel::thermal_offset`] carries for the mean of what the products of the one-call path drop, in Q34. Six
/// of them are of the size of the strain and drop three steps; a point's path drops one and a half. This is half a
/// step short of the first, so that whole steps lead to the second.
const DROPPED_BY_READING: f64 = 2.5;

/// By how much that is too much for a point.
const POINT_OFFSET: i32 = 1;

/// A strain in Q34 times a gauge factor with its sign turned (see [`Kernel::product`]), in 2^-32. Twice shifted, as the usual
/// factor is just above what would fit a product without.
#[inline(always)]
const fn times_factor(strain: i32, factor: i32) -> i32 {
    mul(strain, factor) << PRODUCT_SHIFT
}

const PRODUCT_SHIFT: u32 = 2;

const TWO_31: f64 = (1u64 << 31) as f64;
const TWO_32: f64 = (1u64 << 32) as f64;
const TWO_60: f64 = (1u64 << 60) as f64;
const TWO_64: f64 = TWO_32 * TWO_32;

/// `c1 + x (c2 + x (...))` from the constants of the highest power down, each in half the steps of the one before.
#[inline(always)]
const fn horner<const N: usize>(descending: &[i32; N], x: i32) -> i32 {
    // No loop, so that there is none either where the compiler saves space.
    let mut sum = descending[0];
    if N > 1 {
        sum = mla(sum, x, descending[1]);
    }
    if N > 2 {
        sum = mla(sum, x, descending[2]);
    }
    if N > 3 {
        sum = mla(sum, x, descending[3]);
    }
    if N > 4 {
        sum = mla(sum, x, descending[4]);
    }
    sum
}
