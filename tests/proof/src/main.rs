//! `proof FOLDER`: for every channel of the test set, writes what its fixed-point kernels compute as scripts into the
//! folder and has Gappa prove that no intermediate overflows and that the error is within the kernel's bound.

mod cases;
mod prover;
mod script;
#[cfg(test)]
mod tests;
mod trace;

use std::path::PathBuf;
use std::process::ExitCode;
use std::time::Instant;

fn main() -> ExitCode {
    let folder = PathBuf::from(std::env::args_os().nth(1).expect("usage: proof FOLDER"));
    std::fs::create_dir_all(&folder).unwrap();
    let started = Instant::now();
    let cases = cases::all();
    let mut failures = 0;
    println!(
        "{:<58} {:<11}  {:>10}  {:>10}  {:>13}  {:>5}",
        "channel", "path", "proved", "bound", "intermediates", "ms"
    );
    println!("{:<58} {:<11}  {:>10}  {:>10}", "", "", "nanostrain", "or steps");
    let mut registers = 0;
    let jobs: Vec<_> =
        cases.iter().map(|case| (folder.join(case.file_name()), case.script.text.as_str())).collect();
    prover::prove_all(&jobs, |index, verdict| {
        let case = &cases[index];
        let proved = verdict.error.map_or("nothing".to_owned(), |error| format!("{error:.7}"));
        println!(
            "{:<58} {:<11}  {:>10}  {:>10.7}  {:>13}  {:>5}",
            case.title,
            case.path,
            proved,
            case.bound,
            case.script.registers,
            verdict.took.as_millis(),
        );
        registers += case.script.registers;
        if !verdict.proved {
            failures += 1;
            println!("NOT PROVED, {}:\n{}", case.file_name(), verdict.said);
        }
        if verdict.error.is_some_and(|proved| proved <= case.seen) {
            failures += 1;
            println!("PROVED BELOW AN ERROR of {} that was seen: {}", case.seen, case.file_name());
        }
    });
    let seconds = started.elapsed().as_secs_f64();
    println!("{} scripts, {registers} intermediates, {failures} not proved, {seconds:.0} s", cases.len());
    if failures == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
