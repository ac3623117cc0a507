//! Errors of a channel's circuit: what the kernels' map leaves out, and what is not stated about the resistors.

use super::codes::CodeModel;
use super::factor::Factor;
use crate::channel::{Channel, CompensatedChannel, Source};
use crate::error::{Error, try_const};
use crate::units::Nanostrain;

impl Channel {
    /// What the kernels' map leaves out of the bridge's network, over the declared ranges: zero but for
    /// `f64` rounding where one half bridge measures and draws no current; tiny where unbalance is spread over
    /// a full bridge whose four resistors are stated, or where an input resistance loads a bridge with two
    /// moving arms. Enclosed by interval arithmetic. An error limit
    /// ([`fixed_within`](Self::fixed_within)) has to include it together with the kernel's own bound.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, [`Error::Invalid`] for the readings of an instrument without a declared strain range, and
    /// [`Error::Overflow`] where the rails leave no code, or the signal is beyond what a bridge can follow.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, units::*};
    /// let gauge = Gauge::new(GaugeFactor(2.1));
    /// let channel = |bridge| Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 128.0)))
    ///     .temperature_within(Celsius(0.0), Celsius(50.0))
    ///     .strain_within(Microstrain(3_000.0));
    /// let bridge = Bridge::half_poisson(Ohms(350.0), Ohms(1.0), 0.3);
    /// assert!(channel(bridge).circuit_error()?.0 < 1e-4);
    /// // An instrument of 100 kilohm bends it by less than a nanostrain.
    /// let loaded = channel(bridge.input_resistance(Ohms(1e5)));
    /// assert!(loaded.circuit_error()?.0 > 1e-3 && loaded.circuit_error()?.0 < 5.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn circuit_error(&self) -> Result<Nanostrain, Error> {
        Ok(Nanostrain(try_const!(CodeModel::of::<1>(self, Factor::MOST)).left_out.circuit * 1e9))
    }

    /// What a kernel's polynomial of degree `degree` leaves out of a gauge factor that refers to the free foil
    /// ([`GaugeFactorBasis::FreeFoil`](crate::channel::GaugeFactorBasis::FreeFoil)), over the declared ranges; zero for the other two. An error
    /// limit has to include it.
    ///
    /// # Errors
    /// As [`circuit_error`](Self::circuit_error).
    ///
    /// ```
    /// use gaugewright::{channel::{ForcedStrain, GaugeFactorBasis}, example, units::*, Channel, Bridge, Converter};
    /// let forced = ForcedStrain::by_expansion(ExpansionPerCelsius::ppm(14.0), ExpansionPerCelsius::ppm(23.0));
    /// let gauge = example::GAUGE.gauge_factor_slope(PercentPer100C(1.0)).gauge_factor_basis(GaugeFactorBasis::FreeFoil(forced));
    /// let channel = Channel::new(gauge, Bridge::quarter_ideal(Ohms(350.0)), Converter::bipolar(24, Ratio(0.01)))
    ///     .strain_within(Microstrain(3_000.0));
    /// assert!(channel.gauge_factor_error(1)?.microstrain().0 < 0.1);
    /// assert!(channel.gauge_factor_error(3)?.0 < 0.1);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn gauge_factor_error(&self, degree: usize) -> Result<Nanostrain, Error> {
        Ok(Nanostrain(try_const!(CodeModel::of::<1>(self, degree)).left_out.factor * 1e9))
    }

    /// An estimate of what it costs, at the end of the declared strain range, that the resistors behind the unbalance are
    /// not stated: the largest difference if the unbalance sat in any one of the four arms, or in equal parts in
    /// several, and not where it was put (see [`Bridge`](crate::Bridge)). Arms whose unbalances cancel at the output cannot be
    /// seen from there. Zero for readings of an instrument,
    /// and where all resistors are stated.
    ///
    /// # Errors
    /// As [`circuit_error`](Self::circuit_error).
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, units::*};
    /// // A full bridge out of balance by 1 mV/V, at 2000 microstrain: two parts in ten thousand of the reading.
    /// let channel = Channel::new(
    ///     Gauge::new(GaugeFactor(2.1)),
    ///     Bridge::full_bending(Ohms(350.0)),
    ///     Converter::bipolar(24, Ratio(1.0 / 128.0)),
    /// )
    /// .temperature_within(Celsius(0.0), Celsius(50.0))
    /// .balanced(0.001 * 128.0 * 8_388_608.0, Celsius(20.0))
    /// .strain_within(Microstrain(2_000.0));
    /// let error = channel.unbalance_error()?.microstrain().0;
    /// assert!(error > 0.001 && error < 10.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn unbalance_error(&self) -> Result<Nanostrain, Error> {
        unbalance(self, &try_const!(CodeModel::of::<1>(self, Factor::MOST)))
    }
}

impl CompensatedChannel {
    /// As [`Channel::circuit_error`].
    ///
    /// # Errors
    /// The same.
    ///
    /// ```
    /// assert!(gaugewright::example::COMPENSATED.circuit_error()?.0 < 1e-4);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn circuit_error(&self) -> Result<Nanostrain, Error> {
        let (model, _) = try_const!(CodeModel::of_compensated::<1>(self, Factor::MOST));
        Ok(Nanostrain(model.left_out.circuit * 1e9))
    }

    /// As [`Channel::gauge_factor_error`].
    ///
    /// # Errors
    /// The same.
    ///
    /// ```
    /// assert_eq!(gaugewright::example::COMPENSATED.gauge_factor_error(3)?.0, 0.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn gauge_factor_error(&self, degree: usize) -> Result<Nanostrain, Error> {
        let (model, _) = try_const!(CodeModel::of_compensated::<1>(self, degree));
        Ok(Nanostrain(model.left_out.factor * 1e9))
    }

    /// As [`Channel::unbalance_error`].
    ///
    /// # Errors
    /// The same.
    ///
    /// ```
    /// // Balanced at code 0: no unbalance that could sit elsewhere.
    /// assert!(gaugewright::example::COMPENSATED.unbalance_error()?.0 < 1e-3);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn unbalance_error(&self) -> Result<Nanostrain, Error> {
        let (model, _) = try_const!(CodeModel::of_compensated::<1>(self, Factor::MOST));
        unbalance(&self.channel, &model)
    }
}

const fn unbalance(channel: &Channel, model: &CodeModel) -> Result<Nanostrain, Error> {
    let Source::Codes(bridge, _) = channel.source else { return Ok(Nanostrain(0.0)) };
    if bridge.completion.is_some() && bridge.reference.is_some() {
        return Ok(Nanostrain(0.0));
    }
    let signal = try_const!(bridge.unbalance_spread(channel.balance_ratio(), model.largest_signal));
    Ok(Nanostrain(signal / model.smallest_factor * 1e9))
}
