//! The record from its file to `corrected.csv`, block by block; what the summary and the pictures need is kept up on the way.

use crate::paths::Paths;
use crate::plot::Record;
use crate::progress::Progress;
use crate::rosette::{self, Rosette};
use crate::table;
use host::blocks::{BLOCK, Blocks, in_order};
use host::figures::Figures;
use host::files::at;
use host::order::{Order, Rising, RisingRows, Times};
use host::rejected::Rejection;
use host::results::Results;
use host::rows::look_at;
use host::samples::Layout;
use host::setup::Channel;
use std::fmt::Display;
use std::fs::{self, File};
use std::io::{self, Read, Seek, SeekFrom, Take};
use std::path::Path;

/// Ends of sequences that are held where times do not rise: a megabyte.
const HELD: usize = 1 << 15;

/// What is known of a channel when its record was read.
pub struct Seen {
    pub figures: Figures,
    pub paths: Paths,
    pub record: Record,
}

/// The samples file, read as it is now: what is written to it later is left out.
pub struct Source<'a> {
    path: &'a Path,
    layout: Layout<'a>,
    bytes: u64,
    /// Bytes of a block.
    pub block: u64,
    /// Of the channel file.
    pub rosettes: &'a [Rosette],
}

/// The first reading of the file: its times.
pub struct Timed {
    pub times: Times,
    /// Where not all of them rise: which do, and how many rows each block has.
    order: Option<(RisingRows, Vec<usize>)>,
}

impl<'a> Source<'a> {
    /// # Errors
    /// If the file cannot be read twice, is of another form or lacks columns.
    pub fn of(path: &'a Path, time_column: &str, channels: &'a [Channel]) -> Result<Self, String> {
        let metadata = fs::metadata(path).map_err(at(path))?;
        if !metadata.is_file() && !metadata.is_dir() {
            let why = "it is no file on a disk, and samples are read twice: write them to a file first";
            return Err(at(path)(why));
        }
        look_at(path, time_column).map_err(at(path))?;
        let file = File::open(path).map_err(at(path))?;
        let layout = Layout::of(file, time_column, channels).map_err(at(path))?;
        Ok(Self { path, layout, bytes: metadata.len(), block: BLOCK, rosettes: &[] })
    }

    /// Says that the error is about the file.
    fn told(&self, error: impl Display) -> String {
        at(self.path)(error)
    }

    /// Of the rows.
    fn blocks(&self) -> Result<Blocks<Take<File>>, String> {
        let mut file = File::open(self.path).map_err(at(self.path))?;
        file.seek(SeekFrom::Start(self.layout.bytes)).map_err(at(self.path))?;
        Ok(Blocks::of(file.take(self.bytes.saturating_sub(self.layout.bytes)), self.block))
    }

    /// Reads the times, with what that takes in this folder.
    ///
    /// # Errors
    /// If a file cannot be read or written, or has no rows.
    pub fn times(&self, folder: &Path) -> Result<Timed, String> {
        let mut rising = Rising::default();
        self.each_time("looking at the times", |times| {
            times.iter().for_each(|time| rising.add(*time));
            Ok(())
        })?;
        let timed = if let Some(times) = rising.finish() {
            Timed { times, order: None }
        } else {
            let mut order = Order::with_files_in(folder, HELD).map_err(at(folder))?;
            let mut rows = Vec::new();
            self.each_time("putting the times in order", |times| {
                rows.push(times.len());
                times.iter().try_for_each(|time| order.add(*time)).map_err(at(folder))
            })?;
            let (times, rising) = order.finish().map_err(at(folder))?;
            Timed { times, order: Some((rising, rows)) }
        };
        if timed.times.rows == 0 {
            return Err(self.told("there are no rows of samples in it"));
        }
        Ok(timed)
    }

    /// Gives `take` the times of each block.
    fn each_time(
        &self,
        what: &'static str,
        mut take: impl FnMut(&[f64]) -> Result<(), String>,
    ) -> Result<(), String> {
        let mut progress = Progress::of(what, self.bytes);
        let work = |block: Vec<u8>| Ok((block.len(), self.layout.times(&block)?));
        let blocks = self.blocks()?.map(|block| block.map_err(|error| self.told(error)));
        in_order(blocks, work, |timed: io::Result<_>| {
            let (bytes, times) = timed.map_err(|error| self.told(error))?;
            progress.add(bytes, times.len());
            take(&times)
        })
    }

    /// Reads all of it: each row goes to the table, in order, and what cannot be used to `rejected`. Gives what was seen of each
    /// channel and of each rosette.
    ///
    /// # Errors
    /// If a file cannot be read or written, or is another than before.
    pub fn samples(
        &self,
        timed: Timed,
        mut write: impl FnMut(&[u8]) -> Result<(), String>,
        mut reject: impl FnMut(Rejection) -> Result<(), String>,
    ) -> Result<(Vec<Seen>, Vec<rosette::Seen>), String> {
        let channels = self.layout.channels;
        let first = |channel| Seen {
            figures: Figures::default(),
            paths: Paths::new(),
            record: Record::of(&timed.times, channel),
        };
        let mut seen: Vec<Seen> = channels.iter().map(first).collect();
        let mut seen_rosettes: Vec<_> = self.rosettes.iter().map(|_| rosette::Seen::default()).collect();
        let mut progress = Progress::of("correcting", self.bytes);
        let mut lines = self.layout.lines;
        let mut left = timed.times.rows;
        let (rising, rows) = timed.order.unzip();
        let mut rising =
            rising.map(|mut rising| rows.into_iter().flatten().map(move |rows| rising.take(rows)));
        let blocks = self.blocks()?.map(|block| {
            let rising = rising.as_mut().and_then(Iterator::next).transpose();
            Ok::<_, String>((
                block.map_err(|error| self.told(error))?,
                rising.map_err(|error| self.told(error))?,
            ))
        });
        let work = |(block, rising): (Vec<u8>, Option<Vec<bool>>)| {
            let mut samples = self.layout.samples(&block, rising.as_deref())?;
            let series = std::mem::take(&mut samples.series);
            let results = channels.iter().zip(series).map(|(channel, series)| Results::of(channel, series));
            let results = results.collect::<Result<Vec<_>, _>>().map_err(io::Error::other)?;
            let combined = |rosette: &'a Rosette| (rosette, rosette.rows(samples.times.len(), &results));
            let combined: Vec<_> = self.rosettes.iter().map(combined).collect();
            let table = table::rows(&samples, channels, &results, &combined);
            Ok((block.len(), samples, results, combined, table))
        };
        in_order(blocks, work, |done: io::Result<_>| {
            let (bytes, samples, results, combined, table) = done.map_err(|error| self.told(error))?;
            progress.add(bytes, samples.times.len());
            left = left.checked_sub(samples.times.len() as u64).ok_or_else(|| self.told(CHANGED))?;
            write(&table)?;
            for rejection in samples.rejections {
                reject(Rejection { line: lines + rejection.line, ..rejection })?;
            }
            lines += samples.lines;
            for ((channel, results), seen) in channels.iter().zip(&results).zip(&mut seen) {
                seen.figures.add(&samples.times, results);
                seen.paths.add(channel, results);
                seen.record.add(&samples.times, results);
            }
            for ((_, rows), seen) in combined.iter().zip(&mut seen_rosettes) {
                seen.add(&samples.times, rows);
            }
            Ok(())
        })?;
        if left == 0 { Ok((seen, seen_rosettes)) } else { Err(self.told(CHANGED)) }
    }
}

const CHANGED: &str = "it was changed while it was read";
