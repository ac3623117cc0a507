//! The kernels' arithmetic run on names: what each intermediate is, in the register and exactly.

use std::fmt::Write;

use support::arithmetic::{Arithmetic, Input};

/// A number by its two names in a script: what the register holds, and what it would be without any rounding.
#[derive(Clone)]
pub struct Name {
    pub computed: String,
    pub exact: String,
}

/// A kernel that is not the real one, for tests of the proofs.
#[cfg_attr(not(test), expect(dead_code))]
#[derive(Clone, Debug, PartialEq)]
pub enum Fault {
    /// This product is shifted by so many bits instead of 32.
    Shift(String, u32),
    /// This constant is off by so many steps.
    Constant(String, i32),
}

/// Definitions in order, what is assumed of them, and what has to be proved.
#[derive(Default)]
pub struct Trace {
    pub definitions: String,
    pub assumptions: Vec<String>,
    /// Intermediates that a register has to hold.
    pub registers: Vec<String>,
    /// Those of 64 bits.
    pub wide: Vec<String>,
    /// Those that have to keep to half of it: factors of small products.
    pub small: Vec<String>,
    /// What approximates what, where it does not show.
    pub approximations: String,
    pub products: Vec<String>,
    pub constants: Vec<String>,
    pub fault: Option<Fault>,
}

/// Exact quantities that the exact strain is written with. In a script they are names of their own, assumed equal
/// to their definitions: Gappa checks an identity by multiplying it out, and with these multiplied out in it
/// the eighth power of a divisor would fill pages.
const OPAQUE: [&str; 3] = ["curvature", "factor_change", "thermal"];

impl Trace {
    /// One intermediate: a line for the register and a line for the exact value.
    fn define(&mut self, name: &str, computed: &str, exact: &str) -> Name {
        writeln!(self.definitions, "{name} = {computed};").unwrap();
        if computed == exact {
            self.registers.push(name.to_owned());
            return Name { computed: name.to_owned(), exact: name.to_owned() };
        }
        let exact_name = format!("exact_{name}");
        if OPAQUE.contains(&name) {
            writeln!(self.definitions, "{exact_name}_in_full = {exact};").unwrap();
            self.assumptions.push(format!("{exact_name} = {exact_name}_in_full"));
            writeln!(self.approximations, "{name} ~ {exact_name};").unwrap();
        } else {
            writeln!(self.definitions, "{exact_name} = {exact};").unwrap();
        }
        self.registers.push(name.to_owned());
        Name { computed: name.to_owned(), exact: exact_name }
    }

    /// The same of 64 bits.
    fn define_wide(&mut self, name: &str, computed: &str, exact: &str) -> Name {
        let defined = self.define(name, computed, exact);
        self.registers.pop();
        self.wide.push(name.to_owned());
        defined
    }

    /// One intermediate more for the same exact value.
    fn define_beside(&mut self, name: &str, a: &Name, added: &str) -> Name {
        writeln!(self.definitions, "{name} = {} {added};", a.computed).unwrap();
        let (was, exact) = (&a.computed, &a.exact);
        writeln!(self.approximations, "{name} ~ {exact};").unwrap();
        writeln!(self.approximations, "{name} - {exact} -> ({was} - {exact}) {added};").unwrap();
        self.registers.push(name.to_owned());
        Name { computed: name.to_owned(), exact: a.exact.clone() }
    }
}

impl Arithmetic for Trace {
    type Number = Name;

    /// Known to half a step, and to what `f64` may have lost of it: the same words as in the kernel's own bound. It is a
    /// name with a value for a range, because Gappa takes two names of the same number for one.
    fn constant_within(&mut self, name: &str, value: i32, carried: f64, radius: f64) -> Name {
        let wrong = match &self.fault {
            Some(Fault::Constant(which, steps)) if which == name => *steps,
            _ => 0,
        };
        // In units of 1e-13: whole numbers.
        let unit = 1e13;
        let radius = (radius * unit).round() as i128;
        let off = (carried * unit) as i128 + i128::from(wrong) * unit as i128;
        let held = i64::from(value) + i64::from(wrong);
        if radius == 0 {
            self.assumptions.push(format!("{name} in [{held}, {held}]"));
            return Name { computed: name.to_owned(), exact: name.to_owned() };
        }
        self.constants.push(name.to_owned());
        self.assumptions.push(format!(
            "{name} in [{held}, {held}] /\\ {name} - exact_{name} in [{}e-13, {}e-13]",
            off - radius,
            off + radius,
        ));
        Name { computed: name.to_owned(), exact: format!("exact_{name}") }
    }

    fn input(&mut self, input: Input, (low, high): (i32, i32)) -> Name {
        let input = match input {
            Input::Code => "code",
            Input::Temperature => "temperature",
            Input::Compensating => "compensating_temperature",
        };
        self.assumptions.push(format!("{input} in [{low}, {high}]"));
        Name { computed: input.to_owned(), exact: input.to_owned() }
    }

    /// Exact: there is one name.
    fn spread(&mut self, name: &str, input: Input, range: (i32, i32), scale: u32) -> Name {
        let input = self.input(input, range).computed;
        writeln!(self.definitions, "\n{name} = ({input} - ({})) * {scale} - 1b31;", range.0).unwrap();
        self.registers.push(name.to_owned());
        Name { computed: name.to_owned(), exact: name.to_owned() }
    }

    fn wide_product(&mut self, name: &str, a: &Name, b: &Name) -> Name {
        let (computed, exact) =
            (format!("{} * {}", a.computed, b.computed), format!("{} * {}", a.exact, b.exact));
        self.define_wide(name, &computed, &exact)
    }

    fn wide_sum(&mut self, name: &str, a: &Name, b: &Name) -> Name {
        let (computed, exact) =
            (format!("{} + {}", a.computed, b.computed), format!("{} + {}", a.exact, b.exact));
        self.define_wide(name, &computed, &exact)
    }

    fn rounded(&mut self, name: &str, a: &Name, bits: u32) -> Name {
        self.products.push(name.to_owned());
        let shift = match &self.fault {
            Some(Fault::Shift(which, shift)) if which == name => *shift,
            _ => bits,
        };
        // What is rounded down is half a step more, which its exact value is not.
        let (sum, exact, raised) = (&a.computed, &a.exact, format!("{name}_raised"));
        writeln!(self.definitions, "{raised} = {sum} + 1b{};", bits - 1).unwrap();
        self.wide.push(raised.clone());
        writeln!(
            self.approximations,
            "{name} - exact_{name} -> ({name} - {raised} * 1b-{bits}) + ({sum} - {exact}) * 1b-{bits} + 1b-1;"
        )
        .unwrap();
        self.define_wide(name, &format!("int<dn>({raised} * 1b-{shift})"), &format!("{exact} * 1b-{bits}"))
    }

    fn product(&mut self, name: &str, a: &Name, b: &Name) -> Name {
        self.products.push(name.to_owned());
        let shift = match &self.fault {
            Some(Fault::Shift(which, shift)) if which == name => *shift,
            _ => 32,
        };
        let computed = format!("int<dn>({} * {} * 1b-{shift})", a.computed, b.computed);
        let exact = format!("{} * {} * 1b-32", a.exact, b.exact);
        self.define(name, &computed, &exact)
    }

    fn small_product(&mut self, name: &str, a: &Name, b: &Name) -> Name {
        for factor in [a, b] {
            if !self.small.contains(&factor.computed) {
                self.small.push(factor.computed.clone());
            }
        }
        self.product(name, a, b)
    }

    fn sum(&mut self, name: &str, a: &Name, b: &Name) -> Name {
        let computed = format!("{} + {}", a.computed, b.computed);
        self.define(name, &computed, &format!("{} + {}", a.exact, b.exact))
    }

    fn difference(&mut self, name: &str, a: &Name, b: &Name) -> Name {
        let computed = format!("{} - {}", a.computed, b.computed);
        self.define(name, &computed, &format!("{} - {}", a.exact, b.exact))
    }

    fn turned(&mut self, name: &str, a: &Name) -> Name {
        self.define(name, &format!("-{}", a.computed), &format!("-{}", a.exact))
    }

    fn lowered(&mut self, name: &str, a: &Name, steps: i32) -> Name {
        self.define_beside(name, a, &format!("- {steps}"))
    }

    fn flagged(&mut self, name: &str, a: &Name) -> Name {
        self.assumptions.push("flag in [0, 1]".to_owned());
        self.define_beside(name, a, "+ flag")
    }
}
