//! Refused input: what an error has to say, and numbers that are none.

use std::fmt::Debug;

use gaugewright::Error;
use gaugewright::error::Field;

pub const NOT_NUMBERS: [f64; 3] = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY];

/// These, and what is no number.
pub fn each(bad: &[f64]) -> impl Iterator<Item = f64> {
    bad.iter().copied().chain(NOT_NUMBERS)
}

/// Whether a text ends a sentence about a range with these two ends, as far as nine digits go.
fn tells_range(text: &str, low: f64, high: f64) -> bool {
    let near = |text: &str, number: f64| {
        text.parse::<f64>().is_ok_and(|shown| shown == number || (shown / number - 1.0).abs() < 1e-8)
    };
    let Some((_, range)) = text.split_once("allowed: ") else { return false };
    let range = range.split("; ").next().unwrap_or(range);
    match range.split_once(" to ") {
        Some((from, to)) => near(from, low) && near(to, high),
        None if low == high => near(range, low),
        None => high == f64::INFINITY && range.strip_suffix(" or more").is_some_and(|from| near(from, low)),
    }
}

/// The field and the value of an error that says all there is to say: the range, unless the input is one that is missing
/// as a whole. Of a reversed range, the value is the upper end.
#[track_caller]
pub fn told(error: &Error) -> (Field, f64) {
    let text = error.to_string();
    let (field, value) = match *error {
        Error::Invalid { field, value, low, high } => {
            assert!(low <= high, "{text}");
            assert!(!(low <= value && value <= high), "{value} is inside {low} to {high}");
            let as_a_whole = match field {
                Field::ThermalOutput | Field::Bridge | Field::CompensatingGauges => true,
                Field::ThermalOutputDegree => value.is_nan(),
                _ => false,
            };
            assert!(tells_range(&text, low, high) != as_a_whole, "{text}");
            assert!(!value.is_nan() || text.contains(" is missing"), "{text}");
            (field, value)
        }
        Error::Reversed { field, low, high } => {
            assert!(high < low && text.ends_with(": the range is reversed"), "{text}");
            (field, high)
        }
        _ => panic!("{text}"),
    };
    assert!(text.starts_with(field.name()), "{text}");
    (field, value)
}

/// Refused with the field, and a value that is not in the range that is said to be allowed; the value.
#[track_caller]
pub fn refused_for<T: Debug>(result: Result<T, Error>, field: Field) -> f64 {
    let error = result.expect_err("accepted");
    let (found, value) = told(&error);
    assert_eq!(found, field, "{error}");
    value
}

/// The same, and the value is this one.
#[track_caller]
pub fn refused<T: Debug>(result: Result<T, Error>, field: Field, value: f64) {
    let given = refused_for(result, field);
    assert!(given == value || (given.is_nan() && value.is_nan()), "{given}, not {value}");
}
