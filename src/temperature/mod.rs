//! From a sensor to its temperature: in double precision, and live from codes in integers or `f32`.
//!
//! | in double precision | type |
//! |---|---|
//! | platinum resistor (Pt100, Pt1000, any other) by IEC 60751, or with constants of its own | [`Platinum`] |
//! | tolerance of such a resistor by the standard | [`ToleranceClass`] |
//! | thermocouple of type J, K, T, E, N, R, S or B, with its cold junction | [`Thermocouple`] |
//! | thermistor by Steinhart-Hart or beta | [`Thermistor`] |
//! | leads, and a reference resistor to compare with | [`SensorLeads`], [`resistance_from_ratio`] |
//! | the heat of the measuring current | [`SelfHeating`] |
//!
//! | live | type |
//! |---|---|
//! | platinum or thermistor, from the converter's code | [`ResistanceThermometer`], compiled to a [`ResistanceKernel`] |
//! | thermocouple, from the code and the cold junction's temperature | [`ThermocoupleInput`], compiled to a [`ThermocoupleKernel`] |
//! | sensor open or shorted, temperature outside its range or stale | [`ThermometerFlags`] in each [`Reading`] |
//! | the last usable temperature, flagged when it is stale | [`LastReading`] |
//! | a gauge between two sensors | [`SensorPair`] |
//!
//! | sensor, in integers | range, C | bytes | bound of the arithmetic, C |
//! |---|---|---|---|
//! | Pt100 | -200 to 300 | 180 | 0.000066 |
//! | Pt100 | -200 to 850 | 180 | 0.00024 |
//! | type K | -200 to 300 | 752 | 0.0019 |
//! | type K | -200 to 1372 | 1392 | 0.0086 |
//! | type N | -200 to 1300 | 1392 | 0.045 |
//!
//! The bound ([`ResistanceKernel::error_bound`]) is the difference between the curve in pieces and the standard's function, with
//! every rounding. It is exhausted for platinum from -200 to 300 C over every code of a 24-bit converter, and for every thermocouple over
//! every code of a 16-bit one at 21 cold junctions. Elsewhere it is sampled.
//!
//! What describes, checks and compiles a sensor is `const fn`: a kernel for firmware is computed while it is compiled. On a target without
//! double precision in hardware these functions are slow (an inverse takes about ten rounds of a polynomial;
//! by estimate, tens of thousands of instructions): there the kernels are what to use.
//!
//! ```
//! use gaugewright::{fixed, temperature::{Platinum, SensorLeads, resistance_from_ratio}, units::*};
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
//! Live, with the last usable temperature beside it:
//!
//! ```
//! use gaugewright::temperature::{LastReading, Platinum, ResistanceKernel, ResistanceThermometer};
//! use gaugewright::units::*;
//! use gaugewright::Converter;
//!
//! const STRUT: ResistanceThermometer = ResistanceThermometer::platinum(
//!     Platinum::iec60751(Ohms(100.0)),
//!     Converter::bipolar(24, Ratio(1.0 / 16.0)), // full scale is a sixteenth of the reference resistor's voltage
//!     Ohms(4096.0),
//! )
//! .between(Celsius(-200.0), Celsius(300.0));
//!
//! // Does not compile if its error could exceed a thousandth of a degree.
//! static THERMOMETER: ResistanceKernel<i32, 8> = STRUT.fixed_within(Celsius(0.001));
//!
//! // Stale after 50 samples without a usable reading.
//! let mut last = LastReading::new(50);
//! last.update(THERMOMETER.reading(3_311_000), 1_000);
//! let now = last.at(1_030).unwrap();
//! assert!(now.flags.is_clear() && now.temperature.celsius().0 > 2.6);
//! ```
//!
//! # What these functions leave out
//!
//! They are the characteristics of the standards, exact to the rounding of double precision; a real sensor is
//! off by its tolerance, a thermocouple by one or two degrees or by what its calibration states, and by drift,
//! inhomogeneity of the wires and the temperature of the cold junction.

mod curve;
mod forms;
mod last_reading;
mod platinum;
mod reading;
mod resistance_thermometer;
mod segment;
mod self_heating;
mod sensor_pair;
mod source;
#[cfg(feature = "record")]
mod stored;
mod thermistor;
mod thermocouple;
mod thermocouple_input;
mod tolerance;
mod wiring;

#[doc(hidden)]
pub use curve::CurveConstants;
pub use last_reading::LastReading;
#[cfg(feature = "ffi")]
pub(crate) use last_reading::NO_READING;
pub use platinum::Platinum;
pub use reading::{Reading, ThermometerFlags};
pub use resistance_thermometer::{ResistanceKernel, ResistanceThermometer};
pub use self_heating::SelfHeating;
pub use sensor_pair::SensorPair;
pub use thermistor::Thermistor;
pub use thermocouple::Thermocouple;
pub use thermocouple_input::{ThermocoupleInput, ThermocoupleKernel};
pub use tolerance::{PlatinumElement, ToleranceClass};
pub use wiring::{SensorLeads, resistance_from_ratio};
