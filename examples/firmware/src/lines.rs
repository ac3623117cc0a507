//! Lines of a text file of the host.

use core::ffi::CStr;

use semihosting::fs::File;
use semihosting::io::{self, Read};

/// The longest line that is read whole.
const LONGEST: usize = 192;

/// A file being read, line by line.
pub struct Lines {
    file: File,
    held: [u8; LONGEST],
    /// Of `held`: what was given last, and what is filled.
    given: usize,
    filled: usize,
}

impl Lines {
    /// # Errors
    /// If the host cannot open it.
    pub fn open(path: &CStr) -> io::Result<Self> {
        Ok(Self { file: File::open(path)?, held: [0; LONGEST], given: 0, filled: 0 })
    }

    /// The next line, without its end; none at the end of the file, and none if a line is too long, is no text or
    /// cannot be read.
    pub fn next_line(&mut self) -> Option<&str> {
        self.held.copy_within(self.given..self.filled, 0);
        self.filled -= self.given;
        self.given = 0;
        let end = loop {
            if let Some(end) = self.held[..self.filled].iter().position(|&byte| byte == b'\n') {
                break end;
            }
            match self.file.read(&mut self.held[self.filled..]) {
                Ok(count) if count > 0 => self.filled += count,
                _ => return None,
            }
        };
        self.given = end + 1;
        core::str::from_utf8(&self.held[..end]).ok()
    }
}
