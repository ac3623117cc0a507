//! A rosette as its package describes it, checked and reduced to constants.

use super::fixed::{FixedError, FixedRosetteKernel};
use super::kernel::RosetteKernel;
use super::least_squares::least_squares;
use super::strain::PlaneStrain;
use crate::channel::Gauge;
use crate::error::{Error, Field, try_const, unwrap_const};
use crate::numeric::double_angle;
use crate::units::{Degrees, Microstrain, Percent};

/// Grids at known angles, each with its transverse sensitivity: three of them by default, two, or more.
///
/// | grids | what they give |
/// |---|---|
/// | two | the principal strains, where their directions are known: the x axis is one of them |
/// | three | the state of strain |
/// | four and more | the state of strain by least squares, all grids with the same weight; a [`ResidualCheck`](super::ResidualCheck) reports grids that contradict each other |
///
/// Angles within +-360 degrees; of two or three grids, any two at least 1 degree apart; transverse sensitivity within +-50 %.
/// By default no transverse sensitivity, a calibration beam of Poisson ratio 0.285.
///
/// ```
/// use gaugewright::{rosette::Rosette, units::{Degrees, Percent}};
/// const ROSETTE: Rosette = Rosette::at_angles([Degrees(0.0), Degrees(40.0), Degrees(95.0)])
///     .transverse_sensitivity([Percent(0.6), Percent(0.8), Percent(0.6)]);
/// assert!(ROSETTE.check().is_ok());
/// // Two grids of a bar in tension, along and across it.
/// const BAR: Rosette<2> = Rosette::at_angles([Degrees(0.0), Degrees(90.0)]);
/// assert!((BAR.float64().strain([900e-6, -290e-6]).principal().second + 290e-6).abs() < 1e-18);
/// // Four grids, one more than it takes.
/// const STAR: Rosette<4> = Rosette::at_angles([Degrees(0.0), Degrees(45.0), Degrees(90.0), Degrees(135.0)]);
/// assert!(STAR.check().is_ok());
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Rosette<const N: usize = 3> {
    angles: [f64; N],
    transverse: [f64; N],
    calibration_poisson: [f64; N],
}

impl Rosette {
    /// Grids at 0, 45 and 90 degrees.
    ///
    /// ```
    /// use gaugewright::rosette::Rosette;
    /// const ROSETTE: Rosette = Rosette::rectangular();
    /// let strain = ROSETTE.float64().strain([3e-4, 2e-4, 1e-4]);
    /// assert!(strain.shear().abs() < 1e-18);
    /// ```
    #[must_use]
    pub const fn rectangular() -> Self {
        Self::at_angles([Degrees(0.0), Degrees(45.0), Degrees(90.0)])
    }

    /// Grids at 0, 60 and 120 degrees.
    ///
    /// ```
    /// use gaugewright::rosette::Rosette;
    /// const ROSETTE: Rosette = Rosette::delta();
    /// let strain = ROSETTE.float64().strain([3e-4, 3e-4, 0.0]);
    /// assert!((strain.mean() - 2e-4).abs() < 1e-18);
    /// ```
    #[must_use]
    pub const fn delta() -> Self {
        Self::at_angles([Degrees(0.0), Degrees(60.0), Degrees(120.0)])
    }
}

impl<const N: usize> Rosette<N> {
    /// Grids at any angles from the x axis, in the order a, b, c, ....
    ///
    /// ```
    /// use gaugewright::{rosette::Rosette, units::Degrees};
    /// // A rectangular rosette that is numbered clockwise.
    /// let rosette = Rosette::at_angles([Degrees(0.0), Degrees(-45.0), Degrees(-90.0)]);
    /// assert!(rosette.check().is_ok());
    /// // Half a turn is the same line.
    /// let error = Rosette::at_angles([Degrees(10.0), Degrees(80.0), Degrees(190.0)]).check().unwrap_err();
    /// assert_eq!(error.to_string(), "angle between two grids (degrees) is 0, allowed: 1 to 90");
    /// ```
    #[must_use]
    pub const fn at_angles(angles: [Degrees; N]) -> Self {
        const { assert!(N >= 2, "a rosette has two grids or more") };
        let mut degrees = [0.0; N];
        let mut k = 0;
        while k < N {
            degrees[k] = angles[k].0;
            k += 1;
        }
        Self { angles: degrees, transverse: [0.0; N], calibration_poisson: [0.285; N] }
    }

    /// The whole rosette turned: as bonded, with grid a of a rectangular or delta rosette at this angle from
    /// the x axis of the part.
    ///
    /// ```
    /// use gaugewright::{rosette::Rosette, units::Degrees};
    /// let rosette = Rosette::delta().turned(Degrees(-15.0));
    /// assert_eq!(rosette.angles().map(|angle| angle.0), [-15.0, 45.0, 105.0]);
    /// ```
    #[must_use]
    pub const fn turned(mut self, by: Degrees) -> Self {
        let mut k = 0;
        while k < N {
            self.angles[k] += by.0;
            k += 1;
        }
        self
    }

    /// Transverse sensitivity `K_t` of each grid (ASTM E251).
    ///
    /// ```
    /// use gaugewright::{rosette::Rosette, units::Percent};
    /// let rosette = Rosette::rectangular().transverse_sensitivity([Percent(1.1), Percent(0.8), Percent(1.1)]);
    /// ```
    #[must_use]
    pub const fn transverse_sensitivity(mut self, sensitivity: [Percent; N]) -> Self {
        let mut k = 0;
        while k < N {
            self.transverse[k] = sensitivity[k].fraction();
            k += 1;
        }
        self
    }

    /// Poisson ratio of the beam on which the gauge factors were calibrated; 0.285 is customary.
    ///
    /// ```
    /// use gaugewright::rosette::Rosette;
    /// let rosette = Rosette::rectangular().calibration_poisson_ratio(0.28);
    /// ```
    #[must_use]
    pub const fn calibration_poisson_ratio(mut self, ratio: f64) -> Self {
        self.calibration_poisson = [ratio; N];
        self
    }

    /// Transverse sensitivity and calibration beam of each grid, from its package. The channels of these gauges state no
    /// [`strain_ratio`](crate::Channel::strain_ratio), as transverse sensitivity would be corrected twice.
    ///
    /// ```
    /// use gaugewright::{Gauge, rosette::Rosette, units::{GaugeFactor, Percent}};
    /// let grid = |percent| Gauge::new(GaugeFactor(2.1)).transverse_sensitivity(Percent(percent));
    /// let rosette = Rosette::delta().gauges(&[grid(0.5), grid(0.6), grid(0.5)]);
    /// let same = Rosette::delta().transverse_sensitivity([Percent(0.5), Percent(0.6), Percent(0.5)]);
    /// assert_eq!(rosette, same);
    /// ```
    #[must_use]
    pub const fn gauges(mut self, grids: &[Gauge; N]) -> Self {
        let mut k = 0;
        while k < N {
            self.transverse[k] = grids[k].transverse_sensitivity;
            self.calibration_poisson[k] = grids[k].calibration_poisson;
            k += 1;
        }
        self
    }

    /// The angles of the grids from the x axis.
    ///
    /// ```
    /// use gaugewright::rosette::Rosette;
    /// assert_eq!(Rosette::rectangular().angles()[1].0, 45.0);
    /// ```
    #[must_use]
    pub const fn angles(&self) -> [Degrees; N] {
        let mut angles = [Degrees(0.0); N];
        let mut k = 0;
        while k < N {
            angles[k] = Degrees(self.angles[k]);
            k += 1;
        }
        angles
    }

    /// Everything is in range and the grids see every component.
    ///
    /// # Errors
    /// [`Error::Invalid`]: an angle, a transverse sensitivity or a Poisson ratio (0 to 0.5) out of range; two
    /// grids of two or three that are less than 1 degree from parallel; or constants beyond 10 000, as of grids that do not see every
    /// component (two at the same angle from the x axis, four in two directions), or of transverse sensitivities that differ by
    /// tens of percent.
    ///
    /// ```
    /// use gaugewright::{rosette::Rosette, units::Percent};
    /// let error = Rosette::delta().transverse_sensitivity([Percent(60.0); 3]).check().unwrap_err();
    /// assert_eq!(error.to_string(), "transverse sensitivity (%) is 60, allowed: -50 to 50");
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        try_const!(self.rows());
        Ok(())
    }

    /// What the grids show of a state of strain, transverse sensitivity included.
    ///
    /// # Errors
    /// As [`check`](Self::check).
    ///
    /// ```
    /// use gaugewright::{rosette::{PlaneStrain, Rosette}, units::Percent};
    /// // Uniaxial stress on a material of the calibration beam's Poisson ratio: the grid along it is right as it is.
    /// let strain = PlaneStrain::new(1e-3, -0.285e-3, 0.0);
    /// let shown = Rosette::rectangular().transverse_sensitivity([Percent(2.0); 3]).indicated(&strain)?;
    /// assert!((shown[0] - 1e-3).abs() < 1e-18);
    /// assert!((shown[2] + 0.285e-3) > 1.8e-5); // the one across is off by 6 %
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn indicated(&self, strain: &PlaneStrain<f64>) -> Result<[f64; N], Error> {
        try_const!(self.check());
        let mut shown = [0.0; N];
        let mut k = 0;
        while k < N {
            let [mean, difference, shear] = self.seen(k);
            let circle = &strain.circle;
            shown[k] = mean * circle.mean + (difference * circle.difference + shear * circle.shear);
            k += 1;
        }
        Ok(shown)
    }

    /// The constants in `f32`. In a `const` or `static` a rosette that is wrong does not compile.
    ///
    /// # Panics
    /// Where [`try_float32`](Self::try_float32) gives an error.
    ///
    /// ```
    /// use gaugewright::rosette::{RosetteKernel, Rosette};
    /// static KERNEL: RosetteKernel<f32> = Rosette::delta().float32();
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn float32(&self) -> RosetteKernel<f32, N> {
        unwrap_const(self.try_float32())
    }

    /// The constants in `f64`.
    ///
    /// # Panics
    /// Where [`try_float64`](Self::try_float64) gives an error.
    ///
    /// ```
    /// use gaugewright::rosette::{RosetteKernel, Rosette};
    /// static KERNEL: RosetteKernel<f64> = Rosette::delta().float64();
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn float64(&self) -> RosetteKernel<f64, N> {
        unwrap_const(self.try_float64())
    }

    /// The constants in integers.
    ///
    /// # Panics
    /// Where [`try_fixed`](Self::try_fixed) gives an error.
    ///
    /// ```
    /// use gaugewright::rosette::{FixedRosetteKernel, Rosette};
    /// static KERNEL: FixedRosetteKernel = Rosette::delta().fixed();
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn fixed(&self) -> FixedRosetteKernel<N> {
        unwrap_const(self.try_fixed())
    }

    /// As [`float32`](Self::float32), for a rosette that is entered while the program runs.
    ///
    /// # Errors
    /// As [`check`](Self::check).
    ///
    /// ```
    /// assert!(gaugewright::rosette::Rosette::delta().try_float32().is_ok());
    /// ```
    pub const fn try_float32(&self) -> Result<RosetteKernel<f32, N>, Error> {
        let exact = try_const!(self.rows());
        let mut rows = [[0.0; N]; 3];
        let mut k = 0;
        while k < 3 * N {
            rows[k / N][k % N] = exact[k / N][k % N] as f32;
            k += 1;
        }
        Ok(RosetteKernel { rows })
    }

    /// As [`float64`](Self::float64), for a rosette that is entered while the program runs.
    ///
    /// # Errors
    /// As [`check`](Self::check).
    ///
    /// ```
    /// assert!(gaugewright::rosette::Rosette::delta().try_float64().is_ok());
    /// ```
    pub const fn try_float64(&self) -> Result<RosetteKernel<f64, N>, Error> {
        Ok(RosetteKernel { rows: try_const!(self.rows()) })
    }

    /// As [`fixed`](Self::fixed), for a rosette that is entered while the program runs.
    ///
    /// # Errors
    /// As [`check`](Self::check), and [`Error::Overflow`] where a row of constants adds up to 3.99 or more:
    /// grids too close to each other.
    ///
    /// ```
    /// use gaugewright::{rosette::Rosette, units::Degrees};
    /// assert!(Rosette::delta().try_fixed().is_ok());
    /// assert!(Rosette::at_angles([Degrees(0.0), Degrees(5.0), Degrees(90.0)]).try_fixed().is_err());
    /// ```
    pub const fn try_fixed(&self) -> Result<FixedRosetteKernel<N>, Error> {
        FixedRosetteKernel::of(&try_const!(self.rows()))
    }

    /// How far the kernel in integers can be from the exact state, for grids that show strains within the
    /// given range (up to 125 000 microstrain).
    ///
    /// # Errors
    /// As [`try_fixed`](Self::try_fixed), and [`Error::Invalid`] for a range that is not positive or too
    /// large.
    ///
    /// ```
    /// use gaugewright::{rosette::Rosette, units::Microstrain};
    /// let error = Rosette::delta().fixed_error(Microstrain(10_000.0))?;
    /// assert!(error.principal.0 < 0.2);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn fixed_error(&self, strains_within: Microstrain) -> Result<FixedError, Error> {
        try_const!(Field::GridStrain.check(strains_within.0));
        let exact = try_const!(self.rows());
        Ok(try_const!(FixedRosetteKernel::of(&exact)).error(&exact, strains_within))
    }

    /// What grid `k` shows of mean, half difference and half shear.
    pub(super) const fn seen(&self, k: usize) -> [f64; 3] {
        let (cosine, sine) = double_angle(self.angles[k]);
        let sensitivity = self.transverse[k];
        let scale = 1.0 - self.calibration_poisson[k] * sensitivity;
        let (both, single) = ((1.0 + sensitivity) / scale, (1.0 - sensitivity) / scale);
        [both, single * cosine, single * sine]
    }

    /// Mean, half difference and half shear, each from the grids.
    pub(super) const fn rows(&self) -> Result<[[f64; N]; 3], Error> {
        let mut grids = [[0.0; 3]; N];
        let mut k = 0;
        while k < N {
            try_const!(Field::GridAngle.check(self.angles[k]));
            try_const!(Field::TransverseSensitivity.check(self.transverse[k] * 100.0));
            try_const!(Field::CalibrationPoissonRatio.check(self.calibration_poisson[k]));
            grids[k] = self.seen(k);
            k += 1;
        }
        let mut k = 0;
        while k < N && N <= 3 {
            let between = (self.angles[k] - self.angles[(k + 1) % N]).abs() % 180.0;
            let between = if between > 90.0 { 180.0 - between } else { between };
            try_const!(Field::GridSeparation.check(between));
            k += 1;
        }
        least_squares(&grids)
    }
}
