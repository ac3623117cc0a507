//! Files as messages name them, and the caution that goes with every result.

use crate::channel_file::Problem;
use crate::rejected::Rejected;
use std::fmt::Display;
use std::fs::{self, File};
use std::io::{self, Read, Write};
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

/// The name and the text of the channel file, or where none is given of the demonstration's.
///
/// # Errors
/// If it cannot be read.
pub fn channel_file(path: Option<&Path>, (name, text): (&str, &str)) -> Result<(String, String), String> {
    match path {
        Some(path) => Ok((path.display().to_string(), fs::read_to_string(path).map_err(at(path))?)),
        None => Ok((name.to_string(), text.to_string())),
    }
}

/// Whether the file is one that a demonstration made, by how it begins.
///
/// # Errors
/// If it cannot be read.
pub fn starts_with(path: &Path, mark: &str) -> io::Result<bool> {
    let mut start = Vec::new();
    File::open(path)?.take(mark.len() as u64).read_to_end(&mut start)?;
    Ok(start == mark.as_bytes())
}

/// To the standard output.
///
/// # Errors
/// If it cannot be written, unless whoever reads it has read enough.
pub fn print(text: &str) -> io::Result<()> {
    match io::stdout().write_all(text.as_bytes()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        written => written,
    }
}

/// # Errors
/// If a file of this folder that is to be written is one that is read.
pub fn would_overwrite(folder: &Path, names: &[&str], read: &[&Path]) -> Result<(), String> {
    let paths = names.iter().map(|name| folder.join(name));
    match paths.into_iter().find(|path| read.iter().any(|read| is_same_file(path, read))) {
        Some(path) => Err(format!("{}: would be overwritten: choose another --out", path.display())),
        None => Ok(()),
    }
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
