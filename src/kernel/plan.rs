//! A channel reduced to the numbers that a kernel needs, in double precision and still in natural
//! units: what both arithmetic back ends scale and round.
//!
//! With `y` the gauge factor times indicated strain, the model of the channel is
//! `y = gain c / (1 - curvature c)`, `strain = (y - thermal(T)) / factor(T)`, where `c` is the code less the
//! whole code nearest to balance. The fraction of a code that balance lies off is worked into the
//! constants exactly, so that kernels subtract integers and lose nothing. The instrument's gauge factor
//! cancels from all but indicated strain.

use crate::channel::{Bonded, Channel, Correction, Curve, Gauge, LARGEST_SIGNAL, MismatchScale, Source};
use crate::error::{Error, Quantity, check, fits};
use crate::numeric::{Interval, Polynomial};
use crate::sample::{Temperature, nearest};

/// A compensating gauge with a temperature of its own.
pub(crate) struct Second {
    /// Gauge factor times thermal output, against degrees Celsius.
    pub thermal: Polynomial,
    /// Steps of 2^-20 C.
    pub temperatures: (i32, i32),
    over: Interval,
}

pub(crate) struct Plan {
    pub bits: u32,
    /// The whole code that `c` is counted from.
    pub base: i32,
    /// The codes that can occur while strain and temperature are in their declared ranges and the
    /// converter is off its rails.
    pub window: (i32, i32),
    /// Gauge factor times strain for a code.
    pub gain: f64,
    /// Per code.
    pub curvature: f64,
    /// Gauge factor times thermal output, against degrees Celsius.
    pub thermal: Polynomial,
    /// Gauge factor against degrees Celsius.
    pub factor: Polynomial,
    pub second: Option<Second>,
    /// Steps of 2^-20 C.
    pub temperatures: (i32, i32),
    /// As a plain ratio.
    pub strain_limit: Option<f64>,
    /// The largest magnitude of gauge factor times indicated strain in the window.
    pub largest_signal: f64,
    /// The smallest gauge factor in range.
    pub smallest_factor: f64,
    /// What the map leaves out of the network, in strain.
    pub circuit_error: f64,
}

impl Plan {
    pub const fn of(channel: &Channel) -> Result<Self, Error> {
        check!(channel.check());
        let balance = channel.balance_code();
        let curve = match channel.source {
            Source::Codes(bridge, _) => {
                let step = channel.ratio_per_code();
                let curve = check!(bridge.curve(channel.balance_ratio()));
                Curve { gain: curve.gain * step, curvature: curve.curvature * step }
            }
            Source::Readings(instrument) => {
                Curve { gain: instrument.step * 1e-6 * channel.instrument_factor, curvature: 0.0 }
            }
        };
        let factor = factor_of(channel);
        let thermal = match channel.correction {
            Correction::None => Polynomial::ZERO,
            _ if !channel.shows_thermal_output() => Polynomial::ZERO,
            _ => thermal_of(&channel.measuring(), channel.mismatch),
        };
        let second = match (channel.compensating(), channel.correction) {
            (None, _) => None,
            (Some(bonded), correction) => {
                let (low, high) = bonded.temperatures;
                let thermal = match correction {
                    Correction::None => Polynomial::ZERO,
                    _ => thermal_of(&bonded, channel.mismatch),
                };
                Some(Second {
                    thermal,
                    temperatures: (steps_up(low.0), steps_down(high.0)),
                    over: Interval::new(low.0, high.0),
                })
            }
        };

        let (low, high) = channel.temperatures();
        check!(check_cancellation(&channel.measuring(), low.0.abs().max(high.0.abs())));
        if let (Some(second), Some(bonded)) = (&second, channel.compensating()) {
            check!(check_cancellation(&bonded, second.over.magnitude()));
        }

        let strain_limit = match (channel.strain_limit, channel.source) {
            (Some(limit), _) => Some(limit.strain().0),
            (None, Source::Codes(..)) => None,
            // An instrument has no rails that would end its range.
            (None, Source::Readings(_)) => return Err(Channel::strain_range_missing()),
        };
        let (rail_low, rail_high) = channel.rails();
        let mut window = (rail_low + 1, rail_high - 1);
        if let Some(limit) = strain_limit {
            let over = Interval::new(low.0, high.0);
            let largest = limit * factor.enclose(over).magnitude();
            let offset = match &second {
                None => thermal.enclose(over),
                Some(second) => thermal.enclose(over).minus(second.thermal.enclose(second.over)),
            };
            let ends = (code_for(curve, offset.low - largest), code_for(curve, offset.high + largest));
            let (first, last) = if curve.gain > 0.0 { ends } else { (ends.1, ends.0) };
            // Rounding outwards costs a code; the rails have the last word.
            let (first, last) = (balance + first - 1.0, balance + last + 1.0);
            if !(first <= window.1 as f64 && last >= window.0 as f64) {
                let (value, limit) = if first > 0.0 { (first, window.1) } else { (last, window.0) };
                return Err(Error::Overflow { quantity: Quantity::CodeWindow, value, limit: limit as f64 });
            }
            window = (whole(first, window.0, window.1), whole(last, window.0, window.1));
        }

        let ends =
            (signal_for(curve, window.0 as f64 - balance), signal_for(curve, window.1 as f64 - balance));
        let largest = ends.0.abs().max(ends.1.abs());
        check!(fits(Quantity::Signal, largest, LARGEST_SIGNAL));
        let smallest_factor = factor.enclose(Interval::new(low.0, high.0)).low;
        let circuit_error = match channel.source {
            Source::Codes(bridge, _) => {
                let ratio = channel.balance_ratio();
                // The network's own signal can exceed the map's by what the map leaves out: enclose a little more.
                let reach = largest * 1.001 + 1e-6;
                check!(bridge.left_out(ratio, reach)) / smallest_factor
            }
            Source::Readings(_) => 0.0,
        };

        // Count codes from a whole number, the one nearest to balance if all of the window can be reached
        // from there: M(c - f) = M'(c) - shift, with the map's own algebra.
        let base = whole(
            nearest(balance) as f64,
            saturated(window.1 as i64 - i32::MAX as i64),
            saturated(window.0 as i64 + i32::MAX as i64),
        );
        let fraction = balance - base as f64;
        let turn = 1.0 + curve.curvature * fraction;
        let curvature = curve.curvature / turn;
        let gain = curve.gain * (1.0 - fraction * curvature) / turn;
        let shift = fraction * curve.gain / turn;
        let thermal = thermal.plus(&Polynomial::constant(shift));
        let temperatures = (steps_up(low.0), steps_down(high.0));
        Ok(Self {
            bits: channel.bits(),
            base,
            window,
            gain,
            curvature,
            thermal,
            factor,
            second,
            temperatures,
            strain_limit,
            largest_signal: largest,
            smallest_factor,
            circuit_error,
        })
    }
}

/// Gauge factor times thermal output since balance, against degrees Celsius.
pub(crate) const fn thermal_of(bonded: &Bonded, mismatch: MismatchScale) -> Polynomial {
    let gauge = &bonded.gauge;
    let package = gauge.thermal_output.in_celsius().times(gauge.thermal_output.stated_for * 1e-6);
    let scale = mismatch_factor(gauge, mismatch);
    let from_reference = Polynomial::new([-gauge.reference, 1.0]);
    let output = package.plus(&scale.times(bonded.mismatch).multiplied(&from_reference));
    since_balance(output, bonded.balance)
}

/// The gauge factor that the signal is divided by, against degrees Celsius.
pub(crate) const fn factor_of(channel: &Channel) -> Polynomial {
    match channel.correction {
        Correction::Full => channel.gauge.factor_polynomial(),
        _ => Polynomial::constant(channel.instrument_factor),
    }
}

/// What a specimen that expands more by one per degree adds to the signal, counted as thermal output is, against degrees
/// Celsius.
pub(crate) const fn expansion_of(bonded: &Bonded, mismatch: MismatchScale) -> Polynomial {
    let from_reference = Polynomial::new([-bonded.gauge.reference, 1.0]);
    since_balance(mismatch_factor(&bonded.gauge, mismatch).multiplied(&from_reference), bonded.balance)
}

const fn since_balance(curve: Polynomial, balance: Option<f64>) -> Polynomial {
    match balance {
        None => curve,
        Some(temperature) => curve.plus(&Polynomial::constant(-curve.at(temperature))),
    }
}

/// What the expansion of another specimen is multiplied by, against degrees Celsius.
pub(crate) const fn mismatch_factor(gauge: &Gauge, mismatch: MismatchScale) -> Polynomial {
    match mismatch {
        MismatchScale::GaugeFactorAtTemperature => gauge.factor_polynomial().times(gauge.equibiaxial_gain()),
        MismatchScale::GaugeFactorAtReference => {
            Polynomial::constant(gauge.factor * gauge.equibiaxial_gain())
        }
        MismatchScale::StatedGaugeFactor => Polynomial::constant(gauge.thermal_output.stated_for),
    }
}

/// What rounding in `f64` may make of a constant on its way from the package to a kernel, where terms cancel:
/// thermal output in strain, and the gauge factor's relative change. Kernels' bounds allow for it.
pub(crate) const THERMAL_ROUNDING: f64 = 1.8e-15;
pub(crate) const FACTOR_ROUNDING: f64 = 2.9e-14;

/// Refuses a package whose polynomials cancel so far that the constants would be off by more.
pub(crate) const fn check_cancellation(bonded: &Bonded, largest: f64) -> Result<(), Error> {
    let gauge = &bonded.gauge;
    let largest = match bonded.balance {
        Some(temperature) => largest.max(temperature.abs()),
        None => largest,
    };
    let package = gauge.thermal_output.stated_for * 1e-6 * gauge.thermal_output.size(largest);
    let apart = bonded.mismatch.abs() * (largest + gauge.reference.abs()) * gauge.equibiaxial_gain().abs();
    let factor = gauge.factor_size(largest);
    check!(thermal_cancellation((package + apart * factor) / gauge.factor));
    factor_cancellation(factor / gauge.factor)
}

/// Some thirty roundings on the way.
const ROUNDINGS: f64 = 32.0 * f64::EPSILON / 2.0;

/// For terms of thermal output that add up to `size`, as strain. Balance is subtracted, which is a second time.
pub(crate) const fn thermal_cancellation(size: f64) -> Result<(), Error> {
    fits(Quantity::Cancellation, 2.0 * ROUNDINGS * size / THERMAL_ROUNDING, 1.0)
}

/// For terms of the gauge factor, over that at the reference temperature, that add up to `size`.
pub(crate) const fn factor_cancellation(size: f64) -> Result<(), Error> {
    fits(Quantity::Cancellation, ROUNDINGS * size / FACTOR_ROUNDING, 1.0)
}

/// The code (from base) at which the map gives `y`; infinite where the bridge cannot give it.
const fn code_for(curve: Curve, y: f64) -> f64 {
    let slope = curve.gain + curve.curvature * y;
    if slope * curve.gain > 0.0 {
        y / slope
    } else if y * curve.gain > 0.0 {
        f64::INFINITY
    } else {
        f64::NEG_INFINITY
    }
}

/// The map: gauge factor times strain for a code from balance.
const fn signal_for(curve: Curve, code: f64) -> f64 {
    curve.gain * code / (1.0 - curve.curvature * code)
}

/// `code` as a whole number held between `low` and `high`.
const fn whole(code: f64, low: i32, high: i32) -> i32 {
    if code <= low as f64 {
        low
    } else if code >= high as f64 {
        high
    } else {
        code as i32
    }
}

const fn saturated(x: i64) -> i32 {
    if x < i32::MIN as i64 {
        i32::MIN
    } else if x > i32::MAX as i64 {
        i32::MAX
    } else {
        x as i32
    }
}

/// The lowest step at or above a temperature.
const fn steps_up(celsius: f64) -> i32 {
    -steps_down(-celsius)
}

/// The highest step at or below a temperature. The product is exact: the factor is a power of two.
const fn steps_down(celsius: f64) -> i32 {
    let steps = celsius * Temperature::PER_DEGREE as f64;
    let toward_zero = steps as i32;
    if toward_zero as f64 > steps { toward_zero - 1 } else { toward_zero }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_never_leave_the_declared_range() {
        assert_eq!(steps_down(-80.0), -80 << 20);
        assert_eq!(steps_up(-80.0), -80 << 20);
        assert_eq!(steps_down(0.1), 104_857);
        assert_eq!(steps_up(0.1), 104_858);
        assert_eq!(steps_down(-0.1), -104_858);
    }
}
