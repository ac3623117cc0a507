//! The one primitive of the fixed-point kernels: the high word of a product.

use crate::sample::Flags;

/// `floor(a b / 2^32)`, for any two numbers.
#[inline(always)]
pub(crate) const fn mul(a: i32, b: i32) -> i32 {
    if SHORT_PRODUCTS { mul_by_halves(a, b) } else { ((a as i64 * b as i64) >> 32) as i32 }
}

/// A core with no long multiply would call a library routine for a 64-bit product. Cortex-M0 is known by
/// being the one Arm target without compare-and-swap; Cortex-M23 has to be named by the feature.
const SHORT_PRODUCTS: bool =
    cfg!(any(feature = "short-products", all(target_arch = "arm", not(target_has_atomic = "32"))));

/// [`mul`] from four products of 16 bits.
#[inline(always)]
const fn mul_by_halves(a: i32, b: i32) -> i32 {
    let (a_high, a_low) = (a >> 16, a & 0xffff);
    let (b_high, b_low) = (b >> 16, b & 0xffff);
    let low = a_low.wrapping_mul(b_low) as u32;
    // |a_high b_low| < 2^31 and the carry is below 2^16: the sum stays inside i32.
    let middle = a_high.wrapping_mul(b_low).wrapping_add((low >> 16) as i32);
    let other = a_low.wrapping_mul(b_high).wrapping_add(middle & 0xffff);
    a_high.wrapping_mul(b_high).wrapping_add(middle >> 16).wrapping_add(other >> 16)
}

/// [`mul_by_halves`] for numbers from -2^30 to 2^30 - 1: the two middle products have room for each other.
#[inline(always)]
const fn mul_small_by_halves(a: i32, b: i32) -> i32 {
    let (a_high, a_low) = (a >> 16, a & 0xffff);
    let (b_high, b_low) = (b >> 16, b & 0xffff);
    let low = a_low.wrapping_mul(b_low) as u32;
    // Each is at most 2^30 - 2^14 in magnitude, and the carry is below 2^16.
    let middle = a_high.wrapping_mul(b_low).wrapping_add(a_low.wrapping_mul(b_high));
    let middle = middle.wrapping_add((low >> 16) as i32);
    a_high.wrapping_mul(b_high).wrapping_add(middle >> 16)
}

/// [`mul_by_halves`] for any `a` and a `b` from -2^30 to 2^30 - 1: with a low half of `b` that has a sign, the two middle products have room
/// for each other too.
#[inline(always)]
const fn mul_mixed_by_halves(a: i32, b: i32) -> i32 {
    let (a_high, a_low) = (a >> 16, a & 0xffff);
    let b_low = b as i16 as i32;
    let b_high = b.wrapping_sub(b_low) >> 16;
    // |a_high b_low| <= 2^30, |a_low b_high| <= 2^30 - 2^14; where both are near their ends with one sign, that of `low` is the other one.
    let low = a_low.wrapping_mul(b_low) >> 16;
    let middle = a_high.wrapping_mul(b_low).wrapping_add(a_low.wrapping_mul(b_high)).wrapping_add(low);
    a_high.wrapping_mul(b_high).wrapping_add(middle >> 16)
}

/// Whether [`mla_mixed`] takes a number as its `b`.
#[inline(always)]
pub(crate) const fn is_mixed(b: i32) -> bool {
    !SHORT_PRODUCTS || b << 1 >> 1 == b
}

/// [`mla`] where `b` lies between -2^30 and 2^30 - 1, and `a` is any number. Fewer instructions where products are short, the same
/// elsewhere.
#[inline(always)]
pub(crate) const fn mla_mixed(a: i32, b: i32, c: i32) -> i32 {
    if SHORT_PRODUCTS { mul_mixed_by_halves(a, b).wrapping_add(c) } else { mla(a, b, c) }
}

/// `floor(a a / 2^32)` of a number from -2^30 to 2^30 - 1, from its halves. The middle product counts twice: it is shifted by one less
/// instead.
#[inline(always)]
const fn square_of_halves(high: i32, low: i32) -> i32 {
    let middle = high.wrapping_mul(low).wrapping_add((low.wrapping_mul(low) as u32 >> 17) as i32);
    high.wrapping_mul(high).wrapping_add(middle >> 15)
}

/// [`square_of_halves`], of the halves that [`mul_mixed_by_halves`] takes of its `b`.
#[inline(always)]
const fn square_by_halves(a: i32) -> i32 {
    let low = a as i16 as i32;
    square_of_halves(a.wrapping_sub(low) >> 16, low)
}

/// `a + floor(a a / 2^32)` of a number from -2^30 to 2^30 - 1.
#[inline(always)]
pub(crate) const fn with_square(a: i32) -> i32 {
    if SHORT_PRODUCTS { square_of_halves(a >> 16, a & 0xffff).wrapping_add(a) } else { mla(a, a, a) }
}

/// [`mla`] where `a` and `b` lie between -2^30 and 2^30 - 1: the parts of a divisor, which are an eighth at most
/// (2^29), and their powers. Fewer instructions where products are short, the same elsewhere.
#[inline(always)]
pub(crate) const fn mla_small(a: i32, b: i32, c: i32) -> i32 {
    if SHORT_PRODUCTS { mul_small_by_halves(a, b).wrapping_add(c) } else { mla(a, b, c) }
}

/// `floor(a b / 2^32) + c`.
#[inline(always)]
pub(crate) const fn mla(a: i32, b: i32, c: i32) -> i32 {
    mul(a, b).wrapping_add(c)
}

/// `floor(a a / 2^32)` of a part of a divisor, and one more where the temperature's flag is raised. What is added hides from the compiler
/// that the result cannot be negative: knowing it, it takes three instructions for every product that follows.
#[inline(always)]
pub(crate) const fn square(a: i32, flags: Flags) -> i32 {
    if SHORT_PRODUCTS { square_by_halves(a).wrapping_add(flags.word()) } else { mla(a, a, flags.word()) }
}

/// Flags that are known to be clear, for [`square`]. Where a product of a signed and an unsigned number is one instruction, and where
/// products are short, the compiler may know it too.
#[inline(always)]
pub(crate) const fn unraised(flags: Flags) -> Flags {
    if SHORT_PRODUCTS || cfg!(target_arch = "riscv32") { Flags::CLEAR } else { flags }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_products_give_the_long_product_bit_for_bit() {
        let edges = [
            i32::MIN,
            i32::MIN + 1,
            i32::MIN + 0x7fff,
            i32::MIN + 0x8000,
            i32::MIN + 0xffff,
            i32::MIN + 0x10000,
            i32::MAX - 0x7fff,
            i32::MAX - 0x8000,
            i32::MAX - 0xffff,
            i32::MAX - 0x10000,
            i32::MAX - 0x1ffff,
            -65_537,
            -65_536,
            -65_535,
            -32_769,
            -32_768,
            -32_767,
            -1,
            0,
            1,
            2,
            32_767,
            32_768,
            65_535,
            65_536,
            65_537,
            i32::MAX - 1,
            i32::MAX,
        ];
        let mut state = 1u64;
        let mut random = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (state >> 32) as i32
        };
        let check = |a: i32, b: i32| {
            let exact = ((i64::from(a) * i64::from(b)) >> 32) as i32;
            assert_eq!(mul_by_halves(a, b), exact, "{a} x {b}");
            assert_eq!(mul(a, b), exact, "{a} x {b}");
            let small = ((i64::from(a) * i64::from(b >> 1)) >> 32) as i32;
            assert_eq!(mul_mixed_by_halves(a, b >> 1), small, "{a} x {b} / 2");
            assert_eq!(mla_mixed(a, b >> 1, 5), small.wrapping_add(5), "{a} x {b} / 2");
            // Halves of all numbers are all that a small product takes.
            let (a, b) = (a >> 1, b >> 1);
            assert_eq!(square_by_halves(a), ((i64::from(a) * i64::from(a)) >> 32) as i32, "{a}");
            assert_eq!(square_of_halves(a >> 16, a & 0xffff), square_by_halves(a), "{a}");
            assert_eq!(with_square(a), a + square_by_halves(a), "{a}");
            let exact = ((i64::from(a) * i64::from(b)) >> 32) as i32;
            assert_eq!(mul_small_by_halves(a, b), exact, "{a} x {b}");
            assert_eq!(mla_small(a, b, 5), exact + 5, "{a} x {b}");
        };
        for a in edges {
            for b in edges {
                check(a, b);
            }
            for _ in 0..10_000 {
                check(a, random());
                check(random(), a);
            }
        }
        for _ in 0..1_000_000 {
            check(random(), random());
        }
    }
}
