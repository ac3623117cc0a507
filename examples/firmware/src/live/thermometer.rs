//! The common kind of 12-bit digital thermometer on I2C: a pointer to one of a few registers, temperature in the upper
//! twelve bits of the first, in sixteenths of a degree.

use embedded_hal::i2c::I2c;

/// Registers.
const TEMPERATURE: u8 = 0;
const CONFIGURATION: u8 = 1;
/// Both resolution bits of the configuration: twelve bits.
const TWELVE_BITS: u8 = 0b0110_0000;

/// What reading a thermometer ended with, on a bus with errors `B`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Error<B> {
    /// The bus has failed, or the thermometer did not answer.
    Bus(B),
    /// The register holds this, whose low four bits are not zero: no temperature of twelve bits.
    NotATemperature(u16),
    /// The configuration reads back as this, without the resolution that was written.
    NotConfigured(u8),
}

/// A thermometer by its address. The bus stays the caller's, and is lent for each call.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Thermometer {
    address: u8,
}

impl Thermometer {
    /// At a 7-bit address.
    pub const fn at(address: u8) -> Self {
        Self { address }
    }

    /// Twelve bits of resolution, the rest of the configuration as it is. To be called once before the first reading,
    /// and again when the thermometer may have lost its supply, for it starts with nine bits.
    ///
    /// # Errors
    /// Those of the bus; [`Error::NotConfigured`] if the resolution does not read back.
    pub fn set_up<B: I2c>(&self, bus: &mut B) -> Result<(), Error<B::Error>> {
        let found = self.configuration(bus)?;
        bus.write(self.address, &[CONFIGURATION, found | TWELVE_BITS]).map_err(Error::Bus)?;
        let now = self.configuration(bus)?;
        if now & TWELVE_BITS == TWELVE_BITS { Ok(()) } else { Err(Error::NotConfigured(now)) }
    }

    /// The temperature in sixteenths of a degree Celsius, -2048 to 2047.
    ///
    /// # Errors
    /// Those of the bus; [`Error::NotATemperature`] for a line that is stuck high, say.
    pub fn sixteenths<B: I2c>(&self, bus: &mut B) -> Result<i16, Error<B::Error>> {
        let mut bytes = [0; 2];
        bus.write_read(self.address, &[TEMPERATURE], &mut bytes).map_err(Error::Bus)?;
        let register = i16::from_be_bytes(bytes);
        if register & 0xf == 0 { Ok(register >> 4) } else { Err(Error::NotATemperature(register as u16)) }
    }

    fn configuration<B: I2c>(&self, bus: &mut B) -> Result<u8, Error<B::Error>> {
        let mut byte = [0];
        bus.write_read(self.address, &[CONFIGURATION], &mut byte).map_err(Error::Bus)?;
        Ok(byte[0])
    }
}
