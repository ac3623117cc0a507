//! The temperature that is in force, and how old it is.

use super::reading::{Flags, Reading};

/// Keeps the last temperature of a sensor that is heard less often than the bridge is sampled, and tells when it has grown
/// stale. Time is a counter of any unit that runs on and wraps, such as ticks or samples.
///
/// ```
/// use gaugewright::{fixed::Temperature, temperature::{Flags, Reading, Watch}};
///
/// let mut watch = Watch::new(50);
/// assert!(watch.at(7).is_none()); // nothing was heard yet
/// watch.heard(Reading { temperature: Temperature::from_bits(20 << 20), flags: Flags::CLEAR }, 10);
/// // An open sensor is no news: the last temperature stays, and ages.
/// watch.heard(Reading { temperature: Temperature::from_bits(0), flags: Flags::OPEN }, 30);
/// assert_eq!(watch.at(60).unwrap().flags, Flags::CLEAR);
/// let last = watch.at(61).unwrap();
/// assert_eq!((last.temperature.celsius().0, last.flags), (20.0, Flags::STALE));
/// assert_eq!(watch.unusable(), 1);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Watch {
    limit: u32,
    last: Option<Reading>,
    heard_at: u32,
    /// Stays until something is heard: a counter that wraps must not make it young again.
    stale: bool,
    unusable: u32,
}

impl Watch {
    /// For temperatures that are stale when they are older than `limit`.
    ///
    /// ```
    /// # use gaugewright::temperature::Watch;
    /// let watch = Watch::new(100);
    /// assert_eq!(watch.unusable(), 0);
    /// ```
    #[must_use]
    pub const fn new(limit: u32) -> Self {
        Self { limit, last: None, heard_at: 0, stale: false, unusable: 0 }
    }

    /// A reading of the sensor, at a time. One that is open or shorted is counted and otherwise left aside.
    ///
    /// ```
    /// # use gaugewright::{fixed::Temperature, temperature::*};
    /// let mut watch = Watch::new(3);
    /// watch.heard(Reading { temperature: Temperature::from_bits(5), flags: Flags::OUTSIDE }, 0);
    /// assert_eq!(watch.at(0).unwrap().flags, Flags::OUTSIDE);
    /// ```
    pub const fn heard(&mut self, reading: Reading, now: u32) {
        if reading.flags.is_usable() {
            self.last = Some(reading);
            self.heard_at = now;
            self.stale = false;
        } else {
            self.unusable = self.unusable.saturating_add(1);
        }
    }

    /// The temperature in force, with [`Flags::STALE`] if it is too old; none before the first. To be asked at
    /// least once in every `u32::MAX - limit` of the counter. A time before that of the last reading counts as a turn later,
    /// and so as stale.
    ///
    /// ```
    /// # use gaugewright::{fixed::Temperature, temperature::*};
    /// let mut watch = Watch::new(3);
    /// watch.heard(Reading { temperature: Temperature::from_bits(5), flags: Flags::CLEAR }, u32::MAX);
    /// assert!(watch.at(2).unwrap().flags.is_clear());
    /// assert_eq!(watch.at(3).unwrap().flags, Flags::STALE);
    /// assert_eq!(watch.at(u32::MAX).unwrap().flags, Flags::STALE); // a turn later
    /// ```
    pub const fn at(&mut self, now: u32) -> Option<Reading> {
        match self.last {
            None => None,
            Some(reading) => {
                self.stale |= now.wrapping_sub(self.heard_at) > self.limit;
                let flags = reading.flags.and(Flags::STALE.when(self.stale));
                Some(Reading { temperature: reading.temperature, flags })
            }
        }
    }

    /// Readings that could not be used, so far.
    ///
    /// ```
    /// # use gaugewright::{fixed::Temperature, temperature::*};
    /// let mut watch = Watch::new(3);
    /// watch.heard(Reading { temperature: Temperature::from_bits(5), flags: Flags::SHORTED }, 0);
    /// assert_eq!((watch.unusable(), watch.at(0)), (1, None));
    /// ```
    #[must_use]
    pub const fn unusable(&self) -> u32 {
        self.unusable
    }
}
