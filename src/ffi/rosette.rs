//! Rosettes: three readings to the state of strain, principal strains, their direction, and stresses.

use super::pointer::{LayoutCompatible, as_ref, finish, write};
use super::*;
use crate::rosette::{FixedRosetteKernel, FixedStrain, Material};
use crate::sample::Strain;
use crate::units::{Celsius, Gigapascals};

/// Constants of a rosette of three grids, for angles and transverse sensitivities.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_rosette {
    /// Numbers as the library has them.
    pub words: [u32; 9],
}

// SAFETY: nine integers of a word.
unsafe impl LayoutCompatible for gw_rosette {
    type Viewed = FixedRosetteKernel;
}

/// State of strain of a surface, Q34. Along x it is mean + half_difference, along y mean - half_difference.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_plane_strain {
    /// Mean of two strains at right angles.
    pub mean: i32,
    /// Half of strain along x less strain along y.
    pub half_difference: i32,
    /// Half of the engineering shear strain, positive where the right angle between x and y gets smaller.
    pub half_shear: i32,
    /// GW_FLAG_... of the grids, and of a component that was clamped.
    pub flags: u32,
}

/// Principal strains, Q34.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_principal {
    /// The larger strain.
    pub first: i32,
    /// The smaller strain.
    pub second: i32,
    /// Half the greatest engineering shear strain in the plane.
    pub half_shear: i32,
    /// GW_FLAG_... of the state, and of a strain that was clamped.
    pub flags: u32,
}

/// Elastic constants at the temperature of the part.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[repr(C)]
pub struct gw_elasticity {
    /// Elastic modulus, GPa; 0.001 to 2000.
    pub modulus: f32,
    /// Poisson ratio, 0 to 0.5.
    pub poisson_ratio: f32,
}

/// Principal stresses of a free surface (plane stress).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
#[repr(C)]
pub struct gw_stress {
    /// The larger one, MPa; its direction is that of the first strain.
    pub first: f32,
    /// The smaller one, MPa.
    pub second: f32,
    /// Greatest shear in the plane, MPa.
    pub in_plane_shear: f32,
    /// Equivalent stress after von Mises, MPa.
    pub von_mises: f32,
    /// Equivalent stress after Tresca, MPa.
    pub tresca: f32,
    /// GW_FLAG_... of the state of strain.
    pub flags: u32,
}

impl gw_plane_strain {
    const fn value(&self) -> FixedStrain {
        FixedStrain { mean: self.mean, difference: self.half_difference, shear: self.half_shear }
    }
}

/// State of strain from the mechanical strains of grids a, b and c: `grids` are three readings, whose flags it has too.
/// Rounded once to nearest; a component beyond the format is clamped, with GW_FLAG_STRAIN_OUTSIDE.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{ffi::*, rosette::Rosette};
/// let rosette = gw_rosette::of(Rosette::rectangular().fixed());
/// let grids = [500, 200, -100].map(|strain| gw_reading { strain, flags: 0 });
/// let mut state = gw_plane_strain::default();
/// // Safe: all of them live here.
/// assert_eq!(unsafe { gw_rosette_strain(&rosette, grids.as_ptr(), &mut state) }, GW_STATUS_OK);
/// assert_eq!(state, gw_plane_strain { mean: 200, half_difference: 300, half_shear: 0, flags: 0 });
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_rosette_strain(
    rosette: *const gw_rosette,
    grids: *const gw_reading,
    strain: *mut gw_plane_strain,
) -> gw_status {
    // SAFETY: as required of the caller; an array has the alignment of its elements.
    let (rosette, grids) = unsafe { (as_ref(rosette), as_ref(grids.cast::<[gw_reading; 3]>())) };
    let (Some(rosette), Some(grids)) = (rosette, grids) else { return GW_STATUS_NULL };
    let [a, b, c] = *grids;
    let state = rosette.viewed().strain(grids.map(|grid| Strain::from_bits(grid.strain)));
    let FixedStrain { mean, difference: half_difference, shear: half_shear } = state.strain;
    let flags = state.flags.word() as u32 | a.flags | b.flags | c.flags;
    // SAFETY: as required of the caller.
    unsafe { write(strain, gw_plane_strain { mean, half_difference, half_shear, flags }) }
}

/// Principal strains of a state of strain, in integers. The root is rounded to nearest; what is beyond the format is
/// clamped, with GW_FLAG_STRAIN_OUTSIDE.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// let state = gw_plane_strain { mean: 100, half_difference: 300, half_shear: 400, flags: 0 };
/// let mut principal = gw_principal::default();
/// // Safe: both live here.
/// assert_eq!(unsafe { gw_principal_strain(&state, &mut principal) }, GW_STATUS_OK);
/// assert_eq!(principal, gw_principal { first: 600, second: -400, half_shear: 500, flags: 0 });
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_principal_strain(
    strain: *const gw_plane_strain,
    principal: *mut gw_principal,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(state) = (unsafe { as_ref(strain) }) else { return GW_STATUS_NULL };
    let found = state.value().principal();
    let made = gw_principal {
        first: found.strain.first.to_bits(),
        second: found.strain.second.to_bits(),
        half_shear: found.strain.half_shear.to_bits(),
        flags: found.flags.word() as u32 | state.flags,
    };
    // SAFETY: as required of the caller.
    unsafe { write(principal, made) }
}

/// Direction of the first principal strain: degrees counter-clockwise from the x axis, above -90 and up to 90, in single
/// precision; NaN where both principal strains are equal, so that there is none.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// let state = gw_plane_strain { half_shear: 5_000, ..Default::default() };
/// let mut degrees = 0.0;
/// // Safe: both live here.
/// assert_eq!(unsafe { gw_principal_direction(&state, &mut degrees) }, GW_STATUS_OK);
/// assert_eq!(degrees, 45.0);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_principal_direction(
    strain: *const gw_plane_strain,
    degrees: *mut f32,
) -> gw_status {
    // SAFETY: as required of the caller.
    let Some(state) = (unsafe { as_ref(strain) }) else { return GW_STATUS_NULL };
    let direction = state.value().float32().principal().direction;
    // SAFETY: as required of the caller.
    unsafe { write(degrees, direction.map_or(f32::NAN, |direction| direction.0)) }
}

/// Principal stresses of a state of strain, in single precision, for an isotropic material below yield. GW_STATUS_INVALID for
/// elastic constants out of range. A computed stress is no proof that a part is safe.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{error::Field, ffi::*};
/// // A thousand microstrain along x; without contraction for this illustration.
/// let state = gw_plane_strain { mean: 8_589_935, half_difference: 8_589_935, ..Default::default() };
/// let (mut stress, mut error) = (gw_stress::default(), gw_error::default());
/// let material = gw_elasticity { modulus: 70.0, poisson_ratio: 0.0 };
/// // Safe: all of them live here.
/// let status = unsafe { gw_principal_stress(&state, &material, &mut stress, &mut error) };
/// assert!(status == GW_STATUS_OK && (stress.first - 70.0).abs() < 1e-4);
/// let none = gw_elasticity { poisson_ratio: 0.6, ..material };
/// assert_eq!(unsafe { gw_principal_stress(&state, &none, &mut stress, &mut error) }, GW_STATUS_INVALID);
/// assert_eq!((error.field, error.high), (Field::PoissonRatio.number(), 0.5));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_principal_stress(
    strain: *const gw_plane_strain,
    elasticity: *const gw_elasticity,
    stress: *mut gw_stress,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    let given = unsafe { as_ref(strain).zip(as_ref(elasticity)) };
    let made = given.map(|(state, &gw_elasticity { modulus, poisson_ratio })| {
        let material = Material::new(Gigapascals(modulus.into()), poisson_ratio.into());
        material.at(Celsius(0.0)).map(|elasticity| {
            let found = elasticity.float32().stress(&state.value().float32()).principal();
            gw_stress {
                first: found.first.0,
                second: found.second.0,
                in_plane_shear: found.in_plane_shear.0,
                von_mises: found.von_mises.0,
                tresca: found.tresca.0,
                flags: state.flags,
            }
        })
    });
    // SAFETY: as required of the caller.
    unsafe { finish(made, stress, error) }
}
