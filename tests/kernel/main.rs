//! The kernels: accuracy against exact rationals, bounds, committed bits, properties.

mod accuracy;
mod bounds;
mod certified;
mod compensated;
mod constants;
mod error_limits;
mod exhaustive;
mod fuzzed;
mod properties;
mod registers;
mod temperature_error;
mod vectors;
