//! What the words of a channel file are in the library.

use crate::channel_file::{self, Curvature, Description, Scale, Wiring};
use crate::contradictions::contradictions;
use crate::setup::Columns;
use gaugewright::units::{
    Celsius, ExpansionPerCelsius, Fahrenheit, GaugeFactor, Microstrain, Ohms, Percent, PercentPer100C, Ratio,
};
use gaugewright::{Bridge, Converter, Gauge, Instrument, MismatchScale, ThermalOutput};

/// The channel as the library has it, not yet checked by it.
///
/// # Errors
/// What the file says twice, or not at all.
pub fn describe(description: &Description) -> Result<(gaugewright::Channel, Columns), Vec<String>> {
    let mut problems = contradictions(description);
    let source = source(description, &mut problems);
    let (Some((mut channel, value)), true) = (source, problems.is_empty()) else {
        return Err(problems);
    };
    if let Some(ppm) = description.specimen_expansion_ppm_per_c {
        channel = channel.specimen(ExpansionPerCelsius::ppm(ppm));
    }
    if let Some(scale) = description.mismatch_scale {
        channel = channel.mismatch_scale(match scale {
            channel_file::MismatchScale::GaugeFactorAtTemperature => MismatchScale::GaugeFactorAtTemperature,
            channel_file::MismatchScale::GaugeFactorAtReference => MismatchScale::GaugeFactorAtReference,
            channel_file::MismatchScale::StatedGaugeFactor => MismatchScale::StatedGaugeFactor,
        });
    }
    if let Some(factor) = description.instrument_gauge_factor {
        channel = channel.instrument_gauge_factor(GaugeFactor(factor));
    }
    if let Some(balance) = &description.balance {
        let step = description.instrument.as_ref().map_or(1.0, |shown| shown.step_microstrain);
        let code = balance.code.or(balance.reading_microstrain.map(|strain| strain / step));
        channel = channel.balanced(code.unwrap_or(f64::NAN), Celsius(balance.temperature_c));
    }
    if let Some(limit) = description.strain_within_microstrain {
        channel = channel.strain_within(Microstrain(limit));
    }
    if let Some([low, high]) = description.temperature_within_c {
        channel = channel.temperature_within(Celsius(low), Celsius(high));
    }
    let columns = Columns {
        value,
        temperature: description.temperature_column.clone(),
        true_strain: description.true_strain_column.clone(),
    };
    Ok((channel, columns))
}

/// Gauge, circuit and converter, or gauge and instrument; and the column of the samples.
fn source(description: &Description, problems: &mut Vec<String>) -> Option<(gaugewright::Channel, String)> {
    let gauge = gauge(&description.gauge);
    let bridge = description.bridge.as_ref().map(bridge);
    match (&description.code_column, &description.strain_column) {
        (Some(column), None) => {
            let converter = description.converter.as_ref().and_then(|converter| {
                let full_scale = full_scale(converter);
                if full_scale.is_none() {
                    problems.push(
                        "[channel.converter] needs one of full_scale_millivolts_per_volt and full_scale_ratio"
                            .to_string(),
                    );
                }
                full_scale.map(|full_scale| Converter::bipolar(converter.bits, full_scale))
            });
            Some((gaugewright::Channel::new(gauge, bridge?, converter?), column.clone()))
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

/// The gauge package.
pub fn gauge(gauge: &channel_file::Gauge) -> Gauge {
    let mut package = Gauge::new(GaugeFactor(gauge.gauge_factor));
    if let Some(slope) = gauge.gauge_factor_slope_percent_per_100_c {
        package = package.gauge_factor_slope(PercentPer100C(slope));
    }
    if let Some(curve) = &gauge.gauge_factor_polynomial {
        let mut change = [0.0; 3];
        change.iter_mut().zip(curve).for_each(|(to, from)| *to = *from);
        package = package.gauge_factor_polynomial(change);
    }
    if let Some(temperature) = gauge.reference_temperature_c {
        package = package.reference_temperature(Celsius(temperature));
    }
    if let Some(ppm) = gauge.matched_expansion_ppm_per_c {
        package = package.matched_to(ExpansionPerCelsius::ppm(ppm));
    }
    if let Some(percent) = gauge.transverse_sensitivity_percent {
        package = package.transverse_sensitivity(Percent(percent));
    }
    if let Some(ratio) = gauge.calibration_poisson_ratio {
        package = package.calibration_poisson_ratio(ratio);
    }
    package.thermal_output(thermal_output(&gauge.thermal_output))
}

fn thermal_output(curve: &channel_file::ThermalOutput) -> ThermalOutput {
    let [low, high] = curve.fitted_between;
    let package = match curve.unit {
        Scale::Celsius => {
            ThermalOutput::celsius_from(&curve.coefficients).between(Celsius(low), Celsius(high))
        }
        Scale::Fahrenheit => ThermalOutput::fahrenheit_from(&curve.coefficients)
            .between(Fahrenheit(low).celsius(), Fahrenheit(high).celsius()),
    };
    match curve.stated_for_gauge_factor {
        Some(factor) => package.stated_for(GaugeFactor(factor)),
        None => package,
    }
}

fn bridge(bridge: &channel_file::Bridge) -> Bridge {
    let gauge = Ohms(bridge.gauge_ohm);
    let lead = Ohms(bridge.lead_ohm.unwrap_or(0.0));
    let mut circuit = match bridge.wiring {
        Wiring::Quarter => Bridge::quarter_ideal(gauge),
        Wiring::QuarterTwoWire => Bridge::quarter_two_wire(gauge, lead),
        Wiring::QuarterThreeWire => Bridge::quarter_three_wire(gauge, lead),
    };
    if let Some(ohms) = bridge.completion_ohm {
        circuit = circuit.completion(Ohms(ohms));
    }
    if let Some([upper, lower]) = bridge.reference_half_ohm {
        circuit = circuit.reference_half(Ohms(upper), Ohms(lower));
    }
    if let Some(ohms) = bridge.input_ohm {
        circuit = circuit.input_resistance(Ohms(ohms));
    }
    circuit
}

fn full_scale(converter: &channel_file::Converter) -> Option<Ratio> {
    match (converter.full_scale_millivolts_per_volt, converter.full_scale_ratio) {
        (Some(millivolts), None) => Some(Ratio(millivolts / 1e3)),
        (None, Some(ratio)) => Some(Ratio(ratio)),
        _ => None,
    }
}
