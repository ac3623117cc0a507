//! How the resistance of a foil goes with temperature when nothing strains it.

use crate::error::{Error, Field, TEMPERATURES, range_within, try_const, within};
use crate::numeric::Polynomial;
use crate::units::{Celsius, ResistancePerCelsius};

/// Relative change of resistance of a free foil since the gauge's reference temperature, as a polynomial of the
/// temperature above it: `b1 d + b2 d^2 + ...`, degree five at most.
///
/// The first coefficient is the temperature coefficient of resistance at the reference temperature.
///
/// ```
/// use gaugewright::{units::*, commissioning::prediction::FoilResistance};
/// const FOIL: FoilResistance = FoilResistance::new([8.13e-6, -8.9e-8]).between(Celsius(-100.0), Celsius(200.0));
/// let change = FOIL.change(Celsius(124.0), Celsius(24.0))?;
/// assert!((change + 77e-6).abs() < 1e-15);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FoilResistance {
    change: Polynomial,
    uncertainty: [f64; FoilResistance::TERMS],
    pub(super) low: f64,
    pub(super) high: f64,
}

impl FoilResistance {
    /// The number of coefficients held.
    ///
    /// ```
    /// assert_eq!(gaugewright::commissioning::prediction::FoilResistance::TERMS, 5);
    /// ```
    pub const TERMS: usize = Polynomial::TERMS - 1;

    /// From up to five coefficients, 1/C to the power of one and up, each within +-1. More do not compile.
    ///
    /// ```
    /// use gaugewright::commissioning::prediction::FoilResistance;
    /// assert_eq!(FoilResistance::new([8e-6, -9e-8]).coefficients(), [8e-6, -9e-8, 0.0, 0.0, 0.0]);
    /// ```
    #[must_use]
    pub const fn new<const N: usize>(coefficients: [f64; N]) -> Self {
        const { assert!(N <= Self::TERMS, "a foil's resistance is of degree five at most") };
        let mut change = [0.0; Polynomial::TERMS];
        let mut k = 0;
        while k < N {
            change[k + 1] = coefficients[k];
            k += 1;
        }
        Self {
            change: Polynomial::new(change),
            uncertainty: [0.0; Self::TERMS],
            low: f64::NAN,
            high: f64::NAN,
        }
    }

    /// Standard uncertainty of each coefficient, in its own unit; taken as independent of each other.
    ///
    /// ```
    /// use gaugewright::commissioning::prediction::FoilResistance;
    /// let foil = FoilResistance::new([8e-6, -9e-8]).standard_uncertainty([1e-6, 2e-9]);
    /// ```
    #[must_use]
    pub const fn standard_uncertainty<const N: usize>(mut self, each: [f64; N]) -> Self {
        const { assert!(N <= Self::TERMS, "a foil's resistance is of degree five at most") };
        let mut k = 0;
        while k < N {
            self.uncertainty[k] = each[k];
            k += 1;
        }
        self
    }

    /// The temperatures that it is good for.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::prediction::FoilResistance};
    /// let foil = FoilResistance::new([8e-6]).between(Celsius(0.0), Celsius(50.0));
    /// assert!(foil.change(Celsius(51.0), Celsius(24.0)).is_err());
    /// ```
    #[must_use]
    pub const fn between(mut self, low: Celsius, high: Celsius) -> Self {
        self.low = low.0;
        self.high = high.0;
        self
    }

    /// The coefficients: relative change of resistance per degree Celsius to the power 1, 2 and so on.
    ///
    /// ```
    /// use gaugewright::commissioning::prediction::FoilResistance;
    /// assert_eq!(FoilResistance::new([]).coefficients(), [0.0; 5]);
    /// ```
    #[must_use]
    pub const fn coefficients(&self) -> [f64; Self::TERMS] {
        let [_, rest @ ..] = self.change.coefficients();
        rest
    }

    /// Checks every number: coefficients within +-1, uncertainties of 0 to 1, temperatures in order and of -273.15 to
    /// 2047 C.
    ///
    /// # Errors
    /// [`Error::Invalid`] for the first that is missing, not finite or out of range, [`Error::Reversed`] for a range
    /// whose upper end lies below its lower one.
    ///
    /// ```
    /// use gaugewright::commissioning::prediction::FoilResistance;
    /// assert!(FoilResistance::new([8e-6]).check().is_err()); // good for which temperatures?
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        let coefficients = self.coefficients();
        let mut k = 0;
        while k < Self::TERMS {
            try_const!(Field::FoilCoefficient.check(coefficients[k]));
            try_const!(Field::FoilUncertainty.check(self.uncertainty[k]));
            k += 1;
        }
        range_within((Field::FoilLow, self.low), (Field::FoilHigh, self.high), TEMPERATURES)
    }

    /// Relative change of resistance from the gauge's reference temperature to another, free of strain.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, and [`Error::Invalid`] for a temperature outside.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::prediction::FoilResistance};
    /// let foil = FoilResistance::new([1e-5]).between(Celsius(0.0), Celsius(50.0));
    /// assert!((foil.change(Celsius(34.0), Celsius(24.0))? - 1e-4).abs() < 1e-18);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn change(&self, temperature: Celsius, reference: Celsius) -> Result<f64, Error> {
        try_const!(self.check());
        try_const!(within(Field::Temperature, temperature.0, self.low, self.high));
        Ok(self.change_and_slope(temperature.0 - reference.0).0)
    }

    /// The temperature coefficient of resistance at a temperature, over the resistance at the reference temperature.
    ///
    /// # Errors
    /// As [`change`](Self::change).
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::prediction::FoilResistance};
    /// let foil = FoilResistance::new([1e-5, 1e-8]).between(Celsius(0.0), Celsius(50.0));
    /// assert!((foil.coefficient_at(Celsius(34.0), Celsius(24.0))?.0 - 1.02e-5).abs() < 1e-18);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn coefficient_at(
        &self,
        temperature: Celsius,
        reference: Celsius,
    ) -> Result<ResistancePerCelsius, Error> {
        try_const!(self.check());
        try_const!(within(Field::Temperature, temperature.0, self.low, self.high));
        Ok(ResistancePerCelsius(self.change_and_slope(temperature.0 - reference.0).1))
    }

    pub(super) const fn change_and_slope(&self, above: f64) -> (f64, f64) {
        self.change.value_and_slope(above)
    }

    /// Standard uncertainty of the change.
    pub(super) fn uncertainty_at(&self, above: f64) -> f64 {
        let mut power = 1.0;
        self.uncertainty.iter().fold(0.0, |sum, each| {
            power *= above;
            libm::hypot(sum, power * each)
        })
    }
}
