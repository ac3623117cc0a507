//! A balloon flight that never took place, and what five strain gauges on its gondola would have measured.
//!
//! Everything here is invented: the flight, the gondola and the gauges. The point of it is that the true strain is known.
//! The physics is done from first principles (resistance of the foil, expansion of two metals, voltage dividers) and
//! shares no code and no formula with the library, so it can tell whether the library is right.
//!
//! # The flight
//!
//! | seconds | what happens | air, C | true strain |
//! |---|---|---|---|
//! | 0 to 600 | waits on its stand in a morning field; the valve is tried | 12 | keel -285 (it stands on it), valve pulses, else none |
//! | 600 | is lifted: dead load on the struts, with a jerk | 12 | struts +640 and +715 |
//! | 600 to 3400 | climbs 10 m/s to 28 km, through gusts, then the tropopause (15 to 19 km) | 12 to -77 to -51 | swing, gust bursts |
//! | 3400 to 7600 | floats, slowly turning its sides into sun and shade; drops ballast, drives the valve | -51 | valve pulses of +780, keel falls in steps |
//! | 7600 | is cut from the balloon and falls for 6 s | -51 | nearly none |
//! | 7606 | the parachute opens | -51 | struts ring down from +3400 and +2900 in some seconds |
//! | 7606 to 9500 | comes down, fast in thin air, through the cold again | -77 to 13 | swing, gust bursts |
//! | 9500 | lands | 13 | the bump presses the keel by about -1900 |
//! | 9500 to 10400 | lies there | 13 | little |
//!
//! # What goes wrong, on purpose
//!
//! - `strut_south` is open-circuit for 4 s from one second after the landing: an infinite arm, so the code sits at the
//!   positive rail.
//! - The heater of `valve_body` sticks near 6100 s and drives it to 106 C; it is above 100 C for about a minute. Physics
//!   goes on as before there; it is the channel that should declare 100 C as its limit.
//!
//! The true strain in the file stays true in both.
//!
//! # How warm, how strained
//!
//! | channel | temperature, C | true strain, microstrain |
//! |---|---|---|
//! | `strut_north` | -77 to 41 | -641 to 3436 |
//! | `strut_south` | -74 to 59 | -717 to 2910 |
//! | `fitting_crown` | -76 to 33 | -48 to 1594 |
//! | `fitting_keel` | -74 to 21 | -1862 to 638 |
//! | `valve_body` | -61 to 85, and 106 in the fault | -18 to 929 |
//!
//! # What is left out
//!
//! The leads keep their resistance (they run inside the heated gondola). No self-heating, drift, creep, transverse
//! sensitivity, or difference of temperature between gauge and thermometer, other than the thermometer's noise.
//!
//! The pseudo-random numbers are fixed, so every run on one machine gives the same file. On another machine the last
//! digit may differ here and there, since `sin` and `exp` do.

#[path = "simulation/bridge.rs"]
mod bridge;
#[path = "simulation/foil.rs"]
mod foil;
#[path = "simulation/gondola.rs"]
mod gondola;
#[path = "simulation/loads.rs"]
mod loads;
#[path = "simulation/random.rs"]
mod random;
#[path = "simulation/timeline.rs"]
mod timeline;
#[path = "simulation/weather.rs"]
mod weather;

use gondola::{CHANNELS, Channel};
use loads::Gusts;
use random::Random;
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::Path;

/// Sample times of the flight, so data rows of the file.
pub const ROWS: usize = 52_000;

/// Samples a second, of each channel.
pub const SAMPLE_RATE_HZ: f64 = 5.0;

/// Noise of the converter, codes rms, and of the thermometers, degrees rms.
const CODE_NOISE: f64 = 4.0;
const CELSIUS_NOISE: f64 = 0.005;

/// Steps of a thermometer in one degree: 2^-8 C, which decimals and f32 both hold exactly.
const STEPS_PER_DEGREE: f64 = 256.0;

/// What the ground crew wrote down for one channel when the bridge was balanced.
pub struct Balance {
    /// Name of the channel.
    pub channel: &'static str,
    /// Mean code of 256 samples, without load, to the nearest code.
    pub code: i32,
    /// Temperature of the gauge in the hangar.
    pub celsius: f64,
}

/// Names of the channels, in the order of the file's columns.
pub fn channels() -> [&'static str; CHANNELS.len()] {
    std::array::from_fn(|i| CHANNELS[i].name)
}

/// The notes of the ground crew, in the order of [`channels`]. The true strain was zero.
pub fn balance_codes() -> [Balance; CHANNELS.len()] {
    const SAMPLES: u32 = 256;
    std::array::from_fn(|i| {
        let channel = &CHANNELS[i];
        let mut random = Random::stream(500 + i as u64);
        let sum: f64 = (0..SAMPLES)
            .map(|_| f64::from(channel.code(channel.balance_celsius, 0.0, false, &mut random)))
            .sum();
        Balance {
            channel: channel.name,
            code: (sum / f64::from(SAMPLES)).round() as i32,
            celsius: channel.balance_celsius,
        }
    })
}

/// Flies the flight and writes it to `path`: lines of explanation that start with `# `, a header, then [`ROWS`] rows.
///
/// A row is the time, then for each channel the converter's code, the thermometer's reading in Celsius (printed exactly)
/// and the true mechanical strain in microstrain (to 0.001). `progress` is told the number of rows done, now and then
/// and at the end. The file appears under its name when it is whole; until then it has `.partial` appended.
pub fn write_csv(path: &Path, progress: &mut dyn FnMut(usize)) -> io::Result<()> {
    let mut partial = path.as_os_str().to_owned();
    partial.push(".partial");
    let partial = Path::new(&partial);
    let written = write_rows(partial, progress).and_then(|()| fs::rename(partial, path));
    if written.is_err() {
        // The first error is the one worth telling.
        let _ = fs::remove_file(partial);
    }
    written
}

fn write_rows(path: &Path, progress: &mut dyn FnMut(usize)) -> io::Result<()> {
    let mut file = BufWriter::new(File::create(path)?);
    write_preamble(&mut file)?;

    let step = 1.0 / SAMPLE_RATE_HZ;
    let gusts = Gusts::of_this_flight();
    // True temperature and noise of each channel. It has stood in the field for long when the recording starts.
    let mut parts: Vec<(&Channel, f64, Random)> = CHANNELS
        .iter()
        .enumerate()
        .map(|(i, channel)| (channel, channel.heat.surroundings(0.0), Random::stream(i as u64)))
        .collect();

    for row in 0..ROWS {
        let time = row as f64 / SAMPLE_RATE_HZ;
        write!(file, "{time:.1}")?;
        for (channel, celsius, random) in &mut parts {
            let microstrain = channel.load.microstrain(time, &gusts);
            let code = channel.code(*celsius, microstrain, channel.open.contains(&time), random);
            let thermometer = to_steps(*celsius + CELSIUS_NOISE * random.gaussian(), STEPS_PER_DEGREE);
            write!(file, ",{code},{thermometer},{:.3}", to_steps(microstrain, 1_000.0))?;
            *celsius = channel.heat.later(*celsius, time, step);
        }
        writeln!(file)?;
        if (row + 1) % 1_000 == 0 || row + 1 == ROWS {
            progress(row + 1);
        }
    }
    file.into_inner()?.sync_all()
}

fn write_preamble(file: &mut impl Write) -> io::Result<()> {
    writeln!(
        file,
        "# Simulated data of an invented balloon flight: no such flight, gondola or gauge exists."
    )?;
    writeln!(
        file,
        "# Columns: seconds from the start; then for each channel the converter's code (24 bit, ratiometric,"
    )?;
    writeln!(
        file,
        "# full scale 1/128), the gauge's temperature in Celsius and the true mechanical strain in microstrain."
    )?;
    writeln!(
        file,
        "# Each channel is a quarter bridge, balanced without load in a hangar before the flight:"
    )?;
    for (channel, balance) in CHANNELS.iter().zip(balance_codes()) {
        let Balance { channel: name, code, celsius } = balance;
        writeln!(file, "# {name}: {}; balanced at {celsius} C with code {code}", channel.label)?;
    }
    write!(file, "time_s")?;
    for name in channels() {
        write!(file, ",{name}_code,{name}_celsius,{name}_true_microstrain")?;
    }
    writeln!(file)
}

impl Channel {
    /// What the converter says at a true temperature and a true mechanical strain.
    fn code(&self, celsius: f64, microstrain: f64, open: bool, random: &mut Random) -> i32 {
        let relative = self.foil.relative_resistance(&self.specimen, celsius, microstrain * 1e-6);
        let gauge = if open { f64::INFINITY } else { self.ohms * relative };
        bridge::code(self.bridge.ratio(gauge), CODE_NOISE * random.gaussian())
    }
}

/// To the nearest step; adding zero turns a negative zero, which would print as `-0`, into a plain one.
fn to_steps(value: f64, steps_per_unit: f64) -> f64 {
    (value * steps_per_unit).round() / steps_per_unit + 0.0
}

#[cfg(test)]
mod tests {
    use super::bridge::{Bridge, Wiring};
    use super::*;

    const EVEN: Bridge =
        Bridge { wiring: Wiring::ThreeWire, lead: 2.0, completion: 350.0, near: 5_000.0, far: 5_000.0 };

    #[test]
    fn balanced_arms_give_nothing() {
        assert_eq!(EVEN.ratio(350.0), 0.0);
        assert_eq!(Bridge { wiring: Wiring::TwoWire, ..EVEN }.ratio(346.0), 0.0);
        assert_eq!(bridge::code(0.0, 0.0), 0);
    }

    #[test]
    fn nothing_changes_at_the_reference_temperature() {
        for channel in &CHANNELS {
            assert_eq!(channel.foil.relative_resistance(&channel.specimen, 24.0, 0.0), 1.0);
        }
    }

    #[test]
    fn tension_raises_the_code_and_the_rails_hold() {
        assert!(EVEN.ratio(350.1) > 0.0);
        assert_eq!(bridge::code(EVEN.ratio(f64::INFINITY), 0.0), 8_388_607);
        assert_eq!(bridge::code(EVEN.ratio(0.0), 0.0), -8_388_608);
    }

    #[test]
    fn the_ground_crew_would_write_the_same_again() {
        let codes = || balance_codes().map(|balance| balance.code);
        assert_eq!(codes(), codes());
        assert!(codes().iter().all(|code| code.abs() < 1_500_000));
    }
}
