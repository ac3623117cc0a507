//! `replay.svg`: for each channel the record, its largest event, and the curves of the gauge.

mod curves;
mod envelope;
mod record;

use host::circuit::ThermalOutput;
use host::drawing::{Area, BLUE, Drawn, ORANGE, SCALE, TEXT, THIN, TITLE, text, write_page};
use host::figures::Figures;
use host::setup::Channel;
use plotters::prelude::*;
pub use record::Record;
use std::path::Path;

const WIDTH: u32 = 1240 * SCALE;
const ROW_HEIGHT: u32 = 336 * SCALE;
/// Widths of the panels of the whole record and of its largest event.
const WHOLE: u32 = WIDTH * 49 / 100;
const EVENT: u32 = WIDTH * 20 / 100;
const HEAD: u32 = 46 * SCALE;
const FOOT: u32 = 92 * SCALE;

const GREEN: RGBColor = RGBColor(0, 130, 100);
const PURPLE: RGBColor = RGBColor(204, 121, 167);
const SKY: RGBColor = RGBColor(86, 180, 233);
const FLAGGED: RGBColor = RGBColor(190, 190, 190);

/// # Errors
/// If the file cannot be written.
pub fn write(
    path: &Path,
    title: &str,
    time_column: &str,
    channels: &[(&Channel, &Figures, &Record)],
) -> Drawn {
    let height = HEAD + ROW_HEIGHT * channels.len() as u32 + FOOT;
    write_page(path, (WIDTH, height), |page| {
        text(page, title, (24, 24), TITLE)?;
        let (_, below) = page.split_vertically(HEAD);
        let (rows, foot) = below.split_vertically(ROW_HEIGHT * channels.len() as u32);
        for (area, (channel, figures, record)) in rows.split_evenly((channels.len(), 1)).iter().zip(channels)
        {
            row(area, time_column, channel, figures, record)?;
        }
        let line = (TEXT * 0.95) as i32;
        let has_band = channels.iter().any(|(channel, ..)| channel.uncertainty.is_some());
        for (at, note) in (0..).zip(NOTES.into_iter().chain(has_band.then_some(OF_THE_BAND))) {
            text(&foot, note, (24, 10 + at * line), TEXT * 0.85)?;
        }
        Ok(())
    })
}

const NOTES: [&str; 4] = [
    "Lines join the smallest and the largest value of every pixel column. Samples with a flag, or rejected, \
     are left out: grey bands.",
    "True strain is drawn only where it can be told from mechanical strain.",
    "Right: thermal output since balance (the dot) of each gauge, in the scale of indicated strain. Shaded: \
     the temperatures of the record.",
    "Where thermal output cancels in the bridge, only the gauge factor counts; with a compensating gauge, the \
     difference of the two curves does.",
];

const OF_THE_BAND: &str =
    "Around mechanical strain: its expanded uncertainty, 95 %, of what the channel file states.";

/// One channel: name and legend above three panels.
fn row(area: &Area, time_column: &str, channel: &Channel, figures: &Figures, record: &Record) -> Drawn {
    let (head, panels) = area.split_vertically(38 * SCALE);
    text(&head, &channel.name, (24, 14), TITLE)?;
    let (whole, rest) = panels.split_horizontally(WHOLE);
    let (event, curve) = rest.split_horizontally(EVENT);

    let true_strain_shows = record.draw(&whole, &event, time_column)?;
    let mut entries = vec![("indicated", ORANGE)];
    if channel.thermal_output != ThermalOutput::Cancels {
        entries.push(("thermal output", BLUE));
    }
    entries.push(("mechanical", BLACK));
    if channel.uncertainty.is_some() {
        entries.push(("95 %", SKY));
    }
    if true_strain_shows {
        entries.push(("true", PURPLE));
    }
    entries.push(("temperature", GREEN));
    // Behind the name, but in one line with the other legends if the names are short.
    let name_width = (0.55 * TITLE * channel.name.chars().count() as f64) as i32;
    let mut x = (220 * SCALE as i32).max(24 + name_width + 30 * SCALE as i32);
    for (name, colour) in entries {
        let middle = 14 + (TITLE * 0.4) as i32;
        let sample = vec![(x, middle), (x + 26 * SCALE as i32, middle)];
        head.draw(&PathElement::new(sample, colour.stroke_width(2 * THIN)))?;
        text(&head, name, (x + 33 * SCALE as i32, 16), TEXT)?;
        x += (33.0 * f64::from(SCALE) + 0.5 * TEXT * name.len() as f64) as i32 + 24 * SCALE as i32;
    }
    // Above the curves, unless a long name has pushed the legend there.
    let above = (WIDTH * 69 / 100 + 94 * SCALE) as i32;
    if let Some(circuit) = channel.circuit.filter(|_| x < above) {
        text(&head, circuit.name(), (above, 16), TEXT)?;
    }
    curves::draw(&curve, channel, figures)
}
