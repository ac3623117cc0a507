//! What stands around the timing: the host and the samples.

pub mod host;
pub mod samples;
