//! Records in flash through `sequential-storage`, with the power cut after every single operation of an update: after the next start
//! either the old or the new record is there, whole.

use std::ops::Range;

use embedded_storage_async::nor_flash::{
    ErrorType, MultiwriteNorFlash, NorFlash, NorFlashError, NorFlashErrorKind, ReadNorFlash,
};
use gaugewright::device::record::*;
use gaugewright::example::STRUT;
use gaugewright::fixed::{Kernel, Span, Temperature, Zero};
use gaugewright::units::*;
use sequential_storage::cache::{Cache, Uncached};
use sequential_storage::map::{MapConfig, MapStorage};

use super::sources::ready;

const PAGE: usize = 1024;
const PAGES: usize = 4;
const RANGE: Range<u32> = 0..(PAGE * PAGES) as u32;

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

type Store<'a> = MapStorage<u8, &'a mut Flash, Cache<Uncached, Uncached, Uncached, u8>>;

fn store(flash: &mut Flash) -> Store<'_> {
    MapStorage::new(flash, MapConfig::new(RANGE), Cache::new_uncached())
}

/// The record of a channel, or why there is none.
fn load(flash: &mut Flash, channel: u8) -> Result<Record<Kernel>, RecordError> {
    let mut buffer = [0; 512];
    match ready(store(flash).fetch_item::<&[u8]>(&mut buffer, &channel)) {
        Ok(Some(bytes)) => Record::read(bytes),
        Ok(None) => Err(RecordError::Length { found: 0, expected: Record::<Kernel>::BYTES }),
        Err(error) => panic!("{error:?}"),
    }
}

/// Stores and reads back.
fn save(flash: &mut Flash, channel: u8, record: &Record<Kernel>) -> Result<(), Cut> {
    let mut bytes = [0; Record::<Kernel>::BYTES];
    let bytes = record.write(&mut bytes).unwrap();
    let mut buffer = [0; 512];
    match ready(store(flash).store_item(&mut buffer, &channel, &bytes)) {
        Ok(()) => {}
        Err(sequential_storage::Error::Storage { value, .. }) => return Err(value),
        Err(error) => panic!("{error:?}"),
    }
    assert_eq!(load(flash, channel), Ok(*record));
    Ok(())
}

/// The record of a channel after so many updates.
fn record(channel: u8, update: i32) -> Record<Kernel> {
    let code = update * 1_000 + i32::from(channel);
    let zero = Zero { codes: code.into(), temperature: Temperature::from_bits(20 << 20) };
    let described = STRUT.balanced(code.into(), Celsius(20.0));
    let mut identity = Identity::new(
        Name::try_new(&format!("strut {channel}")).unwrap(),
        Date::new(2026, 3, 1 + update as u8 % 28),
        described.description_hash(),
    );
    (identity.zero, identity.span) = (Some(zero), Span::ONE);
    Record::new(described.fixed(), identity)
}

/// All eight channels are updated in turn, long enough for each page to be erased; the power is cut at every operation of every update,
/// once before it and once in the middle of it, and the update is tried again after the start.
#[test]
fn power_cut_at_every_operation_of_an_update() {
    let mut flash = Flash::erased();
    for channel in 0..8 {
        save(&mut flash, channel, &record(channel, 0)).unwrap();
    }
    let (mut cuts, mut old, mut new, mut erased) = (0, 0, 0, 0);
    for update in 1..8 {
        for channel in 0..8 {
            let (before, after) = (record(channel, update - 1), record(channel, update));
            let mut whole = flash.cut_after(usize::MAX, false);
            save(&mut whole, channel, &after).unwrap();
            for operation in 0..whole.operations {
                for begins in [false, true] {
                    let mut cut = flash.cut_after(operation, begins);
                    assert_eq!(save(&mut cut, channel, &after), Err(Cut::Power));
                    cuts += 1;
                    // After the next start.
                    let mut started = cut.cut_after(usize::MAX, false);
                    let found = load(&mut started, channel).unwrap();
                    assert!(found == before || found == after, "{update} {channel} {operation}");
                    old += u32::from(found == before);
                    new += u32::from(found == after);
                    for other in (0..8).filter(|other| *other != channel) {
                        let expected = record(other, update - i32::from(other > channel));
                        assert_eq!(load(&mut started, other), Ok(expected));
                    }
                    save(&mut started, channel, &after).unwrap();
                }
            }
            erased += whole.erased;
            flash = whole;
        }
    }
    println!("{cuts} cuts: {old} times the old record, {new} times the new one");
    assert!(cuts > 300 && old > 200 && new > 40, "{cuts} {old} {new}");
    assert!(erased > PAGES, "{erased} pages were erased");
}

/// The check itself: a store that erases before it writes loses the record.
#[test]
fn a_store_that_erases_first_is_found() {
    let mut bytes = [0; Record::<Kernel>::BYTES];
    let bytes = record(0, 0).write(&mut bytes).unwrap();
    let mut flash = Flash::erased();
    ready(flash.write(0, bytes)).unwrap();
    let mut cut = flash.cut_after(1, false);
    ready(cut.erase(0, PAGE as u32)).unwrap();
    assert_eq!(ready(cut.write(0, bytes)), Err(Cut::Power));
    let found = Record::<Kernel>::read(&cut.bytes[..bytes.len()]);
    assert_eq!(found, Err(RecordError::NoRecord { found: [0xff; 4] }));
}
