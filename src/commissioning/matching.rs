//! Which gauge for which part: the thermal output of a gauge on a specimen that it is not matched to, and which of
//! the matches on offer leaves the least of it.
//!
//! A foil gauge is made for a material: on that, its thermal output is the package curve. A specimen of another
//! expansion turns the curve about the reference temperature: clockwise, falling with temperature, where the gauge is
//! matched to a higher expansion than the specimen has, counter-clockwise where it is matched to a lower one (common practice, no
//! source; the tests have it from the definition). Done on
//! purpose, this lays the curve flat where it would be steep: in a window at the cold or the hot end.
//!
//! # A cryogenic window
//!
//! A part of austenitic steel in boiling nitrogen, 77 to 95 K. Near room temperature the steel has 16 to 17 ppm/C (common
//! practice, no source); at 77 K it has 7 left. A nickel-chromium gauge that is matched to 16.7 ppm/C is turned clockwise
//! too far there, and one for a material of 10.8 ppm/C lies flat. The steel is the published fit of NIST; the gauge is
//! invented, and so is the material that its curve was measured on.
//!
//! ```
//! use gaugewright::commissioning::expansion::Expansion;
//! use gaugewright::{commissioning::matching::{RotatedCurve, Selection, Turn}, units::*};
//! use gaugewright::{Gauge, ThermalOutput, numeric::Polynomial};
//!
//! const STAINLESS: Expansion = Expansion::length_polynomial(
//!     Polynomial::new([-2.9554e2, -3.9811e-1, 9.2683e-3, -2.0261e-5, 1.7127e-8]).times(1e-5),
//!     Kelvin(0.0).celsius(),
//! )
//! .between(Kelvin(23.0).celsius(), Kelvin(300.0).celsius());
//!
//! const GAUGE: Gauge = Gauge::new(GaugeFactor(2.18))
//!     .gauge_factor_slope(PercentPer100C(-0.97))
//!     .matched_to(ExpansionPerCelsius::ppm(13.0))
//!     .thermal_output(
//!         ThermalOutput::celsius([-23.1347, 1.16756, -0.00798054, -2.23359e-5, 5.72484e-8])
//!             .stated_for(GaugeFactor(2.1))
//!             .between(Celsius(-200.0), Celsius(300.0)),
//!     );
//! // 13 ppm/C near room temperature, less in the cold.
//! const MEASURED_ON: Expansion =
//!     Expansion::coefficient_polynomial([13.05e-6, 0.88e-8, -0.8e-11], Celsius(24.0))
//!         .between(Celsius(-200.0), Celsius(300.0));
//!
//! let curve = RotatedCurve::new(GAUGE, STAINLESS).measured_on(MEASURED_ON);
//! let matches = [8.6, 10.8, 13.3, 16.7, 22.4].map(ExpansionPerCelsius::ppm);
//! let offers = Selection::of_matches(&curve, &matches);
//! let (low, high) = (Kelvin(77.0).celsius(), Kelvin(95.0).celsius());
//!
//! let least = offers.least_slope(low, high)?;
//! assert_eq!(matches[least.index], ExpansionPerCelsius::ppm(10.8));
//! assert!((least.figure.0 - 1.50).abs() < 0.01); // microstrain a degree, at its steepest
//! let second = least.second.unwrap();
//! assert_eq!(matches[second.index], ExpansionPerCelsius::ppm(8.6));
//! assert!((second.margin.0 - 1.42).abs() < 0.01);
//! // The match by the coefficient at room temperature: five times as steep, and clockwise.
//! let by_room = offers.curve(3)?;
//! assert_eq!(by_room.turn(low, high)?, Turn::Clockwise);
//! assert!((by_room.steepest(low, high)?.1.0 + 7.65).abs() < 0.01);
//! # Ok::<(), gaugewright::Error>(())
//! ```
//!
//! # A hot window
//!
//! A part of beryllium at 150 to 220 C, again by a fit of NIST. It has 11 ppm/C near room temperature and 14 at
//! the hot end. The gauge's own curve climbs there; one matched to 13.3 ppm/C on purpose, two more than the part has at room
//! temperature, turns it down.
//!
//! ```
//! use gaugewright::commissioning::expansion::Expansion;
//! use gaugewright::{commissioning::matching::{RotatedCurve, Selection}, units::*, Gauge, ThermalOutput};
//! use gaugewright::numeric::Polynomial;
//! const BERYLLIUM: Expansion = Expansion::length_polynomial(
//!     Polynomial::new([-120.298, -3.4687e-1, 2.5691e-3, 8.9848e-7, -2.9422e-9]).times(1e-5),
//!     Kelvin(0.0).celsius(),
//! )
//! .between(Kelvin(75.0).celsius(), Kelvin(500.0).celsius());
//!
//! const GAUGE: Gauge = Gauge::new(GaugeFactor(2.085))
//!     .gauge_factor_slope(PercentPer100C(0.94))
//!     .matched_to(ExpansionPerCelsius::ppm(11.0))
//!     .thermal_output(
//!         ThermalOutput::celsius([-43.2121, 3.16913, -0.0628625, 0.000248734, -1.69725e-7])
//!             .stated_for(GaugeFactor(2.0))
//!             .between(Celsius(-200.0), Celsius(300.0)),
//!     );
//! const MEASURED_ON: Expansion =
//!     Expansion::coefficient_polynomial([11.35e-6, 1.17e-8, -1.43e-11], Celsius(24.0))
//!         .between(Celsius(-200.0), Celsius(300.0));
//!
//! assert!((BERYLLIUM.coefficient_at(Celsius(24.0))?.0 * 1e6 - 11.09).abs() < 0.01);
//! let curve = RotatedCurve::new(GAUGE, BERYLLIUM).measured_on(MEASURED_ON);
//! let matches = [8.6, 10.8, 13.3, 16.7].map(ExpansionPerCelsius::ppm);
//! let offers = Selection::of_matches(&curve, &matches);
//! let (low, high) = (Celsius(150.0), Celsius(220.0));
//!
//! let least = offers.least_span(low, high)?;
//! assert_eq!(matches[least.index], ExpansionPerCelsius::ppm(13.3));
//! assert!((least.figure.0 - 59.1).abs() < 0.1 && (least.second.unwrap().margin.0 - 150.3).abs() < 0.1);
//! // The match by the coefficient at room temperature spans 209 microstrain.
//! assert!((offers.curve(1)?.extremes(low, high)?.span().0 - 209.4).abs() < 0.1);
//! // Where it is subtracted by a thermometer that is half a degree off, 13.3 is still the best, by less.
//! let left = offers.least_residual(low, high, Celsius(0.5))?;
//! assert!(left.index == 2 && (left.figure.0 - 1.56).abs() < 0.01);
//! # Ok::<(), gaugewright::Error>(())
//! ```

mod search;
mod selection;
mod window;

pub use selection::{Choice, Second, Selection};
pub use window::{Extremes, PackageCurve, Residual, Turn};

use crate::channel::check::check_factor;
use crate::channel::{Gauge, MismatchScale};
use crate::commissioning::expansion::Expansion;
use crate::error::{Error, Field, ordered, try_const, within};
use crate::units::{Celsius, ExpansionPerCelsius, GaugeFactor};
use search::Ready;

/// Thermal output of a gauge on a specimen, against temperature.
///
/// The package curve, plus what the specimen expands more than the material that the curve was measured on,
/// times gauge factor (see [`MismatchScale`] for which). It is in the scale of indicated
/// strain of an instrument that is set to the gauge's own factor, or to that of
/// [`instrument_gauge_factor`](Self::instrument_gauge_factor). So it is what
/// [`reference::Model::thermal_output`](crate::reference::Model::thermal_output) gives for a channel with the same
/// specimen. Curves of gauges whose packages are stated for different factors can be compared so.
///
/// **With a specimen given over temperature, give the material so too** ([`measured_on`](Self::measured_on)): the package
/// curve already holds how that material's coefficient changes. Without it the material is taken to expand by the
/// one coefficient that the gauge is matched to, and the whole change of the specimen's coefficient counts as
/// mismatch; at the temperature of liquid nitrogen that is hundreds of microstrain for steels and
/// aluminium.
///
/// Left out is what the foil's own change of resistance and of length makes of the rotation: 1.4 % of it at most on the
/// tests' invented gauges over -200 to 300 C, a few tenths of a percent within a hundred degrees of the reference.
///
/// ```
/// use gaugewright::{Gauge, ThermalOutput, units::*};
/// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
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
    /// use gaugewright::{Gauge, units::*, commissioning::{expansion::Expansion, matching::RotatedCurve}};
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
    /// use gaugewright::{example, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let material = Expansion::coefficient_polynomial([11e-6, 1e-8], Celsius(24.0))
    ///     .between(Celsius(-50.0), Celsius(90.0));
    /// // On the material itself there is nothing to turn.
    /// let curve = RotatedCurve::new(example::FLAT_GAUGE, material).measured_on(material);
    /// assert!(curve.thermal_output(Celsius(34.0))?.0.abs() < 1e-9);
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
    /// use gaugewright::{example, units::*, channel::MismatchScale};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let gauge = example::GAUGE.matched_to(ExpansionPerCelsius::ppm(11.0));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(9.0)));
    /// let plain = curve.mismatch_scale(MismatchScale::StatedGaugeFactor).instrument_gauge_factor(GaugeFactor(2.0));
    /// assert!((plain.thermal_output(Celsius(34.0))?.0 - (10.0 - 20.0)).abs() < 1e-9);
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
    /// use gaugewright::{example, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let steel = ExpansionPerCelsius::ppm(11.0);
    /// let gauge = example::GAUGE.matched_to(steel);
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
    /// use gaugewright::{example, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let steel = ExpansionPerCelsius::ppm(11.0);
    /// let gauge = example::GAUGE.matched_to(steel);
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(steel)).balanced_at(Celsius(18.0));
    /// assert!((curve.thermal_output(Celsius(34.0))?.0 - 16.0 * 2.0 / 2.1).abs() < 1e-9); // stated for 2.0
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
    /// use gaugewright::{example, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::RotatedCurve};
    /// let steel = ExpansionPerCelsius::ppm(11.0);
    /// let specimen = Expansion::coefficient(steel).between(Celsius(0.0), Celsius(100.0));
    /// assert_eq!(RotatedCurve::new(example::GAUGE.matched_to(steel), specimen).range(), (Celsius(0.0), Celsius(90.0)));
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
    /// [`Error::Invalid`] for the first input that is missing, not finite or out of range, [`Error::Reversed`] for a range
    /// whose upper end lies below its lower one.
    ///
    /// ```
    /// use gaugewright::{Error, example, units::*};
    /// use gaugewright::{commissioning::{expansion::Expansion, matching::RotatedCurve}, error::Field};
    /// let polynomial = Expansion::coefficient_polynomial([23e-6, 2e-8], Celsius(24.0)); // good for which temperatures?
    /// let gauge = example::GAUGE.matched_to(ExpansionPerCelsius::ppm(11.0));
    /// let error = RotatedCurve::new(gauge, polynomial).check().unwrap_err();
    /// assert!(matches!(error, Error::Invalid { field: Field::ExpansionLow, .. }));
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        try_const!(self.gauge.check(true));
        if self.gauge.matched_expansion.is_none() && (self.material.is_none() || self.offered.is_some()) {
            return Err(Field::MatchedExpansion.missing());
        }
        if let Some(offered) = self.offered {
            try_const!(Field::MatchedExpansion.check(offered * 1e6));
        }
        let material = self.material();
        try_const!(self.specimen.check());
        try_const!(material.check());
        try_const!(Field::InstrumentGaugeFactor.check(self.instrument_factor));
        // The curve turns about the reference temperature, so both have to be known there.
        let (specimen, material) = (self.specimen.range(), material.range());
        try_const!(within(Field::ReferenceTemperature, self.gauge.reference, specimen.0.0, specimen.1.0));
        try_const!(within(Field::ReferenceTemperature, self.gauge.reference, material.0.0, material.1.0));
        let (low, high) = self.range();
        try_const!(within(Field::TemperatureHigh, high.0, low.0, 2047.0));
        try_const!(check_factor(&self.gauge, low.0, high.0));
        match self.balance {
            Some(temperature) => within(Field::BalanceTemperature, temperature, low.0, high.0),
            None => Ok(()),
        }
    }

    /// Checked, and without balance.
    const fn ready(&self) -> Result<Ready<'a>, Error> {
        try_const!(self.check());
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
        let ready = try_const!(self.ready());
        let (Celsius(first), Celsius(last)) = self.range();
        try_const!(within(Field::TemperatureWidth, last - first, 2.0 * margin, f64::INFINITY));
        try_const!(ordered(Field::WindowHigh, low.0, high.0));
        try_const!(within(Field::WindowHigh, high.0, first + margin, last - margin));
        try_const!(within(Field::WindowLow, low.0, first + margin, high.0));
        match self.balance {
            Some(temperature) => ready.balanced(temperature),
            None => Ok(ready),
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
        let cold = try_const!(self.specimen.strain_and_slope(reference, low)).0
            - try_const!(material.strain_and_slope(reference, low)).0;
        let hot = try_const!(self.specimen.strain_and_slope(reference, high)).0
            - try_const!(material.strain_and_slope(reference, high)).0;
        Ok(hot - cold - self.tilt() * (high - low))
    }

    /// What the offered gauge is matched to more than that of the package.
    const fn tilt(&self) -> f64 {
        match (self.offered, self.gauge.matched_expansion) {
            (Some(offered), Some(matched)) => offered - matched.0,
            _ => 0.0,
        }
    }
}
