//! How well strains are known: of the grids, and of the state that follows from them.

use crate::error::{Error, Field, try_const};
use crate::numeric::Float;
use crate::units::Microstrain;

/// Standard uncertainties of the grids' strains and what these have in common (JCGM 100:2008, 5.2).
///
/// Each is 0 to 100 000 microstrain.
///
/// ```
/// use gaugewright::{rosette::GridUncertainty, units::Microstrain};
/// // Noise of each grid, and a thermometer that all of them share: half a degree on curves of 8, 8 and 9 microstrain a degree.
/// let grids = GridUncertainty::independent([Microstrain(1.5); 3])?
///     .shared([Microstrain(4.0), Microstrain(4.0), Microstrain(4.5)])?;
/// assert!((grids.standard(0).0 - (1.5f64 * 1.5 + 4.0 * 4.0).sqrt()).abs() < 1e-9);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct GridUncertainty<const N: usize = 3> {
    /// Of plain ratios; symmetrical.
    covariance: [[f64; N]; N],
}

impl<const N: usize> GridUncertainty<N> {
    /// The errors of the grids are independent of each other.
    ///
    /// # Errors
    /// [`Error::Invalid`]: an uncertainty that is negative, not finite or too large.
    ///
    /// ```
    /// use gaugewright::{rosette::GridUncertainty, units::Microstrain};
    /// assert!(GridUncertainty::independent([Microstrain(1.0); 3]).is_ok());
    /// assert!(GridUncertainty::independent([Microstrain(1.0), Microstrain(-1.0), Microstrain(1.0)]).is_err());
    /// ```
    pub const fn independent(standard: [Microstrain; N]) -> Result<Self, Error> {
        let mut covariance = [[0.0; N]; N];
        let mut k = 0;
        while k < N {
            try_const!(Field::StrainUncertainty.check(standard[k].0));
            covariance[k][k] = standard[k].strain().0 * standard[k].strain().0;
            k += 1;
        }
        Ok(Self { covariance })
    }

    /// With one more cause that moves all grids: the standard uncertainty it gives each, with a sign where it
    /// moves one up and another down. Temperature is such a cause: what it is off enters all grids at once.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a part that is not finite or beyond +-100 000 microstrain.
    ///
    /// ```
    /// use gaugewright::{rosette::GridUncertainty, units::Microstrain};
    /// let grids = GridUncertainty::independent([Microstrain(3.0); 3])?.shared([Microstrain(-4.0); 3])?;
    /// assert!((grids.standard(2).0 - 5.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn shared(mut self, part: [Microstrain; N]) -> Result<Self, Error> {
        let mut i = 0;
        while i < N {
            try_const!(Field::SharedUncertainty.check(part[i].0));
            let mut j = 0;
            while j < N {
                self.covariance[i][j] += part[i].strain().0 * part[j].strain().0;
                j += 1;
            }
            i += 1;
        }
        Ok(self)
    }

    /// The standard uncertainty of a grid, counted from 0, all causes together.
    ///
    /// # Panics
    /// For an index that no grid has.
    ///
    /// ```
    /// use gaugewright::{rosette::GridUncertainty, units::Microstrain};
    /// let grids = GridUncertainty::independent([Microstrain(1.0), Microstrain(2.0), Microstrain(3.0)])?;
    /// assert!((grids.standard(1).0 - 2.0).abs() < 1e-12);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn standard(&self, grid: usize) -> Microstrain {
        crate::units::Strain(libm::sqrt(self.covariance[grid][grid])).microstrain()
    }

    /// The covariance of two sums of the grids.
    pub(super) const fn of(&self, one: &[f64; N], other: &[f64; N]) -> f64 {
        let mut sum = 0.0;
        let mut i = 0;
        while i < N {
            let mut j = 0;
            while j < N {
                sum += one[i] * self.covariance[i][j] * other[j];
                j += 1;
            }
            i += 1;
        }
        sum
    }
}

impl GridUncertainty {
    /// With the correlation coefficients of grids a and b, b and c, c and a, each -1 to 1.
    ///
    /// # Errors
    /// [`Error::Invalid`]: as [`independent`](Self::independent); a coefficient out of range; or three that
    /// no quantities can have together (their matrix has a negative determinant).
    ///
    /// ```
    /// use gaugewright::{rosette::GridUncertainty, units::Microstrain};
    /// let standard = [Microstrain(2.0); 3];
    /// assert!(GridUncertainty::correlated(standard, [0.8, 0.8, 0.9]).is_ok());
    /// // If a goes with b and b with c, then a cannot go against c.
    /// assert!(GridUncertainty::correlated(standard, [0.9, 0.9, -0.9]).is_err());
    /// ```
    pub const fn correlated(standard: [Microstrain; 3], correlation: [f64; 3]) -> Result<Self, Error> {
        let mut grids = try_const!(Self::independent(standard));
        let mut k = 0;
        while k < 3 {
            try_const!(Field::Correlation.check(correlation[k]));
            k += 1;
        }
        let [ab, bc, ca] = correlation;
        let determinant = 1.0 + 2.0 * ab * bc * ca - ab * ab - bc * bc - ca * ca;
        // Full correlation is a determinant of zero, to rounding.
        try_const!(Field::CorrelationDeterminant.check(determinant));
        let coefficients = [[1.0, ab, ca], [ab, 1.0, bc], [ca, bc, 1.0]];
        let mut i = 0;
        while i < 3 {
            let mut j = 0;
            while j < 3 {
                grids.covariance[i][j] = coefficients[i][j] * standard[i].strain().0 * standard[j].strain().0;
                j += 1;
            }
            i += 1;
        }
        Ok(grids)
    }
}

/// Variances and covariances of mean, half difference and half shear, in plain ratios squared.
///
/// Made by [`RosetteKernel::covariance`](super::RosetteKernel::covariance) and
/// [`AngleUncertainty::covariance`](super::AngleUncertainty::covariance), taken by
/// [`PlaneStrain::estimate`](super::PlaneStrain::estimate).
///
/// ```
/// use gaugewright::{rosette::{Covariance, GridUncertainty, Rosette}, units::Microstrain};
/// let grids = GridUncertainty::independent([Microstrain(1.0); 3])?;
/// const ROSETTE: Rosette = Rosette::delta();
/// let covariance: Covariance<f32> = ROSETTE.float32().covariance(&grids);
/// // Three equal grids at 60 degrees: the mean is known to 1 / sqrt(3) of a grid.
/// assert!((covariance.mean * 3e12 - 1.0).abs() < 1e-6);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Covariance<T> {
    /// Variance of the mean strain.
    pub mean: T,
    /// Variance of the half difference of strains.
    pub difference: T,
    /// Variance of the half shear strain.
    pub shear: T,
    /// Covariance of mean and half difference, strain squared.
    pub mean_difference: T,
    /// Covariance of mean and half shear, strain squared.
    pub mean_shear: T,
    /// Covariance of half difference and half shear, strain squared.
    pub difference_shear: T,
}

impl<T: Float> Covariance<T> {
    /// Of one cause that moves mean, half difference and half shear by this much.
    pub(super) fn of([mean, difference, shear]: [T; 3]) -> Self {
        Self {
            mean: mean * mean,
            difference: difference * difference,
            shear: shear * shear,
            mean_difference: mean * difference,
            mean_shear: mean * shear,
            difference_shear: difference * shear,
        }
    }
}

/// Of causes that are independent of each other.
///
/// ```
/// use gaugewright::{rosette::{GridUncertainty, Rosette}, units::Microstrain};
/// let kernel = Rosette::delta().float64();
/// let noise = kernel.covariance(&GridUncertainty::independent([Microstrain(3.0); 3])?);
/// let other = kernel.covariance(&GridUncertainty::independent([Microstrain(4.0); 3])?);
/// let both = kernel.covariance(&GridUncertainty::independent([Microstrain(5.0); 3])?);
/// assert!(((noise + other).mean / both.mean - 1.0).abs() < 1e-15);
/// # Ok::<(), gaugewright::Error>(())
/// ```
impl<T: Float> core::ops::Add for Covariance<T> {
    type Output = Self;

    fn add(self, other: Self) -> Self {
        Self {
            mean: self.mean + other.mean,
            difference: self.difference + other.difference,
            shear: self.shear + other.shear,
            mean_difference: self.mean_difference + other.mean_difference,
            mean_shear: self.mean_shear + other.mean_shear,
            difference_shear: self.difference_shear + other.difference_shear,
        }
    }
}
