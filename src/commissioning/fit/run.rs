//! The points of a run, rising and falling, as triangles.

use super::choice::Degree;
use super::curve::{Curve, Place};
use super::solution::Solution;
use super::triangle::Triangle;
use crate::error::{Error, Field, TEMPERATURES, range_within, within};
use crate::numeric::Float;
use crate::units::{Celsius, Microstrain};

/// Which way the temperature went before a point was read.
///
/// A gauge and its bond may answer a little differently to heating and to cooling. A fit uses the points of both, and keeps
/// them apart as well, for [`Hysteresis`](super::Hysteresis). Where the direction is not known or does not
/// matter, take one for all.
///
/// ```
/// use gaugewright::commissioning::fit::Direction;
/// assert_ne!(Direction::Heating, Direction::Cooling);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Direction {
    /// Temperature rose to the point.
    Heating,
    /// Temperature fell to the point.
    Cooling,
}

/// Less than this between the lowest and the highest temperature is the noise of a thermometer and no run, C.
const SMALLEST_SPREAD: f64 = 0.1;

/// Points that a triangle takes in before it is joined to that of all before: so the roundings of a long run add up over
/// a few hundred rows and not over all of them. In `f32` after 200 000 points that makes 0.008 microstrain of 0.5.
pub(super) const BLOCK: u32 = 256;

#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Branch<T, const TERMS: usize> {
    /// Of whole blocks.
    triangle: Triangle<T, TERMS>,
    /// Of the points since.
    recent: Triangle<T, TERMS>,
    points: u32,
    low: f64,
    high: f64,
}

impl<T: Float, const TERMS: usize> Branch<T, TERMS> {
    const EMPTY: Self = Self {
        triangle: Triangle::EMPTY,
        recent: Triangle::EMPTY,
        points: 0,
        low: f64::INFINITY,
        high: f64::NEG_INFINITY,
    };

    fn add(&mut self, temperature: f64, row: [T; TERMS], value: T) {
        self.recent.add(row, value);
        self.points += 1;
        self.low = self.low.min(temperature);
        self.high = self.high.max(temperature);
        if self.points % BLOCK == 0 {
            self.triangle.join(&self.recent);
            self.recent = Triangle::EMPTY;
        }
    }

    fn join(&mut self, other: &Self) {
        // Its rows are few, however many points they stand for.
        self.triangle.join(&other.triangle);
        self.triangle.join(&other.recent);
        self.points += other.points;
        self.low = self.low.min(other.low);
        self.high = self.high.max(other.high);
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Run<T, const TERMS: usize> {
    low: f64,
    high: f64,
    rising: Branch<T, TERMS>,
    falling: Branch<T, TERMS>,
    /// Points that came with an uncertainty, and the sum of `1 / u^2` over them.
    with_uncertainty: u32,
    weight: f64,
}

impl<T: Float, const TERMS: usize> Run<T, TERMS> {
    pub fn between(low: Celsius, high: Celsius) -> Result<Self, Error> {
        range_within((Field::TemperatureLow, low.0), (Field::TemperatureHigh, high.0), TEMPERATURES)?;
        within(Field::TemperatureWidth, high.0 - low.0, SMALLEST_SPREAD, 3000.0)?;
        Ok(Self {
            low: low.0,
            high: high.0,
            rising: Branch::EMPTY,
            falling: Branch::EMPTY,
            with_uncertainty: 0,
            weight: 0.0,
        })
    }

    fn place(&self) -> Place {
        Place::between(self.low, self.high)
    }

    pub fn points(&self) -> u32 {
        self.rising.points + self.falling.points
    }

    /// A value that has been checked, and its standard uncertainty.
    pub fn observe(
        &mut self,
        sweep: Direction,
        temperature: Celsius,
        value: f64,
        uncertainty: Option<f64>,
    ) -> Result<(), Error> {
        within(Field::Temperature, temperature.0, self.low, self.high)?;
        within(Field::FitPoints, f64::from(self.points()) + 1.0, 1.0, f64::from(u32::MAX))?;
        // All points have an uncertainty, or none has.
        let with = self.with_uncertainty;
        if self.points() > 0 && (with > 0) != uncertainty.is_some() {
            let all = f64::from(self.points()) + 1.0;
            let with = f64::from(with + u32::from(uncertainty.is_some()));
            let allowed = if self.with_uncertainty > 0 { all } else { 0.0 };
            within(Field::FitUncertainties, with, allowed, allowed)?;
        }
        let weight = match uncertainty {
            None => 1.0,
            Some(u) => 1.0 / u,
        };
        let factor = T::of(weight);
        let row = chebyshev(T::of(self.place().of(temperature.0))).map(|term| factor * term);
        let branch = match sweep {
            Direction::Heating => &mut self.rising,
            Direction::Cooling => &mut self.falling,
        };
        branch.add(temperature.0, row, T::of(value * weight));
        if uncertainty.is_some() {
            self.with_uncertainty += 1;
            self.weight += weight * weight;
        }
        Ok(())
    }

    pub fn join(&mut self, other: &Self) -> Result<(), Error> {
        // The same variable, or the triangles have nothing in common.
        within(Field::TemperatureLow, other.low, self.low, self.low)?;
        within(Field::TemperatureHigh, other.high, self.high, self.high)?;
        let all = f64::from(self.points()) + f64::from(other.points());
        within(Field::FitPoints, all, 0.0, f64::from(u32::MAX))?;
        let with = f64::from(self.with_uncertainty) + f64::from(other.with_uncertainty);
        if with != 0.0 {
            within(Field::FitUncertainties, with, all, all)?;
        }
        self.rising.join(&other.rising);
        self.falling.join(&other.falling);
        self.with_uncertainty += other.with_uncertainty;
        self.weight += other.weight;
        Ok(())
    }

    /// The square of the uncertainty of a point of mean weight, in rows of weight one.
    fn mean_square(&self) -> f64 {
        if self.with_uncertainty == 0 { 1.0 } else { f64::from(self.with_uncertainty) / self.weight }
    }

    fn solved(&self, branch: &Branch<T, TERMS>, degree: Degree) -> Result<Curve<TERMS>, Error> {
        let mut triangle = branch.triangle;
        triangle.join(&branch.recent);
        let triangle = triangle.wide();
        // What is missing at all is said first.
        within(Field::FitPoints, f64::from(branch.points), 2.0, f64::INFINITY)?;
        let spread = branch.high - branch.low;
        within(Field::FitTemperatureSpread, spread, SMALLEST_SPREAD, 3000.0)?;
        let range = (self.high - self.low) / spread;
        let terms = degree.terms::<T, TERMS>(&triangle, branch.points, range)?;
        let solution = Solution::of(&triangle, branch.points, terms);
        Ok(Curve {
            solution,
            place: self.place(),
            low: branch.low,
            high: branch.high,
            mean_square: self.mean_square(),
            weighted: self.with_uncertainty > 0,
        })
    }

    pub fn solve(&self, degree: Degree) -> Result<Curve<TERMS>, Error> {
        let mut all = self.rising;
        all.join(&self.falling);
        self.solved(&all, degree)
    }

    /// A curve for each direction.
    pub fn branches(&self, degree: usize) -> Result<(Curve<TERMS>, Curve<TERMS>), Error> {
        let degree = Degree::Exactly(degree);
        Ok((self.solved(&self.rising, degree)?, self.solved(&self.falling, degree)?))
    }
}

/// Of a point, as it is given: 1e-6 to 1e6 microstrain.
pub(super) fn check_uncertainty(standard: Microstrain) -> Result<(), Error> {
    within(Field::FitUncertainty, standard.0, 1e-6, 1e6)
}

/// The Chebyshev polynomials of the degrees from 0 on.
pub(super) fn chebyshev<T: Float, const TERMS: usize>(x: T) -> [T; TERMS] {
    let mut values = [T::ONE; TERMS];
    let twice = x + x;
    for k in 1..TERMS {
        values[k] = if k == 1 { x } else { twice * values[k - 1] - values[k - 2] };
    }
    values
}
