//! Thermal output from its two causes, for a gauge without a package curve; and back, what a measured curve says of
//! the foil.
//!
//! The foil's resistance changes with temperature by itself, and the specimen, which expands otherwise than the foil,
//! strains it:
//!
//! `thermal output = ((1 + b(T)) (1 + F(T) g e(T)) - 1) / F_stated`, with `1 + e = (1 + e_specimen) / (1 + e_foil)`
//!
//! where `b` is the relative change of the free foil's resistance, `F` the gauge factor at temperature, `e` the strain
//! forced on the foil and `g = (1 + K_t) / (1 - nu_0 K_t)`, because it is forced in both directions. The product of
//! the two causes is kept. Everything counts from the gauge's reference temperature.
//!
//! A prediction is no measurement. Two expansions of 10 to 20 ppm/C are subtracted, so that a percent of one of them is 10
//! to 20 microstrain at a hundred degrees from the reference: ask for [`Prediction::uncertainty`].

mod bond;
mod foil;
mod inverse;

pub use foil::FoilResistance;
pub use inverse::{FoilCurve, FoilMeasurement, FoilPoint};

use crate::channel::Gauge;
use crate::commissioning::expansion::Expansion;
use crate::commissioning::matching::PackageCurve;
use crate::error::{Error, Field, try_const, within};
use crate::units::{Celsius, GaugeFactor, Microstrain, MicrostrainPerCelsius, Percent};
use bond::Bond;

/// What the two causes are worth at a temperature. They add up to thermal output.
///
/// ```
/// use gaugewright::{units::Microstrain, commissioning::prediction::Causes};
/// let causes = Causes {
///     resistance: Microstrain(-400.0),
///     expansion: Microstrain(350.0),
///     product: Microstrain(0.3),
/// };
/// assert!((causes.thermal_output().0 + 49.7).abs() < 1e-9);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Causes {
    /// Resistance of the free foil.
    pub resistance: Microstrain,
    /// Strain that the specimen forces on the foil.
    pub expansion: Microstrain,
    /// The product of both.
    pub product: Microstrain,
}

impl Causes {
    /// Their sum.
    ///
    /// ```
    /// use gaugewright::{units::Microstrain, commissioning::prediction::Causes};
    /// let none = Microstrain(0.0);
    /// assert_eq!(Causes { resistance: none, expansion: none, product: none }.thermal_output(), none);
    /// ```
    #[must_use]
    pub const fn thermal_output(&self) -> Microstrain {
        Microstrain(self.resistance.0 + self.expansion.0 + self.product.0)
    }
}

/// Standard uncertainty of a predicted thermal output, by what it comes from (GUM, first order).
///
/// ```
/// use gaugewright::{units::Microstrain, commissioning::prediction::PredictionUncertainty};
/// let none = Microstrain(0.0);
/// let budget = PredictionUncertainty {
///     resistance: Microstrain(30.0),
///     specimen: Microstrain(40.0),
///     grid: none,
///     gauge_factor: none,
///     temperature: none,
/// };
/// assert_eq!(budget.combined(), Microstrain(50.0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PredictionUncertainty {
    /// Resistance coefficients of the foil.
    pub resistance: Microstrain,
    /// Expansion of the specimen.
    pub specimen: Microstrain,
    /// Expansion of the foil.
    pub grid: Microstrain,
    /// Gauge factor.
    pub gauge_factor: Microstrain,
    /// Temperature of the gauge.
    pub temperature: Microstrain,
}

impl PredictionUncertainty {
    /// All of them together; they are independent.
    ///
    /// ```
    /// use gaugewright::{units::Microstrain, commissioning::prediction::PredictionUncertainty};
    /// # let one = Microstrain(1.0);
    /// let budget = PredictionUncertainty {
    ///     resistance: one, specimen: one, grid: one, gauge_factor: one, temperature: Microstrain(0.0),
    /// };
    /// assert!((budget.combined().0 - 2.0).abs() < 1e-15);
    /// ```
    #[must_use]
    pub fn combined(&self) -> Microstrain {
        let each = [self.resistance, self.specimen, self.grid, self.gauge_factor, self.temperature];
        Microstrain(each.iter().fold(0.0, |sum, part| libm::hypot(sum, part.0)))
    }
}

/// Thermal output of a foil on a specimen, from what both do by themselves.
///
/// ```
/// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
///
/// // An invented foil, as all data here: copper-nickel, on an aluminium part.
/// const FOIL: FoilResistance = FoilResistance::new([-16.9e-6, -8.3e-8, 4.4e-10, -3.05e-13])
///     .standard_uncertainty([0.5e-6])
///     .between(Celsius(-200.0), Celsius(300.0));
/// const GRID: Expansion = Expansion::coefficient_polynomial([14.7e-6, 1.31e-8, -1.9e-11], Celsius(24.0))
///     .between(Celsius(-200.0), Celsius(300.0));
/// const PART: Expansion = Expansion::coefficient_polynomial([23.05e-6, 2.03e-8, -2.2e-11], Celsius(24.0))
///     .between(Celsius(-200.0), Celsius(300.0))
///     .standard_uncertainty(ExpansionPerCelsius::ppm(0.3));
/// const GAUGE: Gauge = Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07));
///
/// let prediction = Prediction::new(GAUGE, FOIL, GRID, PART).temperature_uncertainty(Celsius(0.5));
/// // At -80 C: foil and expansion are ten times what they leave.
/// let causes = prediction.causes(Celsius(-80.0))?;
/// assert!(causes.resistance.0 > 50.0 && causes.expansion.0 < -500.0);
/// let budget = prediction.uncertainty(Celsius(-80.0))?;
/// assert!((budget.specimen.0 - 31.9).abs() < 0.1);
/// assert!(budget.combined().0 > budget.specimen.0);
///
/// // As a package that a channel takes.
/// let package = prediction.package_curve(Celsius(-80.0), Celsius(120.0))?;
/// assert!(package.left_out.0 < 0.01);
/// let gauge = GAUGE.thermal_output(package.curve);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Prediction<'a> {
    bond: Bond<'a>,
    foil: FoilResistance,
    stated_for: f64,
    temperature_uncertainty: f64,
}

impl<'a> Prediction<'a> {
    /// Of a gauge, which gives gauge factor, its slope, reference temperature and transverse sensitivity (its thermal
    /// output, if it has one, is not used), with its foil's resistance, its foil's (the grid's) expansion and that of the
    /// specimen. Stated for a gauge factor of 2.0; [`stated_for`](Self::stated_for) sets another.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// let foil = FoilResistance::new([1e-5]).between(Celsius(0.0), Celsius(90.0));
    /// let both = Expansion::coefficient(ExpansionPerCelsius::ppm(15.0));
    /// let prediction = Prediction::new(Gauge::new(GaugeFactor(2.1)), foil, both, both);
    /// // Nothing is strained: resistance alone, in the scale of 2.0.
    /// assert!((prediction.thermal_output(Celsius(44.0))?.0 - 100.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn new(
        gauge: Gauge,
        foil: FoilResistance,
        grid: Expansion<'a>,
        specimen: Expansion<'a>,
    ) -> Self {
        let bond = Bond { gauge, grid, specimen, factor_uncertainty: 0.0 };
        Self { bond, foil, stated_for: 2.0, temperature_uncertainty: 0.0 }
    }

    /// The gauge factor that thermal output is wanted for.
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// let prediction = example::PREDICTION.stated_for(GaugeFactor(2.5));
    /// assert!((prediction.thermal_output(Celsius(44.0))?.0 - 80.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn stated_for(mut self, gauge_factor: GaugeFactor) -> Self {
        self.stated_for = gauge_factor.0;
        self
    }

    /// Relative standard uncertainty of the gauge factor, 0 to 50 %.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// # let foil = FoilResistance::new([0.0]).between(Celsius(0.0), Celsius(90.0));
    /// # let alloy = |ppm| Expansion::coefficient(ExpansionPerCelsius::ppm(ppm));
    /// let prediction = Prediction::new(Gauge::new(GaugeFactor(2.0)), foil, alloy(15.0), alloy(23.0))
    ///     .gauge_factor_uncertainty(Percent(1.0));
    /// assert!((prediction.uncertainty(Celsius(74.0))?.gauge_factor.0 - 4.0).abs() < 0.01);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn gauge_factor_uncertainty(mut self, uncertainty: Percent) -> Self {
        self.bond.factor_uncertainty = uncertainty.fraction();
        self
    }

    /// Standard uncertainty of the temperature of the gauge, 0 to 500 C.
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// let prediction = example::PREDICTION.temperature_uncertainty(Celsius(0.5));
    /// assert!((prediction.uncertainty(Celsius(74.0))?.temperature.0 - 2.5).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn temperature_uncertainty(mut self, uncertainty: Celsius) -> Self {
        self.temperature_uncertainty = uncertainty.0;
        self
    }

    /// The temperatures at which foil and expansions are all known.
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// let prediction = example::PREDICTION;
    /// assert_eq!(prediction.range(), (Celsius(0.0), Celsius(90.0)));
    /// ```
    #[must_use]
    pub const fn range(&self) -> (Celsius, Celsius) {
        let (low, high) = self.bond.range();
        (Celsius(low.max(self.foil.low)), Celsius(high.min(self.foil.high)))
    }

    /// Checks every part.
    ///
    /// # Errors
    /// [`Error::Invalid`] for the first input that is missing, not finite or out of range, [`Error::Reversed`] for a range
    /// whose upper end lies below its lower one.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// # let foil = FoilResistance::new([1e-5]).between(Celsius(0.0), Celsius(90.0));
    /// let grid = Expansion::coefficient(ExpansionPerCelsius(15.0)); // 1e-6 of that was meant
    /// assert!(Prediction::new(Gauge::new(GaugeFactor(2.1)), foil, grid, grid).check().is_err());
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        try_const!(self.bond.check());
        try_const!(self.foil.check());
        try_const!(Field::StatedGaugeFactor.check(self.stated_for));
        try_const!(Field::TemperatureUncertainty.check(self.temperature_uncertainty));
        // Zero at the reference temperature, so it has to be known there.
        within(Field::ReferenceTemperature, self.bond.gauge.reference, self.foil.low, self.foil.high)
    }

    const fn check_at(&self, temperature: Celsius) -> Result<(), Error> {
        try_const!(self.check());
        let (low, high) = self.range();
        within(Field::Temperature, temperature.0, low.0, high.0)
    }

    /// Thermal output at a temperature, by its causes. Against the tests' exact arithmetic within 1e-11 microstrain.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, and [`Error::Invalid`] for a temperature out of the [`range`](Self::range).
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// # let foil = FoilResistance::new([-1e-5]).between(Celsius(0.0), Celsius(90.0));
    /// # let alloy = |ppm| Expansion::coefficient(ExpansionPerCelsius::ppm(ppm));
    /// let causes = Prediction::new(Gauge::new(GaugeFactor(2.0)), foil, alloy(15.0), alloy(20.0))
    ///     .causes(Celsius(74.0))?;
    /// // A foil made for its part: what the part's expansion adds, its resistance takes off.
    /// assert!((causes.resistance.0 + 250.0).abs() < 1e-9 && (causes.expansion.0 - 250.0).abs() < 0.2);
    /// assert!(causes.thermal_output().0.abs() < 0.4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn causes(&self, temperature: Celsius) -> Result<Causes, Error> {
        try_const!(self.check_at(temperature));
        self.causes_at(temperature.0)
    }

    const fn causes_at(&self, temperature: f64) -> Result<Causes, Error> {
        let (change, _) = self.foil.change_and_slope(temperature - self.bond.gauge.reference);
        let (forced, _) = try_const!(self.bond.forced(temperature));
        let unit = 1e6 / self.stated_for;
        Ok(Causes {
            resistance: Microstrain(change * unit),
            expansion: Microstrain(forced * unit),
            product: Microstrain(change * forced * unit),
        })
    }

    /// Thermal output at a temperature.
    ///
    /// # Errors
    /// As [`causes`](Self::causes).
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// let prediction = example::PREDICTION;
    /// assert_eq!(prediction.thermal_output(Celsius(24.0))?.0, 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn thermal_output(&self, temperature: Celsius) -> Result<Microstrain, Error> {
        Ok(try_const!(self.causes(temperature)).thermal_output())
    }

    /// Slope of thermal output at a temperature.
    ///
    /// # Errors
    /// As [`causes`](Self::causes).
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// let prediction = example::PREDICTION;
    /// assert!((prediction.slope(Celsius(60.0))?.0 - 5.0).abs() < 1e-12);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn slope(&self, temperature: Celsius) -> Result<MicrostrainPerCelsius, Error> {
        try_const!(self.check_at(temperature));
        let (change, rise) = self.foil.change_and_slope(temperature.0 - self.bond.gauge.reference);
        let (forced, forced_rise) = try_const!(self.bond.forced(temperature.0));
        let slope = rise * (1.0 + forced) + (1.0 + change) * forced_rise;
        Ok(MicrostrainPerCelsius(slope * 1e6 / self.stated_for))
    }

    /// Standard uncertainty of thermal output at a temperature, from those given with the parts.
    ///
    /// # Errors
    /// As [`causes`](Self::causes).
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, prediction::*}};
    /// let foil = FoilResistance::new([1e-5])
    ///     .standard_uncertainty([1e-6])
    ///     .between(Celsius(0.0), Celsius(90.0));
    /// let both = Expansion::coefficient(ExpansionPerCelsius::ppm(15.0))
    ///     .standard_uncertainty(ExpansionPerCelsius::ppm(0.5));
    /// let budget = Prediction::new(Gauge::new(GaugeFactor(2.0)), foil, both, both).uncertainty(Celsius(74.0))?;
    /// assert!((budget.resistance.0 - 25.0).abs() < 1e-9);
    /// // Two materials, whatever they are called: their errors do not cancel.
    /// assert!((budget.specimen.0 - 25.0).abs() < 0.1 && (budget.grid.0 - 25.0).abs() < 0.1);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn uncertainty(&self, temperature: Celsius) -> Result<PredictionUncertainty, Error> {
        let slope = self.slope(temperature)?;
        let above = temperature.0 - self.bond.gauge.reference;
        let (change, _) = self.foil.change_and_slope(above);
        let (forced, _) = self.bond.forced(temperature.0)?;
        let unit = 1e6 / self.stated_for;
        let [specimen, grid, gauge_factor] = self.bond.contributions(temperature.0)?;
        let scaled = |forced: f64| Microstrain(forced * (1.0 + change) * unit);
        Ok(PredictionUncertainty {
            resistance: Microstrain(self.foil.uncertainty_at(above) * (1.0 + forced) * unit),
            specimen: scaled(specimen),
            grid: scaled(grid),
            gauge_factor: scaled(gauge_factor),
            temperature: Microstrain((slope.0 * self.temperature_uncertainty).abs()),
        })
    }

    /// The prediction over a window of a degree at least, as a package curve that a channel takes.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, [`Error::Invalid`] for a window that is not inside the [`range`](Self::range), and
    /// [`Error::Reversed`] for one whose upper end lies below its lower one.
    ///
    /// ```
    /// use gaugewright::{example, units::*};
    /// let prediction = example::PREDICTION;
    /// let package = prediction.package_curve(Celsius(0.0), Celsius(90.0))?;
    /// assert!(package.left_out.0 < 1e-9 && (package.curve.at(Celsius(44.0)).0 - 100.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn package_curve(&self, low: Celsius, high: Celsius) -> Result<PackageCurve, Error> {
        self.check()?;
        PackageCurve::check_window((low.0, high.0), self.range())?;
        let thermal_output = |temperature: f64| Ok(self.causes_at(temperature)?.thermal_output().0);
        PackageCurve::through(thermal_output, (low, high), self.stated_for)
    }
}
