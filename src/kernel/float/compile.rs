//! From a channel to the constants of a floating-point kernel.

use super::Kernel;
use super::compensated::{CompensatedKernel, Second};
use super::precision::Precision;
use crate::channel::{Channel, CompensatedChannel};
use crate::error::{Error, Field, Quantity, fits, try_const};
use crate::kernel::codes::{CodeModel, LeftOut};
use crate::kernel::forms::forms;
use crate::kernel::model::ROUNDINGS;
use crate::kernel::suggested_limits::{Search, SuggestedLimits};
use crate::numeric::{ConstantsRounding, Polynomial};
use crate::sample::Temperature;
use crate::units::Nanostrain;

/// A kernel's constants in `f64`, rounded to the kernel's type, and what they were made from.
struct Compiled<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> {
    kernel: Kernel<f64, DEGREE, FACTOR, PRODUCT>,
    factor_middle: f64,
    left_out: LeftOut,
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Compiled<DEGREE, FACTOR, PRODUCT> {
    const fn of(channel: &Channel, precision: Precision) -> Result<Self, Error> {
        Self::from(&try_const!(CodeModel::of::<PRODUCT>(channel, FACTOR)), precision)
    }

    const fn from(model: &CodeModel, precision: Precision) -> Result<Self, Error> {
        const { assert!(DEGREE >= 1 && DEGREE <= 5, "a kernel has room for degree 1 to 5") };
        const { assert!(FACTOR >= 1 && FACTOR <= 3, "a kernel has room for a gauge factor of degree 1 to 3") };
        try_const!(fits(Quantity::ThermalOutputDegree, model.thermal.degree() as f64, DEGREE as f64));
        try_const!(fits(Quantity::GaugeFactorDegree, model.factor.degree() as f64, FACTOR as f64));
        const { assert!(PRODUCT <= 1, "a kernel has room for one constant of the product or none") };
        let range = try_const!(Range::of(model.temperatures));
        let factor_x = model.factor.substitute(range.celsius, range.per_position);
        let thermal_x = model.thermal.substitute(range.celsius, range.per_position);
        let factor_middle = factor_x.coefficients()[0];
        let (factor, _) = scaled(&factor_x, factor_middle);
        // As in fixed point: 1 + tau is 1 + factor_middle t in this unit.
        let (unit, product) = if model.has_product {
            (factor_middle * (1.0 + model.offset), factor_middle)
        } else {
            (factor_middle, 0.0)
        };
        let (thermal, thermal_offset) = scaled(&thermal_x, unit);
        let mut kernel = Kernel {
            temperature_low: range.low,
            temperature_span: range.span,
            temperature_middle: range.middle,
            code_low: model.window.0,
            code_span: (model.window.1 as i64 - model.window.0 as i64) as u32,
            code_base: model.base,
            position_scale: range.scale,
            gain: model.map.gain / unit,
            curvature: model.map.curvature,
            factor,
            thermal,
            thermal_offset,
            product: [product; PRODUCT],
            strain_limit: match model.strain_limit {
                Some(limit) => limit,
                None => f64::INFINITY,
            },
            bits: model.bits,
            rounding: ConstantsRounding {
                gain: ROUNDINGS,
                curvature: ROUNDINGS * (model.map.gain.abs() + model.map.curvature.abs()),
                factor: model.rounding.factor / factor_middle,
                thermal: (model.rounding.thermal + ROUNDINGS * model.offset.abs()) / unit,
                compensating: 0.0,
            },
        };
        if let Precision::Single = precision {
            kernel = kernel.single().wide();
        }
        try_const!(fits(Quantity::Divisor, kernel.largest_divisor(precision), 0.125));
        Ok(Self { kernel, factor_middle, left_out: model.left_out })
    }
}

/// A temperature range as the kernels normalise it.
struct Range {
    low: i32,
    span: u32,
    middle: i32,
    /// Positions per step: a power of two, so that the product is exact.
    scale: f64,
    /// Celsius at position 0, and per position.
    celsius: f64,
    per_position: f64,
}

impl Range {
    const fn of((low, high): (i32, i32)) -> Result<Self, Error> {
        let step = 1.0 / Temperature::PER_DEGREE as f64;
        let span = high as i64 - low as i64;
        if span < 1 {
            return Err(Error::Invalid {
                field: Field::TemperatureWidth,
                value: span as f64 * step,
                low: step,
                high: 4095.0,
            });
        }
        let middle = (low as i64 + span / 2) as i32;
        // The smallest power of two that the half range divided by is at most one.
        let mut half = 1.0;
        while half < (span - span / 2) as f64 {
            half *= 2.0;
        }
        Ok(Self {
            low,
            span: span as u32,
            middle,
            scale: 1.0 / half,
            celsius: middle as f64 * step,
            per_position: half * step,
        })
    }
}

/// The powers of a polynomial from the first on, and its constant, over the factor of mid range.
const fn scaled<const N: usize>(polynomial: &Polynomial, factor_middle: f64) -> ([f64; N], f64) {
    let mut ascending = [0.0; N];
    let mut k = 0;
    while k < N {
        ascending[k] = polynomial.coefficients()[k + 1] / factor_middle;
        k += 1;
    }
    (ascending, polynomial.coefficients()[0] / factor_middle)
}

forms!(
    Channel, CHANNEL, Kernel[f32], single, "`f32`", float, "float::Kernel<f32>",
    float32 try_float32 float32_within try_float32_within float32_suggested_limits
);
forms!(
    Channel, CHANNEL, Kernel[f64], double, "`f64`", float, "float::Kernel<f64>",
    float64 try_float64 float64_within try_float64_within float64_suggested_limits
);
forms!(
    CompensatedChannel, COMPENSATED, CompensatedKernel[f32], compensated_single, "`f32`", float,
    "float::CompensatedKernel<f32>",
    float32 try_float32 float32_within try_float32_within float32_suggested_limits
);
forms!(
    CompensatedChannel, COMPENSATED, CompensatedKernel[f64], compensated_double, "`f64`", float,
    "float::CompensatedKernel<f64>",
    float64 try_float64 float64_within try_float64_within float64_suggested_limits
);

const fn single<const D: usize, const F: usize, const P: usize>(
    channel: &Channel,
) -> Result<(Kernel<f32, D, F, P>, LeftOut), Error> {
    let Compiled { kernel, left_out, .. } = try_const!(Compiled::of(channel, Precision::Single));
    Ok((kernel.single(), left_out))
}

const fn double<const D: usize, const F: usize, const P: usize>(
    channel: &Channel,
) -> Result<(Kernel<f64, D, F, P>, LeftOut), Error> {
    let Compiled { kernel, left_out, .. } = try_const!(Compiled::of(channel, Precision::Double));
    Ok((kernel, left_out))
}

const fn compensated_single<const D: usize, const F: usize, const P: usize>(
    channel: &CompensatedChannel,
) -> Result<(CompensatedKernel<f32, D, F, P>, LeftOut), Error> {
    let (kernel, left_out) = try_const!(compensated(channel, Precision::Single));
    Ok((kernel.single(), left_out))
}

const fn compensated_double<const D: usize, const F: usize, const P: usize>(
    channel: &CompensatedChannel,
) -> Result<(CompensatedKernel<f64, D, F, P>, LeftOut), Error> {
    compensated(channel, Precision::Double)
}

const fn compensated<const D: usize, const F: usize, const P: usize>(
    channel: &CompensatedChannel,
    precision: Precision,
) -> Result<(CompensatedKernel<f64, D, F, P>, LeftOut), Error> {
    let (model, second) = try_const!(CodeModel::of_compensated::<P>(channel, F));
    let Compiled { mut kernel, factor_middle, left_out } = try_const!(Compiled::from(&model, precision));
    kernel.rounding.compensating = second.rounding.thermal / factor_middle;
    try_const!(fits(Quantity::ThermalOutputDegree, second.thermal.degree() as f64, D as f64));
    let range = try_const!(Range::of(second.temperatures));
    let thermal = second.thermal.substitute(range.celsius, range.per_position);
    let (thermal, thermal_offset) = scaled(&thermal, factor_middle);
    let second = Second {
        temperature_low: range.low,
        temperature_span: range.span,
        temperature_middle: range.middle,
        position_scale: range.scale,
        thermal,
        thermal_offset,
    };
    Ok((CompensatedKernel { kernel, second }, left_out))
}
