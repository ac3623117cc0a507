//! The usual way through a path and nothing else: for callers that have a function of their own for the rest.

use super::{Kernel, LinearPoint, OperatingPoint, Reading, Strain, Temperature};

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<DEGREE, FACTOR, PRODUCT> {
    /// [`at`](Self::at) if the temperature is in range.
    #[inline(always)]
    pub(crate) const fn point_within(&self, temperature: Temperature) -> Option<OperatingPoint> {
        let at = self.temperatures.offset(temperature.to_bits());
        if self.temperatures.contains(at) { Some(self.point(at, 0)) } else { None }
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
