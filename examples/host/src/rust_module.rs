//! Channels as constants of Rust: not their integers but what they are made from, so that the compiler of the firmware checks them
//! and certifies their kernels.

mod thermometer;

use std::fmt::Display;

use crate::channel_file::on_site::{OnSite, Place};
use crate::channel_file::{
    self, Basis, Bridge, ChannelFile, Circuit, Curvature, Description, MismatchScale, Scale,
};
use crate::describe::{compensating_package, describe, description_hash, fitted};
use crate::kernel::smallest;
use crate::on_site::{ranges, shunt_check, spans, wiring_check};
use crate::rosette::{angles, grids};
use crate::setup::Thermometer;

/// What stands before the channels: `name` is the file that they come from.
#[must_use]
pub fn head(name: &str) -> String {
    format!(
        "//! Channels of {}, made by gaugewright's example replay. A kernel whose error could exceed the limit of its\n\
         //! channel does not compile.\n\n\
         #[allow(unused_imports)]\n\
         use gaugewright::channel::{{Arm, ForcedStrain, GaugeFactorBasis, MismatchScale}};\n\
         #[allow(unused_imports)]\n\
         use gaugewright::installation::{{Shunt, ShuntCheck, WiringCheck}};\n\
         #[allow(unused_imports)]\n\
         use gaugewright::rosette::{{FixedRosetteKernel, Rosette}};\n\
         #[allow(unused_imports)]\n\
         use gaugewright::temperature::{{\n    \
         Platinum, ResistanceKernel, ResistanceThermometer, SensorLeads, Thermistor, Thermocouple, ThermocoupleInput,\n    \
         ThermocoupleKernel,\n\
         }};\n\
         #[allow(unused_imports)]\n\
         use gaugewright::units::*;\n\
         #[allow(unused_imports)]\n\
         use gaugewright::{{\n    \
         Bridge, Channel, CompensatedChannel, CompensatingGauge, Converter, Gauge, Instrument, ThermalOutput, fixed,\n\
         }};\n",
        in_comment(name)
    )
}

/// A channel and its kernel, with `lines` of the channel file in a comment.
///
/// # Errors
/// What is wrong with the channel.
pub fn channel(description: &Description, lines: &str) -> Result<String, String> {
    let described = describe(description).map_err(|problems| problems.join("; "))?;
    let limit = description.error_limit();
    let numbers = smallest(&described.channel, described.compensating, limit, None)?;
    let name = identifier(&description.name);
    let mut comment = format!("/// {}\n", in_comment(&description.name));
    if !lines.is_empty() {
        comment += "///\n/// ```toml\n";
        lines.lines().for_each(|line| comment += &format!("/// {}\n", in_comment(line)));
        comment += "/// ```\n";
    }
    let kind = if described.compensating.is_some() { "Compensated" } else { "" };
    let text = expression(description);
    let mut constants = format!(
        "\n{comment}pub const {name}: {kind}Channel = {text};\n\n\
         /// Hash of all that {name} is described with.\n#[allow(dead_code)]\n\
         pub const {name}_DESCRIPTION: u64 = 0x{hash:016x};\n\n\
         /// Within {limit} nanostrain of the exact model.\n\
         pub static {name}_KERNEL: fixed::{kind}Kernel<{numbers}> =\n    {name}.fixed_within(Nanostrain({limit}));\n",
        hash = description_hash(&described.channel, described.compensating),
        limit = number(limit.0),
    );
    if let Some(on_site) = &description.on_site {
        constants += &checks(&name, on_site, &described.channel)?;
        let ranges = ranges(&described.channel, on_site)?;
        let numbers = smallest(&described.channel, described.compensating, limit, Some(ranges))?;
        let ((low, high), _) = ranges;
        let spans = match on_site.shunt {
            Some(_) => format!("{name}_SHUNT.spans()"),
            None => span_range(on_site),
        };
        constants += &format!(
            "\n/// {name} for every zero and span that is taken on site, within {limit} nanostrain of the exact model.\n\
             pub static {name}_ON_SITE: fixed::Adjustable{kind}Kernel<{numbers}> =\n    \
             {name}.fixed_adjustable(({low}, {high}), {spans});\n\
             const _: () = assert!({name}_ON_SITE.error_bound().max().0 <= {limit});\n",
            limit = number(limit.0),
        );
    }
    if let (Some(words), Thermometer::Sensor(sensor)) = (&description.sensor, &described.columns.temperature)
    {
        constants += &thermometer::thermometer(&name, words, sensor, described.channel.temperatures());
    }
    Ok(constants)
}

fn span_range(on_site: &OnSite) -> String {
    let [least, most] = spans(on_site).map(number);
    format!("(fixed::Span::from_ratio({least}), fixed::Span::from_ratio({most}))")
}

/// The checks of wiring and shunt, where the file states what they need.
fn checks(name: &str, on_site: &OnSite, channel: &gaugewright::Channel) -> Result<String, String> {
    let mut constants = String::new();
    if let (Some(percent), Some(_)) = (on_site.resistor_tolerance_percent, wiring_check(channel, on_site)?) {
        constants += &format!(
            "\n/// Codes of {name} at rest, in order and with each fault of the wiring.\n#[allow(dead_code)]\n\
             pub static {name}_WIRING: WiringCheck = {name}.wiring_check(Percent({}));\n",
            number(percent)
        );
    }
    if let (Some(shunt), Some(_)) = (&on_site.shunt, shunt_check(channel, on_site)?) {
        let place = match shunt.at {
            Place::Gauge => "at_gauge",
            Place::Instrument => "at_instrument",
        };
        let arm = ["One", "Two", "Three", "Four"][(shunt.arm.clamp(1, 4) - 1) as usize];
        let tolerance = call_if_any("tolerance", shunt.tolerance_percent, of_unit("Percent"));
        constants += &format!(
            "\n/// The change of code that the shunt of {name} should make.\n#[allow(dead_code)]\n\
             pub static {name}_SHUNT: ShuntCheck = Shunt::{place}(Arm::{arm}, Ohms({ohm})){tolerance}\n    \
             .code_check(&{name}, {spans});\n",
            ohm = number(shunt.ohm),
            spans = span_range(on_site),
        );
    }
    Ok(constants)
}

/// A rosette of channels of the file.
///
/// # Errors
/// What is wrong with it.
pub fn rosette(words: &channel_file::rosette::Rosette, file: &ChannelFile) -> Result<String, String> {
    let _ = crate::rosette::combine(words, &file.channels)?;
    let angles: Vec<String> = angles(words)?.into_iter().map(of_unit("Degrees")).collect();
    let gauges: String = grids(words, &file.channels)?
        .into_iter()
        .map(|grid| format!("\n    {},", indented(&gauge(&grid.gauge))))
        .collect();
    let (kernel, letters) = match angles.len() {
        3 => ("FixedRosetteKernel".to_string(), "a, b and c"),
        grids => (format!("FixedRosetteKernel<{grids}>"), "from a on"),
    };
    Ok(format!(
        "\n/// {}: grids {letters} are {}.\n#[allow(dead_code)]\n\
         pub static {}_ROSETTE: {kernel} = Rosette::at_angles([{}])\n    .gauges(&[{}\n    ])\n    .fixed();\n",
        in_comment(&words.name),
        in_comment(&words.channels.join(", ")),
        identifier(&words.name),
        angles.join(", "),
        indented(&gauges),
    ))
}

/// On one line.
fn in_comment(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// A name of a constant, from any text.
#[must_use]
pub fn identifier(name: &str) -> String {
    let name: String =
        name.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_uppercase() } else { '_' }).collect();
    // A name may not begin with a digit, nor be a single underscore.
    if name.starts_with(|c: char| c.is_ascii_digit()) || name.chars().all(|c| c == '_') {
        format!("CHANNEL_{name}")
    } else {
        name
    }
}

/// As short as it can be to give the same bits, and always with a point or an exponent.
fn number(value: f64) -> String {
    format!("{value:?}")
}

fn numbers(values: &[f64]) -> String {
    let values: Vec<String> = values.iter().copied().map(number).collect();
    format!("[{}]", values.join(", "))
}

/// A call of a method, on a line of its own.
fn call(method: &str, arguments: impl Display) -> String {
    format!("\n    .{method}({arguments})")
}

/// The same where there is something to state.
fn call_if_any<T>(method: &str, value: Option<T>, argument: impl FnOnce(T) -> String) -> String {
    value.map(|value| call(method, argument(value))).unwrap_or_default()
}

fn of_unit(unit: &str) -> impl Fn(f64) -> String {
    move |value| format!("{unit}({})", number(value))
}

/// One level deeper.
fn indented(text: &str) -> String {
    text.replace('\n', "\n    ")
}

fn expression(description: &Description) -> String {
    let celsius = of_unit("Celsius");
    let mut text = source(description);
    text += &call_if_any(
        "specimen",
        description.specimen_expansion_ppm_per_c,
        of_unit("ExpansionPerCelsius::ppm"),
    );
    text += &call_if_any("mismatch_scale", description.mismatch_scale, |scale| {
        let scale = match scale {
            MismatchScale::GaugeFactorAtTemperature => "GaugeFactorAtTemperature",
            MismatchScale::GaugeFactorAtReference => "GaugeFactorAtReference",
            MismatchScale::StatedGaugeFactor => "StatedGaugeFactor",
        };
        format!("MismatchScale::{scale}")
    });
    text += &call_if_any("strain_ratio", description.strain_ratio, number);
    text +=
        &call_if_any("instrument_gauge_factor", description.instrument_gauge_factor, of_unit("GaugeFactor"));
    text += &call_if_any("balanced", description.balance.as_ref(), |balance| {
        format!("{}, {}", number(description.balance_code(balance)), celsius(balance.temperature_c))
    });
    text += &call_if_any("strain_within", description.strain_within_microstrain, of_unit("Microstrain"));
    text += &call_if_any("temperature_within", description.temperature_within_c, |[low, high]| {
        format!("{}, {}", celsius(low), celsius(high))
    });
    text += &call_if_any("compensated_by", description.compensating.as_ref(), |second| {
        let package = compensating_package(description, second);
        let mut text = format!(
            "\n    CompensatingGauge::new(\n        {},\n    )",
            indented(&indented(&gauge(package)))
        );
        text += &indented(&call_if_any("temperature_within", second.temperature_within_c, |[low, high]| {
            format!("{}, {}", celsius(low), celsius(high))
        }));
        text += &indented(&call_if_any(
            "specimen",
            second.specimen_expansion_ppm_per_c,
            of_unit("ExpansionPerCelsius::ppm"),
        ));
        text += &indented(&call_if_any("balanced_at", second.balance_temperature_c, of_unit("Celsius")));
        indented(&text) + ",\n    "
    });
    // Calls of the channel itself stand at the margin.
    text.replace("\n    .", "\n.")
}

/// Gauge, bridge and converter, or gauge and instrument.
fn source(description: &Description) -> String {
    let gauge = indented(&gauge(&description.gauge));
    let bridge =
        description.bridge.as_ref().map(|bridge| indented(&self::bridge(bridge))).unwrap_or_default();
    if let Some(shown) = &description.instrument {
        let (step, factor) = (number(shown.step_microstrain), number(shown.gauge_factor));
        return match shown.bridge_curvature {
            Curvature::TakenOut => format!(
                "Channel::from_readings(\n    {gauge},\n    Instrument::showing(Microstrain({step}), GaugeFactor({factor})),\n)"
            ),
            Curvature::LeftIn => format!(
                "Channel::new(\n    {gauge},\n    {bridge},\n    \
                 Converter::linear_strain(Microstrain({step}), GaugeFactor({factor})),\n)\n\
                 .instrument_gauge_factor(GaugeFactor({factor}))"
            ),
        };
    }
    let Some(converter) = &description.converter else { return String::new() };
    let full_scale = match (converter.full_scale_millivolts_per_volt, converter.full_scale_ratio) {
        (Some(millivolts), _) => format!("MillivoltsPerVolt({}).ratio()", number(millivolts)),
        (None, ratio) => format!("Ratio({})", number(ratio.unwrap_or_default())),
    };
    let bits = converter.bits;
    let span = call_if_any("span_correction", converter.span_correction, number);
    format!("Channel::new(\n    {gauge},\n    {bridge},\n    Converter::bipolar({bits}, {full_scale}),\n)")
        + &span
}

fn gauge(gauge: &channel_file::Gauge) -> String {
    let mut text = format!("Gauge::new(GaugeFactor({}))", number(gauge.gauge_factor));
    text += &call_if_any(
        "gauge_factor_slope",
        gauge.gauge_factor_slope_percent_per_100_c,
        of_unit("PercentPer100C"),
    );
    text += &call_if_any("gauge_factor_polynomial", gauge.gauge_factor_polynomial.as_deref(), |curve| {
        let mut curve = curve.to_vec();
        curve.resize(3, 0.0);
        numbers(&curve)
    });
    text += &match gauge.gauge_factor_refers_to {
        Basis::AtBalance => String::new(),
        Basis::UnloadedGauge => call("gauge_factor_basis", "GaugeFactorBasis::UnloadedGauge"),
        Basis::FreeFoil => {
            let forced = numbers(gauge.forced_strain_microstrain.as_deref().unwrap_or_default());
            call(
                "gauge_factor_basis",
                format!("GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree({forced}))"),
            )
        }
    };
    text += &call_if_any("reference_temperature", gauge.reference_temperature_c, of_unit("Celsius"));
    text +=
        &call_if_any("matched_to", gauge.matched_expansion_ppm_per_c, of_unit("ExpansionPerCelsius::ppm"));
    text += &call_if_any("transverse_sensitivity", gauge.transverse_sensitivity_percent, of_unit("Percent"));
    text += &call_if_any("calibration_poisson_ratio", gauge.calibration_poisson_ratio, number);
    text += &call_if_any("thermal_output", gauge.thermal_output.as_ref(), |curve| {
        let unit = match curve.unit {
            Scale::Celsius => "celsius",
            Scale::Fahrenheit => "fahrenheit",
        };
        let [low, high] = fitted(curve).map(|end| number(end.0));
        let mut text = format!("\n    ThermalOutput::{unit}({})", numbers(&curve.coefficients));
        text += &indented(&call("between", format!("Celsius({low}), Celsius({high})")));
        text += &indented(&call_if_any("stated_for", curve.stated_for_gauge_factor, of_unit("GaugeFactor")));
        indented(&text) + ",\n    "
    });
    text
}

fn bridge(bridge: &Bridge) -> String {
    let ohms = of_unit("Ohms");
    let gauge = ohms(bridge.gauge_ohm);
    let lead = ohms(bridge.lead_ohm.unwrap_or(0.0));
    let ratio = number(bridge.poisson_ratio.unwrap_or(f64::NAN));
    let leads = call("leads", &lead);
    let mut text = match bridge.circuit {
        Circuit::Quarter => format!("Bridge::quarter_ideal({gauge})"),
        Circuit::QuarterTwoWire => format!("Bridge::quarter_two_wire({gauge}, {lead})"),
        Circuit::QuarterThreeWire => format!("Bridge::quarter_three_wire({gauge}, {lead})"),
        Circuit::HalfCompensated => format!("Bridge::half_compensated({gauge}, {lead})"),
        Circuit::HalfAxialAndTransverse => format!("Bridge::half_poisson({gauge}, {lead}, {ratio})"),
        Circuit::HalfBending => format!("Bridge::half_bending({gauge}, {lead})"),
        Circuit::FullBending => format!("Bridge::full_bending({gauge}){leads}"),
        Circuit::FullAxialAndTransverse => format!("Bridge::full_poisson({gauge}, {ratio}){leads}"),
        Circuit::FullTorsion => format!("Bridge::full_torsion({gauge}){leads}"),
        Circuit::OppositeArms => format!("Bridge::opposite_arms({gauge}){leads}"),
    };
    text += &call_if_any("output_leads", bridge.output_lead_ohm, of_unit("Ohms"));
    text += &call_if_any("completion", bridge.completion_ohm, of_unit("Ohms"));
    text += &call_if_any("reference_half", bridge.reference_half_ohm, |[upper, lower]| {
        format!("{}, {}", ohms(upper), ohms(lower))
    });
    text += &call_if_any("input_resistance", bridge.input_ohm, of_unit("Ohms"));
    if bridge.remote_sense {
        text += &call("remote_sense", "");
    }
    if bridge.reversed {
        text += &call("reversed", "");
    }
    text
}
