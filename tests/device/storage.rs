//! The logger of `examples/firmware/src/field` that stores its calibration in flash, with the power cut at every single operation: after
//! the next start each channel has either the old or the new record, whole. And what a start refuses.

use core::convert::Infallible;

use embedded_hal::digital::{self, OutputPin};
use embedded_storage_async::nor_flash::{
    ErrorType, MultiwriteNorFlash, NorFlash, NorFlashError, NorFlashErrorKind, ReadNorFlash,
};
use firmware::field::channels::TABLE;
use firmware::field::line::{LONGEST_REPLY, line};
use firmware::field::store::{Store, StoreError};
use firmware::field::{Board, CHANNELS, Connection, Kernel, Kernels, Logger, kernels};
use gaugewright::device::Error;
use gaugewright::device::acquisition::Source;
use gaugewright::device::record::*;
use gaugewright::fixed::Temperature;
use gaugewright::temperature::{Reading, ThermometerFlags};

use super::sources::ready;

const PAGE: usize = 1024;
const PAGES: usize = 4;

/// Flash that stops after so many operations, the last of which is left half done.
#[derive(Clone)]
struct Flash {
    bytes: Vec<u8>,
    operations: usize,
    erased: usize,
    /// How many are left, and whether the next one after them is begun.
    left: usize,
    begins: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Cut {
    Power,
}

impl NorFlashError for Cut {
    fn kind(&self) -> NorFlashErrorKind {
        NorFlashErrorKind::Other
    }
}

impl Flash {
    fn erased() -> Self {
        Self { bytes: vec![0xff; PAGE * PAGES], operations: 0, erased: 0, left: usize::MAX, begins: false }
    }

    /// With power for so many operations more, and for half of one.
    fn cut_after(&self, left: usize, begins: bool) -> Self {
        Self { operations: 0, erased: 0, left, begins, ..self.clone() }
    }

    /// How much of an operation on so many bytes is done.
    fn done(&mut self, length: usize) -> (usize, Result<(), Cut>) {
        self.operations += 1;
        if self.left > 0 {
            self.left -= 1;
            return (length, Ok(()));
        }
        let begun = if std::mem::take(&mut self.begins) { length / 2 } else { 0 };
        (begun, Err(Cut::Power))
    }
}

impl ErrorType for Flash {
    type Error = Cut;
}

impl ReadNorFlash for Flash {
    const READ_SIZE: usize = 1;

    async fn read(&mut self, offset: u32, bytes: &mut [u8]) -> Result<(), Cut> {
        let from = offset as usize;
        bytes.copy_from_slice(&self.bytes[from..from + bytes.len()]);
        Ok(())
    }

    fn capacity(&self) -> usize {
        self.bytes.len()
    }
}

impl NorFlash for Flash {
    const WRITE_SIZE: usize = 4;
    const ERASE_SIZE: usize = PAGE;

    async fn erase(&mut self, from: u32, to: u32) -> Result<(), Cut> {
        let (from, to) = (from as usize, to as usize);
        let (done, result) = self.done(to - from);
        self.erased += 1;
        self.bytes[from..from + done].fill(0xff);
        result
    }

    async fn write(&mut self, offset: u32, bytes: &[u8]) -> Result<(), Cut> {
        let from = offset as usize;
        let (done, result) = self.done(bytes.len());
        for (old, new) in self.bytes[from..].iter_mut().zip(&bytes[..done]) {
            // Flash: a write clears bits and sets none.
            *old &= new;
        }
        result
    }
}

impl MultiwriteNorFlash for Flash {}

/// At rest.
struct Codes(i32);

impl Source for Codes {
    type Value = i32;
    type Bus = ();

    fn read(&mut self) -> Result<i32, Error<()>> {
        Ok(self.0)
    }
}

struct Sensor;

impl Source for Sensor {
    type Value = Reading;
    type Bus = ();

    fn read(&mut self) -> Result<Reading, Error<()>> {
        Ok(Reading { temperature: Temperature::from_bits(20 << 20), flags: ThermometerFlags::CLEAR })
    }
}

struct Pin;

impl digital::ErrorType for Pin {
    type Error = Infallible;
}

impl OutputPin for Pin {
    fn set_low(&mut self) -> Result<(), Infallible> {
        Ok(())
    }

    fn set_high(&mut self) -> Result<(), Infallible> {
        Ok(())
    }
}

type FieldLogger<'a> = Logger<'a, Codes, Sensor, Pin, (), &'a mut Flash, PAGES>;

/// The code of a channel after so many updates.
fn code(channel: usize, update: i32) -> i32 {
    TABLE[channel].balance.codes.sum as i32 + 100 * update
}

/// A start, and the words for what each channel has found.
fn start<'a>(kernels: &'a Kernels, flash: &'a mut Flash, update: i32) -> (FieldLogger<'a>, Vec<String>) {
    let connect =
        |channel| Connection { source: Codes(code(channel, update)), thermometer: Sensor, shunt: Pin };
    let board = Board { clock: || 0, stack: || 0, lost: || 0 };
    let mut logger = Logger::new(kernels, connect, Store::new(flash), board);
    let mut found = Vec::new();
    ready(logger.load(|line| found.push(words(line))));
    (logger, found)
}

/// Without the checksum.
fn words(line: &str) -> String {
    line.rsplit_once(" #").unwrap().0.to_owned()
}

fn ask(logger: &mut FieldLogger<'_>, request: &str) -> String {
    let request = line(7, format_args!("{request}"));
    let reply = ready(logger.answer(Ok(request.trim_end().as_bytes())));
    // What takes samples is answered by the scan that has the last of them.
    let reply = reply.or_else(|| logger.scan(0));
    words(&reply.unwrap()).strip_prefix("7 ").unwrap().to_owned()
}

/// Zero of every channel, stored; the reply to storing.
fn update(flash: &mut Flash, update: i32) -> String {
    let kernels = kernels();
    let (mut logger, _) = start(&kernels, flash, update);
    assert!(ask(&mut logger, "zero all 1").starts_with("ok zero all "));
    ask(&mut logger, "save 2026-03-14")
}

/// What a start finds after so many updates.
fn expected(channel: usize, update: i32) -> String {
    let code = code(channel, update);
    format!("0 boot {channel} stored 2026-03-14 zero={code}/1 at=20000 span=1.000000000")
}

/// All eight channels are updated, long enough for each page to be erased; the power is cut at every operation of every update,
/// once before it and once in the middle of it, and the update is tried again after the start.
#[test]
fn power_cut_at_every_operation_of_an_update() {
    let mut flash = Flash::erased();
    assert_eq!(update(&mut flash, 0), "ok save 8");
    let (mut cuts, mut old, mut new, mut erased) = (0, 0, 0, 0);
    for number in 1..8 {
        let mut whole = flash.cut_after(usize::MAX, false);
        assert_eq!(update(&mut whole, number), "ok save 8");
        for operation in 0..whole.operations {
            for begins in [false, true] {
                let mut cut = flash.cut_after(operation, begins);
                let reply = update(&mut cut, number);
                assert!(reply.starts_with("error channel ") && reply.contains("the flash failed"), "{reply}");
                cuts += 1;
                // After the next start.
                let mut started = cut.cut_after(usize::MAX, false);
                let kernels = kernels();
                let (_, found) = start(&kernels, &mut started, number);
                let is_new = |channel: &usize| found[*channel] == expected(*channel, number);
                let reached = (0..CHANNELS).take_while(is_new).count();
                for (channel, found) in found.iter().enumerate().skip(reached) {
                    assert_eq!(*found, expected(channel, number - 1), "{number} {operation} {begins}");
                }
                (new, old) = (new + reached, old + CHANNELS - reached);
                assert_eq!(update(&mut started, number), "ok save 8");
            }
        }
        erased += whole.erased;
        flash = whole;
    }
    println!("{cuts} cuts: {old} times the old record, {new} times the new one");
    assert!(cuts > 300 && old > 1_000 && new > 1_000, "{cuts} {old} {new}");
    assert!(erased > PAGES, "{erased} pages were erased");
}

/// A record of a channel that is described otherwise, one that is none, and one whose bytes have changed are refused by name, and the
/// factory's kernel stays.
#[test]
fn a_start_refuses_what_is_not_its_record() {
    let mut flash = Flash::erased();
    let record = |description| {
        let identity = Identity::new(Name::new("boom root"), Date::new(2026, 3, 14), description);
        Record::<Kernel>::new(TABLE[6].factory, identity)
    };
    let (found, expected) = (TABLE[6].description ^ 1, TABLE[6].description);
    let mut store = Store::<_, PAGES>::new(&mut flash);
    let other = StoreError::Description { found, expected };
    ready(store.save(6, &record(found))).unwrap();
    assert_eq!(ready(store.load(6, expected)), Err(other));
    let kernels = kernels();
    let (_, words) = start(&kernels, &mut flash, 0);
    let refused = "0 boot 6 factory calibration, as the stored one is refused: ";
    assert_eq!(words[6], format!("{refused}{other} zero=none span=1.000000000"));
    assert_eq!(kernels[6].get(), TABLE[6].factory);
    assert_eq!(words[5], "0 boot 5 factory calibration, none is stored zero=none span=1.000000000");

    // Another kind of kernel under the same number.
    let mut store = Store::<_, PAGES>::new(&mut flash);
    assert_eq!(ready(store.save(6, &record(expected))), Ok(()));
    assert_eq!(ready(store.load(6, expected)), Ok(Some(record(expected))));
    // Memory that was never a flash.
    flash.bytes.fill(0);
    let (_, words) = start(&kernels, &mut flash, 0);
    assert!(words[0].starts_with("0 boot 0 factory calibration, "), "{}", words[0]);
}

/// A reply that does not fit is not sent in part.
#[test]
fn a_reply_that_is_too_long_says_so() {
    let fits = line(7, format_args!("{}", "x".repeat(LONGEST_REPLY - 9)));
    assert_eq!(fits.len(), LONGEST_REPLY);
    let too_long = line(7, format_args!("{}", "x".repeat(LONGEST_REPLY - 8)));
    assert_eq!(words(&too_long), "7 error the reply has more than 400 bytes");
}

/// The check itself: a store that erases before it writes loses the record.
#[test]
fn a_store_that_erases_first_is_found() {
    let record = Record::<Kernel>::new(
        TABLE[0].factory,
        Identity::new(TABLE[0].name, Date::new(2026, 3, 14), TABLE[0].description),
    );
    let mut bytes = [0; Record::<Kernel>::BYTES];
    let bytes = record.write(&mut bytes).unwrap();
    let mut flash = Flash::erased();
    ready(flash.write(0, bytes)).unwrap();
    let mut cut = flash.cut_after(1, false);
    ready(cut.erase(0, PAGE as u32)).unwrap();
    assert_eq!(ready(cut.write(0, bytes)), Err(Cut::Power));
    let found = Record::<Kernel>::read(&cut.bytes[..bytes.len()]);
    assert_eq!(found, Err(RecordError::NoRecord { found: [0xff; 4] }));
}
