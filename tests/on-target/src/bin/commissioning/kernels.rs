//! The paths of fits and uncertainties, of kernels with the product of thermal and mechanical change, of records, and of
//! blocks.

use core::cell::RefCell;

use gaugewright::commissioning::fit::ThermalOutputFit;
use gaugewright::device::record::{Record, RecordError};
use gaugewright::fixed::{self, AdjustableCompensatedKernel, AdjustableKernel, Span, Temperature};
use gaugewright::installation::{ShuntCheck, WiringCheck, WiringReport};
use gaugewright::{Error, float, uncertainty};

use on_target::cost::{FixedBlock, InPlace, SingleBlock};
use on_target::paths;
use on_target::paths::{mean, zero};

/// Of strain in `f32`.
const STEP: f32 = 1.0 / 17_179_869_184.0;

/// Every bit of it in use.
const SPAN: Span = Span::from_bits(2_222_222_222);

/// Two temperatures with the product.
pub type Pair = fixed::CompensatedKernel<4, 1, 1>;

paths! {
    fit_f32(fit: &RefCell<ThermalOutputFit<f32>>, code, t) -> bool { on_target::commissioning::observe(fit, code, t) }
    uncertainty_at(kernel: &uncertainty::UncertaintyKernel<f32>, _code, t) -> Result<uncertainty::UncertaintyPoint<f32>, Error> {
        kernel.at(t.celsius())
    }
    uncertainty_f32(point: &uncertainty::UncertaintyPoint<f32>, code, _t) -> f32 { point.standard(code as f32 * STEP) }
    uncertainty_fixed(point: &uncertainty::FixedUncertaintyPoint, code, _t) -> fixed::Strain {
        point.standard(fixed::Strain::from_bits(code))
    }
    fixed_product(kernel: &fixed::Kernel<4, 1, 1>, code, t) -> fixed::Reading { kernel.reading(code, t) }
    fixed_product_at(kernel: &fixed::Kernel<4, 1, 1>, _code, t) -> fixed::OperatingPoint { kernel.at(t) }
    fixed_product_compensated(kernel: &fixed::CompensatedKernel<4, 1, 1>, code, t) -> fixed::Reading {
        kernel.reading(code, t, t)
    }
    fixed_product_compensated_at(kernel: &fixed::CompensatedKernel<4, 1, 1>, _code, t) -> fixed::OperatingPoint {
        kernel.at(t, t)
    }
    f32_product(kernel: &float::Kernel<f32, 4, 1, 1>, code, t) -> float::Reading<f32> { kernel.reading(code, t) }
    f32_product_at(kernel: &float::Kernel<f32, 4, 1, 1>, _code, t) -> float::OperatingPoint<f32> { kernel.at(t) }
    fixed_adjusted(kernel: &AdjustableKernel, code, t) -> Result<fixed::Kernel, Error> { kernel.with(zero(code, t), SPAN) }
    fixed_adjusted_compensated(kernel: &AdjustableCompensatedKernel<4, 1, 1>, code, t) -> Result<fixed::CompensatedKernel<4, 1, 1>, Error> {
        kernel.with(zero(code, t), t, SPAN)
    }
    record_read(bytes: &[u8; Record::<fixed::Kernel>::BYTES], _code, _t) -> Result<Record<fixed::Kernel>, RecordError> { Record::read(bytes) }
    record_read_compensated(bytes: &[u8; Record::<Pair>::BYTES], _code, _t) -> Result<Record<Pair>, RecordError> {
        Record::read(bytes)
    }
    record_self_test(record: &Record<fixed::Kernel>, _code, _t) -> bool { record.self_test().is_ok() }
    wiring_check(check: &WiringCheck, code, _t) -> Result<WiringReport, Error> { check.report(mean(code)) }
    shunt_check(check: &ShuntCheck, code, t) -> Result<Span, Error> { check.span(mean(code), mean(t.to_bits())) }
    fixed_point(point: &fixed::OperatingPoint, code, _t) -> fixed::Reading { point.reading(code) }
    fixed_point_linear(point: &fixed::LinearPoint, code, _t) -> fixed::Reading { point.reading(code) }
    fixed_block(block: &FixedBlock<fixed::Kernel>, _code, _t) -> bool {
        block.fill(|kernel, codes, t, readings| kernel.readings(codes, t, readings))
    }
    fixed_point_block(block: &FixedBlock<fixed::OperatingPoint>, _code, _t) -> bool {
        block.fill(|point, codes, _, readings| point.readings(codes, readings))
    }
    fixed_point_linear_block(block: &FixedBlock<fixed::LinearPoint>, _code, _t) -> bool {
        block.fill(|point, codes, _, readings| point.readings(codes, readings))
    }
    fixed_point_in_place(block: &InPlace<fixed::OperatingPoint>, _code, _t) -> bool {
        block.correct(|point, block, marks| point.correct_marked(block, marks))
    }
    fixed_point_linear_in_place(block: &InPlace<fixed::LinearPoint>, _code, _t) -> bool {
        block.correct(|point, block, marks| point.correct_marked(block, marks))
    }
    fixed_compensated_block(block: &FixedBlock<fixed::CompensatedKernel>, _code, _t) -> bool {
        block.fill(|kernel, codes, t, readings| kernel.readings(codes, t, t, readings))
    }
    f32_block(block: &SingleBlock<float::Kernel<f32>>, _code, _t) -> bool {
        block.fill(|kernel, codes, t, readings| kernel.readings(codes, t, readings))
    }
    f32_point_block(block: &SingleBlock<float::OperatingPoint<f32>>, _code, _t) -> bool {
        block.fill(|point, codes, _, readings| point.readings(codes, readings))
    }
    f32_compensated_block(block: &SingleBlock<float::CompensatedKernel<f32>>, _code, _t) -> bool {
        block.fill(|kernel, codes, t, readings| kernel.readings(codes, t, t, readings))
    }
}
