//! What an error of the temperature is said to be worth, tried out.

use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;
use support::described::{Basis, Description};
use support::*;

/// The part for a temperature that is off holds against the model, and is not slack.
#[test]
fn an_error_of_the_temperature_is_worth_what_the_bound_says() {
    for (name, described) in set::described() {
        is_worth_what_the_bound_says::<0>(&name, &described);
    }
}

/// With the product of thermal and mechanical change too.
#[test]
fn an_error_of_the_temperature_is_worth_what_the_bound_says_with_the_product() {
    let mut counted = 0;
    for (name, mut described) in set::described() {
        for basis in [Basis::UnloadedGauge, Basis::FreeFoil([0.0, 9.0, 3e-3, -2e-6])] {
            described.package.basis = basis;
            if described.channel().try_fixed::<5, 3, 0>().is_err() {
                is_worth_what_the_bound_says::<1>(&name, &described);
                counted += 1;
            }
        }
    }
    assert!(counted > 10, "{counted}");
}

fn is_worth_what_the_bound_says<const PRODUCT: usize>(name: &str, described: &Description) {
    let mut random = Random(9);
    let channel = described.channel();
    let model = reference::Model::new(&channel).unwrap();
    let kernel: fixed::Kernel<5, 3, PRODUCT> = channel.try_fixed_within(ANY_ERROR).unwrap();
    let single: float::Kernel<f32, 5, 3, PRODUCT> = channel.try_float32_within(ANY_ERROR).unwrap();
    let (low, high) = temperature_ends(&channel);
    let (first, last) = kernel.codes();
    let limit = described.strain;
    for off_by in [1.0 / 2_097_152.0, 1.0 / 32.0, 1.5] {
        let steps = (off_by * f64::from(fixed::Temperature::PER_DEGREE)).ceil() as i32;
        let off_by = f64::from(steps) / f64::from(fixed::Temperature::PER_DEGREE);
        let bound = kernel.error_bound_with_temperature(Celsius(-off_by)).reading;
        assert_eq!(bound, kernel.error_bound_with_temperature(Celsius(off_by)).reading);
        assert!((bound.total.0 - bound.temperature.0 - kernel.error_bound().reading.total.0).abs() < 1e-9);
        // Constants are known to half a step, and so are their slopes.
        let floor = tolerance::REFERENCE_NANOSTRAIN + 1e-3 * off_by;
        let other = single.error_bound_with_temperature(Celsius(off_by)).point.temperature.0;
        assert!((other - bound.temperature.0).abs() <= 1e-2 * other + floor, "{name}: {other} {bound:?}");
        let mut worst = 0.0f64;
        for i in 0..10_000 {
            // Each end once with all that follows, then random temperatures.
            let t = if i < 8 {
                [low + steps, high - steps][i / 4]
            } else {
                random.between(low + steps, high - steps)
            };
            let t = fixed::Temperature::from_bits(t);
            // Strain at an end of its range, where the channel has one, and codes at an end of theirs.
            let code = match (i % 4, limit) {
                (0..2, Some(limit)) => {
                    let strain = Strain(limit * [-1e-6, 1e-6][i % 2]);
                    (model.code_for(strain, t.celsius()) as i32).clamp(first, last)
                }
                _ => [first, last][i % 2],
            };
            if !kernel.reading(code, t).flags.is_clear() {
                continue;
            }
            let right = model.strain(code, t).0;
            for off in [-steps, steps] {
                let other = fixed::Temperature::from_bits(t.to_bits() + off);
                worst = worst.max((model.strain(code, other).0 - right).abs() * 1e9);
            }
        }
        assert!(worst <= bound.temperature.0 + tolerance::REFERENCE_NANOSTRAIN, "{name}: {worst} {bound:?}");
        assert!(worst >= bound.temperature.0 * 0.8 - floor, "{name}, {off_by} C: {worst} {bound:?}");
    }
    assert!(kernel.error_bound_with_temperature(Celsius(f64::NAN)).reading.total.0.is_nan());
}

/// Places on each temperature range that are tried, less one.
const PLACES: i32 = 96;

/// The largest change of the exact model, nanostrain, when each of two thermometers is off by as many steps, either way: the
/// readings are in the declared ranges, the true temperatures may lie outside. And how many places were left out, because a
/// kernel flags them.
fn worst_of_two<const PRODUCT: usize>(
    channel: &CompensatedChannel,
    limit: f64,
    second: (Celsius, Celsius),
    steps: i32,
) -> (f64, u32) {
    let model = reference::CompensatedModel::new(channel).unwrap();
    let kernel: fixed::CompensatedKernel<5, 3, PRODUCT> = channel.try_fixed_within(ANY_ERROR).unwrap();
    let places = |(low, high): (Celsius, Celsius)| {
        let steps = |t: Celsius| t.0 * f64::from(fixed::Temperature::PER_DEGREE);
        let (low, high) = (steps(low).ceil() as i32, steps(high).floor() as i32);
        (0..=PLACES).map(move |i| {
            low + ((i64::from(high) - i64::from(low)) * i64::from(i) / i64::from(PLACES)) as i32
        })
    };
    let at = fixed::Temperature::from_bits;
    let first = channel.channel().temperatures();
    // Thermal outputs are subtracted from each other: what the second adds is largest at the same place beside each first.
    let beside = places(first).next().unwrap();
    let moved = |&(t, off): &(i32, i32)| {
        let strain = |t| model.strain(0, at(beside), at(t)).0;
        (strain(t + off) - strain(t)).abs()
    };
    let seconds = places(second).flat_map(|t| [(t, -steps), (t, steps)]);
    let (other, other_off) = seconds.max_by(|a, b| moved(a).total_cmp(&moved(b))).unwrap();
    let (mut worst, mut flagged) = (0.0f64, 0);
    for t in places(first) {
        for strain in [-limit, limit] {
            // Just inside, by what rounding to a code may add.
            let aim = strain * 0.999e-6;
            let code =
                |strain| model.code_for(Strain(strain), at(t).celsius(), at(other).celsius()).round() as i32;
            // Of a channel that leaves strain at the instrument's gauge factor, another mechanical strain.
            let code = code(aim * aim / model.strain(code(aim), at(t), at(other)).0);
            if !kernel.reading(code, at(t), at(other)).flags.is_clear() {
                flagged += 1;
                continue;
            }
            let right = model.strain(code, at(t), at(other)).0;
            for (off, other_off) in
                [(1, 1), (1, -1), (-1, 1), (-1, -1)].map(|(a, b)| (a * steps, b * other_off))
            {
                let wrong = model.strain(code, at(t + off), at(other + other_off)).0;
                worst = worst.max((wrong - right).abs() * 1e9);
            }
        }
    }
    (worst, flagged)
}

/// In whole steps of a fixed-point temperature, and as many degrees.
fn whole_steps(off_by: f64) -> (i32, Celsius) {
    let per_degree = f64::from(fixed::Temperature::PER_DEGREE);
    let steps = (off_by * per_degree).round();
    (steps as i32, Celsius(steps / per_degree))
}

/// What fixed point, `f32` and `f64` say two thermometers' errors are worth; the parts of a reading and of a point are one.
fn bounds_of_two<const PRODUCT: usize>(channel: &CompensatedChannel, off_by: Celsius) -> [f64; 3] {
    let kernel: fixed::CompensatedKernel<5, 3, PRODUCT> = channel.try_fixed_within(ANY_ERROR).unwrap();
    let single: float::CompensatedKernel<f32, 5, 3, PRODUCT> = channel.try_float32_within(ANY_ERROR).unwrap();
    let double: float::CompensatedKernel<f64, 5, 3, PRODUCT> = channel.try_float64_within(ANY_ERROR).unwrap();
    assert_eq!(
        kernel.error_bound_with_temperature(off_by),
        kernel.error_bound_with_temperature(Celsius(-off_by.0))
    );
    [
        kernel.error_bound_with_temperature(off_by),
        single.error_bound_with_temperature(off_by),
        double.error_bound_with_temperature(off_by),
    ]
    .map(|bound| {
        assert_eq!(bound.reading.temperature, bound.point.temperature);
        bound.reading.temperature.0
    })
}

const WIDE: (Celsius, Celsius) = (Celsius(-200.0), Celsius(300.0));

#[test]
fn errors_of_two_temperatures_are_worth_what_the_bound_says() {
    for (name, channel) in compensated_set() {
        for correction in [Correction::Full, Correction::ThermalOutput] {
            let channel = channel.channel().correction(correction).compensated_by(*channel.compensating());
            for off_by in [1.0 / 32.0, 1.5] {
                let (steps, off_by) = whole_steps(off_by);
                let (worst, flagged) = worst_of_two::<0>(&channel, 4_000.0, WIDE, steps);
                assert_eq!(flagged, 0, "{name}");
                for bound in bounds_of_two::<0>(&channel, off_by) {
                    assert!(worst <= bound + tolerance::REFERENCE_NANOSTRAIN, "{name}: {worst} {bound}");
                    assert!(worst >= 0.98 * bound, "{name}, {off_by}: {worst} {bound}");
                }
            }
        }
    }
}

#[test]
fn errors_of_two_temperatures_of_random_channels() {
    worth_what_the_bound_says::<0>("errors of two temperatures", recipe::compensated());
}

#[test]
fn errors_of_two_temperatures_of_random_channels_with_the_product() {
    let channels = recipe::compensated_with_other_basis();
    worth_what_the_bound_says::<1>("errors of two temperatures, with the product", channels);
}

fn worth_what_the_bound_says<const PRODUCT: usize>(
    name: &'static str,
    channels: impl Strategy<Value = CompensatedChannel>,
) {
    let counted = std::cell::Cell::new(0);
    let inputs = (channels, prop_oneof![Just(0.01), 0.01..3.0f64, 3.0..60.0f64]);
    recipe::check(name, 150, inputs, |(channel, off_by)| {
        if channel.try_fixed_within::<5, 3, PRODUCT>(ANY_ERROR).is_err()
            || channel.try_float32_within::<5, 3, PRODUCT>(ANY_ERROR).is_err()
        {
            return Ok(());
        }
        let (steps, off_by) = whole_steps(off_by);
        let (worst, flagged) = worst_of_two::<PRODUCT>(&channel, 4_000.0, WIDE, steps);
        for bound in bounds_of_two::<PRODUCT>(&channel, off_by) {
            prop_assert!(worst <= bound + tolerance::REFERENCE_NANOSTRAIN, "{off_by}: {worst} {bound}");
            // Over more degrees a curve's slope changes, and its steepest is not that of all the way.
            if flagged == 0 && off_by.0 < 1.0 {
                counted.set(counted.get() + 1);
                prop_assert!(worst >= 0.85 * bound, "{off_by}: {worst} {bound}");
            }
        }
        Ok(())
    });
    assert!(counted.get() > 150, "{}", counted.get());
}

/// A gauge factor that falls by as large a share of itself with every degree, nearly: strain then grows beyond its declared
/// range on the way of a large error, and what a degree is worth with it.
#[test]
fn strain_grows_while_the_temperature_is_off() {
    let share = 4e-3f64;
    let flat = ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(40.0));
    let gauge = Gauge::new(GaugeFactor(2.0)).reference_temperature(Celsius(20.0)).thermal_output(flat);
    let measuring = gauge.gauge_factor_polynomial([-share, share * share / 2.0, -share.powi(3) / 6.0]);
    let range = (Celsius(-100.0), Celsius(100.0));
    // Thermal outputs are 0 and 2 microstrain a degree.
    let sloped = gauge.thermal_output(ThermalOutput::celsius([-40.0, 2.0]).between(range.0, range.1));
    let channel = Channel::new(
        measuring,
        Bridge::half_compensated(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 64.0)),
    )
    .strain_within(Microstrain(4_000.0))
    .compensated_by(CompensatingGauge::new(sloped));
    for off_by in [0.5, 10.0, 50.0, 75.0] {
        let (steps, off_by) = whole_steps(off_by);
        let (worst, flagged) = worst_of_two::<0>(&channel, 4_000.0, range, steps);
        assert_eq!(flagged, 0);
        for bound in bounds_of_two::<0>(&channel, off_by) {
            assert!(worst <= bound, "{off_by}: {worst} {bound}");
            assert!(worst >= 0.8 * bound, "{off_by}: {worst} {bound}");
        }
    }
    // Without what strain grows by, the last of these would be too small.
    let linear = bounds_of_two::<0>(&channel, Celsius(1.0 / 1_024.0)).map(|bound| bound * 75.0 * 1_024.0);
    let (worst, _) = worst_of_two::<0>(&channel, 4_000.0, range, 75 << 20);
    assert!(linear.into_iter().all(|linear| linear < 0.95 * worst), "{linear:?} {worst}");
    // Gauge factors fall to 0.2 of what they are, and through zero: nothing holds there.
    let smallest = |off_by| measuring.gauge_factor_at(Celsius(40.0 + off_by)).0;
    assert!(smallest(280.0) > 0.4 && smallest(400.0) < 0.0);
    for off_by in [280.0, 400.0, 1e6] {
        assert_eq!(bounds_of_two::<0>(&channel, Celsius(off_by)), [f64::INFINITY; 3], "{off_by}");
    }
    let kernel: fixed::CompensatedKernel<5, 3> = channel.try_fixed().unwrap();
    for off_by in [f64::NAN, f64::INFINITY] {
        let bound = kernel.error_bound_with_temperature(Celsius(off_by));
        assert!(!bound.reading.total.0.is_finite() && !bound.point.temperature.0.is_finite());
    }
}
