//! A mean of codes.

use super::quotient::{number, quotient};
use crate::error::{Error, Field};

/// Codes of the converter as their sum and how many they are: the mean keeps its fraction.
///
/// A code at a rail counts in a mean like any other and cannot be found in it: take the codes of readings without
/// [`Flags::CODE_AT_RAIL`](crate::Flags::CODE_AT_RAIL).
///
/// ```
/// use gaugewright::fixed::MeanCode;
/// let mean = MeanCode { sum: 25, count: 2 }; // 12.5
/// assert_eq!(MeanCode::from(-7), MeanCode { sum: -7, count: 1 });
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct MeanCode {
    /// The sum of the codes.
    pub sum: i64,
    /// How many codes: 1 to 65 536.
    pub count: u32,
}

impl From<i32> for MeanCode {
    fn from(code: i32) -> Self {
        Self { sum: code.into(), count: 1 }
    }
}

impl MeanCode {
    /// Refuses a mean of no or too many codes.
    pub(crate) const fn check(self) -> Result<(), Error> {
        let (field, (low, high)) = (Field::CodesInMean, Field::CodesInMean.limits());
        if self.count >= low as u32 && self.count <= high as u32 {
            return Ok(());
        }
        // Not by `check_whole`: a count has 32 bits, and 64 would take a small core 58 bytes more.
        Err(Error::Invalid { field, value: number(self.count as i64, 0), low, high })
    }

    /// Refuses a mean outside of a range.
    pub(crate) const fn within(self, field: Field, low: i32, high: i32) -> Result<(), Error> {
        if self.is_from(low) && self.is_to(high) {
            return Ok(());
        }
        Err(Error::Invalid {
            field,
            value: self.value(),
            low: number(low as i64, 0),
            high: number(high as i64, 0),
        })
    }

    /// The mean is this code or above.
    pub(crate) const fn is_from(self, code: i32) -> bool {
        self.sum >= code as i64 * self.count as i64
    }

    /// The mean is this code or below.
    pub(crate) const fn is_to(self, code: i32) -> bool {
        self.sum <= code as i64 * self.count as i64
    }

    /// The mean in Q32, rounded down, of a mean between the least and the largest `i32`.
    pub(crate) const fn bits(self) -> i64 {
        let lowest = i32::MIN as i64;
        let above = self.sum.wrapping_sub(lowest * self.count as i64);
        (quotient(above as u64, self.count as u64, 32) as i64).wrapping_add(lowest << 32)
    }

    /// As errors have it, rounded towards zero.
    const fn value(self) -> f64 {
        let fraction = if self.sum.unsigned_abs() < 1 << 40 { 16 } else { 0 };
        let mean = quotient(self.sum.unsigned_abs(), self.count as u64, fraction);
        let mean = if mean > i64::MAX as u64 { i64::MAX } else { mean as i64 };
        let value = number(mean, fraction);
        if self.sum < 0 { -value } else { value }
    }
}
