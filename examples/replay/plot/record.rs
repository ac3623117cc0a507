//! The panels against time: the whole record, and a piece of it around the largest strain.

use super::envelope::{envelope, gaps};
use super::{FLAGGED, GREEN, PURPLE};
use host::circuit::ThermalOutput;
use host::drawing::{Area, BLUE, GRID, ORANGE, SCALE, TEXT, THIN, label, padded};
use host::results::{Corrected, Results};
use host::samples::Samples;
use host::setup::Channel;
use plotters::prelude::*;
use std::error::Error;
use std::ops::Range;

/// Draws both, and says whether the true strain was drawn.
pub fn draw(
    whole: &Area,
    event: &Area,
    time_column: &str,
    samples: &Samples,
    channel: &Channel,
    results: &Results,
) -> Result<bool, Box<dyn Error>> {
    let times: Vec<f64> = samples.times.iter().copied().filter(|time| !time.is_nan()).collect();
    let (Some(&first), Some(&last)) = (times.first(), times.last()) else {
        return Ok(false);
    };
    let has_thermal_output = channel.thermal_output != ThermalOutput::Cancels;
    let panel = Panel { origin: 0.0, has_thermal_output, samples, results };
    let shown = panel.draw(whole, &spanning(first, last), time_column)?;

    let strongest = results.clear_rows().max_by(|a, b| a.1.mechanical.abs().total_cmp(&b.1.mechanical.abs()));
    if let Some((row, _)) = strongest {
        // As many rows as there is room to see, but a part of the record only.
        let half = (samples.times.len() / 400).clamp(40, 150);
        let rows = row.saturating_sub(half)..(row + half).min(samples.times.len());
        let inside = || samples.times[rows.clone()].iter().filter(|time| !time.is_nan());
        if let (Some(&from), Some(&to)) = (inside().next(), inside().next_back()) {
            let origin = samples.times[row];
            let panel = Panel { origin, has_thermal_output, samples, results };
            let around = spanning(from - origin, to - origin);
            return Ok(panel.draw(event, &around, &format!("from {origin}, the largest strain"))? || shown);
        }
    }
    Ok(shown)
}

/// From the first to a little after the last, since a range does not hold its end; and not so short that
/// steps along the axis would be lost in rounding.
fn spanning(first: f64, last: f64) -> Range<f64> {
    let least = (1e-9 * first.abs().max(last.abs())).max(1e-9);
    if last > first {
        let margin = 1e-6 * (last - first);
        first..last + if last - first < least { least } else { margin }
    } else {
        let half = least.max(0.5);
        first - half..first + half
    }
}

/// What is drawn of a row.
type Value = fn(&Corrected) -> f64;

struct Panel<'a> {
    /// What times are counted from.
    origin: f64,
    has_thermal_output: bool,
    samples: &'a Samples,
    results: &'a Results<'a>,
}

impl Panel<'_> {
    fn draw(&self, area: &Area, times: &Range<f64>, description: &str) -> Result<bool, Box<dyn Error>> {
        let columns = area.dim_in_pixel().0 as usize / SCALE as usize;
        let clear = || self.clear(times);
        let values = || clear().filter_map(|(_, _, corrected)| corrected);
        let span_of = |range: &Range<f64>| range.end - range.start;
        // Where thermal output cancels it is nothing, and no line either.
        let curves: Vec<(Value, RGBColor)> = [
            (true, (|at| at.indicated) as Value, ORANGE),
            (self.has_thermal_output, |at| at.thermal_output, BLUE),
            (true, |at| at.mechanical, BLACK),
        ]
        .into_iter()
        .filter_map(|(shows, of, colour)| shows.then_some((of, colour)))
        .collect();
        let strains = padded(values().flat_map(|corrected| curves.iter().map(move |(of, _)| of(&corrected))));
        // Within a line's width of mechanical strain, true strain would only cover the other line.
        let true_strain = &self.results.series.true_strain;
        let tellable = 0.01 * span_of(&strains);
        let shows = clear().any(|(row, _, corrected)| {
            corrected.is_some_and(|at| (at.mechanical - true_strain[row]).abs() > tellable)
        });
        let strains = if shows {
            let known = clear().map(|(row, ..)| true_strain[row]).filter(|strain| !strain.is_nan());
            padded([strains.start, strains.end].into_iter().chain(known))
        } else {
            strains
        };
        let span = span_of(&strains);
        let lines = |of: Value| {
            let samples = clear().map(|(_, time, corrected)| (time, corrected.as_ref().map(of)));
            envelope(samples, times, columns)
        };

        let temperatures = &self.results.series.temperatures;
        let celsius = |row: usize| temperatures[row].celsius().0;
        let warmth = padded(clear().filter_map(|(row, _, corrected)| corrected.map(|_| celsius(row))));
        let warm_span = span_of(&warmth);
        let mut chart = ChartBuilder::on(area)
            .margin_right(6 * SCALE)
            .right_y_label_area_size(58 * SCALE)
            .margin_left(8 * SCALE)
            .margin_bottom(6 * SCALE)
            .margin_top(4 * SCALE)
            .x_label_area_size(46 * SCALE)
            .y_label_area_size(82 * SCALE)
            .build_cartesian_2d(times.clone(), strains.clone())?
            .set_secondary_coord(times.clone(), warmth);
        let font = || ("sans-serif", TEXT).into_font();
        let duration = span_of(times);
        let letters = [times.start, times.end].map(|time| label(time, duration).len() + 3);
        let room = (columns as f64 * f64::from(SCALE) / (0.5 * TEXT)) as usize;
        let time_labels = (room / letters[0].max(letters[1])).clamp(2, 9);
        chart
            .configure_mesh()
            .light_line_style(TRANSPARENT)
            .bold_line_style(GRID)
            .x_labels(time_labels)
            .y_labels(7)
            .x_label_formatter(&|time| label(*time, duration))
            .y_label_formatter(&|strain| label(*strain, span))
            .x_desc(description)
            .y_desc("microstrain")
            .label_style(font())
            .axis_desc_style(font())
            .draw()?;

        chart
            .configure_secondary_axes()
            .y_labels(5)
            .y_label_formatter(&|celsius| label(*celsius, warm_span))
            .y_desc("gauge temperature, C")
            .label_style(font().color(&GREEN))
            .axis_desc_style(font().color(&GREEN))
            .draw()?;

        let one = duration / columns as f64;
        let without =
            gaps(clear().map(|(_, time, corrected)| (time, corrected.map(|_| 0.0))), times, columns);
        chart.draw_series(without.iter().map(|gap| {
            let from = times.start + one * gap.start as f64;
            // Wide enough to be seen.
            let to = times.start + one * gap.end.max(gap.start + 2) as f64;
            Rectangle::new([(from, strains.start), (to.min(times.end), strains.end)], FLAGGED.filled())
        }))?;
        let samples = clear().map(|(row, time, corrected)| (time, corrected.map(|_| celsius(row))));
        for line in envelope(samples, times, columns) {
            chart.draw_secondary_series(LineSeries::new(line, GREEN.stroke_width(THIN)))?;
        }
        for &(of, colour) in &curves {
            for line in lines(of) {
                chart.draw_series(LineSeries::new(line, colour.stroke_width(THIN)))?;
            }
        }
        if shows {
            let samples = clear()
                .map(|(row, time, _)| (time, Some(true_strain[row]).filter(|strain| !strain.is_nan())));
            for line in envelope(samples, times, columns) {
                let style = PURPLE.stroke_width(THIN);
                chart.draw_series(DashedLineSeries::new(line, 12, 8, style))?;
            }
        }
        Ok(shows)
    }

    /// Row, time and values of every row that has a time; no values where there is a flag.
    fn clear(&self, times: &Range<f64>) -> impl Iterator<Item = (usize, f64, Option<Corrected>)> {
        let times = times.clone();
        self.samples
            .times
            .iter()
            .enumerate()
            .map(|(row, time)| (row, time - self.origin))
            .filter(move |(_, time)| times.contains(time))
            .map(|(row, time)| (row, time, self.results.clear_row(row)))
    }
}
