//! The words of `[channel.on_site]`: what a logger does on site, before it measures.

use serde::Deserialize;

/// Ranges of the zero and the span that a logger takes, and what it checks wiring and shunt with.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OnSite {
    #[serde(deserialize_with = "super::exactly")]
    pub balance_code_within: [f64; 2],
    #[serde(default, deserialize_with = "super::exactly_if_any")]
    pub span_correction_within: Option<[f64; 2]>,
    pub resistor_tolerance_percent: Option<f64>,
    pub shunt: Option<Shunt>,
}

/// A shunt calibration resistor.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shunt {
    pub arm: u32,
    pub ohm: f64,
    pub at: Place,
    pub tolerance_percent: Option<f64>,
}

#[derive(Clone, Copy, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Place {
    Gauge,
    Instrument,
}
