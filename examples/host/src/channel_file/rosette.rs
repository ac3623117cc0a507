//! The words of `[[rosette]]`.

use serde::Deserialize;

/// Channels whose gauges are the grids of one rosette.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rosette {
    /// Of the file, where the rosette begins.
    #[serde(skip)]
    pub line: usize,
    pub name: String,
    /// Names of the channels of the grids, in their order.
    pub channels: Vec<String>,
    pub layout: Option<Layout>,
    pub angles_degrees: Option<Vec<f64>>,
    /// Standard uncertainties: of each grid's strain, of each angle beside the others, of the whole as it was bonded.
    pub grid_uncertainty_microstrain: Option<f64>,
    pub angle_uncertainty_degrees: Option<f64>,
    pub alignment_uncertainty_degrees: Option<f64>,
}

#[derive(Clone, Copy, PartialEq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Layout {
    Rectangular,
    Delta,
}
