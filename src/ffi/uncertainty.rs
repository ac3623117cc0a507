//! The standard uncertainty of each sample.

use super::pointer::{LayoutCompatible, as_ref, finish};
use super::*;
use crate::fixed::{Strain, Temperature};
use crate::uncertainty::{FixedUncertaintyPoint, UncertaintyKernel};

/// Constants of a channel's uncertainty, for every kind of gauge factor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(C)]
pub struct gw_uncertainty {
    /// Numbers as the library has them.
    pub words: [u32; 50],
}

/// The uncertainty at one temperature, made by gw_uncertainty_at.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_uncertainty_point {
    /// Numbers as the library has them.
    pub words: [u32; 6],
}

// SAFETY: integers and floats of one word each; the size leaves no padding.
unsafe impl LayoutCompatible for gw_uncertainty {
    type Viewed = UncertaintyKernel<f32, 1>;
}

// SAFETY: six words.
unsafe impl LayoutCompatible for gw_uncertainty_point {
    type Viewed = FixedUncertaintyPoint;
}

/// The uncertainty at a temperature (Q20 degrees Celsius), in single precision. GW_STATUS_INVALID for a
/// temperature outside the channel's range, GW_STATUS_OVERFLOW where an uncertainty could exceed 125 000 microstrain.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{error::Field, example::STRUT, ffi::*, uncertainty::StandardUncertainties, units::*};
/// let stated = StandardUncertainties::for_channel(STRUT).of_gauge_factor(Percent(1.0));
/// let uncertainty = gw_uncertainty::of(stated.try_float32()?);
/// let (mut point, mut error) = (gw_uncertainty_point::default(), gw_error::default());
/// // Safe: all of them live here.
/// let status = unsafe { gw_uncertainty_at(&uncertainty, 20 << 20, &mut point, &mut error) };
/// assert_eq!(status, GW_STATUS_OK);
/// let status = unsafe { gw_uncertainty_at(&uncertainty, 500 << 20, &mut point, &mut error) };
/// assert_eq!((status, error.field), (GW_STATUS_INVALID, Field::Temperature.number()));
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_uncertainty_at(
    uncertainty: *const gw_uncertainty,
    temperature: i32,
    point: *mut gw_uncertainty_point,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    let made = unsafe { as_ref(uncertainty) }.map(|uncertainty| {
        let at = uncertainty.viewed().at(Temperature::from_bits(temperature).celsius());
        at.and_then(|at| at.try_fixed()).map(gw_uncertainty_point::of)
    });
    // SAFETY: as required of the caller.
    unsafe { finish(made, point, error) }
}

/// Combined standard uncertainty of a strain, both Q34, in integers: never below that of the channel's constants, and at most 10 steps
/// (0.6 nanostrain) and 8 parts in a million above. Any strain. -1 for a null pointer.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{example::STRUT, ffi::*, uncertainty::StandardUncertainties, units::*};
/// let stated = StandardUncertainties::for_channel(STRUT).of_thermal_output(Microstrain(3.0));
/// let uncertainty = gw_uncertainty::of(stated.try_float32()?);
/// let mut point = gw_uncertainty_point::default();
/// // Safe: all of them live here.
/// let status = unsafe { gw_uncertainty_at(&uncertainty, 24 << 20, &mut point, std::ptr::null_mut()) };
/// let standard = unsafe { gw_uncertainty_standard(&point, 1_000_000) };
/// // Three microstrain as the package states them, for a gauge factor of 2; the gauge has 2.065.
/// assert!(status == GW_STATUS_OK && (gw_nanostrain(standard) - 3_000 * 2_000 / 2_065).abs() <= 1);
/// assert_eq!(unsafe { gw_uncertainty_standard(std::ptr::null(), 0) }, -1);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_uncertainty_standard(point: *const gw_uncertainty_point, strain: i32) -> i32 {
    // SAFETY: as required of the caller.
    match unsafe { as_ref(point) } {
        Some(point) => point.viewed().standard(Strain::from_bits(strain)).to_bits(),
        None => -1,
    }
}
