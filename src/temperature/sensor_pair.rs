//! A gauge between two sensors.

use super::reading::{Reading, ThermometerFlags};
use crate::error::{Error, Field, try_const, unwrap_const};
use crate::sample::Temperature;

/// The temperature at a gauge between two sensors, interpolated linearly: halfway it is their mean. This is exact along a
/// bar through whose sides no heat flows.
///
/// ```
/// use gaugewright::{fixed::Temperature, temperature::{SensorPair, ThermometerFlags, Reading}};
///
/// // The gauge sits a quarter of the way from the first sensor to the second.
/// const GAUGE: SensorPair = SensorPair::at(0.25);
/// let reading = |celsius: i32, flags| Reading { temperature: Temperature::from_bits(celsius << 20), flags };
/// let between = GAUGE.reading(reading(20, ThermometerFlags::CLEAR), reading(40, ThermometerFlags::CLEAR));
/// assert_eq!((between.temperature.celsius().0, between.flags), (25.0, ThermometerFlags::CLEAR));
/// // One sensor is open: the temperature is that of the other, and a flag reports it.
/// let alone = GAUGE.reading(reading(0, ThermometerFlags::OPEN), reading(40, ThermometerFlags::CLEAR));
/// assert_eq!((alone.temperature.celsius().0, alone.flags), (40.0, ThermometerFlags::ONE_SENSOR));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct SensorPair {
    /// In 2^-16.
    share: u32,
}

impl SensorPair {
    /// A gauge at this fraction of the way from the first sensor to the second, 0 to 1, to the nearest 2^-16.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a fraction out of range; nothing is extrapolated.
    ///
    /// ```
    /// use gaugewright::temperature::SensorPair;
    /// assert!(SensorPair::try_at(1.01).is_err());
    /// ```
    pub const fn try_at(fraction: f64) -> Result<Self, Error> {
        try_const!(Field::FractionOfWay.check(fraction));
        Ok(Self { share: (fraction * 65_536.0 + 0.5) as u32 })
    }

    /// The same, for constants.
    ///
    /// # Panics
    /// Where [`try_at`](Self::try_at) gives an error: the build stops.
    ///
    /// ```
    /// use gaugewright::temperature::SensorPair;
    /// const HALFWAY: SensorPair = SensorPair::at(0.5);
    /// ```
    #[must_use]
    pub const fn at(fraction: f64) -> Self {
        unwrap_const(Self::try_at(fraction))
    }

    /// In Q16: 0 at the first sensor, 65536 at the second and for all that is more.
    #[cfg(feature = "ffi")]
    pub(crate) const fn at_share(share: u32) -> Self {
        Self { share: if share < 65_536 { share } else { 65_536 } }
    }

    /// The temperature at the gauge, with the flags of both. If one sensor is open or shorted it is that of the other, with
    /// [`ThermometerFlags::ONE_SENSOR`]; if both are, that of the first, with the flags of both.
    ///
    /// ```
    /// use gaugewright::{fixed::Temperature, temperature::*};
    /// let bad = Reading { temperature: Temperature::from_bits(0), flags: ThermometerFlags::OPEN };
    /// assert_eq!(SensorPair::at(0.5).reading(bad, bad).flags, ThermometerFlags::OPEN);
    /// ```
    pub const fn reading(&self, first: Reading, second: Reading) -> Reading {
        match (first.flags.is_usable(), second.flags.is_usable()) {
            (true, false) => Reading { flags: first.flags.union(ThermometerFlags::ONE_SENSOR), ..first },
            (false, true) => Reading { flags: second.flags.union(ThermometerFlags::ONE_SENSOR), ..second },
            (false, false) => Reading { flags: first.flags.union(second.flags), ..first },
            (true, true) => {
                let (a, b) = (first.temperature.to_bits() as i64, second.temperature.to_bits() as i64);
                let between = a + (((b - a) * self.share as i64 + (1 << 15)) >> 16);
                Reading {
                    temperature: Temperature::from_bits(between as i32),
                    flags: first.flags.union(second.flags),
                }
            }
        }
    }
}
