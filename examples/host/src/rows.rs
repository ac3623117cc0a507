//! A CSV file row by row, and its cells as numbers.

use crate::channel_file::Scale;
use crate::rejected::Reason;
use crate::sensor::{Fault, Sensor};
use crate::setup::Thermometer;
use csv::ByteRecord;
use gaugewright::fixed::Temperature;
use gaugewright::units::{Celsius, Fahrenheit};
use std::io::{self, BufRead, BufReader, Read};
use std::str;

/// Nanoseconds since 1970 fit.
const LARGEST_TIME: f64 = 1e19;

/// The rows of a file. Lines that start with `#` are comments, the first other line is the header. A quoted cell ends with its
/// line: a stray quote costs its own row and no other.
pub struct Rows<R: Read> {
    pub header: ByteRecord,
    /// Its line in the file.
    pub header_line: u64,
    /// Read yet, without what is only in the buffer.
    pub bytes: u64,
    /// The same of lines.
    pub lines: u64,
    source: BufReader<R>,
    line: Vec<u8>,
    row: ByteRecord,
}

impl<R: Read> Rows<R> {
    /// # Errors
    /// If the file cannot be read.
    pub fn of(source: R) -> io::Result<Self> {
        let mut rows = Self::below(source);
        if rows.source.fill_buf()?.starts_with(BYTE_ORDER_MARK) {
            rows.source.consume(BYTE_ORDER_MARK.len());
            rows.bytes += BYTE_ORDER_MARK.len() as u64;
        }
        while rows.read_row()? && is_blank(&rows.row) {}
        rows.header = std::mem::take(&mut rows.row);
        // Where there is none, it would be behind the last line.
        rows.header_line = rows.lines + u64::from(rows.line.is_empty());
        Ok(rows)
    }

    /// The rows of lines that stand below the header of a file.
    pub fn below(source: R) -> Self {
        let (header, row) = (ByteRecord::new(), ByteRecord::new());
        let source = BufReader::new(source);
        Self { header, header_line: 0, bytes: 0, lines: 0, source, line: Vec::new(), row }
    }

    /// The next one that is not blank, and its line in the file, or below the header.
    ///
    /// # Errors
    /// If the file cannot be read.
    pub fn next_row(&mut self) -> io::Result<Option<(u64, &ByteRecord)>> {
        while self.read_row()? {
            if !is_blank(&self.row) {
                return Ok(Some((self.lines, &self.row)));
            }
        }
        Ok(None)
    }

    /// Whether there is one more line that is no comment.
    fn read_row(&mut self) -> io::Result<bool> {
        self.row.clear();
        loop {
            self.line.clear();
            if self.source.read_until(b'\n', &mut self.line)? == 0 {
                return Ok(false);
            }
            self.bytes += self.line.len() as u64;
            self.lines += 1;
            if !self.line.starts_with(b"#") {
                split(&mut self.line, &mut self.row)?;
                return Ok(true);
            }
        }
    }
}

const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// The cells of a line, without the blanks around them.
fn split(line: &mut Vec<u8>, row: &mut ByteRecord) -> io::Result<()> {
    let text = line.strip_suffix(b"\n").unwrap_or(line);
    if text.contains(&b'"') {
        return split_quoted(line, row);
    }
    text.split(|&byte| byte == b',').for_each(|cell| row.push_field(cell.trim_ascii()));
    Ok(())
}

/// The same of a line with quotes, which the package reads. One that is left open is closed at the end of the line.
fn split_quoted(line: &mut Vec<u8>, row: &mut ByteRecord) -> io::Result<()> {
    let end = line.iter().rposition(|byte| !b"\r\n".contains(byte)).map_or(0, |last| last + 1);
    line.truncate(end);
    if line.iter().filter(|&&byte| byte == b'"').count() % 2 == 1 {
        line.push(b'"');
    }
    let mut reader = csv::ReaderBuilder::new();
    reader.has_headers(false).flexible(true).trim(csv::Trim::All).terminator(csv::Terminator::Any(b'\n'));
    reader.from_reader(line.as_slice()).read_byte_record(row)?;
    Ok(())
}

/// What the first lines of a file look like, where that is not what is read here: numbers with a decimal point in cells that
/// commas separate, below a header, in UTF-8. So that it is told once and not for each row.
///
/// # Errors
/// What the file looks like, and what is expected.
pub fn look(start: &[u8], time_column: &str) -> Result<(), String> {
    let nothing = start.iter().filter(|&&byte| byte == 0).count();
    if start.starts_with(b"\xff\xfe") || start.starts_with(b"\xfe\xff") || nothing > start.len() / 4 {
        return Err("it looks like UTF-16; expected: UTF-8 (or ASCII)".to_string());
    }
    let text = String::from_utf8_lossy(start.strip_prefix(b"\xef\xbb\xbf").unwrap_or(start));
    let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'));
    let (Some(header), first) = (lines.next(), lines.next().unwrap_or_default()) else { return Ok(()) };
    if header.starts_with('[') || header.contains(" = ") {
        return Err(
            "it looks like a channel file (TOML); expected: the channel file first, then the CSV".to_string()
        );
    }
    for (separator, name) in [(';', "semicolons"), ('\t', "tabs")] {
        if header.contains(separator) && !header.contains(',') {
            return Err(format!(
                "its cells look separated by {name}; expected: commas, and numbers with a decimal point"
            ));
        }
    }
    let cells = |line: &str| -> Vec<String> {
        line.split(',').map(|cell| cell.trim().trim_matches('"').to_string()).collect()
    };
    let is_number = |cell: &String| cell.parse::<f64>().is_ok();
    let (names, first_cells) = (cells(header), cells(first));
    if names.iter().all(is_number) {
        return Err("it has no header: its first line is numbers; expected: the names of the columns first"
            .to_string());
    }
    let halves = first_cells.iter().all(|cell| cell.parse::<i64>().is_ok());
    if first_cells.len() > names.len() && (first.contains('"') || halves) {
        return Err("its numbers look as if they had decimal commas; expected: decimal points".to_string());
    }
    let time = names.iter().position(|name| name == time_column).and_then(|column| first_cells.get(column));
    let is_date =
        |cell: &String| cell.len() >= 10 && cell.as_bytes()[4] == b'-' && cell.as_bytes()[7] == b'-';
    if let Some(time) = time.filter(|time| !is_number(time) && is_date(time)) {
        return Err(format!(
            "its times look like dates ({time:?}); expected: a number that rises, as seconds since the start"
        ));
    }
    Ok(())
}

/// [`look`] at a file.
///
/// # Errors
/// As there, and if the file cannot be read.
pub fn look_at(path: &std::path::Path, time_column: &str) -> Result<(), String> {
    let mut start = Vec::new();
    let file = std::fs::File::open(path).map_err(|error| error.to_string())?;
    file.take(1 << 16).read_to_end(&mut start).map_err(|error| error.to_string())?;
    look(&start, time_column)
}

/// Which of these times rise: as many as can, so that a single absurd one, not those around it, is left out. Those that are
/// not numbers are none.
pub fn rising(times: &[f64]) -> Vec<bool> {
    const NONE: usize = usize::MAX;
    // The last time of the best row of each length yet, and what comes before each in its row.
    let mut ends: Vec<usize> = Vec::new();
    let mut before = vec![NONE; times.len()];
    for (at, time) in times.iter().enumerate().filter(|(_, time)| !time.is_nan()) {
        let place = ends.partition_point(|&end| times[end] < *time);
        before[at] = if place == 0 { NONE } else { ends[place - 1] };
        match ends.get_mut(place) {
            // Of equal times the first stays.
            Some(end) if times[*end] > *time => *end = at,
            Some(_) => {}
            None => ends.push(at),
        }
    }
    let mut rising = vec![false; times.len()];
    let mut at = ends.last().copied().unwrap_or(NONE);
    while at != NONE {
        rising[at] = true;
        at = before[at];
    }
    rising
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

/// The time of a row that may be used: one that is not in order may not.
///
/// # Errors
/// Why not.
pub fn time_in_order(
    row: &ByteRecord,
    header: &ByteRecord,
    column: usize,
    is_in_order: bool,
) -> Result<f64, Reason> {
    time_of(row, header, column).and_then(|time| if is_in_order { Ok(time) } else { Err(Reason::NotLater) })
}

/// The time of a row.
pub fn time_of(row: &ByteRecord, header: &ByteRecord, column: usize) -> Result<f64, Reason> {
    if row.len() != header.len() {
        // A cell may be cut short as well as missing: nothing in the row can be trusted.
        return Err(Reason::CellCount);
    }
    number_within(&row[column], LARGEST_TIME)
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

/// Temperature of a gauge, and whether what is beside it is in order.
pub fn gauge_temperature(
    row: &ByteRecord,
    thermometer: &Thermometer,
    unit: Scale,
    column: usize,
    beside: Option<usize>,
) -> (Result<Temperature, Reason>, Result<(), Reason>) {
    match thermometer {
        Thermometer::Column(_) => (temperature(&row[column], unit), Ok(())),
        Thermometer::Sensor(sensor) => sensed(row, sensor, column, beside),
    }
}

/// Temperature of a raw sensor, and whether what is beside it is in order. Where that is not, the first is of no use.
fn sensed(
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

#[cfg(test)]
mod tests {
    use super::*;

    /// Sampled: lines of the characters that matter, with an even number of quotes and none that takes the next line too.
    #[test]
    fn cells_are_those_of_the_csv_package() {
        let mut state = 1_u32;
        let mut random = |below: u32| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 8) % below
        };
        let mut found = [0; 2];
        for _ in 0..20_000 {
            let letters = b"ab12,,,\"\" \t\r#";
            let line: Vec<u8> =
                (0..random(14)).map(|_| letters[random(letters.len() as u32) as usize]).collect();
            if line.iter().filter(|&&byte| byte == b'"').count() % 2 == 1 {
                continue;
            }
            let mut reader = csv::ReaderBuilder::new()
                .has_headers(false)
                .flexible(true)
                .trim(csv::Trim::All)
                .terminator(csv::Terminator::Any(b'\n'))
                .from_reader(io::Cursor::new([&line, b"\nx,next\n".as_slice()].concat()));
            let records: Vec<ByteRecord> = reader.byte_records().map(Result::unwrap).collect();
            let [expected, next] = records.as_slice() else { continue };
            if next.len() != 2 {
                continue;
            }
            let mut row = ByteRecord::new();
            split(&mut [&line, b"\n".as_slice()].concat(), &mut row).unwrap();
            assert_eq!(row, *expected, "{:?}", String::from_utf8_lossy(&line));
            found[usize::from(line.contains(&b'"'))] += 1;
        }
        assert!(found.iter().all(|&lines| lines > 2_000), "{found:?}");
    }

    #[test]
    fn an_open_quote_ends_with_its_line() {
        for (line, cells) in [
            ("1,\"2,3\n", ["1", "2,3"].as_slice()),
            ("1,\"2 \r\n", &["1", "2"]),
            ("5\" pipe,2\n", &["5\" pipe", "2\""]),
            ("5\" pipe,\"2,3\n", &["5\" pipe", "2,3"]),
            ("\"", &[""]),
        ] {
            let mut row = ByteRecord::new();
            split(&mut line.into(), &mut row).unwrap();
            assert_eq!(row, cells.to_vec(), "{line}");
        }
    }
}
