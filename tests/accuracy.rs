//! Every kernel of the test set against the double-precision model: bounds hold, bounds are not slack, and
//! promises are kept. `cargo test --release --test accuracy -- --nocapture` prints the table.

mod common;

use common::*;
use gaugewright::units::*;
use gaugewright::*;

/// Samples a channel; beside them every combination of edges.
const SAMPLES: usize = 200_000;

#[derive(Default, Clone, Copy, Debug)]
struct Seen {
    fixed: [f64; 2],
    single: [f64; 2],
    double: [f64; 2],
    clear: usize,
    /// Sums of the fixed-point errors: a bias would show here.
    sum: [f64; 2],
}

/// Codes and temperatures of a sweep: edges of the declared ranges first, then random ones.
fn inputs(channel: &Channel, samples: usize) -> impl Iterator<Item = (i32, fixed::Temperature)> {
    let (cold, hot) = temperature_ends(channel);
    let (first, last) = code_ends(channel);
    let middle = ((i64::from(cold) + i64::from(hot)) / 2) as i32;
    let edges = |low: i32, high: i32, middle: i32| {
        vec![low, low + 1, low + 2, middle - 1, middle, middle + 1, high - 2, high - 1, high]
    };
    let temperatures = edges(cold, hot, middle);
    let codes = edges(first, last, (first / 2) + (last / 2));
    let mut random = Random(20_261_125);
    let corners: Vec<_> = codes.iter().flat_map(|&c| temperatures.iter().map(move |&t| (c, t))).collect();
    let spread = (0..samples).map(move |_| (random.between(first, last), random.between(cold, hot)));
    corners.into_iter().chain(spread).map(|(c, t)| (c, fixed::Temperature::from_bits(t)))
}

/// The worst errors in nanostrain, over unflagged readings.
fn sweep(channel: &Channel, samples: usize) -> Seen {
    let model = reference::Model::new(channel).unwrap();
    let integer: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
    let single: float::Kernel<f32, 5, 3> = channel.try_float32().unwrap();
    let double: float::Kernel<f64, 5, 3> = channel.try_float64().unwrap();
    let mut seen = Seen::default();
    for (code, t) in inputs(channel, samples) {
        let exact = model.strain(code, t).0 * 1e9;
        let worse = |worst: &mut f64, strain: Option<f64>| {
            if let Some(strain) = strain {
                *worst = worst.max((strain * 1e9 - exact).abs());
            }
        };
        let reading = integer.reading(code, t).checked();
        let split = integer.at(t).reading(code).checked();
        if let (Some(one), Some(split)) = (reading, split) {
            seen.clear += 1;
            seen.sum[0] += one.strain().0 * 1e9 - exact;
            seen.sum[1] += split.strain().0 * 1e9 - exact;
        }
        worse(&mut seen.fixed[0], reading.map(|s| s.strain().0));
        worse(&mut seen.fixed[1], split.map(|s| s.strain().0));
        worse(&mut seen.single[0], single.reading(code, t).checked().map(f64::from));
        worse(&mut seen.single[1], single.at(t).reading(code).checked().map(f64::from));
        worse(&mut seen.double[0], double.reading(code, t).checked());
        worse(&mut seen.double[1], double.at(t).reading(code).checked());
    }
    seen
}

#[test]
fn bounds_hold_are_tight_and_keep_their_promise() {
    println!("worst seen / bound, nanostrain; one call, then split; {SAMPLES} samples a channel");
    println!("{:<30} {:^27} {:^27}", "channel", "fixed", "f32");
    let mut figures = Figures::default();
    for (name, channel) in test_set() {
        let seen = sweep(&channel, SAMPLES);
        assert!(seen.clear > SAMPLES / 4, "{name}: only {} unflagged", seen.clear);
        let integer: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
        let single: float::Kernel<f32, 5, 3> = channel.try_float32().unwrap();
        let double: float::Kernel<f64, 5, 3> = channel.try_float64().unwrap();
        let (fixed, float) = (integer.error_bound(), single.error_bound());
        println!(
            "{name:<30} {:.3} / {:.3}  {:.3} / {:.3}  {:5.2} / {:5.2}  {:5.2} / {:5.2}",
            seen.fixed[0],
            fixed.reading.whole.0,
            seen.fixed[1],
            fixed.point.whole.0,
            seen.single[0],
            float.reading.whole.0,
            seen.single[1],
            float.point.whole.0,
        );
        let circuit = channel.circuit_error().unwrap().0;
        let holds = |seen: f64, bound: Nanostrain, slack: f64| {
            assert!(seen <= bound.0 + circuit + tolerance::REFERENCE_NANOSTRAIN, "{name}: {seen} > {bound}");
            assert!(seen * slack >= bound.0, "{name}: bound {bound} is slack, seen {seen}");
        };
        holds(seen.fixed[0], fixed.reading.whole, tolerance::SLACK);
        holds(seen.fixed[1], fixed.point.whole, tolerance::SLACK);
        holds(seen.single[0], float.reading.whole, tolerance::FLOAT_SLACK);
        holds(seen.single[1], float.point.whole, tolerance::FLOAT_SLACK);
        for sum in seen.sum {
            let bias = sum / seen.clear as f64;
            assert!(bias.abs() <= tolerance::FIXED_BIAS, "{name}: {bias} on average");
        }
        // Below what the model itself resolves, so only the one side can be tested.
        for (seen, bound) in [
            (seen.double[0], double.error_bound().reading.whole),
            (seen.double[1], double.error_bound().point.whole),
        ] {
            assert!(seen <= bound.0 + circuit + tolerance::REFERENCE_NANOSTRAIN, "{name}: {seen} > {bound}");
        }
        let (promise_fixed, promise_float) = if name.starts_with("mild") {
            (tolerance::FIXED_MILD, tolerance::FLOAT_MILD)
        } else {
            (tolerance::FIXED_WIDE, tolerance::FLOAT_WIDE)
        };
        assert!(fixed.larger().0 <= promise_fixed, "{name}: {}", fixed.larger());
        assert!(float.larger().0 <= promise_float, "{name}: {}", float.larger());
        figures.add(&name, &seen, fixed.larger().0, float.larger().0);
    }
    figures.check_readme();
}

/// Worst seen and largest bound over the wide and the mild channels, as README states them.
#[derive(Default)]
struct Figures(std::collections::BTreeMap<&'static str, [f64; 4]>);

impl Figures {
    fn add(&mut self, name: &str, seen: &Seen, fixed: f64, single: f64) {
        for kind in ["wide", "mild"] {
            if name.starts_with(kind) {
                let row = self.0.entry(kind).or_default();
                let of =
                    [seen.fixed[0].max(seen.fixed[1]), fixed, seen.single[0].max(seen.single[1]), single];
                for (figure, new) in row.iter_mut().zip(of) {
                    *figure = figure.max(new);
                }
            }
        }
    }

    fn check_readme(&self) {
        let readme = readme();
        for (kind, [seen, bound, seen_single, bound_single]) in &self.0 {
            for row in [
                format!("| fixed, {kind} | {seen:.2} | {bound:.2} |"),
                format!("| `f32`, {kind} | {seen_single:.1} | {bound_single:.1} |"),
            ] {
                assert!(readme.contains(&row), "README does not say: {row}");
            }
        }
    }
}

/// 24-bit codes are finer than an exhaustive run in a test can take, 16-bit ones are not: every code at
/// 512 temperatures.
#[test]
fn every_code_of_a_16_bit_converter() {
    let channel = coarse_codes();
    let model = reference::Model::new(&channel).unwrap();
    let kernel: fixed::Kernel<5, 1> = channel.try_fixed().unwrap();
    let bound = kernel.error_bound();
    let (cold, hot) = temperature_ends(&channel);
    let mut worst = 0.0f64;
    for i in 0..512 {
        let bits = i64::from(cold) + (i64::from(hot) - i64::from(cold)) * i / 511;
        let t = fixed::Temperature::from_bits(bits as i32);
        let point = kernel.at(t);
        for code in -32_767..=32_766 {
            let exact = model.strain(code, t).0 * 1e9;
            let one = kernel.reading(code, t).checked().unwrap().strain().0 * 1e9;
            let split = point.reading(code).checked().unwrap().strain().0 * 1e9;
            assert!((one - exact).abs() <= bound.reading.whole.0 + tolerance::REFERENCE_NANOSTRAIN);
            assert!((split - exact).abs() <= bound.point.whole.0 + tolerance::REFERENCE_NANOSTRAIN);
            worst = worst.max((one - exact).abs()).max((split - exact).abs());
        }
        for code in [-32_769, -32_768, 32_767, 32_768] {
            assert!(kernel.reading(code, t).flags.contains(Flags::CODE_AT_RAIL));
            assert!(point.reading(code).flags.contains(Flags::CODE_AT_RAIL));
        }
    }
    println!("65 534 codes at 512 temperatures: worst {worst:.3} nanostrain");
}

/// The sweep itself is checked: a kernel compiled from a channel that is a little wrong must be caught.
#[test]
fn planted_faults_are_caught() {
    let right = mild("gauge_on_aluminium", 4);
    let model = reference::Model::new(&right).unwrap();
    let faults: [(&str, Channel); 4] = [
        ("balance off by a tenth of a code", right.balanced(-123_456.65, Celsius(18.5))),
        ("balance temperature off by a millidegree", right.balanced(-123_456.75, Celsius(18.501))),
        (
            "two leads for three",
            Channel::new(
                gauge("gauge_on_aluminium", 4),
                Bridge::quarter_two_wire(Ohms(350.0), Ohms(1.2)),
                Converter::bipolar(24, Ratio(1.0 / 128.0)),
            )
            .balanced(-123_456.75, Celsius(18.5))
            .strain_within(Microstrain(5_200.0))
            .temperature_within(Celsius(-80.0), Celsius(100.0)),
        ),
        ("degree 5 for degree 4", mild("gauge_on_aluminium", 5)),
    ];
    for (name, wrong) in faults {
        let kernel: fixed::Kernel<5, 1> = wrong.try_fixed().unwrap();
        let bound = kernel.error_bound().reading.whole.0 + tolerance::REFERENCE_NANOSTRAIN;
        let caught = inputs(&right, 20_000).any(|(code, t)| {
            let exact = model.strain(code, t).0 * 1e9;
            let reading = kernel.reading(code, t).checked();
            reading.is_some_and(|s| (s.strain().0 * 1e9 - exact).abs() > bound)
        });
        assert!(caught, "{name} went unnoticed");
    }
}

/// Near the end of what the reciprocals are made for, what they leave out is the largest part of the error: a bound
/// without it would be broken here.
#[test]
fn the_reciprocals_remainder_is_in_the_bound() {
    // Gauge factors of up to 4, and changes of them by up to 18 % over the range.
    for (factor, slope, strain) in [(4.0, 0.0, 45_000.0), (4.0, 3.4, 18_000.0), (2.0, 4.0, 20_000.0)] {
        let gauge = Gauge::new(GaugeFactor(factor))
            .gauge_factor_slope(PercentPer100C(slope))
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-200.0), Celsius(248.0)));
        let channel = Channel::new(
            gauge,
            Bridge::quarter_ideal(Ohms(350.0)),
            Converter::bipolar(24, Ratio(1.0 / 16.0)),
        )
        .strain_within(Microstrain(strain));
        let kernel: fixed::Kernel = channel.fixed();
        let bound = kernel.error_bound();
        let seen = sweep(&channel, 50_000);
        let (reading, point) = (bound.reading, bound.point);
        println!(
            "remainders {:.3} {:.3}: seen {:.3} {:.3}",
            reading.reciprocal.0, point.reciprocal.0, seen.fixed[0], seen.fixed[1]
        );
        for (seen, parts) in [(seen.fixed[0], reading), (seen.fixed[1], point)] {
            assert!(seen <= parts.whole.0 + tolerance::REFERENCE_NANOSTRAIN, "{seen} > {parts:?}");
        }
        // The remainder shows: without it at least one path would be out of bounds.
        let without = |parts: Parts| parts.constants.0 + parts.operations.0;
        assert!(seen.fixed[0] > without(reading) || seen.fixed[1] > without(point), "{seen:?}");
    }
}
