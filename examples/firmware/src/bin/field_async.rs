//! The logger of `src/field` on an executor: one task takes the bytes of the serial line, the other samples and answers.
#![no_std]
#![no_main]

use core::sync::atomic::{AtomicBool, Ordering::Relaxed};

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use embassy_executor::raw::Executor;
use embassy_futures::select::{Either, select};
use embassy_sync::blocking_mutex::raw::CriticalSectionRawMutex;
use embassy_sync::channel::Channel;
use embassy_sync::signal::Signal;
use firmware::board::{self, serial};
use firmware::field::line::{LONGEST_REQUEST, LineError, Received};
use firmware::wire::{self, SiteLogger};
use portable_atomic as _;
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;
use static_cell::StaticCell;

static TICK: Signal<CriticalSectionRawMutex, ()> = Signal::new();
static BYTES: Signal<CriticalSectionRawMutex, ()> = Signal::new();

/// A line that was received.
type Line = Result<heapless::Vec<u8, LONGEST_REQUEST>, LineError>;
static LINES: Channel<CriticalSectionRawMutex, Line, 2> = Channel::new();

#[embassy_executor::task]
async fn receive() {
    let mut received = Received::new();
    loop {
        BYTES.wait().await;
        while let Some(byte) = serial::receive() {
            // It fits: lines are no longer than that.
            let line = received.add(byte, |line| line.map(|line| line.iter().copied().collect()));
            if let Some(line) = line {
                LINES.send(line).await;
            }
        }
    }
}

#[embassy_executor::task]
async fn sample(logger: &'static mut SiteLogger) {
    logger.load(|line| serial::send(line)).await;
    let mut done = wire::scans_due();
    loop {
        let reply = match select(LINES.receive(), TICK.wait()).await {
            Either::First(line) => {
                logger.answer(line.as_ref().map(|line| &line[..]).map_err(|error| *error)).await
            }
            Either::Second(()) => {
                let due = wire::scans_due().wrapping_sub(done);
                if due == 0 {
                    // The ticks while records were loaded.
                    continue;
                }
                done = done.wrapping_add(due);
                logger.miss(due - 1);
                logger.scan_async(done).await
            }
        };
        if let Some(reply) = reply {
            serial::send(&reply);
        }
    }
}

/// Set where a task has something to do: an interrupt may come between the last look at the tasks and sleep.
static PENDING: AtomicBool = AtomicBool::new(false);

/// Called by the executor when a task is woken.
#[unsafe(export_name = "__pender")]
fn wake(_executor: *mut ()) {
    PENDING.store(true, Relaxed);
}

static EXECUTOR: StaticCell<Executor> = StaticCell::new();

#[entry]
fn main() -> ! {
    let tick = || {
        wire::scan_is_due();
        TICK.signal(());
    };
    let logger = wire::start(|| BYTES.signal(()), tick);
    let executor = EXECUTOR.init_with(|| Executor::new(core::ptr::null_mut()));
    let spawner = executor.spawner();
    let (Ok(receiving), Ok(sampling)) = (receive(), sample(logger)) else { board::exit(false) };
    spawner.spawn(receiving);
    spawner.spawn(sampling);
    loop {
        // SAFETY: called from here alone, and not by a task.
        unsafe { executor.poll() };
        // (The executors of the package sleep by an instruction that emulators do not sleep by.)
        board::sleep_unless(|| {
            let pending = PENDING.load(Relaxed);
            PENDING.store(false, Relaxed);
            pending
        });
    }
}
