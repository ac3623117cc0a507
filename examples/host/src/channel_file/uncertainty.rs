//! The words of `[channel.uncertainty]`.

use serde::Deserialize;

/// Standard uncertainties of what a channel is described with. [`crate::uncertainty`] says what they mean for the library.
#[derive(Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Uncertainty {
    pub gauge_factor_percent: Option<f64>,
    /// Of the channel's own words of these names; both with a `strain_ratio` only.
    pub strain_ratio: Option<f64>,
    pub transverse_sensitivity_percent: Option<f64>,
    pub gauge_factor_slope_percent_per_100_c: Option<f64>,
    /// At a sample and at balance, each without what is under `thermometer_c`: the three count beside each other.
    pub temperature_c: Option<f64>,
    pub balance_temperature_c: Option<f64>,
    /// The same error at balance and at each sample.
    pub thermometer_c: Option<f64>,
    pub thermal_output_microstrain: Option<f64>,
    pub thermal_output_slope_microstrain_per_c: Option<f64>,
    pub expansion_ppm_per_c: Option<f64>,
    pub lead_ohm: Option<f64>,
    pub lead_temperature_c: Option<f64>,
    pub poisson_ratio: Option<f64>,
    pub output_ratio_percent: Option<f64>,
    /// Where the samples are codes.
    pub noise_codes: Option<f64>,
    /// A half width, not a standard uncertainty: half a code where it is left out.
    pub quantisation_codes: Option<f64>,
    pub balance_noise_codes: Option<f64>,
    /// Where they are readings of an instrument.
    pub noise_microstrain: Option<f64>,
    /// Half a step where it is left out.
    pub quantisation_microstrain: Option<f64>,
    pub balance_noise_microstrain: Option<f64>,
    /// Of each of the above, by the same words; infinitely many where it is left out.
    pub degrees_of_freedom: Option<Box<Uncertainty>>,
}
