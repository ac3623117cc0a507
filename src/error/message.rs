//! Errors in words. One text serves `Display`, `defmt`, C and the compiler, where `core::fmt` cannot go: a build that
//! fails tells the numbers too.

use super::{Error, ErrorPart, Field, Quantity};

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

    // Each of these adds to the end. By reference: copies of the whole message would each take their room on the stack.
    pub(crate) const fn text(&mut self, text: &str) -> &mut Self {
        let mut k = 0;
        while k < text.len() && self.length < Self::ROOM {
            self.bytes[self.length] = text.as_bytes()[k];
            self.length += 1;
            k += 1;
        }
        self
    }

    pub(crate) const fn digits(&mut self, number: u64, at_least: usize) -> &mut Self {
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

    /// Whole numbers below 1e10 as they are, others rounded to nine digits.
    pub(crate) const fn number(&mut self, value: f64) -> &mut Self {
        if value.is_nan() {
            return self.text("NaN");
        }
        if value < 0.0 {
            self.text("-");
        }
        let size = value.abs();
        if size == f64::INFINITY {
            return self.text("inf");
        }
        if size < 1e10 && size == size as u64 as f64 {
            return self.digits(size as u64, 1);
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
        let plain = exponent >= -7 && exponent < 9;
        // Digits behind the point.
        let mut behind = if plain { 8 - exponent } else { 8 };
        while behind > 0 && nine % 10 == 0 {
            nine /= 10;
            behind -= 1;
        }
        let unit = 10u64.pow(behind as u32);
        let whole = over(nine, unit);
        self.digits(whole, 1);
        if behind > 0 {
            self.text(".").digits(nine - whole * unit, behind as usize);
        }
        if plain {
            return self;
        }
        self.text(if exponent < 0 { "e-" } else { "e" }).digits(exponent.unsigned_abs() as u64, 1)
    }

    /// The value of an input: one that nine digits do not tell from the end that it lies beyond is just beyond it.
    const fn input(&mut self, value: f64, low: f64, high: f64) -> &mut Self {
        if value < low && self.reads_as(value, low) {
            self.text("just below ").number(low)
        } else if value > high && self.reads_as(value, high) {
            self.text("just above ").number(high)
        } else {
            self.number(value)
        }
    }

    /// Whether two numbers have the same text: both are put at the end, and taken away again.
    const fn reads_as(&mut self, one: f64, other: f64) -> bool {
        let start = self.length;
        let middle = self.number(one).length;
        let end = self.number(other).length;
        self.length = start;
        let width = middle - start;
        let mut is_same = width == end - middle;
        let mut k = start;
        // The room is no limit here, but the compiler is to see that no index is beyond it.
        while k < middle && k < Self::ROOM && is_same {
            let other = k + width;
            is_same = other < Self::ROOM && self.bytes[k] == self.bytes[other];
            k += 1;
        }
        is_same
    }

    const fn allowed(&mut self, low: f64, high: f64) -> &mut Self {
        self.text(", allowed: ").number(low);
        if low == high {
            self
        } else if high == f64::INFINITY {
            self.text(" or more")
        } else {
            self.text(" to ").number(high)
        }
    }

    const fn invalid(&mut self, field: Field, value: f64, low: f64, high: f64) -> &mut Self {
        self.text(" is ");
        match field {
            Field::ThermalOutput => {
                return self.text("missing: state its coefficients and the temperatures they were fitted on");
            }
            Field::ThermalOutputDegree if value.is_nan() => {
                return self.text("missing: a curve has one to six coefficients");
            }
            Field::Bridge => {
                return self.text(
                    "missing: this takes a channel of converter codes, and readings of an instrument do not tell its bridge",
                );
            }
            Field::CompensatingGauges => {
                return self.number(value).text(", but only a half bridge with a compensating gauge has one");
            }
            _ => {}
        }
        if value.is_nan() {
            return self.text("missing or not a number").allowed(low, high);
        }
        self.input(value, low, high).allowed(low, high);
        match field {
            Field::FullScaleRatio if value > high && value <= high * 1e3 => {
                self.text("; ").number(value).text(" mV/V are ").number(value / 1e3).text(" V/V")
            }
            _ => self,
        }
    }
}

impl Quantity {
    /// What stands between the value and the limit: not always is a range too wide, the kernel's type may be too narrow.
    const fn room(self) -> &'static str {
        match self {
            Self::ThermalOutputDegree | Self::GaugeFactorDegree | Self::ProductConstants => {
                ", this one has room for "
            }
            Self::CodeWindow => ", the converter's codes end at ",
            Self::GaugeFactorRemainder => ", allowed without an error limit: ",
            _ => ", the kernel holds ",
        }
    }

    /// What can be done about it.
    const fn advice(self) -> &'static str {
        match self {
            Self::ThermalOutputDegree | Self::GaugeFactorDegree => {
                ": use one that has more, such as Kernel<5, 3, 1>, in C gw_large_kernel"
            }
            Self::ProductConstants => {
                ": use Kernel<4, 1, 1>, or one with more in its first two places; in C gw_large_kernel"
            }
            Self::SignalGain => {
                " at most: declare a smaller strain range, or take a smaller full scale (more gain); of 31 or 32 \
                 converter bits, leave out the lowest"
            }
            Self::GaugeFactorRemainder => {
                "; use one with more terms of it, such as Kernel<4, 3, 1>, narrower ranges or an error limit"
            }
            Self::CodeWindow => ": check full scale, balance and thermal output",
            Self::ThermocoupleEmf => " at most: take a larger full scale or a narrower range",
            Self::CurveConstant => " at most: take more pieces or a narrower range",
            Self::RosetteConstants => " at most: take f32, or grids further apart",
            Self::UncertaintyRow => " at most: take f32",
            _ => " at most: narrow the declared strain or temperature range",
        }
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
    /// The error in words, which may be made while the compiler runs: the text with which a build stops when a channel is
    /// a `const`, that of [`Display`](core::fmt::Display), of `defmt` and of C. Numbers that are not whole are rounded to
    /// nine digits.
    ///
    /// ```
    /// use gaugewright::{Error, units::Celsius};
    /// let error = Error::TemperatureBound { limit: Celsius(0.001), bound: Celsius(1.0 / 3.0) };
    /// assert_eq!(
    ///     error.build_message().as_str(),
    ///     "the thermometer's error bound is 0.333333333 C, the limit is 0.001 C: take more pieces or a narrower range",
    /// );
    /// ```
    #[must_use]
    pub const fn build_message(&self) -> BuildMessage {
        let name = match self {
            Self::Invalid { field, .. } | Self::Reversed { field, .. } => field.name(),
            Self::Overflow { quantity, .. } => quantity.name(),
            Self::Bound { .. } | Self::TemperatureBound { .. } | Self::BlockLength { .. } => "",
        };
        let mut message = BuildMessage::EMPTY;
        self.after_name(message.text(name));
        message
    }

    /// Goes on after the name of the field or quantity, where the error has one.
    pub(super) const fn after_name(&self, text: &mut BuildMessage) {
        match self {
            Self::Invalid { field, value, low, high } => {
                text.invalid(*field, *value, *low, *high);
            }
            Self::Reversed { low, high, .. } => {
                text.text(" is ")
                    .number(*high)
                    .text(", below the lower end of ")
                    .number(*low)
                    .text(": the range is reversed");
            }
            Self::Overflow { quantity, value, limit } => {
                text.text(" is ")
                    .input(*value, f64::NEG_INFINITY, *limit)
                    .text(quantity.room())
                    .number(*limit)
                    .text(quantity.advice());
            }
            Self::Bound { limit, bound, path, dominant } => {
                text.text("the kernel's error bound is ")
                    .number(bound.0)
                    .text(" nanostrain, the limit is ")
                    .number(limit.0)
                    .text(" nanostrain; the largest part is the ")
                    .text(dominant.name())
                    .text(", in ")
                    .text(path.name());
                if matches!(dominant, ErrorPart::GaugeFactor) {
                    text.text(": use one with more terms of the gauge factor, such as Kernel<4, 3, 1>");
                }
            }
            Self::TemperatureBound { limit, bound } => {
                text.text("the thermometer's error bound is ")
                    .number(bound.0)
                    .text(" C, the limit is ")
                    .number(limit.0)
                    .text(" C: take more pieces or a narrower range");
            }
            Self::BlockLength { samples, other } => {
                text.text("a block of ")
                    .digits(*samples as u64, 1)
                    .text(" samples was given a slice of ")
                    .digits(*other as u64, 1);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    extern crate std;
    use std::string::{String, ToString};

    fn text(value: f64) -> String {
        let mut message = BuildMessage::EMPTY;
        message.number(value).to_string()
    }

    #[test]
    fn numbers_are_those_of_display_as_far_as_nine_digits_go() {
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
            assert_eq!(text(value), value.to_string());
        }
        for (value, words) in [
            (1.0 / 3.0, "0.333333333"),
            (2.0 / 3.0, "0.666666667"),
            (0.999_999_999_9, "1"),
            (9.999_999_999_9, "10"),
            (1.5e-9, "1.5e-9"),
            (1.5e300, "1.5e300"),
            (1e15, "1e15"),
            (123_456_789.012, "123456789"),
            (1_234_567_890.5, "1.23456789e9"),
            (9_876_543_210.0, "9876543210"),
            (98_765_432_100.0, "9.87654321e10"),
            // What arithmetic makes of 18.52008, and the largest and smallest numbers there are.
            (18.520_080_000_000_007, "18.52008"),
            (-0.0, "0"),
            (f64::MAX, "1.79769313e308"),
            (-f64::MAX, "-1.79769313e308"),
            (f64::MIN_POSITIVE, "2.22507386e-308"),
            (f64::MIN_POSITIVE / 3.0, "7.41691286e-309"),
            (5e-324, "4.94065646e-324"),
        ] {
            assert_eq!(text(value), words);
        }
        // Nine digits are those that rounding gives, at every size, and never many characters.
        for power in -320..=308 {
            for digits in [1.0, 1.234_567_891_2, 7.070_707_077_7, 9.999_999_994] {
                let value = digits * 10f64.powi(power);
                let text = text(value);
                let (shown, nine) = (text.parse::<f64>().unwrap(), std::format!("{value:.8e}"));
                assert_eq!(std::format!("{shown:.8e}"), nine, "{value:e}");
                assert!(text.len() <= 17, "{text}");
            }
        }
    }
}
