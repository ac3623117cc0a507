//! Every input of a temperature sensor that is out of range, missing or infinite is refused, with the field,
//! the value and the range that would be allowed.

use gaugewright::Error;
use gaugewright::error::Field;
use gaugewright::temperature::*;
use gaugewright::units::*;
use support::refusal::{each, refused};

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
fn wiring() {
    for bad in each(&[-0.1, 1.1e4]) {
        for leads in [
            SensorLeads::TwoWire { there: Ohms(bad), back: Ohms(1.0) },
            SensorLeads::TwoWire { there: Ohms(1.0), back: Ohms(bad) },
        ] {
            refused(leads.sensor(Ohms(110.0)), Field::LeadResistance, bad);
        }
    }
    for bad in each(&[-0.1, 2.1e4]) {
        refused(SensorLeads::ThreeWire { pair: Ohms(bad) }.sensor(Ohms(1e5)), Field::LeadResistance, bad);
    }
    for bad in each(&[1.9, -5.0, 2e8]) {
        refused(SensorLeads::ThreeWire { pair: Ohms(2.0) }.sensor(Ohms(bad)), Field::MeasuredResistance, bad);
    }
    for bad in each(&[-0.1, 2e8]) {
        refused(SensorLeads::FourWire.sensor(Ohms(bad)), Field::MeasuredResistance, bad);
    }
    for bad in each(&[-0.01, 2e4]) {
        refused(resistance_from_ratio(Ratio(bad), Ohms(400.0)), Field::SensorRatio, bad);
    }
    for bad in each(&[0.0, -400.0, 2e7]) {
        refused(resistance_from_ratio(Ratio(0.25), Ohms(bad)), Field::ReferenceResistor, bad);
    }
}

#[test]
fn self_heating() {
    let sound = SelfHeating::new(MilliwattsPerCelsius(2.5));
    for bad in each(&[0.0, -2.5, 2e6]) {
        let wrong = SelfHeating::new(MilliwattsPerCelsius(bad));
        refused(wrong.rise(Milliwatts(1.0)), Field::DissipationConstant, bad);
        refused(wrong.rise_at(Milliamperes(1.0), Ohms(100.0)), Field::DissipationConstant, bad);
    }
    for bad in each(&[-0.1, 2e6]) {
        refused(sound.rise(Milliwatts(bad)), Field::SensorPower, bad);
    }
    for bad in each(&[-1001.0, 1001.0]) {
        refused(sound.rise_at(Milliamperes(bad), Ohms(100.0)), Field::SensorCurrent, bad);
    }
    for bad in each(&[-1.0, 2e8]) {
        refused(sound.rise_at(Milliamperes(1.0), Ohms(bad)), Field::SensorResistance, bad);
    }
    // Each for itself is allowed, the power that they come to is not.
    refused(sound.rise_at(Milliamperes(1000.0), Ohms(1e4)), Field::SensorPower, 1e7);
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
    let made = Thermistor::steinhart_hart;
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
        refused(Thermistor::beta(Ohms(bad), celsius, Kelvin(4e3)), Field::SensorResistance, bad);
        let points = [(ohms, celsius), (Ohms(bad), Celsius(50.0)), (Ohms(3e4), Celsius(0.0))];
        refused(Thermistor::beta_through(points[0], points[1]), Field::SensorResistance, bad);
        refused(Thermistor::through(points), Field::SensorResistance, bad);
    }
    for bad in each(&[-101.0, 501.0]) {
        refused(Thermistor::beta(ohms, Celsius(bad), Kelvin(4e3)), Field::Temperature, bad);
        let points = [(ohms, Celsius(bad)), (Ohms(4e3), Celsius(50.0)), (Ohms(3e4), Celsius(0.0))];
        refused(Thermistor::beta_through(points[0], points[1]), Field::Temperature, bad);
        refused(Thermistor::through(points), Field::Temperature, bad);
    }
    for bad in each(&[0.0, -4e3, 99.0, 2.1e4]) {
        refused(Thermistor::beta(ohms, celsius, Kelvin(bad)), Field::ThermistorBeta, bad);
    }
    // The same point twice, wherever it stands.
    let [a, b, c] = [(ohms, celsius), (Ohms(4e3), Celsius(50.0)), (Ohms(3e4), Celsius(0.0))];
    refused(Thermistor::beta_through(a, a), Field::ThermistorPoints, 0.0);
    for points in [[a, a, b], [a, b, a], [b, a, a]] {
        refused(Thermistor::through(points), Field::ThermistorPoints, 0.0);
    }
    assert!(Thermistor::through([a, b, c]).is_ok());
    // Rising with temperature, or not at all.
    let rising = Thermistor::beta_through(a, (Ohms(2e4), Celsius(50.0)));
    assert!(matches!(rising, Err(Error::Invalid { field: Field::ThermistorBeta, value, .. }) if value < 0.0));
    refused(Thermistor::beta_through(a, (Ohms(4e3), celsius)), Field::ThermistorBeta, f64::NEG_INFINITY);

    let bead = Thermistor::beta(ohms, celsius, Kelvin(3950.0)).unwrap();
    for bad in each(&[0.0, -1.0, 0.09, 2e8]) {
        refused(bead.temperature(Ohms(bad)), Field::SensorResistance, bad);
    }
    for bad in each(&[-101.0, 501.0]) {
        refused(bead.resistance(Celsius(bad)), Field::Temperature, bad);
    }
    // Inside the resistances, but colder than the domain.
    let low = Thermistor::beta(Ohms(1e3), celsius, Kelvin(3950.0)).unwrap();
    let error = low.temperature(Ohms(9e7)).unwrap_err();
    assert!(
        matches!(error, Error::Invalid { field: Field::Temperature, value, .. } if value < -100.0),
        "{error}"
    );
    // Where the equation gives 1/T below zero, no temperature is hot enough.
    let cold_only = made(-2e-3, 3e-4, 0.0).unwrap();
    refused(cold_only.temperature(Ohms(10.0)), Field::Temperature, f64::INFINITY);
    // The domain of resistances may end before that of temperatures.
    let small = Thermistor::beta(Ohms(10.0), celsius, Kelvin(3950.0)).unwrap();
    let hottest = small.temperature(Ohms(0.1)).unwrap();
    assert!(hottest.0 < 500.0);
    refused(small.resistance(Celsius(hottest.0 + 1.0)), Field::Temperature, hottest.0 + 1.0);
    assert!(small.resistance(hottest).is_ok());
}
