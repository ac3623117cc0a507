//! Constants beside the kernels: checks on site, uncertainties, rosettes.

use super::{constants, in_comment, up};
use gaugewright::Error;
use gaugewright::ffi::{LayoutCompatible, gw_rosette, gw_shunt_check, gw_uncertainty, gw_wiring_check};
use gaugewright::installation::{ShuntCheck, WiringCheck};
use gaugewright::rosette::{FixedError, FixedRosetteKernel};
use gaugewright::uncertainty::UncertaintyKernel;
use gaugewright::units::Microstrain;

use crate::uncertainty::Stated;

/// Columns of a comment.
const WIDTH: usize = 115;

/// A comment, broken into lines.
pub fn comment(words: &str) -> String {
    let (mut text, mut line) = (String::new(), String::from("//"));
    for word in words.split_whitespace() {
        if line.len() + 1 + word.len() > WIDTH {
            text += &(std::mem::replace(&mut line, String::from("//")) + "\n");
        }
        line += &format!(" {}", in_comment(word));
    }
    text + &line + "\n"
}

/// What a reading at rest says of the wiring; `tolerance` is that of the resistors, percent.
pub fn wiring(name: &str, tolerance: f64, check: &WiringCheck) -> String {
    let healthy = check.healthy();
    let words = format!(
        "Wiring, with resistors within {tolerance} %: in order at codes {} to {} without load; compared exactly.",
        healthy.lowest, healthy.highest
    );
    comment(&words) + &constants("gw_wiring_check", "wiring", name, &gw_wiring_check::of(*check))
}

/// The change of code of a shunt, and the span from it.
pub fn shunt(name: &str, check: &ShuntCheck) -> String {
    let (change, (low, high)) = (check.change(), check.spans());
    let words = format!(
        "Shunt: it changes the code by {} to {}, rounded outwards, and gives spans of {:.6} to {:.6}.",
        change.lowest,
        change.highest,
        low.ratio(),
        high.ratio()
    );
    comment(&words) + &constants("gw_shunt_check", "shunt", name, &gw_shunt_check::of(*check))
}

/// Standard uncertainty of each sample.
///
/// # Errors
/// As the library's.
pub fn uncertainty(name: &str, stated: &Stated) -> Result<String, Error> {
    let kernel: UncertaintyKernel<f32, 1> = stated.uncertainties.try_float32()?;
    let mut words = "Standard uncertainty of a sample. The integer root is proven to be at most 0.6 nanostrain above; the constants \
                     are larger by 8 parts in a million, which covers single precision (sampled)."
        .to_string();
    let names: Vec<&str> = stated.not_stated().map(|it| it.name).collect();
    if !names.is_empty() {
        words += &format!(" Taken as exact, as not stated: {}.", names.join(", "));
    }
    Ok(comment(&words) + &constants("gw_uncertainty", "uncertainty", name, &gw_uncertainty::of(kernel)))
}

/// Three grids to the state of strain, with its error for grids within `within`.
pub fn rosette(
    name: &str,
    grids: &[String],
    kernel: &FixedRosetteKernel,
    within: Microstrain,
    error: &FixedError,
) -> String {
    let words = format!(
        "{name}: grids a, b and c are {}. Largest error, proven, for grids within {} microstrain: {:.3} nanostrain of a \
         component, {:.3} of half the greatest shear, {:.3} of a principal strain.",
        grids.join(", "),
        within.0,
        up(error.component.0, 3),
        up(error.half_shear.0, 3),
        up(error.principal.0, 3)
    );
    String::from("\n")
        + &comment(&words)
        + &constants("gw_rosette", "rosette", name, &gw_rosette::of(*kernel))
}
