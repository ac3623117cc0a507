//! The bridge as resistors and nodes, in double precision: Kirchhoff's current law forwards, iteration
//! backwards. It does not use the kernels' map.

use super::nodal::Nodal;
use crate::channel::{Arm, Bridge};

/// A bridge with all of its resistors known.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Network {
    bridge: Bridge,
    /// What stands in the four arms at balance, leads apart.
    elements: [f64; 4],
    /// Part of the ratio at balance that no resistor explains.
    offset: f64,
}

impl Network {
    /// Finds the resistors that the bridge does not state from the ratio at balance. The channel has
    /// been checked, so there is a solution.
    pub fn at_balance(bridge: &Bridge, ratio: f64) -> Self {
        let gauge = bridge.gauge;
        let (upper, lower) = bridge.reference.unwrap_or((gauge, gauge));
        let mut network = Self { bridge: *bridge, elements: [gauge, gauge, upper, lower], offset: 0.0 };
        match (bridge.completion, bridge.reference) {
            (None, _) => {
                network.elements[1] = root((gauge * 1e-6, gauge * 1e6), gauge, |completion| {
                    network.with(1, completion).ratio(0.0) - ratio
                });
            }
            (Some(completion), None) => {
                network.elements[1] = completion;
                // The source resistance of the half stays that of two gauges; its division moves.
                let divided = |h: f64| {
                    let half = network.with(2, gauge / 2.0 / h);
                    half.with(3, gauge / 2.0 / (1.0 - h))
                };
                let h = root((1e-9, 1.0 - 1e-9), 0.5, |h| divided(h).ratio(0.0) - ratio);
                network = divided(h);
            }
            (Some(completion), Some(_)) => {
                network.elements[1] = completion;
                network.offset = ratio - network.ratio(0.0);
            }
        }
        network
    }

    fn with(mut self, arm: usize, element: f64) -> Self {
        self.elements[arm] = element;
        self
    }

    /// The output ratio when the gauge in arm 1 changes by this part of itself.
    pub fn ratio(&self, signal: f64) -> f64 {
        let bridge = &self.bridge;
        let [r1, r2, r3, r4] = self.elements(signal);
        let (lead_1, lead_2) = bridge.arm_leads();
        let (g1, g2, g3, g4) = (1.0 / (r1 + lead_1), 1.0 / (r2 + lead_2), 1.0 / r3, 1.0 / r4);
        let input = bridge.input.map_or(0.0, |input| 1.0 / (input + bridge.output_resistance()));
        // One volt at the corners. Currents that leave OUT+ and OUT- sum to zero:
        //   (g1 + g2 + input) plus - input minus = g2
        //   -input plus + (g3 + g4 + input) minus = g3
        // Solved with `input^2` cancelled by hand.
        let (own_plus, own_minus) = (g1 + g2, g3 + g4);
        let determinant = own_plus * own_minus + input * (own_plus + own_minus);
        let plus = (g2 * (own_minus + input) + g3 * input) / determinant;
        let minus = (g3 * (own_plus + input) + g2 * input) / determinant;
        let difference = (g2 * g4 - g1 * g3) / determinant;
        let across = bridge
            .input
            .map_or(difference, |input| difference * input / (input + bridge.output_resistance()));
        // What the excitation leads leave for the corners. The current is the one into the lower corner: a sum of
        // positive terms, where the one out of the upper corner has the differences `1 - plus` and `1 - minus`.
        let drawn = plus * g1 + minus * g4;
        let corners = 1.0 / (1.0 + drawn * bridge.excitation_resistance());
        self.as_wired(across * corners)
    }

    /// What stands in the arms when the gauge in arm 1 changes by this part of itself, leads apart.
    pub fn elements(&self, signal: f64) -> [f64; 4] {
        let share = self.bridge.circuit.strain_of_arms(self.bridge.poisson);
        let mut elements = self.elements;
        for (element, share) in elements.iter_mut().zip(share) {
            *element *= 1.0 + share * signal;
        }
        elements
    }

    /// The output ratio with a shunt across an arm: ohms, and whether it is behind the leads.
    pub fn shunted(&self, shunt: Option<(Arm, f64, bool)>, signal: f64) -> Option<f64> {
        let mut elements = self.elements(signal);
        if let Some((arm, ohms, true)) = shunt {
            let element = &mut elements[arm as usize];
            *element = 1.0 / (1.0 / *element + 1.0 / ohms);
        }
        let mut nodal = Nodal::of(&self.bridge, elements);
        if let Some((arm, ohms, false)) = shunt {
            let (from, to) = arm.terminals();
            nodal.connect(from, to, ohms);
        }
        nodal.ratio().map(|ratio| self.as_wired(ratio))
    }

    /// A ratio of the network as the converter sees it: polarity and offset.
    fn as_wired(&self, ratio: f64) -> f64 {
        self.offset + if self.bridge.reversed { -ratio } else { ratio }
    }

    /// The change of the gauge in arm 1 that gives this ratio, between where a gauge of the circuit would be all
    /// but gone and ten times itself; NaN if none does.
    pub fn signal_for(&self, ratio: f64) -> f64 {
        let share = self.bridge.circuit.strain_of_arms(self.bridge.poisson);
        let falling = share.iter().fold(0.0, |most: f64, share| most.max(-share));
        let high = if falling > 0.099 { 0.99 / falling } else { 10.0 };
        root((-0.99, high), 0.0, |signal| self.ratio(signal) - ratio)
    }
}

/// Where an output ratio less another, which rises or falls all the way between two ends, is zero. NaN if it is not zero
/// between them.
///
/// A ratio is one straight line over another in what moves, or close to it: each step goes to the zero of
/// `(x - zero) / (a + b x)` through the last three points, or halves what is known to hold the zero.
fn root((mut low, mut high): (f64, f64), guess: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (f_low, f_high) = (f(low), f(high));
    if f_low == 0.0 {
        return low;
    }
    let between = (f_low < 0.0 && f_high >= 0.0) || (f_low > 0.0 && f_high <= 0.0);
    if !between {
        return f64::NAN;
    }
    // Ratios are below one. A value below this that the next step does not make smaller is the rounding of a ratio.
    const ROUNDING: f64 = 8.0 * f64::EPSILON;
    let (mut older, mut old, mut now) = ((low, f_low), (high, f_high), (guess, f(guess)));
    for _ in 0..200 {
        if now.1 == 0.0 {
            break;
        }
        if (now.1 > 0.0) == (f_low > 0.0) {
            low = now.0;
        } else {
            high = now.0;
        }
        let (from_older, from_old) = (older.0 - now.0, old.0 - now.0);
        let straight = (now.1 - older.1) * old.1 * from_old - (now.1 - old.1) * older.1 * from_older;
        let zero = now.0 + from_older * from_old * now.1 * (old.1 - older.1) / straight;
        let rounded = now.1.abs() <= ROUNDING;
        if rounded && (zero - now.0).abs() <= 1e-16 * now.0.abs() {
            break;
        }
        let next = if zero > low && zero < high { zero } else { low + (high - low) / 2.0 };
        if next == low || next == high {
            return next;
        }
        let f_next = f(next);
        if rounded && f_next.abs() >= now.1.abs() {
            break;
        }
        (older, old, now) = (old, now, (next, f_next));
    }
    now.0
}
