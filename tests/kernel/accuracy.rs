//! Every kernel of the test set against exact arithmetic: bounds hold, bounds are not slack, and error limits are met.
//! `cargo test -- --nocapture error_report` prints what is found and what it is made of.

use gaugewright::kernel::Parts;
use gaugewright::*;
use support::described::{Basis, Description, FactorChange, Origin, Package};
use support::exact::{Exact, TRUNCATED_NANOSTRAIN};
use support::search::{Kernels, PATHS, Search, Seen, search};
use support::*;

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

fn shown(nanostrain: f64) -> String {
    if nanostrain < 0.01 { format!("{nanostrain:.2e}") } else { format!("{nanostrain:.4}") }
}

#[test]
fn error_report() {
    report::<0>(&set::described());
}

/// Of gauge factors that refer to the resistance of the unloaded gauge or of the free foil.
#[test]
fn error_report_of_the_product() {
    report::<1>(&set::with_product());
}

fn report<const P: usize>(set: &[(String, Description)]) {
    println!("{SAMPLES} random pairs a channel, then a climb from the worst; nanostrain");
    let mut figures = Figures::default();
    let mut faults = Vec::new();
    let searched = in_parallel(set.len(), |i| {
        let kernels = Kernels::<P>::with_room(&set[i].1.channel());
        let seen = search(&set[i].1, &kernels, SAMPLES);
        (kernels, seen)
    });
    for ((name, described), (kernels, seen)) in set.iter().zip(searched) {
        let channel = described.channel();
        let circuit = channel.circuit_error().unwrap().0 + channel.gauge_factor_error(3).unwrap().0;
        let (fixed, single) = (kernels.fixed.error_bound(), kernels.single.error_bound());
        let bounds = kernels.bounds();
        println!(
            "\n{name}: {} pairs in range, {circuit:.1e} left out of circuit and gauge factor",
            seen.clear
        );
        assert!(seen.clear > SAMPLES / 4, "{name}: only {} unflagged", seen.clear);
        for (path, label) in PATHS.iter().enumerate() {
            let (swept, worst, bound) = (seen.swept[path].error, seen.worst[path], bounds[path]);
            println!(
                "  {label:<12} {} of {}, {:3.0} %  (sweep {})  code {} at {:.6} C",
                shown(worst.error),
                shown(bound),
                100.0 * worst.error / bound,
                shown(swept),
                worst.code,
                fixed::Temperature::from_bits(worst.bits).celsius().0,
            );
            let slack = [tolerance::SLACK, tolerance::SLACK, tolerance::DOUBLE_SLACK][path / 2];
            if let Err(fault) = judge(worst.error, bound, circuit + TRUNCATED_NANOSTRAIN, slack) {
                faults.push(format!("{name}, {label}: {fault:?}, seen {}, bound {bound}", worst.error));
            }
        }
        println!("fixed, {fixed}\nf32, {single}");
        for sum in seen.sum {
            let bias = sum / seen.clear as f64;
            assert!(bias.abs() <= tolerance::FIXED_BIAS, "{name}: {bias} on average");
        }
        let (limit_fixed, limit_float) = if name.starts_with("mild") {
            (tolerance::FIXED_MILD, tolerance::FLOAT_MILD)
        } else {
            (tolerance::FIXED_WIDE, tolerance::FLOAT_WIDE)
        };
        assert!(fixed.max().0 <= limit_fixed, "{name}: {}", fixed.max());
        assert!(single.max().0 <= limit_float, "{name}: {}", single.max());
        figures.add(name, &seen, fixed.max().0, single.max().0);
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
        for kind in ["wide", "mild", "unloaded gauge wide", "free foil mild"] {
            if name.starts_with(kind) {
                let row = self.0.entry(kind).or_default();
                let of = [worst(0), fixed, worst(2), single];
                for (figure, new) in row.iter_mut().zip(of) {
                    *figure = figure.max(new);
                }
            }
        }
    }

    fn check_readme(&self) {
        let readme = document("README.md");
        let rows = self.0.iter().flat_map(|(kind, [seen, bound, seen_single, bound_single])| {
            // Of other gauge factors than those at balance, the range comes first.
            let kind = match *kind {
                "unloaded gauge wide" => "wide, unloaded gauge",
                "free foil mild" => "mild, free foil",
                kind => kind,
            };
            [
                format!("| fixed, {kind} | {seen:.2} | {bound:.2} |"),
                format!("| `f32`, {kind} | {seen_single:.1} | {bound_single:.1} |"),
            ]
        });
        let missing: Vec<String> = rows.filter(|row| !readme.contains(row)).collect();
        assert!(missing.is_empty(), "README does not say: {missing:#?}");
    }
}

/// The sweep itself is checked: a kernel compiled from a channel that is a little wrong must be caught.
#[test]
fn planted_faults_are_caught() {
    let right = set::mild("gauge_on_aluminium", 4);
    let exact = Exact::of(&right);
    let Origin::Codes(wired, bits, full_scale) = right.origin else { unreachable!() };
    let two_wire = Origin::Codes(described::Wired { two_wire: true, ..wired }, bits, full_scale);
    let faults = [
        (
            "balance off by a tenth of a code",
            Description { balance: Some((-123_456.65, 18.5)), ..right.clone() },
        ),
        (
            "balance temperature off by a millidegree",
            Description { balance: Some((-123_456.75, 18.501)), ..right.clone() },
        ),
        ("two leads for three", Description { origin: two_wire, ..right.clone() }),
        ("degree 5 for degree 4", set::mild("gauge_on_aluminium", 5)),
    ];
    for (name, wrong) in faults {
        let kernels = Kernels::of(&wrong.channel());
        let (seen, _) = Search::new(&exact, &kernels).sweep(20_000);
        for (path, label) in PATHS.iter().enumerate().take(2) {
            let verdict =
                judge(seen.swept[path].error, kernels.bounds()[path], TRUNCATED_NANOSTRAIN, tolerance::SLACK);
            assert_eq!(verdict, Err(Fault::Exceeded), "{name}, {label}");
        }
        // No climb starts where readings in `f64`, which say where it has to look, are themselves off.
        let climb = std::panic::catch_unwind(|| search(&right, &kernels, 2_000));
        assert!(climb.is_err(), "{name}: a climb by wrong readings");
    }
    // And a bound that is not the kernel's: half of it is exceeded, three times as much is slack.
    let kernels = Kernels::of(&right.channel());
    let seen = search(&right, &kernels, SAMPLES);
    for path in 0..2 {
        let (worst, bound) = (seen.worst[path].error, kernels.bounds()[path]);
        let verdict = |bound: f64| judge(worst, bound, TRUNCATED_NANOSTRAIN, tolerance::SLACK);
        assert_eq!(verdict(bound), Ok(()));
        assert_eq!(verdict(bound / 2.0), Err(Fault::Exceeded), "{worst} of {bound}");
        assert_eq!(verdict(bound * 3.0), Err(Fault::Slack), "{worst} of {bound}");
    }
}

/// Near the end of what the reciprocals are made for, what they leave out is the largest part of the error: a bound
/// without it would be broken here.
#[test]
fn the_reciprocals_remainder_is_in_the_bound() {
    // Gauge factors of up to 4, and changes of them by up to 18 % over the range.
    for (factor, slope, strain) in [(4.0, 0.0, 45_000.0), (4.0, 3.4, 18_000.0), (2.0, 4.0, 20_000.0)] {
        let package = Package {
            factor,
            change: FactorChange::Slope(slope),
            curve: vec![0.0],
            fahrenheit: false,
            stated_for: 2.0,
            fitted: (-200.0, 248.0),
            reference: 24.0,
            matched: None,
            transverse: 0.0,
            basis: Basis::AtBalance,
        };
        let wired = described::Wired::new(Circuit::Quarter, 350.0, 0.0);
        let described = Description {
            strain: Some(strain),
            ..Description::new(package, Origin::Codes(wired, 24, 1.0 / 16.0))
        };
        let kernels = Kernels::of(&described.channel());
        let (seen, _) = Search::new(&Exact::of(&described), &kernels).sweep(50_000);
        let bound = kernels.fixed.error_bound();
        let (reading, point) = (bound.reading, bound.point);
        let seen = [seen.swept[0].error, seen.swept[1].error];
        println!("remainders {:.3} {:.3}: seen {seen:.3?}", reading.reciprocal.0, point.reciprocal.0);
        for (seen, parts) in [(seen[0], reading), (seen[1], point)] {
            assert!(seen <= parts.total.0 + TRUNCATED_NANOSTRAIN, "{seen} > {parts:?}");
        }
        // The remainder shows: without it at least one path would be out of bounds.
        let without = |parts: Parts| parts.total.0 - parts.reciprocal.0;
        assert!(seen[0] > without(reading) || seen[1] > without(point), "{seen:?}");
    }
}
