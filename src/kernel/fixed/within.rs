//! The usual way through a path and nothing else: for callers that have a function of their own for the rest.

use super::{
    CompensatedKernel, Kernel, LinearPoint, OperatingPoint, Reading, Strain, Temperature, is_outside,
};
use crate::sample::Flags;

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<DEGREE, FACTOR, PRODUCT> {
    /// [`at`](Self::at) if the temperature is in range.
    #[inline(always)]
    pub(crate) const fn point_within(&self, temperature: Temperature) -> Option<OperatingPoint> {
        self.point_against_within(temperature, 0)
    }

    #[inline(always)]
    const fn point_against_within(
        &self,
        temperature: Temperature,
        compensation: i32,
    ) -> Option<OperatingPoint> {
        let at = self.temperatures.offset(temperature.to_bits());
        if self.temperatures.contains(at) { Some(self.point(at, compensation)) } else { None }
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    /// [`at`](Self::at) if the temperature of the gauge that measures is in range; if not, what
    /// [`point_outside`](Self::point_outside) takes. (Were the compensation computed there again, a compiler would
    /// compute it late in the usual way, with all constants in registers.)
    #[inline(always)]
    pub(crate) const fn point_within(
        &self,
        temperature: Temperature,
        compensating: Temperature,
    ) -> Result<OperatingPoint, (i32, Flags)> {
        let (compensation, flags) = self.second.at(compensating);
        match self.kernel.point_against_within(temperature, compensation) {
            Some(point) => Ok(point.flagged(flags)),
            None => Err((compensation, flags)),
        }
    }

    #[inline(always)]
    pub(crate) const fn point_outside(
        &self,
        temperature: Temperature,
        (compensation, flags): (i32, Flags),
    ) -> OperatingPoint {
        self.kernel.point_outside(temperature, compensation).flagged(flags)
    }
}

impl OperatingPoint {
    /// [`reading`](Self::reading) without a look at the strain, if the code is in range.
    #[inline(always)]
    pub(crate) const fn code_within(&self, code: i32) -> Option<Reading> {
        let offset = self.codes.offset(code);
        if !self.codes.contains(offset) {
            return None;
        }
        Some(Reading { strain: Strain::from_bits(self.strain_inside(offset)), flags: self.flags })
    }

    /// Whether a strain is within the declared range.
    #[inline(always)]
    pub(crate) const fn is_within(&self, strain: Strain) -> bool {
        !is_outside(strain.to_bits(), self.strain_limit)
    }
}

impl LinearPoint {
    /// [`reading`](Self::reading) if code and strain are in range.
    #[inline(always)]
    pub(crate) const fn reading_within(&self, code: i32) -> Option<Reading> {
        let offset = self.clear.offset(code);
        if !self.clear.contains(offset) {
            return None;
        }
        Some(Reading { strain: Strain::from_bits(self.strain_clear(offset)), flags: self.flags })
    }
}
