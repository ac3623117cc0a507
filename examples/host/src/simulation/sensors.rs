//! Temperature sensors whose raw readings the logger keeps, computed from the formulas of the standards, by code that
//! shares nothing with the library.

use super::random::Random;
use super::timeline::{FLOAT, LANDING, LAUNCH, Table, interpolate};
use super::{read, thermometer};

/// Noise of a resistance, ohms rms, and what the instrument resolves: 2^-9 ohm, which decimals hold exactly.
pub const OHM_NOISE: f64 = 0.0015;
pub const STEPS_PER_OHM: f64 = 512.0;

/// Noise of a thermocouple's voltage, millivolts rms, and what the instrument resolves: 2^-12 mV.
pub const MILLIVOLT_NOISE: f64 = 0.000_15;
pub const STEPS_PER_MILLIVOLT: f64 = 4_096.0;

/// Degrees Celsius in the box with the electronics against seconds. It warms itself, is kept from the worst cold, and is in
/// the sun at float.
const BOX: Table = &[
    (0.0, 17.0),
    (LAUNCH, 19.0),
    (LAUNCH + 1_900.0, 6.0),
    (FLOAT, 9.0),
    (FLOAT + 2_200.0, 31.0),
    (FLOAT + 4_000.0, 34.5),
    (LANDING - 600.0, 8.0),
    (LANDING, 6.5),
    (LANDING + 900.0, 11.0),
];

/// A sensor beside a gauge.
pub enum Sensor {
    /// Platinum of 100 ohm at 0 C on three equal copper leads: the sensor with two leads in series, and the pair of leads
    /// at one of its ends, which has this many ohms at 0 C.
    PlatinumThreeWire { pair_ohms: f64 },
    /// Type K, its cold junction in the box, and a thermometer there.
    ThermocoupleK,
}

impl Sensor {
    /// What its columns are called behind the channel's name.
    pub fn columns(&self) -> [&'static str; 2] {
        match self {
            Self::PlatinumThreeWire { .. } => ["ohm", "pair_ohm"],
            Self::ThermocoupleK => ["millivolt", "cold_junction_celsius"],
        }
    }

    /// What stands in these columns while the sensor is at this temperature.
    pub fn readings(&self, celsius: f64, time: f64, random: &mut Random) -> [f64; 2] {
        let of_box = interpolate(BOX, time);
        match self {
            Self::PlatinumThreeWire { pair_ohms } => {
                // From the box to the sensor.
                let pair = pair_ohms * copper((of_box + celsius) / 2.0);
                let mut measured = |ohms| read(ohms, OHM_NOISE, STEPS_PER_OHM, random);
                [measured(100.0 * platinum(celsius) + pair), measured(pair)]
            }
            Self::ThermocoupleK => {
                let millivolts = type_k(celsius) - type_k(of_box);
                let millivolts = read(millivolts, MILLIVOLT_NOISE, STEPS_PER_MILLIVOLT, random);
                [millivolts, thermometer(of_box, random)]
            }
        }
    }
}

/// Resistance of copper over that at 0 C.
fn copper(t: f64) -> f64 {
    1.0 + 4.27e-3 * t
}

/// Resistance of platinum over that at 0 C: IEC 60751.
fn platinum(t: f64) -> f64 {
    let warm = 1.0 + 3.9083e-3 * t - 5.775e-7 * t.powi(2);
    if t < 0.0 { warm - 4.183e-12 * (t - 100.0) * t.powi(3) } else { warm }
}

/// Below 0 C: millivolts, in ascending powers of degrees. This and the next two are the reference function of type K, from
/// the NIST ITS-90 Thermocouple Database.
const K_BELOW: [f64; 11] = [
    0.0,
    3.9450128025e-2,
    2.3622373598e-5,
    -3.2858906784e-7,
    -4.9904828777e-9,
    -6.7509059173e-11,
    -5.7410327428e-13,
    -3.1088872894e-15,
    -1.0451609365e-17,
    -1.9889266878e-20,
    -1.6322697486e-23,
];

/// From 0 C up.
const K_ABOVE: [f64; 10] = [
    -1.7600413686e-2,
    3.8921204975e-2,
    1.8558770032e-5,
    -9.9457592874e-8,
    3.1840945719e-10,
    -5.6072844889e-13,
    5.6075059059e-16,
    -3.2020720003e-19,
    9.7151147152e-23,
    -1.2104721275e-26,
];

/// On top of that there: `a0 exp(a1 (t - a2)^2)`.
const K_BELL: [f64; 3] = [1.185976e-1, -1.183432e-4, 1.269686e2];

/// Millivolts of type K against 0 C.
fn type_k(t: f64) -> f64 {
    let sum = |powers: &[f64]| powers.iter().rev().fold(0.0, |sum, coefficient| sum * t + coefficient);
    let [height, narrowness, middle] = K_BELL;
    if t < 0.0 { sum(&K_BELOW) } else { sum(&K_ABOVE) + height * (narrowness * (t - middle).powi(2)).exp() }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Numbers as the standards print them.
    #[test]
    fn printed_tables() {
        for (celsius, ohms) in [(-100.0, 60.26), (-50.0, 80.31), (0.0, 100.0), (100.0, 138.51)] {
            assert!((100.0 * platinum(celsius) - ohms).abs() < 0.005, "{celsius}");
        }
        for (celsius, millivolts) in
            [(-100.0, -3.554), (-50.0, -1.889), (0.0, 0.0), (25.0, 1.000), (100.0, 4.096)]
        {
            assert!((type_k(celsius) - millivolts).abs() < 0.0005, "{celsius}");
        }
    }

    #[test]
    fn the_box_is_neither_frozen_nor_hot() {
        assert!(BOX.iter().all(|&(_, celsius)| (5.0..=35.0).contains(&celsius)));
    }
}
