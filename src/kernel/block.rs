//! Blocks of samples: side by side where the target has vectors for it, else one by one; and in place, codes before and strains
//! after.

use crate::error::Error;
use crate::sample::{Flags, Reading, Strain};

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

/// Replaces codes by their strains up to the first sample that may have a flag; how many are left, that one included.
///
/// `clear` gives the strain of a sample that has none. Each function that this is inlined in is a loop of its own without a call,
/// so that all constants can stay in registers.
#[inline(always)]
pub(super) fn correct_clear(block: &mut [i32], clear: impl Fn(i32) -> Option<i32>) -> usize {
    let mut rest = block;
    while let [sample, ..] = rest {
        let Some(strain) = clear(*sample) else { break };
        *sample = strain;
        // Taken off here and not above, so that the address is advanced where it was, and the count alone ends the loop.
        let [_, behind @ ..] = rest else { break };
        rest = behind;
    }
    rest.len()
}

/// Replaces codes by their strains in Q34, and gives place and flags of each flagged sample to `flagged`: the flags of all.
///
/// `clear` is [`correct_clear`] of a point, or gives all where the point itself has a flag; `any` takes every code.
#[inline(always)]
pub(super) fn correct(
    block: &mut [i32],
    clear: impl Fn(&mut [i32]) -> usize,
    any: impl Fn(i32) -> Reading<Strain>,
    flagged: impl FnMut(usize, Flags),
) -> Flags {
    match clear(block) {
        0 => Flags::CLEAR,
        left => correct_flagged(block, left, clear, any, flagged),
    }
}

/// The same for a block of which some are `left`. Out of line, so that a block without flags does not save registers for it.
#[inline(never)]
fn correct_flagged(
    block: &mut [i32],
    mut left: usize,
    clear: impl Fn(&mut [i32]) -> usize,
    any: impl Fn(i32) -> Reading<Strain>,
    mut flagged: impl FnMut(usize, Flags),
) -> Flags {
    let length = block.len();
    let (mut rest, mut all) = (block, Flags::CLEAR);
    // Without an index, so that no check of one is left.
    while let Some(unclear) = rest.len().checked_sub(left).and_then(|done| rest.get_mut(done..)) {
        let mut samples = unclear.iter_mut();
        // A flagged sample seldom comes alone.
        while let Some(sample) = samples.next() {
            let reading = any(*sample);
            *sample = reading.strain.to_bits();
            if reading.flags.is_clear() {
                break;
            }
            all |= reading.flags;
            flagged(length - samples.len() - 1, reading.flags);
        }
        rest = samples.into_slice();
        if rest.is_empty() {
            break;
        }
        left = clear(rest);
    }
    all
}

/// Samples of a word of marks.
const MARKS: usize = u32::BITS as usize;

/// Takes all marks off, if there are as many words as the samples need.
pub(super) fn without_marks(samples: usize, marks: &mut [u32]) -> Result<(), Error> {
    if marks.len() != samples.div_ceil(MARKS) {
        return Err(Error::BlockLength { samples, other: marks.len() });
    }
    marks.fill(0);
    Ok(())
}

/// Marks a sample: bit `sample % 32` of word `sample / 32`.
#[inline(always)]
pub(super) fn mark(marks: &mut [u32], sample: usize) {
    if let Some(word) = marks.get_mut(sample / MARKS) {
        *word |= 1 << (sample % MARKS);
    }
}
