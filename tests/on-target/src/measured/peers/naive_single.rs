//! The formulas of [`naive_double`](super::naive_double), line for line in `f32`: what one runs on a core
//! with a single-precision unit.
//!
//! Besides what they cost there, every step rounds to 24 bits: the ratio before balance is taken off it,
//! the polynomial in plain degrees.

use super::Notebook;

#[derive(Clone, Copy)]
pub struct NaiveSingle {
    ratio_per_code: f32,
    balance_ratio: f32,
    lead_factor: f32,
    gauge_factor: f32,
    factor_per_degree: f32,
    reference_temperature: f32,
    /// Microstrain, lowest power first.
    thermal_output: [f32; 5],
    thermal_output_at_balance: f32,
    stated_for: f32,
}

impl NaiveSingle {
    pub fn new(notebook: &Notebook) -> Self {
        let mut peer = Self {
            ratio_per_code: notebook.ratio_per_code() as f32,
            balance_ratio: (notebook.balance_code * notebook.ratio_per_code()) as f32,
            lead_factor: notebook.lead_factor() as f32,
            gauge_factor: notebook.gauge_factor as f32,
            factor_per_degree: notebook.factor_per_degree() as f32,
            reference_temperature: notebook.reference_temperature as f32,
            thermal_output: notebook.thermal_output.map(|c| c as f32),
            thermal_output_at_balance: 0.0,
            stated_for: notebook.stated_for as f32,
        };
        peer.thermal_output_at_balance = peer.package(notebook.balance_temperature as f32);
        peer
    }

    /// Mechanical strain as a plain ratio. `temperature` is in Q20 degrees Celsius.
    #[inline]
    pub fn strain(&self, code: i32, temperature: i32) -> f32 {
        let t = temperature as f32 / 1_048_576.0;
        let r = code as f32 * self.ratio_per_code - self.balance_ratio;
        let indicated = 4.0 * r / (self.gauge_factor * (1.0 - 2.0 * r)) * self.lead_factor;
        let since_balance = self.package(t) - self.thermal_output_at_balance;
        let thermal_output = since_balance * 1e-6 * self.stated_for / self.gauge_factor;
        let gauge_factor =
            self.gauge_factor * (1.0 + self.factor_per_degree * (t - self.reference_temperature));
        (indicated - thermal_output) * self.gauge_factor / gauge_factor
    }

    /// The package's curve by Horner's rule, microstrain.
    #[inline]
    fn package(&self, t: f32) -> f32 {
        let [c0, c1, c2, c3, c4] = self.thermal_output;
        (((c4 * t + c3) * t + c2) * t + c1) * t + c0
    }
}
