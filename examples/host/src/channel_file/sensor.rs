//! The words of `[channel.sensor]`.

use serde::Deserialize;

/// A temperature sensor as it is read, in place of a column of temperatures.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sensor {
    pub kind: Kind,
    pub ohm_column: Option<String>,
    pub millivolt_column: Option<String>,
    pub code_column: Option<String>,
    pub converter: Option<SensorConverter>,
    pub nominal_ohm: Option<f64>,
    pub nominal_temperature_c: Option<f64>,
    #[serde(default, deserialize_with = "super::exactly_if_any")]
    pub callendar_van_dusen: Option<[f64; 3]>,
    pub tolerance_class: Option<Class>,
    pub element: Option<Element>,
    #[serde(default, deserialize_with = "super::exactly_if_any")]
    pub steinhart_hart: Option<[f64; 3]>,
    pub beta_kelvin: Option<f64>,
    pub leads: Option<Leads>,
    pub lead_ohm: Option<f64>,
    pub pair_ohm: Option<f64>,
    pub pair_column: Option<String>,
    pub thermocouple_type: Option<ThermocoupleType>,
    pub cold_junction_c: Option<f64>,
    pub cold_junction_column: Option<String>,
    pub measuring_current_milliamperes: Option<f64>,
    pub dissipation_milliwatts_per_c: Option<f64>,
    pub first_column: Option<String>,
    pub second_column: Option<String>,
    pub fraction_of_way: Option<f64>,
}

#[derive(Clone, Copy, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    Platinum,
    Thermocouple,
    Thermistor,
    /// A sensor on either side of the gauge, each with a column of temperatures.
    Pair,
}

/// Where the sensor is read as codes.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SensorConverter {
    pub bits: u32,
    pub full_scale_ratio: Option<f64>,
    pub reference_ohm: Option<f64>,
    pub full_scale_millivolts: Option<f64>,
    #[serde(default)]
    pub divider: bool,
}

#[derive(Clone, Copy, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Leads {
    Two,
    Three,
    Four,
}

#[derive(Clone, Copy, Deserialize)]
pub enum ThermocoupleType {
    J,
    K,
    T,
    E,
    N,
    R,
    S,
    B,
}

#[derive(Clone, Copy, Deserialize)]
pub enum Class {
    AA,
    A,
    B,
    C,
}

#[derive(Clone, Copy, Deserialize)]
pub enum Element {
    #[serde(rename = "wire wound")]
    WireWound,
    #[serde(rename = "film")]
    Film,
}
