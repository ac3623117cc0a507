//! Gauge factor against temperature from a loaded run.

use super::choice::Degree;
use super::curve::Curve;
use super::run::{Direction, Run, check_uncertainty};
use crate::channel::Gauge;
use crate::error::{Error, Field};
use crate::kernel::model::factor_cancellation;
use crate::numeric::{Float, Polynomial};
use crate::units::{Celsius, GaugeFactor, Microstrain, Percent};

/// Terms of degree three and below.
const TERMS: usize = 4;

/// Takes in the points of a loaded run, and keeps none.
///
/// A point is a temperature and the gauge factor there over one that stays: of the instrument, if a known strain
/// is applied ([`observe`](Self::observe)), or of a reference gauge at the same strain
/// ([`observe_ratio`](Self::observe_ratio)). `T` is the arithmetic: `f64` or `f32`.
///
/// ```
/// use gaugewright::{commissioning::fit::{Degree, GaugeFactorFit, Direction}, units::*, Gauge};
///
/// let mut fit = GaugeFactorFit::<f64>::between(Celsius(-60.0), Celsius(100.0))?;
/// for k in 0..9 {
///     let t = f64::from(k) * 20.0 - 60.0;
///     // A lever puts 1000 microstrain on the beam; the instrument, set to 2.0, shows this much more than without it.
///     let shown = 1032.5 * (1.0 + 1.07e-4 * (t - 24.0)) + [0.04, -0.05, 0.01][k as usize % 3];
///     fit.observe(Direction::Heating, Celsius(t), Microstrain(1000.0), Microstrain(shown))?;
/// }
/// let fitted = fit.solve(Degree::Significant { highest: 3, level: Percent(1.0) })?;
/// let factor = fitted.gauge_factor_at(Celsius(24.0), GaugeFactor(2.0))?;
/// let gauge = fitted.given_to(Gauge::new(factor))?;
/// assert!((gauge.gauge_factor_at(Celsius(90.0)).0 - 2.0796).abs() < 2e-4);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct GaugeFactorFit<T>(Run<T, TERMS>);

impl<T: Float> GaugeFactorFit<T> {
    /// For points between these temperatures.
    ///
    /// # Errors
    /// [`Error::Invalid`]: below -273.15 C, above 2047 C, or less than 0.1 C apart. [`Error::Reversed`]: `high` below `low`.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::fit::GaugeFactorFit};
    /// assert!(GaugeFactorFit::<f32>::between(Celsius(-60.0), Celsius(f64::NAN)).is_err());
    /// ```
    pub fn between(low: Celsius, high: Celsius) -> Result<Self, Error> {
        Run::between(low, high).map(Self)
    }

    /// Takes in one point: the strain applied (1 to 62 500 microstrain either way), and how much more the instrument shows with
    /// the load than without it at the same temperature, so that thermal output is in neither. Their ratio is the gauge factor
    /// over the instrument's.
    ///
    /// Points weigh the same, whatever the strain: where it differs much, give uncertainties.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature outside of the declared ones, a strain out of range, a ratio outside of
    /// 0.001 to 1000 (as where the signs differ), or a fit whose points come with uncertainties.
    ///
    /// ```
    /// use gaugewright::{units::{Celsius, Microstrain}, commissioning::fit::{GaugeFactorFit, Direction}};
    /// let mut fit = GaugeFactorFit::<f64>::between(Celsius(0.0), Celsius(50.0))?;
    /// fit.observe(Direction::Heating, Celsius(20.0), Microstrain(-500.0), Microstrain(-516.0))?;
    /// assert!(fit.observe(Direction::Heating, Celsius(20.0), Microstrain(0.0), Microstrain(3.0)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn observe(
        &mut self,
        sweep: Direction,
        temperature: Celsius,
        applied: Microstrain,
        shown: Microstrain,
    ) -> Result<(), Error> {
        self.take(sweep, temperature, ratio(applied, shown)?, None)
    }

    /// As [`observe`](Self::observe), with the standard uncertainty of what is shown for the strain applied, 1e-6 to 1e6
    /// microstrain.
    ///
    /// # Errors
    /// As [`observe`](Self::observe), and an uncertainty out of range or a point without one before.
    ///
    /// ```
    /// use gaugewright::{units::{Celsius, Microstrain}, commissioning::fit::{GaugeFactorFit, Direction}};
    /// let mut fit = GaugeFactorFit::<f64>::between(Celsius(0.0), Celsius(50.0))?;
    /// fit.observe_with(Direction::Heating, Celsius(20.0), Microstrain(500.0), Microstrain(516.0), Microstrain(0.5))?;
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn observe_with(
        &mut self,
        sweep: Direction,
        temperature: Celsius,
        applied: Microstrain,
        shown: Microstrain,
        standard_uncertainty: Microstrain,
    ) -> Result<(), Error> {
        check_uncertainty(standard_uncertainty)?;
        let ratio = ratio(applied, shown)?;
        self.take(sweep, temperature, ratio, Some(standard_uncertainty.0 / applied.0.abs()))
    }

    /// Takes in one point as the ratio itself, 0.001 to 1000: gauge factor over a constant, such as the signal over that of a
    /// reference gauge which stays at room temperature.
    ///
    /// # Errors
    /// As [`observe`](Self::observe).
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::fit::{GaugeFactorFit, Direction}};
    /// let mut fit = GaugeFactorFit::<f64>::between(Celsius(0.0), Celsius(50.0))?;
    /// fit.observe_ratio(Direction::Cooling, Celsius(45.0), 1.0021)?;
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn observe_ratio(&mut self, sweep: Direction, temperature: Celsius, ratio: f64) -> Result<(), Error> {
        self.take(sweep, temperature, ratio, None)
    }

    fn take(
        &mut self,
        sweep: Direction,
        temperature: Celsius,
        ratio: f64,
        uncertainty: Option<f64>,
    ) -> Result<(), Error> {
        Field::GaugeFactorRatio.check(ratio)?;
        self.0.observe(sweep, temperature, ratio, uncertainty)
    }

    /// Takes in all points of another fit, which was declared for the same temperatures.
    ///
    /// # Errors
    /// [`Error::Invalid`]: other temperatures, or only one of them has points with uncertainties.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::fit::GaugeFactorFit};
    /// let mut fit = GaugeFactorFit::<f64>::between(Celsius(0.0), Celsius(50.0))?;
    /// assert!(fit.join(&GaugeFactorFit::between(Celsius(0.0), Celsius(60.0))?).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn join(&mut self, other: &Self) -> Result<(), Error> {
        self.0.join(&other.0)
    }

    /// Points taken in so far.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::fit::GaugeFactorFit};
    /// assert_eq!(GaugeFactorFit::<f64>::between(Celsius(0.0), Celsius(50.0))?.points(), 0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn points(&self) -> u32 {
        self.0.points()
    }

    /// The curve through the points so far.
    ///
    /// # Errors
    /// As [`ThermalOutputFit::solve`](super::ThermalOutputFit::solve); the degree is 3 at most.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::fit::{Degree, GaugeFactorFit}};
    /// assert!(GaugeFactorFit::<f64>::between(Celsius(0.0), Celsius(50.0))?.solve(Degree::Exactly(1)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn solve(&self, degree: Degree) -> Result<FittedGaugeFactor, Error> {
        self.0.solve(degree).map(FittedGaugeFactor)
    }
}

/// What is shown over what is applied.
fn ratio(applied: Microstrain, shown: Microstrain) -> Result<f64, Error> {
    Field::AppliedStrain.check(applied.0.abs())?;
    Ok(shown.0 / applied.0)
}

/// Gauge factor against temperature as fitted, with what is known of its error.
///
/// Everything is refused outside of the temperatures of the points, that of the reference included.
///
/// ```
/// use gaugewright::{units::*, commissioning::fit::Degree};
/// # let fit = gaugewright::example::gauge_factor_fit()?;
/// let fitted = fit.solve(Degree::Exactly(1))?;
/// let [slope, ..] = fitted.change_from(Celsius(24.0))?;
/// assert!((slope - 1e-4).abs() < 2e-6); // one percent per 100 C
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FittedGaugeFactor(Curve<TERMS>);

impl FittedGaugeFactor {
    /// Gauge factor at a temperature, where that of the instrument is this.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature outside of the points.
    ///
    #[doc = example!(gauge_factor_fit:
        "assert!((curve.gauge_factor_at(Celsius(74.0), GaugeFactor(2.0))?.0 - 2.01).abs() < 0.001);"
    )]
    pub fn gauge_factor_at(
        &self,
        temperature: Celsius,
        instrument: GaugeFactor,
    ) -> Result<GaugeFactor, Error> {
        Ok(GaugeFactor(self.0.solution.value(&self.0.weights(temperature)?) * instrument.0))
    }

    /// The coefficients of [`Gauge::gauge_factor_polynomial`]: relative change since the reference temperature, per degree to the
    /// powers one, two and three.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a reference temperature outside of the points, or a curve that is not positive there.
    ///
    #[doc = example!(gauge_factor_fit: "assert_eq!(curve.change_from(Celsius(24.0))?[1..], [0.0, 0.0]);")]
    pub fn change_from(&self, reference: Celsius) -> Result<[f64; 3], Error> {
        self.0.weights(reference)?;
        let [factor, a, b, c] = self.0.coefficients(reference.0);
        Field::GaugeFactorRatio.check(factor)?;
        Ok([a / factor, b / factor, c / factor])
    }

    /// Relative change of the gauge factor from the reference temperature to another.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature outside of the points.
    ///
    #[doc = example!(gauge_factor_fit:
        "let change = curve.change(Celsius(24.0), Celsius(74.0))?;",
        "assert!((change.fraction() - 0.005).abs() < 1e-4);"
    )]
    pub fn change(&self, reference: Celsius, temperature: Celsius) -> Result<Percent, Error> {
        let base = self.0.solution.value(&self.0.weights(reference)?);
        let since = self.0.weights_since(Some(reference.0), temperature)?;
        Ok(Percent(100.0 * self.0.solution.value(&since) / base))
    }

    /// Half the width of the confidence band of that change: zero at the reference temperature. First order, as the
    /// change is a quotient: good where the gauge factor is known to a few percent or better.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature outside of the points, or a coverage outside of 1 to 99.99 %.
    ///
    #[doc = example!(gauge_factor_fit:
        "let half = curve.confidence_band(Celsius(24.0), Celsius(74.0), Percent(95.0))?;",
        "assert!(half.0 > 0.0 && half.0 < 0.02);"
    )]
    pub fn confidence_band(
        &self,
        reference: Celsius,
        temperature: Celsius,
        coverage: Percent,
    ) -> Result<Percent, Error> {
        let at_reference = self.0.weights(reference)?;
        let base = self.0.solution.value(&at_reference);
        // The derivative of q(T) / q(reference).
        let mut weights = self.0.weights(temperature)?;
        let ratio = self.0.solution.value(&weights) / base;
        weights.iter_mut().zip(at_reference).for_each(|(weight, at)| *weight = (*weight - ratio * at) / base);
        Ok(Percent(100.0 * self.0.confidence(&weights, coverage)?))
    }

    /// Standard deviation of the points about the curve, as a ratio: of a point of mean weight, where they have uncertainties.
    ///
    #[doc = example!(gauge_factor_fit: "assert!(curve.residual_standard_deviation() < 2e-4);")]
    #[must_use]
    pub fn residual_standard_deviation(&self) -> f64 {
        self.0.residual(self.0.solution.terms)
    }

    /// Scatter of the points over that by their uncertainties. `None` where they have none.
    ///
    #[doc = example!(gauge_factor_fit: "assert_eq!(curve.scatter_ratio(), None);")]
    #[must_use]
    pub fn scatter_ratio(&self) -> Option<f64> {
        self.0.scatter_ratio()
    }

    /// The degree of the curve.
    ///
    #[doc = example!(gauge_factor_fit: "assert_eq!(curve.degree(), 1);")]
    #[must_use]
    pub fn degree(&self) -> usize {
        self.0.solution.terms - 1
    }

    /// Points less terms.
    ///
    #[doc = example!(gauge_factor_fit: "assert_eq!(curve.degrees_of_freedom(), 3);")]
    #[must_use]
    pub fn degrees_of_freedom(&self) -> u32 {
        self.0.solution.degrees_of_freedom()
    }

    /// The lowest and the highest temperature of the points.
    ///
    #[doc = example!(gauge_factor_fit: "assert_eq!(curve.temperatures(), (Celsius(1.0), Celsius(99.0)));")]
    #[must_use]
    pub fn temperatures(&self) -> (Celsius, Celsius) {
        (Celsius(self.0.low), Celsius(self.0.high))
    }

    /// The gauge with this change of its factor, referred to its own reference temperature. The factor itself stays the
    /// package's.
    ///
    /// The range of these points does not go with the gauge: declare the channel for temperatures inside of it.
    ///
    /// # Errors
    /// As [`change_from`](Self::change_from), and what a channel would refuse: [`Error::Overflow`] with
    /// [`Quantity::Cancellation`](crate::error::Quantity::Cancellation), or a coefficient beyond what a gauge has.
    ///
    #[doc = example!(gauge_factor_fit:
        "let gauge = curve.given_to(gaugewright::Gauge::new(GaugeFactor(2.1)))?;",
        "assert!((gauge.gauge_factor_at(Celsius(99.0)).0 - 2.1 * 1.0075).abs() < 1e-3);"
    )]
    pub fn given_to(&self, gauge: Gauge) -> Result<Gauge, Error> {
        let change = self.change_from(Celsius(gauge.reference))?;
        for coefficient in change {
            Field::GaugeFactorCoefficient.check(coefficient)?;
        }
        let [a, b, c] = change;
        let largest = self.0.low.abs().max(self.0.high.abs()) + gauge.reference.abs();
        factor_cancellation(Polynomial::new([1.0, a, b, c]).size(largest))?;
        Ok(gauge.gauge_factor_polynomial(change))
    }
}
