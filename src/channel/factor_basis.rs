//! Which resistance a gauge factor refers to: what the product of thermal and mechanical change is worth.

use super::Gauge;
use crate::error::{Error, Field, try_const};
use crate::numeric::Polynomial;
use crate::units::ExpansionPerCelsius;

/// The resistance that the gauge factor at temperature is the relative slope over.
///
/// A gauge that is hot *and* strained changes by the product of both changes. How much of that product the gauge
/// factor already contains depends on how the gauge factor at temperature was measured. With `y` the relative change of
/// resistance since balance, `tau` that of the unloaded bonded gauge (thermal output) and `F` the gauge factor, all at
/// one temperature, mechanical strain is
///
/// | basis | strain |
/// |---|---|
/// | [`AtBalance`](Self::AtBalance) | `(y - tau) / F` |
/// | [`UnloadedGauge`](Self::UnloadedGauge) | `(y - tau) / (F (1 + tau))` |
/// | [`FreeFoil`](Self::FreeFoil) | `(y - tau) (1 + F f) / (F (1 + tau))`, `f` the strain that the specimen forces on the foil |
///
/// The three differ by `tau` and by `F f`, as parts of the strain: some tenths of a percent at a hundred degrees from
/// balance, next to nothing near it. A gauge factor that is known to half a percent may hide all of it.
///
/// # Half and full bridges
///
/// Gauges of one kind on one part at one temperature all change by the factor `1 + tau`. The ratio of two of them does not contain it, so
/// that `tau` is zero above. This is what is left of it then, as a part of the strain:
///
/// | circuit | unloaded gauge, free foil | at balance |
/// |---|---|---|
/// | half: axial and transverse, bending, compensating gauge at the same temperature | nothing without leads; else `tau` times the resistance of a lead over that of the arm, lead included | the same, less `tau` |
/// | full: bending, axial and transverse, torsion | nothing without leads, or where the excitation is sensed at the bridge; else `tau` times the resistance of both excitation leads over the whole | the same, less `tau` |
/// | half: compensating gauge at its own temperature ([`CompensatedChannel`](crate::CompensatedChannel)) | nothing cancels exactly; both factors are in the kernel | thermal outputs are subtracted from each other |
/// | quarter, two gauges in opposite arms | nothing cancels; `tau` is in the kernel | thermal output is subtracted |
///
/// A lead of 7 ohm beside a gauge of 350 ohm leaves a fiftieth of `tau`. The forced strain of the free foil does not cancel in any circuit: `F f` is in
/// the kernel of each. The fit of `F / (1 + F f)` is compiled out of kernels that have no constant of the product. So a gauge factor that
/// refers to the free foil takes a kernel with one in every circuit (`Kernel<4, 1, 1>`; the constant is zero where `tau` cancels), unless the
/// channel's [`Correction`](crate::Correction) leaves the gauge factor as it is. One that refers to the unloaded gauge takes the usual kernel where
/// `tau` cancels.
///
/// ```
/// use gaugewright::{Gauge, channel::{ForcedStrain, GaugeFactorBasis}, units::*};
/// let forced = ForcedStrain::by_expansion(ExpansionPerCelsius::ppm(14.7), ExpansionPerCelsius::ppm(23.1));
/// let gauge = Gauge::new(GaugeFactor(2.065)).gauge_factor_basis(GaugeFactorBasis::FreeFoil(forced));
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub enum GaugeFactorBasis {
    /// The resistance at balance. Thermal output is subtracted, then the strain is scaled. The default.
    #[default]
    AtBalance,
    /// The resistance of the bonded gauge at its temperature, without load: the gauge factor was measured on a loaded part
    /// in a chamber, and the bridge was balanced again at each temperature.
    UnloadedGauge,
    /// The resistance of the free foil at its temperature: the gauge factor comes from the foil's own constants.
    FreeFoil(ForcedStrain),
}

/// The strain that a specimen forces on the foil of an unloaded gauge, in both directions, because the two expand
/// differently: a polynomial of degree three at most against the temperature above the gauge's reference temperature.
///
/// ```
/// use gaugewright::{channel::ForcedStrain, units::*};
/// let forced = ForcedStrain::by_expansion(ExpansionPerCelsius::ppm(11.0), ExpansionPerCelsius::ppm(23.0));
/// // Twelve microstrain a degree.
/// assert_eq!(forced, ForcedStrain::per_degree([0.0, 12.0]));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct ForcedStrain {
    pub(crate) coefficients: [f64; 4],
}

impl ForcedStrain {
    /// Coefficients in microstrain per degree Celsius above the gauge's reference temperature to the power of the index,
    /// ascending: up to four. The first is zero where the gauge was bonded and its thermal output counts from the reference.
    ///
    /// ```
    /// use gaugewright::channel::ForcedStrain;
    /// let forced = ForcedStrain::per_degree([0.0, 8.4, 3.6e-3, -1e-6]);
    /// ```
    #[must_use]
    pub const fn per_degree<const N: usize>(ascending: [f64; N]) -> Self {
        const { assert!(N <= 4, "a forced strain has four coefficients at most: degree three") };
        let [a, b, c, d, ..] = Polynomial::new(ascending).coefficients();
        Self { coefficients: [a, b, c, d] }
    }

    /// From the expansion coefficients of the foil's own metal and of the specimen.
    ///
    /// ```
    /// use gaugewright::{channel::ForcedStrain, units::*};
    /// let forced = ForcedStrain::by_expansion(ExpansionPerCelsius::ppm(14.0), ExpansionPerCelsius::ppm(11.0));
    /// ```
    #[must_use]
    pub const fn by_expansion(foil: ExpansionPerCelsius, specimen: ExpansionPerCelsius) -> Self {
        Self { coefficients: [0.0, (specimen.0 * 1e6 - foil.0 * 1e6), 0.0, 0.0] }
    }
}

impl Gauge {
    /// The resistance that the gauge factor refers to; that at balance by default. Kernels for the other two have a
    /// constant more: `Kernel<4, 1, 1>`. [`GaugeFactorBasis`] has the circuits that need none.
    ///
    /// ```
    /// use gaugewright::{Gauge, channel::GaugeFactorBasis, units::*};
    /// let gauge = Gauge::new(GaugeFactor(2.1)).gauge_factor_basis(GaugeFactorBasis::UnloadedGauge);
    /// ```
    #[must_use]
    pub const fn gauge_factor_basis(mut self, basis: GaugeFactorBasis) -> Self {
        self.basis = basis;
        self
    }

    /// The part by which a forced strain changes the free foil, against degrees Celsius, without the gauge factor. None for
    /// a gauge factor that refers to another resistance.
    pub(crate) const fn forced(&self) -> Option<Polynomial> {
        match self.basis {
            GaugeFactorBasis::FreeFoil(forced) => Some(
                Polynomial::new(forced.coefficients)
                    .substitute(-self.reference, 1.0)
                    .times(1e-6 * self.equibiaxial_gain()),
            ),
            _ => None,
        }
    }

    pub(crate) const fn refers_to_free_foil(&self) -> bool {
        matches!(self.basis, GaugeFactorBasis::FreeFoil(_))
    }

    /// The product of thermal and mechanical change is part of the model.
    pub(crate) const fn has_product(&self) -> bool {
        !matches!(self.basis, GaugeFactorBasis::AtBalance)
    }

    pub(super) const fn check_basis(&self) -> Result<(), Error> {
        let GaugeFactorBasis::FreeFoil(forced) = self.basis else { return Ok(()) };
        let mut k = 0;
        while k < forced.coefficients.len() {
            try_const!(Field::ForcedStrainCoefficient.check(forced.coefficients[k]));
            k += 1;
        }
        Ok(())
    }
}
