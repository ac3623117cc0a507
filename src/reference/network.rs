//! The bridge as resistors and nodes, in double precision: Kirchhoff's current law forwards, iteration
//! backwards. It knows nothing of the kernels' map.

use crate::bridge::Bridge;

/// A bridge with all of its resistors known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Network {
    bridge: Bridge,
    /// What stands in the four arms at balance, leads apart.
    elements: [f64; 4],
    /// Part of the ratio at balance that no resistor explains.
    offset: f64,
}

impl Network {
    /// Finds what the bridge does not say about its resistors from the ratio at balance. The channel has
    /// been checked, so there is a solution.
    pub fn at_balance(bridge: &Bridge, ratio: f64) -> Self {
        let gauge = bridge.gauge;
        let (upper, lower) = bridge.reference.unwrap_or((gauge, gauge));
        let mut network = Self { bridge: *bridge, elements: [gauge, gauge, upper, lower], offset: 0.0 };
        match (bridge.completion, bridge.reference) {
            (None, _) => {
                network.elements[1] =
                    root(gauge, gauge * 1.001, |completion| network.with(1, completion).ratio(0.0) - ratio);
            }
            (Some(completion), None) => {
                network.elements[1] = completion;
                // The source resistance of the half stays that of two gauges; its division moves.
                let divided = |h: f64| {
                    let half = network.with(2, gauge / 2.0 / h);
                    half.with(3, gauge / 2.0 / (1.0 - h))
                };
                let h = root(0.5, 0.501, |h| divided(h).ratio(0.0) - ratio);
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
        let share = bridge.circuit.strain_of_arms(bridge.poisson);
        let (lead_1, lead_2) = bridge.arm_leads();
        let leads = [lead_1, lead_2, 0.0, 0.0];
        let mut conductance = [0.0; 4];
        for arm in 0..4 {
            conductance[arm] = 1.0 / (self.elements[arm] * (1.0 + share[arm] * signal) + leads[arm]);
        }
        let [g1, g2, g3, g4] = conductance;
        let input = bridge.input.map_or(0.0, |input| 1.0 / (input + bridge.output_resistance()));
        // One volt at the corners. Currents that leave OUT+ and OUT- sum to zero:
        //   (g1 + g2 + input) plus - input minus = g2
        //   -input plus + (g3 + g4 + input) minus = g3
        let (own_plus, own_minus) = (g1 + g2 + input, g3 + g4 + input);
        let determinant = own_plus * own_minus - input * input;
        let plus = (g2 * own_minus + g3 * input) / determinant;
        let minus = (g3 * own_plus + g2 * input) / determinant;
        let across = bridge
            .input
            .map_or(plus - minus, |input| (plus - minus) * input / (input + bridge.output_resistance()));
        // What the excitation leads leave for the corners.
        let drawn = (1.0 - plus) * g2 + (1.0 - minus) * g3;
        let corners = 1.0 / (1.0 + drawn * bridge.excitation_leads());
        let ratio = if bridge.reversed { -across * corners } else { across * corners };
        ratio + self.offset
    }

    /// The change of the gauge in arm 1 that gives this ratio.
    pub fn signal_for(&self, ratio: f64) -> f64 {
        root(0.0, 1e-3, |signal| self.ratio(signal) - ratio)
    }
}

/// The zero of a function that is nearly straight, by the secant method.
fn root(first: f64, second: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut before, mut now) = (first, second);
    let (mut f_before, mut f_now) = (f(before), f(now));
    for _ in 0..60 {
        if f_now == 0.0 || f_now == f_before {
            break;
        }
        let next = now - f_now * (now - before) / (f_now - f_before);
        let step = (next - now).abs();
        (before, f_before) = (now, f_now);
        (now, f_now) = (next, f(next));
        if step <= 1e-16 * now.abs() {
            break;
        }
    }
    now
}
