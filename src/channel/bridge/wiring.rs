//! Arms, wires and leads by name.

use super::Bridge;

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
    /// The same resistors with no leads between them and the instrument.
    pub(crate) const fn without_leads(self) -> Self {
        Self { lead: 0.0, output_lead: None, ..self }
    }

    /// There are leads, of some resistance.
    pub(crate) const fn has_leads(&self) -> bool {
        self.lead != 0.0 || matches!(self.output_lead, Some(lead) if lead != 0.0)
    }
}
