//! The binary stream of the flight, made from the text of its CSV, so that both hold the same rows.
//!
//! A thermometer in Celsius counts in 2^-8 C, so its temperature is a whole number of the stream's steps of 2^-20 C and
//! nothing is rounded; a text with another temperature is refused. Raw readings of a sensor become a temperature in double
//! precision by the library, rounded to the nearest step.

use crate::simulation;
use crate::stream::Header;
use gaugewright::fixed::Temperature;
use gaugewright::temperature::{Platinum, SensorLeads, Thermocouple};
use gaugewright::units::{Celsius, Millivolts, Ohms};
use std::io::{self, BufRead, Error, ErrorKind};

/// Steps of the stream, 2^-20 C, in one of a thermometer, 2^-8 C.
const STEPS: i32 = 4_096;

/// The sensors of the flight.
const PLATINUM: Platinum = Platinum::iec60751(Ohms(100.0));
const THERMOCOUPLE: Thermocouple = Thermocouple::K;

/// A number of the stream, and the columns of the CSV that it is made of.
enum Number {
    Code(usize),
    Celsius(usize),
    /// Ohms of the sensor with two leads, ohms of these.
    PlatinumThreeWire(usize, usize),
    /// Millivolts, Celsius of the cold junction.
    Thermocouple(usize, usize),
}

/// A row of the CSV.
struct Row<'a> {
    line: usize,
    names: &'a [&'a str],
    cells: Vec<&'a str>,
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
    let numbers = numbers_of_a_row(&names)?;
    let mut stream = vec![0; Header::BYTES];
    let mut rows = 0;
    for (line, text) in lines {
        let text = text?;
        let row = Row { line, names: &names, cells: text.split(',').collect() };
        if row.cells.len() != names.len() {
            return Err(invalid(&format!("line {line}: {} cells, not {}", row.cells.len(), names.len())));
        }
        for number in &numbers {
            stream.extend(row.number(number)?.to_le_bytes());
        }
        rows += 1;
    }
    let header = Header {
        rows,
        bytes_per_row: 4 * numbers.len() as u32,
        // A whole number.
        rows_per_second: simulation::SAMPLE_RATE_HZ as u32,
    };
    stream[..Header::BYTES].copy_from_slice(&header.to_bytes());
    Ok(stream)
}

/// Through the channels, as the stream goes. A raw sensor comes before a column in Celsius.
fn numbers_of_a_row(names: &[&str]) -> io::Result<Vec<Number>> {
    let mut numbers = Vec::new();
    for channel in simulation::channels() {
        let of = |what: &str| {
            let name = format!("{channel}_{what}");
            names.iter().position(|column| *column == name)
        };
        let missing = || invalid(&format!("columns of {channel} are missing"));
        numbers.push(Number::Code(of("code").ok_or_else(missing)?));
        numbers.push(
            match (of("ohm").zip(of("pair_ohm")), of("millivolt").zip(of("cold_junction_celsius"))) {
                (Some((ohms, pair)), _) => Number::PlatinumThreeWire(ohms, pair),
                (None, Some((millivolts, cold))) => Number::Thermocouple(millivolts, cold),
                (None, None) => Number::Celsius(of("celsius").ok_or_else(missing)?),
            },
        );
        numbers.extend(of("block_celsius").map(Number::Celsius));
    }
    Ok(numbers)
}

impl Row<'_> {
    fn number(&self, number: &Number) -> io::Result<i32> {
        match *number {
            Number::Code(column) => self.cells[column].parse().map_err(|_| self.is_not("a code", column)),
            Number::Celsius(column) => Ok(self.thermometer(column)?.to_bits()),
            Number::PlatinumThreeWire(ohms, pair) => {
                let leads = SensorLeads::ThreeWire { pair: Ohms(self.decimal(pair)?) };
                let sensor = leads.sensor(Ohms(self.decimal(ohms)?));
                self.rounded(sensor.and_then(|sensor| PLATINUM.temperature(sensor)), ohms)
            }
            Number::Thermocouple(millivolts, cold) => {
                let cold = self.thermometer(cold)?.celsius();
                let measured = Millivolts(self.decimal(millivolts)?);
                self.rounded(THERMOCOUPLE.temperature_with_cold_junction(measured, cold), millivolts)
            }
        }
    }

    /// In range, and a whole number of a thermometer's steps.
    fn thermometer(&self, column: usize) -> io::Result<Temperature> {
        let expected = || self.is_not("a temperature in steps of 2^-8 C", column);
        let celsius = self.cells[column].parse().map_err(|_| expected())?;
        let steps = Temperature::from_celsius(Celsius(celsius)).map_err(|_| expected())?;
        if steps.celsius().0 != celsius || steps.to_bits() % STEPS != 0 {
            return Err(expected());
        }
        Ok(steps)
    }

    fn decimal(&self, column: usize) -> io::Result<f64> {
        self.cells[column].parse().map_err(|_| self.is_not("a number", column))
    }

    /// What the library made of a sensor's reading, in steps of the stream.
    fn rounded(&self, temperature: Result<Celsius, gaugewright::Error>, column: usize) -> io::Result<i32> {
        let steps = temperature.and_then(Temperature::from_celsius);
        let told = |error| invalid(&format!("line {}: {}: {error}", self.line, self.names[column]));
        Ok(steps.map_err(told)?.to_bits())
    }

    fn is_not(&self, expected: &str, column: usize) -> Error {
        let cell = self.cells[column];
        invalid(&format!("line {}: {}: not {expected}: {cell:?}", self.line, self.names[column]))
    }
}

fn invalid(text: &str) -> Error {
    Error::new(ErrorKind::InvalidData, text)
}
