//! Which library this is.

use core::ffi::c_char;

/// Version that this header belongs to: major in bits 16 and up, minor in 8 to 15, patch in 0 to 7.
pub const GW_VERSION: u32 = 0x000100;

// It is that of the manifest.
const _: () = {
    const fn number(digits: &str) -> u32 {
        let mut value = 0;
        let mut k = 0;
        while k < digits.len() {
            value = value * 10 + (digits.as_bytes()[k] - b'0') as u32;
            k += 1;
        }
        value
    }
    let major = number(env!("CARGO_PKG_VERSION_MAJOR"));
    let minor = number(env!("CARGO_PKG_VERSION_MINOR"));
    assert!(GW_VERSION == major << 16 | minor << 8 | number(env!("CARGO_PKG_VERSION_PATCH")));
};

/// Version number of the library that is linked: the same as GW_VERSION if header and library belong together.
///
/// ```
/// assert_eq!(gaugewright::ffi::gw_version(), gaugewright::ffi::GW_VERSION);
/// ```
#[unsafe(no_mangle)]
pub extern "C" fn gw_version() -> u32 {
    GW_VERSION
}

/// The same in words, such as "1.2.3"; lives forever.
///
/// ```
/// # use std::ffi::CStr;
/// // Safe: a text of the library, with its end.
/// let text = unsafe { CStr::from_ptr(gaugewright::ffi::gw_version_text()) };
/// assert_eq!(text.to_str(), Ok(env!("CARGO_PKG_VERSION")));
/// ```
#[unsafe(no_mangle)]
pub extern "C" fn gw_version_text() -> *const c_char {
    crate::error::c_text(concat!(env!("CARGO_PKG_VERSION"), "\0")).as_ptr()
}
