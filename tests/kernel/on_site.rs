//! Zero and span on site, from outside: kernels that a device computes against the reference, and what is refused.

use gaugewright::error::{Field, Quantity};
use gaugewright::fixed::{
    AdjustableCompensatedKernel, AdjustableKernel, Kernel, MeanCode, Span, Temperature, Zero,
};
use gaugewright::units::*;
use gaugewright::*;
use proptest::prelude::*;
use support::{recipe, tolerance::REFERENCE_NANOSTRAIN};

const CASES: u32 = 1_000;

/// A channel, the ends of its balances and spans as parts of what there is, and what is measured.
#[derive(Clone, Debug)]
struct Case {
    channel: Channel,
    top: f64,
    limit: f64,
    balances: (f64, f64),
    spans: (f64, f64),
    /// Balance, temperature, span, and how many codes.
    site: (f64, f64, f64, u32),
    points: Vec<(f64, f64)>,
}

fn case(channels: impl Strategy<Value = (Channel, u32)>) -> impl Strategy<Value = Case> {
    let part = || prop_oneof![Just(0.0), Just(1.0), 0.0..=1.0f64];
    let balances = (-0.3..0.3f64, -0.3..0.3f64);
    let spans = (0.8..=1.25f64, 0.8..=1.25f64);
    let site = (part(), part(), part(), prop_oneof![Just(1), Just(65_536), 1..=65_536u32]);
    let points = prop::collection::vec((part(), part()), 6);
    // Up to what may be declared, where one kernel in thirty would not fit at some zero and span.
    let limit = prop_oneof![500.0..10_000.0f64, 10_000.0..62_500.0f64];
    (channels, limit, balances, spans, site, points).prop_map(
        |((channel, bits), limit, balances, spans, site, points)| Case {
            channel: channel.strain_within(Microstrain(limit)),
            top: f64::from(i32::MAX >> (32 - bits)),
            limit,
            balances: (balances.0.min(balances.1), balances.0.max(balances.1)),
            spans: (spans.0.min(spans.1), spans.0.max(spans.1)),
            site,
            points,
        },
    )
}

fn between(low: i64, high: i64, part: f64) -> i64 {
    (low + ((high - low) as f64 * part) as i64).clamp(low, high)
}

fn equal_the_reference<const PRODUCT: usize>(
    name: &'static str,
    channels: impl Strategy<Value = (Channel, u32)>,
) {
    let (counted, wider) = (std::cell::Cell::new(0), std::cell::Cell::new(0.0f64));
    recipe::check(name, CASES, case(channels), |case| {
        let Case { channel, top, limit, balances, spans, site, points } = case;
        let balances = ((balances.0 * top) as i32, (balances.1 * top) as i32);
        let spans = (Span::from_ratio(spans.0), Span::from_ratio(spans.1));
        let on_site: AdjustableKernel<5, 3, PRODUCT> = match channel.try_fixed_adjustable(balances, spans) {
            Ok(on_site) => on_site,
            Err(Error::Overflow { .. }) => return Ok(()),
            Err(Error::Invalid { field: Field::BalanceRatio | Field::GaugeFactorCurve, .. }) => return Ok(()),
            // Only where no fraction has it.
            Err(Error::Invalid { field: Field::ReferenceResistance, .. }) => return Ok(()),
            Err(other) => return Err(TestCaseError::fail(format!("{other}"))),
        };
        let (balance, warm, stretched, count) = site;
        let (low, high) = support::temperature_ends(&channel);
        let (low, high) = (i64::from(low), i64::from(high));
        let whole = i64::from(count);
        let zero = Zero {
            codes: MeanCode {
                sum: between(i64::from(balances.0) * whole, i64::from(balances.1) * whole, balance),
                count,
            },
            temperature: Temperature::from_bits(between(low, high, warm) as i32),
        };
        let (least, most) = (i64::from(spans.0.to_bits()), i64::from(spans.1.to_bits()));
        let span = Span::from_bits(between(least, most, stretched) as u32);
        let kernel = on_site.with(zero, span).unwrap();

        let balanced = channel
            .balanced(zero.codes.sum as f64 / f64::from(count), zero.temperature.celsius())
            .span_correction(span.ratio());
        let fresh: Kernel<5, 3, PRODUCT> = match balanced.try_fixed_within(support::ANY_ERROR) {
            Ok(fresh) => fresh,
            // Its window, rounded up to steps of a scale of its own, can be the wider one.
            Err(Error::Overflow { quantity: Quantity::Divisor, value, .. }) if value < 0.125 * 1.2 => {
                return Ok(());
            }
            Err(other) => {
                return Err(TestCaseError::fail(format!("adjusted but not compiled afresh: {other}")));
            }
        };
        let model = reference::Model::new(&balanced).unwrap();
        let bound = on_site.error_bound();
        wider.set(wider.get().max(bound.max().0 - fresh.error_bound().max().0));
        counted.set(counted.get() + 1);
        let circuit = balanced.circuit_error().unwrap().0 + balanced.gauge_factor_error(3).unwrap().0;
        for (warm, strained) in points {
            let t = Temperature::from_bits(between(low, high, warm) as i32);
            let code = model.code_for(Strain((2.0 * strained - 1.0) * limit * 0.999e-6), t.celsius()).round();
            if code.abs() >= top {
                continue;
            }
            let code = code as i32;
            let exact = model.strain(code, t).0 * 1e9;
            for (reading, bound) in
                [(kernel.reading(code, t), bound.reading), (kernel.at(t).reading(code), bound.point)]
            {
                let allowed = bound.total.0 + circuit + REFERENCE_NANOSTRAIN;
                if reading.flags.contains(Flags::CODE_AT_RAIL) {
                    continue;
                }
                if (exact.abs() - limit * 1e3).abs() <= allowed + 1e-3 {
                    continue;
                }
                let outside = exact.abs() > limit * 1e3;
                let flags = if outside { Flags::STRAIN_OUTSIDE } else { Flags::CLEAR };
                prop_assert!(reading.flags == flags, "{} at {exact} of {limit}", reading.flags);
                let off = (reading.strain.strain().0 * 1e9 - exact).abs();
                prop_assert!(outside || off <= allowed, "off by {off}, bound {allowed}");
            }
        }
        Ok(())
    });
    println!(
        "{} of {CASES} compiled; bound up to {:.3} nanostrain above a fresh one",
        counted.get(),
        wider.get()
    );
    assert!(counted.get() > CASES / 3, "only {} of {CASES} random channels compiled", counted.get());
}

#[test]
fn adjusted_kernels_equal_the_reference_within_the_bound_of_all() {
    equal_the_reference::<0>("adjusted kernels and reference", recipe::channel_and_bits());
}

#[test]
fn adjusted_kernels_of_the_product_equal_the_reference_within_the_bound_of_all() {
    let channels = recipe::with_other_basis().prop_map(|described| recipe::with_bits(&described));
    equal_the_reference::<1>("adjusted kernels of the product and reference", channels);
}

const SPANS: (Span, Span) = (Span::from_bits(2_000_000_000), Span::from_bits(2_300_000_000));
static ON_SITE: AdjustableKernel = example::FLAT.fixed_adjustable((-5_000, 6_000), SPANS);
static PAIR: AdjustableCompensatedKernel = example::COMPENSATED.fixed_adjustable((-500_000, 500_000), SPANS);
const ZERO: Zero =
    Zero { codes: MeanCode { sum: 12, count: 5 }, temperature: Temperature::from_bits(20 << 20) };

#[test]
fn what_is_out_of_range_is_refused_with_field_value_and_range() {
    let refused = |zero: Zero, span: Span| match ON_SITE.with(zero, span) {
        Err(Error::Invalid { field, value, low, high }) => (field, value, low, high),
        other => panic!("{zero:?} {span:?}: {other:?}"),
    };
    let span = |bits: u32| Span::from_bits(bits);
    let codes = |value: f64| (Field::BalanceCode, value, -5_000.0, 6_000.0);
    assert!(ON_SITE.with(ZERO, Span::ONE).is_ok());
    for (count, sum) in [(1, 6_001), (1, -5_001), (65_536, 6_000 * 65_536 + 1), (3, -15_001)] {
        let (field, value, low, high) = refused(Zero { codes: MeanCode { sum, count }, ..ZERO }, Span::ONE);
        let mean = sum as f64 / f64::from(count);
        assert!((value - mean).abs() <= 1.0 / 65_536.0, "{value} for {mean}");
        assert_eq!((field, low, high), (Field::BalanceCode, -5_000.0, 6_000.0));
    }
    assert!(
        ON_SITE
            .with(Zero { codes: MeanCode { sum: 6_000 * 65_536, count: 65_536 }, ..ZERO }, Span::ONE)
            .is_ok()
    );
    assert!(ON_SITE.with(Zero { codes: MeanCode { sum: -15_000, count: 3 }, ..ZERO }, Span::ONE).is_ok());
    assert_eq!(
        refused(Zero { codes: MeanCode { sum: i64::MAX, count: 1 }, ..ZERO }, Span::ONE),
        codes(9_223_372_036_854_775_807.0)
    );
    assert_eq!(
        refused(Zero { codes: MeanCode { sum: i64::MIN, count: 1 }, ..ZERO }, Span::ONE),
        codes(-9_223_372_036_854_775_807.0)
    );
    for count in [0, 65_537, u32::MAX] {
        let samples = (Field::CodesInMean, f64::from(count), 1.0, 65_536.0);
        assert_eq!(refused(Zero { codes: MeanCode { sum: 0, count }, ..ZERO }, Span::ONE), samples);
    }
    for at in [-50 << 20, 90 << 20] {
        assert!(ON_SITE.with(Zero { temperature: Temperature::from_bits(at), ..ZERO }, Span::ONE).is_ok());
    }
    for (at, value) in [((-50 << 20) - 1, -50.0 - 0.5f64.powi(20)), (91 << 20, 91.0), (i32::MIN, -2_048.0)] {
        let beyond = refused(Zero { temperature: Temperature::from_bits(at), ..ZERO }, Span::ONE);
        assert_eq!(beyond, (Field::BalanceTemperature, value, -50.0, 90.0));
    }
    for bits in [0, 1_999_999_999, 2_300_000_001, u32::MAX] {
        let (low, high) = (SPANS.0.ratio(), SPANS.1.ratio());
        assert_eq!(refused(ZERO, span(bits)), (Field::SpanCorrection, span(bits).ratio(), low, high));
    }
    assert!(ON_SITE.with(ZERO, SPANS.0).is_ok() && ON_SITE.with(ZERO, SPANS.1).is_ok());
}

#[test]
fn the_compensating_gauge_has_a_range_of_its_own() {
    let at = |celsius: i32| Temperature::from_bits(celsius << 20);
    assert!(PAIR.with(ZERO, at(90), Span::ONE).is_ok());
    let beyond = PAIR.with(ZERO, at(-51), Span::ONE);
    let (field, value) = (Field::CompensatingBalanceTemperature, -51.0);
    assert_eq!(beyond, Err(Error::Invalid { field, value, low: -50.0, high: 90.0 }));
    assert!(matches!(
        PAIR.with(Zero { codes: MeanCode { sum: 500_001, count: 1 }, ..ZERO }, at(20), Span::ONE),
        Err(Error::Invalid { field: Field::BalanceCode, .. })
    ));
}

#[test]
fn ranges_that_no_channel_takes_are_refused() {
    let refused = |channel: Channel, balances, spans| {
        channel.try_fixed_adjustable::<4, 1, 0>(balances, spans).unwrap_err()
    };
    let one = (Span::ONE, Span::ONE);
    let field = |error: Error| match error {
        Error::Invalid { field, .. } => field,
        Error::Reversed { field, .. } => field,
        other => panic!("{other}"),
    };
    assert_eq!(field(refused(example::FLAT, (5, -5), one)), Field::BalanceCode);
    assert_eq!(field(refused(example::FLAT, (0, 32_768), one)), Field::BalanceCode);
    assert_eq!(field(refused(example::FLAT, (0, 0), (SPANS.1, SPANS.0))), Field::SpanCorrection);
    // The window is for more strain than the declared one, which is refused only where it is itself out of range.
    let declared = |strain| example::STRUT.strain_within(Microstrain(strain));
    assert!(declared(62_500.0).try_fixed_adjustable::<4, 1, 0>((-2_000, 2_000), one).is_ok());
    assert_eq!(
        refused(declared(62_501.0), (-2_000, 2_000), one),
        Error::Invalid { field: Field::StrainRange, value: 62_501.0, low: 1.0, high: 62_500.0 }
    );
    // More codes than 32 bits have, with the span worked in: the end that is farther out, and how far it may be.
    let finest = |low, high| {
        let most = f64::from(i32::MAX);
        let span = (Span::from_ratio(0.8), Span::from_ratio(1.25));
        match example::FLAT_FINEST.try_fixed_adjustable::<4, 1, 0>((low, high), span) {
            Ok(_) => None,
            Err(error) => {
                let Error::Invalid { field: Field::BalanceCode, value, low, high } = error else {
                    panic!("{error}")
                };
                assert_eq!((low, high), (-most, most));
                Some(value)
            }
        }
    };
    assert_eq!(finest(-1_717_986_000, 1_717_986_000), None);
    assert_eq!(finest(-1_700_000_000, 2_000_000_000), Some(2.5e9));
    assert_eq!(finest(-2_000_000_000, 1_700_000_000), Some(-2.5e9));
    for ratio in [0.79, 1.26, f64::NAN, -1.0, 3.0] {
        let span = Span::from_ratio(ratio);
        assert_eq!(field(refused(example::FLAT, (0, 0), (span, span))), Field::SpanCorrection, "{ratio}");
    }
}

#[test]
fn spans_are_rounded_towards_one() {
    for (expected, observed) in
        [(8, 10), (10, 8), (1, 1), (-999, -1_000), (1_000, 999), (1 << 47, (1 << 47) - 1)]
    {
        let exact = expected as f64 / observed as f64;
        let of_codes = Span::of_codes(expected, observed).unwrap();
        assert_eq!(of_codes, Span::from_ratio(exact), "{expected} over {observed}");
        let (span, step) = (of_codes.ratio(), 0.5f64.powi(31));
        assert!(
            (span - exact).abs() < step && (span - 1.0).abs() <= (exact - 1.0).abs(),
            "{span} for {exact}"
        );
    }
    let refused = |expected, observed| match Span::of_codes(expected, observed) {
        Err(Error::Invalid { field: Field::SpanCorrection, value, low, high }) => {
            assert_eq!((low, high), (0.8, 1.25));
            value
        }
        other => panic!("{other:?}"),
    };
    assert_eq!(refused(3, 4), 0.75);
    assert_eq!(refused(3, 2), 1.5);
    for (expected, observed) in [(0, 5), (5, 0), (0, 0), (5, -5), (i64::MIN, 5), (1, i64::MAX)] {
        assert!(refused(expected, observed).is_nan(), "{expected} over {observed}");
    }
}
