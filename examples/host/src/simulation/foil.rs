//! What temperature and strain do to the resistance of a bonded foil, from the foil's own constants.
//!
//! All numbers are invented: they are those of the gauges of `tests/data/gauges.csv`, and belong to no product. Every polynomial is in `d`, degrees above 24 C.

/// The temperature at which the constants below are stated.
const REFERENCE_CELSIUS: f64 = 24.0;

/// Coefficient of expansion in 1/C: `[a0, a1, a2]` of `a0 + a1 d + a2 d^2`.
pub type Expansion = [f64; 3];

/// The aluminium-like metal of the struts.
pub const ALUMINIUM: Expansion = [23.05e-6, 2.03e-8, -2.2e-11];
/// The titanium-like metal of the crown fitting.
pub const TITANIUM: Expansion = [8.71e-6, 0.61e-8, -0.7e-11];
/// The keel fitting's alloy: like titanium, but 1.1e-6 per degree more at every temperature.
pub const OTHER_TITANIUM: Expansion = [TITANIUM[0] + 1.1e-6, TITANIUM[1], TITANIUM[2]];
/// The nickel-like metal of the valve.
pub const NICKEL: Expansion = [13.05e-6, 0.88e-8, -0.8e-11];

/// A strain-sensitive foil.
pub struct Foil {
    /// Free foil: resistance relative to 24 C is `1 + b1 d + b2 d^2 + b3 d^3 + b4 d^4`.
    resistance: [f64; 4],
    /// Expansion of the foil's own metal.
    grid: Expansion,
    /// Gauge factor at 24 C.
    gauge_factor: f64,
    /// Change of the gauge factor, percent of its value at 24 C per 100 C.
    gauge_factor_slope: f64,
}

/// Copper-nickel-like foil whose thermal output suits the aluminium-like metal.
pub const FOIL_FOR_ALUMINIUM: Foil = Foil {
    resistance: [-16.9e-6, -8.3e-8, 4.4e-10, -3.05e-13],
    grid: [14.7e-6, 1.31e-8, -1.9e-11],
    gauge_factor: 2.065,
    gauge_factor_slope: 1.07,
};

/// Copper-nickel-like foil whose thermal output suits the titanium-like metal.
pub const FOIL_FOR_TITANIUM: Foil = Foil {
    resistance: [12.6e-6, -8.1e-8, 4.27e-10, -3.21e-13],
    grid: [14.7e-6, 1.31e-8, -1.9e-11],
    gauge_factor: 2.045,
    gauge_factor_slope: 0.91,
};

/// Nickel-chromium-like foil: its gauge factor falls when it gets warmer.
pub const FOIL_NICKEL_CHROMIUM: Foil = Foil {
    resistance: [1.9e-6, -2.15e-8, -3.3e-11, 1.2e-13],
    grid: [13.2e-6, 0.72e-8, -0.5e-11],
    gauge_factor: 2.180,
    gauge_factor_slope: -0.97,
};

impl Foil {
    /// Resistance relative to that of the unstrained gauge at 24 C, bonded to `specimen`, at a mechanical strain
    /// (1e-6 is one microstrain).
    ///
    /// The factors are multiplied as they are in a real foil. A correction that adds thermal and mechanical parts
    /// leaves the products of the two out, so its residual against this simulation is real.
    pub fn relative_resistance(&self, specimen: &Expansion, celsius: f64, strain: f64) -> f64 {
        let d = celsius - REFERENCE_CELSIUS;
        let [b1, b2, b3, b4] = self.resistance;
        let free = 1.0 + d * (b1 + d * (b2 + d * (b3 + d * b4)));
        let forced = (1.0 + elongation(specimen, d)) / (1.0 + elongation(&self.grid, d)) - 1.0;
        let gauge_factor = self.gauge_factor * (1.0 + self.gauge_factor_slope / 1e4 * d);
        free * (1.0 + gauge_factor * (strain + forced))
    }
}

/// Relative change of length from 24 C to `d` degrees above: the integral of the expansion coefficient.
fn elongation(&[a0, a1, a2]: &Expansion, d: f64) -> f64 {
    d * (a0 + d * (a1 / 2.0 + d * a2 / 3.0))
}
