//! The binary stream of the flight, made from the text of its CSV, so that both hold the same rows.
//!
//! The thermometers count in 2^-8 C, so every temperature is a whole number of the stream's steps of 2^-20 C and nothing
//! is rounded; a text with another temperature is refused.

use crate::simulation;
use crate::stream::Header;
use std::io::{self, BufRead, Error, ErrorKind};

/// Steps of 2^-20 C in one of a thermometer, 2^-8 C.
const STEPS: f64 = 4_096.0;
const STEPS_PER_DEGREE: f64 = 1_048_576.0;

/// In Celsius; so far the library takes temperatures, and an `i32` has room for a little more.
const LARGEST: f64 = 2_047.0;

/// How a cell of the CSV becomes a number of the stream.
#[derive(Clone, Copy)]
enum Kind {
    Code,
    Celsius,
}

/// The stream of the flight in `csv`, the text that `simulation::write_csv` makes.
///
/// # Errors
/// [`ErrorKind::InvalidData`] with line and column if the text is another, and those of reading it.
pub fn stream(csv: impl BufRead) -> io::Result<Vec<u8>> {
    let mut lines = (1..).zip(csv.lines());
    let header = loop {
        let Some((_, line)) = lines.next() else {
            return Err(invalid("there is no header in it"));
        };
        let line = line?;
        if !line.starts_with("# ") {
            break line;
        }
    };
    if header != simulation::header() {
        return Err(invalid("its columns are not those of the flight"));
    }
    let names: Vec<&str> = header.split(',').collect();
    // The header goes through the channels as the stream does.
    let kind = |name: &str| match name {
        _ if name.ends_with("_code") => Some(Kind::Code),
        _ if name.ends_with("_celsius") => Some(Kind::Celsius),
        _ => None,
    };
    let columns: Vec<(usize, Kind)> =
        (0..).zip(&names).filter_map(|(column, name)| Some((column, kind(name)?))).collect();
    let mut stream = vec![0; Header::BYTES];
    let mut rows = 0;
    for (number, line) in lines {
        let line = line?;
        let cells: Vec<&str> = line.split(',').collect();
        if cells.len() != names.len() {
            return Err(invalid(&format!("line {number}: {} cells, not {}", cells.len(), names.len())));
        }
        for &(column, kind) in &columns {
            let cell = cells[column];
            let value = match kind {
                Kind::Code => cell.parse().ok(),
                Kind::Celsius => temperature(cell),
            };
            let Some(value) = value else {
                let expected = match kind {
                    Kind::Code => "a code",
                    Kind::Celsius => "a temperature in steps of 2^-8 C",
                };
                return Err(invalid(&format!("line {number}: {}: not {expected}: {cell:?}", names[column])));
            };
            stream.extend(i32::to_le_bytes(value));
        }
        rows += 1;
    }
    let header = Header {
        rows,
        bytes_per_row: 4 * columns.len() as u32,
        // A whole number.
        rows_per_second: simulation::SAMPLE_RATE_HZ as u32,
    };
    stream[..Header::BYTES].copy_from_slice(&header.to_bytes());
    Ok(stream)
}

/// None unless it is a whole number of the thermometer's steps, and in range.
fn temperature(cell: &str) -> Option<i32> {
    let celsius: f64 = cell.parse().ok()?;
    // A product with a power of two is exact. Neither condition holds for what is not a number.
    let steps = celsius * STEPS_PER_DEGREE;
    (celsius.abs() <= LARGEST && steps % STEPS == 0.0).then_some(steps as i32)
}

fn invalid(text: &str) -> Error {
    Error::new(ErrorKind::InvalidData, text)
}
