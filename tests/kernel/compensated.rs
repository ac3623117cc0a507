//! A gauge and a compensating gauge at temperatures of their own, end to end: from the physics of two gauges
//! through the network to a code, and back through every kernel.

use fuzz::sound::paths;
use gaugewright::error::Field;
use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;
use support::{ANY_ERROR, recipe, tolerance};

fn temperature(share: f64) -> fixed::Temperature {
    fixed::Temperature::from_celsius(Celsius(-200.0 + 500.0 * share)).unwrap()
}

#[test]
fn kernels_of_two_temperatures_equal_the_reference_within_their_bounds() {
    equal_the_reference::<0>("two temperatures", recipe::compensated());
}

#[test]
fn kernels_of_two_temperatures_and_the_product_equal_the_reference_within_their_bounds() {
    equal_the_reference::<1>("two temperatures and the product", recipe::compensated_with_other_basis());
}

fn equal_the_reference<const PRODUCT: usize>(
    name: &'static str,
    channels: impl Strategy<Value = CompensatedChannel>,
) {
    let counted = std::cell::Cell::new(0);
    let share = || prop_oneof![Just(0.0), Just(1.0), 0.0..=1.0f64];
    let samples = prop::collection::vec((share(), share(), -1.0..=1.0f64), 8);
    recipe::check(name, 1_000, (channels, samples), |(channel, samples)| {
        let kernels = (
            channel.try_fixed_within::<5, 3, PRODUCT>(ANY_ERROR),
            channel.try_float32_within::<5, 3, PRODUCT>(ANY_ERROR),
            channel.try_float64_within::<5, 3, PRODUCT>(ANY_ERROR),
        );
        let (Ok(integer), Ok(single), Ok(double)) = kernels else {
            for error in [kernels.0.err(), kernels.1.err(), kernels.2.err()].into_iter().flatten() {
                prop_assert!(
                    matches!(error, Error::Overflow { .. })
                        || matches!(error, Error::Invalid { field: Field::GaugeFactorCurve, .. }),
                    "{error}"
                );
            }
            return Ok(());
        };
        counted.set(counted.get() + 1);
        let bounds = (integer.error_bound(), single.error_bound(), double.error_bound());
        let model = reference::CompensatedModel::new(&channel).unwrap();
        let circuit = channel.circuit_error().unwrap().0 + channel.gauge_factor_error(3).unwrap().0;
        let (mut codes, mut warm, mut other) = (Vec::new(), Vec::new(), Vec::new());
        for (first, second, part) in samples {
            let (t, u) = (temperature(first), temperature(second));
            let strain = Strain(part * 3_999e-6);
            let code = model.code_for(strain, t.celsius(), u.celsius()).round() as i32;
            let exact = model.strain(code, t, u).0 * 1e9;
            let results = [
                paths([integer.reading(code, t, u), integer.at(t, u).reading(code)], &bounds.0, |s| {
                    s.strain().0
                }),
                paths([single.reading(code, t, u), single.at(t, u).reading(code)], &bounds.1, f64::from),
                paths([double.reading(code, t, u), double.at(t, u).reading(code)], &bounds.2, |s| s),
            ];
            for (i, (flags, strain, bound)) in results.into_iter().flatten().enumerate() {
                if !flags.is_clear() {
                    // Off the rails of a converter, or half a coarse code outside the range.
                    let excused = flags == Flags::CODE_AT_RAIL || exact.abs() > 3_998e3;
                    prop_assert!(excused, "path {i}: {flags} at {exact}");
                    continue;
                }
                let off = (strain * 1e9 - exact).abs();
                let allowed = bound.total.0 + circuit + tolerance::REFERENCE_NANOSTRAIN;
                prop_assert!(off <= allowed, "path {i}: off by {off}, bound {allowed}");
            }
            codes.push(code);
            warm.push(t);
            other.push(u);
        }
        let mut block = vec![integer.reading(0, warm[0], other[0]); codes.len()];
        integer.readings(&codes, &warm, &other, &mut block).unwrap();
        for i in 0..codes.len() {
            prop_assert_eq!(block[i], integer.reading(codes[i], warm[i], other[i]));
        }
        prop_assert!(integer.readings(&codes, &warm, &other[1..], &mut block).is_err());
        Ok(())
    });
    assert!(counted.get() > 300, "only {} of 1000 compiled", counted.get());
}

/// The physics of two equal gauges: at one temperature they cancel, apart they do not, and the kernel
/// with two temperatures takes out what is left.
#[test]
fn equal_gauges_cancel_at_one_temperature_only() {
    let gauge = support::gauge("gauge_on_aluminium", 4);
    let plain = Channel::new(
        gauge,
        Bridge::half_compensated(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .strain_within(Microstrain(3_000.0));
    let apart = plain.compensated_by(CompensatingGauge::new(gauge));
    let kernel: fixed::CompensatedKernel = apart.fixed();
    let model = reference::CompensatedModel::new(&apart).unwrap();
    let bound = kernel.error_bound().reading.total.0;
    for celsius in [-150.0, -80.0, 0.0, 100.0, 250.0] {
        let t = fixed::Temperature::from_celsius(Celsius(celsius)).unwrap();
        let together = kernel.reading(0, t, t).checked().unwrap();
        assert!(f64::from(together.nanostrain()).abs() <= bound + 1.0);
        // Subtracting twice what the bridge has cancelled already would be a mistake of this size:
        let (one_sided, _) = model.thermal_outputs(Celsius(celsius), Celsius(celsius));
        assert!(one_sided.microstrain().0.abs() > 20.0, "{celsius}");
    }
    let (cold, colder) = (fixed::Temperature::from_bits(-60 << 20), fixed::Temperature::from_bits(-75 << 20));
    let off = model.steps(0.0, Celsius(-60.0), Celsius(-75.0)).mechanical;
    assert!(off.microstrain().0.abs() > 100.0);
    let seen = kernel.reading(0, cold, colder).checked().unwrap().strain().nanostrain().0;
    assert!((seen - off.nanostrain().0).abs() <= bound + tolerance::REFERENCE_NANOSTRAIN);
    // Where both have one temperature the plain channel has nothing to subtract, and says so by its type.
    let same: fixed::Kernel = plain.fixed();
    assert!(same.reading(0, cold).strain.to_bits().abs() <= 8);
}

#[test]
fn each_temperature_raises_its_flag() {
    let gauge = support::gauge("gauge_on_aluminium", 4);
    let narrow = Gauge::new(GaugeFactor(2.0))
        .thermal_output(ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(0.0), Celsius(40.0)));
    let channel = Channel::new(
        gauge,
        Bridge::half_compensated(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .temperature_within(Celsius(-80.0), Celsius(100.0));
    let apart = channel.compensated_by(CompensatingGauge::new(narrow));
    let kernel: fixed::CompensatedKernel = apart.fixed();
    let single: float::CompensatedKernel<f32> = apart.float32();
    let at = |celsius: i32| fixed::Temperature::from_bits(celsius << 20);
    for (first, second, outside) in [
        (20, 20, false),
        (-81, 20, true),
        (20, -1, true),
        (20, 41, true),
        (101, 41, true),
        (100, 40, false),
        (-80, 0, false),
    ] {
        let flags = if outside { Flags::TEMPERATURE_OUTSIDE } else { Flags::CLEAR };
        assert_eq!(kernel.reading(0, at(first), at(second)).flags, flags, "{first} {second}");
        assert_eq!(kernel.at(at(first), at(second)).reading(0).flags, flags);
        assert_eq!(single.reading(0, at(first), at(second)).flags, flags);
        assert_eq!(single.at(at(first), at(second)).reading(0).flags, flags);
    }
    // The same range declared inside a wider curve.
    let declared = CompensatingGauge::new(gauge).temperature_within(Celsius(0.0), Celsius(40.0));
    let within: fixed::CompensatedKernel = channel.compensated_by(declared).fixed();
    assert_eq!(within.reading(0, at(20), at(40)).flags, Flags::CLEAR);
    assert_eq!(within.reading(0, at(20), at(41)).flags, Flags::TEMPERATURE_OUTSIDE);
    let beyond = CompensatingGauge::new(gauge).temperature_within(Celsius(0.0), Celsius(301.0));
    assert!(matches!(
        channel.compensated_by(beyond).check(),
        Err(Error::Invalid { field: Field::TemperatureHigh, value: 301.0, .. })
    ));
    // Held at the ends.
    assert_eq!(kernel.reading(9, at(20), at(-50)).strain, kernel.reading(9, at(20), at(0)).strain);
}

#[test]
fn a_second_gauge_belongs_to_a_compensated_half_bridge() {
    let gauge = support::gauge("gauge_on_aluminium", 4);
    let wrong = Channel::new(
        gauge,
        Bridge::half_bending(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .compensated_by(CompensatingGauge::new(gauge));
    let refused = Error::Invalid { field: Field::CompensatingGauges, value: 1.0, low: 0.0, high: 0.0 };
    assert_eq!(wrong.check(), Err(refused));
    assert_eq!(wrong.try_fixed::<4, 1, 0>(), Err(refused));
    assert_eq!(wrong.try_float64::<4, 1, 0>(), Err(refused));
    assert_eq!(wrong.circuit_error(), Err(refused));
    assert_eq!(reference::CompensatedModel::new(&wrong), Err(refused));
    let right = Channel::new(
        gauge,
        Bridge::half_compensated(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    );
    let bad = right
        .balanced(0.0, Celsius(20.0))
        .compensated_by(CompensatingGauge::new(gauge).balanced_at(Celsius(400.0)));
    assert!(matches!(
        bad.check(),
        Err(Error::Invalid { field: Field::CompensatingBalanceTemperature, value: 400.0, .. })
    ));
    // A temperature at balance without a balance.
    for celsius in [19.0, f64::NAN] {
        let lone = right.compensated_by(CompensatingGauge::new(gauge).balanced_at(Celsius(celsius)));
        assert!(matches!(lone.check(), Err(Error::Invalid { field: Field::BalanceCode, .. })));
    }
    let nameless = right.compensated_by(CompensatingGauge::new(Gauge::new(GaugeFactor(2.0))));
    assert!(matches!(nameless.check(), Err(Error::Invalid { field: Field::ThermalOutput, .. })));
}
