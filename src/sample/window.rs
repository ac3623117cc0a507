//! Ranges of inputs for floating point: where a value outside is clamped, and its flag.

use super::reading::Flags;
use crate::error::Error;

/// How far `value`, clamped to `low` to `low + span`, lies above `low`.
pub(crate) const fn clamped_offset(value: i32, low: i32, span: u32) -> u32 {
    if value < low {
        return 0;
    }
    let above = value.wrapping_sub(low) as u32;
    if above > span { span } else { above }
}

/// The flags of a code: `inside`, those of its strain, if the code was not clamped; otherwise those of
/// the code itself, as the strain of a clamped code is not that of the sample.
pub(crate) const fn code_flags(code: i32, low: i32, span: u32, bits: u32, inside: Flags) -> Flags {
    // As for 8 to 32 bits, but defined for a kernel of any bytes.
    let rail = i32::MAX.wrapping_shr(32u32.wrapping_sub(bits));
    if code >= rail || code <= !rail {
        Flags::CODE_AT_RAIL
    } else if code.wrapping_sub(low) as u32 > span {
        Flags::STRAIN_OUTSIDE
    } else {
        inside
    }
}

/// Slices of a block belong together.
pub(crate) fn same_length(samples: usize, other: usize) -> Result<(), Error> {
    if samples == other { Ok(()) } else { Err(Error::BlockLength { samples, other }) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clamped_values_stay_inside() {
        assert_eq!(clamped_offset(i32::MIN, i32::MIN, u32::MAX), 0);
        assert_eq!(clamped_offset(i32::MAX, i32::MIN, u32::MAX), u32::MAX);
        assert_eq!(clamped_offset(-5, -4, 3), 0);
        assert_eq!(clamped_offset(0, -4, 3), 3);
        assert_eq!(clamped_offset(i32::MAX, -4, 3), 3);
    }
}
