//! The same in integers, as far as a square root goes.

use super::circle::Circle;
use super::strain::PlaneStrain;
use crate::error::{Error, Quantity, fits};
use crate::sample::{Flags, Reading, Strain, nearest};
use crate::units::{Microstrain, Nanostrain};

/// A rosette reduced to three integers a grid (36 bytes for three grids).
///
/// **In:** strains in Q34, every `i32`. **Out:** mean, half difference and half shear in the same format,
/// each one sum of exact products, rounded once to nearest. **Overflow:** a component beyond +-125 000
/// microstrain is clamped to it and flagged [`Flags::STRAIN_OUTSIDE`]; the sum itself cannot overflow, as a
/// row of constants adds up to less than 4. **Error:** [`Rosette::fixed_error`](super::Rosette::fixed_error).
/// **Cost:** three 64-bit products of two 32-bit numbers a grid. **Grids:** at most 8; more do not compile.
///
/// ```
/// use gaugewright::{fixed, rosette::{FixedRosetteKernel, Rosette}};
/// static KERNEL: FixedRosetteKernel = Rosette::rectangular().fixed();
/// let strain = |microstrain: i32| fixed::Strain::from_bits(microstrain * 17_180);
/// let state = KERNEL.strain([strain(500), strain(200), strain(-100)]);
/// assert!(state.flags.is_clear());
/// assert_eq!(state.strain.mean(), strain(200));
/// assert_eq!(state.strain.principal().strain.first, strain(500));
/// ```
///
/// ```compile_fail,E0080
/// use gaugewright::{rosette::Rosette, units::Degrees};
/// let nine = Rosette::at_angles([0.0, 20.0, 40.0, 60.0, 80.0, 100.0, 120.0, 140.0, 160.0].map(Degrees));
/// assert!(nine.try_fixed().is_err());
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct FixedRosetteKernel<const N: usize = 3> {
    /// In steps of 2^-29.
    rows: [[i32; N]; 3],
}

/// The state of strain of a surface in integers, each component a [`fixed::Strain`](crate::fixed::Strain).
///
/// ```
/// use gaugewright::{fixed, rosette::{FixedStrain, Rosette}};
/// const ROSETTE: Rosette = Rosette::delta();
/// let state: FixedStrain = ROSETTE.fixed().strain([fixed::Strain::from_bits(1_000_000); 3]).strain;
/// assert_eq!(state.mean().to_bits(), 1_000_000);
/// assert_eq!((state.half_difference().to_bits(), state.half_shear().to_bits()), (0, 0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct FixedStrain {
    pub(crate) mean: i32,
    pub(crate) difference: i32,
    pub(crate) shear: i32,
}

/// Principal strains in integers.
///
/// ```
/// use gaugewright::{fixed, rosette::{FixedPrincipal, Rosette}};
/// const ROSETTE: Rosette = Rosette::delta();
/// let state = ROSETTE.fixed().strain([fixed::Strain::from_bits(-5_000); 3]).strain;
/// let principal: FixedPrincipal = state.principal().strain;
/// assert_eq!((principal.first, principal.half_shear.to_bits()), (principal.second, 0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FixedPrincipal {
    /// The larger one.
    pub first: Strain,
    /// The smaller one.
    pub second: Strain,
    /// Half the greatest engineering shear in the plane: half the difference of the two.
    pub half_shear: Strain,
}

/// How far a [`FixedRosetteKernel`] can be from the exact state, for exact strains of the grids.
///
/// From the constants, as they were rounded, times the declared strain, and the roundings of sum and root. That the constants are
/// within 1e-13 of exact ones before they are rounded is sampled; all else is proved.
///
/// ```
/// use gaugewright::{rosette::{FixedError, Rosette}, units::Microstrain};
/// // Without transverse sensitivity a rectangular rosette has constants of 1/2 and 1: nothing but the sum is rounded.
/// let exact: FixedError = Rosette::rectangular().fixed_error(Microstrain(125_000.0))?;
/// assert!(exact.component.0 < 0.030 && exact.principal.0 < 0.1);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct FixedError {
    /// Of mean, half difference and half shear, the largest of the three.
    pub component: Nanostrain,
    /// Of half the greatest shear.
    pub half_shear: Nanostrain,
    /// Of a principal strain.
    pub principal: Nanostrain,
}

/// Constants in steps of 2^-29: a magnitude of 4 does not fit, and a row of 4 could overflow a sum.
const FRACTION: u32 = 29;
const ONE: f64 = (1u32 << FRACTION) as f64;
const LARGEST_SUM: f64 = 3.99;

/// What `f64` may be off in the exact constants, each: they are solved from three numbers below 3 a grid, and a row adds up
/// to less than 4. Sampled: random rosettes of two to eight grids against exact rationals, less than 3e-15.
const EXACT: f64 = 1e-13;

/// Grids that `EXACT` was sampled for.
const LARGEST: usize = 8;

impl<const N: usize> FixedRosetteKernel<N> {
    pub(super) const fn of(exact: &[[f64; N]; 3]) -> Result<Self, Error> {
        const { assert!(N <= LARGEST, "a rosette in integers has at most 8 grids") };
        let mut rows = [[0; N]; 3];
        let mut row = 0;
        while row < 3 {
            let mut sum = 0.0;
            let mut grid = 0;
            while grid < N {
                sum += exact[row][grid].abs();
                grid += 1;
            }
            if let Err(error) = fits(Quantity::RosetteConstants, sum, LARGEST_SUM) {
                return Err(error);
            }
            let mut grid = 0;
            while grid < N {
                rows[row][grid] = nearest(exact[row][grid] * ONE);
                grid += 1;
            }
            row += 1;
        }
        Ok(Self { rows })
    }

    /// For tests and proofs: the constants, the bits of their fraction, and how far `f64` may be off in the exact ones.
    #[doc(hidden)]
    pub const fn constants(&self) -> ([[i32; N]; 3], u32, f64) {
        (self.rows, FRACTION, EXACT)
    }

    pub(super) const fn error(&self, exact: &[[f64; N]; 3], within: Microstrain) -> FixedError {
        let mut off = [0.0; 3];
        let mut row = 0;
        while row < 3 {
            let mut constants = 0.0;
            let mut grid = 0;
            while grid < N {
                constants += (self.rows[row][grid] as f64 / ONE - exact[row][grid]).abs() + EXACT;
                grid += 1;
            }
            off[row] = constants * within.strain().0 * Strain::PER_UNIT + 0.5;
            row += 1;
        }
        let [mean, difference, shear] = off;
        let (small, large) = if difference < shear { (difference, shear) } else { (shear, difference) };
        // No less than the diagonal of the two, and at most 8 % more.
        let half_shear = large + small * (core::f64::consts::SQRT_2 - 1.0) + 0.5;
        let component = if mean > large { mean } else { large };
        FixedError {
            component: nanostrain(component),
            half_shear: nanostrain(half_shear),
            principal: nanostrain(mean + half_shear),
        }
    }

    /// The state of strain from what the grids show.
    ///
    /// ```
    /// use gaugewright::{Flags, fixed, rosette::Rosette};
    /// const ROSETTE: Rosette = Rosette::rectangular();
    /// let [low, high] = [i32::MIN, i32::MAX].map(fixed::Strain::from_bits);
    /// // Half shear is b less the mean of a and c: twice what the format holds.
    /// assert_eq!(ROSETTE.fixed().strain([low, high, low]).flags, Flags::STRAIN_OUTSIDE);
    /// ```
    #[inline]
    pub const fn strain(&self, grids: [Strain; N]) -> Reading<FixedStrain> {
        let (mean, beyond_mean) = clamped(self.sum(0, &grids));
        let (difference, beyond_difference) = clamped(self.sum(1, &grids));
        let (shear, beyond_shear) = clamped(self.sum(2, &grids));
        Reading {
            strain: FixedStrain { mean, difference, shear },
            flags: Flags::STRAIN_OUTSIDE.when(beyond_mean | beyond_difference | beyond_shear),
        }
    }

    /// The same from the readings of the grids' channels. A flag of any of them is a flag of the state.
    ///
    /// ```
    /// use gaugewright::{Flags, fixed, rosette::Rosette};
    /// const ROSETTE: Rosette = Rosette::delta();
    /// let cold = fixed::Reading { strain: fixed::Strain::from_bits(7), flags: Flags::TEMPERATURE_OUTSIDE };
    /// let good = fixed::Reading { flags: Flags::CLEAR, ..cold };
    /// assert_eq!(ROSETTE.fixed().reading([good, good, cold]).flags, Flags::TEMPERATURE_OUTSIDE);
    /// ```
    #[inline]
    pub const fn reading(&self, grids: [Reading<Strain>; N]) -> Reading<FixedStrain> {
        let mut strains = [Strain::from_bits(0); N];
        let mut k = 0;
        while k < N {
            strains[k] = grids[k].strain;
            k += 1;
        }
        let mut state = self.strain(strains);
        let mut k = 0;
        while k < N {
            state.flags = state.flags.union(grids[k].flags);
            k += 1;
        }
        state
    }

    #[inline(always)]
    const fn sum(&self, row: usize, grids: &[Strain; N]) -> i64 {
        let row = &self.rows[row];
        // Constants from elsewhere, as C may pass them, may be too large: then it wraps.
        let mut sum = (row[0] as i64 * grids[0].to_bits() as i64)
            .wrapping_add(row[1] as i64 * grids[1].to_bits() as i64);
        // The usual three without a loop, which would take four instructions more.
        if N == 3 {
            sum = sum.wrapping_add(row[2] as i64 * grids[2].to_bits() as i64);
        } else {
            let mut k = 2;
            while k < N {
                sum = sum.wrapping_add(row[k] as i64 * grids[k].to_bits() as i64);
                k += 1;
            }
        }
        sum.wrapping_add(1 << (FRACTION - 1)) >> FRACTION
    }
}

const fn nanostrain(steps: f64) -> Nanostrain {
    Nanostrain(steps / Strain::PER_UNIT * 1e9)
}

/// Held in an `i32`, and whether it had to be.
#[inline(always)]
const fn clamped(steps: i64) -> (i32, bool) {
    if steps > i32::MAX as i64 {
        (i32::MAX, true)
    } else if steps < i32::MIN as i64 {
        (i32::MIN, true)
    } else {
        (steps as i32, false)
    }
}

impl FixedStrain {
    /// The mean of two strains at right angles.
    ///
    /// ```
    /// use gaugewright::{fixed, rosette::Rosette};
    /// const ROSETTE: Rosette = Rosette::rectangular();
    /// let state = ROSETTE.fixed().strain([40, 0, 20].map(fixed::Strain::from_bits)).strain;
    /// assert_eq!(state.mean().to_bits(), 30);
    /// ```
    #[must_use]
    pub const fn mean(&self) -> Strain {
        Strain::from_bits(self.mean)
    }

    /// Half of strain along x less strain along y.
    ///
    /// ```
    /// use gaugewright::{fixed, rosette::Rosette};
    /// const ROSETTE: Rosette = Rosette::rectangular();
    /// let state = ROSETTE.fixed().strain([40, 0, 20].map(fixed::Strain::from_bits)).strain;
    /// assert_eq!(state.half_difference().to_bits(), 10);
    /// ```
    #[must_use]
    pub const fn half_difference(&self) -> Strain {
        Strain::from_bits(self.difference)
    }

    /// Half of the engineering shear between x and y.
    ///
    /// ```
    /// use gaugewright::{fixed, rosette::Rosette};
    /// const ROSETTE: Rosette = Rosette::rectangular();
    /// let state = ROSETTE.fixed().strain([40, 0, 20].map(fixed::Strain::from_bits)).strain;
    /// assert_eq!(state.half_shear().to_bits(), -30);
    /// ```
    #[must_use]
    pub const fn half_shear(&self) -> Strain {
        Strain::from_bits(self.shear)
    }

    /// Principal strains. The squares are exact and so is the integer root, which is rounded to nearest. A
    /// strain beyond the format is clamped to it and flagged.
    ///
    /// ```
    /// use gaugewright::{fixed, rosette::Rosette};
    /// const ROSETTE: Rosette = Rosette::rectangular();
    /// let state = ROSETTE.fixed().strain([400, 500, -200].map(fixed::Strain::from_bits)).strain;
    /// let principal = state.principal();
    /// assert!(principal.flags.is_clear());
    /// // The root of 300^2 + 400^2 is 500.
    /// assert_eq!((principal.strain.first.to_bits(), principal.strain.second.to_bits()), (600, -400));
    /// ```
    pub const fn principal(&self) -> Reading<FixedPrincipal> {
        let (difference, shear) = (self.difference as i64, self.shear as i64);
        // 2^63 at most.
        let square = (difference * difference) as u64 + (shear * shear) as u64;
        let down = square.isqrt();
        // Beyond (n + 1/2)^2 = n^2 + n + 1/4 the next one is nearer.
        let radius = (if square - down * down > down { down + 1 } else { down }) as i64;
        let (first, beyond_first) = clamped(self.mean as i64 + radius);
        let (second, beyond_second) = clamped(self.mean as i64 - radius);
        let (half_shear, beyond_shear) = clamped(radius);
        Reading {
            strain: FixedPrincipal {
                first: Strain::from_bits(first),
                second: Strain::from_bits(second),
                half_shear: Strain::from_bits(half_shear),
            },
            flags: Flags::STRAIN_OUTSIDE.when(beyond_first | beyond_second | beyond_shear),
        }
    }

    /// In `f64`, exactly: for direction and stresses.
    ///
    /// ```
    /// use gaugewright::{fixed, rosette::Rosette};
    /// const ROSETTE: Rosette = Rosette::rectangular();
    /// let state = ROSETTE.fixed().strain([0, 500, 0].map(fixed::Strain::from_bits)).strain;
    /// assert_eq!(state.float64().principal().direction.unwrap().0, 45.0);
    /// ```
    #[must_use]
    pub const fn float64(&self) -> PlaneStrain<f64> {
        PlaneStrain {
            circle: Circle {
                mean: self.mean().strain().0,
                difference: self.half_difference().strain().0,
                shear: self.half_shear().strain().0,
            },
        }
    }

    /// In `f32`, each component rounded once to 24 bits.
    ///
    /// ```
    /// use gaugewright::{fixed, rosette::Rosette};
    /// const ROSETTE: Rosette = Rosette::rectangular();
    /// let state = ROSETTE.fixed().strain([0, 500, 0].map(fixed::Strain::from_bits)).strain;
    /// assert_eq!(state.float32().principal().direction.unwrap().0, 45.0);
    /// ```
    #[must_use]
    pub const fn float32(&self) -> PlaneStrain<f32> {
        const STEP: f32 = 1.0 / Strain::PER_UNIT as f32;
        PlaneStrain {
            circle: Circle {
                mean: self.mean as f32 * STEP,
                difference: self.difference as f32 * STEP,
                shear: self.shear as f32 * STEP,
            },
        }
    }
}
