//! The arithmetic that runs for every sample: integers only ([`fixed`]) or floating point ([`float`]).

mod block;
mod error_bound;
pub mod fixed;
pub mod float;
pub(crate) mod plan;
mod reading;
mod remedy;
mod sensitivity;
mod window;

pub use error_bound::{ErrorBound, Parts};
pub use reading::{Flags, Reading};
pub(crate) use window::hold;
