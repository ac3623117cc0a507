//! One input of a logger: strain with flags, from codes and temperatures that come at rates of their own.

use super::Source;
use crate::device::Error;
use crate::kernel::{fixed, float};
use crate::numeric::Float;
use crate::sample::{Flags, Reading, Temperature};
use crate::temperature::{self, LastReading};

/// A kernel that takes `N` temperatures: one, or two if the compensating gauge has its own.
///
/// ```
/// use gaugewright::{device::acquisition::StrainKernel, example::CHANNEL, fixed::{self, Temperature}};
/// static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// let at = Temperature::from_bits(35 << 20);
/// assert_eq!(KERNEL.strain(1_000, [at]), KERNEL.reading(1_000, at));
/// ```
pub trait StrainKernel<const N: usize> {
    /// The number format of strain.
    type Strain;
    /// One temperature, or one pair of them.
    type Point;

    /// Strain for a code at these temperatures.
    fn strain(&self, code: i32, at: [Temperature; N]) -> Reading<Self::Strain>;

    /// The constants of these temperatures.
    fn point(&self, at: [Temperature; N]) -> Self::Point;
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> StrainKernel<1>
    for fixed::Kernel<DEGREE, FACTOR, PRODUCT>
{
    type Strain = fixed::Strain;
    type Point = fixed::OperatingPoint;

    #[inline]
    fn strain(&self, code: i32, [at]: [Temperature; 1]) -> fixed::Reading {
        self.reading(code, at)
    }

    fn point(&self, [at]: [Temperature; 1]) -> fixed::OperatingPoint {
        self.at(at)
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> StrainKernel<2>
    for fixed::CompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    type Strain = fixed::Strain;
    type Point = fixed::OperatingPoint;

    #[inline]
    fn strain(&self, code: i32, [at, compensating]: [Temperature; 2]) -> fixed::Reading {
        self.reading(code, at, compensating)
    }

    fn point(&self, [at, compensating]: [Temperature; 2]) -> fixed::OperatingPoint {
        self.at(at, compensating)
    }
}

impl<T: Float, const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> StrainKernel<1>
    for float::Kernel<T, DEGREE, FACTOR, PRODUCT>
{
    type Strain = T;
    type Point = float::OperatingPoint<T>;

    #[inline]
    fn strain(&self, code: i32, [at]: [Temperature; 1]) -> float::Reading<T> {
        self.reading(code, at)
    }

    fn point(&self, [at]: [Temperature; 1]) -> float::OperatingPoint<T> {
        self.at(at)
    }
}

impl<T: Float, const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> StrainKernel<2>
    for float::CompensatedKernel<T, DEGREE, FACTOR, PRODUCT>
{
    type Strain = T;
    type Point = float::OperatingPoint<T>;

    #[inline]
    fn strain(&self, code: i32, [at, compensating]: [Temperature; 2]) -> float::Reading<T> {
        self.reading(code, at, compensating)
    }

    fn point(&self, [at, compensating]: [Temperature; 2]) -> float::OperatingPoint<T> {
        self.at(at, compensating)
    }
}
