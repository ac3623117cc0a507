//! Coverage factors of Student's t-distribution.

use crate::error::{Error, Field};
use crate::units::Percent;
use core::f64::consts::{FRAC_1_SQRT_2, FRAC_2_PI, FRAC_2_SQRT_PI};

/// Beyond this many degrees of freedom the expansion is used.
const SERIES: u32 = 150;

/// The factor that makes an interval of a standard uncertainty with so many degrees of freedom: Student's t, two-sided.
///
/// For coverage from 1 to 99.99 % and one degree of freedom or more. Up to 150 degrees of freedom the distribution is
/// its finite trigonometric series, solved by Newton's method; beyond, the expansion about the normal distribution to the
/// fifth power of their reciprocal. Relative error below 5e-12 (compared with 40 digits at 360 places).
///
/// # Errors
/// [`Error::Invalid`]: coverage out of range, or no degrees of freedom.
///
/// ```
/// use gaugewright::{numeric::coverage_factor, units::Percent};
/// assert!((coverage_factor(Percent(95.0), 10)? - 2.228).abs() < 0.001);
/// assert!((coverage_factor(Percent(95.0), 1_000_000)? - 1.960).abs() < 0.001);
/// # Ok::<(), gaugewright::Error>(())
/// ```
pub fn coverage_factor(coverage: Percent, degrees_of_freedom: u32) -> Result<f64, Error> {
    Field::CoverageProbability.check(coverage.0)?;
    Field::DegreesOfFreedom.check(f64::from(degrees_of_freedom))?;
    let p = coverage.fraction();
    let n = f64::from(degrees_of_freedom);
    if degrees_of_freedom <= SERIES {
        return Ok(libm::sqrt(n) * libm::tan(solved(p, |angle| series(angle, degrees_of_freedom))));
    }
    let z = solved(p, |z| {
        let density = FRAC_2_SQRT_PI * FRAC_1_SQRT_2 * libm::exp(-0.5 * z * z);
        (libm::erf(z * FRAC_1_SQRT_2), density)
    });
    // Abramowitz and Stegun, 26.7.5, and one term more.
    let s = z * z;
    let terms = [
        z,
        z * (s + 1.0) / 4.0,
        z * ((5.0 * s + 16.0) * s + 3.0) / 96.0,
        z * (((3.0 * s + 19.0) * s + 17.0) * s - 15.0) / 384.0,
        z * ((((79.0 * s + 776.0) * s + 1482.0) * s - 1920.0) * s - 945.0) / 92_160.0,
        z * (((((27.0 * s + 339.0) * s + 930.0) * s - 1782.0) * s - 765.0) * s + 17_955.0) / 368_640.0,
    ];
    Ok(terms.iter().rev().fold(0.0, |sum, term| sum / n + term))
}

/// Where a probability that rises from zero ever more slowly has this value; the function gives it with its slope. A
/// tangent of such a curve is above it, so that each step of Newton's method ends short of the solution, and they rise
/// until rounding turns them back.
fn solved(p: f64, probability: impl Fn(f64) -> (f64, f64)) -> f64 {
    let mut x = 0.0;
    loop {
        let (value, slope) = probability(x);
        let next = x + (p - value) / slope;
        if next > x {
            x = next;
        } else {
            return x;
        }
    }
}

/// Probability of less than `t = sqrt(n) tan(angle)` either way, and its slope against the angle: Abramowitz and Stegun,
/// 26.7.3 and 26.7.4.
fn series(angle: f64, n: u32) -> (f64, f64) {
    let (sine, cosine) = (libm::sin(angle), libm::cos(angle));
    let square = cosine * cosine;
    let odd = n % 2 == 1;
    if n == 1 {
        return (FRAC_2_PI * angle, FRAC_2_PI);
    }
    // Powers of the cosine that are odd or even as n is, up to n - 2.
    let mut power = if odd { 1 } else { 0 };
    let mut term = if odd { cosine } else { 1.0 };
    let mut sum = term;
    while power + 2 < n {
        power += 2;
        term *= square * f64::from(power - 1) / f64::from(power);
        sum += term;
    }
    // Nearly all of the derivative cancels.
    let slope = f64::from(n - 1) * term * cosine;
    if odd { (FRAC_2_PI * (angle + sine * sum), FRAC_2_PI * slope) } else { (sine * sum, slope) }
}
