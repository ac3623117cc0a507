//! The nine linear sets of the NIST Statistical Reference Datasets, through the arithmetic of the fits. The table of
//! digits in the documentation of [`fit`](super) is compared with what comes out.

extern crate std;

use super::curve::Place;
use super::run::chebyshev;
use super::solution::Solution;
use super::triangle::Triangle;
use crate::numeric::Float;
use std::format;
use std::string::String;
use std::vec::Vec;

const POINTS: &str = include_str!("../../../tests/data/regression.csv");
const CERTIFIED: &str = include_str!("../../../tests/data/regression_certified.csv");
const DOCUMENT: &str = include_str!("../fit.rs");

fn rows<'a>(text: &'a str, set: &str) -> Vec<Vec<&'a str>> {
    let cells = text.lines().map(|line| line.split(',').collect::<Vec<_>>());
    cells.filter(|row| row[0] == set).collect()
}

/// Value and variables.
type Point = (f64, Vec<f64>);

fn points(set: &str) -> Vec<Point> {
    let number = |cell: &&str| cell.parse().unwrap();
    let row = |row: Vec<&str>| {
        (number(&row[1]), row[2..].iter().filter(|cell| !cell.is_empty()).map(number).collect())
    };
    rows(POINTS, set).into_iter().map(row).collect()
}

/// Digits that agree: the logarithm of the relative error, 0 to 15; of the error itself where zero is certified.
fn digits(value: f64, certified: f64) -> f64 {
    let scale = if certified == 0.0 { 1.0 } else { certified.abs() };
    (-((value - certified).abs() / scale).log10()).clamp(0.0, 15.0)
}

/// The fewest digits of the coefficients, of their standard deviations, and of the residual standard deviation.
fn fewest<const TERMS: usize>(
    set: &str,
    solution: &Solution<TERMS>,
    weights: [[f64; TERMS]; TERMS],
) -> [f64; 3] {
    let certified = rows(CERTIFIED, set);
    assert_eq!(certified.len(), TERMS);
    let mut worst = [15.0; 3];
    let residual = libm::sqrt(solution.variance);
    for (row, weights) in certified.iter().zip(weights) {
        let deviation = libm::sqrt(solution.variance_of(&weights));
        for (worst, (value, certified)) in
            worst.iter_mut().zip([solution.value(&weights), deviation, residual].into_iter().zip(&row[2..]))
        {
            *worst = f64::min(*worst, digits(value, certified.parse().unwrap()));
        }
    }
    worst
}

fn polynomial<T: Float, const TERMS: usize>(set: &str, points: &[Point]) -> [f64; 3] {
    let x = |(_, x): &Point| x[0];
    let low = points.iter().map(x).fold(f64::INFINITY, f64::min);
    let high = points.iter().map(x).fold(f64::NEG_INFINITY, f64::max);
    let place = Place::between(low, high);
    let mut triangle = Triangle::<T, TERMS>::EMPTY;
    for (y, x) in points {
        triangle.add(chebyshev(T::of(place.of(x[0]))), T::of(*y));
    }
    let solution = Solution::of(&triangle.wide(), points.len() as u32, TERMS);
    let rows: [[f64; TERMS]; TERMS] = place.powers(0.0);
    fewest(set, &solution, core::array::from_fn(|k| core::array::from_fn(|j| rows[j][k])))
}

/// Six variables and a constant, as they come.
fn longley<T: Float>(points: &[Point]) -> [f64; 3] {
    let mut triangle = Triangle::<T, 7>::EMPTY;
    for (y, x) in points {
        triangle.add(core::array::from_fn(|k| T::of(if k == 0 { 1.0 } else { x[k - 1] })), T::of(*y));
    }
    let solution = Solution::of(&triangle.wide(), points.len() as u32, 7);
    let one = |k| core::array::from_fn(|j| f64::from(u8::from(j == k)));
    fewest("Longley", &solution, core::array::from_fn(one))
}

/// Digits in double precision, in the order of the file and the fewest of 1000 random orders, and in single precision.
struct Digits {
    name: &'static str,
    terms: usize,
    double: [f64; 3],
    orders: f64,
    below_nine: usize,
    single: [f64; 3],
}

fn set<const TERMS: usize>(name: &'static str) -> Digits {
    let mut points = points(name);
    let double = |points: &[Point]| {
        if name == "Longley" { longley::<f64>(points) } else { polynomial::<f64, TERMS>(name, points) }
    };
    let single =
        if name == "Longley" { longley::<f32>(&points) } else { polynomial::<f32, TERMS>(name, &points) };
    let in_file = double(&points);
    let (mut orders, mut below_nine) = (15.0, 0);
    let mut state = 1u64;
    for _ in 0..1000 {
        for k in (1..points.len()).rev() {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            points.swap(k, (state >> 33) as usize % (k + 1));
        }
        let [coefficients, ..] = double(&points);
        orders = f64::min(orders, coefficients);
        below_nine += usize::from(coefficients < 9.0);
    }
    Digits { name, terms: TERMS, double: in_file, orders, below_nine, single }
}

#[test]
fn digits_are_those_of_the_table() {
    let sets = [
        // Typed from memory. Its certified values follow from it in exact rational arithmetic (tests/data/README.md).
        set::<2>("Norris"),
        set::<3>("Pontius"),
        set::<6>("Wampler1"),
        set::<6>("Wampler2"),
        set::<6>("Wampler3"),
        set::<6>("Wampler4"),
        set::<6>("Wampler5"),
        set::<7>("Longley"),
        set::<11>("Filip"),
    ];
    let rows: Vec<String> = sets
        .iter()
        .map(|Digits { name, terms, double: [coefficients, deviations, residual], orders, below_nine, single }| {
            let single = &single[0];
            std::println!(
                "{name}: {coefficients:.2} (orders {orders:.2}, {below_nine} below 9) {deviations:.2} {residual:.2}, f32 {single:.2}"
            );
            // Rounded down: what is nearly there is not there.
            let down = |digits: &f64| (digits * 10.0).floor() / 10.0;
            format!(
                "//! | {name} | {terms} | {:.1} | {:.1} | {:.1} | {:.1} |",
                down(coefficients),
                down(orders),
                down(deviations),
                down(single)
            )
        })
        .collect();
    std::println!("{}", rows.join("\n"));
    for row in &rows {
        assert!(DOCUMENT.lines().any(|line| line == row), "the table does not have: {row}");
    }
}
