//! A rotated curve made ready for many evaluations, and the search for its extremes.

use crate::channel::{Bonded, Gauge, MismatchScale};
use crate::commissioning::expansion::Expansion;
use crate::error::{Error, try_const};
use crate::kernel::model::{mismatch_factor, thermal_of};
use crate::numeric::{Polynomial, by_golden_section, place_of_maximum};
use crate::units::Celsius;

/// Two materials of which one at least has more than a coefficient.
#[derive(Clone, Copy)]
struct Laws<'a> {
    specimen: Expansion<'a>,
    material: Expansion<'a>,
    reference: f64,
    /// Against degrees Celsius: what their difference is multiplied by.
    factor: Polynomial,
}

/// Thermal output in microstrain against degrees Celsius.
#[derive(Clone, Copy)]
pub(super) struct Ready<'a> {
    /// Package curve and all of the rotation that goes straight with temperature, times a gauge factor.
    straight: Polynomial,
    laws: Option<Laws<'a>>,
    /// From gauge factor times strain to microstrain.
    unit: f64,
    balance: f64,
}

/// What is looked for.
#[derive(Clone, Copy)]
pub(super) enum Aim {
    Highest,
    Lowest,
    Steepest,
    /// Farthest from the value at a temperature that is off by no more than this.
    Misread(f64),
}

impl<'a> Ready<'a> {
    /// Of parts that are checked. `tilt` is what expands less at every temperature, 1/C.
    pub const fn new(
        gauge: Gauge,
        specimen: Expansion<'a>,
        material: Expansion<'a>,
        tilt: f64,
        scale: MismatchScale,
        instrument_factor: f64,
    ) -> Self {
        let (mismatch, laws) = match (specimen.only_coefficient(), material.only_coefficient()) {
            (Some(specimen), Some(material)) => (specimen - material - tilt, None),
            _ => {
                let factor = mismatch_factor(&gauge, scale);
                (-tilt, Some(Laws { specimen, material, reference: gauge.reference, factor }))
            }
        };
        let temperatures = (Celsius(gauge.thermal_output.low), Celsius(gauge.thermal_output.high));
        let bonded = Bonded { gauge, mismatch, balance: None, temperatures };
        let straight = thermal_of(&bonded, scale, false);
        Self { straight, laws, unit: 1e6 / instrument_factor, balance: 0.0 }
    }

    /// Counted from the value at a temperature.
    pub const fn balanced(mut self, temperature: f64) -> Result<Self, Error> {
        let (value, _) = try_const!(self.at(temperature));
        self.balance += value;
        Ok(self)
    }

    /// Value and slope.
    pub const fn at(&self, temperature: f64) -> Result<(f64, f64), Error> {
        let (mut value, mut slope) = self.straight.value_and_slope(temperature);
        if let Some(laws) = &self.laws {
            let specimen = try_const!(laws.specimen.strain_and_slope(laws.reference, temperature));
            let material = try_const!(laws.material.strain_and_slope(laws.reference, temperature));
            let apart = (specimen.0 - material.0, specimen.1 - material.1);
            let factor = laws.factor.value_and_slope(temperature);
            value += factor.0 * apart.0;
            slope += factor.0 * apart.1 + factor.1 * apart.0;
        }
        Ok((value * self.unit - self.balance, slope * self.unit))
    }

    pub fn value(&self, temperature: f64) -> Result<f64, Error> {
        Ok(self.at(temperature)?.0)
    }

    /// The temperature between these two at which the aim is met best: in 64 even steps, or a quarter of the finest
    /// step of a table, every place that is better than its neighbours, and from there by golden section.
    pub fn best(&self, aim: Aim, low: f64, high: f64) -> Result<f64, Error> {
        place_of_maximum(|temperature| self.score(aim, temperature), (low, high), self.steps(high - low))
    }

    /// Of the temperatures that may be shown for this one, the one that is farthest off in thermal output.
    pub fn misread(&self, temperature: f64, error: f64) -> Result<f64, Error> {
        let here = self.value(temperature)?;
        let eighth = error / 8.0;
        let (mut at, mut most) = (8, -1.0);
        let mut k = -8;
        while k <= 8 {
            let off = (self.value(temperature + eighth * k as f64)? - here).abs();
            if off > most {
                (at, most) = (k, off);
            }
            k += 1;
        }
        let shown = temperature + eighth * at as f64;
        if at == 8 || at == -8 || eighth == 0.0 {
            return Ok(shown);
        }
        // A peak or a valley lies nearer than the largest error.
        let aim = if self.value(shown)? > here { Aim::Highest } else { Aim::Lowest };
        by_golden_section(|temperature| self.score(aim, temperature), shown - eighth, shown + eighth)
    }

    fn score(&self, aim: Aim, temperature: f64) -> Result<f64, Error> {
        let (value, slope) = self.at(temperature)?;
        Ok(match aim {
            Aim::Highest => value,
            Aim::Lowest => -value,
            Aim::Steepest => slope.abs(),
            Aim::Misread(error) => {
                let shown = self.misread(temperature, error)?;
                (self.value(shown)? - value).abs()
            }
        })
    }

    const fn steps(&self, width: f64) -> usize {
        let finest = match &self.laws {
            Some(laws) => laws.specimen.finest().min(laws.material.finest()),
            None => f64::INFINITY,
        };
        let quarters = 4.0 * width / finest;
        if quarters > 1024.0 {
            1024
        } else if quarters > 64.0 {
            quarters as usize + 1
        } else {
            64
        }
    }
}
