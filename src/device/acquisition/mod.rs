//! Acquisition.
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
