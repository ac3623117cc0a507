//! The kernels' arithmetic run on names: what each intermediate is, in the register and exactly.

use std::collections::BTreeMap;
use std::fmt::{Display, Write};

use crate::script::dyadic;
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
    /// This constant, or root, is off by so many steps.
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
    /// Sums of squares, which 64 bits without a sign have to hold.
    pub squares: Vec<String>,
    /// Those that have to keep to half of it: factors of small products.
    pub small: Vec<String>,
    /// What approximates what, where it does not show.
    pub approximations: String,
    /// What exact values are divided by.
    pub divisor: Option<String>,
    pub products: Vec<String>,
    pub constants: Vec<String>,
    /// Sums of a product and a number: by name, the two.
    pub sums: BTreeMap<String, (Name, Name)>,
    /// Every constant is any number up to the one that is given, of either sign.
    pub any_up_to: bool,
    pub fault: Option<Fault>,
}

/// Exact quantities that the exact strain is written with. In a script they are names of their own, assumed equal
/// to their definitions: Gappa checks an identity by multiplying it out, and with these multiplied out in it
/// the eighth power of a divisor would fill pages.
const OPAQUE: [&str; 5] = ["curvature", "factor_change", "factor_changed", "thermal", "compensating"];

impl Trace {
    /// One intermediate: a line for the register and a line for the exact value.
    fn define(&mut self, name: impl Display, computed: &str, exact: &str) -> Name {
        let name = &name.to_string();
        writeln!(self.definitions, "{name} = {computed};").unwrap();
        if computed == exact {
            self.registers.push(name.to_owned());
            return Name { computed: name.to_owned(), exact: name.to_owned() };
        }
        let exact_name = format!("exact_{name}");
        if OPAQUE.contains(&name.as_str()) {
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
    fn define_wide(&mut self, name: impl Display, computed: &str, exact: &str) -> Name {
        let name = &name.to_string();
        let defined = self.define(name, computed, exact);
        self.registers.pop();
        self.wide.push(name.to_owned());
        defined
    }

    /// One intermediate more for the same exact value.
    fn define_beside(&mut self, name: impl Display, a: &Name, added: &str) -> Name {
        writeln!(self.definitions, "{name} = {} {added};", a.computed).unwrap();
        let (was, exact) = (&a.computed, &a.exact);
        writeln!(self.approximations, "{name} ~ {exact};").unwrap();
        // The exact value may have been divided.
        let condition =
            self.divisor.as_ref().map_or(String::new(), |divisor| format!(" {{ {divisor} <> 0 }}"));
        writeln!(self.approximations, "{name} - {exact} -> ({was} - {exact}) {added}{condition};").unwrap();
        self.registers.push(name.to_string());
        Name { computed: name.to_string(), exact: a.exact.clone() }
    }

    /// An identity for `a b + a`, and for `a b + (c + a)` where `c` is a product: `a (1 + b)`, so that an error of `a` counts
    /// once.
    fn grown(&mut self, name: &str, [product, a, b, c]: [&Name; 4]) {
        let (beside, exact_beside) = match self.sums.get(&c.computed) {
            _ if c.computed == a.computed => (String::new(), String::new()),
            Some((of, to)) if to.computed == a.computed => {
                (format!(" + ({} - {})", of.computed, of.exact), format!(" + {}", of.exact))
            }
            _ => return,
        };
        let (p, a, a_exact, b, b_exact) = (&product.computed, &a.computed, &a.exact, &b.computed, &b.exact);
        let condition =
            self.divisor.as_ref().map_or(String::new(), |divisor| format!(" {{ {divisor} <> 0 }}"));
        writeln!(
            self.approximations,
            "{name} - exact_{name} -> ({p} - {a} * {b} * 1b-32) + ({a} - {a_exact}) * (1 + {b} * 1b-32) \
             + {a_exact} * ({b} - {b_exact}) * 1b-32{beside}{condition};\n\
             exact_{name} -> {a_exact} * (1 + {b_exact} * 1b-32){exact_beside}{condition};"
        )
        .unwrap();
    }

    /// By how much the fault, if it is of this constant or root, has it off.
    fn wrong(&self, name: &str) -> i32 {
        match &self.fault {
            Some(Fault::Constant(which, steps)) if which == name => *steps,
            _ => 0,
        }
    }

    /// How many bits a product is shifted by.
    fn shift(&self, name: &str, bits: u32) -> u32 {
        match &self.fault {
            Some(Fault::Shift(which, shift)) if which == name => *shift,
            _ => bits,
        }
    }

    /// The root of a sum of squares, rounded by `to`. Before it is rounded it is a number of its own, by what defines it:
    /// it is not negative, and its square is the sum.
    ///
    /// Two roots differ by no more than the root of the sum of squares of what their parts differ by. Gappa has no such
    /// rule and takes these steps. The square of the difference is that sum less twice the gap between the product of the
    /// roots and the inner product of the parts. The gap, times the sum of these two products, is a sum of squares (identity of
    /// Lagrange): it cannot be negative, as then the inner product is positive, and so is that sum.
    fn rooted(&mut self, name: &str, parts: &[Name], to: &str) {
        let (real, exact, squares) =
            (format!("{name}_real"), format!("exact_{name}"), format!("{name}_squares"));
        let (gap, inner) = (format!("{name}_gap"), format!("{name}_inner"));
        let sum = |of: &dyn Fn(&Name) -> String| parts.iter().map(of).collect::<Vec<_>>().join(" + ");
        let of_computed = sum(&|part| format!("{0} * {0}", part.computed));
        let of_exact = sum(&|part| format!("{0} * {0}", part.exact));
        let mut computed = Vec::new();
        for Name { computed: part, .. } in parts {
            let square = format!("{name}_square_of_{part}");
            // The right one is not shifted at all.
            let shifted = match self.shift(&square, 0) {
                0 => String::new(),
                bits => format!(" * 1b-{bits}"),
            };
            writeln!(self.definitions, "{square} = {part} * {part}{shifted};").unwrap();
            self.products.push(square.clone());
            computed.push(square);
        }
        let off = match self.wrong(name) {
            0 => String::new(),
            steps => format!(" + {steps}"),
        };
        writeln!(
            self.definitions,
            "{squares} = {};\nexact_{squares} = {of_exact};\n{inner} = {};\n{gap} = {real} * {exact} - {inner};\n\
             {name} = int<{to}>({real}){off};",
            computed.join(" + "),
            sum(&|part| format!("{} * {}", part.computed, part.exact)),
        )
        .unwrap();
        self.constants.push(name.to_owned());
        for (root, squares) in [(&real, squares.clone()), (&exact, format!("exact_{squares}"))] {
            self.assumptions.push(format!("{root} in [0, 1b33] /\\ {root} * {root} - {squares} in [0, 0]"));
        }
        let mut crossed = Vec::new();
        for (i, a) in parts.iter().enumerate() {
            for b in &parts[..i] {
                let cross = format!("({} * {} - {} * {})", a.computed, b.exact, b.computed, a.exact);
                crossed.push(format!("{cross} * {cross}"));
            }
        }
        let off = format!("({real} * {real} - {squares}) + ({squares} - ({of_computed}))");
        let exact_off = format!("({exact} * {exact} - exact_{squares})");
        writeln!(
            self.approximations,
            "{real} ~ {exact};\n\
             {gap} * ({real} * {exact} + {inner}) -> {} + ({off}) * ({exact} * {exact}) + ({of_computed}) * {exact_off};\n\
             ({real} - {exact}) * ({real} - {exact}) -> {} - 2 * {gap} + {off} + {exact_off};\n\
             $ {gap} in (-1b-200);",
            crossed.join(" + "),
            sum(&|part| format!("({0} - {1}) * ({0} - {1})", part.computed, part.exact)),
        )
        .unwrap();
        self.squares.push(squares);
    }
}

impl Arithmetic for Trace {
    type Number = Name;

    /// Known to half a step, and to what `f64` may have lost of it: the same words as in the kernel's own bound. It is a
    /// name with a value for a range, because Gappa takes two names of the same number for one.
    fn constant_within(&mut self, name: impl Display, value: i32, carried: f64, radius: f64) -> Name {
        let name = &name.to_string();
        let wrong = self.wrong(name);
        // In units of 1e-13: whole numbers.
        let unit = 1e13;
        let radius = (radius * unit).round() as i128;
        let off = (carried * unit) as i128 + i128::from(wrong) * unit as i128;
        let held = i64::from(value) + i64::from(wrong);
        let least = if self.any_up_to { -held } else { held };
        if radius == 0 {
            self.assumptions.push(format!("{name} in [{least}, {held}]"));
            return Name { computed: name.to_owned(), exact: name.to_owned() };
        }
        self.constants.push(name.to_owned());
        self.assumptions.push(format!(
            "{name} in [{least}, {held}] /\\ {name} - exact_{name} in [{}e-13, {}e-13]",
            off - radius,
            off + radius,
        ));
        Name { computed: name.to_owned(), exact: format!("exact_{name}") }
    }

    fn input_within(&mut self, input: Input, (low, high): (i32, i32), radius: f64) -> Name {
        let input = match input {
            Input::Code => "code",
            Input::Temperature => "temperature",
            Input::Compensating => "compensating_temperature",
        };
        self.assumptions.push(format!("{input} in [{low}, {high}]"));
        let mut exact = input.to_owned();
        if radius > 0.0 {
            exact = format!("exact_{input}");
            let radius = dyadic(radius);
            self.assumptions.push(format!("{input} - {exact} in [-{radius}, {radius}]"));
        }
        Name { computed: input.to_owned(), exact }
    }

    /// Exact: there is one name.
    fn spread(&mut self, name: impl Display, input: Input, range: (i32, i32), scale: u32) -> Name {
        let name = &name.to_string();
        let input = self.input(input, range).computed;
        writeln!(self.definitions, "\n{name} = ({input} - ({})) * {scale} - 1b31;", range.0).unwrap();
        self.registers.push(name.to_owned());
        Name { computed: name.to_owned(), exact: name.to_owned() }
    }

    fn wide_product(&mut self, name: impl Display, a: &Name, b: &Name) -> Name {
        let (computed, exact) =
            (format!("{} * {}", a.computed, b.computed), format!("{} * {}", a.exact, b.exact));
        self.define_wide(name, &computed, &exact)
    }

    fn wide_sum(&mut self, name: impl Display, a: &Name, b: &Name) -> Name {
        let (computed, exact) =
            (format!("{} + {}", a.computed, b.computed), format!("{} + {}", a.exact, b.exact));
        self.define_wide(name, &computed, &exact)
    }

    fn wide_difference(&mut self, name: impl Display, a: &Name, b: &Name) -> Name {
        let (computed, exact) =
            (format!("{} - {}", a.computed, b.computed), format!("{} - {}", a.exact, b.exact));
        self.define_wide(name, &computed, &exact)
    }

    fn clamped(&mut self, a: &Name) -> Name {
        self.assumptions.push(format!("{} in [{}, {}]", a.computed, i32::MIN, i32::MAX));
        a.clone()
    }

    fn root(&mut self, name: impl Display, parts: &[Name]) -> Name {
        let name = &name.to_string();
        self.rooted(name, parts, "dn");
        self.registers.push(name.to_owned());
        Name { computed: name.to_owned(), exact: format!("exact_{name}") }
    }

    fn wide_root(&mut self, name: impl Display, parts: &[Name]) -> Name {
        let name = &name.to_string();
        self.rooted(name, parts, "ne");
        self.wide.push(name.to_owned());
        Name { computed: name.to_owned(), exact: format!("exact_{name}") }
    }

    fn rounded(&mut self, name: impl Display, a: &Name, bits: u32) -> Name {
        let name = &name.to_string();
        self.products.push(name.to_owned());
        let shift = self.shift(name, bits);
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

    fn product(&mut self, name: impl Display, a: &Name, b: &Name) -> Name {
        let name = &name.to_string();
        self.products.push(name.to_owned());
        let shift = self.shift(name, 32);
        let computed = format!("int<dn>({} * {} * 1b-{shift})", a.computed, b.computed);
        let exact = format!("{} * {} * 1b-32", a.exact, b.exact);
        self.define(name, &computed, &exact)
    }

    fn product_and_sum(&mut self, name: impl Display, a: &Name, b: &Name, c: &Name) -> Name {
        let name = &name.to_string();
        let product = self.product(format_args!("{name}_product"), a, b);
        let sum = self.sum(name, &product, c);
        self.grown(name, [&product, a, b, c]);
        self.sums.insert(name.to_owned(), (product, c.clone()));
        sum
    }

    fn small_product_and_sum(&mut self, name: impl Display, a: &Name, b: &Name, c: &Name) -> Name {
        let name = &name.to_string();
        let product = self.small_product(format_args!("{name}_product"), a, b);
        let sum = self.sum(name, &product, c);
        self.grown(name, [&product, a, b, c]);
        sum
    }

    fn small_product(&mut self, name: impl Display, a: &Name, b: &Name) -> Name {
        for factor in [a, b] {
            if !self.small.contains(&factor.computed) {
                self.small.push(factor.computed.clone());
            }
        }
        self.product(name, a, b)
    }

    fn sum(&mut self, name: impl Display, a: &Name, b: &Name) -> Name {
        let computed = format!("{} + {}", a.computed, b.computed);
        self.define(name, &computed, &format!("{} + {}", a.exact, b.exact))
    }

    fn difference(&mut self, name: impl Display, a: &Name, b: &Name) -> Name {
        let computed = format!("{} - {}", a.computed, b.computed);
        self.define(name, &computed, &format!("{} - {}", a.exact, b.exact))
    }

    fn shifted_up(&mut self, name: impl Display, a: &Name, bits: u32) -> Name {
        self.define(name, &format!("{} * 1b{bits}", a.computed), &format!("{} * 1b{bits}", a.exact))
    }

    /// What the powers leave out is part of the error.
    fn all_powers(&mut self, name: impl Display, a: &Name, l: &Name) -> Name {
        let (sum, exact, l) = (&a.computed, &a.exact, &l.exact);
        writeln!(
            self.definitions,
            "factor = 1b32 - {l};\n\
             {name} = 1b64 / factor - 1b32;\n\
             l_second = {l} * {l} * 1b-64;\n\
             l_fourth = l_second * l_second;\n\
             l_eighth = l_fourth * l_fourth;"
        )
        .unwrap();
        writeln!(
            self.approximations,
            "{sum} ~ {name};\n\
             {sum} - {name} -> ({sum} - {exact}) - l_eighth * 1b64 / factor {{ factor <> 0 }};"
        )
        .unwrap();
        self.divisor = Some("factor".to_owned());
        Name { computed: sum.clone(), exact: name.to_string() }
    }

    fn turned(&mut self, name: impl Display, a: &Name) -> Name {
        self.define(name, &format!("-{}", a.computed), &format!("-{}", a.exact))
    }

    fn lowered(&mut self, name: impl Display, a: &Name, steps: i32) -> Name {
        self.define_beside(name, a, &format!("- {steps}"))
    }

    fn flagged(&mut self, name: impl Display, a: &Name) -> Name {
        self.assumptions.push("flag in [0, 1]".to_owned());
        self.define_beside(name, a, "+ flag")
    }
}
