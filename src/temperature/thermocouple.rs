//! Thermocouples by the reference functions of ITS-90, and their exact inverse.

mod base_metal;
mod noble_metal;

use super::segment::Segment;
use crate::error::{Error, Field, try_const, within, within_rounding};
use crate::units::{Celsius, MicrovoltsPerCelsius, Millivolts};

/// What double precision may make of an EMF at an end of a range, in mV: the worst of the errors that
/// [`Thermocouple`] lists.
const ROUNDING: f64 = 1e-10;

/// A thermocouple, by its letter.
///
/// EMF against temperature is the reference function of ITS-90 (IEC 60584-1, NIST Monograph 175) for a cold
/// junction at 0 C; the coefficients are those of the NIST ITS-90 Thermocouple Database (SRD 60), digit for
/// digit. Temperature from EMF is the exact inverse of that function, solved, and not the approximate
/// polynomial that is often used in its place and is off by up to 0.06 C.
///
/// | type | EMF, C | temperature, C | EMF, mV |
/// |---|---|---|---|
/// | J | -210 to 1200 | the same | -8.095 to 69.553 |
/// | K | -270 to 1372 | the same | -6.458 to 54.886 |
/// | T | -270 to 400 | the same | -6.258 to 20.872 |
/// | E | -270 to 1000 | the same | -9.835 to 76.373 |
/// | N | -270 to 1300 | the same | -4.345 to 47.513 |
/// | R | -50 to 1768.1 | the same | -0.226 to 21.103 |
/// | S | -50 to 1768.1 | the same | -0.236 to 18.694 |
/// | B | 0 to 1820 | 22 to 1820 | -0.003 to 13.820 |
///
/// **Type B** falls until 21.02 C and rises from there, so that an EMF between -0.0026 mV and 0 stands for
/// two temperatures: one from 0 to 21 C, one up to 42.1 C. [`temperature`](Self::temperature) gives the upper
/// one, and refuses what is within a degree of the lowest EMF, where the slope is nearly zero. The type is
/// meant for hundreds of degrees; a cold junction at room temperature hardly matters for it.
///
/// **Near -270 C** types K, T, E and N hardly change: 0.3 to 1.6 microvolt a degree, where they have 21 to 45
/// at -100 C. What an instrument is off by counts up to 62 times as much in degrees, wires differ there more
/// than anywhere, and the published polynomials of T and E, of degree 14 and 13, cancel so much that double
/// precision keeps eleven digits of them.
///
/// **Joints.** The published functions are polynomials by pieces, and where two meet they differ by up to
/// 7.5e-8 mV (J at 760 C; K at 0 C, R and S at 1664.5 C and B at 630.6 C less than 2.3e-9). The upper piece
/// counts at the joint itself, which gives type K 2e-9 mV at 0 C. An EMF in such a gap gives the joint; where
/// the pieces overlap, an EMF gives the upper of its two temperatures, 4e-7 C away at most.
///
/// Errors of double precision, sampled against 50 digits:
///
/// | | EMF, mV | Seebeck coefficient, uV/C | temperature, C |
/// |---|---|---|---|
/// | all but T, above -200 C | 1.5e-12 | 4e-11 | 1e-10 |
/// | T above -200 C | 3e-12 | 1.5e-10 | 2e-10 |
/// | K and N down to -270 C | 1e-13 | 3e-12 | 1e-10 |
/// | E down to -270 C | 1.5e-11 | 5e-10 | 1e-8 |
/// | T down to -270 C | 6e-11 | 3e-9 | 1e-7 |
///
/// ```
/// use gaugewright::{temperature::Thermocouple, units::{Celsius, Millivolts}};
/// assert!((Thermocouple::K.emf(Celsius(100.0))?.0 - 4.096).abs() < 0.0005);
/// assert!((Thermocouple::K.temperature(Millivolts(4.096))?.0 - 100.0).abs() < 0.02);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Thermocouple {
    /// Iron against copper-nickel.
    J,
    /// Nickel-chromium against nickel-aluminium.
    K,
    /// Copper against copper-nickel.
    T,
    /// Nickel-chromium against copper-nickel.
    E,
    /// Nickel-chromium-silicon against nickel-silicon.
    N,
    /// Platinum with 13 % rhodium against platinum.
    R,
    /// Platinum with 10 % rhodium against platinum.
    S,
    /// Platinum with 30 % rhodium against platinum with 6 % rhodium.
    B,
}

impl Thermocouple {
    /// Every type.
    ///
    /// ```
    /// assert_eq!(gaugewright::temperature::Thermocouple::ALL.len(), 8);
    /// ```
    pub const ALL: [Self; 8] = [Self::J, Self::K, Self::T, Self::E, Self::N, Self::R, Self::S, Self::B];

    /// The temperatures of the reference function.
    ///
    /// ```
    /// use gaugewright::temperature::Thermocouple;
    /// let (low, high) = Thermocouple::N.range();
    /// assert_eq!((low.0, high.0), (-270.0, 1300.0));
    /// ```
    #[must_use]
    pub const fn range(self) -> (Celsius, Celsius) {
        let segments = self.segments();
        (Celsius(segments[0].low), Celsius(segments[segments.len() - 1].high))
    }

    /// The temperatures that [`temperature`](Self::temperature) can give: the same but for type B, which
    /// starts at 22 C.
    ///
    /// ```
    /// use gaugewright::temperature::Thermocouple;
    /// assert_eq!(Thermocouple::B.invertible_range().0.0, 22.0);
    /// assert_eq!(Thermocouple::K.invertible_range(), Thermocouple::K.range());
    /// ```
    #[must_use]
    pub const fn invertible_range(self) -> (Celsius, Celsius) {
        let (low, high) = self.range();
        (if matches!(self, Self::B) { Celsius(22.0) } else { low }, high)
    }

    /// EMF at a temperature, with the cold junction at 0 C.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a temperature outside [`range`](Self::range).
    ///
    /// ```
    /// use gaugewright::{temperature::Thermocouple, units::Celsius};
    /// assert!((Thermocouple::T.emf(Celsius(-200.0))?.0 + 5.603).abs() < 0.0005);
    /// assert!(Thermocouple::T.emf(Celsius(400.5)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn emf(self, temperature: Celsius) -> Result<Millivolts, Error> {
        let (low, high) = self.range();
        try_const!(within(Field::Temperature, temperature.0, low.0, high.0));
        Ok(Millivolts(self.segment_at(temperature.0).at(temperature.0)))
    }

    /// Seebeck coefficient: the change of EMF with temperature, differentiated exactly.
    ///
    /// # Errors
    ///
    /// As [`emf`](Self::emf).
    ///
    /// ```
    /// use gaugewright::{temperature::Thermocouple, units::Celsius};
    /// assert!((Thermocouple::K.seebeck(Celsius(25.0))?.0 - 40.5).abs() < 0.1);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn seebeck(self, temperature: Celsius) -> Result<MicrovoltsPerCelsius, Error> {
        let (low, high) = self.range();
        try_const!(within(Field::Temperature, temperature.0, low.0, high.0));
        let (_, slope) = self.segment_at(temperature.0).value_and_slope(temperature.0);
        Ok(MicrovoltsPerCelsius(slope * 1e3))
    }

    /// Temperature of the hot junction for an EMF, with the cold junction at 0 C.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: an EMF outside what [`invertible_range`](Self::invertible_range) gives, by more than the
    /// rounding of these (1e-10 mV).
    ///
    /// ```
    /// use gaugewright::{temperature::Thermocouple, units::{Celsius, Millivolts}};
    /// let emf = Thermocouple::E.emf(Celsius(-123.4))?;
    /// assert!((Thermocouple::E.temperature(emf)?.0 + 123.4).abs() < 1e-11);
    /// assert!(Thermocouple::E.temperature(Millivolts(f64::NAN)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn temperature(self, emf: Millivolts) -> Result<Celsius, Error> {
        let (low, high) = try_const!(self.emf_range());
        let emf = try_const!(within_rounding(Field::ThermocoupleEmf, emf.0, (low.0, high.0), ROUNDING));
        Ok(self.solve(Millivolts(emf), None))
    }

    /// Temperature of the hot junction from the EMF as measured at a cold junction of known temperature.
    ///
    /// The EMF that the cold junction would have against 0 C is added, and the sum turned to a temperature.
    /// Adding temperatures instead is off by degrees, since the slope is not the same at both ends.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a cold junction outside [`range`](Self::range), or an EMF whose sum with it is
    /// outside what [`temperature`](Self::temperature) takes.
    ///
    /// ```
    /// use gaugewright::{temperature::Thermocouple, units::{Celsius, Millivolts}};
    /// let hot = Thermocouple::K.temperature_with_cold_junction(Millivolts(19.644), Celsius(25.0))?;
    /// assert!((hot.0 - 500.0).abs() < 0.02);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn temperature_with_cold_junction(
        self,
        measured: Millivolts,
        cold: Celsius,
    ) -> Result<Celsius, Error> {
        let (coldest, hottest) = self.range();
        try_const!(within(Field::ColdJunctionTemperature, cold.0, coldest.0, hottest.0));
        let (low, high) = try_const!(self.emf_range());
        let at_cold = try_const!(self.emf(cold)).0;
        let range = (low.0 - at_cold, high.0 - at_cold);
        let measured = try_const!(within_rounding(Field::ThermocoupleEmf, measured.0, range, ROUNDING));
        Ok(self.solve(Millivolts(measured + at_cold), None))
    }

    /// The EMF at the ends of the range that can be inverted.
    const fn emf_range(self) -> Result<(Millivolts, Millivolts), Error> {
        let (low, high) = self.invertible_range();
        Ok((try_const!(self.emf(low)), try_const!(self.emf(high))))
    }

    /// The inverse, for an EMF that is in range but for rounding; searched from a temperature that is `near`, if there is one.
    pub(super) const fn solve(self, emf: Millivolts, near: Option<f64>) -> Celsius {
        let segments = self.segments();
        let mut k = segments.len() - 1;
        while k > 0 && emf.0 < segments[k].at(segments[k].low) {
            k -= 1;
        }
        let lowest = self.invertible_range().0.0;
        let low = if segments[k].low < lowest { lowest } else { segments[k].low };
        Celsius(Segment { low, ..segments[k] }.argument_of(emf.0, near))
    }

    /// The piece for a temperature in range: the upper one at a joint.
    const fn segment_at(self, temperature: f64) -> Segment<'static> {
        let segments = self.segments();
        let mut k = segments.len() - 1;
        while k > 0 && temperature < segments[k].low {
            k -= 1;
        }
        segments[k]
    }

    /// The pieces of the reference function, upwards.
    pub(super) const fn segments(self) -> &'static [Segment<'static>] {
        match self {
            Self::J => &base_metal::J,
            Self::K => &base_metal::K,
            Self::T => &base_metal::T,
            Self::E => &base_metal::E,
            Self::N => &base_metal::N,
            Self::R => &noble_metal::R,
            Self::S => &noble_metal::S,
            Self::B => &noble_metal::B,
        }
    }
}
