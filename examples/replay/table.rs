//! `corrected.csv`: every row and every channel, so that nothing is dropped in silence.

use host::results::Results;
use host::samples::Samples;
use host::setup::Channel;
use std::error::Error;
use std::path::Path;

/// # Errors
/// If the file cannot be written.
pub fn write(
    path: &Path,
    time_column: &str,
    samples: &Samples,
    channels: &[(&Channel, &Results)],
) -> Result<(), Box<dyn Error>> {
    let mut file = csv::Writer::from_path(path)?;
    file.write_field(time_column)?;
    for (channel, _) in channels {
        let second = channel.compensating.as_ref().map(|_| "compensating_temperature_c");
        for column in ["temperature_c"].into_iter().chain(second).chain([
            "indicated_microstrain",
            "thermal_output_microstrain",
            "mechanical_microstrain",
            "flags",
        ]) {
            file.write_field(format!("{}_{column}", channel.name))?;
        }
    }
    file.write_record(None::<&[u8]>)?;
    for row in 0..samples.times.len() {
        match samples.times_as_written.get(&row) {
            Some(text) => file.write_field(text)?,
            None => file.write_field(samples.times[row].to_string())?,
        }
        for (_, results) in channels {
            for cell in cells(results, row) {
                file.write_field(cell)?;
            }
        }
        file.write_record(None::<&[u8]>)?;
    }
    Ok(file.flush()?)
}

/// One temperature or two, three strains, flags.
fn cells(results: &Results, row: usize) -> Vec<String> {
    let series = results.series;
    let second = series.compensating.get(row);
    let temperatures = [&series.temperatures[row]].into_iter().chain(second);
    if let Some(corrected) = results.row(row) {
        let numbers = temperatures.map(|temperature| temperature.celsius().0).chain([
            corrected.indicated,
            corrected.thermal_output,
            corrected.mechanical,
        ]);
        let flags = if corrected.flags.is_clear() { String::new() } else { corrected.flags.to_string() };
        numbers.map(decimals).chain([flags]).collect()
    } else {
        let reason = series.reasons.get(&row).map(|reason| format!("rejected: {reason}"));
        let empty = temperatures.count() + 3;
        (0..empty).map(|_| String::new()).chain([reason.unwrap_or_default()]).collect()
    }
}

/// Four of them: a tenth of a nanostrain.
fn decimals(value: f64) -> String {
    let text = format!("{value:.4}");
    // A value that rounds to zero from below would keep its sign.
    if text == "-0.0000" { text[1..].to_string() } else { text }
}

#[cfg(test)]
mod tests {
    use super::decimals;

    #[test]
    fn zero_has_no_sign() {
        assert_eq!(decimals(-0.00004), "0.0000");
        assert_eq!(decimals(-0.00006), "-0.0001");
    }
}
