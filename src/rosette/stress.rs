//! Plane stress from strain and elastic constants.

use super::circle::Circle;
use super::material::Elasticity;
use super::strain::PlaneStrain;
use crate::numeric::Float;
use crate::units::{Degrees, Megapascals};

/// The state of stress of a free surface, in `f32` or `f64`; angles and signs are those of the
/// [module](super).
///
/// ```
/// use gaugewright::{rosette::{Material, PlaneStrain, PlaneStress}, units::{Celsius, Gigapascals}};
/// let elasticity = Material::new(Gigapascals(200.0), 0.25).at(Celsius(20.0))?;
/// // Shear of 1 milliradian: the shear modulus is 80 GPa.
/// let stress: PlaneStress<f64> = elasticity.stress(&PlaneStrain::new(0.0, 0.0, 1e-3));
/// assert!((stress.xy_shear().0 - 80.0).abs() < 1e-12);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PlaneStress<T> {
    /// MPa.
    pub(super) circle: Circle<T>,
}

/// Principal stresses in the plane (the third, at right angles to the free surface, is zero) and what is made
/// of them.
///
/// ```
/// use gaugewright::{rosette::{Material, PlaneStrain, PrincipalStress}, units::{Celsius, Gigapascals}};
/// # let elasticity = Material::new(Gigapascals(200.0), 0.25).at(Celsius(20.0))?;
/// // Even tension, as on a sphere under pressure: the shear is out of the plane.
/// let stress: PrincipalStress<f64> = elasticity.stress(&PlaneStrain::new(3e-4, 3e-4, 0.0)).principal();
/// assert!((stress.first.0 - 80.0).abs() < 1e-12 && stress.in_plane_shear.0 == 0.0);
/// assert!((stress.greatest_shear.0 - 40.0).abs() < 1e-12 && (stress.tresca.0 - 80.0).abs() < 1e-12);
/// assert_eq!(stress.direction, None);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PrincipalStress<T> {
    /// The larger one in the plane.
    pub first: Megapascals<T>,
    /// The smaller one in the plane.
    pub second: Megapascals<T>,
    /// Where the first points, as that of the principal strains; `None` where the two are equal.
    pub direction: Option<Degrees<T>>,
    /// The greatest shear stress on planes at right angles to the surface.
    pub in_plane_shear: Megapascals<T>,
    /// The greatest shear stress of all planes, the third principal stress of zero included.
    pub greatest_shear: Megapascals<T>,
    /// Equivalent stress of von Mises: of distortion energy.
    pub von_mises: Megapascals<T>,
    /// Equivalent stress of Tresca: twice the greatest shear.
    pub tresca: Megapascals<T>,
}

impl<T: Float> Elasticity<T> {
    /// Stress from strain, by Hooke's law of an isotropic material with a free surface: the mean of
    /// two stresses at right angles is `E / (1 - nu)` times that of the strains, half their
    /// difference and the shear `E / (1 + nu)` times half the difference and half the shear. Three
    /// roundings each.
    ///
    /// ```
    /// use gaugewright::{rosette::{Material, PlaneStrain}, units::*};
    /// let elasticity = Material::new(Gigapascals(200.0), 0.25).at(Celsius(20.0))?;
    /// let stress = elasticity.stress(&PlaneStrain::new(1e-3, 0.0, 0.0));
    /// assert!((stress.y().0 / stress.x().0 - 0.25).abs() < 1e-6);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn stress(&self, strain: &PlaneStrain<T>) -> PlaneStress<T> {
        let (volume, distortion) = self.moduli();
        PlaneStress {
            circle: Circle {
                mean: volume * strain.circle.mean,
                difference: distortion * strain.circle.difference,
                shear: distortion * strain.circle.shear,
            },
        }
    }

    /// Of the mean and of the other two.
    pub(super) fn moduli(&self) -> (T, T) {
        (self.modulus / (T::ONE - self.poisson), self.modulus / (T::ONE + self.poisson))
    }
}

impl<T: Float> PlaneStress<T> {
    /// Stress along the x axis.
    ///
    /// ```
    /// use gaugewright::{rosette::{Material, PlaneStrain}, units::*};
    /// let elasticity = Material::new(Gigapascals(100.0), 0.0).at(Celsius(20.0))?;
    /// assert!((elasticity.stress(&PlaneStrain::new(1e-3, 0.0, 0.0)).x().0 - 100.0).abs() < 1e-4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn x(&self) -> Megapascals<T> {
        Megapascals(self.circle.mean + self.circle.difference)
    }

    /// Stress along the y axis.
    ///
    /// ```
    /// use gaugewright::{rosette::{Material, PlaneStrain}, units::*};
    /// let elasticity = Material::new(Gigapascals(100.0), 0.0).at(Celsius(20.0))?;
    /// assert!((elasticity.stress(&PlaneStrain::new(0.0, 1e-3, 0.0)).y().0 - 100.0).abs() < 1e-4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn y(&self) -> Megapascals<T> {
        Megapascals(self.circle.mean - self.circle.difference)
    }

    /// Shear stress between x and y.
    ///
    /// ```
    /// use gaugewright::{rosette::{Material, PlaneStrain}, units::*};
    /// let elasticity = Material::new(Gigapascals(100.0), 0.0).at(Celsius(20.0))?;
    /// assert!((elasticity.stress(&PlaneStrain::new(0.0, 0.0, 1e-3)).xy_shear().0 - 50.0).abs() < 1e-4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn xy_shear(&self) -> Megapascals<T> {
        Megapascals(self.circle.shear)
    }

    /// Principal stresses, direction, greatest shears and equivalent stresses.
    ///
    /// Errors as those of [`PlaneStrain::principal`]; von Mises 3 units of roundoff of itself.
    ///
    /// ```
    /// use gaugewright::{rosette::{Material, PlaneStrain}, units::*};
    /// let elasticity = Material::new(Gigapascals(100.0), 0.0).at(Celsius(20.0))?;
    /// // Pure shear: von Mises is the square root of three times it, Tresca twice.
    /// let stress = elasticity.stress(&PlaneStrain::new(0.0, 0.0, 2e-3)).principal();
    /// assert!((stress.von_mises.0 - 173.205).abs() < 1e-3 && (stress.tresca.0 - 200.0).abs() < 1e-4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn principal(&self) -> PrincipalStress<T> {
        let radius = self.circle.radius();
        let (first, second) = (self.circle.mean + radius, self.circle.mean - radius);
        // One of the three differences of first, second and zero is the largest.
        let tresca = (T::of(2.0) * radius).max(first.abs()).max(second.abs());
        PrincipalStress {
            first: Megapascals(first),
            second: Megapascals(second),
            direction: self.circle.direction().map(Degrees),
            in_plane_shear: Megapascals(radius),
            greatest_shear: Megapascals(tresca / T::of(2.0)),
            von_mises: Megapascals(self.von_mises()),
            tresca: Megapascals(tresca),
        }
    }

    pub(super) fn von_mises(&self) -> T {
        let Circle { mean, difference, shear } = self.circle;
        (mean * mean + T::of(3.0) * (difference * difference + shear * shear)).root()
    }
}
