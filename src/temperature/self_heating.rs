//! The heat of the measuring current in a sensor.

use crate::error::{Error, Field, try_const, within};
use crate::units::{Celsius, Milliamperes, Milliwatts, MilliwattsPerCelsius, Ohms};

/// How much warmer than its surroundings a sensor is for the power that is turned to heat in it.
///
/// The dissipation constant is that of the sensor as mounted: still air, moving water and a bond to metal
/// differ by orders of magnitude. It can be found by measuring at two currents.
///
/// ```
/// use gaugewright::{temperature::SelfHeating, units::*};
/// let in_air = SelfHeating::new(MilliwattsPerCelsius(2.5));
/// // 1 mA through 100 ohm is 0.1 mW.
/// let rise = in_air.rise_at(Milliamperes(1.0), Ohms(100.0))?;
/// assert!((rise.0 - 0.04).abs() < 1e-15);
/// // The surroundings' temperature, from the sensor's.
/// let surroundings = Celsius(21.34 - rise.0);
/// assert!((surroundings.0 - 21.3).abs() < 1e-12);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct SelfHeating {
    dissipation: f64,
}

impl SelfHeating {
    /// From the dissipation constant, 1e-6 to 1e6 mW/C; checked when it is used.
    ///
    /// ```
    /// use gaugewright::{temperature::SelfHeating, units::*};
    /// assert!(SelfHeating::new(MilliwattsPerCelsius(0.0)).rise(Milliwatts(1.0)).is_err());
    /// ```
    #[must_use]
    pub const fn new(dissipation: MilliwattsPerCelsius) -> Self {
        Self { dissipation: dissipation.0 }
    }

    /// Degrees to subtract from the sensor's temperature, for a power.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: the dissipation constant, or a power outside 0 to 1e6 mW.
    ///
    /// ```
    /// use gaugewright::{temperature::SelfHeating, units::*};
    /// assert_eq!(SelfHeating::new(MilliwattsPerCelsius(4.0)).rise(Milliwatts(2.0))?.0, 0.5);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn rise(&self, power: Milliwatts) -> Result<Celsius, Error> {
        try_const!(Field::DissipationConstant.check(self.dissipation));
        try_const!(Field::SensorPower.check(power.0));
        Ok(Celsius(power.0 / self.dissipation))
    }

    /// The same for a current, either way, through a resistance. Where the current flows for a part of the
    /// time only, give its root mean square.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: the dissipation constant, a current beyond 1000 mA, a resistance outside 0 to 100
    /// megohm, or a power beyond 1e6 mW.
    ///
    /// ```
    /// use gaugewright::{temperature::SelfHeating, units::*};
    /// let bonded = SelfHeating::new(MilliwattsPerCelsius(8.0));
    /// assert_eq!(bonded.rise_at(Milliamperes(2.0), Ohms(1000.0))?.0, 0.5);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn rise_at(&self, current: Milliamperes, resistance: Ohms) -> Result<Celsius, Error> {
        try_const!(Field::SensorCurrent.check(current.0));
        try_const!(within(Field::SensorResistance, resistance.0, 0.0, 1e8));
        self.rise(Milliwatts(current.0 * current.0 * resistance.0 * 1e-3))
    }
}
