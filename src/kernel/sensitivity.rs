//! What an error of the temperature makes of strain: the steepest that strain can be against temperature, by
//! interval arithmetic over the declared range.

use crate::numeric::{Interval, Polynomial};

/// A polynomial over a normalised temperature, as a kernel holds it.
pub(super) struct Curve {
    polynomial: Polynomial,
    slope: Polynomial,
    /// What rounding of its constants can make of its slope.
    slack: f64,
    /// The variable over the declared range, and how much of it a degree is.
    range: Interval,
    per_degree: f64,
}

/// Pieces of the range: each has its own steepest.
const PIECES: usize = 32;

impl Curve {
    /// From the coefficients of the first power up; each known to `rounding` of its size and `step` over two to
    /// its power.
    pub const fn new<const N: usize>(
        ascending: &[f64; N],
        (rounding, step): (f64, f64),
        range: Interval,
        per_degree: f64,
    ) -> Self {
        let mut coefficients = [0.0; Polynomial::TERMS];
        let mut slack = 0.0;
        let mut k = 0;
        while k < N {
            coefficients[k + 1] = ascending[k];
            // Each power's slope is that many times its coefficient; the steps are halved from one to the next.
            slack += (k + 1) as f64 * (ascending[k].abs() * rounding + step / (1u64 << k) as f64);
            k += 1;
        }
        let polynomial = Polynomial::new(coefficients);
        Self { slope: polynomial.derivative(), polynomial, slack, range, per_degree }
    }

    /// One piece of the range, widened by what the temperature may be off.
    const fn piece(&self, i: usize, off_by: f64) -> Interval {
        let margin = off_by * self.per_degree;
        let low = self.range.low - margin;
        let step = (self.range.high + margin - low) / PIECES as f64;
        Interval::new(low + step * i as f64, low + step * (i + 1) as f64).plus(Interval::around_zero(1e-12))
    }

    /// The steepest in a piece, per degree.
    const fn steepest(&self, piece: Interval) -> f64 {
        (self.slope.mean_value_form(piece).magnitude() + self.slack_in(piece)) * self.per_degree
    }

    /// The slack, which is that of the declared range, beyond it.
    const fn slack_in(&self, piece: Interval) -> f64 {
        let size = piece.magnitude();
        if size <= 1.0 { self.slack } else { self.slack * size * size * size * size * size }
    }
}

/// The largest change of `(y - thermal) / (1 + change)` when the temperature is off by `off_by` degrees and the quotient
/// is within `reach` either way; with a second thermal output whose temperature may be off as much.
pub(super) const fn error_of_temperature(
    off_by: f64,
    thermal: &Curve,
    change: &Curve,
    second: Option<&Curve>,
    reach: f64,
) -> f64 {
    let off_by = off_by.abs();
    // By how much a degree changes strain, and by which share of itself.
    let (mut steepest, mut steepest_share, mut smallest_factor) = (0.0, 0.0, f64::INFINITY);
    let mut i = 0;
    while i < PIECES {
        let piece = change.piece(i, off_by);
        let factor = 1.0 + change.polynomial.mean_value_form(piece).low - change.slack_in(piece);
        let share = change.steepest(piece) / factor;
        // Written so that a NaN stays one.
        let slope = thermal.steepest(piece) / factor + reach * share;
        steepest = if slope <= steepest { steepest } else { slope };
        steepest_share = if share <= steepest_share { steepest_share } else { share };
        smallest_factor = if factor >= smallest_factor { smallest_factor } else { factor };
        i += 1;
    }
    let mut second_steepest = 0.0;
    if let Some(second) = second {
        i = 0;
        while i < PIECES {
            let slope = second.steepest(second.piece(i, off_by)) / smallest_factor;
            second_steepest = if slope <= second_steepest { second_steepest } else { slope };
            i += 1;
        }
    }
    // On the way strain can leave its reach, and its share grows with it: exp(z) - 1 is within z (1 + z) up to one.
    let growth = steepest_share * off_by;
    if growth > 1.0 || smallest_factor <= 0.0 {
        return f64::INFINITY;
    }
    // Outwards by more than these few operations round.
    (steepest + second_steepest) * off_by * (1.0 + growth) * (1.0 + 1e-12)
}
