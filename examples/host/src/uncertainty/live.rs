//! The uncertainty of each sample, by the kernels that a logger has, in double precision.

use super::Stated;
use gaugewright::Error;
use gaugewright::numeric::coverage_factor;
use gaugewright::uncertainty::{UncertaintyKernel, UncertaintyPoint, welch_satterthwaite};
use gaugewright::units::{Celsius, Percent};

/// What expanded uncertainties are given for.
pub const COVERAGE: Percent = Percent(95.0);

/// The kernels of a channel, with room for every gauge factor.
pub struct Live {
    all: Kernel,
    /// Of each input with finite degrees of freedom, alone, and their number.
    estimated: Vec<(Kernel, f64)>,
    exact: f64,
}

type Kernel = UncertaintyKernel<f64, 1>;

/// Of one sample, in microstrain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SampleUncertainty {
    /// One standard deviation.
    pub standard: f64,
    /// For a coverage of 95 %: Student's t for the effective degrees of freedom, rounded down, times the standard uncertainty.
    pub expanded: f64,
}

impl Live {
    /// # Errors
    /// As the library's.
    pub fn of(stated: &Stated) -> Result<Self, Error> {
        let alone = stated.estimated.iter();
        Ok(Self {
            all: stated.uncertainties.try_float64()?,
            estimated: alone
                .map(|(alone, degrees)| Ok((alone.try_float64()?, *degrees)))
                .collect::<Result<_, Error>>()?,
            exact: coverage_factor(COVERAGE, u32::MAX)?,
        })
    }

    /// What is left to do while the temperature stays.
    ///
    /// # Errors
    /// A temperature out of the channel's range.
    pub fn at(&self, temperature: Celsius) -> Result<LivePoint, Error> {
        Ok(LivePoint {
            all: self.all.at(temperature)?,
            estimated: self
                .estimated
                .iter()
                .map(|(kernel, degrees)| Ok((kernel.at(temperature)?, *degrees)))
                .collect::<Result<_, Error>>()?,
            exact: self.exact,
        })
    }

    /// Of samples, each with a temperature in the channel's range and a strain in microstrain, as far as they have these.
    ///
    /// # Errors
    /// A temperature out of the channel's range.
    pub fn samples(
        &self,
        samples: impl Iterator<Item = Option<(Celsius, f64)>>,
    ) -> Result<Vec<Option<SampleUncertainty>>, Error> {
        let mut last: Option<(Celsius, LivePoint)> = None;
        samples
            .map(|sample| {
                let Some((temperature, microstrain)) = sample else { return Ok(None) };
                let point = match last.take() {
                    Some((then, point)) if then == temperature => point,
                    _ => self.at(temperature)?,
                };
                let of_sample = point.sample(microstrain)?;
                last = Some((temperature, point));
                Ok(Some(of_sample))
            })
            .collect()
    }
}

/// The constants of a temperature.
pub struct LivePoint {
    all: UncertaintyPoint<f64>,
    estimated: Vec<(UncertaintyPoint<f64>, f64)>,
    exact: f64,
}

impl LivePoint {
    /// Of a strain in microstrain.
    ///
    /// # Errors
    /// None: the coverage is one that the library has.
    pub fn sample(&self, microstrain: f64) -> Result<SampleUncertainty, Error> {
        let strain = microstrain * 1e-6;
        let standard = self.all.standard(strain);
        let factor = if self.estimated.is_empty() {
            self.exact
        } else {
            let parts = self.estimated.iter().map(|(alone, degrees)| (alone.standard(strain), *degrees));
            // A conversion keeps what is infinite at the largest number; at least one but for rounding.
            coverage_factor(COVERAGE, (welch_satterthwaite(standard, parts) as u32).max(1))?
        };
        Ok(SampleUncertainty { standard: standard * 1e6, expanded: factor * standard * 1e6 })
    }
}
