//! The split path of a circuit that is linear: a product for a sample, and no check but that of the code.

use super::point::OperatingPoint;
use super::{Reading, Strain, VECTORS};
use crate::error::Error;
use crate::kernel::block::{correct, correct_clear, fill, mark, without_marks};
use crate::sample::{
    Flags, InputRange, code_flags, is_mixed, mla, mla_mixed, same_length, scale, square, with_square,
};

/// One temperature of a channel whose bridge is linear: the bits and flags of its [`OperatingPoint`], for half the
/// instructions.
///
/// Linear are full bridges in which every gauge has one of the opposite sign beside it and the balance is zero (any
/// other balance is a difference of arms, which bends the curve by a trace), and instruments that show strain. As
/// strain then rises or falls with the code all the way, the declared strain is a range of codes: it is searched for
/// once, and for a sample one comparison sees everything that can be out of range. The search pays
/// where a temperature stays for twenty (Cortex-M0) to sixty-five samples (M4).
///
/// The error is bounded by that of the point, [`ErrorBound::point`](crate::kernel::ErrorBound).
///
/// ```
/// use gaugewright::{example::LINEAR as CHANNEL, fixed};
/// static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// let point = KERNEL.at(fixed::Temperature::from_bits(35 << 20)); // on each temperature update
/// let linear = point.linear().expect("a full bending bridge is linear");
/// assert_eq!(linear.reading(123_456), point.reading(123_456));    // every sample
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct LinearPoint {
    pub(crate) gain: i32,
    pub(crate) code_scale: u32,
    pub(crate) codes: InputRange,
    pub(crate) bits: u32,
    /// Flags of every reading in `clear`.
    pub(crate) flags: Flags,
    /// `d` of a code is its offset in `clear` times `code_scale`, plus this.
    pub(crate) offset: i32,
    /// Codes whose readings have no flag but that of the temperature; the whole window if there are none.
    pub(crate) clear: InputRange,
    pub(crate) thermal: i32,
}

impl OperatingPoint {
    /// The same point for a bridge that is linear: fewer instructions a sample. `None` if the bridge is not.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Gauge, ThermalOutput, fixed, units::*};
    /// # const GAUGE: Gauge = Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0)));
    /// const CONVERTER: Converter = Converter::bipolar(24, Ratio(0.01));
    /// static FULL: fixed::Kernel = Channel::new(GAUGE, Bridge::full_bending(Ohms(120.0)), CONVERTER).fixed();
    /// static QUARTER: fixed::Kernel = Channel::new(GAUGE, Bridge::quarter_ideal(Ohms(120.0)), CONVERTER).fixed();
    /// let t = fixed::Temperature::from_bits(35 << 20);
    /// assert!(FULL.at(t).linear().is_some());
    /// assert!(QUARTER.at(t).linear().is_none());
    /// ```
    #[must_use]
    pub const fn linear(&self) -> Option<LinearPoint> {
        if self.curvature != 0 {
            return None;
        }
        // What the point's path makes of a gain where p is zero: a step less of a negative one if a flag is raised.
        let raised = square(0, self.flags);
        let mut linear = LinearPoint {
            clear: self.codes,
            code_scale: self.code_scale,
            offset: 0,
            gain: mla(self.gain, with_square(raised), self.gain),
            thermal: self.thermal,
            flags: self.flags,
            bits: self.bits,
            codes: self.codes,
        };
        // Strains are at least two steps away from the ends of an `i32`: so are their negatives.
        let low = linear.codes_up_to(self.strain_limit.wrapping_neg().wrapping_sub(1));
        let high = linear.codes_up_to(self.strain_limit);
        // (In a point of any bytes the second may be the smaller.)
        if low == high {
            linear.flags = self.flags.union(Flags::STRAIN_OUTSIDE);
        } else {
            let first = linear.codes.low().wrapping_add(low as i32);
            let last = linear.codes.low().wrapping_add(high.wrapping_sub(1) as i32);
            linear.clear = InputRange::new(first, last);
            linear.offset = scale(low as i32, self.code_scale);
        }
        Some(linear)
    }
}

impl LinearPoint {
    /// Strain for a code at the temperature of the point.
    ///
    /// ```
    /// use gaugewright::{Bridge, Channel, Converter, Flags, Gauge, ThermalOutput, fixed, units::*};
    /// # const CHANNEL: Channel = Channel::new(Gauge::new(GaugeFactor(2.1)).thermal_output(
    /// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
    /// #     Bridge::full_bending(Ohms(120.0)), Converter::bipolar(24, Ratio(0.01)))
    /// #     .strain_within(Microstrain(1_000.0));
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let linear = KERNEL.at(fixed::Temperature::from_bits(24 << 20)).linear().unwrap();
    /// assert!(linear.reading(100_000).flags.is_clear());
    /// assert_eq!(linear.reading(4_000_000).flags, Flags::STRAIN_OUTSIDE);
    /// assert_eq!(linear.reading(i32::MIN).flags, Flags::CODE_AT_RAIL);
    /// ```
    #[inline]
    pub const fn reading(&self, code: i32) -> Reading {
        let code_offset = self.clear.offset(code);
        if !self.clear.contains(code_offset) {
            return self.reading_outside(code);
        }
        Reading { strain: Strain::from_bits(self.strain_clear(code_offset)), flags: self.flags }
    }

    /// A block of samples at the temperature of the point: the same bits as one call of
    /// [`reading`](Self::reading) each.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if the slices differ in length; nothing is written then.
    ///
    /// ```
    /// use gaugewright::{example::LINEAR as CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let linear = KERNEL.at(fixed::Temperature::from_bits(24 << 20)).linear().unwrap();
    /// let mut readings = [linear.reading(0); 2];
    /// linear.readings(&[5, 6], &mut readings)?;
    /// assert_eq!(readings[1], linear.reading(6));
    /// assert!(linear.readings(&[5, 6, 7], &mut readings).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn readings(&self, codes: &[i32], readings: &mut [Reading]) -> Result<(), Error> {
        same_length(codes.len(), readings.len())?;
        let inside = |code: i32, _| {
            let code_offset = self.clear.offset(code);
            (Strain::from_bits(self.strain_clear(code_offset)), !self.clear.contains(code_offset))
        };
        let any = |c, _| self.reading(c);
        fill(VECTORS, (codes, codes), readings, self.flags, inside, any);
        Ok(())
    }

    /// A block of codes in its place, as [`OperatingPoint::correct`].
    ///
    /// ```
    /// use gaugewright::{Flags, example::LINEAR as CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let linear = KERNEL.at(fixed::Temperature::from_bits(24 << 20)).linear().unwrap();
    /// let mut block = [5, 6];
    /// assert_eq!(linear.correct(&mut block, |_, _| unreachable!()), Flags::CLEAR);
    /// assert_eq!(block[1], linear.reading(6).strain.to_bits());
    /// ```
    pub fn correct(&self, block: &mut [i32], flagged: impl FnMut(usize, Flags)) -> Flags {
        correct(block, |rest| self.correct_clear(rest), |code| self.reading_of_block(code), flagged)
    }

    /// A block of codes in its place, as [`OperatingPoint::correct_marked`].
    ///
    /// # Errors
    /// [`Error::BlockLength`] if `marks` has not just one word for each 32 samples or part of them; nothing is written then.
    ///
    /// ```
    /// use gaugewright::{Flags, example::LINEAR as CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let linear = KERNEL.at(fixed::Temperature::from_bits(24 << 20)).linear().unwrap();
    /// let (mut block, mut marks) = ([i32::MIN, 6], [0]);
    /// assert_eq!(linear.correct_marked(&mut block, &mut marks)?, Flags::CODE_AT_RAIL);
    /// assert_eq!(marks, [0b01]);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn correct_marked(&self, block: &mut [i32], marks: &mut [u32]) -> Result<Flags, Error> {
        without_marks(block.len(), marks)?;
        Ok(self.correct(block, |sample, _| mark(marks, sample)))
    }

    #[inline(never)]
    fn correct_clear(&self, block: &mut [i32]) -> usize {
        // Where products are short, a gain that has no room for their shorter form goes the way of flagged samples.
        if !self.flags.is_clear() || !is_mixed(self.gain) {
            return block.len();
        }
        let point = *self;
        correct_clear(block, |code| {
            let code_offset = point.clear.offset(code);
            let d = scale(code_offset, point.code_scale).wrapping_add(point.offset);
            if point.clear.contains(code_offset) {
                Some(mla_mixed(d, point.gain, point.thermal))
            } else {
                None
            }
        })
    }

    #[inline(never)]
    fn reading_of_block(&self, code: i32) -> Reading {
        self.reading(code)
    }

    /// Of an offset in `clear`.
    #[inline(always)]
    pub(super) const fn strain_clear(&self, code_offset: i32) -> i32 {
        self.strain(scale(code_offset, self.code_scale).wrapping_add(self.offset))
    }

    #[inline(always)]
    const fn strain(&self, d: i32) -> i32 {
        mla(d, self.gain, self.thermal)
    }

    #[cold]
    #[inline(never)]
    const fn reading_outside(&self, code: i32) -> Reading {
        let strain = self.strain(scale(self.codes.clamp(code), self.code_scale));
        let flags = code_flags(code, self.codes.low(), self.codes.width(), self.bits, Flags::STRAIN_OUTSIDE);
        let temperature = Flags::TEMPERATURE_OUTSIDE.when(self.flags.contains(Flags::TEMPERATURE_OUTSIDE));
        Reading { strain: Strain::from_bits(strain), flags: flags.union(temperature) }
    }

    /// How many codes of the window have a strain up to `limit`; where strain falls with the code, its negative
    /// counts. These are the first ones.
    const fn codes_up_to(&self, limit: i32) -> u32 {
        // The window leaves out the rails, so that its codes can be counted.
        // (A point of any bytes may have a window of all codes: it is taken for one of none.)
        let (mut low, mut high) = (0, self.codes.width().wrapping_add(1));
        while low < high {
            let middle = low + (high - low) / 2;
            let code_offset = i32::MIN.wrapping_add(middle as i32);
            let strain = self.strain(scale(code_offset, self.code_scale));
            let strain = if self.gain < 0 { strain.wrapping_neg() } else { strain };
            if strain <= limit {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        low
    }
}
