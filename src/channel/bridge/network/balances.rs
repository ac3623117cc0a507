//! The constants of the map against the ratio at balance, for a bridge that may be balanced anywhere in a range.
//!
//! Unbalance is put down to one element: arm 2, or the division `h` of arms 3 and 4, whose `N` and `D` are then multiplied by
//! `2 h (1 - h)`. Every coefficient of `N` and `D` is a straight line in this element, and the element is a fraction of two straight
//! lines in the ratio `b` at balance, `Z / W`. Times `W`, so that each coefficient is a straight line in `b`,
//!
//! ```text
//! gain = D0 / E                with E = N1 - b D1
//! curvature = (D1 E - D0 (N2 - b D2)) / E^2
//! ```

use super::{Bridge, Fraction};
use crate::channel::bridge::BridgeMap;
use crate::error::{Error, Field, try_const};
use crate::numeric::Polynomial;
use crate::units::Ratio;

/// The two constants of a [`BridgeMap`], each a fraction of polynomials in the ratio at balance.
#[derive(Clone, Copy)]
pub(crate) struct MapOfBalance {
    pub gain: (Polynomial, Polynomial),
    pub curvature: (Polynomial, Polynomial),
}

impl MapOfBalance {
    /// A map that is the same at every balance.
    pub const fn constant(map: BridgeMap) -> Self {
        let one = Polynomial::constant(1.0);
        Self {
            gain: (Polynomial::constant(map.gain), one),
            curvature: (Polynomial::constant(map.curvature), one),
        }
    }

    /// Against another variable, of which the ratio is `offset + scale x`.
    pub const fn substitute(&self, offset: f64, scale: f64) -> Self {
        let (gain, curvature) = (&self.gain, &self.curvature);
        Self {
            gain: (gain.0.substitute(offset, scale), gain.1.substitute(offset, scale)),
            curvature: (curvature.0.substitute(offset, scale), curvature.1.substitute(offset, scale)),
        }
    }
}

impl Bridge {
    /// The map's constants against the ratio at balance.
    ///
    /// A full bridge of which arm 2 is stated and arms 3 and 4 are not, and whose excitation leads count, is refused: there the
    /// division is no fraction of the ratio.
    pub(crate) const fn map_of_balance(&self) -> Result<MapOfBalance, Error> {
        if self.completion.is_some() && self.reference.is_some() {
            return Ok(MapOfBalance::constant(try_const!(self.map(Ratio(0.0)))));
        }
        if self.completion.is_some() && self.excitation_resistance() > 0.0 {
            return Err(Field::ReferenceResistance.missing());
        }
        // Far apart, so that the lines through them are exact.
        let (one, other) = (self.unbalanced_by(0.0), self.unbalanced_by(1.0));
        let rest = (Line::through(one.n, other.n, 0), Line::through(one.d, other.d, 0));
        let element =
            (Polynomial::new([rest.0.start, -rest.1.start]), Polynomial::new([-rest.0.rise, rest.1.rise]));
        let n1 = Line::through(one.n, other.n, 1).at(&element);
        let n2 = Line::through(one.n, other.n, 2).at(&element);
        let d0 = rest.1.at(&element);
        let d1 = Line::through(one.d, other.d, 1).at(&element);
        let d2 = Line::through(one.d, other.d, 2).at(&element);
        let less = Polynomial::new([0.0, -1.0]);
        let e = n1.plus(&less.multiplied(&d1));
        let bend = n2.plus(&less.multiplied(&d2)).times(-1.0);
        let map = MapOfBalance {
            gain: (d0, e),
            curvature: (d1.multiplied(&e).plus(&d0.multiplied(&bend)), e.multiplied(&e)),
        };
        if !self.reversed {
            return Ok(map);
        }
        let MapOfBalance { gain, curvature } = map.substitute(0.0, -1.0);
        Ok(MapOfBalance {
            gain: (gain.0.times(-1.0), gain.1),
            curvature: (curvature.0.times(-1.0), curvature.1),
        })
    }

    /// The ratio as a fraction, with this much of the element that unbalance is put down to.
    const fn unbalanced_by(&self, element: f64) -> Fraction {
        let Some(completion) = self.completion else {
            let (a3, a4) = self.reference_arms();
            return self.fraction(&self.strained([self.arm_one(), element, a3, a4]));
        };
        let h = 0.25 + element / 2.0;
        let arms = [self.arm_one(), self.arm_two(completion), 0.5 / h, 0.5 / (1.0 - h)];
        let Fraction { n, d } = self.fraction(&self.strained(arms));
        let weight = 2.0 * h * (1.0 - h);
        Fraction { n: n.times(weight), d: d.times(weight) }
    }
}

/// A coefficient against the element.
#[derive(Clone, Copy)]
struct Line {
    start: f64,
    rise: f64,
}

impl Line {
    const fn through(one: Polynomial, other: Polynomial, power: usize) -> Self {
        let start = one.coefficients()[power];
        Self { start, rise: other.coefficients()[power] - start }
    }

    /// Times the divisor of the element `Z / W`.
    const fn at(self, (z, w): &(Polynomial, Polynomial)) -> Polynomial {
        w.times(self.start).plus(&z.times(self.rise))
    }
}
