//! Whether constants are whole.

use core::ffi::c_void;

use crc::{CRC_32_ISO_HDLC, Crc, NoTable};

use super::pointer::{as_ref, tell, write};
use super::*;
use crate::fixed;

/// Format of the constants that this header belongs to.
pub const GW_FORMAT: u32 = 1;

const _: () = assert!(GW_FORMAT == fixed::FORMAT);

/// What constants are checked against.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_seal {
    /// Of the constants and their meaning: GW_FORMAT of the library that made them.
    pub format: u32,
    /// CRC-32 (that of Ethernet) over their bytes.
    pub checksum: u32,
}

impl gw_seal {
    /// That of some bytes.
    #[doc(hidden)]
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        let checksum = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC).checksum(bytes);
        Self { format: GW_FORMAT, checksum }
    }

    fn check(&self, bytes: &[u8]) -> gw_error {
        if self.format != GW_FORMAT {
            return gw_error::differs(GW_STATUS_FORMAT, self.format, GW_FORMAT);
        }
        let Self { checksum, .. } = Self::of(bytes);
        if self.checksum != checksum {
            return gw_error::differs(GW_STATUS_CHECKSUM, checksum, self.checksum);
        }
        gw_error::OK
    }
}

/// # Safety
/// Null, or `size` bytes.
unsafe fn bytes<'a>(constants: *const c_void, size: usize) -> Option<&'a [u8]> {
    // SAFETY: not null; the rest as required of the caller. No object has more bytes than `isize` counts.
    (!constants.is_null() && size <= isize::MAX as usize)
        .then(|| unsafe { core::slice::from_raw_parts(constants.cast(), size) })
}

/// Seals constants of any kind, such as `&kernel, sizeof kernel`: format and CRC-32, to be kept beside them. The host writes
/// seals with the constants that it makes.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::kernel();
/// let mut seal = gw_seal::default();
/// // Safe: both live here.
/// let status = unsafe { gw_seal_make((&raw const kernel).cast(), size_of_val(&kernel), &mut seal) };
/// assert_eq!((status, seal.format), (GW_STATUS_OK, GW_FORMAT));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_seal_make(
    constants: *const c_void,
    size: usize,
    seal: *mut gw_seal,
) -> gw_status {
    // SAFETY: as required of the caller.
    match unsafe { bytes(constants, size) } {
        // SAFETY: as required of the caller.
        Some(bytes) => unsafe { write(seal, gw_seal::of(bytes)) },
        None => GW_STATUS_NULL,
    }
}

/// Looks whether constants are whole: of this library's format, and those that were sealed; at each start, for what lies in
/// flash. Constants that are not whole give defined readings that mean nothing. It finds every change of up to 32 bits side by
/// side, and is no protection against intent.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::kernel();
/// # let mut seal = gw_seal::default();
/// # assert_eq!(unsafe { gw_seal_make((&raw const kernel).cast(), size_of_val(&kernel), &mut seal) }, GW_STATUS_OK);
/// let mut error = gw_error::default();
/// kernel.words[15] ^= 1;
/// // Safe: all of them live here.
/// let status = unsafe { gw_seal_check((&raw const kernel).cast(), size_of_val(&kernel), &seal, &mut error) };
/// assert_eq!((status, error.high), (GW_STATUS_CHECKSUM, seal.checksum.into()));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_seal_check(
    constants: *const c_void,
    size: usize,
    seal: *const gw_seal,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    let told = match unsafe { (bytes(constants, size), as_ref(seal)) } {
        (Some(bytes), Some(seal)) => seal.check(bytes),
        _ => gw_error::NULL,
    };
    // SAFETY: as required of the caller.
    unsafe { tell(told, error) }
}
