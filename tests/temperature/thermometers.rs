//! Thermometer kernels against the double-precision functions and against tables from outside, code by code.

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
    f64::from(code) / f64::from(1u32 << (bits - 1)) * 512.0
}

/// Exhausted over every code of a 16-bit converter, sampled for 24 bits.
#[test]
fn platinum_keeps_its_bound_at_every_code() {
    let sensor = Platinum::iec60751(Ohms(100.0));
    let coarse: ResistanceKernel<i32, 8> = pt100(16).try_fixed().unwrap();
    let bound = pt100(16).fixed_bound::<8>().unwrap().0;
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

    // The promise of the documentation: a millikelvin over the range of most gauges, with eight pieces.
    let narrow = pt100(24).between(Celsius(-200.0), Celsius(300.0));
    let fine: ResistanceKernel<i32, 8> = narrow.try_fixed_within(Celsius(0.001)).unwrap();
    let single: ResistanceKernel<f32, 8> = narrow.try_float32().unwrap();
    let bounds = (narrow.fixed_bound::<8>().unwrap().0, narrow.float32_bound::<8>().unwrap().0);
    let (first, last) = fine.codes();
    let (mut worst, mut worst_single) = (0.0_f64, 0.0_f64);
    let mut random = Random(1);
    for i in 0..300_000 {
        let code = if i < 1000 { first + i } else { random.between(first, last) };
        let exact = sensor.temperature(Ohms(ohms(code, 24))).unwrap().0;
        worst = worst.max((fine.reading(code).temperature.celsius().0 - exact).abs());
        worst_single = worst_single.max((f64::from(single.reading(code).temperature) - exact).abs());
    }
    println!(
        "platinum, -200 to 300 C: integers {worst:.2e} of {:.2e}, f32 {worst_single:.2e} of {:.2e}",
        bounds.0, bounds.1
    );
    assert!(worst <= bounds.0 && bounds.0 < SLACK * worst);
    assert!(worst_single <= bounds.1 && bounds.1 < 2.0 * SLACK * worst_single);
    assert!(bounds.0 < 0.001);
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
        let code = (resistance / 512.0 * 8_388_608.0).round() as i32;
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
fn thermocouples_keep_their_bound() {
    for thermocouple in Thermocouple::ALL {
        let input = ThermocoupleInput::new(thermocouple, 24, Millivolts(FULL_SCALE));
        let bound = input.fixed_bound::<64, 4>().unwrap().0;
        let single_bound = input.float32_bound::<64, 4>().unwrap().0;
        let kernel: ThermocoupleKernel<i32, 64, 4> = input.try_fixed_within(Celsius(0.05)).unwrap();
        let single: ThermocoupleKernel<f32, 64, 4> = input.try_float32().unwrap();
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
            let emf = Millivolts(f64::from(code) / 8_388_608.0 * FULL_SCALE);
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
    let bound = narrow.fixed_bound::<8>().unwrap().0;
    let (first, last) = kernel.codes();
    for code in first..=last {
        let exact = sensor.temperature(Ohms(ohms(code, 24))).unwrap().0;
        let off = (kernel.reading(code).temperature.celsius().0 - exact).abs();
        assert!(off <= bound, "code {code}: {off}, bound {bound}");
    }
    println!("platinum: {} codes", last - first + 1);

    let mut pairs = 0;
    for thermocouple in Thermocouple::ALL {
        let input = ThermocoupleInput::new(thermocouple, 16, Millivolts(FULL_SCALE));
        let kernel: ThermocoupleKernel<i32, 64, 4> = input.try_fixed().unwrap();
        let bound = input.fixed_bound::<64, 4>().unwrap().0;
        let coldest = if thermocouple == Thermocouple::B { 0 } else { -40 };
        for step in 0..=20 {
            let cold = Temperature::from_bits((coldest << 20) + ((85 - coldest) << 20) / 20 * step);
            for code in -32_767..=32_766 {
                let reading = kernel.reading(code, cold);
                if reading.flags.is_clear() {
                    let emf = Millivolts(f64::from(code) / 32_768.0 * FULL_SCALE);
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
        let kernel: ThermocoupleKernel<i32, 64, 4> =
            ThermocoupleInput::new(thermocouple, 24, Millivolts(FULL_SCALE)).try_fixed().unwrap();
        let name = format!("{thermocouple:?}");
        for row in rows.iter().filter(|row| row.text("type") == name) {
            for above in 0..10 {
                let Some(emf) = row.maybe(&format!("plus_{above}")) else { continue };
                let celsius = row.number("t_degC") + f64::from(above);
                let code = (emf / FULL_SCALE * 8_388_608.0).round() as i32;
                let reading = kernel.reading(code, Temperature::from_bits(0));
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
    let sensor = Thermistor::steinhart_hart(1.129241e-3, 2.341077e-4, 8.775468e-8).unwrap();
    let divider =
        ResistanceThermometer::thermistor(sensor, Converter::bipolar(24, Ratio(1.0)), Ohms(10_000.0))
            .in_divider();
    let bound = divider.fixed_bound::<32>().unwrap().0;
    let kernel: ResistanceKernel<i32, 32> = divider.try_fixed().unwrap();
    let (first, last) = kernel.codes();
    let mut random = Random(3);
    let (mut worst, mut before) = (0.0_f64, i32::MAX);
    for i in 0..200_000 {
        let code = if i < 100_000 {
            first + (i64::from(last - first) * i / 100_000) as i32
        } else {
            random.between(first, last)
        };
        let ratio = f64::from(code) / 8_388_608.0;
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
    assert_eq!(kernel.reading(last + 1).flags, Flags::OUTSIDE);
    assert_eq!(kernel.reading(0).flags, Flags::SHORTED);
    assert_eq!(kernel.reading(8_388_607).flags, Flags::OPEN);
}

#[test]
fn flags_and_held_values() {
    let kernel: ResistanceKernel<i32, 16> = pt100(24).try_fixed().unwrap();
    let (first, last) = kernel.codes();
    for (code, flags, end) in [
        (first - 1, Flags::OUTSIDE, first),
        (last + 1, Flags::OUTSIDE, last),
        // 9.26 ohm is half of what -200 C has.
        (151_600, Flags::SHORTED, first),
        (151_800, Flags::OUTSIDE, first),
        (-1, Flags::SHORTED, first),
        (8_388_607, Flags::OPEN, last),
        (i32::MAX, Flags::OPEN, last),
        (-8_388_608, Flags::OPEN, first),
        (i32::MIN, Flags::OPEN, first),
    ] {
        let reading = kernel.reading(code);
        assert_eq!(reading.flags, flags, "{code}");
        assert_eq!(reading.temperature, kernel.reading(end).temperature, "{code}");
    }
    // Nothing but OPEN for a broken wire, and the cold junction told beside it.
    let input = ThermocoupleInput::new(Thermocouple::K, 24, Millivolts(78.125));
    let kernel: ThermocoupleKernel<i32, 64, 4> = input.try_fixed().unwrap();
    let (mild, hot) = (Temperature::from_bits(20 << 20), Temperature::from_bits(90 << 20));
    assert_eq!(kernel.reading(i32::MIN, mild).flags, Flags::OPEN);
    assert_eq!(kernel.reading(8_388_607, hot).flags, Flags::OPEN | Flags::COLD_JUNCTION_OUTSIDE);
    assert_eq!(kernel.reading(0, hot).flags, Flags::COLD_JUNCTION_OUTSIDE);
    assert_eq!(
        kernel.reading(0, hot).temperature,
        kernel.reading(0, Temperature::from_bits(85 << 20)).temperature
    );
}

/// Any pair of `i32` gives a temperature inside the range (the profile with overflow checks runs this too).
#[test]
fn any_input_is_safe() {
    let platinum: ResistanceKernel<i32, 8> = pt100(24).try_fixed().unwrap();
    let kernel: ThermocoupleKernel<i32, 64, 4> =
        ThermocoupleInput::new(Thermocouple::N, 30, Millivolts(55.0)).try_fixed().unwrap();
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
    let leads = SensorLeads::ThreeWire { pair: Ohms(-1.0) };
    assert_eq!(refused(pt100(24).leads(leads)), Field::LeadResistance);
    assert_eq!(field(pt100(24).try_fixed::<7>().unwrap_err()), Field::CurvePieces);
    assert_eq!(field(pt100(24).try_fixed::<1>().unwrap_err()), Field::CurvePieces);
    // A range of fewer codes than pieces.
    let point = pt100(8).between(Celsius(20.0), Celsius(24.0));
    assert_eq!(field(point.try_fixed::<8>().unwrap_err()), Field::ThermometerCodes);

    let refused = |t: ThermocoupleInput| t.try_fixed::<16, 4>().unwrap_err();
    let k = |bits, full| ThermocoupleInput::new(Thermocouple::K, bits, Millivolts(full));
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
    assert!(Smoothing::new(Seconds(1.0), Seconds(0.0)).is_err());
    assert!(Smoothing::new(Seconds(f64::NAN), Seconds(1.0)).is_err());
    assert!(Bracket::try_at(f64::NAN).is_err());
}

/// First order, against its closed form; and it comes to rest at its input, not short of it.
#[test]
fn smoothing_is_of_first_order() {
    for (time_constant, interval) in [(0.1, 1.0), (1.0, 1.0), (10.0, 0.5), (3_000.0, 0.1)] {
        let mut smoothing = Smoothing::new(Seconds(time_constant), Seconds(interval)).unwrap();
        let (from, to) = (Temperature::from_bits(-60 << 20), Temperature::from_bits(40 << 20));
        assert_eq!(smoothing.next(from), from);
        for i in 1..=2_000 {
            let exact = 40.0 - 100.0 * (-f64::from(i) * interval / time_constant).exp();
            let found = smoothing.next(to).celsius().0;
            // The share of an interval is known to half of 2^-32, and so the time constant to that over the share.
            let share = 1.0 - (-interval / time_constant).exp();
            let allowed = 2e-6 + 37.0 * 0.5_f64.powi(33) / share;
            assert!((found - exact).abs() < allowed, "{time_constant} s, step {i}: {found}, {exact}");
        }
        for _ in 0..(30.0 * time_constant / interval) as i32 {
            smoothing.next(to);
        }
        assert_eq!(smoothing.next(to), to);
    }
}

/// The ends of the format wrap nowhere.
#[test]
fn filters_hold_at_the_ends() {
    let ends = [i32::MIN, i32::MAX].map(Temperature::from_bits);
    let mut smoothing = Smoothing::new(Seconds(1.0), Seconds(1.0)).unwrap();
    let mut lag = Lag::new(Seconds(9_999.0), Seconds(0.5), Seconds(1.0)).unwrap();
    for i in 0..40 {
        let end = ends[i / 7 % 2];
        let (smoothed, ahead) = (smoothing.next(end), lag.next(end));
        assert!(i == 0 || smoothed >= ends[0]);
        if i % 7 == 0 && i > 0 {
            // A jump by the whole format is far beyond its end.
            assert_eq!(ahead, end, "{i}");
        }
    }
}

#[test]
fn a_gauge_between_two_sensors() {
    let reading = |bits: i32, flags| Reading { temperature: Temperature::from_bits(bits), flags };
    let mut random = Random(5);
    for _ in 0..10_000 {
        let (a, b) = (random.bits() as i32, random.bits() as i32);
        let fraction = f64::from(random.between(0, 65_536)) / 65_536.0;
        let between =
            Bracket::try_at(fraction).unwrap().reading(reading(a, Flags::CLEAR), reading(b, Flags::STALE));
        let exact = f64::from(a) + (f64::from(b) - f64::from(a)) * fraction;
        assert!((f64::from(between.temperature.to_bits()) - exact).abs() <= 0.51);
        assert_eq!(between.flags, Flags::STALE);
    }
}

/// README's table, and the cost of its kernels.
#[test]
fn readme_has_these_bounds() {
    let readme = readme();
    let row = |name: &str, low: f64, high: f64, bytes: usize, bound: Celsius| {
        // Two digits.
        let digits = (1 - bound.0.log10().floor() as i32).max(0) as usize;
        let row = format!("| {name} | {low} to {high} | {bytes} | {:.digits$} |", bound.0);
        assert!(readme.contains(&row), "README does not say: {row}");
    };
    for (low, high) in [(-200.0, 300.0), (-200.0, 850.0)] {
        let bound = pt100(24).between(Celsius(low), Celsius(high)).fixed_bound::<8>().unwrap();
        row("Pt100", low, high, size_of::<ResistanceKernel<i32, 8>>(), bound);
    }
    let input = |thermocouple| ThermocoupleInput::new(thermocouple, 24, Millivolts(78.125));
    let narrow =
        input(Thermocouple::K).between(Celsius(-200.0), Celsius(300.0)).fixed_bound::<32, 4>().unwrap();
    row("type K", -200.0, 300.0, size_of::<ThermocoupleKernel<i32, 32, 4>>(), narrow);
    for (thermocouple, name, high) in
        [(Thermocouple::K, "type K", 1372.0), (Thermocouple::N, "type N", 1300.0)]
    {
        let bound = input(thermocouple).fixed_bound::<64, 4>().unwrap();
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
        let input =
            ThermocoupleInput::new(thermocouple, 30, Millivolts(100.0)).between(Celsius(low), Celsius(high));
        let kernel = input.try_fixed::<HOT, 4>().unwrap();
        let bound = input.fixed_bound::<HOT, 4>().unwrap().0;
        let from = thermocouple.emf(Celsius(low)).unwrap().0;
        let to = thermocouple.emf(Celsius(high)).unwrap().0;
        // Cold junction at 0 C: the sum is the code's EMF and the little that type K has there.
        let cold = Temperature::from_bits(0);
        for i in 1..2_000 {
            let emf = from + (to - from) * f64::from(i) / 2_000.0;
            let code = (emf / 100.0 * 536_870_912.0).round() as i32;
            let reading = kernel.reading(code, cold);
            let exact = Millivolts(f64::from(code) / 536_870_912.0 * 100.0);
            let exact = thermocouple.temperature_with_cold_junction(exact, Celsius(0.0)).unwrap().0;
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
        let input = ThermocoupleInput::new(Thermocouple::T, 24, Millivolts(39.0))
            .between(Celsius(-200.0), Celsius(high));
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
    assert_eq!(kernel.reading(0).flags, Flags::SHORTED);
}

/// Time constants far below and far above the interval.
#[test]
fn extreme_time_constants() {
    for (time_constant, interval) in [(0.001, 0.699), (0.001, 2.5), (1e-300, 1e6), (5e-324, 1.0), (0.0, 1.0)]
    {
        let mut smoothing = Smoothing::new(Seconds(time_constant), Seconds(interval)).unwrap();
        smoothing.next(Temperature::from_bits(0));
        let step = Temperature::from_bits(20 << 20);
        assert_eq!(smoothing.next(step), step, "{time_constant} s every {interval} s");
    }
    assert!(Smoothing::new(Seconds(1e6), Seconds(1e-6)).is_err());
    // A time constant of zero follows at once, whatever the sign of the zero.
    for zero in [0.0, -0.0] {
        let mut none = Smoothing::new(Seconds(zero), Seconds(1.0)).unwrap();
        let _ = none.next(Temperature::from_bits(-5));
        assert_eq!(none.next(Temperature::from_bits(1 << 30)).to_bits(), 1 << 30);
    }
    let mut slow = Smoothing::new(Seconds(1e5), Seconds(1.0)).unwrap();
    slow.next(Temperature::from_bits(0));
    let mut reached = 0.0;
    for _ in 0..100_000 {
        reached = slow.next(Temperature::from_bits(1000 << 20)).celsius().0;
    }
    assert!((reached - 1000.0 * (1.0 - (-1.0_f64).exp())).abs() < 0.02, "{reached}");
}
