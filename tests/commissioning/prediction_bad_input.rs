//! Every input of a prediction or of a measurement of the foil that is out of range, missing or infinite is refused, with
//! the field, the value and the range that would be allowed.

use gaugewright::commissioning::expansion::Expansion;
use gaugewright::commissioning::prediction::*;
use gaugewright::error::Field;
use gaugewright::units::*;
use gaugewright::*;
use support::gauge;
use support::refusal::{each, refused};

const LOW: Celsius = Celsius(-200.0);
const HIGH: Celsius = Celsius(300.0);
const ID: &str = "gauge_on_steel";

const GRID: Expansion =
    Expansion::coefficient_polynomial([14.7e-6, 1.31e-8, -1.9e-11], Celsius(24.0)).between(LOW, HIGH);
const SPECIMEN: Expansion =
    Expansion::coefficient_polynomial([11.35e-6, 1.17e-8, -1.43e-11], Celsius(24.0)).between(LOW, HIGH);
const FOIL: FoilResistance = FoilResistance::new([8.13e-6, -8.9e-8, 4.61e-10, -3.37e-13]).between(LOW, HIGH);

#[test]
fn refused_input() {
    let (id, foil, grid, specimen) = (ID, FOIL, GRID, SPECIMEN);
    let with = |foil| Prediction::new(gauge(id, 4), foil, grid, specimen);
    let good = with(foil);
    for bad in each(&[-200.5, 301.0]) {
        refused(good.thermal_output(Celsius(bad)), Field::Temperature, bad);
        refused(good.causes(Celsius(bad)), Field::Temperature, bad);
        refused(good.slope(Celsius(bad)), Field::Temperature, bad);
        refused(good.uncertainty(Celsius(bad)), Field::Temperature, bad);
        refused(foil.change(Celsius(bad), Celsius(24.0)), Field::Temperature, bad);
        refused(foil.coefficient_at(Celsius(bad), Celsius(24.0)), Field::Temperature, bad);
        refused(good.package_curve(Celsius(bad), HIGH), Field::WindowLow, bad);
        refused(good.package_curve(LOW, Celsius(bad)), Field::WindowHigh, bad);
    }
    refused(good.package_curve(Celsius(20.0), Celsius(20.5)), Field::WindowHigh, 20.5);
    for bad in each(&[-2.0, 1.5]) {
        refused(with(FoilResistance::new([bad]).between(LOW, HIGH)).check(), Field::FoilCoefficient, bad);
    }
    for bad in each(&[-1e-9, 1.5]) {
        refused(with(foil.standard_uncertainty([0.0, bad])).check(), Field::FoilUncertainty, bad);
    }
    for bad in each(&[-300.0, 2048.0]) {
        refused(with(foil.between(Celsius(bad), HIGH)).check(), Field::FoilLow, bad);
    }
    for bad in each(&[-201.0, 2048.0]) {
        refused(with(foil.between(LOW, Celsius(bad))).check(), Field::FoilHigh, bad);
    }
    refused(with(foil.between(LOW, Celsius(0.0))).check(), Field::ReferenceTemperature, 24.0);
    for bad in each(&[0.0, 501.0]) {
        refused(good.stated_for(GaugeFactor(bad)).check(), Field::StatedGaugeFactor, bad);
        refused(
            Prediction::new(Gauge::new(GaugeFactor(bad)), foil, grid, specimen).check(),
            Field::GaugeFactor,
            bad,
        );
    }
    for bad in each(&[-0.1, 101.0]) {
        refused(good.temperature_uncertainty(Celsius(bad)).check(), Field::TemperatureUncertainty, bad);
    }
    for bad in each(&[-25.0, 100.0]) {
        let uncertain = good.gauge_factor_uncertainty(Percent(bad));
        refused(uncertain.check(), Field::GaugeFactorUncertainty, bad);
    }
    let cold = grid.between(LOW, Celsius(0.0));
    refused(Prediction::new(gauge(id, 4), foil, cold, specimen).check(), Field::ReferenceTemperature, 24.0);
    refused(Prediction::new(gauge(id, 4), foil, grid, cold).check(), Field::ReferenceTemperature, 24.0);
    for bad in each(&[2e-3]) {
        let law = Expansion::coefficient(ExpansionPerCelsius(bad));
        refused(
            Prediction::new(gauge(id, 4), foil, law, specimen).check(),
            Field::ExpansionCoefficient,
            bad * 1e6,
        );
        refused(
            Prediction::new(gauge(id, 4), foil, grid, law).check(),
            Field::ExpansionCoefficient,
            bad * 1e6,
        );
    }
}

#[test]
fn refused_measurements() {
    let good = FoilMeasurement::new(gauge(ID, 4), GRID, SPECIMEN);
    for bad in each(&[-200.5, 301.0]) {
        refused(good.at(Celsius(bad), Microstrain(0.0)), Field::Temperature, bad);
    }
    for bad in each(&[-2e5, 1.1e5]) {
        refused(good.at(Celsius(50.0), Microstrain(bad)), Field::MeasuredThermalOutput, bad);
        refused(
            good.thermal_output_uncertainty(Microstrain(-bad.abs())).check(),
            Field::ThermalOutputUncertainty,
            -bad.abs(),
        );
    }
    for bad in each(&[0.0, 501.0]) {
        refused(good.stated_for(GaugeFactor(bad)).check(), Field::StatedGaugeFactor, bad);
    }
    for bad in each(&[-25.0, 100.0]) {
        let uncertain = good.gauge_factor_uncertainty(Percent(bad));
        refused(uncertain.check(), Field::GaugeFactorUncertainty, bad);
    }
    let curve = ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-100.0), Celsius(100.0));
    for bad in each(&[-100.5, 100.5]) {
        refused(good.of_curve(&curve, Celsius(bad), Celsius(100.0)), Field::WindowLow, bad);
        refused(good.of_curve(&curve, Celsius(-100.0), Celsius(bad)), Field::WindowHigh, bad);
    }
    // A curve that does not reach the reference temperature says nothing of the resistance there.
    let cold = curve.between(Celsius(-100.0), Celsius(0.0));
    refused(good.of_curve(&cold, Celsius(-100.0), Celsius(0.0)), Field::ReferenceTemperature, 24.0);
    let unknown = ThermalOutput::celsius([-24.0, 1.0]);
    refused(good.of_curve(&unknown, Celsius(-50.0), Celsius(50.0)), Field::FittedLow, f64::NAN);
}
