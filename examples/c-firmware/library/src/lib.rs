//! The functions of `gaugewright::ffi` as a static library.
#![no_std]

// Its functions are exported by their names.
use gaugewright as _;

/// No function of the library panics, so that nothing comes here; a library without the standard one has to have it.
#[panic_handler]
fn panic(_info: &core::panic::PanicInfo) -> ! {
    loop {}
}
