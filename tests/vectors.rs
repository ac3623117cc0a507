//! Committed results of every kernel, bit for bit: what any target, compiler or change has to reproduce.
//!
//! `GAUGEWRIGHT_WRITE_VECTORS=1 cargo test --release --test vectors` writes them anew; do that only for a change
//! of numeric results that the release notes tell.

mod common;

use std::fmt::Write;

use common::*;
use gaugewright::*;

const PATH: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/data/vectors.csv");

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
    let now = lines();
    if std::env::var_os("GAUGEWRIGHT_WRITE_VECTORS").is_some() {
        std::fs::write(PATH, &now).unwrap();
    }
    let committed = std::fs::read_to_string(PATH).unwrap();
    for (i, (now, then)) in now.lines().zip(committed.lines()).enumerate() {
        assert_eq!(now, then, "line {}", i + 1);
    }
    assert_eq!(now.lines().count(), committed.lines().count());
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
