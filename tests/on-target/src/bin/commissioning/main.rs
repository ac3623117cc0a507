//! Fits and uncertainties on the processor that this runs on: a firmware of its own, since the smallest board has no room for
//! them beside the kernels. What it tells is judged with the rest.
//!
//! | module | what it tells |
//! |---|---|
//! | `on_target::commissioning` | a chamber run and uncertainties, as hashes that have to be those of the host |
//! | `kernels` | instructions and stack of a point of a run, and of the uncertainty of a sample |
#![no_std]
#![no_main]

mod kernels;

use core::mem::size_of_val;

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use firmware::board::{self, Counter};
use gaugewright::{commissioning::fit::ThermalOutputFit, fixed};
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;

use kernels::{fit_f32, uncertainty_at, uncertainty_f32, uncertainty_fixed};
use on_target::channels::CHANNELS;
use on_target::cost::{BROKEN, Cost, inputs};
use on_target::{commissioning, vectors};

static WIDE: fixed::Kernel = CHANNELS[0].1.fixed();

#[entry]
fn main() -> ! {
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
    let is_here = |line: &str| line.starts_with("uncertainty_");
    vectors::replay(vectors::PATHS_FILE, is_here, |line| vectors::path_agrees(line, commissioning::bits));
    tell_costs(&mut Counter::new());
    board::exit(true)
}

/// A point of a chamber run, and the uncertainty of a reading.
fn tell_costs(counter: &mut Counter) {
    let samples = inputs(|code, t| WIDE.reading(code, t), &WIDE);
    if let Some(fit) = commissioning::running() {
        let cost = Cost::of_peer(counter, &fit, fit_f32, &samples);
        cost.tell("fit_f32", size_of::<ThermalOutputFit<f32>>(), None);
    }
    if let Some((kernel, point)) = commissioning::counted(CHANNELS[0].1) {
        let mut cost = Cost::of_peer(counter, &kernel, uncertainty_at, &samples);
        cost.try_worst(counter, &kernel, uncertainty_at, BROKEN);
        cost.tell("uncertainty_at", size_of_val(&kernel), None);
        let mut cost = Cost::of_peer(counter, &point, uncertainty_f32, &samples);
        cost.try_worst(counter, &point, uncertainty_f32, BROKEN);
        cost.tell("uncertainty_f32", size_of_val(&point), None);
        if let Ok(point) = point.try_fixed() {
            let mut cost = Cost::of_peer(counter, &point, uncertainty_fixed, &samples);
            cost.try_worst(counter, &point, uncertainty_fixed, BROKEN);
            cost.tell("uncertainty_fixed", size_of_val(&point), None);
        }
    }
}
