//! The network at rest with something else in it: another element in an arm, a broken conductor.
//!
//! `N` and `D` of the whole network are straight lines in each arm. So one pair of lines gives the output ratio for any
//! element in that arm: an open arm leaves the quotient of the slopes.

use super::{Bridge, without_strain};
use crate::channel::{Arm, Wire};
use crate::error::{Error, try_const};
use crate::units::Ratio;

/// A bridge with all of its resistors, without strain.
#[derive(Clone, Copy)]
pub(crate) struct AtRest {
    bridge: Bridge,
    /// In units of the gauge, leads included.
    arms: [f64; 4],
    /// What no resistor explains of the ratio at balance: an offset of the converter.
    offset: f64,
}

impl Bridge {
    /// What is not stated is solved from the ratio at balance.
    pub(crate) const fn at_rest(&self, at_balance: Ratio) -> Result<AtRest, Error> {
        let arms = without_strain(try_const!(self.arms(at_balance)));
        let mut at_rest = AtRest { bridge: *self, arms, offset: 0.0 };
        if self.completion.is_some() && self.reference.is_some() {
            at_rest.offset = at_balance.0 - at_rest.as_wired(self.ratio(arms));
        }
        Ok(at_rest)
    }
}

/// `N` and `D` against one arm, as constant and slope.
struct Lines {
    n: (f64, f64),
    d: (f64, f64),
}

impl AtRest {
    /// The output ratio of an arm that is open.
    pub const fn open(&self, arm: Arm) -> f64 {
        let Lines { n, d } = self.against(arm);
        self.as_wired(n.1 / d.1)
    }

    /// The output ratio with an element of these ohms in an arm.
    pub const fn with_element(&self, arm: Arm, ohms: f64) -> f64 {
        let Lines { n, d } = self.against(arm);
        let whole = ohms / self.bridge.gauge + self.lead(arm);
        self.as_wired((n.0 + n.1 * whole) / (d.0 + d.1 * whole))
    }

    /// The part of itself that the element in an arm, it alone, would have to be to give this ratio, from a thousandth to a
    /// thousand times itself.
    pub const fn part_of_element(&self, arm: Arm, ratio: Ratio) -> Option<f64> {
        let Lines { n, d } = self.against(arm);
        let own = self.bridge.turned(ratio.0 - self.offset);
        let whole = (own * d.0 - n.0) / (n.1 - own * d.1);
        let lead = self.lead(arm);
        let part = (whole - lead) / (self.arms[arm as usize] - lead);
        if part >= 1e-3 && part <= 1e3 { Some(part) } else { None }
    }

    /// The output ratio with a conductor broken; none where an output terminal hangs free or nothing is excited that is sensed.
    pub const fn broken(&self, wire: Wire) -> Option<f64> {
        match wire {
            Wire::ArmOne => Some(self.open(Arm::One)),
            Wire::ArmTwo => Some(self.open(Arm::Two)),
            Wire::Excitation if self.bridge.remote_sense => None,
            Wire::Excitation => Some(self.offset),
            // The input has no voltage source left.
            Wire::Output => match self.bridge.input {
                None => None,
                Some(_) => Some(self.offset),
            },
        }
    }

    /// The output ratio with OUT+ and OUT- exchanged: the offset of the converter stays as it is.
    pub const fn exchanged(&self) -> f64 {
        2.0 * self.offset - self.as_wired(self.bridge.ratio(self.arms))
    }

    /// What stands in an arm, leads apart, in ohms.
    pub const fn element(&self, arm: Arm) -> f64 {
        (self.arms[arm as usize] - self.lead(arm)) * self.bridge.gauge
    }

    /// A ratio of the network as the converter sees it: polarity and offset.
    pub const fn as_wired(&self, ratio: f64) -> f64 {
        self.offset + self.bridge.turned(ratio)
    }

    const fn lead(&self, arm: Arm) -> f64 {
        self.bridge.lead_in(arm as usize)
    }

    const fn against(&self, arm: Arm) -> Lines {
        let [a1, a2, a3, a4] = self.arms;
        let mut arms = [(a1, 0.0), (a2, 0.0), (a3, 0.0), (a4, 0.0)];
        arms[arm as usize] = (0.0, 1.0);
        let fraction = self.bridge.fraction(&arms);
        let ([n0, n1, ..], [d0, d1, ..]) = (fraction.n.coefficients(), fraction.d.coefficients());
        Lines { n: (n0, n1), d: (d0, d1) }
    }
}
