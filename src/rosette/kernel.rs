//! The grids' strains to the state of strain, in floating point.

use super::circle::Circle;
use super::covariance::{Covariance, GridUncertainty};
use super::strain::PlaneStrain;
use crate::numeric::Float;
use crate::sample::{Flags, Reading};

/// A rosette reduced to three constants a grid, in `f32` or `f64`: transverse sensitivity and angles are worked in.
///
/// **Error** of mean, half difference and half shear: each is a sum of a product for each of `N` grids. With `u` half a unit
/// in the last place (6.0e-8 in `f32`, 1.1e-16 in `f64`) it is within `1.01 (N + 1) u` times the sum of the products'
/// magnitudes (`4.01 u` for three), the rounding of the constants included; in `f32` that is 5 nanostrain at most for a
/// rectangular or delta rosette with strains within 10 000 microstrain. (The constants are computed in `f64`,
/// which adds their own error in `f64` where that is the type.) A strain that is not a number makes a state
/// that is none.
///
/// ```
/// use gaugewright::rosette::{RosetteKernel, Rosette};
/// static KERNEL: RosetteKernel<f32> = Rosette::rectangular().float32();
/// let strain = KERNEL.strain([500e-6, 200e-6, -100e-6]);
/// assert!((strain.x() - 500e-6).abs() < 1e-10 && (strain.y() + 100e-6).abs() < 1e-10);
/// assert!(strain.shear().abs() < 1e-10);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct RosetteKernel<T, const N: usize = 3> {
    /// Mean, half difference, half shear: each from the grids.
    pub(super) rows: [[T; N]; 3],
}

impl<T: Float, const N: usize> RosetteKernel<T, N> {
    /// The state of strain from what the grids show (plain ratios). Of two grids it has no shear.
    ///
    /// ```
    /// use gaugewright::rosette::Rosette;
    /// let kernel = Rosette::delta().float64();
    /// let strain = kernel.strain([1e-3, 1e-3, 1e-3]);
    /// assert!((strain.mean() - 1e-3).abs() < 1e-9 && strain.shear().abs() < 1e-9);
    /// ```
    #[must_use]
    #[inline]
    pub fn strain(&self, grids: [T; N]) -> PlaneStrain<T> {
        self.state(|grid| grids[grid])
    }

    /// The same from the readings of the grids' channels. A flag of any of them is a flag of the state.
    ///
    /// ```
    /// use gaugewright::{Flags, float, rosette::Rosette};
    /// let kernel = Rosette::rectangular().float64();
    /// let good = float::Reading { strain: 1e-3, flags: Flags::CLEAR };
    /// let open = float::Reading { strain: 0.0, flags: Flags::CODE_AT_RAIL };
    /// assert_eq!(kernel.reading([good, open, good]).flags, Flags::CODE_AT_RAIL);
    /// ```
    #[inline]
    pub fn reading(&self, grids: [Reading<T>; N]) -> Reading<PlaneStrain<T>> {
        let mut flags = Flags::CLEAR;
        for grid in &grids {
            flags = flags.union(grid.flags);
        }
        Reading { strain: self.state(|grid| grids[grid].strain), flags }
    }

    /// What an uncertainty of the grids makes of the state's: constants, as long as it stays.
    /// Computed in `f64`.
    ///
    /// ```
    /// use gaugewright::{rosette::{GridUncertainty, Rosette}, units::Microstrain};
    /// let kernel = Rosette::rectangular().float64();
    /// let covariance = kernel.covariance(&GridUncertainty::independent([Microstrain(2.0); 3])?);
    /// let strain = kernel.strain([500e-6, 200e-6, -100e-6]);
    /// // At 0, 45 and 90 degrees grid a lies in the first principal direction.
    /// assert!((strain.estimate(&covariance).first.uncertainty - 2e-6).abs() < 1e-12);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn covariance(&self, grids: &GridUncertainty<N>) -> Covariance<T> {
        let [mean, difference, shear] = &self.rows;
        let (mean, difference, shear) = (Self::wide(mean), Self::wide(difference), Self::wide(shear));
        Covariance {
            mean: T::of(grids.of(&mean, &mean)),
            difference: T::of(grids.of(&difference, &difference)),
            shear: T::of(grids.of(&shear, &shear)),
            mean_difference: T::of(grids.of(&mean, &difference)),
            mean_shear: T::of(grids.of(&mean, &shear)),
            difference_shear: T::of(grids.of(&difference, &shear)),
        }
    }

    #[inline(always)]
    fn state(&self, shown: impl Fn(usize) -> T) -> PlaneStrain<T> {
        let [mean, difference, shear] = self.rows.each_ref().map(|row| {
            let mut sum = row[0] * shown(0);
            for (grid, &part) in row.iter().enumerate().skip(1) {
                sum = sum + part * shown(grid);
            }
            sum
        });
        PlaneStrain { circle: Circle { mean, difference, shear } }
    }

    fn wide(row: &[T; N]) -> [f64; N] {
        row.map(Float::wide)
    }
}
