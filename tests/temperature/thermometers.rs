//! Thermometer kernels against the double-precision functions and against tables from outside, code by code.

use approx::assert_abs_diff_eq;
use gaugewright::error::Field;
use gaugewright::fixed::Temperature;
use gaugewright::temperature::*;
use gaugewright::units::*;
use gaugewright::{Converter, Error};
use support::*;

/// Beyond the rounding of everything a bound has to be near what is found: this many times at most.
const SLACK: f64 = 4.0;

fn pt100(bits: u32) -> ResistanceThermometer {
    let converter = Converter::bipolar(bits, Ratio(1.0 / 8.0));
    ResistanceThermometer::platinum(Platinum::iec60751(Ohms(100.0)), converter, Ohms(4096.0))
}

/// Ohms of a code of it.
fn ohms(code: i32, bits: u32) -> f64 {
    Converter::bipolar(bits, Ratio(1.0 / 8.0)).ratio(f64::from(code)).0 * 4096.0
}

/// A converter behind a gain of 32, and the reference that gives it this full scale in millivolts.
fn converter(bits: u32, full_scale: f64) -> (Converter, Millivolts) {
    (Converter::bipolar(bits, Ratio(1.0 / 32.0)), Millivolts(full_scale * 32.0))
}

fn input(thermocouple: Thermocouple, bits: u32, full_scale: f64) -> ThermocoupleInput {
    let (converter, reference) = converter(bits, full_scale);
    ThermocoupleInput::new(thermocouple, converter, reference)
}

/// The EMF of a code, and the nearest code of an EMF.
fn emf(code: i32, bits: u32, full_scale: f64) -> Millivolts {
    let (converter, reference) = converter(bits, full_scale);
    Millivolts(converter.ratio(f64::from(code)).0 * reference.0)
}

fn code(emf: f64, bits: u32, full_scale: f64) -> i32 {
    let (converter, reference) = converter(bits, full_scale);
    converter.code(Ratio(emf / reference.0)).round() as i32
}

/// Exhausted over every code of a 16-bit converter, sampled for 24 bits.
#[test]
fn platinum_meets_its_bound_at_every_code() {
    let sensor = Platinum::iec60751(Ohms(100.0));
    let coarse: ResistanceKernel<i32, 8> = pt100(16).try_fixed().unwrap();
    let bound = coarse.error_bound().0;
    let (first, last) = coarse.codes();
    let mut worst = 0.0_f64;
    for code in first..=last {
        let reading = coarse.reading(code);
        assert!(reading.flags.is_clear(), "{code}");
        let exact = sensor.temperature(Ohms(ohms(code, 16))).unwrap().0;
        worst = worst.max((reading.temperature.celsius().0 - exact).abs());
    }
    println!(
        "platinum, 8 pieces, -200 to 850 C: worst of {} codes {worst:.2e} C, bound {bound:.2e}",
        last - first + 1
    );
    assert!(worst <= bound && bound < SLACK * worst);

    // The error limit of the documentation: a millikelvin over the range of most gauges, with eight pieces.
    let narrow = pt100(24).between(Celsius(-200.0), Celsius(300.0));
    let fine: ResistanceKernel<i32, 8> = narrow.try_fixed_within(Celsius(0.001)).unwrap();
    let single: ResistanceKernel<f32, 8> = narrow.try_float32().unwrap();
    let mut random = Random(1);
    let bound = both_meet_their_bounds("platinum, -200 to 300 C", &fine, &single, &mut random);
    assert!(bound < 0.001);

    // So many pieces that their own error is nothing beside the rounding.
    let (whole, rounded) = (pt100(24).fixed::<64>(), pt100(24).float32::<64>());
    both_meet_their_bounds("platinum, 64 pieces", &whole, &rounded, &mut random);
}

/// Kernels of the thermometer of 24 bits in either arithmetic, at the first thousand codes and at random ones: errors within the bounds, and
/// near them. Gives the bound of the integers.
fn both_meet_their_bounds<const PIECES: usize>(
    name: &str,
    integers: &ResistanceKernel<i32, PIECES>,
    single: &ResistanceKernel<f32, PIECES>,
    random: &mut Random,
) -> f64 {
    let sensor = Platinum::iec60751(Ohms(100.0));
    let bounds = (integers.error_bound().0, single.error_bound().0);
    let (first, last) = integers.codes();
    let (mut worst, mut worst_single) = (0.0_f64, 0.0_f64);
    for i in 0..300_000 {
        let code = if i < 1000 { first + i } else { random.between(first, last) };
        let exact = sensor.temperature(Ohms(ohms(code, 24))).unwrap().0;
        worst = worst.max((integers.reading(code).temperature.celsius().0 - exact).abs());
        worst_single = worst_single.max((f64::from(single.reading(code).temperature) - exact).abs());
    }
    println!("{name}: integers {worst:.2e} of {:.2e}, f32 {worst_single:.2e} of {:.2e}", bounds.0, bounds.1);
    assert!(worst <= bounds.0 && bounds.0 < SLACK * worst);
    assert!(worst_single <= bounds.1 && bounds.1 < 2.0 * SLACK * worst_single);
    bounds.0
}

/// Leads of five ohm: what is left without them has its temperature, range and short circuit.
#[test]
fn leads_are_taken_off() {
    let sensor = Platinum::iec60751(Ohms(100.0));
    let five = [
        SensorLeads::TwoWire { there: Ohms(2.0), back: Ohms(3.0) },
        SensorLeads::ThreeWire { pair: Ohms(5.0) },
    ];
    for leads in five {
        let kernel: ResistanceKernel<i32, 8> =
            pt100(24).leads(leads).between(Celsius(-200.0), Celsius(300.0)).fixed();
        let (bound, (first, last)) = (kernel.error_bound().0, kernel.codes());
        let without = |code: i32| ohms(code, 24) - 5.0;
        for code in (first..=last).step_by(997) {
            let exact = sensor.temperature(Ohms(without(code))).unwrap().0;
            let reading = kernel.reading(code);
            assert!(reading.flags.is_clear() && (reading.temperature.celsius().0 - exact).abs() <= bound);
        }
        let [low, high] = [-200.0, 300.0].map(|end| sensor.resistance(Celsius(end)).unwrap().0);
        assert!(without(first - 1) <= low && low < without(first), "{first}");
        assert!(without(last) <= high && high < without(last + 1), "{last}");
        // Half of the least resistance, and the leads.
        let half = ((0.5 * low + 5.0) / ohms(1, 24)) as i32;
        assert_eq!(kernel.reading(half).flags, ThermometerFlags::SHORTED);
        assert_eq!(kernel.reading(half + 1).flags, ThermometerFlags::OUTSIDE);
    }
}

/// IEC 60751 resistances (tests/data/platinum.csv names the source), as the nearest code of a 24-bit converter.
#[test]
fn platinum_gives_the_table() {
    let kernel: ResistanceKernel<i32, 16> = pt100(24).try_fixed_within(Celsius(0.0005)).unwrap();
    let mut rows = 0;
    for row in data("platinum") {
        let (celsius, resistance) = (row.number("t_degC"), row.number("r_ohm_exact"));
        // The ends lie a part of a code outside the codes between them.
        if celsius <= -200.0 || celsius >= 850.0 {
            continue;
        }
        let converter = Converter::bipolar(24, Ratio(1.0 / 8.0));
        let code = converter.code(Ratio(resistance / 4096.0)).round() as i32;
        // Half a code is worth 0.1 millidegrees here.
        let found = kernel.reading(code);
        assert!(
            found.flags.is_clear() && (found.temperature.celsius().0 - celsius).abs() < 0.0007,
            "{celsius} C"
        );
        rows += 1;
    }
    assert!(rows > 100);
}

/// What type E needs, 76.37 mV at 1000 C with a cold junction at -40 C (-2.25 mV), and the others with it.
const FULL_SCALE: f64 = 80.0;

/// Every type over the whole range that published inverses have, cold junction included: within the 0.05 C that those are
/// stated for, and within the bound.
#[test]
fn thermocouples_meet_their_bound() {
    for thermocouple in Thermocouple::ALL {
        let input = input(thermocouple, 24, FULL_SCALE);
        let kernel: ThermocoupleKernel<i32, 64, 4> = input.try_fixed_within(Celsius(0.05)).unwrap();
        let single: ThermocoupleKernel<f32, 64, 4> = input.try_float32_within(Celsius(0.05)).unwrap();
        let (bound, single_bound) = (kernel.error_bound().0, single.error_bound().0);
        let coldest = if thermocouple == Thermocouple::B { 0 } else { -40 };
        let mut random = Random(thermocouple as u64 + 1);
        let (mut worst, mut worst_single, mut clear) = (0.0_f64, 0.0_f64, 0);
        for _ in 0..400_000 {
            let code = random.between(-1_000_000, 8_388_606);
            let cold = Temperature::from_bits(random.between(coldest << 20, 85 << 20));
            let reading = kernel.reading(code, cold);
            if !reading.flags.is_clear() {
                continue;
            }
            clear += 1;
            let emf = emf(code, 24, FULL_SCALE);
            let exact = thermocouple.temperature_with_cold_junction(emf, cold.celsius()).unwrap().0;
            worst = worst.max((reading.temperature.celsius().0 - exact).abs());
            let one = f64::from(single.reading(code, cold).temperature);
            worst_single = worst_single.max((one - exact).abs());
        }
        println!(
            "type {thermocouple:?}: {worst:.2e} of {bound:.2e} C, f32 {worst_single:.2e} of {single_bound:.2e}, {clear} samples"
        );
        assert!(clear > 20_000, "{thermocouple:?}: {clear}");
        assert!(worst <= bound && worst_single <= single_bound, "{thermocouple:?}");
        assert!(bound < SLACK * worst && single_bound < SLACK * worst_single, "{thermocouple:?}: slack");
    }
}

/// Exhausted over every code of a 24-bit converter for platinum, and of a 16-bit one at 21 cold junctions for every type
/// of thermocouple.
#[test]
fn bounds_hold_at_every_code() {
    let sensor = Platinum::iec60751(Ohms(100.0));
    let narrow = pt100(24).between(Celsius(-200.0), Celsius(300.0));
    let kernel: ResistanceKernel<i32, 8> = narrow.try_fixed().unwrap();
    let bound = kernel.error_bound().0;
    let (first, last) = kernel.codes();
    for code in first..=last {
        let exact = sensor.temperature(Ohms(ohms(code, 24))).unwrap().0;
        let off = (kernel.reading(code).temperature.celsius().0 - exact).abs();
        assert!(off <= bound, "code {code}: {off}, bound {bound}");
    }
    println!("platinum: {} codes", last - first + 1);

    let mut pairs = 0;
    for thermocouple in Thermocouple::ALL {
        let kernel: ThermocoupleKernel<i32, 64, 4> = input(thermocouple, 16, FULL_SCALE).fixed();
        let bound = kernel.error_bound().0;
        let coldest = if thermocouple == Thermocouple::B { 0 } else { -40 };
        for step in 0..=20 {
            let cold = Temperature::from_bits((coldest << 20) + ((85 - coldest) << 20) / 20 * step);
            for code in -32_767..=32_766 {
                let reading = kernel.reading(code, cold);
                if reading.flags.is_clear() {
                    let emf = emf(code, 16, FULL_SCALE);
                    let exact = thermocouple.temperature_with_cold_junction(emf, cold.celsius()).unwrap().0;
                    let off = (reading.temperature.celsius().0 - exact).abs();
                    assert!(
                        off <= bound,
                        "{thermocouple:?}, code {code}, cold {cold:?}: {off}, bound {bound}"
                    );
                    pairs += 1;
                }
            }
        }
    }
    println!("thermocouples: {pairs} pairs");
    assert!(pairs > 1_000_000, "{pairs}");
}

/// The printed tables of the NIST ITS-90 Thermocouple Database (tests/data/thermocouple_tables.csv), each EMF as the nearest
/// code: half of its last digit, 0.5 microvolt, and the kernel's 0.05 C are what it may be off.
#[test]
fn thermocouples_give_the_printed_tables() {
    let rows = data("thermocouple_tables");
    let mut checked = 0;
    for thermocouple in Thermocouple::ALL {
        let kernel: ThermocoupleKernel<i32, 64, 4> = input(thermocouple, 24, FULL_SCALE).fixed();
        let name = format!("{thermocouple:?}");
        for row in rows.iter().filter(|row| row.text("type") == name) {
            for above in 0..10 {
                let Some(emf) = row.maybe(&format!("plus_{above}")) else { continue };
                let celsius = row.number("t_degC") + f64::from(above);
                let reading = kernel.reading(code(emf, 24, FULL_SCALE), Temperature::from_bits(0));
                if !reading.flags.is_clear() {
                    continue;
                }
                let slope = thermocouple.seebeck(Celsius(celsius)).unwrap().0;
                let off = (reading.temperature.celsius().0 - celsius).abs();
                assert!(off < 0.05 + 0.51 / slope, "{name} at {celsius} C: {off}");
                checked += 1;
            }
        }
    }
    assert!(checked > 10_000, "{checked}");
}

#[test]
fn thermistors_in_series_and_in_a_divider() {
    // The thermistor of Kaw et al., Numerical Methods with Applications, chapter 03.04.
    let sensor = Thermistor::steinhart_hart(1.129241e-3, 2.341077e-4, 8.775468e-8);
    let converter = Converter::bipolar(24, Ratio(1.0));
    let divider = ResistanceThermometer::thermistor(sensor, converter, Ohms(10_000.0)).in_divider();
    let kernel: ResistanceKernel<i32, 32> = divider.fixed();
    let bound = kernel.error_bound().0;
    let (first, last) = kernel.codes();
    let mut random = Random(3);
    let (mut worst, mut before) = (0.0_f64, i32::MAX);
    for i in 0..200_000 {
        let code = if i < 100_000 {
            first + (i64::from(last - first) * i / 100_000) as i32
        } else {
            random.between(first, last)
        };
        let ratio = converter.ratio(f64::from(code)).0;
        let exact = sensor.temperature(Ohms(10_000.0 * ratio / (1.0 - ratio))).unwrap().0;
        let found = kernel.reading(code);
        assert!(found.flags.is_clear());
        worst = worst.max((found.temperature.celsius().0 - exact).abs());
        if i < 100_000 {
            // More resistance, less warmth.
            assert!(found.temperature.to_bits() <= before);
            before = found.temperature.to_bits();
        }
    }
    println!("thermistor: {worst:.2e} of {bound:.2e} C");
    assert!(worst <= bound && bound < SLACK * worst);
    assert_eq!(kernel.reading(last + 1).flags, ThermometerFlags::OUTSIDE);
    assert_eq!(kernel.reading(0).flags, ThermometerFlags::SHORTED);
    assert_eq!(kernel.reading(8_388_607).flags, ThermometerFlags::OPEN);
}

#[test]
fn flags_and_clamped_values() {
    let kernel: ResistanceKernel<i32, 16> = pt100(24).try_fixed().unwrap();
    let (first, last) = kernel.codes();
    for (code, flags, end) in [
        (first - 1, ThermometerFlags::OUTSIDE, first),
        (last + 1, ThermometerFlags::OUTSIDE, last),
        // 9.26 ohm is half of what -200 C has.
        (151_600, ThermometerFlags::SHORTED, first),
        (151_800, ThermometerFlags::OUTSIDE, first),
        (-1, ThermometerFlags::SHORTED, first),
        (8_388_607, ThermometerFlags::OPEN, last),
        (i32::MAX, ThermometerFlags::OPEN, last),
        (-8_388_608, ThermometerFlags::OPEN, first),
        (i32::MIN, ThermometerFlags::OPEN, first),
    ] {
        let reading = kernel.reading(code);
        assert_eq!(reading.flags, flags, "{code}");
        assert_eq!(reading.temperature, kernel.reading(end).temperature, "{code}");
    }
    // From 0 C: 50 ohm, half of the least, are the code 819 200 of 2^23 for 512 ohm.
    let kernel: ResistanceKernel<i32, 8> = pt100(24).between(Celsius(0.0), Celsius(100.0)).fixed();
    assert_eq!(kernel.reading(819_199).flags, ThermometerFlags::SHORTED);
    assert_eq!(kernel.reading(819_200).flags, ThermometerFlags::OUTSIDE);
    // Nothing but OPEN for a broken wire, and the cold junction told beside it.
    let kernel: ThermocoupleKernel<i32, 64, 4> = input(Thermocouple::K, 24, 78.125).fixed();
    let (mild, hot) = (Temperature::from_bits(20 << 20), Temperature::from_bits(90 << 20));
    // Whatever lies at a rail or beyond has the end of the range on its side.
    for (beyond, inside) in
        [(&[i32::MIN, -8_388_609, -8_388_608], -8_388_607), (&[i32::MAX, 8_388_608, 8_388_607], 8_388_606)]
    {
        let end = kernel.reading(inside, mild);
        assert_eq!(end.flags, ThermometerFlags::OUTSIDE);
        for &code in beyond {
            let reading = Reading { flags: ThermometerFlags::OPEN, ..end };
            assert_eq!(kernel.reading(code, mild), reading, "{code}");
        }
    }
    assert_eq!(
        kernel.reading(8_388_607, hot).flags,
        ThermometerFlags::OPEN | ThermometerFlags::COLD_JUNCTION_OUTSIDE
    );
    assert_eq!(kernel.reading(0, hot).flags, ThermometerFlags::COLD_JUNCTION_OUTSIDE);
    assert_eq!(
        kernel.reading(0, hot).temperature,
        kernel.reading(0, Temperature::from_bits(85 << 20)).temperature
    );
}

/// Any pair of `i32` gives a temperature inside the range (the profile with overflow checks runs this too).
#[test]
fn any_input_is_safe() {
    let platinum: ResistanceKernel<i32, 8> = pt100(24).try_fixed().unwrap();
    let kernel: ThermocoupleKernel<i32, 64, 4> = input(Thermocouple::N, 30, 55.0).fixed();
    let mut random = Random(9);
    for i in 0..200_000 {
        let edge = [i32::MIN, i32::MIN + 1, -1, 0, 1, i32::MAX - 1, i32::MAX];
        let mut any = || if i < 5_000 { edge[random.between(0, 6) as usize] } else { random.bits() as i32 };
        let (code, cold) = (any(), Temperature::from_bits(any()));
        let (a, b) = (
            platinum.reading(code).temperature.celsius().0,
            kernel.reading(code, cold).temperature.celsius().0,
        );
        assert!(
            (-200.001..=850.001).contains(&a) && (-200.06..=1300.06).contains(&b),
            "{code} {cold:?}: {a} {b}"
        );
    }
}

/// Without a stated range a thermometer has the one that is documented.
#[test]
fn ranges_that_are_not_stated() {
    assert_eq!(pt100(24), pt100(24).between(Celsius(-200.0), Celsius(850.0)));
    let bead = Thermistor::beta(Ohms(10_000.0), Celsius(25.0), Kelvin(3950.0));
    let bead = ResistanceThermometer::thermistor(bead, Converter::bipolar(24, Ratio(1.0)), Ohms(1e6));
    assert_eq!(bead, bead.between(Celsius(-40.0), Celsius(125.0)));
    for couple in Thermocouple::ALL {
        let (low, coldest) = match couple {
            Thermocouple::J => (-210.0, -40.0),
            Thermocouple::R | Thermocouple::S => (-50.0, -40.0),
            Thermocouple::B => (250.0, 0.0),
            _ => (-200.0, -40.0),
        };
        let (whole, (_, high)) = (input(couple, 24, FULL_SCALE), couple.invertible_range());
        let stated = whole.between(Celsius(low), high).cold_junction(Celsius(coldest), Celsius(85.0));
        assert_eq!(whole, stated, "{couple:?}");
    }
}

#[test]
fn what_cannot_be_is_refused() {
    let field = |error: Error| match error {
        Error::Invalid { field, .. } | Error::Reversed { field, .. } => field,
        other => panic!("{other}"),
    };
    let refused = |t: ResistanceThermometer| field(t.try_fixed::<8>().unwrap_err());
    // 850 C are beyond a full scale of 256 ohm.
    let small = Converter::bipolar(24, Ratio(1.0 / 16.0));
    let sensor = Platinum::iec60751(Ohms(100.0));
    assert_eq!(refused(ResistanceThermometer::platinum(sensor, small, Ohms(4096.0))), Field::LastCode);
    assert_eq!(
        refused(ResistanceThermometer::platinum(sensor, small, Ohms(f64::NAN))),
        Field::ReferenceResistor
    );
    assert_eq!(refused(pt100(24).between(Celsius(50.0), Celsius(20.0))), Field::TemperatureHigh);
    assert_eq!(refused(pt100(24).between(Celsius(-201.0), Celsius(20.0))), Field::Temperature);
    assert_eq!(refused(pt100(33)), Field::ConverterBits);
    // Readings of strain are no resistance and no EMF.
    let strain = Converter::linear_strain(Microstrain(0.1), GaugeFactor(2.0));
    assert_eq!(refused(ResistanceThermometer::platinum(sensor, strain, Ohms(4096.0))), Field::FullScaleRatio);
    let k = ThermocoupleInput::new(Thermocouple::K, strain, Millivolts(2500.0));
    assert_eq!(field(k.try_fixed::<16, 4>().unwrap_err()), Field::FullScaleRatio);
    let leads = SensorLeads::ThreeWire { pair: Ohms(-1.0) };
    assert_eq!(refused(pt100(24).leads(leads)), Field::LeadResistance);
    assert_eq!(field(pt100(24).try_fixed::<7>().unwrap_err()), Field::CurvePieces);
    assert_eq!(field(pt100(24).try_fixed::<1>().unwrap_err()), Field::CurvePieces);
    // A range of fewer codes than pieces.
    let point = pt100(8).between(Celsius(20.0), Celsius(24.0));
    assert_eq!(field(point.try_fixed::<8>().unwrap_err()), Field::ThermometerCodes);

    let refused = |t: ThermocoupleInput| t.try_fixed::<16, 4>().unwrap_err();
    let k = |bits, full| input(Thermocouple::K, bits, full);
    assert_eq!(field(refused(k(31, 78.0))), Field::ConverterBits);
    assert_eq!(field(refused(k(24, 0.0))), Field::FullScaleEmf);
    assert_eq!(field(refused(k(24, 78.0).between(Celsius(0.0), Celsius(1373.0)))), Field::TemperatureHigh);
    assert_eq!(
        field(refused(k(24, 78.0).cold_junction(Celsius(30.0), Celsius(20.0)))),
        Field::ColdJunctionTemperature
    );
    assert_eq!(field(refused(k(24, 20.0))), Field::FullScaleEmf);
    // What the converter measures fits, but not the 41.3 mV against 0 C that are computed from it.
    let hot = k(24, 20.0).between(Celsius(900.0), Celsius(1000.0));
    let warm = hot.cold_junction(Celsius(1000.0), Celsius(1100.0));
    assert!(matches!(refused(warm), Error::Overflow { value, .. } if value > 1.07e9), "41.3 mV in twice 20");
    assert!(matches!(
        k(24, 78.0).try_fixed_within::<8, 2>(Celsius(0.01)),
        Err(Error::TemperatureBound { .. })
    ));
    assert!(SensorPair::try_at(f64::NAN).is_err());
}

#[test]
fn a_gauge_between_two_sensors() {
    let reading = |bits: i32, flags| Reading { temperature: Temperature::from_bits(bits), flags };
    let mut random = Random(5);
    for _ in 0..10_000 {
        let (a, b) = (random.bits() as i32, random.bits() as i32);
        let fraction = f64::from(random.between(0, 65_536)) / 65_536.0;
        let between = SensorPair::try_at(fraction)
            .unwrap()
            .reading(reading(a, ThermometerFlags::CLEAR), reading(b, ThermometerFlags::STALE));
        let exact = f64::from(a) + (f64::from(b) - f64::from(a)) * fraction;
        assert_abs_diff_eq!(f64::from(between.temperature.to_bits()), exact, epsilon = 0.51);
        assert_eq!(between.flags, ThermometerFlags::STALE);
    }
}

/// The table of the documentation, with the size of each kernel.
#[test]
fn documentation_has_these_bounds() {
    let text = document("src/temperature/mod.rs");
    let row = |name: &str, low: f64, high: f64, bytes: usize, bound: Celsius| {
        // Two digits.
        let digits = (1 - bound.0.log10().floor() as i32).max(0) as usize;
        let row = format!("| {name} | {low} to {high} | {bytes} | {:.digits$} |", bound.0);
        assert!(text.contains(&row), "the documentation does not say: {row}");
    };
    for (low, high) in [(-200.0, 300.0), (-200.0, 850.0)] {
        let bound = pt100(24).between(Celsius(low), Celsius(high)).fixed::<8>().error_bound();
        row("Pt100", low, high, size_of::<ResistanceKernel<i32, 8>>(), bound);
    }
    let input = |thermocouple| input(thermocouple, 24, 78.125);
    let narrow = input(Thermocouple::K).between(Celsius(-200.0), Celsius(300.0));
    let narrow = narrow.fixed::<32, 4>().error_bound();
    row("type K", -200.0, 300.0, size_of::<ThermocoupleKernel<i32, 32, 4>>(), narrow);
    for (thermocouple, name, high) in
        [(Thermocouple::K, "type K", 1372.0), (Thermocouple::N, "type N", 1300.0)]
    {
        let bound = input(thermocouple).fixed::<64, 4>().error_bound();
        row(name, -200.0, high, size_of::<ThermocoupleKernel<i32, 64, 4>>(), bound);
    }
}

/// Few pieces over ranges that cross the joints of the reference functions, where there is a kink.
#[test]
fn bounds_hold_across_the_joints() {
    fn check<const HOT: usize>(thermocouple: Thermocouple, low: f64, high: f64) -> usize {
        let (lowest, highest) = thermocouple.invertible_range();
        let (low, high) = (low.max(lowest.0), high.min(highest.0));
        if high - low < 100.0 {
            return 0;
        }
        let kernel = input(thermocouple, 30, 100.0).between(Celsius(low), Celsius(high)).fixed::<HOT, 4>();
        let bound = kernel.error_bound().0;
        let from = thermocouple.emf(Celsius(low)).unwrap().0;
        let to = thermocouple.emf(Celsius(high)).unwrap().0;
        // Cold junction at 0 C: the sum is the code's EMF and the little that type K has there.
        let cold = Temperature::from_bits(0);
        for i in 1..2_000 {
            let code = code(from + (to - from) * f64::from(i) / 2_000.0, 30, 100.0);
            let reading = kernel.reading(code, cold);
            let emf = emf(code, 30, 100.0);
            let exact = thermocouple.temperature_with_cold_junction(emf, Celsius(0.0)).unwrap().0;
            let off = (reading.temperature.celsius().0 - exact).abs();
            assert!(
                off <= bound,
                "{thermocouple:?} {low}..{high}, {HOT} pieces at {exact}: {off}, bound {bound}"
            );
        }
        1
    }
    let mut ranges = 0;
    for thermocouple in Thermocouple::ALL {
        for low in [-190.0, -130.7, -53.658536585, -12.3, 260.0, 579.0418598466694] {
            for high in [101.0, 307.35, 589.268292683, 901.5, 1376.4817866432566] {
                ranges += check::<2>(thermocouple, low, high) + check::<4>(thermocouple, low, high);
                ranges += check::<8>(thermocouple, low, high) + check::<16>(thermocouple, low, high);
            }
        }
    }
    assert!(ranges > 400, "{ranges}");
}

/// A last piece of which next to nothing is used is fitted like the others.
#[test]
fn a_sliver_of_a_piece_is_no_trouble() {
    for high in [307.30, 307.35, 307.40] {
        let input = input(Thermocouple::T, 24, 39.0).between(Celsius(-200.0), Celsius(high));
        assert!(input.try_fixed_within::<32, 4>(Celsius(0.01)).is_ok(), "{high}");
    }
}

/// No resistance is a short circuit on any converter.
#[test]
fn a_short_circuit_is_seen_by_coarse_converters() {
    let converter = Converter::bipolar(8, Ratio(1.0));
    let sensor = Platinum::iec60751(Ohms(100.0));
    let kernel: ResistanceKernel<i32, 2> =
        ResistanceThermometer::platinum(sensor, converter, Ohms(2500.0)).try_fixed().unwrap();
    assert_eq!(kernel.reading(0).flags, ThermometerFlags::SHORTED);
}

/// Every thermometer, in every form, at the limit that it meets exactly and just below it.
#[test]
fn every_form_of_every_thermometer() {
    macro_rules! forms {
        ($thermometer:expr, $bad:expr, [$($size:literal),+]) => {
            forms!($thermometer, $bad, [$($size),+], fixed try_fixed fixed_within try_fixed_within);
            forms!($thermometer, $bad, [$($size),+], float32 try_float32 float32_within try_float32_within);
        };
        (
            $thermometer:expr, $bad:expr, [$($size:literal),+],
            $make:ident $try_make:ident $within:ident $try_within:ident
        ) => {
            let (good, bad) = ($thermometer, $bad);
            let kernel = good.$make::<$($size),+>();
            assert_eq!(good.$try_make(), Ok(kernel));
            // The bound of a kernel is the least limit that it meets.
            let bound = kernel.error_bound();
            assert!(bound.0 > 0.0 && bound.0 < 0.05, "{bound}");
            assert_eq!(good.$try_within(bound), Ok(kernel));
            assert_eq!(good.$within::<$($size),+>(bound), kernel);
            for limit in [bound.0 * (1.0 - 1e-12), 1e-9, 0.0, -1.0, f64::NAN].map(Celsius) {
                let missed = good.$try_within::<$($size),+>(limit).unwrap_err();
                let Error::TemperatureBound { limit, bound: found } = missed else { panic!("{missed}") };
                assert!(limit.0.to_bits() == limit.0.to_bits() && found == bound);
                assert_eq!(panic_of(|| _ = good.$within::<$($size),+>(limit)), missed.to_string());
            }
            // An input that is wrong is reported first, whatever the limit.
            let refused = bad.$try_make::<$($size),+>().unwrap_err();
            assert!(matches!(refused, Error::Invalid { .. }), "{refused}");
            assert_eq!(bad.$try_within::<$($size),+>(Celsius(1e9)), Err(refused));
            assert_eq!(panic_of(|| _ = bad.$make::<$($size),+>()), refused.to_string());
            assert_eq!(panic_of(|| _ = bad.$within::<$($size),+>(Celsius(1e9))), refused.to_string());
        };
    }
    let range = (Celsius(-300.0), Celsius(50.0));
    let bead = Thermistor::beta(Ohms(10_000.0), Celsius(25.0), Kelvin(3950.0));
    let thermistor = ResistanceThermometer::thermistor(bead, Converter::bipolar(24, Ratio(1.0)), Ohms(1e6))
        .between(Celsius(0.0), Celsius(60.0));
    forms!(pt100(24), pt100(24).between(range.0, range.1), [16]);
    forms!(thermistor, thermistor.between(range.0, range.1), [64]);
    forms!(
        thermistor.in_divider(),
        thermistor.in_divider().leads(SensorLeads::ThreeWire { pair: Ohms(-1.0) }),
        [64]
    );
    for thermocouple in Thermocouple::ALL {
        let good = input(thermocouple, 24, FULL_SCALE);
        forms!(good, good.between(range.0, range.1), [64, 4]);
        forms!(good, input(thermocouple, 24, 0.05), [64, 4]);
    }
}

/// A thermistor that a build would stop for.
#[test]
fn a_thermistor_stops_the_build_with_the_words_of_its_error() {
    let (cold, warm) = ((Ohms(1e4), Celsius(25.0)), (Ohms(2e4), Celsius(50.0)));
    let points = [cold, warm, warm];
    for (error, words) in [
        (
            Thermistor::try_beta(cold.0, cold.1, Kelvin(1.0)),
            panic_of(|| _ = Thermistor::beta(cold.0, cold.1, Kelvin(1.0))),
        ),
        (Thermistor::try_beta_through(cold, warm), panic_of(|| _ = Thermistor::beta_through(cold, warm))),
        (Thermistor::try_through(points), panic_of(|| _ = Thermistor::through(points))),
        (
            Thermistor::try_steinhart_hart(1.0, 0.0, 0.0),
            panic_of(|| _ = Thermistor::steinhart_hart(1.0, 0.0, 0.0)),
        ),
    ] {
        assert_eq!(words, error.unwrap_err().to_string());
    }
}

/// The words of a panic.
fn panic_of(call: impl FnOnce() + std::panic::UnwindSafe) -> String {
    let payload = std::panic::catch_unwind(call).unwrap_err();
    payload
        .downcast_ref::<String>()
        .cloned()
        .unwrap_or_else(|| payload.downcast_ref::<&str>().unwrap().to_string())
}

/// A thermometer in `f32` feeds a strain kernel in `f32`, and a cold junction, with half a step of the format and no more.
#[test]
fn single_precision_goes_on_in_the_fixed_format() {
    let single: ResistanceKernel<f32, 16> = pt100(24).float32();
    let (first, last) = single.codes();
    let mut random = Random(11);
    for _ in 0..100_000 {
        let reading = single.reading(random.between(first - 1000, last + 1000));
        let fixed = reading.to_fixed().unwrap();
        assert_eq!(fixed.flags, reading.flags);
        let off = fixed.temperature.celsius().0 - f64::from(reading.temperature);
        assert!(off.abs() <= 0.5 / f64::from(Temperature::PER_DEGREE), "{reading:?}");
    }
    // Every place where rounding to a step could go wrong: halves, and values that an `f32` holds in whole steps only.
    for steps in
        [0.5_f32, -0.5, 0.499_999_97, -0.499_999_97, 1.5, 8_388_607.5, 8_388_609.0, -16_777_216.0, 2e9]
    {
        let celsius = steps / Temperature::PER_DEGREE as f32;
        let exact = Temperature::from_celsius(Celsius(f64::from(celsius)));
        assert_eq!(Temperature::from_celsius_f32(celsius), exact, "{steps}");
    }
    for celsius in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY, 2047.1, -2047.1] {
        let error = Temperature::from_celsius_f32(celsius).unwrap_err();
        let told = Reading { temperature: celsius, flags: ThermometerFlags::CLEAR }.to_fixed().unwrap_err();
        assert_eq!(error.to_string(), told.to_string());
        let Error::Invalid { field: Field::Temperature, value, low: -2047.0, high: 2047.0 } = error else {
            panic!("{error}")
        };
        assert_eq!((value as f32).to_bits(), celsius.to_bits());
    }
    // The ends themselves are inside, and of thousandths the next one is not.
    for (end, beyond) in [(-2047.0_f32, -2_047_001), (2047.0, 2_047_001)] {
        let told = Reading { temperature: end, flags: ThermometerFlags::CLEAR }.to_fixed().unwrap();
        assert_eq!(told.temperature.celsius().0, f64::from(end));
        assert_eq!(Temperature::from_millicelsius(end as i32 * 1000), Ok(told.temperature));
        let (field, value) = (Field::Temperature, f64::from(beyond) / 1e3);
        let refused = Error::Invalid { field, value, low: -2047.0, high: 2047.0 };
        assert_eq!(Temperature::from_millicelsius(beyond), Err(refused));
    }
    // Only readings without a temperature count as such.
    let mut last = LastReading::new(50);
    for flags in [ThermometerFlags::OPEN, ThermometerFlags::CLEAR, ThermometerFlags::SHORTED] {
        last.update(Reading { temperature: Temperature::from_bits(0), flags }, 0);
    }
    assert_eq!(last.unusable(), 2);
}

/// From codes to ratios and back, and the ends, by hand.
#[test]
fn a_converters_codes() {
    for (bits, full, code, ratio) in [
        (8, 1.0, 127.0, 0.992_187_5),
        (16, 1.0 / 64.0, -32_768.0, -0.015_625),
        (24, 1.0 / 128.0, 1_000_000.5, 1_000_000.5 / 1_073_741_824.0),
        (32, 0.5, 1.0, 1.0 / 4_294_967_296.0),
    ] {
        let converter = Converter::bipolar(bits, Ratio(full));
        assert_eq!(converter.ratio(code), Ratio(ratio));
        assert_eq!(converter.code(Ratio(ratio)), code);
    }
    for (bits, rails) in
        [(8, (-128, 127)), (16, (-32_768, 32_767)), (32, (i32::MIN, i32::MAX)), (0, (0, 0)), (33, (0, 0))]
    {
        let converter = Converter::bipolar(bits, Ratio(1.0));
        assert_eq!(converter.rails(), rails);
        assert!(rails != (0, 0) || converter.ratio(1.0).0.is_nan() && converter.code(Ratio(1.0)).is_nan());
    }
}

/// What a log shows of the flags.
#[test]
fn flags_are_shown_by_name() {
    use gaugewright::Flags;
    let all = Flags::ALL.iter().fold(Flags::CLEAR, |all, (flag, _)| all | *flag);
    for (flags, shown) in [
        (Flags::CLEAR, "Flags(CLEAR)"),
        (Flags::STRAIN_OUTSIDE, "Flags(STRAIN_OUTSIDE)"),
        (all, "Flags(CODE_AT_RAIL | TEMPERATURE_OUTSIDE | STRAIN_OUTSIDE | TEMPERATURE_DOUBTFUL)"),
    ] {
        assert_eq!(format!("{flags:?}"), shown);
    }
    for (flags, shown) in [
        (ThermometerFlags::CLEAR, "ThermometerFlags(CLEAR)"),
        (ThermometerFlags::STALE | ThermometerFlags::OPEN, "ThermometerFlags(OPEN | STALE)"),
    ] {
        assert_eq!(format!("{flags:?}"), shown);
    }
}
