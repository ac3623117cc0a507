//! The samples file: CSV, read in blocks of rows; what cannot be used is kept apart and told.

use crate::rejected::{Reason, Rejection};
use crate::rows::{
    Rows, code, find_columns, gauge_temperature, number, number_within, temperature, text, time_in_order,
    time_of,
};
use crate::setup::Channel;
use csv::ByteRecord;
use gaugewright::fixed::Temperature;
use std::collections::BTreeMap;
use std::io::{self, Read};

/// In microstrain: a part of twice its length.
const LARGEST_TRUE_STRAIN: f64 = 1e6;

/// What stands above the rows of a file, and where the cells of the channels are in each.
pub struct Layout<'a> {
    pub channels: &'a [Channel],
    header: ByteRecord,
    time: usize,
    columns: Vec<CellColumns>,
    /// Above the rows.
    pub bytes: u64,
    /// The same of lines.
    pub lines: u64,
}

/// The samples of a block of rows, about 20 bytes each.
pub struct Samples {
    /// Of the block, also those that are no rows.
    pub lines: u64,
    /// Time of every row; not a number in a row that has none.
    pub times: Vec<f64>,
    /// What stood there instead.
    pub times_as_written: BTreeMap<usize, String>,
    /// In the order of the channels.
    pub series: Vec<Series>,
    /// Cells that cannot be used, with their lines in the block.
    pub rejections: Vec<Rejection>,
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

/// Columns of a channel's cells.
struct CellColumns {
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

impl<'a> Layout<'a> {
    /// Lines that start with `#` are comments, the first other line is the header.
    ///
    /// # Errors
    /// If the file cannot be read or lacks columns.
    pub fn of(source: impl Read, time_column: &str, channels: &'a [Channel]) -> Result<Self, String> {
        let rows = Rows::of(source).map_err(|error| error.to_string())?;
        let here = |wrong| format!("line {}: {wrong}", rows.header_line);
        let time = find_columns(&rows.header, &[time_column]).map_err(here)?[0];
        let columns = columns_of(&rows.header, channels).map_err(here)?;
        Ok(Self { channels, header: rows.header, time, columns, bytes: rows.bytes, lines: rows.lines })
    }

    /// The time of each row of a block of lines below the header; not a number where it has none.
    ///
    /// # Errors
    /// None: the block is there.
    pub fn times(&self, block: &[u8]) -> io::Result<Vec<f64>> {
        let mut rows = Rows::below(block);
        let mut times = Vec::new();
        while let Some((_, row)) = rows.next_row()? {
            times.push(time_of(row, &self.header, self.time).unwrap_or(f64::NAN));
        }
        Ok(times)
    }

    /// The samples of a block, for each row of which it is known whether its time rises; where that is none, all do.
    ///
    /// # Errors
    /// None: the block is there.
    pub fn samples(&self, block: &[u8], rising: Option<&[bool]>) -> io::Result<Samples> {
        let mut rows = Rows::below(block);
        let mut times = Vec::new();
        let mut times_as_written = BTreeMap::new();
        let mut series: Vec<Series> = self.channels.iter().map(|_| Series::default()).collect();
        let mut rejections = Vec::new();
        while let Some((line, row)) = rows.next_row()? {
            let mut told = Vec::new();
            let mut reject = |column: usize, reason| {
                // Channels may share a column.
                if told.contains(&column) {
                    return;
                }
                told.push(column);
                rejections.push(Rejection::of(line, &self.header, row, column, reason));
            };
            let is_in_order = rising.is_none_or(|rising| rising.get(times.len()) == Some(&true));
            let row_reason = match time_in_order(row, &self.header, self.time, is_in_order) {
                Ok(now) => {
                    times.push(now);
                    None
                }
                Err(reason) => {
                    times_as_written.insert(times.len(), text(row, self.time));
                    times.push(f64::NAN);
                    reject(self.time, reason);
                    Some(reason)
                }
            };
            for ((channel, at), series) in self.channels.iter().zip(&self.columns).zip(&mut series) {
                let sample = match row_reason {
                    Some(reason) => Err(reason),
                    None => sample(row, channel, at, &mut reject),
                };
                series.push(sample, at.compensating.is_some());
            }
        }
        Ok(Samples { lines: rows.lines, times, times_as_written, series, rejections })
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

fn columns_of(header: &ByteRecord, channels: &[Channel]) -> Result<Vec<CellColumns>, String> {
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
    let mut cells = Vec::new();
    for channel in channels {
        let columns = &channel.columns;
        cells.push(CellColumns {
            value: next()?,
            temperature: next()?,
            beside: columns.temperature.columns().nth(1).map(|_| next()).transpose()?,
            compensating: columns.compensating.as_ref().map(|_| next()).transpose()?,
            true_strain: columns.true_strain.as_ref().map(|_| next()).transpose()?,
        });
    }
    Ok(cells)
}

/// The sample of a channel, or the reason that its first bad cell is rejected for. All of them go to
/// `reject`.
fn sample(
    row: &ByteRecord,
    channel: &Channel,
    at: &CellColumns,
    reject: &mut impl FnMut(usize, Reason),
) -> Result<Sample, Reason> {
    let code = match channel.step_microstrain {
        None => code(&row[at.value]),
        Some(step) => count(&row[at.value], step),
    };
    let celsius = |column: usize| temperature(&row[column], channel.temperature_unit);
    let (thermometer, unit) = (&channel.columns.temperature, channel.temperature_unit);
    let (temperature, beside) = gauge_temperature(row, thermometer, unit, at.temperature, at.beside);
    let compensating = at.compensating.map(celsius).transpose();
    let true_strain = match at.true_strain {
        Some(column) if !row[column].is_empty() => number_within(&row[column], LARGEST_TRUE_STRAIN),
        _ => Ok(f64::NAN),
    };
    for (column, reason) in [
        (Some(at.value), code.err()),
        (Some(at.temperature), temperature.err()),
        (at.beside, beside.err()),
        (at.compensating, compensating.err()),
        (at.true_strain, true_strain.err()),
    ] {
        if let (Some(column), Some(reason)) = (column, reason) {
            reject(column, reason);
        }
    }
    Ok(Sample {
        code: code?,
        temperature: beside.and(temperature)?,
        compensating: compensating?,
        true_strain: true_strain?,
    })
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
