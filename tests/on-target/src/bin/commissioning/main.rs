//! Fits and uncertainties, kernels with the product of thermal and mechanical change, and blocks, on the processor that this runs on: a
//! firmware of its own, since the smallest board has no room for them beside the other kernels. What it tells is judged with the rest.
//!
//! | module | what it tells |
//! |---|---|
//! | `on_target::commissioning` | a chamber run and uncertainties, as hashes that have to be those of the host |
//! | `blocks` | instructions of a sample of a block |
//! | `kernels` | instructions and stack of a point of a run, of the uncertainty of a sample, of the product's kernels, of records |
#![no_std]
#![no_main]

mod blocks;
mod kernels;

use core::mem::size_of_val;

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use firmware::board::{self, Counter};
use gaugewright::commissioning::fit::ThermalOutputFit;
use gaugewright::device::record::{Date, Identity, Name, Record};
use gaugewright::fixed::{self, Temperature};
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;

use kernels::*;
use on_target::channels::{
    ADJUSTABLE, ADJUSTABLE_COMPENSATED, CHANNELS, FIXED_PRODUCT, FIXED_PRODUCT_COMPENSATED, LINEAR, SHUNT,
    SINGLE_PRODUCT, WIRING,
};
use on_target::cost::{BROKEN, Cost, Inputs, inputs};
use on_target::paths::{LINEAR_KERNEL, adjusted_bits, checked_bits, is_in_second, product_bits};
use on_target::sweep::Random;
use on_target::{commissioning, cost, vectors};

static WIDE: fixed::Kernel = CHANNELS[0].1.fixed();
static RECORD: Record<fixed::Kernel> =
    Record { kernel: WIDE, identity: IDENTITY, answers: WIDE.known_answers() };
static RECORD_COMPENSATED: Record<Pair> = Record {
    kernel: FIXED_PRODUCT_COMPENSATED,
    identity: IDENTITY,
    answers: FIXED_PRODUCT_COMPENSATED.known_answers(),
};
const IDENTITY: Identity =
    Identity::new(Name::new("strut north"), Date::new(2026, 3, 14), CHANNELS[0].1.description_hash());
static LINEAR_PRODUCT: fixed::Kernel<4, 1, 1> = LINEAR.fixed();

// What it calls is not inlined: the smallest core has 16 KB for all frames.
#[entry]
fn main() -> ! {
    cost::ask_for_log();
    if !cost::is_logged() {
        let fit = commissioning::fit();
        defmt::println!(
            "sweep fit inputs={=u32} f32={=u64:016x} f64={=u64:016x}",
            fit.inputs,
            fit.single,
            fit.double
        );
        let commissioning::Hashes { inputs, fixed, single, double } = commissioning::uncertainty();
        defmt::println!(
            "sweep uncertainty inputs={=u32} fixed={=u64:016x} f32={=u64:016x} f64={=u64:016x}",
            inputs,
            fixed,
            single,
            double
        );
        vectors::replay(vectors::PATHS_FILE, is_in_second, |line| {
            vectors::path_agrees(line, |path, numbers| {
                let of_kernels = product_bits(path, numbers).or_else(|| adjusted_bits(path, numbers));
                let of_kernels = of_kernels.or_else(|| checked_bits(path, numbers));
                of_kernels.or_else(|| commissioning::bits(path, numbers))
            })
        });
        tell_costs(&mut Counter::new());
        tell_products(&mut Counter::new());
        tell_adjusted(&mut Counter::new());
        tell_records(&mut Counter::new());
        tell_checks(&mut Counter::new());
    }
    blocks::tell(&mut Counter::new());
    board::exit(true)
}

/// A point of a chamber run, and the uncertainty of a reading.
#[inline(never)]
fn tell_costs(counter: &mut Counter) {
    let samples = inputs(|code, t| WIDE.reading(code, t), &WIDE);
    if let Some(fit) = commissioning::running() {
        let cost = Cost::of_peer(counter, &fit, fit_f32, &samples);
        cost.tell("fit_f32", size_of::<ThermalOutputFit<f32>>(), None);
    }
    if let Some((kernel, point)) = commissioning::counted(CHANNELS[0].1) {
        Cost::told(counter, "uncertainty_at", &kernel, uncertainty_at, &samples, &[BROKEN]);
        Cost::told(counter, "uncertainty_f32", &point, uncertainty_f32, &samples, &[BROKEN]);
        if let Ok(point) = point.try_fixed() {
            Cost::told(counter, "uncertainty_fixed", &point, uncertainty_fixed, &samples, &[BROKEN]);
        }
    }
}

/// A kernel for a zero and a span on site; what is refused leaves sooner, but takes its own stack.
#[inline(never)]
fn tell_adjusted(counter: &mut Counter) {
    let mut random = Random(7);
    let zeros: Inputs = core::array::from_fn(|_| {
        (random.between(-6_000_000, 6_000_000), Temperature::from_bits(random.between(-80 << 20, 100 << 20)))
    });
    let worst = &[BROKEN, (i32::MIN, zeros[0].1), (zeros[0].0, Temperature::from_bits(i32::MAX))];
    Cost::told(counter, "fixed_adjusted", &ADJUSTABLE, fixed_adjusted, &zeros, worst);
    let (name, kernel) = ("fixed_adjusted_compensated", &ADJUSTABLE_COMPENSATED);
    Cost::told(counter, name, kernel, fixed_adjusted_compensated, &zeros, worst);
}

/// Records as they are read at each start: what the host has stored, with the answers of the host.
#[inline(never)]
fn tell_records(counter: &mut Counter) {
    // A record has no inputs of its own.
    let none: Inputs = core::array::from_fn(|_| BROKEN);
    macro_rules! cost {
        ($name:literal, $path:expr, $record:expr, $type:ty) => {{
            let record: &Record<$type> = $record;
            let mut bytes = [0; Record::<$type>::BYTES];
            let written = record.write(&mut bytes).is_ok();
            defmt::println!("compiled {=str} is written and read={=bool}", $name, written);
            Cost::told(counter, $name, &bytes, $path, &none, &[]);
        }};
    }
    cost!("record_read", record_read, &RECORD, fixed::Kernel);
    cost!("record_read_compensated", record_read_compensated, &RECORD_COMPENSATED, Pair);
    let cost = Cost::of_peer(counter, &RECORD, record_self_test, &none);
    cost.tell("record_self_test", size_of_val(&RECORD.answers), None);
}

/// Verdicts of the wiring for any sum of codes, and the span by a shunt; what is refused leaves sooner.
#[inline(never)]
fn tell_checks(counter: &mut Counter) {
    let mut random = Random(11);
    let codes: Inputs =
        core::array::from_fn(|_| (random.between(-24_000_000, 24_000_000), Temperature::from_bits(0)));
    let worst = &[(i32::MIN, BROKEN.1), BROKEN];
    Cost::told(counter, "wiring_check", &WIRING, wiring_check, &codes, worst);
    // Sums without the shunt, and with a change that it can make.
    let (lowest, highest) = (SHUNT.change().lowest, SHUNT.change().highest);
    let sums: Inputs = core::array::from_fn(|_| {
        let without = random.between(-1_000_000, 1_000_000);
        (without, Temperature::from_bits(without + 3 * random.between(lowest, highest)))
    });
    let worst = &[BROKEN, (i32::MAX, sums[0].1), (sums[0].0, Temperature::from_bits(i32::MIN))];
    Cost::told(counter, "shunt_check", &SHUNT, shunt_check, &sums, worst);
}

/// Kernels with the product, over the ranges of the same channel without; and that their points cost what the usual
/// ones cost (in integers: floating point in software takes as long as its numbers let it).
#[inline(never)]
fn tell_products(counter: &mut Counter) {
    let (kernel, single, two) = (&FIXED_PRODUCT, &SINGLE_PRODUCT, &FIXED_PRODUCT_COMPENSATED);
    Cost::of(counter, kernel, fixed_product, &WIDE).tell("fixed_product", size_of_val(kernel), None);
    Cost::of(counter, kernel, fixed_product_at, &WIDE).tell("fixed_product_at", size_of_val(kernel), None);
    Cost::of(counter, single, f32_product, &WIDE).tell("f32_product", size_of_val(single), None);
    Cost::of(counter, single, f32_product_at, &WIDE).tell("f32_product_at", size_of_val(single), None);
    let both = inputs(|code, t| two.reading(code, t, t), &LINEAR_KERNEL);
    let [cold, hot] = [i32::MIN, i32::MAX].map(Temperature::from_bits);
    let (code, t) = both[0];
    let worst = &[(code, cold), (code, hot), (i32::MIN, t), (i32::MAX, cold), (i32::MAX, hot)];
    Cost::told(counter, "fixed_product_compensated", two, fixed_product_compensated, &both, worst);
    Cost::told(counter, "fixed_product_compensated_at", two, fixed_product_compensated_at, &both, worst);

    let t = Temperature::from_bits(60 << 20);
    let points = [WIDE.at(t), kernel.at(t)];
    let [usual, product] = points.each_ref().map(|point| Cost::of(counter, point, fixed_point, &WIDE));
    let mut same = usual == product;
    let points = [LINEAR_KERNEL.at(t), LINEAR_PRODUCT.at(t)].map(|point| point.linear());
    let [usual, product] = points.each_ref().map(|point| {
        let point = point.as_ref()?;
        Some(Cost::of(counter, point, fixed_point_linear, &LINEAR_KERNEL))
    });
    same &= usual.is_some() && usual == product;
    defmt::println!("compiled points of the product cost the same={=bool}", same);
}
