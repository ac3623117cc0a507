//! Uncertainty of a rosette's results against Monte Carlo (JCGM 101:2008), with a fixed seed; and what is
//! stated where there is no first order.

use approx::assert_abs_diff_eq;
use gaugewright::rosette::*;
use gaugewright::units::*;
use proptest::prelude::*;
use support::{Random, recipe, tolerance};

/// JCGM 101:2008, 7.2.2: a million trials give a 95 % interval to one or two significant digits.
const TRIALS: usize = 1_000_000;

/// Standard normal numbers in pairs (Box and Muller, 1958).
struct Normal(Random);

impl Normal {
    fn uniform(&mut self) -> f64 {
        ((self.0.bits() >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn pair(&mut self) -> [f64; 2] {
        let (size, angle) = ((-2.0 * self.uniform().ln()).sqrt(), std::f64::consts::TAU * self.uniform());
        [size * angle.cos(), size * angle.sin()]
    }
}

/// What is drawn: independent standard deviations, a cause that all share, modulus and Poisson ratio.
#[derive(Clone, Copy)]
struct Case {
    rosette: Rosette,
    strains: [f64; 3],
    own: [f64; 3],
    shared: [f64; 3],
    modulus: (f64, f64),
    poisson: (f64, f64),
}

const PLAIN: Case = Case {
    rosette: Rosette::rectangular(),
    strains: [812.0, 350.0, -244.0],
    own: [2.0; 3],
    shared: [0.0; 3],
    modulus: (206.0, 0.0),
    poisson: (0.29, 0.0),
};

impl Case {
    fn grids(&self) -> GridUncertainty {
        let micro = |values: [f64; 3]| values.map(Microstrain);
        GridUncertainty::independent(micro(self.own)).unwrap().shared(micro(self.shared)).unwrap()
    }

    fn elasticity(&self) -> Elasticity<f64> {
        Material::new(Gigapascals(self.modulus.0), self.poisson.0)
            .modulus_uncertainty(Percent(100.0 * self.modulus.1))
            .poisson_uncertainty(self.poisson.1)
            .at(Celsius(20.0))
            .unwrap()
    }

    fn estimates(&self) -> (StrainEstimate<f64>, StressEstimate<f64>) {
        let kernel = self.rosette.float64();
        let covariance = kernel.covariance(&self.grids());
        let strain = kernel.strain(self.strains.map(|strain| strain * 1e-6));
        (strain.estimate(&covariance), self.elasticity().estimate(&strain, &covariance))
    }

    /// Every result, a million times, through the whole chain: strains, state, stresses.
    fn trials(&self, count: usize) -> Vec<[f64; NAMES.len()]> {
        let mut normal = Normal(Random(2008));
        let kernel = self.rosette.float64();
        (0..count)
            .map(|_| {
                let drawn = [normal.pair(), normal.pair(), normal.pair()];
                let [[a, b], [c, shared], [modulus, poisson]] = drawn;
                let own = [a, b, c];
                let grids: [f64; 3] = std::array::from_fn(|k| {
                    (self.strains[k] + self.own[k] * own[k] + self.shared[k] * shared) * 1e-6
                });
                let strain = kernel.strain(grids);
                let elasticity = Material::new(
                    Gigapascals(self.modulus.0 * (1.0 + self.modulus.1 * modulus)),
                    self.poisson.0 + self.poisson.1 * poisson,
                )
                .at(Celsius(20.0))
                .unwrap();
                let (principal, stress) = (strain.principal(), elasticity.stress(&strain));
                let stresses = stress.principal();
                [
                    strain.x(),
                    strain.y(),
                    strain.shear(),
                    principal.first,
                    principal.second,
                    principal.shear,
                    principal.direction.map_or(f64::NAN, |direction| direction.0),
                    stress.x().0,
                    stress.y().0,
                    stress.xy_shear().0,
                    stresses.first.0,
                    stresses.second.0,
                    stresses.in_plane_shear.0,
                    stresses.von_mises.0,
                    stresses.tresca.0,
                ]
            })
            .collect()
    }

    /// The same results with their standard uncertainties, in the same order.
    fn first_order(&self) -> [(f64, f64); NAMES.len()] {
        let (strain, stress) = self.estimates();
        let of = |estimate: Estimate<f64>| (estimate.value, estimate.uncertainty);
        let pressure = |estimate: Estimate<Megapascals>| (estimate.value.0, estimate.uncertainty.0);
        let direction =
            strain.direction.map_or((f64::NAN, f64::NAN), |found| (found.value.0, found.uncertainty.0));
        [
            of(strain.x),
            of(strain.y),
            of(strain.xy_shear),
            of(strain.first),
            of(strain.second),
            of(strain.shear),
            direction,
            pressure(stress.x),
            pressure(stress.y),
            pressure(stress.xy_shear),
            pressure(stress.first),
            pressure(stress.second),
            pressure(stress.in_plane_shear),
            pressure(stress.von_mises),
            pressure(stress.tresca),
        ]
    }
}

const NAMES: [&str; 15] = [
    "x",
    "y",
    "xy shear",
    "first",
    "second",
    "shear",
    "direction",
    "stress x",
    "stress y",
    "stress xy",
    "stress first",
    "stress second",
    "in-plane shear",
    "von Mises",
    "Tresca",
];
const DIRECTION: usize = 6;
const TRESCA: usize = 14;

fn column(trials: &[[f64; NAMES.len()]], index: usize) -> Vec<f64> {
    trials.iter().map(|trial| trial[index]).collect()
}

/// The value that `rank` others are below.
fn ranked(values: &mut [f64], rank: usize) -> f64 {
    *values.select_nth_unstable_by(rank, f64::total_cmp).1
}

fn mean_and_deviation(values: &[f64]) -> (f64, f64) {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    (mean, (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (count - 1.0)).sqrt())
}

/// JCGM 101:2008, 7.9.2: half of the last significant digit of a standard uncertainty.
fn tolerance_of(uncertainty: f64, digits: i32) -> f64 {
    0.5 * 10f64.powi(uncertainty.log10().floor() as i32 + 1 - digits)
}

/// The validation of JCGM 101:2008, section 8: both ends of the 95 % interval agree to the second digit of
/// the standard uncertainty, which is 0.005 to 0.05 of it. The trials themselves know an end to 0.0027 of it
/// (one standard deviation of a million); the fifth of the tolerance that 8.2 asks for would take ten million
/// and more where the digits are large.
///
/// The principal strains here differ by hundreds of times their uncertainty; what becomes of first order
/// below that is measured by `resolution`. Where modulus and Poisson ratio are uncertain, stresses are
/// products and curve with the latter: they agree to the first digit. The standard uncertainty itself is
/// within 2 % of the trials' everywhere.
#[test]
fn first_order_is_validated() {
    let sensitive = [Percent(0.6), Percent(-1.3), Percent(2.1)];
    let elastic = Case { modulus: (69.0, 0.01), poisson: (0.33, 0.01), ..PLAIN };
    let cases = [
        ("rectangular", PLAIN),
        ("delta, modulus, Poisson ratio", Case { rosette: Rosette::delta(), ..elastic }),
        (
            "sensitive, unequal, shared",
            Case {
                rosette: Rosette::rectangular().transverse_sensitivity(sensitive),
                own: [0.5, 1.5, 1.0],
                shared: [2.0, 2.0, -1.25],
                ..elastic
            },
        ),
        (
            "any angles",
            Case {
                rosette: Rosette::at_angles([Degrees(3.0), Degrees(41.0), Degrees(112.0)])
                    .transverse_sensitivity(sensitive),
                strains: [-1200.0, -650.0, 900.0],
                shared: [5.0, 5.5, 6.0],
                ..elastic
            },
        ),
        ("pressed along both axes", Case { strains: [-900.0, -1400.0, -2000.0], ..elastic }),
        ("Poisson ratio nearly known", Case { poisson: (0.33, 0.003), shared: [3.0; 3], ..elastic }),
    ];
    for (name, case) in cases {
        let trials = case.trials(TRIALS);
        for (index, (value, uncertainty)) in case.first_order().into_iter().enumerate() {
            let mut values = column(&trials, index);
            let (mean, deviation) = mean_and_deviation(&values);
            let (low, high) = (ranked(&mut values, TRIALS / 40), ranked(&mut values, TRIALS - TRIALS / 40));
            let what = format!(
                "{name}, {}: {value} +- {uncertainty}, trials {mean} +- {deviation}, {low} to {high}",
                NAMES[index]
            );
            if index == TRESCA {
                // An upper bound.
                assert!(deviation <= uncertainty * 1.003, "{what}");
                continue;
            }
            let products = index > DIRECTION && case.modulus.1 + case.poisson.1 > 0.0;
            let allowed = tolerance_of(uncertainty, if products { 1 } else { 2 });
            assert!((value - 1.959964 * uncertainty - low).abs() <= allowed, "{what}");
            assert!((value + 1.959964 * uncertainty - high).abs() <= allowed, "{what}");
            assert!((deviation - uncertainty).abs() <= 0.02 * uncertainty, "{what}");
        }
    }
}

/// The validation can fail: an uncertainty of the Poisson ratio left out, a correlation left out, one third
/// more in a grid.
#[test]
fn faults_are_not_validated() {
    let right = Case { shared: [4.0; 3], modulus: (69.0, 0.0), poisson: (0.33, 0.02), ..PLAIN };
    let trials = right.trials(100_000);
    let spread = |index| mean_and_deviation(&column(&trials, index)).1;
    let ratio = |case: Case, index: usize| case.first_order()[index].1 / spread(index);
    let (first, y) = (3, 8);
    assert_abs_diff_eq!(ratio(right, first), 1.0, epsilon = 0.01);
    assert_abs_diff_eq!(ratio(right, y), 1.0, epsilon = 0.01);
    let no_poisson = Case { poisson: (0.33, 0.0), ..right };
    assert!((ratio(no_poisson, y) - 1.0).abs() > 0.1);
    // As large, but each for itself.
    let no_correlation = Case { own: [20f64.sqrt(); 3], shared: [0.0; 3], ..right };
    assert!((ratio(no_correlation, 5) - 1.0).abs() > 0.3, "{}", ratio(no_correlation, 5));
    let more = Case { own: [8.0 / 3.0, 2.0, 2.0], ..right };
    assert!((ratio(more, first) - 1.0).abs() > 0.03, "{}", ratio(more, first));
}

/// As the difference of the principal strains comes down to its uncertainty: what StrainEstimate says of
/// first order, and of what is left below.
#[test]
fn resolution() {
    // Largest uncertainty of half difference and half shear over that of a grid: a delta is the same in all
    // directions, a rectangular rosette knows shear worst.
    for (rosette, largest) in [(Rosette::delta(), 2f64 / 3.0), (Rosette::rectangular(), 1.5)] {
        for (times, allowed) in [(4.0, 0.045), (10.0, 0.01), (30.0, 0.004)] {
            let radius = 1.0001 * times * 2.0 * largest.sqrt();
            let state = PlaneStrain::new((200.0 + radius) * 1e-6, (200.0 - radius) * 1e-6, 0.0);
            let strains = rosette.indicated(&state).unwrap().map(|strain| strain * 1e6);
            let case = Case { rosette, strains, ..PLAIN };
            assert!(case.estimates().0.resolved);
            let trials = case.trials(TRIALS);
            for (index, (_, uncertainty)) in case.first_order().into_iter().enumerate().take(DIRECTION + 1) {
                let (_, deviation) = mean_and_deviation(&column(&trials, index));
                let off = deviation / uncertainty - 1.0;
                println!("{times} times, {}: {off:+.4}", NAMES[index]);
                assert!(off.abs() <= allowed, "{times} times, {}: {off}", NAMES[index]);
            }
        }
    }
    let sensitive = [Percent(0.6), Percent(-1.3), Percent(2.1)];
    for (rosette, own, shared) in [
        (Rosette::delta(), [2.0; 3], [0.0; 3]),
        (Rosette::rectangular(), [2.0; 3], [0.0; 3]),
        (Rosette::rectangular().transverse_sensitivity(sensitive), [1.0, 3.0, 2.0], [4.0, 4.0, -2.5]),
    ] {
        for radius in [0.0, 0.3, 2.0, 6.0] {
            for mean in [0.0, 200.0] {
                let state = PlaneStrain::new((mean + radius) * 1e-6, (mean - radius) * 1e-6, 0.0);
                let strains = rosette.indicated(&state).unwrap().map(|strain| strain * 1e6);
                let case =
                    Case { rosette, strains, own, shared, modulus: (69.0, 0.01), poisson: (0.33, 0.01) };
                let (strain, stress) = case.estimates();
                assert!(!strain.resolved && strain.direction.is_none());
                assert!(!stress.resolved && stress.direction.is_none());
                let trials = case.trials(TRIALS / 10);
                let largest = strain.shear.uncertainty / 2.0;
                for (index, (value, uncertainty)) in case.first_order().into_iter().enumerate() {
                    assert!(index == DIRECTION || (value.is_finite() && uncertainty.is_finite()));
                    if index == DIRECTION {
                        continue;
                    }
                    let (found, deviation) = mean_and_deviation(&column(&trials, index));
                    let what =
                        format!("{} of {mean} +- {radius}: {deviation} of {uncertainty}", NAMES[index]);
                    assert!(deviation <= uncertainty * 1.005, "{what}");
                    // Of use: no more than three times.
                    assert!(deviation >= uncertainty / 3.0, "{what}");
                    // Found too far apart, by 1.3 of the largest at most.
                    if index == 3 {
                        assert!(
                            (-0.01..=1.3).contains(&((found - value) / largest)),
                            "{what}, {found} {value}"
                        );
                    }
                    if index == 4 {
                        assert!(
                            (-1.3..=0.01).contains(&((found - value) / largest)),
                            "{what}, {found} {value}"
                        );
                    }
                }
            }
        }
    }
}

/// Every stress is the modulus times what the strains make of it: where only the modulus is uncertain, its part of each.
#[test]
fn of_the_modulus_alone() {
    let case = Case { own: [0.0; 3], modulus: (69.0, 0.02), ..PLAIN };
    let elasticity = case.elasticity();
    assert_eq!((elasticity.modulus_uncertainty().0, elasticity.poisson_uncertainty()), (1_380.0, 0.0));
    for strains in [PLAIN.strains, [300.0, -500.0, 700.0], [-900.0, -1_900.0, -200.0]] {
        let (_, stress) = Case { strains, ..case }.estimates();
        let parts = [
            stress.x,
            stress.y,
            stress.xy_shear,
            stress.first,
            stress.second,
            stress.in_plane_shear,
            stress.von_mises,
        ];
        for Estimate { value, uncertainty } in parts {
            assert_abs_diff_eq!(uncertainty.0, 0.02 * value.0.abs(), epsilon = 1e-12);
        }
        assert_eq!(stress.direction.unwrap().uncertainty.0, 0.0);
    }
    assert_eq!(Case { poisson: (0.29, 0.01), ..case }.elasticity().poisson_uncertainty(), 0.01);
}

/// Below four times its largest uncertainty, which is that of a part without load, von Mises has this one, and from there on that of
/// its direction, which is less.
#[test]
fn von_mises_of_a_small_load() {
    let of = |strains| Case { strains, ..PLAIN }.estimates().1.von_mises;
    let (none, one) = (of([0.0; 3]).uncertainty.0, of([1.0, 0.5, -0.3]).value.0);
    for (times, is_first_order) in [(3.9, false), (4.1, true)] {
        let found = of([1.0, 0.5, -0.3].map(|strain| strain * times * none / one));
        assert_abs_diff_eq!(found.value.0 / none, times, epsilon = 1e-9);
        assert_eq!(found.uncertainty.0 < 0.9 * none, is_first_order, "{found:?} {none}");
    }
}

/// Nothing known to be uncertain is certain, equal strains included; and `f32` gives what `f64` gives.
#[test]
fn certain_and_single() {
    let kernel = Rosette::rectangular().float64();
    let certain = kernel.covariance(&GridUncertainty::independent([Microstrain(0.0); 3]).unwrap());
    let even = kernel.strain([1e-3; 3]).estimate(&certain);
    assert!(!even.resolved && even.direction.is_none());
    assert_eq!((even.first.uncertainty, even.second.uncertainty, even.shear.uncertainty), (0.0, 0.0, 0.0));
    let uneven = kernel.strain([1e-3, 1e-3, 1.000_001e-3]).estimate(&certain);
    assert!(uneven.resolved && uneven.direction.unwrap().uncertainty.0 == 0.0);

    let drawn = (
        prop::array::uniform3(-3e-3..3e-3f64),
        prop::array::uniform3(0.1..20.0f64),
        prop::array::uniform3(-20.0..20.0f64),
    );
    recipe::check("uncertainty in f32", 500, drawn, |(strains, own, shared)| {
        let strains = strains.map(|strain| strain as f32);
        let rosette = Rosette::delta().transverse_sensitivity([Percent(0.6), Percent(-1.3), Percent(2.1)]);
        let grids = GridUncertainty::independent(own.map(Microstrain)).unwrap();
        let grids = grids.shared(shared.map(Microstrain)).unwrap();
        let elasticity = PLAIN.elasticity();
        let (double, single) = (rosette.float64(), rosette.float32());
        let one = double.strain(strains.map(f64::from));
        let other = single.strain(strains);
        let (one_covariance, other_covariance) = (double.covariance(&grids), single.covariance(&grids));
        let (one_stress, other_stress) = (
            elasticity.estimate(&one, &one_covariance),
            elasticity.float32().estimate(&other, &other_covariance),
        );
        let (one, other) = (one.estimate(&one_covariance), other.estimate(&other_covariance));
        prop_assume!(one.resolved && other.resolved);
        let close = |one: f64, other: f32| {
            (f64::from(other) / one - 1.0).abs() <= tolerance::ROSETTE_SINGLE_UNCERTAINTY
        };
        prop_assert!(close(one.first.uncertainty, other.first.uncertainty));
        prop_assert!(close(one.second.uncertainty, other.second.uncertainty));
        prop_assert!(close(one.shear.uncertainty, other.shear.uncertainty));
        prop_assert!(close(one.direction.unwrap().uncertainty.0, other.direction.unwrap().uncertainty.0));
        prop_assert!(close(one_stress.first.uncertainty.0, other_stress.first.uncertainty.0));
        prop_assert!(close(one_stress.von_mises.uncertainty.0, other_stress.von_mises.uncertainty.0));
        Ok(())
    });
}
