//! A channel described in C becomes the kernel that the same channel becomes in Rust, to the last bit.

use std::ptr::null_mut;

use gaugewright::channel::{ForcedStrain, GaugeFactorBasis, MismatchScale};
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
        forced_strain: [0.0; 4],
        thermal_output_terms: 5,
        thermal_output_scale: GW_SCALE_CELSIUS,
        gauge_factor_basis: GW_BASIS_AT_BALANCE,
        reserved: 0,
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

fn channel_of(gauge: Gauge) -> Channel {
    Channel::new(gauge, quarter(), Converter::bipolar(24, Ratio(1.0 / 128.0)))
        .strain_within(Microstrain(4_000.0))
}

fn quarter() -> Bridge {
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2))
}

/// The seal of the kernel that C gets is that of Rust's.
#[track_caller]
fn same(c: gw_channel, rust: &Channel) -> u32 {
    let kernel: fixed::Kernel<5, 3, 1> = rust.try_fixed().unwrap();
    let (mut large, mut error, mut seal) =
        (gw_large_kernel::default(), gw_error::default(), gw_seal::default());
    // SAFETY: all of them live here.
    unsafe {
        assert_eq!(gw_large_kernel_build(&c, &mut large, &mut error), GW_STATUS_OK, "{error:?}");
        let (constants, size) = ((&raw const large).cast(), size_of_val(&large));
        assert_eq!(gw_seal_make(constants, size, &mut seal), GW_STATUS_OK);
        assert_eq!(gw_seal_check(constants, size, &seal, null_mut()), GW_STATUS_OK);
    }
    assert_eq!(large, gw_large_kernel::of(kernel));
    assert_eq!(seal, gw_seal::of(large.bytes()));
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

#[test]
fn every_basis_of_the_gauge_factor() {
    let forced = [3.0, 8.4, 3.6e-3, -1e-6];
    let built = |basis: u32| gw_channel {
        gauge: gw_gauge { gauge_factor_basis: basis, forced_strain: forced, ..c_gauge() },
        ..c_channel()
    };
    let rust = |basis| channel_of(gauge().gauge_factor_basis(basis));
    let seals = [
        same(built(GW_BASIS_AT_BALANCE), &rust(GaugeFactorBasis::AtBalance)),
        same(built(GW_BASIS_UNLOADED_GAUGE), &rust(GaugeFactorBasis::UnloadedGauge)),
        same(built(GW_BASIS_FREE_FOIL), &rust(GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree(forced)))),
    ];
    assert!(seals[0] != seals[1] && seals[1] != seals[2]);
    let (mut kernel, mut error) = (gw_kernel::default(), gw_error::default());
    let wrong = gw_channel {
        gauge: gw_gauge { forced_strain: [f64::NAN; 4], ..built(GW_BASIS_FREE_FOIL).gauge },
        ..c_channel()
    };
    for (channel, status, field) in [
        (built(0), GW_STATUS_CHOICE, GW_CHOICE_BASIS),
        (built(4), GW_STATUS_CHOICE, GW_CHOICE_BASIS),
        (wrong, GW_STATUS_INVALID, Field::ForcedStrainCoefficient.number()),
        (built(GW_BASIS_UNLOADED_GAUGE), GW_STATUS_OVERFLOW, Quantity::ProductConstants.number()),
    ] {
        // SAFETY: all of them live here.
        assert_eq!(unsafe { gw_kernel_build(&channel, &mut kernel, &mut error) }, status);
        assert_eq!(error.field, field);
    }
}

/// Strain in the low word, flags in the high one.
trait Packed {
    fn packed(&self) -> u64;
}

macro_rules! packed {
    ($($reading:ty: $strain:expr, $flags:expr;)*) => {
        $(impl Packed for $reading {
            fn packed(&self) -> u64 {
                u64::from($strain(self.strain)) | u64::from($flags(self.flags)) << 32
            }
        })*
    };
}
packed! {
    Reading<fixed::Strain>: |strain: fixed::Strain| strain.to_bits() as u32, Flags::bits;
    Reading<f32>: f32::to_bits, Flags::bits;
    gw_reading: |strain| strain as u32, u32::from;
    gw_float_reading: f32::to_bits, u32::from;
}

/// Kernels that the host makes read as those of Rust: one call, by a point, and in a block.
#[test]
fn other_kernels_read_as_in_rust() {
    use gaugewright::fixed::Temperature;
    let gauge = gauge().gauge_factor_polynomial([1e-4, 0.0, 0.0]);
    let one = channel_of(gauge);
    let both = Channel::new(
        gauge,
        Bridge::half_compensated(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .strain_within(Microstrain(4_000.0))
    .compensated_by(CompensatingGauge::new(gauge));
    let (two, large_two): (fixed::CompensatedKernel, fixed::CompensatedKernel<5, 3, 1>) =
        (both.fixed(), both.fixed());
    let (float, large_float): (float::Kernel<f32>, float::Kernel<f32, 5, 3, 1>) =
        (one.float32(), one.float32());
    let float_two: float::CompensatedKernel<f32> = both.float32();
    let large_float_two: float::CompensatedKernel<f32, 5, 3, 1> = both.float32();
    let mut random = 1u32;
    let mut next = |bits: u32| {
        random = random.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        random as i32 >> (32 - bits)
    };
    let mut seen = Flags::CLEAR;
    for round in 0..if cfg!(miri) { 20 } else { 5_000 } {
        let wide = if round % 4 == 0 { 32 } else { 24 };
        let (code, t, c) = (next(wide), next(wide + 4 - wide / 8), next(28));
        let (at, beside) = (Temperature::from_bits(t), Temperature::from_bits(c));
        seen |= two.reading(code, at, beside).flags;
        macro_rules! same {
            ($kernel:ident, $of_c:ident $one:ident $at:ident $readings:ident $of_point:ident, $($t:ident is $of_rust:ident),+) => {
                let of_c = $of_c::of($kernel);
                let mut block = [Default::default(); 1];
                // SAFETY: all of them live here.
                let (status, one, split) = unsafe {
                    (
                        $readings(&of_c, &code, $(&$t,)+ block.as_mut_ptr(), 1),
                        $one(&of_c, code, $($t),+),
                        $of_point(&$at(&of_c, $($t),+), code),
                    )
                };
                let found = (status, block[0].packed(), one, split);
                let one = $kernel.reading(code, $($of_rust),+).packed();
                let split = $kernel.at($($of_rust),+).reading(code).packed();
                let name = stringify!($of_c);
                assert_eq!(found, (GW_STATUS_OK, one, one, split), "{name}, code {code}, temperatures {t} and {c}");
            };
        }
        same!(two, gw_compensated_kernel gw_compensated_kernel_reading_packed gw_compensated_kernel_at
            gw_compensated_kernel_readings gw_point_reading_packed, t is at, c is beside);
        same!(large_two, gw_large_compensated_kernel gw_large_compensated_kernel_reading_packed
            gw_large_compensated_kernel_at gw_large_compensated_kernel_readings gw_point_reading_packed,
            t is at, c is beside);
        same!(float, gw_float_kernel gw_float_kernel_reading_packed gw_float_kernel_at gw_float_kernel_readings
            gw_float_point_reading_packed, t is at);
        same!(large_float, gw_large_float_kernel gw_large_float_kernel_reading_packed gw_large_float_kernel_at
            gw_large_float_kernel_readings gw_float_point_reading_packed, t is at);
        same!(float_two, gw_float_compensated_kernel gw_float_compensated_kernel_reading_packed
            gw_float_compensated_kernel_at gw_float_compensated_kernel_readings gw_float_point_reading_packed,
            t is at, c is beside);
        same!(large_float_two, gw_large_float_compensated_kernel gw_large_float_compensated_kernel_reading_packed
            gw_large_float_compensated_kernel_at gw_large_float_compensated_kernel_readings
            gw_float_point_reading_packed, t is at, c is beside);
    }
    assert!(cfg!(miri) || seen == Flags::CODE_AT_RAIL | Flags::TEMPERATURE_OUTSIDE | Flags::STRAIN_OUTSIDE);
}
