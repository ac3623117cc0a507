//! How far a floating-point kernel can be from the exact model: running error analysis on intervals.
//!
//! Every operation rounds to nearest, so its result is off by at most the unit roundoff of its size; every
//! constant is the exact one rounded in the same way. Ranges and errors are carried through the kernel's
//! own sequence of operations, in the order in which it does them.

use crate::kernel::error_bound::{Causes, remainder};
use crate::numeric::{ConstantsRounding, Interval};

/// An exact quantity's range and the largest magnitude of `computed - exact`.
#[derive(Clone, Copy)]
pub(super) struct Value {
    pub exact: Interval,
    pub error: f64,
    /// Computed as zero for every input: what it is added to stays what it is.
    zero: bool,
}

/// A kernel's constants in `f64`, its domain, and what counts.
pub(super) struct Analysis<'a, const PRODUCT: usize> {
    pub causes: Causes,
    pub unit_roundoff: f64,
    pub x: Interval,
    pub d: Interval,
    pub gain: f64,
    pub curvature: f64,
    pub factor: &'a [f64],
    pub thermal: &'a [f64],
    pub thermal_offset: f64,
    pub product: &'a [f64; PRODUCT],
    pub second: Option<SecondView<'a>>,
    pub rounding: ConstantsRounding,
}

/// A compensating gauge's constants and range of positions.
#[derive(Clone, Copy)]
pub(super) struct SecondView<'a> {
    pub x: Interval,
    pub thermal: &'a [f64],
    pub thermal_offset: f64,
}

/// Room for what a sum of magnitudes in `f64` may round away.
const ROOM: f64 = 1.0 + 1e-12;
/// An underflow loses no more than this, in either type.
const UNDERFLOW: f64 = 1e-44;

impl<const PRODUCT: usize> Analysis<'_, PRODUCT> {
    /// Nothing where the type has none, so that a target's code has no trace of it.
    const fn product(&self) -> Option<f64> {
        match self.product.as_slice() {
            [] => None,
            [factor, ..] => Some(*factor),
        }
    }

    /// Rounds the result of an operation.
    const fn rounded(&self, value: Value) -> Value {
        if self.causes.operations { self.with_rounding(value) } else { value }
    }

    /// To nearest is off by half a unit in the last place of the largest magnitude at most.
    const fn with_rounding(&self, value: Value) -> Value {
        let size = (value.exact.magnitude() + value.error) * ROOM;
        let error = value.error + power_of_two_below(size) * self.unit_roundoff + UNDERFLOW;
        Value { error: error * ROOM, ..value }
    }

    const fn times(&self, a: Value, b: Value) -> Value {
        let error = a.error * b.exact.magnitude() + b.error * a.exact.magnitude() + a.error * b.error;
        let product = Value { exact: a.exact.times(b.exact), error: error * ROOM, zero: a.zero || b.zero };
        if product.zero { product } else { self.rounded(product) }
    }

    const fn plus(&self, a: Value, b: Value) -> Value {
        let sum = sum(a, b);
        if a.zero || b.zero { sum } else { self.rounded(sum) }
    }

    const fn minus(&self, a: Value, b: Value) -> Value {
        self.plus(a, Value { exact: Interval::point(0.0).minus(b.exact), ..b })
    }

    /// The operation that gives the result.
    const fn last_plus(&self, a: Value, b: Value) -> Value {
        let sum = sum(a, b);
        if a.zero || b.zero || !self.causes.output { sum } else { self.with_rounding(sum) }
    }

    /// A division by something of the size of one.
    const fn over(&self, a: Value, b: Value) -> Value {
        let inverse = b.exact.reciprocal();
        let m = inverse.magnitude();
        // |a'/b' - a/b| <= (ea + |a/b| eb) / (|b| - eb)
        let quotient = a.exact.times(inverse);
        let error = (a.error + quotient.magnitude() * b.error) * m / (1.0 - b.error * m);
        let quotient = Value { exact: quotient, error: error * ROOM, zero: a.zero };
        if a.zero { quotient } else { self.rounded(quotient) }
    }

    /// A constant, known to a rounding, and to what the `f64` that it was rounded from is `off`.
    const fn constant(&self, value: f64, off: f64) -> Value {
        let error = if self.causes.constants {
            (power_of_two_below(value.abs()) * self.unit_roundoff + off) * ROOM + UNDERFLOW
        } else {
            0.0
        };
        Value { exact: Interval::point(value).plus(Interval::around_zero(error)), error, zero: value == 0.0 }
    }

    const fn one(&self) -> Value {
        Value { exact: Interval::point(1.0), error: 0.0, zero: false }
    }

    /// An integer converted, exact below the type's own precision.
    const fn converted(&self, range: Interval, step: f64) -> Value {
        let exact = Value { exact: range, error: 0.0, zero: false };
        if range.magnitude() * self.unit_roundoff * 2.0 <= step { exact } else { self.rounded(exact) }
    }

    /// The scale is a power of two, so converting is all that rounds.
    const fn position(&self, x: Interval) -> Value {
        self.converted(x, 0.0)
    }

    const fn distance(&self) -> Value {
        self.converted(self.d, 1.0)
    }

    /// The gain is known to a part of itself.
    const fn gain(&self) -> Value {
        self.constant(self.gain, self.gain.abs() * self.rounding.gain)
    }

    /// So is the gauge factor of mid range, by which the gain was divided.
    const fn middle_factor(&self, factor: f64) -> Value {
        self.constant(factor, factor.abs() * self.rounding.gain)
    }

    /// Terms from the highest down to the first, whose constants are `off` by so much all together.
    const fn horner(&self, ascending: &[f64], x: Interval, off: f64) -> Value {
        let x = self.position(x);
        let mut k = ascending.len() - 1;
        let mut sum = self.constant(ascending[k], 0.0);
        while k > 0 {
            k -= 1;
            sum = self.plus(self.times(sum, x), self.constant(ascending[k], 0.0));
        }
        self.off_by(self.times(sum, x), off)
    }

    /// The exact value is up to `off` from that of the constants as they were before they were rounded.
    const fn off_by(&self, value: Value, off: f64) -> Value {
        if value.zero || !self.causes.constants {
            return value;
        }
        Value {
            exact: value.exact.plus(Interval::around_zero(off)),
            error: (value.error + off) * ROOM,
            zero: false,
        }
    }

    const fn factor_change(&self) -> Value {
        self.horner(self.factor, self.x, self.rounding.factor)
    }

    /// Thermal output, less that of a compensating gauge.
    const fn thermal_output(&self) -> Value {
        let own = self.own_thermal();
        match self.compensation() {
            None => own,
            Some(compensation) => self.minus(own, compensation),
        }
    }

    const fn own_thermal(&self) -> Value {
        // The powers, and with them their constant.
        let high = self.horner(self.thermal, self.x, 0.0);
        let own = self.plus(high, self.constant(self.thermal_offset, 0.0));
        self.off_by(own, self.rounding.thermal)
    }

    const fn compensation(&self) -> Option<Value> {
        let Some(second) = self.second else { return None };
        let high = self.horner(second.thermal, second.x, 0.0);
        let other = self.plus(high, self.constant(second.thermal_offset, 0.0));
        Some(self.off_by(other, self.rounding.compensating))
    }

    /// What the reciprocal is multiplied by, and the part of the divisor that is the bridge's, with that of thermal output where
    /// it is multiplied.
    const fn numerator(&self) -> (Value, Value) {
        let y = self.times(self.distance(), self.gain());
        let p = self.curvature();
        let Some(factor) = self.product() else {
            let t = self.thermal_output();
            return (self.minus(y, self.minus(t, self.times(t, p))), p);
        };
        let factor = self.middle_factor(factor);
        let own = self.own_thermal();
        let own = self.minus(own, self.times(own, p));
        let both = match self.compensation() {
            None => own,
            Some(compensation) => {
                let other = self.minus(self.times(y, factor), p);
                self.minus(own, self.plus(compensation, self.times(compensation, other)))
            }
        };
        (self.minus(y, both), self.minus(p, self.times(own, factor)))
    }

    const fn curvature(&self) -> Value {
        self.times(self.distance(), self.constant(self.curvature, self.rounding.curvature))
    }

    /// `u`, with its range from the product form `(1 - p)(1 + l) = 1 - u`.
    pub const fn divisor(&self) -> Value {
        let (_, p) = self.numerator();
        self.divisor_with(p)
    }

    const fn divisor_with(&self, p: Value) -> Value {
        let l = self.factor_change();
        let u = self.plus(self.minus(p, l), self.times(l, p));
        let one = Interval::point(1.0);
        let exact = one.minus(one.minus(p.exact).times(one.plus(l.exact)));
        Value { exact, ..u }
    }

    /// `Kernel::reading`.
    pub const fn reading(&self) -> Value {
        let (n, p) = self.numerator();
        let u = self.divisor_with(p);
        let q = self.over(u, self.minus(self.one(), u));
        self.last_plus(n, self.times(n, q))
    }

    /// `Kernel::at` and `OperatingPoint::reading`.
    pub const fn point(&self) -> Value {
        let l = self.factor_change();
        let t = self.thermal_output();
        let gain = self.gain();
        let (gain, l) = match self.product() {
            None => (gain, l),
            Some(factor) => {
                let factor = self.middle_factor(factor);
                let change = self.times(self.own_thermal(), factor);
                let gain = match self.compensation() {
                    None => gain,
                    Some(compensation) => self.plus(gain, self.times(gain, self.times(compensation, factor))),
                };
                (gain, self.plus(self.plus(l, change), self.times(l, change)))
            }
        };
        let s = self.over(l, self.plus(self.one(), l));
        let gain = self.minus(gain, self.times(gain, s));
        let thermal = self.minus(t, self.times(t, s));
        let y = self.times(self.distance(), gain);
        let p = self.curvature();
        let p2 = self.times(p, p);
        let q =
            self.times(self.plus(p, p2), self.plus(self.one(), self.times(p2, self.plus(self.one(), p2))));
        let mut strain = self.last_plus(y, self.minus(self.times(y, q), thermal));
        if self.causes.reciprocal {
            let left_out = remainder(p.exact.magnitude(), 7);
            let bridge = y.exact.magnitude() * (1.0 + q.exact.magnitude());
            strain.error = (strain.error + left_out * bridge) * ROOM;
        }
        strain
    }
}

/// A sum before it is rounded.
const fn sum(a: Value, b: Value) -> Value {
    Value { exact: a.exact.plus(b.exact), error: (a.error + b.error) * ROOM, zero: a.zero && b.zero }
}

/// The largest power of two that is not above a magnitude.
const fn power_of_two_below(magnitude: f64) -> f64 {
    f64::from_bits(magnitude.to_bits() & f64::INFINITY.to_bits())
}
