//! The flash of QEMU's `virt` board, which outlives the emulator: two chips of 16 bits side by side, with the command set that
//! JEDEC lists as 0001 (in QEMU `cfi.pflash01`). The memory file names where they lie (`_flash`).

use core::convert::Infallible;

use embedded_storage_async::nor_flash::{ErrorType, NorFlash, ReadNorFlash};

unsafe extern "C" {
    /// The first word of both chips, from the memory file.
    static mut _flash: u32;
}

/// A sector of both chips together.
pub const SECTOR: usize = 256 * 1024;
/// Sectors in use.
pub const SECTORS: usize = 4;

const READ: u32 = 0x00ff_00ff;
const PROGRAM: u32 = 0x0040_0040;
const ERASE: u32 = 0x0020_0020;
const CONFIRM: u32 = 0x00d0_00d0;
const READY: u32 = 0x0080_0080;

fn at(offset: usize) -> *mut u32 {
    (&raw mut _flash).wrapping_byte_add(offset)
}

/// The flash, of which there is one.
pub struct Flash(());

impl Flash {
    pub fn take() -> Self {
        Self(())
    }

    fn put(&mut self, offset: usize, word: u32) {
        // SAFETY: the memory file says that flash is there, `SECTOR * SECTORS` bytes and more; offsets come from the store, which keeps
        // to its range.
        unsafe { at(offset).write_volatile(word) }
    }

    fn wait(&mut self, offset: usize) {
        // SAFETY: as above; after a command a read gives the status of both chips.
        while unsafe { at(offset).read_volatile() } & READY != READY {}
    }
}

impl ErrorType for Flash {
    type Error = Infallible;
}

impl ReadNorFlash for Flash {
    const READ_SIZE: usize = 1;

    async fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), Infallible> {
        for (place, byte) in (offset as usize..).zip(bytes) {
            // SAFETY: as above.
            *byte = unsafe { at(place).cast::<u8>().read_volatile() };
        }
        Ok(())
    }

    fn capacity(&self) -> usize {
        SECTOR * SECTORS
    }
}

impl NorFlash for Flash {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = SECTOR;

    async fn erase(&mut self, from: u32, to: u32) -> Result<(), Infallible> {
        for sector in (from as usize..to as usize).step_by(SECTOR) {
            self.put(sector, ERASE);
            self.put(sector, CONFIRM);
            self.wait(sector);
        }
        self.put(from as usize, READ);
        Ok(())
    }

    async fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), Infallible> {
        for (place, word) in (offset as usize..).step_by(4).zip(bytes.chunks_exact(4)) {
            self.put(place, PROGRAM);
            self.put(place, u32::from_le_bytes([word[0], word[1], word[2], word[3]]));
            self.wait(place);
        }
        self.put(offset as usize, READ);
        Ok(())
    }
}
