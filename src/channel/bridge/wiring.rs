//! Arms, wires and leads by name.

use super::Bridge;
use crate::units::Ohms;

/// An arm of the bridge, as numbered in [`Circuit`](crate::Circuit).
///
/// ```
/// use gaugewright::channel::Arm;
/// assert_ne!(Arm::One, Arm::Two);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum Arm {
    /// OUT+ to VEX-.
    One,
    /// VEX+ to OUT+.
    Two,
    /// VEX+ to OUT-.
    Three,
    /// OUT- to VEX-.
    Four,
}

impl Arm {
    /// All four.
    ///
    /// ```
    /// assert_eq!(gaugewright::channel::Arm::ALL.len(), 4);
    /// ```
    pub const ALL: [Self; 4] = [Self::One, Self::Two, Self::Three, Self::Four];
}

/// A conductor that can break.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) enum Wire {
    /// Between the excitation and arm 1.
    ArmOne,
    /// Between the excitation and arm 2.
    ArmTwo,
    /// One of the two to the excitation of a full bridge.
    Excitation,
    /// To OUT+.
    Output,
}

/// How the leads of the gauges run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) enum Wiring {
    /// Both conductors of the one gauge in its arm.
    TwoWire,
    /// One conductor in arm 1, one in arm 2, one to the output.
    ThreeWire,
    /// The whole bridge is at the part: two conductors to the excitation, two to the output.
    Full,
}

impl Bridge {
    /// Resistance of every lead conductor that the circuit has, 0 to the resistance of the gauge. To state those to the
    /// excitation or to the output apart, use [`excitation_leads`](Self::excitation_leads) and
    /// [`output_leads`](Self::output_leads). Of several calls the last one that states a conductor counts.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::full_bending(Ohms(1000.0)).leads(Ohms(2.5));
    /// let the_same = Bridge::full_bending(Ohms(1000.0)).excitation_leads(Ohms(2.5)).output_leads(Ohms(2.5));
    /// assert_eq!(bridge.lead_desensitisation(), the_same.lead_desensitisation());
    /// ```
    #[must_use]
    pub const fn leads(mut self, lead: Ohms) -> Self {
        self.lead = lead.0;
        self.output_lead = None;
        self
    }

    /// Resistance of one of the two conductors to the excitation of a full bridge, 0 to the resistance of the gauge. Those
    /// to the output stay as they were stated, or without resistance. The other circuits are completed at the instrument
    /// and have no such leads: for them [`Channel::check`](crate::Channel::check) refuses the lead resistance.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// // Long leads to the excitation, and an amplifier at the bridge.
    /// let bridge = Bridge::full_bending(Ohms(350.0)).excitation_leads(Ohms(3.5)).input_resistance(Ohms(1e6));
    /// assert_eq!(bridge.lead_desensitisation(), 0.02);
    /// ```
    #[must_use]
    pub const fn excitation_leads(mut self, lead: Ohms) -> Self {
        self.output_lead = Some(self.output_conductor());
        self.lead = if matches!(self.wiring, Wiring::Full) { lead.0 } else { f64::NAN };
        self
    }

    /// Resistance of one conductor to the output, 0 to the resistance of the gauge. It matters only beside an
    /// [`input_resistance`](Self::input_resistance): without one these leads carry no current.
    ///
    /// ```
    /// use gaugewright::{Bridge, units::Ohms};
    /// let bridge = Bridge::full_bending(Ohms(350.0))
    ///     .leads(Ohms(0.2))
    ///     .output_leads(Ohms(4.0))
    ///     .input_resistance(Ohms(1e6));
    /// ```
    #[must_use]
    pub const fn output_leads(mut self, lead: Ohms) -> Self {
        self.output_lead = Some(lead.0);
        self
    }

    /// Resistance of one conductor to the output.
    pub(super) const fn output_conductor(&self) -> f64 {
        match self.output_lead {
            Some(lead) => lead,
            None => self.lead,
        }
    }

    /// The same resistors with no leads between them and the instrument.
    pub(crate) const fn without_leads(self) -> Self {
        Self { lead: 0.0, output_lead: None, ..self }
    }

    /// There are leads, of some resistance.
    pub(crate) const fn has_leads(&self) -> bool {
        self.lead != 0.0 || matches!(self.output_lead, Some(lead) if lead != 0.0)
    }
}
