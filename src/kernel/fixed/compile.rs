//! From a channel to the integers of a kernel.

use super::bound::{Analysis, gain_fits};
use super::compensated::{CompensatedKernel, Second};
use super::{DROPPED_BY_READING, Kernel, PRODUCT_SHIFT, Strain, TWO_31, TWO_32, Temperature};
use crate::channel::{Channel, CompensatedChannel};
use crate::error::{Error, Field, Quantity, fits, try_const};
use crate::kernel::codes::{self, CodeModel, LeftOut};
use crate::kernel::forms::forms;
use crate::kernel::suggested_limits::{Search, SuggestedLimits};
use crate::numeric::Polynomial;
use crate::sample::{Flags, InputRange, nearest};
use crate::units::Nanostrain;

forms!(
    Channel, CHANNEL, Kernel[], compile_channel, "fixed point", fixed, "fixed::Kernel",
    fixed try_fixed fixed_within try_fixed_within fixed_suggested_limits
);
forms!(
    CompensatedChannel, COMPENSATED, CompensatedKernel[], compile_compensated, "fixed point", fixed,
    "fixed::CompensatedKernel",
    fixed try_fixed fixed_within try_fixed_within fixed_suggested_limits
);

/// A kernel of one temperature, and what its model leaves out.
const fn compile_channel<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
    channel: &Channel,
) -> Result<(Kernel<DEGREE, FACTOR, PRODUCT>, LeftOut), Error> {
    let model = try_const!(CodeModel::of::<PRODUCT>(channel, FACTOR));
    Ok((try_const!(compile(&model)), model.left_out))
}

/// The same for two temperatures.
const fn compile_compensated<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
    channel: &CompensatedChannel,
) -> Result<(CompensatedKernel<DEGREE, FACTOR, PRODUCT>, LeftOut), Error> {
    let (model, second) = try_const!(CodeModel::of_compensated::<PRODUCT>(channel, FACTOR));
    let kernel = try_const!(compile_pair(&model, &second));
    Ok((kernel, model.left_out))
}

pub(super) const fn compile_pair<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
    model: &CodeModel,
    second: &codes::Second,
) -> Result<CompensatedKernel<DEGREE, FACTOR, PRODUCT>, Error> {
    let kernel: Kernel<DEGREE, FACTOR, PRODUCT> = try_const!(compile(model));
    try_const!(fits(Quantity::ThermalOutputDegree, second.thermal.degree() as f64, DEGREE as f64));
    let factor_middle = try_const!(factor_in_middle(model));
    let range = try_const!(Range::of(second.temperatures));
    let thermal = second.thermal.substitute(range.middle, range.half);
    let (descending, offset) = try_const!(thermal_constants(&thermal, factor_middle, 0.0));
    let second = Second {
        temperatures: range.span,
        thermal: descending,
        thermal_offset: offset,
        temperature_scale: range.scale as u32,
    };
    try_const!(Analysis::check_fit(&kernel, Some(second.curve())));
    Ok(CompensatedKernel { kernel, second })
}

pub(super) const fn compile<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
    model: &CodeModel,
) -> Result<Kernel<DEGREE, FACTOR, PRODUCT>, Error> {
    const { assert!(DEGREE >= 1 && DEGREE <= 5, "a kernel has room for degree 1 to 5") };
    const { assert!(FACTOR >= 1 && FACTOR <= 3, "a kernel has room for a gauge factor of degree 1 to 3") };
    const { assert!(PRODUCT <= 1, "a kernel has room for one constant of the product or none") };
    try_const!(fits(Quantity::ThermalOutputDegree, model.thermal.degree() as f64, DEGREE as f64));
    try_const!(fits(Quantity::GaugeFactorDegree, model.factor.degree() as f64, FACTOR as f64));

    let range = try_const!(Range::of(model.temperatures));
    let (middle, half) = (range.middle, range.half);
    let factor = model.factor.substitute(middle, half);
    let thermal = model.thermal.substitute(middle, half);
    let factor_middle = factor.coefficients()[0];

    let codes = InputRange::new(model.window.0, model.window.1);
    let code_scale = codes.scale_factor();
    // d is zero in the middle of the window, which need not be a whole code.
    let zero = (codes.low() as i64 - model.base as i64) as f64 + TWO_31 / code_scale as f64;
    let (map, offset) = model.map.recentred(zero);
    let thermal = thermal.plus(&Polynomial::constant(-offset));

    // With the product the resistance of mid range is part of the unit: 1 + tau is then 1 - factor_middle t in that unit, exactly.
    let (unit, product) = if model.has_product {
        let product = -factor_middle * TWO_32 / (4 << PRODUCT_SHIFT) as f64;
        (factor_middle * (1.0 + model.offset + offset), try_const!(constant(Quantity::GaugeFactor, product)))
    } else {
        (factor_middle, 0)
    };

    let gain = map.gain / unit / code_scale as f64 * Strain::PER_UNIT * TWO_32;
    try_const!(gain_fits(gain, TWO_31 - 1.0));

    let mut kernel = Kernel {
        product: [product; PRODUCT],
        temperatures: range.span,
        codes,
        code_scale,
        strain_limit: match model.strain_limit {
            Some(limit) => nearest(limit * Strain::PER_UNIT),
            None => i32::MAX,
        },
        temperature_scale: range.scale,
        bits: model.bits as u16,
        flags: Flags::CLEAR,
        gain: nearest(gain),
        curvature: try_const!(constant(
            Quantity::BridgeCurvature,
            -map.curvature / code_scale as f64 * TWO_32 * TWO_32,
        )),
        factor: [0; FACTOR],
        thermal: [0; DEGREE],
        thermal_offset: 0,
    };

    // Polynomials: every product halves, so each power's constant is doubled once more.
    let mut doubled = TWO_32;
    let mut k = 0;
    while k < FACTOR {
        doubled *= 2.0;
        let change = factor.coefficients()[k + 1] / factor_middle;
        kernel.factor[FACTOR - 1 - k] =
            try_const!(constant(Quantity::GaugeFactorConstant, -change * doubled));
        k += 1;
    }
    (kernel.thermal, kernel.thermal_offset) =
        try_const!(thermal_constants(&thermal.times(-1.0), unit, DROPPED_BY_READING));

    try_const!(Analysis::check_fit(&kernel, None));
    Ok(kernel)
}

/// Thermal output in the kernel's scale: every product halves, so each power's constant is doubled once
/// more.
const fn thermal_constants<const DEGREE: usize>(
    thermal: &Polynomial,
    unit: f64,
    dropped: f64,
) -> Result<([i32; DEGREE], i32), Error> {
    let mut descending = [0; DEGREE];
    let mut doubled = Strain::PER_UNIT;
    let mut k = 0;
    while k < DEGREE {
        doubled *= 2.0;
        let coefficient = thermal.coefficients()[k + 1] / unit;
        descending[DEGREE - 1 - k] =
            try_const!(constant(Quantity::ThermalOutputConstant, coefficient * doubled));
        k += 1;
    }
    let offset = thermal.coefficients()[0] / unit * Strain::PER_UNIT;
    Ok((descending, try_const!(constant(Quantity::ThermalOutputConstant, offset + dropped))))
}

/// A temperature range as the kernels normalise it: position -1 to (almost) 1.
pub(super) struct Range {
    span: InputRange,
    scale: u16,
    /// Celsius at position 0, and per position.
    pub middle: f64,
    pub half: f64,
}

impl Range {
    pub const fn of((low, high): (i32, i32)) -> Result<Self, Error> {
        let step = 1.0 / Temperature::PER_DEGREE as f64;
        let width = (high as i64 - low as i64) as f64;
        let scale = (TWO_32 - 1.0) / width;
        if !(scale >= 1.0 && scale < 65_536.0) {
            // Either nothing lies between the ends, or less than a sixteenth of a degree does.
            return Err(Error::Invalid {
                field: Field::TemperatureWidth,
                value: width * step,
                low: 65_536.0 * step,
                high: 4095.0,
            });
        }
        let span = InputRange::new(low, high);
        let scale = span.scale_factor() as u16;
        let half = TWO_31 / scale as f64 * step;
        Ok(Self { span, scale, middle: low as f64 * step + half, half })
    }
}

/// The gauge factor in the middle of the temperatures as the kernel scales them.
pub(super) const fn factor_in_middle(model: &CodeModel) -> Result<f64, Error> {
    Ok(model.factor.at(try_const!(Range::of(model.temperatures)).middle))
}

const fn constant(quantity: Quantity, value: f64) -> Result<i32, Error> {
    try_const!(fits(quantity, value, TWO_31 - 1.0));
    Ok(nearest(value))
}
