//! The formulas as the notebook has them, one after the other: everything in `f64`, and line for line the same in `f32`, which is what one
//! runs on a core with a single-precision unit.
//!
//! Balance is taken off as a ratio, `r = ratio - ratio at balance`, before the curve of the quarter bridge
//! is applied to it. That is how it is commonly written, and it is not quite right: the curve belongs to the
//! whole ratio, so next to a bridge that is out of balance by `r0` the reading is wrong by `4 r r0` of
//! itself. At an unbalance of 0.2 thousandths and an output of 15 thousandths (30 000 microstrain) that is
//! some 300 nanostrain; the rounding of `f64` is nothing beside it.
//!
//! In `f32` every step rounds to 24 bits besides: the ratio before balance is taken off it, the polynomial in plain degrees.

macro_rules! naive {
    ($module:ident $name:ident $float:ident) => {
        pub mod $module {
            use super::super::Notebook;

            #[derive(Clone, Copy)]
            pub struct $name {
                ratio_per_code: $float,
                balance_ratio: $float,
                lead_factor: $float,
                gauge_factor: $float,
                factor_per_degree: $float,
                reference_temperature: $float,
                /// Microstrain, lowest power first.
                thermal_output: [$float; 5],
                thermal_output_at_balance: $float,
                stated_for: $float,
            }

            impl $name {
                pub fn new(notebook: &Notebook) -> Self {
                    let mut peer = Self {
                        ratio_per_code: notebook.ratio_per_code() as $float,
                        balance_ratio: (notebook.balance_code * notebook.ratio_per_code()) as $float,
                        lead_factor: notebook.lead_factor() as $float,
                        gauge_factor: notebook.gauge_factor as $float,
                        factor_per_degree: notebook.factor_per_degree() as $float,
                        reference_temperature: notebook.reference_temperature as $float,
                        thermal_output: notebook.thermal_output.map(|c| c as $float),
                        thermal_output_at_balance: 0.0,
                        stated_for: notebook.stated_for as $float,
                    };
                    peer.thermal_output_at_balance = peer.package(notebook.balance_temperature as $float);
                    peer
                }

                /// Mechanical strain as a plain ratio. `temperature` is in Q20 degrees Celsius.
                #[inline]
                pub fn strain(&self, code: i32, temperature: i32) -> $float {
                    let t = temperature as $float / 1_048_576.0;
                    let r = code as $float * self.ratio_per_code - self.balance_ratio;
                    let indicated = 4.0 * r / (self.gauge_factor * (1.0 - 2.0 * r)) * self.lead_factor;
                    let since_balance = self.package(t) - self.thermal_output_at_balance;
                    let thermal_output = since_balance * 1e-6 * self.stated_for / self.gauge_factor;
                    let gauge_factor =
                        self.gauge_factor * (1.0 + self.factor_per_degree * (t - self.reference_temperature));
                    (indicated - thermal_output) * self.gauge_factor / gauge_factor
                }

                /// The package's curve by Horner's rule, microstrain.
                #[inline]
                fn package(&self, t: $float) -> $float {
                    let [c0, c1, c2, c3, c4] = self.thermal_output;
                    (((c4 * t + c3) * t + c2) * t + c1) * t + c0
                }
            }
        }
    };
}

naive!(naive_double NaiveDouble f64);
naive!(naive_single NaiveSingle f32);
