//! The kernels of the sweep and of the counts, as constants of C for the firmware of `examples/c-firmware`.

use gaugewright::fixed;

use crate::c_header;
use crate::channels::{CHANNELS, FIXED, LINEAR};
use crate::peers::notebooks::{WIDE, channel};

/// A header with a table of the sweep's channels, and the kernels that are counted.
pub fn text() -> String {
    let mut text = c_header::head("sweep kernels");
    let mut rows = String::new();
    for ((name, _), kernel) in CHANNELS.iter().zip(&FIXED) {
        let named = format!("sweep {name}");
        let identifier = c_header::identifier(&named);
        text += &c_header::kernel(&named, "", kernel);
        rows += &format!("    {{\"{name}\", &{identifier}, &{identifier}_seal}},\n");
    }
    let wide = channel(&WIDE);
    let counted: [(&str, fixed::Kernel); 2] =
        [("counted wide", wide.fixed()), ("counted linear", LINEAR.fixed())];
    for (name, kernel) in &counted {
        text += &c_header::kernel(name, "", kernel);
    }
    let large: fixed::Kernel<5, 3> = wide.fixed();
    text += &c_header::kernel("counted wide large", "", &large);
    text += &format!(
        "\nenum {{ CHANNELS = {} }};\n\nstatic const struct channel {{\n    const char *name;\n    \
         const gw_large_kernel *kernel;\n    const gw_seal *seal;\n}} channels[CHANNELS] = {{\n{rows}}};\n",
        CHANNELS.len()
    );
    text + c_header::END
}
