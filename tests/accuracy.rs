//! Every kernel of the test set against exact arithmetic: bounds hold, bounds are not slack, and promises are kept.
//! `cargo test --release -- --nocapture error_report` prints what is found and what it is made of.

mod common;

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use common::described::Description;
use common::exact::TRUNCATED_NANOSTRAIN;
use common::search::{Kernels, PATHS, Seen, search};
use common::*;
use gaugewright::units::*;
use gaugewright::*;

/// Random pairs a channel; beside them ends and middles, and the climb.
const SAMPLES: usize = 200_000;

/// Why a worst error and a bound do not belong together.
#[derive(Debug, PartialEq)]
enum Fault {
    Exceeded,
    Slack,
}

/// The exact model may be off by `own` nanostrain, and what the kernels' map leaves out of the circuit is not in their
/// bounds.
fn judge(seen: f64, bound: f64, own: f64, slack: f64) -> Result<(), Fault> {
    if seen.is_nan() || seen > bound + own {
        return Err(Fault::Exceeded);
    }
    if seen * slack < bound { Err(Fault::Slack) } else { Ok(()) }
}

/// The test set, searched, on as many threads as there are cores.
fn searched(set: &[(String, Description)]) -> Vec<(Kernels, Seen)> {
    let next = AtomicUsize::new(0);
    let found: Vec<Mutex<Option<(Kernels, Seen)>>> = set.iter().map(|_| Mutex::new(None)).collect();
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                while let Some((_, described)) = set.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let i = set.iter().position(|(_, other)| std::ptr::eq(other, described)).unwrap();
                    let kernels = Kernels::of(&described.channel());
                    let seen = search(described, &kernels, SAMPLES);
                    *found[i].lock().unwrap() = Some((kernels, seen));
                }
            });
        }
    });
    found.into_iter().map(|one| one.into_inner().unwrap().expect("searched")).collect()
}

#[test]
fn error_report() {
    let set = set::described();
    println!("{SAMPLES} random pairs a channel, then a climb from the worst; nanostrain");
    let mut figures = Figures::default();
    let mut faults = Vec::new();
    for ((name, described), (kernels, seen)) in set.iter().zip(searched(&set)) {
        let channel = described.channel();
        let circuit = channel.circuit_error().unwrap().0;
        let (fixed, single) = (kernels.fixed.error_bound(), kernels.single.error_bound());
        let bounds = kernels.bounds();
        println!("\n{name}: {} pairs in range, {circuit:.1e} left out of the circuit", seen.clear);
        assert!(seen.clear > SAMPLES / 4, "{name}: only {} unflagged", seen.clear);
        for (path, label) in PATHS.iter().enumerate() {
            let (swept, worst, bound) = (seen.swept[path].error, seen.worst[path], bounds[path]);
            println!(
                "  {label:<14} worst {:<9.3} of {bound:<9.3} {:3.0} %  (sweep {swept:.3})  code {} at {:.6} C",
                worst.error,
                100.0 * worst.error / bound,
                worst.code,
                fixed::Temperature::from_bits(worst.bits).celsius().0,
            );
            let slack = [tolerance::SLACK, tolerance::FLOAT_SLACK, tolerance::DOUBLE_SLACK][path / 2];
            if let Err(fault) = judge(worst.error, bound, circuit + TRUNCATED_NANOSTRAIN, slack) {
                faults.push(format!("{name}, {label}: {fault:?}, seen {}, bound {bound}", worst.error));
            }
        }
        println!("fixed, {fixed}\nf32, {single}");
        for sum in seen.sum {
            let bias = sum / seen.clear as f64;
            assert!(bias.abs() <= tolerance::FIXED_BIAS, "{name}: {bias} on average");
        }
        let (promise_fixed, promise_float) = if name.starts_with("mild") {
            (tolerance::FIXED_MILD, tolerance::FLOAT_MILD)
        } else {
            (tolerance::FIXED_WIDE, tolerance::FLOAT_WIDE)
        };
        assert!(fixed.larger().0 <= promise_fixed, "{name}: {}", fixed.larger());
        assert!(single.larger().0 <= promise_float, "{name}: {}", single.larger());
        figures.add(name, &seen, fixed.larger().0, single.larger().0);
    }
    assert!(faults.is_empty(), "{faults:#?}");
    figures.check_readme();
}

/// Worst seen and largest bound over the wide and the mild channels, as README states them.
#[derive(Default)]
struct Figures(std::collections::BTreeMap<&'static str, [f64; 4]>);

impl Figures {
    fn add(&mut self, name: &str, seen: &Seen, fixed: f64, single: f64) {
        let worst = |path: usize| seen.worst[path].error.max(seen.worst[path + 1].error);
        for kind in ["wide", "mild"] {
            if name.starts_with(kind) {
                let row = self.0.entry(kind).or_default();
                let of =
                    [worst(0), fixed, worst(2), single];
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
