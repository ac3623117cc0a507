//! Runs the firmware on every core in QEMU and judges what it reports.
//!
//! `runner FOLDER [CORE...]`, in the top folder of the repository. `FOLDER` is where `tests/on-target/run` has put the
//! firmware: a folder for each core, `target/flight.stream`, and `numbers.txt` of the replay.
//! `runner --show CORE ELF` runs one firmware of yours and prints its report.
//! `runner --c-kernels FILE` writes the kernels of the sweep and of the counts as constants of C, for `examples/c-firmware`.
//! `runner --c-report CORE RUST C` compares the report of a firmware in C with that of Rust, as `--show` prints it.
//! `runner --c-flight CORE NUMBERS C` compares the report of the flight in C with `numbers.txt` of the replay.
//! `runner --clock MHZ` prints the recorded cycles as microseconds and samples a second.
//! `runner FOLDER --record` writes `recorded.md` anew. `runner --cores` tells the cores, a line for each: name, target,
//! processor or `-`, memory file, `live` if the live logger runs there or `-`.

mod c_kernels;
mod c_report;
mod cores;
mod cycles;
mod elf;
mod emulator;
mod field;
mod flight;
mod kernels;
mod live;
mod monitor;
mod recorded;
mod results;
mod smallest;
mod wording;

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use cores::{CORES, Core};
use emulator::{at, read};
use on_target::peers::notebooks;
use results::{Budgets, Line};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match run(&arguments) {
        Ok(wrong) if wrong.is_empty() => ExitCode::SUCCESS,
        Ok(wrong) => {
            println!("\nwrong:");
            for line in wrong {
                println!("{line}");
            }
            ExitCode::FAILURE
        }
        Err(error) => {
            eprintln!("runner: {error}");
            ExitCode::FAILURE
        }
    }
}

/// What is wrong.
fn run(arguments: &[String]) -> Result<Vec<String>, String> {
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match words[..] {
        ["--cores"] => {
            for Core { name, target, processor, memory, has_bus, .. } in &CORES {
                let live = if *has_bus { "live" } else { "-" };
                println!("{name} {target} {} {memory} {live}", processor.unwrap_or("-"));
            }
        }
        ["--clock", clock] => {
            let megahertz =
                clock.parse().ok().filter(|megahertz: &f64| *megahertz > 0.0 && megahertz.is_finite());
            let megahertz =
                megahertz.ok_or_else(|| format!("--clock is {clock}: it has to be megahertz above 0"))?;
            print!("{}", cycles::at_clock(megahertz, &recorded::cycles()?));
        }
        ["--c-kernels", file] => fs::write(file, c_kernels::text()?).map_err(at(Path::new(file)))?,
        ["--show", name, elf] => {
            let core = CORES.iter().find(|core| core.name == name).ok_or_else(|| no_core(name))?;
            let mut running = emulator::Firmware { core, elf: elf.into() }.start(Path::new("."), &[])?;
            while let Some(line) = running.line()? {
                println!("{line}");
            }
            running.end()?;
        }
        ["--c-flight", core, numbers, c] => {
            let (numbers, c) = (read(Path::new(numbers))?, read(Path::new(c))?);
            let report: Vec<_> = c.lines().map(str::to_owned).collect();
            println!("{}", flight::judge(core, &report, &numbers)?);
        }
        ["--c-report", core, rust, c] => {
            let (counted, wrong) = c_report::compare(core, &read(Path::new(rust))?, &read(Path::new(c))?);
            counted.iter().for_each(|line| println!("{line}"));
            return Ok(wrong);
        }
        [folder, "--record", ref cores @ ..] => return judge(Path::new(folder), true, cores),
        [folder, ref cores @ ..] => return judge(Path::new(folder), false, cores),
        [] => {
            return Err(
                "usage: runner FOLDER [--record] [CORE...], runner --show CORE ELF, or runner --clock MHZ"
                    .into(),
            );
        }
    }
    Ok(Vec::new())
}

/// Runs everything on these cores, or on all if none is named.
fn judge(folder: &Path, record: bool, named: &[&str]) -> Result<Vec<String>, String> {
    if let Some(unknown) = named.iter().find(|name| !CORES.iter().any(|core| core.name == **name)) {
        return Err(no_core(unknown));
    }
    let cores: Vec<&Core> =
        CORES.iter().filter(|core| named.is_empty() || named.contains(&core.name)).collect();

    let budgets = Budgets::parse(&read(Path::new("tests/on-target/budgets.txt"))?)?;
    let numbers = read(&folder.join("numbers.txt"))?;
    let (mut lines, mut wrong, mut compilers) = (Vec::new(), Vec::new(), Vec::new());
    for core in &cores {
        // One that fails does not keep the others from being tried.
        match one(core, folder, &numbers, &mut lines, &mut wrong) {
            Ok(compiler) => compilers.push(compiler),
            Err(error) => wrong.push(format!("{}: {error}", core.name)),
        }
    }
    wrong.extend(planted_panic(folder));
    wrong.extend(cores.first().and_then(|core| without_stream(core, folder)));

    wrong.extend(live(&cores, folder));
    for core in &cores {
        match field::check(core, &folder.join(core.name)) {
            Ok(figures) => lines.extend(figures),
            Err(error) => wrong.push(error),
        }
    }

    println!(
        "\ninstructions are counts, not cycles; code, kernel, stack, flash and RAM in bytes; errors in nanostrain"
    );
    let tolerance = recorded::tolerance(&compilers)?;
    if tolerance > 0.0 {
        println!(
            "(another compiler than that of the record: budgets and record hold to {:.0} %)",
            tolerance * 100.0
        );
    }
    for line in &lines {
        println!("{line}");
        wrong.extend(budgets.judge(line, tolerance));
    }
    let names: Vec<_> = cores.iter().map(|core| core.name).collect();
    wrong.extend(budgets.unused(&names, &lines));
    if record {
        recorded::write(&lines, &compilers)?;
    } else {
        wrong.extend(recorded::compare(&lines, tolerance)?);
    }
    Ok(wrong)
}

fn no_core(name: &str) -> String {
    let names: Vec<_> = CORES.iter().map(|core| core.name).collect();
    format!("no core {name}; there are {}", names.join(", "))
}

/// All firmware on one core; gives the compiler that built it.
fn one(
    core: &Core,
    folder: &Path,
    numbers: &str,
    lines: &mut Vec<Line>,
    wrong: &mut Vec<String>,
) -> Result<String, String> {
    let here = folder.join(core.name);
    let judged = kernels::check(core, &here)?;
    println!("{}", judged.summary);
    lines.extend(judged.lines);
    let compiler = judged.compiler;
    wrong.extend(judged.wrong.into_iter().map(|line| format!("{}: {line}", core.name)));

    match flight::check(core, &here.join("flight"), folder, numbers) {
        Ok((line, summary)) => {
            println!("{summary}");
            lines.push(line);
        }
        Err(error) => wrong.push(error),
    }
    let (sizes, grown_wrong) = smallest::check(core, &here)?;
    lines.extend(sizes);
    wrong.extend(grown_wrong);
    Ok(compiler)
}

/// A firmware that panics has to be seen, with what it said: checked on the core that it was built for.
fn planted_panic(folder: &Path) -> Option<String> {
    let core = CORES.iter().find(|core| folder.join(core.name).join("planted-panic").exists())?;
    let firmware = emulator::Firmware { core, elf: folder.join(core.name).join("planted-panic") };
    match firmware.report(&[]) {
        Err(error) if error.contains("panic: ") && error.contains("planted") => {
            println!("a planted panic was seen on {}", core.name);
            None
        }
        other => Some(format!("a planted panic went unnoticed: {other:?}")),
    }
}

/// The flight without its stream names the command that makes one.
fn without_stream(core: &Core, folder: &Path) -> Option<String> {
    let here = folder.join(core.name);
    let firmware = emulator::Firmware { core, elf: here.join("flight") };
    match firmware.report_in(&here, &[]) {
        Err(error) if error.contains("cargo run --release --bin flight -- --stream target/flight.stream") => {
            println!("a flight without its stream names what makes one");
            None
        }
        other => Some(format!("a flight without its stream does not name what makes one: {other:?}")),
    }
}

/// The live logger on every core whose board has its bus, at once: it keeps to the real time.
fn live(cores: &[&Core], folder: &Path) -> Vec<String> {
    std::thread::scope(|scope| {
        let with_bus = cores.iter().filter(|core| core.has_bus);
        let started: Vec<_> = with_bus
            .map(|core| scope.spawn(move || live::check(core, &folder.join(core.name).join("live"))))
            .collect();
        let mut wrong = Vec::new();
        for thread in started {
            match thread.join() {
                Ok(Ok(summary)) => println!("{summary}"),
                Ok(Err(error)) => wrong.push(error),
                Err(_) => wrong.push("live logger: its check failed to come to an end".into()),
            }
        }
        wrong
    })
}
