//! What C calls, from Rust: any bytes, null pointers, names, and a header that says what the library has.
#![allow(non_snake_case)]

use std::collections::BTreeMap;
use std::ffi::CStr;
use std::mem::{MaybeUninit, align_of, offset_of, size_of, zeroed};
use std::ptr::{null, null_mut};

use super::anything::{Anything, written};
use gaugewright::error::{ErrorPart, Field, KernelPath, Quantity};
use gaugewright::ffi::*;

const HEADER: &str = include_str!("../../../src/ffi/gaugewright.h");

/// An interpreter that watches memory is some thousand times slower.
const ROUNDS: usize = if cfg!(miri) { 10 } else { 20_000 };

/// Structs of numbers alone, for which any bytes will do.
trait Plain: Copy {}

macro_rules! plain {
    ($($type:ty)*) => { $(impl Plain for $type {})* };
}
plain!(gw_channel gw_kernel gw_large_kernel gw_point gw_linear_point gw_compensated_kernel gw_large_compensated_kernel
    gw_float_kernel gw_large_float_kernel gw_float_compensated_kernel gw_large_float_compensated_kernel gw_float_point
    gw_seal gw_error gw_adjustable_kernel gw_zero gw_identity gw_known_answer);

impl Anything {
    fn of<T: Plain>(&mut self) -> T {
        let mut value = MaybeUninit::<T>::zeroed();
        for word in 0..size_of::<T>() / 4 {
            let number = self.number();
            // SAFETY: within the value, whose size is a multiple of four; an unaligned write, as a channel's words are of eight.
            unsafe { value.as_mut_ptr().cast::<i32>().add(word).write_unaligned(number) };
        }
        // SAFETY: any bytes are a value of it.
        unsafe { value.assume_init() }
    }
}

fn text(pointer: *const std::ffi::c_char) -> &'static str {
    // SAFETY: a text of the library, with its end.
    unsafe { CStr::from_ptr(pointer) }.to_str().unwrap()
}

fn message(error: &gw_error) -> String {
    // SAFETY: all of them live during the call.
    written::<256>(|buffer, size| unsafe { gw_error_message(error, buffer, size) })
}

fn flags_in_words(flags: u32) -> String {
    // SAFETY: the buffer lives during the call.
    written::<128>(|buffer, size| unsafe { gw_flags_message(flags, buffer, size) })
}

/// Both paths of a point agree with each other wherever there are two.
#[test]
fn any_bytes_are_read_without_harm() {
    let mut anything = Anything(1);
    let mut linear_ones = 0;
    for _ in 0..ROUNDS {
        let kernel: gw_kernel = anything.of();
        let large: gw_large_kernel = anything.of();
        let mut point: gw_point = anything.of();
        let linear: gw_linear_point = anything.of();
        let (code, temperature) = (anything.number(), anything.number());
        // SAFETY: all of them live here.
        unsafe {
            gw_linear_point_reading_packed(&linear, code);
            let one = gw_kernel_reading_packed(&kernel, code, temperature);
            let mut block = [gw_reading::default(); 1];
            assert_eq!(gw_kernel_readings(&kernel, &code, &temperature, block.as_mut_ptr(), 1), GW_STATUS_OK);
            assert_eq!((block[0].strain as u32, block[0].flags), (one as u32, (one >> 32) as u32));
            let one = gw_large_kernel_reading_packed(&large, code, temperature);
            assert_eq!(
                gw_large_kernel_readings(&large, &code, &temperature, block.as_mut_ptr(), 1),
                GW_STATUS_OK
            );
            assert_eq!((block[0].strain as u32, block[0].flags), (one as u32, (one >> 32) as u32));
            let made = [gw_kernel_at(&kernel, temperature), gw_large_kernel_at(&large, temperature)];
            for point in &made {
                gw_point_reading_packed(point, code);
            }
            // The bridge's curvature: of half of them none.
            point.words[3] = if anything.word() % 2 == 0 { 0 } else { point.words[3] };
            let one = gw_point_reading_packed(&point, code);
            assert_eq!(gw_point_readings(&point, &code, block.as_mut_ptr(), 1), GW_STATUS_OK);
            assert_eq!((block[0].strain as u32, block[0].flags), (one as u32, (one >> 32) as u32));
            let mut linear = zeroed();
            if gw_point_linear(&point, &mut linear) == GW_STATUS_OK {
                linear_ones += 1;
                gw_linear_point_reading_packed(&linear, code);
            }
            let (mut ranges, mut bound) = (gw_ranges::default(), gw_bound::default());
            assert_eq!(gw_kernel_ranges(&kernel, &mut ranges), GW_STATUS_OK);
            assert_eq!(gw_large_kernel_ranges(&large, &mut ranges), GW_STATUS_OK);
            assert_eq!(gw_kernel_error_bound(&kernel, &mut bound), GW_STATUS_OK);
            assert_eq!(gw_large_kernel_error_bound(&large, &mut bound), GW_STATUS_OK);
        }
        any_bytes_on_site(&mut anything);
        any_bytes_of_other_kernels(&mut anything);
        gw_nanostrain(code);
        flags_in_words(code as u32);
        gw_temperature_from_millicelsius(temperature);
        message(&anything.of());
    }
    assert!(linear_ones > ROUNDS / 10);
}

/// Kernels of two temperatures and in single precision: a block has the bits of one call, and a point is as good as any.
fn any_bytes_of_other_kernels(anything: &mut Anything) {
    let mut inputs = || (anything.number(), anything.number(), anything.number());
    let (code, t, c) = inputs();
    macro_rules! two {
        ($kernel:ty, $block:ty, $one:ident $at:ident $readings:ident $of_point:ident) => {
            let kernel: $kernel = anything.of();
            let mut block = [<$block>::default(); 1];
            // SAFETY: all of them live here.
            unsafe {
                let one = $one(&kernel, code, t, c);
                assert_eq!($readings(&kernel, &code, &t, &c, block.as_mut_ptr(), 1), GW_STATUS_OK);
                assert_eq!(block[0].words(), <$block>::unpacked(one));
                $of_point(&$at(&kernel, t, c), code);
            }
        };
    }
    macro_rules! one {
        ($kernel:ty, $one:ident $at:ident $readings:ident) => {
            let kernel: $kernel = anything.of();
            let mut block = [gw_float_reading::default(); 1];
            // SAFETY: all of them live here.
            unsafe {
                let one = $one(&kernel, code, t);
                assert_eq!($readings(&kernel, &code, &t, block.as_mut_ptr(), 1), GW_STATUS_OK);
                assert_eq!(block[0].words(), gw_float_reading::unpacked(one));
                gw_float_point_reading_packed(&$at(&kernel, t), code);
            }
        };
    }
    two!(gw_compensated_kernel, gw_reading, gw_compensated_kernel_reading_packed gw_compensated_kernel_at
        gw_compensated_kernel_readings gw_point_reading_packed);
    two!(gw_large_compensated_kernel, gw_reading, gw_large_compensated_kernel_reading_packed
        gw_large_compensated_kernel_at gw_large_compensated_kernel_readings gw_point_reading_packed);
    two!(gw_float_compensated_kernel, gw_float_reading, gw_float_compensated_kernel_reading_packed
        gw_float_compensated_kernel_at gw_float_compensated_kernel_readings gw_float_point_reading_packed);
    two!(gw_large_float_compensated_kernel, gw_float_reading, gw_large_float_compensated_kernel_reading_packed
        gw_large_float_compensated_kernel_at gw_large_float_compensated_kernel_readings gw_float_point_reading_packed);
    one!(gw_float_kernel, gw_float_kernel_reading_packed gw_float_kernel_at gw_float_kernel_readings);
    one!(gw_large_float_kernel, gw_large_float_kernel_reading_packed gw_large_float_kernel_at
        gw_large_float_kernel_readings);
    let (point, mut block): (gw_float_point, _) = (anything.of(), [gw_float_reading::default(); 1]);
    // SAFETY: all of them live here.
    let one = unsafe {
        assert_eq!(gw_float_point_readings(&point, &code, block.as_mut_ptr(), 1), GW_STATUS_OK);
        gw_float_point_reading_packed(&point, code)
    };
    assert_eq!(block[0].words(), gw_float_reading::unpacked(one));
}

/// A reading in words. An operation gives any bits of what is no number, so those count as one.
trait Words {
    fn words(&self) -> (u32, u32);
    /// The same of a packed one.
    fn unpacked(packed: u64) -> (u32, u32);
}

impl Words for gw_reading {
    fn words(&self) -> (u32, u32) {
        (self.strain as u32, self.flags)
    }

    fn unpacked(packed: u64) -> (u32, u32) {
        (packed as u32, (packed >> 32) as u32)
    }
}

impl Words for gw_float_reading {
    fn words(&self) -> (u32, u32) {
        let strain = if self.strain.is_nan() { f32::NAN } else { self.strain };
        (strain.to_bits(), self.flags)
    }

    fn unpacked(packed: u64) -> (u32, u32) {
        Self { strain: f32::from_bits(packed as u32), flags: (packed >> 32) as u32 }.words()
    }
}

/// Adjustable kernels, identities and records of any bytes. Something is adjusted: the ranges of zero and span are mostly open.
fn any_bytes_on_site(anything: &mut Anything) {
    let (mut adjustable, seal): (gw_adjustable_kernel, gw_seal) = (anything.of(), anything.of());
    // Lowest and highest balance, then span.
    let pair = |low: u32, high: u32| u64::from(high) << 32 | u64::from(low);
    (adjustable.words[24], adjustable.words[25]) =
        (pair(i32::MIN as u32, i32::MAX as u32), pair(0, u32::MAX));
    let inner =
        gw_kernel { words: std::array::from_fn(|k| (adjustable.words[16 + k / 2] >> (32 * (k % 2))) as u32) };
    let mut zero: gw_zero = anything.of();
    let before = gw_kernel { words: [1; 16] };
    let (mut kernel, mut error) = (before, gw_error::default());
    let (large, identity): (gw_large_kernel, gw_identity) = (anything.of(), anything.of());
    let answers: [gw_known_answer; GW_KNOWN_ANSWERS] = std::array::from_fn(|_| anything.of());
    let mut bytes = [0; GW_LARGE_RECORD_BYTES];
    // SAFETY: all of them live here.
    unsafe {
        for _ in 0..2 {
            let status = gw_kernel_adjust(&adjustable, &zero, anything.word(), &mut kernel, &mut error);
            assert!(status == error.code && (status == GW_STATUS_OK || kernel == before));
            message(&error);
            kernel = before;
            // Of a plausible mean, and in range.
            zero.count = 1 + zero.count % 65_536;
            zero.sum = i64::from(anything.number()) * i64::from(zero.count);
            zero.temperature = (inner.words[12] as i32).wrapping_add(i32::MIN);
        }
        assert_eq!(error, gw_error::default());
        let (constants, size) = ((&raw const adjustable).cast(), size_of_val(&adjustable));
        assert_ne!(gw_seal_check(constants, size, &seal, &mut error), GW_STATUS_OK);
        let (k, l, a) = (&raw const inner, &raw const large, answers.as_ptr());
        gw_kernel_self_test(k, a, &mut error);
        message(&error);
        gw_large_kernel_self_test(l, a, &mut error);
        let (to, size) = (bytes.as_mut_ptr(), bytes.len());
        assert_ne!(gw_kernel_record_write(k, &identity, a, to, size, &mut error), GW_STATUS_OK);
        message(&error);
        assert_ne!(gw_large_kernel_record_write(l, &identity, null(), to, size, null_mut()), GW_STATUS_OK);
        assert_eq!(bytes, [0; GW_LARGE_RECORD_BYTES]);
    }
}

/// Channels of any numbers are refused with an error whose name the header has, or become kernels.
#[test]
fn any_channel_is_compiled_or_refused_by_name() {
    // An interpreter takes long to read the header.
    let names = (!cfg!(miri)).then(defines);
    let mut anything = Anything(2);
    let mut statuses = [0; 10];
    for round in 0..ROUNDS {
        let mut channel = if round % 8 == 0 { anything.of() } else { example::channel() };
        // One or two fields of a sound one, as a word or as a number of a plausible size.
        for _ in 0..1 + anything.word() % 2 {
            let field = anything.word() as usize % (size_of::<gw_channel>() / 8);
            let value = match anything.word() % 3 {
                0 => u64::from(anything.word()) << 32 | u64::from(anything.word()),
                1 => u64::from(anything.word() % 12) << 32 | u64::from(anything.word() % 12),
                _ => (f64::from(anything.number()) / 1e7).to_bits(),
            };
            // SAFETY: within the channel, all of whose bytes may be anything.
            unsafe { (&raw mut channel).cast::<u64>().add(field).write_unaligned(value) };
        }
        if anything.word() % 4 == 0 {
            channel.error_within = f64::from(anything.word() % 1000) / 1e3;
        }
        let (mut kernel, mut large, mut error) =
            (gw_kernel::default(), gw_large_kernel::default(), gw_error::default());
        // SAFETY: all of them live here.
        let status = unsafe { gw_kernel_build(&channel, &mut kernel, &mut error) };
        assert_eq!(status, error.code);
        assert_eq!(status == GW_STATUS_OK, kernel != gw_kernel::default());
        statuses[status as usize] += 1;
        if error.field != 0 {
            assert!(
                names.as_ref().is_none_or(|names| names.values().any(|&number| number == error.field)),
                "{error:?} has no name in the header"
            );
        }
        assert_eq!(status == GW_STATUS_OK, error == gw_error::default());
        message(&error);
        // SAFETY: as before.
        let status = unsafe { gw_large_kernel_build(&channel, &mut large, null_mut()) };
        assert_eq!(status == GW_STATUS_OK, large != gw_large_kernel::default());
    }
    for status in [GW_STATUS_OK, GW_STATUS_INVALID, GW_STATUS_OVERFLOW, GW_STATUS_BOUND, GW_STATUS_CHOICE] {
        assert!(cfg!(miri) || statuses[status as usize] > ROUNDS / 1000, "{statuses:?}");
    }
}

#[test]
fn null_pointers_are_reported() {
    let (mut kernel, mut large, mut linear) =
        (gw_kernel::default(), gw_large_kernel::default(), gw_linear_point::default());
    let (mut seal, mut ranges, mut bound) = (gw_seal::default(), gw_ranges::default(), gw_bound::default());
    let (mut error, mut reading, number, channel) =
        (gw_error::default(), gw_reading::default(), 0, example::channel());
    let flagged = u64::from(GW_FLAG_NULL) << 32;
    // SAFETY: null, or alive here.
    unsafe {
        let point = gw_kernel_at(null(), 5);
        assert_eq!(point, gw_large_kernel_at(null(), 5));
        for code in [i32::MIN, -1, 0, 1, i32::MAX] {
            assert_eq!(gw_point_reading_packed(&point, code), flagged);
            // What is made from it has the same flags.
            assert_eq!(gw_point_linear(&point, &mut linear), GW_STATUS_OK);
            assert_eq!(gw_linear_point_reading_packed(&linear, code), flagged);
        }
        let packed = [
            gw_kernel_reading_packed(null(), 0, 0),
            gw_large_kernel_reading_packed(null(), 0, 0),
            gw_point_reading_packed(null(), 0),
            gw_linear_point_reading_packed(null(), 0),
        ];
        assert_eq!(packed, [flagged; 4]);
        // What is read is apart from what may be written.
        let (read, read_large, read_linear) = (kernel, large, linear);
        let (k, l, p) = (&raw const read, &raw const read_large, &raw const point);
        let (c, r) = (&raw const number, &raw mut reading);
        let statuses = [
            gw_channel_default(null_mut()),
            gw_kernel_build(null(), &mut kernel, null_mut()),
            gw_kernel_build(&channel, null_mut(), null_mut()),
            gw_large_kernel_build(null(), &mut large, null_mut()),
            gw_large_kernel_build(&channel, null_mut(), null_mut()),
            gw_seal_make(null(), 4, &mut seal),
            gw_seal_make(k.cast(), 4, null_mut()),
            gw_seal_make(k.cast(), usize::MAX, &mut seal),
            gw_seal_check(null(), 4, &seal, null_mut()),
            gw_seal_check(k.cast(), 4, null(), null_mut()),
            gw_kernel_readings(null(), c, c, r, 1),
            gw_kernel_readings(k, null(), c, r, 1),
            gw_kernel_readings(k, c, null(), r, 1),
            gw_kernel_readings(k, c, c, null_mut(), 1),
            gw_large_kernel_readings(null(), c, c, r, 1),
            gw_large_kernel_readings(l, null(), c, r, 1),
            gw_large_kernel_readings(l, c, null(), r, 1),
            gw_large_kernel_readings(l, c, c, null_mut(), 1),
            gw_kernel_ranges(null(), &mut ranges),
            gw_kernel_ranges(k, null_mut()),
            gw_large_kernel_ranges(null(), &mut ranges),
            gw_large_kernel_ranges(l, null_mut()),
            gw_kernel_error_bound(null(), &mut bound),
            gw_kernel_error_bound(k, null_mut()),
            gw_large_kernel_error_bound(null(), &mut bound),
            gw_large_kernel_error_bound(l, null_mut()),
            gw_point_readings(null(), c, r, 1),
            gw_point_readings(p, null(), r, 1),
            gw_point_readings(p, c, null_mut(), 1),
            gw_point_linear(null(), &mut linear),
            gw_point_linear(p, null_mut()),
            gw_linear_point_readings(null(), c, r, 1),
            gw_linear_point_readings(&read_linear, null(), r, 1),
            gw_linear_point_readings(&read_linear, c, null_mut(), 1),
        ];
        assert_eq!(statuses, [GW_STATUS_NULL; 34]);
        let compensated = gw_compensated_kernel::default();
        let large_compensated = gw_large_compensated_kernel::default();
        let float = (gw_float_kernel::default(), gw_large_float_kernel::default());
        let floats = (gw_float_compensated_kernel::default(), gw_large_float_compensated_kernel::default());
        let (float_point, mut of_float) = (gw_float_kernel_at(null(), 5), gw_float_reading::default());
        assert_eq!(float_point, gw_large_float_kernel_at(null(), 5));
        assert_eq!(float_point, gw_float_compensated_kernel_at(null(), 5, 5));
        assert_eq!(float_point, gw_large_float_compensated_kernel_at(null(), 5, 5));
        assert_eq!(
            [gw_compensated_kernel_at(null(), 5, 5), gw_large_compensated_kernel_at(null(), 5, 5)],
            [point; 2]
        );
        for code in [i32::MIN, -1, 0, 1, i32::MAX] {
            assert_eq!(gw_float_point_reading_packed(&float_point, code), flagged);
        }
        let packed = [
            gw_compensated_kernel_reading_packed(null(), 0, 0, 0),
            gw_large_compensated_kernel_reading_packed(null(), 0, 0, 0),
            gw_float_kernel_reading_packed(null(), 0, 0),
            gw_large_float_kernel_reading_packed(null(), 0, 0),
            gw_float_compensated_kernel_reading_packed(null(), 0, 0, 0),
            gw_large_float_compensated_kernel_reading_packed(null(), 0, 0, 0),
            gw_float_point_reading_packed(null(), 0),
        ];
        assert_eq!(packed, [flagged; 7]);
        let f = &raw mut of_float;
        let statuses = [
            gw_compensated_kernel_readings(null(), c, c, c, r, 1),
            gw_compensated_kernel_readings(&compensated, c, c, null(), r, 1),
            gw_compensated_kernel_readings(&compensated, c, c, c, null_mut(), 1),
            gw_large_compensated_kernel_readings(null(), c, c, c, r, 1),
            gw_large_compensated_kernel_readings(&large_compensated, c, null(), c, r, 1),
            gw_float_kernel_readings(null(), c, c, f, 1),
            gw_float_kernel_readings(&float.0, null(), c, f, 1),
            gw_large_float_kernel_readings(null(), c, c, f, 1),
            gw_large_float_kernel_readings(&float.1, c, c, null_mut(), 1),
            gw_float_compensated_kernel_readings(null(), c, c, c, f, 1),
            gw_float_compensated_kernel_readings(&floats.0, c, c, null(), f, 1),
            gw_large_float_compensated_kernel_readings(null(), c, c, c, f, 1),
            gw_large_float_compensated_kernel_readings(&floats.1, null(), c, c, f, 1),
            gw_float_point_readings(null(), c, f, 1),
            gw_float_point_readings(&float_point, c, null_mut(), 1),
        ];
        assert_eq!(statuses, [GW_STATUS_NULL; 15]);
        assert_eq!(of_float, gw_float_reading::default());
        let (adjustable, zero) = (gw_adjustable_kernel::default(), gw_zero::default());
        let (identity, answers) = (gw_identity::default(), [gw_known_answer::default(); GW_KNOWN_ANSWERS]);
        let (mut bytes, mut span) = ([0; GW_LARGE_RECORD_BYTES], 0);
        let (z, i, a, n) = (&raw const zero, &raw const identity, answers.as_ptr(), bytes.len());
        let b = bytes.as_mut_ptr();
        let statuses = [
            gw_kernel_adjust(null(), z, GW_SPAN_ONE, &mut kernel, null_mut()),
            gw_kernel_adjust(&adjustable, null(), GW_SPAN_ONE, &mut kernel, null_mut()),
            gw_kernel_adjust(&adjustable, z, GW_SPAN_ONE, null_mut(), null_mut()),
            gw_span_of_codes(1, 1, null_mut(), null_mut()),
            gw_kernel_record_write(null(), i, a, b, n, null_mut()),
            gw_kernel_record_write(k, null(), a, b, n, null_mut()),
            gw_kernel_record_write(k, i, a, null_mut(), n, null_mut()),
            gw_large_kernel_record_write(null(), i, a, b, n, null_mut()),
            gw_large_kernel_record_write(l, null(), a, b, n, null_mut()),
            gw_large_kernel_record_write(l, i, a, null_mut(), n, null_mut()),
            gw_kernel_record_read(null(), n, &mut kernel, null_mut(), null_mut(), null_mut()),
            gw_kernel_record_read(b, n, null_mut(), null_mut(), null_mut(), null_mut()),
            gw_large_kernel_record_read(null(), n, &mut large, null_mut(), null_mut(), null_mut()),
            gw_large_kernel_record_read(b, n, null_mut(), null_mut(), null_mut(), null_mut()),
            gw_kernel_self_test(null(), a, null_mut()),
            gw_kernel_self_test(k, null(), null_mut()),
            gw_large_kernel_self_test(null(), a, null_mut()),
            gw_large_kernel_self_test(l, null(), null_mut()),
        ];
        assert_eq!(statuses, [GW_STATUS_NULL; 18]);
        assert_eq!((bytes, span), ([0; GW_LARGE_RECORD_BYTES], 0));
        assert_eq!(gw_span_of_codes(1, 1, &mut span, null_mut()), GW_STATUS_OK);
        assert_eq!(gw_span_of_codes(1, 1, null_mut(), &mut error), GW_STATUS_NULL);
        assert_eq!((span, error.code), (GW_SPAN_ONE, GW_STATUS_NULL));
        assert_eq!(gw_kernel_build(null(), &mut kernel, &mut error), GW_STATUS_NULL);
        assert_eq!(error, gw_error { code: GW_STATUS_NULL, ..Default::default() });
        assert_eq!(gw_error_message(null(), (&raw mut seal).cast(), 8), 0);
        assert_eq!(gw_error_message(&error, null_mut(), 8), 0);
    }
    assert_eq!((kernel, large), Default::default());
    assert_eq!((seal, ranges), Default::default());
    assert_eq!((bound, reading), Default::default());
}

/// Whatever marks a point, its linear point carries the same mark: within the range, beyond it and at a rail.
#[test]
fn a_linear_point_has_the_flags_of_its_point() {
    let channel =
        gw_channel { circuit: GW_CIRCUIT_FULL_BENDING, strain_limit: 1_000.0, ..example::channel() };
    let (mut kernel, mut linear) = (gw_kernel::default(), gw_linear_point::default());
    // SAFETY: all of them live here.
    unsafe {
        assert_eq!(gw_kernel_build(&channel, &mut kernel, null_mut()), GW_STATUS_OK);
        for marks in
            [0, GW_FLAG_TEMPERATURE_OUTSIDE, GW_FLAG_NULL, GW_FLAG_NULL | GW_FLAG_TEMPERATURE_OUTSIDE]
        {
            let mut point = gw_kernel_at(&kernel, 35 << 20);
            point.words[0] = marks;
            assert_eq!(gw_point_linear(&point, &mut linear), GW_STATUS_OK);
            let (mut seen, mut block) = (0, [gw_reading::default(); 1]);
            for code in
                [i32::MIN, -8_388_608, -8_388_607, -5_000_000, 0, 100_000, 5_000_000, 8_388_607, i32::MAX]
            {
                let reading = gw_point_reading_packed(&point, code);
                assert_eq!(
                    gw_linear_point_reading_packed(&linear, code),
                    reading,
                    "code {code}, marks {marks:x}"
                );
                assert_eq!(gw_linear_point_readings(&linear, &code, block.as_mut_ptr(), 1), GW_STATUS_OK);
                assert_eq!(
                    (block[0].strain as u32, block[0].flags),
                    (reading as u32, (reading >> 32) as u32)
                );
                assert_eq!((reading >> 32) as u32 & marks, marks);
                seen |= (reading >> 32) as u32;
            }
            assert_eq!(seen, marks | GW_FLAG_STRAIN_OUTSIDE | GW_FLAG_CODE_AT_RAIL);
        }
    }
}

#[test]
fn errors_are_told_in_words() {
    let error = |code, field, value, low, high| gw_error { code, field, value, low, high };
    for (error, words) in [
        (gw_error::default(), "ok"),
        (error(GW_STATUS_NULL, 0, 0.0, 0.0, 0.0), "a pointer is null"),
        (
            error(GW_STATUS_INVALID, Field::LeadResistance.number(), f64::NAN, 0.0, 350.0),
            "lead resistance (ohm) is missing or not a number, allowed: 0 to 350",
        ),
        (
            error(GW_STATUS_INVALID, Field::ThermalOutput.number(), f64::NAN, -1e6, 1e6),
            "thermal output is missing: state its coefficients and the temperatures they were fitted on",
        ),
        (
            error(GW_STATUS_INVALID, Field::FullScaleRatio.number(), 7.8125, 1e-6, 1.0),
            "full-scale ratio (V/V) is 7.8125, allowed: 0.000001 to 1; 7.8125 mV/V are 0.0078125 V/V",
        ),
        (
            error(GW_STATUS_INVALID, Field::SpecimenExpansion.number(), f64::MAX, -1e3, 1e3),
            "expansion coefficient of the specimen (ppm/C) is 1.79769313e308, allowed: -1000 to 1000",
        ),
        (
            error(GW_STATUS_REVERSED, Field::TemperatureHigh.number(), 50.0, 60.0, 0.0),
            "upper end of the declared temperature range (C) is 50, below the lower end of 60: the range is reversed",
        ),
        (
            error(GW_STATUS_OVERFLOW, Quantity::ThermalOutputDegree.number(), 5.0, 0.0, 4.0),
            "thermal output degree for the kernel type is 5, this one has room for 4: use one that has more, \
             such as Kernel<5, 3, 1>, in C gw_large_kernel",
        ),
        (
            error(GW_STATUS_BOUND, ErrorPart::Operations.number(), 0.375, 502.0, 0.25),
            "the kernel's error bound is 0.375 nanostrain, the limit is 0.25 nanostrain; the largest part is the rounding \
             of operations, in the split path",
        ),
        (error(GW_STATUS_CHOICE, GW_CHOICE_CIRCUIT, 11.0, 1.0, 10.0), "circuit is 11, there are 1 to 10"),
        (error(GW_STATUS_FORMAT, 0, 2.0, 0.0, 1.0), "the constants' format is 2, that of the library is 1"),
        (
            error(GW_STATUS_CHECKSUM, 0, 7.0, 0.0, 8.0),
            "the checksum of the constants is 7, the sealed one is 8",
        ),
        (error(GW_STATUS_RECORD_LENGTH, 0, 100.0, 0.0, 192.0), "100 bytes, where the record has 192"),
        (
            error(GW_STATUS_NO_RECORD, 0, 4_294_967_295.0, 0.0, 1_668_445_031.0),
            "no record: the first bytes are the number 4294967295, those of a record 1668445031",
        ),
        (
            error(GW_STATUS_RECORD_VERSION, 0, 2.0, 0.0, 1.0),
            "a record of version 2, that of the library is 1",
        ),
        (
            error(GW_STATUS_RECORD_KIND, 0, 66_817.0, 0.0, 197_889.0),
            "a record of kind and sizes 66817, the kernel's are 197889",
        ),
        (
            error(GW_STATUS_RECORD_CHECKSUM, 0, 7.0, 0.0, 8.0),
            "the record's checksum is 7, the written one is 8",
        ),
        (
            error(GW_STATUS_RECORD_NAME, 0, 0.0, 0.0, 0.0),
            "the name is no text in UTF-8, or does not end with zeros",
        ),
        (error(GW_STATUS_SELF_TEST, 0, -7.0, 2.0, -8.0), "known answer 2 is -7, expected: -8"),
        (error(GW_STATUS_SELF_TEST_FLAGS, 0, 1.0, 0.0, 3.0), "known answer 0 has the flags 1, expected: 3"),
        (error(GW_STATUS_NOT_LINEAR, 0, 0.0, 0.0, 0.0), "the bridge is not linear"),
        // Of numbers that are none, what is known.
        (error(GW_STATUS_INVALID, 5_000, 0.0, 0.0, 0.0), "an input is missing or out of range"),
        (error(99, 5_000, 0.0, 0.0, 0.0), "unknown status"),
    ] {
        assert_eq!(message(&error), words);
    }
    // A build says the same as the library does.
    let reversed = gw_channel { temperature_low: 60.0, temperature_high: 50.0, ..example::channel() };
    let mistaken = gw_channel { full_scale_ratio: 7.8125, ..example::channel() };
    for (channel, code) in [(reversed, GW_STATUS_REVERSED), (mistaken, GW_STATUS_INVALID)] {
        let (mut kernel, mut error) = (gw_kernel::default(), gw_error::default());
        // SAFETY: all of them live here.
        assert_eq!(unsafe { gw_kernel_build(&channel, &mut kernel, &mut error) }, code);
        let words = message(&error);
        assert!(
            words.contains("50, below the lower end of 60: ") || words.ends_with(" 0.0078125 V/V"),
            "{words}"
        );
    }
    // Every name with the longest numbers.
    for code in 0..=GW_STATUS_SELF_TEST_FLAGS + 1 {
        for field in (0..520).step_by(if cfg!(miri) { 61 } else { 1 }) {
            let long = -1.234_567_89e-300;
            message(&gw_error { code, field, value: long, low: long, high: long });
        }
    }
}

/// Every set of flags: the words of Rust, then those that C has besides; bits that are no flag by their number.
#[test]
fn flags_are_told_in_words() {
    for bits in 0..16 {
        let rust = gaugewright::Flags::from_bits(bits).unwrap().to_string();
        assert_eq!(flags_in_words(bits.into()), rust);
        let with_null = if bits == 0 { "null pointer".to_string() } else { rust + ", null pointer" };
        assert_eq!(flags_in_words(GW_FLAG_NULL | u32::from(bits)), with_null);
    }
    assert_eq!(flags_in_words(0x10), "unknown 0x00000010");
    assert_eq!(flags_in_words(GW_FLAG_CODE_AT_RAIL | 0x7ab0_0010), "code at rail, unknown 0x7ab00010");
    assert_eq!(
        flags_in_words(u32::MAX),
        "code at rail, temperature outside, strain outside, temperature doubtful, null pointer, unknown 0x7ffffff0"
    );
    // Cut off where it does not fit, with its end; nothing beyond the buffer is touched.
    for size in 0..=18 {
        let mut buffer = *b"##################";
        // SAFETY: `size` is at most the length of the buffer.
        let length = unsafe { gw_flags_message(0x6, buffer.as_mut_ptr().cast(), size) };
        assert_eq!(length, "code at rail, strain outside".len());
        let kept = size.saturating_sub(1);
        assert_eq!(buffer[..kept], b"code at rail, strain outside"[..kept]);
        assert!(size == 0 || buffer[kept] == 0);
        assert!(buffer[size..].iter().all(|&byte| byte == b'#'));
    }
    // SAFETY: null.
    assert_eq!(unsafe { gw_flags_message(1, null_mut(), 8) }, 0);
}

/// Every constant of the header with its number.
fn defines() -> BTreeMap<&'static str, u32> {
    let all: BTreeMap<_, _> = HEADER
        .lines()
        .filter_map(|line| line.strip_prefix("#define ")?.split_once(' '))
        .filter_map(|(name, rest)| Some((name, rest.split(' ').next()?.strip_suffix('u')?.parse().ok()?)))
        .collect();
    assert!(all.len() > 80);
    all
}

#[test]
fn names_of_the_header_have_words_of_their_own() {
    if cfg!(miri) {
        // Reading the header's text takes the interpreter as long as the texts do: each number in its place.
        let fields = Field::ALL.iter().map(|one| one.number());
        let quantities = Quantity::ALL.iter().map(|one| one.number());
        let parts = ErrorPart::ALL.iter().map(|one| one.number());
        let paths = KernelPath::ALL.iter().map(|one| one.number());
        for number in fields.chain(quantities).chain(parts).chain(paths).chain(400..410) {
            text(gw_name_text(number));
        }
        for number in 0..20 {
            text(gw_status_text(number));
        }
        return;
    }
    let mut texts = BTreeMap::new();
    for (name, number) in defines() {
        let words = match name.split('_').nth(1) {
            Some("FIELD" | "QUANTITY" | "PART" | "PATH" | "CHOICE") => text(gw_name_text(number)).to_owned(),
            Some("STATUS") => text(gw_status_text(number)).to_owned(),
            Some("FLAG") => flags_in_words(number),
            _ => continue,
        };
        assert!(!words.starts_with("unknown"), "{name}");
        if let Some(other) = texts.insert(words.clone(), name) {
            panic!("{other} and {name} are both {words:?}");
        }
    }
}

/// No name of an error is missing in the header or has another number there.
#[test]
#[cfg_attr(miri, ignore = "reads the header's text and calls nothing")]
fn the_header_has_the_numbers_of_the_table() {
    fn names<T: std::fmt::Debug>(kind: &str, all: &[T], number: impl Fn(&T) -> u32) -> Vec<(String, u32)> {
        let name = |one| {
            format!("{one:?}").chars().fold(format!("GW_{kind}"), |name, letter| {
                let joint = if letter.is_ascii_uppercase() { "_" } else { "" };
                name + joint + &letter.to_ascii_uppercase().to_string()
            })
        };
        all.iter().map(|one| (name(one), number(one))).collect()
    }
    let mut table = names("FIELD", Field::ALL, |one| one.number());
    table.extend(names("QUANTITY", Quantity::ALL, |one| one.number()));
    table.extend(names("PART", ErrorPart::ALL, |one| one.number()));
    table.extend(names("PATH", KernelPath::ALL, |one| one.number()));
    table.sort();
    let kinds = ["GW_FIELD_", "GW_QUANTITY_", "GW_PART_", "GW_PATH_"];
    let header: Vec<_> = defines()
        .into_iter()
        .filter(|(name, _)| kinds.iter().any(|kind| name.starts_with(kind)))
        .map(|(name, number)| (name.to_owned(), number))
        .collect();
    assert_eq!(header, table);
}

/// The assertions on the side of C are those that hold here; each struct with every field that it has.
macro_rules! places {
    ($($type:ident { $($field:ident)* })*) => {{
        let mut lines = Vec::new();
        $(
            // A field that is left out here does not compile.
            let _ = |it: $type| { let $type { $($field: _),* } = it; };
            // As a number of four bytes, or else as the target aligns longer ones.
            let alignment = match align_of::<$type>() {
                4 => "uint32_t",
                longer => {
                    assert_eq!((longer, longer), (align_of::<f64>(), align_of::<u64>()));
                    if stringify!($($field)*) == "words" { "uint64_t" } else { "double" }
                }
            };
            let (name, size) = (stringify!($type), size_of::<$type>());
            lines.push(format!("GW_LIES({name}, {size}, {alignment})"));
            $(
                let (field, place) = (stringify!($field), offset_of!($type, $field));
                if field != "words" {
                    lines.push(format!("GW_AT({name}, {field}, {place})"));
                }
            )*
        )*
        lines
    }};
}

#[test]
#[cfg_attr(miri, ignore = "reads the header's text and calls nothing")]
fn the_header_asserts_where_every_field_is() {
    let here = places! {
        gw_gauge {
            gauge_factor gauge_factor_slope gauge_factor_square gauge_factor_cube thermal_output stated_for fitted_low
            fitted_high reference_temperature matched_expansion transverse_sensitivity calibration_poisson_ratio
            forced_strain thermal_output_terms thermal_output_scale gauge_factor_basis reserved
        }
        gw_channel {
            gauge gauge_resistance lead_resistance output_lead_resistance completion_resistance reference_upper
            reference_lower input_resistance poisson_ratio full_scale_ratio reading_step instrument_gauge_factor
            balance_code balance_temperature strain_limit temperature_low temperature_high specimen_expansion
            span_correction error_within circuit converter converter_bits remote_sense reversed mismatch_scale
            correction reserved
        }
        gw_error { code field value low high }
        gw_seal { format checksum }
        gw_reading { strain flags }
        gw_ranges { code_low code_high temperature_low temperature_high }
        gw_bound { reading point }
        gw_zero { sum count temperature }
        gw_identity { description zero span year month day name }
        gw_known_answer { code temperature compensating strain flags }
        gw_float_reading { strain flags }
        gw_kernel { words }
        gw_point { words }
        gw_linear_point { words }
        gw_large_kernel { words }
        gw_compensated_kernel { words }
        gw_large_compensated_kernel { words }
        gw_float_kernel { words }
        gw_large_float_kernel { words }
        gw_float_compensated_kernel { words }
        gw_large_float_compensated_kernel { words }
        gw_float_point { words }
        gw_adjustable_kernel { words }
        gw_resistance_thermometer { words }
        gw_thermocouple { words }
        gw_temperature_reading { temperature flags }
        gw_last_reading { limit temperature flags updated_at unusable }
        gw_plane_strain { mean half_difference half_shear flags }
        gw_principal { first second half_shear flags }
        gw_elasticity { modulus poisson_ratio }
        gw_stress { first second in_plane_shear von_mises tresca flags }
        gw_report { healthy at_rail verdicts }
        gw_rosette { words }
        gw_wiring_check { words }
        gw_shunt_check { words }
        gw_uncertainty { words }
        gw_uncertainty_point { words }
    };
    let mut here = here;
    here.sort();
    let mut there: Vec<_> = HEADER
        .lines()
        .filter(|line| line.starts_with("GW_LIES(") || line.starts_with("GW_AT("))
        .flat_map(|line| line.trim_end_matches(';').split("; "))
        .collect();
    there.sort();
    assert_eq!(here, there);
    // And no type is left out.
    let types = HEADER.lines().filter(|line| line.starts_with("typedef struct {")).count();
    assert_eq!(types, there.iter().filter(|line| line.starts_with("GW_LIES(")).count());
}
