//! Mohr's circle: what states of strain and of stress have in common.

/// A symmetrical tensor of a plane: mean of x and y, half their difference, half shear (for stress: shear).
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Circle<T> {
    pub(super) mean: T,
    pub(super) difference: T,
    pub(super) shear: T,
}

macro_rules! arithmetic {
    ($float:ident, $square_root:path, $arc_tangent:path) => {
        impl Circle<$float> {
            pub(super) fn radius(&self) -> $float {
                $square_root(self.difference * self.difference + self.shear * self.shear)
            }

            /// Of the first principal value, in degrees over -90 and up to 90; `None` for a point.
            pub(super) fn direction(&self) -> Option<$float> {
                // A squared component that underflows is a point too: what there is to see is below 1e-19.
                if self.radius() == 0.0 {
                    return None;
                }
                let degrees =
                    $arc_tangent(self.shear, self.difference) * (90.0 / core::f64::consts::PI) as $float;
                // A shear of -0, or an end that is rounded: a direction of -90 is one of 90.
                Some(if degrees <= -90.0 || degrees > 90.0 { 90.0 } else { degrees })
            }
        }
    };
}
arithmetic!(f32, libm::sqrtf, libm::atan2f);
arithmetic!(f64, libm::sqrt, libm::atan2);
