//! The channels of a channel file as constants for firmware: kernels of C, and channels of Rust.

use gaugewright::ffi::*;
use gaugewright::units::Nanostrain;
use gaugewright::{Channel, CompensatedChannel, Error, fixed};
use host::c_header::Facts;
use host::channel_file::rosette::Rosette;
use host::channel_file::{self, ChannelFile, Description};
use host::describe::{Described, describe};
use host::files::told;
use host::kernel::{circuit_error, within};
use host::on_site::{ranges, shunt_check, wiring_check};
use host::rosette::rosette;
use host::setup::Thermometer;
use host::uncertainty::stated;
use host::{c_header, rust_module};

/// The whole header: each channel as the smaller kernel that takes it, in integers and in single precision, with what the file says
/// of it in a comment.
///
/// # Errors
/// What is wrong with the file, or with a channel; also two whose names are one in C.
pub fn of_c(name: &str, text: &str, guard: &str) -> Result<String, String> {
    let constants = each(name, text, "C", c_header::identifier, of_channel, |words, file| {
        if words.channels.len() != 3 {
            let why = format!("Rosette {}: left out, as those of C have three grids.", words.name);
            return Ok(format!("\n{}", c_header::comment(&why)));
        }
        let (rosette, within) = rosette::<3>(words, &file.channels)?;
        let told = |error: Error| error.to_string();
        let error = rosette.fixed_error(within).map_err(told)?;
        Ok(c_header::rosette(
            &words.name,
            &words.channels,
            &rosette.try_fixed().map_err(told)?,
            within,
            &error,
        ))
    })?;
    Ok(c_header::head(guard) + &constants + c_header::END)
}

/// The whole module: each channel, and its kernel within the error limit.
///
/// # Errors
/// What is wrong with the file, or with a channel; also two whose names are one in Rust.
pub fn of_rust(name: &str, text: &str) -> Result<String, String> {
    let file = std::path::Path::new(name).file_name().unwrap_or_default().to_string_lossy();
    let constants =
        each(name, text, "Rust", rust_module::identifier, rust_module::channel, rust_module::rosette)?;
    Ok(rust_module::head(&file) + &constants)
}

/// What `write` makes of each channel, and `write_rosette` of each rosette.
fn each(
    name: &str,
    text: &str,
    language: &str,
    identifier: impl Fn(&str) -> String,
    write: impl Fn(&Description, &str) -> Result<String, String>,
    write_rosette: impl Fn(&Rosette, &ChannelFile) -> Result<String, String>,
) -> Result<String, String> {
    let file = channel_file::parse(text).map_err(told(name))?;
    let mut written = String::new();
    let mut names: Vec<String> = Vec::new();
    let tables = tables(text);
    for (i, description) in file.channels.iter().enumerate() {
        let refused = |why: String| format!("{name}: channel {:?}: {why}", description.name);
        let identifier = identifier(&description.name);
        if names.contains(&identifier) {
            return Err(refused(format!("another channel is {identifier} in {language}")));
        }
        let lines = if tables.len() == file.channels.len() { tables[i].as_str() } else { "" };
        written += &write(description, lines).map_err(refused)?;
        names.push(identifier);
    }
    let mut names: Vec<String> = Vec::new();
    for words in &file.rosettes {
        let refused = |why: String| format!("{name}: rosette {:?}: {why}", words.name);
        let identifier = identifier(&words.name);
        if names.contains(&identifier) {
            return Err(refused(format!("another rosette is {identifier} in {language}")));
        }
        written += &write_rosette(words, &file).map_err(refused)?;
        names.push(identifier);
    }
    Ok(written)
}

/// The kernels of a channel and what goes with them.
fn of_channel(description: &Description, lines: &str) -> Result<String, String> {
    let described = describe(description).map_err(|problems| problems.join("; "))?;
    let constants = kernel(description, &described, lines)? + &thermometer(description, &described);
    Ok(constants + &beside(description, &described.channel)?)
}

/// What a logger has of a channel beside its kernels: checks on site, and uncertainties.
fn beside(description: &Description, channel: &Channel) -> Result<String, String> {
    let name = &description.name;
    let mut written = String::new();
    if let Some(on_site) = &description.on_site {
        if let Some(check) = wiring_check(channel, on_site)? {
            written += &c_header::wiring(name, on_site.resistor_tolerance_percent.unwrap_or(0.0), &check);
        }
        if let Some(check) = shunt_check(channel, on_site)? {
            written += &c_header::shunt(name, &check);
        }
    }
    if let Some(stated) = stated(description, channel)? {
        written += &c_header::uncertainty(name, &stated).map_err(|error| error.to_string())?;
    }
    Ok(written)
}

fn kernel(description: &Description, described: &Described, lines: &str) -> Result<String, String> {
    let Described { channel, compensating, .. } = described;
    let (name, limit) = (&description.name, description.error_limit());
    let told = |error: Error| error.to_string();
    let kernels = match compensating {
        None => of_one(name, channel, limit),
        Some(second) => of_two(name, &channel.compensated_by(*second), limit),
    };
    let text = c_header::channel(name, lines) + &kernels.map_err(told)?;
    let Some(on_site) = &description.on_site else {
        return Ok(text + "// Without [channel.on_site]: its zero is that of the file.\n");
    };
    let ranges = ranges(channel, on_site)?;
    let told = |error: Error| format!("zero and span on site: {error}");
    let adjustable: fixed::AdjustableKernel = match channel.try_fixed_adjustable(ranges.0, ranges.1) {
        Ok(adjustable) if compensating.is_none() => adjustable,
        Ok(_) | Err(Error::Overflow { .. }) => {
            return Ok(text + "// Zero and span on site: left out, C has it for a gw_kernel.\n");
        }
        Err(error) => return Err(told(error)),
    };
    let circuit = circuit_error(channel, None, ranges).map_err(told)?;
    within(&[adjustable.error_bound().max(), circuit], limit)?;
    Ok(text + &c_header::adjustable(name, adjustable, ranges, circuit))
}

/// The kernels of a channel, in integers and in single precision: of both the usual one, or where that has no room the large one.
macro_rules! kernels {
    ($name:ident, $channel:ident, $limit:ident, $facts:path, $usual:ident $large:ident, $float:ident $large_float:ident) => {{
        let circuit = $channel.circuit_error()?;
        let single = if let Ok(kernel) = $channel.try_float32::<4, 1, 0>() {
            let (bound, words) = (kernel.error_bound(), $float::of(kernel));
            c_header::float_kernel(stringify!($float), $name, &words, &bound, circuit)
        } else {
            match $channel.try_float32::<5, 3, 1>() {
                Ok(kernel) => {
                    let (bound, words) = (kernel.error_bound(), $large_float::of(kernel));
                    c_header::float_kernel(stringify!($large_float), $name, &words, &bound, circuit)
                }
                Err(error) => format!("// No kernel in single precision: {error}.\n"),
            }
        };
        let fixed = match $channel.try_fixed_within::<4, 1, 0>($limit) {
            Err(Error::Overflow { .. }) => {
                let kernel = $channel.try_fixed_within::<5, 3, 1>($limit)?;
                let facts = $facts($channel, &kernel)?;
                c_header::kernel(stringify!($large), $name, &$large::of(kernel), &facts)
            }
            kernel => {
                let kernel = kernel?;
                let facts = $facts($channel, &kernel)?;
                c_header::kernel(stringify!($usual), $name, &$usual::of(kernel), &facts)
            }
        };
        Ok(fixed + &single)
    }};
}

fn of_one(name: &str, channel: &Channel, limit: Nanostrain) -> Result<String, Error> {
    kernels!(name, channel, limit, Facts::one, gw_kernel gw_large_kernel, gw_float_kernel gw_large_float_kernel)
}

/// The same of two temperatures.
fn of_two(name: &str, channel: &CompensatedChannel, limit: Nanostrain) -> Result<String, Error> {
    kernels!(
        name,
        channel,
        limit,
        Facts::two,
        gw_compensated_kernel gw_large_compensated_kernel,
        gw_float_compensated_kernel gw_large_float_compensated_kernel
    )
}

/// Where the channel has a sensor that is read raw.
fn thermometer(description: &Description, described: &Described) -> String {
    let Thermometer::Sensor(sensor) = &described.columns.temperature else { return String::new() };
    c_header::thermometer(&description.name, sensor, described.channel.temperatures())
}

/// What the file says of each channel: the lines of its tables, without comments.
fn tables(text: &str) -> Vec<String> {
    let mut tables: Vec<String> = Vec::new();
    let mut in_channel = false;
    for line in text.lines().map(without_comment) {
        if line == "[[channel]]" {
            tables.push(String::new());
            in_channel = true;
        } else if line.starts_with("[[") {
            in_channel = false;
        } else if let (Some(table), true) = (tables.last_mut(), in_channel && !line.is_empty()) {
            *table += line;
            table.push('\n');
        }
    }
    tables
}

/// Up to a number sign that is not in a text.
fn without_comment(line: &str) -> &str {
    let mut quote = None;
    let end = line.char_indices().find_map(|(at, c)| match (c, quote) {
        ('#', None) => Some(at),
        ('"' | '\'', None) => {
            quote = Some(c);
            None
        }
        (c, Some(open)) if c == open => {
            quote = None;
            None
        }
        _ => None,
    });
    line[..end.unwrap_or(line.len())].trim()
}
