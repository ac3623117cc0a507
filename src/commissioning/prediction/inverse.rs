//! From a measured thermal output back to the foil: what its resistance does by itself, once both expansions are
//! known.

use super::FoilResistance;
use super::bond::{Bond, Source};
use crate::channel::{Gauge, ThermalOutput};
use crate::commissioning::expansion::Expansion;
use crate::commissioning::matching::PackageCurve;
use crate::error::{Error, Field, try_const, within};
use crate::numeric::{largest_difference, polynomial_through};
use crate::units::{Celsius, GaugeFactor, Microstrain, Percent, ResistancePerCelsius};

/// The foil by one measured thermal output, relative to the resistance at the reference temperature.
///
/// Standard uncertainties by what they come from (GUM, first order).
///
/// ```
/// use gaugewright::{units::Celsius, commissioning::prediction::FoilPoint};
/// let point = FoilPoint {
///     above_reference: Celsius(50.0),
///     change: 4e-4,
///     by_thermal_output: 3e-6,
///     by_specimen: 4e-6,
///     by_grid: 0.0,
///     by_gauge_factor: 0.0,
/// };
/// assert!((point.mean_coefficient().unwrap().0 - 8e-6).abs() < 1e-18);
/// assert!((point.mean_coefficient_uncertainty().unwrap().0 - 1e-7).abs() < 1e-18);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FoilPoint {
    /// Temperature less reference temperature.
    pub above_reference: Celsius,
    /// Relative change of the free foil's resistance.
    pub change: f64,
    /// Its standard uncertainty (relative, as the change is) from the measured thermal output.
    pub by_thermal_output: f64,
    /// Its relative uncertainty from the expansion of the specimen.
    pub by_specimen: f64,
    /// Its relative uncertainty from the expansion of the foil.
    pub by_grid: f64,
    /// Its relative uncertainty from the gauge factor.
    pub by_gauge_factor: f64,
}

impl FoilPoint {
    /// Standard uncertainty of the relative change of resistance: all of them together.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::prediction::FoilPoint};
    /// # let point = FoilPoint { above_reference: Celsius(50.0), change: 4e-4,
    /// #     by_thermal_output: 3e-6, by_specimen: 4e-6, by_grid: 0.0, by_gauge_factor: 0.0 };
    /// assert!((point.uncertainty() - 5e-6).abs() < 1e-18);
    /// ```
    #[must_use]
    pub fn uncertainty(&self) -> f64 {
        [self.by_thermal_output, self.by_specimen, self.by_grid, self.by_gauge_factor]
            .into_iter()
            .fold(0.0, libm::hypot)
    }

    /// Mean temperature coefficient of resistance between the reference temperature and this one; `None` closer to it
    /// than a thousandth of a degree.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::prediction::FoilPoint};
    /// # let point = FoilPoint { above_reference: Celsius(0.0), change: 0.0,
    /// #     by_thermal_output: 0.0, by_specimen: 0.0, by_grid: 0.0, by_gauge_factor: 0.0 };
    /// assert!(point.mean_coefficient().is_none()); // at the reference temperature
    /// ```
    #[must_use]
    pub const fn mean_coefficient(&self) -> Option<ResistancePerCelsius> {
        self.by_degrees(self.change)
    }

    /// Its standard uncertainty.
    ///
    /// ```
    /// use gaugewright::{units::Celsius, commissioning::prediction::FoilPoint};
    /// # let point = FoilPoint { above_reference: Celsius(-50.0), change: 4e-4,
    /// #     by_thermal_output: 5e-6, by_specimen: 0.0, by_grid: 0.0, by_gauge_factor: 0.0 };
    /// assert!((point.mean_coefficient_uncertainty().unwrap().0 - 1e-7).abs() < 1e-18);
    /// ```
    #[must_use]
    pub fn mean_coefficient_uncertainty(&self) -> Option<ResistancePerCelsius> {
        self.by_degrees(self.uncertainty()).map(|each| ResistancePerCelsius(each.0.abs()))
    }

    const fn by_degrees(&self, change: f64) -> Option<ResistancePerCelsius> {
        let degrees = self.above_reference.0;
        if degrees.abs() < 1e-3 { None } else { Some(ResistancePerCelsius(change / degrees)) }
    }
}

/// The foil by a measured curve.
///
/// ```
/// use gaugewright::commissioning::prediction::{FoilCurve, FoilResistance};
/// let foil = FoilResistance::new([8e-6]);
/// let curve = FoilCurve { foil, left_out: 0.0, uncertainty: [1e-6, 0.0, 0.0, 0.0, 0.0] };
/// assert_eq!(curve.foil.coefficients()[0], 8e-6);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FoilCurve {
    /// The polynomial of the foil's resistance, zero at the reference temperature. It carries no uncertainty.
    pub foil: FoilResistance,
    /// The largest difference seen from the resistance that the curve gives, at 241 temperatures evenly over the
    /// window, as a part of the resistance.
    pub left_out: f64,
    /// Standard uncertainty of each coefficient, from both expansions and the gauge factor. An error of those moves all
    /// coefficients together: for the resistance at a temperature ask [`FoilMeasurement::at`].
    pub uncertainty: [f64; FoilResistance::TERMS],
}

/// A gauge whose thermal output was measured, on a specimen whose expansion is known: what is the foil's own share?
///
/// ```
/// use gaugewright::{Gauge, ThermalOutput, units::*, commissioning::{expansion::Expansion, prediction::*}};
/// let alloy = |a: [f64; 3]| Expansion::coefficient_polynomial(a, Celsius(24.0))
///     .between(Celsius(-200.0), Celsius(300.0));
/// let (grid, steel) = (alloy([14.7e-6, 1.31e-8, -1.9e-11]), alloy([11.35e-6, 1.17e-8, -1.43e-11]));
/// let gauge = Gauge::new(GaugeFactor(2.085)).gauge_factor_slope(PercentPer100C(0.94));
/// let measured = ThermalOutput::celsius([-43.2121, 3.16913, -0.0628625, 0.000248734, -1.69725e-7])
///     .between(Celsius(-200.0), Celsius(300.0));
///
/// let measurement = FoilMeasurement::new(gauge, grid, steel.standard_uncertainty(ExpansionPerCelsius::ppm(0.2)));
/// let found = measurement.of_curve(&measured, Celsius(-100.0), Celsius(200.0))?;
/// // The foil that these data were made of has 8.13 ppm/C.
/// assert!((found.foil.coefficients()[0] * 1e6 - 8.13).abs() < 0.02);
/// // Known to a fifth of a ppm/C of expansion, times the gauge factor.
/// assert!((found.uncertainty[0] * 1e6 - 0.417).abs() < 0.001);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FoilMeasurement<'a> {
    bond: Bond<'a>,
    stated_for: f64,
    thermal_output_uncertainty: f64,
}

impl<'a> FoilMeasurement<'a> {
    /// Of a gauge (gauge factor, its slope, reference temperature, transverse sensitivity) with the expansion of its
    /// foil and of the specimen.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// let both = Expansion::coefficient(ExpansionPerCelsius::ppm(15.0));
    /// let measurement = FoilMeasurement::new(Gauge::new(GaugeFactor(2.1)), both, both);
    /// // Nothing is strained: 100 microstrain at a gauge factor of 2.0 is resistance alone.
    /// let point = measurement.at(Celsius(44.0), Microstrain(100.0))?;
    /// assert!((point.mean_coefficient().unwrap().0 - 1e-5).abs() < 1e-17);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn new(gauge: Gauge, grid: Expansion<'a>, specimen: Expansion<'a>) -> Self {
        let bond = Bond { gauge, grid, specimen, factor_uncertainty: 0.0 };
        Self { bond, stated_for: 2.0, thermal_output_uncertainty: 0.0 }
    }

    /// The gauge factor that the points were measured with; 2.0 by default. A curve has its own.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// # let both = Expansion::coefficient(ExpansionPerCelsius::ppm(15.0));
    /// let measurement = FoilMeasurement::new(Gauge::new(GaugeFactor(2.1)), both, both)
    ///     .stated_for(GaugeFactor(2.1));
    /// assert!((measurement.at(Celsius(44.0), Microstrain(100.0))?.change - 2.1e-4).abs() < 1e-16);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn stated_for(mut self, gauge_factor: GaugeFactor) -> Self {
        self.stated_for = gauge_factor.0;
        self
    }

    /// Standard uncertainty of a measured point, 0 to 100 000 microstrain. That of its temperature belongs in it too, times
    /// the slope of the curve.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// # let both = Expansion::coefficient(ExpansionPerCelsius::ppm(15.0));
    /// let measurement = FoilMeasurement::new(Gauge::new(GaugeFactor(2.1)), both, both)
    ///     .thermal_output_uncertainty(Microstrain(5.0));
    /// assert!((measurement.at(Celsius(44.0), Microstrain(100.0))?.uncertainty() - 1e-5).abs() < 1e-17);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn thermal_output_uncertainty(mut self, uncertainty: Microstrain) -> Self {
        self.thermal_output_uncertainty = uncertainty.0;
        self
    }

    /// Relative standard uncertainty of the gauge factor, 0 to 50 %.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// # let alloy = |ppm| Expansion::coefficient(ExpansionPerCelsius::ppm(ppm));
    /// let measurement = FoilMeasurement::new(Gauge::new(GaugeFactor(2.0)), alloy(15.0), alloy(23.0))
    ///     .gauge_factor_uncertainty(Percent(1.0));
    /// let point = measurement.at(Celsius(74.0), Microstrain(0.0))?;
    /// assert!((point.by_gauge_factor - 8e-6).abs() < 0.02e-6);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn gauge_factor_uncertainty(mut self, uncertainty: Percent) -> Self {
        self.bond.factor_uncertainty = uncertainty.fraction();
        self
    }

    /// Checks every part.
    ///
    /// # Errors
    /// [`Error::Invalid`] for the first input that is missing, not finite or out of range, [`Error::Reversed`] for a range
    /// whose upper end lies below its lower one.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// let both = Expansion::coefficient(ExpansionPerCelsius(f64::NAN));
    /// assert!(FoilMeasurement::new(Gauge::new(GaugeFactor(2.0)), both, both).check().is_err());
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        try_const!(self.bond.check());
        try_const!(Field::StatedGaugeFactor.check(self.stated_for));
        Field::ThermalOutputUncertainty.check(self.thermal_output_uncertainty)
    }

    /// The foil's resistance at a temperature, from a thermal output within +-100 000 microstrain that counts from the
    /// reference temperature.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, and [`Error::Invalid`] for a temperature at which an expansion is not known, or
    /// a thermal output out of range.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// let alloy = |ppm| Expansion::coefficient(ExpansionPerCelsius::ppm(ppm));
    /// let measurement = FoilMeasurement::new(Gauge::new(GaugeFactor(2.0)), alloy(15.0), alloy(20.0));
    /// // A gauge that shows nothing on this part falls by gauge factor times the difference of expansions.
    /// let point = measurement.at(Celsius(74.0), Microstrain(0.0))?;
    /// assert!((point.mean_coefficient().unwrap().0 + 10e-6).abs() < 0.02e-6);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn at(&self, temperature: Celsius, measured: Microstrain) -> Result<FoilPoint, Error> {
        self.check()?;
        Field::MeasuredThermalOutput.check(measured.0)?;
        let (low, high) = self.bond.range();
        within(Field::Temperature, temperature.0, low, high)?;
        let (forced, _) = self.bond.forced(temperature.0)?;
        let unit = self.stated_for * 1e-6;
        let ratio = (1.0 + measured.0 * unit) / (1.0 + forced);
        let [specimen, grid, gauge_factor] = self.bond.contributions(temperature.0)?;
        let share = (ratio / (1.0 + forced)).abs();
        Ok(FoilPoint {
            above_reference: Celsius(temperature.0 - self.bond.gauge.reference),
            change: (measured.0 * unit - forced) / (1.0 + forced),
            by_thermal_output: self.thermal_output_uncertainty * unit / (1.0 + forced),
            by_specimen: share * specimen,
            by_grid: share * grid,
            by_gauge_factor: share * gauge_factor,
        })
    }

    /// The foil's resistance over a window of a degree at least, from a measured curve that may be balanced anywhere: it
    /// counts from the reference temperature, which the curve has to reach.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, [`Error::Invalid`] for a window that the curve or an expansion does
    /// not cover, or a reference temperature that the curve does not cover, and [`Error::Reversed`] for a window whose upper end lies
    /// below its lower one.
    ///
    /// ```
    /// use gaugewright::{Gauge, ThermalOutput, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, prediction::*};
    /// # let both = Expansion::coefficient(ExpansionPerCelsius::ppm(15.0));
    /// # let measurement = FoilMeasurement::new(Gauge::new(GaugeFactor(2.1)), both, both);
    /// let measured = ThermalOutput::celsius([-120.0, 5.0]).between(Celsius(0.0), Celsius(90.0));
    /// let found = measurement.of_curve(&measured, Celsius(0.0), Celsius(90.0))?;
    /// assert!((found.foil.coefficients()[0] - 1e-5).abs() < 1e-15 && found.left_out < 1e-15);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn of_curve(
        &self,
        measured: &ThermalOutput,
        low: Celsius,
        high: Celsius,
    ) -> Result<FoilCurve, Error> {
        let window = (low.0, high.0);
        let read = CurveReading { bond: &self.bond, measured };
        // A gauge with this curve: checks the curve too.
        self.bond.gauge.thermal_output(*measured).check(true)?;
        self.check()?;
        let reference = self.bond.gauge.reference;
        within(Field::ReferenceTemperature, reference, measured.low, measured.high)?;
        let (first, last) = self.bond.range();
        let range = (Celsius(first.max(measured.low)), Celsius(last.min(measured.high)));
        PackageCurve::check_window(window, range)?;

        let found = read.coefficients(window, None)?;
        let mut uncertainty = [0.0; FoilResistance::TERMS];
        for source in Source::ALL {
            let off = read.coefficients(window, Some(source))?;
            for (k, sum) in uncertainty.iter_mut().enumerate() {
                *sum = libm::hypot(*sum, off[k] - found[k]);
            }
        }
        let foil = FoilResistance::new(found).between(low, high);
        let change = |temperature: f64| foil.change_and_slope(temperature - reference).0;
        let left_out = largest_difference(|temperature| read.change(temperature, None), change, window)?;
        Ok(FoilCurve { foil, left_out, uncertainty })
    }
}

struct CurveReading<'a> {
    bond: &'a Bond<'a>,
    measured: &'a ThermalOutput,
}

impl CurveReading<'_> {
    /// Change of the free foil's resistance since the reference temperature, with one thing off or none.
    fn change(&self, temperature: f64, off: Option<Source>) -> Result<f64, Error> {
        let forced = match off {
            Some(source) => self.bond.forced_off(temperature, source)?,
            None => self.bond.forced(temperature)?.0,
        };
        let unit = self.measured.stated_for * 1e-6;
        let now = self.measured.at(Celsius(temperature)).0 * unit;
        // Nothing is forced there, and the resistance is that which all others are compared with.
        let then = self.measured.at(Celsius(self.bond.gauge.reference)).0 * unit;
        Ok(((now - then) / (1.0 + then) - forced) / (1.0 + forced))
    }

    /// Of the polynomial through it at six places, less its value at the reference temperature.
    fn coefficients(
        &self,
        window: (f64, f64),
        off: Option<Source>,
    ) -> Result<[f64; FoilResistance::TERMS], Error> {
        let reference = self.bond.gauge.reference;
        let polynomial = polynomial_through(|temperature| self.change(temperature, off), window, reference)?;
        let [_, coefficients @ ..] = polynomial.coefficients();
        Ok(coefficients)
    }
}
