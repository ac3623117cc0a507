//! From the raw codes of a strain-gauge bridge and a temperature to mechanical strain.
//!
//! A foil gauge on a part that gets hot or cold shows *indicated* strain: that of the load, plus *thermal
//! output*, its own answer to temperature, all scaled by a gauge factor that drifts. This crate takes a
//! channel as an engineer describes it (gauge package, bridge and leads, converter, balance, specimen),
//! checks it, and compiles it to a few dozen bytes of constants from which every sample is corrected in a
//! few dozen instructions, with the error bounded.
//!
//! ```
//! use gaugewright::{fixed::{self, Temperature}, units::*, Bridge, Channel, Converter, Gauge, ThermalOutput};
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
//! .balanced(-12_345.0, Celsius(18.5))
//! .strain_within(Microstrain(5_000.0));
//!
//! // Integers only. Does not compile if the error could exceed half a nanostrain.
//! static KERNEL: fixed::Kernel = STRUT.fixed_within(Nanostrain(0.5));
//!
//! // On each temperature update:
//! let point = KERNEL.at(Temperature::from_millicelsius(-62_500)?);
//! // Every sample:
//! let reading = point.reading(-250_000);
//! assert!(reading.flags.is_clear());
//! println!("{} nanostrain", reading.strain.nanostrain());
//! # Ok::<(), gaugewright::Error>(())
//! ```
//!
//! | to | use |
//! |---|---|
//! | describe a channel | [`Channel`], from a [`Gauge`] with its [`ThermalOutput`], a [`Bridge`], a [`Converter`] (or an [`Instrument`] that shows strain); the rest of it is in [`channel`] |
//! | choose a circuit | [`Circuit`], with a drawing of each |
//! | correct with integers only | [`fixed`]: [`Channel::fixed`], [`fixed::Kernel`], [`fixed::OperatingPoint`], [`fixed::LinearPoint`] |
//! | correct in `f32` or `f64` | [`float`]: [`Channel::float32`], [`Channel::float64`] |
//! | correct a half bridge with two temperatures | [`Channel::compensated_by`], [`fixed::CompensatedKernel`] |
//! | see the error of the arithmetic | [`fixed::Kernel::error_bound`] with its [`Parts`](kernel::Parts), [`Channel::circuit_error`]; [`SuggestedLimits`](kernel::SuggestedLimits) where an error limit is missed |
//! | sense the temperature | [`temperature`]: platinum resistors, thermocouples, thermistors |
//! | combine three grids | [`rosette`]: principal strains and direction, stresses, each with its uncertainty |
//! | calibrate with a shunt | [`installation`]: [`Shunt`](installation::Shunt), [`Channel::span_correction`] |
//! | find faults of the wiring | [`installation`]: [`Channel::diagnose`], [`Channel::lead_effect`] |
//! | choose the gauge for a part | [`commissioning::matching`]: the curve on a specimen, and which match leaves the least |
//! | measure thermal output or gauge factor on one's own part | [`commissioning::fit`], which makes a package from a chamber run |
//! | do without a package curve | [`commissioning::prediction`]: thermal output from foil and expansions, and back |
//! | describe how a material expands | [`commissioning::expansion`]: a coefficient, a polynomial or a table |
//! | see which corrections matter | [`commissioning::significance`]: what leaving out each step costs, [`Channel::significance`] |
//! | know how good the strain is | [`uncertainty`]: a budget for each reading, by what it comes from |
//! | call it from C | the feature `ffi`, with its header and a static library (README, *From C*) |
//! | see every step, or compute the code for a strain | [`reference`](mod@reference) |
//!
//! # What the model leaves out
//!
//! The product of thermal and mechanical change of resistance (1e-4 of the reading near room temperature, up to
//! 3e-3 a hundred degrees from balance, as the demo flight shows), balance at a temperature other than the
//! reference shifting the base resistance (about 1e-4 of the reading), transverse sensitivity in a uniaxial
//! field on a material of the calibration beam's Poisson ratio (zero by definition), self-heating, drift and
//! creep (not correctable from temperature alone).
//!
//! # Caution
//!
//! People can be hurt where strain is measured: on structures, pressure vessels, lifting gear. This crate
//! computes; it does not judge. A strain it gives is no proof that a part is safe. Follow the codes that
//! apply where you are, have the installation and the conclusions checked by a licensed engineer, and never
//! let a corrected reading be the only barrier between a load and a person.
#![doc(test(attr(deny(unused_imports))))]
#![cfg_attr(doctest, doc = include_str!("../README.md"))]
#![no_std]
#![cfg_attr(not(feature = "ffi"), forbid(unsafe_code))]
#![deny(unsafe_code)]
#![deny(missing_docs)]

pub mod channel;
pub mod commissioning;
pub mod error;
#[doc(hidden)]
pub mod example;
// The only module with `unsafe`: the functions that C calls.
#[cfg(feature = "ffi")]
#[allow(unsafe_code)]
pub mod ffi;
pub mod guide;
pub mod installation;
pub mod kernel;
pub mod numeric;
pub mod reference;
pub mod rosette;
mod sample;
pub mod temperature;
pub mod uncertainty;
pub mod units;

pub use channel::{
    Bridge, Channel, Circuit, CompensatedChannel, CompensatingGauge, Correction, Gauge, ThermalOutput,
};
pub use error::Error;
pub use kernel::{fixed, float};
pub use sample::{Converter, Flags, Instrument, Reading};
