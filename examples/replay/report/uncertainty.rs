//! How well the strain of a channel is known: what was stated, and what it makes of the row where the uncertainty is largest.

use gaugewright::uncertainty::{Budget, Input};
use gaugewright::units::{Celsius, Microstrain};
use host::figures::Uncertainties;
use host::setup::{Channel, Uncertainty};
use host::uncertainty::{COVERAGE, StatedInput};
use std::fmt::{self, Formatter};

/// For what is not stated.
pub const NOT_STATED: &str = "not stated: taken as exact";

/// The paragraph of a channel whose file states uncertainties; `time` is the heading of times.
pub fn write(
    f: &mut Formatter<'_>,
    channel: &Channel,
    uncertainty: &Uncertainty,
    found: Option<&Uncertainties>,
    time: &str,
) -> fmt::Result {
    writeln!(f, "\n  uncertainty of mechanical strain (GUM, first order)")?;
    let budget = found.and_then(|found| {
        let at =
            found.moment.temperature.celsius().0.clamp(channel.temperatures.0.0, channel.temperatures.1.0);
        let strain = Microstrain(found.moment.corrected.mechanical);
        uncertainty.stated.uncertainties.budget(strain, Celsius(at)).ok()
    });
    if let Some(found) = found {
        let (moment, at) = (&found.moment, found.moment.temperature.celsius().0);
        writeln!(
            f,
            "  largest in row {}: {time} {}, {at:.2} C, {:.2} microstrain; its budget:",
            found.row, moment.time, moment.corrected.mechanical
        )?;
    }
    row(f, "input", "standard uncertainty", &["microstrain", "share"])?;
    for stated in &uncertainty.stated.inputs {
        let part = (stated.name, stated.input, stated.part);
        input(f, part, &words(stated), budget.as_ref())?;
    }
    for (proven, limit) in
        [(Input::Kernel, uncertainty.error_limit.0), (Input::Circuit, channel.circuit_error.0)]
    {
        let part = (proven.name(), proven, 1.0);
        input(f, part, &format!("within {limit:.2} nanostrain: proven"), budget.as_ref())?;
    }
    let (Some(found), Some(budget)) = (found, budget) else { return Ok(()) };
    row(f, "combined", "", &[&format!("{:.4}", found.largest.standard)])?;
    let factor = found.largest.expanded / found.largest.standard;
    let degrees = match budget.effective_degrees_of_freedom() {
        degrees if degrees.is_finite() => format!("{:.0}", degrees.floor()),
        _ => "infinite".to_string(),
    };
    let times = format!("{factor:.3} times; degrees of freedom: {degrees}");
    row(f, &format!("expanded, {}", COVERAGE), &times, &[&format!("{:.4}", found.largest.expanded)])?;
    row(f, "smallest of all rows", "", &[&format!("{:.4}", found.least)])?;
    if found.known > 0 {
        let share = 100.0 * found.within as f64 / found.known as f64;
        let of = format!("{} of {} samples: {share:.1} %", found.within, found.known);
        row(f, "true strain within it", &of, &[])?;
    }
    Ok(())
}

/// What the file says of an input.
fn words(stated: &StatedInput) -> String {
    let StatedInput { input, value, unit, degrees_of_freedom, .. } = stated;
    let Some(value) = value else { return NOT_STATED.to_string() };
    // As many digits as are worth it: one that is computed has more.
    let value = format!("{value:.4}");
    let limit = if *input == Input::Quantisation { "within " } else { "" };
    let mut words = format!("{limit}{} {unit}", value.trim_end_matches('0').trim_end_matches('.'));
    if let Some(degrees) = degrees_of_freedom {
        words += &format!(", {degrees} degrees of freedom");
    }
    words.trim_end().to_string()
}

/// With what it contributes, if it does: a part of the input's standard uncertainty.
fn input(
    f: &mut Formatter<'_>,
    (name, input, of_input): (&str, Input, f64),
    words: &str,
    budget: Option<&Budget>,
) -> fmt::Result {
    match budget.map(|budget| budget.contribution(input)) {
        Some(part) if words != NOT_STATED => {
            let uncertainty = part.uncertainty.0 * of_input;
            let share = part.share.0 * of_input * of_input;
            let numbers = [format!("{uncertainty:.4}"), format!("{share:.1} %")];
            row(f, name, words, &[&numbers[0], &numbers[1]])
        }
        _ => row(f, name, words, &[]),
    }
}

/// Without blanks at its end.
fn row(f: &mut Formatter<'_>, name: &str, words: &str, numbers: &[&str]) -> fmt::Result {
    let mut line = format!("  {name:<26}{words:<42}");
    for (number, width) in numbers.iter().zip([12, 10]) {
        line += &format!("{number:>width$}");
    }
    writeln!(f, "{}", line.trim_end())
}
