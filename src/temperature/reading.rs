//! What a thermometer kernel returns.

use crate::formats::Temperature;

/// What was wrong with a temperature. Nothing is held back in silence: a value that had to be held at the end of a range
/// carries the flag that says so.
///
/// ```
/// use gaugewright::temperature::Flags;
/// let flags = Flags::OPEN | Flags::STALE;
/// assert!(flags.contains(Flags::OPEN) && !flags.is_clear());
/// assert_eq!(flags.to_string(), "sensor open, stale");
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[repr(transparent)]
pub struct Flags(u8);

impl Flags {
    /// All in order.
    ///
    /// ```
    /// assert!(gaugewright::temperature::Flags::CLEAR.is_clear());
    /// ```
    pub const CLEAR: Self = Self(0);

    /// The temperature lies outside the range declared for the thermometer; it is given as that of the nearest end.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Flags::OUTSIDE.bits(), 1);
    /// ```
    pub const OUTSIDE: Self = Self(1);

    /// The sensor is shorted: its resistance is less than half of the least that its range has, to
    /// the next code. The temperature says
    /// nothing. (A shorted thermocouple cannot be told from one at the temperature of its cold junction.)
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Flags::SHORTED.bits(), 2);
    /// ```
    pub const SHORTED: Self = Self(2);

    /// The code is at a rail of the converter: the sensor is open (for a thermocouple, where a small current is driven
    /// through it to tell), or there is too much signal. The temperature says nothing.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Flags::OPEN.bits(), 4);
    /// ```
    pub const OPEN: Self = Self(4);

    /// The cold junction's temperature lies outside its declared range; its EMF is that of the nearest end.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Flags::COLD_JUNCTION_OUTSIDE.bits(), 8);
    /// ```
    pub const COLD_JUNCTION_OUTSIDE: Self = Self(8);

    /// No temperature has come for longer than was allowed; this is the last one.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Flags::STALE.bits(), 16);
    /// ```
    pub const STALE: Self = Self(16);

    /// Of two sensors on both sides of the gauge only one could be used: the temperature is the one there.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Flags::ONE_SENSOR.bits(), 32);
    /// ```
    pub const ONE_SENSOR: Self = Self(32);

    /// Every flag there is, with its name.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Flags::ALL.len(), 6);
    /// ```
    pub const ALL: [(Self, &'static str); 6] = [
        (Self::OPEN, "sensor open"),
        (Self::SHORTED, "sensor shorted"),
        (Self::OUTSIDE, "temperature outside"),
        (Self::COLD_JUNCTION_OUTSIDE, "cold junction outside"),
        (Self::STALE, "stale"),
        (Self::ONE_SENSOR, "one sensor"),
    ];

    /// No flag is raised.
    ///
    /// ```
    /// assert!(!gaugewright::temperature::Flags::STALE.is_clear());
    /// ```
    #[must_use]
    #[inline]
    pub const fn is_clear(self) -> bool {
        self.0 == 0
    }

    /// All flags of `other` are raised.
    ///
    /// ```
    /// use gaugewright::temperature::Flags;
    /// assert!(!Flags::OPEN.contains(Flags::SHORTED));
    /// ```
    #[must_use]
    #[inline]
    pub const fn contains(self, other: Self) -> bool {
        self.0 & other.0 == other.0
    }

    /// The flags as bits, for a log or a bus.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Flags::CLEAR.bits(), 0);
    /// ```
    #[must_use]
    #[inline]
    pub const fn bits(self) -> u8 {
        self.0
    }

    /// The flags of a logged byte; `None` if it has bits that are no flag.
    ///
    /// ```
    /// use gaugewright::temperature::Flags;
    /// assert_eq!(Flags::from_bits(4), Some(Flags::OPEN));
    /// assert_eq!(Flags::from_bits(64), None);
    /// ```
    #[must_use]
    pub const fn from_bits(bits: u8) -> Option<Self> {
        if bits < 64 { Some(Self(bits)) } else { None }
    }

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

    /// `self` if `raised`, otherwise clear.
    #[inline]
    pub(super) const fn when(self, raised: bool) -> Self {
        Self(self.0 * raised as u8)
    }

    #[inline]
    pub(super) const fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

impl core::ops::BitOr for Flags {
    type Output = Self;

    fn bitor(self, other: Self) -> Self {
        self.and(other)
    }
}

impl core::fmt::Display for Flags {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let mut separator = "";
        for (flag, name) in Self::ALL {
            if self.contains(flag) {
                write!(f, "{separator}{name}")?;
                separator = ", ";
            }
        }
        if self.is_clear() { f.write_str("clear") } else { Ok(()) }
    }
}

/// The words of [`Display`](core::fmt::Display).
#[cfg(feature = "defmt")]
impl defmt::Format for Flags {
    fn format(&self, f: defmt::Formatter<'_>) {
        let mut separate = false;
        macro_rules! say {
            ($flag:ident, $name:literal) => {
                if self.contains(Self::$flag) {
                    if separate {
                        defmt::write!(f, ", ");
                    }
                    defmt::write!(f, $name);
                    separate = true;
                }
            };
        }
        say!(OPEN, "sensor open");
        say!(SHORTED, "sensor shorted");
        say!(OUTSIDE, "temperature outside");
        say!(COLD_JUNCTION_OUTSIDE, "cold junction outside");
        say!(STALE, "stale");
        say!(ONE_SENSOR, "one sensor");
        if !separate {
            defmt::write!(f, "clear");
        }
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
