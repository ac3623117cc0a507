//! Readings, as C gets them.

use crate::Flags;
use crate::fixed;
use crate::sample::{Reading, Strain};

/// Strain and flags of one sample.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_reading {
    /// In Q34 (steps of 0.058 nanostrain), from -2^31 to 2^31 - 1.
    pub strain: i32,
    /// GW_FLAG_... or-ed together; 0 if all was in range. In words: gw_flags_message.
    pub flags: u32,
}

/// The temperature lies outside the declared range: the strain is that of the nearest end.
pub const GW_FLAG_TEMPERATURE_OUTSIDE: u32 = 1;
/// The strain lies outside the declared range: right while the code is in gw_kernel_ranges, else that of the nearest end.
pub const GW_FLAG_STRAIN_OUTSIDE: u32 = 2;
/// The code is at a rail: an open or shorted gauge, a broken lead, or too much signal. The strain says nothing.
pub const GW_FLAG_CODE_AT_RAIL: u32 = 4;
/// The pointer to the kernel or point was null: the strain is 0 and says nothing.
pub const GW_FLAG_NULL: u32 = 0x8000_0000;

const _: () = {
    assert!(GW_FLAG_TEMPERATURE_OUTSIDE == Flags::TEMPERATURE_OUTSIDE.bits() as u32);
    assert!(GW_FLAG_STRAIN_OUTSIDE == Flags::STRAIN_OUTSIDE.bits() as u32);
    assert!(GW_FLAG_CODE_AT_RAIL == Flags::CODE_AT_RAIL.bits() as u32);
};

/// A reading in one number: the four bytes of the strain in the low half, the flags in the high one. A struct of two words
/// would be returned through memory. The functions without `_packed` make a struct of it, at no cost.
pub type gw_packed_reading = u64;

#[inline(always)]
pub(super) fn packed<S: Word>(reading: Reading<S>) -> gw_packed_reading {
    u64::from(reading.strain.word()) | (reading.flags.word() as u64) << 32
}

/// A strain as four bytes.
pub(super) trait Word {
    fn word(self) -> u32;
}

impl Word for Strain {
    #[inline(always)]
    fn word(self) -> u32 {
        self.to_bits() as u32
    }
}

impl Word for f32 {
    #[inline(always)]
    fn word(self) -> u32 {
        self.to_bits()
    }
}

/// The reading of a null pointer. Out of line: a jump over it is all that the usual call pays.
#[cold]
#[inline(never)]
pub(super) const fn null_reading() -> gw_packed_reading {
    (GW_FLAG_NULL as u64) << 32
}

impl From<fixed::Reading> for gw_reading {
    fn from(reading: fixed::Reading) -> Self {
        Self { strain: reading.strain.to_bits(), flags: reading.flags.word() as u32 }
    }
}
