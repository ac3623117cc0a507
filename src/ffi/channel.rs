//! A channel as C describes it. Units are those of packages and data sheets, named at each field.

use super::choices::*;
use super::pointer::write;
use super::{gw_error, gw_status};

/// What the gauge package says. Fields marked *or NaN* are left out by NaN, which is what `gw_channel_default`
/// puts there.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct gw_gauge {
    /// Gauge factor at the reference temperature, 0.1 to 500.
    pub gauge_factor: f64,
    /// Change of the gauge factor, percent per 100 C.
    pub gauge_factor_slope: f64,
    /// Relative change of the gauge factor per C^2 and per C^3 from the reference temperature, -1 to 1; usually 0.
    pub gauge_factor_square: f64,
    /// As said for `gauge_factor_square`, per C^3.
    pub gauge_factor_cube: f64,
    /// Thermal output, microstrain per degree to its power, the constant first; -1e6 to 1e6.
    pub thermal_output: [f64; 6],
    /// The gauge factor that thermal output is stated for, usually 2.
    pub stated_for: f64,
    /// Lower end of the range that thermal output was fitted on, in C whatever its scale; -273.15 to 2047.
    pub fitted_low: f64,
    /// Upper end of that range, C.
    pub fitted_high: f64,
    /// The temperature that the gauge factor is stated at, C; usually 24.
    pub reference_temperature: f64,
    /// Expansion that the gauge is matched to, ppm per C, or NaN.
    pub matched_expansion: f64,
    /// Transverse sensitivity, percent.
    pub transverse_sensitivity: f64,
    /// Poisson ratio of the beam that the gauge factor was found on, usually 0.285.
    pub calibration_poisson_ratio: f64,
    /// With GW_BASIS_FREE_FOIL: the strain that the specimen forces on the foil, microstrain per degree from the reference
    /// temperature to its power, the constant first; -1e6 to 1e6.
    pub forced_strain: [f64; 4],
    /// Number of terms of `thermal_output` that are stated, 1 to 6; 0 if there is none.
    pub thermal_output_terms: u32,
    /// GW_SCALE_...: degrees of the polynomial.
    pub thermal_output_scale: u32,
    /// GW_BASIS_...: the resistance that the gauge factor refers to. Others than the first take a gw_large_kernel.
    pub gauge_factor_basis: u32,
    /// A number that is not used: 0.
    pub reserved: u32,
}

/// A measuring channel: gauge, circuit, leads, converter, balance, ranges and specimen. Start from
/// `gw_channel_default`, so that fields of later versions have a meaning too. Fields marked *or NaN* are left out
/// by NaN.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(C)]
pub struct gw_channel {
    /// The measuring gauge.
    pub gauge: gw_gauge,
    /// Of each gauge, ohm; 1 to 1e6.
    pub gauge_resistance: f64,
    /// Of each lead, ohm; 0 to the gauge's resistance.
    pub lead_resistance: f64,
    /// Of each lead of the output, ohm, or NaN if as the others.
    pub output_lead_resistance: f64,
    /// In arm 2 (the completion of a quarter bridge, or the second gauge), ohm; 1 to 1e6. NaN if it is not known: it is then
    /// solved from the balance code, which makes it the gauge's resistance where that code is 0 and arms 3 and 4 are equal.
    pub completion_resistance: f64,
    /// In arm 3, as `reference_lower` in arm 4, ohm; 1 to 1e7, both or NaN. Where they are NaN and arm 2 is stated, the balance
    /// code gives their division, and their parallel resistance is taken as half of the gauge's; else both are as the gauge.
    pub reference_upper: f64,
    /// As `reference_upper`, in arm 4, ohm.
    pub reference_lower: f64,
    /// Of the amplifier, ohm, or NaN if it draws no current; 1e3 to 1e15.
    pub input_resistance: f64,
    /// Poisson ratio of the specimen, 0 to 0.5, for the two circuits that have axial and transverse gauges.
    pub poisson_ratio: f64,
    /// Ratio of output to excitation at the converter's full scale, V/V.
    pub full_scale_ratio: f64,
    /// Microstrain per count, of an instrument.
    pub reading_step: f64,
    /// Gauge factor that the instrument is set to, or NaN if it is that of the gauge.
    pub instrument_gauge_factor: f64,
    /// Code at rest, or NaN if the channel was not balanced.
    pub balance_code: f64,
    /// The temperature then, C.
    pub balance_temperature: f64,
    /// Strain to be measured either way, microstrain, 1 to 62500, or NaN for all that the converter gives.
    pub strain_limit: f64,
    /// Lowest temperature to be corrected, C, or NaN (then both) for the range that thermal output was fitted on.
    pub temperature_low: f64,
    /// Highest temperature to be corrected, C, or NaN.
    pub temperature_high: f64,
    /// Expansion of the specimen, ppm per C, or NaN if it is what the gauge is matched to.
    pub specimen_expansion: f64,
    /// Factor of a shunt calibration, usually 1.
    pub span_correction: f64,
    /// The error bound in nanostrain that the kernel has to keep, or NaN for whatever it is.
    pub error_within: f64,
    /// GW_CIRCUIT_...
    pub circuit: u32,
    /// GW_CONVERTER_...
    pub converter: u32,
    /// Bits of the converter, 8 to 32.
    pub converter_bits: u32,
    /// Switch. Not 0: excitation is sensed at the bridge (full bridges).
    pub remote_sense: u32,
    /// Switch. Not 0: the output is wired the other way round.
    pub reversed: u32,
    /// GW_MISMATCH_...
    pub mismatch_scale: u32,
    /// GW_CORRECTION_...
    pub correction: u32,
    /// A number that is not used: 0.
    pub reserved: u32,
}

const _: () = {
    assert!(size_of::<gw_gauge>() == 184 && align_of::<gw_gauge>() == align_of::<f64>());
    assert!(size_of::<gw_channel>() == 368 && align_of::<gw_channel>() == align_of::<f64>());
};

impl gw_gauge {
    const DEFAULT: Self = Self {
        gauge_factor: f64::NAN,
        gauge_factor_slope: 0.0,
        gauge_factor_square: 0.0,
        gauge_factor_cube: 0.0,
        thermal_output: [0.0; 6],
        stated_for: 2.0,
        fitted_low: f64::NAN,
        fitted_high: f64::NAN,
        reference_temperature: 24.0,
        matched_expansion: f64::NAN,
        transverse_sensitivity: 0.0,
        calibration_poisson_ratio: 0.285,
        thermal_output_terms: 0,
        thermal_output_scale: GW_SCALE_CELSIUS,
        forced_strain: [0.0; 4],
        gauge_factor_basis: GW_BASIS_AT_BALANCE,
        reserved: 0,
    };
}

impl Default for gw_gauge {
    /// That of [`gw_channel_default`].
    fn default() -> Self {
        Self::DEFAULT
    }
}

impl gw_channel {
    const DEFAULT: Self = Self {
        gauge: gw_gauge::DEFAULT,
        gauge_resistance: f64::NAN,
        lead_resistance: 0.0,
        output_lead_resistance: f64::NAN,
        completion_resistance: f64::NAN,
        reference_upper: f64::NAN,
        reference_lower: f64::NAN,
        input_resistance: f64::NAN,
        poisson_ratio: f64::NAN,
        full_scale_ratio: f64::NAN,
        reading_step: f64::NAN,
        instrument_gauge_factor: f64::NAN,
        balance_code: f64::NAN,
        balance_temperature: f64::NAN,
        strain_limit: f64::NAN,
        temperature_low: f64::NAN,
        temperature_high: f64::NAN,
        specimen_expansion: f64::NAN,
        span_correction: 1.0,
        error_within: f64::NAN,
        circuit: 0,
        converter: GW_CONVERTER_BIPOLAR,
        converter_bits: 0,
        remote_sense: 0,
        reversed: 0,
        mismatch_scale: GW_MISMATCH_AT_TEMPERATURE,
        correction: GW_CORRECTION_FULL,
        reserved: 0,
    };
}

impl Default for gw_channel {
    /// That of [`gw_channel_default`].
    fn default() -> Self {
        Self::DEFAULT
    }
}

/// Writes a channel of which nothing is known: what has to be stated is NaN or 0, which is refused, the rest is
/// usual.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// let mut channel = core::mem::MaybeUninit::uninit();
/// // Safe: there is room.
/// assert_eq!(unsafe { gw_channel_default(channel.as_mut_ptr()) }, GW_STATUS_OK);
/// // Safe: written just before.
/// let channel = unsafe { channel.assume_init() };
/// assert_eq!(channel.gauge.stated_for, 2.0);
/// assert_eq!(channel.circuit, 0);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_channel_default(channel: *mut gw_channel) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { write(channel, gw_channel::DEFAULT) }
}

/// What a choice stands for; `choices` count from 1.
pub(super) fn choose<T: Copy>(which: u32, given: u32, choices: &[T]) -> Result<T, gw_error> {
    let index = (given as usize).wrapping_sub(1);
    choices.get(index).copied().ok_or(no_choice(which, given, choices.len() as u32))
}

pub(super) fn no_choice(which: u32, given: u32, last: u32) -> gw_error {
    gw_error {
        code: super::GW_STATUS_CHOICE,
        field: which,
        value: f64::from(given),
        low: 1.0,
        high: f64::from(last),
    }
}
