//! How far a kernel can be from the exact model, from its integers alone.
//!
//! The constants of a kernel are the exact ones rounded to nearest, so each is known to half a step. From
//! there every operation of the kernel is repeated on intervals: the range of the exact value and the
//! range of its error, both rounded outwards. The sum over a whole path is an enclosure of the error for
//! every code in the window and every temperature in the range.
//!
//! Terms of second order (an error times an error) are kept, not dropped.

use super::compensated::{CompensatedKernel, Second};
use super::{DROPPED_BY_READING, Kernel, POINT_OFFSET};
use crate::error::{Error, Quantity, check, fits};
use crate::interval::Interval;
use crate::kernel::error_bound::{Causes, ErrorBound, Parts, remainder};
use crate::units::Nanostrain;

const TWO_31: f64 = 2_147_483_648.0;
const TWO_32: f64 = 4_294_967_296.0;
/// Nanostrain in one step of 2^-34.
const STEP: f64 = 1e9 / 17_179_869_184.0;

/// An exact quantity's range and the range of `computed - exact`, in the quantity's own steps.
#[derive(Clone, Copy)]
struct Value {
    exact: Interval,
    error: Interval,
}

/// A value that has no error.
const fn exactly(exact: Interval) -> Value {
    Value { exact, error: Interval::point(0.0) }
}

/// One kernel's domain, with the causes that count.
pub(super) struct Analysis<'a> {
    causes: Causes,
    d: Value,
    x: Value,
    second: Option<View<'a>>,
}

/// The constants of a compensating gauge, whatever their degree.
#[derive(Clone, Copy)]
pub(super) struct View<'a> {
    thermal: &'a [i32],
    thermal_offset: i32,
    x_high: f64,
}

impl<const DEGREE: usize> Second<DEGREE> {
    pub const fn view(&self) -> View<'_> {
        View {
            thermal: &self.thermal,
            thermal_offset: self.thermal_offset,
            x_high: self.temperatures.end(self.temperature_scale as u32),
        }
    }
}

impl<const DEGREE: usize, const FACTOR: usize> Kernel<DEGREE, FACTOR> {
    /// The largest error of this kernel, with its parts. `const`: in firmware it costs nothing.
    ///
    /// It holds for codes and temperatures in the declared ranges. A flagged reading is that of the
    /// nearest code and temperature in range, to the same bound. Derived by interval arithmetic from the
    /// constants, taking each as the exact one rounded to nearest.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// const BOUND: Nanostrain = KERNEL.error_bound().reading.whole;
    /// assert!(BOUND.0 < 0.5);
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        bound(self, None)
    }
}

impl<const DEGREE: usize, const FACTOR: usize> CompensatedKernel<DEGREE, FACTOR> {
    /// As [`Kernel::error_bound`], for two temperatures.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, CompensatingGauge, Converter, Gauge, ThermalOutput, fixed, units::*};
    /// # const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// # const CHANNEL: Channel = Channel::new(GAUGE, Bridge::half_compensated(Ohms(120.0), Ohms(0.5)),
    /// #     Converter::bipolar(24, Ratio(0.01))).compensated_by(CompensatingGauge::new(GAUGE));
    /// # static KERNEL: fixed::CompensatedKernel = CHANNEL.compensated_fixed();
    /// const BOUND: Nanostrain = KERNEL.error_bound().larger();
    /// assert!(BOUND.0 < 0.6);
    /// ```
    #[must_use]
    pub const fn error_bound(&self) -> ErrorBound {
        bound(&self.kernel, Some(self.second.view()))
    }
}

const fn bound<const D: usize, const F: usize>(
    kernel: &Kernel<D, F>,
    second: Option<View<'_>>,
) -> ErrorBound {
    let whole = Analysis::of(kernel, second, Causes::ALL).paths(kernel);
    let constants = Analysis::of(kernel, second, Causes::CONSTANTS).paths(kernel);
    let operations = Analysis::of(kernel, second, Causes::OPERATIONS).paths(kernel);
    let reciprocal = Analysis::of(kernel, second, Causes::RECIPROCAL).paths(kernel);
    ErrorBound {
        reading: Parts {
            whole: nanostrain(whole.0),
            constants: nanostrain(constants.0),
            operations: nanostrain(operations.0),
            reciprocal: nanostrain(reciprocal.0),
        },
        point: Parts {
            whole: nanostrain(whole.1),
            constants: nanostrain(constants.1),
            operations: nanostrain(operations.1),
            reciprocal: nanostrain(reciprocal.1),
        },
    }
}

const fn nanostrain(strain: Value) -> Nanostrain {
    Nanostrain(strain.error.magnitude() * STEP)
}

impl<'a> Analysis<'a> {
    const fn of<const D: usize, const F: usize>(
        kernel: &Kernel<D, F>,
        second: Option<View<'a>>,
        causes: Causes,
    ) -> Self {
        let d_high = kernel.codes.end(kernel.code_scale);
        let x_high = kernel.temperatures.end(kernel.temperature_scale as u32);
        Self {
            causes,
            d: exactly(Interval::new(-TWO_31, d_high)),
            x: exactly(Interval::new(-TWO_31, x_high)),
            second,
        }
    }

    /// Refuses a kernel in which a value of an input in range would not fit an `i32`.
    pub(super) const fn check_fit<const D: usize, const F: usize>(
        kernel: &Kernel<D, F>,
        second: Option<View<'a>>,
    ) -> Result<(), Error> {
        let all = Self::of(kernel, second, Causes::ALL);
        let u = all.divisor(kernel).exact.magnitude() / TWO_32;
        check!(fits(Quantity::Divisor, u, 0.125));
        check!(fits(Quantity::GaugeFactorConstant, all.factor_stages(kernel), TWO_31 - 2.0));
        check!(fits(Quantity::ThermalOutputConstant, all.thermal_stages(kernel), TWO_31 - 2.0));
        if let Some(second) = second {
            let largest = largest_stage(second.thermal, second.thermal_offset);
            check!(fits(Quantity::ThermalOutputConstant, largest, TWO_31 - 2.0));
        }
        check!(fits(Quantity::SignalGain, all.largest_gain(kernel), TWO_31 - 8.0));
        let (reading, point) = all.paths(kernel);
        let larger = all.largest(kernel);
        let larger = if reading.exact.magnitude() > larger { reading.exact.magnitude() } else { larger };
        let larger = if point.exact.magnitude() > larger { point.exact.magnitude() } else { larger };
        // A few dozen steps for the errors of the intermediates.
        fits(Quantity::StrainValue, larger, TWO_31 - 64.0)
    }

    /// The largest magnitude of any stage of Horner's rule for the gauge factor.
    const fn factor_stages<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> f64 {
        largest_stage(&kernel.factor, 0)
    }

    /// The same for thermal output, with its constant term.
    const fn thermal_stages<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> f64 {
        largest_stage(&kernel.thermal, kernel.thermal_offset)
    }

    /// The largest intermediate between the signal and the result, on either path.
    const fn largest<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> f64 {
        let u = self.divisor(kernel).exact.scaled(1.0 / TWO_32).magnitude();
        let p = self.curvature(kernel).exact.scaled(1.0 / TWO_32).magnitude();
        let signal = self.signal(kernel.gain).exact.magnitude();
        let thermal = self.thermal(kernel).exact.magnitude();
        let s = self.reciprocal_of_factor(kernel).exact.scaled(1.0 / TWO_32).magnitude();
        // One call: |numerator| times all factors. Split: signal and thermal output apart, each with all factors it
        // meets.
        let one_call = (signal + thermal * (1.0 + p)) * (1.0 + u) * (1.0 + u * u) * (1.0 + u * u * u * u);
        let bridge = (1.0 + p) * (1.0 + p * p + p * p * p * p);
        let split = (signal * bridge + thermal) * (1.0 + s);
        one_call.max(split)
    }

    /// The largest gain of a point, with the reciprocal worked in.
    const fn largest_gain<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> f64 {
        let p = self.curvature(kernel).exact.scaled(1.0 / TWO_32).magnitude();
        let s = self.reciprocal_of_factor(kernel).exact.scaled(1.0 / TWO_32).magnitude();
        (kernel.gain as f64).abs() * (1.0 + s) * (1.0 + p) * (1.0 + p * p + p * p * p * p)
    }

    /// `floor(a b / 2^32)`.
    const fn mul(&self, a: Value, b: Value) -> Value {
        let error = a
            .error
            .times(b.exact)
            .plus(b.error.times(a.exact))
            .plus(a.error.times(b.error))
            .scaled(1.0 / TWO_32)
            .plus(self.dropped());
        Value { exact: a.exact.times(b.exact).scaled(1.0 / TWO_32), error }
    }

    /// The square, whose exact value is never negative.
    const fn square(&self, a: Value) -> Value {
        let product = self.mul(a, a);
        Value { exact: Interval::new(0.0, product.exact.high), error: product.error }
    }

    /// The square in a point, one step more where the temperature's flag is raised.
    const fn square_flagged(&self, a: Value) -> Value {
        let square = self.square(a);
        let raised = if self.causes.operations { Interval::new(0.0, 1.0) } else { Interval::point(0.0) };
        Value { exact: square.exact, error: square.error.plus(raised) }
    }

    const fn mla(&self, a: Value, b: Value, c: Value) -> Value {
        add(self.mul(a, b), c)
    }

    /// What rounding down takes.
    const fn dropped(&self) -> Interval {
        if self.causes.operations { Interval::new(-1.0, 0.0) } else { Interval::point(0.0) }
    }

    /// A constant, known to half a step, and a little for the `f64` that it was rounded from: the thousandth of
    /// a step is what `Plan` allows the highest power of a package's polynomials to lose by cancellation.
    const fn constant(&self, value: i32) -> Value {
        let half = 0.5 + 1e-3 + value.unsigned_abs() as f64 * 1e-13;
        let error = if self.causes.constants { Interval::around_zero(half) } else { Interval::point(0.0) };
        Value { exact: Interval::point(value as f64).minus(error), error }
    }

    const fn signal(&self, gain: i32) -> Value {
        self.mul(self.d, self.constant(gain))
    }

    const fn curvature<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> Value {
        self.mul(self.d, self.constant(kernel.curvature))
    }

    const fn factor_change<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> Value {
        let change = self.horner(&kernel.factor, self.x);
        self.mul(change, self.x)
    }

    /// Thermal output, less that of a compensating gauge.
    const fn thermal<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> Value {
        let high = self.horner(&kernel.thermal, self.x);
        // The constant carries the mean of the dropped parts, which is an error on purpose.
        let mut offset = self.constant(kernel.thermal_offset);
        if self.causes.operations {
            let carried = Interval::point(DROPPED_BY_READING);
            offset = Value { exact: offset.exact.minus(carried), error: offset.error.plus(carried) };
        }
        let own = self.mla(high, self.x, offset);
        match self.second {
            None => own,
            Some(second) => {
                let x = exactly(Interval::new(-TWO_31, second.x_high));
                let high = self.horner(second.thermal, x);
                add(own, self.mla(high, x, self.constant(second.thermal_offset)))
            }
        }
    }

    /// The terms from the highest down to the first.
    const fn horner(&self, descending: &[i32], x: Value) -> Value {
        let mut sum = self.constant(descending[0]);
        let mut k = 1;
        while k < descending.len() {
            sum = self.mla(sum, x, self.constant(descending[k]));
            k += 1;
        }
        sum
    }

    /// `u = l - p + p l`.
    const fn divisor<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> Value {
        let p = self.curvature(kernel);
        let l = self.factor_change(kernel);
        let u = self.mla(p, l, subtract(l, p));
        // The range from the product form, which is monotonic in both: (1 + p)(1 - l) = 1 - u.
        let one = Interval::point(TWO_32);
        let product = one.plus(p.exact).times(one.minus(l.exact)).scaled(1.0 / TWO_32);
        Value { exact: one.minus(product), error: u.error }
    }

    /// `s` with `1 + s = 1 / (1 - l)`.
    const fn reciprocal_of_factor<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> Value {
        let l = self.factor_change(kernel);
        let l2 = self.square(l);
        let even = self.mla(l2, l2, l2);
        let even = self.mla(even, l2, l2);
        let s = self.mla(even, l, add(l, even));
        // 1 + s times 1 / (1 - l^8) is exact: the remainder is an error of the other sign.
        let one = Interval::point(TWO_32);
        let whole = one.minus(l.exact).scaled(1.0 / TWO_32).reciprocal().scaled(TWO_32);
        let remainder = self.remainder(l, 8).times(whole);
        Value { exact: whole.minus(one), error: s.error.minus(remainder) }
    }

    /// What a reciprocal cut before `u^n` leaves out, over what it gives.
    const fn remainder(&self, u: Value, n: usize) -> Interval {
        if self.causes.reciprocal {
            Interval::new(0.0, remainder(u.exact.magnitude() / TWO_32, n))
        } else {
            Interval::point(0.0)
        }
    }

    /// Exact result and error of the one-call path and of the split path.
    const fn paths<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> (Value, Value) {
        (self.reading(kernel), self.point(kernel))
    }

    const fn reading<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> Value {
        let p = self.curvature(kernel);
        let u = self.divisor(kernel);
        let thermal = self.thermal(kernel);
        let numerator = self.mla(thermal, p, self.mla(self.d, self.constant(kernel.gain), thermal));
        let u2 = self.square(u);
        let strain = self.mla(numerator, u, numerator);
        let strain = self.mla(strain, u2, strain);
        let strain = self.mla(self.mul(strain, u2), u2, strain);
        Value { exact: strain.exact, error: strain.error.minus(self.remainder(u, 8).times(strain.exact)) }
    }

    const fn point<const D: usize, const F: usize>(&self, kernel: &Kernel<D, F>) -> Value {
        let s = self.reciprocal_of_factor(kernel);
        let gain = self.constant(kernel.gain);
        let gain = self.mla(gain, s, gain);
        let thermal = self.thermal(kernel);
        let mut thermal = self.mla(thermal, s, thermal);
        if self.causes.operations {
            thermal.error = thermal.error.minus(Interval::point(POINT_OFFSET as f64));
        }
        let p = self.mul(self.d, self.constant(-kernel.curvature));
        let p2 = self.square_flagged(p);
        let even = self.mla(p2, p2, p2);
        let gain = self.mla(gain, p, gain);
        let gain = self.mla(gain, even, gain);
        let bridge = self.mul(self.d, gain);
        let remainder = self.remainder(p, 6).times(bridge.exact);
        add(Value { exact: bridge.exact, error: bridge.error.minus(remainder) }, thermal)
    }
}

const fn add(a: Value, b: Value) -> Value {
    Value { exact: a.exact.plus(b.exact), error: a.error.plus(b.error) }
}

const fn subtract(a: Value, b: Value) -> Value {
    Value { exact: a.exact.minus(b.exact), error: a.error.minus(b.error) }
}

const fn largest_stage(descending: &[i32], offset: i32) -> f64 {
    let mut k = 0;
    let mut stage = 0.0;
    let mut largest: f64 = 0.0;
    while k < descending.len() {
        stage = stage / 2.0 + descending[k].unsigned_abs() as f64 + 2.0;
        largest = largest.max(stage);
        k += 1;
    }
    largest.max(stage / 2.0 + offset.unsigned_abs() as f64 + 2.0)
}
