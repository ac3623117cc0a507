//! A smooth curve as pieces of degree four: from an integer to an integer or an `f32`, without division.
//!
//! The input's range is cut into pieces of equal width. In each, the curve is interpolated at the Chebyshev nodes, which
//! leaves nearly the least error that degree four can. The place inside a piece runs from -1 to 1, in 2^-31.

use super::source::Source;
use crate::error::{Error, Field, Quantity, fits, try_const, within};
use crate::numeric::{Polynomial, powers_through};
use crate::sample::{Temperature, clamped_offset, mul, nearest};
use crate::units::Celsius;

const DEGREE: usize = 4;
pub(super) const NODES: usize = DEGREE + 1;

/// Places at which the fit is compared with the curve: so many in each piece, and in all pieces together. Where two
/// polynomials of a thermocouple meet there is a kink, which few places in a wide piece would miss.
const PROBES_IN_PIECE: usize = 13;
const PROBES_IN_ALL: usize = 832;

/// What lies between the probes may be further off than what they found, by this share.
const BETWEEN_PROBES: f64 = 0.25;

/// The mean of what the last product drops, in steps of the output.
const DROPPED: f64 = 0.5;

/// Rounding in integers, in steps of the output. A constant is off by half a step of its own, a product by up to one; both
/// are halved by every product that follows, and what the last one drops is known in the mean:
/// `(1/2 + 1/4 + 1/8 + 1/16 + 1/32) + (1/2 + 1/4 + 1/8) + 1/2`.
const OPERATIONS: f64 = 2.344;

/// Half of the last place of an `f32` over its value.
const SINGLE_ROUNDING: f64 = 1.0 / 16_777_216.0;

/// Cosines of odd tenths of a half turn: where a polynomial of degree four is to meet the curve.
const CHEBYSHEV: [f64; NODES] = [
    -0.951_056_516_295_153_5,
    -0.587_785_252_292_473_1,
    0.0,
    0.587_785_252_292_473_1,
    0.951_056_516_295_153_5,
];

/// A curve over a range of inputs.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub(super) struct Curve<T, const PIECES: usize> {
    pub low: i32,
    pub span: u32,
    /// `place = (input - low) scale`, in 2^-32 of all pieces.
    pub scale: u32,
    /// Lowest power first; for integers each next one in half the steps of the one before.
    pub pieces: [[T; NODES]; PIECES],
}

/// What a proof needs of a curve in integers.
#[doc(hidden)]
#[derive(Clone, Copy, Debug)]
pub struct CurveConstants<const PIECES: usize> {
    pub low: i32,
    pub span: u32,
    pub scale: u32,
    pub pieces: [[i32; NODES]; PIECES],
}

impl<const PIECES: usize> CurveConstants<PIECES> {
    /// Part of the constant term that makes up for the mean of what the last product drops.
    pub const CARRIED: f64 = DROPPED;
    /// The bound of all rounding, in steps of the output.
    pub const ROUNDING: f64 = OPERATIONS;
}

/// An error bound in degrees: an `f32` without its last byte, rounded up. Three bytes are what the layout of a kernel has left.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(transparent)]
pub(super) struct Bound(pub [u8; 3]);

impl Bound {
    /// From steps of the fixed format.
    pub const fn of(steps: f64) -> Self {
        let nearest = (steps / Temperature::PER_DEGREE as f64) as f32;
        // The nearest `f32` may lie below: one more last place makes up for that.
        let [high, middle, low, _] = (nearest.to_bits() + 1 + 0xff).to_be_bytes();
        Self([high, middle, low])
    }

    pub const fn celsius(self) -> Celsius {
        let [high, middle, low] = self.0;
        Celsius(f32::from_bits(u32::from_be_bytes([high, middle, low, 0])) as f64)
    }
}

/// A curve in double precision, and how far it is from its source.
pub(super) struct Fit<const PIECES: usize> {
    low: i32,
    span: u32,
    scale: u32,
    pieces: [[f64; NODES]; PIECES],
    /// Between fit and source, in steps of the output.
    pub error: f64,
    /// Largest change of the output for a step of the input.
    pub steepest: f64,
    /// What `f32` may make of the terms of a piece, in steps of the output.
    single_error: f64,
}

impl<const PIECES: usize> Fit<PIECES> {
    /// Pieces come in powers of two: which one it is are the highest bits of the place.
    const LOG2: u32 = PIECES.trailing_zeros();

    const PROBES: usize =
        if PROBES_IN_ALL > PROBES_IN_PIECE * PIECES { PROBES_IN_ALL / PIECES } else { PROBES_IN_PIECE };

    /// Before [`make`](Self::make), which fills it where it lies: a copy of all pieces would be the largest part of the stack
    /// that compiling takes.
    pub const EMPTY: Self = Self {
        low: 0,
        span: 0,
        scale: 0,
        pieces: [[0.0; NODES]; PIECES],
        error: 0.0,
        steepest: 0.0,
        single_error: 0.0,
    };

    /// Fits `source` from `low` to `high`.
    pub const fn make(&mut self, source: &Source, low: i32, high: i32) -> Result<(), Error> {
        try_const!(Field::CurvePieces.check(PIECES as f64));
        if !PIECES.is_power_of_two() {
            return Err(Error::Invalid {
                field: Field::CurvePieces,
                value: PIECES as f64,
                low: 2.0,
                high: 256.0,
            });
        }
        let codes = high as i64 - low as i64;
        try_const!(within(Field::ThermometerCodes, codes as f64, PIECES as f64, 2_147_483_648.0));
        let span = codes as u32;
        let scale = u32::MAX / span;
        (self.low, self.span, self.scale) = (low, span, scale);
        let width = (1_u64 << 32 >> Self::LOG2) as f64 / scale as f64;
        let mut piece = 0;
        while piece < PIECES {
            // The last piece may be used in part, and what follows not at all.
            let left = span as f64 - piece as f64 * width;
            if left > 0.0 {
                let used = if left < width { left / width } else { 1.0 };
                try_const!(self.interpolate(source, piece, width, used));
            }
            piece += 1;
        }
        self.error *= 1.0 + BETWEEN_PROBES;
        Ok(())
    }

    const fn interpolate(
        &mut self,
        source: &Source,
        piece: usize,
        width: f64,
        used: f64,
    ) -> Result<(), Error> {
        let middle = self.low as f64 + (piece as f64 + 0.5) * width;
        let mut places = [0.0; NODES];
        let mut values = [0.0; NODES];
        let mut i = 0;
        while i < NODES {
            // As wide as a piece, but ending where the range does: nodes squeezed into a sliver would give noise.
            places[i] = CHEBYSHEV[i] + 2.0 * used - 2.0;
            values[i] = try_const!(source.value(middle + places[i] * 0.5 * width, None));
            i += 1;
        }
        let powers = powers_through(&places, values);
        self.pieces[piece] = powers;

        // A term of power k meets: its own rounding, k of the place, k of products, and k + 1 of sums.
        let mut single = 0.0;
        let mut k = 0;
        while k < NODES {
            single += powers[k].abs() * (3 * k + 2) as f64 * SINGLE_ROUNDING;
            k += 1;
        }
        self.single_error = self.single_error.max(single);

        let fitted = Polynomial::new(powers);
        let mut probe = 0;
        while probe < Self::PROBES {
            let place = (probe as f64 / (Self::PROBES - 1) as f64 * 2.0) * used - 1.0;
            let (value, slope) = fitted.value_and_slope(place);
            let exact = try_const!(source.value(middle + place * 0.5 * width, Some(value)));
            self.error = self.error.max((value - exact).abs());
            self.steepest = self.steepest.max(slope.abs() / (0.5 * width));
            probe += 1;
        }
        Ok(())
    }

    /// In integers, and its whole error in steps of the output.
    pub const fn integers(&self) -> Result<(Curve<i32, PIECES>, f64), Error> {
        let mut pieces = [[0; NODES]; PIECES];
        let mut piece = 0;
        while piece < PIECES {
            let mut k = NODES;
            // Every sum on the way has to fit, whatever the place.
            let mut sum = 0.0;
            while k > 0 {
                k -= 1;
                let mean = if k == 0 { DROPPED } else { 0.0 };
                let constant = self.pieces[piece][k] * (1 << k) as f64 + mean;
                sum = sum * 0.5 + constant.abs();
                try_const!(fits(Quantity::CurveConstant, sum, 2_147_483_000.0));
                pieces[piece][k] = nearest(constant);
            }
            piece += 1;
        }
        Ok((self.with(pieces), self.error + OPERATIONS))
    }

    /// In `f32`, with `scaled` of the output for a step, and its whole error in steps.
    pub const fn singles(&self, scaled: f64) -> (Curve<f32, PIECES>, f64) {
        let mut pieces = [[0.0; NODES]; PIECES];
        let mut piece = 0;
        while piece < PIECES {
            let mut k = 0;
            while k < NODES {
                pieces[piece][k] = (self.pieces[piece][k] * scaled) as f32;
                k += 1;
            }
            piece += 1;
        }
        (self.with(pieces), self.error + self.single_error)
    }

    const fn with<T: Copy>(&self, pieces: [[T; NODES]; PIECES]) -> Curve<T, PIECES> {
        Curve { low: self.low, span: self.span, scale: self.scale, pieces }
    }
}

impl<T, const PIECES: usize> Curve<T, PIECES> {
    /// How far the input, clamped to the range, lies above its lower end; and whether it was clamped.
    #[inline(always)]
    pub const fn above(&self, input: i32) -> (u32, bool) {
        let above = input.wrapping_sub(self.low) as u32;
        if above <= self.span { (above, false) } else { (clamped_offset(input, self.low, self.span), true) }
    }

    /// The piece, and the place in it.
    #[inline(always)]
    const fn piece(&self, from_low: u32) -> (&[T; NODES], i32) {
        let place = from_low.wrapping_mul(self.scale);
        let piece = (place >> (32 - Fit::<PIECES>::LOG2)) as usize;
        (&self.pieces[piece], ((place << Fit::<PIECES>::LOG2) ^ 0x8000_0000) as i32)
    }
}

impl<const PIECES: usize> Curve<i32, PIECES> {
    pub const fn constants(&self) -> CurveConstants<PIECES> {
        let Self { low, span, scale, pieces } = *self;
        CurveConstants { low, span, scale, pieces }
    }

    /// The curve's value in steps of the output.
    #[inline(always)]
    pub const fn value(&self, from_low: u32) -> i32 {
        let (&[c0, c1, c2, c3, c4], x) = self.piece(from_low);
        let sum = mul(c4, x).wrapping_add(c3);
        let sum = mul(sum, x).wrapping_add(c2);
        let sum = mul(sum, x).wrapping_add(c1);
        mul(sum, x).wrapping_add(c0)
    }
}

impl<const PIECES: usize> Curve<f32, PIECES> {
    /// The curve's value.
    #[inline(always)]
    pub const fn value(&self, from_low: u32) -> f32 {
        let (&[c0, c1, c2, c3, c4], x) = self.piece(from_low);
        let x = x as f32 * (1.0 / 2_147_483_648.0);
        (((c4 * x + c3) * x + c2) * x + c1) * x + c0
    }
}
