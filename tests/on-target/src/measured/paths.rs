//! Every path by its name in the `kernels` of the two firmwares, from three numbers to its bits: what makes and what
//! replays the committed results of `tests/data/paths.csv`.

use gaugewright::fixed::{self, MeanCode, Span, Strain, Temperature, Zero};
use gaugewright::rosette::{FixedRosetteKernel, Rosette, RosetteKernel};
use gaugewright::temperature;
use gaugewright::units::*;
use gaugewright::{Error, Flags, Reading, float};

use crate::channels::{
    ADJUSTABLE, ADJUSTABLE_COMPENSATED, FIXED, FIXED_COMPENSATED, FIXED_PRODUCT, FIXED_PRODUCT_COMPENSATED,
    LINEAR, SHUNT, SINGLE, SINGLE_COMPENSATED, SINGLE_PRODUCT, SINGLE_PRODUCT_COMPENSATED, WIRING,
};
use crate::thermometers::{
    K_FIXED, K_SINGLE, PLATINUM_FIXED, PLATINUM_SINGLE, THERMISTOR_FIXED, THERMISTOR_SINGLE,
};

/// Up to three words of a result, then its flags.
pub type Bits = [u32; 4];

/// One more than goes side by side on a host: both ways through a block.
const BLOCK: usize = 33;

/// The channel of the strain kernels: the second of the sweep.
pub const CHANNEL: usize = 1;
pub static LINEAR_KERNEL: fixed::Kernel = LINEAR.fixed();

pub const ROSETTE: Rosette = Rosette::delta().turned(Degrees(17.0)).transverse_sensitivity([
    Percent(0.6),
    Percent(-1.3),
    Percent(2.1),
]);
pub static ROSETTE_FIXED: FixedRosetteKernel = ROSETTE.fixed();
pub static ROSETTE_SINGLE: RosetteKernel<f32> = ROSETTE.float32();

/// Three strains of two numbers.
#[inline(always)]
pub fn fixed_grids(code: i32, t: Temperature) -> [fixed::Reading; 3] {
    let strain = |bits| Reading { strain: Strain::from_bits(bits), flags: Flags::CLEAR };
    [strain(code), strain(t.to_bits()), strain(code ^ t.to_bits())]
}

/// The same in `f32`.
#[inline(always)]
pub fn single_grids(code: i32, t: Temperature) -> [float::Reading<f32>; 3] {
    fixed_grids(code, t).map(|reading| Reading {
        strain: reading.strain.to_bits() as f32 * (1.0 / 17_179_869_184.0),
        flags: reading.flags,
    })
}

/// What a path of that name gives, or none if there is none.
pub fn bits(path: &str, [a, b, c]: [i32; 3]) -> Option<Bits> {
    let (code, t, second) = (a, Temperature::from_bits(b), Temperature::from_bits(c));
    let (kernel, single) = (&FIXED[CHANNEL], &SINGLE[CHANNEL]);
    let (two, two_singles) = (&FIXED_COMPENSATED, &SINGLE_COMPENSATED);
    let linear = || LINEAR_KERNEL.at(t).linear();
    Some(match path {
        "fixed" => of_fixed(kernel.reading(code, t)),
        "fixed_point" => of_fixed(kernel.at(t).reading(code)),
        "f32" => of_single(single.reading(code, t)),
        "f32_point" => of_single(single.at(t).reading(code)),
        "fixed_point_linear" => of_fixed(linear()?.reading(code)),
        "fixed_compensated" => of_fixed(two.reading(code, t, second)),
        "fixed_compensated_at" => of_fixed(two.at(t, second).reading(code)),
        "fixed_block" => {
            block((code, t, second), of_fixed, |codes, t, _, all| kernel.readings(codes, t, all))?
        }
        "fixed_point_block" => {
            let point = kernel.at(t);
            block((code, t, second), of_fixed, |codes, _, _, all| point.readings(codes, all))?
        }
        "fixed_point_linear_block" => {
            let point = linear()?;
            block((code, t, second), of_fixed, |codes, _, _, all| point.readings(codes, all))?
        }
        "fixed_point_in_place" => {
            let point = kernel.at(t);
            in_place(code, |block, marks| point.correct_marked(block, marks))?
        }
        "fixed_point_linear_in_place" => {
            let point = linear()?;
            in_place(code, |block, marks| point.correct_marked(block, marks))?
        }
        "fixed_compensated_block" => {
            block((code, t, second), of_fixed, |codes, t, second, all| two.readings(codes, t, second, all))?
        }
        "f32_compensated" => of_single(two_singles.reading(code, t, second)),
        "f32_compensated_at" => of_single(two_singles.at(t, second).reading(code)),
        "f32_block" => {
            block((code, t, second), of_single, |codes, t, _, all| single.readings(codes, t, all))?
        }
        "f32_point_block" => {
            let point = single.at(t);
            block((code, t, second), of_single, |codes, _, _, all| point.readings(codes, all))?
        }
        "f32_compensated_block" => block((code, t, second), of_single, |codes, t, second, all| {
            two_singles.readings(codes, t, second, all)
        })?,
        "rosette_fixed" => {
            let state = ROSETTE_FIXED.strain([a, b, c].map(Strain::from_bits));
            let parts = [state.strain.mean(), state.strain.half_difference(), state.strain.half_shear()];
            with_flags(parts.map(|part| part.to_bits() as u32), state.flags)
        }
        "rosette_fixed_principal" => {
            let state = ROSETTE_FIXED.strain([a, b, c].map(Strain::from_bits)).strain.principal();
            let parts = [state.strain.first, state.strain.second, state.strain.half_shear];
            with_flags(parts.map(|part| part.to_bits() as u32), state.flags)
        }
        "rosette_f32" => {
            let state = ROSETTE_SINGLE.strain([a, b, c].map(plain));
            with_flags([state.mean(), state.x(), state.shear()].map(f32::to_bits), Flags::CLEAR)
        }
        "rosette_f32_principal" => {
            let state = ROSETTE_SINGLE.strain([a, b, c].map(plain)).principal();
            let direction = state.direction.map_or(f32::NAN, |direction| direction.0);
            [state.first.to_bits(), state.second.to_bits(), state.shear.to_bits(), direction.to_bits()]
        }
        "platinum_fixed" => of_temperature(PLATINUM_FIXED.reading(code)),
        "platinum_f32" => of_single_temperature(PLATINUM_SINGLE.reading(code)),
        "thermistor_fixed" => of_temperature(THERMISTOR_FIXED.reading(code)),
        "thermistor_f32" => of_single_temperature(THERMISTOR_SINGLE.reading(code)),
        "thermocouple_fixed" => of_temperature(K_FIXED.reading(code, t)),
        "thermocouple_f32" => of_single_temperature(K_SINGLE.reading(code, t)),
        _ => return None,
    })
}

/// The same of kernels with the product of thermal and mechanical change.
pub fn product_bits(path: &str, [a, b, c]: [i32; 3]) -> Option<Bits> {
    let (code, t, second) = (a, Temperature::from_bits(b), Temperature::from_bits(c));
    let (kernel, single) = (&FIXED_PRODUCT, &SINGLE_PRODUCT);
    let (two, two_singles) = (&FIXED_PRODUCT_COMPENSATED, &SINGLE_PRODUCT_COMPENSATED);
    Some(match path {
        "fixed_product" => of_fixed(kernel.reading(code, t)),
        "fixed_product_at" => of_fixed(kernel.at(t).reading(code)),
        "fixed_product_block" => {
            block((code, t, second), of_fixed, |codes, t, _, all| kernel.readings(codes, t, all))?
        }
        "fixed_product_compensated" => of_fixed(two.reading(code, t, second)),
        "fixed_product_compensated_at" => of_fixed(two.at(t, second).reading(code)),
        "f32_product" => of_single(single.reading(code, t)),
        "f32_product_at" => of_single(single.at(t).reading(code)),
        "f32_product_block" => {
            block((code, t, second), of_single, |codes, t, _, all| single.readings(codes, t, all))?
        }
        "f32_product_compensated" => of_single(two_singles.reading(code, t, second)),
        "f32_product_compensated_at" => of_single(two_singles.at(t, second).reading(code)),
        _ => return None,
    })
}

/// Three constants of a kernel for a zero and a span on site, or what is refused, and then as a flag.
pub fn adjusted_bits(path: &str, [a, b, c]: [i32; 3]) -> Option<Bits> {
    let (zero, span) =
        (zero(a, Temperature::from_bits(b)), Span::from_bits(Span::ONE.to_bits().wrapping_add_signed(c)));
    let constants = match path {
        "fixed_adjusted" => ADJUSTABLE.with(zero, span).map(|kernel| kernel.constants()),
        "fixed_adjusted_compensated" => ADJUSTABLE_COMPENSATED
            .with(zero, zero.temperature, span)
            .map(|kernel| kernel.constants())
            .map(|both| fixed::Constants { curvature: both.thermal_offset, ..both.measuring }),
        _ => return None,
    };
    Some(match constants {
        Ok(constants) => {
            let words = [constants.gain, constants.curvature, constants.thermal_offset];
            with_flags(words.map(|word| word as u32), Flags::CLEAR)
        }
        Err(error) => refused(error)?,
    })
}

/// Verdicts of the wiring, two bits for each fault, or the span by a shunt; or what is refused, and then as a flag.
pub fn checked_bits(path: &str, [a, b, _]: [i32; 3]) -> Option<Bits> {
    let words = match path {
        "wiring_check" => WIRING.report(mean(a)).map(|report| {
            let all = report.verdicts().fold(1u32, |all, (_, verdict)| all << 2 | verdict as u32);
            [all, report.healthy.into(), report.at_rail.into()]
        }),
        "shunt_check" => SHUNT.span(mean(a), mean(b)).map(|span| [span.to_bits(), 0, 0]),
        _ => return None,
    };
    words.map_or_else(refused, |words| Some(with_flags(words, Flags::CLEAR)))
}

fn refused(error: Error) -> Option<Bits> {
    let Error::Invalid { field, value, .. } = error else { return None };
    let value = value.to_bits();
    Some([field.number(), (value >> 32) as u32, value as u32, 1])
}

/// Codes with a fraction, of their sum.
#[inline(always)]
pub fn mean(sum: i32) -> MeanCode {
    MeanCode { sum: sum.into(), count: COUNT }
}

/// Codes of an unloaded channel with a fraction.
#[inline(always)]
pub fn zero(code: i32, temperature: Temperature) -> Zero {
    Zero { codes: mean(code), temperature }
}

const COUNT: u32 = 3;

/// A line of `paths.csv` that is in the second firmware, since the smallest board has no room for all of them in one.
pub fn is_in_second(line: &str) -> bool {
    line.starts_with("uncertainty_")
        || line.contains("_product")
        || line.contains("_adjusted")
        || line.contains("_check")
}

fn plain(bits: i32) -> f32 {
    bits as f32 * (1.0 / 17_179_869_184.0)
}

fn with_flags([x, y, z]: [u32; 3], flags: Flags) -> Bits {
    [x, y, z, u32::from(flags.bits())]
}

fn of_fixed(reading: fixed::Reading) -> Bits {
    with_flags([reading.strain.to_bits() as u32, 0, 0], reading.flags)
}

fn of_single(reading: float::Reading<f32>) -> Bits {
    with_flags([reading.strain.to_bits(), 0, 0], reading.flags)
}

fn of_temperature(reading: temperature::Reading) -> Bits {
    [reading.temperature.to_bits() as u32, 0, 0, reading.flags.bits().into()]
}

fn of_single_temperature(reading: temperature::Reading<f32>) -> Bits {
    [reading.temperature.to_bits(), 0, 0, reading.flags.bits().into()]
}

/// A block of one code again and again, in its place: what all of it becomes, none if it is not all the same, or marked otherwise than
/// by the flags.
fn in_place(code: i32, correct: impl Fn(&mut [i32], &mut [u32]) -> Result<Flags, Error>) -> Option<Bits> {
    let (mut all, mut marks) = ([code; BLOCK], [0; BLOCK.div_ceil(32)]);
    let flags = correct(&mut all, &mut marks).ok()?;
    let strain = all[0];
    let expected = if flags.is_clear() { [0, 0] } else { [u32::MAX, 1] };
    (all == [strain; BLOCK] && marks == expected).then(|| with_flags([strain as u32, 0, 0], flags))
}

/// A block of one input again and again: what all readings of it are, none if they are not all the same.
fn block<S: Copy + Default>(
    (code, t, second): (i32, Temperature, Temperature),
    of: impl Fn(Reading<S>) -> Bits,
    readings: impl Fn(&[i32], &[Temperature], &[Temperature], &mut [Reading<S>]) -> Result<(), Error>,
) -> Option<Bits> {
    let mut all = [Reading { strain: S::default(), flags: Flags::CLEAR }; BLOCK];
    readings(&[code; BLOCK], &[t; BLOCK], &[second; BLOCK], &mut all).ok()?;
    let first = of(all[0]);
    all.iter().all(|reading| of(*reading) == first).then_some(first)
}
