//! Pointers of C to references and back: what every function here does with them, in one place.

use super::error::{GW_STATUS_NULL, GW_STATUS_OK, gw_status};

/// What a pointer points to; none if it is null.
///
/// # Safety
/// The pointer is null, or points to a `T` that is aligned, initialised and not written while the reference is used.
#[inline(always)]
pub(super) unsafe fn look<'a, T>(pointer: *const T) -> Option<&'a T> {
    // SAFETY: as promised by the caller.
    unsafe { pointer.as_ref() }
}

/// Writes a result, which need not be initialised before.
///
/// # Safety
/// The pointer is null, or points to room for a `T` that is aligned and that nobody else uses.
#[inline(always)]
pub(super) unsafe fn put<T>(pointer: *mut T, value: T) -> gw_status {
    if pointer.is_null() {
        return GW_STATUS_NULL;
    }
    // SAFETY: not null, and the rest as promised by the caller.
    unsafe { pointer.write(value) };
    GW_STATUS_OK
}

/// A view is of the same size and alignment as what it views, with its fields at the same places, and every field of both is an
/// integer of the same size: any bytes are a value of both, padding aside, which neither reads.
///
/// # Safety
/// `kernel/fixed/layout.rs` asserts it for `Self` and `Viewed`.
pub(super) unsafe trait View: Sized {
    type Viewed: Copy;

    /// The library's own, in the same place.
    #[inline(always)]
    fn viewed(&self) -> &Self::Viewed {
        // SAFETY: what the trait promises.
        unsafe { &*(&raw const *self).cast() }
    }

    #[inline(always)]
    fn of(viewed: Self::Viewed) -> Self {
        // SAFETY: what the trait promises; the value is read whole from a place that lives until the end of this function.
        unsafe { (&raw const viewed).cast::<Self>().read() }
    }
}
