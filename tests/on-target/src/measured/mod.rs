//! Everything but the plain functions for the check of symbols.

pub mod channels;
pub mod commissioning;
pub mod paths;
pub mod peers;
pub mod sweep;
pub mod thermometers;
