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

/// Files that appear in a folder under their names when all of them are whole; until then they are in a folder of their own
/// inside. What fails or is interrupted leaves the files of an earlier run as they were.
pub struct Outputs {
    folder: PathBuf,
    unfinished: PathBuf,
}

impl Outputs {
    /// # Errors
    /// If the folders cannot be made.
    pub fn into(folder: &Path) -> Result<Self, String> {
        let unfinished = folder.join("unfinished");
        // Of a run that was interrupted.
        let _ = fs::remove_dir_all(&unfinished);
        fs::create_dir_all(&unfinished).map_err(at(&unfinished))?;
        Ok(Self { folder: folder.to_path_buf(), unfinished })
    }

    /// Where a file of this name is to be written.
    pub fn path(&self, name: &str) -> PathBuf {
        self.unfinished.join(name)
    }

    /// Gives every file its place; one of `names` that was not written is removed there, as it would be taken for this run's.
    /// The files that are there now.
    ///
    /// # Errors
    /// If a file cannot be moved.
    pub fn finish(self, names: &[&str]) -> Result<Vec<PathBuf>, String> {
        let mut there = Vec::new();
        for name in names {
            let (from, to) = (self.unfinished.join(name), self.folder.join(name));
            match fs::rename(&from, &to) {
                Ok(()) => there.push(to),
                Err(error) if error.kind() == io::ErrorKind::NotFound => match fs::remove_file(&to) {
                    Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(at(&to)(error)),
                    _ => {}
                },
                Err(error) => return Err(at(&to)(error)),
            }
        }
        Ok(there)
    }
}

impl Drop for Outputs {
    fn drop(&mut self) {
        // Nothing in it is whole.
        let _ = fs::remove_dir_all(&self.unfinished);
    }
}

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
