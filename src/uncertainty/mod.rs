//! How good a strain is: an uncertainty budget for each reading, by what it comes from (GUM, JCGM 100:2008, first
//! order).
//!
//! With `y` the signal of the bridge (gauge factor times indicated strain), `TO` thermal output as a signal and `F` the
//! gauge factor at temperature, strain is `e = (y - TO(T)) / F(T)`. One standard uncertainty more of an input moves it by
//!
//! | input | moves strain by |
//! |---|---|
//! | gauge factor, relative `u` | `-(e + share of TO that is forced by the specimen's expansion / F) u` |
//! | its slope | the same through `F(T)` |
//! | temperature of the gauge | `-(TO'(T) + e F'(T)) u / F`: **one** input of both corrections, whose two parts add up with their signs |
//! | temperature at balance | `TO'(T_b) u / F` |
//! | thermometer, the same error at balance and now | the sum of the two lines before |
//! | thermal output, as stated | `-u F_stated / F` |
//! | slope of thermal output | `-u (T - T_b) F_stated / F` |
//! | expansion of the specimen less that of the matched material | `-(T - T_b) u`, with the factors of [`MismatchScale`](crate::channel::MismatchScale) |
//! | lead resistance, Poisson ratio | what they do to the bridge: proportional to `y`, and a little to `y^2` |
//! | temperature of the leads | less their own thermal output, and a part of `y` |
//! | output ratio (excitation, reference, gain) | `y (1 + h y) u / F`, and the same of the unbalance |
//! | noise of a sample, of the balance | `(1 + h y)^2 u / F` |
//! | rounding of a sample to a code | the same with half a code: rectangular, `0.5 / sqrt(3)` codes. It counts unless [it is set to 0](StandardUncertainties::quantisation) |
//! | kernel, circuit | their proven bounds `a`: rectangular, `a / sqrt(3)` (GUM 4.3.7) |
//!
//! `h` is the curvature of the bridge's signal. So each is `a + b e + c e^2` at a temperature. The inputs are taken as independent of each
//! other; what two temperatures share goes into the thermometer. The combined standard uncertainty is the root of the sum
//! of squares, the bounds of kernel and circuit among them. That is the usual way, but they are bounds:
//! whoever wants them as such adds [`fixed::Kernel::error_bound`](crate::fixed::Kernel::error_bound) to the expanded uncertainty.
//!
//! Where the gauge factor refers to the unloaded gauge or the free foil ([`GaugeFactorBasis`](crate::channel::GaugeFactorBasis)), thermal
//! output is also a factor of `F(T)`, and each effect has its part in it: `e` times the change of thermal output over the unloaded gauge's
//! resistance is added to the first part of a row. A specimen that expands more also forces more strain on the
//! foil, so that the free foil stays what it is. The coefficients of the forced strain itself are taken as exact.
//!
//! # On the device
//!
//! What depends on the circuit alone is reduced once to a triangle of three rows, and with the rest once a temperature
//! ([`UncertaintyKernel::at`]); a sample then costs three squares and a root ([`UncertaintyPoint`], [`FixedUncertaintyPoint`]).
//!
//! # What is left out
//!
//! Second order (a percent of the standard uncertainty where gauge factor or slope are known to ten percent), misalignment,
//! adhesive, creep, self-heating, and the transverse sensitivity, which does nothing in the uniaxial field that the gauge
//! factor was calibrated in. A [`CompensatedChannel`](crate::CompensatedChannel) has no budget.
//!
//! ```
//! use gaugewright::uncertainty::{Input, StandardUncertainties};
//! use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
//!
//! const STRUT: Channel = Channel::new(
//!     Gauge::new(GaugeFactor(2.065))
//!         .gauge_factor_slope(PercentPer100C(1.07))
//!         .thermal_output(
//!             ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
//!                 .stated_for(GaugeFactor(2.0))
//!                 .between(Celsius(-80.0), Celsius(120.0)),
//!         ),
//!     Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
//!     Converter::bipolar(24, Ratio(1.0 / 128.0)),
//! )
//! .strain_within(Microstrain(5_000.0));
//! static KERNEL: fixed::Kernel = STRUT.fixed();
//!
//! let inputs = StandardUncertainties::for_channel(STRUT)
//!     .of_gauge_factor(Percent(0.5))
//!     .of_temperature(Celsius(0.3))
//!     .of_thermal_output_slope(MicrostrainPerCelsius(0.15))
//!     .of_lead_resistance(Ohms(0.05))
//!     .noise(40.0)
//!     .kernel_bound(KERNEL.error_bound().max());
//!
//! // In the laboratory: everything by name.
//! let budget = inputs.budget(Microstrain(1_200.0), Celsius(-60.0))?;
//! println!("{budget}");
//! let expanded = budget.expanded(Percent(95.0))?;
//! assert!(expanded.uncertainty.0 > 1.9 * budget.combined().0);
//! assert!(budget.contribution(Input::ThermalOutputSlope).uncertainty.0 > 10.0);
//!
//! // On the device: once, on each temperature update, every sample.
//! let kernel = inputs.try_float32::<0>()?;
//! let point = kernel.at(Celsius(-60.0))?;
//! assert!((point.standard(1_200e-6) * 1e6 - budget.combined().0 as f32).abs() < 1e-3);
//! # Ok::<(), gaugewright::Error>(())
//! ```
#![doc = include_str!("design.md")]

mod budget;
mod circuit;
mod fit;
mod fixed;
mod input;
mod inputs;
mod kernel;
mod product;
mod rows;

pub use budget::{Budget, Contribution, Expanded, welch_satterthwaite};
pub use fixed::FixedUncertaintyPoint;
pub use input::Input;
pub use inputs::StandardUncertainties;
pub use kernel::{UncertaintyKernel, UncertaintyPoint};
