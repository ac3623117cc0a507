//! The summary of one channel, in words and figures, within 100 columns.

use gaugewright::fixed::Temperature;
use gaugewright::units::Celsius;
use gaugewright::{Circuit, Flags};
use host::circuit::ThermalOutput;
use host::kernel::Kernel;
use host::results::{Comparison, Extremes, Results};
use host::samples::Samples;
use host::setup::{Channel, Thermometer};
use host::temperature_error::TemperatureError;
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
        self.circuit(f)?;
        self.inputs(f)?;
        self.error(f)?;
        match self.results.extremes() {
            Some(extremes) => {
                self.extremes(f, &extremes)?;
                if let Some(error) = self.channel.temperature_error {
                    self.temperature_error(f, error, &extremes)?;
                }
            }
            None => writeln!(f, "\n  no sample is without a flag")?,
        }
        if let Some(comparison) = self.results.comparison() {
            self.comparison(f, &comparison)?;
        }
        self.flags(f)
    }
}

impl Summary<'_> {
    fn circuit(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let name = self.channel.circuit.map_or("readings of an instrument", Circuit::name);
        let thermal_output = match self.channel.thermal_output {
            ThermalOutput::Shows => "shows",
            ThermalOutput::Cancels => "cancels, to first order",
            ThermalOutput::Difference => "is the difference of two gauges', each at its own temperature",
        };
        writeln!(f, "  circuit        {name}")?;
        writeln!(f, "                 thermal output {thermal_output}")?;
        writeln!(f, "  gauge factor   refers to the {}", self.channel.gauge_factor_refers_to)?;
        writeln!(
            f,
            "  description    0x{:016x}, the hash of all that was stated",
            self.channel.description_hash
        )?;
        self.channel.curve_notes.iter().try_for_each(|note| writeln!(f, "{note}"))
    }

    fn inputs(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let rows = || self.results.usable_rows();
        let series = self.results.series;
        let codes = || rows().map(|row| series.codes[row]);
        if let Thermometer::Sensor(sensor) = &self.channel.columns.temperature {
            writeln!(f, "  sensor         {sensor}")?;
        }
        self.temperatures(f, "temperature", &series.temperatures, self.channel.temperatures)?;
        if let Some(second) = &self.channel.compensating {
            self.temperatures(f, "compensating", &series.compensating, second.temperatures)?;
            let apart = || {
                rows().map(|row| series.temperatures[row].celsius().0 - series.compensating[row].celsius().0)
            };
            if let (Some(low), Some(high)) = (apart().reduce(f64::min), apart().reduce(f64::max)) {
                writeln!(f, "  difference     {low:.2} to {high:.2} C")?;
            }
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

    fn temperatures(
        &self,
        f: &mut Formatter<'_>,
        label: &str,
        temperatures: &[Temperature],
        (Celsius(low), Celsius(high)): (Celsius, Celsius),
    ) -> fmt::Result {
        let usable = || self.results.usable_rows().map(|row| temperatures[row]);
        let (Some(coldest), Some(hottest)) = (usable().min(), usable().max()) else {
            return Ok(());
        };
        let (coldest, hottest) = (coldest.celsius().0, hottest.celsius().0);
        writeln!(f, "  {label:<15}{coldest:.2} to {hottest:.2} C (declared: {low} to {high} C)")
    }

    fn error(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let bound = |kernel: &Kernel| kernel.error_bound().reading.total.0;
        writeln!(
            f,
            "  error bound    {:.2} nanostrain, of the arithmetic alone; indicated strain: {:.2}",
            bound(&self.channel.mechanical),
            bound(&self.channel.indicated),
        )?;
        if let Some(worth) = self.results.worth_of_a_code(self.channel) {
            let sample = if self.channel.step_microstrain.is_some() { "step" } else { "code" };
            writeln!(f, "                 one {sample} is worth {:.2} nanostrain", worth.0)?;
        }
        if self.channel.circuit.is_some() {
            writeln!(
                f,
                "  circuit error  {:.2} nanostrain at most, that the kernel leaves out of the bridge's network",
                self.channel.circuit_error.0
            )?;
        }
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
        // The second temperature takes its room from the words.
        let (words, second) = if self.channel.compensating.is_some() { (16, 10) } else { (26, 0) };
        writeln!(f)?;
        writeln!(
            f,
            "  {:<words$}{:>14}{:>10}{:>second$}{:>12}{:>16}{:>12}",
            if second > 0 { "microstrain" } else { "strain in microstrain" },
            self.time_heading(),
            "C",
            if second > 0 { "C, comp." } else { "" },
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
                let series = self.results.series;
                let celsius = |at: &Temperature| format!("{:.2}", at.celsius().0);
                let thermal_output = match self.channel.thermal_output {
                    ThermalOutput::Cancels => "cancels".to_string(),
                    _ => format!("{:.2}", corrected.thermal_output),
                };
                writeln!(
                    f,
                    "  {what:<words$}{:>14}{:>10}{:>second$}{:>12.2}{thermal_output:>16}{:>12.2}",
                    self.samples.times[row],
                    celsius(&series.temperatures[row]),
                    series.compensating.get(row).map_or(String::new(), celsius),
                    corrected.indicated,
                    corrected.mechanical,
                )?;
            }
        }
        match self.results.flagged_count() {
            0 => Ok(()),
            1 => writeln!(f, "  without the one sample that has a flag"),
            flagged => writeln!(f, "  without the {flagged} samples that have a flag"),
        }
    }

    /// What it makes of the strain.
    fn temperature_error(
        &self,
        f: &mut Formatter<'_>,
        error: TemperatureError,
        extremes: &Extremes,
    ) -> fmt::Result {
        writeln!(f)?;
        writeln!(f, "  error of the temperature ({error}), and what it makes of the strain")?;
        writeln!(
            f,
            "  {:<16}{:>14}{:>10}{:>10}{:>18}{:>14}{:>14}",
            "microstrain",
            self.time_heading(),
            "C",
            "error, C",
            "thermal output/C",
            "mechanical/C",
            "mechanical",
        )?;
        for (what, chained) in error.chain(self.channel, self.results, extremes) {
            let known = |number: Option<f64>| number.map_or("unknown".to_string(), |it| format!("{it:.2}"));
            let thermal_output = match self.channel.thermal_output {
                ThermalOutput::Cancels => "cancels".to_string(),
                _ => format!("{:.3}", chained.thermal_output_slope),
            };
            writeln!(
                f,
                "  {what:<16}{:>14}{:>10.2}{:>10}{thermal_output:>18}{:>14.3}{:>14}",
                self.samples.times[chained.row],
                chained.celsius,
                known(chained.error),
                chained.strain_slope,
                known(chained.strain_error()),
            )?;
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
            if *what == stages[1] && self.channel.thermal_output == ThermalOutput::Cancels {
                continue;
            }
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
