//! A channel's model counted in codes: what the kernels of `i32` and floating point scale and round.
//!
//! `y = gain c / (1 - curvature c)`, where `c` is the code less the whole code nearest to balance. The fraction of a code that
//! balance lies off is worked into the constants exactly, so that kernels subtract integers and lose nothing.

use super::model::{ChannelModel, PolynomialRounding, check_cancellation};
use crate::channel::{BridgeMap, Channel, CompensatedChannel, LARGEST_SIGNAL, Source};
use crate::error::{Error, Field, Quantity, fits, try_const};
use crate::numeric::{Interval, Polynomial};
use crate::sample::{Temperature, nearest};
use crate::units::{Microstrain, Ratio};

/// A compensating gauge with a temperature of its own.
pub(super) struct Second {
    /// Gauge factor times thermal output, against degrees Celsius.
    pub thermal: Polynomial,
    /// Q20 degrees Celsius.
    pub temperatures: (i32, i32),
    over: Interval,
    /// By what its polynomials may be off.
    pub rounding: PolynomialRounding,
}

impl Second {
    pub const fn of(channel: &CompensatedChannel, model: &ChannelModel) -> Result<Self, Error> {
        let bonded = channel.compensating.bonded(channel.channel.balance);
        let (low, high) = bonded.temperatures;
        let over = Interval::new(low.0, high.0);
        Ok(Self {
            thermal: model.added(&bonded),
            temperatures: (steps_up(low.0), steps_down(high.0)),
            over,
            rounding: try_const!(check_cancellation(&bonded, over.magnitude())),
        })
    }
}

pub(super) struct CodeModel {
    pub bits: u32,
    /// The whole code that `c` is counted from.
    pub base: i32,
    /// The codes that can occur while strain and temperature are in their declared ranges and the
    /// converter is off its rails.
    pub window: (i32, i32),
    /// Gauge factor times strain for a `c`.
    pub map: BridgeMap,
    /// Gauge factor times thermal output, against degrees Celsius.
    pub thermal: Polynomial,
    /// Gauge factor against degrees Celsius.
    pub factor: Polynomial,
    /// Strain is divided by one plus thermal output: see [`ChannelModel::has_product`].
    pub has_product: bool,
    /// The signal at `base`, which is subtracted in `thermal`.
    pub offset: f64,
    /// Q20 degrees Celsius.
    pub temperatures: (i32, i32),
    /// As a plain ratio.
    pub strain_limit: Option<f64>,
    /// The largest magnitude of gauge factor times indicated strain in the window.
    pub largest_signal: f64,
    /// The smallest gauge factor in range.
    pub smallest_factor: f64,
    pub left_out: LeftOut,
    /// By what its polynomials may be off.
    pub rounding: PolynomialRounding,
}

/// What a model leaves out of the channel whatever the arithmetic, in strain.
#[derive(Clone, Copy)]
pub(super) struct LeftOut {
    /// The map, of the network.
    pub circuit: f64,
    /// The polynomial, of the gauge factor.
    pub factor: f64,
}

impl LeftOut {
    /// Refuses a polynomial of too few terms, where no limit is stated for what it may leave out: a nanostrain at most.
    pub const fn check_factor(&self) -> Result<(), Error> {
        fits(Quantity::GaugeFactorRemainder, self.factor * 1e9, 1.0)
    }

    /// All of it.
    pub const fn nanostrain(self) -> f64 {
        (self.circuit + self.factor) * 1e9
    }
}

impl CodeModel {
    /// For a kernel with or without the product, and with a polynomial of this degree for a gauge factor that has none.
    pub const fn of<const PRODUCT: usize>(channel: &Channel, degree: usize) -> Result<Self, Error> {
        let model = try_const!(ChannelModel::with_factor::<PRODUCT>(channel, degree));
        Self::reaching(channel, &model, None, channel.strain_limit)
    }

    pub const fn of_compensated<const PRODUCT: usize>(
        channel: &CompensatedChannel,
        degree: usize,
    ) -> Result<(Self, Second), Error> {
        let model = try_const!(ChannelModel::of_compensated::<PRODUCT>(channel, degree));
        let second = try_const!(Second::of(channel, &model));
        let own = &channel.channel;
        Ok((try_const!(Self::reaching(own, &model, Some(&second), own.strain_limit)), second))
    }

    /// With a window for strains up to this, which may be more than a channel can declare.
    pub const fn reaching(
        channel: &Channel,
        model: &ChannelModel,
        second: Option<&Second>,
        strain_limit: Option<Microstrain>,
    ) -> Result<Self, Error> {
        let balance = channel.balance_code();
        let map = model.map.per_step(model.step);
        let factor = model.divisor();
        let thermal = model.subtracted();
        let (low, high) = channel.temperatures();
        let rounding = try_const!(check_cancellation(&model.measuring, low.0.abs().max(high.0.abs())));

        let over = Interval::new(low.0, high.0);
        let (own, factors) = (thermal.enclose(over), factor.enclose(over));
        let other = match second {
            None => Interval::point(0.0),
            Some(second) => second.thermal.enclose(second.over),
        };
        // Of thermal output, both gauges together, where it is multiplied.
        let change = if model.has_product() { own.magnitude() + other.magnitude() } else { 0.0 };

        let strain_limit = match (strain_limit, channel.source) {
            (Some(limit), _) => Some(limit.strain().0),
            (None, Source::Codes(..)) => None,
            // An instrument has no rails that would end its range.
            (None, Source::Readings(_)) => return Err(Field::StrainRange.missing()),
        };
        let (rail_low, rail_high) = channel.rails();
        let mut window = (rail_low + 1, rail_high - 1);
        if let Some(limit) = strain_limit {
            let largest = limit * factors.magnitude();
            let offset = match second {
                None => own,
                Some(_) => own.minus(other),
            };
            // What the changes of both gauges make of the strain and of each other.
            let largest = (largest + change * change) * (1.0 + change) / (1.0 - change);
            let ends = (map.ratio(offset.low - largest), map.ratio(offset.high + largest));
            let (first, last) = if map.gain > 0.0 { ends } else { (ends.1, ends.0) };
            // Rounding outwards costs a code; the rails have the last word.
            let (first, last) = (balance + first - 1.0, balance + last + 1.0);
            if !(first <= window.1 as f64 && last >= window.0 as f64) {
                let (value, limit) = if first > 0.0 { (first, window.1) } else { (last, window.0) };
                return Err(Error::Overflow { quantity: Quantity::CodeWindow, value, limit: limit as f64 });
            }
            window = (whole(first, window.0, window.1), whole(last, window.0, window.1));
        }

        let ends = (map.signal(window.0 as f64 - balance), map.signal(window.1 as f64 - balance));
        let largest = ends.0.abs().max(ends.1.abs());
        try_const!(fits(Quantity::Signal, largest, LARGEST_SIGNAL));
        let smallest_factor = factors.low;
        let circuit_error = match channel.source {
            Source::Codes(bridge, _) => {
                // The network's own signal can exceed the map's by what the map leaves out: enclose a little more.
                let reach = largest * 1.001 + 1e-6;
                try_const!(bridge.left_out(Ratio(model.at_balance), reach)) / smallest_factor / (1.0 - change)
            }
            Source::Readings(_) => 0.0,
        };

        // Count codes from a whole number, the one nearest to balance if all of the window can be reached
        // from there.
        let base = whole(
            nearest(balance) as f64,
            saturated(window.1 as i64 - i32::MAX as i64),
            saturated(window.0 as i64 + i32::MAX as i64),
        );
        let (map, offset) = map.recentred(base as f64 - balance);
        let thermal = thermal.plus(&Polynomial::constant(-offset));
        let temperatures = (steps_up(low.0), steps_down(high.0));
        // No strain of a code in the window is larger.
        let reach = (largest * (1.0 + change) + change) / (1.0 - change) / smallest_factor;
        let left_out = LeftOut { circuit: circuit_error, factor: model.factor_error * reach };
        Ok(Self {
            bits: channel.bits(),
            base,
            window,
            map,
            thermal,
            factor,
            temperatures,
            strain_limit,
            largest_signal: largest,
            smallest_factor,
            left_out,
            has_product: model.has_product(),
            offset,
            rounding,
        })
    }
}

/// `code` as a whole number, clamped to `low` to `high`.
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
