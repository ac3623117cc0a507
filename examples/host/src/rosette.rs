//! What a channel file says of rosettes.

use crate::channel_file::rosette::{Layout, Rosette};
use crate::channel_file::{ChannelFile, Description, Problem};
use crate::describe::gauge;
use gaugewright::rosette;
use gaugewright::units::{Degrees, Microstrain};

/// Declared where a grid's channel states no limit: the whole format of a strain.
const WIDEST: f64 = 125_000.0;

/// Every problem of the file's rosettes.
pub fn problems(file: &ChannelFile) -> Vec<Problem> {
    let mut problems = Vec::new();
    for (place, words) in file.rosettes.iter().enumerate() {
        let mut problem = |text: String| {
            let text = format!("rosette {:?}: {text}", words.name);
            problems.push(Problem { line: Some(words.line), channel: None, text });
        };
        if words.name.trim().is_empty() || words.name.chars().any(char::is_control) || words.name.len() > 60 {
            problem("a name is 1 to 60 printable characters".to_string());
        }
        if file.rosettes[..place].iter().any(|other| other.name == words.name) {
            problem("another rosette has this name".to_string());
        }
        if let Err(text) = rosette(words, &file.channels) {
            problem(text);
        }
    }
    problems
}

/// The rosette, and the largest strain that its grids are declared for.
///
/// # Errors
/// What the file says twice or not at all, and what the library refuses.
pub fn rosette(words: &Rosette, channels: &[Description]) -> Result<(rosette::Rosette, Microstrain), String> {
    let grids = grids(words, channels)?;
    let angles = angles(words)?.map(Degrees);
    let rosette = rosette::Rosette::at_angles(angles).gauges(&grids.map(|grid| gauge(&grid.gauge)));
    let limits = grids.map(|grid| grid.strain_within_microstrain.unwrap_or(WIDEST));
    let within = Microstrain(limits.into_iter().fold(0.0, f64::max));
    rosette.fixed_error(within).map_err(|error| error.to_string())?;
    Ok((rosette, within))
}

/// Of grids a, b and c, in degrees.
///
/// # Errors
/// Where the file states none, or twice.
pub fn angles(words: &Rosette) -> Result<[f64; 3], String> {
    match (words.layout, words.angles_degrees) {
        (Some(Layout::Rectangular), None) => {
            Ok(rosette::Rosette::rectangular().angles().map(|angle| angle.0))
        }
        (Some(Layout::Delta), None) => Ok(rosette::Rosette::delta().angles().map(|angle| angle.0)),
        (None, Some(angles)) => Ok(angles),
        _ => Err("needs one of layout and angles_degrees".to_string()),
    }
}

/// The channels of grids a, b and c.
///
/// # Errors
/// For a name that no channel has, and for one that stands there twice.
pub fn grids<'a>(words: &Rosette, channels: &'a [Description]) -> Result<[&'a Description; 3], String> {
    let [a, b, c] = &words.channels;
    if a == b || b == c || c == a {
        return Err("channels has three different names".to_string());
    }
    let named = |name: &String| {
        let channel = channels.iter().find(|channel| channel.name == *name);
        channel.ok_or_else(|| format!("no channel is named {name:?}"))
    };
    Ok([named(a)?, named(b)?, named(c)?])
}
