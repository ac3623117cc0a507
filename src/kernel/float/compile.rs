//! From a channel to the constants of a floating-point kernel.

use super::Kernel;
use super::compensated::{CompensatedKernel, Second};
use super::precision::Precision;
use crate::channel::Channel;
use crate::error::{Error, Field, Quantity, fits, try_const, unwrap_const};
use crate::kernel::codes::CodeModel;
use crate::kernel::suggested_limits::{Search, SuggestedLimits, suggested_limits};
use crate::numeric::Polynomial;
use crate::units::Nanostrain;

/// A kernel's constants in `f64`, rounded to the kernel's type, and what they were made from.
struct Compiled<const DEGREE: usize, const FACTOR: usize> {
    kernel: Kernel<f64, DEGREE, FACTOR>,
    model: CodeModel,
    factor_middle: f64,
}

impl<const DEGREE: usize, const FACTOR: usize> Compiled<DEGREE, FACTOR> {
    const fn of(channel: &Channel, precision: Precision) -> Result<Self, Error> {
        const { assert!(DEGREE >= 1 && DEGREE <= 5, "a kernel has room for degree 1 to 5") };
        const { assert!(FACTOR >= 1 && FACTOR <= 3, "a kernel has room for a gauge factor of degree 1 to 3") };
        let model = try_const!(CodeModel::of(channel));
        try_const!(fits(Quantity::ThermalOutputDegree, model.thermal.degree() as f64, DEGREE as f64));
        try_const!(fits(Quantity::GaugeFactorDegree, model.factor.degree() as f64, FACTOR as f64));
        let range = try_const!(Range::of(model.temperatures));
        let factor_x = model.factor.substitute(range.celsius, range.per_position);
        let thermal_x = model.thermal.substitute(range.celsius, range.per_position);
        let factor_middle = factor_x.coefficients()[0];
        let (factor, _) = scaled(&factor_x, factor_middle);
        let (thermal, thermal_offset) = scaled(&thermal_x, factor_middle);
        let mut kernel = Kernel {
            temperature_low: range.low,
            temperature_span: range.span,
            temperature_middle: range.middle,
            code_low: model.window.0,
            code_span: (model.window.1 as i64 - model.window.0 as i64) as u32,
            code_base: model.base,
            position_scale: range.scale,
            gain: model.map.gain / factor_middle,
            curvature: model.map.curvature,
            factor,
            thermal,
            thermal_offset,
            strain_limit: match model.strain_limit {
                Some(limit) => limit,
                None => f64::INFINITY,
            },
            bits: model.bits as u8,
        };
        if let Precision::Single = precision {
            kernel = kernel.single().wide();
        }
        try_const!(fits(Quantity::Divisor, kernel.largest_divisor(precision), 0.125));
        Ok(Self { kernel, model, factor_middle })
    }

    /// With the compensating gauge.
    const fn compensated(&self) -> Result<CompensatedKernel<f64, DEGREE, FACTOR>, Error> {
        let Some(second) = &self.model.second else {
            return Err(Error::Invalid { field: Field::CompensatingGauges, value: 0.0, low: 1.0, high: 1.0 });
        };
        try_const!(fits(Quantity::ThermalOutputDegree, second.thermal.degree() as f64, DEGREE as f64));
        let range = try_const!(Range::of(second.temperatures));
        let thermal = second.thermal.substitute(range.celsius, range.per_position);
        let (thermal, thermal_offset) = scaled(&thermal, self.factor_middle);
        let second = Second {
            temperature_low: range.low,
            temperature_span: range.span,
            temperature_middle: range.middle,
            position_scale: range.scale,
            thermal,
            thermal_offset,
        };
        Ok(CompensatedKernel { kernel: self.kernel, second })
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

/// The bound of a channel in nanostrain, its circuit's share included; infinite if it does not compile.
const fn whole<const DEGREE: usize, const FACTOR: usize>(channel: &Channel, precision: Precision) -> f64 {
    match one_temperature::<DEGREE, FACTOR>(channel, precision) {
        Ok(compiled) => compiled.kernel.max_bound(precision) + compiled.model.circuit_error * 1e9,
        Err(_) => f64::INFINITY,
    }
}

const fn whole_single<const DEGREE: usize, const FACTOR: usize>(channel: &Channel) -> f64 {
    whole::<DEGREE, FACTOR>(channel, Precision::Single)
}

const fn whole_double<const DEGREE: usize, const FACTOR: usize>(channel: &Channel) -> f64 {
    whole::<DEGREE, FACTOR>(channel, Precision::Double)
}

suggested_limits!(float32_suggested_limits, whole_single, "try_float32_within");
suggested_limits!(float64_suggested_limits, whole_double, "try_float64_within");

const fn one_temperature<const DEGREE: usize, const FACTOR: usize>(
    channel: &Channel,
    precision: Precision,
) -> Result<Compiled<DEGREE, FACTOR>, Error> {
    try_const!(channel.check_compensating(0.0));
    Compiled::of(channel, precision)
}

const fn two_temperatures<const DEGREE: usize, const FACTOR: usize>(
    channel: &Channel,
    precision: Precision,
) -> Result<CompensatedKernel<f64, DEGREE, FACTOR>, Error> {
    try_const!(channel.check());
    try_const!(channel.check_compensating(1.0));
    try_const!(Compiled::of(channel, precision)).compensated()
}

impl Channel {
    /// The channel in `f32`, for constants in firmware: a channel that is wrong does not compile, and the message names the
    /// quantity.
    ///
    /// # Panics
    /// Where [`try_float32`](Self::try_float32) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, float};
    /// static KERNEL: float::Kernel<f32> = CHANNEL.float32();
    /// ```
    #[must_use]
    pub const fn float32<const DEGREE: usize, const FACTOR: usize>(&self) -> Kernel<f32, DEGREE, FACTOR> {
        unwrap_const(self.try_float32())
    }

    /// The channel in `f32`, with an error that stays within `error_limit`.
    ///
    /// # Panics
    /// Where [`try_float32_within`](Self::try_float32_within) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, float, units::*};
    /// static KERNEL: float::Kernel<f32> = CHANNEL.float32_within(Nanostrain(20.0));
    /// ```
    #[must_use]
    pub const fn float32_within<const DEGREE: usize, const FACTOR: usize>(
        &self,
        error_limit: Nanostrain,
    ) -> Kernel<f32, DEGREE, FACTOR> {
        match self.try_float32_within(error_limit) {
            Err(error @ Error::Bound { .. }) => {
                self.float32_suggested_limits::<DEGREE, FACTOR>(error_limit).stop(&error)
            }
            result => unwrap_const(result),
        }
    }

    /// The channel in `f32`, for channels that are made at run time.
    ///
    /// # Errors
    /// [`Error::Invalid`] for an input that is wrong, [`Error::Overflow`] for a degree that the
    /// kernel has no room for or a combined non-linearity beyond its reciprocal.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, float};
    /// let kernel: float::Kernel<f32, 5, 3> = CHANNEL.try_float32()?;
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn try_float32<const DEGREE: usize, const FACTOR: usize>(
        &self,
    ) -> Result<Kernel<f32, DEGREE, FACTOR>, Error> {
        Ok(try_const!(one_temperature(self, Precision::Single)).kernel.single())
    }

    /// As [`try_float32`](Self::try_float32), with an error limit.
    ///
    /// # Errors
    /// Also [`Error::Bound`] if the bound of either path of the kernel, and what its map leaves out of
    /// the circuit ([`circuit_error`](Self::circuit_error)), are together larger than `error_limit`.
    ///
    /// ```
    /// use gaugewright::{Error, example::CHANNEL, float, units::*};
    /// let result: Result<float::Kernel<f32>, Error> = CHANNEL.try_float32_within(Nanostrain(1e-12));
    /// assert!(matches!(result, Err(Error::Bound { .. })));
    /// ```
    pub const fn try_float32_within<const DEGREE: usize, const FACTOR: usize>(
        &self,
        error_limit: Nanostrain,
    ) -> Result<Kernel<f32, DEGREE, FACTOR>, Error> {
        let compiled = try_const!(one_temperature(self, Precision::Single));
        try_const!(
            compiled.kernel.bound(Precision::Single, None).check(error_limit, compiled.model.circuit_error)
        );
        Ok(compiled.kernel.single())
    }

    /// A channel with [`compensated_by`](Self::compensated_by) in `f32`.
    ///
    /// # Panics
    /// Where [`try_compensated_float32`](Self::try_compensated_float32) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, float};
    /// static KERNEL: float::CompensatedKernel<f32> = CHANNEL.compensated_float32();
    /// ```
    #[must_use]
    pub const fn compensated_float32<const DEGREE: usize, const FACTOR: usize>(
        &self,
    ) -> CompensatedKernel<f32, DEGREE, FACTOR> {
        unwrap_const(self.try_compensated_float32())
    }

    /// A channel with [`compensated_by`](Self::compensated_by) in `f32`, at run time.
    ///
    /// # Errors
    /// As [`try_float32`](Self::try_float32), and [`Error::Invalid`] where there is no compensating
    /// gauge with a temperature of its own.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, float};
    /// let kernel: float::CompensatedKernel<f32> = CHANNEL.try_compensated_float32()?;
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn try_compensated_float32<const DEGREE: usize, const FACTOR: usize>(
        &self,
    ) -> Result<CompensatedKernel<f32, DEGREE, FACTOR>, Error> {
        Ok(try_const!(two_temperatures(self, Precision::Single)).single())
    }

    /// As [`float32`](Self::float32), in `f64`.
    ///
    /// # Panics
    /// Where [`try_float64`](Self::try_float64) gives an error.
    #[must_use]
    pub const fn float64<const DEGREE: usize, const FACTOR: usize>(&self) -> Kernel<f64, DEGREE, FACTOR> {
        unwrap_const(self.try_float64())
    }

    /// As [`float32_within`](Self::float32_within), in `f64`.
    ///
    /// # Panics
    /// Where [`try_float64_within`](Self::try_float64_within) gives an error.
    #[must_use]
    pub const fn float64_within<const DEGREE: usize, const FACTOR: usize>(
        &self,
        error_limit: Nanostrain,
    ) -> Kernel<f64, DEGREE, FACTOR> {
        match self.try_float64_within(error_limit) {
            Err(error @ Error::Bound { .. }) => {
                self.float64_suggested_limits::<DEGREE, FACTOR>(error_limit).stop(&error)
            }
            result => unwrap_const(result),
        }
    }

    /// As [`try_float32`](Self::try_float32), in `f64`.
    ///
    /// # Errors
    /// The same.
    pub const fn try_float64<const DEGREE: usize, const FACTOR: usize>(
        &self,
    ) -> Result<Kernel<f64, DEGREE, FACTOR>, Error> {
        Ok(try_const!(one_temperature(self, Precision::Double)).kernel)
    }

    /// As [`try_float32_within`](Self::try_float32_within), in `f64`.
    ///
    /// # Errors
    /// The same.
    ///
    /// ```
    /// use gaugewright::{Error, example::CHANNEL, float, units::*};
    /// let result: Result<float::Kernel<f64>, Error> = CHANNEL.try_float64_within(Nanostrain(1e-12));
    /// assert!(matches!(result, Err(Error::Bound { .. })));
    /// ```
    pub const fn try_float64_within<const DEGREE: usize, const FACTOR: usize>(
        &self,
        error_limit: Nanostrain,
    ) -> Result<Kernel<f64, DEGREE, FACTOR>, Error> {
        let compiled = try_const!(one_temperature(self, Precision::Double));
        try_const!(
            compiled.kernel.bound(Precision::Double, None).check(error_limit, compiled.model.circuit_error)
        );
        Ok(compiled.kernel)
    }

    /// As [`compensated_float32`](Self::compensated_float32), in `f64`.
    ///
    /// # Panics
    /// Where [`try_compensated_float64`](Self::try_compensated_float64) gives an error.
    #[must_use]
    pub const fn compensated_float64<const DEGREE: usize, const FACTOR: usize>(
        &self,
    ) -> CompensatedKernel<f64, DEGREE, FACTOR> {
        unwrap_const(self.try_compensated_float64())
    }

    /// As [`try_compensated_float32`](Self::try_compensated_float32), in `f64`.
    ///
    /// # Errors
    /// The same.
    pub const fn try_compensated_float64<const DEGREE: usize, const FACTOR: usize>(
        &self,
    ) -> Result<CompensatedKernel<f64, DEGREE, FACTOR>, Error> {
        two_temperatures(self, Precision::Double)
    }
}
