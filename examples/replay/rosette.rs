//! Rosettes of the channel file: their columns of `corrected.csv`, and what is in the summary.

use crate::report::NOT_STATED;
use crate::table::{push_decimals, push_text};
use gaugewright::Flags;
use gaugewright::rosette::Estimate;
use host::channel_file::ChannelFile;
use host::results::Results;
use host::rosette::{Combine, Combined, combine, not_stated};
use std::fmt::{self, Display, Formatter};

/// A rosette ready to run.
pub struct Rosette {
    pub name: String,
    /// Names of the channels, and their places in the file.
    grids: Vec<(String, usize)>,
    combine: Combine,
    is_checked: bool,
    /// Uncertainties that are taken as zero beside those that are stated.
    not_stated: Vec<&'static str>,
    /// That of two grids is not measured: the file states it, and if it does not state how well, nothing is said of that.
    is_direction_stated: bool,
}

impl Rosette {
    /// Those of the file that are without problems.
    pub fn all(file: &ChannelFile) -> Vec<Self> {
        let place = |name: &String| file.channels.iter().position(|channel| channel.name == *name);
        let rosette = |words: &host::channel_file::rosette::Rosette| {
            let grids = words.channels.iter().map(|name| Some((name.clone(), place(name)?)));
            Some(Self {
                name: words.name.clone(),
                grids: grids.collect::<Option<_>>()?,
                combine: combine(words, &file.channels).ok()?,
                is_checked: words.channels.len() > 3 && words.grid_uncertainty_microstrain.is_some(),
                not_stated: not_stated(words),
                is_direction_stated: words.channels.len() == 2
                    && words.alignment_uncertainty_degrees.is_none(),
            })
        };
        file.rosettes.iter().filter_map(rosette).collect()
    }

    /// Columns of `corrected.csv`, without the rosette's name.
    pub fn columns(&self) -> impl Iterator<Item = &'static str> {
        let check = self.is_checked.then_some("residual_in_standard_uncertainties");
        ["first_microstrain", "second_microstrain", "direction_degrees"]
            .into_iter()
            .chain(check)
            .chain(["flags"])
    }

    /// Each row of a block.
    pub fn rows(&self, count: usize, results: &[Results]) -> Vec<Row> {
        (0..count).map(|row| self.row(results, row)).collect()
    }

    fn row(&self, results: &[Results], row: usize) -> Row {
        let (mut strains, mut flags) = (Vec::with_capacity(self.grids.len()), Flags::CLEAR);
        for (_, place) in &self.grids {
            let corrected = results[*place].row(row)?;
            strains.push(corrected.mechanical * 1e-6);
            flags |= corrected.flags;
        }
        Some(((self.combine)(&strains), flags))
    }

    /// The cells of a row, a comma before each.
    pub fn push_cells(&self, text: &mut Vec<u8>, row: &Row) {
        let Some((combined, flags)) = row else {
            text.extend(self.columns().map(|_| b','));
            push_text(text, "rejected: a grid");
            return;
        };
        let principal = combined.strain.principal();
        push_decimals(text, principal.first * 1e6);
        push_decimals(text, principal.second * 1e6);
        match direction(combined) {
            Some(direction) => push_decimals(text, direction.value),
            None => text.push(b','),
        }
        if let Some(residual) = &combined.residual {
            push_decimals(text, residual.in_standard_uncertainties());
        }
        text.push(b',');
        if !flags.is_clear() {
            push_text(text, &flags.to_string());
        }
    }
}

/// The state of strain of a row and the flags of all grids; none where one of them was rejected.
pub type Row = Option<(Combined, Flags)>;

/// In degrees, where there is one: where an uncertainty is stated it has to stand out of it.
fn direction(combined: &Combined) -> Option<Estimate<f64>> {
    match combined.estimate {
        None => {
            combined.strain.principal().direction.map(|value| Estimate { value: value.0, uncertainty: 0.0 })
        }
        Some(estimate) => estimate
            .direction
            .map(|found| Estimate { value: found.value.0, uncertainty: found.uncertainty.0 }),
    }
}

/// A residual of more standard uncertainties is no chance: of a normal distribution it comes once in 500 million.
const MOST_OF_CHANCE: f64 = 6.0;

/// What is known of a rosette when its record was read.
#[derive(Default)]
pub struct Seen {
    largest: Option<Moment>,
    smallest: Option<Moment>,
    shear: Option<Moment>,
    /// Time, grid and size in standard uncertainties.
    residual: Option<(f64, usize, f64)>,
    rows: u64,
    flagged: u64,
}

/// A row without a flag.
struct Moment {
    time: f64,
    first: f64,
    second: f64,
    combined: Combined,
}

impl Seen {
    /// Whether a row was without a flag.
    pub fn has_clear_row(&self) -> bool {
        self.rows > self.flagged
    }

    /// Adds the next rows, of which these are the times.
    pub fn add(&mut self, times: &[f64], rows: &[Row]) {
        for (&time, row) in times.iter().zip(rows) {
            let Some((combined, flags)) = row else { continue };
            self.rows += 1;
            if !flags.is_clear() {
                self.flagged += 1;
                continue;
            }
            let principal = combined.strain.principal();
            let (first, second) = (principal.first, principal.second);
            if let Some(residual) = &combined.residual {
                let size = residual.in_standard_uncertainties();
                if self.residual.is_none_or(|(.., largest)| size > largest) {
                    self.residual = Some((time, residual.grid, size));
                }
            }
            let keep = |kept: &mut Option<Moment>, is_more: fn(&Moment, f64, f64) -> bool| {
                if kept.as_ref().is_none_or(|kept| is_more(kept, first, second)) {
                    *kept = Some(Moment { time, first, second, combined: *combined });
                }
            };
            keep(&mut self.largest, |kept, first, _| first > kept.first);
            keep(&mut self.smallest, |kept, _, second| second < kept.second);
            keep(&mut self.shear, |kept, first, second| first - second > kept.first - kept.second);
        }
    }
}

/// Displays as the rosette's part of the summary.
pub struct Summary<'a> {
    pub rosette: &'a Rosette,
    pub seen: &'a Seen,
}

impl Display for Summary<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let Self { rosette, seen } = self;
        let grids: Vec<&str> = rosette.grids.iter().map(|(name, _)| name.as_str()).collect();
        writeln!(f, "{}", rosette.name)?;
        writeln!(f, "  rosette        of {}", grids.join(", "))?;
        if let Some((time, grid, size)) = seen.residual {
            // Those of four grids are equal: which of them is wrong cannot be told.
            let of_grid = if grids.len() > 4 { format!("of {} ", grids[grid]) } else { String::new() };
            writeln!(f, "  residual       {size:.1} standard uncertainties at most, {of_grid}at {time}")?;
            if size > MOST_OF_CHANCE {
                writeln!(
                    f,
                    "  wrong          the grids contradict each other: a grid, an angle or a stated uncertainty\n{:17}is wrong",
                    ""
                )?;
            }
        }
        for name in &rosette.not_stated {
            writeln!(f, "  uncertainty    {name}: {NOT_STATED}")?;
        }
        let moments = [
            ("largest strain", &seen.largest),
            ("smallest strain", &seen.smallest),
            ("largest shear", &seen.shear),
        ];
        if !seen.has_clear_row() {
            return writeln!(f, "\n  no row is without a flag");
        }
        writeln!(
            f,
            "\n  {:<26}{:>14}{:>19}{:>19}{:>19}",
            "principal strains", "time", "first", "second", "direction, degrees"
        )?;
        for (what, moment) in moments {
            let Some(moment) = moment else { continue };
            let microstrain = |value: f64, estimate: Option<Estimate<f64>>| match estimate {
                None => format!("{:.2}", value * 1e6),
                Some(estimate) => format!("{:.2} +- {:.2}", value * 1e6, estimate.uncertainty * 1e6),
            };
            let estimate = &moment.combined.estimate;
            let turned = match direction(&moment.combined) {
                None => "none".to_string(),
                Some(found) if rosette.is_direction_stated => format!("{:.2} stated", found.value),
                Some(found) if estimate.is_some() => {
                    format!("{:.2} +- {:.2}", found.value, found.uncertainty)
                }
                Some(found) => format!("{:.2}", found.value),
            };
            writeln!(
                f,
                "  {what:<26}{:>14}{:>19}{:>19}{turned:>19}",
                moment.time,
                microstrain(moment.first, estimate.map(|of| of.first)),
                microstrain(moment.second, estimate.map(|of| of.second)),
            )?;
        }
        if seen.largest.as_ref().is_some_and(|moment| moment.combined.estimate.is_some()) {
            writeln!(f, "  +- is one standard uncertainty, of what is stated for the rosette")?;
        }
        if seen.flagged > 0 {
            writeln!(f, "  without the {} of {} rows that have a flag", seen.flagged, seen.rows)?;
        }
        Ok(())
    }
}
