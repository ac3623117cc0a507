//! What the installation does to a channel: shunt calibration, faults of the wiring, leads that change temperature.

mod diagnosis;
mod lead_effect;
mod shunt;
mod wiring_check;

#[cfg(feature = "ffi")]
pub(crate) use diagnosis::FAULT_TEXTS;
pub use diagnosis::{Diagnosis, Fault, Finding, Verdict};
pub use lead_effect::LeadEffect;
pub use shunt::{Shunt, ShuntCheck, ShuntEffect};
pub use wiring_check::{CodeInterval, WiringCheck, WiringReport};
