//! A logger that is set up on site: it loads its calibration, samples eight channels in turn, and takes commands over the serial line. See
//! `src/field`, which holds all of it but the board.
#![no_std]
#![no_main]

use core::num::NonZeroU32;
use core::sync::atomic::{AtomicU32, Ordering::Relaxed};

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use embassy_futures::block_on;
use firmware::board::{self, serial, stack};
use firmware::field;
use firmware::field::line::{LineError, Received};
use firmware::wire::{self, SiteLogger};
use portable_atomic as _;
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;

const RATE: NonZeroU32 = NonZeroU32::new(field::RATE).unwrap();

/// Scans that were due. Only the interrupt writes it.
static DUE: AtomicU32 = AtomicU32::new(0);

#[entry]
fn main() -> ! {
    stack::start();
    let about = field::Board { clock: board::nanoseconds, stack: stack::taken_since, lost: serial::lost };
    let Ok(logger) = wire::logger(about) else {
        defmt::error!("the host has no pipes wire.out and wire.in");
        board::exit(false)
    };
    serial::start(|| {});
    if let Err(error) = board::every(RATE, || DUE.store(DUE.load(Relaxed).wrapping_add(1), Relaxed)) {
        defmt::error!("{}", error);
        board::exit(false);
    }
    load(logger);
    let (mut received, mut done) = (Received::new(), DUE.load(Relaxed));
    loop {
        while let Some(byte) = serial::receive() {
            received.add(byte, |line| answer(logger, line));
        }
        let due = DUE.load(Relaxed).wrapping_sub(done);
        if due == 0 {
            board::sleep_unless(|| serial::is_waiting() || DUE.load(Relaxed) != done);
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
