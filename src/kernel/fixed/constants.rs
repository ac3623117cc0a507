//! A kernel's numbers in the open: for proofs, and for tables in other languages. Hidden from the documentation, since no
//! reading needs them.

use super::{CompensatedKernel, DROPPED_BY_READING, Kernel, POINT_OFFSET, Temperature};

/// Of the numbers of a kernel and their meaning; changes when a kernel of old bytes would give other readings.
///
/// ```
/// assert_eq!(gaugewright::fixed::FORMAT, 1);
/// ```
pub const FORMAT: u32 = 1;

/// The numbers of a kernel in their scales, as its arithmetic takes them.
///
/// With `d` and `x` the code and the temperature scaled to their ranges,
/// `(input - lowest) scale - 2^31`, and `mul(a, b) = floor(a b / 2^32)`, the module [`fixed`](super) says what
/// is computed.
#[doc(hidden)]
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Constants<const DEGREE: usize = 4, const FACTOR: usize = 1> {
    /// Lowest and highest code.
    pub codes: (i32, i32),
    /// `d` per code; odd.
    pub code_scale: u32,
    /// Lowest and highest temperature.
    pub temperatures: (Temperature, Temperature),
    /// `x` per step of a Q20 temperature; odd.
    pub temperature_scale: u32,
    /// Strain (Q34) per `d`, times 2^32.
    pub gain: i32,
    /// Bridge divisor less one (2^-32) per `d`, times 2^32, with its sign turned.
    pub curvature: i32,
    /// Change of gauge factor with its sign turned, the highest power first: that of `x` in 2^-33, each next one doubled.
    pub factor: [i32; FACTOR],
    /// Thermal output with its sign turned, the highest power first: that of `x` in 2^-35, each next one doubled.
    pub thermal: [i32; DEGREE],
    /// Its constant term, in Q34, with what the products of the one-call path drop on average.
    pub thermal_offset: i32,
    /// How many Q34 steps that is; the rest of `thermal_offset` is thermal output, rounded with it.
    pub carried: f64,
    /// By how many Q34 steps that is too much for a [`OperatingPoint`](super::OperatingPoint).
    pub point_offset: i32,
    /// Gauge factor of mid range in 2^-28 with its sign turned, of a kernel that multiplies thermal and mechanical change.
    pub product: Option<i32>,
    /// Readings beyond this either way are flagged, Q34.
    pub strain_limit: i32,
    /// Bits of the converter.
    pub bits: u32,
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<DEGREE, FACTOR, PRODUCT> {
    /// The numbers of the kernel.
    #[doc(hidden)]
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
            product: if let [factor, ..] = self.product.as_slice() { Some(*factor) } else { None },
            strain_limit: self.strain_limit,
            bits: self.bits as u32,
        }
    }
}

/// The numbers of a kernel of two temperatures: those of the gauge that measures, and the compensating gauge's.
///
/// The compensating gauge's thermal output is in the scale of the other's and is added to it.
#[doc(hidden)]
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CompensatedConstants<const DEGREE: usize = 4, const FACTOR: usize = 1> {
    /// Those of the gauge that measures, and of the bridge.
    pub measuring: Constants<DEGREE, FACTOR>,
    /// Lowest and highest temperature of the compensating gauge.
    pub temperatures: (Temperature, Temperature),
    /// Its `x` per step of a Q20 temperature; odd.
    pub temperature_scale: u32,
    /// Its thermal output, the highest power first: that of `x` in 2^-35, each next one doubled.
    pub thermal: [i32; DEGREE],
    /// Its constant term, in Q34. Nothing else is in it.
    pub thermal_offset: i32,
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    /// The numbers of the kernel.
    #[doc(hidden)]
    #[must_use]
    pub const fn constants(&self) -> CompensatedConstants<DEGREE, FACTOR> {
        let temperatures = self.second.temperatures;
        CompensatedConstants {
            measuring: self.kernel.constants(),
            temperatures: (
                Temperature::from_bits(temperatures.low()),
                Temperature::from_bits(temperatures.high()),
            ),
            temperature_scale: self.second.temperature_scale,
            thermal: self.second.thermal,
            thermal_offset: self.second.thermal_offset,
        }
    }
}
