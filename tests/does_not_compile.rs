//! A channel that is wrong stops the build of a firmware that holds it as a constant, and the compiler's
//! message names the quantity. Each program of tests/does_not_compile is handed to the compiler; its first
//! line says what it must be told. One that is right must compile, or the test would prove nothing.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// Checks one program as the only file of a package that depends on this one.
fn check(name: &str, source: &str) -> Output {
    let directory = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("does_not_compile").join(name);
    std::fs::create_dir_all(directory.join("src")).unwrap();
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
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
        .env("CARGO_TARGET_DIR", Path::new(env!("CARGO_TARGET_TMPDIR")).join("does_not_compile_target"))
        .env_remove("RUSTFLAGS")
        .output()
        .unwrap()
}

#[test]
fn each_program_stops_with_its_message() {
    let directory = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/does_not_compile");
    let mut programs: Vec<_> =
        std::fs::read_dir(directory).unwrap().map(|entry| entry.unwrap().path()).collect();
    programs.sort();
    assert_eq!(programs.len(), 8);
    for path in programs {
        let name = path.file_stem().unwrap().to_str().unwrap();
        let source = std::fs::read_to_string(&path).unwrap();
        let expected = source.lines().next().unwrap().strip_prefix("// expect: ").unwrap();
        let output = check(name, &source);
        let said = String::from_utf8_lossy(&output.stderr);
        if expected == "compiles" {
            assert!(output.status.success(), "{name} does not compile:\n{said}");
        } else {
            assert!(!output.status.success(), "{name} compiles");
            assert!(said.contains(expected), "{name}: {expected:?} is not in\n{said}");
        }
    }
}
