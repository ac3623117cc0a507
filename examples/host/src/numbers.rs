//! What a run of readings was, in exact integers, to be compared with another run of the same samples on another machine.
//!
//! One line for each channel and each path through the kernels, its parts separated by single spaces:
//!
//! ```text
//! numbers CHANNEL PATH samples=N clear=N temperature=N strain=N rail=N least=N greatest=N sum=N hash=H
//! ```
//!
//! A channel's name may hold spaces; the other parts do not, so they are counted from the end.
//!
//! | path | what runs |
//! |---|---|
//! | `fixed` | `fixed::Kernel::reading`, a call for each sample with its temperature |
//! | `fixed-point` | `fixed::Kernel::at` for the first of every [`SAMPLES_PER_POINT`] samples, `fixed::OperatingPoint::reading` for each |
//! | `f32`, `f32-point` | the same with the kernels of `float` in `f32` |
//!
//! A channel with two temperatures takes the compensated kernels, and both temperatures. Rows that are rejected for the
//! channel are no samples: they count nowhere, nor among the samples that a point serves.
//!
//! | part | what it is |
//! |---|---|
//! | `samples` | readings |
//! | `clear` | those without a flag |
//! | `temperature`, `strain`, `rail` | those with the flag temperature outside, strain outside, code at rail |
//! | `least`, `greatest`, `sum` | of the clear strains in Q34, those of `f32` cut off to whole steps; 0 if none is clear |
//! | `hash` | FNV-1a, 64 bits in 16 hexadecimal digits, over five bytes of every reading: strain (`i32` or the bits of the `f32`, little endian), then flags |
//!
//! This file needs `core` and the library alone, and the counting neither divides nor uses `f64`, so that firmware for the
//! smallest core can share it.

use core::fmt::{self, Display, Formatter};
use gaugewright::{Flags, fixed, float};

/// Samples that one temperature's constants serve on the split paths.
pub const SAMPLES_PER_POINT: usize = 5;

/// The figures of a run; displays as the parts of a line from `samples` on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Numbers {
    pub samples: u32,
    pub clear: u32,
    pub temperature: u32,
    pub strain: u32,
    pub rail: u32,
    pub least: i32,
    pub greatest: i32,
    pub sum: i64,
    pub hash: u64,
}

impl Numbers {
    /// Before the first reading.
    pub const fn new() -> Self {
        Self {
            samples: 0,
            clear: 0,
            temperature: 0,
            strain: 0,
            rail: 0,
            least: 0,
            greatest: 0,
            sum: 0,
            hash: HASH_OF_NOTHING,
        }
    }

    /// Counts a reading of a fixed-point kernel.
    pub fn add_fixed(&mut self, reading: fixed::Reading) {
        let steps = reading.strain.to_bits();
        self.add(steps, steps.to_le_bytes(), reading.flags);
    }

    /// Counts a reading of a kernel in single precision.
    pub fn add_single(&mut self, reading: float::Reading<f32>) {
        // A power of two: the product is exact.
        const STEPS: f32 = 17_179_869_184.0;
        let steps = (reading.strain * STEPS) as i32;
        self.add(steps, reading.strain.to_bits().to_le_bytes(), reading.flags);
    }

    fn add(&mut self, steps: i32, strain: [u8; 4], flags: Flags) {
        if flags.is_clear() {
            let first = self.clear == 0;
            self.least = if first { steps } else { self.least.min(steps) };
            self.greatest = if first { steps } else { self.greatest.max(steps) };
            self.sum += i64::from(steps);
            self.clear += 1;
        }
        self.samples += 1;
        self.temperature += u32::from(flags.contains(Flags::TEMPERATURE_OUTSIDE));
        self.strain += u32::from(flags.contains(Flags::STRAIN_OUTSIDE));
        self.rail += u32::from(flags.contains(Flags::CODE_AT_RAIL));
        self.hash = hash(hash(self.hash, &strain), &[flags.bits()]);
    }
}

impl Default for Numbers {
    fn default() -> Self {
        Self::new()
    }
}

impl Display for Numbers {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let Self { samples, clear, temperature, strain, rail, least, greatest, sum, hash } = self;
        write!(f, "samples={samples} clear={clear} temperature={temperature} strain={strain} rail={rail} ")?;
        write!(f, "least={least} greatest={greatest} sum={sum} hash={hash:016x}")
    }
}

const HASH_OF_NOTHING: u64 = 0xcbf2_9ce4_8422_2325;

/// FNV-1a, continued from the hash of what came before.
pub fn hash(before: u64, bytes: &[u8]) -> u64 {
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    bytes.iter().fold(before, |hash, &byte| (hash ^ u64::from(byte)).wrapping_mul(PRIME))
}
