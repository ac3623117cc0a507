//! The data of a gauge package: gauge factor and its change with temperature, thermal output,
//! transverse sensitivity, and the expansion the gauge is matched to.

use super::GaugeFactorBasis;
use crate::error::{Error, Field, TEMPERATURES, range_within, try_const, within};
use crate::numeric::Polynomial;
use crate::units::{Celsius, ExpansionPerCelsius, GaugeFactor, Microstrain, Percent, PercentPer100C};

/// The scale that a thermal-output polynomial takes its temperature in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) enum Scale {
    Celsius,
    Fahrenheit,
}

/// Thermal output of the package: microstrain against temperature, a polynomial of degree five at most.
///
/// Thermal output (ASTM E251) is what a bonded, unloaded gauge reads when only its temperature changes.
/// The polynomial holds for readings taken with the gauge factor it is *stated for*, customarily 2.0,
/// whatever the gauge's own factor is, and over the temperature range it was *fitted on*: outside that it
/// means nothing, so the range is part of it and has to be given.
///
/// ```
/// use gaugewright::{ThermalOutput, units::{Celsius, GaugeFactor}};
///
/// let curve = ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
///     .stated_for(GaugeFactor(2.0))
///     .between(Celsius(-80.0), Celsius(120.0));
/// assert!(curve.at(Celsius(24.0)).0.abs() < 0.1);
/// assert!((curve.at(Celsius(-80.0)).0 + 682.6).abs() < 0.1);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ThermalOutput {
    pub(crate) polynomial: Polynomial,
    /// Coefficients given; more than the polynomial holds is reported when the channel is checked.
    pub(super) terms: usize,
    pub(crate) scale: Scale,
    pub(crate) stated_for: f64,
    pub(crate) low: f64,
    pub(crate) high: f64,
}

impl ThermalOutput {
    /// Coefficients in microstrain per degree **Celsius** to the power of the index, ascending.
    /// Stated for a gauge factor of 2.0; [`stated_for`](Self::stated_for) sets another.
    ///
    /// ```
    /// use gaugewright::{ThermalOutput, units::Celsius};
    /// assert_eq!(ThermalOutput::celsius([-48.0, 2.0]).at(Celsius(30.0)).0, 12.0);
    /// ```
    #[must_use]
    pub const fn celsius<const N: usize>(ascending: [f64; N]) -> Self {
        Self::from_slice(&ascending, Scale::Celsius)
    }

    /// Coefficients in microstrain per degree **Fahrenheit** to the power of the index, ascending. The
    /// change to Celsius is a change of variable, not a new fit: nothing is lost.
    ///
    /// ```
    /// use gaugewright::{ThermalOutput, units::Celsius};
    /// assert_eq!(ThermalOutput::fahrenheit([-75.0, 1.0]).at(Celsius(100.0)).0, 137.0);
    /// ```
    #[must_use]
    pub const fn fahrenheit<const N: usize>(ascending: [f64; N]) -> Self {
        Self::from_slice(&ascending, Scale::Fahrenheit)
    }

    /// As [`celsius`](Self::celsius), from a slice whose length is known at run time only.
    ///
    /// ```
    /// use gaugewright::{ThermalOutput, units::Celsius};
    /// assert_eq!(ThermalOutput::celsius_from(&[-48.0, 2.0]).at(Celsius(24.0)).0, 0.0);
    /// ```
    #[must_use]
    pub const fn celsius_from(ascending: &[f64]) -> Self {
        Self::from_slice(ascending, Scale::Celsius)
    }

    /// As [`fahrenheit`](Self::fahrenheit), from a slice whose length is known at run time only.
    ///
    /// ```
    /// use gaugewright::{ThermalOutput, units::Celsius};
    /// assert_eq!(ThermalOutput::fahrenheit_from(&[-32.0, 1.0]).at(Celsius(0.0)).0, 0.0);
    /// ```
    #[must_use]
    pub const fn fahrenheit_from(ascending: &[f64]) -> Self {
        Self::from_slice(ascending, Scale::Fahrenheit)
    }

    const fn from_slice(ascending: &[f64], scale: Scale) -> Self {
        let mut coefficients = [0.0; Polynomial::TERMS];
        let mut k = 0;
        while k < ascending.len() && k < Polynomial::TERMS {
            coefficients[k] = ascending[k];
            k += 1;
        }
        Self {
            polynomial: Polynomial::new(coefficients),
            terms: ascending.len(),
            scale,
            stated_for: 2.0,
            low: f64::NAN,
            high: f64::NAN,
        }
    }

    /// The gauge factor that the polynomial is stated for.
    ///
    /// ```
    /// use gaugewright::{ThermalOutput, units::GaugeFactor};
    /// let curve = ThermalOutput::celsius([0.0, 1.0]).stated_for(GaugeFactor(2.1));
    /// ```
    #[must_use]
    pub const fn stated_for(mut self, gauge_factor: GaugeFactor) -> Self {
        self.stated_for = gauge_factor.0;
        self
    }

    /// The temperatures that the polynomial was fitted on. Readings outside are flagged.
    ///
    /// ```
    /// use gaugewright::{ThermalOutput, units::{Celsius, Fahrenheit}};
    /// let curve = ThermalOutput::fahrenheit([0.0, 1.0])
    ///     .between(Fahrenheit(-320.0).celsius(), Celsius(200.0));
    /// ```
    #[must_use]
    pub const fn between(mut self, low: Celsius, high: Celsius) -> Self {
        self.low = low.0;
        self.high = high.0;
        self
    }

    /// Thermal output at a temperature, for the gauge factor it is stated for. Not checked against the
    /// fitted range. Horner's rule in `f64`.
    ///
    /// ```
    /// use gaugewright::{ThermalOutput, units::Celsius};
    /// assert_eq!(ThermalOutput::celsius([1.0, 2.0]).at(Celsius(10.0)).0, 21.0);
    /// ```
    #[must_use]
    pub const fn at(&self, temperature: Celsius) -> Microstrain {
        Microstrain(self.polynomial.at(self.own_scale(temperature)))
    }

    /// Slope of thermal output, in microstrain per degree Celsius whatever the package's scale: how
    /// far an error in temperature moves the reading.
    ///
    /// ```
    /// use gaugewright::{ThermalOutput, units::Celsius};
    /// assert_eq!(ThermalOutput::fahrenheit([0.0, 1.0]).slope_at(Celsius(10.0)), 1.8);
    /// ```
    #[must_use]
    pub const fn slope_at(&self, temperature: Celsius) -> f64 {
        let slope = self.polynomial.slope_at(self.own_scale(temperature));
        match self.scale {
            Scale::Celsius => slope,
            Scale::Fahrenheit => slope * 1.8,
        }
    }

    /// The polynomial in degrees Celsius.
    ///
    /// ```
    /// use gaugewright::ThermalOutput;
    /// let p = ThermalOutput::fahrenheit([0.0, 1.0]).in_celsius();
    /// assert_eq!(p.coefficients()[..2], [32.0, 1.8]);
    /// ```
    #[must_use]
    pub const fn in_celsius(&self) -> Polynomial {
        match self.scale {
            Scale::Celsius => self.polynomial,
            Scale::Fahrenheit => self.polynomial.substitute(32.0, 1.8),
        }
    }

    const fn own_scale(&self, temperature: Celsius) -> f64 {
        match self.scale {
            Scale::Celsius => temperature.0,
            Scale::Fahrenheit => temperature.fahrenheit().0,
        }
    }

    /// What the terms add up to if nothing cancels, in microstrain, for temperatures up to `largest` Celsius.
    pub(crate) const fn size(&self, largest: f64) -> f64 {
        match self.scale {
            Scale::Celsius => self.polynomial.size(largest),
            Scale::Fahrenheit => self.polynomial.size(1.8 * largest + 32.0),
        }
    }

    /// None was given.
    pub(crate) const fn is_absent(&self) -> bool {
        self.terms == 1
            && self.polynomial.degree() == 0
            && self.polynomial.at(0.0) == 0.0
            && self.low.is_nan()
            && self.high.is_nan()
    }

    pub(crate) const fn check(&self) -> Result<(), Error> {
        let degree = if self.terms == 0 { f64::NAN } else { (self.terms - 1) as f64 };
        try_const!(Field::ThermalOutputDegree.check(degree));
        let coefficients = self.polynomial.coefficients();
        let mut k = 0;
        while k < Polynomial::TERMS {
            try_const!(Field::ThermalOutputCoefficient.check(coefficients[k]));
            k += 1;
        }
        try_const!(Field::StatedGaugeFactor.check(self.stated_for));
        range_within((Field::FittedLow, self.low), (Field::FittedHigh, self.high), TEMPERATURES)
    }
}

/// A strain gauge as its package describes it.
///
/// Only the gauge factor must be given; what is not given is zero (slope, thermal output, transverse
/// sensitivity) or customary (reference temperature 24 C, calibration beam of Poisson ratio 0.285).
///
/// ```
/// use gaugewright::{Gauge, ThermalOutput};
/// use gaugewright::units::{Celsius, ExpansionPerCelsius, GaugeFactor, PercentPer100C};
///
/// let gauge = Gauge::new(GaugeFactor(2.065))
///     .gauge_factor_slope(PercentPer100C(1.07))
///     .matched_to(ExpansionPerCelsius::ppm(23.0))
///     .thermal_output(
///         ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
///             .between(Celsius(-200.0), Celsius(300.0)),
///     );
/// assert!((gauge.gauge_factor_at(Celsius(124.0)).0 - 2.065 * 1.0107).abs() < 1e-12);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Gauge {
    pub(crate) factor: f64,
    /// Relative change of gauge factor against `T - reference`: degree 1 to 3, no constant.
    pub(crate) factor_change: [f64; 3],
    pub(crate) thermal_output: ThermalOutput,
    pub(crate) reference: f64,
    pub(crate) matched_expansion: Option<ExpansionPerCelsius>,
    pub(crate) transverse_sensitivity: f64,
    pub(crate) calibration_poisson: f64,
    pub(crate) basis: GaugeFactorBasis,
}

impl Gauge {
    /// A gauge of this gauge factor at its reference temperature.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::{Celsius, GaugeFactor}};
    /// assert_eq!(Gauge::new(GaugeFactor(2.1)).gauge_factor_at(Celsius(-100.0)).0, 2.1);
    /// ```
    #[must_use]
    pub const fn new(gauge_factor: GaugeFactor) -> Self {
        Self {
            factor: gauge_factor.0,
            factor_change: [0.0; 3],
            thermal_output: ThermalOutput::celsius([0.0]),
            reference: 24.0,
            matched_expansion: None,
            transverse_sensitivity: 0.0,
            calibration_poisson: 0.285,
            basis: GaugeFactorBasis::AtBalance,
        }
    }

    /// Gauge factor changing in proportion to temperature: constantan rises, nickel-chromium falls.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::{Celsius, GaugeFactor, PercentPer100C}};
    /// let gauge = Gauge::new(GaugeFactor(2.0)).gauge_factor_slope(PercentPer100C(1.0));
    /// assert_eq!(gauge.gauge_factor_at(Celsius(124.0)).0, 2.02);
    /// ```
    #[must_use]
    pub const fn gauge_factor_slope(mut self, slope: PercentPer100C) -> Self {
        self.factor_change = [slope.per_celsius(), 0.0, 0.0];
        self
    }

    /// Gauge factor of an alloy that is not linear: its relative change `a d + b d^2 + c d^3`, where
    /// `d` is the temperature above the reference, in degrees Celsius.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::{Celsius, GaugeFactor}};
    /// let gauge = Gauge::new(GaugeFactor(2.0)).gauge_factor_polynomial([1e-4, 1e-7, 0.0]);
    /// assert!((gauge.gauge_factor_at(Celsius(124.0)).0 - 2.022).abs() < 1e-12);
    /// ```
    #[must_use]
    pub const fn gauge_factor_polynomial(mut self, change: [f64; 3]) -> Self {
        self.factor_change = change;
        self
    }

    /// Thermal output of the package.
    ///
    /// ```
    /// use gaugewright::{Gauge, ThermalOutput, units::{Celsius, GaugeFactor}};
    /// let gauge = Gauge::new(GaugeFactor(2.0))
    ///     .thermal_output(ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(0.0), Celsius(50.0)));
    /// assert!(gauge.curve_offset().is_none()); // zero at 24 C
    /// ```
    #[must_use]
    pub const fn thermal_output(mut self, curve: ThermalOutput) -> Self {
        self.thermal_output = curve;
        self
    }

    /// Temperature at which the gauge factor is stated and the thermal output is zero; 24 C (75 F) is
    /// customary, and the default.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::{Celsius, GaugeFactor}};
    /// let gauge = Gauge::new(GaugeFactor(2.0)).gauge_factor_polynomial([1e-4, 0.0, 0.0]).reference_temperature(Celsius(20.0));
    /// assert_eq!(gauge.gauge_factor_at(Celsius(20.0)).0, 2.0);
    /// ```
    #[must_use]
    pub const fn reference_temperature(mut self, reference: Celsius) -> Self {
        self.reference = reference.0;
        self
    }

    /// Expansion coefficient of the material that the thermal output was measured on. Needed only for
    /// a specimen of another material ([`Channel::specimen`](crate::Channel::specimen)).
    ///
    /// ```
    /// use gaugewright::{Gauge, units::{ExpansionPerFahrenheit, GaugeFactor}};
    /// let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerFahrenheit::ppm(6.0).per_celsius());
    /// ```
    #[must_use]
    pub const fn matched_to(mut self, expansion: ExpansionPerCelsius) -> Self {
        self.matched_expansion = Some(expansion);
        self
    }

    /// Transverse sensitivity `K_t` (ASTM E251). It scales the effect of a specimen of another expansion, which strains the grid in
    /// both directions, and the response to a load, where [`Channel::strain_ratio`](crate::Channel::strain_ratio) is stated or a
    /// [`Rosette`](crate::rosette::Rosette) takes several gauges.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::{GaugeFactor, Percent}};
    /// let gauge = Gauge::new(GaugeFactor(2.0)).transverse_sensitivity(Percent(0.6));
    /// ```
    #[must_use]
    pub const fn transverse_sensitivity(mut self, sensitivity: Percent) -> Self {
        self.transverse_sensitivity = sensitivity.fraction();
        self
    }

    /// Poisson ratio of the beam on which the gauge factor was calibrated; 0.285 is customary.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::GaugeFactor};
    /// let gauge = Gauge::new(GaugeFactor(2.0)).calibration_poisson_ratio(0.28);
    /// ```
    #[must_use]
    pub const fn calibration_poisson_ratio(mut self, ratio: f64) -> Self {
        self.calibration_poisson = ratio;
        self
    }

    /// Gauge factor at a temperature. Not checked against any range. `f64`.
    ///
    /// ```
    /// use gaugewright::{Gauge, units::{Celsius, GaugeFactor}};
    /// assert_eq!(Gauge::new(GaugeFactor(2.1)).gauge_factor_at(Celsius(24.0)).0, 2.1);
    /// ```
    #[must_use]
    pub const fn gauge_factor_at(&self, temperature: Celsius) -> GaugeFactor {
        let d = temperature.0 - self.reference;
        let [a, b, c] = self.factor_change;
        GaugeFactor(self.factor * (1.0 + d * (a + d * (b + d * c))))
    }

    /// Of equal strain in both directions.
    pub(crate) const fn equibiaxial_gain(&self) -> f64 {
        self.response_over_calibration(1.0)
    }

    /// What the terms of the gauge factor add up to if nothing cancels, for temperatures up to `largest`.
    pub(crate) const fn factor_size(&self, largest: f64) -> f64 {
        let [a, b, c] = self.factor_change;
        self.factor * Polynomial::new([1.0, a, b, c]).size(largest + self.reference.abs())
    }

    /// Gauge factor as a polynomial in degrees Celsius.
    pub(crate) const fn factor_polynomial(&self) -> Polynomial {
        let [a, b, c] = self.factor_change;
        Polynomial::new([1.0, a, b, c]).substitute(-self.reference, 1.0).times(self.factor)
    }

    /// All but the calibration beam.
    pub(super) const fn check_package(&self, needs_thermal_output: bool) -> Result<(), Error> {
        try_const!(Field::GaugeFactor.check(self.factor));
        let mut k = 0;
        while k < 3 {
            try_const!(Field::GaugeFactorCoefficient.check(self.factor_change[k]));
            k += 1;
        }
        try_const!(within(Field::ReferenceTemperature, self.reference, TEMPERATURES.0, TEMPERATURES.1));
        if let Some(expansion) = self.matched_expansion {
            try_const!(Field::MatchedExpansion.check(expansion.0 * 1e6));
        }
        try_const!(Field::TransverseSensitivity.check(self.transverse_sensitivity * 100.0));
        try_const!(self.check_basis());
        if self.thermal_output.is_absent() {
            return if needs_thermal_output { Err(Field::ThermalOutput.missing()) } else { Ok(()) };
        }
        self.thermal_output.check()
    }
}
