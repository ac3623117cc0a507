//! A kernel's numbers, laid open: for proofs, for tables in other languages, for a look.

use super::{CompensatedKernel, DROPPED_BY_READING, Kernel, POINT_OFFSET, Temperature};

/// The numbers of a kernel in their scales, as its arithmetic takes them.
///
/// With `d` and `x` the code and the temperature scaled to their ranges,
/// `(input - lowest) scale - 2^31`, and `mul(a, b) = floor(a b / 2^32)`, the module [`fixed`](super) says what
/// is computed. It is what a proof of a kernel starts from, and what a table for another language is
/// written from; readings do not need it.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
/// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
/// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// let constants = KERNEL.constants();
/// let width = constants.codes.1.abs_diff(constants.codes.0);
/// assert!(u64::from(width) * u64::from(constants.code_scale) < 1 << 32);
/// assert!(constants.code_scale % 2 == 1 && constants.temperature_scale % 2 == 1);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Constants<const DEGREE: usize = 4, const FACTOR: usize = 1> {
    /// Lowest and highest code.
    pub codes: (i32, i32),
    /// `d` per code; odd.
    pub code_scale: u32,
    /// Lowest and highest temperature.
    pub temperatures: (Temperature, Temperature),
    /// `x` per step of 2^-20 C; odd.
    pub temperature_scale: u32,
    /// Strain (2^-34) per `d`, times 2^32.
    pub gain: i32,
    /// Bridge divisor less one (2^-32) per `d`, times 2^32, with its sign turned.
    pub curvature: i32,
    /// Change of gauge factor with its sign turned, the highest power first: that of `x` in 2^-33, each next one doubled.
    pub factor: [i32; FACTOR],
    /// Thermal output with its sign turned, the highest power first: that of `x` in 2^-35, each next one doubled.
    pub thermal: [i32; DEGREE],
    /// Its constant term, in 2^-34, with what the products of the one-call path drop on average.
    pub thermal_offset: i32,
    /// How many steps of 2^-34 that is; the rest of `thermal_offset` is thermal output, rounded with it.
    pub carried: f64,
    /// By how many steps of 2^-34 that is too much for a [`Point`](super::Point).
    pub point_offset: i32,
    /// Readings beyond this either way are flagged, 2^-34.
    pub strain_limit: i32,
    /// Bits of the converter.
    pub bits: u32,
}

impl<const DEGREE: usize, const FACTOR: usize> Kernel<DEGREE, FACTOR> {
    /// The numbers of the kernel.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// assert_eq!(KERNEL.constants().bits, 24);
    /// ```
    #[must_use]
    pub const fn constants(&self) -> Constants<DEGREE, FACTOR> {
        Constants {
            codes: self.codes(),
            code_scale: self.code_scale,
            temperatures: self.temperatures(),
            temperature_scale: self.temperature_scale as u32,
            gain: self.gain,
            curvature: self.curvature,
            factor: self.factor,
            thermal: self.thermal,
            thermal_offset: self.thermal_offset,
            carried: DROPPED_BY_READING,
            point_offset: POINT_OFFSET,
            strain_limit: self.strain_limit,
            bits: self.bits as u32,
        }
    }
}

/// The numbers of a kernel of two temperatures: those of the gauge that measures, and the compensating gauge's.
///
/// The compensating gauge's thermal output is in the scale of the other's and is added to it.
///
/// ```
/// # use gaugewright::{Bridge, Channel, CompensatingGauge, Converter, Gauge, ThermalOutput, fixed, units::*};
/// # const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
/// # const CHANNEL: Channel = Channel::new(GAUGE, Bridge::half_compensated(Ohms(120.0), Ohms(0.5)),
/// #     Converter::bipolar(24, Ratio(0.01))).compensated_by(CompensatingGauge::new(GAUGE));
/// # static KERNEL: fixed::CompensatedKernel = CHANNEL.compensated_fixed();
/// let constants: fixed::CompensatedConstants = KERNEL.constants();
/// assert_eq!(constants.temperatures, constants.measuring.temperatures);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompensatedConstants<const DEGREE: usize = 4, const FACTOR: usize = 1> {
    /// Those of the gauge that measures, and of the bridge.
    pub measuring: Constants<DEGREE, FACTOR>,
    /// Lowest and highest temperature of the compensating gauge.
    pub temperatures: (Temperature, Temperature),
    /// Its `x` per step of 2^-20 C; odd.
    pub temperature_scale: u32,
    /// Its thermal output, the highest power first: that of `x` in 2^-35, each next one doubled.
    pub thermal: [i32; DEGREE],
    /// Its constant term, in 2^-34. Nothing else is in it.
    pub thermal_offset: i32,
}

impl<const DEGREE: usize, const FACTOR: usize> CompensatedKernel<DEGREE, FACTOR> {
    /// The numbers of the kernel.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, CompensatingGauge, Converter, Gauge, ThermalOutput, fixed, units::*};
    /// # const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// # const CHANNEL: Channel = Channel::new(GAUGE, Bridge::half_compensated(Ohms(120.0), Ohms(0.5)),
    /// #     Converter::bipolar(24, Ratio(0.01))).compensated_by(CompensatingGauge::new(GAUGE));
    /// # static KERNEL: fixed::CompensatedKernel = CHANNEL.compensated_fixed();
    /// assert_eq!(KERNEL.constants().measuring.bits, 24);
    /// ```
    #[must_use]
    pub const fn constants(&self) -> CompensatedConstants<DEGREE, FACTOR> {
        let temperatures = self.second.temperatures;
        CompensatedConstants {
            measuring: self.kernel.constants(),
            temperatures: (
                Temperature::from_bits(temperatures.low()),
                Temperature::from_bits(temperatures.high()),
            ),
            temperature_scale: self.second.temperature_scale as u32,
            thermal: self.second.thermal,
            thermal_offset: self.second.thermal_offset,
        }
    }
}
