//! The samples file: CSV, read row by row; what cannot be used is kept apart and told.

use crate::rejected::{Reason, Rejected, Rejection};
use crate::rows::{
    self, Rows, code, find_columns, look_at, number, number_within, rising, sensed, text, time_of,
};
use crate::setup::{Channel, Thermometer};
use csv::ByteRecord;
use gaugewright::fixed::Temperature;
use indicatif::{ProgressBar, ProgressStyle};
use std::collections::BTreeMap;
use std::error::Error;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// In microstrain: a part of twice its length.
const LARGEST_TRUE_STRAIN: f64 = 1e6;

/// All samples of a file, about 20 bytes each.
pub struct Samples {
    /// Time of every row; not a number in a row that has none.
    pub times: Vec<f64>,
    /// What stood there instead.
    pub times_as_written: BTreeMap<usize, String>,
    /// In the order of the channels.
    pub series: Vec<Series>,
}

/// The samples of one channel, one for each row.
#[derive(Default)]
pub struct Series {
    /// Codes, or counts of an instrument; 0 where rejected.
    pub codes: Vec<i32>,
    /// 0 C where rejected.
    pub temperatures: Vec<Temperature>,
    /// Of the compensating gauge, where it has one of its own; else empty.
    pub compensating: Vec<Temperature>,
    /// In microstrain; not a number where it is not known.
    pub true_strain: Vec<f64>,
    pub rejected: Vec<bool>,
    /// Why, of those rows; few, and large.
    pub reasons: BTreeMap<usize, Reason>,
}

/// Where a channel's cells are in a row.
struct Place {
    value: usize,
    temperature: usize,
    /// Of a raw sensor that takes two.
    beside: Option<usize>,
    compensating: Option<usize>,
    true_strain: Option<usize>,
}

/// One usable sample.
struct Sample {
    code: i32,
    temperature: Temperature,
    compensating: Option<Temperature>,
    true_strain: f64,
}

impl Samples {
    /// Reads the file at `path`. Lines that start with `#` are comments, the first other line is the header.
    ///
    /// # Errors
    /// If the file cannot be read, lacks columns or has no rows. A bad row is none: it goes to `rejected`.
    pub fn read(
        path: &Path,
        time_column: &str,
        channels: &[Channel],
        rejected: &mut Rejected,
    ) -> Result<Self, Box<dyn Error>> {
        look_at(path, time_column)?;
        // Twice: the times first. It shows itself on a terminal only.
        let progress = ProgressBar::new(2 * File::open(path)?.metadata()?.len());
        progress.set_style(ProgressStyle::with_template(
            "reading samples {bar:40} {bytes} of {total_bytes}, {eta} left",
        )?);
        let open = || Ok(progress.wrap_read(File::open(path)?));
        let samples = Self::read_from(open, time_column, channels, rejected);
        progress.finish_and_clear();
        samples
    }

    /// # Errors
    /// As [`read`](Self::read).
    pub fn read_from<R: Read>(
        open: impl Fn() -> io::Result<R>,
        time_column: &str,
        channels: &[Channel],
        rejected: &mut Rejected,
    ) -> Result<Self, Box<dyn Error>> {
        let mut rows = Rows::of(open()?)?;
        let header = rows.header.clone();
        let here = |wrong| format!("line {}: {wrong}", rows.header_line);
        let time = find_columns(&header, &[time_column]).map_err(here)?[0];
        let places = places(&header, channels).map_err(here)?;

        let mut samples = Self {
            times: Vec::new(),
            times_as_written: BTreeMap::new(),
            series: channels.iter().map(|_| Series::default()).collect(),
        };
        let mut times = Vec::new();
        while let Some((_, row)) = rows.next_row()? {
            times.push(time_of(row, &header, time).unwrap_or(f64::NAN));
        }
        let mut in_order = rising(&times).into_iter();
        let mut rows = Rows::of(open()?)?;
        while let Some((line, row)) = rows.next_row()? {
            let mut told = Vec::new();
            let mut reject = |column: usize, reason| {
                // Channels may share a column.
                if told.contains(&column) {
                    return Ok(());
                }
                told.push(column);
                let (column, cell) = match reason {
                    Reason::CellCount => ("whole row".to_string(), format!("{} cells", row.len())),
                    _ => (text(&header, column), text(row, column)),
                };
                rejected.add(Rejection { line, column, cell, reason })
            };
            let is_in_order = in_order.next() == Some(true);
            let now = time_of(row, &header, time);
            let row_reason =
                match now.and_then(|now| if is_in_order { Ok(now) } else { Err(Reason::NotLater) }) {
                    Ok(now) => {
                        samples.times.push(now);
                        None
                    }
                    Err(reason) => {
                        samples.times_as_written.insert(samples.times.len(), text(row, time));
                        samples.times.push(f64::NAN);
                        reject(time, reason)?;
                        Some(reason)
                    }
                };
            for ((channel, place), series) in channels.iter().zip(&places).zip(&mut samples.series) {
                let sample = match row_reason {
                    Some(reason) => Err(reason),
                    None => sample(row, channel, place, &mut reject)?,
                };
                series.push(sample, place.compensating.is_some());
            }
        }
        if samples.times.is_empty() {
            return Err("there are no rows of samples in it".into());
        }
        Ok(samples)
    }
}

impl Samples {
    /// No row of any channel can be used.
    pub fn is_useless(&self) -> bool {
        self.series.iter().all(|series| series.rejected.iter().all(|rejected| *rejected))
    }
}

impl Series {
    fn push(&mut self, sample: Result<Sample, Reason>, has_compensating: bool) {
        let reason = sample.as_ref().err().copied();
        self.reasons.extend(reason.map(|reason| (self.rejected.len(), reason)));
        self.rejected.push(reason.is_some());
        let zero = Temperature::from_bits(0);
        let sample = sample.unwrap_or(Sample {
            code: 0,
            temperature: zero,
            compensating: has_compensating.then_some(zero),
            true_strain: f64::NAN,
        });
        self.codes.push(sample.code);
        self.temperatures.push(sample.temperature);
        self.compensating.extend(sample.compensating);
        self.true_strain.push(sample.true_strain);
    }
}

fn places(header: &ByteRecord, channels: &[Channel]) -> Result<Vec<Place>, String> {
    let mut names = Vec::new();
    for channel in channels {
        let columns = &channel.columns;
        names.push(columns.value.as_str());
        names.extend(columns.temperature.columns());
        names.extend(columns.compensating.as_deref());
        names.extend(columns.true_strain.as_deref());
    }
    let mut found = find_columns(header, &names)?.into_iter();
    let mut next = || found.next().ok_or("fewer columns than names");
    let mut places = Vec::new();
    for channel in channels {
        let columns = &channel.columns;
        places.push(Place {
            value: next()?,
            temperature: next()?,
            beside: columns.temperature.columns().nth(1).map(|_| next()).transpose()?,
            compensating: columns.compensating.as_ref().map(|_| next()).transpose()?,
            true_strain: columns.true_strain.as_ref().map(|_| next()).transpose()?,
        });
    }
    Ok(places)
}

/// The sample of a channel, or the reason that its first bad cell is rejected for. All of them go to
/// `reject`.
fn sample(
    row: &ByteRecord,
    channel: &Channel,
    place: &Place,
    reject: &mut impl FnMut(usize, Reason) -> csv::Result<()>,
) -> csv::Result<Result<Sample, Reason>> {
    let code = match channel.step_microstrain {
        None => code(&row[place.value]),
        Some(step) => count(&row[place.value], step),
    };
    let celsius = |column: usize| rows::temperature(&row[column], channel.temperature_unit);
    let (temperature, beside) = match &channel.columns.temperature {
        Thermometer::Column(_) => (celsius(place.temperature), Ok(())),
        Thermometer::Sensor(sensor) => sensed(row, sensor, place.temperature, place.beside),
    };
    let compensating = place.compensating.map(celsius).transpose();
    let true_strain = match place.true_strain {
        Some(column) if !row[column].is_empty() => number_within(&row[column], LARGEST_TRUE_STRAIN),
        _ => Ok(f64::NAN),
    };
    for (column, reason) in [
        (Some(place.value), code.err()),
        (Some(place.temperature), temperature.err()),
        (place.beside, beside.err()),
        (place.compensating, compensating.err()),
        (place.true_strain, true_strain.err()),
    ] {
        if let (Some(column), Some(reason)) = (column, reason) {
            reject(column, reason)?;
        }
    }
    let sample = || {
        Ok(Sample {
            code: code?,
            temperature: beside.and(temperature)?,
            compensating: compensating?,
            true_strain: true_strain?,
        })
    };
    Ok(sample())
}

/// A strain reading in counts of the instrument's step.
fn count(cell: &[u8], step: f64) -> Result<i32, Reason> {
    let counts = number(cell)? / step;
    if counts.abs() > f64::from(i32::MAX) {
        return Err(Reason::CodeTooLarge);
    }
    // Decimals are not exact in binary; a hundredth of a step is far more than that is worth.
    if (counts - counts.round()).abs() > 0.01 {
        return Err(Reason::NotWholeSteps);
    }
    Ok(counts.round() as i32)
}
