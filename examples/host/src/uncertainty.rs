//! What a channel file says of the uncertainties of a channel.

mod live;

pub use live::{COVERAGE, Live, LivePoint, SampleUncertainty};

use crate::channel_file::Description;
use crate::channel_file::uncertainty::Uncertainty;
use crate::circuit::has_transverse_gauge;
use crate::describe::gauge;
use crate::keys;
use gaugewright::Channel;
use gaugewright::uncertainty::{Input, StandardUncertainties, welch_satterthwaite};
use gaugewright::units::{
    Celsius, ExpansionPerCelsius, Microstrain, MicrostrainPerCelsius, Ohms, Percent, PercentPer100C,
};

/// What the file states, as the library has it.
#[derive(Debug)]
pub struct Stated {
    pub uncertainties: StandardUncertainties,
    /// Everything that the channel depends on and the file has a word for, in the order of a budget.
    pub inputs: Vec<StatedInput>,
    /// Each input with finite degrees of freedom, alone, and their number.
    pub estimated: Vec<(StandardUncertainties, f64)>,
}

/// One input of the budget, and what the file says of it.
#[derive(Clone, Copy, Debug)]
pub struct StatedInput {
    pub name: &'static str,
    /// Of the budget: a ratio of strains and what it is corrected with are parts of the gauge factor's.
    pub input: Input,
    /// Its share of that input's standard uncertainty: 1 but for parts.
    pub part: f64,
    /// Standard uncertainty in this unit, of rounding its half width; none where the file does not say, and the input is taken as exact.
    pub value: Option<f64>,
    pub unit: &'static str,
    pub degrees_of_freedom: Option<f64>,
}

impl Stated {
    /// What is taken as known exactly although the channel depends on it, in the order of a budget.
    pub fn not_stated(&self) -> impl Iterator<Item = &StatedInput> {
        self.inputs.iter().filter(|it| it.value.is_none())
    }
}

/// A part of the uncertainty of the gauge factor.
struct FactorPart {
    name: &'static str,
    unit: &'static str,
    /// As stated, and what it makes of a strain.
    value: Option<f64>,
    percent: f64,
    degrees_of_freedom: Option<f64>,
}

/// What counts with the gauge factor and is not its own: the ratio of strains that a channel states, and the transverse sensitivity.
/// With gauges across, the ratio is the Poisson ratio of the bridge, which is an input of its own.
fn of_strain_ratio(
    description: &Description,
    words: &Uncertainty,
    degrees: &Uncertainty,
) -> Result<Vec<FactorPart>, String> {
    let has_gauges_across = description.bridge.as_ref().is_some_and(has_transverse_gauge);
    let ratio = (words.strain_ratio, degrees.strain_ratio);
    let sensitivity = (words.transverse_sensitivity_percent, degrees.transverse_sensitivity_percent);
    let is_stated = |(value, degrees): (Option<f64>, Option<f64>)| value.or(degrees).is_some();
    let Some(at) = description.strain_ratio else {
        if is_stated(ratio) || is_stated(sensitivity) {
            let words = "strain_ratio and transverse_sensitivity_percent go with the channel's strain_ratio";
            return Err(format!("[channel.uncertainty]: {words}"));
        }
        return Ok(Vec::new());
    };
    if has_gauges_across && is_stated(ratio) {
        return Err("[channel.uncertainty]: strain_ratio is poisson_ratio in this circuit".to_string());
    }
    let package = gauge(&description.gauge);
    let percent = |of_ratio: f64, of_sensitivity: f64| {
        let at = if has_gauges_across { -1.0 } else { at };
        let found = package.strain_ratio_uncertainty(at, of_ratio, Percent(of_sensitivity));
        found.map(|found| found.0).map_err(told(description))
    };
    let by_ratio = FactorPart {
        name: "ratio of strains",
        unit: "",
        value: ratio.0,
        percent: percent(ratio.0.unwrap_or(0.0), 0.0)?,
        degrees_of_freedom: ratio.1,
    };
    let by_sensitivity = FactorPart {
        name: "transverse sensitivity",
        unit: "%",
        value: sensitivity.0,
        percent: percent(0.0, sensitivity.0.unwrap_or(0.0))?,
        degrees_of_freedom: sensitivity.1,
    };
    Ok(if has_gauges_across { vec![by_sensitivity] } else { vec![by_ratio, by_sensitivity] })
}

/// The uncertainties of a channel; none where the file has no table of them. The bound of the kernel is the channel's error limit. A
/// temperature that is not stated is `temperature_error_c` over the square root of 3, if that is.
///
/// # Errors
/// What the library refuses, and degrees of freedom of what is not stated.
pub fn stated(description: &Description, channel: &Channel) -> Result<Option<Stated>, String> {
    let Some(words) = &description.uncertainty else { return Ok(None) };
    let none = Box::default();
    let degrees = words.degrees_of_freedom.as_ref().unwrap_or(&none);
    let step = description.instrument.as_ref().map(|shown| shown.step_microstrain);
    let counts = step.map_or("codes", |_| "microstrain");
    let has_bridge = description.bridge.is_some();
    let has_balance = description.balance.is_some();
    let is_transverse = description.bridge.as_ref().is_some_and(has_transverse_gauge);
    type Word = fn(&Uncertainty) -> Option<f64>;
    type Set = fn(StandardUncertainties, f64) -> StandardUncertainties;
    // The word of the uncertainty and of its degrees of freedom, or the two words; the unit; whether the channel depends on it; how the
    // library takes it.
    macro_rules! row {
        ($input:ident, $word:ident $(or $other:ident)?, $unit:expr, $counts:expr, $set:ident($of:expr)) => {
            (
                Input::$input,
                (|of| of.$word$(.or(of.$other))?) as Word,
                $unit,
                $counts,
                (|all, x| all.$set($of(x))) as Set,
            )
        };
    }
    let inputs = [
        row!(GaugeFactor, gauge_factor_percent, "%", true, of_gauge_factor(Percent)),
        row!(
            GaugeFactorSlope,
            gauge_factor_slope_percent_per_100_c,
            "%/100 C",
            true,
            of_gauge_factor_slope(PercentPer100C)
        ),
        row!(Temperature, temperature_c, "C", true, of_temperature(Celsius)),
        row!(BalanceTemperature, balance_temperature_c, "C", has_balance, of_balance_temperature(Celsius)),
        row!(Thermometer, thermometer_c, "C", has_balance, of_thermometer(Celsius)),
        row!(ThermalOutput, thermal_output_microstrain, "microstrain", true, of_thermal_output(Microstrain)),
        row!(
            ThermalOutputSlope,
            thermal_output_slope_microstrain_per_c,
            "microstrain/C",
            true,
            of_thermal_output_slope(MicrostrainPerCelsius)
        ),
        row!(Expansion, expansion_ppm_per_c, "1e-6/C", true, of_expansion(ExpansionPerCelsius::ppm)),
        row!(LeadResistance, lead_ohm, "ohm", has_bridge, of_lead_resistance(Ohms)),
        row!(LeadTemperature, lead_temperature_c, "C", has_bridge, of_lead_temperature(Celsius)),
        row!(PoissonRatio, poisson_ratio, "", is_transverse, of_poisson_ratio(f64::from)),
        row!(Ratio, output_ratio_percent, "%", true, of_ratio(Percent)),
        row!(Noise, noise_codes or noise_microstrain, counts, true, noise(f64::from)),
        row!(Quantisation, quantisation_codes or quantisation_microstrain, counts, true, quantisation(f64::from)),
        row!(
            BalanceNoise,
            balance_noise_codes or balance_noise_microstrain,
            counts,
            has_balance,
            balance_noise(f64::from)
        ),
    ];
    // Where the file has no word of its own. Every sample is rounded: half a code or step.
    let implied = |input| match input {
        Input::Temperature => description.temperature_uncertainty(),
        Input::Quantisation => Some(0.5 * step.unwrap_or(1.0)),
        _ => None,
    };
    let mut found = Stated {
        uncertainties: StandardUncertainties::for_channel(*channel).kernel_bound(description.error_limit()),
        inputs: Vec::new(),
        estimated: Vec::new(),
    };
    let parts = of_strain_ratio(description, words, degrees)?;
    for (input, of, unit, counts, set) in inputs {
        let (value, degrees_of_freedom) = (of(words).or(implied(input)), of(degrees));
        let parts: &[FactorPart] = if input == Input::GaugeFactor { &parts } else { &[] };
        // Of an instrument's noise, which the library has in its steps.
        let is_counted = matches!(input, Input::Noise | Input::Quantisation | Input::BalanceNoise);
        let per = if is_counted { step } else { None };
        let own = value.map(|value| value / per.unwrap_or(1.0));
        let alone = StandardUncertainties::for_channel(*channel).quantisation(0.0);
        let mut known = vec![(input.name(), own, own.unwrap_or(0.0), degrees_of_freedom)];
        known.extend(parts.iter().map(|part| (part.name, part.value, part.percent, part.degrees_of_freedom)));
        for &(name, value, size, degrees) in &known {
            let Some(degrees) = degrees else { continue };
            if value.is_none() {
                return Err(format!(
                    "[channel.uncertainty]: degrees_of_freedom of {name}, whose uncertainty is not stated"
                ));
            }
            set(alone, size).degrees_of_freedom(input, degrees).check().map_err(told(description))?;
        }
        // Parts add in squares, and their degrees of freedom as those of a budget.
        let whole = parts.iter().fold(own.unwrap_or(0.0), |sum, part| sum.hypot(part.percent));
        if known.iter().any(|(_, value, ..)| value.is_some()) {
            if let Some(own) = own {
                set(alone, own).check().map_err(told(description))?;
            }
            found.uncertainties = set(found.uncertainties, whole);
        }
        if known.iter().any(|(.., degrees)| degrees.is_some()) {
            let finite = known.iter().filter_map(|(.., size, degrees)| Some((*size, (*degrees)?)));
            let degrees = match degrees_of_freedom {
                Some(degrees) if parts.is_empty() => degrees,
                // Of nothing, as of a ratio where there is no transverse sensitivity.
                _ if whole == 0.0 => f64::INFINITY,
                _ => welch_satterthwaite(whole, finite),
            };
            found.uncertainties = found.uncertainties.degrees_of_freedom(input, degrees);
            found.estimated.push((set(alone, whole), degrees));
        }
        let part_of = |size: f64| if whole > 0.0 { size / whole } else { 1.0 };
        if counts || value.is_some() {
            let (name, part) = (input.name(), part_of(own.unwrap_or(0.0)));
            found.inputs.push(StatedInput { name, input, part, value, unit, degrees_of_freedom });
        }
        found.inputs.extend(parts.iter().map(|part| StatedInput {
            name: part.name,
            input,
            part: part_of(part.percent),
            value: part.value,
            unit: part.unit,
            degrees_of_freedom: part.degrees_of_freedom,
        }));
    }
    found.uncertainties.check().map_err(told(description))?;
    Ok(Some(found))
}

fn told(description: &Description) -> impl Fn(gaugewright::Error) -> String {
    move |error| format!("[channel.uncertainty]: {}", keys::told(description, error))
}
