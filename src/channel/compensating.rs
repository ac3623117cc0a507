//! The second gauge of a half bridge, where it has a temperature of its own, and the channel that has such a gauge.

use super::check::{check_specimen, check_temperatures};
use super::derived::mismatch;
use super::{Balance, Bonded, Channel, Circuit, Gauge, Source};
use crate::error::{Error, Field, try_const, within};
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
    /// temperature by default.
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
        self.gauge.declared_or_fitted(self.temperatures)
    }

    /// Its temperature when the bridge was balanced; the channel needs a balance too
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

    /// As it is bonded. It is referred to a balance if its channel has one.
    pub(crate) const fn bonded(&self, balance: Option<Balance>) -> Bonded {
        let balance = match (self.balance, balance) {
            (Some(temperature), Some(_)) => Some(temperature.0),
            (None, Some(balance)) => Some(balance.temperature),
            (_, None) => None,
        };
        Bonded {
            gauge: self.gauge,
            mismatch: mismatch(&self.gauge, self.specimen),
            balance,
            temperatures: self.temperatures(),
        }
    }
}

/// A half bridge whose compensating gauge has a temperature of its own: what [`Channel::compensated_by`] gives. It compiles to
/// kernels that take two temperatures, by the same methods as a [`Channel`].
///
/// ```
/// use gaugewright::{example::COMPENSATED, fixed};
/// static KERNEL: fixed::CompensatedKernel = COMPENSATED.fixed();
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct CompensatedChannel {
    pub(crate) channel: Channel,
    pub(crate) compensating: CompensatingGauge,
}

impl CompensatedChannel {
    /// The channel that [`Channel::compensated_by`] was called on.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED, units::*};
    /// assert_eq!(COMPENSATED.channel().temperatures(), (Celsius(-50.0), Celsius(90.0)));
    /// ```
    #[must_use]
    pub const fn channel(&self) -> &Channel {
        &self.channel
    }

    /// The compensating gauge.
    ///
    /// ```
    /// use gaugewright::{Correction, example::COMPENSATED};
    /// let indicated = COMPENSATED.channel().correction(Correction::None).compensated_by(*COMPENSATED.compensating());
    /// ```
    #[must_use]
    pub const fn compensating(&self) -> &CompensatingGauge {
        &self.compensating
    }

    /// Checks every part and their fit.
    ///
    /// # Errors
    /// As [`Channel::check`]; also for a circuit other than [`Bridge::half_compensated`](crate::Bridge::half_compensated).
    ///
    /// ```
    /// use gaugewright::{CompensatingGauge, Error, error::Field, example::*};
    /// let quarter = CHANNEL.compensated_by(CompensatingGauge::new(GAUGE));
    /// assert!(matches!(quarter.check(), Err(Error::Invalid { field: Field::CompensatingGauges, .. })));
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        try_const!(self.channel.check_parts(true));
        match self.channel.source {
            Source::Codes(bridge, _) if matches!(bridge.circuit(), Circuit::HalfCompensated) => {}
            _ => try_const!(within(Field::CompensatingGauges, 1.0, 0.0, 0.0)),
        }
        let second = &self.compensating;
        if second.balance.is_some() && self.channel.balance.is_none() {
            // Its temperature at a balance that the channel does not have.
            let (low, high) = self.channel.rails();
            try_const!(within(Field::BalanceCode, f64::NAN, low as f64 + 1.0, high as f64 - 1.0));
        }
        try_const!(second.gauge.check(true));
        try_const!(check_specimen(&second.gauge, second.specimen));
        let curve = &second.gauge.thermal_output;
        try_const!(check_temperatures(second.temperatures(), (curve.low, curve.high)));
        match second.bonded(self.channel.balance).balance {
            Some(temperature) => {
                within(Field::CompensatingBalanceTemperature, temperature, curve.low, curve.high)
            }
            None => Ok(()),
        }
    }
}
