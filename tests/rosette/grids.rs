//! Rosettes of two grids and of more than three: closed forms, least squares by another way, residuals, integers and `f32`.

use gaugewright::Flags;
use gaugewright::error::Field;
use gaugewright::rosette::*;
use gaugewright::units::*;
use gaugewright::{Channel, Gauge, Instrument, ThermalOutput, fixed, reference};
use proptest::prelude::*;
use support::network::{Rational, exactly, floor_to, whole};
use support::refusal::refused_for;
use support::{Random, recipe, tolerance};

const STEP: f64 = 1.0 / fixed::Strain::PER_UNIT;

fn at<const N: usize>(angles: [f64; N]) -> Rosette<N> {
    Rosette::at_angles(angles.map(Degrees))
}

const UNEVEN: [f64; 6] = [0.0, 25.0, 61.0, 90.0, 130.0, -20.0];

fn sensitive() -> Rosette<6> {
    at(UNEVEN).transverse_sensitivity([0.6, -1.3, 2.1, 0.9, 0.0, -0.4].map(Percent))
}

fn state() -> impl Strategy<Value = PlaneStrain<f64>> {
    (-5e-3..5e-3f64, -5e-3..5e-3f64, -8e-3..8e-3f64).prop_map(|(x, y, shear)| PlaneStrain::new(x, y, shear))
}

/// Two grids along the principal directions: the correction of both for transverse sensitivity in closed form (from memory; it
/// follows from what a grid shows), and a single gauge that is told the ratio of the two.
#[test]
fn two_grids_along_the_principal_directions() {
    let drawn = (-3e-3..3e-3f64, -3e-3..3e-3f64, -5.0..5.0f64, 0.2..0.4f64);
    recipe::check("two grids", 500, drawn, |(along, across, percent, poisson)| {
        let pair =
            at([0.0, 90.0]).transverse_sensitivity([Percent(percent); 2]).calibration_poisson_ratio(poisson);
        let found = pair.float64().strain([along, across]);
        let kt = percent / 100.0;
        let closed = |one: f64, other: f64| (1.0 - poisson * kt) * (one - kt * other) / (1.0 - kt * kt);
        let (x, y) = (closed(along, across), closed(across, along));
        prop_assert!((found.x() - x).abs() < 3e-18 && (found.y() - y).abs() < 3e-18 && found.shear() == 0.0);
        let principal = found.principal();
        prop_assert!(
            (principal.first - x.max(y)).abs() < 3e-18 && (principal.second - x.min(y)).abs() < 3e-18
        );
        prop_assert_eq!(principal.direction.unwrap().0, if found.x() > found.y() { 0.0 } else { 90.0 });
        prop_assume!((y / x).abs() < 9.0);
        let gauge = Gauge::new(GaugeFactor(2.0))
            .transverse_sensitivity(Percent(percent))
            .calibration_poisson_ratio(poisson)
            .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
        let channel = Channel::from_readings(gauge, Instrument::showing(Microstrain(1e-6), GaugeFactor(2.0)))
            .strain_within(Microstrain(5_000.0))
            .strain_ratio(y / x);
        let single = reference::Model::new(&channel).unwrap().steps(along * 1e12, Celsius(24.0)).mechanical.0;
        prop_assert!((single - x).abs() < 2e-17, "{single:e} {x:e}");
        Ok(())
    });
}

/// Two grids at any angles give back a state whose principal directions are the axes; two that see the same of it are refused, and
/// two along one line as with three.
#[test]
fn two_grids_at_any_angles() {
    for (angles, kt) in [([0.0, 90.0], 0.0), ([10.0, 75.0], 1.5), ([-30.0, 60.0], -2.0), ([0.0, 45.0], 0.5)] {
        let pair = at(angles).transverse_sensitivity([Percent(kt), Percent(0.3)]);
        for (x, y) in [(1e-3, -3e-4), (-2e-4, 9e-4), (5e-4, 5e-4), (0.0, 0.0)] {
            let found = pair.float64().strain(pair.indicated(&PlaneStrain::new(x, y, 0.0)).unwrap());
            assert!((found.x() - x).abs() < 1e-17 && (found.y() - y).abs() < 1e-17, "{angles:?}: {found:?}");
        }
    }
    for angles in [[30.0, -30.0], [45.0, 135.0], [20.0, 160.0]] {
        assert!(refused_for(at(angles).check(), Field::RosetteGain) > 1e4);
    }
    assert!(refused_for(at([30.0, 210.5]).check(), Field::GridSeparation) < 1.0);
    assert_eq!(refused_for(at([0.0, 179.5]).check(), Field::GridSeparation), 0.5);
    // Of four grids two may lie along one line, but not in pairs.
    assert!(at([0.0, 0.0, 45.0, 90.0]).check().is_ok());
    assert!(refused_for(at([0.0, 0.0, 90.0, 90.0]).check(), Field::RosetteGain) > 1e4);
}

/// Grids spread evenly over half a turn: mean and Fourier sums (from memory; cosines and sines of twice the angles are at right
/// angles to each other).
#[test]
fn grids_spread_evenly() {
    fn check<const N: usize>() {
        let angles: [f64; N] = std::array::from_fn(|k| 180.0 * k as f64 / N as f64);
        let kernel = at(angles).float64();
        let mut random = Random(7);
        for _ in 0..200 {
            let grids: [f64; N] = std::array::from_fn(|_| f64::from(random.between(-5_000, 5_000)) * 1e-6);
            let sum = |weight: fn(f64) -> f64| {
                let terms =
                    grids.iter().zip(angles).map(|(grid, angle)| grid * weight((2.0 * angle).to_radians()));
                2.0 * terms.sum::<f64>() / N as f64
            };
            let found = kernel.strain(grids);
            let (mean, difference) = (found.mean(), (found.x() - found.y()) / 2.0);
            assert!((mean - sum(|_| 0.5)).abs() < 1e-17, "{N}: {mean}");
            assert!(
                (difference - sum(f64::cos)).abs() < 1e-17
                    && (found.shear() / 2.0 - sum(f64::sin)).abs() < 1e-17
            );
        }
        // What such grids leave uncertain: 1 / sqrt(N) of the mean, sqrt(2 / N) of the others.
        let covariance = kernel.covariance(&GridUncertainty::independent([Microstrain(1.0); N]).unwrap());
        assert!((covariance.mean * 1e12 * N as f64 - 1.0).abs() < 1e-12);
        assert!(
            (covariance.difference * 1e12 * N as f64 - 2.0).abs() < 1e-12
                && covariance.mean_shear.abs() < 1e-28
        );
    }
    check::<3>();
    check::<4>();
    check::<5>();
    check::<8>();
}

/// Grids at 0, 60, 120 and 90 degrees. The closed form of the trade (from memory) takes mean and difference from the pair at right
/// angles alone, so it agrees where the grids agree; least squares takes all four and knows the mean better.
#[test]
fn delta_with_a_grid_across() {
    let rosette = at([0.0, 60.0, 120.0, 90.0]);
    let kernel = rosette.float64();
    recipe::check("delta with a grid across", 500, state(), |state| {
        let [a, b, c, d] = rosette.indicated(&state).unwrap();
        let half = 0.5 * ((a - d).powi(2) + 4.0 / 3.0 * (b - c).powi(2)).sqrt();
        let found = kernel.strain([a, b, c, d]).principal();
        prop_assert!((found.first - (a + d) / 2.0 - half).abs() < 2e-17);
        prop_assert!((found.second - (a + d) / 2.0 + half).abs() < 2e-17);
        let theta = 0.5 * (2.0 * (b - c) / 3f64.sqrt()).atan2(a - d).to_degrees();
        let apart = (found.direction.unwrap().0 - theta).rem_euclid(180.0);
        prop_assert!(apart.min(180.0 - apart) < 1e-12 / half * 1e-3, "{apart}");
        Ok(())
    });
    let covariance = kernel.covariance(&GridUncertainty::independent([Microstrain(1.0); 4]).unwrap());
    assert!(covariance.mean * 1e12 < 0.3 && covariance.mean * 1e12 > 0.25);
}

/// The normal equations, solved by Cramer's rule: another way to the same least squares. And a state that all grids agree on.
#[test]
fn least_squares() {
    let rosette = sensitive();
    // Columns: what the grids show of a mean, a half difference, a half shear of one.
    let columns = [(1.0, 1.0, 0.0), (1.0, -1.0, 0.0), (0.0, 0.0, 2.0)]
        .map(|(x, y, shear)| rosette.indicated(&PlaneStrain::new(x, y, shear)).unwrap());
    let dot = |one: &[f64; 6], other: &[f64; 6]| one.iter().zip(other).map(|(a, b)| a * b).sum::<f64>();
    let determinant = |m: [[f64; 3]; 3]| {
        m[0][0] * (m[1][1] * m[2][2] - m[1][2] * m[2][1]) - m[0][1] * (m[1][0] * m[2][2] - m[1][2] * m[2][0])
            + m[0][2] * (m[1][0] * m[2][1] - m[1][1] * m[2][0])
    };
    let normal: [[f64; 3]; 3] =
        std::array::from_fn(|i| std::array::from_fn(|j| dot(&columns[i], &columns[j])));
    let drawn = (state(), prop::array::uniform6(-1e-4..1e-4f64));
    recipe::check("least squares", 500, drawn, |(state, errors)| {
        let shown = rosette.indicated(&state).unwrap();
        let agreed = rosette.float64().strain(shown);
        for (one, other) in
            [(agreed.x(), state.x()), (agreed.y(), state.y()), (agreed.shear(), state.shear())]
        {
            prop_assert!((one - other).abs() < 2e-17, "{one:e} {other:e}");
        }
        let grids: [f64; 6] = std::array::from_fn(|k| shown[k] + errors[k]);
        let found = rosette.float64().strain(grids);
        let parts = [found.mean(), (found.x() - found.y()) / 2.0, found.shear() / 2.0];
        for (column, part) in parts.into_iter().enumerate() {
            let mut replaced = normal;
            for (row, of) in replaced.iter_mut().zip(&columns) {
                row[column] = dot(of, &grids);
            }
            let expected = determinant(replaced) / determinant(normal);
            prop_assert!((part - expected).abs() < 1e-16, "{part:e} {expected:e}");
        }
        Ok(())
    });
}

/// Four grids at 45 degrees in closed form: `(a + c - b - d) / 4` is each residual, with half of a grid's uncertainty. What all grids
/// share is in none, and a grid that alone sees the shear is not checked.
#[test]
fn residuals_in_closed_form() {
    let star = at([0.0, 45.0, 90.0, 135.0]);
    let grids = GridUncertainty::independent([Microstrain(2.0); 4]).unwrap();
    let check = star.residual_check::<f64>(&grids).unwrap();
    for shown in [[500e-6, 200e-6, -100e-6, 203e-6], [0.0, 0.0, 0.0, 1e-3], [1e-4, 2e-4, 3e-4, 4e-4]] {
        let largest = check.largest(shown);
        let [a, b, c, d] = shown;
        assert!((largest.strain.value.abs() - ((a + c - b - d) / 4.0).abs()).abs() < 1e-18);
        assert!((largest.strain.uncertainty - 1e-6).abs() < 1e-18);
    }
    let shared = star.residual_check::<f64>(&grids.shared([Microstrain(30.0); 4]).unwrap()).unwrap();
    assert!((shared.largest([0.0, 0.0, 0.0, 1e-3]).strain.uncertainty - 1e-6).abs() < 1e-12);
    let only_shared = GridUncertainty::independent([Microstrain(0.0); 4]).unwrap();
    let only_shared = only_shared.shared([Microstrain(30.0); 4]).unwrap();
    assert!(refused_for(star.residual_check::<f64>(&only_shared), Field::ResidualUncertainty) < 1e-6);
    // Three grids fit a state whatever they show.
    let three = GridUncertainty::independent([Microstrain(2.0); 3]).unwrap();
    assert!(refused_for(Rosette::delta().residual_check::<f64>(&three), Field::ResidualUncertainty) < 1e-6);
    // Two along one line, one across, one at 45 degrees to it; wherever the line is, the last two are not checked.
    for turn in (0..180).map(f64::from) {
        let across = at([0.0, 0.0, 90.0, 45.0]).turned(Degrees(turn));
        let check = across.residual_check::<f64>(&grids).unwrap();
        let off = check.largest([400e-6, 400e-6, 0.0, 1e-2]);
        assert!(off.strain.value.abs() < 2e-17 && off.in_standard_uncertainties() < 1e-9, "{turn}: {off:?}");
        // Half of 5 microstrain each, over sqrt(1/2) of 2.
        let off = check.largest([405e-6, 400e-6, 0.0, 1e-2]);
        assert!((off.in_standard_uncertainties() - 2.5 / 2f64.sqrt()).abs() < 1e-9, "{turn}: {off:?}");
    }
}

/// Against Monte Carlo (200 000 trials, fixed seed): residuals in parts of their uncertainty have a standard deviation of one,
/// with unequal grids and a cause that they share. And one wrong grid among six is found.
#[test]
fn residuals_of_random_grids() {
    let rosette = sensitive();
    let (own, shared) = ([1.0, 2.0, 0.5, 1.5, 3.0, 1.0], [4.0, -1.0, 3.0, 3.0, 0.0, 2.0]);
    let grids = GridUncertainty::independent(own.map(Microstrain)).unwrap();
    let grids = grids.shared(shared.map(Microstrain)).unwrap();
    let check = rosette.residual_check::<f64>(&grids).unwrap();
    let kernel = rosette.float64();
    let truth = PlaneStrain::new(8e-4, -3e-4, 5e-4);
    let shown = rosette.indicated(&truth).unwrap();
    let mut random = Random(12);
    // The sum of twelve uniform numbers less six has mean 0 and variance 1.
    let mut normal = || (0..12).map(|_| f64::from(random.between(0, 1_000_000)) * 1e-6).sum::<f64>() - 6.0;
    let (mut squares, mut stated, trials) = ([0.0; 6], [None; 6], 200_000);
    let mut beyond = 0;
    for _ in 0..trials {
        let together = normal();
        let drawn: [f64; 6] =
            std::array::from_fn(|k| shown[k] + 1e-6 * (own[k] * normal() + shared[k] * together));
        let fitted = rosette.indicated(&kernel.strain(drawn)).unwrap();
        let found = check.largest(drawn);
        assert!((found.strain.value - (drawn[found.grid] - fitted[found.grid])).abs() < 1e-17);
        for (k, square) in squares.iter_mut().enumerate() {
            *square += (drawn[k] - fitted[k]).powi(2);
        }
        stated[found.grid] = Some(found.strain.uncertainty);
        beyond += u32::from(found.in_standard_uncertainties() > 3.0);
    }
    // Residuals of one grid that shows a strain of 1 and the others none.
    let of_one: [[f64; 6]; 6] = std::array::from_fn(|one| {
        let alone = std::array::from_fn(|k| f64::from(u8::from(k == one)));
        let fitted = rosette.indicated(&kernel.strain(alone)).unwrap();
        std::array::from_fn(|k| alone[k] - fitted[k])
    });
    let uncertainty = |k: usize| {
        let by_own: f64 = (0..6).map(|one| (of_one[one][k] * own[one]).powi(2)).sum();
        let by_shared: f64 = (0..6).map(|one| of_one[one][k] * shared[one]).sum();
        1e-6 * by_own.sqrt().hypot(by_shared)
    };
    // Every residual has the uncertainty that follows from its row, and those that were the largest state it.
    for (k, square) in squares.into_iter().enumerate() {
        let deviation = (square / f64::from(trials)).sqrt();
        assert!((deviation / uncertainty(k) - 1.0).abs() < 0.01, "{k}: {deviation}");
        if let Some(stated) = stated[k] {
            assert!((stated / uncertainty(k) - 1.0).abs() < 1e-9, "{k}: {stated}");
        }
    }
    assert!(stated.iter().flatten().count() >= 4, "{stated:?}");
    // Six tries of 0.3 % at most.
    let share = f64::from(beyond) / f64::from(trials);
    assert!(share > 0.002 && share < 0.018, "{share}");

    let even = GridUncertainty::independent([Microstrain(1.0); 6]).unwrap();
    let check = rosette.residual_check::<f64>(&even).unwrap();
    for wrong in 0..6 {
        let mut grids = shown;
        grids[wrong] += 60e-6;
        let found = check.largest(grids);
        assert!(found.grid == wrong && found.in_standard_uncertainties() > 15.0, "{wrong}: {found:?}");
        // In f32 as well.
        let single = rosette.residual_check::<f32>(&even).unwrap().largest(grids.map(|grid| grid as f32));
        assert_eq!(single.grid, wrong);
        let off = f64::from(single.in_standard_uncertainties()) / found.in_standard_uncertainties() - 1.0;
        assert!(off.abs() < 1e-4, "{off}");
    }
    assert!(check.largest([f64::NAN; 6]).in_standard_uncertainties().is_nan());
}

/// Sampled, 200 000 inputs within the range or at its ends: integers of any number of grids are within the stated error, which is
/// not slack. A flag of a grid is one of the state.
#[test]
fn integers() {
    fn check<const N: usize>(rosette: Rosette<N>) {
        let range = 20_000.0;
        let bound = rosette.fixed_error(Microstrain(range)).unwrap();
        let (integers, exact) = (rosette.fixed(), rosette.float64());
        assert_eq!(size_of_val(&integers), 12 * N);
        let end = (range * 1e-6 / STEP) as i32;
        let mut random = Random(3);
        let mut seen = [0.0f64; 2];
        for _ in 0..200_000 {
            let bits: [i32; N] = std::array::from_fn(|_| match random.between(0, 3) {
                0 => end - random.between(0, 3000),
                1 => random.between(0, 3000) - end,
                _ => random.between(-end, end),
            });
            let state = integers.strain(bits.map(fixed::Strain::from_bits));
            let double = exact.strain(bits.map(|bits| f64::from(bits) * STEP));
            let apart = |found: fixed::Strain, exact: f64| (found.strain().0 - exact).abs() * 1e9;
            assert!(state.flags.is_clear());
            let principal = state.strain.principal().strain;
            seen[0] = seen[0]
                .max(apart(state.strain.mean(), double.mean()))
                .max(apart(state.strain.half_difference(), (double.x() - double.y()) / 2.0))
                .max(apart(state.strain.half_shear(), double.shear() / 2.0));
            seen[1] = seen[1].max(apart(principal.first, double.principal().first));
        }
        for (seen, bound) in seen.into_iter().zip([bound.component, bound.principal]) {
            assert!(seen <= bound.0 + 1e-7 && seen > bound.0 / tolerance::SLACK, "{N}: {seen} of {bound}");
        }
        let good = fixed::Reading { strain: fixed::Strain::from_bits(1 << 24), flags: Flags::CLEAR };
        for k in 0..N {
            let mut grids = [good; N];
            grids[k].flags = Flags::CODE_AT_RAIL;
            assert_eq!(integers.reading(grids).flags, Flags::CODE_AT_RAIL);
        }
    }
    check(at([0.0, 90.0]).transverse_sensitivity([Percent(1.1), Percent(0.7)]));
    check(at([12.0, 70.0]));
    check(at([0.0, 45.0, 90.0, 135.0]).transverse_sensitivity([0.6, 0.8, 0.6, 0.9].map(Percent)));
    check(sensitive());
}

/// Cosine and sine of twice an angle in degrees, in steps of 2^-200: by their series, and 50 digits of pi (from memory).
fn double_angle(degrees: f64) -> [Rational; 2] {
    let tenths = "314159265358979323846264338327950288419716939937510".parse::<Rational>().unwrap();
    let pi = tenths / "100000000000000000000000000000000000000000000000000".parse::<Rational>().unwrap();
    let angle = exactly(degrees) * pi / whole(90);
    let (mut term, mut sums) = (Rational::ONE, [Rational::ZERO, Rational::ZERO]);
    for k in 0..90u32 {
        sums[k as usize % 2] += if k % 4 < 2 { term.clone() } else { -term.clone() };
        term = floor_to(&(&term * &angle / whole(k + 1)), 200);
    }
    sums
}

/// Sampled (500 random rosettes each of two to eight grids, of those that integers hold): the constants in `f64` are within what
/// the bound of the integers has for them of exact ones, which are from the normal equations in rationals.
#[test]
fn constants_against_exact_ones() {
    fn minor(m: &[Vec<Rational>], rows: &[usize], columns: &[usize]) -> Rational {
        let Some((&row, rows)) = rows.split_first() else { return Rational::ONE };
        let mut sum = Rational::ZERO;
        for (k, &column) in columns.iter().enumerate() {
            let rest: Vec<usize> = columns.iter().copied().filter(|&other| other != column).collect();
            let product = &m[row][column] * minor(m, rows, &rest);
            sum += if k % 2 == 0 { product } else { -product };
        }
        sum
    }
    fn worst<const N: usize>(random: &mut Random) -> f64 {
        let (mut worst, mut seen) = (0.0f64, 0);
        for _ in 0..500 {
            let angles: [f64; N] =
                std::array::from_fn(|_| f64::from(random.between(-360_000, 360_000)) * 1e-3);
            let percents: [f64; N] = std::array::from_fn(|_| f64::from(random.between(-4_000, 4_000)) * 1e-2);
            let rosette = at(angles).transverse_sensitivity(percents.map(Percent));
            let Ok(integers) = rosette.try_fixed() else { continue };
            seen += 1;
            let (_, _, allowed) = integers.constants();
            let parts = if N == 2 { 2 } else { 3 };
            let columns: Vec<Vec<Rational>> = (0..N)
                .map(|k| {
                    let kt = exactly(percents[k]) / whole(100);
                    let scale = Rational::ONE - exactly(0.285) * &kt;
                    let [cosine, sine] = double_angle(angles[k]);
                    let single = (Rational::ONE - &kt) / &scale;
                    vec![(Rational::ONE + kt) / scale, &single * cosine, single * sine]
                })
                .collect();
            let normal: Vec<Vec<Rational>> = (0..parts)
                .map(|i| {
                    (0..parts)
                        .map(|j| columns.iter().fold(Rational::ZERO, |sum, of| sum + &of[i] * &of[j]))
                        .collect()
                })
                .collect();
            let all: Vec<usize> = (0..parts).collect();
            let determinant = minor(&normal, &all, &all);
            // Those of a determinant with one column replaced, which are the same for every grid.
            let without = |gone: usize| all.iter().copied().filter(|&k| k != gone).collect::<Vec<_>>();
            let cofactor = |row: usize, column: usize| {
                let minor = minor(&normal, &without(row), &without(column));
                if (row + column) % 2 == 0 { minor } else { -minor }
            };
            let cofactors: Vec<Vec<Rational>> =
                all.iter().map(|&part| all.iter().map(|&row| cofactor(row, part)).collect()).collect();
            let kernel = rosette.float64();
            for (grid, column) in columns.iter().enumerate() {
                let alone = kernel.strain(std::array::from_fn(|k| f64::from(u8::from(k == grid))));
                let found = [alone.mean(), (alone.x() - alone.y()) / 2.0, alone.shear() / 2.0];
                for part in 0..parts {
                    let replaced = column.iter().zip(&cofactors[part]);
                    let exact =
                        replaced.fold(Rational::ZERO, |sum, (value, of)| sum + value * of) / &determinant;
                    let off = (exactly(found[part]) - exact).to_f64_fast().abs();
                    assert!(off < allowed, "{angles:?} {percents:?}: {off:e}");
                    worst = worst.max(off);
                }
            }
        }
        println!("{N} grids: {worst:e} at most, {seen} rosettes");
        assert!(seen > 100, "{N}: {seen}");
        worst
    }
    let mut random = Random(5);
    let all = [
        worst::<2>(&mut random),
        worst::<3>(&mut random),
        worst::<4>(&mut random),
        worst::<6>(&mut random),
        worst::<8>(&mut random),
    ];
    // What is documented.
    assert!(all.iter().all(|&worst| worst < 3e-15), "{all:?}");
}
