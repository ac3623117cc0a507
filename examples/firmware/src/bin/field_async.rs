//! The logger of `src/field` on an executor: one task takes the bytes of the serial line, the other samples and answers.
#![no_std]
#![no_main]

use core::num::NonZeroU32;
use core::sync::atomic::{AtomicBool, AtomicU32, Ordering::Relaxed};

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use embassy_executor::raw::Executor;
use embassy_futures::select::{Either, select};
use embassy_sync::blocking_mutex::raw::CriticalSectionRawMutex;
use embassy_sync::channel::Channel;
use embassy_sync::signal::Signal;
use firmware::board::{self, serial, stack};
use firmware::field;
use firmware::field::line::{LONGEST_REQUEST, LineError, Received};
use firmware::wire::{self, SiteLogger};
use portable_atomic as _;
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;
use static_cell::StaticCell;

const RATE: NonZeroU32 = NonZeroU32::new(field::RATE).unwrap();

/// Scans that were due. Only the interrupt writes it.
static DUE: AtomicU32 = AtomicU32::new(0);
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
    serial::start(|| BYTES.signal(()));
    let tick = || {
        DUE.store(DUE.load(Relaxed).wrapping_add(1), Relaxed);
        TICK.signal(());
    };
    if let Err(error) = board::every(RATE, tick) {
        defmt::error!("{}", error);
        board::exit(false);
    }
    logger.load(|line| serial::send(line)).await;
    let mut done = DUE.load(Relaxed);
    loop {
        let reply = match select(LINES.receive(), TICK.wait()).await {
            Either::First(line) => {
                logger.answer(line.as_ref().map(|line| &line[..]).map_err(|error| *error)).await
            }
            Either::Second(()) => {
                let due = DUE.load(Relaxed).wrapping_sub(done);
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
    stack::start();
    let about = field::Board { clock: board::nanoseconds, stack: stack::taken_since, lost: serial::lost };
    let Ok(logger) = wire::logger(about) else {
        defmt::error!("the host has no pipes wire.out and wire.in");
        board::exit(false)
    };
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
