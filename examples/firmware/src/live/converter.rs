//! A plain 24-bit converter on SPI: each transfer of three bytes gives the newest code, two's complement, high byte
//! first.

use embedded_hal::spi::SpiDevice;

/// A converter that is the only one behind its chip select.
pub struct Converter<S> {
    device: S,
}

impl<S: SpiDevice> Converter<S> {
    pub const fn new(device: S) -> Self {
        Self { device }
    }

    /// The newest code, -2^23 to 2^23 - 1.
    ///
    /// # Errors
    /// Those of the device.
    pub fn code(&mut self) -> Result<i32, S::Error> {
        let mut bytes = [0; 3];
        self.device.read(&mut bytes)?;
        let [high, middle, low] = bytes;
        // Shifted down from the top of the word, the sign comes along.
        Ok(i32::from_be_bytes([high, middle, low, 0]) >> 8)
    }
}
