//! Thermometers and the last reading from C: the bits of Rust for any input, defined results for any bytes, flags in words.

use std::mem::zeroed;
use std::ptr::{null, null_mut};

use super::anything::{Anything, written};
use gaugewright::Converter;
use gaugewright::ffi::*;
use gaugewright::fixed::Temperature;
use gaugewright::temperature::{
    LastReading, Platinum, Reading, ResistanceKernel, ResistanceThermometer, SensorPair, Thermistor,
    Thermocouple, ThermocoupleInput, ThermocoupleKernel, ThermometerFlags,
};
use gaugewright::units::{Celsius, Millivolts, Ohms, Ratio};

/// An interpreter that watches memory is some thousand times slower.
const ROUNDS: usize = if cfg!(miri) { 50 } else { 20_000 };

fn packed(reading: Reading) -> u64 {
    u64::from(reading.temperature.to_bits() as u32) | u64::from(reading.flags.bits()) << 32
}

/// The ends of a range of codes and their neighbours, rails of 24 bits, and drawn ones.
fn codes((low, high): (i32, i32), anything: &mut Anything) -> Vec<i32> {
    let mut codes: Vec<i32> =
        [low, high, 0, 8_388_607, -8_388_608, i32::MAX, i32::MIN, (low + high) / 2, 5_000]
            .iter()
            .flat_map(|code| [code.wrapping_sub(1), *code, code.wrapping_add(1)])
            .collect();
    let width = (high - low) as u32;
    codes.extend((0..ROUNDS).map(|_| low + (anything.word() % width) as i32));
    codes.extend((0..ROUNDS).map(|_| anything.number()));
    codes
}

#[test]
fn resistance_thermometers_have_the_bits_of_rust() {
    let mut anything = Anything(1);
    let converter = Converter::bipolar(24, Ratio(0.125));
    let pt100 = ResistanceThermometer::platinum(Platinum::iec60751(Ohms(100.0)), converter, Ohms(4096.0));
    let thermistor = ResistanceThermometer::thermistor(
        Thermistor::steinhart_hart(1.004e-3, 2.5e-4, 6.1e-8),
        Converter::bipolar(24, Ratio(1.0)),
        Ohms(10_000.0),
    )
    .in_divider();
    for thermometer in [pt100, thermistor] {
        let kernel: ResistanceKernel<i32, 16> = thermometer.try_fixed().unwrap();
        let of_c = gw_resistance_thermometer::of(kernel);
        let mut seen = 0;
        for code in codes(kernel.codes(), &mut anything) {
            let reading = kernel.reading(code);
            // SAFETY: it lives here.
            let read = unsafe { gw_resistance_thermometer_reading_packed(&of_c, code) };
            assert_eq!(read, packed(reading), "code {code}");
            seen |= reading.flags.bits();
        }
        let all = ThermometerFlags::OUTSIDE | ThermometerFlags::OPEN | ThermometerFlags::SHORTED;
        assert_eq!(seen, all.bits());
        let (mut low, mut high) = (0, 0);
        // SAFETY: all of them live here.
        let status = unsafe { gw_resistance_thermometer_codes(&of_c, &mut low, &mut high) };
        assert_eq!((status, (low, high)), (GW_STATUS_OK, kernel.codes()));
    }
}

/// Every type over its whole range within the limit that DOCUMENTED has, which the guide of C states.
#[test]
fn thermocouples_have_the_bits_of_rust() {
    const DOCUMENTED: Celsius = Celsius(0.05);
    let mut anything = Anything(2);
    for letter in if cfg!(miri) { &[Thermocouple::K][..] } else { &Thermocouple::ALL } {
        let input =
            ThermocoupleInput::new(*letter, Converter::bipolar(24, Ratio(1.0 / 32.0)), Millivolts(2560.0));
        let kernel: ThermocoupleKernel<i32, 64, 4> = input.try_fixed_within(DOCUMENTED).unwrap();
        let of_c = gw_thermocouple::of(kernel);
        let mut seen = 0;
        for code in codes((-1_000_000, 8_000_000), &mut anything) {
            for cold in [25 << 20, anything.number(), (anything.word() % (85 << 20)) as i32] {
                let reading = kernel.reading(code, Temperature::from_bits(cold));
                // SAFETY: it lives here.
                let read = unsafe { gw_thermocouple_reading_packed(&of_c, code, cold) };
                assert_eq!(read, packed(reading), "{letter:?}, code {code}, cold junction {cold}");
                seen |= reading.flags.bits();
            }
        }
        let all =
            ThermometerFlags::OUTSIDE | ThermometerFlags::OPEN | ThermometerFlags::COLD_JUNCTION_OUTSIDE;
        assert_eq!(seen, all.bits());
    }
}

/// Whatever bytes the constants and the state are of, nothing stops, and the flags are flags.
#[test]
fn any_bytes_are_read_without_harm() {
    let mut anything = Anything(3);
    for _ in 0..ROUNDS.div_ceil(10) {
        let resistance =
            gw_resistance_thermometer { words: std::array::from_fn(|_| anything.number() as u32) };
        let couple = gw_thermocouple { words: std::array::from_fn(|_| anything.number() as u32) };
        let (mut low, mut high) = (0, 0);
        for _ in 0..8 {
            let (code, cold) = (anything.number(), anything.number());
            // SAFETY: all of them live here.
            unsafe {
                let flags = gw_resistance_thermometer_reading_packed(&resistance, code) >> 32
                    | gw_thermocouple_reading_packed(&couple, code, cold) >> 32;
                assert!(flags < 64);
                let status = gw_resistance_thermometer_codes(&resistance, &mut low, &mut high);
                assert_eq!(status, GW_STATUS_OK);
            }
        }
        let mut last = gw_last_reading {
            limit: anything.word(),
            temperature: anything.number(),
            flags: anything.number() as u32,
            updated_at: anything.word(),
            unusable: anything.number() as u32,
        };
        let before = last;
        let flags = anything.number() as u32;
        let reading = gw_temperature_reading { temperature: anything.number(), flags };
        // SAFETY: it lives here.
        unsafe {
            let read = gw_last_reading_at_packed(&mut last, anything.word());
            let expected = if before.flags < 64 {
                u64::from(before.temperature as u32)
                    | u64::from(before.flags | (read >> 32) as u32 & GW_THERMOMETER_STALE) << 32
            } else {
                u64::from(GW_THERMOMETER_NO_READING) << 32
            };
            assert_eq!(read, expected);
            assert_eq!(gw_last_reading_update(&mut last, reading, 7), GW_STATUS_OK);
        }
        let is_usable = flags < 64 && flags & (GW_THERMOMETER_OPEN | GW_THERMOMETER_SHORTED) == 0;
        if is_usable {
            assert_eq!((last.temperature, last.flags, last.updated_at), (reading.temperature, flags, 7));
        } else {
            assert_eq!(
                (last.temperature, last.unusable),
                (before.temperature, before.unusable.saturating_add(1))
            );
        }
    }
}

/// Readings and questions in any order, with times that wrap.
#[test]
fn the_last_reading_is_that_of_rust() {
    let mut anything = Anything(4);
    let mut outcomes = [0_usize; 3];
    for _ in 0..ROUNDS.div_ceil(20) {
        let limit = anything.word() % 40;
        let (mut of_c, mut of_rust) =
            (gw_last_reading { flags: 5, ..Default::default() }, LastReading::new(limit));
        // SAFETY: it lives here.
        assert_eq!(unsafe { gw_last_reading_start(&mut of_c, limit) }, GW_STATUS_OK);
        let mut now = anything.word() | 0xffff_ff00;
        for _ in 0..20 {
            now = now.wrapping_add(anything.word() % 30);
            if anything.word() % 3 == 0 {
                let bits = anything.word() as u8 % 64;
                let (temperature, flags) = (anything.number(), ThermometerFlags::from_bits(bits).unwrap());
                of_rust.update(Reading { temperature: Temperature::from_bits(temperature), flags }, now);
                let reading = gw_temperature_reading { temperature, flags: bits.into() };
                // SAFETY: it lives here.
                assert_eq!(unsafe { gw_last_reading_update(&mut of_c, reading, now) }, GW_STATUS_OK);
            }
            // SAFETY: it lives here.
            let read = unsafe { gw_last_reading_at_packed(&mut of_c, now) };
            let expected = of_rust.at(now);
            assert_eq!(read, expected.map_or(u64::from(GW_THERMOMETER_NO_READING) << 32, packed));
            assert_eq!(of_c.unusable, of_rust.unusable());
            outcomes[expected.map_or(0, |it| 1 + usize::from(it.flags.contains(ThermometerFlags::STALE)))] +=
                1;
        }
    }
    assert!(outcomes.iter().all(|&times| cfg!(miri) || times > 1_000), "{outcomes:?}");
    // What C alone has is not usable.
    let mut last = gw_last_reading::default();
    for (k, flags) in [GW_THERMOMETER_NULL, GW_THERMOMETER_NO_READING, 64, 256].into_iter().enumerate() {
        let reading = gw_temperature_reading { temperature: 5, flags };
        // SAFETY: it lives here.
        assert_eq!(unsafe { gw_last_reading_update(&mut last, reading, 0) }, GW_STATUS_OK);
        assert_eq!((last.temperature, last.unusable), (0, k as u32 + 1));
    }
}

/// The bits of Rust for any two readings and any fraction; one beyond the second sensor, which Rust refuses, is flagged. Flags that Rust has not make a sensor unusable.
#[test]
fn a_sensor_pair_is_that_of_rust() {
    let mut anything = Anything(5);
    for round in 0..ROUNDS {
        let share = if round % 4 == 0 { anything.word() } else { anything.word() % 65_537 };
        let [first, second] = [0; 2].map(|_| {
            let flags =
                if anything.word() % 4 == 0 { anything.number() as u32 } else { anything.word() % 64 };
            gw_temperature_reading { temperature: anything.number(), flags }
        });
        let of_rust = |it: gw_temperature_reading| {
            let bits = u8::try_from(it.flags).ok().and_then(ThermometerFlags::from_bits);
            let flags = bits.unwrap_or(ThermometerFlags::OPEN);
            Reading { temperature: Temperature::from_bits(it.temperature), flags }
        };
        let pair = SensorPair::at(f64::from(share.min(65_536)) / 65_536.0);
        let mut reading = pair.reading(of_rust(first), of_rust(second));
        if share > 65_536 {
            reading.flags |= ThermometerFlags::OUTSIDE;
        }
        let expected = packed(reading);
        assert_eq!(gw_sensor_pair_reading_packed(share, first, second), expected, "{first:?} {second:?}");
    }
}

#[test]
fn null_pointers_are_reported() {
    let nothing = u64::from(GW_THERMOMETER_NULL) << 32;
    let (mut low, mut high) = (5, 5);
    // SAFETY: null, or alive here.
    unsafe {
        assert_eq!(gw_resistance_thermometer_reading_packed(null(), 5), nothing);
        assert_eq!(gw_thermocouple_reading_packed(null(), 5, 5), nothing);
        assert_eq!(gw_resistance_thermometer_codes(null(), &mut low, &mut high), GW_STATUS_NULL);
        let any: gw_resistance_thermometer = zeroed();
        assert_eq!(gw_resistance_thermometer_codes(&any, null_mut(), &mut high), GW_STATUS_NULL);
        assert_eq!(gw_resistance_thermometer_codes(&any, &mut low, null_mut()), GW_STATUS_NULL);
        assert_eq!(gw_last_reading_start(null_mut(), 5), GW_STATUS_NULL);
        assert_eq!(gw_last_reading_update(null_mut(), gw_temperature_reading::default(), 5), GW_STATUS_NULL);
        assert_eq!(gw_last_reading_at_packed(null_mut(), 5), nothing);
        assert_eq!(gw_thermometer_flags_message(1, null_mut(), 8), 0);
    }
    assert_eq!((low, high), (5, 5));
}

/// Every set of flags: the words of Rust, then those that C has besides; bits that are no flag by their number.
#[test]
fn flags_are_told_in_words() {
    // SAFETY: the buffer lives during the call.
    let message = |flags, buffer, size| unsafe { gw_thermometer_flags_message(flags, buffer, size) };
    let in_words = |flags| written::<160>(|buffer, size| message(flags, buffer, size));
    for bits in 0..64 {
        let rust = ThermometerFlags::from_bits(bits).unwrap().to_string();
        assert_eq!(in_words(bits.into()), rust);
        let with_null = if bits == 0 { "null pointer".to_string() } else { rust + ", null pointer" };
        assert_eq!(in_words(GW_THERMOMETER_NULL | u32::from(bits)), with_null);
    }
    assert_eq!(in_words(GW_THERMOMETER_NO_READING), "no reading yet");
    assert_eq!(in_words(GW_THERMOMETER_STALE | 0x40), "stale, unknown 0x00000040");
    // The longest fits the 160 bytes that the header says are enough.
    assert!(in_words(u32::MAX).ends_with("null pointer, unknown 0x3fffffc0"));
}
