//! The panel against temperature: thermal output and gauge factor over the declared range. Where the record's
//! temperatures lie is shaded.

use super::{Area, BLUE, Drawn, GRID, SCALE, TEXT, THIN, label, padded};
use crate::results::Results;
use crate::setup::Channel;
use gaugewright::units::{Celsius, GaugeFactor};
use plotters::prelude::*;

const POINTS: u32 = 200;
const RED: RGBColor = RGBColor(170, 50, 90);
const SHADE: RGBColor = RGBColor(234, 241, 247);

pub fn draw(area: &Area, channel: &Channel, results: &Results) -> Drawn {
    let (Celsius(low), Celsius(high)) = channel.temperatures;
    let at = |point: u32| low + (high - low) * f64::from(point) / f64::from(POINTS);
    let curve = |of: &dyn Fn(Celsius) -> f64| -> Vec<(f64, f64)> {
        (0..=POINTS).map(at).map(|celsius| (celsius, of(Celsius(celsius)))).collect()
    };
    let thermal_output = |at: Celsius| channel.model.thermal_output(at).microstrain().0;
    let thermal = curve(&thermal_output);
    let factor = curve(&|at| channel.gauge.gauge_factor_at(at).0);
    let strains = padded(thermal.iter().map(|(_, strain)| *strain));
    // At least one percent of it, so that a factor that stays the same is a line across the middle.
    let GaugeFactor(middle) = channel.gauge.gauge_factor_at(Celsius(0.5 * (low + high)));
    let about = [0.995 * middle, 1.005 * middle];
    let factors = padded(factor.iter().map(|(_, factor)| *factor).chain(about));
    let (strain_span, factor_span) = (strains.end - strains.start, factors.end - factors.start);

    let font = |colour: &RGBColor| ("sans-serif", TEXT).into_font().color(colour);
    let mut chart = ChartBuilder::on(area)
        .margin_right(10 * SCALE)
        .margin_left(12 * SCALE)
        .margin_bottom(6 * SCALE)
        .margin_top(4 * SCALE)
        .x_label_area_size(46 * SCALE)
        .y_label_area_size(82 * SCALE)
        .right_y_label_area_size(76 * SCALE)
        .build_cartesian_2d(low..high, strains.clone())?
        .set_secondary_coord(low..high, factors);
    let measured = || results.usable_rows().map(|row| results.series.temperatures[row]);
    if let (Some(coldest), Some(hottest)) = (measured().min(), measured().max()) {
        let from = coldest.celsius().0.clamp(low, high);
        let to = hottest.celsius().0.clamp(low, high);
        let shade = Rectangle::new([(from, strains.start), (to, strains.end)], SHADE.filled());
        chart.draw_series([shade])?;
    }
    chart
        .configure_mesh()
        .light_line_style(TRANSPARENT)
        .bold_line_style(GRID)
        .x_labels(6)
        .y_labels(7)
        .x_label_formatter(&|celsius| label(*celsius, high - low))
        .y_label_formatter(&|strain| label(*strain, strain_span))
        .x_desc("gauge temperature, C")
        .y_desc("thermal output, microstrain")
        .label_style(font(&BLACK))
        .axis_desc_style(font(&BLUE))
        .draw()?;
    chart
        .configure_secondary_axes()
        .y_labels(7)
        .y_label_formatter(&|factor| label(*factor, factor_span))
        .y_desc("gauge factor (dashed)")
        .label_style(font(&BLACK))
        .axis_desc_style(font(&RED))
        .draw()?;
    chart.draw_secondary_series(DashedLineSeries::new(factor, 14, 9, RED.stroke_width(THIN)))?;
    chart.draw_series(LineSeries::new(thermal, BLUE.stroke_width(THIN + 1)))?;
    if let Some(balance) = channel.balanced_at.filter(|at| at.0 >= low && at.0 <= high) {
        let at = (balance.0, thermal_output(balance));
        chart.draw_series([Circle::new(at, 5 * SCALE, BLUE.filled())])?;
    }
    Ok(())
}
