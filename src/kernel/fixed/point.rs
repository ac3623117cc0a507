//! The split path: one temperature's constants, and what is left to do for a sample.

use super::arithmetic::{mla, mul, square};
use super::{Reading, Strain, VECTORS, distance, flagged, is_outside};
use crate::error::Error;
use crate::kernel::block::fill;
use crate::kernel::reading::Flags;
use crate::kernel::window::{code_flags, hold, same_length};

/// One temperature of a channel: what is left to do for a sample when the temperature stays.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
/// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
/// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// let point = KERNEL.at(fixed::Temperature::from_bits(35 << 20)); // when the thermometer speaks
/// let reading = point.reading(123_456);                           // every sample
/// assert!(reading.flags.is_clear());
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct Point {
    pub(super) code_low: i32,
    pub(super) code_span: u32,
    pub(super) code_scale: i32,
    pub(super) code_offset: i32,
    /// As in the kernel, times the kernel's factor over the factor at this temperature.
    pub(super) gain: i32,
    pub(super) curvature: i32,
    /// Thermal output, at the factor of this temperature.
    pub(super) thermal: i32,
    pub(super) strain_limit: i32,
    pub(super) bits: u8,
    pub(super) temperature_outside: bool,
}

impl Point {
    /// Strain for a code at the temperature of the point.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Flags, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let point = KERNEL.at(fixed::Temperature::from_bits(24 << 20));
    /// assert_eq!(point.reading(i32::MIN).flags, Flags::CODE_AT_RAIL);
    /// ```
    #[inline]
    pub const fn reading(&self, code: i32) -> Reading {
        let code_from_low = code.wrapping_sub(self.code_low) as u32;
        if code_from_low > self.code_span {
            return self.reading_outside(code);
        }
        self.reading_inside(code_from_low)
    }

    /// A block of samples at the temperature of the point: the same bits as one call of
    /// [`reading`](Self::reading) each.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if the slices differ in length; nothing is written then.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Flags, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let point = KERNEL.at(fixed::Temperature::from_bits(24 << 20));
    /// let mut readings = [point.reading(0); 2];
    /// point.readings(&[5, 6], &mut readings)?;
    /// assert!(point.readings(&[5, 6, 7], &mut readings).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn readings(&self, codes: &[i32], readings: &mut [Reading]) -> Result<(), Error> {
        same_length(codes.len(), readings.len())?;
        let inside = |code: i32, _| {
            let code_from_low = code.wrapping_sub(self.code_low) as u32;
            let strain = self.strain_inside(code_from_low);
            let outside = (code_from_low > self.code_span) | is_outside(strain, self.strain_limit);
            (Strain::from_bits(strain), outside)
        };
        let any = |c, _| self.reading(c);
        fill(VECTORS, (codes, codes), readings, self.flags(), inside, any);
        Ok(())
    }

    #[inline(always)]
    const fn flags(&self) -> Flags {
        Flags::TEMPERATURE_OUTSIDE.when(self.temperature_outside)
    }

    #[inline(always)]
    const fn reading_inside(&self, code_from_low: u32) -> Reading {
        flagged(self.strain_inside(code_from_low), self.strain_limit, self.flags())
    }

    #[inline(always)]
    const fn strain_inside(&self, code_from_low: u32) -> i32 {
        let d = distance(code_from_low, self.code_scale, self.code_offset);
        let signal = mul(d, self.gain);
        let p = mul(d, self.curvature);
        // 1 / (1 - p) = (1 + p)(1 + p^2 + p^4) / (1 - p^6)
        let p2 = square(p);
        let even = mla(p2, p2, p2);
        let strain = mla(signal, p, signal);
        mla(strain, even, strain.wrapping_sub(self.thermal))
    }

    #[cold]
    #[inline(never)]
    const fn reading_outside(&self, code: i32) -> Reading {
        let reading = self.reading_inside(hold(code, self.code_low, self.code_span));
        let flags = code_flags(code, self.code_low, self.code_span, self.bits, reading.flags);
        Reading { strain: reading.strain, flags: flags.and(self.flags()) }
    }
}
