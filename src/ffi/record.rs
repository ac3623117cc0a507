//! Kernels in records, byte for byte those of Rust, and their self-test.

use core::ffi::c_char;

use super::pointer::{LayoutCompatible, as_ref, finish, tell, write};
use super::*;
use crate::device::record::{Date, Identity, Name, Record, RecordError, RecordedKernel};
use crate::error::Field;
use crate::fixed::{MeanCode, Span, Zero};
use crate::sample::KnownAnswer;

/// Bytes of a record of a gw_kernel.
pub const GW_RECORD_BYTES: usize = 192;
/// Bytes of a record of a gw_large_kernel.
pub const GW_LARGE_RECORD_BYTES: usize = 208;
/// Known answers of a kernel.
pub const GW_KNOWN_ANSWERS: usize = 3;

const _: () = assert!(GW_RECORD_BYTES == Record::<crate::fixed::Kernel<4, 1>>::BYTES);
const _: () = assert!(GW_LARGE_RECORD_BYTES == Record::<crate::fixed::Kernel<5, 3, 1>>::BYTES);

/// Whose kernel a record holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_identity {
    /// Hash of all that the channel file says of the channel but its name: `description_...` of the host.
    pub description: u64,
    /// What was measured on site as zero.
    pub zero: gw_zero,
    /// Span correction, a ratio in Q31: GW_SPAN_ONE where there is none.
    pub span: u32,
    /// Year of the date, 2000 to 2399.
    pub year: u16,
    /// Month, 1 to 12.
    pub month: u8,
    /// Day of the month, 1 to 31.
    pub day: u8,
    /// Name of the channel: 1 to 24 bytes in UTF-8, and a zero byte behind them.
    pub name: [c_char; 25],
}

/// A reading whose result travels with a kernel.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[repr(C)]
pub struct gw_known_answer {
    /// Code of the converter.
    pub code: i32,
    /// Temperature of the gauge, Q20 degrees Celsius.
    pub temperature: i32,
    /// Temperature of the compensating gauge, Q20 degrees Celsius; 0 for a kernel of one temperature.
    pub compensating: i32,
    /// Strain, Q34.
    pub strain: i32,
    /// Flags of the reading.
    pub flags: u32,
}

const _: () = assert!(size_of::<gw_identity>() == 64);
const _: () = assert!(size_of::<gw_known_answer>() == 20);

impl gw_identity {
    fn of(identity: &Identity) -> Self {
        let Identity { name, date, description, zero, span } = *identity;
        let mut bytes = [0; 25];
        for (place, byte) in bytes.iter_mut().zip(name.as_str().bytes()) {
            *place = byte as c_char;
        }
        let zero = match zero {
            Some(Zero { codes: MeanCode { sum, count }, temperature }) => {
                gw_zero { sum, count, temperature: temperature.to_bits() }
            }
            None => gw_zero::default(),
        };
        let (year, month, day) = (date.year(), date.month(), date.day());
        Self { description, zero, span: span.to_bits(), year, month, day, name: bytes }
    }

    fn value(&self) -> Result<Identity, RecordError> {
        let bytes = self.name.map(|byte| byte as u8);
        let name = bytes.split(|byte| *byte == 0).next().unwrap_or_default();
        Field::NameLength.check_whole(name.len() as i32)?;
        let name = Name::try_new(core::str::from_utf8(name).map_err(|_| RecordError::Name)?)?;
        let date = Date::try_new(self.year, self.month, self.day)?;
        let mut identity = Identity::new(name, date, self.description);
        identity.span = Span::from_bits(self.span);
        identity.zero = if self.zero.count == 0 { None } else { Some(self.zero.value()) };
        Ok(identity)
    }
}

impl gw_known_answer {
    const fn of(answer: &KnownAnswer) -> Self {
        let KnownAnswer { code, temperature, compensating, result: strain, flags } = *answer;
        Self { code, temperature, compensating, strain, flags }
    }

    const fn value(&self) -> KnownAnswer {
        let Self { code, temperature, compensating, strain: result, flags } = *self;
        KnownAnswer { code, temperature, compensating, result, flags }
    }
}

/// Writes a kernel, whose it is, and GW_KNOWN_ANSWERS known answers as a record of GW_RECORD_BYTES. `answers` are null for a
/// kernel that was adjusted: then they are what it gives here and now. (Those of the host are of its own kernel, without the
/// measured zero: with them a record is refused as GW_STATUS_SELF_TEST.)
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::kernel();
/// let identity = gw_identity { name: example::name("keel"), year: 2026, month: 3, day: 14, span: GW_SPAN_ONE, ..Default::default() };
/// let mut bytes = [0; GW_RECORD_BYTES];
/// let (mut error, no_answers) = (gw_error::default(), std::ptr::null());
/// // Safe: all of them live here.
/// let status = unsafe {
///     gw_kernel_record_write(&kernel, &identity, no_answers, bytes.as_mut_ptr(), bytes.len(), &mut error)
/// };
/// assert_eq!((status, &bytes[..4]), (GW_STATUS_OK, b"gwrc".as_slice()));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_record_write(
    kernel: *const gw_kernel,
    identity: *const gw_identity,
    answers: *const gw_known_answer,
    bytes: *mut u8,
    size: usize,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { write_record::<_, GW_RECORD_BYTES>(kernel, identity, answers, (bytes, size), error) }
}

/// Reads a record of a gw_kernel, to be used as it is: length, checksum, the ranges of its numbers and its self-test are looked
/// at. Whose it is the caller compares: `description` of the identity with that of the kernel in flash, and the name.
/// GW_STATUS_NO_RECORD for storage that was erased; else a GW_STATUS_RECORD_..., GW_STATUS_FORMAT, GW_STATUS_INVALID,
/// GW_STATUS_OVERFLOW, GW_STATUS_REVERSED or GW_STATUS_SELF_TEST..., after which the zero has to be taken anew. `identity`
/// and `answers` may be null.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::kernel();
/// // Flash that was erased and not written:
/// let bytes = [0xff; GW_RECORD_BYTES];
/// let (nothing, none) = (std::ptr::null_mut(), std::ptr::null_mut());
/// let mut error = gw_error::default();
/// // Safe: what is not null lives here.
/// let status =
///     unsafe { gw_kernel_record_read(bytes.as_ptr(), bytes.len(), &mut kernel, nothing, none, &mut error) };
/// assert_eq!((status, error.value), (GW_STATUS_NO_RECORD, f64::from(u32::MAX)));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_record_read(
    bytes: *const u8,
    size: usize,
    kernel: *mut gw_kernel,
    identity: *mut gw_identity,
    answers: *mut gw_known_answer,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { read_record::<_, GW_RECORD_BYTES>((bytes, size), kernel, identity, answers, error) }
}

/// Compares readings with GW_KNOWN_ANSWERS known answers: at each start, as processor and program may have changed since.
/// GW_STATUS_SELF_TEST or GW_STATUS_SELF_TEST_FLAGS for the first that differs.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::kernel();
/// let answers = [gw_known_answer { code: 1_000, strain: -1, ..Default::default() }; 3];
/// let mut error = gw_error::default();
/// // Safe: all of them live here.
/// let status = unsafe { gw_kernel_self_test(&kernel, answers.as_ptr(), &mut error) };
/// assert_eq!((status, error.low, error.high), (GW_STATUS_SELF_TEST, 0.0, -1.0));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_kernel_self_test(
    kernel: *const gw_kernel,
    answers: *const gw_known_answer,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { self_test(kernel, answers, error) }
}

/// As `gw_kernel_record_write`, of GW_LARGE_RECORD_BYTES.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::large_kernel();
/// let identity = gw_identity { name: example::name("keel"), year: 2026, month: 13, day: 14, ..Default::default() };
/// let mut bytes = [0; GW_LARGE_RECORD_BYTES];
/// let (mut error, no_answers) = (gw_error::default(), std::ptr::null());
/// // Safe: all of them live here.
/// let status = unsafe {
///     gw_large_kernel_record_write(&kernel, &identity, no_answers, bytes.as_mut_ptr(), bytes.len(), &mut error)
/// };
/// assert_eq!((status, error.value, error.high), (GW_STATUS_INVALID, 13.0, 12.0)); // the month
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_record_write(
    kernel: *const gw_large_kernel,
    identity: *const gw_identity,
    answers: *const gw_known_answer,
    bytes: *mut u8,
    size: usize,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { write_record::<_, GW_LARGE_RECORD_BYTES>(kernel, identity, answers, (bytes, size), error) }
}

/// As `gw_kernel_record_read`.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let mut kernel = example::large_kernel();
/// let (bytes, nothing, none) = ([0; 100], std::ptr::null_mut(), std::ptr::null_mut());
/// let mut error = gw_error::default();
/// // Safe: what is not null lives here.
/// let status = unsafe {
///     gw_large_kernel_record_read(bytes.as_ptr(), bytes.len(), &mut kernel, nothing, none, &mut error)
/// };
/// assert_eq!((status, error.value, error.high), (GW_STATUS_RECORD_LENGTH, 100.0, 208.0));
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_record_read(
    bytes: *const u8,
    size: usize,
    kernel: *mut gw_large_kernel,
    identity: *mut gw_identity,
    answers: *mut gw_known_answer,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { read_record::<_, GW_LARGE_RECORD_BYTES>((bytes, size), kernel, identity, answers, error) }
}

/// As `gw_kernel_self_test`.
///
/// # Safety
/// As the head of the header says.
///
/// ```
/// use gaugewright::ffi::*;
/// # let kernel = example::large_kernel();
/// // Safe: null.
/// let status = unsafe { gw_large_kernel_self_test(&kernel, std::ptr::null(), std::ptr::null_mut()) };
/// assert_eq!(status, GW_STATUS_NULL);
/// ```
#[unsafe(no_mangle)]
pub unsafe extern "C" fn gw_large_kernel_self_test(
    kernel: *const gw_large_kernel,
    answers: *const gw_known_answer,
    error: *mut gw_error,
) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { self_test(kernel, answers, error) }
}

/// The bytes are copied where the record is whole: into memory that need not be initialised, and never in part.
///
/// # Safety
/// As [`gw_kernel_record_write`]; `BYTES` is the length of the record.
unsafe fn write_record<V, const BYTES: usize>(
    kernel: *const V,
    identity: *const gw_identity,
    answers: *const gw_known_answer,
    (bytes, size): (*mut u8, usize),
    error: *mut gw_error,
) -> gw_status
where
    V: LayoutCompatible<Viewed: RecordedKernel>,
{
    // SAFETY: as required of the caller.
    let (given, answers) = unsafe { (as_ref(kernel).zip(as_ref(identity)), known(answers)) };
    let written = given.map(|(kernel, identity)| -> Result<[u8; BYTES], RecordError> {
        if size < BYTES {
            return Err(RecordError::Length { found: size, expected: BYTES });
        }
        let mut record = Record::new(*kernel.viewed(), identity.value()?);
        if let Some(answers) = answers {
            record.answers = answers.each_ref().map(gw_known_answer::value);
        }
        let mut written = [0; BYTES];
        record.write(&mut written)?;
        Ok(written)
    });
    // SAFETY: as required of the caller; what is written has the length that was compared with `size`.
    unsafe { finish(written, bytes.cast(), error) }
}

/// # Safety
/// As [`gw_kernel_record_read`]; `BYTES` is the length of the record.
unsafe fn read_record<V, const BYTES: usize>(
    (bytes, size): (*const u8, usize),
    kernel: *mut V,
    identity: *mut gw_identity,
    answers: *mut gw_known_answer,
    error: *mut gw_error,
) -> gw_status
where
    V: LayoutCompatible<Viewed: RecordedKernel>,
{
    let told = if bytes.is_null() || kernel.is_null() {
        gw_error::NULL
    } else {
        // One byte more is enough to see that there are too many.
        let seen = if size > BYTES { BYTES + 1 } else { size };
        // SAFETY: not null, and `size` bytes as required of the caller, which are no fewer.
        let read = Record::<V::Viewed>::read(unsafe { core::slice::from_raw_parts(bytes, seen) });
        match read {
            Ok(record) => {
                let known = record.answers.each_ref().map(gw_known_answer::of);
                // SAFETY: as required of the caller.
                unsafe {
                    V::write(kernel, record.kernel);
                    write(identity, gw_identity::of(&record.identity));
                    write(answers.cast::<[gw_known_answer; GW_KNOWN_ANSWERS]>(), known);
                }
                gw_error::OK
            }
            Err(RecordError::Length { expected, .. }) => {
                gw_error::of_record(&RecordError::Length { found: size, expected })
            }
            Err(error) => gw_error::of_record(&error),
        }
    };
    // SAFETY: as required of the caller.
    unsafe { tell(told, error) }
}

/// A self-test needs a record, whosever it is.
const NOBODY: Identity = Identity::new(Name::new("nobody"), Date::new(2000, 1, 1), 0);

/// # Safety
/// As [`gw_kernel_self_test`].
unsafe fn self_test<V>(kernel: *const V, answers: *const gw_known_answer, error: *mut gw_error) -> gw_status
where
    V: LayoutCompatible<Viewed: RecordedKernel>,
{
    // SAFETY: as required of the caller.
    let told = match unsafe { (as_ref(kernel), known(answers)) } {
        (Some(kernel), Some(answers)) => {
            let answers = answers.each_ref().map(gw_known_answer::value);
            match (Record { kernel: *kernel.viewed(), identity: NOBODY, answers }).self_test() {
                Ok(()) => gw_error::OK,
                Err(error) => gw_error::of_record(&error),
            }
        }
        _ => gw_error::NULL,
    };
    // SAFETY: as required of the caller.
    unsafe { tell(told, error) }
}

/// # Safety
/// Null, or GW_KNOWN_ANSWERS of them.
unsafe fn known<'a>(answers: *const gw_known_answer) -> Option<&'a [gw_known_answer; GW_KNOWN_ANSWERS]> {
    // SAFETY: as required of the caller.
    unsafe { as_ref(answers.cast()) }
}
