//! The keys of a channel file that an error of the library is about. The library has its own names of them; whoever wrote the file has its
//! keys.

use crate::channel_file::commissioning::Expansion;
use crate::channel_file::rosette::Rosette;
use crate::channel_file::sensor::Sensor;
use crate::channel_file::{Description, Gauge, ThermalOutput};
use gaugewright::Error;
use gaugewright::error::{Field, Quantity};

/// A key, and what stands under it as far as it is a number in the unit of the error.
type Stated = (String, Vec<f64>);

/// The error of a channel, and behind it the key, or those that it may be about.
pub fn told(description: &Description, error: Error) -> String {
    let (field, values) = match error {
        Error::Invalid { field, value, .. } => (field, vec![value]),
        Error::Reversed { field, low, high } => (field, vec![low, high]),
        Error::Bound { .. } => return with(error, &["error_within_nanostrain".to_string()]),
        Error::Overflow { quantity, .. } => return with(error, &that_make(description, quantity)),
        _ => return error.to_string(),
    };
    let candidates = of_channel(description, field);
    // A change of unit there and back leaves rounding.
    let is_one = |one: f64, other: f64| (one - other).abs() <= 1e-12 * one.abs();
    let is_meant = |stated: &&Stated| stated.1.iter().any(|one| values.iter().any(|it| is_one(*one, *it)));
    let meant: Vec<String> = candidates.iter().filter(is_meant).map(|(key, _)| key.clone()).collect();
    let all = || candidates.iter().map(|(key, _)| key.clone()).collect();
    with(error, &if meant.is_empty() { all() } else { meant })
}

/// The error of a field, and behind it its key where that is not empty.
fn told_by_field(error: Error, key: impl Fn(Field) -> &'static str) -> String {
    match error {
        Error::Invalid { field, .. } | Error::Reversed { field, .. } if !key(field).is_empty() => {
            with(error, &[key(field).to_string()])
        }
        _ => error.to_string(),
    }
}

/// The same of a sensor.
pub fn told_of_sensor(words: &Sensor, error: Error) -> String {
    told_by_field(error, |field| match field {
        Field::ResistanceAtZero => "nominal_ohm",
        Field::CallendarVanDusen => "callendar_van_dusen",
        Field::LeadResistance if words.pair_ohm.is_some() => "pair_ohm",
        Field::LeadResistance => "lead_ohm",
        Field::ConverterBits => "bits of [channel.sensor.converter]",
        Field::FullScaleRatio => "full_scale_ratio of [channel.sensor.converter]",
        Field::FullScaleEmf => "full_scale_millivolts of [channel.sensor.converter]",
        Field::ReferenceResistor => "reference_ohm of [channel.sensor.converter]",
        Field::DissipationConstant => "dissipation_milliwatts_per_c",
        Field::SensorCurrent | Field::SensorPower => "measuring_current_milliamperes",
        Field::ColdJunctionTemperature => "cold_junction_c",
        Field::FractionOfWay => "fraction_of_way",
        Field::ThermistorBeta => "beta_kelvin",
        Field::ThermistorCoefficient | Field::ThermistorSlope => "steinhart_hart",
        Field::SensorResistance => "nominal_ohm",
        Field::Temperature => "nominal_temperature_c",
        _ => "",
    })
}

/// The same of a zero or a span that a logger takes on site, and of a shunt.
pub fn told_on_site(error: Error) -> String {
    told_by_field(error, |field| match field {
        Field::SpanCorrection | Field::SpanLimit => "span_correction_within of [channel.on_site]",
        Field::BalanceCode | Field::BalanceRatio => "balance_code_within of [channel.on_site]",
        Field::ShuntResistance => "ohm",
        Field::ShuntTolerance => "tolerance_percent",
        _ => "",
    })
}

/// The same of a material's expansion, of the table that the caller names.
pub fn told_of_expansion(words: &Expansion, error: Error) -> String {
    let table = if words.mean_table.is_some() { "mean_table" } else { "table" };
    if let Error::Reversed { .. } = error {
        return with(error, &[table.to_string()]);
    }
    told_by_field(error, |field| match field {
        Field::ExpansionCoefficient if words.ppm_per_c.is_some() => "ppm_per_c",
        Field::ExpansionUncertainty => "standard_uncertainty_ppm_per_c",
        Field::ExpansionOrigin => "mean_from_c",
        Field::ExpansionCoefficient
        | Field::ExpansionStrain
        | Field::ExpansionPoints
        | Field::ExpansionPointTemperature
        | Field::ExpansionLow
        | Field::ExpansionHigh => table,
        _ => "",
    })
}

/// The same of a rosette; what is about the channels of its grids names those.
pub fn told_of_rosette(words: &Rosette, error: Error) -> String {
    if let Error::Overflow { quantity: Quantity::RosetteConstants, value, limit } = error {
        return format!(
            "angles_degrees: the grids are too close to each other; an error of their strains is {value:.1} times as large in what \
             is computed, allowed: {limit:.2} times"
        );
    }
    let value = if let Error::Invalid { value, .. } = error { Some(value) } else { None };
    told_by_field(error, |field| match field {
        Field::GridAngle | Field::GridSeparation | Field::RosetteGain => "angles_degrees",
        Field::StrainUncertainty | Field::ResidualUncertainty => "grid_uncertainty_microstrain",
        Field::AngleUncertainty if value.is_some() && words.angle_uncertainty_degrees == value => {
            "angle_uncertainty_degrees"
        }
        Field::AngleUncertainty => "alignment_uncertainty_degrees",
        Field::GridStrain => "strain_within_microstrain of the channels",
        Field::TransverseSensitivity => "transverse_sensitivity_percent of the channels",
        _ => "",
    })
}

/// The same of a foil's resistance.
pub fn told_of_foil(error: Error) -> String {
    told_by_field(error, |field| match field {
        Field::FoilCoefficient => "resistance_coefficients",
        Field::FoilUncertainty => "resistance_uncertainties",
        Field::FoilLow | Field::FoilHigh => "between_c",
        _ => "",
    })
}

fn with(error: Error, keys: &[String]) -> String {
    if keys.is_empty() { error.to_string() } else { format!("{error} ({})", keys.join(" or ")) }
}

/// Keys that make a number of the kernel too large.
fn that_make(description: &Description, quantity: Quantity) -> Vec<String> {
    let ranges = ["strain_within_microstrain", "temperature_within_c"].map(String::from);
    match quantity {
        Quantity::CodeWindow => [Field::FullScaleRatio, Field::BalanceCode, Field::ThermalOutputCoefficient]
            .into_iter()
            .flat_map(|field| of_channel(description, field))
            .map(|(key, _)| key)
            .collect(),
        Quantity::UncertaintyRow => Vec::new(),
        _ => ranges.into(),
    }
}

/// Keys that a field may stand under.
fn of_channel(description: &Description, field: Field) -> Vec<Stated> {
    let bridge = description.bridge.as_ref();
    let converter = description.converter.as_ref();
    let balance = description.balance.as_ref();
    let shown = description.instrument.as_ref();
    let second = description.compensating.as_ref();
    let site = description.on_site.as_ref();
    let words = description.uncertainty.as_ref();
    // One that stands alone needs no value to be told from another.
    let key = |key: &str| vec![(key.to_string(), Vec::new())];
    let with = |key: &str, values: &[f64]| (key.to_string(), values.to_vec());
    match field {
        Field::GaugeFactor => of_gauges(description, "gauge_factor", |gauge| [gauge.gauge_factor]),
        Field::GaugeFactorCurve | Field::GaugeFactorCoefficient => {
            let has_polynomial = description.gauge.gauge_factor_polynomial.is_some();
            let key = if has_polynomial {
                "gauge_factor_polynomial"
            } else {
                "gauge_factor_slope_percent_per_100_c"
            };
            of_gauges(description, key, |gauge| gauge.gauge_factor_polynomial.clone().unwrap_or_default())
        }
        Field::ForcedStrainCoefficient | Field::ForcedChange => {
            of_gauges(description, "forced_strain_microstrain", |gauge| {
                gauge.forced_strain_microstrain.clone().unwrap_or_default()
            })
        }
        Field::ReferenceTemperature => {
            of_gauges(description, "reference_temperature_c", |gauge| gauge.reference_temperature_c)
        }
        Field::MatchedExpansion => {
            of_gauges(description, "matched_expansion_ppm_per_c", |gauge| gauge.matched_expansion_ppm_per_c)
        }
        Field::TransverseSensitivity => of_gauges(description, "transverse_sensitivity_percent", |gauge| {
            gauge.transverse_sensitivity_percent
        }),
        Field::CalibrationPoissonRatio => {
            of_gauges(description, "calibration_poisson_ratio", |gauge| gauge.calibration_poisson_ratio)
        }
        Field::StatedGaugeFactor => {
            of_curves(description, "stated_for_gauge_factor", |curve| curve.stated_for_gauge_factor)
        }
        Field::ThermalOutput | Field::ThermalOutputDegree | Field::ThermalOutputCoefficient => {
            of_curves(description, "coefficients", |curve| curve.coefficients.clone())
        }
        Field::FittedLow | Field::FittedHigh => {
            of_curves(description, "fitted_between", |curve| curve.fitted_between)
        }
        Field::TemperatureLow | Field::TemperatureHigh | Field::TemperatureWidth => {
            let own = description.temperature_within_c.map(|ends| with("temperature_within_c", &ends));
            let of_second = second
                .and_then(|second| second.temperature_within_c)
                .map(|ends| with("temperature_within_c of [channel.compensating]", &ends));
            let stated: Vec<Stated> = own.into_iter().chain(of_second).collect();
            if stated.is_empty() { of_channel(description, Field::FittedLow) } else { stated }
        }
        Field::SpecimenExpansion => {
            let name = "specimen_expansion_ppm_per_c";
            let own = with(name, description.specimen_expansion_ppm_per_c.as_slice());
            let name = format!("{name} of [channel.compensating]");
            let of_second = second.map(|second| with(&name, second.specimen_expansion_ppm_per_c.as_slice()));
            [own].into_iter().chain(of_second).collect()
        }
        Field::InstrumentGaugeFactor if shown.is_some() => key("gauge_factor of [channel.instrument]"),
        Field::InstrumentGaugeFactor => key("instrument_gauge_factor"),
        Field::GaugeResistance => key("gauge_ohm of [channel.bridge]"),
        Field::LeadResistance => vec![
            with("lead_ohm of [channel.bridge]", bridge.and_then(|it| it.lead_ohm).as_slice()),
            with("output_lead_ohm of [channel.bridge]", bridge.and_then(|it| it.output_lead_ohm).as_slice()),
        ],
        Field::CompletionResistance => key("completion_ohm of [channel.bridge]"),
        Field::ReferenceResistance => key("reference_half_ohm of [channel.bridge]"),
        Field::InputResistance => key("input_ohm of [channel.bridge]"),
        Field::PoissonRatio => key("poisson_ratio of [channel.bridge]"),
        Field::ConverterBits => key("bits of [channel.converter]"),
        Field::FullScaleRatio => {
            let is_ratio = converter.is_some_and(|converter| converter.full_scale_ratio.is_some());
            let name = if is_ratio { "full_scale_ratio" } else { "full_scale_millivolts_per_volt" };
            key(&format!("{name} of [channel.converter]"))
        }
        Field::ReadingStep => key("step_microstrain of [channel.instrument]"),
        Field::SpanCorrection => {
            let stated = converter.and_then(|converter| converter.span_correction);
            let own = with("span_correction of [channel.converter]", stated.as_slice());
            let range = site.and_then(|site| site.span_correction_within);
            let on_site = range.map(|ends| with("span_correction_within of [channel.on_site]", &ends));
            [own].into_iter().chain(on_site).collect()
        }
        Field::BalanceCode | Field::BalanceRatio => {
            let is_code = balance.is_none_or(|balance| balance.code.is_some());
            key(if is_code {
                "code of [channel.balance]"
            } else {
                "reading_microstrain of [channel.balance]"
            })
        }
        Field::BalanceTemperature => key("temperature_c of [channel.balance]"),
        Field::CompensatingBalanceTemperature => {
            let is_own = second.is_some_and(|second| second.balance_temperature_c.is_some());
            key(if is_own {
                "balance_temperature_c of [channel.compensating]"
            } else {
                "temperature_c of [channel.balance]"
            })
        }
        Field::StrainRange => key("strain_within_microstrain"),
        Field::StrainRatio => key("strain_ratio"),
        Field::KernelBound => key("error_within_nanostrain"),
        Field::TemperatureError => key("temperature_error_c"),
        Field::ShuntResistance | Field::ShuntTolerance => key("shunt of [channel.on_site]"),
        Field::WindowLow | Field::WindowHigh => key("window_c of [channel.commissioning], --window"),
        Field::ExpansionTemperature => key("[channel.commissioning.part], package_material, foil"),
        // Their table is named before the error.
        Field::GaugeFactorUncertainty => key("gauge_factor_percent"),
        Field::GaugeFactorSlopeUncertainty => key("gauge_factor_slope_percent_per_100_c"),
        Field::StrainRatioUncertainty => key("strain_ratio"),
        Field::TransverseSensitivityUncertainty => key("transverse_sensitivity_percent"),
        Field::TemperatureUncertainty if words.is_some_and(|words| words.temperature_c.is_none()) => {
            key("temperature_error_c over the square root of 3")
        }
        Field::TemperatureUncertainty => key("temperature_c"),
        Field::BalanceTemperatureUncertainty => key("balance_temperature_c"),
        Field::ThermometerUncertainty => key("thermometer_c"),
        Field::ThermalOutputUncertainty => key("thermal_output_microstrain"),
        Field::ThermalOutputSlopeUncertainty => key("thermal_output_slope_microstrain_per_c"),
        Field::ExpansionUncertainty => key("expansion_ppm_per_c"),
        Field::LeadResistanceUncertainty => key("lead_ohm"),
        Field::LeadTemperatureUncertainty => key("lead_temperature_c"),
        Field::PoissonUncertainty => key("poisson_ratio"),
        Field::RatioUncertainty => key("output_ratio_percent"),
        Field::ReadingNoise => key(if shown.is_some() { "noise_microstrain" } else { "noise_codes" }),
        Field::Quantisation => {
            key(if shown.is_some() { "quantisation_microstrain" } else { "quantisation_codes" })
        }
        Field::BalanceNoise => {
            key(if shown.is_some() { "balance_noise_microstrain" } else { "balance_noise_codes" })
        }
        Field::DegreesOfFreedom => key("degrees_of_freedom"),
        _ => Vec::new(),
    }
}

/// A key of the gauge, and of one that compensates and has its own package.
fn of_gauges<T: IntoIterator<Item = f64>>(
    description: &Description,
    key: &str,
    values: impl Fn(&Gauge) -> T,
) -> Vec<Stated> {
    let stated = |(table, gauge)| (format!("{key} of [{table}]"), values(gauge).into_iter().collect());
    packages(description).map(stated).collect()
}

/// The same of their curves.
fn of_curves<T: IntoIterator<Item = f64>>(
    description: &Description,
    key: &str,
    values: impl Fn(&ThermalOutput) -> T,
) -> Vec<Stated> {
    let stated = |(table, gauge): (&str, &Gauge)| {
        let values = values(gauge.thermal_output.as_ref()?).into_iter().collect();
        Some((format!("{key} of [{table}.thermal_output]"), values))
    };
    packages(description).filter_map(stated).collect()
}

/// With their tables.
fn packages(description: &Description) -> impl Iterator<Item = (&'static str, &Gauge)> {
    let second = description.compensating.as_ref().and_then(|second| second.gauge.as_ref());
    [("channel.gauge", &description.gauge)]
        .into_iter()
        .chain(second.map(|gauge| ("channel.compensating.gauge", gauge)))
}
