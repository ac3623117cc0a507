//! The error bound of a floating-point kernel, and what an error of the temperature adds.

use super::Kernel;
use super::bound::{Analysis, SecondView};
use super::compensated::CompensatedKernel;
use super::precision::Precision;
use crate::kernel::error_bound::{Causes, ErrorBound, Parts};
use crate::kernel::sensitivity::{Curve, error_of_temperature};
use crate::numeric::Interval;
use crate::sample::Temperature;
use crate::units::Celsius;

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<f32, DEGREE, FACTOR, PRODUCT> {
    /// The largest error of this kernel, with its parts. `const`: in firmware it costs nothing.
    ///
    /// It holds for codes and temperatures in the declared ranges. A flagged reading is that of
    /// the nearest code and temperature in range, to the same bound. Derived by running error
    /// analysis from the constants, taking each as the exact one rounded to nearest.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, float};
    /// let single: float::Kernel<f32> = CHANNEL.float32();
    /// let double: float::Kernel<f64> = CHANNEL.float64();
    /// assert!(double.error_bound().max().0 < 1e-5 * single.error_bound().max().0);
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        self.wide().bound(Precision::Single, None)
    }

    /// As [`error_bound`](Self::error_bound), for a temperature that is off by up to `off_by`; see
    /// [`fixed::Kernel::error_bound_with_temperature`](crate::fixed::Kernel::error_bound_with_temperature).
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, float, units::*};
    /// let kernel: float::Kernel<f32> = CHANNEL.float32();
    /// assert!(kernel.error_bound_with_temperature(Celsius(0.1)).reading.temperature.0 > 90.0);
    /// ```
    #[must_use]
    pub const fn error_bound_with_temperature(&self, off_by: Celsius) -> ErrorBound {
        self.wide().bound_with_temperature(Precision::Single, off_by)
    }

    /// As [`error_bound`](Self::error_bound), the larger of the two paths in nanostrain.
    pub(super) const fn max_bound(&self) -> f64 {
        self.wide().max_bound_in(Precision::Single, None)
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize> Kernel<f64, DEGREE, FACTOR, PRODUCT> {
    /// As [`Kernel<f32>::error_bound`](Kernel#method.error_bound).
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        self.bound(Precision::Double, None)
    }

    /// As [`Kernel<f32>::error_bound_with_temperature`](Kernel#method.error_bound_with_temperature).
    #[must_use]
    pub const fn error_bound_with_temperature(&self, off_by: Celsius) -> ErrorBound {
        self.bound_with_temperature(Precision::Double, off_by)
    }

    /// As [`error_bound`](Self::error_bound), the larger of the two paths in nanostrain.
    pub(super) const fn max_bound(&self) -> f64 {
        self.max_bound_in(Precision::Double, None)
    }

    /// The bound of a kernel of `precision` with these constants.
    pub(super) const fn bound(&self, precision: Precision, second: Option<SecondView<'_>>) -> ErrorBound {
        let mut reading = [0.0; Causes::COUNT];
        let mut point = [0.0; Causes::COUNT];
        let mut k = 0;
        while k < Causes::COUNT {
            let paths = self.paths(precision, second, Causes::EACH[k]);
            reading[k] = paths.0 * 1e9;
            point[k] = paths.1 * 1e9;
            k += 1;
        }
        ErrorBound { reading: Parts::of(reading), point: Parts::of(point) }
    }

    const fn bound_with_temperature(&self, precision: Precision, off_by: Celsius) -> ErrorBound {
        self.bound(precision, None).with_temperature(self.error_of_temperature(precision, None, off_by))
    }

    /// In nanostrain.
    const fn error_of_temperature(
        &self,
        precision: Precision,
        second: Option<&Curve>,
        off_by: Celsius,
    ) -> f64 {
        let analysis = self.analysis(precision, Causes::ALL);
        let per_degree = Temperature::PER_DEGREE as f64 * self.position_scale;
        let rounding = (precision.unit_roundoff() + 1e-12, 0.0);
        let thermal = Curve::new(self.thermal_offset, &self.thermal, rounding, analysis.x, per_degree);
        let change = Curve::new(0.0, &self.factor, rounding, analysis.x, per_degree);
        let product = if let [factor, ..] = self.product.as_slice() { *factor } else { 0.0 };
        let reading = analysis.reading();
        let reach = reading.exact.magnitude() + reading.error;
        let limit = self.strain_limit * (1.0 + 1e-6);
        let reach = if reach < limit { reach } else { limit };
        1e9 * error_of_temperature(off_by.0, &thermal, &change, second, product, reach)
    }

    /// The largest magnitude of `u`.
    pub(super) const fn largest_divisor(&self, precision: Precision) -> f64 {
        self.analysis(precision, Causes::ALL).divisor().exact.magnitude()
    }

    /// The larger bound of the two paths in nanostrain.
    const fn max_bound_in(&self, precision: Precision, second: Option<SecondView<'_>>) -> f64 {
        let (reading, point) = self.paths(precision, second, Causes::ALL);
        // A NaN must not pass for small.
        1e9 * if reading <= point { point } else { reading }
    }

    const fn paths(
        &self,
        precision: Precision,
        second: Option<SecondView<'_>>,
        causes: Causes,
    ) -> (f64, f64) {
        let mut analysis = self.analysis(precision, causes);
        analysis.second = second;
        (analysis.reading().error, analysis.point().error)
    }

    const fn analysis(&self, precision: Precision, causes: Causes) -> Analysis<'_, PRODUCT> {
        let first = self.code_low as f64 - self.code_base as f64;
        Analysis {
            causes,
            unit_roundoff: precision.unit_roundoff(),
            x: positions(
                self.temperature_low,
                self.temperature_middle,
                self.temperature_span,
                self.position_scale,
            ),
            d: Interval::new(first, first + self.code_span as f64),
            gain: self.gain,
            curvature: self.curvature,
            factor: &self.factor,
            thermal: &self.thermal,
            thermal_offset: self.thermal_offset,
            product: &self.product,
            second: None,
            rounding: self.rounding,
        }
    }
}

/// Positions from the lowest to the highest temperature.
const fn positions(low: i32, middle: i32, span: u32, scale: f64) -> Interval {
    let low = low as f64 - middle as f64;
    let high = low + span as f64;
    Interval::new(low * scale, high * scale)
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<f32, DEGREE, FACTOR, PRODUCT>
{
    /// As [`Kernel::error_bound`], for two temperatures.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, float};
    /// let single: float::CompensatedKernel<f32> = CHANNEL.float32();
    /// let double: float::CompensatedKernel<f64> = CHANNEL.float64();
    /// assert!(double.error_bound().max().0 < 1e-3 * single.error_bound().max().0);
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        self.wide().bound(Precision::Single)
    }

    /// As [`Kernel::error_bound_with_temperature`], where both temperatures may be off by as much.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, float, units::*};
    /// let kernel: float::CompensatedKernel<f32> = CHANNEL.float32();
    /// assert!(kernel.error_bound_with_temperature(Celsius(0.1)).point.temperature.0 > 180.0);
    /// ```
    #[must_use]
    pub const fn error_bound_with_temperature(&self, off_by: Celsius) -> ErrorBound {
        self.wide().bound_with_temperature(Precision::Single, off_by)
    }

    /// As [`error_bound`](Self::error_bound), the larger of the two paths in nanostrain.
    pub(super) const fn max_bound(&self) -> f64 {
        let wide = self.wide();
        wide.kernel.max_bound_in(Precision::Single, Some(wide.view()))
    }
}

impl<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>
    CompensatedKernel<f64, DEGREE, FACTOR, PRODUCT>
{
    /// As [`CompensatedKernel<f32>::error_bound`](CompensatedKernel#method.error_bound).
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        self.bound(Precision::Double)
    }

    /// As [`CompensatedKernel<f32>::error_bound_with_temperature`](CompensatedKernel#method.error_bound_with_temperature).
    #[must_use]
    pub const fn error_bound_with_temperature(&self, off_by: Celsius) -> ErrorBound {
        self.bound_with_temperature(Precision::Double, off_by)
    }

    /// As [`error_bound`](Self::error_bound), the larger of the two paths in nanostrain.
    pub(super) const fn max_bound(&self) -> f64 {
        self.kernel.max_bound_in(Precision::Double, Some(self.view()))
    }

    const fn bound(&self, precision: Precision) -> ErrorBound {
        self.kernel.bound(precision, Some(self.view()))
    }

    const fn view(&self) -> SecondView<'_> {
        SecondView {
            x: self.second_range(),
            thermal: &self.second.thermal,
            thermal_offset: self.second.thermal_offset,
        }
    }

    const fn bound_with_temperature(&self, precision: Precision, off_by: Celsius) -> ErrorBound {
        let rounding = (precision.unit_roundoff() + 1e-12, 0.0);
        let per_degree = Temperature::PER_DEGREE as f64 * self.second.position_scale;
        let second = Curve::new(
            self.second.thermal_offset,
            &self.second.thermal,
            rounding,
            self.second_range(),
            per_degree,
        );
        let error = self.kernel.error_of_temperature(precision, Some(&second), off_by);
        self.bound(precision).with_temperature(error)
    }

    const fn second_range(&self) -> Interval {
        positions(
            self.second.temperature_low,
            self.second.temperature_middle,
            self.second.temperature_span,
            self.second.position_scale,
        )
    }
}
