//! The demonstration: a channel file that is built in, and a simulated flight that is made when it is needed.

use host::files::starts_with;
use host::simulation;
use indicatif::{ProgressBar, ProgressStyle};
use std::error::Error;
use std::fs::{self, File};
use std::io::{self, BufRead, BufReader};
use std::path::{Path, PathBuf};

pub const CHANNELS: &str = include_str!("flight.toml");
pub const CHANNEL_FILE: (&str, &str) = ("examples/replay/flight.toml", CHANNELS);

/// Of such a flight, if another or not whole.
const MARK: &str = "# Simulated data of an invented balloon flight";

/// The samples of the flight in this directory, made now unless they are there.
///
/// # Errors
/// If the file cannot be read or written.
pub fn samples(directory: &Path) -> Result<PathBuf, Box<dyn Error>> {
    let path = directory.join("flight.csv");
    if !is_this_flight(&path).unwrap_or(false) {
        if path.exists() && !starts_with(&path, MARK)? {
            return Err("flight.csv is there already, and not from here: choose another --out".into());
        }
        eprintln!("making {}: simulated data of an invented balloon flight", path.display());
        let progress = ProgressBar::new(simulation::ROWS as u64);
        progress
            .set_style(ProgressStyle::with_template("simulating {bar:40} {pos} of {len} rows, {eta} left")?);
        simulation::write_csv(&path, simulation::Noise::Flown, &mut |rows| {
            progress.set_position(rows as u64)
        })?;
        progress.finish_and_clear();
    }
    Ok(path)
}

/// Whether the file holds the whole flight of this simulation.
fn is_this_flight(path: &Path) -> io::Result<bool> {
    // The numbers themselves cannot be checked without flying again; a program built since may hold another
    // simulation.
    let made = fs::metadata(path)?.modified()?;
    if std::env::current_exe().and_then(|program| program.metadata()?.modified())? > made {
        return Ok(false);
    }
    let mut lines = BufReader::new(File::open(path)?).lines();
    let mut balances = simulation::balance_codes().into_iter();
    let mut balance = balances.next();
    let header = loop {
        let Some(line) = lines.next().transpose()? else {
            return Ok(false);
        };
        if !line.starts_with('#') {
            break line;
        }
        if let Some(noted) = &balance {
            if line.contains(noted.channel) && line.ends_with(&noted.note()) {
                balance = balances.next();
            }
        }
    };
    if balance.is_some() || header != simulation::header() {
        return Ok(false);
    }
    let cells = header.split(',').count();
    let mut rows = 0;
    for line in lines {
        let line = line?;
        let time = format!("{:.1}", rows as f64 / simulation::SAMPLE_RATE_HZ);
        let mut row = line.split(',');
        if row.next() != Some(&time) || row.count() + 1 != cells {
            return Ok(false);
        }
        rows += 1;
    }
    Ok(rows == simulation::ROWS)
}
