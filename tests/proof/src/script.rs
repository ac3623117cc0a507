//! A whole script for Gappa: definitions, assumptions, goals, and the identities that lead there.

use std::fmt::Write;

use gaugewright::units::Nanostrain;

use crate::trace::{Fault, Name, Trace};
use support::arithmetic::{Description, OneCall, PRODUCT_SHIFT, Split, Terms};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Path {
    OneCall,
    Split,
}

impl Path {
    pub const ALL: [Self; 2] = [Self::OneCall, Self::Split];

    pub const fn name(self) -> &'static str {
        match self {
            Self::OneCall => "one call",
            Self::Split => "split",
        }
    }
}

pub struct Script {
    pub text: String,
    /// How many intermediates are to be proved in range.
    pub registers: usize,
    /// By name, for faults.
    #[cfg_attr(not(test), expect(dead_code))]
    pub products: Vec<String>,
    #[cfg_attr(not(test), expect(dead_code))]
    pub constants: Vec<String>,
}

/// The exact strain of a path, and identities for Gappa, which checks each by multiplying it out.
struct Model {
    definitions: String,
    identities: String,
}

impl Script {
    /// What `path` of a kernel computes, with a fault or without, and that its error is within `bound`.
    pub fn of<const D: usize, const F: usize>(
        title: &str,
        description: &Description<D, F>,
        path: Path,
        bound: Nanostrain,
        fault: Option<Fault>,
    ) -> Self {
        let mut trace = Trace { fault, ..Trace::default() };
        let model = match path {
            Path::OneCall => one_call(&description.one_call(&mut trace)),
            Path::Split => split(&description.split(&mut trace)),
        };
        let text = format!(
            "# Every improvement of a range counts, however small:\n\
             #@ -Echange-threshold=0\n\
             # The exact strain, in Q34. Divisors are in steps of 2^-32.\n{}\n\
             nanostrain = (strain - model) * 1e9 * 1b-34;\n",
            model.definitions
        );
        Self::with(
            &format!("{title}, {}", path.name()),
            trace,
            &text,
            &model.identities,
            ("nanostrain", bound.0),
        )
    }

    /// That `computed` is within `bound` steps of the same without rounding.
    pub fn of_steps(title: &str, trace: Trace, result: &Name, bound: f64) -> Self {
        let (computed, exact) = (&result.computed, &result.exact);
        let definitions = format!("steps = {computed} - {exact};\n");
        Self::with(title, trace, &definitions, "", ("steps", bound))
    }

    fn with(title: &str, trace: Trace, model: &str, identities: &str, (error, bound): (&str, f64)) -> Self {
        let mut text = String::new();
        write!(
            text,
            "# {title}.\n\
             # Each intermediate stands in two lines: what the register holds, and the exact value. int<dn> rounds down.\n\
             {}\n{model}\n",
            trace.definitions,
        )
        .unwrap();
        let bound = dyadic(bound);
        let within = |names: &[String], bits: u32| -> Vec<String> {
            let end = 1_i128 << (bits - 1);
            names.iter().map(|name| format!("{name} in [{}, {}]", -end, end - 1)).collect()
        };
        let mut goals = within(&trace.registers, 32);
        goals.extend(within(&trace.small, 31));
        goals.extend(within(&trace.wide, 64));
        goals.extend(trace.squares.iter().map(|name| format!("{name} in [0, {}]", u64::MAX)));
        goals.extend([format!("{error} in [-{bound}, {bound}]"), format!("{error} in ?")]);
        write!(
            text,
            "{{\n\
             # Inputs and constants: each constant is the exact one rounded.\n   {}\n\
             ->\n\
             # Every intermediate fits a register, and the error is within the kernel's bound.\n   {}\n}}\n\n\
             # What is computed approximates what, and identities.\n{}{identities}",
            trace.assumptions.join("\n/\\ "),
            goals.join("\n/\\ "),
            trace.approximations,
        )
        .unwrap();
        let registers = trace.registers.len() + trace.wide.len() + trace.squares.len();
        Self { text, registers, products: trace.products, constants: trace.constants }
    }
}

fn one_call(names: &OneCall<Name>) -> Model {
    let OneCall { terms, divisor, strain } = names;
    let u = &divisor.exact;
    Model {
        definitions: format!(
            "factor = {};\n\
             {}\
             # u^8, what the products leave out of the reciprocal, as a share of what it should be.\n\
             u_second = {u} * {u} * 1b-64;\n\
             u_fourth = u_second * u_second;\n\
             u_eighth = u_fourth * u_fourth;\n",
            factor(terms),
            exact_strain(terms, &format!("1b32 + {}", terms.curvature.exact)),
        ),
        identities: format!(
            "{computed} ~ {exact};\n\
             {exact} ~ model;\n\
             # u = 1 - (1 + p)(1 - l), which is monotonic in both.\n\
             {u} -> 1b32 - divisor_of_strain;\n\
             # (1 + u)(1 + u^2)(1 + u^4) = (1 - u^8) / (1 - u).\n\
             {exact} - model -> -(u_eighth * model) {{ divisor_of_strain <> 0 }};\n",
            computed = strain.computed,
            exact = strain.exact,
        ),
    }
}

fn split(names: &Split<Name>) -> Model {
    let Split { terms, divisor, strain } = names;
    // The point's p has its sign turned.
    let (p, l) = (&terms.curvature.exact, &divisor.exact);
    let range = match terms.product {
        None => String::new(),
        Some(_) => format!(
            "# l with thermal output in it, monotonic in both.\n{l}_in_full -> 1b32 - {};\n",
            factor(terms)
        ),
    };
    Model {
        definitions: format!(
            "{}\
             # p^6, what the products leave out of the bridge's reciprocal.\n\
             p_second = {p} * {p} * 1b-64;\n\
             p_sixth = p_second * p_second * p_second;\n\
             model_signal = {} / divisor_of_strain;\n",
            exact_strain(terms, &format!("1b32 - {p}")),
            signal(terms),
        ),
        identities: format!(
            "# Each side of mid range by itself.\n\
             nanostrain $ x in (0);\n\
             {computed} ~ {exact};\n\
             {exact} ~ model;\n\
             {range}\
             # (1 + p)(1 + p^2 + p^4) = (1 - p^6) / (1 - p), for the signal alone.\n\
             {exact} - model -> -(model_signal * p_sixth) {{ divisor_of_strain <> 0, factor <> 0 }};\n",
            computed = strain.computed,
            exact = strain.exact,
        ),
    }
}

/// The same for both paths: `(G + t (1 + p)) / ((1 + p)(1 - l))`, `t` that of both gauges.
fn exact_strain(terms: &Terms<Name>, bridge: &str) -> String {
    let both = match &terms.compensating {
        None => terms.thermal.exact.clone(),
        Some(compensating) => format!("({} + {})", terms.thermal.exact, compensating.exact),
    };
    format!(
        "bridge = {bridge};\n\
         divisor_of_strain = bridge * factor * 1b-32;\n\
         model = ({} + {both} * bridge) / divisor_of_strain;\n",
        signal(terms),
    )
}

/// `G`, times `1 + F t` with the thermal output of a compensating gauge where that is multiplied.
fn signal(terms: &Terms<Name>) -> String {
    let signal = format!("{} * {}", terms.d.exact, terms.gain.exact);
    match (&terms.product, &terms.compensating) {
        (Some(product), Some(of)) => format!("{signal} * (1b32 - {}) * 1b-32", change(product, of)),
        _ => signal,
    }
}

/// `1 - l`, times `1 - F t` with the thermal output of the gauge that measures where that is multiplied.
fn factor(terms: &Terms<Name>) -> String {
    let factor = format!("1b32 - {}", terms.factor_change.exact);
    match &terms.product {
        None => factor,
        Some(product) => format!("({factor}) * (1b32 + {}) * 1b-32", change(product, &terms.thermal)),
    }
}

/// `-F t`.
fn change(product: &Name, thermal: &Name) -> String {
    format!("{} * {} * 1b{}", thermal.exact, product.exact, PRODUCT_SHIFT as i32 - 32)
}

/// A number of `f64` as it is, to the last bit: `3b-1` is one and a half.
pub fn dyadic(value: f64) -> String {
    assert!(value.is_normal() && value > 0.0, "{value} is no bound");
    let bits = value.to_bits();
    let exponent = (bits >> 52) as i64 - 1075;
    format!("{}b{exponent}", (bits & ((1 << 52) - 1)) | (1 << 52))
}

#[cfg(test)]
mod tests {
    use super::dyadic;

    #[test]
    fn bounds_are_written_to_the_last_bit() {
        assert_eq!(dyadic(1.5), "6755399441055744b-52");
        for value in [0.1, 0.38, 1.0, 3.7] {
            let text = dyadic(value);
            let (mantissa, exponent) = text.split_once('b').unwrap();
            let exact = mantissa.parse::<f64>().unwrap() * exponent.parse::<f64>().unwrap().exp2();
            assert_eq!(exact, value);
        }
    }
}
