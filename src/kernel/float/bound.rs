//! How far a floating-point kernel can be from the exact model: running error analysis on intervals.
//!
//! Every operation rounds to nearest, so its result is off by at most the unit roundoff of its size; every
//! constant is the exact one rounded in the same way. Ranges and errors are carried through the kernel's
//! own sequence of operations, in the order in which it does them.

use super::Kernel;
use super::compensated::CompensatedKernel;
use crate::interval::Interval;
use crate::kernel::error_bound::{Causes, ErrorBound, Parts, remainder};
use crate::kernel::plan::{FACTOR_ROUNDING, THERMAL_ROUNDING};
use crate::units::Nanostrain;

/// An exact quantity's range and the largest magnitude of `computed - exact`.
#[derive(Clone, Copy)]
struct Value {
    exact: Interval,
    error: f64,
}

/// A kernel's constants in `f64`, its domain, and what counts.
struct Analysis<'a> {
    causes: Causes,
    unit_roundoff: f64,
    x: Interval,
    d: Interval,
    gain: f64,
    curvature: f64,
    factor: &'a [f64],
    thermal: &'a [f64],
    thermal_offset: f64,
    second: Option<SecondView<'a>>,
}

/// A compensating gauge's constants and range of positions.
#[derive(Clone, Copy)]
struct SecondView<'a> {
    x: Interval,
    thermal: &'a [f64],
    thermal_offset: f64,
}

/// Room for what a sum of magnitudes in `f64` may round away.
const ROOM: f64 = 1.0 + 1e-12;
/// An underflow loses no more than this, in either type.
const UNDERFLOW: f64 = 1e-44;

impl Analysis<'_> {
    /// Rounds the result of an operation.
    const fn rounded(&self, value: Value) -> Value {
        if !self.causes.operations {
            return value;
        }
        let size = value.exact.magnitude() + value.error;
        Value { exact: value.exact, error: (value.error + size * self.unit_roundoff + UNDERFLOW) * ROOM }
    }

    const fn times(&self, a: Value, b: Value) -> Value {
        let error = a.error * b.exact.magnitude() + b.error * a.exact.magnitude() + a.error * b.error;
        self.rounded(Value { exact: a.exact.times(b.exact), error: error * ROOM })
    }

    const fn plus(&self, a: Value, b: Value) -> Value {
        self.rounded(Value { exact: a.exact.plus(b.exact), error: (a.error + b.error) * ROOM })
    }

    const fn minus(&self, a: Value, b: Value) -> Value {
        self.rounded(Value { exact: a.exact.minus(b.exact), error: (a.error + b.error) * ROOM })
    }

    /// A division by something of the size of one.
    const fn over(&self, a: Value, b: Value) -> Value {
        let inverse = b.exact.reciprocal();
        let m = inverse.magnitude();
        // |a'/b' - a/b| <= (ea + |a/b| eb) / (|b| - eb)
        let quotient = a.exact.times(inverse);
        let error = (a.error + quotient.magnitude() * b.error) * m / (1.0 - b.error * m);
        self.rounded(Value { exact: quotient, error: error * ROOM })
    }

    /// A constant, known to a rounding, and a little for the `f64` that it was rounded from; one of a package's
    /// polynomials also to what `Plan` allows for cancellation.
    const fn constant(&self, value: f64, cancellation: f64) -> Value {
        let error = if self.causes.constants {
            (value.abs() * (self.unit_roundoff + 1e-13) + cancellation) * ROOM + UNDERFLOW
        } else {
            0.0
        };
        Value { exact: Interval::point(value).plus(Interval::around_zero(error)), error }
    }

    const fn one(&self) -> Value {
        Value { exact: Interval::point(1.0), error: 0.0 }
    }

    /// An integer converted, exact below the type's own precision.
    const fn converted(&self, range: Interval, step: f64) -> Value {
        let exact = Value { exact: range, error: 0.0 };
        if range.magnitude() * self.unit_roundoff * 2.0 <= step { exact } else { self.rounded(exact) }
    }

    /// The scale is a power of two, so converting is all that rounds.
    const fn position(&self, x: Interval) -> Value {
        self.converted(x, 0.0)
    }

    const fn distance(&self) -> Value {
        self.converted(self.d, 1.0)
    }

    /// Terms from the highest down to the first.
    const fn horner(&self, ascending: &[f64], x: Interval, cancellation: f64) -> Value {
        let x = self.position(x);
        let mut k = ascending.len() - 1;
        let mut sum = self.constant(ascending[k], cancellation);
        while k > 0 {
            k -= 1;
            sum = self.plus(self.times(sum, x), self.constant(ascending[k], cancellation));
        }
        self.times(sum, x)
    }

    const fn factor_change(&self) -> Value {
        self.horner(self.factor, self.x, FACTOR_ROUNDING)
    }

    const fn thermal_output(&self) -> Value {
        let own = self.plus(
            self.horner(self.thermal, self.x, THERMAL_ROUNDING),
            self.constant(self.thermal_offset, THERMAL_ROUNDING),
        );
        match self.second {
            None => own,
            Some(second) => {
                let high = self.horner(second.thermal, second.x, THERMAL_ROUNDING);
                self.minus(own, self.plus(high, self.constant(second.thermal_offset, THERMAL_ROUNDING)))
            }
        }
    }

    const fn curvature(&self) -> Value {
        self.times(self.distance(), self.constant(self.curvature, 0.0))
    }

    /// `u`, with its range from the product form `(1 - p)(1 + l) = 1 - u`.
    const fn divisor(&self) -> Value {
        let p = self.curvature();
        let l = self.factor_change();
        let u = self.plus(self.minus(p, l), self.times(l, p));
        let one = Interval::point(1.0);
        let exact = one.minus(one.minus(p.exact).times(one.plus(l.exact)));
        Value { exact, error: u.error }
    }

    /// `Kernel::reading`.
    const fn reading(&self) -> Value {
        let y = self.times(self.distance(), self.constant(self.gain, 0.0));
        let p = self.curvature();
        let u = self.divisor();
        let t = self.thermal_output();
        let n = self.minus(y, self.minus(t, self.times(t, p)));
        let q = self.over(u, self.minus(self.one(), u));
        self.plus(n, self.times(n, q))
    }

    /// `Kernel::at` and `Point::reading`.
    const fn point(&self) -> Value {
        let l = self.factor_change();
        let t = self.thermal_output();
        let s = self.over(l, self.plus(self.one(), l));
        let gain = self.constant(self.gain, 0.0);
        let gain = self.minus(gain, self.times(gain, s));
        let thermal = self.minus(t, self.times(t, s));
        let y = self.times(self.distance(), gain);
        let p = self.curvature();
        let p2 = self.times(p, p);
        let q =
            self.times(self.plus(p, p2), self.plus(self.one(), self.times(p2, self.plus(self.one(), p2))));
        let mut strain = self.plus(y, self.minus(self.times(y, q), thermal));
        if self.causes.reciprocal {
            let left_out = remainder(p.exact.magnitude(), 7);
            let bridge = y.exact.magnitude() * (1.0 + q.exact.magnitude());
            strain.error = (strain.error + left_out * bridge) * ROOM;
        }
        strain
    }
}

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

            const fn bound_with(&self, second: Option<SecondView<'_>>) -> ErrorBound {
                let whole = self.paths(second, Causes::ALL);
                let constants = self.paths(second, Causes::CONSTANTS);
                let operations = self.paths(second, Causes::OPERATIONS);
                let reciprocal = self.paths(second, Causes::RECIPROCAL);
                ErrorBound {
                    reading: Parts {
                        whole: Nanostrain(whole.0 * 1e9),
                        constants: Nanostrain(constants.0 * 1e9),
                        operations: Nanostrain(operations.0 * 1e9),
                        reciprocal: Nanostrain(reciprocal.0 * 1e9),
                    },
                    point: Parts {
                        whole: Nanostrain(whole.1 * 1e9),
                        constants: Nanostrain(constants.1 * 1e9),
                        operations: Nanostrain(operations.1 * 1e9),
                        reciprocal: Nanostrain(reciprocal.1 * 1e9),
                    },
                }
            }

            /// The largest magnitude of `u`.
            pub(super) const fn largest_divisor(&self) -> f64 {
                let (factor, thermal) = self.in_double();
                self.analysis(Causes::ALL, &factor, &thermal).divisor().exact.magnitude()
            }

            const fn paths(&self, second: Option<SecondView<'_>>, causes: Causes) -> (f64, f64) {
                let (factor, thermal) = self.in_double();
                let mut analysis = self.analysis(causes, &factor, &thermal);
                analysis.second = second;
                (analysis.reading().error, analysis.point().error)
            }

            const fn in_double(&self) -> ([f64; FACTOR], [f64; DEGREE]) {
                let mut factor = [0.0; FACTOR];
                let mut k = 0;
                while k < FACTOR {
                    factor[k] = self.factor[k] as f64;
                    k += 1;
                }
                let mut thermal = [0.0; DEGREE];
                k = 0;
                while k < DEGREE {
                    thermal[k] = self.thermal[k] as f64;
                    k += 1;
                }
                (factor, thermal)
            }

            const fn analysis<'a>(
                &self,
                causes: Causes,
                factor: &'a [f64],
                thermal: &'a [f64],
            ) -> Analysis<'a> {
                let low = self.temperature_low as f64 - self.temperature_middle as f64;
                let high = low + self.temperature_span as f64;
                let scale = self.position_scale as f64;
                let first = self.code_low as f64 - self.code_base as f64;
                Analysis {
                    causes,
                    unit_roundoff: $float::EPSILON as f64 / 2.0,
                    x: Interval::new(low * scale, high * scale),
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
                let mut thermal = [0.0; DEGREE];
                let mut k = 0;
                while k < DEGREE {
                    thermal[k] = self.second.thermal[k] as f64;
                    k += 1;
                }
                let low = self.second.temperature_low as f64 - self.second.temperature_middle as f64;
                let high = low + self.second.temperature_span as f64;
                let scale = self.second.position_scale as f64;
                self.kernel.bound_with(Some(SecondView {
                    x: Interval::new(low * scale, high * scale),
                    thermal: &thermal,
                    thermal_offset: self.second.thermal_offset as f64,
                }))
            }
        }
    };
}

bound!(f32);
bound!(f64);
