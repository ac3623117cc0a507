//! Committed error bounds of the test set, to the last bit: a change of the analysis that makes a bound looser, or
//! tighter, does not go by unsaid. That bounds are true and not slack is tested elsewhere (`accuracy`, `registers`,
//! `error_limits`, the proofs).
//!
//! `GAUGEWRIGHT_WRITE_VECTORS=1 cargo test --test kernel bounds` writes them anew.

use std::fmt::Write;

use gaugewright::kernel::ErrorBound;
use gaugewright::units::*;
use gaugewright::*;
use support::*;

use on_target::paths::ROSETTE;
use on_target::thermometers::{
    K_FIXED, K_SINGLE, PLATINUM_FIXED, PLATINUM_SINGLE, THERMISTOR_FIXED, THERMISTOR_SINGLE,
};

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

/// The rows of a kernel, one that takes one temperature or two.
macro_rules! rows_of {
    ($text:ident, $name:ident, $words:expr, $kernel:expr) => {
        let kernel = $kernel;
        rows($text, $name, &$words, kernel.error_bound(), kernel.error_bound_with_temperature(OFF));
    };
}

fn one_temperature<const P: usize>(text: &mut String, name: &str, channel: &Channel, kind: &str) {
    rows_of!(text, name, format!("fixed{kind}"), channel.try_fixed::<5, 3, P>().unwrap());
    rows_of!(text, name, format!("f32{kind}"), channel.try_float32::<5, 3, P>().unwrap());
    rows_of!(text, name, format!("f64{kind}"), channel.try_float64::<5, 3, P>().unwrap());
}

fn two_temperatures<const P: usize>(text: &mut String, name: &str, channel: &CompensatedChannel, kind: &str) {
    rows_of!(text, name, format!("fixed {kind}"), channel.try_fixed::<5, 3, P>().unwrap());
    rows_of!(text, name, format!("f32 {kind}"), channel.try_float32::<5, 3, P>().unwrap());
}

fn lines() -> String {
    let mut text = String::from(
        "# Source: computed by this library; error bounds in nanostrain, to the last bit, with what 0.1 C off makes of strain.\n\
         channel,kernel,path,whole,constants,operations,reciprocal,output,temperature\n",
    );
    for (name, described) in &set::described() {
        one_temperature::<0>(&mut text, name, &described.channel(), "");
    }
    for (name, channel) in &support::compensated_set() {
        two_temperatures::<0>(&mut text, name, channel, "compensated");
    }
    text += "# Kernels that multiply thermal and mechanical change.\n";
    for (name, described) in &set::with_product() {
        one_temperature::<1>(&mut text, name, &described.channel(), " product");
    }
    for (name, channel) in &set::compensated_with_product() {
        two_temperatures::<1>(&mut text, name, channel, "compensated product");
    }
    text += "# Thermometers, in degrees Celsius.\n";
    for (name, kernel, bound) in [
        ("platinum", "fixed", PLATINUM_FIXED.error_bound()),
        ("platinum", "f32", PLATINUM_SINGLE.error_bound()),
        ("thermistor", "fixed", THERMISTOR_FIXED.error_bound()),
        ("thermistor", "f32", THERMISTOR_SINGLE.error_bound()),
        ("thermocouple", "fixed", K_FIXED.error_bound()),
        ("thermocouple", "f32", K_SINGLE.error_bound()),
    ] {
        writeln!(text, "{name},{kernel},temperature,{:e},,,,,", bound.0).unwrap();
    }
    text += "# A rosette, in nanostrain, of strains within 10 000 microstrain.\n";
    let error = ROSETTE.fixed_error(Microstrain(10_000.0)).unwrap();
    for (path, bound) in
        [("component", error.component), ("half shear", error.half_shear), ("principal", error.principal)]
    {
        writeln!(text, "rosette,fixed,{path},{:e},,,,,", bound.0).unwrap();
    }
    writeln!(text, "rosette,f32,component,{:e},,,,,", single_rosette()).unwrap();
    text += "# Uncertainty of a sample in integers, in nanostrain above: twice the five steps of its root.\n";
    writeln!(
        text,
        "uncertainty,fixed,standard,{:e},,,,,",
        2.0 * tolerance::FIXED_UNCERTAINTY_STEPS / fixed::Strain::PER_UNIT * 1e9
    )
    .unwrap();
    text
}

/// The bound that the documentation of `RosetteKernel` states: 4.01 half units of the last place, times the magnitudes of a
/// row's products. `tests/rosette` holds the kernel to it.
fn single_rosette() -> f64 {
    let columns = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(|grids| {
        let state = ROSETTE.float64().strain(grids);
        [state.mean(), 0.5 * (state.x() - state.y()), 0.5 * state.shear()].map(f64::abs)
    });
    let rows = [0, 1, 2].map(|row| columns.iter().map(|column| column[row]).sum::<f64>());
    4.01 * 0.5 * f64::from(f32::EPSILON) * rows.into_iter().fold(0.0, f64::max) * 10_000e-6 * 1e9
}

#[test]
fn bounds_are_the_committed_ones() {
    as_committed("bounds.csv", &lines());
}
