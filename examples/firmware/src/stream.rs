//! The flight, streamed from a file of the host: in place of a board's converters and thermometers.

use core::ffi::CStr;

use gaugewright::fixed::Temperature;
use semihosting::fs::File;
use semihosting::io::{ErrorKind, Read};

use crate::gondola::{CHANNELS, WITH_BLOCK};
use host::stream::Header;

/// What all converters and thermometers say at one moment.
#[derive(Clone, Copy)]
pub struct Row {
    pub codes: [i32; CHANNELS],
    pub temperatures: [Temperature; CHANNELS],
    /// Of the free block.
    pub block: Temperature,
}

const ROW_BYTES: usize = 4 * (2 * CHANNELS + 1);

/// The file while it is read.
pub struct Stream {
    file: File,
    /// Rows that are left.
    left: u32,
}

/// What can be wrong with the file.
#[derive(defmt::Format)]
pub enum StreamError {
    CannotOpen,
    /// It ends early, or the host cannot read it.
    CutShort {
        rows_left: u32,
    },
    /// Another file, or another version of the format.
    NoStream,
    /// Of other channels than the firmware has.
    OtherChannels {
        bytes_per_row: u32,
        expected: usize,
    },
}

impl Stream {
    /// # Errors
    /// If it is not the stream of this gondola.
    pub fn open(path: &CStr) -> Result<Self, StreamError> {
        let file = File::open(path).map_err(|_| StreamError::CannotOpen)?;
        let mut stream = Self { file, left: 0 };
        let header = Header::from_bytes(&stream.take()?).map_err(|_| StreamError::NoStream)?;
        if header.bytes_per_row as usize != ROW_BYTES {
            let bytes_per_row = header.bytes_per_row;
            return Err(StreamError::OtherChannels { bytes_per_row, expected: ROW_BYTES });
        }
        stream.left = header.rows;
        Ok(stream)
    }

    pub fn rows_left(&self) -> u32 {
        self.left
    }

    /// The next row; none after the last.
    ///
    /// # Errors
    /// If the file ends before its header says so.
    pub fn next_row(&mut self) -> Result<Option<Row>, StreamError> {
        if self.left == 0 {
            return Ok(None);
        }
        let bytes: [u8; ROW_BYTES] = self.take()?;
        self.left -= 1;
        let (words, _) = bytes.as_chunks::<4>();
        let mut numbers = words.iter().map(|&word| i32::from_le_bytes(word));
        let mut number = || numbers.next().unwrap_or(0);
        let nothing = Temperature::from_bits(0);
        let mut row = Row { codes: [0; CHANNELS], temperatures: [nothing; CHANNELS], block: nothing };
        for channel in 0..CHANNELS {
            row.codes[channel] = number();
            row.temperatures[channel] = Temperature::from_bits(number());
            if channel == WITH_BLOCK {
                row.block = Temperature::from_bits(number());
            }
        }
        Ok(Some(row))
    }

    fn take<const BYTES: usize>(&mut self) -> Result<[u8; BYTES], StreamError> {
        let mut bytes = [0; BYTES];
        let mut filled = 0;
        while filled < BYTES {
            match self.file.read(&mut bytes[filled..]) {
                Ok(count) if count > 0 => filled += count,
                Err(error) if error.kind() == ErrorKind::Interrupted => {}
                _ => return Err(StreamError::CutShort { rows_left: self.left }),
            }
        }
        Ok(bytes)
    }
}
