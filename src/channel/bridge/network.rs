//! From the network to the two constants of the kernels' map, and to what that map leaves out.
//!
//! With every arm linear in `y` (gauge factor times strain), the output ratio of the whole network,
//! excitation leads and input resistance included, is a fraction of two polynomials,
//!
//! ```text
//! N = A1 A3 - A2 A4
//! D = (S12 S34 + Re (S12 + S34)) c + k (A1 A2 S34 + A3 A4 S12 + Re (A1 + A4)(A2 + A3))
//! ```
//!
//! where `S12 = A1 + A2`, `S34 = A3 + A4`, `Re` is the resistance in series with the excitation, `k` the
//! conductance of the input and `c = 1 + k R` with the resistance `R` in series with it. (Nodal equations of
//! the five-branch network, by Cramer's rule.) The kernels' map `y = gain x / (1 - curvature x)` agrees with
//! it in value, slope and bend at balance. Where one half bridge measures and no current is drawn that is all there is:
//! the map is exact. Elsewhere the difference is a fraction of polynomials again, and is enclosed.

mod at_rest;
mod balances;

pub(crate) use at_rest::AtRest;
pub(crate) use balances::MapOfBalance;

use super::{Bridge, BridgeMap};
use crate::error::{Error, Field, try_const};
use crate::numeric::{Interval, Polynomial};
use crate::units::Ratio;

/// What the network is but for its arms, in units of the gauge.
struct Loading {
    /// Of the input.
    conductance: f64,
    /// Resistance in series with the excitation.
    source: f64,
    /// One, and the conductance times the resistance in series with it.
    loaded: f64,
}

/// The four arms, in units of the gauge, as `constant + slope y`.
type Arms = [(f64, f64); 4];

const fn without_strain([(a1, _), (a2, _), (a3, _), (a4, _)]: Arms) -> [f64; 4] {
    [a1, a2, a3, a4]
}

impl Bridge {
    /// The map from a change of ratio to gauge factor times strain, for this ratio at balance.
    pub(crate) const fn map(&self, at_balance: Ratio) -> Result<BridgeMap, Error> {
        Ok(self.fraction(&try_const!(self.arms(at_balance))).map(self.reversed))
    }

    /// The largest difference between the map and the network, in gauge factor times strain, for
    /// magnitudes up to `largest` of it.
    pub(crate) const fn left_out(&self, at_balance: Ratio, largest: f64) -> Result<f64, Error> {
        Ok(self.fraction(&try_const!(self.arms(at_balance))).left_out(largest))
    }

    /// How far the signal moves, for magnitudes up to `largest`, if the unbalance sits in other arms than where
    /// it was put: in one of them or in equal parts in several that pull the same way.
    pub(crate) const fn unbalance_spread(&self, at_balance: Ratio, largest: f64) -> Result<f64, Error> {
        let own = try_const!(self.map(at_balance));
        let r0 = self.turned(at_balance.0);
        let mut worst: f64 = 0.0;
        let mut which = 1;
        while which < 16 {
            let other = self.fraction(&self.unbalanced_arms(which, r0)).map(self.reversed);
            let mut sign = -1.0;
            while sign < 2.0 {
                let y = sign * largest;
                let difference = other.signal(own.ratio(y)) - y;
                // A NaN (no such arm) must not pass for small.
                worst = if difference.abs() <= worst { worst } else { difference.abs() };
                if worst.is_nan() {
                    return Ok(f64::INFINITY);
                }
                sign += 2.0;
            }
            which += 1;
        }
        Ok(worst)
    }

    /// Equal arms, but for those whose bit is set: these are off by one part, up or down, such that the
    /// bridge gives `r0`. Secant steps: the ratio is nearly straight in the part.
    const fn unbalanced_arms(&self, which: u8, r0: f64) -> Arms {
        let (mut before, mut now) = (0.0, 0.01);
        let mut f_before = self.ratio(without_strain(self.off_by(which, before))) - r0;
        let mut i = 0;
        while i < 12 {
            let f_now = self.ratio(without_strain(self.off_by(which, now))) - r0;
            if f_now == f_before {
                break;
            }
            let next = now - f_now * (now - before) / (f_now - f_before);
            (before, f_before) = (now, f_now);
            now = next;
            i += 1;
        }
        self.off_by(which, now)
    }

    const fn off_by(&self, which: u8, part: f64) -> Arms {
        let share = self.circuit.strain_of_arms(self.poisson);
        let mut arms = [(0.0, 0.0); 4];
        let mut k = 0;
        while k < 4 {
            let up = if k % 2 == 0 { part } else { -part };
            let element = if which & (1 << k) != 0 { 1.0 + up } else { 1.0 };
            arms[k] = (element + self.lead_in(k), share[k] * element);
            k += 1;
        }
        arms
    }

    /// The same resistors on other leads: the map before, the change of ratio at rest, and the map from there. Of
    /// connections that are not reversed.
    pub(crate) const fn on_other_leads(
        &self,
        other: &Self,
        at_balance: Ratio,
    ) -> Result<(BridgeMap, f64, BridgeMap), Error> {
        let arms = try_const!(self.arms(at_balance));
        let (cold, warm) = (self.arm_leads(), other.arm_leads());
        let mut moved = arms;
        moved[0].0 += (warm.0 - cold.0) / self.gauge;
        moved[1].0 += (warm.1 - cold.1) / self.gauge;
        let (before, after) = (self.fraction(&arms), other.fraction(&moved));
        let x = after.n.at(0.0) / after.d.at(0.0) - before.n.at(0.0) / before.d.at(0.0);
        Ok((before.map(false), x, after.map(false)))
    }

    /// The output ratio of the resistors as stated, without strain; what is not stated is taken as equal to
    /// the gauge. With all four stated it is what the unstrained bridge should give, before any offset of
    /// the converter.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::quarter_ideal(Ohms(350.7)).completion(Ohms(350.0));
    /// assert!((bridge.ratio_at_rest().0 - (350.7 / 700.7 - 0.5)).abs() < 1e-15);
    /// ```
    #[must_use]
    pub const fn ratio_at_rest(&self) -> Ratio {
        let completion = match self.completion {
            Some(completion) => completion,
            None => self.gauge,
        };
        let (a3, a4) = self.reference_arms();
        Ratio(self.turned(self.ratio([self.arm_one(), self.arm_two(completion), a3, a4])))
    }

    /// An output ratio as it is connected, or that of the network for one as it is connected.
    const fn turned(&self, ratio: f64) -> f64 {
        if self.reversed { -ratio } else { ratio }
    }

    /// Resistance of the leads inside an arm, counted from 0, in units of the gauge.
    const fn lead_in(&self, arm: usize) -> f64 {
        let (lead_1, lead_2) = self.arm_leads();
        match arm {
            0 => lead_1 / self.gauge,
            1 => lead_2 / self.gauge,
            _ => 0.0,
        }
    }

    /// Arm 1 with its leads, in units of the gauge.
    const fn arm_one(&self) -> f64 {
        1.0 + self.lead_in(0)
    }

    /// Arm 2 with its leads, in units of the gauge, for the ohms of what stands in it.
    const fn arm_two(&self, ohms: f64) -> f64 {
        (ohms + self.arm_leads().1) / self.gauge
    }

    /// Arms 3 and 4 as stated, else equal to the gauge, in units of it.
    const fn reference_arms(&self) -> (f64, f64) {
        match self.reference {
            Some((upper, lower)) => (upper / self.gauge, lower / self.gauge),
            None => (1.0, 1.0),
        }
    }

    /// The arms at balance, what is not stated solved from the ratio there.
    const fn arms(&self, at_balance: Ratio) -> Result<Arms, Error> {
        let r0 = self.turned(at_balance.0);
        let a1 = self.arm_one();
        let (mut a3, mut a4) = self.reference_arms();
        let a2 = match self.completion {
            Some(completion) => {
                let a2 = self.arm_two(completion);
                if self.reference.is_none() {
                    (a3, a4) = try_const!(self.solve_reference(a1, a2, r0));
                }
                a2
            }
            None => try_const!(self.solve_completion(a1, (a3, a4), r0)),
        };
        Ok(self.strained([a1, a2, a3, a4]))
    }

    /// Arms with what strain makes of them: it moves the gauge in an arm, not the lead beside it.
    const fn strained(&self, [a1, a2, a3, a4]: [f64; 4]) -> Arms {
        let [k1, k2, k3, k4] = self.circuit.strain_of_arms(self.poisson);
        [(a1, k1), (a2, k2 * (a2 - self.lead_in(1))), (a3, k3 * a3), (a4, k4 * a4)]
    }

    /// Arm 2, its lead included, from the ratio at balance. `N - r0 D` is linear in it.
    const fn solve_completion(&self, a1: f64, (a3, a4): (f64, f64), r0: f64) -> Result<f64, Error> {
        let zero = self.residue([a1, 0.0, a3, a4], r0);
        let one = self.residue([a1, 1.0, a3, a4], r0);
        let a2 = zero / (zero - one);
        // An element of a fiftieth of the gauge, or of fifty times it, is no bridge to measure with.
        let lead = self.lead_in(1);
        let (least, most) = (0.02 + lead, 50.0 + lead);
        if a2 > least && a2 < most {
            return Ok(a2);
        }
        let (high, low) = (self.ratio([a1, least, a3, a4]), self.ratio([a1, most, a3, a4]));
        Err(self.unbalanced(r0, low, high))
    }

    /// Arms 3 and 4 from the ratio at balance: their source resistance stays what two gauges have,
    /// their division moves. Solved along `a3 = s / h, a4 = s / (1 - h)`.
    const fn solve_reference(&self, a1: f64, a2: f64, r0: f64) -> Result<(f64, f64), Error> {
        // Two steps of Newton would do; a fixed number of bisections needs no thought about where it
        // converges, and this is the slow path.
        let (mut low, mut high) = (0.02, 0.98);
        let ends = (
            self.ratio([a1, a2, 0.5 / high, 0.5 / (1.0 - high)]),
            self.ratio([a1, a2, 0.5 / low, 0.5 / (1.0 - low)]),
        );
        if !(r0 >= ends.0 && r0 <= ends.1) {
            return Err(self.unbalanced(r0, ends.0, ends.1));
        }
        let mut i = 0;
        while i < 80 {
            let h = (low + high) / 2.0;
            if self.ratio([a1, a2, 0.5 / h, 0.5 / (1.0 - h)]) > r0 {
                low = h;
            } else {
                high = h;
            }
            i += 1;
        }
        let h = (low + high) / 2.0;
        Ok((0.5 / h, 0.5 / (1.0 - h)))
    }

    /// No sensible resistance gives this ratio at balance; between the limits there is one.
    const fn unbalanced(&self, r0: f64, low: f64, high: f64) -> Error {
        let (value, low, high) = if self.reversed { (-r0, -high, -low) } else { (r0, low, high) };
        Error::Invalid { field: Field::BalanceRatio, value, low, high }
    }

    const fn ratio(&self, arms: [f64; 4]) -> f64 {
        let (n, d) = self.numbers(arms);
        n / d
    }

    const fn residue(&self, arms: [f64; 4], r0: f64) -> f64 {
        let (n, d) = self.numbers(arms);
        n - r0 * d
    }

    /// `N` and `D` of arms that do not move: the constants of [`fraction`](Self::fraction), to the bit, for far fewer steps.
    const fn numbers(&self, [a1, a2, a3, a4]: [f64; 4]) -> (f64, f64) {
        let Loading { conductance, source, loaded } = self.loading();
        let (s12, s34) = (a1 + a2, a3 + a4);
        let open = (s12 * s34 + (s12 + s34) * source) * loaded;
        let drawn = a1 * a2 * s34 + a3 * a4 * s12 + (a1 + a4) * (a2 + a3) * source;
        (a1 * a3 - a2 * a4, open + drawn * conductance)
    }

    const fn loading(&self) -> Loading {
        let conductance = match self.input {
            Some(input) => self.gauge / input,
            None => 0.0,
        };
        Loading {
            conductance,
            source: self.excitation_resistance() / self.gauge,
            loaded: 1.0 + conductance * self.output_resistance() / self.gauge,
        }
    }

    /// The ratio as a fraction of polynomials in `y`.
    const fn fraction(&self, arms: &Arms) -> Fraction {
        let Loading { conductance, source, loaded } = self.loading();
        let [a1, a2, a3, a4] = [line(arms[0]), line(arms[1]), line(arms[2]), line(arms[3])];
        let (s12, s34) = (a1.plus(&a2), a3.plus(&a4));
        let open = s12.multiplied(&s34).plus(&s12.plus(&s34).times(source)).times(loaded);
        let drawn = a1
            .multiplied(&a2)
            .multiplied(&s34)
            .plus(&a3.multiplied(&a4).multiplied(&s12))
            .plus(&a1.plus(&a4).multiplied(&a2.plus(&a3)).times(source));
        Fraction {
            n: a1.multiplied(&a3).plus(&a2.multiplied(&a4).times(-1.0)),
            d: open.plus(&drawn.times(conductance)),
        }
    }
}

const fn line(arm: (f64, f64)) -> Polynomial {
    Polynomial::new([arm.0, arm.1])
}

struct Fraction {
    n: Polynomial,
    d: Polynomial,
}

impl Fraction {
    /// The change of ratio since balance as `P / Q`, `P` without a constant.
    const fn change(&self) -> (Polynomial, Polynomial) {
        let (n0, d0) = (self.n.at(0.0), self.d.at(0.0));
        let p = self.n.times(d0).plus(&self.d.times(-n0)).without_constant();
        (p, self.d.times(d0))
    }

    /// `y / x` expanded at balance: `gain + curvature y`.
    const fn map(&self, reversed: bool) -> BridgeMap {
        let (p, q) = self.change();
        let ([_, p1, p2, ..], [q0, q1, ..]) = (p.coefficients(), q.coefficients());
        let gain = q0 / p1;
        let curvature = (q1 - gain * p2) / p1;
        let map = BridgeMap { gain, curvature };
        if reversed { map.reversed() } else { map }
    }

    /// `gain x / (1 - curvature x) - y` with `x = P / Q`, enclosed for `|y|` up to `largest`.
    const fn left_out(&self, largest: f64) -> f64 {
        let (p, q) = self.change();
        let BridgeMap { gain, curvature } = self.map(false);
        let y = Polynomial::new([0.0, 1.0]);
        let difference =
            p.times(gain).plus(&y.multiplied(&q).times(-1.0)).plus(&y.multiplied(&p).times(curvature));
        let divisor = q.plus(&p.times(-curvature));
        let over = Interval::around_zero(largest);
        difference.enclose(over).times(divisor.enclose(over).reciprocal()).magnitude()
    }
}

#[cfg(test)]
mod tests;
