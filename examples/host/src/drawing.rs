//! What all pictures share: sizes, colours, words, and the page that is written.

use crate::figures::ends;
use plotters::coord::Shift;
use plotters::prelude::*;
use std::error::Error;
use std::path::Path;

pub type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
pub type Drawn = Result<(), Box<dyn Error>>;

// Drawn at twice the size it is shown at, since coordinates are whole numbers.
pub const SCALE: u32 = 2;

pub const TITLE: f64 = 21.0 * SCALE as f64;
pub const TEXT: f64 = 17.0 * SCALE as f64;
pub const THIN: u32 = 3;

// Of a set made to be told apart by colour-blind readers too.
pub const BLUE: RGBColor = RGBColor(0, 114, 178);
pub const ORANGE: RGBColor = RGBColor(230, 130, 0);
pub const GRID: RGBColor = RGBColor(225, 225, 225);

/// Draws a page of this size, in drawn pixels, and writes it to `path`.
///
/// # Errors
/// If it cannot be drawn or the file cannot be written.
pub fn write_page(path: &Path, (width, height): (u32, u32), draw: impl FnOnce(&Area) -> Drawn) -> Drawn {
    let mut svg = String::new();
    {
        let page = SVGBackend::with_string(&mut svg, (width, height)).into_drawing_area();
        page.fill(&WHITE)?;
        draw(&page)?;
        page.present()?;
    }
    let drawn = format!("width=\"{width}\" height=\"{height}\"");
    let shown = format!("width=\"{}\" height=\"{}\"", width / SCALE, height / SCALE);
    Ok(std::fs::write(path, svg.replacen(&drawn, &shown, 1))?)
}

pub fn text(area: &Area, words: &str, at: (i32, i32), size: f64) -> Drawn {
    Ok(area.draw(&Text::new(words.to_string(), at, ("sans-serif", size).into_font()))?)
}

/// A panel with room for its axes, and these margins above and to the right.
pub fn panel<'a, 'b>(area: &'a Area<'b>, above: u32, right: u32) -> ChartBuilder<'a, 'b, SVGBackend<'b>> {
    let mut builder = ChartBuilder::on(area);
    builder
        .margin_top(above * SCALE)
        .margin_right(right * SCALE)
        .margin_bottom(6 * SCALE)
        .margin_left(12 * SCALE)
        .x_label_area_size(46 * SCALE)
        .y_label_area_size(82 * SCALE);
    builder
}

pub fn font(colour: &RGBColor) -> TextStyle<'static> {
    ("sans-serif", TEXT).into_font().color(colour)
}

/// The grid of a panel and its axes: how many labels, how wide the panel is and what it is called, in the colour of its words.
#[macro_export]
macro_rules! mesh {
    ($chart:expr, ($x_labels:expr, $width:expr, $x:expr), ($y_labels:expr, $height:expr, $y:expr), $colour:expr) => {
        $chart
            .configure_mesh()
            .light_line_style(TRANSPARENT)
            .bold_line_style($crate::drawing::GRID)
            .x_labels($x_labels)
            .y_labels($y_labels)
            .x_label_formatter(&|value| $crate::drawing::label(*value, $width))
            .y_label_formatter(&|value| $crate::drawing::label(*value, $height))
            .x_desc($x)
            .y_desc($y)
            .label_style($crate::drawing::font(&BLACK))
            .axis_desc_style($crate::drawing::font($colour))
            .draw()?
    };
}

/// What the axis against temperature is called.
pub const TEMPERATURE: &str = "gauge temperature, C";

/// A little more than from the smallest to the largest of the values; never empty.
pub fn padded(values: impl Iterator<Item = f64>) -> std::ops::Range<f64> {
    let (low, high) = ends(values);
    if low > high {
        return -1.0..1.0;
    }
    let margin = (0.06 * (high - low)).max(1e-6 * high.abs().max(low.abs())).max(1e-9);
    low - margin..high + margin
}

/// With as many decimals as the span calls for.
pub fn label(value: f64, span: f64) -> String {
    let decimals = (1.0 - span.log10()).ceil().clamp(0.0, 9.0) as usize;
    let text = format!("{value:.decimals$}");
    // Not `-0`.
    if text.trim_start_matches(['-', '0', '.']).is_empty() { "0".to_string() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_tell_neighbours_apart() {
        assert_eq!(label(-0.000_01, 10_000.0), "0");
        assert_eq!(label(2.065, 0.04), "2.065");
        assert_eq!(label(1500.0, 4000.0), "1500");
    }

    #[test]
    fn a_range_is_never_empty() {
        for values in [vec![], vec![0.0], vec![5.0, 5.0], vec![1.0, 2.0]] {
            let range = padded(values.into_iter());
            assert!(range.start < range.end);
        }
    }
}
