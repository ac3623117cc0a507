//! What would meet an error limit that a kernel's bound exceeds: narrower channels are tried until the widest that meets
//! it is known.

use crate::channel::{Channel, CompensatedChannel, Source, ThermalOutput};
use crate::error::{BuildMessage, Error, Field};
use crate::units::{Celsius, GaugeFactor, Microstrain};

/// Narrower declarations with which the same channel meets an error limit, each by itself unless they are only enough
/// [`together`](Self::together). Each was tried: the channel that it makes compiles and its bound is within the limit.
///
/// Where a `const` kernel exceeds its limit, the compiler's message has them. At run time they are a function of the channel
/// that nothing else calls, as the search compiles some twenty channels: ask it on the host.
///
/// ```
/// use gaugewright::{Bridge, Channel, Converter, Error, Gauge, ThermalOutput, fixed, units::*};
/// # let channel = Channel::new(Gauge::new(GaugeFactor(3.2)).thermal_output(
/// #     ThermalOutput::celsius([-24.0, 1.0]).between(Celsius(-50.0), Celsius(90.0))),
/// #     Bridge::quarter_ideal(Ohms(120.0)), Converter::bipolar(24, Ratio(0.05)));
/// let error_limit = Nanostrain(0.5);
/// let wide = channel.strain_within(Microstrain(45_000.0));
/// let result: Result<fixed::Kernel, Error> = wide.try_fixed_within(error_limit);
/// assert!(matches!(result, Err(Error::Bound { .. })));
///
/// let limit = wide.fixed_suggested_limits::<4, 1, 0>(error_limit).strain.unwrap();
/// assert!(limit.0 > 25_000.0);
/// let kernel: fixed::Kernel = channel.strain_within(limit).fixed_within(error_limit);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SuggestedLimits {
    /// For [`strain_within`](crate::Channel::strain_within): nearly the largest that is enough, rounded down to three digits.
    pub strain: Option<Microstrain>,
    /// For [`temperature_within`](crate::Channel::temperature_within): nearly the widest range around the middle of the
    /// present one that is enough.
    pub temperatures: Option<(Celsius, Celsius)>,
    /// Neither range is enough without the other; this is nearly the largest share of both that is.
    pub together: bool,
    /// The highest degree below the present one that a package's thermal output may have.
    pub degree: Option<usize>,
    /// The least number of a code's lowest bits that is enough to drop, of a converter of 29 bits or more. Fixed point spreads the
    /// codes in use over 32 bits by a whole odd number, and where that is 1 and 2 would do, half of the room is lost. The channel is
    /// then that of a converter of so many bits less, with the codes shifted right; that of balance is divided likewise.
    pub dropped_bits: Option<u32>,
}

impl SuggestedLimits {
    const NOTHING: Self =
        Self { strain: None, temperatures: None, together: false, degree: None, dropped_bits: None };

    /// No narrower range, no lower degree and no shorter code is enough.
    ///
    /// ```
    /// use gaugewright::units::*;
    /// # let channel = gaugewright::example::CHANNEL;
    /// // A step of the result is 0.058 nanostrain.
    /// let limits = channel.fixed_suggested_limits::<4, 1, 0>(Nanostrain(0.01));
    /// assert!(limits.is_none());
    /// assert_eq!(limits.to_string(), "no narrower range and no lower degree would do");
    /// ```
    #[must_use]
    pub const fn is_none(&self) -> bool {
        self.strain.is_none()
            && self.temperatures.is_none()
            && self.degree.is_none()
            && self.dropped_bits.is_none()
    }

    const fn after(&self, text: &mut BuildMessage) {
        if self.is_none() {
            text.text("no narrower range and no lower degree would do");
            return;
        }
        let mut joint = "it would hold for ";
        if let Some(limit) = self.strain {
            text.text(joint).text("strain within ").number(limit.0).text(" microstrain");
            joint = if self.together { " together with " } else { ", or for " };
        }
        if let Some((low, high)) = self.temperatures {
            text.text(joint).number(low.0).text(" to ").number(high.0).text(" C");
            joint = ", or for ";
        }
        if let Some(degree) = self.degree {
            text.text(joint).text("a thermal output of degree ").number(degree as f64);
            joint = ", or for ";
        }
        if let Some(bits) = self.dropped_bits {
            text.text(joint).text("codes without their lowest ");
            if bits > 1 {
                text.number(bits as f64).text(" bits");
            } else {
                text.text("bit");
            }
        }
    }

    fn words(&self) -> BuildMessage {
        let mut message = BuildMessage::EMPTY;
        self.after(&mut message);
        message
    }

    /// The build stops with the error's words and these.
    #[track_caller]
    pub(super) const fn stop(&self, error: &Error) -> ! {
        let mut message = error.build_message();
        self.after(message.text("; "));
        panic!("{}", message.as_str())
    }
}

impl core::fmt::Display for SuggestedLimits {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(self.words().as_str())
    }
}

/// The words of [`Display`](core::fmt::Display).
#[cfg(feature = "defmt")]
impl defmt::Format for SuggestedLimits {
    fn format(&self, f: defmt::Formatter<'_>) {
        defmt::write!(f, "{=str}", self.words().as_str());
    }
}

/// What may be declared, microstrain.
const STRAIN_RANGE: (f64, f64) = Field::StrainRange.limits();

/// Halvings on the way to a limit.
const HALVINGS: u32 = 8;

/// Half of the narrowest temperature range that is tried, C.
const NARROWEST: f64 = 0.5;

#[derive(Clone, Copy)]
enum Stage {
    Strain,
    Temperature,
    /// Both by the same share, where neither alone is enough.
    Together,
    Degree,
    /// Shorter codes.
    Bits,
    Done,
}

/// Bits of the shortest code that is tried: one is still worth less than half a nanostrain.
const SHORTEST_CODE: u32 = 28;

/// A search that asks: [`next`](Self::next) gives a channel, [`answer`](Self::answer) takes whether it meets the
/// limit. (A `const fn` cannot be given the question as a function.)
pub(super) struct Search<'a> {
    channel: &'a Channel,
    stage: Stage,
    step: u32,
    /// Meets the limit, once the first step has shown that anything does.
    meets: f64,
    /// Does not.
    misses: f64,
    trial: f64,
    found: SuggestedLimits,
}

impl<'a> Search<'a> {
    /// `channel` exceeds the limit.
    pub const fn new(channel: &'a Channel) -> Self {
        let search = Self {
            channel,
            stage: Stage::Strain,
            step: 0,
            meets: 0.0,
            misses: 0.0,
            trial: 0.0,
            found: SuggestedLimits::NOTHING,
        };
        search.enter(Stage::Strain)
    }

    pub const fn found(&self) -> SuggestedLimits {
        self.found
    }

    const fn enter(mut self, stage: Stage) -> Self {
        self.stage = stage;
        self.step = 0;
        (self.meets, self.misses) = match stage {
            Stage::Strain => (STRAIN_RANGE.0, self.declared_strain()),
            Stage::Temperature => (NARROWEST, self.temperatures().1),
            // Shares of the declared ranges.
            Stage::Together if self.found.is_none() => (self.narrowest_share(), 1.0),
            Stage::Together => (1.0, 1.0),
            Stage::Degree => (1.0, self.channel.gauge.thermal_output.in_celsius().degree() as f64),
            Stage::Bits => (1.0, self.longer_than_shortest() + 1.0),
            Stage::Done => (0.0, 0.0),
        };
        self.trial = if matches!(stage, Stage::Degree) { self.misses - 1.0 } else { self.meets };
        if self.trial < self.misses || matches!(stage, Stage::Done) { self } else { self.leave() }
    }

    /// What is in this stage is known, or nothing is to be found.
    const fn leave(self) -> Self {
        match self.stage {
            Stage::Strain => self.enter(Stage::Temperature),
            Stage::Temperature => self.enter(Stage::Together),
            Stage::Together => self.enter(Stage::Degree),
            Stage::Degree => self.enter(Stage::Bits),
            Stage::Bits | Stage::Done => self.enter(Stage::Done),
        }
    }

    /// The next channel to try.
    pub const fn next(&self) -> Option<Channel> {
        match self.stage {
            Stage::Degree => Some(self.with_degree(self.trial as usize)),
            Stage::Bits => Some(self.with_codes_without(self.trial as u32)),
            Stage::Done => None,
            _ => {
                let mut narrower = *self.channel;
                if let Some(limit) = self.strain() {
                    narrower = narrower.strain_within(limit);
                }
                if let Some((low, high)) = self.around() {
                    narrower = narrower.temperature_within(low, high);
                }
                Some(narrower)
            }
        }
    }

    /// The strain range of the trial, if it is another.
    const fn strain(&self) -> Option<Microstrain> {
        match self.stage {
            Stage::Strain => Some(Microstrain(three_digits(self.trial))),
            Stage::Together => Some(Microstrain(three_digits(self.trial * self.declared_strain()))),
            _ => None,
        }
    }

    /// The temperatures of the trial, if they are others.
    const fn around(&self) -> Option<(Celsius, Celsius)> {
        let (middle, half) = self.temperatures();
        let half = match self.stage {
            Stage::Temperature => self.trial,
            Stage::Together => self.trial * half,
            _ => return None,
        };
        Some((Celsius(-tenths(half - middle)), Celsius(tenths(middle + half))))
    }

    /// Whether it meets the limit.
    pub const fn answer(mut self, met: bool) -> Self {
        if matches!(self.stage, Stage::Degree) {
            if met {
                self.found.degree = Some(self.trial as usize);
                return self.leave();
            }
            self.trial -= 1.0;
            return if self.trial < 1.0 { self.leave() } else { self };
        }
        if matches!(self.stage, Stage::Bits) {
            if met {
                self.found.dropped_bits = Some(self.trial as u32);
                return self.leave();
            }
            self.trial += 1.0;
            return if self.trial < self.misses { self } else { self.leave() };
        }
        if self.step == 0 && !met {
            return self.leave();
        }
        if met {
            self.meets = self.trial;
            if let Some(limit) = self.strain() {
                self.found.strain = Some(limit);
            }
            if let Some(temperatures) = self.around() {
                self.found.temperatures = Some(temperatures);
            }
            self.found.together = matches!(self.stage, Stage::Together);
        } else {
            self.misses = self.trial;
        }
        self.step += 1;
        if self.step > HALVINGS {
            return self.leave();
        }
        self.trial = (self.meets + self.misses) / 2.0;
        self
    }

    const fn declared_strain(&self) -> f64 {
        match self.channel.strain_limit {
            Some(limit) => limit.0,
            None => STRAIN_RANGE.1,
        }
    }

    /// By how many bits the converter's code is longer than the shortest that is tried.
    const fn longer_than_shortest(&self) -> f64 {
        match self.channel.source {
            Source::Codes(_, converter) => converter.bits.saturating_sub(SHORTEST_CODE) as f64,
            Source::Readings(_) => 0.0,
        }
    }

    /// The channel of codes that are shifted to the right.
    const fn with_codes_without(&self, bits: u32) -> Channel {
        let mut shorter = *self.channel;
        if let Source::Codes(_, converter) = &mut shorter.source {
            converter.bits -= bits;
        }
        if let Some(balance) = &mut shorter.balance {
            balance.code /= (1u64 << bits) as f64;
        }
        shorter
    }

    /// Of both ranges, so that each is still one that can be declared.
    const fn narrowest_share(&self) -> f64 {
        let strain = STRAIN_RANGE.0 / self.declared_strain();
        let temperature = NARROWEST / self.temperatures().1;
        if strain > temperature { strain } else { temperature }
    }

    /// Middle and half width of the declared range, C.
    const fn temperatures(&self) -> (f64, f64) {
        let (low, high) = self.channel.temperatures();
        ((low.0 + high.0) / 2.0, (high.0 - low.0) / 2.0)
    }

    /// The channel with a thermal output of this degree: the same curve near the middle of the range.
    const fn with_degree(&self, degree: usize) -> Channel {
        let (middle, half) = self.temperatures();
        let output = &self.channel.gauge.thermal_output;
        let mut terms = output.in_celsius().substitute(middle, half);
        terms = terms.truncated(degree).substitute(-middle / half, 1.0 / half);
        let mut lower = *self.channel;
        lower.gauge.thermal_output = ThermalOutput::celsius(terms.coefficients())
            .stated_for(GaugeFactor(output.stated_for))
            .between(Celsius(output.low), Celsius(output.high));
        lower
    }
}

/// Three digits of a positive number, rounded down.
const fn three_digits(value: f64) -> f64 {
    let mut unit = 1.0;
    while value / unit >= 1000.0 {
        unit *= 10.0;
    }
    if value < 100.0 { tenths(value) } else { (value / unit) as u32 as f64 * unit }
}

/// Tenths, rounded down.
const fn tenths(value: f64) -> f64 {
    let tenths = value * 10.0;
    let toward_zero = tenths as i64 as f64;
    (if toward_zero > tenths { toward_zero - 1.0 } else { toward_zero }) / 10.0
}

impl Channel {
    /// What a search narrows.
    pub(super) const fn declared(&self) -> &Self {
        self
    }

    /// With what the search declares in place of its own.
    pub(super) const fn redeclared(&self, narrower: Self) -> Self {
        narrower
    }
}

/// Of the gauge that measures: the compensating gauge's declaration stays.
impl CompensatedChannel {
    pub(super) const fn declared(&self) -> &Channel {
        self.channel()
    }

    pub(super) const fn redeclared(&self, narrower: Channel) -> Self {
        narrower.compensated_by(self.compensating)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_rounded_down() {
        assert_eq!(
            [12_345.6, 1_000.0, 999.9, 100.0, 99.99, 1.05].map(three_digits),
            [12_300.0, 1_000.0, 999.0, 100.0, 99.9, 1.0]
        );
        assert_eq!([-1.05, -1.0, 2.0, 2.19].map(tenths), [-1.1, -1.0, 2.0, 2.1]);
    }
}
