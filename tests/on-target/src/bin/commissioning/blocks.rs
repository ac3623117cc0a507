//! What a sample of a block costs. (Its peers are in the other firmware, with those of one call.)

use core::mem::size_of_val;

use firmware::board::Counter;
use gaugewright::fixed::{self, Temperature};
use gaugewright::{Flags, float};

use crate::kernels::*;
use on_target::channels::{FIXED_COMPENSATED, SINGLE_COMPENSATED};
use on_target::cost::{Cost, clear_input};
use on_target::paths::LINEAR_KERNEL;
use on_target::peers::notebooks::{MILD, WIDE, channel};
use on_target::sweep::Random;

static MILD_KERNEL: fixed::Kernel = channel(&MILD).fixed();
static WIDE_SINGLE: float::Kernel<f32> = channel(&WIDE).float32();

/// Instructions of one sample of a block: with a temperature each, and at the temperature of a point.
#[inline(never)]
pub fn tell(counter: &mut Counter) {
    let (wide, single) = (&crate::WIDE, &WIDE_SINGLE);
    let (two, two_singles) = (&FIXED_COMPENSATED, &SINGLE_COMPENSATED);
    let t = Temperature::from_bits(60 << 20);
    let (point, of_linear, single_point) = (wide.at(t), LINEAR_KERNEL.at(t), single.at(t));
    let blank = fixed::Reading { strain: fixed::Strain::from_bits(0), flags: Flags::CLEAR };
    let single_blank = float::Reading { strain: 0.0, flags: Flags::CLEAR };
    macro_rules! cost {
        ($path:ident, $kernel:expr, $blank:expr, $ranges:expr, $reading:expr) => {
            cost!($path, $kernel, $blank, $ranges, $reading, |_| ())
        };
        ($path:ident, $kernel:expr, $blank:expr, $ranges:expr, $reading:expr, $place:expr) => {{
            let mut random = Random(4);
            let input = || clear_input($reading, $ranges, &mut random);
            let cost = Cost::of_block(counter, ($kernel, $path), $blank, $place, &broken($ranges), input);
            cost.tell(stringify!($path), size_of_val($kernel), None);
        }};
    }
    macro_rules! in_place {
        ($path:ident, $point:expr, $ranges:expr) => {
            cost!($path, $point, 0, $ranges, |code, _| $point.reading(code), |block| *block
                .readings
                .borrow_mut() =
                block.codes)
        };
    }
    let at_each = |code, t| wide.reading(code, t);
    cost!(fixed_block, wide, blank, wide, at_each);
    cost!(fixed_point_block, &point, blank, wide, |code, _| point.reading(code));
    in_place!(fixed_point_in_place, &point, wide);
    if let Some(linear) = &of_linear.linear() {
        cost!(fixed_point_linear_block, linear, blank, &LINEAR_KERNEL, |code, _| linear.reading(code));
        in_place!(fixed_point_linear_in_place, linear, &LINEAR_KERNEL);
    }
    let both = |code, t| two.reading(code, t, t);
    cost!(fixed_compensated_block, two, blank, &MILD_KERNEL, both);
    cost!(f32_block, single, single_blank, wide, at_each);
    cost!(f32_point_block, &single_point, single_blank, wide, |code, _| point.reading(code));
    cost!(f32_compensated_block, two_singles, single_blank, &MILD_KERNEL, both);
}

/// Codes out of range, each in its way.
fn broken(ranges: &fixed::Kernel) -> [i32; 4] {
    let (first, last) = ranges.codes();
    [i32::MIN, first - 1, last + 1, i32::MAX]
}
