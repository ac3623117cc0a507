//! Pointers of C to references and back: what every function here does with them, in one place.

use super::error::{GW_STATUS_NULL, GW_STATUS_OK, gw_status};

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

/// A view is of the same size and alignment as what it views, with its fields at the same places, and every field
/// of both is an integer of the same size or an array of such: any bytes are a value of both. Padding is padding
/// in both.
///
/// # Safety
/// `ffi/layout.rs`, or an assertion beside it, has it for `Self` and `Viewed`.
#[doc(hidden)]
pub unsafe trait LayoutCompatible: Sized {
    type Viewed: Copy;

    /// The library's own, in the same place.
    #[inline(always)]
    fn viewed(&self) -> &Self::Viewed {
        // SAFETY: as the trait requires.
        unsafe { &*(&raw const *self).cast() }
    }

    /// Writes one, as [`write`] does.
    ///
    /// # Safety
    /// The pointer is null, or points to room for a `Self` that is aligned and that nobody else uses.
    #[inline(always)]
    unsafe fn write(pointer: *mut Self, viewed: Self::Viewed) -> gw_status {
        // SAFETY: as required of the caller; size and alignment are as the trait requires.
        unsafe { write(pointer.cast(), viewed) }
    }

    /// A view of a value.
    #[inline(always)]
    fn of(viewed: Self::Viewed) -> Self {
        // SAFETY: as the trait requires; the value lives until the end of this function.
        unsafe { (&raw const viewed).cast::<Self>().read() }
    }
}
