//! What users see: figures of README and the guides, builds that have to stop, the functions for C.

// Each file of tests for C takes what they share by its path.
#![allow(clippy::duplicate_mod)]

mod does_not_compile;
mod ffi;
mod ffi_channel;
mod ffi_checks;
mod ffi_record;
mod ffi_thermometer;
mod guides;
mod readme;
mod units;
