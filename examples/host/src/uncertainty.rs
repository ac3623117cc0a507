//! What a channel file says of the uncertainties of a channel.

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
    /// What is taken as known exactly although the channel depends on it, in the order of a budget.
    pub not_stated: Vec<Input>,
}

/// The uncertainties of a channel; none where the file has no table of them. The bound of the kernel is the channel's error limit. A
/// temperature that is not stated is `temperature_error_c` over the square root of 3, if that is.
///
/// # Errors
/// What the library refuses.
pub fn stated(description: &Description, channel: &Channel) -> Result<Option<Stated>, String> {
    let Some(words) = &description.uncertainty else { return Ok(None) };
    let step = description.instrument.as_ref().map_or(1.0, |shown| shown.step_microstrain);
    let counts = |codes: Option<f64>, shown: Option<f64>| codes.or(shown.map(|strain| strain / step));
    let has_bridge = description.bridge.is_some();
    let has_balance = description.balance.is_some();
    let is_transverse = description.bridge.as_ref().is_some_and(|bridge| bridge.poisson_ratio.is_some());
    let mut found = Stated {
        uncertainties: StandardUncertainties::for_channel(*channel).kernel_bound(description.error_limit()),
        not_stated: Vec::new(),
    };
    let temperature =
        words.temperature_c.or(description.temperature_error_c.map(|error| error / f64::sqrt(3.0)));
    type Set = fn(StandardUncertainties, f64) -> StandardUncertainties;
    let inputs: [(Input, Option<f64>, bool, Set); 14] = [
        (Input::GaugeFactor, words.gauge_factor_percent, true, |all, x| all.of_gauge_factor(Percent(x))),
        (Input::GaugeFactorSlope, words.gauge_factor_slope_percent_per_100_c, true, |all, x| {
            all.of_gauge_factor_slope(PercentPer100C(x))
        }),
        (Input::Temperature, temperature, true, |all, x| all.of_temperature(Celsius(x))),
        (Input::BalanceTemperature, words.balance_temperature_c, has_balance, |all, x| {
            all.of_balance_temperature(Celsius(x))
        }),
        (Input::Thermometer, words.thermometer_c, has_balance, |all, x| all.of_thermometer(Celsius(x))),
        (Input::ThermalOutput, words.thermal_output_microstrain, true, |all, x| {
            all.of_thermal_output(Microstrain(x))
        }),
        (Input::ThermalOutputSlope, words.thermal_output_slope_microstrain_per_c, true, |all, x| {
            all.of_thermal_output_slope(MicrostrainPerCelsius(x))
        }),
        (Input::Expansion, words.expansion_ppm_per_c, true, |all, x| {
            all.of_expansion(ExpansionPerCelsius::ppm(x))
        }),
        (Input::LeadResistance, words.lead_ohm, has_bridge, |all, x| all.of_lead_resistance(Ohms(x))),
        (Input::LeadTemperature, words.lead_temperature_c, has_bridge, |all, x| {
            all.of_lead_temperature(Celsius(x))
        }),
        (Input::PoissonRatio, words.poisson_ratio, is_transverse, |all, x| all.of_poisson_ratio(x)),
        (Input::Ratio, words.output_ratio_percent, true, |all, x| all.of_ratio(Percent(x))),
        (Input::Noise, counts(words.noise_codes, words.noise_microstrain), true, |all, x| all.noise(x)),
        (
            Input::BalanceNoise,
            counts(words.balance_noise_codes, words.balance_noise_microstrain),
            has_balance,
            |all, x| all.balance_noise(x),
        ),
    ];
    for (input, value, counts, set) in inputs {
        match value {
            Some(value) => found.uncertainties = set(found.uncertainties, value),
            None if counts => found.not_stated.push(input),
            None => {}
        }
    }
    found.uncertainties.check().map_err(|error| format!("[channel.uncertainty]: {error}"))?;
    Ok(Some(found))
}
