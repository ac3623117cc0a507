//! The part of the report on the gauge factor against temperature.

use super::line;
use crate::budget::Inputs;
use crate::places::evenly;
use crate::trial::name_of;
use gaugewright::units::{Celsius, GaugeFactor, Percent};
use std::fmt::{Formatter, Result};

pub fn write(f: &mut Formatter<'_>, inputs: &Inputs) -> Result {
    writeln!(f, "\ngauge factor against temperature")?;
    let Some(loaded) = inputs.loaded else {
        return line(
            f,
            "loaded run",
            "none: the package's stays; --loaded names one, [channel.commissioning.load] its load",
        );
    };
    writeln!(f, "  loaded run     {}", name_of(&loaded.path))?;
    let (with, without) = loaded.counts;
    let (least, most) = loaded.applied;
    let applied = if least == most { format!("{most}") } else { format!("{least} to {most}") };
    line(f, "", &format!("{with} points with {applied} microstrain, {without} readings without load"))?;
    if !loaded.beyond.is_empty() {
        let lines: Vec<String> = loaded.beyond.iter().map(u64::to_string).collect();
        let text = format!("beyond the unloaded run and not used: lines {}", lines.join(", "));
        line(f, "", &text)?;
    }
    let thermal = if without > 0 {
        "subtracted by the readings without load around each with load, and by the curve for what the temperature \
         differs"
    } else {
        "subtracted by the curve of the unloaded run: no reading is without load"
    };
    line(f, "thermal output", thermal)?;
    let curve = &loaded.curve;
    line(
        f,
        "degree",
        &format!("{}, the highest of up to 3 that is significant at a level of 1 %", curve.degree()),
    )?;
    for (power, coefficient) in (1..).zip(loaded.change()) {
        let label = if power == 1 { "change" } else { "" };
        let unit = if power == 1 { "1/C".to_string() } else { format!("1/C^{power}") };
        writeln!(f, "  {label:<15}{coefficient:>16.8e} {unit}, from {} C", loaded.reference.0)?;
    }
    if let Some(slope) = loaded.slope() {
        writeln!(f, "  slope          {:.4} % per 100 C", slope.0)?;
    }
    writeln!(
        f,
        "  scatter        {:.4} %: residual standard deviation, {} degrees of freedom",
        100.0 * curve.residual_standard_deviation(),
        curve.degrees_of_freedom()
    )?;
    let (off, at_line) = loaded.worst;
    writeln!(f, "  farthest point {:.3} % off: line {at_line} of the loaded run", 100.0 * off)?;
    let package = loaded.stated;
    line(
        f,
        "at reference",
        &format!(
            "{:.4} by the load; {package} of the package stays{}: only the change is taken",
            loaded.gauge_factor.0,
            loaded.in_its_field()
        ),
    )?;

    let Percent(coverage) = inputs.job.coverage;
    let change = format!("change since {} C, %", loaded.reference.0);
    writeln!(f, "\n  {:>10}{change:>30}{:>22}{:>20}", "C", format!("band of {coverage} %, %"), "package, %")?;
    let (low, high) = curve.temperatures();
    for celsius in evenly(low.0, high.0, 6).map(Celsius) {
        let (Ok(found), Ok(band)) = (
            curve.change(loaded.reference, celsius),
            curve.confidence_band(loaded.reference, celsius, inputs.job.coverage),
        ) else {
            continue;
        };
        let GaugeFactor(of_package) = inputs.bench.gauge.gauge_factor_at(celsius);
        writeln!(
            f,
            "  {:>10.2}{:>30.3}{:>22.3}{:>20.3}",
            celsius.0,
            found.0,
            band.0,
            100.0 * (of_package / package - 1.0)
        )?;
    }
    line(f, "", "the bands are those of this degree: a bend that the points do not show is not in them")
}
