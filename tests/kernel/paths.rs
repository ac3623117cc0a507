//! Committed results of the paths that `vectors.csv` does not hold, bit for bit; the firmware of `tests/on-target` replays
//! both files on every core.
//!
//! `GAUGEWRIGHT_WRITE_VECTORS=1 cargo test --test kernel -- paths` writes them anew; do that only for a change of numeric
//! results that the release notes tell.

use std::fmt::Write;

use gaugewright::fixed::{Span, Temperature};
use support::{Random, as_committed, code_ends, temperature_ends};

use on_target::channels::{BALANCES, CHANNELS, FIXED, FIXED_PRODUCT, LINEAR, SHUNT, SPANS};
use on_target::commissioning;
use on_target::paths::{self, CHANNEL};
use on_target::thermometers::{PLATINUM_FIXED, THERMISTOR_FIXED};

type Range = (i32, i32);

/// Of any path but those of uncertainty.
fn bits(path: &str, numbers: [i32; 3]) -> Option<paths::Bits> {
    let of_kernels = paths::bits(path, numbers).or_else(|| paths::product_bits(path, numbers));
    let of_kernels = of_kernels.or_else(|| paths::adjusted_bits(path, numbers));
    of_kernels.or_else(|| paths::checked_bits(path, numbers))
}

const NONE: Range = (0, 0);
/// Of 24 bits.
const RAILS: Range = (-8_388_608, 8_388_607);
/// 10 000 microstrain.
const STRAIN: Range = (-171_798_691, 171_798_691);

/// Every path, with the ranges of its inputs.
fn paths() -> Vec<(&'static str, [Range; 3])> {
    let bits = |(low, high): (Temperature, Temperature)| (low.to_bits(), high.to_bits());
    let (codes, temperatures) = (FIXED[CHANNEL].codes(), bits(FIXED[CHANNEL].temperatures()));
    let (of_linear, declared) = (code_ends(&LINEAR), temperature_ends(&LINEAR));
    let one = |name| (name, [codes, temperatures, NONE]);
    let linear = |name| (name, [of_linear, declared, NONE]);
    let (of_product, wide) = (FIXED_PRODUCT.codes(), bits(FIXED_PRODUCT.temperatures()));
    let product = |name| (name, [of_product, wide, NONE]);
    // Channels with two temperatures have the ranges of the linear one.
    let two = |name| (name, [of_linear, declared, declared]);
    let rosette = |name| (name, [STRAIN; 3]);
    let resistance = |name, codes| (name, [codes, NONE, NONE]);
    let couple = |name| (name, [(-700_000, 5_800_000), (-40 << 20, 85 << 20), NONE]);
    let uncertain = |name| (name, [STRAIN, temperature_ends(&CHANNELS[CHANNEL].1), NONE]);
    let span = |span: Span| span.to_bits().wrapping_sub(Span::ONE.to_bits()) as i32;
    // The sum of three codes.
    let adjusted =
        |name| (name, [(3 * BALANCES.0, 3 * BALANCES.1), declared, (span(SPANS.0), span(SPANS.1))]);
    vec![
        linear("fixed_point_linear"),
        two("fixed_compensated"),
        two("fixed_compensated_at"),
        one("fixed_block"),
        one("fixed_point_block"),
        linear("fixed_point_linear_block"),
        one("fixed_point_in_place"),
        linear("fixed_point_linear_in_place"),
        two("fixed_compensated_block"),
        two("f32_compensated"),
        two("f32_compensated_at"),
        one("f32_block"),
        one("f32_point_block"),
        two("f32_compensated_block"),
        rosette("rosette_fixed"),
        rosette("rosette_fixed_principal"),
        rosette("rosette_f32"),
        rosette("rosette_f32_principal"),
        resistance("platinum_fixed", PLATINUM_FIXED.codes()),
        resistance("platinum_f32", PLATINUM_FIXED.codes()),
        resistance("thermistor_fixed", THERMISTOR_FIXED.codes()),
        resistance("thermistor_f32", THERMISTOR_FIXED.codes()),
        couple("thermocouple_fixed"),
        couple("thermocouple_f32"),
        uncertain("uncertainty_f32"),
        uncertain("uncertainty_fixed"),
        product("fixed_product"),
        product("fixed_product_at"),
        product("fixed_product_block"),
        two("fixed_product_compensated"),
        two("fixed_product_compensated_at"),
        product("f32_product"),
        product("f32_product_at"),
        product("f32_product_block"),
        two("f32_product_compensated"),
        two("f32_product_compensated_at"),
        adjusted("fixed_adjusted"),
        adjusted("fixed_adjusted_compensated"),
        ("wiring_check", [(3 * RAILS.0, 3 * RAILS.1), NONE, NONE]),
        ("shunt_check", [(-100, 100), (3 * SHUNT.change().lowest, 3 * SHUNT.change().highest), NONE]),
    ]
}

/// Each input in turn at and beyond its ends, the others in range; then all of them in range.
fn inputs(ranges: [Range; 3], is_refused_outside: bool) -> Vec<[i32; 3]> {
    let mut random = Random(1);
    let mut draw = || ranges.map(|(low, high)| random.between(low, high));
    let mut all = Vec::new();
    for (which, (low, high)) in ranges.into_iter().enumerate().filter(|(_, range)| *range != NONE) {
        for end in [i32::MIN, low - 1, low, 0, high, high + 1, i32::MAX] {
            let mut input = draw();
            input[which] = end;
            if !(is_refused_outside && which == 1 && !(low..=high).contains(&end)) {
                all.push(input);
            }
        }
    }
    all.extend((0..9).map(|_| draw()));
    all
}

fn lines() -> String {
    let mut text = String::from(
        "# Source: computed by this library; the bits that every target has to give. A path as tests/on-target/src has it,\n\
         # its inputs, and up to three words of its result: 2^-34 of strain, 2^-20 C, or the bits of an f32.\n\
         path,a,b,c,x,y,z,flags\n",
    );
    for (path, ranges) in paths() {
        let is_uncertainty = path.starts_with("uncertainty_");
        for [a, b, c] in inputs(ranges, is_uncertainty) {
            let found =
                if is_uncertainty { commissioning::bits(path, [a, b, c]) } else { bits(path, [a, b, c]) };
            let [x, y, z, flags] = found.unwrap_or_else(|| panic!("{path} {a} {b} {c}"));
            writeln!(text, "{path},{a},{b},{c},{x:08x},{y:08x},{z:08x},{flags:x}").unwrap();
        }
    }
    text
}

#[test]
fn results_are_the_committed_bits() {
    as_committed("paths.csv", &lines());
}

/// A block has the bits of single calls, by its committed rows too.
#[test]
fn blocks_are_single_calls() {
    for (path, ranges) in paths() {
        let single = path.strip_suffix("_block").or_else(|| path.strip_suffix("_in_place"));
        let Some(single) = single else { continue };
        for input in inputs(ranges, false) {
            assert_eq!(bits(path, input), bits(single, input), "{path} {input:?}");
        }
    }
}
