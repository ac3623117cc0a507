//! Constants for C: for a firmware that computes nothing in double precision.

mod thermometer;

pub use thermometer::thermometer;
mod checks;

pub use checks::{comment, rosette, shunt, uncertainty, wiring};

use gaugewright::device::record::KnownAnswer;
use gaugewright::ffi::{GW_FORMAT, LayoutCompatible, gw_adjustable_kernel, gw_seal};
use gaugewright::fixed::{AdjustableKernel, CompensatedKernel, Constants, Kernel, Temperature};
use gaugewright::kernel::ErrorBound;
use gaugewright::units::Nanostrain;
use gaugewright::{Channel, CompensatedChannel, Error};
use std::fmt::Write;

use crate::kernel::Ranges;

/// What stands before the constants. `guard` is any text that no other header has, such as the file's name.
pub fn head(guard: &str) -> String {
    let guard = format!("GW_{}", identifier(guard).to_uppercase());
    format!(
        "// Constants for gaugewright's header, made by its example replay. Include it where they are used.\n\
         #ifndef {guard}\n#define {guard}\n\n#include \"gaugewright.h\"\n\n\
         GW_ASSERT(GW_FORMAT == {GW_FORMAT});\n"
    )
}

/// What stands behind them.
pub const END: &str = "\n#endif\n";

/// What stands before the constants of a channel: its name, and what the channel file says of it.
pub fn channel(name: &str, lines: &str) -> String {
    let mut text = format!("\n// {}\n", in_comment(name));
    lines.lines().for_each(|line| text += &format!("//   {}\n", in_comment(line)));
    text
}

/// Constants with their seal behind them: `structure` is their type in C, `KIND_NAME` what they are called there.
pub fn constants<T: LayoutCompatible>(structure: &str, kind: &str, name: &str, constants: &T) -> String {
    let variable = format!("{kind}_{}", identifier(name));
    let (bytes, size) = (constants.bytes(), align_of::<T>());
    let words = bytes.chunks(size).map(|word| {
        let digits: String = word.iter().rev().map(|byte| format!("{byte:02x}")).collect();
        format!("0x{digits}{}", if size == 4 { "u" } else { "ull" })
    });
    let mut text = format!("static const {structure} {variable} = {{{{");
    for (k, word) in words.enumerate() {
        let before = match k {
            0 => "\n    ",
            _ if k % 8 == 0 => ",\n    ",
            _ => ", ",
        };
        text += &format!("{before}{word}");
    }
    let gw_seal { format, checksum } = gw_seal::of(bytes);
    text + &format!("\n}}}};\nstatic const gw_seal {variable}_seal = {{{format}u, 0x{checksum:08x}u}};\n")
}

/// What is written beside a kernel.
pub struct Facts {
    bound: ErrorBound,
    /// What its map leaves out of the circuit.
    circuit: Nanostrain,
    codes: (i32, i32),
    temperatures: (Temperature, Temperature),
    description: u64,
    answers: [KnownAnswer; 3],
}

impl Facts {
    /// Of a kernel of one temperature.
    ///
    /// # Errors
    /// What is wrong with its channel.
    pub fn one<const D: usize, const F: usize, const P: usize>(
        channel: &Channel,
        kernel: &Kernel<D, F, P>,
    ) -> Result<Self, Error> {
        let (circuit, description) = (channel.circuit_error()?, channel.description_hash());
        let (bound, answers) = (kernel.error_bound(), kernel.known_answers());
        Ok(Self {
            bound,
            circuit,
            codes: kernel.codes(),
            temperatures: kernel.temperatures(),
            description,
            answers,
        })
    }

    /// Of a kernel of two temperatures.
    ///
    /// # Errors
    /// What is wrong with its channel.
    pub fn two<const D: usize, const F: usize, const P: usize>(
        channel: &CompensatedChannel,
        kernel: &CompensatedKernel<D, F, P>,
    ) -> Result<Self, Error> {
        let (circuit, description) = (channel.circuit_error()?, channel.description_hash());
        let (bound, answers) = (kernel.error_bound(), kernel.known_answers());
        let Constants { codes, temperatures, .. } = kernel.constants().measuring;
        Ok(Self { bound, circuit, codes, temperatures, description, answers })
    }
}

/// A kernel in integers, with its proven bound, the hash of its description and its known answers.
pub fn kernel<T: LayoutCompatible>(structure: &str, name: &str, kernel: &T, facts: &Facts) -> String {
    let Facts { codes: (first, last), temperatures: (cold, hot), description, .. } = facts;
    let mut text = bound("", &facts.bound, facts.circuit);
    text += &format!("// For codes {first} to {last} and {} to {} C.\n", cold.celsius().0, hot.celsius().0);
    text += &constants(structure, "kernel", name, kernel);
    let name = identifier(name);
    text += &format!("static const uint64_t description_{name} = 0x{description:016x}ull;\n");
    text += &format!("static const gw_known_answer answers_{name}[GW_KNOWN_ANSWERS] = {{\n");
    for it in &facts.answers {
        let numbers = [it.code, it.temperature, it.compensating, it.result].map(literal).join(", ");
        // Writing to a string does not fail.
        let _ = writeln!(text, "    {{{numbers}, {}u}},", it.flags);
    }
    text + "};\n"
}

/// The same in single precision.
pub fn float_kernel<T: LayoutCompatible>(
    structure: &str,
    name: &str,
    kernel: &T,
    error_bound: &ErrorBound,
    circuit: Nanostrain,
) -> String {
    bound(" in single precision", error_bound, circuit) + &constants(structure, "float_kernel", name, kernel)
}

fn bound(of: &str, bound: &ErrorBound, circuit: Nanostrain) -> String {
    format!(
        "// Largest error{of}, proven: {:.3} nanostrain in one call, {:.3} by points, of which the circuit {:.3}.\n",
        up(bound.reading.total.0 + circuit.0, 3),
        up(bound.point.total.0 + circuit.0, 3),
        up(circuit.0, 3)
    )
}

/// The constants for zero and span on site; `circuit` is what the map leaves out of the circuit at the ends of the ranges.
pub fn adjustable(
    name: &str,
    adjustable: AdjustableKernel,
    ((lowest, highest), (least, most)): Ranges,
    circuit: Nanostrain,
) -> String {
    let bound = adjustable.error_bound();
    format!(
        "// Zero and span on site, for balance codes {lowest} to {highest} and spans of {:.6} to {:.6}.\n\
         // Largest error of the arithmetic, proven for all of them: {:.3} nanostrain in one call, {:.3} by points;\n\
         // of the circuit, at the ends of the ranges: {:.3}.\n",
        least.ratio(),
        most.ratio(),
        up(bound.reading.total.0, 3),
        up(bound.point.total.0, 3),
        up(circuit.0, 3),
    ) + &constants("gw_adjustable_kernel", "adjustable", name, &gw_adjustable_kernel::of(adjustable))
}

/// Rounded up, so that what is said is a bound too.
fn up(bound: f64, decimals: i32) -> f64 {
    let steps = 10f64.powi(decimals);
    (bound * steps).ceil() / steps
}

/// The lowest number has no literal of its own in C.
fn literal(value: i32) -> String {
    if value == i32::MIN { "(-2147483647 - 1)".into() } else { value.to_string() }
}

/// What a name of C can end with, from any text.
pub fn identifier(name: &str) -> String {
    name.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '_' }).collect()
}

/// On one line, and without a backslash at its end, which would go on with the comment.
fn in_comment(text: &str) -> String {
    text.chars().map(|c| if c.is_control() || c == '\\' { ' ' } else { c }).collect()
}
