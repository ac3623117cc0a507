//! What any answer has to satisfy, whatever was asked.

use gaugewright::error::Quantity;
use gaugewright::kernel::{ErrorBound, Parts};
use gaugewright::*;

/// Of each path of a kernel, one call and split: the flags of a reading, its strain, and the parts of the path's bound.
pub fn paths<S>(
    [one, split]: [Reading<S>; 2],
    bound: &ErrorBound,
    strain: impl Fn(S) -> f64,
) -> [(Flags, f64, Parts); 2] {
    [(one.flags, strain(one.strain), bound.reading), (split.flags, strain(split.strain), bound.point)]
}

/// The value, or nothing if the refusal gives a true reason.
pub fn told<T>(result: Result<T, Error>) -> Option<T> {
    match result {
        Ok(value) => Some(value),
        Err(error) => {
            truthful(&error);
            None
        }
    }
}

/// The error can be printed, and its value is not one that it says to be allowed.
pub fn truthful(error: &Error) {
    assert!(!error.to_string().is_empty() && !error.build_message().as_str().is_empty());
    let wrong = match *error {
        Error::Invalid { value, low, high, .. } => value >= low && value <= high,
        Error::Overflow { quantity: Quantity::CodeWindow, value, limit } => {
            if limit > 0.0 {
                value <= limit
            } else {
                value >= limit
            }
        }
        Error::Overflow { value, limit, .. } => value <= limit,
        Error::Bound { limit, bound, .. } => bound.0 <= limit.0,
        Error::TemperatureBound { limit, bound } => bound.0 <= limit.0,
        Error::BlockLength { samples, other } => samples == other,
        _ => false,
    };
    assert!(!wrong, "no reason to refuse: {error:?}");
}

/// The flags of a reading: what its inputs deserve, and `strain` if that is out of range.
pub fn flags(
    (code, (first, last), bits): (i32, (i32, i32), u32),
    temperatures: &[(fixed::Temperature, (fixed::Temperature, fixed::Temperature))],
    strain_is_outside: bool,
) -> Flags {
    let rail = i32::MAX >> (32 - bits);
    let mut flags = if code >= rail || code < -rail {
        Flags::CODE_AT_RAIL
    } else if code < first || code > last || strain_is_outside {
        Flags::STRAIN_OUTSIDE
    } else {
        Flags::CLEAR
    };
    for (t, (low, high)) in temperatures {
        if t < low || t > high {
            flags |= Flags::TEMPERATURE_OUTSIDE;
        }
    }
    flags
}
