//! Arithmetic that is written once for `f32` and `f64`.

use core::ops::{Add, Div, Mul, Neg, Sub};

mod sealed {
    pub trait Sealed {}
}

#[cfg(not(feature = "defmt"))]
mod shown {
    pub trait Shown: core::fmt::Debug {}
    impl<T: core::fmt::Debug> Shown for T {}
}

#[cfg(feature = "defmt")]
mod shown {
    pub trait Shown: core::fmt::Debug + defmt::Format {}
    impl<T: core::fmt::Debug + defmt::Format> Shown for T {}
}

/// What rounding in `f64` may make of a kernel's constants on their way from the channel, beside their own last rounding.
#[doc(hidden)]
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ConstantsRounding {
    /// Part of the gain.
    pub(crate) gain: f64,
    /// Of the curvature itself.
    pub(crate) curvature: f64,
    /// Of the change of gauge factor, at any temperature in range.
    pub(crate) factor: f64,
    /// Of thermal output, strain, at any temperature in range.
    pub(crate) thermal: f64,
    /// The same of a compensating gauge.
    pub(crate) compensating: f64,
}

/// `f32` or `f64`: the arithmetic in which kernels, rosettes, fits and uncertainties are evaluated.
///
/// `f32` is for cores that have it in hardware and `f64` as routines. What it costs in digits is stated where it is used:
/// [`float`](crate::float), [`rosette`](crate::rosette), [`fit`](crate::commissioning::fit), [`uncertainty`](crate::uncertainty).
///
/// ```
/// use gaugewright::{numeric::Float, rosette::{PlaneStrain, Rosette}};
/// fn largest_shear<T: Float>(states: &[PlaneStrain<T>]) -> Option<T> {
///     states.iter().map(|state| state.principal().shear).reduce(|a, b| if a > b { a } else { b })
/// }
/// const ROSETTE: Rosette = Rosette::rectangular();
/// let single = [ROSETTE.float32().strain([0.0, 2e-3, 0.0]), ROSETTE.float32().strain([1e-3; 3])];
/// assert!((largest_shear(&single).unwrap() - 4e-3).abs() < 1e-8);
/// let double = [ROSETTE.float64().strain([0.0, 2e-3, 0.0])];
/// assert!((largest_shear(&double).unwrap() - 4e-3).abs() < 1e-15);
/// ```
pub trait Float:
    sealed::Sealed
    + Copy
    + PartialOrd
    + Into<f64>
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
{
    #[doc(hidden)]
    const ZERO: Self;
    #[doc(hidden)]
    const ONE: Self;
    #[doc(hidden)]
    const STEP: f64;
    /// [`ConstantsRounding`] where it counts: in `f64`.
    #[doc(hidden)]
    type Rounding: Copy + PartialEq + shown::Shown;
    #[doc(hidden)]
    fn of(value: f64) -> Self;
    #[doc(hidden)]
    fn of_integer(value: i32) -> Self;
    #[doc(hidden)]
    #[inline(always)]
    fn wide(self) -> f64 {
        self.into()
    }
    #[doc(hidden)]
    fn root(self) -> Self;
    #[doc(hidden)]
    fn arc_tangent(self, x: Self) -> Self;
    #[doc(hidden)]
    fn abs(self) -> Self;
    /// Not a number where the first one is not: [`f32::max`] would give the other one.
    #[doc(hidden)]
    #[inline(always)]
    fn max(self, other: Self) -> Self {
        if other > self { other } else { self }
    }
}

impl sealed::Sealed for f32 {}

impl Float for f32 {
    const ZERO: Self = 0.0;
    const ONE: Self = 1.0;
    const STEP: f64 = f32::EPSILON as f64;
    type Rounding = ();

    #[inline(always)]
    fn of(value: f64) -> Self {
        value as f32
    }

    #[inline(always)]
    fn of_integer(value: i32) -> Self {
        value as f32
    }

    #[inline(always)]
    fn root(self) -> Self {
        libm::sqrtf(self)
    }

    #[inline(always)]
    fn arc_tangent(self, x: Self) -> Self {
        libm::atan2f(self, x)
    }

    #[inline(always)]
    fn abs(self) -> Self {
        f32::abs(self)
    }
}

impl sealed::Sealed for f64 {}

impl Float for f64 {
    const ZERO: Self = 0.0;
    const ONE: Self = 1.0;
    const STEP: f64 = f64::EPSILON;
    type Rounding = ConstantsRounding;

    #[inline(always)]
    fn of(value: f64) -> Self {
        value
    }

    #[inline(always)]
    fn of_integer(value: i32) -> Self {
        f64::from(value)
    }

    #[inline(always)]
    fn root(self) -> Self {
        libm::sqrt(self)
    }

    #[inline(always)]
    fn arc_tangent(self, x: Self) -> Self {
        libm::atan2(self, x)
    }

    #[inline(always)]
    fn abs(self) -> Self {
        f64::abs(self)
    }
}

/// `c0 + x (c1 + x (...))`, from the highest coefficient down.
#[inline(always)]
pub(crate) fn ascending<T: Float, const N: usize>(coefficients: &[T; N], x: T) -> T {
    let mut k = N - 1;
    let mut sum = coefficients[k];
    while k > 0 {
        k -= 1;
        sum = sum * x + coefficients[k];
    }
    sum
}

/// The value of the same, and its derivative.
pub(crate) fn value_and_slope<T: Float, const N: usize>(coefficients: &[T; N], x: T) -> [T; 2] {
    coefficients.iter().rev().fold([T::ZERO; 2], |[value, slope], &c| [value * x + c, slope * x + value])
}
