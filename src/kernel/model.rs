//! A channel in natural units, which kernels, significance and uncertainty read.
//!
//! A change of ratio `x` since balance makes a signal `y = gain x / (1 - curvature x)`, gauge factor times indicated strain
//! ([`BridgeMap`]). A strain `e` at a temperature `T` makes the signal `y = factor(T) e + thermal(T)`, and where the gauge factor
//! refers to the unloaded gauge or the free foil (`has_product`) `1 + y = (1 + factor(T) e) (1 + thermal(T))`. What is
//! computed from it is `(y - subtracted(T)) / divisor(T)`, over `1 + subtracted(T)` with the product: how much of the model is
//! corrected for is the channel's [`Correction`]. The instrument's gauge factor cancels from all but indicated strain.

use super::factor::Factor;
use crate::channel::{
    Bonded, BridgeMap, Channel, CompensatedChannel, Correction, Gauge, MismatchScale, Source,
};
use crate::error::{Error, Quantity, fits, try_const};
use crate::numeric::Polynomial;
use crate::units::Ratio;

pub(crate) struct ChannelModel {
    /// From a change of ratio to a signal, or of codes where there is no bridge.
    pub map: BridgeMap,
    /// Ratio at balance, or the code where there is no bridge.
    pub at_balance: f64,
    /// Ratio of a code, or one where there is no bridge.
    pub step: f64,
    /// Gauge factor times the thermal output since balance that is in the samples, against degrees Celsius.
    pub thermal: Polynomial,
    /// Gauge factor against degrees Celsius; of one that refers to the free foil, over `1 + gauge factor times forced strain`.
    pub factor: Polynomial,
    /// What the polynomial leaves out of that, over the gauge factor.
    pub factor_error: f64,
    pub instrument_factor: f64,
    pub measuring: Bonded,
    pub mismatch: MismatchScale,
    correction: Correction,
    shows_thermal_output: bool,
}

impl ChannelModel {
    pub const fn of(channel: &Channel) -> Result<Self, Error> {
        Self::with_factor::<1>(channel, Factor::MOST)
    }

    /// For a kernel with or without the product, and with a polynomial of this degree for a gauge factor that has none.
    pub const fn with_factor<const PRODUCT: usize>(channel: &Channel, degree: usize) -> Result<Self, Error> {
        try_const!(channel.check());
        Self::checked::<PRODUCT>(channel, channel.shows_thermal_output(), degree)
    }

    /// Of the gauge that measures; the other's thermal output is [`added`](Self::added).
    pub const fn of_compensated<const PRODUCT: usize>(
        channel: &CompensatedChannel,
        degree: usize,
    ) -> Result<Self, Error> {
        try_const!(channel.check());
        Self::checked::<PRODUCT>(&channel.channel, true, degree)
    }

    const fn checked<const PRODUCT: usize>(
        channel: &Channel,
        shows_thermal_output: bool,
        degree: usize,
    ) -> Result<Self, Error> {
        let is_full = matches!(channel.correction, Correction::Full);
        // Of a gauge factor that refers to the free foil also where there is no product: its polynomial is made with the product's
        // kernels alone, so that no other program pays for it.
        let is_product = is_full
            && (channel.gauge.refers_to_free_foil() || shows_thermal_output && channel.gauge.has_product());
        try_const!(fits(Quantity::ProductConstants, is_product as u8 as f64, PRODUCT as f64));
        let balance = channel.balance_code();
        let (map, at_balance, step) = match channel.source {
            Source::Codes(bridge, _) => {
                let step = channel.ratio_per_code();
                let at_balance = channel.balance_ratio().0;
                (try_const!(bridge.map(Ratio(at_balance))), at_balance, step)
            }
            Source::Readings(instrument) => {
                (BridgeMap::straight(instrument.step * 1e-6 * channel.instrument_factor), balance, 1.0)
            }
        };
        let measuring = channel.measuring();
        let thermal = if shows_thermal_output {
            thermal_of(&measuring, channel.mismatch, channel.gauge.has_product())
        } else {
            Polynomial::ZERO
        };
        let (low, high) = channel.temperatures();
        let factor = if PRODUCT > 0 {
            Factor::of(&channel.gauge, (low.0, high.0), degree)
        } else {
            Factor::plain(&channel.gauge)
        };
        Ok(Self {
            map,
            at_balance,
            step,
            thermal,
            factor: factor.polynomial,
            factor_error: if is_full { factor.left_out } else { 0.0 },
            instrument_factor: channel.instrument_factor,
            measuring,
            mismatch: channel.mismatch,
            correction: channel.correction,
            shows_thermal_output,
        })
    }

    /// Thermal output is in the samples and is subtracted.
    pub const fn corrects(&self) -> bool {
        self.shows_thermal_output && !matches!(self.correction, Correction::None)
    }

    /// What is subtracted from the signal.
    pub const fn subtracted(&self) -> Polynomial {
        if self.corrects() { self.thermal } else { Polynomial::ZERO }
    }

    /// The gauge factor that the signal is divided by.
    pub const fn divisor(&self) -> Polynomial {
        match self.correction {
            Correction::Full => self.factor,
            _ => Polynomial::constant(self.instrument_factor),
        }
    }

    /// Strain is divided by one plus what is subtracted.
    pub const fn has_product(&self) -> bool {
        self.shows_thermal_output
            && matches!(self.correction, Correction::Full)
            && self.measuring.gauge.has_product()
    }

    /// What a specimen that expands more by one per degree adds to the signal since balance, against degrees Celsius.
    pub const fn expansion(&self) -> Polynomial {
        if self.shows_thermal_output {
            expansion_of(&self.measuring, self.mismatch)
        } else {
            Polynomial::ZERO
        }
    }

    /// What this specimen adds, as it is not the one that the gauge is matched to.
    pub const fn rotation(&self) -> Polynomial {
        if !self.shows_thermal_output {
            Polynomial::ZERO
        } else if self.has_product() {
            // A part of another resistance at balance.
            let package = thermal_of(&Bonded { mismatch: 0.0, ..self.measuring }, self.mismatch, true);
            self.thermal.plus(&package.times(-1.0))
        } else {
            self.expansion().times(self.measuring.mismatch)
        }
    }

    /// What is added to the signal for a compensating gauge.
    pub const fn added(&self, compensating: &Bonded) -> Polynomial {
        match self.correction {
            Correction::None => Polynomial::ZERO,
            _ => thermal_of(compensating, self.mismatch, self.measuring.gauge.has_product()),
        }
    }
}

/// Gauge factor times thermal output since balance, against degrees Celsius; `as_part` of the resistance at balance, or of that
/// at the reference temperature.
pub(crate) const fn thermal_of(bonded: &Bonded, mismatch: MismatchScale, as_part: bool) -> Polynomial {
    let output = output_of(bonded, mismatch);
    let thermal = since_balance(output, bonded.balance);
    match bonded.balance {
        Some(temperature) if as_part => thermal.times(1.0 / (1.0 + output.at(temperature))),
        _ => thermal,
    }
}

/// The same since the reference temperature.
pub(crate) const fn output_of(bonded: &Bonded, mismatch: MismatchScale) -> Polynomial {
    let gauge = &bonded.gauge;
    let package = gauge.thermal_output.in_celsius().times(gauge.thermal_output.stated_for * 1e-6);
    let scale = mismatch_factor(gauge, mismatch);
    let from_reference = Polynomial::new([-gauge.reference, 1.0]);
    package.plus(&scale.times(bonded.mismatch).multiplied(&from_reference))
}

/// Since balance for a specimen that expands more by one per degree and no package.
pub(crate) const fn expansion_of(bonded: &Bonded, mismatch: MismatchScale) -> Polynomial {
    let from_reference = Polynomial::new([-bonded.gauge.reference, 1.0]);
    since_balance(mismatch_factor(&bonded.gauge, mismatch).multiplied(&from_reference), bonded.balance)
}

const fn since_balance(curve: Polynomial, balance: Option<f64>) -> Polynomial {
    match balance {
        None => curve,
        Some(temperature) => curve.plus(&Polynomial::constant(-curve.at(temperature))),
    }
}

/// What the expansion of another specimen is multiplied by, against degrees Celsius.
pub(crate) const fn mismatch_factor(gauge: &Gauge, mismatch: MismatchScale) -> Polynomial {
    match mismatch {
        MismatchScale::GaugeFactorAtTemperature => gauge.factor_polynomial().times(gauge.equibiaxial_gain()),
        MismatchScale::GaugeFactorAtReference => {
            Polynomial::constant(gauge.factor * gauge.equibiaxial_gain())
        }
        MismatchScale::StatedGaugeFactor => Polynomial::constant(gauge.thermal_output.stated_for),
    }
}

/// What rounding in `f64` may make of a package's polynomial, at any temperature in range, on its way to a kernel, where terms
/// cancel: thermal output in strain, and the gauge factor's relative change. Bounds of kernels in integers and `f32` allow for as
/// much, whatever the channel.
pub(crate) const THERMAL_ROUNDING: f64 = 1.8e-15;
pub(crate) const FACTOR_ROUNDING: f64 = 2.9e-14;

/// What rounding may make of this gauge's polynomials, at any temperature in range: gauge factor times thermal output, and the
/// change of the gauge factor from its value in mid range, times that.
pub(crate) struct PolynomialRounding {
    pub thermal: f64,
    pub factor: f64,
}

/// Refuses a package whose polynomials cancel so far that the constants would be off by more.
pub(crate) const fn check_cancellation(bonded: &Bonded, largest: f64) -> Result<PolynomialRounding, Error> {
    let gauge = &bonded.gauge;
    let largest = match bonded.balance {
        Some(temperature) => largest.max(temperature.abs()),
        None => largest,
    };
    let package = gauge.thermal_output.stated_for * 1e-6 * gauge.thermal_output.size(largest);
    let apart = bonded.mismatch.abs() * (largest + gauge.reference.abs()) * gauge.equibiaxial_gain().abs();
    let factor = gauge.factor_size(largest);
    let thermal = package + apart * factor;
    try_const!(thermal_cancellation(thermal / gauge.factor));
    try_const!(factor_cancellation(factor / gauge.factor));
    Ok(PolynomialRounding {
        thermal: 2.0 * ROUNDINGS * thermal,
        factor: if gauge.refers_to_free_foil() {
            // Its polynomial is moved once more, from the middle of the range and back.
            FACTOR_ROUNDING * factor
        } else {
            2.0 * ROUNDINGS * (factor - gauge.factor)
        },
    })
}

/// Some thirty roundings on the way. Of a polynomial: two changes of variable (from Fahrenheit, to the middle of the range), each
/// of two roundings a degree and of the two numbers it is made with; the scale that it is stated in, a specimen's expansion, and the
/// gauge factor that it is divided by. Of the map: leads, arms, numerator and denominator of the network, gain, the
/// step of a code, the change to the nearest code, and that gauge factor.
pub(crate) const ROUNDINGS: f64 = 32.0 * f64::EPSILON / 2.0;

/// For terms of thermal output that add up to `size`, as strain. Balance is subtracted, which is a second time.
pub(crate) const fn thermal_cancellation(size: f64) -> Result<(), Error> {
    fits(Quantity::Cancellation, 2.0 * ROUNDINGS * size / THERMAL_ROUNDING, 1.0)
}

/// For terms of the gauge factor, over that at the reference temperature, that add up to `size`.
pub(crate) const fn factor_cancellation(size: f64) -> Result<(), Error> {
    fits(Quantity::Cancellation, ROUNDINGS * size / FACTOR_ROUNDING, 1.0)
}
