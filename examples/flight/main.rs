//! Writes the demonstration data: a simulated balloon flight with strain gauges whose true strain is known.
//!
//! `cargo run --release --bin flight -- [--out FILE] [--stream FILE] [--without-noise]`
//!
//! The flight is invented from beginning to end; `host::simulation` describes what happens in it and how it is computed. This
//! program writes it to a file (`target/flight.csv` if none is named), then reads the file back and says what is in it.
//! With `--stream` it also writes the samples as the binary stream of a logger, see `host::stream`.

mod options;
#[cfg(test)]
mod tests;

use host::stream::Header;
use host::{simulation, stream_of_csv};
use options::{Options, USAGE};
use std::error::Error;
use std::fmt::Display;
use std::fs::{self, File};
use std::io::{self, BufRead, BufReader, IsTerminal, Read, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<_> = std::env::args_os().skip(1).collect();
    if arguments == ["--help"] || arguments == ["-h"] {
        println!("{USAGE}");
        return ExitCode::SUCCESS;
    }
    let options = match Options::of(arguments) {
        Ok(options) => options,
        Err(error) => {
            eprintln!("flight: {error}\n{USAGE}");
            return ExitCode::from(2);
        }
    };
    match run(&options) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("flight: {error}");
            ExitCode::FAILURE
        }
    }
}

fn run(options: &Options) -> Result<(), Box<dyn Error>> {
    let path = options.out.as_path();
    let place = settled(path).map_err(at(path))?;
    if let Some(stream) = &options.stream {
        if settled(stream).map_err(at(stream))? == place {
            return Err(at(stream)("is named for the rows and for the stream: choose another").into());
        }
    }
    let watched = io::stderr().is_terminal();
    let mut progress = |rows| {
        if watched {
            eprint!("\rsimulating: {rows} of {} rows", simulation::ROWS);
        }
    };
    simulation::write_csv(path, options.noise, &mut progress).map_err(at(path))?;
    if watched {
        eprintln!();
    }
    tell_rows(path).map_err(at(path))?;
    if let Some(stream) = &options.stream {
        let bytes = stream_of_csv::stream(BufReader::new(File::open(path)?)).map_err(at(path))?;
        simulation::write_whole(stream, |file| file.write_all(&bytes)).map_err(at(stream))?;
        tell_stream(stream).map_err(at(stream))?;
    }
    Ok(())
}

/// Says what is in the file of rows.
fn tell_rows(path: &Path) -> Result<(), Box<dyn Error>> {
    let names = simulation::channels();
    let header = simulation::header();
    let columns: Vec<&str> = header.split(',').collect();
    let extremes = extremes(path, columns.len())?;
    println!("{}", path.display());
    println!(
        "simulated, invented data: {} rows at {} Hz, {} channels, {} samples, {:.1} MB",
        simulation::ROWS,
        simulation::SAMPLE_RATE_HZ,
        names.len(),
        simulation::ROWS * names.len(),
        fs::metadata(path)?.len() as f64 / 1e6,
    );
    println!();
    println!("                  balanced                code       temperature, C   true microstrain");
    println!("channel           C      code       from        to     from      to     from      to");
    for balance in simulation::balance_codes() {
        let of = |what: &str| {
            let name = format!("{}_{what}", balance.channel);
            columns.iter().position(|column| *column == name).map(|column| extremes[column])
        };
        let [Some(code), Some(celsius), Some(strain)] = ["code", "celsius", "true_microstrain"].map(of)
        else {
            return Err(format!("columns of {} are missing", balance.channel).into());
        };
        println!(
            "{:<13}{:>6.2}{:>10}{:>11}{:>10}{:>9.2}{:>8.2}{:>9.1}{:>8.1}",
            balance.channel,
            balance.celsius,
            balance.code,
            code.0,
            code.1,
            celsius.0,
            celsius.1,
            strain.0,
            strain.1,
        );
        if let (Some(block), Some(celsius)) = (balance.block_celsius, of("block_celsius")) {
            println!("{:<13}{block:>6.2}{:>40.2}{:>8.2}", "  its block", celsius.0, celsius.1);
        }
    }
    Ok(())
}

/// Says what is in the stream.
fn tell_stream(path: &Path) -> Result<(), Box<dyn Error>> {
    let mut file = File::open(path)?;
    let length = file.metadata()?.len();
    let mut header = [0; Header::BYTES];
    file.read_exact(&mut header)?;
    let Header { rows, bytes_per_row, rows_per_second } = Header::from_bytes(&header)?;
    println!();
    println!("{}", path.display());
    println!(
        "the same samples as a binary stream: {rows} rows at {rows_per_second} Hz, {bytes_per_row} bytes a row, \
         {:.1} MB",
        length as f64 / 1e6,
    );
    Ok(())
}

/// Where a file of this path will be, its folder made if it is not there.
fn settled(path: &Path) -> Result<PathBuf, Box<dyn Error>> {
    let name = path.file_name().ok_or("does not name a file")?;
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    fs::create_dir_all(folder)?;
    Ok(fs::canonicalize(folder)?.join(name))
}

/// Says which file an error is about.
fn at<E: Display>(path: &Path) -> impl Fn(E) -> String {
    move |error| format!("{}: {error}", path.display())
}

/// Smallest and largest number of each column of the file.
fn extremes(path: &Path, columns: usize) -> Result<Vec<(f64, f64)>, Box<dyn Error>> {
    let mut extremes = vec![(f64::INFINITY, f64::NEG_INFINITY); columns];
    let lines = BufReader::new(File::open(path)?).lines();
    let is_text = |line: &String| line.starts_with("# ") || line.starts_with("time_s");
    for line in lines.skip_while(|line| line.as_ref().is_ok_and(is_text)) {
        for (cell, extreme) in line?.split(',').zip(&mut extremes) {
            let number: f64 = cell.parse()?;
            *extreme = (extreme.0.min(number), extreme.1.max(number));
        }
    }
    Ok(extremes)
}
