//! What users see: README's figures, builds that have to stop, the functions for C.

mod does_not_compile;
mod ffi;
mod ffi_channel;
mod readme;
mod units;
