//! The largest error of leaving an effect out: found, and enclosed.

use super::{Effect, Omission};
use crate::bridge::{Bridge, Curve};
use crate::channel::{Channel, Correction, Source};
use crate::error::{Error, Quantity, fits};
use crate::interval::Interval;
use crate::polynomial::Polynomial;
use crate::signal::Signal;
use crate::units::{Celsius, Microstrain, Percent, Ratio};

/// Even steps of the search, and pieces of the enclosure.
const STEPS: u32 = 1024;
const PIECES: u32 = 256;
/// Golden section leaves 2e-11 of a step or less after so many.
const SECTIONS: u32 = 48;

pub(super) struct Ready {
    signal: Signal,
    /// The map without leads at the same balance.
    without_leads: Curve,
    mismatch: Polynomial,
    /// Gauge factor that stands in for that at temperature.
    package: f64,
}

/// Most strains that an error can be largest at.
const STRAINS: usize = 3;

impl Ready {
    pub fn of(channel: &Channel) -> Result<Self, Error> {
        let channel = channel.correction(Correction::Full);
        let signal = Signal::of(&channel)?;
        let without_leads = match channel.source {
            Source::Codes(bridge, _) => {
                let bare = Bridge { lead: 0.0, output_lead: None, ..bridge };
                bare.curve(Ratio(signal.at_balance))?
            }
            Source::Readings(_) => signal.map,
        };
        let mismatch = signal.expansion.times(signal.mismatch);
        Ok(Self { signal, without_leads, mismatch, package: channel.gauge.factor })
    }

    pub fn omission(
        &self,
        effect: Effect,
        window: (f64, f64),
        strain: Microstrain,
    ) -> Result<Omission, Error> {
        let limit = strain.0 * 1e-6;
        let bound = self.bound(effect, window, limit);
        // Infinite where an arm of the bridge would have no resistance left.
        fits(Quantity::StrainValue, bound, 1.0)?;
        let (mut best, mut at, mut where_best) = (0.0, (window.0, limit), 0);
        let temperature = |i: f64| {
            let share = i / f64::from(STEPS);
            window.0 * (1.0 - share) + window.1 * share
        };
        for i in 0..=STEPS {
            let t = temperature(f64::from(i));
            let (error, strain) = self.largest_at(effect, t, limit);
            if error > best {
                (best, at, where_best) = (error, (t, strain), i);
            }
        }
        let middle = f64::from(where_best);
        let (mut low, mut high) = ((middle - 1.0).max(0.0), (middle + 1.0).min(f64::from(STEPS)));
        for _ in 0..SECTIONS {
            const GOLDEN: f64 = 0.618_033_988_749_894_8;
            let (left, right) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
            let of = |i: f64| self.largest_at(effect, temperature(i), limit);
            let ((error_left, strain_left), (error_right, strain_right)) = (of(left), of(right));
            let (error, strain, place) = if error_left > error_right {
                high = right;
                (error_left, strain_left, left)
            } else {
                low = left;
                (error_right, strain_right, right)
            };
            if error > best {
                (best, at) = (error, (temperature(place), strain));
            }
        }
        Ok(Omission {
            effect,
            largest: Microstrain(best * 1e6),
            percent: Percent(100.0 * best / limit),
            temperature: Celsius(at.0),
            strain: Microstrain(at.1 * 1e6),
            bound: Microstrain(bound * 1e6),
        })
    }

    /// Without its sign, and the strain where it is.
    fn largest_at(&self, effect: Effect, t: f64, limit: f64) -> (f64, f64) {
        let factor = self.signal.factor.at(t);
        let thermal = self.signal.thermal.at(t);
        let top = self.top(effect).map_or(limit, |y| ((y - thermal) / factor).clamp(-limit, limit));
        let strains: [f64; STRAINS] = [limit, -limit, top];
        strains.into_iter().fold((0.0, limit), |(best, at), strain| {
            let error = self.error(effect, t, strain).abs();
            if error > best { (error, strain) } else { (best, at) }
        })
    }

    /// What is computed less what is right.
    fn error(&self, effect: Effect, t: f64, strain: f64) -> f64 {
        let (factor, thermal) = (self.signal.factor.at(t), self.signal.thermal.at(t));
        let y = factor * strain + thermal;
        match effect {
            Effect::ThermalOutput => thermal / factor,
            Effect::Mismatch => self.mismatch.at(t) / factor,
            Effect::GaugeFactor => strain * (factor / self.package - 1.0),
            Effect::Nonlinearity | Effect::LeadDesensitisation => {
                let [p, q, r] = self.fraction(effect);
                y * (p + q * y) / (1.0 + r * y) / factor
            }
        }
    }

    /// The error of the signal as `y (p + q y) / (1 + r y)`.
    ///
    /// The signal comes from `x = y / (g + h y)`. The slope at balance alone makes `g x` of it; a bridge of other constants
    /// `g' x / (1 - h' x)`.
    fn fraction(&self, effect: Effect) -> [f64; 3] {
        let Curve { gain, curvature } = self.signal.map;
        match effect {
            Effect::LeadDesensitisation => {
                let other = self.without_leads;
                let apart = curvature - other.curvature;
                [(other.gain - gain) / gain, -apart / gain, apart / gain]
            }
            _ => [0.0, -curvature / gain, curvature / gain],
        }
    }

    /// The signal at which the error of it turns inside, on the branch that holds zero. The error is bent one way all along:
    /// `p + q y` is its slope, times a constant, where the slope of the fraction is one.
    fn top(&self, effect: Effect) -> Option<f64> {
        if !matches!(effect, Effect::LeadDesensitisation) {
            return None;
        }
        let [p, _, r] = self.fraction(effect);
        // (1 + p) y / (1 + r y) - y turns at (1 + r y)^2 = 1 + p.
        let y = (libm::sqrt(1.0 + p) - 1.0) / r;
        y.is_finite().then_some(y)
    }

    /// No error in the window is larger.
    fn bound(&self, effect: Effect, window: (f64, f64), limit: f64) -> f64 {
        let step = (window.1 - window.0) / f64::from(PIECES);
        let mut largest = 0.0;
        for i in 0..PIECES {
            // A hair wider, for what rounding makes of the ends.
            let low = window.0 + step * f64::from(i);
            let high = if i + 1 == PIECES { window.1 } else { window.0 + step * f64::from(i + 1) };
            let piece = Interval::new(low, high).plus(Interval::around_zero(1e-12));
            let error = self.enclosed(effect, piece, limit);
            // Written so that a NaN stays one.
            largest = if error <= largest { largest } else { error };
        }
        largest
    }

    fn enclosed(&self, effect: Effect, piece: Interval, limit: f64) -> f64 {
        let factor = self.signal.factor.mean_value_form(piece);
        let per = factor.reciprocal();
        let thermal = self.signal.thermal.mean_value_form(piece);
        match effect {
            Effect::ThermalOutput => thermal.times(per).magnitude(),
            Effect::Mismatch => self.mismatch.mean_value_form(piece).times(per).magnitude(),
            Effect::GaugeFactor => {
                let change =
                    factor.times(Interval::point(self.package).reciprocal()).minus(Interval::point(1.0));
                change.scaled(limit).magnitude()
            }
            Effect::Nonlinearity | Effect::LeadDesensitisation => {
                let end = factor.scaled(limit);
                let ends = [thermal.plus(end), thermal.minus(end)];
                let [_, _, r] = self.fraction(effect);
                let divisor = Interval::point(1.0).plus(ends[0].hull(ends[1]).scaled(r));
                // Where it has a zero an arm has nothing left, and what is between the ends is not between their errors.
                if divisor.low <= 0.0 || divisor.low.is_nan() {
                    return f64::INFINITY;
                }
                let top = match self.top(effect) {
                    // Only where the range holds it; it is a point of all temperatures.
                    Some(y) if y >= ends[1].low && y <= ends[0].high => Some(Interval::point(y)),
                    _ => None,
                };
                let largest = |y: Interval| self.signal_error(effect, y).times(per).magnitude();
                let at_ends = ends.map(largest);
                let mut all = if at_ends[0] <= at_ends[1] { at_ends[1] } else { at_ends[0] };
                if let Some(top) = top {
                    let there = largest(top);
                    all = if there <= all { all } else { there };
                }
                all
            }
        }
    }

    fn signal_error(&self, effect: Effect, y: Interval) -> Interval {
        let [p, q, r] = self.fraction(effect).map(Interval::point);
        let one = Interval::point(1.0);
        let above = y.times(p.plus(q.times(y)));
        above.times(one.plus(r.times(y)).reciprocal())
    }
}
