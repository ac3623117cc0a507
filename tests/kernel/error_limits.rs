//! What is said when an error limit is missed, and what is suggested then, tried out.

use gaugewright::channel::{ForcedStrain, GaugeFactorBasis};
use gaugewright::error::{ErrorPart, KernelPath, Quantity};
use gaugewright::kernel::{Parts, SuggestedLimits};
use gaugewright::units::*;
use gaugewright::*;
use support::*;

/// A quarter bridge at a high gauge factor: the remainder of the reciprocal is what ends its range.
fn strained(strain: f64) -> Channel {
    let gauge = gauge("gauge_on_steel", 4).gauge_factor_slope(PercentPer100C(1.2));
    Channel::new(gauge, Bridge::quarter_ideal(Ohms(350.0)), Converter::bipolar(24, Ratio(1.0 / 16.0)))
        .strain_within(Microstrain(strain))
}

fn missed<T>(result: Result<T, Error>) -> (Nanostrain, KernelPath, ErrorPart) {
    match result {
        Err(Error::Bound { bound, path, dominant, .. }) => (bound, path, dominant),
        Err(error) => panic!("{error}"),
        Ok(_) => panic!("kept"),
    }
}

/// Bound and the circuit's share, infinite where the channel does not compile.
fn fixed_bound(channel: &Channel) -> f64 {
    let kernel: Result<fixed::Kernel<5, 3>, Error> = channel.try_fixed();
    kernel.map_or(f64::INFINITY, |k| k.error_bound().max().0 + channel.circuit_error().unwrap().0)
}

fn float_bound(channel: &Channel) -> f64 {
    let kernel: Result<float::Kernel<f32, 5, 3>, Error> = channel.try_float32();
    kernel.map_or(f64::INFINITY, |k| k.error_bound().max().0 + channel.circuit_error().unwrap().0)
}

fn largest_part(parts: &Parts, circuit: f64) -> ErrorPart {
    let parts = [
        (ErrorPart::Circuit, circuit),
        (ErrorPart::Constants, parts.constants.0),
        (ErrorPart::Operations, parts.operations.0),
        (ErrorPart::Reciprocal, parts.reciprocal.0),
        (ErrorPart::Output, parts.output.0),
        (ErrorPart::Temperature, parts.temperature.0),
    ];
    parts.iter().max_by(|a, b| a.1.total_cmp(&b.1)).unwrap().0
}

/// Each suggestion meets the error limit, and what is wider by a hundredth and a step of the search does not.
fn check_limits(
    (channel, declared): (&Channel, f64),
    error_limit: f64,
    limits: &SuggestedLimits,
    bound: impl Fn(&Channel) -> f64,
) {
    assert!(bound(channel) > error_limit);
    let (from, to) = channel.temperatures();
    let more_strain = |limit: Microstrain| Microstrain(limit.0 * 1.01 + declared / 200.0);
    let more_of_range = (to.0 - from.0) / 200.0 + 0.2;
    if limits.together {
        let (limit, (low, high)) = (limits.strain.unwrap(), limits.temperatures.unwrap());
        assert!(bound(&channel.strain_within(limit)) > error_limit);
        assert!(bound(&channel.temperature_within(low, high)) > error_limit);
        let both = |limit, low, high| bound(&channel.strain_within(limit).temperature_within(low, high));
        assert!(both(limit, low, high) <= error_limit, "{limits:?}");
        let wider = (Celsius(low.0 - more_of_range), Celsius(high.0 + more_of_range));
        assert!(both(more_strain(limit), wider.0, wider.1) > error_limit, "{limits:?}");
        return;
    }
    assert!(limits.strain.is_some() || limits.temperatures.is_some(), "{limits:?}");
    if let Some(limit) = limits.strain {
        assert!(bound(&channel.strain_within(limit)) <= error_limit, "{limits:?}");
        assert!(bound(&channel.strain_within(more_strain(limit))) > error_limit, "{limits:?}");
    }
    if let Some((low, high)) = limits.temperatures {
        assert!(from.0 < low.0 && high.0 < to.0);
        assert!(bound(&channel.temperature_within(low, high)) <= error_limit, "{limits:?}");
        let wider =
            channel.temperature_within(Celsius(low.0 - more_of_range), Celsius(high.0 + more_of_range));
        assert!(bound(&wider) > error_limit, "{limits:?}");
    }
}

#[test]
fn an_exceeded_limit_has_suggestions() {
    for (strain, error_limit) in [(50_000.0, 0.5), (50_000.0, 0.42), (45_000.0, 0.6)] {
        let channel = strained(strain);
        let result = channel.try_fixed_within::<5, 3, 0>(Nanostrain(error_limit));
        println!("{}", result.unwrap_err());
        let (bound, path, dominant) = missed(result);
        let limits = channel.fixed_suggested_limits::<5, 3, 0>(Nanostrain(error_limit));
        assert_eq!((path, dominant), (KernelPath::Split, ErrorPart::Reciprocal));
        assert!((bound.0 - fixed_bound(&channel)).abs() < 1e-12 * bound.0);
        assert!(limits.strain.is_some(), "{limits:?}");
        check_limits((&channel, strain), error_limit, &limits, fixed_bound);
    }
    // Floating point meets any limit if the range is narrow enough.
    let (mut one_calls, mut narrower) = (0, 0);
    for (name, described) in set::described() {
        let channel = described.channel();
        for share in [0.9, 0.3] {
            let error_limit = float_bound(&channel) * share;
            let (bound, path, dominant) =
                missed(channel.try_float32_within::<5, 3, 0>(Nanostrain(error_limit)));
            let limits = channel.float32_suggested_limits::<5, 3, 0>(Nanostrain(error_limit));
            let kernel: float::Kernel<f32, 5, 3> = channel.try_float32().unwrap();
            let said = kernel.error_bound();
            let one_call = said.reading.total.0 > said.point.total.0;
            let parts = if one_call { said.reading } else { said.point };
            assert_eq!(path, if one_call { KernelPath::OneCall } else { KernelPath::Split });
            one_calls += u32::from(one_call);
            assert_eq!(dominant, largest_part(&parts, channel.circuit_error().unwrap().0));
            assert!((bound.0 - float_bound(&channel)).abs() < 1e-12 * bound.0);
            // Nothing is missed that a quarter of the temperatures, or of the strain, would keep.
            let (from, to) = channel.temperatures();
            let eighth = (to.0 - from.0) / 8.0;
            let quarter =
                channel.temperature_within(Celsius(from.0 + 3.0 * eighth), Celsius(to.0 - 3.0 * eighth));
            if float_bound(&quarter) <= error_limit {
                assert!(limits.together || limits.temperatures.is_some(), "{name}: {limits:?}");
                narrower += 1;
            }
            println!("{name} {error_limit:.2}: {limits:?}");
            assert!(!limits.is_none());
            let declared = described.strain.unwrap_or(62_500.0);
            check_limits((&channel, declared), error_limit, &limits, float_bound);
        }
    }
    assert!(one_calls > 10 && narrower > 10, "{one_calls} {narrower}");
}

#[test]
fn no_limit_is_suggested_for_an_error_limit_below_the_step_of_the_result() {
    let channel = mild("gauge_on_steel", 4);
    for error_limit in [0.05, 0.0, -1.0, f64::NAN].map(Nanostrain) {
        assert_eq!(missed(channel.try_fixed_within::<4, 1, 0>(error_limit)).2, ErrorPart::Operations);
        assert!(channel.fixed_suggested_limits::<4, 1, 0>(error_limit).is_none());
    }
}

#[test]
fn a_lower_degree_is_offered_where_it_is_enough() {
    let channel = mild("gauge_on_steel", 5);
    let error_limit = (fixed_bound(&channel) + fixed_bound(&mild("gauge_on_steel", 4))) / 2.0;
    let limits = channel.fixed_suggested_limits::<5, 3, 0>(Nanostrain(error_limit));
    assert_eq!(limits.degree, Some(4), "{limits:?}");
}

/// Codes of 29 bits and more, over a grid of how much of the converter's range the strain takes: a whole number spreads few codes
/// over 32 bits but not so many. Wherever a channel is refused that a shorter code would make, the suggestion is the longest such code,
/// and none is longer than it has to be.
#[test]
fn a_long_code_is_refused_only_with_the_code_that_is_enough() {
    let error_limit = Nanostrain(0.5);
    let (mut refused, mut longer_compiled, mut dropped_most) = (0, 0, 0);
    for strain in [20_000.0, 30_000.0, 40_000.0] {
        for share in 4..20 {
            let share = f64::from(share) / 20.0;
            let full_scale = strain * 1e-6 * 2.1 / 4.0 / share;
            let channel = |bits: u32| {
                let converter = Converter::bipolar(bits, Ratio(full_scale));
                let code = 0.01 * f64::from(i32::MAX >> (32 - bits));
                Channel::new(gauge("gauge_on_steel", 4), Bridge::quarter_ideal(Ohms(350.0)), converter)
                    .balanced(code, Celsius(21.0))
                    .temperature_within(Celsius(-50.0), Celsius(100.0))
                    .strain_within(Microstrain(strain))
            };
            let meets = |bits| channel(bits).try_fixed_within::<4, 1, 0>(error_limit).is_ok();
            for bits in 29..=32u32 {
                if meets(bits) {
                    continue;
                }
                let shorter = (28..bits).rev().find(|&bits| meets(bits));
                let limits = channel(bits).fixed_suggested_limits::<4, 1, 0>(error_limit);
                assert_eq!(
                    limits.dropped_bits,
                    shorter.map(|shorter| bits - shorter),
                    "{strain} {share} {bits}"
                );
                let longer = (bits + 1..=32).any(meets);
                // Never without a way out where a longer code compiles.
                assert!(!longer || limits.dropped_bits.is_some(), "{strain} {share} {bits}");
                let Some(dropped) = limits.dropped_bits else { continue };
                let said = limits.to_string();
                let words = if dropped == 1 { "bit".into() } else { format!("{dropped} bits") };
                assert!(said.ends_with(&format!("or for codes without their lowest {words}")), "{said}");
                refused += 1;
                longer_compiled += u32::from(longer);
                dropped_most = dropped_most.max(dropped);
            }
        }
    }
    println!("{refused} refused, {longer_compiled} of them with a longer code that compiles");
    assert!(
        refused > 30 && longer_compiled > 5 && dropped_most >= 2,
        "{refused} {longer_compiled} {dropped_most}"
    );
}

#[test]
fn a_circuit_that_the_map_leaves_most_out_of_is_named() {
    let bridge = Bridge::full_poisson(Ohms(350.0), 0.33).leads(Ohms(1.2)).input_resistance(Ohms(2e5));
    let channel = Channel::new(gauge("gauge_on_steel", 4), bridge, Converter::bipolar(24, Ratio(1.0 / 16.0)))
        .balanced(54_321.5, Celsius(20.0))
        .strain_within(Microstrain(30_000.0));
    let error_limit = channel.circuit_error().unwrap().0 / 2.0;
    let (bound, _, dominant) = missed(channel.try_fixed_within::<4, 1, 0>(Nanostrain(error_limit)));
    let limits = channel.fixed_suggested_limits::<4, 1, 0>(Nanostrain(error_limit));
    println!("{error_limit} {dominant} {limits:?}");
    let kernel: fixed::Kernel<4, 1> = channel.try_fixed().unwrap();
    let expected = kernel.error_bound().max().0 + channel.circuit_error().unwrap().0;
    assert!((bound.0 - expected).abs() < 1e-12 * bound.0, "{bound} {expected}");
    assert_eq!(dominant, ErrorPart::Circuit);
    check_limits((&channel, 30_000.0), error_limit, &limits, fixed_bound);
}

/// A kernel without a constant of the product takes no gauge factor that refers to the free foil, also where thermal output cancels,
/// unless the gauge factor is left as it is. One that refers to the unloaded gauge needs the constant only where it does not cancel.
#[test]
fn a_free_foil_needs_a_constant_of_the_product() {
    let foil = GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree([0.0, 9.0]));
    let refused = Error::Overflow { quantity: Quantity::ProductConstants, value: 1.0, limit: 0.0 };
    let bending = Bridge::half_bending(Ohms(350.0), Ohms(0.0));
    let quarter = Bridge::quarter_ideal(Ohms(350.0));
    for (basis, bridge, correction, needed) in [
        (foil, bending, Correction::Full, true),
        (foil, quarter, Correction::Full, true),
        (foil, bending, Correction::ThermalOutput, false),
        (foil, quarter, Correction::ThermalOutput, false),
        (foil, quarter, Correction::None, false),
        (GaugeFactorBasis::UnloadedGauge, quarter, Correction::Full, true),
        (GaugeFactorBasis::UnloadedGauge, bending, Correction::Full, false),
        (GaugeFactorBasis::AtBalance, quarter, Correction::Full, false),
    ] {
        let gauge = gauge("gauge_on_steel", 4).gauge_factor_basis(basis);
        let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 128.0)))
            .strain_within(Microstrain(2_000.0))
            .temperature_within(Celsius(0.0), Celsius(50.0))
            .correction(correction);
        let expected = needed.then_some(refused);
        assert_eq!(channel.try_fixed::<4, 3, 0>().err(), expected, "{basis:?} {correction:?}");
        assert_eq!(channel.try_float32::<4, 3, 0>().err(), expected, "{basis:?} {correction:?}");
        let larger = channel.try_fixed::<4, 3, 1>().unwrap();
        if let Ok(usual) = channel.try_fixed::<4, 3, 0>() {
            let at = fixed::Temperature::from_bits(41 << 20);
            assert_eq!(larger.reading(54_321, at), usual.reading(54_321, at));
        }
    }
}

/// A gauge factor that refers to the free foil has no polynomial: what one of few terms leaves out is refused unless an error limit
/// includes it, and the text says what to do.
#[test]
fn too_few_terms_of_the_gauge_factor_are_refused() {
    let forced = ForcedStrain::per_degree([0.0, 9.0, 3e-3, -2e-6]);
    let gauge = gauge("gauge_on_steel", 4).gauge_factor_slope(PercentPer100C(1.2));
    let channel = Channel::new(
        gauge.gauge_factor_basis(GaugeFactorBasis::FreeFoil(forced)),
        Bridge::quarter_ideal(Ohms(350.0)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .strain_within(Microstrain(4_000.0))
    .temperature_within(Celsius(-80.0), Celsius(120.0));
    let left_out = [1, 2, 3].map(|terms| channel.gauge_factor_error(terms).unwrap().0);
    assert!(left_out[0] > 100.0 && left_out[1] > 1.0 && left_out[2] < 0.1, "{left_out:?}");
    for (terms, refused) in [channel.try_fixed::<4, 1, 1>().err(), channel.try_fixed::<4, 2, 1>().err()]
        .into_iter()
        .chain([channel.try_float32::<4, 1, 1>().err(), channel.try_float64::<4, 2, 1>().err()])
        .zip([1, 2, 1, 2])
        .map(|(refused, terms)| (terms, refused.unwrap()))
    {
        let value = left_out[terms - 1];
        assert_eq!(refused, Error::Overflow { quantity: Quantity::GaugeFactorRemainder, value, limit: 1.0 });
        assert!(refused.to_string().ends_with("such as Kernel<4, 3, 1>, narrower ranges or an error limit"));
    }
    let kernel = channel.try_fixed::<4, 3, 1>().unwrap();
    // With a limit it counts like the rest of the error.
    let bound = channel.try_fixed_within::<4, 1, 1>(Nanostrain(f64::INFINITY)).unwrap().error_bound().max().0;
    let all = Nanostrain((bound + left_out[0]) * (1.0 + 1e-12));
    assert!(channel.try_fixed_within::<4, 1, 1>(all).is_ok());
    let (found, _, part) = missed(channel.try_fixed_within::<4, 1, 1>(Nanostrain(left_out[0])));
    assert!((found.0 / all.0 - 1.0).abs() < 1e-9 && part == ErrorPart::GaugeFactor);
    let error = channel.try_fixed_within::<4, 1, 1>(Nanostrain(left_out[0])).unwrap_err();
    assert!(
        error.to_string().ends_with(": use one with more terms of the gauge factor, such as Kernel<4, 3, 1>")
    );
    // And is what the kernel of more terms is right by: for the codes of the window, which reach further than the strain range.
    let model = reference::Model::new(&channel).unwrap();
    let short = channel.try_fixed_within::<4, 1, 1>(all).unwrap();
    let (mut worst_short, mut worst) = (0.0f64, 0.0f64);
    for t in (-80..=120).map(|celsius| fixed::Temperature::from_bits(celsius << 20)) {
        let code = model.code_for(Strain(3_999e-6), t.celsius()).round() as i32;
        let exact = model.strain(code, t).0;
        let error = |reading: fixed::Reading| (reading.strain.strain().0 - exact).abs() * 1e9;
        worst_short = worst_short.max(error(short.reading(code, t)));
        worst = worst.max(error(kernel.reading(code, t)));
    }
    assert!(worst_short <= all.0 && worst_short > 0.6 * left_out[0], "{worst_short} {left_out:?}");
    assert!(worst <= kernel.error_bound().max().0 + left_out[2], "{worst}");
}

#[test]
fn limits_are_suggested_for_two_temperatures_too() {
    let gauge = gauge("gauge_on_aluminium", 4).gauge_factor_slope(PercentPer100C(2.0));
    let bridge = Bridge::half_compensated(Ohms(350.0), Ohms(1.2));
    let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 24.0)))
        .strain_within(Microstrain(36_000.0))
        .balanced(0.0, Celsius(20.0));
    let second = CompensatingGauge::new(gauge);
    let apart = channel.compensated_by(second);
    let (bound, ..) = missed(apart.try_fixed_within::<4, 1, 0>(Nanostrain(0.1)));
    let error_limit = Nanostrain(bound.0 * 0.8);
    assert!(apart.try_fixed_within::<4, 1, 0>(error_limit).is_err());
    let limits = apart.fixed_suggested_limits::<4, 1, 0>(error_limit);
    println!("{bound} {limits:?}");
    let limit = limits.strain.unwrap();
    let narrower = channel.strain_within(limit).compensated_by(second);
    assert!(narrower.try_fixed_within::<4, 1, 0>(error_limit).is_ok());
    // The same in single precision, whose bound is of another size.
    let (bound, ..) = missed(apart.try_float32_within::<4, 1, 0>(Nanostrain(0.1)));
    let error_limit = Nanostrain(bound.0 * 0.8);
    let limit = apart.float32_suggested_limits::<4, 1, 0>(error_limit).strain.unwrap();
    let narrower = channel.strain_within(limit).compensated_by(second);
    assert!(narrower.try_float32_within::<4, 1, 0>(error_limit).is_ok());
    let (bound, ..) = missed(apart.try_float64_within::<4, 1, 0>(Nanostrain(1e-12)));
    assert!(bound.0 < 0.1 && apart.try_float64_within::<4, 1, 0>(bound).is_ok());
}
