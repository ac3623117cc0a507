//! `matches.svg`: the fan of curves, one for each match on offer, with the window where they count.

use super::labels::spread;
use super::{BLUE, GREEN, HEAD, LEFT, Mark, SHADE, WIDTH, legend};
use crate::advice::{Advice, Offer};
use crate::job::Job;
use host::drawing::{
    Area, Drawn, SCALE, TEMPERATURE, TEXT, THIN, TITLE, font, padded, panel, text, write_page,
};
use host::figures::ends;
use host::mesh;
use plotters::prelude::*;
use std::path::Path;

const FAN: u32 = 520 * SCALE;
const FOOT: u32 = 74 * SCALE;
/// Of the labels at the ends.
const SIDE: u32 = 150 * SCALE;
const GREY: RGBColor = RGBColor(120, 120, 120);

/// # Errors
/// If the file cannot be written.
pub fn write(path: &Path, job: &Job, advice: &Advice) -> Drawn {
    write_page(path, (WIDTH, HEAD + FAN + FOOT), |page| {
        let (head, below) = page.split_vertically(HEAD);
        let (fan, foot) = below.split_vertically(FAN);
        let title = format!("{}: what other matches would have shown", job.description.name);
        text(&head, &title, (LEFT as i32, 24), TITLE)?;
        legend(
            &head,
            96,
            &[
                (Mark::Line(BLUE), "this gauge"),
                (Mark::Line(GREEN), "least span"),
                (Mark::Line(GREY), "others on offer"),
                (Mark::Block(SHADE), "window"),
            ],
        )?;
        draw(&fan, advice)?;
        let notes = [
            "Thermal output since balance, at the gauge factor of the run, by the curve of the run.",
            "A match to more than this gauge's turns the curve clockwise, a match to less counter-clockwise.",
        ];
        for (line, note) in (0..).zip(notes) {
            text(&foot, note, (LEFT as i32, 20 + line * (TEXT * 0.95) as i32), TEXT * 0.85)?;
        }
        Ok(())
    })
}

fn draw(area: &Area, advice: &Advice) -> Drawn {
    let all = || advice.offers.iter().flat_map(|offer| &offer.curve);
    let (low, high) = ends(all().map(|(celsius, _)| *celsius));
    let width = low..high;
    let height = padded(all().map(|(_, y)| *y));
    let span = height.end - height.start;
    let (chart_area, side) = area.split_horizontally(WIDTH - SIDE);
    let mut chart = panel(&chart_area, 6, 0).build_cartesian_2d(width.clone(), height.clone())?;
    let (from, to) = (advice.window.0.0.max(low), advice.window.1.0.min(high));
    let window = Rectangle::new([(from, height.start), (to, height.end)], SHADE.filled());
    chart.draw_series([window])?;
    mesh!(chart, (9, width.end - width.start, TEMPERATURE), (8, span, "thermal output, microstrain"), &BLACK);
    for offer in &advice.offers {
        let (colour, more) = style(advice, offer);
        let line = offer.curve.iter().copied();
        chart.draw_series(LineSeries::new(line, colour.stroke_width(THIN + more)))?;
    }
    // Beside the end of each curve, counted from the top of the panel.
    let pixels = chart.plotting_area().get_y_axis_pixel_range();
    let share = |y: f64| (height.end - y) / span;
    let panel = f64::from(pixels.end - pixels.start);
    let top = pixels.start - area.get_pixel_range().1.start;
    let line = (1.15 * TEXT) as i32;
    let end = |offer: &Offer| {
        let y = offer.curve.last().map_or(0.0, |(_, y)| *y);
        top + (share(y) * panel) as i32
    };
    let ends: Vec<i32> = advice.offers.iter().map(end).collect();
    let wanted: Vec<i32> = ends.iter().map(|end| end - line / 2).collect();
    let places = spread(&wanted, line, (0, FAN as i32));
    for ((offer, end), place) in advice.offers.iter().zip(ends).zip(places) {
        let (colour, _) = style(advice, offer);
        let leader = vec![(2, end), (20, place + line / 2), (30, place + line / 2)];
        side.draw(&PathElement::new(leader, colour.stroke_width(2)))?;
        let words = format!("{} ppm/C", offer.ppm());
        side.draw(&Text::new(words, (36, place + line / 8), font(&colour)))?;
    }
    Ok(())
}

fn style(advice: &Advice, offer: &Offer) -> (RGBColor, u32) {
    if offer.matched == advice.present {
        (BLUE, 3)
    } else if offer.matched == advice.offers[advice.least_span.index].matched {
        (GREEN, 3)
    } else {
        (GREY, 0)
    }
}
