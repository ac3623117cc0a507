//! A bus and a device that pass everything on, and fail where they are told to: wrappers over the traits, for any
//! controller.

use core::ops::Range;
use core::sync::atomic::{AtomicU32, Ordering::Relaxed};

use embedded_hal::i2c::{self, I2c};
use embedded_hal::spi::{self, SpiDevice};

/// Fails with `kind` while `now` lies in `during`.
pub struct BusFault {
    pub during: Range<u32>,
    pub kind: i2c::ErrorKind,
}

/// An I2C bus that fails by schedule.
pub struct FaultyBus<'a, B> {
    bus: B,
    now: &'a AtomicU32,
    faults: &'a [BusFault],
}

impl<'a, B: I2c> FaultyBus<'a, B> {
    pub const fn new(bus: B, now: &'a AtomicU32, faults: &'a [BusFault]) -> Self {
        Self { bus, now, faults }
    }
}

/// The bus's own error, or one that the schedule has made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BusError<E> {
    Real(E),
    Made(i2c::ErrorKind),
}

impl<E: i2c::Error> i2c::Error for BusError<E> {
    fn kind(&self) -> i2c::ErrorKind {
        match self {
            Self::Real(error) => error.kind(),
            Self::Made(kind) => *kind,
        }
    }
}

impl<B: I2c> i2c::ErrorType for FaultyBus<'_, B> {
    type Error = BusError<B::Error>;
}

impl<B: I2c> I2c for FaultyBus<'_, B> {
    fn transaction(&mut self, address: u8, operations: &mut [i2c::Operation<'_>]) -> Result<(), Self::Error> {
        let now = self.now.load(Relaxed);
        match self.faults.iter().find(|fault| fault.during.contains(&now)) {
            Some(fault) => Err(BusError::Made(fault.kind)),
            None => self.bus.transaction(address, operations).map_err(BusError::Real),
        }
    }
}

/// What a faulty device does to a transfer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DeviceFault {
    /// The bytes that are read are replaced: what a converter gives whose input is beyond its range, say.
    Reads(&'static [u8]),
    /// The transfer fails.
    Fails,
}

/// An SPI device that fails by schedule. A chip goes on converting whether it is understood or not, so that the
/// device is asked all the same. `now` counts transfers.
pub struct FaultyDevice<'a, S> {
    device: S,
    now: u32,
    faults: &'a [(Range<u32>, DeviceFault)],
}

impl<'a, S: SpiDevice> FaultyDevice<'a, S> {
    pub const fn new(device: S, faults: &'a [(Range<u32>, DeviceFault)]) -> Self {
        Self { device, now: 0, faults }
    }
}

/// The device's own error, or one that the schedule has made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DeviceError<E> {
    Real(E),
    Made,
}

impl<E: spi::Error> spi::Error for DeviceError<E> {
    fn kind(&self) -> spi::ErrorKind {
        match self {
            Self::Real(error) => error.kind(),
            Self::Made => spi::ErrorKind::Other,
        }
    }
}

impl<S: SpiDevice> spi::ErrorType for FaultyDevice<'_, S> {
    type Error = DeviceError<S::Error>;
}

impl<S: SpiDevice> SpiDevice for FaultyDevice<'_, S> {
    fn transaction(&mut self, operations: &mut [spi::Operation<'_, u8>]) -> Result<(), Self::Error> {
        let now = self.now;
        self.now = now.wrapping_add(1);
        self.device.transaction(operations).map_err(DeviceError::Real)?;
        match self.faults.iter().find(|(during, _)| during.contains(&now)) {
            None => Ok(()),
            Some((_, DeviceFault::Fails)) => Err(DeviceError::Made),
            Some((_, DeviceFault::Reads(bytes))) => {
                let mut bytes = bytes.iter().cycle();
                for operation in operations {
                    if let spi::Operation::Read(buffer) = operation {
                        buffer.iter_mut().zip(&mut bytes).for_each(|(to, from)| *to = *from);
                    }
                }
                Ok(())
            }
        }
    }
}
