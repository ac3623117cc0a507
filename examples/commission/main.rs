//! Commissions a bonded strain gauge: from a chamber run of the unloaded part to the channel file that measures.
//!
//! `cargo run --release --bin commission` commissions an invented part; `cargo run --release --bin commission
//! -- CHANNELS.toml RUN.csv` does it with a run of yours; `--help` says more.
//!
//! | file | its job |
//! |---|---|
//! | `options.rs` | the command line |
//! | `demo.rs`, `chamber.rs` | the invented runs, and the part and the chamber that it would have been made with |
//! | `job.rs` | what is to be done: each channel, with what the command line says instead |
//! | `trial.rs` | one channel through all of the following |
//! | `bench.rs` | the channel as it is before the run |
//! | `installation.rs` | wiring, shunt and leads, before the run |
//! | `run.rs`, `sweep.rs` | the run as points, and which way the temperature went at each |
//! | `fitted.rs` | the curve through them |
//! | `loaded.rs` | the gauge factor against temperature, from a run with load |
//! | `judgement.rs`, `zeros.rs` | what is wrong with the run; zeros that contradict each other |
//! | `advice.rs` | the matches on offer, compared |
//! | `budget.rs`, `omission.rs` | how well a strain is known, and what may be left out |
//! | `prediction.rs` | the curve that foil and part predict, and what the measured one says of the foil |
//! | `places.rs` | temperatures at which all that is looked at |
//! | `package.rs` | the channel file with the fitted curve |
//! | `report.rs`, `points.rs` | `report.txt`, `points.csv` |
//! | `pictures.rs` | `curve.svg`, `matches.svg`, `budget.svg` |
//!
//! The channel file, the cells of a CSV and what pictures share are in the crate `host` (`examples/host`).
#![doc = include_str!("README.md")]

mod advice;
mod bench;
mod budget;
mod chamber;
mod demo;
mod fitted;
mod installation;
mod job;
mod judgement;
mod loaded;
mod omission;
mod options;
mod package;
mod pictures;
mod places;
mod points;
mod prediction;
mod report;
mod run;
mod sweep;
#[cfg(test)]
mod tests;
mod trial;
mod zeros;

use clap::Parser;
use host::channel_file::{self, Problem};
use host::files::{self, Outputs, at, told};
use job::Job;
use options::Options;
use std::error::Error;
use std::fs;
use std::process::ExitCode;
use trial::{CHANNEL_FILE, OF_CHANNEL, Place, Trial};

const SOME_REJECTED: u8 = 3;
const SOMETHING_WRONG: u8 = 4;

fn main() -> ExitCode {
    match commission(&Options::parse()) {
        Ok(code) => ExitCode::from(code),
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// Gives the exit status.
fn commission(options: &Options) -> Result<u8, Box<dyn Error>> {
    let (channels_name, mut text) = files::channel_file(options.channels.as_deref(), demo::CHANNEL_FILE)?;
    let file = channel_file::parse(&text).map_err(told(&channels_name))?;
    let jobs = Job::all(file, options).map_err(told(&channels_name))?;
    let several = jobs.len() > 1;
    let prefixes = trial::prefixes(&jobs);
    let of_channel = |prefix: &String| OF_CHANNEL.map(|name| format!("{prefix}{name}"));
    let of_channels: Vec<String> = prefixes.iter().flat_map(of_channel).collect();
    let every_name: Vec<&str> =
        [CHANNEL_FILE].into_iter().chain(of_channels.iter().map(String::as_str)).collect();

    let out = options.out.as_path();
    fs::create_dir_all(out).map_err(at(out))?;
    let (run_path, loaded_path) = match &options.run {
        Some(path) => (path.clone(), options.loaded.clone()),
        None => demo::runs(out).map(|(run, loaded)| (run, Some(loaded)))?,
    };
    if loaded_path.is_some() && jobs.iter().all(|job| job.load.is_none()) {
        return Err(format!("{channels_name}: --loaded needs [channel.commissioning.load]").into());
    }
    let inputs = [Some(run_path.as_path()), loaded_path.as_deref(), options.channels.as_deref()];
    files::would_overwrite(out, &every_name, &inputs.into_iter().flatten().collect::<Vec<_>>())?;
    let outputs = Outputs::into(out)?;
    let place = Place {
        channels_name: &channels_name,
        run_path: &run_path,
        loaded_path: loaded_path.as_deref(),
        is_demo: options.run.is_none(),
        out,
        outputs: &outputs,
    };
    let mut trials = Vec::new();
    for (job, prefix) in jobs.into_iter().zip(prefixes) {
        if several {
            progress("channel", &job.description.name);
        }
        trials.push(Trial::of(job, prefix, &place)?);
    }
    let explained: Vec<u64> = trials.iter().flat_map(Trial::explained).collect();
    trials.iter_mut().for_each(|trial| trial.judge_left_out(&explained, &place));
    let is_sound = trials.iter().all(|trial| trial.findings.is_empty());
    let is_written = is_sound || options.accept;

    let mut changes = Vec::new();
    for trial in &trials {
        let written = trial.written(&text, &place)?;
        text = written.text;
        changes.push(written.changes);
    }
    if is_written {
        let path = outputs.path(CHANNEL_FILE);
        fs::write(&path, &text).map_err(at(&path))?;
    }
    let mut reports = Vec::new();
    for (trial, changes) in trials.iter().zip(&changes) {
        // The keys are those of the file that was read, where the channel has another line.
        let refused = |problems: Vec<Problem>| -> Vec<Problem> {
            let problem = |it: Problem| format!("with the curve of the run, {}", it.text);
            problems.into_iter().map(|it| trial.job.description.problem(problem(it))).collect()
        };
        let commissioned = bench::commissioned(&text, trial.job.index);
        let commissioned = commissioned.map_err(|problems| told(&channels_name)(refused(problems)))?;
        reports.push(trial.write(&commissioned, is_written.then_some(changes), &place)?);
    }
    outputs.finish(&every_name)?;
    files::print(&reports.join("\n"))?;
    Ok(match (is_sound, trials.iter().all(|trial| trial.rejected == 0)) {
        (false, _) => SOMETHING_WRONG,
        (true, true) => 0,
        (true, false) => SOME_REJECTED,
    })
}

/// A line on the terminal for each step.
fn progress(step: &str, what: &dyn std::fmt::Display) {
    eprintln!("{step}: {what}");
}
