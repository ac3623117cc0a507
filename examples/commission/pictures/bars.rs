//! `budget.svg`: what the uncertainty is made of, at three temperatures, without load and with.

use super::{BLUE, HEAD, LEFT, Mark, RED, WIDTH, legend};
use crate::budget::{Budget, CONTRIBUTIONS, Inputs};
use host::drawing::{Area, Drawn, GRID, ORANGE, SCALE, TEXT, TITLE, font, text, write_page};
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use std::path::Path;

/// Of one bar.
const BAR: i32 = 13 * SCALE as i32;
/// Of the bars of one contribution.
const GROUP: i32 = 3 * BAR + 14 * SCALE as i32;
const PANEL_HEAD: i32 = 34 * SCALE as i32;
const PANEL_FOOT: i32 = 22 * SCALE as i32;
const NAMES: i32 = 200 * SCALE as i32;
const FOOT: u32 = 60 * SCALE;
const COLOURS: [RGBColor; 3] = [BLUE, ORANGE, RED];
/// Room for a number behind the longest bar.
const NUMBERS: i32 = 90 * SCALE as i32;

/// # Errors
/// If the file cannot be written.
pub fn write(path: &Path, inputs: &Inputs) -> Drawn {
    let panels = [inputs.three(0.0)?, inputs.three(inputs.load())?];
    // The contributions, all of them together, and what is stated.
    let rows = CONTRIBUTIONS.len() as i32 + 2;
    let panel = (PANEL_HEAD + rows * GROUP + PANEL_FOOT) as u32;
    write_page(path, (WIDTH, HEAD + 2 * panel + FOOT), |page| {
        let (head, below) = page.split_vertically(HEAD);
        let name = &inputs.job.description.name;
        text(&head, &format!("{name}: what the uncertainty is made of"), (LEFT as i32, 24), TITLE)?;
        let places = panels[0].each_ref().map(|budget| format!("at {:.1} C", budget.celsius));
        let marks = COLOURS.map(Mark::Block).into_iter().zip(places.iter().map(String::as_str));
        legend(&head, 96, &marks.collect::<Vec<_>>())?;
        let (bars, foot) = below.split_vertically(2 * panel);
        for (area, budgets) in bars.split_evenly((2, 1)).iter().zip(&panels) {
            draw(area, budgets, inputs)?;
        }
        let note = "Standard uncertainties of mechanical strain in microstrain; the last bars are the expanded ones. \
                    Each half has a scale of its own.";
        text(&foot, note, (LEFT as i32, 20), TEXT * 0.85)
    })
}

fn draw(area: &Area, budgets: &[Budget; 3], inputs: &Inputs) -> Drawn {
    let strain = budgets[0].strain;
    let load =
        if strain == 0.0 { "without load".to_string() } else { format!("at {strain} microstrain of load") };
    text(area, &load, (LEFT as i32, 8), TEXT * 1.1)?;
    let expanded = format!("expanded, {} %", inputs.job.coverage.0);
    let names = CONTRIBUTIONS.into_iter().chain(["combined", expanded.as_str()]);
    let most = budgets.iter().map(|budget| budget.expanded).fold(0.0, f64::max).max(1e-9);
    let room = WIDTH as i32 - NAMES - NUMBERS;
    let long = |number: f64| (f64::from(room) * number / most) as i32;
    area.draw(&PathElement::new(
        vec![(NAMES, PANEL_HEAD), (NAMES, PANEL_HEAD + (CONTRIBUTIONS.len() as i32 + 2) * GROUP)],
        GRID.stroke_width(3),
    ))?;
    for (row, name) in (0..).zip(names) {
        let top = PANEL_HEAD + row * GROUP;
        let style = font(&BLACK).pos(Pos::new(HPos::Right, VPos::Center));
        area.draw(&Text::new(name, (NAMES - 20, top + 3 * BAR / 2), style))?;
        for (step, (budget, colour)) in (0..).zip(budgets.iter().zip(COLOURS)) {
            let numbers = [budget.combined, budget.expanded];
            let number =
                budget.contributions.iter().chain(&numbers).nth(row as usize).copied().unwrap_or(0.0);
            let from = top + step * BAR;
            let corners = [(NAMES, from + 2), (NAMES + long(number), from + BAR - 2)];
            area.draw(&Rectangle::new(corners, colour.filled()))?;
            let style = ("sans-serif", TEXT * 0.7).into_font().color(&BLACK);
            let style = style.pos(Pos::new(HPos::Left, VPos::Center));
            let said = said(number);
            area.draw(&Text::new(said, (NAMES + long(number) + 10, from + BAR / 2), style))?;
        }
    }
    Ok(())
}

/// Two or three digits of it.
fn said(number: f64) -> String {
    match number {
        _ if number == 0.0 => "0".to_string(),
        _ if number < 0.01 => format!("{number:.5}"),
        _ if number < 10.0 => format!("{number:.2}"),
        _ => format!("{number:.1}"),
    }
}
