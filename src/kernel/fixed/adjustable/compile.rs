//! From a channel and the ranges of its zero and span to an adjustable kernel.

use super::{AdjustableCompensatedKernel, AdjustableKernel, FINE_STEPS, Thermal};
use crate::channel::{Balance, Channel, CompensatedChannel, CompensatingGauge, MapOfBalance, Source};
use crate::error::{Error, Field, Quantity, fits, ordered, try_const, unwrap_const, within};
use crate::kernel::codes::{CodeModel, Second};
use crate::kernel::factor::through_fraction;
use crate::kernel::fixed::bound::gain_fits;
use crate::kernel::fixed::compile::{Range, compile, compile_pair, factor_in_middle};
use crate::kernel::fixed::{Kernel, Strain, TWO_32, TWO_60, TWO_64};
use crate::kernel::model::ChannelModel;
use crate::numeric::{Interval, Polynomial};
use crate::sample::Span;
use crate::units::{Celsius, Microstrain};

impl Channel {
    /// Compiles the channel to fixed point for every balance code and every span correction in these ranges (both ends are in them), and for
    /// every balance temperature in the declared range. The device then computes the kernel of a measured zero and span in
    /// integers: [`AdjustableKernel::with`]. A balance or a span that the channel states is not used.
    ///
    /// # Panics
    /// Where [`try_fixed_adjustable`](Self::try_fixed_adjustable) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::STRUT, fixed::*};
    /// static ON_SITE: AdjustableKernel =
    ///     STRUT.fixed_adjustable((-2_000_000, 2_000_000), (Span::from_ratio(0.95), Span::from_ratio(1.05)));
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn fixed_adjustable<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
        &self,
        balances: (i32, i32),
        spans: (Span, Span),
    ) -> AdjustableKernel<DEGREE, FACTOR, PRODUCT> {
        unwrap_const(self.try_fixed_adjustable(balances, spans))
    }

    /// As [`fixed_adjustable`](Self::fixed_adjustable), for channels that are made at run time.
    ///
    /// # Errors
    /// As [`try_fixed`](Self::try_fixed) where the channel with one of these balances and spans gives an error, but for an
    /// [`Error::Overflow`] of a kernel whose window, which is rounded up to steps of its scale, is wider than the window of this one;
    /// [`Error::Reversed`] for a range whose upper end lies below its lower one, [`Error::Invalid`] for a span other than 1 of an
    /// instrument's readings, and for a full bridge with excitation leads of which arm 2 is stated and arms 3 and 4 are not
    /// ([`Field::ReferenceResistance`]).
    ///
    /// ```
    /// use gaugewright::{Error, error::Field, example::FLAT, fixed::*};
    /// let beyond = FLAT.try_fixed_adjustable::<4, 1, 0>((-5_000, 40_000), (Span::ONE, Span::ONE));
    /// assert!(matches!(beyond, Err(Error::Invalid { field: Field::BalanceCode, value: 40_000.0, .. })));
    /// ```
    pub const fn try_fixed_adjustable<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
        &self,
        balances: (i32, i32),
        spans: (Span, Span),
    ) -> Result<AdjustableKernel<DEGREE, FACTOR, PRODUCT>, Error> {
        let ranges = Ranges { balances, spans };
        let unbalanced = try_const!(Unbalanced::of::<PRODUCT>(self, None, FACTOR));
        let (model, _) = try_const!(ranges.model::<PRODUCT>(self, None, &unbalanced, FACTOR));
        let kernel = try_const!(ranges.around(try_const!(compile(&model)), self, &unbalanced, &model));
        try_const!(kernel.check_fit());
        Ok(kernel)
    }
}

impl CompensatedChannel {
    /// As [`Channel::fixed_adjustable`]: also for every balance temperature of the compensating gauge in its declared range.
    ///
    /// # Panics
    /// Where [`try_fixed_adjustable`](Self::try_fixed_adjustable) gives an error.
    ///
    /// ```
    /// use gaugewright::{example::COMPENSATED, fixed::*};
    /// static ON_SITE: AdjustableCompensatedKernel =
    ///     COMPENSATED.fixed_adjustable((-500_000, 500_000), (Span::ONE, Span::ONE));
    /// ```
    #[must_use]
    #[track_caller]
    pub const fn fixed_adjustable<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
        &self,
        balances: (i32, i32),
        spans: (Span, Span),
    ) -> AdjustableCompensatedKernel<DEGREE, FACTOR, PRODUCT> {
        unwrap_const(self.try_fixed_adjustable(balances, spans))
    }

    /// As [`Channel::try_fixed_adjustable`].
    ///
    /// # Errors
    /// The same.
    ///
    /// ```
    /// use gaugewright::{Error, example::COMPENSATED, fixed::*};
    /// let reversed = COMPENSATED.try_fixed_adjustable::<4, 1, 0>((5, -5), (Span::ONE, Span::ONE));
    /// assert!(matches!(reversed, Err(Error::Reversed { .. })));
    /// ```
    pub const fn try_fixed_adjustable<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
        &self,
        balances: (i32, i32),
        spans: (Span, Span),
    ) -> Result<AdjustableCompensatedKernel<DEGREE, FACTOR, PRODUCT>, Error> {
        let ranges = Ranges { balances, spans };
        let second = Some(&self.compensating);
        let unbalanced = try_const!(Unbalanced::of::<PRODUCT>(&self.channel, second, FACTOR));
        let (model, pair) = try_const!(ranges.model::<PRODUCT>(&self.channel, second, &unbalanced, FACTOR));
        let Some(pair) = pair else { return Err(Field::CompensatingGauges.missing()) };
        let pair = try_const!(compile_pair::<DEGREE, FACTOR, PRODUCT>(&model, &pair));
        let adjustable = try_const!(ranges.around(pair.kernel, &self.channel, &unbalanced, &model));
        let temperatures = pair.second.temperatures;
        let range = try_const!(Range::of((temperatures.low(), temperatures.high())));
        let kernel = AdjustableCompensatedKernel {
            adjustable,
            second: pair.second,
            thermal: try_const!(thermal(&unbalanced.added, range, &model, 1.0)),
        };
        try_const!(kernel.check_fit());
        Ok(kernel)
    }
}

/// The zeros and spans that an adjustable kernel is for.
#[derive(Clone, Copy)]
struct Ranges {
    balances: (i32, i32),
    spans: (Span, Span),
}

impl Ranges {
    /// The channel balanced in the middle of the ranges, with a window for all of them.
    const fn model<const PRODUCT: usize>(
        &self,
        channel: &Channel,
        compensating: Option<&CompensatingGauge>,
        Unbalanced { model: first, added }: &Unbalanced,
        degree: usize,
    ) -> Result<(CodeModel, Option<Second>), Error> {
        let (balances, spans) = (self.balances, (self.spans.0.ratio(), self.spans.1.ratio()));
        try_const!(ordered(Field::BalanceCode, balances.0 as f64, balances.1 as f64));
        try_const!(ordered(Field::SpanCorrection, spans.0, spans.1));
        if let Source::Readings(_) = channel.source {
            // Readings have no span: it is the instrument's.
            try_const!(within(Field::SpanCorrection, spans.0, 1.0, 1.0));
            try_const!(within(Field::SpanCorrection, spans.1, 1.0, 1.0));
        }
        // By how much a balance temperature can move thermal output, in gauge factor times strain: with the product less than three times
        // that, as strain and thermal output change each other.
        let (low, high) = channel.temperatures();
        let mut moved = first.subtracted().enclose(Interval::new(low.0, high.0)).width();
        if let Some(compensating) = compensating {
            let (low, high) = compensating.temperatures();
            moved += added.enclose(Interval::new(low.0, high.0)).width();
        }
        if first.has_product() {
            moved *= 3.0;
        }
        let smallest = first.divisor().enclose(Interval::new(low.0, high.0)).low;
        let widened = match channel.strain_limit {
            Some(limit) => Some(Microstrain(limit.0 + moved / smallest * 1e6)),
            None => None,
        };

        let (middle, span) = ((balances.0 as f64 + balances.1 as f64) / 2.0, (spans.0 + spans.1) / 2.0);
        let (mut model, second) = try_const!(balanced::<PRODUCT>(
            channel,
            compensating,
            middle,
            span,
            degree,
            channel.strain_limit
        ));
        // The ends of the window move one way with balance, and one way with span.
        let ends = [
            (balances.0 as f64, spans.0),
            (balances.0 as f64, spans.1),
            (balances.1 as f64, spans.0),
            (balances.1 as f64, spans.1),
        ];
        let mut k = 0;
        while k < ends.len() {
            let (code, span) = ends[k];
            let (corner, _) =
                try_const!(balanced::<PRODUCT>(channel, compensating, code, span, degree, widened));
            try_const!(corner.left_out.check_factor());
            if corner.window.0 < model.window.0 {
                model.window.0 = corner.window.0;
            }
            if corner.window.1 > model.window.1 {
                model.window.1 = corner.window.1;
            }
            k += 1;
        }
        Ok((model, second))
    }

    /// The constants around a kernel of the middle of the ranges.
    const fn around<const DEGREE: usize, const FACTOR: usize, const PRODUCT: usize>(
        &self,
        kernel: Kernel<DEGREE, FACTOR, PRODUCT>,
        channel: &Channel,
        Unbalanced { model: first, .. }: &Unbalanced,
        model: &CodeModel,
    ) -> Result<AdjustableKernel<DEGREE, FACTOR, PRODUCT>, Error> {
        let factor = try_const!(factor_in_middle(model));
        let (map, step) = match channel.source {
            Source::Codes(bridge, _) => (try_const!(bridge.map_of_balance()), first.step),
            Source::Readings(_) => (MapOfBalance::constant(first.map), 1.0),
        };
        // The balances with the span worked in lie within 2^power codes of a middle.
        let (low, high) = self.ends();
        let middle = (low + (high - low) / 2.0) as i32;
        let mut power = 0;
        while (1u64 << power) as f64 <= (high - middle as f64).max(middle as f64 - low) {
            power += 1;
        }
        if power > 31 {
            // More codes than 32 bits have, so that one end at least is beyond them.
            let (value, most) = (if high > -low { high } else { low }, i32::MAX as f64);
            return Err(Error::Invalid { field: Field::BalanceCode, value, low: -most, high: most });
        }
        let map = map.substitute(middle as f64 * step, (1u64 << power) as f64 * step);
        let per_step = step / kernel.code_scale as f64;
        let gain = (map.gain.0.times(per_step / factor * Strain::PER_UNIT * TWO_32), map.gain.1);
        let curvature = (map.curvature.0.times(-per_step * TWO_32 * TWO_32), map.curvature.1);
        let (gain, gain_off) = through_fraction(&gain);
        let (curvature, curvature_off) = through_fraction(&curvature);
        // A step is a two-thousand-millionth of what a gain can be: more is left out where the range reaches far towards an arm of no
        // resistance.
        try_const!(fits(Quantity::SignalGain, gain_off, 16.0));
        try_const!(fits(Quantity::BridgeCurvature, curvature_off, 16.0));
        // So that no value on the way leaves 64 bits.
        try_const!(gain_fits(largest(&gain), 32.0 * TWO_32));
        try_const!(fits(Quantity::BridgeCurvature, largest(&curvature), 32.0 * TWO_32));

        Ok(AdjustableKernel {
            kernel,
            codes: self.balances,
            spans: self.spans,
            middle,
            shift: 31 - power,
            gain: fine(&gain),
            curvature: fine(&curvature),
            left_out: [(gain_off * FINE_STEPS) as u32 + 1, (curvature_off * FINE_STEPS) as u32 + 1],
            thermal: try_const!(thermal(
                &first.subtracted(),
                try_const!(Range::of(model.temperatures)),
                model,
                -1.0
            )),
            factor: [if model.has_product { (factor * TWO_60) as i64 } else { 0 }; PRODUCT],
        })
    }

    /// The lowest and highest balance, with the span worked in.
    const fn ends(&self) -> (f64, f64) {
        let (low, high) = (self.balances.0 as f64, self.balances.1 as f64);
        let (least, most) = (self.spans.0.ratio(), self.spans.1.ratio());
        ((low * least).min(low * most), (high * least).max(high * most))
    }
}

/// The model of a channel that counts thermal output from the reference temperature, and what its compensating gauge adds.
struct Unbalanced {
    model: ChannelModel,
    added: Polynomial,
}

impl Unbalanced {
    const fn of<const PRODUCT: usize>(
        channel: &Channel,
        compensating: Option<&CompensatingGauge>,
        degree: usize,
    ) -> Result<Self, Error> {
        let channel = Channel { balance: None, span: 1.0, ..*channel };
        let Some(compensating) = compensating else {
            let model = try_const!(ChannelModel::with_factor::<PRODUCT>(&channel, degree));
            return Ok(Self { model, added: Polynomial::ZERO });
        };
        let compensating = CompensatingGauge { balance: None, ..*compensating };
        let both = channel.compensated_by(compensating);
        let model = try_const!(ChannelModel::of_compensated::<PRODUCT>(&both, degree));
        let added = model.added(&compensating.bonded(None));
        Ok(Self { model, added })
    }
}

/// The channel balanced at a code in the middle of its temperatures, with a window for strains up to `strain_limit`.
const fn balanced<const PRODUCT: usize>(
    channel: &Channel,
    compensating: Option<&CompensatingGauge>,
    code: f64,
    span: f64,
    degree: usize,
    strain_limit: Option<Microstrain>,
) -> Result<(CodeModel, Option<Second>), Error> {
    let balance = Some(Balance { code, temperature: middle(channel.temperatures()) });
    let channel = Channel { balance, span, ..*channel };
    let Some(compensating) = compensating else {
        let model = try_const!(ChannelModel::with_factor::<PRODUCT>(&channel, degree));
        return Ok((try_const!(CodeModel::reaching(&channel, &model, None, strain_limit)), None));
    };
    let balanced = compensating.balanced_at(Celsius(middle(compensating.temperatures())));
    let both = channel.compensated_by(balanced);
    let model = try_const!(ChannelModel::of_compensated::<PRODUCT>(&both, degree));
    let second = try_const!(Second::of(&both, &model));
    Ok((try_const!(CodeModel::reaching(&channel, &model, Some(&second), strain_limit)), Some(second)))
}

const fn middle((low, high): (Celsius, Celsius)) -> f64 {
    low.0 + (high.0 - low.0) / 2.0
}

/// Thermal output times the gauge factor, as the constants of a kernel with this sign.
const fn thermal<const DEGREE: usize, const PRODUCT: usize>(
    output: &Polynomial,
    range: Range,
    model: &CodeModel,
    sign: f64,
) -> Result<Thermal<DEGREE, PRODUCT>, Error> {
    let output = output.substitute(range.middle, range.half);
    let scaled = fine(&output.times(sign * Strain::PER_UNIT / try_const!(factor_in_middle(model))));
    let mut descending = [0; DEGREE];
    let mut k = 0;
    while k < DEGREE {
        descending[k] = scaled[Polynomial::TERMS - 1 - DEGREE + k];
        k += 1;
    }
    let middle = if model.has_product { output.coefficients()[0] } else { 0.0 };
    Ok(Thermal { descending, middle: [(middle * TWO_64) as i64; PRODUCT] })
}

/// The largest sum that Horner's rule can have with doubled constants.
const fn largest(terms: &Polynomial) -> f64 {
    let (mut sum, mut unit) = (0.0, 1.0);
    let mut k = 0;
    while k < Polynomial::TERMS {
        sum += terms.coefficients()[k].abs() * unit;
        unit *= 2.0;
        k += 1;
    }
    sum
}

/// The highest power first, each doubled once more, in fine steps.
const fn fine(terms: &Polynomial) -> [i64; Polynomial::TERMS] {
    const N: usize = Polynomial::TERMS;
    let mut descending = [0; N];
    let mut unit = FINE_STEPS;
    let mut k = 0;
    while k < N {
        descending[N - 1 - k] = (terms.coefficients()[k] * unit) as i64;
        unit *= 2.0;
        k += 1;
    }
    descending
}
