//! Committed error bounds of the test set, to the last bit: a change of the analysis that makes a bound looser, or
//! tighter, does not go by unsaid. That bounds are true and not slack is tested elsewhere (`accuracy`, `registers`,
//! `error_limits`, the proofs).
//!
//! `GAUGEWRIGHT_WRITE_VECTORS=1 cargo test --test bounds` writes them anew.

use std::fmt::Write;

use gaugewright::kernel::ErrorBound;
use gaugewright::units::*;
use gaugewright::*;
use support::*;

/// An error of the thermometer to ask for, in degrees Celsius.
const OFF: Celsius = Celsius(0.1);

fn rows(text: &mut String, name: &str, kernel: &str, bound: ErrorBound, with_temperature: ErrorBound) {
    let paths = [
        ("reading", bound.reading, with_temperature.reading),
        ("point", bound.point, with_temperature.point),
    ];
    let printed = bound.to_string();
    assert_eq!(bound.max().0, bound.reading.total.0.max(bound.point.total.0));
    for (path, parts, with_temperature) in paths {
        assert_eq!(parts.temperature, Nanostrain(0.0));
        assert_eq!(with_temperature.total.0, parts.total.0 + with_temperature.temperature.0);
        for figure in [parts.total, parts.constants, parts.operations, parts.output] {
            assert!(printed.contains(&format!(" {:.3} ", figure.0)), "{printed}");
        }
        writeln!(
            text,
            "{name},{kernel},{path},{:e},{:e},{:e},{:e},{:e},{:e}",
            parts.total.0,
            parts.constants.0,
            parts.operations.0,
            parts.reciprocal.0,
            parts.output.0,
            with_temperature.temperature.0
        )
        .unwrap();
    }
}

fn lines() -> String {
    let mut text = String::from(
        "# Source: computed by this library; error bounds in nanostrain, to the last bit, with what 0.1 C off makes of strain.\n\
         channel,kernel,path,whole,constants,operations,reciprocal,output,temperature\n",
    );
    for (name, described) in &set::described() {
        let channel = described.channel();
        let integer: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
        rows(&mut text, name, "fixed", integer.error_bound(), integer.error_bound_with_temperature(OFF));
        let single: float::Kernel<f32, 5, 3> = channel.try_float32().unwrap();
        rows(&mut text, name, "f32", single.error_bound(), single.error_bound_with_temperature(OFF));
        let double: float::Kernel<f64, 5, 3> = channel.try_float64().unwrap();
        rows(&mut text, name, "f64", double.error_bound(), double.error_bound_with_temperature(OFF));
    }
    text
}

#[test]
fn bounds_are_the_committed_ones() {
    as_committed("bounds.csv", &lines());
}
