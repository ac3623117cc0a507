//! Queues between an interrupt and the main loop, here two threads.

use gaugewright::Flags;
use gaugewright::device::acquisition::*;
use gaugewright::example::STRUT;
use gaugewright::fixed::{self, Temperature};
use gaugewright::temperature::{Reading, ThermometerFlags};
use support::Random;

static KERNEL: fixed::Kernel = STRUT.fixed();

fn at(celsius: i32) -> fixed::OperatingPoint {
    KERNEL.at(Temperature::from_bits(celsius << 20))
}

/// Every value that was sent is received, in order, or is counted where it is missing.
#[test]
fn overrun_is_counted_where_it_happens() {
    let mut random = Random(3);
    let mut queue = SampleQueue::<u32, 8>::new();
    let (mut sender, mut receiver) = queue.split();
    let (mut sent, mut next, mut total) = (0u32, 0u32, 0u32);
    for _ in 0..20_000 {
        for _ in 0..random.between(0, 12) {
            let had_room = sender.send(sent);
            total += u32::from(!had_room);
            sent += 1;
        }
        for _ in 0..random.between(0, 12) {
            let Some(Received { value, lost }) = receiver.receive() else { break };
            assert_eq!(value, next.wrapping_add(lost));
            next = value + 1;
        }
    }
    assert!(total > 1_000 && sent - total > 1_000);
}

#[test]
fn overrun_between_threads() {
    const SENT: u32 = 300_000;
    let mut queue = SampleQueue::<u32, 16>::new();
    let (mut sender, mut receiver) = queue.split();
    let (refused, lost, received) = std::thread::scope(|scope| {
        let interrupt = scope.spawn(move || {
            let refused = (0..SENT).filter(|&value| !sender.send(value)).count() as u32;
            // The last one arrives, so that what was lost before it is known.
            while !sender.send(SENT) {
                std::thread::yield_now();
            }
            refused
        });
        let (mut lost, mut received) = (0u32, 0u32);
        loop {
            let Some(sample) = receiver.receive() else {
                std::thread::yield_now();
                continue;
            };
            lost += sample.lost;
            received += 1;
            if sample.value == SENT {
                break (interrupt.join().unwrap(), lost, received);
            }
        }
    });
    // Tries of the last value count as lost too.
    assert!(lost >= refused, "{lost} {refused}");
    assert_eq!(received - 1, SENT - refused);
}

/// A point reaches the interrupt whole: each reading is that of one of the points.
#[test]
fn points_are_never_torn() {
    const CODE: i32 = 299_224;
    let temperatures = [-80, -40, 0, 40, 80, 120];
    let readings = temperatures.map(|celsius| at(celsius).reading(CODE));
    let mut queue = PointQueue::new();
    let (mut sender, mut interrupt) = queue.split(at(-80), u32::MAX);
    std::thread::scope(|scope| {
        scope.spawn(move || {
            let mut sent = 0;
            while sent < 30_000 {
                if sender.send(at(temperatures[sent % 6])).is_ok() {
                    sent += 1;
                } else {
                    std::thread::yield_now();
                }
            }
        });
        // Each point is used, and in the order in which they were sent.
        let mut changes = 0;
        let mut last = None;
        while changes < 30_000 {
            let reading = interrupt.reading(CODE);
            assert!(readings.contains(&reading), "{reading:?}");
            if last != Some(reading) {
                assert_eq!(reading, readings[changes % 6]);
                changes += 1;
                last = Some(reading);
            } else {
                std::thread::yield_now();
            }
        }
    });
}

#[test]
fn blocks_are_corrected_in_their_place() {
    let mut random = Random(4);
    let mut queue = PointQueue::new();
    let (mut sender, mut interrupt) = queue.split(at(50), 1_000_000);
    let mut first = [1];
    assert_eq!(interrupt.correct(&mut first, |_, _| unreachable!()), Flags::CLEAR);
    assert_eq!(first, [at(50).reading(1).strain.to_bits()]);
    for celsius in [-90, -80, 0, 100] {
        let point = at(celsius);
        sender.send(point).unwrap();
        for length in [0, 1, 7, 32, 33, 256] {
            let codes: Vec<i32> = (0..length)
                .map(|_| {
                    if random.between(0, 9) == 0 {
                        random.bits() as i32
                    } else {
                        random.between(-90_000, 90_000)
                    }
                })
                .collect();
            let mut block = codes.clone();
            let mut flags = vec![Flags::CLEAR; length];
            let all = interrupt.correct(&mut block, |k, raised| flags[k] = raised);
            let mut expected = Flags::CLEAR;
            for (k, &code) in codes.iter().enumerate() {
                let reading = point.reading(code);
                assert_eq!((block[k], flags[k]), (reading.strain.to_bits(), reading.flags));
                expected |= reading.flags;
            }
            assert_eq!(all, expected);
        }
    }
}

/// The main loop has stopped, or its temperature is stale.
#[test]
fn old_points_are_flagged() {
    let mut queue = PointQueue::new();
    let (mut sender, mut interrupt) = queue.split(at(20), 10);
    for _ in 0..10 {
        assert!(interrupt.reading(0).flags.is_clear());
    }
    let good = at(20).reading(0);
    assert_eq!(interrupt.reading(0), fixed::Reading { flags: Flags::TEMPERATURE_DOUBTFUL, ..good });
    sender.send(at(20)).unwrap();
    assert_eq!(interrupt.reading(0), good);
    // Of a block the last sample counts.
    assert_eq!(interrupt.correct(&mut [0; 9], |_, _| ()), Flags::CLEAR);
    assert_eq!(interrupt.correct(&mut [0; 1], |_, _| ()), Flags::TEMPERATURE_DOUBTFUL);

    let mut input = Input::new(&KERNEL, (), [()], [10]);
    assert_eq!(input.point(0), None);
    let temperature = Temperature::from_bits(20 << 20);
    input.update([Reading { temperature, flags: ThermometerFlags::CLEAR }], 0);
    assert_eq!(input.point(10), Some(at(20)));
    sender.send(input.point(11).unwrap()).unwrap();
    assert_eq!(interrupt.reading(0).flags, Flags::TEMPERATURE_DOUBTFUL);
}

/// From the bytes of half a buffer that were moved without the processor to strains in the main loop.
#[test]
fn half_a_buffer_of_bytes() {
    const WORD: Word = WordLayout::new(24, Coding::TwosComplement).refuse_all_ones().word();
    let mut queue = SampleQueue::<Result<i32, Fault>, 8>::new();
    let (mut interrupt, mut main) = queue.split();
    let half = [0x04, 0x90, 0xd8, 0xff, 0xff, 0xff, 0x00, 0x00, 0x01, 0x00];
    // The last word is not whole.
    for bytes in half.chunks(WORD.bytes()) {
        assert!(interrupt.send(WORD.decode(bytes)));
    }
    let mut input = Input::new(&KERNEL, (), [()], [10]);
    input.update([Reading { temperature: Temperature::from_bits(0), flags: ThermometerFlags::CLEAR }], 0);
    let mut results = Vec::new();
    while let Some(Received { value, lost: 0 }) = main.receive() {
        results.push(value.map(|code| input.reading(code, 1).unwrap()));
    }
    let of = |code| Ok(KERNEL.reading(code, Temperature::from_bits(0)));
    let short = Err(Fault::Length { given: 1, needed: 3 });
    assert_eq!(results, [of(299_224), Err(Fault::AllOnes), of(1), short]);
}

#[test]
fn memory_of_the_queues() {
    let heads = 2 * size_of::<usize>();
    assert_eq!(size_of::<SampleQueue<i32, 16>>(), 16 * 8 + heads);
    assert_eq!(size_of::<PointQueue>(), 2 * size_of::<fixed::OperatingPoint>() + heads);
    let corrector = size_of::<usize>() + size_of::<fixed::OperatingPoint>() + 8;
    assert_eq!(size_of::<Corrector<'_>>(), corrector.next_multiple_of(align_of::<usize>()));
}
