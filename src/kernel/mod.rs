//! The arithmetic that runs for every sample: integers only ([`fixed`]) or floating point ([`float`]).
#![doc = include_str!("design.md")]

mod block;
mod circuit_error;
mod codes;
mod error_bound;
mod factor;
pub mod fixed;
pub mod float;
mod forms;
pub(crate) mod model;
mod sensitivity;
mod suggested_limits;

pub use error_bound::{ErrorBound, Parts};
pub use suggested_limits::SuggestedLimits;
