//! The quickest tests as one program, which mutation testing builds for each mutant first: see DEVELOPERS.md. Each runs as
//! a test of its own as well, so `cargo test` leaves this one out.
#![allow(clippy::duplicate_mod)]

#[path = "bad_input.rs"]
mod bad_input;
#[path = "network.rs"]
mod network;
#[path = "trade_facts.rs"]
mod trade_facts;
#[path = "vectors.rs"]
mod vectors;
#[path = "wiring.rs"]
mod wiring;
