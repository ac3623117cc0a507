//! What stands between a bus and a kernel: a word, a register, and the interrupt's end of a queue of operating points.

use core::cell::RefCell;

use crc::{CRC_8_SMBUS, Crc, NoTable};
use gaugewright::Flags;
use gaugewright::device::acquisition::{Coding, Corrector, TemperatureRegister, Word, WordLayout};
use gaugewright::units::Celsius;

use crate::cost::BLOCK;

/// A status byte, 24 bits, a checksum.
const WORD: Word = WordLayout::new(24, Coding::TwosComplement)
    .at_byte(1)
    .status(0, 0xf0, 0)
    .ready(0, 0x08, 0)
    .checksum_u8(&CRC_8_SMBUS)
    .refuse_all_ones()
    .refuse_all_zeros()
    .word();

/// Twelve bits in sixteenths of a degree.
pub const REGISTER: TemperatureRegister =
    TemperatureRegister::new(Celsius(0.0625), Celsius(-80.0), Celsius(125.0));

/// A word as a bus gave it.
pub struct Received {
    pub word: Word,
    pub bytes: [u8; 5],
}

/// The code 0x012345.
pub static RECEIVED: Received = Received { word: WORD, bytes: [0x00, 0x01, 0x23, 0x45, CHECKSUM_OF_BYTES] };

const CHECKSUM_OF_BYTES: u8 = Crc::<u8, NoTable>::new(&CRC_8_SMBUS).checksum(&[0, 0x01, 0x23, 0x45]);

/// An interrupt's end of a queue, and its half of a buffer.
pub struct Correcting<'q> {
    pub corrector: RefCell<Corrector<'q>>,
    pub block: RefCell<[i32; BLOCK]>,
}

impl Correcting<'_> {
    #[inline(always)]
    pub fn correct(&self) -> Option<Flags> {
        let mut block = self.block.try_borrow_mut().ok()?;
        Some(self.corrector.try_borrow_mut().ok()?.correct(&mut *block, |_, _| {}))
    }
}
