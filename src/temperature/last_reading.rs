//! The last temperature of a sensor, and its age.

use super::reading::{Reading, ThermometerFlags};
use crate::sample::Temperature;

/// Keeps the last usable temperature of a sensor that is read less often than the bridge is sampled, and flags it when it
/// is stale. Time is a counter of any unit that runs on and wraps, such as ticks or samples.
///
/// ```
/// use gaugewright::{fixed::Temperature, temperature::{ThermometerFlags, Reading, LastReading}};
///
/// let mut last = LastReading::new(50);
/// assert!(last.at(7).is_none()); // no reading yet
/// last.update(Reading { temperature: Temperature::from_bits(20 << 20), flags: ThermometerFlags::CLEAR }, 10);
/// // A reading of an open sensor is not usable: the last temperature stays, and ages.
/// last.update(Reading { temperature: Temperature::from_bits(0), flags: ThermometerFlags::OPEN }, 30);
/// assert_eq!(last.at(60).unwrap().flags, ThermometerFlags::CLEAR);
/// let stale = last.at(61).unwrap();
/// assert_eq!((stale.temperature.celsius().0, stale.flags), (20.0, ThermometerFlags::STALE));
/// assert_eq!(last.unusable(), 1);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct LastReading {
    pub(crate) limit: u32,
    pub(crate) temperature: Temperature,
    /// Those of the last usable reading; [`NO_READING`] before the first. Stale stays until the next usable reading: a counter
    /// that wraps must not clear it.
    pub(crate) flags: u32,
    pub(crate) updated_at: u32,
    pub(crate) unusable: u32,
}

/// No set of flags.
pub(crate) const NO_READING: u32 = 1 << 30;

impl LastReading {
    /// For temperatures that are stale when they are older than `limit`.
    ///
    /// ```
    /// use gaugewright::temperature::LastReading;
    /// let last = LastReading::new(100);
    /// assert_eq!(last.unusable(), 0);
    /// ```
    #[must_use]
    pub const fn new(limit: u32) -> Self {
        Self { limit, temperature: Temperature::from_bits(0), flags: NO_READING, updated_at: 0, unusable: 0 }
    }

    /// A new reading of the sensor, and its time. A reading that is open or shorted is counted and not kept.
    ///
    /// ```
    /// use gaugewright::{fixed::Temperature, temperature::*};
    /// let mut last = LastReading::new(3);
    /// last.update(Reading { temperature: Temperature::from_bits(5), flags: ThermometerFlags::OUTSIDE }, 0);
    /// assert_eq!(last.at(0).unwrap().flags, ThermometerFlags::OUTSIDE);
    /// ```
    pub const fn update(&mut self, reading: Reading, now: u32) {
        if reading.flags.is_usable() {
            self.temperature = reading.temperature;
            self.flags = reading.flags.bits() as u32;
            self.updated_at = now;
        } else {
            self.unusable = self.unusable.saturating_add(1);
        }
    }

    /// The last usable temperature, with [`ThermometerFlags::STALE`] if it is older than the limit; none before the first.
    /// Call it at least once in every `u32::MAX - limit` of the counter. A time before that of the last reading is treated
    /// as counter wrap-around and reported stale.
    ///
    /// ```
    /// use gaugewright::{fixed::Temperature, temperature::*};
    /// let mut last = LastReading::new(3);
    /// last.update(Reading { temperature: Temperature::from_bits(5), flags: ThermometerFlags::CLEAR }, u32::MAX);
    /// assert!(last.at(2).unwrap().flags.is_clear());
    /// assert_eq!(last.at(3).unwrap().flags, ThermometerFlags::STALE);
    /// assert_eq!(last.at(u32::MAX).unwrap().flags, ThermometerFlags::STALE); // before the reading
    /// ```
    pub const fn at(&mut self, now: u32) -> Option<Reading> {
        let Some(flags) = ThermometerFlags::of_word(self.flags) else { return None };
        let is_stale = now.wrapping_sub(self.updated_at) > self.limit;
        let flags = flags.union(ThermometerFlags::STALE.when(is_stale));
        self.flags = flags.bits() as u32;
        Some(Reading { temperature: self.temperature, flags })
    }

    /// Readings that could not be used, so far.
    ///
    /// ```
    /// use gaugewright::{fixed::Temperature, temperature::*};
    /// let mut last = LastReading::new(3);
    /// last.update(Reading { temperature: Temperature::from_bits(5), flags: ThermometerFlags::SHORTED }, 0);
    /// assert_eq!((last.unusable(), last.at(0)), (1, None));
    /// ```
    #[must_use]
    pub const fn unusable(&self) -> u32 {
        self.unusable
    }
}
