//! The arithmetic of zero and span: high products of 64 bits, as the kernels have them of 32.

use super::FINE;

/// `a b / 2^64`, at most three less.
// Out of line, as are the others: small where flash is short, and called once for a kernel.
#[inline(never)]
pub(super) const fn high(a: i64, b: i64) -> i64 {
    let (a_high, a_low) = (a >> 32, a & 0xffff_ffff);
    let (b_high, b_low) = (b >> 32, b & 0xffff_ffff);
    // What the low halves make of the result is less than one.
    a_high * b_high + ((a_high * b_low) >> 32) + ((a_low * b_high) >> 32)
}

/// `value (1 + share)` with a share in Q64.
#[inline(never)]
pub(super) const fn grown(value: i64, share: i64) -> i64 {
    value.wrapping_add(high(value, share))
}

/// `1 / (1 - e) - 1`, all in Q64, for magnitudes of `e` up to a quarter: `(1 + e)(1 + e^2)(1 + e^4)(1 + e^8)(1 + e^16)`.
#[inline(never)]
pub(super) const fn reciprocal(e: i64) -> i64 {
    let mut power = e;
    let mut sum = e;
    let mut k = 0;
    while k < 4 {
        power = high(power, power);
        sum = grown(sum, power).wrapping_add(power);
        k += 1;
    }
    sum
}

/// A polynomial by Horner's rule, each power's constant doubled once more as every product halves. `x` is -1 to 1 in Q63.
#[inline(never)]
pub(super) const fn horner<const N: usize>(descending: &[i64; N], x: i64) -> i64 {
    let mut sum = 0;
    let mut k = 0;
    while k < N {
        sum = high(sum, x).wrapping_add(descending[k]);
        k += 1;
    }
    sum
}

/// To the nearest step.
pub(super) const fn whole(fine: i64) -> i32 {
    (fine.wrapping_add(1 << (FINE - 1)) >> FINE) as i32
}
