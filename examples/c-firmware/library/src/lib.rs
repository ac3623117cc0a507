//! The functions of `gaugewright::ffi` as a static library.
#![no_std]

// Its functions are exported by their names.
use gaugewright as _;

/// No function of the library panics, so that nothing comes here; a library without the standard one has to have it.
#[panic_handler]
fn panic(_info: &core::panic::PanicInfo) -> ! {
    loop {}
}

/// What `../sizes` has to refuse: a panic, memory of its own, and a call to what is not in the library.
#[cfg(feature = "planted-faults")]
mod planted {
    unsafe extern "C" {
        fn malloc(size: usize) -> *mut u8;
    }

    #[unsafe(no_mangle)]
    extern "C" fn gw_planted_panic(index: usize) -> u8 {
        b"planted"[index]
    }

    static COUNT: core::sync::atomic::AtomicU32 = core::sync::atomic::AtomicU32::new(0);

    #[unsafe(no_mangle)]
    extern "C" fn gw_planted_memory() -> u32 {
        let count = COUNT.load(core::sync::atomic::Ordering::Relaxed);
        COUNT.store(count + 1, core::sync::atomic::Ordering::Relaxed);
        count
    }

    #[unsafe(no_mangle)]
    extern "C" fn gw_planted_call(size: usize) -> *mut u8 {
        // SAFETY: never called; that it cannot be linked is what is looked at.
        unsafe { malloc(size) }
    }
}
