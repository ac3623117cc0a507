//! Commissions a bonded strain gauge: from a chamber run of the unloaded part to the channel file that measures.
//!
//! `cargo run --release --bin commission` commissions an invented part; `cargo run --release --bin commission
//! -- CHANNELS.toml RUN.csv` does it with a run of yours; `--help` says more.
//!
//! | file | its job |
//! |---|---|
//! | `options.rs` | the command line |
//! | `demo.rs`, `chamber.rs` | the invented run, and the part and the chamber that it would have been made with |
//! | `job.rs` | what is to be done: the channel, with what the command line says instead |
//! | `bench.rs` | the channel as it is before the run |
//! | `run.rs`, `sweep.rs` | the run as points, and which way the temperature went at each |
//! | `fitted.rs` | the curve through them |
//! | `judgement.rs` | what is wrong with the run |
//! | `advice.rs` | the matches on offer, compared |
//! | `budget.rs`, `omission.rs` | how well a strain is known, and what may be left out |
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
mod job;
mod judgement;
mod omission;
mod options;
mod package;
mod pictures;
mod places;
mod points;
mod report;
mod run;
mod sweep;
#[cfg(test)]
mod tests;

use bench::Bench;
use budget::Inputs;
use clap::Parser;
use fitted::Fitted;
use host::channel_file;
use host::files::{Outputs, at, is_same_file, tell_rejected, told};
use host::rejected::Rejected;
use job::Job;
use options::Options;
use report::Report;
use std::error::Error;
use std::fs;
use std::io::{self, Write};
use std::path::PathBuf;
use std::process::ExitCode;

const SOME_REJECTED: u8 = 3;
const SOMETHING_WRONG: u8 = 4;

/// Written to the output directory.
const OUTPUTS: [&str; 9] = [
    "commissioned.toml",
    "commissioned.rs",
    "report.txt",
    "curve.svg",
    "matches.svg",
    "budget.svg",
    "points.csv",
    "budget.csv",
    "rejected.csv",
];

fn main() -> ExitCode {
    match commission(&Options::parse()) {
        Ok(code) => ExitCode::from(code),
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// Gives the number of rejected cells.
fn commission(options: &Options) -> Result<u8, Box<dyn Error>> {
    let (channels_name, text) = match &options.channels {
        Some(path) => (path.display().to_string(), fs::read_to_string(path).map_err(at(path))?),
        None => (demo::CHANNELS_NAME.to_string(), demo::CHANNELS.to_string()),
    };
    let file = channel_file::parse(&text).map_err(told(&channels_name))?;
    let job = Job::of(file, options).map_err(told(&channels_name))?;
    let bench = Bench::of(&job).map_err(told(&channels_name))?;

    let out = options.out.as_path();
    fs::create_dir_all(out).map_err(at(out))?;
    let run_path = match &options.run {
        Some(path) => path.clone(),
        None => demo::runs(out)?,
    };
    for path in OUTPUTS.map(|name| out.join(name)) {
        let inputs = [Some(&run_path), options.channels.as_ref()];
        if inputs.into_iter().flatten().any(|input| is_same_file(&path, input)) {
            return Err(format!("{}: would be overwritten: choose another --out", path.display()).into());
        }
    }
    let outputs = Outputs::into(out)?;
    let [
        package_path,
        constant_path,
        report_path,
        curve_path,
        matches_path,
        budget_path,
        points_path,
        table_path,
        rejected_path,
    ] = &OUTPUTS.map(|name| outputs.path(name));

    progress("reading the run", &run_path.display());
    let mut rejected = Rejected::create(rejected_path).map_err(at(rejected_path))?;
    let points = run::read(&run_path, &job, &bench, &mut rejected);
    rejected.flush().map_err(at(rejected_path))?;
    tell_rejected(&rejected, &run_path, &out.join("rejected.csv"));
    let points = points?;

    progress("fitting", &format!("{} points", points.len()));
    let fitted = Fitted::of(&job, bench.run_factor, points).map_err(at(&run_path))?;
    let run_name = run_path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    let written = package::commissioned(&text, &job, &fitted, &run_name)
        .map_err(|error| format!("{channels_name}: {error}"))?;
    let commissioned =
        bench::commissioned(&written.text, job.index).map_err(told("the commissioned channel file"))?;

    progress("comparing matches", &format!("{} on offer", job.offers.len()));
    let of_channel = |error: gaugewright::Error| {
        format!("{channels_name}:{}: channel {:?}: {error}", job.description.line, job.description.name)
    };
    let range = commissioned.channel.temperatures();
    let advice = advice::advise(&job, &fitted, bench.gauge, bench.error, range).map_err(of_channel)?;
    let expected = advice::expected(&job, &fitted, bench.package).map_err(of_channel)?;

    let findings = judgement::findings(&job, &fitted, expected.as_ref());
    for finding in &findings {
        eprintln!("{}: {finding}", run_path.display());
    }
    let is_written = findings.is_empty() || options.accept;

    progress("reckoning the uncertainty", &format!("{} contributions", budget::CONTRIBUTIONS.len()));
    let inputs = Inputs { job: &job, bench: &bench, fitted: &fitted, commissioned: &commissioned };
    let budgets = inputs.across().map_err(of_channel)?;
    let omissions = omission::omissions(&inputs).map_err(of_channel)?;

    progress("writing", &out.display());
    if is_written {
        fs::write(package_path, &written.text).map_err(at(package_path))?;
        fs::write(constant_path, package::constant(&job, &fitted, &run_name)).map_err(at(constant_path))?;
    }
    points::write(points_path, &fitted).map_err(at(points_path))?;
    budget::table::write(table_path, &budgets).map_err(at(table_path))?;
    let is_there = |name: &&str| match *name {
        "commissioned.toml" | "commissioned.rs" => is_written,
        "matches.svg" => advice.is_some(),
        _ => true,
    };
    let paths: Vec<PathBuf> =
        OUTPUTS.iter().filter(|name| is_there(name)).map(|name| out.join(name)).collect();
    let report = Report {
        channels_name: &channels_name,
        run_path: &run_path,
        is_demo: options.run.is_none(),
        inputs: &inputs,
        omissions: &omissions,
        expected: expected.as_ref(),
        advice: advice.as_ref(),
        changes: is_written.then_some(&written.changes),
        findings: &findings,
        rejected: rejected.count,
        paths: &paths,
    };
    let text = report.to_string();
    fs::write(report_path, &text).map_err(at(report_path))?;
    pictures::write_curve(curve_path, &job, &fitted, expected.as_ref()).map_err(at(curve_path))?;
    if let Some(advice) = &advice {
        pictures::write_matches(matches_path, &job, advice).map_err(at(matches_path))?;
    }
    pictures::write_budget(budget_path, &inputs).map_err(at(budget_path))?;
    let rejected = rejected.count;
    outputs.finish(&OUTPUTS)?;
    match io::stdout().write_all(text.as_bytes()) {
        // Whoever reads it may have read enough.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => {}
        written => written?,
    }
    Ok(match (findings.is_empty(), rejected) {
        (false, _) => SOMETHING_WRONG,
        (true, 0) => 0,
        (true, _) => SOME_REJECTED,
    })
}

/// A line on the terminal for each step.
fn progress(step: &str, what: &dyn std::fmt::Display) {
    eprintln!("{step}: {what}");
}
