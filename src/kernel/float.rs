//! Floating point, `f32` for targets that have it in hardware and `f64` for hosts.
//!
//! **In:** a code (`i32`) and a temperature ([`Temperature`], Q20 degrees Celsius), as for [`fixed`](super::fixed).
//! **Out:** strain as a plain ratio in the kernel's own type, and [`Flags`]. **Domain:** every pair of `i32`;
//! an input out of range is clamped to its range and flagged. **Error:** [`Kernel::error_bound`].
//! **Cost:** one division in the one-call path and in [`Kernel::at`], none in [`OperatingPoint::reading`].
//!
//! Codes and temperatures are subtracted as integers before they become floating point, and the formula
//! is arranged as `large + large x small`, so that few roundings are of the size of the strain:
//!
//! ```text
//! y = d gain     p = d curvature     t = thermal(x)     l = factor change(x)
//! u = p - l + l p                    the divisor is 1 - u
//! n = y - (t - t p)
//! strain = n + n (u / (1 - u))
//! ```
//!
//! No fused operations, no reordering: the same bits on every target that follows IEEE 754.

mod bound;
mod compensated;
mod compile;
mod error_limit;
mod precision;

pub use compensated::CompensatedKernel;

use super::block::fill;
use crate::error::Error;
use crate::numeric::{Float, ascending};
use crate::sample::{Flags, Temperature, clamped_offset, code_flags, same_length};

/// The constants of one channel, in floating point.
///
/// `T` is `f32` or `f64`; `DEGREE` and `FACTOR` are what the type has room for, as for
/// [`fixed::Kernel`](super::fixed::Kernel).
///
/// ```
/// use gaugewright::{example::CHANNEL, fixed, float};
/// static KERNEL: float::Kernel<f32> = CHANNEL.float32();
/// let reading = KERNEL.reading(123_456, fixed::Temperature::from_bits(35 << 20));
/// assert!(reading.flags.is_clear() && reading.strain > 0.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct Kernel<T: Float, const DEGREE: usize = 4, const FACTOR: usize = 1, const PRODUCT: usize = 0> {
    temperature_low: i32,
    temperature_span: u32,
    temperature_middle: i32,
    code_low: i32,
    code_span: u32,
    code_base: i32,
    /// `x = (temperature - middle) position_scale`; a power of two, so the product is exact.
    position_scale: T,
    gain: T,
    curvature: T,
    /// `l1, l2, ...`
    factor: [T; FACTOR],
    /// `c1, c2, ...`
    thermal: [T; DEGREE],
    thermal_offset: T,
    strain_limit: T,
    bits: u32,
    /// Gauge factor of mid range.
    product: [T; PRODUCT],
    /// For the bound of an `f64` kernel; no kernel of `f32` is off by as little.
    rounding: T::Rounding,
}

/// One temperature of a channel: what is left to do for a sample when the temperature stays.
///
/// ```
/// use gaugewright::{example::CHANNEL, fixed, float};
/// static KERNEL: float::Kernel<f32> = CHANNEL.float32();
/// let point: float::OperatingPoint<f32> = KERNEL.at(fixed::Temperature::from_bits(35 << 20));
/// assert!(point.reading(123_456).strain > 0.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct OperatingPoint<T> {
    code_low: i32,
    code_span: u32,
    code_base: i32,
    gain: T,
    curvature: T,
    thermal: T,
    strain_limit: T,
    bits: u32,
    /// Flags of every reading: those of the temperature.
    flags: Flags,
}

/// What a floating-point kernel returns: strain as a plain ratio, and flags.
///
/// ```
/// use gaugewright::{Flags, float};
/// let reading: float::Reading<f32> = float::Reading { strain: 1e-3, flags: Flags::CLEAR };
/// ```
pub type Reading<T> = crate::sample::Reading<T>;

/// The target has vectors of floating-point numbers.
const VECTORS: bool = cfg!(any(target_feature = "sse2", target_feature = "neon"));

impl<T: Float, const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    Kernel<T, DEGREE, FACTOR, PRODUCT>
{
    /// Strain for a code and a temperature, in one call.
    ///
    /// ```
    /// use gaugewright::{Flags, example::CHANNEL, fixed, float};
    /// let kernel: float::Kernel<f32> = CHANNEL.float32();
    /// let reading = kernel.reading(i32::MAX, fixed::Temperature::from_bits(0));
    /// assert_eq!(reading.flags, Flags::CODE_AT_RAIL);
    /// ```
    #[inline]
    pub fn reading(&self, code: i32, temperature: Temperature) -> Reading<T> {
        self.reading_against(code, temperature, None)
    }

    /// A reading with this much of thermal output compensated in the bridge.
    #[inline(always)]
    pub(super) fn reading_against(
        &self,
        code: i32,
        temperature: Temperature,
        compensation: Option<T>,
    ) -> Reading<T> {
        let from_low = temperature.to_bits().wrapping_sub(self.temperature_low) as u32;
        let code_from_low = code.wrapping_sub(self.code_low) as u32;
        if from_low > self.temperature_span || code_from_low > self.code_span {
            return self.reading_outside(code, temperature, compensation.unwrap_or(T::ZERO));
        }
        self.reading_inside(code, temperature.to_bits(), compensation)
    }

    /// The constants of one temperature.
    ///
    /// ```
    /// use gaugewright::{Flags, example::CHANNEL, fixed, float};
    /// let kernel: float::Kernel<f32> = CHANNEL.float32();
    /// let too_cold = kernel.at(fixed::Temperature::from_bits(-60 << 20));
    /// assert_eq!(too_cold.reading(0).flags, Flags::TEMPERATURE_OUTSIDE);
    /// ```
    #[inline]
    #[must_use]
    pub fn at(&self, temperature: Temperature) -> OperatingPoint<T> {
        self.at_against(temperature, None)
    }

    #[inline(always)]
    pub(super) fn at_against(&self, temperature: Temperature, compensation: Option<T>) -> OperatingPoint<T> {
        let from_low = temperature.to_bits().wrapping_sub(self.temperature_low) as u32;
        if from_low > self.temperature_span {
            let clamped = clamped_offset(temperature.to_bits(), self.temperature_low, self.temperature_span);
            let clamped = self.temperature_low.wrapping_add(clamped as i32);
            return self.point(clamped, compensation, Flags::TEMPERATURE_OUTSIDE);
        }
        self.point(temperature.to_bits(), compensation, Flags::CLEAR)
    }

    /// A block of samples, each with its temperature: the same bits as one call of
    /// [`reading`](Self::reading) each.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if the three slices differ in length; nothing is written then.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed, float};
    /// let kernel: float::Kernel<f32> = CHANNEL.float32();
    /// let temperatures = [fixed::Temperature::from_bits(20 << 20); 2];
    /// let mut readings = [kernel.reading(0, temperatures[0]); 2];
    /// kernel.readings(&[7, 8], &temperatures, &mut readings)?;
    /// assert_eq!(readings[1], kernel.reading(8, temperatures[1]));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn readings(
        &self,
        codes: &[i32],
        temperatures: &[Temperature],
        readings: &mut [Reading<T>],
    ) -> Result<(), Error> {
        same_length(codes.len(), temperatures.len())?;
        same_length(codes.len(), readings.len())?;
        let inside = |code: i32, temperature: Temperature| {
            let from_low = temperature.to_bits().wrapping_sub(self.temperature_low) as u32;
            let code_from_low = code.wrapping_sub(self.code_low) as u32;
            let strain = self.strain_inside(code, temperature.to_bits(), None);
            let clamped = (from_low > self.temperature_span) | (code_from_low > self.code_span);
            (strain, clamped | (strain.abs() > self.strain_limit))
        };
        let any = |c, t| self.reading(c, t);
        fill(VECTORS, (codes, temperatures), readings, Flags::CLEAR, inside, any);
        Ok(())
    }

    /// Both inputs are in range.
    #[inline(always)]
    fn reading_inside(&self, code: i32, temperature: i32, compensation: Option<T>) -> Reading<T> {
        let strain = self.strain_inside(code, temperature, compensation);
        OperatingPoint::<T>::flagged(strain, self.strain_limit, Flags::CLEAR)
    }

    #[inline(always)]
    fn strain_inside(&self, code: i32, temperature: i32, compensation: Option<T>) -> T {
        let x = self.position(temperature);
        let d = T::of_integer(code.wrapping_sub(self.code_base));
        let y = d * self.gain;
        let p = d * self.curvature;
        let l = self.factor_change(x);
        let t = self.thermal_output(x);
        let (n, p) = match self.product.as_slice() {
            [] => {
                let t = less(t, compensation);
                (y - (t - t * p), p)
            }
            [factor, ..] => {
                let t = t - t * p;
                // The compensating gauge's share is of the bridge's other divisor.
                let both = less(t, compensation.map(|c| c + c * (y * *factor - p)));
                (y - both, p - t * *factor)
            }
        };
        let u = (p - l) + l * p;
        n + n * (u / (T::ONE - u))
    }

    /// At least one input is out of range.
    #[cold]
    #[inline(never)]
    fn reading_outside(&self, code: i32, temperature: Temperature, compensation: T) -> Reading<T> {
        let clamped_code = clamped_offset(code, self.code_low, self.code_span);
        let clamped_temperature =
            clamped_offset(temperature.to_bits(), self.temperature_low, self.temperature_span);
        let reading = self.reading_inside(
            self.code_low.wrapping_add(clamped_code as i32),
            self.temperature_low.wrapping_add(clamped_temperature as i32),
            Some(compensation),
        );
        let flags = code_flags(code, self.code_low, self.code_span, self.bits, reading.flags);
        let outside = Flags::TEMPERATURE_OUTSIDE
            .when(clamped_temperature != temperature.to_bits().wrapping_sub(self.temperature_low) as u32);
        Reading { strain: reading.strain, flags: flags.union(outside) }
    }

    /// Temperature over the declared range, within -1 to 1.
    #[inline(always)]
    fn position(&self, temperature: i32) -> T {
        T::of_integer(temperature.wrapping_sub(self.temperature_middle)) * self.position_scale
    }

    /// Gauge factor over its value in mid range, less one.
    #[inline(always)]
    fn factor_change(&self, x: T) -> T {
        ascending(&self.factor, x) * x
    }

    /// Thermal output at the gauge factor of mid range.
    #[inline(always)]
    fn thermal_output(&self, x: T) -> T {
        ascending(&self.thermal, x) * x + self.thermal_offset
    }

    #[inline(always)]
    fn point(&self, temperature: i32, compensation: Option<T>, flags: Flags) -> OperatingPoint<T> {
        let x = self.position(temperature);
        let l = self.factor_change(x);
        let t = self.thermal_output(x);
        let (gain, l, t) = match self.product.as_slice() {
            [] => (self.gain, l, less(t, compensation)),
            [factor, ..] => {
                let change = t * *factor;
                let gain = match compensation {
                    None => self.gain,
                    Some(compensation) => self.gain + self.gain * (compensation * *factor),
                };
                (gain, (l + change) + l * change, less(t, compensation))
            }
        };
        // 1 / (1 + l) = 1 - s
        let s = l / (T::ONE + l);
        OperatingPoint {
            code_low: self.code_low,
            code_span: self.code_span,
            code_base: self.code_base,
            gain: gain - gain * s,
            curvature: self.curvature,
            thermal: t - t * s,
            strain_limit: self.strain_limit,
            bits: self.bits,
            flags,
        }
    }
}

#[inline(always)]
fn less<T: Float>(thermal: T, compensation: Option<T>) -> T {
    match compensation {
        None => thermal,
        Some(compensation) => thermal - compensation,
    }
}

impl<T: Float> OperatingPoint<T> {
    /// Strain for a code at the temperature of the point.
    ///
    /// ```
    /// use gaugewright::{Flags, example::CHANNEL, fixed, float};
    /// let kernel: float::Kernel<f32> = CHANNEL.float32();
    /// let point = kernel.at(fixed::Temperature::from_bits(24 << 20));
    /// assert_eq!(point.reading(i32::MIN).flags, Flags::CODE_AT_RAIL);
    /// ```
    #[inline]
    pub fn reading(&self, code: i32) -> Reading<T> {
        if code.wrapping_sub(self.code_low) as u32 > self.code_span {
            return self.reading_outside(code);
        }
        self.reading_inside(code)
    }

    /// A block of samples at the temperature of the point: the same bits as one call of
    /// [`reading`](Self::reading) each.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if the slices differ in length; nothing is written then.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed, float};
    /// let kernel: float::Kernel<f32> = CHANNEL.float32();
    /// let point = kernel.at(fixed::Temperature::from_bits(24 << 20));
    /// let mut readings = [point.reading(0); 3];
    /// point.readings(&[1, 2, 3], &mut readings)?;
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn readings(&self, codes: &[i32], readings: &mut [Reading<T>]) -> Result<(), Error> {
        same_length(codes.len(), readings.len())?;
        let inside = |code: i32, _| {
            let strain = self.strain_inside(code);
            let clamped = code.wrapping_sub(self.code_low) as u32 > self.code_span;
            (strain, clamped | (strain.abs() > self.strain_limit))
        };
        let any = |c, _| self.reading(c);
        fill(VECTORS, (codes, codes), readings, self.flags, inside, any);
        Ok(())
    }

    #[inline(always)]
    fn reading_inside(&self, code: i32) -> Reading<T> {
        Self::flagged(self.strain_inside(code), self.strain_limit, self.flags)
    }

    #[inline(always)]
    fn strain_inside(&self, code: i32) -> T {
        let d = T::of_integer(code.wrapping_sub(self.code_base));
        let y = d * self.gain;
        let p = d * self.curvature;
        // 1 / (1 - p) - 1 = p + ... + p^6, and p^7 / (1 - p) left out.
        let p2 = p * p;
        let q = (p + p2) * (T::ONE + p2 * (T::ONE + p2));
        y + (y * q - self.thermal)
    }

    #[cold]
    #[inline(never)]
    fn reading_outside(&self, code: i32) -> Reading<T> {
        let clamped = clamped_offset(code, self.code_low, self.code_span);
        let reading = self.reading_inside(self.code_low.wrapping_add(clamped as i32));
        let flags = code_flags(code, self.code_low, self.code_span, self.bits, reading.flags);
        Reading { strain: reading.strain, flags: flags.union(self.flags) }
    }

    #[inline(always)]
    fn flagged(strain: T, limit: T, flags: Flags) -> Reading<T> {
        if strain.abs() > limit {
            return Self::beyond(strain, flags);
        }
        Reading { strain, flags }
    }

    /// Out of line, so that the usual reading does not pay for it.
    #[cold]
    #[inline(never)]
    fn beyond(strain: T, flags: Flags) -> Reading<T> {
        Reading { strain, flags: flags.union(Flags::STRAIN_OUTSIDE) }
    }
}
