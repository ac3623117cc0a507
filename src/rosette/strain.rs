//! The state of strain of a surface.

use super::circle::Circle;
use crate::numeric::{Float, double_angle};
use crate::units::Degrees;

/// The state of strain of a surface, in `f32` or `f64`; strains are plain ratios, angles and signs those of
/// the [module](super).
///
/// ```
/// use gaugewright::rosette::PlaneStrain;
/// let strain = PlaneStrain::new(300e-6, 100e-6, 0.0_f64);
/// assert!((strain.x() - 300e-6).abs() < 1e-18 && (strain.mean() - 200e-6).abs() < 1e-18);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PlaneStrain<T> {
    pub(super) circle: Circle<T>,
}

/// Principal strains, plain ratios.
///
/// ```
/// use gaugewright::rosette::{PlaneStrain, PrincipalStrain};
/// let principal: PrincipalStrain<f64> = PlaneStrain::new(0.0, 0.0, 400e-6_f64).principal();
/// assert_eq!((principal.first, principal.second), (200e-6, -200e-6));
/// assert_eq!(principal.direction.unwrap().0, 45.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct PrincipalStrain<T> {
    /// The larger principal strain.
    pub first: T,
    /// The smaller principal strain.
    pub second: T,
    /// The greatest engineering shear strain in the plane of the surface: the difference of the two.
    pub shear: T,
    /// Where the first points; `None` where the two are equal, and every direction is as good.
    pub direction: Option<Degrees<T>>,
}

impl<T: Float> PlaneStrain<T> {
    /// From strain along x and y and engineering shear, for `f32` and `f64`. One rounding each.
    ///
    /// ```
    /// use gaugewright::rosette::PlaneStrain;
    /// let (double, single) = (PlaneStrain::new(1e-3, -1e-3, 5e-4_f64), PlaneStrain::new(1e-3, -1e-3, 5e-4_f32));
    /// assert_eq!((double.shear(), single.shear()), (5e-4, 5e-4));
    /// ```
    #[must_use]
    pub fn new(x: T, y: T, shear: T) -> Self {
        let half = T::of(0.5);
        Self { circle: Circle { mean: (x + y) * half, difference: (x - y) * half, shear: shear * half } }
    }

    /// Strain along the x axis.
    ///
    /// ```
    /// let strain = gaugewright::rosette::PlaneStrain::<f64>::new(0.25, 0.5, 0.0);
    /// assert_eq!(strain.x(), 0.25);
    /// ```
    #[must_use]
    pub fn x(&self) -> T {
        self.circle.mean + self.circle.difference
    }

    /// Strain along the y axis.
    ///
    /// ```
    /// let strain = gaugewright::rosette::PlaneStrain::<f64>::new(0.25, 0.5, 0.0);
    /// assert_eq!(strain.y(), 0.5);
    /// ```
    #[must_use]
    pub fn y(&self) -> T {
        self.circle.mean - self.circle.difference
    }

    /// Engineering shear strain between x and y, in radians.
    ///
    /// ```
    /// let strain = gaugewright::rosette::PlaneStrain::<f64>::new(0.0, 0.0, 0.5);
    /// assert_eq!(strain.shear(), 0.5);
    /// ```
    #[must_use]
    pub fn shear(&self) -> T {
        self.circle.shear * T::of(2.0)
    }

    /// The mean of two strains at right angles, the same for all: the middle of Mohr's circle.
    ///
    /// ```
    /// let strain = gaugewright::rosette::PlaneStrain::<f64>::new(0.25, 0.75, 0.0);
    /// assert_eq!(strain.mean(), 0.5);
    /// ```
    #[must_use]
    pub fn mean(&self) -> T {
        self.circle.mean
    }

    /// Strain along a line in the given direction. Cosine and sine are computed in `f64`; each
    /// product and sum is rounded in the type's own precision.
    ///
    /// ```
    /// use gaugewright::{rosette::PlaneStrain, units::Degrees};
    /// let strain = PlaneStrain::<f64>::new(0.25, 0.75, 0.5);
    /// assert_eq!(strain.along(Degrees(90.0)), 0.75);
    /// assert_eq!(strain.along(Degrees(45.0)), 0.75);
    /// ```
    #[must_use]
    pub fn along(&self, direction: Degrees) -> T {
        let (cosine, sine) = double_angle(direction.0);
        self.circle.mean + (self.circle.difference * T::of(cosine) + self.circle.shear * T::of(sine))
    }

    /// Principal strains, greatest shear and direction.
    ///
    /// Errors of the arithmetic, in units of roundoff (6e-8 in `f32`, 1.1e-16 in `f64`): of a
    /// principal strain 2 of half the greatest shear and 1 of the strain itself; of the direction
    /// 1e-5 degrees in `f32` and 3e-14 in `f64` (sampled every 0.01 degrees). What the state itself
    /// is off comes on top; an error of half shear across the circle turns the direction by half of
    /// it over the circle's radius, in radians.
    ///
    /// ```
    /// use gaugewright::rosette::PlaneStrain;
    /// let even = PlaneStrain::<f64>::new(1e-3, 1e-3, 0.0).principal();
    /// assert_eq!((even.first, even.second, even.direction), (1e-3, 1e-3, None));
    /// ```
    #[must_use]
    pub fn principal(&self) -> PrincipalStrain<T> {
        let radius = self.circle.radius();
        PrincipalStrain {
            first: self.circle.mean + radius,
            second: self.circle.mean - radius,
            shear: radius * T::of(2.0),
            direction: self.circle.direction().map(Degrees),
        }
    }
}
