//! An I2C controller of two open-drain pins that a program moves: single controller, 7-bit addresses, clock stretching
//! up to a limit.

use embedded_hal::delay::DelayNs;
use embedded_hal::digital::{self, InputPin, OutputPin};
use embedded_hal::i2c::{Error as BusError, ErrorKind, ErrorType, I2c, NoAcknowledgeSource, Operation};

/// What a transfer ended with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Error {
    /// No device has answered to the address.
    AddressRefused,
    /// The device has refused a byte.
    DataRefused,
    /// The clock was held low for longer than the limit.
    ClockHeld,
    /// The data line was held low, and nine pulses of the clock have not freed it.
    DataHeld,
    /// The data line was low where it was let go: somebody else is driving it.
    ArbitrationLost,
    /// A pin cannot be read or moved.
    Pin(digital::ErrorKind),
}

impl BusError for Error {
    fn kind(&self) -> ErrorKind {
        match self {
            Self::AddressRefused => ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address),
            Self::DataRefused => ErrorKind::NoAcknowledge(NoAcknowledgeSource::Data),
            Self::ClockHeld | Self::DataHeld => ErrorKind::Bus,
            Self::ArbitrationLost => ErrorKind::ArbitrationLoss,
            Self::Pin(_) => ErrorKind::Other,
        }
    }
}

/// The controller. Both pins are open-drain: set high, they are let go, and reading tells what the line is.
pub struct BitBanged<Clock, Data, Delay> {
    clock: Clock,
    data: Data,
    delay: Delay,
    /// Nanoseconds of half a clock period.
    half_period: u32,
    /// Microseconds that a device may hold the clock for.
    patience: u32,
}

impl<Clock, Data, Delay> BitBanged<Clock, Data, Delay>
where
    Clock: InputPin + OutputPin,
    Data: InputPin + OutputPin,
    Delay: DelayNs,
{
    /// A bus clocked with `hz` at most, whose devices may hold the clock for `patience` microseconds.
    ///
    /// # Panics
    /// If `hz` is 0.
    pub fn new(clock: Clock, data: Data, delay: Delay, hz: u32, patience: u32) -> Self {
        Self { clock, data, delay, half_period: 500_000_000_u32.div_ceil(hz), patience }
    }

    fn wait(&mut self) {
        self.delay.delay_ns(self.half_period);
    }

    fn clock_low(&mut self) -> Result<(), Error> {
        self.clock.set_low().map_err(pin)
    }

    /// Lets the clock go and waits until it is high: a device that is not ready holds it.
    fn clock_high(&mut self) -> Result<(), Error> {
        self.clock.set_high().map_err(pin)?;
        for _ in 0..self.patience {
            if self.clock.is_high().map_err(pin)? {
                return Ok(());
            }
            self.delay.delay_us(1);
        }
        if self.clock.is_high().map_err(pin)? { Ok(()) } else { Err(Error::ClockHeld) }
    }

    fn put_data(&mut self, high: bool) -> Result<(), Error> {
        self.data.set_state(high.into()).map_err(pin)
    }

    fn data_is_high(&mut self) -> Result<bool, Error> {
        self.data.is_high().map_err(pin)
    }

    /// The start condition, or the start of the next part of a transfer.
    fn start(&mut self) -> Result<(), Error> {
        self.put_data(true)?;
        self.wait();
        self.clock_high()?;
        self.wait();
        if !self.data_is_high()? {
            self.free_data()?;
        }
        self.put_data(false)?;
        self.wait();
        self.clock_low()
    }

    /// A device that was left in the middle of a byte (a reset of this side) drives the data line until it has been
    /// clocked through it; it takes the data line, let go, for a refusal, and then lets go too.
    fn free_data(&mut self) -> Result<(), Error> {
        for _ in 0..9 {
            self.clock_low()?;
            self.wait();
            self.clock_high()?;
            self.wait();
            if self.data_is_high()? {
                return Ok(());
            }
        }
        Err(Error::DataHeld)
    }

    /// The stop condition. The clock is low before, or held.
    fn stop(&mut self) -> Result<(), Error> {
        self.clock_low()?;
        self.put_data(false)?;
        self.wait();
        let risen = self.clock_high();
        self.wait();
        self.put_data(true)?;
        self.wait();
        risen
    }

    /// One period of the clock: what the data line was while the clock was high.
    fn bit(&mut self, high: bool) -> Result<bool, Error> {
        self.put_data(high)?;
        self.wait();
        self.clock_high()?;
        let seen = self.data_is_high()?;
        self.wait();
        self.clock_low()?;
        Ok(seen)
    }

    /// Sends a byte; whether the device has taken it.
    fn send(&mut self, byte: u8) -> Result<bool, Error> {
        for i in (0..8).rev() {
            let high = byte >> i & 1 == 1;
            if self.bit(high)? != high {
                return Err(Error::ArbitrationLost);
            }
        }
        Ok(!self.bit(true)?)
    }

    /// Receives a byte, and refuses more if it is the last.
    fn receive(&mut self, last: bool) -> Result<u8, Error> {
        let mut byte = 0;
        for _ in 0..8 {
            byte = byte << 1 | u8::from(self.bit(true)?);
        }
        self.bit(last)?;
        Ok(byte)
    }

    fn address(&mut self, address: u8, reading: bool) -> Result<(), Error> {
        self.start()?;
        if self.send(address << 1 | u8::from(reading))? { Ok(()) } else { Err(Error::AddressRefused) }
    }

    /// Operations of one kind that follow each other are one, as if their bytes stood in one buffer.
    fn run(&mut self, address: u8, operations: &mut [Operation<'_>]) -> Result<(), Error> {
        for group in operations.chunk_by_mut(|one, next| is_read(one) == is_read(next)) {
            let reading = group.first().is_some_and(is_read);
            self.address(address, reading)?;
            let mut left: usize = group.iter().map(length).sum();
            if reading && left == 0 {
                // The device drives the line already: it has to be refused before there can be a stop.
                self.receive(true)?;
            }
            for operation in group {
                match operation {
                    Operation::Read(bytes) => {
                        for byte in bytes.iter_mut() {
                            left -= 1;
                            *byte = self.receive(left == 0)?;
                        }
                    }
                    Operation::Write(bytes) => {
                        for &byte in bytes.iter() {
                            if !self.send(byte)? {
                                return Err(Error::DataRefused);
                            }
                        }
                    }
                }
            }
        }
        Ok(())
    }
}

impl<Clock, Data, Delay> ErrorType for BitBanged<Clock, Data, Delay> {
    type Error = Error;
}

impl<Clock, Data, Delay> I2c for BitBanged<Clock, Data, Delay>
where
    Clock: InputPin + OutputPin,
    Data: InputPin + OutputPin,
    Delay: DelayNs,
{
    fn transaction(&mut self, address: u8, operations: &mut [Operation<'_>]) -> Result<(), Error> {
        if operations.is_empty() {
            return Ok(());
        }
        match self.run(address, operations) {
            Err(Error::ArbitrationLost) => {
                // The bus is somebody else's: both lines are let go, and there is no stop.
                self.put_data(true)?;
                self.clock.set_high().map_err(pin)?;
                Err(Error::ArbitrationLost)
            }
            // Also after a failure the bus is given back, and the first failure is the one that is told.
            outcome => {
                let stopped = self.stop();
                outcome.and(stopped)
            }
        }
    }
}

fn is_read(operation: &Operation<'_>) -> bool {
    matches!(operation, Operation::Read(_))
}

fn length(operation: &Operation<'_>) -> usize {
    match operation {
        Operation::Read(bytes) => bytes.len(),
        Operation::Write(bytes) => bytes.len(),
    }
}

fn pin(error: impl digital::Error) -> Error {
    Error::Pin(error.kind())
}
