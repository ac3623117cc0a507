//! Refused input: what an error has to say, and numbers that are none.

use std::fmt::Debug;

use gaugewright::Error;
use gaugewright::error::Field;

pub const NOT_NUMBERS: [f64; 3] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];

/// These, and what is no number.
pub fn each(bad: &[f64]) -> impl Iterator<Item = f64> {
    bad.iter().copied().chain(NOT_NUMBERS)
}

/// Refused with the field, in every form of text, and a value that is not in the range that is said to be allowed; the value.
#[track_caller]
pub fn refused_for<T: Debug>(result: Result<T, Error>, field: Field) -> f64 {
    let error = result.expect_err("accepted");
    let Error::Invalid { field: found, value, low, high } = error else { panic!("{error}") };
    assert_eq!(found, field, "{error}");
    assert!(!(low <= value && value <= high), "{value} is inside {low} to {high}");
    let text = error.to_string();
    assert!(text.starts_with(field.name()) && text.contains(&format!("allowed: {low} to {high}")), "{text}");
    assert!(error.build_message().as_str().starts_with(field.name()));
    value
}

/// The same, and the value is this one.
#[track_caller]
pub fn refused<T: Debug>(result: Result<T, Error>, field: Field, value: f64) {
    let given = refused_for(result, field);
    assert!(given == value || (given.is_nan() && value.is_nan()), "{given}, not {value}");
}
