//! What the loggers of this crate share.
//!
//! | module | its job |
//! |---|---|
//! | `board` | the processor: timer interrupt, counter of instructions, stack, leaving |
//! | [`gondola`] | the channel table of the demonstration flight |
//! | [`stream`] | that flight, read from a file of the host |
//! | [`logger`] | samples from an interrupt to a queue, corrected by the main loop |
//! | [`lines`] | any text file of the host |
//! | [`live`] | a logger that reads a live thermometer, without its board |
//! | `field` | a logger that is set up on site and stores its calibration, without its board |
//! | `wire` | its start, and its buses, whose other end is a program of the host |
#![no_std]
#![deny(unsafe_op_in_unsafe_fn)]

#[cfg(target_os = "none")]
pub mod board;
#[cfg(feature = "field")]
pub mod field;
#[cfg(any(feature = "report", feature = "field"))]
pub mod gondola;
#[cfg(feature = "report")]
pub mod lines;
pub mod live;
#[cfg(feature = "report")]
pub mod logger;
#[cfg(feature = "power-cut")]
pub mod power_cut;
#[cfg(feature = "report")]
pub mod stream;
#[cfg(all(feature = "field", feature = "report", target_os = "none"))]
pub mod wire;
