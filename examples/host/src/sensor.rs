//! Temperature sensors that are read raw: what they are in the library, and a temperature from their readings.

mod rules;

pub use rules::contradictions;

use crate::channel_file::Scale;
use crate::channel_file::sensor::{Class, Element, Kind, Leads, Sensor as Words, ThermocoupleType};
use crate::rejected::Reason;
use gaugewright::error::Field;
use gaugewright::fixed::Temperature;
use gaugewright::temperature::{
    Platinum, PlatinumElement, Reading, ResistanceThermometer, SelfHeating, SensorLeads, SensorPair,
    Thermistor, Thermocouple, ThermocoupleInput, ThermometerFlags, ToleranceClass, resistance_from_ratio,
};
use gaugewright::units::{
    Celsius, Fahrenheit, Kelvin, Milliamperes, Millivolts, MilliwattsPerCelsius, Ohms, Ratio,
};
use gaugewright::{Converter, Error};
use std::fmt::{self, Display, Formatter};

/// A sensor that is in order.
#[derive(Debug)]
pub struct Sensor {
    /// Of what it is read as.
    pub column: String,
    /// Of what has to be known beside it: ohms of the pair of leads, temperature of the cold junction, or of the second sensor.
    pub beside_column: Option<String>,
    characteristic: Characteristic,
    input: Option<Input>,
}

#[derive(Debug)]
enum Characteristic {
    Resistor {
        curve: Curve,
        leads: SensorLeads,
        heat: Option<Heat>,
    },
    Thermocouple {
        letter: Thermocouple,
        cold: Celsius,
        unit: Scale,
    },
    /// Two sensors that are read as temperatures.
    Pair {
        gauge: SensorPair,
        fraction: f64,
        unit: Scale,
    },
}

/// Of the measuring current.
#[derive(Clone, Copy, Debug)]
struct Heat {
    current: Milliamperes,
    sensor: SelfHeating,
}

#[derive(Debug)]
enum Curve {
    Platinum { sensor: Platinum, nominal: f64 },
    Thermistor(Thermistor),
}

/// Where codes stand for ohms or millivolts: those of a ratio of one.
#[derive(Debug)]
struct Input {
    converter: Converter,
    reference: Reference,
}

#[derive(Debug)]
enum Reference {
    Resistor(Ohms),
    /// In a divider with the sensor, across the converter's reference.
    Divider(Ohms),
    Voltage(Millivolts),
}

/// The largest error bound of a thermometer's arithmetic. A thermistor over a wide range exceeds it, in series above all.
pub const ERROR_LIMIT: Celsius = Celsius(0.05);

/// A sensor whose codes a kernel takes: `ResistanceKernel<i32, 16>` or `ThermocoupleKernel<i32, 64, 4>`, as C has them.
#[derive(Debug)]
pub enum Live {
    Resistance(ResistanceThermometer),
    /// With the range of its cold junction.
    Thermocouple(ThermocoupleInput, (Celsius, Celsius)),
}

/// Why there is no temperature.
#[derive(Debug, PartialEq)]
pub struct Fault {
    /// It lies in the cell that is beside the sensor's own.
    pub beside: bool,
    pub reason: Reason,
}

impl Sensor {
    /// From words without contradictions. `unit` is that of the channel's temperature columns.
    ///
    /// # Errors
    /// What the library finds wrong with them.
    pub fn new(words: &Words, unit: Scale) -> Result<Self, Error> {
        let number = |number: Option<f64>| number.unwrap_or(f64::NAN);
        let nominal = Ohms(number(words.nominal_ohm));
        let heat = words.measuring_current_milliamperes.map(|current| Heat {
            current: Milliamperes(current),
            sensor: SelfHeating::new(MilliwattsPerCelsius(number(words.dissipation_milliwatts_per_c))),
        });
        let resistor = |curve| Characteristic::Resistor { curve, leads: leads(words), heat };
        let characteristic = match words.kind {
            Kind::Platinum => {
                let sensor = match words.callendar_van_dusen {
                    Some([a, b, c]) => Platinum::callendar_van_dusen(nominal, a, b, c),
                    None => Platinum::iec60751(nominal),
                };
                sensor.check()?;
                resistor(Curve::Platinum { sensor, nominal: nominal.0 })
            }
            Kind::Thermistor => resistor(Curve::Thermistor(match words.steinhart_hart {
                Some([a, b, c]) => Thermistor::try_steinhart_hart(a, b, c)?,
                None => {
                    let at = Celsius(words.nominal_temperature_c.unwrap_or(25.0));
                    Thermistor::try_beta(nominal, at, Kelvin(number(words.beta_kelvin)))?
                }
            })),
            Kind::Thermocouple => Characteristic::Thermocouple {
                letter: words.thermocouple_type.map_or(Thermocouple::K, letter),
                cold: Celsius(number(words.cold_junction_c)),
                unit,
            },
            Kind::Pair => {
                let fraction = number(words.fraction_of_way);
                Characteristic::Pair { gauge: SensorPair::try_at(fraction)?, fraction, unit }
            }
        };
        let sensor = Self {
            column: [&words.ohm_column, &words.millivolt_column, &words.code_column, &words.first_column]
                .into_iter()
                .flatten()
                .next()
                .cloned()
                .unwrap_or_default(),
            beside_column: [&words.pair_column, &words.cold_junction_column, &words.second_column]
                .into_iter()
                .flatten()
                .next()
                .cloned(),
            characteristic,
            input: words.converter.as_ref().map(|it| match it.full_scale_millivolts {
                Some(millivolts) => Input {
                    converter: Converter::bipolar(it.bits, Ratio(1.0)),
                    reference: Reference::Voltage(Millivolts(millivolts)),
                },
                None => Input {
                    converter: Converter::bipolar(it.bits, Ratio(number(it.full_scale_ratio))),
                    reference: match Ohms(number(it.reference_ohm)) {
                        reference if it.divider => Reference::Divider(reference),
                        reference => Reference::Resistor(reference),
                    },
                },
            }),
        };
        sensor.check_constants()?;
        Ok(sensor)
    }

    /// Whether what is stated and not read is allowed.
    fn check_constants(&self) -> Result<(), Error> {
        if let Some(Input { reference: Reference::Resistor(ohms) | Reference::Divider(ohms), .. }) =
            self.input
        {
            resistance_from_ratio(Ratio(0.0), ohms)?;
        }
        if let Characteristic::Resistor { heat: Some(heat), .. } = &self.characteristic {
            heat.sensor.rise_at(heat.current, Ohms(0.0))?;
        }
        if self.beside_column.is_some() {
            return Ok(());
        }
        match &self.characteristic {
            Characteristic::Pair { .. } => Ok(()),
            // The largest reading is that of any lead.
            Characteristic::Resistor { leads, .. } => leads.sensor(Ohms(1e8)).map(|_| ()),
            Characteristic::Thermocouple { letter, cold, .. } => {
                match letter.temperature_with_cold_junction(Millivolts(0.0), *cold) {
                    Err(error) if is_beside(&error) => Err(error),
                    // Whether the two junctions may be equally warm is another matter.
                    _ => Ok(()),
                }
            }
        }
    }

    /// Temperature for a reading, and for what is beside it, if it has a column for that.
    ///
    /// # Errors
    /// What the reading cannot be.
    pub fn temperature(&self, reading: f64, beside: Option<f64>) -> Result<Celsius, Fault> {
        let own = |reason| Fault { beside: false, reason };
        let measured = match &self.input {
            Some(input) => input.measured(reading).map_err(own)?,
            None => reading,
        };
        let temperature = match &self.characteristic {
            Characteristic::Resistor { curve, leads, heat } => {
                let leads = beside.map_or(*leads, |ohms| SensorLeads::ThreeWire { pair: Ohms(ohms) });
                leads.sensor(Ohms(measured)).and_then(|resistance| {
                    let sensor = match curve {
                        Curve::Platinum { sensor, .. } => sensor.temperature(resistance),
                        Curve::Thermistor(thermistor) => thermistor.temperature(resistance),
                    }?;
                    let rise = heat.map(|heat| heat.sensor.rise_at(heat.current, resistance)).transpose()?;
                    Ok(Celsius(sensor.0 - rise.map_or(0.0, |rise| rise.0)))
                })
            }
            Characteristic::Thermocouple { letter, cold, unit } => {
                let cold = beside.map_or(*cold, |degrees| celsius(degrees, *unit));
                letter.temperature_with_cold_junction(Millivolts(measured), cold)
            }
            Characteristic::Pair { gauge, unit, .. } => {
                let reading = |degrees| {
                    let temperature = Temperature::from_celsius(celsius(degrees, *unit))?;
                    Ok(Reading { temperature, flags: ThermometerFlags::CLEAR })
                };
                let second = reading(beside.unwrap_or(f64::NAN));
                let second = second.map_err(|error| Fault { beside: true, reason: Reason::Sensor(error) })?;
                reading(measured).map(|first| gauge.reading(first, second).temperature.celsius())
            }
        };
        temperature.map_err(|error| Fault {
            beside: beside.is_some() && is_beside(&error),
            reason: Reason::Sensor(error),
        })
    }
}

impl Sensor {
    /// The sensor over a range of temperatures, as firmware reads it, within [`ERROR_LIMIT`]. A cold junction may be where the library has it if nothing
    /// is stated, and where it is stated to be.
    ///
    /// # Errors
    /// Why no kernel takes its readings.
    pub fn within(&self, range: (Celsius, Celsius)) -> Result<Live, String> {
        let live = self.live(range)?;
        let checked = match &live {
            Live::Resistance(thermometer) => thermometer.try_fixed_within::<16>(ERROR_LIMIT).map(|_| ()),
            Live::Thermocouple(input, _) => input.try_fixed_within::<64, 4>(ERROR_LIMIT).map(|_| ()),
        };
        checked.map(|()| live).map_err(|error| error.to_string())
    }

    fn live(&self, (low, high): (Celsius, Celsius)) -> Result<Live, String> {
        let Some(Input { converter, reference }) = &self.input else {
            return Err("as its sensor is not read as codes".into());
        };
        match (&self.characteristic, reference) {
            (Characteristic::Resistor { heat: Some(_), .. }, _) => {
                Err("as its kernel would not subtract the heat of the measuring current".into())
            }
            (Characteristic::Resistor { .. }, _) if self.beside_column.is_some() => {
                Err("as its pair of leads is measured with each reading: state pair_ohm".into())
            }
            (
                Characteristic::Resistor { curve, leads, .. },
                Reference::Resistor(resistor) | Reference::Divider(resistor),
            ) => {
                let thermometer = match *curve {
                    Curve::Platinum { sensor, .. } => {
                        ResistanceThermometer::platinum(sensor, *converter, *resistor)
                    }
                    Curve::Thermistor(sensor) => {
                        ResistanceThermometer::thermistor(sensor, *converter, *resistor)
                    }
                };
                let thermometer = thermometer.leads(*leads).between(low, high);
                let is_divider = matches!(reference, Reference::Divider(_));
                Ok(Live::Resistance(if is_divider { thermometer.in_divider() } else { thermometer }))
            }
            (Characteristic::Thermocouple { letter, cold, .. }, Reference::Voltage(reference)) => {
                let coldest = if *letter == Thermocouple::B { 0.0 } else { -40.0_f64 };
                // One that is not stated is not a number, and no end.
                let range = (Celsius(coldest.min(cold.0)), Celsius(85.0_f64.max(cold.0)));
                let input = ThermocoupleInput::new(*letter, *converter, *reference).between(low, high);
                Ok(Live::Thermocouple(input.cold_junction(range.0, range.1), range))
            }
            _ => Err("as its converter is that of another kind of sensor".into()),
        }
    }
}

fn celsius(degrees: f64, unit: Scale) -> Celsius {
    match unit {
        Scale::Celsius => Celsius(degrees),
        Scale::Fahrenheit => Fahrenheit(degrees).celsius(),
    }
}

/// Whether the library means what is known beside the reading.
fn is_beside(error: &Error) -> bool {
    matches!(error, Error::Invalid { field: Field::LeadResistance | Field::ColdJunctionTemperature, .. })
}

impl Input {
    /// Ohms or millivolts.
    fn measured(&self, code: f64) -> Result<f64, Reason> {
        if code.fract() != 0.0 {
            return Err(Reason::NotWhole);
        }
        let (low, high) = self.converter.rails();
        if code <= f64::from(low) || code >= f64::from(high) {
            return Err(Reason::SensorAtRail);
        }
        let ratio = self.converter.ratio(code).0;
        let (to_reference, reference) = match self.reference {
            Reference::Resistor(reference) => (ratio, reference),
            // The rest of the voltage is the reference resistor's.
            Reference::Divider(reference) => (ratio / (1.0 - ratio), reference),
            Reference::Voltage(reference) => return Ok(ratio * reference.0),
        };
        let resistance = resistance_from_ratio(Ratio(to_reference), reference).map_err(Reason::Sensor)?;
        Ok(resistance.0)
    }
}

/// Those of a pair that is measured are not known yet.
fn leads(words: &Words) -> SensorLeads {
    let number = |number: Option<f64>| Ohms(number.unwrap_or(f64::NAN));
    match words.leads {
        Some(Leads::Two) => {
            SensorLeads::TwoWire { there: number(words.lead_ohm), back: number(words.lead_ohm) }
        }
        Some(Leads::Three) => SensorLeads::ThreeWire { pair: number(words.pair_ohm) },
        Some(Leads::Four) | None => SensorLeads::FourWire,
    }
}

/// The library's name of a type.
#[must_use]
pub fn letter(letter: ThermocoupleType) -> Thermocouple {
    match letter {
        ThermocoupleType::J => Thermocouple::J,
        ThermocoupleType::K => Thermocouple::K,
        ThermocoupleType::T => Thermocouple::T,
        ThermocoupleType::E => Thermocouple::E,
        ThermocoupleType::N => Thermocouple::N,
        ThermocoupleType::R => Thermocouple::R,
        ThermocoupleType::S => Thermocouple::S,
        ThermocoupleType::B => Thermocouple::B,
    }
}

/// The tolerance that the words state, if they do.
pub fn tolerance(words: &Words) -> Option<(ToleranceClass, PlatinumElement)> {
    let class = match words.tolerance_class? {
        Class::AA => ToleranceClass::AA,
        Class::A => ToleranceClass::A,
        Class::B => ToleranceClass::B,
        Class::C => ToleranceClass::C,
    };
    let element = match words.element? {
        Element::WireWound => PlatinumElement::WireWound,
        Element::Film => PlatinumElement::Film,
    };
    Some((class, element))
}

/// As `platinum of 100 ohm, three leads, from ohms`.
impl Display for Sensor {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let read_as = match &self.characteristic {
            Characteristic::Resistor { curve, leads, heat } => {
                match curve {
                    Curve::Platinum { nominal, .. } => write!(f, "platinum of {nominal} ohm")?,
                    Curve::Thermistor(_) => f.write_str("thermistor")?,
                }
                f.write_str(match leads {
                    SensorLeads::TwoWire { .. } => ", two leads",
                    SensorLeads::ThreeWire { .. } => ", three leads",
                    SensorLeads::FourWire => ", four leads",
                })?;
                if let Some(heat) = heat {
                    write!(f, ", less the heat of {}", heat.current)?;
                }
                "ohms"
            }
            Characteristic::Thermocouple { letter, .. } => {
                write!(f, "thermocouple of type {letter:?}")?;
                "millivolts"
            }
            Characteristic::Pair { fraction, .. } => {
                return write!(f, "two, the gauge at {fraction} of the way from the first to the second");
            }
        };
        write!(f, ", from {}", if self.input.is_some() { "codes" } else { read_as })
    }
}
