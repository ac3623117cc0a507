//! Quotients with a fraction, and numbers of errors, without a routine for either.

/// `of / by` with this many fraction bits, rounded down; `by` is below 2^63. By hand, as a library's division of 64 bits is larger and has no
/// fraction.
#[inline(never)]
pub(crate) const fn quotient(of: u64, by: u64, fraction: u32) -> u64 {
    let (mut of, mut rest, mut quotient) = (of, 0, 0u64);
    let mut left = 64 + fraction;
    while left > 0 {
        rest = (rest << 1) | (of >> 63);
        of <<= 1;
        quotient <<= 1;
        if rest >= by {
            rest -= by;
            quotient |= 1;
        }
        left -= 1;
    }
    quotient
}

/// `n / 2^fraction` as the double-precision number that errors have, for 0 to 32 fraction bits, without a product in double precision.
#[inline(never)]
pub(crate) const fn number(n: i64, fraction: u32) -> f64 {
    if n == 0 {
        return 0.0;
    }
    f64::from_bits((n as f64).to_bits() - ((fraction as u64) << 52))
}
