//! The part of the demonstration of commissioning, from the physics of its gauge and alloy: shares nothing with the simulation
//! but the numbers of the data files.

/// The keel fitting's gauge: `gauge_on_titanium` of the data files, on an alloy that expands 1.1 ppm/C more.
pub struct Truth {
    resistance: [f64; 4],
    grid: [f64; 3],
    part: [f64; 3],
    pub factor: f64,
    pub slope: f64,
}

pub const BALANCE: f64 = 19.75;

impl Truth {
    #[must_use]
    #[allow(clippy::new_without_default)] // it reads a file
    pub fn new() -> Self {
        let rows = crate::data("gauges");
        let row = rows.iter().find(|row| row.text("gauge_id") == "gauge_on_titanium").unwrap();
        let of = |name: &str| row.number(name);
        Self {
            resistance: ["model_b1", "model_b2", "model_b3", "model_b4"].map(of),
            grid: ["grid_a0", "grid_a1", "grid_a2"].map(of),
            part: [of("specimen_a0") + 1.1e-6, of("specimen_a1"), of("specimen_a2")],
            factor: of("F_24"),
            slope: of("gf_slope_pct_per_100C"),
        }
    }

    pub fn factor_at(&self, celsius: f64) -> f64 {
        self.factor * (1.0 + self.slope / 1e4 * (celsius - 24.0))
    }

    /// Relative resistance of the free foil.
    fn free(&self, celsius: f64) -> f64 {
        let d = celsius - 24.0;
        let [b1, b2, b3, b4] = self.resistance;
        1.0 + d * (b1 + d * (b2 + d * (b3 + d * b4)))
    }

    /// What a strain changes of the resistance at balance, for each part of strain, over the same at 24 C: gauge factor and
    /// resistance of the free foil.
    pub fn loaded_factor(&self, celsius: f64) -> f64 {
        self.free(celsius) * self.factor_at(celsius) / self.factor
    }

    /// Relative resistance without load.
    pub fn resistance(&self, celsius: f64) -> f64 {
        let d = celsius - 24.0;
        let length = |a: [f64; 3]| 1.0 + d * (a[0] + d * (a[1] / 2.0 + d * a[2] / 3.0));
        self.free(celsius) * (1.0 + self.factor_at(celsius) * (length(self.part) / length(self.grid) - 1.0))
    }

    /// Thermal output since balance, in microstrain of an instrument of this gauge factor.
    pub fn output(&self, celsius: f64, factor: f64) -> f64 {
        (self.resistance(celsius) / self.resistance(BALANCE) - 1.0) / factor * 1e6
    }
}
