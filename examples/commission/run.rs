//! The chamber run: CSV, a row a point; what cannot be used is kept apart and told.

use crate::bench::Bench;
use crate::job::{Job, RunSource};
use crate::sweep::sweeps;
use csv::ByteRecord;
use gaugewright::commissioning::fit::Direction;
use gaugewright::fixed::Temperature;
use gaugewright::units::{Celsius, Microstrain};
use host::rejected::{Reason, Rejected, Rejection};
use host::rows::{
    Rows, code, find_columns, gauge_temperature, look_at, number_within, rising, time_in_order, time_of,
};
use host::setup::Columns;
use indicatif::{ProgressBar, ProgressStyle};
use std::fs::File;
use std::path::Path;

/// More of it than a fit takes.
const LARGEST_STRAIN: f64 = 1e6;

/// What was read after one dwell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// In the file.
    pub line: u64,
    pub time: f64,
    pub temperature: Celsius,
    /// Indicated strain of the unloaded part.
    pub reading: Microstrain,
    /// By a load; zero in a run of the unloaded part.
    pub applied: Microstrain,
    pub sweep: Direction,
}

/// What load a run is read with.
pub enum Load {
    None,
    /// A column of strains in microstrain.
    Column(String),
    /// The same, of a run that may have no such column.
    ColumnIfThere(String),
    /// This strain in every row.
    All(Microstrain),
}

/// What the run gives for strain.
#[derive(Clone, Copy)]
pub enum Value {
    Strain(Microstrain),
    Code(f64),
}

/// Columns of the cells of a point.
struct CellColumns {
    time: usize,
    value: usize,
    temperature: usize,
    beside: Option<usize>,
    applied: Option<usize>,
}

/// Reads the file at `path`.
///
/// # Errors
/// With the line, if the file cannot be read, lacks columns or has no row that can be used.
pub fn read(
    path: &Path,
    job: &Job,
    bench: &Bench,
    load: &Load,
    rejected: &mut Rejected,
) -> Result<Vec<Point>, String> {
    let columns = &bench.columns;
    let name = path.display();
    let of_file = |error: &dyn std::fmt::Display| format!("{name}: {error}");
    look_at(path, &job.time_column).map_err(|error| of_file(&error))?;
    let file = File::open(path).map_err(|error| of_file(&error))?;
    let bytes = file.metadata().map_err(|error| of_file(&error))?.len();
    let progress = ProgressBar::new(bytes); // shows itself on a terminal only
    if let Ok(style) =
        ProgressStyle::with_template("reading the run {bar:40} {bytes} of {total_bytes}, {eta} left")
    {
        progress.set_style(style);
    }
    let mut rows = Rows::of(progress.wrap_read(file)).map_err(|error| of_file(&error))?;
    let header = rows.header.clone();
    let here = |error| format!("{name}:{}: {error}", rows.header_line);
    let at = cell_columns(&header, job, columns, load).map_err(here)?;
    let mut points: Vec<Point> = Vec::new();
    let mut times = Vec::new();
    while let Some((_, row)) = rows.next_row().map_err(|error| of_file(&error))? {
        times.push(time_of(row, &header, at.time).unwrap_or(f64::NAN));
    }
    let mut in_order = rising(&times).into_iter();
    let again = File::open(path).map_err(|error| of_file(&error))?;
    let mut rows = Rows::of(again).map_err(|error| of_file(&error))?;
    while let Some((line, row)) = rows.next_row().map_err(|error| of_file(&error))? {
        let mut problems = Vec::new();
        let is_in_order = in_order.next() == Some(true);
        match time_in_order(row, &header, at.time, is_in_order) {
            Ok(time) => {
                let (temperature, value) = cells(row, job, bench, &at, &mut problems);
                let applied = match (load, at.applied) {
                    (Load::All(strain), _) => Some(strain.0),
                    (_, None) => Some(0.0),
                    (_, Some(column)) => match number_within(&row[column], LARGEST_STRAIN) {
                        Ok(strain) => Some(strain),
                        Err(reason) => {
                            problems.push((column, reason));
                            None
                        }
                    },
                };
                if let (Some(temperature), Some(value), Some(applied)) = (temperature, value, applied) {
                    let (reading, applied) = (bench.indicated(value), Microstrain(applied));
                    // Which way is known when all are read.
                    let sweep = Direction::Heating;
                    points.push(Point { line, time, temperature, reading, applied, sweep });
                }
            }
            Err(reason) => problems.push((at.time, reason)),
        }
        for (column, reason) in problems {
            let rejection = Rejection::of(line, &header, row, column, reason);
            rejected.add(rejection).map_err(|error| format!("rejected.csv: {error}"))?;
        }
    }
    progress.finish_and_clear();
    if points.is_empty() {
        return Err(of_file(&"there is no row in it that can be used"));
    }
    let temperatures: Vec<f64> = points.iter().map(|point| point.temperature.0).collect();
    points.iter_mut().zip(sweeps(&temperatures)).for_each(|(point, sweep)| point.sweep = sweep);
    Ok(points)
}

fn cell_columns(
    header: &ByteRecord,
    job: &Job,
    columns: &Columns,
    load: &Load,
) -> Result<CellColumns, String> {
    let value = match &job.run_source {
        RunSource::Strain(column, _) => column.as_str(),
        RunSource::OwnColumn => columns.value.as_str(),
    };
    let mut names = vec![job.time_column.as_str(), value];
    names.extend(columns.temperature.columns());
    let load = match load {
        Load::Column(name) => Some(name.as_str()),
        Load::ColumnIfThere(name) => header.iter().any(|it| it == name.as_bytes()).then_some(name.as_str()),
        Load::None | Load::All(_) => None,
    };
    names.extend(load);
    let mut found = find_columns(header, &names)?;
    let applied = load.and_then(|_| found.pop());
    Ok(CellColumns {
        time: found[0],
        value: found[1],
        temperature: found[2],
        beside: found.get(3).copied(),
        applied,
    })
}

/// Temperature and value of a row, or what is wrong with them.
fn cells(
    row: &ByteRecord,
    job: &Job,
    bench: &Bench,
    at: &CellColumns,
    problems: &mut Vec<(usize, Reason)>,
) -> (Option<Celsius>, Option<Value>) {
    let (thermometer, unit) = (&bench.columns.temperature, job.description.temperature_unit);
    let (sensor, beside) = gauge_temperature(row, thermometer, unit, at.temperature, at.beside);
    let own_step = job.description.instrument.as_ref().map(|shown| shown.step_microstrain);
    let value = match (&job.run_source, own_step) {
        (RunSource::Strain(..), _) => {
            number_within(&row[at.value], LARGEST_STRAIN).map(|strain| Value::Strain(Microstrain(strain)))
        }
        // A mean of readings need not be a whole number of steps.
        (RunSource::OwnColumn, Some(step)) => {
            number_within(&row[at.value], LARGEST_STRAIN).map(|strain| Value::Code(strain / step))
        }
        (RunSource::OwnColumn, None) => code(&row[at.value]).and_then(|code| {
            let code = f64::from(code);
            // An open or a shorted gauge, or too much for the converter.
            let at_rail = bench.rails.is_some_and(|(low, high)| code <= low || code >= high);
            if at_rail { Err(Reason::AtRail) } else { Ok(Value::Code(code)) }
        }),
    };
    problems.extend(sensor.err().map(|reason| (at.temperature, reason)));
    problems.extend(at.beside.zip(beside.err()));
    problems.extend(value.as_ref().err().map(|reason| (at.value, *reason)));
    let celsius = sensor.ok().filter(|_| beside.is_ok()).map(Temperature::celsius);
    (celsius, value.ok())
}
