//! Every input out of range is refused, with the field, the value and the range that would be allowed.

use gaugewright::error::{Field, Quantity};
use gaugewright::numeric::Polynomial;
use gaugewright::units::*;
use gaugewright::*;
use support::refusal::told;

fn curve() -> ThermalOutput {
    ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-100.0), Celsius(150.0))
}

fn gauge() -> Gauge {
    Gauge::new(GaugeFactor(2.1)).thermal_output(curve())
}

fn bridge() -> Bridge {
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0))
}

fn converter() -> Converter {
    Converter::bipolar(24, Ratio(1.0 / 128.0))
}

fn with_gauge(gauge: Gauge) -> Channel {
    Channel::new(gauge, bridge(), converter())
}

fn with_bridge(bridge: Bridge) -> Channel {
    Channel::new(gauge(), bridge, converter())
}

fn with_converter(converter: Converter) -> Channel {
    Channel::new(gauge(), bridge(), converter)
}

fn channel() -> Channel {
    with_gauge(gauge())
}

/// Refused by `check` and by every way to compile, with the same error, and its text says it all.
#[track_caller]
fn refused(channel: Channel, field: Field, value: f64) {
    let error = channel.check().expect_err("accepted");
    let (found, given) = told(&error);
    assert_eq!(found, field, "{error}");
    assert!(given == value || (given.is_nan() && value.is_nan()), "{error}, not {value}");
    let text = error.to_string();
    let same = |other: Error| assert_eq!(other.to_string(), text);
    same(channel.try_fixed::<5, 3>().unwrap_err());
    same(channel.try_float32::<5, 3>().unwrap_err());
    same(channel.try_float64::<5, 3>().unwrap_err());
    same(channel.try_fixed_within::<5, 3>(Nanostrain(1e9)).unwrap_err());
    same(reference::Model::new(&channel).unwrap_err());
}

#[test]
fn the_channel_of_these_tests_is_sound() {
    assert_eq!(channel().check(), Ok(()));
    assert!(channel().try_fixed::<4, 1>().is_ok());
}

#[test]
fn gauge_package() {
    for bad in [0.0, -2.0, 0.05, 501.0, f64::NAN, f64::INFINITY] {
        refused(with_gauge(Gauge::new(GaugeFactor(bad)).thermal_output(curve())), Field::GaugeFactor, bad);
        refused(
            with_gauge(gauge().thermal_output(curve().stated_for(GaugeFactor(bad)))),
            Field::StatedGaugeFactor,
            bad,
        );
        refused(channel().instrument_gauge_factor(GaugeFactor(bad)), Field::InstrumentGaugeFactor, bad);
    }
    for bad in [-300.0, 2048.0, f64::NAN] {
        refused(with_gauge(gauge().reference_temperature(Celsius(bad))), Field::ReferenceTemperature, bad);
    }
    refused(
        with_gauge(gauge().gauge_factor_polynomial([0.0, f64::NAN, 0.0])),
        Field::GaugeFactorCoefficient,
        f64::NAN,
    );
    for bad in [0.002, f64::NEG_INFINITY] {
        refused(with_gauge(gauge().matched_to(ExpansionPerCelsius(bad))), Field::MatchedExpansion, bad * 1e6);
    }
    refused(with_gauge(gauge().transverse_sensitivity(Percent(60.0))), Field::TransverseSensitivity, 60.0);
    for bad in [-0.01, 0.51, f64::NAN] {
        refused(with_gauge(gauge().calibration_poisson_ratio(bad)), Field::CalibrationPoissonRatio, bad);
    }
}

#[test]
fn gauge_factor_that_strays_over_the_range() {
    // Minus 0.6 % per degree for 126 degrees: less than half is left at the hot end.
    let error = with_gauge(gauge().gauge_factor_slope(PercentPer100C(-60.0))).check().unwrap_err();
    assert!(matches!(error, Error::Invalid { field: Field::GaugeFactorCurve, value, .. } if value < 0.5));
    assert!(with_gauge(gauge().gauge_factor_slope(PercentPer100C(-30.0))).check().is_ok());
}

#[test]
fn thermal_output() {
    let curve = |terms: &[f64]| ThermalOutput::celsius_from(terms).between(Celsius(-100.0), Celsius(150.0));
    let with_curve = |curve| with_gauge(gauge().thermal_output(curve));
    refused(with_curve(curve(&[0.0; 7])), Field::ThermalOutputDegree, 6.0);
    refused(with_curve(curve(&[])), Field::ThermalOutputDegree, f64::NAN);
    refused(with_curve(curve(&[0.0, f64::NAN])), Field::ThermalOutputCoefficient, f64::NAN);
    refused(with_curve(curve(&[0.0, 0.0, -2e6])), Field::ThermalOutputCoefficient, -2e6);

    let between = |low, high| with_curve(ThermalOutput::celsius([0.0]).between(Celsius(low), Celsius(high)));
    refused(between(50.0, -50.0), Field::FittedHigh, -50.0);
    refused(between(-300.0, 50.0), Field::FittedLow, -300.0);
    refused(between(f64::NAN, 50.0), Field::FittedLow, f64::NAN);
    refused(between(0.0, f64::INFINITY), Field::FittedHigh, f64::INFINITY);
    // A curve without a range is no curve, and none at all is one that is missing.
    refused(with_curve(ThermalOutput::celsius([0.0, 1.0])), Field::FittedLow, f64::NAN);
    refused(with_gauge(Gauge::new(GaugeFactor(2.0))), Field::ThermalOutput, f64::NAN);
}

#[test]
fn bridge_resistors() {
    let plain = Ohms(350.0);
    for bad in [-1.0, -1e-9, 1e5, f64::NAN] {
        refused(with_bridge(Bridge::quarter_two_wire(plain, Ohms(bad))), Field::LeadResistance, bad);
        refused(with_bridge(Bridge::quarter_three_wire(plain, Ohms(bad))), Field::LeadResistance, bad);
    }
    for bad in [0.0, -350.0, 2e6, f64::NAN] {
        refused(with_bridge(Bridge::quarter_ideal(Ohms(bad))), Field::GaugeResistance, bad);
        refused(with_bridge(bridge().completion(Ohms(bad))), Field::CompletionResistance, bad);
    }
    refused(with_bridge(bridge().reference_half(Ohms(0.0), plain)), Field::ReferenceResistance, 0.0);
    refused(with_bridge(bridge().reference_half(plain, Ohms(-1.0))), Field::ReferenceResistance, -1.0);
    refused(with_bridge(bridge().input_resistance(Ohms(100.0))), Field::InputResistance, 100.0);
}

#[test]
fn source() {
    for bits in [0, 7, 33, 64, u32::MAX] {
        refused(with_converter(Converter::bipolar(bits, Ratio(0.01))), Field::ConverterBits, f64::from(bits));
    }
    for bad in [0.0, -0.01, f64::NAN, f64::INFINITY] {
        refused(with_converter(Converter::bipolar(24, Ratio(bad))), Field::FullScaleRatio, bad);
    }
    for bad in [0.0, -1.0, 1e4, f64::NAN] {
        let instrument = Instrument::showing(Microstrain(bad), GaugeFactor(2.0));
        refused(Channel::from_readings(gauge(), instrument), Field::ReadingStep, bad);
    }
    // The exact ends of a step, with any setting: the ratio of a code that is made of both is nobody's input.
    for factor in [0.1, 0.3, 1.0, 2.0, 2.085, 3.3, 7.0, 500.0] {
        for step in [1e-6, 1e3] {
            let shown = Converter::linear_strain(Microstrain(step), GaugeFactor(factor));
            let channel = with_converter(shown).strain_within(Microstrain(5_000.0));
            assert_eq!(channel.check(), Ok(()), "{step} {factor}");
        }
        let beyond = Converter::linear_strain(Microstrain(1_000.001), GaugeFactor(factor));
        let Err(Error::Invalid { field: Field::ReadingStep, .. }) = with_converter(beyond).check() else {
            panic!("accepted: {factor}")
        };
    }
    let instrument = Instrument::showing(Microstrain(1.0), GaugeFactor(0.0));
    refused(Channel::from_readings(gauge(), instrument), Field::InstrumentGaugeFactor, 0.0);
}

#[test]
fn balance() {
    // A code at a rail, or beyond what the converter has: the bridge was not balanced, it saturated.
    for bad in [8_388_607.0, -8_388_608.0, 1e9, f64::NAN, f64::NEG_INFINITY] {
        refused(channel().balanced(bad, Celsius(20.0)), Field::BalanceCode, bad);
    }
    assert!(channel().balanced(8_388_605.5, Celsius(20.0)).check().is_ok());
    for bad in [-101.0, 151.0, f64::NAN] {
        refused(channel().balanced(0.0, Celsius(bad)), Field::BalanceTemperature, bad);
    }
    // Resistors that cannot give the ratio seen at balance.
    let far = Channel::new(gauge(), bridge(), Converter::bipolar(24, Ratio(1.0)))
        .balanced(0.6 * 8_388_608.0, Celsius(20.0));
    refused(far, Field::BalanceRatio, 0.6);
    let lame = Channel::new(gauge(), bridge().completion(Ohms(50.0)), Converter::bipolar(24, Ratio(1.0)))
        .balanced(-0.3 * 8_388_608.0, Celsius(20.0));
    refused(lame, Field::BalanceRatio, -0.3);
}

#[test]
fn ranges() {
    for bad in [0.0, -5.0, 0.5, 62_501.0, f64::NAN, f64::INFINITY] {
        refused(channel().strain_within(Microstrain(bad)), Field::StrainRange, bad);
    }
    // Outside the fitted range nothing may be declared.
    let within = |low, high| channel().temperature_within(Celsius(low), Celsius(high));
    refused(within(-101.0, 100.0), Field::TemperatureLow, -101.0);
    refused(within(-50.0, 151.0), Field::TemperatureHigh, 151.0);
    refused(within(60.0, 50.0), Field::TemperatureHigh, 50.0);
    refused(within(f64::NAN, 50.0), Field::TemperatureLow, f64::NAN);
    for bad in [1.0, f64::NAN] {
        let matched = gauge().matched_to(ExpansionPerCelsius::ppm(11.0));
        refused(with_gauge(matched).specimen(ExpansionPerCelsius(bad)), Field::SpecimenExpansion, bad * 1e6);
    }
    // What is too narrow to be spread says how narrow it is.
    for width in [0.03, 0.0624] {
        let narrow = within(20.0, 20.0 + width).try_fixed::<4, 1>().unwrap_err();
        let Error::Invalid { field: Field::TemperatureWidth, value, low, high } = narrow else {
            panic!("{narrow:?}")
        };
        assert!((value - width).abs() < 2.0 / 1_048_576.0 && (low, high) == (0.0625, 4095.0), "{narrow:?}");
    }
    assert!(within(20.0, 20.0626).try_fixed::<4, 1>().is_ok());
    // A specimen of another expansion needs to know what the gauge is matched to.
    refused(channel().specimen(ExpansionPerCelsius::ppm(16.0)), Field::MatchedExpansion, f64::NAN);
}

/// Terms of a thousand times the result would leave nothing of double precision's digits.
#[test]
fn packages_that_cancel_beyond_double_precision_are_refused() {
    let hot = |curve: ThermalOutput, change: [f64; 3]| {
        let gauge = Gauge::new(GaugeFactor(2.0))
            .gauge_factor_polynomial(change)
            .thermal_output(curve.between(Celsius(1200.0), Celsius(1300.0)));
        with_gauge(gauge).strain_within(Microstrain(1_000.0)).balanced(0.0, Celsius(1250.0))
    };
    // (T - 1250)^5 written out in powers of T.
    let expanded = Polynomial::new([0.0, 0.0, 0.0, 0.0, 0.0, 1e-9]).substitute(-1250.0, 1.0).coefficients();
    for (curve, change) in [
        (ThermalOutput::celsius(expanded), [0.0; 3]),
        (ThermalOutput::celsius([0.0, 1e-3]), [0.0, -1e-5, 8e-9]),
    ] {
        for error in [
            hot(curve, change).try_fixed::<5, 3>().map(drop),
            hot(curve, change).try_float64::<5, 3>().map(drop),
        ] {
            assert!(
                matches!(
                    error,
                    Err(Error::Overflow { quantity: Quantity::Cancellation, .. }
                        | Error::Invalid {
                            field: Field::GaugeFactorCurve | Field::ThermalOutputCoefficient,
                            ..
                        })
                ),
                "{error:?}"
            );
        }
    }
    assert!(hot(ThermalOutput::celsius([-1250.0, 1.0]), [1e-5, 0.0, 0.0]).try_fixed::<5, 3>().is_ok());
}

/// How far terms may cancel, number by number: a quarter of full strain in all. Double precision rounds some thirty times on the
/// way, by 2^-53 each, and as often again when balance is subtracted.
#[test]
fn the_limit_of_cancellation_is_that_of_double_precision() {
    let roundings = 32.0 * 2f64.powi(-53);
    let (low, high) = (1200.0, 1300.0);
    // Zero at 1250 C, steep on both sides; stated for a gauge factor of 2.
    let steep = |steepness: f64, factor: f64| {
        let curve = ThermalOutput::celsius([0.0, steepness, -steepness / 1250.0]);
        let gauge =
            Gauge::new(GaugeFactor(factor)).thermal_output(curve.between(Celsius(low), Celsius(high)));
        with_gauge(gauge).strain_within(Microstrain(1_000.0))
    };
    let refused = |channel: Channel| match channel.try_fixed::<5, 3>() {
        Err(Error::Overflow { quantity: Quantity::Cancellation, value, limit: 1.0 }) => value,
        other => panic!("{other:?}"),
    };
    for factor in [2.0, 2.5] {
        let size = |steepness: f64, at: f64| {
            2.0 / factor * steepness * 1e-6 * (at + at * at / 1250.0) * 2.0 * roundings / 1.8e-15
        };
        let just = 1.0 / size(1.0, high);
        let value = refused(steep(just * 1.01, factor));
        assert!((value - size(just * 1.01, high)).abs() < 1e-9, "{value}");
        assert!(steep(just * 0.99, factor).try_fixed::<5, 3>().is_ok());
        // Half the steepness is fine, until another specimen turns the curve about a far reference temperature.
        let matched = |ppm: f64| {
            let gauge = Gauge::new(GaugeFactor(factor))
                .reference_temperature(Celsius(24.0))
                .matched_to(ExpansionPerCelsius::ppm(11.0))
                .thermal_output(
                    ThermalOutput::celsius([0.0, just * 0.9, -just * 0.9 / 1250.0])
                        .between(Celsius(low), Celsius(high)),
                );
            with_gauge(gauge)
                .strain_within(Microstrain(1_000.0))
                .balanced(0.0, Celsius(1250.0))
                .specimen(ExpansionPerCelsius::ppm(11.0 + ppm))
        };
        assert!(matched(1.0).try_fixed::<5, 3>().is_ok());
        let value = refused(matched(30.0));
        let turned = 30e-6 * (high + 24.0) * 2.0 * roundings / 1.8e-15;
        assert!((value - (size(just * 0.9, high) + turned)).abs() < 1e-9, "{value} {turned}");
    }
}

/// The same of a gauge factor whose terms cancel: one that is the package's again 1226 C above the reference.
#[test]
fn the_limit_of_cancellation_of_a_gauge_factor_is_that_of_double_precision() {
    let bent = |square: f64| {
        let gauge = Gauge::new(GaugeFactor(2.0))
            .gauge_factor_polynomial([-1226.0 * square, square, 0.0])
            .thermal_output(ThermalOutput::celsius([0.0, 1e-3]).between(Celsius(1240.0), Celsius(1260.0)));
        with_gauge(gauge).strain_within(Microstrain(1_000.0))
    };
    let far = 1260.0 + 24.0;
    let size = |square: f64| (1.0 + square * (1226.0 * far + far * far)) * 32.0 * 2f64.powi(-53) / 2.9e-14;
    for square in [2.3e-6, 4.5e-6] {
        let Err(Error::Overflow { quantity: Quantity::Cancellation, value, limit: 1.0 }) =
            bent(square).try_fixed::<5, 3>()
        else {
            panic!("{:?}", bent(square).try_fixed::<5, 3>())
        };
        assert!((value - size(square)).abs() < 1e-9, "{value}");
    }
    assert_eq!((size(2.2e-6) < 1.0, bent(2.2e-6).try_fixed::<5, 3>().err()), (true, None));
}

/// A converter's rails end its range; an instrument's readings need one declared.
#[test]
fn kernels_for_an_instrument_need_a_strain_range() {
    let endless = Channel::from_readings(gauge(), Instrument::showing(Microstrain(0.1), GaugeFactor(2.0)));
    assert_eq!(endless.check(), Ok(()));
    for error in [endless.try_fixed::<4, 1>().unwrap_err(), endless.try_float32::<4, 1>().unwrap_err()] {
        assert!(matches!(error, Error::Invalid { field: Field::StrainRange, value, .. } if value.is_nan()));
    }
    assert!(endless.strain_within(Microstrain(5_000.0)).try_fixed::<4, 1>().is_ok());
}

/// A rail is a rail: what the strain would be at the end of the window is not held against it as well.
#[test]
fn a_code_at_a_rail_raises_that_flag_alone() {
    let channel = channel().strain_within(Microstrain(2_000.0));
    let kernel: fixed::Kernel = channel.fixed();
    let single: float::Kernel<f32> = channel.float32();
    let t = fixed::Temperature::from_bits(24 << 20);
    for code in [i32::MIN, -8_388_608, 8_388_607, i32::MAX] {
        for flags in [
            kernel.reading(code, t).flags,
            kernel.at(t).reading(code).flags,
            single.reading(code, t).flags,
            single.at(t).reading(code).flags,
        ] {
            assert_eq!(flags, Flags::CODE_AT_RAIL);
        }
    }
    for code in [-8_388_607, 8_388_606] {
        assert_eq!(kernel.reading(code, t).flags, Flags::STRAIN_OUTSIDE);
        assert_eq!(kernel.at(t).reading(code).flags, Flags::STRAIN_OUTSIDE);
    }
}

#[test]
fn a_range_of_no_width_is_refused_by_the_kernels() {
    let point = channel().temperature_within(Celsius(20.0), Celsius(20.0));
    for error in [point.try_fixed::<4, 1>().unwrap_err(), point.try_float32::<4, 1>().unwrap_err()] {
        let Error::Invalid { field: Field::TemperatureWidth, value, low, .. } = error else {
            panic!("{error}")
        };
        assert!(value == 0.0 && low > 0.0);
    }
    let sliver = channel().temperature_within(Celsius(20.0), Celsius(20.1));
    assert!(sliver.try_fixed::<4, 1>().is_ok());
}

#[test]
fn what_does_not_fit_the_kernel_says_which_quantity() {
    let overflow = |channel: Channel| match channel.try_fixed::<5, 1>() {
        Err(Error::Overflow { quantity, value, limit }) => {
            assert!(value.abs() > limit.abs());
            let text = Error::Overflow { quantity, value, limit }.to_string();
            assert!(text.starts_with(quantity.name()), "{text}");
            quantity
        }
        other => panic!("{other:?}"),
    };
    // A converter without gain covers half a million microstrain.
    let plain = Channel::new(gauge(), bridge(), Converter::bipolar(24, Ratio(1.0 / 8.0)));
    assert_eq!(overflow(plain), Quantity::SignalGain);
    // And with twice that a gauge would have to lose itself.
    let more = Channel::new(gauge(), bridge(), Converter::bipolar(24, Ratio(1.0 / 4.0)));
    assert_eq!(overflow(more), Quantity::Signal);
    assert!(plain.strain_within(Microstrain(5_000.0)).try_fixed::<4, 1>().is_ok());
    // A gauge factor of 100 bends the bridge long before strain is large.
    let sensitive = Gauge::new(GaugeFactor(100.0)).thermal_output(curve());
    let covering = |full_scale| Channel::new(sensitive, bridge(), Converter::bipolar(24, Ratio(full_scale)));
    assert_eq!(overflow(covering(0.1)), Quantity::Divisor);
    assert_eq!(overflow(covering(0.15)), Quantity::BridgeCurvature);
    assert!(covering(0.25).strain_within(Microstrain(2_000.0)).try_fixed::<4, 1>().is_ok());
    // Thermal output of 0.2 is no strain gauge.
    let steep = |terms: &[f64]| {
        let curve = ThermalOutput::celsius_from(terms).between(Celsius(-100.0), Celsius(150.0));
        with_gauge(gauge().thermal_output(curve)).strain_within(Microstrain(500.0))
    };
    assert_eq!(overflow(steep(&[0.0, 1000.0])), Quantity::ThermalOutputConstant);
    // The rails leave nothing: thermal output shifts every code of the range past them.
    let shifted = steep(&[60_000.0]);
    assert_eq!(overflow(shifted), Quantity::CodeWindow);
    let bent = with_gauge(gauge().gauge_factor_polynomial([0.0, 1e-7, 0.0]));
    assert_eq!(overflow(bent), Quantity::GaugeFactorDegree);
    let fifth = steep(&[0.0, 0.0, 0.0, 0.0, 0.0, 1e-9]);
    assert_eq!(
        fifth.try_fixed::<4, 1>(),
        Err(Error::Overflow { quantity: Quantity::ThermalOutputDegree, value: 5.0, limit: 4.0 })
    );
    assert!(fifth.try_fixed::<5, 1>().is_ok());
}

#[test]
fn a_promise_that_is_missed_says_by_how_much() {
    let Err(Error::Bound { promised, bound, .. }) = channel().try_fixed_within::<4, 1>(Nanostrain(0.1))
    else {
        panic!("kept")
    };
    assert!(promised.0 == 0.1 && bound.0 > 0.1);
    let kept = channel().try_fixed_within::<4, 1>(bound).unwrap();
    assert_eq!(kept.error_bound().larger(), bound);
    assert!(matches!(channel().try_fixed_within::<4, 1>(Nanostrain(f64::NAN)), Err(Error::Bound { .. })));
}

#[test]
fn temperatures_of_a_sensor() {
    use fixed::Temperature;
    for bad in [f64::NAN, f64::INFINITY, 2048.0, -2048.0] {
        let error = Temperature::from_celsius(Celsius(bad)).unwrap_err();
        assert!(matches!(error, Error::Invalid { field: Field::Temperature, .. }));
    }
    assert!(Temperature::from_millicelsius(2_047_001).is_err());
    assert!(Temperature::from_millicelsius(i32::MIN).is_err());
    assert_eq!(Temperature::from_millicelsius(-1).unwrap().to_bits(), -1049);
    assert_eq!(Temperature::from_celsius(Celsius(-2047.0)).unwrap().to_bits(), -2047 << 20);
}
