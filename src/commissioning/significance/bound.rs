//! A proven bound of the largest error: the window and the strain range are cut into pieces until what each can hold,
//! by interval arithmetic, is hardly more than what the search has seen.

use super::effect::{CorrectionStep, CorrectionSteps};
use super::omitted::{Ready, Reduced, is_zero};
use crate::kernel::model::{FACTOR_ROUNDING, THERMAL_ROUNDING};
use crate::numeric::{Interval, Polynomial};

/// Pieces that wait at a time: one for each halving.
const WAITING: usize = 48;

/// Pieces that are looked at. Beyond, none is cut: the bound is right but not tight.
const MOST: usize = 20_000;

/// By how much the constants of a bridge's map may be off, of sums of numbers near one in `f64`.
const MAP_ROUNDING: f64 = 1e-12;

/// A piece of strain range and window.
#[derive(Clone, Copy)]
struct Piece {
    strain: Interval,
    temperature: Interval,
}

impl Piece {
    const fn halves(self, of_strain: bool) -> [Self; 2] {
        if of_strain {
            let [low, high] = halves(self.strain);
            [Self { strain: low, ..self }, Self { strain: high, ..self }]
        } else {
            let [low, high] = halves(self.temperature);
            [Self { temperature: low, ..self }, Self { temperature: high, ..self }]
        }
    }
}

const fn halves(whole: Interval) -> [Interval; 2] {
    let middle = whole.middle();
    [Interval::new(whole.low, middle), Interval::new(middle, whole.high)]
}

impl Ready {
    /// No error of leaving these out is larger, anywhere in strain range and window, for an error `seen` by a search. Within a
    /// hundredth of it and a nanostrain, and what the maps leave out of the networks, unless something is nearly singular.
    pub const fn bound(&self, left_out: CorrectionSteps, seen: f64) -> f64 {
        if self.lacks(left_out) {
            return 0.0;
        }
        let enough = seen * 1.01 + 1e-9 + self.unknown(left_out);
        let strain = if left_out.is_thermal() && !self.product {
            Interval::point(0.0)
        } else {
            Interval::around_zero(self.reach)
        };
        let whole = Piece { strain, temperature: Interval::new(self.window.0, self.window.1) };
        let mut waiting = [whole; WAITING];
        let (mut count, mut looked_at) = (1, 0);
        let mut worst = seen;
        while count > 0 {
            count -= 1;
            let piece = waiting[count];
            let size = self.enclose(left_out, piece).magnitude();
            looked_at += 1;
            if size <= enough || count + 2 > WAITING || looked_at > MOST {
                // Written so that a NaN stays one.
                worst = if size <= worst { worst } else { size };
            } else {
                // The cut that takes more away; where a width is no number the other cut would change nothing.
                let strain = Interval::point(piece.strain.middle());
                let temperature = Interval::point(piece.temperature.middle());
                let without_strain = self.enclose(left_out, Piece { strain, ..piece }).width();
                let without_temperature = self.enclose(left_out, Piece { temperature, ..piece }).width();
                let of_strain = without_strain < without_temperature
                    || (without_temperature.is_nan() && !without_strain.is_nan());
                let [low, high] = piece.halves(of_strain);
                waiting[count] = low;
                waiting[count + 1] = high;
                count += 2;
            }
        }
        worst
    }

    /// What the error can be in a piece, against the network itself.
    const fn enclose(&self, left_out: CorrectionSteps, piece: Piece) -> Interval {
        let Piece { strain, temperature } = piece;
        let rounding = Interval::new(1.0 - FACTOR_ROUNDING, 1.0 + FACTOR_ROUNDING);
        let factor = self.factor.mean_value_form(temperature).times(rounding);
        let thermal_rounding = THERMAL_ROUNDING * factor.magnitude();
        let thermal = rounded(&self.thermal, temperature, thermal_rounding);
        let not_subtracted = if is_zero(self.not_subtracted(left_out)) {
            Interval::point(0.0)
        } else {
            rounded(self.not_subtracted(left_out), temperature, thermal_rounding)
        };
        // What a unit of strain gives, over the gauge factor, and what it is divided by.
        let one = Interval::point(1.0);
        let (unloaded, subtracted) = if self.product {
            (one.plus(thermal), one.plus(thermal.minus(not_subtracted)))
        } else {
            (one, one)
        };
        let signal = strain.times(factor.times(unloaded)).plus(thermal);
        let moved = moved(self.reduced(left_out), signal);
        let error = moved.plus(not_subtracted);
        if left_out.contains(CorrectionStep::GaugeFactor) {
            let one_over = Interval::point(self.instrument_factor).reciprocal();
            let change = factor.times(unloaded).times(one_over).minus(one);
            strain.times(change).plus(error.times(one_over))
        } else if self.product {
            let share = strain.times(not_subtracted.times(subtracted.reciprocal()));
            share.plus(error.times(factor.times(subtracted).reciprocal()))
        } else {
            error.times(factor.reciprocal())
        }
    }
}

const fn rounded(polynomial: &Polynomial, over: Interval, by: f64) -> Interval {
    polynomial.mean_value_form(over).plus(Interval::around_zero(by))
}

/// `y' - y`. The map's own `y` is off from the network's by what it leaves out, and so is `y'`.
const fn moved(map: Reduced, signal: Interval) -> Interval {
    if map.excess == 0.0 && map.bend == 0.0 {
        // Not by rounding: it is the bridge's own map, or a straight line for a straight bridge.
        return Interval::around_zero(map.left_out);
    }
    let left_out = Interval::around_zero(map.left_out);
    let rounding = Interval::around_zero(MAP_ROUNDING);
    let signal = signal.plus(left_out);
    let bent = Interval::point(map.bend).plus(rounding).times(signal);
    let excess = Interval::point(map.excess).plus(rounding).minus(bent);
    let divisor = Interval::point(1.0).plus(bent).reciprocal();
    signal.times(excess).times(divisor).plus(left_out)
}
