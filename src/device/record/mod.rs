//! Kernels as bytes that outlive the power: what a logger was set up with, and proof that it was read back whole. Feature
//! `record`.
#![doc = include_str!("design.md")]

mod error;
mod identity;

pub use crate::sample::KnownAnswer;
pub use error::RecordError;
pub use identity::{Date, Identity, Name};

use crate::sample::{Reader, Stored, Writer};
use crc::{CRC_32_ISO_HDLC, Crc, NoTable};

/// Version of the layout of records. A record of another version is refused by name.
///
/// ```
/// assert_eq!(gaugewright::device::record::VERSION, 1);
/// ```
pub const VERSION: u16 = 1;

/// Of the numbers of kernels.
const FORMAT: u16 = crate::fixed::FORMAT as u16;

/// First bytes of every record.
pub(crate) const MARK: [u8; 4] = *b"gwrc";

/// Before the kernel.
const HEADER: usize = 16 + identity::BYTES + 3 * ANSWER;
const ANSWER: usize = 20;
const CHECKSUM: usize = 4;

/// By bits: a table would cost a target a kilobyte.
const CRC_32: Crc<u32, NoTable> = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC);

/// A kernel that a record can hold: [`fixed::Kernel`](crate::fixed::Kernel), [`fixed::CompensatedKernel`](crate::fixed::CompensatedKernel),
/// [`ResistanceKernel`](crate::temperature::ResistanceKernel) and [`ThermocoupleKernel`](crate::temperature::ThermocoupleKernel) in
/// integers.
///
/// ```
/// use gaugewright::{device::record::{Record, RecordedKernel}, fixed};
/// fn bytes<K: RecordedKernel>() -> usize {
///     Record::<K>::BYTES
/// }
/// assert_eq!((bytes::<fixed::Kernel>(), bytes::<fixed::CompensatedKernel>()), (192, 220));
/// ```
pub trait RecordedKernel: Stored {}

impl<K: Stored> RecordedKernel for K {}

/// A kernel, whose it is, and three readings whose results are known.
///
/// ```
/// use gaugewright::device::record::{Date, Identity, Name, Record, RecordError};
/// use gaugewright::{example::CHANNEL, fixed};
///
/// // Made with the firmware: the known answers are those of the computer that built it.
/// static FACTORY: Record<fixed::Kernel> = {
///     let kernel: fixed::Kernel = CHANNEL.fixed();
///     let identity = Identity::new(Name::new("strut north"), Date::new(2026, 3, 14), CHANNEL.description_hash());
///     Record { kernel, answers: kernel.known_answers(), identity }
/// };
///
/// let mut bytes = [0; Record::<fixed::Kernel>::BYTES];
/// FACTORY.write(&mut bytes)?;
/// // After the next start:
/// let record: Record<fixed::Kernel> = Record::read(&bytes)?;
/// assert_eq!(record, FACTORY);
/// assert_eq!(record.identity.name.as_str(), "strut north");
/// // One bit of the storage is lost:
/// bytes[150] ^= 1;
/// assert!(matches!(Record::<fixed::Kernel>::read(&bytes), Err(RecordError::Checksum { .. })));
/// # Ok::<(), RecordError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Record<K> {
    /// What corrects.
    pub kernel: K,
    /// Whose it is.
    pub identity: Identity,
    /// The self-test: [`fixed::Kernel::known_answers`](crate::fixed::Kernel::known_answers) and its like.
    pub answers: [KnownAnswer; 3],
}

impl<K: RecordedKernel> Record<K> {
    /// Length of a record in bytes.
    ///
    /// ```
    /// use gaugewright::{device::record::Record, temperature::ResistanceKernel};
    /// assert_eq!(Record::<ResistanceKernel<i32, 16>>::BYTES, 472);
    /// ```
    pub const BYTES: usize = HEADER + 4 * K::WORDS + CHECKSUM;

    /// A kernel with the answers that it gives here and now: for one that was made on the device.
    ///
    /// ```
    /// use gaugewright::device::record::{Date, Identity, Name, Record};
    /// use gaugewright::{example::CHANNEL, fixed};
    /// let identity = Identity::new(Name::new("keel"), Date::new(2026, 3, 14), CHANNEL.description_hash());
    /// let kernel: fixed::Kernel = CHANNEL.try_fixed()?;
    /// assert_eq!(Record::new(kernel, identity).answers, kernel.known_answers());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn new(kernel: K, identity: Identity) -> Self {
        Self { kernel, identity, answers: kernel.answers() }
    }

    /// Compares three readings with the answers that are known: for each start, as processor and program may have changed
    /// since.
    ///
    /// # Errors
    /// [`RecordError::SelfTest`] with the first answer that differs.
    ///
    /// ```
    /// use gaugewright::device::record::{Date, Identity, Name, Record, RecordError};
    /// use gaugewright::{example::CHANNEL, fixed};
    /// let identity = Identity::new(Name::new("keel"), Date::new(2026, 3, 14), CHANNEL.description_hash());
    /// let mut record = Record::<fixed::Kernel>::new(CHANNEL.fixed(), identity);
    /// record.self_test()?;
    /// record.answers[2].result += 1;
    /// assert!(matches!(record.self_test(), Err(RecordError::SelfTest { answer: 2, .. })));
    /// # Ok::<(), RecordError>(())
    /// ```
    pub fn self_test(&self) -> Result<(), RecordError> {
        for (answer, known) in self.answers.iter().enumerate() {
            let found = self.kernel.answer(known);
            let (found, expected) = ((found.result, found.flags), (known.result, known.flags));
            if found != expected {
                return Err(RecordError::SelfTest { answer, found, expected });
            }
        }
        Ok(())
    }

    /// Writes the record and returns its bytes. What was written can be read: it was.
    ///
    /// # Errors
    /// [`RecordError::Length`] if there is no room for [`BYTES`](Self::BYTES); nothing is written then. What [`read`](Self::read)
    /// would refuse.
    ///
    /// ```
    /// use gaugewright::device::record::{Date, Identity, Name, Record, RecordError};
    /// use gaugewright::{example::CHANNEL, fixed};
    /// let identity = Identity::new(Name::new("keel"), Date::new(2026, 3, 14), CHANNEL.description_hash());
    /// let record = Record::<fixed::Kernel>::new(CHANNEL.fixed(), identity);
    /// let error = record.write(&mut [0; 100]).unwrap_err();
    /// assert_eq!(error.to_string(), "100 bytes, where the record has 192");
    /// # Ok::<(), RecordError>(())
    /// ```
    pub fn write<'a>(&self, bytes: &'a mut [u8]) -> Result<&'a [u8], RecordError> {
        let room = bytes.len();
        let Some(bytes) = bytes.get_mut(..Self::BYTES) else {
            return Err(RecordError::Length { found: room, expected: Self::BYTES });
        };
        let (contents, checksum) = bytes.split_at_mut(Self::BYTES - CHECKSUM);
        self.put(&mut Writer(contents));
        Writer(checksum).word(CRC_32.checksum(contents));
        Self::read(bytes)?;
        Ok(bytes)
    }

    fn put(&self, words: &mut Writer<'_>) {
        words.bytes(MARK);
        words.bytes(VERSION.to_le_bytes());
        words.bytes(FORMAT.to_le_bytes());
        words.bytes(K::KIND);
        words.word(Self::BYTES as u32);
        self.identity.put(words);
        for KnownAnswer { code, temperature, compensating, result, flags } in self.answers {
            words.numbers(&[code, temperature, compensating, result]);
            words.word(flags);
        }
        self.kernel.put(words);
    }

    /// The record of these bytes, whole: its length, its checksum, the ranges of its numbers and its self-test are as
    /// they have to be. Every change of up to 32 neighbouring bits and every shortened record is found; of other bytes one in 2^32 has
    /// the checksum of a record. Whatever the bytes, no value of a reading wraps.
    ///
    /// # Errors
    /// [`RecordError`], which has what was found and what was expected.
    ///
    /// ```
    /// use gaugewright::{device::record::{Record, RecordError}, fixed};
    /// // Flash that was erased and not written:
    /// let error = Record::<fixed::Kernel>::read(&[0xff; 192]).unwrap_err();
    /// assert_eq!(error, RecordError::NoRecord { found: [0xff; 4] });
    /// ```
    pub fn read(bytes: &[u8]) -> Result<Self, RecordError> {
        let mut words = Reader(bytes);
        let mark = words.bytes();
        if bytes.len() < HEADER + CHECKSUM {
            return Err(RecordError::Length { found: bytes.len(), expected: Self::BYTES });
        }
        if mark != MARK {
            return Err(RecordError::NoRecord { found: mark });
        }
        let (version, format) = (u16::from_le_bytes(words.bytes()), u16::from_le_bytes(words.bytes()));
        if (version, format) != (VERSION, FORMAT) {
            return Err(RecordError::Version { version, format });
        }
        let kind = words.bytes();
        let length = words.word();
        if kind != K::KIND {
            return Err(RecordError::Kind { found: kind, expected: K::KIND });
        }
        if bytes.len() != Self::BYTES || length != Self::BYTES as u32 {
            return Err(RecordError::Length { found: bytes.len(), expected: Self::BYTES });
        }
        let (contents, checksum) = bytes.split_at(Self::BYTES - CHECKSUM);
        let (found, expected) = (CRC_32.checksum(contents), Reader(checksum).word());
        if found != expected {
            return Err(RecordError::Checksum { found, expected });
        }
        let identity = Identity::take(&mut words)?;
        let mut answers = [KnownAnswer::asked(0, 0, 0); 3];
        for answer in &mut answers {
            let [code, temperature, compensating, result] = words.numbers();
            *answer = KnownAnswer { code, temperature, compensating, result, flags: words.word() };
        }
        let record = Self { kernel: K::take(&mut words)?, identity, answers };
        record.self_test()?;
        Ok(record)
    }
}
