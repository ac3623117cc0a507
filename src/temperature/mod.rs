//! From the resistance or voltage of a sensor to its temperature, in double precision.
//!
//! | sensor | type |
//! |---|---|
//! | platinum resistor (Pt100, Pt1000, any other) by IEC 60751, or with constants of its own | [`Platinum`] |
//! | what the standard lets such a resistor be off | [`ToleranceClass`] |
//! | thermocouple of type J, K, T, E, N, R, S or B, with its cold junction | [`Thermocouple`] |
//! | thermistor by Steinhart-Hart or beta | [`Thermistor`] |
//! | leads, and a reference resistor to compare with | [`SensorLeads`], [`resistance_from_ratio`] |
//! | the heat of the measuring current | [`SelfHeating`] |
//!
//! Everything is `const fn`: a table for firmware can be computed while it is compiled. On a target without
//! double precision in hardware these functions are slow (an inverse takes about ten rounds of a polynomial;
//! by estimate, tens of thousands of instructions). They are meant for tables, and for a logger's slow path,
//! where a temperature arrives now and then.
//!
//! ```
//! use gaugewright::fixed;
//! use gaugewright::temperature::{Platinum, SensorLeads, resistance_from_ratio};
//! use gaugewright::units::*;
//!
//! const SENSOR: Platinum = Platinum::iec60751(Ohms(100.0));
//!
//! // A converter that compares the sensor, on three leads, with 400 ohm.
//! let measured = resistance_from_ratio(Ratio(0.2455), Ohms(400.0))?;
//! let resistance = SensorLeads::ThreeWire { pair: Ohms(2.4) }.sensor(measured)?;
//! let temperature = SENSOR.temperature(resistance)?;
//! assert!((temperature.0 + 10.72).abs() < 0.01);
//! // What the kernels take.
//! let counts = fixed::Temperature::from_celsius(temperature)?;
//! # let _ = counts;
//! # Ok::<(), gaugewright::Error>(())
//! ```
//!
//! # What these functions do not know
//!
//! They are the characteristics of the standards, exact to the rounding of double precision; a real sensor is
//! off by its tolerance, a thermocouple by one or two degrees or by what its calibration says, and by drift,
//! inhomogeneity of the wires and the temperature of the cold junction.

mod elementary;
mod platinum;
mod segment;
mod self_heating;
mod thermistor;
mod thermocouple;
mod tolerance;
mod wiring;

pub use platinum::Platinum;
pub use self_heating::SelfHeating;
pub use thermistor::Thermistor;
pub use thermocouple::Thermocouple;
pub use tolerance::{PlatinumElement, ToleranceClass};
pub use wiring::{SensorLeads, resistance_from_ratio};
