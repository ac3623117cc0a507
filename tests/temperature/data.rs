//! Temperature sensors against data from outside: exact values, printed tables, textbook examples. Each check
//! names where its numbers come from.

use approx::assert_abs_diff_eq;
use gaugewright::temperature::*;
use gaugewright::units::*;
use support::{Row, data, tolerance};

fn couple(row: &Row) -> Thermocouple {
    let name = row.text("type");
    *Thermocouple::ALL.iter().find(|couple| format!("{couple:?}") == name).unwrap()
}

/// The constants of IEC 60751 in exact decimals; the standard prints the values to 0.01 ohm.
#[test]
fn platinum_by_the_standard() {
    let sensor = Platinum::iec60751(Ohms(100.0));
    let rows = data("platinum");
    assert_eq!(rows.len(), 106);
    let (mut resistance_off, mut slope_off, mut temperature_off) = (0.0f64, 0.0f64, 0.0f64);
    for row in &rows {
        let (t, exact) = (row.number("t_degC"), row.number("r_ohm_exact"));
        let resistance = sensor.resistance(Celsius(t)).unwrap().0;
        resistance_off = resistance_off.max((resistance / exact - 1.0).abs());
        assert_eq!((resistance * 100.0).round(), (row.number("r_ohm_table") * 100.0).round(), "at {t}");
        let slope = sensor.sensitivity(Celsius(t)).unwrap().0;
        slope_off = slope_off.max((slope / row.number("slope_ohm_per_degC") - 1.0).abs());
        // At the ends the decimal may lie outside by its rounding.
        let end = |t| sensor.resistance(t).unwrap().0;
        let inside = exact.clamp(end(Platinum::LOW), end(Platinum::HIGH));
        let back = sensor.temperature(Ohms(inside)).unwrap().0;
        temperature_off = temperature_off.max((back - t).abs());
    }
    println!("platinum: {resistance_off:e}, {slope_off:e}, {temperature_off:e} C");
    assert!(resistance_off <= tolerance::PLATINUM);
    assert!(slope_off <= tolerance::PLATINUM);
    assert!(temperature_off <= tolerance::PLATINUM_CELSIUS);
}

/// Close to 0 C, where the branches meet, in exact decimals: the term below zero is worth 1.3e-8 C half a
/// degree from it.
#[test]
fn platinum_beside_zero() {
    let sensor = Platinum::iec60751(Ohms(100.0));
    for (t, exact) in [(-0.5, 99.804_570_557_245_1), (0.5, 100.1954005625), (0.99, 100.386865099225)] {
        let resistance = sensor.resistance(Celsius(t)).unwrap().0;
        assert!((resistance / exact - 1.0).abs() <= tolerance::PLATINUM, "{resistance} at {t}");
        let back = sensor.temperature(Ohms(exact)).unwrap().0;
        assert!((back - t).abs() <= tolerance::PLATINUM_CELSIUS, "{back}, not {t}");
    }
}

/// Digit for digit those of the NIST database, in the order of the source files.
#[test]
fn thermocouple_coefficients() {
    let sources = concat!(
        include_str!("../../src/temperature/thermocouple/base_metal.rs"),
        include_str!("../../src/temperature/thermocouple/noble_metal.rs")
    );
    let written: Vec<&str> = sources
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .flat_map(|line| line.split([' ', ',', '[', ']', '(', ')']))
        .filter(|word| word.contains("e+") || word.contains("e-"))
        .collect();
    let given: Vec<String> = data("thermocouple_coefficients")
        .iter()
        .map(|row| row.text("coefficient").to_ascii_lowercase())
        .collect();
    assert_eq!(given.len(), 164);
    assert_eq!(written, given);
}

/// NIST ITS-90 Thermocouple Database: every value that is printed, at each degree.
#[test]
fn thermocouple_tables() {
    let mut compared = 0;
    for row in data("thermocouple_tables") {
        for k in 0..10 {
            let Some(printed) = row.maybe(&format!("plus_{k}")) else { continue };
            let t = Celsius(row.number("t_degC") + f64::from(k));
            let emf = couple(&row).emf(t).unwrap().0;
            assert_eq!((emf * 1e3).round(), (printed * 1e3).round(), "{} at {t}", row.text("type"));
            compared += 1;
        }
    }
    assert_eq!(compared, 12_026);
}

/// The same functions evaluated with 50 digits.
#[test]
fn thermocouple_emf_and_slope() {
    let rows = data("thermocouple_emf");
    assert_eq!(rows.len(), 1216);
    let mut worst = [(0.0f64, 0.0f64); 8];
    for row in &rows {
        let (couple, t) = (couple(row), row.number("t_degC"));
        let emf = (couple.emf(Celsius(t)).unwrap().0 - row.number("emf_mV")).abs();
        let slope = (couple.seebeck(Celsius(t)).unwrap().0 - row.number("seebeck_uV_per_degC")).abs();
        assert!(emf <= tolerance::emf(couple, t), "{couple:?} at {t}: {emf:e} mV");
        assert!(slope <= tolerance::seebeck(couple, t), "{couple:?} at {t}: {slope:e} uV/C");
        let seen = &mut worst[couple as usize];
        *seen = (seen.0.max(emf), seen.1.max(slope));
    }
    for couple in Thermocouple::ALL {
        let (emf, slope) = worst[couple as usize];
        println!("{couple:?}: {emf:e} mV, {slope:e} uV/C");
    }
}

/// The same functions solved with 40 digits; and, as a second witness, the approximate inverse polynomials of
/// the NIST database, which have to stay in the bands that are stated for them. The ends of the bands are
/// rounded: half of their last digit is allowed (used by type N alone, by 0.0012 C).
#[test]
fn thermocouple_inverse() {
    let rows = data("thermocouple_inverse");
    assert_eq!(rows.len(), 1142);
    let mut worst = 0.0f64;
    for row in &rows {
        let (couple, emf) = (couple(row), row.number("emf_mV"));
        let exact = row.number("t_degC_exact");
        let t = couple.temperature(Millivolts(emf)).unwrap().0;
        let off = (t - exact).abs();
        if couple == Thermocouple::K && emf == 0.0 {
            assert!(t == 0.0 && off <= tolerance::K_JOINT_CELSIUS);
        } else {
            assert!(off <= tolerance::thermocouple_celsius(couple, exact), "{couple:?} {emf} mV: {off:e} C");
            assert!(off <= 2e-10, "{couple:?} {emf} mV: {off:e} C");
            worst = worst.max(off);
        }
        let band = |column| {
            let text = row.text(column);
            let digits = text.split('.').nth(1).unwrap().len() as i32;
            (row.number(column), 0.5 * 0.1f64.powi(digits))
        };
        let difference = row.number("t_degC_nist_polynomial") - t;
        let ((low, low_half), (high, high_half)) = (band("stated_error_low"), band("stated_error_high"));
        assert!(
            low - low_half <= difference && difference <= high + high_half,
            "{couple:?} {emf} mV: {difference} C is not in {low} to {high}"
        );
    }
    println!("temperature from EMF: {worst:e} C");
}

fn textbook_thermistor() -> Thermistor {
    Thermistor::steinhart_hart(1.129241e-3, 2.341077e-4, 8.775468e-8)
}

/// Steinhart-Hart with the coefficients of Kaw et al., solved with 40 digits.
#[test]
fn thermistor_by_steinhart_hart() {
    let thermistor = textbook_thermistor();
    let rows = data("thermistor");
    assert_eq!(rows.len(), 37);
    for row in &rows {
        let (t, resistance) = (row.number("t_degC"), row.number("r_ohm"));
        let found = thermistor.resistance(Celsius(t)).unwrap().0;
        assert!((found / resistance - 1.0).abs() <= tolerance::THERMISTOR_RESISTANCE, "{found} at {t}");
        let back = thermistor.temperature(Ohms(resistance)).unwrap().0;
        assert!((back - t).abs() <= tolerance::THERMISTOR_CELSIUS, "{back}, not {t}");
    }
}

/// Three of those points give the coefficients back.
#[test]
fn thermistor_through_three_points() {
    let rows = data("thermistor");
    let point = |t: f64| {
        let row = rows.iter().find(|row| row.number("t_degC") == t).unwrap();
        (Ohms(row.number("r_ohm")), Celsius(t))
    };
    let [cold, room, hot] = [point(-40.0), point(25.0), point(125.0)];
    for points in [[cold, room, hot], [hot, cold, room], [room, hot, cold]] {
        let thermistor = Thermistor::through(points);
        let [a, b, c] = thermistor.coefficients();
        // Differences of 1/T lose a digit or two, and c is what is left after two of them.
        assert!((a / 1.129241e-3 - 1.0).abs() < 1e-13, "{a}");
        assert!((b / 2.341077e-4 - 1.0).abs() < 1e-13, "{b}");
        assert!((c / 8.775468e-8 - 1.0).abs() < 1e-11, "{c}");
        for row in &rows {
            let t = thermistor.temperature(Ohms(row.number("r_ohm"))).unwrap().0;
            assert_abs_diff_eq!(t, row.number("t_degC"), epsilon = 5e-13);
        }
    }
}

/// Kaw et al., Numerical Methods with Applications, ch. 03.04, electrical engineering, example 1: the error
/// of a thermistor at 18.99 C, by Newton's method from 15000 ohm. The first iterate is printed as 12946 ohm.
#[test]
fn textbook_example_of_newtons_first_step() {
    let thermistor = textbook_thermistor();
    let [_, b, c] = thermistor.coefficients();
    let start = 15_000.0f64;
    let miss =
        1.0 / thermistor.temperature(Ohms(start)).unwrap().kelvin().0 - 1.0 / Celsius(18.99).kelvin().0;
    let slope = (b + 3.0 * c * start.ln().powi(2)) / start;
    let first = start - miss / slope;
    assert_eq!(first.round(), 12_946.0);
}

/// Figliola and Beasley, Theory and Design for Mechanical Measurements, problem 8.5: beta 3650 K, 20 kohm at
/// 100 C (373 K in the book), 500 ohm; printed 598.7 K.
#[test]
fn textbook_example_of_beta() {
    let thermistor = Thermistor::beta(Ohms(20_000.0), Kelvin(373.0).celsius(), Kelvin(3650.0));
    let found = thermistor.temperature(Ohms(500.0)).unwrap().kelvin().0;
    assert_eq!((found * 10.0).round(), 5987.0);
    assert_abs_diff_eq!(found, 598.6901, epsilon = 5e-5);
}
