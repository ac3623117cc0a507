//! Everything in `f64`: the formulas as the notebook has them, one after the other.
//!
//! Balance is taken off as a ratio, `r = ratio - ratio at balance`, before the curve of the quarter bridge
//! is applied to it. That is how it is commonly written, and it is not quite right: the curve belongs to the
//! whole ratio, so next to a bridge that is out of balance by `r0` the reading is wrong by `4 r r0` of
//! itself. At an unbalance of 0.2 thousandths and an output of 15 thousandths (30 000 microstrain) that is
//! some 300 nanostrain; the rounding of `f64` is nothing beside it.

use super::Notebook;

#[derive(Clone, Copy)]
pub struct NaiveDouble {
    ratio_per_code: f64,
    balance_ratio: f64,
    lead_factor: f64,
    gauge_factor: f64,
    factor_per_degree: f64,
    reference_temperature: f64,
    /// Microstrain, lowest power first.
    thermal_output: [f64; 5],
    thermal_output_at_balance: f64,
    stated_for: f64,
}

impl NaiveDouble {
    pub fn new(notebook: &Notebook) -> Self {
        let mut peer = Self {
            ratio_per_code: notebook.ratio_per_code(),
            balance_ratio: notebook.balance_code * notebook.ratio_per_code(),
            lead_factor: notebook.lead_factor(),
            gauge_factor: notebook.gauge_factor,
            factor_per_degree: notebook.factor_per_degree(),
            reference_temperature: notebook.reference_temperature,
            thermal_output: notebook.thermal_output,
            thermal_output_at_balance: 0.0,
            stated_for: notebook.stated_for,
        };
        peer.thermal_output_at_balance = peer.package(notebook.balance_temperature);
        peer
    }

    /// Mechanical strain as a plain ratio. `temperature` is in Q20 degrees Celsius.
    #[inline]
    pub fn strain(&self, code: i32, temperature: i32) -> f64 {
        let t = f64::from(temperature) / 1_048_576.0;
        let r = f64::from(code) * self.ratio_per_code - self.balance_ratio;
        let indicated = 4.0 * r / (self.gauge_factor * (1.0 - 2.0 * r)) * self.lead_factor;
        let since_balance = self.package(t) - self.thermal_output_at_balance;
        let thermal_output = since_balance * 1e-6 * self.stated_for / self.gauge_factor;
        let gauge_factor =
            self.gauge_factor * (1.0 + self.factor_per_degree * (t - self.reference_temperature));
        (indicated - thermal_output) * self.gauge_factor / gauge_factor
    }

    /// The package's curve by Horner's rule, microstrain.
    #[inline]
    fn package(&self, t: f64) -> f64 {
        let [c0, c1, c2, c3, c4] = self.thermal_output;
        (((c4 * t + c3) * t + c2) * t + c1) * t + c0
    }
}
