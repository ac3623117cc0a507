//! The library for C: the same kernels with the same bounds. `gaugewright.h` in this folder is made from it.
//!
//! Every function is total: whatever numbers a struct holds, the result is defined, and nothing panics. A kernel
//! or a point of any bytes gives some reading. What is left to the caller is that a pointer is null (which is
//! reported), or points to a value of its type that is aligned and lives during the call.
//!
//! **Ownership:** the library keeps no pointer beyond a call, allocates nothing, and has no state; texts live
//! forever. **Threads:** every function may be called from any thread or interrupt at once, as long as nobody
//! writes a struct that another reads or writes. **Units:** codes are those of the converter; temperatures are in Q20
//! degrees Celsius (steps of 2^-20 C), strains in Q34 (steps of 2^-34, 0.058 nanostrain); the numbers of a channel are in the units that the package, the drawing
//! or the data sheet says, named at each field.
//!
//! | to | call |
//! |---|---|
//! | look whether stored constants are whole | [`gw_seal_check`] |
//! | correct a code at a temperature | [`gw_kernel_reading_packed`], in C through `gw_kernel_reading` of the header |
//! | correct many codes at one temperature | [`gw_kernel_at`], then [`gw_point_reading_packed`] |
//! | the same where the bridge is linear | [`gw_point_linear`], then [`gw_linear_point_reading_packed`] |
//! | two temperatures | [`gw_compensated_kernel_at`], then as above |
//! | single precision | [`gw_float_kernel_at`], then [`gw_float_point_reading_packed`] |
//! | temperature from a sensor's code | [`gw_resistance_thermometer_reading_packed`], [`gw_thermocouple_reading_packed`] |
//! | the last usable temperature, flagged when it is stale | [`gw_last_reading_start`], [`gw_last_reading_update`], [`gw_last_reading_at_packed`] |
//! | temperature at a gauge between two sensors | [`gw_sensor_pair_reading_packed`] |
//! | take zero and span on site | [`gw_kernel_adjust`], [`gw_span_of_codes`] |
//! | find faults of the wiring and the span on site | [`gw_wiring_report`], [`gw_fault_text`], [`gw_shunt_span`] |
//! | keep a kernel over a power cut | [`gw_kernel_record_write`], [`gw_kernel_record_read`], [`gw_kernel_self_test`] |
//! | three grids at one place | [`gw_rosette_strain`], [`gw_principal_strain`], [`gw_principal_direction`], [`gw_principal_stress`] |
//! | know the uncertainty of a sample | [`gw_uncertainty_at`], then [`gw_uncertainty_standard`] |
//! | describe a channel and compile it on the target | [`gw_channel_default`], [`gw_kernel_build`], [`gw_large_kernel_build`] |
//! | know the error | [`gw_kernel_error_bound`], [`gw_large_kernel_error_bound`] |
//! | tell what went wrong | [`gw_error_message`], [`gw_status_text`], [`gw_name_text`], [`gw_flags_message`] |
// Names as C has them.
#![allow(non_camel_case_types)]
#![doc = include_str!("design.md")]

mod adjustable;
mod build;
mod channel;
mod choices;
mod compensated_kernel;
mod error;
#[doc(hidden)]
pub mod example;
mod facts;
mod float_kernel;
mod kernel;
mod large_kernel;
mod last_reading;
mod linear_point;
mod message;
mod point;
mod pointer;
mod reading;
mod record;
mod rosette;
mod seal;
mod site;
mod status;
mod thermometer;
mod uncertainty;
mod units;
mod version;

pub use adjustable::*;
pub use build::{gw_kernel_build, gw_large_kernel_build};
pub use channel::{gw_channel, gw_channel_default, gw_gauge};
pub use choices::*;
pub use compensated_kernel::*;
pub use error::*;
pub use facts::*;
pub use float_kernel::*;
pub use kernel::*;
pub use large_kernel::*;
pub use last_reading::*;
pub use linear_point::*;
pub use message::*;
pub use point::*;
#[doc(hidden)]
pub use pointer::LayoutCompatible;
pub use reading::*;
pub use record::*;
pub use rosette::*;
pub use seal::*;
pub use site::*;
pub use status::*;
pub use thermometer::*;
pub use uncertainty::*;
pub use units::*;
pub use version::*;
