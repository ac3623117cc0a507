//! Leads that change temperature: what copper adds to the reading, and takes from the sensitivity.

use crate::channel::{Bridge, Channel, Source};
use crate::error::{Error, Field, try_const};
use crate::units::{Celsius, Strain};

/// Relative change of the resistance of copper for a degree, near room temperature (common practice, no source). Copper is
/// straight to a few percent from -100 to 200 C, and no longer below.
const COPPER: f64 = 0.0039;

/// What a rise of the leads' temperature since balance does to a channel.
///
/// ```
/// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, units::*};
/// # let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(
/// #     ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
/// # let channel = Channel::new(gauge, Bridge::quarter_two_wire(Ohms(350.0), Ohms(0.35)),
/// #     Converter::bipolar(24, Ratio(1.0 / 64.0)));
/// // Two leads of a thousandth of the gauge each, ten degrees: 0.002 x 0.039 / 2.
/// let effect = channel.lead_effect(Celsius(10.0))?;
/// assert!((effect.indicated.microstrain().0 - 39.0).abs() < 0.1);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct LeadEffect {
    /// Indicated strain that was not there at balance: the leads' own thermal output.
    pub indicated: Strain,
    /// Relative change of sensitivity: readings are to be multiplied by one minus this.
    pub sensitivity: f64,
}

impl Channel {
    /// What it does to a channel that its copper leads have warmed by `rise` since balance; for a rise that is
    /// not known, its uncertainty gives that of the reading. From the network, at rest.
    ///
    /// On two leads the whole change is in the gauge's arm and shows as strain; on three it is in both arms and
    /// cancels as far as the arms are equal; a full bridge changes in sensitivity alone.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, a rise outside -200 to 300 C, or a channel of an instrument's readings, whose
    /// leads are not known.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, example, units::*};
    /// let three = Bridge::quarter_three_wire(Ohms(350.0), Ohms(0.35));
    /// let channel = Channel::new(example::FLAT_GAUGE, three, Converter::bipolar(24, Ratio(1.0 / 64.0)));
    /// assert!(channel.lead_effect(Celsius(10.0))?.indicated.0.abs() < 1e-12);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn lead_effect(&self, rise: Celsius) -> Result<LeadEffect, Error> {
        try_const!(Field::LeadTemperatureRise.check(rise.0));
        try_const!(self.check());
        let Source::Codes(bridge, _) = self.source else { return Err(Field::Bridge.missing()) };
        let warm = bridge.with_warm_leads(rise.0);
        let (before, x, after) = try_const!(bridge.on_other_leads(&warm, self.balance_ratio()));
        Ok(LeadEffect {
            indicated: Strain(before.signal(x) / self.instrument_factor),
            sensitivity: before.gain / after.gain - 1.0,
        })
    }
}

impl Bridge {
    /// On copper leads that are warmer by so many degrees.
    pub(crate) const fn with_warm_leads(&self, rise: f64) -> Self {
        Self {
            lead: self.lead * (1.0 + COPPER * rise),
            output_lead: match self.output_lead {
                Some(lead) => Some(lead * (1.0 + COPPER * rise)),
                None => None,
            },
            ..*self
        }
    }
}
