//! The circuits: which arms hold gauges, what each of them sees, and what becomes of thermal output.

/// A way to wire gauges into a bridge. Strain is that of the gauge in arm 1.
///
/// | circuit | arm 1 | arm 2 | arm 3 | arm 4 | measures | thermal output |
/// |---|---|---|---|---|---|---|
/// | quarter | e | fixed | fixed | fixed | anything under the gauge | in full |
/// | half, compensated | e | 0 | fixed | fixed | anything under the gauge | cancels at one temperature |
/// | half, Poisson | e | -nu e | fixed | fixed | axial load, and bending | cancels |
/// | half, bending | e | -e | fixed | fixed | bending; axial load cancels | cancels |
/// | full, bending | e | -e | e | -e | bending; axial load cancels | cancels |
/// | full, Poisson | e | -nu e | e | -nu e | axial load; bending cancels where the pairs face | cancels |
/// | full, torsion | e | -e | e | -e | torsion; bending and axial load cancel | cancels |
/// | opposite arms | e | fixed | e | fixed | axial load; bending cancels | in full |
///
/// [Choosing a circuit](crate::guide::circuits) has a drawing of each, and what "cancels" means.
///
/// ```
/// use gaugewright::Circuit;
/// assert!(Circuit::Quarter.shows_thermal_output());
/// assert!(!Circuit::FullBending.shows_thermal_output());
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[non_exhaustive]
pub enum Circuit {
    /// One gauge, three fixed resistors.
    Quarter,
    /// A gauge that measures and an unstrained one beside it in arm 2.
    HalfCompensated,
    /// A gauge along the load and one across it.
    HalfPoisson,
    /// A gauge on each face of a bent part.
    HalfBending,
    /// Two gauges on each face of a bent part.
    FullBending,
    /// Two gauges along the load and two across it.
    FullPoisson,
    /// Four gauges at 45 degrees on a twisted shaft.
    FullTorsion,
    /// Two gauges in opposite arms.
    OppositeArms,
}

impl Circuit {
    /// Every circuit.
    ///
    /// ```
    /// assert_eq!(gaugewright::Circuit::ALL.len(), 8);
    /// ```
    pub const ALL: [Self; 8] = [
        Self::Quarter,
        Self::HalfCompensated,
        Self::HalfPoisson,
        Self::HalfBending,
        Self::FullBending,
        Self::FullPoisson,
        Self::FullTorsion,
        Self::OppositeArms,
    ];

    /// What each arm sees of the strain of arm 1.
    ///
    /// ```
    /// use gaugewright::Circuit;
    /// assert_eq!(Circuit::HalfPoisson.strain_of_arms(0.3), [1.0, -0.3, 0.0, 0.0]);
    /// ```
    #[must_use]
    pub const fn strain_of_arms(self, poisson_ratio: f64) -> [f64; 4] {
        match self {
            Self::Quarter | Self::HalfCompensated => [1.0, 0.0, 0.0, 0.0],
            Self::HalfPoisson => [1.0, -poisson_ratio, 0.0, 0.0],
            Self::HalfBending => [1.0, -1.0, 0.0, 0.0],
            Self::FullBending | Self::FullTorsion => [1.0, -1.0, 1.0, -1.0],
            Self::FullPoisson => [1.0, -poisson_ratio, 1.0, -poisson_ratio],
            Self::OppositeArms => [1.0, 0.0, 1.0, 0.0],
        }
    }

    /// Thermal output of gauges at one temperature shows in the reading, as that of one gauge would; if
    /// not, it cancels to first order and must not be subtracted.
    ///
    /// ```
    /// use gaugewright::Circuit;
    /// assert!(Circuit::OppositeArms.shows_thermal_output());
    /// ```
    #[must_use]
    pub const fn shows_thermal_output(self) -> bool {
        matches!(self, Self::Quarter | Self::OppositeArms)
    }

    /// A gauge, not a fixed resistor, stands in the arm (counted from 0).
    pub(crate) const fn has_gauge(self, arm: usize) -> bool {
        match self {
            Self::Quarter => arm == 0,
            Self::HalfCompensated | Self::HalfPoisson | Self::HalfBending => arm < 2,
            Self::FullBending | Self::FullPoisson | Self::FullTorsion => true,
            Self::OppositeArms => arm == 0 || arm == 2,
        }
    }

    /// The name in words.
    ///
    /// ```
    /// assert_eq!(gaugewright::Circuit::HalfBending.name(), "half bridge, bending");
    /// ```
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Quarter => "quarter bridge",
            Self::HalfCompensated => "half bridge, compensated",
            Self::HalfPoisson => "half bridge, axial and transverse",
            Self::HalfBending => "half bridge, bending",
            Self::FullBending => "full bridge, bending",
            Self::FullPoisson => "full bridge, axial and transverse",
            Self::FullTorsion => "full bridge, torsion",
            Self::OppositeArms => "two gauges in opposite arms",
        }
    }
}
