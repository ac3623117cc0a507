//! Where a code comes from: an analogue-to-digital converter, or an instrument that shows strain.

use crate::error::{Error, Field, try_const, within, within_rounding};
use crate::units::{GaugeFactor, Microstrain, Ratio};

/// A bipolar, ratiometric converter: the bridge's excitation is its reference.
///
/// A code `c` of a `bits`-bit converter stands for the bridge output ratio
/// `c * full_scale / 2^(bits - 1)`; the codes `-2^(bits - 1)` and `2^(bits - 1) - 1` are its rails.
///
/// ```
/// use gaugewright::{Converter, units::Ratio};
///
/// let converter = Converter::bipolar(24, Ratio(1.0 / 128.0)); // 24 bits behind a gain of 128
/// assert_eq!(converter.ratio(f64::from(1 << 22)).0, 1.0 / 256.0);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Converter {
    pub(crate) bits: u32,
    pub(crate) full_scale: f64,
    /// Of an instrument that shows strain.
    pub(crate) instrument_factor: Option<f64>,
}

impl Converter {
    /// A converter of 8 to 32 bits whose rails lie at plus and minus `full_scale`, in V/V: for a gain `g` and a
    /// reference equal to the excitation, `1 / g`. Allowed are 1e-6 to 1 V/V, as no bridge gives more than its excitation
    /// (4 V/V behind a temperature sensor). A full scale in mV/V is converted by its unit:
    ///
    /// ```
    /// use gaugewright::{Converter, units::{MillivoltsPerVolt, Ratio}};
    /// let gain_of_64 = Converter::bipolar(16, Ratio(1.0 / 64.0));
    /// assert_eq!(Converter::bipolar(16, MillivoltsPerVolt(15.625).ratio()), gain_of_64);
    /// ```
    #[must_use]
    pub const fn bipolar(bits: u32, full_scale: Ratio) -> Self {
        Self { bits, full_scale: full_scale.0, instrument_factor: None }
    }

    /// An instrument *set* to a quarter bridge that shows strain without regard to the bridge's curvature,
    /// that is `4 r / instrument_gauge_factor` whatever circuit is connected to it: its reading in counts of `step` is a code like another,
    /// and the bridge's own non-linearity is then taken out here.
    ///
    /// ```
    /// use gaugewright::{Converter, units::{GaugeFactor, Microstrain}};
    /// let shown = Converter::linear_strain(Microstrain(0.1), GaugeFactor(2.0));
    /// assert!((shown.ratio(10_000.0).0 - 2.0 * 1000e-6 / 4.0).abs() < 1e-15);
    /// ```
    #[must_use]
    pub const fn linear_strain(step: Microstrain, instrument_gauge_factor: GaugeFactor) -> Self {
        let ratio_of_one = step.strain().0 * instrument_gauge_factor.0 / 4.0;
        Self {
            bits: 32,
            full_scale: ratio_of_one * 2_147_483_648.0,
            instrument_factor: Some(instrument_gauge_factor.0),
        }
    }

    /// The ratio that a code, or a mean of codes, stands for; NaN for a converter of no bits or of more than 32.
    ///
    /// ```
    /// use gaugewright::{Converter, units::Ratio};
    /// assert_eq!(Converter::bipolar(8, Ratio(1.0)).ratio(-64.0).0, -0.5);
    /// ```
    #[must_use]
    pub const fn ratio(&self, code: f64) -> Ratio {
        Ratio(code * self.ratio_per_code())
    }

    /// The code that stands for a ratio: the inverse of [`ratio`](Self::ratio), not rounded and not clamped to the
    /// [`rails`](Self::rails).
    ///
    /// ```
    /// use gaugewright::{Converter, units::Ratio};
    /// assert_eq!(Converter::bipolar(8, Ratio(1.0)).code(Ratio(-0.51)), -65.28);
    /// ```
    #[must_use]
    pub const fn code(&self, ratio: Ratio) -> f64 {
        ratio.0 / self.ratio_per_code()
    }

    /// The lowest and the highest code; both 0 for a converter of no bits or of more than 32.
    ///
    /// ```
    /// use gaugewright::{Converter, units::Ratio};
    /// assert_eq!(Converter::bipolar(24, Ratio(1.0)).rails(), (-8_388_608, 8_388_607));
    /// ```
    #[must_use]
    pub const fn rails(&self) -> (i32, i32) {
        if self.bits < 1 || self.bits > 32 {
            return (0, 0);
        }
        (i32::MIN >> (32 - self.bits), i32::MAX >> (32 - self.bits))
    }

    const fn ratio_per_code(&self) -> f64 {
        if self.bits < 1 || self.bits > 32 {
            return f64::NAN;
        }
        self.full_scale / (1u64 << (self.bits - 1)) as f64
    }

    /// As it stands behind a sensor and a reference: full scale of a gain of a quarter at most. That of an instrument that
    /// shows strain is a ratio like another here, and nearly always refused.
    pub(crate) const fn check_at_sensor(&self, most_bits: f64) -> Result<(), Error> {
        try_const!(within(Field::FullScaleRatio, self.full_scale, 1e-6, 4.0));
        within(Field::ConverterBits, self.bits as f64, 8.0, most_bits)
    }

    /// As it stands behind a bridge, whose output is never more than its excitation.
    pub(crate) const fn check(&self) -> Result<(), Error> {
        try_const!(within(Field::ConverterBits, self.bits as f64, 8.0, 32.0));
        let Some(factor) = self.instrument_factor else {
            return within(Field::FullScaleRatio, self.full_scale, 1e-6, 1.0);
        };
        try_const!(Field::InstrumentGaugeFactor.check(factor));
        // The step as it was given, but for rounding.
        let step = self.full_scale / 2_147_483_648.0 * 4.0 / factor * 1e6;
        try_const!(within_rounding(
            Field::ReadingStep,
            step,
            Field::ReadingStep.limits(),
            8.0 * f64::EPSILON * step.abs()
        ));
        Ok(())
    }
}

/// An instrument that already shows strain, with its bridge's curvature taken out, at a gauge factor
/// setting of its own. Its readings, in whole counts of `step`, are corrected after the fact. What the leads
/// desensitise the bridge by is taken as corrected by the instrument, or as small: only a channel of codes
/// knows its leads.
///
/// ```
/// use gaugewright::{Instrument, units::{GaugeFactor, Microstrain}};
///
/// let instrument = Instrument::showing(Microstrain(0.1), GaugeFactor(2.0));
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
pub struct Instrument {
    pub(crate) step: f64,
    pub(crate) factor: f64,
}

impl Instrument {
    /// One count of the reading is `step`; `gauge_factor` is the instrument's setting. Any `i32` but
    /// the two extremes is a reading.
    ///
    /// ```
    /// use gaugewright::{Instrument, units::{GaugeFactor, Microstrain}};
    /// let instrument = Instrument::showing(Microstrain(1.0), GaugeFactor(2.1));
    /// ```
    #[must_use]
    pub const fn showing(step: Microstrain, gauge_factor: GaugeFactor) -> Self {
        Self { step: step.0, factor: gauge_factor.0 }
    }

    pub(crate) const fn check(&self) -> Result<(), Error> {
        try_const!(Field::ReadingStep.check(self.step));
        Field::InstrumentGaugeFactor.check(self.factor)
    }
}
