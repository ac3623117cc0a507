//! Bridge circuits: from arms and leads to the constants of one rational map.
//!
//! ```text
//!            VEX+
//!          /      \
//!      arm 2      arm 3       r = (V(OUT+) - V(OUT-)) / Vex
//!        |           |
//!      OUT+         OUT-      arms 1 and 3 growing raise r, arms 2 and 4 growing lower it
//!        |           |
//!      arm 1      arm 4
//!          \      /
//!            VEX-
//! ```
#![doc = include_str!("design.md")]

mod circuit;
mod map;
mod network;
mod wiring;

pub use circuit::Circuit;
pub(crate) use map::BridgeMap;
pub(crate) use network::{AtRest, MapOfBalance};
pub use wiring::Arm;
pub(crate) use wiring::{Wire, Wiring};

use crate::error::{Error, Field, try_const, within};
use crate::units::Ohms;

/// Gauge factor times strain; beyond, an arm of some circuit would have no resistance left.
pub(crate) const LARGEST_SIGNAL: f64 = 0.95;

/// A bridge: which circuit, its resistors, its leads and what it is connected to.
///
/// Before anything is measured a real bridge is out of balance. The output ratio at balance is known (the
/// balance code of the [`Channel`](crate::Channel)), the resistors behind it are usually not. What the
/// caller does not state is solved from it, in this order: arm 2; if that is stated, the division of arms 3
/// and 4, whose resistance in parallel is taken as half of the gauge's (`R3 = R / 2h` and `R4 = R / 2(1 - h)`, with `h`
/// from 0.02 to 0.98); if those are stated as well, the rest is an offset of the converter. So a channel that states no
/// resistor puts the unbalance down to the half bridge that measures, and one that states all of them is exact with them.
///
/// ```
/// use gaugewright::{Bridge, units::Ohms};
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
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Bridge {
    pub(crate) circuit: Circuit,
    pub(crate) wiring: Wiring,
    pub(crate) gauge: f64,
    /// Of one conductor in an arm, or to the excitation of a full bridge.
    pub(crate) lead: f64,
    /// Of one conductor to the output, where it was stated apart.
    pub(crate) output_lead: Option<f64>,
    pub(crate) completion: Option<f64>,
    pub(crate) reference: Option<(f64, f64)>,
    pub(crate) input: Option<f64>,
    pub(crate) poisson: f64,
    pub(crate) remote_sense: bool,
    pub(crate) reversed: bool,
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
        Self::new(Circuit::Quarter, Wiring::ThreeWire, gauge, Ohms(0.0))
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
        Self::new(Circuit::Quarter, Wiring::TwoWire, gauge, lead)
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
        Self::new(Circuit::Quarter, Wiring::ThreeWire, gauge, lead)
    }

    /// Half bridge of a gauge that measures and an unstrained one beside it, on three equal leads. Where
    /// both have the same temperature, thermal output cancels; where the compensating gauge has a
    /// temperature of its own, see [`Channel::compensated_by`](crate::Channel::compensated_by).
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::half_compensated(Ohms(350.0), Ohms(1.2));
    /// ```
    #[must_use]
    pub const fn half_compensated(gauge: Ohms, lead: Ohms) -> Self {
        Self::new(Circuit::HalfCompensated, Wiring::ThreeWire, gauge, lead)
    }

    /// Half bridge of a gauge along the load and one across it, on three equal leads, on a material of
    /// this Poisson ratio.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::half_poisson(Ohms(350.0), Ohms(1.2), 0.3);
    /// ```
    #[must_use]
    pub const fn half_poisson(gauge: Ohms, lead: Ohms, poisson_ratio: f64) -> Self {
        Self::new(Circuit::HalfPoisson, Wiring::ThreeWire, gauge, lead).poisson(poisson_ratio)
    }

    /// Half bridge of two gauges on opposite faces of a bent part, on three equal leads.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::half_bending(Ohms(350.0), Ohms(1.2));
    /// ```
    #[must_use]
    pub const fn half_bending(gauge: Ohms, lead: Ohms) -> Self {
        Self::new(Circuit::HalfBending, Wiring::ThreeWire, gauge, lead)
    }

    /// Full bridge of four gauges on a bent part, two on each face. Its leads have no resistance until
    /// [`leads`](Self::leads), [`excitation_leads`](Self::excitation_leads) or [`output_leads`](Self::output_leads) state
    /// it; so with the other full bridges.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::full_bending(Ohms(350.0)).leads(Ohms(4.0)).remote_sense();
    /// ```
    #[must_use]
    pub const fn full_bending(gauge: Ohms) -> Self {
        Self::new(Circuit::FullBending, Wiring::Full, gauge, Ohms(0.0))
    }

    /// Full bridge of two gauges along the load and two across it, a pair in each half, on a material
    /// of this Poisson ratio.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::full_poisson(Ohms(350.0), 0.3);
    /// ```
    #[must_use]
    pub const fn full_poisson(gauge: Ohms, poisson_ratio: f64) -> Self {
        Self::new(Circuit::FullPoisson, Wiring::Full, gauge, Ohms(0.0)).poisson(poisson_ratio)
    }

    /// Full bridge of four gauges at 45 degrees on a twisted shaft; the strain is that of the gauges in
    /// arms 1 and 3. Bending and axial load cancel.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::full_torsion(Ohms(350.0));
    /// ```
    #[must_use]
    pub const fn full_torsion(gauge: Ohms) -> Self {
        Self::new(Circuit::FullTorsion, Wiring::Full, gauge, Ohms(0.0))
    }

    /// Two gauges that measure the same strain in arms 1 and 3, fixed resistors in arms 2 and 4.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::opposite_arms(Ohms(350.0));
    /// ```
    #[must_use]
    pub const fn opposite_arms(gauge: Ohms) -> Self {
        Self::new(Circuit::OppositeArms, Wiring::Full, gauge, Ohms(0.0))
    }

    const fn new(circuit: Circuit, wiring: Wiring, gauge: Ohms, lead: Ohms) -> Self {
        Self {
            circuit,
            wiring,
            gauge: gauge.0,
            lead: lead.0,
            output_lead: None,
            completion: None,
            reference: None,
            input: None,
            poisson: 0.0,
            remote_sense: false,
            reversed: false,
        }
    }

    const fn poisson(mut self, ratio: f64) -> Self {
        self.poisson = ratio;
        self
    }

    /// The resistance of the gauge in arm 1, as measured rather than nominal.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::full_bending(Ohms(350.0)).gauge(Ohms(350.12));
    /// ```
    #[must_use]
    pub const fn gauge(mut self, gauge: Ohms) -> Self {
        self.gauge = gauge.0;
        self
    }

    /// What stands in arm 2 (a completion resistor, or the second gauge), where it is known better than
    /// "whatever balances". Arms 3 and 4 are then solved from the ratio at balance, unless they are stated too.
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

    /// What stands in arms 3 (`upper`, from VEX+ to OUT-) and 4 (`lower`, from OUT- to VEX-): fixed
    /// resistors, or gauges of a full bridge. Equal to the first gauge by default.
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

    /// The converter's reference is sensed at the corners of a full bridge, behind its excitation leads,
    /// so these do not desensitise it. No effect on bridges that are completed at the instrument.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::full_bending(Ohms(350.0)).leads(Ohms(4.0)).remote_sense();
    /// assert_eq!(bridge.lead_desensitisation(), 0.0);
    /// ```
    #[must_use]
    pub const fn remote_sense(mut self) -> Self {
        self.remote_sense = true;
        self
    }

    /// Tension lowers the output: OUT+ and OUT- (or the excitation) are connected the other way round.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::half_bending(Ohms(350.0), Ohms(1.0)).reversed();
    /// ```
    #[must_use]
    pub const fn reversed(mut self) -> Self {
        self.reversed = true;
        self
    }

    /// The circuit.
    ///
    /// ```
    /// use gaugewright::{Bridge, Circuit, units::Ohms};
    /// assert_eq!(Bridge::full_torsion(Ohms(350.0)).circuit(), Circuit::FullTorsion);
    /// ```
    #[must_use]
    pub const fn circuit(&self) -> Circuit {
        self.circuit
    }

    /// How much the leads desensitise the bridge: indicated strain has to be multiplied by one plus
    /// this. `R_L / R` for three leads, `2 R_L / R` for two and for the excitation leads of a full
    /// bridge of equal gauges.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::quarter_two_wire(Ohms(350.0), Ohms(0.35));
    /// assert_eq!(bridge.lead_desensitisation(), 0.002);
    /// ```
    #[must_use]
    pub const fn lead_desensitisation(&self) -> f64 {
        match self.wiring {
            Wiring::ThreeWire => self.lead / self.gauge,
            Wiring::TwoWire => 2.0 * self.lead / self.gauge,
            Wiring::Full => self.excitation_resistance() / self.gauge,
        }
    }

    /// Resistance of the leads inside arm 1 and inside arm 2.
    pub(crate) const fn arm_leads(&self) -> (f64, f64) {
        match self.wiring {
            Wiring::TwoWire => (2.0 * self.lead, 0.0),
            Wiring::ThreeWire => (self.lead, self.lead),
            Wiring::Full => (0.0, 0.0),
        }
    }

    /// Resistance in series with the output, through which only the input resistance draws current.
    pub(crate) const fn output_resistance(&self) -> f64 {
        match self.wiring {
            Wiring::TwoWire => 0.0,
            Wiring::ThreeWire => self.output_conductor(),
            Wiring::Full => 2.0 * self.output_conductor(),
        }
    }

    /// Resistance in series with the excitation, as far as it lowers the ratio.
    pub(crate) const fn excitation_resistance(&self) -> f64 {
        match self.wiring {
            Wiring::Full if !self.remote_sense => 2.0 * self.lead,
            _ => 0.0,
        }
    }

    /// The wires that can break.
    pub(crate) const fn wires(&self) -> &'static [Wire] {
        match self.wiring {
            Wiring::TwoWire => &[Wire::ArmOne],
            Wiring::ThreeWire => &[Wire::ArmOne, Wire::ArmTwo, Wire::Output],
            Wiring::Full => &[Wire::Excitation, Wire::Output],
        }
    }

    /// All but the Poisson ratio, which a channel's ratio of strains changes.
    pub(crate) const fn check(&self) -> Result<(), Error> {
        try_const!(Field::GaugeResistance.check(self.gauge));
        try_const!(within(Field::LeadResistance, self.lead, 0.0, self.gauge));
        if let Some(lead) = self.output_lead {
            try_const!(within(Field::LeadResistance, lead, 0.0, self.gauge));
        }
        if let Some(completion) = self.completion {
            try_const!(Field::CompletionResistance.check(completion));
        }
        if let Some((upper, lower)) = self.reference {
            try_const!(Field::ReferenceResistance.check(upper));
            try_const!(Field::ReferenceResistance.check(lower));
        }
        if let Some(input) = self.input {
            try_const!(Field::InputResistance.check(input));
        }
        Ok(())
    }
}
