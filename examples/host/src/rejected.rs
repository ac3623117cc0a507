//! Cells that cannot be used: all of them in a file of their own, the first few on the terminal.

use crate::rows::text;
use csv::ByteRecord;
use std::fmt;
use std::fs::File;
use std::io::Write;
use std::path::Path;

/// Why a cell, and with it the sample, was rejected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reason {
    Missing,
    NotANumber,
    NotFinite,
    TooLarge,
    NotWhole,
    NotWholeSteps,
    CodeTooLarge,
    AtRail,
    TemperatureTooLarge,
    /// The converter of a temperature sensor.
    SensorAtRail,
    /// What the library says of a sensor's reading.
    Sensor(gaugewright::Error),
    NotLater,
    CellCount,
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Sensor(error) => return error.fmt(f),
            Self::SensorAtRail => "at a rail of the sensor's converter, or beyond",
            Self::Missing => "missing",
            Self::NotANumber => "not a number",
            Self::NotFinite => "not finite",
            Self::TooLarge => "too large",
            Self::NotWhole => "not a whole number",
            Self::NotWholeSteps => "not a whole number of the instrument's steps",
            Self::CodeTooLarge => "beyond 32 bits",
            Self::AtRail => "at a rail of the converter, or beyond",
            Self::TemperatureTooLarge => "not within -2047 to 2047 C",
            Self::NotLater => "out of order: the times around it rise without it",
            Self::CellCount => "not as many cells as the header has",
        })
    }
}

/// One rejected cell.
pub struct Rejection {
    pub line: u64,
    pub column: String,
    pub cell: String,
    pub reason: Reason,
}

impl Rejection {
    /// Of a cell, or of the whole row where it has not as many as the header.
    pub fn of(line: u64, header: &ByteRecord, row: &ByteRecord, column: usize, reason: Reason) -> Self {
        let (column, cell) = match reason {
            Reason::CellCount => ("whole row".to_string(), format!("{} cells", row.len())),
            _ => (text(header, column), text(row, column)),
        };
        Self { line, column, cell, reason }
    }
}

/// All of them: counted, listed in a file, and some kept.
pub struct Rejected {
    pub count: usize,
    pub first: Vec<Rejection>,
    file: csv::Writer<Box<dyn Write>>,
}

impl Rejected {
    /// How many are kept.
    pub const SHOWN: usize = 20;

    /// # Errors
    /// If the file cannot be written.
    pub fn create(path: &Path) -> csv::Result<Self> {
        Self::into(Box::new(File::create(path)?))
    }

    /// # Errors
    /// If `file` cannot be written.
    pub fn into(file: Box<dyn Write>) -> csv::Result<Self> {
        let mut file = csv::Writer::from_writer(file);
        file.write_record(["line", "column", "problem", "cell"])?;
        Ok(Self { count: 0, first: Vec::new(), file })
    }

    /// # Errors
    /// If the file cannot be written.
    pub fn add(&mut self, rejection: Rejection) -> csv::Result<()> {
        let Rejection { line, column, cell, reason } = &rejection;
        self.file.write_record([&line.to_string(), column, &reason.to_string(), cell])?;
        self.count += 1;
        if self.first.len() < Self::SHOWN {
            self.first.push(rejection);
        }
        Ok(())
    }

    /// # Errors
    /// If the file cannot be written.
    pub fn flush(&mut self) -> std::io::Result<()> {
        self.file.flush()
    }
}

/// As `17: strut_code: not a number: "12a"`, to follow the name of the file and a colon.
impl fmt::Display for Rejection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        const SHOWN: usize = 40;
        write!(f, "{}: {}: {}", self.line, self.column, self.reason)?;
        if !self.cell.is_empty() {
            // A broken file can hold anything: no control characters on a terminal, and no end of them.
            let shown: String = self.cell.chars().take(SHOWN).collect();
            let more = if self.cell.chars().nth(SHOWN).is_some() { "..." } else { "" };
            write!(f, ": {shown:?}{more}")?;
        }
        Ok(())
    }
}
