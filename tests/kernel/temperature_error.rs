//! What an error of the temperature is said to be worth, tried out.

use gaugewright::units::*;
use gaugewright::*;
use support::*;

/// The part for a temperature that is off holds against the model, and is not slack.
#[test]
fn an_error_of_the_temperature_is_worth_what_the_bound_says() {
    let mut random = Random(9);
    for (name, described) in set::described() {
        let channel = described.channel();
        let model = reference::Model::new(&channel).unwrap();
        let kernel: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
        let single: float::Kernel<f32, 5, 3> = channel.try_float32().unwrap();
        let (low, high) = temperature_ends(&channel);
        let (first, last) = code_ends(&channel);
        let limit = described.strain;
        for off_by in [1.0 / 2_097_152.0, 1.0 / 32.0, 1.5] {
            let steps = (off_by * f64::from(fixed::Temperature::PER_DEGREE)).ceil() as i32;
            let off_by = f64::from(steps) / f64::from(fixed::Temperature::PER_DEGREE);
            let bound = kernel.error_bound_with_temperature(Celsius(-off_by)).reading;
            assert_eq!(bound, kernel.error_bound_with_temperature(Celsius(off_by)).reading);
            assert!(
                (bound.whole.0 - bound.temperature.0 - kernel.error_bound().reading.whole.0).abs() < 1e-9
            );
            // Constants are known to half a step, and so are their slopes.
            let floor = tolerance::REFERENCE_NANOSTRAIN + 1e-3 * off_by;
            let other = single.error_bound_with_temperature(Celsius(off_by)).point.temperature.0;
            assert!((other - bound.temperature.0).abs() <= 1e-2 * other + floor, "{name}: {other} {bound:?}");
            let mut worst = 0.0f64;
            for i in 0..20_000 {
                let t = if i % 4 < 2 {
                    [low + steps, high - steps][i % 2]
                } else {
                    random.between(low + steps, high - steps)
                };
                let t = fixed::Temperature::from_bits(t);
                // Strain at an end of its range, where the channel has one, and codes at an end of theirs.
                let code = match (i % 8, limit) {
                    (0..6, Some(limit)) => {
                        let strain = Strain(limit * [-1e-6, 1e-6][i / 2 % 2]);
                        (model.code_for(strain, t.celsius()) as i32).clamp(first, last)
                    }
                    _ => [first, last][i / 2 % 2],
                };
                if !kernel.reading(code, t).flags.is_clear() {
                    continue;
                }
                for off in [-steps, steps] {
                    let other = fixed::Temperature::from_bits(t.to_bits() + off);
                    worst = worst.max((model.strain(code, other).0 - model.strain(code, t).0).abs() * 1e9);
                }
            }
            assert!(
                worst <= bound.temperature.0 + tolerance::REFERENCE_NANOSTRAIN,
                "{name}: {worst} {bound:?}"
            );
            assert!(worst >= bound.temperature.0 * 0.8 - floor, "{name}, {off_by} C: {worst} {bound:?}");
        }
        assert!(kernel.error_bound_with_temperature(Celsius(f64::NAN)).reading.whole.0.is_nan());
    }
}
