//! What there is to know of a kernel: its seal, its ranges, its error bound.

use crc::{CRC_32_ISO_HDLC, Crc, NoTable};

use super::*;
use crate::fixed::{self, Kernel};
use crate::kernel::ErrorBound;

/// Format of kernels that this header belongs to.
pub const GW_KERNEL_FORMAT: u32 = 1;

const _: () = assert!(GW_KERNEL_FORMAT == fixed::FORMAT);

/// What a stored kernel is checked against.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_seal {
    /// Of the kernel's numbers and their meaning: GW_KERNEL_FORMAT of the library that made it.
    pub format: u32,
    /// CRC-32 over the kernel's numbers.
    pub checksum: u32,
}

impl gw_seal {
    pub(super) const fn of(checksum: u32) -> Self {
        Self { format: GW_KERNEL_FORMAT, checksum }
    }

    /// That of some bytes.
    #[doc(hidden)]
    #[must_use]
    pub fn of_bytes(bytes: &[u8]) -> Self {
        Self::of(Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC).checksum(bytes))
    }

    pub(super) fn check(&self, checksum: u32) -> gw_error {
        if self.format != GW_KERNEL_FORMAT {
            gw_error::differs(GW_STATUS_FORMAT, self.format, GW_KERNEL_FORMAT)
        } else if self.checksum != checksum {
            gw_error::differs(GW_STATUS_CHECKSUM, checksum, self.checksum)
        } else {
            gw_error::OK
        }
    }
}

/// Ranges of a kernel, ends included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_ranges {
    /// Lowest code.
    pub code_low: i32,
    /// Highest code.
    pub code_high: i32,
    /// Lowest temperature, Q20 degrees Celsius.
    pub temperature_low: i32,
    /// Highest temperature, Q20 degrees Celsius.
    pub temperature_high: i32,
}

impl gw_ranges {
    pub(super) const fn of<const DEGREE: usize, const FACTOR: usize>(
        kernel: &Kernel<DEGREE, FACTOR>,
    ) -> Self {
        let ((code_low, code_high), (cold, hot)) = (kernel.codes(), kernel.temperatures());
        Self { code_low, code_high, temperature_low: cold.to_bits(), temperature_high: hot.to_bits() }
    }
}

/// The largest errors of a kernel, for codes and temperatures in range.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[repr(C)]
pub struct gw_bound {
    /// Of a reading in one call, nanostrain.
    pub reading: f64,
    /// Of a reading of a point, nanostrain.
    pub point: f64,
}

impl gw_bound {
    pub(super) const fn of(bound: &ErrorBound) -> Self {
        Self { reading: bound.reading.total.0, point: bound.point.total.0 }
    }
}

const _: () =
    assert!(size_of::<gw_seal>() == 8 && size_of::<gw_ranges>() == 16 && size_of::<gw_bound>() == 16);
