//! The summary of one channel, in words and figures, within 100 columns.

use crate::results::{Comparison, Extremes, Results};
use crate::samples::Samples;
use crate::setup::{Channel, Kernel};
use gaugewright::Flags;
use std::fmt::{self, Display, Formatter};

/// Displays as a paragraph for each thing there is to say.
pub struct Summary<'a> {
    pub channel: &'a Channel,
    pub results: &'a Results<'a>,
    pub samples: &'a Samples,
    pub time_column: &'a str,
}

impl Display for Summary<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}", self.channel.name)?;
        self.inputs(f)?;
        self.error(f)?;
        match self.results.extremes() {
            Some(extremes) => self.extremes(f, &extremes)?,
            None => writeln!(f, "\n  no sample is without a flag")?,
        }
        if let Some(comparison) = self.results.comparison() {
            self.comparison(f, &comparison)?;
        }
        self.flags(f)
    }
}

impl Summary<'_> {
    fn inputs(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let rows = || self.results.usable_rows();
        let series = self.results.series;
        let temperatures = || rows().map(|row| series.temperatures[row]);
        let codes = || rows().map(|row| series.codes[row]);
        let (declared_low, declared_high) = self.channel.temperatures;
        if let (Some(low), Some(high)) = (temperatures().min(), temperatures().max()) {
            writeln!(
                f,
                "  temperature    {:.2} to {:.2} C (declared: {} to {} C)",
                low.celsius().0,
                high.celsius().0,
                declared_low.0,
                declared_high.0,
            )?;
        }
        let (Some(low), Some(high)) = (codes().min(), codes().max()) else {
            return Ok(());
        };
        match self.channel.step_microstrain {
            None => writeln!(f, "  code           {low} to {high}"),
            Some(step) => writeln!(
                f,
                "  reading        {:.2} to {:.2} microstrain",
                f64::from(low) * step,
                f64::from(high) * step,
            ),
        }
    }

    fn error(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let bound = |kernel: &Kernel| kernel.error_bound().reading.whole.0;
        writeln!(
            f,
            "  error bound    {:.2} nanostrain (interval arithmetic); indicated strain: {:.2}",
            bound(&self.channel.mechanical),
            bound(&self.channel.indicated),
        )?;
        match self.results.worst_against_model(self.channel) {
            Some(worst) => writeln!(
                f,
                "  error seen     {:.2} nanostrain at most, against the model in double precision",
                worst.0
            ),
            None => Ok(()),
        }
    }

    fn extremes(&self, f: &mut Formatter<'_>, extremes: &Extremes) -> fmt::Result {
        writeln!(f)?;
        writeln!(
            f,
            "  {:<26}{:>14}{:>10}{:>12}{:>16}{:>12}",
            "strain in microstrain",
            self.time_heading(),
            "C",
            "indicated",
            "thermal output",
            "mechanical",
        )?;
        for (what, row) in [
            ("coldest", extremes.coldest),
            ("hottest", extremes.hottest),
            ("largest strain", extremes.largest),
            ("smallest strain", extremes.smallest),
        ] {
            if let Some(corrected) = self.results.row(row) {
                writeln!(
                    f,
                    "  {what:<26}{:>14}{:>10.2}{:>12.2}{:>16.2}{:>12.2}",
                    self.samples.times[row],
                    self.results.series.temperatures[row].celsius().0,
                    corrected.indicated,
                    corrected.thermal_output,
                    corrected.mechanical,
                )?;
            }
        }
        Ok(())
    }

    fn comparison(&self, f: &mut Formatter<'_>, comparison: &Comparison) -> fmt::Result {
        writeln!(f)?;
        writeln!(
            f,
            "  difference from the true strain, microstrain, over {} samples without a flag",
            comparison.rows
        )?;
        writeln!(f, "  {:<26}{:>14}{:>10}{:>12}", "", "worst at", "worst", "rms")?;
        let stages = ["no correction", "thermal output subtracted", "full correction"];
        for (what, difference) in stages.iter().zip(&comparison.differences) {
            writeln!(
                f,
                "  {what:<26}{:>14}{:>10.2}{:>12.3}",
                self.samples.times[difference.worst_row], difference.worst, difference.rms,
            )?;
        }
        Ok(())
    }

    fn flags(&self, f: &mut Formatter<'_>) -> fmt::Result {
        writeln!(f)?;
        writeln!(f, "  {:<26}{:>14}{:>10}", "flags", "first at", "samples")?;
        for (flag, name) in Flags::ALL {
            let (count, first) = self.results.flagged(flag);
            let first = first.map_or("-".to_string(), |row| self.samples.times[row].to_string());
            writeln!(f, "  {name:<26}{first:>14}{count:>10}")?;
        }
        writeln!(f, "  {:<26}{:>14}{:>10}", "rejected", "", self.results.rejected_count())
    }

    /// The column's name where it fits.
    fn time_heading(&self) -> &str {
        if self.time_column.chars().count() <= 14 { self.time_column } else { "time" }
    }
}
