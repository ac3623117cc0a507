//! All kernels over the same inputs, results folded into one number for each path: equal on every core and on the
//! host, or a bit is wrong somewhere.

use gaugewright::fixed::{self, Strain, Temperature};
use gaugewright::{Error, Flags, float};

use crate::channels::*;
use host::numbers::Numbers;

/// Random inputs a channel, beside all pairs of the edges.
const RANDOM: usize = 1_000;

/// Samples of a block call.
const BLOCK: usize = 16;

/// What came out, path by path.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Hashes {
    pub inputs: u32,
    pub fixed: u64,
    pub fixed_point: u64,
    pub single: u64,
    pub single_point: u64,
}

/// Inputs of a channel: every pair of the edges of `i32` and of its ranges, then random ones, every second of them
/// anywhere in `i32`.
pub fn inputs(kernel: &Fixed) -> impl Iterator<Item = (i32, Temperature)> + use<> {
    let (first, last) = kernel.codes();
    let (cold, hot) = kernel.temperatures();
    let (cold, hot) = (cold.to_bits(), hot.to_bits());
    let around = |low: i32, high: i32| {
        [
            i32::MIN,
            i32::MIN + 1,
            low.saturating_sub(1),
            low,
            low.saturating_add(1),
            -1,
            0,
            1,
            high.saturating_sub(1),
            high,
            high.saturating_add(1),
            i32::MAX - 1,
            i32::MAX,
        ]
    };
    let (codes, temperatures) = (around(first, last), around(cold, hot));
    let edges = codes.into_iter().flat_map(move |code| temperatures.into_iter().map(move |t| (code, t)));
    let mut random = Random(0x2545_f491);
    let anywhere = (0..RANDOM).map(move |i| {
        if i % 2 == 0 {
            (random.between(first, last), random.between(cold, hot))
        } else {
            (random.bits() as i32, random.bits() as i32)
        }
    });
    edges.chain(anywhere).map(|(code, t)| (code, Temperature::from_bits(t)))
}

/// One channel's kernels over all its inputs.
pub fn of(channel: usize) -> Hashes {
    let (fixed, single) = (&FIXED[channel], &SINGLE[channel]);
    let [mut a, mut b, mut c, mut d] = [Numbers::new(); 4];
    for (code, temperature) in inputs(fixed) {
        a.add_fixed(fixed.reading(code, temperature));
        b.add_fixed(fixed.at(temperature).reading(code));
        c.add_single(single.reading(code, temperature));
        d.add_single(single.at(temperature).reading(code));
    }
    Hashes { inputs: a.samples, fixed: a.hash, fixed_point: b.hash, single: c.hash, single_point: d.hash }
}

/// The kernels with two temperatures, over the inputs of the first channel; the block's temperature is taken from
/// the code's bits.
pub fn compensated() -> Hashes {
    let (fixed, single) = (&FIXED_COMPENSATED, &SINGLE_COMPENSATED);
    let [mut a, mut b, mut c, mut d] = [Numbers::new(); 4];
    for (code, temperature) in inputs(&FIXED[1]) {
        let block = Temperature::from_bits(code.wrapping_mul(40));
        a.add_fixed(fixed.reading(code, temperature, block));
        b.add_fixed(fixed.at(temperature, block).reading(code));
        c.add_single(single.reading(code, temperature, block));
        d.add_single(single.at(temperature, block).reading(code));
    }
    Hashes { inputs: a.samples, fixed: a.hash, fixed_point: b.hash, single: c.hash, single_point: d.hash }
}

/// Readings of a block that are not those of single calls, and of a linear circuit's own path that are not those of
/// its point.
pub fn blocks_that_differ(channel: usize) -> u32 {
    let (fixed, single) = (&FIXED[channel], &SINGLE[channel]);
    let mut inputs = inputs(fixed);
    let mut differing = 0;
    loop {
        let (mut codes, mut temperatures) = ([0; BLOCK], [Temperature::from_bits(0); BLOCK]);
        let mut length = 0;
        for (code, temperature) in inputs.by_ref().take(BLOCK) {
            (codes[length], temperatures[length]) = (code, temperature);
            length += 1;
        }
        if length == 0 {
            return differing;
        }
        let (codes, temperatures) = (&codes[..length], &temperatures[..length]);
        let mut readings = [fixed::Reading { strain: Strain::from_bits(0), flags: Flags::CLEAR }; BLOCK];
        let mut singles = [float::Reading { strain: 0.0, flags: Flags::CLEAR }; BLOCK];
        let whole = fixed.readings(codes, temperatures, &mut readings[..length]).is_ok()
            && single.readings(codes, temperatures, &mut singles[..length]).is_ok();
        differing += u32::from(!whole);
        for (i, (&code, &temperature)) in codes.iter().zip(temperatures).enumerate() {
            let one = single.reading(code, temperature);
            differing += u32::from(readings[i] != fixed.reading(code, temperature));
            differing += u32::from(singles[i].strain.to_bits() != one.strain.to_bits());
            differing += u32::from(singles[i].flags != one.flags);
            let point = fixed.at(temperature);
            let is_same = point.linear().is_none_or(|linear| linear.reading(code) == point.reading(code));
            differing += u32::from(!is_same);
        }
        // In place, at the first temperature of the block and at one in range.
        let (cold, hot) = fixed.temperatures();
        let middle = Temperature::from_bits(cold.to_bits().midpoint(hot.to_bits()));
        for point in temperatures.iter().take(1).chain(&[middle]).map(|t| fixed.at(*t)) {
            differing += in_place(
                codes,
                |code| point.reading(code),
                |block, marks| point.correct_marked(block, marks),
            );
            if let Some(point) = point.linear() {
                differing += in_place(
                    codes,
                    |code| point.reading(code),
                    |block, marks| point.correct_marked(block, marks),
                );
            }
        }
    }
}

/// Samples of a block in its place that are not those of single calls, or whose mark is missing or too much.
fn in_place(
    codes: &[i32],
    reading: impl Fn(i32) -> fixed::Reading,
    correct: impl Fn(&mut [i32], &mut [u32]) -> Result<Flags, Error>,
) -> u32 {
    let (mut all, mut marks) = ([0; BLOCK], [u32::MAX]);
    let block = &mut all[..codes.len()];
    block.copy_from_slice(codes);
    let union = correct(block, &mut marks);
    let (mut differing, mut expected) = (0, Flags::CLEAR);
    for (i, (&code, &strain)) in codes.iter().zip(block.iter()).enumerate() {
        let reading = reading(code);
        expected |= reading.flags;
        let is_marked = marks[0] >> i & 1 == 1;
        differing += u32::from(strain != reading.strain.to_bits() || is_marked == reading.flags.is_clear());
    }
    differing + u32::from(union != Ok(expected))
}

/// A small generator (xorshift; Marsaglia, 2003).
pub struct Random(pub u32);

impl Random {
    pub fn bits(&mut self) -> u32 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 17;
        self.0 ^= self.0 << 5;
        self.0
    }

    pub fn between(&mut self, low: i32, high: i32) -> i32 {
        let span = high.wrapping_sub(low) as u32;
        let above = (u64::from(self.bits()) * (u64::from(span) + 1)) >> 32;
        low.wrapping_add(above as i32)
    }
}
