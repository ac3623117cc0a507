//! README says what the code does: sizes, versions, features. (tests/kernel/accuracy.rs checks its table of errors.)

use gaugewright::*;
use support::*;

fn manifest(key: &str) -> String {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml")).unwrap();
    let line = text.lines().find(|line| line.starts_with(&format!("{key} = "))).unwrap();
    line.split('"').nth(1).unwrap().to_owned()
}

#[test]
fn sizes() {
    let readme = readme();
    let rows = [
        ("`fixed::Kernel` (degree 4, linear gauge factor)", size_of::<fixed::Kernel>()),
        ("`fixed::Kernel<5, 3>` (any channel)", size_of::<fixed::Kernel<5, 3>>()),
        ("`fixed::OperatingPoint`", size_of::<fixed::OperatingPoint>()),
        ("`fixed::LinearPoint`", size_of::<fixed::LinearPoint>()),
        ("`float::Kernel<f32>`", size_of::<float::Kernel<f32>>()),
        ("`float::OperatingPoint<f32>`", size_of::<float::OperatingPoint<f32>>()),
        (
            "`rosette::FixedRosetteKernel`, `rosette::RosetteKernel<f32>`",
            size_of::<rosette::FixedRosetteKernel>(),
        ),
    ];
    for (what, bytes) in rows {
        let row = format!("| {what} | {bytes} |");
        assert!(readme.contains(&row), "README does not say: {row}");
    }
    assert!(readme.contains(&format!("to {} bytes of integer constants", size_of::<fixed::Kernel>())));
}

#[test]
fn versions() {
    let readme = readme();
    let (version, compiler) = (manifest("version"), manifest("rust-version"));
    assert!(readme.contains(&format!("Version {version}.")));
    assert!(readme.contains(&format!("Rust {compiler} or newer")));
}

/// What calls from C cost and take, as recorded.
#[test]
fn figures_of_c() {
    let readme = readme();
    let rows = |text: &'static str| text.lines().filter(|line| line.starts_with("| "));
    let mut shown = 0;
    let whole = [
        include_str!("../../examples/c-firmware/recorded/instructions.md"),
        include_str!("../../examples/c-firmware/recorded/logger.md"),
    ];
    for row in whole.into_iter().flat_map(rows) {
        assert!(readme.contains(row), "README does not say: {row}");
    }
    for row in rows(include_str!("../../examples/c-firmware/recorded/bytes.md")) {
        let target = row.split('`').nth(1);
        if target.is_none_or(|target| readme.contains(&format!("| `{target}` |"))) {
            assert!(readme.contains(row), "README does not say: {row}");
            shown += 1;
        }
    }
    assert_eq!(shown, 4);
}

/// Each feature of the manifest has its row, and each row its feature.
#[test]
fn features() {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml")).unwrap();
    let table = text.split("[features]").nth(1).unwrap().split("\n[").next().unwrap();
    let mut features: Vec<_> = table
        .lines()
        .filter(|line| !line.starts_with('#') && line.contains(" = "))
        .map(|line| line.split(' ').next().unwrap().to_owned())
        .filter(|name| name != "default")
        .collect();
    let readme = readme();
    let section = readme.split("## Features").nth(1).unwrap().split("\n## ").next().unwrap();
    let mut rows: Vec<_> = section
        .lines()
        .filter(|line| line.starts_with("| `"))
        .map(|line| line.split('`').nth(1).unwrap().to_owned())
        .collect();
    features.sort();
    rows.sort();
    assert_eq!(features, rows);
}

/// What a reader sees of a snippet is all of it: no line that the documentation would hide, and each is compiled and run.
#[test]
fn snippets_are_shown_whole() {
    let (mut snippets, mut hidden, mut in_snippet) = (0, Vec::new(), false);
    for line in readme().lines() {
        match line.strip_prefix("```") {
            // With another word behind it, it might not be run.
            Some(kind) if kind.starts_with("rust") => {
                assert_eq!(kind, "rust");
                snippets += 1;
                in_snippet = true;
            }
            Some(_) => in_snippet = false,
            None if in_snippet && (line.trim() == "#" || line.trim_start().starts_with("# ")) => {
                hidden.push(line.to_owned());
            }
            None => {}
        }
    }
    assert!(snippets >= 9 && hidden.is_empty(), "{snippets} snippets, hidden lines {hidden:#?}");
}

/// The error limits of the text, against the constants that the tests use.
#[test]
fn figures_in_the_text() {
    let readme = readme();
    let bridges: usize =
        ["quarter_bridge", "half_bridge_compensating", "half_bridge_poisson_bending", "full_bridge"]
            .into_iter()
            .map(|name| data(name).len())
            .sum();
    let states = data("rosette_cases").len();
    assert!(readme.contains(&format!("{states} states")), "README does not say: {states} states");
    let fixed = rosette::Rosette::delta().fixed_error(units::Microstrain(2_000.0)).unwrap();
    let said = format!("within {:.2} nanostrain for", fixed.principal.0);
    assert!(readme.contains(&said), "README does not say: {said}");
    let corrections = data("end_to_end_cases").len();
    let said = format!("{corrections} corrections and {bridges} bridges");
    assert!(readme.contains(&said), "README does not say: {said}");
    assert!(!readme.contains("| @") && !readme.contains("\n@"), "README has an unfilled place");
    assert!(tolerance::REFERENCE_NANOSTRAIN <= 1e-6 && readme.contains("1e-6 nanostrain"));
    assert!(tolerance::REFERENCE_MICROSTRAIN <= 1e-10 && readme.contains("1e-10 microstrain"));
    assert!(tolerance::REFERENCE_RATIO <= 2e-15 && readme.contains("2e-15 V/V"));
}

/// The table of costs is that of the recorded run, line by line.
#[test]
fn costs_are_those_of_the_recorded_run() {
    let recorded = include_str!("../../benches/recorded.md");
    let readme = readme();
    let rows: Vec<_> = recorded.lines().filter(|line| line.starts_with("| ")).collect();
    assert_eq!(rows.len(), 10);
    for row in &rows {
        assert!(readme.contains(row), "README does not say: {row}");
    }
    // And nothing else: every row of that table is a recorded one.
    let table = readme.split("## Cost").nth(1).unwrap().split("Worst errors are sampled").next().unwrap();
    for line in table.lines().filter(|line| line.starts_with("| ")) {
        assert!(rows.contains(&line), "not recorded: {line}");
    }
}

/// The same for the microcontrollers: both tables, whole, and no other row beside them.
#[test]
fn counts_on_microcontrollers_are_those_of_the_recorded_run() {
    let recorded = include_str!("../on-target/recorded.md");
    let readme = readme();
    let rows: Vec<_> = recorded.lines().filter(|line| line.starts_with('|')).collect();
    assert_eq!(rows.len(), 43);
    let section =
        readme.split("## On microcontrollers").nth(1).unwrap().split("### Firmware").next().unwrap();
    let said: Vec<_> = section.lines().filter(|line| line.starts_with('|')).collect();
    assert_eq!(rows, said);
}
