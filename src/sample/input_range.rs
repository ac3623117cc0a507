//! The range of an input, laid out so that one comparison checks it and one product scales it.

/// Inputs from a lowest to a highest one.
///
/// The *offset* of an input is its distance from the lowest, less 2^31. Offsets in range run from -2^31 to `last`, so
/// one signed comparison sees both ends. And an odd number times -2^31 is -2^31 again, modulo 2^32: an offset times an
/// odd scale is the distance times the scale, less 2^31, with nothing added.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub(crate) struct InputRange {
    /// The lowest input, plus 2^31.
    pub origin: i32,
    pub last: i32,
}

impl InputRange {
    pub const fn new(low: i32, high: i32) -> Self {
        let origin = low.wrapping_sub(i32::MIN);
        Self { origin, last: high.wrapping_sub(origin) }
    }

    #[inline(always)]
    pub const fn offset(self, input: i32) -> i32 {
        input.wrapping_sub(self.origin)
    }

    #[inline(always)]
    pub const fn contains(self, offset: i32) -> bool {
        offset <= self.last
    }

    /// The offset of the nearest input in range.
    pub const fn clamp(self, input: i32) -> i32 {
        let offset = self.offset(input);
        if input < self.low() {
            i32::MIN
        } else if offset > self.last {
            self.last
        } else {
            offset
        }
    }

    pub const fn low(self) -> i32 {
        self.origin.wrapping_add(i32::MIN)
    }

    pub const fn high(self) -> i32 {
        self.origin.wrapping_add(self.last)
    }

    /// Steps from the lowest input to the highest.
    pub const fn width(self) -> u32 {
        self.last.wrapping_sub(i32::MIN) as u32
    }

    /// The largest odd scale factor that keeps all of the range within an `i32`.
    pub const fn scale_factor(self) -> u32 {
        match u32::MAX.checked_div(self.width()) {
            Some(largest) => (largest - 1) | 1,
            None => 1,
        }
    }

    /// The last offset scaled by `scale`.
    pub const fn end(self, scale: u32) -> f64 {
        self.width() as f64 * scale as f64 - 2_147_483_648.0
    }
}

/// An offset scaled to the range: -2^31 at the lowest input and up to 2^31 at the highest. Exact; `factor` is odd.
#[inline(always)]
pub(crate) const fn scale(offset: i32, factor: u32) -> i32 {
    offset.wrapping_mul(factor as i32)
}

#[cfg(test)]
mod tests {
    use super::*;

    const RANGES: [(i32, i32); 8] = [
        (i32::MIN, i32::MAX),
        (i32::MIN + 1, i32::MAX - 1),
        (-5, -5),
        (-5, -4),
        (0, i32::MAX),
        (i32::MIN, -1),
        (-83_886_080, 104_857_600),
        (1_000, 70_000),
    ];

    #[test]
    fn one_comparison_sees_both_ends() {
        for (low, high) in RANGES {
            let range = InputRange::new(low, high);
            assert_eq!((range.low(), range.high()), (low, high));
            for edge in [low, high, 0, i32::MIN, i32::MAX] {
                for input in [edge.wrapping_sub(1), edge, edge.wrapping_add(1)] {
                    assert_eq!(range.contains(range.offset(input)), (low..=high).contains(&input));
                    assert_eq!(range.clamp(input), range.offset(input.clamp(low, high)));
                }
            }
        }
    }

    #[test]
    fn scaling_fills_the_register_and_does_not_wrap() {
        for (low, high) in RANGES {
            let range = InputRange::new(low, high);
            let factor = range.scale_factor();
            assert!(factor % 2 == 1);
            for input in [low, low.saturating_add(1).min(high), (low / 2) + (high / 2), high] {
                let distance = i64::from(input) - i64::from(low);
                let exact = distance * i64::from(factor) + i64::from(i32::MIN);
                assert_eq!(i64::from(scale(range.offset(input), factor)), exact);
            }
            assert!(range.end(factor) == f64::from(scale(range.last, factor)));
            // Two more would not fit.
            let wider = i64::from(range.width()) * (i64::from(factor) + 2);
            assert!(range.width() == 0 || wider > i64::from(u32::MAX));
        }
    }
}
