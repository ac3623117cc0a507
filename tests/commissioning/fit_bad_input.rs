//! What a fit refuses, and what it was given before is as it was; `tests/channel/fields.rs` has numbers out of their range.

use gaugewright::commissioning::fit::*;
use gaugewright::error::{Field, Quantity};
use gaugewright::units::*;
use gaugewright::*;
use support::refusal::told;

#[track_caller]
fn refused<T>(result: Result<T, Error>, field: Field, value: f64) -> Error {
    let Err(error) = result else { panic!("accepted") };
    let (found, given) = told(&error);
    assert_eq!(found, field, "{error}");
    assert!(given == value || (given.is_nan() && value.is_nan()), "{error}, not {value}");
    error
}

fn new() -> ThermalOutputFit<f64> {
    ThermalOutputFit::between(Celsius(-50.0), Celsius(100.0)).unwrap()
}

fn read(fit: &mut ThermalOutputFit<f64>, points: &[(f64, f64)]) {
    for (t, y) in points {
        fit.observe(Direction::Heating, Celsius(*t), Microstrain(*y)).unwrap();
    }
}

/// A parabola with a little scatter, at nine temperatures.
fn good() -> ThermalOutputFit<f64> {
    let mut fit = new();
    for k in 0..9 {
        let t = -40.0 + 15.0 * f64::from(k);
        read(&mut fit, &[(t, 2.0 * t - 0.01 * t * t + [0.1, -0.2, 0.15][k as usize % 3])]);
    }
    fit
}

#[test]
fn points() {
    let mut fit = good();
    let before = fit;
    for bad in [-50.1, 100.1, f64::NAN, f64::INFINITY] {
        refused(fit.observe(Direction::Heating, Celsius(bad), Microstrain(0.0)), Field::Temperature, bad);
    }
    for bad in [1e7, -1e7, f64::NAN, f64::NEG_INFINITY] {
        refused(fit.observe(Direction::Cooling, Celsius(0.0), Microstrain(bad)), Field::ChamberReading, bad);
    }
    for bad in [0.0, -1.0, 1e7, f64::NAN] {
        let point = fit.observe_with(Direction::Cooling, Celsius(0.0), Microstrain(0.0), Microstrain(bad));
        refused(point, Field::FitUncertainty, bad);
    }
    // All with an uncertainty, or none.
    let point = fit.observe_with(Direction::Heating, Celsius(0.0), Microstrain(0.0), Microstrain(1.0));
    refused(point, Field::FitUncertainties, 1.0);
    assert_eq!(fit, before);

    let mut weighted = new();
    weighted.observe_with(Direction::Heating, Celsius(0.0), Microstrain(0.0), Microstrain(1.0)).unwrap();
    refused(
        weighted.observe(Direction::Heating, Celsius(1.0), Microstrain(0.0)),
        Field::FitUncertainties,
        1.0,
    );
    refused(fit.join(&weighted), Field::FitUncertainties, 1.0);
    refused(weighted.join(&fit), Field::FitUncertainties, 1.0);
    let other = ThermalOutputFit::between(Celsius(-50.0), Celsius(99.0)).unwrap();
    refused(fit.join(&other), Field::TemperatureHigh, 99.0);
    assert_eq!(fit, before);
}

#[test]
fn too_few_points() {
    refused(new().solve(Degree::Exactly(1)), Field::FitPoints, 0.0);
    let mut fit = new();
    read(&mut fit, &[(0.0, 1.0)]);
    refused(fit.solve(Degree::by_f_test(Percent(1.0))), Field::FitPoints, 1.0);
    // Two points make a line, but say nothing of their scatter.
    read(&mut fit, &[(10.0, 2.0)]);
    let error = refused(fit.solve(Degree::Exactly(1)), Field::FitPoints, 2.0);
    assert!(error.to_string().contains("allowed: 3 or more"), "{error}");
    refused(fit.solve(Degree::by_f_test(Percent(1.0))), Field::FitPoints, 2.0);
    read(&mut fit, &[(20.0, 3.5)]);
    assert_eq!(fit.solve(Degree::Exactly(1)).unwrap().degrees_of_freedom(), 1);
    refused(fit.solve(Degree::Exactly(2)), Field::FitPoints, 3.0);
}

#[test]
fn temperatures_all_equal() {
    let mut fit = new();
    read(&mut fit, &[(20.0, 1.0); 12]);
    refused(fit.solve(Degree::Exactly(1)), Field::FitTemperatureSpread, 0.0);
    refused(fit.solve(Degree::by_f_test(Percent(1.0))), Field::FitTemperatureSpread, 0.0);
    // Not even a constant: it would hold at one temperature.
    refused(fit.solve(Degree::Exactly(0)), Field::FitTemperatureSpread, 0.0);
    // A thermometer's noise is no run.
    read(&mut fit, &[(20.0625, 1.0); 12]);
    refused(fit.solve(Degree::Exactly(1)), Field::FitTemperatureSpread, 0.0625);
}

/// Three temperatures hold a parabola and no cubic; what is chosen is no more either.
#[test]
fn singular_fits() {
    let mut fit = new();
    for _ in 0..4 {
        read(&mut fit, &[(0.0, 1.0), (40.0, 9.1), (80.0, 33.0), (0.0, 1.1), (40.0, 9.0), (80.0, 33.1)]);
    }
    let Err(error) = fit.solve(Degree::Exactly(3)) else { panic!() };
    let Error::Invalid { field: Field::FitIndependence, value, low, .. } = error else { panic!("{error}") };
    assert!(value < low && low < 1e-12, "{error}");
    assert_eq!(fit.solve(Degree::Exactly(2)).unwrap().degree(), 2);
    assert_eq!(fit.solve(Degree::by_f_test(Percent(1.0))).unwrap().degree(), 2);

    // In f32 less is left of what is nearly singular: five temperatures in a tenth of the range declared.
    let mut single = ThermalOutputFit::<f32>::between(Celsius(-50.0), Celsius(100.0)).unwrap();
    let mut double = new();
    for k in 0..30 {
        let (t, y) = (Celsius(20.0 + f64::from(k % 5)), Microstrain(f64::from(k % 7)));
        single.observe(Direction::Heating, t, y).unwrap();
        double.observe(Direction::Heating, t, y).unwrap();
    }
    assert!(double.solve(Degree::Exactly(4)).is_ok());
    refused(single.solve(Degree::Exactly(4)), Field::FitRange, 37.5);
}

#[test]
fn hysteresis() {
    // Nothing fell.
    refused(good().hysteresis(2), Field::FitPoints, 0.0);
    refused(good().hysteresis(6), Field::FitDegree, 6.0);
    // Up where it was cold, down where it was warm: nothing in common.
    let mut fit = new();
    for k in 0..5 {
        fit.observe(Direction::Heating, Celsius(-40.0 + f64::from(k)), Microstrain(1.0)).unwrap();
        fit.observe(Direction::Cooling, Celsius(40.0 + f64::from(k)), Microstrain(1.0)).unwrap();
    }
    refused(fit.hysteresis(1), Field::FitTemperatureSpread, -76.0);
    refused(fit.hysteresis_at(1, Celsius(-38.0)), Field::Temperature, -38.0);
    refused(fit.hysteresis_at(1, Celsius(41.0)), Field::Temperature, 41.0);
    refused(fit.hysteresis_at(6, Celsius(41.0)), Field::FitDegree, 6.0);
    refused(good().hysteresis_at(2, Celsius(0.0)), Field::FitPoints, 0.0);
}

/// Degree five over fifteen degrees far from zero is nothing but the cancellation of huge powers, which a channel refuses: so
/// does the fit, and says so before. The curve itself is there, and a lower degree is a package.
#[test]
fn powers_that_cancel() {
    let mut fit = ThermalOutputFit::<f64>::between(Celsius(285.0), Celsius(300.0)).unwrap();
    for k in 0..40 {
        let t = 285.0 + 15.0 * f64::from(k) / 39.0;
        let reading = 3.0 * (t - 285.0) + f64::from(k * k % 7);
        fit.observe(Direction::Heating, Celsius(t.min(300.0)), Microstrain(reading)).unwrap();
    }
    let high = fit.solve(Degree::Exactly(5)).unwrap();
    assert!(high.at(Celsius(290.0)).is_ok());
    // The constant of such a curve is more than a package takes; a degree less, and it is the cancellation.
    let result = high.thermal_output(GaugeFactor(2.0));
    assert!(
        matches!(result, Err(Error::Invalid { field: Field::ThermalOutputCoefficient, .. })),
        "{result:?}"
    );
    let less = fit.solve(Degree::Exactly(3)).unwrap().thermal_output(GaugeFactor(2.0));
    assert!(
        matches!(less, Err(Error::Overflow { quantity: Quantity::Cancellation, value, limit: 1.0 }) if value > 1.0),
        "{less:?}"
    );
    // What the fit lets pass, a channel takes.
    for degree in 0..=5 {
        let curve = fit.solve(Degree::Exactly(degree)).unwrap();
        let Ok(package) = curve.thermal_output(GaugeFactor(2.0)) else {
            assert!(degree > 1);
            continue;
        };
        let channel = Channel::new(
            Gauge::new(GaugeFactor(2.0)).thermal_output(package),
            Bridge::quarter_ideal(Ohms(350.0)),
            Converter::bipolar(24, Ratio(1.0 / 128.0)),
        )
        .strain_within(Microstrain(3_000.0));
        assert!(channel.try_fixed::<5, 3, 0>().is_ok(), "{degree}");
    }
}

/// The same of a gauge factor: its cubic from fifteen degrees is huge powers again.
#[test]
fn powers_of_a_gauge_factor_that_cancel() {
    let mut fit = GaugeFactorFit::<f64>::between(Celsius(285.0), Celsius(300.0)).unwrap();
    for k in 0..16 {
        let ratio = 1.0 + 5e-4 * f64::from(k * k % 7);
        fit.observe_ratio(Direction::Heating, Celsius(285.0 + f64::from(k)), ratio).unwrap();
    }
    let gauge = Gauge::new(GaugeFactor(2.0)).reference_temperature(Celsius(290.0));
    let given = |degree| fit.solve(Degree::Exactly(degree)).unwrap().given_to(gauge);
    assert!(matches!(given(3), Err(Error::Overflow { quantity: Quantity::Cancellation, limit: 1.0, .. })));
    // What the fit lets pass, a channel takes.
    let curve = ThermalOutput::celsius([0.0]).between(Celsius(285.0), Celsius(300.0));
    let channel = Channel::new(
        given(1).unwrap().thermal_output(curve),
        Bridge::quarter_ideal(Ohms(350.0)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .strain_within(Microstrain(3_000.0));
    assert!(channel.try_fixed::<5, 3, 0>().is_ok());
}

#[test]
fn gauge_factors() {
    let mut fit = GaugeFactorFit::<f64>::between(Celsius(0.0), Celsius(100.0)).unwrap();
    let before = fit;
    let t = Celsius(20.0);
    let strain = Microstrain;
    for bad in [0.0, 0.5, 70_000.0, f64::NAN] {
        let field = Field::AppliedStrain;
        refused(fit.observe(Direction::Heating, t, strain(bad), strain(1.0)), field, bad);
        refused(fit.observe_with(Direction::Heating, t, strain(bad), strain(1.0), strain(1.0)), field, bad);
    }
    for bad in [0.0, -1.0, 2000.0, f64::NAN] {
        let field = Field::GaugeFactorRatio;
        refused(fit.observe(Direction::Heating, t, strain(100.0), strain(100.0 * bad)), field, bad);
        refused(fit.observe_ratio(Direction::Heating, t, bad), field, bad);
    }
    for bad in [0.0, f64::NAN] {
        let point = fit.observe_with(Direction::Heating, t, strain(1.0), strain(1.0), strain(bad));
        refused(point, Field::FitUncertainty, bad);
    }
    refused(fit.observe_ratio(Direction::Heating, Celsius(101.0), 1.0), Field::Temperature, 101.0);
    assert_eq!(fit, before);
    for k in 0..10 {
        fit.observe_ratio(
            Direction::Heating,
            Celsius(30.0 + f64::from(k) * 5.0),
            1.0 + 1e-4 * f64::from(k * k % 3),
        )
        .unwrap();
    }
    refused(fit.solve(Degree::Exactly(4)), Field::FitDegree, 4.0);
    let fitted = fit.solve(Degree::Exactly(3)).unwrap();
    // The customary reference is not among the points.
    refused(fitted.change_from(Celsius(24.0)), Field::Temperature, 24.0);
    refused(fitted.change(Celsius(24.0), Celsius(40.0)), Field::Temperature, 24.0);
    refused(fitted.change(Celsius(40.0), Celsius(80.0)), Field::Temperature, 80.0);
    refused(fitted.confidence_band(Celsius(40.0), Celsius(80.0), Percent(95.0)), Field::Temperature, 80.0);
    refused(
        fitted.confidence_band(Celsius(40.0), Celsius(50.0), Percent(0.0)),
        Field::CoverageProbability,
        0.0,
    );
    refused(fitted.gauge_factor_at(Celsius(20.0), GaugeFactor(2.0)), Field::Temperature, 20.0);
    let gauge = Gauge::new(GaugeFactor(2.0));
    refused(fitted.given_to(gauge), Field::Temperature, 24.0);
    assert!(fitted.given_to(gauge.reference_temperature(Celsius(40.0))).is_ok());
}
