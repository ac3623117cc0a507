//! A firmware started in QEMU, and its report decoded.

use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::mpsc;
use std::time::{Duration, Instant};
use std::{fs, thread};

use defmt_decoder::{DecodeError, Table};

use crate::cores::Core;

/// After this a firmware hangs.
const PATIENCE: Duration = Duration::from_secs(120);

/// A firmware on its core.
pub struct Firmware<'a> {
    pub core: &'a Core,
    pub elf: PathBuf,
}

/// What a board is started with, beside its firmware.
pub struct Board<'a> {
    /// Where the firmware opens its files.
    pub folder: &'a Path,
    /// The other end of the serial line, as QEMU names it.
    pub serial: &'a str,
    /// The option that takes the program: beside flash of its own QEMU has another place for it.
    pub program: &'a str,
    /// More options for QEMU.
    pub more: &'a [&'a str],
}

/// A firmware while it runs.
pub struct Running {
    child: Child,
    bytes: mpsc::Receiver<Vec<u8>>,
    table: Table,
    held: Vec<u8>,
    started: Instant,
}

impl Firmware<'_> {
    /// All lines of the report of a firmware that ends by itself, with success.
    pub fn report(&self, more: &[&str]) -> Result<Vec<String>, String> {
        self.report_in(Path::new("."), more)
    }

    /// The same, with the files that the firmware opens sought in `folder`.
    pub fn report_in(&self, folder: &Path, more: &[&str]) -> Result<Vec<String>, String> {
        let mut running = self.start(folder, more)?;
        let mut lines = Vec::new();
        let ended = loop {
            match running.line() {
                Ok(Some(line)) => lines.push(line),
                Ok(None) => break running.end(),
                Err(error) => break Err(error),
            }
        };
        // What it said last is the reason, as far as there is one.
        ended.map(|()| lines.clone()).map_err(|error| {
            let last = &lines[lines.len().saturating_sub(3)..];
            format!("{} on {}: {error}; it said last: {last:?}", self.elf.display(), self.core.name)
        })
    }

    /// Starts it, with `more` options for QEMU.
    pub fn start(&self, folder: &Path, more: &[&str]) -> Result<Running, String> {
        self.start_on(&Board { folder, serial: "none", program: "-kernel", more })
    }

    /// Starts it on a board. An instruction takes one nanosecond of the emulated clock, and a sleeping core does not wait.
    pub fn start_on(&self, board: &Board<'_>) -> Result<Running, String> {
        let elf = fs::canonicalize(&self.elf).map_err(|error| self.not_built(&error))?;
        let bytes = fs::read(&self.elf).map_err(|error| self.not_built(&error))?;
        let table = Table::parse(&bytes).map_err(|error| format!("{}: {error}", self.elf.display()))?;
        let table = table.ok_or_else(|| format!("{}: has no defmt table", self.elf.display()))?;
        let [emulator, machine @ ..] = self.core.emulator else { return Err("no emulator named".into()) };
        let mut child = Command::new(emulator)
            .args(machine)
            .args(["-nographic", "-monitor", "none", "-serial", board.serial])
            .args(["-icount", "shift=0,sleep=off"])
            .args(["-semihosting-config", "enable=on,target=native"])
            .args(board.more)
            .arg(board.program)
            .arg(&elf)
            .current_dir(board.folder)
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .spawn()
            .map_err(|error| not_installed(emulator, &error))?;
        let mut output = child.stdout.take().ok_or("no output")?;
        let (sender, receiver) = mpsc::channel();
        thread::spawn(move || {
            let mut chunk = [0; 4096];
            while let Ok(count @ 1..) = output.read(&mut chunk) {
                if sender.send(chunk[..count].to_vec()).is_err() {
                    return;
                }
            }
        });
        Ok(Running { child, bytes: receiver, table, held: Vec::new(), started: Instant::now() })
    }
}

impl Firmware<'_> {
    /// Why its file cannot be read; where there is none, what builds the firmware of `examples/firmware`.
    fn not_built(&self, error: &io::Error) -> String {
        let path = self.elf.display();
        if error.kind() != io::ErrorKind::NotFound {
            return format!("{path}: {error}");
        }
        let target = self.core.target;
        // Its own memory file, as two cores of one target may lie on different boards.
        let memory = self.core.memory;
        let processor = self
            .core
            .processor
            .map(|name| format!("RUSTFLAGS=\"-C target-cpu={name}\" "))
            .unwrap_or_default();
        let live =
            if self.elf.file_name().is_some_and(|name| name == "live") { " --features live" } else { "" };
        format!(
            "{path}: there is no such file. The loggers of examples/firmware are built by\n\
             rustup target add {target}\n\
             GAUGEWRIGHT_MEMORY=$PWD/examples/firmware/memory/{memory}.x {processor}cargo build --release \
             --manifest-path examples/firmware/Cargo.toml --target {target} --target-dir target/firmware{live}\n\
             and lie in target/firmware/{target}/release"
        )
    }
}

/// Why the emulator cannot be started; where there is none, what installs it.
fn not_installed(emulator: &str, error: &io::Error) -> String {
    if error.kind() != io::ErrorKind::NotFound {
        return format!("{emulator}: {error}");
    }
    // Which package has RISC-V depends on the release.
    let package = if emulator == "qemu-system-riscv32" {
        "qemu-system-misc, or qemu-system-riscv where there is one"
    } else {
        emulator
    };
    format!("{emulator} is not installed; on Debian: apt-get install {package}")
}

impl Running {
    /// The next line of the report; none at its end.
    pub fn line(&mut self) -> Result<Option<String>, String> {
        loop {
            // A frame of the rzCOBS encoding ends with a zero byte.
            if let Some(end) = self.held.iter().position(|&byte| byte == 0) {
                let frame: Vec<u8> = self.held.drain(..=end).collect();
                if frame.len() == 1 {
                    continue;
                }
                return self.decoded(&frame).map(Some);
            }
            let left = PATIENCE.saturating_sub(self.started.elapsed());
            match self.bytes.recv_timeout(left) {
                Ok(bytes) => self.held.extend(bytes),
                Err(mpsc::RecvTimeoutError::Timeout) => return Err("does not come to an end".into()),
                Err(mpsc::RecvTimeoutError::Disconnected) if self.held.is_empty() => return Ok(None),
                Err(mpsc::RecvTimeoutError::Disconnected) => {
                    return Err(format!("ends in the middle of a frame: {:?}", self.held));
                }
            }
        }
    }

    fn decoded(&self, frame: &[u8]) -> Result<String, String> {
        let mut decoder = self.table.new_stream_decoder();
        decoder.received(frame);
        match decoder.decode() {
            Ok(frame) => Ok(frame.display_message().to_string()),
            Err(DecodeError::UnexpectedEof) => Err(format!("a frame is cut short: {frame:?}")),
            Err(DecodeError::Malformed) => Err(format!("a frame cannot be decoded: {frame:?}")),
        }
    }

    /// Waits for the end; an error unless the firmware ended with success.
    pub fn end(mut self) -> Result<(), String> {
        let status = self.child.wait().map_err(|error| error.to_string())?;
        if status.success() { Ok(()) } else { Err(format!("ended with {status}")) }
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // It may have ended already; then there is nothing to stop.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// An error with the file that it is about.
pub fn at(path: &Path) -> impl Fn(io::Error) -> String {
    let path = path.display().to_string();
    move |error| format!("{path}: {error}")
}

/// A text file.
pub fn read(path: &Path) -> Result<String, String> {
    fs::read_to_string(path).map_err(at(path))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cores::CORES;

    #[test]
    fn what_is_missing_is_named_with_what_makes_it() {
        for core in &CORES {
            let elf = PathBuf::from("no-such-folder/live");
            let Err(error) = (Firmware { core, elf }).start(Path::new("."), &[]) else {
                panic!("a firmware that is not there was started")
            };
            let target = core.target;
            for words in [
                "no-such-folder/live: there is no such file".to_string(),
                format!("rustup target add {target}\n"),
                format!("memory/{}.x ", core.memory),
                format!("examples/firmware/Cargo.toml --target {target} "),
                " --features live\n".to_string(),
            ] {
                assert!(error.contains(&words), "{words:?} is not in {error}");
            }
            assert_eq!(error.contains("target-cpu="), core.processor.is_some());
        }
        let missing = Command::new("no-such-emulator").spawn().expect_err("there is none of that name");
        assert_eq!(
            not_installed("qemu-system-arm", &missing),
            "qemu-system-arm is not installed; on Debian: apt-get install qemu-system-arm"
        );
        assert!(not_installed("qemu-system-riscv32", &missing).contains("apt-get install qemu-system-misc"));
    }
}
