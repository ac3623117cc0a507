//! Shunt calibration: what a resistor across an arm should do, what the instrument made of it, and the
//! correction of its span that follows.

mod check;

pub use check::ShuntCheck;

use crate::channel::{Arm, Channel, LARGEST_SIGNAL, Source};
use crate::error::{Error, Field, try_const, within};
use crate::reference::Model;
use crate::units::{Ohms, Percent, Ratio, Strain};

/// A calibration resistor across an arm.
///
/// ```
/// use gaugewright::{channel::Arm, installation::Shunt, units::{Ohms, Percent}};
/// let shunt = Shunt::at_instrument(Arm::Two, Ohms(59_880.0)).tolerance(Percent(0.05));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Shunt {
    arm: Arm,
    ohms: f64,
    tolerance: f64,
    at_gauge: bool,
}

/// What a shunt does to a channel at rest.
///
/// ```
/// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, units::*, channel::Arm};
/// use gaugewright::installation::Shunt;
/// # let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(
/// #     ThermalOutput::celsius([0.0]).between(Celsius(0.0), Celsius(50.0)));
/// # let channel = Channel::new(gauge, Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(1.0 / 64.0)));
/// // 59.88 kilohm across 120 ohm takes off 120 / 60 000 of it: -1000 microstrain at a gauge factor of 2.
/// let effect = Shunt::at_gauge(Arm::One, Ohms(59_880.0)).effect(&channel)?;
/// assert!((effect.indicated.microstrain().0 + 1000.0).abs() < 1e-6);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ShuntEffect {
    /// Change of the output ratio (within 4e-15 V/V of the exact solution of the network, whatever its arms, leads, shunt and input are).
    pub ratio: Ratio,
    /// The same in codes of the converter, not rounded.
    pub codes: f64,
    /// Change of indicated strain.
    pub indicated: Strain,
    /// How far the tolerance of the resistor moves the change of indicated strain, either way.
    pub uncertainty: Strain,
    /// What the leads desensitise the bridge by: indicated strain is corrected for it already.
    pub lead_desensitisation: f64,
}

impl Shunt {
    /// A shunt soldered across the element in an arm, behind the leads.
    ///
    /// ```
    /// use gaugewright::{units::Ohms, channel::Arm, installation::Shunt};
    /// let shunt = Shunt::at_gauge(Arm::One, Ohms(100_000.0));
    /// ```
    #[must_use]
    pub const fn at_gauge(arm: Arm, resistance: Ohms) -> Self {
        Self { arm, ohms: resistance.0, tolerance: 0.0, at_gauge: true }
    }

    /// A shunt switched across an arm at the instrument's terminals: the leads are inside.
    ///
    /// ```
    /// use gaugewright::{units::Ohms, channel::Arm, installation::Shunt};
    /// let shunt = Shunt::at_instrument(Arm::Two, Ohms(100_000.0));
    /// ```
    #[must_use]
    pub const fn at_instrument(arm: Arm, resistance: Ohms) -> Self {
        Self { arm, ohms: resistance.0, tolerance: 0.0, at_gauge: false }
    }

    /// The tolerance of the resistor.
    ///
    /// ```
    /// use gaugewright::{units::{Ohms, Percent}, channel::Arm, installation::Shunt};
    /// let shunt = Shunt::at_gauge(Arm::One, Ohms(100_000.0)).tolerance(Percent(0.1));
    /// ```
    #[must_use]
    pub const fn tolerance(mut self, tolerance: Percent) -> Self {
        self.tolerance = tolerance.fraction();
        self
    }

    const fn check(&self) -> Result<(), Error> {
        try_const!(within(Field::ShuntResistance, self.ohms, 10.0, 1e9));
        Field::ShuntTolerance.check(self.tolerance * 100.0)
    }

    /// What the shunt should do to a channel at rest, from its network.
    ///
    /// # Errors
    /// What [`Channel::check`] finds, a shunt out of range or so small that no change of a gauge reads like it (the
    /// error has the smallest that one does), or a channel of an instrument's readings, whose bridge is not known.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, example, units::*, channel::Arm};
    /// use gaugewright::installation::Shunt;
    /// let bridge = Bridge::quarter_three_wire(Ohms(350.0), Ohms(2.0));
    /// let channel = Channel::new(example::FLAT_GAUGE, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
    /// // Across the completion the arm shrinks on the other side: it looks like tension.
    /// let effect = Shunt::at_instrument(Arm::Two, Ohms(100_000.0)).effect(&channel)?;
    /// assert!(effect.ratio.0 > 0.0 && effect.indicated.0 > 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn effect(&self, channel: &Channel) -> Result<ShuntEffect, Error> {
        self.effect_at(channel, Strain(0.0))
    }

    /// The same with the gauge strained: indicated strain before the shunt is switched on.
    ///
    /// # Errors
    /// As [`effect`](Self::effect), and [`Error::Invalid`] for a strain beyond 100 000 microstrain either way or one
    /// that makes 0.95 with the instrument's gauge factor.
    ///
    /// ```
    /// use gaugewright::{channel::Arm, installation::Shunt, units::*};
    /// # let channel = gaugewright::example::FINE;
    /// let shunt = Shunt::at_gauge(Arm::One, Ohms(100_000.0));
    /// let (rest, strained) = (shunt.effect(&channel)?, shunt.effect_at(&channel, Strain(2e-3))?);
    /// assert!(strained.indicated.0 < rest.indicated.0); // more resistance to take from
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn effect_at(&self, channel: &Channel, indicated: Strain) -> Result<ShuntEffect, Error> {
        self.check()?;
        let model = Model::new(channel)?;
        let most = (LARGEST_SIGNAL * 1e6 / channel.instrument_factor).min(1e5);
        within(Field::SimulatedStrain, indicated.microstrain().0, -most, most)?;
        let Source::Codes(bridge, _) = channel.source else { return Err(Field::Bridge.missing()) };
        let signal = indicated.0 * channel.instrument_factor;
        let change = |ohms: f64| -> Option<(f64, f64)> {
            let before = model.shunted(None, signal)?;
            let after = model.shunted(Some((self.arm, ohms, self.at_gauge)), signal)?;
            let shown = |ratio: f64| model.indicated_for(ratio);
            let strain = shown(after) - shown(before);
            strain.is_finite().then_some((after - before, strain))
        };
        let all = |ohms: f64| {
            let (ratio, strain) = change(ohms)?;
            let (_, more) = change(ohms * (1.0 + self.tolerance))?;
            let (_, less) = change(ohms * (1.0 - self.tolerance))?;
            Some((ratio, strain, (more - strain).abs().max((less - strain).abs())))
        };
        let Some((ratio, strain, uncertainty)) = all(self.ohms) else {
            // No change of a gauge reads like so much of a shunt.
            let low = smallest(self.ohms, |ohms| all(ohms).is_some());
            return Err(Error::Invalid { field: Field::ShuntResistance, value: self.ohms, low, high: 1e9 });
        };
        Ok(ShuntEffect {
            ratio: Ratio(ratio),
            codes: channel.code(Ratio(ratio)),
            indicated: Strain(strain),
            uncertainty: Strain(uncertainty),
            lead_desensitisation: bridge.lead_desensitisation(),
        })
    }

    /// The correction of the channel's span ([`Channel::span_correction`]) from the change of code that the
    /// shunt made: expected over observed change of ratio. A change the wrong way, or off by more than `limit`,
    /// is a fault of the wiring and not something to correct.
    ///
    /// A span correction that the channel carries already is not used: the result replaces it.
    ///
    /// # Errors
    /// As [`effect`](Self::effect), and [`Error::Invalid`] for a correction outside `1 - limit` to `1 + limit` or a
    /// limit outside 0 to 20 %.
    ///
    /// ```
    /// use gaugewright::{Error, channel::Arm, error::Field, installation::Shunt, units::*};
    /// # let channel = gaugewright::example::FINE;
    /// let shunt = Shunt::at_gauge(Arm::One, Ohms(100_000.0));
    /// let expected = shunt.effect(&channel)?.codes;
    /// // The converter shows one percent too little.
    /// let span = shunt.span(&channel, expected * 0.99, Percent(3.0))?;
    /// assert!((span - 1.0 / 0.99).abs() < 1e-12);
    /// let channel = channel.span_correction(span);
    /// // The wrong sign: OUT+ and OUT- are exchanged.
    /// let wrong = shunt.span(&channel, -expected, Percent(3.0));
    /// assert!(matches!(wrong, Err(Error::Invalid { field: Field::SpanCorrection, value, .. }) if value < 0.0));
    /// # Ok::<(), Error>(())
    /// ```
    pub fn span(&self, channel: &Channel, observed_codes: f64, limit: Percent) -> Result<f64, Error> {
        let limit = limit.fraction();
        Field::SpanLimit.check(limit * 100.0)?;
        let expected = self.effect(&channel.span_correction(1.0))?;
        let span = expected.codes / observed_codes;
        within(Field::SpanCorrection, span, 1.0 - limit, 1.0 + limit)?;
        Ok(span)
    }

    /// The shunt, across this arm, that looks like an indicated strain. Across arm 1 or 3 that is compression
    /// (a negative strain), across arm 2 or 4 tension; the other way round on a reversed bridge.
    ///
    /// # Errors
    /// As [`effect`](Self::effect), and [`Error::Invalid`] where no resistor from that of the gauge to 1 gigohm
    /// does it: the strain has the wrong sign for the arm, or is too small or too large.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, example, units::*, channel::Arm};
    /// use gaugewright::installation::Shunt;
    /// let bridge = Bridge::quarter_ideal(Ohms(120.0));
    /// let channel = Channel::new(example::FLAT_GAUGE, bridge, Converter::bipolar(24, Ratio(1.0 / 64.0)));
    /// let ohms = Shunt::resistance_for(&channel, Arm::One, true, Microstrain(-1000.0).strain())?;
    /// assert!((ohms.0 - 59_880.0).abs() < 1e-3);
    /// assert!(Shunt::resistance_for(&channel, Arm::One, true, Strain(1e-3)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn resistance_for(
        channel: &Channel,
        arm: Arm,
        at_gauge: bool,
        indicated: Strain,
    ) -> Result<Ohms, Error> {
        let effect = |conductance: f64| -> Result<f64, Error> {
            let shunt = Self { arm, ohms: 1.0 / conductance, tolerance: 0.0, at_gauge };
            Ok(shunt.effect(channel)?.indicated.0)
        };
        // The effect is monotonic in the conductance; bisected on its logarithm, from 1 gigohm to the gauge.
        let Source::Codes(bridge, _) = channel.source else { return Err(Field::Bridge.missing()) };
        let (mut little, mut much) = (1e-9, 1.0 / bridge.gauge.max(10.0));
        let ends = match effect(much) {
            // The gauge's own resistance is more of a shunt than can be read: as much as can.
            Err(Error::Invalid { field: Field::ShuntResistance, low, .. }) if low < 1e9 => {
                much = 1.0 / low;
                (effect(little)?, effect(much)?)
            }
            most => (effect(little)?, most?),
        };
        let inside = if ends.1 > 0.0 {
            indicated.0 >= ends.0 && indicated.0 <= ends.1
        } else {
            indicated.0 <= ends.0 && indicated.0 >= ends.1
        };
        if !inside {
            let micro = |strain: f64| strain * 1e6;
            return Err(Error::Invalid {
                field: Field::SimulatedStrain,
                value: micro(indicated.0),
                low: micro(ends.0.min(ends.1)),
                high: micro(ends.0.max(ends.1)),
            });
        }
        for _ in 0..200 {
            // The middle of the exponents, by the arithmetic of the mean of bits: exact enough, no logarithm.
            let middle = f64::from_bits((little.to_bits() + much.to_bits()) / 2);
            if middle <= little || middle >= much {
                break;
            }
            if effect(middle)?.abs() < indicated.0.abs() {
                little = middle;
            } else {
                much = middle;
            }
        }
        Ok(Ohms(1.0 / little))
    }
}

/// The smallest resistance above one that does not do, up to 1 gigohm, that does; bisected on its logarithm.
fn smallest(ohms: f64, does: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (ohms.to_bits(), 1e9f64.to_bits());
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if does(f64::from_bits(middle)) {
            high = middle;
        } else {
            low = middle;
        }
    }
    f64::from_bits(high)
}
