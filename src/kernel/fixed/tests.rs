//! The kernels against a readable second implementation that works in 128 bits and stops at the first
//! intermediate that would not fit 32: the bits are the same and nothing wraps for inputs in range.

use super::*;
use crate::units::*;
use crate::{Bridge, Channel, Converter, Gauge, ThermalOutput};

/// A number that a register of the kernel has to hold.
fn register(x: i128) -> i128 {
    assert!(i32::try_from(x).is_ok(), "{x} does not fit a register");
    x
}

/// The high word of a product, rounded down.
fn high(a: i128, b: i128) -> i128 {
    register((a * b).div_euclid(1 << 32))
}

/// The same where the kernel takes its shorter product.
fn small_high(a: i128, b: i128) -> i128 {
    for factor in [a, b] {
        assert!((-(1 << 30)..1 << 30).contains(&factor), "{factor} is no factor of a small product");
    }
    high(a, b)
}

struct Readable<'a, const D: usize, const F: usize>(&'a Kernel<D, F>);

impl<const D: usize, const F: usize> Readable<'_, D, F> {
    /// An input over its range, -2^31 at its lowest value.
    fn spread(low: i32, input: i32, scale: u32) -> i128 {
        register((i128::from(input) - i128::from(low)) * i128::from(scale) - (1 << 31))
    }

    fn position(&self, t: i32) -> i128 {
        Self::spread(self.0.temperatures.low(), t, u32::from(self.0.temperature_scale))
    }

    fn distance(&self, code: i32) -> i128 {
        Self::spread(self.0.codes.low(), code, self.0.code_scale)
    }

    fn horner(&self, descending: &[i32], x: i128) -> i128 {
        descending.iter().fold(0, |sum, &c| register(high(sum, x) + i128::from(c)))
    }

    fn thermal(&self, x: i128) -> i128 {
        register(high(self.horner(&self.0.thermal, x), x) + i128::from(self.0.thermal_offset))
    }

    fn factor_change(&self, x: i128) -> i128 {
        high(self.horner(&self.0.factor, x), x)
    }

    fn reading(&self, code: i32, t: i32) -> i128 {
        let (x, d) = (self.position(t), self.distance(code));
        let (p, l) = (high(d, i128::from(self.0.curvature)), self.factor_change(x));
        let u = register(register(l - p) + small_high(p, l));
        let thermal = self.thermal(x);
        let numerator = register(register(thermal + high(d, i128::from(self.0.gain))) + high(thermal, p));
        let u2 = small_high(u, u);
        let strain = register(numerator + high(numerator, u));
        let strain = register(strain + high(strain, u2));
        register(strain + high(high(strain, u2), u2))
    }

    /// At a temperature in range, so that no flag is raised.
    fn split(&self, code: i32, t: i32) -> i128 {
        let (x, d) = (self.position(t), self.distance(code));
        let l = self.factor_change(x);
        let l2 = small_high(l, l);
        let even = register(l2 + small_high(l2, l2));
        let even = register(l2 + small_high(even, l2));
        let s = register(register(l + even) + small_high(l, even));
        let gain = register(i128::from(self.0.gain) + high(i128::from(self.0.gain), s));
        let thermal = self.thermal(x);
        let thermal = register(thermal + high(thermal, s) - i128::from(POINT_OFFSET));
        let p = high(d, -i128::from(self.0.curvature));
        let p2 = small_high(p, p);
        let even = register(p2 + small_high(p2, p2));
        let gain = register(gain + high(gain, p));
        let gain = register(gain + high(gain, even));
        register(thermal + high(d, gain))
    }
}

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

fn channel(random: &mut Random) -> Channel {
    let mut terms = [0.0; 6];
    terms.fill_with(|| random.within(4000.0));
    let curve = crate::Polynomial::new(terms).substitute(-0.2, 1.0 / 250.0).coefficients();
    let gauge = Gauge::new(GaugeFactor(2.0 + random.share()))
        .gauge_factor_polynomial([random.within(4e-4), random.within(2e-7), random.within(2e-10)])
        .thermal_output(ThermalOutput::celsius(curve).between(Celsius(-200.0), Celsius(300.0)));
    let low = random.within(200.0);
    let bits = 12 + (random.share() * 21.0) as u32;
    let code = random.within(0.2) * f64::from(i32::MAX >> (32 - bits));
    Channel::new(
        gauge,
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(20.0 * random.share())),
        Converter::bipolar(bits, Ratio(1.0 / (8.0 + 120.0 * random.share()))),
    )
    .balanced(code, Celsius(random.within(100.0)))
    .strain_within(Microstrain(100.0 + 55_000.0 * random.share()))
    .temperature_within(Celsius(low), Celsius(low + 1.0 + random.share() * (299.0 - low)))
}

#[test]
fn no_register_overflows_and_the_readable_form_gives_the_same_bits() {
    let mut random = Random(2026);
    let mut compiled = 0;
    for _ in 0..4_000 {
        let Ok(kernel) = channel(&mut random).try_fixed::<5, 3>() else { continue };
        compiled += 1;
        let readable = Readable(&kernel);
        for i in 0..64 {
            // The four corners first: that is where registers are fullest.
            let (a, b) =
                if i < 4 { (f64::from(i & 1), f64::from(i >> 1)) } else { (random.share(), random.share()) };
            let (codes, temperatures) = (kernel.codes, kernel.temperatures);
            let code = i64::from(codes.low()) + (f64::from(codes.width()) * a) as i64;
            let t = i64::from(temperatures.low()) + (f64::from(temperatures.width()) * b) as i64;
            let (code, t) = (code as i32, t as i32);
            let temperature = Temperature::from_bits(t);
            let strain = kernel.reading(code, temperature).strain.to_bits();
            assert_eq!(i128::from(strain), readable.reading(code, t));
            let strain = kernel.at(temperature).reading(code).strain.to_bits();
            assert_eq!(i128::from(strain), readable.split(code, t));
        }
    }
    assert!(compiled > 1_000, "only {compiled} of 4000 compiled");
}

/// The second implementation is checked too: it has to notice a register that is too full.
#[test]
#[should_panic(expected = "does not fit a register")]
fn the_readable_form_notices_an_overflow() {
    let mut random = Random(1);
    let mut kernel = loop {
        if let Ok(kernel) = channel(&mut random).try_fixed::<5, 3>() {
            break kernel;
        }
    };
    kernel.thermal_offset = i32::MAX;
    kernel.thermal = [i32::MAX; 5];
    Readable(&kernel).reading(kernel.codes.low(), kernel.temperatures.high());
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
            Span::new(-511, 510)
        } else {
            Span::new(ends[0].min(ends[1]), ends[0].max(ends[1]))
        };
        let size = if case % 5 == 0 { 2_000.0 } else { 1_000_000_000.0 };
        let point = Point {
            flags: [Flags::CLEAR, Flags::TEMPERATURE_OUTSIDE][case % 2],
            gain: random.within(size) as i32,
            code_scale: codes.scale(),
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
        assert!(Point { curvature: 1 - 2 * (case as i32 % 2), ..point }.linear().is_none());
    }
    assert!(
        clear > 100_000 && nothing_clear > 100,
        "{clear} readings clear, {nothing_clear} points with none"
    );
}
