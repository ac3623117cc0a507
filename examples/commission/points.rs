//! `points.csv`: every point of the run beside the curve.

use crate::fitted::Fitted;
use gaugewright::commissioning::fit::Direction;
use std::error::Error;
use std::path::Path;

/// # Errors
/// If the file cannot be written.
pub fn write(path: &Path, fitted: &Fitted) -> Result<(), Box<dyn Error>> {
    let mut file = csv::Writer::from_path(path)?;
    file.write_record([
        "line",
        "time",
        "temperature_c",
        "direction",
        "reading_microstrain",
        "curve_microstrain",
        "residual_microstrain",
    ])?;
    for point in &fitted.points {
        let residual = fitted.residual(point);
        file.write_record([
            point.line.to_string(),
            point.time.to_string(),
            point.temperature.0.to_string(),
            direction(point.sweep).to_string(),
            format!("{:.4}", point.reading.0),
            format!("{:.4}", point.reading.0 - residual),
            format!("{residual:.4}"),
        ])?;
    }
    Ok(file.flush()?)
}

fn direction(sweep: Direction) -> &'static str {
    match sweep {
        Direction::Heating => "rising",
        Direction::Cooling => "falling",
    }
}
