//! What a curve is made from: codes of a sensor's converter to temperature, or the EMF of a cold junction to codes.

use super::{Platinum, Thermistor, Thermocouple};
use crate::error::{Error, try_const};
use crate::sample::Temperature;
use crate::units::{Celsius, Millivolts, Ohms};

/// A sensor whose resistance depends on its temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) enum Element {
    Platinum(Platinum),
    Thermistor(Thermistor),
}

impl Element {
    /// For a resistance between two that [`resistance`](Self::resistance) has given.
    const fn temperature(&self, resistance: Ohms, near: Option<f64>) -> Result<Celsius, Error> {
        match self {
            Self::Platinum(sensor) => Ok(sensor.solve(resistance, near)),
            Self::Thermistor(sensor) => sensor.temperature(resistance),
        }
    }

    pub const fn resistance(&self, temperature: Celsius) -> Result<Ohms, Error> {
        match self {
            Self::Platinum(sensor) => sensor.resistance(temperature),
            Self::Thermistor(sensor) => sensor.resistance(temperature),
        }
    }
}

/// A function of a code, or of a temperature in the fixed format. `low` and `high` are the ends that the sensor's own
/// function is asked for: an input that rounding has put just beyond them is clamped.
#[derive(Clone, Copy)]
pub(super) enum Source {
    /// Codes to steps of temperature.
    Resistance { element: Element, circuit: Circuit, leads: f64, low: f64, high: f64 },
    /// Scaled codes to steps of temperature: EMF against 0 C.
    Hot { thermocouple: Thermocouple, millivolts: f64, low: f64, high: f64 },
    /// Steps of temperature to EMF against 0 C, in scaled codes.
    Cold { thermocouple: Thermocouple, codes: f64, low: f64, high: f64 },
}

/// How codes come from a resistance.
#[derive(Clone, Copy)]
pub(super) enum Circuit {
    /// In series with the resistor that is the converter's reference: so many ohms for a code.
    Series { ohms: f64 },
    /// A divider with that resistor, across the converter's reference: `code / full` is the sensor's share.
    Divider { resistor: f64, full: f64 },
}

impl Circuit {
    /// Measured resistance, leads included.
    const fn resistance(&self, code: f64) -> f64 {
        match self {
            Self::Series { ohms } => code * *ohms,
            Self::Divider { resistor, full } => *resistor * code / (*full - code),
        }
    }

    pub const fn code(&self, resistance: f64) -> f64 {
        match self {
            Self::Series { ohms } => resistance / *ohms,
            Self::Divider { resistor, full } => *full * resistance / (resistance + *resistor),
        }
    }
}

const fn clamp(value: f64, low: f64, high: f64) -> f64 {
    // Not that of `f64`, which panics for ends in the wrong order.
    if value < low {
        low
    } else if value > high {
        high
    } else {
        value
    }
}

impl Source {
    /// The value for an input; searched from a value that is `near`, if there is one.
    pub const fn value(&self, input: f64, near: Option<f64>) -> Result<f64, Error> {
        let near = match near {
            Some(steps) => Some(steps / Temperature::PER_DEGREE as f64),
            None => None,
        };
        let temperature = match self {
            Self::Resistance { element, circuit, leads, low, high } => {
                let sensor = Ohms(clamp(circuit.resistance(input) - *leads, *low, *high));
                try_const!(element.temperature(sensor, near))
            }
            Self::Hot { thermocouple, millivolts, low, high } => {
                thermocouple.solve(Millivolts(clamp(input * *millivolts, *low, *high)), near)
            }
            Self::Cold { thermocouple, codes, low, high } => {
                let cold = Celsius(clamp(input / Temperature::PER_DEGREE as f64, *low, *high));
                return Ok(try_const!(thermocouple.emf(cold)).0 * *codes);
            }
        };
        Ok(temperature.0 * Temperature::PER_DEGREE as f64)
    }
}
