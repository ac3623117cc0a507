//! What the 95 % band is worth, over simulated flights. Each draws an error of every input once from the stated uncertainties, and
//! noise for each sample. The truth is a channel with these errors, solved by the reference from the network; its codes go through a
//! replay by the channel as stated. Over the flights the truth is within the expanded uncertainty in 95 % of the samples.
//!
//! Samples of a flight share its errors, so flights are counted: if they were in or out as a whole, the standard error of the share
//! would be the root of `0.95 0.05 / FLIGHTS`, 0.22 %.

use super::channels;
use gaugewright::fixed::Temperature;
use gaugewright::units::{Celsius, Microstrain};
use gaugewright::{reference, uncertainty::Input};
use host::channel_file::{Circuit, Description, parse};
use host::describe::describe;
use host::figures::Figures;
use host::results::Results;
use host::samples::Series;
use host::setup::Channel;
use host::simulation::random::Random;

const FLIGHTS: u64 = 10_000;
/// The fixed seed of all draws: this and the numbers after it.
const STREAM: u64 = 0x21_0000_0000;

/// Microstrain and temperature, C: on the ground, at the tropopause, in sun and shade at float, when the parachute opens and after the
/// landing, as in the demonstration.
const MOMENTS: [(f64, f64); 8] = [
    (640.0, 5.0),
    (655.0, -77.0),
    (-560.0, -48.0),
    (700.0, 58.0),
    (690.0, -20.0),
    (3_400.0, 39.0),
    (-900.0, -62.0),
    (-640.0, 33.0),
];

/// One gauge on two leads, on a metal that it is not matched to.
const QUARTER: &str = r#"
[[channel]]
name = "strut"
code_column = "code"
temperature_column = "celsius"
strain_within_microstrain = 5000
temperature_within_c = [-90, 110]
specimen_expansion_ppm_per_c = 23.6
[channel.gauge]
gauge_factor = 2.065
gauge_factor_slope_percent_per_100_c = 1.07
matched_expansion_ppm_per_c = 23.0
[channel.gauge.thermal_output]
unit = "C"
coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7]
stated_for_gauge_factor = 2.0
fitted_between = [-200, 300]
[channel.bridge]
circuit = "quarter two-wire"
gauge_ohm = 350
lead_ohm = 8
[channel.converter]
bits = 24
full_scale_ratio = 0.0078125
[channel.balance]
code = 0
temperature_c = 18.5
[channel.uncertainty]
gauge_factor_percent = 0.4
gauge_factor_slope_percent_per_100_c = 1
temperature_c = 0.7
balance_temperature_c = 4
thermometer_c = 0.7
thermal_output_microstrain = 5
thermal_output_slope_microstrain_per_c = 0.085
expansion_ppm_per_c = 0.09
lead_ohm = 0.7
lead_temperature_c = 0.06
output_ratio_percent = 0.4
noise_codes = 2800
balance_noise_codes = 2800
"#;

/// A gauge along a rod and one across it, on three leads.
const ROD: &str = r#"
[[channel]]
name = "rod"
code_column = "code"
temperature_column = "celsius"
strain_within_microstrain = 5000
temperature_within_c = [-90, 110]
[channel.gauge]
gauge_factor = 2.045
gauge_factor_slope_percent_per_100_c = 0.91
[channel.bridge]
circuit = "half axial and transverse"
gauge_ohm = 350
lead_ohm = 20
poisson_ratio = 0.33
[channel.converter]
bits = 24
full_scale_ratio = 0.0078125
[channel.balance]
code = 0
temperature_c = 18
[channel.uncertainty]
gauge_factor_percent = 0.4
gauge_factor_slope_percent_per_100_c = 1
lead_ohm = 1.5
lead_temperature_c = 20
poisson_ratio = 0.005
output_ratio_percent = 0.4
noise_codes = 2000
balance_noise_codes = 2000
"#;

/// Relative change of the resistance of copper for a degree (common practice, no source).
const COPPER: f64 = 0.0039;

/// Errors of a flight in standard uncertainties, `wide` ones doubled.
struct Errors {
    each: [f64; Input::COUNT],
    noise: Vec<f64>,
}

impl Errors {
    fn of(flight: u64, wide: Option<Input>) -> Self {
        let mut random = Random::stream(STREAM + flight);
        let mut each = Input::ALL.map(|_| random.gaussian());
        let mut noise: Vec<f64> = MOMENTS.iter().map(|_| random.gaussian()).collect();
        match wide {
            Some(Input::Noise) => noise.iter_mut().for_each(|error| *error *= 2.0),
            Some(input) => each[input as usize] *= 2.0,
            None => {}
        }
        Self { each, noise }
    }
}

/// A channel whose inputs are off, and what is off beside it.
struct Truth {
    description: Description,
    model: reference::Model,
    /// Thermal output beside that of the model, since balance, in the scale that it is stated for.
    thermal_output: f64,
    /// Ohms that warm leads add in series with the one gauge.
    in_series: f64,
    /// What a thermometer shows more.
    temperature: f64,
    noise_codes: f64,
}

impl Truth {
    fn of(stated: &Description, errors: &Errors) -> Self {
        let words = stated.uncertainty.as_ref().unwrap();
        let off = |input: Input, uncertainty: Option<f64>| {
            uncertainty.map_or(0.0, |uncertainty| uncertainty * errors.each[input as usize])
        };
        let mut truly = stated.clone();
        truly.gauge.gauge_factor *= 1.0 + 0.01 * off(Input::GaugeFactor, words.gauge_factor_percent);
        *truly.gauge.gauge_factor_slope_percent_per_100_c.as_mut().unwrap() +=
            off(Input::GaugeFactorSlope, words.gauge_factor_slope_percent_per_100_c);
        if let Some(curve) = &mut truly.gauge.thermal_output {
            curve.coefficients[1] +=
                off(Input::ThermalOutputSlope, words.thermal_output_slope_microstrain_per_c);
        }
        if let Some(expansion) = &mut truly.specimen_expansion_ppm_per_c {
            let more = off(Input::Expansion, words.expansion_ppm_per_c);
            *expansion += more;
            // The foil stays what it is: more is forced on it.
            if let Some(forced) = &mut truly.gauge.forced_strain_microstrain {
                forced[1] += more;
            }
        }
        let warm = COPPER * off(Input::LeadTemperature, words.lead_temperature_c);
        let bridge = truly.bridge.as_mut().unwrap();
        let lead = bridge.lead_ohm.as_mut().unwrap();
        *lead += off(Input::LeadResistance, words.lead_ohm);
        let in_series = match bridge.circuit {
            // Both in the gauge's arm.
            Circuit::QuarterTwoWire => 2.0 * *lead * warm,
            // One in each arm: a balanced bridge stays balanced, and is on other leads.
            _ => {
                *lead *= 1.0 + warm;
                0.0
            }
        };
        if let Some(ratio) = &mut bridge.poisson_ratio {
            *ratio += off(Input::PoissonRatio, words.poisson_ratio);
        }
        truly.converter.as_mut().unwrap().span_correction =
            Some(1.0 + 0.01 * off(Input::Ratio, words.output_ratio_percent));
        let thermometer = off(Input::Thermometer, words.thermometer_c);
        let balance = truly.balance.as_mut().unwrap();
        *balance.code.as_mut().unwrap() += off(Input::BalanceNoise, words.balance_noise_codes);
        balance.temperature_c -= off(Input::BalanceTemperature, words.balance_temperature_c) + thermometer;
        Self {
            model: reference::Model::new(&describe(&truly).unwrap().channel).unwrap(),
            description: truly,
            thermal_output: off(Input::ThermalOutput, words.thermal_output_microstrain),
            in_series,
            temperature: off(Input::Temperature, words.temperature_c) + thermometer,
            noise_codes: words.noise_codes.unwrap(),
        }
    }

    /// The code of a strain at a true temperature.
    fn code(&self, (microstrain, celsius): (f64, f64), noise: f64) -> i32 {
        let gauge = &self.description.gauge;
        let slope = gauge.gauge_factor_slope_percent_per_100_c.unwrap();
        let factor = gauge.gauge_factor * (1.0 + 1e-4 * slope * (celsius - 24.0));
        // By the gauge factor of its scale, where a strain goes by the gauge's own.
        let shown = microstrain + self.thermal_output * 2.0 / factor;
        let code = self.model.code_for(Microstrain(shown).strain(), Celsius(celsius));
        (self.with_ohms_in_series(code) + noise * self.noise_codes).round() as i32
    }

    /// By the divider of the gauge's arm and its completion; the other half stands at the middle.
    fn with_ohms_in_series(&self, code: f64) -> f64 {
        let bridge = self.description.bridge.as_ref().unwrap();
        let per_code = 0.007_812_5 / 8_388_608.0;
        let completion = bridge.gauge_ohm + 2.0 * bridge.lead_ohm.unwrap();
        let share = 0.5 + code * per_code;
        let arm = completion * share / (1.0 - share) + self.in_series;
        (arm / (arm + completion) - 0.5) / per_code
    }
}

/// The share of samples whose truth is within the expanded uncertainty, with one input twice as wide as it is stated.
fn share_within(channel: &Channel, description: &Description, wide: Option<Input>) -> f64 {
    let mut series = Series::default();
    for flight in 0..FLIGHTS {
        let errors = Errors::of(flight, wide);
        let truth = Truth::of(description, &errors);
        for (moment, noise) in MOMENTS.into_iter().zip(&errors.noise) {
            let read = Celsius(moment.1 + truth.temperature);
            series.codes.push(truth.code(moment, *noise));
            series.temperatures.push(Temperature::from_celsius(read).unwrap());
            series.true_strain.push(moment.0);
            series.rejected.push(false);
        }
    }
    let rows = series.codes.len();
    let mut figures = Figures::default();
    figures.add(&vec![0.0; rows], &Results::of(channel, series).unwrap());
    let found = figures.uncertainties.unwrap();
    assert!(found.known as f64 > 0.999 * rows as f64, "{} of {rows} have no flag", found.known);
    found.within as f64 / found.known as f64
}

fn both(text: &str) -> (Channel, Description) {
    let channel = channels(text).unwrap().remove(0);
    let parsed = parse(&format!("time_column = \"t\"\n{text}"));
    (channel, parsed.ok().unwrap().channels.remove(0))
}

/// The first with a gauge factor that refers to the free foil.
fn free_foil() -> String {
    let refers = "gauge_factor_refers_to = \"free foil\"\nforced_strain_microstrain = [0, 8.35, 3.6e-3]\n";
    // Thermal output is then no signal that could be added.
    let without = QUARTER.replace("thermal_output_microstrain = 5\n", "").replace("\"strut\"", "\"foil\"");
    without.replacen("matched_expansion", &format!("{refers}matched_expansion"), 1)
}

#[test]
fn the_truth_is_within_the_band_in_95_percent_of_the_samples() {
    let free_foil = free_foil();
    let mut shares = Vec::new();
    for (text, count) in [(QUARTER, 13), (ROD, 8), (&free_foil, 12)] {
        let (channel, description) = both(text);
        let share = share_within(&channel, &description, None);
        println!("{}: {:.2} % of the samples", channel.name, 100.0 * share);
        shares.push(format!("{:.1}", 100.0 * share));
        assert!((share - 0.95).abs() < 0.01, "{}: {share:.4}", channel.name);
        // A planted fault: an input that is twice as wide as it is stated leaves the percent that is allowed, whichever it is.
        let stated = channel.uncertainty.as_ref().unwrap().stated.inputs.iter();
        let stated = stated.filter(|it| it.value.is_some() && it.input != Input::Quantisation);
        let wide: Vec<Input> = stated.map(|it| it.input).collect();
        assert_eq!(wide.len(), count, "{wide:?}");
        for input in wide {
            let share = share_within(&channel, &description, Some(input));
            assert!(share < 0.94, "{}: {input} twice as wide went unnoticed: {share:.4}", channel.name);
        }
    }
    // What the guide says of it.
    let guide = support::document("src/guide/accuracy.md").replace('\n', " ");
    let said = format!("within the band in {}, {} and {} % of the samples", shares[0], shares[1], shares[2]);
    assert!(guide.contains(&said), "the guide does not say: {said}");
}
