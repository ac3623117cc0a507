//! The split path: one temperature's constants, and what is left to do for a sample.

use super::{Reading, Strain, VECTORS, checked, is_outside};
use crate::error::Error;
use crate::kernel::block::{correct, correct_clear, fill, mark, without_marks};
use crate::sample::{
    Flags, InputRange, code_flags, is_mixed, mla, mla_mixed, mul, same_length, scale, square, with_square,
};

/// One temperature of a channel: what is left to do for a sample when the temperature stays.
///
/// ```
/// use gaugewright::{example::CHANNEL, fixed};
/// static KERNEL: fixed::Kernel = CHANNEL.fixed();
/// let point = KERNEL.at(fixed::Temperature::from_bits(35 << 20)); // on each temperature update
/// let reading = point.reading(123_456);                           // every sample
/// assert!(reading.flags.is_clear());
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct OperatingPoint {
    /// Flags of every reading, those of the temperature.
    pub(crate) flags: Flags,
    /// As in the kernel, times the kernel's factor over the factor at this temperature.
    pub(crate) gain: i32,
    pub(crate) code_scale: u32,
    /// That of the kernel with its sign turned.
    pub(crate) curvature: i32,
    pub(crate) bits: u32,
    pub(crate) codes: InputRange,
    /// Thermal output with its sign turned, at the factor of this temperature.
    pub(crate) thermal: i32,
    pub(crate) strain_limit: i32,
}

impl OperatingPoint {
    /// Strain for a code at the temperature of the point.
    ///
    /// ```
    /// use gaugewright::{Flags, example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let point = KERNEL.at(fixed::Temperature::from_bits(24 << 20));
    /// assert_eq!(point.reading(i32::MIN).flags, Flags::CODE_AT_RAIL);
    /// ```
    #[inline]
    pub const fn reading(&self, code: i32) -> Reading {
        let offset = self.codes.offset(code);
        if !self.codes.contains(offset) {
            return self.reading_outside(code);
        }
        checked(self.strain_inside(offset), self.strain_limit, self.flags)
    }

    /// A block of samples at the temperature of the point: the same bits as one call of
    /// [`reading`](Self::reading) each.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if the slices differ in length; nothing is written then.
    ///
    /// ```
    /// use gaugewright::{example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let point = KERNEL.at(fixed::Temperature::from_bits(24 << 20));
    /// let mut readings = [point.reading(0); 2];
    /// point.readings(&[5, 6], &mut readings)?;
    /// assert!(point.readings(&[5, 6, 7], &mut readings).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn readings(&self, codes: &[i32], readings: &mut [Reading]) -> Result<(), Error> {
        same_length(codes.len(), readings.len())?;
        let inside = |code: i32, _| {
            let offset = self.codes.offset(code);
            let strain = self.strain_inside(offset);
            let outside = !self.codes.contains(offset) | is_outside(strain, self.strain_limit);
            (Strain::from_bits(strain), outside)
        };
        let any = |c, _| self.reading(c);
        fill(VECTORS, (codes, codes), readings, self.flags, inside, any);
        Ok(())
    }

    /// A block of codes in its place: each becomes its strain in Q34 ([`Strain::to_bits`]), by the same bits as
    /// [`reading`](Self::reading).
    ///
    /// `flagged` gets place and flags of each sample that has any, in their order; the result has the flags of all. So no flag is
    /// lost with its code, and a sample without flags costs nothing for them. Where the point itself has a flag, as for a temperature out
    /// of range, every sample has.
    ///
    /// ```
    /// use gaugewright::{Flags, example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let point = KERNEL.at(fixed::Temperature::from_bits(24 << 20));
    /// let mut block = [5, i32::MAX];
    /// let all = point.correct(&mut block, |sample, flags| assert_eq!((sample, flags), (1, Flags::CODE_AT_RAIL)));
    /// assert_eq!(all, Flags::CODE_AT_RAIL);
    /// assert_eq!(block[0], point.reading(5).strain.to_bits());
    /// ```
    pub fn correct(&self, block: &mut [i32], flagged: impl FnMut(usize, Flags)) -> Flags {
        correct(block, |rest| self.correct_clear(rest), |code| self.reading_of_block(code), flagged)
    }

    /// A block of codes in its place, as [`correct`](Self::correct), with a bit for each sample: bit `k % 32` of
    /// `marks[k / 32]` is set where sample `k` has a flag, and all others are not. The result has the flags of all samples.
    ///
    /// # Errors
    /// [`Error::BlockLength`] if `marks` has not just one word for each 32 samples or part of them; nothing is written then.
    ///
    /// ```
    /// use gaugewright::{Flags, example::CHANNEL, fixed};
    /// static KERNEL: fixed::Kernel = CHANNEL.fixed();
    /// let point = KERNEL.at(fixed::Temperature::from_bits(24 << 20));
    /// let (mut block, mut marks) = ([5, i32::MAX, 6], [0]);
    /// assert_eq!(point.correct_marked(&mut block, &mut marks)?, Flags::CODE_AT_RAIL);
    /// assert_eq!((block[2], marks), (point.reading(6).strain.to_bits(), [0b010]));
    /// assert!(point.correct_marked(&mut block, &mut [0; 2]).is_err());
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    pub fn correct_marked(&self, block: &mut [i32], marks: &mut [u32]) -> Result<Flags, Error> {
        without_marks(block.len(), marks)?;
        Ok(self.correct(block, |sample, _| mark(marks, sample)))
    }

    /// Corrects up to the first sample that may have a flag; how many are left.
    // A function of its own for the check, or the compiler makes two loops around it.
    #[inline(never)]
    fn correct_clear(&self, block: &mut [i32]) -> usize {
        if self.flags.is_clear() { self.correct_unflagged(block) } else { block.len() }
    }

    // And one without, in which the compiler cannot take the flags to be zero (see `square`).
    #[inline(never)]
    fn correct_unflagged(&self, block: &mut [i32]) -> usize {
        let mut point = *self;
        // Never so in a kernel that was compiled.
        if !is_mixed(point.curvature) {
            return block.len();
        }
        // Where products have no sum in them, a register is worth more than what hides the sign of a square. (Cores whose products have
        // one are known by their floating point.)
        if cfg!(not(target_abi = "eabihf")) {
            point.flags = Flags::CLEAR;
        }
        correct_clear(block, |code| {
            let offset = point.codes.offset(code);
            if !point.codes.contains(offset) {
                return None;
            }
            let d = scale(offset, point.code_scale);
            let strain = point.strain_of(d, mla_mixed(d, point.curvature, 0));
            if may_be_outside(strain, point.strain_limit) { None } else { Some(strain) }
        })
    }

    /// Out of line, so that a block of few flags has one copy of it.
    #[inline(never)]
    fn reading_of_block(&self, code: i32) -> Reading {
        self.reading(code)
    }

    #[inline(always)]
    pub(super) const fn strain_inside(&self, offset: i32) -> i32 {
        let d = scale(offset, self.code_scale);
        self.strain_of(d, mul(d, self.curvature))
    }

    #[inline(always)]
    const fn strain_of(&self, d: i32, p: i32) -> i32 {
        // 1 / (1 - p) = (1 + p)(1 + p^2 + p^4) / (1 - p^6), worked into the gain: what its products drop is halved
        // by `d`.
        let gain = mla_mixed(self.gain, p, self.gain);
        let p2 = square(p, self.flags);
        let even = with_square(p2);
        let gain = mla_mixed(gain, even, gain);
        mla(d, gain, self.thermal)
    }

    #[cold]
    #[inline(never)]
    const fn reading_outside(&self, code: i32) -> Reading {
        let strain = self.strain_inside(self.codes.clamp(code));
        let reading = checked(strain, self.strain_limit, self.flags);
        let flags = code_flags(code, self.codes.low(), self.codes.width(), self.bits, reading.flags);
        Reading { strain: reading.strain, flags: flags.union(self.flags) }
    }

    /// The same point with more flags raised in its readings.
    pub(crate) const fn flagged(mut self, flags: Flags) -> Self {
        self.flags = self.flags.union(flags);
        self
    }
}

/// Whether a strain is beyond its limit, or on it. Where a shift comes with an instruction, that takes a constant less than
/// [`is_outside`].
#[inline(always)]
const fn may_be_outside(strain: i32, limit: i32) -> bool {
    if cfg!(target_arch = "riscv32") {
        return is_outside(strain, limit);
    }
    // The magnitude, less one where it is negative.
    (strain ^ (strain >> 31)) as u32 >= limit as u32
}
