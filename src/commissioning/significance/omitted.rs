//! A channel made ready for many evaluations: the error of leaving effects out, at a strain and a temperature.
//!
//! With `y = e F(T) + W(T)`, gauge factor times indicated strain for a mechanical strain `e` and a thermal output of
//! `W / F_i`, the bridge's map gives the change of ratio `x = y / (g + h y)`. What is then computed with less is
//!
//! ```text
//! y' = y           the map as it is                     W' = W   or, without the rotation, the package's, or 0
//!    | g x         a straight line                      F' = F(T)   or, uncorrected, F_i
//!    | g0 x / (1 - h0 x)   without leads
//!    | g0 x        both
//! error = (y' - W') / F' - e = e (F / F' - 1) + ((y' - y) + (W - W')) / F'
//! ```
//!
//! and every `y'` is `A y / (1 + B y)`. Of a gauge factor that refers to the unloaded gauge or the free foil, `F` has the factor
//! `1 + W` and `F'` the factor `1 + W'`.

use super::effect::{CorrectionStep, CorrectionSteps};
use crate::channel::{BridgeMap, Channel, LARGEST_SIGNAL, Source};
use crate::error::{Error, Quantity, fits, try_const};
use crate::kernel::model::{ChannelModel, check_cancellation};
use crate::numeric::{Interval, Polynomial, place_of_maximum};

/// Temperatures that are looked at, less one.
const STEPS: usize = 1024;

/// A bridge with its leads and without.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
struct Maps {
    own: BridgeMap,
    without_leads: BridgeMap,
    /// What the maps leave out of the networks, in gauge factor times strain.
    left_out: (f64, f64),
    has_leads: bool,
}

/// `y' = (1 + excess) y / (1 + bend y)`.
#[derive(Clone, Copy)]
pub(super) struct Reduced {
    pub excess: f64,
    pub bend: f64,
    /// What this map is off from the network.
    pub left_out: f64,
}

/// A channel in natural units: strains are plain ratios.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Ready {
    /// Gauge factor against degrees Celsius.
    pub factor: Polynomial,
    pub instrument_factor: f64,
    /// Gauge factor times thermal output since balance, whole and the specimen's part of it.
    pub thermal: Polynomial,
    pub rotation: Polynomial,
    maps: Option<Maps>,
    /// The least that signals are divided by.
    smallest_factor: f64,
    /// Strain is over one and what is subtracted, too.
    pub product: bool,
    /// The end of the declared strain range.
    pub reach: f64,
    pub window: (f64, f64),
}

impl Ready {
    /// Of a channel that has been checked.
    pub const fn of(channel: &Channel, reach: f64, window: (f64, f64)) -> Result<Self, Error> {
        let model = try_const!(ChannelModel::of(channel));
        try_const!(check_cancellation(&model.measuring, window.0.abs().max(window.1.abs())));
        let thermal = model.thermal;
        let mut ready = Self {
            factor: model.factor,
            instrument_factor: model.instrument_factor,
            thermal,
            rotation: model.rotation(),
            maps: None,
            smallest_factor: 0.0,
            product: model.has_product(),
            reach,
            window,
        };
        let over = Interval::new(window.0, window.1);
        let factor = ready.factor.enclose(over);
        let thermal = thermal.enclose(over);
        let unloaded = 1.0 + if ready.product { thermal.magnitude() } else { 0.0 };
        ready.smallest_factor = (factor.low * (2.0 - unloaded)).min(model.instrument_factor);
        let signal = factor.scaled(unloaded).times(Interval::around_zero(reach));
        let largest = signal.plus(thermal).magnitude();
        try_const!(fits(Quantity::Signal, largest, LARGEST_SIGNAL));
        if let Source::Codes(bridge, _) = channel.source {
            let at_balance = channel.balance_ratio();
            let without_leads = bridge.without_leads();
            ready.maps = Some(Maps {
                own: model.map,
                without_leads: try_const!(without_leads.map(at_balance)),
                left_out: (0.0, 0.0),
                has_leads: bridge.has_leads(),
            });
            let mut farthest = largest;
            let mut number = 0;
            while number < CorrectionSteps::SETS {
                let Reduced { excess, bend, .. } = ready.reduced(CorrectionSteps::numbered(number));
                let bent = bend.abs() * largest;
                try_const!(fits(Quantity::BridgeCurvature, bent, LARGEST_SIGNAL));
                farthest = farthest.max((1.0 + excess).abs() * largest / (1.0 - bent));
                number += 1;
            }
            // The networks' own signals can exceed the maps' by what these leave out: look a little farther.
            let room = farthest * 1.001 + 1e-6;
            let left_out = (
                try_const!(bridge.left_out(at_balance, room)),
                try_const!(without_leads.left_out(at_balance, room)),
            );
            if let Some(maps) = &mut ready.maps {
                maps.left_out = left_out;
            }
        }
        Ok(ready)
    }

    pub const fn knows_bridge(&self) -> bool {
        self.maps.is_some()
    }

    pub const fn reduced(&self, left_out: CorrectionSteps) -> Reduced {
        let straight = left_out.contains(CorrectionStep::NonLinearity);
        let leads = left_out.contains(CorrectionStep::Leads);
        let Some(Maps { own, without_leads, left_out, has_leads }) = self.maps else {
            return Reduced { excess: 0.0, bend: 0.0, left_out: 0.0 };
        };
        let short = leads && has_leads;
        let excess = if short { without_leads.gain / own.gain - 1.0 } else { 0.0 };
        let (curvature, left_out) = match (straight, short) {
            (true, _) => (own.curvature, left_out.0),
            (false, true) => (own.curvature - without_leads.curvature, left_out.0 + left_out.1),
            (false, false) => (0.0, 0.0),
        };
        Reduced { excess, bend: curvature / own.gain, left_out }
    }

    /// The part of a bound that smaller pieces do not reduce: what the maps leave out, once in the signal and once in what is
    /// computed.
    pub const fn unknown(&self, left_out: CorrectionSteps) -> f64 {
        2.0 * self.reduced(left_out).left_out / self.smallest_factor
    }

    /// Whether leaving all of these out changes no reading of the channel.
    pub const fn lacks(&self, left_out: CorrectionSteps) -> bool {
        let Reduced { excess, bend, left_out: unknown } = self.reduced(left_out);
        let as_set =
            !self.product && self.factor.degree() == 0 && self.factor.at(0.0) == self.instrument_factor;
        excess == 0.0
            && bend == 0.0
            && unknown == 0.0
            && is_zero(self.not_subtracted(left_out))
            && (as_set || !left_out.contains(CorrectionStep::GaugeFactor))
    }

    /// What is not subtracted of thermal output, times gauge factor.
    pub const fn not_subtracted(&self, left_out: CorrectionSteps) -> &Polynomial {
        if left_out.contains(CorrectionStep::ThermalOutput) {
            &self.thermal
        } else if left_out.contains(CorrectionStep::Mismatch) {
            &self.rotation
        } else {
            &Polynomial::ZERO
        }
    }

    /// The error: what is computed without these less the strain.
    pub const fn error(&self, left_out: CorrectionSteps, strain: f64, temperature: f64) -> f64 {
        let (factor, divisor) = self.factor_and_divisor(left_out, temperature);
        let signal = strain * factor + self.thermal.at(temperature);
        let Reduced { excess, bend, .. } = self.reduced(left_out);
        let moved = signal * (excess - bend * signal) / (1.0 + bend * signal);
        strain * (factor / divisor - 1.0) + (moved + self.not_subtracted(left_out).at(temperature)) / divisor
    }

    /// The signal of a unit of strain, and what the signal is divided by.
    const fn factor_and_divisor(&self, left_out: CorrectionSteps, temperature: f64) -> (f64, f64) {
        let factor = self.factor.at(temperature);
        let (own, divisor) = if self.product {
            let thermal = self.thermal.at(temperature);
            let subtracted = thermal - self.not_subtracted(left_out).at(temperature);
            (factor * (1.0 + thermal), factor * (1.0 + subtracted))
        } else {
            (factor, factor)
        };
        (own, if left_out.contains(CorrectionStep::GaugeFactor) { self.instrument_factor } else { divisor })
    }

    /// The strain in the declared range at which the error is largest, at a temperature. Against strain it bends one way
    /// only, so that is at an end or where it is level: where `(1 + B y)^2 = A F / F'`.
    pub fn worst_strain(&self, left_out: CorrectionSteps, temperature: f64) -> f64 {
        let mut worst = self.reach;
        let mut most = self.error(left_out, worst, temperature).abs();
        let down = self.error(left_out, -self.reach, temperature).abs();
        if down > most {
            (worst, most) = (-self.reach, down);
        }
        let Reduced { excess, bend, .. } = self.reduced(left_out);
        if bend != 0.0 {
            let (factor, divisor) = self.factor_and_divisor(left_out, temperature);
            let signal = (libm::sqrt((1.0 + excess) * factor / divisor) - 1.0) / bend;
            let level = (signal - self.thermal.at(temperature)) / factor;
            if level.abs() < self.reach && self.error(left_out, level, temperature).abs() > most {
                worst = level;
            }
        }
        worst
    }

    /// Strain and temperature of the largest error.
    pub fn worst(&self, left_out: CorrectionSteps) -> Result<(f64, f64), Error> {
        let error = |temperature: f64| {
            Ok(self.error(left_out, self.worst_strain(left_out, temperature), temperature).abs())
        };
        let temperature = place_of_maximum(error, self.window, STEPS)?;
        Ok((self.worst_strain(left_out, temperature), temperature))
    }
}

pub(super) const fn is_zero(polynomial: &Polynomial) -> bool {
    polynomial.degree() == 0 && polynomial.at(0.0) == 0.0
}
