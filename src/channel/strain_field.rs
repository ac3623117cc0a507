//! A single gauge in a field whose ratio of strains is known: what its transverse sensitivity makes of a load.

use super::{Bridge, Channel, Circuit, Gauge, Source};
use crate::error::{Error, Field, try_const, within};
use crate::units::{GaugeFactor, Percent};

/// Whether a channel states the ratio of strains of a load. Its gauge then has the gauge factor of that field, as if it had been
/// calibrated there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) enum StrainRatio {
    NotStated,
    Stated,
    /// Out of range; the gauge has the ratio and its own gauge factor.
    Refused,
}

/// Beyond, there is next to no strain along the grid.
const LARGEST_RATIO: f64 = 100.0;

/// The largest response to strain across a grid, as a part of that to strain along it.
const LARGEST_SHARE: f64 = 0.5;

impl Channel {
    /// The strain by load across the gauge over that along it, where the ratio is the same for every load: minus Poisson's ratio
    /// along a bar in tension, minus one over it across the bar, 1 under equal strain in both directions, -1 along the
    /// principal directions of pure shear. Mechanical strain is then corrected for the gauge's transverse sensitivity `K_t`:
    ///
    /// `strain = uncorrected strain (1 - nu_0 K_t) / (1 + ratio K_t)`
    ///
    /// because the gauge factor was calibrated in a field whose ratio is minus `nu_0`, the Poisson ratio of the calibration beam
    /// (the definition of ASTM E251, from memory). Where no ratio is stated, strain is that of a load with the calibration's ratio.
    /// The gauge is taken as if its gauge factor had been found in this field; that costs nothing per sample. It applies to [`Correction::Full`](crate::Correction::Full)
    /// only: indicated strain stays as the instrument shows it. The ratio is a number between -100 and 100, and such that
    /// strain across the grid makes at most half of what the strain along it makes (`|ratio K_t|` is at most 0.5).
    ///
    /// In the two circuits that have gauges along the load and across it, the ratio has to be minus the bridge's Poisson ratio,
    /// and the gauges across are corrected too. [`Gauge::strain_ratio_uncertainty`] has what an error of the ratio makes of a strain.
    ///
    /// ```
    /// use gaugewright::{Channel, Gauge, Instrument, ThermalOutput, reference::Model, units::*};
    /// let gauge = Gauge::new(GaugeFactor(2.0))
    ///     .transverse_sensitivity(Percent(1.0))
    ///     .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let channel = Channel::from_readings(gauge, Instrument::showing(Microstrain(0.1), GaugeFactor(2.0)));
    /// // A membrane under pressure: without the ratio the reading is 1.3 % too high.
    /// let membrane = channel.strain_ratio(1.0);
    /// let strain = |channel| Model::new(channel).map(|model| model.steps(10_000.0, Celsius(24.0)).mechanical.0);
    /// assert!((strain(&channel)? / strain(&membrane)? - 1.01 / 0.99715).abs() < 1e-12);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn strain_ratio(mut self, ratio: f64) -> Self {
        let is_stated = matches!(self.strain_ratio, StrainRatio::Stated);
        let gauge = &self.gauge;
        let is_calibrated =
            is_stated || Field::CalibrationPoissonRatio.check(gauge.calibration_poisson).is_ok();
        let is_package = Field::GaugeFactor.check(gauge.factor).is_ok()
            && Field::TransverseSensitivity.check(gauge.transverse_sensitivity * 100.0).is_ok();
        let is_specimen = is_stated
            || match self.source {
                Source::Codes(bridge, _) => Field::PoissonRatio.check(bridge.poisson).is_ok(),
                Source::Readings(_) => true,
            };
        // What is refused stays as it is. What is stated again stays too: the factor is multiplied by exactly one.
        let is_refused = matches!(self.strain_ratio, StrainRatio::Refused);
        if is_refused || !is_calibrated || !is_package || !is_specimen {
            return self;
        }
        match &mut self.source {
            // The Poisson ratio that was stated, in place of the one that an earlier ratio made of it.
            Source::Codes(bridge, _) if is_stated && bridge.has_gauges_across() => {
                bridge.poisson = self.gauge.calibration_poisson;
            }
            _ => {}
        }
        let is_refused = self.check_ratio(ratio).is_err();
        self.strain_ratio = if is_refused { StrainRatio::Refused } else { StrainRatio::Stated };
        let kt = self.gauge.transverse_sensitivity;
        if !is_refused {
            self.gauge.factor *= self.gauge.response_over_calibration(ratio);
            match &mut self.source {
                // A gauge across the load has the strain along it as its transverse strain.
                Source::Codes(bridge, _) if bridge.has_gauges_across() => {
                    bridge.poisson = (bridge.poisson - kt) / (1.0 - bridge.poisson * kt);
                }
                _ => {}
            }
        }
        self.gauge.calibration_poisson = -ratio;
        self
    }

    const fn check_ratio(&self, ratio: f64) -> Result<(), Error> {
        let limit = largest_ratio(self.gauge.transverse_sensitivity);
        try_const!(within(Field::StrainRatio, ratio, -limit, limit));
        match self.source {
            Source::Codes(bridge, _) if bridge.has_gauges_across() => {
                within(Field::StrainRatio, ratio, -bridge.poisson, -bridge.poisson)
            }
            _ => Ok(()),
        }
    }

    pub(super) const fn check_gauge(&self, needs_thermal_output: bool) -> Result<(), Error> {
        match self.strain_ratio {
            StrainRatio::NotStated => self.gauge.check(needs_thermal_output),
            StrainRatio::Stated => self.gauge.check_package(needs_thermal_output),
            StrainRatio::Refused => self.check_ratio(-self.gauge.calibration_poisson),
        }
    }

    /// Where a ratio is stated, that of the bridge was checked before the gauges' transverse sensitivity changed it.
    pub(super) const fn check_poisson(&self) -> Result<(), Error> {
        match self.source {
            Source::Codes(bridge, _) if !matches!(self.strain_ratio, StrainRatio::Stated) => {
                Field::PoissonRatio.check(bridge.poisson)
            }
            _ => Ok(()),
        }
    }
}

impl Gauge {
    /// Gauge factor for a load whose strain across the grid is `ratio` times that along it, at the reference temperature:
    /// `k (1 + ratio K_t) / (1 - nu_0 K_t)`, which is what a channel that states this [`strain_ratio`](crate::Channel::strain_ratio) is
    /// corrected with. A run with such a load finds it. `f64`.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a gauge factor, transverse sensitivity or calibration beam out of range, or a ratio that
    /// [`strain_ratio`](crate::Channel::strain_ratio) would refuse.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*};
    /// let gauge = Gauge::new(GaugeFactor(2.0)).transverse_sensitivity(Percent(1.0));
    /// // Equal strain in both directions.
    /// assert!((gauge.gauge_factor_in_field(1.0)?.0 - 2.0 * 1.01 / 0.99715).abs() < 1e-12);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn gauge_factor_in_field(&self, ratio: f64) -> Result<GaugeFactor, Error> {
        try_const!(Field::GaugeFactor.check(self.factor));
        try_const!(self.check_field(ratio));
        Ok(GaugeFactor(self.factor * self.response_over_calibration(ratio)))
    }

    const fn check_field(&self, ratio: f64) -> Result<(), Error> {
        try_const!(Field::TransverseSensitivity.check(self.transverse_sensitivity * 100.0));
        try_const!(Field::CalibrationPoissonRatio.check(self.calibration_poisson));
        let limit = largest_ratio(self.transverse_sensitivity);
        within(Field::StrainRatio, ratio, -limit, limit)
    }

    /// `(1 + r K_t) / (1 - nu_0 K_t)`: what a field of this ratio does, over what the gauge factor, calibrated in uniaxial stress,
    /// says (ASTM E251).
    pub(crate) const fn response_over_calibration(&self, ratio: f64) -> f64 {
        let kt = self.transverse_sensitivity;
        (1.0 + ratio * kt) / (1.0 - self.calibration_poisson * kt)
    }

    /// What uncertainties of a channel's [`strain_ratio`](crate::Channel::strain_ratio) and of the transverse sensitivity make of a
    /// strain: a relative standard uncertainty, to first order (JCGM 100:2008), which is to be added in squares to that of the gauge
    /// factor. Of the ratio `r` it is `|K_t| u(r) / (1 + r K_t)`, of the sensitivity `|r + nu_0| u(K_t) / ((1 + r K_t)(1 - nu_0 K_t))`.
    ///
    /// In the circuits with gauges along the load and across it, the ratio is the Poisson ratio of the bridge, whose uncertainty is an
    /// input of its own, and that of the sensitivity is `(1 - nu_0) u(K_t) / ((1 - K_t)(1 - nu_0 K_t))`: that of a ratio of -1.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a transverse sensitivity or calibration beam out of range, a ratio that
    /// [`strain_ratio`](crate::Channel::strain_ratio) would refuse, an uncertainty of the ratio outside of 0 to 100 or of the
    /// sensitivity outside of 0 to 50 %.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::*};
    /// let gauge = Gauge::new(GaugeFactor(2.0)).transverse_sensitivity(Percent(1.0));
    /// // A tenth in the ratio, a fifth of a percent in the sensitivity.
    /// let of_strain = gauge.strain_ratio_uncertainty(1.0, 0.1, Percent(0.2))?;
    /// assert_eq!(format!("{of_strain:.2}"), "0.27 %");
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn strain_ratio_uncertainty(
        &self,
        ratio: f64,
        of_ratio: f64,
        of_sensitivity: Percent,
    ) -> Result<Percent, Error> {
        let (kt, poisson) = (self.transverse_sensitivity, self.calibration_poisson);
        self.check_field(ratio)?;
        Field::StrainRatioUncertainty.check(of_ratio)?;
        Field::TransverseSensitivityUncertainty.check(of_sensitivity.0)?;
        let response = 1.0 + ratio * kt;
        let by_sensitivity = (ratio + poisson) / (response * (1.0 - poisson * kt));
        Ok(Percent(libm::hypot(kt / response * of_ratio * 100.0, by_sensitivity * of_sensitivity.0)))
    }

    pub(crate) const fn check(&self, needs_thermal_output: bool) -> Result<(), Error> {
        try_const!(Field::CalibrationPoissonRatio.check(self.calibration_poisson));
        self.check_package(needs_thermal_output)
    }
}

impl Bridge {
    const fn has_gauges_across(&self) -> bool {
        matches!(self.circuit, Circuit::HalfPoisson | Circuit::FullPoisson)
    }
}

const fn largest_ratio(transverse_sensitivity: f64) -> f64 {
    (LARGEST_SHARE / transverse_sensitivity.abs()).min(LARGEST_RATIO)
}
