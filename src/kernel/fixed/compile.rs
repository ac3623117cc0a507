//! From a channel to the integers of a kernel.

use super::bound::{Analysis, gain_fits};
use super::compensated::{CompensatedKernel, Second};
use super::{DROPPED_BY_READING, Kernel};
use crate::channel::Channel;
use crate::error::{Error, Field, Quantity, fits, try_const, unwrap_const};
use crate::kernel::codes::CodeModel;
use crate::kernel::error_bound::Causes;
use crate::kernel::suggested_limits::{Search, SuggestedLimits, suggested_limits};
use crate::numeric::Polynomial;
use crate::sample::{Flags, InputRange, nearest};
use crate::units::Nanostrain;

const TWO_31: f64 = 2_147_483_648.0;
const TWO_32: f64 = 4_294_967_296.0;
const TWO_34: f64 = 17_179_869_184.0;

impl Channel {
    /// Compiles the channel to fixed point. For constants in firmware: a channel that is wrong, or whose
    /// numbers do not fit, does not compile, and the message names the quantity.
    ///
    /// A `const` or `static` that holds many kernels is a longer computation than the compiler has patience for
    /// (its lint `long_running_const_eval`): give each kernel a `const` of its own, and make the table of these.
    ///
    /// # Panics
    /// Where [`try_fixed`](Self::try_fixed) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed};
    /// static USUAL: fixed::Kernel = CHANNEL.fixed();
    /// static ANY: fixed::Kernel<5, 3> = CHANNEL.fixed();
    /// ```
    #[must_use]
    pub const fn fixed<const DEGREE: usize, const FACTOR: usize>(&self) -> Kernel<DEGREE, FACTOR> {
        unwrap_const(self.try_fixed())
    }

    /// Compiles the channel to fixed point and insists that its error stays within `error_limit`.
    ///
    /// # Panics
    /// Where [`try_fixed_within`](Self::try_fixed_within) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed, units::*};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed_within(Nanostrain(0.5));
    /// ```
    #[must_use]
    pub const fn fixed_within<const DEGREE: usize, const FACTOR: usize>(
        &self,
        error_limit: Nanostrain,
    ) -> Kernel<DEGREE, FACTOR> {
        match self.try_fixed_within(error_limit) {
            Err(error @ Error::Bound { .. }) => {
                self.fixed_suggested_limits::<DEGREE, FACTOR>(error_limit).stop(&error)
            }
            result => unwrap_const(result),
        }
    }

    /// Compiles the channel to fixed point, for channels that are made at run time.
    ///
    /// # Errors
    /// [`Error::Invalid`] for an input that is wrong, [`Error::Overflow`] for a constant, an intermediate
    /// or a degree that the kernel has no room for.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Error, Gauge, ThermalOutput, fixed, units::*};
    /// # let channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([0.0, 0.0, 0.0, 0.0, 0.0, 1e-9]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// let degree_five: Result<fixed::Kernel, Error> = channel.try_fixed();
    /// assert_eq!(
    ///     degree_five.unwrap_err().to_string(),
    ///     "thermal output degree for the kernel type is 5, this one has room for 4: use one that has more, such as Kernel<5, 3>, in C gw_large_kernel",
    /// );
    /// let kernel: fixed::Kernel<5> = channel.try_fixed()?;
    /// # Ok::<(), Error>(())
    /// ```
    pub const fn try_fixed<const DEGREE: usize, const FACTOR: usize>(
        &self,
    ) -> Result<Kernel<DEGREE, FACTOR>, Error> {
        let (kernel, _) = try_const!(compile_alone(self));
        Ok(kernel)
    }

    /// As [`try_fixed`](Self::try_fixed), with an error limit.
    ///
    /// # Errors
    /// Also [`Error::Bound`] if the bound of either path of the kernel, and what its map leaves out of the
    /// circuit ([`circuit_error`](Self::circuit_error)), are together larger than `error_limit`.
    ///
    /// ```
    /// use gaugewright::{Error, fixed, units::*};
    /// # let channel = gaugewright::example::CHANNEL;
    /// let result: Result<fixed::Kernel, Error> = channel.try_fixed_within(Nanostrain(0.01));
    /// assert!(matches!(result, Err(Error::Bound { .. })));
    /// ```
    pub const fn try_fixed_within<const DEGREE: usize, const FACTOR: usize>(
        &self,
        error_limit: Nanostrain,
    ) -> Result<Kernel<DEGREE, FACTOR>, Error> {
        let (kernel, circuit) = try_const!(compile_alone(self));
        try_const!(kernel.error_bound().check(error_limit, circuit));
        Ok(kernel)
    }
}

/// The same with a compensating gauge at a temperature of its own.
impl Channel {
    /// Compiles a channel with [`compensated_by`](Self::compensated_by) to fixed point, for constants in
    /// firmware.
    ///
    /// # Panics
    /// Where [`try_compensated_fixed`](Self::try_compensated_fixed) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, fixed};
    /// static KERNEL: fixed::CompensatedKernel = CHANNEL.compensated_fixed();
    /// ```
    #[must_use]
    pub const fn compensated_fixed<const DEGREE: usize, const FACTOR: usize>(
        &self,
    ) -> CompensatedKernel<DEGREE, FACTOR> {
        unwrap_const(self.try_compensated_fixed())
    }

    /// As [`compensated_fixed`](Self::compensated_fixed), and insists on an error bound.
    ///
    /// # Panics
    /// Where [`try_compensated_fixed_within`](Self::try_compensated_fixed_within) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED as CHANNEL, fixed, units::*};
    /// static KERNEL: fixed::CompensatedKernel = CHANNEL.compensated_fixed_within(Nanostrain(0.6));
    /// ```
    #[must_use]
    pub const fn compensated_fixed_within<const DEGREE: usize, const FACTOR: usize>(
        &self,
        error_limit: Nanostrain,
    ) -> CompensatedKernel<DEGREE, FACTOR> {
        match self.try_compensated_fixed_within(error_limit) {
            Err(error @ Error::Bound { .. }) => {
                self.compensated_fixed_suggested_limits::<DEGREE, FACTOR>(error_limit).stop(&error)
            }
            result => unwrap_const(result),
        }
    }

    /// Compiles a channel with [`compensated_by`](Self::compensated_by) to fixed point, at run time.
    ///
    /// # Errors
    /// As [`try_fixed`](Self::try_fixed), and [`Error::Invalid`] where there is no compensating gauge with a
    /// temperature of its own.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, CompensatingGauge, Converter, Error, Gauge, ThermalOutput, fixed, units::*};
    /// use gaugewright::error::Field;
    /// # let gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// # let channel = Channel::new(gauge, Bridge::half_compensated(Ohms(120.0), Ohms(0.5)),
    /// #     Converter::bipolar(24, Ratio(0.01)));
    /// let none: Result<fixed::CompensatedKernel, Error> = channel.try_compensated_fixed();
    /// assert!(matches!(none, Err(Error::Invalid { field: Field::CompensatingGauges, .. })));
    /// let kernel: fixed::CompensatedKernel =
    ///     channel.compensated_by(CompensatingGauge::new(gauge)).try_compensated_fixed()?;
    /// # Ok::<(), Error>(())
    /// ```
    pub const fn try_compensated_fixed<const DEGREE: usize, const FACTOR: usize>(
        &self,
    ) -> Result<CompensatedKernel<DEGREE, FACTOR>, Error> {
        let (kernel, _) = try_const!(compile_compensated(self));
        Ok(kernel)
    }

    /// As [`try_compensated_fixed`](Self::try_compensated_fixed), with an error limit.
    ///
    /// # Errors
    /// Also [`Error::Bound`] if the error limit is exceeded.
    ///
    /// ```
    /// use gaugewright::{Error, fixed, units::*};
    /// # let channel = gaugewright::example::COMPENSATED;
    /// let result: Result<fixed::CompensatedKernel, Error> =
    ///     channel.try_compensated_fixed_within(Nanostrain(0.01));
    /// assert!(matches!(result, Err(Error::Bound { .. })));
    /// ```
    pub const fn try_compensated_fixed_within<const DEGREE: usize, const FACTOR: usize>(
        &self,
        error_limit: Nanostrain,
    ) -> Result<CompensatedKernel<DEGREE, FACTOR>, Error> {
        let (kernel, circuit) = try_const!(compile_compensated(self));
        try_const!(kernel.error_bound().check(error_limit, circuit));
        Ok(kernel)
    }
}

suggested_limits!(fixed_suggested_limits, whole, "try_fixed_within");
suggested_limits!(compensated_fixed_suggested_limits, compensated_whole, "try_compensated_fixed_within");

/// The bound of a channel in nanostrain, its circuit's share included; infinite if it does not compile.
const fn whole<const DEGREE: usize, const FACTOR: usize>(channel: &Channel) -> f64 {
    let Ok((kernel, circuit)) = compile_alone::<DEGREE, FACTOR>(channel) else { return f64::INFINITY };
    Analysis::of(&kernel, None, Causes::ALL).max() + circuit * 1e9
}

const fn compensated_whole<const DEGREE: usize, const FACTOR: usize>(channel: &Channel) -> f64 {
    let Ok((kernel, circuit)) = compile_compensated::<DEGREE, FACTOR>(channel) else { return f64::INFINITY };
    let second = Some(kernel.second.curve());
    Analysis::of(&kernel.kernel, second, Causes::ALL).max() + circuit * 1e9
}

const fn compile<const DEGREE: usize, const FACTOR: usize>(
    model: &CodeModel,
) -> Result<Kernel<DEGREE, FACTOR>, Error> {
    const { assert!(DEGREE >= 1 && DEGREE <= 5, "a kernel has room for degree 1 to 5") };
    const { assert!(FACTOR >= 1 && FACTOR <= 3, "a kernel has room for a gauge factor of degree 1 to 3") };
    try_const!(fits(Quantity::ThermalOutputDegree, model.thermal.degree() as f64, DEGREE as f64));
    try_const!(fits(Quantity::GaugeFactorDegree, model.factor.degree() as f64, FACTOR as f64));

    let range = try_const!(Range::of(model.temperatures));
    let (middle, half) = (range.middle, range.half);
    let factor = model.factor.substitute(middle, half);
    let thermal = model.thermal.substitute(middle, half);
    let factor_middle = factor.coefficients()[0];

    let codes = InputRange::new(model.window.0, model.window.1);
    let code_scale = codes.scale_factor();
    // d is zero in the middle of the window, which need not be a whole code.
    let zero = (codes.low() as i64 - model.base as i64) as f64 + TWO_31 / code_scale as f64;
    let (map, offset) = model.map.recentred(zero);
    let thermal = thermal.plus(&Polynomial::constant(-offset));

    let gain = map.gain / factor_middle / code_scale as f64 * TWO_34 * TWO_32;
    try_const!(gain_fits(gain, TWO_31 - 1.0));

    let mut kernel = Kernel {
        temperatures: range.span,
        codes,
        code_scale,
        strain_limit: match model.strain_limit {
            Some(limit) => nearest(limit * TWO_34),
            None => i32::MAX,
        },
        temperature_scale: range.scale,
        bits: model.bits as u8,
        flags: Flags::CLEAR,
        gain: nearest(gain),
        curvature: try_const!(constant(
            Quantity::BridgeCurvature,
            -map.curvature / code_scale as f64 * TWO_32 * TWO_32,
        )),
        factor: [0; FACTOR],
        thermal: [0; DEGREE],
        thermal_offset: 0,
    };

    // Polynomials: every product halves, so each power's constant is doubled once more.
    let mut doubled = TWO_32;
    let mut k = 0;
    while k < FACTOR {
        doubled *= 2.0;
        let change = factor.coefficients()[k + 1] / factor_middle;
        kernel.factor[FACTOR - 1 - k] =
            try_const!(constant(Quantity::GaugeFactorConstant, -change * doubled));
        k += 1;
    }
    (kernel.thermal, kernel.thermal_offset) =
        try_const!(thermal_constants(&thermal.times(-1.0), factor_middle, DROPPED_BY_READING));

    try_const!(Analysis::check_fit(&kernel, None));
    Ok(kernel)
}

/// Thermal output in the kernel's scale: every product halves, so each power's constant is doubled once
/// more.
const fn thermal_constants<const DEGREE: usize>(
    thermal: &Polynomial,
    factor_middle: f64,
    dropped: f64,
) -> Result<([i32; DEGREE], i32), Error> {
    let mut descending = [0; DEGREE];
    let mut doubled = TWO_34;
    let mut k = 0;
    while k < DEGREE {
        doubled *= 2.0;
        let coefficient = thermal.coefficients()[k + 1] / factor_middle;
        descending[DEGREE - 1 - k] =
            try_const!(constant(Quantity::ThermalOutputConstant, coefficient * doubled));
        k += 1;
    }
    let offset = thermal.coefficients()[0] / factor_middle * TWO_34;
    Ok((descending, try_const!(constant(Quantity::ThermalOutputConstant, offset + dropped))))
}

/// A temperature range as the kernels normalise it: position -1 to (almost) 1.
struct Range {
    span: InputRange,
    scale: u16,
    /// Celsius at position 0, and per position.
    middle: f64,
    half: f64,
}

impl Range {
    const fn of((low, high): (i32, i32)) -> Result<Self, Error> {
        let step = 1.0 / 1_048_576.0;
        let width = (high as i64 - low as i64) as f64;
        let scale = (TWO_32 - 1.0) / width;
        if !(scale >= 1.0 && scale < 65_536.0) {
            // Either nothing lies between the ends, or less than a sixteenth of a degree does.
            return Err(Error::Invalid {
                field: Field::TemperatureWidth,
                value: width * step,
                low: 65_536.0 * step,
                high: 4095.0,
            });
        }
        let span = InputRange::new(low, high);
        let scale = span.scale_factor() as u16;
        let half = TWO_31 / scale as f64 * step;
        Ok(Self { span, scale, middle: low as f64 * step + half, half })
    }
}

/// A kernel of one temperature, and what the map leaves out of the circuit, a plain strain.
const fn compile_alone<const DEGREE: usize, const FACTOR: usize>(
    channel: &Channel,
) -> Result<(Kernel<DEGREE, FACTOR>, f64), Error> {
    try_const!(channel.check_compensating(0.0));
    let model = try_const!(CodeModel::of(channel));
    Ok((try_const!(compile(&model)), model.circuit_error))
}

const fn compile_compensated<const DEGREE: usize, const FACTOR: usize>(
    channel: &Channel,
) -> Result<(CompensatedKernel<DEGREE, FACTOR>, f64), Error> {
    try_const!(channel.check());
    try_const!(channel.check_compensating(1.0));
    let model = try_const!(CodeModel::of(channel));
    let kernel: Kernel<DEGREE, FACTOR> = try_const!(compile(&model));
    let Some(second) = model.second else {
        return Err(Error::Invalid { field: Field::CompensatingGauges, value: 0.0, low: 1.0, high: 1.0 });
    };
    try_const!(fits(Quantity::ThermalOutputDegree, second.thermal.degree() as f64, DEGREE as f64));
    let own = try_const!(Range::of(model.temperatures));
    let factor_middle = model.factor.at(own.middle);
    let range = try_const!(Range::of(second.temperatures));
    let thermal = second.thermal.substitute(range.middle, range.half);
    let (descending, offset) = try_const!(thermal_constants(&thermal, factor_middle, 0.0));
    let second = Second {
        temperatures: range.span,
        thermal: descending,
        thermal_offset: offset,
        temperature_scale: range.scale,
    };
    try_const!(Analysis::check_fit(&kernel, Some(second.curve())));
    Ok((CompensatedKernel { kernel, second }, model.circuit_error))
}

const fn constant(quantity: Quantity, value: f64) -> Result<i32, Error> {
    try_const!(fits(quantity, value, TWO_31 - 1.0));
    Ok(nearest(value))
}
