//! A rotated curve at a temperature, and over a window of them.

use super::RotatedCurve;
use super::search::Aim;
use crate::channel::ThermalOutput;
use crate::error::{Error, Field, ordered, try_const, within};
use crate::numeric::{largest_difference, polynomial_through};
use crate::units::{Celsius, GaugeFactor, Microstrain, MicrostrainPerCelsius};

/// The way a specimen turns the curve of a gauge.
///
/// ```
/// use gaugewright::{Gauge, ThermalOutput, units::*};
/// use gaugewright::commissioning::{expansion::Expansion, matching::{RotatedCurve, Turn}};
/// let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(23.0)).thermal_output(
///     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
/// let turn = |ppm| RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(ppm)))
///     .turn(Celsius(0.0), Celsius(50.0));
/// // Matched to a higher expansion than the specimen has.
/// assert_eq!(turn(11.0)?, Turn::Clockwise);
/// assert_eq!(turn(30.0)?, Turn::CounterClockwise);
/// assert_eq!(turn(23.0)?, Turn::Neither);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Turn {
    /// Thermal output falls against the package curve as temperature rises.
    Clockwise,
    /// It rises against the package curve.
    CounterClockwise,
    /// The specimen expands as the gauge is matched.
    Neither,
}

/// The extremes of a curve over a window.
///
/// ```
/// use gaugewright::{units::*, commissioning::matching::Extremes};
/// let extremes = Extremes {
///     lowest: (Celsius(80.0), Microstrain(-90.0)),
///     highest: (Celsius(24.0), Microstrain(10.0)),
/// };
/// assert_eq!(extremes.span(), Microstrain(100.0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Extremes {
    /// Where thermal output is lowest, and its value.
    pub lowest: (Celsius, Microstrain),
    /// Where it is highest.
    pub highest: (Celsius, Microstrain),
}

impl Extremes {
    /// Highest less lowest.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::matching::Extremes};
    /// let point = (Celsius(24.0), Microstrain(0.0));
    /// assert_eq!(Extremes { lowest: point, highest: point }.span(), Microstrain(0.0));
    /// ```
    #[must_use]
    pub const fn span(&self) -> Microstrain {
        Microstrain(self.highest.1.0 - self.lowest.1.0)
    }
}

/// What is left of thermal output when it is subtracted for a temperature that is off, where it is most.
///
/// ```
/// use gaugewright::{units::*, commissioning::matching::Residual};
/// let residual = Residual { at: Celsius(80.0), shown: Celsius(80.5), left: Microstrain(1.2) };
/// assert!(residual.left.0 > 0.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Residual {
    /// The temperature of the gauge.
    pub at: Celsius,
    /// The temperature that was subtracted for.
    pub shown: Celsius,
    /// The difference of the two thermal outputs, without its sign.
    pub left: Microstrain,
}

/// A curve as a polynomial that a package can have.
///
/// ```
/// use gaugewright::{ThermalOutput, units::*, commissioning::matching::PackageCurve};
/// let curve = ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(9.0));
/// assert_eq!(PackageCurve { curve, left_out: Microstrain(0.0) }.curve, curve);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PackageCurve {
    /// Of degree five, through the curve at six places.
    pub curve: ThermalOutput,
    /// The largest difference seen between the two, at 241 temperatures evenly over the range.
    pub left_out: Microstrain,
}

impl RotatedCurve<'_> {
    /// Thermal output at a temperature. Against exact arithmetic on the tests' gauges it is within 1e-10 microstrain.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, and [`Error::Invalid`] for a temperature out of the [`range`](Self::range).
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let gauge = example::FLAT_GAUGE.matched_to(ExpansionPerCelsius::ppm(11.0));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(23.0)));
    /// assert!((curve.thermal_output(Celsius(74.0))?.0 - 600.0).abs() < 1e-9);
    /// assert!(curve.thermal_output(Celsius(90.5)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn thermal_output(&self, temperature: Celsius) -> Result<Microstrain, Error> {
        let (value, _) = try_const!(self.value_and_slope(temperature));
        Ok(Microstrain(value))
    }

    /// Slope of thermal output at a temperature.
    ///
    /// # Errors
    /// As [`thermal_output`](Self::thermal_output).
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let gauge = example::FLAT_GAUGE.matched_to(ExpansionPerCelsius::ppm(11.0));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(23.0)));
    /// assert!((curve.slope(Celsius(0.0))?.0 - 12.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn slope(&self, temperature: Celsius) -> Result<MicrostrainPerCelsius, Error> {
        let (_, slope) = try_const!(self.value_and_slope(temperature));
        Ok(MicrostrainPerCelsius(slope))
    }

    const fn value_and_slope(&self, temperature: Celsius) -> Result<(f64, f64), Error> {
        let ready = try_const!(self.ready());
        let (low, high) = self.range();
        try_const!(within(Field::Temperature, temperature.0, low.0, high.0));
        match self.balance {
            Some(balance) => try_const!(ready.balanced(balance)).at(temperature.0),
            None => ready.at(temperature.0),
        }
    }

    /// Which way the specimen turns the curve between two temperatures: by the sign of what it expands more there than
    /// the material of the curve.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, [`Error::Invalid`] for a window that is not inside the
    /// [`range`](Self::range), and [`Error::Reversed`] for one whose upper end lies below its lower one.
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::{RotatedCurve, Turn}};
    /// let gauge = example::FLAT_GAUGE.matched_to(ExpansionPerCelsius::ppm(11.0));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(9.0)));
    /// assert_eq!(curve.turn(Celsius(-50.0), Celsius(0.0))?, Turn::Clockwise);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn turn(&self, low: Celsius, high: Celsius) -> Result<Turn, Error> {
        try_const!(self.ready_over(low, high, 0.0));
        let apart = try_const!(self.expands_more(low.0, high.0));
        Ok(if apart < 0.0 {
            Turn::Clockwise
        } else if apart > 0.0 {
            Turn::CounterClockwise
        } else {
            Turn::Neither
        })
    }

    /// Where thermal output is lowest and highest over a window. Searched: in 64 even steps, or a quarter of the
    /// finest step of a table (1024 at most), and from every one that is better than its neighbours by golden section.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    ///
    /// ```
    /// use gaugewright::{Gauge, ThermalOutput, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let steel = ExpansionPerCelsius::ppm(11.0);
    /// // A parabola with its top at 40 C.
    /// let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(steel).thermal_output(
    ///     ThermalOutput::celsius([-12.8, 0.8, -0.01]).between(Celsius(-50.0), Celsius(90.0)));
    /// let extremes = RotatedCurve::new(gauge, Expansion::coefficient(steel))
    ///     .extremes(Celsius(0.0), Celsius(90.0))?;
    /// assert!((extremes.highest.1.0 - 3.2).abs() < 1e-12 && (extremes.highest.0.0 - 40.0).abs() < 1e-6);
    /// assert_eq!(extremes.lowest.0, Celsius(90.0));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn extremes(&self, low: Celsius, high: Celsius) -> Result<Extremes, Error> {
        let ready = self.ready_over(low, high, 0.0)?;
        let lowest = ready.best(Aim::Lowest, low.0, high.0)?;
        let highest = ready.best(Aim::Highest, low.0, high.0)?;
        Ok(Extremes {
            lowest: (Celsius(lowest), Microstrain(ready.at(lowest)?.0)),
            highest: (Celsius(highest), Microstrain(ready.at(highest)?.0)),
        })
    }

    /// Where thermal output is steepest over a window, and its slope there with its sign. Searched as
    /// [`extremes`](Self::extremes).
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    ///
    /// ```
    /// use gaugewright::{Gauge, ThermalOutput, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let steel = ExpansionPerCelsius::ppm(11.0);
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(steel).thermal_output(
    /// #     ThermalOutput::celsius([-12.8, 0.8, -0.01]).between(Celsius(-50.0), Celsius(90.0)));
    /// let (at, slope) = RotatedCurve::new(gauge, Expansion::coefficient(steel))
    ///     .steepest(Celsius(0.0), Celsius(90.0))?;
    /// assert!(at == Celsius(90.0) && (slope.0 + 1.0).abs() < 1e-12);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn steepest(&self, low: Celsius, high: Celsius) -> Result<(Celsius, MicrostrainPerCelsius), Error> {
        let ready = self.ready_over(low, high, 0.0)?;
        let at = ready.best(Aim::Steepest, low.0, high.0)?;
        Ok((Celsius(at), MicrostrainPerCelsius(ready.at(at)?.1)))
    }

    /// The most that is left over a window when thermal output is subtracted for a temperature that is off by no
    /// more than `error`, 0 to 100 C. The whole difference, not the slope times the error; searched as
    /// [`extremes`](Self::extremes), at each temperature in sixteen even steps of the error.
    ///
    /// # Errors
    /// As [`turn`](Self::turn); the curve has to be known as far beyond the window as the temperature may be off.
    ///
    /// ```
    /// use gaugewright::{Gauge, ThermalOutput, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let steel = ExpansionPerCelsius::ppm(11.0);
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(steel).thermal_output(
    /// #     ThermalOutput::celsius([-12.8, 0.8, -0.01]).between(Celsius(-50.0), Celsius(90.0)));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(steel));
    /// let residual = curve.residual(Celsius(0.0), Celsius(80.0), Celsius(10.0))?;
    /// // At 0 C the curve rises by 0.8 a degree, at 80 C it falls as fast; it bends down.
    /// assert!((residual.left.0 - 9.0).abs() < 1e-9);
    /// assert!(curve.residual(Celsius(0.0), Celsius(80.5), Celsius(10.0)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn residual(&self, low: Celsius, high: Celsius, error: Celsius) -> Result<Residual, Error> {
        Field::TemperatureError.check(error.0)?;
        let ready = self.ready_over(low, high, error.0)?;
        let at = ready.best(Aim::Misread(error.0), low.0, high.0)?;
        let shown = ready.misread(at, error.0)?;
        let left = (ready.at(shown)?.0 - ready.at(at)?.0).abs();
        Ok(Residual { at: Celsius(at), shown: Celsius(shown), left: Microstrain(left) })
    }

    /// The curve over a window of a degree at least as a polynomial, for a gauge that then stands for this one on
    /// this specimen: [`Channel::specimen`](crate::Channel::specimen) takes a coefficient only, and a specimen that is
    /// known over temperature goes this way. Stated for the instrument's gauge factor, and counted from the
    /// reference temperature, whatever the balance: that is the channel's.
    ///
    /// # Errors
    /// As [`turn`](Self::turn).
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let gauge = example::GAUGE.matched_to(ExpansionPerCelsius::ppm(11.0));
    /// let rows = [-80.0, 20.0, 120.0].map(|t| (Celsius(t), ExpansionPerCelsius::ppm(11.0 + 0.01 * t)));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient_table(&rows));
    /// let package = curve.package_curve(Celsius(-50.0), Celsius(90.0))?;
    /// assert!(package.left_out.0 < 1e-9);
    /// let stands_for = gauge.thermal_output(package.curve);
    /// # assert!((package.curve.at(Celsius(34.0)).0 - curve.thermal_output(Celsius(34.0))?.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn package_curve(&self, low: Celsius, high: Celsius) -> Result<PackageCurve, Error> {
        let ready = self.ready()?;
        PackageCurve::check_window((low.0, high.0), self.range())?;
        PackageCurve::through(|temperature| ready.value(temperature), (low, high), self.instrument_factor)
    }
}

impl PackageCurve {
    /// Refuses a window of less than a degree, or one that is not inside a range.
    pub(in crate::commissioning) fn check_window(
        (low, high): (f64, f64),
        (Celsius(first), Celsius(last)): (Celsius, Celsius),
    ) -> Result<(), Error> {
        within(Field::WindowLow, low, first, last)?;
        ordered(Field::WindowHigh, low, high)?;
        // Too near the upper end of the range for any window.
        within(Field::TemperatureWidth, last - low, 1.0, f64::INFINITY)?;
        within(Field::WindowHigh, high, low + 1.0, last)
    }

    /// The polynomial through a thermal output, in microstrain against degrees Celsius, at a gauge factor.
    pub(in crate::commissioning) fn through(
        thermal_output: impl Fn(f64) -> Result<f64, Error>,
        (low, high): (Celsius, Celsius),
        gauge_factor: f64,
    ) -> Result<Self, Error> {
        let window = (low.0, high.0);
        let polynomial = polynomial_through(&thermal_output, window, 0.0)?;
        let left_out = largest_difference(thermal_output, |temperature| polynomial.at(temperature), window)?;
        let curve = ThermalOutput::celsius(polynomial.coefficients())
            .stated_for(GaugeFactor(gauge_factor))
            .between(low, high);
        Ok(Self { curve, left_out: Microstrain(left_out) })
    }
}
