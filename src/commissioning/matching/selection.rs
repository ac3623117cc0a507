//! Which of the gauges on offer leaves the least.

use super::RotatedCurve;
use crate::error::{Error, Field, try_const, within};
use crate::units::{Celsius, ExpansionPerCelsius, Microstrain, MicrostrainPerCelsius};

/// The second best of a selection.
///
/// ```
/// use gaugewright::{units::Microstrain, commissioning::matching::Second};
/// let second = Second { index: 2, figure: Microstrain(30.0), margin: Microstrain(5.0) };
/// assert_eq!(second.index, 2);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Second<U> {
    /// The number of the offer, in their order from 0.
    pub index: usize,
    /// What it leaves.
    pub figure: U,
    /// By how much that is more than the best one leaves; zero if they are equal.
    pub margin: U,
}

/// The best of a selection. Of equals, the first.
///
/// ```
/// use gaugewright::{units::Microstrain, commissioning::matching::Choice};
/// let choice = Choice { index: 1, figure: Microstrain(25.0), second: None };
/// assert!(choice.second.is_none()); // there was only one
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Choice<U> {
    /// The number of the offer, in their order from 0.
    pub index: usize,
    /// What it leaves.
    pub figure: U,
    /// The second best, of two offers or more.
    pub second: Option<Second<U>>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
enum Offers<'a> {
    Curves(&'a [RotatedCurve<'a>]),
    Matches(&'a RotatedCurve<'a>, &'a [ExpansionPerCelsius]),
}

/// What there is to choose from, for one part.
///
/// Window and criterion are the user's: the least slope where the part's temperature is not known well, the least
/// span where thermal output will not be subtracted at all, the least residual where it will be, with a
/// thermometer of known error.
///
/// ```
/// use gaugewright::{Gauge, ThermalOutput, units::*, commissioning::{expansion::Expansion, matching::*}};
/// // Invented, as all gauges of this documentation.
/// let gauge = Gauge::new(GaugeFactor(2.085)).matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
///     ThermalOutput::celsius([-43.2121, 3.16913, -0.0628625, 2.48734e-4, -1.69725e-7])
///         .between(Celsius(-200.0), Celsius(300.0)));
/// let titanium = Expansion::coefficient(ExpansionPerCelsius::ppm(8.8));
/// let curve = RotatedCurve::new(gauge, titanium);
/// let matches = [6.4, 9.3, 13.1].map(ExpansionPerCelsius::ppm);
/// let offers = Selection::of_matches(&curve, &matches);
///
/// let least = offers.least_span(Celsius(-20.0), Celsius(60.0))?;
/// assert_eq!(matches[least.index], ExpansionPerCelsius::ppm(9.3));
/// let second = least.second.unwrap();
/// assert!((second.figure.0 - least.figure.0 - second.margin.0).abs() < 1e-12);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Selection<'a> {
    offers: Offers<'a>,
}

impl<'a> Selection<'a> {
    /// Gauges with packages of their own, each on the part. (Or one gauge on different materials, for the choice of
    /// the part.)
    ///
    /// ```
    /// use gaugewright::{Gauge, ThermalOutput, units::*, commissioning::{expansion::Expansion, matching::*}};
    /// let steel = Expansion::coefficient(ExpansionPerCelsius::ppm(11.0));
    /// let curve = |slope: f64| RotatedCurve::new(
    ///     Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
    ///         ThermalOutput::celsius([-24.0 * slope, slope]).between(Celsius(0.0), Celsius(90.0))),
    ///     steel,
    /// );
    /// let curves = [curve(2.0), curve(-0.5)];
    /// let least = Selection::of_curves(&curves).least_slope(Celsius(0.0), Celsius(90.0))?;
    /// assert_eq!(least.index, 1);
    /// assert!((least.second.unwrap().margin.0 - 1.5).abs() < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn of_curves(curves: &'a [RotatedCurve<'a>]) -> Self {
        Self { offers: Offers::Curves(curves) }
    }

    /// One gauge that is made in several matches, where the package of one of them is at hand: each is taken to have that
    /// curve on the material that it is matched to, which differs from the one of the package by the coefficient alone. So
    /// each turns the curve of `curve` by what its match differs. Packages of their own, where there are any, are better
    /// ([`of_curves`](Self::of_curves)).
    ///
    /// ```
    /// use gaugewright::{Gauge, ThermalOutput, units::*};
    /// use gaugewright::commissioning::{expansion::Expansion, matching::*};
    /// # let gauge = Gauge::new(GaugeFactor(2.0)).matched_to(ExpansionPerCelsius::ppm(11.0)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(0.0), Celsius(90.0)));
    /// let curve = RotatedCurve::new(gauge, Expansion::coefficient(ExpansionPerCelsius::ppm(11.0)));
    /// // The package rises by one microstrain a degree: a match to one more takes that off.
    /// let matches = [10.0, 11.0, 12.0].map(ExpansionPerCelsius::ppm);
    /// let least = Selection::of_matches(&curve, &matches).least_slope(Celsius(0.0), Celsius(90.0))?;
    /// assert!(least.index == 2 && least.figure.0 < 1e-9);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn of_matches(curve: &'a RotatedCurve<'a>, matches: &'a [ExpansionPerCelsius]) -> Self {
        Self { offers: Offers::Matches(curve, matches) }
    }

    /// The number of offers.
    ///
    /// ```
    /// assert_eq!(gaugewright::commissioning::matching::Selection::of_curves(&[]).count(), 0);
    /// ```
    #[must_use]
    pub const fn count(&self) -> usize {
        match self.offers {
            Offers::Curves(curves) => curves.len(),
            Offers::Matches(_, matches) => matches.len(),
        }
    }

    /// The curve of one of them: all together are the fan of a plot.
    ///
    /// # Errors
    /// [`Error::Invalid`] if there are not so many.
    ///
    /// ```
    /// assert!(gaugewright::commissioning::matching::Selection::of_curves(&[]).curve(0).is_err());
    /// ```
    pub const fn curve(&self, index: usize) -> Result<RotatedCurve<'a>, Error> {
        try_const!(within(Field::OfferedMatches, self.count() as f64, index as f64 + 1.0, f64::INFINITY));
        Ok(match self.offers {
            Offers::Curves(curves) => curves[index],
            Offers::Matches(curve, matches) => curve.offered(matches[index]),
        })
    }

    /// The one whose steepest slope over a window is the least.
    ///
    /// # Errors
    /// As [`RotatedCurve::steepest`], and [`Error::Invalid`] where nothing is on offer.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::matching::*};
    /// assert!(Selection::of_curves(&[]).least_slope(Celsius(0.0), Celsius(90.0)).is_err());
    /// ```
    pub fn least_slope(&self, low: Celsius, high: Celsius) -> Result<Choice<MicrostrainPerCelsius>, Error> {
        self.least(|curve| Ok(curve.steepest(low, high)?.1.0.abs()), MicrostrainPerCelsius)
    }

    /// The one whose thermal output spans the least over a window.
    ///
    /// # Errors
    /// As [`RotatedCurve::extremes`], and [`Error::Invalid`] where nothing is on offer.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::matching::*};
    /// assert!(Selection::of_curves(&[]).least_span(Celsius(0.0), Celsius(90.0)).is_err());
    /// ```
    pub fn least_span(&self, low: Celsius, high: Celsius) -> Result<Choice<Microstrain>, Error> {
        self.least(|curve| Ok(curve.extremes(low, high)?.span().0), Microstrain)
    }

    /// The one of which the least is left over a window when thermal output is subtracted for a temperature that is off
    /// by no more than `error`.
    ///
    /// # Errors
    /// As [`RotatedCurve::residual`], and [`Error::Invalid`] where nothing is on offer.
    ///
    /// ```
    /// use gaugewright::{units::*, commissioning::matching::*};
    /// let nothing = Selection::of_curves(&[]);
    /// assert!(nothing.least_residual(Celsius(0.0), Celsius(90.0), Celsius(0.5)).is_err());
    /// ```
    pub fn least_residual(
        &self,
        low: Celsius,
        high: Celsius,
        error: Celsius,
    ) -> Result<Choice<Microstrain>, Error> {
        self.least(|curve| Ok(curve.residual(low, high, error)?.left.0), Microstrain)
    }

    fn least<U>(
        &self,
        figure: impl Fn(RotatedCurve<'a>) -> Result<f64, Error>,
        unit: fn(f64) -> U,
    ) -> Result<Choice<U>, Error> {
        within(Field::OfferedMatches, self.count() as f64, 1.0, f64::INFINITY)?;
        let mut first = (0, figure(self.curve(0)?)?);
        let mut second: Option<(usize, f64)> = None;
        for index in 1..self.count() {
            let figure = figure(self.curve(index)?)?;
            if figure < first.1 {
                second = Some(first);
                first = (index, figure);
            } else if second.is_none_or(|(_, second)| figure < second) {
                second = Some((index, figure));
            }
        }
        let second = second.map(|(index, figure)| Second {
            index,
            figure: unit(figure),
            margin: unit(figure - first.1),
        });
        Ok(Choice { index: first.0, figure: unit(first.1), second })
    }
}
