//! What a thermometer kernel returns.

use crate::sample::{Temperature, flags};

flags! {
    /// What was wrong with a temperature. Nothing is held back in silence: a value that had to be held at the end of a range
    /// carries the flag that says so.
    ///
    /// ```
    /// use gaugewright::temperature::Flags;
    /// let flags = Flags::OPEN | Flags::STALE;
    /// assert!(flags.contains(Flags::OPEN) && !flags.is_clear());
    /// assert_eq!(flags.to_string(), "sensor open, stale");
    /// ```
    Flags(u8), "gaugewright::temperature::Flags", OPEN, STALE;

    /// All in order.
    CLEAR;

    /// The code is at a rail of the converter: the sensor is open (for a thermocouple, where a small current is driven
    /// through it to tell), or there is too much signal. The temperature says nothing.
    OPEN = 4 => "sensor open";

    /// The sensor is shorted: its resistance is less than half of the least that its range has, to the next code. The
    /// temperature says nothing. (A shorted thermocouple cannot be told from one at the temperature of its cold junction.)
    SHORTED = 2 => "sensor shorted";

    /// The temperature lies outside the range declared for the thermometer; it is given as that of the nearest end.
    OUTSIDE = 1 => "temperature outside";

    /// The cold junction's temperature lies outside its declared range; its EMF is that of the nearest end.
    COLD_JUNCTION_OUTSIDE = 8 => "cold junction outside";

    /// No temperature has come for longer than was allowed; this is the last one.
    STALE = 16 => "stale";

    /// Of two sensors on both sides of the gauge only one could be used: the temperature is the one there.
    ONE_SENSOR = 32 => "one sensor";
}

impl Flags {
    /// The temperature says something: the sensor is neither open nor shorted. (What is merely outside, stale or from one
    /// sensor of two is a temperature all the same.)
    ///
    /// ```
    /// use gaugewright::temperature::Flags;
    /// assert!(Flags::STALE.is_usable() && !(Flags::STALE | Flags::OPEN).is_usable());
    /// ```
    #[must_use]
    #[inline]
    pub const fn is_usable(self) -> bool {
        self.0 & (Self::OPEN.0 | Self::SHORTED.0) == 0
    }
}

/// A temperature and whether it can be believed. `T` is [`fixed::Temperature`](crate::fixed::Temperature), or `f32` in
/// degrees Celsius.
///
/// ```
/// use gaugewright::temperature::{Flags, Reading};
/// let reading = Reading { temperature: 21.5_f32, flags: Flags::CLEAR };
/// assert_eq!(reading.checked(), Some(21.5));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[must_use]
pub struct Reading<T = Temperature> {
    /// The temperature. Where a flag is raised, the flag's documentation says what it is.
    pub temperature: T,
    /// What was wrong.
    pub flags: Flags,
}

impl<T: Copy> Reading<T> {
    /// The temperature if nothing was wrong.
    ///
    /// ```
    /// use gaugewright::temperature::{Flags, Reading};
    /// let reading = Reading { temperature: 21.5_f32, flags: Flags::OPEN };
    /// assert_eq!(reading.checked(), None);
    /// ```
    #[inline]
    pub fn checked(self) -> Option<T> {
        if self.flags.is_clear() { Some(self.temperature) } else { None }
    }
}
