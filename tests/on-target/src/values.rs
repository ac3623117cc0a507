//! Every public type of the library through defmt. The host makes the same values and formats them by `Display`, where
//! the type has it and is meant to be read, or else by `Debug`; the words have to be the same.

use gaugewright::channel::{Arm, MismatchScale};
use gaugewright::commissioning::significance;
use gaugewright::error::{ErrorPart, Field, KernelPath, Quantity};
use gaugewright::fixed::{self, Temperature};
use gaugewright::installation::Shunt;
use gaugewright::kernel::SuggestedLimits;
use gaugewright::numeric::Polynomial;
use gaugewright::units::*;
use gaugewright::*;

use gaugewright::commissioning::expansion::Expansion;
use gaugewright::commissioning::fit::{Degree, Direction, ThermalOutputFit};
use gaugewright::commissioning::matching::RotatedCurve;
use gaugewright::rosette::{
    Estimate, GridUncertainty, Material, PrincipalStrain, Residual, ResidualCheck, Rosette, StrainEstimate,
};
use gaugewright::temperature::{
    LastReading, PlatinumElement, SelfHeating, SensorLeads, SensorPair, Thermistor, ThermometerFlags,
    ToleranceClass,
};

use crate::channels::{CHANNELS, COMPENSATED, FIXED, FIXED_COMPENSATED, LINEAR, SINGLE, SINGLE_COMPENSATED};
use crate::thermometers::{K, PLATINUM, PLATINUM_FIXED, PLATINUM_SINGLE};

/// Gives all values to `display` and `debug`, which are macros.
macro_rules! every_value {
    ($display:ident, $debug:ident) => {{
        $display!(Celsius(-40.25));
        $display!(Fahrenheit(75.5));
        $display!(Microstrain(1234.5));
        $display!(Nanostrain(0.375));
        $display!(Strain(0.001953125));
        $display!(GaugeFactor(2.065));
        $display!(Ohms(350.5));
        $display!(Ratio(0.0078125));
        $display!(MillivoltsPerVolt(7.8125));
        $display!(PercentPer100C(1.07));
        $display!(Percent(0.5));
        $display!(ExpansionPerCelsius(0.25));
        $display!(ExpansionPerFahrenheit(0.125));
        $debug!(Temperature::from_bits(-41_287_680));
        $debug!(fixed::Strain::from_bits(17_179_869));
        for bits in 0..8 {
            if let Some(flags) = Flags::from_bits(bits) {
                $display!(flags);
            }
        }

        let invalid = |value| Error::Invalid { field: Field::LeadResistance, value, low: 0.5, high: 350.5 };
        $display!(invalid(-1.25));
        $display!(invalid(f64::NAN));
        $display!(Error::Reversed { field: Field::FittedHigh, low: 60.5, high: -50.25 });
        $display!(Error::Overflow { quantity: Quantity::SignalGain, value: 1.5, limit: 0.5 });
        $display!(Error::Bound {
            limit: Nanostrain(0.125),
            bound: Nanostrain(0.25),
            path: KernelPath::Split,
            dominant: ErrorPart::Reciprocal,
        });
        let (strain, temperatures) = (Some(Microstrain(1230.0)), Some((Celsius(-20.5), Celsius(40.5))));
        $display!(SuggestedLimits {
            strain,
            temperatures,
            together: false,
            degree: Some(3),
            dropped_bits: Some(2)
        });
        $display!(SuggestedLimits { strain, temperatures, together: true, degree: None, dropped_bits: None });
        $display!(SuggestedLimits {
            strain: None,
            temperatures: None,
            together: false,
            degree: None,
            dropped_bits: Some(1),
        });
        $display!(Error::BlockLength { samples: 3, other: 4 });
        // An error as it comes out, of a kernel type without room for the curve.
        if let Err(error) = CHANNELS[2].1.try_fixed::<4, 1, 0>() {
            $display!(error);
        }
        $display!(Field::GaugeFactor);
        $display!(Quantity::Divisor);
        $display!(ErrorPart::Circuit);
        $display!(KernelPath::OneCall);

        let channel = CHANNELS[1].1;
        let t = Temperature::from_bits(30 << 20);
        $debug!(FIXED[1]);
        $debug!(FIXED[1].at(t));
        $debug!(FIXED[1].reading(12_345, t));
        $debug!(FIXED[1].error_bound());
        $debug!(FIXED[1].error_bound_with_temperature(Celsius(0.5)).point);
        $debug!(FIXED_COMPENSATED);
        $debug!(SINGLE[1]);
        $debug!(SINGLE[1].at(t));
        $debug!(SINGLE[1].reading(12_345, t));
        $debug!(SINGLE_COMPENSATED);

        $debug!(channel);
        $debug!(COMPENSATED);
        $debug!(Gauge::new(GaugeFactor(2.5)).thermal_output(ThermalOutput::celsius([0.5, 0.25])));
        $debug!(ThermalOutput::fahrenheit([0.5, 0.25]).between(Celsius(-50.5), Celsius(90.5)));
        $debug!(Polynomial::new([0.5, 1.5, -2.5]));
        $debug!(Bridge::full_bending(Ohms(350.5)).leads(Ohms(1.5)).reversed());
        $debug!(Circuit::FullBending);
        $debug!(Converter::bipolar(24, Ratio(0.0078125)));
        $debug!(Instrument::showing(Microstrain(0.1), GaugeFactor(2.5)));
        $debug!(CompensatingGauge::new(Gauge::new(GaugeFactor(2.5))));
        $debug!(Correction::ThermalOutput);
        $debug!(MismatchScale::default());
        $debug!(channel.lead_effect(Celsius(10.5)));
        let shunt = Shunt::at_gauge(Arm::Two, Ohms(99_999.5)).tolerance(Percent(0.5));
        $debug!(shunt);
        $debug!(shunt.effect(&channel));
        if let Ok(diagnosis) = LINEAR.diagnose(3_000_000, Percent(0.5)) {
            $debug!(diagnosis);
            for finding in diagnosis.findings() {
                $display!(finding.fault);
                $debug!(finding.verdict);
                $debug!(finding);
            }
        }
        $display!(Error::TemperatureBound { limit: Celsius(0.25), bound: Celsius(0.5) });
        $display!(Field::ThermocoupleEmf);
        $display!(Kelvin(273.15));
        $display!(Millivolts(-1.5));
        $display!(MicrovoltsPerCelsius(40.5));
        $display!(OhmsPerCelsius(0.385));
        $display!(Milliamperes(0.5));
        $display!(Milliwatts(0.25));
        $display!(MilliwattsPerCelsius(2.5));
        for bits in 0..64 {
            if let Some(flags) = ThermometerFlags::from_bits(bits) {
                $display!(flags);
            }
        }
        let reading = PLATINUM_FIXED.reading(1_000_000);
        $debug!(reading);
        $debug!(PLATINUM_SINGLE.reading(1_000_000));
        $debug!(PLATINUM);
        $debug!(PLATINUM_FIXED);
        $debug!(K);
        $debug!(ToleranceClass::A);
        $debug!(PlatinumElement::Film);
        $debug!(SelfHeating::new(MilliwattsPerCelsius(2.5)));
        $debug!(Thermistor::try_beta(Ohms(10_000.5), Celsius(25.0), Kelvin(3650.5)));
        $debug!(SensorLeads::ThreeWire { pair: Ohms(2.5) });
        $debug!(SensorPair::at(0.25));
        let mut last = LastReading::new(50);
        last.update(reading, 7);
        $debug!(last);
        $debug!(last.at(8));
        $display!(MicrostrainPerCelsius(2.5));
        $display!(ResistancePerCelsius(0.25));
        $display!(Degrees(22.5));
        $display!(Megapascals(-12.5));
        $display!(Gigapascals(69.5));
        let mut run = ThermalOutputFit::<f64>::between(Celsius(-10.5), Celsius(29.5));
        if let Ok(run) = &mut run {
            for (t, strain) in [(-10.5, -1.5), (0.5, 2.5), (10.5, 1.5), (20.5, -3.5), (29.5, -7.5)] {
                $debug!(run.observe(Direction::Cooling, Celsius(t), Microstrain(strain)));
            }
            $debug!(run.solve(Degree::Exactly(2)));
            if let Err(error) = run.solve(Degree::Exactly(5)) {
                $display!(error);
            }
        }
        $debug!(Degree::by_f_test(Percent(1.0)));
        $debug!(Direction::Heating);
        let gauge = Gauge::new(GaugeFactor(2.5))
            .matched_to(ExpansionPerCelsius(0.000025))
            .thermal_output(ThermalOutput::celsius([-24.5, 1.5, 0.5]).between(Celsius(-50.5), Celsius(90.5)));
        let turned = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius(0.000011)));
        $debug!(turned.turn(Celsius(0.5), Celsius(50.5)));
        $debug!(turned.extremes(Celsius(0.5), Celsius(50.5)));
        if let Err(error) = turned.thermal_output(Celsius(91.5)) {
            $display!(error);
        }
        let rosette = Rosette::rectangular();
        $debug!(rosette);
        $debug!(rosette.fixed());
        let (state, single) = (rosette.float64(), rosette.float32());
        $debug!(state);
        let strain = state.strain([0.0008, 0.0002, -0.0002]);
        $debug!(strain);
        if let Some(direction) = strain.principal().direction {
            $display!(direction);
        }
        $debug!(PrincipalStrain { direction: None, ..strain.principal() });
        $debug!(PrincipalStrain { direction: None, ..single.strain([0.0008, 0.0002, -0.0002]).principal() });
        let material = Material::new(Gigapascals(206.5), 0.25);
        $debug!(material);
        if let (Ok(elasticity), Ok(grids)) =
            (material.at(Celsius(20.5)), GridUncertainty::independent([Microstrain(2.5); 3]))
        {
            $debug!(elasticity.stress(&strain));
            $debug!(grids);
            let estimate = strain.estimate(&state.covariance(&grids));
            $debug!(estimate.first);
            $debug!(StrainEstimate { direction: None, ..estimate });
        }
        $debug!(rosette.angle_uncertainty::<f32>([Degrees(0.25); 3], Degrees(1.5)));
        let star = Rosette::at_angles([Degrees(0.0), Degrees(45.0), Degrees(90.0), Degrees(135.0)]);
        $debug!(star);
        if let Ok(grids) = GridUncertainty::independent([Microstrain(2.5); 4]) {
            let check: Result<ResidualCheck<f32, 4>, _> = star.residual_check(&grids);
            $debug!(check);
        }
        $debug!(Residual { grid: 2, strain: Estimate { value: 0.25, uncertainty: 0.125 } });
        $display!(uncertainty::Input::ThermalOutputSlope);
        $debug!(significance::CorrectionStep::NonLinearity);
        let inputs = uncertainty::StandardUncertainties::for_channel(channel)
            .noise(4.5)
            .of_gauge_factor(Percent(0.5))
            .degrees_of_freedom(uncertainty::Input::Noise, 9.0);
        $debug!(inputs);
        if let (Ok(kernel), Ok(budget)) =
            (inputs.try_float32::<0>(), inputs.budget(Microstrain(1234.5), Celsius(30.5)))
        {
            $debug!(kernel);
            $debug!(kernel.at(Celsius(30.5)));
            if let Ok(point) = kernel.at(Celsius(30.5)) {
                $debug!(point.try_fixed());
            }
            $debug!(budget);
            let noise = budget.contribution(uncertainty::Input::Noise);
            $display!(noise.input);
            $debug!(noise.share);
            $debug!(budget.expanded(Percent(95.5)));
        }
        if let Ok(omissions) = channel.significance(Celsius(10.5), Celsius(40.5)) {
            $debug!(omissions.of(significance::CorrectionStep::GaugeFactor));
            $debug!(omissions.reading());
        }
        if let Ok(model) = reference::Model::new(&channel) {
            $debug!(model);
            $debug!(model.steps(0.5, Celsius(30.5)));
        }
    }};
}

#[cfg(target_os = "none")]
macro_rules! by_defmt {
    ($value:expr) => {
        defmt::println!("value {}", $value)
    };
}

/// A line for each.
#[cfg(target_os = "none")]
pub fn tell() {
    every_value!(by_defmt, by_defmt);
}

/// What the host expects, with what `Debug` writes in the words of `Display`.
#[cfg(not(target_os = "none"))]
pub fn words(as_displayed: impl Fn(&str) -> std::string::String) -> std::vec::Vec<std::string::String> {
    use std::format;
    let mut all = std::vec::Vec::new();
    macro_rules! by_display {
        ($value:expr) => {
            all.push(format!("{}", $value))
        };
    }
    macro_rules! by_debug {
        ($value:expr) => {
            all.push(as_displayed(&format!("{:?}", $value)))
        };
    }
    every_value!(by_display, by_debug);
    all
}
