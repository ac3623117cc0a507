//! Which gauge for which part: the thermal output of a gauge on a specimen that it is not matched to, and which of
//! the matches on offer leaves the least of it.
//!
//! A foil gauge is made for a material: on that, its thermal output is the package curve. A specimen of another
//! expansion turns the curve about the reference temperature: clockwise, falling with temperature, where the gauge is
//! matched to a higher expansion than the specimen has, counter-clockwise where it is matched to a lower one. Done on
//! purpose, this lays the curve flat where it would be steep: in a window at the cold or the hot end.
//!
//! # A cryogenic window
//!
//! A part of austenitic steel sits in a bath that boils off, 77 to 95 K. On a gauge matched to it thermal output
//! rises by 60 microstrain a degree there, so that a tenth of a degree of the thermometer is worth 6 microstrain. The
//! specimen is the published NIST fit; the gauge is invented, and so is the material that it was measured on.
//!
//! ```
//! use gaugewright::expansion::Expansion;
//! use gaugewright::matching::{RotatedCurve, Selection, Turn};
//! use gaugewright::units::*;
//! use gaugewright::{Gauge, Polynomial, ThermalOutput};
//!
//! const STAINLESS: Expansion = Expansion::length_polynomial(
//!     Polynomial::new([-2.9554e2, -3.9811e-1, 9.2683e-3, -2.0261e-5, 1.7127e-8]).times(1e-5),
//!     Kelvin(0.0).celsius(),
//! )
//! .between(Kelvin(23.0).celsius(), Kelvin(300.0).celsius());
//!
//! // Matched to 16.2 ppm/C, and measured on a material that is that only near room temperature.
//! let gauge = Gauge::new(GaugeFactor(2.115))
//!     .gauge_factor_slope(PercentPer100C(0.86))
//!     .matched_to(ExpansionPerCelsius::ppm(16.2))
//!     .thermal_output(
//!         ThermalOutput::celsius([-37.2787, 2.75929, -0.0553769, 0.00021523, -1.44471e-7])
//!             .stated_for(GaugeFactor(2.0))
//!             .between(Celsius(-200.0), Celsius(300.0)),
//!     );
//! let measured_on = Expansion::coefficient_polynomial([16.42e-6, 0.93e-8, -1.12e-11], Celsius(24.0))
//!     .between(Celsius(-200.0), Celsius(300.0));
//! let curve = RotatedCurve::new(gauge, STAINLESS).measured_on(measured_on);
//!
//! let (low, high) = (Kelvin(77.0).celsius(), Kelvin(95.0).celsius());
//! let matches = [9.0, 11.0, 13.0, 16.2, 23.0, 70.0, 80.0].map(ExpansionPerCelsius::ppm);
//! let offers = Selection::of_matches(&curve, &matches);
//! # let steep = curve.steepest(low, high)?;
//! # println!("{steep:?} {:?} {:?}", offers.least_slope(low, high)?, offers.least_span(low, high)?);
//! # for i in 0..matches.len() { println!("{:?}", offers.curve(i)?.steepest(low, high)?); }
//! # Ok::<(), gaugewright::Error>(())
//! ```
//!
//! # A hot window
//!
//! ```
//! # Ok::<(), gaugewright::Error>(())
//! ```

mod search;
mod selection;
mod window;

pub use selection::{Choice, RunnerUp, Selection};
pub use window::{Extremes, PackageCurve, Residual, Turn};

use crate::channel::MismatchScale;
use crate::channel::check::check_factor;
use crate::error::{Error, Field, check, within};
use crate::expansion::Expansion;
use crate::gauge::Gauge;
use crate::units::{Celsius, ExpansionPerCelsius, GaugeFactor, Microstrain, MicrostrainPerCelsius};
use search::Ready;

/// Thermal output of a gauge on a specimen, against temperature.
///
/// The package curve, plus what the specimen expands more than the material that the curve was measured on,
/// times gauge factor (see [`MismatchScale`] for which). It is in the scale of indicated
/// strain of an instrument that is set to the gauge's own factor, until
/// [`instrument_gauge_factor`](Self::instrument_gauge_factor) says otherwise: what
/// [`reference::Model::thermal_output`](crate::reference::Model::thermal_output) says of a channel with the same
/// specimen. Curves of gauges whose packages are stated for different factors can be compared so.
///
/// **A specimen given over temperature wants the material given so too** ([`measured_on`](Self::measured_on)): the package
/// curve already holds how that material's coefficient changes. Without it the material is taken to expand by the
/// one coefficient that the gauge is matched to, and the whole change of the specimen's coefficient counts as
/// mismatch; at the temperature of liquid nitrogen that is hundreds of microstrain for steels and
/// aluminium.
///
/// ```
/// use gaugewright::{Gauge, ThermalOutput, expansion::Expansion, matching::RotatedCurve, units::*};
/// let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
///     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
/// let curve = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(9.0)));
/// // 1 microstrain a degree of the package, 2 less of the mismatch.
/// assert!((curve.thermal_output(Celsius(34.0))?.0 + 10.0).abs() < 1e-9);
/// assert!((curve.slope(Celsius(34.0))?.0 + 1.0).abs() < 1e-9);
/// assert!((curve.extremes(Celsius(4.0), Celsius(64.0))?.span().0 - 60.0).abs() < 1e-9);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct RotatedCurve<'a> {
    gauge: Gauge,
    specimen: Expansion<'a>,
    material: Option<Expansion<'a>>,
    /// Of the same make with the same curve, matched to another expansion, 1/C.
    offered: Option<f64>,
    scale: MismatchScale,
    instrument_factor: f64,
    balance: Option<f64>,
}

impl<'a> RotatedCurve<'a> {
    /// A gauge on a specimen.
    ///
    /// ```
    /// # use gaugewright::{Gauge, expansion::Expansion, matching::RotatedCurve, units::*};
    /// let steel = Expansion::coefficient(ExpansionPerCelsius::ppm(11.0));
    /// let curve = RotatedCurve::new(Gauge::new(GaugeFactor(2.0)), steel);
    /// assert!(curve.check().is_err()); // without thermal output, and matched to nothing
    /// ```
    #[must_use]
    pub const fn new(gauge: Gauge, specimen: Expansion<'a>) -> Self {
        Self {
            gauge,
            specimen,
            material: None,
            offered: None,
            scale: MismatchScale::GaugeFactorAtTemperature,
            instrument_factor: gauge.factor,
            balance: None,
        }
    }

    /// The expansion of the material that the package curve was measured on, in place of the coefficient that the gauge
    /// is matched to.
    ///
    /// ```
    /// # use gaugewright::{Gauge, ThermalOutput, expansion::Expansion, matching::{RotatedCurve, Turn}, units::*};
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let material = Expansion::coefficient_polynomial([11e-6, 1e-8], Celsius(24.0))
    ///     .between(Celsius(-50.0), Celsius(90.0));
    /// // On the material itself there is nothing to turn.
    /// let curve = RotatedCurve::new(gauge, material).measured_on(material);
    /// assert!((curve.thermal_output(Celsius(34.0))?.0 - 10.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn measured_on(mut self, material: Expansion<'a>) -> Self {
        self.material = Some(material);
        self
    }

    /// The gauge factor with which the mismatch enters; see [`MismatchScale`].
    ///
    /// ```
    /// # use gaugewright::{Gauge, MismatchScale, ThermalOutput, expansion::Expansion, matching::RotatedCurve, units::*};
    /// # let gauge = Gauge::new(GaugeFactor(2.1)).matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// # let curve = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(9.0)));
    /// let plain = curve.mismatch_scale(MismatchScale::StatedGaugeFactor).instrument_gauge_factor(GaugeFactor(2.0));
    /// assert!((plain.thermal_output(Celsius(34.0))?.0 + 20.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn mismatch_scale(mut self, scale: MismatchScale) -> Self {
        self.scale = scale;
        self
    }

    /// The gauge factor of the instrument in whose scale thermal output is wanted.
    ///
    /// ```
    /// # use gaugewright::{Gauge, ThermalOutput, expansion::Expansion, matching::RotatedCurve, units::*};
    /// # let steel = ExpansionPerCelsius::ppm(11.0);
    /// # let gauge = Gauge::new(GaugeFactor(2.1)).matched_to(steel).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(steel)).instrument_gauge_factor(GaugeFactor(4.0));
    /// assert!((curve.thermal_output(Celsius(34.0))?.0 - 5.0).abs() < 1e-9); // stated for 2.0
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn instrument_gauge_factor(mut self, factor: GaugeFactor) -> Self {
        self.instrument_factor = factor.0;
        self
    }

    /// Thermal output counted from its value at a temperature, as after balancing there.
    ///
    /// ```
    /// # use gaugewright::{Gauge, ThermalOutput, expansion::Expansion, matching::RotatedCurve, units::*};
    /// # let steel = ExpansionPerCelsius::ppm(11.0);
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(steel).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(steel)).balanced_at(Celsius(18.0));
    /// assert!((curve.thermal_output(Celsius(34.0))?.0 - 16.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn balanced_at(mut self, temperature: Celsius) -> Self {
        self.balance = Some(temperature.0);
        self
    }

    /// The same gauge as it is made for another expansion: see [`Selection::of_matches`].
    pub(super) const fn offered(mut self, matched: ExpansionPerCelsius) -> Self {
        self.offered = Some(matched.0);
        self
    }

    /// The temperatures at which all of it is known: where the package curve was fitted, and both expansions.
    ///
    /// ```
    /// # use gaugewright::{Gauge, ThermalOutput, expansion::Expansion, matching::RotatedCurve, units::*};
    /// # let steel = ExpansionPerCelsius::ppm(11.0);
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(steel).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let specimen = Expansion::coefficient(steel).between(Celsius(0.0), Celsius(100.0));
    /// assert_eq!(RotatedCurve::new(gauge, specimen).range(), (Celsius(0.0), Celsius(90.0)));
    /// ```
    #[must_use]
    pub const fn range(&self) -> (Celsius, Celsius) {
        let curve = &self.gauge.thermal_output;
        let (specimen, material) = (self.specimen.range(), self.material().range());
        (
            Celsius(curve.low.max(specimen.0.0).max(material.0.0)),
            Celsius(curve.high.min(specimen.1.0).min(material.1.0)),
        )
    }

    const fn material(&self) -> Expansion<'a> {
        match (self.material, self.gauge.matched_expansion) {
            (Some(material), _) => material,
            (None, Some(matched)) => Expansion::coefficient(matched),
            (None, None) => Expansion::coefficient(ExpansionPerCelsius(f64::NAN)),
        }
    }

    /// Checks the gauge, both expansions and their ranges.
    ///
    /// # Errors
    /// [`Error::Invalid`] for the first input that is missing, not finite or out of range.
    ///
    /// ```
    /// # use gaugewright::{Error, Field, Gauge, ThermalOutput, expansion::Expansion, matching::RotatedCurve, units::*};
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let polynomial = Expansion::coefficient_polynomial([23e-6, 2e-8], Celsius(24.0)); // good for which temperatures?
    /// let error = RotatedCurve::new(gauge, polynomial).check().unwrap_err();
    /// assert!(matches!(error, Error::Invalid { field: Field::ExpansionLow, .. }));
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        check!(self.gauge.check(true));
        if self.gauge.matched_expansion.is_none() && (self.material.is_none() || self.offered.is_some()) {
            check!(within(Field::MatchedExpansion, f64::NAN, -1e-3, 1e-3));
        }
        if let Some(offered) = self.offered {
            check!(within(Field::MatchedExpansion, offered, -1e-3, 1e-3));
        }
        let material = self.material();
        check!(self.specimen.check());
        check!(material.check());
        check!(within(Field::InstrumentGaugeFactor, self.instrument_factor, 0.1, 500.0));
        // The curve turns about the reference temperature, so both have to be known there.
        let (specimen, material) = (self.specimen.range(), material.range());
        check!(within(Field::ReferenceTemperature, self.gauge.reference, specimen.0.0, specimen.1.0));
        check!(within(Field::ReferenceTemperature, self.gauge.reference, material.0.0, material.1.0));
        let (low, high) = self.range();
        check!(within(Field::TemperatureHigh, high.0, low.0, 2047.0));
        check!(check_factor(&self.gauge, low.0, high.0));
        match self.balance {
            Some(temperature) => within(Field::BalanceTemperature, temperature, low.0, high.0),
            None => Ok(()),
        }
    }

    /// Checked, and without balance.
    const fn ready(&self) -> Result<Ready<'a>, Error> {
        check!(self.check());
        Ok(Ready::new(
            self.gauge,
            self.specimen,
            self.material(),
            self.tilt(),
            self.scale,
            self.instrument_factor,
        ))
    }

    /// The same, with a window that lies in the range, and stays there if it is wider by `margin` at both ends.
    const fn ready_over(&self, low: Celsius, high: Celsius, margin: f64) -> Result<Ready<'a>, Error> {
        let ready = check!(self.ready());
        let range = self.range();
        check!(within(Field::WindowLow, low.0 - margin, range.0.0, range.1.0));
        check!(within(Field::WindowLow, low.0, range.0.0, high.0));
        check!(within(Field::WindowHigh, high.0 + margin, low.0, range.1.0));
        match self.balance {
            Some(temperature) => ready.balanced(temperature),
            None => Ok(ready),
        }
    }

    const fn value_and_slope(&self, temperature: Celsius) -> Result<(f64, f64), Error> {
        let ready = check!(self.ready());
        let (low, high) = self.range();
        check!(within(Field::Temperature, temperature.0, low.0, high.0));
        match self.balance {
            Some(balance) => check!(ready.balanced(balance)).at(temperature.0),
            None => ready.at(temperature.0),
        }
    }

    /// What the specimen expands more than the material of the curve between two temperatures, both counted from the
    /// reference.
    const fn expands_more(&self, low: f64, high: f64) -> Result<f64, Error> {
        let (material, reference) = (self.material(), self.gauge.reference);
        if let (Some(specimen), Some(material)) =
            (self.specimen.only_coefficient(), material.only_coefficient())
        {
            // Nothing if they are the same, without rounding.
            return Ok((specimen - material - self.tilt()) * (high - low));
        }
        let cold = check!(self.specimen.strain_and_slope(reference, low)).0
            - check!(material.strain_and_slope(reference, low)).0;
        let hot = check!(self.specimen.strain_and_slope(reference, high)).0
            - check!(material.strain_and_slope(reference, high)).0;
        Ok(hot - cold - self.tilt() * (high - low))
    }

    /// What the offered gauge is matched to more than that of the package.
    const fn tilt(&self) -> f64 {
        match (self.offered, self.gauge.matched_expansion) {
            (Some(offered), Some(matched)) => offered - matched.0,
            _ => 0.0,
        }
    }

    /// Thermal output at a temperature. Against exact arithmetic on the tests' gauges it is within 1e-10 microstrain.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, and [`Error::Invalid`] for a temperature out of the [`range`](Self::range).
    ///
    /// ```
    /// # use gaugewright::{Gauge, ThermalOutput, expansion::Expansion, matching::RotatedCurve, units::*};
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(23.0)));
    /// assert!((curve.thermal_output(Celsius(74.0))?.0 - 600.0).abs() < 1e-9);
    /// assert!(curve.thermal_output(Celsius(90.5)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn thermal_output(&self, temperature: Celsius) -> Result<Microstrain, Error> {
        let (value, _) = check!(self.value_and_slope(temperature));
        Ok(Microstrain(value))
    }

    /// Slope of thermal output at a temperature.
    ///
    /// # Errors
    /// As [`thermal_output`](Self::thermal_output).
    ///
    /// ```
    /// # use gaugewright::{Gauge, ThermalOutput, expansion::Expansion, matching::RotatedCurve, units::*};
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
    /// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(23.0)));
    /// assert!((curve.slope(Celsius(0.0))?.0 - 12.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn slope(&self, temperature: Celsius) -> Result<MicrostrainPerCelsius, Error> {
        let (_, slope) = check!(self.value_and_slope(temperature));
        Ok(MicrostrainPerCelsius(slope))
    }
}
