//! From a channel to the constants of a floating-point kernel.

use super::Kernel;
use crate::channel::Channel;
use crate::error::{Error, Field, Quantity, check, fits};
use crate::kernel::plan::Plan;
use crate::units::Nanostrain;

/// The constants before they are rounded to the kernel's type.
struct Constants<const DEGREE: usize, const FACTOR: usize> {
    plan: Plan,
    middle: i32,
    scale: f64,
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
        let (low, high) = plan.temperatures;
        let span = high as i64 - low as i64;
        let step = 1.0 / 1_048_576.0;
        if span < 1 {
            return Err(Error::Invalid {
                field: Field::TemperatureHigh,
                value: high as f64 * step,
                low: (low as f64 + 1.0) * step,
                high: 2047.0,
            });
        }
        let middle = (low as i64 + span / 2) as i32;
        // The smallest power of two that the half range divided by is at most one.
        let mut half = 1.0;
        while half < (span - span / 2) as f64 {
            half *= 2.0;
        }
        let around = (middle as f64 * step, half * step);
        let factor_x = plan.factor.substitute(around.0, around.1);
        let thermal_x = plan.thermal.substitute(around.0, around.1);
        let factor_middle = factor_x.coefficients()[0];
        let mut factor = [0.0; FACTOR];
        let mut k = 0;
        while k < FACTOR {
            factor[k] = factor_x.coefficients()[k + 1] / factor_middle;
            k += 1;
        }
        let mut thermal = [0.0; DEGREE];
        k = 0;
        while k < DEGREE {
            thermal[k] = thermal_x.coefficients()[k + 1] / factor_middle;
            k += 1;
        }
        let limit = match plan.strain_limit {
            Some(limit) => limit,
            None => f64::INFINITY,
        };
        Ok(Self {
            middle,
            scale: 1.0 / half,
            gain: plan.gain / factor_middle,
            factor,
            thermal,
            thermal_offset: thermal_x.coefficients()[0] / factor_middle,
            limit,
            plan,
        })
    }
}

macro_rules! compile {
    ($float:ident, $make:ident, $try_make:ident, $within:ident, $try_within:ident) => {
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
                match self.$try_make() {
                    Ok(kernel) => kernel,
                    Err(error) => panic!("{}", error.build_message()),
                }
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
                    Ok(kernel) => kernel,
                    Err(error) => panic!("{}", error.build_message()),
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
                let constants = check!(Constants::<DEGREE, FACTOR>::of(self));
                let plan = &constants.plan;
                let mut kernel = Kernel {
                    temperature_low: plan.temperatures.0,
                    temperature_span: (plan.temperatures.1 as i64 - plan.temperatures.0 as i64) as u32,
                    temperature_middle: constants.middle,
                    code_low: plan.window.0,
                    code_span: (plan.window.1 as i64 - plan.window.0 as i64) as u32,
                    code_base: plan.base,
                    position_scale: constants.scale as $float,
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
                check!(kernel.error_bound().within(promise, circuit));
                Ok(kernel)
            }
        }
    };
}

compile!(f32, float32, try_float32, float32_within, try_float32_within);
compile!(f64, float64, try_float64, float64_within, try_float64_within);
