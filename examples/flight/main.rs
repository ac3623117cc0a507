//! Writes the demonstration data: a simulated balloon flight with strain gauges whose true strain is known.
//!
//! `cargo run --release --example flight -- [--out FILE]`
//!
//! The flight is invented from beginning to end; `simulation.rs` says what happens in it and how it is computed. This
//! program writes it to a file (`target/flight.csv` if none is named), then reads the file back and says what is in it.

mod simulation;

use std::error::Error;
use std::fs::{self, File};
use std::io::{BufRead, BufReader, IsTerminal};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

const USAGE: &str = "usage: flight [--out FILE]    (writes target/flight.csv if no FILE is given)";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let path = match arguments.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        [] => PathBuf::from("target/flight.csv"),
        ["--out", file] => PathBuf::from(file),
        ["--help" | "-h"] => {
            println!("{USAGE}");
            return ExitCode::SUCCESS;
        }
        _ => {
            eprintln!("{USAGE}");
            return ExitCode::from(2);
        }
    };
    match run(&path) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("flight: {}: {error}", path.display());
            ExitCode::FAILURE
        }
    }
}

fn run(path: &Path) -> Result<(), Box<dyn Error>> {
    if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        fs::create_dir_all(folder)?;
    }
    let watched = std::io::stderr().is_terminal();
    simulation::write_csv(path, &mut |rows| {
        if watched {
            eprint!("\rsimulating: {rows} of {} rows", simulation::ROWS);
        }
    })?;
    if watched {
        eprintln!();
    }

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
