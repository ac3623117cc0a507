//! Buses whose other end is a program of the host: in place of a board's converters, thermometers and relays. Two named pipes, which the
//! emulator opens for the firmware, carry a frame for each operation and its reply.
//!
//! | frame | |
//! |---|---|
//! | operation | what it is for (`S` SPI, `I` I2C, `P` pin, `O` after a start), which one, bytes that are sent, bytes that come back, and those that are sent |
//! | reply | 0, or 1 for a device that does not answer, and the bytes that come back |

use core::cell::RefCell;
use core::ffi::CStr;
use core::num::NonZeroU32;
use core::sync::atomic::{AtomicU32, Ordering::Relaxed};

use embedded_hal::delay::DelayNs;
use embedded_hal::digital::{self, OutputPin};
use embedded_hal::i2c::{self, I2c, NoAcknowledgeSource, SevenBitAddress};
use embedded_hal::spi::{self, SpiDevice};
use gaugewright::device::acquisition::{I2cSource, Polling, SpiSource, TemperatureRegister, Thermometer};
use semihosting::fs::File;
use semihosting::io::{self, Read, Write};
use static_cell::StaticCell;

use crate::board::flash::{Flash, SECTORS};
use crate::board::{self, Delay, serial, stack};
use crate::field::store::Store;
use crate::field::{self, Connection, Kernels, Logger, channels};

/// Names of the two pipes, as seen from the firmware.
const OUT: &CStr = c"wire.out";
const IN: &CStr = c"wire.in";
/// The end of the reply to `O`, the first frame after a start.
const OPEN: [u8; 4] = *b"open";
/// Bytes of one frame in each direction.
const LONGEST: usize = 36;

/// Both pipes.
pub struct Wire {
    out: File,
    back: File,
}

/// What a transfer ended with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WireError {
    /// No device has answered.
    Refused,
    /// The host is gone, or a frame would be too long.
    Lost,
}

impl Wire {
    /// # Errors
    /// If the host has made no pipes, or does not answer.
    fn open() -> io::Result<RefCell<Self>> {
        let mut out = File::create(OUT)?;
        let mut back = File::open(IN)?;
        out.write_all(&[b'O', 0, 0, OPEN.len() as u8])?;
        // A reset may have come between a frame and its reply, which is still in the pipe then.
        let mut last = [0; OPEN.len()];
        while last != OPEN {
            last.rotate_left(1);
            let [.., newest] = &mut last;
            back.read_exact(core::slice::from_mut(newest))?;
        }
        Ok(RefCell::new(Self { out, back }))
    }

    fn transfer(&mut self, what: u8, which: u8, sent: &[u8], back: &mut [u8]) -> Result<(), WireError> {
        let mut frame = [0; LONGEST];
        let (header, rest) = frame.split_at_mut(4);
        header.copy_from_slice(&[what, which, sent.len() as u8, back.len() as u8]);
        rest.get_mut(..sent.len()).ok_or(WireError::Lost)?.copy_from_slice(sent);
        self.out.write_all(&frame[..4 + sent.len()]).map_err(|_| WireError::Lost)?;
        let reply = frame.get_mut(..=back.len()).ok_or(WireError::Lost)?;
        self.back.read_exact(reply).map_err(|_| WireError::Lost)?;
        let [status, bytes @ ..] = reply else { return Err(WireError::Lost) };
        if *status != 0 {
            return Err(WireError::Refused);
        }
        back.copy_from_slice(bytes);
        Ok(())
    }
}

impl spi::Error for WireError {
    fn kind(&self) -> spi::ErrorKind {
        spi::ErrorKind::Other
    }
}

impl i2c::Error for WireError {
    fn kind(&self) -> i2c::ErrorKind {
        match self {
            Self::Refused => i2c::ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address),
            Self::Lost => i2c::ErrorKind::Bus,
        }
    }
}

impl digital::Error for WireError {
    fn kind(&self) -> digital::ErrorKind {
        digital::ErrorKind::Other
    }
}

/// A device on SPI, selected by its number.
#[derive(Clone, Copy)]
pub struct Selected<'a> {
    pub wire: &'a RefCell<Wire>,
    pub number: u8,
}

impl spi::ErrorType for Selected<'_> {
    type Error = WireError;
}

impl SpiDevice for Selected<'_> {
    fn transaction(&mut self, operations: &mut [spi::Operation<'_, u8>]) -> Result<(), WireError> {
        let mut wire = self.wire.borrow_mut();
        for operation in operations {
            match operation {
                spi::Operation::Read(bytes) => wire.transfer(b'S', self.number, &[], bytes)?,
                spi::Operation::Write(bytes) => wire.transfer(b'S', self.number, bytes, &mut [])?,
                spi::Operation::Transfer(back, sent) => wire.transfer(b'S', self.number, sent, back)?,
                spi::Operation::TransferInPlace(bytes) => {
                    let mut sent = [0; LONGEST];
                    let sent = sent.get_mut(..bytes.len()).ok_or(WireError::Lost)?;
                    sent.copy_from_slice(bytes);
                    wire.transfer(b'S', self.number, sent, bytes)?;
                }
                spi::Operation::DelayNs(ns) => Delay.delay_ns(*ns),
            }
        }
        Ok(())
    }
}

/// The I2C bus.
#[derive(Clone, Copy)]
pub struct Shared<'a> {
    pub wire: &'a RefCell<Wire>,
}

impl i2c::ErrorType for Shared<'_> {
    type Error = WireError;
}

impl I2c for Shared<'_> {
    fn transaction(&mut self, address: u8, operations: &mut [i2c::Operation<'_>]) -> Result<(), WireError> {
        let mut wire = self.wire.borrow_mut();
        for operation in operations {
            match operation {
                i2c::Operation::Read(bytes) => wire.transfer(b'I', address, &[], bytes)?,
                i2c::Operation::Write(bytes) => wire.transfer(b'I', address, bytes, &mut [])?,
            }
        }
        Ok(())
    }
}

/// A pin that switches a relay.
#[derive(Clone, Copy)]
pub struct Relay<'a> {
    pub wire: &'a RefCell<Wire>,
    pub number: u8,
}

impl digital::ErrorType for Relay<'_> {
    type Error = WireError;
}

impl OutputPin for Relay<'_> {
    fn set_low(&mut self) -> Result<(), WireError> {
        self.wire.borrow_mut().transfer(b'P', self.number, &[0], &mut [])
    }

    fn set_high(&mut self) -> Result<(), WireError> {
        self.wire.borrow_mut().transfer(b'P', self.number, &[1], &mut [])
    }
}

/// The wire answers at once: there is nothing to wait for.
impl embedded_hal_async::spi::SpiDevice for Selected<'_> {
    async fn transaction(&mut self, operations: &mut [spi::Operation<'_, u8>]) -> Result<(), WireError> {
        SpiDevice::transaction(self, operations)
    }
}

impl embedded_hal_async::i2c::I2c<SevenBitAddress> for Shared<'_> {
    async fn transaction(
        &mut self,
        address: u8,
        operations: &mut [i2c::Operation<'_>],
    ) -> Result<(), WireError> {
        I2c::transaction(self, address, operations)
    }
}

/// Of a converter on this wire.
pub type Codes<'a> = SpiSource<'static, Selected<'a>, (), Delay>;
/// A thermometer on it.
pub type Thermometers<'a> = Thermometer<'static, TemperatureRegister, I2cSource<'static, Shared<'a>, Delay>>;

/// Looks at a converter that has no new code yet: 10 in a millisecond.
const POLLING: Polling = Polling { polls: 10, interval_us: 100 };
/// Address of the first thermometer; the others follow.
const FIRST_THERMOMETER: u8 = 0x48;

/// The converter, the thermometer and the relay of a channel.
pub fn connection(
    wire: &RefCell<Wire>,
    channel: usize,
) -> Connection<Codes<'_>, Thermometers<'_>, Relay<'_>> {
    let number = channel as u8;
    let codes = SpiSource::new(Selected { wire, number }, (), Delay, &channels::CODE).polling(POLLING);
    let register = I2cSource::new(Shared { wire }, FIRST_THERMOMETER + number, Delay, &channels::TEMPERATURE);
    Connection {
        source: codes,
        thermometer: Thermometer { kernel: &channels::REGISTER, source: register },
        shunt: Relay { wire, number },
    }
}

/// The logger on this wire.
pub type SiteLogger =
    Logger<'static, Codes<'static>, Thermometers<'static>, Relay<'static>, WireError, Flash, SECTORS>;

static WIRE: StaticCell<RefCell<Wire>> = StaticCell::new();
static KERNELS: StaticCell<Kernels> = StaticCell::new();
static LOGGER: StaticCell<SiteLogger> = StaticCell::new();

const RATE: NonZeroU32 = NonZeroU32::new(field::RATE).unwrap();

/// Scans that were due. Only the interrupt writes it.
static DUE: AtomicU32 = AtomicU32::new(0);

/// Scans that were due since the start; the number wraps.
pub fn scans_due() -> u32 {
    DUE.load(Relaxed)
}

/// One more scan is due: for the timer's interrupt.
pub fn scan_is_due() {
    DUE.store(scans_due().wrapping_add(1), Relaxed);
}

/// Makes the logger and starts the serial line and the timer; once. `on_bytes` is called in the interrupt after bytes have come, and
/// `tick`, which calls [`scan_is_due`], in that of the timer. Where something is missing, the program ends and reports it.
pub fn start(on_bytes: fn(), tick: fn()) -> &'static mut SiteLogger {
    stack::start();
    let about = field::Board { clock: board::nanoseconds, stack: stack::taken_since, lost: serial::lost };
    let Ok(logger) = logger(about) else {
        defmt::error!("the host has no pipes wire.out and wire.in");
        board::exit(false)
    };
    serial::start(on_bytes);
    if let Err(error) = board::every(RATE, tick) {
        defmt::error!("{}", error);
        board::exit(false);
    }
    logger
}

/// Makes it.
///
/// # Errors
/// If the host has made no pipes, or does not answer.
#[inline(never)]
fn logger(board: field::Board) -> io::Result<&'static mut SiteLogger> {
    let wire: &RefCell<Wire> = WIRE.init(Wire::open()?);
    let kernels = KERNELS.init_with(field::kernels);
    let store = Store::new(Flash::take());
    Ok(LOGGER.init_with(|| Logger::new(kernels, |channel| connection(wire, channel), store, board)))
}
