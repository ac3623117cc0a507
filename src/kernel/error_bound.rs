//! A kernel's error bound as a value with named parts.

use crate::error::Error;
use crate::units::Nanostrain;

/// The error bound of a kernel and what it is made of, in nanostrain: the largest distance between a
/// reading and the exact model, for every code and temperature in the declared ranges.
///
/// The parts are bounds of their own, each with the other causes left out; the whole can be a little
/// less or more than their sum, because causes multiply.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, ErrorBound, Gauge, ThermalOutput, fixed, units::*};
/// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
/// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// const BOUND: ErrorBound = KERNEL.error_bound();
/// assert!(BOUND.reading.whole.0 < 0.5 && BOUND.point.whole.0 < 0.5);
/// println!("{BOUND}");
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ErrorBound {
    /// Of the one-call path, `Kernel::reading`.
    pub reading: Parts,
    /// Of the split path, `Kernel::at` followed by `Point::reading`.
    pub point: Parts,
}

/// One path's bound and its parts.
///
/// ```
/// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
/// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
/// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// let parts = KERNEL.error_bound().reading;
/// assert!(parts.constants.0 + parts.operations.0 + parts.reciprocal.0 > 0.99 * parts.whole.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Parts {
    /// All causes together.
    pub whole: Nanostrain,
    /// Rounding of the channel's constants.
    pub constants: Nanostrain,
    /// Rounding of every operation of the path.
    pub operations: Nanostrain,
    /// What a reciprocal computed by products leaves out.
    pub reciprocal: Nanostrain,
}

impl ErrorBound {
    /// The larger bound of the two paths: what holds whichever is used.
    ///
    /// ```
    /// # use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)));
    /// # static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let bound = KERNEL.error_bound();
    /// assert!(bound.larger().0 >= bound.reading.whole.0);
    /// ```
    #[must_use]
    pub const fn larger(&self) -> Nanostrain {
        let (reading, point) = (self.reading.whole.0, self.point.whole.0);
        // A NaN must not pass for small.
        Nanostrain(if reading <= point { point } else { reading })
    }

    /// The promise covers the bound and what the circuit's map leaves out.
    pub(super) const fn within(&self, promised: Nanostrain, circuit: f64) -> Result<(), Error> {
        let bound = Nanostrain(self.larger().0 + circuit * 1e9);
        if bound.0 <= promised.0 { Ok(()) } else { Err(Error::Bound { promised, bound }) }
    }
}

impl core::fmt::Display for ErrorBound {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str("nanostrain     whole  constants  operations  reciprocal")?;
        for (name, parts) in [("one call", self.reading), ("split", self.point)] {
            write!(
                f,
                "\n{name:<12} {:>7.3}  {:>9.3}  {:>10.3}  {:>10.4}",
                parts.whole.0, parts.constants.0, parts.operations.0, parts.reciprocal.0
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
}

impl Causes {
    pub const ALL: Self = Self { constants: true, operations: true, reciprocal: true };
    pub const CONSTANTS: Self = Self { constants: true, operations: false, reciprocal: false };
    pub const OPERATIONS: Self = Self { constants: false, operations: true, reciprocal: false };
    pub const RECIPROCAL: Self = Self { constants: false, operations: false, reciprocal: true };
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
    // A hair more than the rounding of these few operations.
    power / (1.0 - power) * (1.0 + 1e-14)
}
