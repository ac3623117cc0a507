//! The device's side: words, buses, inputs and queues.
//!
//! The features it is about have to be on: `cargo test --features ffi,defmt,embedded-hal-async,heapless`.

mod inputs;
mod queues;
mod sources;
mod words;
