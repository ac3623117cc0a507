//! One piece of a characteristic: a polynomial over a range of its argument, at most with an exponential
//! added, its slope, and its exact inverse.

use crate::numeric::exp;

/// `a0 exp(a1 (t - a2)^2)`.
#[derive(Clone, Copy)]
pub(super) struct Exponential {
    pub a0: f64,
    pub a1: f64,
    pub a2: f64,
}

impl Exponential {
    const fn at(&self, from_peak: f64) -> f64 {
        self.a0 * exp(self.a1 * from_peak * from_peak)
    }
}

/// A rising function between two arguments.
#[derive(Clone, Copy)]
pub(super) struct Segment<'a> {
    pub low: f64,
    pub high: f64,
    /// In ascending powers.
    pub coefficients: &'a [f64],
    pub exponential: Option<Exponential>,
}

impl Segment<'_> {
    /// Rounds after which the search ends in any case. The tests count them: fourteen are the most that a
    /// thermocouple takes to get down to the rounding of the function itself.
    const ROUNDS: u32 = 60;

    /// Value and derivative.
    pub const fn value_and_slope(&self, t: f64) -> (f64, f64) {
        let mut value = 0.0;
        let mut slope = 0.0;
        let mut terms = self.coefficients;
        while let [lower @ .., highest] = terms {
            slope = slope * t + value;
            value = value * t + *highest;
            terms = lower;
        }
        if let Some(exponential) = self.exponential {
            let from_peak = t - exponential.a2;
            let added = exponential.at(from_peak);
            value += added;
            slope += added * 2.0 * exponential.a1 * from_peak;
        }
        (value, slope)
    }

    /// The value alone, which is all that half of a compilation needs.
    pub const fn at(&self, t: f64) -> f64 {
        let mut value = 0.0;
        let mut terms = self.coefficients;
        while let [lower @ .., highest] = terms {
            value = value * t + *highest;
            terms = lower;
        }
        match self.exponential {
            Some(exponential) => value + exponential.at(t - exponential.a2),
            None => value,
        }
    }

    /// The argument at which the function has a value, or the nearer end where it does not have it. Newton's
    /// steps, inside a bracket that every step narrows: one that leaves it is replaced by bisection. Whoever has an argument that
    /// is `near` saves two thirds of the steps.
    pub const fn argument_of(&self, value: f64, near: Option<f64>) -> f64 {
        self.search(value, near).0
    }

    /// The argument, and the rounds that it took.
    const fn search(&self, value: f64, near: Option<f64>) -> (f64, u32) {
        let (mut low, mut high) = (self.low, self.high);
        let mut t = match near {
            Some(near) if near > low && near < high => near,
            _ => {
                let (at_low, at_high) = (self.at(low), self.at(high));
                if value <= at_low {
                    return (low, 0);
                }
                if value >= at_high {
                    return (high, 0);
                }
                low + (high - low) * ((value - at_low) / (at_high - at_low))
            }
        };
        let mut rounds = 0;
        let small = (high - low) * 1e-9;
        let mut last_step = small;
        while rounds < Self::ROUNDS {
            let (here, slope) = self.value_and_slope(t);
            let miss = here - value;
            if miss == 0.0 {
                break;
            }
            if miss > 0.0 {
                high = t;
            } else {
                low = t;
            }
            let step = miss / slope;
            let next = t - step;
            rounds += 1;
            // A step of the last place, which for temperatures near zero is that of one degree.
            let smallest = f64::EPSILON * if t.abs() > 1.0 { t.abs() } else { 1.0 };
            if step.abs() <= smallest {
                // Not over the edge of the range by its rounding.
                t = if next >= self.low && next <= self.high { next } else { t };
                break;
            }
            if step.abs() < small {
                // What is left after such a step goes with its square.
                if near.is_some() && next > low && next < high {
                    t = next;
                    break;
                }
                // Small steps shrink fast until they are the rounding of the function, and then do not
                // shrink.
                if step.abs() >= last_step {
                    break;
                }
                last_step = step.abs();
            }
            t = if next > low && next < high { next } else { low + (high - low) * 0.5 };
        }
        (t, rounds)
    }
}

#[cfg(test)]
mod tests {
    use super::super::thermocouple::Thermocouple;
    use super::*;
    use approx::assert_abs_diff_eq;

    #[test]
    fn the_search_ends_soon_and_with_the_value() {
        let mut most = 0;
        for couple in Thermocouple::ALL {
            for segment in couple.segments() {
                let low = segment.low.max(couple.invertible_range().0.0);
                let segment = Segment { low, ..*segment };
                let (bottom, top) = (segment.at(low), segment.at(segment.high));
                for i in 0..=20_000 {
                    let value = bottom + (top - bottom) * f64::from(i) / 20_000.0;
                    let (t, rounds) = segment.search(value, None);
                    most = most.max(rounds);
                    // The rounding of the function goes with what its terms add up to if nothing cancels.
                    let size = segment.coefficients.iter().rev().fold(0.0, |sum, c| sum * t.abs() + c.abs());
                    let miss = (segment.at(t) - value).abs();
                    assert!(miss <= 4.0 * f64::EPSILON * size, "{couple:?} {value}: {miss} of {size}");
                    // From nearby, beyond the ends of the piece too.
                    for off_by in [-0.02, 0.02] {
                        let (again, _) = segment.search(value, Some(t + off_by));
                        let near = 1e-12 * (segment.high - low) * segment.value_and_slope(t).1;
                        assert_abs_diff_eq!(
                            segment.at(again),
                            value,
                            epsilon = near + 4.0 * f64::EPSILON * size
                        );
                    }
                }
            }
        }
        assert!((5..=14).contains(&most), "{most}");
    }

    #[test]
    fn beyond_its_values_it_gives_the_nearer_end() {
        let line = Segment { low: -1.0, high: 3.0, coefficients: &[5.0, 2.0], exponential: None };
        assert_eq!(line.argument_of(-100.0, None), -1.0);
        assert_eq!(line.argument_of(100.0, None), 3.0);
        assert_eq!(line.argument_of(7.0, None), 1.0);
        // A slope of zero at the low end: the bracket keeps Newton's steps inside.
        let parabola = Segment { low: 0.0, high: 3.0, coefficients: &[0.0, 0.0, 1.0], exponential: None };
        assert_abs_diff_eq!(parabola.argument_of(2.0, None), core::f64::consts::SQRT_2, epsilon = 1e-15);
        assert_abs_diff_eq!(parabola.argument_of(1e-12, None), 1e-6, epsilon = 1e-15);
    }
}
