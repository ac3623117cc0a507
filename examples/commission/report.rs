//! `report.txt`: everything in words and figures, within 100 columns.

mod installation;
mod loaded;
mod prediction;
mod uncertainty;

use crate::advice::Advice;
use crate::budget::Inputs;
use crate::job::RunSource;
use crate::judgement::LeftOut;
use crate::omission::Omission;
use crate::prediction::Predicted;
use crate::trial::{Place, Trial};
use crate::zeros::Zeros;
use gaugewright::commissioning::fit::{Degree, Direction};
use gaugewright::commissioning::matching::{Choice, Turn};
use gaugewright::units::{Celsius, Percent};
use host::describe::curve_notes;
use host::files::CAUTION;
use host::setup::Thermometer;
use std::fmt::{self, Display, Formatter};
use std::path::PathBuf;

/// Displays as the whole report.
pub struct Report<'a> {
    pub trial: &'a Trial,
    pub place: &'a Place<'a>,
    pub inputs: &'a Inputs<'a>,
    pub omissions: &'a [Omission],
    pub predicted: Option<&'a Predicted>,
    pub advice: Option<&'a Advice>,
    /// Of the channel file; none where it is not written.
    pub changes: Option<&'a Vec<String>>,
    pub paths: &'a [PathBuf],
}

impl Display for Report<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        self.inputs(f)?;
        self.findings(f)?;
        installation::write(f, self.inputs.job, self.inputs.installation)?;
        self.curve(f)?;
        self.over_temperature(f)?;
        self.hysteresis(f)?;
        self.against_the_package(f)?;
        self.zeros(f)?;
        loaded::write(f, self.inputs)?;
        if let Some(predicted) = self.predicted {
            prediction::write(f, predicted, self.inputs.job.reference().0)?;
        }
        match self.advice {
            Some(advice) => matches(f, advice, self.inputs.fitted.gauge_factor.0)?,
            None => writeln!(
                f,
                "\nmatch\n  none on offer: --matches or offered_matches_ppm_per_c would name some"
            )?,
        }
        uncertainty::write(f, self.inputs, self.omissions)?;
        self.files(f)?;
        writeln!(f, "\n{CAUTION}")
    }
}

impl Report<'_> {
    fn inputs(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let Inputs { job, fitted, bench, .. } = self.inputs;
        writeln!(f, "{}", job.description.name)?;
        writeln!(f, "  channels       {}", self.place.channels_name)?;
        write!(f, "  run            {}", self.place.run_path.display())?;
        writeln!(f, "{}", if self.place.is_demo { ": simulated, no such part" } else { "" })?;
        writeln!(
            f,
            "                 {} points, {} rising, {} falling; cells rejected: {}",
            fitted.points.len(),
            fitted.count(Direction::Heating),
            fitted.count(Direction::Cooling),
            self.trial.rejected
        )?;
        let not_used = self.trial.not_used;
        if not_used > 0 {
            let rows = if not_used == 1 { "row" } else { "rows" };
            writeln!(f, "{:17}{not_used} {rows} with load not used: --loaded names another run", "")?;
        }
        let read = match &job.run_source {
            RunSource::Strain(column, _) => format!("column {column:?}"),
            RunSource::OwnColumn => format!("column {:?}, as the channel reads it", bench.columns.value),
        };
        writeln!(f, "  read           {read}, at a gauge factor of {}", fitted.gauge_factor.0)?;
        match &bench.columns.temperature {
            Thermometer::Column(name) => writeln!(f, "  thermometer    column {name:?}")?,
            Thermometer::Sensor(sensor) => {
                writeln!(f, "  thermometer    {sensor} of column {:?}", sensor.column)?;
            }
        }
        curve_notes(&job.description).iter().try_for_each(|note| writeln!(f, "{note}"))
    }

    fn findings(&self, f: &mut Formatter<'_>) -> fmt::Result {
        for left_out in &self.trial.left_out {
            let LeftOut { point, off, why } = left_out;
            let why = why.as_ref().map_or_else(String::new, |why| format!("; with it: {why}"));
            let off = off.map_or_else(
                || "beyond the other points".to_string(),
                |off| format!("{off:+.2} off the curve without it"),
            );
            let text = format!(
                "line {}, as --leave-out asks: {:.2} microstrain at {:.2} C, {off}{why}",
                point.line, point.reading.0, point.temperature.0
            );
            line(f, "left out", &text)?;
        }
        self.trial.findings.iter().try_for_each(|finding| line(f, "wrong", finding))
    }

    fn curve(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let curve = &self.inputs.fitted.curve;
        let (low, high) = curve.temperatures();
        writeln!(
            f,
            "\nthermal output, microstrain at a gauge factor of {}",
            self.inputs.fitted.gauge_factor.0
        )?;
        writeln!(f, "  temperatures   {:.2} to {:.2} C: nothing is said beyond", low.0, high.0)?;
        let why = match self.inputs.job.degree {
            Degree::Exactly(_) => "as asked for".to_string(),
            Degree::Significant { highest, level } => {
                format!("the highest of up to {highest} that is significant at a level of {level}")
            }
        };
        writeln!(f, "  degree         {}, {why}", curve.degree())?;
        for (power, coefficient) in (0..=curve.degree()).zip(curve.polynomial().coefficients()) {
            let unit = match power {
                0 => "microstrain".to_string(),
                1 => "microstrain/C".to_string(),
                _ => format!("microstrain/C^{power}"),
            };
            let label = if power == 0 { "coefficients" } else { "" };
            writeln!(f, "  {label:<15}{coefficient:>16.8e} {unit}")?;
        }
        writeln!(
            f,
            "  scatter        {:.3} microstrain: residual standard deviation, {} degrees of freedom",
            curve.residual_standard_deviation().0,
            curve.degrees_of_freedom()
        )?;
        write!(f, "  by degree     ")?;
        for (degree, scatter) in self.inputs.fitted.scatter() {
            write!(f, " {degree}: {:.3}{}", scatter.0, if degree < curve.degree() { "," } else { "\n" })?;
        }
        if let Some((point, off)) = self.inputs.fitted.worst() {
            writeln!(
                f,
                "  farthest point {off:.2} microstrain off at {:.2} C, {:.1} standard deviations: line {} of the run",
                point.temperature.0,
                off.abs() / curve.residual_standard_deviation().0,
                point.line
            )?;
        }
        Ok(())
    }

    fn over_temperature(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let Percent(coverage) = self.inputs.job.coverage;
        let balance = self.inputs.job.description.balanced_at();
        writeln!(f)?;
        let since = balance.map_or(String::new(), |at| format!(" since balance at {} C", at.0));
        writeln!(
            f,
            "  {:>10}{:>41}{:>15}{:>13}{:>17}",
            "C",
            format!("thermal output{since}"),
            format!("band of {coverage} %"),
            "hysteresis",
            "its uncertainty"
        )?;
        for celsius in self.inputs.fitted.places() {
            let Ok(output) = self.inputs.fitted.since_balance.at(Celsius(celsius)) else {
                continue;
            };
            let band = self.inputs.fitted.band(celsius, self.inputs.job.coverage);
            write!(f, "  {celsius:>10.2}{:>41.2}{band:>15.2}", output.0)?;
            match self.inputs.fitted.hysteresis_at(Celsius(celsius)) {
                Some((more, uncertainty)) => writeln!(f, "{:>13.2}{:>17.2}", more.0, uncertainty.0)?,
                None => writeln!(f, "{:>13}{:>17}", "not known", "not known")?,
            }
        }
        Ok(())
    }

    fn hysteresis(&self, f: &mut Formatter<'_>) -> fmt::Result {
        writeln!(f)?;
        match &self.inputs.fitted.hysteresis {
            Ok(found) => {
                let more = if found.largest.0 < 0.0 { "less" } else { "more" };
                writeln!(
                    f,
                    "  hysteresis     falling less rising; {:.2} microstrain {more} at {:.1} C, where it differs most\n\
                     {:17}(standard uncertainty {:.2} microstrain); the band takes it for scatter, the\n\
                     {:17}budget has half of what it is at its temperature, and half of that at balance",
                    found.largest.0.abs(),
                    found.at.0,
                    "",
                    found.standard_uncertainty.0,
                    ""
                )
            }
            Err(_) => writeln!(
                f,
                "  hysteresis     not known: either direction needs points enough for a curve of this degree"
            ),
        }
    }

    fn against_the_package(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match &self.trial.expected {
            Some(expected) => writeln!(
                f,
                "  package        measured less what the package says of this part: {:.2} microstrain at most,\n\
                 {:17}at {:.1} C",
                expected.largest.1.0, "", expected.largest.0.0
            ),
            None => writeln!(f, "  package        the channel file has no curve to compare with"),
        }
    }

    fn zeros(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let Some(Zeros { celsius, zeros, open }) = self.trial.zeros.as_ref().filter(|it| it.zeros.len() > 1)
        else {
            let text = "not compared: that takes two of [channel.balance], at_rest_codes and a run in the channel's own column, \
                        and a temperature of one of the first two";
            return line(f, "zero", text);
        };
        let list: Vec<String> = zeros.iter().map(ToString::to_string).collect();
        let open = open.map_or_else(String::new, |open| {
            format!("; at_rest_temperature_c is not stated, which leaves {open:.2} open")
        });
        line(f, "zero", &format!("microstrain at {celsius} C: {}{open}", list.join(", ")))
    }

    fn files(&self, f: &mut Formatter<'_>) -> fmt::Result {
        writeln!(f, "\nchannel file")?;
        match self.changes {
            Some(changes) => changes.iter().try_for_each(|change| writeln!(f, "  {change}"))?,
            None => {
                let where_to = if self.trial.findings.is_empty() {
                    "another channel of this run"
                } else {
                    "it, see above"
                };
                writeln!(
                    f,
                    "  not written, since something is wrong with {where_to}; --accept writes it all the same"
                )?;
            }
        }
        for problem in &self.inputs.commissioned.others {
            writeln!(f, "  still wrong for a replay{problem}")?;
        }
        writeln!(f, "\nwritten")?;
        for path in self.paths {
            writeln!(f, "  {}", path.display())?;
        }
        Ok(())
    }
}

/// A label, and words behind it.
fn line(f: &mut Formatter<'_>, label: &str, text: &str) -> fmt::Result {
    write!(f, "  {label:<15}")?;
    wrapped(f, text, 17)
}

/// Words in lines of at most 100 columns, with so many spaces before all but the first.
fn wrapped(f: &mut Formatter<'_>, text: &str, indent: usize) -> fmt::Result {
    let mut column = indent;
    for (count, word) in text.split(' ').enumerate() {
        let length = word.chars().count();
        if count > 0 && column + 1 + length > 100 {
            write!(f, "\n{:indent$}", "")?;
            column = indent;
        } else if count > 0 {
            f.write_str(" ")?;
            column += 1;
        }
        f.write_str(word)?;
        column += length;
    }
    writeln!(f)
}

fn matches(f: &mut Formatter<'_>, advice: &Advice, gauge_factor: f64) -> fmt::Result {
    let (low, high) = advice.window;
    let has_error = advice.error.0 > 0.0;
    let hundredths = |celsius: f64| (celsius * 100.0).round() / 100.0;
    writeln!(
        f,
        "\nmatch, on this part from {} to {} C, at a gauge factor of {gauge_factor}",
        hundredths(low.0),
        hundredths(high.0)
    )?;
    let head = |f: &mut Formatter<'_>, cells: [&str; 5]| {
        let [first, second, rest @ ..] = cells;
        write!(f, "  {first:<20}{second:<22}")?;
        rest.iter().try_for_each(|cell| write!(f, "{cell:>18}"))?;
        writeln!(f)
    };
    let left = |cell| if has_error { cell } else { "" };
    head(f, ["matched to", "turns the curve", "span", "steepest", left("left *")])?;
    head(f, ["ppm/C", "", "microstrain", "microstrain/C", left("microstrain")])?;
    for offer in &advice.offers {
        let turn = match offer.turn {
            Turn::Clockwise => "clockwise",
            Turn::CounterClockwise => "counter-clockwise",
            Turn::Neither => "not: it is this one",
        };
        let left = if has_error { format!("{:.2}", offer.residual.left.0) } else { String::new() };
        writeln!(
            f,
            "  {:<20}{turn:<22}{:>18.2}{:>18.3}{left:>18}",
            offer.ppm(),
            offer.extremes.span().0,
            offer.steepest.1.0,
        )?;
    }
    if has_error {
        writeln!(
            f,
            "  * of thermal output, when it is subtracted for a temperature that is {:.2} C off, either way",
            advice.error.0
        )?;
    }
    best(f, advice, "least span", &advice.least_span, |span| span.0, "microstrain")?;
    best(f, advice, "least slope", &advice.least_slope, |slope| slope.0, "microstrain/C")?;
    if has_error {
        best(f, advice, "least left", &advice.least_residual, |left| left.0, "microstrain")?;
    }
    Ok(())
}

/// The best of the matches, and how much less it has than the second.
fn best<T>(
    f: &mut Formatter<'_>,
    advice: &Advice,
    what: &str,
    choice: &Choice<T>,
    number: impl Fn(&T) -> f64,
    unit: &str,
) -> fmt::Result {
    let ppm = |index: usize| advice.offers[index].ppm();
    write!(f, "  {what:<20}{}: {:.2} {unit}", ppm(choice.index), number(&choice.figure))?;
    match &choice.second {
        Some(second) => writeln!(f, "; {:.2} less than {}", number(&second.margin), ppm(second.index)),
        None => writeln!(f),
    }
}
