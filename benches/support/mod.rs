//! What stands around the timing: the host, the samples and their errors.

pub mod errors;
pub mod host;
pub mod samples;
