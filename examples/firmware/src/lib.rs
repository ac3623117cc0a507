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
#![no_std]
#![deny(unsafe_op_in_unsafe_fn)]

#[cfg(target_os = "none")]
pub mod board;
#[cfg(feature = "report")]
pub mod gondola;
#[cfg(feature = "report")]
pub mod lines;
pub mod live;
#[cfg(feature = "report")]
pub mod logger;
#[cfg(feature = "report")]
pub mod stream;
