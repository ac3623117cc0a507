//! The part of the report that says how far a strain can be trusted.

use super::wrapped;
use crate::budget::{Budget, CONTRIBUTIONS, Inputs, NOT_STATED};
use crate::omission::{NEAR, NEGLIGIBLE, Omission, Worst};
use gaugewright::units::Percent;
use std::fmt::{Formatter, Result};

pub fn write(f: &mut Formatter<'_>, inputs: &Inputs, omissions: &[Omission]) -> Result {
    let stated = inputs.stated();
    writeln!(f, "\nuncertainty of mechanical strain (GUM, first order)")?;
    writeln!(f, "  what goes in, one standard deviation each")?;
    writeln!(f, "  reading        {:.3} microstrain ({})", stated.reading.0, stated.reading.1)?;
    writeln!(f, "  temperature    {:.3} C ({})", stated.temperature.0, stated.temperature.1)?;
    let percent = |stated: Option<f64>, unit| {
        stated.map_or_else(|| NOT_STATED.to_string(), |percent| format!("{percent} {unit}"))
    };
    let span = stated
        .span_percent
        .map_or_else(|| NOT_STATED.to_string(), |percent| format!("{percent:.3} % (the shunt)"));
    writeln!(f, "  span           {span}")?;
    writeln!(f, "  gauge factor   {}", percent(stated.gauge_factor_percent, "%"))?;
    let slope = match inputs.loaded {
        Some(_) => "from the loaded run".to_string(),
        None => percent(stated.slope_percent_per_100_c, "% per 100 C"),
    };
    writeln!(f, "  its slope      {slope}")?;
    // Budgets of temperatures that the channel declares, where all of it is known.
    let all = || [0.0, inputs.load()].into_iter().filter_map(|strain| inputs.three(strain).ok()).flatten();
    let budgets: Vec<Budget> = all().collect();
    writeln!(f, "\n  {:<24}{:>38}{:>36}", "microstrain", "without load", format!("at {}", inputs.load()))?;
    row(f, "at", budgets.iter().map(|budget| format!("{:.1} C", budget.celsius)))?;
    for (index, name) in CONTRIBUTIONS.into_iter().enumerate() {
        row(f, name, budgets.iter().map(|budget| format!("{:.3}", budget.contributions[index])))?;
    }
    row(f, "combined", budgets.iter().map(|budget| format!("{:.3}", budget.combined)))?;
    row(f, "coverage factor", budgets.iter().map(|budget| format!("{:.2}", budget.coverage_factor)))?;
    let Percent(coverage) = inputs.job.coverage;
    row(
        f,
        &format!("expanded, {coverage} %"),
        budgets.iter().map(|budget| format!("{:.2}", budget.expanded)),
    )?;
    let model = match inputs.loaded {
        // The points of a load have it in them.
        Some(_) => "",
        None => {
            "what the model leaves out (1e-4 of the reading near room temperature, up to 3e-3 a hundred degrees \
             from balance), "
        }
    };
    write!(f, "  ")?;
    let rest = "self-heating, drift and creep, and a thermometer that was wrong in the chamber.";
    wrapped(f, &format!("Not in it: {model}{rest}"), 2)?;

    writeln!(f, "\nwhat may be left out: its largest error, of strains up to {} microstrain", inputs.load())?;
    let (low, high) = inputs.commissioned.channel.temperatures();
    writeln!(
        f,
        "  {:<30}{:>34}{:>34}",
        "microstrain",
        format!("within {NEAR} C of balance"),
        format!("{} to {} C", low.0, high.0)
    )?;
    for omission in omissions {
        write!(f, "  {:<30}", omission.what)?;
        for worst in [omission.near, omission.everywhere] {
            write!(
                f,
                "{:>34}",
                worst.map_or("does not apply".to_string(), |worst| told(&worst, inputs.load()))
            )?;
        }
        writeln!(f)?;
    }
    writeln!(
        f,
        "  In percent of {} microstrain. May be left out: at most {} of the expanded uncertainty then.",
        inputs.load(),
        NEGLIGIBLE
    )
}

fn told(worst: &Worst, load: f64) -> String {
    let verdict = if worst.may_be_left_out { "may be left out" } else { "needed" };
    format!("{:.2} ({:.2} %): {verdict}", worst.microstrain, 100.0 * worst.microstrain / load)
}

fn row(f: &mut Formatter<'_>, name: &str, cells: impl Iterator<Item = String>) -> Result {
    write!(f, "  {name:<24}")?;
    for (column, cell) in cells.enumerate() {
        // A wider gap between without and with load.
        let width = if column == 0 { 14 } else { 12 };
        write!(f, "{cell:>width$}")?;
    }
    writeln!(f)
}
