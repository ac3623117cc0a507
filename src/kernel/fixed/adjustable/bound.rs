//! The error bound of all zeros and spans at once: every constant is an interval.

use super::{AdjustableCompensatedKernel, AdjustableKernel, FINE_STEPS, Thermal};
use crate::error::{Error, Quantity, fits, try_const};
use crate::kernel::error_bound::{Causes, ErrorBound};
use crate::kernel::fixed::bound::{Adjusted, AdjustedCurve, Analysis};
use crate::kernel::fixed::error_limit::bound;
use crate::kernel::fixed::{DROPPED_BY_READING, Kernel, Strain, TWO_32, TWO_60, TWO_64};
use crate::numeric::Interval;
use crate::sample::InputRange;

const ONE: Interval = Interval::point(1.0);
/// All of -1 to 1, halved as Horner's rule has it.
const HALVES: Interval = Interval::around_zero(0.5);

/// What the device's own products drop of a constant, some hundred units of 2^-24, and more.
const ROUNDING: f64 = 1.0 / 1024.0;
/// By how much a balance can be off when the span is worked in, in 2^-32 of a code.
const BALANCE_OFF: f64 = 4.5;

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    AdjustableKernel<DEGREE, FACTOR, PRODUCT>
{
    /// The error bound of every kernel that [`with`](Self::with) gives. `const`: in firmware it costs nothing.
    ///
    /// ```
    /// use gaugewright::{example::STRUT, fixed::*, units::Nanostrain};
    /// static ON_SITE: AdjustableKernel =
    ///     STRUT.fixed_adjustable((-2_000_000, 2_000_000), (Span::from_ratio(0.8), Span::from_ratio(1.25)));
    /// const BOUND: Nanostrain = ON_SITE.error_bound().max();
    /// assert!(BOUND.0 < 0.45);
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        let (adjusted, _) = self.enclosed();
        bound(&self.kernel, None, Some(&adjusted))
    }

    /// Refuses a kernel in which, at some zero and span, a value would not fit.
    pub(super) const fn check_fit(&self) -> Result<(), Error> {
        let (adjusted, largest) = self.enclosed();
        try_const!(fits(Quantity::Divisor, largest, 0.25));
        Analysis::of(&self.kernel, None, Causes::ALL).adjusted(&adjusted).fits()
    }

    /// What the constants can be, and the largest part of a divisor on the way.
    const fn enclosed(&self) -> (Adjusted, f64) {
        let Kernel { codes, code_scale, .. } = self.kernel;
        let span = Interval::new(self.spans.0.ratio(), self.spans.1.ratio());
        let gain = values(&self.gain).times(span);
        let curvature = values(&self.curvature).times(span);
        let d = Interval::new(
            position(self.codes.0, codes, code_scale),
            position(self.codes.1, codes, code_scale),
        );
        let e = curvature.scaled(1.0 / TWO_32).times(d);
        let turn = ONE.minus(e).reciprocal();
        let signal = Interval::point(0.0).minus(gain.times(turn).times(d));
        let gain = gain.times(turn).times(turn);
        let (balanced, unit, largest) = match self.factor() {
            None => (self.thermal.balanced_values(None), ONE, 0.0),
            Some(factor) => {
                let change = signal.scaled(factor as f64 / TWO_60 / Strain::PER_UNIT);
                let unit = ONE.plus(change).reciprocal();
                (self.thermal.balanced_values(Some(factor)), unit, change.magnitude())
            }
        };
        let at_balance = Interval::point(0.0).minus(balanced.at_balance);
        let offset = signal.plus(at_balance.times(balanced.resistance)).times(unit);
        // See the design note: a balance is off by a part of a code, which moves the polynomials and the middle of the window; and what
        // the polynomials leave out grows as the constants do.
        let off = BALANCE_OFF / (1u64 << (63 - self.shift)) as f64;
        let moved = (slope(&self.gain) + slope(&self.curvature)) * off
            + 2.0 * gain.magnitude() * code_scale as f64 / TWO_64;
        let grown = span.magnitude() * turn.magnitude() * turn.magnitude();
        let [of_gain, of_curvature] = [self.left_out[0] as f64, self.left_out[1] as f64];
        let left_out = (of_gain * unit.magnitude() + 2.0 * of_curvature) * grown / FINE_STEPS;
        let slack = (ROUNDING + moved * grown + left_out) * (1 + PRODUCT) as f64;
        let adjusted = Adjusted {
            gain: gain.times(unit),
            curvature: curvature.times(turn),
            thermal: AdjustedCurve {
                offset: offset.plus(Interval::point(DROPPED_BY_READING)),
                part: part(unit.times(balanced.resistance)),
            },
            slack,
        };
        (adjusted, largest.max(e.magnitude()).max(balanced.largest))
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    AdjustableCompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    /// As [`AdjustableKernel::error_bound`].
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED, fixed::*};
    /// static ON_SITE: AdjustableCompensatedKernel =
    ///     COMPENSATED.fixed_adjustable((-500_000, 500_000), (Span::ONE, Span::ONE));
    /// assert!(ON_SITE.error_bound().max().0 < 0.6);
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        let (adjusted, _) = self.adjustable.enclosed();
        let (second, _) = self.second_constants();
        bound(&self.adjustable.kernel, Some(self.second.curve().adjusted(second)), Some(&adjusted))
    }

    /// As [`AdjustableKernel::check_fit`].
    pub(super) const fn check_fit(&self) -> Result<(), Error> {
        let (adjusted, largest) = self.adjustable.enclosed();
        let (second, seconds) = self.second_constants();
        try_const!(fits(Quantity::Divisor, largest.max(seconds), 0.25));
        let curve = self.second.curve().adjusted(second);
        Analysis::of(&self.adjustable.kernel, Some(curve), Causes::ALL).adjusted(&adjusted).fits()
    }

    const fn second_constants(&self) -> (AdjustedCurve, f64) {
        let balanced = self.thermal.balanced_values(self.adjustable.factor());
        let offset = Interval::point(0.0).minus(balanced.at_balance.times(balanced.resistance));
        (AdjustedCurve { offset, part: part(balanced.resistance) }, balanced.largest)
    }
}

struct BalancedValues {
    at_balance: Interval,
    resistance: Interval,
    largest: f64,
}

impl<const DEGREE: usize, const PRODUCT: usize> Thermal<DEGREE, PRODUCT> {
    /// Over all balance temperatures, with the sign of the constants.
    const fn balanced_values(&self, factor: Option<i64>) -> BalancedValues {
        let at_balance = values(&self.descending).times(HALVES);
        match (factor, self.middle.as_slice()) {
            (Some(factor), [middle, ..]) => {
                // The sign does not matter for what is as large both ways; the magnitude does.
                let change = Interval::around_zero(
                    at_balance.magnitude() * (factor as f64 / TWO_60 / Strain::PER_UNIT),
                );
                let change = change.plus(Interval::point(*middle as f64 / TWO_64));
                let resistance = ONE.plus(change).reciprocal();
                BalancedValues { at_balance, resistance, largest: change.magnitude() }
            }
            _ => BalancedValues { at_balance, resistance: ONE, largest: 0.0 },
        }
    }
}

/// Of a polynomial's constants, in steps.
const fn values<const N: usize>(descending: &[i64; N]) -> Interval {
    let mut sum = Interval::point(0.0);
    let mut k = 0;
    while k < N {
        sum = sum.times(HALVES).plus(Interval::point(descending[k] as f64 / FINE_STEPS));
        k += 1;
    }
    sum
}

/// The largest slope of a polynomial from -1 to 1, in steps.
const fn slope<const N: usize>(descending: &[i64; N]) -> f64 {
    let (mut sum, mut unit) = (0.0, 1.0);
    let mut power = 0;
    while power < N {
        sum += power as f64 * descending[N - 1 - power].unsigned_abs() as f64 / FINE_STEPS * unit;
        unit /= 2.0;
        power += 1;
    }
    sum
}

/// A balance in the window, -1/2 to 1/2.
const fn position(code: i32, codes: InputRange, scale: u32) -> f64 {
    (code as f64 - codes.low() as f64) * scale as f64 / TWO_32 - 0.5
}

/// By how much of itself a value in the interval can be from any other.
const fn part(values: Interval) -> f64 {
    let part = values.high / values.low - 1.0;
    // One and the same, but for outward rounding.
    if part < 1e-14 { 0.0 } else { part }
}
