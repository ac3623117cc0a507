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
    /// From a constant and the coefficients of the first power up; each of these known to `rounding` of its size and `step`
    /// over two to its power.
    pub const fn new<const N: usize>(
        constant: f64,
        ascending: &[f64; N],
        (rounding, step): (f64, f64),
        range: Interval,
        per_degree: f64,
    ) -> Self {
        let mut coefficients = [constant, 0.0, 0.0, 0.0, 0.0, 0.0];
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

    /// The steepest in a piece, per degree, as a part of the unloaded gauge's resistance: it is one plus or less the curve
    /// times `product`.
    const fn steepest_part(&self, piece: Interval, product: f64) -> f64 {
        let size = self.polynomial.mean_value_form(piece).magnitude() + self.slack_in(piece);
        let unloaded = 1.0 - product * size;
        if unloaded <= 0.0 { f64::INFINITY } else { self.steepest(piece) / unloaded }
    }

    /// The slack, which is that of the declared range, beyond it.
    const fn slack_in(&self, piece: Interval) -> f64 {
        let size = piece.magnitude();
        if size <= 1.0 { self.slack } else { self.slack * size * size * size * size * size }
    }
}

/// The largest change of `(y - thermal) / (1 + change)` when the temperature is off by `off_by` degrees and the quotient
/// is within `reach` either way; with a second thermal output whose temperature may be off as much. With the product the
/// quotient is over `1 + product thermal` too, and `product` is the gauge factor where `change` is zero; zero without.
pub(super) const fn error_of_temperature(
    off_by: f64,
    thermal: &Curve,
    change: &Curve,
    second: Option<&Curve>,
    product: f64,
    reach: f64,
) -> f64 {
    let off_by = off_by.abs();
    // By how much a degree changes strain, and by which share of itself.
    let (mut steepest, mut steepest_share, mut smallest_factor) = (0.0, 0.0, f64::INFINITY);
    let mut i = 0;
    while i < PIECES {
        let piece = change.piece(i, off_by);
        let factor = 1.0 + change.polynomial.mean_value_form(piece).low - change.slack_in(piece);
        let thermal = thermal.steepest_part(piece, product);
        let share = change.steepest(piece) / factor + product * thermal;
        // Written so that a NaN stays one.
        let slope = thermal / factor + reach * share;
        steepest = if slope <= steepest { steepest } else { slope };
        steepest_share = if share <= steepest_share { steepest_share } else { share };
        smallest_factor = if factor >= smallest_factor { smallest_factor } else { factor };
        i += 1;
    }
    let mut second_steepest = 0.0;
    if let Some(second) = second {
        i = 0;
        while i < PIECES {
            let slope = second.steepest_part(second.piece(i, off_by), product);
            second_steepest = if slope <= second_steepest { second_steepest } else { slope };
            i += 1;
        }
        steepest_share += product * second_steepest;
        second_steepest = second_steepest / smallest_factor + reach * (product * second_steepest);
    }
    // On the way strain can leave its reach, and its share grows with it: exp(z) - 1 is within z (1 + z) up to one.
    let growth = steepest_share * off_by;
    if growth > 1.0 || smallest_factor <= 0.0 {
        return f64::INFINITY;
    }
    // Outwards by more than these few operations round.
    (steepest + second_steepest) * off_by * (1.0 + growth) * (1.0 + 1e-12)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// A variable of -1 to 1, one to a degree.
    fn curve(ascending: [f64; 3]) -> Curve {
        Curve::new(0.0, &ascending, (0.0, 0.0), Interval::new(-1.0, 1.0), 1.0)
    }

    /// Straight curves, whose change is exact in binary: never less, and not more by what rounding outwards is worth.
    #[test]
    fn straight_curves_are_exact_and_outwards() {
        let (flat, half) = (curve([0.0; 3]), curve([0.5, 0.0, 0.0]));
        let outwards = |bound: f64, exact: f64| bound > exact && bound < exact * (1.0 + 1e-11);
        assert!(error_of_temperature(1.0, &flat, &flat, None, 0.0, 3.0) < 1e-300);
        for off_by in [0.25, -0.25] {
            assert!(outwards(error_of_temperature(off_by, &half, &flat, None, 0.0, 3.0), 0.125));
            assert!(outwards(error_of_temperature(off_by, &flat, &flat, Some(&half), 0.0, 3.0), 0.125));
            assert!(outwards(error_of_temperature(off_by, &half, &flat, Some(&half), 0.0, 3.0), 0.25));
        }
    }

    /// A factor of 1 - x / 4: smallest at 1 and what the temperature is off, where each slope counts most.
    #[test]
    fn a_factor_divides_what_is_added() {
        let (flat, half, factor) = (curve([0.0; 3]), curve([0.5, 0.0, 0.0]), curve([-0.25, 0.0, 0.0]));
        let off_by = 0.25;
        let smallest = 1.0 - 1.25 / 4.0;
        let share = 0.25 / smallest;
        let growth = 1.0 + share * off_by;
        for (thermal, second, reach, slopes) in [
            (&flat, None, 3.0, 3.0 * share),
            (&half, None, 0.0, 0.5 / smallest),
            (&half, Some(&half), 3.0, 1.0 / smallest + 3.0 * share),
        ] {
            let bound = error_of_temperature(off_by, thermal, &factor, second, 0.0, reach);
            assert!((bound / (slopes * off_by * growth) - 1.0).abs() < 1e-10, "{bound}");
        }
        // What rounding leaves open of the factor makes it smaller, and steeper.
        let open = Curve::new(0.0, &[-0.25], (0.0, 0.01), Interval::new(-1.0, 1.0), 1.0);
        let slack = 0.01 * 1.25f64.powi(5);
        let share = (0.25 + slack) / (smallest - slack);
        let bound = error_of_temperature(off_by, &flat, &open, None, 0.0, 3.0);
        assert!((bound / (3.0 * share * off_by * (1.0 + share * off_by)) - 1.0).abs() < 1e-10, "{bound}");
    }

    /// A factor that ends within one piece, so that the pieces beside it see little of it; and one that only grows beyond
    /// what the bound is proven for.
    #[test]
    fn no_bound_where_the_factor_ends() {
        let flat = curve([0.0; 3]);
        let ends = curve([0.0, 0.0, -0.995]);
        assert!(error_of_temperature(1e-4, &flat, &ends, None, 0.0, 1.0).is_finite());
        assert_eq!(error_of_temperature(0.01, &flat, &ends, None, 0.0, 1.0), f64::INFINITY);
        let falls = curve([-0.5, 0.0, 0.0]);
        assert!(error_of_temperature(0.3, &flat, &falls, None, 0.0, 1.0).is_finite());
        assert_eq!(error_of_temperature(0.5, &flat, &falls, None, 0.0, 1.0), f64::INFINITY);
    }

    /// A slope that is no number leaves no bound, whichever curve has it.
    #[test]
    fn no_number_stays_none() {
        let (flat, none) = (curve([0.0; 3]), curve([f64::NAN, 0.0, 0.0]));
        assert!(error_of_temperature(0.1, &none, &flat, None, 0.0, 1.0).is_nan());
        assert!(error_of_temperature(0.1, &flat, &none, None, 0.0, 1.0).is_nan());
        assert!(error_of_temperature(0.1, &flat, &flat, Some(&none), 0.0, 1.0).is_nan());
        assert!(error_of_temperature(f64::NAN, &flat, &flat, None, 0.0, 1.0).is_nan());
    }

    /// What rounding of constants leaves open of a slope, in the declared range and to the fifth power beyond.
    #[test]
    fn slack_of_constants() {
        let range = Interval::new(-1.0, 1.0);
        let curve = |rounding| Curve::new(0.0, &[0.5, -0.25, 0.125], rounding, range, 3.0);
        assert_eq!(curve((0.0, 0.0)).slack, 0.0);
        assert_eq!(curve((1e-3, 0.0)).slack, 1e-3 * (0.5 + 2.0 * 0.25 + 3.0 * 0.125));
        assert_eq!(curve((0.0, 1.0)).slack, 1.0 + 2.0 / 2.0 + 3.0 / 4.0);
        let open = Curve::new(0.0, &[0.0], (0.0, 1.0), range, 3.0);
        assert_eq!(open.slack_in(Interval::new(-1.0, 0.5)), 1.0);
        assert_eq!(open.slack_in(Interval::new(-2.0, 0.5)), 32.0);
        // Per degree, of which the variable has three here.
        assert_eq!(open.steepest(Interval::new(-2.0, 0.5)), 96.0);
        // Wider by what the temperature may be off.
        let (first, last) = (open.piece(0, 2.0), open.piece(PIECES - 1, 2.0));
        assert_abs_diff_eq!(first.low, -7.0, epsilon = 1e-9);
        assert_abs_diff_eq!(last.high, 7.0, epsilon = 1e-9);
        assert!(first.low < -7.0 && last.high > 7.0 && (first.high - first.low - 14.0 / 32.0).abs() < 1e-9);
    }
}
