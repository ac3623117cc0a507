//! RISC-V: the machine timer, whose registers the memory file names.

use riscv::register::{mie, minstret, mstatus};
use riscv_rt::core_interrupt;

unsafe extern "C" {
    /// The timer's two registers, two words each, from the memory file.
    static _mtime: u32;
    static mut _mtimecmp: u32;
}

static PERIOD: critical_section::Mutex<::core::cell::Cell<u32>> =
    critical_section::Mutex::new(::core::cell::Cell::new(0));

/// An interrupt after every so many ticks.
pub fn start_timer(ticks: u32) {
    critical_section::with(|held| PERIOD.borrow(held).set(ticks));
    rearm();
    // SAFETY: the handler is there; the main loop holds no critical section of its own here.
    unsafe {
        mie::set_mtimer();
        mstatus::set_mie();
    }
}

fn rearm() {
    let ticks = critical_section::with(|held| PERIOD.borrow(held).get());
    let time = &raw const _mtime;
    let compare = &raw mut _mtimecmp;
    // SAFETY: the memory file says that two words each are there. The high word of the comparison is raised
    // first, so that no half-written time can be in the past.
    unsafe {
        let now = loop {
            let high = time.add(1).read_volatile();
            let low = time.read_volatile();
            if high == time.add(1).read_volatile() {
                break u64::from(high) << 32 | u64::from(low);
            }
        };
        let next = now + u64::from(ticks);
        compare.add(1).write_volatile(u32::MAX);
        compare.write_volatile(next as u32);
        compare.add(1).write_volatile((next >> 32) as u32);
    }
}

#[core_interrupt(riscv::interrupt::Interrupt::MachineTimer)]
fn machine_timer() {
    rearm();
    super::tick();
}

/// Until an interrupt has been served.
pub fn sleep() {
    riscv::asm::wfi();
}

/// Ends the program and tells the debugger or emulator how it went.
pub fn exit(success: bool) -> ! {
    semihosting::process::exit(i32::from(!success))
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
