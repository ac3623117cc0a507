//! The error bound of a kernel, and what an error of the temperature adds.

use super::bound::{Adjusted, Analysis, Curve, STEP};
use super::compensated::{CompensatedKernel, Second};
use super::{Kernel, PRODUCT_SHIFT, Strain, TWO_31, TWO_32, Temperature};
use crate::kernel::error_bound::{Causes, ErrorBound, Parts};
use crate::kernel::sensitivity::{self, error_of_temperature};
use crate::numeric::Interval;
use crate::sample::InputRange;
use crate::units::Celsius;

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<DEGREE, FACTOR, PRODUCT> {
    /// The largest error of this kernel, with its parts. `const`: in firmware it costs nothing.
    ///
    /// It holds for codes and temperatures in the declared ranges. A flagged reading is that of the
    /// nearest code and temperature in range, to the same bound. Derived by interval arithmetic from the
    /// constants, taking each as the exact one rounded to nearest.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed, units::*};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// const BOUND: Nanostrain = KERNEL.error_bound().reading.total;
    /// assert!(BOUND.0 < 0.5);
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        bound(self, None, None)
    }

    /// As [`error_bound`](Self::error_bound), for a temperature that is off by up to `off_by` (either way, its sign does not
    /// matter): half a step of the thermometer, or its whole error. Whatever else it is worth, half a step of
    /// [`Temperature`] itself is 2^-21 C.
    ///
    /// The part holds for readings without a flag: strain within its declared range. It is the steepest that strain can be
    /// against temperature, thermal output and gauge factor together, by interval arithmetic.
    /// The true temperature may lie outside the declared range. Where the gauge factor could then reach zero, or strain grow
    /// by more than about its own size, the part is infinite.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed, units::*};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// // Of a thermometer that gives sixteenths of a degree; 1 microstrain a degree, stated for a factor of 2.
    /// let bound = KERNEL.error_bound_with_temperature(Celsius(1.0 / 32.0)).reading;
    /// assert!((bound.temperature.0 - 1000.0 / 32.0 * 2.0 / 2.1).abs() < 0.01);
    /// ```
    #[must_use]
    pub const fn error_bound_with_temperature(&self, off_by: Celsius) -> ErrorBound {
        self.error_bound().with_temperature(error_of_temperature_of(self, None, off_by))
    }

    /// The larger bound of the two paths in nanostrain.
    pub(super) const fn max_bound(&self) -> f64 {
        Analysis::of(self, None, Causes::ALL).max()
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<DEGREE, FACTOR, PRODUCT>
{
    /// As [`Kernel::error_bound`], for two temperatures.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, fixed, units::*};
    /// static KERNEL: fixed::CompensatedKernel = CHANNEL.fixed();
    /// const BOUND: Nanostrain = KERNEL.error_bound().max();
    /// assert!(BOUND.0 < 0.6);
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        bound(&self.kernel, Some(self.second.curve()), None)
    }

    /// As [`Kernel::error_bound_with_temperature`], where both temperatures may be off by as much.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, fixed, units::*};
    /// static KERNEL: fixed::CompensatedKernel = CHANNEL.fixed();
    /// let bound = KERNEL.error_bound_with_temperature(Celsius(0.1));
    /// assert!(bound.point.temperature.0 > 2.0 * 90.0 && bound.point.total.0 > bound.point.temperature.0);
    /// ```
    #[must_use]
    pub const fn error_bound_with_temperature(&self, off_by: Celsius) -> ErrorBound {
        self.error_bound().with_temperature(error_of_temperature_of(&self.kernel, Some(&self.second), off_by))
    }

    /// The larger bound of the two paths in nanostrain.
    pub(super) const fn max_bound(&self) -> f64 {
        Analysis::of(&self.kernel, Some(self.second.curve()), Causes::ALL).max()
    }
}

/// Of a kernel, or of all that an adjustable kernel gives.
pub(super) const fn bound<const D: usize, const F: usize, const P: usize>(
    kernel: &Kernel<D, F, P>,
    second: Option<Curve<'_>>,
    adjusted: Option<&Adjusted>,
) -> ErrorBound {
    let mut reading = [0.0; Causes::COUNT];
    let mut point = [0.0; Causes::COUNT];
    let mut k = 0;
    while k < Causes::COUNT {
        let mut analysis = Analysis::of(kernel, second, Causes::EACH[k]);
        if let Some(adjusted) = adjusted {
            analysis = analysis.adjusted(adjusted);
        }
        let paths = analysis.paths();
        reading[k] = paths.0.error.magnitude() * STEP;
        point[k] = paths.1.error.magnitude() * STEP;
        k += 1;
    }
    ErrorBound { reading: Parts::of(reading), point: Parts::of(point) }
}

/// In nanostrain.
const fn error_of_temperature_of<const D: usize, const F: usize, const P: usize>(
    kernel: &Kernel<D, F, P>,
    second: Option<&Second<D>>,
    off_by: Celsius,
) -> f64 {
    let scale = kernel.temperature_scale as u32;
    let thermal = curve(kernel.thermal_offset, &kernel.thermal, Strain::PER_UNIT, kernel.temperatures, scale);
    let change = curve(0, &kernel.factor, TWO_32, kernel.temperatures, scale);
    // Held with its sign turned, see `times_factor`.
    let product = match kernel.product.as_slice() {
        [] => 0.0,
        [factor, ..] => *factor as f64 / -TWO_32 * (4 << PRODUCT_SHIFT) as f64,
    };
    let (enclosed, second) = match second {
        None => (None, None),
        Some(second) => (
            Some(second.curve()),
            Some(curve(
                second.thermal_offset,
                &second.thermal,
                Strain::PER_UNIT,
                second.temperatures,
                second.temperature_scale,
            )),
        ),
    };
    let reach = Analysis::of(kernel, enclosed, Causes::ALL).reach();
    let limit = kernel.strain_limit as f64 + 64.0;
    let reach = (if reach < limit { reach } else { limit }) / Strain::PER_UNIT;
    1e9 * error_of_temperature(off_by.0, &thermal, &change, second.as_ref(), product, reach)
}

/// The constants of Horner's rule, in which every product halves, as plain coefficients; their signs are turned.
const fn curve<const N: usize>(
    offset: i32,
    descending: &[i32; N],
    one: f64,
    temperatures: InputRange,
    scale: u32,
) -> sensitivity::Curve {
    let mut ascending = [0.0; N];
    let mut unit = one;
    let mut k = 0;
    while k < N {
        unit *= 2.0;
        ascending[k] = -descending[N - 1 - k] as f64 / unit;
        k += 1;
    }
    // Each is the exact one rounded to nearest, and a little for what that was rounded from.
    let rounding = (1e-12, 0.51 / (2.0 * one));
    let range = Interval::new(-1.0, temperatures.end(scale) / TWO_31);
    sensitivity::Curve::new(
        offset as f64 / -one,
        &ascending,
        rounding,
        range,
        Temperature::PER_DEGREE as f64 * scale as f64 / TWO_31,
    )
}
