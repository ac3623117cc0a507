//! Which times of a file rise, as [`rising`](crate::rows::rising) has it, of files of any length: what that takes is written beside,
//! and only where times do not rise already.

use std::collections::VecDeque;
use std::fs::File;
use std::io::{self, BufReader, BufWriter, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

/// Of the times of a file.
#[derive(Debug, PartialEq)]
pub struct Times {
    pub rows: u64,
    /// The first and the last of those that rise; none where no row has a time.
    pub ends: Option<(f64, f64)>,
}

/// As long as every time is later than the one before.
#[derive(Default)]
pub struct Rising {
    rows: u64,
    ends: Option<(f64, f64)>,
    is_broken: bool,
}

impl Rising {
    /// The time of the next row, not a number where it has none.
    pub fn add(&mut self, time: f64) {
        self.rows += 1;
        match &mut self.ends {
            _ if time.is_nan() => {}
            None => self.ends = Some((time, time)),
            Some((_, last)) if *last < time => *last = time,
            Some(_) => self.is_broken = true,
        }
    }

    /// None where not all of them rise: then [`Order`] is needed.
    pub fn finish(self) -> Option<Times> {
        (!self.is_broken).then_some(Times { rows: self.rows, ends: self.ends })
    }
}

const NONE: u64 = u64::MAX;

/// Bytes of a number and of a pair of numbers in a file.
const ONE: usize = 8;
const TWO: usize = 16;

/// A row that ends a rising sequence.
#[derive(Clone, Copy)]
struct End {
    time: f64,
    row: u64,
}

/// Of times in any order: the longest rising sequence, by the last row of the best sequence of each length yet. Most times lengthen
/// the longest or come close to its end; so the last of these rows are held, and the rest is in a file.
pub struct Order {
    rows: u64,
    /// So many of the shortest sequences are in the file.
    filed: u64,
    file: File,
    /// The others.
    held: VecDeque<End>,
    hold: usize,
    /// Where the last time went in the file: the next is likely to go behind it.
    place: u64,
    /// For each row its time and the row before it in its sequence.
    before: BufWriter<File>,
    list: PathBuf,
}

impl Order {
    /// With files in this folder. Room is for twice `hold` sequences.
    ///
    /// # Errors
    /// If the files cannot be made.
    pub fn with_files_in(folder: &Path, hold: usize) -> io::Result<Self> {
        let create = |name| {
            let path = folder.join(name);
            File::options().read(true).write(true).create(true).truncate(true).open(path)
        };
        Ok(Self {
            rows: 0,
            filed: 0,
            file: create("sequences")?,
            held: VecDeque::new(),
            hold,
            place: 0,
            before: BufWriter::new(create("rows before")?),
            list: folder.join("rising rows"),
        })
    }

    /// The time of the next row, not a number where it has none.
    ///
    /// # Errors
    /// If a file cannot be read or written.
    pub fn add(&mut self, time: f64) -> io::Result<()> {
        let before = if time.is_nan() { NONE } else { self.place(End { time, row: self.rows })? };
        self.rows += 1;
        write_pair(&mut self.before, time.to_bits(), before)
    }

    /// Puts a row where it ends the best sequence of its length. The row before it.
    fn place(&mut self, new: End) -> io::Result<u64> {
        let is_filed = self.filed > 0 && self.held.front().is_none_or(|first| first.time >= new.time);
        if is_filed {
            let place = self.place_in_file(new.time)?;
            self.place = place;
            let before = if place == 0 { NONE } else { self.in_file(place - 1)?.row };
            // Of equal times the first stays. All of the file may be earlier: then it is the first that is held.
            if place < self.filed {
                if self.in_file(place)?.time > new.time {
                    self.write_in_file(place, new)?;
                }
                return Ok(before);
            }
        }
        let place = self.held.partition_point(|end| end.time < new.time);
        let before = match place.checked_sub(1) {
            Some(before) => self.held[before].row,
            None if self.filed == 0 => NONE,
            None => self.in_file(self.filed - 1)?.row,
        };
        match self.held.get_mut(place) {
            Some(end) if end.time > new.time => *end = new,
            Some(_) => {}
            None => self.held.push_back(new),
        }
        if self.held.len() > 2 * self.hold {
            self.file.seek(SeekFrom::Start(self.filed * TWO as u64))?;
            let mut file = BufWriter::new(&self.file);
            for end in self.held.drain(..self.hold) {
                write_pair(&mut file, end.time.to_bits(), end.row)?;
            }
            file.flush()?;
            self.filed += self.hold as u64;
        }
        Ok(before)
    }

    /// How many in the file are earlier.
    fn place_in_file(&mut self, time: f64) -> io::Result<u64> {
        let (mut low, mut high) = (0, self.filed);
        // Behind the last place, if it goes there.
        for guess in [self.place, self.place + 1] {
            if (low..high).contains(&guess) {
                if self.in_file(guess)?.time < time { low = guess + 1 } else { high = guess }
            }
        }
        while low < high {
            let middle = low + (high - low) / 2;
            if self.in_file(middle)?.time < time { low = middle + 1 } else { high = middle }
        }
        Ok(low)
    }

    fn in_file(&mut self, place: u64) -> io::Result<End> {
        self.file.seek(SeekFrom::Start(place * TWO as u64))?;
        let (time, row) = read_pair(&mut self.file)?;
        Ok(End { time: f64::from_bits(time), row })
    }

    fn write_in_file(&mut self, place: u64, end: End) -> io::Result<()> {
        self.file.seek(SeekFrom::Start(place * TWO as u64))?;
        write_pair(&mut self.file, end.time.to_bits(), end.row)
    }

    /// Follows the longest sequence from its end, and lists its rows.
    ///
    /// # Errors
    /// If a file cannot be read or written.
    pub fn finish(self) -> io::Result<(Times, RisingRows)> {
        /// Rows at once.
        const PIECE: u64 = 1 << 14;
        let last = self.held.back().copied();
        let mut next = last.map_or(NONE, |last| last.row);
        let mut first = f64::NAN;
        let mut pairs = self.before.into_inner().map_err(io::IntoInnerError::into_error)?;
        let mut list = File::options().read(true).write(true).create(true).truncate(true).open(&self.list)?;
        for piece in (0..self.rows.div_ceil(PIECE)).rev() {
            let from = piece * PIECE;
            let rows = PIECE.min(self.rows - from) as usize;
            let mut bytes = vec![0; rows * TWO];
            pairs.seek(SeekFrom::Start(from * TWO as u64))?;
            pairs.read_exact(&mut bytes)?;
            let mut rising = vec![0; rows];
            while next != NONE && next >= from {
                let row = (next - from) as usize;
                rising[row] = 1;
                let (time, before) = read_pair(&mut &bytes[row * TWO..])?;
                (first, next) = (f64::from_bits(time), before);
            }
            list.seek(SeekFrom::Start(from))?;
            list.write_all(&rising)?;
        }
        list.rewind()?;
        let times = Times { rows: self.rows, ends: last.map(|last| (first, last.time)) };
        Ok((times, RisingRows { list: BufReader::new(list) }))
    }
}

/// Which rows rise, from the first on.
pub struct RisingRows {
    list: BufReader<File>,
}

impl RisingRows {
    /// Of so many more rows.
    ///
    /// # Errors
    /// If the file cannot be read, or has no more of them.
    pub fn take(&mut self, rows: usize) -> io::Result<Vec<bool>> {
        let mut bytes = vec![0; rows];
        self.list.read_exact(&mut bytes)?;
        Ok(bytes.into_iter().map(|byte| byte != 0).collect())
    }
}

fn write_pair(file: &mut impl Write, one: u64, other: u64) -> io::Result<()> {
    let mut pair = [0; TWO];
    pair[..ONE].copy_from_slice(&one.to_le_bytes());
    pair[ONE..].copy_from_slice(&other.to_le_bytes());
    file.write_all(&pair)
}

fn read_pair(file: &mut impl Read) -> io::Result<(u64, u64)> {
    let mut pair = [[0; ONE]; 2];
    file.read_exact(pair.as_flattened_mut())?;
    Ok((u64::from_le_bytes(pair[0]), u64::from_le_bytes(pair[1])))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rows::rising;

    /// As a file would have them: rising, some absurd, some missing, some twice, and clocks that are set back.
    fn times(seed: u32) -> Vec<f64> {
        let mut state = seed;
        let mut random = |below: u32| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 8) % below
        };
        let length = 1 + random(400);
        let mut now = 0_u32;
        let mut next = |_| {
            now += 1;
            match random(if seed % 3 == 0 { 12 } else { 40 }) {
                0 => f64::NAN,
                1 => f64::from(random(2 * length)),
                2 => f64::from(now - 1),
                3 if random(4) == 0 => {
                    now = now.saturating_sub(random(length));
                    f64::from(now)
                }
                _ => f64::from(now),
            }
        };
        (0..length).map(&mut next).collect()
    }

    #[test]
    fn it_is_what_is_found_with_all_times_at_hand() {
        let folder = std::env::temp_dir().join(format!("gaugewright order {}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        for seed in 0..150 {
            let times = times(seed);
            let expected = rising(&times);
            let chosen: Vec<f64> =
                times.iter().zip(&expected).filter(|(_, rises)| **rises).map(|(time, _)| *time).collect();
            let ends = chosen.first().map(|first| (*first, *chosen.last().unwrap()));
            let mut order = Order::with_files_in(&folder, 1 + seed as usize % 9).unwrap();
            times.iter().for_each(|time| order.add(*time).unwrap());
            let (found, mut rows) = order.finish().unwrap();
            assert_eq!(found, Times { rows: times.len() as u64, ends }, "{seed}");
            let third = times.len() / 3;
            let found = [rows.take(third).unwrap(), rows.take(times.len() - third).unwrap()].concat();
            assert_eq!(found, expected, "{seed}: {times:?}");
            assert!(rows.take(1).is_err());

            let mut all = Rising::default();
            times.iter().for_each(|time| all.add(*time));
            let rise = times.iter().zip(expected).all(|(time, rises)| rises || time.is_nan());
            assert_eq!(all.finish(), rise.then_some(Times { rows: times.len() as u64, ends }), "{seed}");
        }
        std::fs::remove_dir_all(folder).unwrap();
    }
}
