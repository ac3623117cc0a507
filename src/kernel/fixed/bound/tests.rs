//! What decides whether a kernel fits its registers, against the intermediates themselves, in real numbers.

use super::*;
use crate::sample::{Flags, InputRange};

/// A kernel over nearly all of what `d` and `x` can be.
fn kernel(gain: i32, curvature: i32, factor: i32, thermal: [i32; 2], thermal_offset: i32) -> Kernel<2, 1> {
    let (codes, temperatures) =
        (InputRange::new(-8_000_000, 8_000_000), InputRange::new(-200 << 20, 300 << 20));
    Kernel {
        product: [],
        thermal,
        code_scale: codes.scale_factor(),
        codes,
        strain_limit: i32::MAX,
        flags: Flags::CLEAR,
        temperature_scale: temperatures.scale_factor() as u16,
        bits: 24,
        factor: [factor],
        curvature,
        temperatures,
        thermal_offset,
        gain,
    }
}

/// The largest magnitudes at the ends of both inputs: of the stages of thermal output, of the gain of a point, and of what is
/// between signal and result.
fn largest(kernel: &Kernel<2, 1>) -> [f64; 3] {
    let mut largest = [0.0f64; 3];
    let all = Analysis::of(kernel, None, Causes::ALL);
    for d in [-TWO_31, all.d.exact.high] {
        for x in [-TWO_31, all.x.exact.high] {
            let (d, x) = (d / TWO_32, x / TWO_32);
            let [c2, c1] = kernel.thermal.map(f64::from);
            let stages = [c2, c2 * x + c1, (c2 * x + c1) * x + f64::from(kernel.thermal_offset)];
            let thermal = stages[2];
            let (signal, p) = (d * f64::from(kernel.gain), d * f64::from(kernel.curvature) / TWO_32);
            let l = x * f64::from(kernel.factor[0]) / TWO_32;
            // One call.
            let u = l - p + p * l;
            let numerator = signal + thermal + thermal * p;
            let once = numerator * (1.0 + u);
            let twice = once * (1.0 + u * u);
            let reading = [signal, signal + thermal, numerator, once, twice, twice * (1.0 + u.powi(4))];
            // Split.
            let whole = (1.0 - l.powi(8)) / (1.0 - l);
            let (p, own) = (-p, thermal * whole);
            let gain = f64::from(kernel.gain) * whole;
            let gains = [gain, gain * (1.0 + p), gain * (1.0 + p) * (1.0 + p * p + p.powi(4))];
            let split = [own, d * gains[2] + own];
            for (most, values) in
                largest.iter_mut().zip([&stages[..], &gains, &[reading.as_slice(), &split].concat()])
            {
                *most = values.iter().fold(*most, |most, value| most.max(value.abs()));
            }
        }
    }
    largest
}

/// What is told is never less than what occurs. Where the causes pull the same way at one end of the ranges, it is not
/// more either, but for a few steps of allowance and what a reciprocal leaves out; elsewhere by what the signs make of
/// the divisor's factors.
#[test]
fn what_is_said_to_be_needed_is_what_is_needed() {
    // Gain, curvature, gauge factor, thermal output: powers and constant. A slope of the gauge factor counts at x = -2^31.
    let (gain, bent, slope) = (-1_900_000_000, 500_000_000, -1_000_000_000);
    for (name, kernel, [gain_slack, slack]) in [
        ("a linear bridge", kernel(gain, 0, slope, [300_000_000, -900_000_000], 500_000_000), [1e-7, 1e-7]),
        ("a constant gauge factor", kernel(gain, bent, 0, [0, 0], 0), [1e-8, 1e-8]),
        ("the bridge turned round", kernel(gain, -bent, 0, [0, 0], 0), [1e-3, 0.012]),
        ("thermal output alone", kernel(1, bent, 0, [-100_000_000, 900_000_000], -600_000_000), [1e-8, 0.15]),
        (
            "thermal output and gauge factor",
            kernel(1, 0, slope, [0, 900_000_000], -600_000_000),
            [1e-7, 1e-7],
        ),
        ("opposed", kernel(gain, 0, slope, [300_000_000, 0], -500_000_000), [1e-7, 2.0]),
        ("all of it", kernel(gain, bent, slope / 2, [100_000_000, -600_000_000], 400_000_000), [1e-7, 0.3]),
    ] {
        let all = Analysis::of(&kernel, None, Causes::ALL);
        let [stage, gain, value] = largest(&kernel);
        let said = [all.thermal.largest_stage(), all.largest_gain(), all.largest()];
        // Stages are told with two steps for the rounding of each, which the halving of the next leaves below four.
        assert!(said[0] >= stage && said[0] <= stage * (1.0 + slack) + 4.0, "{name}: stage {said:?} {stage}");
        assert!(
            said[1] >= gain - 2.0 && said[1] <= gain * (1.0 + gain_slack) + 2.0,
            "{name}: {said:?} {gain}"
        );
        assert!(said[2] >= value - 2.0 && said[2] <= value * (1.0 + slack) + 4.0, "{name}: {said:?} {value}");
    }
}

/// Refused with the number that is too large, and accepted just below: signal and thermal output together, then a point's gain.
#[test]
fn a_kernel_that_does_not_fit_is_refused_with_what_it_needs() {
    let (gain, slope) = (-1_850_000_000, -1_000_000_000);
    let check = |kernel: Kernel<2, 1>, needed: f64, (quantity, limit): (Quantity, f64), fits: bool| {
        match Analysis::check_fit(&kernel, None) {
            Ok(()) => assert!(fits && needed < limit),
            Err(Error::Overflow { quantity: found, value, limit: told }) => {
                assert_eq!((fits, found, told), (false, quantity, limit));
                // The truncated reciprocal gives an eighth power of an eighth less.
                assert!(needed > limit && (value / needed - 1.0).abs() < 1e-7, "{value} {needed}");
            }
            Err(error) => panic!("{error:?}"),
        }
    };
    for (offset, fits) in [(940_000_000, true), (1_050_000_000, false)] {
        let kernel = kernel(gain, 0, slope, [0, 0], offset);
        let [_, _, needed] = largest(&kernel);
        check(kernel, needed, (Quantity::StrainValue, TWO_31 - 64.0), fits);
    }
    for (gain, fits) in [(-1_890_000_000, true), (-1_900_000_000, false)] {
        let kernel = kernel(gain, 0, slope, [0, 0], 0);
        let [_, needed, _] = largest(&kernel);
        // Q34 steps as microstrain.
        let microstrain = STEP * 1e-3;
        let limit = (TWO_31 - 8.0) * microstrain;
        check(kernel, needed * microstrain, (Quantity::SignalGain, limit), fits);
    }
    // Opposed, what is between is larger than any reading.
    let opposed = kernel(gain, 0, slope, [0, 0], -1_250_000_000);
    let refused = Analysis::check_fit(&opposed, None);
    assert!(
        matches!(refused, Err(Error::Overflow { quantity: Quantity::StrainValue, value, .. }) if value > 2.4e9),
        "{refused:?}"
    );
}
