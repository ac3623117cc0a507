//! This end of the serial line. Every line that comes is checked.

use std::io::{BufRead, BufReader, Write};
use std::os::unix::net::{UnixListener, UnixStream};
use std::thread;
use std::time::{Duration, Instant};

use crc::{CRC_16_IBM_3740, Crc};

use crate::emulator::at;
use crate::monitor::Socket;

/// After this the firmware will not answer any more.
const PATIENCE: Duration = Duration::from_secs(30);

/// How the first line of a start begins.
const FIRST: &str = "0 boot 0 ";

/// A line that waits for its emulator.
pub struct Listening {
    socket: Socket,
    listener: UnixListener,
}

impl Listening {
    pub fn new(name: &str) -> Result<Self, String> {
        let socket = Socket::new(name);
        let path = socket.path();
        // Of a start before.
        let _ = std::fs::remove_file(&path);
        let listener = UnixListener::bind(&path).map_err(at(&path))?;
        listener.set_nonblocking(true).map_err(at(&path))?;
        Ok(Self { socket, listener })
    }

    /// For QEMU.
    pub fn option(&self) -> String {
        self.socket.serial()
    }

    /// As soon as the emulator has come.
    pub fn accept(self) -> Result<Client, String> {
        let started = Instant::now();
        let stream = loop {
            match self.listener.accept() {
                Ok((stream, _)) => break stream,
                Err(error) if started.elapsed() > PATIENCE => return Err(format!("serial line: {error}")),
                Err(_) => thread::sleep(Duration::from_millis(1)),
            }
        };
        stream.set_nonblocking(false).map_err(|error| error.to_string())?;
        stream.set_read_timeout(Some(PATIENCE)).map_err(|error| error.to_string())?;
        Ok(Client {
            lines: BufReader::new(stream),
            number: 0,
            held: None,
            seen: Vec::new(),
            _socket: self.socket,
        })
    }
}

/// The line.
pub struct Client {
    lines: BufReader<UnixStream>,
    number: u16,
    /// The first line of a start, which came when something else was waited for.
    held: Option<(u16, String)>,
    /// Every line that came, without its number.
    pub seen: Vec<String>,
    _socket: Socket,
}

fn checksum(text: &str) -> u16 {
    Crc::<u16>::new(&CRC_16_IBM_3740).checksum(text.as_bytes())
}

impl Client {
    /// Sends bytes as they are.
    pub fn send_raw(&mut self, line: &str) -> Result<(), String> {
        self.lines.get_mut().write_all(line.as_bytes()).map_err(|error| format!("serial line: {error}"))
    }

    /// Sends a request, and gives its number.
    pub fn send(&mut self, request: &str) -> Result<u16, String> {
        self.number += 1;
        let text = format!("{} {request}", self.number);
        self.send_raw(&format!("{text} #{:04x}\n", checksum(&text)))?;
        Ok(self.number)
    }

    /// The next line, as its number and its words; none where the emulator has ended.
    pub fn next(&mut self) -> Result<Option<(u16, String)>, String> {
        if let Some(held) = self.held.take() {
            return Ok(Some(held));
        }
        let line = self.line()?;
        if line.ends_with('\n') { self.read(&line).map(Some) } else { Ok(None) }
    }

    /// Waits for the first line of the next start, which is then what [`Self::next`] gives. Whole lines that come before are given. What was
    /// being sent as the power was cut may be without its end: the first line is behind it.
    pub fn next_start(&mut self) -> Result<Vec<String>, String> {
        let mut before = Vec::new();
        loop {
            let line = self.line()?;
            if let Some(place) = line.find(FIRST) {
                self.held = Some(self.read(&line[place..])?);
                return Ok(before);
            }
            before.push(self.read(&line)?.1);
        }
    }

    fn line(&mut self) -> Result<String, String> {
        let mut line = String::new();
        self.lines.read_line(&mut line).map_err(|error| format!("serial line: {error}; {line:?}"))?;
        Ok(line)
    }

    fn read(&mut self, line: &str) -> Result<(u16, String), String> {
        let parts =
            line.strip_suffix('\n').and_then(|line| line.rsplit_once(" #")).and_then(|(text, sum)| {
                let sum = u16::from_str_radix(sum, 16).ok().filter(|_| sum.len() == 4)?;
                let (number, words) = text.split_once(' ')?;
                (sum == checksum(text)).then_some((number.parse().ok()?, words.to_owned()))
            });
        let (number, words) = parts.ok_or_else(|| format!("a line that is none: {line:?}"))?;
        self.seen.push(words.clone());
        Ok((number, words))
    }

    /// The reply with a number.
    pub fn reply(&mut self, number: u16) -> Result<String, String> {
        match self.next()? {
            Some((found, words)) if found == number => Ok(words),
            other => Err(format!("instead of the reply {number}: {other:?}")),
        }
    }

    /// Sends a request and gives the reply.
    pub fn ask(&mut self, request: &str) -> Result<String, String> {
        let number = self.send(request)?;
        self.reply(number).map_err(|error| format!("{request}: {error}"))
    }

    /// The reply has to be these words.
    pub fn expect(&mut self, request: &str, reply: &str) -> Result<(), String> {
        let found = self.ask(request)?;
        if found == reply { Ok(()) } else { Err(format!("{request}: {found:?}, expected: {reply:?}")) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A client to which this has come, and then the end.
    fn after(text: &str) -> Client {
        let (mut firmware, stream) = UnixStream::pair().unwrap();
        firmware.write_all(text.as_bytes()).unwrap();
        let _socket = Socket::new("client-test");
        Client { lines: BufReader::new(stream), number: 0, held: None, seen: Vec::new(), _socket }
    }

    /// What the client makes of a line.
    fn of(line: &str) -> Result<Option<(u16, String)>, String> {
        after(line).next()
    }

    #[test]
    fn a_line_that_has_changed_is_seen() {
        // The check of the catalogue of the package `crc`: that of the digits from 1 to 9 is 29b1.
        assert_eq!(checksum("123456789"), 0x29b1);
        let good = format!("7 ok save 8 #{:04x}\n", checksum("7 ok save 8"));
        assert_eq!(of(&good), Ok(Some((7, "ok save 8".into()))));
        for wrong in
            [good.replace("save 8", "save 9"), good.replace(" #", "#"), good.replace('#', "#0"), "\n".into()]
        {
            assert!(of(&wrong).is_err(), "{wrong:?}");
        }
        // The emulator has ended in the middle of it.
        assert_eq!(of(good.trim_end()), Ok(None));
    }

    #[test]
    fn a_start_is_found_behind_what_was_cut() {
        let line = |text: &str| format!("{text} #{:04x}\n", checksum(text));
        let first = line("0 boot 0 stored");
        let reply = line("2 ok save 8");
        let cases =
            [(String::new(), 0), (reply.clone(), 1), (reply[..9].to_owned(), 0), (reply[..15].to_owned(), 0)];
        for (before, whole) in cases {
            let mut client = after(&format!("{before}{first}"));
            assert_eq!(client.next_start().map(|lines| lines.len()), Ok(whole), "{before:?}");
            assert_eq!(client.next(), Ok(Some((0, "boot 0 stored".into()))));
        }
        for wrong in [reply.clone(), first.replace("stored", "stared"), reply.replace('8', "9") + &first] {
            assert!(after(&wrong).next_start().is_err(), "{wrong:?}");
        }
    }
}
