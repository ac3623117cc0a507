//! What a fuzzer does with its bytes: each target is a `run` that panics when something is wrong. No file here uses
//! the fuzzer, so that an ordinary test can run the same on random bytes.

mod bytes;
pub mod c_interface;
pub mod channel;
pub mod lines;
pub mod readings;
mod recipe;
pub mod records;
pub mod sound;
pub mod thermometers;
pub mod words;
