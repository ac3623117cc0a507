//! Every constant of a fixed-point kernel against the exact rational that it stands for: that each is the exact one
//! rounded to nearest, to half a step and a thousandth, is what the error bounds and their proofs start from.

use dashu_int::IBig;
use gaugewright::*;
use support::described::Description;
use support::exact::Exact;
use support::network::{Rational, exactly, ratio_of, whole};
use support::{recipe, set};

type Constants = fixed::Constants<5, 3>;

/// What the one-call path drops on average, in steps, worked into the constant term of thermal output.
const DROPPED: (i64, u64) = (5, 2);

/// A constant, and what it should be.
type Pair = (String, i32, Rational);

fn power(two_to: usize) -> Rational {
    whole(IBig::ONE << two_to)
}

/// The exact value of every rounded constant, from the exact model and the constants that are not rounded (ranges and
/// their scales).
fn pairs(exact: &Exact, constants: &Constants) -> Vec<Pair> {
    let scale = whole(constants.code_scale);
    // The map counted from the code where d is zero.
    let zero = whole(constants.codes.0) + power(31) / &scale - &exact.balance;
    let (gain, curvature) = exact.map();
    let turn = Rational::ONE - &curvature * &zero;
    let there = &gain * &zero / &turn;
    let (gain, curvature) = (gain / (&turn * &turn), curvature / turn);
    // Temperature where x is zero, and for 2^31 of x.
    let low = ratio_of(i64::from(constants.temperatures.0.to_bits()), 1 << 20);
    let half = power(11) / whole(constants.temperature_scale);
    let middle = low + &half;
    let factor = exact.divisor.over.of_line(&middle, &half);
    let thermal = exact.thermal.of_line(&middle, &half);
    let own = factor.coefficient(0);

    let mut pairs = vec![
        ("gain".into(), constants.gain, gain / &own / &scale * power(66)),
        ("curvature".into(), constants.curvature, -curvature / &scale * power(64)),
        (
            "thermal offset".into(),
            constants.thermal_offset,
            (there - thermal.coefficient(0)) / &own * power(34) + ratio_of(DROPPED.0, DROPPED.1),
        ),
    ];
    for (k, &constant) in constants.factor.iter().rev().enumerate() {
        let value = -factor.coefficient(k + 1) / &own * power(33 + k);
        pairs.push((format!("factor {}", k + 1), constant, value));
    }
    for (k, &constant) in constants.thermal.iter().rev().enumerate() {
        let value = -thermal.coefficient(k + 1) / &own * power(35 + k);
        pairs.push((format!("thermal {}", k + 1), constant, value));
    }
    assert!(factor.degree() <= constants.factor.len() && thermal.degree() <= constants.thermal.len());
    pairs
}

/// By how much a constant is off, in steps, beyond the half that rounding may cost; and what it may be beyond.
fn beyond_half(pair: &Pair) -> (f64, f64) {
    let (_, constant, exact) = pair;
    let off = whole(*constant) - exact;
    let off = if off < Rational::ZERO { -off } else { off };
    ((off - ratio_of(1, 2)).to_f64_fast(), 1e-3 + f64::from(constant.unsigned_abs()) * 1e-13)
}

fn wrong(pairs: &[Pair]) -> Option<&Pair> {
    pairs.iter().find(|pair| {
        let (beyond, allowed) = beyond_half(pair);
        beyond.is_nan() || beyond > allowed
    })
}

fn checked(described: &Description) -> Result<f64, Error> {
    let kernel: fixed::Kernel<5, 3> = described.channel().try_fixed()?;
    let constants = kernel.constants();
    let pairs = pairs(&Exact::of(described), &constants);
    if let Some((name, constant, exact)) = wrong(&pairs) {
        panic!("{name} is {constant}, not {}: {described:?}", exact.to_f64_fast());
    }
    let step = f64::from(fixed::Temperature::PER_DEGREE);
    let (low, high) = described.temperatures.unwrap_or(described.package.fitted);
    assert_eq!(f64::from(constants.temperatures.0.to_bits()), (low * step).ceil());
    assert_eq!(f64::from(constants.temperatures.1.to_bits()), (high * step).floor());
    if let Some(limit) = described.strain {
        let exact = exactly(limit) * ratio_of(1, 1_000_000) * power(34);
        assert!((whole(constants.strain_limit) - exact).to_f64_fast().abs() <= 0.5 + 1e-3);
    }
    Ok(pairs.iter().map(|pair| beyond_half(pair).0).fold(f64::NEG_INFINITY, f64::max))
}

#[test]
fn every_constant_of_the_test_set_is_the_exact_one_rounded() {
    let mut worst = f64::NEG_INFINITY;
    for (name, described) in set::described() {
        worst = worst.max(checked(&described).unwrap_or_else(|error| panic!("{name}: {error}")));
    }
    println!("at most {worst:.1e} of a step beyond the half");
}

/// Sampled: random channels, every circuit and wiring among them.
#[test]
fn every_constant_of_random_channels_is_the_exact_one_rounded() {
    let compiled = std::cell::Cell::new(0);
    let worst = std::cell::Cell::new(f64::NEG_INFINITY);
    recipe::check("constants", 1_500, recipe::description(), |described| {
        if let Ok(beyond) = checked(&described) {
            compiled.set(compiled.get() + 1);
            worst.set(worst.get().max(beyond));
        }
        Ok(())
    });
    println!("{} channels compiled, at most {:.1e} of a step beyond the half", compiled.get(), worst.get());
    assert!(compiled.get() >= 1_400, "only {} channels compiled", compiled.get());
}

/// One step off in any one constant is seen (two, where the exact one lies halfway).
#[test]
fn a_constant_that_is_off_is_seen() {
    for (name, described) in set::described() {
        let kernel: fixed::Kernel<5, 3> = described.channel().fixed();
        let pairs = pairs(&Exact::of(&described), &kernel.constants());
        for k in 0..pairs.len() {
            for off in [-2, -1, 1, 2] {
                let mut faulty = pairs.clone();
                faulty[k].1 += off;
                let near = beyond_half(&pairs[k]).0 > -1e-3;
                let seen = wrong(&faulty).is_some();
                assert!(seen || (near && off.abs() == 1), "{name}: {} off by {off}", pairs[k].0);
            }
        }
    }
}

/// Kernels of channels that are a little wrong: less than any sweep of readings would see.
#[test]
fn a_channel_that_is_a_little_wrong_is_seen() {
    let right = set::mild("gauge_on_aluminium", 4);
    let exact = Exact::of(&right);
    let kernel: fixed::Kernel<5, 3> = right.channel().fixed();
    assert!(wrong(&pairs(&exact, &kernel.constants())).is_none());
    let faulty = |change: fn(&mut Description)| {
        let mut described = right.clone();
        change(&mut described);
        described.channel().fixed::<5, 3, 0>().constants()
    };
    let faults = [
        ("gauge factor", faulty(|d| d.package.factor *= 1.0 + 1e-8)),
        ("balance", faulty(|d| d.balance = Some((-123_456.72, 18.5)))),
        ("balance temperature", faulty(|d| d.balance = Some((-123_456.75, 18.500_1)))),
        ("curve", faulty(|d| d.package.curve[4] *= 1.0 + 1e-6)),
        ("slope", faulty(|d| d.package.change = support::described::FactorChange::Polynomial([0.0; 3]))),
        ("stated for", faulty(|d| d.package.stated_for *= 1.0 + 1e-7)),
    ];
    for (name, constants) in faults {
        assert!(wrong(&pairs(&exact, &constants)).is_some(), "{name} went unnoticed");
    }
}
