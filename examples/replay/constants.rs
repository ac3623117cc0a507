//! The channels of a channel file as constants for firmware: kernels of C, and channels of Rust.

use gaugewright::{Channel, Error, fixed};
use host::channel_file::rosette::Rosette;
use host::channel_file::{self, ChannelFile, Description};
use host::describe::describe;
use host::files::told;
use host::kernel::{circuit_error, within};
use host::on_site::{ranges, shunt_check, wiring_check};
use host::rosette::rosette;
use host::uncertainty::stated;
use host::{c_header, rust_module};

/// The whole header: each channel as the smallest kernel that takes it, with what the file says of it in a comment.
///
/// # Errors
/// What is wrong with the file, or with a channel; also two whose names are one in C. A channel with two temperatures or
/// with the product of thermal and mechanical change, for which C has no kernel, is left out, and the header says so.
pub fn of_c(name: &str, text: &str, guard: &str) -> Result<String, String> {
    let constants = each(name, text, "C", c_header::identifier, of_channel, |words, file| {
        let (rosette, within) = rosette(words, &file.channels)?;
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
    let channel = describe(description).map_err(|problems| problems.join("; "))?.channel;
    Ok(kernel(description, lines)? + &beside(description, &channel)?)
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

fn kernel(description: &Description, lines: &str) -> Result<String, String> {
    if description.compensating.is_some() {
        return Ok(format!("\n// {}: left out, C has no kernel of two temperatures.\n", description.name));
    }
    let basis = description.gauge.gauge_factor_refers_to;
    if basis != channel_file::Basis::default() {
        let (name, words) = (&description.name, basis.words());
        return Ok(format!(
            "\n// {name}: left out, C has no kernel of a gauge factor that refers to the {words}.\n"
        ));
    }
    let channel = describe(description).map_err(|problems| problems.join("; "))?.channel;
    let error_limit = description.error_limit();
    let usual: Result<fixed::Kernel, Error> = channel.try_fixed_within(error_limit);
    let is_usual = usual.is_ok();
    let kernel = match usual {
        Ok(kernel) => c_header::kernel(&description.name, lines, &channel, &kernel),
        // Degree five or a cubic gauge factor.
        Err(Error::Overflow { .. }) => {
            let large: fixed::Kernel<5, 3> =
                channel.try_fixed_within(error_limit).map_err(|error| error.to_string())?;
            c_header::kernel(&description.name, lines, &channel, &large)
        }
        Err(error) => Err(error),
    }
    .map_err(|error| error.to_string())?;
    let Some(on_site) = &description.on_site else { return Ok(kernel) };
    if !is_usual {
        return Ok(kernel
            + "// Zero and span on site: left out, C has it for thermal output to degree 4 and a slope of the gauge factor.\n");
    }
    let ranges = ranges(&channel, on_site)?;
    let told = |error: Error| format!("zero and span on site: {error}");
    let adjustable: fixed::AdjustableKernel =
        channel.try_fixed_adjustable(ranges.0, ranges.1).map_err(told)?;
    let circuit = circuit_error(&channel, None, ranges).map_err(told)?;
    within(&[adjustable.error_bound().max(), circuit], error_limit)?;
    Ok(kernel + &c_header::adjustable(&description.name, &adjustable, circuit))
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
