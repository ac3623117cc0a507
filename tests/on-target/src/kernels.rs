//! Every path as a function of its own that a linker keeps and the runner finds by name: what is measured.

use core::cell::RefCell;

use gaugewright::device::acquisition::{CodeThermometer, Corrector, TemperatureRegister};
use gaugewright::fixed::{self, Temperature};
use gaugewright::rosette::{
    FixedPrincipal, FixedRosetteKernel, FixedStrain, PlaneStrain, PrincipalStrain, RosetteKernel,
};
use gaugewright::temperature::{Reading, ResistanceKernel, ThermocoupleKernel};
use gaugewright::{Flags, float};

use on_target::acquisition::{Correcting, Received};
use on_target::cost::Block;
use on_target::paths;
use on_target::paths::{fixed_grids, single_grids};
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
    fixed_reading_any(kernel: &fixed::Kernel<5, 3, 1>, code, t) -> fixed::Reading { kernel.reading(code, t) }
    fixed_compensated(kernel: &fixed::CompensatedKernel, code, t) -> fixed::Reading { kernel.reading(code, t, t) }
    fixed_compensated_at(kernel: &fixed::CompensatedKernel, _code, t) -> fixed::OperatingPoint { kernel.at(t, t) }
    f32_reading(kernel: &float::Kernel<f32>, code, t) -> float::Reading<f32> { kernel.reading(code, t) }
    f32_at(kernel: &float::Kernel<f32>, _code, t) -> float::OperatingPoint<f32> { kernel.at(t) }
    f32_point(point: &float::OperatingPoint<f32>, code, _t) -> float::Reading<f32> { point.reading(code) }
    f32_compensated(kernel: &float::CompensatedKernel<f32>, code, t) -> float::Reading<f32> { kernel.reading(code, t, t) }
    f32_compensated_at(kernel: &float::CompensatedKernel<f32>, _code, t) -> float::OperatingPoint<f32> { kernel.at(t, t) }
    rosette_fixed(kernel: &FixedRosetteKernel, code, t) -> gaugewright::Reading<FixedStrain> {
        kernel.reading(fixed_grids(code, t))
    }
    rosette_fixed_principal(state: &FixedStrain, _code, _t) -> gaugewright::Reading<FixedPrincipal> { state.principal() }
    rosette_f32(kernel: &RosetteKernel<f32>, code, t) -> gaugewright::Reading<PlaneStrain<f32>> {
        kernel.reading(single_grids(code, t))
    }
    rosette_f32_principal(state: &PlaneStrain<f32>, _code, _t) -> PrincipalStrain<f32> { state.principal() }
    platinum_fixed(kernel: &ResistanceKernel<i32, 8>, code, _t) -> Reading { kernel.reading(code) }
    platinum_f32(kernel: &ResistanceKernel<f32, 8>, code, _t) -> Reading<f32> { kernel.reading(code) }
    thermocouple_fixed(kernel: &ThermocoupleKernel<i32, 64, 4>, code, t) -> Reading { kernel.reading(code, t) }
    thermocouple_f32(kernel: &ThermocoupleKernel<f32, 64, 4>, code, t) -> Reading<f32> { kernel.reading(code, t) }
    word(received: &Received, _code, _t) -> Option<i32> { received.word.decode(&received.bytes).ok() }
    temperature_register(register: &TemperatureRegister, code, _t) -> Reading { register.temperature(code) }
    corrector_reading(corrector: &RefCell<Corrector<'_>>, code, _t) -> Option<fixed::Reading> {
        Some(corrector.try_borrow_mut().ok()?.reading(code))
    }
    corrector_block(correcting: &Correcting<'_>, _code, _t) -> Option<Flags> { correcting.correct() }
    peer_naive_double(peer: &NaiveDouble, code, t) -> f64 { peer.strain(code, t.to_bits()) }
    peer_naive_single(peer: &NaiveSingle, code, t) -> f32 { peer.strain(code, t.to_bits()) }
    peer_table(peer: &Table, code, t) -> i32 { peer.strain(code, t.to_bits()) }
    peer_naive_double_block(block: &Block<NaiveDouble, f64>, _code, _t) -> bool {
        block.each(|peer, code, t| peer.strain(code, t.to_bits()))
    }
    peer_naive_single_block(block: &Block<NaiveSingle, f32>, _code, _t) -> bool {
        block.each(|peer, code, t| peer.strain(code, t.to_bits()))
    }
    peer_table_block(block: &Block<Table, i32>, _code, _t) -> bool {
        block.each(|peer, code, t| peer.strain(code, t.to_bits()))
    }
}
