//! Blocks of samples: side by side where the target has vectors for it, else one by one.

use crate::sample::{Flags, Reading};

/// Samples computed side by side: two of the widest vectors, so that one is worked on while the products of the other
/// are on their way. More would make a single sample out of range cost more.
const SIDE: usize = 32;

/// Fills `readings`, side by side if the target has `vectors` for it; all slices have one length.
///
/// `inside` gives the strain of inputs in range and whether anything was out of range after all, without a
/// branch, so that the compiler can work on many samples at once. A run of samples in which anything was
/// is done again by `any`, which takes all inputs.
#[inline(always)]
pub(super) fn fill<A: Copy, B: Copy, S>(
    vectors: bool,
    (a, b): (&[A], &[B]),
    readings: &mut [Reading<S>],
    flags: Flags,
    inside: impl Fn(A, B) -> (S, bool),
    any: impl Fn(A, B) -> Reading<S>,
) {
    if !vectors {
        return one_by_one((a, b), readings, any);
    }
    for ((a, b), readings) in a.chunks(SIDE).zip(b.chunks(SIDE)).zip(readings.chunks_mut(SIDE)) {
        if !all_inside((a, b), readings, flags, &inside) {
            one_by_one((a, b), readings, &any);
        }
    }
}

/// Fills `readings` if there are as many as go side by side and all are in range.
#[inline(always)]
fn all_inside<A: Copy, B: Copy, S>(
    (a, b): (&[A], &[B]),
    readings: &mut [Reading<S>],
    flags: Flags,
    inside: impl Fn(A, B) -> (S, bool),
) -> bool {
    // The length as a constant is what lets the loop become vectors with no checks in it.
    let (Ok(a), Ok(b)) = (<&[A; SIDE]>::try_from(a), <&[B; SIDE]>::try_from(b)) else {
        return false;
    };
    let Ok(readings) = <&mut [Reading<S>; SIDE]>::try_from(readings) else {
        return false;
    };
    let mut outside = false;
    for i in 0..SIDE {
        let (strain, is_outside) = inside(a[i], b[i]);
        readings[i].strain = strain;
        // Strain and flags of one width are stored as one stream; two widths in one loop would keep it scalar.
        if size_of::<S>() == size_of::<Flags>() {
            readings[i].flags = flags;
        }
        outside |= is_outside;
    }
    if size_of::<S>() != size_of::<Flags>() {
        for reading in readings {
            reading.flags = flags;
        }
    }
    !outside
}

/// Fills `readings` by single calls.
#[inline(never)]
fn one_by_one<A: Copy, B: Copy, S>(
    (a, b): (&[A], &[B]),
    readings: &mut [Reading<S>],
    any: impl Fn(A, B) -> Reading<S>,
) {
    for ((&a, &b), reading) in a.iter().zip(b).zip(readings) {
        *reading = any(a, b);
    }
}
