//! Channels of every_key.toml, made by gaugewright's example replay. A kernel whose error could exceed the limit of its
//! channel does not compile.

#[allow(unused_imports)]
use gaugewright::channel::{Arm, ForcedStrain, GaugeFactorBasis, MismatchScale};
#[allow(unused_imports)]
use gaugewright::installation::{Shunt, ShuntCheck, WiringCheck};
#[allow(unused_imports)]
use gaugewright::rosette::{FixedRosetteKernel, Rosette};
#[allow(unused_imports)]
use gaugewright::temperature::{
    Platinum, ResistanceKernel, ResistanceThermometer, SensorLeads, Thermistor, Thermocouple, ThermocoupleInput,
    ThermocoupleKernel,
};
#[allow(unused_imports)]
use gaugewright::units::*;
#[allow(unused_imports)]
use gaugewright::{
    Bridge, Channel, CompensatedChannel, CompensatingGauge, Converter, Gauge, Instrument, ThermalOutput, fixed,
};

/// 1st channel, all of it
///
/// ```toml
/// name = "1st channel, all of it"
/// code_column = "code"
/// temperature_column = "t"
/// strain_within_microstrain = 4000
/// temperature_within_c = [-80.5, 100]
/// error_within_nanostrain = 0.45
/// specimen_expansion_ppm_per_c = 23.6
/// mismatch_scale = "gauge factor at reference"
/// instrument_gauge_factor = 2.0
/// [channel.gauge]
/// gauge_factor = 2.065
/// gauge_factor_slope_percent_per_100_c = 1.07
/// reference_temperature_c = 23.5
/// matched_expansion_ppm_per_c = 23.0
/// transverse_sensitivity_percent = 0.4
/// calibration_poisson_ratio = 0.29
/// [channel.gauge.thermal_output]
/// unit = "F"
/// coefficients = [-101.576, 2.82889, -0.0227237, 4.19932e-5, -1.54497e-8]
/// stated_for_gauge_factor = 2.1
/// fitted_between = [-328, 572]
/// [channel.bridge]
/// circuit = "quarter three-wire"
/// gauge_ohm = 350
/// lead_ohm = 1.2
/// output_lead_ohm = 4.0
/// completion_ohm = 350.07
/// reference_half_ohm = [999.8, 1000.1]
/// input_ohm = 10e6
/// reversed = true
/// [channel.converter]
/// bits = 24
/// full_scale_ratio = 0.0078125
/// span_correction = 1.0023
/// [channel.balance]
/// code = 167622.25
/// temperature_c = 18.5
/// [channel.on_site]
/// balance_code_within = [-1500000, 1500000]
/// span_correction_within = [0.98, 1.02]
/// resistor_tolerance_percent = 0.5
/// [channel.uncertainty]
/// gauge_factor_percent = 0.5
/// gauge_factor_slope_percent_per_100_c = 0.1
/// temperature_c = 0.3
/// balance_temperature_c = 0.2
/// thermometer_c = 0.1
/// thermal_output_microstrain = 2.0
/// thermal_output_slope_microstrain_per_c = 0.15
/// expansion_ppm_per_c = 0.3
/// lead_ohm = 0.05
/// lead_temperature_c = 10
/// poisson_ratio = 0.01
/// output_ratio_percent = 0.02
/// noise_codes = 40
/// quantisation_codes = 0.75
/// balance_noise_codes = 2
/// degrees_of_freedom = { gauge_factor_percent = 50, balance_noise_codes = 255 }
/// ```
pub const CHANNEL_1ST_CHANNEL__ALL_OF_IT: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .gauge_factor_slope(PercentPer100C(1.07))
        .reference_temperature(Celsius(23.5))
        .matched_to(ExpansionPerCelsius::ppm(23.0))
        .transverse_sensitivity(Percent(0.4))
        .calibration_poisson_ratio(0.29)
        .thermal_output(
            ThermalOutput::fahrenheit([-101.576, 2.82889, -0.0227237, 4.19932e-5, -1.54497e-8])
                .between(Celsius(-200.0), Celsius(300.0))
                .stated_for(GaugeFactor(2.1)),
        ),
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2))
        .output_leads(Ohms(4.0))
        .completion(Ohms(350.07))
        .reference_half(Ohms(999.8), Ohms(1000.1))
        .input_resistance(Ohms(10000000.0))
        .reversed(),
    Converter::bipolar(24, Ratio(0.0078125)),
)
.span_correction(1.0023)
.specimen(ExpansionPerCelsius::ppm(23.6))
.mismatch_scale(MismatchScale::GaugeFactorAtReference)
.instrument_gauge_factor(GaugeFactor(2.0))
.balanced(167622.25, Celsius(18.5))
.strain_within(Microstrain(4000.0))
.temperature_within(Celsius(-80.5), Celsius(100.0));

/// Hash of all that CHANNEL_1ST_CHANNEL__ALL_OF_IT is described with.
#[allow(dead_code)]
pub const CHANNEL_1ST_CHANNEL__ALL_OF_IT_DESCRIPTION: u64 = 0xb3e127e9df1459fe;

/// Within 0.45 nanostrain of the exact model.
pub static CHANNEL_1ST_CHANNEL__ALL_OF_IT_KERNEL: fixed::Kernel<4, 1, 0> =
    CHANNEL_1ST_CHANNEL__ALL_OF_IT.fixed_within(Nanostrain(0.45));

/// Codes of CHANNEL_1ST_CHANNEL__ALL_OF_IT at rest, in order and with each fault of the wiring.
#[allow(dead_code)]
pub static CHANNEL_1ST_CHANNEL__ALL_OF_IT_WIRING: WiringCheck = CHANNEL_1ST_CHANNEL__ALL_OF_IT.wiring_check(Percent(0.5));

/// CHANNEL_1ST_CHANNEL__ALL_OF_IT for every zero and span that is taken on site, within 0.45 nanostrain of the exact model.
pub static CHANNEL_1ST_CHANNEL__ALL_OF_IT_ON_SITE: fixed::AdjustableKernel<4, 1, 0> =
    CHANNEL_1ST_CHANNEL__ALL_OF_IT.fixed_adjustable((-1500000, 1500000), (fixed::Span::from_ratio(0.98), fixed::Span::from_ratio(1.02)));
const _: () = assert!(CHANNEL_1ST_CHANNEL__ALL_OF_IT_ON_SITE.error_bound().max().0 <= 0.45);

/// free foil
///
/// ```toml
/// name = "free foil"
/// code_column = "code"
/// temperature_column = "t"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// error_within_nanostrain = 3
/// bridge = { circuit = "quarter two-wire", gauge_ohm = 350, lead_ohm = 0.35 }
/// strain_ratio = -0.33
/// uncertainty = { gauge_factor_percent = 0.5, strain_ratio = 0.05, transverse_sensitivity_percent = 0.2, degrees_of_freedom = { strain_ratio = 8, gauge_factor_percent = 50 } }
/// [channel.gauge]
/// gauge_factor = 2.065
/// transverse_sensitivity_percent = 0.6
/// gauge_factor_polynomial = [1.07e-4, -2e-8]
/// gauge_factor_refers_to = "free foil"
/// forced_strain_microstrain = [0, 8.35, 3.6e-3]
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// ```
pub const FREE_FOIL: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .gauge_factor_polynomial([0.000107, -2e-8, 0.0])
        .gauge_factor_basis(GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree([0.0, 8.35, 0.0036])))
        .transverse_sensitivity(Percent(0.6))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::quarter_two_wire(Ohms(350.0), Ohms(0.35)),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_ratio(-0.33)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that FREE_FOIL is described with.
#[allow(dead_code)]
pub const FREE_FOIL_DESCRIPTION: u64 = 0xc2695c8e2d297b72;

/// Within 3.0 nanostrain of the exact model.
pub static FREE_FOIL_KERNEL: fixed::Kernel<4, 2, 1> =
    FREE_FOIL.fixed_within(Nanostrain(3.0));

/// unloaded gauge
///
/// ```toml
/// name = "unloaded gauge"
/// code_column = "code"
/// temperature_column = "t"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// mismatch_scale = "stated gauge factor"
/// bridge = { circuit = "quarter", gauge_ohm = 120 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// gauge_factor_refers_to = "unloaded gauge"
/// matched_expansion_ppm_per_c = 23.0
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// ```
pub const UNLOADED_GAUGE: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .gauge_factor_basis(GaugeFactorBasis::UnloadedGauge)
        .matched_to(ExpansionPerCelsius::ppm(23.0))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::quarter_ideal(Ohms(120.0)),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.mismatch_scale(MismatchScale::StatedGaugeFactor)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that UNLOADED_GAUGE is described with.
#[allow(dead_code)]
pub const UNLOADED_GAUGE_DESCRIPTION: u64 = 0x55973a220fc7f3d2;

/// Within 0.5 nanostrain of the exact model.
pub static UNLOADED_GAUGE_KERNEL: fixed::Kernel<4, 1, 1> =
    UNLOADED_GAUGE.fixed_within(Nanostrain(0.5));

/// pair
///
/// ```toml
/// name = "pair"
/// code_column = "code"
/// temperature_column = "t"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// specimen_expansion_ppm_per_c = 22.0
/// mismatch_scale = "gauge factor at temperature"
/// bridge = { circuit = "half compensated", gauge_ohm = 350, lead_ohm = 1.5 }
/// balance = { code = 215494, temperature_c = 19 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// gauge_factor_slope_percent_per_100_c = 1.07
/// matched_expansion_ppm_per_c = 23.0
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// [channel.compensating]
/// temperature_column = "block"
/// temperature_within_c = [-70, 90]
/// balance_temperature_c = 18.25
/// specimen_expansion_ppm_per_c = 23.6
/// [channel.compensating.gauge]
/// gauge_factor = 2.06
/// matched_expansion_ppm_per_c = 23.0
/// [channel.compensating.gauge.thermal_output]
/// unit = "C"
/// coefficients = [-28.5736, 2.33925, -0.0533756, 2.3279e-4, -1.49179e-7, -7.88185e-13]
/// fitted_between = [-200, 300]
/// ```
pub const PAIR: CompensatedChannel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .gauge_factor_slope(PercentPer100C(1.07))
        .matched_to(ExpansionPerCelsius::ppm(23.0))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::half_compensated(Ohms(350.0), Ohms(1.5)),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.specimen(ExpansionPerCelsius::ppm(22.0))
.mismatch_scale(MismatchScale::GaugeFactorAtTemperature)
.balanced(215494.0, Celsius(19.0))
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0))
.compensated_by(
        CompensatingGauge::new(
            Gauge::new(GaugeFactor(2.06))
                .matched_to(ExpansionPerCelsius::ppm(23.0))
                .thermal_output(
                    ThermalOutput::celsius([-28.5736, 2.33925, -0.0533756, 0.00023279, -1.49179e-7, -7.88185e-13])
                        .between(Celsius(-200.0), Celsius(300.0)),
                ),
        )
            .temperature_within(Celsius(-70.0), Celsius(90.0))
            .specimen(ExpansionPerCelsius::ppm(23.6))
            .balanced_at(Celsius(18.25)),
    );

/// Hash of all that PAIR is described with.
#[allow(dead_code)]
pub const PAIR_DESCRIPTION: u64 = 0x88db5ffad5cd2485;

/// Within 1.0 nanostrain of the exact model.
pub static PAIR_KERNEL: fixed::CompensatedKernel<5, 1, 0> =
    PAIR.fixed_within(Nanostrain(1.0));

/// pair of equal gauges
///
/// ```toml
/// name = "pair of equal gauges"
/// code_column = "code"
/// temperature_column = "t"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// bridge = { circuit = "half compensated", gauge_ohm = 350, lead_ohm = 1.5 }
/// on_site = { balance_code_within = [-2000000, 2000000] }
/// compensating = { temperature_column = "block", same_gauge = true }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// ```
pub const PAIR_OF_EQUAL_GAUGES: CompensatedChannel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::half_compensated(Ohms(350.0), Ohms(1.5)),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0))
.compensated_by(
        CompensatingGauge::new(
            Gauge::new(GaugeFactor(2.065))
                .thermal_output(
                    ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                        .between(Celsius(-200.0), Celsius(300.0)),
                ),
        ),
    );

/// Hash of all that PAIR_OF_EQUAL_GAUGES is described with.
#[allow(dead_code)]
pub const PAIR_OF_EQUAL_GAUGES_DESCRIPTION: u64 = 0x07e92b145de2aac5;

/// Within 1.0 nanostrain of the exact model.
pub static PAIR_OF_EQUAL_GAUGES_KERNEL: fixed::CompensatedKernel<4, 1, 0> =
    PAIR_OF_EQUAL_GAUGES.fixed_within(Nanostrain(1.0));

/// PAIR_OF_EQUAL_GAUGES for every zero and span that is taken on site, within 1.0 nanostrain of the exact model.
pub static PAIR_OF_EQUAL_GAUGES_ON_SITE: fixed::AdjustableCompensatedKernel<4, 1, 0> =
    PAIR_OF_EQUAL_GAUGES.fixed_adjustable((-2000000, 2000000), (fixed::Span::from_ratio(1.0), fixed::Span::from_ratio(1.0)));
const _: () = assert!(PAIR_OF_EQUAL_GAUGES_ON_SITE.error_bound().max().0 <= 1.0);

/// half bending
///
/// ```toml
/// name = "half bending"
/// code_column = "code"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// bridge = { circuit = "half bending", gauge_ohm = 350, lead_ohm = 1.8 }
/// temperature_error_c = 0.2
/// uncertainty = { noise_codes = 40 }
/// [channel.on_site]
/// balance_code_within = [-500000, 500000]
/// span_correction_within = [0.99, 1.01]
/// resistor_tolerance_percent = 0.1
/// shunt = { arm = 2, ohm = 100000, at = "instrument", tolerance_percent = 0.1 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// [channel.sensor]
/// kind = "thermistor"
/// code_column = "sensor"
/// steinhart_hart = [1.004e-3, 2.5e-4, 6.1e-8]
/// leads = "four"
/// converter = { bits = 24, full_scale_ratio = 1, reference_ohm = 10000, divider = true }
/// ```
pub const HALF_BENDING: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::half_bending(Ohms(350.0), Ohms(1.8)),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that HALF_BENDING is described with.
#[allow(dead_code)]
pub const HALF_BENDING_DESCRIPTION: u64 = 0x172e56491e635a20;

/// Within 0.5 nanostrain of the exact model.
pub static HALF_BENDING_KERNEL: fixed::Kernel<4, 1, 0> =
    HALF_BENDING.fixed_within(Nanostrain(0.5));

/// Codes of HALF_BENDING at rest, in order and with each fault of the wiring.
#[allow(dead_code)]
pub static HALF_BENDING_WIRING: WiringCheck = HALF_BENDING.wiring_check(Percent(0.1));

/// The change of code that the shunt of HALF_BENDING should make.
#[allow(dead_code)]
pub static HALF_BENDING_SHUNT: ShuntCheck = Shunt::at_instrument(Arm::Two, Ohms(100000.0))
    .tolerance(Percent(0.1))
    .code_check(&HALF_BENDING, (fixed::Span::from_ratio(0.99), fixed::Span::from_ratio(1.01)));

/// HALF_BENDING for every zero and span that is taken on site, within 0.5 nanostrain of the exact model.
pub static HALF_BENDING_ON_SITE: fixed::AdjustableKernel<4, 1, 0> =
    HALF_BENDING.fixed_adjustable((-500000, 500000), HALF_BENDING_SHUNT.spans());
const _: () = assert!(HALF_BENDING_ON_SITE.error_bound().max().0 <= 0.5);

// Thermometer of HALF_BENDING: left out, the thermometer's error bound is 4.69604492 C, the limit is 0.05 C: take more pieces or a narrower range.

/// half axial and transverse
///
/// ```toml
/// name = "half axial and transverse"
/// code_column = "code"
/// temperature_column = "t"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// bridge = { circuit = "half axial and transverse", gauge_ohm = 350, lead_ohm = 1.8, poisson_ratio = 0.33 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// ```
pub const HALF_AXIAL_AND_TRANSVERSE: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::half_poisson(Ohms(350.0), Ohms(1.8), 0.33),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that HALF_AXIAL_AND_TRANSVERSE is described with.
#[allow(dead_code)]
pub const HALF_AXIAL_AND_TRANSVERSE_DESCRIPTION: u64 = 0xc3a906e2ec6fabce;

/// Within 0.5 nanostrain of the exact model.
pub static HALF_AXIAL_AND_TRANSVERSE_KERNEL: fixed::Kernel<4, 1, 0> =
    HALF_AXIAL_AND_TRANSVERSE.fixed_within(Nanostrain(0.5));

/// full bending
///
/// ```toml
/// name = "full bending"
/// code_column = "code"
/// temperature_column = "t"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// bridge = { circuit = "full bending", gauge_ohm = 350, lead_ohm = 4.0 }
/// [channel.on_site]
/// balance_code_within = [-500000, 500000]
/// shunt = { arm = 1, ohm = 100000, at = "gauge" }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// ```
pub const FULL_BENDING: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::full_bending(Ohms(350.0))
        .leads(Ohms(4.0)),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that FULL_BENDING is described with.
#[allow(dead_code)]
pub const FULL_BENDING_DESCRIPTION: u64 = 0xe34e8f3e5901f6ba;

/// Within 0.5 nanostrain of the exact model.
pub static FULL_BENDING_KERNEL: fixed::Kernel<4, 1, 0> =
    FULL_BENDING.fixed_within(Nanostrain(0.5));

/// The change of code that the shunt of FULL_BENDING should make.
#[allow(dead_code)]
pub static FULL_BENDING_SHUNT: ShuntCheck = Shunt::at_gauge(Arm::One, Ohms(100000.0))
    .code_check(&FULL_BENDING, (fixed::Span::from_ratio(1.0), fixed::Span::from_ratio(1.0)));

/// FULL_BENDING for every zero and span that is taken on site, within 0.5 nanostrain of the exact model.
pub static FULL_BENDING_ON_SITE: fixed::AdjustableKernel<4, 1, 0> =
    FULL_BENDING.fixed_adjustable((-500000, 500000), FULL_BENDING_SHUNT.spans());
const _: () = assert!(FULL_BENDING_ON_SITE.error_bound().max().0 <= 0.5);

/// full axial and transverse
///
/// ```toml
/// name = "full axial and transverse"
/// code_column = "code"
/// temperature_column = "t"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// bridge = { circuit = "full axial and transverse", gauge_ohm = 350, remote_sense = true, poisson_ratio = 0.33 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// ```
pub const FULL_AXIAL_AND_TRANSVERSE: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::full_poisson(Ohms(350.0), 0.33)
        .leads(Ohms(0.0))
        .remote_sense(),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that FULL_AXIAL_AND_TRANSVERSE is described with.
#[allow(dead_code)]
pub const FULL_AXIAL_AND_TRANSVERSE_DESCRIPTION: u64 = 0x8ca44f41242bff26;

/// Within 0.5 nanostrain of the exact model.
pub static FULL_AXIAL_AND_TRANSVERSE_KERNEL: fixed::Kernel<4, 1, 0> =
    FULL_AXIAL_AND_TRANSVERSE.fixed_within(Nanostrain(0.5));

/// full torsion
///
/// ```toml
/// name = "full torsion"
/// code_column = "code"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// bridge = { circuit = "full torsion", gauge_ohm = 350, lead_ohm = 2.0, remote_sense = true }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// [channel.sensor]
/// kind = "platinum"
/// code_column = "sensor"
/// nominal_ohm = 100
/// leads = "three"
/// pair_ohm = 1.6
/// converter = { bits = 24, full_scale_ratio = 0.5, reference_ohm = 400 }
/// ```
pub const FULL_TORSION: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::full_torsion(Ohms(350.0))
        .leads(Ohms(2.0))
        .remote_sense(),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that FULL_TORSION is described with.
#[allow(dead_code)]
pub const FULL_TORSION_DESCRIPTION: u64 = 0xa120a4e30f2af406;

/// Within 0.5 nanostrain of the exact model.
pub static FULL_TORSION_KERNEL: fixed::Kernel<4, 1, 0> =
    FULL_TORSION.fixed_within(Nanostrain(0.5));

/// Thermometer of FULL_TORSION: platinum of 100 ohm, three leads, from codes.
pub const FULL_TORSION_SENSOR: ResistanceThermometer = ResistanceThermometer::platinum(
    Platinum::iec60751(Ohms(100.0)),
    Converter::bipolar(24, Ratio(0.5)),
    Ohms(400.0),
)
.leads(SensorLeads::ThreeWire { pair: Ohms(1.6) })
.between(Celsius(-80.0), Celsius(100.0));

/// Within 0.05 C of the sensor's own function.
pub static FULL_TORSION_THERMOMETER: ResistanceKernel<i32, 16> = FULL_TORSION_SENSOR.fixed_within(Celsius(0.05));

/// opposite arms
///
/// ```toml
/// name = "opposite arms"
/// code_column = "code"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// bridge = { circuit = "opposite arms", gauge_ohm = 350, lead_ohm = 4.0 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// [channel.sensor]
/// kind = "platinum"
/// code_column = "sensor"
/// nominal_ohm = 1000
/// callendar_van_dusen = [3.9e-3, -5.8e-7, -4.2e-12]
/// leads = "two"
/// lead_ohm = 0.8
/// converter = { bits = 24, full_scale_ratio = 1, reference_ohm = 2000, divider = true }
/// ```
pub const OPPOSITE_ARMS: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::opposite_arms(Ohms(350.0))
        .leads(Ohms(4.0)),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that OPPOSITE_ARMS is described with.
#[allow(dead_code)]
pub const OPPOSITE_ARMS_DESCRIPTION: u64 = 0xbdc05774ae632cc7;

/// Within 0.5 nanostrain of the exact model.
pub static OPPOSITE_ARMS_KERNEL: fixed::Kernel<4, 1, 0> =
    OPPOSITE_ARMS.fixed_within(Nanostrain(0.5));

/// Thermometer of OPPOSITE_ARMS: platinum of 1000 ohm, two leads, from codes.
pub const OPPOSITE_ARMS_SENSOR: ResistanceThermometer = ResistanceThermometer::platinum(
    Platinum::callendar_van_dusen(Ohms(1000.0), 0.0039, -5.8e-7, -4.2e-12),
    Converter::bipolar(24, Ratio(1.0)),
    Ohms(2000.0),
)
.leads(SensorLeads::TwoWire { there: Ohms(0.8), back: Ohms(0.8) })
.in_divider()
.between(Celsius(-80.0), Celsius(100.0));

/// Within 0.05 C of the sensor's own function.
pub static OPPOSITE_ARMS_THERMOMETER: ResistanceKernel<i32, 16> = OPPOSITE_ARMS_SENSOR.fixed_within(Celsius(0.05));

/// shown
///
/// ```toml
/// name = "shown"
/// uncertainty = { gauge_factor_percent = 0.5, noise_microstrain = 0.2, balance_noise_microstrain = 0.05 }
/// strain_column = "reading"
/// temperature_within_c = [-20, 80]
/// strain_within_microstrain = 5000
/// instrument = { step_microstrain = 0.1, gauge_factor = 2.0 }
/// balance = { reading_microstrain = -3.4, temperature_c = 18.5 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// [channel.sensor]
/// kind = "thermistor"
/// code_column = "sensor"
/// nominal_ohm = 10000
/// nominal_temperature_c = 20
/// beta_kelvin = 3950
/// converter = { bits = 24, full_scale_ratio = 1, reference_ohm = 10000, divider = true }
/// ```
pub const SHOWN: Channel = Channel::from_readings(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Instrument::showing(Microstrain(0.1), GaugeFactor(2.0)),
)
.balanced(-34.0, Celsius(18.5))
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-20.0), Celsius(80.0));

/// Hash of all that SHOWN is described with.
#[allow(dead_code)]
pub const SHOWN_DESCRIPTION: u64 = 0x0ebe48b29d622975;

/// Within 0.5 nanostrain of the exact model.
pub static SHOWN_KERNEL: fixed::Kernel<4, 1, 0> =
    SHOWN.fixed_within(Nanostrain(0.5));

/// Thermometer of SHOWN: thermistor, four leads, from codes.
pub const SHOWN_SENSOR: ResistanceThermometer = ResistanceThermometer::thermistor(
    Thermistor::beta(Ohms(10000.0), Celsius(20.0), Kelvin(3950.0)),
    Converter::bipolar(24, Ratio(1.0)),
    Ohms(10000.0),
)
.in_divider()
.between(Celsius(-20.0), Celsius(80.0));

/// Within 0.05 C of the sensor's own function.
pub static SHOWN_THERMOMETER: ResistanceKernel<i32, 16> = SHOWN_SENSOR.fixed_within(Celsius(0.05));

/// shown with curvature
///
/// ```toml
/// name = "shown with curvature"
/// strain_column = "reading"
/// strain_within_microstrain = 5000
/// instrument = { step_microstrain = 0.1, gauge_factor = 2.0, bridge_curvature = "left in" }
/// bridge = { circuit = "quarter three-wire", gauge_ohm = 350, lead_ohm = 1.2 }
/// balance = { reading_microstrain = -3.4, temperature_c = 18.5 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// [channel.sensor]
/// kind = "thermocouple"
/// code_column = "sensor"
/// thermocouple_type = "N"
/// cold_junction_c = 21.5
/// converter = { bits = 24, full_scale_millivolts = 78.125 }
/// ```
pub const SHOWN_WITH_CURVATURE: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
    Converter::linear_strain(Microstrain(0.1), GaugeFactor(2.0)),
)
.instrument_gauge_factor(GaugeFactor(2.0))
.balanced(-34.0, Celsius(18.5))
.strain_within(Microstrain(5000.0));

/// Hash of all that SHOWN_WITH_CURVATURE is described with.
#[allow(dead_code)]
pub const SHOWN_WITH_CURVATURE_DESCRIPTION: u64 = 0x0bf04344d5a6334d;

/// Within 0.5 nanostrain of the exact model.
pub static SHOWN_WITH_CURVATURE_KERNEL: fixed::Kernel<4, 1, 0> =
    SHOWN_WITH_CURVATURE.fixed_within(Nanostrain(0.5));

/// Thermometer of SHOWN_WITH_CURVATURE: thermocouple of type N, from codes.
pub const SHOWN_WITH_CURVATURE_SENSOR: ThermocoupleInput = ThermocoupleInput::new(
    Thermocouple::N,
    Converter::bipolar(24, Ratio(1.0)),
    Millivolts(78.125),
)
.cold_junction(Celsius(-40.0), Celsius(85.0))
.between(Celsius(-200.0), Celsius(300.0));

/// Within 0.05 C of the sensor's own function.
pub static SHOWN_WITH_CURVATURE_THERMOMETER: ThermocoupleKernel<i32, 64, 4> = SHOWN_WITH_CURVATURE_SENSOR.fixed_within(Celsius(0.05));

/// between two sensors
///
/// ```toml
/// name = "between two sensors"
/// code_column = "code"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// bridge = { circuit = "quarter three-wire", gauge_ohm = 350, lead_ohm = 1.2 }
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// sensor = { kind = "pair", first_column = "t", second_column = "sensor", fraction_of_way = 0.25 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// ```
pub const BETWEEN_TWO_SENSORS: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that BETWEEN_TWO_SENSORS is described with.
#[allow(dead_code)]
pub const BETWEEN_TWO_SENSORS_DESCRIPTION: u64 = 0x73627c96217aaadf;

/// Within 0.5 nanostrain of the exact model.
pub static BETWEEN_TWO_SENSORS_KERNEL: fixed::Kernel<4, 1, 0> =
    BETWEEN_TWO_SENSORS.fixed_within(Nanostrain(0.5));

// Thermometer of BETWEEN_TWO_SENSORS: left out, as its sensor is not read as codes.

/// heated sensor
///
/// ```toml
/// name = "heated sensor"
/// code_column = "code"
/// strain_within_microstrain = 5000
/// temperature_within_c = [-80, 100]
/// bridge = { circuit = "quarter three-wire", gauge_ohm = 350, lead_ohm = 1.2 }
/// converter = { bits = 24, full_scale_millivolts_per_volt = 7.8125 }
/// [channel.gauge]
/// gauge_factor = 2.065
/// thermal_output = { unit = "C", coefficients = [-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7], fitted_between = [-200, 300] }
/// [channel.sensor]
/// kind = "platinum"
/// code_column = "sensor"
/// nominal_ohm = 100
/// leads = "four"
/// measuring_current_milliamperes = 1
/// dissipation_milliwatts_per_c = 2.5
/// converter = { bits = 24, full_scale_ratio = 1, reference_ohm = 400 }
/// ```
pub const HEATED_SENSOR: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065))
        .thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
    Converter::bipolar(24, MillivoltsPerVolt(7.8125).ratio()),
)
.strain_within(Microstrain(5000.0))
.temperature_within(Celsius(-80.0), Celsius(100.0));

/// Hash of all that HEATED_SENSOR is described with.
#[allow(dead_code)]
pub const HEATED_SENSOR_DESCRIPTION: u64 = 0x73627c96217aaadf;

/// Within 0.5 nanostrain of the exact model.
pub static HEATED_SENSOR_KERNEL: fixed::Kernel<4, 1, 0> =
    HEATED_SENSOR.fixed_within(Nanostrain(0.5));

// Thermometer of HEATED_SENSOR: left out, as its kernel would not subtract the heat of the measuring current.

/// frame: grids a, b and c are 1st channel, all of it, half bending, full bending.
#[allow(dead_code)]
pub static FRAME_ROSETTE: FixedRosetteKernel = Rosette::at_angles([Degrees(0.0), Degrees(45.0), Degrees(90.0)])
    .gauges(&[
        Gauge::new(GaugeFactor(2.065))
            .gauge_factor_slope(PercentPer100C(1.07))
            .reference_temperature(Celsius(23.5))
            .matched_to(ExpansionPerCelsius::ppm(23.0))
            .transverse_sensitivity(Percent(0.4))
            .calibration_poisson_ratio(0.29)
            .thermal_output(
                ThermalOutput::fahrenheit([-101.576, 2.82889, -0.0227237, 4.19932e-5, -1.54497e-8])
                    .between(Celsius(-200.0), Celsius(300.0))
                    .stated_for(GaugeFactor(2.1)),
            ),
        Gauge::new(GaugeFactor(2.065))
            .thermal_output(
                ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
        Gauge::new(GaugeFactor(2.065))
            .thermal_output(
                ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
    ])
    .fixed();

/// delta: grids a, b and c are full torsion, half bending, full bending.
#[allow(dead_code)]
pub static DELTA_ROSETTE: FixedRosetteKernel = Rosette::at_angles([Degrees(0.0), Degrees(60.0), Degrees(120.0)])
    .gauges(&[
        Gauge::new(GaugeFactor(2.065))
            .thermal_output(
                ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
        Gauge::new(GaugeFactor(2.065))
            .thermal_output(
                ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
        Gauge::new(GaugeFactor(2.065))
            .thermal_output(
                ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
    ])
    .fixed();

/// turned frame: grids a, b and c are full bending, 1st channel, all of it, shown.
#[allow(dead_code)]
pub static TURNED_FRAME_ROSETTE: FixedRosetteKernel = Rosette::at_angles([Degrees(10.0), Degrees(70.5), Degrees(-50.0)])
    .gauges(&[
        Gauge::new(GaugeFactor(2.065))
            .thermal_output(
                ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
        Gauge::new(GaugeFactor(2.065))
            .gauge_factor_slope(PercentPer100C(1.07))
            .reference_temperature(Celsius(23.5))
            .matched_to(ExpansionPerCelsius::ppm(23.0))
            .transverse_sensitivity(Percent(0.4))
            .calibration_poisson_ratio(0.29)
            .thermal_output(
                ThermalOutput::fahrenheit([-101.576, 2.82889, -0.0227237, 4.19932e-5, -1.54497e-8])
                    .between(Celsius(-200.0), Celsius(300.0))
                    .stated_for(GaugeFactor(2.1)),
            ),
        Gauge::new(GaugeFactor(2.065))
            .thermal_output(
                ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
    ])
    .fixed();

/// bar: grids from a on are full torsion, shown.
#[allow(dead_code)]
pub static BAR_ROSETTE: FixedRosetteKernel<2> = Rosette::at_angles([Degrees(0.0), Degrees(90.0)])
    .gauges(&[
        Gauge::new(GaugeFactor(2.065))
            .thermal_output(
                ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
        Gauge::new(GaugeFactor(2.065))
            .thermal_output(
                ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 0.000232754, -1.49376e-7])
                    .between(Celsius(-200.0), Celsius(300.0)),
            ),
    ])
    .fixed();
