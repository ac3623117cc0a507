//! Effects of the inputs where the gauge factor refers to another resistance than that at balance.
//!
//! With `o` the thermal output since the reference temperature as a part of the resistance there, `o_b` the same at balance, and `f`
//! the forced strain, strain is `e = ((1 + y)(1 + o_b) / (1 + o) - 1) (1 + F f) / F`. An input that changes `o`, `o_b` and the logarithm
//! of `F / (1 + F f)` moves it by
//!
//! ```text
//! -(e + (1 + F f) / F) (do / (1 + o) - do_b / (1 + o_b)) - e d ln (F / (1 + F f))
//! ```

use super::kernel::{At, OTHERS, UncertaintyKernel};
use crate::channel::Gauge;
use crate::numeric::{Float, Polynomial, ascending, value_and_slope};

/// What effects need more then.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub(super) struct Product<T> {
    /// `1 + o_b`; 0 where there is no product.
    at_balance: T,
    /// Forced strain, against degrees Celsius; zero where the gauge factor does not refer to the free foil.
    forced: [T; 4],
    /// What a specimen that expands more by one per degree adds to it.
    forced_by_expansion: [T; 2],
}

impl Product<f64> {
    pub const NONE: Self = Self { at_balance: 0.0, forced: [0.0; 4], forced_by_expansion: [0.0; 2] };

    pub fn of(gauge: &Gauge, at_balance: f64) -> Self {
        let (forced, gain) = match gauge.forced() {
            Some(forced) => (forced, gauge.equibiaxial_gain()),
            None => (Polynomial::ZERO, 0.0),
        };
        let [a, b, c, d, ..] = forced.coefficients();
        Self { at_balance, forced: [a, b, c, d], forced_by_expansion: [-gain * gauge.reference, gain] }
    }

    pub fn single(&self) -> Product<f32> {
        Product {
            at_balance: f32::of(self.at_balance),
            forced: self.forced.map(f32::of),
            forced_by_expansion: self.forced_by_expansion.map(f32::of),
        }
    }
}

impl<T: Float> Product<T> {
    pub fn is_there(&self) -> bool {
        self.at_balance != T::ZERO
    }

    /// Polynomials of `kernel` that are since balance otherwise are since the reference temperature here; thermal output is a part of
    /// the resistance at balance.
    pub fn at<const P: usize>(&self, kernel: &UncertaintyKernel<T, P>, t: T) -> At<T> {
        let thermal = value_and_slope(&kernel.thermal, t);
        let [factor, factor_slope] = value_and_slope(&kernel.factor, t);
        let [forced, forced_slope] = value_and_slope(&self.forced, t);
        let foil = T::ONE + factor * forced;
        let slope = factor / foil;
        let share = T::ONE / foil;
        let change = factor_slope / factor - (factor_slope * forced + factor * forced_slope) / foil;
        let since_balance = T::ONE + thermal[0];
        let unloaded = since_balance * self.at_balance;
        let warm = thermal[1] / since_balance;
        let parts = |now: T, then: T| now / unloaded - then / self.at_balance;
        let expansion = parts(ascending(&kernel.expansion, t), ascending(&kernel.expansion, kernel.since));
        let expansion_slope =
            parts(ascending(&kernel.expansion_slope, t), ascending(&kernel.expansion_slope, kernel.since));
        let stated = kernel.stated / unloaded;
        let effect = |part: T, change: T| [T::ZERO - part * (foil / factor), T::ZERO - (part + change)];
        let by_slope = ascending(&kernel.factor_slope, t) / factor * share;
        let others: [[T; 2]; OTHERS.len()] = [
            effect(kernel.mismatch * expansion, share),
            effect(expansion_slope, by_slope),
            effect(warm, change),
            effect(warm - kernel.balance_slope, change),
            effect(T::ZERO - kernel.balance_slope, T::ZERO),
            effect(stated, T::ZERO),
            effect(stated * (t - kernel.since), T::ZERO),
            effect(expansion, T::ZERO - slope * ascending(&self.forced_by_expansion, t)),
            [T::ONE, T::ZERO],
            [T::ONE, T::ZERO],
        ];
        At { thermal, factor: slope * since_balance, others }
    }
}
