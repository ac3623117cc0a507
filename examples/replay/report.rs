//! The summary of one channel, in words and figures, within 100 columns.

mod uncertainty;

pub use uncertainty::NOT_STATED;

use gaugewright::fixed::Temperature;
use gaugewright::units::Celsius;
use gaugewright::{Circuit, Flags};
use host::circuit::ThermalOutput;
use host::figures::{Comparison, Ends, Extremes, Figures};
use host::kernel::Kernel;
use host::setup::{Channel, Thermometer};
use host::temperature_error::TemperatureError;
use std::fmt::{self, Display, Formatter};

/// Displays as a paragraph for each thing there is to say.
pub struct Summary<'a> {
    pub channel: &'a Channel,
    pub figures: &'a Figures,
    pub time_column: &'a str,
}

impl Display for Summary<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}", self.channel.name)?;
        self.circuit(f)?;
        self.inputs(f)?;
        self.error(f)?;
        match &self.figures.extremes {
            Some(extremes) => {
                self.extremes(f, extremes)?;
                if let Some(error) = self.channel.temperature_error {
                    self.temperature_error(f, error, extremes)?;
                }
            }
            None => writeln!(f, "\n  no sample is without a flag")?,
        }
        if let Some(stated) = &self.channel.uncertainty {
            let found = self.figures.uncertainties.as_ref();
            uncertainty::write(f, self.channel, stated, found, self.time_heading())?;
        }
        if let Some(comparison) = self.figures.comparison() {
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
        let figures = self.figures;
        if let Thermometer::Sensor(sensor) = &self.channel.columns.temperature {
            writeln!(f, "  sensor         {sensor}")?;
        }
        temperatures(f, "temperature", figures.temperatures, self.channel.temperatures)?;
        if let Some(second) = &self.channel.compensating {
            temperatures(f, "compensating", figures.compensating, second.temperatures)?;
            if let Some((low, high)) = figures.apart {
                writeln!(f, "  difference     {low:.2} to {high:.2} C")?;
            }
        }
        let Some((low, high)) = figures.codes else {
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
        let bound = |kernel: &Kernel| kernel.error_bound().reading.total.0;
        writeln!(
            f,
            "  error bound    {:.2} nanostrain, of the arithmetic alone; indicated strain: {:.2}",
            bound(&self.channel.mechanical),
            bound(&self.channel.indicated),
        )?;
        if let Some(worth) = self.figures.worth_of_a_code(self.channel) {
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
        match self.figures.worst_against_model() {
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
        for (what, moment) in [
            ("coldest", extremes.coldest),
            ("hottest", extremes.hottest),
            ("largest strain", extremes.largest),
            ("smallest strain", extremes.smallest),
        ] {
            let celsius = |at: Temperature| format!("{:.2}", at.celsius().0);
            let thermal_output = match self.channel.thermal_output {
                ThermalOutput::Cancels => "cancels".to_string(),
                _ => format!("{:.2}", moment.corrected.thermal_output),
            };
            writeln!(
                f,
                "  {what:<words$}{:>14}{:>10}{:>second$}{:>12.2}{thermal_output:>16}{:>12.2}",
                moment.time,
                celsius(moment.temperature),
                moment.compensating.map_or(String::new(), celsius),
                moment.corrected.indicated,
                moment.corrected.mechanical,
            )?;
        }
        match self.figures.flagged {
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
        for (what, chained) in error.chain(self.channel, extremes, self.figures.steepest()) {
            let known = |number: Option<f64>| number.map_or("unknown".to_string(), |it| format!("{it:.2}"));
            let thermal_output = match self.channel.thermal_output {
                ThermalOutput::Cancels => "cancels".to_string(),
                _ => format!("{:.3}", chained.thermal_output_slope),
            };
            writeln!(
                f,
                "  {what:<16}{:>14}{:>10.2}{:>10}{thermal_output:>18}{:>14.3}{:>14}",
                chained.time,
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
                difference.worst_at, difference.worst, difference.rms,
            )?;
        }
        Ok(())
    }

    fn flags(&self, f: &mut Formatter<'_>) -> fmt::Result {
        writeln!(f)?;
        writeln!(f, "  {:<26}{:>14}{:>10}", "flags", "first at", "samples")?;
        for ((_, name), (count, first)) in Flags::ALL.into_iter().zip(self.figures.flags) {
            let first = first.map_or("-".to_string(), |time| time.to_string());
            writeln!(f, "  {name:<26}{first:>14}{count:>10}")?;
        }
        writeln!(f, "  {:<26}{:>14}{:>10}", "rejected", "", self.figures.rejected)
    }

    /// The column's name where it fits.
    fn time_heading(&self) -> &str {
        if self.time_column.chars().count() <= 14 { self.time_column } else { "time" }
    }
}

fn temperatures(
    f: &mut Formatter<'_>,
    label: &str,
    measured: Ends<Temperature>,
    (Celsius(low), Celsius(high)): (Celsius, Celsius),
) -> fmt::Result {
    let Some((coldest, hottest)) = measured else {
        return Ok(());
    };
    let (coldest, hottest) = (coldest.celsius().0, hottest.celsius().0);
    writeln!(f, "  {label:<15}{coldest:.2} to {hottest:.2} C (declared: {low} to {high} C)")
}
