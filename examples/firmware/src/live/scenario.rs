//! What the demonstration measures, and which faults it meets when. Times are numbers of samples, so that every
//! count at the end follows from these constants, whatever the processor.

use core::ops::Range;

use embedded_hal::i2c::{ErrorKind, NoAcknowledgeSource};

use super::faults::{BusFault, DeviceFault};
use super::recorder::Pace;

/// Samples a second.
pub const RATE: u32 = 100;
/// The run: samples that are due before it ends.
pub const SAMPLES: u32 = 1_500;
/// Every so many samples one is reported.
pub const REPORT_EVERY: u32 = 25;
/// Temperature ten times a second, and no older than half a second.
pub const PACE: Pace = Pace { temperature_every: 10, stale_after: 50 };
/// Places in the queue; one of them stays free.
pub const QUEUE: usize = 32;
/// The thermometer's address.
pub const THERMOMETER: u8 = 0x48;

/// Refused by the address: the thermometer is away for a short time.
pub const ADDRESS_REFUSED: Range<u32> = 300..340;
/// Refused in the middle of a transfer.
pub const DATA_REFUSED: Range<u32> = 400..420;
/// A line is held, for so long that the temperature becomes stale.
pub const BUS_HELD: Range<u32> = 500..600;
/// The converter gives its highest code: the bridge is open.
pub const AT_RAIL: Range<u32> = 700..750;
/// The converter cannot be read.
pub const UNREAD: Range<u32> = 800..805;
/// With the first of these samples the main loop is busy with something else, until all of them were due: more than
/// the queue holds.
pub const BUSY: Range<u32> = 900..1_000;

/// The faults of the thermometer's bus.
pub const BUS_FAULTS: [BusFault; 3] = [
    BusFault { during: ADDRESS_REFUSED, kind: ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address) },
    BusFault { during: DATA_REFUSED, kind: ErrorKind::NoAcknowledge(NoAcknowledgeSource::Data) },
    BusFault { during: BUS_HELD, kind: ErrorKind::Bus },
];

/// The faults of the converter.
pub const DEVICE_FAULTS: [(Range<u32>, DeviceFault); 2] =
    [(AT_RAIL, DeviceFault::Reads(&[0x7f, 0xff, 0xff])), (UNREAD, DeviceFault::Fails)];

/// The simulated converter's code: a fixed load, and a triangle on it whose period is that of two reports, so that
/// reports show the same two codes again and again while the temperature changes.
pub const fn code(sample: u32) -> i32 {
    let phase = (sample % (2 * REPORT_EVERY)) as i32;
    let height = if phase < REPORT_EVERY as i32 { phase } else { 2 * REPORT_EVERY as i32 - phase };
    -250_000 + 20_001 * height
}
