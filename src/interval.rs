//! Interval arithmetic in `const fn`, rounded outwards: the tool with which error bounds are computed
//! when a channel is compiled.
//!
//! `f64` operations round to nearest, so moving each end of a result one step outwards makes it an
//! enclosure of the exact one.

/// All numbers from `low` to `high`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Interval {
    pub low: f64,
    pub high: f64,
}

impl Interval {
    pub const fn new(low: f64, high: f64) -> Self {
        Self { low, high }
    }

    pub const fn point(value: f64) -> Self {
        Self { low: value, high: value }
    }

    /// From `-radius` to `radius`.
    pub const fn around_zero(radius: f64) -> Self {
        Self { low: -radius, high: radius }
    }

    const fn outward(low: f64, high: f64) -> Self {
        Self { low: step_down(low), high: step_up(high) }
    }

    pub const fn plus(self, other: Self) -> Self {
        Self::outward(self.low + other.low, self.high + other.high)
    }

    pub const fn minus(self, other: Self) -> Self {
        Self::outward(self.low - other.high, self.high - other.low)
    }

    pub const fn times(self, other: Self) -> Self {
        if self.is_nan() || other.is_nan() {
            return Self::point(f64::NAN);
        }
        let a = self.low * other.low;
        let b = self.low * other.high;
        let c = self.high * other.low;
        let d = self.high * other.high;
        if a.is_nan() || b.is_nan() || c.is_nan() || d.is_nan() {
            return Self::point(f64::NAN);
        }
        Self::outward(a.min(b).min(c.min(d)), a.max(b).max(c.max(d)))
    }

    /// Multiplied by an exact number.
    pub const fn scaled(self, factor: f64) -> Self {
        self.times(Self::point(factor))
    }

    /// The reciprocal. The interval must not hold zero; if it does the result is everything.
    pub const fn reciprocal(self) -> Self {
        if self.low <= 0.0 && self.high >= 0.0 {
            return Self::new(f64::NEG_INFINITY, f64::INFINITY);
        }
        Self::outward(1.0 / self.high, 1.0 / self.low)
    }

    pub const fn hull(self, other: Self) -> Self {
        if self.is_nan() || other.is_nan() {
            return Self::point(f64::NAN);
        }
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    pub const fn middle(self) -> f64 {
        self.low + (self.high - self.low) / 2.0
    }

    /// `f64::min` and its like drop a NaN, which must not make an interval look sound.
    const fn is_nan(self) -> bool {
        self.low.is_nan() || self.high.is_nan()
    }

    /// The largest magnitude in it. NaN if either end is.
    pub const fn magnitude(self) -> f64 {
        if self.is_nan() {
            return f64::NAN;
        }
        self.low.abs().max(self.high.abs())
    }
}

/// The next number above, and infinity stays what it is.
const fn step_up(x: f64) -> f64 {
    if x.is_nan() || x == f64::INFINITY {
        return x;
    }
    if x == 0.0 {
        return f64::from_bits(1);
    }
    let bits = x.to_bits();
    f64::from_bits(if x > 0.0 { bits + 1 } else { bits - 1 })
}

const fn step_down(x: f64) -> f64 {
    -step_up(-x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_go_outwards_by_the_smallest_amount() {
        for x in [0.0, -0.0, 1.0, -1.0, 1e-300, -5e-324, 1e300] {
            assert!(step_up(x) > x && step_down(x) < x);
            if x != 0.0 {
                assert_eq!(step_down(step_up(x)), x);
            }
        }
        assert_eq!(step_up(f64::INFINITY), f64::INFINITY);
        assert!(step_up(f64::NAN).is_nan());
    }

    #[test]
    fn operations_enclose() {
        let a = Interval::new(-2.0, 3.0);
        let b = Interval::new(0.5, 4.0);
        let product = a.times(b);
        assert!(product.low <= -8.0 && product.high >= 12.0 && product.magnitude() < 12.1);
        assert!(a.minus(a).low <= -5.0);
        let inverse = b.reciprocal();
        assert!(inverse.low <= 0.25 && inverse.high >= 2.0);
        assert_eq!(a.reciprocal().high, f64::INFINITY);
        let broken = Interval::new(f64::NAN, 1.0);
        assert!(broken.magnitude().is_nan());
        assert!(a.times(broken).magnitude().is_nan() && a.hull(broken).magnitude().is_nan());
        // Infinity times zero is no number either.
        assert!(Interval::new(0.0, 1.0).times(Interval::new(1.0, f64::INFINITY)).magnitude().is_nan());
    }
}
