//! What would keep a promise that a kernel's error bound misses.

use super::BuildMessage;
use crate::units::{Celsius, Microstrain};

/// Narrower declarations with which the same channel keeps the promise, each for itself unless they are only enough
/// [`together`](Self::together). Each was tried:
/// the channel that it makes compiles and its bound is within the promise.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, Error, Gauge, ThermalOutput, fixed, units::*};
/// # let channel = Channel::new(Gauge::new(GaugeFactor(3.2)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.05)));
/// let wide = channel.strain_within(Microstrain(45_000.0));
/// let promise = Nanostrain(0.5);
/// let Err(Error::Bound { remedy, .. }) = wide.try_fixed_within::<4, 1>(promise) else { panic!() };
/// let limit = remedy.strain.unwrap();
/// assert!(limit.0 > 25_000.0);
/// let kept: fixed::Kernel = channel.strain_within(limit).fixed_within(promise);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Remedy {
    /// For [`strain_within`](crate::Channel::strain_within): nearly the largest that does, rounded down to three digits.
    pub strain: Option<Microstrain>,
    /// For [`temperature_within`](crate::Channel::temperature_within): nearly the widest range around the middle of the
    /// present one that does.
    pub temperatures: Option<(Celsius, Celsius)>,
    /// Neither range is enough without the other; this is nearly the largest share of both that is.
    pub together: bool,
    /// The highest degree below the present one that a package's thermal output may have.
    pub degree: Option<usize>,
}

impl Remedy {
    pub(crate) const NOTHING: Self = Self { strain: None, temperatures: None, together: false, degree: None };

    pub(super) const FIRST: &str = "; it would hold for ";
    pub(super) const NEXT: &str = ", or for ";
    pub(super) const BOTH: &str = " together with ";
    pub(super) const STRAIN: &str = "strain within ";
    pub(super) const DEGREE: &str = "a thermal output of degree ";
    pub(super) const NONE: &str = "; no narrower range and no lower degree would do";

    /// Nothing would do.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Error, Gauge, ThermalOutput, fixed, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// // A step of the result is 0.058 nanostrain.
    /// let result: Result<fixed::Kernel, Error> = channel.try_fixed_within(Nanostrain(0.01));
    /// assert!(matches!(result, Err(Error::Bound { remedy, .. }) if remedy.is_none()));
    /// ```
    #[must_use]
    pub const fn is_none(&self) -> bool {
        self.strain.is_none() && self.temperatures.is_none() && self.degree.is_none()
    }
}

impl core::fmt::Display for Remedy {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(BuildMessage::EMPTY.remedy(self).as_str())
    }
}

/// The words of [`Display`](core::fmt::Display).
#[cfg(feature = "defmt")]
impl defmt::Format for Remedy {
    fn format(&self, f: defmt::Formatter<'_>) {
        defmt::write!(f, "{=str}", BuildMessage::EMPTY.remedy(self).as_str());
    }
}
