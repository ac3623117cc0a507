//! Whose kernel it is: name, date, description, zero and span.

use super::RecordError;
use crate::error::{Error, Field, try_const, unwrap_const, whole_within};
use crate::fixed::{MeanCode, Span, Temperature, Zero};
use crate::sample::{Reader, Writer};

pub(super) const BYTES: usize = 8 + NAME + 4 + 16 + 4;
const NAME: usize = Field::NameLength.limits().1 as usize;

/// Whose kernel a record holds, in words of the user.
///
/// ```
/// use gaugewright::device::record::{Date, Identity, Name};
/// use gaugewright::fixed::Span;
/// use gaugewright::example::CHANNEL;
/// let mut identity = Identity::new(Name::new("strut north"), Date::new(2026, 3, 14), CHANNEL.description_hash());
/// identity.span = Span::of_codes(10_000, 9_900)?;
/// assert_eq!(identity.zero, None);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Identity {
    /// Name of the channel or thermometer.
    pub name: Name,
    /// When the record was made.
    pub date: Date,
    /// The hash ([`Channel::description_hash`](crate::Channel::description_hash)) of the description that the kernel was compiled from; for a
    /// thermometer what the user chooses, for instance that of its channel.
    pub description: u64,
    /// What was measured on site as zero, if it was.
    pub zero: Option<Zero>,
    /// Span correction.
    pub span: Span,
}

impl Identity {
    /// No zero, and a span of one.
    ///
    /// ```
    /// use gaugewright::{device::record::{Date, Identity, Name}, fixed::Span};
    /// assert_eq!(Identity::new(Name::new("keel"), Date::new(2026, 3, 14), 0).span, Span::ONE);
    /// ```
    #[must_use]
    pub const fn new(name: Name, date: Date, description: u64) -> Self {
        Self { name, date, description, zero: None, span: Span::ONE }
    }

    pub(super) fn put(&self, words: &mut Writer<'_>) {
        words.bytes(self.description.to_le_bytes());
        words.bytes(self.name.0);
        words.bytes(self.date.year.to_le_bytes());
        words.bytes([self.date.month, self.date.day]);
        let (sum, count, temperature) = match self.zero {
            Some(Zero { codes: MeanCode { sum, count }, temperature }) => (sum, count, temperature.to_bits()),
            None => (0, 0, 0),
        };
        words.bytes(sum.to_le_bytes());
        words.word(count);
        words.numbers(&[temperature]);
        words.word(self.span.to_bits());
    }

    pub(super) fn take(words: &mut Reader<'_>) -> Result<Self, RecordError> {
        let description = u64::from_le_bytes(words.bytes());
        let name = Name::take(words.bytes())?;
        let year = u16::from_le_bytes(words.bytes());
        let [month, day] = words.bytes();
        let date = Date::try_new(year, month, day)?;
        let sum = i64::from_le_bytes(words.bytes());
        let (count, temperature) = (words.word(), Temperature::from_bits(words.number()));
        let codes = MeanCode { sum, count };
        let zero = if count == 0 {
            None
        } else {
            codes.check()?;
            Some(Zero { codes, temperature })
        };
        Ok(Self { name, date, description, zero, span: Span::from_bits(words.word()) })
    }
}

/// A name of 1 to 24 bytes in UTF-8.
///
/// ```
/// use gaugewright::device::record::Name;
/// const KEEL: Name = Name::new("keel");
/// assert_eq!(KEEL.as_str(), "keel");
/// ```
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Name([u8; NAME]);

impl Name {
    /// A name that is known when the firmware is built.
    ///
    /// # Panics
    /// With the words of the error of [`try_new`](Self::try_new); in a constant the build stops with them.
    ///
    /// ```compile_fail
    /// use gaugewright::device::record::Name;
    /// const LONG: Name = Name::new("the third strut of the northern frame");
    /// println!("{}", LONG.as_str());
    /// ```
    #[must_use]
    pub const fn new(name: &str) -> Self {
        unwrap_const(Self::try_new(name))
    }

    /// A name that is entered.
    ///
    /// # Errors
    /// [`Error::Invalid`] with its length in bytes, if that is not 1 to 24, or with 0, if there is a character of code 0.
    ///
    /// ```
    /// use gaugewright::device::record::Name;
    /// assert_eq!(Name::try_new("").unwrap_err().to_string(), "length of a name (bytes) is 0, allowed: 1 to 24");
    /// ```
    pub const fn try_new(name: &str) -> Result<Self, Error> {
        let name = name.as_bytes();
        let mut bytes = [0; NAME];
        let (mut at, mut length) = (0, name.len());
        while at < NAME && at < name.len() {
            bytes[at] = name[at];
            if name[at] == 0 {
                length = 0;
            }
            at += 1;
        }
        // As many as the error can have.
        let length = if length > i32::MAX as usize { i32::MAX } else { length as i32 };
        try_const!(Field::NameLength.check_whole(length));
        Ok(Self(bytes))
    }

    /// The name as text.
    ///
    /// ```
    /// use gaugewright::device::record::Name;
    /// assert_eq!(Name::new("Gurt 3 \u{b5}").as_str(), "Gurt 3 \u{b5}");
    /// ```
    #[must_use]
    pub fn as_str(&self) -> &str {
        // It was text when it was made, and the text of nothing is never needed.
        core::str::from_utf8(self.0.split(|byte| *byte == 0).next().unwrap_or(&[])).unwrap_or("")
    }

    fn take(bytes: [u8; NAME]) -> Result<Self, RecordError> {
        let end = bytes.iter().position(|byte| *byte == 0).unwrap_or(NAME);
        let (text, rest) = bytes.split_at(end);
        Field::NameLength.check_whole(end as i32)?;
        if core::str::from_utf8(text).is_err() || rest.iter().any(|byte| *byte != 0) {
            return Err(RecordError::Name);
        }
        Ok(Self(bytes))
    }
}

impl core::fmt::Debug for Name {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "Name({:?})", self.as_str())
    }
}

#[cfg(feature = "defmt")]
impl defmt::Format for Name {
    fn format(&self, f: defmt::Formatter<'_>) {
        defmt::write!(f, "{=str}", self.as_str());
    }
}

/// A day of the calendar, as the user gives it.
///
/// ```
/// use gaugewright::device::record::Date;
/// assert!(Date::new(2026, 3, 14) < Date::new(2026, 11, 2));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// A date that is known when the firmware is built.
    ///
    /// # Panics
    /// With the words of the error of [`try_new`](Self::try_new); in a constant the build stops with them.
    ///
    /// ```
    /// use gaugewright::device::record::Date;
    /// const DATE: Date = Date::new(2028, 2, 29);
    /// assert_eq!(DATE.day(), 29);
    /// ```
    #[must_use]
    pub const fn new(year: u16, month: u8, day: u8) -> Self {
        unwrap_const(Self::try_new(year, month, day))
    }

    /// A date that is entered: a year from 2000 to 2399, a month and a day that it has (Gregorian calendar).
    ///
    /// # Errors
    /// [`Error::Invalid`].
    ///
    /// ```
    /// use gaugewright::device::record::Date;
    /// let error = Date::try_new(2027, 2, 29).unwrap_err();
    /// assert_eq!(error.to_string(), "day of a date is 29, allowed: 1 to 28");
    /// ```
    pub const fn try_new(year: u16, month: u8, day: u8) -> Result<Self, Error> {
        try_const!(Field::DateYear.check_whole(year as i32));
        try_const!(Field::DateMonth.check_whole(month as i32));
        let is_leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
        let last = match month {
            2 if is_leap => 29,
            2 => 28,
            4 | 6 | 9 | 11 => 30,
            _ => 31,
        };
        try_const!(whole_within(Field::DateDay, day as i32, 1, last));
        Ok(Self { year, month, day })
    }

    /// Year, 2000 to 2399.
    ///
    /// ```
    /// assert_eq!(gaugewright::device::record::Date::new(2026, 3, 14).year(), 2026);
    /// ```
    #[must_use]
    pub const fn year(self) -> u16 {
        self.year
    }

    /// Month, 1 to 12.
    ///
    /// ```
    /// assert_eq!(gaugewright::device::record::Date::new(2026, 3, 14).month(), 3);
    /// ```
    #[must_use]
    pub const fn month(self) -> u8 {
        self.month
    }

    /// Day of the month, 1 to 31.
    ///
    /// ```
    /// assert_eq!(gaugewright::device::record::Date::new(2026, 3, 14).day(), 14);
    /// ```
    #[must_use]
    pub const fn day(self) -> u8 {
        self.day
    }
}
