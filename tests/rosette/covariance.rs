//! Covariance of a rosette's state against what follows by hand: correlation, a cause that all grids share, the
//! largest uncertainty in the plane.

use approx::assert_abs_diff_eq;
use gaugewright::rosette::*;
use gaugewright::units::*;

/// The correlated form and the shared cause are the same thing; full correlation moves the mean alone where
/// all grids move alike.
#[test]
fn correlation_and_shared_cause() {
    let standard = 20f64.sqrt();
    let one =
        GridUncertainty::independent([Microstrain(2.0); 3]).unwrap().shared([Microstrain(4.0); 3]).unwrap();
    let other = GridUncertainty::correlated([Microstrain(standard); 3], [0.8; 3]).unwrap();
    for kernel in [Rosette::delta().float64(), Rosette::rectangular().float64()] {
        let (one, other) = (kernel.covariance(&one), kernel.covariance(&other));
        for (one, other) in [
            (one.mean, other.mean),
            (one.difference, other.difference),
            (one.shear, other.shear),
            (one.mean_difference, other.mean_difference),
            (one.mean_shear, other.mean_shear),
            (one.difference_shear, other.difference_shear),
        ] {
            assert_abs_diff_eq!(one, other, epsilon = 1e-25);
        }
    }
    let together = GridUncertainty::correlated([Microstrain(5.0); 3], [1.0; 3]).unwrap();
    let kernel = Rosette::rectangular().float64();
    let estimate = kernel.strain([812e-6, 350e-6, -244e-6]).estimate(&kernel.covariance(&together));
    assert!((estimate.first.uncertainty - 5e-6).abs() < 1e-12 && estimate.shear.uncertainty < 1e-12);
    assert!(estimate.direction.unwrap().uncertainty.0 < 1e-6);
    // Grid by grid: a and b together are not b and c together.
    let uneven = GridUncertainty::correlated([Microstrain(1.0); 3], [0.9, 0.0, 0.0]).unwrap();
    let covariance = kernel.covariance(&uneven);
    // Mean is (a + c) / 2, half difference (a - c) / 2, half shear b - (a + c) / 2.
    assert_abs_diff_eq!(covariance.mean * 1e12, 0.5, epsilon = 1e-12);
    assert_abs_diff_eq!(covariance.mean_shear * 1e12, 0.45 - 0.5, epsilon = 1e-12);
    assert_abs_diff_eq!(covariance.difference_shear * 1e12, 0.45, epsilon = 1e-12);
}

/// Where nothing is resolved the largest uncertainty in the plane is that of shear for a rectangular rosette
/// (b less the mean of a and c: the root of 3/2), however its axes are turned, and for a delta the same all
/// round (the root of 2/3).
#[test]
fn largest_in_the_plane() {
    let grids = GridUncertainty::independent([Microstrain(2.0); 3]).unwrap();
    for (rosette, variance) in [(Rosette::rectangular(), 1.5f64), (Rosette::delta(), 2.0 / 3.0)] {
        for turn in [0.0, 10.0, 22.5, 45.0, -70.0] {
            let kernel = rosette.turned(Degrees(turn)).float64();
            let even = kernel.strain([1e-3; 3]).estimate(&kernel.covariance(&grids));
            let largest = 2e-6 * variance.sqrt();
            assert!((even.shear.uncertainty / (2.0 * largest) - 1.0).abs() < 1e-12, "turned {turn}");
            // The mean of either: that of a and c, or of all three.
            let mean = 2e-6 * if variance > 1.0 { 0.5f64.sqrt() } else { (1.0f64 / 3.0).sqrt() };
            assert!((even.first.uncertainty / (mean + largest) - 1.0).abs() < 1e-12, "turned {turn}");
        }
    }
    // Four grids at 45 degrees: half difference and half shear alike, and nothing that they share.
    let star = Rosette::at_angles([0.0, 45.0, 90.0, 135.0].map(Degrees)).float64();
    let grids = GridUncertainty::independent([Microstrain(2.0); 4]).unwrap();
    let even = star.strain([1e-3; 4]).estimate(&star.covariance(&grids));
    assert!((even.shear.uncertainty / (4e-6 * 0.5f64.sqrt()) - 1.0).abs() < 1e-12);
}
