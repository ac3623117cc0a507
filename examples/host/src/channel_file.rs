//! The channel file as text: TOML in the terms of gauge packages and wiring lists. `examples/replay/flight.toml`
//! explains every key. The words and their places are here; what they mean is in [`crate::setup`].

pub mod commissioning;
pub mod on_site;
pub mod rosette;
pub mod sensor;
pub mod uncertainty;

use gaugewright::units::{Celsius, GaugeFactor, Nanostrain};
use serde::{Deserialize, Deserializer, de};
use std::fmt;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue, ValueDeserializer};

/// What the file says, before anything is checked but its form.
pub struct ChannelFile {
    pub time_column: String,
    pub channels: Vec<Description>,
    pub rosettes: Vec<rosette::Rosette>,
}

/// No channel file is longer, in bytes.
const LARGEST: usize = 1_000_000;
/// Errors of form that are told.
const SHOWN: usize = 5;

/// A list of just so many numbers: the parser itself passes over what is too much.
pub fn exactly<'a, const COUNT: usize, D: Deserializer<'a>>(from: D) -> Result<[f64; COUNT], D::Error> {
    let numbers = Vec::<f64>::deserialize(from)?;
    let count = numbers.len();
    numbers.try_into().map_err(|_| de::Error::invalid_length(count, &&*format!("{COUNT} numbers")))
}

/// The same where the key may be left out.
pub fn exactly_if_any<'a, const COUNT: usize, D: Deserializer<'a>>(
    from: D,
) -> Result<Option<[f64; COUNT]>, D::Error> {
    exactly(from).map(Some)
}

/// The same of each row of a table.
pub fn rows_if_any<'a, const COUNT: usize, D: Deserializer<'a>>(
    from: D,
) -> Result<Option<Vec<[f64; COUNT]>>, D::Error> {
    #[derive(Deserialize)]
    struct Row<const COUNT: usize>(#[serde(deserialize_with = "exactly")] [f64; COUNT]);
    Ok(Some(Vec::<Row<COUNT>>::deserialize(from)?.into_iter().map(|row| row.0).collect()))
}

/// Something wrong in the file, on a line if that is known.
#[derive(Debug, PartialEq)]
pub struct Problem {
    pub line: Option<usize>,
    pub channel: Option<String>,
    pub text: String,
}

/// One `[[channel]]`.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Description {
    /// Of the file, where the channel begins.
    #[serde(skip)]
    pub line: usize,
    pub name: String,
    pub code_column: Option<String>,
    pub strain_column: Option<String>,
    pub temperature_column: Option<String>,
    pub sensor: Option<sensor::Sensor>,
    pub temperature_error_c: Option<f64>,
    #[serde(default)]
    pub temperature_unit: Scale,
    pub true_strain_column: Option<String>,
    pub gauge: Gauge,
    pub compensating: Option<Compensating>,
    pub bridge: Option<Bridge>,
    pub converter: Option<Converter>,
    pub instrument: Option<Instrument>,
    pub balance: Option<Balance>,
    pub on_site: Option<on_site::OnSite>,
    pub uncertainty: Option<uncertainty::Uncertainty>,
    pub specimen_expansion_ppm_per_c: Option<f64>,
    pub mismatch_scale: Option<MismatchScale>,
    pub strain_ratio: Option<f64>,
    pub instrument_gauge_factor: Option<f64>,
    pub strain_within_microstrain: Option<f64>,
    #[serde(default, deserialize_with = "exactly_if_any")]
    pub temperature_within_c: Option<[f64; 2]>,
    pub error_within_nanostrain: Option<f64>,
    pub commissioning: Option<commissioning::Commissioning>,
}

impl Description {
    /// What the arithmetic may be off, also where nothing is said.
    pub fn error_limit(&self) -> Nanostrain {
        let usual = if self.compensating.is_some() { 1.0 } else { 0.5 };
        Nanostrain(self.error_within_nanostrain.unwrap_or(usual))
    }

    /// Of the converter, or of an instrument's steps.
    pub fn balance_code(&self, balance: &Balance) -> f64 {
        let step = self.instrument.as_ref().map_or(1.0, |shown| shown.step_microstrain);
        balance.code.or(balance.reading_microstrain.map(|strain| strain / step)).unwrap_or(f64::NAN)
    }

    pub fn balanced_at(&self) -> Option<Celsius> {
        self.balance.as_ref().map(|balance| Celsius(balance.temperature_c))
    }

    /// Standard uncertainty of the temperature, C, by the stated error, which is a limit either way.
    pub fn temperature_uncertainty(&self) -> Option<f64> {
        self.temperature_error_c.map(|limit| limit / 3.0_f64.sqrt())
    }

    /// What indicated strain is expressed with.
    pub fn instrument_factor(&self) -> GaugeFactor {
        let shown = self.instrument.as_ref().map(|shown| shown.gauge_factor);
        GaugeFactor(self.instrument_gauge_factor.or(shown).unwrap_or(self.gauge.gauge_factor))
    }

    /// What is wrong with the channel.
    pub fn problem(&self, text: impl ToString) -> Problem {
        let channel = Some(format!("{:?}", self.name));
        Problem { line: Some(self.line), channel, text: text.to_string() }
    }
}

#[derive(Clone, Copy, Debug, Default, Deserialize)]
pub enum Scale {
    #[default]
    #[serde(rename = "C")]
    Celsius,
    #[serde(rename = "F")]
    Fahrenheit,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Gauge {
    pub gauge_factor: f64,
    pub gauge_factor_slope_percent_per_100_c: Option<f64>,
    pub gauge_factor_polynomial: Option<Vec<f64>>,
    #[serde(default)]
    pub gauge_factor_refers_to: Basis,
    pub forced_strain_microstrain: Option<Vec<f64>>,
    pub reference_temperature_c: Option<f64>,
    pub matched_expansion_ppm_per_c: Option<f64>,
    pub transverse_sensitivity_percent: Option<f64>,
    pub calibration_poisson_ratio: Option<f64>,
    pub thermal_output: Option<ThermalOutput>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Deserialize)]
pub enum Basis {
    #[default]
    #[serde(rename = "resistance at balance")]
    AtBalance,
    #[serde(rename = "unloaded gauge")]
    UnloadedGauge,
    #[serde(rename = "free foil")]
    FreeFoil,
}

impl Basis {
    pub const fn words(self) -> &'static str {
        match self {
            Self::AtBalance => "resistance at balance",
            Self::UnloadedGauge => "unloaded gauge",
            Self::FreeFoil => "free foil",
        }
    }
}

/// A compensating gauge with a temperature of its own.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Compensating {
    pub temperature_column: String,
    #[serde(default)]
    pub same_gauge: bool,
    pub gauge: Option<Gauge>,
    pub specimen_expansion_ppm_per_c: Option<f64>,
    pub balance_temperature_c: Option<f64>,
    #[serde(default, deserialize_with = "exactly_if_any")]
    pub temperature_within_c: Option<[f64; 2]>,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThermalOutput {
    pub unit: Scale,
    pub coefficients: Vec<f64>,
    pub stated_for_gauge_factor: Option<f64>,
    #[serde(deserialize_with = "exactly")]
    pub fitted_between: [f64; 2],
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bridge {
    #[serde(alias = "wiring")]
    pub circuit: Circuit,
    pub gauge_ohm: f64,
    pub lead_ohm: Option<f64>,
    pub output_lead_ohm: Option<f64>,
    pub poisson_ratio: Option<f64>,
    pub completion_ohm: Option<f64>,
    #[serde(default, deserialize_with = "exactly_if_any")]
    pub reference_half_ohm: Option<[f64; 2]>,
    pub input_ohm: Option<f64>,
    #[serde(default)]
    pub remote_sense: bool,
    #[serde(default)]
    pub reversed: bool,
}

#[derive(Clone, Copy, PartialEq, Deserialize)]
pub enum Circuit {
    #[serde(rename = "quarter")]
    Quarter,
    #[serde(rename = "quarter two-wire")]
    QuarterTwoWire,
    #[serde(rename = "quarter three-wire")]
    QuarterThreeWire,
    #[serde(rename = "half compensated")]
    HalfCompensated,
    #[serde(rename = "half axial and transverse")]
    HalfAxialAndTransverse,
    #[serde(rename = "half bending")]
    HalfBending,
    #[serde(rename = "full bending")]
    FullBending,
    #[serde(rename = "full axial and transverse")]
    FullAxialAndTransverse,
    #[serde(rename = "full torsion")]
    FullTorsion,
    #[serde(rename = "opposite arms")]
    OppositeArms,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Converter {
    pub bits: u32,
    pub full_scale_millivolts_per_volt: Option<f64>,
    pub full_scale_ratio: Option<f64>,
    pub span_correction: Option<f64>,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Instrument {
    pub step_microstrain: f64,
    pub gauge_factor: f64,
    #[serde(default)]
    pub bridge_curvature: Curvature,
}

#[derive(Clone, Copy, Default, PartialEq, Deserialize)]
pub enum Curvature {
    #[default]
    #[serde(rename = "taken out")]
    TakenOut,
    #[serde(rename = "left in")]
    LeftIn,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Balance {
    pub code: Option<f64>,
    pub reading_microstrain: Option<f64>,
    pub temperature_c: f64,
}

#[derive(Clone, Copy, Deserialize)]
pub enum MismatchScale {
    #[serde(rename = "gauge factor at temperature")]
    GaugeFactorAtTemperature,
    #[serde(rename = "gauge factor at reference")]
    GaugeFactorAtReference,
    #[serde(rename = "stated gauge factor")]
    StatedGaugeFactor,
}

/// Reads the form of the file. A channel that cannot be read does not hide what is wrong with the next one.
///
/// # Errors
/// Every problem that can be told apart.
pub fn parse(text: &str) -> Result<ChannelFile, Vec<Problem>> {
    let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'));
    if lines.next().is_some_and(|line| line.contains(',') && !line.contains('=') && !line.starts_with('[')) {
        return Err(vec![Problem::of_file(
            "it looks like samples (CSV); expected: the channel file first, then the CSV",
        )]);
    }
    if text.len() > LARGEST {
        return Err(vec![Problem::of_file("it is too long for a channel file: more than a million bytes")]);
    }
    let (table, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        // What follows the first ones mostly follows from them.
        let more = errors.len().saturating_sub(SHOWN);
        let problem = |error| Problem::of(text, error, None, None);
        let mut problems: Vec<Problem> = errors.into_iter().take(SHOWN).map(problem).collect();
        if more > 0 {
            problems.push(Problem::of_file(&format!("and {more} more")));
        }
        return Err(problems);
    }
    let mut problems = Vec::new();
    let mut time_column = None;
    let (mut channels, mut rosettes) = (None, None);
    for (key, value) in table.into_inner() {
        match key.get_ref().as_ref() {
            "time_column" => match String::deserialize(ValueDeserializer::from(value)) {
                Ok(name) => time_column = Some(name),
                Err(error) => problems.push(Problem::of(text, error, Some(key.span()), None)),
            },
            "channel" => channels = Some(value),
            "rosette" => rosettes = Some(value),
            unknown => problems.push(Problem {
                line: Some(line_of(text, key.span())),
                channel: None,
                text: format!(
                    "unknown key `{unknown}`, expected `time_column`, [[channel]] or [[rosette]] tables"
                ),
            }),
        }
    }
    if time_column.is_none() && problems.is_empty() {
        problems.push(Problem::of_file("missing key `time_column`"));
    }
    let channels = match channels {
        Some(value) => parse_tables(text, "channel", value, &mut problems, |channel: Description, line| {
            Description { line, ..channel }
        }),
        None => Vec::new(),
    };
    let rosettes = match rosettes {
        Some(value) => {
            parse_tables(text, "rosette", value, &mut problems, |rosette: rosette::Rosette, line| {
                rosette::Rosette { line, ..rosette }
            })
        }
        None => Vec::new(),
    };
    if channels.is_empty() && problems.is_empty() {
        problems.push(Problem::of_file("no [[channel]] in it"));
    }
    match time_column {
        Some(time_column) if problems.is_empty() => Ok(ChannelFile { time_column, channels, rosettes }),
        _ => Err(problems),
    }
}

/// The tables of a kind, each with the line where it begins.
fn parse_tables<'a, T: Deserialize<'a>>(
    text: &str,
    kind: &str,
    value: Spanned<DeValue<'a>>,
    problems: &mut Vec<Problem>,
    with_line: impl Fn(T, usize) -> T,
) -> Vec<T> {
    let span = value.span();
    let DeValue::Array(items) = value.into_inner() else {
        problems.push(Problem {
            line: Some(line_of(text, span)),
            channel: None,
            text: format!("`{kind}` is one table: write [[{kind}]], with two brackets"),
        });
        return Vec::new();
    };
    let mut tables = Vec::new();
    for (index, item) in items.into_iter().enumerate() {
        let span = item.span();
        let name = match item.get_ref() {
            DeValue::Table(table) => table.get("name").and_then(|name| name.get_ref().as_str()),
            _ => None,
        };
        let name = name.map_or_else(|| format!("number {}", index + 1), |name| format!("{name:?}"));
        match T::deserialize(ValueDeserializer::from(item)) {
            Ok(table) => tables.push(with_line(table, line_of(text, span))),
            Err(error) => {
                let problem = Problem::of(text, error, Some(span), None);
                problems.push(problem.about(kind, name));
            }
        }
    }
    tables
}

impl Problem {
    pub fn of_file(text: &str) -> Self {
        Self { line: None, channel: None, text: text.to_string() }
    }

    /// What it is about: a channel by its name, another table in the text.
    fn about(self, kind: &str, name: String) -> Self {
        if kind == "channel" {
            Self { channel: Some(name), ..self }
        } else {
            Self { text: format!("{kind} {name}: {}", self.text), ..self }
        }
    }

    fn of(
        text: &str,
        mut error: toml::de::Error,
        otherwise: Option<Range<usize>>,
        channel: Option<String>,
    ) -> Self {
        // Its own picture of the place fills four lines; the number of the line does.
        error.set_input(None);
        let span = error.span().or(otherwise);
        Self {
            line: span.map(|span| line_of(text, span)),
            channel,
            // The last line of the message names the table.
            text: error.to_string().trim_end().replace('\n', ", "),
        }
    }
}

/// As `:12: channel "strut": ...`, to follow the name of the file.
impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(f, ":{line}")?;
        }
        if let Some(channel) = &self.channel {
            write!(f, ": channel {channel}")?;
        }
        write!(f, ": {}", self.text)
    }
}

fn line_of(text: &str, span: Range<usize>) -> usize {
    let before = text.as_bytes().iter().take(span.start);
    1 + before.filter(|&&byte| byte == b'\n').count()
}

#[cfg(test)]
mod tests {
    use super::*;

    const CHANNEL: &str = r#"
[[channel]]
name = "a"
code_column = "code"
temperature_column = "t"
gauge = { gauge_factor = 2, thermal_output = { unit = "C", coefficients = [0], fitted_between = [0, 50] } }
"#;

    fn problems(text: &str) -> Vec<String> {
        match parse(text) {
            Ok(_) => Vec::new(),
            Err(problems) => problems.iter().map(ToString::to_string).collect(),
        }
    }

    #[test]
    fn whole_numbers_are_numbers() {
        let file = parse(&format!("time_column = \"t\"{CHANNEL}"));
        assert!(file.is_ok_and(|file| file.channels[0].gauge.gauge_factor == 2.0));
    }

    #[test]
    fn every_channel_with_a_wrong_key_is_told() {
        let text = format!("time_column = \"t\"{CHANNEL}lead_ohms = 1{CHANNEL}ohms = 2");
        let problems = problems(&text);
        assert_eq!(problems.len(), 2);
        assert!(problems[0].starts_with(":7: channel \"a\": unknown field `lead_ohms`"));
        assert!(problems[1].starts_with(":13: channel \"a\": unknown field `ohms`"));
    }

    #[test]
    fn what_is_missing_at_the_top_is_told() {
        assert_eq!(problems(CHANNEL), [": missing key `time_column`"]);
        assert_eq!(problems("time_column = 't'"), [": no [[channel]] in it"]);
        assert!(problems("time_column = 3")[0].starts_with(":1: invalid type"));
        assert!(problems("time_column = 't'\nsize = 1")[0].starts_with(":2: unknown key `size`"));
    }
}
