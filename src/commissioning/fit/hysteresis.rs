//! The difference between heating and cooling.

use super::curve::Curve;
use super::run::chebyshev;
use crate::error::{Error, Field, within};
use crate::units::{Celsius, Microstrain};

/// Places of a range at which the difference is looked at.
const PLACES: u32 = 129;

/// What a chamber run reads more while temperature falls than while it rises.
///
/// A curve of the same degree is fitted to either direction, with a constant of its own, so that a shift of zero between
/// the two is in it. The largest difference is looked for at 129 places of the temperatures that both have: between two
/// of them a polynomial of degree five cannot be more than 0.7 % larger (by the inequality of Markov).
///
/// [`ThermalOutputFit::hysteresis_at`](super::ThermalOutputFit::hysteresis_at) has the difference at a temperature.
/// Half of it is what the curve through both may be off at that temperature, whatever its confidence band: the band
/// takes the difference for scatter.
///
/// ```
/// use gaugewright::{commissioning::fit::{Direction, ThermalOutputFit}, units::*};
///
/// let mut fit = ThermalOutputFit::<f64>::between(Celsius(-50.0), Celsius(90.0))?;
/// for k in 0..15 {
///     let t = f64::from(k) * 10.0 - 50.0;
///     fit.observe(Direction::Heating, Celsius(t), Microstrain(t))?;
///     // Four microstrain more in the middle.
///     let more = 4.0 * (1.0 - ((t - 20.0) / 70.0).powi(2));
///     fit.observe(Direction::Cooling, Celsius(t), Microstrain(t + more))?;
/// }
/// let found = fit.hysteresis(2)?;
/// assert!((found.largest.0 - 4.0).abs() < 1e-3 && (found.at.0 - 20.0).abs() < 1.0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Hysteresis {
    /// Falling less rising where it is largest in magnitude, with its sign.
    pub largest: Microstrain,
    /// Where that is.
    pub at: Celsius,
    /// Standard uncertainty of the difference there, from the scatter in either direction.
    pub standard_uncertainty: Microstrain,
    /// Degrees of freedom to take for it: those of the direction that has fewer.
    pub degrees_of_freedom: u32,
    /// The temperatures that both directions have.
    pub between: (Celsius, Celsius),
}

impl Hysteresis {
    pub(super) fn of<const TERMS: usize>(
        rising: &Curve<TERMS>,
        falling: &Curve<TERMS>,
    ) -> Result<Self, Error> {
        let (low, high) = (rising.low.max(falling.low), rising.high.min(falling.high));
        within(Field::FitTemperatureSpread, high - low, f64::MIN_POSITIVE, 3000.0)?;
        let mut largest = 0.0;
        let mut at = low;
        for k in 0..PLACES {
            let share = f64::from(k) / f64::from(PLACES - 1);
            let temperature = low * (1.0 - share) + high * share;
            let difference = Self::difference(rising, falling, temperature);
            if difference.abs() > f64::abs(largest) {
                (largest, at) = (difference, temperature);
            }
        }
        Ok(Self {
            largest: Microstrain(largest),
            at: Celsius(at),
            standard_uncertainty: Self::uncertainty(rising, falling, at),
            degrees_of_freedom: rising
                .solution
                .degrees_of_freedom()
                .min(falling.solution.degrees_of_freedom()),
            between: (Celsius(low), Celsius(high)),
        })
    }

    /// The difference at a temperature that both have, and its standard uncertainty.
    pub(super) fn at<const TERMS: usize>(
        rising: &Curve<TERMS>,
        falling: &Curve<TERMS>,
        temperature: Celsius,
    ) -> Result<(Microstrain, Microstrain), Error> {
        rising.weights(temperature)?;
        falling.weights(temperature)?;
        let difference = Self::difference(rising, falling, temperature.0);
        Ok((Microstrain(difference), Self::uncertainty(rising, falling, temperature.0)))
    }

    fn uncertainty<const TERMS: usize>(
        rising: &Curve<TERMS>,
        falling: &Curve<TERMS>,
        temperature: f64,
    ) -> Microstrain {
        let weights = chebyshev(rising.place.of(temperature));
        let variance = rising.solution.variance_of(&weights) + falling.solution.variance_of(&weights);
        Microstrain(libm::sqrt(variance))
    }

    /// Both curves have the same variable.
    fn difference<const TERMS: usize>(
        rising: &Curve<TERMS>,
        falling: &Curve<TERMS>,
        temperature: f64,
    ) -> f64 {
        let weights = chebyshev(rising.place.of(temperature));
        falling.solution.value(&weights) - rising.solution.value(&weights)
    }
}
