//! Four grids and more: whether they fit one state of strain.

use super::covariance::GridUncertainty;
use super::estimate::Estimate;
use super::layout::Rosette;
use crate::error::{Error, Field};
use crate::numeric::Float;
use crate::units::Strain;

/// A residual whose uncertainty is a smaller part of the largest one is rounding: its grid has none beside it to be compared with.
const SMALLEST_PART: f64 = 1e-6;

/// The check of a rosette that has more grids than a state of strain needs: made by [`Rosette::residual_check`].
///
/// A residual is what a grid shows less what it would show of the state that fits all grids best. It is compared with its standard
/// uncertainty, which follows from that of the grids (to first order, JCGM 100:2008; correlation included). Where nothing but
/// chance is at work and errors are normally distributed, a given residual is beyond 3 standard uncertainties in 0.3 % of the
/// samples. One that is beyond stays so where a grid has come loose, a gauge factor is wrong, two channels are swapped or strain
/// is not the same under all grids.
///
/// The residuals of four grids at different angles are equal in standard uncertainties: one grid is wrong, but not which. With five grids
/// or more at different angles and with equal, independent uncertainties, the largest residual is that of a single wrong grid. Two
/// parallel grids that only check each other have equal residuals. A grid that alone sees one component, as the one between two pairs of
/// parallel grids, is checked by none.
///
/// ```
/// use gaugewright::{rosette::{GridUncertainty, Residual, ResidualCheck, Rosette}, units::*};
/// const ROSETTE: Rosette<4> = Rosette::at_angles([Degrees(0.0), Degrees(45.0), Degrees(90.0), Degrees(135.0)]);
/// let check: ResidualCheck<f64, 4> =
///     ROSETTE.residual_check(&GridUncertainty::independent([Microstrain(2.0); 4])?)?;
/// // The sum of two strains at right angles is the same for both pairs.
/// let fitting: Residual<f64> = check.largest([500e-6, 200e-6, -100e-6, 203e-6]);
/// assert!(fitting.in_standard_uncertainties() < 1.0);
/// let loose = check.largest([500e-6, 200e-6, -100e-6, 150e-6]);
/// assert_eq!(format!("{:.1}", loose.in_standard_uncertainties()), "12.5");
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ResidualCheck<T, const N: usize> {
    /// From what the grids show to their residuals.
    rows: [[T; N]; N],
    /// Standard uncertainty of each residual; 0 of a grid that is not checked.
    standard: [T; N],
}

/// The residual of a grid, a plain ratio, with its standard uncertainty.
///
/// ```
/// use gaugewright::rosette::{Estimate, Residual};
/// let residual = Residual { grid: 2, strain: Estimate { value: -6e-6, uncertainty: 2e-6 } };
/// assert_eq!(residual.in_standard_uncertainties(), 3.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Residual<T> {
    /// Number of the grid, from 0 in the order of the angles.
    pub grid: usize,
    /// The strain that the grid shows less what it would show of the state that fits best.
    pub strain: Estimate<T>,
}

impl<T: Float> Residual<T> {
    /// The magnitude of the residual as a ratio to its standard uncertainty.
    ///
    /// ```
    /// use gaugewright::rosette::{Estimate, Residual};
    /// let residual = Residual { grid: 0, strain: Estimate { value: 1e-6, uncertainty: 2e-6 } };
    /// assert_eq!(residual.in_standard_uncertainties(), 0.5);
    /// ```
    #[must_use]
    pub fn in_standard_uncertainties(&self) -> T {
        (self.strain.value / self.strain.uncertainty).abs()
    }
}

impl<const N: usize> Rosette<N> {
    /// The check of a rosette of four grids or more, for the standard uncertainties of its grids. Computed in `f64`.
    ///
    /// # Errors
    /// As [`check`](Self::check), and [`Error::Invalid`] where no residual has a standard uncertainty of 1e-6 microstrain: three
    /// grids or two fit a state whatever they show; or the grids are taken as exact, or all that they are uncertain by moves them
    /// together.
    ///
    /// ```
    /// use gaugewright::{error::Field, Error, rosette::{GridUncertainty, Rosette}, units::*};
    /// let rosette = Rosette::at_angles([0.0, 36.0, 72.0, 108.0, 144.0].map(Degrees));
    /// assert!(rosette.residual_check::<f32>(&GridUncertainty::independent([Microstrain(1.5); 5])?).is_ok());
    /// let exact = rosette.residual_check::<f32>(&GridUncertainty::independent([Microstrain(0.0); 5])?);
    /// assert!(matches!(exact, Err(Error::Invalid { field: Field::ResidualUncertainty, .. })));
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn residual_check<T: Float>(&self, grids: &GridUncertainty<N>) -> Result<ResidualCheck<T, N>, Error> {
        let state = self.rows()?;
        let rows: [[f64; N]; N] = core::array::from_fn(|k| {
            let seen = self.seen(k);
            core::array::from_fn(|grid| {
                let fitted = seen[0] * state[0][grid] + seen[1] * state[1][grid] + seen[2] * state[2][grid];
                if grid == k { 1.0 - fitted } else { -fitted }
            })
        });
        let standard = rows.map(|row| libm::sqrt(grids.of(&row, &row).max(0.0)));
        let largest = standard.iter().fold(0.0f64, |largest, &standard| largest.max(standard));
        Field::ResidualUncertainty.check(Strain(largest).microstrain().0)?;
        let checked = |standard: f64| if standard < SMALLEST_PART * largest { 0.0 } else { standard };
        Ok(ResidualCheck {
            rows: rows.map(|row| row.map(T::of)),
            standard: standard.map(|standard| T::of(checked(standard))),
        })
    }
}

impl<T: Float, const N: usize> ResidualCheck<T, N> {
    /// The residual that is the largest in parts of its standard uncertainty, from what the grids show (plain ratios). A strain that
    /// is not a number gives one that is none.
    ///
    /// ```
    /// use gaugewright::{rosette::{GridUncertainty, Rosette}, units::*};
    /// let rosette = Rosette::at_angles([0.0, 36.0, 72.0, 108.0, 144.0].map(Degrees));
    /// let check = rosette.residual_check(&GridUncertainty::independent([Microstrain(1.0); 5])?)?;
    /// // Grid c shows 50 microstrain too much.
    /// let largest = check.largest([400e-6_f64, 400e-6, 450e-6, 400e-6, 400e-6]);
    /// assert!(largest.grid == 2 && largest.in_standard_uncertainties() > 10.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub fn largest(&self, grids: [T; N]) -> Residual<T> {
        let mut largest = Residual { grid: 0, strain: Estimate { value: T::ZERO, uncertainty: T::ONE } };
        for (grid, (row, &uncertainty)) in self.rows.iter().zip(&self.standard).enumerate() {
            let value = row.iter().zip(grids).fold(T::ZERO, |sum, (&part, grid)| sum + part * grid);
            let residual = Residual { grid, strain: Estimate { value, uncertainty } };
            let within = residual.in_standard_uncertainties() <= largest.in_standard_uncertainties();
            if uncertainty > T::ZERO && !within {
                largest = residual;
            }
        }
        largest
    }
}
