//! What can be left out of a correction, and sets of it.

/// A step from codes to mechanical strain that may be left out.
///
/// ```
/// use gaugewright::commissioning::significance::CorrectionStep;
/// assert_eq!(CorrectionStep::GaugeFactor.to_string(), "change of gauge factor");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum CorrectionStep {
    /// Thermal output is not subtracted, the part of a specimen's own expansion included.
    ThermalOutput,
    /// The specimen is taken to expand as the gauge is matched: thermal output is that of the package.
    Mismatch,
    /// Strain stays at the gauge factor of the instrument.
    GaugeFactor,
    /// The bridge is taken for a straight line with its slope at balance.
    NonLinearity,
    /// The bridge is computed as if it had no leads.
    Leads,
}

impl CorrectionStep {
    /// Every effect.
    ///
    /// ```
    /// assert_eq!(gaugewright::commissioning::significance::CorrectionStep::ALL.len(), 5);
    /// ```
    pub const ALL: [Self; 5] =
        [Self::ThermalOutput, Self::Mismatch, Self::GaugeFactor, Self::NonLinearity, Self::Leads];

    /// The name in words.
    ///
    /// ```
    /// assert_eq!(gaugewright::commissioning::significance::CorrectionStep::Leads.name(), "lead desensitisation");
    /// ```
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::ThermalOutput => "thermal output",
            Self::Mismatch => "mismatch of expansions",
            Self::GaugeFactor => "change of gauge factor",
            Self::NonLinearity => "bridge non-linearity",
            Self::Leads => "lead desensitisation",
        }
    }

    /// Of the bridge, which is not known behind an instrument's readings.
    pub(super) const fn is_of_bridge(self) -> bool {
        matches!(self, Self::NonLinearity | Self::Leads)
    }
}

impl core::fmt::Display for CorrectionStep {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.pad(self.name())
    }
}

/// A set of effects.
///
/// ```
/// use gaugewright::commissioning::significance::{CorrectionStep, CorrectionSteps};
/// let set = CorrectionSteps::NONE.with(CorrectionStep::Leads).with(CorrectionStep::NonLinearity);
/// assert!(set.contains(CorrectionStep::Leads) && !set.contains(CorrectionStep::GaugeFactor));
/// assert_eq!(set.count(), 2);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct CorrectionSteps(u8);

impl CorrectionSteps {
    /// None of them.
    ///
    /// ```
    /// assert!(gaugewright::commissioning::significance::CorrectionSteps::NONE.is_empty());
    /// ```
    pub const NONE: Self = Self(0);

    /// As many sets as there are.
    pub(super) const SETS: u8 = 1 << CorrectionStep::ALL.len();

    /// This one too.
    ///
    /// ```
    /// use gaugewright::commissioning::significance::{CorrectionStep, CorrectionSteps};
    /// let once = CorrectionSteps::NONE.with(CorrectionStep::Leads);
    /// assert_eq!(once.with(CorrectionStep::Leads), once);
    /// ```
    #[must_use]
    pub const fn with(self, effect: CorrectionStep) -> Self {
        Self(self.0 | 1 << effect as u8)
    }

    /// It is in the set.
    ///
    /// ```
    /// use gaugewright::commissioning::significance::{CorrectionStep, CorrectionSteps};
    /// assert!(!CorrectionSteps::NONE.contains(CorrectionStep::ThermalOutput));
    /// ```
    #[must_use]
    pub const fn contains(self, effect: CorrectionStep) -> bool {
        self.0 & (1 << effect as u8) != 0
    }

    /// The number of steps.
    ///
    /// ```
    /// use gaugewright::commissioning::significance::{CorrectionStep, CorrectionSteps};
    /// assert_eq!(CorrectionSteps::NONE.with(CorrectionStep::Mismatch).count(), 1);
    /// ```
    #[must_use]
    pub const fn count(self) -> u32 {
        self.0.count_ones()
    }

    /// There is none.
    ///
    /// ```
    /// use gaugewright::commissioning::significance::{CorrectionStep, CorrectionSteps};
    /// assert!(!CorrectionSteps::NONE.with(CorrectionStep::Mismatch).is_empty());
    /// ```
    #[must_use]
    pub const fn is_empty(self) -> bool {
        self.0 == 0
    }

    /// By number, from 0 to [`SETS`](Self::SETS).
    pub(super) const fn numbered(number: u8) -> Self {
        Self(number)
    }

    pub(super) const fn number(self) -> u8 {
        self.0
    }

    /// The set is these two alone or one of them: nothing of it depends on strain.
    pub(super) const fn is_thermal(self) -> bool {
        self.0 & !Self::NONE.with(CorrectionStep::ThermalOutput).with(CorrectionStep::Mismatch).0 == 0
    }

    pub(super) const fn has_bridge(self) -> bool {
        self.contains(CorrectionStep::NonLinearity) || self.contains(CorrectionStep::Leads)
    }
}
