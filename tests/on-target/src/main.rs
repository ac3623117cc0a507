//! What the kernels give, take and cost on the processor that this runs on. What it tells is read and judged by
//! the runner on the host (`tests/on-target/runner`). `bin/values.rs` and `bin/commissioning.rs` are the other
//! firmware.
//!
//! | module | what it tells |
//! |---|---|
//! | `vectors`, `paths` | the committed bits, replayed |
//! | `sweep`, `channels` | every kernel over edges and random inputs, as hashes that have to be those of the host |
//! | `thermometers` | the same of temperature sensors |
//! | `counts`, `kernels`, `cost`, `call` | instructions, stack and error of every path, and of the peers of `benches/peers` |
#![no_std]
#![no_main]

mod call;
mod channels;
mod cost;
mod counts;
mod kernels;
mod paths;
#[path = "../../../benches/peers/mod.rs"]
#[allow(dead_code)]
mod peers;
mod sweep;
mod thermometers;
mod vectors;

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use firmware::board;
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;

use channels::{CHANNELS, FIXED, SINGLE};

#[entry]
fn main() -> ! {
    if cfg!(feature = "planted-panic") {
        panic!("planted");
    }
    vectors::replay(vectors::CHANNELS_FILE, |_| true, vectors::channel_agrees);
    let is_here = |line: &str| !line.starts_with("uncertainty_");
    vectors::replay(vectors::PATHS_FILE, is_here, |line| vectors::path_agrees(line, paths::bits));
    for (i, (name, channel)) in CHANNELS.iter().enumerate() {
        // The same channel compiled here, in this core's double precision.
        let compiled_here = channel.try_fixed() == Ok(FIXED[i]) && channel.try_float32() == Ok(SINGLE[i]);
        let differing = sweep::blocks_that_differ(i);
        defmt::println!(
            "compiled {=str} same={=bool} blocks-differing={=u32}",
            name,
            compiled_here,
            differing
        );
        tell(name, sweep::of(i));
    }
    tell("two temperatures", sweep::compensated());
    defmt::println!("compiled thermometers same={=bool}", thermometers::compiled_here());
    tell_thermometer("platinum", thermometers::platinum());
    tell_thermometer("thermocouple", thermometers::thermocouple());
    counts::tell();
    board::exit(true)
}

fn tell(name: &str, hashes: sweep::Hashes) {
    defmt::println!(
        "sweep {=str} inputs={=u32} fixed={=u64:016x} fixed-point={=u64:016x} f32={=u64:016x} f32-point={=u64:016x}",
        name,
        hashes.inputs,
        hashes.fixed,
        hashes.fixed_point,
        hashes.single,
        hashes.single_point
    );
}

fn tell_thermometer(name: &str, hashes: thermometers::Hashes) {
    defmt::println!(
        "sweep {=str} inputs={=u32} fixed={=u64:016x} f32={=u64:016x}",
        name,
        hashes.inputs,
        hashes.fixed,
        hashes.single
    );
}
