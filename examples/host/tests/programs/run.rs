//! A program run in a folder of its own, and what it gave.

use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use support::program::{Row, fresh, program, table, text};

pub const KEEL: &str = include_str!("../../../commission/keel.toml");

/// The demonstration of commissioning, run once for all tests.
pub static COMMISSIONED: LazyLock<Run> =
    LazyLock::new(|| run("commission", "commission", &[], &["--out", "."]));

pub struct Run {
    pub code: Option<i32>,
    pub output: String,
    pub errors: String,
    pub folder: PathBuf,
}

/// Runs a program in a fresh folder of this name that has these files.
pub fn run(name: &str, folder: &str, files: &[(&str, &str)], arguments: &[&str]) -> Run {
    let folder = fresh(folder);
    files.iter().for_each(|(file, text)| std::fs::write(folder.join(file), text).unwrap());
    run_in(&folder, name, arguments)
}

/// The same in a folder that is there.
pub fn run_in(folder: &Path, name: &str, arguments: &[&str]) -> Run {
    let output = program(name).current_dir(folder).args(arguments).output().unwrap();
    let (code, folder) = (output.status.code(), folder.to_path_buf());
    Run { code, output: text(&output.stdout), errors: text(&output.stderr), folder }
}

/// Commissions the demonstration's run with another channel file.
pub fn keel(folder: &str, channels: &str, more: &[&str]) -> Run {
    let arguments = ["keel.toml", &COMMISSIONED.path("chamber.csv"), "--out", "."];
    run("commission", folder, &[("keel.toml", channels)], &[&arguments, more].concat())
}

/// What `replay --c-header` makes of a channel file; nothing where it refuses it.
pub fn header(folder: &str, channels: &str) -> (Run, String) {
    let arguments = ["channels.toml", "--c-header", "kernels.h"];
    let run = run("replay", folder, &[("channels.toml", channels)], &arguments);
    let written = if run.has("kernels.h") { run.file("kernels.h") } else { String::new() };
    (run, written)
}

/// The words of a constant of C.
pub fn words(header: &str, name: &str) -> Vec<u32> {
    let (_, rest) = header.split_once(&format!(" {name} = {{{{\n")).unwrap_or_else(|| panic!("no {name}"));
    let (body, _) = rest.split_once("}};").unwrap();
    let hexadecimal =
        |word: &str| u32::from_str_radix(word.trim().strip_prefix("0x")?.strip_suffix('u')?, 16).ok();
    body.split(',').filter(|word| !word.trim().is_empty()).map(|word| hexadecimal(word).unwrap()).collect()
}

impl Run {
    /// With this exit status.
    #[track_caller]
    pub fn gives(self, code: i32) -> Self {
        assert_eq!(self.code, Some(code), "{}{}", self.output, self.errors);
        self
    }

    /// Without this file.
    #[track_caller]
    pub fn without(self, name: &str) -> Self {
        assert!(!self.has(name), "{}{}", self.output, self.errors);
        self
    }

    /// The report of a commissioning with something wrong, which writes no channel file.
    #[track_caller]
    pub fn refused(self) -> String {
        self.gives(4).without("commissioned.toml").without("commissioned.rs").output
    }

    /// With a line of the errors that starts with this, and no channel file.
    #[track_caller]
    pub fn refuses(self, start: &str) {
        let run = self.gives(1).without("results/commissioned.toml");
        assert!(
            run.errors.lines().any(|line| line.starts_with(start)),
            "{start:?} is not in\n{}",
            run.errors
        );
    }

    /// Output and errors, however their lines are broken.
    pub fn words(&self) -> String {
        let all = self.output.split_whitespace().chain(self.errors.split_whitespace());
        all.collect::<Vec<_>>().join(" ")
    }

    pub fn path(&self, name: &str) -> String {
        self.folder.join(name).to_str().unwrap().to_string()
    }

    pub fn has(&self, name: &str) -> bool {
        self.folder.join(name).exists()
    }

    #[track_caller]
    pub fn file(&self, name: &str) -> String {
        std::fs::read_to_string(self.folder.join(name)).unwrap()
    }

    /// The first gauge of a channel file.
    #[track_caller]
    pub fn gauge(&self, name: &str) -> toml::Table {
        self.channel(name, 0)["gauge"].as_table().unwrap().clone()
    }

    #[track_caller]
    pub fn channel(&self, name: &str, index: usize) -> toml::Table {
        let file: toml::Table = self.file(name).parse().unwrap();
        file["channel"][index].as_table().unwrap().clone()
    }

    /// Of the curve of a gauge in a channel file.
    #[track_caller]
    pub fn coefficients(&self, name: &str, index: usize) -> Vec<f64> {
        let terms = self.channel(name, index)["gauge"]["thermal_output"]["coefficients"].as_array().cloned();
        terms.unwrap().iter().map(|term| term.as_float().unwrap()).collect()
    }

    pub fn table(&self, name: &str) -> Vec<Row> {
        table(&self.folder.join(name))
    }
}

/// The rows of a table of the report, under the words of its head.
pub fn rows<const CELLS: usize>(said: &str, head: &str) -> Vec<[f64; CELLS]> {
    let start = said.find(head).unwrap_or_else(|| panic!("{head:?} is not in\n{said}"));
    let cells = |line: &str| -> Option<[f64; CELLS]> {
        let cells: Option<Vec<f64>> = line.split_whitespace().map(|cell| cell.parse().ok()).collect();
        cells?.try_into().ok()
    };
    said[start..].lines().skip(1).map_while(cells).collect()
}
