//! Thermal expansion of a material: one coefficient, a polynomial, or a table over temperature.
//!
//! What is known over a range of temperatures is used there and nowhere else: a temperature outside is an
//! error, never an extrapolation. All of it is double precision, and `const` but for the uncertainties.

mod table;

use crate::error::{Error, Field, TEMPERATURES, range_within, try_const, within};
use crate::numeric::{Interval, Polynomial};
use crate::units::{Celsius, ExpansionPerCelsius, Percent, Strain};
use table::Table;

/// How the length of a material goes with temperature.
///
/// | constructor | of |
/// |---|---|
/// | [`coefficient`](Self::coefficient) | one coefficient for all temperatures, as the trade uses it |
/// | [`coefficient_polynomial`](Self::coefficient_polynomial) | the coefficient at each temperature |
/// | [`length_polynomial`](Self::length_polynomial) | the change of length, as cryogenic fits are published |
/// | [`length_table`](Self::length_table) | the change of length at some temperatures |
/// | [`mean_coefficient_table`](Self::mean_coefficient_table) | mean coefficients from a temperature to others, as handbooks print them |
/// | [`coefficient_table`](Self::coefficient_table) | the coefficient at some temperatures |
///
/// A polynomial needs the range that it is good for ([`between`](Self::between)); a table has its own. Numbers
/// are checked where they are used, and by [`check`](Self::check).
///
/// The fit of the cryogenic laboratory of NIST for austenitic stainless steel (AISI 304 and its like), which gives
/// the change of length from 293 K in 1e-5 against kelvin, good from 23 to 300 K:
///
/// ```
/// use gaugewright::{commissioning::expansion::Expansion, units::{Celsius, Kelvin}, numeric::Polynomial};
///
/// const STAINLESS: Expansion = Expansion::length_polynomial(
///     Polynomial::new([-2.9554e2, -3.9811e-1, 9.2683e-3, -2.0261e-5, 1.7127e-8]).times(1e-5),
///     Kelvin(0.0).celsius(),
/// )
/// .between(Kelvin(23.0).celsius(), Kelvin(300.0).celsius());
///
/// // From room temperature to boiling nitrogen: 13 ppm/C on average, but 7 at the cold end.
/// let (room, nitrogen) = (Celsius(20.0), Kelvin(77.36).celsius());
/// let shrinks = STAINLESS.thermal_strain(room, nitrogen)?;
/// assert!((shrinks.microstrain().0 + 2799.4).abs() < 0.1);
/// assert!((STAINLESS.mean_coefficient(room, nitrogen)?.0 * 1e6 - 12.97).abs() < 0.01);
/// assert!((STAINLESS.coefficient_at(nitrogen)?.0 * 1e6 - 7.06).abs() < 0.01);
/// // Nothing is known of a hot part.
/// assert!(STAINLESS.thermal_strain(room, Celsius(100.0)).is_err());
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Expansion<'a> {
    law: Law<'a>,
    low: f64,
    high: f64,
    /// Standard uncertainty: of the coefficient, 1/C, and as a fraction of thermal strain.
    uncertainty: f64,
    relative: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
enum Law<'a> {
    Coefficient(f64),
    /// Change of length against the temperature above an origin.
    Polynomial(Polynomial, f64),
    Table(Table<'a>),
}

impl<'a> Expansion<'a> {
    const fn new(law: Law<'a>, low: f64, high: f64) -> Self {
        Self { law, low, high, uncertainty: 0.0, relative: 0.0 }
    }

    const fn table(table: Table<'a>) -> Self {
        // An empty one is refused when it is used; its ends are not looked at before.
        let (low, high) = match table.points() {
            0 => (f64::NAN, f64::NAN),
            points => (table.temperature(0), table.temperature(points - 1)),
        };
        Self::new(Law::Table(table), low, high)
    }

    /// One coefficient for every temperature, 1/C, within +-1e-3: thermal strain is the coefficient times the
    /// difference of temperature, whatever it is counted from. Good from -273.15 to 2047 C;
    /// [`between`](Self::between) makes it less.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let titanium = Expansion::coefficient(ExpansionPerCelsius::ppm(9.0));
    /// let strain = titanium.thermal_strain(Celsius(24.0), Celsius(124.0))?;
    /// assert!((strain.microstrain().0 - 900.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn coefficient(coefficient: ExpansionPerCelsius) -> Self {
        Self::new(Law::Coefficient(coefficient.0), TEMPERATURES.0, TEMPERATURES.1)
    }

    /// Coefficient as a polynomial of degree four at most: 1/C per degree to the power of the index, ascending,
    /// against the temperature above `about`. It is the rise of length over the length at `about`; its
    /// integral is exact.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let alloy = Expansion::coefficient_polynomial([23e-6, 2e-8], Celsius(20.0))
    ///     .between(Celsius(-50.0), Celsius(150.0));
    /// let strain = alloy.thermal_strain(Celsius(20.0), Celsius(120.0))?;
    /// assert!((strain.microstrain().0 - 2_400.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn coefficient_polynomial<const N: usize>(ascending: [f64; N], about: Celsius) -> Self {
        const { assert!(N < Polynomial::TERMS, "a coefficient of degree four at most: five numbers") };
        let mut length = [0.0; Polynomial::TERMS];
        let mut k = 0;
        while k < N {
            length[k + 1] = ascending[k] / (k + 1) as f64;
            k += 1;
        }
        Self::length_polynomial(Polynomial::new(length), about)
    }

    /// Change of length over length, a plain ratio, as a polynomial of the temperature above `zero`: 0 C for one
    /// in Celsius, `Kelvin(0.0).celsius()` for one in kelvin. At which temperature the change is zero does not matter.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion, numeric::Polynomial};
    /// let alloy = Expansion::length_polynomial(Polynomial::new([-4.6e-4, 23e-6]), Celsius(0.0))
    ///     .between(Celsius(-50.0), Celsius(150.0));
    /// assert!(alloy.thermal_strain(Celsius(20.0), Celsius(20.0))?.0.abs() < 1e-18);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn length_polynomial(change: Polynomial, zero: Celsius) -> Self {
        Self::new(Law::Polynomial(change, zero.0), f64::NAN, f64::NAN)
    }

    /// Change of length over length at some temperatures, in rising order, two at least and a thousandth of a degree
    /// apart at least. Between two points it is the cubic with the slopes of the parabolas through three points
    /// each: exact for a material whose coefficient rises straight with temperature, and smooth
    /// everywhere. Two points are joined by a straight line.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// // From 20 C, a material whose coefficient is 10 ppm/C there and rises by 0.02 ppm/C a degree.
    /// const POINTS: [(Celsius, Strain); 3] =
    ///     [(Celsius(-80.0), Strain(-900e-6)), (Celsius(20.0), Strain(0.0)), (Celsius(70.0), Strain(525e-6))];
    /// const MATERIAL: Expansion = Expansion::length_table(&POINTS);
    /// let strain = MATERIAL.thermal_strain(Celsius(20.0), Celsius(40.0))?;
    /// assert!((strain.microstrain().0 - 204.0).abs() < 1e-9);
    /// assert!(MATERIAL.thermal_strain(Celsius(20.0), Celsius(70.1)).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn length_table(rows: &'a [(Celsius, Strain)]) -> Self {
        Self::table(Table::Lengths(rows))
    }

    /// Mean coefficients between `from`, which need not be in the table, and the temperature of each row. Made a
    /// table of the change of length, with that table's curve between the points.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let rows = [-100.0, 100.0, 200.0].map(|t| (Celsius(t), ExpansionPerCelsius::ppm(11.0 + 0.005 * t)));
    /// let steel = Expansion::mean_coefficient_table(Celsius(20.0), &rows);
    /// let strain = steel.thermal_strain(Celsius(20.0), Celsius(200.0))?;
    /// assert!((strain.microstrain().0 - 180.0 * 12.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn mean_coefficient_table(from: Celsius, rows: &'a [(Celsius, ExpansionPerCelsius)]) -> Self {
        Self::table(Table::Means(from.0, rows))
    }

    /// The coefficient at some temperatures, in rising order; straight between them. Thermal strain is its integral: so
    /// it is the rise of length over the length that strain is counted from, and rows that are all the same are one
    /// [`coefficient`](Self::coefficient).
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let rows = [(Celsius(0.0), ExpansionPerCelsius(1e-5)), (Celsius(100.0), ExpansionPerCelsius(2e-5))];
    /// let material = Expansion::coefficient_table(&rows);
    /// let strain = material.thermal_strain(Celsius(0.0), Celsius(50.0))?;
    /// assert!((strain.microstrain().0 - 625.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn coefficient_table(rows: &'a [(Celsius, ExpansionPerCelsius)]) -> Self {
        Self::table(Table::Coefficients(rows))
    }

    /// The temperatures that it is good for. A polynomial has none until they are given; those of a table can only be
    /// made narrower.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let steel = Expansion::coefficient(ExpansionPerCelsius::ppm(11.0)).between(Celsius(0.0), Celsius(100.0));
    /// assert!(steel.thermal_strain(Celsius(20.0), Celsius(101.0)).is_err());
    /// ```
    #[must_use]
    pub const fn between(mut self, low: Celsius, high: Celsius) -> Self {
        self.low = low.0;
        self.high = high.0;
        self
    }

    /// Standard uncertainty of the coefficient, 1/C, the same error at all temperatures.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let steel = Expansion::coefficient(ExpansionPerCelsius::ppm(11.0))
    ///     .standard_uncertainty(ExpansionPerCelsius::ppm(0.3));
    /// let u = steel.thermal_strain_uncertainty(Celsius(24.0), Celsius(124.0))?;
    /// assert!((u.microstrain().0 - 30.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn standard_uncertainty(mut self, uncertainty: ExpansionPerCelsius) -> Self {
        self.uncertainty = uncertainty.0;
        self
    }

    /// Standard uncertainty as a part of thermal strain, as the errors of published fits are stated. Independent
    /// of [`standard_uncertainty`](Self::standard_uncertainty) where both are given.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let steel = Expansion::coefficient(ExpansionPerCelsius::ppm(11.0))
    ///     .relative_standard_uncertainty(Percent(2.0));
    /// let u = steel.thermal_strain_uncertainty(Celsius(24.0), Celsius(124.0))?;
    /// assert!((u.microstrain().0 - 22.0).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn relative_standard_uncertainty(mut self, uncertainty: Percent) -> Self {
        self.relative = uncertainty.fraction();
        self
    }

    /// The temperatures that it is good for; NaN where they are missing.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let steel = Expansion::coefficient(ExpansionPerCelsius::ppm(11.0));
    /// assert_eq!(steel.range(), (Celsius(-273.15), Celsius(2047.0)));
    /// ```
    #[must_use]
    pub const fn range(&self) -> (Celsius, Celsius) {
        (Celsius(self.low), Celsius(self.high))
    }

    /// Checks every number: coefficients within +-1e-3 /C, change of length within +-0.1, temperatures of
    /// -273.15 to 2047 C and in order, uncertainties not negative.
    ///
    /// # Errors
    /// [`Error::Invalid`] for the first that is missing, not finite or out of range, [`Error::Reversed`] for a range
    /// whose upper end lies below its lower one.
    ///
    /// ```
    /// use gaugewright::{Error, units::*, commissioning::expansion::Expansion, error::Field};
    /// let twice = [(Celsius(20.0), Strain(0.0)), (Celsius(20.0), Strain(1e-4))];
    /// let error = Expansion::length_table(&twice).check().unwrap_err();
    /// assert!(matches!(error, Error::Invalid { field: Field::ExpansionPointTemperature, value: 20.0, .. }));
    /// ```
    pub const fn check(&self) -> Result<(), Error> {
        let limits = match &self.law {
            Law::Table(table) => {
                try_const!(table.check());
                (table.temperature(0), table.temperature(table.points() - 1))
            }
            _ => TEMPERATURES,
        };
        try_const!(range_within((Field::ExpansionLow, self.low), (Field::ExpansionHigh, self.high), limits));
        try_const!(Field::ExpansionUncertainty.check(self.uncertainty * 1e6));
        try_const!(Field::ExpansionRelativeUncertainty.check(self.relative * 100.0));
        match &self.law {
            Law::Coefficient(coefficient) => Field::ExpansionCoefficient.check(*coefficient * 1e6),
            Law::Polynomial(change, origin) => {
                try_const!(Field::ExpansionOrigin.check(*origin));
                let terms = change.coefficients();
                let mut k = 0;
                while k < Polynomial::TERMS {
                    try_const!(Field::ExpansionTerm.check(terms[k]));
                    k += 1;
                }
                let lengths = change.enclose(Interval::new(self.low - *origin, self.high - *origin));
                try_const!(Field::ExpansionStrain.check(lengths.low));
                Field::ExpansionStrain.check(lengths.high)
            }
            Law::Table(_) => Ok(()),
        }
    }

    /// Strain of a free piece that is brought from one temperature to another: change of length over the length at
    /// `from`.
    ///
    /// # Errors
    /// What [`check`](Self::check) finds, and [`Error::Invalid`] for a temperature out of the range.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion, numeric::Polynomial};
    /// // Counted from another temperature a length is compared with another length.
    /// let polymer = Expansion::length_polynomial(Polynomial::new([0.0, 1e-4]), Celsius(0.0))
    ///     .between(Celsius(0.0), Celsius(100.0));
    /// assert!((polymer.thermal_strain(Celsius(0.0), Celsius(100.0))?.0 - 0.01).abs() < 1e-15);
    /// assert!((polymer.thermal_strain(Celsius(100.0), Celsius(0.0))?.0 + 0.01 / 1.01).abs() < 1e-15);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn thermal_strain(&self, from: Celsius, to: Celsius) -> Result<Strain, Error> {
        try_const!(self.check());
        let (strain, _) = try_const!(self.strain_and_slope(from.0, to.0));
        Ok(Strain(strain))
    }

    /// Standard uncertainty of [`thermal_strain`](Self::thermal_strain), first order, from those given.
    ///
    /// # Errors
    /// As [`thermal_strain`](Self::thermal_strain).
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let steel = Expansion::coefficient(ExpansionPerCelsius::ppm(10.0))
    ///     .standard_uncertainty(ExpansionPerCelsius::ppm(0.3))
    ///     .relative_standard_uncertainty(Percent(4.0));
    /// let u = steel.thermal_strain_uncertainty(Celsius(24.0), Celsius(124.0))?;
    /// assert!((u.microstrain().0 - 50.0).abs() < 1e-9); // 30 and 40
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn thermal_strain_uncertainty(&self, from: Celsius, to: Celsius) -> Result<Strain, Error> {
        let strain = self.thermal_strain(from, to)?;
        Ok(Strain(libm::hypot(self.uncertainty * (to.0 - from.0), self.relative * strain.0)))
    }

    /// Mean coefficient between two temperatures: thermal strain from the first to the second, by the difference of
    /// temperature. At one and the same temperature, the coefficient there.
    ///
    /// # Errors
    /// As [`thermal_strain`](Self::thermal_strain).
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let alloy = Expansion::coefficient_polynomial([23e-6, 2e-8], Celsius(20.0))
    ///     .between(Celsius(-50.0), Celsius(150.0));
    /// assert!((alloy.mean_coefficient(Celsius(20.0), Celsius(120.0))?.0 - 24e-6).abs() < 1e-15);
    /// assert!((alloy.mean_coefficient(Celsius(20.0), Celsius(20.0))?.0 - 23e-6).abs() < 1e-15);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn mean_coefficient(&self, from: Celsius, to: Celsius) -> Result<ExpansionPerCelsius, Error> {
        try_const!(self.check());
        let (strain, slope) = try_const!(self.strain_and_slope(from.0, to.0));
        // Closer than this a chord is rounding, and what it differs from the slope is less.
        let apart = to.0 - from.0;
        Ok(ExpansionPerCelsius(if apart.abs() < 1e-6 { slope } else { strain / apart }))
    }

    /// Coefficient at a temperature: rise of length a degree over the length there.
    ///
    /// # Errors
    /// As [`thermal_strain`](Self::thermal_strain).
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::expansion::Expansion};
    /// let steel = Expansion::coefficient(ExpansionPerCelsius(11e-6));
    /// assert_eq!(steel.coefficient_at(Celsius(-50.0))?.0, 11e-6);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub const fn coefficient_at(&self, temperature: Celsius) -> Result<ExpansionPerCelsius, Error> {
        self.mean_coefficient(temperature, temperature)
    }

    /// Thermal strain and its slope at `to`, both over the length at `from`. Of an expansion that is checked.
    pub(crate) const fn strain_and_slope(&self, from: f64, to: f64) -> Result<(f64, f64), Error> {
        try_const!(within(Field::ExpansionTemperature, from, self.low, self.high));
        try_const!(within(Field::ExpansionTemperature, to, self.low, self.high));
        let ((before, _), (after, slope)) = match &self.law {
            Law::Coefficient(coefficient) => return Ok((*coefficient * (to - from), *coefficient)),
            Law::Polynomial(change, origin) => {
                (change.value_and_slope(from - *origin), change.value_and_slope(to - *origin))
            }
            Law::Table(table) => (table.length_and_slope(from), table.length_and_slope(to)),
        };
        let from = match &self.law {
            Law::Table(Table::Coefficients(_)) => 1.0,
            _ => 1.0 + before,
        };
        Ok(((after - before) / from, slope / from))
    }

    /// The coefficient, of one that has but one.
    pub(crate) const fn only_coefficient(&self) -> Option<f64> {
        match self.law {
            Law::Coefficient(coefficient) => Some(coefficient),
            _ => None,
        }
    }

    /// The smallest distance of two points of a table; infinite without.
    pub(crate) const fn finest(&self) -> f64 {
        match &self.law {
            Law::Table(table) => table.finest(),
            _ => f64::INFINITY,
        }
    }

    /// What an error of one standard uncertainty does to a thermal strain: by the coefficient, and by the fraction.
    pub(crate) const fn errors(&self, apart: f64, strain: f64) -> (f64, f64) {
        (self.uncertainty * apart, self.relative * strain)
    }
}
