//! Every tolerance of the tests, in one place, with its reason.

use gaugewright::temperature::Thermocouple;
use gaugewright::units::Celsius;

/// The double-precision model against values given with 25 digits, in microstrain. Seen: 1e-11, which is
/// the rounding of `f64` on thermal outputs of several thousand microstrain.
pub const REFERENCE_MICROSTRAIN: f64 = 1e-10;

/// The double-precision network against exact output ratios. Seen: 3e-16; the ratio itself is rounded to
/// `f64` there and in the data.
pub const REFERENCE_RATIO: f64 = 2e-15;

/// The whole circuit by its nodes, as a shunt needs it, against exact output ratios, for resistances of any size: four sums of up
/// to some hundred positive terms, whose roundings are 1e-16 of a sum each. Seen: 2.2e-16 for equal arms, 2.1e-15 for any four.
pub const NODAL_RATIO: f64 = 4e-15;

/// The circuit simulator against exact output ratios: its authors' matrix solver loses the digits that a
/// lead of a fraction of an ohm beside a gauge of hundreds costs. Stated with the data: 5.4e-12.
pub const SIMULATOR_RATIO: f64 = 6e-12;

/// What the double-precision model itself may be off, in nanostrain, when kernels are compared with it. Seen
/// against exact rationals (`tests/kernel/certified.rs`): 2.5e-7 on the test set. It is the rounding of the output ratio, 1.1e-16 in divisions of a volt, times a gain of 2 and a
/// few of them.
pub const REFERENCE_NANOSTRAIN: f64 = 1e-6;

/// The error limit of the fixed-point kernel, nanostrain.
pub const FIXED_WIDE: f64 = 0.5;
pub const FIXED_MILD: f64 = 0.4;

/// The error limit of the `f32` kernel, nanostrain.
pub const FLOAT_WIDE: f64 = 20.0;
pub const FLOAT_MILD: f64 = 5.0;

/// A bound more than this many times the worst error found is too slack: fixed point and `f32`.
pub const SLACK: f64 = 3.0;

/// The same for `f64`, whose constants are computed in `f64` too: the bound counts some thirty roundings of the sum of a package's
/// terms, of which the largest found is a tenth, and as many of the map, of which a quarter is found. Seen: 51, usually 10 to 25.
pub const DOUBLE_SLACK: f64 = 60.0;

/// The mean error of fixed point over a sweep, nanostrain. A step is 0.058. What the products drop is made
/// up for in whole steps, which leaves half a step on the split path; the rounding of a channel's constant
/// and of its second power, the same at all temperatures or nearly so, is another step at most.
pub const FIXED_BIAS: f64 = 1.5 * 0.0583;

/// Platinum resistance and its slope against exact decimals, as a fraction: a few units in the last place of
/// `f64`. Seen: 7e-16.
pub const PLATINUM: f64 = 1e-15;

/// Platinum temperature from resistance, C. A unit in the last place of the relative resistance (4.4e-16
/// above 100 C for a Pt100) over its slope (0.0029 to 0.0043 a degree) is 1.5e-13 C. Seen: 1.8e-13.
pub const PLATINUM_CELSIUS: f64 = 3e-13;

/// EMF in double precision, mV, against 50 digits: the rounding of terms that add up to some hundreds of mV
/// where they cancel to less. Seen: 8e-13. Near -270 C the terms of type T add up to 1e5 mV and those of type
/// E to 2e4, so that the rounding of the coefficients alone is worth what is allowed. Seen: 4.3e-11 and
/// 1e-11; type T above -200 C 2.2e-12. The terms of types K and N hardly cancel there. Seen: 5e-14.
pub fn emf(couple: Thermocouple, celsius: f64) -> f64 {
    match couple {
        Thermocouple::T if celsius < -200.0 => 6e-11,
        Thermocouple::T => 3e-12,
        Thermocouple::E if celsius < -200.0 => 1.5e-11,
        Thermocouple::K | Thermocouple::N if celsius < -200.0 => 1e-13,
        _ => 1.5e-12,
    }
}

/// Seebeck coefficient, uV/C, for the same reasons. Seen, in the same order: 5e-12; type T 1.7e-9 and type E
/// 3.4e-10, and above -200 C 1e-10 and 2.3e-11; types K and N 1.3e-12.
pub fn seebeck(couple: Thermocouple, celsius: f64) -> f64 {
    match couple {
        Thermocouple::T if celsius < -200.0 => 3e-9,
        Thermocouple::T => 1.5e-10,
        Thermocouple::E if celsius < -200.0 => 5e-10,
        Thermocouple::E => 4e-11,
        Thermocouple::K | Thermocouple::N if celsius < -200.0 => 3e-12,
        _ => 1e-11,
    }
}

/// Temperature from EMF, C: the error of the EMF over the slope, and the last places of the temperature. Near
/// -270 C the slope is nearly zero and a temperature as good as its EMF cannot be computed. Seen: 4.7e-8 C for
/// type T, 6e-9 for E and 6e-11 for K; above -200 C 1.5e-10 for T and 6e-11 for the others.
pub fn thermocouple_celsius(couple: Thermocouple, celsius: f64) -> f64 {
    emf(couple, celsius) / (couple.seebeck(Celsius(celsius)).unwrap().0 * 1e-3) + 5e-13
}

/// Where the pieces of a reference function meet they differ; the reference data take K at 0 mV on the upper
/// piece, 2e-9 mV higher, which is 5.0e-8 C.
pub const K_JOINT_CELSIUS: f64 = 5.1e-8;

/// Thermistor temperature from resistance, C: the last place of 300 to 700 kelvin, a few times. Seen:
/// 1.4e-13.
pub const THERMISTOR_CELSIUS: f64 = 3e-13;

/// Thermistor resistance from temperature, as a fraction: the last place of the kelvins times up to 8 % a
/// degree. Seen: 7e-15.
pub const THERMISTOR_RESISTANCE: f64 = 1.5e-14;

/// States of strain in `f64` against 25 digits, as a part of the largest strain in the row: the rounding of
/// the grids' strains in the data and of the nine constants, times a gain of 2. Seen: 6e-16.
pub const ROSETTE: f64 = 2e-15;

/// Principal and equivalent stresses in `f64`, as a part of modulus times the largest strain: the same, and
/// the elastic constants. Seen: 7e-16.
pub const ROSETTE_STRESS: f64 = 2e-15;

/// The direction in `f64`, degrees, beside what the tolerance of the state turns it by: the rounding of
/// the arc tangent, up to 90 degrees, and of the angle it is compared with. Seen: 2.9e-14.
pub const ROSETTE_DEGREES: f64 = 3e-14;

/// The components in `f32`, in units of roundoff of the sum of their products' magnitudes: four roundings in
/// a row, and what these are to second order. Proved by counting (Higham, Accuracy and Stability of Numerical
/// Algorithms, section 3.1).
pub const ROSETTE_SINGLE: f64 = 4.01;

/// The direction in `f32`, degrees: one or two units in the last place of 90. Seen: 9.7e-6.
pub const ROSETTE_SINGLE_DEGREES: f64 = 1e-5;

/// Stresses in `f32` from the same strain, in units of roundoff of modulus times the largest strain: modulus
/// and Poisson ratio rounded, three roundings of a product with each modulus, two of a root, one of a sum,
/// times up to 1.6 for 1 / (1 - nu). Seen: 3.2.
pub const ROSETTE_SINGLE_STRESS: f64 = 9.0;

/// Uncertainties in `f32` against `f64`, as a part: variances whose terms cancel where grids share most of
/// theirs. Seen: 2.4e-6.
pub const ROSETTE_SINGLE_UNCERTAINTY: f64 = 1e-5;

/// Coverage factors of Student's t against 40 digits, as a fraction. Seen: 2.4e-12.
pub const STUDENT: f64 = 5e-12;

/// A curve through exact points of up to 12 000 microstrain, anywhere between them, microstrain: some roundings of `f64` and
/// `f32`. Seen: 5.5e-12 and 0.0018.
pub const FIT_DOUBLE: f64 = 2e-11;
pub const FIT_SINGLE: f64 = 0.005;

/// A curve in `f32` beside one in `f64` after 200 000 points of up to 3500 microstrain, microstrain. Seen: 0.0042.
pub const FIT_SINGLE_LONG: f64 = 0.01;

/// Thermal strain of the published fits against multiple precision: terms of up to 0.1 that add up to less, in
/// `f64`, and kelvins rounded to 3e-14. Seen: 1.1e-17.
pub const EXPANSION_STRAIN: f64 = 5e-17;

/// Their coefficient, 1/C: the same of terms a hundred times smaller. Seen: 1.1e-19.
pub const EXPANSION_COEFFICIENT: f64 = 5e-19;

/// A rotated curve against the double-precision model of a channel, in microstrain: the polynomial in Celsius against
/// a sum from the reference temperature. Thermal outputs are some ten thousand microstrain at most, of terms that
/// are ten times that; a rounding of those is 1e-11.
pub const ROTATED_MICROSTRAIN: f64 = 5e-11;

/// What turning a curve leaves out of the rotation, as a fraction: the foil's own change of resistance and of length,
/// which multiply it. Computed for the invented foils apart, over -200 to 300 C: 0.0134 at most.
pub const ROTATION_LEFT_OUT: f64 = 0.014;

/// Predicted thermal output against 60 digits, microstrain: roundings of 1e-16 of a resistance, over a gauge
/// factor of two, a few of them. Seen: 2.6e-12.
pub const PREDICTED_MICROSTRAIN: f64 = 1e-11;

/// A contribution to a budget against a difference of the model over a fiftieth of its uncertainty, as a part, and in
/// microstrain.
pub const CONTRIBUTION: f64 = 1e-4;
pub const CONTRIBUTION_MICROSTRAIN: f64 = 1e-5;

/// A point in `f64` and `f32` against the budget, as a part: some roundings. Seen: 6.7e-16 and 2.4e-7.
pub const POINT: f64 = 1e-14;
pub const POINT_SINGLE: f64 = 2e-6;

/// The root of a fixed-point uncertainty against the exact one, Q34 steps: as documented. As many are added, so that the result is above by
/// up to twice as many.
pub const FIXED_UNCERTAINTY_STEPS: f64 = 5.0;

/// A combined standard uncertainty against the standard deviation of a million trials, as a part. By chance alone 0.0007 is
/// a standard deviation of it; seen 0.001.
pub const MONTE_CARLO: f64 = 0.003;

/// Errors of what is left out against 25 digits, in microstrain: as the model's own steps, and the mechanical strain of up
/// to 60 000 microstrain that the error is the difference to. Seen: 1.1e-11.
pub const SIGNIFICANCE_MICROSTRAIN: f64 = 1e-10;
