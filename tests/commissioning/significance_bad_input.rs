//! Channels whose significance is refused; `tests/channel/fields.rs` has numbers out of their range.

use gaugewright::commissioning::significance::*;
use gaugewright::error::{Field, Quantity};
use gaugewright::units::*;
use gaugewright::*;
use support::gauge;
use support::refusal::{each, refused};

const LOW: Celsius = Celsius(0.0);
const HIGH: Celsius = Celsius(50.0);

fn plain() -> Channel {
    Channel::new(
        gauge("gauge_on_steel", 4),
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0)),
        Converter::bipolar(24, Ratio(1.0 / 64.0)),
    )
    .temperature_within(Celsius(-80.0), Celsius(120.0))
}

#[test]
fn channels() {
    refused(plain().significance(LOW, HIGH), Field::StrainRange, f64::NAN);
    for bad in each(&[0.5, 62_501.0]) {
        refused(plain().strain_within(Microstrain(bad)).significance(LOW, HIGH), Field::StrainRange, bad);
    }
    // What the channel's own check finds.
    let wrong = plain().strain_within(Microstrain(1_000.0)).span_correction(2.0);
    refused(wrong.significance(LOW, HIGH), Field::SpanCorrection, 2.0);
    let no_match = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-80.0), Celsius(120.0)));
    let unmatched =
        Channel::new(no_match, Bridge::quarter_ideal(Ohms(350.0)), Converter::bipolar(24, Ratio(1.0 / 64.0)))
            .specimen(ExpansionPerCelsius::ppm(11.0))
            .strain_within(Microstrain(1_000.0));
    refused(unmatched.significance(LOW, HIGH), Field::MatchedExpansion, f64::NAN);

    let half = Channel::new(
        gauge("gauge_on_steel", 4),
        Bridge::half_compensated(Ohms(350.0), Ohms(1.0)),
        Converter::bipolar(24, Ratio(1.0 / 64.0)),
    )
    .strain_within(Microstrain(1_000.0));
    assert!(half.significance(LOW, HIGH).is_ok());
}

#[test]
fn bridges_that_are_not_known_or_cannot_follow() {
    let instrument = Instrument::showing(Microstrain(0.1), GaugeFactor(2.0));
    let readings = Channel::from_readings(gauge("gauge_on_steel", 4), instrument)
        .strain_within(Microstrain(1_000.0))
        .significance(LOW, HIGH)
        .unwrap();
    for effect in [CorrectionStep::NonLinearity, CorrectionStep::Leads] {
        assert!(readings.of(effect).is_none());
        refused(readings.together(CorrectionSteps::NONE.with(effect)), Field::Bridge, f64::NAN);
    }
    // They are not among what may be left out, however much is allowed.
    assert_eq!(readings.negligible_within(Microstrain(1e6)).unwrap().steps.count(), 3);

    // A gauge factor at which 62 500 microstrain take the gauge's resistance away.
    let sensitive = Gauge::new(GaugeFactor(20.0))
        .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-80.0), Celsius(120.0)));
    let far = Channel::new(
        sensitive,
        Bridge::quarter_ideal(Ohms(350.0)),
        Converter::bipolar(24, Ratio(1.0 / 64.0)),
    );
    let error = far.strain_within(Microstrain(62_500.0)).significance(LOW, HIGH).unwrap_err();
    assert!(matches!(error, Error::Overflow { quantity: Quantity::Signal, .. }), "{error}");
    assert!(far.strain_within(Microstrain(40_000.0)).significance(LOW, HIGH).is_ok());
    // Leads as large as the gauge, and a completion of a tenth: the bend of the bridge without them is beyond it.
    let stubby = Bridge::quarter_three_wire(Ohms(350.0), Ohms(350.0)).completion(Ohms(10.0));
    let bent = Channel::new(sensitive, stubby, Converter::bipolar(24, Ratio(1.0 / 64.0)));
    let error = bent.strain_within(Microstrain(45_000.0)).significance(LOW, HIGH).unwrap_err();
    assert!(matches!(error, Error::Overflow { quantity: Quantity::BridgeCurvature, .. }), "{error}");
}
