//! A channel described in C becomes the kernel that the same channel becomes in Rust, to the last bit.
#![cfg(feature = "ffi")]

use std::ptr::null_mut;

use gaugewright::channel::MismatchScale;
use gaugewright::error::{Field, Quantity};
use gaugewright::ffi::*;
use gaugewright::units::*;
use gaugewright::*;

const CURVE: [f64; 6] = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7, 0.0];

/// With every field of the gauge stated.
fn c_gauge() -> gw_gauge {
    gw_gauge {
        gauge_factor: 2.065,
        gauge_factor_slope: 1.07,
        gauge_factor_square: 1.5e-7,
        gauge_factor_cube: -2.0e-10,
        thermal_output: CURVE,
        stated_for: 2.01,
        fitted_low: -80.0,
        fitted_high: 120.0,
        reference_temperature: 23.0,
        matched_expansion: 23.0,
        transverse_sensitivity: 0.6,
        calibration_poisson_ratio: 0.28,
        thermal_output_terms: 5,
        thermal_output_scale: GW_SCALE_CELSIUS,
    }
}

fn gauge() -> Gauge {
    with_curve(ThermalOutput::celsius_from(&CURVE[..5]))
}

fn with_curve(curve: ThermalOutput) -> Gauge {
    Gauge::new(GaugeFactor(2.065))
        .gauge_factor_polynomial([PercentPer100C(1.07).per_celsius(), 1.5e-7, -2.0e-10])
        .reference_temperature(Celsius(23.0))
        .matched_to(ExpansionPerCelsius::ppm(23.0))
        .transverse_sensitivity(Percent(0.6))
        .calibration_poisson_ratio(0.28)
        .thermal_output(curve.stated_for(GaugeFactor(2.01)).between(Celsius(-80.0), Celsius(120.0)))
}

fn c_channel() -> gw_channel {
    gw_channel {
        gauge: c_gauge(),
        gauge_resistance: 350.0,
        lead_resistance: 1.2,
        full_scale_ratio: 1.0 / 128.0,
        converter_bits: 24,
        circuit: GW_CIRCUIT_QUARTER_THREE_WIRE,
        strain_limit: 4_000.0,
        ..Default::default()
    }
}

fn channel(bridge: Bridge) -> Channel {
    Channel::new(gauge(), bridge, Converter::bipolar(24, Ratio(1.0 / 128.0)))
        .strain_within(Microstrain(4_000.0))
}

fn quarter() -> Bridge {
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2))
}

/// The seal of the kernel that C gets is that of Rust's.
#[track_caller]
fn same(c: gw_channel, rust: &Channel) -> u32 {
    let kernel: fixed::Kernel<5, 3> = rust.try_fixed().unwrap();
    let (mut large, mut error, mut seal) =
        (gw_large_kernel::default(), gw_error::default(), gw_seal::default());
    // SAFETY: all of them live here.
    unsafe {
        assert_eq!(gw_large_kernel_build(&c, &mut large, &mut error), GW_STATUS_OK, "{error:?}");
        assert_eq!(gw_large_kernel_seal(&large, &mut seal), GW_STATUS_OK);
        assert_eq!(gw_large_kernel_check(&large, &seal, null_mut()), GW_STATUS_OK);
    }
    assert_eq!((seal.format, seal.checksum), (fixed::FORMAT, kernel.checksum()));
    seal.checksum
}

#[test]
fn every_circuit() {
    let (r, lead) = (Ohms(350.0), Ohms(1.2));
    let seals = [
        (GW_CIRCUIT_QUARTER_TWO_WIRE, Bridge::quarter_two_wire(r, lead)),
        (GW_CIRCUIT_QUARTER_THREE_WIRE, Bridge::quarter_three_wire(r, lead)),
        (GW_CIRCUIT_HALF_COMPENSATED, Bridge::half_compensated(r, lead)),
        (GW_CIRCUIT_HALF_POISSON, Bridge::half_poisson(r, lead, 0.3)),
        (GW_CIRCUIT_HALF_BENDING, Bridge::half_bending(r, lead)),
        (GW_CIRCUIT_FULL_BENDING, Bridge::full_bending(r).leads(lead)),
        (GW_CIRCUIT_FULL_POISSON, Bridge::full_poisson(r, 0.3).leads(lead)),
        (GW_CIRCUIT_FULL_TORSION, Bridge::full_torsion(r).leads(lead)),
        (GW_CIRCUIT_OPPOSITE_ARMS, Bridge::opposite_arms(r).leads(lead)),
    ]
    .map(|(circuit, bridge)| {
        same(gw_channel { circuit, poisson_ratio: 0.3, ..c_channel() }, &channel(bridge))
    });
    // A shaft's bridge and a beam's are one to the kernel, and no other two.
    assert_eq!(seals[5], seals[7]);
    let different: std::collections::BTreeSet<_> = seals.into_iter().collect();
    assert_eq!(different.len(), seals.len() - 1);
}

#[test]
fn every_field_of_a_channel() {
    let plain = same(c_channel(), &channel(quarter()));
    let c = c_channel;
    let full = || Bridge::full_bending(Ohms(350.0)).leads(Ohms(1.2));
    let c_full = || gw_channel { circuit: GW_CIRCUIT_FULL_BENDING, ..c() };
    for (c, rust) in [
        (gw_channel { completion_resistance: 349.0, ..c() }, channel(quarter().completion(Ohms(349.0)))),
        (
            gw_channel { reference_upper: 1000.0, reference_lower: 1001.0, ..c() },
            channel(quarter().reference_half(Ohms(1000.0), Ohms(1001.0))),
        ),
        (gw_channel { input_resistance: 1e6, ..c() }, channel(quarter().input_resistance(Ohms(1e6)))),
        (
            gw_channel { input_resistance: 1e6, output_lead_resistance: 9.0, ..c_full() },
            channel(full().output_leads(Ohms(9.0)).input_resistance(Ohms(1e6))),
        ),
        (gw_channel { remote_sense: 1, ..c_full() }, channel(full().remote_sense())),
        (gw_channel { reversed: 7, ..c() }, channel(quarter().reversed())),
        (
            gw_channel { balance_code: -1234.5, balance_temperature: 18.5, ..c() },
            channel(quarter()).balanced(-1234.5, Celsius(18.5)),
        ),
        (gw_channel { strain_limit: 3_000.0, ..c() }, channel(quarter()).strain_within(Microstrain(3_000.0))),
        (
            gw_channel { temperature_low: -50.0, temperature_high: 70.0, ..c() },
            channel(quarter()).temperature_within(Celsius(-50.0), Celsius(70.0)),
        ),
        (
            gw_channel { specimen_expansion: 21.5, ..c() },
            channel(quarter()).specimen(ExpansionPerCelsius::ppm(21.5)),
        ),
        (gw_channel { span_correction: 1.01, ..c() }, channel(quarter()).span_correction(1.01)),
        (
            gw_channel { correction: GW_CORRECTION_THERMAL_OUTPUT, ..c() },
            channel(quarter()).correction(Correction::ThermalOutput),
        ),
        (
            gw_channel { correction: GW_CORRECTION_NONE, ..c() },
            channel(quarter()).correction(Correction::None),
        ),
        (
            gw_channel { correction: GW_CORRECTION_NONE, instrument_gauge_factor: 2.0, ..c() },
            channel(quarter()).correction(Correction::None).instrument_gauge_factor(GaugeFactor(2.0)),
        ),
    ] {
        assert_ne!(same(c, &rust), plain, "{c:?}");
    }
}

#[test]
fn every_scale_of_a_mismatch() {
    let mismatched =
        |scale| channel(quarter()).specimen(ExpansionPerCelsius::ppm(12.0)).mismatch_scale(scale);
    let seals = [
        (GW_MISMATCH_AT_TEMPERATURE, MismatchScale::GaugeFactorAtTemperature),
        (GW_MISMATCH_AT_REFERENCE, MismatchScale::GaugeFactorAtReference),
        (GW_MISMATCH_STATED, MismatchScale::StatedGaugeFactor),
    ]
    .map(|(number, scale)| {
        let c = gw_channel { mismatch_scale: number, specimen_expansion: 12.0, ..c_channel() };
        same(c, &mismatched(scale))
    });
    assert!(seals[0] != seals[1] && seals[1] != seals[2] && seals[0] != seals[2]);
}

#[test]
fn every_kind_of_converter() {
    let showing = gw_channel {
        circuit: GW_CIRCUIT_INSTRUMENT,
        reading_step: 0.5,
        instrument_gauge_factor: 2.0,
        ..c_channel()
    };
    let rust = |factor| {
        Channel::from_readings(gauge(), Instrument::showing(Microstrain(0.5), GaugeFactor(factor)))
            .strain_within(Microstrain(4_000.0))
    };
    same(showing, &rust(2.0));
    same(gw_channel { instrument_gauge_factor: f64::NAN, ..showing }, &rust(2.065));
    let linear = gw_channel {
        circuit: GW_CIRCUIT_QUARTER_THREE_WIRE,
        converter: GW_CONVERTER_LINEAR_STRAIN,
        ..showing
    };
    let rust = |factor| {
        Channel::new(gauge(), quarter(), Converter::linear_strain(Microstrain(0.5), GaugeFactor(factor)))
            .strain_within(Microstrain(4_000.0))
    };
    same(linear, &rust(2.0).instrument_gauge_factor(GaugeFactor(2.0)));
    same(gw_channel { instrument_gauge_factor: f64::NAN, ..linear }, &rust(2.065));
}

#[test]
fn fahrenheit_and_no_thermal_output() {
    let mut c = c_channel();
    c.gauge.thermal_output_scale = GW_SCALE_FAHRENHEIT;
    let converter = Converter::bipolar(24, Ratio(1.0 / 128.0));
    let rust = Channel::new(with_curve(ThermalOutput::fahrenheit_from(&CURVE[..5])), quarter(), converter);
    same(c, &rust.strain_within(Microstrain(4_000.0)));
    c = c_channel();
    c.gauge.thermal_output_terms = 0;
    // A full bridge shows none.
    (c.circuit, c.temperature_low, c.temperature_high) = (GW_CIRCUIT_FULL_BENDING, -50.0, 70.0);
    let bare = Gauge::new(GaugeFactor(2.065))
        .gauge_factor_polynomial([PercentPer100C(1.07).per_celsius(), 1.5e-7, -2.0e-10])
        .reference_temperature(Celsius(23.0));
    let rust = Channel::new(bare, Bridge::full_bending(Ohms(350.0)).leads(Ohms(1.2)), converter);
    let rust = rust.temperature_within(Celsius(-50.0), Celsius(70.0)).strain_within(Microstrain(4_000.0));
    same(c, &rust);
}

/// Where a channel is refused, C is told what Rust is told.
#[test]
fn the_same_is_refused() {
    let refused = |c: &gw_channel| {
        let (mut kernel, mut error) = (gw_kernel::default(), gw_error::default());
        // SAFETY: all of them live here.
        assert_ne!(unsafe { gw_kernel_build(c, &mut kernel, &mut error) }, GW_STATUS_OK);
        error
    };
    let error = refused(&gw_channel { temperature_high: 150.0, ..c_channel() });
    assert_eq!((error.code, error.field), (GW_STATUS_INVALID, Field::TemperatureLow.number()));
    assert!(error.value.is_nan());
    let error = refused(&gw_channel { reference_lower: 1000.0, ..c_channel() });
    assert_eq!((error.code, error.field), (GW_STATUS_INVALID, Field::ReferenceResistance.number()));
    // A cubic gauge factor has no room in the small kernel.
    let error = refused(&c_channel());
    assert_eq!((error.code, error.field), (GW_STATUS_OVERFLOW, Quantity::GaugeFactorDegree.number()));
    let mut c = c_channel();
    (c.gauge.gauge_factor_square, c.gauge.gauge_factor_cube) = (0.0, 0.0);
    c.error_within = 0.25;
    let error = refused(&c);
    let rust = Channel::new(
        gauge().gauge_factor_polynomial([PercentPer100C(1.07).per_celsius(), 0.0, 0.0]),
        quarter(),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    );
    let rust = rust.strain_within(Microstrain(4_000.0));
    let Err(Error::Bound { limit, bound, .. }) = rust.try_fixed_within::<4, 1, 0>(Nanostrain(0.25)) else {
        panic!("the error limit was met")
    };
    assert_eq!((error.code, error.value, error.high), (GW_STATUS_BOUND, bound.0, limit.0));
}
