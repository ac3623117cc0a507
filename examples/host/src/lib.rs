//! What `replay`, `commission` and `flight` share.
//!
//! | module | its job |
//! |---|---|
//! | [`channel_file`] | the words of a channel file |
//! | [`setup`], [`describe`], [`circuit`], [`sensor`], [`on_site`], [`uncertainty`], [`rosette`], [`contradictions`] | what the words mean for the library, and what they leave open |
//! | [`keys`] | which of the words an error of the library is about |
//! | [`samples`], [`rows`], [`rejected`] | the rows of a file, and those that are refused |
//! | [`blocks`], [`order`] | files of any length: blocks of rows on all cores, and which of their times rise |
//! | [`kernel`], [`results`], [`figures`], [`temperature_error`] | samples through compiled kernels, and what is known of the results |
//! | [`files`], [`drawing`] | outputs that are whole or absent, and their style |
//! | [`simulation`], [`stream`], [`stream_of_csv`] | the demonstration flight, as a file and as a logger's stream |
//! | [`c_header`], [`rust_module`] | kernels as constants of C, channels as constants of Rust |
//! | [`numbers`] | the figures of a flight that firmware and host compare |
//!
//! [`numbers`] and [`stream`] need no `std`: the firmware has them too.
#![cfg_attr(not(feature = "std"), no_std)]

pub mod numbers;
pub mod stream;

#[cfg(feature = "std")]
pub mod blocks;
#[cfg(feature = "std")]
pub mod c_header;
#[cfg(feature = "std")]
pub mod channel_file;
#[cfg(feature = "std")]
pub mod circuit;
#[cfg(feature = "std")]
pub mod contradictions;
#[cfg(feature = "std")]
pub mod describe;
#[cfg(feature = "std")]
pub mod drawing;
#[cfg(feature = "std")]
pub mod figures;
#[cfg(feature = "std")]
pub mod files;
#[cfg(feature = "std")]
pub mod kernel;
#[cfg(feature = "std")]
pub mod keys;
#[cfg(feature = "std")]
pub mod on_site;
#[cfg(feature = "std")]
pub mod order;
#[cfg(feature = "std")]
pub mod rejected;
#[cfg(feature = "std")]
pub mod results;
#[cfg(feature = "std")]
pub mod rosette;
#[cfg(feature = "std")]
pub mod rows;
#[cfg(feature = "std")]
pub mod rust_module;
#[cfg(feature = "std")]
pub mod samples;
#[cfg(feature = "std")]
pub mod sensor;
#[cfg(feature = "std")]
pub mod setup;
#[cfg(feature = "std")]
pub mod simulation;
#[cfg(feature = "std")]
pub mod stream_of_csv;
#[cfg(feature = "std")]
pub mod temperature_error;
#[cfg(feature = "std")]
pub mod uncertainty;
