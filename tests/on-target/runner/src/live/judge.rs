//! A report of the live logger against its scenario and the host's own arithmetic.

use gaugewright::fixed::{Kernel, Strain, Temperature};
use gaugewright::units::Celsius;

use super::Step;
use super::expected::{self, After};
use super::line::{Corrected, Counts, Line};
use firmware::live::channel::{ERROR_LIMIT, GAUGE, STATED_FOR, STRUT, THERMAL_OUTPUT};
use firmware::live::scenario::{REPORT_EVERY, code};

/// The two codes of the simulated load that reports fall on.
pub const LOADS: [i32; 2] = [code(0), code(REPORT_EVERY)];

static KERNEL: Kernel = STRUT.fixed_within(ERROR_LIMIT);

/// What a report in order comes to.
#[derive(Debug)]
pub struct Judged {
    pub totals: Counts,
    /// Strains that had the host's bits.
    pub strains: usize,
    /// The farthest that two temperatures' strains are from what thermal output says of them, in nanostrain.
    pub worst_difference: f64,
}

/// A run with the thermometer there, through these temperatures.
pub fn present(lines: &[String], steps: &[Step]) -> Result<Judged, String> {
    let (rows, totals) = in_step(lines, true)?;
    let corrected: Vec<&Corrected> = rows
        .iter()
        .map(|row| match row {
            Line::Corrected(line) => Ok(line),
            other => Err(format!("there was a temperature for {other:?}")),
        })
        .collect::<Result<_, _>>()?;
    for line in &corrected {
        has_the_bits_of_the_host(line)?;
    }
    follows(&corrected, steps)?;
    outside_is_counted(lines, totals.get("temperature_outside"))?;
    let worst_difference = thermal_output_between_temperatures(&corrected)?;
    Ok(Judged { totals, strains: corrected.len(), worst_difference })
}

/// A run without the thermometer: samples go on, and no strain is given.
pub fn absent(lines: &[String]) -> Result<Judged, String> {
    let (rows, totals) = in_step(lines, false)?;
    if let Some(row) = rows.iter().find(|row| !matches!(row, Line::Uncorrected { .. })) {
        return Err(format!("there was no temperature for {row:?}"));
    }
    same("temperature_outside", totals.get("temperature_outside"), 0)?;
    Ok(Judged { totals, strains: 0, worst_difference: 0.0 })
}

/// The reported samples, if each is there with the code, age and counts of the scenario; and the counts at the end.
fn in_step(lines: &[String], thermometer_is_there: bool) -> Result<(Vec<Line>, Counts), String> {
    let states = expected::run(thermometer_is_there);
    let reported = states.iter().filter(|state| state.sequence % REPORT_EVERY == 0);
    let mut lines = lines.iter().map(|text| Line::parse(text));
    let mut next = || lines.next().unwrap_or_else(|| Err("the report ends too early".into()));
    let mut rows = Vec::new();
    for state in reported {
        let row = next()?;
        sample_is_expected(&row, state).map_err(|error| format!("{error}: {row:?}"))?;
        match next()? {
            Line::SoFar(counts) => counts_are_expected(&counts, state)?,
            other => return Err(format!("counts were due: {other:?}")),
        }
        rows.push(row);
    }
    let last = states.last().ok_or("the scenario is empty")?;
    let totals = match next()? {
        Line::InAll(counts) => counts,
        other => return Err(format!("the counts at the end were due: {other:?}")),
    };
    counts_are_expected(&totals, last)?;
    if let Some(more) = lines.next() {
        return Err(format!("more after the end: {more:?}"));
    }
    Ok((rows, totals))
}

fn sample_is_expected(row: &Line, state: &After) -> Result<(), String> {
    match row {
        Line::Corrected(line) => {
            same("sequence", line.sequence, state.sequence)?;
            same("code", line.code, state.code)?;
            same("age", Some(line.age), state.age)?;
            same("stale", line.stale, state.stale)?;
            same("at_rail", line.flags.contains("code at rail"), state.at_rail)
        }
        Line::Uncorrected { sequence, code, at_rail } => {
            same("sequence", *sequence, state.sequence)?;
            same("code", *code, state.code)?;
            same("at_rail", *at_rail, state.at_rail)?;
            same("age", None, state.age)
        }
        _ => Err("a sample was due".into()),
    }
}

fn counts_are_expected(counts: &Counts, state: &After) -> Result<(), String> {
    let place = |error: String| format!("after sample {}: {error}", state.sequence);
    for (name, count) in state.counts {
        let found = counts.0.iter().find(|(known, _)| known == name).map(|&(_, count)| count);
        same(name, found, Some(count)).map_err(place)?;
    }
    Ok(())
}

fn has_the_bits_of_the_host(line: &Corrected) -> Result<(), String> {
    let point = KERNEL.at(Temperature::from_bits(i32::from(line.sixteenths) << 16));
    let reading = point.reading(line.code);
    let compare = || {
        same("strain's bits", line.bits, reading.strain.to_bits())?;
        same("nanostrain", line.nanostrain, reading.strain.nanostrain())?;
        same("flags", line.flags.as_str(), reading.flags.to_string().as_str())
    };
    compare().map_err(|error: String| format!("{error}: {line:?}"))
}

/// The temperatures that are reported are the steps, in their order, each with both loads.
fn follows(lines: &[&Corrected], steps: &[Step]) -> Result<(), String> {
    let mut shown: Vec<i16> = lines.iter().map(|line| line.sixteenths).collect();
    shown.dedup();
    same("sixteenths", shown, steps.iter().map(|step| step.shown).collect())?;
    for step in steps {
        for load in LOADS {
            if !lines.iter().any(|line| line.sixteenths == step.shown && line.code == load) {
                return Err(format!("code {load} was not reported at {} sixteenths", step.shown));
            }
        }
    }
    Ok(())
}

/// Temperature outside is counted for each sample between two that are reported with its flag, and for some.
fn outside_is_counted(lines: &[String], in_all: u32) -> Result<(), String> {
    let mut outside_before = None;
    let mut before = 0;
    let mut reported = lines.iter();
    while let (Some(sample), Some(counts)) = (reported.next(), reported.next()) {
        let (Line::Corrected(line), Line::SoFar(counts)) = (Line::parse(sample)?, Line::parse(counts)?)
        else {
            return Err(format!("a sample and counts were due: {sample}"));
        };
        let is_outside = line.flags.contains("temperature outside");
        let (samples, outside) = (counts.get("samples"), counts.get("temperature_outside"));
        match outside_before {
            Some((samples_before, outside_before)) if is_outside => {
                same("temperature outside", outside - outside_before, samples - samples_before)?;
            }
            _ => {}
        }
        if outside < before || (is_outside && outside == 0) {
            return Err(format!("temperature outside is not counted at {sample}"));
        }
        before = outside;
        outside_before = is_outside.then_some((samples, outside));
    }
    if in_all == 0 { Err("temperature outside was not seen".into()) } else { Ok(()) }
}

/// For one code the bridge's signal is one and the same, so that strain times gauge factor, and thermal output times the
/// gauge factor it is stated for, add up to one value at all temperatures. Computed from the package's own numbers;
/// how far strains are from that, in nanostrain.
pub fn thermal_output_between_temperatures(lines: &[&Corrected]) -> Result<f64, String> {
    // Each of the two strains is within the error limit, in its own gauge factor.
    let allowed = 2.0 * ERROR_LIMIT.0;
    let mut worst: f64 = 0.0;
    for load in LOADS {
        let clear = lines.iter().filter(|line| line.code == load && line.flags == "clear");
        let signals: Vec<(i16, f64, f64)> = clear
            .map(|line| {
                let temperature = Celsius(f64::from(line.sixteenths) / 16.0);
                let factor = GAUGE.gauge_factor_at(temperature).0;
                let strain = Strain::from_bits(line.bits).strain().0 * 1e9;
                let thermal_output = THERMAL_OUTPUT.at(temperature).0 * 1e3;
                (line.sixteenths, strain * factor + thermal_output * STATED_FOR.0, factor)
            })
            .collect();
        for one in &signals {
            for other in &signals {
                // Of one strain against the other, in the smaller factor.
                let apart = (one.1 - other.1).abs() / one.2.max(other.2);
                if apart > allowed {
                    let (one, other) = (one.0, other.0);
                    return Err(format!(
                        "code {load} at {one} and {other} sixteenths: {apart} nanostrain apart"
                    ));
                }
                worst = worst.max(apart);
            }
        }
    }
    Ok(worst)
}

fn same<T: PartialEq + std::fmt::Debug>(what: &str, found: T, expected: T) -> Result<(), String> {
    if found == expected { Ok(()) } else { Err(format!("{what} is {found:?}, has to be {expected:?}")) }
}
