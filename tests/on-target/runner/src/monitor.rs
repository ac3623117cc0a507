//! QEMU's machine protocol (QMP), as much of it as changes a property of a device.

use std::io::{BufRead, BufReader, Write};
use std::os::unix::net::UnixStream;
use std::path::PathBuf;
use std::time::{Duration, Instant};
use std::{env, fs, process, thread};

use crate::emulator::at;

/// After this QEMU will not answer any more.
const PATIENCE: Duration = Duration::from_secs(30);

/// A socket that QEMU makes or connects to, in a folder of its own.
pub struct Socket {
    folder: PathBuf,
}

impl Socket {
    pub fn new(name: &str) -> Self {
        Self { folder: env::temp_dir().join(format!("gaugewright-{}-{name}", process::id())) }
    }

    pub fn path(&self) -> PathBuf {
        // Whoever makes it there fails, and says so, if there is no folder.
        let _ = fs::create_dir_all(&self.folder);
        self.folder.join("socket")
    }

    /// For `-qmp`.
    pub fn qmp(&self) -> String {
        format!("unix:{},server=on,wait=off", self.path().display())
    }

    /// For `-serial`: whoever listens at the path has the other end.
    pub fn serial(&self) -> String {
        format!("unix:{}", self.path().display())
    }
}

impl Drop for Socket {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.folder);
    }
}

/// A connection to a running QEMU.
pub struct Monitor {
    answers: BufReader<UnixStream>,
}

impl Monitor {
    /// As soon as QEMU has made its socket.
    pub fn connect(socket: &Socket) -> Result<Self, String> {
        let path = socket.path();
        let started = Instant::now();
        let stream = loop {
            match UnixStream::connect(&path) {
                Ok(stream) => break stream,
                Err(error) if started.elapsed() > PATIENCE => return Err(at(&path)(error)),
                Err(_) => thread::sleep(Duration::from_millis(10)),
            }
        };
        stream.set_read_timeout(Some(PATIENCE)).map_err(at(&path))?;
        let mut monitor = Self { answers: BufReader::new(stream) };
        let greeting = monitor.line()?;
        if !greeting.contains("\"QMP\"") {
            return Err(format!("QEMU's monitor greets with {greeting}"));
        }
        monitor.ask(r#"{"execute": "qmp_capabilities"}"#)?;
        Ok(monitor)
    }

    /// Sets a number of a device, by its path in the machine.
    pub fn set(&mut self, device: &str, property: &str, value: i32) -> Result<(), String> {
        self.ask(&format!(
            r#"{{"execute": "qom-set", "arguments": {{"path": "{device}", "property": "{property}", "value": {value}}}}}"#
        ))
    }

    /// Lets a machine run that was started held.
    pub fn go_on(&mut self) -> Result<(), String> {
        self.ask(r#"{"execute": "cont"}"#)
    }

    /// Resets the machine. Its memory stays.
    pub fn reset(&mut self) -> Result<(), String> {
        self.ask(r#"{"execute": "system_reset"}"#)
    }

    fn ask(&mut self, command: &str) -> Result<(), String> {
        let sent = writeln!(self.answers.get_mut(), "{command}");
        sent.map_err(|error| format!("QEMU's monitor: {error}"))?;
        loop {
            let answer = self.line()?;
            if answer.starts_with(r#"{"return""#) {
                return Ok(());
            }
            if answer.starts_with(r#"{"error""#) {
                return Err(format!("QEMU's monitor to {command}: {answer}"));
            }
            // Anything else is an event, which nobody has asked for.
        }
    }

    fn line(&mut self) -> Result<String, String> {
        let mut line = String::new();
        match self.answers.read_line(&mut line) {
            Ok(0) => Err("QEMU's monitor: closed".into()),
            Ok(_) => Ok(line),
            Err(error) => Err(format!("QEMU's monitor: {error}")),
        }
    }
}
