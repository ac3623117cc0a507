//! Coverage factors of Student's t-distribution, against values from outside.

use approx::assert_abs_diff_eq;
use gaugewright::numeric::coverage_factor;
use gaugewright::units::Percent;
use support::{data, tolerance};

/// Inverted with 40 digits.
#[test]
fn coverage_factors_with_forty_digits() {
    let rows = data("student_t");
    assert_eq!(rows.len(), 360);
    let mut worst = 0.0f64;
    for row in &rows {
        let freedom = row.number("degrees_of_freedom") as u32;
        let found = coverage_factor(Percent(row.number("coverage_percent")), freedom).unwrap();
        let off = (found / row.number("coverage_factor") - 1.0).abs();
        assert!(off <= tolerance::STUDENT, "{} off by {off:e}", row.text("degrees_of_freedom"));
        worst = worst.max(off);
    }
    println!("Student's t: {worst:e}");
    assert!(worst > tolerance::STUDENT / 10.0, "the tolerance is slack: {worst:e}");
}

/// Table G.2 of the GUM (JCGM 100:2008), as printed; typed from memory. Three of its columns are headed by the rounded
/// probabilities of one, two and three standard deviations of a normal distribution, and hold the factors of the exact ones.
#[test]
fn coverage_factors_as_the_gum_prints_them() {
    let coverages = [68.268_949_213_7, 90.0, 95.0, 95.449_973_610_4, 99.0, 99.730_020_393_7];
    let table = [
        (1, [1.84, 6.31, 12.71, 13.97, 63.66, 235.80]),
        (2, [1.32, 2.92, 4.30, 4.53, 9.92, 19.21]),
        (3, [1.20, 2.35, 3.18, 3.31, 5.84, 9.22]),
        (4, [1.14, 2.13, 2.78, 2.87, 4.60, 6.62]),
        (5, [1.11, 2.02, 2.57, 2.65, 4.03, 5.51]),
        (6, [1.09, 1.94, 2.45, 2.52, 3.71, 4.90]),
        (8, [1.07, 1.86, 2.31, 2.37, 3.36, 4.28]),
        (10, [1.05, 1.81, 2.23, 2.28, 3.17, 3.96]),
        (20, [1.03, 1.72, 2.09, 2.13, 2.85, 3.42]),
        (50, [1.01, 1.68, 2.01, 2.05, 2.68, 3.16]),
    ];
    for (freedom, factors) in table {
        for (coverage, printed) in coverages.into_iter().zip(factors) {
            let found = coverage_factor(Percent(coverage), freedom).unwrap();
            assert!(
                (found - printed).abs() <= 0.005 + 1e-9,
                "{found}, not {printed}: {coverage} % {freedom}"
            );
        }
    }
    // Its last row, for no end of degrees of freedom, and the one above it with three decimals.
    for (coverage, printed) in coverages.into_iter().zip([1.000, 1.645, 1.960, 2.000, 2.576, 3.000]) {
        assert_abs_diff_eq!(coverage_factor(Percent(coverage), u32::MAX).unwrap(), printed, epsilon = 0.0005);
    }
    for (coverage, printed) in coverages.into_iter().zip([1.005, 1.660, 1.984, 2.025, 2.626, 3.077]) {
        assert_abs_diff_eq!(coverage_factor(Percent(coverage), 100).unwrap(), printed, epsilon = 0.0005);
    }
}

/// The smaller the freedom and the larger the coverage, the larger the factor: also where one method takes over from the other.
#[test]
fn coverage_factors_are_monotonic() {
    for coverage in [50.0, 95.0, 99.9] {
        let factors: Vec<f64> =
            (1..400).map(|freedom| coverage_factor(Percent(coverage), freedom).unwrap()).collect();
        assert!(factors.is_sorted_by(|a, b| a > b));
    }
    for freedom in [1, 2, 7, 150, 151, 100_000] {
        let factors: Vec<f64> =
            (1..=99).map(|p| coverage_factor(Percent(f64::from(p)), freedom).unwrap()).collect();
        assert!(factors.is_sorted_by(|a, b| a < b));
    }
}
