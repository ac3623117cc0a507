//! Fits of thermal output and gauge factor: by hand and by properties. What a fit makes of a whole
//! simulated run is in tests/commissioning/chamber_run.rs, the NIST sets are beside the arithmetic
//! (src/commissioning/fit/strd.rs), and coverage factors in tests/commissioning/student.rs.

use approx::assert_abs_diff_eq;
use gaugewright::Error;
use gaugewright::commissioning::fit::*;
use gaugewright::error::Field;
use gaugewright::numeric::{Float, coverage_factor};
use gaugewright::units::*;
use proptest::prelude::*;
use support::recipe::check;
use support::{Random, tolerance};

#[derive(Clone, Debug)]
struct Polynom {
    low: f64,
    high: f64,
    /// Of a variable that is -1 to 1 over the range.
    terms: Vec<f64>,
    points: usize,
}

impl Polynom {
    fn at(&self, temperature: f64) -> f64 {
        let x = (2.0 * temperature - self.low - self.high) / (self.high - self.low);
        self.terms.iter().rev().fold(0.0, |sum, c| sum * x + c)
    }

    fn temperature(&self, k: usize) -> f64 {
        let share = k as f64 / (self.points - 1) as f64;
        self.low * (1.0 - share) + self.high * share
    }
}

fn polynom() -> impl Strategy<Value = Polynom> {
    (-200.0..200.0f64, 20.0..300.0f64, prop::collection::vec(-2000.0..2000.0f64, 1..=6), 12..60usize)
        .prop_map(|(low, span, terms, points)| Polynom { low, high: low + span, terms, points })
}

fn run<T: Float>(p: &Polynom, noise: impl Fn(usize) -> f64) -> ThermalOutputFit<T> {
    let mut fit = ThermalOutputFit::<T>::between(Celsius(p.low), Celsius(p.high)).unwrap();
    for k in 0..p.points {
        let t = p.temperature(k);
        let sweep = if k % 2 == 0 { Direction::Heating } else { Direction::Cooling };
        fit.observe(sweep, Celsius(t), Microstrain(p.at(t) + noise(k))).unwrap();
    }
    fit
}

fn followed<T: Float>(p: &Polynom, tolerance: f64) -> Result<f64, TestCaseError> {
    let fit = run::<T>(p, |_| 0.0);
    let curve = fit.solve(Degree::Exactly(p.terms.len() - 1)).unwrap();
    let chosen = fit.solve(Degree::by_f_test(Percent(1.0))).unwrap();
    let mut worst = 0.0f64;
    for k in 0..=100 {
        let t = (p.low + (p.high - p.low) * f64::from(k) / 100.0).clamp(p.low, p.high);
        for curve in [curve, chosen] {
            let off = (curve.at(Celsius(t)).unwrap().0 - p.at(t)).abs();
            prop_assert!(off <= tolerance, "{off:e} at {t}");
            worst = worst.max(off);
        }
    }
    Ok(worst)
}

/// Points without scatter give the polynomial back, in either arithmetic, whatever degree is chosen.
#[test]
fn exact_points_give_the_polynomial_back() {
    let worst = std::cell::Cell::new((0.0f64, 0.0f64));
    check("exact_points_give_the_polynomial_back", 300, polynom(), |p| {
        let seen = (followed::<f64>(&p, tolerance::FIT_DOUBLE)?, followed::<f32>(&p, tolerance::FIT_SINGLE)?);
        let (double, single) = worst.get();
        worst.set((seen.0.max(double), seen.1.max(single)));
        Ok(())
    });
    println!("exact points: {:?} microstrain", worst.get());
}

/// Readings that differ by a factor and a shift differ by them as fitted, bands by the factor; the order of the points,
/// and whether they came in one fit or in two that were joined, does not matter.
#[test]
fn fits_scale_shift_and_join() {
    check("fits_scale_shift_and_join", 200, (polynom(), any::<u64>()), |(p, seed)| {
        let noise: Vec<f64> = {
            let mut random = Random(seed);
            (0..p.points).map(|_| random.normal()).collect()
        };
        let plain = run::<f64>(&p, |k| noise[k]);
        let curve = plain.solve(Degree::Exactly(4)).unwrap();

        let scaled = Polynom { terms: p.terms.iter().map(|c| -3.0 * c).collect(), ..p.clone() };
        let scaled = run::<f64>(&scaled, |k| 500.0 - 3.0 * noise[k]).solve(Degree::Exactly(4)).unwrap();

        let new = || ThermalOutputFit::<f64>::between(Celsius(p.low), Celsius(p.high)).unwrap();
        let (mut one, mut other) = (new(), new());
        for k in (0..p.points).rev() {
            let sweep = if k % 2 == 0 { Direction::Heating } else { Direction::Cooling };
            let fit = if k % 3 == 0 { &mut one } else { &mut other };
            let t = p.temperature(k);
            fit.observe(sweep, Celsius(t), Microstrain(p.at(t) + noise[k])).unwrap();
        }
        one.join(&other).unwrap();
        prop_assert_eq!(one.points(), plain.points());
        let joined = one.solve(Degree::Exactly(4)).unwrap();
        prop_assert!(
            (one.hysteresis(1).unwrap().largest.0 - plain.hysteresis(1).unwrap().largest.0).abs() < 1e-7
        );

        for k in 0..p.points {
            let t = Celsius(p.temperature(k));
            let (at, band) = (curve.at(t).unwrap().0, curve.confidence_band(t, Percent(95.0)).unwrap().0);
            prop_assert!((scaled.at(t).unwrap().0 - (500.0 - 3.0 * at)).abs() < 1e-7);
            let three = scaled.confidence_band(t, Percent(95.0)).unwrap().0;
            prop_assert!((three / (3.0 * band) - 1.0).abs() < 1e-7);
            prop_assert!((joined.at(t).unwrap().0 - at).abs() < 1e-7);
            prop_assert!((joined.confidence_band(t, Percent(95.0)).unwrap().0 / band - 1.0).abs() < 1e-7);
            prop_assert!(curve.prediction_band(t, Percent(95.0)).unwrap().0 > band);
        }
        Ok(())
    });
}

/// A weight is a number of points: one of uncertainty `u / sqrt(4)` counts as four of `u` with the same reading, but for
/// the degrees of freedom. The weighted points come in two fits that are joined.
#[test]
fn weights_are_numbers_of_points() {
    let new = || ThermalOutputFit::<f64>::between(Celsius(-40.0), Celsius(80.0)).unwrap();
    let (mut weighted, mut other, mut repeated) = (new(), new(), new());
    let mut random = Random(11);
    for k in 0..25 {
        let t = Celsius(-40.0 + 5.0 * f64::from(k));
        let reading = Microstrain(3.0 * t.0 - 0.01 * t.0 * t.0 + random.normal());
        let four = k % 3 == 0;
        let u = Microstrain(if four { 0.35 } else { 0.7 });
        let part = if k < 15 { &mut weighted } else { &mut other };
        part.observe_with(Direction::Heating, t, reading, u).unwrap();
        for _ in 0..if four { 4 } else { 1 } {
            repeated.observe(Direction::Heating, t, reading).unwrap();
        }
    }
    weighted.join(&other).unwrap();
    let (weighted, repeated) =
        (weighted.solve(Degree::Exactly(2)).unwrap(), repeated.solve(Degree::Exactly(2)).unwrap());
    let freedom = |curve: &FittedThermalOutput| f64::from(curve.degrees_of_freedom());
    for k in 0..=24 {
        let t = Celsius(-40.0 + 5.0 * f64::from(k));
        assert_abs_diff_eq!(weighted.at(t).unwrap().0, repeated.at(t).unwrap().0, epsilon = 1e-11);
        let (u, v) =
            (weighted.standard_uncertainty(t).unwrap().0, repeated.standard_uncertainty(t).unwrap().0);
        assert!((u * (freedom(&weighted) / freedom(&repeated)).sqrt() / v - 1.0).abs() < 1e-11);
    }
    assert_eq!(repeated.scatter_ratio(), None);
    // One microstrain of scatter was called 0.7 or 0.35.
    assert!((1.5..3.0).contains(&weighted.scatter_ratio().unwrap()));
    assert_abs_diff_eq!(
        weighted.residual_standard_deviation().0 / 0.6,
        weighted.scatter_ratio().unwrap(),
        epsilon = 0.4
    );
}

/// Uncertainties that are all the same say nothing that the scatter does not: everything is as without them.
#[test]
fn equal_uncertainties_change_nothing() {
    let new = || ThermalOutputFit::<f64>::between(Celsius(-40.0), Celsius(80.0)).unwrap();
    let (mut weighted, mut plain) = (new(), new());
    let mut random = Random(12);
    for k in 0..25 {
        let t = Celsius(-40.0 + 5.0 * f64::from(k));
        let reading = Microstrain(2.0 * t.0 + random.normal());
        let sweep = if k % 2 == 0 { Direction::Heating } else { Direction::Cooling };
        weighted.observe_with(sweep, t, reading, Microstrain(0.7)).unwrap();
        plain.observe(sweep, t, reading).unwrap();
    }
    let close = |a: f64, b: f64| assert!((a / b - 1.0).abs() < 1e-10, "{a}, not {b}");
    let (a, b) = (weighted.hysteresis(1).unwrap(), plain.hysteresis(1).unwrap());
    close(a.largest.0, b.largest.0);
    close(a.standard_uncertainty.0, b.standard_uncertainty.0);
    let chosen = |fit: &ThermalOutputFit<f64>| fit.solve(Degree::by_f_test(Percent(1.0))).unwrap();
    let (a, b) = (chosen(&weighted), chosen(&plain));
    assert_eq!(a.degree(), b.degree());
    close(a.residual_standard_deviation().0, b.residual_standard_deviation().0);
    close(a.residual_standard_deviation_with(0).unwrap().0, b.residual_standard_deviation_with(0).unwrap().0);
    close(a.scatter_ratio().unwrap(), b.residual_standard_deviation().0 / 0.7);
    for t in [-40.0, 3.0, 80.0] {
        let t = Celsius(t);
        close(a.at(t).unwrap().0, b.at(t).unwrap().0);
        let p = Percent(90.0);
        close(a.confidence_band(t, p).unwrap().0, b.confidence_band(t, p).unwrap().0);
        close(a.prediction_band(t, p).unwrap().0, b.prediction_band(t, p).unwrap().0);
    }
}

/// Each point sixteen times: the same curve, and a variance that is smaller by the degrees of freedom alone. Blocks end amid
/// the points.
#[test]
fn no_point_of_a_long_run_is_lost() {
    let p = Polynom { low: -80.0, high: 120.0, terms: vec![10.0, 300.0, -6.0], points: 61 };
    let mut random = Random(17);
    let noise: Vec<f64> = (0..p.points).map(|_| random.normal()).collect();
    let once = run::<f64>(&p, |k| noise[k]);
    let mut often = once;
    for n in 2..=16 {
        for (k, noise) in noise.iter().enumerate() {
            let sweep = if k % 2 == 0 { Direction::Heating } else { Direction::Cooling };
            let t = p.temperature(k);
            often.observe(sweep, Celsius(t), Microstrain(p.at(t) + noise)).unwrap();
        }
        assert_eq!(often.points(), 61 * n);
        let (one, many) = (once.solve(Degree::Exactly(2)).unwrap(), often.solve(Degree::Exactly(2)).unwrap());
        let freedom = |curve: &FittedThermalOutput| f64::from(curve.degrees_of_freedom());
        for t in [-80.0, 0.0, 117.0] {
            let t = Celsius(t);
            assert_abs_diff_eq!(one.at(t).unwrap().0, many.at(t).unwrap().0, epsilon = 1e-10);
            let (u, v) = (one.standard_uncertainty(t).unwrap().0, many.standard_uncertainty(t).unwrap().0);
            assert!((u * u * freedom(&one) / (v * v * freedom(&many)) - 1.0).abs() < 1e-10);
        }
    }
}

/// What is shown for a strain is as uncertain as it is, so that its ratio to a strain four times smaller is four times more: the
/// same as ratios with their weights written out as numbers of points.
#[test]
fn ratios_weigh_by_their_strain() {
    let new = || GaugeFactorFit::<f64>::between(Celsius(0.0), Celsius(100.0)).unwrap();
    let (mut weighted, mut repeated) = (new(), new());
    let mut random = Random(23);
    for k in 0..21 {
        let t = Celsius(5.0 * f64::from(k));
        let large = k % 2 == 0;
        let applied = Microstrain(if large { -2000.0 } else { 500.0 });
        let shown = Microstrain(applied.0 * 1.02 * (1.0 + 1e-4 * t.0) + random.normal());
        weighted.observe_with(Direction::Heating, t, applied, shown, Microstrain(1.0)).unwrap();
        for _ in 0..if large { 16 } else { 1 } {
            repeated.observe(Direction::Heating, t, applied, shown).unwrap();
        }
    }
    let fitted = |fit: &GaugeFactorFit<f64>| fit.solve(Degree::Exactly(1)).unwrap();
    let (weighted, repeated) = (fitted(&weighted), fitted(&repeated));
    let [a, b] = [&weighted, &repeated].map(|fitted| fitted.change_from(Celsius(25.0)).unwrap()[0]);
    assert!((a / b - 1.0).abs() < 1e-10 && (a - 1e-4).abs() < 2e-5, "{a:e} {b:e}");
    assert!((0.6..1.4).contains(&weighted.scatter_ratio().unwrap()));
    assert_eq!(repeated.scatter_ratio(), None);
}

/// A constant in all ratios, as that of the instrument, is in no change and in no band of one; without scatter the terms come back.
#[test]
fn changes_are_those_of_ratios_with_any_constant() {
    let terms = [1e-4, 3e-7, -2e-9];
    let fitted = |scale: f64, noise: f64| {
        let mut fit = GaugeFactorFit::<f64>::between(Celsius(-50.0), Celsius(150.0)).unwrap();
        let mut random = Random(29);
        for k in 0..21 {
            let t = 10.0 * f64::from(k) - 50.0;
            let [a, b, c] = terms.map(|term| term * (t - 25.0));
            let change = a + b * (t - 25.0) + c * (t - 25.0) * (t - 25.0);
            let ratio = scale * (1.0 + change + noise * random.normal());
            fit.observe_ratio(Direction::Heating, Celsius(t), ratio).unwrap();
        }
        assert_eq!(fit.points(), 21);
        fit.solve(Degree::Exactly(3)).unwrap()
    };
    let (from, to) = (Celsius(25.0), Celsius(125.0));
    let band = |curve: &FittedGaugeFactor| curve.confidence_band(from, to, Percent(95.0)).unwrap().0;
    let one = band(&fitted(1.0, 1e-4));
    assert!(one > 0.005 && one < 0.05, "{one}");
    for scale in [0.4, 1.0, 3.0] {
        let exact = fitted(scale, 0.0);
        for (found, term) in exact.change_from(from).unwrap().into_iter().zip(terms) {
            assert!((found / term - 1.0).abs() < 1e-9, "{scale}: {found:e} {term:e}");
        }
        // 1 % of the first term, 0.3 % of the second, -0.2 % of the third.
        assert_abs_diff_eq!(exact.change(from, to).unwrap().0, 1.1, epsilon = 1e-10);
        assert!((band(&fitted(scale, 1e-4)) / one - 1.0).abs() < 1e-9, "{scale}");
    }
}

/// The difference of the directions, at a place and with a size that are known; its uncertainty is that of two curves.
#[test]
fn hysteresis_where_it_is() {
    for (terms, largest, at) in [
        (vec![0.0, 0.0, 0.0], 0.0, None),
        (vec![2.5], 2.5, None),
        (vec![-3.0, 1.0], -4.0, Some(-50.0)),
        (vec![1.0, 0.0, -1.0], 1.0, Some(20.0)),
        (vec![0.0, 3.0, 0.0, -3.0], 1.1547, Some(20.0 + 70.0 / 3.0f64.sqrt())),
    ] {
        let more = Polynom { low: -50.0, high: 90.0, terms, points: 29 };
        let mut fit = ThermalOutputFit::<f64>::between(Celsius(-50.0), Celsius(90.0)).unwrap();
        for k in 0..more.points {
            let t = more.temperature(k);
            let scatter = [0.01, -0.02, 0.005, 0.005][k % 4];
            fit.observe(Direction::Heating, Celsius(t), Microstrain(2.0 * t + scatter)).unwrap();
            fit.observe(Direction::Cooling, Celsius(t), Microstrain(2.0 * t + more.at(t) - scatter)).unwrap();
        }
        let found = fit.hysteresis(3).unwrap();
        assert_abs_diff_eq!(found.largest.0.abs(), f64::abs(largest), epsilon = 0.03);
        // A cubic is as large, with the other sign, on the other side of the middle.
        if largest != 0.0 && more.terms.len() < 4 {
            assert_eq!(found.largest.0 > 0.0, largest > 0.0, "{found:?}");
        }
        if let Some(at) = at {
            let away = (found.at.0 - 20.0).abs() - f64::abs(at - 20.0);
            assert!(away.abs() < 5.0, "{found:?}");
        }
        assert_eq!(found.degrees_of_freedom, 25);
        assert_eq!(fit.hysteresis_at(3, found.at).unwrap(), (found.largest, found.standard_uncertainty));
        // Everywhere it is what was made. By hand: four terms in 29 points of either direction have a mean variance of 4/29 of the
        // scatter's, and the uncertainty is that of two of them.
        let mut variances = 0.0;
        for k in 0..more.points {
            let (difference, uncertainty) = fit.hysteresis_at(3, Celsius(more.temperature(k))).unwrap();
            assert_abs_diff_eq!(difference.0, more.at(more.temperature(k)), epsilon = 0.03);
            variances += uncertainty.0.powi(2) / more.points as f64;
        }
        let scatter = (29.0 * (1e-4 + 4e-4 + 2.0 * 0.25e-4) / 4.0 / 25.0_f64).sqrt();
        assert!((variances.sqrt() / (scatter * (8.0_f64 / 29.0).sqrt()) - 1.0).abs() < 0.1, "{variances}");
        assert!(found.standard_uncertainty.0 > 0.001 && found.standard_uncertainty.0 < 0.02);
    }
}

/// The straight line through five points, its deviations and bands, by hand in exact fractions.
#[test]
fn a_straight_line_by_hand() {
    let mut fit = ThermalOutputFit::<f64>::between(Celsius(0.0), Celsius(4.0)).unwrap();
    for (t, y) in [(0.0, 1.0), (1.0, 3.0), (2.0, 4.0), (3.0, 4.0), (4.0, 8.0)] {
        fit.observe(Direction::Heating, Celsius(t), Microstrain(y)).unwrap();
    }
    let line = fit.solve(Degree::Exactly(1)).unwrap();
    // Mean 2 and 4, sums of squares 10 and products 15: slope 3/2, constant 1; residuals 0, 1/2, 0, -3/2, 1, squared 7/2.
    let [constant, slope, ..] = line.polynomial().coefficients();
    let close = |found: f64, exact: f64| assert!((found - exact).abs() < 1e-13, "{found}, not {exact}");
    close(constant, 1.0);
    close(slope, 1.5);
    let variance: f64 = 3.5 / 3.0;
    close(line.residual_standard_deviation().0, variance.sqrt());
    let covariance = line.covariance();
    close(covariance[1][1], variance / 10.0);
    close(covariance[0][0], variance * (1.0 / 5.0 + 4.0 / 10.0));
    close(covariance[0][1], -variance * 2.0 / 10.0);
    // Two-sided 95 % with three degrees of freedom.
    let t = coverage_factor(Percent(95.0), 3).unwrap();
    close(line.confidence_band(Celsius(4.0), Percent(95.0)).unwrap().0, t * (variance * 0.6).sqrt());
    close(line.prediction_band(Celsius(4.0), Percent(95.0)).unwrap().0, t * (variance * 1.6).sqrt());
    close(line.residual_standard_deviation_with(0).unwrap().0, (26.0f64 / 4.0).sqrt());
    // Referred to 1 C, the uncertainty is that of the slope alone.
    let balanced = line.balanced_at(Celsius(1.0)).unwrap();
    close(balanced.at(Celsius(3.0)).unwrap().0, 3.0);
    close(balanced.standard_uncertainty(Celsius(3.0)).unwrap().0, 2.0 * (variance / 10.0).sqrt());
    close(balanced.polynomial().coefficients()[0], -1.5);
    close(balanced.covariance()[0][0], variance / 10.0);
}

/// The level is what it says: a parabola with scatter is taken for something higher in 3 of 100 runs at most, as there are
/// three higher degrees at 1 % each, and for something lower never where its coefficient is ten times its uncertainty.
#[test]
fn the_level_of_significance_is_kept() {
    let p = Polynom { low: -80.0, high: 120.0, terms: vec![10.0, 300.0, -6.0], points: 30 };
    let mut random = Random(20_261_125);
    let mut counts = [0u32; 6];
    for _ in 0..4000 {
        let noise: Vec<f64> = (0..p.points).map(|_| random.normal()).collect();
        let curve = run::<f64>(&p, |k| noise[k]).solve(Degree::by_f_test(Percent(1.0))).unwrap();
        counts[curve.degree()] += 1;
    }
    println!("degrees chosen: {counts:?}");
    assert_eq!(counts[..2], [0, 0]);
    // 40 expected of each of three, and a standard deviation of 6.
    for above in &counts[3..] {
        assert!((20..=64).contains(above), "{counts:?}");
    }
}

/// How often a parabola is found and a line taken for more: the table in the documentation of `Degree`, to the last percent.
#[test]
fn the_power_of_the_choice_is_that_of_the_table() {
    let table = include_str!("../../src/commissioning/fit/choice.rs");
    let mut random = Random(20_261_128);
    let mut rows = Vec::new();
    for points in [6, 7, 8, 9, 10, 12, 15, 20, 30, 50] {
        let mut share = |height: f64| {
            let p = Polynom { low: -80.0, high: 120.0, terms: vec![10.0, 300.0, -height], points };
            let runs = 4000;
            let higher = (0..runs).filter(|_| {
                let noise: Vec<f64> = (0..points).map(|_| random.normal()).collect();
                run::<f64>(&p, |k| noise[k]).solve(Degree::by_f_test(Percent(1.0))).unwrap().degree() > 1
            });
            (100.0 * higher.count() as f64 / f64::from(runs)).round()
        };
        let row =
            format!("/// | {points} | {} | {} | {} | {} |", share(3.0), share(5.0), share(10.0), share(0.0));
        println!("{row}");
        rows.push(row);
    }
    for row in rows {
        assert!(table.lines().any(|line| line == row), "the table does not have: {row}");
    }
}

/// Seven smooth points, whose scatter about a constant, a line and a parabola is 24.87, 8.094 and 1.0225 (p = 0.00081 and 0.000061;
/// computed with numpy and scipy), hold a parabola.
#[test]
fn seven_smooth_points_hold_a_parabola() {
    let points =
        [(-50.0, -11.4), (-30.0, -9.0), (-10.0, -6.1), (10.0, 1.0), (30.0, 14.3), (55.0, 32.3), (80.0, 55.2)];
    let fit = |points: &[(f64, f64)]| {
        let mut fit = ThermalOutputFit::<f64>::between(Celsius(-60.0), Celsius(90.0)).unwrap();
        for (t, reading) in points {
            fit.observe(Direction::Heating, Celsius(*t), Microstrain(*reading)).unwrap();
        }
        fit
    };
    let curve = fit(&points).solve(Degree::by_f_test(Percent(1.0))).unwrap();
    assert_eq!(curve.degree(), 2);
    let exactly = fit(&points).solve(Degree::Exactly(2)).unwrap();
    assert_eq!(curve.at(Celsius(0.0)), exactly.at(Celsius(0.0)));
    for (degree, scatter) in [(0, 24.874_083), (1, 8.093_940), (2, 1.022_508)] {
        let seen = curve.residual_standard_deviation_with(degree).unwrap().0;
        assert!((seen / scatter - 1.0).abs() < 1e-6, "{degree}: {seen}");
    }
    // Five or fewer do not choose; a degree that is stated has a band.
    for few in 2..6 {
        let chosen = fit(&points[..few]).solve(Degree::by_f_test(Percent(1.0)));
        assert!(
            matches!(chosen, Err(Error::Invalid { field: Field::FitPoints, value, low: 6.0, .. }) if value == few as f64)
        );
        if few > 2 {
            let stated =
                fit(&points[..few]).solve(Degree::Exactly(1)).unwrap().balanced_at(Celsius(-50.0)).unwrap();
            assert!(
                stated.confidence_band(points.map(|(t, _)| Celsius(t))[few - 1], Percent(95.0)).unwrap().0
                    > 1.0
            );
        }
    }
}

/// Whatever is chosen has a band since balance, a constant too.
#[test]
fn no_choice_has_a_band_of_zero() {
    let mut random = Random(3);
    for points in 6..20 {
        for _ in 0..200 {
            let p = Polynom { low: -80.0, high: 120.0, terms: vec![10.0], points };
            let noise: Vec<f64> = (0..points).map(|_| random.normal()).collect();
            let curve = run::<f64>(&p, |k| noise[k]).solve(Degree::by_f_test(Percent(1.0))).unwrap();
            let (low, high) = curve.temperatures();
            let curve = curve.balanced_at(low).unwrap();
            assert!(curve.degree() >= 1);
            assert!(curve.confidence_band(high, Percent(95.0)).unwrap().0 > 0.05);
        }
    }
}

/// A gauge's own curve of degree five without noise is degree five.
#[test]
fn a_higher_degree_is_found_where_it_is() {
    for degree in 1..=5 {
        let mut terms = vec![0.0; degree + 1];
        terms[degree] = 20.0;
        let p = Polynom { low: -80.0, high: 120.0, terms, points: 40 };
        let mut random = Random(5);
        let noise: Vec<f64> = (0..p.points).map(|_| 0.3 * random.normal()).collect();
        assert_eq!(
            run::<f64>(&p, |k| noise[k]).solve(Degree::by_f_test(Percent(1.0))).unwrap().degree(),
            degree
        );
        assert_eq!(
            run::<f32>(&p, |k| noise[k]).solve(Degree::by_f_test(Percent(1.0))).unwrap().degree(),
            degree
        );
    }
}

/// A temperature so close to the middle of the range that the square of its distance is no number any more.
#[test]
fn a_point_next_to_the_middle() {
    fn through<T: Float>() -> Microstrain {
        let mut fit = ThermalOutputFit::<T>::between(Celsius(-50.0), Celsius(50.0)).unwrap();
        for t in [1e-30, -1e-200, 0.0, 40.0, -40.0] {
            fit.observe(Direction::Heating, Celsius(t), Microstrain(10.0 + t)).unwrap();
        }
        fit.solve(Degree::Exactly(1)).unwrap().at(Celsius(20.0)).unwrap()
    }
    assert_abs_diff_eq!(through::<f64>().0, 30.0, epsilon = 1e-12);
    assert_abs_diff_eq!(through::<f32>().0, 30.0, epsilon = 1e-5);
}

/// Memory does not grow with the points, and is what the documentation says.
#[test]
fn sizes() {
    let text = include_str!("../../src/commissioning/fit.rs");
    let double = size_of::<ThermalOutputFit<f64>>();
    let single = size_of::<ThermalOutputFit<f32>>();
    assert!(
        text.contains(&format!("in `f64`: {double} bytes, in `f32`:\n//! {single})")),
        "{double} {single}"
    );
}

/// In `f32` beside `f64`, over a long run of the size of real ones.
#[test]
fn single_precision_over_a_long_run() {
    let p = Polynom {
        low: -100.0,
        high: 200.0,
        terms: vec![-300.0, 900.0, -1500.0, 700.0, -100.0],
        points: 200_000,
    };
    let mut random = Random(3);
    let noise: Vec<f64> = (0..p.points).map(|_| random.normal()).collect();
    let double = run::<f64>(&p, |k| noise[k]).solve(Degree::by_f_test(Percent(1.0))).unwrap();
    let single = run::<f32>(&p, |k| noise[k]).solve(Degree::by_f_test(Percent(1.0))).unwrap();
    assert_eq!((double.degree(), single.degree()), (4, 4));
    let mut worst = 0.0f64;
    for k in 0..=300 {
        let t = Celsius(-100.0 + f64::from(k));
        worst = worst.max((double.at(t).unwrap().0 - single.at(t).unwrap().0).abs());
    }
    let deviations = (double.residual_standard_deviation().0, single.residual_standard_deviation().0);
    println!("f32 over {} points: {worst:e} microstrain, deviations {deviations:?}", p.points);
    assert!(worst <= tolerance::FIT_SINGLE_LONG);
    assert!((deviations.0 / deviations.1 - 1.0).abs() < 1e-3);
}
