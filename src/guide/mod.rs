//! Guides by task; the [front page](crate#guides) lists them in the order in which they are useful.

#[doc = include_str!("correction.md")]
pub mod correction {}
#[doc = include_str!("getting_started.md")]
pub mod getting_started {}
#[doc = include_str!("from_c.md")]
pub mod from_c {}
#[doc = include_str!("circuits.md")]
pub mod circuits {}
#[doc = include_str!("temperature.md")]
pub mod temperature {}
#[doc = include_str!("commissioning.md")]
pub mod commissioning {}
#[doc = include_str!("accuracy.md")]
pub mod accuracy {}
#[doc = include_str!("microcontrollers.md")]
pub mod microcontrollers {}
#[doc = include_str!("limits.md")]
pub mod limits {}
