//! Runs Gappa on a script.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;
use std::time::{Duration, Instant};
use std::{env, fs};

/// What Gappa said of a script.
pub struct Verdict {
    /// Everything was proved, and nothing was taken on trust.
    pub proved: bool,
    /// The error that Gappa finds for itself, in the unit of its script, whether or not that is within the bound.
    pub error: Option<f64>,
    pub said: String,
    pub took: Duration,
}

/// A warning counts as a failure: an identity that Gappa could not check by itself is one.
fn prove(script: &str, file: &Path) -> Verdict {
    fs::write(file, script).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    let started = Instant::now();
    let mut gappa = Command::new("gappa");
    if let Some(allocator) = env::var_os("GAUGEWRIGHT_GAPPA_ALLOCATOR") {
        gappa.env("LD_PRELOAD", allocator);
    }
    let output = gappa.arg(file).output().expect("gappa is installed");
    let took = started.elapsed();
    let said =
        [output.stdout, output.stderr].map(|bytes| String::from_utf8_lossy(&bytes).into_owned()).concat();
    let trusted = said.contains("Warning") || said.contains("Error");
    let error = said.lines().find_map(|line| {
        ["nanostrain in [", "steps in ["]
            .iter()
            .find_map(|goal| line.trim().strip_prefix(goal))
            .and_then(magnitude)
    });
    Verdict { proved: output.status.success() && !trusted && error.is_some(), error, said, took }
}

/// Proves scripts, each to be written to its file, as many at a time as there are cores, and reports them in order.
pub fn prove_all(jobs: &[(PathBuf, &str)], mut report: impl FnMut(usize, Verdict)) {
    let next = AtomicUsize::new(0);
    let (sender, receiver) = mpsc::channel();
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            let (sender, next) = (sender.clone(), &next);
            scope.spawn(move || {
                loop {
                    let index = next.fetch_add(1, Ordering::Relaxed);
                    let Some((file, text)) = jobs.get(index) else { break };
                    sender.send((index, prove(text, file))).unwrap();
                }
            });
        }
        drop(sender);
        let mut early = BTreeMap::new();
        let mut reported = 0;
        for (index, verdict) in receiver {
            early.insert(index, verdict);
            while let Some(verdict) = early.remove(&reported) {
                report(reported, verdict);
                reported += 1;
            }
        }
        assert_eq!(reported, jobs.len(), "a thread has given up");
    });
}

/// Of an enclosure in Gappa's words: `-3b-1 {-1.5, -2^(0.58)}, 1 {1, 2^(0)}]`.
fn magnitude(enclosure: &str) -> Option<f64> {
    let (low, rest) = enclosure.split_once(" {")?;
    let (_, high) = rest.split_once("}, ")?;
    let high = high.split([' ', ']']).next()?;
    Some(number(low)?.abs().max(number(high)?.abs()))
}

fn number(text: &str) -> Option<f64> {
    let (mantissa, exponent) = text.split_once('b').unwrap_or((text, "0"));
    Some(mantissa.parse::<f64>().ok()? * exponent.parse::<f64>().ok()?.exp2())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn enclosures_are_read() {
        assert_eq!(magnitude("-3b-1 {-1.5, -2^(0.58)}, 1 {1, 2^(0)}]"), Some(1.5));
        assert_eq!(magnitude("-1b-1 {-0.5, -2^(-1)}, 5b-1 {2.5, 2^(1.3)}]"), Some(2.5));
        assert_eq!(magnitude("nothing"), None);
    }
}
