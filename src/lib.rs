//! From the raw codes of a strain-gauge bridge and a temperature to mechanical strain.
//!
//! A foil gauge on a part that gets hot or cold shows *indicated* strain: the strain of the load, plus *thermal
//! output*, which is the gauge's own response to temperature, all of it scaled by a gauge factor that changes with temperature
//! too. Describe a channel once: gauge package, bridge and leads, converter, balance, specimen. The library checks
//! it and compiles it, together with the firmware, to a few dozen bytes of integers. With these it corrects every
//! sample, without division, floating point or allocation, and with a bound on the error that is part of the build.
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
//! // Does not compile if the error could exceed half a nanostrain.
//! static KERNEL: fixed::Kernel = STRUT.fixed_within(Nanostrain(0.5));
//!
//! // On each temperature update:
//! let point = KERNEL.at(Temperature::from_millicelsius(-62_500)?);
//! // Every sample:
//! let reading = point.reading(299_224);
//! assert!(reading.flags.is_clear());
//! assert_eq!(reading.strain.nanostrain(), 1_000_000); // indicated: 564 microstrain
//! # Ok::<(), gaugewright::Error>(())
//! ```
//!
//! # Guides
//!
//! | to | read |
//! |---|---|
//! | see how the correction works, step by step | [how the correction works](guide::correction) |
//! | get a corrected reading in firmware in Rust | [getting started in firmware](guide::getting_started) |
//! | do the same in C | [from C](guide::from_c) |
//! | choose a circuit: where each gauge sits, and what the bridge rejects | [choosing a circuit](guide::circuits) |
//! | sense the temperature of the gauge | [temperature sensing](guide::temperature) |
//! | choose a gauge, measure its curve, calibrate, check the wiring | [commissioning a gauge](guide::commissioning) |
//! | find out how good a strain is | [how good is the number](guide::accuracy) |
//! | know formats, cost and bits on microcontrollers | [numbers on microcontrollers](guide::microcontrollers) |
//! | know what the model leaves out | [limits of the model](guide::limits) |
//!
//! # Modules
//!
//! | to | use |
//! |---|---|
//! | describe a channel | [`Channel`] of a [`Gauge`] with its [`ThermalOutput`], a [`Bridge`] and a [`Converter`], or of an [`Instrument`] that shows strain; its details are in [`channel`] |
//! | correct with integers only | [`fixed`]: [`Channel::fixed`], [`fixed::Kernel`], [`fixed::OperatingPoint`], [`fixed::LinearPoint`] |
//! | take zero and span on site, in integers | [`Channel::fixed_adjustable`], [`fixed::AdjustableKernel`] |
//! | correct in `f32` or `f64` | [`float`]: [`Channel::float32`], [`Channel::float64`] |
//! | correct a half bridge with two temperatures | [`Channel::compensated_by`], [`fixed::CompensatedKernel`] |
//! | see the error of the arithmetic | [`fixed::Kernel::error_bound`], [`Channel::circuit_error`], and [`kernel`] for suggested limits |
//! | sense the temperature | [`mod@temperature`]: platinum resistors, thermocouples, thermistors |
//! | combine several grids | [`rosette`]: principal strains, direction and stresses, each with its uncertainty |
//! | calibrate with a shunt, find faults of the wiring; both on the device in integers | [`installation`] |
//! | choose, predict or measure a curve; find out which corrections matter | [`commissioning`] |
//! | state the uncertainty of a reading | [`uncertainty`] |
//! | see every step, or compute the code for a strain | [`reference`](mod@reference) |
//! | read converters and thermometers over `embedded-hal` | the features `embedded-hal`, `embedded-hal-async` and `heapless`: `device::acquisition` |
//! | keep a kernel where it outlives the power, and prove it whole at each start | the feature `record`: `device::record` |
//! | call it from C | the feature `ffi`, a header and a static library |
//!
//! # Caution
//!
//! People can be hurt where strain is measured: on structures, pressure vessels and lifting gear. This library computes
//! strain and does not assess safety. A strain that it gives is no proof that a part is safe. Follow the codes that apply where you are. Have
//! the installation and the conclusions checked by a licensed engineer. Never let a corrected reading be the only
//! barrier between a load and a person.
#![doc(test(attr(deny(unused_imports))))]
#![cfg_attr(doctest, doc = include_str!("../README.md"))]
#![no_std]
#![cfg_attr(not(feature = "ffi"), forbid(unsafe_code))]
#![deny(unsafe_code)]
#![deny(missing_docs)]

pub mod channel;
pub mod commissioning;
#[cfg(any(feature = "embedded-hal", feature = "record"))]
pub mod device;
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
