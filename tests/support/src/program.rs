//! Programs of `examples/`, as they are run.

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// A program, built beside the tests.
pub fn program(name: &str) -> Command {
    let tests = std::env::current_exe().unwrap();
    let directory = tests.parent().unwrap().parent().unwrap();
    let program = directory.join(format!("{name}{}", std::env::consts::EXE_SUFFIX));
    assert!(program.exists(), "{} is missing: `cargo build --bins` for this profile", program.display());
    Command::new(program)
}

/// Where tests may write: `tmp` in the target folder, as for `CARGO_TARGET_TMPDIR`, which a library is not given.
fn scratch() -> PathBuf {
    // In `deps` of the profile's folder.
    std::env::current_exe().unwrap().ancestors().nth(3).unwrap().join("tmp")
}

/// An empty directory of this name.
pub fn fresh(name: &str) -> PathBuf {
    let directory = scratch().join(name);
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

/// A row of a table, by the names of its columns.
pub type Row = HashMap<String, String>;

pub fn number(row: &Row, column: &str) -> f64 {
    row.get(column).and_then(|cell| cell.parse().ok()).unwrap_or_else(|| panic!("{column} of {row:?}"))
}

/// The rows of a CSV under its header, comments left out.
pub fn table(path: &Path) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).unwrap();
    let header = reader.headers().unwrap().clone();
    let row = |record: csv::Result<csv::StringRecord>| {
        header.iter().map(str::to_owned).zip(record.unwrap().iter().map(str::to_owned)).collect()
    };
    reader.records().map(row).collect()
}

/// Checks one program as the only file of a package that depends on this one.
pub fn check(name: &str, source: &str) -> Output {
    let directory = scratch().join("does_not_compile").join(name);
    std::fs::create_dir_all(directory.join("src")).unwrap();
    let root = crate::repository();
    let manifest = format!(
        "[package]\nname = \"{name}\"\nversion = \"0.0.0\"\nedition = \"2024\"\n\n\
         [dependencies]\ngaugewright = {{ path = {root:?} }}\n\n[workspace]\n"
    );
    std::fs::write(directory.join("Cargo.toml"), manifest).unwrap();
    std::fs::write(directory.join("src/main.rs"), source).unwrap();
    Command::new(env!("CARGO"))
        .args(["check", "--quiet", "--offline", "--color", "never"])
        .arg("--manifest-path")
        .arg(directory.join("Cargo.toml"))
        .env("CARGO_TARGET_DIR", scratch().join("does_not_compile_target"))
        .env_remove("RUSTFLAGS")
        .output()
        .unwrap()
}
