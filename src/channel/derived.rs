//! What follows from a channel's parts: ranges, gauges as they are bonded.

use super::{Bonded, Channel, Source};
use crate::channel::Gauge;
use crate::error::TEMPERATURES;
use crate::units::{Celsius, ExpansionPerCelsius, Ratio};

impl Channel {
    /// The declared temperature range.
    ///
    /// ```
    /// use gaugewright::units::*;
    /// # let channel = gaugewright::example::FLAT;
    /// assert_eq!(channel.temperatures(), (Celsius(-50.0), Celsius(90.0)));
    /// ```
    #[must_use]
    pub const fn temperatures(&self) -> (Celsius, Celsius) {
        self.gauge.declared_or_fitted(self.temperatures)
    }

    /// Thermal output is in the samples: the circuit shows it. If not, it cancels in the bridge and kernels do not subtract
    /// it. (It is in those of every [`CompensatedChannel`](crate::CompensatedChannel).)
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, units::*};
    /// # let channel = |bridge| Channel::new(Gauge::new(GaugeFactor(2.1)), bridge, Converter::bipolar(24, Ratio(0.01)));
    /// assert!(channel(Bridge::quarter_ideal(Ohms(350.0))).shows_thermal_output());
    /// assert!(!channel(Bridge::half_bending(Ohms(350.0), Ohms(1.0))).shows_thermal_output());
    /// ```
    #[must_use]
    pub const fn shows_thermal_output(&self) -> bool {
        match self.source {
            Source::Codes(bridge, _) => bridge.circuit().shows_thermal_output(),
            Source::Readings(_) => true,
        }
    }

    /// Where temperatures may lie: what the thermal output was fitted on, if it matters.
    pub(super) const fn fitted(&self) -> (f64, f64) {
        let curve = &self.gauge.thermal_output;
        if curve.is_absent() { TEMPERATURES } else { (curve.low, curve.high) }
    }

    /// The extreme codes of the source: a sample at or beyond one of them is no measure of strain.
    pub(crate) const fn rails(&self) -> (i32, i32) {
        match self.source {
            Source::Codes(_, converter) => converter.rails(),
            Source::Readings(_) => (i32::MIN, i32::MAX),
        }
    }

    pub(crate) const fn bits(&self) -> u32 {
        match self.source {
            Source::Codes(_, converter) => converter.bits,
            Source::Readings(_) => 32,
        }
    }

    /// Output ratio for one code, span corrected; NaN for an instrument's readings.
    pub(crate) const fn ratio_per_code(&self) -> f64 {
        match self.source {
            Source::Codes(_, converter) => converter.ratio(1.0).0 * self.span,
            Source::Readings(_) => f64::NAN,
        }
    }

    /// Output ratio for a code, span corrected.
    pub(crate) const fn ratio(&self, code: f64) -> Ratio {
        Ratio(code * self.ratio_per_code())
    }

    /// The code for an output ratio, neither rounded nor clamped.
    pub(crate) const fn code(&self, ratio: Ratio) -> f64 {
        ratio.0 / self.ratio_per_code()
    }

    /// Output ratio at balance.
    pub(crate) const fn balance_ratio(&self) -> Ratio {
        self.ratio(self.balance_code())
    }

    /// The mean code at balance.
    pub(crate) const fn balance_code(&self) -> f64 {
        match self.balance {
            Some(balance) => balance.code,
            None => 0.0,
        }
    }

    /// The gauge that measures, as bonded.
    pub(crate) const fn measuring(&self) -> Bonded {
        let balance = match self.balance {
            Some(balance) => Some(balance.temperature),
            None => None,
        };
        Bonded {
            gauge: self.gauge,
            mismatch: mismatch(&self.gauge, self.specimen),
            balance,
            temperatures: self.temperatures(),
        }
    }
}

/// Differential expansion of specimen and matched material, 1/C.
pub(super) const fn mismatch(gauge: &Gauge, specimen: Option<ExpansionPerCelsius>) -> f64 {
    match (specimen, gauge.matched_expansion) {
        (Some(specimen), Some(matched)) => specimen.0 - matched.0,
        _ => 0.0,
    }
}

impl Gauge {
    /// The temperatures that were declared for it, or else those that its thermal output was fitted on.
    pub(super) const fn declared_or_fitted(
        &self,
        declared: Option<(Celsius, Celsius)>,
    ) -> (Celsius, Celsius) {
        match declared {
            Some(range) => range,
            None => (Celsius(self.thermal_output.low), Celsius(self.thermal_output.high)),
        }
    }
}
