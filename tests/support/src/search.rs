//! A search for a channel's worst errors, on every path of every kernel, against exact arithmetic: a sweep of pairs,
//! then a climb from the worst of every part of the range.
//!
//! An error is a smooth part (what the constants' roundings make of the input: largest at ends of the ranges) and what
//! each product drops. The dropped parts line up where they will, but repeat with steps of code or temperature that
//! hardly move the smooth part. So the climb looks along one input at a time, close by and over all of the range,
//! and starts from many places. A neighbour is computed exactly only where a reading in `f64` leaves room for a larger error:
//! the sweep, which computes every pair exactly, has first shown how near to exact those readings are.

use super::Random;
use super::described::Description;
use super::exact::{At, Exact, TRUNCATED_NANOSTRAIN, error};
use gaugewright::*;

pub const PATHS: [&str; 6] = ["fixed", "fixed, split", "f32", "f32, split", "f64", "f64, split"];

/// Codes and temperatures of which the pairs are made.
const VALUES: usize = 4_096;
/// Parts of either range that have a worst sample of their own.
const PARTS: usize = 8;
/// Paths that are climbed on: those whose bounds are held to be near the worst error.
const CLIMBED: usize = 4;
/// Of the parts' worst samples, those that are climbed from.
const CLIMBS: usize = 32;
/// Neighbours looked at either way, and as many anywhere.
const NEAR: i32 = 250;

/// The three kernels of a channel, with room for any.
pub struct Kernels<const P: usize = 0> {
    pub fixed: fixed::Kernel<5, 3, P>,
    pub single: float::Kernel<f32, 5, 3, P>,
    pub double: float::Kernel<f64, 5, 3, P>,
    /// How far readings of `double` may be from exact ones, in nanostrain.
    double_off: f64,
}

impl Kernels {
    pub fn of(channel: &Channel) -> Self {
        Self::with_room(channel)
    }
}

impl<const P: usize> Kernels<P> {
    /// With room for the product of thermal and mechanical change, or without.
    pub fn with_room(channel: &Channel) -> Self {
        let double: float::Kernel<f64, 5, 3, P> = channel.try_float64().unwrap();
        let left_out = channel.circuit_error().unwrap().0 + channel.gauge_factor_error(3).unwrap().0;
        let double_off = double.error_bound().max().0 + left_out + TRUNCATED_NANOSTRAIN;
        Self {
            fixed: channel.try_fixed().unwrap(),
            single: channel.try_float32().unwrap(),
            double,
            double_off,
        }
    }

    pub fn bounds(&self) -> [f64; 6] {
        let [fixed, single, double] =
            [self.fixed.error_bound(), self.single.error_bound(), self.double.error_bound()];
        [fixed.reading, fixed.point, single.reading, single.point, double.reading, double.point]
            .map(|parts| parts.total.0)
    }

    /// An unflagged reading by one path.
    #[inline(always)]
    fn reading(&self, path: usize, code: i32, bits: i32) -> Option<f64> {
        let t = fixed::Temperature::from_bits(bits);
        match path {
            0 => self.fixed.reading(code, t).checked().map(|s| s.strain().0),
            1 => self.fixed.at(t).reading(code).checked().map(|s| s.strain().0),
            2 => self.single.reading(code, t).checked().map(f64::from),
            3 => self.single.at(t).reading(code).checked().map(f64::from),
            4 => self.double.reading(code, t).checked(),
            _ => self.double.at(t).reading(code).checked(),
        }
    }
}

/// Where an error was found.
#[derive(Clone, Copy, Debug, Default)]
pub struct Found {
    /// Nanostrain, without its sign.
    pub error: f64,
    pub code: i32,
    pub bits: i32,
}

impl Found {
    fn take(&mut self, error: f64, code: i32, bits: i32) {
        if error > self.error {
            *self = Self { error, code, bits };
        }
    }
}

#[derive(Clone, Copy, Debug, Default)]
pub struct Seen {
    /// By path: of the sweep alone, and after the climb.
    pub swept: [Found; 6],
    pub worst: [Found; 6],
    /// Unflagged pairs of the sweep.
    pub clear: usize,
    /// Sums of the fixed-point errors over them: a bias would show here.
    pub sum: [f64; 2],
}

pub struct Search<'a, const P: usize = 0> {
    exact: &'a Exact,
    kernels: &'a Kernels<P>,
    codes: (i32, i32),
    temperatures: (i32, i32),
    random: Random,
}

/// Worst errors of a channel over `samples` pairs and what a climb from them finds.
pub fn search<const P: usize>(described: &Description, kernels: &Kernels<P>, samples: usize) -> Seen {
    let exact = Exact::of(described);
    let mut search = Search::new(&exact, kernels);
    let (mut seen, cells) = search.sweep(samples);
    seen.worst = seen.swept;
    assert!(
        seen.swept[4].error <= kernels.double_off,
        "no reading in `f64` tells which errors are small: {seen:?}"
    );
    for (path, cells) in cells.iter().take(CLIMBED).enumerate() {
        seen.worst[path] = search.climb(path, cells);
    }
    seen
}

impl<'a, const P: usize> Search<'a, P> {
    pub fn new(exact: &'a Exact, kernels: &'a Kernels<P>) -> Self {
        let constants = kernels.fixed.constants();
        let (cold, hot) = constants.temperatures;
        Self {
            exact,
            kernels,
            codes: constants.codes,
            temperatures: (cold.to_bits(), hot.to_bits()),
            random: Random(20_261_125),
        }
    }

    /// Ends and middle of a range first, then random values.
    fn values(&mut self, (low, high): (i32, i32)) -> Vec<i32> {
        let middle = ((i64::from(low) + i64::from(high)) / 2) as i32;
        let mut all: Vec<i32> = [low, middle - 1, high - 2].iter().flat_map(|&x| x..=x + 2).collect();
        all.resize_with(VALUES, || self.random.between(low, high));
        all
    }

    /// Every pair of ends and middles, then random pairs.
    pub fn sweep(&mut self, samples: usize) -> (Seen, Vec<Vec<Found>>) {
        let codes: Vec<(i32, i64)> =
            self.values(self.codes).into_iter().map(|code| (code, self.exact.signal(code))).collect();
        let temperatures: Vec<(i32, At)> =
            self.values(self.temperatures).into_iter().map(|bits| (bits, self.exact.at(bits))).collect();
        let mut seen = Seen::default();
        let mut cells = vec![vec![Found::default(); PARTS * PARTS]; PATHS.len()];
        for i in 0..81 + samples {
            let (c, t) = if i < 81 {
                (i / 9, i % 9)
            } else {
                let bits = self.random.bits() as usize;
                (bits % VALUES, bits / VALUES % VALUES)
            };
            let ((code, signal), (bits, at)) = (codes[c], temperatures[t]);
            let exact = at.strain(signal);
            let cell = part(code, self.codes) * PARTS + part(bits, self.temperatures);
            let mut clear = true;
            for (path, cells) in cells.iter_mut().enumerate() {
                let Some(strain) = self.kernels.reading(path, code, bits) else {
                    clear = false;
                    continue;
                };
                let error = error(strain, exact);
                cells[cell].take(error.abs(), code, bits);
                seen.swept[path].take(error.abs(), code, bits);
                if path < 2 {
                    seen.sum[path] += error;
                }
            }
            seen.clear += usize::from(clear);
        }
        (seen, cells)
    }

    /// The error of a path, or none where it is not above `most`.
    fn error_above(
        &self,
        most: f64,
        path: usize,
        code: i32,
        bits: i32,
        exact: impl Fn() -> i128,
    ) -> Option<f64> {
        let strain = self.kernels.reading(path, code, bits)?;
        let double = self.kernels.reading(4, code, bits);
        // Twice as far as the readings in `f64` may be, and the sweep has not seen one beyond half of that.
        if double.is_some_and(|double| (strain - double).abs() * 1e9 + 2.0 * self.kernels.double_off < most) {
            return None;
        }
        Some(error(strain, exact()).abs())
    }

    /// From the worst of every part of the range.
    fn climb(&mut self, path: usize, starts: &[Found]) -> Found {
        let mut starts = starts.to_vec();
        starts.sort_by(|a, b| b.error.total_cmp(&a.error));
        let mut worst = starts[0];
        for start in &starts[..CLIMBS] {
            let mut now = *start;
            loop {
                let before = now;
                let at = self.exact.at(now.bits);
                for code in self.around(now.code, self.codes) {
                    let exact = || at.strain(self.exact.signal(code));
                    if let Some(error) = self.error_above(now.error, path, code, now.bits, exact) {
                        now.take(error, code, now.bits);
                    }
                }
                let signal = self.exact.signal(now.code);
                for bits in self.around(now.bits, self.temperatures) {
                    let exact = || self.exact.at(bits).strain(signal);
                    if let Some(error) = self.error_above(now.error, path, now.code, bits, exact) {
                        now.take(error, now.code, bits);
                    }
                }
                if now.error <= before.error {
                    break;
                }
            }
            worst.take(now.error, now.code, now.bits);
        }
        worst
    }

    fn around(&mut self, x: i32, (low, high): (i32, i32)) -> Vec<i32> {
        let near = (-NEAR..=NEAR).filter_map(|off| x.checked_add(off));
        let mut all: Vec<i32> = near.filter(|near| (low..=high).contains(near)).collect();
        for _ in 0..NEAR {
            all.push(self.random.between(low, high));
            // And within a part in 64, where the smooth part stays what it is.
            let reach = ((i64::from(high) - i64::from(low)) / 64) as i32;
            all.push(
                self.random.between(low.max(x.saturating_sub(reach)), high.min(x.saturating_add(reach))),
            );
        }
        all
    }
}

fn part(x: i32, (low, high): (i32, i32)) -> usize {
    let share = (f64::from(x) - f64::from(low)) / (f64::from(high) - f64::from(low) + 1.0);
    (share * PARTS as f64) as usize
}
