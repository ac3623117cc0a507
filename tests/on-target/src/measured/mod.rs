//! Everything but the plain functions for the check of symbols.

#[cfg(feature = "report")]
pub mod acquisition;
pub mod channels;
pub mod commissioning;
pub mod paths;
pub mod peers;
pub mod sweep;
pub mod thermometers;
