//! The processor and nothing of a particular board: what differs between boards is in the memory file.

#[cfg(target_arch = "arm")]
#[path = "cortex_m.rs"]
mod core;
#[cfg(target_arch = "riscv32")]
#[path = "riscv.rs"]
mod core;
pub mod stack;

pub use self::core::{Counter, exit, sleep, start_timer};

use ::core::cell::Cell;
use ::core::num::NonZeroU32;
use critical_section::Mutex;
// The transport of the report.
#[cfg(feature = "report")]
use defmt_semihosting as _;

static ON_TICK: Mutex<Cell<fn()>> = Mutex::new(Cell::new(|| {}));

/// Calls `tick` in the timer's interrupt, so many times a second.
pub fn every(hz: NonZeroU32, tick: fn()) {
    critical_section::with(|held| ON_TICK.borrow(held).set(tick));
    start_timer(timer_hz() / hz);
}

unsafe extern "C" {
    /// Its address is a number: ticks of the timer in one second, from the memory file.
    static _timer_hz: u8;
}

/// Ticks of the timer in one second; on Cortex-M those are the processor's cycles.
pub fn timer_hz() -> u32 {
    (&raw const _timer_hz) as usize as u32
}

/// The timer's interrupt.
fn tick() {
    let tick = critical_section::with(|held| ON_TICK.borrow(held).get());
    tick();
}

/// A panic is reported, and ends the program with a failure. There is none that we know of.
#[panic_handler]
fn panic(_info: &::core::panic::PanicInfo) -> ! {
    #[cfg(feature = "report")]
    defmt::error!("panic: {}", defmt::Display2Format(_info));
    exit(false)
}
