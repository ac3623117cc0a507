//! What only the inside of a kernel can be asked. That no register overflows is tested from outside, in
//! `tests/kernel/registers.rs`.

use super::*;

/// Small generator: the same sweep everywhere.
struct Random(u64);

impl Random {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn within(&mut self, radius: f64) -> f64 {
        (2.0 * self.share() - 1.0) * radius
    }
}

/// Exhausted over all codes of a converter of 10 bits and beyond its rails, for points of any constants that fit: gains
/// of both signs, limits that few, all or no codes keep, raised flags, windows that touch the rails or not.
#[test]
fn a_linear_point_gives_the_bits_and_flags_of_its_point() {
    let mut random = Random(7);
    let (mut clear, mut nothing_clear) = (0, 0);
    for case in 0..3_000 {
        let ends = [random.within(510.0) as i32, random.within(510.0) as i32];
        let codes = if case % 3 == 0 {
            InputRange::new(-511, 510)
        } else {
            InputRange::new(ends[0].min(ends[1]), ends[0].max(ends[1]))
        };
        let size = if case % 5 == 0 { 2_000.0 } else { 1_000_000_000.0 };
        let point = OperatingPoint {
            flags: [Flags::CLEAR, Flags::TEMPERATURE_OUTSIDE][case % 2],
            gain: random.within(size) as i32,
            code_scale: codes.scale_factor(),
            curvature: 0,
            bits: 10,
            codes,
            thermal: random.within(size) as i32,
            strain_limit: match case % 7 {
                0 => i32::MAX,
                1 => 0,
                _ => (random.share() * size) as i32,
            },
        };
        let linear = point.linear().unwrap();
        let extremes = [i32::MIN, i32::MIN + 1, i32::MAX - 1, i32::MAX];
        let anywhere: [i32; 1_044] =
            core::array::from_fn(|i| if i < 1_040 { i as i32 - 520 } else { extremes[i - 1_040] });
        for &code in &anywhere {
            assert_eq!(linear.reading(code), point.reading(code), "code {code} of {point:?}");
            clear += u32::from(point.reading(code).flags == point.flags);
        }
        let mut block = anywhere.map(|_| linear.reading(0));
        linear.readings(&anywhere, &mut block).unwrap();
        assert!(block.iter().zip(&anywhere).all(|(&reading, &code)| reading == point.reading(code)));
        nothing_clear += u32::from(anywhere.iter().all(|&code| point.reading(code).flags != point.flags));
        assert!(OperatingPoint { curvature: 1 - 2 * (case as i32 % 2), ..point }.linear().is_none());
    }
    assert!(
        clear > 100_000 && nothing_clear > 100,
        "{clear} readings clear, {nothing_clear} points with none"
    );
}
