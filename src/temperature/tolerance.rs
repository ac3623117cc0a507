//! Tolerance classes of platinum sensors by IEC 60751, and the temperatures at which they hold.

use crate::error::{Error, Field, try_const, within};
use crate::units::Celsius;

/// How the platinum of a sensor is made, which limits the temperatures at which its class holds.
///
/// ```
/// use gaugewright::temperature::{PlatinumElement, ToleranceClass};
/// let (low, high) = ToleranceClass::B.range(PlatinumElement::Film);
/// assert_eq!((low.0, high.0), (-50.0, 500.0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum PlatinumElement {
    /// A winding of wire.
    WireWound,
    /// A film on a ceramic.
    Film,
}

/// Tolerance class of a platinum sensor by IEC 60751.
///
/// AA, A, B and C are the standard's classes of thermometers. Bare resistors have classes of their own there (W and F with a
/// number). Here a class is that of the finished thermometer.
///
/// | class | tolerance, C | wire wound, C | film, C |
/// |---|---|---|---|
/// | AA | 0.1 + 0.0017 abs(t) | -50 to 250 | 0 to 150 |
/// | A | 0.15 + 0.002 abs(t) | -100 to 450 | -30 to 300 |
/// | B | 0.3 + 0.005 abs(t) | -196 to 600 | -50 to 500 |
/// | C | 0.6 + 0.01 abs(t) | -196 to 600 | -50 to 600 |
///
/// All numbers of this table are from memory: the printed standard was not at hand. What
/// the leads of the installation and the instrument add is not in them.
///
/// ```
/// use gaugewright::{temperature::{PlatinumElement, ToleranceClass}, units::Celsius};
/// let tolerance = ToleranceClass::A.tolerance(PlatinumElement::Film, Celsius(-20.0))?;
/// assert!((tolerance.0 - 0.19).abs() < 1e-15);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum ToleranceClass {
    /// The closest.
    AA,
    /// Half of class B at 0 C.
    A,
    /// The common one.
    B,
    /// Twice class B.
    C,
}

impl ToleranceClass {
    /// The temperatures at which the class holds. Outside them the standard states no tolerance.
    ///
    /// ```
    /// use gaugewright::temperature::{PlatinumElement, ToleranceClass};
    /// assert_eq!(ToleranceClass::AA.range(PlatinumElement::WireWound).1.0, 250.0);
    /// ```
    #[must_use]
    pub const fn range(self, element: PlatinumElement) -> (Celsius, Celsius) {
        let (low, high) = match (self, element) {
            (Self::AA, PlatinumElement::WireWound) => (-50.0, 250.0),
            (Self::A, PlatinumElement::WireWound) => (-100.0, 450.0),
            (Self::B | Self::C, PlatinumElement::WireWound) => (-196.0, 600.0),
            (Self::AA, PlatinumElement::Film) => (0.0, 150.0),
            (Self::A, PlatinumElement::Film) => (-30.0, 300.0),
            (Self::B, PlatinumElement::Film) => (-50.0, 500.0),
            (Self::C, PlatinumElement::Film) => (-50.0, 600.0),
        };
        (Celsius(low), Celsius(high))
    }

    /// The largest difference between the sensor's temperature by the standard's equation and the true one,
    /// either way, in degrees.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a temperature at which the class does not hold.
    ///
    /// ```
    /// use gaugewright::{temperature::{PlatinumElement, ToleranceClass}, units::Celsius};
    /// let class = ToleranceClass::B;
    /// assert_eq!(class.tolerance(PlatinumElement::WireWound, Celsius(100.0))?.0, 0.8);
    /// assert!(class.tolerance(PlatinumElement::Film, Celsius(-100.0)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn tolerance(self, element: PlatinumElement, at: Celsius) -> Result<Celsius, Error> {
        let (low, high) = self.range(element);
        try_const!(within(Field::Temperature, at.0, low.0, high.0));
        let (fixed, per_degree) = match self {
            Self::AA => (0.1, 0.0017),
            Self::A => (0.15, 0.002),
            Self::B => (0.3, 0.005),
            Self::C => (0.6, 0.01),
        };
        Ok(Celsius(fixed + per_degree * at.0.abs()))
    }
}
