//! The kernels' arithmetic in integers wide enough for everything, each of which has to fit a register.

use std::fmt::Display;

use gaugewright::fixed::{CompensatedKernel, Kernel, Temperature};

use super::arithmetic::{Arithmetic, Description, Input};

/// One set of inputs. Stops at the first intermediate that does not fit an `i32`.
pub struct Registers {
    pub code: i32,
    pub temperature: i32,
    pub compensating: i32,
    /// A temperature was held at the end of its range.
    pub held: bool,
}

/// On both paths the kernel has the bits of its description, in which nothing wraps.
pub fn compare<const D: usize, const F: usize, const P: usize>(
    kernel: &Kernel<D, F, P>,
    description: &Description<D, F>,
    code: i32,
    temperature: i32,
) {
    let mut registers = Registers { code, temperature, compensating: 0, held: false };
    let t = Temperature::from_bits(temperature);
    let (one, split) = (kernel.reading(code, t), kernel.at(t).reading(code));
    assert_eq!(i128::from(one.strain.to_bits()), description.one_call(&mut registers).strain);
    assert_eq!(i128::from(split.strain.to_bits()), description.split(&mut registers).strain);
}

/// The same with two temperatures.
pub fn compare_two<const D: usize, const F: usize, const P: usize>(
    kernel: &CompensatedKernel<D, F, P>,
    description: &Description<D, F>,
    code: i32,
    [temperature, compensating]: [i32; 2],
) {
    let mut registers = Registers { code, temperature, compensating, held: false };
    let [t, u] = [temperature, compensating].map(Temperature::from_bits);
    let (one, split) = (kernel.reading(code, t, u), kernel.at(t, u).reading(code));
    assert_eq!(i128::from(one.strain.to_bits()), description.one_call(&mut registers).strain);
    assert_eq!(i128::from(split.strain.to_bits()), description.split(&mut registers).strain);
}

/// A number that a register of the kernel has to hold.
fn register(name: impl Display, x: i128) -> i128 {
    assert!(i32::try_from(x).is_ok(), "{name} is {x}, which does not fit a register");
    x
}

fn wide_register(name: impl Display, x: i128) -> i128 {
    assert!(i64::try_from(x).is_ok(), "{name} is {x}, which does not fit 64 bits");
    x
}

/// The root of a sum of squares, rounded down, from its highest bit to its lowest; and the sum.
fn root(name: impl Display, parts: &[i128]) -> (i128, i128) {
    let sum = parts.iter().map(|part| part * part).sum();
    assert!(u64::try_from(sum).is_ok(), "{name} is of {sum}, which does not fit 64 bits");
    let mut root = 0;
    for bit in (0..32).rev() {
        let next = root + (1 << bit);
        if next * next <= sum {
            root = next;
        }
    }
    assert!(root * root <= sum && sum < (root + 1) * (root + 1));
    (root, sum)
}

impl Arithmetic for Registers {
    type Number = i128;

    fn constant_within(&mut self, _: impl Display, value: i32, _: f64, _: f64) -> i128 {
        i128::from(value)
    }

    fn wide_product(&mut self, name: impl Display, a: &i128, b: &i128) -> i128 {
        wide_register(name, a * b)
    }

    fn wide_sum(&mut self, name: impl Display, a: &i128, b: &i128) -> i128 {
        wide_register(name, a + b)
    }

    fn rounded(&mut self, name: impl Display, a: &i128, bits: u32) -> i128 {
        wide_register(name, a + (1 << (bits - 1))) >> bits
    }

    fn wide_difference(&mut self, name: impl Display, a: &i128, b: &i128) -> i128 {
        wide_register(name, a - b)
    }

    fn clamped(&mut self, a: &i128) -> i128 {
        (*a).clamp(i32::MIN.into(), i32::MAX.into())
    }

    fn root(&mut self, name: impl Display, parts: &[i128]) -> i128 {
        register(&name, root(&name, parts).0)
    }

    fn wide_root(&mut self, name: impl Display, parts: &[i128]) -> i128 {
        let (root, sum) = root(&name, parts);
        // Halves do not occur: (n + 1/2)^2 is no whole number.
        wide_register(name, if 4 * sum > (2 * root + 1).pow(2) { root + 1 } else { root })
    }

    fn input_within(&mut self, input: Input, _: (i32, i32), _: f64) -> i128 {
        i128::from(match input {
            Input::Code => self.code,
            Input::Temperature => self.temperature,
            Input::Compensating => self.compensating,
        })
    }

    fn spread(&mut self, name: impl Display, input: Input, range: (i32, i32), scale: u32) -> i128 {
        register(name, (self.input(input, range) - i128::from(range.0)) * i128::from(scale) - (1 << 31))
    }

    fn product(&mut self, name: impl Display, a: &i128, b: &i128) -> i128 {
        register(name, (a * b) >> 32)
    }

    fn small_product(&mut self, name: impl Display, a: &i128, b: &i128) -> i128 {
        for factor in [a, b] {
            assert!((-(1 << 30)..1 << 30).contains(factor), "{factor} is too large a factor of {name}");
        }
        self.product(name, a, b)
    }

    fn sum(&mut self, name: impl Display, a: &i128, b: &i128) -> i128 {
        register(name, a + b)
    }

    fn difference(&mut self, name: impl Display, a: &i128, b: &i128) -> i128 {
        register(name, a - b)
    }

    fn shifted_up(&mut self, name: impl Display, a: &i128, bits: u32) -> i128 {
        register(name, a << bits)
    }

    fn turned(&mut self, name: impl Display, a: &i128) -> i128 {
        register(name, -a)
    }

    fn lowered(&mut self, name: impl Display, a: &i128, steps: i32) -> i128 {
        register(name, a - i128::from(steps))
    }

    fn flagged(&mut self, name: impl Display, a: &i128) -> i128 {
        register(name, a + i128::from(self.held))
    }
}
