//! The calibration of each channel in flash, through `sequential-storage`: an update is there whole or not at all.

use core::fmt::{self, Display};

use embedded_storage_async::nor_flash::NorFlash;
use gaugewright::device::record::{Record, RecordError};
use sequential_storage::cache::Cache;
use sequential_storage::cache::key_pointers::ArrayKeyPointers;
use sequential_storage::cache::page_pointers::ArrayPagePointers;
use sequential_storage::cache::page_states::ArrayPageStates;
use sequential_storage::map::{MapConfig, MapStorage};

use super::{CHANNELS, Kernel};

/// Why a record was not loaded, or not stored.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StoreError {
    /// The flash failed, or what it holds is no storage.
    Flash,
    /// There is no room for another record.
    Full,
    /// The bytes are no whole record.
    Record(RecordError),
    /// The record belongs to a channel that is described in another way.
    Description { found: u64, expected: u64 },
    /// What was read back is not what was stored.
    ReadBack,
}

impl Display for StoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Flash => f.write_str("the flash failed, or holds something else"),
            Self::Full => f.write_str("the flash is full"),
            Self::Record(error) => Display::fmt(error, f),
            Self::Description { found, expected } => {
                write!(f, "a record of the description {found:016x}, where the channel has {expected:016x}")
            }
            Self::ReadBack => f.write_str("what was stored does not read back"),
        }
    }
}

/// With all its caches: storing is then little else than writing.
type Caches<const PAGES: usize> =
    Cache<ArrayPageStates<PAGES>, ArrayPagePointers<PAGES>, ArrayKeyPointers<u8, CHANNELS>, u8>;

/// `PAGES` sectors of a flash from its start on.
pub struct Store<F: NorFlash, const PAGES: usize>(MapStorage<u8, F, Caches<PAGES>>);

/// What the storage needs to move a record about.
const BUFFER: usize = 256;
const _: () = assert!(Record::<Kernel>::BYTES + 16 <= BUFFER);

impl<F: NorFlash, const PAGES: usize> Store<F, PAGES> {
    /// # Panics
    /// If a sector is too small for a record; two sectors at least are needed.
    pub fn new(flash: F) -> Self {
        let caches = Cache::new(ArrayPageStates::new(), ArrayPagePointers::new(), ArrayKeyPointers::new());
        Self(MapStorage::new(flash, MapConfig::new(0..(F::ERASE_SIZE * PAGES) as u32), caches))
    }

    /// The record of a channel, if there is one.
    ///
    /// # Errors
    /// If there is one that cannot be used: nothing of it is.
    pub async fn load(
        &mut self,
        channel: usize,
        description: u64,
    ) -> Result<Option<Record<Kernel>>, StoreError> {
        let mut buffer = [0; BUFFER];
        let bytes = self.0.fetch_item::<&[u8]>(&mut buffer, &(channel as u8)).await;
        let Some(bytes) = bytes.map_err(|_| StoreError::Flash)? else { return Ok(None) };
        let record = Record::<Kernel>::read(bytes).map_err(StoreError::Record)?;
        let found = record.identity.description;
        if found != description {
            return Err(StoreError::Description { found, expected: description });
        }
        Ok(Some(record))
    }

    /// Stores the record of a channel and reads it back. Until it is whole, the one before stays.
    ///
    /// # Errors
    /// If the record that is found afterwards may be the one from before.
    pub async fn save(&mut self, channel: usize, record: &Record<Kernel>) -> Result<(), StoreError> {
        let mut bytes = [0; Record::<Kernel>::BYTES];
        let bytes = record.write(&mut bytes).map_err(StoreError::Record)?;
        let mut buffer = [0; BUFFER];
        self.0.store_item(&mut buffer, &(channel as u8), &bytes).await.map_err(|error| match error {
            sequential_storage::Error::FullStorage => StoreError::Full,
            _ => StoreError::Flash,
        })?;
        let found = self.load(channel, record.identity.description).await?;
        if found == Some(*record) { Ok(()) } else { Err(StoreError::ReadBack) }
    }
}
