//! Interval arithmetic in `const fn`, rounded outwards: the tool with which error bounds are computed
//! when a channel is compiled.
//!
//! `f64` operations round to nearest, so moving each end of a result one step outwards makes it an
//! enclosure of the exact one.

/// The least number above zero.
const SMALLEST: f64 = f64::from_bits(1);

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

    /// Each end moved outwards by one or two units in the last place; infinities and NaN stay what they are. Without a
    /// call, because what is computed with intervals is computed while the compiler runs.
    const fn outward(low: f64, high: f64) -> Self {
        let (below, above) = (if low < 0.0 { -low } else { low }, if high < 0.0 { -high } else { high });
        Self { low: low - (below * f64::EPSILON + SMALLEST), high: high + (above * f64::EPSILON + SMALLEST) }
    }

    pub const fn plus(self, other: Self) -> Self {
        Self::outward(self.low + other.low, self.high + other.high)
    }

    pub const fn minus(self, other: Self) -> Self {
        Self::outward(self.low - other.high, self.high - other.low)
    }

    pub const fn times(self, other: Self) -> Self {
        let a = self.low * other.low;
        let b = self.low * other.high;
        let c = self.high * other.low;
        let d = self.high * other.high;
        let sum = a + b + c + d;
        if !(sum >= f64::NEG_INFINITY && sum <= f64::INFINITY) {
            // One of them is NaN, or they are infinite both ways: nothing is known then either.
            return Self::point(f64::NAN);
        }
        let (low, high) = if a < b { (a, b) } else { (b, a) };
        let (least, most) = if c < d { (c, d) } else { (d, c) };
        Self::outward(if low < least { low } else { least }, if high > most { high } else { most })
    }

    /// Multiplied by an exact number.
    pub const fn scaled(self, factor: f64) -> Self {
        let (low, high) = (self.low * factor, self.high * factor);
        if factor < 0.0 { Self::outward(high, low) } else { Self::outward(low, high) }
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
        Self { low: smaller(self.low, other.low), high: larger(self.high, other.high) }
    }

    pub const fn width(self) -> f64 {
        self.high - self.low
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
        larger(-self.low, self.high)
    }
}

/// For numbers that are not NaN.
const fn smaller(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

const fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_go_outwards_by_little() {
        for x in [0.0, -0.0, 1.0, -1.0, 1.999_999_999, 1e-300, 1e-308, -5e-324, 1e300, f64::MAX] {
            let Interval { low, high } = Interval::outward(x, x);
            assert!(high > x && low < x, "{x}");
            assert!(high <= x + x.abs() * 5e-16 + 1e-323 && low >= x - x.abs() * 5e-16 - 1e-323);
        }
        let all = Interval::new(f64::NEG_INFINITY, f64::INFINITY);
        assert_eq!(Interval::outward(all.low, all.high), all);
        let Interval { low, high } = Interval::outward(f64::NAN, f64::NAN);
        assert!(low.is_nan() && high.is_nan());
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
