//! Arbitrary bytes as sensors of temperature and what follows them: nothing panics, a refusal has a true reason, and what
//! compiles is within its bound of the functions in double precision.

use gaugewright::Converter;
use gaugewright::fixed::Temperature;
use gaugewright::temperature::*;
use gaugewright::units::*;

use super::bytes::Bytes;
use super::sound::told;

/// What the functions in double precision may be off themselves, C: the last places of ohms and millivolts over the
/// flattest slope that an inverse is given for, and of a thousand kelvin.
const ROUNDING: f64 = 1e-7;

/// Returns whether a kernel was compiled.
pub fn run(data: &[u8]) -> bool {
    let mut bytes = Bytes::new(data);
    what_follows(&mut bytes);
    match bytes.byte() % 3 {
        0 => platinum(&mut bytes),
        1 => thermistor(&mut bytes),
        _ => thermocouple(&mut bytes),
    }
}

fn reading(bytes: &mut Bytes) -> Reading {
    let flags = ThermometerFlags::from_bits(bytes.byte() % 64).unwrap();
    Reading { temperature: Temperature::from_bits(bytes.word()), flags }
}

fn what_follows(bytes: &mut Bytes) {
    let pair = told(SensorPair::try_at(bytes.number(-0.1, 1.1)));
    let mut last = LastReading::new(bytes.word() as u32);
    for _ in 0..4 {
        let (one, other) = (reading(bytes), reading(bytes));
        if let Some(pair) = &pair {
            let between = pair.reading(one, other).temperature;
            let (low, high) =
                (one.temperature.min(other.temperature), one.temperature.max(other.temperature));
            assert!(low <= between && between <= high);
        }
        last.update(one, bytes.word() as u32);
        let now = last.at(bytes.word() as u32);
        assert!(now.is_none_or(|reading| reading.flags.is_usable()));
    }
    let heating = SelfHeating::new(MilliwattsPerCelsius(bytes.number(-1.0, 10.0)));
    told(heating.rise_at(Milliamperes(bytes.number(-10.0, 10.0)), Ohms(bytes.number(-1.0, 1e4))));
    told(resistance_from_ratio(Ratio(bytes.number(-0.1, 2.0)), Ohms(bytes.number(0.0, 1e4))));
}

/// A converter whose bits are sound, as the ohms of a code need them, or one that is refused.
fn converter(bytes: &mut Bytes) -> Converter {
    let bits = [24, 16, 32, 12, 8, 20, 31, 33][usize::from(bytes.byte()) % 8];
    Converter::bipolar(bits, Ratio(bytes.one_of(&[1.0, 0.5, 1.0 / 8.0, 1.0 / 16.0, 2.0])))
}

fn leads(bytes: &mut Bytes) -> (SensorLeads, f64) {
    let (there, back) = (bytes.number(-0.1, 20.0), bytes.number(-0.1, 20.0));
    match bytes.byte() % 4 {
        1 => (SensorLeads::TwoWire { there: Ohms(there), back: Ohms(back) }, there + back),
        2 => (SensorLeads::ThreeWire { pair: Ohms(there) }, there),
        _ => (SensorLeads::FourWire, 0.0),
    }
}

/// What is common to sensors whose resistance is measured.
struct Measured {
    converter: Converter,
    reference: f64,
    leads: f64,
    divider: bool,
}

impl Measured {
    fn set(
        bytes: &mut Bytes,
        usual: f64,
        make: impl Fn(Converter, Ohms) -> ResistanceThermometer,
    ) -> (Self, ResistanceThermometer) {
        let converter = converter(bytes);
        let reference = bytes.one_of(&[usual, 4096.0, 1e4, 100.0, 0.1, 1e7]);
        let ((leads, total), divider) = (leads(bytes), bytes.byte() % 4 == 1);
        let mut thermometer = make(converter, Ohms(reference)).leads(leads);
        if divider {
            thermometer = thermometer.in_divider();
        }
        if bytes.flag() {
            let (low, high) = (bytes.number(-220.0, 400.0), bytes.number(-200.0, 900.0));
            thermometer = thermometer.between(Celsius(low), Celsius(high));
        }
        (Self { converter, reference, leads: total, divider }, thermometer)
    }

    /// Ohms of the sensor for a code.
    fn ohms(&self, code: i32) -> f64 {
        let ratio = self.converter.ratio(f64::from(code)).0;
        (if self.divider { self.reference * ratio / (1.0 - ratio) } else { self.reference * ratio })
            - self.leads
    }

    fn judge<const PIECES: usize>(
        &self,
        thermometer: &ResistanceThermometer,
        bytes: &mut Bytes,
        temperature: impl Fn(Ohms) -> Option<Celsius>,
    ) -> bool {
        let (kernel, single) =
            (told(thermometer.try_fixed::<PIECES>()), told(thermometer.try_float32::<PIECES>()));
        told(thermometer.try_fixed_within::<PIECES>(Celsius(bytes.number(0.0, 0.1))));
        let Some(kernel) = kernel else { return false };
        let bound = kernel.error_bound().0;
        let (first, last) = kernel.codes();
        for _ in 0..8 {
            let code = bytes.whole(first, last);
            let reading = kernel.reading(code);
            assert_eq!(reading.flags.is_clear(), first <= code && code <= last, "{code}");
            let clamped = kernel.reading(code.clamp(first, last)).temperature;
            assert_eq!(reading.temperature, clamped);
            let one = single.as_ref().map(|single| (single.reading(code), single.error_bound().0));
            assert!(one.is_none_or(|(one, _)| one.flags == reading.flags && one.to_fixed().is_ok()));
            // At the ends a code can lie a rounding outside of what the function takes.
            let Some(exact) = temperature(Ohms(self.ohms(code))).filter(|_| reading.flags.is_clear()) else {
                continue;
            };
            let off = (reading.temperature.celsius().0 - exact.0).abs();
            assert!(off <= bound + ROUNDING, "code {code}: {off} C, bound {bound}");
            if let Some((one, bound)) = one {
                let off = (f64::from(one.temperature) - exact.0).abs();
                assert!(off <= bound + ROUNDING, "code {code}: {off} C, bound {bound} in f32");
            }
        }
        true
    }
}

fn platinum(bytes: &mut Bytes) -> bool {
    let at_zero = Ohms(bytes.one_of(&[100.0, 1000.0, 10.0, 500.0]));
    let sensor = if bytes.flag() {
        let (a, b, c) =
            (bytes.number(2.9e-3, 4.6e-3), bytes.number(-1e-6, 1e-6), bytes.number(-1e-11, 1e-11));
        Platinum::callendar_van_dusen(at_zero, a, b, c)
    } else {
        Platinum::iec60751(at_zero)
    };
    told(sensor.check());
    let t = Celsius(bytes.number(-210.0, 860.0));
    if let Some(ohms) = told(sensor.resistance(t)) {
        // The way back, unless rounding leads a hair beyond an end.
        let back = sensor.temperature(ohms);
        assert!(back.is_err() || (back.unwrap().0 - t.0).abs() < ROUNDING);
    }
    told(sensor.sensitivity(t));
    told(sensor.temperature(Ohms(bytes.number(0.0, 5.0) * at_zero.0)));
    let (measured, thermometer) = Measured::set(bytes, 4096.0, |converter, reference| {
        ResistanceThermometer::platinum(sensor, converter, reference)
    });
    let temperature = |ohms| sensor.temperature(ohms).ok();
    if bytes.flag() {
        measured.judge::<8>(&thermometer, bytes, temperature)
    } else {
        measured.judge::<64>(&thermometer, bytes, temperature)
    }
}

fn thermistor(bytes: &mut Bytes) -> bool {
    let warm = |bytes: &mut Bytes| Celsius(bytes.number(-60.0, 200.0));
    let ohms = |bytes: &mut Bytes| Ohms(bytes.one_of(&[10_000.0, 2_252.0, 1e5, 300.0, 32_650.0]));
    let sensor = match bytes.byte() % 4 {
        0 => Thermistor::try_beta(ohms(bytes), warm(bytes), Kelvin(bytes.number(2500.0, 5000.0))),
        1 => Thermistor::try_beta_through((ohms(bytes), warm(bytes)), (ohms(bytes), warm(bytes))),
        2 => Thermistor::try_through([0; 3].map(|_| (ohms(bytes), warm(bytes)))),
        _ => Thermistor::try_steinhart_hart(
            bytes.number(0.0, 2e-3),
            bytes.number(1e-4, 4e-4),
            bytes.number(0.0, 3e-7),
        ),
    };
    let Some(sensor) = told(sensor) else { return false };
    told(sensor.resistance(Celsius(bytes.number(-110.0, 510.0))));
    told(sensor.temperature(Ohms(bytes.number(-1.0, 1e6))));
    let (measured, thermometer) = Measured::set(bytes, 1e4, |converter, reference| {
        ResistanceThermometer::thermistor(sensor, converter, reference)
    });
    measured.judge::<32>(&thermometer, bytes, |ohms| sensor.temperature(ohms).ok())
}

fn thermocouple(bytes: &mut Bytes) -> bool {
    let couple = Thermocouple::ALL[usize::from(bytes.byte()) % Thermocouple::ALL.len()];
    told(couple.emf(Celsius(bytes.number(-280.0, 1900.0))));
    told(couple.seebeck(Celsius(bytes.number(-280.0, 1900.0))));
    told(couple.temperature(Millivolts(bytes.number(-11.0, 80.0))));
    let bits: u32 = [24, 16, 30, 12, 8, 31][usize::from(bytes.byte()) % 6];
    let full_scale = bytes.one_of(&[78.125, 39.0625, 156.25, 1e3, 0.1]);
    let (converter, reference) = (Converter::bipolar(bits, Ratio(1.0 / 32.0)), full_scale * 32.0);
    let mut input = ThermocoupleInput::new(couple, converter, Millivolts(reference));
    if bytes.flag() {
        input = input.between(Celsius(bytes.number(-220.0, 500.0)), Celsius(bytes.number(-200.0, 1850.0)));
    }
    if bytes.flag() {
        input = input.cold_junction(Celsius(bytes.number(-60.0, 20.0)), Celsius(bytes.number(20.0, 150.0)));
    }
    told(input.try_fixed_within::<64, 4>(Celsius(bytes.number(0.0, 0.1))));
    let single = told(input.try_float32::<64, 4>());
    let Some(kernel) = told(input.try_fixed::<64, 4>()) else { return false };
    let bound = kernel.error_bound().0;
    let (_, rail) = converter.rails();
    for _ in 0..8 {
        let code = bytes.whole(-rail - 1, rail);
        let cold = Temperature::from_bits(bytes.whole(-40 << 20, 85 << 20));
        let reading = kernel.reading(code, cold);
        assert_eq!(reading.flags.contains(ThermometerFlags::OPEN), code >= rail || code < -rail);
        let one = single.as_ref().map(|single| single.reading(code, cold));
        assert!(one.is_none_or(|one| one.flags == reading.flags && one.to_fixed().is_ok()));
        let emf = Millivolts(converter.ratio(f64::from(code)).0 * reference);
        let exact = couple.temperature_with_cold_junction(emf, cold.celsius()).ok();
        let Some(exact) = exact.filter(|_| reading.flags.is_clear()) else { continue };
        let off = (reading.temperature.celsius().0 - exact.0).abs();
        assert!(off <= bound + ROUNDING, "type {couple:?}, code {code}, {cold:?}: {off} C, bound {bound}");
    }
    true
}
