//! What the kernels give, take and cost on the processor that this runs on. What it tells is read and judged by
//! the runner on the host (`tests/on-target/runner`). `bin/values.rs` and `bin/commissioning.rs` are the other
//! firmware.
//!
//! | module | what it tells |
//! |---|---|
//! | `counts`, `kernels` | instructions, stack and error of every path, and of the peers |
#![no_std]
#![no_main]

mod counts;
mod kernels;

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use firmware::board;
use gaugewright::Channel;
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;

use on_target::channels::{CHANNELS, FIXED, SINGLE};
use on_target::thermometers::{PLATINUM_FIXED, PLATINUM_IN_C};
use on_target::{cost, paths, sweep, thermometers, vectors};

#[entry]
fn main() -> ! {
    if cfg!(feature = "planted-panic") {
        panic!("planted");
    }
    cost::ask_for_log();
    if !cost::is_logged() {
        vectors::replay(vectors::CHANNELS_FILE, |_| true, vectors::channel_agrees);
        let is_here = |line: &str| !paths::is_in_second(line);
        vectors::replay(vectors::PATHS_FILE, is_here, |line| vectors::path_agrees(line, paths::bits));
        for (i, (name, channel)) in CHANNELS.iter().enumerate() {
            let differing = sweep::blocks_that_differ(i);
            defmt::println!(
                "compiled {=str} same={=bool} blocks-differing={=u32}",
                name,
                compiles_here(i, channel),
                differing
            );
            tell(name, sweep::of(i));
        }
        tell("two temperatures", sweep::compensated());
        defmt::println!("compiled thermometers same={=bool}", thermometers::compiled_here());
        tell_thermometer("platinum", thermometers::platinum(&PLATINUM_FIXED));
        tell_thermometer("platinum in C", thermometers::platinum(&PLATINUM_IN_C));
        tell_thermometer("thermocouple", thermometers::thermocouple());
    }
    counts::tell();
    board::exit(true)
}

/// The same channel compiled in this core's double precision. (In `main` its frame would be there for all that follows.)
#[inline(never)]
fn compiles_here(i: usize, channel: &Channel) -> bool {
    channel.try_fixed() == Ok(FIXED[i]) && channel.try_float32() == Ok(SINGLE[i])
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
