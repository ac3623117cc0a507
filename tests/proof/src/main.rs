//! `proof FOLDER`: for every channel of the test set, writes what its fixed-point kernels compute as scripts into the
//! folder and has Gappa prove that no intermediate overflows and that the error is within the kernel's bound.

#[path = "../../common/mod.rs"]
mod common;

mod cases;
mod prover;
mod script;
#[cfg(test)]
mod tests;
mod trace;

use std::path::Path;
use std::process::ExitCode;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;
use std::time::Instant;

use cases::Case;
use prover::Verdict;

fn main() -> ExitCode {
    let folder = std::env::args_os().nth(1).expect("usage: proof FOLDER");
    std::fs::create_dir_all(&folder).unwrap();
    let started = Instant::now();
    let cases = cases::all();
    let mut failures = 0;
    println!(
        "{:<58} {:<8}  {:>10}  {:>10}  {:>13}  {:>5}",
        "channel", "path", "proved", "bound", "intermediates", "ms"
    );
    println!("{:<58} {:<8}  {:>10}  {:>10}", "", "", "nanostrain", "nanostrain");
    let mut registers = 0;
    each_proved(&cases, Path::new(&folder), |case, verdict| {
        let proved = verdict.error.map_or("nothing".to_owned(), |error| format!("{error:.7}"));
        println!(
            "{:<58} {:<8}  {:>10}  {:>10.7}  {:>13}  {:>5}",
            case.title,
            case.path.name(),
            proved,
            case.bound.0,
            case.script.registers,
            verdict.took.as_millis(),
        );
        registers += case.script.registers;
        if !verdict.proved {
            failures += 1;
            println!("NOT PROVED, {}:\n{}", case.file_name(), verdict.said);
        }
    });
    let seconds = started.elapsed().as_secs_f64();
    println!("{} scripts, {registers} intermediates, {failures} not proved, {seconds:.0} s", cases.len());
    if failures == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// Proves all cases, as many at a time as there are cores, and reports them in order.
fn each_proved(cases: &[Case], folder: &Path, mut report: impl FnMut(&Case, Verdict)) {
    let next = AtomicUsize::new(0);
    let (sender, receiver) = mpsc::channel();
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            let (sender, next) = (sender.clone(), &next);
            scope.spawn(move || {
                loop {
                    let index = next.fetch_add(1, Ordering::Relaxed);
                    let Some(case) = cases.get(index) else { break };
                    let verdict = prover::prove(&case.script.text, &folder.join(case.file_name()));
                    sender.send((index, verdict)).unwrap();
                }
            });
        }
        drop(sender);
        let mut waiting = std::collections::BTreeMap::new();
        let mut shown = 0;
        for (index, verdict) in receiver {
            waiting.insert(index, verdict);
            while let Some(verdict) = waiting.remove(&shown) {
                report(&cases[shown], verdict);
                shown += 1;
            }
        }
        assert_eq!(shown, cases.len());
    });
}
