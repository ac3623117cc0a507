//! What a fit of thermal output states.

use super::input::Input;
use super::inputs::StandardUncertainties;
use crate::commissioning::fit::FittedThermalOutput;
use crate::error::{Error, Field, within};
use crate::numeric::place_of_maximum;
use crate::units::Celsius;

/// Even steps of the search: the variance of a curve is a polynomial of degree ten at most, with five maxima between the ends.
const STEPS: usize = 64;

impl StandardUncertainties {
    /// Of thermal output and its degrees of freedom, from a fit of a chamber run: the largest standard uncertainty of the fitted curve
    /// from `low` to `high`. For the budget of one temperature both are this one, and the uncertainty is that of the curve there. For a kernel
    /// they are the ends of its use, and a sample's uncertainty is then not below that of the curve at its own temperature.
    ///
    /// Where the channel is balanced the curve counts since its balance, whatever the fit was referred to. The readings of the run are
    /// taken to be at the gauge factor that the channel's curve is stated for, as by
    /// [`FittedThermalOutput::thermal_output`]. What all points share (an error of the run's thermometer, or of its span) is not in it.
    /// Replaces what [`of_thermal_output`](Self::of_thermal_output) stated.
    ///
    /// # Errors
    /// [`Error::Invalid`]: a temperature, or the balance, outside of the points of the run, or `high` below `low`.
    ///
    /// ```
    /// use gaugewright::{commissioning::fit::Degree, uncertainty::{Input, StandardUncertainties}, units::*};
    /// # let run = gaugewright::example::thermal_output_fit()?;
    /// # let channel = gaugewright::example::CHANNEL.balanced(0.0, Celsius(22.0));
    /// let curve = run.solve(Degree::Exactly(1))?;
    /// let at = Celsius(45.0);
    /// let inputs = StandardUncertainties::for_channel(channel).of_thermal_output_fit(&curve, at, at)?;
    /// let thermal_output = inputs.budget(Microstrain(0.0), at)?.contribution(Input::ThermalOutput);
    /// // Stated for a gauge factor of 2, of a gauge with 2.1; five points, two terms.
    /// let expected = curve.balanced_at(Celsius(22.0))?.standard_uncertainty(at)?.0 * 2.0 / 2.1;
    /// assert!((thermal_output.uncertainty.0 - expected).abs() < 1e-12 && thermal_output.degrees_of_freedom == 3.0);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn of_thermal_output_fit(
        self,
        curve: &FittedThermalOutput,
        low: Celsius,
        high: Celsius,
    ) -> Result<Self, Error> {
        let (coldest, hottest) = curve.temperatures();
        within(Field::WindowLow, low.0, coldest.0, hottest.0)?;
        within(Field::WindowHigh, high.0, low.0, hottest.0)?;
        let curve = match self.channel.balance {
            Some(balance) => curve.balanced_at(Celsius(balance.temperature))?,
            None => *curve,
        };
        let uncertainty = |celsius: f64| Ok(curve.standard_uncertainty(Celsius(celsius))?.0);
        let largest = place_of_maximum(uncertainty, (low.0, high.0), STEPS)?;
        let degrees = f64::from(curve.degrees_of_freedom());
        Ok(self
            .of_thermal_output(curve.standard_uncertainty(Celsius(largest))?)
            .degrees_of_freedom(Input::ThermalOutput, degrees))
    }
}
