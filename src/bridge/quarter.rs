//! One active gauge, three fixed resistors: the quarter bridge with its leads, unbalance and load.

use super::Curve;
use crate::error::{Error, Field, check, within};
use crate::units::{Ohms, Ratio};

/// How the leads of the gauge run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Wiring {
    /// Both conductors in the gauge's arm.
    TwoWire,
    /// One conductor in the gauge's arm, one in the completion arm, one to the output.
    ThreeWire,
}

/// A bridge circuit: its arms, leads and load.
///
/// Before anything is measured a real bridge is out of balance. The output ratio at balance is known (the
/// balance code of the [`Channel`](crate::Channel)), the resistors behind it are usually not. What the
/// caller does not state is solved from it, in this order: the completion resistor; if that is stated,
/// the division of the reference half bridge; if both are, the rest is an offset of the converter. So a
/// channel that says nothing puts the unbalance down to the measuring half bridge, and a channel that
/// knows its resistors is exact with them.
///
/// ```
/// use gaugewright::Bridge;
/// use gaugewright::units::Ohms;
///
/// // A 350 ohm gauge on three leads of 1.2 ohm each; nothing else is known of the bridge.
/// let plain = Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2));
/// // The same with the resistors measured and an instrument that loads the bridge.
/// let measured = plain
///     .completion(Ohms(350.07))
///     .reference_half(Ohms(999.8), Ohms(1000.1))
///     .input_resistance(Ohms(10e6));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bridge {
    pub(crate) wiring: Wiring,
    pub(crate) gauge: f64,
    pub(crate) lead: f64,
    pub(crate) completion: Option<f64>,
    pub(crate) reference: Option<(f64, f64)>,
    pub(crate) input: Option<f64>,
}

impl Bridge {
    /// Quarter bridge whose leads have no resistance.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::quarter_ideal(Ohms(120.0));
    /// ```
    #[must_use]
    pub const fn quarter_ideal(gauge: Ohms) -> Self {
        Self::quarter(Wiring::ThreeWire, gauge, Ohms(0.0))
    }

    /// Quarter bridge on two leads of `lead` each, both in the arm of the gauge: the reading is
    /// desensitised by `2 R_L / R`, and the leads' own temperature shows as strain.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::quarter_two_wire(Ohms(350.0), Ohms(0.35));
    /// ```
    #[must_use]
    pub const fn quarter_two_wire(gauge: Ohms, lead: Ohms) -> Self {
        Self::quarter(Wiring::TwoWire, gauge, lead)
    }

    /// Quarter bridge on three equal leads of `lead` each: one in the gauge's arm, one in the
    /// completion's, one to the output. Desensitised by `R_L / R`; the leads' temperature cancels.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2));
    /// ```
    #[must_use]
    pub const fn quarter_three_wire(gauge: Ohms, lead: Ohms) -> Self {
        Self::quarter(Wiring::ThreeWire, gauge, lead)
    }

    const fn quarter(wiring: Wiring, gauge: Ohms, lead: Ohms) -> Self {
        Self { wiring, gauge: gauge.0, lead: lead.0, completion: None, reference: None, input: None }
    }

    /// The completion resistor beside the gauge, where it is known better than "whatever balances".
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::quarter_ideal(Ohms(350.2)).completion(Ohms(350.0));
    /// ```
    #[must_use]
    pub const fn completion(mut self, completion: Ohms) -> Self {
        self.completion = Some(completion.0);
        self
    }

    /// The reference half bridge: `upper` from VEX+ to OUT-, `lower` from OUT- to VEX-. Two equal
    /// resistors of the gauge's resistance where nothing is said.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::quarter_ideal(Ohms(350.0)).reference_half(Ohms(5000.0), Ohms(5001.0));
    /// ```
    #[must_use]
    pub const fn reference_half(mut self, upper: Ohms, lower: Ohms) -> Self {
        self.reference = Some((upper.0, lower.0));
        self
    }

    /// Resistance of the instrument between OUT+ and OUT-; without it no current is drawn there.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::quarter_ideal(Ohms(350.0)).input_resistance(Ohms(1e6));
    /// ```
    #[must_use]
    pub const fn input_resistance(mut self, input: Ohms) -> Self {
        self.input = Some(input.0);
        self
    }

    /// How much the leads desensitise the gauge: indicated strain has to be multiplied by one plus
    /// this. `R_L / R` for three leads, `2 R_L / R` for two.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::quarter_two_wire(Ohms(350.0), Ohms(0.35));
    /// assert_eq!(bridge.lead_desensitisation(), 0.002);
    /// ```
    #[must_use]
    pub const fn lead_desensitisation(&self) -> f64 {
        self.gauge_arm_leads() / self.gauge
    }

    /// Resistance of the leads inside the gauge's arm.
    pub(crate) const fn gauge_arm_leads(&self) -> f64 {
        match self.wiring {
            Wiring::TwoWire => 2.0 * self.lead,
            Wiring::ThreeWire => self.lead,
        }
    }

    /// Resistance of the leads inside the completion's arm.
    pub(crate) const fn completion_arm_leads(&self) -> f64 {
        match self.wiring {
            Wiring::TwoWire => 0.0,
            Wiring::ThreeWire => self.lead,
        }
    }

    /// Resistance between the gauge and OUT+, through which only the input resistance draws current.
    pub(crate) const fn output_lead(&self) -> f64 {
        match self.wiring {
            Wiring::TwoWire => 0.0,
            Wiring::ThreeWire => self.lead,
        }
    }

    pub(crate) const fn check(&self) -> Result<(), Error> {
        check!(within(Field::GaugeResistance, self.gauge, 1.0, 1e6));
        check!(within(Field::LeadResistance, self.lead, 0.0, 1e4));
        if let Some(completion) = self.completion {
            check!(within(Field::CompletionResistance, completion, 1.0, 1e6));
        }
        if let Some((upper, lower)) = self.reference {
            check!(within(Field::ReferenceResistance, upper, 1.0, 1e7));
            check!(within(Field::ReferenceResistance, lower, 1.0, 1e7));
        }
        if let Some(input) = self.input {
            check!(within(Field::InputResistance, input, 1e3, 1e15));
        }
        Ok(())
    }

    /// The map from a change of ratio to gauge factor times strain, for this ratio at balance.
    ///
    /// With `A`, `B` the gauge's and the completion's arm, `h` the division of the reference half
    /// bridge and `k` the conductance of the input, Thevenin's theorem gives
    /// `r = (A (1 - h) - B h) / ((A + B)(1 + k Z) + k A B)`, `Z` being what else lies in the loop. That is a
    /// fraction of linear functions of `A`; expanding about balance gives the two constants.
    pub(crate) const fn curve(&self, at_balance: Ratio) -> Result<Curve, Error> {
        let a = self.gauge + self.gauge_arm_leads();
        let (upper, lower) = match self.reference {
            Some(arms) => arms,
            None => (self.gauge, self.gauge),
        };
        let conductance = match self.input {
            Some(input) => 1.0 / input,
            None => 0.0,
        };
        let load = 1.0 + conductance * (upper * lower / (upper + lower) + self.output_lead());
        let mut h = lower / (upper + lower);
        let r0 = at_balance.0;
        let b = match self.completion {
            None => {
                // Solved so that the network gives r0 at balance.
                let over = (1.0 - h) - r0 * load;
                let under = h + r0 * (load + conductance * a);
                if !(over > 0.0 && under > 0.0) {
                    return Err(unbalanced(r0, -h / (load + conductance * a), (1.0 - h) / load));
                }
                a * over / under
            }
            Some(completion) => {
                let b = completion + self.completion_arm_leads();
                if self.reference.is_none() {
                    let own = a / (a + b);
                    let sag = load + conductance * a * b / (a + b);
                    h = own - r0 * sag;
                    if !(h > 0.0 && h < 1.0) {
                        return Err(unbalanced(r0, (own - 1.0) / sag, own / sag));
                    }
                }
                b
            }
        };
        // r(A) = N / D with N = A (1 - h) - B h and D = (A + B) load + k A B, both linear in A.
        let n0 = a * (1.0 - h) - b * h;
        let d0 = (a + b) * load + conductance * a * b;
        let n1 = 1.0 - h;
        let d1 = load + conductance * b;
        // For A + dA: r - N/D = dA (n1 d0 - n0 d1) / (d0 (d0 + d1 dA)), solved for dA over the gauge.
        let slope = n1 * d0 - n0 * d1;
        Ok(Curve { gain: d0 * d0 / (slope * self.gauge), curvature: d0 * d1 / slope })
    }
}

/// No positive resistance gives this ratio at balance; between the limits there is one.
const fn unbalanced(r0: f64, low: f64, high: f64) -> Error {
    Error::Invalid { field: Field::BalanceRatio, value: r0, low, high }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The closed form of the balanced, unloaded quarter bridge: `F e = 4 r / (1 - 2 r)`
    /// (from the voltage divider; any text on the Wheatstone bridge).
    #[test]
    fn ideal_quarter_is_the_textbook_curve() {
        let curve = Bridge::quarter_ideal(Ohms(350.0)).curve(Ratio(0.0)).unwrap();
        assert!((curve.gain - 4.0).abs() < 1e-14);
        assert!((curve.curvature - 2.0).abs() < 1e-14);
    }

    #[test]
    fn leads_only_scale_the_balanced_bridge() {
        let three = Bridge::quarter_three_wire(Ohms(350.0), Ohms(3.5)).curve(Ratio(0.0)).unwrap();
        let two = Bridge::quarter_two_wire(Ohms(350.0), Ohms(3.5)).curve(Ratio(0.0)).unwrap();
        assert!((three.gain - 4.0 * 1.01).abs() < 1e-13);
        assert!((two.gain - 4.0 * 1.02).abs() < 1e-13);
        assert!((three.curvature - 2.0).abs() < 1e-14);
    }

    #[test]
    fn a_bridge_that_cannot_give_the_balance_ratio_says_so() {
        let bridge = Bridge::quarter_ideal(Ohms(350.0));
        assert!(matches!(bridge.curve(Ratio(0.6)), Err(Error::Invalid { field: Field::BalanceRatio, .. })));
        assert!(bridge.completion(Ohms(10.0)).curve(Ratio(0.99)).is_err());
    }
}
