//! The smallest logger there is, to see what the library adds to a firmware: nothing but the correction, of one
//! channel (or `--features sixteen`) in fixed point (or `--features single`, in `f32`).
//!
//! `tests/on-target` builds all four, and checks that a channel more costs its constants and nothing else.
#![no_std]
#![no_main]

use core::hint::black_box;
use core::num::NonZeroU32;
use core::sync::atomic::{AtomicI32, AtomicU32, Ordering::Relaxed};

#[cfg(target_arch = "arm")]
use cortex_m_rt::entry;
use firmware::board;
use gaugewright::fixed::Temperature;
use gaugewright::units::*;
use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput};
#[cfg(target_arch = "riscv32")]
use riscv_rt::entry;

const SAMPLES_PER_SECOND: NonZeroU32 = NonZeroU32::new(1_000).unwrap();

const CHANNELS: usize = if cfg!(feature = "sixteen") { 16 } else { 1 };

/// The gauges of all channels are alike; each was balanced at a code of its own.
const fn channel(number: usize) -> Channel {
    Channel::new(
        Gauge::new(GaugeFactor(2.065)).gauge_factor_slope(PercentPer100C(1.07)).thermal_output(
            ThermalOutput::celsius([-28.6049, 2.33962, -0.0533683, 2.32754e-4, -1.49376e-7])
                .stated_for(GaugeFactor(2.0))
                .between(Celsius(-200.0), Celsius(300.0)),
        ),
        Bridge::quarter_three_wire(Ohms(350.0), Ohms(1.2)),
        Converter::bipolar(24, Ratio(1.0 / 128.0)),
    )
    .balanced(12_345.0 + 678.0 * number as f64, Celsius(18.5))
    .strain_within(Microstrain(5_000.0))
    .temperature_within(Celsius(-80.0), Celsius(100.0))
}

#[cfg(not(feature = "single"))]
type Kernel = gaugewright::fixed::Kernel;
#[cfg(feature = "single")]
type Kernel = gaugewright::float::Kernel<f32>;

const fn kernel(number: usize) -> Kernel {
    #[cfg(not(feature = "single"))]
    return channel(number).fixed();
    #[cfg(feature = "single")]
    return channel(number).float32();
}

/// One kernel a constant: the compiler takes all of them in one for a program that never ends.
struct Compiled<const NUMBER: usize>;

impl<const NUMBER: usize> Compiled<NUMBER> {
    const KERNEL: Kernel = kernel(NUMBER);
}

macro_rules! compiled {
    ($($number:literal)*) => { [$(Compiled::<$number>::KERNEL),*] };
}

#[cfg(not(feature = "sixteen"))]
static KERNELS: [Kernel; CHANNELS] = compiled!(0);
#[cfg(feature = "sixteen")]
static KERNELS: [Kernel; CHANNELS] = compiled!(0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15);

/// What a converter and a thermometer put into memory, and what whoever asks for strain takes out of it.
struct Slot {
    code: AtomicI32,
    temperature: AtomicI32,
    /// Its bits, in the format of the kernel.
    strain: AtomicU32,
    flags: AtomicU32,
}

static SLOTS: [Slot; CHANNELS] = [const {
    Slot {
        code: AtomicI32::new(0),
        temperature: AtomicI32::new(0),
        strain: AtomicU32::new(0),
        flags: AtomicU32::new(0),
    }
}; CHANNELS];

fn correct() {
    // How many there are is hidden from the compiler, so that the code is the same for any number.
    for (kernel, slot) in black_box(&KERNELS[..]).iter().zip(black_box(&SLOTS[..])) {
        let temperature = Temperature::from_bits(slot.temperature.load(Relaxed));
        let reading = kernel.reading(slot.code.load(Relaxed), temperature);
        #[cfg(not(feature = "single"))]
        let bits = reading.strain.to_bits() as u32;
        #[cfg(feature = "single")]
        let bits = reading.strain.to_bits();
        slot.strain.store(bits, Relaxed);
        slot.flags.store(u32::from(reading.flags.bits()), Relaxed);
    }
}

#[entry]
fn main() -> ! {
    if board::every(SAMPLES_PER_SECOND, correct).is_err() {
        board::exit(false);
    }
    loop {
        board::sleep();
    }
}
