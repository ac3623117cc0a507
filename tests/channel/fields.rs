//! Every field of the library's table, refused just outside of its range, and what is no number; not refused at the ends.
//!
//! A row gives the field a number through a public function. Where the range depends on other inputs, the row has the limits.
//! A field that has no row fails the test.

use gaugewright::channel::{Arm, ForcedStrain, GaugeFactorBasis};
use gaugewright::commissioning::expansion::Expansion;
use gaugewright::commissioning::fit::{Degree, Direction, GaugeFactorFit, ThermalOutputFit};
use gaugewright::commissioning::matching::{RotatedCurve, Selection};
use gaugewright::commissioning::prediction::{FoilMeasurement, FoilResistance, Prediction};
use gaugewright::commissioning::significance::CorrectionStep;
use gaugewright::error::Field;
use gaugewright::fixed::{AdjustableCompensatedKernel, AdjustableKernel, MeanCode, Span, Temperature, Zero};
use gaugewright::installation::{Shunt, ShuntCheck, WiringCheck};
use gaugewright::numeric::coverage_factor;
use gaugewright::rosette::{GridUncertainty, Material, PlaneStrain, Rosette};
use gaugewright::temperature::*;
use gaugewright::uncertainty::{Input, StandardUncertainties};
use gaugewright::units::*;
use gaugewright::{
    Bridge, Channel, CompensatingGauge, Converter, Error, Gauge, Instrument, ThermalOutput, example, fixed,
    reference,
};
use support::refusal::{NOT_NUMBERS, told};

type Call = Box<dyn Fn(f64) -> Result<(), Error>>;

/// What a field is given.
enum Probes {
    /// Numbers just outside of both ends and the ends themselves, and what is no number.
    Number { low: f64, high: f64 },
    /// The same in whole numbers.
    Whole { low: f64, high: f64 },
    /// A field that is computed from inputs, or missing: these have to be refused, those not for this field.
    Chosen { bad: &'static [f64], good: &'static [f64] },
}

struct Row {
    field: Field,
    probes: Probes,
    call: Call,
}

fn boxed<T>(call: impl Fn(f64) -> Result<T, Error> + 'static) -> Call {
    Box::new(move |x| call(x).map(drop))
}

#[track_caller]
fn table(field: Field) -> (f64, f64) {
    field
        .range()
        .unwrap_or_else(|| panic!("{field}: the range depends on other inputs, the row has to have it"))
}

/// In the range of the library's table.
#[track_caller]
fn number<T>(field: Field, call: impl Fn(f64) -> Result<T, Error> + 'static) -> Row {
    let (low, high) = table(field);
    Row { field, probes: Probes::Number { low, high }, call: boxed(call) }
}

/// In a range that depends on the other inputs.
#[track_caller]
fn between<T>(field: Field, low: f64, high: f64, call: impl Fn(f64) -> Result<T, Error> + 'static) -> Row {
    assert!(field.range().is_none(), "{field} has its range in the table");
    Row { field, probes: Probes::Number { low, high }, call: boxed(call) }
}

#[track_caller]
fn whole<T>(
    field: Field,
    range: Option<(f64, f64)>,
    call: impl Fn(f64) -> Result<T, Error> + 'static,
) -> Row {
    let (low, high) = range.unwrap_or_else(|| table(field));
    Row { field, probes: Probes::Whole { low, high }, call: boxed(call) }
}

fn chosen<T>(
    field: Field,
    bad: &'static [f64],
    good: &'static [f64],
    call: impl Fn(f64) -> Result<T, Error> + 'static,
) -> Row {
    Row { field, probes: Probes::Chosen { bad, good }, call: boxed(call) }
}

impl Row {
    fn refuses(&self, given: f64) -> (f64, Option<(f64, f64)>) {
        let Err(error) = (self.call)(given) else { panic!("{} takes {given}", self.field) };
        let (found, value) = told(&error);
        assert_eq!(found, self.field, "{given}: {error}");
        if let (Some(range), Error::Invalid { low, high, .. }) = (self.field.range(), error) {
            assert_eq!((low, high), range, "{error}");
        }
        let limits = if let Error::Invalid { low, high, .. } = error { Some((low, high)) } else { None };
        (value, limits)
    }

    fn lets_pass(&self, given: f64) {
        if let Err(error) = (self.call)(given) {
            assert!(
                !matches!(error, Error::Invalid { field, .. } | Error::Reversed { field, .. } if field == self.field),
                "{given}: {error}"
            );
        }
    }

    fn check(&self) {
        let (low, high, apart) = match self.probes {
            Probes::Number { low, high } => {
                // Of the end itself, so that a small one counts as much.
                let apart =
                    |end: f64, other: f64| 1e-9 * if end == 0.0 { other.abs().min(1.0) } else { end.abs() };
                (low, high, (apart(low, high), apart(high, low)))
            }
            Probes::Whole { low, high } => (low, high, (1.0, 1.0)),
            Probes::Chosen { bad, good } => {
                bad.iter().for_each(|&given| {
                    self.refuses(given);
                });
                return good.iter().for_each(|&given| self.lets_pass(given));
            }
        };
        let is_whole = matches!(self.probes, Probes::Whole { .. });
        let mut bad = Vec::new();
        // A count of nothing is the least there is.
        if !(is_whole && low == 0.0) {
            bad.push(low - apart.0);
        }
        if high < f64::INFINITY {
            bad.push(high + apart.1);
        }
        for given in bad {
            let (value, limits) = self.refuses(given);
            assert!((value - given).abs() <= 1e-12 * given.abs(), "{}: {given} became {value}", self.field);
            if let Some((from, to)) = limits {
                let near = |one: f64, other: f64| one == other || (one - other).abs() <= 1e-9 * one.abs();
                assert!(near(from, low) && near(to, high), "{}: {from} to {to}", self.field);
            }
        }
        [low, high].iter().for_each(|&end| self.lets_pass(end));
        for given in NOT_NUMBERS.into_iter().filter(|&given| !is_whole && given != high) {
            let (value, _) = self.refuses(given);
            // Of a size, the sign is no matter.
            assert!(
                value.to_bits() << 1 == given.to_bits() << 1 || (value.is_nan() && given.is_nan()),
                "{value}"
            );
        }
    }
}

pub fn curve() -> ThermalOutput {
    ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-100.0), Celsius(150.0))
}

pub fn gauge() -> Gauge {
    Gauge::new(GaugeFactor(2.1)).thermal_output(curve())
}

pub fn bridge() -> Bridge {
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0))
}

pub fn converter() -> Converter {
    Converter::bipolar(24, Ratio(1.0 / 128.0))
}

pub fn channel() -> Channel {
    Channel::new(gauge(), bridge(), converter())
}

fn half() -> Channel {
    Channel::new(gauge(), Bridge::half_compensated(Ohms(350.0), Ohms(1.0)), converter())
        .balanced(0.0, Celsius(20.0))
}

fn readings() -> Channel {
    Channel::from_readings(gauge(), Instrument::showing(Microstrain(0.1), GaugeFactor(2.0)))
}

/// Refused by `check` and by every way to compile, with the same error.
fn every_way(channel: Channel) -> Result<(), Error> {
    let result = channel.check();
    if let Err(error) = result {
        let text = error.to_string();
        let same = |other: Error| assert_eq!(other.to_string(), text);
        same(channel.try_fixed::<5, 3, 0>().unwrap_err());
        same(channel.try_float32::<5, 3, 0>().unwrap_err());
        same(channel.try_float64::<5, 3, 0>().unwrap_err());
        same(channel.try_fixed_within::<5, 3, 0>(Nanostrain(1e9)).unwrap_err());
        same(reference::Model::new(&channel).unwrap_err());
    }
    result
}

fn of_gauge(gauge: Gauge) -> Result<(), Error> {
    every_way(Channel::new(gauge, bridge(), converter()))
}

fn of_free_foil(forced: [f64; 3]) -> Result<(), Error> {
    of_gauge(gauge().gauge_factor_basis(GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree(forced))))
}

fn of_curve(curve: ThermalOutput) -> Result<(), Error> {
    of_gauge(gauge().thermal_output(curve))
}

fn of_bridge(bridge: Bridge) -> Result<(), Error> {
    every_way(Channel::new(gauge(), bridge, converter()))
}

fn of_converter(converter: Converter) -> Result<(), Error> {
    every_way(Channel::new(gauge(), bridge(), converter))
}

fn channels() -> Vec<Row> {
    let plain = Ohms(350.0);
    let ppm = ExpansionPerCelsius::ppm;
    // Counted from the end of the range: the gauge factor at the other end is the number.
    let strays = |x: f64| {
        let hot = ThermalOutput::celsius([0.0]).between(Celsius(24.0), Celsius(124.0));
        of_gauge(gauge().thermal_output(hot).gauge_factor_slope(PercentPer100C((x - 1.0) * 100.0)))
    };
    vec![
        number(Field::GaugeFactor, |x| of_gauge(Gauge::new(GaugeFactor(x)).thermal_output(curve()))),
        chosen(Field::GaugeFactorCurve, &[0.499_999, 2.000_001], &[0.500_001, 1.999_999], strays),
        number(Field::GaugeFactorCoefficient, |x| of_gauge(gauge().gauge_factor_polynomial([0.0, x, 0.0]))),
        number(Field::ForcedStrainCoefficient, |x| of_free_foil([0.0, 0.0, x])),
        chosen(Field::ForcedChange, &[-0.100_001, 0.100_001], &[-0.099_999, 0.099_999], |x| {
            of_free_foil([x / 2.1 * 1e6, 0.0, 0.0])
        }),
        number(Field::StatedGaugeFactor, |x| of_curve(curve().stated_for(GaugeFactor(x)))),
        number(Field::InstrumentGaugeFactor, |x| {
            every_way(channel().instrument_gauge_factor(GaugeFactor(x)))
        }),
        number(Field::InstrumentGaugeFactor, |x| {
            every_way(Channel::from_readings(gauge(), Instrument::showing(Microstrain(0.1), GaugeFactor(x))))
        }),
        chosen(Field::ThermalOutput, &[0.0], &[], |_| of_gauge(Gauge::new(GaugeFactor(2.0)))),
        whole(Field::ThermalOutputDegree, None, |x| {
            of_curve(
                ThermalOutput::celsius_from(&vec![0.0; x as usize + 1]).between(Celsius(0.0), Celsius(50.0)),
            )
        }),
        chosen(Field::ThermalOutputDegree, &[0.0], &[], |_| of_curve(ThermalOutput::celsius_from(&[]))),
        number(Field::ThermalOutputCoefficient, |x| {
            of_curve(ThermalOutput::celsius([0.0, x]).between(Celsius(0.0), Celsius(50.0)))
        }),
        number(Field::FittedLow, |x| of_curve(curve().between(Celsius(x), Celsius(2047.0)))),
        // A curve without a range is no curve.
        chosen(Field::FittedLow, &[0.0], &[], |_| of_curve(ThermalOutput::celsius([0.0, 1.0]))),
        between(Field::FittedHigh, -100.0, 2047.0, |x| {
            of_curve(curve().between(Celsius(-100.0), Celsius(x)))
        }),
        between(Field::TemperatureLow, -100.0, 150.0, |x| {
            every_way(channel().temperature_within(Celsius(x), Celsius(150.0)))
        }),
        between(Field::TemperatureHigh, -50.0, 150.0, |x| {
            every_way(channel().temperature_within(Celsius(-50.0), Celsius(x)))
        }),
        between(Field::Temperature, -2047.0, 2047.0, |x| fixed::Temperature::from_celsius(Celsius(x))),
        chosen(Field::Temperature, &[2_047_001.0, -2_147_483_648.0], &[-2_047_000.0, 2_047_000.0], |x| {
            fixed::Temperature::from_millicelsius(x as i32)
        }),
        between(Field::ReferenceTemperature, -273.15, 2047.0, |x| {
            of_gauge(gauge().reference_temperature(Celsius(x)))
        }),
        number(Field::MatchedExpansion, move |x| of_gauge(gauge().matched_to(ppm(x)))),
        // A specimen of another expansion, of a gauge that is matched to nothing.
        chosen(Field::MatchedExpansion, &[16.0], &[], move |x| every_way(channel().specimen(ppm(x)))),
        number(Field::SpecimenExpansion, move |x| {
            every_way(Channel::new(gauge().matched_to(ppm(11.0)), bridge(), converter()).specimen(ppm(x)))
        }),
        number(Field::TransverseSensitivity, |x| of_gauge(gauge().transverse_sensitivity(Percent(x)))),
        number(Field::CalibrationPoissonRatio, |x| of_gauge(gauge().calibration_poisson_ratio(x))),
        number(Field::GaugeResistance, |x| of_bridge(Bridge::quarter_ideal(Ohms(x)))),
        between(Field::LeadResistance, 0.0, 350.0, move |x| {
            of_bridge(Bridge::quarter_two_wire(plain, Ohms(x)))
        }),
        between(Field::LeadResistance, 0.0, 350.0, move |x| {
            of_bridge(Bridge::quarter_three_wire(plain, Ohms(x)))
        }),
        between(Field::LeadResistance, 0.0, 350.0, |x| of_bridge(bridge().output_leads(Ohms(x)))),
        number(Field::CompletionResistance, |x| of_bridge(bridge().completion(Ohms(x)))),
        number(Field::ReferenceResistance, move |x| of_bridge(bridge().reference_half(Ohms(x), plain))),
        number(Field::ReferenceResistance, move |x| of_bridge(bridge().reference_half(plain, Ohms(x)))),
        number(Field::PoissonRatio, move |x| of_bridge(Bridge::half_poisson(plain, Ohms(1.0), x))),
        number(Field::InputResistance, |x| of_bridge(bridge().input_resistance(Ohms(x)))),
        whole(Field::ConverterBits, Some((8.0, 32.0)), |x| {
            of_converter(Converter::bipolar(x as u32, Ratio(0.01)))
        }),
        between(Field::FullScaleRatio, 1e-6, 1.0, |x| of_converter(Converter::bipolar(24, Ratio(x)))),
        number(Field::ReadingStep, |x| {
            every_way(Channel::from_readings(gauge(), Instrument::showing(Microstrain(x), GaugeFactor(2.0))))
        }),
        number(Field::ReadingStep, |x| {
            of_converter(Converter::linear_strain(Microstrain(x), GaugeFactor(2.0)))
        }),
        // A code at a rail, or beyond what the converter has: the bridge was not balanced, it saturated.
        between(Field::BalanceCode, -8_388_607.0, 8_388_606.0, |x| {
            every_way(channel().balanced(x, Celsius(20.0)))
        }),
        // Resistors that cannot give the ratio seen at balance.
        chosen(Field::BalanceRatio, &[0.6, -0.6], &[0.1, -0.1], |x| {
            let converter = Converter::bipolar(24, Ratio(1.0));
            every_way(Channel::new(gauge(), bridge(), converter).balanced(x * 8_388_608.0, Celsius(20.0)))
        }),
        chosen(Field::BalanceRatio, &[-0.3], &[0.3], |x| {
            let lame = bridge().completion(Ohms(50.0));
            let converter = Converter::bipolar(24, Ratio(1.0));
            every_way(Channel::new(gauge(), lame, converter).balanced(x * 8_388_608.0, Celsius(20.0)))
        }),
        between(Field::BalanceTemperature, -100.0, 150.0, |x| every_way(channel().balanced(0.0, Celsius(x)))),
        // In a circuit that has none.
        chosen(Field::CompensatingGauges, &[1.0], &[0.0], |x| {
            let second = CompensatingGauge::new(gauge());
            if x == 1.0 { channel().compensated_by(second).check() } else { channel().check() }
        }),
        between(Field::CompensatingBalanceTemperature, -100.0, 150.0, |x| {
            half().compensated_by(CompensatingGauge::new(gauge()).balanced_at(Celsius(x))).check()
        }),
        number(Field::StrainRange, |x| every_way(channel().strain_within(Microstrain(x)))),
        between(Field::StrainRatio, -100.0, 100.0, |x| every_way(channel().strain_ratio(x))),
        // Half of the grid's response.
        between(Field::StrainRatio, -25.0, 25.0, |x| {
            let sensitive = gauge().transverse_sensitivity(Percent(-2.0));
            every_way(Channel::new(sensitive, bridge(), converter()).strain_ratio(x))
        }),
        chosen(Field::StrainRatio, &[-0.29, 0.3, 1.0], &[-0.3], move |x| {
            let bridge = Bridge::half_poisson(plain, Ohms(1.0), 0.3);
            every_way(Channel::new(gauge(), bridge, converter()).strain_ratio(x))
        }),
        between(Field::StrainRatio, -100.0, 100.0, |x| {
            gauge().strain_ratio_uncertainty(x, 0.1, Percent(0.2))
        }),
        between(Field::StrainRatio, -100.0, 100.0, |x| gauge().gauge_factor_in_field(x)),
        number(Field::GaugeFactor, |x| Gauge::new(GaugeFactor(x)).gauge_factor_in_field(1.0)),
        number(Field::StrainRatioUncertainty, |x| gauge().strain_ratio_uncertainty(1.0, x, Percent(0.2))),
        number(Field::TransverseSensitivityUncertainty, |x| {
            gauge().strain_ratio_uncertainty(1.0, 0.1, Percent(x))
        }),
        // Under a stated ratio too, which they go into, and after another.
        number(Field::GaugeFactor, |x| {
            let gauge = Gauge::new(GaugeFactor(x)).thermal_output(curve());
            every_way(Channel::new(gauge, bridge(), converter()).strain_ratio(1.0))
        }),
        number(Field::TransverseSensitivity, |x| {
            let sensitive = gauge().transverse_sensitivity(Percent(x));
            every_way(Channel::new(sensitive, bridge(), converter()).strain_ratio(-1.0))
        }),
        number(Field::CalibrationPoissonRatio, |x| {
            let other = gauge().calibration_poisson_ratio(x);
            every_way(Channel::new(other, bridge(), converter()).strain_ratio(0.5).strain_ratio(1.0))
        }),
        between(Field::StrainRatio, -100.0, 100.0, |x| {
            every_way(channel().strain_ratio(x).strain_ratio(1.0))
        }),
        between(Field::SpanCorrection, 0.8, 1.25, |x| every_way(channel().span_correction(x))),
    ]
}

fn installation() -> Vec<Row> {
    const ONE: (Span, Span) = (Span::ONE, Span::ONE);
    let shunt = |ohms: f64| Shunt::at_gauge(Arm::One, Ohms(ohms));
    let small = || Channel::new(gauge(), Bridge::quarter_ideal(Ohms(20.0)), converter());
    vec![
        between(Field::ShuntResistance, 10.0, 1e9, move |x| shunt(x).effect(&small())),
        number(Field::ShuntTolerance, move |x| shunt(1e5).tolerance(Percent(x)).effect(&channel())),
        number(Field::SpanLimit, move |x| shunt(1e5).span(&channel(), 1.0, Percent(x))),
        // Expected over observed.
        between(Field::SpanCorrection, 0.9, 1.1, move |x| {
            let expected = shunt(1e5).effect(&channel())?.codes;
            shunt(1e5).span(&channel(), expected / x, Percent(10.0))
        }),
        between(Field::SimulatedStrain, -1e5, 1e5, move |x| {
            shunt(1e5).effect_at(&channel(), Microstrain(x).strain())
        }),
        number(Field::ResistorTolerance, |x| channel().diagnose(0, Percent(x))),
        number(Field::LeadTemperatureRise, |x| channel().lead_effect(Celsius(x))),
        chosen(Field::Bridge, &[0.0], &[], |_| readings().diagnose(0, Percent(1.0))),
        chosen(Field::Bridge, &[0.0], &[], |_| readings().lead_effect(Celsius(1.0))),
        chosen(Field::Bridge, &[0.0], &[], move |_| shunt(1e5).effect(&readings())),
        number(Field::ResistorTolerance, |x| channel().try_wiring_check(Percent(x))),
        chosen(Field::Bridge, &[0.0], &[], |_| readings().try_wiring_check(Percent(1.0))),
        chosen(Field::Bridge, &[0.0], &[], move |_| shunt(1e5).try_code_check(&readings(), ONE)),
        number(Field::ShuntTolerance, move |x| {
            shunt(1e5).tolerance(Percent(x)).try_code_check(&channel(), ONE)
        }),
        chosen(Field::ShuntResistance, &[9.999, 1.001e9, f64::NAN], &[1e5], move |x| {
            shunt(x).try_code_check(&channel(), ONE)
        }),
        chosen(Field::SpanCorrection, &[0.799, 1.251, f64::NAN], &[0.8, 1.25], move |x| {
            shunt(1e5).try_code_check(&channel(), (Span::from_ratio(x), Span::from_ratio(x)))
        }),
        // To a rail, and less than a code.
        chosen(Field::ShuntChange, &[10.0, 1e9], &[1e5], move |x| {
            shunt(x).try_code_check(&example::FLAT, ONE)
        }),
        chosen(Field::SpanCorrection, &[0.0], &[], move |_| {
            shunt(1e5).try_code_check(&channel(), (Span::ONE, Span::from_ratio(0.9)))
        }),
    ]
}

fn sensors() -> Vec<Row> {
    let pt100 = Platinum::iec60751(Ohms(100.0));
    let custom = |a, b, c| Platinum::callendar_van_dusen(Ohms(100.0), a, b, c).check();
    let k = Thermocouple::K;
    let (coldest, hottest) = k.range();
    let emf = |celsius: Celsius| k.emf(celsius).unwrap().0;
    let (lowest, highest) = k.invertible_range();
    let (ohms, celsius) = (Ohms(1e4), Celsius(25.0));
    let bead = Thermistor::try_steinhart_hart;
    let thermometer = move |high: f64| {
        ResistanceThermometer::platinum(pt100, Converter::bipolar(22, Ratio(1.0 / 16.0)), Ohms(4096.0))
            .between(Celsius(-200.0), Celsius(high))
    };
    let heating = SelfHeating::new(MilliwattsPerCelsius(2.5));
    vec![
        between(Field::SensorResistance, 18.520_08, 390.481_125, move |x| pt100.temperature(Ohms(x))),
        between(Field::SensorResistance, 0.1, 1e8, move |x| {
            Thermistor::try_beta(Ohms(x), celsius, Kelvin(4e3))
        }),
        number(Field::ResistanceAtZero, |x| Platinum::iec60751(Ohms(x)).check()),
        between(Field::CallendarVanDusen, 3e-3, 4.5e-3, move |x| custom(x, -5.775e-7, -4.183e-12)),
        between(Field::CallendarVanDusen, -1e-6, 1e-6, move |x| custom(3.9083e-3, x, -4.183e-12)),
        between(Field::CallendarVanDusen, -1e-11, 1e-11, move |x| custom(3.9083e-3, -5.775e-7, x)),
        between(Field::LeadResistance, 0.0, 1e4, |x| {
            SensorLeads::TwoWire { there: Ohms(x), back: Ohms(1.0) }.sensor(Ohms(110.0))
        }),
        between(Field::LeadResistance, 0.0, 2e4, |x| {
            SensorLeads::ThreeWire { pair: Ohms(x) }.sensor(Ohms(1e5))
        }),
        between(Field::MeasuredResistance, 2.0, 1e8, |x| {
            SensorLeads::ThreeWire { pair: Ohms(2.0) }.sensor(Ohms(x))
        }),
        number(Field::SensorRatio, |x| resistance_from_ratio(Ratio(x), Ohms(400.0))),
        number(Field::ReferenceResistor, |x| resistance_from_ratio(Ratio(0.25), Ohms(x))),
        number(Field::DissipationConstant, |x| {
            SelfHeating::new(MilliwattsPerCelsius(x)).rise(Milliwatts(1.0))
        }),
        number(Field::SensorPower, move |x| heating.rise(Milliwatts(x))),
        number(Field::SensorCurrent, move |x| heating.rise_at(Milliamperes(x), Ohms(100.0))),
        between(Field::SensorResistance, 0.0, 1e8, move |x| heating.rise_at(Milliamperes(1.0), Ohms(x))),
        between(Field::ThermocoupleEmf, emf(lowest), emf(highest), move |x| k.temperature(Millivolts(x))),
        between(Field::ColdJunctionTemperature, coldest.0, hottest.0, move |x| {
            k.temperature_with_cold_junction(Millivolts(1.0), Celsius(x))
        }),
        // A range that needs less than the least full scale.
        between(Field::FullScaleEmf, 0.1, 1e3, move |x| {
            let (low, high) = (Celsius(20.0), Celsius(21.0));
            ThermocoupleInput::new(k, Converter::bipolar(24, Ratio(1.0)), Millivolts(x))
                .between(low, high)
                .cold_junction(low, high)
                .try_fixed::<64, 4>()
        }),
        chosen(Field::FullScaleEmf, &[39.0625], &[60.0], move |x| {
            ThermocoupleInput::new(k, Converter::bipolar(24, Ratio(1.0)), Millivolts(x)).try_fixed::<64, 4>()
        }),
        whole(Field::ConverterBits, Some((8.0, 30.0)), move |x| {
            ThermocoupleInput::new(k, Converter::bipolar(x as u32, Ratio(1.0)), Millivolts(80.0))
                .try_fixed::<64, 4>()
        }),
        // A hundredth of a degree has fewer codes than pieces.
        chosen(Field::ThermometerCodes, &[-199.999], &[0.0], move |x| thermometer(x).try_fixed::<256>()),
        chosen(Field::LastCode, &[500.0], &[300.0], move |x| thermometer(x).try_fixed::<8>()),
        // Of which not even the lower end has a code.
        chosen(Field::LastCode, &[500.0], &[], move |x| {
            thermometer(x).between(Celsius(490.0), Celsius(x)).try_fixed::<8>()
        }),
        // The upper end is wrong, and not the lower one.
        between(Field::TemperatureHigh, -273.15, 2047.0, move |x| {
            thermometer(300.0).between(Celsius(-273.15), Celsius(x)).try_fixed::<8>()
        }),
        chosen(Field::CurvePieces, &[1.0, 512.0], &[2.0, 256.0], move |x| match x as usize {
            1 => thermometer(0.0).try_fixed::<1>().map(drop),
            2 => thermometer(0.0).try_fixed::<2>().map(drop),
            256 => thermometer(0.0).try_fixed::<256>().map(drop),
            _ => thermometer(0.0).try_fixed::<512>().map(drop),
        }),
        number(Field::FractionOfWay, SensorPair::try_at),
        between(Field::ThermistorCoefficient, -0.1, 0.1, move |x| bead(x, 2.3e-4, 8.8e-8)),
        between(Field::ThermistorCoefficient, 1e-6, 1e-2, move |x| bead(1.1e-3, x, 8.8e-8)),
        between(Field::ThermistorCoefficient, -1e-5, 1e-5, move |x| bead(1.1e-3, 2.3e-4, x)),
        number(Field::ThermistorBeta, move |x| Thermistor::try_beta(ohms, celsius, Kelvin(x))),
        chosen(Field::ThermistorSlope, &[-1e-6], &[8.8e-8], move |x| bead(1.1e-3, 2.3e-4, x)),
        // Points whose resistances are this share apart.
        chosen(Field::ThermistorPoints, &[0.0, 0.99e-3], &[1.01e-3], move |x| {
            Thermistor::try_beta_through((ohms, celsius), (Ohms(1e4 * (-x).exp()), Celsius(50.0)))
        }),
    ]
}

fn rosettes() -> Vec<Row> {
    /// By every way that a rosette can be used.
    fn every_way(rosette: Rosette) -> Result<(), Error> {
        let result = rosette.check();
        if let Err(error) = result {
            let text = error.to_string();
            let same = |other: Error| assert_eq!(other.to_string(), text);
            same(rosette.try_float32().unwrap_err());
            same(rosette.try_float64().unwrap_err());
            same(rosette.try_fixed().unwrap_err());
            same(rosette.indicated(&PlaneStrain::new(0.0, 0.0, 0.0)).unwrap_err());
            same(rosette.fixed_error(Microstrain(100.0)).unwrap_err());
        }
        result
    }
    let at = |angles: [f64; 3]| Rosette::at_angles(angles.map(Degrees));
    let at4 = |angles: [f64; 4]| Rosette::at_angles(angles.map(Degrees));
    let steel = Material::new(Gigapascals(200.0), 0.3);
    let room = Celsius(20.0);
    let mut rows = vec![
        chosen(Field::GridAngle, &[360.1, -360.1, f64::NAN, f64::INFINITY], &[10.0], |x| {
            every_way(Rosette::delta().turned(Degrees(x)))
        }),
        // Coincident, or half a turn apart; and nearly so.
        chosen(Field::GridSeparation, &[30.0, 210.0, -150.0, 30.9, 29.1, 210.9], &[31.0, 29.0], move |x| {
            every_way(at([30.0, x, 90.0]))?;
            every_way(at([30.0, 90.0, x]))?;
            every_way(at([90.0, 30.0, x]))
        }),
        // Sensitivities that make three grids alike: refused by what comes out, not by the angles.
        chosen(Field::RosetteGain, &[0.0], &[0.5], move |x| {
            let ratio = 20f64.to_radians().cos();
            let outer = Percent(100.0 * (ratio - 1.0) / (ratio + 1.0) + x);
            every_way(at([-10.0, 0.0, 10.0]).transverse_sensitivity([outer, Percent(0.0), outer]))
        }),
        number(Field::CalibrationPoissonRatio, |x| every_way(Rosette::delta().calibration_poisson_ratio(x))),
        number(Field::AngleUncertainty, |x| {
            Rosette::delta().angle_uncertainty::<f64>([Degrees(0.1), Degrees(x), Degrees(0.1)], Degrees(1.0))
        }),
        number(Field::AngleUncertainty, |x| {
            Rosette::delta().angle_uncertainty::<f64>([Degrees(0.1); 3], Degrees(x))
        }),
        // Half of that of each grid.
        chosen(Field::ResidualUncertainty, &[0.0, 1.99e-6], &[2.01e-6, 1e5], move |x| {
            let grids = GridUncertainty::independent([Microstrain(x); 4])?;
            at4([0.0, 45.0, 90.0, 135.0]).residual_check::<f64>(&grids)
        }),
        number(Field::GridStrain, |x| Rosette::delta().fixed_error(Microstrain(x))),
        number(Field::ElasticModulus, move |x| Material::new(Gigapascals(x), 0.3).at(room)),
        number(Field::PoissonRatio, move |x| Material::new(Gigapascals(200.0), x).at(room)),
        number(Field::ModulusUncertainty, move |x| steel.modulus_uncertainty(Percent(x)).at(room)),
        between(Field::PoissonUncertainty, 0.0, 0.2, move |x| steel.poisson_uncertainty(x).at(room)),
        between(Field::Temperature, -50.0, 200.0, move |x| {
            steel.between(Celsius(-50.0), Celsius(200.0)).at(Celsius(x))
        }),
        number(Field::ModulusLow, move |x| steel.between(Celsius(x), Celsius(2047.0)).at(room)),
        between(Field::ModulusHigh, -100.0, 2047.0, move |x| {
            steel.between(Celsius(-100.0), Celsius(x)).at(room)
        }),
        // What changes with temperature has to say where it is known.
        chosen(Field::ModulusLow, &[0.0], &[], move |_| {
            steel.modulus_slope(PercentPer100C(-4.0), room).at(room)
        }),
        chosen(Field::CorrelationDeterminant, &[-1.0], &[1.0], |x| {
            GridUncertainty::correlated([Microstrain(1.0); 3], [1.0, 1.0, x])
        }),
    ];
    for grid in 0..3 {
        fn one<T: Copy>(grid: usize, x: T, others: T) -> [T; 3] {
            let mut each = [others; 3];
            each[grid] = x;
            each
        }
        rows.extend([
            number(Field::GridAngle, move |x| {
                let mut angles = [0.0, 45.0, 90.0];
                angles[grid] = x;
                every_way(at(angles))
            }),
            number(Field::TransverseSensitivity, move |x| {
                every_way(Rosette::rectangular().transverse_sensitivity(one(grid, Percent(x), Percent(0.5))))
            }),
            number(Field::TransverseSensitivity, move |x| {
                let gauges = one(grid, x, 0.5).map(|kt| gauge().transverse_sensitivity(Percent(kt)));
                every_way(Rosette::delta().gauges(&gauges))
            }),
            number(Field::StrainUncertainty, move |x| {
                GridUncertainty::independent(one(grid, Microstrain(x), Microstrain(1.0)))
            }),
            number(Field::SharedUncertainty, move |x| {
                let known = GridUncertainty::independent([Microstrain(1.0); 3])?;
                known.shared(one(grid, Microstrain(x), Microstrain(-1.0)))
            }),
            number(Field::Correlation, move |x| {
                GridUncertainty::correlated([Microstrain(1.0); 3], one(grid, x, 0.0))
            }),
        ]);
    }
    rows
}

fn expansions() -> Vec<Row> {
    let ppm = ExpansionPerCelsius::ppm;
    let steel = move || Expansion::coefficient(ppm(12.0));
    let points = |x: f64| {
        (0..x as usize).map(|k| (Celsius(-200.0 + 0.0015 * k as f64), Strain(0.0))).collect::<Vec<_>>()
    };
    vec![
        between(Field::ExpansionTemperature, -50.0, 50.0, move |x| {
            steel().between(Celsius(-50.0), Celsius(50.0)).thermal_strain(Celsius(x), Celsius(0.0))
        }),
        between(Field::ExpansionTemperature, -50.0, 50.0, move |x| {
            steel().between(Celsius(-50.0), Celsius(50.0)).mean_coefficient(Celsius(0.0), Celsius(x))
        }),
        between(Field::ExpansionLow, -273.15, 2047.0, move |x| {
            steel().between(Celsius(x), Celsius(2047.0)).check()
        }),
        between(Field::ExpansionHigh, -50.0, 2047.0, move |x| {
            steel().between(Celsius(-50.0), Celsius(x)).check()
        }),
        number(Field::ExpansionOrigin, |x| {
            let law = Expansion::coefficient_polynomial([12e-6], Celsius(x));
            law.between(Celsius(0.0), Celsius(50.0)).check()
        }),
        number(Field::ExpansionCoefficient, move |x| Expansion::coefficient(ppm(x)).check()),
        number(Field::ExpansionTerm, |x| {
            let law = Expansion::coefficient_polynomial([x], Celsius(24.0));
            law.between(Celsius(0.0), Celsius(50.0)).check()
        }),
        number(Field::ExpansionStrain, |x| {
            Expansion::length_table(&[(Celsius(20.0), Strain(0.0)), (Celsius(30.0), Strain(x))]).check()
        }),
        whole(Field::ExpansionPoints, None, move |x| Expansion::length_table(&points(x)).check()),
        between(Field::ExpansionPointTemperature, 20.001, 2047.0, |x| {
            Expansion::length_table(&[(Celsius(20.0), Strain(0.0)), (Celsius(x), Strain(1e-4))]).check()
        }),
        number(Field::ExpansionUncertainty, move |x| steel().standard_uncertainty(ppm(x)).check()),
        number(Field::ExpansionRelativeUncertainty, move |x| {
            steel().relative_standard_uncertainty(Percent(x)).check()
        }),
    ]
}

/// Curves that are turned to another specimen, chosen and predicted.
fn predictions() -> Vec<Row> {
    const LOW: Celsius = Celsius(-100.0);
    const HIGH: Celsius = Celsius(150.0);
    fn law() -> Expansion<'static> {
        Expansion::coefficient_polynomial([12e-6, 1e-8], Celsius(24.0)).between(LOW, HIGH)
    }
    fn matched() -> Gauge {
        gauge().matched_to(ExpansionPerCelsius::ppm(11.0))
    }
    fn turned() -> RotatedCurve<'static> {
        RotatedCurve::new(matched(), law())
    }
    fn foil() -> FoilResistance {
        FoilResistance::new([8.13e-6, -8.9e-8]).between(LOW, HIGH)
    }
    fn predicted(foil: FoilResistance) -> Prediction<'static> {
        Prediction::new(matched(), foil, law(), law())
    }
    fn measured() -> FoilMeasurement<'static> {
        FoilMeasurement::new(matched(), law(), law())
    }
    let (low, high) = (Celsius(0.0), Celsius(50.0));
    let good = move || predicted(foil());
    vec![
        between(Field::Temperature, -100.0, 150.0, |x| turned().thermal_output(Celsius(x))),
        between(Field::Temperature, -100.0, 150.0, |x| turned().slope(Celsius(x))),
        between(Field::BalanceTemperature, -100.0, 150.0, |x| turned().balanced_at(Celsius(x)).check()),
        number(Field::InstrumentGaugeFactor, |x| turned().instrument_gauge_factor(GaugeFactor(x)).check()),
        number(Field::ExpansionCoefficient, |x| {
            RotatedCurve::new(matched(), Expansion::coefficient(ExpansionPerCelsius::ppm(x))).check()
        }),
        number(Field::ExpansionCoefficient, |x| {
            turned().measured_on(Expansion::coefficient(ExpansionPerCelsius::ppm(x))).check()
        }),
        number(Field::MatchedExpansion, move |x| {
            Selection::of_matches(&turned(), &[ExpansionPerCelsius::ppm(x)]).least_span(low, high).map(drop)
        }),
        // On a material that is not known.
        chosen(Field::MatchedExpansion, &[0.0], &[], |_| RotatedCurve::new(gauge(), law()).check()),
        // Which is all right on a known material, but not to be compared with other matches.
        chosen(Field::MatchedExpansion, &[0.0], &[], move |_| {
            let known = RotatedCurve::new(gauge(), law()).measured_on(law());
            known.check().unwrap();
            Selection::of_matches(&known, &[ExpansionPerCelsius::ppm(11.0)]).least_slope(low, high).map(drop)
        }),
        // Without thermal output there is nothing to turn.
        chosen(Field::ThermalOutput, &[0.0], &[], |_| {
            let bare = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(11.0));
            RotatedCurve::new(bare, law()).check()
        }),
        chosen(Field::TemperatureHigh, &[50.0], &[150.0], |x| {
            let hot = matched().thermal_output(curve().between(Celsius(100.0), Celsius(200.0)));
            RotatedCurve::new(hot, law().between(LOW, Celsius(x))).check()
        }),
        // As far beyond the window as the temperature may be off.
        chosen(Field::WindowLow, &[-99.5], &[-99.0], move |x| {
            turned().residual(Celsius(x), high, Celsius(1.0))
        }),
        chosen(Field::WindowHigh, &[149.5], &[149.0], move |x| {
            turned().residual(low, Celsius(x), Celsius(1.0))
        }),
        // Of what was given, and with the limits that hold for it.
        between(Field::WindowHigh, -90.0, 140.0, |x| {
            turned().residual(Celsius(-90.0), Celsius(x), Celsius(10.0))
        }),
        // A range that the curve is known in has no room for it.
        chosen(Field::TemperatureWidth, &[50.1], &[49.9], |x| {
            let narrow = matched().thermal_output(curve().between(LOW, Celsius(0.0)));
            RotatedCurve::new(narrow, law()).residual(Celsius(-50.0), Celsius(-50.0), Celsius(x))
        }),
        // Expansions that are not known where the curve turns, or not where the gauge is.
        chosen(Field::ReferenceTemperature, &[0.0], &[30.0], |x| {
            RotatedCurve::new(matched(), law().between(LOW, Celsius(x))).check()
        }),
        chosen(Field::ReferenceTemperature, &[0.0], &[30.0], |x| {
            turned().measured_on(law().between(LOW, Celsius(x))).check()
        }),
        chosen(Field::WindowHigh, &[200.0], &[100.0], |x| turned().extremes(Celsius(0.0), Celsius(x))),
        chosen(Field::WindowLow, &[-200.0, f64::NAN, f64::INFINITY, f64::NEG_INFINITY], &[0.0], move |x| {
            turned().steepest(Celsius(x), high)
        }),
        chosen(Field::WindowHigh, &[0.5, 150.5, f64::NAN, f64::INFINITY], &[1.0, 150.0], move |x| {
            turned().package_curve(low, Celsius(x))
        }),
        number(Field::TemperatureError, move |x| turned().residual(low, high, Celsius(x))),
        chosen(Field::OfferedMatches, &[1.0, 7.0], &[0.0], |x| {
            let offers = [ExpansionPerCelsius::ppm(11.0)];
            Selection::of_matches(&turned(), &offers).curve(x as usize).map(drop)
        }),
        chosen(Field::OfferedMatches, &[0.0], &[], move |_| {
            Selection::of_curves(&[]).least_slope(low, high).map(drop)
        }),
        between(Field::Temperature, -100.0, 150.0, move |x| good().thermal_output(Celsius(x))),
        between(Field::Temperature, -100.0, 150.0, move |x| good().uncertainty(Celsius(x))),
        between(Field::Temperature, -100.0, 150.0, move |x| foil().change(Celsius(x), Celsius(24.0))),
        between(Field::WindowLow, -100.0, 150.0, move |x| good().package_curve(Celsius(x), HIGH)),
        between(Field::WindowHigh, -99.0, 150.0, move |x| good().package_curve(LOW, Celsius(x))),
        // No window of a degree lies between this and the end of the range.
        chosen(Field::TemperatureWidth, &[149.5, 150.0], &[149.0], move |x| {
            good().package_curve(Celsius(x), HIGH)
        }),
        number(Field::FoilCoefficient, |x| predicted(FoilResistance::new([x]).between(LOW, HIGH)).check()),
        number(Field::FoilUncertainty, |x| predicted(foil().standard_uncertainty([0.0, x])).check()),
        number(Field::FoilLow, |x| predicted(foil().between(Celsius(x), HIGH)).check()),
        between(Field::FoilHigh, -100.0, 2047.0, |x| predicted(foil().between(LOW, Celsius(x))).check()),
        chosen(Field::ReferenceTemperature, &[0.0], &[30.0], |x| {
            predicted(foil().between(LOW, Celsius(x))).check()
        }),
        chosen(Field::ReferenceTemperature, &[0.0], &[30.0], |x| {
            Prediction::new(matched(), foil(), law().between(LOW, Celsius(x)), law()).check()
        }),
        chosen(Field::ReferenceTemperature, &[0.0], &[30.0], |x| {
            Prediction::new(matched(), foil(), law(), law().between(LOW, Celsius(x))).check()
        }),
        number(Field::StatedGaugeFactor, move |x| good().stated_for(GaugeFactor(x)).check()),
        number(Field::TemperatureUncertainty, move |x| good().temperature_uncertainty(Celsius(x)).check()),
        number(Field::GaugeFactorUncertainty, move |x| good().gauge_factor_uncertainty(Percent(x)).check()),
        between(Field::Temperature, -100.0, 150.0, |x| measured().at(Celsius(x), Microstrain(0.0))),
        number(Field::MeasuredThermalOutput, |x| measured().at(Celsius(50.0), Microstrain(x))),
        number(Field::ThermalOutputUncertainty, |x| {
            measured().thermal_output_uncertainty(Microstrain(x)).check()
        }),
        number(Field::StatedGaugeFactor, |x| measured().stated_for(GaugeFactor(x)).check()),
        number(Field::GaugeFactorUncertainty, |x| measured().gauge_factor_uncertainty(Percent(x)).check()),
        between(Field::WindowLow, -100.0, 150.0, |x| measured().of_curve(&curve(), Celsius(x), HIGH)),
        between(Field::WindowHigh, -99.0, 150.0, |x| measured().of_curve(&curve(), LOW, Celsius(x))),
        chosen(Field::ReferenceTemperature, &[0.0], &[30.0], |x| {
            let cold = curve().between(LOW, Celsius(x));
            measured().of_curve(&cold, LOW, Celsius(x))
        }),
        chosen(Field::FittedLow, &[0.0], &[], |_| {
            measured().of_curve(&ThermalOutput::celsius([-24.0, 1.0]), Celsius(-50.0), Celsius(50.0))
        }),
    ]
}

fn significance() -> Vec<Row> {
    let (low, high) = (Celsius(0.0), Celsius(50.0));
    let declared = || channel().strain_within(Microstrain(1_000.0));
    vec![
        chosen(
            Field::WindowLow,
            &[-100.5, f64::NAN, f64::INFINITY, f64::NEG_INFINITY],
            &[-100.0],
            move |x| declared().significance(Celsius(x), high),
        ),
        between(Field::WindowHigh, -100.0, 150.0, move |x| {
            declared().significance(Celsius(-100.0), Celsius(x))
        }),
        number(Field::AllowedError, move |x| {
            declared().significance(low, high)?.negligible_within(Microstrain(x))
        }),
        number(Field::PercentReading, move |x| {
            let significance = declared().significance(low, high)?;
            significance.of(CorrectionStep::ThermalOutput).unwrap().percent_of(Microstrain(x))
        }),
        // A converter's rails end its range, of strain there is none.
        chosen(Field::StrainRange, &[0.0], &[], move |_| channel().significance(low, high)),
        chosen(Field::StrainRange, &[0.0], &[], |_| readings().try_fixed::<4, 1, 0>()),
        chosen(Field::StrainRange, &[0.0], &[], |_| readings().try_float32::<4, 1, 0>()),
    ]
}

fn fits() -> Vec<Row> {
    fn empty() -> ThermalOutputFit<f64> {
        ThermalOutputFit::between(Celsius(-50.0), Celsius(100.0)).unwrap()
    }
    /// A parabola with a little scatter, at so many temperatures, so far apart.
    fn points(count: i32, apart: f64) -> ThermalOutputFit<f64> {
        let mut fit = empty();
        for k in 0..count {
            let t = -40.0 + apart * f64::from(k);
            let y = 2.0 * t - 0.01 * t * t + [0.1, -0.2, 0.15][k as usize % 3];
            fit.observe(Direction::Heating, Celsius(t), Microstrain(y)).unwrap();
        }
        fit
    }
    fn loaded() -> GaugeFactorFit<f64> {
        GaugeFactorFit::between(Celsius(0.0), Celsius(100.0)).unwrap()
    }
    let (up, t) = (Direction::Heating, Celsius(20.0));
    let strain = Microstrain;
    let good = || points(9, 15.0);
    let solved = move || good().solve(Degree::Exactly(2)).unwrap();
    vec![
        between(Field::TemperatureLow, -273.15, 2047.0, |x| {
            ThermalOutputFit::<f32>::between(Celsius(x), Celsius(2047.0))
        }),
        between(Field::TemperatureHigh, 20.0, 2047.0, |x| {
            GaugeFactorFit::<f32>::between(Celsius(20.0), Celsius(x))
        }),
        chosen(Field::TemperatureWidth, &[0.0, 0.0999], &[0.1001], |x| {
            ThermalOutputFit::<f32>::between(Celsius(20.0), Celsius(20.0 + x))
        }),
        between(Field::Temperature, -50.0, 100.0, move |x| empty().observe(up, Celsius(x), strain(0.0))),
        number(Field::ChamberReading, move |x| empty().observe(up, t, strain(x))),
        between(Field::FitUncertainty, 1e-6, 1e6, move |x| {
            empty().observe_with(up, t, strain(0.0), strain(x))
        }),
        chosen(Field::FitUncertainties, &[1.0], &[0.0], move |x| {
            let mut fit = if x == 1.0 { good() } else { empty() };
            fit.observe_with(up, t, strain(0.0), strain(1.0))
        }),
        chosen(Field::FitPoints, &[0.0, 1.0, 2.0], &[3.0], |x| {
            points(x as i32, 15.0).solve(Degree::Exactly(1))
        }),
        chosen(Field::FitTemperatureSpread, &[0.0, 0.01], &[0.02], |x| {
            points(9, x).solve(Degree::Exactly(1))
        }),
        // Degree four from temperatures in a tenth of the range declared, in double precision and not.
        chosen(Field::FitRange, &[0.0], &[], |_| {
            let mut single = ThermalOutputFit::<f32>::between(Celsius(-50.0), Celsius(100.0))?;
            for k in 0..30 {
                single.observe(
                    Direction::Heating,
                    Celsius(20.0 + f64::from(k % 5)),
                    Microstrain(f64::from(k % 7)),
                )?;
            }
            single.solve(Degree::Exactly(4)).map(drop)
        }),
        // Three temperatures hold a parabola and no cubic.
        chosen(Field::FitIndependence, &[3.0], &[2.0], move |x| {
            let mut fit = empty();
            for k in 0..24 {
                let (t, y) = [(0.0, 1.0), (40.0, 9.1), (80.0, 33.0), (0.0, 1.1), (40.0, 9.0)][k % 5];
                fit.observe(up, Celsius(t), strain(y))?;
            }
            fit.solve(Degree::Exactly(x as usize)).map(drop)
        }),
        whole(Field::FitDegree, Some((0.0, 5.0)), move |x| good().solve(Degree::Exactly(x as usize))),
        whole(Field::FitDegree, Some((0.0, 5.0)), move |x| {
            good().solve(Degree::Significant { highest: x as usize, level: Percent(1.0) })
        }),
        whole(Field::FitDegree, Some((0.0, 2.0)), move |x| {
            solved().residual_standard_deviation_with(x as usize)
        }),
        number(Field::SignificanceLevel, move |x| {
            good().solve(Degree::Significant { highest: 5, level: Percent(x) })
        }),
        number(Field::AppliedStrain, move |x| loaded().observe(up, t, strain(x), strain(x))),
        number(Field::GaugeFactorRatio, move |x| loaded().observe_ratio(up, t, x)),
        number(Field::StatedGaugeFactor, move |x| solved().thermal_output(GaugeFactor(x))),
        // The declared range went further than the points.
        between(Field::Temperature, -40.0, 80.0, move |x| solved().at(Celsius(x))),
        between(Field::Temperature, -40.0, 80.0, move |x| solved().balanced_at(Celsius(x))),
        between(Field::Temperature, -40.0, 80.0, move |x| {
            solved().confidence_band(Celsius(x), Percent(95.0))
        }),
        between(Field::Temperature, -40.0, 80.0, move |x| {
            solved().prediction_band(Celsius(x), Percent(95.0))
        }),
        number(Field::CoverageProbability, move |x| solved().confidence_band(t, Percent(x))),
        number(Field::CoverageProbability, move |x| solved().prediction_band(t, Percent(x))),
        number(Field::CoverageProbability, |x| coverage_factor(Percent(x), 3)),
        chosen(Field::DegreesOfFreedom, &[0.0], &[1.0, 4_294_967_295.0], |x| {
            coverage_factor(Percent(95.0), x as u32)
        }),
    ]
}

fn uncertainties() -> Vec<Row> {
    /// By every way that inputs can be used.
    fn every_way(inputs: StandardUncertainties) -> Result<(), Error> {
        let result = inputs.check();
        if let Err(error) = result {
            let text = error.to_string();
            assert_eq!(inputs.try_float32::<0>().unwrap_err().to_string(), text);
            assert_eq!(inputs.try_float64::<0>().unwrap_err().to_string(), text);
            assert_eq!(inputs.budget(Microstrain(0.0), Celsius(20.0)).unwrap_err().to_string(), text);
        }
        result
    }
    let of = || StandardUncertainties::for_channel(channel());
    let ppm = ExpansionPerCelsius::ppm;
    let mut rows = vec![
        number(Field::GaugeFactorUncertainty, move |x| every_way(of().of_gauge_factor(Percent(x)))),
        number(Field::GaugeFactorSlopeUncertainty, move |x| {
            every_way(of().of_gauge_factor_slope(PercentPer100C(x)))
        }),
        number(Field::TemperatureUncertainty, move |x| every_way(of().of_temperature(Celsius(x)))),
        number(Field::BalanceTemperatureUncertainty, move |x| {
            every_way(of().of_balance_temperature(Celsius(x)))
        }),
        number(Field::ThermometerUncertainty, move |x| every_way(of().of_thermometer(Celsius(x)))),
        number(Field::ThermalOutputUncertainty, move |x| every_way(of().of_thermal_output(Microstrain(x)))),
        number(Field::ThermalOutputSlopeUncertainty, move |x| {
            every_way(of().of_thermal_output_slope(MicrostrainPerCelsius(x)))
        }),
        number(Field::ExpansionUncertainty, move |x| every_way(of().of_expansion(ppm(x)))),
        number(Field::LeadResistanceUncertainty, move |x| every_way(of().of_lead_resistance(Ohms(x)))),
        number(Field::LeadTemperatureUncertainty, move |x| every_way(of().of_lead_temperature(Celsius(x)))),
        between(Field::PoissonUncertainty, 0.0, 0.5, move |x| every_way(of().of_poisson_ratio(x))),
        number(Field::RatioUncertainty, move |x| every_way(of().of_ratio(Percent(x)))),
        number(Field::ReadingNoise, move |x| every_way(of().noise(x))),
        number(Field::Quantisation, move |x| every_way(of().quantisation(x))),
        number(Field::BalanceNoise, move |x| every_way(of().balance_noise(x))),
        number(Field::KernelBound, move |x| every_way(of().kernel_bound(Nanostrain(x)))),
        number(Field::Strain, move |x| of().budget(Microstrain(x), Celsius(20.0))),
        between(Field::Temperature, -100.0, 150.0, move |x| of().budget(Microstrain(0.0), Celsius(x))),
        between(Field::Temperature, -100.0, 150.0, move |x| of().try_float64::<0>()?.at(Celsius(x))),
        // In single precision a temperature counts as what it is rounded to: the next numbers beyond the ends.
        chosen(Field::Temperature, &[-100.00001, 150.00002, f64::NAN], &[-100.0, 150.0], move |x| {
            of().try_float32::<0>()?.at(Celsius(x))
        }),
        number(Field::CoverageProbability, move |x| {
            of().of_gauge_factor(Percent(0.5))
                .budget(Microstrain(1_000.0), Celsius(20.0))?
                .expanded(Percent(x))
        }),
    ];
    for input in Input::ALL {
        rows.push(number(Field::DegreesOfFreedom, move |x| every_way(of().degrees_of_freedom(input, x))));
    }
    rows
}

/// Words of converters and registers of thermometers.
#[cfg(feature = "embedded-hal")]
fn words() -> Vec<Row> {
    use gaugewright::device::acquisition::{Coding, TemperatureRegister, WordLayout};

    fn word(bits: f64) -> WordLayout {
        WordLayout::new(bits as u32, Coding::TwosComplement)
    }
    fn sum(width: f64, check: f64) -> WordLayout {
        let (width, check) = (width as u8, check as u32);
        let algorithm = crc::Algorithm {
            width,
            poly: 7,
            init: 0,
            refin: false,
            refout: false,
            xorout: 0,
            check,
            residue: 0,
        };
        word(16.0).checksum(&algorithm)
    }
    /// Of 2^31 - 1 steps of a millionth of a degree, to the nearest 2^-44 C.
    const REACH: f64 = 17_592_186.0 / (1u64 << 44) as f64 * i32::MAX as f64;
    let register = |step, low, high| TemperatureRegister::try_with_offset(step, Celsius(0.0), low, high);
    let (step, low, high) = (Celsius(0.0625), Celsius(-40.0), Celsius(125.0));
    vec![
        whole(Field::WordBits, Some((2.0, 32.0)), |x| word(x).try_word()),
        whole(Field::WordBits, Some((2.0, 31.0)), |x| WordLayout::new(x as u32, Coding::Unsigned).try_word()),
        whole(Field::WordShift, Some((0.0, 8.0)), |x| word(24.0).shifted(x as u32).try_word()),
        whole(Field::TransferBytes, Some((3.0, 32.0)), |x| word(24.0).transfer_bytes(x as usize).try_word()),
        whole(Field::StatusByte, Some((0.0, 2.0)), |x| word(24.0).status(x as usize, 1, 0).try_word()),
        whole(Field::StatusByte, Some((0.0, 2.0)), |x| word(24.0).ready(x as usize, 1, 0).try_word()),
        chosen(Field::StatusMask, &[0.0], &[1.0, 255.0], |x| word(24.0).status(0, x as u8, 0).try_word()),
        chosen(Field::StatusOutsideMask, &[2.0, 0x13 as f64], &[0.0, 1.0], |x| {
            word(24.0).status(0, 1, x as u8).try_word()
        }),
        chosen(Field::ChecksumBits, &[0.0, 7.0, 12.0, 33.0, 255.0], &[8.0, 16.0, 24.0, 32.0], |x| {
            sum(x, 0.0).try_word()
        }),
        chosen(Field::ChecksumCheck, &[243.0, 245.0], &[244.0], |x| sum(8.0, x).try_word()),
        whole(Field::NoDataPattern, Some((0.0, 4095.0)), |x| word(12.0).no_data(x as u32).try_word()),
        between(Field::RegisterStep, 1e-6, 128.0, move |x| register(Celsius(x), low, high)),
        between(Field::RegisterStep, 1e-6, 0.5, move |x| register(Celsius(x), low, Celsius(-39.5))),
        chosen(Field::TemperatureWidth, &[0.0, 0.9e-6], &[1.1e-6], move |x| {
            register(step, Celsius(0.0), Celsius(x))
        }),
        between(Field::Temperature, -2047.0, 2047.0, move |x| {
            TemperatureRegister::try_with_offset(step, Celsius(x), low, high)
        }),
        between(Field::TemperatureLow, -2047.0, 2047.0, move |x| register(step, Celsius(x), high)),
        between(Field::TemperatureHigh, -40.0, 2047.0, move |x| register(step, low, Celsius(x))),
        // Temperatures that no code of 32 bits reaches.
        between(Field::TemperatureLow, -2047.0, REACH - 2047.0, |x| {
            TemperatureRegister::try_with_offset(Celsius(1e-6), Celsius(-2047.0), Celsius(x), Celsius(300.0))
        }),
        between(Field::TemperatureHigh, 2047.0 - REACH, 2047.0, |x| {
            TemperatureRegister::try_with_offset(Celsius(1e-6), Celsius(2047.0), Celsius(-300.0), Celsius(x))
        }),
    ]
}

/// Zero and span on site.
fn on_site() -> Vec<Row> {
    static WIRING: WiringCheck = example::FLAT.wiring_check(Percent(1.0));
    static SHUNT: ShuntCheck = Shunt::at_gauge(Arm::One, Ohms(100_000.0)).code_check(&example::FLAT, SPANS);
    let change = (SHUNT.change().lowest.into(), SHUNT.change().highest.into());
    static SINGLE: AdjustableKernel = example::FLAT.fixed_adjustable((-5_000, 6_000), SPANS);
    static PAIR: AdjustableCompensatedKernel = example::COMPENSATED.fixed_adjustable((-5_000, 6_000), SPANS);
    const SPANS: (Span, Span) = (Span::ONE, Span::from_bits(9 << 28));
    const ZERO: Zero = Zero { codes: codes(0.0, 1.0), temperature: Temperature::from_bits(0) };
    const fn codes(sum: f64, count: f64) -> MeanCode {
        MeanCode { sum: sum as i64, count: count as u32 }
    }
    let at = |x: f64| Temperature::from_bits((x * 1_048_576.0) as i32);
    vec![
        whole(Field::CodesInMean, None, |x| WIRING.report(codes(0.0, x))),
        whole(Field::CodesInMean, None, |x| SHUNT.span(codes(0.0, x), 0.into())),
        whole(Field::CodesInMean, None, |x| SHUNT.span(0.into(), codes(0.0, x))),
        whole(Field::BalanceCode, Some((-32_767.0, 32_766.0)), |x| SHUNT.span(codes(x, 1.0), 0.into())),
        whole(Field::ShuntCode, Some((-32_767.0, 32_766.0)), |x| SHUNT.span(0.into(), codes(x, 1.0))),
        whole(Field::ShuntChange, Some(change), |x| SHUNT.span(0.into(), codes(x, 1.0))),
        whole(Field::CodesInMean, None, |x| SINGLE.with(Zero { codes: codes(0.0, x), ..ZERO }, Span::ONE)),
        whole(Field::BalanceCode, Some((-5_000.0, 6_000.0)), |x| {
            SINGLE.with(Zero { codes: codes(x, 1.0), ..ZERO }, Span::ONE)
        }),
        chosen(Field::BalanceTemperature, &[-50.001, 90.001, 2_047.0], &[-50.0, 90.0], move |x| {
            SINGLE.with(Zero { temperature: at(x), ..ZERO }, Span::ONE)
        }),
        chosen(Field::CompensatingBalanceTemperature, &[-50.001, 90.001], &[-50.0, 90.0], move |x| {
            PAIR.with(ZERO, at(x), Span::ONE)
        }),
        chosen(Field::SpanCorrection, &[0.999, 1.126, f64::NAN], &[1.0, 1.125], |x| {
            SINGLE.with(ZERO, Span::from_ratio(x))
        }),
        chosen(Field::SpanCorrection, &[0.799, 1.251, f64::NAN], &[0.8, 1.25], |x| {
            let span = Span::from_ratio(x);
            example::FLAT.try_fixed_adjustable::<4, 1, 0>((0, 0), (span, span))
        }),
    ]
}

/// Names, dates and kernels in records.
#[cfg(feature = "record")]
fn records() -> Vec<Row> {
    use fuzz::records::{KERNEL, seal};
    use gaugewright::device::record::{Date, Identity, Name, Record, RecordError};
    // With another lowest (0) or highest (1) code. Any other refusal is not for this field.
    let with_code = |place: usize, x: f64| {
        let identity = Identity::new(Name::new("flat"), Date::new(2026, 3, 14), 0);
        let mut bytes = [0; Record::<fixed::Kernel>::BYTES];
        Record::<fixed::Kernel>::new(example::FLAT.fixed(), identity).write(&mut bytes).unwrap();
        bytes[KERNEL + 4 * place..][..4].copy_from_slice(&(x as i32).to_le_bytes());
        seal(&mut bytes);
        match Record::<fixed::Kernel>::read(&bytes) {
            Err(RecordError::Invalid(error)) => Err(error),
            _ => Ok(()),
        }
    };
    // A lowest code beyond a rail, which is what is wrong, and not the highest one.
    let beyond_a_rail = |x: f64| {
        let identity = Identity::new(Name::new("flat"), Date::new(2026, 3, 14), 0);
        let sensor = Platinum::iec60751(Ohms(100.0));
        let thermometer =
            ResistanceThermometer::platinum(sensor, Converter::bipolar(16, Ratio(0.125)), Ohms(4096.0));
        let mut bytes = [0; Record::<ResistanceKernel<i32, 2>>::BYTES];
        Record::<ResistanceKernel<i32, 2>>::new(thermometer.fixed(), identity).write(&mut bytes).unwrap();
        bytes[KERNEL + 8..][..4].copy_from_slice(&(x as i32).to_le_bytes());
        seal(&mut bytes);
        match Record::<ResistanceKernel<i32, 2>>::read(&bytes) {
            Err(RecordError::Invalid(error)) => Err(error),
            _ => Ok(()),
        }
    };
    vec![
        chosen(Field::LowestCode, &[-32_768.0, 32_768.0], &[-32_767.0], beyond_a_rail),
        whole(Field::NameLength, None, |x| Name::try_new(&"x".repeat(x as usize))),
        whole(Field::DateYear, None, |x| Date::try_new(x as u16, 3, 14)),
        whole(Field::DateMonth, None, |x| Date::try_new(2026, x as u8, 14)),
        whole(Field::DateDay, Some((1.0, 31.0)), |x| Date::try_new(2026, 3, x as u8)),
        whole(Field::DateDay, Some((1.0, 28.0)), |x| Date::try_new(2100, 2, x as u8)),
        whole(Field::DateDay, Some((1.0, 29.0)), |x| Date::try_new(2000, 2, x as u8)),
        whole(Field::DateDay, Some((1.0, 30.0)), |x| Date::try_new(2026, 11, x as u8)),
        whole(Field::LowestCode, Some((-32_767.0, 32_766.0)), move |x| with_code(0, x)),
        whole(Field::HighestCode, Some((-32_767.0, 32_766.0)), move |x| with_code(1, x)),
    ]
}

#[cfg(not(feature = "record"))]
fn records() -> Vec<Row> {
    Vec::new()
}

/// None of its fields can be reached.
#[cfg(not(feature = "embedded-hal"))]
fn words() -> Vec<Row> {
    Vec::new()
}

#[test]
fn every_field_is_refused_outside_of_its_range() {
    let mut covered = Vec::new();
    for rows in [
        channels(),
        installation(),
        sensors(),
        rosettes(),
        expansions(),
        predictions(),
        significance(),
        fits(),
        uncertainties(),
        words(),
        on_site(),
        records(),
    ] {
        for row in rows {
            covered.push(row.field);
            row.check();
        }
    }
    let of_words = Field::WordBits.number()..=Field::RegisterStep.number();
    let of_records = Field::NameLength.number()..=Field::HighestCode.number();
    let can_be_reached = |field: &Field| {
        let number = field.number();
        (cfg!(feature = "embedded-hal") || !of_words.contains(&number))
            && (cfg!(feature = "record") || !of_records.contains(&number))
    };
    let missing: Vec<_> =
        Field::ALL.iter().filter(|field| can_be_reached(field) && !covered.contains(field)).collect();
    assert!(missing.is_empty(), "no row reaches {missing:?}");
}
