//! Channels that are refused, or not, for more than a number out of its range; `fields.rs` has those.

use crate::fields::{bridge, channel, converter, curve, gauge};
use approx::assert_abs_diff_eq;
use gaugewright::error::{Field, Quantity};
use gaugewright::numeric::Polynomial;
use gaugewright::units::*;
use gaugewright::*;

fn with_gauge(gauge: Gauge) -> Channel {
    Channel::new(gauge, bridge(), converter())
}

fn with_converter(converter: Converter) -> Channel {
    Channel::new(gauge(), bridge(), converter)
}

#[test]
fn the_channel_of_these_tests_is_sound() {
    assert_eq!(channel().check(), Ok(()));
    assert!(channel().try_fixed::<4, 1, 0>().is_ok());
}

/// With any setting: the ratio of a code that is made of both is nobody's input.
#[test]
fn the_exact_ends_of_a_reading_step_are_accepted() {
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
}

/// What is too narrow to be spread says how narrow it is.
#[test]
fn narrow_temperatures() {
    let within = |low, high| channel().temperature_within(Celsius(low), Celsius(high));
    for width in [0.03, 0.0624] {
        let narrow = within(20.0, 20.0 + width).try_fixed::<4, 1, 0>().unwrap_err();
        let Error::Invalid { field: Field::TemperatureWidth, value, low, high } = narrow else {
            panic!("{narrow:?}")
        };
        assert!((value - width).abs() < 2.0 / 1_048_576.0 && (low, high) == (0.0625, 4095.0), "{narrow:?}");
    }
    assert!(within(20.0, 20.0626).try_fixed::<4, 1, 0>().is_ok());
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
            hot(curve, change).try_fixed::<5, 3, 0>().map(drop),
            hot(curve, change).try_float64::<5, 3, 0>().map(drop),
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
    assert!(hot(ThermalOutput::celsius([-1250.0, 1.0]), [1e-5, 0.0, 0.0]).try_fixed::<5, 3, 0>().is_ok());
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
    let refused = |channel: Channel| match channel.try_fixed::<5, 3, 0>() {
        Err(Error::Overflow { quantity: Quantity::Cancellation, value, limit: 1.0 }) => value,
        other => panic!("{other:?}"),
    };
    for factor in [2.0, 2.5] {
        let size = |steepness: f64, at: f64| {
            2.0 / factor * steepness * 1e-6 * (at + at * at / 1250.0) * 2.0 * roundings / 1.8e-15
        };
        let just = 1.0 / size(1.0, high);
        let value = refused(steep(just * 1.01, factor));
        assert_abs_diff_eq!(value, size(just * 1.01, high), epsilon = 1e-9);
        assert!(steep(just * 0.99, factor).try_fixed::<5, 3, 0>().is_ok());
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
        assert!(matched(1.0).try_fixed::<5, 3, 0>().is_ok());
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
            bent(square).try_fixed::<5, 3, 0>()
        else {
            panic!("{:?}", bent(square).try_fixed::<5, 3, 0>())
        };
        assert_abs_diff_eq!(value, size(square), epsilon = 1e-9);
    }
    assert_eq!((size(2.2e-6) < 1.0, bent(2.2e-6).try_fixed::<5, 3, 0>().err()), (true, None));
}

/// A converter's rails end its range; an instrument's readings need one declared.
#[test]
fn kernels_for_an_instrument_need_a_strain_range() {
    let endless = Channel::from_readings(gauge(), Instrument::showing(Microstrain(0.1), GaugeFactor(2.0)));
    assert_eq!(endless.check(), Ok(()));
    for error in [endless.try_fixed::<4, 1, 0>().unwrap_err(), endless.try_float32::<4, 1, 0>().unwrap_err()]
    {
        assert!(matches!(error, Error::Invalid { field: Field::StrainRange, value, .. } if value.is_nan()));
    }
    assert!(endless.strain_within(Microstrain(5_000.0)).try_fixed::<4, 1, 0>().is_ok());
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
    for error in [point.try_fixed::<4, 1, 0>().unwrap_err(), point.try_float32::<4, 1, 0>().unwrap_err()] {
        let Error::Invalid { field: Field::TemperatureWidth, value, low, .. } = error else {
            panic!("{error}")
        };
        assert!(value == 0.0 && low > 0.0);
    }
    let sliver = channel().temperature_within(Celsius(20.0), Celsius(20.1));
    assert!(sliver.try_fixed::<4, 1, 0>().is_ok());
}

#[test]
fn what_does_not_fit_the_kernel_says_which_quantity() {
    let overflow = |channel: Channel| match channel.try_fixed::<5, 1, 0>() {
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
    assert!(plain.strain_within(Microstrain(5_000.0)).try_fixed::<4, 1, 0>().is_ok());
    // A gauge factor of 100 bends the bridge long before strain is large.
    let sensitive = Gauge::new(GaugeFactor(100.0)).thermal_output(curve());
    let covering = |full_scale| Channel::new(sensitive, bridge(), Converter::bipolar(24, Ratio(full_scale)));
    assert_eq!(overflow(covering(0.1)), Quantity::Divisor);
    assert_eq!(overflow(covering(0.15)), Quantity::BridgeCurvature);
    assert!(covering(0.25).strain_within(Microstrain(2_000.0)).try_fixed::<4, 1, 0>().is_ok());
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
        fifth.try_fixed::<4, 1, 0>(),
        Err(Error::Overflow { quantity: Quantity::ThermalOutputDegree, value: 5.0, limit: 4.0 })
    );
    assert!(fifth.try_fixed::<5, 1, 0>().is_ok());
}

#[test]
fn an_error_limit_that_is_exceeded_says_by_how_much() {
    let Err(Error::Bound { limit, bound, .. }) = channel().try_fixed_within::<4, 1, 0>(Nanostrain(0.1))
    else {
        panic!("kept")
    };
    assert!(limit.0 == 0.1 && bound.0 > 0.1);
    let kept = channel().try_fixed_within::<4, 1, 0>(bound).unwrap();
    assert_eq!(kept.error_bound().max(), bound);
    assert!(matches!(channel().try_fixed_within::<4, 1, 0>(Nanostrain(f64::NAN)), Err(Error::Bound { .. })));
}
