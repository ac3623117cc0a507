//! Links for one board: the memory file named by `GAUGEWRIGHT_MEMORY`, or else that of the QEMU board which the
//! target is usually tried on.

use std::path::{Path, PathBuf};
use std::{env, fs};

fn main() {
    println!("cargo:rerun-if-env-changed=GAUGEWRIGHT_MEMORY");
    let target = env::var("TARGET").expect("cargo sets TARGET");
    let is_arm = target.starts_with("thumb");
    if !is_arm && !target.starts_with("riscv32") {
        // Built for the host, where nothing is linked for a board.
        return;
    }
    let memory = env::var("GAUGEWRIGHT_MEMORY").map_or_else(|_| usual(&target), PathBuf::from);
    println!("cargo:rerun-if-changed={}", memory.display());
    let text = fs::read_to_string(&memory)
        .unwrap_or_else(|error| panic!("memory file {}: {error}", memory.display()));
    let out = PathBuf::from(env::var_os("OUT_DIR").expect("cargo sets OUT_DIR"));
    fs::write(out.join("memory.x"), text).expect("OUT_DIR can be written");
    println!("cargo:rustc-link-search={}", out.display());
    // That of riscv-rt does not bring memory.x in by itself.
    let mut scripts = if is_arm { vec!["link.x"] } else { vec!["memory.x", "link.x"] };
    if env::var_os("CARGO_FEATURE_REPORT").is_some() {
        scripts.push("defmt.x");
    }
    for script in scripts {
        println!("cargo:rustc-link-arg-bins=-T{script}");
    }
    println!("cargo:rustc-link-arg-bins=--nmagic");
}

fn usual(target: &str) -> PathBuf {
    let board = match target {
        "thumbv6m-none-eabi" => "qemu-microbit.x",
        "thumbv8m.main-none-eabi" | "thumbv8m.main-none-eabihf" => "qemu-mps2-an505.x",
        target if target.starts_with("thumb") => "qemu-mps2.x",
        _ => "qemu-virt.x",
    };
    let package = env::var_os("CARGO_MANIFEST_DIR").expect("cargo sets CARGO_MANIFEST_DIR");
    let own = Path::new(&package).join("memory");
    // tests/on-target has this build script too, and no boards of its own.
    let boards = if own.exists() { own } else { Path::new(&package).join("../../examples/firmware/memory") };
    boards.join(board)
}
