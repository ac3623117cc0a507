//! What one sample costs on the host, beside its error: every path of the library, and what one writes
//! without it ([`peers`]).
//!
//! - **single**: one call, the input taken from 256 different ones in turn, each passed through
//!   [`black_box`] like the result. Calls do not wait for each other, so this is what a call adds to a
//!   busy program, not how long an answer takes. *loop alone* is the same loop with no call in it.
//!   This is the figure to go by.
//! - **block**: 4096 samples in one call (or, for peers, in a plain loop), results stored. Time is that of the
//!   whole block, throughput in samples.
//!
//! *one call* takes code and temperature, *OperatingPoint* a code at one temperature, *at()* makes a point. All of
//! the library's paths check ranges and return flags; peers do neither and store a bare strain.
//!
//! The number in each name is the worst error over a sweep of the declared range, in nanostrain.
//! `cargo bench --bench per_sample`; add `RUSTFLAGS="-C target-cpu=native"` for all the host can do.

mod support;

use std::hint::black_box;
use std::time::Duration;

use criterion::measurement::WallTime;
use criterion::{BenchmarkGroup, BenchmarkId, Criterion, Throughput};
use gaugewright::fixed::{Strain, Temperature};
use gaugewright::units::Nanostrain;
use gaugewright::{Flags, Reading, fixed, float};
use on_target::peers::{self, Notebook};
use peers::naive_double::NaiveDouble;
use peers::naive_single::NaiveSingle;
use peers::notebooks::{MILD, WIDE, channel};
use peers::table::Table;
use support::host;
use support::samples::{Inputs, POINT, SAMPLES, Samples};

/// Samples in a block.
const BLOCK: usize = 4096;

/// All that is measured, for one channel.
struct Contest {
    fixed: fixed::Kernel,
    single: float::Kernel<f32>,
    double: float::Kernel<f64>,
    naive_double: NaiveDouble,
    naive_single: NaiveSingle,
    table: Table,
    samples: Samples,
    errors: Errors,
}

impl Contest {
    fn new(name: &str, notebook: &Notebook) -> Self {
        let channel = channel(notebook);
        let rail = (1 << (notebook.converter_bits - 1)) - 1;
        let mut contest = Self {
            fixed: channel.fixed(),
            single: channel.float32(),
            double: channel.float64(),
            naive_double: NaiveDouble::new(notebook),
            naive_single: NaiveSingle::new(notebook),
            table: Table::new(notebook),
            samples: Samples::of(&channel, notebook.strain_limit, rail),
            errors: Errors::new(name),
        };
        contest.measure_errors();
        contest
    }

    fn measure_errors(&mut self) {
        let bounds = (self.fixed.error_bound(), self.single.error_bound(), self.double.error_bound());
        let errors = &mut self.errors;
        let mut path = |name, bound, strain: &dyn Fn(i32, Temperature) -> f64| {
            errors.add(name, bound, &self.samples, strain);
        };
        path("fixed one call", Some(bounds.0.reading.total), &|c, t| {
            clear(self.fixed.reading(c, t)).strain().0
        });
        path("fixed OperatingPoint", Some(bounds.0.point.total), &|c, t| {
            clear(self.fixed.at(t).reading(c)).strain().0
        });
        path("f32 one call", Some(bounds.1.reading.total), &|c, t| clear(self.single.reading(c, t)).into());
        path("f32 OperatingPoint", Some(bounds.1.point.total), &|c, t| {
            clear(self.single.at(t).reading(c)).into()
        });
        path("f64 one call", Some(bounds.2.reading.total), &|c, t| clear(self.double.reading(c, t)));
        path("f64 Point", Some(bounds.2.point.total), &|c, t| clear(self.double.at(t).reading(c)));
        path("peer: naive f64", None, &|c, t| self.naive_double.strain(c, t.to_bits()));
        path("peer: naive f32", None, &|c, t| self.naive_single.strain(c, t.to_bits()).into());
        path("peer: table of 64", None, &|c, t| f64::from(self.table.strain(c, t.to_bits())) * 1e-9);
    }

    fn bench(&self, group: &mut BenchmarkGroup<'_, WallTime>) {
        group.throughput(Throughput::Elements(1));
        self.bench_single_calls(group);
        group.throughput(Throughput::Elements(BLOCK as u64));
        self.bench_blocks(group);
        self.bench_peers_in_blocks(group);
    }

    fn bench_single_calls(&self, group: &mut BenchmarkGroup<'_, WallTime>) {
        let (spread, at_point) = (&self.samples.spread, &self.samples.at_point);
        let Self { fixed, errors, .. } = self;
        single_call(group, spread, "loop alone", |code, _| code);
        let name = |path| format!("single: {}", errors.label(path));
        single_call(group, spread, name("fixed one call"), |c, t| fixed.reading(c, t));
        single_call(group, spread, "single: fixed at()", |_, t| fixed.at(t));
        let point = fixed.at(POINT);
        single_call(group, at_point, name("fixed OperatingPoint"), |c, _| point.reading(c));

        let kernel = &self.single;
        single_call(group, spread, name("f32 one call"), |c, t| kernel.reading(c, t));
        single_call(group, spread, "single: f32 at()", |_, t| kernel.at(t));
        let point = kernel.at(POINT);
        single_call(group, at_point, name("f32 OperatingPoint"), |c, _| point.reading(c));

        let kernel = &self.double;
        single_call(group, spread, name("f64 one call"), |c, t| kernel.reading(c, t));
        single_call(group, spread, "single: f64 at()", |_, t| kernel.at(t));
        let point = kernel.at(POINT);
        single_call(group, at_point, name("f64 Point"), |c, _| point.reading(c));

        single_call(group, spread, name("peer: naive f64"), |c, t| self.naive_double.strain(c, t.to_bits()));
        single_call(group, spread, name("peer: naive f32"), |c, t| self.naive_single.strain(c, t.to_bits()));
        single_call(group, spread, name("peer: table of 64"), |c, t| self.table.strain(c, t.to_bits()));
    }

    fn bench_blocks(&self, group: &mut BenchmarkGroup<'_, WallTime>) {
        let (spread, at_point) = (&self.samples.spread, &self.samples.at_point);
        let name = |path| format!("block: {}", self.errors.label(path));
        let kernel = &self.fixed;
        let empty = Strain::from_bits(0);
        block(group, spread, name("fixed one call"), empty, |c, t, out| {
            kernel.readings(c, t, out).unwrap();
        });
        let point = kernel.at(POINT);
        block(group, at_point, name("fixed OperatingPoint"), empty, |c, _, out| {
            point.readings(c, out).unwrap();
        });

        let kernel = &self.single;
        block(group, spread, name("f32 one call"), 0.0, |c, t, out| {
            kernel.readings(c, t, out).unwrap();
        });
        let point = kernel.at(POINT);
        block(group, at_point, name("f32 OperatingPoint"), 0.0, |c, _, out| {
            point.readings(c, out).unwrap();
        });

        let kernel = &self.double;
        block(group, spread, name("f64 one call"), 0.0, |c, t, out| {
            kernel.readings(c, t, out).unwrap();
        });
        let point = kernel.at(POINT);
        block(group, at_point, name("f64 Point"), 0.0, |c, _, out| {
            point.readings(c, out).unwrap();
        });
    }

    fn bench_peers_in_blocks(&self, group: &mut BenchmarkGroup<'_, WallTime>) {
        let spread = &self.samples.spread;
        let name = |path| format!("block: {}", self.errors.label(path));
        let peer = &self.naive_double;
        any_block(group, spread, name("peer: naive f64"), 0.0, |c, t, out| {
            for ((&code, t), strain) in c.iter().zip(t).zip(out) {
                *strain = peer.strain(code, t.to_bits());
            }
        });
        let peer = &self.naive_single;
        any_block(group, spread, name("peer: naive f32"), 0.0, |c, t, out| {
            for ((&code, t), strain) in c.iter().zip(t).zip(out) {
                *strain = peer.strain(code, t.to_bits());
            }
        });
        let peer = &self.table;
        any_block(group, spread, name("peer: table of 64"), 0, |c, t, out| {
            for ((&code, t), strain) in c.iter().zip(t).zip(out) {
                *strain = peer.strain(code, t.to_bits());
            }
        });
    }
}

/// Times `call` on 256 inputs in turn.
fn single_call<R>(
    group: &mut BenchmarkGroup<'_, WallTime>,
    inputs: &Inputs,
    name: impl Into<String>,
    call: impl Fn(i32, Temperature) -> R,
) {
    let (codes, temperatures) = first::<256>(inputs);
    group.bench_function(BenchmarkId::from_parameter(name.into()), |bencher| {
        let mut next = 0u8;
        bencher.iter(|| {
            next = next.wrapping_add(1);
            let i = usize::from(next);
            call(black_box(codes[i]), black_box(temperatures[i]))
        });
    });
}

/// Times `block` on 4096 samples, readings stored.
fn block<S: Copy>(
    group: &mut BenchmarkGroup<'_, WallTime>,
    inputs: &Inputs,
    name: String,
    empty: S,
    block: impl Fn(&[i32], &[Temperature], &mut [Reading<S>]),
) {
    let empty = Reading { strain: empty, flags: Flags::CLEAR };
    any_block(group, inputs, name, empty, block);
}

fn any_block<R: Copy>(
    group: &mut BenchmarkGroup<'_, WallTime>,
    inputs: &Inputs,
    name: String,
    empty: R,
    block: impl Fn(&[i32], &[Temperature], &mut [R]),
) {
    let (codes, temperatures) = first::<BLOCK>(inputs);
    let mut results = [empty; BLOCK];
    group.bench_function(BenchmarkId::from_parameter(name), |bencher| {
        bencher.iter(|| {
            block(black_box(&codes), black_box(&temperatures), black_box(&mut results));
        });
    });
}

/// The first so many, as arrays.
fn first<const N: usize>(inputs: &Inputs) -> ([i32; N], [Temperature; N]) {
    (std::array::from_fn(|i| inputs.codes[i]), std::array::from_fn(|i| inputs.temperatures[i]))
}

/// Worst error and certified bound, path by path.
struct Errors {
    title: String,
    lines: Vec<(&'static str, Nanostrain, Option<Nanostrain>)>,
}

impl Errors {
    /// No path yet.
    fn new(title: &str) -> Self {
        Self { title: title.to_owned(), lines: Vec::new() }
    }

    /// Measures a path, whose `strain` is a plain ratio.
    ///
    /// # Panics
    /// If it misses its bound.
    fn add(
        &mut self,
        path: &'static str,
        bound: Option<Nanostrain>,
        samples: &Samples,
        strain: impl Fn(i32, Temperature) -> f64,
    ) {
        let worst = worst(samples, strain);
        if let Some(bound) = bound {
            // What the double-precision model may itself be off.
            let reference = 1e-4;
            assert!(
                worst.0 <= bound.0 + reference,
                "{path}: {} nanostrain, the bound is {}",
                worst.0,
                bound.0
            );
        }
        self.lines.push((path, worst, bound));
    }

    /// The name of a path with its worst error.
    fn label(&self, path: &str) -> String {
        let line = self.lines.iter().find(|line| line.0 == path);
        let (path, worst, _) = line.expect("every path was measured");
        format!("{path} ({} nanostrain)", short(*worst))
    }
}

impl std::fmt::Display for Errors {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "{} channel, worst of {SAMPLES} samples\n{:<20} {:>12} {:>17}  nanostrain",
            self.title, "", "worst error", "certified bound",
        )?;
        for (path, worst, bound) in &self.lines {
            let bound = bound.map_or("none".to_owned(), short);
            write!(f, "\n{path:<20} {:>12} {bound:>17}", short(*worst))?;
        }
        Ok(())
    }
}

/// Three digits or so.
fn short(error: Nanostrain) -> String {
    match error.0 {
        // The double-precision model resolves no better.
        e if e < 1e-4 => "<0.0001".to_owned(),
        e if e < 1.0 => format!("{e:.3}"),
        e if e < 10.0 => format!("{e:.2}"),
        e => format!("{e:.0}"),
    }
}

/// The largest distance of `strain` from the exact model.
fn worst(samples: &Samples, strain: impl Fn(i32, Temperature) -> f64) -> Nanostrain {
    let inputs = samples.spread.codes.iter().zip(&samples.spread.temperatures);
    let errors = inputs
        .zip(&samples.exact)
        .map(|((&code, &temperature), exact)| (strain(code, temperature) - exact).abs());
    Nanostrain(errors.fold(0.0, f64::max) * 1e9)
}

/// The strain of a reading that must be in range.
fn clear<S: Copy>(reading: Reading<S>) -> S {
    reading.checked().expect("every sample is in range")
}

fn main() {
    host::print();
    let contests = [("wide", &WIDE), ("mild", &MILD)].map(|(name, notebook)| {
        let contest = Contest::new(name, notebook);
        println!("\n{}", contest.errors);
        (name, black_box(contest))
    });

    let mut criterion = Criterion::default()
        .without_plots()
        .warm_up_time(Duration::from_millis(300))
        .measurement_time(Duration::from_millis(1000))
        .configure_from_args();
    for (name, contest) in &contests {
        let mut group = criterion.benchmark_group(*name);
        contest.bench(&mut group);
        group.finish();
    }
    criterion.final_summary();
}
