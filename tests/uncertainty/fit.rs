//! Thermal output from a fit: the curve's uncertainty and its degrees of freedom are those of the budget.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use gaugewright::commissioning::fit::{Degree, Direction, FittedThermalOutput, ThermalOutputFit};
use gaugewright::error::Field;
use gaugewright::uncertainty::{Input, StandardUncertainties};
use gaugewright::units::*;
use gaugewright::*;
use support::refusal::refused_for;

/// Eleven readings of a parabola, with a saw of half a microstrain.
fn curve() -> FittedThermalOutput {
    let mut fit = ThermalOutputFit::<f64>::between(Celsius(-50.0), Celsius(70.0)).unwrap();
    for k in 0..11_u32 {
        let t = -45.0 + 11.0 * f64::from(k);
        let saw = [0.5, -0.5][k as usize % 2];
        fit.observe(Direction::Heating, Celsius(t), Microstrain(0.9 * t - 0.02 * t * t + saw)).unwrap();
    }
    fit.solve(Degree::Exactly(2)).unwrap()
}

fn channel(curve: &FittedThermalOutput) -> Channel {
    let package = curve.thermal_output(GaugeFactor(2.0)).unwrap();
    let gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(package);
    Channel::new(gauge, Bridge::quarter_ideal(Ohms(350.0)), Converter::bipolar(24, Ratio(1.0 / 128.0)))
}

#[test]
fn at_a_temperature_it_is_that_of_the_curve() {
    let curve = curve();
    let plain = channel(&curve);
    let balanced = plain.balanced(0.0, Celsius(20.0));
    let since = curve.balanced_at(Celsius(20.0)).unwrap();
    let other = curve.balanced_at(Celsius(-30.0)).unwrap();
    // Referred to another temperature it is since the channel's balance all the same.
    for (channel, fit, expected) in
        [(plain, curve, curve), (balanced, curve, since), (balanced, since, since), (balanced, other, since)]
    {
        for celsius in [-45.0, -10.0, 20.5, 33.0, 65.0] {
            let at = Celsius(celsius);
            let inputs = StandardUncertainties::for_channel(channel).quantisation(0.0);
            let inputs = inputs.of_thermal_output_fit(&fit, at, at).unwrap();
            let budget = inputs.budget(Microstrain(0.0), at).unwrap();
            let found = budget.contribution(Input::ThermalOutput);
            let uncertainty = expected.standard_uncertainty(at).unwrap().0 * 2.0 / 2.1;
            assert_abs_diff_eq!(found.uncertainty.0, uncertainty, epsilon = 1e-12);
            // Eleven points, three terms.
            assert_eq!(found.degrees_of_freedom, 8.0);
            // There is nothing else but the circuit's bound, so the interval is the curve's confidence band.
            let band = expected.confidence_band(at, Percent(95.0)).unwrap().0 * 2.0 / 2.1;
            assert_relative_eq!(
                budget.expanded(Percent(95.0)).unwrap().uncertainty.0,
                band,
                max_relative = 1e-6
            );
        }
    }
}

#[test]
fn over_a_range_it_is_the_largest() {
    let curve = curve();
    let balanced = channel(&curve).balanced(0.0, Celsius(20.0));
    let since = curve.balanced_at(Celsius(20.0)).unwrap();
    for (low, high) in [(-45.0, 65.0), (-45.0, 20.0), (0.0, 50.0), (-20.0, 21.0)] {
        let inputs = StandardUncertainties::for_channel(balanced);
        let inputs = inputs.of_thermal_output_fit(&curve, Celsius(low), Celsius(high)).unwrap();
        let found = inputs.budget(Microstrain(0.0), Celsius(0.0)).unwrap();
        let found = found.contribution(Input::ThermalOutput).uncertainty.0;
        let at = |k: u32| low + (high - low) * f64::from(k) / 1e4;
        let largest = (0..=10_000).map(|k| since.standard_uncertainty(Celsius(at(k))).unwrap().0);
        let largest = largest.fold(0.0, f64::max) * 2.0 / 2.1;
        // A dense grid misses a peak by the square of its step.
        assert!(found >= largest * (1.0 - 1e-12) && found < largest * (1.0 + 1e-6), "{found} {largest}");
    }
}

#[test]
fn what_the_run_did_not_see_is_refused() {
    let curve = curve();
    let plain = StandardUncertainties::for_channel(channel(&curve));
    let of = |inputs: StandardUncertainties, low, high| {
        inputs.of_thermal_output_fit(&curve, Celsius(low), Celsius(high))
    };
    refused_for(of(plain, -45.1, 0.0), Field::WindowLow);
    refused_for(of(plain, 0.0, 65.1), Field::WindowHigh);
    refused_for(of(plain, f64::NAN, 0.0), Field::WindowLow);
    refused_for(of(plain, 1.0, 0.0), Field::WindowHigh);
    let balanced = channel(&curve).balanced(0.0, Celsius(-48.0));
    refused_for(of(StandardUncertainties::for_channel(balanced), 0.0, 1.0), Field::Temperature);
}
