//! The paths of fits and uncertainties.

use core::cell::RefCell;

use gaugewright::commissioning::fit::ThermalOutputFit;
use gaugewright::fixed::{self, Temperature};
use gaugewright::{Error, uncertainty};

use on_target::paths;

/// Of strain in `f32`.
const STEP: f32 = 1.0 / 17_179_869_184.0;

paths! {
    fit_f32(fit: &RefCell<ThermalOutputFit<f32>>, code, t) -> bool { on_target::commissioning::observe(fit, code, t) }
    uncertainty_at(kernel: &uncertainty::UncertaintyKernel<f32>, _code, t) -> Result<uncertainty::UncertaintyPoint<f32>, Error> {
        kernel.at(t.celsius())
    }
    uncertainty_f32(point: &uncertainty::UncertaintyPoint<f32>, code, _t) -> f32 { point.standard(code as f32 * STEP) }
    uncertainty_fixed(point: &uncertainty::FixedUncertaintyPoint, code, _t) -> fixed::Strain {
        point.standard(fixed::Strain::from_bits(code))
    }
}
