//! Arbitrary bytes for every function that C calls: constants near sound ones and constants of any bytes, pointers that are null now
//! and then. Nothing panics; a block has the bits of one call; what is refused is not written; texts end within what is said to be
//! enough.

use std::ffi::{CStr, c_char};
use std::mem::MaybeUninit;
use std::ptr::{null, null_mut};
use std::sync::LazyLock;

use gaugewright::example::{CHANNEL, COMPENSATED, STRUT};
use gaugewright::ffi::*;
use gaugewright::fixed::Span;
use gaugewright::rosette::Rosette;
use gaugewright::temperature::{Platinum, ResistanceThermometer, Thermocouple, ThermocoupleInput};
use gaugewright::uncertainty::StandardUncertainties;
use gaugewright::units::{Celsius, Millivolts, Ohms, Percent, Ratio};
use gaugewright::{Converter, channel::Arm, installation::Shunt};

use super::bytes::Bytes;

/// Structs of numbers alone, for which any bytes will do.
trait Plain: Copy {}

macro_rules! plain {
    ($($type:ty)*) => { $(impl Plain for $type {})* };
}
plain!(gw_kernel gw_large_kernel gw_compensated_kernel gw_large_compensated_kernel gw_float_kernel gw_large_float_kernel
    gw_float_compensated_kernel gw_large_float_compensated_kernel gw_point gw_linear_point gw_float_point
    gw_adjustable_kernel gw_resistance_thermometer gw_thermocouple gw_temperature_reading gw_last_reading gw_rosette
    gw_plane_strain gw_elasticity gw_wiring_check gw_shunt_check gw_uncertainty gw_uncertainty_point gw_zero gw_identity
    gw_known_answer gw_channel gw_seal gw_error gw_reading);

/// A value with up to seven of its words from the input, or all of them.
fn near<T: Plain>(bytes: &mut Bytes<'_>, sound: T) -> T {
    let (mut value, words) = (sound, size_of::<T>() / 4);
    let at = (&raw mut value).cast::<i32>();
    let count = usize::from(bytes.byte());
    for k in 0..if count > 250 { words } else { count % 8 } {
        let place = if count > 250 { k } else { usize::from(bytes.word() as u16) % words };
        // SAFETY: within the value, of which any bytes are one.
        unsafe { at.add(place).write_unaligned(bytes.whole(-1 << 27, 1 << 27)) };
    }
    value
}

fn any<T: Plain>(bytes: &mut Bytes<'_>) -> T {
    // SAFETY: any bytes are a value.
    near(bytes, unsafe { MaybeUninit::<T>::zeroed().assume_init() })
}

/// A pointer to the value, or now and then null.
fn to<T>(bytes: &mut Bytes<'_>, value: &T) -> *const T {
    if bytes.byte() == 77 { null() } else { value }
}

fn into<T>(bytes: &mut Bytes<'_>, value: &mut T) -> *mut T {
    if bytes.byte() == 77 { null_mut() } else { value }
}

fn words(packed: u64) -> (u32, u32) {
    (packed as u32, (packed >> 32) as u32)
}

/// What is no number counts as one.
fn float_words(packed: u64) -> (u32, u32) {
    let (low, flags) = words(packed);
    (if f32::from_bits(low).is_nan() { u32::MAX } else { low }, flags)
}

fn of(reading: gw_reading) -> (u32, u32) {
    (reading.strain as u32, reading.flags)
}

fn of_float(reading: gw_float_reading) -> (u32, u32) {
    float_words(u64::from(reading.strain.to_bits()) | u64::from(reading.flags) << 32)
}

struct Sound {
    kernel: gw_kernel,
    large: gw_large_kernel,
    pair: gw_compensated_kernel,
    large_pair: gw_large_compensated_kernel,
    float: gw_float_kernel,
    large_float: gw_large_float_kernel,
    float_pair: gw_float_compensated_kernel,
    large_float_pair: gw_large_float_compensated_kernel,
    adjustable: gw_adjustable_kernel,
    platinum: gw_resistance_thermometer,
    thermocouple: gw_thermocouple,
    rosette: gw_rosette,
    wiring: gw_wiring_check,
    shunt: gw_shunt_check,
    uncertainty: Option<gw_uncertainty>,
}

static SOUND: LazyLock<Sound> = LazyLock::new(|| {
    let spans = (Span::from_ratio(0.98), Span::from_ratio(1.02));
    let stated =
        StandardUncertainties::for_channel(STRUT).of_gauge_factor(Percent(0.5)).of_temperature(Celsius(0.3));
    Sound {
        kernel: gw_kernel::of(STRUT.fixed()),
        large: gw_large_kernel::of(STRUT.fixed()),
        pair: gw_compensated_kernel::of(COMPENSATED.fixed()),
        large_pair: gw_large_compensated_kernel::of(COMPENSATED.fixed()),
        float: gw_float_kernel::of(CHANNEL.float32()),
        large_float: gw_large_float_kernel::of(CHANNEL.float32()),
        float_pair: gw_float_compensated_kernel::of(COMPENSATED.float32()),
        large_float_pair: gw_large_float_compensated_kernel::of(COMPENSATED.float32()),
        adjustable: gw_adjustable_kernel::of(STRUT.fixed_adjustable((-2_000_000, 2_000_000), spans)),
        platinum: gw_resistance_thermometer::of(
            ResistanceThermometer::platinum(Platinum::iec60751(Ohms(100.0)), CONVERTER, Ohms(4096.0)).fixed(),
        ),
        thermocouple: gw_thermocouple::of(
            ThermocoupleInput::new(
                Thermocouple::K,
                Converter::bipolar(24, Ratio(1.0 / 32.0)),
                Millivolts(2500.0),
            )
            .fixed(),
        ),
        rosette: gw_rosette::of(Rosette::rectangular().fixed()),
        wiring: gw_wiring_check::of(STRUT.wiring_check(Percent(0.5))),
        shunt: gw_shunt_check::of(Shunt::at_instrument(Arm::Two, Ohms(1e5)).code_check(&STRUT, spans)),
        uncertainty: stated.try_float32::<1>().ok().map(gw_uncertainty::of),
    }
});
const CONVERTER: Converter = Converter::bipolar(24, Ratio(1.0 / 8.0));

/// Gives whether something was adjusted or compiled.
pub fn run(data: &[u8]) -> bool {
    let bytes = &mut Bytes::new(data);
    // SAFETY: each pointer is null, or that of a value of its type that lives during the call.
    unsafe {
        match bytes.byte() % 5 {
            0 => integers(bytes),
            1 => floats(bytes),
            2 => return on_site(bytes),
            3 => return made_here(bytes),
            _ => beside(bytes),
        }
    }
    true
}

/// Kernels near sound ones: a block has the bits of one call, and of a null pointer there is a flag and nothing else. Gives the point of
/// each.
macro_rules! points_of {
    ($bytes:ident, $words:ident, $of:ident, $code:ident, $($sound:ident $one:ident $readings:ident $at:ident($($t:ident),+);)*) => {
        [$({
            let kernel = near($bytes, SOUND.$sound);
            let (kernel, mut block) = (to($bytes, &kernel), [Default::default()]);
            let one = $words($one(kernel, $code, $($t),+));
            let status = $readings(kernel, &$code, $(&$t,)+ block.as_mut_ptr(), 1);
            let of_null = (GW_STATUS_NULL, (0, GW_FLAG_NULL));
            assert_eq!((status, one), if kernel.is_null() { of_null } else { (GW_STATUS_OK, $of(block[0])) });
            $at(kernel, $($t),+)
        }),*]
    };
}

unsafe fn integers(bytes: &mut Bytes<'_>) {
    let (code, t, c) = (bytes.whole(-1 << 23, 1 << 23), bytes.whole(-80 << 20, 120 << 20), bytes.word());
    // SAFETY: as required of the caller.
    unsafe {
        let points = points_of!(bytes, words, of, code,
            kernel gw_kernel_reading_packed gw_kernel_readings gw_kernel_at(t);
            large gw_large_kernel_reading_packed gw_large_kernel_readings gw_large_kernel_at(t);
            pair gw_compensated_kernel_reading_packed gw_compensated_kernel_readings gw_compensated_kernel_at(t, c);
            large_pair gw_large_compensated_kernel_reading_packed gw_large_compensated_kernel_readings
                gw_large_compensated_kernel_at(t, c);
        );
        let mut block = [gw_reading::default()];
        let to_block = block.as_mut_ptr();
        for point in points.into_iter().chain([any(bytes)]) {
            let one = gw_point_reading_packed(&point, code);
            assert_eq!(gw_point_readings(&point, &code, to_block, 1), GW_STATUS_OK);
            assert_eq!(of(to_block.read()), words(one));
            let mut linear: gw_linear_point = any(bytes);
            let status = gw_point_linear(&point, &mut linear);
            assert!([GW_STATUS_OK, GW_STATUS_NOT_LINEAR].contains(&status));
            let one = gw_linear_point_reading_packed(&linear, code);
            assert_eq!(gw_linear_point_readings(&linear, &code, to_block, 1), GW_STATUS_OK);
            assert_eq!(of(to_block.read()), words(one));
        }
        let (kernel, large) = (near(bytes, SOUND.kernel), near(bytes, SOUND.large));
        let (k, l) = (to(bytes, &kernel), to(bytes, &large));
        let (mut ranges, mut bound) = (gw_ranges::default(), gw_bound::default());
        let [small, large] =
            [k.is_null(), l.is_null()].map(|is| if is { GW_STATUS_NULL } else { GW_STATUS_OK });
        assert_eq!(gw_kernel_ranges(k, &mut ranges), small);
        assert_eq!(gw_large_kernel_ranges(l, &mut ranges), large);
        assert_eq!(gw_kernel_error_bound(k, &mut bound), small);
        assert_eq!(gw_large_kernel_error_bound(l, &mut bound), large);
    }
}

unsafe fn floats(bytes: &mut Bytes<'_>) {
    let (code, t, c) = (bytes.whole(-1 << 23, 1 << 23), bytes.whole(-80 << 20, 120 << 20), bytes.word());
    // SAFETY: as required of the caller.
    unsafe {
        let points = points_of!(bytes, float_words, of_float, code,
            float gw_float_kernel_reading_packed gw_float_kernel_readings gw_float_kernel_at(t);
            large_float gw_large_float_kernel_reading_packed gw_large_float_kernel_readings gw_large_float_kernel_at(t);
            float_pair gw_float_compensated_kernel_reading_packed gw_float_compensated_kernel_readings
                gw_float_compensated_kernel_at(t, c);
            large_float_pair gw_large_float_compensated_kernel_reading_packed gw_large_float_compensated_kernel_readings
                gw_large_float_compensated_kernel_at(t, c);
        );
        for point in points.into_iter().chain([any(bytes)]) {
            let mut block = [gw_float_reading::default()];
            let one = gw_float_point_reading_packed(&point, code);
            assert_eq!(gw_float_point_readings(&point, &code, block.as_mut_ptr(), 1), GW_STATUS_OK);
            assert_eq!(of_float(block[0]), float_words(one));
        }
    }
}

/// Zero and span, records, seals, checks of the wiring and a shunt.
unsafe fn on_site(bytes: &mut Bytes<'_>) -> bool {
    let adjustable = near(bytes, SOUND.adjustable);
    let mean = gw_zero { sum: 640_000, count: 64, temperature: 20 << 20 };
    let (zero, with) = (near(bytes, mean), near(bytes, mean));
    let (wiring, shunt) = (near(bytes, SOUND.wiring), near(bytes, SOUND.shunt));
    let (identity, large): (gw_identity, _) = (any(bytes), near(bytes, SOUND.large));
    let answers: [gw_known_answer; GW_KNOWN_ANSWERS] = [any(bytes), any(bytes), any(bytes)];
    let mut named = gw_identity {
        name: example::name("keel"),
        year: 2026,
        month: 3,
        day: 14,
        span: GW_SPAN_ONE,
        ..identity
    };
    named.zero = gw_zero::default();
    let before = gw_kernel { words: [7; 16] };
    let (mut kernel, mut error, mut span) = (before, gw_error::default(), bytes.word() as u32);
    let mut record = [0u8; GW_LARGE_RECORD_BYTES];
    let (mut to_identity, mut to_answers) = (identity, answers);
    // SAFETY: as required of the caller.
    unsafe {
        let a = to(bytes, &adjustable);
        let status = gw_kernel_adjust(a, &zero, span, &mut kernel, &mut error);
        assert!(status == error.code && (status == GW_STATUS_OK || kernel == before));
        message(&error);
        let adjusted = gw_kernel_adjust(a, &mean, GW_SPAN_ONE, &mut kernel, &mut error) == GW_STATUS_OK;
        message(&error);

        let (e, n) = (into(bytes, &mut error), record.len());
        gw_kernel_self_test(&kernel, answers.as_ptr(), e);
        gw_large_kernel_self_test(&large, answers.as_ptr(), e);
        for identity in [&identity, &named] {
            for known in [null(), answers.as_ptr()] {
                if gw_kernel_record_write(&kernel, identity, known, record.as_mut_ptr(), n, e) == GW_STATUS_OK
                {
                    let mut again = kernel;
                    let (i, a) = (&raw mut to_identity, to_answers.as_mut_ptr());
                    let status = gw_kernel_record_read(record.as_ptr(), GW_RECORD_BYTES, &mut again, i, a, e);
                    assert_eq!(status, GW_STATUS_OK);
                    assert_eq!(gw_kernel_self_test(&again, a, e), GW_STATUS_OK);
                }
                if gw_large_kernel_record_write(&large, identity, known, record.as_mut_ptr(), n, e)
                    == GW_STATUS_OK
                {
                    let mut again = large;
                    let (i, a) = (&raw mut to_identity, to_answers.as_mut_ptr());
                    let status = gw_large_kernel_record_read(record.as_ptr(), n, &mut again, i, a, e);
                    // What follows from the ranges is not stored: a kernel that has it otherwise is read as it should be.
                    assert_eq!(status, GW_STATUS_OK);
                    assert_eq!(gw_large_kernel_self_test(&again, a, e), GW_STATUS_OK);
                }
            }
        }
        for byte in record.iter_mut().take(usize::from(bytes.byte())) {
            *byte ^= bytes.byte();
        }
        let size = usize::from(bytes.byte()).min(n);
        gw_kernel_record_read(record.as_ptr(), size, &mut kernel, null_mut(), null_mut(), e);

        let mut seal = any::<gw_seal>(bytes);
        gw_seal_check(to(bytes, &kernel).cast(), size_of_val(&kernel), &seal, e);
        assert_eq!(gw_seal_make((&raw const kernel).cast(), size_of_val(&kernel), &mut seal), GW_STATUS_OK);
        assert_eq!(gw_seal_check((&raw const kernel).cast(), size_of_val(&kernel), &seal, e), GW_STATUS_OK);

        let mut report = gw_report::default();
        let w = to(bytes, &wiring);
        if gw_wiring_report(w, &zero, &mut report, &mut error) == GW_STATUS_OK {
            assert!(report.verdicts.iter().all(|&verdict| u32::from(verdict) <= GW_VERDICT_INCONCLUSIVE));
            assert!(report.healthy <= 1 && report.at_rail <= 1);
        }
        message(&error);
        let s = to(bytes, &shunt);
        let (mut low, mut high) = (0, 0);
        gw_shunt_expected(s, &mut low, &mut high);
        gw_shunt_span(s, &zero, &with, &mut span, &mut error);
        message(&error);
        gw_span_of_codes(zero.sum, with.sum, &mut span, &mut error);
        message(&error);
        text(gw_fault_text(bytes.word() as u32));
        text(gw_fault_text(u32::from(bytes.byte())));
        adjusted
    }
}

unsafe fn made_here(bytes: &mut Bytes<'_>) -> bool {
    let mut channel = near(bytes, example::channel());
    for _ in 0..bytes.byte() % 4 {
        let (place, value) =
            (usize::from(bytes.byte()) % (size_of::<gw_channel>() / 8), bytes.number(-1e3, 1e3));
        // SAFETY: within the channel, of which any bytes are one.
        unsafe { (&raw mut channel).cast::<f64>().add(place).write_unaligned(value) };
    }
    let (mut kernel, mut large, mut error) =
        (gw_kernel::default(), gw_large_kernel::default(), gw_error::default());
    let mut other: gw_channel = any(bytes);
    // SAFETY: as required of the caller.
    unsafe {
        let given = to(bytes, &channel);
        let status = gw_kernel_build(given, &mut kernel, &mut error);
        assert!(status == error.code && (status == GW_STATUS_OK) == (kernel != gw_kernel::default()));
        message(&error);
        let of_large = gw_large_kernel_build(given, &mut large, &mut error);
        message(&error);
        assert_eq!(of_large == GW_STATUS_OK, large != gw_large_kernel::default());
        assert_eq!(gw_channel_default(&mut other), GW_STATUS_OK);
        message(&any(bytes));
        status == GW_STATUS_OK
    }
}

/// Thermometers, rosettes, uncertainties, texts and numbers.
unsafe fn beside(bytes: &mut Bytes<'_>) {
    let (code, cold) = (bytes.whole(-1 << 23, 1 << 23), bytes.whole(-40 << 20, 85 << 20));
    let (platinum, couple) = (near(bytes, SOUND.platinum), near(bytes, SOUND.thermocouple));
    let (first, second): (gw_temperature_reading, gw_temperature_reading) = (any(bytes), any(bytes));
    let (mut last, rosette): (gw_last_reading, _) = (any(bytes), near(bytes, SOUND.rosette));
    let grids: [gw_reading; 3] = [any(bytes), any(bytes), any(bytes)];
    let elasticity = near(bytes, gw_elasticity { modulus: 70.0, poisson_ratio: 0.33 });
    let uncertainty = match SOUND.uncertainty {
        Some(sound) => near(bytes, sound),
        None => any(bytes),
    };
    let (mut state, mut principal, mut stress) =
        (any::<gw_plane_strain>(bytes), gw_principal::default(), gw_stress::default());
    let (mut low, mut high, mut degrees, mut error) = (0, 0, 0f32, gw_error::default());
    let mut point: gw_uncertainty_point = any(bytes);
    // SAFETY: as required of the caller.
    unsafe {
        let (p, t) = (to(bytes, &platinum), to(bytes, &couple));
        let readings = [
            gw_resistance_thermometer_reading_packed(p, code),
            gw_thermocouple_reading_packed(t, code, cold),
            gw_sensor_pair_reading_packed(bytes.word() as u32, first, second),
        ];
        gw_resistance_thermometer_codes(p, &mut low, &mut high);
        let mut buffer = [1u8; 160];
        for reading in readings {
            let length = gw_thermometer_flags_message(
                (reading >> 32) as u32,
                buffer.as_mut_ptr().cast(),
                buffer.len(),
            );
            assert!(length < buffer.len() && buffer[length] == 0);
            let (temperature, flags) = (reading as u32 as i32, (reading >> 32) as u32);
            gw_last_reading_update(
                &mut last,
                gw_temperature_reading { temperature, flags },
                bytes.word() as u32,
            );
            gw_last_reading_at_packed(&mut last, bytes.word() as u32);
        }
        assert_eq!(gw_last_reading_start(&mut last, 5), GW_STATUS_OK);
        assert_eq!(gw_last_reading_at_packed(&mut last, 7) >> 32, u64::from(GW_THERMOMETER_NO_READING));

        let r = to(bytes, &rosette);
        for _ in 0..2 {
            // First of a state of any bytes.
            gw_principal_strain(&state, &mut principal);
            gw_principal_direction(&state, &mut degrees);
            assert!(degrees.is_nan() || (-90.0..=90.0).contains(&degrees), "{degrees}");
            gw_principal_stress(&state, &elasticity, &mut stress, &mut error);
            message(&error);
            gw_rosette_strain(r, grids.as_ptr(), &mut state);
        }
        let status = gw_uncertainty_at(to(bytes, &uncertainty), cold, &mut point, &mut error);
        assert_eq!(status, error.code);
        message(&error);
        gw_uncertainty_standard(to(bytes, &point), code);

        let length = gw_flags_message(
            bytes.word() as u32,
            buffer.as_mut_ptr().cast(),
            usize::from(bytes.byte() % 161),
        );
        assert!(length < buffer.len());
    }
    gw_nanostrain(code);
    gw_temperature_from_millicelsius(bytes.word());
    text(gw_status_text(bytes.word() as u32));
    text(gw_name_text(bytes.word() as u32 % 600));
    text(gw_version_text());
    assert_eq!(gw_version(), GW_VERSION);
}

fn text(pointer: *const c_char) {
    // SAFETY: a text of the library, with its end.
    assert!(!unsafe { CStr::from_ptr(pointer) }.to_bytes().is_empty() || pointer == gw_name_text(0));
}

fn message(error: &gw_error) {
    let mut buffer = [1u8; 256];
    // SAFETY: both live here.
    let length = unsafe { gw_error_message(error, buffer.as_mut_ptr().cast(), buffer.len()) };
    assert!(length < buffer.len() && buffer[length] == 0);
}
