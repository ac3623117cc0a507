//! Blocks of the library beside numpy and beside a plain loop, all in one run: at one temperature and with one for each sample,
//! in cache (4096 samples) and out of it (16 million).
//!
//! `cargo bench --bench beside_numpy`, and the same with `RUSTFLAGS="-C target-cpu=native"`. It runs `benches/beside_numpy.py` by
//! `python3`, or what `PYTHON` names; where that has no numpy, the table is without it.
//!
//! The library checks ranges and stores a flag with each strain; numpy and the plain loop do neither. Temperatures are integers in
//! Q20 for all. The fastest of several passes counts, as others may run on the machine.

mod support;

use gaugewright::fixed::{self, Strain, Temperature};
use gaugewright::{Flags, Reading, float};
use on_target::peers::naive_double::NaiveDouble;
use on_target::peers::naive_single::NaiveSingle;
use on_target::peers::notebooks::{WIDE, channel};
use std::hint::black_box;
use std::io::{self, Write};
use std::process::{Command, Stdio};
use std::time::Instant;
use support::host;
use support::samples::{POINT, Samples};

const SMALL: usize = 4096;
const LARGE: usize = 1 << 24;
const PYTHON_PROGRAM: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/beside_numpy.py");

/// Nanoseconds a sample, in and out of cache.
type Times = [f64; 2];

/// Of a path, at one temperature and with one for each sample.
type Row = (&'static str, [Times; 2]);

/// Codes that repeat those of the sweep, at one temperature and with one each.
struct Inputs {
    at_point: Vec<i32>,
    codes: Vec<i32>,
    temperatures: Vec<Temperature>,
}

impl Inputs {
    fn of(samples: &Samples, size: usize) -> Self {
        let repeat = |codes: &[i32]| codes[..SMALL].repeat(size / SMALL);
        Self {
            at_point: repeat(&samples.at_point.codes),
            codes: repeat(&samples.spread.codes),
            temperatures: samples.spread.temperatures[..SMALL].repeat(size / SMALL),
        }
    }
}

/// The time of `block` over as many results as there are codes.
fn fastest<R: Copy>(codes: &[i32], empty: R, mut block: impl FnMut(&[i32], &mut [R])) -> f64 {
    let (passes, calls) = if codes.len() == SMALL { (300, 20) } else { (5, 1) };
    let mut results = vec![empty; codes.len()];
    let mut best = f64::INFINITY;
    for _ in 0..passes {
        let start = Instant::now();
        for _ in 0..calls {
            block(black_box(codes), black_box(&mut results));
        }
        best = best.min(start.elapsed().as_secs_f64() * 1e9 / f64::from(calls) / codes.len() as f64);
    }
    best
}

/// A path at one temperature and with one each: for each of the two its times.
fn measured<R: Copy>(
    inputs: &[Inputs; 2],
    empty: R,
    point: impl Fn(&[i32], &mut [R]),
    each: impl Fn(&[i32], &[Temperature], &mut [R]),
) -> [Times; 2] {
    let at_point = |inputs: &Inputs| fastest(&inputs.at_point, empty, &point);
    let with_each = |inputs: &Inputs| {
        fastest(&inputs.codes, empty, |codes, out| each(codes, black_box(&inputs.temperatures), out))
    };
    [inputs.each_ref().map(at_point), inputs.each_ref().map(with_each)]
}

fn library(inputs: &[Inputs; 2]) -> [Row; 5] {
    let channel = channel(&WIDE);
    let reading = |strain: f64| Reading { strain, flags: Flags::CLEAR };
    let fixed: fixed::Kernel = channel.fixed();
    let point = fixed.at(POINT);
    let empty = Reading { strain: Strain::from_bits(0), flags: Flags::CLEAR };
    let in_integers = measured(
        inputs,
        empty,
        |codes, out| point.readings(codes, out).unwrap(),
        |codes, temperatures, out| fixed.readings(codes, temperatures, out).unwrap(),
    );
    let single: float::Kernel<f32> = channel.float32();
    let point = single.at(POINT);
    let in_single = measured(
        inputs,
        Reading { strain: 0.0_f32, flags: Flags::CLEAR },
        |codes, out| point.readings(codes, out).unwrap(),
        |codes, temperatures, out| single.readings(codes, temperatures, out).unwrap(),
    );
    let double: float::Kernel<f64> = channel.float64();
    let point = double.at(POINT);
    let in_double = measured(
        inputs,
        reading(0.0),
        |codes, out| point.readings(codes, out).unwrap(),
        |codes, temperatures, out| double.readings(codes, temperatures, out).unwrap(),
    );
    let (single, double) = (NaiveSingle::new(&WIDE), NaiveDouble::new(&WIDE));
    let naive_single = measured(
        inputs,
        0.0_f32,
        |codes, out| {
            let at = black_box(POINT.to_bits());
            codes.iter().zip(out).for_each(|(&code, strain)| *strain = single.strain(code, at));
        },
        |codes, temperatures, out| {
            for ((&code, t), strain) in codes.iter().zip(temperatures).zip(out) {
                *strain = single.strain(code, t.to_bits());
            }
        },
    );
    let naive_double = measured(
        inputs,
        0.0_f64,
        |codes, out| {
            let at = black_box(POINT.to_bits());
            codes.iter().zip(out).for_each(|(&code, strain)| *strain = double.strain(code, at));
        },
        |codes, temperatures, out| {
            for ((&code, t), strain) in codes.iter().zip(temperatures).zip(out) {
                *strain = double.strain(code, t.to_bits());
            }
        },
    );
    [
        ("fixed", in_integers),
        ("f32", in_single),
        ("f64", in_double),
        ("naive f32", naive_single),
        ("naive f64", naive_double),
    ]
}

/// What numpy was, and its times in double and in single precision.
fn numpy(inputs: &Inputs) -> io::Result<(String, [Row; 2])> {
    let python = std::env::var("PYTHON").unwrap_or_else(|_| "python3".to_string());
    let mut child = Command::new(python)
        .arg(PYTHON_PROGRAM)
        .args([SMALL.to_string(), LARGE.to_string(), POINT.to_bits().to_string()])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()?;
    let mut given = child.stdin.take().ok_or(io::ErrorKind::BrokenPipe)?;
    let numbers = [
        WIDE.ratio_per_code(),
        WIDE.balance_code * WIDE.ratio_per_code(),
        WIDE.lead_factor(),
        WIDE.gauge_factor,
        WIDE.factor_per_degree(),
        WIDE.reference_temperature,
        WIDE.balance_temperature,
        WIDE.stated_for,
    ];
    let line = numbers.iter().chain(&WIDE.thermal_output).map(f64::to_string).collect::<Vec<_>>().join(" ");
    let peer = NaiveDouble::new(&WIDE);
    let both = || inputs.codes.iter().zip(&inputs.temperatures);
    let mut bytes = line.into_bytes();
    bytes.push(b'\n');
    bytes.extend(inputs.codes.iter().flat_map(|code| code.to_ne_bytes()));
    bytes.extend(inputs.temperatures.iter().flat_map(|t| t.to_bits().to_ne_bytes()));
    bytes.extend(both().flat_map(|(&code, t)| peer.strain(code, t.to_bits()).to_ne_bytes()));
    // Where it has no numpy it does not read; what it says of that is on the terminal.
    let _ = given.write_all(&bytes);
    drop(given);
    let output = child.wait_with_output()?;
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    let time = |temperature: &str, real: &str, size: usize| -> Option<f64> {
        let start = format!("{temperature} {real} {size} ");
        said.lines().find_map(|line| line.strip_prefix(&start))?.parse().ok()
    };
    let times = |real: &str| -> Option<[Times; 2]> {
        let of = |temperature| Some([time(temperature, real, SMALL)?, time(temperature, real, LARGE)?]);
        Some([of("point")?, of("each")?])
    };
    match (said.lines().next(), times("float64"), times("float32")) {
        (Some(what), Some(double), Some(single)) => {
            Ok((what.to_string(), [("numpy float64", double), ("numpy float32", single)]))
        }
        _ => Err(io::Error::other("it gives no times: is numpy there?")),
    }
}

fn main() {
    host::print();
    let samples = {
        let rail = (1 << (WIDE.converter_bits - 1)) - 1;
        Samples::of(&channel(&WIDE), WIDE.strain_limit, rail)
    };
    let inputs = [SMALL, LARGE].map(|size| Inputs::of(&samples, size));
    let mut rows = library(&inputs).to_vec();
    match numpy(&inputs[0]) {
        Ok((what, times)) => {
            println!("{what}");
            rows.extend(times);
        }
        Err(error) => println!("without numpy: {error}"),
    }
    println!("\nblocks of the wide channel, ns a sample: in cache ({SMALL}), out of cache ({LARGE})");
    println!("| path | one temperature, in | out | one each, in | out |\n|---|---|---|---|---|");
    for (name, [[point_in, point_out], [each_in, each_out]]) in rows {
        println!("| {name} | {point_in:.2} | {point_out:.2} | {each_in:.2} | {each_out:.2} |");
    }
}
