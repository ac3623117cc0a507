//! Errors of the grids' angles: first order against a rosette that is really turned, and against Monte Carlo.

use gaugewright::rosette::*;
use gaugewright::units::*;
use support::Random;

const SENSITIVE: [f64; 3] = [0.6, -1.3, 2.1];

fn states() -> [PlaneStrain<f64>; 4] {
    [(812e-6, -244e-6, 130e-6), (-900e-6, -1400e-6, -300e-6), (0.0, 0.0, 1e-3), (400e-6, 400e-6, 0.0)]
        .map(|(x, y, shear)| PlaneStrain::new(x, y, shear))
}

fn parts(strain: &PlaneStrain<f64>) -> [f64; 3] {
    [strain.mean(), (strain.x() - strain.y()) / 2.0, strain.shear() / 2.0]
}

fn variances(covariance: &Covariance<f64>) -> [f64; 6] {
    [
        covariance.mean,
        covariance.difference,
        covariance.shear,
        covariance.mean_difference,
        covariance.mean_shear,
        covariance.difference_shear,
    ]
}

fn products([mean, difference, shear]: [f64; 3]) -> [f64; 6] {
    [mean * mean, difference * difference, shear * shear, mean * difference, mean * shear, difference * shear]
}

/// Grids that are really off by a thousandth of a degree, one by one and all together, read by a kernel that takes them as stated.
fn by_differences<const N: usize>(rosette: Rosette<N>, angles: [f64; N], percent: [f64; N]) {
    let kernel = rosette.float64();
    let off = 1e-3;
    for state in states() {
        let changed = |by: [f64; N]| {
            let shown = |sign: f64| {
                let angles = std::array::from_fn(|k| Degrees(angles[k] + sign * by[k]));
                let really = Rosette::at_angles(angles).transverse_sensitivity(percent.map(Percent));
                parts(&kernel.strain(really.indicated(&state).unwrap()))
            };
            let (up, down) = (shown(1.0), shown(-1.0));
            [0, 1, 2].map(|part| (up[part] - down[part]) / 2.0)
        };
        let each = |grid: usize| std::array::from_fn(|k| if k == grid { off } else { 0.0 });
        let expected = (0..N)
            .map(|grid| products(changed(each(grid))))
            .fold([0.0; 6], |sum, one| std::array::from_fn(|k| sum[k] + one[k]));
        let angles = rosette.angle_uncertainty::<f64>([Degrees(off); N], Degrees(0.0)).unwrap();
        let largest = parts(&state).into_iter().fold(0.0f64, |largest, part| largest.max(part.abs()));
        let allowed = 1e-5 * (2.0 * largest * off.to_radians()).powi(2);
        for (found, expected) in variances(&angles.covariance(&state)).into_iter().zip(expected) {
            assert!((found - expected).abs() <= allowed, "{N} grids: {found:e} {expected:e}");
        }
        let angles = rosette.angle_uncertainty::<f64>([Degrees(0.0); N], Degrees(off)).unwrap();
        let found = variances(&angles.covariance(&state));
        let expected = products(changed([off; N]));
        for (k, (found, expected)) in found.into_iter().zip(expected).enumerate() {
            // Two grids do not see that they are turned: their shear is stated, and moves as that of any rosette.
            if N > 2 || [0, 1, 3].contains(&k) {
                assert!((found - expected).abs() <= allowed, "{N} grids, turned: {found:e} {expected:e}");
            }
        }
        assert!((found[2].sqrt() - 2.0 * parts(&state)[1].abs() * off.to_radians()).abs() <= 1e-18);
    }
}

#[test]
fn first_order() {
    let with = |rosette: Rosette| rosette.transverse_sensitivity(SENSITIVE.map(Percent));
    by_differences(with(Rosette::rectangular()), [0.0, 45.0, 90.0], SENSITIVE);
    by_differences(with(Rosette::delta().turned(Degrees(17.0))), [17.0, 77.0, 137.0], SENSITIVE);
    let five = [0.0, 30.0, 77.0, 101.0, -40.0];
    by_differences(Rosette::at_angles(five.map(Degrees)), five, [0.0; 5]);
    let two = [10.0, 80.0];
    let pair = Rosette::at_angles(two.map(Degrees)).transverse_sensitivity([Percent(1.5); 2]);
    // States without shear along the axes are what two grids are for; the others test the formula as well.
    by_differences(pair, two, [1.5; 2]);
}

/// Monte Carlo (200 000 trials, fixed seed) of angles and strains together, through the whole chain: standard deviations of the
/// results within 1 %. Without the angles those of shear and direction would be less than half.
#[test]
fn trials() {
    let rosette = Rosette::rectangular();
    let kernel = rosette.float64();
    let truth = PlaneStrain::new(812e-6, -244e-6, 130e-6);
    let (each, whole, noise) = (0.3, 0.5, 2.0);
    let grids = kernel.covariance(&GridUncertainty::independent([Microstrain(noise); 3]).unwrap());
    let angles = rosette.angle_uncertainty::<f64>([Degrees(each); 3], Degrees(whole)).unwrap();
    let estimate = truth.estimate(&(grids + angles.covariance(&truth)));
    let without = truth.estimate(&grids);

    let mut random = Random(31);
    // The sum of twelve uniform numbers less six has mean 0 and variance 1.
    let mut normal = || (0..12).map(|_| f64::from(random.between(0, 1_000_000)) * 1e-6).sum::<f64>() - 6.0;
    let trials = 200_000;
    let mut sums = [[0.0; 2]; 5];
    for _ in 0..trials {
        let together = whole * normal();
        let really = rosette.angles().map(|angle| Degrees(angle.0 + together + each * normal()));
        let shown = Rosette::at_angles(really).indicated(&truth).unwrap();
        let state = kernel.strain(shown.map(|strain| strain + noise * 1e-6 * normal()));
        let principal = state.principal();
        let results =
            [state.x(), state.shear(), principal.first, principal.second, principal.direction.unwrap().0];
        for (sum, result) in sums.iter_mut().zip(results) {
            *sum = [sum[0] + result, sum[1] + result * result];
        }
    }
    let stated = |estimate: &StrainEstimate<f64>| {
        let StrainEstimate { x, xy_shear, first, second, direction, .. } = *estimate;
        [x, xy_shear, first, second]
            .map(|one| one.uncertainty)
            .into_iter()
            .chain([direction.unwrap().uncertainty.0])
    };
    for (k, ((sum, stated), without)) in
        sums.into_iter().zip(stated(&estimate)).zip(stated(&without)).enumerate()
    {
        let mean = sum[0] / f64::from(trials);
        let deviation = (sum[1] / f64::from(trials) - mean * mean).sqrt();
        assert!((deviation / stated - 1.0).abs() < 0.01, "{deviation:e} of {stated:e}");
        assert!(
            without < deviation * if k == 1 || k == 4 { 0.5 } else { 1.01 },
            "{k}: {without:e} of {deviation:e}"
        );
    }
}

/// `f32` gives what `f64` gives.
#[test]
fn single_precision() {
    let rosette = Rosette::delta().transverse_sensitivity(SENSITIVE.map(Percent));
    let each = [Degrees(0.3), Degrees(0.1), Degrees(0.2)];
    let double = rosette.angle_uncertainty::<f64>(each, Degrees(1.5)).unwrap();
    let single = rosette.angle_uncertainty::<f32>(each, Degrees(1.5)).unwrap();
    for state in states() {
        let same = PlaneStrain::new(state.x() as f32, state.y() as f32, state.shear() as f32);
        let (one, other) = (double.covariance(&state), single.covariance(&same));
        let scale = one.difference + one.shear + one.mean;
        for (one, other) in
            [(one.mean, other.mean), (one.shear, other.shear), (one.difference, other.difference)]
        {
            assert!((one - f64::from(other)).abs() <= 1e-5 * scale, "{one:e} {other:e}");
        }
    }
}
