//! Every input of a rotated curve or a selection that is out of range, missing or infinite is refused, with the field, the
//! value and the range that would be allowed.

use gaugewright::commissioning::expansion::Expansion;
use gaugewright::commissioning::matching::*;
use gaugewright::error::Field;
use gaugewright::units::*;
use gaugewright::*;
use support::gauge;
use support::refusal::{each, refused};

fn ppm(ppm: f64) -> Expansion<'static> {
    Expansion::coefficient(ExpansionPerCelsius::ppm(ppm))
}

#[test]
fn refused_input() {
    let steel = gauge("gauge_on_steel", 4);
    let curve = RotatedCurve::new(steel, ppm(12.0));
    let (low, high) = (Celsius(0.0), Celsius(50.0));
    for bad in each(&[-201.0, 300.5]) {
        refused(curve.thermal_output(Celsius(bad)), Field::Temperature, bad);
        refused(curve.slope(Celsius(bad)), Field::Temperature, bad);
        refused(curve.balanced_at(Celsius(bad)).check(), Field::BalanceTemperature, bad);
    }
    refused(curve.extremes(Celsius(51.0), high), Field::WindowHigh, high.0);
    for bad in each(&[-201.0]) {
        refused(curve.extremes(Celsius(bad), high), Field::WindowLow, bad);
        refused(curve.steepest(Celsius(bad), high), Field::WindowLow, bad);
        refused(curve.turn(Celsius(bad), high), Field::WindowLow, bad);
    }
    for bad in each(&[300.5]) {
        refused(curve.package_curve(low, Celsius(bad)), Field::WindowHigh, bad);
        refused(curve.extremes(low, Celsius(bad)), Field::WindowHigh, bad);
    }
    refused(curve.package_curve(low, Celsius(0.5)), Field::WindowHigh, 0.5);
    for bad in each(&[-0.1, 101.0]) {
        refused(curve.residual(low, high, Celsius(bad)), Field::TemperatureError, bad);
    }
    // As far beyond the window as the temperature may be off.
    refused(curve.residual(Celsius(-199.5), high, Celsius(1.0)), Field::WindowLow, -200.5);
    refused(curve.residual(low, Celsius(299.5), Celsius(1.0)), Field::WindowHigh, 300.5);

    for bad in each(&[0.0, 501.0]) {
        let set = curve.instrument_gauge_factor(GaugeFactor(bad));
        refused(set.check(), Field::InstrumentGaugeFactor, bad);
    }
    for bad in each(&[12.0, -2e-3]) {
        let law = Expansion::coefficient(ExpansionPerCelsius(bad));
        refused(RotatedCurve::new(steel, law).check(), Field::ExpansionCoefficient, bad * 1e6);
        refused(curve.measured_on(law).check(), Field::ExpansionCoefficient, bad * 1e6);
        let offered = [ExpansionPerCelsius(bad)];
        let least = Selection::of_matches(&curve, &offered).least_span(low, high);
        refused(least, Field::MatchedExpansion, bad * 1e6);
    }
    // Matched to nothing: on a known material all right, but not to be compared with other matches.
    let unknown = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0)));
    refused(RotatedCurve::new(unknown, ppm(12.0)).check(), Field::MatchedExpansion, f64::NAN);
    let known = RotatedCurve::new(unknown, ppm(12.0)).measured_on(ppm(11.0));
    assert!(known.check().is_ok());
    let matches = [ExpansionPerCelsius::ppm(11.0)];
    let offers = Selection::of_matches(&known, &matches);
    refused(offers.least_slope(low, high), Field::MatchedExpansion, f64::NAN);
    // Without thermal output there is nothing to turn.
    let bare = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(11.0));
    refused(RotatedCurve::new(bare, ppm(12.0)).check(), Field::ThermalOutput, f64::NAN);
    // Expansions that are not known where the curve turns, or not where the gauge is.
    let cold = ppm(12.0).between(Celsius(-200.0), Celsius(0.0));
    refused(RotatedCurve::new(steel, cold).check(), Field::ReferenceTemperature, 24.0);
    refused(curve.measured_on(cold).check(), Field::ReferenceTemperature, 24.0);
    let hot = steel.thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(100.0), Celsius(200.0)));
    let mild = ppm(12.0).between(Celsius(0.0), Celsius(50.0));
    refused(RotatedCurve::new(hot, mild).check(), Field::TemperatureHigh, 50.0);
    assert!(matches!(
        Selection::of_curves(&[]).least_residual(low, high, Celsius(1.0)),
        Err(Error::Invalid { field: Field::OfferedMatches, .. })
    ));
    assert!(offers.curve(0).is_ok());
    refused(offers.curve(1), Field::OfferedMatches, 1.0);
}
