//! What the tests of `significance` share.

use gaugewright::commissioning::significance::{CorrectionStep, CorrectionSteps, Omission};

/// One set of one.
pub fn only(effect: CorrectionStep) -> CorrectionSteps {
    CorrectionSteps::NONE.with(effect)
}

/// What is found and the bound are as near to each other as stated.
#[track_caller]
pub fn bracketed(omission: &Omission, circuit: f64) {
    let error = omission.error.0.abs();
    let most = error * 1.01 + 1e-3 + circuit;
    assert!(error <= omission.bound.0 && omission.bound.0 <= most, "{omission:?}");
}

#[track_caller]
pub fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} for {expected}");
}
