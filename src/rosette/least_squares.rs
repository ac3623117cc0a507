//! From what grids show of a state of strain to the state.

use crate::error::{Error, Field, try_const};

/// The components in the order in which they are made independent of each other: for grids that are spread evenly they are so as
/// they stand, so that next to nothing is rounded. Two grids give no shear.
const ORDER: [usize; 3] = [1, 2, 0];
const ORDER_OF_TWO: [usize; 2] = [1, 0];

/// Mean, half difference and half shear, each from the grids: rows whose products with what the grids show come closest to it, as
/// the sum of squares. Those of three grids give it exactly. A component that the grids do not see has no row, and two grids give no
/// shear: zero.
pub(super) const fn least_squares<const N: usize>(grids: &[[f64; 3]; N]) -> Result<[[f64; N]; 3], Error> {
    let rows = if N == 3 { inverse(grids) } else { pseudo_inverse(grids) };
    let mut row = 0;
    while row < 3 {
        let mut gain = 0.0;
        let mut k = 0;
        while k < N {
            gain += rows[row][k].abs();
            k += 1;
        }
        // Nothing over nothing, where the grids do not see the component at all.
        try_const!(Field::RosetteGain.check(if gain.is_nan() { f64::INFINITY } else { gain }));
        row += 1;
    }
    Ok(rows)
}

/// By cofactors: of nine numbers the shortest way, and the one with the fewest roundings.
const fn inverse<const N: usize>(grids: &[[f64; 3]; N]) -> [[f64; N]; 3] {
    let cofactors = [cross(&grids[1], &grids[2]), cross(&grids[2], &grids[0]), cross(&grids[0], &grids[1])];
    let determinant =
        grids[0][0] * cofactors[0][0] + (grids[0][1] * cofactors[0][1] + grids[0][2] * cofactors[0][2]);
    let mut rows = [[0.0; N]; 3];
    let mut k = 0;
    while k < 3 * N {
        rows[k / N][k % N] = cofactors[k % N][k / N] / determinant;
        k += 1;
    }
    rows
}

const fn cross(a: &[f64; 3], b: &[f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// By the Gram-Schmidt process on the columns, in its modified form and without square roots: it loses no more digits than the
/// problem does, where sums of squares would lose twice as many.
const fn pseudo_inverse<const N: usize>(grids: &[[f64; 3]; N]) -> [[f64; N]; 3] {
    let order: &[usize] = if N == 2 { &ORDER_OF_TWO } else { &ORDER };
    // Columns at right angles to those before, and how much of those was in them.
    let mut apart = [[0.0; N]; 3];
    let mut shares = [[0.0; 3]; 3];
    let mut i = 0;
    while i < order.len() {
        let mut k = 0;
        while k < N {
            apart[i][k] = grids[k][order[i]];
            k += 1;
        }
        let mut j = 0;
        while j < i {
            shares[j][i] = dot(&apart[j], &apart[i]) / dot(&apart[j], &apart[j]);
            apart[i] = less(&apart[i], shares[j][i], &apart[j]);
            j += 1;
        }
        i += 1;
    }
    let mut rows = [[0.0; N]; 3];
    while i > 0 {
        i -= 1;
        let square = dot(&apart[i], &apart[i]);
        let mut row = [0.0; N];
        let mut k = 0;
        while k < N {
            row[k] = apart[i][k] / square;
            k += 1;
        }
        let mut j = i + 1;
        while j < order.len() {
            row = less(&row, shares[i][j], &rows[order[j]]);
            j += 1;
        }
        rows[order[i]] = row;
    }
    rows
}

const fn dot<const N: usize>(one: &[f64; N], other: &[f64; N]) -> f64 {
    let mut sum = 0.0;
    let mut k = 0;
    while k < N {
        sum += one[k] * other[k];
        k += 1;
    }
    sum
}

const fn less<const N: usize>(one: &[f64; N], share: f64, other: &[f64; N]) -> [f64; N] {
    let mut left = *one;
    let mut k = 0;
    while k < N {
        left[k] -= share * other[k];
        k += 1;
    }
    left
}
