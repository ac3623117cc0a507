//! Two temperatures: a half bridge whose compensating gauge has a temperature of its own.

use super::{Kernel, OperatingPoint, Reading};
use crate::error::Error;
use crate::numeric::{Float, ascending};
use crate::sample::{Flags, Temperature, clamped_offset, same_length};

/// A kernel and the thermal output of the compensating gauge; see
/// [`fixed::CompensatedKernel`](crate::fixed::CompensatedKernel).
///
/// ```
/// use gaugewright::{example::COMPENSATED as CHANNEL, fixed, float};
/// static KERNEL: float::CompensatedKernel<f32> = CHANNEL.float32();
/// let t = fixed::Temperature::from_bits(40 << 20);
/// assert_eq!(KERNEL.reading(0, t, t).strain, 0.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct CompensatedKernel<
    T: Float,
    const DEGREE: usize = 4,
    const FACTOR: usize = 1,
    const PRODUCT: usize = 0,
> {
    pub(super) kernel: Kernel<T, DEGREE, FACTOR, PRODUCT>,
    pub(super) second: Second<T, DEGREE>,
}

/// Thermal output of the compensating gauge, in the scale of the kernel.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub(super) struct Second<T, const DEGREE: usize> {
    pub temperature_low: i32,
    pub temperature_span: u32,
    pub temperature_middle: i32,
    pub position_scale: T,
    pub thermal: [T; DEGREE],
    pub thermal_offset: T,
}

impl<T: Float, const DEGREE: usize> Second<T, DEGREE> {
    /// Thermal output, and whether its temperature had to be clamped.
    #[inline(always)]
    fn at(&self, temperature: Temperature) -> (T, Flags) {
        let from_low = temperature.to_bits().wrapping_sub(self.temperature_low) as u32;
        let clamped = clamped_offset(temperature.to_bits(), self.temperature_low, self.temperature_span);
        let t = self.temperature_low.wrapping_add(clamped as i32);
        let x = T::of_integer(t.wrapping_sub(self.temperature_middle)) * self.position_scale;
        let thermal = ascending(&self.thermal, x) * x + self.thermal_offset;
        (thermal, Flags::TEMPERATURE_OUTSIDE.when(clamped != from_low))
    }
}

impl<T: Float, const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<T, DEGREE, FACTOR, PRODUCT>
{
    /// Strain for a code and the temperatures of the gauge that measures and of the one that
    /// compensates.
    ///
    /// ```
    /// use gaugewright::{Flags, example::COMPENSATED as CHANNEL, fixed, float};
    /// let kernel: float::CompensatedKernel<f32> = CHANNEL.float32();
    /// let (good, cold) = (fixed::Temperature::from_bits(0), fixed::Temperature::from_bits(-60 << 20));
    /// assert_eq!(kernel.reading(0, good, cold).flags, Flags::TEMPERATURE_OUTSIDE);
    /// ```
    #[inline]
    pub fn reading(&self, code: i32, temperature: Temperature, compensating: Temperature) -> Reading<T> {
        let (compensation, flags) = self.second.at(compensating);
        let reading = self.kernel.reading_against(code, temperature, Some(compensation));
        Reading { strain: reading.strain, flags: reading.flags.union(flags) }
    }

    /// The constants of one pair of temperatures.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, fixed, float};
    /// let kernel: float::CompensatedKernel<f32> = CHANNEL.float32();
    /// let t = fixed::Temperature::from_bits(30 << 20);
    /// assert!(kernel.at(t, t).reading(0).flags.is_clear());
    /// ```
    #[inline]
    #[must_use]
    pub fn at(&self, temperature: Temperature, compensating: Temperature) -> OperatingPoint<T> {
        let (compensation, flags) = self.second.at(compensating);
        let mut point = self.kernel.at_against(temperature, Some(compensation));
        point.flags = point.flags.union(flags);
        point
    }

    /// A block of samples, each with its two temperatures: the same bits as one call of
    /// [`reading`](Self::reading) each.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if the slices differ in length; nothing is written then.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, fixed, float};
    /// let kernel: float::CompensatedKernel<f32> = CHANNEL.float32();
    /// let t = [fixed::Temperature::from_bits(30 << 20); 2];
    /// let mut readings = [kernel.reading(0, t[0], t[0]); 2];
    /// kernel.readings(&[5, 6], &t, &t, &mut readings)?;
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn readings(
        &self,
        codes: &[i32],
        temperatures: &[Temperature],
        compensating: &[Temperature],
        readings: &mut [Reading<T>],
    ) -> Result<(), Error> {
        same_length(codes.len(), temperatures.len())?;
        same_length(codes.len(), compensating.len())?;
        same_length(codes.len(), readings.len())?;
        // Not by index: a check of bounds would be left, and with it a panic.
        let inputs = codes.iter().zip(temperatures).zip(compensating);
        for (((&code, &temperature), &compensating), reading) in inputs.zip(readings) {
            *reading = self.reading(code, temperature, compensating);
        }
        Ok(())
    }
}
