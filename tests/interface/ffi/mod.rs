//! The functions for C, from Rust. `tests/c/watched` has these tests as a program of their own.
#![cfg(feature = "ffi")]

mod anything;
mod calls;
mod channel;
mod checks;
mod record;
mod thermometer;
