//! A single gauge in a field whose ratio of strains is known: what its transverse sensitivity makes of a load.

use super::{Bridge, Channel, Circuit, Gauge, Source};
use crate::error::{Error, Field, try_const, within};
use crate::units::Percent;

/// Beyond, a ratio says that there is next to no strain along the grid.
const LARGEST_RATIO: f64 = 100.0;

/// The largest part of a grid's response that strain across it may have.
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
    /// The correction is in the kernel's constants and costs nothing per sample. It applies to [`Correction::Full`](crate::Correction::Full)
    /// only: indicated strain stays as the instrument shows it. The ratio is a number between -100 and 100, and such that
    /// strain across the grid makes at most half of its response.
    ///
    /// In the two circuits that have gauges along the load and across it, the ratio has to be minus the bridge's Poisson ratio,
    /// and the gauges across are corrected too.
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
        self.strain_ratio = Some(ratio);
        if let Source::Codes(bridge, _) = &mut self.source {
            bridge.across = self.gauge.transverse_sensitivity;
        }
        self
    }

    /// What uncertainties of the stated [`strain_ratio`](Self::strain_ratio) and of the transverse sensitivity make of a strain: a
    /// relative standard uncertainty, to first order (JCGM 100:2008), which is to be added in squares to that of the gauge factor.
    ///
    /// Of the ratio `r` it is `|K_t| u(r) / (1 + r K_t)`, of the sensitivity `|r + nu_0| u(K_t) / ((1 + r K_t)(1 - nu_0 K_t))`. In the
    /// circuits with gauges along the load and across it, the ratio is the Poisson ratio of the bridge, whose uncertainty is an
    /// input of its own, and the sensitivity counts as `(1 - nu_0) u(K_t) / ((1 - K_t)(1 - nu_0 K_t))`.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds; [`Error::Invalid`] for an uncertainty of the ratio outside of 0 to 100 or of the
    /// sensitivity outside of 0 to 50 %, or where no ratio is stated.
    ///
    /// ```
    /// use gaugewright::{Channel, Gauge, Instrument, ThermalOutput, units::*};
    /// let gauge = Gauge::new(GaugeFactor(2.0))
    ///     .transverse_sensitivity(Percent(1.0))
    ///     .thermal_output(ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let channel = Channel::from_readings(gauge, Instrument::showing(Microstrain(0.1), GaugeFactor(2.0)));
    /// // A tenth in the ratio, a fifth of a percent in the sensitivity.
    /// let of_strain = channel.strain_ratio(1.0).strain_ratio_uncertainty(0.1, Percent(0.2))?;
    /// assert_eq!(format!("{of_strain:.2}"), "0.27 %");
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn strain_ratio_uncertainty(&self, of_ratio: f64, of_sensitivity: Percent) -> Result<Percent, Error> {
        self.check()?;
        Field::StrainRatioUncertainty.check(of_ratio)?;
        Field::TransverseSensitivityUncertainty.check(of_sensitivity.0)?;
        let ratio = self.strain_ratio.unwrap_or(f64::NAN);
        within(Field::StrainRatio, ratio, -LARGEST_RATIO, LARGEST_RATIO)?;
        let (kt, poisson) = (self.gauge.transverse_sensitivity, self.gauge.calibration_poisson);
        let (by_ratio, by_sensitivity) = match self.source {
            Source::Codes(bridge, _) if bridge.has_gauges_across() => (0.0, (1.0 - poisson) / (1.0 - kt)),
            _ => (kt / (1.0 + ratio * kt), (ratio + poisson) / (1.0 + ratio * kt)),
        };
        let by_sensitivity = by_sensitivity / (1.0 - poisson * kt);
        Ok(Percent(libm::hypot(by_ratio * of_ratio * 100.0, by_sensitivity * of_sensitivity.0)))
    }

    /// The gauge that measures, with the gauge factor that a load has.
    pub(super) const fn loaded_gauge(&self) -> Gauge {
        match self.strain_ratio {
            None => self.gauge,
            Some(ratio) => self.gauge.calibrated_in(ratio),
        }
    }

    pub(super) const fn check_strain_ratio(&self) -> Result<(), Error> {
        let Some(ratio) = self.strain_ratio else { return Ok(()) };
        let limit = (LARGEST_SHARE / self.gauge.transverse_sensitivity.abs()).min(LARGEST_RATIO);
        try_const!(within(Field::StrainRatio, ratio, -limit, limit));
        match self.source {
            Source::Codes(bridge, _) if bridge.has_gauges_across() => {
                within(Field::StrainRatio, ratio, -bridge.poisson, -bridge.poisson)
            }
            _ => Ok(()),
        }
    }
}

impl Gauge {
    /// The same gauge as if its gauge factor had been found in a field of this ratio. What strains the foil in both directions
    /// does the same to it.
    const fn calibrated_in(mut self, ratio: f64) -> Self {
        let kt = self.transverse_sensitivity;
        self.factor *= (1.0 + ratio * kt) / (1.0 - self.calibration_poisson * kt);
        self.calibration_poisson = -ratio;
        self
    }
}

impl Bridge {
    const fn has_gauges_across(&self) -> bool {
        matches!(self.circuit, Circuit::HalfPoisson | Circuit::FullPoisson)
    }

    /// What each arm shows of what arm 1 shows. A gauge across the load has the strain along it as its transverse strain.
    pub(super) const fn shares(&self) -> [f64; 4] {
        let (poisson, kt) = (self.poisson, self.across);
        self.circuit.strain_of_arms((poisson - kt) / (1.0 - poisson * kt))
    }
}
