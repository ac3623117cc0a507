//! What stands between a bus and the kernels on a device: features, all of them off by default.

#[cfg(feature = "embedded-hal")]
pub mod acquisition;
#[cfg(feature = "embedded-hal")]
mod error;
#[cfg(feature = "record")]
pub mod record;

#[cfg(feature = "embedded-hal")]
pub use error::Error;
