//! The second gauge of a half bridge, where it has a temperature of its own.

use crate::channel::Gauge;
use crate::units::{Celsius, ExpansionPerCelsius};

/// A compensating gauge at a temperature of its own: its package, what it is bonded to, and where it was
/// when the bridge was balanced.
///
/// ```
/// use gaugewright::{CompensatingGauge, Gauge, ThermalOutput, units::*};
/// let curve = ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0));
/// let compensating = CompensatingGauge::new(Gauge::new(GaugeFactor(2.1)).thermal_output(curve))
///     .balanced_at(Celsius(19.5));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct CompensatingGauge {
    pub(crate) gauge: Gauge,
    pub(crate) specimen: Option<ExpansionPerCelsius>,
    pub(crate) balance: Option<Celsius>,
    pub(crate) temperatures: Option<(Celsius, Celsius)>,
}

impl CompensatingGauge {
    /// A compensating gauge on the material it is matched to, balanced at the channel's balance
    /// temperature until something else is said.
    ///
    /// ```
    /// use gaugewright::{CompensatingGauge, Gauge, units::*};
    /// let compensating = CompensatingGauge::new(Gauge::new(GaugeFactor(2.1)));
    /// ```
    #[must_use]
    pub const fn new(gauge: Gauge) -> Self {
        Self { gauge, specimen: None, balance: None, temperatures: None }
    }

    /// It is bonded to a material of this expansion; as [`Channel::specimen`](crate::Channel::specimen).
    ///
    /// ```
    /// use gaugewright::{CompensatingGauge, Gauge, units::*};
    /// let compensating =
    ///     CompensatingGauge::new(Gauge::new(GaugeFactor(2.1))).specimen(ExpansionPerCelsius::ppm(11.0));
    /// ```
    #[must_use]
    pub const fn specimen(mut self, expansion: ExpansionPerCelsius) -> Self {
        self.specimen = Some(expansion);
        self
    }

    /// The temperatures that it is declared for, inside the fitted range; as [`Channel::temperature_within`](
    /// crate::Channel::temperature_within).
    ///
    /// ```
    /// use gaugewright::{CompensatingGauge, Gauge, units::*};
    /// let compensating = CompensatingGauge::new(Gauge::new(GaugeFactor(2.1)))
    ///     .temperature_within(Celsius(-80.0), Celsius(100.0));
    /// ```
    #[must_use]
    pub const fn temperature_within(mut self, low: Celsius, high: Celsius) -> Self {
        self.temperatures = Some((low, high));
        self
    }

    /// The declared temperature range.
    pub(crate) const fn temperatures(&self) -> (Celsius, Celsius) {
        match self.temperatures {
            Some(range) => range,
            None => (Celsius(self.gauge.thermal_output.low), Celsius(self.gauge.thermal_output.high)),
        }
    }

    /// Its temperature when the bridge was balanced; the channel has to say the rest of its balance
    /// ([`Channel::balanced`](crate::Channel::balanced)).
    ///
    /// ```
    /// use gaugewright::{CompensatingGauge, Gauge, units::*};
    /// let compensating = CompensatingGauge::new(Gauge::new(GaugeFactor(2.1))).balanced_at(Celsius(18.0));
    /// ```
    #[must_use]
    pub const fn balanced_at(mut self, temperature: Celsius) -> Self {
        self.balance = Some(temperature);
        self
    }
}
