//! Committed results of every kernel, bit for bit: what any target, compiler or change has to reproduce.
//!
//! `GAUGEWRIGHT_WRITE_VECTORS=1 cargo test --test kernel vectors` writes them anew; do that only for a change
//! of numeric results that the release notes tell.

use std::fmt::Write;

use gaugewright::units::*;
use gaugewright::*;
use support::*;

/// Channels, by the name of their row.
fn channels() -> Vec<(&'static str, Channel)> {
    vec![
        ("wide", wide("gauge_on_steel", 4)),
        ("mild", mild("gauge_on_aluminium", 4)),
        ("degree five", wide("gauge_on_titanium", 5)),
        ("cubic factor", cubic_factor()),
        ("fine codes", fine_codes()),
        ("coarse codes", coarse_codes()),
        ("instrument", instrument()),
    ]
}

fn inputs(channel: &Channel) -> Vec<(i32, i32)> {
    let (cold, hot) = temperature_ends(channel);
    let (first, last) = code_ends(channel);
    let mut all = Vec::new();
    for code in [i32::MIN, first - 1, first, -1, 0, 1, last, last + 1, i32::MAX] {
        for t in [i32::MIN, cold - 1, cold, 0, hot, hot + 1, i32::MAX] {
            all.push((code, t));
        }
    }
    let mut random = Random(1);
    all.extend((0..137).map(|_| (random.between(first, last), random.between(cold, hot))));
    all
}

fn lines() -> String {
    let mut text = String::from(
        "# Source: computed by this library; the bits that every target has to give. Strain of fixed point\n\
         # in 2^-34, of f32 as the bits of the number; flags as bits.\n\
         channel,code,temperature,reading,flags,split,f32_reading,f32_split\n",
    );
    for (name, channel) in channels() {
        let integer: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
        let single: float::Kernel<f32, 5, 3> = channel.try_float32().unwrap();
        for (code, bits) in inputs(&channel) {
            let t = fixed::Temperature::from_bits(bits);
            let (one, split) = (integer.reading(code, t), integer.at(t).reading(code));
            let (one_f, split_f) = (single.reading(code, t), single.at(t).reading(code));
            writeln!(
                text,
                "{name},{code},{bits},{},{},{},{:08x},{:08x}",
                one.strain.to_bits(),
                one.flags.bits(),
                split.strain.to_bits(),
                one_f.strain.to_bits(),
                split_f.strain.to_bits()
            )
            .unwrap();
        }
    }
    text
}

#[test]
fn results_are_the_committed_bits() {
    as_committed("vectors.csv", &lines());
}

/// Blocks in their place have the committed bits, each temperature in a block of its own; every flag of a code is among them, alone
/// and in a row, and a strain that is just on its limit.
#[test]
fn blocks_in_their_place_have_the_committed_bits() {
    let (mut flagged, mut on_limit) = (Flags::CLEAR, 0);
    for (name, channel) in channels() {
        let kernel: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
        let limit = kernel.constants().strain_limit;
        let all = inputs(&channel);
        let mut temperatures: Vec<_> = all.iter().map(|(_, t)| *t).collect();
        temperatures.sort_unstable();
        temperatures.dedup();
        for t in temperatures {
            let point = kernel.at(fixed::Temperature::from_bits(t));
            let mut codes: Vec<_> = all.iter().map(|(code, _)| *code).collect();
            codes.extend(all.iter().filter(|(_, other)| *other == t).map(|(code, _)| *code));
            // Codes next to that of the limit, from both sides.
            let strain = |code| point.reading(code).strain.to_bits();
            let (first, last) = kernel.codes();
            for limit in [limit, -limit] {
                let falling = strain(first) > strain(last);
                let (mut low, mut high) = (first, last);
                while low < high - 1 {
                    let middle = ((i64::from(low) + i64::from(high)) / 2) as i32;
                    if (strain(middle) < limit) != falling { low = middle } else { high = middle }
                }
                codes.extend(low.saturating_sub(3)..low.saturating_add(4));
            }
            let mut block = codes.clone();
            let mut found = vec![Flags::CLEAR; codes.len()];
            let union = point.correct(&mut block, |sample, flags| found[sample] = flags);
            for (k, &code) in codes.iter().enumerate() {
                let reading = point.reading(code);
                assert_eq!(
                    (block[k], found[k]),
                    (reading.strain.to_bits(), reading.flags),
                    "{name} {code} {t}"
                );
                on_limit += usize::from(block[k] == limit);
            }
            assert_eq!(union, found.iter().fold(Flags::CLEAR, |all, flags| all | *flags));
            flagged |= union;
        }
    }
    assert!(on_limit > 0);
    assert_eq!(flagged, Flags::CODE_AT_RAIL | Flags::TEMPERATURE_OUTSIDE | Flags::STRAIN_OUTSIDE);
}

/// A kernel with room to spare gives the bits of one that just fits: powers that are zero change nothing.
#[test]
fn room_for_higher_powers_costs_no_accuracy() {
    let channel = mild("gauge_on_aluminium", 4);
    let fits: fixed::Kernel<4, 1> = channel.try_fixed().unwrap();
    let roomy: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
    for (code, bits) in inputs(&channel) {
        let t = fixed::Temperature::from_bits(bits);
        assert_eq!(fits.reading(code, t), roomy.reading(code, t));
        assert_eq!(fits.at(t).reading(code), roomy.at(t).reading(code));
    }
}

/// Where a circuit is linear, its shorter path gives the committed bits and flags too: at the edges, where strain leaves its
/// declared range code by code, and anywhere.
#[test]
fn the_path_of_linear_circuits_gives_the_same_bits() {
    let mut linear_channels = 0;
    let mut all = channels();
    let full = Bridge::full_bending(Ohms(350.0)).leads(Ohms(1.2)).remote_sense();
    for (name, bits, bridge) in
        [("full bending", 24, full), ("reversed", 24, full.reversed()), ("32 bits", 32, full)]
    {
        let gauge = gauge("gauge_on_aluminium", 4);
        let channel = Channel::new(gauge, bridge, Converter::bipolar(bits, Ratio(1.0 / 128.0)));
        all.push((name, channel.balanced(0.0, Celsius(20.0)).strain_within(Microstrain(3_000.0))));
    }
    for (name, channel) in all {
        let kernel: fixed::Kernel<5, 3> = channel.try_fixed().unwrap();
        let (first, last) = code_ends(&channel);
        for (code, bits) in inputs(&channel) {
            let point = kernel.at(fixed::Temperature::from_bits(bits));
            let Some(linear) = point.linear() else { continue };
            assert_eq!(linear.reading(code), point.reading(code), "{name}, {code}");
            // The codes around the one where the flag changes, from both ends of the window inwards.
            let is_clear = |code: i32| point.reading(code).flags == point.reading(0).flags;
            for (mut clear, mut outside) in [(0, first), (0, last)] {
                while i64::from(clear).abs_diff(i64::from(outside)) > 1 {
                    let middle = ((i64::from(clear) + i64::from(outside)) / 2) as i32;
                    if is_clear(middle) { clear = middle } else { outside = middle }
                }
                for code in clear.saturating_sub(20)..clear.saturating_add(20) {
                    assert_eq!(linear.reading(code), point.reading(code), "{name}, {code}");
                }
            }
            linear_channels += 1;
        }
    }
    assert!(linear_channels >= 4 * 200, "{linear_channels}");
}
