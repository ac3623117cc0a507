//! The samples file: CSV, read row by row; what cannot be used is kept apart and told.

use crate::channel_file::Scale;
use crate::rejected::{Reason, Rejected, Rejection};
use crate::sensor::{Fault, Sensor};
use crate::setup::{Channel, Thermometer};
use csv::ByteRecord;
use gaugewright::fixed::Temperature;
use gaugewright::units::{Celsius, Fahrenheit};
use indicatif::{ProgressBar, ProgressStyle};
use std::collections::BTreeMap;
use std::error::Error;
use std::fs::File;
use std::path::Path;
use std::str;

/// Nanoseconds since 1970 fit.
const LARGEST_TIME: f64 = 1e19;

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
        let file = File::open(path)?;
        let progress = ProgressBar::new(file.metadata()?.len()); // shows itself on a terminal only
        progress.set_style(ProgressStyle::with_template(
            "reading samples {bar:40} {bytes} of {total_bytes}, {eta} left",
        )?);
        let samples = Self::read_from(progress.wrap_read(file), time_column, channels, rejected);
        progress.finish_and_clear();
        samples
    }

    /// # Errors
    /// As [`read`](Self::read).
    pub fn read_from(
        source: impl std::io::Read,
        time_column: &str,
        channels: &[Channel],
        rejected: &mut Rejected,
    ) -> Result<Self, Box<dyn Error>> {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .comment(Some(b'#'))
            .trim(csv::Trim::All)
            // The reader would also end a line at a carriage return, and then count lines differently.
            // Trimming removes it.
            .terminator(csv::Terminator::Any(b'\n'))
            .from_reader(source);
        let mut row = ByteRecord::new();
        let mut header = ByteRecord::new();
        while reader.read_byte_record(&mut header)? && is_blank(&header) {}
        let time = find_columns(&header, &[time_column])?[0];
        let places = places(&header, channels)?;

        let mut samples = Self {
            times: Vec::new(),
            times_as_written: BTreeMap::new(),
            series: channels.iter().map(|_| Series::default()).collect(),
        };
        let mut last_time = f64::NEG_INFINITY;
        while reader.read_byte_record(&mut row)? {
            if is_blank(&row) {
                continue;
            }
            // The reader stands behind the row, so on the next line, unless the file ends without one.
            let line = reader.position().line() - u64::from(!reader.is_done());
            let mut told = Vec::new();
            let mut reject = |column: usize, reason| {
                // Channels may share a column.
                if told.contains(&column) {
                    return Ok(());
                }
                told.push(column);
                let (column, cell) = match reason {
                    Reason::CellCount => ("whole row".to_string(), format!("{} cells", row.len())),
                    _ => (text(&header, column), text(&row, column)),
                };
                rejected.add(Rejection { line, column, cell, reason })
            };
            let row_reason = match time_of(&row, &header, time, last_time) {
                Ok(now) => {
                    samples.times.push(now);
                    last_time = now;
                    None
                }
                Err(reason) => {
                    samples.times_as_written.insert(samples.times.len(), text(&row, time));
                    samples.times.push(f64::NAN);
                    reject(time, reason)?;
                    Some(reason)
                }
            };
            for ((channel, place), series) in channels.iter().zip(&places).zip(&mut samples.series) {
                let sample = match row_reason {
                    Some(reason) => Err(reason),
                    None => sample(&row, channel, place, &mut reject)?,
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

fn places(header: &ByteRecord, channels: &[Channel]) -> Result<Vec<Place>, Box<dyn Error>> {
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

/// Where each name stands in the header, or everything that is wrong with it.
fn find_columns(header: &ByteRecord, names: &[&str]) -> Result<Vec<usize>, Box<dyn Error>> {
    let mut wrong = Vec::new();
    let mut found = Vec::new();
    for name in names {
        let mut places = (0..header.len()).filter(|&column| &header[column] == name.as_bytes());
        match (places.next(), places.next()) {
            (Some(place), None) => found.push(place),
            (Some(_), Some(_)) => wrong.push(format!("two columns are named {name:?}")),
            (None, _) => wrong.push(format!("there is no column {name:?}")),
        }
    }
    if wrong.is_empty() {
        return Ok(found);
    }
    if is_blank(header) {
        return Err("there is no header in it".into());
    }
    let there: Vec<String> = (0..header.len()).map(|column| text(header, column)).collect();
    Err(format!("{}; its columns are: {}", wrong.join("; "), there.join(", ")).into())
}

fn time_of(row: &ByteRecord, header: &ByteRecord, column: usize, last: f64) -> Result<f64, Reason> {
    if row.len() != header.len() {
        // A cell may be cut short as well as missing: nothing in the row can be trusted.
        return Err(Reason::CellCount);
    }
    let time = number_within(&row[column], LARGEST_TIME)?;
    if time > last { Ok(time) } else { Err(Reason::NotLater) }
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
    let celsius = |column: usize| temperature(&row[column], channel.temperature_unit);
    let (temperature, beside) = match &channel.columns.temperature {
        Thermometer::Column(_) => (celsius(place.temperature), Ok(())),
        Thermometer::Sensor(sensor) => sensed(row, sensor, place),
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

fn number(cell: &[u8]) -> Result<f64, Reason> {
    if cell.is_empty() {
        return Err(Reason::Missing);
    }
    let text = str::from_utf8(cell).map_err(|_| Reason::NotANumber)?;
    let number: f64 = text.parse().map_err(|_| Reason::NotANumber)?;
    if number.is_finite() { Ok(number) } else { Err(Reason::NotFinite) }
}

/// A number that is not absurd: of those, figures and pictures make no sense.
fn number_within(cell: &[u8], largest: f64) -> Result<f64, Reason> {
    let number = number(cell)?;
    if number.abs() <= largest { Ok(number) } else { Err(Reason::TooLarge) }
}

fn code(cell: &[u8]) -> Result<i32, Reason> {
    let code = number(cell)?;
    if code.fract() != 0.0 {
        return Err(Reason::NotWhole);
    }
    if code < f64::from(i32::MIN) || code > f64::from(i32::MAX) {
        return Err(Reason::CodeTooLarge);
    }
    Ok(code as i32)
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

fn temperature(cell: &[u8], unit: Scale) -> Result<Temperature, Reason> {
    let degrees = number(cell)?;
    let celsius = match unit {
        Scale::Celsius => Celsius(degrees),
        Scale::Fahrenheit => Fahrenheit(degrees).celsius(),
    };
    Temperature::from_celsius(celsius).map_err(|_| Reason::TemperatureTooLarge)
}

/// Temperature of a raw sensor, and whether what is beside it is in order. Where that is not, the first is of no use.
fn sensed(
    row: &ByteRecord,
    sensor: &Sensor,
    place: &Place,
) -> (Result<Temperature, Reason>, Result<(), Reason>) {
    let nowhere = Temperature::from_bits(0);
    let reading = number(&row[place.temperature]);
    let beside = place.beside.map(|column| number(&row[column])).transpose();
    let (reading, beside) = match (reading, beside) {
        (Ok(reading), Ok(beside)) => (reading, beside),
        (reading, beside) => return (reading.map(|_| nowhere), beside.map(|_| ())),
    };
    match sensor.temperature(reading, beside) {
        Ok(celsius) => (Temperature::from_celsius(celsius).map_err(Reason::Sensor), Ok(())),
        Err(Fault { beside: true, reason }) => (Ok(nowhere), Err(reason)),
        Err(Fault { beside: false, reason }) => (Err(reason), Ok(())),
    }
}

fn is_blank(row: &ByteRecord) -> bool {
    row.iter().all(<[u8]>::is_empty) && row.len() <= 1
}

fn text(row: &ByteRecord, column: usize) -> String {
    String::from_utf8_lossy(row.get(column).unwrap_or_default()).into_owned()
}
