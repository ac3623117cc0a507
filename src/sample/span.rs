//! The range of an input, laid out so that one comparison checks it and one product spreads it.

/// Inputs from a lowest to a highest one.
///
/// The *place* of an input is its distance from the lowest, less 2^31. Places in range run from -2^31 to `last`, so
/// one signed comparison sees both ends. And an odd number times -2^31 is -2^31 again, modulo 2^32: a place times an
/// odd scale is the distance times the scale, less 2^31, with nothing added.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub(crate) struct Span {
    /// The lowest input, plus 2^31.
    pub origin: i32,
    pub last: i32,
}

impl Span {
    pub const fn new(low: i32, high: i32) -> Self {
        let origin = low.wrapping_sub(i32::MIN);
        Self { origin, last: high.wrapping_sub(origin) }
    }

    #[inline(always)]
    pub const fn place(self, input: i32) -> i32 {
        input.wrapping_sub(self.origin)
    }

    #[inline(always)]
    pub const fn contains(self, place: i32) -> bool {
        place <= self.last
    }

    /// The place of the nearest input in range.
    pub const fn hold(self, input: i32) -> i32 {
        let place = self.place(input);
        if input < self.low() {
            i32::MIN
        } else if place > self.last {
            self.last
        } else {
            place
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

    /// The largest odd scale that keeps all of the range within an `i32`.
    pub const fn scale(self) -> u32 {
        match u32::MAX.checked_div(self.width()) {
            Some(largest) => (largest - 1) | 1,
            None => 1,
        }
    }

    /// The last place spread by `scale`.
    pub const fn end(self, scale: u32) -> f64 {
        self.width() as f64 * scale as f64 - 2_147_483_648.0
    }
}

/// A place over the range: -2^31 at the lowest input and up to 2^31 at the highest. Exact; `scale` is odd.
#[inline(always)]
pub(crate) const fn spread(place: i32, scale: u32) -> i32 {
    place.wrapping_mul(scale as i32)
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
            let span = Span::new(low, high);
            assert_eq!((span.low(), span.high()), (low, high));
            for edge in [low, high, 0, i32::MIN, i32::MAX] {
                for input in [edge.wrapping_sub(1), edge, edge.wrapping_add(1)] {
                    assert_eq!(span.contains(span.place(input)), (low..=high).contains(&input));
                    assert_eq!(span.hold(input), span.place(input.clamp(low, high)));
                }
            }
        }
    }

    #[test]
    fn spread_fills_the_register_and_does_not_wrap() {
        for (low, high) in RANGES {
            let span = Span::new(low, high);
            let scale = span.scale();
            assert!(scale % 2 == 1);
            for input in [low, low.saturating_add(1).min(high), (low / 2) + (high / 2), high] {
                let distance = i64::from(input) - i64::from(low);
                let exact = distance * i64::from(scale) + i64::from(i32::MIN);
                assert_eq!(i64::from(spread(span.place(input), scale)), exact);
            }
            assert!(span.end(scale) == f64::from(spread(span.last, scale)));
            // Two more would not fit.
            let wider = i64::from(span.width()) * (i64::from(scale) + 2);
            assert!(span.width() == 0 || wider > i64::from(u32::MAX));
        }
    }
}
