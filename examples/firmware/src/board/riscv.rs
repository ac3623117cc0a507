//! RISC-V: the machine timer, whose registers the memory file names.

use ::core::cell::Cell;

use critical_section::Mutex;
use riscv::register::{mie, minstret, mstatus};
use riscv_rt::core_interrupt;

unsafe extern "C" {
    /// The timer's two registers, two words each, from the memory file.
    static _mtime: u32;
    static mut _mtimecmp: u32;
}

/// The most ticks of a period.
pub(super) const LONGEST: u32 = 1 << 31;

/// Ticks of a period, and when the next interrupt is due. From here and not from when the last one was served: a sampling
/// clock must not drift.
static SCHEDULE: Mutex<Cell<(u32, u64)>> = Mutex::new(Cell::new((0, 0)));

/// An interrupt after every so many ticks.
pub(super) fn start_timer(ticks: u32) {
    critical_section::with(|held| SCHEDULE.borrow(held).set((ticks, now())));
    rearm();
    // SAFETY: the handler is there; the main loop holds no critical section of its own here.
    unsafe {
        mie::set_mtimer();
        mstatus::set_mie();
    }
}

fn now() -> u64 {
    let time = &raw const _mtime;
    loop {
        // SAFETY: the memory file says that two words are there.
        let (high, low, again) =
            unsafe { (time.add(1).read_volatile(), time.read_volatile(), time.add(1).read_volatile()) };
        if high == again {
            return u64::from(high) << 32 | u64::from(low);
        }
    }
}

/// Ticks of the timer, which runs from the start of the board.
#[cfg(feature = "field")]
pub fn ticks() -> u64 {
    now()
}

#[cfg(feature = "field")]
unsafe extern "C" {
    /// The controller of the interrupts of peripherals (PLIC), from the memory file.
    static mut _plic: u32;
}

/// Registers of the controller, in words: enabled interrupts, threshold, and claim, of the first hart's machine mode.
#[cfg(feature = "field")]
const ENABLED: usize = 0x2000 / 4;
#[cfg(feature = "field")]
const THRESHOLD: usize = 0x20_0000 / 4;
#[cfg(feature = "field")]
const CLAIM: usize = THRESHOLD + 1;

/// Of the serial line.
#[cfg(feature = "field")]
pub(super) fn enable_interrupt(number: usize) {
    let controller = &raw mut _plic;
    // SAFETY: the memory file says that the controller is there; its handler takes no lock that is held here.
    unsafe {
        controller.add(number).write_volatile(1);
        controller.add(ENABLED + number / 32).write_volatile(1 << (number % 32));
        controller.add(THRESHOLD).write_volatile(0);
        mie::set_mext();
        mstatus::set_mie();
    }
}

#[cfg(feature = "field")]
#[core_interrupt(riscv::interrupt::Interrupt::MachineExternal)]
fn machine_external() {
    let claim = (&raw mut _plic).wrapping_add(CLAIM);
    // SAFETY: as above: a read claims the interrupt, and a write completes it.
    let number = unsafe { claim.read_volatile() };
    super::serial::interrupt();
    // SAFETY: as above.
    unsafe { claim.write_volatile(number) };
}

fn rearm() {
    let due = critical_section::with(|held| {
        let schedule = SCHEDULE.borrow(held);
        let (ticks, due) = schedule.get();
        schedule.set((ticks, due + u64::from(ticks)));
        due + u64::from(ticks)
    });
    let compare = &raw mut _mtimecmp;
    // SAFETY: the memory file says that two words are there. The high word is raised first, so that no half-written time
    // can be in the past.
    unsafe {
        compare.add(1).write_volatile(u32::MAX);
        compare.write_volatile(due as u32);
        compare.add(1).write_volatile((due >> 32) as u32);
    }
}

#[core_interrupt(riscv::interrupt::Interrupt::MachineTimer)]
fn machine_timer() {
    rearm();
    super::tick();
}

/// Until an interrupt comes. Where the main loop looks for work, [`sleep_unless`](super::sleep_unless).
pub fn sleep() {
    riscv::asm::wfi();
}

/// Counts instructions by the counter that RISC-V has for them.
pub struct Counter(());

impl Counter {
    #[expect(clippy::new_without_default)]
    pub fn new() -> Self {
        Self(())
    }

    /// Instructions of `work`.
    pub fn instructions(&mut self, work: impl FnOnce()) -> u64 {
        let start = minstret::read64();
        work();
        minstret::read64() - start
    }
}
