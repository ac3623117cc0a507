//! A correction of span in integers.

use super::quotient::{number, quotient};
use crate::error::{Error, Field};

/// Of code, either way, from which a span is computed.
const LARGEST_CHANGE: u64 = 1 << 47;

/// A span correction ([`Channel::span_correction`](crate::Channel::span_correction)) in Q31: 0 to almost 2 in steps of
/// 4.7e-10.
///
/// ```
/// use gaugewright::fixed::Span;
/// assert_eq!(Span::from_ratio(1.0), Span::ONE);
/// // A shunt calibration: the change of code that was expected and the one that was observed.
/// let span = Span::of_codes(10_000, 9_900)?;
/// assert!((span.ratio() - 1.0 / 0.99).abs() < 1e-9);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Span(u32);

impl Span {
    /// No correction.
    ///
    /// ```
    /// assert_eq!(gaugewright::fixed::Span::ONE.ratio(), 1.0);
    /// ```
    pub const ONE: Self = Self(1 << 31);

    /// A ratio of 0.8, rounded towards 1.
    pub(crate) const LOWEST: Self = Self::from_ratio(0.8);
    /// A ratio of 1.25.
    pub(crate) const HIGHEST: Self = Self::from_ratio(1.25);

    /// From the raw format. Every value is a span; a kernel takes those in its declared range.
    ///
    /// ```
    /// use gaugewright::fixed::Span;
    /// assert_eq!(Span::from_bits(3 << 30).ratio(), 1.5);
    /// ```
    #[must_use]
    pub const fn from_bits(bits: u32) -> Self {
        Self(bits)
    }

    /// The raw format.
    ///
    /// ```
    /// assert_eq!(gaugewright::fixed::Span::ONE.to_bits(), 1 << 31);
    /// ```
    #[must_use]
    pub const fn to_bits(self) -> u32 {
        self.0
    }

    /// A plain ratio, rounded towards 1 to a whole step, for ranges that are declared with the firmware. A ratio below 0 or above
    /// the highest span, or not a number, gives a span at the end (0 for NaN), which no channel takes: the range is then refused.
    ///
    /// ```
    /// use gaugewright::fixed::Span;
    /// assert_eq!(Span::from_ratio(1.25).to_bits(), 5 << 29);
    /// ```
    #[must_use]
    pub const fn from_ratio(ratio: f64) -> Self {
        let steps = ratio * 2_147_483_648.0;
        let below = steps as u32;
        Self(if ratio < 1.0 && (below as f64) < steps { below + 1 } else { below })
    }

    /// Expected over observed change of code, in integers, rounded towards 1 to a whole step. The unit does not matter as long as it is the same:
    /// sums of equally many codes do.
    ///
    /// # Errors
    /// [`Error::Invalid`] where the changes differ in sign, one is zero or beyond 2^47, or the ratio is outside 0.8 to 1.25. The value is
    /// NaN where there is no positive ratio, or a change is beyond 2^47.
    ///
    /// ```
    /// use gaugewright::fixed::Span;
    /// assert_eq!(Span::of_codes(-500, -500)?, Span::ONE);
    /// assert!(Span::of_codes(500, -500).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn of_codes(expected: i64, observed: i64) -> Result<Self, Error> {
        let (over, under) = (expected.unsigned_abs(), observed.unsigned_abs());
        let (field, low, high) = (Field::SpanCorrection, 0.8, 1.25);
        let positive = (expected > 0 && observed > 0) || (expected < 0 && observed < 0);
        if !positive || over > LARGEST_CHANGE || under > LARGEST_CHANGE {
            return Err(Error::Invalid { field, value: f64::NAN, low, high });
        }
        if 5 * over < 4 * under || 4 * over > 5 * under {
            let value = number(quotient(over, under, 16) as i64, 16);
            return Err(Error::Invalid { field, value, low, high });
        }
        let change = quotient(over.abs_diff(under), under, 31) as u32;
        Ok(Self(if over < under { Self::ONE.0 - change } else { Self::ONE.0 + change }))
    }

    /// As a plain ratio, exactly.
    ///
    /// ```
    /// assert_eq!(gaugewright::fixed::Span::from_bits(1 << 30).ratio(), 0.5);
    /// ```
    #[must_use]
    pub const fn ratio(self) -> f64 {
        number(self.0 as i64, 31)
    }
}
