//! Random channels: every number drawn over the range that real ones have, and some beyond.

use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// Draws a channel. Not every one compiles to a kernel: some need more than it has room for.
pub fn channel() -> impl Strategy<Value = Channel> {
    channel_and_bits().prop_map(|(channel, _)| channel)
}

/// The same, and the bits of its converter.
pub fn channel_and_bits() -> impl Strategy<Value = (Channel, u32)> {
    (package(), bridge(), converter(), surroundings()).prop_map(|(gauge, bridge, (bits, gain), around)| {
        let converter = Converter::bipolar(bits, Ratio(0.5f64.powi(gain)));
        let mut channel = Channel::new(gauge, bridge, converter)
            .strain_within(Microstrain(around.strain))
            .temperature_within(Celsius(around.low), Celsius(around.low + around.span));
        if let Some(ppm) = around.specimen {
            channel = channel.specimen(ExpansionPerCelsius::ppm(ppm));
        }
        if let Some((share, temperature)) = around.balance {
            // Balanced within four tenths of full scale.
            let code = share * f64::from(i32::MAX >> (32 - bits));
            channel = channel.balanced(code, Celsius(temperature));
        }
        (channel.correction(around.correction).mismatch_scale(around.scale), bits)
    })
}

/// A gauge. Its coefficients are drawn for a variable that spans the range, which bounds each term's
/// share, and written out in degrees.
pub fn package() -> impl Strategy<Value = Gauge> {
    (
        1.8..4.5f64,
        -2.5..2.5f64,
        prop::array::uniform2(-1.0..1.0f64),
        prop::collection::vec(-2500.0..2500.0f64, 1..=6),
        any::<bool>(),
        1.9..2.2f64,
        0.0..25.0f64,
        -1.0..1.0f64,
    )
        .prop_map(|(factor, slope, bend, terms, fahrenheit, stated, matched, transverse)| {
            // Terms of a variable that is -1 to 1 over -200 to 300 C, written out in degrees.
            let mut shape = [0.0; 6];
            shape[..terms.len()].copy_from_slice(&terms);
            let middle = Polynomial::new(shape).substitute(-50.0 / 250.0, 1.0 / 250.0);
            let coefficients = if fahrenheit {
                middle.substitute(-32.0 / 1.8, 1.0 / 1.8).coefficients()
            } else {
                middle.coefficients()
            };
            let curve = if fahrenheit {
                ThermalOutput::fahrenheit_from(&coefficients[..terms.len()])
            } else {
                ThermalOutput::celsius_from(&coefficients[..terms.len()])
            };
            Gauge::new(GaugeFactor(factor))
                .gauge_factor_polynomial([slope * 1e-4, bend[0] * 1e-7, bend[1] * 1e-10])
                .matched_to(ExpansionPerCelsius::ppm(matched))
                .transverse_sensitivity(Percent(transverse))
                .thermal_output(
                    curve.stated_for(GaugeFactor(stated)).between(Celsius(-200.0), Celsius(300.0)),
                )
        })
}

pub fn bridge() -> impl Strategy<Value = Bridge> {
    (
        prop_oneof![Just(120.0), Just(350.0), Just(1000.0), 100.0..5000.0f64],
        0.0..0.08f64,
        (0..9u8, 0.2..0.45f64, any::<bool>(), any::<bool>()),
        prop::option::of(-0.02..0.02f64),
        prop::option::of(-0.02..0.02f64),
        prop::option::of(1e5..1e9f64),
    )
        .prop_map(|(gauge, lead, (kind, nu, sensed, reversed), completion, reference, input)| {
            let (gauge, leads) = (Ohms(gauge), Ohms(gauge * lead));
            let mut bridge = match kind {
                0 => Bridge::quarter_two_wire(gauge, leads),
                1 => Bridge::quarter_three_wire(gauge, leads),
                2 => Bridge::half_compensated(gauge, leads),
                3 => Bridge::half_poisson(gauge, leads, nu),
                4 => Bridge::half_bending(gauge, leads),
                5 => Bridge::full_bending(gauge).leads(leads),
                6 => Bridge::full_poisson(gauge, nu).leads(leads),
                7 => Bridge::full_torsion(gauge).leads(leads),
                _ => Bridge::opposite_arms(gauge).leads(leads),
            };
            if sensed {
                bridge = bridge.remote_sense();
            }
            if reversed {
                bridge = bridge.reversed();
            }
            if let Some(off) = completion {
                bridge = bridge.completion(Ohms(gauge.0 * (1.0 + off)));
            }
            if let Some(off) = reference {
                let upper = if kind < 5 { 1000.0 } else { gauge.0 };
                bridge = bridge.reference_half(Ohms(upper), Ohms(upper * (1.0 + off)));
            }
            if let Some(input) = input {
                bridge = bridge.input_resistance(Ohms(input));
            }
            bridge
        })
}

/// Bits, and the gain as a power of two.
fn converter() -> impl Strategy<Value = (u32, i32)> {
    (8..=32u32, 4..=8i32)
}

#[derive(Debug, Clone)]
struct Surroundings {
    strain: f64,
    low: f64,
    span: f64,
    specimen: Option<f64>,
    balance: Option<(f64, f64)>,
    correction: Correction,
    scale: MismatchScale,
}

fn surroundings() -> impl Strategy<Value = Surroundings> {
    (
        20.0..40_000.0f64,
        -200.0..200.0f64,
        0.0..1.0f64,
        prop::option::of(0.0..30.0f64),
        prop::option::of((-0.4..0.4f64, -50.0..150.0f64)),
        prop_oneof![
            6 => Just(Correction::Full),
            1 => Just(Correction::ThermalOutput),
            1 => Just(Correction::None)
        ],
        prop_oneof![
            Just(MismatchScale::GaugeFactorAtTemperature),
            Just(MismatchScale::GaugeFactorAtReference),
            Just(MismatchScale::StatedGaugeFactor)
        ],
    )
        .prop_map(|(strain, low, share, specimen, balance, correction, scale)| Surroundings {
            correction,
            scale,
            strain,
            low,
            span: 0.5 + share * (300.0 - low - 0.5),
            specimen,
            balance,
        })
}

/// Runs a property with the fixed seed, or with the one named in `GAUGEWRIGHT_SEED` (any text). The seed is
/// printed, so that a failure can be repeated.
pub fn check<S: Strategy>(
    name: &'static str,
    cases: u32,
    strategy: S,
    property: impl Fn(S::Value) -> Result<(), TestCaseError>,
) {
    let text = std::env::var("GAUGEWRIGHT_SEED").unwrap_or_else(|_| "fixed".into());
    println!("{name}: seed {text:?}, {cases} cases");
    let mut seed = [0u8; 32];
    for (i, byte) in text.bytes().chain(name.bytes()).enumerate() {
        seed[i % 32] = seed[i % 32].wrapping_mul(31).wrapping_add(byte);
    }
    let config = Config { cases, failure_persistence: None, max_global_rejects: 20_000, ..Config::default() };
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &seed);
    let mut runner = TestRunner::new_with_rng(config, rng);
    if let Err(error) = runner.run(&strategy, property) {
        panic!("{name} (GAUGEWRIGHT_SEED={text}): {error}");
    }
}
