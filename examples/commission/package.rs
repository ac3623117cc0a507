//! The channel file as it was, with the fitted curve in the place of the package's.

use crate::fitted::{Fitted, OfThermalOutput};
use crate::job::Job;
use crate::loaded::Loaded;
use crate::places::place_of_largest;
use crate::trial::name_of;
use gaugewright::Error;
use gaugewright::units::Celsius;
use host::contradictions::LEAST_UNCERTAINTY;
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, TableLike, Value, value};

const SLOPE: &str = "gauge_factor_slope_percent_per_100_c";

/// The new file, and what in it is not as it was.
pub struct Written {
    pub text: String,
    pub changes: Vec<String>,
}

/// What takes its place in the file.
pub struct Found<'a> {
    pub job: &'a Job,
    pub fitted: &'a Fitted,
    pub loaded: Option<&'a Loaded>,
    /// That the shunt gave, where it takes the place of the stated one.
    pub new_span: Option<f64>,
    /// The name of the run.
    pub run: &'a str,
}

impl Found<'_> {
    /// # Errors
    /// If the file is not what was read before.
    pub fn commissioned(&self, text: &str) -> Result<Written, String> {
        let Self { job, fitted, loaded, new_span, run } = *self;
        let mut document: DocumentMut =
            text.parse().map_err(|error: toml_edit::TomlError| error.to_string())?;
        let channel = channel(&mut document, job.index).ok_or("the channel is not where it was read")?;
        let mut changes = vec!["[channel.gauge.thermal_output]: the curve of the run".to_string()];
        // Measured on the part itself: there is no mismatch left to add.
        for key in ["specimen_expansion_ppm_per_c", "mismatch_scale"] {
            if channel.remove(key).is_some() {
                changes.push(format!("{key}: left out, since the curve was measured on the part"));
            }
        }
        if let Some(within) = self.narrowed() {
            let (low, high) = self.declared();
            channel.insert("temperature_within_c", value(Array::from_iter(within)));
            changes.push(format!(
            "temperature_within_c: {low} to {high} C before, now {} to {} C, since {} says nothing beyond",
            within[0],
            within[1],
            if loaded.is_some() { "a run" } else { "the run" }
        ));
        }
        if let Some(span) = new_span {
            let converter = channel.get_mut("converter").and_then(Item::as_table_like_mut);
            converter.ok_or("the channel has no converter")?.insert("span_correction", value(span));
            changes.push(format!("[channel.converter] span_correction: {span:.6}, by the shunt"));
        }
        changes.extend(self.uncertainties(channel)?);
        let gauge = channel.get_mut("gauge").ok_or("the channel has no gauge")?;
        let curve = curve(fitted);
        let left_out = self.left_out();
        let comment = format!(
            "# Fitted to {run}: {} points, degree {}, residual standard deviation {:.2} microstrain.{left_out}\n",
            fitted.points.len(),
            fitted.curve.degree(),
            fitted.curve.residual_standard_deviation().0,
        );
        if let Some(loaded) = loaded {
            let has_lines = gauge.is_table();
            let gauge = gauge.as_table_like_mut().ok_or("the channel's gauge is no table")?;
            changes.push(factor(gauge, loaded, has_lines));
        }
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

    /// What a replay takes the uncertainty of each sample from: the package's part leaves, and the largest of the run's own takes its
    /// place. What is stated for commissioning alone is stated there too. Nothing where the file states no uncertainty at all.
    fn uncertainties(&self, channel: &mut dyn TableLike) -> Result<Option<String>, String> {
        let words = &self.job.uncertainty;
        let of_commissioning = [
            ("gauge_factor_percent", words.gauge_factor_percent),
            (SLOPE, words.gauge_factor_slope_percent_per_100_c),
            ("temperature_c", words.temperature_c),
        ];
        if self.job.description.uncertainty.is_none() && of_commissioning.iter().all(|(_, it)| it.is_none()) {
            return Ok(None);
        }
        let item = channel.entry("uncertainty").or_insert(Item::Value(InlineTable::new().into()));
        let table = item.as_table_like_mut().ok_or("the channel's uncertainty is no table")?;
        for (key, stated) in of_commissioning {
            if let (Some(stated), false) = (stated, table.contains_key(key)) {
                table.insert(key, value(stated));
            }
        }
        let (low, high) = self.narrowed().map_or_else(|| self.declared(), |[low, high]| (low, high));
        let of_package = ["thermal_output_slope_microstrain_per_c", "expansion_ppm_per_c"];
        let gone: Vec<&str> = of_package.into_iter().filter(|key| table.remove(key).is_some()).collect();
        let found = self.largest(Celsius(low), Celsius(high)).map_err(|error| error.to_string())?;
        let mut degrees = match table.remove("degrees_of_freedom") {
            Some(Item::Table(stated)) => stated.into_inline_table(),
            Some(Item::Value(Value::InlineTable(stated))) => stated,
            _ => InlineTable::new(),
        };
        for key in of_package {
            degrees.remove(key);
        }
        for (key, largest, freedom) in found {
            // Of a run without scatter rounding is left, which a replay takes for another unit.
            table.insert(key, value(if largest < LEAST_UNCERTAINTY { 0.0 } else { largest }));
            degrees.remove(key);
            if freedom.is_finite() {
                degrees.insert(key, freedom.floor().max(1.0).into());
            }
        }
        if !degrees.is_empty() {
            table.insert("degrees_of_freedom", Item::Value(degrees.into()));
        }
        let without =
            if gone.is_empty() { String::new() } else { format!("; without {}", gone.join(" and ")) };
        Ok(Some(format!(
            "[channel.uncertainty]: the largest of the curve's between {low} and {high} C{without}"
        )))
    }

    /// Of what the runs gave, the keys, the largest uncertainties between two temperatures, and their degrees of freedom.
    fn largest(&self, low: Celsius, high: Celsius) -> Result<Vec<(&'static str, f64, f64)>, Error> {
        let at = place_of_largest(low, high, |at| Ok(self.fitted.uncertainty(at)?.both))?;
        let OfThermalOutput { both, degrees, .. } = self.fitted.uncertainty(at)?;
        let mut found = vec![("thermal_output_microstrain", both, degrees)];
        if let Some(loaded) = self.loaded {
            let slope = |at| Ok(loaded.slope_uncertainty(at)?.0);
            let largest = slope(place_of_largest(low, high, slope)?)?;
            found.push((SLOPE, largest, f64::from(loaded.curve.degrees_of_freedom())));
        }
        Ok(found)
    }

    /// The curve as a constant, for firmware that has its channels compiled in.
    pub fn constant(&self) -> String {
        let Self { job, fitted, loaded, new_span, run } = *self;
        let coefficients = &fitted.curve.polynomial().coefficients()[..=fitted.curve.degree()];
        let terms: Vec<String> = coefficients.iter().map(|term| format!("    {term:?},\n")).collect();
        let (low, high) = fitted.curve.temperatures();
        // A name may hold anything.
        let name: String = job.description.name.escape_default().collect();
        let factor = loaded.map_or_else(String::new, |loaded| {
            let mut change = loaded.change();
            change.resize(3, 0.0);
            format!(
                "\n// Its gauge factor, fitted to {}: for `Gauge::gauge_factor_polynomial`, from {} C.\n\
             pub const GAUGE_FACTOR_CHANGE: [f64; 3] = {change:?};\n",
                name_of(&loaded.path),
                loaded.reference.0
            )
        });
        let span = new_span.map_or_else(String::new, |span| {
            format!(
                "\n// Of its converter, by the shunt: for `Channel::span_correction`. The curve belongs to it where the run was read in \
                 the channel's own codes.\npub const SPAN_CORRECTION: f64 = {span:?};\n"
            )
        });
        format!(
            "// Thermal output of {name}, fitted to {run}. Its channel takes no specimen: the curve was measured on the part.{}\n\
         use gaugewright::ThermalOutput;\n\
         use gaugewright::units::{{Celsius, GaugeFactor}};\n\n\
         pub const MEASURED: ThermalOutput = ThermalOutput::celsius([\n{}])\n\
         .stated_for(GaugeFactor({:?}))\n\
         .between(Celsius({:?}), Celsius({:?}));\n{factor}{span}",
            self.left_out(),
            terms.concat(),
            fitted.gauge_factor.0,
            low.0,
            high.0
        )
    }

    /// Lines of the run that are left out, as a sentence.
    fn left_out(&self) -> String {
        let lines: Vec<String> = self.job.leave_out.iter().map(u64::to_string).collect();
        match &lines[..] {
            [] => String::new(),
            [line] => format!(" Left out: line {line}."),
            _ => format!(" Left out: lines {}.", lines.join(", ")),
        }
    }

    /// The temperatures that the channel file declares.
    fn declared(&self) -> (f64, f64) {
        let (low, high) = self.fitted.curve.temperatures();
        self.job.description.temperature_within_c.map_or((low.0, high.0), |[low, high]| (low, high))
    }

    /// What is left of them, where the runs do not reach as far.
    fn narrowed(&self) -> Option<[f64; 2]> {
        let (low, high) = self.declared();
        let loaded = self.loaded.map(|loaded| loaded.curve.temperatures());
        let runs = [Some(self.fitted.curve.temperatures()), loaded];
        let within = runs
            .into_iter()
            .flatten()
            .fold([low, high], |[low, high], (coldest, hottest)| [low.max(coldest.0), high.min(hottest.0)]);
        (within != [low, high]).then_some(within)
    }
}

/// The gauge factor's change in the place of the package's; what is said of it. TOML 1.0 has no comment within an inline table, so that
/// one stands only in a table that has lines.
fn factor(gauge: &mut dyn TableLike, loaded: &Loaded, has_lines: bool) -> String {
    const POLYNOMIAL: &str = "gauge_factor_polynomial";
    gauge.remove(SLOPE);
    gauge.remove(POLYNOMIAL);
    let key = match loaded.slope() {
        Some(slope) => {
            gauge.insert(SLOPE, value(slope.0));
            SLOPE
        }
        None => {
            gauge.insert(POLYNOMIAL, value(Array::from_iter(loaded.change())));
            POLYNOMIAL
        }
    };
    if let Some(mut key) = gauge.key_mut(key).filter(|_| has_lines) {
        let comment = format!(
            "# Fitted to {}: {} points with load, residual standard deviation {:.3} %.\n",
            name_of(&loaded.path),
            loaded.counts.0,
            100.0 * loaded.curve.residual_standard_deviation()
        );
        key.leaf_decor_mut().set_prefix(comment);
    }
    format!("[channel.gauge] {key}: that of the loaded run")
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
