//! What a channel has to satisfy, part by part and as a whole.

use super::{Channel, Source};
use crate::channel::Gauge;
use crate::channel::gauge::Scale;
use crate::error::{Error, Field, range_within, try_const, within};
use crate::numeric::Interval;
use crate::units::{Celsius, ExpansionPerCelsius, Microstrain};

/// How far from zero a package's thermal output may be at the reference temperature, in microstrain. Those of the data of
/// the tests are within 0.07 as they are, and 11.9 to 110 off when they are declared in the other scale; a curve that
/// counts from a balance a few degrees away is off by as many microstrain at most.
const CURVE_OFFSET: f64 = 5.0;

/// A thermal-output curve that is far from zero at the reference temperature, from which a package counts (ASTM E251):
/// mostly one whose coefficients are in Fahrenheit and were declared in Celsius, or the other way round. It is reported by
/// [`Gauge::curve_offset`] and refused by nothing, as a curve may count from elsewhere.
///
/// ```
/// use gaugewright::{Gauge, ThermalOutput, units::*};
/// // Coefficients in Fahrenheit.
/// let curve = ThermalOutput::celsius([-101.576, 2.82889, -0.0227237, 4.19932e-5, -1.54497e-8]);
/// let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(curve.between(Celsius(-200.0), Celsius(300.0)));
/// assert_eq!(
///     gauge.curve_offset().unwrap().to_string(),
///     "thermal output is -46.2 microstrain at the reference of 24 C, not zero; \
///      with coefficients in Fahrenheit it would be 0.0: check their unit"
/// );
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct CurveOffset {
    /// The reference temperature.
    pub reference: Celsius,
    /// The curve there.
    pub thermal_output: Microstrain,
    /// What it would be there if its coefficients were in the scale that was not declared.
    pub in_other_scale: Microstrain,
    /// They were declared in Fahrenheit.
    pub is_fahrenheit: bool,
}

impl core::fmt::Display for CurveOffset {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let Self { reference, thermal_output, in_other_scale, is_fahrenheit } = self;
        write!(f, "thermal output is {thermal_output:.1} at the reference of {reference}, not zero; ")?;
        if in_other_scale.0.abs() > CURVE_OFFSET {
            return f.write_str("check the coefficients, their unit and the reference temperature");
        }
        let other = if *is_fahrenheit { "Celsius" } else { "Fahrenheit" };
        // Without the sign of a zero.
        let shown = if in_other_scale.0.abs() < 0.05 { 0.0 } else { in_other_scale.0 };
        write!(f, "with coefficients in {other} it would be {shown:.1}: check their unit")
    }
}

impl Gauge {
    /// The offset of the thermal-output curve where it is more than 5 microstrain at the reference temperature. None where it is
    /// less, and where the curve's range does not reach the reference temperature.
    ///
    /// ```
    /// use gaugewright::{Gauge, ThermalOutput, units::*};
    /// let curve = |from: f64| ThermalOutput::celsius([-from, 1.0]).between(Celsius(-50.0), Celsius(90.0));
    /// assert!(Gauge::new(GaugeFactor(2.0)).thermal_output(curve(24.0)).curve_offset().is_none());
    /// assert!(Gauge::new(GaugeFactor(2.0)).thermal_output(curve(75.2)).curve_offset().is_some());
    /// ```
    #[must_use]
    pub const fn curve_offset(&self) -> Option<CurveOffset> {
        let (curve, reference) = (&self.thermal_output, Celsius(self.reference));
        let thermal_output = curve.at(reference);
        let reaches = curve.low <= reference.0 && reference.0 <= curve.high;
        if !reaches || thermal_output.0.is_nan() || thermal_output.0.abs() <= CURVE_OFFSET {
            return None;
        }
        let is_fahrenheit = matches!(curve.scale, Scale::Fahrenheit);
        // The number that the other scale has for the reference temperature.
        let other = if is_fahrenheit { reference.0 } else { reference.fahrenheit().0 };
        let in_other_scale = Microstrain(curve.polynomial.at(other));
        Some(CurveOffset { reference, thermal_output, in_other_scale, is_fahrenheit })
    }
}

impl Channel {
    /// Checks every part and their fit.
    ///
    /// # Errors
    /// [`Error::Invalid`] for the first input that is missing, not finite or out of range, [`Error::Reversed`] for a range
    /// whose upper end lies below its lower one.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Error, Gauge, ThermalOutput, units::*, error::Field};
    ///
    /// let gauge = Gauge::new(GaugeFactor(2.1))
    ///     .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let bridge = Bridge::quarter_two_wire(Ohms(120.0), Ohms(-0.5));
    /// let channel = Channel::new(gauge, bridge, Converter::bipolar(16, Ratio(0.01)));
    /// assert_eq!(
    ///     channel.check(),
    ///     Err(Error::Invalid { field: Field::LeadResistance, value: -0.5, low: 0.0, high: 120.0 }),
    /// );
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        self.check_parts(self.shows_thermal_output())
    }

    /// With a compensating gauge of another temperature, the samples have thermal output in a circuit that would not show it.
    pub(super) const fn check_parts(&self, shows_thermal_output: bool) -> Result<(), Error> {
        try_const!(self.check_gauge(shows_thermal_output));
        match self.source {
            Source::Codes(bridge, converter) => {
                try_const!(bridge.check());
                try_const!(self.check_poisson());
                try_const!(converter.check());
            }
            Source::Readings(instrument) => try_const!(instrument.check()),
        }
        try_const!(Field::InstrumentGaugeFactor.check(self.instrument_factor));
        try_const!(within(Field::SpanCorrection, self.span, 0.8, 1.25));
        try_const!(check_specimen(&self.gauge, self.specimen));
        if let Some(limit) = self.strain_limit {
            try_const!(Field::StrainRange.check(limit.0));
        }
        let (low, high) = self.temperatures();
        try_const!(check_temperatures((low, high), self.fitted()));
        try_const!(check_factor(&self.gauge, low.0, high.0));
        self.check_balance()
    }

    const fn check_balance(&self) -> Result<(), Error> {
        let (low, high) = self.rails();
        let code = self.balance_code();
        try_const!(within(Field::BalanceCode, code, low as f64 + 1.0, high as f64 - 1.0));
        if let Some(balance) = self.balance {
            let fitted = self.fitted();
            try_const!(within(Field::BalanceTemperature, balance.temperature, fitted.0, fitted.1));
        }
        if let Source::Codes(bridge, _) = self.source {
            try_const!(bridge.map(self.ratio(code)));
            if bridge.completion.is_some() && bridge.reference.is_some() {
                // All resistors are stated: the bridge has to lie within the converter's range.
                let full_scale = self.ratio(high as f64).0;
                try_const!(within(Field::BalanceRatio, bridge.ratio_at_rest().0, -full_scale, full_scale));
            }
        }
        Ok(())
    }
}

/// The declared temperatures lie within those that the thermal output was fitted on.
pub(super) const fn check_temperatures(
    (low, high): (Celsius, Celsius),
    fitted: (f64, f64),
) -> Result<(), Error> {
    range_within((Field::TemperatureLow, low.0), (Field::TemperatureHigh, high.0), fitted)
}

/// The factor must not stray so far over these temperatures that its reciprocal means nothing.
pub(crate) const fn check_factor(gauge: &Gauge, low: f64, high: f64) -> Result<(), Error> {
    let range = Interval::new(low, high);
    let ratio = gauge.factor_polynomial().times(1.0 / gauge.factor).enclose(range);
    try_const!(Field::GaugeFactorCurve.check(ratio.low));
    try_const!(Field::GaugeFactorCurve.check(ratio.high));
    let Some(forced) = gauge.forced() else { return Ok(()) };
    let change = ratio.scaled(gauge.factor).times(forced.mean_value_form(range));
    try_const!(Field::ForcedChange.check(change.low));
    Field::ForcedChange.check(change.high)
}

pub(super) const fn check_specimen(
    gauge: &Gauge,
    specimen: Option<ExpansionPerCelsius>,
) -> Result<(), Error> {
    let Some(expansion) = specimen else { return Ok(()) };
    try_const!(Field::SpecimenExpansion.check(expansion.0 * 1e6));
    match gauge.matched_expansion {
        Some(_) => Ok(()),
        None => Err(Field::MatchedExpansion.missing()),
    }
}
