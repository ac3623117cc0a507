//! `corrected.csv`: every row and every channel, so that nothing is dropped in silence.

use crate::rosette::{self, Rosette};
use host::results::Results;
use host::samples::Samples;
use host::setup::Channel;
use std::error::Error;
use std::io::Write;

/// The header.
///
/// # Errors
/// None: it goes nowhere but to memory.
pub fn header(
    time_column: &str,
    channels: &[Channel],
    rosettes: &[Rosette],
) -> Result<Vec<u8>, Box<dyn Error>> {
    let mut file = csv::Writer::from_writer(Vec::new());
    file.write_field(time_column)?;
    for channel in channels {
        let second = channel.compensating.as_ref().map(|_| "compensating_temperature_c");
        let strains = ["indicated_microstrain", "thermal_output_microstrain", "mechanical_microstrain"];
        let of_uncertainty = ["standard_uncertainty_microstrain", "expanded_uncertainty_microstrain"];
        let uncertainty = channel.uncertainty.iter().flat_map(|_| of_uncertainty);
        let columns = ["temperature_c"].into_iter().chain(second).chain(strains).chain(uncertainty);
        for column in columns.chain(["flags"]) {
            file.write_field(format!("{}_{column}", channel.name))?;
        }
    }
    for rosette in rosettes {
        for column in rosette.columns() {
            file.write_field(format!("{}_{column}", rosette.name))?;
        }
    }
    file.write_record(None::<&[u8]>)?;
    Ok(file.into_inner()?)
}

/// The rows of a block; those of each rosette beside it.
pub fn rows(
    samples: &Samples,
    channels: &[Channel],
    results: &[Results],
    rosettes: &[(&Rosette, Vec<rosette::Row>)],
) -> Vec<u8> {
    let mut text = Vec::new();
    for (row, time) in samples.times.iter().enumerate() {
        match samples.times_as_written.get(&row) {
            Some(written) => push_text(&mut text, written),
            None => push(&mut text, format_args!("{time}")),
        }
        for (channel, results) in channels.iter().zip(results) {
            push_cells(&mut text, channel.uncertainty.is_some(), results, row);
        }
        for (rosette, rows) in rosettes {
            rosette.push_cells(&mut text, &rows[row]);
        }
        text.push(b'\n');
    }
    text
}

/// One temperature or two, three strains, two uncertainties if they are stated, flags; a comma before each. The uncertainties of a row
/// with a flag are empty: nothing says how far a value at the end of a range is off.
fn push_cells(text: &mut Vec<u8>, has_uncertainty: bool, results: &Results, row: usize) {
    let series = &results.series;
    let second = series.compensating.get(row);
    let temperatures = [&series.temperatures[row]].into_iter().chain(second);
    if let Some(corrected) = results.row(row) {
        for temperature in temperatures {
            push_decimals(text, temperature.celsius().0);
        }
        for strain in [corrected.indicated, corrected.thermal_output, corrected.mechanical] {
            push_decimals(text, strain);
        }
        match results.uncertainty(row) {
            Some(uncertainty) => {
                push_decimals(text, uncertainty.standard);
                push_decimals(text, uncertainty.expanded);
            }
            None if has_uncertainty => text.extend(*b",,"),
            None => {}
        }
        text.push(b',');
        if !corrected.flags.is_clear() {
            push_text(text, &corrected.flags.to_string());
        }
    } else {
        text.extend(temperatures.map(|_| b',').chain(*b",,,,"));
        if has_uncertainty {
            text.extend(*b",,");
        }
        if let Some(reason) = series.reasons.get(&row) {
            push_text(text, &format!("rejected: {reason}"));
        }
    }
}

/// A comma, and the value with four decimals: a tenth of a nanostrain. The same digits as the formatter's, in a tenth of its time:
/// it was most of what a long record took.
pub fn push_decimals(text: &mut Vec<u8>, value: f64) {
    let magnitude = value.abs();
    // Here the part behind the point is a whole number of 2^-64, so that it is exact. What is smaller or larger is rare.
    if magnitude == 0.0 || (1e-3..1e9).contains(&magnitude) {
        const UNITS: f64 = 18_446_744_073_709_551_616.0;
        let whole = magnitude as u64;
        let part = ((magnitude - whole as f64) * UNITS) as u64;
        let scaled = u128::from(part) * 10_000;
        let (decimals, rest) = ((scaled >> 64) as u64, scaled as u64);
        // Which neighbour a tie goes to is the formatter's to say.
        if rest != 1 << 63 {
            push_digits(text, value < 0.0, whole * 10_000 + decimals + u64::from(rest > 1 << 63));
            return;
        }
    }
    let start = text.len();
    push(text, format_args!(",{value:.4}"));
    // A value that rounds to zero from below would keep its sign.
    if &text[start..] == b",-0.0000" {
        text.remove(start + 1);
    }
}

/// A comma, and so many ten-thousandths.
fn push_digits(text: &mut Vec<u8>, is_negative: bool, mut number: u64) {
    // From the last digit on.
    let mut digits = [b','; 24];
    let mut place = digits.len();
    let mut count = 0;
    while number > 0 || count < 5 {
        if count == 4 {
            place -= 1;
            digits[place] = b'.';
        }
        place -= 1;
        digits[place] = b'0' + (number % 10) as u8;
        number /= 10;
        count += 1;
    }
    if is_negative {
        place -= 1;
        digits[place] = b'-';
    }
    text.extend_from_slice(&digits[place - 1..]);
}

fn push(text: &mut Vec<u8>, what: std::fmt::Arguments) {
    // It has room for everything.
    let _ = text.write_fmt(what);
}

/// As a cell: in quotes where it has to be.
pub fn push_text(text: &mut Vec<u8>, cell: &str) {
    if cell.contains(['"', ',', '\r', '\n']) {
        push(text, format_args!("\"{}\"", cell.replace('"', "\"\"")));
    } else {
        text.extend(cell.bytes());
    }
}

#[cfg(test)]
mod tests {
    use super::{push_decimals, push_text};

    fn decimals(value: f64) -> String {
        let mut text = Vec::new();
        push_decimals(&mut text, value);
        String::from_utf8(text).unwrap()
    }

    #[test]
    fn zero_has_no_sign() {
        assert_eq!(decimals(-0.00004), ",0.0000");
        assert_eq!(decimals(-0.00006), ",-0.0001");
        assert_eq!(decimals(-0.0), ",0.0000");
    }

    /// Sampled: numbers of every size, strains of the format, ties and their neighbours.
    #[test]
    fn decimals_are_those_of_the_formatter() {
        let mut state = 1_u64;
        let mut random = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            state >> 11
        };
        for _ in 0..50_000 {
            let exponent = 10_f64.powi((random() % 18) as i32 - 6);
            let unit = random() as f64 * (-53_f64).exp2() - 0.5;
            // Odd multiples of 2^-5 have a five as their last, fifth decimal.
            let tie = (random() % 2_000_000) as f64 / 32.0 - 30_000.0;
            let strain = f64::from(random() as i32) / 17_179_869_184.0 * 1e6;
            for value in [unit * exponent, strain, tie, tie.next_up(), tie.next_down()] {
                let expected = format!("{value:.4}");
                let expected = if expected == "-0.0000" { "0.0000" } else { &expected };
                assert_eq!(decimals(value), format!(",{expected}"), "{value:e}");
            }
        }
        for value in [999_999_999.999_95, 1e9, 1e300, 0.001, 9.999_95, 0.999_95] {
            assert_eq!(decimals(value), format!(",{value:.4}"));
        }
    }

    #[test]
    fn texts_are_quoted_as_the_writer_would() {
        for cell in
            ["plain", "with, comma", "a \"quote\"", "# hash", " blank ", "two\nlines", "return\r", "\""]
        {
            let mut writer = csv::Writer::from_writer(Vec::new());
            writer.write_record(["0", cell]).unwrap();
            let mut text = b"0,".to_vec();
            push_text(&mut text, cell);
            text.push(b'\n');
            assert_eq!(text, writer.into_inner().unwrap(), "{cell:?}");
        }
    }
}
