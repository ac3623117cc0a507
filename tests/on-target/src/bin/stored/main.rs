//! Records in flash that outlives the emulator: says what it finds, then updates every record until the runner's time is over, which
//! is a power cut. Each start finds what the one before has left.
//!
//! The file `cut` of the host has the ticks of the timer until then.
#![no_std]
#![no_main]

mod flash;

use core::num::NonZeroU32;
use core::pin::pin;
use core::task::{Context, Poll, Waker};

use firmware::board;
use firmware::lines::Lines;
use gaugewright::device::record::{Date, Identity, Name, Record, RecordError};
use gaugewright::fixed::{Kernel, MeanCode, Span, Temperature, Zero};
use riscv_rt::entry;
use sequential_storage::cache::Cache;
use sequential_storage::cache::key_pointers::ArrayKeyPointers;
use sequential_storage::cache::page_pointers::ArrayPagePointers;
use sequential_storage::cache::page_states::ArrayPageStates;
use sequential_storage::map::{MapConfig, MapStorage};

use flash::{Flash, SECTOR, SECTORS};
use on_target::channels::{ADJUSTABLE, CHANNELS};

/// Channels of the logger.
const LINES: u8 = 8;

/// With all its caches: an update is then little else than writing.
type Caches =
    Cache<ArrayPageStates<SECTORS>, ArrayPagePointers<SECTORS>, ArrayKeyPointers<u8, { LINES as usize }>, u8>;
type Store = MapStorage<u8, Flash, Caches>;

#[entry]
fn main() -> ! {
    let mut store: Store = MapStorage::new(
        Flash::take(),
        MapConfig::new(0..(SECTOR * SECTORS) as u32),
        Cache::new(ArrayPageStates::new(), ArrayPagePointers::new(), ArrayKeyPointers::new()),
    );
    let mut next = [0; LINES as usize];
    for (channel, next) in (0..LINES).zip(&mut next) {
        match load(&mut store, channel) {
            Ok(None) => defmt::println!("channel {=u8} none", channel),
            Ok(Some(update)) => {
                defmt::println!("channel {=u8} update {=u32}", channel, update);
                *next = update + 1;
            }
            Err(error) => defmt::println!("channel {=u8} refused: {}", channel, error),
        }
    }
    defmt::println!("loaded");
    let mut file = Lines::open(c"cut").ok();
    let ticks = file.as_mut().and_then(|file| file.next_line()?.parse().ok()).and_then(NonZeroU32::new);
    if !ticks.is_some_and(|ticks| board::after(ticks, || board::exit(true))) {
        defmt::println!("the file cut has no ticks of the timer");
        board::exit(false)
    }
    let counter = &mut board::Counter::new();
    let instructions = counter.instructions(|| {
        for (channel, update) in (0..LINES).zip(next) {
            if !save(&mut store, channel, update) {
                defmt::println!("channel {=u8} cannot be stored", channel);
                board::exit(false)
            }
        }
    });
    defmt::println!("updated in {=u64} instructions", instructions);
    board::exit(true)
}

/// The record of a channel after so many updates: each time another zero, and the kernel that is computed for it.
fn record(channel: u8, update: u32) -> Option<Record<Kernel>> {
    let sum = i64::from(update % 2_000) * 2_000 - 2_000_000 + i64::from(channel);
    let codes = MeanCode { sum, count: 1 };
    let zero = Zero { codes, temperature: Temperature::from_bits(20 << 20) };
    let kernel = ADJUSTABLE.with(zero, Span::ONE).ok()?;
    const DESCRIPTION: u64 = CHANNELS[1].1.description_hash();
    let mut identity = Identity::new(Name::new("a channel"), Date::new(2026, 3, 14), DESCRIPTION);
    // The number of the update, so that it is found again.
    let codes = MeanCode { count: update % 65_536 + 1, ..codes };
    identity.zero = Some(Zero { codes, ..zero });
    Some(Record::new(kernel, identity))
}

/// The number of the update that is stored, if it is whole and what was to be stored.
fn load(store: &mut Store, channel: u8) -> Result<Option<u32>, RecordError> {
    let mut buffer = [0; 256];
    let bytes = match ready(store.fetch_item::<&[u8]>(&mut buffer, &channel)) {
        Some(Ok(Some(bytes))) => bytes,
        Some(Ok(None)) => return Ok(None),
        _ => return Err(RecordError::Length { found: 0, expected: Record::<Kernel>::BYTES }),
    };
    let found = Record::<Kernel>::read(bytes)?;
    let update = found.identity.zero.map_or(0, |zero| zero.codes.count - 1);
    match record(channel, update) {
        Some(expected) if expected == found => Ok(Some(update)),
        _ => Err(RecordError::Kind { found: *b"othr", expected: *b"this" }),
    }
}

/// Stores and reads back.
fn save(store: &mut Store, channel: u8, update: u32) -> bool {
    let Some(record) = record(channel, update) else { return false };
    let (mut bytes, mut buffer) = ([0; Record::<Kernel>::BYTES], [0; 256]);
    let Ok(bytes) = record.write(&mut bytes) else { return false };
    let stored = ready(store.store_item(&mut buffer, &channel, &bytes));
    matches!(stored, Some(Ok(()))) && load(store, channel) == Ok(Some(update))
}

/// The result of a future that never has to wait.
fn ready<F: Future>(future: F) -> Option<F::Output> {
    match pin!(future).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(result) => Some(result),
        Poll::Pending => None,
    }
}
