//! Rosettes: closed forms, general facts, properties. Each check names where its numbers come from.

use approx::assert_abs_diff_eq;
use gaugewright::numeric::Polynomial;
use gaugewright::rosette::*;
use gaugewright::units::*;
use gaugewright::{Flags, Gauge, float};
use proptest::prelude::*;
use support::{recipe, tolerance};

/// The difference of two directions, which are the same half a turn apart.
fn apart(one: f64, other: f64) -> f64 {
    let between = (one - other).rem_euclid(180.0);
    between.min(180.0 - between)
}

/// Directions all around, of states that `f32` holds exactly, and principal strains of the same: against the
/// system's library on numbers of twice the digits, and for `f64` against the angle itself.
#[test]
fn directions() {
    let (mut single_off, mut double_off, mut radius_off) = (0.0f64, 0.0f64, 0.0f64);
    for k in -8_999..=9_000 {
        let angle = f64::from(k) * 0.01;
        for size in [1e-9, 3.3e-4, 0.1] {
            let (sine, cosine) = (2.0 * angle.to_radians()).sin_cos();
            // A mean of zero: nothing is rounded on the way in.
            let found = PlaneStrain::new(size * cosine, -size * cosine, 2.0 * size * sine).principal();
            double_off = double_off.max(apart(found.direction.unwrap().0, angle));
            let (difference, shear) = ((size * cosine) as f32, (size * sine) as f32);
            let single = PlaneStrain::new(difference, -difference, 2.0 * shear).principal();
            let exact = 0.5 * f64::from(shear).atan2(f64::from(difference)).to_degrees();
            single_off = single_off.max(apart(f64::from(single.direction.unwrap().0), exact));
            let radius = f64::from(difference).hypot(f64::from(shear));
            radius_off = radius_off.max((f64::from(single.first) / radius - 1.0).abs() * 16_777_216.0);
        }
    }
    println!("direction: f32 {single_off:e}, f64 {double_off:e} degrees; root in f32 {radius_off} units");
    assert!(single_off <= tolerance::ROSETTE_SINGLE_DEGREES && double_off <= tolerance::ROSETTE_DEGREES);
    // Squares and sum before the root, which halves them, and the root itself: two units of roundoff.
    assert!(radius_off <= 2.01);
}

fn strains() -> impl Strategy<Value = [f64; 3]> {
    prop::array::uniform3(-5e-3..5e-3f64)
}

/// Closed forms of the trade for both rosettes (from memory; they follow from Mohr's circle in a few lines).
#[test]
fn closed_forms() {
    recipe::check("closed forms", 500, strains(), |[a, b, c]| {
        let scale = a.abs().max(b.abs()).max(c.abs());
        let near = |one: f64, other: f64| (one - other).abs() <= 1e-14 * scale;
        let found = Rosette::rectangular().float64().strain([a, b, c]).principal();
        let half = ((a - b).powi(2) + (b - c).powi(2)).sqrt() / 2f64.sqrt();
        prop_assert!(near(found.first, (a + c) / 2.0 + half) && near(found.second, (a + c) / 2.0 - half));
        let theta = 0.5 * (2.0 * b - a - c).atan2(a - c).to_degrees();
        prop_assert!(apart(found.direction.unwrap().0, theta) < 1e-10 * scale / half);

        let found = Rosette::delta().float64().strain([a, b, c]).principal();
        let mean = (a + b + c) / 3.0;
        let half = 2f64.sqrt() / 3.0 * ((a - b).powi(2) + (b - c).powi(2) + (c - a).powi(2)).sqrt();
        prop_assert!(near(found.first, mean + half) && near(found.second, mean - half));
        let theta = 0.5 * (3f64.sqrt() * (b - c)).atan2(2.0 * a - b - c).to_degrees();
        prop_assert!(apart(found.direction.unwrap().0, theta) < 1e-10 * scale / half);
        Ok(())
    });
}

/// The correction of a rectangular rosette whose grids have the same transverse sensitivity, as each grid's
/// own formula (derived by hand from what a grid shows: a and c are across each other, and across b lies a +
/// c - b).
#[test]
fn closed_form_of_transverse_correction() {
    let drawn = (strains(), -0.05..0.05f64, 0.2..0.4f64);
    recipe::check("transverse correction", 500, drawn, |([a, b, c], sensitivity, poisson)| {
        let rosette = Rosette::rectangular()
            .transverse_sensitivity([Percent(100.0 * sensitivity); 3])
            .calibration_poisson_ratio(poisson);
        let found = rosette.float64().strain([a, b, c]);
        let gain = (1.0 - poisson * sensitivity) / (1.0 - sensitivity * sensitivity);
        let (x, y) = (gain * (a - sensitivity * c), gain * (c - sensitivity * a));
        let along_b = gain * (b - sensitivity * (a + c - b));
        let near = |one: f64, other: f64| (one - other).abs() <= 3e-17;
        prop_assert!(near(found.x(), x) && near(found.y(), y) && near(found.along(Degrees(45.0)), along_b));
        Ok(())
    });
}

fn state() -> impl Strategy<Value = PlaneStrain<f64>> {
    (-5e-3..5e-3f64, -5e-3..5e-3f64, -8e-3..8e-3f64).prop_map(|(x, y, shear)| PlaneStrain::new(x, y, shear))
}

/// Any three angles at least 10 degrees apart, any transverse sensitivities up to 5 %.
fn any_rosette() -> impl Strategy<Value = Rosette> {
    (prop::array::uniform3(-180.0..180.0f64), prop::array::uniform3(-5.0..5.0f64), 0.2..0.4f64)
        .prop_filter("angles apart", |(angles, ..)| {
            (0..3).all(|k| apart(angles[k], angles[(k + 1) % 3]) >= 10.0)
        })
        .prop_map(|(angles, sensitivities, poisson)| {
            Rosette::at_angles(angles.map(Degrees))
                .transverse_sensitivity(sensitivities.map(Percent))
                .calibration_poisson_ratio(poisson)
        })
}

#[test]
fn what_the_grids_show_gives_the_state_back() {
    recipe::check("rosette there and back", 2000, (any_rosette(), state()), |(rosette, state)| {
        let found = rosette.float64().strain(rosette.indicated(&state).unwrap());
        // Three grids within 20 degrees magnify what is rounded a hundred times.
        for (one, other) in [(found.x(), state.x()), (found.y(), state.y()), (found.shear(), state.shear())] {
            prop_assert!((one - other).abs() < 1e-15, "{one:e} {other:e}");
        }
        Ok(())
    });
}

/// A grid sees the strain along it, and across, as a plain projection of the tensor says.
#[test]
fn a_grid_projects_the_state() {
    recipe::check("projection", 500, (any_rosette(), state()), |(rosette, state)| {
        let bare = Rosette::at_angles(rosette.angles());
        let shown = bare.indicated(&state).unwrap();
        for (angle, shown) in rosette.angles().into_iter().zip(shown) {
            let (sine, cosine) = angle.0.to_radians().sin_cos();
            let along = state.x() * cosine * cosine + state.y() * sine * sine + state.shear() * sine * cosine;
            prop_assert!((shown - along).abs() < 2e-17 && (state.along(angle) - along).abs() < 2e-17);
        }
        Ok(())
    });
}

#[test]
fn a_turned_rosette_sees_a_turned_direction() {
    let drawn = (any_rosette(), strains(), -170.0..170.0f64);
    recipe::check("turned", 500, drawn, |(rosette, grids, turn)| {
        let one = rosette.float64().strain(grids).principal();
        let other = rosette.turned(Degrees(turn)).float64().strain(grids).principal();
        // The same grids, so the same principal strains, and a direction that went with the rosette.
        let allowed = 1e-13 * (one.first.abs() + one.second.abs() + one.shear);
        prop_assert!(
            (one.first - other.first).abs() < allowed && (one.second - other.second).abs() < allowed
        );
        let (one, other) = (one.direction.unwrap().0, other.direction.unwrap().0);
        prop_assert!(apart(one + turn, other) < 1e-8, "{one} turned by {turn}: {other}");
        Ok(())
    });
}

/// What stays when axes turn (Mohr's circle): the sum of two strains at right angles, the greatest shear; and
/// the principal strains are the extreme ones of all directions.
#[test]
fn invariants() {
    recipe::check("invariants", 500, (state(), -90.0..90.0f64), |(state, angle)| {
        let principal = state.principal();
        let direction = principal.direction.unwrap().0;
        let (one, across) = (state.along(Degrees(angle)), state.along(Degrees(angle + 90.0)));
        prop_assert!((one + across - 2.0 * state.mean()).abs() < 1e-17);
        prop_assert!((principal.first + principal.second - state.x() - state.y()).abs() < 1e-17);
        prop_assert!(one <= principal.first + 1e-17 && one >= principal.second - 1e-17);
        prop_assert!((state.along(Degrees(direction)) - principal.first).abs() < 1e-16);
        prop_assert!((state.along(Degrees(direction + 90.0)) - principal.second).abs() < 1e-16);
        // Determinant of the tensor.
        let determinant = state.x() * state.y() - state.shear() * state.shear() / 4.0;
        prop_assert!((principal.first * principal.second - determinant).abs() < 1e-19);
        Ok(())
    });
}

/// Transverse sensitivity is zero by definition in uniaxial stress along a grid, on a material of the
/// calibration beam's Poisson ratio (ASTM E251): whatever it is, that grid shows the true strain.
#[test]
fn uniaxial_stress_on_the_calibration_beam() {
    for sensitivity in [-3.0, -0.5, 0.0, 1.0, 4.0] {
        let rosette = Rosette::rectangular().transverse_sensitivity([Percent(sensitivity); 3]);
        let [a, _, c] = rosette.indicated(&PlaneStrain::new(1e-3, -0.285e-3, 0.0)).unwrap();
        assert_abs_diff_eq!(a, 1e-3, epsilon = 1e-18);
        let expected =
            -0.285e-3 + sensitivity / 100.0 * 1e-3 * (1.0 - 0.285 * 0.285) / (1.0 - 0.00285 * sensitivity);
        assert_abs_diff_eq!(c, expected, epsilon = 1e-18);
        // Read as it stands, a material of another Poisson ratio is off by
        // K_t (nu_0 - nu) / (1 - nu_0 K_t) of the strain (common practice, no source).
        let [a, ..] = rosette.indicated(&PlaneStrain::new(1e-3, -0.33e-3, 0.0)).unwrap();
        let kt = sensitivity / 100.0;
        assert!((a / 1e-3 - 1.0 - kt * (0.285 - 0.33) / (1.0 - 0.285 * kt)).abs() < 1e-15);
    }
}

/// General facts of plane stress: bar, sphere, shaft.
#[test]
fn stresses_of_simple_bodies() {
    let elasticity = Material::new(Gigapascals(206.0), 0.3).at(Celsius(20.0)).unwrap();
    let principal =
        |x: f64, y: f64, shear: f64| elasticity.stress(&PlaneStrain::new(x, y, shear)).principal();
    let near = |one: Megapascals, other: f64| assert!((one.0 - other).abs() < 1e-10, "{one}, not {other}");
    // A bar: E times the strain; the equivalent stresses are the stress; pressed, the first is across and
    // zero.
    for strain in [8e-4, -8e-4] {
        let bar = principal(strain, -0.3 * strain, 0.0);
        near(bar.first, 206e3 * strain.max(0.0));
        near(bar.second, 206e3 * strain.min(0.0));
        near(bar.von_mises, 206e3 * 8e-4);
        near(bar.tresca, 206e3 * 8e-4);
        near(bar.in_plane_shear, 206e3 * 4e-4);
    }
    // A sphere under pressure: E / (1 - nu) times the strain, all shear out of the plane.
    let sphere = principal(5e-4, 5e-4, 0.0);
    near(sphere.first, 206e3 * 5e-4 / 0.7);
    near(sphere.von_mises, 206e3 * 5e-4 / 0.7);
    near(sphere.greatest_shear, 206e3 * 2.5e-4 / 0.7);
    assert_eq!((sphere.in_plane_shear.0, sphere.direction), (0.0, None));
    // A shaft in torsion: G times the shear, at 45 degrees.
    let shaft = principal(0.0, 0.0, 1e-3);
    near(shaft.first, 206e3 / 2.6 * 1e-3);
    near(shaft.second, -206e3 / 2.6 * 1e-3);
    near(shaft.von_mises, 3f64.sqrt() * 206e3 / 2.6 * 1e-3);
    assert_eq!(shaft.direction, Some(Degrees(45.0)));
}

/// A rectangular rosette that is labelled clockwise is the same with negative angles; half a turn of a grid
/// is no turn.
#[test]
fn numbering() {
    let grids = [812e-6, 350e-6, -244e-6];
    let one = Rosette::rectangular().float64().strain(grids).principal();
    let clockwise = Rosette::at_angles([Degrees(0.0), Degrees(-45.0), Degrees(-90.0)])
        .float64()
        .strain(grids)
        .principal();
    assert_abs_diff_eq!(one.first, clockwise.first, epsilon = 1e-18);
    assert!((one.direction.unwrap().0 + clockwise.direction.unwrap().0).abs() < 1e-12);
    let half = Rosette::at_angles([Degrees(180.0), Degrees(-135.0), Degrees(270.0)]);
    assert_eq!(half.float64(), Rosette::rectangular().float64());
    let star = Rosette::at_angles([Degrees(0.0), Degrees(240.0), Degrees(120.0)]).float64().strain(grids);
    let delta = Rosette::delta().float64().strain(grids);
    assert_abs_diff_eq!(star.shear(), delta.shear(), epsilon = 1e-18);
    assert_abs_diff_eq!(star.x(), delta.x(), epsilon = 1e-18);
}

/// Directions at the ends of their range, signs of zero included.
#[test]
fn ends_of_the_direction() {
    fn direction(x: f64, y: f64, shear: f64) -> Option<f64> {
        let double = PlaneStrain::<f64>::new(x, y, shear).principal().direction;
        let single = PlaneStrain::<f32>::new(x as f32, y as f32, shear as f32).principal().direction;
        assert_eq!(double.map(|angle| angle.0 as f32), single.map(|angle| angle.0));
        double.map(|angle| angle.0)
    }
    assert_eq!(direction(1.0, 0.0, 0.0), Some(0.0));
    assert_eq!(direction(1.0, 0.0, -0.0), Some(0.0));
    assert_eq!(direction(0.0, 1.0, 0.0), Some(90.0));
    assert_eq!(direction(0.0, 1.0, -0.0), Some(90.0));
    assert_eq!(direction(0.0, 1.0, -1e-30), Some(90.0));
    assert_eq!(direction(0.0, 1.0, 1e-30), Some(90.0));
    assert_eq!(direction(0.0, 0.0, 1.0), Some(45.0));
    assert_eq!(direction(0.0, 0.0, -1.0), Some(-45.0));
    assert_eq!(direction(1.0, 1.0, 0.0), None);
    assert_eq!(direction(0.0, -0.0, -0.0), None);
}

/// Flags of all grids reach the state; transverse sensitivities come from the packages.
#[test]
fn readings_and_packages() {
    let kernel = Rosette::delta().float64();
    let reading = |strain, flags| float::Reading { strain, flags };
    let [a, b, c] = [
        reading(1e-3, Flags::STRAIN_OUTSIDE),
        reading(2e-3, Flags::CLEAR),
        reading(0.0, Flags::CODE_AT_RAIL),
    ];
    let state = kernel.reading([a, b, c]);
    assert_eq!(state.flags, Flags::STRAIN_OUTSIDE | Flags::CODE_AT_RAIL);
    assert_eq!(state.strain, kernel.strain([1e-3, 2e-3, 0.0]));
    assert!(kernel.reading([b, b, b]).checked().is_some());

    let package = |kt: f64, poisson: f64| {
        Gauge::new(GaugeFactor(2.0)).transverse_sensitivity(Percent(kt)).calibration_poisson_ratio(poisson)
    };
    let gauges = [package(0.5, 0.285), package(0.9, 0.285), package(-0.4, 0.285)];
    let one = Rosette::rectangular().gauges(&gauges);
    let other = Rosette::rectangular().transverse_sensitivity([Percent(0.5), Percent(0.9), Percent(-0.4)]);
    assert_eq!(one, other);
    let poisson = Rosette::rectangular().gauges(&[package(0.5, 0.3); 3]);
    let same =
        Rosette::rectangular().transverse_sensitivity([Percent(0.5); 3]).calibration_poisson_ratio(0.3);
    assert_eq!(poisson, same);
}

/// Modulus against temperature: the slope is that of the value at the reference, a polynomial is in GPa.
#[test]
fn modulus_at_temperature() {
    let range = (Celsius(-100.0), Celsius(200.0));
    let sloping = Material::new(Gigapascals(70.0), 0.33)
        .modulus_slope(PercentPer100C(-5.0), Celsius(20.0))
        .between(range.0, range.1);
    let polynomial = Material::polynomial(Polynomial::new([70.7, -0.035]), 0.33).between(range.0, range.1);
    for (celsius, exact) in [(20.0, 70_000.0), (120.0, 66_500.0), (-80.0, 73_500.0)] {
        for material in [sloping, polynomial] {
            let modulus = material.at(Celsius(celsius)).unwrap().modulus().0;
            assert!((modulus - exact).abs() < 1e-9, "{modulus} at {celsius}");
        }
    }
    // The same strain is less stress when it is hot.
    let strain = PlaneStrain::new(1e-3, -0.33e-3, 0.0);
    let stress = |celsius| sloping.at(Celsius(celsius)).unwrap().stress(&strain).principal().first.0;
    assert_abs_diff_eq!(stress(120.0), 66.5, epsilon = 1e-12);
    assert_abs_diff_eq!(stress(20.0), 70.0, epsilon = 1e-12);
}
