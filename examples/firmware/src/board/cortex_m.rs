//! Cortex-M: the timer is `SysTick`, which every one has but some Cortex-M0.

use cortex_m::peripheral::{Peripherals, SYST, syst::SystClkSource};
use cortex_m_rt::exception;

/// The most ticks of a period: the counter has 24 bits.
pub(super) const LONGEST: u32 = 1 << 24;

/// An interrupt after every so many ticks, from 1 to [`LONGEST`].
pub(super) fn start_timer(ticks: u32) {
    let mut timer = timer();
    timer.set_clock_source(SystClkSource::Core);
    timer.set_reload(ticks - 1);
    timer.clear_current();
    timer.enable_interrupt();
    timer.enable_counter();
}

fn timer() -> SYST {
    // SAFETY: one core; registers are written whole, by the main loop alone.
    unsafe { Peripherals::steal() }.SYST
}

#[exception]
fn SysTick() {
    super::tick();
}

/// Until an interrupt has been served.
pub fn sleep() {
    cortex_m::asm::wfi();
}

/// Counts by the timer, which it takes for itself. Under QEMU's `-icount shift=0` an instruction takes one
/// nanosecond, so that ticks are instructions, to one tick's worth.
pub struct Counter(SYST);

impl Counter {
    #[expect(clippy::new_without_default)]
    pub fn new() -> Self {
        let mut timer = timer();
        timer.set_clock_source(SystClkSource::Core);
        timer.disable_interrupt();
        timer.set_reload(0x00ff_ffff);
        timer.clear_current();
        timer.enable_counter();
        Self(timer)
    }

    /// Instructions of `work` under QEMU; elsewhere nanoseconds. At most 2^24 ticks.
    pub fn instructions(&mut self, work: impl FnOnce()) -> u64 {
        self.0.clear_current();
        while SYST::get_current() == 0 {}
        let start = SYST::get_current();
        work();
        let ticks = start.wrapping_sub(SYST::get_current()) & 0x00ff_ffff;
        u64::from(ticks) * 1_000_000_000 / u64::from(super::timer_hz())
    }
}
