//! The double-precision model, which other tests hold the kernels against, held against exact arithmetic itself: what
//! it may be off is added to every bound that it is used to check.

use gaugewright::*;
use proptest::prelude::Strategy;
use support::described::Description;
use support::exact::{Exact, TRUNCATED_NANOSTRAIN, error};
use support::{ANY_ERROR, Random, in_parallel, recipe, set, tolerance};

/// What the double-precision model may be off, in nanostrain, so that with what the exact one is cut it is within its tolerance.
const ALLOWED: f64 = tolerance::REFERENCE_NANOSTRAIN - TRUNCATED_NANOSTRAIN;

/// The largest share of what it may be off by which a computed strain is off, over the corners of the window of codes and temperatures,
/// then random pairs in it. `strains` gives the strains of a pair, each with what it may be off, in nanostrain.
fn worst_share<const P: usize, const N: usize>(
    described: &Description,
    samples: usize,
    strains: impl Fn(i32, fixed::Temperature) -> [(f64, f64); N],
) -> Result<f64, Error> {
    let constants = described.channel().try_fixed_within::<5, 3, P>(ANY_ERROR)?.constants();
    let exact = Exact::of(described);
    let (cold, hot) = (constants.temperatures.0.to_bits(), constants.temperatures.1.to_bits());
    let (first, last) = constants.codes;
    let mut random = Random(20_261_127);
    let mut worst = 0.0f64;
    for i in 0..samples {
        let code = if i < 4 { [first, last][i % 2] } else { random.between(first, last) };
        let bits = if i < 4 { [cold, hot][i / 2] } else { random.between(cold, hot) };
        let exact = exact.at(bits).strain(exact.signal(code));
        for (strain, allowed) in strains(code, fixed::Temperature::from_bits(bits)) {
            assert!(strain.is_finite(), "code {code} at {bits}: {described:?}");
            worst = worst.max(error(strain, exact).abs() / allowed);
        }
    }
    Ok(worst)
}

fn of_the_reference(described: &Description, samples: usize) -> Result<f64, Error> {
    let model = reference::Model::new(&described.channel())?;
    worst_share::<1, 1>(described, samples, |code, t| [(model.strain(code, t).0, ALLOWED)])
}

/// Of readings in `f64`, on either path.
fn of_double<const P: usize>(described: &Description, samples: usize) -> Result<f64, Error> {
    let channel = described.channel();
    let kernel: float::Kernel<f64, 5, 3, P> = channel.try_float64_within(ANY_ERROR)?;
    let left_out = channel.circuit_error()?.0 + channel.gauge_factor_error(3)?.0 + TRUNCATED_NANOSTRAIN;
    let bound = kernel.error_bound();
    let [reading, point] = [bound.reading, bound.point].map(|parts| parts.total.0 + left_out);
    worst_share::<P, 2>(described, samples, |code, t| {
        [(kernel.reading(code, t).strain, reading), (kernel.at(t).reading(code).strain, point)]
    })
}

/// Sampled: 20 000 random pairs of code and temperature for each channel.
#[test]
fn the_reference_is_exact_to_its_tolerance_on_the_test_set() {
    let set: Vec<_> = set::described().into_iter().chain(set::with_product()).collect();
    let worst = in_parallel(set.len(), |i| of_the_reference(&set[i].1, 20_000).unwrap());
    for ((name, _), worst) in set.iter().zip(&worst) {
        println!("{name:<34} {worst:.3} of the tolerance");
        assert!(*worst <= 1.0, "{name}: {worst}");
    }
    // Nor is the tolerance slack.
    let largest = worst.into_iter().fold(0.0, f64::max);
    assert!(largest >= 0.21, "{largest}");
}

/// Sampled: 1 500 random channels, 40 pairs each, and as many whose gauge factor refers to another resistance, without and with a
/// stated ratio of strains.
#[test]
fn the_reference_is_exact_to_its_tolerance_on_random_channels() {
    random_channels("reference", recipe::description(), of_the_reference);
    random_channels("reference of the product", recipe::with_other_basis(), of_the_reference);
    random_channels("reference in a field", recipe::in_a_field(recipe::description()), of_the_reference);
    let both = recipe::in_a_field(recipe::with_other_basis());
    random_channels("reference of the product in a field", both, of_the_reference);
}

/// Sampled: the same of readings in `f64`, by their bounds.
#[test]
fn double_precision_is_exact_to_its_bound_on_random_channels() {
    random_channels("double precision", recipe::description(), of_double::<0>);
    random_channels("double precision, product", recipe::with_other_basis(), of_double::<1>);
    random_channels("double precision in a field", recipe::in_a_field(recipe::description()), of_double::<0>);
    let both = recipe::in_a_field(recipe::with_other_basis());
    random_channels("double precision, product in a field", both, of_double::<1>);
}

fn random_channels(
    name: &'static str,
    channels: impl Strategy<Value = Description>,
    worst: impl Fn(&Description, usize) -> Result<f64, Error>,
) {
    let largest = std::cell::Cell::new((0.0f64, 0));
    recipe::check(name, 1_500, channels, |described| {
        if let Ok(worst) = worst(&described, 40) {
            assert!(worst <= 1.0, "{worst}: {described:?}");
            let (largest_yet, count) = largest.get();
            largest.set((largest_yet.max(worst), count + 1));
        }
        Ok(())
    });
    let (largest, count) = largest.get();
    println!("{name}: {count} channels, at most {largest:.2} of what is allowed");
    assert!(count >= 500, "only {count} channels compiled");
}
