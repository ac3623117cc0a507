//! The kernels' arithmetic in integers wide enough for everything, each of which has to fit a register.

use super::arithmetic::{Arithmetic, Input};

/// One set of inputs. Stops at the first intermediate that does not fit an `i32`.
pub struct Registers {
    pub code: i32,
    pub temperature: i32,
    pub compensating: i32,
    /// A temperature was held at the end of its range.
    pub held: bool,
}

/// A number that a register of the kernel has to hold.
fn register(name: &str, x: i128) -> i128 {
    assert!(i32::try_from(x).is_ok(), "{name} is {x}, which does not fit a register");
    x
}

impl Arithmetic for Registers {
    type Number = i128;

    fn constant(&mut self, _: &str, value: i32, _: f64) -> i128 {
        i128::from(value)
    }

    fn spread(&mut self, name: &str, input: Input, (low, _): (i32, i32), scale: u32) -> i128 {
        let input = match input {
            Input::Code => self.code,
            Input::Temperature => self.temperature,
            Input::Compensating => self.compensating,
        };
        register(name, (i128::from(input) - i128::from(low)) * i128::from(scale) - (1 << 31))
    }

    fn product(&mut self, name: &str, a: &i128, b: &i128) -> i128 {
        register(name, (a * b).div_euclid(1 << 32))
    }

    fn small_product(&mut self, name: &str, a: &i128, b: &i128) -> i128 {
        for factor in [a, b] {
            assert!((-(1 << 30)..1 << 30).contains(factor), "{factor} is too large a factor of {name}");
        }
        self.product(name, a, b)
    }

    fn sum(&mut self, name: &str, a: &i128, b: &i128) -> i128 {
        register(name, a + b)
    }

    fn difference(&mut self, name: &str, a: &i128, b: &i128) -> i128 {
        register(name, a - b)
    }

    fn turned(&mut self, name: &str, a: &i128) -> i128 {
        register(name, -a)
    }

    fn lowered(&mut self, name: &str, a: &i128, steps: i32) -> i128 {
        register(name, a - i128::from(steps))
    }

    fn flagged(&mut self, name: &str, a: &i128) -> i128 {
        register(name, a + i128::from(self.held))
    }
}
