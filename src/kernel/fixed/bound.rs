//! How far a kernel can be from the exact model, from its integers alone.
//!
//! The constants of a kernel are the exact ones rounded to nearest, so each is known to half a step. From
//! there every operation of the kernel is repeated on intervals: the range of the exact value and the
//! range of its error, both rounded outwards. The sum over a whole path is an enclosure of the error for
//! every code in the window and every temperature in the range.
//!
//! Terms of second order (an error times an error) are kept, not dropped.

mod value;

use super::compensated::Second;
use super::{DROPPED_BY_READING, Kernel, POINT_OFFSET, PRODUCT_SHIFT, Strain, TWO_31, TWO_32};
use crate::error::{Error, Quantity, fits, try_const};
use crate::kernel::error_bound::{Causes, remainder};
use crate::numeric::Interval;
pub(super) use value::{Adjusted, AdjustedCurve, Curve};
use value::{Value, add, exactly, grown, largest_stage, position, product, spread, subtract};

/// Nanostrain in one Q34 step.
pub(super) const STEP: f64 = 1e9 / Strain::PER_UNIT;

/// A gain is the strain of all codes in use, in steps of the result; an error has it in microstrain.
pub(super) const fn gain_fits(gain: f64, limit: f64) -> Result<(), Error> {
    match fits(Quantity::SignalGain, gain, limit) {
        Err(Error::Overflow { quantity, value, limit }) => {
            let microstrain = STEP * 1e-3;
            Err(Error::Overflow { quantity, value: value * microstrain, limit: limit * microstrain })
        }
        fitting => fitting,
    }
}

/// One kernel's domain and constants, whatever their degrees, with the causes that count.
pub(super) struct Analysis<'a, const PRODUCT: usize> {
    causes: Causes,
    d: Value,
    gain: Interval,
    curvature: Interval,
    product: &'a [i32; PRODUCT],
    x: Value,
    factor: &'a [i32],
    thermal: Curve<'a>,
    second: Option<Curve<'a>>,
    /// By how much more than half a step a constant can be off.
    slack: f64,
}

impl<const DEGREE: usize> Second<DEGREE> {
    pub const fn curve(&self) -> Curve<'_> {
        Curve {
            descending: &self.thermal,
            part: 0.0,
            offset: Interval::point(self.thermal_offset as f64),
            x: position(self.temperatures.end(self.temperature_scale)),
        }
    }
}

impl<'a, const PRODUCT: usize> Analysis<'a, PRODUCT> {
    pub(super) const fn of<const D: usize, const F: usize>(
        kernel: &'a Kernel<D, F, PRODUCT>,
        second: Option<Curve<'a>>,
        causes: Causes,
    ) -> Self {
        let x = position(kernel.temperatures.end(kernel.temperature_scale as u32));
        Self {
            causes,
            d: position(kernel.codes.end(kernel.code_scale)),
            gain: Interval::point(kernel.gain as f64),
            curvature: Interval::point(kernel.curvature as f64),
            product: &kernel.product,
            x,
            factor: &kernel.factor,
            thermal: Curve {
                descending: &kernel.thermal,
                part: 0.0,
                offset: Interval::point(kernel.thermal_offset as f64),
                x,
            },
            second,
            slack: 0.0,
        }
    }

    /// The same kernel at every zero and span.
    pub(super) const fn adjusted(self, to: &Adjusted) -> Self {
        let thermal = self.thermal.adjusted(to.thermal);
        Self { gain: to.gain, curvature: to.curvature, thermal, slack: to.slack, ..self }
    }

    /// Nothing where the type has none, so that a target's code has no trace of it.
    const fn product(&self) -> Option<i32> {
        if let [factor, ..] = self.product.as_slice() { Some(*factor) } else { None }
    }

    /// The largest magnitude that a reading in range can have, Q34.
    pub(super) const fn reach(&self) -> f64 {
        let reading = self.reading();
        reading.exact.magnitude() + reading.error.magnitude()
    }

    /// The larger bound of the two paths, in nanostrain.
    pub(super) const fn max(&self) -> f64 {
        let (reading, point) = self.paths();
        reading.error.hull(point.error).magnitude() * STEP
    }

    /// Refuses a kernel in which a value of an input in range would not fit an `i32`.
    pub(super) const fn check_fit<const D: usize, const F: usize>(
        kernel: &'a Kernel<D, F, PRODUCT>,
        second: Option<Curve<'a>>,
    ) -> Result<(), Error> {
        Self::of(kernel, second, Causes::ALL).fits()
    }

    pub(super) const fn fits(&self) -> Result<(), Error> {
        let u = self.divisor().exact.magnitude() / TWO_32;
        try_const!(fits(Quantity::Divisor, u, 0.125));
        try_const!(fits(
            Quantity::GaugeFactorConstant,
            largest_stage(self.factor, 0.0, Interval::point(0.0)),
            TWO_31 - 2.0
        ));
        try_const!(fits(Quantity::ThermalOutputConstant, self.thermal.largest_stage(), TWO_31 - 2.0));
        if let Some(second) = self.second {
            try_const!(fits(Quantity::ThermalOutputConstant, second.largest_stage(), TWO_31 - 2.0));
        }
        try_const!(gain_fits(self.largest_gain(), TWO_31 - 8.0));
        let (reading, point) = self.paths();
        let larger = self.largest();
        let larger = if reading.exact.magnitude() > larger { reading.exact.magnitude() } else { larger };
        let larger = if point.exact.magnitude() > larger { point.exact.magnitude() } else { larger };
        // A few dozen steps for the errors of the intermediates.
        fits(Quantity::StrainValue, larger, TWO_31 - 64.0)
    }

    /// The largest intermediate between the signal and the result, on either path.
    const fn largest(&self) -> f64 {
        let u = self.divisor().exact.scaled(1.0 / TWO_32).magnitude();
        let p = self.curvature().exact.scaled(1.0 / TWO_32).magnitude();
        let signal = self.signal().exact.magnitude() * (1.0 + self.compensated_share());
        let thermal = self.thermal().exact.magnitude();
        let s = self.reciprocal_of_factor().exact.scaled(1.0 / TWO_32).magnitude();
        // One call: |numerator| times all factors. Split: signal and thermal output apart, each with all factors it
        // meets.
        let one_call = (signal + thermal * (1.0 + p)) * (1.0 + u) * (1.0 + u * u) * (1.0 + u * u * u * u);
        let bridge = (1.0 + p) * (1.0 + p * p + p * p * p * p);
        let split = (signal * bridge + thermal) * (1.0 + s);
        one_call.max(split)
    }

    /// The largest gain of a point, with the reciprocal worked in.
    const fn largest_gain(&self) -> f64 {
        let p = self.curvature().exact.scaled(1.0 / TWO_32).magnitude();
        let s = self.reciprocal_of_factor().exact.scaled(1.0 / TWO_32).magnitude();
        let gain = self.gain.magnitude() * (1.0 + self.compensated_share());
        gain * (1.0 + s) * (1.0 + p) * (1.0 + p * p + p * p * p * p)
    }

    /// By which part of itself the compensating gauge can change the signal.
    const fn compensated_share(&self) -> f64 {
        match (self.product(), self.compensation()) {
            (Some(factor), Some(compensation)) => {
                self.times_factor(compensation, factor).exact.magnitude() / TWO_32
            }
            _ => 0.0,
        }
    }

    /// `floor(a b / 2^32)`.
    const fn mul(&self, a: Value, b: Value) -> Value {
        product(a, b, self.causes.operations)
    }

    /// The square, whose exact value is never negative.
    const fn square(&self, a: Value) -> Value {
        let product = self.mul(a, a);
        Value { exact: Interval::new(0.0, product.exact.high), ..product }
    }

    /// The square in a point, one step more where the temperature's flag is raised.
    const fn square_flagged(&self, a: Value) -> Value {
        let square = self.square(a);
        let raised = if self.causes.operations { Interval::new(0.0, 1.0) } else { Interval::point(0.0) };
        Value { exact: square.exact, error: square.error.plus(raised), zero: false }
    }

    const fn mla(&self, a: Value, b: Value, c: Value) -> Value {
        add(self.mul(a, b), c)
    }

    /// `mla(a, b, a)`.
    const fn grown(&self, a: Value, b: Value) -> Value {
        grown(a, b, self.causes.operations)
    }

    /// The operation that gives the result.
    const fn last_mla(&self, a: Value, b: Value, c: Value) -> Value {
        add(product(a, b, self.causes.output), c)
    }

    /// A constant, known to half a step, and a little for the `f64` that it was rounded from: the thousandth of
    /// a step is what the model allows the highest power of a package's polynomials to lose by cancellation.
    const fn constant(&self, value: i32) -> Value {
        self.constant_within(Interval::point(value as f64))
    }

    const fn constant_within(&self, values: Interval) -> Value {
        let half = 0.5 + 1e-3 + self.slack + values.magnitude() * 1e-13;
        let error = if self.causes.constants { Interval::around_zero(half) } else { Interval::point(0.0) };
        Value { exact: values.minus(error), error, zero: values.magnitude() == 0.0 }
    }

    const fn signal(&self) -> Value {
        self.mul(self.d, self.constant_within(self.gain))
    }

    const fn curvature(&self) -> Value {
        self.mul(self.d, self.constant_within(self.curvature))
    }

    const fn factor_change(&self) -> Value {
        let change = self.horner(self.factor, 0.0, self.x);
        self.mul(change, self.x)
    }

    /// Thermal output, less that of a compensating gauge.
    const fn thermal(&self) -> Value {
        let own = self.own_thermal();
        match self.compensation() {
            None => own,
            Some(compensation) => add(own, compensation),
        }
    }

    /// Of the gauge that measures.
    const fn own_thermal(&self) -> Value {
        let own = self.thermal;
        let high = self.horner(own.descending, own.part, own.x);
        // The constant carries the mean of the dropped parts, which is an error on purpose.
        let mut offset = self.constant_within(own.offset);
        if self.causes.operations {
            let carried = Interval::point(DROPPED_BY_READING);
            offset =
                Value { exact: offset.exact.minus(carried), error: offset.error.plus(carried), zero: false };
        }
        self.mla(high, own.x, offset)
    }

    /// Of the compensating gauge.
    const fn compensation(&self) -> Option<Value> {
        let Some(second) = self.second else { return None };
        let high = self.horner(second.descending, second.part, second.x);
        Some(self.mla(high, second.x, self.constant_within(second.offset)))
    }

    /// A strain times the gauge factor of mid range with its sign turned, in 2^-32.
    const fn times_factor(&self, strain: Value, factor: i32) -> Value {
        let product = self.mul(strain, self.constant(factor));
        let shifted = (1 << PRODUCT_SHIFT) as f64;
        Value { exact: product.exact.scaled(shifted), error: product.error.scaled(shifted), ..product }
    }

    /// What the reciprocal is multiplied by, and the bridge's divisor less one, with that of thermal output in it where it is
    /// multiplied.
    const fn numerator(&self) -> (Value, Value) {
        let p = self.curvature();
        let Some(factor) = self.product() else {
            let thermal = self.thermal();
            return (add(self.grown(thermal, p), self.signal()), p);
        };
        let signal = self.signal();
        let own = self.own_thermal();
        let own = self.grown(own, p);
        let both = match self.compensation() {
            None => own,
            Some(compensation) => {
                let other = subtract(p, self.times_factor(signal, factor));
                self.mla(compensation, other, add(own, compensation))
            }
        };
        (add(signal, both), add(p, self.times_factor(own, factor)))
    }

    /// The terms from the highest down to the first.
    const fn horner(&self, descending: &[i32], part: f64, x: Value) -> Value {
        // Without an index, so that no check of one is left in a target's code.
        let [highest, lower @ ..] = descending else { return self.constant(0) };
        let mut sum = self.constant_within(spread(*highest, part));
        let mut lower = lower;
        while let [next, rest @ ..] = lower {
            sum = self.mla(sum, x, self.constant_within(spread(*next, part)));
            lower = rest;
        }
        sum
    }

    /// `u = l - p + p l`.
    const fn divisor(&self) -> Value {
        let (_, p) = self.numerator();
        self.divisor_with(p)
    }

    const fn divisor_with(&self, p: Value) -> Value {
        let l = self.factor_change();
        let u = self.mla(p, l, subtract(l, p));
        // The range from the product form, which is monotonic in both: (1 + p)(1 - l) = 1 - u.
        let one = Interval::point(TWO_32);
        let product = one.plus(p.exact).times(one.minus(l.exact)).scaled(1.0 / TWO_32);
        Value { exact: one.minus(product), ..u }
    }

    /// `s` with `1 + s = 1 / (1 - l)`.
    const fn reciprocal_of_factor(&self) -> Value {
        let l = self.factor_and_thermal_change();
        let l2 = self.square(l);
        let even = self.grown(l2, l2);
        let even = self.mla(even, l2, l2);
        let s = self.mla(even, l, add(l, even));
        // 1 + s times 1 / (1 - l^8) is exact: the remainder is an error of the other sign.
        let one = Interval::point(TWO_32);
        let whole = one.minus(l.exact).scaled(1.0 / TWO_32).reciprocal().scaled(TWO_32);
        let remainder = self.remainder(l, 8).times(whole);
        Value { exact: whole.minus(one), error: s.error.minus(remainder), zero: s.zero }
    }

    /// `l` of a point: with the change by thermal output in it where it is multiplied.
    const fn factor_and_thermal_change(&self) -> Value {
        let l = self.factor_change();
        let Some(factor) = self.product() else { return l };
        let change = self.times_factor(self.own_thermal(), factor);
        let both = self.mla(l, change, subtract(l, change));
        // The range from the product form, (1 - l)(1 + change).
        let one = Interval::point(TWO_32);
        let product = one.minus(l.exact).times(one.plus(change.exact)).scaled(1.0 / TWO_32);
        Value { exact: one.minus(product), ..both }
    }

    /// What a reciprocal cut before `u^n` leaves out, over what it gives.
    const fn remainder(&self, u: Value, n: usize) -> Interval {
        if self.causes.reciprocal {
            Interval::new(0.0, remainder(u.exact.magnitude() / TWO_32, n))
        } else {
            Interval::point(0.0)
        }
    }

    /// Exact result and error of the one-call path and of the split path.
    pub(super) const fn paths(&self) -> (Value, Value) {
        // On one side of mid range what the products of a polynomial drop pulls one way; an enclosure of both sides at once
        // counts it both ways.
        let x = self.x.exact;
        let middle = if x.high > 0.0 { 0.0 } else { x.high };
        let cold = self.over(Interval::new(x.low, middle)).point();
        let hot = self.over(Interval::new(middle, x.high)).point();
        let exact = cold.exact.hull(hot.exact);
        (self.reading(), Value { exact, error: cold.error.hull(hot.error), zero: false })
    }

    /// The same kernel over a part of its temperatures.
    const fn over(&self, x: Interval) -> Self {
        let x = exactly(x);
        Self { x, thermal: Curve { x, ..self.thermal }, ..*self }
    }

    const fn reading(&self) -> Value {
        let (numerator, p) = self.numerator();
        let u = self.divisor_with(p);
        let u2 = self.square(u);
        let strain = self.grown(self.grown(numerator, u), u2);
        let strain = self.last_mla(self.mul(strain, u2), u2, strain);
        Value { error: strain.error.minus(self.remainder(u, 8).times(strain.exact)), ..strain }
    }

    const fn point(&self) -> Value {
        let s = self.reciprocal_of_factor();
        let gain = self.constant_within(self.gain);
        let gain = match (self.product(), self.compensation()) {
            (Some(factor), Some(compensation)) => {
                let share = self.times_factor(compensation, factor);
                self.grown(gain, subtract(exactly(Interval::point(0.0)), share))
            }
            _ => gain,
        };
        let gain = self.grown(gain, s);
        let mut thermal = self.grown(self.thermal(), s);
        if self.causes.operations {
            thermal.error = thermal.error.minus(Interval::point(POINT_OFFSET as f64));
        }
        let turned = Interval::new(-self.curvature.high, -self.curvature.low);
        let p = self.mul(self.d, self.constant_within(turned));
        let p2 = self.square_flagged(p);
        let even = self.grown(p2, p2);
        let gain = self.grown(self.grown(gain, p), even);
        let strain = self.last_mla(self.d, gain, thermal);
        let bridge = self.d.exact.times(gain.exact).scaled(1.0 / TWO_32);
        Value { error: strain.error.minus(self.remainder(p, 6).times(bridge)), ..strain }
    }
}

#[cfg(test)]
mod tests;
