//! Thermal output from its two causes and back: against the physics that the invented gauges were made from, against
//! differences and Monte Carlo, what the trade expects, refused input.

use approx::assert_abs_diff_eq;
use gaugewright::commissioning::expansion::Expansion;
use gaugewright::commissioning::prediction::*;
use gaugewright::numeric::Polynomial;
use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;
use support::{GAUGES, Random, Row, data, gauge, recipe, tolerance};

const LOW: Celsius = Celsius(-200.0);
const HIGH: Celsius = Celsius(300.0);

fn row_of(id: &str) -> Row {
    data("gauges").into_iter().find(|row| row.text("gauge_id") == id).unwrap()
}

fn law(row: &Row, of: &str) -> Expansion<'static> {
    let terms = [0, 1, 2].map(|k| row.number(&format!("{of}_a{k}")));
    Expansion::coefficient_polynomial(terms, Celsius(24.0)).between(LOW, HIGH)
}

fn coefficients(row: &Row) -> [f64; 4] {
    [1, 2, 3, 4].map(|k| row.number(&format!("model_b{k}")))
}

fn foil(row: &Row) -> FoilResistance {
    FoilResistance::new(coefficients(row)).between(LOW, HIGH)
}

fn stated(row: &Row) -> GaugeFactor {
    GaugeFactor(row.number("F_T_of_thermal_output"))
}

fn prediction(id: &str) -> Prediction<'static> {
    let row = row_of(id);
    Prediction::new(gauge(id, 4), foil(&row), law(&row, "grid"), law(&row, "specimen"))
        .stated_for(stated(&row))
}

/// The physics with 60 digits (tests/data/README.md), 606 temperatures and gauges.
#[test]
fn predicted_is_what_the_gauges_were_made_of() {
    let rows = data("thermal_output_model");
    assert_eq!(rows.len(), 606);
    let mut worst = 0.0f64;
    for row in &rows {
        let predicted =
            prediction(row.text("gauge_id")).thermal_output(Celsius(row.number("t_degC"))).unwrap();
        worst = worst.max((predicted.0 - row.number("model_ue")).abs());
    }
    println!("{worst:e} microstrain");
    assert!(worst <= tolerance::PREDICTED_MICROSTRAIN, "{worst:e}");
}

/// And back: each exact thermal output gives the resistance of the free foil.
#[test]
fn the_foil_is_found_again() {
    let mut worst = 0.0f64;
    for row in data("thermal_output_model") {
        let made = row_of(row.text("gauge_id"));
        let t = Celsius(row.number("t_degC"));
        let measurement =
            FoilMeasurement::new(gauge(row.text("gauge_id"), 4), law(&made, "grid"), law(&made, "specimen"))
                .stated_for(stated(&made));
        let point = measurement.at(t, Microstrain(row.number("model_ue"))).unwrap();
        let exact = foil(&made).change(t, Celsius(24.0)).unwrap();
        worst = worst.max((point.change - exact).abs());
        match point.mean_coefficient() {
            Some(mean) => assert!((mean.0 * (t.0 - 24.0) / point.change - 1.0).abs() < 1e-15),
            None => assert_eq!(t.0, 24.0),
        }
    }
    println!("{worst:e}");
    // In the scale of thermal output.
    assert!(worst * 1e6 / 2.0 <= tolerance::PREDICTED_MICROSTRAIN, "{worst:e}");
}

/// A package curve, a fit of degree five with six digits, says of the foil what it can: to its own residual.
#[test]
fn a_package_curve_tells_the_foil() {
    for id in GAUGES {
        let made = row_of(id);
        let unit = stated(&made).0 * 1e-6;
        let fitted = made.number("fit_residual_max_ue_deg5");
        let terms: Vec<f64> = data("polynomials")
            .iter()
            .filter(|row| {
                row.text("gauge_id") == id
                    && row.number("degree") == 5.0
                    && row.text("unit") == "degC"
                    && row.text("form") == "exact"
            })
            .map(|row| row.number("coefficient_ue_per_deg_k"))
            .collect();
        let curve = ThermalOutput::celsius_from(&terms).stated_for(stated(&made)).between(LOW, HIGH);
        let measurement = FoilMeasurement::new(gauge(id, 5), law(&made, "grid"), law(&made, "specimen"));
        let found = measurement.of_curve(&curve, LOW, HIGH).unwrap();
        assert!(found.left_out < 2e-7, "{id}: {}", found.left_out);
        for t in (-200..=300).step_by(10).map(|t| Celsius(f64::from(t))) {
            let off =
                found.foil.change(t, Celsius(24.0)).unwrap() - foil(&made).change(t, Celsius(24.0)).unwrap();
            // Residual there and at the reference temperature, and what degree five leaves out.
            assert!(
                off.abs() <= (2.0 * fitted + 1e-3) * unit * 1.02 + found.left_out * 1.1,
                "{id}: {off} at {t}"
            );
        }
        // The temperature coefficient of resistance to a hundredth of a ppm/C.
        let off = found.foil.coefficients()[0] - coefficients(&made)[0];
        assert!(off.abs() < 0.02e-6, "{id}: {off:e}");
        // The way there and back.
        let again = Prediction::new(gauge(id, 5), found.foil, law(&made, "grid"), law(&made, "specimen"))
            .stated_for(stated(&made));
        for t in (-200..=300).step_by(10).map(|t| Celsius(f64::from(t))) {
            let off = again.thermal_output(t).unwrap().0 - (curve.at(t).0 - curve.at(Celsius(24.0)).0);
            // Balanced at the reference: a few hundredths of a microstrain of balance, of a resistance that changes by
            // up to a hundredth.
            assert!(off.abs() <= found.left_out * 1.1 / unit + 2e-3, "{id}: {off} at {t}");
        }
    }
}

/// A curve that was balanced elsewhere tells the same foil.
#[test]
fn balance_of_the_measured_curve_does_not_matter() {
    let id = "gauge_on_titanium";
    let made = row_of(id);
    let measurement = FoilMeasurement::new(gauge(id, 4), law(&made, "grid"), law(&made, "specimen"));
    let package = prediction(id).package_curve(LOW, HIGH).unwrap();
    // Exactly: at -100 C the resistance is another, and thermal output relative to that.
    let there = package.curve.at(Celsius(-100.0)).0;
    let unit = stated(&made).0 * 1e-6;
    let balanced =
        package.curve.in_celsius().plus(&Polynomial::constant(-there)).times(1.0 / (1.0 + there * unit));
    let balanced =
        ThermalOutput::celsius(balanced.coefficients()).stated_for(stated(&made)).between(LOW, HIGH);
    let (a, b) = (
        measurement.of_curve(&package.curve, LOW, HIGH).unwrap(),
        measurement.of_curve(&balanced, LOW, HIGH).unwrap(),
    );
    for t in (-200..=300).step_by(20).map(|t| Celsius(f64::from(t))) {
        let (a, b) = (a.foil.change(t, Celsius(24.0)).unwrap(), b.foil.change(t, Celsius(24.0)).unwrap());
        assert!((a - b).abs() < 1e-13, "{a} and {b} at {t}");
    }
}

/// Slope by differences, the sum of the causes, and a specimen as a table instead of a polynomial.
#[test]
fn slope_and_causes() {
    let draw = (prop::sample::select(GAUGES.to_vec()), -199.0..299.0f64);
    recipe::check("slope", 500, draw, |(id, t)| {
        let predicted = prediction(id);
        let at = |t| predicted.thermal_output(Celsius(t)).unwrap().0;
        let by_difference = (at(t + 0.01) - at(t - 0.01)) / 0.02;
        let slope = predicted.slope(Celsius(t)).unwrap().0;
        prop_assert!((slope - by_difference).abs() < 1e-5, "{slope}, {by_difference} at {t}");
        let causes = predicted.causes(Celsius(t)).unwrap();
        let product = causes.resistance.0 * causes.expansion.0 * predicted_unit(id) * 1e-6;
        prop_assert!((causes.product.0 - product).abs() < 1e-9);
        Ok(())
    });
}

fn predicted_unit(id: &str) -> f64 {
    stated(&row_of(id)).0
}

/// Common practice: the foil is made for the material, so that near room temperature its resistance takes off what the
/// expansion adds, or the other way round, to what a package shows there.
#[test]
fn the_two_causes_cancel_on_the_matched_material() {
    for id in ["gauge_on_steel", "gauge_on_aluminium", "gauge_on_titanium"] {
        let predicted = prediction(id);
        for t in (10..=38).map(f64::from) {
            assert!(predicted.thermal_output(Celsius(t)).unwrap().0.abs() < 25.0, "{id} at {t}");
        }
        let causes = predicted.causes(Celsius(80.0)).unwrap();
        let (resistance, expansion) = (causes.resistance.0, causes.expansion.0);
        assert!(resistance * expansion < 0.0, "{id}: {causes:?}");
    }
}

/// A transverse sensitivity lets the grid see the strain across: by `(1 + K_t) / (1 - nu_0 K_t)` (ASTM E251).
#[test]
fn expansion_strains_the_grid_both_ways() {
    let row = row_of("gauge_on_aluminium");
    let with = |percent| {
        let gauge = gauge("gauge_on_aluminium", 4).transverse_sensitivity(Percent(percent));
        Prediction::new(gauge, foil(&row), law(&row, "grid"), law(&row, "specimen"))
            .causes(Celsius(100.0))
            .unwrap()
    };
    let (plain, seen) = (with(0.0), with(2.0));
    assert_eq!(plain.resistance, seen.resistance);
    assert_abs_diff_eq!(seen.expansion.0 / plain.expansion.0, 1.02 / (1.0 - 0.285 * 0.02), epsilon = 1e-12);
}

/// Each contribution against a difference: the same prediction with one input off by its standard uncertainty.
#[test]
fn contributions_against_differences() {
    let id = "gauge_on_aluminium";
    let row = row_of(id);
    let (u_expansion, u_resistance, u_factor) = (0.4e-6, [0.6e-6, 2e-9], 0.5);
    for t in [-200.0, -80.0, 10.0, 24.0, 120.0, 300.0] {
        let terms = |of: &str, more: f64| {
            let terms =
                [0, 1, 2].map(|k| row.number(&format!("{of}_a{k}")) + if k == 0 { more } else { 0.0 });
            Expansion::coefficient_polynomial(terms, Celsius(24.0)).between(LOW, HIGH)
        };
        let at = |foil: FoilResistance, grid, specimen, factor: f64, t: f64| {
            let gauge = Gauge::new(GaugeFactor(row.number("F_24") * factor))
                .gauge_factor_slope(PercentPer100C(row.number("gf_slope_pct_per_100C")));
            Prediction::new(gauge, foil, grid, specimen).thermal_output(Celsius(t)).unwrap().0
        };
        let (grid, specimen) = (terms("grid", 0.0), terms("specimen", 0.0));
        let exact = at(foil(&row), grid, specimen, 1.0, t);
        let u = ExpansionPerCelsius(u_expansion);
        let budget = Prediction::new(
            gauge(id, 4),
            foil(&row).standard_uncertainty(u_resistance),
            grid.standard_uncertainty(u),
            specimen.standard_uncertainty(u),
        )
        .gauge_factor_uncertainty(Percent(u_factor))
        .temperature_uncertainty(Celsius(0.2))
        .uncertainty(Celsius(t))
        .unwrap();
        let moved = |k: usize| {
            let mut terms = coefficients(&row);
            terms[k] += u_resistance[k];
            at(FoilResistance::new(terms).between(LOW, HIGH), grid, specimen, 1.0, t) - exact
        };
        let near = |found: Microstrain, expected: f64, what: &str| {
            // First order: a thousandth of it is second.
            assert!(
                (found.0 - expected.abs()).abs() <= 1e-3 * expected.abs() + 1e-6,
                "{what} at {t}: {found}, {expected}"
            );
        };
        near(budget.resistance, moved(0).hypot(moved(1)), "resistance");
        near(
            budget.specimen,
            at(foil(&row), grid, terms("specimen", u_expansion), 1.0, t) - exact,
            "specimen",
        );
        near(budget.grid, at(foil(&row), terms("grid", u_expansion), specimen, 1.0, t) - exact, "grid");
        near(
            budget.gauge_factor,
            at(foil(&row), grid, specimen, 1.0 + u_factor / 100.0, t) - exact,
            "gauge factor",
        );
        let inside = t.clamp(-199.9, 299.9);
        let slope = (at(foil(&row), grid, specimen, 1.0, inside + 0.1)
            - at(foil(&row), grid, specimen, 1.0, inside - 0.1))
            / 0.2;
        assert!((budget.temperature.0 - (slope * 0.2).abs()).abs() < 0.02 + 1e-3 * slope.abs());
    }
}

/// JCGM 101: the whole budget against 40 000 draws of every input.
#[test]
fn combined_uncertainty_against_monte_carlo() {
    let id = "gauge_on_steel";
    let row = row_of(id);
    let t = -120.0;
    let (u_specimen, u_grid, u_b1, u_factor, u_t) = (0.3e-6, 0.02, 0.5e-6, 0.01, 0.5);
    let build = |b1: f64, grid: f64, specimen: f64, factor: f64| {
        let mut terms = coefficients(&row);
        terms[0] += b1;
        let of = |name: &str, more: f64, times: f64| {
            let mut terms = [0, 1, 2].map(|k| row.number(&format!("{name}_a{k}")) * times);
            terms[0] += more;
            Expansion::coefficient_polynomial(terms, Celsius(24.0)).between(LOW, HIGH)
        };
        let gauge = Gauge::new(GaugeFactor(row.number("F_24") * factor))
            .gauge_factor_slope(PercentPer100C(row.number("gf_slope_pct_per_100C")));
        let foil = FoilResistance::new(terms).between(LOW, HIGH);
        (gauge, foil, of("grid", 0.0, grid), of("specimen", specimen, 1.0))
    };
    let (gauge, foil, grid, specimen) = build(0.0, 1.0, 0.0, 1.0);
    let budget = Prediction::new(
        gauge,
        foil.standard_uncertainty([u_b1]),
        grid.relative_standard_uncertainty(Percent(u_grid * 100.0)),
        specimen.standard_uncertainty(ExpansionPerCelsius(u_specimen)),
    )
    .gauge_factor_uncertainty(Percent(u_factor * 100.0))
    .temperature_uncertainty(Celsius(u_t))
    .uncertainty(Celsius(t))
    .unwrap();
    let mut random = Random(5);
    // The sum of twelve even draws, less six: normal enough for a standard deviation, which is one exactly.
    let mut normal =
        || (0..12).map(|_| (random.bits() >> 11) as f64 / (1u64 << 53) as f64).sum::<f64>() - 6.0;
    let draws: Vec<f64> = (0..40_000)
        .map(|_| {
            let (gauge, foil, grid, specimen) = build(
                u_b1 * normal(),
                1.0 + u_grid * normal(),
                u_specimen * normal(),
                1.0 + u_factor * normal(),
            );
            let at = Celsius(t + u_t * normal());
            Prediction::new(gauge, foil, grid, specimen).thermal_output(at).unwrap().0
        })
        .collect();
    let mean = draws.iter().sum::<f64>() / draws.len() as f64;
    let deviation = (draws.iter().map(|x| (x - mean).powi(2)).sum::<f64>() / (draws.len() - 1) as f64).sqrt();
    println!("{deviation}, first order {}: {budget:?}", budget.combined());
    // Four standard errors of 40 000 draws are 1.4 %.
    assert!((deviation / budget.combined().0 - 1.0).abs() < 0.014);
}

/// The inverse's uncertainties against differences: of a point, and of the coefficients of a curve.
#[test]
fn uncertainty_of_the_foil_against_differences() {
    let id = "gauge_on_steel";
    let row = row_of(id);
    let u = 0.3e-6;
    let moved = |of: &str, more: f64| {
        let terms = [0, 1, 2].map(|k| row.number(&format!("{of}_a{k}")) + if k == 0 { more } else { 0.0 });
        Expansion::coefficient_polynomial(terms, Celsius(24.0)).between(LOW, HIGH)
    };
    let (grid, specimen) = (moved("grid", 0.0), moved("specimen", 0.0));
    let known = FoilMeasurement::new(
        gauge(id, 4),
        grid.standard_uncertainty(ExpansionPerCelsius(u)),
        specimen.standard_uncertainty(ExpansionPerCelsius(u)),
    )
    .thermal_output_uncertainty(Microstrain(4.0))
    .gauge_factor_uncertainty(Percent(1.0));
    let factor = Gauge::new(GaugeFactor(row.number("F_24") * 1.01))
        .gauge_factor_slope(PercentPer100C(row.number("gf_slope_pct_per_100C")));
    let others = [
        FoilMeasurement::new(gauge(id, 4), grid, moved("specimen", u)),
        FoilMeasurement::new(gauge(id, 4), moved("grid", u), specimen),
        FoilMeasurement::new(factor, grid, specimen),
    ];
    for t in [-180.0, -40.0, 90.0, 280.0].map(Celsius) {
        let measured = Microstrain(150.0);
        let point = known.at(t, measured).unwrap();
        let near = |found: f64, other: f64| {
            let expected = (other - point.change).abs();
            assert!((found - expected).abs() <= 2e-3 * expected + 1e-12, "{found}, {expected} at {t}");
        };
        let parts = [point.by_specimen, point.by_grid, point.by_gauge_factor];
        for (part, other) in parts.into_iter().zip(&others) {
            near(part, other.at(t, measured).unwrap().change);
        }
        near(point.by_thermal_output, known.at(t, Microstrain(154.0)).unwrap().change);
        let all = parts.iter().fold(point.by_thermal_output.powi(2), |sum, part| sum + part * part).sqrt();
        assert_abs_diff_eq!(point.uncertainty(), all, epsilon = 1e-15);
    }
    let curve = prediction(id).package_curve(LOW, HIGH).unwrap().curve;
    let found = known.of_curve(&curve, LOW, HIGH).unwrap();
    let each: Vec<_> = others.iter().map(|other| other.of_curve(&curve, LOW, HIGH).unwrap().foil).collect();
    for k in 0..FoilResistance::TERMS {
        let exact = found.foil.coefficients()[k];
        let all = each.iter().fold(0.0f64, |sum, foil| sum.hypot(foil.coefficients()[k] - exact));
        assert!(
            (found.uncertainty[k] - all).abs() <= 1e-3 * all + 1e-20,
            "{k}: {} and {all}",
            found.uncertainty[k]
        );
    }
}

/// A predicted package goes all the way: a kernel takes its thermal output off.
#[test]
fn a_prediction_goes_into_a_kernel() {
    for id in GAUGES {
        let predicted = prediction(id);
        let package = predicted.package_curve(LOW, HIGH).unwrap();
        // As good as the fit of degree five that the data's packages are, or twice that.
        let fitted = row_of(id).number("fit_residual_max_ue_deg5");
        assert!(package.left_out.0 < 2.0 * fitted + 0.01, "{id}: {}", package.left_out);
        let channel = Channel::new(
            gauge(id, 4).thermal_output(package.curve),
            Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0)),
            Converter::bipolar(24, Ratio(1.0 / 64.0)),
        )
        .strain_within(Microstrain(20_000.0));
        let kernel: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
        let own = gauge(id, 4);
        for t in [-180.0, -60.0, 24.0, 100.0, 280.0] {
            let temperature = fixed::Temperature::from_celsius(Celsius(t)).unwrap();
            let corrected = kernel.reading(0, temperature).checked().unwrap().strain().microstrain().0;
            let factor = own.gauge_factor_at(Celsius(t)).0;
            let expected = -predicted.thermal_output(Celsius(t)).unwrap().0 * predicted_unit(id) / factor;
            assert!((corrected - expected).abs() < package.left_out.0 * 1.2 + 0.002, "{id} at {t}");
        }
    }
}
