//! The panel against temperature: thermal output and gauge factor over the declared range. Where the record's
//! temperatures lie is shaded.

use gaugewright::fixed::Temperature;
use gaugewright::units::{Celsius, GaugeFactor};
use host::circuit::ThermalOutput;
use host::drawing::{Area, BLUE, Drawn, ORANGE, SCALE, TEMPERATURE, TEXT, THIN, font, label, padded, panel};
use host::figures::Figures;
use host::mesh;
use host::setup::Channel;
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use std::ops::Range;

const POINTS: u32 = 200;
/// Of the axis on the right.
const RIGHT: u32 = 76 * SCALE;
const RED: RGBColor = RGBColor(170, 50, 90);
const SHADE: RGBColor = RGBColor(234, 241, 247);

type Chart<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;
type Curve = Vec<(f64, f64)>;

pub fn draw(area: &Area, channel: &Channel, figures: &Figures) -> Drawn {
    let factor = curve(channel.temperatures, |celsius| channel.gauge.gauge_factor_at(Celsius(celsius)).0);
    // At least one percent of it, so that a factor that stays the same is a line across the middle.
    let (Celsius(low), Celsius(high)) = channel.temperatures;
    let GaugeFactor(middle) = channel.gauge.gauge_factor_at(Celsius(0.5 * (low + high)));
    let about = [0.995 * middle, 1.005 * middle];
    let factors = padded(factor.iter().map(|(_, factor)| *factor).chain(about));
    if channel.thermal_output == ThermalOutput::Cancels {
        factor_alone(area, channel, figures, factor, factors)
    } else {
        both(area, channel, figures, factor, factors)
    }
}

/// Thermal output on the left axis, gauge factor on the right.
fn both(area: &Area, channel: &Channel, figures: &Figures, factor: Curve, factors: Range<f64>) -> Drawn {
    let thermal = curve(channel.temperatures, |celsius| channel.measuring_output(celsius));
    let second = channel.compensating.as_ref();
    let compensating = second.map_or(Vec::new(), |second| {
        curve(second.temperatures, |celsius| channel.compensating_output(celsius))
    });
    let strains = padded(thermal.iter().chain(&compensating).map(|(_, strain)| *strain));
    let strain_span = strains.end - strains.start;
    let (mut low, mut high) = (channel.temperatures.0.0, channel.temperatures.1.0);
    if let Some(second) = second {
        (low, high) = (low.min(second.temperatures.0.0), high.max(second.temperatures.1.0));
    }

    let mut chart = panel(area, 4, 10)
        .right_y_label_area_size(RIGHT)
        .build_cartesian_2d(low..high, strains.clone())?
        .set_secondary_coord(low..high, factors.clone());
    shade(&mut chart, figures, &(low..high), &strains)?;
    mesh!(chart, (6, high - low, TEMPERATURE), (7, strain_span, "thermal output, microstrain"), &BLUE);
    chart
        .configure_secondary_axes()
        .y_labels(7)
        .y_label_formatter(&|factor| label(*factor, factors.end - factors.start))
        .y_desc("gauge factor (dashed)")
        .label_style(font(&BLACK))
        .axis_desc_style(font(&RED))
        .draw()?;
    chart.draw_secondary_series(DashedLineSeries::new(factor, 14, 9, RED.stroke_width(THIN)))?;
    chart.draw_series(LineSeries::new(thermal, BLUE.stroke_width(THIN + 1)))?;
    // The two may lie on each other: dots let both be seen.
    let dots = compensating.iter().step_by(6).map(|at| Circle::new(*at, 3 * SCALE, ORANGE.filled()));
    chart.draw_series(dots)?;
    if let Some(at) = channel.balanced_at.map(|at| at.0).filter(|at| (low..=high).contains(at)) {
        let balance = (at, channel.measuring_output(at));
        chart.draw_series([Circle::new(balance, 5 * SCALE, BLUE.filled())])?;
    }
    if let Some(second) = second {
        if let Some(at) = second.balanced_at.map(|at| at.0).filter(|at| (low..=high).contains(at)) {
            let balance = (at, channel.compensating_output(at));
            chart.draw_series([Circle::new(balance, 5 * SCALE, ORANGE.filled())])?;
        }
        say(&chart, Place::LowerRight(1), "measuring", &BLUE)?;
        say(&chart, Place::LowerRight(0), "compensating (dots)", &ORANGE)?;
    }
    Ok(())
}

/// Nothing but the gauge factor counts.
fn factor_alone(
    area: &Area,
    channel: &Channel,
    figures: &Figures,
    factor: Curve,
    factors: Range<f64>,
) -> Drawn {
    let (Celsius(low), Celsius(high)) = channel.temperatures;
    let factor_span = factors.end - factors.start;
    // Where it stands in the other panels.
    let mut chart = panel(area, 4, 10)
        .right_y_label_area_size(RIGHT)
        .y_label_area_size(0)
        .margin_left((12 + 82) * SCALE)
        .build_cartesian_2d(low..high, factors.clone())?;
    shade(&mut chart, figures, &(low..high), &factors)?;
    mesh!(chart, (6, high - low, TEMPERATURE), (7, factor_span, "gauge factor (dashed)"), &RED);
    // The corner that the line leaves free.
    let rises = factor.first().map(|at| at.1) <= factor.last().map(|at| at.1);
    let place = if rises { Place::UpperLeft } else { Place::UpperRight };
    chart.draw_series(DashedLineSeries::new(factor, 14, 9, RED.stroke_width(THIN)))?;
    say(&chart, place, "thermal output cancels", &BLUE)
}

/// Where the temperatures of the gauges lie in the record, over a panel of this width and height.
fn shade(chart: &mut Chart, figures: &Figures, width: &Range<f64>, height: &Range<f64>) -> Drawn {
    if let Some((coldest, hottest)) = figures.all_temperatures() {
        let [from, to] =
            [coldest, hottest].map(|at: Temperature| at.celsius().0.clamp(width.start, width.end));
        let shade = Rectangle::new([(from, height.start), (to, height.end)], SHADE.filled());
        chart.draw_series([shade])?;
    }
    Ok(())
}

/// A corner of a panel, and a line there, counted from the edge.
#[derive(Clone, Copy)]
enum Place {
    UpperLeft,
    UpperRight,
    LowerRight(u32),
}

fn say(chart: &Chart, place: Place, words: &str, colour: &RGBColor) -> Drawn {
    let area = chart.plotting_area().strip_coord_spec();
    let (width, height) = area.dim_in_pixel();
    let edge = 7 * SCALE as i32;
    let (right, bottom) = (width as i32 - edge, height as i32 - edge);
    let (at, across, down) = match place {
        Place::UpperLeft => ((edge, edge), HPos::Left, VPos::Top),
        Place::UpperRight => ((right, edge), HPos::Right, VPos::Top),
        Place::LowerRight(line) => {
            let up = (f64::from(line) * 1.15 * TEXT) as i32;
            ((right, bottom - up), HPos::Right, VPos::Bottom)
        }
    };
    let style = font(colour).pos(Pos::new(across, down));
    Ok(area.draw(&Text::new(words.to_string(), at, style))?)
}

fn curve((Celsius(low), Celsius(high)): (Celsius, Celsius), of: impl Fn(f64) -> f64) -> Curve {
    let at = |point: u32| low + (high - low) * f64::from(point) / f64::from(POINTS);
    (0..=POINTS).map(at).map(|celsius| (celsius, of(celsius))).collect()
}
