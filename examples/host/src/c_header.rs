//! A kernel as a constant of C: for a firmware that computes nothing in double precision.

use gaugewright::fixed::{self, Kernel};
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

/// A kernel with its seal and the hash of its description, and with `lines` and its proven bound in a comment. `name` is any text.
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
    // Rounded up, so that what is said is a bound too.
    let up = |nanostrain: f64| (nanostrain * 1e3).ceil() / 1e3;
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
    Ok(text)
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
