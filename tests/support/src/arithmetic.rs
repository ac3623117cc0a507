//! The arithmetic of the fixed-point kernels, described once, for numbers of any kind.
//!
//! A kernel is written for speed. This is written to be read, and to be run on other numbers than `i32`: on wide
//! integers that stop at the first register that is too full (`registers`), and on names, which gives a script
//! for a prover (`tests/proof`). `tests/kernel/registers.rs` holds it to the bits of the kernels.
//!
//! Every intermediate has a name, and there is nothing here that a kernel does not compute.

use std::fmt::Display;

use gaugewright::fixed::{CompensatedConstants, Constants, Temperature};
use gaugewright::rosette::Rosette;
use gaugewright::temperature::CurveConstants;

/// The inputs of a kernel. The three grids of a rosette take the three places.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    Code,
    Temperature,
    /// Of the compensating gauge.
    Compensating,
}

/// Numbers of some kind, and what a kernel does with them.
pub trait Arithmetic {
    type Number: Clone;

    /// A constant of the channel: the exact one and `carried`, rounded to a whole number. What is carried is there
    /// on purpose and no part of the exact one.
    fn constant(&mut self, name: impl Display, value: i32, carried: f64) -> Self::Number {
        // Half a step, and what `f64` may have lost.
        self.constant_within(name, value, carried, 0.501 + lost(value))
    }

    /// The same, which was rounded by at most `radius` steps.
    fn constant_within(&mut self, name: impl Display, value: i32, carried: f64, radius: f64) -> Self::Number;

    /// An exact product of 64 bits.
    fn wide_product(&mut self, name: impl Display, a: &Self::Number, b: &Self::Number) -> Self::Number;

    /// A sum of 64 bits.
    fn wide_sum(&mut self, name: impl Display, a: &Self::Number, b: &Self::Number) -> Self::Number;

    fn wide_difference(&mut self, name: impl Display, a: &Self::Number, b: &Self::Number) -> Self::Number;

    /// `a / 2^bits` rounded to nearest, halves up.
    fn rounded(&mut self, name: impl Display, a: &Self::Number, bits: u32) -> Self::Number;

    /// A number that is clamped to 32 bits and flagged where it does not fit: only where it fits, its exact value counts.
    fn clamped(&mut self, a: &Self::Number) -> Self::Number;

    /// The root of a sum of squares, which 64 bits without a sign hold: rounded down, to 32 bits.
    fn root(&mut self, name: impl Display, parts: &[Self::Number]) -> Self::Number;

    /// The same rounded to nearest, to 64 bits.
    fn wide_root(&mut self, name: impl Display, parts: &[Self::Number]) -> Self::Number;

    /// An input spread over its range: `(input - lowest) scale - 2^31`.
    fn spread(&mut self, name: impl Display, input: Input, range: (i32, i32), scale: u32) -> Self::Number;

    /// An input as it is.
    fn input(&mut self, input: Input, range: (i32, i32)) -> Self::Number {
        self.input_within(input, range, 0.0)
    }

    /// The same, which is at most `radius` off the exact one.
    fn input_within(&mut self, input: Input, range: (i32, i32), radius: f64) -> Self::Number;

    /// The high word of a product: `floor(a b / 2^32)`.
    fn product(&mut self, name: impl Display, a: &Self::Number, b: &Self::Number) -> Self::Number;

    /// The same where both lie between -2^30 and 2^30 - 1, which is all that a core with short products can take.
    fn small_product(&mut self, name: impl Display, a: &Self::Number, b: &Self::Number) -> Self::Number;

    fn sum(&mut self, name: impl Display, a: &Self::Number, b: &Self::Number) -> Self::Number;

    fn difference(&mut self, name: impl Display, a: &Self::Number, b: &Self::Number) -> Self::Number;

    /// `a 2^bits`.
    fn shifted_up(&mut self, name: impl Display, a: &Self::Number, bits: u32) -> Self::Number;

    /// `-a`.
    fn turned(&mut self, name: impl Display, a: &Self::Number) -> Self::Number;

    /// `a` less whole steps that its exact value does not lose.
    fn lowered(&mut self, name: impl Display, a: &Self::Number, steps: i32) -> Self::Number;

    /// `a` and one step more where a temperature was out of range, which its exact value does not gain.
    fn flagged(&mut self, name: impl Display, a: &Self::Number) -> Self::Number;

    /// `a`, which sums the powers of `l` from the first to the seventh; its exact value that of all, `1 / (1 - l) - 1`.
    fn all_powers(&mut self, _name: impl Display, a: &Self::Number, _l: &Self::Number) -> Self::Number {
        a.clone()
    }

    /// `floor(a b / 2^32) + c`.
    fn product_and_sum(
        &mut self,
        name: impl Display,
        a: &Self::Number,
        b: &Self::Number,
        c: &Self::Number,
    ) -> Self::Number {
        let product = self.product(format_args!("{name}_product"), a, b);
        self.sum(name, &product, c)
    }

    fn small_product_and_sum(
        &mut self,
        name: impl Display,
        a: &Self::Number,
        b: &Self::Number,
        c: &Self::Number,
    ) -> Self::Number {
        let product = self.small_product(format_args!("{name}_product"), a, b);
        self.sum(name, &product, c)
    }
}

/// What `f64` may have lost of a constant.
fn lost(value: i32) -> f64 {
    1e-13 * f64::from(value).abs()
}

/// A kernel's constants, and with two temperatures those of the second.
pub struct Description<'a, const D: usize, const F: usize> {
    pub constants: &'a Constants<D, F>,
    pub second: Option<&'a CompensatedConstants<D, F>>,
}

/// What the exact strain is made of.
pub struct Terms<N> {
    pub d: N,
    pub gain: N,
    /// `p`; in a point `-p`.
    pub curvature: N,
    /// `l`.
    pub factor_change: N,
    /// `t`, of the gauge that measures.
    pub thermal: N,
    /// That of a compensating gauge, to be added.
    pub compensating: Option<N>,
    /// The gauge factor of a kernel that multiplies thermal and mechanical change, in 2^-28 and with its sign turned.
    pub product: Option<N>,
}

/// What a proof uses of a reading in one call.
pub struct OneCall<N> {
    pub terms: Terms<N>,
    /// `u`, with `1 - u = (1 + p)(1 - l)`, times the change of the unloaded gauge where that is multiplied.
    pub divisor: N,
    pub strain: N,
}

/// What a proof uses of a point and a reading of it.
pub struct Split<N> {
    pub terms: Terms<N>,
    /// `l`, with the change of the unloaded gauge in it where that is multiplied.
    pub divisor: N,
    pub strain: N,
}

/// How many bits the product of a strain and the gauge factor is shifted up.
pub const PRODUCT_SHIFT: u32 = 2;

impl<'a, const D: usize, const F: usize> Description<'a, D, F> {
    pub fn of(constants: &'a Constants<D, F>) -> Self {
        Self { constants, second: None }
    }

    pub fn of_two_temperatures(constants: &'a CompensatedConstants<D, F>) -> Self {
        Self { constants: &constants.measuring, second: Some(constants) }
    }

    /// `Kernel::reading`.
    pub fn one_call<A: Arithmetic>(&self, a: &mut A) -> OneCall<A::Number> {
        let x = self.position(a);
        let d = self.distance(a);
        let thermal = self.thermal(a, &x);
        let compensating = self.compensating(a);
        let factor_change = self.factor_change(a, &x);
        let curvature_constant = a.constant("curvature_constant", self.constants.curvature, 0.0);
        let curvature = a.product("curvature", &d, &curvature_constant);
        let gain = a.constant("gain", self.constants.gain, 0.0);
        let product = self.product(a);

        let (numerator, changed) = match &product {
            None => {
                let both = both(a, &thermal, compensating.as_ref());
                let uncorrected = a.product_and_sum("uncorrected", &d, &gain, &both);
                (a.product_and_sum("numerator", &both, &curvature, &uncorrected), curvature.clone())
            }
            Some(factor) => {
                let signal = a.product("signal", &d, &gain);
                let bridged = a.product_and_sum("thermal_bridged", &thermal, &curvature, &thermal);
                let mut numerator = bridged.clone();
                if let Some(compensating) = &compensating {
                    let share = times_factor(a, "signal_share", &signal, factor);
                    let other = a.difference("other_bridge", &curvature, &share);
                    let sum = a.sum("bridged_sum", &bridged, compensating);
                    numerator = a.product_and_sum("both_bridged", compensating, &other, &sum);
                }
                let change = times_factor(a, "bridged_change", &bridged, factor);
                (a.sum("numerator", &signal, &numerator), a.sum("curvature_changed", &curvature, &change))
            }
        };

        let apart = a.difference("divisor_apart", &factor_change, &changed);
        let divisor = a.small_product_and_sum("divisor", &changed, &factor_change, &apart);
        let square = a.small_product("divisor_square", &divisor, &divisor);

        let strain = a.product_and_sum("strain_first", &numerator, &divisor, &numerator);
        let strain = a.product_and_sum("strain_third", &strain, &square, &strain);
        let fifth = a.product("strain_fifth", &strain, &square);
        let strain = a.product_and_sum("strain", &fifth, &square, &strain);
        let terms = Terms { d, gain, curvature, factor_change, thermal, compensating, product };
        OneCall { terms, divisor, strain }
    }

    /// `Kernel::at`, then `OperatingPoint::reading`.
    pub fn split<A: Arithmetic>(&self, a: &mut A) -> Split<A::Number> {
        // One temperature.
        let x = self.position(a);
        let factor_change = self.factor_change(a, &x);
        let thermal = self.thermal(a, &x);
        let compensating = self.compensating(a);
        let gain = a.constant("gain", self.constants.gain, 0.0);
        let product = self.product(a);
        let (mut signal_gain, mut divisor) = (gain.clone(), factor_change.clone());
        if let Some(factor) = &product {
            let change = times_factor(a, "thermal_change", &thermal, factor);
            let apart = a.difference("factor_apart", &factor_change, &change);
            divisor = a.small_product_and_sum("factor_changed", &factor_change, &change, &apart);
            if let Some(compensating) = &compensating {
                let share = times_factor(a, "compensating_share", compensating, factor);
                let other = a.turned("other_share", &share);
                signal_gain = a.product_and_sum("gain_shared", &gain, &other, &gain);
            }
        }
        let both = both(a, &thermal, compensating.as_ref());
        let square = a.small_product("factor_square", &divisor, &divisor);
        let even = a.small_product_and_sum("factor_fourth", &square, &square, &square);
        let even = a.small_product_and_sum("factor_sixth", &even, &square, &square);
        let odd = a.sum("factor_odd", &divisor, &even);
        let reciprocal = a.small_product_and_sum("reciprocal", &even, &divisor, &odd);
        let reciprocal = a.all_powers("whole_reciprocal", &reciprocal, &divisor);
        let point_gain = a.product_and_sum("point_gain", &signal_gain, &reciprocal, &signal_gain);
        let corrected = a.product_and_sum("thermal_corrected", &both, &reciprocal, &both);
        let point_thermal = a.lowered("point_thermal", &corrected, self.constants.point_offset);
        let curvature_constant = a.constant("curvature_constant", self.constants.curvature, 0.0);
        let turned = a.turned("point_curvature", &curvature_constant);

        // One sample.
        let d = self.distance(a);
        let curvature = a.product("curvature", &d, &turned);
        let bridge_gain = a.product_and_sum("gain_first", &point_gain, &curvature, &point_gain);
        let square = a.small_product("curvature_high", &curvature, &curvature);
        let square = a.flagged("curvature_square", &square);
        let even = a.small_product_and_sum("curvature_fourth", &square, &square, &square);
        let bridge_gain = a.product_and_sum("gain_fifth", &bridge_gain, &even, &bridge_gain);
        let strain = a.product_and_sum("strain", &d, &bridge_gain, &point_thermal);
        let terms = Terms { d, gain, curvature, factor_change, thermal, compensating, product };
        Split { terms, divisor, strain }
    }

    /// The temperature over its range.
    fn position<A: Arithmetic>(&self, a: &mut A) -> A::Number {
        let constants = self.constants;
        a.spread("x", Input::Temperature, bits(constants.temperatures), constants.temperature_scale)
    }

    /// The code over its range.
    fn distance<A: Arithmetic>(&self, a: &mut A) -> A::Number {
        a.spread("d", Input::Code, self.constants.codes, self.constants.code_scale)
    }

    fn factor_change<A: Arithmetic>(&self, a: &mut A, x: &A::Number) -> A::Number {
        let high = horner(a, "factor", &self.constants.factor, x);
        a.product("factor_change", &high, x)
    }

    /// Thermal output with its sign turned, of the gauge that measures.
    fn thermal<A: Arithmetic>(&self, a: &mut A, x: &A::Number) -> A::Number {
        let constants = self.constants;
        let high = horner(a, "thermal", &constants.thermal, x);
        let offset = a.constant("thermal_offset", constants.thermal_offset, constants.carried);
        a.product_and_sum("thermal", &high, x, &offset)
    }

    /// Thermal output of a compensating gauge.
    fn compensating<A: Arithmetic>(&self, a: &mut A) -> Option<A::Number> {
        let second = self.second?;
        let x = a.spread("y", Input::Compensating, bits(second.temperatures), second.temperature_scale);
        let high = horner(a, "compensating", &second.thermal, &x);
        let offset = a.constant("compensating_offset", second.thermal_offset, 0.0);
        Some(a.product_and_sum("compensating", &high, &x, &offset))
    }

    fn product<A: Arithmetic>(&self, a: &mut A) -> Option<A::Number> {
        self.constants.product.map(|value| a.constant("product_factor", value, 0.0))
    }
}

/// Thermal output of both gauges.
fn both<A: Arithmetic>(a: &mut A, thermal: &A::Number, compensating: Option<&A::Number>) -> A::Number {
    match compensating {
        None => thermal.clone(),
        Some(compensating) => a.sum("thermal_of_both", thermal, compensating),
    }
}

/// A strain times the gauge factor with its sign turned, in 2^-32.
fn times_factor<A: Arithmetic>(
    a: &mut A,
    name: impl Display,
    strain: &A::Number,
    factor: &A::Number,
) -> A::Number {
    let product = a.product(format_args!("{name}_product"), strain, factor);
    a.shifted_up(name, &product, PRODUCT_SHIFT)
}

/// A polynomial from its highest power down to the first, still to be multiplied by `x`.
fn horner<A: Arithmetic>(a: &mut A, name: impl Display, descending: &[i32], x: &A::Number) -> A::Number {
    let mut power = descending.len();
    let mut sum = a.constant(format_args!("{name}_constant_{power}"), descending[0], 0.0);
    for &value in &descending[1..] {
        power -= 1;
        let constant = a.constant(format_args!("{name}_constant_{power}"), value, 0.0);
        sum = a.product_and_sum(format_args!("{name}_{power}"), &sum, x, &constant);
    }
    sum
}

fn bits((low, high): (Temperature, Temperature)) -> (i32, i32) {
    (low.to_bits(), high.to_bits())
}

/// A piece of a thermometer's curve; its place, any `i32`, is the input. `Curve::value`. `off`: how far the curve's input
/// may be from the exact one, in its steps.
pub fn curve_piece<A: Arithmetic, const PIECES: usize>(
    a: &mut A,
    curve: &CurveConstants<PIECES>,
    piece: usize,
    input: Input,
    off: f64,
) -> A::Number {
    // A step of the input is so many of the place.
    let steps = f64::from(curve.scale) * PIECES as f64;
    let x = a.input_within(input, (i32::MIN, i32::MAX), off * steps);
    let [c0, c1, c2, c3, c4] = curve.pieces[piece];
    let mut sum = a.constant_within("constant_4", c4, 0.0, 0.5 + lost(c4));
    for (power, value) in [(3, c3), (2, c2), (1, c1), (0, c0)] {
        let carried = if power == 0 { CurveConstants::<PIECES>::CARRIED } else { 0.0 };
        let constant = a.constant_within(format_args!("constant_{power}"), value, carried, 0.5 + lost(value));
        sum = a.product_and_sum(format_args!("sum_{power}"), &sum, &x, &constant);
    }
    sum
}

/// The EMF of a code and a piece of the cold junction's curve, where the code is at most at a rail.
pub fn emf<A: Arithmetic, const PIECES: usize>(
    a: &mut A,
    cold: &CurveConstants<PIECES>,
    piece: usize,
    (scale, rail): (i32, i32),
) -> A::Number {
    let junction = curve_piece(a, cold, piece, Input::Temperature, 0.0);
    let code = a.input(Input::Code, (!rail, rail));
    let scale = a.constant_within("scale", scale, 0.0, 0.0);
    let code = a.wide_product("code_emf", &code, &scale);
    a.sum("emf", &code, &junction)
}

/// One row of a rosette's constants, with what each is off the exact one.
pub fn rosette_row<A: Arithmetic>(a: &mut A, rosette: &Rosette, row: usize) -> A::Number {
    let (rows, fraction, exact) = rosette.fixed().constants();
    let one = f64::from(1u32 << fraction);
    let name = ["mean", "difference", "shear"][row];
    let mut sum = None;
    for (grid, input) in [Input::Code, Input::Temperature, Input::Compensating].into_iter().enumerate() {
        // A column of the exact constants is the state of one grid alone.
        let mut grids = [0.0; 3];
        grids[grid] = 1.0;
        let state = rosette.float64().strain(grids);
        let column = [state.mean(), 0.5 * (state.x() - state.y()), 0.5 * state.shear()];
        let value = rows[row][grid];
        let off = f64::from(value) - column[row] * one;
        let strain = a.input(input, (i32::MIN, i32::MAX));
        let constant = a.constant_within(format_args!("{name}_constant_{grid}"), value, off, exact * one);
        let product = a.wide_product(format_args!("{name}_product_{grid}"), &constant, &strain);
        sum = Some(match sum {
            None => product,
            Some(sum) => a.wide_sum(format_args!("{name}_sum_{grid}"), &sum, &product),
        });
    }
    a.rounded(name, &sum.expect("three grids"), fraction)
}

/// Principal strains.
pub struct Principal<N> {
    pub first: N,
    pub second: N,
    pub half_shear: N,
}

/// Three strains to principal ones, through all rows of a rosette. Each result is clamped afterwards.
pub fn principal<A: Arithmetic>(a: &mut A, rosette: &Rosette) -> Principal<A::Number> {
    let [mean, difference, shear] = [0, 1, 2].map(|row| {
        let component = rosette_row(a, rosette, row);
        a.clamped(&component)
    });
    let radius = a.wide_root("radius", &[difference, shear]);
    let first = a.wide_sum("first", &mean, &radius);
    let second = a.wide_difference("second", &mean, &radius);
    Principal { first, second, half_shear: radius }
}

/// Combined standard uncertainty of a strain, from the three rows of a point.
pub fn uncertainty<A: Arithmetic>(a: &mut A, rows: [i32; 6]) -> A::Number {
    let x = a.input(Input::Code, (i32::MIN, i32::MAX));
    // Rounded from the exact ones, which differ from those in `f64` by a power of two only.
    let names = ["constant_p", "constant_q", "constant_r", "constant_s", "constant_t", "constant_u"];
    let [p, q, r, s, t, u] = core::array::from_fn(|k| a.constant_within(names[k], rows[k], 0.0, 0.5));
    let square = a.product("square", &x, &x);
    let first = a.product_and_sum("first_linear", &q, &x, &p);
    let first = a.product_and_sum("first", &r, &square, &first);
    let second = a.product("second_linear", &s, &x);
    let second = a.product_and_sum("second", &t, &square, &second);
    let third = a.product("third", &u, &square);
    a.root("uncertainty", &[first, second, third])
}
