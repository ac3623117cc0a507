//! Cortex-M: the timer is `SysTick`, which every one has but some Cortex-M0.

#[cfg(feature = "field")]
use cortex_m::peripheral::{NVIC, SCB};
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
    #[cfg(feature = "field")]
    critical_section::with(|held| {
        let passed = PASSED.borrow(held);
        passed.set(passed.get() + u64::from(SYST::get_reload()) + 1);
    });
    super::tick();
}

/// Ticks of the periods that have passed.
#[cfg(feature = "field")]
static PASSED: critical_section::Mutex<core::cell::Cell<u64>> =
    critical_section::Mutex::new(core::cell::Cell::new(0));

/// Ticks of the timer since it was started for an interrupt.
#[cfg(feature = "field")]
pub fn ticks() -> u64 {
    critical_section::with(|held| {
        let (period, mut left) = (u64::from(SYST::get_reload()) + 1, SYST::get_current());
        // SAFETY: reads a register.
        let pending = unsafe { (*SCB::PTR).icsr.read() } & 1 << 26 != 0;
        let mut passed = PASSED.borrow(held).get();
        if pending {
            // A period has ended whose interrupt is not served yet.
            left = SYST::get_current();
            passed += period;
        }
        // The counter is 0 before the first period and at the start of each.
        passed + if left == 0 { 0 } else { period - u64::from(left) }
    })
}

#[cfg(feature = "field")]
#[derive(Clone, Copy)]
struct Interrupt(u16);

// SAFETY: the number is that of the memory file and does not change.
#[cfg(feature = "field")]
unsafe impl cortex_m::interrupt::InterruptNumber for Interrupt {
    fn number(self) -> u16 {
        self.0
    }
}

/// Of the serial line.
#[cfg(feature = "field")]
pub(super) fn enable_interrupt(number: usize) {
    // SAFETY: its handler is there, and takes no lock that is held here.
    unsafe { NVIC::unmask(Interrupt(number as u16)) };
}

/// Every interrupt of a peripheral: the serial line has the only one that is enabled.
#[cfg(feature = "field")]
#[exception]
unsafe fn DefaultHandler(_number: i16) {
    super::serial::interrupt();
}

/// Until an interrupt comes. Where the main loop looks for work, [`sleep_unless`](super::sleep_unless).
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
