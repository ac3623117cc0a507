//! The change of code by a shunt, as an interval that is computed with the firmware, and the span that follows on the device.

use super::super::wiring_check::{CodeInterval, floor};
use super::Shunt;
use crate::channel::{Arm, AtRest, Bridge, Channel, Source};
use crate::error::{Error, Field, ordered, try_const, unwrap_const, within};
use crate::reference::nodal::Nodal;
use crate::sample::{MeanCode, Span, number};
use crate::units::Ratio;

/// Fraction bits of a change of code. 2^32 codes are 2^46 then: a span is computed from changes up to 2^47.
const FRACTION: u32 = 14;
/// Codes from rail to rail of 31 bits.
const LARGEST: f64 = i32::MAX as f64;

/// By how much a shunt should change the code of the unloaded channel: integers alone, computed with the firmware.
/// The device compares, gets the [`Span`] for its [`AdjustableKernel`](crate::fixed::AdjustableKernel), and solves no network.
///
/// ```
/// use gaugewright::fixed::{AdjustableKernel, Kernel, MeanCode, Span, Temperature, Zero};
/// use gaugewright::{channel::Arm, example::STRUT, installation::{Shunt, ShuntCheck}, units::*};
///
/// const SPANS: (Span, Span) = (Span::from_ratio(0.99), Span::from_ratio(1.01));
/// static SHUNT: ShuntCheck =
///     Shunt::at_instrument(Arm::Two, Ohms(100_000.0)).tolerance(Percent(0.1)).code_check(&STRUT, SPANS);
/// static ON_SITE: AdjustableKernel = STRUT.fixed_adjustable((-50_000, 50_000), SHUNT.spans());
///
/// // On site: sums of 64 codes without the shunt and with it, and the temperature.
/// let (without, with) = (MeanCode { sum: -790_080, count: 64 }, MeanCode { sum: 59_881_920, count: 64 });
/// let zero = Zero { codes: without, temperature: Temperature::from_bits(37 << 19) };
/// let kernel: Kernel = ON_SITE.with(zero, SHUNT.span(without, with)?)?;
/// // The balanced bridge reads no strain.
/// assert!(kernel.reading(-12_345, zero.temperature).strain.nanostrain().abs() <= 100);
/// # Ok::<(), gaugewright::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[cfg_attr(feature = "defmt", derive(defmt::Format))]
#[repr(C)]
pub struct ShuntCheck {
    rails: CodeInterval,
    /// For a span of 1, in 2^-14 of a code: the low word and the high one.
    expected: [u32; 2],
    change: CodeInterval,
}

impl Shunt {
    /// The change of code that this shunt should make on a channel at rest, within the shunt's
    /// [`tolerance`](Self::tolerance), where the span correction lies in `spans` (both ends are in it, 0.8 to 1.25). A span
    /// correction that the channel states is not used.
    ///
    /// The expected change is that at the channel's own balance code. Of a bridge that is balanced elsewhere it depends on which
    /// resistor is off: by four times the difference of the ratios at balance where that is the shunted arm (0.4 % for 1 mV/V).
    ///
    /// # Panics
    /// Where [`try_code_check`](Self::try_code_check) gives an error.
    ///
    /// ```
    /// use gaugewright::{channel::Arm, example::STRUT, fixed::Span, installation::*, units::Ohms};
    /// const CHECK: ShuntCheck =
    ///     Shunt::at_gauge(Arm::One, Ohms(100_000.0)).code_check(&STRUT, (Span::ONE, Span::ONE));
    /// assert!(CHECK.change().highest < 0); // compression
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn code_check(&self, channel: &Channel, spans: (Span, Span)) -> ShuntCheck {
        unwrap_const(self.try_code_check(channel, spans))
    }

    /// As [`code_check`](Self::code_check), for channels that are made at run time.
    ///
    /// # Errors
    /// What [`Channel::check`] finds, a shunt outside 10 ohm to 1 gigohm, a tolerance outside 0 to 20 %, a span outside 0.8 to
    /// 1.25, [`Error::Reversed`] for spans whose upper end lies below the lower one, a change that is below one code or, from
    /// the channel's balance code, reaches a rail of the converter ([`Field::ShuntChange`]), or a channel of an instrument's
    /// readings, whose bridge is not known.
    ///
    /// ```
    /// use gaugewright::{Error, channel::Arm, error::Field, example::STRUT, fixed::Span, installation::Shunt, units::Ohms};
    /// // Ten kilohm across 350 ohm give more than 7.8 mV/V.
    /// let beyond = Shunt::at_gauge(Arm::One, Ohms(10_000.0)).try_code_check(&STRUT, (Span::ONE, Span::ONE));
    /// assert!(matches!(beyond, Err(Error::Invalid { field: Field::ShuntChange, .. })));
    /// ```
    pub const fn try_code_check(&self, channel: &Channel, spans: (Span, Span)) -> Result<ShuntCheck, Error> {
        try_const!(self.check());
        let (least, most) = (spans.0.ratio(), spans.1.ratio());
        try_const!(ordered(Field::SpanCorrection, least, most));
        try_const!(within(Field::SpanCorrection, least, 0.8, 1.25));
        try_const!(within(Field::SpanCorrection, most, 0.8, 1.25));
        let channel = channel.span_correction(1.0);
        try_const!(channel.check());
        let Source::Codes(bridge, _) = channel.source else {
            return Err(Field::Bridge.missing());
        };
        let at_balance = channel.balance_ratio();
        let shunted = try_const!(Shunted::of(&bridge, at_balance, self));
        let expected = channel.code(Ratio(shunted.ratio(self.ohms) - at_balance.0));
        let (weak, strong) = (self.ohms * (1.0 + self.tolerance), self.ohms * (1.0 - self.tolerance));
        let near = channel.code(Ratio(shunted.ratio(weak) - at_balance.0)) / most;
        let far = channel.code(Ratio(shunted.ratio(strong) - at_balance.0)) / least;
        // Rounded outwards: the change of means has a fraction.
        let (low, high) = if expected < 0.0 { (far, near) } else { (near, far) };
        let (lowest, highest) = (floor(low), -floor(-high));
        let (rails, balance) = (channel.rails(), channel.balance_code());
        let room = if expected < 0.0 {
            ((rails.0 as f64 + 1.0 - balance).max(-LARGEST), -1.0)
        } else {
            (1.0, (rails.1 as f64 - 1.0 - balance).min(LARGEST))
        };
        try_const!(within(Field::ShuntChange, lowest as f64, room.0, room.1));
        try_const!(within(Field::ShuntChange, highest as f64, room.0, room.1));
        let expected = floor(expected * (1u64 << FRACTION) as f64 + 0.5);
        Ok(ShuntCheck {
            rails: CodeInterval { lowest: rails.0, highest: rails.1 },
            expected: [expected as u32, (expected >> 32) as u32],
            change: CodeInterval { lowest: lowest as i32, highest: highest as i32 },
        })
    }
}

impl ShuntCheck {
    /// The changes of code that the shunt can make within its tolerance and the range of spans, rounded outwards.
    ///
    /// ```
    /// use gaugewright::{channel::Arm, example::STRUT, fixed::Span, installation::Shunt, units::*};
    /// let shunt = Shunt::at_instrument(Arm::Two, Ohms(100_000.0)).tolerance(Percent(0.1));
    /// let check = shunt.code_check(&STRUT, (Span::from_ratio(0.99), Span::from_ratio(1.01)));
    /// let expected = shunt.effect(&STRUT)?.codes;
    /// let change = check.change();
    /// assert!((f64::from(change.lowest) / expected - 0.999 / 1.01).abs() < 1e-5);
    /// assert!((f64::from(change.highest) / expected - 1.001 / 0.99).abs() < 1e-5);
    /// # Ok::<(), gaugewright::Error>(())
    /// ```
    #[must_use]
    pub const fn change(&self) -> CodeInterval {
        self.change
    }

    /// The lowest and the highest span that [`span`](Self::span) gives: the range of spans that was stated, made wider by the
    /// tolerance of the resistor. An adjustable kernel for these spans takes all of them.
    ///
    /// Spans outside 0.8 to 1.25 are left out: `span` refuses them.
    ///
    /// ```
    /// use gaugewright::{channel::Arm, example::STRUT, fixed::Span, installation::Shunt, units::*};
    /// let shunt = Shunt::at_gauge(Arm::One, Ohms(100_000.0)).tolerance(Percent(0.1));
    /// let (low, high) = shunt.code_check(&STRUT, (Span::from_ratio(0.99), Span::from_ratio(1.01))).spans();
    /// assert!((low.ratio() - 0.989).abs() < 1e-4 && (high.ratio() - 1.011).abs() < 1e-4);
    /// ```
    #[must_use]
    pub const fn spans(&self) -> (Span, Span) {
        let CodeInterval { lowest, highest } = self.change;
        let (near, far) = if self.expected() < 0 { (highest, lowest) } else { (lowest, highest) };
        (self.end(far, Span::LOWEST), self.end(near, Span::HIGHEST))
    }

    const fn expected(&self) -> i64 {
        let [low, high] = self.expected;
        (high as i64) << 32 | low as i64
    }

    const fn end(&self, change: i32, limit: Span) -> Span {
        match Span::of_codes(self.expected(), (change as i64) << FRACTION) {
            Ok(span) => span,
            Err(_) => limit,
        }
    }

    /// The span correction from the codes of the unloaded channel without the shunt and with it: expected over observed change, as
    /// [`Span::of_codes`] has it. In integers; each mean is rounded down to 2^-14 of a code.
    ///
    /// # Errors
    /// [`Error::Invalid`] for a mean of no or more than 65 536 codes, a mean at or beyond a rail ([`Field::BalanceCode`],
    /// [`Field::ShuntCode`]), a change of code outside of [`change`](Self::change) (a fault of the wiring or of the shunt, and not
    /// something to correct), or a span outside 0.8 to 1.25.
    ///
    /// ```
    /// use gaugewright::{Error, channel::Arm, error::Field, example::STRUT, fixed::Span, installation::Shunt, units::*};
    /// let check = Shunt::at_gauge(Arm::One, Ohms(100_000.0))
    ///     .code_check(&STRUT, (Span::from_ratio(0.99), Span::from_ratio(1.01)));
    /// let middle = check.change().lowest / 2 + check.change().highest / 2;
    /// assert!((check.span(0.into(), middle.into())?.ratio() - 1.0).abs() < 1e-3);
    /// // The wrong sign: OUT+ and OUT- are exchanged.
    /// let reversed = check.span(0.into(), (-middle).into());
    /// assert!(matches!(reversed, Err(Error::Invalid { field: Field::ShuntChange, .. })));
    /// # Ok::<(), Error>(())
    /// ```
    pub const fn span(&self, without: MeanCode, with: MeanCode) -> Result<Span, Error> {
        // Rails from elsewhere, as C may pass them, may lie at the ends of the format: then they wrap.
        let (low, high) = (self.rails.lowest.wrapping_add(1), self.rails.highest.wrapping_sub(1));
        try_const!(without.check());
        try_const!(with.check());
        try_const!(without.within(Field::BalanceCode, low, high));
        try_const!(with.within(Field::ShuntCode, low, high));
        let observed = (with.bits() >> (32 - FRACTION)) - (without.bits() >> (32 - FRACTION));
        let CodeInterval { lowest, highest } = self.change;
        if observed < (lowest as i64) << FRACTION || observed > (highest as i64) << FRACTION {
            return Err(Error::Invalid {
                field: Field::ShuntChange,
                value: number(observed, FRACTION),
                low: number(lowest as i64, 0),
                high: number(highest as i64, 0),
            });
        }
        Span::of_codes(self.expected(), observed)
    }
}

/// A bridge with a shunt: the output ratio is a fraction of two straight lines in its resistance.
enum Shunted {
    AtGauge(AtRest, Arm),
    /// Voltages of output and excitation with a shunt of no resistance and, for each ohm, without one.
    AtInstrument(AtRest, [(f64, f64); 2]),
}

impl Shunted {
    const fn of(bridge: &Bridge, at_balance: Ratio, shunt: &Shunt) -> Result<Self, Error> {
        let at_rest = try_const!(bridge.at_rest(at_balance));
        if shunt.at_gauge {
            return Ok(Self::AtGauge(at_rest, shunt.arm));
        }
        let mut elements = [0.0; 4];
        let mut k = 0;
        while k < 4 {
            elements[k] = at_rest.element(Arm::ALL[k]);
            k += 1;
        }
        let mut nodal = Nodal::of(bridge, elements);
        let without = nodal.voltages();
        let (from, to) = shunt.arm.terminals();
        nodal.connect(from, to, 0.0);
        Ok(Self::AtInstrument(at_rest, [nodal.voltages(), without]))
    }

    const fn ratio(&self, ohms: f64) -> f64 {
        match self {
            Self::AtGauge(at_rest, arm) => {
                let element = at_rest.element(*arm);
                at_rest.with_element(*arm, element * ohms / (element + ohms))
            }
            Self::AtInstrument(at_rest, [none, each]) => {
                at_rest.as_wired((none.0 + each.0 * ohms) / (none.1 + each.1 * ohms))
            }
        }
    }
}
