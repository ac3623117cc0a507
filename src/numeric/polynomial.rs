//! Polynomials of degree up to five, in fixed memory: value and slope in one pass, exact change of
//! variable, products, and (inside the crate) an enclosure of the values over an interval.

use crate::numeric::Interval;

/// A polynomial of degree up to five, coefficients in ascending powers.
///
/// All arithmetic is in `f64`, by Horner's rule; unused high coefficients are zero.
///
/// ```
/// use gaugewright::numeric::Polynomial;
/// let p = Polynomial::new([1.0, -2.0, 3.0]); // 1 - 2 x + 3 x^2
/// assert_eq!(p.at(2.0), 9.0);
/// assert_eq!(p.slope_at(2.0), 10.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Polynomial {
    coefficients: [f64; Polynomial::TERMS],
}

impl Polynomial {
    /// The number of coefficients held: degree five and below.
    ///
    /// ```
    /// assert_eq!(gaugewright::numeric::Polynomial::TERMS, 6);
    /// ```
    pub const TERMS: usize = 6;

    /// The polynomial that is zero everywhere.
    ///
    /// ```
    /// assert_eq!(gaugewright::numeric::Polynomial::ZERO.at(123.0), 0.0);
    /// ```
    pub const ZERO: Self = Self { coefficients: [0.0; Self::TERMS] };

    /// From up to six coefficients in ascending powers. More than six do not compile.
    ///
    /// ```
    /// assert_eq!(gaugewright::numeric::Polynomial::new([0.0, 1.0]).at(7.0), 7.0);
    /// ```
    #[must_use]
    pub const fn new<const N: usize>(ascending: [f64; N]) -> Self {
        const { assert!(N <= Self::TERMS, "a polynomial holds six coefficients at most: degree five") };
        let mut coefficients = [0.0; Self::TERMS];
        let mut k = 0;
        while k < N {
            coefficients[k] = ascending[k];
            k += 1;
        }
        Self { coefficients }
    }

    /// A constant.
    ///
    /// ```
    /// assert_eq!(gaugewright::numeric::Polynomial::constant(2.5).at(100.0), 2.5);
    /// ```
    #[must_use]
    pub const fn constant(value: f64) -> Self {
        Self::new([value])
    }

    /// The coefficients in ascending powers: numbers in whatever unit they were given.
    ///
    /// ```
    /// let p = gaugewright::numeric::Polynomial::new([1.0, 2.0]);
    /// assert_eq!(p.coefficients(), [1.0, 2.0, 0.0, 0.0, 0.0, 0.0]);
    /// ```
    #[must_use]
    pub const fn coefficients(&self) -> [f64; Self::TERMS] {
        self.coefficients
    }

    /// The highest power with a coefficient that is not zero, a number from 0 (a constant) to 5.
    ///
    /// ```
    /// assert_eq!(gaugewright::numeric::Polynomial::new([1.0, 0.0, 3.0]).degree(), 2);
    /// ```
    #[must_use]
    pub const fn degree(&self) -> usize {
        let mut degree = Self::TERMS - 1;
        while degree > 0 && self.coefficients[degree] == 0.0 {
            degree -= 1;
        }
        degree
    }

    /// The value at `x`, in the unit of the constant term.
    ///
    /// ```
    /// assert_eq!(gaugewright::numeric::Polynomial::new([1.0, 1.0, 1.0]).at(3.0), 13.0);
    /// ```
    #[must_use]
    pub const fn at(&self, x: f64) -> f64 {
        self.value_and_slope(x).0
    }

    /// The derivative at `x`, in the unit of the value over that of `x`.
    ///
    /// ```
    /// assert_eq!(gaugewright::numeric::Polynomial::new([1.0, 1.0, 1.0]).slope_at(3.0), 7.0);
    /// ```
    #[must_use]
    pub const fn slope_at(&self, x: f64) -> f64 {
        self.value_and_slope(x).1
    }

    /// Value and derivative at `x`, in one Horner pass; in the units of [`at`](Self::at) and [`slope_at`](Self::slope_at).
    ///
    /// ```
    /// let p = gaugewright::numeric::Polynomial::new([0.0, 0.0, 1.0]);
    /// assert_eq!(p.value_and_slope(4.0), (16.0, 8.0));
    /// ```
    #[must_use]
    pub const fn value_and_slope(&self, x: f64) -> (f64, f64) {
        let mut value = 0.0;
        let mut slope = 0.0;
        let mut k = Self::TERMS;
        while k > 0 {
            k -= 1;
            slope = slope * x + value;
            value = value * x + self.coefficients[k];
        }
        (value, slope)
    }

    /// The polynomial `q` with `q(x) = p(offset + scale * x)`: the change of variable that turns a
    /// Fahrenheit polynomial into a Celsius one (`offset` 32, `scale` 1.8) without fitting anything.
    /// Exact but for the rounding of `f64`.
    ///
    /// ```
    /// use gaugewright::numeric::Polynomial;
    /// let fahrenheit = Polynomial::new([5.0, 0.25, -0.5]);
    /// let celsius = fahrenheit.substitute(32.0, 1.8);
    /// assert!((celsius.at(100.0) - fahrenheit.at(212.0)).abs() < 1e-9);
    /// ```
    #[must_use]
    pub const fn substitute(&self, offset: f64, scale: f64) -> Self {
        // Horner over polynomials: q <- q * (offset + scale x) + c.
        let mut q = [0.0; Self::TERMS];
        let mut k = Self::TERMS;
        while k > 0 {
            k -= 1;
            let mut j = Self::TERMS - 1;
            while j > 0 {
                q[j] = q[j] * offset + q[j - 1] * scale;
                j -= 1;
            }
            q[0] = q[0] * offset + self.coefficients[k];
        }
        Self { coefficients: q }
    }

    /// The derivative.
    pub(crate) const fn derivative(&self) -> Self {
        let mut slope = Self::ZERO;
        let mut k = 1;
        while k < Self::TERMS {
            slope.coefficients[k - 1] = k as f64 * self.coefficients[k];
            k += 1;
        }
        slope
    }

    /// Without the powers above `degree`.
    pub(crate) const fn truncated(mut self, degree: usize) -> Self {
        let mut k = degree + 1;
        while k < Self::TERMS {
            self.coefficients[k] = 0.0;
            k += 1;
        }
        self
    }

    /// The sum of two polynomials.
    ///
    /// ```
    /// use gaugewright::numeric::Polynomial;
    /// let sum = Polynomial::new([1.0]).plus(&Polynomial::new([0.0, 1.0]));
    /// assert_eq!(sum.at(2.0), 3.0);
    /// ```
    #[must_use]
    pub const fn plus(&self, other: &Self) -> Self {
        let mut sum = *self;
        let mut k = 0;
        while k < Self::TERMS {
            sum.coefficients[k] += other.coefficients[k];
            k += 1;
        }
        sum
    }

    /// Every value multiplied by `factor`.
    ///
    /// ```
    /// assert_eq!(gaugewright::numeric::Polynomial::new([1.0, 2.0]).times(3.0).at(1.0), 9.0);
    /// ```
    #[must_use]
    pub const fn times(&self, factor: f64) -> Self {
        let mut product = *self;
        let mut k = 0;
        while k < Self::TERMS {
            product.coefficients[k] *= factor;
            k += 1;
        }
        product
    }

    /// The product of two polynomials whose degrees add up to five at most. A coefficient that would have
    /// nowhere to go and is not zero makes the highest one a NaN, rather than being lost.
    ///
    /// ```
    /// use gaugewright::numeric::Polynomial;
    /// let p = Polynomial::new([1.0, 1.0]).multiplied(&Polynomial::new([-3.0, 1.0])); // (1 + x)(x - 3)
    /// assert_eq!(p.at(5.0), 12.0);
    /// assert_eq!(p.at(3.0), 0.0);
    /// ```
    #[must_use]
    pub const fn multiplied(&self, other: &Self) -> Self {
        let mut product = [0.0; Self::TERMS];
        let mut lost = false;
        // High powers that are zero are most of the time of a product that the compiler evaluates.
        let (last, others_last) = (self.degree(), other.degree());
        let mut i = 0;
        while i <= last {
            let mut j = 0;
            while j <= others_last {
                let term = self.coefficients[i] * other.coefficients[j];
                if i + j < Self::TERMS {
                    product[i + j] += term;
                } else if term != 0.0 {
                    lost = true;
                }
                j += 1;
            }
            i += 1;
        }
        if lost {
            product[Self::TERMS - 1] = f64::NAN;
        }
        Self { coefficients: product }
    }

    /// The same with a constant term of zero.
    pub(crate) const fn without_constant(mut self) -> Self {
        self.coefficients[0] = 0.0;
        self
    }

    /// An interval that holds every value of the polynomial over another: the range is cut in pieces, each
    /// enclosed in its mean-value form with outward rounding. Tight where the polynomial is well conditioned.
    pub(crate) const fn enclose(&self, over: Interval) -> Interval {
        // The form is exact for a straight line.
        let pieces = if self.degree() <= 1 { 1 } else { 32 };
        let mut all = Interval::point(self.at(over.low));
        let step = (over.high - over.low) / pieces as f64;
        let mut i = 0;
        while i < pieces {
            let left = over.low + step * i as f64;
            let right = if i + 1 == pieces { over.high } else { over.low + step * (i + 1) as f64 };
            all = all.hull(self.mean_value_form(Interval::new(left, right)));
            i += 1;
        }
        all
    }

    /// What the terms add up to if nothing cancels, for arguments up to `largest`: what rounding in the
    /// polynomial's own arithmetic is relative to.
    pub(crate) const fn size(&self, largest: f64) -> f64 {
        let mut sum = 0.0;
        let mut k = Self::TERMS;
        while k > 0 {
            k -= 1;
            sum = sum * largest + self.coefficients[k].abs();
        }
        sum
    }

    /// `p(middle) + p'(piece) * (piece - middle)`, all in interval arithmetic.
    pub(crate) const fn mean_value_form(&self, piece: Interval) -> Interval {
        let middle = piece.middle();
        let mut k = self.degree();
        let mut value = Interval::point(self.coefficients[k]);
        let mut wide = value;
        let mut slope = Interval::point(0.0);
        while k > 0 {
            k -= 1;
            let coefficient = Interval::point(self.coefficients[k]);
            slope = slope.times(piece).plus(wide);
            value = value.scaled(middle).plus(coefficient);
            // The value over the piece is for the slope of the next power.
            if k > 0 {
                wide = wide.times(piece).plus(coefficient);
            }
        }
        value.plus(slope.times(piece.minus(Interval::point(middle))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lost_top_coefficient_is_a_nan_not_a_silent_zero() {
        let top = Polynomial::new([0.0, 0.0, 0.0, 0.0, 0.0, 1.0]);
        assert!(top.multiplied(&Polynomial::new([-1.0, 1.0])).coefficients()[5].is_nan());
        assert_eq!(top.multiplied(&Polynomial::constant(2.0)), top.times(2.0));
    }

    #[test]
    fn enclosure_holds_every_value_and_is_tight() {
        let p = Polynomial::new([-43.2, 3.17, -0.0629, 2.5e-4, -1.7e-7, 6e-13]);
        let Interval { low, high } = p.enclose(Interval::new(-200.0, 300.0));
        let (mut seen_low, mut seen_high) = (f64::INFINITY, f64::NEG_INFINITY);
        for i in 0..=50_000 {
            let value = p.at(-200.0 + f64::from(i) * 0.01);
            seen_low = seen_low.min(value);
            seen_high = seen_high.max(value);
        }
        assert!(low <= seen_low && seen_high <= high);
        assert!(high - low < (seen_high - seen_low) * 1.05);
    }
}
