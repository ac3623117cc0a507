//! The three pictures, as SVG.

/// The points of the run, rising ones full, falling ones hollow.
macro_rules! draw_points {
    ($chart:expr, $fitted:expr, $height:expr) => {
        for point in &$fitted.points {
            let at = (point.temperature.0, $height(point));
            let style: ShapeStyle = match point.sweep {
                Direction::Heating => RED.filled(),
                Direction::Cooling => ORANGE.stroke_width(3),
            };
            $chart.draw_series([Circle::new(at, 4 * SCALE, style)])?;
        }
    };
}

mod bars;
mod curve;
mod labels;
mod matches;

pub use bars::write as write_budget;
pub use curve::write as write_curve;
pub use matches::write as write_matches;

use host::drawing::{Area, BLUE, Drawn, SCALE, TEXT, text};
use plotters::prelude::*;

const WIDTH: u32 = 1000 * SCALE;
const HEAD: u32 = 84 * SCALE;
const LEFT: u32 = 24;

const GREEN: RGBColor = RGBColor(0, 130, 100);
const RED: RGBColor = RGBColor(170, 50, 90);
const SHADE: RGBColor = RGBColor(222, 234, 244);

/// How wide words of this size come out, at most.
fn width_of(words: &str, size: f64) -> i32 {
    (0.56 * size * words.chars().count() as f64) as i32
}

/// What stands in a legend before the words.
enum Mark {
    Line(RGBColor),
    Dashes(RGBColor),
    Dot(RGBColor),
    Ring(RGBColor),
    Block(RGBColor),
}

/// A line of marks with their words.
fn legend(area: &Area, top: i32, entries: &[(Mark, &str)]) -> Drawn {
    let length = 26 * SCALE as i32;
    let middle = top + (TEXT * 0.45) as i32;
    let radius = 4 * SCALE as i32;
    let mut x = LEFT as i32;
    for (mark, words) in entries {
        let ends = |y| vec![(x, y), (x + length, y)];
        let centre = (x + length / 2, middle);
        match mark {
            Mark::Line(colour) => area.draw(&PathElement::new(ends(middle), colour.stroke_width(5)))?,
            Mark::Dashes(colour) => {
                for start in [0, 2, 4] {
                    let from = x + start * length / 5;
                    let dash = vec![(from, middle), (from + length / 5, middle)];
                    area.draw(&PathElement::new(dash, colour.stroke_width(4)))?;
                }
            }
            Mark::Dot(colour) => area.draw(&Circle::new(centre, radius, colour.filled()))?,
            Mark::Ring(colour) => area.draw(&Circle::new(centre, radius, colour.stroke_width(3)))?,
            Mark::Block(colour) => {
                let corners = [(x, middle - radius), (x + length, middle + radius)];
                area.draw(&Rectangle::new(corners, colour.filled()))?;
            }
        }
        text(area, words, (x + length + 12, top), TEXT)?;
        x += length + 12 + width_of(words, TEXT) + 36;
    }
    Ok(())
}
