//! Zero and span on site: the kernel of any balance and span in declared ranges, computed on the device in integers.
//!
//! Balancing on the device by compiling the channel links the compiler of channels in double precision. An
//! [`AdjustableKernel`] is compiled with the firmware instead and holds, beside a kernel, the few constants from which a device
//! computes the kernel of a measured zero and span. Its error bound holds for all of them.
//!
//! ```
//! use gaugewright::fixed::{AdjustableKernel, Kernel, MeanCode, Span, Temperature, Zero};
//! use gaugewright::{example::STRUT, units::Nanostrain};
//!
//! // Balances of 2 mV/V either way on a converter of 7.8 mV/V, and a span that is off by two percent at most.
//! static STRUT_ON_SITE: AdjustableKernel =
//!     STRUT.fixed_adjustable((-2_150_000, 2_150_000), (Span::from_ratio(0.98), Span::from_ratio(1.02)));
//! const BOUND: Nanostrain = STRUT_ON_SITE.error_bound().max();
//! assert!(BOUND.0 < 0.45);
//!
//! // On site: the sum of 64 codes of the unloaded channel.
//! let codes = MeanCode { sum: -790_080, count: 64 };
//! let zero = Zero { codes, temperature: Temperature::from_bits(37 << 19) };
//! let kernel: Kernel = STRUT_ON_SITE.with(zero, Span::ONE)?;
//! assert_eq!(kernel.reading(-12_345, Temperature::from_bits(37 << 19)).strain.nanostrain(), 0);
//! # Ok::<(), gaugewright::Error>(())
//! ```
#![doc = include_str!("adjustable/design.md")]

mod bound;
mod compile;
mod wide;

use super::compensated::{CompensatedKernel, Second};
use super::{DROPPED_BY_READING, Kernel, Temperature};
use crate::error::{Error, Field, try_const};
use crate::numeric::Polynomial;
use crate::sample::{InputRange, MeanCode, Span, number, scale};
use wide::{grown, high, horner, reciprocal, whole};

/// Codes of the unloaded channel and the temperature at which they were read.
///
/// ```
/// use gaugewright::fixed::{MeanCode, Temperature, Zero};
/// let codes = MeanCode { sum: 25, count: 2 }; // balance code 12.5
/// let zero = Zero { codes, temperature: Temperature::from_bits(20 << 20) };
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Zero {
    /// Their mean is the balance code.
    pub codes: MeanCode,
    /// Temperature of the gauge that measures.
    pub temperature: Temperature,
}

/// Fraction bits of what becomes a constant of a kernel.
const FINE: u32 = 24;
const FINE_STEPS: f64 = (1u64 << FINE) as f64;

/// A kernel for every zero and span in declared ranges: one kernel, and the constants from which a device computes the others.
///
/// It is made by [`Channel::fixed_adjustable`](crate::Channel::fixed_adjustable). Its kernels correct all codes that any zero
/// and span in the ranges may need, so each has the same input ranges; strain beyond the declared range is flagged as ever.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct AdjustableKernel<const DEGREE: usize = 4, const FACTOR: usize = 1, const PRODUCT: usize = 0> {
    // The order is that of the struct of C: without gaps, but for the end.
    /// Gain and curvature of the kernel for a span of one and a window about balance, the highest power first, in 2^-24 of their
    /// steps, each power doubled once more.
    pub(crate) gain: [i64; Polynomial::TERMS],
    pub(crate) curvature: [i64; Polynomial::TERMS],
    pub(crate) thermal: Thermal<DEGREE, PRODUCT>,
    /// A sixteenth of the gauge factor of mid range, Q64.
    pub(crate) factor: [i64; PRODUCT],
    /// Of a balance and a span in the middle of the ranges.
    pub(crate) kernel: Kernel<DEGREE, FACTOR, PRODUCT>,
    /// Lowest and highest balance.
    pub(crate) codes: (i32, i32),
    pub(crate) spans: (Span, Span),
    /// Where the polynomials of balance have their middle, in codes with the span worked in, and by how far that is shifted.
    pub(crate) middle: i32,
    /// What the two polynomials leave out, in steps of 2^-24 of theirs.
    pub(crate) left_out: [u32; 2],
    pub(crate) shift: u32,
}

/// Thermal output of a gauge that has not been balanced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub(crate) struct Thermal<const DEGREE: usize, const PRODUCT: usize> {
    /// As a kernel's, in 2^-24 of their steps.
    pub(crate) descending: [i64; DEGREE],
    /// In mid range, times the gauge factor, Q64.
    pub(crate) middle: [i64; PRODUCT],
}

/// What a balance temperature makes of a gauge's thermal output.
struct Balanced {
    /// At balance, from mid range: strain in fine steps, with the sign of thermal output.
    at_balance: i64,
    /// One over the resistance at balance, in that of the reference temperature, less one; Q64.
    resistance: i64,
}

impl<const DEGREE: usize, const PRODUCT: usize> Thermal<DEGREE, PRODUCT> {
    /// `sign` is that of the constants.
    const fn balanced(&self, x: i32, sign: i64, factor: Option<i64>) -> Balanced {
        // Without the constant term.
        let x = (x as i64) << 32;
        let at_balance = sign * high(horner(&self.descending, x), x);
        let resistance = match (factor, self.middle.as_slice()) {
            (Some(factor), [middle, ..]) => {
                reciprocal(middle.wrapping_add(times_factor(at_balance, factor)).wrapping_neg())
            }
            _ => 0,
        };
        Balanced { at_balance, resistance }
    }

    /// Constants of a kernel for the unit that `shares` make, each one more than nothing in Q64.
    const fn constants(&self, shares: [i64; 2]) -> [i32; DEGREE] {
        let mut constants = [0; DEGREE];
        let mut k = 0;
        while k < DEGREE {
            constants[k] = whole(grown(grown(self.descending[k], shares[0]), shares[1]));
            k += 1;
        }
        constants
    }
}

/// A strain in fine steps, times the gauge factor: Q64.
const fn times_factor(strain: i64, factor: i64) -> i64 {
    high(strain, factor) << 10
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    AdjustableKernel<DEGREE, FACTOR, PRODUCT>
{
    /// The kernel for a zero and a span, in integers alone: on a Cortex-M0 some 10 000 instructions. Nothing is changed where one of them is
    /// refused, so the kernel that was in use before stays.
    ///
    /// Each constant is that of the channel compiled with this balance and span, to the half step that rounding costs any
    /// kernel and the little more that [`error_bound`](Self::error_bound) includes.
    ///
    /// # Errors
    /// [`Error::Invalid`] for a balance code, a balance temperature or a span outside its declared range, and for a mean of no or more
    /// than 65 536 codes.
    ///
    /// ```
    /// use gaugewright::{Error, error::Field, example::FLAT, fixed::*};
    /// static ON_SITE: AdjustableKernel = FLAT.fixed_adjustable((-5_000, 5_000), (Span::ONE, Span::ONE));
    /// let zero = Zero { codes: 5_001.into(), temperature: Temperature::from_bits(20 << 20) };
    /// assert_eq!(
    ///     ON_SITE.with(zero, Span::ONE),
    ///     Err(Error::Invalid { field: Field::BalanceCode, value: 5_001.0, low: -5_000.0, high: 5_000.0 }),
    /// );
    /// assert!(ON_SITE.with(Zero { codes: 4_999.into(), ..zero }, Span::ONE).is_ok());
    /// ```
    pub const fn with(&self, zero: Zero, span: Span) -> Result<Kernel<DEGREE, FACTOR, PRODUCT>, Error> {
        let balance = try_const!(self.balance(zero.codes));
        try_const!(self.check(span));
        let x = try_const!(position(
            Field::BalanceTemperature,
            zero.temperature,
            self.kernel.temperatures,
            self.kernel.temperature_scale as u32
        ));
        Ok(self.adjusted(balance, x, span))
    }

    const fn adjusted(&self, balance: i64, x: i32, span: Span) -> Kernel<DEGREE, FACTOR, PRODUCT> {
        let mut kernel = self.kernel;
        let more = (span.to_bits().wrapping_sub(Span::ONE.to_bits()) as i32 as i64) << 33;
        let of_range = balance.wrapping_add(high(balance, more)).wrapping_sub((self.middle as i64) << 32);
        // Of constants that were not compiled, from C, the shift may be anything.
        let of_range = of_range.wrapping_shl(self.shift);
        let gain = grown(horner(&self.gain, of_range), more);
        let curvature = grown(horner(&self.curvature, of_range), more);
        // The balance in the window, from its middle. An odd scale needs no offset: see the input ranges.
        let d = balance.wrapping_sub((kernel.codes.low() as i64) << 32);
        let d = d.wrapping_mul(kernel.code_scale as i64).wrapping_add(i64::MIN);
        // The map, counted from the middle of the window instead of balance.
        let turn = reciprocal(high(curvature, d) << 8);
        let gain = grown(gain, turn);
        let signal = high(gain, d).wrapping_neg();
        let gain = grown(gain, turn);
        let factor = self.factor();
        let Balanced { at_balance, resistance } = self.thermal.balanced(x, -1, factor);
        let unit = match factor {
            None => 0,
            Some(factor) => {
                let unit = reciprocal(times_factor(signal, factor).wrapping_neg());
                kernel.thermal = self.thermal.constants([unit, resistance]);
                unit
            }
        };
        let offset = grown(signal.wrapping_add(grown(at_balance, resistance)), unit);
        kernel.thermal_offset = whole(offset.wrapping_add(DROPPED));
        kernel.gain = whole(grown(gain, unit));
        kernel.curvature = whole(grown(curvature, turn));
        kernel
    }

    const fn factor(&self) -> Option<i64> {
        match self.factor.as_slice() {
            [] => None,
            [factor, ..] => Some(*factor),
        }
    }

    /// The balance code, Q32.
    const fn balance(&self, codes: MeanCode) -> Result<i64, Error> {
        try_const!(codes.check());
        try_const!(codes.within(Field::BalanceCode, self.codes.0, self.codes.1));
        Ok(codes.bits())
    }

    const fn check(&self, span: Span) -> Result<(), Error> {
        let (low, high) = self.spans;
        if span.to_bits() >= low.to_bits() && span.to_bits() <= high.to_bits() {
            return Ok(());
        }
        Err(Error::Invalid {
            field: Field::SpanCorrection,
            value: span.ratio(),
            low: low.ratio(),
            high: high.ratio(),
        })
    }
}

/// What the products of a kernel drop, in fine steps.
const DROPPED: i64 = (DROPPED_BY_READING * FINE_STEPS) as i64;

/// A balance temperature as the kernel scales it.
const fn position(field: Field, at: Temperature, range: InputRange, by: u32) -> Result<i32, Error> {
    let offset = range.offset(at.to_bits());
    if range.contains(offset) {
        return Ok(scale(offset, by));
    }
    Err(Error::Invalid {
        field,
        value: number(at.to_bits() as i64, 20),
        low: number(range.low() as i64, 20),
        high: number(range.high() as i64, 20),
    })
}

/// An [`AdjustableKernel`] of two temperatures.
///
/// ```
/// use gaugewright::{example::COMPENSATED, fixed::*};
/// static ON_SITE: AdjustableCompensatedKernel =
///     COMPENSATED.fixed_adjustable((-500_000, 500_000), (Span::ONE, Span::ONE));
/// let (here, there) = (Temperature::from_bits(21 << 20), Temperature::from_bits(19 << 20));
/// let codes = MeanCode { sum: -7_001, count: 2 };
/// let kernel = ON_SITE.with(Zero { codes, temperature: here }, there, Span::ONE)?;
/// assert_eq!(kernel.reading(-3_500, here, there).strain.nanostrain() / 10, 0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct AdjustableCompensatedKernel<
    const DEGREE: usize = 4,
    const FACTOR: usize = 1,
    const PRODUCT: usize = 0,
> {
    adjustable: AdjustableKernel<DEGREE, FACTOR, PRODUCT>,
    second: Second<DEGREE>,
    thermal: Thermal<DEGREE, PRODUCT>,
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    AdjustableCompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    /// As [`AdjustableKernel::with`], with the temperature of the compensating gauge at balance.
    ///
    /// # Errors
    /// The same, and [`Error::Invalid`] for a temperature of the compensating gauge outside its declared range.
    ///
    /// ```
    /// use gaugewright::{Error, error::Field, example::COMPENSATED, fixed::*};
    /// static ON_SITE: AdjustableCompensatedKernel =
    ///     COMPENSATED.fixed_adjustable((-500_000, 500_000), (Span::ONE, Span::ONE));
    /// let (here, there) = (Temperature::from_bits(21 << 20), Temperature::from_bits(95 << 20));
    /// assert!(matches!(
    ///     ON_SITE.with(Zero { codes: 0.into(), temperature: here }, there, Span::ONE),
    ///     Err(Error::Invalid { field: Field::CompensatingBalanceTemperature, value: 95.0, .. }),
    /// ));
    /// ```
    pub const fn with(
        &self,
        zero: Zero,
        compensating: Temperature,
        span: Span,
    ) -> Result<CompensatedKernel<DEGREE, FACTOR, PRODUCT>, Error> {
        let x = try_const!(position(
            Field::CompensatingBalanceTemperature,
            compensating,
            self.second.temperatures,
            self.second.temperature_scale
        ));
        let kernel = try_const!(self.adjustable.with(zero, span));
        let mut second = self.second;
        let factor = self.adjustable.factor();
        let Balanced { at_balance, resistance } = self.thermal.balanced(x, 1, factor);
        second.thermal_offset = whole(grown(at_balance, resistance).wrapping_neg());
        if factor.is_some() {
            second.thermal = self.thermal.constants([0, resistance]);
        }
        Ok(CompensatedKernel { kernel, second })
    }
}

#[cfg(test)]
mod tests;
