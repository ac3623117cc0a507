//! The other end of the buses: eight converters, thermometers and relays, with faults.

use std::fs::{self, File, OpenOptions};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::{Arc, Mutex, MutexGuard};
use std::thread;

use crc::{CRC_8_SMBUS, Crc};
use firmware::field::CHANNELS;

use crate::emulator::at;

/// How a converter answers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Converter {
    Well,
    /// Its status says for ever that no code is ready.
    NeverReady,
    /// Its status says that the reference is bad.
    BadReference,
    WrongChecksum,
    /// Nothing drives the line.
    AllOnes,
}

/// What the firmware is connected to.
#[derive(Clone)]
pub struct World {
    pub codes: [i32; CHANNELS],
    /// In 1/128 C.
    pub temperatures: [i16; CHANNELS],
    /// What the shunt across arm 2 adds to the code.
    pub by_shunt: [i32; CHANNELS],
    pub shunted: [bool; CHANNELS],
    pub converters: [Converter; CHANNELS],
    pub absent_thermometers: [bool; CHANNELS],
}

impl World {
    /// Bytes for an operation; none from a device that does not answer.
    fn reply(&mut self, what: u8, which: u8, sent: &[u8], expected: usize) -> Option<Vec<u8>> {
        if (what, expected) == (b'O', 4) {
            return Some(b"open".to_vec());
        }
        let channel = usize::from(if what == b'I' { which.checked_sub(0x48)? } else { which });
        let code = *self.codes.get(channel)?;
        match (what, expected) {
            (b'S', 5) => {
                let by_shunt = if self.shunted[channel] { self.by_shunt[channel] } else { 0 };
                let mut word = [0; 5];
                word[1..4].copy_from_slice(&(code + by_shunt).to_be_bytes()[1..]);
                match self.converters[channel] {
                    Converter::NeverReady => word[0] = 0x80,
                    Converter::BadReference => word[0] = 0x40,
                    _ => {}
                }
                word[4] = Crc::<u8>::new(&CRC_8_SMBUS).checksum(&word[..4]);
                match self.converters[channel] {
                    Converter::WrongChecksum => word[4] ^= 1,
                    Converter::AllOnes => word = [0xff; 5],
                    _ => {}
                }
                Some(word.to_vec())
            }
            (b'I', 2) if !self.absent_thermometers[channel] => {
                Some(self.temperatures[channel].to_be_bytes().to_vec())
            }
            (b'P', 0) => {
                self.shunted[channel] = sent == [1];
                Some(Vec::new())
            }
            _ => None,
        }
    }
}

/// The wire: two pipes, and a thread that answers.
pub struct Wire {
    world: Arc<Mutex<World>>,
    out: PathBuf,
    answering: Option<thread::JoinHandle<()>>,
}

/// Of a frame that ends the thread; no firmware sends it.
const END: [u8; 4] = [0; 4];

impl Wire {
    /// Makes the pipes in a folder, and answers whoever opens them there.
    pub fn new(folder: &Path, world: World) -> Result<Self, String> {
        let (out, back) = (folder.join("wire.out"), folder.join("wire.in"));
        for path in [&out, &back] {
            // What an emulator that was ended has left in the pipe goes with it.
            let _ = fs::remove_file(path);
            let made = Command::new("mkfifo").arg(path).status().map_err(at(path))?;
            if !made.success() {
                return Err(format!("mkfifo {}: {made}", path.display()));
            }
        }
        // Open in both directions, so that opening does not wait for the emulator.
        let open = |path: &Path| OpenOptions::new().read(true).write(true).open(path).map_err(at(path));
        let (frames, replies) = (open(&out)?, open(&back)?);
        let world = Arc::new(Mutex::new(world));
        let answering = thread::spawn({
            let world = Arc::clone(&world);
            move || {
                // A pipe that fails shows in the firmware, which gets no reply.
                let _ = answer(frames, replies, &world);
            }
        });
        Ok(Self { world, out, answering: Some(answering) })
    }

    pub fn world(&self) -> MutexGuard<'_, World> {
        self.world.lock().unwrap_or_else(|poisoned| poisoned.into_inner())
    }
}

fn answer(mut frames: File, mut replies: File, world: &Mutex<World>) -> std::io::Result<()> {
    loop {
        let mut header = [0; 4];
        frames.read_exact(&mut header)?;
        if header == END {
            return Ok(());
        }
        let [what, which, sent, expected] = header;
        let mut bytes = vec![0; sent.into()];
        frames.read_exact(&mut bytes)?;
        let reply = world.lock().unwrap_or_else(|poisoned| poisoned.into_inner()).reply(
            what,
            which,
            &bytes,
            expected.into(),
        );
        let mut answer = vec![u8::from(reply.is_none())];
        answer.extend(reply.unwrap_or_else(|| vec![0; expected.into()]));
        replies.write_all(&answer)?;
    }
}

impl Drop for Wire {
    fn drop(&mut self) {
        if let Ok(mut out) = OpenOptions::new().read(true).write(true).open(&self.out) {
            // Whole frames alone: the emulator has ended before, maybe in the middle of one, whose rest this then is.
            let _ = out.write_all(&[0; 64]);
        }
        if let Some(thread) = self.answering.take() {
            let _ = thread.join();
        }
    }
}
