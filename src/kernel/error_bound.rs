//! A kernel's error bound as a value with named parts.

use super::codes::LeftOut;
use crate::error::{Error, ErrorPart, KernelPath};
use crate::units::Nanostrain;

/// The error bound of a kernel and what it is made of, in nanostrain: the largest distance between a
/// reading and the exact model, for every code and temperature in the declared ranges.
///
/// The parts are bounds of their own, each with the other causes left out; the whole can be a little
/// less or more than their sum, because causes multiply.
///
/// Printed, it is a table:
///
/// ```
/// use gaugewright::units::*;
/// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed};
/// use gaugewright::kernel::ErrorBound;
///
/// const STRUT: Channel = Channel::new(
///     Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07)).thermal_output(
///         ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
///             .between(Celsius(-80.0), Celsius(120.0)),
///     ),
///     Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
///     Converter::bipolar(24, Ratio(1.0 / 128.0)),
/// )
/// .strain_within(Microstrain(5_000.0));
/// static KERNEL: fixed::Kernel = STRUT.fixed_within(Nanostrain(0.5));
///
/// // A thermometer that gives sixteenths of a degree is off by half of that at least.
/// const BOUND: ErrorBound = KERNEL.error_bound_with_temperature(Celsius(1.0 / 32.0));
/// assert_eq!(
///     BOUND.to_string(),
///     "\
/// nanostrain     whole  constants  operations  reciprocal   output  temperature
/// one call     496.798      0.073       0.202      0.0000    0.058      496.482
/// split        496.778      0.073       0.223      0.0000    0.058      496.482",
/// );
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ErrorBound {
    /// Of the one-call path, `Kernel::reading`.
    pub reading: Parts,
    /// Of the split path, `Kernel::at` followed by `OperatingPoint::reading`.
    pub point: Parts,
}

/// One path's bound and its parts.
///
/// ```
/// use gaugewright::{example::CHANNEL, fixed};
/// static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// let parts = KERNEL.error_bound().reading;
/// let sum = parts.constants.0 + parts.operations.0 + parts.reciprocal.0 + parts.output.0 + parts.temperature.0;
/// assert!(sum > 0.99 * parts.total.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Parts {
    /// All causes together.
    pub total: Nanostrain,
    /// Rounding of the channel's constants.
    pub constants: Nanostrain,
    /// Rounding of every operation of the path but the last. In fixed point these are products, rounded down, less
    /// the mean of what they drop.
    pub operations: Nanostrain,
    /// What a reciprocal computed by products leaves out.
    pub reciprocal: Nanostrain,
    /// Rounding of the last operation, to the format of strain.
    pub output: Nanostrain,
    /// What an error of the temperature makes of strain within the declared range: zero unless an error of the temperature was given.
    pub temperature: Nanostrain,
}

impl Parts {
    /// From bounds in the order of [`Causes::EACH`].
    pub(super) const fn of([total, constants, operations, reciprocal, output]: [f64; Causes::COUNT]) -> Self {
        Self {
            total: Nanostrain(total),
            constants: Nanostrain(constants),
            operations: Nanostrain(operations),
            reciprocal: Nanostrain(reciprocal),
            output: Nanostrain(output),
            temperature: Nanostrain(0.0),
        }
    }

    const fn with_temperature(self, temperature: f64) -> Self {
        Self { total: Nanostrain(self.total.0 + temperature), temperature: Nanostrain(temperature), ..self }
    }

    const fn dominant(&self, left_out: LeftOut) -> ErrorPart {
        let mut largest = (ErrorPart::Circuit, left_out.circuit * 1e9);
        let parts = [
            (ErrorPart::GaugeFactor, left_out.factor * 1e9),
            (ErrorPart::Constants, self.constants.0),
            (ErrorPart::Operations, self.operations.0),
            (ErrorPart::Reciprocal, self.reciprocal.0),
            (ErrorPart::Output, self.output.0),
            (ErrorPart::Temperature, self.temperature.0),
        ];
        let mut k = 0;
        while k < parts.len() {
            if parts[k].1 > largest.1 {
                largest = parts[k];
            }
            k += 1;
        }
        largest.0
    }
}

impl ErrorBound {
    /// The larger bound of the two paths: what holds whichever is used.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let bound = KERNEL.error_bound();
    /// assert!(bound.max().0 >= bound.reading.total.0);
    /// ```
    #[must_use]
    pub const fn max(&self) -> Nanostrain {
        let (reading, point) = (self.reading.total.0, self.point.total.0);
        // A NaN must not pass for small.
        Nanostrain(if reading <= point { point } else { reading })
    }

    /// Both paths with what an error of the temperature makes of strain, in nanostrain.
    pub(super) const fn with_temperature(self, temperature: f64) -> Self {
        Self {
            reading: self.reading.with_temperature(temperature),
            point: self.point.with_temperature(temperature),
        }
    }

    /// The error where the bound, together with what the model leaves out, is larger than the error limit. (The parts are for
    /// its message alone: whether it is larger is seen from `max_bound` of the kernel, at a fifth of the work.)
    pub(super) const fn beyond(&self, limit: Nanostrain, left_out: LeftOut) -> Error {
        let bound = Nanostrain(self.max().0 + left_out.nanostrain());
        let (path, parts) = if self.reading.total.0 > self.point.total.0 {
            (KernelPath::OneCall, &self.reading)
        } else {
            (KernelPath::Split, &self.point)
        };
        Error::Bound { limit, bound, path, dominant: parts.dominant(left_out) }
    }
}

impl core::fmt::Display for ErrorBound {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("nanostrain     whole  constants  operations  reciprocal   output  temperature")?;
        for (name, parts) in [("one call", self.reading), ("split", self.point)] {
            write!(
                f,
                "\n{name:<12} {:>7.3}  {:>9.3}  {:>10.3}  {:>10.4}  {:>7.3}  {:>11.3}",
                parts.total.0,
                parts.constants.0,
                parts.operations.0,
                parts.reciprocal.0,
                parts.output.0,
                parts.temperature.0
            )?;
        }
        Ok(())
    }
}

/// Which causes of error an analysis counts.
#[derive(Clone, Copy)]
pub(super) struct Causes {
    pub constants: bool,
    pub operations: bool,
    pub reciprocal: bool,
    pub output: bool,
}

impl Causes {
    const NONE: Self = Self { constants: false, operations: false, reciprocal: false, output: false };
    pub const ALL: Self = Self { constants: true, operations: true, reciprocal: true, output: true };
    pub const COUNT: usize = 5;
    /// All together, then each alone.
    pub const EACH: [Self; Self::COUNT] = [
        Self::ALL,
        Self { constants: true, ..Self::NONE },
        Self { operations: true, ..Self::NONE },
        Self { reciprocal: true, ..Self::NONE },
        Self { output: true, ..Self::NONE },
    ];
}

/// `(1 - u)` reciprocal cut after `u^(n - 1)`: what is left out over what is given, for `|u|` up to
/// `magnitude`.
pub(super) const fn remainder(magnitude: f64, n: usize) -> f64 {
    let mut power = 1.0;
    let mut k = 0;
    while k < n {
        power *= magnitude;
        k += 1;
    }
    // A little more than the rounding of these few operations.
    power / (1.0 - power) * (1.0 + 1e-14)
}
