//! A balloon flight that never took place, and what strain gauges on its gondola would have measured.
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
//! | 7606 | the parachute opens | -51 | struts ring down from +3400 and +2900 in some seconds, the boom to both sides |
//! | 7606 to 9500 | comes down, fast in thin air, through the cold again | -77 to 13 | swing, gust bursts |
//! | 9500 | lands | 13 | the bump presses the keel by about -1900 and whips the boom by -2000 |
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
//! | `strut_spare` | -76 to 47 | -534 to 2613 |
//! | the block beside it | -75 to 45 | none |
//! | `boom_root` | -75 to 37 | -1990 to 1933 in bending |
//! | `tie_rod` | -77 to 27 | -488 to 2044 |
//!
//! # Which bridges
//!
//! | channel | gauges | what else is in the arms |
//! |---|---|---|
//! | `strut_north`, `strut_south`, both fittings, `valve_body` | one | three resistors |
//! | `strut_spare` | one on the strut, an equal one on a free block near it, which is up to 15 C warmer or colder | two resistors |
//! | `boom_root` | four, two on each side of a boom that bends; a pull along it, of some hundred microstrain, is to cancel | |
//! | `tie_rod` | one along a rod, one around it | two resistors |
//!
//! Each gauge of a bridge is computed for itself, so what cancels in a bridge cancels there, and as far as it does: the
//! thermal output of two gauges does, but not what their foils' forced expansion makes of the strain, about a thousandth
//! of it at -40 C.
//!
//! # Which thermometers
//!
//! A column in Celsius beside each gauge. Beside two of them there is also a sensor whose raw readings the logger keeps,
//! with noise of its own (`simulation/sensors.rs`):
//!
//! | channel | sensor | columns |
//! |---|---|---|
//! | `strut_south` | platinum of 100 ohm, three equal leads that warm and cool | its ohms with two leads in series, the ohms of the pair |
//! | `valve_body` | thermocouple of type K | its millivolts, Celsius of its cold junction in the electronics' box |
//!
//! # What is left out
//!
//! The bridges' leads keep their resistance (they run inside the heated gondola). No self-heating, drift, creep, transverse
//! sensitivity, difference between gauges of one kind other than their ohms, difference of temperature between gauges on
//! one part, or between gauge and thermometer other than the thermometer's noise.
//!
//! The pseudo-random numbers are fixed, so every run on one machine gives the same file. On another machine the last
//! digit may differ here and there, since `sin` and `exp` do.

mod bridge;
mod foil;
pub mod gondola;
mod loads;
mod preamble;
pub mod random;
mod sensors;
mod timeline;
mod weather;

use bridge::Leads;
use gondola::{Arm, CHANNELS, Channel};
use loads::Gusts;
use preamble::write_preamble;
use random::Random;
use sensors::Sensor;
pub use sensors::{MILLIVOLT_NOISE, OHM_NOISE, STEPS_PER_MILLIVOLT, STEPS_PER_OHM};
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::Path;

/// Sample times of the flight, so data rows of the file.
pub const ROWS: usize = 52_000;

/// Samples a second, of each channel.
pub const SAMPLE_RATE_HZ: f64 = 5.0;

/// Noise of the converter, codes rms, and of the thermometers, degrees rms.
pub const CODE_NOISE: f64 = 4.0;
pub const CELSIUS_NOISE: f64 = 0.005;

/// Steps of a thermometer in one degree: 2^-8 C, which decimals and f32 both hold exactly.
pub const STEPS_PER_DEGREE: f64 = 256.0;

/// What the ground crew wrote down for one channel when the bridge was balanced.
pub struct Balance {
    /// Name of the channel.
    pub channel: &'static str,
    /// Mean code of 256 samples, without load, to the nearest code.
    pub code: i32,
    /// Temperature of the gauge in the hangar.
    pub celsius: f64,
    /// Of the free block, where there is one.
    pub block_celsius: Option<f64>,
}

impl Balance {
    /// As in the explanations at the head of the file.
    pub fn note(&self) -> String {
        let Self { code, celsius, .. } = self;
        match self.block_celsius {
            None => format!("balanced at {celsius} C with code {code}"),
            Some(block) => format!("balanced at {celsius} C, the block at {block} C, with code {code}"),
        }
    }
}

/// Names of the channels, in the order of the file's columns.
pub fn channels() -> [&'static str; CHANNELS.len()] {
    std::array::from_fn(|i| CHANNELS[i].name)
}

/// The pull along `boom_root` that the file does not have, in microstrain against seconds.
pub fn pull_along_boom() -> impl Fn(f64) -> f64 {
    let gusts = Gusts::of_this_flight();
    let boom = CHANNELS.iter().find(|channel| channel.name == "boom_root");
    let load = boom.and_then(|boom| boom.axial.as_ref());
    move |time| load.map_or(0.0, |load| load.microstrain(time, &gusts))
}

/// The names of the file's columns, as they stand above the rows.
pub fn header() -> String {
    let mut header = "time_s".to_string();
    for (name, channel) in channels().iter().zip(&CHANNELS) {
        header += &format!(",{name}_code,{name}_celsius");
        if channel.block.is_some() {
            header += &format!(",{name}_block_celsius");
        }
        for column in channel.sensor.iter().flat_map(Sensor::columns) {
            header += &format!(",{name}_{column}");
        }
        header += &format!(",{name}_true_microstrain");
    }
    header
}

/// The notes of the ground crew, in the order of [`channels`]. The true strain was zero.
pub fn balance_codes() -> [Balance; CHANNELS.len()] {
    const SAMPLES: u32 = 256;
    std::array::from_fn(|i| {
        let channel = &CHANNELS[i];
        let mut random = Random::stream(500 + i as u64);
        let block_celsius = channel.block.as_ref().map(|block| block.balance_celsius);
        let state = State {
            celsius: channel.balance_celsius,
            block_celsius: block_celsius.unwrap_or_default(),
            microstrain: 0.0,
            axial_microstrain: 0.0,
        };
        let sum: f64 = (0..SAMPLES).map(|_| f64::from(channel.code(&state, false, &mut random))).sum();
        Balance {
            channel: channel.name,
            code: (sum / f64::from(SAMPLES)).round() as i32,
            celsius: channel.balance_celsius,
            block_celsius,
        }
    })
}

/// Flies the flight and writes it to `path`: lines of explanation that start with `# `, a header, then [`ROWS`] rows.
///
/// A row is the time, then for each channel the converter's code, the thermometer's reading in Celsius (printed exactly),
/// that of the thermometer on the free block where there is one, the raw readings of a sensor where there is one (printed
/// exactly), and the true mechanical strain in microstrain (to 0.001). `progress` is told the number of rows done, now and then and at the end.
pub fn write_csv(path: &Path, noise: Noise, progress: &mut dyn FnMut(usize)) -> io::Result<()> {
    write_whole(path, |file| write_rows(file, noise, progress))
}

/// What the converter and the thermometers add to what is true.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Noise {
    /// As on every flight.
    #[default]
    Flown,
    /// None, and thermometers are not rounded: what is left between corrected and true strain is the model's.
    None,
}

impl Noise {
    fn stream(self, number: u64) -> Random {
        match self {
            Self::Flown => Random::stream(number),
            Self::None => Random::NONE,
        }
    }
}

/// Lets `write` fill a file that appears under its name when it is whole; until then it has `.partial` appended.
pub fn write_whole(
    path: &Path,
    write: impl FnOnce(&mut BufWriter<File>) -> io::Result<()>,
) -> io::Result<()> {
    let mut partial = path.as_os_str().to_owned();
    partial.push(".partial");
    let partial = Path::new(&partial);
    let written = File::create(partial).map(BufWriter::new).and_then(|mut file| {
        write(&mut file)?;
        file.into_inner()?.sync_all()?;
        fs::rename(partial, path)
    });
    if written.is_err() {
        // The first error is the one worth telling.
        let _ = fs::remove_file(partial);
    }
    written
}

/// The text of the file that [`write_csv`] makes.
pub fn write_rows(file: &mut impl Write, noise: Noise, progress: &mut dyn FnMut(usize)) -> io::Result<()> {
    write_preamble(file)?;

    let step = 1.0 / SAMPLE_RATE_HZ;
    let gusts = Gusts::of_this_flight();
    // True temperatures and noise of each channel. It has stood in the field for long when the recording starts.
    let mut parts: Vec<(&Channel, State, Random)> = CHANNELS
        .iter()
        .enumerate()
        .map(|(i, channel)| (channel, State::settled(channel), noise.stream(i as u64)))
        .collect();

    // Noise of their own, so that a sensor more or less changes nothing else.
    let mut sensor_noise: Vec<Random> = (0..CHANNELS.len()).map(|i| noise.stream(700 + i as u64)).collect();

    for row in 0..ROWS {
        let time = row as f64 / SAMPLE_RATE_HZ;
        write!(file, "{time:.1}")?;
        for ((channel, state, random), sensor_noise) in parts.iter_mut().zip(&mut sensor_noise) {
            let axial = channel.axial.as_ref();
            state.microstrain = channel.load.microstrain(time, &gusts);
            state.axial_microstrain = axial.map_or(0.0, |load| load.microstrain(time, &gusts));
            let code = channel.code(state, channel.open.contains(&time), random);
            write!(file, ",{code},{}", thermometer(state.celsius, random))?;
            let readings = channel.sensor.as_ref().map(|it| it.readings(state.celsius, time, sensor_noise));
            state.celsius = channel.heat.later(state.celsius, time, step);
            if let Some(block) = &channel.block {
                write!(file, ",{}", thermometer(state.block_celsius, random))?;
                state.block_celsius = block.heat.later(state.block_celsius, time, step);
            }
            for reading in readings.into_iter().flatten() {
                write!(file, ",{reading}")?;
            }
            write!(file, ",{:.3}", to_steps(state.microstrain, 1_000.0))?;
        }
        writeln!(file)?;
        if (row + 1) % 1_000 == 0 || row + 1 == ROWS {
            progress(row + 1);
        }
    }
    Ok(())
}

/// What is true about the gauges of a channel at one moment.
pub struct State {
    pub celsius: f64,
    /// Of the free block; means nothing where there is none.
    pub block_celsius: f64,
    pub microstrain: f64,
    pub axial_microstrain: f64,
}

impl State {
    /// At rest at the start of the flight.
    fn settled(channel: &Channel) -> Self {
        let block = channel.block.as_ref().map(|block| block.heat.surroundings(0.0));
        Self {
            celsius: channel.heat.surroundings(0.0),
            block_celsius: block.unwrap_or_default(),
            microstrain: 0.0,
            axial_microstrain: 0.0,
        }
    }
}

impl Channel {
    /// What the converter says; `open` if the gauge in arm 1 is.
    pub fn code(&self, state: &State, open: bool, random: &mut Random) -> i32 {
        let mut arms = self.arms_at(state);
        if open {
            arms[0] = f64::INFINITY;
        }
        bridge::code(self.leads.ratio(arms), CODE_NOISE * random.gaussian())
    }

    /// The same with a resistor of so many ohms across arm 2, at the instrument; none where there are no three leads.
    pub fn shunted_code(&self, state: &State, ohms: f64, random: &mut Random) -> Option<i32> {
        let Leads::Three(lead) = self.leads else { return None };
        let ratio = bridge::shunted_ratio(lead, self.arms_at(state), ohms);
        Some(bridge::code(ratio, CODE_NOISE * random.gaussian()))
    }

    /// Ohms of the arms.
    fn arms_at(&self, state: &State) -> [f64; 4] {
        let gauge = |ohms: f64, celsius: f64, microstrain: f64| {
            ohms * self.foil.relative_resistance(&self.specimen, celsius, microstrain * 1e-6)
        };
        let ohms = |arm: &Arm| match *arm {
            Arm::Resistor(ohms) => ohms,
            Arm::Gauge { ohms, sees } => {
                gauge(ohms, state.celsius, sees * state.microstrain + state.axial_microstrain)
            }
            Arm::BlockGauge { ohms } => gauge(ohms, state.block_celsius, 0.0),
        };
        self.arms.each_ref().map(ohms)
    }
}

/// What a thermometer says.
pub fn thermometer(celsius: f64, random: &mut Random) -> f64 {
    read(celsius, CELSIUS_NOISE, STEPS_PER_DEGREE, random)
}

/// With noise, to the nearest step; exactly where there is no noise.
pub fn read(value: f64, noise: f64, steps_per_unit: f64, random: &mut Random) -> f64 {
    if random.is_none() { value } else { to_steps(value + noise * random.gaussian(), steps_per_unit) }
}

/// To the nearest step; adding zero turns a negative zero, which would print as `-0`, into a plain one.
pub fn to_steps(value: f64, steps_per_unit: f64) -> f64 {
    (value * steps_per_unit).round() / steps_per_unit + 0.0
}

#[cfg(test)]
mod tests {
    use super::bridge::Leads;
    use super::*;
    use approx::assert_abs_diff_eq;

    const GAUGE: f64 = 350.0;
    const EVEN: [f64; 4] = [GAUGE, GAUGE, 5_000.0, 5_000.0];
    const FULL: [f64; 4] = [GAUGE; 4];

    fn named(name: &str) -> &'static Channel {
        CHANNELS.iter().find(|channel| channel.name == name).unwrap()
    }

    /// With most of the noise gone.
    fn mean_code(channel: &Channel, celsius: f64, microstrain: f64, axial_microstrain: f64) -> f64 {
        let state = State { celsius, block_celsius: celsius, microstrain, axial_microstrain };
        let mean: f64 = (0..64).map(|i| f64::from(channel.code(&state, false, &mut Random::stream(i)))).sum();
        mean / 64.0
    }

    #[test]
    fn balanced_arms_give_nothing() {
        assert_eq!(Leads::Three(2.0).ratio(EVEN), 0.0);
        assert_eq!(Leads::Two(2.0).ratio([346.0, 350.0, 5_000.0, 5_000.0]), 0.0);
        assert_eq!(Leads::Four(2.0).ratio(FULL), 0.0);
        assert_eq!(bridge::code(0.0, 0.0), 0);
    }

    #[test]
    fn leads_to_the_excitation_take_their_share() {
        let bent = [351.0, 349.0, 351.0, 349.0];
        let (plain, leads) = (Leads::Four(0.0).ratio(bent), Leads::Four(7.0).ratio(bent));
        assert_abs_diff_eq!(plain, 1.0 / 350.0, epsilon = 1e-15);
        assert_abs_diff_eq!(leads, plain * 350.0 / 364.0, epsilon = 1e-15);
    }

    #[test]
    fn nothing_changes_at_the_reference_temperature() {
        for channel in &CHANNELS {
            assert_eq!(channel.foil.relative_resistance(&channel.specimen, 24.0, 0.0), 1.0);
        }
    }

    #[test]
    fn what_should_cancel_nearly_does() {
        // In codes; a microstrain in one arm is about 550 of them.
        for name in ["strut_spare", "boom_root", "tie_rod"] {
            let channel = named(name);
            let cold = mean_code(channel, -70.0, 0.0, 0.0) - mean_code(channel, 20.0, 0.0, 0.0);
            assert!(cold.abs() < 30.0, "{name}: {cold}");
        }
        let boom = named("boom_root");
        let pulled = mean_code(boom, 20.0, 0.0, 400.0) - mean_code(boom, 20.0, 0.0, 0.0);
        assert!(pulled.abs() < 30.0, "{pulled}");
        // One gauge alone sees it all.
        let alone = named("strut_north");
        assert!((mean_code(alone, -70.0, 0.0, 0.0) - mean_code(alone, 20.0, 0.0, 0.0)).abs() > 200_000.0);
    }

    #[test]
    fn tension_raises_the_code_and_the_rails_hold() {
        for channel in &CHANNELS {
            assert!(mean_code(channel, 20.0, 100.0, 0.0) > mean_code(channel, 20.0, 0.0, 0.0) + 40_000.0);
        }
        let open = [f64::INFINITY, 350.0, 5_000.0, 5_000.0];
        let shorted = [0.0, 350.0, 5_000.0, 5_000.0];
        assert_eq!(bridge::code(Leads::Three(2.0).ratio(open), 0.0), 8_388_607);
        assert_eq!(bridge::code(Leads::Two(0.0).ratio(shorted), 0.0), -8_388_608);
    }

    #[test]
    fn the_ground_crew_would_write_the_same_again() {
        let codes = || balance_codes().map(|balance| balance.code);
        assert_eq!(codes(), codes());
        assert!(codes().iter().all(|code| code.abs() < 1_500_000));
    }
}
