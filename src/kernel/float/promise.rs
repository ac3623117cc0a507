//! What a floating-point kernel promises: its error bound, and what an error of the temperature adds.

use super::Kernel;
use super::bound::{Analysis, SecondView};
use super::compensated::CompensatedKernel;
use crate::kernel::error_bound::{Causes, ErrorBound, Parts};
use crate::kernel::sensitivity::{Curve, error_of_temperature};
use crate::numeric::Interval;
use crate::units::Celsius;

macro_rules! bound {
    ($float:ident) => {
        impl<const DEGREE: usize, const FACTOR: usize> Kernel<$float, DEGREE, FACTOR> {
            /// The largest error of this kernel, with its parts. `const`: in firmware it costs nothing.
            ///
            /// It holds for codes and temperatures in the declared ranges. A flagged reading is that of
            /// the nearest code and temperature in range, to the same bound. Derived by running error
            /// analysis from the constants, taking each as the exact one rounded to nearest.
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, float, units::*};
            /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
            /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
            /// let single: float::Kernel<f32> = CHANNEL.float32();
            /// let double: float::Kernel<f64> = CHANNEL.float64();
            /// assert!(double.error_bound().larger().0 < 1e-5 * single.error_bound().larger().0);
            /// ```
            #[must_use]
            pub const fn error_bound(&self) -> ErrorBound {
                self.bound_with(None)
            }

            /// As [`error_bound`](Self::error_bound), for a temperature that is off by up to `off_by`; see
            /// [`fixed::Kernel::error_bound_with_temperature`](crate::fixed::Kernel::error_bound_with_temperature).
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, float, units::*};
            /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
            /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
            /// let kernel: float::Kernel<f32> = CHANNEL.float32();
            /// assert!(kernel.error_bound_with_temperature(Celsius(0.1)).reading.temperature.0 > 90.0);
            /// ```
            #[must_use]
            pub const fn error_bound_with_temperature(&self, off_by: Celsius) -> ErrorBound {
                self.error_bound().with_temperature(self.error_of_temperature(None, off_by))
            }

            /// In nanostrain.
            const fn error_of_temperature(&self, second: Option<&Curve>, off_by: Celsius) -> f64 {
                let (factor, thermal) = self.in_double();
                let analysis = self.analysis(Causes::ALL, &factor, &thermal);
                let per_degree = 1_048_576.0 * self.position_scale as f64;
                let rounding = ($float::EPSILON as f64 / 2.0 + 1e-12, 0.0);
                let thermal = Curve::new(&thermal, rounding, analysis.x, per_degree);
                let change = Curve::new(&factor, rounding, analysis.x, per_degree);
                let reading = analysis.reading();
                let reach = reading.exact.magnitude() + reading.error;
                let limit = self.strain_limit as f64 * (1.0 + 1e-6);
                let reach = if reach < limit { reach } else { limit };
                1e9 * error_of_temperature(off_by.0, &thermal, &change, second, reach)
            }

            const fn bound_with(&self, second: Option<SecondView<'_>>) -> ErrorBound {
                let mut reading = [0.0; Causes::COUNT];
                let mut point = [0.0; Causes::COUNT];
                let mut k = 0;
                while k < Causes::COUNT {
                    let paths = self.paths(second, Causes::EACH[k]);
                    reading[k] = paths.0 * 1e9;
                    point[k] = paths.1 * 1e9;
                    k += 1;
                }
                ErrorBound { reading: Parts::of(reading), point: Parts::of(point) }
            }

            /// The largest magnitude of `u`.
            pub(super) const fn largest_divisor(&self) -> f64 {
                let (factor, thermal) = self.in_double();
                self.analysis(Causes::ALL, &factor, &thermal).divisor().exact.magnitude()
            }

            /// The larger bound of the two paths in nanostrain.
            pub(super) const fn larger_bound(&self) -> f64 {
                let (reading, point) = self.paths(None, Causes::ALL);
                // A NaN must not pass for small.
                1e9 * if reading <= point { point } else { reading }
            }

            const fn paths(&self, second: Option<SecondView<'_>>, causes: Causes) -> (f64, f64) {
                let (factor, thermal) = self.in_double();
                let mut analysis = self.analysis(causes, &factor, &thermal);
                analysis.second = second;
                (analysis.reading().error, analysis.point().error)
            }

            const fn in_double(&self) -> ([f64; FACTOR], [f64; DEGREE]) {
                (Self::double(&self.factor), Self::double(&self.thermal))
            }

            const fn double<const N: usize>(constants: &[$float; N]) -> [f64; N] {
                let mut double = [0.0; N];
                let mut k = 0;
                while k < N {
                    double[k] = constants[k] as f64;
                    k += 1;
                }
                double
            }

            /// Positions from the lowest to the highest temperature.
            const fn positions(low: i32, middle: i32, span: u32, scale: $float) -> Interval {
                let low = low as f64 - middle as f64;
                let high = low + span as f64;
                Interval::new(low * scale as f64, high * scale as f64)
            }

            const fn analysis<'a>(
                &self,
                causes: Causes,
                factor: &'a [f64],
                thermal: &'a [f64],
            ) -> Analysis<'a> {
                let first = self.code_low as f64 - self.code_base as f64;
                Analysis {
                    causes,
                    unit_roundoff: $float::EPSILON as f64 / 2.0,
                    x: Self::positions(
                        self.temperature_low,
                        self.temperature_middle,
                        self.temperature_span,
                        self.position_scale,
                    ),
                    d: Interval::new(first, first + self.code_span as f64),
                    gain: self.gain as f64,
                    curvature: self.curvature as f64,
                    factor,
                    thermal,
                    thermal_offset: self.thermal_offset as f64,
                    second: None,
                }
            }
        }

        impl<const DEGREE: usize, const FACTOR: usize> CompensatedKernel<$float, DEGREE, FACTOR> {
            /// As [`Kernel::error_bound`], for two temperatures.
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, CompensatingGauge, Converter, Gauge, ThermalOutput, float, units::*};
            /// # const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
            /// # const CHANNEL: Channel = Channel::new(GAUGE, Bridge::half_compensated(Ohms(120.0), Ohms(0.5)),
            /// #     Converter::bipolar(24, Ratio(0.01))).compensated_by(CompensatingGauge::new(GAUGE));
            /// let single: float::CompensatedKernel<f32> = CHANNEL.compensated_float32();
            /// let double: float::CompensatedKernel<f64> = CHANNEL.compensated_float64();
            /// assert!(double.error_bound().larger().0 < 1e-3 * single.error_bound().larger().0);
            /// ```
            #[must_use]
            pub const fn error_bound(&self) -> ErrorBound {
                let thermal = Kernel::<$float, DEGREE, FACTOR>::double(&self.second.thermal);
                self.kernel.bound_with(Some(SecondView {
                    x: self.second_range(),
                    thermal: &thermal,
                    thermal_offset: self.second.thermal_offset as f64,
                }))
            }

            /// As [`Kernel::error_bound_with_temperature`], where both temperatures may be off by as much.
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, CompensatingGauge, Converter, Gauge, ThermalOutput, float, units::*};
            /// # const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
            /// # const CHANNEL: Channel = Channel::new(GAUGE, Bridge::half_compensated(Ohms(120.0), Ohms(0.5)),
            /// #     Converter::bipolar(24, Ratio(0.01))).compensated_by(CompensatingGauge::new(GAUGE));
            /// let kernel: float::CompensatedKernel<f32> = CHANNEL.compensated_float32();
            /// assert!(kernel.error_bound_with_temperature(Celsius(0.1)).point.temperature.0 > 180.0);
            /// ```
            #[must_use]
            pub const fn error_bound_with_temperature(&self, off_by: Celsius) -> ErrorBound {
                let rounding = ($float::EPSILON as f64 / 2.0 + 1e-12, 0.0);
                let per_degree = 1_048_576.0 * self.second.position_scale as f64;
                let thermal = Kernel::<$float, DEGREE, FACTOR>::double(&self.second.thermal);
                let second = Curve::new(&thermal, rounding, self.second_range(), per_degree);
                self.error_bound().with_temperature(self.kernel.error_of_temperature(Some(&second), off_by))
            }

            const fn second_range(&self) -> Interval {
                Kernel::<$float, DEGREE, FACTOR>::positions(
                    self.second.temperature_low,
                    self.second.temperature_middle,
                    self.second.temperature_span,
                    self.second.position_scale,
                )
            }
        }
    };
}

bound!(f32);
bound!(f64);
