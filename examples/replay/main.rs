//! Replays a record of strain-gauge samples: raw bridge codes in, mechanical strain out.
//!
//! `cargo run --release --bin replay` replays a simulated balloon flight;
//! `cargo run --release --bin replay -- CHANNELS.toml SAMPLES.csv` replays a record of yours; `--help`
//! says more.
//!
//! | file | its job |
//! |---|---|
//! | `options.rs` | the command line |
//! | `demo.rs` | the flight that is replayed without arguments |
//! | `constants.rs` | kernels as constants of C, channels as constants of Rust |
//! | `pass.rs`, `progress.rs` | the record block by block, and how far it is |
//! | `report.rs`, `table.rs`, `plot.rs` | summary, `corrected.csv`, `replay.svg` |
//! | `rosette.rs` | rosettes in both |
//! | `paths.rs` | `numbers.txt`: every path of the kernels |
//!
//! Channel files, samples, results and drawing are in the crate `host` (`examples/host`).

mod constants;
mod demo;
mod options;
mod pass;
mod paths;
mod plot;
mod progress;
mod report;
mod rosette;
mod table;
#[cfg(test)]
mod tests;

use clap::Parser;
use host::figures::{Figures, time_kernels};
use host::files::{self, CAUTION, Outputs, at, is_same_file, tell_rejected, told};
use host::rejected::Rejected;
use host::setup::Channel;
use host::{channel_file, setup, simulation};
use options::Options;
use pass::Source;
use report::Summary;
use rosette::Rosette;
use std::error::Error;
use std::fs::{self, File};
use std::io::Write;
use std::process::ExitCode;
use std::time::Instant;

const NOT_ALL_USED: u8 = 3;

/// Rejected cells that are told where no row is left.
const SHOWN_OF_NONE: usize = 3;

/// Written to the output directory.
const OUTPUTS: [&str; 4] = ["corrected.csv", "replay.svg", "numbers.txt", "rejected.csv"];

fn main() -> ExitCode {
    let start = Instant::now();
    match replay(&Options::parse(), start) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::from(NOT_ALL_USED),
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// Whether every cell was used, and each channel and rosette has a sample without a flag.
fn replay(options: &Options, start: Instant) -> Result<bool, Box<dyn Error>> {
    let (channels_name, text) = files::channel_file(options.channels.as_deref(), demo::CHANNEL_FILE)?;
    let (time_column, channels, rosettes) = read_channels(&channels_name, &text)?;

    let mut constants = Vec::new();
    if let Some(path) = &options.c_header {
        let guard = path.file_name().unwrap_or_default().to_string_lossy();
        constants.push((path, "--c-header", constants::of_c(&channels_name, &text, &guard)?));
    }
    if let Some(path) = &options.rust_module {
        constants.push((path, "--rust-module", constants::of_rust(&channels_name, &text)?));
    }
    for (i, (path, option, _)) in constants.iter().enumerate() {
        let others = options.channels.iter().chain(constants[..i].iter().map(|(other, ..)| *other));
        if let Some(other) = others.into_iter().find(|other| other == path || is_same_file(other, path)) {
            return Err(at(path)(format!("is {} too: choose another {option}", other.display())).into());
        }
    }
    let write_constants = || {
        constants.iter().try_for_each(|(path, _, text)| {
            simulation::write_whole(path, |file| file.write_all(text.as_bytes())).map_err(at(path))
        })
    };
    if options.channels.is_some() && options.samples.is_none() {
        write_constants()?;
        constants.iter().for_each(|(path, ..)| println!("constants      {}", path.display()));
        return Ok(true);
    }

    let out = options.out.as_path();
    fs::create_dir_all(out).map_err(at(out))?;
    let samples_path = match &options.samples {
        Some(path) => path.clone(),
        None => demo::samples(out).map_err(at(out))?,
    };
    files::would_overwrite(out, &OUTPUTS, &[&samples_path])?;

    let outputs = Outputs::into(out)?;
    let [table_path, plot_path, numbers_path, rejected_path] = OUTPUTS.map(|name| outputs.path(name));
    let mut rejected = Rejected::create(&rejected_path).map_err(at(&rejected_path))?;
    let mut source = Source::of(&samples_path, &time_column, &channels)?;
    source.rosettes = &rosettes;
    let timed = source.times(&outputs.path(""))?;
    let rows = timed.times.rows;
    let mut corrected = File::create(&table_path).map_err(at(&table_path))?;
    corrected.write_all(&table::header(&time_column, &channels, &rosettes)?).map_err(at(&table_path))?;
    let (seen, seen_rosettes) = source.samples(
        timed,
        |rows| corrected.write_all(rows).map_err(at(&table_path)),
        |rejection| rejected.add(rejection).map_err(at(&rejected_path)),
    )?;
    rejected.flush().map_err(at(&rejected_path))?;
    if seen.iter().all(|seen| seen.figures.samples == 0) {
        rejected.first.truncate(SHOWN_OF_NONE);
        rejected.first.iter().for_each(|rejection| eprintln!("{}:{rejection}", samples_path.display()));
        return Err(at(&samples_path)("no row of it can be used: nothing is written").into());
    }
    tell_rejected(&rejected, &samples_path, &out.join("rejected.csv"));
    let names = channels.iter().zip(&seen).filter(|(_, seen)| seen.figures.extremes.is_none());
    let without = rosettes.iter().zip(&seen_rosettes).filter(|(_, seen)| !seen.has_clear_row());
    let without: Vec<&str> = names
        .map(|(channel, _)| channel.name.as_str())
        .chain(without.map(|(rosette, _)| rosette.name.as_str()))
        .collect();
    for name in &without {
        eprintln!("{}: {name:?} has no sample without a flag", samples_path.display());
    }

    let numbers = paths::text(channels.iter().zip(seen.iter().map(|seen| &seen.paths)));
    fs::write(&numbers_path, numbers).map_err(at(&numbers_path))?;
    let title = match options.samples {
        Some(_) => samples_path.display().to_string(),
        None => "simulated data of an invented balloon flight".to_string(),
    };
    let drawn: Vec<_> =
        channels.iter().zip(&seen).map(|(channel, seen)| (channel, &seen.figures, &seen.record)).collect();
    plot::write(&plot_path, &title, &time_column, &drawn).map_err(at(&plot_path))?;

    // Closed before they are moved.
    drop(corrected);
    let rejected = rejected.count;
    write_constants()?;
    let places = outputs.finish(&OUTPUTS)?;
    let mut summary = format!("channels       {channels_name}\n");
    summary += &format!("samples        {}", samples_path.display());
    if options.samples.is_none() {
        summary += ": simulated, no such flight";
    }
    summary += &format!("\n               {rows} rows of {} channels", channels.len());
    summary += &format!("; cells rejected: {rejected}\n");
    if !without.is_empty() {
        summary += &format!("               no sample without a flag: {}\n", without.join(", "));
    }
    let both: Vec<_> = channels.iter().zip(seen.iter().map(|seen| &seen.figures)).collect();
    for (channel, figures) in &both {
        let summarised = Summary { channel, figures, time_column: &time_column };
        summary += &format!("\n{summarised}");
    }
    for (rosette, seen) in rosettes.iter().zip(&seen_rosettes) {
        summary += &format!("\n{}", rosette::Summary { rosette, seen });
    }
    summary += &format!(
        "\ncorrected      {}\nplot           {}\nnumbers        {}\nrejected       {}\n\n{CAUTION}\n",
        places[0].display(),
        places[1].display(),
        places[2].display(),
        places[3].display(),
    );
    summary += &timing(&both, start)?;
    files::print(&summary)?;
    Ok(rejected == 0 && without.is_empty())
}

/// The time column, the channels and the rosettes, or every problem of the file, a line each.
fn read_channels(name: &str, text: &str) -> Result<(String, Vec<Channel>, Vec<Rosette>), String> {
    let mut file = channel_file::parse(text).map_err(told(name))?;
    let time_column = std::mem::take(&mut file.time_column);
    let rosettes = Rosette::all(&file);
    Ok((time_column, setup::set_up(file).map_err(told(name))?, rosettes))
}

fn timing(channels: &[(&Channel, &Figures)], start: Instant) -> Result<String, gaugewright::Error> {
    let mut text = "\ntiming, on this host (varies from run to run)\n".to_string();
    if let Some((samples, best)) = time_kernels(channels)? {
        let seconds = best.as_secs_f64().max(1e-9);
        let rate = samples as f64 / seconds;
        text += &format!(
            "  kernel         {samples} samples in {:.3} ms: {:.0} million samples a second, {:.1} ns each
                 (full correction, block calls, one thread, the fastest of several passes)\n",
            seconds * 1e3,
            rate / 1e6,
            1e9 / rate,
        );
    }
    text += &format!("  whole run      {:.2} s\n", start.elapsed().as_secs_f64());
    Ok(text)
}
