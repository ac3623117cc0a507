//! From what an instrument measures to the resistance of the sensor alone.

use crate::error::{Error, Field, try_const, within, within_rounding};
use crate::units::{Ohms, Ratio};

/// The largest resistance that is taken for a reading and not for a broken wire: 100 megohm.
const LARGEST: f64 = 1e8;

/// How a resistance sensor is connected, with what is known of its leads.
///
/// ```text
/// TwoWire     measured = there + sensor + back
///
///     o----there----+
///                 sensor
///     o----back-----+
///
/// ThreeWire   measured = lead + sensor + lead,  pair = lead + lead
///
///     1 o---lead----+
///                 sensor
///     2 o---lead----+
///     3 o---lead----+      between 2 and 3: the pair, with no sensor in it
///
/// FourWire    current through two leads, voltage from the two others: no lead is in it
/// ```
///
/// ```
/// use gaugewright::{temperature::SensorLeads, units::Ohms};
/// let leads = SensorLeads::TwoWire { there: Ohms(0.75), back: Ohms(0.5) };
/// assert_eq!(leads.sensor(Ohms(101.25))?.0, 100.0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum SensorLeads {
    /// Two leads of stated resistance. Every ohm by which they differ from it, by length or because they warm
    /// up, reads as sensor: 2.6 C for a Pt100, 0.26 C for a Pt1000.
    TwoWire {
        /// One lead, 0 to 10 000 ohm.
        there: Ohms,
        /// The other.
        back: Ohms,
    },
    /// Three equal leads, of which two run to the same end of the sensor; their loop is measured with every
    /// reading, and so they may warm up. What the lead that is not in the loop differs from the others reads
    /// as sensor.
    ThreeWire {
        /// The loop of the two leads at one end of the sensor, 0 to 20 000 ohm.
        pair: Ohms,
    },
    /// Current and voltage on leads of their own: what is measured is the sensor.
    FourWire,
}

impl SensorLeads {
    /// Resistance of the sensor, from the measured one.
    ///
    /// # Errors
    ///
    /// [`Error::Invalid`]: a lead that is out of range, or a measured resistance that is less than its leads
    /// or more than 100 megohm.
    ///
    /// ```
    /// use gaugewright::{temperature::SensorLeads, units::Ohms};
    /// assert_eq!(SensorLeads::ThreeWire { pair: Ohms(2.5) }.sensor(Ohms(112.5))?.0, 110.0);
    /// assert_eq!(SensorLeads::FourWire.sensor(Ohms(110.0))?.0, 110.0);
    /// assert!(SensorLeads::ThreeWire { pair: Ohms(2.5) }.sensor(Ohms(2.0)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn sensor(self, measured: Ohms) -> Result<Ohms, Error> {
        let leads = try_const!(self.total()).0;
        let rounding = 2.0 * f64::EPSILON * leads;
        let range = (leads, LARGEST);
        let measured = try_const!(within_rounding(Field::MeasuredResistance, measured.0, range, rounding));
        Ok(Ohms(measured - leads))
    }

    /// What the leads add to the sensor.
    pub(super) const fn total(self) -> Result<Ohms, Error> {
        Ok(Ohms(match self {
            Self::TwoWire { there, back } => {
                try_const!(within(Field::LeadResistance, there.0, 0.0, 1e4));
                try_const!(within(Field::LeadResistance, back.0, 0.0, 1e4));
                there.0 + back.0
            }
            Self::ThreeWire { pair } => {
                try_const!(within(Field::LeadResistance, pair.0, 0.0, 2e4));
                pair.0
            }
            Self::FourWire => 0.0,
        }))
    }
}

/// The measured resistance where one current runs through the sensor and a reference resistor, and the
/// converter gives the ratio of their voltages: the current, and with it the excitation's drift, falls out.
///
/// For a bipolar converter whose reference voltage is that of the resistor, the ratio is the code over full
/// scale and the gain.
///
/// # Errors
///
/// [`Error::Invalid`]: a ratio outside 0 to 10 000, or a resistor outside 0.1 ohm to 10 megohm.
///
/// ```
/// use gaugewright::{temperature::resistance_from_ratio, units::{Ohms, Ratio}};
/// let (code, gain) = (3_211_264.0, 16.0);
/// let ratio = Ratio(code / 8_388_608.0 / gain);
/// assert_eq!(resistance_from_ratio(ratio, Ohms(4096.0))?.0, 98.0);
/// # Ok::<(), gaugewright::Error>(())
/// ```
pub const fn resistance_from_ratio(sensor_over_reference: Ratio, reference: Ohms) -> Result<Ohms, Error> {
    try_const!(Field::SensorRatio.check(sensor_over_reference.0));
    try_const!(Field::ReferenceResistor.check(reference.0));
    Ok(Ohms(sensor_over_reference.0 * reference.0))
}
