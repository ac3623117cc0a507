//! The device's side: words, buses, inputs and queues.
//!
//! The features it is about have to be on: `cargo test --features ffi,defmt,embedded-hal-async,heapless,record`.

mod inputs;
mod queues;
mod records;
mod sources;
mod storage;
mod words;
