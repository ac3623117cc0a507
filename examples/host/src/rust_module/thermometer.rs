//! The thermometer of a channel as a constant of Rust.

use super::{call, in_comment, number, of_unit};
use crate::channel_file::sensor::{Kind, Leads, Sensor as Words, SensorConverter};
use crate::sensor::{ERROR_LIMIT, Live, Sensor, letter};
use gaugewright::temperature::Thermocouple;
use gaugewright::units::Celsius;

/// A sensor that is read as codes and its kernel, for the temperatures of its channel. A comment alone where there is no such
/// kernel. `name` is that of the channel's constant.
pub fn thermometer(name: &str, words: &Words, sensor: &Sensor, (low, high): (Celsius, Celsius)) -> String {
    let live = match (sensor.within((low, high)), &words.converter) {
        (Ok(live), Some(converter)) => expression(words, converter, &live).map(|text| (live, text)),
        (Err(why), _) => Err(why),
        (Ok(_), None) => Err("as its sensor has no converter".into()),
    };
    let (live, source) = match live {
        Ok(live) => live,
        Err(why) => return format!("\n// Thermometer of {name}: left out, {}.\n", in_comment(&why)),
    };
    let (input, kernel) = match live {
        Live::Resistance(_) => ("ResistanceThermometer", "ResistanceKernel<i32, 16>"),
        Live::Thermocouple(..) => ("ThermocoupleInput", "ThermocoupleKernel<i32, 64, 4>"),
    };
    let celsius = of_unit("Celsius");
    let range = call("between", format!("{}, {}", celsius(low.0), celsius(high.0))).replace("\n    ", "\n");
    format!(
        "\n/// Thermometer of {name}: {sensor}.\n\
         pub const {name}_SENSOR: {input} = {source}{range};\n\n\
         /// Within {limit} C of the sensor's own function.\n\
         pub static {name}_THERMOMETER: {kernel} = {name}_SENSOR.fixed_within(Celsius({limit}));\n",
        limit = number(ERROR_LIMIT.0),
    )
}

fn expression(words: &Words, converter: &SensorConverter, live: &Live) -> Result<String, String> {
    let stated = |value: Option<f64>| value.map(number).ok_or("as a number of its sensor is missing");
    let bits = converter.bits;
    if let Live::Thermocouple(_, (coldest, hottest)) = live {
        let letter = words.thermocouple_type.map_or(Thermocouple::K, letter);
        return Ok(format!(
            "ThermocoupleInput::new(\n    Thermocouple::{letter:?},\n    Converter::bipolar({bits}, Ratio(1.0)),\n    \
             Millivolts({}),\n)\n.cold_junction(Celsius({}), Celsius({}))",
            stated(converter.full_scale_millivolts)?,
            number(coldest.0),
            number(hottest.0)
        ));
    }
    let (kind, element) = match words.kind {
        Kind::Platinum => {
            let nominal = stated(words.nominal_ohm)?;
            let element = match words.callendar_van_dusen {
                Some([a, b, c]) => format!(
                    "Platinum::callendar_van_dusen(Ohms({nominal}), {}, {}, {})",
                    number(a),
                    number(b),
                    number(c)
                ),
                None => format!("Platinum::iec60751(Ohms({nominal}))"),
            };
            ("platinum", element)
        }
        _ => {
            let element = match words.steinhart_hart {
                Some([a, b, c]) => {
                    format!("Thermistor::steinhart_hart({}, {}, {})", number(a), number(b), number(c))
                }
                None => format!(
                    "Thermistor::beta(Ohms({}), Celsius({}), Kelvin({}))",
                    stated(words.nominal_ohm)?,
                    number(words.nominal_temperature_c.unwrap_or(25.0)),
                    stated(words.beta_kelvin)?
                ),
            };
            ("thermistor", element)
        }
    };
    let mut text = format!(
        "ResistanceThermometer::{kind}(\n    {element},\n    Converter::bipolar({bits}, Ratio({})),\n    Ohms({}),\n)",
        stated(converter.full_scale_ratio)?,
        stated(converter.reference_ohm)?
    );
    text += &match words.leads {
        Some(Leads::Two) => {
            let lead = stated(words.lead_ohm)?;
            format!("\n.leads(SensorLeads::TwoWire {{ there: Ohms({lead}), back: Ohms({lead}) }})")
        }
        Some(Leads::Three) => {
            format!("\n.leads(SensorLeads::ThreeWire {{ pair: Ohms({}) }})", stated(words.pair_ohm)?)
        }
        Some(Leads::Four) | None => String::new(),
    };
    if converter.divider {
        text += "\n.in_divider()";
    }
    Ok(text)
}
