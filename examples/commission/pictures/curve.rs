//! `curve.svg`: points, curve and band above; what the points are off below.

use super::{BLUE, HEAD, LEFT, Mark, RED, SHADE, WIDTH, legend};
use crate::advice::Expected;
use crate::fitted::Fitted;
use crate::job::Job;
use crate::places::{PIECES, evenly};
use crate::run::Point;
use gaugewright::commissioning::fit::Direction;
use gaugewright::units::Celsius;
use host::drawing::{
    Area, Drawn, ORANGE, SCALE, TEMPERATURE, TEXT, THIN, TITLE, padded, panel, text, write_page,
};
use host::mesh;
use plotters::prelude::*;
use std::ops::Range;
use std::path::Path;

const UPPER: u32 = 400 * SCALE;
const LOWER: u32 = 300 * SCALE;
const FOOT: u32 = 50 * SCALE;
/// # Errors
/// If the file cannot be written.
pub fn write(path: &Path, job: &Job, fitted: &Fitted, expected: Option<&Expected>) -> Drawn {
    write_page(path, (WIDTH, HEAD + UPPER + LOWER + FOOT), |page| {
        let (head, below) = page.split_vertically(HEAD);
        let (upper, below) = below.split_vertically(UPPER);
        let (lower, foot) = below.split_vertically(LOWER);
        let title = format!("{}: thermal output in the chamber", job.description.name);
        text(&head, &title, (LEFT as i32, 24), TITLE)?;
        let band = format!("band of {} %", job.coverage.0);
        let mut entries = vec![(Mark::Dot(RED), "rising")];
        if fitted.count(Direction::Cooling) > 0 {
            entries.push((Mark::Ring(ORANGE), "falling"));
        }
        entries.extend([(Mark::Line(BLUE), "fitted"), (Mark::Block(SHADE), band.as_str())]);
        if expected.is_some() {
            entries.push((Mark::Dashes(BLACK), "expected from the package"));
        }
        legend(&head, 96, &entries)?;
        above(&upper, fitted, expected)?;
        below_it(&lower, job, fitted)?;
        let note = format!(
            "Microstrain at a gauge factor of {}. The band is that of the curve; dashed: that of one more reading. \
             Degree {}.",
            fitted.gauge_factor.0,
            fitted.curve.degree()
        );
        text(&foot, &note, (LEFT as i32, 20), TEXT * 0.85)
    })
}

/// A little more than the run.
fn across(fitted: &Fitted) -> Range<f64> {
    let (low, high) = fitted.curve.temperatures();
    padded([low.0, high.0].into_iter())
}

/// Places along the curve.
fn places(fitted: &Fitted) -> impl Iterator<Item = Celsius> {
    let (low, high) = fitted.curve.temperatures();
    evenly(low.0, high.0, PIECES).map(Celsius)
}

fn above(area: &Area, fitted: &Fitted, expected: Option<&Expected>) -> Drawn {
    let width = across(fitted);
    // The curve has a constant of its own: the package's is drawn from where both are balanced.
    let any = fitted.curve.temperatures().0;
    let shift = fitted.curve.at(any)?.0 - fitted.since_balance.at(any)?.0;
    let package: Vec<(f64, f64)> =
        expected.map_or(Vec::new(), |it| it.curve.iter().map(|(t, y)| (*t, y + shift)).collect());
    let curve = places(fitted).map(|at| Ok((at.0, fitted.curve.at(at)?.0)));
    let curve: Vec<(f64, f64)> = curve.collect::<Result<_, gaugewright::Error>>()?;
    let readings = fitted.points.iter().map(|point| point.reading.0);
    let height = padded(readings.chain(package.iter().chain(&curve).map(|(_, y)| *y)));
    let span = height.end - height.start;
    let mut chart = panel(area, 6, 24).build_cartesian_2d(width.clone(), height.clone())?;
    mesh!(
        chart,
        (9, width.end - width.start, TEMPERATURE),
        (8, span, "indicated strain, microstrain"),
        &BLACK
    );
    let package = DashedLineSeries::new(package, 14, 9, BLACK.stroke_width(THIN));
    chart.draw_series(package)?;
    chart.draw_series(LineSeries::new(curve, BLUE.stroke_width(THIN + 1)))?;
    draw_points!(chart, fitted, |point: &Point| point.reading.0);
    Ok(())
}

fn below_it(area: &Area, job: &Job, fitted: &Fitted) -> Drawn {
    let width = across(fitted);
    let mut band = Vec::new();
    let mut one_more = Vec::new();
    for at in places(fitted) {
        band.push((at.0, fitted.curve.confidence_band(at, job.coverage)?.0));
        one_more.push((at.0, fitted.curve.prediction_band(at, job.coverage)?.0));
    }
    let flipped = |line: &[(f64, f64)]| line.iter().map(|(t, y)| (*t, -y)).collect::<Vec<_>>();
    let residuals = fitted.points.iter().map(|point| fitted.residual(point).abs());
    let most = residuals.chain(one_more.iter().map(|(_, y)| *y)).fold(0.0, f64::max);
    let height = padded([-most, most].into_iter());
    let span = height.end - height.start;
    let mut chart = panel(area, 6, 24).build_cartesian_2d(width.clone(), height.clone())?;
    let edge = band.iter().copied().chain(flipped(&band).into_iter().rev()).collect::<Vec<_>>();
    chart.draw_series([Polygon::new(edge, SHADE.filled())])?;
    mesh!(chart, (9, width.end - width.start, TEMPERATURE), (8, span, "residual, microstrain"), &BLACK);
    let zero = vec![(width.start, 0.0), (width.end, 0.0)];
    chart.draw_series(LineSeries::new(zero, BLUE.stroke_width(THIN)))?;
    for line in [flipped(&one_more), one_more] {
        chart.draw_series(DashedLineSeries::new(line, 8, 8, BLUE.stroke_width(2)))?;
    }
    draw_points!(chart, fitted, |point: &Point| fitted.residual(point));
    Ok(())
}
