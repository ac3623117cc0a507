//! A channel whose inputs are not what they were taken for: what a Monte Carlo draws, and derivatives are taken of. The
//! strain is that of the double-precision model, from the network; nothing of the room of uncertainties is in it.

use super::described::{Basis, Description, FactorChange, Origin};
use gaugewright::uncertainty::{Input, StandardUncertainties};
use gaugewright::units::*;
use gaugewright::*;

/// Standard uncertainties, each in the unit of its setter; zero where it is known.
#[derive(Clone, Copy, Debug, Default)]
pub struct Uncertain([f64; Input::COUNT]);

impl Uncertain {
    pub const fn with(mut self, input: Input, uncertainty: f64) -> Self {
        self.0[input as usize] = uncertainty;
        self
    }

    pub const NONE: Self = Self([0.0; Input::COUNT]);

    pub fn of(&self, input: Input) -> f64 {
        self.0[input as usize]
    }

    /// Of a channel.
    pub fn inputs(&self, channel: Channel) -> StandardUncertainties {
        StandardUncertainties::for_channel(channel)
            .of_gauge_factor(Percent(self.of(Input::GaugeFactor)))
            .of_gauge_factor_slope(PercentPer100C(self.of(Input::GaugeFactorSlope)))
            .of_temperature(Celsius(self.of(Input::Temperature)))
            .of_balance_temperature(Celsius(self.of(Input::BalanceTemperature)))
            .of_thermometer(Celsius(self.of(Input::Thermometer)))
            .of_thermal_output(Microstrain(self.of(Input::ThermalOutput)))
            .of_thermal_output_slope(MicrostrainPerCelsius(self.of(Input::ThermalOutputSlope)))
            .of_expansion(ExpansionPerCelsius::ppm(self.of(Input::Expansion)))
            .of_lead_resistance(Ohms(self.of(Input::LeadResistance)))
            .of_lead_temperature(Celsius(self.of(Input::LeadTemperature)))
            .of_poisson_ratio(self.of(Input::PoissonRatio))
            .of_ratio(Percent(self.of(Input::Ratio)))
            .noise(self.of(Input::Noise))
            .quantisation(self.of(Input::Quantisation))
            .balance_noise(self.of(Input::BalanceNoise))
            .kernel_bound(Nanostrain(self.of(Input::Kernel)))
    }
}

/// A reading that was made: the code and the temperature that were read.
#[derive(Clone, Debug)]
pub struct Measured {
    pub described: Description,
    pub code: f64,
    pub celsius: f64,
}

impl Measured {
    /// The reading that a strain gives.
    pub fn of(described: Description, strain: Microstrain, temperature: Celsius) -> Self {
        let model = reference::Model::new(&described.channel()).unwrap();
        let code = model.code_for(strain.strain(), temperature);
        Self { described, code, celsius: temperature.0 }
    }

    /// The strain it would stand for if each input were off by so many of its standard uncertainties, in microstrain. A
    /// kernel's error is `off` of its bound, and that of rounding `off` of its half width.
    pub fn strain(&self, uncertain: &Uncertain, off: impl Fn(Input) -> f64) -> f64 {
        let moved = |input: Input| uncertain.of(input) * off(input);
        let mut described = self.described.clone();
        // What an instrument was set to stays.
        described.instrument_factor = Some(described.instrument_factor.unwrap_or(match described.origin {
            Origin::Codes(..) => described.package.factor,
            Origin::Readings(_, factor) => factor,
        }));
        let package = &mut described.package;
        package.factor *= 1.0 + 0.01 * moved(Input::GaugeFactor);
        package.change = match package.change {
            FactorChange::Slope(slope) => FactorChange::Slope(slope + moved(Input::GaugeFactorSlope)),
            FactorChange::Polynomial([a, b, c]) => {
                FactorChange::Polynomial([a + 1e-4 * moved(Input::GaugeFactorSlope), b, c])
            }
        };
        // Thermal output since balance: a straight line through the balance.
        let since = described.balance.map_or(package.reference, |(_, then)| then);
        let slope = moved(Input::ThermalOutputSlope)
            + if self.celsius == since { 0.0 } else { moved(Input::ThermalOutput) / (self.celsius - since) };
        if package.curve.len() < 2 {
            package.curve.resize(2, 0.0);
        }
        let per_degree = if package.fahrenheit { slope / 1.8 } else { slope };
        let own_scale = if package.fahrenheit { 1.8 * since + 32.0 } else { since };
        package.curve[1] += per_degree;
        package.curve[0] -= per_degree * own_scale;
        if let Some(specimen) = &mut described.specimen {
            *specimen += moved(Input::Expansion);
            // The foil stays what it is.
            if let Basis::FreeFoil(forced) = &mut package.basis {
                forced[1] += moved(Input::Expansion);
            }
        }
        if let Origin::Codes(wired, ..) = &mut described.origin {
            wired.lead += moved(Input::LeadResistance);
            wired.poisson += moved(Input::PoissonRatio);
        }
        if let Some((code, then)) = &mut described.balance {
            *code += moved(Input::BalanceNoise);
            *then += moved(Input::BalanceTemperature) + moved(Input::Thermometer);
        }
        let channel = described.channel().span_correction(1.0 + 0.01 * moved(Input::Ratio));
        let now = Celsius(self.celsius + moved(Input::Temperature) + moved(Input::Thermometer));
        let steps = reference::Model::new(&channel)
            .unwrap()
            .steps(self.code + moved(Input::Noise) + moved(Input::Quantisation), now);
        let strain = match described.correction {
            Correction::None => steps.indicated.0,
            Correction::ThermalOutput => steps.indicated.0 - steps.thermal_output.0,
            Correction::Full => steps.mechanical.0,
        };
        strain * 1e6 + 1e-3 * moved(Input::Kernel)
    }
}
