//! A kernel as a constant of C: for a firmware that computes nothing in double precision.

mod opaque;

pub use opaque::{rosette, shunt, uncertainty, wiring};

use gaugewright::fixed::{self, AdjustableKernel, Kernel};
use gaugewright::units::Nanostrain;
use gaugewright::{Channel, Error};
use std::fmt::Write;

/// What stands before the kernels. `guard` is any text that no other header has, such as the file's name.
pub fn head(guard: &str) -> String {
    let guard = format!("GW_{}", identifier(guard).to_uppercase());
    format!(
        "// Kernels for gaugewright's header, made by its example replay. Constants alone: include it where they are used.\n\
         #ifndef {guard}\n#define {guard}\n\n#include \"gaugewright.h\"\n\n\
         GW_ASSERT(GW_KERNEL_FORMAT == {});\n",
        fixed::FORMAT
    )
}

/// What stands behind them.
pub const END: &str = "\n#endif\n";

/// A kernel with its seal, the hash of its description and its known answers, and with `lines` and its proven bound in a comment. `name` is any text.
///
/// # Errors
/// What is wrong with the channel that the kernel is of.
pub fn kernel<const DEGREE: usize, const FACTOR: usize>(
    name: &str,
    lines: &str,
    channel: &Channel,
    kernel: &Kernel<DEGREE, FACTOR>,
) -> Result<String, Error> {
    // What the map of the kernel leaves out of the circuit.
    let circuit = channel.circuit_error()?;
    let bound = kernel.error_bound();
    let ((first, last), (cold, hot)) = (kernel.codes(), kernel.temperatures());
    let mut text = format!("\n// {}\n", in_comment(name));
    for line in lines.lines() {
        text += &format!("//   {}\n", in_comment(line));
    }
    text += &format!(
        "// Largest error, proven: {:.3} nanostrain in one call, {:.3} by points, of which the circuit {:.3};\n\
         // for codes {first} to {last} and {} to {} C.\n",
        up(bound.reading.total.0 + circuit.0),
        up(bound.point.total.0 + circuit.0),
        up(circuit.0),
        cold.celsius().0,
        hot.celsius().0
    );
    let name = identifier(name);
    let numbers = numbers(kernel);
    let structure = if DEGREE == 4 { "gw_kernel" } else { "gw_large_kernel" };
    text += &format!("static const {structure} kernel_{name} = {{\n{numbers}}};\n");
    text += &format!(
        "static const gw_seal seal_{name} = {{{}u, 0x{:08x}u}};\n",
        fixed::FORMAT,
        kernel.checksum()
    );
    text +=
        &format!("static const uint64_t description_{name} = 0x{:016x}ull;\n", channel.description_hash());
    text += &format!("static const gw_known_answer answers_{name}[GW_KNOWN_ANSWERS] = {{\n");
    for it in kernel.known_answers() {
        let numbers = array(&[it.code, it.temperature, it.compensating, it.result]);
        text += &format!("    {}, {}u}},\n", numbers.trim_end_matches('}'), it.flags);
    }
    Ok(text + "};\n")
}

/// The constants for zero and span on site, with their seal; `circuit` is what the map leaves out of the circuit at the ends of the
/// ranges. `name` is that of the kernel.
pub fn adjustable(name: &str, adjustable: &AdjustableKernel, circuit: Nanostrain) -> String {
    let bound = adjustable.error_bound();
    let it = adjustable.constants();
    let (low, high) = it.spans;
    let mut text = format!(
        "// Zero and span on site, for balance codes {} to {} and spans of {:.6} to {:.6}.\n\
         // Largest error of the arithmetic, proven for all of them: {:.3} nanostrain in one call, {:.3} by points;\n\
         // of the circuit, at the ends of the ranges: {:.3}.\n",
        it.codes.0,
        it.codes.1,
        low.ratio(),
        high.ratio(),
        up(bound.reading.total.0),
        up(bound.point.total.0),
        up(circuit.0),
    );
    let name = identifier(name);
    text += &format!("static const gw_adjustable_kernel adjustable_{name} = {{\n");
    let mut line = |value: String, field: &str| {
        // Writing to a string does not fail.
        let _ = writeln!(text, "    {value}, // {field}");
    };
    line(long_array(&it.gain), "gain over balance");
    line(long_array(&it.curvature), "curvature over balance");
    line(long_array(&it.thermal), "thermal");
    line(format!("{{\n{}    }}", indented(&numbers(&it.kernel))), "kernel");
    line(literal(it.codes.0), "balance_low");
    line(literal(it.codes.1), "balance_high");
    line(format!("{}u", low.to_bits()), "span_low");
    line(format!("{}u", high.to_bits()), "span_high");
    line(literal(it.middle), "middle");
    line(format!("{{{}u, {}u}}", it.left_out[0], it.left_out[1]), "left_out");
    line(format!("{}u", it.shift), "shift");
    text + &format!(
        "}};\nstatic const gw_seal adjustable_seal_{name} = {{{}u, 0x{:08x}u}};\n",
        fixed::FORMAT,
        adjustable.checksum()
    )
}

/// Rounded up, so that what is said is a bound too.
fn up(nanostrain: f64) -> f64 {
    (nanostrain * 1e3).ceil() / 1e3
}

/// One level deeper.
fn indented(text: &str) -> String {
    text.lines().map(|line| format!("    {line}\n")).collect()
}

/// The fields in their order, which is that of the struct of C: designators are no part of C++17.
fn numbers<const DEGREE: usize, const FACTOR: usize>(kernel: &Kernel<DEGREE, FACTOR>) -> String {
    let it = kernel.constants();
    let (codes, temperatures) = (it.codes, it.temperatures);
    let origin = |low: i32| low.wrapping_sub(i32::MIN);
    let span = |low: i32, high: i32| (origin(low), high.wrapping_sub(origin(low)));
    let (code_origin, code_last) = span(codes.0, codes.1);
    let (temperature_origin, temperature_last) = span(temperatures.0.to_bits(), temperatures.1.to_bits());
    let mut text = String::new();
    let mut line = |value: String, field: &str| {
        // Writing to a string does not fail.
        let _ = writeln!(text, "    {value}, // {field}");
    };
    line(array(&it.thermal), "thermal");
    line(format!("{}u", it.code_scale), "code_scale");
    line(literal(code_origin), "code_origin");
    line(literal(code_last), "code_last");
    line(literal(it.strain_limit), "strain_limit");
    line("0u".into(), "flags");
    line(format!("{}u", it.temperature_scale), "temperature_scale");
    line(format!("{}u", it.bits), "bits");
    line(array(&it.factor), "factor");
    line(literal(it.curvature), "curvature");
    line(literal(temperature_origin), "temperature_origin");
    line(literal(temperature_last), "temperature_last");
    line(literal(it.thermal_offset), "thermal_offset");
    line(literal(it.gain), "gain");
    text
}

fn array(values: &[i32]) -> String {
    let values: Vec<String> = values.iter().map(|&value| literal(value)).collect();
    format!("{{{}}}", values.join(", "))
}

/// In 2^-24 of a kernel's steps: far from the ends of 64 bits.
fn long_array(values: &[i64]) -> String {
    let values: Vec<String> = values.iter().map(|value| format!("{value}ll")).collect();
    format!("{{{}}}", values.join(", "))
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
