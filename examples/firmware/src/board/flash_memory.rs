//! A flash of memory, for boards that have none to write to, as those that are emulated: what it holds outlives a reset, and not the power.

use core::convert::Infallible;
use core::mem::MaybeUninit;

use embedded_storage_async::nor_flash::{ErrorType, NorFlash, ReadNorFlash};

/// Bytes that are erased at once.
const SECTOR: usize = 1024;
/// Sectors.
pub const SECTORS: usize = 4;
const BYTES: usize = SECTOR * SECTORS;

/// Where the memory was a flash already.
const MARK: u64 = 0x6761_7567_6577_7269;

struct Memory {
    mark: u64,
    bytes: [u8; BYTES],
}

/// Neither zeroed nor set at a start.
#[unsafe(link_section = ".uninit.FLASH")]
static mut MEMORY: MaybeUninit<Memory> = MaybeUninit::uninit();

/// The flash, of which there is one.
pub struct Flash(&'static mut Memory);

impl Flash {
    /// Takes it; once. Erases it at the first start after the power came.
    pub fn take() -> Self {
        // SAFETY: called once, and every pattern of bits is a `Memory`.
        let memory = unsafe { (*(&raw mut MEMORY)).assume_init_mut() };
        // Read as it is: nothing has written it since the start.
        // SAFETY: the reference is good.
        if unsafe { (&raw const memory.mark).read_volatile() } != MARK {
            memory.bytes.fill(0xff);
            memory.mark = MARK;
        }
        Self(memory)
    }
}

impl ErrorType for Flash {
    type Error = Infallible;
}

impl ReadNorFlash for Flash {
    const READ_SIZE: usize = 1;

    async fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), Infallible> {
        let from = offset as usize;
        bytes.copy_from_slice(&self.0.bytes[from..from + bytes.len()]);
        Ok(())
    }

    fn capacity(&self) -> usize {
        BYTES
    }
}

impl NorFlash for Flash {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = SECTOR;

    async fn erase(&mut self, from: u32, to: u32) -> Result<(), Infallible> {
        self.0.bytes[from as usize..to as usize].fill(0xff);
        Ok(())
    }

    async fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), Infallible> {
        // As flash does: a write clears bits and sets none.
        self.0.bytes[offset as usize..].iter_mut().zip(bytes).for_each(|(held, byte)| *held &= byte);
        Ok(())
    }
}
