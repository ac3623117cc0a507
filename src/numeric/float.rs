//! The arithmetic in which points are taken in.

use core::ops::{Add, Div, Mul, Sub};

mod sealed {
    pub trait Sealed {}
}

/// `f32` or `f64`: what a fit takes its points in with. Everything after the last point is in `f64`.
///
/// `f32` is for cores that have it in hardware and `f64` as routines. What it costs in digits is stated in the documentation of
/// [`fit`](crate::commissioning::fit).
///
/// ```
/// use gaugewright::{commissioning::fit::ThermalOutputFit, units::Celsius};
/// let fit = ThermalOutputFit::<f32>::between(Celsius(-60.0), Celsius(90.0))?;
/// # Ok::<(), gaugewright::Error>(())
/// ```
pub trait Float:
    sealed::Sealed
    + Copy
    + PartialEq
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
{
    #[doc(hidden)]
    const ZERO: Self;
    #[doc(hidden)]
    const ONE: Self;
    #[doc(hidden)]
    const STEP: f64;
    #[doc(hidden)]
    fn of(value: f64) -> Self;
    #[doc(hidden)]
    fn wide(self) -> f64;
    #[doc(hidden)]
    fn root(self) -> Self;
}

macro_rules! arithmetic {
    ($float:ident, $root:path) => {
        impl sealed::Sealed for $float {}

        impl Float for $float {
            const ZERO: Self = 0.0;
            const ONE: Self = 1.0;
            const STEP: f64 = $float::EPSILON as f64;

            fn of(value: f64) -> Self {
                value as $float
            }

            fn wide(self) -> f64 {
                f64::from(self)
            }

            fn root(self) -> Self {
                $root(self)
            }
        }
    };
}

arithmetic!(f32, libm::sqrtf);
arithmetic!(f64, libm::sqrt);
