//! Stresses with their uncertainty: that of the strains, of the modulus and of the Poisson ratio.

use super::circle::Circle;
use super::covariance::Covariance;
use super::estimate::{Estimate, deviation};
use super::material::Elasticity;
use super::strain::PlaneStrain;
use crate::numeric::Float;
use crate::units::{Degrees, Megapascals};

/// A state of stress with its uncertainty, to first order; see [`StrainEstimate`](super::StrainEstimate) for
/// what *resolved* means and what the uncertainties are where it is not.
///
/// The modulus and the Poisson ratio are taken as independent of the strains and of each other. They do not
/// turn the direction, which is that of the strains. First order leaves out that stress curves with the
/// Poisson ratio: an uncertainty of 0.01 moves the mean by 2e-4 of the stress.
///
/// ```
/// use gaugewright::{rosette::{GridUncertainty, Material, Rosette, StressEstimate}, units::*};
/// const ROSETTE: Rosette = Rosette::rectangular();
/// let kernel = ROSETTE.float64();
/// let covariance = kernel.covariance(&GridUncertainty::independent([Microstrain(2.0); 3])?);
/// let elasticity =
///     Material::new(Gigapascals(200.0), 0.29).modulus_uncertainty(Percent(1.0)).at(Celsius(20.0))?;
/// let stress: StressEstimate<f64> =
///     elasticity.estimate(&kernel.strain([1000e-6, 355e-6, -290e-6]), &covariance);
/// // 1 % of 200 MPa, and a little for the strains.
/// assert!((stress.first.uncertainty.0 - 2.05).abs() < 0.02);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct StressEstimate<T> {
    /// Along the x axis.
    pub x: Estimate<Megapascals<T>>,
    /// Along the y axis.
    pub y: Estimate<Megapascals<T>>,
    /// Shear between x and y.
    pub xy_shear: Estimate<Megapascals<T>>,
    /// The larger principal stress in the plane.
    pub first: Estimate<Megapascals<T>>,
    /// The smaller one.
    pub second: Estimate<Megapascals<T>>,
    /// Direction of the first; `None` where the state of strain is not resolved.
    pub direction: Option<Estimate<Degrees<T>>>,
    /// The greatest shear in the plane.
    pub in_plane_shear: Estimate<Megapascals<T>>,
    /// Equivalent stress of von Mises. First order where it is at least four times its own largest
    /// uncertainty, otherwise (a part without load) an upper bound.
    pub von_mises: Estimate<Megapascals<T>>,
    /// Equivalent stress of Tresca. Its uncertainty is the largest of those of the three differences it is
    /// chosen from: an upper bound, since which of them is the largest is not known better than the stresses
    /// are.
    pub tresca: Estimate<Megapascals<T>>,
    /// The difference of the principal strains stands out of its uncertainty.
    pub resolved: bool,
}

impl<T: Float> Elasticity<T> {
    /// Stresses with their uncertainty, from strain and its covariance.
    ///
    /// ```
    /// use gaugewright::{rosette::{GridUncertainty, Material, Rosette}, units::*};
    /// let kernel = Rosette::delta().float64();
    /// let covariance = kernel.covariance(&GridUncertainty::independent([Microstrain(1.0); 3])?);
    /// let elasticity = Material::new(Gigapascals(69.0), 0.33).at(Celsius(20.0))?;
    /// let unloaded = elasticity.estimate(&kernel.strain([0.0; 3]), &covariance);
    /// assert_eq!(unloaded.von_mises.value.0, 0.0);
    /// assert!(unloaded.von_mises.uncertainty.0 > 0.0 && unloaded.direction.is_none());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn estimate(&self, strain: &PlaneStrain<T>, covariance: &Covariance<T>) -> StressEstimate<T> {
        let found = strain.estimate(covariance);
        let stress = self.stress(strain);
        let principal = stress.principal();
        let total = self.covariance(&stress.circle, covariance);
        let spread = total.spread(&stress.circle, found.resolved);
        let of = |value, uncertainty| Estimate { value, uncertainty: Megapascals(uncertainty) };
        StressEstimate {
            x: of(stress.x(), spread.x),
            y: of(stress.y(), spread.y),
            xy_shear: of(stress.xy_shear(), deviation(total.shear)),
            first: of(principal.first, spread.first),
            second: of(principal.second, spread.second),
            direction: found.direction,
            in_plane_shear: of(principal.in_plane_shear, spread.radius),
            von_mises: of(
                principal.von_mises,
                self.of_von_mises(principal.von_mises.0, &stress.circle, &total),
            ),
            tresca: of(principal.tresca, spread.first.max(spread.second).max(T::of(2.0) * spread.radius)),
            resolved: found.resolved,
        }
    }

    /// Of the stresses, MPa squared.
    fn covariance(&self, stress: &Circle<T>, strain: &Covariance<T>) -> Covariance<T> {
        let (volume, distortion) = self.moduli();
        // What the modulus moves them by is a part of them all; the Poisson ratio moves mean and
        // difference apart.
        let of_modulus = self.modulus_uncertainty * self.modulus_uncertainty;
        let poisson = self.poisson_uncertainty;
        let (up, down) = (poisson / (T::ONE - self.poisson), -poisson / (T::ONE + self.poisson));
        let both = |scale: T, covariance: T, product: T, by_poisson: T| {
            scale * covariance + product * (of_modulus + by_poisson)
        };
        let &Circle { mean, difference, shear } = stress;
        Covariance {
            mean: both(volume * volume, strain.mean, mean * mean, up * up),
            difference: both(
                distortion * distortion,
                strain.difference,
                difference * difference,
                down * down,
            ),
            shear: both(distortion * distortion, strain.shear, shear * shear, down * down),
            mean_difference: both(volume * distortion, strain.mean_difference, mean * difference, up * down),
            mean_shear: both(volume * distortion, strain.mean_shear, mean * shear, up * down),
            difference_shear: both(
                distortion * distortion,
                strain.difference_shear,
                difference * shear,
                down * down,
            ),
        }
    }

    /// Von Mises is the length of (mean, sqrt 3 half difference, sqrt 3 shear): smooth where the
    /// circle is a point, but not where all three are zero.
    fn of_von_mises(&self, value: T, stress: &Circle<T>, total: &Covariance<T>) -> T {
        let largest = deviation(total.mean + T::of(3.0) * (total.difference + total.shear));
        if value < T::of(4.0) * largest || value == T::ZERO {
            return largest;
        }
        let (mean, difference, shear) =
            (stress.mean / value, T::of(3.0) * stress.difference / value, T::of(3.0) * stress.shear / value);
        let own = mean * mean * total.mean
            + difference * difference * total.difference
            + shear * shear * total.shear;
        let mixed = mean * (difference * total.mean_difference + shear * total.mean_shear)
            + difference * shear * total.difference_shear;
        deviation(own + T::of(2.0) * mixed)
    }
}
