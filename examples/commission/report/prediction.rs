//! The part of the report on what the foil and the part predict.

use super::line;
use crate::prediction::{Predicted, Row};
use std::fmt::{Formatter, Result};

/// More standard deviations than this are no chance (common practice, no source).
const MOST: f64 = 3.0;

pub fn write(f: &mut Formatter<'_>, predicted: &Predicted, reference: f64) -> Result {
    writeln!(f, "\nprediction from foil and part, microstrain since balance")?;
    match &predicted.rows {
        None => line(f, "predicted", "not: resistance_coefficients of the foil are not stated")?,
        Some(rows) => {
            if !rows.is_empty() {
                writeln!(
                    f,
                    "  {:>10}{:>18}{:>17}{:>18}{:>17}{:>14}",
                    "C", "predicted", "its uncertainty", "measured", "difference", "deviations"
                )?;
            }
            for row in rows {
                writeln!(
                    f,
                    "  {:>10.2}{:>18.2}{:>17.2}{:>18.2}{:>17.2}{:>14.1}",
                    row.celsius,
                    row.predicted,
                    row.uncertainties.0,
                    row.measured,
                    row.difference(),
                    row.deviations()
                )?;
            }
            // At balance both are zero. One that is not a number is the largest.
            let compared = rows.iter().filter(|row| row.difference() != 0.0).map(Row::deviations);
            let verdict = match compared.max_by(f64::total_cmp) {
                Some(most) if most <= MOST => {
                    format!("measured and predicted agree: {most:.1} standard deviations apart at most")
                }
                Some(most) => format!(
                    "measured and predicted are {most:.1} standard deviations apart: the foil, the part's expansion or the \
                     bond is not what is stated"
                ),
                None => "not compared: what is stated of foil and part does not reach from the temperature of balance to \
                         another one of the run"
                    .to_string(),
            };
            line(f, "verdict", &verdict)?;
        }
    }
    let (low, high) = predicted.window;
    line(
        f,
        "foil",
        &format!(
            "by this run, from {low:.0} to {high:.0} C, relative change of resistance since {reference} C; \
             an expansion is taken to be off by the same at every temperature"
        ),
    )?;
    for (power, (coefficient, uncertainty)) in (1..).zip(&predicted.foil) {
        let unit = if power == 1 { "1/C".to_string() } else { format!("1/C^{power}") };
        writeln!(f, "{:17}{coefficient:>14.4e} {unit:<6} standard uncertainty {uncertainty:.1e}", "")?;
    }
    writeln!(f, "{:17}{:.2} microstrain at most are left out by these powers", "", predicted.left_out)
}
