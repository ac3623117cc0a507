//! The triangular factor of a least-squares problem, kept up to date one row at a time.
//!
//! Each new row is rotated into the triangle, one element after the other (Givens). The triangle stays what an orthogonal
//! factorization of all rows together would have given, so its condition is that of the rows and not their square,
//! as it would be with the normal equations.

use crate::numeric::Float;

#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub(crate) struct Triangle<T, const TERMS: usize> {
    /// Row by row; zero left of the diagonal.
    pub rows: [[T; TERMS]; TERMS],
    /// The right-hand side, rotated with the rows.
    pub right: [T; TERMS],
    /// What is left of the right-hand side beyond the triangle, squared and summed: the residuals of all terms.
    /// In `f64`, as a long run adds small squares to a large sum.
    pub left_over: f64,
}

impl<T: Float, const TERMS: usize> Triangle<T, TERMS> {
    pub const EMPTY: Self = Self { rows: [[T::ZERO; TERMS]; TERMS], right: [T::ZERO; TERMS], left_over: 0.0 };

    /// Takes in one row with its right-hand side.
    pub fn add(&mut self, mut row: [T; TERMS], mut right: T) {
        for i in 0..TERMS {
            let (diagonal, new) = (self.rows[i][i], row[i]);
            // Nothing to rotate, or so little beside the row's constant that its square is nothing: with an empty row of the
            // triangle the radius would be zero.
            if new * new == T::ZERO {
                continue;
            }
            let radius = (diagonal * diagonal + new * new).root();
            let (cosine, sine, tangent) = (diagonal / radius, new / radius, new / (radius + diagonal));
            // With the tangent of half of the angle, a rotation is a correction of what is there. A small one, as most are, rounds
            // only what it adds: half a digit more is left. In `f32`, which has none to spare at any rate, it would cost a
            // tenth of the instructions of a point.
            let precise = T::STEP < 1e-10;
            let turned = |kept: T, new: T| {
                if precise {
                    (kept + sine * (new - tangent * kept), new - sine * (kept + tangent * new))
                } else {
                    (cosine * kept + sine * new, cosine * new - sine * kept)
                }
            };
            self.rows[i][i] = if precise { diagonal + new * tangent } else { radius };
            for (kept, new) in self.rows[i].iter_mut().zip(&mut row).skip(i + 1) {
                (*kept, *new) = turned(*kept, *new);
            }
            (self.right[i], right) = turned(self.right[i], right);
        }
        self.left_over += right.wide() * right.wide();
    }

    /// As if all rows of the other had been added.
    pub fn join(&mut self, other: &Self) {
        for (row, right) in other.rows.iter().zip(other.right) {
            self.add(*row, right);
        }
        self.left_over += other.left_over;
    }

    pub fn wide(&self) -> Triangle<f64, TERMS> {
        Triangle {
            rows: self.rows.map(|row| row.map(T::wide)),
            right: self.right.map(T::wide),
            left_over: self.left_over,
        }
    }
}

impl<const TERMS: usize> Triangle<f64, TERMS> {
    /// The residuals' sum of squares if only this many terms are fitted.
    pub fn residual_squares(&self, terms: usize) -> f64 {
        self.right[terms..].iter().rev().fold(self.left_over, |sum, z| sum + z * z)
    }

    /// The share of a column that the columns before it do not explain, from 0 to 1.
    pub fn independence(&self, column: usize) -> f64 {
        let squares: f64 = self.rows[..=column].iter().map(|row| row[column] * row[column]).sum();
        if squares > 0.0 { self.rows[column][column] / libm::sqrt(squares) } else { 0.0 }
    }

    /// The coefficients of the first terms, zero beyond.
    pub fn solve(&self, terms: usize) -> [f64; TERMS] {
        let mut solution = [0.0; TERMS];
        for i in (0..terms).rev() {
            let known: f64 = (i + 1..terms).map(|j| self.rows[i][j] * solution[j]).sum();
            solution[i] = (self.right[i] - known) / self.rows[i][i];
        }
        solution
    }

    /// `v` with `R^T v = weights`: the variance of the weighted sum of coefficients is the square of its length, for a
    /// variance of one in each row.
    pub fn spread(&self, weights: &[f64; TERMS], terms: usize) -> [f64; TERMS] {
        let mut v = [0.0; TERMS];
        for i in 0..terms {
            let known: f64 = (0..i).map(|k| self.rows[k][i] * v[k]).sum();
            v[i] = (weights[i] - known) / self.rows[i][i];
        }
        v
    }
}
