//! The channel file as it was, with the fitted curve in the place of the package's.

use crate::fitted::Fitted;
use crate::job::Job;
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, TableLike, Value, value};

/// The new file, and what in it is not as it was.
pub struct Written {
    pub text: String,
    pub changes: Vec<String>,
}

/// # Errors
/// If the file is not what was read before.
pub fn commissioned(
    text: &str,
    job: &Job,
    fitted: &Fitted,
    new_span: Option<f64>,
    run: &str,
) -> Result<Written, String> {
    let mut document: DocumentMut = text.parse().map_err(|error: toml_edit::TomlError| error.to_string())?;
    let channel = channel(&mut document, job.index).ok_or("the channel is not where it was read")?;
    let mut changes = vec!["[channel.gauge.thermal_output]: the curve of the run".to_string()];
    // Measured on the part itself: there is no mismatch left to add.
    for key in ["specimen_expansion_ppm_per_c", "mismatch_scale"] {
        if channel.remove(key).is_some() {
            changes.push(format!("{key}: left out, since the curve was measured on the part"));
        }
    }
    let (low, high) = fitted.curve.temperatures();
    if let Some([declared_low, declared_high]) = job.description.temperature_within_c {
        if declared_low < low.0 || declared_high > high.0 {
            let within = [declared_low.max(low.0), declared_high.min(high.0)];
            channel.insert("temperature_within_c", value(Array::from_iter(within)));
            changes.push(format!(
                "temperature_within_c: {declared_low} to {declared_high} C before, now {} to {} C, since the run \
                 says nothing beyond",
                within[0], within[1]
            ));
        }
    }
    if let Some(span) = new_span {
        let converter = channel.get_mut("converter").and_then(Item::as_table_like_mut);
        converter.ok_or("the channel has no converter")?.insert("span_correction", value(span));
        changes.push(format!("[channel.converter] span_correction: {span:.6}, by the shunt"));
    }
    let gauge = channel.get_mut("gauge").ok_or("the channel has no gauge")?;
    let curve = curve(fitted);
    let comment = format!(
        "# Fitted to {run}: {} points, degree {}, residual standard deviation {:.2} microstrain.\n",
        fitted.points.len(),
        fitted.curve.degree(),
        fitted.curve.residual_standard_deviation().0,
    );
    if let Some(gauge) = gauge.as_table_mut() {
        // Where one stands already its place and the comment above it are kept.
        let mut table = match gauge.remove("thermal_output") {
            Some(Item::Table(table)) => table,
            _ => Table::new(),
        };
        table.clear();
        table.extend(curve);
        if let Some(mut key) = table.key_mut("unit") {
            key.leaf_decor_mut().set_prefix(comment);
        }
        gauge.insert("thermal_output", Item::Table(table));
    } else {
        let gauge = gauge.as_table_like_mut().ok_or("the channel's gauge is no table")?;
        gauge.insert("thermal_output", Item::Value(Value::InlineTable(InlineTable::from_iter(curve))));
    }
    Ok(Written { text: document.to_string(), changes })
}

/// The curve as a constant, for firmware that has its channels compiled in.
pub fn constant(job: &Job, fitted: &Fitted, run: &str) -> String {
    let coefficients = &fitted.curve.polynomial().coefficients()[..=fitted.curve.degree()];
    let terms: Vec<String> = coefficients.iter().map(|term| format!("    {term:?},\n")).collect();
    let (low, high) = fitted.curve.temperatures();
    // A name may hold anything.
    let name: String = job.description.name.escape_default().collect();
    format!(
        "// Thermal output of {name}, fitted to {run}. Its channel takes no specimen: the curve was measured on the part.\n\
         use gaugewright::ThermalOutput;\n\
         use gaugewright::units::{{Celsius, GaugeFactor}};\n\n\
         pub const MEASURED: ThermalOutput = ThermalOutput::celsius([\n{}])\n\
         .stated_for(GaugeFactor({:?}))\n\
         .between(Celsius({:?}), Celsius({:?}));\n",
        terms.concat(),
        fitted.gauge_factor.0,
        low.0,
        high.0
    )
}

fn channel(document: &mut DocumentMut, index: usize) -> Option<&mut dyn TableLike> {
    match document.get_mut("channel")? {
        Item::ArrayOfTables(tables) => Some(tables.get_mut(index)? as &mut dyn TableLike),
        Item::Value(Value::Array(tables)) => {
            Some(tables.get_mut(index)?.as_inline_table_mut()? as &mut dyn TableLike)
        }
        _ => None,
    }
}

/// Keys and values, as the channel file has them.
fn curve(fitted: &Fitted) -> [(&'static str, Value); 4] {
    let coefficients = fitted.curve.polynomial().coefficients();
    let (low, high) = fitted.curve.temperatures();
    [
        ("unit", Value::from("C")),
        ("coefficients", Array::from_iter(coefficients[..=fitted.curve.degree()].iter().copied()).into()),
        ("stated_for_gauge_factor", Value::from(fitted.gauge_factor.0)),
        ("fitted_between", Array::from_iter([low.0, high.0]).into()),
    ]
}
