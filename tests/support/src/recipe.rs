//! Random channels: every number drawn over the range that real ones have, and some beyond.

use super::described::{Basis, Description, FactorChange, Origin, Package, Wired};
use gaugewright::channel::MismatchScale;
use gaugewright::numeric::Polynomial;
use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// Draws a channel. Not every one compiles to a kernel: some need more than it has room for.
pub fn channel() -> impl Strategy<Value = Channel> {
    description().prop_map(|described| described.channel())
}

/// The same, and the bits of its converter.
pub fn channel_and_bits() -> impl Strategy<Value = (Channel, u32)> {
    description().prop_map(|described| with_bits(&described))
}

/// A channel and the bits of its converter.
pub fn with_bits(described: &Description) -> (Channel, u32) {
    match described.origin {
        Origin::Codes(_, bits, _) => (described.channel(), bits),
        Origin::Readings(..) => (described.channel(), 32),
    }
}

/// The same, as the numbers it is made of.
pub fn description() -> impl Strategy<Value = Description> {
    (described_package(), wired(), converter(), surroundings()).prop_map(
        |(package, wired, (bits, gain), around)| Description {
            specimen: around.specimen,
            mismatch: around.scale,
            // Balanced within four tenths of full scale.
            balance: around
                .balance
                .map(|(share, temperature)| (share * f64::from(i32::MAX >> (32 - bits)), temperature)),
            strain: Some(around.strain),
            temperatures: Some((around.low, around.low + around.span)),
            correction: around.correction,
            ..Description::new(package, Origin::Codes(wired, bits, 0.5f64.powi(gain)))
        },
    )
}

/// The same with a gauge factor that refers to another resistance, and full correction.
pub fn with_other_basis() -> impl Strategy<Value = Description> {
    (description(), basis()).prop_map(|(mut described, basis)| {
        described.package.basis = basis;
        Description { correction: Correction::Full, ..described }
    })
}

/// The same under a load whose ratio of strains is stated, with a transverse sensitivity within 5 %.
pub fn in_a_field(described: impl Strategy<Value = Description>) -> impl Strategy<Value = Description> {
    (described, -4.0..2.0f64).prop_map(|(mut described, mut ratio)| {
        described.package.transverse *= 5.0;
        if let Origin::Codes(wired, ..) = &mut described.origin {
            wired.across = described.package.transverse;
            if matches!(wired.circuit, Circuit::HalfPoisson | Circuit::FullPoisson) {
                ratio = -wired.poisson;
            }
        }
        Description { strain_ratio: Some(ratio), ..described }
    })
}

/// Expansions of foil and specimen up to 20 ppm/C apart, and not in proportion to temperature.
fn basis() -> impl Strategy<Value = Basis> {
    let foil = (-20.0..20.0f64, -0.01..0.01f64, -2e-5..2e-5f64)
        .prop_map(|(a, b, c)| Basis::FreeFoil([0.0, a, b, c]));
    prop_oneof![Just(Basis::UnloadedGauge), foil]
}

pub fn package() -> impl Strategy<Value = Gauge> {
    described_package().prop_map(|package| package.gauge())
}

/// A gauge. Its coefficients are drawn for a variable that spans the range, which bounds each term's
/// share, and written out in degrees.
fn described_package() -> impl Strategy<Value = Package> {
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
            Package {
                factor,
                change: FactorChange::Polynomial([slope * 1e-4, bend[0] * 1e-7, bend[1] * 1e-10]),
                curve: coefficients[..terms.len()].to_vec(),
                fahrenheit,
                stated_for: stated,
                fitted: (-200.0, 300.0),
                reference: 24.0,
                matched: Some(matched),
                transverse,
                basis: Basis::AtBalance,
            }
        })
}

/// A half bridge whose compensating gauge has a temperature of its own: full correction, up to 4000 microstrain, both gauges
/// from -200 to 300 C.
pub fn compensated() -> impl Strategy<Value = CompensatedChannel> {
    compensated_of(package())
}

/// The same with a gauge factor that refers to another resistance.
pub fn compensated_with_other_basis() -> impl Strategy<Value = CompensatedChannel> {
    let first =
        (described_package(), basis()).prop_map(|(package, basis)| Package { basis, ..package }.gauge());
    compensated_of(first)
}

fn compensated_of(first: impl Strategy<Value = Gauge>) -> impl Strategy<Value = CompensatedChannel> {
    let specimens = (prop::option::of(0.0..30.0f64), prop::option::of(0.0..30.0f64));
    let balance = prop::option::of((-0.05..0.05f64, -50.0..150.0f64, prop::option::of(-50.0..150.0f64)));
    (first, package(), 16..=32u32, 0.0..0.05f64, specimens, balance, any::<bool>()).prop_map(
        |(first, second, bits, lead, specimens, balance, reversed)| {
            let mut bridge = Bridge::half_compensated(Ohms(350.0), Ohms(350.0 * lead));
            if reversed {
                bridge = bridge.reversed();
            }
            let mut channel = Channel::new(first, bridge, Converter::bipolar(bits, Ratio(1.0 / 64.0)))
                .strain_within(Microstrain(4_000.0));
            let mut compensating = CompensatingGauge::new(second);
            if let Some(ppm) = specimens.0 {
                channel = channel.specimen(ExpansionPerCelsius::ppm(ppm));
            }
            if let Some(ppm) = specimens.1 {
                compensating = compensating.specimen(ExpansionPerCelsius::ppm(ppm));
            }
            if let Some((share, temperature, other)) = balance {
                let code = share * f64::from(i32::MAX >> (32 - bits));
                channel = channel.balanced(code, Celsius(temperature));
                if let Some(other) = other {
                    compensating = compensating.balanced_at(Celsius(other));
                }
            }
            channel.compensated_by(compensating)
        },
    )
}

fn wired() -> impl Strategy<Value = Wired> {
    (
        prop_oneof![Just(120.0), Just(350.0), Just(1000.0), 100.0..5000.0f64],
        0.0..0.08f64,
        (0..9u8, 0.2..0.45f64, any::<bool>(), any::<bool>()),
        prop::option::of(-0.02..0.02f64),
        prop::option::of(-0.02..0.02f64),
        prop::option::of(1e5..1e9f64),
    )
        .prop_map(|(gauge, lead, (kind, nu, sensed, reversed), completion, reference, input)| {
            let circuit = match kind {
                0 | 1 => Circuit::Quarter,
                2 => Circuit::HalfCompensated,
                3 => Circuit::HalfPoisson,
                4 => Circuit::HalfBending,
                5 => Circuit::FullBending,
                6 => Circuit::FullPoisson,
                7 => Circuit::FullTorsion,
                _ => Circuit::OppositeArms,
            };
            let upper = if kind < 5 { 1000.0 } else { gauge };
            Wired {
                two_wire: kind == 0,
                poisson: if matches!(kind, 3 | 6) { nu } else { 0.0 },
                completion: completion.map(|off| gauge * (1.0 + off)),
                reference: reference.map(|off| (upper, upper * (1.0 + off))),
                input,
                sensed,
                reversed,
                ..Wired::new(circuit, gauge, gauge * lead)
            }
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
