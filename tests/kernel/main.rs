//! The kernels: accuracy against exact rationals, bounds, committed bits, properties.

mod accuracy;
mod bounds;
mod certified;
mod compensated;
mod constants;
mod coverage;
mod error_limits;
mod exhaustive;
mod fuzzed;
mod paths;
mod properties;
mod registers;
mod temperature_error;
mod vectors;

// What the firmware of `tests/on-target` is made of, on the host.
#[path = "../on-target/src/channels.rs"]
#[allow(dead_code)]
mod channels;
#[path = "../on-target/src/commissioning.rs"]
#[allow(dead_code)]
mod commissioning;
#[path = "../on-target/src/sweep.rs"]
#[allow(dead_code)]
mod sweep;
#[path = "../on-target/src/paths.rs"]
#[allow(dead_code)]
mod target_paths;
#[path = "../on-target/src/thermometers.rs"]
#[allow(dead_code)]
mod thermometers;
