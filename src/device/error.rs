//! Why a device gave no sample.

use super::acquisition::Fault;
use core::fmt::{Debug, Display, Formatter, Result as Written};
use embedded_hal::digital;

/// Why a device gave no sample. `E` is the error of the bus.
///
/// ```
/// use gaugewright::device::{Error, acquisition::Fault};
/// let error: Error<core::convert::Infallible> = Error::Word(Fault::Status { found: 0x40 });
/// assert_eq!(error.to_string(), "the status bits are 0x40, which is not their good value");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Error<E> {
    /// The bus failed: its own error.
    Bus(E),
    /// A pin could not be read or set: the kind that its driver states.
    Pin(#[cfg_attr(feature = "defmt", defmt(Debug2Format))] digital::ErrorKind),
    /// No new sample was ready, at the first look and at so many more.
    Timeout {
        /// Number of looks after the first.
        polls: u32,
    },
    /// The transfer went well, but its bytes are no sample.
    Word(Fault),
    /// A thermometer of the input has given no usable temperature yet.
    NoTemperature {
        /// Its number, from 0.
        thermometer: usize,
    },
}

impl<E: Debug> Display for Error<E> {
    fn fmt(&self, f: &mut Formatter<'_>) -> Written {
        match self {
            Self::Bus(error) => write!(f, "the bus failed: {error:?}"),
            Self::Pin(kind) => write!(f, "a pin failed: {kind}"),
            Self::Timeout { polls } => write!(f, "no new sample after {polls} polls"),
            Self::Word(fault) => Display::fmt(fault, f),
            Self::NoTemperature { thermometer } => {
                write!(f, "thermometer {thermometer} has given no usable temperature yet")
            }
        }
    }
}

impl<E: Debug> core::error::Error for Error<E> {}
