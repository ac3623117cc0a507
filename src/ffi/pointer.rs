//! Pointers of C to references and back: what every function here does with them, in one place.

use core::mem::{align_of, size_of};

use super::status::{GW_STATUS_NULL, GW_STATUS_OK, gw_error, gw_status};

/// What a pointer points to; none if it is null.
///
/// # Safety
/// The pointer is null, or points to a `T` that is aligned, initialised and not written while the reference is used.
#[inline(always)]
pub(super) unsafe fn as_ref<'a, T>(pointer: *const T) -> Option<&'a T> {
    // SAFETY: as required of the caller.
    unsafe { pointer.as_ref() }
}

/// Writes a result, which need not be initialised before.
///
/// # Safety
/// The pointer is null, or points to room for a `T` that is aligned and that nobody else uses.
#[inline(always)]
pub(super) unsafe fn write<T>(pointer: *mut T, value: T) -> gw_status {
    if pointer.is_null() {
        return GW_STATUS_NULL;
    }
    // SAFETY: not null, and the rest as required of the caller.
    unsafe { pointer.write(value) };
    GW_STATUS_OK
}

/// The end of a function with a result: writes it, or says why there is none. None at all: what it is made of was null.
///
/// # Safety
/// Each pointer is null, or points to room for its type that is aligned and that nobody else uses.
#[inline(always)]
pub(super) unsafe fn finish<T, E: Into<gw_error>>(
    result: Option<Result<T, E>>,
    to: *mut T,
    error: *mut gw_error,
) -> gw_status {
    let told = match result {
        Some(result) if !to.is_null() => match result {
            Ok(value) => {
                // SAFETY: not null, and the rest as required of the caller.
                unsafe { to.write(value) };
                gw_error::OK
            }
            Err(error) => error.into(),
        },
        _ => gw_error::NULL,
    };
    // SAFETY: as required of the caller.
    unsafe { tell(told, error) }
}

/// The end of a function that may fail: the error, and its status, which says what it is where there is no place for the error.
///
/// # Safety
/// The pointer is null, or points to room that is aligned and that nobody else uses.
#[inline(always)]
pub(super) unsafe fn tell(told: gw_error, error: *mut gw_error) -> gw_status {
    // SAFETY: as required of the caller.
    unsafe { write(error, told) };
    told.code
}

/// Constants that C has as words and this library as a kernel or a point: of the same size and alignment, without
/// padding, and of numbers alone, so that any bytes are a value of both.
///
/// # Safety
/// `Viewed` is `repr(C)`, of such fields alone. That both are of one size and alignment is asserted.
#[doc(hidden)]
pub unsafe trait LayoutCompatible: Sized {
    type Viewed: Copy;

    #[doc(hidden)]
    const SAME: () = assert!(
        size_of::<Self>() == size_of::<Self::Viewed>() && align_of::<Self>() == align_of::<Self::Viewed>()
    );

    /// The library's own, in the same place.
    #[inline(always)]
    fn viewed(&self) -> &Self::Viewed {
        let () = Self::SAME;
        // SAFETY: as the trait requires.
        unsafe { &*(&raw const *self).cast() }
    }

    /// Writes one, as [`write`] does.
    ///
    /// # Safety
    /// The pointer is null, or points to room for a `Self` that is aligned and that nobody else uses.
    #[inline(always)]
    unsafe fn write(pointer: *mut Self, viewed: Self::Viewed) -> gw_status {
        let () = Self::SAME;
        // SAFETY: as required of the caller; size and alignment are as the trait requires.
        unsafe { write(pointer.cast(), viewed) }
    }

    /// The words of a value.
    #[inline(always)]
    fn of(viewed: Self::Viewed) -> Self {
        let () = Self::SAME;
        // SAFETY: as the trait requires; the value lives until the end of this function.
        unsafe { (&raw const viewed).cast::<Self>().read() }
    }

    /// Its bytes, as they lie in memory.
    fn bytes(&self) -> &[u8] {
        // SAFETY: there is no padding, as the trait requires.
        unsafe { core::slice::from_raw_parts((&raw const *self).cast(), size_of::<Self>()) }
    }
}

/// What a pointer points to is written for each sample: `N` columns of numbers in, a column of readings out.
///
/// # Safety
/// Each input is null or points to `count` numbers, `readings` is null or points to room for `count` readings that nobody
/// else uses.
#[inline(always)]
pub(super) unsafe fn for_each<const N: usize, R>(
    inputs: [*const i32; N],
    readings: *mut R,
    count: usize,
    reading: impl Fn([i32; N]) -> R,
) -> gw_status {
    if readings.is_null() || inputs.iter().any(|input| input.is_null()) {
        return GW_STATUS_NULL;
    }
    for i in 0..count {
        // SAFETY: not null, and `i` is below `count`.
        unsafe { readings.add(i).write(reading(inputs.map(|input| input.add(i).read()))) };
    }
    GW_STATUS_OK
}
