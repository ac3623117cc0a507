//! A CSV file row by row, and its cells as numbers.

use crate::channel_file::Scale;
use crate::rejected::Reason;
use crate::sensor::{Fault, Sensor};
use csv::ByteRecord;
use gaugewright::fixed::Temperature;
use gaugewright::units::{Celsius, Fahrenheit};
use std::io::Read;
use std::str;

/// Nanoseconds since 1970 fit.
const LARGEST_TIME: f64 = 1e19;

/// The rows of a file. Lines that start with `#` are comments, the first other line is the header.
pub struct Rows<R> {
    pub header: ByteRecord,
    /// Its line in the file.
    pub header_line: u64,
    reader: csv::Reader<R>,
    row: ByteRecord,
}

impl<R: Read> Rows<R> {
    /// # Errors
    /// If the file cannot be read.
    pub fn of(source: R) -> csv::Result<Self> {
        let mut reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .comment(Some(b'#'))
            .trim(csv::Trim::All)
            // The reader would also end a line at a carriage return, and then count lines differently.
            // Trimming removes it.
            .terminator(csv::Terminator::Any(b'\n'))
            .from_reader(source);
        let mut header = ByteRecord::new();
        while reader.read_byte_record(&mut header)? && is_blank(&header) {}
        let header_line = line_behind(&reader);
        Ok(Self { header, header_line, reader, row: ByteRecord::new() })
    }

    /// The next one that is not blank, and its line in the file.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn next_row(&mut self) -> csv::Result<Option<(u64, &ByteRecord)>> {
        while self.reader.read_byte_record(&mut self.row)? {
            if !is_blank(&self.row) {
                return Ok(Some((line_behind(&self.reader), &self.row)));
            }
        }
        Ok(None)
    }
}

/// The line of the row that was read last.
fn line_behind<R: Read>(reader: &csv::Reader<R>) -> u64 {
    // The reader stands behind the row, so on the next line, unless the file ends without one.
    reader.position().line() - u64::from(!reader.is_done())
}

/// Where each name stands in the header, or everything that is wrong with it.
pub fn find_columns(header: &ByteRecord, names: &[&str]) -> Result<Vec<usize>, String> {
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
        return Err("there is no header in it".to_string());
    }
    let there: Vec<String> = (0..header.len()).map(|column| text(header, column)).collect();
    Err(format!("{}; its columns are: {}", wrong.join("; "), there.join(", ")))
}

/// A time later than the last.
pub fn time_of(row: &ByteRecord, header: &ByteRecord, column: usize, last: f64) -> Result<f64, Reason> {
    if row.len() != header.len() {
        // A cell may be cut short as well as missing: nothing in the row can be trusted.
        return Err(Reason::CellCount);
    }
    let time = number_within(&row[column], LARGEST_TIME)?;
    if time > last { Ok(time) } else { Err(Reason::NotLater) }
}

pub fn number(cell: &[u8]) -> Result<f64, Reason> {
    if cell.is_empty() {
        return Err(Reason::Missing);
    }
    let text = str::from_utf8(cell).map_err(|_| Reason::NotANumber)?;
    let number: f64 = text.parse().map_err(|_| Reason::NotANumber)?;
    if number.is_finite() { Ok(number) } else { Err(Reason::NotFinite) }
}

/// A number that is not absurd: of those, figures and pictures make no sense.
pub fn number_within(cell: &[u8], largest: f64) -> Result<f64, Reason> {
    let number = number(cell)?;
    if number.abs() <= largest { Ok(number) } else { Err(Reason::TooLarge) }
}

pub fn code(cell: &[u8]) -> Result<i32, Reason> {
    let code = number(cell)?;
    if code.fract() != 0.0 {
        return Err(Reason::NotWhole);
    }
    if code < f64::from(i32::MIN) || code > f64::from(i32::MAX) {
        return Err(Reason::CodeTooLarge);
    }
    Ok(code as i32)
}

pub fn temperature(cell: &[u8], unit: Scale) -> Result<Temperature, Reason> {
    let degrees = number(cell)?;
    let celsius = match unit {
        Scale::Celsius => Celsius(degrees),
        Scale::Fahrenheit => Fahrenheit(degrees).celsius(),
    };
    Temperature::from_celsius(celsius).map_err(|_| Reason::TemperatureTooLarge)
}

/// Temperature of a raw sensor, and whether what is beside it is in order. Where that is not, the first is of no use.
pub fn sensed(
    row: &ByteRecord,
    sensor: &Sensor,
    column: usize,
    beside: Option<usize>,
) -> (Result<Temperature, Reason>, Result<(), Reason>) {
    let nowhere = Temperature::from_bits(0);
    let reading = number(&row[column]);
    let beside = beside.map(|column| number(&row[column])).transpose();
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

pub fn text(row: &ByteRecord, column: usize) -> String {
    String::from_utf8_lossy(row.get(column).unwrap_or_default()).into_owned()
}
