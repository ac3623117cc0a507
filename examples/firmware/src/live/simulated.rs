//! The converter of the demonstration: no emulator has one, so that this simulates one, behind the trait that a real
//! one is read through.

use core::convert::Infallible;

use embedded_hal::spi::{ErrorType, Operation, SpiDevice};

/// A 24-bit converter that gives, at its n-th transfer, the n-th code of a simulated load.
pub struct SimulatedConverter {
    code: fn(u32) -> i32,
    transfers: u32,
}

impl SimulatedConverter {
    pub const fn new(code: fn(u32) -> i32) -> Self {
        Self { code, transfers: 0 }
    }
}

impl ErrorType for SimulatedConverter {
    type Error = Infallible;
}

impl SpiDevice for SimulatedConverter {
    fn transaction(&mut self, operations: &mut [Operation<'_, u8>]) -> Result<(), Infallible> {
        let [_, high, middle, low] = (self.code)(self.transfers).to_be_bytes();
        self.transfers = self.transfers.wrapping_add(1);
        let mut bytes = [high, middle, low].into_iter();
        for operation in operations {
            match operation {
                Operation::Read(buffer)
                | Operation::Transfer(buffer, _)
                | Operation::TransferInPlace(buffer) => {
                    // Clocked on after the code, it gives zeros.
                    buffer.iter_mut().for_each(|byte| *byte = bytes.next().unwrap_or(0));
                }
                Operation::Write(_) | Operation::DelayNs(_) => {}
            }
        }
        Ok(())
    }
}
