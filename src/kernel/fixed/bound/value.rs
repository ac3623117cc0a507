//! A value of the analysis with its error and the operations on it, and the values of an adjustable kernel's constants.

use super::{TWO_31, TWO_32};
use crate::numeric::Interval;

/// An exact quantity's range and the range of `computed - exact`, in the quantity's own steps.
#[derive(Clone, Copy)]
pub(in crate::kernel::fixed) struct Value {
    pub exact: Interval,
    pub error: Interval,
    /// Computed as zero for every input: so are its products.
    pub zero: bool,
}

/// A value that has no error.
pub(super) const fn exactly(exact: Interval) -> Value {
    Value { exact, error: Interval::point(0.0), zero: false }
}

/// What the constants of an adjustable kernel can be, at every zero and span.
#[derive(Clone, Copy)]
pub(in crate::kernel::fixed) struct Adjusted {
    pub gain: Interval,
    pub curvature: Interval,
    pub thermal: AdjustedCurve,
    pub slack: f64,
}

#[derive(Clone, Copy)]
pub(in crate::kernel::fixed) struct AdjustedCurve {
    pub offset: Interval,
    pub part: f64,
}

/// A thermal output and the end of its temperatures. Of an adjustable kernel each constant may be off by a `part` of itself.
#[derive(Clone, Copy)]
pub(in crate::kernel::fixed) struct Curve<'a> {
    pub(super) descending: &'a [i32],
    pub(super) part: f64,
    pub(super) offset: Interval,
    pub(super) x: Value,
}

impl Curve<'_> {
    pub const fn adjusted(self, AdjustedCurve { offset, part }: AdjustedCurve) -> Self {
        Self { part, offset, ..self }
    }

    pub(super) const fn largest_stage(&self) -> f64 {
        largest_stage(self.descending, self.part, self.offset)
    }
}

/// A scaled input, exact.
pub(super) const fn position(end: f64) -> Value {
    exactly(Interval::new(-TWO_31, end))
}

/// `floor(a b / 2^32)`, or without the rounding.
pub(super) const fn product(a: Value, b: Value, rounded: bool) -> Value {
    let error = a.error.times(b.exact).plus(b.error.times(a.exact)).plus(a.error.times(b.error));
    let zero = a.zero || b.zero;
    let dropped = if rounded && !zero { Interval::new(-1.0, 0.0) } else { Interval::point(0.0) };
    let error = error.scaled(1.0 / TWO_32).plus(dropped);
    Value { exact: a.exact.times(b.exact).scaled(1.0 / TWO_32), error, zero }
}

/// `floor(a b / 2^32) + a`, or without the rounding: `a (1 + b)`, so that an error of `a` is multiplied once.
pub(super) const fn grown(a: Value, b: Value, rounded: bool) -> Value {
    let factor = Interval::point(TWO_32).plus(b.exact);
    let error = a.error.times(factor.plus(b.error)).plus(b.error.times(a.exact)).scaled(1.0 / TWO_32);
    let dropped =
        if rounded && !(a.zero || b.zero) { Interval::new(-1.0, 0.0) } else { Interval::point(0.0) };
    Value { exact: a.exact.times(factor).scaled(1.0 / TWO_32), error: error.plus(dropped), zero: a.zero }
}

pub(super) const fn add(a: Value, b: Value) -> Value {
    Value { exact: a.exact.plus(b.exact), error: a.error.plus(b.error), zero: a.zero && b.zero }
}

pub(super) const fn subtract(a: Value, b: Value) -> Value {
    Value { exact: a.exact.minus(b.exact), error: a.error.minus(b.error), zero: a.zero && b.zero }
}

/// A constant of an adjustable kernel: off by a part of itself, and by the half steps of two roundings.
pub(super) const fn spread(value: i32, part: f64) -> Interval {
    let off = value.unsigned_abs() as f64 * part;
    let off = if part > 0.0 { off + 1.0 } else { off };
    Interval::new(value as f64 - off, value as f64 + off)
}

pub(super) const fn largest_stage(descending: &[i32], part: f64, offset: Interval) -> f64 {
    let mut k = 0;
    let mut stage = 0.0;
    let mut largest: f64 = 0.0;
    while k < descending.len() {
        stage = stage / 2.0 + spread(descending[k], part).magnitude() + 2.0;
        largest = largest.max(stage);
        k += 1;
    }
    largest.max(stage / 2.0 + offset.magnitude() + 2.0)
}
