//! More tests as one program, for the changes that the quick program of mutation testing does not notice: see DEVELOPERS.md.
//! Each runs as a test of its own as well, so `cargo test` leaves this one out.
#![allow(clippy::duplicate_mod)]

#[path = "accuracy.rs"]
mod accuracy;
#[path = "bounds.rs"]
mod bounds;
#[path = "bridge_data.rs"]
mod bridge_data;
#[path = "certified.rs"]
mod certified;
#[path = "compensated.rs"]
mod compensated;
#[path = "constants.rs"]
mod constants;
#[path = "end_to_end_data.rs"]
mod end_to_end_data;
#[path = "promises.rs"]
mod promises;
#[path = "properties.rs"]
mod properties;
#[path = "registers.rs"]
mod registers;
#[path = "shunt_data.rs"]
mod shunt_data;
#[path = "temperature_error.rs"]
mod temperature_error;
