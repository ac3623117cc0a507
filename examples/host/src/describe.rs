//! What the words of a channel file are in the library.

use crate::channel_file::{self, Basis, Compensating, Curvature, Description, Scale};
use crate::circuit::bridge;
use crate::contradictions::contradictions;
use crate::keys::told_of_sensor;
use crate::sensor::Sensor;
use crate::setup::{Columns, Thermometer};
use gaugewright::channel::{ForcedStrain, GaugeFactorBasis, MismatchScale};
use gaugewright::units::{
    Celsius, ExpansionPerCelsius, Fahrenheit, GaugeFactor, Microstrain, MillivoltsPerVolt, Percent,
    PercentPer100C, Ratio,
};
use gaugewright::{CompensatingGauge, Converter, Gauge, Instrument, ThermalOutput};

/// Gives a builder a value in its unit, by this method, where the file states it.
macro_rules! if_stated {
    ($built:ident, $method:ident($unit:expr, $value:expr)) => {
        if let Some(value) = $value {
            $built = $built.$method($unit(value));
        }
    };
}
pub(crate) use if_stated;

/// A channel as the library has it, not yet checked by it.
pub struct Described {
    pub channel: gaugewright::Channel,
    /// With a temperature of its own.
    pub compensating: Option<CompensatingGauge>,
    pub columns: Columns,
}

/// The hash of all that a channel is described with, its compensating gauge included.
#[must_use]
pub fn description_hash(channel: &gaugewright::Channel, compensating: Option<CompensatingGauge>) -> u64 {
    compensating.map_or_else(
        || channel.description_hash(),
        |second| channel.compensated_by(second).description_hash(),
    )
}

/// What a channel file says of a channel.
///
/// # Errors
/// What the file says twice, or not at all.
pub fn describe(description: &Description) -> Result<Described, Vec<String>> {
    let mut problems = contradictions(description);
    let source = source(description, &mut problems);
    let (Some((mut channel, value)), true) = (source, problems.is_empty()) else {
        return Err(problems);
    };
    if_stated!(channel, specimen(ExpansionPerCelsius::ppm, description.specimen_expansion_ppm_per_c));
    if let Some(scale) = description.mismatch_scale {
        channel = channel.mismatch_scale(match scale {
            channel_file::MismatchScale::GaugeFactorAtTemperature => MismatchScale::GaugeFactorAtTemperature,
            channel_file::MismatchScale::GaugeFactorAtReference => MismatchScale::GaugeFactorAtReference,
            channel_file::MismatchScale::StatedGaugeFactor => MismatchScale::StatedGaugeFactor,
        });
    }
    if_stated!(channel, strain_ratio(f64::from, description.strain_ratio));
    if_stated!(channel, instrument_gauge_factor(GaugeFactor, description.instrument_gauge_factor));
    if let Some(balance) = &description.balance {
        channel = channel.balanced(description.balance_code(balance), Celsius(balance.temperature_c));
    }
    if_stated!(channel, strain_within(Microstrain, description.strain_within_microstrain));
    if let Some([low, high]) = description.temperature_within_c {
        channel = channel.temperature_within(Celsius(low), Celsius(high));
    }
    let second = description.compensating.as_ref();
    let compensating = second.map(|second| compensating(description, second)).transpose()?;
    let temperature = match &description.sensor {
        None => Thermometer::Column(description.temperature_column.clone().unwrap_or_default()),
        Some(words) => {
            let sensor = Sensor::new(words, description.temperature_unit);
            let told = |error| vec![format!("[channel.sensor]: {}", told_of_sensor(words, error))];
            Thermometer::Sensor(sensor.map_err(told)?)
        }
    };
    let columns = Columns {
        value,
        temperature,
        compensating: second.map(|second| second.temperature_column.clone()),
        true_strain: description.true_strain_column.clone(),
    };
    Ok(Described { channel, compensating, columns })
}

/// Gauge, circuit and converter, or gauge and instrument; and the column of the samples.
fn source(description: &Description, problems: &mut Vec<String>) -> Option<(gaugewright::Channel, String)> {
    let gauge = gauge(&description.gauge);
    let bridge = description.bridge.as_ref().map(bridge);
    match (&description.code_column, &description.strain_column) {
        (Some(column), None) => {
            let converter = description.converter.as_ref().and_then(|converter| {
                let full_scale =
                    full_scale(converter).map_err(|problem| problems.push(problem.to_string())).ok()?;
                Some(Converter::bipolar(converter.bits, full_scale))
            });
            let span = description.converter.as_ref().and_then(|converter| converter.span_correction);
            let channel = gaugewright::Channel::new(gauge, bridge?, converter?);
            Some((channel.span_correction(span.unwrap_or(1.0)), column.clone()))
        }
        (None, Some(column)) => {
            let shown = description.instrument.as_ref()?;
            let step = Microstrain(shown.step_microstrain);
            let factor = GaugeFactor(shown.gauge_factor);
            let channel = match shown.bridge_curvature {
                Curvature::TakenOut => {
                    gaugewright::Channel::from_readings(gauge, Instrument::showing(step, factor))
                }
                Curvature::LeftIn => {
                    let converter = Converter::linear_strain(step, factor);
                    gaugewright::Channel::new(gauge, bridge?, converter).instrument_gauge_factor(factor)
                }
            };
            Some((channel, column.clone()))
        }
        _ => None,
    }
}

/// As many coefficients as there is room for; those that are not given are zero.
fn filled<const N: usize>(given: &[f64]) -> [f64; N] {
    std::array::from_fn(|k| given.get(k).copied().unwrap_or_default())
}

/// The gauge package.
pub fn gauge(gauge: &channel_file::Gauge) -> Gauge {
    let mut package = Gauge::new(GaugeFactor(gauge.gauge_factor));
    if_stated!(package, gauge_factor_slope(PercentPer100C, gauge.gauge_factor_slope_percent_per_100_c));
    if_stated!(package, gauge_factor_polynomial(filled, gauge.gauge_factor_polynomial.as_deref()));
    package = package.gauge_factor_basis(match gauge.gauge_factor_refers_to {
        Basis::AtBalance => GaugeFactorBasis::AtBalance,
        Basis::UnloadedGauge => GaugeFactorBasis::UnloadedGauge,
        Basis::FreeFoil => {
            let given = gauge.forced_strain_microstrain.as_deref().unwrap_or_default();
            GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree(filled::<4>(given)))
        }
    });
    if_stated!(package, reference_temperature(Celsius, gauge.reference_temperature_c));
    if_stated!(package, matched_to(ExpansionPerCelsius::ppm, gauge.matched_expansion_ppm_per_c));
    if_stated!(package, transverse_sensitivity(Percent, gauge.transverse_sensitivity_percent));
    if_stated!(package, calibration_poisson_ratio(f64::from, gauge.calibration_poisson_ratio));
    if_stated!(package, thermal_output(thermal_output, &gauge.thermal_output));
    package
}

/// Curves of the packages that are not zero where they should be, as lines of a report.
pub fn curve_notes(description: &Description) -> Vec<String> {
    let second = description.compensating.as_ref().and_then(|second| second.gauge.as_ref());
    let packages = [("note", Some(&description.gauge)), ("compensating", second)];
    let noted = |(label, package): (&str, Option<&channel_file::Gauge>)| {
        let offset = gauge(package?).curve_offset()?.to_string();
        Some(format!("  {label:<15}{}", offset.replace("; ", &format!(";\n{:17}", ""))))
    };
    packages.into_iter().filter_map(noted).collect()
}

/// The gauge that compensates: the package, as far as it says, or that of the gauge that measures.
pub fn compensating_package<'a>(
    description: &'a Description,
    second: &'a Compensating,
) -> &'a channel_file::Gauge {
    second.gauge.as_ref().unwrap_or(&description.gauge)
}

fn compensating(description: &Description, second: &Compensating) -> Result<CompensatingGauge, Vec<String>> {
    let package = compensating_package(description, second);
    let mut compensating = CompensatingGauge::new(gauge(package));
    if let (Some(curve), Some([low, high])) = (&package.thermal_output, second.temperature_within_c) {
        let [from, to] = fitted(curve).map(|end| end.0);
        if !(from <= low && low < high && high <= to) {
            return Err(vec![format!(
                "temperature_within_c of [channel.compensating] is {low} to {high} C, \
                 the curve is fitted between {from} and {to} C"
            )]);
        }
        compensating = compensating.temperature_within(Celsius(low), Celsius(high));
    }
    if_stated!(compensating, specimen(ExpansionPerCelsius::ppm, second.specimen_expansion_ppm_per_c));
    if_stated!(compensating, balanced_at(Celsius, second.balance_temperature_c));
    Ok(compensating)
}

/// What a curve was fitted on.
pub fn fitted(curve: &channel_file::ThermalOutput) -> [Celsius; 2] {
    curve.fitted_between.map(|end| match curve.unit {
        Scale::Celsius => Celsius(end),
        Scale::Fahrenheit => Fahrenheit(end).celsius(),
    })
}

fn thermal_output(curve: &channel_file::ThermalOutput) -> ThermalOutput {
    let [low, high] = fitted(curve);
    let mut package = match curve.unit {
        Scale::Celsius => ThermalOutput::celsius_from(&curve.coefficients),
        Scale::Fahrenheit => ThermalOutput::fahrenheit_from(&curve.coefficients),
    }
    .between(low, high);
    if_stated!(package, stated_for(GaugeFactor, curve.stated_for_gauge_factor));
    package
}

fn full_scale(converter: &channel_file::Converter) -> Result<Ratio, &'static str> {
    match (converter.full_scale_millivolts_per_volt, converter.full_scale_ratio) {
        (Some(millivolts), None) => Ok(MillivoltsPerVolt(millivolts).ratio()),
        (None, Some(ratio)) => Ok(Ratio(ratio)),
        (None, None) => {
            Err("[channel.converter] needs one of full_scale_millivolts_per_volt and full_scale_ratio")
        }
        (Some(_), Some(_)) => Err("full_scale_millivolts_per_volt and full_scale_ratio exclude each other"),
    }
}
