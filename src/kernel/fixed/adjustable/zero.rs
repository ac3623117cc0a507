//! What is measured on site: codes of the unloaded channel.

use crate::sample::{MeanCode, Temperature};

/// Codes of the unloaded channel and the temperature at which they were read.
///
/// ```
/// use gaugewright::fixed::{MeanCode, Temperature, Zero};
/// let codes = MeanCode { sum: 25, count: 2 }; // balance code 12.5
/// let zero = Zero { codes, temperature: Temperature::from_bits(20 << 20) };
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Zero {
    /// Their mean is the balance code.
    pub codes: MeanCode,
    /// Temperature of the gauge that measures.
    pub temperature: Temperature,
}
