//! Mohr's circle: what states of strain and of stress have in common.

use crate::numeric::Float;

/// A symmetrical tensor of a plane: mean of x and y, half their difference, half shear (for stress: shear).
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Circle<T> {
    pub(super) mean: T,
    pub(super) difference: T,
    pub(super) shear: T,
}

impl<T: Float> Circle<T> {
    pub(super) fn radius(&self) -> T {
        (self.difference * self.difference + self.shear * self.shear).root()
    }

    /// Of the first principal value, in degrees over -90 and up to 90; `None` for a point.
    pub(super) fn direction(&self) -> Option<T> {
        // A squared component that underflows is a point too: what there is to see is below 1e-19.
        if self.radius() == T::ZERO {
            return None;
        }
        let degrees = self.shear.arc_tangent(self.difference) * T::of(90.0 / core::f64::consts::PI);
        // A shear of -0, or an end that is rounded: a direction of -90 is one of 90.
        Some(if degrees <= -T::of(90.0) || degrees > T::of(90.0) { T::of(90.0) } else { degrees })
    }
}
