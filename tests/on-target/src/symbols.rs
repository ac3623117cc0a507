//! Kernels of a channel behind plain functions, for the check of symbols (`.ci/targets`): nothing here reports.

use gaugewright::device::acquisition::{CodeThermometer, Corrector, TemperatureRegister, Word};
use gaugewright::fixed::{self, Temperature};
use gaugewright::float;
use gaugewright::temperature::{ResistanceKernel, ThermocoupleKernel};
use gaugewright::units::*;
use gaugewright::{Bridge, Channel, Converter, Flags, Gauge, ThermalOutput};

const STRUT: Channel = Channel::new(
    Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07)).thermal_output(
        ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
            .stated_for(GaugeFactor(2.0))
            .between(Celsius(-200.0), Celsius(300.0)),
    ),
    Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
    Converter::bipolar(24, Ratio(1.0 / 64.0)),
)
.balanced(98_765.25, Celsius(21.5))
.strain_within(Microstrain(34_500.0));

static FIXED: fixed::Kernel = STRUT.fixed_within(Nanostrain(0.5));
static SINGLE: float::Kernel<f32> = STRUT.float32_within(Nanostrain(20.0));

/// Strain in the high word, flags in the low one.
const fn packed(reading: fixed::Reading) -> u64 {
    (reading.strain.to_bits() as u64) << 32 | reading.flags.bits() as u64
}

const fn packed_float(reading: float::Reading<f32>) -> u64 {
    (reading.strain.to_bits() as u64) << 32 | reading.flags.bits() as u64
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_reading(kernel: &fixed::Kernel, code: i32, temperature: i32) -> u64 {
    packed(kernel.reading(code, Temperature::from_bits(temperature)))
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_at(kernel: &fixed::Kernel, temperature: i32, point: &mut fixed::OperatingPoint) {
    *point = kernel.at(Temperature::from_bits(temperature));
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_point(point: &fixed::OperatingPoint, code: i32) -> u64 {
    packed(point.reading(code))
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_linear(point: &fixed::OperatingPoint, linear: &mut fixed::LinearPoint) -> bool {
    match point.linear() {
        Some(made) => *linear = made,
        None => return false,
    }
    true
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_point_linear(point: &fixed::LinearPoint, code: i32) -> u64 {
    packed(point.reading(code))
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_any(kernel: &fixed::Kernel<5, 3, 1>, code: i32, temperature: i32) -> u64 {
    packed(kernel.reading(code, Temperature::from_bits(temperature)))
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_flash(code: i32, temperature: i32) -> u64 {
    packed(FIXED.reading(code, Temperature::from_bits(temperature)))
}

#[unsafe(no_mangle)]
pub extern "C" fn single_reading(kernel: &float::Kernel<f32>, code: i32, temperature: i32) -> u64 {
    packed_float(kernel.reading(code, Temperature::from_bits(temperature)))
}

#[unsafe(no_mangle)]
pub extern "C" fn single_point(point: &float::OperatingPoint<f32>, code: i32) -> u64 {
    packed_float(point.reading(code))
}

#[unsafe(no_mangle)]
pub extern "C" fn single_flash(code: i32, temperature: i32) -> u64 {
    packed_float(SINGLE.reading(code, Temperature::from_bits(temperature)))
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_block(
    point: &fixed::OperatingPoint,
    codes: &[i32; 64],
    readings: &mut [fixed::Reading; 64],
) {
    // The lengths are equal by type; an error cannot occur.
    let _ = point.readings(codes, readings);
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_block_any(
    kernel: &fixed::Kernel,
    codes: &[i32; 64],
    temperatures: &[Temperature; 64],
    readings: &mut [fixed::Reading; 64],
) {
    let _ = kernel.readings(codes, temperatures, readings);
}

#[unsafe(no_mangle)]
pub fn fixed_in_place(point: &fixed::OperatingPoint, block: &mut [i32], marks: &mut [u32]) -> u8 {
    point.correct_marked(block, marks).map_or(u8::MAX, |flags| flags.bits())
}

#[unsafe(no_mangle)]
pub fn fixed_linear_in_place(point: &fixed::LinearPoint, block: &mut [i32], marks: &mut [u32]) -> u8 {
    point.correct_marked(block, marks).map_or(u8::MAX, |flags| flags.bits())
}

#[unsafe(no_mangle)]
pub extern "C" fn fixed_compensated(
    kernel: &fixed::CompensatedKernel,
    code: i32,
    temperature: i32,
    compensating: i32,
) -> u64 {
    let (temperature, compensating) =
        (Temperature::from_bits(temperature), Temperature::from_bits(compensating));
    packed(kernel.reading(code, temperature, compensating))
}

#[unsafe(no_mangle)]
pub fn fixed_compensated_block(
    kernel: &fixed::CompensatedKernel,
    codes: &[i32],
    temperatures: &[Temperature],
    readings: &mut [fixed::Reading],
) -> bool {
    kernel.readings(codes, temperatures, temperatures, readings).is_ok()
}

#[unsafe(no_mangle)]
pub extern "C" fn platinum_fixed(kernel: &ResistanceKernel<i32, 8>, code: i32) -> u64 {
    let reading = kernel.reading(code);
    (reading.temperature.to_bits() as u64) << 32 | reading.flags.bits() as u64
}

#[unsafe(no_mangle)]
pub extern "C" fn thermocouple_fixed(kernel: &ThermocoupleKernel<i32, 64, 4>, code: i32, cold: i32) -> u64 {
    let reading = kernel.reading(code, Temperature::from_bits(cold));
    (reading.temperature.to_bits() as u64) << 32 | reading.flags.bits() as u64
}

/// A code, or all ones for a fault: none of 24 bits is that.
#[unsafe(no_mangle)]
pub fn word_decode(word: &Word, bytes: &[u8]) -> i32 {
    word.decode(bytes).unwrap_or(-1)
}

#[unsafe(no_mangle)]
pub extern "C" fn register_temperature(register: &TemperatureRegister, code: i32) -> u64 {
    let reading = register.temperature(code);
    (reading.temperature.to_bits() as u64) << 32 | reading.flags.bits() as u64
}

#[unsafe(no_mangle)]
pub extern "C" fn corrector_reading(corrector: &mut Corrector<'_>, code: i32) -> u64 {
    packed(corrector.reading(code))
}

#[unsafe(no_mangle)]
pub extern "C" fn corrector_block(
    corrector: &mut Corrector<'_>,
    block: &mut [i32; 64],
    flags: &mut [Flags; 64],
) -> u8 {
    let each = |sample: usize, found| flags.iter_mut().skip(sample).take(1).for_each(|flags| *flags = found);
    corrector.correct(block, each).bits()
}

#[cfg(feature = "planted-panic")]
#[unsafe(no_mangle)]
pub extern "C" fn planted_panic(codes: &[i32; 4], index: usize) -> i32 {
    codes[index]
}

#[cfg(feature = "planted-division")]
#[unsafe(no_mangle)]
pub extern "C" fn planted_division(a: i64, b: i64) -> i64 {
    a.wrapping_div(b | 1)
}

#[cfg(feature = "planted-float")]
#[unsafe(no_mangle)]
pub extern "C" fn planted_float(code: i32) -> i32 {
    (code as f32 * 0.5) as i32
}

/// A kernel that cannot panic leaves no call to this, and then the linker drops it.
#[panic_handler]
fn panic(_: &core::panic::PanicInfo) -> ! {
    loop {}
}
