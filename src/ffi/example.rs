//! Ready values for the examples of this module.

use super::*;

/// The gauge of `crate::example` in a quarter bridge with three leads.
pub fn channel() -> gw_channel {
    gw_channel {
        gauge: gw_gauge {
            gauge_factor: 2.1,
            thermal_output: [-24.0, 1.0, 0.0, 0.0, 0.0, 0.0],
            thermal_output_terms: 2,
            fitted_low: -50.0,
            fitted_high: 90.0,
            ..Default::default()
        },
        circuit: GW_CIRCUIT_QUARTER_THREE_WIRE,
        gauge_resistance: 120.0,
        converter_bits: 24,
        full_scale_ratio: 0.01,
        ..Default::default()
    }
}

/// Its kernel.
pub fn kernel() -> gw_kernel {
    built(&channel())
}

/// The kernel of four of these gauges in a full bridge.
pub fn linear_kernel() -> gw_kernel {
    built(&gw_channel { circuit: GW_CIRCUIT_FULL_BENDING, ..channel() })
}

/// The same as a large kernel.
pub fn large_kernel() -> gw_large_kernel {
    let mut kernel = gw_large_kernel::default();
    // SAFETY: the pointers are those of a channel and a kernel; no error is asked for.
    unsafe { gw_large_kernel_build(&channel(), &mut kernel, core::ptr::null_mut()) };
    kernel
}

/// A name as C has it.
pub fn name(text: &str) -> [core::ffi::c_char; 25] {
    let mut name = [0; 25];
    for (place, byte) in name.iter_mut().zip(text.bytes()) {
        *place = byte as core::ffi::c_char;
    }
    name
}

fn built(channel: &gw_channel) -> gw_kernel {
    let mut kernel = gw_kernel::default();
    // SAFETY: as above.
    unsafe { gw_kernel_build(channel, &mut kernel, core::ptr::null_mut()) };
    kernel
}
