//! From the raw codes of a strain-gauge bridge and a temperature to mechanical strain.
//!
//! A foil gauge on a part that gets hot or cold shows *indicated* strain: that of the load, plus *thermal
//! output*, its own answer to temperature, all scaled by a gauge factor that drifts. This crate takes a
//! channel as an engineer describes it (gauge package, bridge and leads, converter, balance, specimen),
//! checks it, and compiles it to a few dozen bytes of constants from which every sample is corrected in a
//! few dozen instructions, with the error bounded.
//!
//! ```
//! use gaugewright::fixed::{self, Temperature};
//! use gaugewright::units::*;
//! use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput};
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
//! // When the thermometer speaks:
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
//! | describe a channel | [`Channel`], from a [`Gauge`] with its [`ThermalOutput`], a [`Bridge`], a [`Converter`] (or an [`Instrument`] that shows strain) |
//! | correct with integers only | [`fixed`]: [`Channel::fixed`], [`fixed::Kernel`], [`fixed::Point`], [`fixed::LinearPoint`] |
//! | correct in `f32` or `f64` | [`float`]: [`Channel::float32`], [`Channel::float64`] |
//! | correct a half bridge with two temperatures | [`Channel::compensated_by`], [`fixed::CompensatedKernel`] |
//! | know the error | [`fixed::Kernel::error_bound`] with its [`Parts`], [`Channel::circuit_error`]; a missed promise has a [`Remedy`] |
//! | choose a circuit | [`Circuit`], with a drawing of each |
//! | calibrate with a shunt | [`Shunt`], [`Channel::span_correction`] |
//! | look after the wiring | [`Channel::diagnose`], [`Channel::lead_effect`] |
//! | sense the temperature | [`temperature`]: platinum resistors, thermocouples, thermistors |
//! | combine three grids | [`rosette`]: principal strains and direction, stresses, each with its uncertainty |
//! | measure thermal output or gauge factor on one's own part | [`fit`], which makes a package from a chamber run |
//! | describe how a material expands | [`expansion`]: a coefficient, a polynomial or a table |
//! | choose the gauge for a part | [`matching`]: the curve on a specimen, and which match leaves the least |
//! | see which corrections matter | [`significance`]: what leaving out each step costs, [`Channel::significance`] |
//! | do without a package curve | [`prediction`]: thermal output from foil and expansions, and back |
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
#![cfg_attr(doctest, doc = include_str!("../README.md"))]
#![no_std]
#![cfg_attr(not(feature = "ffi"), forbid(unsafe_code))]
#![deny(unsafe_code)]
#![deny(missing_docs)]

mod bridge;
mod channel;
mod converter;
mod diagnosis;
mod error;
pub mod expansion;
pub mod fit;
// The one room with unsafe code: what C calls.
#[cfg(feature = "ffi")]
#[allow(unsafe_code)]
pub mod ffi;
mod flags;
mod formats;
mod gauge;
mod interpolation;
mod interval;
mod kernel;
pub mod matching;
mod polynomial;
pub mod prediction;
pub mod reference;
pub mod rosette;
mod search;
mod shunt;
mod signal;
pub mod significance;
pub mod temperature;
pub mod uncertainty;
pub mod units;

pub use bridge::{Bridge, Circuit, LeadEffect};
pub use channel::{Channel, CompensatingGauge, Correction, CurveOffset, MismatchScale};
pub use converter::{Converter, Instrument};
pub use diagnosis::{Diagnosis, Fault, Finding, Verdict};
pub use error::{BuildMessage, Error, ErrorPart, Field, KernelPath, Quantity, Remedy};
pub use gauge::{Gauge, ThermalOutput};
pub use kernel::{ErrorBound, Flags, Parts, Reading, fixed, float};
pub use polynomial::Polynomial;
pub use shunt::{Arm, Shunt, ShuntEffect};
