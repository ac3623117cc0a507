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
mod on_site;
mod paths;
mod properties;
mod registers;
mod temperature_error;
mod vectors;
