//! An error in words while the compiler runs, where `core::fmt` cannot go: with this a build that fails says
//! the numbers too.

use super::{Error, Remedy};

/// The text with which a build stops; see [`Error::build_message`].
///
/// ```
/// use gaugewright::{Error, error::Field};
/// const WRONG: Error = Error::Invalid { field: Field::LeadResistance, value: -1.5, low: 0.0, high: 120.0 };
/// const MESSAGE: gaugewright::error::BuildMessage = WRONG.build_message();
/// assert_eq!(MESSAGE.as_str(), "lead resistance (ohm) is -1.5, allowed: 0 to 120");
/// ```
#[derive(Clone, Copy)]
pub struct BuildMessage {
    bytes: [u8; Self::ROOM],
    length: usize,
}

impl BuildMessage {
    /// More than the longest message; a test makes them all.
    const ROOM: usize = 512;

    /// The text.
    ///
    /// ```
    /// let error = gaugewright::Error::BlockLength { samples: 3, other: 4 };
    /// assert_eq!(error.build_message().as_str(), "a block of 3 samples was given a slice of 4");
    /// ```
    #[must_use]
    pub const fn as_str(&self) -> &str {
        let Some((text, _)) = self.bytes.split_at_checked(self.length) else { return "" };
        // Only whole strings are put in.
        match core::str::from_utf8(text) {
            Ok(text) => text,
            Err(_) => "",
        }
    }

    /// Nothing yet.
    pub(crate) const EMPTY: Self = Self { bytes: [0; Self::ROOM], length: 0 };

    pub(crate) const fn text(mut self, text: &str) -> Self {
        let mut k = 0;
        while k < text.len() && self.length < Self::ROOM {
            self.bytes[self.length] = text.as_bytes()[k];
            self.length += 1;
            k += 1;
        }
        self
    }

    const fn digits(mut self, number: u64, at_least: usize) -> Self {
        let mut digits = 1;
        let mut unit = 1;
        while digits < at_least || over(number, unit) >= 10 {
            unit *= 10;
            digits += 1;
        }
        while unit > 0 && self.length < Self::ROOM {
            self.bytes[self.length] = b'0' + (over(number, unit) % 10) as u8;
            self.length += 1;
            unit /= 10;
        }
        self
    }

    /// Whole numbers as they are, others rounded to nine digits.
    pub(crate) const fn number(self, value: f64) -> Self {
        if value.is_nan() {
            return self.text("NaN");
        }
        let text = if value < 0.0 { self.text("-") } else { self };
        let size = value.abs();
        if size == f64::INFINITY {
            return text.text("inf");
        }
        if size < 1e15 && size == size as u64 as f64 {
            return text.digits(size as u64, 1);
        }
        let mut mantissa = size;
        let mut exponent = 0i32;
        while mantissa >= 10.0 {
            mantissa /= 10.0;
            exponent += 1;
        }
        while mantissa < 1.0 {
            mantissa *= 10.0;
            exponent -= 1;
        }
        let mut nine = (mantissa * 1e8 + 0.5) as u64;
        if nine == 1_000_000_000 {
            nine = 100_000_000;
            exponent += 1;
        }
        let plain = exponent >= -7 && exponent < 8;
        // Digits behind the point.
        let mut behind = if plain { 8 - exponent } else { 8 };
        while behind > 0 && nine % 10 == 0 {
            nine /= 10;
            behind -= 1;
        }
        let unit = 10u64.pow(behind as u32);
        let whole = over(nine, unit);
        let mut text = text.digits(whole, 1);
        if behind > 0 {
            text = text.text(".").digits(nine - whole * unit, behind as usize);
        }
        if plain {
            return text;
        }
        let text = if exponent < 0 { text.text("e-") } else { text.text("e") };
        text.digits(exponent.unsigned_abs() as u64, 1)
    }

    const fn remedy(self, remedy: &Remedy) -> Self {
        let mut text = self;
        let mut joint = Remedy::FIRST;
        if let Some(limit) = remedy.strain {
            text = text.text(joint).text(Remedy::STRAIN).number(limit.0).text(" microstrain");
            joint = if remedy.together { Remedy::BOTH } else { Remedy::NEXT };
        }
        if let Some((low, high)) = remedy.temperatures {
            text = text.text(joint).number(low.0).text(" to ").number(high.0).text(" C");
            joint = Remedy::NEXT;
        }
        if let Some(degree) = remedy.degree {
            text = text.text(joint).text(Remedy::DEGREE).digits(degree as u64, 1);
        }
        if remedy.is_none() { text.text(Remedy::NONE) } else { text }
    }
}

/// A quotient by a power of ten, which is never zero: the compiler cannot know, and would keep a panic for it.
const fn over(number: u64, unit: u64) -> u64 {
    match number.checked_div(unit) {
        Some(quotient) => quotient,
        None => 0,
    }
}

impl core::fmt::Display for BuildMessage {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.as_str())
    }
}

impl core::fmt::Debug for BuildMessage {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        core::fmt::Debug::fmt(self.as_str(), f)
    }
}

impl Error {
    /// The words of [`Display`](core::fmt::Display), made while the compiler runs: the text with which a build
    /// stops when a channel is a `const`. Numbers that are not whole are rounded to nine digits.
    ///
    /// ```
    /// use gaugewright::{Error, units::Celsius};
    /// let error = Error::TemperatureBound { promised: Celsius(0.001), bound: Celsius(1.0 / 3.0) };
    /// assert_eq!(
    ///     error.build_message().as_str(),
    ///     "the thermometer's error bound is 0.333333333 C, promised was 0.001 C: take more pieces or a narrower range",
    /// );
    /// ```
    #[must_use]
    pub const fn build_message(&self) -> BuildMessage {
        let text = BuildMessage::EMPTY;
        match self {
            Self::Invalid { field, value, low, high } => {
                let text = text.text(field.name()).text(" is ");
                let text =
                    if value.is_nan() { text.text("missing or not a number") } else { text.number(*value) };
                text.text(", allowed: ").number(*low).text(" to ").number(*high)
            }
            Self::Overflow { quantity, value, limit } => {
                let text = text.text(quantity.name()).text(" is ").number(*value);
                text.text(quantity.room()).number(*limit).text(quantity.advice())
            }
            Self::Bound { promised, bound, path, dominant, remedy } => text
                .text("the kernel's error bound is ")
                .number(bound.0)
                .text(" nanostrain, promised was ")
                .number(promised.0)
                .text(" nanostrain; the largest part is the ")
                .text(dominant.name())
                .text(", in ")
                .text(path.name())
                .remedy(remedy),
            Self::TemperatureBound { promised, bound } => text
                .text("the thermometer's error bound is ")
                .number(bound.0)
                .text(" C, promised was ")
                .number(promised.0)
                .text(" C: take more pieces or a narrower range"),
            Self::BlockLength { samples, other } => text
                .text("a block of ")
                .digits(*samples as u64, 1)
                .text(" samples was given a slice of ")
                .digits(*other as u64, 1),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_those_of_display_as_far_as_nine_digits_go() {
        extern crate std;
        use std::string::ToString;
        for value in [
            0.0,
            -0.5,
            1.0,
            350.0,
            -123_456_789.0,
            4_294_967_295.0,
            0.1,
            1.25e-5,
            123.456_789,
            99_999_999.5,
            0.015_625,
            1e-7,
            f64::INFINITY,
            f64::NEG_INFINITY,
            f64::NAN,
        ] {
            assert_eq!(BuildMessage::EMPTY.number(value).as_str(), value.to_string());
        }
        for (value, text) in [
            (1.0 / 3.0, "0.333333333"),
            (2.0 / 3.0, "0.666666667"),
            (0.999_999_999_9, "1"),
            (9.999_999_999_9, "10"),
            (1.5e-9, "1.5e-9"),
            (1.5e300, "1.5e300"),
            (1e15, "1e15"),
            (123_456_789.012, "1.23456789e8"),
        ] {
            assert_eq!(BuildMessage::EMPTY.number(value).as_str(), text);
        }
    }
}
