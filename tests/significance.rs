//! The largest error of leaving a correction out: brackets the truth, by brute force over the network's own model, by hand
//! and with random channels.

mod common;

use common::described::{Description, FactorChange, Origin, Package, Wired};
use common::{recipe, tolerance};
use gaugewright::significance::{Effect, Significance};
use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;

/// An invented gauge of the simplest numbers.
fn plain() -> Description {
    let package = Package {
        factor: 2.0,
        change: FactorChange::Slope(1.0),
        curve: vec![-24.0, 1.0],
        fahrenheit: false,
        stated_for: 2.0,
        fitted: (-200.0, 300.0),
        reference: 24.0,
        matched: Some(11.0),
        transverse: 0.0,
    };
    Description::new(package, Origin::Codes(Wired::new(Circuit::Quarter, 350.0, 0.7), 24, 1.0 / 64.0))
}

/// What is computed with one thing left out, less what is right.
fn error(described: &Description, effect: Effect, strain: f64, celsius: f64) -> f64 {
    let model = reference::Model::new(&described.channel()).unwrap();
    let t = Celsius(celsius);
    let code = model.code_for(Strain(strain), t);
    let steps = model.steps(code, t);
    let factor = described.channel().instrument_gauge_factor(GaugeFactor(1.0));
    // Indicated strain at a gauge factor of one is the signal.
    let unit = reference::Model::new(&factor).unwrap().steps(code, t);
    let at_temperature = steps.gauge_factor.0;
    match effect {
        Effect::ThermalOutput => unit.indicated.0 / at_temperature - strain,
        Effect::GaugeFactor => (unit.indicated.0 - unit.thermal_output.0) / described.package.factor - strain,
        Effect::Mismatch => {
            let matched = Description { specimen: None, ..described.clone() };
            reference::Model::new(&matched.channel()).unwrap().steps(code, t).mechanical.0 - strain
        }
        Effect::LeadDesensitisation => {
            let mut bare = described.clone();
            if let Origin::Codes(wired, ..) = &mut bare.origin {
                wired.lead = 0.0;
            }
            reference::Model::new(&bare.channel()).unwrap().steps(code, t).mechanical.0 - strain
        }
        Effect::Nonlinearity => {
            // The slope at balance, by a small step either way.
            let balance = described.balance.map_or(0.0, |(code, _)| code);
            let unit = reference::Model::new(&factor).unwrap();
            let span = (code - balance).abs().max(1.0) * 1e-4;
            let slope = (unit.steps(balance + span, t).indicated.0
                - unit.steps(balance - span, t).indicated.0)
                / (2.0 * span);
            let linear = slope * (code - balance) - unit.steps(code, t).thermal_output.0;
            linear / at_temperature - strain
        }
        other => panic!("{other}"),
    }
}

fn significance(described: &Description, window: (f64, f64), strain: f64) -> Result<Significance, Error> {
    Significance::of(&described.channel(), (Celsius(window.0), Celsius(window.1)), Microstrain(strain))
}

#[test]
fn by_hand() {
    let found = significance(&plain(), (-76.0, 124.0), 1_000.0).unwrap();
    // A hundred degrees either way, and a factor that is a percent lower in the cold.
    let output = found.of_effect(Effect::ThermalOutput);
    assert!((output.largest.0 - 100.0 / 0.99).abs() < 1e-9 && output.temperature == Celsius(-76.0));
    assert!((output.percent.0 - 10.0 / 0.99).abs() < 1e-9);
    // A percent of the reading.
    assert!((found.of_effect(Effect::GaugeFactor).largest.0 - 10.0).abs() < 1e-9);
    assert!((found.of_effect(Effect::GaugeFactor).percent.0 - 1.0).abs() < 1e-9);
    // Two parts in a thousand of the whole signal, load and thermal output, over 1.002: most in the cold, in compression.
    let signal = 1_000.0 + 100.0 / 0.99;
    let leads = found.of_effect(Effect::LeadDesensitisation);
    assert!((leads.largest.0 - signal * 0.002 / 1.002).abs() < 1e-9, "{leads:?}");
    assert_eq!(found.of_effect(Effect::Mismatch).largest.0, 0.0);
    // A quarter bridge: F e / 2 r is e (1 + F e / 2): half the signal squared, over the lead factor.
    let bend = found.of_effect(Effect::Nonlinearity);
    let y: f64 = 2.0 * (1.01e-3 + 100e-6);
    let exact = (y / 2.0 / 1.002) * y / (1.0 + y / 2.0 / 1.002) / 2.02 * 1e6;
    assert!((bend.largest.0 - exact).abs() < 1e-6, "{bend:?} {exact}");
    assert!(bend.strain.0 == 1_000.0 && bend.temperature == Celsius(124.0));
}

/// Near room temperature some may be left out; at the extremes none.
#[test]
fn room_and_extremes() {
    let described = Description { balance: Some((0.0, 24.0)), specimen: Some(12.0), ..plain() };
    let tenth = Microstrain(1.0);
    let room = significance(&described, (23.8, 24.2), 1_000.0).unwrap();
    assert!(
        room.may_be_left_out(Effect::ThermalOutput, tenth)
            && room.may_be_left_out(Effect::GaugeFactor, tenth)
    );
    assert!(room.may_be_left_out(Effect::Mismatch, tenth));
    assert!(!room.may_be_left_out(Effect::LeadDesensitisation, tenth));
    let extremes = significance(&described, (-196.0, 280.0), 1_000.0).unwrap();
    for effect in Effect::ALL {
        assert!(!extremes.may_be_left_out(effect, tenth), "{effect}");
    }
}

/// Behind an instrument neither bend nor leads are known; they are its own affair.
#[test]
fn an_instrument() {
    let found =
        Significance::of(&common::instrument(), (Celsius(0.0), Celsius(50.0)), Microstrain(1_000.0)).unwrap();
    for effect in [Effect::Nonlinearity, Effect::LeadDesensitisation] {
        assert_eq!(found.of_effect(effect).largest.0, 0.0);
    }
    assert!(found.of_effect(Effect::ThermalOutput).largest.0 > 1.0);
}

/// No error at random places is larger than the bound, what was found is an error that is there, and the two are close.
#[test]
fn brackets_the_truth() {
    let case = (recipe::description(), prop::array::uniform2(0.0..1.0f64), 0.05..1.0f64, any::<u64>());
    let slackest = std::cell::Cell::new(0.0f64);
    recipe::check("significance", 150, case, |(mut described, ends, share, seed)| {
        described.correction = Correction::Full;
        // A converter that covers all strains: what the map leaves out is enclosed for what the converter sees.
        if let Origin::Codes(_, _, full_scale) = &mut described.origin {
            if let Some((code, _)) = &mut described.balance {
                *code *= *full_scale / 0.5;
            }
            *full_scale = 0.5;
        }
        let channel = described.channel();
        let (low, high) = channel.temperatures();
        let at = |way: f64| low.0 + way * (high.0 - low.0);
        let window = (at(ends[0].min(ends[1])), at(ends[0].max(ends[1])));
        let limit = (share * described.strain.unwrap()).max(1.0);
        let Ok(Nanostrain(circuit)) = channel.circuit_error() else {
            return Err(TestCaseError::reject("no such channel"));
        };
        let Ok(found) = significance(&described, window, limit) else {
            return Err(TestCaseError::reject("refused"));
        };
        let mut random = common::Random(seed);
        for omission in found.omissions() {
            let (effect, bound, largest) = (omission.effect, omission.bound.0, omission.largest.0);
            let seen =
                |strain: f64, celsius: f64| error(&described, effect, strain * 1e-6, celsius).abs() * 1e6;
            // What the map leaves out of the network is in the model and not in the map.
            let model = tolerance::SIGNIFICANCE_MICROSTRAIN + 1e-3 * circuit;
            let allowed = model + tolerance::SIGNIFICANCE * largest;
            let there = seen(omission.strain.0, omission.temperature.0);
            prop_assert!((there - largest).abs() <= allowed, "{effect}: {largest} but {there}");
            for i in 0..24 {
                let edge = |random: &mut common::Random| {
                    if i % 2 == 0 { random.within(1.0) } else { random.within(1.0).signum() }
                };
                let strain = edge(&mut random) * limit;
                let celsius = window.0 + random.share() * (window.1 - window.0);
                let here = seen(strain, celsius);
                prop_assert!(
                    here <= bound + allowed,
                    "{effect}: {here} at {strain}, {celsius} beyond {bound}"
                );
            }
            prop_assert!(largest <= bound, "{effect}: {largest} found beyond {bound}");
            let slack = (bound - largest) / largest.max(1e-3);
            prop_assert!(slack < tolerance::SIGNIFICANCE_SLACK, "{effect}: {largest} of {bound}");
            slackest.set(slackest.get().max(slack));
        }
        Ok(())
    });
    println!("slackest {:e}", slackest.get());
}
