//! Thermal output from an unloaded run.

use super::choice::Degree;
use super::curve::Curve;
use super::hysteresis::Hysteresis;
use super::run::{Direction, Run, chebyshev, check_uncertainty};
use crate::channel::ThermalOutput;
use crate::error::{Error, Field, within};
use crate::kernel::model::thermal_cancellation;
use crate::numeric::{Float, Polynomial};
use crate::units::{Celsius, GaugeFactor, Microstrain, Percent};

/// Takes in the points of a chamber run, and keeps none.
///
/// `T` is the arithmetic: `f64` or `f32`. A point costs about a hundred products, six square roots and twelve
/// divisions, and every 256th some 270 products more.
///
/// ```
/// use gaugewright::{commissioning::fit::{Degree, Direction, ThermalOutputFit}, units::{Celsius, Microstrain}};
///
/// let mut fit = ThermalOutputFit::<f32>::between(Celsius(0.0), Celsius(50.0))?;
/// for (t, reading) in [(2.0, -40.1), (14.0, -16.2), (25.0, 6.0), (37.0, 30.1), (49.0, 53.9)] {
///     fit.observe(Direction::Heating, Celsius(t), Microstrain(reading))?;
/// }
/// let curve = fit.solve(Degree::Exactly(1))?;
/// assert!((curve.polynomial().coefficients()[1] - 2.0).abs() < 0.01);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ThermalOutputFit<T>(Run<T, { Polynomial::TERMS }>);

impl<T: Float> ThermalOutputFit<T> {
    /// For points between these temperatures, which had better not be much further apart than the points will be.
    ///
    /// # Errors
    /// [`Error::Invalid`]: below -273.15 C, above 2047 C, or less than 0.1 C apart. [`Error::Reversed`]: `high` below `low`.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::fit::ThermalOutputFit};
    /// assert!(ThermalOutputFit::<f64>::between(Celsius(90.0), Celsius(-60.0)).is_err());
    /// ```
    pub fn between(low: Celsius, high: Celsius) -> Result<Self, Error> {
        Run::between(low, high).map(Self)
    }

    /// Takes in one point, of the same weight as all others: indicated strain of the unloaded part.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature outside of the declared ones, a reading beyond a million microstrain, or a fit
    /// whose points come with uncertainties. The fit is as it was.
    ///
    /// ```
    /// use gaugewright::{units::{Celsius, Microstrain}, commissioning::fit::{Direction, ThermalOutputFit}};
    /// let mut fit = ThermalOutputFit::<f64>::between(Celsius(0.0), Celsius(50.0))?;
    /// fit.observe(Direction::Heating, Celsius(20.0), Microstrain(-3.5))?;
    /// assert!(fit.observe(Direction::Heating, Celsius(50.1), Microstrain(60.0)).is_err());
    /// assert_eq!(fit.points(), 1);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn observe(
        &mut self,
        sweep: Direction,
        temperature: Celsius,
        reading: Microstrain,
    ) -> Result<(), Error> {
        self.take(sweep, temperature, reading, None)
    }

    /// Takes in one point with its standard uncertainty, 1e-6 to 1e6 microstrain: points weigh as the square of its reciprocal.
    /// All points of a fit have one, or none has.
    ///
    /// # Errors
    /// As [`observe`](Self::observe), and an uncertainty out of range.
    ///
    /// ```
    /// use gaugewright::{units::{Celsius, Microstrain}, commissioning::fit::{Direction, ThermalOutputFit}};
    /// let mut fit = ThermalOutputFit::<f64>::between(Celsius(0.0), Celsius(50.0))?;
    /// fit.observe_with(Direction::Heating, Celsius(20.0), Microstrain(-3.5), Microstrain(0.4))?;
    /// // How uncertain is this one?
    /// assert!(fit.observe(Direction::Heating, Celsius(30.0), Microstrain(14.0)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn observe_with(
        &mut self,
        sweep: Direction,
        temperature: Celsius,
        reading: Microstrain,
        standard_uncertainty: Microstrain,
    ) -> Result<(), Error> {
        check_uncertainty(standard_uncertainty)?;
        self.take(sweep, temperature, reading, Some(standard_uncertainty.0))
    }

    fn take(
        &mut self,
        sweep: Direction,
        temperature: Celsius,
        reading: Microstrain,
        uncertainty: Option<f64>,
    ) -> Result<(), Error> {
        Field::ChamberReading.check(reading.0)?;
        self.0.observe(sweep, temperature, reading.0, uncertainty)
    }

    /// Takes in all points of another fit, which was declared for the same temperatures: a second run, or a second core's.
    ///
    /// # Errors
    /// [`Error::Invalid`]: other temperatures, or only one of them has points with uncertainties.
    ///
    /// ```
    /// use gaugewright::{units::{Celsius, Microstrain}, commissioning::fit::{Direction, ThermalOutputFit}};
    /// let mut fit = ThermalOutputFit::<f64>::between(Celsius(0.0), Celsius(50.0))?;
    /// fit.observe(Direction::Heating, Celsius(20.0), Microstrain(-3.5))?;
    /// let other = fit;
    /// fit.join(&other)?;
    /// assert_eq!(fit.points(), 2);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn join(&mut self, other: &Self) -> Result<(), Error> {
        self.0.join(&other.0)
    }

    /// Points taken in so far.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::fit::ThermalOutputFit};
    /// assert_eq!(ThermalOutputFit::<f64>::between(Celsius(0.0), Celsius(50.0))?.points(), 0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn points(&self) -> u32 {
        self.0.points()
    }

    /// The curve through the points so far, of both directions, with a constant of its own: the reading at balance is one
    /// like any other and has its scatter. More points can be taken in afterwards.
    ///
    /// # Errors
    /// [`Error::Invalid`]: temperatures that are all equal (within 0.1 C), fewer points than terms and one, temperatures too few or
    /// too close together to tell the powers apart, a degree above 5, or a level of significance out of range.
    ///
    /// ```
    /// use gaugewright::{Error, units::{Celsius, Microstrain}};
    /// use gaugewright::{commissioning::fit::{Degree, Direction, ThermalOutputFit}, error::Field};
    /// let mut fit = ThermalOutputFit::<f64>::between(Celsius(0.0), Celsius(50.0))?;
    /// for t in [10.0, 20.0, 10.0, 20.0, 10.0] {
    ///     fit.observe(Direction::Heating, Celsius(t), Microstrain(t))?;
    /// }
    /// // No parabola through two temperatures.
    /// let error = fit.solve(Degree::Exactly(2)).unwrap_err();
    /// assert!(matches!(error, Error::Invalid { field: Field::FitIndependence, .. }));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn solve(&self, degree: Degree) -> Result<FittedThermalOutput, Error> {
        Ok(FittedThermalOutput { curve: self.0.solve(degree)?, balance: None })
    }

    /// The difference between the two directions, from a curve of this degree through either.
    ///
    /// # Errors
    /// As [`solve`](Self::solve), for either direction; or no temperatures in common.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::fit::ThermalOutputFit};
    /// // Nothing has been read.
    /// assert!(ThermalOutputFit::<f64>::between(Celsius(0.0), Celsius(50.0))?.hysteresis(3).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn hysteresis(&self, degree: usize) -> Result<Hysteresis, Error> {
        let (rising, falling) = self.0.branches(degree)?;
        Hysteresis::of(&rising, &falling)
    }

    /// What falling reads more than rising at a temperature, by the same two curves, and the standard uncertainty of that. Half of the
    /// difference is what a curve through both may be off there.
    ///
    /// # Errors
    /// As [`hysteresis`](Self::hysteresis), and [`Error::Invalid`] for a temperature that not both directions have.
    ///
    #[doc = example!(thermal_output_fit:
        "# let mut fit = gaugewright::example::thermal_output_fit()?;",
        "# use gaugewright::commissioning::fit::Direction::Cooling;",
        "for (t, more) in [(3.0, 0.1), (18.0, 1.1), (33.0, 2.2), (48.0, 3.1)] {",
        "    // On the way back.",
        "    fit.observe(Cooling, Celsius(t), Microstrain(curve.at(Celsius(t))?.0 + more))?;",
        "}",
        "let (more, uncertainty) = fit.hysteresis_at(1, Celsius(30.0))?;",
        "assert!((more.0 - 1.9).abs() < 0.2 && uncertainty.0 < 0.2);"
    )]
    pub fn hysteresis_at(
        &self,
        degree: usize,
        temperature: Celsius,
    ) -> Result<(Microstrain, Microstrain), Error> {
        let (rising, falling) = self.0.branches(degree)?;
        Hysteresis::at(&rising, &falling, temperature)
    }
}

/// A thermal-output curve as fitted, with what is known of its error.
///
/// Everything is refused outside of the temperatures of the points. Uncertainties come from the scatter of the
/// points about the curve, also where they were given uncertainties of their own: those only weight the points.
///
/// ```
/// use gaugewright::{units::*, commissioning::fit::Degree};
/// # let fit = gaugewright::example::thermal_output_fit()?;
/// let curve = fit.solve(Degree::Exactly(1))?;
/// let (t, half) = (Celsius(30.0), curve.confidence_band(Celsius(30.0), Percent(95.0))?);
/// assert!((curve.at(t)?.0 - 16.0).abs() < half.0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FittedThermalOutput {
    curve: Curve<{ Polynomial::TERMS }>,
    balance: Option<f64>,
}

impl FittedThermalOutput {
    /// Refers the curve to its value at a temperature: zero there, with no uncertainty, and elsewhere the uncertainty of the
    /// difference. For a channel that is balanced this is how well its correction is known.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature outside of the points.
    ///
    #[doc = example!(thermal_output_fit:
        "let curve = curve.balanced_at(Celsius(22.0))?;",
        "assert_eq!(curve.at(Celsius(22.0))?.0, 0.0);",
        "assert_eq!(curve.standard_uncertainty(Celsius(22.0))?.0, 0.0);"
    )]
    pub fn balanced_at(mut self, temperature: Celsius) -> Result<Self, Error> {
        self.curve.weights(temperature)?;
        self.balance = Some(temperature.0);
        Ok(self)
    }

    /// Thermal output at a temperature, at the gauge factor of the readings.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature outside of the points.
    ///
    #[doc = example!(thermal_output_fit:
        "assert!((curve.at(Celsius(30.0))?.0 - 16.0).abs() < 0.2);",
        "assert!(curve.at(Celsius(49.5)).is_err());"
    )]
    pub fn at(&self, temperature: Celsius) -> Result<Microstrain, Error> {
        Ok(Microstrain(self.curve.solution.value(&self.weights(temperature)?)))
    }

    fn weights(&self, temperature: Celsius) -> Result<[f64; Polynomial::TERMS], Error> {
        self.curve.weights_since(self.balance, temperature)
    }

    /// Standard uncertainty of the curve at a temperature, with [`degrees_of_freedom`](Self::degrees_of_freedom).
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature outside of the points.
    ///
    #[doc = example!(thermal_output_fit: "assert!(curve.standard_uncertainty(Celsius(30.0))?.0 < 0.1);")]
    pub fn standard_uncertainty(&self, temperature: Celsius) -> Result<Microstrain, Error> {
        Ok(Microstrain(self.curve.standard_uncertainty(&self.weights(temperature)?)))
    }

    /// Half the width of the confidence band at a temperature: where the true curve is, with this probability, if it is
    /// a polynomial of this degree.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature outside of the points, or a coverage outside of 1 to 99.99 %.
    ///
    #[doc = example!(thermal_output_fit:
        "let half = curve.confidence_band(Celsius(30.0), Percent(95.0))?.0;",
        "assert!(half > 3.1 * curve.standard_uncertainty(Celsius(30.0))?.0); // three degrees of freedom"
    )]
    pub fn confidence_band(&self, temperature: Celsius, coverage: Percent) -> Result<Microstrain, Error> {
        Ok(Microstrain(self.curve.confidence(&self.weights(temperature)?, coverage)?))
    }

    /// Half the width of the prediction band at a temperature: where one more reading will be, with this probability. A
    /// reading of mean weight, where they have uncertainties.
    ///
    /// # Errors
    /// As [`confidence_band`](Self::confidence_band).
    ///
    #[doc = example!(thermal_output_fit:
        "let (t, p) = (Celsius(30.0), Percent(95.0));",
        "assert!(curve.prediction_band(t, p)?.0 > curve.confidence_band(t, p)?.0);"
    )]
    pub fn prediction_band(&self, temperature: Celsius, coverage: Percent) -> Result<Microstrain, Error> {
        Ok(Microstrain(self.curve.prediction(&self.weights(temperature)?, coverage)?))
    }

    /// Standard deviation of the points about the curve: of a point of mean weight, where they have uncertainties.
    ///
    #[doc = example!(thermal_output_fit: "assert!(curve.residual_standard_deviation().0 < 0.2);")]
    #[must_use]
    pub fn residual_standard_deviation(&self) -> Microstrain {
        Microstrain(self.curve.residual(self.curve.solution.terms))
    }

    /// The same if the curve had a lower degree, or this one: what the choice of the degree is about.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a degree above that of the curve.
    ///
    #[doc = example!(thermal_output_fit: "assert!(curve.residual_standard_deviation_with(0)?.0 > 30.0);")]
    pub fn residual_standard_deviation_with(&self, degree: usize) -> Result<Microstrain, Error> {
        within(Field::FitDegree, degree as f64, 0.0, self.degree() as f64)?;
        Ok(Microstrain(self.curve.residual(degree + 1)))
    }

    /// Scatter of the points over that by their uncertainties: near one if these are right. `None` where they have none.
    ///
    #[doc = example!(thermal_output_fit: "assert_eq!(curve.scatter_ratio(), None);")]
    #[must_use]
    pub fn scatter_ratio(&self) -> Option<f64> {
        self.curve.scatter_ratio()
    }

    /// The degree of the curve.
    ///
    #[doc = example!(thermal_output_fit: "assert_eq!(curve.degree(), 1);")]
    #[must_use]
    pub fn degree(&self) -> usize {
        self.curve.solution.terms - 1
    }

    /// Points less terms.
    ///
    #[doc = example!(thermal_output_fit: "assert_eq!(curve.degrees_of_freedom(), 3);")]
    #[must_use]
    pub fn degrees_of_freedom(&self) -> u32 {
        self.curve.solution.degrees_of_freedom()
    }

    /// The lowest and the highest temperature of the points.
    ///
    #[doc = example!(thermal_output_fit: "assert_eq!(curve.temperatures(), (Celsius(2.0), Celsius(49.0)));")]
    #[must_use]
    pub fn temperatures(&self) -> (Celsius, Celsius) {
        (Celsius(self.curve.low), Celsius(self.curve.high))
    }

    /// The curve in powers of a degree Celsius, microstrain: an exact change of variable, but for the rounding of `f64`, which is that
    /// of the largest term. Not refused outside of the points, where it means nothing.
    ///
    #[doc = example!(thermal_output_fit:
        "let difference = curve.polynomial().at(30.0) - curve.at(Celsius(30.0))?.0;",
        "assert!(difference.abs() < 1e-12);"
    )]
    #[must_use]
    pub fn polynomial(&self) -> Polynomial {
        let mut coefficients = self.curve.coefficients(0.0);
        if let Some(balance) = self.balance {
            let weights = chebyshev(self.curve.place.of(balance));
            coefficients[0] -= self.curve.solution.value(&weights);
        }
        Polynomial::new(coefficients)
    }

    /// Covariance of the coefficients of [`polynomial`](Self::polynomial), microstrain squared per degree to the sum of the two powers;
    /// rows and columns beyond the degree are zero.
    ///
    /// Powers of a degree are nearly the same curve over most ranges, so the elements cancel where they are put together: take the
    /// uncertainty of the curve from [`standard_uncertainty`](Self::standard_uncertainty), which does without them.
    ///
    #[doc = example!(thermal_output_fit: "assert!((curve.covariance()[1][1].sqrt() - 0.00325).abs() < 1e-5); // of the slope")]
    #[must_use]
    pub fn covariance(&self) -> [[f64; Polynomial::TERMS]; Polynomial::TERMS] {
        self.curve.covariance(0.0, self.balance)
    }

    /// The curve as a gauge package has it, fitted on the temperatures of the points and stated for the gauge factor at which they
    /// were read: the instrument's.
    ///
    /// # Errors
    /// What a channel would refuse: [`Error::Overflow`] with [`Quantity::Cancellation`](crate::error::Quantity::Cancellation) where
    /// powers of a degree are so much larger than the curve that `f64` does not hold it (a narrow range far from 0 C at a high degree:
    /// a lower one is the remedy), [`Error::Invalid`] for a coefficient beyond what a package has, or a gauge factor out of range.
    ///
    #[doc = example!(thermal_output_fit:
        "let package: gaugewright::ThermalOutput = curve.thermal_output(GaugeFactor(2.0))?;",
        "assert!((package.at(Celsius(30.0)).0 - 16.0).abs() < 0.2);"
    )]
    pub fn thermal_output(&self, stated_for: GaugeFactor) -> Result<ThermalOutput, Error> {
        let (low, high) = self.temperatures();
        let coefficients = self.polynomial().coefficients();
        let package = ThermalOutput::celsius_from(&coefficients[..=self.degree()])
            .stated_for(stated_for)
            .between(low, high);
        package.check()?;
        thermal_cancellation(package.size(low.0.abs().max(high.0.abs())) * 1e-6)?;
        Ok(package)
    }
}
