//! What is said when a promise is missed, tried out.

use gaugewright::error::{ErrorPart, KernelPath, Remedy};
use gaugewright::kernel::Parts;
use gaugewright::units::*;
use gaugewright::*;
use support::*;

/// A quarter bridge at a high gauge factor: the remainder of the reciprocal is what ends its range.
fn strained(strain: f64) -> Channel {
    let gauge = gauge("gauge_on_steel", 4).gauge_factor_slope(PercentPer100C(1.2));
    Channel::new(gauge, Bridge::quarter_ideal(Ohms(350.0)), Converter::bipolar(24, Ratio(1.0 / 16.0)))
        .strain_within(Microstrain(strain))
}

fn missed<T>(result: Result<T, Error>) -> (Nanostrain, KernelPath, ErrorPart, Remedy) {
    match result {
        Err(Error::Bound { bound, path, dominant, remedy, .. }) => (bound, path, dominant, remedy),
        Err(error) => panic!("{error}"),
        Ok(_) => panic!("kept"),
    }
}

/// Bound and the circuit's share, infinite where the channel does not compile.
fn fixed_bound(channel: &Channel) -> f64 {
    let kernel: Result<fixed::Kernel<5, 3>, Error> = channel.try_fixed();
    kernel.map_or(f64::INFINITY, |k| k.error_bound().larger().0 + channel.circuit_error().unwrap().0)
}

fn float_bound(channel: &Channel) -> f64 {
    let kernel: Result<float::Kernel<f32, 5, 3>, Error> = channel.try_float32();
    kernel.map_or(f64::INFINITY, |k| k.error_bound().larger().0 + channel.circuit_error().unwrap().0)
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

/// Each remedy keeps the promise, and what is wider by a hundredth and a step of the search does not.
fn check_remedy(
    (channel, declared): (&Channel, f64),
    promise: f64,
    remedy: &Remedy,
    bound: impl Fn(&Channel) -> f64,
) {
    assert!(bound(channel) > promise);
    let (from, to) = channel.temperatures();
    let more_strain = |limit: Microstrain| Microstrain(limit.0 * 1.01 + declared / 200.0);
    let more_of_range = (to.0 - from.0) / 200.0 + 0.2;
    if remedy.together {
        let (limit, (low, high)) = (remedy.strain.unwrap(), remedy.temperatures.unwrap());
        assert!(bound(&channel.strain_within(limit)) > promise);
        assert!(bound(&channel.temperature_within(low, high)) > promise);
        let both = |limit, low, high| bound(&channel.strain_within(limit).temperature_within(low, high));
        assert!(both(limit, low, high) <= promise, "{remedy:?}");
        let wider = (Celsius(low.0 - more_of_range), Celsius(high.0 + more_of_range));
        assert!(both(more_strain(limit), wider.0, wider.1) > promise, "{remedy:?}");
        return;
    }
    if let Some(limit) = remedy.strain {
        assert!(bound(&channel.strain_within(limit)) <= promise, "{remedy:?}");
        assert!(bound(&channel.strain_within(more_strain(limit))) > promise, "{remedy:?}");
    }
    if let Some((low, high)) = remedy.temperatures {
        assert!(from.0 < low.0 && high.0 < to.0);
        assert!(bound(&channel.temperature_within(low, high)) <= promise, "{remedy:?}");
        let wider =
            channel.temperature_within(Celsius(low.0 - more_of_range), Celsius(high.0 + more_of_range));
        assert!(bound(&wider) > promise, "{remedy:?}");
    }
}

#[test]
fn a_missed_promise_names_what_would_keep_it() {
    for (strain, promise) in [(50_000.0, 0.5), (50_000.0, 0.42), (45_000.0, 0.6)] {
        let channel = strained(strain);
        let result = channel.try_fixed_within::<5, 3>(Nanostrain(promise));
        println!("{}", result.unwrap_err());
        let (bound, path, dominant, remedy) = missed(result);
        assert_eq!((path, dominant), (KernelPath::Split, ErrorPart::Reciprocal));
        assert!((bound.0 - fixed_bound(&channel)).abs() < 1e-12 * bound.0);
        assert!(remedy.strain.is_some(), "{remedy:?}");
        check_remedy((&channel, strain), promise, &remedy, fixed_bound);
    }
    // Floating point keeps any promise if the range is narrow enough.
    let (mut one_calls, mut narrower) = (0, 0);
    for (name, described) in set::described() {
        let channel = described.channel();
        for share in [0.9, 0.3] {
            let promise = float_bound(&channel) * share;
            let (bound, path, dominant, remedy) =
                missed(channel.try_float32_within::<5, 3>(Nanostrain(promise)));
            let kernel: float::Kernel<f32, 5, 3> = channel.try_float32().unwrap();
            let said = kernel.error_bound();
            let one_call = said.reading.whole.0 > said.point.whole.0;
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
            if float_bound(&quarter) <= promise {
                assert!(remedy.together || remedy.temperatures.is_some(), "{name}: {remedy:?}");
                narrower += 1;
            }
            println!("{name} {promise:.2}: {remedy:?}");
            assert!(!remedy.is_none());
            let declared = described.strain.unwrap_or(62_500.0);
            check_remedy((&channel, declared), promise, &remedy, float_bound);
        }
    }
    assert!(one_calls > 10 && narrower > 10, "{one_calls} {narrower}");
}

#[test]
fn a_promise_below_the_step_of_the_result_has_no_remedy() {
    let (_, _, dominant, remedy) =
        missed(mild("gauge_on_steel", 4).try_fixed_within::<4, 1>(Nanostrain(0.05)));
    assert_eq!((dominant, remedy.is_none()), (ErrorPart::Operations, true));
    for promise in [0.0, -1.0, f64::NAN] {
        let result = mild("gauge_on_steel", 4).try_fixed_within::<4, 1>(Nanostrain(promise));
        assert!(missed(result).3.is_none());
    }
}

#[test]
fn a_lower_degree_is_offered_where_it_is_enough() {
    let channel = mild("gauge_on_steel", 5);
    let promise = (fixed_bound(&channel) + fixed_bound(&mild("gauge_on_steel", 4))) / 2.0;
    let (_, _, _, remedy) = missed(channel.try_fixed_within::<5, 3>(Nanostrain(promise)));
    assert_eq!(remedy.degree, Some(4), "{remedy:?}");
}

#[test]
fn a_circuit_that_the_map_leaves_most_out_of_is_named() {
    let bridge = Bridge::full_poisson(Ohms(350.0), 0.33).leads(Ohms(1.2)).input_resistance(Ohms(2e5));
    let channel = Channel::new(gauge("gauge_on_steel", 4), bridge, Converter::bipolar(24, Ratio(1.0 / 16.0)))
        .balanced(54_321.5, Celsius(20.0))
        .strain_within(Microstrain(30_000.0));
    let promise = channel.circuit_error().unwrap().0 / 2.0;
    let (bound, _, dominant, remedy) = missed(channel.try_fixed_within::<4, 1>(Nanostrain(promise)));
    println!("{promise} {dominant} {remedy:?}");
    let kernel: fixed::Kernel<4, 1> = channel.try_fixed().unwrap();
    let expected = kernel.error_bound().larger().0 + channel.circuit_error().unwrap().0;
    assert!((bound.0 - expected).abs() < 1e-12 * bound.0, "{bound} {expected}");
    assert_eq!(dominant, ErrorPart::Circuit);
    check_remedy((&channel, 30_000.0), promise, &remedy, fixed_bound);
}

#[test]
fn two_temperatures_have_remedies_too() {
    let gauge = gauge("gauge_on_aluminium", 4).gauge_factor_slope(PercentPer100C(2.0));
    let bridge = Bridge::half_compensated(Ohms(350.0), Ohms(1.2));
    let channel = Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 24.0)))
        .strain_within(Microstrain(36_000.0))
        .balanced(0.0, Celsius(20.0))
        .compensated_by(CompensatingGauge::new(gauge));
    let (bound, ..) = missed(channel.try_compensated_fixed_within::<4, 1>(Nanostrain(0.1)));
    let promise = Nanostrain(bound.0 * 0.8);
    let (_, _, _, remedy) = missed(channel.try_compensated_fixed_within::<4, 1>(promise));
    println!("{bound} {remedy:?}");
    let limit = remedy.strain.unwrap();
    assert!(channel.strain_within(limit).try_compensated_fixed_within::<4, 1>(promise).is_ok());
}
