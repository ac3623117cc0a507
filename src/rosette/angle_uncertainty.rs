//! What errors of the grids' angles make of the state of strain.

use super::covariance::Covariance;
use super::layout::Rosette;
use super::strain::PlaneStrain;
use crate::error::{Error, Field};
use crate::numeric::Float;
use crate::units::Degrees;

/// Standard uncertainties of the angles of a rosette's grids, each for itself, and of the angle of the whole as it was bonded:
/// made by [`Rosette::angle_uncertainty`].
///
/// A grid that is off by `d` radians shows `d (de/dangle)`, which grows with the shear across it: the effect depends on the state of
/// strain and is zero where both principal strains are equal. A rosette that is off as a whole turns the state and, to first
/// order, changes no principal value.
///
/// The principal directions of two grids are stated and not measured: the uncertainty of their direction is that of the whole, and
/// their principal strains come nearer to each other by the square of the error (0.06 % of their difference at 1 degree), which
/// is not first order and not included.
///
/// ```
/// use gaugewright::{rosette::{AngleUncertainty, GridUncertainty, Rosette}, units::*};
/// const ROSETTE: Rosette = Rosette::rectangular();
/// let kernel = ROSETTE.float64();
/// // Half a degree from grid to grid in the foil is a lot; two degrees in bonding are not.
/// let angles: AngleUncertainty<f64> = ROSETTE.angle_uncertainty([Degrees(0.1); 3], Degrees(2.0))?;
/// let grids = kernel.covariance(&GridUncertainty::independent([Microstrain(2.0); 3])?);
///
/// let strain = kernel.strain([812e-6, 350e-6, -244e-6]);
/// let estimate = strain.estimate(&(grids + angles.covariance(&strain)));
/// assert_eq!(format!("{:.1}", estimate.direction.unwrap()), "3.6 degrees +- 2.0 degrees");
/// assert_eq!(format!("{:.1}", estimate.first.uncertainty * 1e6), "1.9"); // as without the angles
/// assert_eq!(format!("{:.1}", estimate.xy_shear.uncertainty * 1e6), "74.0"); // without them: 4.9
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct AngleUncertainty<T, const N: usize = 3> {
    /// Mean, half difference and half shear for a strain of each grid.
    columns: [[T; 3]; N],
    /// For each grid, what it shows for a radian more: for half difference and for half shear.
    slopes: [[T; 2]; N],
    /// In radians.
    each: [T; N],
    whole: T,
}

impl<const N: usize> Rosette<N> {
    /// Uncertainties of the angles: of each grid beside the others, as the package or its pattern states it, and of the whole
    /// rosette on the part; standard uncertainties of 0 to 10 degrees.
    ///
    /// # Errors
    /// As [`check`](Self::check), and [`Error::Invalid`] for an uncertainty out of range.
    ///
    /// ```
    /// use gaugewright::{rosette::Rosette, units::Degrees};
    /// assert!(Rosette::delta().angle_uncertainty::<f32>([Degrees(0.2); 3], Degrees(1.0)).is_ok());
    /// assert!(Rosette::delta().angle_uncertainty::<f32>([Degrees(0.2); 3], Degrees(-1.0)).is_err());
    /// ```
    pub fn angle_uncertainty<T: Float>(
        &self,
        each: [Degrees; N],
        whole: Degrees,
    ) -> Result<AngleUncertainty<T, N>, Error> {
        let rows = self.rows()?;
        for angle in each.into_iter().chain([whole]) {
            Field::AngleUncertainty.check(angle.0)?;
        }
        let radians = |angle: Degrees| T::of(angle.0.to_radians());
        Ok(AngleUncertainty {
            columns: core::array::from_fn(|grid| rows.map(|row| T::of(row[grid]))),
            slopes: core::array::from_fn(|grid| {
                // cos 2a and sin 2a turn into each other.
                let [_, cosine, sine] = self.seen(grid);
                [T::of(-2.0 * sine), T::of(2.0 * cosine)]
            }),
            each: each.map(radians),
            whole: radians(whole),
        })
    }
}

impl<T: Float, const N: usize> AngleUncertainty<T, N> {
    /// What the angles make of the uncertainty of a state of strain, to first order (JCGM 100:2008), strain squared: to be added to
    /// that of the grids.
    ///
    /// ```
    /// use gaugewright::{rosette::{PlaneStrain, Rosette}, units::Degrees};
    /// let angles = Rosette::delta().angle_uncertainty([Degrees(0.2); 3], Degrees(1.0))?;
    /// // Equal strain in all directions looks the same from every angle.
    /// assert_eq!(angles.covariance(&PlaneStrain::new(4e-4_f64, 4e-4, 0.0)).shear, 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn covariance(&self, strain: &PlaneStrain<T>) -> Covariance<T> {
        let (difference, shear) = (strain.circle.difference, strain.circle.shear);
        let mut covariance = Covariance::of([T::ZERO; 3]);
        let mut together = [T::ZERO; 3];
        for ((column, slopes), &each) in self.columns.iter().zip(&self.slopes).zip(&self.each) {
            let shown = slopes[0] * difference + slopes[1] * shear;
            covariance = covariance + Covariance::of(column.map(|part| part * shown * each));
            together = core::array::from_fn(|part| together[part] + column[part] * shown);
        }
        // As any rosette of three grids has it; two do not see it.
        together[2] = T::of(-2.0) * difference;
        covariance + Covariance::of(together.map(|part| part * self.whole))
    }
}
