//! What becomes of samples when temperatures and samples fail to come.

use std::sync::atomic::Ordering::Relaxed;

use embedded_hal::i2c::{ErrorKind, ErrorType, I2c, NoAcknowledgeSource, Operation};
use gaugewright::Flags;
use gaugewright::fixed::{Kernel, Temperature};
use heapless::spsc::Queue;

use firmware::live::channel::{ERROR_LIMIT, STRUT};
use firmware::live::converter::Converter;
use firmware::live::faults::{DeviceFault, FaultyDevice};
use firmware::live::recorder::{Pace, Record, Recorder};
use firmware::live::sampler::{Sample, Sampler, Taken};
use firmware::live::simulated::SimulatedConverter;
use firmware::live::thermometer::Thermometer;

static KERNEL: Kernel = STRUT.fixed_within(ERROR_LIMIT);
const PACE: Pace = Pace { temperature_every: 4, stale_after: 6 };

/// A thermometer that answers as it is told, and loses its configuration with its supply.
pub struct FakeThermometer {
    pub register: Result<u16, ErrorKind>,
    pub configuration: u8,
}

impl ErrorType for FakeThermometer {
    type Error = ErrorKind;
}

impl I2c for FakeThermometer {
    fn transaction(&mut self, _: u8, operations: &mut [Operation<'_>]) -> Result<(), ErrorKind> {
        let register = self.register?;
        match operations {
            [Operation::Write([0]), Operation::Read(bytes)] => bytes.copy_from_slice(&register.to_be_bytes()),
            [Operation::Write([1]), Operation::Read(bytes)] => bytes[0] = self.configuration,
            [Operation::Write([1, configuration])] => self.configuration = *configuration,
            other => panic!("no operation of a thermometer: {other:?}"),
        }
        Ok(())
    }
}

fn recorder() -> (Recorder<'static>, FakeThermometer) {
    let recorder = Recorder::new(&KERNEL, Thermometer::at(0x48), PACE);
    (recorder, FakeThermometer { register: Ok(21 << 8), configuration: 0 })
}

fn sample(sequence: u32) -> Sample {
    Sample { sequence, code: 1_000 }
}

#[test]
fn a_sample_is_corrected_by_the_temperature_that_was_read_last() {
    let (mut recorder, mut bus) = recorder();
    for sequence in 0..8 {
        let expected =
            KERNEL.at(Temperature::from_bits(if sequence < 4 { 21 } else { -40 } << 20)).reading(1_000);
        match recorder.take(sample(sequence), &mut bus) {
            Record::Corrected { reading, age, stale: false, .. } => {
                assert_eq!((reading, age), (expected, sequence % 4));
            }
            other => panic!("{other:?}"),
        }
        bus.register = Ok(0xd800);
    }
    assert_eq!(recorder.counters().temperatures, 2);
}

#[test]
fn without_a_temperature_there_is_no_strain_but_the_rail_is_seen() {
    let (mut recorder, mut bus) = recorder();
    bus.register = Err(ErrorKind::NoAcknowledge(NoAcknowledgeSource::Address));
    for sequence in 0..8 {
        let code = if sequence < 5 { 1_000 } else { -1 << 23 };
        let record = recorder.take(Sample { sequence, code }, &mut bus);
        assert_eq!(record, Record::Uncorrected { at_rail: sequence >= 5 });
    }
    let counters = recorder.counters();
    assert_eq!((counters.uncorrected, counters.at_rail, counters.failed.address_refused), (8, 3, 2));
    // As soon as it is there.
    bus.register = Ok(0);
    assert!(matches!(recorder.take(sample(8), &mut bus), Record::Corrected { sixteenths: 0, age: 0, .. }));
}

#[test]
fn an_old_temperature_is_stale_until_there_is_a_new_one() {
    let (mut recorder, mut bus) = recorder();
    let mut stale_ones = Vec::new();
    for sequence in 0..13 {
        bus.register = if (4..12).contains(&sequence) { Err(ErrorKind::Bus) } else { Ok(21 << 8) };
        if let Record::Corrected { stale: true, .. } = recorder.take(sample(sequence), &mut bus) {
            stale_ones.push(sequence);
        }
    }
    assert_eq!(stale_ones, [7, 8, 9, 10, 11]);
    assert_eq!((recorder.counters().stale, recorder.counters().failed.bus), (5, 2));
}

#[test]
fn a_stale_temperature_does_not_become_fresh_when_numbers_start_again() {
    let (mut recorder, mut bus) = recorder();
    for far in [0, 0x6000_0000, 0xc000_0000, 1] {
        let record = recorder.take(sample(far), &mut bus);
        assert!(matches!(record, Record::Corrected { stale, .. } if stale == (bus.register.is_err())));
        bus.register = Err(ErrorKind::Bus);
    }
}

#[test]
fn failures_are_counted_by_kind() {
    let (mut recorder, mut bus) = recorder();
    let failures = [
        Err(ErrorKind::NoAcknowledge(NoAcknowledgeSource::Unknown)),
        Err(ErrorKind::NoAcknowledge(NoAcknowledgeSource::Data)),
        Err(ErrorKind::Bus),
        Err(ErrorKind::ArbitrationLoss),
        Err(ErrorKind::Other),
        Ok(0xffff),
    ];
    for (i, failure) in failures.into_iter().enumerate() {
        bus.register = failure;
        let _ = recorder.take(sample(4 * i as u32), &mut bus);
    }
    let failed = recorder.counters().failed;
    assert_eq!([failed.address_refused, failed.data_refused, failed.bus], [1; 3]);
    assert_eq!([failed.arbitration, failed.other, failed.senseless], [1; 3]);
}

#[test]
fn a_thermometer_that_was_away_is_set_up_again() {
    let (mut recorder, mut bus) = recorder();
    let _ = recorder.take(sample(0), &mut bus);
    assert_eq!(bus.configuration, 0x60);
    bus = FakeThermometer { register: Err(ErrorKind::Bus), configuration: 0 };
    let _ = recorder.take(sample(4), &mut bus);
    bus.register = Ok(0);
    let _ = recorder.take(sample(8), &mut bus);
    assert_eq!(bus.configuration, 0x60);
}

#[test]
fn flags_are_those_of_the_library_and_counted() {
    let (mut recorder, mut bus) = recorder();
    let mut flags_of = |sequence, code, degrees: u16| {
        bus.register = Ok(degrees << 8);
        match recorder.take(Sample { sequence, code }, &mut bus) {
            Record::Corrected { reading, .. } => reading.flags,
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(flags_of(0, 0, 21), Flags::CLEAR);
    assert_eq!(flags_of(4, 8_388_607, 21), Flags::CODE_AT_RAIL);
    assert_eq!(flags_of(8, 0, 110), Flags::TEMPERATURE_OUTSIDE);
    assert_eq!(flags_of(12, 5_000_000, 21), Flags::STRAIN_OUTSIDE);
    let counters = recorder.counters();
    assert_eq!([counters.at_rail, counters.temperature_outside, counters.strain_outside], [1; 3]);
}

#[test]
fn numbers_go_on_past_their_end() {
    let (mut recorder, mut bus) = recorder();
    for far in [0, 0x6000_0000, 0xc000_0000] {
        let _ = recorder.take(sample(far), &mut bus);
    }
    let first = u32::MAX - 9;
    let mut ages = Vec::new();
    for i in 0..20 {
        if let Record::Corrected { age, .. } = recorder.take(sample(first.wrapping_add(i)), &mut bus) {
            ages.push(age);
        }
    }
    let expected: Vec<u32> = (0..20).map(|i| i % 4).collect();
    assert_eq!(ages, expected);
}

#[test]
fn what_the_queue_does_not_hold_is_counted_and_missing() {
    let mut queue: Queue<Sample, 4> = Queue::new();
    let (producer, mut consumer) = queue.split();
    let taken = Taken::new();
    let converter = Converter::new(SimulatedConverter::new(|n| 10 * n as i32));
    let mut sampler = Sampler::new(converter, producer, &taken);
    let (mut recorder, mut bus) = recorder();
    (0..10).for_each(|_| sampler.tick());
    assert_eq!((taken.due.load(Relaxed), taken.overrun.load(Relaxed)), (10, 7));
    let mut held = Vec::new();
    let mut take_all = || {
        while let Some(sample) = consumer.dequeue() {
            let _ = recorder.take(sample, &mut bus);
            held.push((sample.sequence, sample.code));
        }
    };
    take_all();
    sampler.tick();
    take_all();
    assert_eq!(held, [(0, 0), (1, 10), (2, 20), (10, 100)]);
    assert_eq!(recorder.counters().missing, taken.overrun.load(Relaxed));
}

#[test]
fn a_converter_that_cannot_be_read_is_counted_and_missing() {
    let faults = [(1..3, DeviceFault::Fails)];
    let device = FaultyDevice::new(SimulatedConverter::new(|n| 10 * n as i32), &faults);
    let mut queue: Queue<Sample, 8> = Queue::new();
    let (producer, mut consumer) = queue.split();
    let taken = Taken::new();
    let mut sampler = Sampler::new(Converter::new(device), producer, &taken);
    (0..4).for_each(|_| sampler.tick());
    assert_eq!(consumer.dequeue(), Some(Sample { sequence: 0, code: 0 }));
    assert_eq!(consumer.dequeue(), Some(Sample { sequence: 3, code: 30 }));
    assert_eq!((consumer.dequeue(), taken.unread.load(Relaxed)), (None, 2));
}
