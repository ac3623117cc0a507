//! The words of `[channel.commissioning]`: what `examples/commission` is told of a chamber run, the part and the
//! uncertainties. A replay passes over them.

use serde::Deserialize;

#[derive(Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Commissioning {
    /// Of the channel before the run, without load.
    pub at_rest_codes: Option<Vec<i32>>,
    /// What the gauge had then; near balance if left out.
    pub at_rest_temperature_c: Option<f64>,
    /// The same with the shunt of `[channel.on_site]` switched on.
    pub shunted_codes: Option<Vec<i32>>,
    /// Of the run: indicated strain in microstrain. Without it, the channel's own column.
    pub run_strain_column: Option<String>,
    /// What that strain was read with.
    pub run_gauge_factor: Option<f64>,
    pub offered_matches_ppm_per_c: Option<Vec<f64>>,
    #[serde(default, deserialize_with = "super::exactly_if_any")]
    pub window_c: Option<[f64; 2]>,
    /// What the gauge is bonded to.
    pub part: Option<Expansion>,
    /// What the package's curve was measured on.
    pub package_material: Option<Expansion>,
    pub uncertainty: Option<Uncertainty>,
    pub load: Option<Load>,
    pub foil: Option<Foil>,
}

/// The strain that a loaded run applies: one of both.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Load {
    /// Of that run, in microstrain; 0 in rows without load.
    pub strain_column: Option<String>,
    /// In every row.
    pub strain_microstrain: Option<f64>,
}

/// Expansion of a material, in one of three forms.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Expansion {
    pub ppm_per_c: Option<f64>,
    /// Rows of a temperature in C and the coefficient there.
    #[serde(default, deserialize_with = "super::rows_if_any")]
    pub table: Option<Vec<[f64; 2]>>,
    /// Rows of a temperature in C and the mean coefficient from `mean_from_c` to it.
    #[serde(default, deserialize_with = "super::rows_if_any")]
    pub mean_table: Option<Vec<[f64; 2]>>,
    pub mean_from_c: Option<f64>,
    /// Standard uncertainty of the coefficient, the same at every temperature.
    pub standard_uncertainty_ppm_per_c: Option<f64>,
}

/// The foil of the gauge by itself.
#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Foil {
    pub expansion: Expansion,
    /// Relative change of resistance of the free foil, in powers of the degrees above the reference temperature from one on.
    pub resistance_coefficients: Option<Vec<f64>>,
    /// Standard uncertainty of each of them.
    pub resistance_uncertainties: Option<Vec<f64>>,
    /// Where they hold.
    #[serde(default, deserialize_with = "super::exactly_if_any")]
    pub between_c: Option<[f64; 2]>,
}

/// Standard uncertainties.
#[derive(Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Uncertainty {
    pub temperature_c: Option<f64>,
    pub gauge_factor_percent: Option<f64>,
    pub gauge_factor_slope_percent_per_100_c: Option<f64>,
    pub reading_microstrain: Option<f64>,
}
