//! Inputs of a logger: no reading without a flag or an error where something failed.

use std::cell::Cell;

use gaugewright::device::Error;
use gaugewright::device::acquisition::*;
use gaugewright::example::{COMPENSATED, STRUT};
use gaugewright::fixed::{self, Temperature};
use gaugewright::temperature::{self, ThermometerFlags};
use gaugewright::{Flags, float};
use support::Random;

use super::sources::ready;

static KERNEL: fixed::Kernel = STRUT.fixed();
static PAIR: fixed::CompensatedKernel = COMPENSATED.fixed();

/// What a source gives next.
struct Scripted<'a, V>(&'a Cell<Result<V, Error<u8>>>);

impl<V: Copy> Source for Scripted<'_, V> {
    type Value = V;
    type Bus = u8;
    fn read(&mut self) -> Result<V, Error<u8>> {
        self.0.get()
    }
}

impl<V: Copy> AsyncSource for Scripted<'_, V> {
    type Value = V;
    type Bus = u8;
    async fn read_async(&mut self) -> Result<V, Error<u8>> {
        self.0.get()
    }
}

fn sensed(celsius: i32, flags: ThermometerFlags) -> temperature::Reading {
    temperature::Reading { temperature: Temperature::from_bits(celsius << 20), flags }
}

#[test]
fn a_thermometer_that_dies_in_the_middle() {
    let code = Cell::new(Ok(299_224));
    let sensor = Cell::new(Ok(sensed(20, ThermometerFlags::CLEAR)));
    let mut input = Input::new(&KERNEL, Scripted(&code), [Scripted(&sensor)], [10]);
    assert_eq!(input.read(0), Err(Error::NoTemperature { thermometer: 0 }));
    assert_eq!(input.temperatures(0), [None]);
    input.read_temperatures(0).unwrap();
    let good = KERNEL.reading(299_224, Temperature::from_bits(20 << 20));
    assert_eq!(input.read(10), Ok(good));
    // It does not answer, then it is open, then it answers again.
    let doubtful = fixed::Reading { flags: Flags::TEMPERATURE_DOUBTFUL, ..good };
    sensor.set(Err(Error::Bus(7)));
    assert_eq!(input.read_temperatures(9), Err(Error::Bus(7)));
    assert_eq!(input.read(10), Ok(good));
    assert_eq!(input.read(11), Ok(doubtful));
    sensor.set(Ok(sensed(0, ThermometerFlags::OPEN)));
    assert_eq!(input.read_temperatures(12), Ok(()));
    assert_eq!(input.read(12), Ok(doubtful));
    assert_eq!(input.temperatures(12)[0].unwrap().flags, ThermometerFlags::STALE);
    // The counter goes once round: it is stale still.
    assert_eq!(input.read(5), Ok(doubtful));
    sensor.set(Ok(sensed(20, ThermometerFlags::CLEAR)));
    input.read_temperatures(13).unwrap();
    assert_eq!(input.read(13), Ok(good));
    // The same in `async`, and the converter's errors.
    assert_eq!(ready(input.read_async(13)), Ok(good));
    sensor.set(Err(Error::Word(Fault::NoData)));
    assert_eq!(ready(input.read_temperatures_async(14)), Err(Error::Word(Fault::NoData)));
    code.set(Err(Error::Timeout { polls: 3 }));
    assert_eq!(ready(input.read_async(13)), Err(Error::Timeout { polls: 3 }));
    assert_eq!(input.read(13), Err(Error::Timeout { polls: 3 }));
}

/// Every flag of a thermometer shows in the reading, beside those of the kernel.
#[test]
fn flags_of_a_thermometer_are_in_the_reading() {
    for (flag, _) in ThermometerFlags::ALL {
        let mut input = Input::new(&KERNEL, (), [()], [10]);
        input.update([sensed(130, ThermometerFlags::CLEAR)], 0);
        input.update([sensed(130, flag)], 11);
        let reading = input.reading(i32::MAX, 11).unwrap();
        let all = Flags::TEMPERATURE_DOUBTFUL | Flags::TEMPERATURE_OUTSIDE | Flags::CODE_AT_RAIL;
        assert_eq!(reading.flags, all, "{flag}");
    }
}

#[test]
fn two_thermometers_each_with_its_limit() {
    let sensors = [20, 30].map(|celsius| Cell::new(Ok(sensed(celsius, ThermometerFlags::CLEAR))));
    let code = Cell::new(Ok(1_000));
    let both = sensors.each_ref().map(Scripted);
    let mut input = Input::new(&PAIR, Scripted(&code), both, [10, 20]);
    // The first fails, and the second is read all the same.
    sensors[0].set(Err(Error::Bus(1)));
    assert_eq!(input.read_temperatures(0), Err(Error::Bus(1)));
    assert_eq!(input.read(0), Err(Error::NoTemperature { thermometer: 0 }));
    assert!(input.temperatures(0)[1].is_some());
    sensors[0].set(Ok(sensed(20, ThermometerFlags::CLEAR)));
    input.read_temperatures(5).unwrap();
    let (first, second) = (Temperature::from_bits(20 << 20), Temperature::from_bits(30 << 20));
    let good = PAIR.reading(1_000, first, second);
    assert_eq!(input.read(15), Ok(good));
    assert_eq!(input.read(16).unwrap().flags, Flags::TEMPERATURE_DOUBTFUL);
    sensors[1].set(Err(Error::Bus(2)));
    assert_eq!(input.read_temperatures(20), Err(Error::Bus(2)));
    assert_eq!(input.read(25), Ok(good));
    assert_eq!(input.read(26).unwrap().flags, Flags::TEMPERATURE_DOUBTFUL);
    assert_eq!(input.point(26).unwrap().reading(1_000).flags, Flags::TEMPERATURE_DOUBTFUL);
}

#[test]
fn kernels_in_floating_point() {
    let kernel: float::Kernel<f32> = STRUT.float32();
    let mut input = Input::new(&kernel, (), [()], [10]);
    input.update([sensed(20, ThermometerFlags::CLEAR)], 0);
    assert_eq!(input.reading(5, 1), Some(kernel.reading(5, Temperature::from_bits(20 << 20))));
    let pair: float::CompensatedKernel<f64> = COMPENSATED.float64();
    let mut input = Input::new(&pair, (), [(), ()], [10, 10]);
    input.update([sensed(20, ThermometerFlags::CLEAR); 2], 0);
    let at = Temperature::from_bits(20 << 20);
    assert_eq!(input.reading(5, 1), Some(pair.reading(5, at, at)));
}

/// Whatever fails and when: a reading is that of the last temperature, with a flag if that is old, or there is none.
#[test]
fn no_stale_reading_is_without_a_flag() {
    let mut random = Random(18);
    let (code, sensor) = (Cell::new(Ok(0)), Cell::new(Ok(sensed(0, ThermometerFlags::CLEAR))));
    let limit = 20;
    let mut input = Input::new(&KERNEL, Scripted(&code), [Scripted(&sensor)], [limit]);
    let mut now = u32::MAX - 50_000;
    let mut known: Option<(u32, temperature::Reading)> = None;
    let mut outcomes = [0; 4];
    for _ in 0..100_000 {
        now = now.wrapping_add(random.between(0, 6) as u32);
        if random.between(0, 3) == 0 {
            let flags = [ThermometerFlags::CLEAR, ThermometerFlags::OPEN, ThermometerFlags::OUTSIDE]
                [random.between(0, 2) as usize];
            sensor.set(match random.between(0, 2) {
                0 => Err(Error::Bus(0)),
                _ => Ok(sensed(random.between(-80, 120), flags)),
            });
            assert_eq!(input.read_temperatures(now), sensor.get().map(drop));
            known = sensor.get().ok().filter(|sensed| sensed.flags.is_usable()).map(|s| (now, s)).or(known);
        }
        let sample = random.between(-100_000, 300_000);
        code.set(if random.between(0, 9) == 0 { Err(Error::Word(Fault::AllOnes)) } else { Ok(sample) });
        let result = input.read(now);
        let Some((since, sensed)) = known else { continue };
        match result {
            Err(error) => {
                assert_eq!(Err(error), code.get());
                outcomes[0] += 1;
            }
            Ok(reading) => {
                let of_kernel = KERNEL.reading(sample, sensed.temperature);
                assert_eq!(reading.strain, of_kernel.strain);
                let is_old = now.wrapping_sub(since) > limit;
                let expected = is_old || !sensed.flags.is_clear();
                assert_eq!(reading.flags.contains(Flags::TEMPERATURE_DOUBTFUL), expected);
                outcomes[1 + usize::from(is_old) + usize::from(expected && !is_old) * 2] += 1;
            }
        }
    }
    assert!(outcomes.iter().all(|&times| times > 1_000), "{outcomes:?}");
}

/// Beside source and thermometers: a reference, and the last reading of each thermometer.
#[test]
fn memory_of_an_input() {
    let last = size_of::<temperature::LastReading>();
    assert_eq!(last, 20);
    let rounded = |bytes: usize| bytes.next_multiple_of(align_of::<usize>());
    assert_eq!(size_of::<Input<'_, fixed::Kernel, (), (), 1>>(), rounded(size_of::<usize>() + last));
    let two = size_of::<Input<'_, fixed::CompensatedKernel, (), (), 2>>();
    assert_eq!(two, rounded(size_of::<usize>() + 2 * last));
}
