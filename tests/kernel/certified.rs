//! The double-precision model, which other tests hold the kernels against, held against exact arithmetic itself: what
//! it may be off is added to every bound that it is used to check.

use gaugewright::*;
use proptest::prelude::Strategy;
use support::described::Description;
use support::exact::{Exact, TRUNCATED_NANOSTRAIN, error};
use support::{ANY_ERROR, Random, recipe, set, tolerance};

/// The largest error of the model over random codes of the window and temperatures of the range, in nanostrain.
fn worst(described: &Description, samples: usize) -> Result<f64, Error> {
    let channel = described.channel();
    let constants = channel.try_fixed_within::<5, 3, 1>(ANY_ERROR)?.constants();
    let model = reference::Model::new(&channel)?;
    let exact = Exact::of(described);
    let (cold, hot) = (constants.temperatures.0.to_bits(), constants.temperatures.1.to_bits());
    let (first, last) = constants.codes;
    let mut random = Random(20_261_127);
    let mut worst = 0.0f64;
    for i in 0..samples {
        // The corners first.
        let code = if i < 4 { [first, last][i % 2] } else { random.between(first, last) };
        let bits = if i < 4 { [cold, hot][i / 2] } else { random.between(cold, hot) };
        let strain = model.strain(code, fixed::Temperature::from_bits(bits)).0;
        assert!(strain.is_finite(), "code {code} at {bits}: {described:?}");
        worst = worst.max(error(strain, exact.at(bits).strain(exact.signal(code))).abs());
    }
    Ok(worst)
}

/// Sampled: 20 000 random pairs of code and temperature for each channel.
#[test]
fn the_reference_is_exact_to_its_tolerance_on_the_test_set() {
    let mut largest = 0.0f64;
    for (name, described) in set::described().into_iter().chain(set::with_product()) {
        let worst = worst(&described, 20_000).unwrap();
        println!("{name:<34} {worst:.2e} nanostrain");
        assert!(worst + TRUNCATED_NANOSTRAIN <= tolerance::REFERENCE_NANOSTRAIN, "{name}: {worst}");
        largest = largest.max(worst);
    }
    // Nor is the tolerance slack.
    assert!(largest * 5.0 >= tolerance::REFERENCE_NANOSTRAIN, "{largest}");
}

/// Sampled: 1 500 random channels, 40 pairs each, and as many whose gauge factor refers to another resistance, without and with a
/// stated ratio of strains.
#[test]
fn the_reference_is_exact_to_its_tolerance_on_random_channels() {
    random_channels("reference", recipe::description());
    random_channels("reference of the product", recipe::with_other_basis());
    random_channels("reference in a field", recipe::in_a_field(recipe::description()));
    random_channels("reference of the product in a field", recipe::in_a_field(recipe::with_other_basis()));
}

/// The largest part of their bound by which readings in `f64` are off from exact ones, on either path.
fn worst_double<const P: usize>(described: &Description, samples: usize) -> Result<f64, Error> {
    let channel = described.channel();
    let kernel: float::Kernel<f64, 5, 3, P> = channel.try_float64_within(ANY_ERROR)?;
    let constants = channel.try_fixed_within::<5, 3, P>(ANY_ERROR)?.constants();
    let left_out = channel.circuit_error()?.0 + channel.gauge_factor_error(3)?.0 + TRUNCATED_NANOSTRAIN;
    let bound = kernel.error_bound();
    let exact = Exact::of(described);
    let (cold, hot) = (constants.temperatures.0.to_bits(), constants.temperatures.1.to_bits());
    let (first, last) = constants.codes;
    let mut random = Random(20_261_129);
    let mut worst = 0.0f64;
    for i in 0..samples {
        let code = if i < 4 { [first, last][i % 2] } else { random.between(first, last) };
        let bits = if i < 4 { [cold, hot][i / 2] } else { random.between(cold, hot) };
        let t = fixed::Temperature::from_bits(bits);
        let (at, signal) = (exact.at(bits), exact.signal(code));
        for (reading, parts) in
            [(kernel.reading(code, t), bound.reading), (kernel.at(t).reading(code), bound.point)]
        {
            let off = error(reading.strain, at.strain(signal)).abs();
            worst = worst.max(off / (parts.total.0 + left_out));
        }
    }
    Ok(worst)
}

/// Sampled: 1 500 random channels, 40 pairs each, and as many whose gauge factor refers to another resistance, without and with a
/// stated ratio of strains.
#[test]
fn double_precision_is_exact_to_its_bound_on_random_channels() {
    for (product, in_a_field) in [(false, false), (true, false), (false, true), (true, true)] {
        let largest = std::cell::Cell::new((0.0f64, 0));
        let channels =
            if product { recipe::with_other_basis().boxed() } else { recipe::description().boxed() };
        let channels = if in_a_field { recipe::in_a_field(channels).boxed() } else { channels };
        recipe::check("double precision", 1_500, channels, |described| {
            let worst =
                if product { worst_double::<1>(&described, 40) } else { worst_double::<0>(&described, 40) };
            if let Ok(worst) = worst {
                assert!(worst <= 1.0, "{worst}: {described:?}");
                let (largest_yet, count) = largest.get();
                largest.set((largest_yet.max(worst), count + 1));
            }
            Ok(())
        });
        let (largest, count) = largest.get();
        println!("{count} channels, at most {largest:.2} of the bound");
        assert!(count >= 500, "only {count} channels compiled");
    }
}

fn random_channels(name: &'static str, channels: impl Strategy<Value = Description>) {
    let largest = std::cell::Cell::new((0.0f64, 0));
    recipe::check(name, 1_500, channels, |described| {
        if let Ok(worst) = worst(&described, 40) {
            assert!(
                worst + TRUNCATED_NANOSTRAIN <= tolerance::REFERENCE_NANOSTRAIN,
                "{worst}: {described:?}"
            );
            let (largest_yet, count) = largest.get();
            largest.set((largest_yet.max(worst), count + 1));
        }
        Ok(())
    });
    let (largest, count) = largest.get();
    println!("{name}: {count} channels, at most {largest:.2e} nanostrain");
    assert!(count >= 500, "only {count} channels compiled");
}
