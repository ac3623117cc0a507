//! What a kernel returns: strain, and whether it can be believed.

use crate::sample::flags;

flags! {
    /// What was out of range when a reading was made. A value that had to
    /// be clamped to a range has the flag of that.
    ///
    /// ```
    /// use gaugewright::Flags;
    /// let flags = Flags::CODE_AT_RAIL | Flags::TEMPERATURE_OUTSIDE;
    /// assert!(flags.contains(Flags::CODE_AT_RAIL) && !flags.is_clear());
    /// assert_eq!(flags.to_string(), "code at rail, temperature outside");
    /// ```
    // As wide as the strain of most kernels: the two of a reading are then stored as one stream in blocks.
    Flags(u32), "gaugewright::Flags", CODE_AT_RAIL, STRAIN_OUTSIDE;

    /// All in range.
    CLEAR;

    /// The code is at or beyond a rail of the converter: an open or shorted gauge, a broken lead, or
    /// too much signal. The strain is the one at the nearest end of the code window, and is no measurement.
    CODE_AT_RAIL = 4 => "code at rail";

    /// The temperature lies outside the range declared for the channel (at most the range that the
    /// thermal output was fitted on). The strain is the one at the nearest end of that range.
    TEMPERATURE_OUTSIDE = 1 => "temperature outside";

    /// The strain lies outside the range declared for the channel. The value is right within the
    /// kernel's bound until the code leaves the window of that range over all declared temperatures;
    /// beyond, it is the strain at the nearest end of the window.
    STRAIN_OUTSIDE = 2 => "strain outside";

    /// The temperature is stale, or its thermometer raised another
    /// [`ThermometerFlags`](crate::temperature::ThermometerFlags). The strain is the one at that temperature. Raised by the
    /// inputs of `device::acquisition`, which pair samples with temperatures; by no kernel.
    TEMPERATURE_DOUBTFUL = 8 => "temperature doubtful";
}

impl Flags {
    /// As a word, for arithmetic.
    #[inline(always)]
    pub(crate) const fn word(self) -> i32 {
        self.0 as i32
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
