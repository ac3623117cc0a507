//! The words of `[[rosette]]`.

use serde::Deserialize;

/// Three channels whose gauges are the grids of one rosette.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rosette {
    /// Of the file, where the rosette begins.
    #[serde(skip)]
    pub line: usize,
    pub name: String,
    /// Names of the channels of grids a, b and c.
    pub channels: [String; 3],
    pub layout: Option<Layout>,
    #[serde(default, deserialize_with = "super::exactly_if_any")]
    pub angles_degrees: Option<[f64; 3]>,
}

#[derive(Clone, Copy, PartialEq, Deserialize)]
pub enum Layout {
    #[serde(rename = "rectangular")]
    Rectangular,
    #[serde(rename = "delta")]
    Delta,
}
