//! What a thermometer kernel returns.

use crate::error::{Error, try_const};
use crate::sample::{Temperature, flags};

flags! {
    /// What was wrong with a temperature. A value that was clamped to a range carries the flag that reports it.
    ///
    /// ```
    /// use gaugewright::temperature::ThermometerFlags;
    /// let flags = ThermometerFlags::OPEN | ThermometerFlags::STALE;
    /// assert!(flags.contains(ThermometerFlags::OPEN) && !flags.is_clear());
    /// assert_eq!(flags.to_string(), "sensor open, stale");
    /// ```
    ThermometerFlags(u8), "gaugewright::temperature::ThermometerFlags", OPEN, STALE;

    /// All in order.
    CLEAR;

    /// The code is at a rail of the converter: the sensor is open (for a thermocouple, where a small current is driven
    /// through it to detect that), or the signal is too large. The temperature has no meaning.
    OPEN = 4 => "sensor open";

    /// The sensor is shorted: its resistance is less than half of the least that its range has, to the next code. The
    /// temperature has no meaning. (A shorted thermocouple reads as one at the temperature of its cold junction.)
    SHORTED = 2 => "sensor shorted";

    /// The temperature lies outside the range declared for the thermometer; it is given as that of the nearest end.
    OUTSIDE = 1 => "temperature outside";

    /// The cold junction's temperature lies outside its declared range; its EMF is that of the nearest end.
    COLD_JUNCTION_OUTSIDE = 8 => "cold junction outside";

    /// The last usable reading is older than allowed; this is its temperature.
    STALE = 16 => "stale";

    /// Of the two sensors beside the gauge only one is usable: the temperature is that of this one.
    ONE_SENSOR = 32 => "one sensor";
}

impl ThermometerFlags {
    /// The sensor is neither open nor shorted, so that the temperature has a meaning, even if it is outside its range,
    /// stale or from one sensor of two.
    ///
    /// ```
    /// use gaugewright::temperature::ThermometerFlags;
    /// assert!(ThermometerFlags::STALE.is_usable() && !(ThermometerFlags::STALE | ThermometerFlags::OPEN).is_usable());
    /// ```
    #[must_use]
    #[inline]
    pub const fn is_usable(self) -> bool {
        self.0 & (Self::OPEN.0 | Self::SHORTED.0) == 0
    }

    /// None if the word has bits that are no flag.
    pub(crate) const fn of_word(word: u32) -> Option<Self> {
        if word > u8::MAX as u32 { None } else { Self::from_bits(word as u8) }
    }
}

/// A temperature and its flags. `T` is [`fixed::Temperature`](crate::fixed::Temperature), or `f32` in
/// degrees Celsius.
///
/// ```
/// use gaugewright::temperature::{ThermometerFlags, Reading};
/// let reading = Reading { temperature: 21.5_f32, flags: ThermometerFlags::CLEAR };
/// assert_eq!(reading.checked(), Some(21.5));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[must_use]
pub struct Reading<T = Temperature> {
    /// The temperature, in Q20 or, as `f32`, in degrees Celsius; the documentation of each flag states what it is where that flag is raised.
    pub temperature: T,
    /// What was wrong.
    pub flags: ThermometerFlags,
}

impl Reading<f32> {
    /// The same reading in the fixed format, which the strain kernels take (`f32` ones too), [`LastReading`](super::LastReading)
    /// and [`SensorPair`](super::SensorPair). Rounded to the nearest Q20 step, without double precision.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature that is not finite or beyond +-2047 C, which no thermometer kernel gives.
    ///
    /// ```
    /// use gaugewright::temperature::{Reading, ThermometerFlags};
    /// let reading = Reading { temperature: 21.5_f32, flags: ThermometerFlags::OUTSIDE };
    /// assert_eq!(reading.to_fixed()?.temperature.to_bits(), 43 << 19);
    /// assert_eq!(reading.to_fixed()?.flags, ThermometerFlags::OUTSIDE);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn to_fixed(self) -> Result<Reading, Error> {
        let temperature = try_const!(Temperature::from_celsius_f32(self.temperature));
        Ok(Reading { temperature, flags: self.flags })
    }
}

impl<T: Copy> Reading<T> {
    /// The temperature if nothing was wrong: in degrees C where it is floating point.
    ///
    /// ```
    /// use gaugewright::temperature::{ThermometerFlags, Reading};
    /// let reading = Reading { temperature: 21.5_f32, flags: ThermometerFlags::OPEN };
    /// assert_eq!(reading.checked(), None);
    /// ```
    #[inline]
    pub fn checked(self) -> Option<T> {
        if self.flags.is_clear() { Some(self.temperature) } else { None }
    }
}
