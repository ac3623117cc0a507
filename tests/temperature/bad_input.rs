//! Every input of a temperature sensor that is out of range, missing or infinite is refused, with the field,
//! the value and the range that would be allowed.

use gaugewright::channel::Arm;
use gaugewright::error::Field;
use gaugewright::fixed::Temperature;
use gaugewright::installation::Shunt;
use gaugewright::temperature::*;
use gaugewright::units::*;
use gaugewright::{Bridge, Channel, CompensatingGauge, Converter, Error, Gauge, Instrument, ThermalOutput};
use support::refusal::{each, refused, refused_for};

#[test]
fn platinum() {
    let pt100 = Platinum::iec60751(Ohms(100.0));
    for bad in each(&[-200.1, 850.1]) {
        refused(pt100.resistance(Celsius(bad)), Field::Temperature, bad);
        refused(pt100.sensitivity(Celsius(bad)), Field::Temperature, bad);
    }
    // Short-circuited, broken, and just outside.
    for bad in each(&[-1.0, 0.0, 18.5, 390.5, 1e9]) {
        refused(pt100.temperature(Ohms(bad)), Field::SensorResistance, bad);
    }
    for bad in each(&[0.0, -100.0, 0.09, 2e6]) {
        let sensor = Platinum::iec60751(Ohms(bad));
        refused(sensor.check(), Field::ResistanceAtZero, bad);
        refused(sensor.resistance(Celsius(20.0)), Field::ResistanceAtZero, bad);
        refused(sensor.sensitivity(Celsius(20.0)), Field::ResistanceAtZero, bad);
        refused(sensor.temperature(Ohms(107.0)), Field::ResistanceAtZero, bad);
    }
    let custom = |a, b, c| Platinum::callendar_van_dusen(Ohms(100.0), a, b, c);
    for bad in each(&[0.0, 2.9e-3, 4.6e-3, -3.9e-3]) {
        refused(custom(bad, -5.775e-7, -4.183e-12).check(), Field::CallendarVanDusen, bad);
    }
    for bad in each(&[-1.1e-6, 5.775e-5]) {
        refused(custom(3.9083e-3, bad, -4.183e-12).temperature(Ohms(100.0)), Field::CallendarVanDusen, bad);
    }
    for bad in each(&[-4.183e-10, 2e-11]) {
        refused(custom(3.9083e-3, -5.775e-7, bad).resistance(Celsius(0.0)), Field::CallendarVanDusen, bad);
    }
}

#[test]
fn tolerance_outside_the_range_of_the_class() {
    for class in [ToleranceClass::AA, ToleranceClass::A, ToleranceClass::B, ToleranceClass::C] {
        for element in [PlatinumElement::WireWound, PlatinumElement::Film] {
            let (low, high) = class.range(element);
            assert!(class.tolerance(element, low).is_ok() && class.tolerance(element, high).is_ok());
            for bad in each(&[low.0 - 0.1, high.0 + 0.1]) {
                refused(class.tolerance(element, Celsius(bad)), Field::Temperature, bad);
            }
        }
    }
}

#[test]
fn thermocouples() {
    for couple in Thermocouple::ALL {
        let (low, high) = couple.range();
        for bad in each(&[low.0 - 0.1, high.0 + 0.1]) {
            refused(couple.emf(Celsius(bad)), Field::Temperature, bad);
            refused(couple.seebeck(Celsius(bad)), Field::Temperature, bad);
            let cold = couple.temperature_with_cold_junction(Millivolts(1.0), Celsius(bad));
            refused(cold, Field::ColdJunctionTemperature, bad);
        }
        let (low, high) = couple.invertible_range();
        let (low, high) = (couple.emf(low).unwrap().0, couple.emf(high).unwrap().0);
        for bad in each(&[low - 1e-6, high + 1e-6, -1e3, 1e3]) {
            refused(couple.temperature(Millivolts(bad)), Field::ThermocoupleEmf, bad);
        }
        // The range is that of the sum; what is said is the measured value.
        let cold = Celsius(25.0);
        let shift = couple.emf(cold).unwrap().0;
        for bad in each(&[low - shift - 1e-6, high - shift + 1e-6]) {
            let found = couple.temperature_with_cold_junction(Millivolts(bad), cold);
            refused(found, Field::ThermocoupleEmf, bad);
        }
        for good in [low - shift, high - shift] {
            assert!(couple.temperature_with_cold_junction(Millivolts(good), cold).is_ok());
        }
    }
    // Two temperatures to one EMF, within a degree of the lowest.
    let lowest = Thermocouple::B.emf(Celsius(21.0)).unwrap().0;
    refused(Thermocouple::B.temperature(Millivolts(lowest)), Field::ThermocoupleEmf, lowest);
}

#[test]
fn thermistors() {
    let made = Thermistor::try_steinhart_hart;
    for bad in each(&[-0.2, 0.2]) {
        refused(made(bad, 2.3e-4, 8.8e-8), Field::ThermistorCoefficient, bad);
    }
    for bad in each(&[0.0, -2.3e-4, 0.02]) {
        refused(made(1.1e-3, bad, 8.8e-8), Field::ThermistorCoefficient, bad);
    }
    for bad in each(&[-2e-5, 2e-5]) {
        refused(made(1.1e-3, 2.3e-4, bad), Field::ThermistorCoefficient, bad);
    }
    let Err(Error::Invalid { field: Field::ThermistorSlope, value, .. }) = made(1.1e-3, 2.3e-4, -1e-6) else {
        panic!("a slope that turns is accepted")
    };
    assert!(value < 0.0);

    let (ohms, celsius) = (Ohms(1e4), Celsius(25.0));
    for bad in each(&[0.0, -1.0, 0.09, 2e8]) {
        refused(Thermistor::try_beta(Ohms(bad), celsius, Kelvin(4e3)), Field::SensorResistance, bad);
        let points = [(ohms, celsius), (Ohms(bad), Celsius(50.0)), (Ohms(3e4), Celsius(0.0))];
        refused(Thermistor::try_beta_through(points[0], points[1]), Field::SensorResistance, bad);
        refused(Thermistor::try_through(points), Field::SensorResistance, bad);
    }
    for bad in each(&[-101.0, 501.0]) {
        refused(Thermistor::try_beta(ohms, Celsius(bad), Kelvin(4e3)), Field::Temperature, bad);
        let points = [(ohms, Celsius(bad)), (Ohms(4e3), Celsius(50.0)), (Ohms(3e4), Celsius(0.0))];
        refused(Thermistor::try_beta_through(points[0], points[1]), Field::Temperature, bad);
        refused(Thermistor::try_through(points), Field::Temperature, bad);
    }
    for bad in each(&[0.0, -4e3, 99.0, 2.1e4]) {
        refused(Thermistor::try_beta(ohms, celsius, Kelvin(bad)), Field::ThermistorBeta, bad);
    }
    // The same point twice, wherever it stands.
    let [a, b, c] = [(ohms, celsius), (Ohms(4e3), Celsius(50.0)), (Ohms(3e4), Celsius(0.0))];
    refused(Thermistor::try_beta_through(a, a), Field::ThermistorPoints, 0.0);
    for points in [[a, a, b], [a, b, a], [b, a, a]] {
        refused(Thermistor::try_through(points), Field::ThermistorPoints, 0.0);
    }
    assert!(Thermistor::try_through([a, b, c]).is_ok());
    // Rising with temperature, or not at all.
    let rising = Thermistor::try_beta_through(a, (Ohms(2e4), Celsius(50.0)));
    assert!(matches!(rising, Err(Error::Invalid { field: Field::ThermistorBeta, value, .. }) if value < 0.0));
    refused(Thermistor::try_beta_through(a, (Ohms(4e3), celsius)), Field::ThermistorBeta, f64::NEG_INFINITY);

    let bead = Thermistor::beta(ohms, celsius, Kelvin(3950.0));
    for bad in each(&[0.0, -1.0, 0.09, 2e8]) {
        refused(bead.temperature(Ohms(bad)), Field::SensorResistance, bad);
    }
    for bad in each(&[-101.0, 501.0]) {
        refused(bead.resistance(Celsius(bad)), Field::Temperature, bad);
    }
    // Inside the resistances, but colder than the domain.
    let low = Thermistor::beta(Ohms(1e3), celsius, Kelvin(3950.0));
    let error = low.temperature(Ohms(9e7)).unwrap_err();
    assert!(
        matches!(error, Error::Invalid { field: Field::Temperature, value, .. } if value < -100.0),
        "{error}"
    );
    // Where the equation gives 1/T below zero, no temperature is hot enough.
    let cold_only = made(-2e-3, 3e-4, 0.0).unwrap();
    refused(cold_only.temperature(Ohms(10.0)), Field::Temperature, f64::INFINITY);
    // The domain of resistances may end before that of temperatures.
    let small = Thermistor::beta(Ohms(10.0), celsius, Kelvin(3950.0));
    let hottest = small.temperature(Ohms(0.1)).unwrap();
    assert!(hottest.0 < 500.0);
    refused(small.resistance(Celsius(hottest.0 + 1.0)), Field::Temperature, hottest.0 + 1.0);
    assert!(small.resistance(hottest).is_ok());
}

/// The ends of a range that are themselves computed, as anyone would write them down, and a last bit beyond.
#[test]
fn exact_ends_of_every_range_are_accepted() {
    // IEC 60751: 100 ohm times 0.1852008 and 3.90481125, which are exact in decimals.
    let pt100 = Platinum::iec60751(Ohms(100.0));
    assert_eq!(pt100.temperature(Ohms(18.52008)), Ok(Platinum::LOW));
    assert_eq!(pt100.temperature(Ohms(390.481125)), Ok(Platinum::HIGH));
    for at_zero in [0.1, 10.0, 25.5, 100.0, 130.0, 500.0, 1000.0, 2000.0, 9999.9, 1e6] {
        let sensor = Platinum::iec60751(Ohms(at_zero));
        let told =
            [sensor.temperature(Ohms(at_zero * 0.1852008)), sensor.temperature(Ohms(at_zero * 3.90481125))];
        assert_eq!(told, [Ok(Platinum::LOW), Ok(Platinum::HIGH)], "{at_zero}");
        // What is more than rounding of this end is refused as before.
        let beyond = at_zero * 0.1852008 * (1.0 - 32.0 * f64::EPSILON);
        refused_for(sensor.temperature(Ohms(beyond)), Field::SensorResistance);
        assert!(sensor.temperature(Ohms(at_zero * 3.90481125 * (1.0 + 4.0 * f64::EPSILON))).is_ok());
        refused_for(sensor.temperature(Ohms(at_zero * 0.185_200_799_9)), Field::SensorResistance);
        refused_for(sensor.temperature(Ohms(at_zero * 3.904_811_251)), Field::SensorResistance);
    }
    for couple in Thermocouple::ALL {
        let (low, high) = couple.invertible_range();
        let [least, most] = [low, high].map(|end| couple.emf(end).unwrap().0);
        for (end, emf) in [(low, least), (low, least.next_down()), (high, most), (high, most.next_up())] {
            assert_eq!(couple.temperature(Millivolts(emf)), Ok(end), "{couple:?}");
        }
        let (coldest, hottest) = couple.range();
        for cold in [coldest.0, hottest.0, 0.0, 0.1, 23.7, 50.0].map(Celsius) {
            let shift = couple.emf(cold).unwrap().0;
            for (end, emf) in [(low, least - shift), (high, most - shift)] {
                for emf in [emf.next_down(), emf, emf.next_up()] {
                    let found = couple.temperature_with_cold_junction(Millivolts(emf), cold).unwrap();
                    assert!((found.0 - end.0).abs() < 1e-6, "{couple:?}, {cold}: {found}");
                    assert!(couple.emf(found).is_ok());
                }
            }
        }
    }
    // A thermistor of which 100 megohm are colder than -100 C, which end there all the same.
    let cold = Thermistor::try_steinhart_hart(1.004e-3, 2.5e-4, 6.1e-8).unwrap();
    assert!(cold.resistance(Celsius(-100.0)).is_ok());
    let refused = cold.resistance(Celsius(-103.0));
    assert!(
        matches!(refused, Err(Error::Invalid { field: Field::Temperature, low: -100.0, .. })),
        "{refused:?}"
    );
    // Thermistors whose domain ends with a temperature, and with a resistance; there and back.
    for k in 0..2_000 {
        let beta = 300.0 + 4.7 * f64::from(k);
        let Ok(bead) = Thermistor::try_beta(Ohms(10_000.0), Celsius(25.0), Kelvin(beta)) else { continue };
        for end in [-100.0, 500.0].map(Celsius) {
            let Ok(ohms) = bead.resistance(end) else { continue };
            assert_eq!(bead.temperature(ohms).map(|back| (back.0 - end.0).abs() < 1e-9), Ok(true), "{beta}");
        }
        for end in [0.1, 1e8].map(Ohms) {
            let Ok(celsius) = bead.temperature(end) else { continue };
            let back = bead.resistance(celsius).unwrap();
            assert!((back.0 / end.0 - 1.0).abs() < 1e-12 && bead.temperature(back).is_ok(), "{beta}");
        }
    }
    // What is measured is the leads, to the last bit.
    let leads = SensorLeads::TwoWire { there: Ohms(0.1), back: Ohms(0.2) };
    assert_eq!(leads.sensor(Ohms(0.3)), Ok(Ohms(0.0)));
}

/// The same of what is compiled: a range that ends where the sensor's does.
#[test]
fn kernels_reach_the_exact_ends_of_a_sensor() {
    for at_zero in [100.0, 130.0, 500.0, 1000.0] {
        let whole = ResistanceThermometer::platinum(
            Platinum::iec60751(Ohms(at_zero)),
            Converter::bipolar(24, Ratio(0.5)),
            Ohms(at_zero * 10.0),
        );
        assert!(whole.between(Platinum::LOW, Platinum::HIGH).try_fixed::<16>().is_ok());
    }
    for k in 0..200 {
        let beta = 300.0 + 47.0 * f64::from(k);
        let Ok(bead) = Thermistor::try_beta(Ohms(10_000.0), Celsius(25.0), Kelvin(beta)) else { continue };
        for end in [-100.0, 500.0] {
            if bead.resistance(Celsius(end)).is_err() {
                continue;
            }
            let t =
                ResistanceThermometer::thermistor(bead, Converter::bipolar(24, Ratio(1.0)), Ohms(10_000.0));
            let (low, high) = if end < 0.0 { (end, end + 40.0) } else { (end - 40.0, end) };
            let made = t.in_divider().between(Celsius(low), Celsius(high)).try_fixed::<2>();
            // A flat curve has too few codes, which is another error.
            let told = !matches!(
                made,
                Err(Error::Invalid { field: Field::Temperature | Field::SensorResistance, .. })
            );
            assert!(told, "{beta}, {end}: {made:?}");
        }
    }
    for couple in Thermocouple::ALL {
        let (low, high) = couple.invertible_range();
        let (coldest, hottest) = couple.range();
        for (coldest, hottest) in [(coldest, Celsius(85.0)), (Celsius(50.0), hottest)] {
            let t = thermocouple(couple, 200.0);
            let made = t.between(low, high).cold_junction(coldest, hottest).try_fixed::<64, 16>();
            assert!(made.is_ok(), "{couple:?}: {made:?}");
        }
        // Narrow ones, whose last place of comparison may be rounded to beyond the end.
        for width in [20.61, 21.35, 30.0] {
            let coldest = Celsius(hottest.0 - width);
            let t = thermocouple(couple, 200.0).cold_junction(coldest, hottest);
            assert!(t.try_fixed::<64, 16>().is_ok(), "{couple:?}: {coldest}");
        }
    }
}

/// With a full scale in millivolts.
fn thermocouple(couple: Thermocouple, full_scale: f64) -> ThermocoupleInput {
    ThermocoupleInput::new(couple, Converter::bipolar(24, Ratio(1.0 / 64.0)), Millivolts(full_scale * 64.0))
}

/// A full scale that does not cover the declared range would read as an open thermocouple inside it.
#[test]
fn a_thermocouples_full_scale_covers_its_range() {
    let k = |full: f64| thermocouple(Thermocouple::K, full);
    // ITS-90 (NIST Monograph 175): type K has 54.886 mV at 1372 C and -1.527 mV at -40 C.
    let needed = refused_for(k(39.0625).try_fixed::<64, 4>(), Field::FullScaleEmf);
    assert_eq!(needed, 39.0625);
    let Err(Error::Invalid { low, high, .. }) = k(39.0625).try_float32::<64, 4>() else { panic!("accepted") };
    assert!((low - (54.886 + 1.527)).abs() < 0.001 && high == 1e3, "{low}");
    let both = |full: f64, range: (f64, f64), cold: (f64, f64)| {
        let t = k(full).between(Celsius(range.0), Celsius(range.1));
        t.cold_junction(Celsius(cold.0), Celsius(cold.1)).try_fixed::<64, 4>()
    };
    for (range, cold) in [
        ((-200.0, 1372.0), (-40.0, 85.0)),
        ((0.0, 900.0), (20.0, 30.0)),
        // Here the negative rail is nearer: -6.458 mV at -270 C, against 3.35 mV at 82 C.
        ((-270.0, -200.0), (0.0, 85.0)),
    ] {
        let Err(Error::Invalid { field: Field::FullScaleEmf, low, .. }) = both(0.1, range, cold) else {
            panic!("accepted")
        };
        // Nothing less than is needed compiles, what is needed does, and no reading in range is at a rail.
        refused_for(both(low * (1.0 - 1e-9), range, cold), Field::FullScaleEmf);
        let kernel = both(low, range, cold).unwrap();
        for (hot, cold) in [(range.0, cold.1), (range.1, cold.0), (range.0, cold.0), (range.1, cold.1)] {
            let emf = |celsius: f64| Thermocouple::K.emf(Celsius(celsius)).unwrap().0;
            let code = Converter::bipolar(24, Ratio(low)).code(Ratio(emf(hot) - emf(cold)));
            let code = if code < 0.0 { code.ceil() } else { code.floor() } as i32;
            let reading = kernel.reading(code, Temperature::from_celsius(Celsius(cold)).unwrap());
            assert!(!reading.flags.contains(ThermometerFlags::OPEN), "{hot}, {cold}: {:?}", reading.flags);
        }
    }
}

/// What a person reads, for every kind of sentence there is.
#[test]
fn errors_say_what_is_wrong_in_the_terms_it_was_given_in() {
    let curve = ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-100.0), Celsius(150.0));
    let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(curve);
    let full_scale = |ratio| Converter::bipolar(24, Ratio(ratio));
    let of = |gauge, ratio| {
        Channel::new(gauge, Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0)), full_scale(ratio))
    };
    let checked = |channel: Channel| channel.check();
    let of_gauge = |gauge| checked(of(gauge, 0.01));
    let within = |low, high| checked(of(gauge, 0.01).temperature_within(Celsius(low), Celsius(high)));
    let instrument = Instrument::showing(Microstrain(0.1), GaugeFactor(2.0));
    let from_readings = Channel::from_readings(gauge, instrument);
    let fixed = |channel: Channel| channel.try_fixed::<4, 1, 0>().map(drop);
    let pt100 = Platinum::iec60751(Ohms(100.0));
    let k = |full| thermocouple(Thermocouple::K, full);

    let table: &[(Result<(), Error>, &str)] = &[
        // Reversed.
        (
            within(60.0, 50.0),
            "upper end of the declared temperature range (C) is 50, below the lower end of 60: the range is reversed",
        ),
        (
            of_gauge(gauge.thermal_output(curve.between(Celsius(90.0), Celsius(-50.5)))),
            "upper end of the fitted temperature range (C) is -50.5, below the lower end of 90: the range is reversed",
        ),
        (
            k(80.0).cold_junction(Celsius(50.0), Celsius(0.0)).try_fixed::<64, 4>().map(drop),
            "cold junction temperature (C) is 0, below the lower end of 50: the range is reversed",
        ),
        // Of which one end alone is out of bounds.
        (within(-50.0, 151.0), "upper end of the declared temperature range (C) is 151, allowed: -50 to 150"),
        // Missing.
        (
            of_gauge(Gauge::new(GaugeFactor(2.0))),
            "thermal output is missing: state its coefficients and the temperatures they were fitted on",
        ),
        (
            of_gauge(gauge.thermal_output(ThermalOutput::celsius_from(&[]))),
            "degree of the thermal output polynomial is missing: a curve has one to six coefficients",
        ),
        (
            of_gauge(gauge.thermal_output(ThermalOutput::celsius([0.0, 1.0]))),
            "lower end of the fitted temperature range (C) is missing or not a number, allowed: -273.15 to 2047",
        ),
        (
            from_readings.diagnose(0, Percent(1.0)).map(drop),
            "bridge is missing: this takes a channel of converter codes, and readings of an instrument do not tell its bridge",
        ),
        (
            of(gauge, 0.01).compensated_by(CompensatingGauge::new(gauge)).try_fixed::<4, 1, 0>().map(drop),
            "number of compensating gauges with a temperature of their own is 1, but only a half bridge with a compensating \
             gauge has one",
        ),
        // In the unit it was given in.
        (
            of_gauge(gauge.matched_to(ExpansionPerCelsius::ppm(11_000.0))),
            "expansion coefficient the gauge is matched to (ppm/C) is 11000, allowed: -1000 to 1000",
        ),
        (
            checked(
                of(gauge.matched_to(ExpansionPerCelsius::ppm(11.0)), 0.01)
                    .specimen(ExpansionPerCelsius(23.0)),
            ),
            "expansion coefficient of the specimen (ppm/C) is 23000000, allowed: -1000 to 1000",
        ),
        (
            of_gauge(gauge.transverse_sensitivity(Percent(57.0))),
            "transverse sensitivity (%) is 57, allowed: -50 to 50",
        ),
        (
            of(gauge, 0.01).diagnose(0, Percent(21.0)).map(drop),
            "resistor tolerance (%) is 21, allowed: 0 to 20",
        ),
        (
            Shunt::at_gauge(Arm::One, Ohms(1e5)).tolerance(Percent(29.0)).effect(&of(gauge, 0.01)).map(drop),
            "shunt tolerance (%) is 29, allowed: 0 to 20",
        ),
        // Millivolts for volts.
        (
            checked(of(gauge, 7.8125)),
            "full-scale ratio (V/V) is 7.8125, allowed: 0.000001 to 1; 7.8125 mV/V are 0.0078125 V/V",
        ),
        (checked(of(gauge, 2000.0)), "full-scale ratio (V/V) is 2000, allowed: 0.000001 to 1"),
        (
            ResistanceThermometer::platinum(pt100, full_scale(62.5), Ohms(4096.0)).try_fixed::<8>().map(drop),
            "full-scale ratio (V/V) is 62.5, allowed: 0.000001 to 4; 62.5 mV/V are 0.0625 V/V",
        ),
        // What the kernel holds, in terms of the channel.
        (
            fixed(of(gauge, 1.0 / 8.0)),
            "strain over the codes in use (microstrain) is 504383.49, the kernel holds 125000 at most: declare a smaller \
             strain range, or take a smaller full scale (more gain); of 31 or 32 converter bits, leave out the lowest",
        ),
        // As many digits as there are.
        (
            pt100.temperature(Ohms(18.5)).map(drop),
            "resistance of the temperature sensor (ohm) is 18.5, allowed: 18.52008 to 390.481125",
        ),
        (
            pt100.temperature(Ohms(18.520_079_999_9)).map(drop),
            "resistance of the temperature sensor (ohm) is just below 18.52008, allowed: 18.52008 to 390.481125",
        ),
        (
            pt100.temperature(Ohms(f64::MAX)).map(drop),
            "resistance of the temperature sensor (ohm) is 1.79769313e308, allowed: 18.52008 to 390.481125",
        ),
        (
            pt100.temperature(Ohms(5e-324)).map(drop),
            "resistance of the temperature sensor (ohm) is 4.94065646e-324, allowed: 18.52008 to 390.481125",
        ),
        (
            pt100.temperature(Ohms(f64::NEG_INFINITY)).map(drop),
            "resistance of the temperature sensor (ohm) is -inf, allowed: 18.52008 to 390.481125",
        ),
        (
            k(39.0625).try_fixed::<64, 4>().map(drop),
            "full-scale EMF (mV) is 39.0625, allowed: 56.4133254 to 1000",
        ),
    ];
    for (result, text) in table {
        let error = result.expect_err(text);
        // `Display` and the text of a build that stops; that of C is compared in `tests/ffi.rs`.
        assert_eq!(error.to_string(), *text);
        assert_eq!(error.build_message().as_str(), *text);
    }
}
