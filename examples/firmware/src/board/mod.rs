//! The processor and nothing of a particular board: what differs between boards is in the memory file.

#[cfg(target_arch = "arm")]
mod cortex_m;
#[cfg(feature = "field")]
#[cfg_attr(target_arch = "arm", path = "flash_memory.rs")]
#[cfg_attr(target_arch = "riscv32", path = "flash_chips.rs")]
pub mod flash;
#[cfg(target_arch = "riscv32")]
mod riscv;
#[cfg(feature = "field")]
pub mod serial;
pub mod stack;

#[cfg(target_arch = "arm")]
use self::cortex_m as processor;
#[cfg(target_arch = "riscv32")]
use self::riscv as processor;
use processor::start_timer;
#[cfg(feature = "field")]
pub use processor::ticks;
pub use processor::{Counter, sleep};

use core::cell::Cell;
use core::num::NonZeroU32;
use critical_section::Mutex;
// The transport of the report.
#[cfg(feature = "report")]
use defmt_semihosting as _;

static ON_TICK: Mutex<Cell<fn()>> = Mutex::new(Cell::new(|| {}));

/// The timer cannot tick so often or so seldom.
#[derive(Clone, Copy, Debug)]
#[cfg_attr(feature = "report", derive(defmt::Format))]
pub struct RateOutOfRange {
    pub hz: u32,
    /// Of the timer.
    pub lowest_hz: u32,
    pub highest_hz: u32,
}

/// Calls `tick` in the timer's interrupt, so many times a second: every whole number of the timer's ticks, rounded down, so
/// that a slow timer is off by up to one of them (32 768 Hz, asked for 5000 a second, gives 5461).
///
/// # Errors
/// A rate that is faster than the timer, or so slow that its counter does not reach.
pub fn every(hz: NonZeroU32, tick: fn()) -> Result<(), RateOutOfRange> {
    let ticks = timer_hz() / hz;
    if ticks == 0 || ticks > processor::LONGEST {
        let lowest_hz = timer_hz() / processor::LONGEST + 1;
        return Err(RateOutOfRange { hz: hz.get(), lowest_hz, highest_hz: timer_hz() });
    }
    start(ticks, tick);
    Ok(())
}

/// Calls `tick` in the timer's interrupt after so many of its ticks, and again after so many more, as long as the program runs.
/// Returns whether the timer counts so far: that of a Cortex-M to 2^24, of RISC-V to 2^31.
#[must_use]
pub fn after(ticks: NonZeroU32, tick: fn()) -> bool {
    let reached = ticks.get() <= processor::LONGEST;
    if reached {
        start(ticks.get(), tick);
    }
    reached
}

fn start(ticks: u32, tick: fn()) {
    critical_section::with(|held| ON_TICK.borrow(held).set(tick));
    start_timer(ticks);
}

unsafe extern "C" {
    /// Its address is a number: ticks of the timer in one second, from the memory file.
    static _timer_hz: u8;
}

/// Ticks of the timer in one second; on Cortex-M those are the processor's cycles.
pub fn timer_hz() -> u32 {
    (&raw const _timer_hz) as usize as u32
}

/// Nanoseconds, which run on and wrap: those of the timer, whose interrupts have to be served in time.
#[cfg(feature = "field")]
pub fn nanoseconds() -> u32 {
    (ticks() * (1_000_000_000 / u64::from(timer_hz() / 1_000)) / 1_000) as u32
}

/// Waits in place.
#[cfg(feature = "field")]
#[derive(Clone, Copy)]
pub struct Delay;

#[cfg(feature = "field")]
impl embedded_hal::delay::DelayNs for Delay {
    fn delay_ns(&mut self, ns: u32) {
        let since = nanoseconds();
        while nanoseconds().wrapping_sub(since) < ns {}
    }
}

/// Short waits, between two looks at a converter: they are not worth another task's turn.
#[cfg(feature = "field")]
impl embedded_hal_async::delay::DelayNs for Delay {
    async fn delay_ns(&mut self, ns: u32) {
        embedded_hal::delay::DelayNs::delay_ns(self, ns);
    }
}

/// The timer's interrupt.
fn tick() {
    let tick = critical_section::with(|held| ON_TICK.borrow(held).get());
    tick();
}

/// Sleeps until an interrupt comes, unless `work` finds something to do. Interrupts are off from this look until the core is awake: one
/// that comes between them stays pending, which ends the sleep, and is served afterwards.
pub fn sleep_unless(work: impl FnOnce() -> bool) {
    critical_section::with(|_| {
        if !work() {
            sleep();
        }
    });
}

/// Ends the program and tells the debugger or emulator how it went.
pub fn exit(success: bool) -> ! {
    semihosting::process::exit(i32::from(!success))
}

/// A panic is reported, and ends the program with a failure. None is known.
#[panic_handler]
fn panic(_info: &core::panic::PanicInfo) -> ! {
    #[cfg(feature = "report")]
    defmt::error!("panic: {}", defmt::Display2Format(_info));
    exit(false)
}
