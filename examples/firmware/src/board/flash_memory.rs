//! A flash of memory, for boards that have none to write to, as those that are emulated: what it holds outlives a reset, and not the power.

use core::convert::Infallible;
use core::mem::MaybeUninit;

use embedded_storage_async::nor_flash::{ErrorType, NorFlash, ReadNorFlash};
use static_cell::StaticCell;

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

static TAKEN: StaticCell<()> = StaticCell::new();

impl Flash {
    /// Takes it. Erases it at the first start after the power came.
    ///
    /// # Panics
    /// The second time.
    pub fn take() -> Self {
        TAKEN.init(());
        // SAFETY: there is one reference, and every pattern of bits is a `Memory`. What it is was left there by the start before, or by
        // the power.
        let memory = unsafe { &mut *(&raw mut MEMORY).cast::<Memory>() };
        // SAFETY: the reference is good; the compiler is not to take the mark for one that nobody has written.
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
