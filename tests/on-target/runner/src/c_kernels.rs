//! The kernels of the sweep and of the counts, as constants of C for the firmware of `examples/c-firmware`.

use gaugewright::{Channel, fixed};

use host::c_header;
use on_target::channels::{CHANNELS, FIXED, LINEAR};
use on_target::peers::notebooks::{WIDE, channel};

/// A header with a table of the sweep's channels, and the kernels that are counted.
pub fn text() -> Result<String, String> {
    let mut text = c_header::head("sweep kernels");
    let mut rows = String::new();
    for ((name, channel), kernel) in CHANNELS.iter().zip(&FIXED) {
        let named = format!("sweep {name}");
        let identifier = c_header::identifier(&named);
        text += &one(&named, channel, kernel)?;
        rows += &format!("    {{\"{name}\", &kernel_{identifier}, &seal_{identifier}}},\n");
    }
    let wide = channel(&WIDE);
    let small: [fixed::Kernel; 2] = [wide.fixed(), LINEAR.fixed()];
    let large: fixed::Kernel<5, 3> = wide.fixed();
    text += &one("counted wide", &wide, &small[0])?;
    text += &one("counted linear", &LINEAR, &small[1])?;
    text += &one("counted wide large", &wide, &large)?;
    text += &format!(
        "\nenum {{ CHANNELS = {} }};\n\nstatic const struct channel {{\n    const char *name;\n    \
         const gw_large_kernel *kernel;\n    const gw_seal *seal;\n}} channels[CHANNELS] = {{\n{rows}}};\n",
        CHANNELS.len()
    );
    Ok(text + c_header::END)
}

fn one<const DEGREE: usize, const FACTOR: usize>(
    name: &str,
    channel: &Channel,
    kernel: &fixed::Kernel<DEGREE, FACTOR>,
) -> Result<String, String> {
    c_header::kernel(name, "", channel, kernel).map_err(|error| format!("{name}: {error}"))
}
