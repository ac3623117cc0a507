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

/// Registers as in nRF51, by their distance in bytes. A task is started by a 1; an event is not 0 once it has happened.
mod nrf51 {
    pub const START_RECEIVER: usize = 0x000;
    pub const START_TRANSMITTER: usize = 0x008;
    /// Event: a byte has come.
    pub const RECEIVED: usize = 0x108;
    /// Event: a byte was sent.
    pub const SENT: usize = 0x11c;
    pub const ENABLE_INTERRUPTS: usize = 0x304;
    pub const RECEIVED_INTERRUPT: u32 = 1 << 2;
    pub const ENABLE: usize = 0x500;
    pub const ENABLED: u32 = 4;
    pub const RECEIVED_BYTE: usize = 0x518;
    pub const BYTE_TO_SEND: usize = 0x51c;
}

/// Registers as in Arm's CMSDK.
mod cmsdk {
    pub const DATA: usize = 0x00;
    pub const STATE: usize = 0x04;
    pub const TRANSMITTER_FULL: u32 = 1 << 0;
    pub const RECEIVER_FULL: u32 = 1 << 1;
    pub const CONTROL: usize = 0x08;
    pub const TRANSMITTER: u32 = 1 << 0;
    pub const RECEIVER: u32 = 1 << 1;
    pub const RECEIVER_INTERRUPT: u32 = 1 << 3;
    pub const CLEAR_INTERRUPT: usize = 0x0c;
    pub const RECEIVED: u32 = 1 << 1;
    pub const BAUD_DIVISOR: usize = 0x10;
    /// The smallest one that QEMU takes.
    pub const FASTEST: u32 = 16;
}

/// Registers as in the 16550.
mod uart_16550 {
    pub const DATA: usize = 0;
    pub const ENABLE_INTERRUPTS: usize = 1;
    pub const RECEIVED_INTERRUPT: u8 = 1 << 0;
    pub const FIFO_CONTROL: usize = 2;
    pub const ENABLE_FIFO: u8 = 1 << 0;
    pub const LINE_STATUS: usize = 5;
    pub const RECEIVED: u8 = 1 << 0;
    pub const MAY_SEND: u8 = 1 << 5;
}

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
            write(nrf51::ENABLE, nrf51::ENABLED);
            write(nrf51::START_RECEIVER, 1);
            write(nrf51::START_TRANSMITTER, 1);
            write(nrf51::ENABLE_INTERRUPTS, nrf51::RECEIVED_INTERRUPT);
        }
        CMSDK => {
            write(cmsdk::BAUD_DIVISOR, cmsdk::FASTEST);
            write(cmsdk::CONTROL, cmsdk::TRANSMITTER | cmsdk::RECEIVER | cmsdk::RECEIVER_INTERRUPT);
        }
        _ => {
            write_byte(uart_16550::FIFO_CONTROL, uart_16550::ENABLE_FIFO);
            write_byte(uart_16550::ENABLE_INTERRUPTS, uart_16550::RECEIVED_INTERRUPT);
        }
    }
    super::processor::enable_interrupt((&raw const _uart_interrupt) as usize);
}

/// In the interrupt.
pub(super) fn interrupt() {
    if kind() == CMSDK {
        write(cmsdk::CLEAR_INTERRUPT, cmsdk::RECEIVED);
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
        NRF51 => (read(nrf51::RECEIVED) != 0).then(|| {
            write(nrf51::RECEIVED, 0);
            read(nrf51::RECEIVED_BYTE) as u8
        }),
        CMSDK => (read(cmsdk::STATE) & cmsdk::RECEIVER_FULL != 0).then(|| read(cmsdk::DATA) as u8),
        _ => (read_byte(uart_16550::LINE_STATUS) & uart_16550::RECEIVED != 0)
            .then(|| read_byte(uart_16550::DATA)),
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
                write(nrf51::SENT, 0);
                write(nrf51::BYTE_TO_SEND, byte.into());
                while read(nrf51::SENT) == 0 {}
            }
            CMSDK => {
                while read(cmsdk::STATE) & cmsdk::TRANSMITTER_FULL != 0 {}
                write(cmsdk::DATA, byte.into());
            }
            _ => {
                while read_byte(uart_16550::LINE_STATUS) & uart_16550::MAY_SEND == 0 {}
                write_byte(uart_16550::DATA, byte);
            }
        }
    }
}
