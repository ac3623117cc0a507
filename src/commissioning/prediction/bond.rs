//! A foil on a specimen: how far the specimen strains it, and what that does to its resistance.

use crate::channel::Gauge;
use crate::channel::check::check_factor;
use crate::commissioning::expansion::Expansion;
use crate::error::{Error, Field, try_const, within};
use crate::units::Celsius;

/// What is not known exactly of it.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Source {
    SpecimenCoefficient,
    SpecimenFraction,
    GridCoefficient,
    GridFraction,
    GaugeFactor,
}

impl Source {
    pub const ALL: [Self; 5] = [
        Self::SpecimenCoefficient,
        Self::SpecimenFraction,
        Self::GridCoefficient,
        Self::GridFraction,
        Self::GaugeFactor,
    ];
}

#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(super) struct Bond<'a> {
    pub gauge: Gauge,
    pub grid: Expansion<'a>,
    pub specimen: Expansion<'a>,
    /// Relative standard uncertainty of the gauge factor.
    pub factor_uncertainty: f64,
}

impl Bond<'_> {
    /// The temperatures at which both expansions are known.
    pub const fn range(&self) -> (f64, f64) {
        let (grid, specimen) = (self.grid.range(), self.specimen.range());
        (grid.0.0.max(specimen.0.0), grid.1.0.min(specimen.1.0))
    }

    pub const fn check(&self) -> Result<(), Error> {
        // Its thermal output is what is looked for, or given apart.
        try_const!(self.gauge.check(false));
        try_const!(self.grid.check());
        try_const!(self.specimen.check());
        try_const!(Field::GaugeFactorUncertainty.check(self.factor_uncertainty * 100.0));
        let (grid, specimen) = (self.grid.range(), self.specimen.range());
        try_const!(within(Field::ReferenceTemperature, self.gauge.reference, grid.0.0, grid.1.0));
        try_const!(within(Field::ReferenceTemperature, self.gauge.reference, specimen.0.0, specimen.1.0));
        let (low, high) = self.range();
        check_factor(&self.gauge, low, high)
    }

    /// Relative change of resistance by the strain that the specimen forces on the foil, and its slope: gauge factor
    /// at temperature times the strain, in both directions.
    pub const fn forced(&self, temperature: f64) -> Result<(f64, f64), Error> {
        let reference = self.gauge.reference;
        let (specimen, specimen_slope) = try_const!(self.specimen.strain_and_slope(reference, temperature));
        let (grid, grid_slope) = try_const!(self.grid.strain_and_slope(reference, temperature));
        let strain = (specimen - grid) / (1.0 + grid);
        let slope = (specimen_slope - (1.0 + strain) * grid_slope) / (1.0 + grid);
        let (factor, factor_slope) = self.gauge.factor_polynomial().value_and_slope(temperature);
        let gain = self.gauge.equibiaxial_gain();
        Ok((gain * factor * strain, gain * (factor * slope + factor_slope * strain)))
    }

    /// The same, without the slope, with one thing off by its standard uncertainty.
    pub const fn forced_off(&self, temperature: f64, off: Source) -> Result<f64, Error> {
        let reference = self.gauge.reference;
        let (mut specimen, _) = try_const!(self.specimen.strain_and_slope(reference, temperature));
        let (mut grid, _) = try_const!(self.grid.strain_and_slope(reference, temperature));
        let apart = temperature - reference;
        let mut factor = self.gauge.gauge_factor_at(Celsius(temperature)).0;
        match off {
            Source::SpecimenCoefficient => specimen += self.specimen.errors(apart, specimen).0,
            Source::SpecimenFraction => specimen += self.specimen.errors(apart, specimen).1,
            Source::GridCoefficient => grid += self.grid.errors(apart, grid).0,
            Source::GridFraction => grid += self.grid.errors(apart, grid).1,
            Source::GaugeFactor => factor *= 1.0 + self.factor_uncertainty,
        }
        Ok(self.gauge.equibiaxial_gain() * factor * (specimen - grid) / (1.0 + grid))
    }

    /// First-order contributions to the forced change: of the specimen, of the grid, of the gauge factor.
    pub fn contributions(&self, temperature: f64) -> Result<[f64; 3], Error> {
        let reference = self.gauge.reference;
        let (specimen, _) = self.specimen.strain_and_slope(reference, temperature)?;
        let (grid, _) = self.grid.strain_and_slope(reference, temperature)?;
        let apart = temperature - reference;
        let gain = self.gauge.equibiaxial_gain() * self.gauge.gauge_factor_at(Celsius(temperature)).0;
        let both = |(by_coefficient, by_fraction): (f64, f64)| libm::hypot(by_coefficient, by_fraction);
        Ok([
            (gain / (1.0 + grid)).abs() * both(self.specimen.errors(apart, specimen)),
            (gain * (1.0 + specimen) / ((1.0 + grid) * (1.0 + grid))).abs()
                * both(self.grid.errors(apart, grid)),
            (gain * (specimen - grid) / (1.0 + grid)).abs() * self.factor_uncertainty,
        ])
    }
}
