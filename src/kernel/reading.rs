//! What a kernel returns: strain, and whether it can be believed.

/// What was out of range when a reading was made. Nothing is held back in silence: a value that had to
/// be held at the end of a range carries the flag that says so.
///
/// ```
/// use gaugewright::Flags;
/// let flags = Flags::CODE_AT_RAIL | Flags::TEMPERATURE_OUTSIDE;
/// assert!(flags.contains(Flags::CODE_AT_RAIL) && !flags.is_clear());
/// assert_eq!(flags.to_string(), "code at rail, temperature outside");
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[repr(transparent)]
// As wide as the strain of most kernels: the two of a reading are then stored as one stream in blocks.
pub struct Flags(u32);

impl Flags {
    /// All in range.
    ///
    /// ```
    /// assert!(gaugewright::Flags::CLEAR.is_clear());
    /// ```
    pub const CLEAR: Self = Self(0);

    /// The temperature lies outside the range declared for the channel (at most the range that the
    /// thermal output was fitted on). The strain is the one at the nearest end of that range.
    ///
    /// ```
    /// assert_eq!(gaugewright::Flags::TEMPERATURE_OUTSIDE.bits(), 1);
    /// ```
    pub const TEMPERATURE_OUTSIDE: Self = Self(1);

    /// The strain lies outside the range declared for the channel. The value is right within the
    /// kernel's bound until the code leaves the window of that range over all declared temperatures;
    /// beyond, it is the strain at the nearest end of the window.
    ///
    /// ```
    /// assert_eq!(gaugewright::Flags::STRAIN_OUTSIDE.bits(), 2);
    /// ```
    pub const STRAIN_OUTSIDE: Self = Self(2);

    /// The code is at or beyond a rail of the converter: an open or shorted gauge, a broken lead, or
    /// too much signal. The strain is the one at the nearest end of the code window, and says nothing.
    ///
    /// ```
    /// assert_eq!(gaugewright::Flags::CODE_AT_RAIL.bits(), 4);
    /// ```
    pub const CODE_AT_RAIL: Self = Self(4);

    /// Every flag there is, with its name.
    ///
    /// ```
    /// assert_eq!(gaugewright::Flags::ALL.len(), 3);
    /// ```
    pub const ALL: [(Self, &'static str); 3] = [
        (Self::CODE_AT_RAIL, "code at rail"),
        (Self::TEMPERATURE_OUTSIDE, "temperature outside"),
        (Self::STRAIN_OUTSIDE, "strain outside"),
    ];

    /// No flag is raised.
    ///
    /// ```
    /// assert!(!gaugewright::Flags::STRAIN_OUTSIDE.is_clear());
    /// ```
    #[must_use]
    #[inline]
    pub const fn is_clear(self) -> bool {
        self.0 == 0
    }

    /// All flags of `other` are raised.
    ///
    /// ```
    /// use gaugewright::Flags;
    /// assert!(!Flags::CLEAR.contains(Flags::STRAIN_OUTSIDE));
    /// ```
    #[must_use]
    #[inline]
    pub const fn contains(self, other: Self) -> bool {
        self.0 & other.0 == other.0
    }

    /// The flags as bits, for a log or a bus.
    ///
    /// ```
    /// assert_eq!(gaugewright::Flags::CLEAR.bits(), 0);
    /// ```
    #[must_use]
    #[inline]
    pub const fn bits(self) -> u8 {
        self.0 as u8
    }

    /// The flags of a logged byte; `None` if it has bits that are no flag.
    ///
    /// ```
    /// use gaugewright::Flags;
    /// assert_eq!(Flags::from_bits(4), Some(Flags::CODE_AT_RAIL));
    /// assert_eq!(Flags::from_bits(128), None);
    /// ```
    #[must_use]
    pub const fn from_bits(bits: u8) -> Option<Self> {
        if bits < 8 { Some(Self(bits as u32)) } else { None }
    }

    /// As a word, for arithmetic.
    #[inline(always)]
    pub(crate) const fn word(self) -> i32 {
        self.0 as i32
    }

    /// `self` if `raised`, otherwise clear.
    #[inline]
    pub(crate) const fn when(self, raised: bool) -> Self {
        Self(self.0 * raised as u32)
    }

    #[inline]
    pub(crate) const fn and(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

impl core::ops::BitOr for Flags {
    type Output = Self;

    fn bitor(self, other: Self) -> Self {
        self.and(other)
    }
}

impl core::ops::BitOrAssign for Flags {
    fn bitor_assign(&mut self, other: Self) {
        *self = self.and(other);
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

#[cfg(feature = "defmt")]
impl defmt::Format for Flags {
    fn format(&self, f: defmt::Formatter<'_>) {
        // Whole texts stay out of the firmware: it sends their number.
        match self.0 {
            0 => defmt::write!(f, "clear"),
            1 => defmt::write!(f, "temperature outside"),
            2 => defmt::write!(f, "strain outside"),
            3 => defmt::write!(f, "temperature outside, strain outside"),
            4 => defmt::write!(f, "code at rail"),
            5 => defmt::write!(f, "code at rail, temperature outside"),
            6 => defmt::write!(f, "code at rail, strain outside"),
            _ => defmt::write!(f, "code at rail, temperature outside, strain outside"),
        }
    }
}

/// Strain and flags of one sample. `S` is [`fixed::Strain`](crate::fixed::Strain), `f32` or `f64`.
///
/// ```
/// use gaugewright::{Flags, Reading};
/// let reading = Reading { strain: 1e-3_f32, flags: Flags::CLEAR };
/// assert_eq!(reading.checked(), Some(1e-3));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[must_use]
pub struct Reading<S> {
    /// The strain. Where a flag is raised, the flag's documentation says what it is.
    pub strain: S,
    /// What was out of range.
    pub flags: Flags,
}

impl<S: Copy> Reading<S> {
    /// The strain if nothing was out of range.
    ///
    /// ```
    /// use gaugewright::{Flags, Reading};
    /// let reading = Reading { strain: 0.5_f64, flags: Flags::CODE_AT_RAIL };
    /// assert_eq!(reading.checked(), None);
    /// ```
    #[inline]
    pub fn checked(self) -> Option<S> {
        if self.flags.is_clear() { Some(self.strain) } else { None }
    }
}
