//! What the firmware shares with the runner on the host, which compares what both make of it.
//!
//! | module | what it has |
//! |---|---|
//! | `channels`, `sweep` | every kernel over edges and random inputs, as hashes that have to be those of the host |
//! | `thermometers`, `commissioning` | the same of temperature sensors, and of a chamber run and uncertainties |
//! | `paths`, `vectors` | the committed results, made on the host and replayed |
//! | `values` | every public value of the library, through `defmt` and as text |
//! | `peers` | other ways to make a channel's strain, to compare costs with |
//! | `call`, `cost` | how a path is called and measured |
//! | `symbols` (feature) | instead of all these, the kernels behind plain functions for `.ci/targets` |
#![no_std]

#[cfg(not(target_os = "none"))]
extern crate std;

#[cfg(feature = "report")]
pub mod call;
#[cfg(feature = "report")]
pub mod cost;
#[cfg(not(feature = "symbols"))]
mod measured;
#[cfg(feature = "symbols")]
mod symbols;
#[cfg(any(feature = "report", not(target_os = "none")))]
pub mod values;
#[cfg(feature = "report")]
pub mod vectors;

#[cfg(not(feature = "symbols"))]
pub use measured::*;
