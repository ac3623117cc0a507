//! Thermistors whose resistance falls with temperature: Steinhart-Hart and beta.

use super::segment::Segment;
use crate::error::{Error, Field, try_const, unwrap_const, within, within_rounding};
use crate::numeric::{exp, ln};
use crate::units::{Celsius, Kelvin, Ohms};

/// The smallest and the largest resistance.
const RESISTANCES: (f64, f64) = (0.1, 1e8);
/// The lowest and the highest temperature, C.
const TEMPERATURES: (f64, f64) = (-100.0, 500.0);

/// What double precision may make of a resistance at an end of the domain, as a part of it.
const RESISTANCE_ROUNDING: f64 = 2e-14;
/// The same of a temperature, C: of the flattest thermistors, whose coefficients nearly cancel.
const TEMPERATURE_ROUNDING: f64 = 1e-10;

/// A thermistor with a negative coefficient: `1/T = a + b ln R + c (ln R)^3`, T in kelvin, R in ohm.
///
/// This is the equation of Steinhart and Hart; with `c = 0` it is the beta model, `b = 1 / beta`. It is good
/// for resistances of 0.1 ohm to 100 megohm and temperatures of -100 to 500 C, as far as the coefficients go:
/// they are a fit, and hold between the points that they were fitted to. In that domain the resistance has to
/// fall with temperature, which every constructor checks.
///
/// Errors of double precision, sampled against 50 digits on two thermistors: temperature 2e-13 C,
/// resistance 1e-14 of itself.
///
/// ```
/// use gaugewright::{Error, temperature::Thermistor, units::{Celsius, Ohms}};
///
/// const PROBE: Thermistor = Thermistor::steinhart_hart(1.004e-3, 2.5e-4, 6.1e-8);
/// // Invented coefficients.
/// assert!((PROBE.temperature(Ohms(10_000.0))?.0 - 24.98).abs() < 0.01);
/// assert!((PROBE.resistance(Celsius(-40.0))?.0 - 310_763.6).abs() < 0.1);
/// # Ok::<(), Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Thermistor {
    /// Of 1/T in ascending powers of ln R.
    inverse_temperature: [f64; 4],
}

impl Thermistor {
    /// From the three coefficients, all in 1/K: `a` within +-0.1, `b` 1e-6 to 0.01, `c` within +-1e-5. A `c`
    /// below zero is accepted as long as 1/T rises with ln R over the whole domain of resistances.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a coefficient out of range, or a slope of 1/T against ln R that is not positive
    /// somewhere.
    ///
    /// ```
    /// use gaugewright::temperature::Thermistor;
    /// assert!(Thermistor::try_steinhart_hart(1.13e-3, 2.34e-4, 8.8e-8).is_ok());
    /// let error = Thermistor::try_steinhart_hart(1.13e-3, 2.34e-4, -1e-6).unwrap_err();
    /// assert!(error.to_string().starts_with("slope of 1/T against ln R"));
    /// ```
    pub const fn try_steinhart_hart(a: f64, b: f64, c: f64) -> Result<Self, Error> {
        try_const!(within(Field::ThermistorCoefficient, a, -0.1, 0.1));
        try_const!(within(Field::ThermistorCoefficient, b, 1e-6, 1e-2));
        try_const!(within(Field::ThermistorCoefficient, c, -1e-5, 1e-5));
        // The slope b + 3 c L^2 is smallest where L is zero or largest.
        let widest = ln(RESISTANCES.1);
        let at_widest = b + 3.0 * c * widest * widest;
        try_const!(Field::ThermistorSlope.check(at_widest));
        Ok(Self { inverse_temperature: [a, b, 0.0, c] })
    }

    /// Through three points, each a resistance with its temperature, in any order. The coefficients follow
    /// exactly; the points should span the range of use.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a point outside the domain, two resistances less than a thousandth apart, or
    /// coefficients that [`try_steinhart_hart`](Self::try_steinhart_hart) refuses.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermistor, units::{Celsius, Ohms}};
    /// let probe = Thermistor::try_through([
    ///     (Ohms(32_650.0), Celsius(0.0)),
    ///     (Ohms(10_000.0), Celsius(25.0)),
    ///     (Ohms(1_752.0), Celsius(70.0)),
    /// ])?;
    /// assert!((probe.temperature(Ohms(10_000.0))?.0 - 25.0).abs() < 1e-10);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn try_through(points: [(Ohms, Celsius); 3]) -> Result<Self, Error> {
        let mut l = [0.0; 3];
        let mut y = [0.0; 3];
        let mut k = 0;
        while k < 3 {
            (l[k], y[k]) = try_const!(point(points[k]));
            k += 1;
        }
        // Divided differences: those of L^3 are L1^2 + L1 L2 + L2^2, and then L1 + L2 + L3.
        let first = try_const!(slope(l[0], y[0], l[1], y[1]));
        let second = try_const!(slope(l[1], y[1], l[2], y[2]));
        try_const!(slope(l[0], y[0], l[2], y[2]));
        let c = (second - first) / (l[2] - l[0]) / (l[0] + l[1] + l[2]);
        let b = first - c * (l[0] * l[0] + l[0] * l[1] + l[1] * l[1]);
        let a = y[0] - l[0] * (b + c * l[0] * l[0]);
        Self::try_steinhart_hart(a, b, c)
    }

    /// By the beta model: `R = R0 exp(beta (1/T - 1/T0))`. Beta from 100 to 20 000 K.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a point outside the domain, a beta out of range, or both such that
    /// [`try_steinhart_hart`](Self::try_steinhart_hart) refuses what they come to.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermistor, units::{Celsius, Kelvin, Ohms}};
    /// let bead = Thermistor::try_beta(Ohms(10_000.0), Celsius(25.0), Kelvin(3950.0))?;
    /// assert!((bead.temperature(Ohms(5_000.0))?.0 - 41.5).abs() < 0.1);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn try_beta(resistance: Ohms, at: Celsius, beta: Kelvin) -> Result<Self, Error> {
        let (l, y) = try_const!(point((resistance, at)));
        try_const!(Field::ThermistorBeta.check(beta.0));
        Self::try_steinhart_hart(y - l / beta.0, 1.0 / beta.0, 0.0)
    }

    /// By the beta model through two points, in any order.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a point outside the domain, two resistances less than a thousandth apart, or a
    /// beta out of the range of [`try_beta`](Self::try_beta), as where the resistance rises.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermistor, units::{Celsius, Ohms}};
    /// let bead = Thermistor::try_beta_through((Ohms(10_000.0), Celsius(25.0)), (Ohms(3_603.0), Celsius(50.0)))?;
    /// assert!((bead.temperature(Ohms(3_603.0))?.0 - 50.0).abs() < 1e-10);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn try_beta_through(one: (Ohms, Celsius), other: (Ohms, Celsius)) -> Result<Self, Error> {
        let (l0, y0) = try_const!(point(one));
        let (l1, y1) = try_const!(point(other));
        let beta = 1.0 / try_const!(slope(l0, y0, l1, y1));
        Self::try_beta(one.0, one.1, Kelvin(beta))
    }

    /// [`try_steinhart_hart`](Self::try_steinhart_hart) for constants.
    ///
    /// # Panics
    /// Where it gives an error: the build stops with its words.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermistor, units::*};
    /// const PROBE: Thermistor = Thermistor::steinhart_hart(1.13e-3, 2.34e-4, 8.8e-8);
    /// assert!(PROBE.resistance(Celsius(80.0))?.0 < PROBE.resistance(Celsius(20.0))?.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn steinhart_hart(a: f64, b: f64, c: f64) -> Self {
        unwrap_const(Self::try_steinhart_hart(a, b, c))
    }

    /// [`try_through`](Self::try_through) for constants.
    ///
    /// # Panics
    /// Where it gives an error: the build stops with its words.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermistor, units::*};
    /// const PROBE: Thermistor = Thermistor::through([
    ///     (Ohms(32_650.0), Celsius(0.0)),
    ///     (Ohms(10_000.0), Celsius(25.0)),
    ///     (Ohms(1_752.0), Celsius(70.0)),
    /// ]);
    /// assert!(PROBE.resistance(Celsius(80.0))?.0 < PROBE.resistance(Celsius(20.0))?.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn through(points: [(Ohms, Celsius); 3]) -> Self {
        unwrap_const(Self::try_through(points))
    }

    /// [`try_beta`](Self::try_beta) for constants.
    ///
    /// # Panics
    /// Where it gives an error: the build stops with its words.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermistor, units::*};
    /// const PROBE: Thermistor = Thermistor::beta(Ohms(10_000.0), Celsius(25.0), Kelvin(3950.0));
    /// assert!(PROBE.resistance(Celsius(80.0))?.0 < PROBE.resistance(Celsius(20.0))?.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn beta(resistance: Ohms, at: Celsius, beta: Kelvin) -> Self {
        unwrap_const(Self::try_beta(resistance, at, beta))
    }

    /// [`try_beta_through`](Self::try_beta_through) for constants.
    ///
    /// # Panics
    /// Where it gives an error: the build stops with its words.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermistor, units::*};
    /// const PROBE: Thermistor = Thermistor::beta_through((Ohms(10_000.0), Celsius(25.0)), (Ohms(3_603.0), Celsius(50.0)));
    /// assert!(PROBE.resistance(Celsius(80.0))?.0 < PROBE.resistance(Celsius(20.0))?.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn beta_through(one: (Ohms, Celsius), other: (Ohms, Celsius)) -> Self {
        unwrap_const(Self::try_beta_through(one, other))
    }

    /// The coefficients a, b and c, in 1/K.
    ///
    /// ```
    /// use gaugewright::temperature::Thermistor;
    /// let probe = Thermistor::try_steinhart_hart(1.13e-3, 2.34e-4, 8.8e-8)?;
    /// assert_eq!(probe.coefficients(), [1.13e-3, 2.34e-4, 8.8e-8]);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn coefficients(&self) -> [f64; 3] {
        let [a, b, _, c] = self.inverse_temperature;
        [a, b, c]
    }

    /// Temperature for a resistance.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a resistance outside 0.1 ohm to 100 megohm, or one whose temperature is outside
    /// -100 to 500 C.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermistor, units::Ohms};
    /// let probe = Thermistor::try_steinhart_hart(1.004e-3, 2.5e-4, 6.1e-8)?;
    /// assert!((probe.temperature(Ohms(12_950.8013))?.0 - 18.99).abs() < 1e-5);
    /// // A broken wire is not a cold day.
    /// assert!(probe.temperature(Ohms(9e7)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn temperature(&self, resistance: Ohms) -> Result<Celsius, Error> {
        let rounding = RESISTANCE_ROUNDING * if resistance.0 < 1.0 { RESISTANCES.0 } else { RESISTANCES.1 };
        let resistance =
            try_const!(within_rounding(Field::SensorResistance, resistance.0, RESISTANCES, rounding));
        let y = self.curve().at(ln(resistance));
        // Where the equation has left every temperature behind, 1/T is zero or negative: beyond all heat.
        let temperature = if y > 0.0 { Kelvin(1.0 / y).celsius() } else { Celsius(f64::INFINITY) };
        let celsius = try_const!(within_rounding(
            Field::Temperature,
            temperature.0,
            TEMPERATURES,
            TEMPERATURE_ROUNDING
        ));
        Ok(Celsius(celsius))
    }

    /// Resistance at a temperature: the exact inverse, by solving the cubic.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a temperature outside -100 to 500 C, or outside what 0.1 ohm to 100 megohm stand
    /// for; the range that is reported is the common one.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermistor, units::Celsius};
    /// let probe = Thermistor::try_steinhart_hart(1.004e-3, 2.5e-4, 6.1e-8)?;
    /// assert!((probe.resistance(Celsius(18.99))?.0 - 12_950.8013).abs() < 1e-4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn resistance(&self, temperature: Celsius) -> Result<Ohms, Error> {
        let curve = self.curve();
        let (hottest, coldest) = (curve.at(curve.low), curve.at(curve.high));
        let mut low = TEMPERATURES.0;
        let mut high = TEMPERATURES.1;
        if hottest * Celsius(high).kelvin().0 > 1.0 {
            high = Kelvin(1.0 / hottest).celsius().0;
        }
        if coldest * Celsius(low).kelvin().0 < 1.0 {
            low = if coldest > 0.0 { Kelvin(1.0 / coldest).celsius().0 } else { f64::INFINITY };
        }
        let celsius =
            try_const!(within_rounding(Field::Temperature, temperature.0, (low, high), TEMPERATURE_ROUNDING));
        let logarithm = curve.argument_of(1.0 / Celsius(celsius).kelvin().0, None);
        Ok(Ohms(exp(logarithm)))
    }

    /// 1/T against ln R, over the domain of resistances.
    const fn curve(&self) -> Segment<'_> {
        Segment {
            low: const { ln(RESISTANCES.0) },
            high: const { ln(RESISTANCES.1) },
            coefficients: &self.inverse_temperature,
            exponential: None,
        }
    }
}

/// ln R and 1/T of a point inside the domain.
const fn point((resistance, temperature): (Ohms, Celsius)) -> Result<(f64, f64), Error> {
    try_const!(within(Field::SensorResistance, resistance.0, RESISTANCES.0, RESISTANCES.1));
    try_const!(within(Field::Temperature, temperature.0, TEMPERATURES.0, TEMPERATURES.1));
    Ok((ln(resistance.0), 1.0 / temperature.kelvin().0))
}

/// The slope between two points that are far enough apart.
const fn slope(l0: f64, y0: f64, l1: f64, y1: f64) -> Result<f64, Error> {
    try_const!(Field::ThermistorPoints.check((l1 - l0).abs()));
    Ok((y1 - y0) / (l1 - l0))
}
