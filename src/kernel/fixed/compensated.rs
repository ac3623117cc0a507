//! Two temperatures: a half bridge whose compensating gauge has a temperature of its own.

use super::{Kernel, OperatingPoint, Reading, Temperature, horner};
use crate::error::Error;
use crate::sample::{Flags, InputRange, mla, same_length, scale};

/// A kernel and the thermal output of the compensating gauge.
///
/// The thermal output of a reading is that of the gauge that measures less that of the gauge that
/// compensates, each at its own temperature; the gauge factor is corrected at the first. Otherwise as
/// [`Kernel`], whose domain, formats and flags these are: either temperature outside its range raises
/// [`Flags::TEMPERATURE_OUTSIDE`].
///
/// ```
/// use gaugewright::{fixed::{self, Temperature}, units::*};
/// use gaugewright::{Bridge, Channel, CompensatedChannel, CompensatingGauge, Converter, Gauge, ThermalOutput};
///
/// const GAUGE: Gauge = Gauge::new(GaugeFactor(2.065)).thermal_output(
///     ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
///         .between(Celsius(-80.0), Celsius(120.0)),
/// );
/// const STRUT: CompensatedChannel = Channel::new(
///     GAUGE,
///     Bridge::half_compensated(Ohms(350.0), Ohms(1.2)),
///     Converter::bipolar(24, Ratio(1.0 / 128.0)),
/// )
/// .strain_within(Microstrain(5_000.0))
/// .balanced(1_234.0, Celsius(20.0))
/// .compensated_by(CompensatingGauge::new(GAUGE).balanced_at(Celsius(19.0)));
///
/// static KERNEL: fixed::CompensatedKernel = STRUT.fixed_within(Nanostrain(0.7));
///
/// let (measuring, compensating) = (Temperature::from_bits(-40 << 20), Temperature::from_bits(-38 << 20));
/// assert!(KERNEL.reading(1_234, measuring, compensating).flags.is_clear());
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct CompensatedKernel<const DEGREE: usize = 4, const FACTOR: usize = 1, const PRODUCT: usize = 0> {
    pub(super) kernel: Kernel<DEGREE, FACTOR, PRODUCT>,
    pub(super) second: Second<DEGREE>,
}

/// Thermal output of the compensating gauge, in the scale of the kernel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub(super) struct Second<const DEGREE: usize> {
    pub temperatures: InputRange,
    pub thermal: [i32; DEGREE],
    pub thermal_offset: i32,
    pub temperature_scale: u32,
}

impl<const DEGREE: usize> Second<DEGREE> {
    /// Thermal output in Q34, and whether its temperature had to be clamped.
    #[inline(always)]
    pub(super) const fn at(&self, temperature: Temperature) -> (i32, Flags) {
        let clamped = self.temperatures.clamp(temperature.to_bits());
        let x = scale(clamped, self.temperature_scale);
        let thermal = mla(horner(&self.thermal, x), x, self.thermal_offset);
        (thermal, Flags::TEMPERATURE_OUTSIDE.when(clamped != self.temperatures.offset(temperature.to_bits())))
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    /// Strain for a code and the temperatures of the gauge that measures and of the one that compensates.
    ///
    /// ```
    /// use gaugewright::{Flags, example::COMPENSATED as CHANNEL, fixed};
    /// static KERNEL: fixed::CompensatedKernel = CHANNEL.fixed();
    /// let (good, cold) = (fixed::Temperature::from_bits(0), fixed::Temperature::from_bits(-60 << 20));
    /// assert_eq!(KERNEL.reading(0, good, cold).flags, Flags::TEMPERATURE_OUTSIDE);
    /// ```
    #[inline]
    pub const fn reading(&self, code: i32, temperature: Temperature, compensating: Temperature) -> Reading {
        let (compensation, flags) = self.second.at(compensating);
        let reading = self.kernel.reading_against(code, temperature, compensation);
        Reading { strain: reading.strain, flags: reading.flags.union(flags) }
    }

    /// The constants of one pair of temperatures.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, fixed};
    /// static KERNEL: fixed::CompensatedKernel = CHANNEL.fixed();
    /// let t = fixed::Temperature::from_bits(30 << 20);
    /// assert!(KERNEL.at(t, t).reading(0).flags.is_clear());
    /// ```
    #[inline]
    #[must_use]
    pub const fn at(&self, temperature: Temperature, compensating: Temperature) -> OperatingPoint {
        let (compensation, flags) = self.second.at(compensating);
        self.kernel.at_against(temperature, compensation).flagged(flags)
    }

    /// A block of samples, each with its two temperatures: the same bits as one call of
    /// [`reading`](Self::reading) each.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if the slices differ in length; nothing is written then.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, fixed};
    /// static KERNEL: fixed::CompensatedKernel = CHANNEL.fixed();
    /// let t = [fixed::Temperature::from_bits(30 << 20); 2];
    /// let mut readings = [KERNEL.reading(0, t[0], t[0]); 2];
    /// KERNEL.readings(&[5, 6], &t, &t, &mut readings)?;
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn readings(
        &self,
        codes: &[i32],
        temperatures: &[Temperature],
        compensating: &[Temperature],
        readings: &mut [Reading],
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
