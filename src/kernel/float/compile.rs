//! From a channel to the constants of a floating-point kernel.

use super::Kernel;
use super::compensated::{CompensatedKernel, Second};
use crate::channel::Channel;
use crate::error::{Error, Field, Quantity, check, fits, or_stop};
use crate::kernel::plan::Plan;
use crate::kernel::suggested_limits::{Search, SuggestedLimits, suggested_limits};
use crate::numeric::Polynomial;
use crate::units::Nanostrain;

/// The constants before they are rounded to the kernel's type.
struct Constants<const DEGREE: usize, const FACTOR: usize> {
    plan: Plan,
    factor_middle: f64,
    range: Range,
    gain: f64,
    factor: [f64; FACTOR],
    thermal: [f64; DEGREE],
    thermal_offset: f64,
    limit: f64,
}

impl<const DEGREE: usize, const FACTOR: usize> Constants<DEGREE, FACTOR> {
    const fn of(channel: &Channel) -> Result<Self, Error> {
        const { assert!(DEGREE >= 1 && DEGREE <= 5, "a kernel has room for degree 1 to 5") };
        const { assert!(FACTOR >= 1 && FACTOR <= 3, "a kernel has room for a gauge factor of degree 1 to 3") };
        let plan = check!(Plan::of(channel));
        check!(fits(Quantity::ThermalOutputDegree, plan.thermal.degree() as f64, DEGREE as f64));
        check!(fits(Quantity::GaugeFactorDegree, plan.factor.degree() as f64, FACTOR as f64));
        let range = check!(Range::of(plan.temperatures));
        let around = (range.celsius, range.per_position);
        let factor_x = plan.factor.substitute(around.0, around.1);
        let thermal_x = plan.thermal.substitute(around.0, around.1);
        let factor_middle = factor_x.coefficients()[0];
        let mut factor = [0.0; FACTOR];
        let mut k = 0;
        while k < FACTOR {
            factor[k] = factor_x.coefficients()[k + 1] / factor_middle;
            k += 1;
        }
        let (thermal, thermal_offset) = scaled(&thermal_x, factor_middle);
        let limit = match plan.strain_limit {
            Some(limit) => limit,
            None => f64::INFINITY,
        };
        Ok(Self {
            factor_middle,
            range,
            gain: plan.gain / factor_middle,
            factor,
            thermal,
            thermal_offset,
            limit,
            plan,
        })
    }
}

/// A temperature range as the kernels normalise it.
struct Range {
    low: i32,
    span: u32,
    middle: i32,
    /// Positions per step: a power of two, so that the product is exact.
    scale: f64,
    /// Celsius at position 0, and per position.
    celsius: f64,
    per_position: f64,
}

impl Range {
    const fn of((low, high): (i32, i32)) -> Result<Self, Error> {
        let step = 1.0 / 1_048_576.0;
        let span = high as i64 - low as i64;
        if span < 1 {
            return Err(Error::Invalid {
                field: Field::TemperatureWidth,
                value: span as f64 * step,
                low: step,
                high: 4095.0,
            });
        }
        let middle = (low as i64 + span / 2) as i32;
        // The smallest power of two that the half range divided by is at most one.
        let mut half = 1.0;
        while half < (span - span / 2) as f64 {
            half *= 2.0;
        }
        Ok(Self {
            low,
            span: span as u32,
            middle,
            scale: 1.0 / half,
            celsius: middle as f64 * step,
            per_position: half * step,
        })
    }
}

/// The powers of a polynomial from the first on, and its constant, over the factor of mid range.
const fn scaled<const N: usize>(polynomial: &Polynomial, factor_middle: f64) -> ([f64; N], f64) {
    let mut ascending = [0.0; N];
    let mut k = 0;
    while k < N {
        ascending[k] = polynomial.coefficients()[k + 1] / factor_middle;
        k += 1;
    }
    (ascending, polynomial.coefficients()[0] / factor_middle)
}

/// A compensating gauge's constants before they are rounded.
struct SecondConstants<const DEGREE: usize> {
    range: Range,
    thermal: [f64; DEGREE],
    thermal_offset: f64,
}

impl<const DEGREE: usize> SecondConstants<DEGREE> {
    const fn of<const FACTOR: usize>(constants: &Constants<DEGREE, FACTOR>) -> Result<Self, Error> {
        let Some(second) = &constants.plan.second else {
            return Err(Error::Invalid { field: Field::CompensatingGauges, value: 0.0, low: 1.0, high: 1.0 });
        };
        check!(fits(Quantity::ThermalOutputDegree, second.thermal.degree() as f64, DEGREE as f64));
        let range = check!(Range::of(second.temperatures));
        let thermal = second.thermal.substitute(range.celsius, range.per_position);
        let (thermal, thermal_offset) = scaled(&thermal, constants.factor_middle);
        Ok(Self { range, thermal, thermal_offset })
    }
}

macro_rules! compile {
    ($float:ident, $make:ident, $try_make:ident, $within:ident, $try_within:ident,
     $compensated:ident, $try_compensated:ident, $try_make_from:ident, $suggested:ident, $whole:ident, $try_within_name:literal) => {
        suggested_limits!($suggested, $whole, $try_within_name);

        /// The bound of a channel in nanostrain, its circuit's share included; infinite if it does not compile.
        const fn $whole<const DEGREE: usize, const FACTOR: usize>(channel: &Channel) -> f64 {
            let Ok(kernel) = channel.$try_make::<DEGREE, FACTOR>() else { return f64::INFINITY };
            let Ok(plan) = Plan::of(channel) else { return f64::INFINITY };
            kernel.larger_bound() + plan.circuit_error * 1e9
        }

        impl Channel {
            #[doc = concat!("Compiles the channel to `", stringify!($float), "`. For constants in firmware: a channel that is")]
            /// wrong does not compile, and the message names the quantity.
            ///
            /// # Panics
            #[doc = concat!("Where [`", stringify!($try_make), "`](Self::", stringify!($try_make), ") gives an error.")]
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, float, units::*};
            /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
            /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
            #[doc = concat!("static KERNEL: float::Kernel<", stringify!($float), "> = CHANNEL.", stringify!($make), "();")]
            /// ```
            #[must_use]
            pub const fn $make<const DEGREE: usize, const FACTOR: usize>(
                &self,
            ) -> Kernel<$float, DEGREE, FACTOR> {
                or_stop(self.$try_make())
            }

            #[doc = concat!("Compiles the channel to `", stringify!($float), "` and insists that its error stays within `promise`.")]
            ///
            /// # Panics
            #[doc = concat!("Where [`", stringify!($try_within), "`](Self::", stringify!($try_within), ") gives an error.")]
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, float, units::*};
            /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
            /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
            #[doc = concat!("static KERNEL: float::Kernel<", stringify!($float), "> = CHANNEL.", stringify!($within), "(Nanostrain(20.0));")]
            /// ```
            #[must_use]
            pub const fn $within<const DEGREE: usize, const FACTOR: usize>(
                &self,
                promise: Nanostrain,
            ) -> Kernel<$float, DEGREE, FACTOR> {
                match self.$try_within(promise) {
                    Err(error @ Error::Bound { .. }) => {
                        self.$suggested::<DEGREE, FACTOR>(promise).stop(&error)
                    }
                    result => or_stop(result),
                }
            }

            #[doc = concat!("Compiles the channel to `", stringify!($float), "`, for channels that are made at run time.")]
            ///
            /// # Errors
            /// [`Error::Invalid`] for an input that is wrong, [`Error::Overflow`] for a degree that the
            /// kernel has no room for or a combined non-linearity beyond its reciprocal.
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, float, units::*};
            /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
            /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
            #[doc = concat!("let kernel: float::Kernel<", stringify!($float), ", 5, 3> = CHANNEL.", stringify!($try_make), "()?;")]
            /// # Ok::<(), gaugewright::Error>(())
            /// ```
            pub const fn $try_make<const DEGREE: usize, const FACTOR: usize>(
                &self,
            ) -> Result<Kernel<$float, DEGREE, FACTOR>, Error> {
                check!(self.check_compensating(0.0));
                let constants = check!(Constants::<DEGREE, FACTOR>::of(self));
                Self::$try_make_from(&constants)
            }

            const fn $try_make_from<const DEGREE: usize, const FACTOR: usize>(
                constants: &Constants<DEGREE, FACTOR>,
            ) -> Result<Kernel<$float, DEGREE, FACTOR>, Error> {
                let plan = &constants.plan;
                let mut kernel = Kernel {
                    temperature_low: constants.range.low,
                    temperature_span: constants.range.span,
                    temperature_middle: constants.range.middle,
                    code_low: plan.window.0,
                    code_span: (plan.window.1 as i64 - plan.window.0 as i64) as u32,
                    code_base: plan.base,
                    position_scale: constants.range.scale as $float,
                    gain: constants.gain as $float,
                    curvature: plan.curvature as $float,
                    factor: [0.0; FACTOR],
                    thermal: [0.0; DEGREE],
                    thermal_offset: constants.thermal_offset as $float,
                    strain_limit: constants.limit as $float,
                    bits: plan.bits as u8,
                };
                let mut k = 0;
                while k < FACTOR {
                    kernel.factor[k] = constants.factor[k] as $float;
                    k += 1;
                }
                k = 0;
                while k < DEGREE {
                    kernel.thermal[k] = constants.thermal[k] as $float;
                    k += 1;
                }
                check!(fits(Quantity::Divisor, kernel.largest_divisor(), 0.125));
                Ok(kernel)
            }

            #[doc = concat!("As [`", stringify!($try_make), "`](Self::", stringify!($try_make), "), with a promised error bound.")]
            ///
            /// # Errors
            /// Also [`Error::Bound`] if the bound of either path of the kernel, and what its map leaves out of
            /// the circuit ([`circuit_error`](Self::circuit_error)), are together larger than `promise`.
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, Converter, Error, Gauge, ThermalOutput, float, units::*};
            /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
            /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
            #[doc = concat!("let result: Result<float::Kernel<", stringify!($float), ">, Error> = CHANNEL.", stringify!($try_within), "(Nanostrain(1e-12));")]
            /// assert!(matches!(result, Err(Error::Bound { .. })));
            /// ```
            pub const fn $try_within<const DEGREE: usize, const FACTOR: usize>(
                &self,
                promise: Nanostrain,
            ) -> Result<Kernel<$float, DEGREE, FACTOR>, Error> {
                let kernel: Kernel<$float, DEGREE, FACTOR> = check!(self.$try_make());
                let circuit = check!(Plan::of(self)).circuit_error;
                let bound = kernel.error_bound();
                if bound.keeps(promise, circuit) {
                    return Ok(kernel);
                }
                Err(bound.missed(promise, circuit))
            }

            #[doc = concat!("Compiles a channel with [`compensated_by`](Self::compensated_by) to `", stringify!($float), "`.")]
            ///
            /// # Panics
            #[doc = concat!("Where [`", stringify!($try_compensated), "`](Self::", stringify!($try_compensated), ") gives an error.")]
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, CompensatingGauge, Converter, Gauge, ThermalOutput, float, units::*};
            /// # const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
            /// # const CHANNEL: Channel = Channel::new(GAUGE, Bridge::half_compensated(Ohms(120.0), Ohms(0.5)),
            /// #     Converter::bipolar(24, Ratio(0.01))).compensated_by(CompensatingGauge::new(GAUGE));
            #[doc = concat!("static KERNEL: float::CompensatedKernel<", stringify!($float), "> = CHANNEL.", stringify!($compensated), "();")]
            /// ```
            #[must_use]
            pub const fn $compensated<const DEGREE: usize, const FACTOR: usize>(
                &self,
            ) -> CompensatedKernel<$float, DEGREE, FACTOR> {
                or_stop(self.$try_compensated())
            }

            #[doc = concat!("Compiles a channel with [`compensated_by`](Self::compensated_by) to `", stringify!($float), "`, at run time.")]
            ///
            /// # Errors
            #[doc = concat!("As [`", stringify!($try_make), "`](Self::", stringify!($try_make), "), and [`Error::Invalid`] where there is no compensating")]
            /// gauge with a temperature of its own.
            ///
            /// ```
            /// # use gaugewright::{Bridge, Channel, CompensatingGauge, Converter, Gauge, ThermalOutput, float, units::*};
            /// # const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(
            /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
            /// # const CHANNEL: Channel = Channel::new(GAUGE, Bridge::half_compensated(Ohms(120.0), Ohms(0.5)),
            /// #     Converter::bipolar(24, Ratio(0.01))).compensated_by(CompensatingGauge::new(GAUGE));
            #[doc = concat!("let kernel: float::CompensatedKernel<", stringify!($float), "> = CHANNEL.", stringify!($try_compensated), "()?;")]
            /// # Ok::<(), gaugewright::Error>(())
            /// ```
            pub const fn $try_compensated<const DEGREE: usize, const FACTOR: usize>(
                &self,
            ) -> Result<CompensatedKernel<$float, DEGREE, FACTOR>, Error> {
                check!(self.check());
                check!(self.check_compensating(1.0));
                let constants = check!(Constants::<DEGREE, FACTOR>::of(self));
                let kernel = check!(Self::$try_make_from(&constants));
                let second = check!(SecondConstants::of(&constants));
                let mut thermal = [0.0; DEGREE];
                let mut k = 0;
                while k < DEGREE {
                    thermal[k] = second.thermal[k] as $float;
                    k += 1;
                }
                let second = Second {
                    temperature_low: second.range.low,
                    temperature_span: second.range.span,
                    temperature_middle: second.range.middle,
                    position_scale: second.range.scale as $float,
                    thermal,
                    thermal_offset: second.thermal_offset as $float,
                };
                Ok(CompensatedKernel { kernel, second })
            }
        }
    };
}

compile!(
    f32,
    float32,
    try_float32,
    float32_within,
    try_float32_within,
    compensated_float32,
    try_compensated_float32,
    float32_from,
    float32_suggested_limits,
    whole32,
    "try_float32_within"
);
compile!(
    f64,
    float64,
    try_float64,
    float64_within,
    try_float64_within,
    compensated_float64,
    try_compensated_float64,
    float64_from,
    float64_suggested_limits,
    whole64,
    "try_float64_within"
);
