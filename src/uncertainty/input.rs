//! What a strain depends on.

use crate::error::{Field, named};

named! {
    /// An input quantity of the budget.
    ///
    /// ```
    /// use gaugewright::uncertainty::Input;
    /// assert_eq!(Input::ThermalOutputSlope.to_string(), "slope of thermal output");
    /// ```
    Input, "assert_eq!(gaugewright::uncertainty::Input::GaugeFactor.name(), \"gauge factor\");" {
        /// Gauge factor of the package.
        GaugeFactor => "gauge factor",
        /// Its slope against temperature.
        GaugeFactorSlope => "slope of gauge factor",
        /// Temperature of the gauge, in both corrections.
        Temperature => "temperature",
        /// Temperature at balance.
        BalanceTemperature => "temperature at balance",
        /// Error of the thermometer that is the same at balance and now.
        Thermometer => "thermometer",
        /// Thermal output, the same everywhere.
        ThermalOutput => "thermal output",
        /// Thermal output, growing with the distance from balance.
        ThermalOutputSlope => "slope of thermal output",
        /// Expansion of the specimen less that of the matched material.
        Expansion => "expansion",
        /// Resistance of the leads.
        LeadResistance => "lead resistance",
        /// Rise of the leads' temperature since balance.
        LeadTemperature => "temperature of the leads",
        /// Poisson ratio of the specimen, in circuits with a transverse gauge.
        PoissonRatio => "Poisson ratio",
        /// Output ratio of a code: excitation, reference, gain.
        Ratio => "output ratio",
        /// Scatter of a sample.
        Noise => "noise",
        /// Rounding of a sample to a code, or to the last digit that an instrument shows.
        Quantisation => "quantisation",
        /// Code at balance.
        BalanceNoise => "noise at balance",
        /// Proven bound of the kernel.
        Kernel => "kernel",
        /// Proven bound of what the map leaves out of the bridge.
        Circuit => "circuit",
    }
}

impl Input {
    /// The number of inputs.
    ///
    /// ```
    /// use gaugewright::uncertainty::Input;
    /// assert_eq!(Input::ALL.len(), Input::COUNT);
    /// ```
    pub const COUNT: usize = 17;

    /// All of them, in the order of a budget.
    ///
    /// ```
    /// use gaugewright::uncertainty::Input;
    /// assert_eq!(Input::ALL[0], Input::GaugeFactor);
    /// ```
    pub const ALL: [Self; Self::COUNT] = [
        Self::GaugeFactor,
        Self::GaugeFactorSlope,
        Self::Temperature,
        Self::BalanceTemperature,
        Self::Thermometer,
        Self::ThermalOutput,
        Self::ThermalOutputSlope,
        Self::Expansion,
        Self::LeadResistance,
        Self::LeadTemperature,
        Self::PoissonRatio,
        Self::Ratio,
        Self::Noise,
        Self::Quantisation,
        Self::BalanceNoise,
        Self::Kernel,
        Self::Circuit,
    ];

    /// The field of its uncertainty, and what of the field's unit is one of the budget's.
    pub(super) const fn field(self) -> (Field, f64) {
        match self {
            Self::GaugeFactor => (Field::GaugeFactorUncertainty, 100.0),
            Self::GaugeFactorSlope => (Field::GaugeFactorSlopeUncertainty, 1.0),
            Self::Temperature => (Field::TemperatureUncertainty, 1.0),
            Self::BalanceTemperature => (Field::BalanceTemperatureUncertainty, 1.0),
            Self::Thermometer => (Field::ThermometerUncertainty, 1.0),
            Self::ThermalOutput => (Field::ThermalOutputUncertainty, 1.0),
            Self::ThermalOutputSlope => (Field::ThermalOutputSlopeUncertainty, 1.0),
            Self::Expansion => (Field::ExpansionUncertainty, 1e6),
            Self::LeadResistance => (Field::LeadResistanceUncertainty, 1.0),
            Self::LeadTemperature => (Field::LeadTemperatureUncertainty, 1.0),
            Self::PoissonRatio => (Field::PoissonUncertainty, 1.0),
            Self::Ratio => (Field::RatioUncertainty, 100.0),
            Self::Noise => (Field::ReadingNoise, 1.0),
            Self::Quantisation => (Field::Quantisation, 1.0),
            Self::BalanceNoise => (Field::BalanceNoise, 1.0),
            Self::Kernel | Self::Circuit => (Field::KernelBound, 1.0),
        }
    }
}
