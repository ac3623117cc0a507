//! The uncertainty of a sample with integers only.

use crate::error::{Error, Quantity, fits};
use crate::sample::{Strain, mul, nearest};

/// As [`UncertaintyPoint`](super::UncertaintyPoint), for strain in Q34: products, one integer root, no division.
///
/// Any strain is taken. The result is **never below** that of the point it was made from, and at most 10 steps of Q34 (0.6 nanostrain) and 8
/// parts in a million above. It is proved that the root is within 5 steps of the exact one: constants are rounded to half a step,
/// products and the square of the strain down by less than one each, which is 4 steps for the length of three rows at most, and the root is
/// rounded down. So 5 steps are added. Constants are made larger by 64 times the step of one in the point's own precision: a part in
/// 131 072 where that is `f32`. That covers what `f32` leaves open (2 parts in a million, sampled), so the result is not below the
/// budget in `f64` either. Seen: 1.0 to 7.8 steps above (sampled: 40 points with 100 000 strains each; exhausted over all strains of one
/// point: 1.4 to 7.0).
///
/// ```
/// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, uncertainty::StandardUncertainties, units::*};
/// # let channel = gaugewright::example::FLAT_FINEST;
/// static KERNEL: fixed::Kernel<1, 1> = Channel::new(Gauge::new(GaugeFactor(2.0)).thermal_output(
/// #     ThermalOutput::celsius([0.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(16, Ratio(0.01))).fixed();
/// let inputs = StandardUncertainties::for_channel(channel).of_ratio(Percent(0.1)).noise(0.5);
/// let (kernel, point) = (KERNEL.at(fixed::Temperature::from_bits(20 << 20)), inputs.try_float32::<0>()?.at(Celsius(20.0))?.try_fixed()?);
/// // Every sample:
/// let reading = kernel.reading(1_600);
/// let uncertainty = point.standard(reading.strain);
/// assert!(uncertainty.nanostrain() > 900);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct FixedUncertaintyPoint {
    /// Three rows as in a triangle; `x^0` in steps, `x^1` in 2^-32, `x^2` so that the high product of the square makes
    /// steps of it.
    rows: [i32; 6],
}

/// Units of the three powers.
const UNITS: [f64; 3] = [Strain::PER_UNIT, 4_294_967_296.0, 1_073_741_824.0];
/// So many steps of one, in the precision of the point, are constants made larger.
const ROUNDINGS: f64 = 64.0;
/// The most that a power's unit makes of the largest strain, in steps.
const REACH: [f64; 3] = [1.0, 0.5, 0.25];
/// The most that an element may have of that: what an `i32` holds, and for `x^2` what keeps the error within five steps.
const LIMIT: [f64; 3] =
    [2_147_483_647.0, 1_073_741_823.5, FixedUncertaintyPoint::LARGEST_SQUARE as f64 * REACH[2]];
/// Which power each element goes with.
const POWER: [usize; 6] = [0, 1, 2, 1, 2, 2];

impl FixedUncertaintyPoint {
    /// For tests and proofs: the largest constant of `x^2`, a quarter of the square of a strain. The square that it is
    /// multiplied by is up to a step too low.
    #[doc(hidden)]
    pub const LARGEST_SQUARE: i32 = 1 << 28;

    /// For tests and proofs: what the root may be too low by, in steps, and is made larger by.
    #[doc(hidden)]
    pub const ROOT_STEPS: i32 = 5;

    /// For tests and proofs: the constants.
    #[doc(hidden)]
    pub const fn constants(&self) -> [i32; 6] {
        self.rows
    }

    /// `one` is the step of one in the precision of the rows.
    pub(super) fn of(rows: [f64; 6], one: f64) -> Result<Self, Error> {
        let units = UNITS.map(|unit| unit * (1.0 + ROUNDINGS * one));
        let scaled: [f64; 6] = core::array::from_fn(|k| rows[k] * units[POWER[k]]);
        let largest: [f64; 6] = core::array::from_fn(|k| scaled[k].abs() * REACH[POWER[k]] + 2.0);
        let [p, q, r, s, t, u] = largest;
        let sum = libm::sqrt((p + q + r) * (p + q + r) + (s + t) * (s + t) + u * u);
        // With the root's steps on either side.
        fits(Quantity::UncertaintyRow, sum, 2_147_483_647.0 - 2.0 * f64::from(Self::ROOT_STEPS))?;
        for (element, power) in scaled.into_iter().zip(POWER) {
            fits(Quantity::UncertaintyRow, element * REACH[power], LIMIT[power])?;
        }
        Ok(Self { rows: scaled.map(nearest) })
    }

    /// Combined standard uncertainty of a strain.
    ///
    /// ```
    /// use gaugewright::{fixed, uncertainty::StandardUncertainties, units::*};
    /// # let channel = gaugewright::example::FLAT_FINEST;
    /// let point = StandardUncertainties::for_channel(channel).of_thermal_output(Microstrain(3.0)).try_float64::<0>()?.at(Celsius(20.0))?.try_fixed()?;
    /// let uncertainty = point.standard(fixed::Strain::from_bits(i32::MIN));
    /// assert!((uncertainty.nanostrain() - 3_000).abs() <= 1);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    #[inline]
    pub const fn standard(&self, strain: Strain) -> Strain {
        let x = strain.to_bits();
        let square = mul(x, x);
        let [p, q, r, s, t, u] = self.rows;
        // Rows from elsewhere, as C may pass them, may be too large: then they wrap, and the root is clamped.
        let first = p.wrapping_add(mul(q, x)).wrapping_add(mul(r, square));
        let second = mul(s, x).wrapping_add(mul(t, square));
        let third = mul(u, square);
        let sum = squared(first) + squared(second) + squared(third);
        let above = sum.isqrt() as u32 + Self::ROOT_STEPS as u32;
        Strain::from_bits(if above > i32::MAX as u32 { i32::MAX } else { above as i32 })
    }
}

const fn squared(x: i32) -> u64 {
    let size = x.unsigned_abs() as u64;
    size * size
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_abs_diff_eq;

    /// Each element of the first row fits by itself; what they add up to for the largest strain does not.
    #[test]
    fn rows_have_room_for_their_sum() {
        let row = |p: f64, q: f64| FixedUncertaintyPoint::of([p, q, 0.0, 0.0, 0.0, 0.0], f64::EPSILON);
        assert!(row(0.11, 0.1).is_ok() && row(0.124, 0.0).is_ok() && row(0.0, 0.49).is_ok());
        assert!(row(0.12, 0.1).is_err());
        let square = |c: f64| FixedUncertaintyPoint::of([0.0, 0.0, c, 0.0, -c, c], f64::EPSILON);
        assert!(square(0.249_999_999).is_ok() && square(0.250_000_001).is_err());
        // The other rows count with it.
        assert!(FixedUncertaintyPoint::of([0.1, 0.0, 0.0, 0.7, 0.0, 0.0], f64::EPSILON).is_err());
        let Ok(point) = row(-0.11, -0.1) else { panic!("refused") };
        let most = point.standard(Strain::from_bits(i32::MAX)).strain().0;
        assert_abs_diff_eq!(most, 0.1225, epsilon = 1e-8);
        assert_abs_diff_eq!(point.standard(Strain::from_bits(i32::MIN)).strain().0, 0.0975, epsilon = 1e-8);
    }

    /// Rows that no point has: nothing is below zero, which would be no uncertainty.
    #[test]
    fn rows_from_elsewhere_are_clamped() {
        for rows in [[i32::MAX; 6], [i32::MIN; 6], [i32::MIN, 0, 0, i32::MIN, 0, i32::MIN]] {
            for x in [i32::MIN, -1, 0, i32::MAX] {
                assert!(FixedUncertaintyPoint { rows }.standard(Strain::from_bits(x)).to_bits() > 0);
            }
        }
        let largest = FixedUncertaintyPoint { rows: [i32::MIN, 0, 0, 0, 0, 0] };
        assert_eq!(largest.standard(Strain::from_bits(0)).to_bits(), i32::MAX);
    }
}
