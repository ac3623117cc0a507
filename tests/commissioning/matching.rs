//! The curve of a gauge on a specimen, and the choice of a match: data, the model of a channel, brute force, what the
//! trade expects, refused input.

use approx::assert_abs_diff_eq;
use gaugewright::channel::MismatchScale;
use gaugewright::commissioning::expansion::Expansion;
use gaugewright::commissioning::matching::*;
use gaugewright::numeric::Polynomial;
use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;
use support::{GAUGES, Random, Row, data, gauge, recipe, tolerance};

fn ppm(ppm: f64) -> Expansion<'static> {
    Expansion::coefficient(ExpansionPerCelsius::ppm(ppm))
}

fn row_of(id: &str) -> Row {
    data("gauges").into_iter().find(|row| row.text("gauge_id") == id).unwrap()
}

/// The invented material that an invented gauge's curve was made on.
fn material(id: &str) -> Expansion<'static> {
    let row = row_of(id);
    let terms = ["specimen_a0", "specimen_a1", "specimen_a2"].map(|name| row.number(name));
    Expansion::coefficient_polynomial(terms, Celsius(24.0)).between(Celsius(-200.0), Celsius(300.0))
}

/// NIST cryogenic material properties.
fn stainless() -> Expansion<'static> {
    let terms = [-2.9554e2, -3.9811e-1, 9.2683e-3, -2.0261e-5, 1.7127e-8];
    Expansion::length_polynomial(Polynomial::new(terms).times(1e-5), Kelvin(0.0).celsius())
        .between(Kelvin(23.0).celsius(), Kelvin(300.0).celsius())
}

/// Exact rational arithmetic: package curve, mismatch by plain addition, balance elsewhere.
#[test]
fn exact_cases() {
    let rows = data("rereference_cases");
    assert_eq!(rows.len(), 300);
    let mut worst = 0.0f64;
    for row in &rows {
        let stated = row_of(row.text("gauge_id")).number("F_T_of_thermal_output");
        let matched = ExpansionPerCelsius::ppm(row.number("alpha_m_ppm_per_degC"));
        let gauge = gauge(row.text("gauge_id"), row.number("degree") as usize).matched_to(matched);
        let curve = RotatedCurve::new(gauge, ppm(row.number("alpha_s_ppm_per_degC")))
            .mismatch_scale(MismatchScale::StatedGaugeFactor)
            .instrument_gauge_factor(GaugeFactor(stated));
        let t = Celsius(row.number("t_degC"));
        let from_reference = row.number("thermal_output_ref_24_ue") + row.number("mismatch_ref_24_ue");
        worst = worst.max((curve.thermal_output(t).unwrap().0 - from_reference).abs());
        let balanced = curve.balanced_at(Celsius(row.number("t_balance_degC")));
        let off = balanced.thermal_output(t).unwrap().0 - row.number("total_ref_balance_ue");
        worst = worst.max(off.abs());
    }
    println!("{worst:e} microstrain");
    assert!(worst <= tolerance::REFERENCE_MICROSTRAIN, "{worst:e}");
}

fn window() -> impl Strategy<Value = (f64, f64)> {
    (-200.0..280.0f64, 0.0..1.0f64).prop_map(|(low, share)| (low, low + 1.0 + share * (299.0 - low)))
}

fn any_gauge() -> impl Strategy<Value = (&'static str, usize)> {
    (prop::sample::select(GAUGES.to_vec()), 4..=5usize)
}

/// What a channel of the same gauge on the same specimen subtracts.
#[test]
fn the_model_of_a_channel_agrees() {
    let scales = prop::sample::select(vec![
        MismatchScale::GaugeFactorAtTemperature,
        MismatchScale::GaugeFactorAtReference,
        MismatchScale::StatedGaugeFactor,
    ]);
    let draw = (any_gauge(), 0.0..30.0f64, scales, -200.0..300.0f64, prop::option::of(-200.0..300.0f64));
    recipe::check("rotated as in a channel", 3_000, draw, |((id, degree), specimen, scale, t, balance)| {
        let gauge = gauge(id, degree).transverse_sensitivity(Percent(0.8));
        let coefficient = ExpansionPerCelsius::ppm(specimen);
        let mut curve = RotatedCurve::new(gauge, Expansion::coefficient(coefficient)).mismatch_scale(scale);
        let mut channel = Channel::new(
            gauge,
            Bridge::quarter_ideal(Ohms(350.0)),
            Converter::bipolar(24, Ratio(1.0 / 64.0)),
        )
        .specimen(coefficient)
        .mismatch_scale(scale);
        if let Some(balance) = balance {
            curve = curve.balanced_at(Celsius(balance));
            channel = channel.balanced(0.0, Celsius(balance));
        }
        let model = reference::Model::new(&channel).unwrap().thermal_output(Celsius(t)).microstrain().0;
        let found = curve.thermal_output(Celsius(t)).unwrap().0;
        prop_assert!((found - model).abs() <= tolerance::ROTATED_MICROSTRAIN, "{found}, not {model}");
        // The same by laws over temperature that happen to be straight.
        let straight = Expansion::coefficient_polynomial([coefficient.0], Celsius(24.0))
            .between(Celsius(-200.0), Celsius(300.0));
        let mut by_law = RotatedCurve::new(gauge, straight).mismatch_scale(scale);
        if let Some(balance) = balance {
            by_law = by_law.balanced_at(Celsius(balance));
        }
        let found = by_law.thermal_output(Celsius(t)).unwrap().0;
        prop_assert!((found - model).abs() <= tolerance::ROTATED_MICROSTRAIN, "by law {found}, not {model}");
        let slopes = (curve.slope(Celsius(t)).unwrap().0, by_law.slope(Celsius(t)).unwrap().0);
        prop_assert!((slopes.0 - slopes.1).abs() <= tolerance::ROTATED_MICROSTRAIN, "{slopes:?}");
        Ok(())
    });
}

/// How the invented gauges were made (tests/data/README.md): resistance of the free foil and forced strain, on any
/// specimen, without anything that turns a curve.
fn made(foil: &Row, specimen: &Row, t: f64) -> f64 {
    let d = t - 24.0;
    let expands = |row: &Row, of: &str| {
        let [a, b, c] = [0, 1, 2].map(|k| row.number(&format!("{of}_a{k}")));
        d * (a + d * (b / 2.0 + d * c / 3.0))
    };
    let resistance =
        (1..=4).map(|k| foil.number(&format!("model_b{k}")) * d.powi(k)).fold(1.0, |sum, term| sum + term);
    let factor = foil.number("F_24") * (1.0 + foil.number("gf_slope_pct_per_100C") * 1e-4 * d);
    let strain = (1.0 + expands(specimen, "specimen")) / (1.0 + expands(foil, "grid")) - 1.0;
    (resistance * (1.0 + factor * strain) - 1.0) / foil.number("F_T_of_thermal_output") * 1e6
}

/// Every gauge on every other's material: the package curve turned by both laws, against the physics.
#[test]
fn turned_curves_are_those_of_the_foil_on_the_other_material() {
    let mut worst = 0.0f64;
    for id in GAUGES {
        let foil = row_of(id);
        let fitted = foil.number("fit_residual_max_ue_deg5");
        let unit = foil.number("F_T_of_thermal_output");
        for other in GAUGES {
            let specimen = row_of(other);
            let curve = RotatedCurve::new(gauge(id, 5), material(other))
                .measured_on(material(id))
                .instrument_gauge_factor(GaugeFactor(unit));
            for t in (-200..=300).step_by(5).map(f64::from) {
                let found = curve.thermal_output(Celsius(t)).unwrap().0;
                let rotation = found - gauge_curve(id, t);
                let off = (found - made(&foil, &specimen, t)).abs();
                // Six digits of the package's coefficients, besides the fit.
                let allowed = fitted * 1.01 + 1e-3 + tolerance::ROTATION_LEFT_OUT * rotation.abs();
                assert!(off <= allowed, "{id} on {other} at {t}: {off}, {allowed}");
                worst = worst.max(off / allowed);
            }
        }
    }
    // The tolerance is not slack.
    assert!(worst > 0.9, "{worst}");
}

fn gauge_curve(id: &str, t: f64) -> f64 {
    let terms: Vec<f64> = data_terms(id);
    terms.iter().rev().fold(0.0, |sum, term| sum * t + term)
}

fn data_terms(id: &str) -> Vec<f64> {
    data("polynomials")
        .iter()
        .filter(|row| {
            row.text("gauge_id") == id
                && row.number("degree") == 5.0
                && row.text("unit") == "degC"
                && row.text("form") == "exact"
        })
        .map(|row| row.number("coefficient_ue_per_deg_k"))
        .collect()
}

/// Common practice: matched to a higher expansion than the specimen has, clockwise.
#[test]
fn sense_of_rotation() {
    let (low, high) = (Celsius(-150.0), Celsius(250.0));
    for (specimen, turn) in [(9.0, Turn::Clockwise), (16.0, Turn::CounterClockwise), (11.0, Turn::Neither)] {
        let matched = RotatedCurve::new(gauge("gauge_on_steel", 4), ppm(11.0));
        let curve = RotatedCurve::new(gauge("gauge_on_steel", 4), ppm(specimen));
        assert_eq!(curve.turn(low, high).unwrap(), turn);
        let rise = |curve: &RotatedCurve, t| curve.thermal_output(Celsius(t)).unwrap().0;
        for t in [-150.0, -50.0, 100.0, 250.0] {
            let apart = (rise(&curve, t) - rise(&matched, t)) * (t - 24.0);
            assert_eq!(apart < 0.0, turn == Turn::Clockwise, "{specimen} at {t}");
            assert_eq!(apart > 0.0, turn == Turn::CounterClockwise, "{specimen} at {t}");
        }
        // About the reference temperature.
        let at = |curve: &RotatedCurve| curve.thermal_output(Celsius(24.0)).unwrap().0;
        assert_abs_diff_eq!(at(&curve), at(&matched), epsilon = 1e-9);
    }
    // Offered matches turn the same way: a higher one clockwise, whatever the specimen.
    let curve = RotatedCurve::new(gauge("gauge_on_austenitic", 4), stainless())
        .measured_on(material("gauge_on_austenitic"));
    let matches = [8.6, 10.8, 13.3, 16.7, 22.4].map(ExpansionPerCelsius::ppm);
    let offers = Selection::of_matches(&curve, &matches);
    let nitrogen = Kelvin(77.36).celsius();
    let values: Vec<f64> =
        (0..matches.len()).map(|k| offers.curve(k).unwrap().thermal_output(nitrogen).unwrap().0).collect();
    assert!(values.windows(2).all(|two| two[0] < two[1]), "{values:?}"); // colder than the reference: up
}

/// Common practice: a copper-nickel gauge on austenitic steel in liquid nitrogen is steep however it is matched, and the
/// highest match on offer is the flattest; a nickel-chromium gauge is what lies flat there.
#[test]
fn cryogenic_window() {
    let (low, high) = (Kelvin(77.0).celsius(), Kelvin(95.0).celsius());
    let matches = [8.6, 10.8, 13.3, 16.7, 22.4].map(ExpansionPerCelsius::ppm);
    let of = |id| RotatedCurve::new(gauge(id, 4), stainless()).measured_on(material(id));
    let copper_nickel = of("gauge_on_austenitic");
    let least = Selection::of_matches(&copper_nickel, &matches).least_slope(low, high).unwrap();
    assert_eq!((least.index, least.second.unwrap().index), (4, 3));
    assert!(least.figure.0 > 30.0);
    let nickel_chromium = of("gauge_nickel_chromium");
    let flat = Selection::of_matches(&nickel_chromium, &matches).least_slope(low, high).unwrap();
    assert_eq!((flat.index, flat.second.unwrap().index), (1, 0));
    assert!(flat.figure.0 < least.figure.0 / 10.0);
    // Packages of their own, side by side: of all gauges, each with its own material.
    let curves = GAUGES.map(of);
    let best = Selection::of_curves(&curves).least_slope(low, high).unwrap();
    assert_eq!(GAUGES[best.index], "gauge_nickel_chromium");
}

/// The extremes of a brute-force search, a thousand times finer than any curve bends.
fn brute(curve: &RotatedCurve, low: f64, high: f64) -> (f64, f64, f64) {
    let (mut least, mut most, mut steep) = (f64::INFINITY, f64::NEG_INFINITY, 0.0f64);
    for k in 0..=2_000 {
        let t = Celsius((low + (high - low) * f64::from(k) / 2_000.0).min(high));
        let value = curve.thermal_output(t).unwrap().0;
        (least, most) = (least.min(value), most.max(value));
        steep = steep.max(curve.slope(t).unwrap().0.abs());
    }
    (least, most, steep)
}

#[test]
fn extremes_against_brute_force() {
    // A table of uneven steps, and a straight specimen.
    let points: Vec<_> = [-200.0, -170.0, -150.0, -60.0, 0.0, 24.0, 60.0, 200.0, 300.0]
        .map(|t: f64| {
            (Celsius(t), Strain(11e-6 * (t - 24.0) + 7e-9 * (t - 24.0).powi(2) + 4e-11 * t.powi(3)))
        })
        .to_vec();
    let table = Expansion::length_table(&points);
    let draw = (any_gauge(), window(), 0.0..30.0f64, any::<bool>());
    recipe::check("extremes", 120, draw, |((id, degree), (low, high), specimen, by_table)| {
        let specimen = if by_table { table } else { ppm(specimen) };
        let curve = RotatedCurve::new(gauge(id, degree), specimen);
        let (least, most, steep) = brute(&curve, low, high);
        let (low, high) = (Celsius(low), Celsius(high));
        let found = curve.extremes(low, high).unwrap();
        let (at, slope) = curve.steepest(low, high).unwrap();
        for (found, brute, what) in [
            (found.highest.1.0, most, "highest"),
            (-found.lowest.1.0, -least, "lowest"),
            (slope.0.abs(), steep, "steepest"),
        ] {
            // Never less than brute force sees, and no more than lies between its steps.
            let step = (high.0 - low.0) / 2_000.0;
            // At a point of a table the slope has a kink.
            let between = if by_table { step.max(2.0 * step * step) } else { 2.0 * step * step };
            prop_assert!(found >= brute - 1e-9, "{what}: {found}, brute force {brute}");
            prop_assert!(found <= brute + between + 1e-9, "{what}: {found}, brute force {brute}");
        }
        prop_assert!((curve.thermal_output(found.highest.0).unwrap().0 - found.highest.1.0).abs() < 1e-12);
        prop_assert!((curve.slope(at).unwrap().0 - slope.0).abs() < 1e-12);
        Ok(())
    });
}

#[test]
fn residual_against_brute_force() {
    let draw = (any_gauge(), -150.0..200.0f64, 1.0..50.0f64, 0.1..40.0f64, 0.0..30.0f64);
    recipe::check("residual", 40, draw, |((id, degree), low, width, error, specimen)| {
        let curve = RotatedCurve::new(gauge(id, degree), ppm(specimen));
        let mut worst = 0.0f64;
        for i in 0..=150 {
            let at = low + width * f64::from(i) / 150.0;
            let here = curve.thermal_output(Celsius(at)).unwrap().0;
            for k in -40..=40 {
                let shown = at + error * f64::from(k) / 40.0;
                worst = worst.max((curve.thermal_output(Celsius(shown)).unwrap().0 - here).abs());
            }
        }
        let found = curve.residual(Celsius(low), Celsius(low + width), Celsius(error)).unwrap();
        let step = (width / 150.0).max(error / 40.0);
        prop_assert!(found.left.0 >= worst - 1e-9, "{found:?}, brute force {worst}");
        prop_assert!(found.left.0 <= worst + 2.0 * step * step, "{found:?}, brute force {worst}");
        prop_assert!((found.shown.0 - found.at.0).abs() <= error * (1.0 + 1e-12));
        // Smaller than the span of all that may be shown, larger than a small error's share.
        let half = curve.residual(Celsius(low), Celsius(low + width), Celsius(error / 2.0)).unwrap();
        prop_assert!(half.left.0 <= found.left.0 + 1e-9);
        Ok(())
    });
}

/// Where a valley, or a peak, lies nearer than the temperature may be off, it is what is farthest off: `x^4 - 2 x^2` falls
/// from 0 to -1 at 1 and rises again.
#[test]
fn a_valley_nearer_than_the_error() {
    for hundred in [100.0, -100.0] {
        let terms = Polynomial::new([0.0, 0.0, -2.0, 0.0, 1.0]).times(hundred).substitute(-2.4, 0.1);
        let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
            ThermalOutput::celsius(terms.coefficients()).between(Celsius(0.0), Celsius(50.0)),
        );
        let there = Celsius(24.0);
        let found = RotatedCurve::new(gauge, ppm(11.0)).residual(there, there, Celsius(12.0)).unwrap();
        assert_abs_diff_eq!(found.left.0, 100.0, epsilon = 1e-9);
        assert!(((found.shown.0 - 24.0).abs() - 10.0).abs() < 1e-5, "{found:?}");
    }
}

/// For a straight curve all three are known.
#[test]
fn a_straight_curve() {
    let gauge = Gauge::new(GaugeFactor(2.0))
        .matched_to(ExpansionPerCelsius::ppm(11.0))
        .thermal_output(ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-100.0), Celsius(100.0)));
    let curve = RotatedCurve::new(gauge, ppm(14.0));
    let (low, high) = (Celsius(-40.0), Celsius(60.0));
    assert_abs_diff_eq!(curve.steepest(low, high).unwrap().1.0, 4.0, epsilon = 1e-12);
    assert_abs_diff_eq!(curve.extremes(low, high).unwrap().span().0, 400.0, epsilon = 1e-9);
    assert_abs_diff_eq!(curve.residual(low, high, Celsius(0.5)).unwrap().left.0, 2.0, epsilon = 1e-9);
    // A window of no width.
    assert_eq!(curve.extremes(low, low).unwrap().span().0, 0.0);
    assert_abs_diff_eq!(curve.steepest(low, low).unwrap().1.0, 4.0, epsilon = 1e-12);
}

/// The choice is the least of what each offer leaves, its runner-up the least of the others, the first of equals.
#[test]
fn choices_are_the_least_and_the_second() {
    let mut random = Random(11);
    for (low, high) in [(-190.0, -150.0), (-40.0, 80.0), (180.0, 260.0)] {
        let curve = RotatedCurve::new(gauge("gauge_on_steel", 4), ppm(12.0));
        for _ in 0..6 {
            let count = random.between(1, 7) as usize;
            let mut matches: Vec<_> =
                (0..count).map(|_| ExpansionPerCelsius::ppm(f64::from(random.between(-60, 90)))).collect();
            if count > 2 {
                matches[2] = matches[0]; // an equal
            }
            let offers = Selection::of_matches(&curve, &matches);
            let (low, high, error) = (Celsius(low), Celsius(high), Celsius(1.5));
            let each = |figure: &dyn Fn(RotatedCurve) -> f64| -> Vec<(f64, usize)> {
                let mut all: Vec<_> = (0..count).map(|k| (figure(offers.curve(k).unwrap()), k)).collect();
                all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
                all
            };
            let same =
                |sorted: Vec<(f64, usize)>, index: usize, figure: f64, second: Option<(usize, f64, f64)>| {
                    assert_eq!((figure, index), sorted[0]);
                    assert_eq!(second.map(|(index, figure, _)| (figure, index)), sorted.get(1).copied());
                    if let Some((_, second, margin)) = second {
                        assert_eq!(margin, second - figure);
                    }
                };
            let slope = offers.least_slope(low, high).unwrap();
            same(
                each(&|curve| curve.steepest(low, high).unwrap().1.0.abs()),
                slope.index,
                slope.figure.0,
                slope.second.map(|second| (second.index, second.figure.0, second.margin.0)),
            );
            let span = offers.least_span(low, high).unwrap();
            same(
                each(&|curve| curve.extremes(low, high).unwrap().span().0),
                span.index,
                span.figure.0,
                span.second.map(|second| (second.index, second.figure.0, second.margin.0)),
            );
            let left = offers.least_residual(low, high, error).unwrap();
            same(
                each(&|curve| curve.residual(low, high, error).unwrap().left.0),
                left.index,
                left.figure.0,
                left.second.map(|second| (second.index, second.figure.0, second.margin.0)),
            );
        }
    }
}

/// A match on offer is the gauge itself with its curve on another material, where coefficients are all there is.
#[test]
fn a_match_on_offer_is_a_gauge_matched_so() {
    let id = "gauge_on_steel";
    let curve = RotatedCurve::new(gauge(id, 4), ppm(16.0));
    let matches = [9.0, 11.0, 23.0].map(ExpansionPerCelsius::ppm);
    let offers = Selection::of_matches(&curve, &matches);
    for (k, &matched) in matches.iter().enumerate() {
        let itself = RotatedCurve::new(gauge(id, 4).matched_to(matched), ppm(16.0));
        for t in [-200.0, -20.0, 24.0, 150.0, 300.0].map(Celsius) {
            let (a, b) =
                (offers.curve(k).unwrap().thermal_output(t).unwrap(), itself.thermal_output(t).unwrap());
            assert!((a.0 - b.0).abs() <= tolerance::ROTATED_MICROSTRAIN);
        }
    }
}

/// A channel of the same gauge with the turned curve as its package: for a specimen that is known over temperature.
#[test]
fn a_package_curve_goes_into_a_channel() {
    let id = "gauge_nickel_chromium";
    let curve = RotatedCurve::new(gauge(id, 4), stainless()).measured_on(material(id));
    let (low, high) = (Celsius(-200.0), Celsius(-100.0));
    let package = curve.package_curve(low, high).unwrap();
    assert!(package.left_out.0 < 0.01, "{package:?}");
    let channel = Channel::new(
        gauge(id, 4).thermal_output(package.curve),
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.0)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .strain_within(Microstrain(3_000.0));
    assert!(channel.try_fixed::<5, 3, 0>().is_ok());
    let model = reference::Model::new(&channel).unwrap();
    for t in (-200..=-100).map(|t| Celsius(f64::from(t))) {
        let off = model.thermal_output(t).microstrain().0 - curve.thermal_output(t).unwrap().0;
        assert!(off.abs() <= package.left_out.0 * 1.05 + 1e-6, "{off} at {t}");
    }
    // Balance is the channel's.
    let balanced = curve.balanced_at(Celsius(-150.0)).package_curve(low, high).unwrap();
    assert_eq!(balanced, package);
}
