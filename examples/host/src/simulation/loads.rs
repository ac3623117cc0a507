//! The true mechanical strain of each part, in microstrain. All invented.

use super::random::Random;
use super::timeline::{CUT_DOWN, FLOAT, LANDING, LAUNCH, OPENING, Table, interpolate};
use std::f64::consts::{PI, TAU};

/// How loud the pendulum swing is against seconds: calm at float, lively under the parachute.
const SWING: Table = &[
    (LAUNCH, 0.0),
    (LAUNCH + 20.0, 1.0),
    (FLOAT, 0.5),
    (FLOAT + 900.0, 0.25),
    (CUT_DOWN, 0.25),
    (CUT_DOWN + 0.4, 0.0),
    (OPENING, 0.0),
    (OPENING + 15.0, 1.6),
    (LANDING, 1.1),
    (LANDING + 1.0, 0.0),
];

/// Hertz of the swing below the balloon, and below the shorter parachute.
const BALLOON_SWING: f64 = 0.09;
const PARACHUTE_SWING: f64 = 0.21;

/// What decides the strain of one part. Every size is in microstrain, negative for compression.
pub struct Load {
    /// The slow part, against seconds: dead load, ballast, the attitude it stands in.
    pub steady: Table,
    /// Amplitude of the pendulum swing in the climb.
    pub swing: f64,
    /// Amplitude of the strongest gust.
    pub gust: f64,
    /// First peak of the ringing when the gondola is lifted, when the parachute opens, and when it lands.
    pub launch: f64,
    pub opening: f64,
    pub landing: f64,
    /// What a shock is to the part.
    pub shock: Shock,
    /// Height of the pulse each time the valve is driven.
    pub valve: f64,
}

/// How a part rings after a shock. Both are about 1 at the first peak.
pub enum Shock {
    /// Back to nothing between peaks and not below: lines and straps pull, they do not push.
    Pull,
    /// To both sides: what sticks out swings through.
    Whip,
}

/// A stretch of rough air.
struct Burst {
    start: f64,
    length: f64,
    hertz: f64,
    strength: f64,
}

/// The gusts of the flight: the same for all parts, since they hang in the same air.
pub struct Gusts(Vec<Burst>);

impl Gusts {
    /// Rough air in the climb to 16 km and on the last half of the way down.
    pub fn of_this_flight() -> Self {
        let mut random = Random::stream(1_000);
        let mut burst = |from, to| Burst {
            start: random.between(from, to),
            length: random.between(8.0, 25.0),
            hertz: random.between(0.25, 0.8),
            strength: random.between(0.2, 1.0),
        };
        let climb = (0..22).map(|_| burst(LAUNCH + 60.0, 2_200.0)).collect::<Vec<_>>();
        let fall = (0..16).map(|_| burst(8_300.0, LANDING - 30.0));
        Self(climb.into_iter().chain(fall).collect())
    }

    fn at(&self, time: f64) -> f64 {
        let one = |burst: &Burst| {
            let since = time - burst.start;
            if !(0.0..burst.length).contains(&since) {
                return 0.0;
            }
            let swell = (PI * since / burst.length).sin().powi(2);
            burst.strength * swell * (TAU * burst.hertz * since).sin()
        };
        self.0.iter().map(one).sum()
    }
}

impl Load {
    /// True mechanical strain at `time`, in microstrain.
    pub fn microstrain(&self, time: f64, gusts: &Gusts) -> f64 {
        let hertz = if time < OPENING { BALLOON_SWING } else { PARACHUTE_SWING };
        interpolate(self.steady, time)
            + self.swing * interpolate(SWING, time) * (TAU * hertz * time).sin()
            + self.gust * gusts.at(time)
            + self.launch * self.shock.ringing(time - LAUNCH, 0.8, 1.2)
            + self.opening * self.shock.ringing(time - OPENING, 0.7, 1.9)
            + self.landing * self.shock.ringing(time - LANDING, 0.9, 0.9)
            + self.valve * valve_drive(time)
    }
}

impl Shock {
    /// Damped ringing, `since` seconds after the shock.
    fn ringing(&self, since: f64, hertz: f64, decay: f64) -> f64 {
        if since < 0.0 {
            return 0.0;
        }
        let turns = TAU * hertz * since;
        let (wave, first_peak) = match self {
            Self::Pull => ((1.0 - turns.cos()) / 2.0, 0.5 / hertz),
            Self::Whip => (turns.sin(), 0.25 / hertz),
        };
        wave * ((first_peak - since) / decay).exp()
    }
}

/// 1 while the valve is driven, 0 while it is not, with soft edges. Gas is vented in trains of pulses at float, and the
/// valve is tried once before launch.
fn valve_drive(time: f64) -> f64 {
    // Start of the train, number of pulses, period and length of a pulse, in seconds.
    const TRAINS: [(f64, f64, f64, f64); 6] = [
        (240.0, 2.0, 20.0, 6.0),
        (3_650.0, 5.0, 30.0, 12.0),
        (4_480.0, 3.0, 60.0, 25.0),
        (5_300.0, 8.0, 12.0, 4.0),
        (6_080.0, 4.0, 40.0, 15.0),
        (7_100.0, 6.0, 25.0, 8.0),
    ];
    let one = |&(start, count, period, length): &(f64, f64, f64, f64)| {
        let since = time - start;
        if !(0.0..count * period).contains(&since) {
            return 0.0;
        }
        let into = since % period;
        // Opens in under a second, lets go more slowly.
        (1.0 - (-into / 0.3).exp()).min((-(into - length) / 0.8).exp())
    };
    TRAINS.iter().map(one).sum()
}
