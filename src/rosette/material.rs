//! Elastic constants of the part, at temperature.

use crate::error::{Error, Field, TEMPERATURES, range_within, try_const, within};
use crate::numeric::{Float, Polynomial};
use crate::units::{Celsius, Gigapascals, Megapascals, Percent, PercentPer100C};

/// An isotropic, linearly elastic material: modulus against temperature, Poisson ratio, and how well they are
/// known.
///
/// Modulus 0.001 to 2000 GPa, Poisson ratio 0 to 0.5 (the same at all temperatures). A modulus that changes
/// with temperature needs the temperatures at which it is known ([`between`](Self::between)); it is not extrapolated.
///
/// ```
/// use gaugewright::{rosette::Material, units::{Celsius, Gigapascals, Percent, PercentPer100C}};
/// const STEEL: Material = Material::new(Gigapascals(206.0), 0.29)
///     .modulus_slope(PercentPer100C(-3.0), Celsius(20.0))
///     .between(Celsius(-100.0), Celsius(300.0))
///     .modulus_uncertainty(Percent(1.0))
///     .poisson_uncertainty(0.01);
/// let hot = STEEL.at(Celsius(220.0))?;
/// assert!((hot.modulus().0 - 206_000.0 * 0.94).abs() < 1e-9);
/// assert!(STEEL.at(Celsius(301.0)).is_err());
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Material {
    /// GPa against degrees Celsius.
    modulus: Polynomial,
    poisson: f64,
    low: f64,
    high: f64,
    modulus_uncertainty: f64,
    poisson_uncertainty: f64,
}

/// Elastic constants of a material at one temperature, in `f32` or `f64`.
///
/// ```
/// use gaugewright::{rosette::{Elasticity, Material, PlaneStrain}, units::{Celsius, Gigapascals}};
/// let elasticity: Elasticity<f64> = Material::new(Gigapascals(200.0), 0.3).at(Celsius(20.0))?;
/// // Uniaxial stress of 200 MPa.
/// let stress = elasticity.stress(&PlaneStrain::new(1e-3, -0.3e-3, 0.0)).principal();
/// assert!((stress.first.0 - 200.0).abs() < 1e-9 && stress.second.0.abs() < 1e-9);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Elasticity<T> {
    /// MPa.
    pub(super) modulus: T,
    pub(super) poisson: T,
    /// Fraction.
    pub(super) modulus_uncertainty: T,
    pub(super) poisson_uncertainty: T,
}

impl Material {
    /// With this modulus at every temperature (-273.15 to 2047 C), and this Poisson ratio. A slope or points of the modulus may follow.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::Gigapascals};
    /// const TITANIUM: Material = Material::new(Gigapascals(113.8), 0.342);
    /// ```
    #[must_use]
    pub const fn new(modulus: Gigapascals, poisson_ratio: f64) -> Self {
        Self::polynomial(Polynomial::constant(modulus.0), poisson_ratio)
    }

    /// With a modulus in GPa that is a polynomial of the temperature in degrees Celsius.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::Celsius, numeric::Polynomial};
    /// let material = Material::polynomial(Polynomial::new([70.0, -0.03, -2e-5]), 0.33)
    ///     .between(Celsius(-200.0), Celsius(150.0));
    /// assert_eq!(material.at(Celsius(100.0))?.modulus().0, 66_800.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn polynomial(modulus: Polynomial, poisson_ratio: f64) -> Self {
        Self {
            modulus,
            poisson: poisson_ratio,
            low: f64::NAN,
            high: f64::NAN,
            modulus_uncertainty: 0.0,
            poisson_uncertainty: 0.0,
        }
    }

    /// The modulus changing in proportion to temperature: what was given holds at the reference. To be used
    /// once, after [`new`](Self::new); a modulus that is a polynomial already has its slope at the reference
    /// replaced.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let material = Material::new(Gigapascals(200.0), 0.29)
    ///     .modulus_slope(PercentPer100C(-4.0), Celsius(20.0))
    ///     .between(Celsius(0.0), Celsius(200.0));
    /// assert!((material.at(Celsius(120.0))?.modulus().0 - 192_000.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn modulus_slope(mut self, slope: PercentPer100C, reference: Celsius) -> Self {
        let modulus = self.modulus.at(reference.0);
        let per_degree = modulus * slope.per_celsius();
        self.modulus = Polynomial::new([modulus - per_degree * reference.0, per_degree]);
        self
    }

    /// The temperatures at which the modulus is known.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let material = Material::new(Gigapascals(3.0), 0.37).between(Celsius(0.0), Celsius(40.0));
    /// assert!(material.at(Celsius(-0.5)).is_err());
    /// ```
    #[must_use]
    pub const fn between(mut self, low: Celsius, high: Celsius) -> Self {
        self.low = low.0;
        self.high = high.0;
        self
    }

    /// Standard uncertainty of the modulus, as a part of it (up to 50 %).
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let material = Material::new(Gigapascals(70.0), 0.33).modulus_uncertainty(Percent(1.5));
    /// assert_eq!(material.at(Celsius(20.0))?.modulus_uncertainty().0, 1050.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn modulus_uncertainty(mut self, standard: Percent) -> Self {
        self.modulus_uncertainty = standard.fraction();
        self
    }

    /// Standard uncertainty of the Poisson ratio (up to 0.2).
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let material = Material::new(Gigapascals(70.0), 0.33).poisson_uncertainty(0.01);
    /// assert_eq!(material.at(Celsius(20.0))?.poisson_uncertainty(), 0.01);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn poisson_uncertainty(mut self, standard: f64) -> Self {
        self.poisson_uncertainty = standard;
        self
    }

    /// The elastic constants at a temperature. Horner's rule in `f64`.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature out of range, a range that is missing where the modulus changes with
    /// temperature, a modulus, Poisson ratio or uncertainty out of range. [`Error::Reversed`]: a range whose upper end lies below its lower
    /// one.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let material = Material::new(Gigapascals(70.0), 0.6);
    /// let error = material.at(Celsius(20.0)).unwrap_err();
    /// assert_eq!(error.to_string(), "Poisson ratio of the specimen is 0.6, allowed: 0 to 0.5");
    /// ```
    pub const fn at(&self, temperature: Celsius) -> Result<Elasticity<f64>, Error> {
        let everywhere = self.modulus.degree() == 0 && self.low.is_nan() && self.high.is_nan();
        let (low, high) = if everywhere {
            TEMPERATURES
        } else {
            let (low, high) = (self.low, self.high);
            try_const!(range_within((Field::ModulusLow, low), (Field::ModulusHigh, high), TEMPERATURES));
            (low, high)
        };
        try_const!(within(Field::Temperature, temperature.0, low, high));
        let modulus = self.modulus.at(temperature.0);
        try_const!(Field::ElasticModulus.check(modulus));
        try_const!(Field::PoissonRatio.check(self.poisson));
        try_const!(Field::ModulusUncertainty.check(self.modulus_uncertainty * 100.0));
        try_const!(within(Field::PoissonUncertainty, self.poisson_uncertainty, 0.0, 0.2));
        Ok(Elasticity {
            modulus: Gigapascals(modulus).megapascals().0,
            poisson: self.poisson,
            modulus_uncertainty: self.modulus_uncertainty,
            poisson_uncertainty: self.poisson_uncertainty,
        })
    }
}

impl Elasticity<f64> {
    /// The same in `f32`, each rounded once.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let elasticity = Material::new(Gigapascals(69.0), 0.33).at(Celsius(20.0))?.float32();
    /// assert_eq!(elasticity.modulus(), Megapascals(69_000.0_f32));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn float32(&self) -> Elasticity<f32> {
        Elasticity {
            modulus: self.modulus as f32,
            poisson: self.poisson as f32,
            modulus_uncertainty: self.modulus_uncertainty as f32,
            poisson_uncertainty: self.poisson_uncertainty as f32,
        }
    }
}

impl<T: Float> Elasticity<T> {
    /// The elastic modulus.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let elasticity = Material::new(Gigapascals(69.0), 0.33).at(Celsius(20.0))?;
    /// assert_eq!(elasticity.modulus().0, 69_000.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn modulus(&self) -> Megapascals<T> {
        Megapascals(self.modulus)
    }

    /// Its standard uncertainty.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let elasticity = Material::new(Gigapascals(69.0), 0.33).at(Celsius(20.0))?;
    /// assert_eq!(elasticity.modulus_uncertainty().0, 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn modulus_uncertainty(&self) -> Megapascals<T> {
        Megapascals(self.modulus * self.modulus_uncertainty)
    }

    /// The Poisson ratio.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let elasticity = Material::new(Gigapascals(69.0), 0.25).at(Celsius(20.0))?;
    /// assert_eq!(elasticity.poisson_ratio(), 0.25);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn poisson_ratio(&self) -> T {
        self.poisson
    }

    /// Its standard uncertainty, a number without a unit.
    ///
    /// ```
    /// use gaugewright::{rosette::Material, units::*};
    /// let elasticity = Material::new(Gigapascals(69.0), 0.25).at(Celsius(20.0))?;
    /// assert_eq!(elasticity.poisson_uncertainty(), 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn poisson_uncertainty(&self) -> T {
        self.poisson_uncertainty
    }
}
