//! Budgets against Monte Carlo (JCGM 101:2008): every input drawn, every trial through the double-precision model of the
//! network. Standard uncertainties agree to a few parts in a thousand. Clause 8 of the same: the ends of 95 % intervals
//! agree to half of the last significant digit of the standard uncertainty, the second where the budget is nearly straight,
//! the first where it is not: a reading over an uncertain gauge factor has its longer tail above, which moves both ends by
//! twice its square (a tenth of a microstrain at a thousand and half a percent), and so has a bent curve. First
//! order knows nothing of tails.

use gaugewright::uncertainty::Input;
use gaugewright::units::*;
use gaugewright::*;
use support::Random;
use support::described::{Description, FactorChange, Origin, Wired};
use support::perturbed::{Measured, Uncertain};
use support::set::package;
use support::tolerance;

/// JCGM 101:2008, 7.2.2: a million trials give a 95 % interval to one or two significant digits.
const TRIALS: usize = 1_000_000;
const SEED: u64 = 101;

/// A standard normal number (Box and Muller, 1958).
fn normal(random: &mut Random) -> f64 {
    let uniform = |random: &mut Random| ((random.bits() >> 11) as f64 + 0.5) / (1u64 << 53) as f64;
    let size = (-2.0 * uniform(random).ln()).sqrt();
    size * (std::f64::consts::TAU * uniform(random)).cos()
}

/// A gauge of the data files on its own material or another, on leads.
fn strut(wired: Wired) -> Description {
    Description {
        specimen: Some(21.5),
        balance: Some((-12_345.0, 18.5)),
        strain: Some(20_000.0),
        temperatures: Some((-196.0, 250.0)),
        ..Description::new(
            package("gauge_on_aluminium", 4, "degC", "exact"),
            Origin::Codes(wired, 24, 1.0 / 64.0),
        )
    }
}

fn quarter() -> Wired {
    Wired::new(Circuit::Quarter, 350.0, 1.2)
}

/// What a careful installation has.
const CAREFUL: Uncertain = Uncertain::NONE
    .with(Input::GaugeFactor, 0.5)
    .with(Input::GaugeFactorSlope, 0.05)
    .with(Input::Temperature, 0.2)
    .with(Input::BalanceTemperature, 0.1)
    .with(Input::Thermometer, 0.3)
    .with(Input::ThermalOutput, 2.0)
    .with(Input::ThermalOutputSlope, 0.05)
    .with(Input::Expansion, 0.1)
    .with(Input::LeadResistance, 0.05)
    .with(Input::Ratio, 0.02)
    .with(Input::Noise, 60.0)
    .with(Input::BalanceNoise, 20.0)
    .with(Input::Kernel, 0.4);

/// Standard uncertainty and 95 % interval of the trials, sorted: those in the middle.
struct Trials {
    deviation: f64,
    low: f64,
    high: f64,
}

fn trials(measured: &Measured, uncertain: &Uncertain) -> Trials {
    let mut random = Random(SEED);
    let mut found: Vec<f64> = (0..TRIALS)
        .map(|_| {
            let mut drawn = [0.0; Input::COUNT];
            for input in Input::ALL {
                if uncertain.of(input) > 0.0 {
                    // A bound is one: any error within it alike.
                    let is_bound = matches!(input, Input::Kernel | Input::Quantisation);
                    drawn[input as usize] = if is_bound { random.within(1.0) } else { normal(&mut random) };
                }
            }
            measured.strain(uncertain, |input| drawn[input as usize])
        })
        .collect();
    let mean = found.iter().sum::<f64>() / TRIALS as f64;
    let variance = found.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / (TRIALS - 1) as f64;
    found.sort_unstable_by(f64::total_cmp);
    let at = |share: f64| found[(share * TRIALS as f64) as usize];
    Trials { deviation: variance.sqrt(), low: at(0.025), high: at(0.975) }
}

/// JCGM 101:2008, 7.9.2: half of the last of so many significant digits.
fn numerical_tolerance(uncertainty: f64, digits: u8) -> f64 {
    0.5 * 10f64.powf(uncertainty.log10().floor() + 1.0 - f64::from(digits))
}

#[track_caller]
fn agrees(name: &str, digits: u8, described: Description, uncertain: Uncertain, strain: f64, celsius: f64) {
    let measured = Measured::of(described.clone(), Microstrain(strain), Celsius(celsius));
    let budget = uncertain.inputs(described.channel()).budget(Microstrain(strain), Celsius(celsius)).unwrap();
    let expanded = budget.expanded(Percent(95.0)).unwrap();
    let found = trials(&measured, &uncertain);
    let numerical = numerical_tolerance(budget.combined().0, digits);
    let ends = (strain - expanded.uncertainty.0 - found.low, strain + expanded.uncertainty.0 - found.high);
    println!(
        "{name}: {:.4} for {:.4}, ends off by {:.4} and {:.4} of {numerical:.3}",
        budget.combined().0,
        found.deviation,
        ends.0,
        ends.1
    );
    assert!(ends.0.abs() <= numerical && ends.1.abs() <= numerical, "{name}");
    let part = budget.combined().0 / found.deviation - 1.0;
    assert!(part.abs() <= tolerance::MONTE_CARLO, "{name}: {part}");
}

#[test]
fn a_cold_strut() {
    agrees("cold", 2, strut(quarter()), CAREFUL, 1_200.0, -60.0);
    agrees("liquid nitrogen", 2, strut(quarter()), CAREFUL, 800.0, -190.0);
}

#[test]
fn a_hot_one_in_compression_and_one_at_room_temperature() {
    agrees("hot", 2, strut(quarter()), CAREFUL, -3_500.0, 220.0);
    agrees("room", 1, strut(quarter()), CAREFUL, 1_000.0, 22.0);
}

#[test]
fn two_leads_and_a_large_strain_with_noise() {
    // A converter whose lower bits are cut off.
    let uncertain = CAREFUL
        .with(Input::Noise, 20_000.0)
        .with(Input::Quantisation, 16_000.0)
        .with(Input::LeadResistance, 0.2);
    agrees("large", 1, strut(Wired { two_wire: true, ..quarter() }), uncertain, 18_000.0, 40.0);
}

#[test]
fn half_bridge_with_a_transverse_gauge() {
    let wired = Wired { poisson: 0.3, ..Wired::new(Circuit::HalfPoisson, 350.0, 1.2) };
    let uncertain = CAREFUL.with(Input::PoissonRatio, 0.01);
    agrees("axial and transverse", 1, strut(wired), uncertain, 2_500.0, 60.0);
}

/// Where the temperature's two effects have opposite signs, taking them for two inputs gives an uncertainty that is more
/// than twice the trials'; the budget's is theirs.
#[test]
fn temperature_in_both_corrections() {
    let mut described = strut(quarter());
    // Steep enough to be seen: 2.5 % for 100 C, at the end of a large strain.
    described.package.change = FactorChange::Slope(2.5);
    let uncertain = Uncertain::NONE.with(Input::Temperature, 0.5);
    let strain = -9_000.0;
    // Somewhere between these the slope of thermal output is twice the factor's effect.
    let ratio = |celsius: f64| {
        let inputs = uncertain.inputs(described.channel());
        let (output, factor) = inputs.budget(Microstrain(strain), Celsius(celsius)).unwrap().of_temperature();
        output.0 / factor.0
    };
    let (mut low, mut high) = (-60.0, 20.0);
    assert!((ratio(low) + 2.0) * (ratio(high) + 2.0) < 0.0, "{} {}", ratio(low), ratio(high));
    for _ in 0..50 {
        let middle = (low + high) / 2.0;
        if (ratio(low) + 2.0) * (ratio(middle) + 2.0) <= 0.0 { high = middle } else { low = middle }
    }
    agrees("one input", 1, described.clone(), uncertain, strain, low);
    let budget = uncertain.inputs(described.channel()).budget(Microstrain(strain), Celsius(low)).unwrap();
    let (output, factor) = budget.of_temperature();
    assert!(output.0.hypot(factor.0) > 2.2 * budget.combined().0);
}
