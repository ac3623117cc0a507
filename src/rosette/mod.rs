//! Rosettes: from the strains of several grids at one place to principal strains and stresses.
//!
//! One gauge sees the strain along its grid, and a little of that across. Three grids at different angles see
//! the whole state of strain of a surface: two principal strains, at right angles, and their direction. From
//! these and the material follow the stresses of a free surface (plane stress). Two grids are enough where the principal directions
//! are known, and four or more can [contradict each other](#more-grids-and-fewer).
//!
//! ```
//! use gaugewright::{rosette::{RosetteKernel, Material, Rosette}, units::*};
//!
//! const ROSETTE: Rosette =
//!     Rosette::rectangular().transverse_sensitivity([Percent(0.7), Percent(0.9), Percent(0.7)]);
//! static KERNEL: RosetteKernel<f32> = ROSETTE.float32();
//! // For illustration: take the numbers of your material.
//! const ALUMINIUM: Material = Material::new(Gigapascals(69.0), 0.33)
//!     .modulus_slope(PercentPer100C(-5.0), Celsius(20.0))
//!     .between(Celsius(-80.0), Celsius(100.0));
//!
//! // When the temperature changed:
//! let elasticity = ALUMINIUM.at(Celsius(-56.5))?.float32();
//! // Every sample: three strains, each corrected by its own channel.
//! let strain = KERNEL.strain([812e-6, 350e-6, -244e-6]);
//! let principal = strain.principal();
//! let stress = elasticity.stress(&strain).principal();
//! println!("{:e} and {:e}", principal.first, principal.second);
//! if let Some(direction) = principal.direction {
//!     println!("the first is {direction} from grid a");
//! }
//! assert!(stress.von_mises > Megapascals(50.0_f32));
//! # Ok::<(), gaugewright::Error>(())
//! ```
//!
//! # Signs
//!
//! They hold for everything in this module and are not repeated elsewhere.
//!
//! - Looking at the gauged surface, angles are **positive counter-clockwise**, from the x axis. The x axis is
//!   grid a, unless [`turned`](Rosette::turned) or [`at_angles`](Rosette::at_angles) sets another. Grids b
//!   and c are numbered the same way round: a rosette whose labels run clockwise has negative angles.
//! - Strain and stress are positive in tension. *First* is the algebraically larger principal value, so the
//!   second may have the larger magnitude. The direction is that **of the first**, over -90 degrees and up to
//!   +90; that of the second is at right angles.
//! - Shear strain is engineering shear, positive where the right angle between x and y gets smaller. Written
//!   as an angle in radians it is twice the tensor's component, which is what *half shear* names.
//!
//! # What goes in
//!
//! Mechanical strain of each grid, as a [`Channel`](crate::Channel) gives it: thermal output subtracted and
//! the gauge factor taken at temperature, for each grid with its own package data. Transverse sensitivity
//! comes after, here, since it needs all three: a grid shows `(e_axial + K_t e_transverse) / (1 - nu_0 K_t)`,
//! because its gauge factor was calibrated in uniaxial stress on a beam of Poisson ratio `nu_0` (ASTM E251).
//! Such equations are solved for the state of strain, with a `K_t` for each grid.
//!
//! | arithmetic | what | error |
//! |---|---|---|
//! | `f64` | [`RosetteKernel<f64>`](RosetteKernel), everything that follows from it | some 1e-15 of the strains |
//! | `f32` | [`RosetteKernel<f32>`](RosetteKernel), everything that follows from it | see [`RosetteKernel`] |
//! | integers | [`FixedRosetteKernel`]: state of strain, principal strains, greatest shear | [`Rosette::fixed_error`] |
//!
//! For a delta rosette and grids within 2000 microstrain, the principal strains in integers are within 0.11 nanostrain of the
//! exact ones. Checked against 621 states of strain that were computed with 60 digits, and closed forms.
//!
//! Not in integers: the direction, which needs an arc tangent, and stresses, whose constants are hardly known
//! to 1 %. A [`FixedStrain`] turns into either floating point for them.
//!
//! # From codes to stress
//!
//! ```
//! use gaugewright::fixed::Temperature;
//! use gaugewright::float;
//! use gaugewright::rosette::{GridUncertainty, RosetteKernel, Material, Rosette};
//! use gaugewright::units::*;
//! use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput};
//!
//! const fn gauge(transverse: f64) -> Gauge {
//!     Gauge::new(GaugeFactor(2.065)).transverse_sensitivity(Percent(transverse)).thermal_output(
//!         ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
//!             .between(Celsius(-80.0), Celsius(120.0)),
//!     )
//! }
//! const GAUGES: [Gauge; 3] = [gauge(0.6), gauge(0.8), gauge(0.6)];
//! const fn grid(gauge: Gauge) -> float::Kernel<f32> {
//!     let bridge = Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2));
//!     Channel::new(gauge, bridge, Converter::bipolar(24, Ratio(1.0 / 128.0))).float32()
//! }
//! static GRIDS: [float::Kernel<f32>; 3] = [grid(GAUGES[0]), grid(GAUGES[1]), grid(GAUGES[2])];
//! // Bonded with grid a 10 degrees counter-clockwise from the strut's axis.
//! static ROSETTE: RosetteKernel<f32> = Rosette::rectangular().turned(Degrees(10.0)).gauges(&GAUGES).float32();
//! // For illustration: take the numbers of your material.
//! const STRUT: Material = Material::new(Gigapascals(69.0), 0.33)
//!     .modulus_slope(PercentPer100C(-5.0), Celsius(20.0))
//!     .between(Celsius(-80.0), Celsius(120.0))
//!     .modulus_uncertainty(Percent(1.0));
//!
//! fn main() -> Result<(), gaugewright::Error> {
//!     // Noise of each grid, and half a degree of a thermometer that all three share.
//!     let grids = GridUncertainty::independent([Microstrain(2.0); 3])?.shared([Microstrain(4.0); 3])?;
//!     let covariance = ROSETTE.covariance(&grids);
//!
//!     // On each temperature update:
//!     let temperature = Temperature::from_celsius(Celsius(-40.0))?;
//!     let elasticity = STRUT.at(temperature.celsius())?.float32();
//!     // Every sample:
//!     let codes = [1_050_000, 420_000, -680_000];
//!     let strain = ROSETTE.reading([0, 1, 2].map(|k| GRIDS[k].reading(codes[k], temperature)));
//!     assert!(strain.flags.is_clear());
//!     let stress = elasticity.estimate(&strain.strain, &covariance);
//!     assert_eq!(format!("{:.1}", stress.von_mises), "161.7 MPa +- 1.6 MPa");
//!     // Nothing where the principal strains are too nearly equal to have a direction.
//!     assert_eq!(format!("{:.2}", stress.direction.unwrap()), "17.55 degrees +- 0.04 degrees");
//!     Ok(())
//! }
//! ```
//!
//! # More grids, and fewer
//!
//! The number of grids is a parameter of the types: [`Rosette<2>`](Rosette) along known principal directions, `Rosette<4>` and more by
//! least squares. All of this module holds for them, in integers too.
//!
//! ```
//! use gaugewright::{rosette::{GridUncertainty, Rosette}, units::*};
//! // A pressure vessel: the hoop direction is the x axis, the other principal direction is along the vessel.
//! const VESSEL: Rosette<2> =
//!     Rosette::at_angles([Degrees(0.0), Degrees(90.0)]).transverse_sensitivity([Percent(0.7); 2]);
//! let principal = VESSEL.float64().strain([810e-6, 195e-6]).principal();
//! assert_eq!(format!("{:.1} {:.1}", principal.first * 1e6, principal.second * 1e6), "807.1 189.0");
//!
//! // Four grids: one too many, which shows that one of them is wrong.
//! const STAR: Rosette<4> = Rosette::at_angles([Degrees(0.0), Degrees(45.0), Degrees(90.0), Degrees(135.0)]);
//! let check = STAR.residual_check(&GridUncertainty::independent([Microstrain(2.0); 4])?)?;
//! let shown = [812e-6, 350e-6, -244e-6, 260e-6];
//! assert!(check.largest(shown).in_standard_uncertainties() > 3.0); // the sums of both pairs differ by 42 microstrain
//! # Ok::<(), gaugewright::Error>(())
//! ```
//!
//! # Uncertainty
//!
//! [`GridUncertainty`] has the uncertainties of the grids' strains and what they share, [`RosetteKernel::covariance`]
//! turns that into six constants, and `estimate` gives each result with its standard uncertainty, to first
//! order (JCGM 100:2008). [`AngleUncertainty`] has what errors of the grids' angles, and of the angle of the whole, add to it. Equal
//! principal strains have no direction, and nearly equal ones none that means
//! anything: then there is no direction, and the uncertainties are upper bounds, see [`StrainEstimate`].
//! Strains that are numbers never give a NaN.
//!
//! # What is left out
//!
//! Strain is taken as the same under all grids: where it changes
//! from one to the next (notches, holes) a rosette does not see a point; more than three grids show it in a [`ResidualCheck`].
//! Transverse sensitivity has no uncertainty here, nor a change with temperature: 0.1 % of it is worth 0.1 % of the strain across a
//! grid.
//!
//! # Caution
//!
//! Stress is computed and not measured: for an isotropic, linearly elastic material below yield, with no load
//! on the surface itself, from the change of strain since the bridge was balanced. Residual stress and dead
//! load are not in it; a composite, a weld, or a part that has yielded has other stresses. An equivalent
//! stress below a limit is no proof that a part is safe: fatigue, buckling, fracture, and places without a
//! gauge are outside its view. People can be hurt where stress is judged: follow the codes that apply, have
//! installation and conclusions checked by a licensed engineer, and never let a computed stress be the only
//! barrier between a load and a person.
#![doc = include_str!("design.md")]

mod angle_uncertainty;
mod circle;
mod covariance;
mod estimate;
mod fixed;
mod kernel;
mod layout;
mod least_squares;
mod material;
mod residual_check;
mod strain;
mod stress;
mod stress_estimate;

pub use angle_uncertainty::AngleUncertainty;
pub use covariance::{Covariance, GridUncertainty};
pub use estimate::{Estimate, StrainEstimate};
pub use fixed::{FixedError, FixedPrincipal, FixedRosetteKernel, FixedStrain};
pub use kernel::RosetteKernel;
pub use layout::Rosette;
pub use material::{Elasticity, Material};
pub use residual_check::{Residual, ResidualCheck};
pub use strain::{PlaneStrain, PrincipalStrain};
pub use stress::{PlaneStress, PrincipalStress};
pub use stress_estimate::StressEstimate;
