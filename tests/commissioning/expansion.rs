//! Expansion of materials: the published cryogenic fits, tables of them, what holds for any law, refused input.

use gaugewright::Error;
use gaugewright::commissioning::expansion::Expansion;
use gaugewright::error::Field;
use gaugewright::numeric::Polynomial;
use gaugewright::units::*;
use proptest::prelude::*;
use support::refusal::{NOT_NUMBERS, each, refused};
use support::{Row, data, recipe, tolerance};

fn fit(material: &str) -> Expansion<'static> {
    let rows = data("expansion_coefficients");
    let row = rows.iter().find(|row| row.text("material") == material).unwrap();
    let terms = ["a", "b", "c", "d", "e"].map(|name| row.number(name));
    // Below T_low the fit is a constant; without one it is good from the lowest datum.
    let mut range = row.text("data_range_K").split('-').map(|end| end.parse::<f64>().unwrap());
    let (low, high) = (range.next().unwrap(), range.next().unwrap());
    let low = row.maybe("T_low_K").unwrap_or(low);
    Expansion::length_polynomial(Polynomial::new(terms).times(1e-5), Kelvin(0.0).celsius())
        .between(Kelvin(low).celsius(), Kelvin(high).celsius())
}

/// Kelvin and change of length from 293 K.
fn table(material: &str) -> Vec<Row> {
    data("expansion_table").into_iter().filter(|row| row.text("material") == material).collect()
}

fn lengths(rows: &[Row]) -> Vec<(Celsius, Strain)> {
    rows.iter()
        .map(|row| (Kelvin(row.number("t_K")).celsius(), Strain(row.number("dL_over_L293_ppm") * 1e-6)))
        .collect()
}

/// NIST cryogenic material properties, every metal, polymer and laminate, against multiple precision.
#[test]
fn the_published_fits_as_polynomials() {
    let mut compared = 0;
    let (mut strain_off, mut coefficient_off) = (0.0f64, 0.0f64);
    for row in data("expansion_coefficients") {
        let material = row.text("material");
        let law = fit(material);
        let (low, high) = law.range();
        let rows = table(material);
        // One fit ends at 265 K.
        let from = rows.iter().rfind(|row| row.number("t_K") <= 293.0).unwrap();
        let (room, from) = (Kelvin(from.number("t_K")).celsius(), from.number("dL_over_L293_ppm") * 1e-6);
        for row in &rows {
            let t = Kelvin(row.number("t_K")).celsius();
            if !(low <= t && t <= high) {
                assert!(law.thermal_strain(room, t).is_err(), "{material} at {t}");
                continue;
            }
            let length = row.number("dL_over_L293_ppm") * 1e-6;
            let strain = law.thermal_strain(room, t).unwrap().0;
            strain_off = strain_off.max((strain - (length - from) / (1.0 + from)).abs());
            if t > low {
                let coefficient = row.number("alpha_ppm_per_degC") * 1e-6 / (1.0 + length);
                let found = law.coefficient_at(t).unwrap().0;
                coefficient_off = coefficient_off.max((found - coefficient).abs());
            }
            compared += 1;
        }
    }
    println!("{compared} points: {strain_off:e}, {coefficient_off:e} /C");
    assert!(compared > 500);
    assert!(strain_off <= tolerance::EXPANSION_STRAIN);
    assert!(coefficient_off <= tolerance::EXPANSION_COEFFICIENT);
}

/// Every other row of a table, 20 K apart, gives the rows between to below a microstrain, where straight lines are off by
/// many times that.
#[test]
fn a_table_gives_the_rows_that_were_left_out() {
    for material in [
        "AISI 304 stainless",
        "Aluminum 6061-T6",
        "Ti-6Al-4V",
        "OFHC copper (alpha fit integrated from 293 K)",
    ] {
        let rows: Vec<_> = lengths(&table(material))
            .into_iter()
            .filter(|(t, _)| {
                let kelvin = t.kelvin().0.round();
                (80.0..=290.0).contains(&kelvin)
                    && kelvin % 10.0 == 0.0
                    && (t.kelvin().0 - kelvin).abs() < 1e-9
            })
            .collect();
        let kept: Vec<_> = rows.iter().copied().step_by(2).collect();
        let law = Expansion::length_table(&kept);
        let zero = kept[0];
        let (mut curved, mut straight) = (0.0f64, 0.0f64);
        for k in (1..rows.len() - 1).step_by(2) {
            let (t, length) = rows[k];
            let exact = (length.0 - zero.1.0) / (1.0 + zero.1.0);
            curved = curved.max((law.thermal_strain(zero.0, t).unwrap().0 - exact).abs());
            straight = straight.max((rows[k - 1].1.0 / 2.0 + rows[k + 1].1.0 / 2.0 - length.0).abs());
        }
        println!("{material}: {:.3} microstrain, straight {:.3}", curved * 1e6, straight * 1e6);
        assert!(rows.len() == 22 && curved < 1e-6 && straight > 5.0 * curved, "{material}");
    }
}

/// The same material as a table of lengths, of mean coefficients from 293 K, and of coefficients.
#[test]
fn three_kinds_of_table_agree() {
    let rows = table("AISI 304 stainless");
    let rows: Vec<_> = rows.into_iter().filter(|row| row.number("t_K") >= 30.0).collect();
    let lengths = lengths(&rows);
    let room = Kelvin(293.0).celsius();
    let (_, at_room) = *lengths.iter().find(|(t, _)| (t.0 - room.0).abs() < 1e-9).unwrap();
    let means: Vec<_> = lengths
        .iter()
        .filter(|(t, _)| (t.0 - room.0).abs() > 1e-9)
        .map(|&(t, length)| {
            let strain = (length.0 - at_room.0) / (1.0 + at_room.0);
            (t, ExpansionPerCelsius(strain / (t.0 - room.0)))
        })
        .collect();
    // Given over the length at 293 K, wanted over that at 0 C.
    let at_zero =
        1.0 + rows.iter().find(|row| row.number("t_K") == 273.15).unwrap().number("dL_over_L293_ppm") * 1e-6;
    let coefficients: Vec<_> = rows
        .iter()
        .map(|row| {
            let coefficient = row.number("alpha_ppm_per_degC") / at_zero;
            (Kelvin(row.number("t_K")).celsius(), ExpansionPerCelsius::ppm(coefficient))
        })
        .collect();
    let by_length = Expansion::length_table(&lengths);
    let by_mean = Expansion::mean_coefficient_table(room, &means);
    let by_coefficient = Expansion::coefficient_table(&coefficients);
    let exact = fit("AISI 304 stainless");
    for (t, _) in &lengths {
        let strain = |law: &Expansion| law.thermal_strain(Celsius(0.0), *t).unwrap().microstrain().0;
        // At its points a table is exact, and so at 0 C, which is one of them.
        assert!((strain(&by_length) - strain(&exact)).abs() < 1e-6, "at {t}");
        if *t != room {
            assert!((strain(&by_mean) - strain(&exact)).abs() < 1e-6, "at {t}");
        }
        // Trapezoids of 17 K at most under a curve that bends down: the twelfth of the square of a step times the change
        // of slope, of which there is 0.15 ppm/K^2 over the range.
        let off = (strain(&by_coefficient) - strain(&exact)).abs();
        assert!(off < 17.0 * 17.0 / 12.0 * 0.15, "{off} at {t}");
    }
}

/// From memory: what cryostats are built by, from room temperature to liquid nitrogen. Stainless steel and aluminium
/// shrink by 0.28 and 0.39 percent, copper by 0.30, titanium by 0.16, Invar by a twentieth.
#[test]
fn what_shrinks_how_far() {
    let shrinks = |material: &str| {
        let rows = lengths(&table(material));
        let room = Kelvin(293.0).celsius();
        -Expansion::length_table(&rows).thermal_strain(room, Kelvin(77.0).celsius()).unwrap().0 * 100.0
    };
    for (material, percent, within) in [
        ("AISI 316 stainless", 0.28, 0.01),
        ("Aluminum 6061-T6", 0.39, 0.01),
        ("OFHC copper (alpha fit integrated from 293 K)", 0.30, 0.01),
        ("Ti-6Al-4V", 0.16, 0.01),
        ("Invar Fe-36Ni", 0.05, 0.015),
    ] {
        let found = shrinks(material);
        assert!((found - percent).abs() < within, "{material}: {found} %");
    }
}

/// A random material: a polynomial of the coefficient, good from -200 to 300 C.
fn alloy() -> impl Strategy<Value = Expansion<'static>> {
    (-5e-6..40e-6f64, -3e-8..3e-8f64, -5e-11..5e-11f64, -100.0..100.0f64).prop_map(|(a, b, c, about)| {
        Expansion::coefficient_polynomial([a, b, c], Celsius(about)).between(Celsius(-200.0), Celsius(300.0))
    })
}

fn anywhere() -> impl Strategy<Value = f64> {
    prop_oneof![Just(-200.0), Just(300.0), -200.0..=300.0f64]
}

#[test]
fn lengths_multiply_along_the_way_and_come_back() {
    recipe::check("lengths", 5_000, (alloy(), anywhere(), anywhere(), anywhere()), |(law, a, b, c)| {
        let strain = |from, to| law.thermal_strain(Celsius(from), Celsius(to)).unwrap().0;
        let way = (1.0 + strain(a, b)) * (1.0 + strain(b, c)) - 1.0;
        prop_assert!((way - strain(a, c)).abs() < 1e-15, "{way} and {}", strain(a, c));
        prop_assert_eq!(strain(a, a), 0.0);
        let mean = law.mean_coefficient(Celsius(a), Celsius(b)).unwrap().0;
        prop_assert!((mean * (b - a) - strain(a, b)).abs() < 1e-15);
        Ok(())
    });
}

/// The coefficient is the slope of the length: by differences a hundredth of a degree apart.
#[test]
fn coefficient_is_the_slope() {
    let points: Vec<_> = lengths(&table("Inconel 718"));
    let table = Expansion::length_table(&points);
    let coefficients = [(-200.0, 4.0), (-80.0, 11.0), (30.0, 10.5)];
    let coefficients =
        coefficients.map(|(t, coefficient)| (Celsius(t), ExpansionPerCelsius::ppm(coefficient)));
    let straight = Expansion::coefficient_table(&coefficients);
    recipe::check("coefficient", 2_000, (alloy(), -199.0..26.0f64), |(law, t)| {
        // Straight between the points, so that the strain across one of them has no slope at it.
        let straight = if (t + 80.0).abs() > 0.01 { &straight } else { &table };
        for law in [&law, &table, straight] {
            let strain = |to| law.thermal_strain(Celsius(t), Celsius(to)).unwrap().0;
            let slope = (strain(t + 0.005) - strain(t - 0.005)) / 0.01;
            let coefficient = law.coefficient_at(Celsius(t)).unwrap().0;
            // The rounding of 1e-17 over a hundredth, and the bend of a table between points.
            prop_assert!((slope - coefficient).abs() < 1e-11, "{slope:e}, {coefficient:e} at {t}");
        }
        Ok(())
    });
}

#[test]
fn tables_of_a_parabola_are_exact_whatever_the_steps() {
    let steps = prop::collection::vec(0.5..80.0f64, 2..12);
    let curve = (-1e-3..1e-3f64, -2e-5..3e-5f64, -2e-8..2e-8f64);
    recipe::check("parabola", 3_000, (steps, curve, 0.0..=1.0f64), |(steps, (a, b, c), share)| {
        let length = |t: f64| a + t * (b + t * c);
        let mut t = -150.0;
        let mut points = vec![(Celsius(t), Strain(length(t)))];
        for step in steps {
            t += step;
            points.push((Celsius(t), Strain(length(t))));
        }
        let law = Expansion::length_table(&points);
        let at = -150.0 + share * (t + 150.0);
        let strain = law.thermal_strain(Celsius(-150.0), Celsius(at.min(t))).unwrap().0;
        let exact = (length(at) - length(-150.0)) / (1.0 + length(-150.0));
        prop_assert!((strain - exact).abs() < 1e-14, "{strain:e}, {exact:e} at {at}");
        for beyond in [-150.001, t + 0.001] {
            prop_assert!(law.thermal_strain(Celsius(-150.0), Celsius(beyond)).is_err());
        }
        Ok(())
    });
}

#[test]
fn refused_input() {
    let steel = Expansion::coefficient(ExpansionPerCelsius::ppm(11.0));
    for bad in each(&[11.0, -2e-3]) {
        refused(
            Expansion::coefficient(ExpansionPerCelsius(bad)).check(),
            Field::ExpansionCoefficient,
            bad * 1e6,
        );
    }
    for bad in each(&[-300.0, 2048.0]) {
        refused(steel.between(Celsius(bad), Celsius(50.0)).check(), Field::ExpansionLow, bad);
    }
    for bad in each(&[-1.0, 2048.0]) {
        refused(steel.between(Celsius(0.0), Celsius(bad)).check(), Field::ExpansionHigh, bad);
    }
    let narrow = steel.between(Celsius(0.0), Celsius(50.0));
    for bad in each(&[-0.1, 50.1]) {
        refused(narrow.thermal_strain(Celsius(bad), Celsius(20.0)), Field::ExpansionTemperature, bad);
        refused(narrow.thermal_strain(Celsius(20.0), Celsius(bad)), Field::ExpansionTemperature, bad);
        refused(narrow.mean_coefficient(Celsius(20.0), Celsius(bad)), Field::ExpansionTemperature, bad);
        refused(narrow.coefficient_at(Celsius(bad)), Field::ExpansionTemperature, bad);
        refused(
            narrow.thermal_strain_uncertainty(Celsius(20.0), Celsius(bad)),
            Field::ExpansionTemperature,
            bad,
        );
    }
    for bad in each(&[-1e-7, 2e-3]) {
        let law = steel.standard_uncertainty(ExpansionPerCelsius(bad));
        refused(law.check(), Field::ExpansionUncertainty, bad * 1e6);
    }
    for bad in NOT_NUMBERS {
        let law = steel.relative_standard_uncertainty(Percent(bad));
        refused(law.check(), Field::ExpansionRelativeUncertainty, bad);
    }
    refused(
        steel.relative_standard_uncertainty(Percent(-1.0)).check(),
        Field::ExpansionRelativeUncertainty,
        -1.0,
    );

    let polynomial = |terms: [f64; 2], zero| {
        Expansion::length_polynomial(Polynomial::new(terms), Celsius(zero))
            .between(Celsius(0.0), Celsius(50.0))
    };
    for bad in each(&[1.1, -2.0]) {
        refused(polynomial([0.0, bad], 0.0).check(), Field::ExpansionTerm, bad);
    }
    for bad in each(&[-274.0, 3000.0]) {
        refused(polynomial([0.0, 1e-5], bad).check(), Field::ExpansionOrigin, bad);
    }
    // A unit forgotten: 1e-5 was meant.
    let error = polynomial([0.0, 0.9], 0.0).check().unwrap_err();
    assert!(matches!(error, Error::Invalid { field: Field::ExpansionStrain, .. }), "{error}");
    refused(
        Expansion::length_polynomial(Polynomial::ZERO, Celsius(0.0)).check(),
        Field::ExpansionLow,
        f64::NAN,
    );
}

#[test]
fn refused_tables() {
    refused(Expansion::length_table(&[]).check(), Field::ExpansionPoints, 0.0);
    refused(Expansion::coefficient_table(&[]).check(), Field::ExpansionPoints, 0.0);
    refused(
        Expansion::length_table(&[(Celsius(20.0), Strain(0.0))]).thermal_strain(Celsius(20.0), Celsius(20.0)),
        Field::ExpansionPoints,
        1.0,
    );
    // Out of order, the same twice, out of the world, no number.
    for bad in each(&[19.0, 20.0, 20.0005, 3000.0]) {
        let rows =
            [(Celsius(20.0), Strain(0.0)), (Celsius(bad), Strain(1e-4)), (Celsius(100.0), Strain(8e-4))];
        refused(Expansion::length_table(&rows).check(), Field::ExpansionPointTemperature, bad);
    }
    for bad in each(&[0.2, -0.2]) {
        let rows = [(Celsius(20.0), Strain(0.0)), (Celsius(100.0), Strain(bad))];
        refused(Expansion::length_table(&rows).check(), Field::ExpansionStrain, bad);
    }
    for bad in each(&[11.0, -2e-3]) {
        let rows = [(Celsius(20.0), ExpansionPerCelsius(1e-5)), (Celsius(100.0), ExpansionPerCelsius(bad))];
        refused(Expansion::coefficient_table(&rows).check(), Field::ExpansionCoefficient, bad * 1e6);
        refused(
            Expansion::mean_coefficient_table(Celsius(0.0), &rows).check(),
            Field::ExpansionCoefficient,
            bad * 1e6,
        );
    }
    let rows = [(Celsius(20.0), ExpansionPerCelsius(1e-5)), (Celsius(100.0), ExpansionPerCelsius(1e-5))];
    for bad in each(&[-300.0, 3000.0]) {
        refused(Expansion::mean_coefficient_table(Celsius(bad), &rows).check(), Field::ExpansionOrigin, bad);
    }
    // A table is not known beyond its ends, whatever is said.
    let wider = Expansion::coefficient_table(&rows).between(Celsius(0.0), Celsius(100.0));
    refused(wider.check(), Field::ExpansionLow, 0.0);
    let wider = Expansion::coefficient_table(&rows).between(Celsius(20.0), Celsius(101.0));
    refused(wider.check(), Field::ExpansionHigh, 101.0);
}
