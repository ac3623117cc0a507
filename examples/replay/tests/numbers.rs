//! The figures of `numbers.txt` against a plain computation, and the paths against calls of the library.

use super::read;
use crate::paths::Paths;
use gaugewright::fixed::{self, Strain, Temperature};
use gaugewright::units::Celsius;
use gaugewright::{Flags, float};
use host::channel_file::parse;
use host::kernel::{Kernel, Single};
use host::numbers::{Numbers, hash};
use host::results::Results;
use host::setup::{Channel, set_up};

fn fixed(bits: i32, flags: u8) -> fixed::Reading {
    fixed::Reading { strain: Strain::from_bits(bits), flags: Flags::from_bits(flags).unwrap() }
}

fn single(strain: f32, flags: u8) -> float::Reading<f32> {
    float::Reading { strain, flags: Flags::from_bits(flags).unwrap() }
}

#[test]
fn the_hash_is_the_public_one() {
    let of = |bytes: &[u8]| format!("{:016x}", hash(0xcbf2_9ce4_8422_2325, bytes));
    assert_eq!(of(b""), "cbf29ce484222325");
    assert_eq!(of(b"a"), "af63dc4c8601ec8c");
    assert_eq!(of(b"foobar"), "85944171f73967e8");
}

/// Hashes computed elsewhere, over the bytes that the description names.
#[test]
fn short_runs() {
    assert_eq!(
        Numbers::new().to_string(),
        "samples=0 clear=0 temperature=0 strain=0 rail=0 least=0 greatest=0 sum=0 hash=cbf29ce484222325"
    );
    let mut numbers = Numbers::new();
    for (bits, flags) in [(1, 0), (-2, 5), (i32::MAX, 2), (-3, 0)] {
        numbers.add_fixed(fixed(bits, flags));
    }
    assert_eq!(
        numbers.to_string(),
        "samples=4 clear=2 temperature=1 strain=1 rail=1 least=-3 greatest=1 sum=-2 hash=7efc63c0cb2bb2b0"
    );
    let mut numbers = Numbers::new();
    // 2^34 times them: 17179870 exactly, flagged, -4.29 which is cut off.
    for (strain, flags) in [(0.001, 0), (-0.0625, 7), (-2.5e-10, 0)] {
        numbers.add_single(single(strain, flags));
    }
    assert_eq!(
        numbers.to_string(),
        "samples=3 clear=2 temperature=1 strain=1 rail=1 least=-4 greatest=17179870 sum=17179866 \
         hash=ba2f19487ec19996"
    );
    let mut numbers = Numbers::new();
    numbers.add_fixed(fixed(-7, 4));
    assert!(numbers.to_string().contains("clear=0 temperature=0 strain=0 rail=1 least=0 greatest=0 sum=0 "));
}

/// With every flag and with strains over the whole format.
#[test]
fn a_long_run_against_a_plain_computation() {
    let readings: Vec<(i32, u8)> = (0..5_000_u32)
        .map(|i| {
            let bits = i.wrapping_mul(0x9e37_79b9).rotate_left(i % 32) as i32;
            (if i == 77 { i32::MIN } else { bits }, if i % 3 == 1 { (i % 8) as u8 } else { 0 })
        })
        .collect();
    let mut numbers = Numbers::new();
    let mut numbers_single = Numbers::new();
    for &(bits, flags) in &readings {
        numbers.add_fixed(fixed(bits, flags));
        numbers_single.add_single(single(bits as f32 / 2f32.powi(34), flags));
    }
    let line = |steps: fn(i32) -> i128, bytes: fn(i32) -> [u8; 4]| {
        let clear = || readings.iter().filter(|reading| reading.1 == 0).map(|reading| steps(reading.0));
        let flagged = |bit: u8| readings.iter().filter(|reading| reading.1 & bit != 0).count();
        let stream = readings.iter().flat_map(|&(bits, flags)| bytes(bits).into_iter().chain([flags]));
        let hash = stream.fold(0xcbf2_9ce4_8422_2325_u128, |hash, byte| {
            (hash ^ u128::from(byte)) * 0x100_0000_01b3 % (1 << 64)
        });
        assert!([1, 2, 4].iter().all(|&bit| flagged(bit) > 100));
        format!(
            "samples={} clear={} temperature={} strain={} rail={} least={} greatest={} sum={} hash={hash:016x}",
            readings.len(),
            clear().count(),
            flagged(1),
            flagged(2),
            flagged(4),
            clear().min().unwrap(),
            clear().max().unwrap(),
            clear().sum::<i128>(),
        )
    };
    assert_eq!(numbers.to_string(), line(i128::from, i32::to_le_bytes));
    // An i32 becomes an f32 with 24 of its bits; the largest would round to 2^31, which an i32 has no room for.
    let steps = |bits: i32| (bits as f32 as i128).min(i32::MAX.into());
    assert_eq!(
        numbers_single.to_string(),
        line(steps, |bits| (bits as f32 / 2f32.powi(34)).to_bits().to_le_bytes())
    );
}

/// One of the demonstration.
fn channel(name: &str) -> Channel {
    let channels = set_up(parse(crate::demo::CHANNELS).unwrap()).unwrap();
    channels.into_iter().find(|channel| channel.name == name).unwrap()
}

/// Code, temperature and that of the block in a row. It warms fast, to where the gauge's range ends and beyond.
fn inputs(row: i32) -> (i32, f64, f64) {
    (100_000 + 3_000 * row, -60.0 + 8.5 * f64::from(row), -50.0 + 4.5 * f64::from(row))
}

const ROWS: i32 = 23;
/// Rows with a code that is none.
const BAD: [i32; 3] = [0, 3, 9];

#[test]
fn the_paths_leave_out_rejected_rows_and_keep_a_point_for_five_samples() {
    for name in ["strut_north", "strut_spare"] {
        let channel = channel(name);
        let channels = [channel];
        let [channel] = &channels;
        let mut paths = Paths::new();
        // In two blocks: a point serves on in the next.
        for block in [0..12, 12..ROWS] {
            let mut text =
                format!("t,{name}_code,{name}_celsius,{name}_block_celsius,{name}_true_microstrain\n");
            for row in block.clone() {
                let (code, own, block) = inputs(row);
                let code = if BAD.contains(&row) { "none".to_string() } else { code.to_string() };
                text += &format!("{row},{code},{own},{block},0\n");
            }
            let (samples, told) = read(&text, &channels);
            assert_eq!(told.len(), BAD.iter().filter(|row| block.contains(row)).count());
            let results = Results::of(channel, samples.unwrap().series.remove(0)).unwrap();
            paths.add(channel, &results);
        }
        let found = paths.numbers();

        let mut expected = [Numbers::new(); 4];
        let bits = |celsius: f64| Temperature::from_celsius(Celsius(celsius)).unwrap();
        let mut in_force = (bits(0.0), bits(0.0));
        let usable = (0..ROWS).filter(|row| !BAD.contains(row));
        for (number, row) in usable.enumerate() {
            let (code, own, block) = inputs(row);
            let (own, block) = (bits(own), bits(block));
            if number % 5 == 0 {
                in_force = (own, block);
            }
            let (reading, point) = match &channel.mechanical {
                Kernel::One(kernel) => (kernel.reading(code, own), kernel.at(in_force.0)),
                Kernel::Two(kernel) => (kernel.reading(code, own, block), kernel.at(in_force.0, in_force.1)),
                Kernel::TwoProduct(kernel) => {
                    (kernel.reading(code, own, block), kernel.at(in_force.0, in_force.1))
                }
            };
            expected[0].add_fixed(reading);
            expected[1].add_fixed(point.reading(code));
            let (reading, point) = match &channel.single {
                Single::One(kernel) => (kernel.reading(code, own), kernel.at(in_force.0)),
                Single::Two(kernel) => (kernel.reading(code, own, block), kernel.at(in_force.0, in_force.1)),
                Single::TwoProduct(kernel) => {
                    (kernel.reading(code, own, block), kernel.at(in_force.0, in_force.1))
                }
            };
            expected[2].add_single(reading);
            expected[3].add_single(point.reading(code));
        }
        assert_eq!(*found, expected, "{name}");
        assert!(found[0].to_string().starts_with("samples=20 clear=16 temperature=4 "), "{}", found[0]);
        for (one, other) in [(0, 1), (0, 2), (1, 3), (2, 3)] {
            assert_ne!(found[one], found[other], "{name}");
        }
    }
}
