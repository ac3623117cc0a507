//! What a channel file says of the uncertainties of a channel.

mod live;

pub use live::{COVERAGE, Live, LivePoint, SampleUncertainty};

use crate::channel_file::Description;
use gaugewright::Channel;
use gaugewright::uncertainty::{Input, StandardUncertainties};
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
    pub input: Input,
    /// Standard uncertainty in this unit, of rounding its half width; none where the file does not say, and the input is taken as exact.
    pub value: Option<f64>,
    pub unit: &'static str,
    pub degrees_of_freedom: Option<f64>,
}

impl Stated {
    /// What is taken as known exactly although the channel depends on it, in the order of a budget.
    pub fn not_stated(&self) -> impl Iterator<Item = Input> {
        self.inputs.iter().filter(|it| it.value.is_none()).map(|it| it.input)
    }
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
    let is_transverse = description.bridge.as_ref().is_some_and(|bridge| bridge.poisson_ratio.is_some());
    let temperature =
        words.temperature_c.or(description.temperature_error_c.map(|error| error / f64::sqrt(3.0)));
    type Set = fn(StandardUncertainties, f64) -> StandardUncertainties;
    // What the file says, whether the channel depends on it, and how the library takes it.
    type Row = (Input, [Option<f64>; 2], &'static str, bool, Set);
    let inputs: [Row; 15] = [
        (
            Input::GaugeFactor,
            [words.gauge_factor_percent, degrees.gauge_factor_percent],
            "%",
            true,
            |all, x| all.of_gauge_factor(Percent(x)),
        ),
        (
            Input::GaugeFactorSlope,
            [words.gauge_factor_slope_percent_per_100_c, degrees.gauge_factor_slope_percent_per_100_c],
            "%/100 C",
            true,
            |all, x| all.of_gauge_factor_slope(PercentPer100C(x)),
        ),
        (Input::Temperature, [temperature, degrees.temperature_c], "C", true, |all, x| {
            all.of_temperature(Celsius(x))
        }),
        (
            Input::BalanceTemperature,
            [words.balance_temperature_c, degrees.balance_temperature_c],
            "C",
            has_balance,
            |all, x| all.of_balance_temperature(Celsius(x)),
        ),
        (Input::Thermometer, [words.thermometer_c, degrees.thermometer_c], "C", has_balance, |all, x| {
            all.of_thermometer(Celsius(x))
        }),
        (
            Input::ThermalOutput,
            [words.thermal_output_microstrain, degrees.thermal_output_microstrain],
            "microstrain",
            true,
            |all, x| all.of_thermal_output(Microstrain(x)),
        ),
        (
            Input::ThermalOutputSlope,
            [words.thermal_output_slope_microstrain_per_c, degrees.thermal_output_slope_microstrain_per_c],
            "microstrain/C",
            true,
            |all, x| all.of_thermal_output_slope(MicrostrainPerCelsius(x)),
        ),
        (
            Input::Expansion,
            [words.expansion_ppm_per_c, degrees.expansion_ppm_per_c],
            "1e-6/C",
            true,
            |all, x| all.of_expansion(ExpansionPerCelsius::ppm(x)),
        ),
        (Input::LeadResistance, [words.lead_ohm, degrees.lead_ohm], "ohm", has_bridge, |all, x| {
            all.of_lead_resistance(Ohms(x))
        }),
        (
            Input::LeadTemperature,
            [words.lead_temperature_c, degrees.lead_temperature_c],
            "C",
            has_bridge,
            |all, x| all.of_lead_temperature(Celsius(x)),
        ),
        (Input::PoissonRatio, [words.poisson_ratio, degrees.poisson_ratio], "", is_transverse, |all, x| {
            all.of_poisson_ratio(x)
        }),
        (Input::Ratio, [words.output_ratio_percent, degrees.output_ratio_percent], "%", true, |all, x| {
            all.of_ratio(Percent(x))
        }),
        (
            Input::Noise,
            [
                words.noise_codes.or(words.noise_microstrain),
                degrees.noise_codes.or(degrees.noise_microstrain),
            ],
            counts,
            true,
            StandardUncertainties::noise,
        ),
        (
            Input::Quantisation,
            // Every sample is rounded: half a code or step where nothing is stated.
            [
                words
                    .quantisation_codes
                    .or(words.quantisation_microstrain)
                    .or(Some(0.5 * step.unwrap_or(1.0))),
                degrees.quantisation_codes.or(degrees.quantisation_microstrain),
            ],
            counts,
            true,
            StandardUncertainties::quantisation,
        ),
        (
            Input::BalanceNoise,
            [
                words.balance_noise_codes.or(words.balance_noise_microstrain),
                degrees.balance_noise_codes.or(degrees.balance_noise_microstrain),
            ],
            counts,
            has_balance,
            StandardUncertainties::balance_noise,
        ),
    ];
    let mut found = Stated {
        uncertainties: StandardUncertainties::for_channel(*channel).kernel_bound(description.error_limit()),
        inputs: Vec::new(),
        estimated: Vec::new(),
    };
    for (input, [value, degrees_of_freedom], unit, counts, set) in inputs {
        let all = &mut found.uncertainties;
        // Of an instrument's noise, which the library has in its steps.
        let is_counted = matches!(input, Input::Noise | Input::Quantisation | Input::BalanceNoise);
        let per = if is_counted { step } else { None };
        let value_of_library = value.map(|value| value / per.unwrap_or(1.0));
        if let Some(value) = value_of_library {
            *all = set(*all, value);
        }
        match (value_of_library, degrees_of_freedom) {
            (None, Some(_)) => {
                return Err(format!(
                    "[channel.uncertainty]: degrees_of_freedom of {input}, whose uncertainty is not stated"
                ));
            }
            (Some(value), Some(degrees)) => {
                *all = all.degrees_of_freedom(input, degrees);
                let alone = StandardUncertainties::for_channel(*channel).quantisation(0.0);
                found.estimated.push((set(alone, value), degrees));
            }
            (_, None) => {}
        }
        if counts || value.is_some() {
            found.inputs.push(StatedInput { input, value, unit, degrees_of_freedom });
        }
    }
    found.uncertainties.check().map_err(|error| format!("[channel.uncertainty]: {error}"))?;
    Ok(Some(found))
}
