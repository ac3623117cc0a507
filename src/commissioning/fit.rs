//! What a bonded gauge really does, fitted from a run of one's own: thermal output from an unloaded run in a chamber,
//! gauge factor against temperature from a loaded one.
//!
//! Points come one at a time and none is kept: each is turned into a triangular factor by plane rotations (Givens), and
//! forgotten. A run of a week takes the memory of a run of an hour ([`ThermalOutputFit`] in `f64`: 1456 bytes, in `f32`:
//! 784), and the normal equations, which would lose half of the digits, are never formed. The temperature is brought to
//! -1 to 1 over a range declared beforehand, and the curve is a sum of Chebyshev polynomials there, which hardly
//! depend on each other; only the finished curve is written out in powers of a degree Celsius.
//!
//! The triangular factor of the highest degree holds those of all lower ones, with their residuals: so the degree is
//! chosen at the end ([`Degree`]), and nothing is read twice.
//!
//! ```
//! use gaugewright::{commissioning::fit::{Degree, Direction, ThermalOutputFit}, units::*};
//! use gaugewright::{Bridge, Channel, Converter, Gauge, fixed};
//!
//! let mut fit = ThermalOutputFit::<f64>::between(Celsius(-60.0), Celsius(90.0))?;
//! for step in 0..=30 {
//!     // Read with the instrument at a gauge factor of 2.0, after a dwell at each temperature.
//!     let (up, down) = (-55.0 + 4.5 * f64::from(step), 80.0 - 4.5 * f64::from(step));
//!     let noise = [0.6, -0.9, 0.1, 0.4, -0.5][step as usize % 5];
//!     let reading = |t: f64| Microstrain(2.34 * t - 0.0534 * t * t + 2.3e-4 * t * t * t - 31.0);
//!     fit.observe(Direction::Heating, Celsius(up), Microstrain(reading(up).0 + noise))?;
//!     fit.observe(Direction::Cooling, Celsius(down), Microstrain(reading(down).0 - noise + 2.0))?;
//! }
//! let curve = fit.solve(Degree::by_f_test(Percent(1.0)))?.balanced_at(Celsius(21.0))?;
//! assert_eq!(curve.degree(), 3);
//! assert!(curve.residual_standard_deviation().0 < 1.5);
//! assert!(curve.confidence_band(Celsius(-50.0), Percent(95.0))?.0 < 1.5);
//! assert!(curve.at(Celsius(120.0)).is_err()); // never beyond the points
//! assert!((fit.hysteresis(3)?.largest.0 - 2.0).abs() < 1.0);
//!
//! let gauge = Gauge::new(GaugeFactor(2.065)).thermal_output(curve.thermal_output(GaugeFactor(2.0))?);
//! let channel = Channel::new(gauge, Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)), Converter::bipolar(24, Ratio(1.0 / 128.0)))
//!     .balanced(1_234.5, Celsius(19.0))
//!     .strain_within(Microstrain(3_000.0));
//! let kernel: fixed::Kernel = channel.try_fixed()?;
//! # Ok::<(), gaugewright::Error>(())
//! ```
//!
//! Readings of the chamber run are *indicated* strain, at the gauge factor that is then given to
//! [`FittedThermalOutput::thermal_output`]. A kernel gives them too: that of a channel with
//! [`Correction::None`](crate::Correction::None), whose thermal output, not known yet, is any curve that has the range.
//!
//! # What the numbers assume
//!
//! Scatter that is independent from point to point, the same everywhere (or in proportion to the uncertainties given),
//! nearly normal, and no error in temperature beyond what the scatter shows. Bands are for one temperature at a
//! time, and for the degree as if it had been known. In runs simulated through bridge, converter, fit and compiled kernel, without
//! hysteresis and for a known degree, the 95 % confidence band held the true correction in 94 to 96 % of 1000
//! runs, at each of seven temperatures. Not in them: what all points share, such as the error of the
//! thermometer or of the instrument's span. Points read every second while the chamber drifts are not independent: read
//! one after each dwell, or average.
//!
//! # Digits
//!
//! The arithmetic is checked with the nine linear sets of the NIST Statistical Reference Datasets. Digits are those of
//! the worst coefficient and of the worst standard deviation that agree with the certified value (log relative error, 15 at
//! most), with the points in the order of the file, and for the coefficients also the fewest of 1000 random orders.
//!
//! | set | terms | coefficients, `f64` | fewest of 1000 orders | deviations, `f64` | coefficients, `f32` |
//! |---|---|---|---|---|---|
//! | Norris | 2 | 11.9 | 11.8 | 13.7 | 2.8 |
//! | Pontius | 3 | 14.0 | 11.7 | 12.5 | 2.9 |
//! | Wampler1 | 6 | 9.4 | 8.8 | 9.6 | 0.5 |
//! | Wampler2 | 6 | 12.9 | 12.0 | 14.4 | 3.9 |
//! | Wampler3 | 6 | 9.5 | 8.7 | 13.7 | 0.4 |
//! | Wampler4 | 6 | 9.4 | 8.8 | 14.5 | 0.6 |
//! | Wampler5 | 6 | 8.0 | 7.6 | 14.5 | 0.0 |
//! | Longley | 7 | 11.6 | 10.4 | 12.1 | 2.6 |
//! | Filip | 11 | 14.3 | 13.0 | 13.7 | 5.8 |
//!
//! The coefficients of the Wampler sets are 1 beside values of three million, whose last place in double precision is worth
//! 5e-10: nine digits can be expected, and three orders of Wampler3 in a hundred give 8.7 to 9. In `f32` the last place is
//! worth 0.25, and nothing is left. Thermal output is a milder case: a few
//! thousand microstrain, of which the last place of `f32` is worth 0.0005. There a curve in `f32` differs from one in `f64` by 0.01
//! microstrain at most, after 30 points or 200 000 (sampled: five runs each of nine lengths).
//!
//! Norris and Wampler2 also pass through [`ThermalOutputFit`]. The others go through its arithmetic alone: their
//! values or variables exceed a million microstrain or 2047 C (Pontius, Wampler1, 3, 4 and 5), or they have other terms than a
//! polynomial of degree five (Longley, Filip).
//!
//! Declare the range that the run will have. The highest power loses digits with the declared range over that of the points, to
//! the power of the degree. For degree five a range more than 32 times as wide in `f64`, or 4 times in `f32`, is refused
//! ([`Field::FitRange`](crate::error::Field::FitRange)), and more for lower degrees; at the limit eight digits are left in
//! `f64` and three in `f32`.
#![doc = include_str!("fit/design.md")]

/// An example on the straight line through the points of a ready fit.
macro_rules! example {
    ($fit:ident: $($line:literal),+) => {
        concat!(
            "```\n# #[allow(unused_imports)]\nuse gaugewright::{commissioning::fit::Degree, units::*};\n",
            "# let curve = gaugewright::example::", stringify!($fit), "()?.solve(Degree::Exactly(1))?;\n",
            $($line, "\n",)+
            "# Ok::<(), gaugewright::Error>(())\n```"
        )
    };
}

mod choice;
mod curve;
mod gauge_factor;
mod hysteresis;
mod run;
mod solution;
#[cfg(test)]
mod strd;
mod thermal_output;
mod triangle;

pub use choice::Degree;
pub use gauge_factor::{FittedGaugeFactor, GaugeFactorFit};
pub use hysteresis::Hysteresis;
pub use run::Direction;
pub use thermal_output::{FittedThermalOutput, ThermalOutputFit};
