//! Every path as a function of its own that a linker keeps and the runner finds by name: what is measured.

use core::cell::RefCell;

use gaugewright::fit::ThermalOutputFit;
use gaugewright::fixed::{self, Temperature};
use gaugewright::temperature::{Reading, ResistanceKernel, ThermocoupleKernel};
use gaugewright::{Error, float, uncertainty};

use crate::peers::naive_double::NaiveDouble;
use crate::peers::naive_single::NaiveSingle;
use crate::peers::table::Table;

/// The ordinary return type of Rust, so that a call costs what it costs in a firmware.
macro_rules! paths {
    ($($name:ident($kernel:ident: $type:ty, $code:ident, $t:ident) -> $result:ty { $body:expr })*) => {
        $(
            #[unsafe(no_mangle)]
            #[inline(never)]
            pub fn $name($kernel: $type, $code: i32, $t: Temperature) -> $result {
                $body
            }
        )*
    };
}

/// Of strain in `f32`.
const STEP: f32 = 1.0 / 17_179_869_184.0;

// All take the same arguments, whether they look at them or not: what is measured is called in one way.
paths! {
    fixed_reading(kernel: &fixed::Kernel, code, t) -> fixed::Reading { kernel.reading(code, t) }
    fixed_at(kernel: &fixed::Kernel, _code, t) -> fixed::Point { kernel.at(t) }
    fixed_point(point: &fixed::Point, code, _t) -> fixed::Reading { point.reading(code) }
    fixed_point_linear(point: &fixed::LinearPoint, code, _t) -> fixed::Reading { point.reading(code) }
    fixed_linear(point: &fixed::Point, _code, _t) -> Option<fixed::LinearPoint> { point.linear() }
    fixed_reading_5_3(kernel: &fixed::Kernel<5, 3>, code, t) -> fixed::Reading { kernel.reading(code, t) }
    fixed_compensated(kernel: &fixed::CompensatedKernel, code, t) -> fixed::Reading { kernel.reading(code, t, t) }
    f32_reading(kernel: &float::Kernel<f32>, code, t) -> float::Reading<f32> { kernel.reading(code, t) }
    f32_at(kernel: &float::Kernel<f32>, _code, t) -> float::Point<f32> { kernel.at(t) }
    f32_point(point: &float::Point<f32>, code, _t) -> float::Reading<f32> { point.reading(code) }
    platinum_fixed(kernel: &ResistanceKernel<i32, 8>, code, _t) -> Reading { kernel.reading(code) }
    platinum_f32(kernel: &ResistanceKernel<f32, 8>, code, _t) -> Reading<f32> { kernel.reading(code) }
    thermocouple_fixed(kernel: &ThermocoupleKernel<i32, 64, 4>, code, t) -> Reading { kernel.reading(code, t) }
    thermocouple_f32(kernel: &ThermocoupleKernel<f32, 64, 4>, code, t) -> Reading<f32> { kernel.reading(code, t) }
    fit_f32(fit: &RefCell<ThermalOutputFit<f32>>, code, t) -> bool { crate::commissioning::observe(fit, code, t) }
    uncertainty_at(kernel: &uncertainty::Kernel<f32>, _code, t) -> Result<uncertainty::Point<f32>, Error> {
        kernel.at(t.celsius())
    }
    uncertainty_f32(point: &uncertainty::Point<f32>, code, _t) -> f32 { point.standard(code as f32 * STEP) }
    uncertainty_fixed(point: &uncertainty::FixedPoint, code, _t) -> fixed::Strain {
        point.standard(fixed::Strain::from_bits(code))
    }
    peer_naive_double(peer: &NaiveDouble, code, t) -> f64 { peer.strain(code, t.to_bits()) }
    peer_naive_single(peer: &NaiveSingle, code, t) -> f32 { peer.strain(code, t.to_bits()) }
    peer_table(peer: &Table, code, t) -> i32 { peer.strain(code, t.to_bits()) }
}

#[cfg(target_arch = "arm")]
core::arch::global_asm!(
    ".syntax unified",
    ".thumb_func",
    ".globl nothing",
    "nothing:",
    "bx lr",
    ".thumb_func",
    ".globl countdown",
    "countdown:",
    "1:",
    "subs r0, r0, #1",
    "bne 1b",
    "bx lr"
);
#[cfg(target_arch = "riscv32")]
core::arch::global_asm!(
    ".globl nothing",
    "nothing:",
    "ret",
    ".globl countdown",
    "countdown:",
    "1:",
    "addi a0, a0, -1",
    "bnez a0, 1b",
    "ret"
);

// SAFETY: one looks at nothing and returns, the other counts its argument down in a register that is its own.
unsafe extern "C" {
    /// In the place of a path: the return and nothing else. A function of Rust would keep a frame pointer.
    pub safe fn nothing(kernel: *const (), code: i32, t: i32);

    /// Two instructions for each round, and the return.
    pub safe fn countdown(rounds: u32);
}
