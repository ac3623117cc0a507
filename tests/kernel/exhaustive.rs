//! Every code of a converter at many temperatures, fixed point against exact arithmetic, on both paths. By default a
//! part of it; all of it with
//! `cargo test --test kernel exhaustive -- --ignored --nocapture` (src/kernel/design.md has the result).

use std::sync::Mutex;
use std::time::{Duration, Instant};

use gaugewright::*;
use support::described::Description;
use support::exact::{At, Exact, TRUNCATED_NANOSTRAIN};
use support::network::{exactly, ratio_of, whole};
use support::search::{Kernels, search};
use support::{Random, in_parallel, set, tolerance};

/// Codes whose signals are worked out together, and then met with every temperature.
const CHUNK: i32 = 8_192;

/// Temperatures of the full sweeps.
const FULL_16: usize = 65_536;
const FULL_24: usize = 256;

/// What is compared: strains in Q34 with the exact ones in 2^-126, and kept in 2^-86.
const KEPT: f64 = 1e9 / (1u128 << 86) as f64;
/// Of the exact model, and of what is kept.
const OWN: f64 = TRUNCATED_NANOSTRAIN + 1e-15;

/// Lowest and highest error of a path, in 2^-86.
type Range = (i64, i64);

#[derive(Clone, Copy)]
struct Worst {
    /// Nanostrain, without its sign.
    error: f64,
    code: i32,
    bits: i32,
}

struct Exhausted {
    worst: [Worst; 2],
    readings: u64,
}

struct Sweep<'a, const P: usize> {
    exact: Exact,
    kernel: &'a fixed::Kernel<5, 1, P>,
    temperatures: Vec<(i32, At)>,
    stride: i32,
}

impl<'a, const P: usize> Sweep<'a, P> {
    /// `count` temperatures: half of them evenly spread, ends included, half random.
    fn new(described: &Description, kernel: &'a fixed::Kernel<5, 1, P>, count: usize, stride: i32) -> Self {
        let exact = Exact::of(described);
        let (cold, hot) = kernel.temperatures();
        let (cold, hot) = (cold.to_bits(), hot.to_bits());
        let even = count / 2;
        let width = i64::from(hot) - i64::from(cold);
        let mut random = Random(20_261_126);
        let temperatures = (0..count)
            .map(|i| {
                let bits = if i < even {
                    (i64::from(cold) + width * i as i64 / (even as i64 - 1)) as i32
                } else {
                    random.between(cold, hot)
                };
                (bits, exact.at(bits))
            })
            .collect();
        Self { exact, kernel, temperatures, stride }
    }

    /// Every `stride`th code of the window, the last one too, in chunks.
    fn chunks(&self) -> Vec<Vec<i32>> {
        let (first, last) = self.kernel.codes();
        let codes: Vec<i32> =
            (first..=last).step_by(self.stride as usize).chain((self.stride > 1).then_some(last)).collect();
        codes.chunks(CHUNK as usize).map(<[i32]>::to_vec).collect()
    }

    /// Errors of some codes at one temperature.
    fn errors(&self, codes: &[(i32, i64)], bits: i32, at: &At) -> [Range; 2] {
        let t = fixed::Temperature::from_bits(bits);
        let point = self.kernel.at(t);
        let mut ranges = [(i64::MAX, i64::MIN); 2];
        let mut flags = 0;
        for &(code, signal) in codes {
            let exact = at.strain(signal);
            for (range, reading) in ranges.iter_mut().zip([self.kernel.reading(code, t), point.reading(code)])
            {
                let error = (((i128::from(reading.strain.to_bits()) << 92) - exact) >> 40) as i64;
                *range = (range.0.min(error), range.1.max(error));
                flags |= reading.flags.bits();
            }
        }
        // Strain beyond the declared range is flagged and still computed; nothing else may be.
        assert!(flags & !Flags::STRAIN_OUTSIDE.bits() == 0, "flags {flags:b} in the window");
        ranges
    }

    /// All chunks.
    fn run(&self, name: &str) -> Exhausted {
        let none = Worst { error: 0.0, code: 0, bits: 0 };
        let all = Mutex::new(Exhausted { worst: [none; 2], readings: 0 });
        let chunks = self.chunks();
        let started = Instant::now();
        let told = Mutex::new(Duration::ZERO);
        in_parallel(chunks.len(), |i| {
            self.chunk(&chunks[i], &all);
            let mut told = told.lock().unwrap();
            if started.elapsed() > *told + Duration::from_secs(5) {
                *told = started.elapsed();
                println!("{name}: {} of {} parts, {} s", i + 1, chunks.len(), told.as_secs());
            }
        });
        all.into_inner().unwrap()
    }

    fn chunk(&self, codes: &[i32], all: &Mutex<Exhausted>) {
        let codes: Vec<(i32, i64)> = codes.iter().map(|&code| (code, self.exact.signal(code))).collect();
        let mut worst = all.lock().unwrap().worst;
        for (bits, at) in &self.temperatures {
            let ranges = self.errors(&codes, *bits, at);
            for (path, worst) in worst.iter_mut().enumerate() {
                let (low, high) = ranges[path];
                if high.max(-low) as f64 * KEPT > worst.error {
                    for one in &codes {
                        let (low, high) = self.errors(std::slice::from_ref(one), *bits, at)[path];
                        let error = high.max(-low) as f64 * KEPT;
                        if error > worst.error {
                            *worst = Worst { error, code: one.0, bits: *bits };
                        }
                    }
                }
            }
        }
        let mut all = all.lock().unwrap();
        all.readings += 2 * (codes.len() * self.temperatures.len()) as u64;
        for (all, own) in all.worst.iter_mut().zip(worst) {
            if own.error > all.error {
                *all = own;
            }
        }
    }

    /// The worst error once more, in rationals from end to end.
    fn confirm(&self, path: usize, worst: Worst) {
        let t = fixed::Temperature::from_bits(worst.bits);
        let reading = match path {
            0 => self.kernel.reading(worst.code, t),
            _ => self.kernel.at(t).reading(worst.code),
        };
        let exact = self.exact.strain(worst.code, worst.bits);
        let error = (ratio_of(i64::from(reading.strain.to_bits()), 1 << 34) - exact) * whole(1_000_000_000);
        let off = (error.to_f64_fast().abs() - worst.error).abs();
        assert!(off <= OWN, "{off} nanostrain between whole numbers and rationals");
    }
}

fn exhaust<const P: usize>(
    name: &str,
    described: &Description,
    temperatures: usize,
    stride: i32,
) -> Exhausted {
    let kernel: fixed::Kernel<5, 1, P> = described.channel().try_fixed().unwrap();
    let sweep = Sweep::new(described, &kernel, temperatures, stride);
    let started = Instant::now();
    let exhausted = sweep.run(name);
    let (first, last) = kernel.codes();
    let bound = kernel.error_bound();
    for (path, (worst, bound)) in
        exhausted.worst.iter().zip([bound.reading.total.0, bound.point.total.0]).enumerate()
    {
        println!(
            "{name}, {}: worst {:.4} of {bound:.4} nanostrain, code {} at {:.6} C",
            ["one call", "split"][path],
            worst.error,
            worst.code,
            fixed::Temperature::from_bits(worst.bits).celsius().0
        );
        assert!(worst.error <= bound + OWN, "{name}: {} > {bound}", worst.error);
        assert!(worst.error * tolerance::SLACK >= bound, "{name}: {bound} is slack, seen {}", worst.error);
        sweep.confirm(path, *worst);
    }
    println!(
        "{name}: codes {first} to {last} by {stride}, {temperatures} temperatures: {} readings in {:.1} s",
        exhausted.readings,
        started.elapsed().as_secs_f64()
    );
    exhausted
}

/// 65 534 codes at 2 048 temperatures.
#[test]
fn every_code_of_a_16_bit_converter() {
    let exhausted = exhaust::<0>("16 bits", &set::coarse_codes(), 2_048, 1);
    assert_eq!(exhausted.readings, 2 * 65_534 * 2_048);
    let kernel: fixed::Kernel<5, 1> = set::coarse_codes().channel().fixed();
    for bits in [kernel.temperatures().0, kernel.temperatures().1] {
        for code in [-32_769, -32_768, 32_767, 32_768] {
            assert!(kernel.reading(code, bits).flags.contains(Flags::CODE_AT_RAIL));
            assert!(kernel.at(bits).reading(code).flags.contains(Flags::CODE_AT_RAIL));
        }
    }
}

/// The same with thermal and mechanical change multiplied, at 512 temperatures. A kernel without the product is far off.
#[test]
fn every_code_of_a_16_bit_converter_with_the_product() {
    let (_, described) = set::with_product().into_iter().find(|(name, _)| name.contains("coarse")).unwrap();
    exhaust::<1>("16 bits, product", &described, 512, 1);
    let without: fixed::Kernel<5, 1> = set::coarse_codes().channel().fixed();
    let off = Sweep::new(&described, &without, 64, 1).run("without the product").worst;
    assert!(off.iter().all(|worst| worst.error > 1e2), "{} and {} nanostrain", off[0].error, off[1].error);
}

/// One code in 61 at 36 temperatures.
#[test]
fn codes_of_a_24_bit_converter() {
    for (name, described) in [
        ("24 bits, wide", set::wide("gauge_on_steel", 4)),
        ("24 bits, mild", set::mild("gauge_on_aluminium", 4)),
    ] {
        assert!(exhaust::<0>(name, &described, 36, 61).readings > 5_000_000);
    }
}

/// The sweep itself is checked: kernels of channels that are a little wrong exceed their bounds.
#[test]
fn planted_faults_are_caught() {
    let right = set::coarse_codes();
    let faulty = |change: fn(&mut Description)| {
        let mut described = right.clone();
        change(&mut described);
        described.channel().fixed::<5, 1, 0>()
    };
    let faults = [
        ("gauge factor, 2 parts in 100 million", faulty(|d| d.package.factor *= 1.0 + 2e-8)),
        ("balance, a thousandth of a code", faulty(|d| d.balance = Some((-777.501, 25.0)))),
        ("balance temperature, a thousandth of a degree", faulty(|d| d.balance = Some((-777.5, 25.001)))),
        ("curve, a part in a million of its third power", faulty(|d| d.package.curve[3] *= 1.0 + 1e-6)),
    ];
    for (name, kernel) in faults {
        let exhausted = Sweep::new(&right, &kernel, 64, 1).run(name);
        let bound = kernel.error_bound();
        for (worst, bound) in exhausted.worst.iter().zip([bound.reading.total.0, bound.point.total.0]) {
            assert!(worst.error > bound + OWN, "{name} went unnoticed: {} of {bound}", worst.error);
        }
    }
    // The right one, with nothing changed, does not.
    let kernel = faulty(|_| {});
    let exhausted = Sweep::new(&right, &kernel, 64, 1).run("right");
    assert!(exhausted.worst[0].error <= kernel.error_bound().reading.total.0);
}

/// Whether the search of tests/kernel/accuracy.rs had found as much; it looks at other temperatures, so it may find more.
fn beside_the_search(name: &str, described: &Description, exhausted: &Exhausted) {
    let found = search(described, &Kernels::of(&described.channel()), 200_000);
    for path in 0..2 {
        println!(
            "{name}: exhausted {:.4}, sampled {:.4}, searched {:.4} nanostrain",
            exhausted.worst[path].error, found.swept[path].error, found.worst[path].error
        );
    }
}

/// 65 534 codes at [`FULL_16`] temperatures.
#[test]
#[ignore = "nine thousand million readings: by hand, the result is in src/kernel/design.md"]
fn exhaustive_16_bits() {
    let described = set::coarse_codes();
    let exhausted = exhaust::<0>("16 bits", &described, FULL_16, 1);
    assert_eq!(exhausted.readings, 2 * 65_534 * FULL_16 as u64);
    beside_the_search("16 bits", &described, &exhausted);
}

/// Every code of the window at [`FULL_24`] temperatures.
#[test]
#[ignore = "twelve thousand million readings: by hand, the result is in src/kernel/design.md"]
fn exhaustive_24_bits() {
    for (name, described) in [
        ("24 bits, wide", set::wide("gauge_on_steel", 4)),
        ("24 bits, mild", set::mild("gauge_on_aluminium", 4)),
    ] {
        let exhausted = exhaust::<0>(name, &described, FULL_24, 1);
        beside_the_search(name, &described, &exhausted);
    }
}

const DESIGN: &str = "src/kernel/design.md";

/// The documentation states the sets that these sweeps exhaust.
#[test]
fn documents_state_the_sets() {
    let grouped = |n: usize| if n < 1000 { n.to_string() } else { format!("{} {:03}", n / 1000, n % 1000) };
    let design = support::document(DESIGN);
    let text = design.replace('\n', " ");
    for said in [
        format!("over every code at {} temperatures", grouped(FULL_16)),
        format!("two 24-bit ones over every code at {}.", grouped(FULL_24)),
    ] {
        assert!(text.contains(&said), "{DESIGN} does not say: {said}");
    }
    for (described, temperatures) in [
        (set::coarse_codes(), FULL_16),
        (set::wide("gauge_on_steel", 4), FULL_24),
        (set::mild("gauge_on_aluminium", 4), FULL_24),
    ] {
        let kernel: fixed::Kernel<5, 1> = described.channel().fixed();
        let (first, last) = kernel.codes();
        let readings = 2 * (u64::from(last.abs_diff(first)) + 1) * temperatures as u64;
        let bound = kernel.error_bound();
        let row = design.lines().find(|line| line.replace(' ', "").contains(&format!("|{readings}|")));
        let row = row.unwrap_or_else(|| panic!("{DESIGN} has no row of {readings} readings"));
        for bound in [bound.reading.total.0, bound.point.total.0] {
            assert!(row.contains(&format!(" of {bound:.4} |")), "the bound is {bound:.4}: {row}");
        }
    }
}

/// The whole numbers of the exact model against its rationals, at random inputs of every channel of the test set whose
/// circuit is one straight line over another.
#[test]
fn whole_numbers_are_the_rationals_cut() {
    let mut random = Random(5);
    let mut channels = 0;
    for (name, described) in set::described() {
        let exact = Exact::of(&described);
        if !exact.is_bilinear() {
            continue;
        }
        channels += 1;
        let constants = described.channel().fixed::<5, 3, 0>().constants();
        let (cold, hot) = (constants.temperatures.0.to_bits(), constants.temperatures.1.to_bits());
        for _ in 0..500 {
            let (code, bits) =
                (random.between(constants.codes.0, constants.codes.1), random.between(cold, hot));
            let cut = whole(exact.at(bits).strain(exact.signal(code))) / exactly(2f64.powi(126));
            let off = (cut - exact.strain(code, bits)).to_f64_fast().abs() * 1e9;
            assert!(off <= TRUNCATED_NANOSTRAIN, "{name}: {off} at {code}, {bits}");
        }
    }
    assert!(channels >= 31, "{channels} channels");
}
