//! The channels of a channel file as kernels of C.

use crate::channel_file::{self, Description};
use crate::describe::describe;
use crate::{c_header, tell};
use gaugewright::units::Nanostrain;
use gaugewright::{Error, fixed};

/// The whole header: each channel as the smallest kernel that takes it, with what the file says of it in a comment.
///
/// # Errors
/// What is wrong with the file, or with a channel; also two whose names are one in C. A channel with two temperatures, for
/// which C has no kernel, is left out, and the header says so.
pub fn text(name: &str, text: &str, guard: &str) -> Result<String, String> {
    let file = channel_file::parse(text).map_err(|problems| tell(name, &problems))?;
    let mut header = c_header::head(guard);
    let mut names: Vec<String> = Vec::new();
    for description in &file.channels {
        let refused = |why: String| format!("{name}: channel {:?}: {why}", description.name);
        let identifier = c_header::identifier(&description.name);
        if names.contains(&identifier) {
            return Err(refused(format!("another channel is {identifier} in C")));
        }
        header += &kernel(description).map_err(refused)?;
        names.push(identifier);
    }
    Ok(header + c_header::END)
}

fn kernel(description: &Description) -> Result<String, String> {
    if description.compensating.is_some() {
        return Ok(format!("\n// {}: left out, C has no kernel of two temperatures.\n", description.name));
    }
    let (channel, _) = describe(description).map_err(|problems| problems.join("; "))?;
    let promise = Nanostrain(description.error_within_nanostrain.unwrap_or(0.5));
    let lines = format!("{channel:#?}");
    let usual: Result<fixed::Kernel, Error> = channel.try_fixed_within(promise);
    match usual {
        Ok(kernel) => Ok(c_header::kernel(&description.name, &lines, &kernel)),
        // Degree five or a cubic gauge factor.
        Err(Error::Overflow { .. }) => {
            let large: fixed::Kernel<5, 3> =
                channel.try_fixed_within(promise).map_err(|error| error.to_string())?;
            Ok(c_header::kernel(&description.name, &lines, &large))
        }
        Err(error) => Err(error.to_string()),
    }
}
