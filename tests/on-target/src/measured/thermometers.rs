//! The thermometers of the sweep, as constants, and their kernels over edges and random inputs.

use gaugewright::fixed::Temperature;
use gaugewright::temperature::{
    Platinum, Reading, ResistanceKernel, ResistanceThermometer, Thermistor, Thermocouple, ThermocoupleInput,
    ThermocoupleKernel, ThermometerFlags,
};
use gaugewright::units::*;
use gaugewright::{Converter, Error};

use crate::sweep::Random;
use host::numbers::{Numbers, hash};

pub const PLATINUM: ResistanceThermometer = ResistanceThermometer::platinum(
    Platinum::iec60751(Ohms(100.0)),
    Converter::bipolar(24, Ratio(1.0 / 16.0)),
    Ohms(4096.0),
)
.between(Celsius(-200.0), Celsius(300.0));

/// The coefficients of `tests/data/thermistor.csv`: a textbook example (Kaw et al., Numerical Methods with Applications, chapter 03.04).
pub const THERMISTOR: ResistanceThermometer = ResistanceThermometer::thermistor(
    Thermistor::steinhart_hart(1.129241e-3, 2.341077e-4, 8.775468e-8),
    Converter::bipolar(24, Ratio(1.0)),
    Ohms(10_000.0),
)
.in_divider();

/// Full scale is 78.125 mV.
pub const K: ThermocoupleInput =
    ThermocoupleInput::new(Thermocouple::K, Converter::bipolar(24, Ratio(1.0 / 32.0)), Millivolts(2500.0));

pub static PLATINUM_FIXED: ResistanceKernel<i32, 8> = PLATINUM.fixed_within(Celsius(0.001));
/// In the size that C has.
pub static PLATINUM_IN_C: ResistanceKernel<i32, 16> = PLATINUM.fixed_within(Celsius(0.001));
pub static PLATINUM_SINGLE: ResistanceKernel<f32, 8> = PLATINUM.float32_within(Celsius(0.001));
pub static THERMISTOR_FIXED: ResistanceKernel<i32, 32> = THERMISTOR.fixed();
pub static THERMISTOR_SINGLE: ResistanceKernel<f32, 32> = THERMISTOR.float32();
pub static K_FIXED: ThermocoupleKernel<i32, 64, 4> = K.fixed_within(Celsius(0.05));
pub static K_SINGLE: ThermocoupleKernel<f32, 64, 4> = K.float32_within(Celsius(0.05));

/// What came out: inputs, and a hash for integers and one for `f32`.
pub struct Hashes {
    pub inputs: u32,
    pub fixed: u64,
    pub single: u64,
}

/// Code and cold junction: pairs of edges, then random ones, most of them in range.
fn inputs() -> impl Iterator<Item = (i32, Temperature)> {
    const EDGES: [i32; 11] = [
        i32::MIN,
        i32::MIN + 1,
        -8_388_608,
        -8_388_607,
        -1,
        0,
        1,
        8_388_606,
        8_388_607,
        i32::MAX - 1,
        i32::MAX,
    ];
    let edges = EDGES.into_iter().flat_map(|code| EDGES.into_iter().map(move |t| (code, t)));
    let mut random = Random(0x1234_5678);
    let anywhere = (0..2_000).map(move |i| match i % 4 {
        0 => (random.bits() as i32, random.bits() as i32),
        _ => (random.between(-700_000, 8_388_607), random.between(-41 << 20, 86 << 20)),
    });
    edges.chain(anywhere).map(|(code, t)| (code, Temperature::from_bits(t)))
}

impl Hashes {
    const fn new() -> Self {
        let nothing = Numbers::new().hash;
        Self { inputs: 0, fixed: nothing, single: nothing }
    }

    fn add(&mut self, fixed: Reading, single: Reading<f32>) {
        let of =
            |before, value: [u8; 4], flags: ThermometerFlags| hash(hash(before, &value), &[flags.bits()]);
        self.fixed = of(self.fixed, fixed.temperature.to_bits().to_le_bytes(), fixed.flags);
        self.single = of(self.single, single.temperature.to_le_bytes(), single.flags);
        self.inputs += 1;
    }
}

pub fn platinum<const PIECES: usize>(fixed: &ResistanceKernel<i32, PIECES>) -> Hashes {
    let mut hashes = Hashes::new();
    inputs().for_each(|(code, _)| hashes.add(fixed.reading(code), PLATINUM_SINGLE.reading(code)));
    hashes
}

pub fn thermocouple() -> Hashes {
    let mut hashes = Hashes::new();
    inputs().for_each(|(code, cold)| hashes.add(K_FIXED.reading(code, cold), K_SINGLE.reading(code, cold)));
    hashes
}

/// The same thermometers compiled here, in this core's double precision, are those compiled with the firmware.
pub fn compiled_here() -> bool {
    is_same(&PLATINUM_FIXED, || PLATINUM.try_fixed())
        && is_same(&PLATINUM_SINGLE, || PLATINUM.try_float32())
        && is_same(&K_FIXED, || K.try_fixed())
        && is_same(&K_SINGLE, || K.try_float32())
}

/// One kernel at a time: the smallest core has 16 KB for all frames.
#[inline(never)]
fn is_same<K: PartialEq>(kernel: &K, compile: impl FnOnce() -> Result<K, Error>) -> bool {
    compile().as_ref() == Ok(kernel)
}
