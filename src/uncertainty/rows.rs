//! Rows `a + b x + c x^2` whose squares add up, reduced to three.
//!
//! The triangle of `fit` does the same for any number of terms, in loops. Three terms are written out: with those loops a
//! temperature would take 2369 instructions on a Cortex-M4F, and takes 1953; in line and by index 1979, but then a fit
//! would need 88 bytes more than its budget.

use crate::numeric::Float;

/// A triangle of rows, its elements in order of the rows: `x^0 x^1 x^2`, `x^1 x^2`, `x^2`. The sum of squares is that of
/// all rows it was made of, for every `x` (rotations of Givens keep it).
pub(super) type Triangle<T> = [T; 6];

/// Rotates one row into a triangle.
pub(super) fn add<T: Float>(triangle: &mut Triangle<T>, row: [T; 3]) {
    let [a, b, c] = row;
    let [mut p, mut q, mut r, mut s, mut t, mut u] = *triangle;
    let (b, c) = match turn(p, a) {
        None => (b, c),
        Some((radius, cosine, sine)) => {
            p = radius;
            let (kept_b, kept_c) = (cosine * q + sine * b, cosine * r + sine * c);
            let left = (cosine * b - sine * q, cosine * c - sine * r);
            (q, r) = (kept_b, kept_c);
            left
        }
    };
    let c = match turn(s, b) {
        None => c,
        Some((radius, cosine, sine)) => {
            s = radius;
            let kept = cosine * t + sine * c;
            let left = cosine * c - sine * t;
            t = kept;
            left
        }
    };
    if let Some((radius, _, _)) = turn(u, c) {
        u = radius;
    }
    *triangle = [p, q, r, s, t, u];
}

/// What turns the new element to zero; nothing where its square is nothing.
fn turn<T: Float>(kept: T, new: T) -> Option<(T, T, T)> {
    let square = new * new;
    if square == T::ZERO {
        return None;
    }
    let radius = (kept * kept + square).root();
    Some((radius, kept / radius, new / radius))
}
