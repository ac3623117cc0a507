//! Constants whose words C passes on and does not read.

use super::{identifier, in_comment, up};
use gaugewright::ffi::{LayoutCompatible, gw_rosette, gw_shunt_check, gw_uncertainty, gw_wiring_check};
use gaugewright::installation::{ShuntCheck, WiringCheck};
use gaugewright::rosette::{FixedError, FixedRosetteKernel};
use gaugewright::units::Microstrain;
use gaugewright::{Error, uncertainty};

use crate::uncertainty::Stated;

/// Columns of a comment.
const WIDTH: usize = 115;

/// A constant with a comment, which is broken into lines. `kind` stands before the name of the channel or rosette.
fn constant(structure: &str, kind: &str, name: &str, comment: &str, words: &[u32]) -> String {
    let mut text = String::new();
    let mut line = String::from("//");
    for word in comment.split_whitespace() {
        if line.len() + 1 + word.len() > WIDTH {
            text += &(std::mem::replace(&mut line, String::from("//")) + "\n");
        }
        line += &format!(" {}", in_comment(word));
    }
    text += &(line + "\n");
    text += &format!("static const {structure} {kind}_{} = {{{{\n", identifier(name));
    for row in words.chunks(8) {
        let row: Vec<String> = row.iter().map(|word| format!("0x{word:08x}u")).collect();
        text += &format!("    {},\n", row.join(", "));
    }
    text + "}};\n"
}

/// What a reading at rest says of the wiring; `tolerance` is that of the resistors, percent.
pub fn wiring(name: &str, tolerance: f64, check: &WiringCheck) -> String {
    let healthy = check.healthy();
    let comment = format!(
        "Wiring, with resistors within {tolerance} %: in order at codes {} to {} without load; compared exactly.",
        healthy.lowest, healthy.highest
    );
    constant("gw_wiring_check", "wiring", name, &comment, &gw_wiring_check::of(*check).words)
}

/// The change of code of a shunt, and the span from it.
pub fn shunt(name: &str, check: &ShuntCheck) -> String {
    let (change, (low, high)) = (check.change(), check.spans());
    let comment = format!(
        "Shunt: it changes the code by {} to {}, rounded outwards, and gives spans of {:.6} to {:.6}.",
        change.lowest,
        change.highest,
        low.ratio(),
        high.ratio()
    );
    constant("gw_shunt_check", "shunt", name, &comment, &gw_shunt_check::of(*check).words)
}

/// Standard uncertainty of each sample.
///
/// # Errors
/// As the library's.
pub fn uncertainty(name: &str, stated: &Stated) -> Result<String, Error> {
    let kernel: uncertainty::UncertaintyKernel<f32, 1> = stated.uncertainties.try_float32()?;
    let mut comment = "Standard uncertainty of a sample. Of the integers, proven: within 0.3 nanostrain of that of a point."
        .to_string();
    if !stated.not_stated.is_empty() {
        let names: Vec<&str> = stated.not_stated.iter().map(|input| input.name()).collect();
        comment += &format!(" Taken as exact, as not stated: {}.", names.join(", "));
    }
    Ok(constant("gw_uncertainty", "uncertainty", name, &comment, &gw_uncertainty::of(kernel).words))
}

/// Three grids to the state of strain, with its error for grids within `within`.
pub fn rosette(
    name: &str,
    grids: &[String; 3],
    kernel: &FixedRosetteKernel,
    within: Microstrain,
    error: &FixedError,
) -> String {
    let comment = format!(
        "{name}: grids a, b and c are {}. Largest error, proven, for grids within {} microstrain: {:.3} nanostrain of a \
         component, {:.3} of half the greatest shear, {:.3} of a principal strain.",
        grids.join(", "),
        within.0,
        up(error.component.0),
        up(error.half_shear.0),
        up(error.principal.0)
    );
    String::from("\n") + &constant("gw_rosette", "rosette", name, &comment, &gw_rosette::of(*kernel).words)
}
