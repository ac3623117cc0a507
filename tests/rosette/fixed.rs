//! Rosettes in integers: within the stated error, which is not slack; nothing wraps.

use gaugewright::rosette::*;
use gaugewright::units::*;
use gaugewright::{Flags, fixed};
use support::{Random, data, tolerance};

const STEP: f64 = 1.0 / fixed::Strain::PER_UNIT;

fn rosettes() -> Vec<(&'static str, Rosette)> {
    let unequal = [Percent(0.6), Percent(-1.3), Percent(2.1)];
    let uneven = Rosette::at_angles([Degrees(3.0), Degrees(41.0), Degrees(112.0)]);
    vec![
        ("rectangular", Rosette::rectangular()),
        ("delta", Rosette::delta()),
        ("rectangular, sensitive", Rosette::rectangular().transverse_sensitivity(unequal)),
        ("delta, sensitive", Rosette::delta().transverse_sensitivity([Percent(0.9); 3])),
        ("delta, turned", Rosette::delta().turned(Degrees(17.0)).transverse_sensitivity(unequal)),
        ("uneven", uneven.transverse_sensitivity(unequal)),
    ]
}

/// Grids of 30 degrees, which magnify so much that two components can be outside at once, and whose shear is the most uncertain.
fn narrow() -> (&'static str, Rosette) {
    ("narrow", Rosette::at_angles([Degrees(0.0), Degrees(30.0), Degrees(60.0)]))
}

/// What the bounds are made of: constants that are off by so much of the range, half a step of each sum, half a step of the root. The
/// diagonal of two is at most their larger and `sqrt(2) - 1` of the smaller, and this is at most `1 / cos(pi / 8)` of it.
#[test]
fn the_error_is_that_of_constants_and_roundings() {
    for (name, rosette) in rosettes().into_iter().chain([narrow()]) {
        for range in [10.0, 50_000.0] {
            let error = rosette.fixed_error(Microstrain(range)).unwrap();
            let (rows, fraction, _) = rosette.fixed().constants();
            let mut off = [0.5f64; 3];
            for grid in 0..3 {
                let alone = rosette.float64().strain(std::array::from_fn(|k| f64::from(u8::from(k == grid))));
                let exact = [alone.mean(), (alone.x() - alone.y()) / 2.0, alone.shear() / 2.0];
                for ((off, row), exact) in off.iter_mut().zip(rows).zip(exact) {
                    let constant = f64::from(row[grid]) / f64::from(1u32 << fraction);
                    *off += (constant - exact).abs() * range * 1e-6 / STEP;
                }
            }
            let [mean, difference, shear] = off;
            let found =
                [error.component, error.half_shear, error.principal].map(|bound| bound.0 * 1e-9 / STEP);
            let diagonal = difference.hypot(shear) + 0.5;
            let most = 0.5 + (diagonal - 0.5) / std::f64::consts::FRAC_PI_8.cos();
            // What constants in double precision leave open: a thousandth of a step.
            assert!((found[0] - mean.max(difference).max(shear)).abs() < 1e-3, "{name}: {found:?} {off:?}");
            assert!(found[1] > diagonal - 1e-3 && found[1] < most + 1e-3, "{name}: {found:?} {off:?}");
            assert!((found[2] - mean - found[1]).abs() < 1e-3, "{name}: {found:?} {off:?}");
        }
    }
}

/// Sampled: 300 000 inputs of each, random within the range or near its ends. The double-precision kernel,
/// which is checked against 25 digits, is off by less than 1e-6 of a step.
#[test]
fn within_the_stated_error() {
    for (name, rosette) in rosettes() {
        for range in [2_000.0, 50_000.0] {
            let error = rosette.fixed_error(Microstrain(range)).unwrap();
            let (integers, exact) = (rosette.fixed(), rosette.float64());
            let end = (range * 1e-6 / STEP) as i32;
            let off = |bits: [i32; 3]| {
                let state = integers.strain(bits.map(fixed::Strain::from_bits));
                let principal = state.strain.principal();
                let double = exact.strain(bits.map(|bits| f64::from(bits) * STEP));
                if !(state.flags | principal.flags).is_clear() {
                    return [0.0; 3];
                }
                let apart = |found: fixed::Strain, exact: f64| (found.strain().0 - exact).abs() * 1e9;
                let greatest = double.principal();
                [
                    apart(state.strain.mean(), double.mean())
                        .max(apart(state.strain.half_difference(), (double.x() - double.y()) / 2.0))
                        .max(apart(state.strain.half_shear(), double.shear() / 2.0)),
                    apart(principal.strain.half_shear, greatest.shear / 2.0),
                    apart(principal.strain.first, greatest.first)
                        .max(apart(principal.strain.second, greatest.second)),
                ]
            };
            let mut random = Random(42);
            let mut seen = [0.0f64; 3];
            for k in 0..300_000u32 {
                let mut draw = |side: u32| {
                    let near = random.between(0, 3000);
                    // A quarter each: both ends of the range, and the whole.
                    match (k / 4u32.pow(side)) % 4 {
                        0 => end - near,
                        1 => near - end,
                        _ => random.between(-end, end),
                    }
                };
                let off = off([draw(0), draw(1), draw(2)]);
                seen = [0, 1, 2].map(|k| seen[k].max(off[k]));
            }
            let bounds = [error.component, error.half_shear, error.principal];
            println!("{name} within {range}: {seen:?} of {:?}", bounds.map(|bound| bound.0));
            for (seen, bound) in seen.into_iter().zip(bounds) {
                assert!(seen <= bound.0 + 1e-7, "{name}: {seen} beyond {bound}");
                assert!(seen > bound.0 / tolerance::SLACK, "{name}: {bound} is slack, {seen} seen");
            }
        }
    }
}

/// All states of the data, read as fixed point reads them, to the error of their range and the rounding of
/// the inputs.
#[test]
fn states_of_strain() {
    let mut compared = 0;
    for row in data("rosette_cases") {
        let plain = if row.text("rosette") == "rect" { Rosette::rectangular() } else { Rosette::delta() };
        let kt = |grid| Percent(row.number(&format!("kt_{grid}_pct")));
        let rosette = plain
            .transverse_sensitivity([kt('a'), kt('b'), kt('c')])
            .calibration_poisson_ratio(row.number("nu0"))
            .turned(Degrees(row.number("phi_deg")));
        let grids = ["ind_a_ue", "ind_b_ue", "ind_c_ue"]
            .map(|column| fixed::Strain::from_bits((row.number(column) * 1e-6 / STEP).round() as i32));
        let state = rosette.fixed().strain(grids);
        let principal = state.strain.principal();
        assert!((state.flags | principal.flags).is_clear(), "{}", row.text("case_id"));
        let range = grids.iter().map(|strain| strain.strain().microstrain().0.abs()).fold(1.0, f64::max);
        let error = rosette.fixed_error(Microstrain(range)).unwrap();
        // Half a step of each grid, by a gain of 2 with what transverse sensitivity adds.
        let inputs = 0.5 * STEP * 1e9 * 2.1 * 2.0;
        for (found, column) in [(principal.strain.first, "e1_ue"), (principal.strain.second, "e2_ue")] {
            let off = (found.strain().0 * 1e9 - row.number(column) * 1e3).abs();
            assert!(off <= error.principal.0 + inputs, "{}: {off}", row.text("case_id"));
        }
        compared += 1;
    }
    assert_eq!(compared, 621);
}

/// The root is the nearest: exhausted over small half differences and half shears, whose diagonals no double rounds otherwise.
#[test]
fn half_shear_is_the_nearest_root() {
    let kernel = Rosette::rectangular().fixed();
    for difference in -60..=60 {
        for shear in -60..=60 {
            let state = kernel.strain([difference, shear, -difference].map(fixed::Strain::from_bits)).strain;
            assert_eq!((state.mean().to_bits(), state.half_difference().to_bits()), (0, difference));
            let found = state.principal().strain.half_shear.to_bits();
            assert_eq!(f64::from(found), f64::from(difference).hypot(shear.into()).round());
        }
    }
}

/// Every combination of extreme inputs: no panic (these tests also run with overflow checks on), and held
/// where it must be.
#[test]
fn edges() {
    let edges = [i32::MIN, i32::MIN + 1, -1, 0, 1, 1 << 28, i32::MAX - 1, i32::MAX];
    for (name, rosette) in rosettes().into_iter().chain([narrow()]) {
        let (integers, exact) = (rosette.fixed(), rosette.float64());
        for a in edges {
            for b in edges {
                for c in edges {
                    let state = integers.strain([a, b, c].map(fixed::Strain::from_bits));
                    let double = exact.strain([a, b, c].map(|bits| f64::from(bits) * STEP));
                    let parts = [
                        (state.strain.mean(), double.mean()),
                        (state.strain.half_difference(), (double.x() - double.y()) / 2.0),
                        (state.strain.half_shear(), double.shear() / 2.0),
                    ];
                    let fits = |strain: f64| strain.abs() / STEP < 2_147_483_600.0;
                    let outside = |strain: f64| strain.abs() / STEP > 2_147_483_660.0;
                    if parts.iter().any(|(_, exact)| outside(*exact)) {
                        assert_eq!(state.flags, Flags::STRAIN_OUTSIDE, "{name} {a} {b} {c}");
                    } else if parts.iter().all(|(_, exact)| fits(*exact)) {
                        assert!(state.flags.is_clear(), "{name} {a} {b} {c}");
                    }
                    for (found, exact) in parts {
                        let held = exact.clamp(f64::from(i32::MIN) * STEP, f64::from(i32::MAX) * STEP);
                        assert!((found.strain().0 - held).abs() < 8.0 * STEP, "{name} {a} {b} {c}");
                    }
                    let principal = state.strain.principal();
                    // A step is a power of two: only what `f32` has no digits for is rounded, once.
                    let (double, single) = (state.strain.float64(), state.strain.float32());
                    let difference = state.strain.half_difference().strain().0 as f32;
                    assert_eq!(
                        (single.mean(), single.shear()),
                        (double.mean() as f32, double.shear() as f32)
                    );
                    assert_eq!(single.x(), single.mean() + difference);
                    let kept = double.principal();
                    for (found, exact) in [
                        (principal.strain.first, kept.first),
                        (principal.strain.second, kept.second),
                        (principal.strain.half_shear, kept.shear / 2.0),
                    ] {
                        let held = exact.clamp(f64::from(i32::MIN) * STEP, f64::from(i32::MAX) * STEP);
                        assert!((found.strain().0 - held).abs() < 1.6 * STEP, "{name} {a} {b} {c}");
                        if outside(exact) {
                            assert_eq!(principal.flags, Flags::STRAIN_OUTSIDE);
                        }
                    }
                }
            }
        }
    }
}

/// A rosette is 36 bytes in integers, and a flag of a grid is one of the state.
#[test]
fn size_and_flags() {
    assert_eq!(size_of::<FixedRosetteKernel>(), 36);
    assert_eq!(size_of::<RosetteKernel<f32>>(), 36);
    let kernel = Rosette::delta().fixed();
    let good = fixed::Reading { strain: fixed::Strain::from_bits(1 << 24), flags: Flags::CLEAR };
    for flag in [Flags::CODE_AT_RAIL, Flags::TEMPERATURE_OUTSIDE, Flags::STRAIN_OUTSIDE] {
        let bad = fixed::Reading { flags: flag, ..good };
        for grids in [[bad, good, good], [good, bad, good], [good, good, bad]] {
            assert_eq!(kernel.reading(grids).flags, flag);
        }
    }
    assert!(kernel.reading([good; 3]).flags.is_clear());
    let strains = [1 << 24, 3 << 22, -(1 << 23)].map(fixed::Strain::from_bits);
    let grids = strains.map(|strain| fixed::Reading { strain, ..good });
    assert_eq!(kernel.reading(grids), kernel.strain(strains));
    // The ends of the format are inside it: the mean of three alike.
    for end in [i32::MIN, i32::MAX].map(fixed::Strain::from_bits) {
        let state = Rosette::rectangular().fixed().strain([end; 3]);
        let principal = state.strain.principal();
        assert!((state.flags | principal.flags).is_clear() && principal.strain.first == end);
    }
}
