//! What one writes without this library: the same correction in the ordinary ways, as a yardstick of cost
//! and error. Each is written plainly and with care, and none checks its inputs or raises a flag. They need `core`
//! alone, so that they run on the microcontrollers too (`tests/on-target`).

mod naive;
pub mod notebooks;
pub mod table;

pub use naive::{naive_double, naive_single};

/// A three-wire quarter bridge as it stands in a notebook: the numbers that the peers start from.
#[derive(Clone, Copy)]
pub struct Notebook {
    /// At the reference temperature.
    pub gauge_factor: f64,
    /// Percent per 100 C.
    pub gauge_factor_slope: f64,
    /// Celsius.
    pub reference_temperature: f64,
    /// Microstrain per power of degrees Celsius, lowest power first.
    pub thermal_output: [f64; 5],
    /// The gauge factor that the thermal output is stated for.
    pub stated_for: f64,
    pub gauge_ohms: f64,
    /// Of each of the three leads.
    pub lead_ohms: f64,
    pub converter_bits: u32,
    /// Output ratio, V/V, of the converter's full scale.
    pub full_scale: f64,
    pub balance_code: f64,
    /// Celsius.
    pub balance_temperature: f64,
    /// Declared range, Celsius.
    pub temperatures: (f64, f64),
    /// Declared range either way, microstrain.
    pub strain_limit: f64,
}

impl Notebook {
    /// Output ratio of one code.
    pub fn ratio_per_code(&self) -> f64 {
        self.full_scale / f64::from(1u32 << (self.converter_bits - 1))
    }

    /// What the leads take from the signal.
    pub fn lead_factor(&self) -> f64 {
        1.0 + self.lead_ohms / self.gauge_ohms
    }

    /// Relative change of the gauge factor per degree.
    pub fn factor_per_degree(&self) -> f64 {
        self.gauge_factor_slope / 1e4
    }

    /// Thermal output since balance as a plain ratio, at the gauge factor of the package.
    pub fn thermal_output_since_balance(&self, celsius: f64) -> f64 {
        let package = |t: f64| {
            let ascending = self.thermal_output.iter();
            ascending.rev().fold(0.0, |sum, c| sum * t + c)
        };
        (package(celsius) - package(self.balance_temperature)) * 1e-6 * self.stated_for / self.gauge_factor
    }
}
