//! Records, zero and span from C: the bytes and bits of Rust, each refusal by its status, and what is refused changes nothing.

use std::ptr::{null, null_mut};

use gaugewright::device::record::{Record, RecordedKernel};
use gaugewright::error::Field;
use gaugewright::example::STRUT;
use gaugewright::ffi::*;
use gaugewright::fixed::{self, AdjustableKernel, MeanCode, Span, Temperature, Zero};

const SMALL: usize = GW_RECORD_BYTES;

/// A record that a version 0.1 in Rust has written.
fn committed(name: &str) -> Vec<u8> {
    let text = include_str!("../../data/records.csv");
    let row = text.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(','));
    let digits: Vec<u8> = row.unwrap().chars().map(|digit| digit.to_digit(16).unwrap() as u8).collect();
    digits.chunks(2).map(|pair| pair[0] << 4 | pair[1]).collect()
}

/// All that a record holds.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Held<K> {
    kernel: K,
    identity: gw_identity,
    answers: [gw_known_answer; GW_KNOWN_ANSWERS],
}

fn read(bytes: &[u8]) -> Result<Held<gw_kernel>, gw_error> {
    let (mut held, mut error) = (Held::default(), gw_error::default());
    let (kernel, identity) = (&raw mut held.kernel, &raw mut held.identity);
    let answers = held.answers.as_mut_ptr();
    // SAFETY: all of them live here.
    let status =
        unsafe { gw_kernel_record_read(bytes.as_ptr(), bytes.len(), kernel, identity, answers, &mut error) };
    assert_eq!(status, error.code);
    if status == GW_STATUS_OK {
        return Ok(held);
    }
    assert_eq!(held, Held::default(), "what is refused is not written");
    Err(error)
}

fn written(held: &Held<gw_kernel>, answers: *const gw_known_answer) -> Result<[u8; SMALL], gw_error> {
    let (mut bytes, mut error) = ([7; SMALL], gw_error::default());
    let (kernel, identity, to) = (&held.kernel, &held.identity, bytes.as_mut_ptr());
    // SAFETY: all of them live here.
    let status = unsafe { gw_kernel_record_write(kernel, identity, answers, to, SMALL, &mut error) };
    assert_eq!(status, error.code);
    if status == GW_STATUS_OK {
        return Ok(bytes);
    }
    assert_eq!(bytes, [7; SMALL], "what is refused is not written");
    Err(error)
}

/// What Rust wrote is read, written again with its own answers and with those given here, and read by Rust, byte for byte.
#[test]
fn records_are_those_of_rust() {
    let bytes = committed("strut");
    let held = read(&bytes).unwrap();
    assert_eq!(held.identity.name, example::name("strut north"));
    assert_eq!((held.identity.year, held.identity.month, held.identity.day), (2026, 3, 14));
    assert_eq!(held.identity.zero, gw_zero { sum: -1_234_567, count: 100, temperature: 21 << 20 });
    assert_eq!(held.identity.span, Span::of_codes(10_000, 9_900).unwrap().to_bits());
    assert_eq!(held.identity.description, STRUT.description_hash());
    assert_eq!(written(&held, held.answers.as_ptr()).unwrap(), *bytes);
    assert_eq!(written(&held, null()).unwrap(), *bytes);
    // SAFETY: both live here.
    assert_eq!(unsafe { gw_kernel_self_test(&held.kernel, held.answers.as_ptr(), null_mut()) }, GW_STATUS_OK);

    // Of C's own: without a zero, a name of all 24 bytes.
    let identity = gw_identity {
        zero: gw_zero::default(),
        name: example::name("\u{b5} of 24 bytes in UTF-8!"),
        description: u64::MAX,
        ..held.identity
    };
    let bytes = written(&Held { identity, ..held }, null()).unwrap();
    let record: Record<fixed::Kernel> = Record::read(&bytes).unwrap();
    assert_eq!(record.identity.name.as_str(), "\u{b5} of 24 bytes in UTF-8!");
    assert_eq!((record.identity.zero, record.identity.description), (None, u64::MAX));
    assert_eq!(record.kernel, STRUT.fixed());
    assert_eq!(again(&record), bytes);
    assert_eq!(read(&bytes).unwrap(), Held { identity, ..held });

    // The large kernel.
    let bytes = committed("any channel");
    let (mut kernel, mut identity) = (gw_large_kernel::default(), gw_identity::default());
    let mut answers = [gw_known_answer::default(); GW_KNOWN_ANSWERS];
    let (mut to, size) = ([0; GW_LARGE_RECORD_BYTES], GW_LARGE_RECORD_BYTES);
    // SAFETY: all of them live here.
    let statuses = unsafe {
        let (k, i, a) = (&raw mut kernel, &raw mut identity, answers.as_mut_ptr());
        [
            gw_large_kernel_record_read(bytes.as_ptr(), size, k, i, a, null_mut()),
            gw_large_kernel_self_test(k, a, null_mut()),
            gw_large_kernel_record_write(k, i, a, to.as_mut_ptr(), size, null_mut()),
        ]
    };
    assert_eq!(statuses, [GW_STATUS_OK; 3]);
    assert_eq!(to, *bytes);
}

fn again<K: RecordedKernel>(record: &Record<K>) -> Vec<u8> {
    let mut bytes = vec![0; Record::<K>::BYTES];
    record.write(&mut bytes).unwrap();
    bytes
}

/// Each kind of refusal, with what was found and what would be right.
#[test]
fn what_is_refused_has_its_status() {
    let whole = committed("strut");
    let sealed = |mut bytes: Vec<u8>| {
        let end = bytes.len() - 4;
        let checksum = crc32(&bytes[..end]).to_le_bytes();
        bytes[end..].copy_from_slice(&checksum);
        bytes
    };
    let with = |at: usize, new: &[u8]| {
        let mut bytes = whole.clone();
        bytes[at..at + new.len()].copy_from_slice(new);
        bytes
    };
    assert_eq!(sealed(whole.clone()), whole);
    let told = |bytes: Vec<u8>| {
        let gw_error { code, field, value, low, high } = read(&bytes).unwrap_err();
        (code, field, value, low, high)
    };
    let plain = |code, value: u32, high: u32| (code, 0, f64::from(value), 0.0, f64::from(high));
    let mark = u32::from_le_bytes(*b"gwrc");
    assert_eq!(told(vec![0xff; SMALL]), plain(GW_STATUS_NO_RECORD, u32::MAX, mark));
    for length in [0, 100, SMALL - 1, SMALL + 1, SMALL + 1_000] {
        let mut bytes = whole.clone();
        bytes.resize(length, 0);
        assert_eq!(told(bytes), plain(GW_STATUS_RECORD_LENGTH, length as u32, SMALL as u32));
    }
    assert_eq!(told(with(4, &[2])), plain(GW_STATUS_RECORD_VERSION, 2, 1));
    assert_eq!(told(with(6, &[9])), plain(GW_STATUS_FORMAT, 9, GW_FORMAT));
    let (small, large) = (u32::from_le_bytes([1, 4, 1, 0]), u32::from_le_bytes([1, 5, 3, 1]));
    assert_eq!(told(committed("any channel")), plain(GW_STATUS_RECORD_KIND, large, small));
    let changed = with(150, &[whole[150] ^ 1]);
    let (found, expected) = (crc32(&changed[..SMALL - 4]), crc32(&whole[..SMALL - 4]));
    assert_eq!(told(changed), plain(GW_STATUS_RECORD_CHECKSUM, found, expected));
    assert_eq!(told(sealed(with(24, &[0xff]))), plain(GW_STATUS_RECORD_NAME, 0, 0));
    let month = (GW_STATUS_INVALID, Field::DateMonth.number(), 13.0, 1.0, 12.0);
    assert_eq!(told(sealed(with(50, &[13]))), month);

    // A known answer with another strain, and one with other flags.
    let held = read(&whole).unwrap();
    let mut other = held;
    other.answers[2].strain += 1;
    let (strain, known) = (f64::from(held.answers[2].strain), f64::from(other.answers[2].strain));
    let error = written(&other, other.answers.as_ptr()).unwrap_err();
    assert_eq!((error.code, error.value, error.low, error.high), (GW_STATUS_SELF_TEST, strain, 2.0, known));
    let mut other = held;
    other.answers[1].flags = 0xffff_fffe;
    let mut error = gw_error::default();
    // SAFETY: all of them live here.
    unsafe { gw_kernel_self_test(&other.kernel, other.answers.as_ptr(), &mut error) };
    let flags = (GW_STATUS_SELF_TEST_FLAGS, f64::from(held.answers[1].flags), 1.0, 4_294_967_294.0);
    assert_eq!((error.code, error.value, error.low, error.high), flags);

    // What C would write: each part of an identity that cannot be.
    let refused = |change: &dyn Fn(&mut gw_identity)| {
        let mut held = held;
        change(&mut held.identity);
        let error = written(&held, null()).unwrap_err();
        (error.code, error.field, error.value)
    };
    let invalid = |field: Field, value: f64| (GW_STATUS_INVALID, field.number(), value);
    assert_eq!(refused(&|it| it.name = [0; 25]), invalid(Field::NameLength, 0.0));
    assert_eq!(refused(&|it| it.name = [b'a' as _; 25]), invalid(Field::NameLength, 25.0));
    assert_eq!(refused(&|it| it.name[3] = -1i8 as _), (GW_STATUS_RECORD_NAME, 0, 0.0));
    assert_eq!(refused(&|it| it.year = 1999), invalid(Field::DateYear, 1999.0));
    assert_eq!(refused(&|it| (it.month, it.day) = (2, 29)), invalid(Field::DateDay, 29.0));
    assert_eq!(refused(&|it| it.zero.count = 65_537), invalid(Field::CodesInMean, 65_537.0));
    // The gain.
    let mut kernel = held.kernel;
    kernel.words[15] = i32::MIN as u32;
    assert_eq!(written(&Held { kernel, ..held }, null()).unwrap_err().code, GW_STATUS_OVERFLOW);
    let mut short = [7; SMALL - 1];
    let mut error = gw_error::default();
    // SAFETY: all of them live here.
    unsafe {
        let (kernel, identity, to) = (&held.kernel, &held.identity, short.as_mut_ptr());
        gw_kernel_record_write(kernel, identity, null(), to, SMALL - 1, &mut error);
    }
    assert_eq!((error.code, error.value, error.high), (GW_STATUS_RECORD_LENGTH, 191.0, 192.0));
    assert_eq!(short, [7; SMALL - 1]);
}

/// CRC-32 of Ethernet by its definition.
fn crc32(bytes: &[u8]) -> u32 {
    let step = |crc: u32, _| (crc >> 1) ^ if crc & 1 == 1 { 0xedb8_8320 } else { 0 };
    !bytes.iter().fold(!0, |crc, byte| (0..8).fold(crc ^ u32::from(*byte), step))
}

/// At zeros and spans from end to end: the kernel of Rust, and its seal; what is refused leaves the kernel in use alone.
#[test]
fn zero_and_span_are_those_of_rust() {
    const REACH: i32 = 2_150_000;
    let spans = (Span::from_ratio(0.98), Span::from_ratio(1.02));
    let rust: AdjustableKernel = STRUT.fixed_adjustable((-REACH, REACH), spans);
    let adjustable = gw_adjustable_kernel::of(rust);
    let seal = gw_seal::of(adjustable.bytes());
    assert_eq!(seal, gw_seal { format: fixed::FORMAT, checksum: crc32(adjustable.bytes()) });
    let (mut kernel, mut error) = (gw_kernel::default(), gw_error::default());
    let mut adjusted = 0;
    for k in (0..=40).step_by(if cfg!(miri) { 20 } else { 1 }) {
        let count = 1 + k * 1_600;
        let codes = MeanCode { sum: i64::from(REACH) * i64::from(count) * (i64::from(k) - 20) / 20, count };
        for span in [spans.0, Span::ONE, spans.1] {
            let temperature = Temperature::from_bits((k as i32 * 3 - 40) << 20 | 12_345);
            let expected = rust.with(Zero { codes, temperature }, span).unwrap();
            let zero = gw_zero { sum: codes.sum, count, temperature: temperature.to_bits() };
            let before = kernel;
            // SAFETY: all of them live here.
            let packed = unsafe {
                let status = gw_kernel_adjust(&adjustable, &zero, span.to_bits(), &mut kernel, &mut error);
                assert_eq!((status, error), (GW_STATUS_OK, gw_error::default()));
                gw_kernel_reading_packed(&kernel, 123_456, zero.temperature)
            };
            let reading = expected.reading(123_456, temperature);
            assert_eq!(packed as u32 as i32, reading.strain.to_bits());
            assert_eq!(kernel, gw_kernel::of(expected));
            assert_ne!(kernel, before);
            adjusted += 1;
        }
    }
    assert!(cfg!(miri) || adjusted == 123);

    let before = kernel;
    let good = gw_zero { sum: 64, count: 64, temperature: 20 << 20 };
    let over = f64::from(REACH) + 1.0;
    let one = 1.0 + 1.0 / f64::from(GW_SPAN_ONE);
    for (zero, span, field, value) in [
        (gw_zero { sum: i64::from(REACH) + 1, count: 1, ..good }, GW_SPAN_ONE, Field::BalanceCode, over),
        (gw_zero { count: 0, ..good }, GW_SPAN_ONE, Field::CodesInMean, 0.0),
        (gw_zero { temperature: 121 << 20, ..good }, GW_SPAN_ONE, Field::BalanceTemperature, 121.0),
        (good, 3 << 30, Field::SpanCorrection, 1.5),
    ] {
        // SAFETY: all of them live here.
        let status = unsafe { gw_kernel_adjust(&adjustable, &zero, span, &mut kernel, &mut error) };
        assert_eq!((status, error.field, error.value), (GW_STATUS_INVALID, field.number(), value));
        assert!(error.low < error.high && (value < error.low || value > error.high));
        assert_eq!(kernel, before);
    }
    let mut span = 0;
    // SAFETY: both live here.
    unsafe {
        assert_eq!(gw_span_of_codes(-10_000, -9_900, &mut span, &mut error), GW_STATUS_OK);
        assert_eq!(span, Span::of_codes(-10_000, -9_900).unwrap().to_bits());
        assert_eq!(gw_span_of_codes(1 << 31, (1 << 31) - 1, &mut span, &mut error), GW_STATUS_OK);
        assert_eq!(f64::from(span) / f64::from(GW_SPAN_ONE), one);
        assert_eq!(gw_span_of_codes(2, 1, &mut span, &mut error), GW_STATUS_INVALID);
    }
    assert_eq!((error.field, error.value, error.high), (Field::SpanCorrection.number(), 2.0, 1.25));
    assert_eq!(f64::from(span) / f64::from(GW_SPAN_ONE), one, "what is refused is not written");

    // Every bit of the constants counts.
    let size = size_of::<gw_adjustable_kernel>();
    let checked = |it: &gw_adjustable_kernel, seal: &gw_seal| {
        // SAFETY: both live here.
        unsafe { gw_seal_check((&raw const *it).cast(), size, seal, null_mut()) }
    };
    for bit in (0..size * 8).step_by(if cfg!(miri) { 37 } else { 1 }) {
        let mut other = adjustable;
        other.words[bit / 64] ^= 1 << (bit % 64);
        assert_eq!(checked(&other, &seal), GW_STATUS_CHECKSUM, "bit {bit}");
    }
    assert_eq!(checked(&adjustable, &gw_seal { format: 0, ..seal }), GW_STATUS_FORMAT);
}
