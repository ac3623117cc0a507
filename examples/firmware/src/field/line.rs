//! The serial line: one line of text for a request, one for its reply, both with a number and a checksum.
//!
//! `NUMBER WORD... #CCCC`, ended by a line feed. The number is the host's, 1 to 65535, and that of the reply; 0 stands in what is sent
//! unasked, and in the reply to a line whose number cannot be trusted. `CCCC` is a CRC-16 (in the catalogue of the package `crc`:
//! IBM-3740) of all bytes before the blank in front of `#`, as four hexadecimal digits.
//!
//! | request | what it does | reply after `ok` |
//! |---|---|---|
//! | `read CHANNEL` | | the last reading, or why there is none |
//! | `status` | | scans, lost lines, times, stack |
//! | `status CHANNEL` | | name, what was loaded, zero, span, samples |
//! | `zero CHANNEL COUNT`, `zero all COUNT` | takes the mean of so many samples as zero, after a check of the wiring | mean and temperature |
//! | `shunt CHANNEL COUNT` | means of so many samples without and with the shunt | the span that follows |
//! | `span CHANNEL RATIO` | sets the span correction | |
//! | `save DATE` | stores what has changed | number of records |
//!
//! What is refused is answered by `error` and its reason, and changes nothing.

use core::fmt::{self, Display, Write};
use core::ops::RangeInclusive;

use crc::{CRC_16_IBM_3740, Crc, NoTable};
use gaugewright::Error;
use gaugewright::device::record::Date;
use gaugewright::fixed::Span;
use heapless::String;

use super::CHANNELS;

/// Bytes of the longest request, line feed not included.
pub const LONGEST_REQUEST: usize = 64;
/// Bytes of the longest reply.
pub const LONGEST_REPLY: usize = 400;
/// Of codes in a mean, as in `gaugewright::fixed::MeanCode`.
const MOST_CODES: i64 = 65_536;

const CRC_16: Crc<u16, NoTable> = Crc::<u16, NoTable>::new(&CRC_16_IBM_3740);

/// A line to be sent, with its line feed.
pub type Reply = String<LONGEST_REPLY>;

/// What the host asks for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Request {
    Read {
        channel: usize,
    },
    Status,
    StatusOf {
        channel: usize,
    },
    /// Of one channel or of all, from the mean of so many samples.
    Zero {
        channels: Channels,
        count: u32,
    },
    Shunt {
        channel: usize,
        count: u32,
    },
    Span {
        channel: usize,
        span: Span,
    },
    Save {
        date: Date,
    },
}

/// One channel or all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Channels {
    One(usize),
    All,
}

impl Channels {
    /// Their numbers.
    pub fn numbers(self) -> RangeInclusive<usize> {
        match self {
            Self::One(channel) => channel..=channel,
            Self::All => 0..=CHANNELS - 1,
        }
    }
}

impl Display for Channels {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::One(channel) => write!(f, "{channel}"),
            Self::All => f.write_str("all"),
        }
    }
}

/// Why a line is no request.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum LineError {
    /// The line has more bytes than [`LONGEST_REQUEST`], or bytes of it were lost.
    Length,
    /// It does not end with a blank, `#` and four hexadecimal digits, or is no text.
    NoChecksum,
    /// It has changed on the way.
    Checksum {
        computed: u16,
        received: u16,
    },
    /// There is no command of this name.
    Command,
    /// A word of the command is not there.
    Missing(&'static str),
    /// It has more words than the command takes.
    MoreWords,
    /// A word is no number, or has more digits than any number that is allowed.
    NoNumber(&'static str),
    Outside {
        name: &'static str,
        value: i64,
        low: i64,
        high: i64,
    },
    /// No day of the calendar, or a span out of its range.
    Invalid(Error),
}

impl From<Error> for LineError {
    fn from(error: Error) -> Self {
        Self::Invalid(error)
    }
}

impl Display for LineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Length => write!(f, "the line has more than {LONGEST_REQUEST} bytes, or some were lost"),
            Self::NoChecksum => f.write_str("the line does not end with a checksum, as ` #1d0f`"),
            Self::Checksum { computed, received } => {
                write!(f, "the checksum is {received:04x}, that of the line is {computed:04x}")
            }
            Self::Command => f.write_str("no such command: read, status, zero, shunt, span, save"),
            Self::Missing(name) => write!(f, "{name} is missing"),
            Self::MoreWords => f.write_str("more words than the command takes"),
            Self::NoNumber(name) => write!(f, "{name} is no number"),
            Self::Outside { name, value, low, high } => {
                write!(f, "{name} is {value}, allowed: {low} to {high}")
            }
            Self::Invalid(error) => Display::fmt(error, f),
        }
    }
}

/// The request of a line, without its line feed, and its number; of a line that is none the number to answer to, which is 0
/// unless the checksum is right.
///
/// # Errors
/// [`LineError`].
#[inline(never)]
pub fn parse(line: &[u8]) -> (u16, Result<Request, LineError>) {
    let text = match checked(line) {
        Ok(text) => text,
        Err(error) => return (0, Err(error)),
    };
    let mut words = Words(text.split(' '));
    match words.number("number", 1, u16::MAX.into()) {
        Ok(number) => (number as u16, words.request()),
        Err(error) => (0, Err(error)),
    }
}

/// The text in front of a checksum that is right.
fn checked(line: &[u8]) -> Result<&str, LineError> {
    if line.len() > LONGEST_REQUEST {
        return Err(LineError::Length);
    }
    let (text, stated) = line.split_at_checked(line.len().wrapping_sub(6)).ok_or(LineError::NoChecksum)?;
    let digits = stated.strip_prefix(b" #").ok_or(LineError::NoChecksum)?;
    let mut received = 0;
    for digit in digits {
        let value = char::from(*digit).to_digit(16).ok_or(LineError::NoChecksum)?;
        received = received << 4 | value as u16;
    }
    let computed = CRC_16.checksum(text);
    if computed != received {
        return Err(LineError::Checksum { computed, received });
    }
    core::str::from_utf8(text).map_err(|_| LineError::NoChecksum)
}

/// The words of a request that are left.
struct Words<'a>(core::str::Split<'a, char>);

impl<'a> Words<'a> {
    fn request(mut self) -> Result<Request, LineError> {
        let request = match self.word("command")? {
            "read" => Request::Read { channel: self.channel()? },
            "status" => match self.0.next() {
                None => Request::Status,
                Some(word) => Request::StatusOf { channel: channel(word)? },
            },
            "zero" => {
                let channels = match self.word("channel")? {
                    "all" => Channels::All,
                    word => Channels::One(channel(word)?),
                };
                Request::Zero { channels, count: self.count()? }
            }
            "shunt" => Request::Shunt { channel: self.channel()?, count: self.count()? },
            "span" => Request::Span { channel: self.channel()?, span: span(self.word("span")?)? },
            "save" => Request::Save { date: date(self.word("date")?)? },
            _ => return Err(LineError::Command),
        };
        if self.0.next().is_some() { Err(LineError::MoreWords) } else { Ok(request) }
    }

    fn word(&mut self, name: &'static str) -> Result<&'a str, LineError> {
        self.0.next().filter(|word| !word.is_empty()).ok_or(LineError::Missing(name))
    }

    fn number(&mut self, name: &'static str, low: i64, high: i64) -> Result<i64, LineError> {
        number(name, self.word(name)?, low, high)
    }

    fn channel(&mut self) -> Result<usize, LineError> {
        channel(self.word("channel")?)
    }

    fn count(&mut self) -> Result<u32, LineError> {
        self.number("count", 1, MOST_CODES).map(|count| count as u32)
    }
}

fn channel(word: &str) -> Result<usize, LineError> {
    number("channel", word, 0, CHANNELS as i64 - 1).map(|channel| channel as usize)
}

/// A whole number without a sign, of at most nine digits.
fn number(name: &'static str, word: &str, low: i64, high: i64) -> Result<i64, LineError> {
    if word.is_empty() || word.len() > 9 {
        return Err(LineError::NoNumber(name));
    }
    let value = word.bytes().try_fold(0, |value, digit| match digit {
        b'0'..=b'9' => Ok(value * 10 + i64::from(digit - b'0')),
        _ => Err(LineError::NoNumber(name)),
    })?;
    if (low..=high).contains(&value) { Ok(value) } else { Err(LineError::Outside { name, value, low, high }) }
}

/// A ratio as `1.0125`, with up to nine decimals.
fn span(word: &str) -> Result<Span, LineError> {
    const NAME: &str = "span";
    let (whole, decimals) = word.split_once('.').unwrap_or((word, "0"));
    let whole = number(NAME, whole, 0, 1)?;
    let mut billionths = number(NAME, decimals, 0, 999_999_999)?;
    for _ in decimals.len()..9 {
        billionths *= 10;
    }
    const ONE: i64 = 1_000_000_000;
    Ok(Span::of_codes(whole * ONE + billionths, ONE)?)
}

/// A day as `2026-03-14`.
fn date(word: &str) -> Result<Date, LineError> {
    let mut parts = word.split('-');
    let mut part = |name, high| number(name, parts.next().ok_or(LineError::Missing(name))?, 0, high);
    let (year, month, day) = (part("year", 9_999)?, part("month", 99)?, part("day", 99)?);
    if parts.next().is_some() {
        return Err(LineError::MoreWords);
    }
    Ok(Date::try_new(year as u16, month as u8, day as u8)?)
}

/// A line of the logger, with its checksum and its line feed. What does not fit is not sent in part: the line says so.
pub fn line(number: u16, text: fmt::Arguments<'_>) -> Reply {
    let mut line = Reply::new();
    if write!(line, "{number} {text}").is_err() || line.len() + 7 > LONGEST_REPLY {
        line.clear();
        let _ = write!(line, "{number} error the reply has more than {LONGEST_REPLY} bytes");
    }
    let checksum = CRC_16.checksum(line.as_bytes());
    let _ = writeln!(line, " #{checksum:04x}");
    line
}

/// Lines from bytes as they come in.
#[derive(Default)]
pub struct Received {
    bytes: heapless::Vec<u8, LONGEST_REQUEST>,
    too_long: bool,
}

impl Received {
    pub const fn new() -> Self {
        Self { bytes: heapless::Vec::new(), too_long: false }
    }

    /// Adds a byte, and gives a line to `work` when it is whole: the line, or that it was too long.
    pub fn add<R>(&mut self, byte: u8, work: impl FnOnce(Result<&[u8], LineError>) -> R) -> Option<R> {
        match byte {
            b'\n' => {
                let line = if self.too_long { Err(LineError::Length) } else { Ok(&self.bytes[..]) };
                let result = work(line);
                self.bytes.clear();
                self.too_long = false;
                Some(result)
            }
            // Of terminals that end a line with two characters.
            b'\r' => None,
            byte => {
                self.too_long |= self.bytes.push(byte).is_err();
                None
            }
        }
    }
}
