//! Every input of a budget that is out of range, missing or contradictory is refused, with the field,
//! the value and the range that would be allowed.

use gaugewright::error::{Field, Quantity};
use gaugewright::uncertainty::{Input, Inputs};
use gaugewright::units::*;
use gaugewright::*;
use support::mild;
use support::refusal::{each, refused_for};

/// By every way that inputs can be used.
#[track_caller]
fn refused_everywhere(inputs: Inputs, field: Field) {
    refused_for(inputs.check(), field);
    refused_for(inputs.float32(), field);
    refused_for(inputs.float64(), field);
    refused_for(inputs.budget(Microstrain(0.0), Celsius(20.0)), field);
}

fn channel() -> Channel {
    mild("gauge_on_aluminium", 4)
}

#[test]
fn every_uncertainty() {
    /// Each setter, its field, the largest it takes.
    type Setter = (fn(Inputs, f64) -> Inputs, Field, f64);
    const SETTERS: [Setter; 15] = [
        (|inputs, u| inputs.gauge_factor(Percent(u)), Field::GaugeFactorUncertainty, 50.0),
        (|inputs, u| inputs.gauge_factor_slope(PercentPer100C(u)), Field::GaugeFactorSlopeUncertainty, 100.0),
        (|inputs, u| inputs.temperature(Celsius(u)), Field::TemperatureUncertainty, 500.0),
        (|inputs, u| inputs.balance_temperature(Celsius(u)), Field::BalanceTemperatureUncertainty, 500.0),
        (|inputs, u| inputs.thermometer(Celsius(u)), Field::ThermometerUncertainty, 500.0),
        (|inputs, u| inputs.thermal_output(Microstrain(u)), Field::ThermalOutputUncertainty, 1e5),
        (
            |inputs, u| inputs.thermal_output_slope(MicrostrainPerCelsius(u)),
            Field::ThermalOutputSlopeUncertainty,
            1e4,
        ),
        (|inputs, u| inputs.expansion(ExpansionPerCelsius(u)), Field::ExpansionUncertainty, 1e-3),
        (|inputs, u| inputs.lead_resistance(Ohms(u)), Field::LeadResistanceUncertainty, 1e4),
        (|inputs, u| inputs.lead_temperature(Celsius(u)), Field::LeadTemperatureUncertainty, 200.0),
        (|inputs, u| inputs.poisson_ratio(u), Field::PoissonUncertainty, 0.5),
        (|inputs, u| inputs.ratio(Percent(u)), Field::RatioUncertainty, 50.0),
        (|inputs, u| inputs.noise(u), Field::ReadingNoise, 2_147_483_648.0),
        (|inputs, u| inputs.balance_noise(u), Field::BalanceNoise, 2_147_483_648.0),
        (|inputs, u| inputs.kernel(Nanostrain(u)), Field::KernelBound, 1e8),
    ];
    for (set, field, largest) in SETTERS {
        for bad in each(&[-1e-9, -1.0, largest * 1.001]) {
            refused_everywhere(set(Inputs::of(channel()), bad), field);
        }
        for good in [0.0, largest] {
            assert!(set(Inputs::of(channel()), good).check().is_ok(), "{field}");
        }
    }
}

#[test]
fn degrees_of_freedom() {
    for input in Input::ALL {
        for bad in [0.0, 0.999, -1.0, f64::NAN, f64::NEG_INFINITY] {
            refused_everywhere(Inputs::of(channel()).degrees_of_freedom(input, bad), Field::DegreesOfFreedom);
        }
        for good in [1.0, 1.5, f64::INFINITY] {
            assert!(Inputs::of(channel()).degrees_of_freedom(input, good).check().is_ok());
        }
    }
}

#[test]
fn strain_temperature_and_coverage() {
    let inputs = Inputs::of(channel()).gauge_factor(Percent(0.5));
    let (low, high) = channel().temperatures();
    for bad in each(&[-125_000.1, 125_000.1]) {
        refused_for(inputs.budget(Microstrain(bad), low), Field::Strain);
    }
    for bad in each(&[low.0 - 1e-9, high.0 + 1e-9]) {
        refused_for(inputs.budget(Microstrain(0.0), Celsius(bad)), Field::Temperature);
        refused_for(inputs.float64().unwrap().at(Celsius(bad)), Field::Temperature);
        refused_for(inputs.float32().unwrap().at(Celsius(bad)), Field::Temperature);
    }
    let budget = inputs.budget(Microstrain(0.0), low).unwrap();
    for bad in each(&[0.99, 99.991, 0.0]) {
        refused_for(budget.expanded(Percent(bad)), Field::CoverageProbability);
    }
}

#[test]
fn what_a_channel_cannot_have() {
    // Behind an instrument there is no bridge to know anything of.
    let readings = support::instrument();
    assert!(Inputs::of(readings).noise(1.0).gauge_factor(Percent(1.0)).check().is_ok());
    refused_everywhere(Inputs::of(readings).lead_resistance(Ohms(0.1)), Field::Bridge);
    refused_everywhere(Inputs::of(readings).lead_temperature(Celsius(0.1)), Field::Bridge);
    refused_everywhere(Inputs::of(readings).poisson_ratio(0.1), Field::Bridge);
    // Two temperatures, and a channel that is wrong by itself.
    let (_, two) = support::compensated_set().swap_remove(0);
    refused_everywhere(Inputs::of(two), Field::CompensatingGauges);
    let wrong = channel().instrument_gauge_factor(GaugeFactor(0.0));
    refused_everywhere(Inputs::of(wrong), Field::InstrumentGaugeFactor);
}

#[test]
fn an_uncertainty_that_integers_have_no_room_for() {
    let at = |u: f64| {
        let inputs = Inputs::of(channel()).thermal_output(Microstrain(u));
        inputs.float64().unwrap().at(Celsius(20.0)).unwrap().fixed()
    };
    assert!(at(90_000.0).is_ok());
    // The gauge is of a factor near two, as is what its curve is stated for.
    let steep = Inputs::of(channel())
        .temperature(Celsius(500.0))
        .thermal_output(Microstrain(1e5))
        .gauge_factor(Percent(50.0));
    let fixed = steep.float64().unwrap().at(Celsius(-75.0)).unwrap().fixed();
    let Err(Error::Overflow { quantity, value, limit }) = fixed else { panic!("{fixed:?}") };
    assert!(quantity == Quantity::UncertaintyRow && value > limit);
    assert!(fixed.unwrap_err().to_string().contains("take f32"));
}
