//! How warm each part is: air along the flight, sun, heater, and the lag of the part behind them. All invented.

use super::timeline::{CUT_DOWN, FLOAT, LANDING, LAUNCH, Table, interpolate};
use std::f64::consts::TAU;

/// Metres above the sea against seconds.
const ALTITUDE: Table = &[
    (LAUNCH, 300.0),
    (FLOAT, 28_300.0),
    (CUT_DOWN, 28_100.0),
    (8_000.0, 17_000.0),
    (8_700.0, 6_000.0),
    (LANDING, 250.0),
];

/// Degrees Celsius of the air against metres.
const AIR: Table = &[
    (250.0, 13.0),
    (300.0, 12.5),
    (2_000.0, 6.0),
    (11_000.0, -56.0),
    (15_500.0, -77.0),
    (18_500.0, -77.5),
    (23_000.0, -62.0),
    (28_300.0, -51.0),
];

/// How much the sun warms a part above the air, 1 in the still, thin air at float. Wind of the ground, of the climb and
/// of the fall carries the heat away.
const STILLNESS: Table = &[
    (LAUNCH, 0.06),
    (LAUNCH + 30.0, 0.02),
    (FLOAT - 300.0, 0.03),
    (FLOAT + 300.0, 1.0),
    (CUT_DOWN, 1.0),
    (CUT_DOWN + 20.0, 0.02),
    (LANDING, 0.02),
    (LANDING + 60.0, 0.08),
];

/// Seconds of one slow turn of the gondola, which brings its sides into the sun and out.
const TURN: f64 = 1_450.0;

/// What decides the temperature of one part.
pub struct Heat {
    /// Time constant of the part behind its surroundings, in seconds.
    pub lag: f64,
    /// Degrees by which a part inside something is warmer than the air.
    pub shelter: f64,
    /// Degrees by which full sun in still air warms it.
    pub sun: f64,
    /// Where on the turning gondola it is, in turns.
    pub side: f64,
    /// Degrees a heater adds, against seconds.
    pub heater: Table,
}

impl Heat {
    /// The temperature the part would settle at if the world stood still at `time`.
    pub fn surroundings(&self, time: f64) -> f64 {
        let air = interpolate(AIR, interpolate(ALTITUDE, time));
        let facing = (TAU * ((time - FLOAT) / TURN + self.side)).sin();
        // Cut flat at both ends: a side is in full sun, or in full shade, for a good part of each turn.
        let lit = (0.5 + 0.9 * facing).clamp(0.0, 1.0);
        let sun = self.sun * lit * interpolate(STILLNESS, time);
        air + self.shelter + sun + interpolate(self.heater, time)
    }

    /// The part's temperature `step` seconds later, in surroundings that stay as they are at `time`.
    pub fn later(&self, celsius: f64, time: f64, step: f64) -> f64 {
        let surroundings = self.surroundings(time);
        surroundings + (celsius - surroundings) * (-step / self.lag).exp()
    }
}
