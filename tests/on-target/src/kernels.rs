//! Every path as a function of its own that a linker keeps and the runner finds by name: what is measured.

use gaugewright::fixed::{self, Temperature};
use gaugewright::float;
use gaugewright::temperature::{Reading, ResistanceKernel, ThermocoupleKernel};

use on_target::paths;
use on_target::peers::naive_double::NaiveDouble;
use on_target::peers::naive_single::NaiveSingle;
use on_target::peers::table::Table;

// All take the same arguments, whether they look at them or not: what is measured is called in one way.
paths! {
    fixed_reading(kernel: &fixed::Kernel, code, t) -> fixed::Reading { kernel.reading(code, t) }
    fixed_at(kernel: &fixed::Kernel, _code, t) -> fixed::OperatingPoint { kernel.at(t) }
    fixed_point(point: &fixed::OperatingPoint, code, _t) -> fixed::Reading { point.reading(code) }
    fixed_point_linear(point: &fixed::LinearPoint, code, _t) -> fixed::Reading { point.reading(code) }
    fixed_linear(point: &fixed::OperatingPoint, _code, _t) -> Option<fixed::LinearPoint> { point.linear() }
    fixed_reading_5_3(kernel: &fixed::Kernel<5, 3>, code, t) -> fixed::Reading { kernel.reading(code, t) }
    fixed_compensated(kernel: &fixed::CompensatedKernel, code, t) -> fixed::Reading { kernel.reading(code, t, t) }
    f32_reading(kernel: &float::Kernel<f32>, code, t) -> float::Reading<f32> { kernel.reading(code, t) }
    f32_at(kernel: &float::Kernel<f32>, _code, t) -> float::OperatingPoint<f32> { kernel.at(t) }
    f32_point(point: &float::OperatingPoint<f32>, code, _t) -> float::Reading<f32> { point.reading(code) }
    platinum_fixed(kernel: &ResistanceKernel<i32, 8>, code, _t) -> Reading { kernel.reading(code) }
    platinum_f32(kernel: &ResistanceKernel<f32, 8>, code, _t) -> Reading<f32> { kernel.reading(code) }
    thermocouple_fixed(kernel: &ThermocoupleKernel<i32, 64, 4>, code, t) -> Reading { kernel.reading(code, t) }
    thermocouple_f32(kernel: &ThermocoupleKernel<f32, 64, 4>, code, t) -> Reading<f32> { kernel.reading(code, t) }
    peer_naive_double(peer: &NaiveDouble, code, t) -> f64 { peer.strain(code, t.to_bits()) }
    peer_naive_single(peer: &NaiveSingle, code, t) -> f32 { peer.strain(code, t.to_bits()) }
    peer_table(peer: &Table, code, t) -> i32 { peer.strain(code, t.to_bits()) }
}
