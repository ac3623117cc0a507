//! Platinum resistors: the Callendar-Van Dusen equation of IEC 60751 and its inverse.

use super::segment::Segment;
use crate::error::{Error, Field, try_const, within, within_rounding};
use crate::units::{Celsius, Ohms, OhmsPerCelsius};

/// What double precision may make of the resistance at an end of the range, as a part of it.
const ROUNDING: f64 = 8.0 * f64::EPSILON;

/// A platinum resistor over -200 to 850 C.
///
/// `R = R0 (1 + a t + b t^2)` from 0 C up, `R = R0 (1 + a t + b t^2 + c (t - 100) t^3)` below, the equation
/// of Callendar and Van Dusen as IEC 60751 has it. Its values are checked when it is used, or by
/// [`check`](Self::check).
///
/// Errors of double precision, sampled against 50 digits over the whole range: resistance and sensitivity
/// within 1e-15 of themselves (a few units in the last place), temperature from resistance within 3e-13 C.
///
/// ```
/// use gaugewright::{temperature::Platinum, units::{Celsius, Ohms}};
///
/// const PT100: Platinum = Platinum::iec60751(Ohms(100.0));
/// assert_eq!(PT100.resistance(Celsius(0.0))?.0, 100.0);
/// assert!((PT100.resistance(Celsius(-200.0))?.0 - 18.52).abs() < 0.005);
/// assert!((PT100.temperature(Ohms(138.5055))?.0 - 100.0).abs() < 1e-9);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Platinum {
    at_zero: f64,
    a: f64,
    b: f64,
    c: f64,
}

impl Platinum {
    /// The lowest temperature of the equation.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Platinum::LOW.0, -200.0);
    /// ```
    pub const LOW: Celsius = Celsius(-200.0);

    /// The highest temperature of the equation.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Platinum::HIGH.0, 850.0);
    /// ```
    pub const HIGH: Celsius = Celsius(850.0);

    /// A sensor by IEC 60751, from its resistance at 0 C: 100 ohm for a Pt100, 1000 ohm for a Pt1000. Allowed
    /// are 0.1 ohm to 1 megohm.
    ///
    /// ```
    /// use gaugewright::{temperature::Platinum, units::{Celsius, Ohms}};
    /// let pt1000 = Platinum::iec60751(Ohms(1000.0));
    /// assert!((pt1000.resistance(Celsius(25.0))?.0 - 1097.35).abs() < 0.005);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn iec60751(at_zero: Ohms) -> Self {
        Self::callendar_van_dusen(at_zero, 3.9083e-3, -5.775e-7, -4.183e-12)
    }

    /// A sensor with constants of its own, as a calibration gives them: `a` in 1/C, `b` in 1/C^2, `c` in
    /// 1/C^4. Allowed are 0.003 to 0.0045 for `a`, +-1e-6 for `b` and +-1e-11 for `c`: within these the
    /// resistance rises with temperature over the whole range, so that there is one temperature for each.
    ///
    /// ```
    /// use gaugewright::{temperature::Platinum, units::{Celsius, Ohms}};
    /// let calibrated = Platinum::callendar_van_dusen(Ohms(99.985), 3.9075e-3, -5.77e-7, -4.2e-12);
    /// assert_eq!(calibrated.check(), Ok(()));
    /// assert!((calibrated.resistance(Celsius(100.0))?.0 - 138.477).abs() < 0.001);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn callendar_van_dusen(at_zero: Ohms, a: f64, b: f64, c: f64) -> Self {
        Self { at_zero: at_zero.0, a, b, c }
    }

    /// Whether every constant is allowed. All other functions check the same.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`] with the field that is wrong, its value and the range.
    ///
    /// ```
    /// use gaugewright::{temperature::Platinum, units::Ohms};
    /// let error = Platinum::iec60751(Ohms(0.0)).check().unwrap_err();
    /// assert_eq!(
    ///     error.to_string(),
    ///     "resistance of the temperature sensor at 0 C (ohm) is 0, allowed: 0.1 to 1000000"
    /// );
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        try_const!(Field::ResistanceAtZero.check(self.at_zero));
        try_const!(within(Field::CallendarVanDusen, self.a, 3e-3, 4.5e-3));
        try_const!(within(Field::CallendarVanDusen, self.b, -1e-6, 1e-6));
        within(Field::CallendarVanDusen, self.c, -1e-11, 1e-11)
    }

    /// Resistance at a temperature.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a constant that is not allowed, or a temperature outside -200 to 850 C.
    ///
    /// ```
    /// use gaugewright::{temperature::Platinum, units::{Celsius, Ohms}};
    /// let pt100 = Platinum::iec60751(Ohms(100.0));
    /// assert!((pt100.resistance(Celsius(850.0))?.0 - 390.481).abs() < 0.001);
    /// assert!(pt100.resistance(Celsius(850.1)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn resistance(&self, temperature: Celsius) -> Result<Ohms, Error> {
        let (relative, _) = try_const!(self.relative(temperature));
        Ok(Ohms(self.at_zero * relative))
    }

    /// Change of resistance with temperature. At 0 C both branches give the same.
    ///
    /// # Errors
    ///
    /// As [`resistance`](Self::resistance).
    ///
    /// ```
    /// use gaugewright::{temperature::Platinum, units::{Celsius, Ohms}};
    /// assert_eq!(Platinum::iec60751(Ohms(100.0)).sensitivity(Celsius(0.0))?.0, 0.39083);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn sensitivity(&self, temperature: Celsius) -> Result<OhmsPerCelsius, Error> {
        let (_, slope) = try_const!(self.relative(temperature));
        Ok(OhmsPerCelsius(self.at_zero * slope))
    }

    /// Temperature for a resistance: the exact inverse of [`resistance`](Self::resistance), not an
    /// approximation, down to the rounding of double precision.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a constant that is not allowed, or a resistance outside what -200 to 850 C give, by more
    /// than the rounding of these two (2e-15 of themselves).
    ///
    /// ```
    /// use gaugewright::{temperature::Platinum, units::Ohms};
    /// let pt100 = Platinum::iec60751(Ohms(100.0));
    /// assert_eq!(pt100.temperature(Ohms(100.0))?.0, 0.0);
    /// // A sensor that is short-circuited or broken is refused.
    /// assert!(pt100.temperature(Ohms(0.3)).is_err());
    /// assert!(pt100.temperature(Ohms(1e9)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn temperature(&self, resistance: Ohms) -> Result<Celsius, Error> {
        let lowest = try_const!(self.resistance(Self::LOW));
        let highest = try_const!(self.resistance(Self::HIGH));
        let rounding = ROUNDING * if resistance.0 < self.at_zero { lowest.0 } else { highest.0 };
        let range = (lowest.0, highest.0);
        let resistance = try_const!(within_rounding(Field::SensorResistance, resistance.0, range, rounding));
        Ok(self.solve(Ohms(resistance), None))
    }

    /// The inverse, for constants that are allowed and a resistance in range; searched from a temperature that is `near`, if there is one.
    pub(super) const fn solve(&self, resistance: Ohms, near: Option<f64>) -> Celsius {
        let cold = resistance.0 < self.at_zero;
        let coefficients = self.coefficients(cold);
        Celsius(Self::segment(&coefficients, cold).argument_of(resistance.0 / self.at_zero, near))
    }

    /// Resistance over that at 0 C, and its slope.
    const fn relative(&self, temperature: Celsius) -> Result<(f64, f64), Error> {
        try_const!(self.check());
        try_const!(within(Field::Temperature, temperature.0, Self::LOW.0, Self::HIGH.0));
        let cold = temperature.0 < 0.0;
        let coefficients = self.coefficients(cold);
        Ok(Self::segment(&coefficients, cold).value_and_slope(temperature.0))
    }

    /// The equation of the branch in ascending powers.
    const fn coefficients(&self, cold: bool) -> [f64; 5] {
        if cold { [1.0, self.a, self.b, -100.0 * self.c, self.c] } else { [1.0, self.a, self.b, 0.0, 0.0] }
    }

    const fn segment(coefficients: &[f64; 5], cold: bool) -> Segment<'_> {
        let (low, high) = if cold { (Self::LOW.0, 0.0) } else { (0.0, Self::HIGH.0) };
        Segment { low, high, coefficients, exponential: None }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// With the allowed constants the resistance is positive and rises: here in every corner of them.
    #[test]
    fn every_allowed_set_of_constants_rises() {
        for a in [3e-3, 4.5e-3] {
            for b in [-1e-6, 1e-6] {
                for c in [-1e-11, 1e-11] {
                    let sensor = Platinum::callendar_van_dusen(Ohms(100.0), a, b, c);
                    let mut last = 0.0;
                    for i in -2000..=8500 {
                        let t = Celsius(f64::from(i) * 0.1);
                        let resistance = sensor.resistance(t).unwrap().0;
                        assert!(resistance > last, "{sensor:?} at {t}");
                        assert!(sensor.sensitivity(t).unwrap().0 > 0.0, "{sensor:?} at {t}");
                        last = resistance;
                    }
                }
            }
        }
    }
}
