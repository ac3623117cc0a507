//! What users see: figures of README and the guides, builds that have to stop, the functions for C.

mod does_not_compile;
mod ffi;
mod guides;
mod readme;
mod units;
