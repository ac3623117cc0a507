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
    mla_small(a, a, flags.word())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn short_products_give_the_long_product_bit_for_bit() {
        let edges = [
            i32::MIN,
            i32::MIN + 1,
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
            // Halves of all numbers are all that a small product takes.
            let (a, b) = (a >> 1, b >> 1);
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
