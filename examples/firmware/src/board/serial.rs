//! The serial line: bytes come by interrupt into a queue. The memory file names the registers (`_uart`), their kind (`_uart_kind`: 1 as
//! in nRF51, 2 as in Arm's CMSDK, 3 as in the 16550) and the number of the interrupt (`_uart_interrupt`).

use core::cell::{Cell, RefCell};

use critical_section::Mutex;
use heapless::spsc::Queue;

/// Bytes that may wait (one less: the queue keeps a place free).
const WAITING: usize = 128;

static RECEIVED: Mutex<RefCell<Queue<u8, WAITING>>> = Mutex::new(RefCell::new(Queue::new()));
static LOST: Mutex<Cell<u32>> = Mutex::new(Cell::new(0));
static ON_BYTES: Mutex<Cell<fn()>> = Mutex::new(Cell::new(|| {}));

unsafe extern "C" {
    static mut _uart: u32;
    static _uart_kind: u8;
    static _uart_interrupt: u8;
}

const NRF51: usize = 1;
const CMSDK: usize = 2;

fn kind() -> usize {
    (&raw const _uart_kind) as usize
}

fn read(offset: usize) -> u32 {
    // SAFETY: the memory file says that registers of this kind are there.
    unsafe { (&raw mut _uart).byte_add(offset).read_volatile() }
}

fn write(offset: usize, word: u32) {
    // SAFETY: as above.
    unsafe { (&raw mut _uart).byte_add(offset).write_volatile(word) }
}

fn read_byte(offset: usize) -> u8 {
    // SAFETY: as above; the registers of a 16550 are bytes.
    unsafe { (&raw mut _uart).cast::<u8>().byte_add(offset).read_volatile() }
}

fn write_byte(offset: usize, byte: u8) {
    // SAFETY: as above.
    unsafe { (&raw mut _uart).cast::<u8>().byte_add(offset).write_volatile(byte) }
}

/// Starts both directions. `on_bytes` is called in the interrupt, after bytes have come.
pub fn start(on_bytes: fn()) {
    critical_section::with(|held| ON_BYTES.borrow(held).set(on_bytes));
    match kind() {
        NRF51 => {
            write(0x500, 4);
            write(0x000, 1);
            write(0x008, 1);
            write(0x304, 1 << 2);
        }
        CMSDK => {
            write(0x10, 16);
            write(0x08, 0b1011);
        }
        _ => {
            write_byte(2, 1);
            write_byte(1, 1);
        }
    }
    super::processor::enable_interrupt((&raw const _uart_interrupt) as usize);
}

/// In the interrupt.
pub(super) fn interrupt() {
    if kind() == CMSDK {
        write(0x0c, 2);
    }
    while let Some(byte) = next() {
        critical_section::with(|held| {
            if RECEIVED.borrow_ref_mut(held).enqueue(byte).is_err() {
                let lost = LOST.borrow(held);
                lost.set(lost.get().saturating_add(1));
            }
        });
    }
    let on_bytes = critical_section::with(|held| ON_BYTES.borrow(held).get());
    on_bytes();
}

/// The next byte that the registers hold.
fn next() -> Option<u8> {
    match kind() {
        NRF51 => (read(0x108) != 0).then(|| {
            write(0x108, 0);
            read(0x518) as u8
        }),
        CMSDK => (read(0x04) & 2 != 0).then(|| read(0x00) as u8),
        _ => (read_byte(5) & 1 != 0).then(|| read_byte(0)),
    }
}

/// The next byte that has come.
pub fn receive() -> Option<u8> {
    critical_section::with(|held| RECEIVED.borrow_ref_mut(held).dequeue())
}

/// Whether a byte has come.
pub fn is_waiting() -> bool {
    critical_section::with(|held| !RECEIVED.borrow_ref(held).is_empty())
}

/// Bytes that found no room.
pub fn lost() -> u32 {
    critical_section::with(|held| LOST.borrow(held).get())
}

/// Sends, and waits until the registers have taken every byte.
pub fn send(text: &str) {
    for byte in text.bytes() {
        match kind() {
            NRF51 => {
                write(0x11c, 0);
                write(0x51c, byte.into());
                while read(0x11c) == 0 {}
            }
            CMSDK => {
                while read(0x04) & 1 != 0 {}
                write(0x00, byte.into());
            }
            _ => {
                while read_byte(5) & 0x20 == 0 {}
                write_byte(0, byte);
            }
        }
    }
}
