//! Kernels of one type as kernels of the other: compiling and bounds are `const fn` and therefore concrete. They are
//! computed in `f64` for both types.

use super::Kernel;
use super::compensated::{CompensatedKernel, Second};
use crate::kernel::model::{FACTOR_ROUNDING, THERMAL_ROUNDING};
use crate::numeric::{ConstantsRounding, Float};

/// The type that a kernel computes in.
#[derive(Clone, Copy)]
pub(super) enum Precision {
    Single,
    Double,
}

impl Precision {
    /// Half of the step from one to the next number.
    pub const fn unit_roundoff(self) -> f64 {
        match self {
            Self::Single => f32::STEP / 2.0,
            Self::Double => f64::STEP / 2.0,
        }
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<f64, DEGREE, FACTOR, PRODUCT> {
    /// Each constant rounded to nearest.
    pub(super) const fn single(&self) -> Kernel<f32, DEGREE, FACTOR, PRODUCT> {
        Kernel {
            temperature_low: self.temperature_low,
            temperature_span: self.temperature_span,
            temperature_middle: self.temperature_middle,
            code_low: self.code_low,
            code_span: self.code_span,
            code_base: self.code_base,
            position_scale: self.position_scale as f32,
            gain: self.gain as f32,
            curvature: self.curvature as f32,
            factor: single(&self.factor),
            thermal: single(&self.thermal),
            thermal_offset: self.thermal_offset as f32,
            product: single(&self.product),
            rounding: (),
            strain_limit: self.strain_limit as f32,
            bits: self.bits,
        }
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<f32, DEGREE, FACTOR, PRODUCT> {
    /// The same constants.
    pub(super) const fn wide(&self) -> Kernel<f64, DEGREE, FACTOR, PRODUCT> {
        Kernel {
            temperature_low: self.temperature_low,
            temperature_span: self.temperature_span,
            temperature_middle: self.temperature_middle,
            code_low: self.code_low,
            code_span: self.code_span,
            code_base: self.code_base,
            position_scale: self.position_scale as f64,
            gain: self.gain as f64,
            curvature: self.curvature as f64,
            factor: wide(&self.factor),
            thermal: wide(&self.thermal),
            thermal_offset: self.thermal_offset as f64,
            product: wide(&self.product),
            // What no channel exceeds (the model refuses one that would): far less than a rounding of `f32`.
            rounding: ConstantsRounding {
                gain: 1e-13,
                curvature: 1e-13 * (self.gain.abs() + self.curvature.abs()) as f64,
                factor: FACTOR_ROUNDING,
                thermal: THERMAL_ROUNDING,
                compensating: THERMAL_ROUNDING,
            },
            strain_limit: self.strain_limit as f64,
            bits: self.bits,
        }
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<f64, DEGREE, FACTOR, PRODUCT>
{
    /// Each constant rounded to nearest.
    pub(super) const fn single(&self) -> CompensatedKernel<f32, DEGREE, FACTOR, PRODUCT> {
        let second = Second {
            temperature_low: self.second.temperature_low,
            temperature_span: self.second.temperature_span,
            temperature_middle: self.second.temperature_middle,
            position_scale: self.second.position_scale as f32,
            thermal: single(&self.second.thermal),
            thermal_offset: self.second.thermal_offset as f32,
        };
        CompensatedKernel { kernel: self.kernel.single(), second }
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<f32, DEGREE, FACTOR, PRODUCT>
{
    /// The same constants.
    pub(super) const fn wide(&self) -> CompensatedKernel<f64, DEGREE, FACTOR, PRODUCT> {
        let second = Second {
            temperature_low: self.second.temperature_low,
            temperature_span: self.second.temperature_span,
            temperature_middle: self.second.temperature_middle,
            position_scale: self.second.position_scale as f64,
            thermal: wide(&self.second.thermal),
            thermal_offset: self.second.thermal_offset as f64,
        };
        CompensatedKernel { kernel: self.kernel.wide(), second }
    }
}

const fn single<const N: usize>(constants: &[f64; N]) -> [f32; N] {
    let mut rounded = [0.0; N];
    let mut k = 0;
    while k < N {
        rounded[k] = constants[k] as f32;
        k += 1;
    }
    rounded
}

const fn wide<const N: usize>(constants: &[f32; N]) -> [f64; N] {
    let mut same = [0.0; N];
    let mut k = 0;
    while k < N {
        same[k] = constants[k] as f64;
        k += 1;
    }
    same
}
