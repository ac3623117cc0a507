//! A logger that is set up on site: it loads its calibration, samples eight channels in turn, and takes commands over the serial line. See
//! `src/field`, which holds all of it but the board.
#![no_std]
#![no_main]

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use embassy_futures::block_on;
use firmware::board::{self, serial};
use firmware::field::line::{LineError, Received};
use firmware::wire::{self, SiteLogger};
use portable_atomic as _;
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;

#[entry]
fn main() -> ! {
    let logger = wire::start(|| {}, wire::scan_is_due);
    load(logger);
    let (mut received, mut done) = (Received::new(), wire::scans_due());
    loop {
        while let Some(byte) = serial::receive() {
            received.add(byte, |line| answer(logger, line));
        }
        let due = wire::scans_due().wrapping_sub(done);
        if due == 0 {
            board::sleep_unless(|| serial::is_waiting() || wire::scans_due() != done);
            continue;
        }
        done = done.wrapping_add(due);
        logger.miss(due - 1);
        if let Some(reply) = logger.scan(done) {
            serial::send(&reply);
        }
    }
}

// Not inlined: what they have on the stack would be there all the time.
#[inline(never)]
fn load(logger: &mut SiteLogger) {
    block_on(logger.load(|line| serial::send(line)));
}

#[inline(never)]
fn answer(logger: &mut SiteLogger, line: Result<&[u8], LineError>) {
    #[cfg(feature = "power-cut")]
    firmware::power_cut::arm(line);
    if let Some(reply) = block_on(logger.answer(line)) {
        serial::send(&reply);
    }
}
