//! Files as messages name them, and the caution that goes with every result.

use crate::channel_file::Problem;
use crate::rejected::Rejected;
use std::fmt::Display;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

pub const CAUTION: &str = "\
Caution: people can be hurt where strain is measured. No strain computed here proves that a part is
safe. Follow the codes that apply where you are, and have a licensed engineer check the conclusions.";

/// Says which file an error is about.
pub fn at<E: Display>(path: &Path) -> impl Fn(E) -> String {
    move |error| format!("{}: {error}", path.display())
}

pub fn is_same_file(one: &Path, other: &Path) -> bool {
    let whole = |path: &Path| -> io::Result<PathBuf> { fs::canonicalize(path) };
    matches!((whole(one), whole(other)), (Ok(one), Ok(other)) if one == other)
}

/// A channel file's problems as a text, a line each.
pub fn told(name: &str) -> impl Fn(Vec<Problem>) -> String {
    move |problems| {
        let lines: Vec<String> = problems.iter().map(|problem| format!("{name}{problem}")).collect();
        lines.join("\n")
    }
}

/// Says on the terminal which cells were rejected: the first ones, and where all of them are listed.
pub fn tell_rejected(rejected: &Rejected, samples: &Path, list: &Path) {
    for rejection in &rejected.first {
        eprintln!("{}:{rejection}", samples.display());
    }
    if rejected.count > rejected.first.len() {
        let more = rejected.count - rejected.first.len();
        eprintln!("and {more} more: {}", list.display());
    }
}
