//! From a channel of C to one of the library, and on to a kernel.

use super::channel::{choose, no_choice};
use super::choices::*;
use super::pointer::{LayoutCompatible, as_ref, finish};
use super::*;
use crate::channel::{
    Bridge, Channel, Correction, ForcedStrain, Gauge, GaugeFactorBasis, MismatchScale, ThermalOutput,
};
use crate::error::Field;
use crate::fixed::Kernel;
use crate::sample::{Converter, Instrument};
use crate::units::*;

/// Compiles a channel to a kernel, which is written if the status is GW_STATUS_OK and left alone otherwise. Takes double
/// precision, in software where the core has none: some 50 KB of code (35 KB optimised for size) and 7 million instructions on
/// a Cortex-M0, 3 million on an M4. For channels that are entered on the target; a kernel that is known beforehand is
/// better made by the host (`replay --c-header`).
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::{error::Field, ffi::*};
/// # let channel = example::channel();
/// let (mut kernel, mut error) = (gw_kernel::default(), gw_error::default());
/// // Safe: all of them live here.
/// let status = unsafe { gw_kernel_build(&channel, &mut kernel, &mut error) };
/// assert_eq!((status, error), (GW_STATUS_OK, gw_error::default()));
///
/// let wrong = gw_channel { lead_resistance: -1.0, ..channel };
/// let status = unsafe { gw_kernel_build(&wrong, &mut kernel, &mut error) };
/// assert_eq!((status, error.field, error.low), (GW_STATUS_INVALID, Field::LeadResistance.number(), 0.0));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_build(
    channel: *const gw_channel,
    kernel: *mut gw_kernel,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { build(channel, kernel, error) }
}

/// As gw_kernel_build.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let channel = example::channel();
/// let mut kernel = gw_large_kernel::default();
/// let unloaded = gw_gauge { gauge_factor_basis: GW_BASIS_UNLOADED_GAUGE, ..channel.gauge };
/// // Safe: both live here; an error is not asked for.
/// let built = |channel, kernel| unsafe { gw_large_kernel_build(&channel, kernel, std::ptr::null_mut()) };
/// assert_eq!(built(gw_channel { gauge: unloaded, ..channel }, &mut kernel), GW_STATUS_OK);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_build(
    channel: *const gw_channel,
    kernel: *mut gw_large_kernel,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { build(channel, kernel, error) }
}

/// Compiles a channel into the place of a kernel, which stays as it is if the channel is refused.
///
/// # Safety
/// Each pointer is null or points to its type; `kernel` and `error` to room that nobody else uses.
pub(super) unsafe fn build<V, const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
    channel: *const gw_channel,
    kernel: *mut V,
    error: *mut gw_error,
) -> gw_status
where
    V: LayoutCompatible<Viewed = Kernel<DEGREE, FACTOR, PRODUCT>>,
{
    // A copy: it may lie where the kernel goes.
    // SAFETY: as required of the caller.
    let channel = unsafe { as_ref(channel) }.copied();
    let built = channel.map(|channel| compiled(&channel).map(V::of));
    // SAFETY: as required of the caller.
    unsafe { finish(built, kernel, error) }
}

fn compiled<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
    channel: &gw_channel,
) -> Result<Kernel<DEGREE, FACTOR, PRODUCT>, gw_error> {
    let described = described(channel)?;
    let kernel = match stated(channel.error_within) {
        None => described.try_fixed(),
        Some(limit) => described.try_fixed_within(Nanostrain(limit)),
    };
    kernel.map_err(|error| gw_error::of(&error))
}

/// What is left out is NaN.
fn stated(value: f64) -> Option<f64> {
    if value.is_nan() { None } else { Some(value) }
}

/// The library checks the numbers; here are the choices alone.
fn described(from: &gw_channel) -> Result<Channel, gw_error> {
    let gauge = gauge(&from.gauge)?;
    let factor = stated(from.instrument_gauge_factor).map(GaugeFactor);
    let mut channel = if from.circuit == GW_CIRCUIT_INSTRUMENT {
        let factor = factor.unwrap_or(GaugeFactor(from.gauge.gauge_factor));
        Channel::from_readings(gauge, Instrument::showing(Microstrain(from.reading_step), factor))
    } else {
        let is_linear = choose(GW_CHOICE_CONVERTER, from.converter, &[false, true])?;
        let converter = if is_linear {
            let factor = factor.unwrap_or(GaugeFactor(from.gauge.gauge_factor));
            Converter::linear_strain(Microstrain(from.reading_step), factor)
        } else {
            Converter::bipolar(from.converter_bits, Ratio(from.full_scale_ratio))
        };
        let channel = Channel::new(gauge, bridge(from)?, converter);
        factor.map_or(channel, |factor| channel.instrument_gauge_factor(factor))
    };
    if let Some(code) = stated(from.balance_code) {
        channel = channel.balanced(code, Celsius(from.balance_temperature));
    }
    if let Some(limit) = stated(from.strain_limit) {
        channel = channel.strain_within(Microstrain(limit));
    }
    // One of them alone is an error, and is seen to be missing.
    if stated(from.temperature_low).or(stated(from.temperature_high)).is_some() {
        channel = channel.temperature_within(Celsius(from.temperature_low), Celsius(from.temperature_high));
    }
    if let Some(ppm) = stated(from.specimen_expansion) {
        channel = channel.specimen(ExpansionPerCelsius::ppm(ppm));
    }
    let mismatch = [
        MismatchScale::GaugeFactorAtTemperature,
        MismatchScale::GaugeFactorAtReference,
        MismatchScale::StatedGaugeFactor,
    ];
    let corrections = [Correction::Full, Correction::ThermalOutput, Correction::None];
    Ok(channel
        .span_correction(from.span_correction)
        .mismatch_scale(choose(GW_CHOICE_MISMATCH_SCALE, from.mismatch_scale, &mismatch)?)
        .correction(choose(GW_CHOICE_CORRECTION, from.correction, &corrections)?))
}

fn gauge(from: &gw_gauge) -> Result<Gauge, gw_error> {
    let mut gauge = Gauge::new(GaugeFactor(from.gauge_factor))
        .gauge_factor_polynomial([
            PercentPer100C(from.gauge_factor_slope).per_celsius(),
            from.gauge_factor_square,
            from.gauge_factor_cube,
        ])
        .reference_temperature(Celsius(from.reference_temperature))
        .transverse_sensitivity(Percent(from.transverse_sensitivity))
        .calibration_poisson_ratio(from.calibration_poisson_ratio);
    if let Some(ppm) = stated(from.matched_expansion) {
        gauge = gauge.matched_to(ExpansionPerCelsius::ppm(ppm));
    }
    let bases = [
        GaugeFactorBasis::AtBalance,
        GaugeFactorBasis::UnloadedGauge,
        GaugeFactorBasis::FreeFoil(ForcedStrain::per_degree(from.forced_strain)),
    ];
    gauge = gauge.gauge_factor_basis(choose(GW_CHOICE_BASIS, from.gauge_factor_basis, &bases)?);
    if from.thermal_output_terms == 0 {
        return Ok(gauge);
    }
    let terms = from.thermal_output_terms;
    Field::ThermalOutputDegree.check(f64::from(terms) - 1.0).map_err(|error| gw_error::of(&error))?;
    let terms = from.thermal_output.get(..terms as usize).unwrap_or_default();
    let is_fahrenheit = choose(GW_CHOICE_SCALE, from.thermal_output_scale, &[false, true])?;
    let curve = if is_fahrenheit {
        ThermalOutput::fahrenheit_from(terms)
    } else {
        ThermalOutput::celsius_from(terms)
    };
    let curve = curve.stated_for(GaugeFactor(from.stated_for));
    Ok(gauge.thermal_output(curve.between(Celsius(from.fitted_low), Celsius(from.fitted_high))))
}

fn bridge(from: &gw_channel) -> Result<Bridge, gw_error> {
    let (gauge, lead, poisson) =
        (Ohms(from.gauge_resistance), Ohms(from.lead_resistance), from.poisson_ratio);
    let mut bridge = match from.circuit {
        GW_CIRCUIT_QUARTER_TWO_WIRE => Bridge::quarter_two_wire(gauge, lead),
        GW_CIRCUIT_QUARTER_THREE_WIRE => Bridge::quarter_three_wire(gauge, lead),
        GW_CIRCUIT_HALF_COMPENSATED => Bridge::half_compensated(gauge, lead),
        GW_CIRCUIT_HALF_POISSON => Bridge::half_poisson(gauge, lead, poisson),
        GW_CIRCUIT_HALF_BENDING => Bridge::half_bending(gauge, lead),
        GW_CIRCUIT_FULL_BENDING => Bridge::full_bending(gauge).leads(lead),
        GW_CIRCUIT_FULL_POISSON => Bridge::full_poisson(gauge, poisson).leads(lead),
        GW_CIRCUIT_FULL_TORSION => Bridge::full_torsion(gauge).leads(lead),
        GW_CIRCUIT_OPPOSITE_ARMS => Bridge::opposite_arms(gauge).leads(lead),
        // That of an instrument has no bridge, and was asked for before.
        none => return Err(no_choice(GW_CHOICE_CIRCUIT, none, GW_CIRCUIT_INSTRUMENT)),
    };
    if let Some(lead) = stated(from.output_lead_resistance) {
        bridge = bridge.output_leads(Ohms(lead));
    }
    if let Some(completion) = stated(from.completion_resistance) {
        bridge = bridge.completion(Ohms(completion));
    }
    // One of them alone is an error, and is seen to be missing.
    if stated(from.reference_upper).or(stated(from.reference_lower)).is_some() {
        bridge = bridge.reference_half(Ohms(from.reference_upper), Ohms(from.reference_lower));
    }
    if let Some(input) = stated(from.input_resistance) {
        bridge = bridge.input_resistance(Ohms(input));
    }
    if from.remote_sense != 0 {
        bridge = bridge.remote_sense();
    }
    if from.reversed != 0 {
        bridge = bridge.reversed();
    }
    Ok(bridge)
}
