//! Inputs of a budget that are refused for more than a number out of its range; `tests/channel/fields.rs` has those.

use gaugewright::channel::GaugeFactorBasis;
use gaugewright::error::{Field, Quantity};
use gaugewright::uncertainty::StandardUncertainties;
use gaugewright::units::*;
use gaugewright::*;
use support::mild;
use support::refusal::refused_for;

/// By every way that inputs can be used.
#[track_caller]
fn refused_everywhere(inputs: StandardUncertainties, field: Field) {
    refused_for(inputs.check(), field);
    refused_for(inputs.try_float32::<0>(), field);
    refused_for(inputs.try_float64::<0>(), field);
    refused_for(inputs.budget(Microstrain(0.0), Celsius(20.0)), field);
}

fn channel() -> Channel {
    mild("gauge_on_aluminium", 4)
}

#[test]
fn what_a_channel_cannot_have() {
    // Behind an instrument there is no bridge to know anything of.
    let readings = support::instrument();
    assert!(
        StandardUncertainties::for_channel(readings).noise(1.0).of_gauge_factor(Percent(1.0)).check().is_ok()
    );
    refused_everywhere(
        StandardUncertainties::for_channel(readings).of_lead_resistance(Ohms(0.1)),
        Field::Bridge,
    );
    refused_everywhere(
        StandardUncertainties::for_channel(readings).of_lead_temperature(Celsius(0.1)),
        Field::Bridge,
    );
    refused_everywhere(StandardUncertainties::for_channel(readings).of_poisson_ratio(0.1), Field::Bridge);
    // A channel that is wrong by itself.
    let wrong = channel().instrument_gauge_factor(GaugeFactor(0.0));
    refused_everywhere(StandardUncertainties::for_channel(wrong), Field::InstrumentGaugeFactor);
}

/// A gauge factor that refers to another resistance needs a kernel that has room for what that takes.
#[test]
fn a_gauge_factor_of_another_resistance_needs_its_kernel() {
    let gauge = support::gauge("gauge_on_steel", 4).gauge_factor_basis(GaugeFactorBasis::UnloadedGauge);
    let channel =
        Channel::new(gauge, Bridge::quarter_ideal(Ohms(350.0)), Converter::bipolar(24, Ratio(1.0 / 128.0)));
    let inputs = StandardUncertainties::for_channel(channel).of_temperature(Celsius(0.3));
    let refused = Error::Overflow { quantity: Quantity::ProductConstants, value: 1.0, limit: 0.0 };
    assert_eq!(inputs.try_float32::<0>().unwrap_err(), refused);
    assert_eq!(inputs.try_float64::<0>().unwrap_err(), refused);
    assert!(inputs.try_float32::<1>().is_ok() && inputs.budget(Microstrain(0.0), Celsius(20.0)).is_ok());
}

#[test]
fn an_uncertainty_that_integers_have_no_room_for() {
    let at = |u: f64| {
        let inputs = StandardUncertainties::for_channel(channel()).of_thermal_output(Microstrain(u));
        inputs.try_float64::<0>().unwrap().at(Celsius(20.0)).unwrap().try_fixed()
    };
    assert!(at(90_000.0).is_ok());
    // The gauge is of a factor near two, as is what its curve is stated for.
    let steep = StandardUncertainties::for_channel(channel())
        .of_temperature(Celsius(500.0))
        .of_thermal_output(Microstrain(1e5))
        .of_gauge_factor(Percent(50.0));
    let fixed = steep.try_float64::<0>().unwrap().at(Celsius(-75.0)).unwrap().try_fixed();
    let Err(Error::Overflow { quantity, value, limit }) = fixed else { panic!("{fixed:?}") };
    assert!(quantity == Quantity::UncertaintyRow && value > limit);
    assert!(fixed.unwrap_err().to_string().contains("take f32"));
}
