//! The panels against time: the whole record, and a piece of it around the largest strain.

use super::envelope::{Envelope, Gaps, column};
use super::{EVENT, FLAGGED, GREEN, PURPLE, SKY, WHOLE};
use host::circuit::ThermalOutput;
use host::drawing::{Area, BLUE, ORANGE, SCALE, TEXT, THIN, font, label, padded};
use host::figures::Ends;
use host::mesh;
use host::order::Times;
use host::results::{Corrected, Results};
use host::setup::Channel;
use plotters::prelude::*;
use std::borrow::Cow;
use std::collections::VecDeque;
use std::error::Error;
use std::ops::Range;

/// Both panels of a channel, as far as its rows were seen.
pub struct Record {
    /// None where no row has a time.
    whole: Option<Panel>,
    event: Event,
}

impl Record {
    /// Before the first row of a file with these times.
    pub fn of(times: &Times, channel: &Channel) -> Self {
        let has_thermal_output = channel.thermal_output != ThermalOutput::Cancels;
        let whole =
            times.ends.map(|(first, last)| Panel::of(0.0, spanning(first, last), WHOLE, has_thermal_output));
        // As many rows as there is room to see, but a part of the record only.
        let half = (times.rows / 400).clamp(40, 150);
        let event =
            Event { half, has_thermal_output, row: 0, last: VecDeque::new(), strongest: None, panel: None };
        Self { whole, event }
    }

    /// Adds the next rows, of which these are the times.
    pub fn add(&mut self, times: &[f64], results: &Results) {
        let series = &results.series;
        for (row, &time) in times.iter().enumerate() {
            let point = Point {
                time,
                corrected: results.clear_row(row),
                celsius: series.temperatures[row].celsius().0,
                true_strain: series.true_strain[row],
                expanded: results.uncertainty(row).map(|uncertainty| uncertainty.expanded),
            };
            if let Some(panel) = &mut self.whole {
                panel.add(&point);
            }
            self.event.add(point);
        }
    }

    /// Draws both when all rows were seen, and says whether the true strain was drawn.
    ///
    /// # Errors
    /// If it cannot be drawn.
    pub fn draw(&self, whole: &Area, event: &Area, time_column: &str) -> Result<bool, Box<dyn Error>> {
        let Some(panel) = &self.whole else { return Ok(false) };
        let shown = panel.draw(whole, time_column)?;
        let Some(panel) = self.event.panel() else { return Ok(shown) };
        Ok(panel.draw(event, &format!("from {}, the largest strain", panel.origin))? || shown)
    }
}

/// What is drawn of a row.
#[derive(Clone, Copy)]
struct Point {
    /// Not a number where it has none.
    time: f64,
    /// Where there is no flag.
    corrected: Option<Corrected>,
    celsius: f64,
    true_strain: f64,
    /// Uncertainty of mechanical strain, where it is known.
    expanded: Option<f64>,
}

/// The rows around the largest strain.
struct Event {
    /// Rows on either side.
    half: u64,
    has_thermal_output: bool,
    /// So many were seen.
    row: u64,
    /// The last of them, on both sides.
    last: VecDeque<Point>,
    /// The row of the largest strain yet, the last of equal ones: its number, its strain without sign, its time.
    strongest: Option<(u64, f64, f64)>,
    /// When the rows behind that row were seen.
    panel: Option<Panel>,
}

impl Event {
    fn add(&mut self, point: Point) {
        if self.last.len() as u64 == 2 * self.half {
            self.last.pop_front();
        }
        self.last.push_back(point);
        if let Some(corrected) = point.corrected {
            let strain = corrected.mechanical.abs();
            if self.strongest.is_none_or(|(_, strongest, _)| strain.total_cmp(&strongest).is_ge()) {
                self.strongest = Some((self.row, strain, point.time));
                self.panel = None;
            }
        }
        self.row += 1;
        match &mut self.panel {
            // A row behind the last may share its place in the picture.
            Some(panel) => panel.add(&point),
            None if self.strongest.is_some_and(|(row, ..)| row + self.half == self.row) => {
                self.panel = self.around_strongest();
            }
            None => {}
        }
    }

    /// At the end of the record, which may come before the rows behind the strongest have.
    fn panel(&self) -> Option<Cow<'_, Panel>> {
        self.panel.as_ref().map(Cow::Borrowed).or_else(|| self.around_strongest().map(Cow::Owned))
    }

    /// Of the rows on both sides, those behind being the last.
    fn around_strongest(&self) -> Option<Panel> {
        let (strongest, _, origin) = self.strongest?;
        let first_held = self.row - self.last.len() as u64;
        let rows = self.last.range(strongest.saturating_sub(self.half).saturating_sub(first_held) as usize..);
        let mut inside = rows.clone().map(|point| point.time).filter(|time| !time.is_nan());
        let from = inside.next()?;
        let to = inside.next_back().unwrap_or(from);
        let times = spanning(from - origin, to - origin);
        let mut panel = Panel::of(origin, times, EVENT, self.has_thermal_output);
        rows.for_each(|point| panel.add(point));
        Some(panel)
    }
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

/// Columns of a panel that the band takes for one: its ends move slowly.
const BAND_COLUMNS: usize = 2;

type Value = fn(&Corrected) -> f64;

/// Strains against time, as much as shows of them.
#[derive(Clone)]
struct Panel {
    /// What times are counted from.
    origin: f64,
    times: Range<f64>,
    columns: usize,
    /// With colours, the lowest first.
    curves: Vec<(Value, RGBColor, Envelope)>,
    temperature: Envelope,
    true_strain: Envelope,
    /// Mechanical strain less and plus its expanded uncertainty.
    band: Envelope,
    without: Gaps,
    strains: Ends<f64>,
    celsius: Ends<f64>,
    known: Ends<f64>,
    /// The largest distance of true from mechanical strain.
    apart: f64,
}

impl Panel {
    /// Before the first row, for an area of this width.
    fn of(origin: f64, times: Range<f64>, width: u32, has_thermal_output: bool) -> Self {
        // Where thermal output cancels it is nothing, and no line either.
        let curves = [
            (true, (|at| at.indicated) as Value, ORANGE),
            (has_thermal_output, |at| at.thermal_output, BLUE),
            (true, |at| at.mechanical, BLACK),
        ];
        let shown = curves.into_iter().filter(|(shows, ..)| *shows);
        Self {
            origin,
            times,
            columns: (width / SCALE) as usize,
            curves: shown.map(|(_, of, colour)| (of, colour, Envelope::default())).collect(),
            temperature: Envelope::default(),
            true_strain: Envelope::default(),
            band: Envelope::default(),
            without: Gaps::default(),
            strains: None,
            celsius: None,
            known: None,
            apart: 0.0,
        }
    }

    /// Adds the next row, if it has a time within those of the panel. Values count where there is no flag.
    fn add(&mut self, point: &Point) {
        let time = point.time - self.origin;
        if !self.times.contains(&time) {
            return;
        }
        let number = column(time, &self.times, self.columns);
        let known = (!point.true_strain.is_nan()).then_some(point.true_strain);
        if let Some(corrected) = &point.corrected {
            widen(&mut self.celsius, point.celsius);
            self.apart = self.apart.max((corrected.mechanical - point.true_strain).abs());
        } else {
            self.without.add(number);
        }
        for (of, _, envelope) in &mut self.curves {
            let value = point.corrected.as_ref().map(*of);
            value.into_iter().for_each(|value| widen(&mut self.strains, value));
            envelope.add(time, number, value);
        }
        // A row without a flag has the one where it has the other.
        let ends = point
            .corrected
            .zip(point.expanded)
            .map(|(at, expanded)| [at.mechanical - expanded, at.mechanical + expanded]);
        match ends {
            Some(ends) => ends.into_iter().for_each(|end| {
                widen(&mut self.strains, end);
                self.band.add(time, number / BAND_COLUMNS, Some(end));
            }),
            None => self.band.add(time, number / BAND_COLUMNS, None),
        }
        self.temperature.add(time, number, point.corrected.map(|_| point.celsius));
        known.into_iter().for_each(|value| widen(&mut self.known, value));
        self.true_strain.add(time, number, known);
    }

    /// Says whether the true strain was drawn.
    fn draw(&self, area: &Area, description: &str) -> Result<bool, Box<dyn Error>> {
        debug_assert_eq!(area.dim_in_pixel().0 / SCALE, self.columns as u32);
        let Self { times, columns, .. } = self;
        let columns = *columns;
        let span_of = |range: &Range<f64>| range.end - range.start;
        let ends = |ends: Ends<f64>| ends.into_iter().flat_map(|(low, high)| [low, high]);
        let strains = padded(ends(self.strains));
        // Within a line's width of mechanical strain, true strain would only cover the other line.
        let shows = self.apart > 0.01 * span_of(&strains);
        let strains = if shows {
            padded([strains.start, strains.end].into_iter().chain(ends(self.known)))
        } else {
            strains
        };
        let span = span_of(&strains);
        let warmth = padded(ends(self.celsius));
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
        let duration = span_of(times);
        let letters = [times.start, times.end].map(|time| label(time, duration).len() + 3);
        let room = (columns as f64 * f64::from(SCALE) / (0.5 * TEXT)) as usize;
        let time_labels = (room / letters[0].max(letters[1])).clamp(2, 9);
        mesh!(chart, (time_labels, duration, description), (7, span, "microstrain"), &BLACK);

        chart
            .configure_secondary_axes()
            .y_labels(5)
            .y_label_formatter(&|celsius| label(*celsius, warm_span))
            .y_desc("gauge temperature, C")
            .label_style(font(&GREEN))
            .axis_desc_style(font(&GREEN))
            .draw()?;

        let one = duration / columns as f64;
        chart.draw_series(self.without.columns().iter().map(|gap| {
            let from = times.start + one * gap.start as f64;
            // Wide enough to be seen.
            let to = times.start + one * gap.end.max(gap.start + 2) as f64;
            Rectangle::new([(from, strains.start), (to.min(times.end), strains.end)], FLAGGED.filled())
        }))?;
        for area in self.band.areas() {
            chart.draw_series([Polygon::new(area, SKY.filled())])?;
        }
        for line in self.temperature.lines() {
            chart.draw_secondary_series(LineSeries::new(line, GREEN.stroke_width(THIN)))?;
        }
        for (_, colour, envelope) in &self.curves {
            for line in envelope.lines() {
                chart.draw_series(LineSeries::new(line, colour.stroke_width(THIN)))?;
            }
        }
        if shows {
            for line in self.true_strain.lines() {
                let style = PURPLE.stroke_width(THIN);
                chart.draw_series(DashedLineSeries::new(line, 12, 8, style))?;
            }
        }
        Ok(shows)
    }
}

fn widen(ends: &mut Ends<f64>, value: f64) {
    *ends = Some(ends.map_or((value, value), |(low, high)| (low.min(value), high.max(value))));
}
