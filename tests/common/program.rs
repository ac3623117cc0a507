//! Programs of `examples/`, as they are run.
#![allow(dead_code)] // each test binary uses its own part

use std::path::{Path, PathBuf};
use std::process::Command;

/// An example, built beside the tests.
pub fn program(name: &str) -> Command {
    let tests = std::env::current_exe().unwrap();
    let directory = tests.parent().unwrap().parent().unwrap();
    let program = directory.join("examples").join(format!("{name}{}", std::env::consts::EXE_SUFFIX));
    assert!(program.exists(), "{} is missing: `cargo build --examples` for this profile", program.display());
    Command::new(program)
}

/// An empty directory of this name.
pub fn fresh(name: &str) -> PathBuf {
    let directory = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&directory);
    std::fs::create_dir_all(&directory).unwrap();
    directory
}

pub fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// The numbers of the line that starts with `label`, after the label.
pub fn numbers(part: &str, label: &str) -> Vec<f64> {
    let line = part
        .lines()
        .find(|line| line.trim_start().starts_with(label))
        .unwrap_or_else(|| panic!("no line {label:?} in\n{part}"));
    line.trim_start()[label.len()..].split_whitespace().filter_map(|word| word.parse().ok()).collect()
}

/// The rows of a CSV under its header, comments left out.
pub fn table(path: &Path) -> Vec<std::collections::HashMap<String, String>> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let header = reader.headers().unwrap().clone();
    let row = |record: csv::Result<csv::StringRecord>| {
        header.iter().map(str::to_owned).zip(record.unwrap().iter().map(str::to_owned)).collect()
    };
    reader.records().map(row).collect()
}
