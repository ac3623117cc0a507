//! Runs in a climatic chamber that never took place: the keel fitting of the invented balloon, without load, before the
//! flight of `examples/flight`, whose foil, alloy, bridge and converter are these.
//!
//! The part goes from 20 C down to -86 C, up to 106 C and back, in steps of 8 C with a dwell of half an hour after
//! each; a row is what was read at the end of a dwell. Two things read it: the chamber's own instrument, in microstrain at a
//! gauge factor of 2.0, and the logger that flies, in codes. The true strain is zero throughout.
//!
//! | made up | how much |
//! |---|---|
//! | scatter from dwell to dwell, of gauge and glue | 0.5 microstrain, gaussian |
//! | hysteresis: the gauge shows more where temperature falls | 3 microstrain at 10 C, none at the ends |
//! | scatter of the chamber's instrument, and its last digit | 0.2 microstrain, 0.1 microstrain |
//! | scatter of the lever of the loaded run, which applies 2000 microstrain | 0.3 microstrain |
//! | thermometer of the chamber: noise, steps | 0.005 C, 2^-8 C |
//! | shunt of the logger, 100 kilohm across arm 2 at its terminals | 0.03 % more than it says |
//! | thermometer of the later run, which is another | reads 0.08 C too much |
//!
//! Numbers that look random come from the stream of [`SEED`], so that every run gives the same files.

use gaugewright::commissioning::fit::Direction;
use host::simulation::State;
use host::simulation::gondola::{CHANNELS, Channel};
use host::simulation::random::Random;
use host::simulation::{thermometer, to_steps, write_whole};
use std::io::{self, Write};
use std::path::Path;

/// Number of the stream of random numbers; the later run has the next one.
pub const SEED: u64 = 2_900;

/// In the simulation of the flight.
const NAME: &str = "fitting_keel";

pub const LOWEST: f64 = -86.0;
pub const HIGHEST: f64 = 106.0;
const START: f64 = 20.0;
const STEP: f64 = 8.0;
const SECONDS_PER_DWELL: u32 = 1_800;

/// What the chamber's instrument is set to.
pub const INSTRUMENT_FACTOR: f64 = 2.0;

const SCATTER: f64 = 0.5;
/// Falling less rising, where it is most.
pub const HYSTERESIS: f64 = 3.0;
const INSTRUMENT_SCATTER: f64 = 0.2;
/// Of the loaded run, microstrain: what the lever is to apply, and how well it does.
const LOAD: f64 = 2_000.0;
const LEVER_SCATTER: f64 = 0.3;
const LATER_THERMOMETER_IS_OFF: f64 = 0.08;
const LATER_ROWS: u32 = 600;

/// Before the run: codes of each kind.
#[cfg(test)]
pub const CODES: usize = 8;
#[cfg(test)]
const SHUNT_OHMS: f64 = 100_030.0;

/// First line of both files.
pub const MARK: &str = "# Simulated data of an invented chamber run";

/// The run that is fitted.
///
/// # Errors
/// If the file cannot be written.
pub fn write_run(path: &Path) -> io::Result<()> {
    write(path, SEED, 0.0, programme(LOWEST, HIGHEST, STEP).map(|dwell| Reading { dwell, applied: None }))
}

/// A loaded one, of the same part: at each dwell without load, with it, and without again, a minute apart.
///
/// # Errors
/// If the file cannot be written.
pub fn write_loaded_run(path: &Path) -> io::Result<()> {
    let dwells = programme(LOWEST + 2.0, HIGHEST - 2.0, 2.0 * STEP);
    let readings = dwells.flat_map(|dwell| {
        [(0, 0.0), (60, LOAD), (120, 0.0)].map(|(later, applied)| Reading {
            dwell: Dwell { time: dwell.time + later, ..dwell },
            applied: Some(applied),
        })
    });
    write(path, SEED + 3, 0.0, readings)
}

/// A later one, of the same part: warmed and cooled slowly between -80 and 100 C, read every minute.
///
/// # Errors
/// If the file cannot be written.
pub fn write_later_run(path: &Path) -> io::Result<()> {
    let dwells = (0..LATER_ROWS).map(|row| {
        let turn = std::f64::consts::TAU * f64::from(row) / 200.0;
        let sweep = if turn.cos() > 0.0 { Direction::Heating } else { Direction::Cooling };
        let dwell = Dwell { time: 60 * row, celsius: 10.0 + 89.5 * turn.sin(), sweep };
        Reading { dwell, applied: None }
    });
    write(path, SEED + 1, LATER_THERMOMETER_IS_OFF, dwells)
}

/// What the logger reads before the run, at the temperature of its balance: at rest, and with its shunt. They stand in `keel.toml`.
#[cfg(test)]
pub fn codes_before_the_run() -> [[i32; CODES]; 2] {
    let keel = keel();
    let mut random = Random::stream(SEED + 2);
    let state =
        State { celsius: keel.balance_celsius, block_celsius: 0.0, microstrain: 0.0, axial_microstrain: 0.0 };
    let at_rest = std::array::from_fn(|_| keel.code(&state, false, &mut random));
    let shunted = |_| keel.shunted_code(&state, SHUNT_OHMS, &mut random).expect("the keel has three leads");
    [at_rest, std::array::from_fn(shunted)]
}

#[derive(Clone, Copy)]
struct Dwell {
    time: u32,
    celsius: f64,
    sweep: Direction,
}

/// A row of a file.
struct Reading {
    dwell: Dwell,
    /// In the loaded run: the strain that the lever is to apply.
    applied: Option<f64>,
}

/// Down, up, and back.
fn programme(lowest: f64, highest: f64, step: f64) -> impl Iterator<Item = Dwell> {
    let mut dwells = Vec::new();
    let mut celsius = START;
    for (end, sweep) in
        [(lowest, Direction::Cooling), (highest, Direction::Heating), (START, Direction::Cooling)]
    {
        while celsius != end {
            let step = (end - celsius).clamp(-step, step);
            celsius += step;
            dwells.push((celsius, sweep));
        }
    }
    (1..).zip(dwells).map(|(dwell, (celsius, sweep))| Dwell {
        time: SECONDS_PER_DWELL * dwell,
        celsius,
        sweep,
    })
}

fn write(
    path: &Path,
    stream: u64,
    thermometer_is_off: f64,
    readings: impl Iterator<Item = Reading>,
) -> io::Result<()> {
    let keel = keel();
    let mut random = Random::stream(stream);
    write_whole(path, |file| {
        writeln!(file, "{MARK}: no such part, gauge or chamber exists (seed {stream}).")?;
        let mut readings = readings.peekable();
        let is_loaded = readings.peek().is_some_and(|first| first.applied.is_some());
        let load = if is_loaded {
            "A lever applies a known strain"
        } else {
            "Without load: the true strain is zero"
        };
        writeln!(file, "# {NAME}: {}. {load}.", keel.label)?;
        writeln!(
            file,
            "# The reading is in microstrain at a gauge factor of {INSTRUMENT_FACTOR}, the code is the logger's."
        )?;
        let applied_column = if is_loaded { format!(",{NAME}_applied_microstrain") } else { String::new() };
        writeln!(
            file,
            "time_s,{NAME}_celsius,{NAME}_reading_microstrain,{NAME}_code,{NAME}_true_microstrain{applied_column}"
        )?;
        let mut scatter = 0.0;
        let mut dwell_time = None;
        for Reading { dwell, applied } in readings {
            // Of gauge and glue: one for a dwell.
            if applied.is_none_or(|strain| strain == 0.0)
                && dwell_time != Some(dwell.time / SECONDS_PER_DWELL)
            {
                scatter = SCATTER * random.gaussian();
                dwell_time = applied.map(|_| dwell.time / SECONDS_PER_DWELL);
            }
            let strain = match applied {
                Some(strain) if strain != 0.0 => strain + LEVER_SCATTER * random.gaussian(),
                _ => 0.0,
            };
            let shift = shift(&dwell) + scatter;
            let shown =
                indicated(keel, dwell.celsius, strain + shift) + INSTRUMENT_SCATTER * random.gaussian();
            // Strain that only the gauge sees is of its glue, not of the part.
            let state = State {
                celsius: dwell.celsius,
                block_celsius: 0.0,
                microstrain: strain + shift,
                axial_microstrain: 0.0,
            };
            let code = keel.code(&state, false, &mut random);
            let celsius = thermometer(dwell.celsius + thermometer_is_off, &mut random);
            let strain = to_steps(strain, 1_000.0);
            write!(file, "{},{celsius},{:.1},{code},{strain}", dwell.time, to_steps(shown, 10.0))?;
            match applied {
                Some(applied) => writeln!(file, ",{applied}")?,
                None => writeln!(file)?,
            }
        }
        Ok(())
    })
}

/// Half of the hysteresis, with its sign: nothing where the chamber turns back.
fn shift(dwell: &Dwell) -> f64 {
    let x = (dwell.celsius - 0.5 * (LOWEST + HIGHEST)) / (0.5 * (HIGHEST - LOWEST));
    let half = 0.5 * HYSTERESIS * (1.0 - x * x);
    if dwell.sweep == Direction::Cooling { half } else { -half }
}

/// Of the gauge's own resistance, by an instrument that has the leads and the curvature of the bridge taken out.
fn indicated(keel: &Channel, celsius: f64, shift: f64) -> f64 {
    let ohms = |celsius, shift: f64| keel.foil.relative_resistance(&keel.specimen, celsius, shift * 1e-6);
    (ohms(celsius, shift) / ohms(keel.balance_celsius, 0.0) - 1.0) / INSTRUMENT_FACTOR * 1e6
}

fn keel() -> &'static Channel {
    let named = CHANNELS.iter().find(|channel| channel.name == NAME);
    named.expect("the simulation has the keel fitting")
}
