//! From the bus to strain with flags: words of converters, thermometers, and inputs that pair them. Features `embedded-hal`,
//! `embedded-hal-async` and `heapless`.
//!
//! | part | what it does | what it uses |
//! |---|---|---|
//! | [`WordLayout`], [`Word`] | bytes of one transfer to a code or a [`Fault`]; described by data, checked when compiled | no bus |
//! | [`SpiSource`], [`I2cSource`], [`PulsedSource`] | wait, transfer, decode: codes | a bus of `embedded-hal` |
//! | [`TemperatureRegister`], [`Thermometer`], [`ThermocoupleThermometer`] | codes to temperatures with flags | sources |
//! | [`Input`] | code and temperatures to strain with flags; the age of the temperatures | a kernel, sources |
//! | `SampleQueue`, `PointQueue` | samples from an interrupt, operating points to it | `heapless` |
//!
//! # Design
//!
//! - A word is a pure function of bytes. Buses only move bytes, so that a buffer filled by DMA is decoded by the same code:
//!   [`Word::decode`].
//! - [`Source`] is all that an input asks of a converter or a thermometer. `AsyncSource` stands beside it; an adapter
//!   implements both, and has decoding, counting of looks and errors in common. What is left twice is the loop that
//!   waits and transfers.
//! - A read is whole or an error. Nothing is kept between two reads, so that an error or a dropped future leaves nothing half read.
//! - Blocking reads end after a stated number of looks ([`Polling`]). In `async` the time limit for a pin is the caller's, by
//!   dropping the call.
//! - Each temperature has a time. An input reads its thermometers at a rate of its own, and a thermometer that fails is seen in
//!   the readings: [`Flags::TEMPERATURE_DOUBTFUL`](crate::Flags::TEMPERATURE_DOUBTFUL) when the last temperature is too old.
//! - Errors are [`device::Error`](crate::device::Error) around the error of the bus; a wrong description is the library's
//!   [`Error`](crate::Error), and stops the build where it is a constant.
//! - An interrupt that corrects by itself has a copy of the operating point. A new one comes through a queue, and is taken
//!   between two samples: there is no moment at which half of it is seen.
//!
//! # Excitation
//!
//! | excitation | |
//! |---|---|
//! | ratiometric: the bridge's excitation is the converter's reference, of either sign | supported |
//! | measured separately, against a fixed reference | not supported: a code divided by a measured excitation has no rails, so that an open gauge would not be flagged, and the error of a second converter, which the kernel's bound does not include |
//! | polarity reversed to cancel thermal voltages | not supported by an adapter, as the mean of two codes loses the rails too. Converters that reverse the polarity themselves and send the mean are ratiometric converters |
//! | constant current | not supported: the circuits are those of a bridge with constant voltage, whose curvature is another |
//!
//! # Not supported
//!
//! Words in sign and magnitude or in binary-coded decimals, checksums that are sums with carry (an exclusive-or of all bytes
//! is a checksum of polynomial 1), values of more than 32 bits, clocks of a number of pulses that is no multiple of eight on
//! SPI ([`PulsedSource`] has them). What starts a conversion or sets up a converter is sent by the caller.
//!
//! # Oldest compilers
//!
//! Rust 1.85 with each of the features, as the library. `embedded-hal` alone would need 1.60, `embedded-hal-async` 1.75, `crc`
//! 1.83. `heapless` is that of 0.8: 0.9 does not compile with 1.85.

mod checksum;
mod i2c;
mod input;
mod layout;
mod pulsed;
#[cfg(feature = "heapless")]
mod queue;
mod source;
mod spi;
mod thermometer;
mod word;

pub use i2c::I2cSource;
pub use input::{Input, StrainKernel};
pub use layout::{Coding, WordLayout};
pub use pulsed::PulsedSource;
#[cfg(feature = "heapless")]
pub use queue::{Corrector, PointQueue, PointSender, Received, SampleQueue, SampleReceiver, SampleSender};
#[cfg(feature = "embedded-hal-async")]
pub use source::{AsyncReady, AsyncSource};
pub use source::{Polling, Ready, ReadyPin, Source};
pub use spi::SpiSource;
pub use thermometer::{CodeThermometer, TemperatureRegister, ThermocoupleThermometer, Thermometer};
pub use word::{Fault, Word};
